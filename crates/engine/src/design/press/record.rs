//! What was read in pressing, judged by the curve to be expected.

use crate::design::ask::{Ask, because};
use crate::design::shapes::{Design, Line, Of, Section, Standing};
use mechanics::press::{
    self as mp, JudgeRules, PressCurve, PressFinding, PressJudgement, PressReading, PressVerdict,
};

/// The duty's press record judged by the curve to be expected: what was read, and what it says.
pub(in crate::design) fn record(
    ask: &mut Ask<'_>,
    curve: Option<&PressCurve>,
    out: &mut Design,
) -> (Vec<PressReading>, Option<PressJudgement>) {
    let what = "the press record";
    let Some(pairs) = ask.maybe_pairs("press-record") else { return (Vec::new(), None) };
    let readings: Vec<PressReading> = pairs
        .iter()
        .map(|(stroke_m, force_n)| PressReading { stroke_m: *stroke_m, force_n: *force_n })
        .collect();
    let Some(curve) = curve else {
        out.absent.push(because(what, "there is no curve to judge it by"));
        return (readings, None);
    };
    let mut rules = JudgeRules::default();
    match ask.maybe("press-gauge") {
        Some(share) => rules.gauge_share = share,
        None => ask.note(
            "press-gauge",
            format!("{:.0} %", 100.0 * rules.gauge_share),
            "common practice for a press's pressure gauge; write press-gauge in the duty",
        ),
    }
    match mp::judge_press(curve, &readings, &rules) {
        Ok(j) => {
            let (words, standing) = match j.verdict {
                PressVerdict::WithinBand => ("within the band all the way", Standing::Good),
                PressVerdict::Irregular => {
                    ("irregular on the way, home within the band: look into it", Standing::Look)
                }
                PressVerdict::HoldingDoubtful => {
                    ("low at home: its holding is doubtful", Standing::Bad)
                }
                PressVerdict::GallingSuspected => {
                    ("galling is to be suspected: strip and look", Standing::Bad)
                }
                PressVerdict::CannotTell => ("cannot tell: not read to home", Standing::Look),
            };
            let mut lines = vec![
                Line::words("verdict", words).stands(standing).note(format!(
                    "{} readings against the curve, widened by {:.0} % for the gauge",
                    readings.len(),
                    100.0 * rules.gauge_share
                )),
                Line::one("force at the end", j.final_n, Of::Force),
            ];
            if let Some(mu) = j.implied_friction {
                lines.push(Line::one("friction that would explain it", mu, Of::Ratio));
            }
            for f in &j.findings {
                let mm = |m: f64| 1e3 * m;
                let words = match *f {
                    PressFinding::Low { from_m, to_m, least_share } => format!(
                        "below the band from {:.0} to {:.0} mm, down to {:.0} % of the low force",
                        mm(from_m),
                        mm(to_m),
                        100.0 * least_share
                    ),
                    PressFinding::High { from_m, to_m, greatest_share } => format!(
                        "above the band from {:.0} to {:.0} mm, up to {:.0} % of the high force",
                        mm(from_m),
                        mm(to_m),
                        100.0 * greatest_share
                    ),
                    PressFinding::EarlyRise { stroke_m, force_n, expected_from_m } => format!(
                        "{:.0} kN at {:.0} mm, before grip is expected ({:.0} mm): askew, a burr, a tight mouth",
                        1e-3 * force_n,
                        mm(stroke_m),
                        mm(expected_from_m)
                    ),
                    PressFinding::Spike { stroke_m, rise_n } => format!(
                        "a sudden rise of {:.0} kN at {:.0} mm",
                        1e-3 * rise_n,
                        mm(stroke_m)
                    ),
                    PressFinding::StickSlip { slips, greatest_fall } => format!(
                        "{slips} slips, the greatest {:.0} %: stick-slip",
                        100.0 * greatest_fall
                    ),
                    PressFinding::FellAway { peak_n, last_n } => format!(
                        "fell from {:.0} to {:.0} kN towards home: bell-mouth, or a boss that yields",
                        1e-3 * peak_n,
                        1e-3 * last_n
                    ),
                    PressFinding::NotHome { stroke_m, home_m } => {
                        format!("read to {:.0} mm, home is {:.0} mm", mm(stroke_m), mm(home_m))
                    }
                    _ => continue,
                };
                lines.push(Line::words("seen", words).stands(Standing::Look));
            }
            out.sections.push(Section::new("the press record judged", lines));
            (readings, Some(j))
        }
        Err(e) => {
            out.absent.push(because(what, e));
            (readings, None)
        }
    }
}
