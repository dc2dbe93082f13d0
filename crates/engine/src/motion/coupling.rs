//! Coupling rods and axleboxes through a revolution.

use super::error::NoAnswer;
use super::mechanism::Mechanism;
use super::working::{Part, R, part};
use mechanics::loads::{
    CouplingLayout, LoadRevolution, PlaneForce, RodLoad, RodSection, Strut, StrutMaterial,
    Whipping, axlebox_reactions, coupling_forces, coupling_rod_whipping, rod_stress, strut_load_n,
};
use mechanics::motion::{CylinderNo, WheelAngle};

/// Free fall, m/s² (CGPM 1901), which turns a mass into the load of a wheel.
const GRAVITY_M_S2: f64 = 9.806_65;

/// The two rods between one axle and the next behind it.
#[derive(Clone, Debug)]
pub struct RodPair {
    /// Position of the axle in front.
    pub front_axle: usize,
    /// Tension of the left rod, one entry a step, N.
    pub left_n: Vec<f64>,
    /// Tension of the right rod, N.
    pub right_n: Vec<f64>,
    /// Greatest tension of either, N.
    pub tension_n: f64,
    /// Greatest thrust of either, N.
    pub thrust_n: f64,
    /// Strength of the rods.
    pub strength: Part<CouplingStrength>,
}

/// A coupling rod as a strut and a beam.
#[derive(Clone, Copy, Debug)]
pub struct CouplingStrength {
    /// Buckling load in the plane of the motion, N.
    pub in_plane_n: f64,
    /// Buckling load sideways, N.
    pub sideways_n: f64,
    /// Greatest bending moment by whipping, N·m.
    pub whipping_nm: f64,
    /// Greatest fibre stress with the greatest thrust and whipping at once, Pa.
    pub stress_pa: f64,
    /// Yield stress, Pa.
    pub yield_pa: f64,
    /// Area of the section, m².
    pub area_m2: f64,
    /// Stress of the greatest whipping alone, Pa.
    pub whipping_pa: f64,
}

/// What the rods do to one coupling pin.
#[derive(Clone, Debug)]
pub struct PinForce {
    /// Position of the axle.
    pub axle: usize,
    /// Left or right.
    pub left: bool,
    /// Rods on the pin, forward, N.
    pub forward_n: Vec<f64>,
    /// Rods on the pin, upward, N.
    pub upward_n: Vec<f64>,
}

/// Coupling rods through a revolution.
#[derive(Clone, Debug)]
pub struct CouplingWorking {
    /// Share of the turning moment that each axle puts on the rail.
    pub shares: Vec<f64>,
    /// Pairs of rods, front to back.
    pub rods: Vec<RodPair>,
    /// Pins, front to back, left before right.
    pub pins: Vec<PinForce>,
    /// What is left out, in words.
    pub left_out: Vec<String>,
}

/// One axlebox through a revolution.
#[derive(Clone, Debug)]
pub struct BoxWorking {
    /// Position of the axle.
    pub axle: usize,
    /// Left or right.
    pub left: bool,
    /// Journal on the box, forward, N.
    pub forward_n: Vec<f64>,
    /// Dead load on the box, N.
    pub dead_n: f64,
    /// What is left out, in words.
    pub left_out: Vec<String>,
}

fn axle_record(id: &str) -> String {
    format!("[[axle]] id = \"{id}\"")
}

/// Share of the adhesive weight of each axle, from the loads of their wheels.
fn shares(r: &mut R<'_>) -> Option<Vec<f64>> {
    let engine = r.engine;
    let loads: Vec<Option<f64>> = engine
        .motion
        .axles
        .iter()
        .map(|a| r.figure(&a.figures, "wheel-load", &format!("axle {}", a.id), &axle_record(&a.id)))
        .collect();
    let loads: Vec<f64> = loads.into_iter().collect::<Option<_>>()?;
    let sum: f64 = loads.iter().sum();
    if !(sum.is_finite() && loads.iter().all(|l| 0.0 < *l)) {
        r.lack("wheel loads above nothing", "correct wheel-load in every [[axle]]");
        return None;
    }
    Some(loads.iter().map(|l| l / sum).collect())
}

struct Layout {
    layout: CouplingLayout,
    throw_m: f64,
    lags: [f64; 2],
}

