//! A diagram drawn from the events of the valve, with expansion along a hyperbola.

use super::{DiagramPoint, IndicatorDiagram, LoadError};
use crate::motion::Bound;

/// Events and pressures of one end. Shares are of the stroke, from this end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TheoreticalDiagram {
    /// Pressure at admission, above the atmosphere, Pa.
    pub admission_pa: f64,
    /// Pressure while exhausting, above the atmosphere, Pa.
    pub exhaust_pa: f64,
    /// The atmosphere, Pa: the hyperbola is one of absolute pressures.
    pub atmosphere_pa: f64,
    /// Clearance volume as a share of the swept volume, 0.005 to 0.5.
    pub clearance_share: f64,
    /// Cut-off, share of the stroke.
    pub cut_off_share: f64,
    /// Release, share of the stroke on the way out, at or after cut-off.
    pub release_share: f64,
    /// Beginning of compression: share of the stroke still to run home.
    pub compression_share: f64,
    /// Points along each curve, 2 to 2000.
    pub points_per_curve: usize,
}

/// Diagram without wire-drawing: admission at one pressure, expansion and compression with
/// `p v` constant, straight drop at release along the end of the stroke.
///
/// Equation: absolute `p = p1 (c + x1)/(c + x)` from cut-off `x1` to release, then straight to the
/// exhaust pressure at the end of the stroke; home at exhaust pressure to `x2`, then
/// `p = p2 (c + x2)/(c + x)`, not above admission pressure; a step at the dead centre closes it.
/// Units: Pa, shares of the stroke. Source: textbook hypothetical diagram (e.g. W. J. Goudie,
/// *Steam Engines*; from memory).
/// Valid range: steam near saturation, slow running; real diagrams are fuller or leaner.
///
/// # Errors
/// A value not finite or out of range; release before cut-off.
pub fn theoretical_diagram(events: &TheoreticalDiagram) -> Result<IndicatorDiagram, LoadError> {
    const STEAM: Bound = Bound::new("admission pressure", "Pa", 0.0, 1e7);
    const EXHAUST: Bound = Bound::new("exhaust pressure", "Pa", -1e5, 1e7);
    const ATMOSPHERE: Bound = Bound::new("atmosphere", "Pa", 5e4, 1.2e5);
    const CLEARANCE: Bound = Bound::new("clearance share", "", 0.005, 0.5);
    const SHARE: Bound = Bound::new("share of the stroke", "", 0.0, 1.0);
    let admission = STEAM.check(events.admission_pa)?;
    let exhaust = EXHAUST.check(events.exhaust_pa)?;
    let atmosphere = ATMOSPHERE.check(events.atmosphere_pa)?;
    let clearance = CLEARANCE.check(events.clearance_share)?;
    let cut_off = SHARE.check(events.cut_off_share)?;
    let release = SHARE.check(events.release_share)?;
    let compression = SHARE.check(events.compression_share)?;
    if release < cut_off {
        return Err(LoadError::NotBelow {
            what: "cut-off",
            value: cut_off,
            other: "release",
            limit: release,
            unit: "of the stroke",
        });
    }
    let n = events.points_per_curve;
    if !(2..=2000).contains(&n) {
        return Err(LoadError::Count { what: "points of a curve", count: n, low: 2, high: 2000 });
    }
    let point = |share, pressure_pa| DiagramPoint { share, pressure_pa };
    let along = |from: f64, to: f64, pressure: f64| {
        (0..n).map(move |i| {
            let x = from + (to - from) * i as f64 / (n - 1) as f64;
            let absolute = (pressure + atmosphere) * (clearance + from) / (clearance + x);
            point(x, (absolute - atmosphere).min(admission.max(pressure)))
        })
    };
    let mut points = vec![point(0.0, admission)];
    points.extend(along(cut_off, release, admission));
    points.push(point(1.0, exhaust));
    points.extend(along(compression, 0.0, exhaust));
    points.push(point(0.0, admission));
    IndicatorDiagram::from_loop(&points, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Mean effective pressure of the hyperbolic diagram against its closed form,
    /// `p x1 + p (c + x1) ln((c + 1)/(c + x1)) - pb` (absolute; textbook, without compression).
    #[test]
    fn mean_pressure_is_the_closed_form() -> Result<(), LoadError> {
        let mut events = TheoreticalDiagram {
            admission_pa: 10e5,
            exhaust_pa: 0.2e5,
            atmosphere_pa: 1.013e5,
            clearance_share: 0.08,
            cut_off_share: 0.3,
            release_share: 1.0,
            compression_share: 0.0,
            points_per_curve: 2000,
        };
        let got = theoretical_diagram(&events)?.mean_effective_pa();
        let (p, c, x) = (11.013e5, 0.08, 0.3_f64);
        let wanted = p * x + p * (c + x) * ((c + 1.0) / (c + x)).ln() - 1.213e5;
        assert!((got / wanted - 1.0).abs() < 1e-6, "{got} {wanted}");

        // Compression takes pb (c + x2) ln((c + x2)/c) - pb x2 away.
        events.compression_share = 0.2;
        let less = got - theoretical_diagram(&events)?.mean_effective_pa();
        let x2 = 0.2;
        let wanted = 1.213e5 * ((c + x2) * ((c + x2) / c).ln() - x2);
        assert!((less / wanted - 1.0).abs() < 1e-5, "{less} {wanted}");
        events.release_share = 0.2;
        assert!(theoretical_diagram(&events).is_err());
        Ok(())
    }
}
