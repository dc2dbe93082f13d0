//! Oil lifted by a felt or a trimming: how much it brings, how that falls as the level drops
//! and the felt clogs, and how long a filling lasts.
//!
//! A felt sucks oil up to where the pull of its pores equals the weight of the oil lifted
//! (Jurin), and passes oil through itself as any porous body does (Darcy). The journal wipes its
//! upper face, so that the pull of the pores is taken to be there in full: the answer is the
//! most a felt in good order can bring, and a felt that does not touch brings nothing.

use super::error::{BearingError, Range};

/// Standard gravity, m/s2 (ISO 80000-3).
const GRAVITY_M_S2: f64 = 9.806_65;

const AREA: Range = Range::new("area of the felt across the flow", "m2", 1e-7, 1.0);
const PATH: Range = Range::new("length of felt the oil goes through", "m", 1e-4, 2.0);
const PERMEABILITY: Range = Range::new("permeability of the felt", "m2", 1e-16, 1e-6);
const PORE: Range = Range::new("pore radius of the felt", "m", 1e-7, 5e-3);
const SHARE: Range = Range::new("share of the clean felt's flow that is left", "(ratio)", 0.0, 1.0);
const TENSION: Range = Range::new("surface tension of the oil", "N/m", 1e-3, 0.1);
const WETTING: Range = Range::new("contact angle", "rad", 0.0, 1.57);
const VISCOSITY: Range = Range::new("viscosity", "Pa s", 1e-5, 1e3);
const DENSITY: Range = Range::new("density of the oil", "kg/m3", 600.0, 1300.0);
const LIFT: Range = Range::new("lift from the oil to the journal", "m", -0.5, 1.0);
const WELL: Range = Range::new("surface of the oil in the keep", "m2", 1e-6, 10.0);
const DEPTH: Range = Range::new("depth of oil that can be used", "m", 0.0, 1.0);
const RETURN: Range = Range::new("share of the oil that runs back", "(ratio)", 0.0, 1.0);
const HALVING: Range = Range::new("time in which the felt's flow halves", "s", 1.0, 1e10);
const FLOW: Range = Range::new("flow", "m3/s", 0.0, 1.0);
const HORIZON: Range = Range::new("longest time looked ahead", "s", 1.0, 1e10);

/// A felt pad or trimming.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Felt {
    /// Area across the flow, m2.
    pub area_m2: f64,
    /// Length of felt between the oil and the journal, m.
    pub path_m: f64,
    /// Permeability when clean, m2; see [`permeability_from_drip`] for how to read it off.
    pub permeability_m2: f64,
    /// Radius of pore that gives the lift, m; see [`pore_from_lift`].
    pub pore_radius_m: f64,
    /// Share of the clean flow that is left: 1 for a clean felt.
    pub flow_share_left: f64,
}

/// The oil as the felt meets it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FeltOil {
    /// Viscosity at the felt's temperature, Pa s.
    pub viscosity_pa_s: f64,
    /// Density, kg/m3.
    pub density_kg_m3: f64,
    /// Surface tension, N/m: about 0.03 for mineral oil (handbooks, from memory).
    pub surface_tension_n_m: f64,
    /// Contact angle on the fibre, rad: near zero for oil on wool.
    pub contact_angle_rad: f64,
}

/// What a felt brings at one level of oil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FeltFlow {
    /// Oil brought, m3/s: zero when the oil cannot climb that far.
    pub flow_m3_s: f64,
    /// Greatest height to which the felt lifts this oil, m.
    pub lift_limit_m: f64,
    /// Pressure that drives the oil through, Pa: pull of the pores less the weight lifted.
    pub driving_pa: f64,
}

/// Oil brought to the journal by a felt standing in oil.
///
/// **Equation.** `p_c = 2 gamma cos(angle) / r`, lift limit `p_c / (rho g)`,
/// `Q = s k A (p_c - rho g h) / (mu L)`. **Units.** SI; `h` from the oil's surface up to the
/// journal, negative when the journal is below it. **Range.** Slow flow in the wetted felt.
/// **Source.** Jurin (1718) and Darcy (1856). **Accuracy.** As good as the felt's own two figures,
/// which are best read off the felt itself.
///
/// # Errors
///
/// [`BearingError::OutOfRange`] on the inputs.
pub fn felt_flow(felt: &Felt, oil: &FeltOil, lift_m: f64) -> Result<FeltFlow, BearingError> {
    check_felt(felt, oil)?;
    let lift = LIFT.check(lift_m)?;
    let weight = oil.density_kg_m3 * GRAVITY_M_S2;
    let pull = pore_pull_pa(felt.pore_radius_m, oil);
    let driving_pa = (pull - weight * lift).max(0.0);
    let flow_m3_s = felt.flow_share_left * felt.permeability_m2 * felt.area_m2 * driving_pa
        / (oil.viscosity_pa_s * felt.path_m);
    Ok(FeltFlow { flow_m3_s, lift_limit_m: pull / weight, driving_pa })
}

