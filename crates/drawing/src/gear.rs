//! A plan of the running gear from above, front to the right: where every joint is, and how it
//! stands, by the shape of its sign. It is a map to find things by; nothing on it is to scale.

use crate::DrawingError;
use crate::sign::Verdict;
use crate::svg::{Anchor, At, Dash, Fill, INK, Lettering, PALE, PAPER, Pen, Picture, Svg};

/// How far along.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GearAlong {
    /// At the cylinders.
    Cylinder,
    /// At the crossheads.
    Crosshead,
    /// At a coupled axle, counted from the front.
    Axle(usize),
    /// At the valve gear.
    Gear,
    /// At a tender axle, counted from the front.
    Tender(usize),
    /// Between engine and tender.
    Drawbar,
}

/// Rows from the left side of the engine to the right.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum GearRow {
    /// Coupling rods, or an outside motion, on the left.
    OutLeft,
    /// Axleboxes on the left.
    BoxLeft,
    /// Inside motion on the left.
    MotionLeft,
    /// Valve gear on the left.
    MiddleLeft,
    /// On neither side.
    Middle,
    /// Valve gear on the right.
    MiddleRight,
    /// Inside motion on the right.
    MotionRight,
    /// Axleboxes on the right.
    BoxRight,
    /// Coupling rods, or an outside motion, on the right.
    OutRight,
}

const ROWS: [GearRow; 9] = [
    GearRow::OutLeft,
    GearRow::BoxLeft,
    GearRow::MotionLeft,
    GearRow::MiddleLeft,
    GearRow::Middle,
    GearRow::MiddleRight,
    GearRow::MotionRight,
    GearRow::BoxRight,
    GearRow::OutRight,
];

/// A joint on the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct GearSpot {
    /// Where; a joint whose place is not known stands below the plan.
    pub place: Option<(GearAlong, GearRow)>,
    /// How it stands.
    pub verdict: Verdict,
    /// Printed beside its sign: its number in a list, or nothing.
    pub mark: String,
}

/// A running gear.
#[derive(Clone, Debug, PartialEq)]
pub struct GearDrawing {
    /// What it is.
    pub title: String,
    /// Coupled axles by name, front first.
    pub axles: Vec<String>,
    /// The driven one.
    pub driving: usize,
    /// Tender axles.
    pub tender_axles: usize,
    /// Joints.
    pub spots: Vec<GearSpot>,
}

/// Axles that can be drawn.
const MOST_AXLES: usize = 12;
const SIGN: f64 = 11.0;
const PITCH: f64 = 20.0;
const ROW_PITCH: f64 = 17.0;
const TOP: f64 = 34.0;
const LEFT: f64 = 8.0;

struct Column {
    along: GearAlong,
    name: String,
    x: f64,
    width: f64,
}

