//! The band of finished sizes that holds and does not yield.

use super::{GUARD, hypothesis};
use crate::design::ask::{Ask, because};
use crate::design::plan::Plan;
use crate::design::shapes::{Design, Line, Of, Section, Standing};
use crate::design::wanted::interference;
use mechanics::press::{
    self as mp, FrictionBand, HoleChoice, Load, Material, PinSizing, Running, SizingWanted,
};

pub(super) fn sizing(
    ask: &mut Ask<'_>,
    plan: &Plan,
    slices: &[(f64, f64, f64)],
    hub: Material,
    pin: Material,
    friction: FrictionBand,
    out: &mut Design,
) -> Option<PinSizing> {
    let what = "the band of finished sizes";
    let joint = ask.judgement.engine().joint(ask.joint);
    let load = Load {
        axial_n: ask.maybe("load").unwrap_or(0.0),
        torque_nm: ask.maybe("torque").unwrap_or(0.0),
    };
    if !ask.has("load") && !ask.has("torque") {
        ask.one("load");
        ask.one("torque");
    }
    let slip = ask.one("slip-safety");
    let safe = ask.one("yield-safety");
    let rough = (ask.one("roughness-outer"), ask.one("roughness-inner"));
    let rises = (ask.one("hub-rise"), ask.one("pin-rise"));
    let turning = ask.one("turning");
    let plastic_share = ask.maybe("plastic-share").unwrap_or(0.0);
    let hypothesis = hypothesis(ask);
    let hole = plan
        .target(joint.outer)
        .map(|t| (t.to_m - t.tolerance_m, t.to_m + t.tolerance_m))
        .or_else(|| {
            let state = ask.judgement.feature(joint.outer);
            Some((state.smallest.as_ref()?.si(), state.largest.as_ref()?.si()))
        });
    let Some((min_m, max_m)) = hole else {
        out.absent.push(because(
            what,
            "the hole is not gauged: gauge it at three depths and two directions",
        ));
        return None;
    };
    let (
        Some(slip_safety),
        Some(yield_safety),
        (Some(hub_rz_m), Some(pin_rz_m)),
        (Some(hub_rise_k), Some(pin_rise_k)),
        Some(speed_rad_s),
    ) = (slip, safe, rough, rises, turning)
    else {
        out.absent.push(ask.absent(what));
        return None;
    };
    if !ask.has("load") && !ask.has("torque") {
        out.absent.push(ask.absent(what));
        return None;
    }
    let _ = ask.absent("");
    let u = ask.judgement.feature(joint.outer).size.as_ref().map_or(0.0, |e| e.u());
    let wanted = SizingWanted {
        joint_m: 0.5 * (min_m + max_m),
        slices: slices.to_vec(),
        hub,
        pin,
        load,
        slip_safety,
        yield_safety,
        hypothesis,
        plastic_share,
        friction,
        hub_rz_m,
        pin_rz_m,
        running: Running { hub_rise_k, pin_rise_k, speed_rad_s },
        hole: HoleChoice::AsMeasured { min_m, max_m },
        guard_m: GUARD * u,
    };
    match mp::size_pin(&wanted) {
        Ok(s) => {
            let mut lines = vec![
                Line::band("hole it is good for", s.hole_m.0, s.hole_m.1, Of::Size),
                Line::band("finish the pin to", s.pin_m.0, s.pin_m.1, Of::Size)
                    .note(format!("{:.1} um of guard taken off each end", 1e6 * GUARD * u)),
                Line::band(
                    "interference",
                    s.interference_min_m,
                    s.interference_max_m,
                    Of::Difference,
                )
                .note("least holds the duty, most is what the material allows"),
            ];
            if let Ok(w) = interference(ask) {
                let inside = w.min_m >= s.interference_min_m && w.max_m <= s.interference_max_m;
                lines.push(
                    Line::band("interference by limit or fit", w.min_m, w.max_m, Of::Difference)
                        .stands(if inside { Standing::Good } else { Standing::Look })
                        .note(if inside {
                            "inside the band"
                        } else {
                            "not all of it lies inside the band"
                        }),
                );
            }
            out.sections.push(Section::making("sizes that hold and do not yield", lines));
            let mut lines = vec![
                Line::band("pressure at rest", s.pressure_min_pa, s.pressure_max_pa, Of::Stress),
                Line::one(
                    "equivalent stress at the boss's bore, at most",
                    s.hub_equivalent_pa,
                    Of::Stress,
                )
                .note(format!("yield {:.0} MPa over {yield_safety}", 1e-6 * hub.yield_pa)),
                Line::one("holds along the axis, at least", s.holding_at_least.axial_n, Of::Force),
                Line::one("holds in torque, at least", s.holding_at_least.torque_nm, Of::Torque),
                Line::one("interference lost to smoothing", s.smoothing_loss_m, Of::Film),
                Line::one("press must be able to give", s.press_force_n, Of::Force),
            ];
            if let Some(f) = s.slip_safety {
                lines.insert(
                    4,
                    Line::one("factor against slip at the least, low friction", f, Of::Ratio)
                        .good_if(f >= slip_safety * (1.0 - 1e-9)),
                );
            }
            out.sections.push(Section::new("what they give", lines));
            Some(s)
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}
