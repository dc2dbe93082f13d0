//! A worn bore lined with a bush: eye bored out, bush pressed in, bored to finish.

use super::ask::{Ask, because};
use super::plan::ToMake;
use super::press::{PressDetail, assembled, hypothesis, record, tell};
use super::shapes::{Design, Line, Of, Section, Standing};
use super::wanted::fit_at;
use mechanics::press::{
    self as mp, Behaviour, FrictionBand, HubStation, PinStation, StrokeInput, smoothing_loss_m,
};

/// The bush to make.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BushDetail {
    /// Size the eye is bored to (m).
    pub eye_m: f64,
    /// Outside of the bush for that eye, least and most (m).
    pub outside_m: (f64, f64),
    /// Length (m).
    pub length_m: f64,
}

/// Designs the bush that lines the outer surface of a running joint.
///
/// Eye = finished bore + 2 walls. The bush is made to the eye as bored, with the interference
/// wanted; pressed in, its bore closes by `2 p d / (E (1 - q^2))` (Lamé: hoop stress at the bore of
/// the bush over its modulus; own derivation from the same source as the pressure), so it is bored
/// to finish after pressing.
pub(super) fn design_bush(
    ask: &mut Ask<'_>,
    bore: &ToMake,
    out: &mut Design,
) -> Option<BushDetail> {
    let what = "the bush";
    let joint = ask.judgement.engine().joint(ask.joint);
    let wall = ask.one("bush-wall");
    let length = ask.one("length");
    let outer = ask.one("hub-outer");
    let wanted = ask.maybe_band("interference");
    if wanted.is_none() && ask.maybe_text("fit").is_none() {
        ask.want_elsewhere(
            "interference = \"0.02 mm to 0.05 mm\" (interference wanted of bush in eye)".to_owned(),
        );
    }
    let rough = (ask.one("roughness-outer"), ask.one("roughness-inner"));
    let name = ask.text("bush-material");
    let bush = name.and_then(|n| ask.strength_named(n));
    let eye_metal = ask.strength_of(joint.outer);
    let friction = ask.friction_band(FrictionBand::OILED_STEEL, "a bush pressed in with oil");
    let (
        Some(wall_m),
        Some(length_m),
        Some(outer_m),
        (Some(rz_eye), Some(rz_bush)),
        Some(bush),
        Some(eye_metal),
    ) = (wall, length, outer, rough, bush, eye_metal)
    else {
        out.absent.push(ask.absent(what));
        return None;
    };
    let bore_m = bore.to_m;
    let eye_m = bore_m + 2.0 * wall_m;
    let (least, most) = match wanted {
        Some(band) => band,
        None => {
            let text = ask.maybe_text("fit").unwrap_or_default();
            match fit_at(text, Some(eye_m)) {
                Ok(limits) => (limits.interference().min_m, limits.interference().max_m),
                Err(why) => {
                    out.absent.push(because(what, why.unwrap_or_default()));
                    return None;
                }
            }
        }
    };
    let _ = ask.absent("");
    if least < 0.0 {
        out.absent.push(because(
            what,
            format!("an interference of {:.3} mm at least would leave the bush loose", 1e3 * least),
        ));
        return None;
    }
    let by = hypothesis(ask);
    let slices = [(length_m, outer_m, bore_m)];
    let result = (|| {
        let loss = smoothing_loss_m(rz_eye, rz_bush)?;
        let (low, rings) = assembled(eye_m, &slices, (eye_metal, bush), (least - loss).max(0.0))?;
        let (high, _) = assembled(eye_m, &slices, (eye_metal, bush), (most - loss).max(0.0))?;
        let pressure =
            |a: &mechanics::press::Assembly| a.slices().map(|(_, p)| p).fold(0.0, f64::max);
        let (p_low, p_high) = (pressure(&low), pressure(&high));
        let ring = rings[0].1;
        let at = ring.stress(p_high)?;
        let closes = |p: f64| -> Result<f64, mechanics::press::PressError> {
            Ok(ring.stress(p)?.pin_inside.hoop_pa / bush.youngs_pa * bore_m)
        };
        Ok::<_, mechanics::press::PressError>((
            loss,
            (p_low, p_high),
            (closes(p_low)?, closes(p_high)?),
            at,
            high.holding(friction.high)?.axial_n,
            low.holding(friction.low)?.axial_n,
            ring,
        ))
    })();
    match result {
        Ok((loss, pressure, closes, stress, press_n, holds_n, ring)) => {
            out.sections.push(Section::making(
                "the bush",
                vec![
                    Line::one("bore the eye to", eye_m, Of::Size)
                        .note("and gauge it: the bush is made to the eye as bored"),
                    Line::band("bush outside, for that eye", eye_m + least, eye_m + most, Of::Size),
                    Line::one(
                        "bore of the bush before pressing, at most",
                        bore_m - 0.5e-3,
                        Of::Size,
                    )
                    .note("half a millimetre left to bore in place (common practice)"),
                    Line::band(
                        "bore after pressing, to finish",
                        bore_m - bore.tolerance_m,
                        bore_m + bore.tolerance_m,
                        Of::Size,
                    ),
                    Line::one("length", length_m, Of::Length),
                ],
            ));
            let yields = stress.pin_inside.equivalent_pa(by) > bush.yield_pa
                || pressure.1 > ring.pin_yield_pressure_pa(by);
            out.sections.push(Section::new(
                "the bush in its eye",
                vec![
                    Line::band("interference", least, most, Of::Difference)
                        .note(format!("{:.1} um of it lost to smoothing", 1e6 * loss)),
                    Line::band("pressure", pressure.0, pressure.1, Of::Stress),
                    Line::one(
                        "hoop stress at the bush's bore",
                        stress.pin_inside.hoop_pa,
                        Of::Stress,
                    )
                    .stands(if yields { Standing::Bad } else { Standing::Good })
                    .note(format!("yield {:.0} MPa", 1e-6 * bush.yield_pa)),
                    Line::one("hoop stress at the eye", stress.hub_bore.hoop_pa, Of::Stress)
                        .good_if(pressure.1 <= ring.hub_yield_pressure_pa(by))
                        .note(format!("yield {:.0} MPa", 1e-6 * eye_metal.yield_pa)),
                    Line::band(
                        "the bore closes in pressing by",
                        -closes.0,
                        -closes.1,
                        Of::Difference,
                    ),
                    Line::one("press must be able to give", press_n, Of::Force),
                    Line::one("holds along the axis, at least", holds_n, Of::Force),
                ],
            ));
            out.caution("a bush that is pressed can cant and jump: guide it, guard the press, nobody in line");
            let rating = ask.maybe("press-rating");
            let curve = mp::press_curve(&StrokeInput {
                hub: [0.0, length_m]
                    .map(|at_m| HubStation { at_m, bore_m: eye_m, outer_m, material: eye_metal })
                    .to_vec(),
                pin: [0.0, length_m]
                    .map(|at_m| PinStation { at_m, size_m: eye_m + 0.5 * (least + most), bore_m })
                    .to_vec(),
                pin_material: bush,
                home_m: length_m,
                smoothing_loss_m: loss,
                interference_spread_m: 0.5 * (most - least),
                friction,
                behaviour: Behaviour::Elastic,
                points: 101,
                cells: 200,
            });
            let curve = match curve {
                Ok(curve) => {
                    tell(&curve, length_m, rating, out);
                    Some(curve)
                }
                Err(e) => {
                    out.absent.push(because("force along the stroke", e));
                    None
                }
            };
            let (readings, judged) = record(ask, curve.as_ref(), out);
            out.detail.press = Some(Box::new(PressDetail {
                sizing: None,
                interference_m: Some((0.5 * (least + most), 0.25 * (most - least))),
                pressure_pa: Some(pressure),
                curve,
                press_rating_n: rating,
                readings,
                judged,
                heat: None,
                closes_m: Some(closes),
            }));
            Some(BushDetail { eye_m, outside_m: (eye_m + least, eye_m + most), length_m })
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}
