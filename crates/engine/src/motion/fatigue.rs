//! Fatigue of rods and pins: what the stress of one revolution uses of a strength that somebody
//! answers for.

use super::coupling::{CouplingWorking, RodPair};
use super::error::NoAnswer;
use super::mechanism::Mechanism;
use super::model::{Cylinder, Fatigue, FatiguePart};
use super::working::{CylinderWorking, Part, R, part, rod_material, rod_section};
use mechanics::loads::{
    FatigueCriterion, FatigueMaterial, FatigueUtilisation, LoadRevolution, StressCycle, Whipping,
    connecting_rod_whipping, fatigue_utilisation,
};
use mechanics::motion::{Bound, CylinderNo, WheelAngle};
use std::f64::consts::PI;

/// Fatigue of one part.
#[derive(Clone, Debug)]
pub struct FatigueUse {
    /// Greatest stress with its concentration, Pa, tension positive.
    pub greatest_pa: f64,
    /// Least, Pa.
    pub least_pa: f64,
    /// Factor on the stress that is in them.
    pub concentration: f64,
    /// Which line counts as used up.
    pub criterion: FatigueCriterion,
    /// What is used, and the source of the strength.
    pub used: FatigueUtilisation,
}

/// One part of one cylinder or pair of rods.
#[derive(Clone, Debug)]
pub struct FatigueAnswer {
    /// Which part.
    pub part: FatiguePart,
    /// Of which cylinder, or between which axles.
    pub of: String,
    /// The answer, or what it lacks.
    pub answer: Part<FatigueUse>,
}

/// What the strength of a part is, once all of it is described.
struct Strength {
    material: FatigueMaterial,
    concentration: f64,
    criterion: FatigueCriterion,
    diameter_m: Option<f64>,
    arm_m: Option<f64>,
}

/// The strength of one part from its record; what is missing is noted.
fn strength(r: &mut R<'_>, part: FatiguePart) -> Option<Strength> {
    let engine = r.engine;
    let word = part.word();
    let Some(f) = engine.motion.fatigue.iter().find(|f| f.part == part) else {
        r.lack(
            format!("the strength of the {word} under stress that comes and goes"),
            format!(
                "write a [[fatigue]] with part = \"{word}\", ultimate, yield, endurance, concentration, criterion and source"
            ),
        );
        return None;
    };
    let rec = format!("[[fatigue]] id = \"{}\"", f.id);
    let of = format!("the {word}");
    let mut figure = |name| r.figure(&f.figures, name, &of, &rec);
    let (ultimate, yields) = (figure("ultimate"), figure("yield"));
    let (endurance, concentration) = (figure("endurance"), figure("concentration"));
    if f.source.trim().is_empty() {
        let what = format!("where the strength of the {word} comes from");
        r.lack(what, format!("write source = \"test certificate ...\" in {rec}"));
    }
    if f.criterion.is_none() {
        let what = format!("the criterion for the {word}");
        r.lack(
            what,
            format!("write criterion = \"goodman\", \"soderberg\" or \"gerber\" in {rec}"),
        );
    }
    let size = |r: &mut R<'_>, f: &Fatigue, name: &'static str| {
        r.want(&f.sizes, name, &of, &rec).map(|v| v.value())
    };
    let diameter_m = match part {
        FatiguePart::PistonRod | FatiguePart::CrankPin => Some(size(r, f, "diameter")?),
        _ => None,
    };
    let arm_m = match part {
        FatiguePart::CrankPin => Some(size(r, f, "arm")?),
        _ => None,
    };
    if f.source.trim().is_empty() {
        return None;
    }
    Some(Strength {
        material: FatigueMaterial {
            ultimate_pa: ultimate?,
            yield_pa: yields?,
            endurance_pa: endurance?,
            source: f.source.trim().to_owned(),
        },
        concentration: concentration?,
        criterion: f.criterion?,
        diameter_m,
        arm_m,
    })
}

impl Strength {
    /// What one cycle of nominal stresses uses.
    fn used(&self, greatest_pa: f64, least_pa: f64) -> Result<FatigueUse, NoAnswer> {
        const FACTOR: Bound = Bound::new("stress concentration", "", 1.0, 10.0);
        let k = FACTOR.check(self.concentration)?;
        let (greatest_pa, least_pa) = (k * greatest_pa, k * least_pa);
        let cycle = StressCycle { greatest_pa, least_pa };
        let used = fatigue_utilisation(&cycle, &self.material, self.criterion)?;
        let criterion = self.criterion;
        Ok(FatigueUse { greatest_pa, least_pa, concentration: k, criterion, used })
    }

