//! The repair of a joint designed from its readings: fitted bolts, pressed and shrunk parts,
//! wedges, split bearings and white metal, bearing duty, cones and cotters.
//!
//! The sizes are those the judgement has from the readings, with their uncertainty as a guard or
//! as corners; what a design needs beyond sizes stands in `[[duty]]` and `[[material]]` records
//! ([`FIELDS`] lists the lines). What is missing is named with where to write it ([`Absent`]);
//! nothing is taken for granted in silence. The formulas are those of `mechanics`.

mod ask;
mod bearing;
mod bolt;
mod bush;
mod cone;
mod duty;
mod fields;
mod film;
mod fit;
mod flat;
mod loading;
mod map;
mod metal;
mod plan;
mod press;
mod pressure;
mod shapes;
mod slide;
mod wanted;
mod wedge;

pub use bearing::BearingDetail;
pub use bolt::BoltDetail;
pub use bush::BushDetail;
pub use cone::{ConeDetail, CotterDrive, HeldBy};
pub(crate) use duty::read_duties;
pub use duty::{Duty, Entry, Value};
pub use fields::{FIELDS, Field, Form};
pub use film::FilmCase;
pub use fit::{AchievedFit, achieved_fit};
pub use loading::{Carries, TurnLoad, TurnStep};
pub use map::{MapAsked, map_of};
pub use metal::PourDetail;
pub use press::PressDetail;
pub use shapes::{Absent, Design, Detail, Given, Line, Of, Says, Section, Standing};
pub use slide::{FaceLayer, SlideDetail, SlideSide};
pub use wedge::WedgeDetail;

use crate::judge::Judgement;
use crate::model::{JointIx, JointKind};
use ask::Ask;

/// Why a joint was not designed at all.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum DesignError {
    /// A line given as what-if is wrong.
    #[error("{what}")]
    WhatIf {
        /// What is wrong.
        what: String,
        /// The mend.
        mend: String,
    },
}

/// Designs the repair of a joint. `with` lays lines over its duty, as a person tries them.
///
/// # Errors
/// A line of `with` is not one of [`FIELDS`] or its value cannot be. What cannot be worked out is
/// not an error: it stands in [`Design::absent`].
pub fn design(
    judgement: &Judgement,
    ix: JointIx,
    with: &[(String, String)],
) -> Result<Design, DesignError> {
    let duty = duty_of(judgement, ix, with)?;
    let plan = plan::plan_for(judgement, ix);
    let mut ask = Ask::new(judgement, ix, &duty);
    let mut out = Design {
        joint: ix,
        repair: plan.repair,
        words: plan.words.clone(),
        decided_by: plan.decided_by.clone(),
        given: Vec::new(),
        sections: Vec::new(),
        absent: Vec::new(),
        cautions: Vec::new(),
        not_considered: vec![
            "fatigue, cracks not looked for, and the past of the parts",
            "heat treatment and hardness, unless the strength given answers for them",
        ],
        detail: Detail::default(),
    };
    plan::sizes(&mut ask, &plan, &mut out);
    let joint = judgement.engine().joint(ix);
    let round = plan::round_pair(judgement, ix);
    match joint.kind {
        JointKind::Fitted if round => bolt::design_bolt(&mut ask, &plan, &mut out),
        JointKind::Fitted => flat::flat_fit(&mut ask, &plan, &mut out),
        JointKind::Pressed | JointKind::Shrunk if round => {
            press::design_press(&mut ask, &plan, &mut out)
        }
        JointKind::Pressed | JointKind::Shrunk => press::flat_press(&mut ask, &plan, &mut out),
        JointKind::Wedged => wedge::design_wedge(&mut ask, &mut out),
        JointKind::Tapered => cone::design_cone(&mut ask, &mut out),
        JointKind::Running => bearing::design_bearing(&mut ask, &plan, &mut out),
        JointKind::Sliding => slide::design_slide(&mut ask, &plan, &mut out),
    }
    fit::fit_lines(&mut ask, &mut out);
    out.given = ask.into_given();
    Ok(out)
}

/// The duty of a joint with what-if lines laid over it.
pub(crate) fn duty_of(
    judgement: &Judgement,
    ix: JointIx,
    with: &[(String, String)],
) -> Result<Duty, DesignError> {
    let mut duty = judgement.engine().duties.get(&ix).cloned().unwrap_or_default();
    for (name, text) in with {
        duty.set(name.trim(), text).map_err(|(what, mend)| DesignError::WhatIf { what, mend })?;
    }
    Ok(duty)
}
