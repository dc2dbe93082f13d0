//! The force to be expected along the stroke.

use super::PressDetail;
use crate::design::ask::{Ask, because};
use crate::design::shapes::{Design, Line, Of, Section};
use crate::design::wanted::gauged;
use mechanics::press::{
    self as mp, Behaviour, FrictionBand, HubStation, Material, PinStation, PressCurve, StrokeInput,
};

pub(super) fn curve(
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
            tell(&curve, length, detail.press_rating_n, out);
            detail.curve = Some(curve);
        }
        Err(e) => out.absent.push(because(what, e)),
    }
}

/// Says the force along the stroke.
pub(in crate::design) fn tell(
    curve: &PressCurve,
    length_m: f64,
    press_rating_n: Option<f64>,
    out: &mut Design,
) {
    let h = curve.home;
    let mut lines = vec![Line::spread("force at home", (h.low_n, h.likely_n, h.high_n), Of::Force)];
    if let Some(g) = curve.grips_from_m {
        lines.push(Line::one("grips from", g, Of::Length));
    }
    if let Some(rating) = press_rating_n {
        lines.push(Line::one("the press can give", rating, Of::Force).good_if(rating >= h.high_n));
    }
    for share in [0.25, 0.5, 0.75, 1.0] {
        if let Some(p) = curve.at(share * length_m) {
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
}