/// Oil brought by a trimming that siphons: up over the lip of its tube and down inside.
///
/// **Equation.** `Q = s k A rho g d / (mu L)` with `d` the drop from the oil's surface to the
/// lower end of the trimming, as long as the lip is not above the lift limit; else nothing.
/// **Units.** SI. **Source.** Darcy (1856); the siphon is common practice.
///
/// # Errors
///
/// [`BearingError::OutOfRange`] on the inputs.
pub fn trimming_flow(
    felt: &Felt,
    oil: &FeltOil,
    lip_above_oil_m: f64,
    end_below_oil_m: f64,
) -> Result<FeltFlow, BearingError> {
    check_felt(felt, oil)?;
    let lip = LIFT.check(lip_above_oil_m)?;
    let drop = LIFT.check(end_below_oil_m)?;
    let weight = oil.density_kg_m3 * GRAVITY_M_S2;
    let lift_limit_m = pore_pull_pa(felt.pore_radius_m, oil) / weight;
    let driving_pa = if lip <= lift_limit_m { (weight * drop).max(0.0) } else { 0.0 };
    let flow_m3_s = felt.flow_share_left * felt.permeability_m2 * felt.area_m2 * driving_pa
        / (oil.viscosity_pa_s * felt.path_m);
    Ok(FeltFlow { flow_m3_s, lift_limit_m, driving_pa })
}

/// The permeability that explains a measured drip: Darcy's law the other way round,
/// `k = Q mu L / (A dp)`, m2. `driving_pa` is the pressure that drove the drip (for a trimming
/// `rho g` times its drop).
///
/// # Errors
///
/// [`BearingError::OutOfRange`] on the inputs, or when the answer is not that of a felt.
pub fn permeability_from_drip(
    felt: &Felt,
    oil: &FeltOil,
    flow_m3_s: f64,
    driving_pa: f64,
) -> Result<f64, BearingError> {
    const DRIVING: Range = Range::new("driving pressure", "Pa", 1e-3, 1e6);
    AREA.check(felt.area_m2)?;
    PATH.check(felt.path_m)?;
    check_oil(oil)?;
    FLOW.check(flow_m3_s)?;
    DRIVING.check(driving_pa)?;
    Ok(PERMEABILITY
        .check(flow_m3_s * oil.viscosity_pa_s * felt.path_m / (felt.area_m2 * driving_pa))?)
}

/// The pore radius that explains how high a felt was seen to lift oil: Jurin the other way
/// round, `r = 2 gamma cos(angle) / (rho g h)`, m.
///
/// # Errors
///
/// [`BearingError::OutOfRange`] on the inputs, or when the answer is not that of a felt.
pub fn pore_from_lift(oil: &FeltOil, lift_m: f64) -> Result<f64, BearingError> {
    const SEEN: Range = Range::new("height of lift", "m", 1e-4, 10.0);
    check_oil(oil)?;
    let lift = SEEN.check(lift_m)?;
    let pull = 2.0 * oil.surface_tension_n_m * oil.contact_angle_rad.cos();
    Ok(PORE.check(pull / (oil.density_kg_m3 * GRAVITY_M_S2 * lift))?)
}

/// The keep the felt stands in, and what the bearing wants from it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Keep {
    /// Surface of the oil, m2.
    pub surface_m2: f64,
    /// From the oil's surface, when full, up to the journal, m.
    pub lift_full_m: f64,
    /// How far the level may fall before the felt's foot is dry, m.
    pub usable_depth_m: f64,
    /// Share of the oil brought up that runs back into the keep.
    pub return_share: f64,
    /// Least flow that keeps the bearing fed, m3/s (its side flow).
    pub wanted_m3_s: f64,
    /// Time in which dirt halves the felt's flow, s; `None` for clean oil.
    pub halving_s: Option<f64>,
    /// Longest time looked ahead, s.
    pub horizon_s: f64,
}

/// Why a filling comes to its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FillingEnd {
    /// Already at full level the felt brings less than is wanted.
    NeverEnough,
    /// The flow falls below what is wanted.
    FlowTooSmall,
    /// The oil is down to the felt's foot.
    LevelTooLow,
    /// Neither happens within the time looked ahead.
    OutlastsHorizon,
}

