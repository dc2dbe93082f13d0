//! The inverse: what size to finish the pin (and the hole) to.

use super::error::need;
use super::plastic::{interference_at_pressure_m, interference_at_share_m};
use super::{
    Assembly, Behaviour, FrictionBand, Geometry, Holding, Hypothesis, Load, Material, PressError,
    Running, Section, Slice, running, smoothing_loss_m,
};

/// The hole the pin is made to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HoleChoice {
    /// A hole that is there: its smallest and largest size as read.
    AsMeasured {
        /// Smallest size (m).
        min_m: f64,
        /// Largest size (m).
        max_m: f64,
    },
    /// A hole to be bored from the nominal joint diameter upwards.
    ToBeBored {
        /// Its tolerance (m).
        tolerance_m: f64,
    },
}

/// What is wanted of a pressed joint.
#[derive(Debug, Clone, PartialEq)]
pub struct SizingWanted {
    /// Nominal joint diameter (m).
    pub joint_m: f64,
    /// The joint in slices from end to end: length, hub outside, pin bore (m each).
    pub slices: Vec<(f64, f64, f64)>,
    /// The hub's material.
    pub hub: Material,
    /// The pin's material.
    pub pin: Material,
    /// The duty to be held.
    pub load: Load,
    /// Factor against slip at the lowest friction (-), 1 or more.
    pub slip_safety: f64,
    /// Factor against yield at the highest interference (-), 1 or more; of the pin alone where
    /// part of the hub may yield.
    pub yield_safety: f64,
    /// The hypothesis for yield.
    pub hypothesis: Hypothesis,
    /// Part of the hub's section that may yield (-), 0 for an elastic joint, at most 0.3
    /// (DIN 7190-1, from memory). Only at rest, only with the modified hypothesis.
    pub plastic_share: f64,
    /// Friction: the lowest holds, the highest sets the press.
    pub friction: FrictionBand,
    /// Roughness Rz of the hub's bore (m).
    pub hub_rz_m: f64,
    /// Roughness Rz of the pin (m).
    pub pin_rz_m: f64,
    /// The worst running condition for holding.
    pub running: Running,
    /// The hole.
    pub hole: HoleChoice,
    /// Guard taken off each end of the pin's band for the uncertainty of both gauges (m).
    pub guard_m: f64,
}

/// The answer: bands to finish to, and what they give.
#[derive(Debug, Clone, PartialEq)]
pub struct PinSizing {
    /// Least measured interference that holds (m).
    pub interference_min_m: f64,
    /// Greatest measured interference that the material allows (m).
    pub interference_max_m: f64,
    /// Smallest and largest hole the pin is good for (m).
    pub hole_m: (f64, f64),
    /// Smallest and largest finished pin (m), guards taken off.
    pub pin_m: (f64, f64),
    /// Interference lost to smoothing (m).
    pub smoothing_loss_m: f64,
    /// Holding in running at the least interference and the lowest friction.
    pub holding_at_least: Holding,
    /// Factor against slip there (-); `None` without a load.
    pub slip_safety: Option<f64>,
    /// Joint pressure at rest at the least interference, lowest of the slices (Pa).
    pub pressure_min_pa: f64,
    /// Joint pressure at rest at the greatest interference, highest of the slices (Pa).
    pub pressure_max_pa: f64,
    /// Greatest equivalent stress at the hub's bore at rest, elastic (Pa); in a joint allowed
    /// to yield it is the yield strength at most.
    pub hub_equivalent_pa: f64,
    /// The force the press must be able to give: greatest interference, highest friction (N).
    pub press_force_n: f64,
}

