//! Pressed and shrunk joints: sizes, stresses, force along the stroke, heat, and a record judged.

mod as_found;
mod flat;
mod heat;
mod record;
mod sizing;
mod stroke;
mod tyre;

use crate::design::ask::{Ask, because};
use crate::design::plan::Plan;
use crate::design::shapes::{Absent, Design};
use crate::model::JointKind;
use mechanics::press::{
    self as mp, Assembly, AssemblyHeat, Behaviour, FrictionBand, Geometry, Hypothesis, Material,
    PinSizing, PressCurve, PressJudgement, PressReading, Section as Ring, Slice,
};

use as_found::as_found;
use heat::{heat, running_lines};
use sizing::sizing;
use stroke::curve;

pub(super) use flat::flat_press;
pub(super) use record::record;
pub(super) use stroke::tell;

/// One-sided 95 per cent of a normal distribution.
const GUARD: f64 = 1.645;

/// The calculation behind a pressed or shrunk joint.
#[derive(Clone, Debug, PartialEq)]
pub struct PressDetail {
    /// Bands of finished sizes.
    pub sizing: Option<PinSizing>,
    /// Interference as gauged, and its standard uncertainty (m); `None` where a part is not there.
    pub interference_m: Option<(f64, f64)>,
    /// Joint pressure at that interference (Pa), least and most.
    pub pressure_pa: Option<(f64, f64)>,
    /// Force along the stroke.
    pub curve: Option<PressCurve>,
    /// Force the press can give (N).
    pub press_rating_n: Option<f64>,
    /// What was read in pressing.
    pub readings: Vec<PressReading>,
    /// What that says.
    pub judged: Option<PressJudgement>,
    /// Heating or chilling.
    pub heat: Option<AssemblyHeat>,
    /// Change of the bore of a bush as it is pressed in (m), least and most: negative closes it.
    pub closes_m: Option<(f64, f64)>,
}

pub(super) fn design_press(ask: &mut Ask<'_>, plan: &Plan, out: &mut Design) {
    let what = "the pressed joint";
    let joint = ask.judgement.engine().joint(ask.joint);
    let shrunk = joint.kind == JointKind::Shrunk;
    let slices = slices(ask);
    let (hub, pin) = (ask.strength_of(joint.outer), ask.strength_of(joint.inner));
    let (Some(slices), Some(hub), Some(pin)) = (slices, hub, pin) else {
        out.absent.push(ask.absent(what));
        return;
    };
    let friction = if shrunk {
        ask.friction_band(
            FrictionBand::SHRUNK_STEEL,
            "a dry shrink fit of steel (DIN 7190-1, from memory)",
        )
    } else {
        ask.friction_band(FrictionBand::OILED_STEEL, "steel pressed in with oil or tallow")
    };
    let mut detail = PressDetail {
        sizing: None,
        interference_m: None,
        pressure_pa: None,
        curve: None,
        press_rating_n: ask.maybe("press-rating"),
        readings: Vec::new(),
        judged: None,
        heat: None,
        closes_m: None,
    };
    as_found(ask, &slices, hub, pin, &mut detail, out);
    detail.sizing = sizing(ask, plan, &slices, hub, pin, friction, out);
    let gauged_m = || {
        let e = ask.judgement.feature(joint.inner).size.as_ref()?;
        Some((e.si() - 2.0 * e.u(), e.si() + 2.0 * e.u()))
    };
    let to_make_m = detail.sizing.as_ref().map(|s| (s.pin_m.0, s.pin_m.1));
    // A record was read with the parts that were there: where they stay, those are the ones gauged.
    let pin_m = if ask.has("press-record") && plan.target(joint.inner).is_none() {
        gauged_m().or(to_make_m)
    } else {
        to_make_m.or_else(gauged_m)
    };
    if let Some(pin_m) = pin_m {
        curve(ask, &slices, (hub, pin), friction, pin_m, &mut detail, out);
        heat(ask, &slices, hub, pin, pin_m.1, shrunk, &mut detail, out);
        running_lines(ask, &slices, hub, pin, pin_m, out);
        if shrunk {
            tyre::tyre(ask, &slices, (hub, pin), pin_m, &detail, out);
        }
    }
    (detail.readings, detail.judged) = record(ask, detail.curve.as_ref(), out);
    out.not_considered.push("collars, chamfers, keyways and oil grooves: the ring is taken plain");
    out.detail.press = Some(Box::new(detail));
}

/// Length, outside and pin bore of the joint, slice by slice.
pub(super) fn slices(ask: &mut Ask<'_>) -> Option<Vec<(f64, f64, f64)>> {
    if let Some(slices) = ask.maybe_slices("slices") {
        return Some(slices.to_vec());
    }
    let length = ask.one("length");
    let outer = ask.one("hub-outer");
    let bore = ask.one("pin-bore");
    Some(vec![(length?, outer?, bore?)])
}

pub(super) fn hypothesis(ask: &mut Ask<'_>) -> Hypothesis {
    match ask.maybe_text("hypothesis") {
        Some("tresca") => Hypothesis::Tresca,
        Some("von mises") => Hypothesis::VonMises,
        Some(_) => Hypothesis::ModifiedTresca,
        None => {
            ask.note(
                "hypothesis",
                "modified Tresca",
                "as DIN 7190-1 takes it; write hypothesis in the duty to change it",
            );
            Hypothesis::ModifiedTresca
        }
    }
}

fn rings(
    joint_m: f64,
    slices: &[(f64, f64, f64)],
    hub: Material,
    pin: Material,
) -> Result<Vec<(f64, Ring)>, mp::PressError> {
    slices
        .iter()
        .map(|&(length, hub_outer_m, pin_bore_m)| {
            Ok((length, Ring::new(Geometry { joint_m, hub_outer_m, pin_bore_m }, hub, pin)?))
        })
        .collect()
}

/// Pressure in a joint at an interference, for a bush in its eye.
pub(super) fn assembled(
    joint_m: f64,
    slices: &[(f64, f64, f64)],
    (hub, pin): (Material, Material),
    interference_m: f64,
) -> Result<(Assembly, Vec<(f64, Ring)>), mp::PressError> {
    let rings = rings(joint_m, slices, hub, pin)?;
    let parts = rings
        .iter()
        .map(|(length_m, section)| Slice { length_m: *length_m, section: *section, interference_m })
        .collect();
    Ok((Assembly::new(parts, Behaviour::Elastic)?, rings))
}

/// The same reason for both halves of a design.
pub(super) fn nothing(what: &str) -> Absent {
    because(what, "the sizes it rests on are not to be had")
}
