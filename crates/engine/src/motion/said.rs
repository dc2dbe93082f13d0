//! Positions of the wheels as a fitter says them: `left 40 past front`, `right big end bottom`,
//! `left 1/3 from front going back`, `wheel 120`.

use super::error::NoAnswer;
use super::mechanism::Mechanism;
use super::model::MotionModel;
use mechanics::motion::{Barring, CylinderNo, Tyre, Wanted, WheelAngle};
use std::fmt;

/// A mark of one crank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum At {
    /// Front dead centre.
    Front,
    /// Back dead centre.
    Back,
    /// Crank pin at the top.
    Top,
    /// Crank pin at the bottom.
    Bottom,
    /// Crank pin straight in front of the axle.
    Forward,
    /// Crank pin straight behind the axle.
    Backward,
    /// Piston at this share of its stroke from the front, going back in forward running.
    GoingBack(f64),
    /// Piston at this share of its stroke from the front, going forward in forward running.
    GoingForward(f64),
}

/// A position of the wheels.
#[derive(Clone, Debug, PartialEq)]
pub enum Said {
    /// One crank at a mark, or this many degrees past it in forward running.
    Crank {
        /// Position of the cylinder in the engine's list.
        cylinder: usize,
        /// Its id, for saying it back.
        id: String,
        /// The mark.
        at: At,
        /// Degrees past it in forward running; negative before it.
        past_deg: f64,
    },
    /// A wheel angle, degrees.
    Wheel(f64),
}

/// Words that say nothing by themselves.
const FILLERS: &[&str] = &[
    "at",
    "is",
    "on",
    "the",
    "its",
    "deg",
    "degs",
    "degree",
    "degrees",
    "dead",
    "centre",
    "center",
    "big",
    "end",
    "crank",
    "pin",
    "piston",
    "of",
    "stroke",
    "from",
    "crosshead",
];

const HOW: &str = "say the cylinder and then the place of its crank: \"left 40 past front\", \"right front\", \"right big end bottom\", \"left 20 before back\", \"left 1/3 from front going back\"; or \"wheel 120\"";

/// Reads a position.
///
/// # Errors
/// Says which words cannot be read and what may stand there.
pub fn parse_said(model: &MotionModel, text: &str) -> Result<Said, NoAnswer> {
    let lower = text.to_lowercase().replace('\u{b0}', " ").replace('%', " % ");
    let words: Vec<&str> = lower.split_whitespace().collect();
    if words.len() > 40 {
        return Err(NoAnswer::words("the position has too many words", HOW));
    }
    if words.first() == Some(&"wheel") {
        let rest = meaning(&words[1..]);
        let [degrees] = rest.as_slice() else {
            return Err(NoAnswer::words(format!("\"{text}\" is not a wheel angle"), "wheel 120"));
        };
        return Ok(Said::Wheel(degrees_of(degrees, text)?));
    }
    let (cylinder, used) = cylinder_named(model, &words).ok_or_else(|| {
        let ids: Vec<&str> = model.cylinders.iter().map(|c| c.id.as_str()).collect();
        let mend = if ids.is_empty() {
            "describe the cylinders in [[cylinder]] records first".to_owned()
        } else {
            format!("begin with one of: {}; {HOW}", ids.join(", "))
        };
        NoAnswer::words(format!("\"{text}\" names no cylinder of this engine"), mend)
    })?;
    let id = model.cylinders[cylinder].id.clone();
    let said = |at, past_deg| Ok(Said::Crank { cylinder, id: id.clone(), at, past_deg });
    let rest = meaning(&words[used..]);
    match rest.as_slice() {
        [mark] => said(mark_of(mark, text)?, 0.0),
        [number, "past" | "after", mark] => said(mark_of(mark, text)?, degrees_of(number, text)?),
        [number, "before", mark] => said(mark_of(mark, text)?, -degrees_of(number, text)?),
        [share @ .., "front", "going", way @ ("back" | "forward")] if !share.is_empty() => {
            let share = share_of(share, text)?;
            let at = if *way == "back" { At::GoingBack(share) } else { At::GoingForward(share) };
            said(at, 0.0)
        }
        _ => Err(NoAnswer::words(format!("\"{text}\" is not a position"), HOW)),
    }
}

fn meaning<'a>(words: &[&'a str]) -> Vec<&'a str> {
    words
        .iter()
        .map(|w| w.trim_matches(','))
        // "40deg" and "40°" are forty degrees.
        .map(|w| w.strip_suffix("deg").filter(|n| n.parse::<f64>().is_ok()).unwrap_or(w))
        .filter(|w| !w.is_empty() && !FILLERS.contains(w))
        .collect()
}

