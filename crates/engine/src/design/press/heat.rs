//! Heat to put it together, and heat and speed that would loosen it.

use super::{PressDetail, rings};
use crate::design::ask::{Ask, because};
use crate::design::shapes::{Design, Line, Of, Section};
use mechanics::press::{self as mp, HeatLimit, HeatWanted, Material};

#[expect(clippy::too_many_arguments, reason = "one joint, split up only by what it is")]
pub(super) fn heat(
    ask: &mut Ask<'_>,
    slices: &[(f64, f64, f64)],
    hub: Material,
    pin: Material,
    pin_most_m: f64,
    shrunk: bool,
    detail: &mut PressDetail,
    out: &mut Design,
) {
    let what = "heating or chilling to put it together";
    let joint = ask.judgement.engine().joint(ask.joint);
    if !shrunk
        && !["gap", "shop", "pin-at", "cooling-lost", "heat-limit"].iter().any(|n| ask.has(n))
    {
        return;
    }
    let gap = ask.one("gap");
    let shop = ask.one("shop");
    let pin_at = ask.one("pin-at");
    let lost = ask.one("cooling-lost");
    let limit = ask.one("heat-limit");
    let (Some(gap_m), Some(shop), Some(pin_at), Some(lost), Some(limit)) =
        (gap, shop, pin_at, lost, limit)
    else {
        out.absent.push(ask.absent(what));
        return;
    };
    let Some(hole) = ask.judgement.feature(joint.outer).smallest.as_ref().map(|e| e.si()) else {
        out.absent.push(because(what, "the hole is not gauged"));
        return;
    };
    let answer =
        rings(hole, &slices[..1.min(slices.len())], hub, pin).and_then(|rings| {
            match rings.first() {
                Some((_, ring)) => mp::assembly_heat(
                    ring,
                    &HeatWanted {
                        interference_m: (pin_most_m - hole).max(0.0),
                        gap_m,
                        shop_celsius: shop - 273.15,
                        pin_celsius: pin_at - 273.15,
                        cooling_on_the_way_k: lost,
                        limit: HeatLimit::Given { celsius: limit - 273.15 },
                    },
                ),
                None => Err(mp::PressError::TooFew { what: "slices", given: 0, least: 1 }),
            }
        });
    match answer {
        Ok(h) => {
            let mut lines = vec![
                Line::one("boss hotter than the shop by", h.hub_rise_k, Of::Rise)
                    .note("for the largest pin in the smallest hole"),
                Line::one("heat the boss to", h.heat_to_celsius + 273.15, Of::Temperature)
                    .good_if(h.within_limit)
                    .note(format!("not above {:.0} degC", h.limit_celsius)),
            ];
            if let Some(c) = h.chill_only_celsius {
                lines.push(Line::one("or chill the pin alone to", c + 273.15, Of::Temperature));
            }
            out.sections.push(Section::new("heating or chilling", lines));
            for c in &h.cautions {
                out.caution(*c);
            }
            detail.heat = Some(h);
        }
        Err(e) => out.absent.push(because(what, e)),
    }
}

/// Heat and speed that would loosen it.
pub(super) fn running_lines(
    ask: &mut Ask<'_>,
    slices: &[(f64, f64, f64)],
    hub: Material,
    pin: Material,
    pin_m: (f64, f64),
    out: &mut Design,
) {
    let joint = ask.judgement.engine().joint(ask.joint);
    let Some(hole) = ask.judgement.feature(joint.outer).largest.as_ref().map(|e| e.si()) else {
        return;
    };
    let least = pin_m.0 - hole;
    if least <= 0.0 {
        return;
    }
    let Ok(rings) = rings(hole, slices, hub, pin) else { return };
    let mut lines = Vec::new();
    let hot = rings
        .iter()
        .filter_map(|(_, r)| mp::loosening_temperature_k(r, least, 0.0).ok())
        .fold(f64::INFINITY, f64::min);
    if hot.is_finite() {
        lines.push(
            Line::one("loses all grip when the boss is hotter than the pin by", hot, Of::Rise)
                .note("brake blocks warm a tyre: at the least interference"),
        );
    }
    let fast = rings
        .iter()
        .filter_map(|(_, r)| mp::loosening_speed_rad_s(r, least).ok().flatten())
        .fold(f64::INFINITY, f64::min);
    if fast.is_finite() {
        lines.push(Line::one("loses all grip by turning at", fast, Of::Turning));
    }
    if !lines.is_empty() {
        out.sections.push(Section::new("what would loosen it", lines));
    }
}
