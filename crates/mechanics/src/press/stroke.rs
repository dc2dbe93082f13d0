//! The press force to be expected along the stroke.

use super::error::need;
use super::{FrictionBand, Geometry, Material, PressError, Section, joint_state};

/// Whether the members are taken as elastic throughout, or the hub may yield.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Behaviour {
    /// Elastic.
    Elastic,
    /// Elastic-plastic as [`joint_state`].
    ElasticPlastic,
}

/// A station along the hub, from the face the pin enters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HubStation {
    /// Depth from the entry face (m).
    pub at_m: f64,
    /// Bore there (m).
    pub bore_m: f64,
    /// Outside diameter there (m).
    pub outer_m: f64,
    /// Material from here to the next station: two stations at one place change it.
    pub material: Material,
}

/// A station along the pin, from its leading end backwards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PinStation {
    /// Distance from the leading end (m).
    pub at_m: f64,
    /// Diameter there (m).
    pub size_m: f64,
    /// Bore of the pin there (m), 0 when solid.
    pub bore_m: f64,
}

/// Everything a press curve needs. Diameters run straight between stations; two stations at one
/// place make a step.
#[derive(Debug, Clone, PartialEq)]
pub struct StrokeInput {
    /// Hub stations in order of depth, the first at its entry face; two at least.
    pub hub: Vec<HubStation>,
    /// Pin stations in order from the leading end; two at least.
    pub pin: Vec<PinStation>,
    /// The pin's material.
    pub pin_material: Material,
    /// Stroke at home: how far the leading end is past the entry face (m).
    pub home_m: f64,
    /// Interference lost to smoothing, [`super::smoothing_loss_m`] (m).
    pub smoothing_loss_m: f64,
    /// How far the true interference may be from the stations', either way (m): the low curve is
    /// worked with this much less, the high one with this much more.
    pub interference_spread_m: f64,
    /// Friction.
    pub friction: FrictionBand,
    /// Elastic or elastic-plastic.
    pub behaviour: Behaviour,
    /// Points along the stroke, 2 to 2000.
    pub points: usize,
    /// Cells along the engaged length, 16 to 5000.
    pub cells: usize,
}

/// The force at one stroke.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StrokePoint {
    /// How far the leading end is past the entry face (m).
    pub stroke_m: f64,
    /// Force with the lowest friction and interference (N).
    pub low_n: f64,
    /// The likely force (N).
    pub likely_n: f64,
    /// Force with the highest friction and interference (N).
    pub high_n: f64,
}

/// The expected press curve.
#[derive(Debug, Clone, PartialEq)]
pub struct PressCurve {
    /// From stroke 0 to home, evenly spaced.
    pub points: Vec<StrokePoint>,
    /// The first stroke of `points` at which there is grip in the high curve (m); `None` when
    /// the members never touch.
    pub grips_from_m: Option<f64>,
    /// The point at home.
    pub home: StrokePoint,
    /// The point of the greatest likely force: in a stepped pin it may come before home.
    pub peak: StrokePoint,
    /// The greatest local pressure at home, likely interference (Pa).
    pub pressure_at_home_pa: f64,
    /// The likely coefficient of friction it was worked with, for reckoning back (-).
    pub likely_friction: f64,
    /// Cautions for whoever presses. Show them all.
    pub cautions: Vec<&'static str>,
}

impl PressCurve {
    /// The expected force at a stroke, straight between points; `None` outside the curve.
    pub fn at(&self, stroke_m: f64) -> Option<StrokePoint> {
        let after = self.points.partition_point(|p| p.stroke_m < stroke_m);
        let next = self.points.get(after)?;
        if after == 0 {
            return (stroke_m >= next.stroke_m).then_some(*next);
        }
        let before = self.points[after - 1];
        let span = next.stroke_m - before.stroke_m;
        let t = if span > 0.0 { (stroke_m - before.stroke_m) / span } else { 1.0 };
        let mix = |a: f64, b: f64| a + (b - a) * t;
        Some(StrokePoint {
            stroke_m,
            low_n: mix(before.low_n, next.low_n),
            likely_n: mix(before.likely_n, next.likely_n),
            high_n: mix(before.high_n, next.high_n),
        })
    }
}