/// The plan, and the middle of every joint's sign in the order given.
///
/// # Errors
/// More axles than any engine has.
pub fn running_gear(gear: &GearDrawing) -> Result<(Picture, Vec<(f64, f64)>), DrawingError> {
    let axles = gear.axles.len().max(gear.tender_axles);
    if MOST_AXLES < axles {
        return Err(DrawingError::OutOfRange {
            what: "axles",
            value: axles as f64,
            least: 0.0,
            most: MOST_AXLES as f64,
            unit: "",
        });
    }
    let columns = columns(gear);
    let width = columns.iter().map(|c| c.x + c.width).fold(200.0, f64::max) + LEFT;
    let rows = rows(gear, &columns);
    let bottom = rows.last().map_or(TOP, |(_, y, h)| y + h);
    let mut svg = Svg::new(width, 0.0);
    let title = Lettering::new(12.0).bold();
    svg.text((LEFT, 14.0), &title.fitted(&gear.title, width - 180.0), title);
    let front = Lettering::new(10.0).at(Anchor::End);
    svg.text((width - LEFT, 14.0), "seen from above, front to the right", front);
    ground(&mut svg, gear, &columns, &rows);
    let (mut spots, mut lost) = (vec![(0.0, 0.0); gear.spots.len()], Vec::new());
    for column in &columns {
        for (row, y, height) in &rows {
            let here: Vec<usize> = (0..gear.spots.len())
                .filter(|n| gear.spots[*n].place == Some((column.along, *row)))
                .collect();
            let across = per_line(column);
            let lines = here.len().div_ceil(across);
            for (k, n) in here.iter().enumerate() {
                let in_line = (here.len() - (k / across) * across).min(across) as f64;
                let x = column.x
                    + column.width / 2.0
                    + ((k % across) as f64 - (in_line - 1.0) / 2.0) * PITCH;
                let line = (k / across) as f64 - (lines as f64 - 1.0) / 2.0;
                spots[*n] = (x - 2.0, y + height / 2.0 + line * ROW_PITCH);
            }
        }
    }
    let placed = |spot: &GearSpot| {
        spot.place.is_some_and(|(along, _)| columns.iter().any(|c| c.along == along))
    };
    lost.extend((0..gear.spots.len()).filter(|n| !placed(&gear.spots[*n])));
    let mut y = bottom + 16.0;
    if !lost.is_empty() {
        svg.text((LEFT, y + 3.0), "elsewhere", Lettering::new(9.0));
        let across = (((width - 70.0) / PITCH) as usize).max(1);
        for (k, n) in lost.iter().enumerate() {
            spots[*n] = (70.0 + (k % across) as f64 * PITCH, y + (k / across) as f64 * ROW_PITCH);
        }
        y += lost.len().div_ceil(across) as f64 * ROW_PITCH;
    }
    for (spot, at) in gear.spots.iter().zip(&spots) {
        put(&mut svg, *at, spot);
    }
    let counted = legend(&mut svg, gear, y + 6.0);
    svg.set_height(y + 20.0);
    let picture =
        svg.finish(&gear.title, &format!("{}, plan of the running gear. {counted}", gear.title))?;
    Ok((picture, spots))
}

fn per_line(column: &Column) -> usize {
    (((column.width - 6.0) / PITCH) as usize).max(1)
}

/// From the back of the tender on the left to the cylinders on the right.
fn columns(gear: &GearDrawing) -> Vec<Column> {
    let mut all: Vec<(GearAlong, String, f64)> = vec![
        (GearAlong::Cylinder, "cylinders".to_owned(), 3.0),
        (GearAlong::Crosshead, "crossheads".to_owned(), 4.0),
    ];
    for (n, name) in gear.axles.iter().enumerate() {
        if n == gear.driving {
            all.push((GearAlong::Gear, "valve gear".to_owned(), 4.0));
        }
        all.push((GearAlong::Axle(n), format!("{name} axle"), 3.0));
    }
    let wanted = |along| gear.spots.iter().any(|s| s.place.is_some_and(|(a, _)| a == along));
    if gear.driving >= gear.axles.len() && wanted(GearAlong::Gear) {
        all.push((GearAlong::Gear, "valve gear".to_owned(), 4.0));
    }
    if wanted(GearAlong::Drawbar) {
        all.push((GearAlong::Drawbar, "drawbar".to_owned(), 2.0));
    }
    for n in 0..gear.tender_axles {
        all.push((GearAlong::Tender(n), format!("tender {}", n + 1), 2.0));
    }
    all.reverse();
    let mut x = LEFT;
    all.into_iter()
        .map(|(along, name, signs)| {
            let width = signs * PITCH + 8.0;
            let column = Column { along, name, x, width };
            x += width;
            column
        })
        .collect()
}