fn layout(r: &mut R<'_>) -> Option<Layout> {
    let engine = r.engine;
    let axles = &engine.motion.axles;
    if axles.is_empty() {
        r.lack("the axles", "write an [[axle]] for each coupled axle, front to back");
        return None;
    }
    let driver = axles.iter().position(|a| a.driven);
    if driver.is_none() {
        r.lack("which axle the cylinders drive", "write driven = true in its [[axle]]");
    }
    let shares = shares(r);
    let throw = r.want(&engine.motion.sizes, "coupling-throw", "the coupling cranks", "[motion]");
    let mut lag = |name| r.figure(&engine.motion.figures, name, "the coupling cranks", "[motion]");
    let (left, right) = (lag("left-coupling-lag"), lag("right-coupling-lag"));
    let (throw_m, left, right) = (throw?.value(), left?, right?);
    Some(Layout {
        layout: CouplingLayout {
            axle_shares: shares?,
            driver: driver?,
            throw_m,
            left_lag_rad: left,
            right_lag_rad: right,
        },
        throw_m,
        lags: [left, right],
    })
}

/// Coupling rods for the turning moment of all cylinders.
pub(super) fn coupling(
    r: &mut R<'_>,
    loads: &LoadRevolution,
    wheel_rad_s: f64,
) -> Result<Option<CouplingWorking>, NoAnswer> {
    let engine = r.engine;
    let axles = engine.motion.axles.len();
    if axles == 1 {
        r.lack("a second coupled axle", "write an [[axle]] for each; a single driver has no rods");
    }
    let found = layout(r);
    let (Some(l), 2..) = (found, axles) else { return Ok(None) };
    let steps = loads.wheel_angle_rad.len();
    let mut rods: Vec<RodPair> = (0..axles - 1)
        .map(|front_axle| RodPair {
            front_axle,
            left_n: Vec::with_capacity(steps),
            right_n: Vec::with_capacity(steps),
            tension_n: 0.0,
            thrust_n: 0.0,
            strength: Err(Vec::new()),
        })
        .collect();
    for (angle, moment) in loads.wheel_angle_rad.iter().zip(&loads.moment_nm) {
        for pair in coupling_forces(&l.layout, *moment, WheelAngle::from_rad(*angle)?)? {
            let rod = &mut rods[pair.front_axle];
            for (list, t) in
                [(&mut rod.left_n, pair.left_tension_n), (&mut rod.right_n, pair.right_tension_n)]
            {
                list.push(t);
                rod.tension_n = rod.tension_n.max(t);
                rod.thrust_n = rod.thrust_n.max(-t);
            }
        }
    }
    // Half of each rod goes round with each of its pins.
    let mut halves = vec![0.0; axles];
    let mut unweighed = Vec::new();
    for at in 0..axles - 1 {
        let a = &engine.motion.axles[at];
        match a.masses.get("coupling-rod-mass") {
            Some(mass) => match r.mass(mass) {
                Some(kg) => {
                    halves[at] += 0.5 * kg;
                    halves[at + 1] += 0.5 * kg;
                }
                None => unweighed.push(a.id.clone()),
            },
            None => unweighed.push(a.id.clone()),
        }
    }
    r.missing.clear();
    let mut left_out =
        vec!["slack of the bushes, unequal tyres and cranks out of quarter".to_owned()];
    if !unweighed.is_empty() {
        left_out.push(format!(
            "what the rods themselves throw outward: coupling-rod-mass of axle {} is not described",
            unweighed.join(", ")
        ));
    }
    let mut pins = Vec::new();
    for (axle, half) in halves.iter().enumerate() {
        for left in [true, false] {
            let of = |rod: &RodPair, i: usize| if left { rod.left_n[i] } else { rod.right_n[i] };
            let lag = l.lags[usize::from(!left)];
            let thrown = half * wheel_rad_s * wheel_rad_s * l.throw_m;
            let mut forward_n = Vec::with_capacity(steps);
            let mut upward_n = Vec::with_capacity(steps);
            for (i, angle) in loads.wheel_angle_rad.iter().enumerate() {
                let (sin, cos) = (angle - lag).sin_cos();
                let behind = if axle < axles - 1 { of(&rods[axle], i) } else { 0.0 };
                let before = if 0 < axle { of(&rods[axle - 1], i) } else { 0.0 };
                forward_n.push(before - behind + thrown * cos);
                upward_n.push(-thrown * sin);
            }
            pins.push(PinForce { axle, left, forward_n, upward_n });
        }
    }
    for rod in &mut rods {
        let thrust_n = rod.thrust_n;
        let front = rod.front_axle;
        rod.strength = part(r, |r| strength(r, front, thrust_n, l.throw_m, wheel_rad_s))?;
    }
    Ok(Some(CouplingWorking { shares: l.layout.axle_shares, rods, pins, left_out }))
}