/// The expected press force along the stroke.
///
/// At stroke s the hub at depth x meets the pin at s - x from its leading end. There the
/// interference is `pin(s - x) - bore(x) - loss`, the pressure that of the section
/// (Lamé, slice by slice), and `F(s) = f * integral of pi d(x) p(x; s) dx`. The integral is taken
/// by the midpoint rule between stations and the places where contact begins or ends; it
/// converges with the square of the cell.
///
/// Not counted: the force to smooth the surfaces and to turn over a burr, chamfers too short to
/// be given as stations, and the help of the unengaged part of the hub.
///
/// Source: DIN 7190-1 (longitudinal press fits: `F = pi D l p nu`), own integration along the
/// stroke.
///
/// # Errors
/// [`PressError::TooFew`], [`PressError::StationsOutOfOrder`], [`PressError::BadNumber`],
/// [`PressError::DiametersOutOfOrder`], and as [`joint_state`] in elastic-plastic behaviour.
pub fn press_curve(input: &StrokeInput) -> Result<PressCurve, PressError> {
    check(input)?;
    let last = input.points - 1;
    let mut points = Vec::with_capacity(input.points);
    let mut pressure_at_home_pa: f64 = 0.0;
    let spread = input.interference_spread_m;
    for i in 0..=last {
        let stroke_m = input.home_m * i as f64 / last as f64;
        let (likely, peak_pa) = grip(input, stroke_m, 0.0)?;
        let (low, high) = if spread > 0.0 {
            (grip(input, stroke_m, -spread)?.0, grip(input, stroke_m, spread)?.0)
        } else {
            (likely, likely)
        };
        need("normal force", high, "N", true, "a number")?;
        points.push(StrokePoint {
            stroke_m,
            low_n: input.friction.low * low,
            likely_n: input.friction.likely * likely,
            high_n: input.friction.high * high,
        });
        if i == last {
            pressure_at_home_pa = peak_pa;
        }
    }
    let home = points[last];
    let peak =
        points.iter().fold(home, |best, p| if p.likely_n > best.likely_n { *p } else { best });
    let grips_from_m = points.iter().find(|p| p.high_n > 0.0).map(|p| p.stroke_m);
    Ok(PressCurve {
        points,
        grips_from_m,
        home,
        peak,
        pressure_at_home_pa,
        likely_friction: input.friction.likely,
        cautions: vec![
            "a press stores energy: stand clear of the line of thrust, guard against parts flying; a competent person works the press",
            "stop when the force leaves the expected band, and find out why before going on",
        ],
    })
}

/// Normal force over the engaged length (N) and the greatest pressure (Pa), with an addition to
/// the interference everywhere.
fn grip(input: &StrokeInput, stroke_m: f64, addition_m: f64) -> Result<(f64, f64), PressError> {
    let (hub, pin) = (&input.hub, &input.pin);
    let (hub_from, hub_to) = (hub[0].at_m, hub[hub.len() - 1].at_m);
    let (pin_from, pin_to) = (pin[0].at_m, pin[pin.len() - 1].at_m);
    let from = hub_from.max(stroke_m - pin_to);
    let to = hub_to.min(stroke_m - pin_from);
    if to <= from {
        return Ok((0.0, 0.0));
    }
    let mut breaks: Vec<f64> = vec![from, to];
    breaks.extend(hub.iter().map(|s| s.at_m));
    breaks.extend(pin.iter().map(|s| stroke_m - s.at_m));
    breaks.retain(|x| (from..=to).contains(x));
    breaks.sort_by(f64::total_cmp);
    // Interference runs straight between breaks: where it passes through nil, contact begins or
    // ends, and that place is a break too.
    let taken_m = input.smoothing_loss_m - addition_m;
    let mut begins = Vec::new();
    for pair in breaks.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let inset = 1e-9 * (b - a);
        let at = |x: f64| {
            let bore_m = interpolate(hub, x, |s| s.at_m).mix(hub, |s| s.bore_m);
            let size_m = interpolate(pin, stroke_m - x, |s| s.at_m).mix(pin, |s| s.size_m);
            size_m - bore_m - taken_m
        };
        let (left, right) = (at(a + inset), at(b - inset));
        if left * right < 0.0 {
            begins.push(a + (b - a) * left / (left - right));
        }
    }
    breaks.extend(begins);
    breaks.sort_by(f64::total_cmp);
    let cell = (to - from) / input.cells as f64;
    let (mut force_n, mut peak_pa) = (0.0, 0.0f64);
    for pair in breaks.windows(2) {
        let length = pair[1] - pair[0];
        if length <= 0.0 {
            continue;
        }
        // The clamp is for lengths so small that the cell rounds to nothing.
        let count = (length / cell).ceil().clamp(1.0, input.cells as f64);
        let dx = length / count;
        for i in 0..count as usize {
            let x = pair[0] + (i as f64 + 0.5) * dx;
            let at_hub = interpolate(hub, x, |s| s.at_m);
            let at_pin = interpolate(pin, stroke_m - x, |s| s.at_m);
            let bore_m = at_hub.mix(hub, |s| s.bore_m);
            let size_m = at_pin.mix(pin, |s| s.size_m);
            let interference_m = size_m - bore_m - taken_m;
            if interference_m <= 0.0 {
                continue;
            }
            let geometry = Geometry {
                joint_m: bore_m,
                hub_outer_m: at_hub.mix(hub, |s| s.outer_m),
                pin_bore_m: at_pin.mix(pin, |s| s.bore_m),
            };
            let section = Section::new(geometry, hub[at_hub.before].material, input.pin_material)?;
            let pressure_pa = match input.behaviour {
                Behaviour::Elastic => section.pressure_pa(interference_m)?,
                Behaviour::ElasticPlastic => joint_state(&section, interference_m)?.pressure_pa,
            };
            force_n += std::f64::consts::PI * bore_m * pressure_pa * dx;
            peak_pa = peak_pa.max(pressure_pa);
        }
    }
    Ok((force_n, peak_pa))
}