/// Rows with their top and height: as high as their fullest cell wants.
fn rows(gear: &GearDrawing, columns: &[Column]) -> Vec<(GearRow, f64, f64)> {
    let mut y = TOP;
    ROWS.into_iter()
        .map(|row| {
            let lines = columns
                .iter()
                .map(|c| {
                    let here =
                        gear.spots.iter().filter(|s| s.place == Some((c.along, row))).count();
                    here.div_ceil(per_line(c))
                })
                .max()
                .unwrap_or(0);
            let height = match (row, lines) {
                (GearRow::Middle, 0) => 4.0,
                _ => lines.max(1) as f64 * ROW_PITCH + 7.0,
            };
            let at = y;
            y += height;
            (row, at, height)
        })
        .collect()
}

/// Frames, axles, wheels, rods and cylinders, pale behind the signs.
fn ground(svg: &mut Svg, gear: &GearDrawing, columns: &[Column], rows: &[(GearRow, f64, f64)]) {
    let of =
        |row: GearRow| rows.iter().find(|r| r.0 == row).map_or((TOP, TOP), |r| (r.1, r.1 + r.2));
    let (left_in, right_in) = (of(GearRow::BoxLeft).1, of(GearRow::BoxRight).0);
    let name = Lettering::new(10.0).at(Anchor::Middle);
    let line = Pen { colour: PALE, width: 3.0, dash: Dash::Solid };
    for c in columns {
        let x = c.x + c.width / 2.0;
        svg.text((x, TOP - 6.0), &name.fitted(&c.name, c.width), name);
        if let GearAlong::Axle(_) | GearAlong::Tender(_) = c.along {
            svg.line((x, of(GearRow::OutLeft).1), (x, of(GearRow::OutRight).0), line);
            // Wheels stand between boxes and rods.
            let half = c.width * 0.42;
            for y in [of(GearRow::OutLeft).1, of(GearRow::OutRight).0] {
                svg.rect(
                    (x - half, y - 2.5),
                    2.0 * half,
                    5.0,
                    Fill::Colour(PALE),
                    Some(Pen::grey(0.6)),
                );
            }
        }
    }
    let at = |along| columns.iter().find(|c| c.along == along);
    let driving = at(GearAlong::Axle(gear.driving));
    let coupled: Vec<&Column> =
        columns.iter().filter(|c| matches!(c.along, GearAlong::Axle(_))).collect();
    if let (Some(back), Some(front)) = (coupled.first(), coupled.last()) {
        let (from, to) = (back.x, columns.last().map_or(0.0, |c| c.x + c.width));
        for y in [left_in, right_in] {
            svg.line((from, y), (to, y), Pen::grey(1.4));
        }
        for row in [GearRow::OutLeft, GearRow::OutRight] {
            let (top, end) = of(row);
            let y = (top + end) / 2.0;
            svg.line((back.x + back.width / 2.0, y), (front.x + front.width / 2.0, y), line);
        }
    }
    if let (Some(driving), Some(head), Some(cylinder)) =
        (driving, at(GearAlong::Crosshead), at(GearAlong::Cylinder))
    {
        for row in motion_rows(gear) {
            let (top, end) = of(row);
            let y = (top + end) / 2.0;
            svg.line((driving.x + driving.width / 2.0, y), (cylinder.x, y), line);
            let (w, h) = (head.width * 0.9, (end - top) * 0.8);
            svg.rect(
                (head.x + head.width * 0.05, y - h / 2.0),
                w,
                h,
                Fill::Colour(PAPER),
                Some(Pen::grey(0.6)),
            );
            svg.rect(
                (cylinder.x + 1.0, top + 1.0),
                cylinder.width - 2.0,
                end - top - 2.0,
                Fill::Colour(PAPER),
                Some(Pen::grey(1.2)),
            );
        }
    }
}

/// The rows in which the motion lies: outside, when nothing stands in the inside ones.
fn motion_rows(gear: &GearDrawing) -> [GearRow; 2] {
    let inside = gear.spots.iter().any(|s| {
        s.place.is_some_and(|(_, row)| matches!(row, GearRow::MotionLeft | GearRow::MotionRight))
    });
    if inside {
        [GearRow::MotionLeft, GearRow::MotionRight]
    } else {
        [GearRow::OutLeft, GearRow::OutRight]
    }
}

