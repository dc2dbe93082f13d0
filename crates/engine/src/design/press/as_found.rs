//! The joint as it is: interference, pressure, stress.

use super::{PressDetail, rings};
use crate::design::ask::{Ask, because};
use crate::design::shapes::{Design, Line, Of, Section};
use crate::model::Measure;
use mechanics::press::{self as mp, Hypothesis, Material};

pub(super) fn as_found(
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
