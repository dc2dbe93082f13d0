//! Loads of the motion through a revolution, from steam, masses and speed.

use super::coupling::{BoxWorking, CouplingWorking, boxes, coupling};
use super::error::{Missing, NoAnswer};
use super::fatigue::{FatigueAnswer, fatigue};
use super::mechanism::{Mechanism, record};
use super::model::Cylinder;
use super::resolve::{Notes, Resolver};
use crate::judge::{FeatureState, Judgement};
use mechanics::loads::{
    BearingDuty, CylinderLoad, EndDiagrams, IndicatorDiagram, LoadRevolution, MovingParts,
    PinBearing, PinPolar, PistonAreas, RodInertia, RodLoad, RodMass, RodSection,
    StandardTractiveEffort, Steam, Strut, StrutMaterial, TheoreticalDiagram, TractiveTrace,
    Whipping, big_end_duty, connecting_rod_whipping, load_revolution, pin_polar, rod_stress,
    slide_bar_pressure_pa, small_end_duty, standard_tractive_effort_n, strut_load_n,
    theoretical_diagram, tractive_trace,
};
use mechanics::motion::CylinderNo;

/// Steps of a revolution: half a degree.
pub const STEPS: usize = 720;

/// What the steam does.
#[derive(Clone, Debug)]
pub enum SteamSaid {
    /// Drifting.
    Drifting,
    /// This pressure for the whole stroke on the face that drives, none on the other, Pa: no
    /// ordinary running is harder on the parts.
    WholeStroke(f64),
    /// A diagram drawn from this pressure (Pa) and this cut-off (share of the stroke).
    CutOff(f64, f64),
    /// Diagrams read from an indicator.
    Diagrams(Box<EndDiagrams>),
}

/// A part of an answer that may lack something.
pub type Part<T> = Result<T, Vec<Missing>>;

/// The rod as a strut and a beam.
#[derive(Clone, Copy, Debug)]
pub struct RodStrength {
    /// Greatest thrust in compression, N.
    pub thrust_n: f64,
    /// Buckling load in the plane of the motion, N.
    pub in_plane_n: f64,
    /// Buckling load sideways, N.
    pub sideways_n: f64,
    /// Greatest bending moment by whipping, N·m.
    pub whipping_nm: f64,
    /// Greatest fibre stress with thrust and whipping at once, Pa.
    pub stress_pa: f64,
    /// Yield stress, Pa.
    pub yield_pa: f64,
}

/// Slide bars.
#[derive(Clone, Copy, Debug)]
pub struct SlideBar {
    /// Greatest force on the upper bar, N.
    pub on_upper_n: f64,
    /// Greatest force on the lower bar, N.
    pub on_lower_n: f64,
}

/// Loads of one cylinder.
#[derive(Clone, Debug)]
pub struct CylinderWorking {
    /// Position in the engine's list.
    pub cylinder: usize,
    /// Greatest steam force, N.
    pub steam_n: f64,
    /// Crank pin, seen from pin and brasses.
    pub polar: PinPolar,
    /// Greatest load of the outer brass (away from the rod), N.
    pub outer_brass_n: f64,
    /// Greatest load of the inner brass (next to the rod), N.
    pub inner_brass_n: f64,
    /// Greatest load of the crosshead pin, N.
    pub small_end_n: f64,
    /// Slide bar forces.
    pub slide: SlideBar,
    /// Greatest pressure on the bars, Pa.
    pub slide_pressure_pa: Part<f64>,
    /// Duty of the big end.
    pub big_end: Part<BearingDuty>,
    /// Duty of the small end.
    pub small_end: Part<BearingDuty>,
    /// Strength of the rod.
    pub rod: Part<RodStrength>,
}

/// Loads of the whole motion.
#[derive(Clone, Debug)]
pub struct Working {
    /// Speed of the engine, m/s.
    pub speed_m_s: f64,
    /// Speed of the wheels, rad/s.
    pub wheel_rad_s: f64,
    /// What the steam does, in words.
    pub steam: String,
    /// Every cylinder.
    pub cylinders: Vec<CylinderWorking>,
    /// Tractive effort through the revolution.
    pub tractive: TractiveTrace,
    /// By the standard formula, N.
    pub standard_n: Part<f64>,
    /// Coupling rods.
    pub coupling: Part<CouplingWorking>,
    /// Axleboxes, front to back, left before right.
    pub boxes: Part<Vec<BoxWorking>>,
    /// Fatigue of rods and pins.
    pub fatigue: Vec<FatigueAnswer>,
    /// Every trace, for drawing.
    pub loads: LoadRevolution,
    /// What it rests on.
    pub notes: Notes,
}

pub(super) type R<'a> = Resolver<'a, [FeatureState]>;

