//! What a person proposes, in words: `close big-end.left 8 thou`, `make crank-pin.left 203.2 mm`,
//! `line wedge.left 1.5 mm`.

use super::trial::Trial;
use crate::judge::Judgement;
use crate::model::{Engine, FeatureIx, JointIx, Metal, Way};
use quantity::{Dimension, Quantity, Uncertain};

/// One thing proposed.
#[derive(Clone, Debug, PartialEq)]
pub enum Act {
    /// Make a feature to a size.
    Make(FeatureIx, Quantity),
    /// Close a split bearing by filing this much off its joint faces together.
    Close(FeatureIx, Quantity),
    /// Put a liner of this thickness into a joint.
    Line(JointIx, Quantity),
}

/// Reads an act.
///
/// # Errors
/// Says which word is wrong and what may stand there.
pub fn parse_act(judgement: &Judgement, text: &str) -> Result<Act, String> {
    let engine = judgement.engine();
    let mut words = text.trim().splitn(3, char::is_whitespace);
    let (Some(verb), Some(name), Some(size)) = (words.next(), words.next(), words.next()) else {
        return Err(format!(
            "\"{text}\" wants three things: what to do (make, close, line), to what, and the size: close big-end.left.bore 8 thou"
        ));
    };
    let size = size.trim().trim_start_matches("by ").trim_start_matches("to ").trim();
    let quantity = Quantity::parse_as(size, Dimension::Length)
        .map_err(|e| format!("{}\n{}", e.caret(), e.hint()))?;
    let unknown = |what: &str| {
        let near = engine
            .nearest_id(name)
            .map_or_else(String::new, |n| format!("; did you mean \"{n}\"?"));
        format!("there is no {what} \"{name}\"{near}")
    };
    match verb.to_lowercase().as_str() {
        "make" | "bore" | "turn" | "grind" | "ream" => {
            let feature = engine.feature_by_id(name).ok_or_else(|| unknown("feature"))?;
            match no_such_size(engine, feature, &quantity) {
                Some((what, mend)) if mend.is_empty() => Err(what),
                Some((what, mend)) => Err(format!("{what}: {mend}")),
                None => Ok(Act::Make(feature, quantity)),
            }
        }
        "close" => {
            // A joint may be named too: its outer feature is the bearing.
            let feature = engine
                .feature_by_id(name)
                .or_else(|| engine.joint_by_id(name).map(|j| engine.joint(j).outer))
                .ok_or_else(|| unknown("feature or joint"))?;
            if engine.feature(feature).halves.len() != 2 {
                return Err(format!(
                    "{} is not a split bearing: it has no halves to close",
                    engine.feature(feature).id
                ));
            }
            if quantity.si() <= 0.0 {
                return Err("brasses are closed by more than nothing; to open them out, make them to a size".to_owned());
            }
            Ok(Act::Close(feature, quantity))
        }
        "line" => {
            let joint = engine.joint_by_id(name).ok_or_else(|| unknown("joint"))?;
            Ok(Act::Line(joint, quantity))
        }
        other => Err(format!("\"{other}\" is not known; make, close or line")),
    }
}

/// A size that a person wants a feature made to, as a decision quotes it: the feature, and the size
/// as written.
///
/// # Errors
/// What is wrong, and the mend.
pub fn wanted_size(
    engine: &Engine,
    feature: &str,
    size: &str,
) -> Result<(FeatureIx, Quantity), (String, String)> {
    let feature = feature.trim();
    let ix = engine.feature_by_id(feature).ok_or_else(|| {
        let near = engine
            .nearest_id(feature)
            .map_or_else(String::new, |n| format!("did you mean \"{n}\"?"));
        (format!("there is no feature \"{feature}\""), near)
    })?;
    let size = Quantity::parse_as(size.trim(), Dimension::Length)
        .map_err(|e| (format!("{}\n{}", e.reason(), e.caret()), e.hint().to_owned()))?;
    match no_such_size(engine, ix, &size) {
        Some(fault) => Err(fault),
        None => Ok((ix, size)),
    }
}

/// How many times the size as made, or how small a part of it, a wanted size may be. What lies
/// outside is an amount written for a size, or a slip of the unit (25.4 and 1000 times).
const MOST_TIMES: f64 = 8.0;

/// What is wrong with a size that nobody can want, and the mend.
fn no_such_size(engine: &Engine, ix: FeatureIx, size: &Quantity) -> Option<(String, String)> {
    if size.si() <= 0.0 {
        return Some((format!("a size of {} cannot be", size.text()), String::new()));
    }
    let feature = engine.feature(ix);
    let made = feature.as_made.as_ref().filter(|m| 0.0 < m.si())?;
    let times = size.si() / made.si();
    if (1.0 / MOST_TIMES..=MOST_TIMES).contains(&times) {
        return None;
    }
    Some((
        format!("{} for {}, which was made {}", size.text(), feature.id, made.text()),
        "write the whole size, not what comes off it, and look at the unit".to_owned(),
    ))
}

impl Act {
    /// Lays the act on a trial.
    ///
    /// # Errors
    /// It needs a size that nobody has read.
    pub fn lay_on(&self, judgement: &Judgement, trial: &mut Trial) -> Result<(), String> {
        let engine = judgement.engine();
        match self {
            Act::Make(ix, size) => {
                let way = usual_way(engine.feature(*ix).can.as_slice());
                trial.make(*ix, size.si(), engine.workshop.holds(way));
                Ok(())
            }
            Act::Close(ix, by) => close(judgement, trial, *ix, by.si()),
            Act::Line(joint, thickness) => {
                trial.line(*joint, thickness.si());
                Ok(())
            }
        }
    }
}

/// Closing a split bearing by `by_m` in all: each half loses half of it at its joint face, and
/// the bore loses the whole in the direction that closes.
pub(super) fn close(
    judgement: &Judgement,
    trial: &mut Trial,
    ix: FeatureIx,
    by_m: f64,
) -> Result<(), String> {
    let engine = judgement.engine();
    let feature = engine.feature(ix);
    let holds = engine.workshop.holds(Way::Filing);
    let state = judgement.feature(ix);
    let along = state
        .along_and_across
        .as_ref()
        .map(|(along, _)| along)
        .or(state.size.as_ref())
        .ok_or_else(|| format!("{} is not gauged; closing it needs its size", feature.id))?;
    trial.make_to_suit(ix, along.value.clone().offset(-by_m), holds);
    for half in &feature.halves {
        let size = trial.size(judgement, *half).ok_or_else(|| {
            format!(
                "{} is not gauged; closing the bearing takes {:.3} mm off it",
                engine.feature(*half).id,
                by_m * 500.0
            )
        })?;
        let filed: Uncertain = size.offset(-by_m / 2.0);
        trial.make_to_suit(*half, filed, holds / 2f64.sqrt());
    }
    Ok(())
}

/// The first way in a list that takes metal, for how well it is held.
pub(super) fn usual_way(can: &[Way]) -> Way {
    can.iter().copied().find(|w| !matches!(w, Way::New | Way::Lining)).unwrap_or(Way::Turning)
}

/// Whether making a feature to a size takes metal off it.
pub(super) fn takes_metal_off(metal: Metal, from_m: f64, to_m: f64) -> bool {
    match metal {
        Metal::Inside => to_m <= from_m,
        Metal::Outside => to_m >= from_m,
        Metal::Neither => false,
    }
}