/// How long a filling lasts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Filling {
    /// Time until then, s.
    pub lasts_s: f64,
    /// Why it ends.
    pub end: FillingEnd,
    /// Flow just after filling, m3/s.
    pub flow_at_start_m3_s: f64,
    /// Flow at the end, m3/s.
    pub flow_at_end_m3_s: f64,
    /// Oil used up (not run back), m3.
    pub used_m3: f64,
}

/// How long a filling of the keep lasts.
///
/// **Equation.** Own derivation. With `K = k A rho g / (mu L)`, `x` the lift still in hand
/// (limit less lift), `B` the oil's surface and `c = 2^(-t / halving)`:
/// `Q = c K x`, `B dx/dt = -(1 - back) Q`, so
/// `x = x0 exp(-(1 - back) K C / B)` with `C = int c dt`. The flow only falls, so the first
/// time it meets either limit is found by halving. **Units.** SI. **Source.** Own derivation on
/// Darcy and Jurin.
///
/// # Errors
///
/// [`BearingError::OutOfRange`] on the inputs.
pub fn filling_lasts(felt: &Felt, oil: &FeltOil, keep: &Keep) -> Result<Filling, BearingError> {
    WELL.check(keep.surface_m2)?;
    DEPTH.check(keep.usable_depth_m)?;
    let back = RETURN.check(keep.return_share)?;
    let wanted = FLOW.check(keep.wanted_m3_s)?;
    let horizon = HORIZON.check(keep.horizon_s)?;
    let halving = keep.halving_s.map(|time| HALVING.check(time)).transpose()?;
    let start = felt_flow(felt, oil, keep.lift_full_m)?;
    let in_hand = (start.lift_limit_m - keep.lift_full_m).max(0.0);
    let conductance = felt.flow_share_left
        * felt.permeability_m2
        * felt.area_m2
        * oil.density_kg_m3
        * GRAVITY_M_S2
        / (oil.viscosity_pa_s * felt.path_m);
    let cleanness = |t: f64| halving.map_or(1.0, |h| (-std::f64::consts::LN_2 * t / h).exp());
    let clean_time = |t: f64| {
        halving.map_or(t, |h| {
            let rate = std::f64::consts::LN_2 / h;
            -(-rate * t).exp_m1() / rate
        })
    };
    let left =
        |t: f64| in_hand * (-(1.0 - back) * conductance * clean_time(t) / keep.surface_m2).exp();
    let flow = |t: f64| cleanness(t) * conductance * left(t);
    let fallen = |t: f64| in_hand - left(t);

    let ended = |t: f64| {
        if flow(t) < wanted {
            Some(FillingEnd::FlowTooSmall)
        } else if fallen(t) > keep.usable_depth_m {
            Some(FillingEnd::LevelTooLow)
        } else {
            None
        }
    };
    let (lasts_s, end) = if start.flow_m3_s < wanted || start.flow_m3_s <= 0.0 {
        (0.0, FillingEnd::NeverEnough)
    } else if let Some(mut why) = ended(horizon) {
        let (mut still, mut over) = (0.0, horizon);
        for _ in 0..100 {
            let middle = 0.5 * (still + over);
            match ended(middle) {
                Some(reason) => (over, why) = (middle, reason),
                None => still = middle,
            }
        }
        (0.5 * (still + over), why)
    } else {
        (horizon, FillingEnd::OutlastsHorizon)
    };
    Ok(Filling {
        lasts_s,
        end,
        flow_at_start_m3_s: start.flow_m3_s,
        flow_at_end_m3_s: if in_hand > 0.0 { flow(lasts_s) } else { 0.0 },
        used_m3: fallen(lasts_s) * keep.surface_m2,
    })
}

fn pore_pull_pa(pore_radius_m: f64, oil: &FeltOil) -> f64 {
    2.0 * oil.surface_tension_n_m * oil.contact_angle_rad.cos() / pore_radius_m
}

fn check_felt(felt: &Felt, oil: &FeltOil) -> Result<(), BearingError> {
    AREA.check(felt.area_m2)?;
    PATH.check(felt.path_m)?;
    PERMEABILITY.check(felt.permeability_m2)?;
    PORE.check(felt.pore_radius_m)?;
    SHARE.check(felt.flow_share_left)?;
    check_oil(oil)
}

fn check_oil(oil: &FeltOil) -> Result<(), BearingError> {
    VISCOSITY.check(oil.viscosity_pa_s)?;
    DENSITY.check(oil.density_kg_m3)?;
    TENSION.check(oil.surface_tension_n_m)?;
    WETTING.check(oil.contact_angle_rad)?;
    Ok(())
}
