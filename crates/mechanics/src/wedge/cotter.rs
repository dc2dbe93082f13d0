//! Strength of a cotter joint: rod, socket and cotter, each way it can fail.

use std::f64::consts::PI;

use super::error::{Range, WedgeError, check_larger};

const LOAD: Range = Range::new("load on the joint", "N", 0.0, 1e9);
const SIZE: Range = Range::new("size of the joint", "m", 1e-4, 3.0);
const STRESS: Range = Range::new("stress allowed", "Pa", 1e3, 1e10);

/// Sizes of a rod held in a socket by a cotter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CotterJoint {
    /// Diameter of the rod outside the joint, m.
    pub rod_m: f64,
    /// Diameter of the rod end inside the socket, through which the cotter passes, m.
    pub rod_end_m: f64,
    /// Outside diameter of the socket at the cotter, m.
    pub socket_m: f64,
    /// Outside diameter of the part of the socket on which the cotter bears, m.
    pub socket_collar_m: f64,
    /// Thickness of the cotter, across the rod, m.
    pub cotter_thickness_m: f64,
    /// Mean width of the cotter, along the rod, m.
    pub cotter_width_m: f64,
    /// From the slot to the end of the rod, m.
    pub rod_end_beyond_m: f64,
    /// From the slot to the end of the socket, m.
    pub socket_beyond_m: f64,
}

/// Stresses that the responsible engineer allows, Pa.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AllowedStress {
    /// In tension.
    pub tension_pa: f64,
    /// In shear.
    pub shear_pa: f64,
    /// In crushing.
    pub crushing_pa: f64,
}

/// Where a joint can fail and how.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CotterFailure {
    /// Rod pulled in two outside the joint.
    RodTension,
    /// Rod end pulled in two across the slot.
    RodEndTension,
    /// Rod end or cotter crushed where they bear.
    RodEndCrushing,
    /// Rod end sheared out behind the slot, two planes.
    RodEndShear,
    /// Socket pulled in two across the slot.
    SocketTension,
    /// Socket or cotter crushed where they bear.
    SocketCrushing,
    /// Socket sheared out behind the slot, two planes on each side.
    SocketShear,
    /// Cotter sheared, two planes.
    CotterShear,
    /// Cotter bent as a beam between socket and rod.
    CotterBending,
}

/// One check of the joint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CotterCheck {
    /// Which.
    pub failure: CotterFailure,
    /// Stress there, Pa.
    pub stress_pa: f64,
    /// Stress allowed there, Pa.
    pub allowed_pa: f64,
    /// Stress over stress allowed: above 1 is too much.
    pub share: f64,
}

