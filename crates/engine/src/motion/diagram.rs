//! An indicator diagram from a table: which end, how far along the stroke, what pressure.

use crate::problem::{Place, Problem};
use mechanics::loads::{DiagramPoint, EndDiagrams, IndicatorDiagram};
use quantity::{Dimension, Quantity};

/// More rows than this are refused.
const MOST_ROWS: usize = 100_000;
/// First and last pressure of a diagram may differ by this: a pencil line, Pa.
const CLOSES_WITHIN_PA: f64 = 50e3;

/// Reads `end,share,pressure` rows: `front` or `back`, share of the stroke from that end (`0.25`
/// or `25 %`), pressure above the atmosphere with its unit. Points stand in the order the pencil
/// drew them: from the dead centre of their own end out and back. Lines that begin with `#` and a
/// heading are passed over.
///
/// # Errors
/// Every row that cannot be read, with its place; diagrams that do not close.
pub fn read_diagram(file: &str, text: &str) -> Result<EndDiagrams, Vec<Problem>> {
    let mut found = Vec::new();
    let mut ends: [Vec<DiagramPoint>; 2] = [Vec::new(), Vec::new()];
    for (at, line) in text.trim_start_matches('\u{feff}').lines().enumerate() {
        let place = Place { file: file.to_owned(), line: at + 1, column: 0 };
        let plain = line.trim();
        if plain.is_empty() || plain.starts_with('#') {
            continue;
        }
        if at >= MOST_ROWS {
            found.push(Problem::new(place, format!("more than {MOST_ROWS} rows"), ""));
            break;
        }
        let cells: Vec<&str> = plain.split(',').map(|c| c.trim().trim_matches('"')).collect();
        let [end, share, pressure] = cells.as_slice() else {
            let what = format!("{} columns where three are wanted", cells.len());
            found.push(Problem::new(place, what, "write end,share,pressure: front,0.25,150 psi"));
            continue;
        };
        let end = match end.to_lowercase().as_str() {
            "front" => 0,
            "back" => 1,
            "end" => continue,
            other => {
                let what = format!("\"{other}\" is no end of a cylinder");
                found.push(Problem::new(place, what, "front or back"));
                continue;
            }
        };
        let share = Quantity::parse_as(share, Dimension::Number);
        let pressure = Quantity::parse_as(pressure, Dimension::Pressure);
        match (share, pressure) {
            (Ok(share), Ok(pressure)) => {
                let point = DiagramPoint { share: share.si(), pressure_pa: pressure.si() };
                ends[end].push(point);
            }
            (share, pressure) => {
                for e in [share.err(), pressure.err()].into_iter().flatten() {
                    found.push(Problem::new(place.clone(), e.reason(), e.hint()));
                }
            }
        }
    }
    let [front, back] = ["front", "back"].map(|e| e.to_owned());
    let mut close = |name: &str, points: &[DiagramPoint]| {
        IndicatorDiagram::from_loop(points, CLOSES_WITHIN_PA)
            .map_err(|e| {
                let what = format!("the {name} diagram: {e}");
                let mend = "begin at the dead centre of its own end, share 0, go out to share 1 and back to share 0";
                found.push(Problem::new(Place::file(file), what, mend));
            })
            .ok()
    };
    let both = (close(&front, &ends[0]), close(&back, &ends[1]));
    match both {
        (Some(front), Some(back)) if found.is_empty() => Ok(EndDiagrams { front, back }),
        _ => Err(found),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn reads_both_ends_and_tells_what_is_wrong() {
        let loops = |end: &str| {
            format!(
                "{end},0,10 bar\n{end},0.3,10 bar\n{end},100 %,1 bar\n{end},0.2,0.2 bar\n{end},0,10 bar\n"
            )
        };
        let text = format!("end,share,pressure\n# front\n{}{}", loops("front"), loops("back"));
        let d = read_diagram("d.csv", &text).expect("reads");
        assert!((d.front.greatest_pa() - 1e6).abs() < 1.0);
        let wrong = read_diagram("d.csv", "front,0\nside,0,1 bar\nfront,x,1 bar\n");
        assert!(wrong.is_err_and(|p| p.len() >= 4 && p[0].place.line == 1));
    }

    proptest! {
        #[test]
        fn no_text_crashes(text in "(front|back|end|[,0-9. %a-z\n]){0,80}") {
            let _ = read_diagram("d", &text);
        }
    }
}