/// Bands of finished pin and hole that hold the duty at the least interference and do not
/// yield at the greatest.
///
/// Least: the effective interference in running (after smoothing, heat and speed) at which the
/// resultant of axial force and torque is held with the factor asked at the lowest friction.
/// Greatest: the interference at which the hub's bore or the pin first reaches yield over the
/// factor asked, at rest or in running, or at which the allowed part of the hub is plastic.
/// Smoothing is taken off in both, as DIN 7190-1 does.
///
/// Source: DIN 7190-1:2017 (design for a given duty), from memory; the search along the
/// interference is own.
///
/// # Errors
/// [`PressError::NoBand`] when holding needs more than yield allows;
/// [`PressError::HoleTooSpread`] when the hole's spread and the guards leave no pin;
/// [`PressError::BadNumber`], [`PressError::TooFew`], [`PressError::DiametersOutOfOrder`].
pub fn size_pin(wanted: &SizingWanted) -> Result<PinSizing, PressError> {
    check(wanted)?;
    let sections: Vec<(f64, Section)> = wanted
        .slices
        .iter()
        .map(|&(length_m, hub_outer_m, pin_bore_m)| {
            let geometry = Geometry { joint_m: wanted.joint_m, hub_outer_m, pin_bore_m };
            Ok((length_m, Section::new(geometry, wanted.hub, wanted.pin)?))
        })
        .collect::<Result<_, PressError>>()?;
    let smoothing = smoothing_loss_m(wanted.hub_rz_m, wanted.pin_rz_m)?;
    let behaviour =
        if wanted.plastic_share > 0.0 { Behaviour::ElasticPlastic } else { Behaviour::Elastic };
    let joint = |measured_m: f64, in_running: bool| -> Result<Assembly, PressError> {
        let slices = sections
            .iter()
            .map(|&(length_m, section)| {
                let at_rest = measured_m - smoothing;
                let interference_m = if in_running {
                    running(&section, at_rest, wanted.running)?.interference_m
                } else {
                    at_rest
                };
                Ok(Slice { length_m, section, interference_m })
            })
            .collect::<Result<_, PressError>>()?;
        Assembly::new(slices, behaviour)
    };
    let safety_at = |measured_m: f64| -> Result<f64, PressError> {
        let safety = joint(measured_m, true)?.slip_safety(wanted.load, wanted.friction.low)?;
        Ok(safety.unwrap_or(f64::INFINITY))
    };

    let mut allowed_m = f64::INFINITY;
    for (_, section) in &sections {
        allowed_m = allowed_m.min(allowed_effective_m(section, wanted)? + smoothing);
    }
    if safety_at(allowed_m)? < wanted.slip_safety {
        // How much would be needed were yield no bar: holding rises at most in proportion.
        let needed_m = needed_elastic_m(wanted, &sections, smoothing)?;
        return Err(PressError::NoBand { needed_m, allowed_m });
    }
    let (mut short, mut enough) = (0.0, allowed_m);
    if safety_at(0.0)? >= wanted.slip_safety {
        enough = 0.0;
    } else {
        for _ in 0..60 {
            let middle = 0.5 * (short + enough);
            if safety_at(middle)? < wanted.slip_safety {
                short = middle;
            } else {
                enough = middle;
            }
        }
    }
    let least_m = enough;

    let (hole_min, hole_max) = match wanted.hole {
        HoleChoice::AsMeasured { min_m, max_m } => (min_m, max_m),
        HoleChoice::ToBeBored { tolerance_m } => (wanted.joint_m, wanted.joint_m + tolerance_m),
    };
    let pin_min = hole_max + least_m + wanted.guard_m;
    let pin_max = hole_min + allowed_m - wanted.guard_m;
    if pin_min > pin_max {
        return Err(PressError::HoleTooSpread {
            taken_m: hole_max - hole_min + 2.0 * wanted.guard_m,
            band_m: allowed_m - least_m,
        });
    }
    let in_running = joint(least_m, true)?;
    let at_least = joint(least_m, false)?;
    let at_greatest = joint(allowed_m, false)?;
    let pressure_max_pa = at_greatest.slices().map(|(_, p)| p).fold(0.0, f64::max);
    let mut hub_equivalent_pa: f64 = 0.0;
    for (slice, pressure) in at_greatest.slices() {
        let equivalent = slice.section.stress(pressure)?.hub_bore.equivalent_pa(wanted.hypothesis);
        hub_equivalent_pa = hub_equivalent_pa.max(equivalent);
    }
    if wanted.plastic_share > 0.0 {
        hub_equivalent_pa = hub_equivalent_pa.min(wanted.hub.yield_pa);
    }
    Ok(PinSizing {
        interference_min_m: least_m,
        interference_max_m: allowed_m,
        hole_m: (hole_min, hole_max),
        pin_m: (pin_min, pin_max),
        smoothing_loss_m: smoothing,
        holding_at_least: in_running.holding(wanted.friction.low)?,
        slip_safety: in_running.slip_safety(wanted.load, wanted.friction.low)?,
        pressure_min_pa: at_least.slices().map(|(_, p)| p).fold(f64::INFINITY, f64::min),
        pressure_max_pa,
        hub_equivalent_pa,
        press_force_n: at_greatest.holding(wanted.friction.high)?.axial_n,
    })
}