/// Loads at a speed with steam.
///
/// # Errors
/// Everything without which no load can be had: tyre, bore, piston rod, masses.
pub fn working(
    judgement: &Judgement,
    mechanism: &Mechanism,
    speed_m_s: f64,
    steam: &SteamSaid,
) -> Result<Working, NoAnswer> {
    let engine = judgement.engine();
    let tyre = mechanism.tyre()?;
    let wheel_rad_s = 2.0 * speed_m_s / tyre.diameter_m;
    let running = mechanism.running(wheel_rad_s);
    let mut r: R<'_> = Resolver::new(engine, judgement.features());
    let (kind, words) = steam_of(&mut r, steam)?;
    let mut loads = Vec::new();
    for c in &engine.motion.cylinders {
        if let Some(load) = load_of(&mut r, c, &kind)? {
            loads.push(load);
        }
    }
    r.done(())?;
    let revolution = load_revolution(&mechanism.motion, &loads, &running, STEPS)?;
    let mut cylinders = Vec::new();
    for (at, c) in engine.motion.cylinders.iter().enumerate() {
        let no = CylinderNo(at);
        let polar = pin_polar(&mechanism.motion, &revolution, no, &running)?;
        let trace = &revolution.cylinders[at];
        let most = |v: &[f64], sign: f64| v.iter().map(|x| sign * x).fold(0.0, f64::max);
        let brass =
            |sign: f64| polar.points.iter().map(|p| sign * p.brass_outer_n).fold(0.0, f64::max);
        let slide = SlideBar {
            on_upper_n: most(&trace.slide_bar_n, -1.0),
            on_lower_n: most(&trace.slide_bar_n, 1.0),
        };
        let slide_pressure_pa = part(&mut r, |r| {
            let of = format!("cylinder {}", c.id);
            let length = r.want(&c.sizes, "slipper-length", &of, &record(c));
            let width = r.want(&c.sizes, "slipper-width", &of, &record(c));
            let (Some(l), Some(w)) = (length, width) else { return Ok(None) };
            let force = slide.on_upper_n.max(slide.on_lower_n);
            Ok(Some(slide_bar_pressure_pa(force, l.value(), w.value())?))
        })?;
        let big_end = part(&mut r, |r| {
            let Some(b) = bearing(r, c, "crank-pin", "big-end-length") else { return Ok(None) };
            Ok(Some(big_end_duty(&mechanism.motion, &revolution, no, &running, b)?))
        })?;
        let small_end = part(&mut r, |r| {
            let Some(b) = bearing(r, c, "crosshead-pin", "small-end-length") else {
                return Ok(None);
            };
            Ok(Some(small_end_duty(&mechanism.motion, &revolution, no, &running, b)?))
        })?;
        let line = mechanism.motion.line(no)?;
        let thrust_n = most(&trace.small_end_thrust_n, 1.0);
        let rod = part(&mut r, |r| {
            rod_strength(r, c, thrust_n, line.rod_centres_m, line.crank_throw_m, wheel_rad_s)
        })?;
        cylinders.push(CylinderWorking {
            cylinder: at,
            steam_n: trace.steam_n.iter().map(|x| x.abs()).fold(0.0, f64::max),
            outer_brass_n: brass(1.0),
            inner_brass_n: brass(-1.0),
            small_end_n: most(&trace.small_end_n, 1.0),
            polar,
            slide,
            slide_pressure_pa,
            big_end,
            small_end,
            rod,
        });
    }
    let standard_n = part(&mut r, |r| {
        let figures = &r.engine.motion.figures;
        let pressure = r.figure(figures, "pressure", "the boiler", "[motion]");
        let share = r.figure(figures, "mean-share", "the engine", "[motion]");
        let Some(c) = r.engine.motion.cylinders.first() else { return Ok(None) };
        let bore = r.want(&c.sizes, "bore", &format!("cylinder {}", c.id), &record(c));
        let (Some(pressure), Some(share), Some(bore)) = (pressure, share, bore) else {
            return Ok(None);
        };
        let line = mechanism.motion.line(CylinderNo(0))?;
        Ok(Some(standard_tractive_effort_n(&StandardTractiveEffort {
            cylinders: r.engine.motion.cylinders.len(),
            bore_m: bore.value(),
            stroke_m: 2.0 * line.crank_throw_m,
            tyre_diameter_m: tyre.diameter_m,
            mean_effective_pa: pressure * share,
        })?))
    })?;
    let coupling = part(&mut r, |r| coupling(r, &revolution, wheel_rad_s))?;
    let boxes =
        part(&mut r, |r| boxes(r, mechanism, &revolution, coupling.as_ref().ok(), wheel_rad_s))?;
    let fatigue =
        fatigue(&mut r, mechanism, &revolution, &cylinders, coupling.as_ref().ok(), wheel_rad_s)?;
    let mut notes = mechanism.notes.clone();
    notes.take(&r.notes);
    Ok(Working {
        speed_m_s,
        wheel_rad_s,
        steam: words,
        cylinders,
        tractive: tractive_trace(&revolution, tyre.diameter_m)?,
        standard_n,
        coupling,
        boxes,
        fatigue,
        loads: revolution,
        notes,
    })
}