    /// The worst of several places, each with its stresses through the revolution.
    fn worst(
        &self,
        places: impl Iterator<Item = Vec<f64>>,
    ) -> Result<Option<FatigueUse>, NoAnswer> {
        let mut worst: Option<FatigueUse> = None;
        for stresses in places {
            let most = stresses.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            let least = stresses.iter().copied().fold(f64::INFINITY, f64::min);
            let one = self.used(most, least)?;
            if worst.as_ref().is_none_or(|w| w.used.fatigue < one.used.fatigue) {
                worst = Some(one);
            }
        }
        Ok(worst)
    }
}

/// Every part whose fatigue can be judged, cylinder by cylinder, then the coupling rods.
pub(super) fn fatigue(
    r: &mut R<'_>,
    mechanism: &Mechanism,
    loads: &LoadRevolution,
    cylinders: &[CylinderWorking],
    rods: Option<&CouplingWorking>,
    wheel_rad_s: f64,
) -> Result<Vec<FatigueAnswer>, NoAnswer> {
    let engine = r.engine;
    let mut out = Vec::new();
    for (at, c) in engine.motion.cylinders.iter().enumerate() {
        let line = Line { mechanism, loads, at, wheel_rad_s };
        let of = c.id.clone();
        let answer = part(r, |r| connecting_rod(r, c, &line))?;
        out.push(FatigueAnswer { part: FatiguePart::ConnectingRod, of: of.clone(), answer });
        let answer = part(r, |r| piston_rod(r, &line))?;
        out.push(FatigueAnswer { part: FatiguePart::PistonRod, of: of.clone(), answer });
        let answer = part(r, |r| crank_pin(r, &cylinders[at]))?;
        out.push(FatigueAnswer { part: FatiguePart::CrankPin, of, answer });
    }
    for rod in rods.iter().flat_map(|c| &c.rods) {
        let axles = &engine.motion.axles;
        let of = format!("{} to {}", axles[rod.front_axle].id, axles[rod.front_axle + 1].id);
        let answer = part(r, |r| coupling_rod(r, rod, loads))?;
        out.push(FatigueAnswer { part: FatiguePart::CouplingRod, of, answer });
    }
    Ok(out)
}

struct Line<'a> {
    mechanism: &'a Mechanism,
    loads: &'a LoadRevolution,
    at: usize,
    wheel_rad_s: f64,
}

impl Line<'_> {
    /// Crank angle from the line and rod angle at every step.
    fn angles(&self) -> Result<Vec<(f64, f64)>, NoAnswer> {
        let running = self.mechanism.running(self.wheel_rad_s);
        self.loads
            .wheel_angle_rad
            .iter()
            .map(|a| {
                let wheel = WheelAngle::from_rad(*a)?;
                let s = self.mechanism.motion.cylinder_at(CylinderNo(self.at), wheel, &running)?;
                Ok((s.crank_angle_rad, s.rod_angle_rad))
            })
            .collect()
    }
}

// Own derivation. Whipping bends the rod by the part of the big end's acceleration that is square to
// the rod, ω² r sin(f + g) with the crank f past the line and the rod g to it: greatest, as the
// published moment has it, with the crank square to the rod. At the place of the greatest moment
// the two outermost fibres carry -T/A ± M sin(f + g) (d/2)/I; thrust T magnifies the bending by
// 1/(1 - T/Pe), taken throughout at the greatest thrust, which is on the cautious side.
fn connecting_rod(
    r: &mut R<'_>,
    c: &Cylinder,
    line: &Line<'_>,
) -> Result<Option<FatigueUse>, NoAnswer> {
    let strength = strength(r, FatiguePart::ConnectingRod);
    let section = rod_section(r, c)?;
    let material = rod_material(r);
    let (Some(strength), Some(section), Some(m)) = (strength, section, material) else {
        return Ok(None);
    };
    let sizes = line.mechanism.motion.line(CylinderNo(line.at))?;
    let bending = connecting_rod_whipping(&Whipping {
        mass_per_m_kg: m.density_kg_m3 * section.area_m2,
        length_m: sizes.rod_centres_m,
        throw_m: sizes.crank_throw_m,
        speed_rad_s: line.wheel_rad_s,
    })?;
    let thrust = &line.loads.cylinders[line.at].small_end_thrust_n;
    let most = thrust.iter().copied().fold(0.0, f64::max);
    let euler = PI * PI * m.elastic_pa * section.in_plane_m4 / sizes.rod_centres_m.powi(2);
    if euler <= most {
        let (thrust_n, buckling_n) = (most, euler);
        return Err(mechanics::loads::LoadError::Buckles { thrust_n, buckling_n }.into());
    }
    let swing =
        bending.moment_nm * 0.5 * section.depth_m / section.in_plane_m4 / (1.0 - most / euler);
    let angles = line.angles()?;
    strength.worst([1.0, -1.0].into_iter().map(|fibre| {
        thrust
            .iter()
            .zip(&angles)
            .map(|(t, (f, g))| -t / section.area_m2 + fibre * swing * (f + g).sin())
            .collect()
    }))
}