/// The cylinder whose id the words begin with, the longest id first.
fn cylinder_named(model: &MotionModel, words: &[&str]) -> Option<(usize, usize)> {
    (1..=words.len().min(6))
        .rev()
        .find_map(|n| model.cylinder_by_id(&words[..n].join(" ")).map(|at| (at, n)))
}

fn mark_of(word: &str, text: &str) -> Result<At, NoAnswer> {
    Ok(match word {
        "front" | "fdc" => At::Front,
        "back" | "bdc" => At::Back,
        "top" | "up" => At::Top,
        "bottom" | "down" => At::Bottom,
        "forward" => At::Forward,
        "backward" => At::Backward,
        other => {
            return Err(NoAnswer::words(
                format!("\"{other}\" in \"{text}\" is no mark of a crank"),
                "front or back (dead centre), top, bottom, forward or backward (of the pin)",
            ));
        }
    })
}

fn degrees_of(word: &str, text: &str) -> Result<f64, NoAnswer> {
    match word.parse::<f64>() {
        Ok(v) if v.is_finite() && v.abs() <= 100_000.0 => Ok(v),
        _ => Err(NoAnswer::words(
            format!("\"{word}\" in \"{text}\" is not an angle in degrees"),
            "write 40 or 40.5",
        )),
    }
}

fn share_of(words: &[&str], text: &str) -> Result<f64, NoAnswer> {
    let wrong = || {
        NoAnswer::words(
            format!("\"{text}\" gives no share of the stroke"),
            "write 1/3, 0.4 or 40 %, from 0 to 1",
        )
    };
    let number = |w: &str| w.parse::<f64>().map_err(|_| wrong());
    let share = match words {
        [percent, "%"] => number(percent)? / 100.0,
        [one] => match one.split_once('/') {
            Some((a, b)) => number(a)? / number(b)?,
            None => number(one)?,
        },
        _ => return Err(wrong()),
    };
    if (0.0..=1.0).contains(&share) { Ok(share) } else { Err(wrong()) }
}

impl fmt::Display for At {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            At::Front => f.write_str("front dead centre"),
            At::Back => f.write_str("back dead centre"),
            At::Top => f.write_str("pin top"),
            At::Bottom => f.write_str("pin bottom"),
            At::Forward => f.write_str("pin forward"),
            At::Backward => f.write_str("pin backward"),
            At::GoingBack(share) => write!(f, "{share} of stroke from front going back"),
            At::GoingForward(share) => write!(f, "{share} of stroke from front going forward"),
        }
    }
}

/// In words that read back to the same position.
impl fmt::Display for Said {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Said::Wheel(deg) => write!(f, "wheel {deg} deg"),
            Said::Crank { id, at, past_deg, .. } => {
                if *past_deg == 0.0 {
                    write!(f, "{id} at {at}")
                } else if *past_deg < 0.0 {
                    write!(f, "{id} {} deg before {at}", -past_deg)
                } else {
                    write!(f, "{id} {past_deg} deg past {at}")
                }
            }
        }
    }
}

impl Said {
    /// The wheel angle.
    ///
    /// # Errors
    /// An angle out of range.
    pub fn wheel_angle(&self, mechanism: &Mechanism) -> Result<WheelAngle, NoAnswer> {
        // The tyre has no say in angles; any that is accepted will do.
        let tyre = Tyre { diameter_m: 1.0, diameter_standard_m: 0.0 };
        let barring = Barring::new(&mechanism.motion, tyre, mechanism.axle)?;
        let (wanted, past_deg) = match self {
            Said::Wheel(deg) => (Wanted::Wheel(WheelAngle::from_deg(*deg)?), 0.0),
            Said::Crank { cylinder, at, past_deg, .. } => {
                let cylinder = CylinderNo(*cylinder);
                let wanted = match at {
                    At::Front => Wanted::FrontDeadCentre(cylinder),
                    At::Back => Wanted::BackDeadCentre(cylinder),
                    At::Top => Wanted::PinTop(cylinder),
                    At::Bottom => Wanted::PinBottom(cylinder),
                    At::Forward => Wanted::PinForward(cylinder),
                    At::Backward => Wanted::PinBackward(cylinder),
                    At::GoingBack(from_front_share) => {
                        Wanted::CrossheadGoingBack { cylinder, from_front_share: *from_front_share }
                    }
                    At::GoingForward(from_front_share) => Wanted::CrossheadGoingForward {
                        cylinder,
                        from_front_share: *from_front_share,
                    },
                };
                (wanted, *past_deg)
            }
        };
        let at = barring.wheel_angle(wanted)?;
        Ok(WheelAngle::from_rad(at.rad() + past_deg.to_radians())?.folded())
    }
}
