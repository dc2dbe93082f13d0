//! The film over a sheet of clearances and loads.

use super::ask::Ask;
use super::loading::try_turn_load;
use super::{DesignError, duty_of, film};
use crate::judge::{Estimate, Judgement};
use crate::model::JointIx;
use mechanics::bearing::{FilmMap, JournalOptions, MapControl, MapInput, film_map};

/// What is asked of a map.
#[derive(Clone, Debug)]
pub struct MapAsked {
    /// Diametral clearances (m).
    pub clearances_m: Vec<f64>,
    /// Loads (N).
    pub loads_n: Vec<f64>,
}

/// A map of one running joint; `control` says who works on it, who is told and who may stop it.
///
/// # Errors
/// The duty lacks something (named), a what-if line is wrong, or the map cannot be asked for.
pub fn map_of(
    judgement: &Judgement,
    ix: JointIx,
    with: &[(String, String)],
    asked: &MapAsked,
    control: &MapControl<'_>,
) -> Result<FilmMap, DesignError> {
    let fault = |what: String, mend: String| DesignError::WhatIf { what, mend };
    let duty = duty_of(judgement, ix, with)?;
    let mut ask = Ask::new(judgement, ix, &duty);
    let joint = judgement.engine().joint(ix);
    let Some(journal) = judgement.feature(joint.inner).size.as_ref().map(Estimate::si) else {
        return Err(fault(format!("the journal of \"{}\" is not gauged", joint.id), String::new()));
    };
    // A map is drawn over loads: what the motion says sets only the speed.
    let turn = try_turn_load(&mut ask).ok().flatten();
    let _ = ask.absent("");
    let setup = match film::setup(&mut ask, journal, turn.as_ref()) {
        Ok(s) => s,
        Err(Some(why)) => return Err(fault(why, String::new())),
        Err(None) => {
            let wants = ask.absent("").wants.join("\n    ");
            return Err(fault(
                format!("the duty of \"{}\" does not say enough for a film", joint.id),
                format!("write in its [[duty]]:\n    {wants}"),
            ));
        }
    };
    let input = MapInput {
        bearing: setup.bearing,
        speed_rad_s: setup.duty.speed_rad_s,
        oil: setup.oil,
        heat: setup.heat,
        diametral_clearances_m: &asked.clearances_m,
        loads_n: &asked.loads_n,
    };
    film_map(&input, control, &JournalOptions::default())
        .map_err(|e| fault(e.to_string(), String::new()))
}