// The rod carries at the piston the steam, at the crosshead what inertia leaves of it; masses in
// between lie in between, so the range of both together is not exceeded anywhere along it.
fn piston_rod(r: &mut R<'_>, line: &Line<'_>) -> Result<Option<FatigueUse>, NoAnswer> {
    let Some(strength) = strength(r, FatiguePart::PistonRod) else { return Ok(None) };
    let Some(diameter_m) = strength.diameter_m else { return Ok(None) };
    let area = section_area(diameter_m)?;
    let trace = &line.loads.cylinders[line.at];
    let angles = line.angles()?;
    let mut stresses: Vec<f64> = trace.steam_n.iter().map(|f| f / area).collect();
    for (i, (_, g)) in angles.iter().enumerate() {
        // The rod's force on the crosshead along the line, from thrust and bar (see bearings).
        let (sin, cos) = g.sin_cos();
        let rs = (trace.small_end_thrust_n[i] + trace.slide_bar_n[i] * sin) / cos;
        stresses.push(-rs / area);
    }
    strength.worst(std::iter::once(stresses))
}

fn section_area(diameter_m: f64) -> Result<f64, NoAnswer> {
    const DIAMETER: Bound = Bound::new("diameter of the section", "m", 0.005, 1.0);
    Ok(0.25 * PI * DIAMETER.check(diameter_m)?.powi(2))
}

// A place on the pin's rim at the angle b from outward carries the bending of the load towards it:
// arm (Qo cos b + Qf sin b) / (π d³/32). Every two degrees round the rim.
fn crank_pin(r: &mut R<'_>, c: &CylinderWorking) -> Result<Option<FatigueUse>, NoAnswer> {
    const ARM: Bound = Bound::new("arm of the load on the crank pin", "m", 0.0, 2.0);
    let Some(strength) = strength(r, FatiguePart::CrankPin) else { return Ok(None) };
    let (Some(diameter_m), Some(arm)) = (strength.diameter_m, strength.arm_m) else {
        return Ok(None);
    };
    section_area(diameter_m)?;
    let per_n = ARM.check(arm)? * 32.0 / (PI * diameter_m.powi(3));
    strength.worst((0..180).map(|k| {
        let (sin, cos) = (f64::from(k) * PI / 90.0).sin_cos();
        let at = |p: &mechanics::loads::PolarPoint| {
            per_n * (p.pin_outward_n * cos + p.pin_forward_n * sin)
        };
        c.polar.points.iter().map(at).collect()
    }))
}

// Every point of the rod goes round with the crank: bending up and down is M sin a with the crank
// a past the level, pull or thrust come on top. Both rods, both fibres.
fn coupling_rod(
    r: &mut R<'_>,
    rod: &RodPair,
    loads: &LoadRevolution,
) -> Result<Option<FatigueUse>, NoAnswer> {
    let strength = strength(r, FatiguePart::CouplingRod);
    let section = match &rod.strength {
        Ok(s) => Some(s),
        Err(lacks) => {
            r.missing.extend_from_slice(lacks);
            None
        }
    };
    let figures = &r.engine.motion.figures;
    let lag = |name| figures.get(name).copied().unwrap_or(0.0);
    let (Some(strength), Some(s)) = (strength, section) else { return Ok(None) };
    let sides =
        [(&rod.left_n, lag("left-coupling-lag")), (&rod.right_n, lag("right-coupling-lag"))];
    strength.worst(sides.into_iter().flat_map(|(tension, lag)| {
        [1.0, -1.0].into_iter().map(move |fibre| {
            tension
                .iter()
                .zip(&loads.wheel_angle_rad)
                .map(|(t, a)| t / s.area_m2 + fibre * s.whipping_pa * (a - lag).sin())
                .collect()
        })
    }))
}