/// A part of the answer: found, or all that it lacks.
pub(super) fn part<'a, T>(
    r: &mut R<'a>,
    work: impl FnOnce(&mut R<'a>) -> Result<Option<T>, NoAnswer>,
) -> Result<Part<T>, NoAnswer> {
    let found = work(r)?;
    let missing = std::mem::take(&mut r.missing);
    Ok(match found {
        Some(v) if missing.is_empty() => Ok(v),
        _ => Err(missing),
    })
}

fn steam_of(r: &mut R<'_>, said: &SteamSaid) -> Result<(Steam, String), NoAnswer> {
    let print =
        |pa: f64| quantity::print_both(pa, quantity::Dimension::Pressure, Some(pa.abs() / 500.0));
    Ok(match said {
        SteamSaid::Drifting => (Steam::None, "drifting, no steam".to_owned()),
        SteamSaid::WholeStroke(pa) => {
            let diagram = IndicatorDiagram::constant(*pa, 0.0)?;
            let ends = EndDiagrams { front: diagram.clone(), back: diagram };
            (
                Steam::Diagrams(Box::new(ends)),
                format!("{} for the whole stroke, free exhaust", print(*pa)),
            )
        }
        SteamSaid::CutOff(pa, cut_off) => {
            let figures = &r.engine.motion.figures;
            let mut want = |name| r.figure(figures, name, "the engine", "[motion]");
            let (back, atmosphere) = (want("back-pressure"), want("atmosphere"));
            let (volume, release) = (want("clearance-volume"), want("release"));
            let compression = want("compression");
            r.done(())?;
            let lost = || NoAnswer::words("the events of the valve are incomplete", "");
            let diagram = theoretical_diagram(&TheoreticalDiagram {
                admission_pa: *pa,
                exhaust_pa: back.ok_or_else(lost)?,
                atmosphere_pa: atmosphere.ok_or_else(lost)?,
                clearance_share: volume.ok_or_else(lost)?,
                cut_off_share: *cut_off,
                release_share: release.ok_or_else(lost)?,
                compression_share: compression.ok_or_else(lost)?,
                points_per_curve: 200,
            })?;
            let words = format!(
                "{}, cut-off {:.0} %, a drawn diagram (hyperbola, no wire-drawing); mean effective {}",
                print(*pa),
                100.0 * cut_off,
                print(diagram.mean_effective_pa())
            );
            let ends = EndDiagrams { front: diagram.clone(), back: diagram };
            (Steam::Diagrams(Box::new(ends)), words)
        }
        SteamSaid::Diagrams(ends) => {
            let words = format!(
                "indicator diagrams; mean effective front {}, back {}",
                print(ends.front.mean_effective_pa()),
                print(ends.back.mean_effective_pa())
            );
            (Steam::Diagrams(ends.clone()), words)
        }
    })
}

fn load_of(r: &mut R<'_>, c: &Cylinder, steam: &Steam) -> Result<Option<CylinderLoad>, NoAnswer> {
    let of = format!("cylinder {}", c.id);
    let bore = r.want(&c.sizes, "bore", &of, &record(c));
    let rod = r.want(&c.sizes, "piston-rod", &of, &record(c));
    let tail = match c.sizes.get("tail-rod") {
        Some(size) => r.size(size),
        None => Some(quantity::Uncertain::exact(0.0)),
    };
    let piston = r.want_mass(&c.masses, "piston-mass", &of, &record(c));
    let rod_mass = r.want_mass(&c.masses, "rod-mass", &of, &record(c));
    let centre = r.want(&c.sizes, "rod-balance-point", &of, &record(c));
    let slide_friction = r.figure_or_nothing(&c.figures, "slide-friction", &of);
    let piston_friction_n = r.figure_or_nothing(&c.figures, "piston-friction", &of);
    let (Some(bore), Some(rod), Some(tail)) = (bore, rod, tail) else { return Ok(None) };
    let (Some(piston_set_kg), Some(mass_kg), Some(centre)) = (piston, rod_mass, centre) else {
        return Ok(None);
    };
    Ok(Some(CylinderLoad {
        steam: steam.clone(),
        areas: PistonAreas::from_diameters(bore.value(), rod.value(), tail.value())?,
        parts: MovingParts {
            piston_set_kg,
            rod: RodMass {
                mass_kg,
                centre_from_small_end_m: centre.value(),
                inertia: RodInertia::TwoMass,
            },
            slide_friction,
            piston_friction_n,
            gravity_m_s2: 0.0,
        },
    }))
}