/// A place between two stations.
struct Between {
    before: usize,
    after: usize,
    t: f64,
}

impl Between {
    fn mix<S>(&self, stations: &[S], value: impl Fn(&S) -> f64) -> f64 {
        let (a, b) = (value(&stations[self.before]), value(&stations[self.after]));
        a + (b - a) * self.t
    }
}

fn interpolate<S>(stations: &[S], x: f64, at: impl Fn(&S) -> f64) -> Between {
    let after = stations.partition_point(|s| at(s) <= x).clamp(1, stations.len() - 1);
    let before = after - 1;
    let span = at(&stations[after]) - at(&stations[before]);
    let t = if span > 0.0 { ((x - at(&stations[before])) / span).clamp(0.0, 1.0) } else { 0.0 };
    Between { before, after, t }
}

fn check(input: &StrokeInput) -> Result<(), PressError> {
    input.friction.check()?;
    input.pin_material.check()?;
    for (what, given) in [("hub stations", input.hub.len()), ("pin stations", input.pin.len())] {
        if given < 2 {
            return Err(PressError::TooFew { what, given, least: 2 });
        }
        need(what, given as f64, "-", given <= 2000, "2000 at most")?;
    }
    let mut before = f64::NEG_INFINITY;
    for (index, s) in input.hub.iter().enumerate() {
        need("depth of a hub station", s.at_m, "m", s.at_m >= 0.0, "not negative")?;
        if s.at_m < before {
            return Err(PressError::StationsOutOfOrder { what: "hub", index, at_m: s.at_m });
        }
        before = s.at_m;
        let geometry = Geometry { joint_m: s.bore_m, hub_outer_m: s.outer_m, pin_bore_m: 0.0 };
        need("bore of the hub", s.bore_m, "m", s.bore_m > 0.0, "above 0")?;
        Section::new(geometry, s.material, input.pin_material)?;
    }
    before = f64::NEG_INFINITY;
    for (index, s) in input.pin.iter().enumerate() {
        need("distance of a pin station", s.at_m, "m", s.at_m >= 0.0, "not negative")?;
        if s.at_m < before {
            return Err(PressError::StationsOutOfOrder { what: "pin", index, at_m: s.at_m });
        }
        before = s.at_m;
        need("size of the pin", s.size_m, "m", s.size_m > 0.0, "above 0")?;
        need(
            "bore of the pin",
            s.bore_m,
            "m",
            (0.0..s.size_m).contains(&s.bore_m),
            "from 0 to below its size",
        )?;
    }
    need("stroke at home", input.home_m, "m", input.home_m > 0.0, "above 0")?;
    let loss = input.smoothing_loss_m;
    need("smoothing loss", loss, "m", loss >= 0.0, "not negative")?;
    let spread = input.interference_spread_m;
    need("spread of the interference", spread, "m", spread >= 0.0, "not negative")?;
    let points = input.points as f64;
    need("points along the stroke", points, "-", (2..=2000).contains(&input.points), "2 to 2000")?;
    let cells = input.cells as f64;
    need("cells along the joint", cells, "-", (16..=5000).contains(&input.cells), "16 to 5000")
}