fn strength(
    r: &mut R<'_>,
    front_axle: usize,
    thrust_n: f64,
    throw_m: f64,
    speed_rad_s: f64,
) -> Result<Option<CouplingStrength>, NoAnswer> {
    let engine = r.engine;
    let a = &engine.motion.axles[front_axle];
    let (of, record) = (format!("axle {}", a.id), axle_record(&a.id));
    let length = r.want(&a.sizes, "coupling-rod", &of, &record);
    let depth = r.want(&a.sizes, "coupling-rod-depth", &of, &record);
    let width = r.want(&a.sizes, "coupling-rod-width", &of, &record);
    let material = super::working::rod_material(r);
    let (Some(length), Some(depth), Some(width), Some(m)) = (length, depth, width, material) else {
        return Ok(None);
    };
    let (length_m, section) =
        (length.value(), RodSection::rectangle(depth.value(), width.value())?);
    let strut_of = |gyration_m, end_condition| Strut {
        length_m,
        area_m2: section.area_m2,
        gyration_m,
        end_condition,
    };
    let steel = StrutMaterial { elastic_pa: m.elastic_pa, yield_pa: m.yield_pa };
    let in_plane_n = strut_load_n(&strut_of(section.gyration_in_plane_m(), 1.0), &steel)?;
    let sideways_n = strut_load_n(&strut_of(section.gyration_sideways_m(), m.ends), &steel)?;
    let bending = coupling_rod_whipping(&Whipping {
        mass_per_m_kg: m.density_kg_m3 * section.area_m2,
        length_m,
        throw_m,
        speed_rad_s,
    })?;
    let load = RodLoad { thrust_n, moment_nm: bending.moment_nm, eccentricity_m: 0.0 };
    Ok(Some(CouplingStrength {
        in_plane_n,
        sideways_n,
        whipping_nm: bending.moment_nm,
        stress_pa: rod_stress(&section, m.elastic_pa, length_m, &load)?,
        yield_pa: m.yield_pa,
        area_m2: section.area_m2,
        whipping_pa: bending.moment_nm * 0.5 * section.depth_m / section.in_plane_m4,
    }))
}

/// Boxes of every axle: statics of a stiff axle on two boxes fore and aft, dead load up and down.
///
/// Own derivation of what is on an axle fore and aft: the rods' force on its crank pins (driven
/// axle), the coupling rods' on its pins, the rail's push `T share/(D/2)` shared evenly by both
/// wheels, and what its turning masses throw outward (`m ω² r cos`). Up and down the springs hold
/// the load of the box, being soft beside the rail.
pub(super) fn boxes(
    r: &mut R<'_>,
    mechanism: &Mechanism,
    loads: &LoadRevolution,
    rods: Option<&CouplingWorking>,
    wheel_rad_s: f64,
) -> Result<Option<Vec<BoxWorking>>, NoAnswer> {
    let engine = r.engine;
    let model = &engine.motion;
    let tyre_m = mechanism.tyre()?.diameter_m;
    if model.axles.is_empty() {
        r.lack("the axles", "write an [[axle]] for each coupled axle, front to back");
        return Ok(None);
    }
    let centres = r.want(&model.sizes, "box-centres", "the axles", "[motion]");
    let shares = shares(r);
    if rods.is_none() && 1 < model.axles.len() {
        layout(r);
    }
    let mut dead = Vec::new();
    let mut out_at = Vec::new();
    for a in &model.axles {
        let (of, record) = (format!("axle {}", a.id), axle_record(&a.id));
        let load = r.figure(&a.figures, "wheel-load", &of, &record);
        let mass = r.want_mass(&a.masses, "wheelset-mass", &of, &record);
        if let (Some(load), Some(kg)) = (load, mass) {
            let box_n = load - 0.5 * GRAVITY_M_S2 * kg;
            if box_n <= 0.0 {
                r.lack(
                    format!("a load on the boxes of axle {}", a.id),
                    format!("wheelset-mass weighs more than both wheel-loads: correct {record}"),
                );
            }
            dead.push(box_n);
        }
        let coupled = 1 < model.axles.len();
        out_at.push(if coupled {
            r.want(&a.sizes, "coupling-from-middle", &of, &record).map(|v| v.value())
        } else {
            Some(0.0)
        });
    }
    let (Some(centres), Some(shares)) = (centres, shares) else { return Ok(None) };
    let Some(out_at) = out_at.into_iter().collect::<Option<Vec<f64>>>() else { return Ok(None) };
    if dead.len() != model.axles.len() || !r.missing.is_empty() {
        return Ok(None);
    }
    let mut out = Vec::new();
    for (axle, a) in model.axles.iter().enumerate() {
        let mut left_out =
            vec!["brakes, drawbar, curves; boxes that wedge in their horns".to_owned()];
        let thrown = thrown(r, mechanism, axle)?;
        if thrown.is_none() {
            left_out.push(format!(
                "what the turning masses of axle {} throw outward: its balance weights are not described in full",
                a.id
            ));
        }
        let mut left_n = Vec::with_capacity(loads.wheel_angle_rad.len());
        let mut right_n = Vec::with_capacity(loads.wheel_angle_rad.len());
        for (i, angle) in loads.wheel_angle_rad.iter().enumerate() {
            let mut on = Vec::new();
            let mut push = |lateral_m: f64, x_n: f64| {
                on.push(PlaneForce { lateral_m, x_n, z_n: 0.0 });
            };
            if a.driven {
                for (at, trace) in loads.cylinders.iter().enumerate() {
                    let line = mechanism.motion.line(CylinderNo(at))?;
                    let (sin, cos) = line.incline_rad.sin_cos();
                    let x = trace.pin_along_n[i] * cos - trace.pin_across_n[i] * sin;
                    push(line.lateral_m, x);
                }
            }
            if let Some(c) = rods {
                for rod in &c.rods {
                    // Tension pulls the axle in front backward and the one behind forward.
                    let sign = match axle {
                        x if x == rod.front_axle => -1.0,
                        x if x == rod.front_axle + 1 => 1.0,
                        _ => continue,
                    };
                    push(out_at[axle], sign * rod.left_n[i]);
                    push(-out_at[axle], sign * rod.right_n[i]);
                }
            }
            push(0.0, loads.moment_nm[i] * shares[axle] * 2.0 / tyre_m);
            for t in thrown.iter().flatten() {
                let cos = (angle - t.lag_rad).cos();
                push(t.lateral_m, t.mass_radius_kg_m * wheel_rad_s * wheel_rad_s * cos);
            }
            let got = axlebox_reactions(&on, centres.value())?;
            left_n.push(got.left_x_n);
            right_n.push(got.right_x_n);
        }
        for (left, forward_n) in [(true, left_n), (false, right_n)] {
            let left_out = left_out.clone();
            out.push(BoxWorking { axle, left, forward_n, dead_n: dead[axle], left_out });
        }
    }
    Ok(Some(out))
}

