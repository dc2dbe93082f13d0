//! Pressed and shrunk joints: sizes, stresses, force along the stroke, heat, and a record judged.

use super::ask::{Ask, because};
use super::plan::Plan;
use super::shapes::{Absent, Design, Line, Of, Section, Standing};
use super::wanted::{gauged, interference};
use crate::model::{JointKind, Measure};
use mechanics::press::{
    self as mp, Assembly, AssemblyHeat, Behaviour, FrictionBand, Geometry, HeatLimit, HeatWanted,
    HoleChoice, HubStation, Hypothesis, JudgeRules, Load, Material, PinSizing, PinStation,
    PressCurve, PressFinding, PressJudgement, PressReading, PressVerdict, Running, Section as Ring,
    SizingWanted, Slice, StrokeInput,
};

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

/// Flat-sided parts: a ring's formulas do not answer for them.
pub(super) fn flat_press(ask: &mut Ask<'_>, _plan: &Plan, out: &mut Design) {
    match interference(ask) {
        Ok(w) => out.sections.push(Section::new(
            "fit",
            vec![
                Line::band("interference wanted", w.min_m, w.max_m, Of::Difference),
                match ask.judgement.joint(ask.joint).measure(Measure::Interference) {
                    Some(e) => Line::one("interference as gauged", e.si(), Of::Difference)
                        .note(format!("± {:.3} mm (k = 2)", 2e3 * e.u())),
                    None => {
                        Line::words("interference as gauged", "not to be had from the readings")
                    }
                },
            ],
        )),
        Err(why) => out.absent.push(because("the fit", why)),
    }
    out.absent.push(because(
        "pressure, stress and press force",
        "the faces are flat: the ring formulas do not hold, and how the box spreads is not modelled",
    ));
    out.caution("pressing stores energy: guards, a competent person, nobody in line with the part");
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
    let pin_m = detail.sizing.as_ref().map(|s| (s.pin_m.0, s.pin_m.1)).or_else(|| {
        let e = ask.judgement.feature(joint.inner).size.as_ref()?;
        Some((e.si() - 2.0 * e.u(), e.si() + 2.0 * e.u()))
    });
    if let Some(pin_m) = pin_m {
        curve(ask, &slices, (hub, pin), friction, pin_m, &mut detail, out);
        heat(ask, &slices, hub, pin, pin_m.1, shrunk, &mut detail, out);
        running_lines(ask, &slices, hub, pin, pin_m, out);
    }
    record(ask, &mut detail, out);
    out.not_considered.push("collars, chamfers, keyways and oil grooves: the ring is taken plain");
    out.detail.press = Some(Box::new(detail));
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

fn as_found(
    ask: &mut Ask<'_>,
    slices: &[(f64, f64, f64)],
    hub: Material,
    pin: Material,
    detail: &mut PressDetail,
    out: &mut Design,
) {
    let what = "the joint as it is";
    let joint = ask.judgement.engine().joint(ask.joint);
    let (Some(e), Some(hole)) = (
        ask.judgement.joint(ask.joint).measure(Measure::Interference),
        ask.judgement.feature(joint.outer).size.as_ref(),
    ) else {
        out.absent.push(because(what, "both parts must be gauged"));
        return;
    };
    let (i, u) = (e.si(), e.u());
    detail.interference_m = Some((i, u));
    let answer = || -> Result<(f64, f64, f64, f64), mp::PressError> {
        let rings = rings(hole.si(), slices, hub, pin)?;
        let (mut low, mut high, mut hoop, mut equivalent) = (f64::INFINITY, 0.0f64, 0.0f64, 0.0f64);
        let by = Hypothesis::VonMises;
        for (_, ring) in &rings {
            low = low.min(ring.pressure_pa(i - 2.0 * u)?);
            let most = ring.pressure_pa(i + 2.0 * u)?;
            high = high.max(most);
            let s = ring.stress(most)?;
            hoop = hoop.max(s.hub_bore.hoop_pa);
            equivalent = equivalent.max(s.hub_bore.equivalent_pa(by));
        }
        Ok((low, high, hoop, equivalent))
    };
    match answer() {
        Ok((low, high, hoop, equivalent)) => {
            detail.pressure_pa = Some((low, high));
            out.sections.push(Section::new(
                what,
                vec![
                    Line::band("interference (± 2 u)", i - 2.0 * u, i + 2.0 * u, Of::Difference),
                    Line::band("pressure, elastic, before smoothing", low, high, Of::Stress),
                    Line::one("hoop stress at the bore, at most", hoop, Of::Stress)
                        .good_if(equivalent <= hub.yield_pa)
                        .note(format!(
                            "equivalent (von Mises) {:.0} MPa, yield {:.0} MPa",
                            1e-6 * equivalent,
                            1e-6 * hub.yield_pa
                        )),
                ],
            ));
        }
        Err(e) => out.absent.push(because(what, e)),
    }
}

fn sizing(
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

fn curve(
    ask: &mut Ask<'_>,
    slices: &[(f64, f64, f64)],
    (hub, pin): (Material, Material),
    friction: FrictionBand,
    pin_m: (f64, f64),
    detail: &mut PressDetail,
    out: &mut Design,
) {
    let what = "force along the stroke";
    let joint = ask.judgement.engine().joint(ask.joint);
    let rough = (ask.one("roughness-outer"), ask.one("roughness-inner"));
    let (Some(a), Some(b)) = rough else {
        out.absent.push(ask.absent(what));
        return;
    };
    let (readings, _) = gauged(ask.judgement, joint.outer);
    let Some(hole) = ask.judgement.feature(joint.outer).size.as_ref() else {
        out.absent.push(because(what, "the hole is not gauged"));
        return;
    };
    let length: f64 = slices.iter().map(|s| s.0).sum();
    // Mean of each depth that was gauged within the joint; level beyond the first and the last.
    let mut depths: Vec<f64> =
        readings.iter().map(|r| r.depth_m).filter(|d| *d > 0.0 && *d < length).collect();
    depths.sort_by(f64::total_cmp);
    depths.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    let mean = |d: f64| {
        let at: Vec<f64> =
            readings.iter().filter(|r| (r.depth_m - d).abs() < 1e-6).map(|r| r.size_m).collect();
        at.iter().sum::<f64>() / at.len() as f64
    };
    let known: Vec<(f64, f64)> = depths.iter().map(|d| (*d, mean(*d))).collect();
    let bore_at = |x: f64| -> f64 {
        let after = known.partition_point(|(d, _)| *d < x);
        match (after.checked_sub(1).and_then(|i| known.get(i)), known.get(after)) {
            (Some(p), Some(n)) => p.1 + (n.1 - p.1) * (x - p.0) / (n.0 - p.0),
            (Some(p), None) | (None, Some(p)) => p.1,
            (None, None) => hole.si(),
        }
    };
    let mut stations = Vec::new();
    let mut start = 0.0;
    for (len, outer, _) in slices {
        let end = start + len;
        let mut at = |x: f64| {
            stations.push(HubStation {
                at_m: x,
                bore_m: bore_at(x),
                outer_m: *outer,
                material: hub,
            });
        };
        at(start);
        known.iter().filter(|(d, _)| *d > start && *d < end).for_each(|(d, _)| at(*d));
        at(end);
        start = end;
    }
    let size_m = 0.5 * (pin_m.0 + pin_m.1);
    let bore_m = slices.iter().map(|s| s.2).fold(0.0, f64::max);
    let loss = mp::smoothing_loss_m(a, b);
    let result = loss.and_then(|smoothing_loss_m| {
        mp::press_curve(&StrokeInput {
            hub: stations,
            pin: vec![
                PinStation { at_m: 0.0, size_m, bore_m },
                PinStation { at_m: length, size_m, bore_m },
            ],
            pin_material: pin,
            home_m: length,
            smoothing_loss_m,
            interference_spread_m: 0.5 * (pin_m.1 - pin_m.0) + 2.0 * hole.u(),
            friction,
            behaviour: Behaviour::ElasticPlastic,
            points: 101,
            cells: 200,
        })
    });
    match result {
        Ok(curve) => {
            let h = curve.home;
            let mut lines =
                vec![Line::spread("force at home", (h.low_n, h.likely_n, h.high_n), Of::Force)];
            if let Some(g) = curve.grips_from_m {
                lines.push(Line::one("grips from", g, Of::Length));
            }
            if let Some(rating) = detail.press_rating_n {
                lines.push(
                    Line::one("the press can give", rating, Of::Force).good_if(rating >= h.high_n),
                );
            }
            for share in [0.25, 0.5, 0.75, 1.0] {
                if let Some(p) = curve.at(share * length) {
                    lines.push(Line::spread(
                        format!("at {:.0} mm of stroke", 1e3 * p.stroke_m),
                        (p.low_n, p.likely_n, p.high_n),
                        Of::Force,
                    ));
                }
            }
            out.sections.push(Section::new("force along the stroke: low, likely, high", lines));
            for c in &curve.cautions {
                out.caution(*c);
            }
            detail.curve = Some(curve);
        }
        Err(e) => out.absent.push(because(what, e)),
    }
}

#[expect(clippy::too_many_arguments, reason = "one joint, split up only by what it is")]
fn heat(
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
fn running_lines(
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

fn record(ask: &mut Ask<'_>, detail: &mut PressDetail, out: &mut Design) {
    let what = "the press record";
    let Some(pairs) = ask.maybe_pairs("press-record") else { return };
    let readings: Vec<PressReading> = pairs
        .iter()
        .map(|(stroke_m, force_n)| PressReading { stroke_m: *stroke_m, force_n: *force_n })
        .collect();
    detail.readings.clone_from(&readings);
    let Some(curve) = &detail.curve else {
        out.absent.push(because(what, "there is no curve to judge it by"));
        return;
    };
    match mp::judge_press(curve, &readings, &JudgeRules::default()) {
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
                Line::words("verdict", words).stands(standing),
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
            detail.judged = Some(j);
        }
        Err(e) => out.absent.push(because(what, e)),
    }
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