/// Greatest effective interference (m, smoothing taken off, at rest) that a section may have.
fn allowed_effective_m(section: &Section, wanted: &SizingWanted) -> Result<f64, PressError> {
    let pin_pa = section.pin_yield_pressure_pa(wanted.hypothesis) / wanted.yield_safety;
    if wanted.plastic_share > 0.0 {
        let by_hub = interference_at_share_m(section, wanted.plastic_share);
        let by_pin = interference_at_pressure_m(section, pin_pa).unwrap_or(f64::INFINITY);
        return Ok(by_hub.min(by_pin));
    }
    let hub_pa = section.hub_yield_pressure_pa(wanted.hypothesis) / wanted.yield_safety;
    let at_rest = section.interference_m(hub_pa.min(pin_pa))?;
    // In running heat may tighten, and speed adds its own stress to less pressure: find where
    // the hub's bore reaches the same limit.
    let limit_pa = wanted.hub.yield_pa / wanted.yield_safety;
    let within = |effective_m: f64| -> Result<bool, PressError> {
        let state = running(section, effective_m, wanted.running)?;
        let bore = super::Stress { radial_pa: -state.pressure_pa, hoop_pa: state.hub_bore_hoop_pa };
        let pin = section.stress(state.pressure_pa)?;
        let pin_worst = pin
            .pin_inside
            .equivalent_pa(wanted.hypothesis)
            .max(pin.pin_outside.equivalent_pa(wanted.hypothesis));
        let pin_limit = wanted.pin.yield_pa / wanted.yield_safety;
        let play = 1.0 + 1e-9;
        Ok(bore.equivalent_pa(wanted.hypothesis) <= limit_pa * play
            && pin_worst <= pin_limit * play)
    };
    if within(at_rest)? {
        return Ok(at_rest);
    }
    let (mut good, mut bad) = (0.0, at_rest);
    for _ in 0..60 {
        let middle = 0.5 * (good + bad);
        if within(middle)? {
            good = middle;
        } else {
            bad = middle;
        }
    }
    Ok(good)
}

/// The measured interference that would hold if everything stayed elastic (m), for the message.
fn needed_elastic_m(
    wanted: &SizingWanted,
    sections: &[(f64, Section)],
    smoothing: f64,
) -> Result<f64, PressError> {
    let safety = |measured_m: f64| -> Result<f64, PressError> {
        let slices = sections
            .iter()
            .map(|&(length_m, section)| {
                let left = running(&section, measured_m - smoothing, wanted.running)?;
                Ok(Slice { length_m, section, interference_m: left.interference_m })
            })
            .collect::<Result<_, PressError>>()?;
        let joint = Assembly::new(slices, Behaviour::Elastic)?;
        let safety = joint.slip_safety(wanted.load, wanted.friction.low)?;
        Ok(safety.unwrap_or(f64::INFINITY))
    };
    let mut enough = wanted.joint_m * 1e-6;
    while safety(enough)? < wanted.slip_safety && enough < wanted.joint_m {
        enough *= 2.0;
    }
    let mut short = 0.0;
    for _ in 0..60 {
        let middle = 0.5 * (short + enough);
        if safety(middle)? < wanted.slip_safety {
            short = middle;
        } else {
            enough = middle;
        }
    }
    Ok(enough)
}

fn check(wanted: &SizingWanted) -> Result<(), PressError> {
    let w = wanted;
    if w.slices.is_empty() {
        return Err(PressError::TooFew { what: "slices", given: 0, least: 1 });
    }
    need("joint diameter", w.joint_m, "m", w.joint_m > 0.0, "above 0")?;
    for &(length_m, _, _) in &w.slices {
        need("length of a slice", length_m, "m", length_m > 0.0, "above 0")?;
    }
    need("axial load", w.load.axial_n, "N", true, "a number")?;
    need("torque", w.load.torque_nm, "N m", true, "a number")?;
    need("factor against slip", w.slip_safety, "-", w.slip_safety >= 1.0, "1 or more")?;
    need("factor against yield", w.yield_safety, "-", w.yield_safety >= 1.0, "1 or more")?;
    let share = w.plastic_share;
    need("plastic share", share, "-", (0.0..=0.3).contains(&share), "from 0 to 0.3")?;
    if share > 0.0 {
        need(
            "speed with a plastic share",
            w.running.speed_rad_s,
            "rad/s",
            w.running.speed_rad_s == 0.0,
            "0: a yielding hub is worked out at rest only",
        )?;
        let modified = w.hypothesis == Hypothesis::ModifiedTresca;
        need("plastic share", share, "-", modified, "0 but with the modified Tresca hypothesis")?;
    }
    w.friction.check()?;
    need("guard", w.guard_m, "m", w.guard_m >= 0.0, "not negative")?;
    let (min_m, max_m) = match w.hole {
        HoleChoice::AsMeasured { min_m, max_m } => (min_m, max_m),
        HoleChoice::ToBeBored { tolerance_m } => (w.joint_m, w.joint_m + tolerance_m),
    };
    need("smallest hole", min_m, "m", min_m > 0.0, "above 0")?;
    need("largest hole", max_m, "m", max_m >= min_m, "not below the smallest")?;
    // A hole far from the nominal is another joint than the one worked out.
    let near = (min_m / w.joint_m - 1.0).abs() < 0.01 && (max_m / w.joint_m - 1.0).abs() < 0.01;
    need("hole", min_m, "m", near, "within 1 % of the nominal joint diameter")
}