/// A turning mass of an axle.
struct Thrown {
    lateral_m: f64,
    mass_radius_kg_m: f64,
    lag_rad: f64,
}

/// Turning masses of an axle; none where they are not all described, weights as fitted among them.
fn thrown(
    r: &mut R<'_>,
    mechanism: &Mechanism,
    axle: usize,
) -> Result<Option<Vec<Thrown>>, NoAnswer> {
    let engine = r.engine;
    let model = &engine.motion;
    let a = &model.axles[axle];
    let mut out = Vec::new();
    let found = part(r, |r| {
        for m in model.turning_masses.iter().filter(|m| m.axle == axle) {
            let (mass, radius) = (r.mass(&m.mass), r.size(&m.radius));
            let from = r.size(&m.from_middle);
            let (Some(mass), Some(radius), Some(from)) = (mass, radius, from) else {
                continue;
            };
            let side = if m.left { 1.0 } else { -1.0 };
            out.push(Thrown {
                lateral_m: side * from.value(),
                mass_radius_kg_m: mass * radius.value(),
                lag_rad: m.lag_rad,
            });
        }
        let record = axle_record(&a.id);
        let of = format!("axle {}", a.id);
        let plane = r.want(&a.sizes, "weight-plane", &of, &record);
        for (sign, mass, radius, lag) in [
            (1.0, "left-weight", "left-weight-radius", "left-weight-lag"),
            (-1.0, "right-weight", "right-weight-radius", "right-weight-lag"),
        ] {
            let mass = r.want_mass(&a.masses, mass, &of, &record);
            let radius = r.want(&a.sizes, radius, &of, &record);
            let lag = r.figure(&a.figures, lag, &of, &record);
            if let (Some(m), Some(radius), Some(lag), Some(plane)) = (mass, radius, lag, &plane) {
                out.push(Thrown {
                    lateral_m: sign * plane.value(),
                    mass_radius_kg_m: m * radius.value(),
                    lag_rad: lag,
                });
            }
        }
        if a.driven {
            for (at, c) in model.cylinders.iter().enumerate() {
                let of = format!("cylinder {}", c.id);
                let record = super::mechanism::record(c);
                let Some(kg) = r.want_mass(&c.masses, "crank-mass", &of, &record) else { continue };
                let line = mechanism.motion.line(CylinderNo(at))?;
                out.push(Thrown {
                    lateral_m: line.lateral_m,
                    mass_radius_kg_m: kg * line.crank_throw_m,
                    lag_rad: line.crank_lag_rad,
                });
            }
        }
        Ok(Some(()))
    })?;
    Ok(found.ok().map(|()| out))
}
