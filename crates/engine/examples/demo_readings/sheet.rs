//! The sheet: figures as a fitter writes them, and rows as a spreadsheet saves them.

use super::chance::Chance;
use super::shed::{Slip, Taken};
use engine::model::{Date, Engine, FeatureKind};
use std::fmt::Write;

/// How a sheet is saved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Save {
    /// Commas and decimal points.
    Plain,
    /// Semicolons, decimal commas, days first, a byte-order mark, blank lines between days.
    Semicolons,
}

/// The rows of a sheet. `days` are the days of the campaign, `people` who gauged on each.
pub(crate) fn sheet(
    engine: &Engine,
    seed: u64,
    rows: &[Taken],
    days: &[Date],
    people: &[&str],
    save: Save,
) -> String {
    let mut out = String::new();
    let mark = if save == Save::Plain { ',' } else { ';' };
    if save == Save::Semicolons {
        out.push('\u{feff}');
    }
    let heading = [
        "feature",
        "station",
        "direction",
        "reading",
        "unit",
        "kind",
        "gauge",
        "by",
        "when",
        "temperature",
    ];
    out.push_str(&heading.join(&mark.to_string()));
    out.push_str(if save == Save::Plain { "\n" } else { "\r\n" });
    let mut day_before = None;
    for row in rows {
        if save == Save::Semicolons && day_before.is_some_and(|d| d != row.day) {
            out.push_str(";;;;;;;;;\r\n\r\n");
        }
        day_before = Some(row.day);
        let feature = engine.feature(row.feature);
        let mut chance = Chance::of(seed, &format!("hand {} {}", feature.id, row.day));
        let (text, unit) = figure(engine, row, &mut chance);
        // Now and then nobody looks at the thermometer.
        let temperature = if chance.happens(0.08) {
            String::new()
        } else {
            format!("{:.1}", (2.0 * row.temperature_c).round() / 2.0)
        };
        let day = days[row.day % days.len()].to_string();
        let person = people[Chance::of(seed, &format!("person {}", row.day)).below(people.len())];
        let station = row.station.map_or("", |s| feature.stations[s].as_str());
        // Two directions are said in words, more in degrees.
        let in_words = !matches!(feature.kind, FeatureKind::Journal | FeatureKind::Bore);
        let direction = match row.direction_deg {
            None => String::new(),
            Some(0) if in_words => "H".to_owned(),
            Some(90) if in_words => "V".to_owned(),
            Some(d) => d.to_string(),
        };
        let gauge = &engine.gauge(row.gauge).id;
        let kind = if row.dial { "dial" } else { "" };
        let cells = match save {
            Save::Plain => [
                &feature.id,
                station,
                &direction,
                &text,
                &unit,
                kind,
                gauge,
                person,
                &day,
                &temperature,
            ]
            .map(str::to_owned),
            Save::Semicolons => {
                let day: Vec<&str> = day.split('-').rev().collect();
                let (text, temperature) = (text.replace('.', ","), temperature.replace('.', ","));
                [
                    &feature.id,
                    station,
                    &direction,
                    &text,
                    &unit,
                    kind,
                    gauge,
                    person,
                    &day.join("."),
                    &temperature,
                ]
                .map(str::to_owned)
            }
        };
        let quoted = cells.map(|c| {
            if c.contains(mark) || c.contains('"') {
                format!("\"{}\"", c.replace('"', "\"\""))
            } else {
                c
            }
        });
        let _ = write!(out, "{}", quoted.join(&mark.to_string()));
        out.push_str(if save == Save::Plain { "\n" } else { "\r\n" });
    }
    out
}