fn bearing(
    r: &mut R<'_>,
    c: &Cylinder,
    pin: &'static str,
    length: &'static str,
) -> Option<PinBearing> {
    let of = format!("cylinder {}", c.id);
    let diameter = r.want(&c.sizes, pin, &of, &record(c));
    let length = r.want(&c.sizes, length, &of, &record(c));
    Some(PinBearing { diameter_m: diameter?.value(), length_m: length?.value() })
}

fn rod_strength(
    r: &mut R<'_>,
    c: &Cylinder,
    thrust_n: f64,
    length_m: f64,
    throw_m: f64,
    speed_rad_s: f64,
) -> Result<Option<RodStrength>, NoAnswer> {
    let section = rod_section(r, c)?;
    let material = rod_material(r);
    let (Some(section), Some(m)) = (section, material) else { return Ok(None) };
    let RodMaterial { elastic_pa, yield_pa, ends, density_kg_m3: density } = m;
    let material = StrutMaterial { elastic_pa, yield_pa };
    let strut = |gyration_m, end_condition| Strut {
        length_m,
        area_m2: section.area_m2,
        gyration_m,
        end_condition,
    };
    let in_plane_n = strut_load_n(&strut(section.gyration_in_plane_m(), 1.0), &material)?;
    let sideways_n = strut_load_n(&strut(section.gyration_sideways_m(), ends), &material)?;
    let bending = connecting_rod_whipping(&Whipping {
        mass_per_m_kg: density * section.area_m2,
        length_m,
        throw_m,
        speed_rad_s,
    })?;
    let stress_pa = rod_stress(
        &section,
        elastic_pa,
        length_m,
        &RodLoad { thrust_n, moment_nm: bending.moment_nm, eccentricity_m: 0.0 },
    )?;
    Ok(Some(RodStrength {
        thrust_n,
        in_plane_n,
        sideways_n,
        whipping_nm: bending.moment_nm,
        stress_pa,
        yield_pa,
    }))
}

/// Material of the rods, with where its strength comes from.
#[derive(Clone, Copy, Debug)]
pub(super) struct RodMaterial {
    pub(super) elastic_pa: f64,
    pub(super) yield_pa: f64,
    pub(super) ends: f64,
    pub(super) density_kg_m3: f64,
}

/// Material of the rods; what it lacks is noted.
pub(super) fn rod_material(r: &mut R<'_>) -> Option<RodMaterial> {
    let figures = &r.engine.motion.figures;
    let elastic = r.figure(figures, "rod-elastic", "the rods", "[motion]");
    let yields = r.figure(figures, "rod-yield", "the rods", "[motion]");
    let ends = r.figure(figures, "rod-ends-sideways", "the rods", "[motion]");
    let density = match r.engine.motion.rod_material {
        Some(ix) => {
            let material = &r.engine.materials[ix.index()];
            if material.density_kg_m3.is_none() {
                let what = format!("the density of {}", material.id);
                r.lack(what, "write density = \"7850 kg/m3\" in its [[material]]");
            }
            material.density_kg_m3
        }
        None => {
            r.lack("the material of the rods", "write rod-material = \"...\" in [motion]");
            None
        }
    };
    if r.engine.motion.rod_source.trim().is_empty() {
        let write = "write rod-source = \"test certificate ...\" in [motion]";
        r.lack("where the strength of the rods comes from", write);
    }
    Some(RodMaterial {
        elastic_pa: elastic?,
        yield_pa: yields?,
        ends: ends?,
        density_kg_m3: density?,
    })
}

/// Section of a connecting rod; what it lacks is noted.
pub(super) fn rod_section(r: &mut R<'_>, c: &Cylinder) -> Result<Option<RodSection>, NoAnswer> {
    let of = format!("cylinder {}", c.id);
    let depth = r.want(&c.sizes, "rod-depth", &of, &record(c));
    let width = r.want(&c.sizes, "rod-width", &of, &record(c));
    let fluted = c.sizes.contains_key("rod-flange") || c.sizes.contains_key("rod-web");
    let flute = if fluted {
        let flange = r.want(&c.sizes, "rod-flange", &of, &record(c));
        Some((flange, r.want(&c.sizes, "rod-web", &of, &record(c))))
    } else {
        None
    };
    let (Some(depth), Some(width)) = (depth, width) else { return Ok(None) };
    Ok(match flute {
        None => Some(RodSection::rectangle(depth.value(), width.value())?),
        Some((Some(flange), Some(web))) => {
            Some(RodSection::fluted(depth.value(), width.value(), flange.value(), web.value())?)
        }
        Some(_) => None,
    })
}