/// Checks every way a cotter joint can fail under a load along the rod.
///
/// **Equation.** `d` rod, `e` rod end, `D` socket, `C` collar, `t` and `b` cotter thickness and
/// width, `a` and `c` metal beyond the slot in rod and socket:
/// rod `P/(pi d2/4)`; across the slot `P/(pi e2/4 - e t)` and `P/(pi (D2-e2)/4 - (D-e) t)`; crushing
/// `P/(e t)` and `P/((C-e) t)`; shear `P/(2 a e)`, `P/(2 (C-e) c)` and `P/(2 b t)`; bending of the
/// cotter `(P/2)((C-e)/6 + e/4) / (t b2/6)`. **Units.** SI. **Range.** Static load; a load that
/// reverses fatigues the slot and wants much lower stresses. **Source.** Khurmi & Gupta, A Textbook
/// of Machine Design (2005), ch. 12. **Worked value.** 30 kN: rod 27.6 mm at 50 MPa; 40 by 10 mm
/// rod end and cotter at 90 MPa crushing needs a cotter 42.9 mm wide at 35 MPa.
///
/// # Errors
///
/// [`WedgeError::OutOfRange`] on the inputs; [`WedgeError::NotLarger`] when a slot leaves nothing
/// or an outer part is not larger than the inner.
pub fn check_cotter_joint(
    joint: &CotterJoint,
    load_n: f64,
    allowed: &AllowedStress,
) -> Result<[CotterCheck; 9], WedgeError> {
    let load = LOAD.check(load_n)?;
    let CotterJoint { rod_m, rod_end_m, socket_m, socket_collar_m, .. } = *joint;
    for size in [
        rod_m,
        rod_end_m,
        socket_m,
        socket_collar_m,
        joint.cotter_thickness_m,
        joint.cotter_width_m,
        joint.rod_end_beyond_m,
        joint.socket_beyond_m,
    ] {
        SIZE.check(size)?;
    }
    for stress in [allowed.tension_pa, allowed.shear_pa, allowed.crushing_pa] {
        STRESS.check(stress)?;
    }
    let (t, b) = (joint.cotter_thickness_m, joint.cotter_width_m);
    check_larger(("socket", socket_m), ("rod end", rod_end_m))?;
    check_larger(("socket collar", socket_collar_m), ("rod end", rod_end_m))?;
    // pi e2 / 4 must leave something beside the slot e t.
    check_larger(("a quarter of the rod end's girth", 0.25 * PI * rod_end_m), ("cotter", t))?;
    let rod_end_left = 0.25 * PI * rod_end_m * rod_end_m - rod_end_m * t;
    let wall = socket_m - rod_end_m;
    let socket_left = 0.25 * PI * (socket_m * socket_m - rod_end_m * rod_end_m) - wall * t;
    let collar = socket_collar_m - rod_end_m;
    let bending = 0.5 * load * (collar / 6.0 + 0.25 * rod_end_m);

    use CotterFailure::*;
    let check = |failure: CotterFailure, stress_pa: f64, allowed_pa: f64| CotterCheck {
        failure,
        stress_pa,
        allowed_pa,
        share: stress_pa / allowed_pa,
    };
    let AllowedStress { tension_pa, shear_pa, crushing_pa } = *allowed;
    Ok([
        check(RodTension, load / (0.25 * PI * rod_m * rod_m), tension_pa),
        check(RodEndTension, load / rod_end_left, tension_pa),
        check(RodEndCrushing, load / (rod_end_m * t), crushing_pa),
        check(RodEndShear, load / (2.0 * joint.rod_end_beyond_m * rod_end_m), shear_pa),
        check(SocketTension, load / socket_left, tension_pa),
        check(SocketCrushing, load / (collar * t), crushing_pa),
        check(SocketShear, load / (2.0 * collar * joint.socket_beyond_m), shear_pa),
        check(CotterShear, load / (2.0 * b * t), shear_pa),
        check(CotterBending, bending / (t * b * b / 6.0), tension_pa),
    ])
}

/// Least sizes of a cotter joint, the cotter a quarter as thick as the rod end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CotterSizes {
    /// Rod, m.
    pub rod_m: f64,
    /// Rod end by tension across the slot alone, m.
    pub rod_end_by_tension_m: f64,
    /// Rod end by crushing alone, m.
    pub rod_end_by_crushing_m: f64,
    /// Rod end, the larger of the two, m.
    pub rod_end_m: f64,
    /// Cotter, thickness, m.
    pub cotter_thickness_m: f64,
    /// Cotter, mean width, m.
    pub cotter_width_m: f64,
}

/// Least sizes for a load, from the same formulas turned round.
///
/// **Equation.** `d = sqrt(4 P / (pi s))`; with `t = e/4`: tension `e = sqrt(P / (s (pi/4 - 1/4)))`,
/// crushing `e = sqrt(4 P / s_c)`; width `b = P / (2 t s_s)`. **Source, worked value.** As
/// [`check_cotter_joint`].
///
/// # Errors
///
/// [`WedgeError::OutOfRange`] on the inputs.
pub fn least_cotter_sizes(load_n: f64, allowed: &AllowedStress) -> Result<CotterSizes, WedgeError> {
    let load = LOAD.check(load_n)?;
    let tension = STRESS.check(allowed.tension_pa)?;
    let shear = STRESS.check(allowed.shear_pa)?;
    let crushing = STRESS.check(allowed.crushing_pa)?;
    let rod_end_by_tension_m = (load / (tension * 0.25 * (PI - 1.0))).sqrt();
    let rod_end_by_crushing_m = (4.0 * load / crushing).sqrt();
    let rod_end_m = rod_end_by_tension_m.max(rod_end_by_crushing_m);
    let cotter_thickness_m = 0.25 * rod_end_m;
    Ok(CotterSizes {
        rod_m: (4.0 * load / (PI * tension)).sqrt(),
        rod_end_by_tension_m,
        rod_end_by_crushing_m,
        rod_end_m,
        cotter_thickness_m,
        cotter_width_m: if load > 0.0 { load / (2.0 * cotter_thickness_m * shear) } else { 0.0 },
    })
}