fn put(svg: &mut Svg, at: At, spot: &GearSpot) {
    svg.circle(at, SIGN * 0.72, Fill::Colour(PAPER), None);
    svg.sign(at, if spot.verdict == Verdict::Within { SIGN * 0.6 } else { SIGN }, spot.verdict);
    if !spot.mark.is_empty() {
        let letter = Lettering::new(8.0).bold();
        svg.label((at.0 + SIGN * 0.56, at.1 + 5.0), &spot.mark, letter);
    }
}

/// Every sign with its word and how many there are; the same as text.
fn legend(svg: &mut Svg, gear: &GearDrawing, y: f64) -> String {
    let mut x = LEFT + 6.0;
    let letter = Lettering::new(11.0);
    let mut told = Vec::new();
    for verdict in Verdict::ALL {
        let count = gear.spots.iter().filter(|s| s.verdict == verdict).count();
        if count == 0 {
            continue;
        }
        let text = format!("{count} {}", verdict.word());
        svg.sign((x, y), SIGN * 0.9, verdict);
        svg.text((x + 9.0, y + 3.0), &text, letter.in_colour(INK));
        x += 9.0 + letter.width(&text) + 18.0;
        told.push(text);
    }
    format!("{}.", told.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::check;

    fn gear() -> GearDrawing {
        let spot = |along, row, verdict, mark: &str| GearSpot {
            place: Some((along, row)),
            verdict,
            mark: mark.into(),
        };
        GearDrawing {
            title: "No. 1".into(),
            axles: ["leading", "driving", "trailing"].map(str::to_owned).to_vec(),
            driving: 1,
            tender_axles: 3,
            spots: vec![
                spot(GearAlong::Axle(1), GearRow::MotionLeft, Verdict::Beyond, "1"),
                spot(GearAlong::Axle(1), GearRow::MotionLeft, Verdict::Within, ""),
                spot(GearAlong::Tender(2), GearRow::BoxRight, Verdict::CannotTell, ""),
                spot(GearAlong::Axle(9), GearRow::BoxRight, Verdict::Near, "2"),
                GearSpot { place: None, verdict: Verdict::NoLimit, mark: String::new() },
            ],
        }
    }

    #[test]
    fn every_joint_has_its_place_on_the_sheet() {
        let gear = gear();
        let (picture, spots) = running_gear(&gear).expect("drawn");
        let texts = check(&picture);
        assert!(
            texts.iter().any(|t| t == "driving axle") && texts.iter().any(|t| t == "elsewhere")
        );
        assert!(texts.iter().any(|t| t == "1 beyond"), "{texts:?}");
        for (n, a) in spots.iter().enumerate() {
            assert!(1.0 < a.0 && a.0 < picture.width_pt && 1.0 < a.1 && a.1 < picture.height_pt);
            assert!(
                spots[n + 1..].iter().all(|b| (a.0 - b.0).hypot(a.1 - b.1) > SIGN),
                "{spots:?}"
            );
        }
        // Seen from above with the front to the right, the left side is up and the tender behind.
        assert!(spots[0].1 < spots[2].1 && spots[2].0 < spots[0].0);
    }

    #[test]
    fn a_crowd_and_an_empty_engine_are_drawn() {
        let mut many = gear();
        many.spots = (0..40).map(|_| many.spots[0].clone()).collect();
        let (picture, spots) = running_gear(&many).expect("drawn");
        check(&picture);
        assert!(spots.windows(2).all(|w| w[0] != w[1]));
        let none = GearDrawing {
            title: String::new(),
            axles: Vec::new(),
            driving: 0,
            tender_axles: 0,
            spots: Vec::new(),
        };
        check(&running_gear(&none).expect("drawn").0);
        let absurd = GearDrawing { tender_axles: 1000, ..none };
        assert!(running_gear(&absurd).is_err());
    }
}