/// The figure and the unit's cell. One hand per feature and day: a person does not change from
/// inches to millimetres between two readings of one journal.
fn figure(engine: &Engine, row: &Taken, chance: &mut Chance) -> (String, String) {
    if row.dial {
        // Half thou are read between the lines of the dial.
        let thou = (2.0 * row.shown_m / 25.4e-6).round() / 2.0;
        return (format!("{thou:+.1} thou"), String::new());
    }
    let gauge = engine.gauge(row.gauge);
    let inch = row.shown_m / 25.4e-3;
    let mm = row.shown_m * 1e3;
    let manner = chance.below(10);
    // A gauge marked in millimetres ends at a multiple of 25.
    let metric_gauge = gauge.to_m.is_some_and(|m| (m * 40.0 - (m * 40.0).round()).abs() < 1e-9);
    let (figure, unit) = if gauge.kind.contains("rule") && metric_gauge {
        (format!("{:.1}", (2.0 * mm).round() / 2.0), "mm")
    } else if gauge.kind.contains("rule") {
        // A rule in sixty-fourths, the fraction in its lowest terms.
        return (sixty_fourths(inch), String::new());
    } else if metric_gauge && gauge.error_m < 3.5e-6 {
        // The small ones show thousandths.
        (format!("{mm:.3}"), "mm")
    } else if metric_gauge
        || engine.feature(row.feature).kind == FeatureKind::Centres
        || gauge.kind.contains("wheel")
    {
        // Long distances are taken off a metric bar, whatever the engine is drawn in.
        (format!("{mm:.2}"), "mm")
    } else if gauge.kind.contains("outside micrometer") || gauge.kind.contains("bore gauge") {
        (format!("{inch:.4}"), "in")
    } else if manner < 3 && row.slip.is_none() {
        return (fraction_and_thou(inch), String::new());
    } else {
        (format!("{inch:.3}"), "in")
    };
    let figure = match row.slip {
        Some(Slip::Transposed(at)) => transposed(&figure, at),
        Some(Slip::Decimal) => moved(&figure),
        _ => figure,
    };
    let unit = match row.slip {
        Some(Slip::WrongUnit) => {
            if unit == "in" {
                "mm"
            } else {
                "in"
            }
        }
        _ => unit,
    };
    match manner {
        0..=4 => (figure, unit.to_owned()),
        5 if unit == "in" => (format!("{figure}\""), String::new()),
        _ => (format!("{figure} {unit}"), String::new()),
    }
}

fn sixty_fourths(inch: f64) -> String {
    let n = (inch * 64.0).round() as i64;
    let (whole, mut top) = (n / 64, n % 64);
    let mut bottom = 64;
    while top != 0 && top % 2 == 0 {
        top /= 2;
        bottom /= 2;
    }
    match (whole, top) {
        (w, 0) => format!("{w} in"),
        (0, t) => format!("{t}/{bottom} in"),
        (w, t) => format!("{w} {t}/{bottom} in"),
    }
}

/// As said over the bench: the nearest sixteenth, and the thou over or under.
fn fraction_and_thou(inch: f64) -> String {
    let sixteenth = (inch * 16.0).round() / 16.0;
    let thou = ((inch - sixteenth) * 1000.0).round();
    // Trailing thou are always written: they are the figure that was read.
    let sign = if thou < 0.0 { '-' } else { '+' };
    format!("{} {sign} {} thou", sixty_fourths(sixteenth), thou.abs())
}

/// The decimal point one place to the right: 109.98 becomes 1099.8.
fn moved(figure: &str) -> String {
    match figure.split_once('.') {
        Some((whole, part)) if part.len() > 1 => format!("{whole}{}.{}", &part[..1], &part[1..]),
        _ => figure.to_owned(),
    }
}

fn transposed(figure: &str, at: usize) -> String {
    let mut bytes = figure.as_bytes().to_vec();
    let digits: Vec<usize> = (0..bytes.len()).filter(|i| bytes[*i].is_ascii_digit()).collect();
    if let [a, b] = digits[at..=at + 1] {
        bytes.swap(a, b);
    }
    String::from_utf8_lossy(&bytes).into_owned()
}
