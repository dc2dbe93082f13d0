//! A measured pair against a fit: what was achieved, how surely, and which member is off.

use super::{Band, FitLimits, FitsError, Limits, Member};

/// A measured size with its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// The size (m).
    pub size_m: f64,
    /// Its standard uncertainty, all parts (m).
    pub u_m: f64,
}

/// Actual sizes of both members at one temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FitReading {
    /// The hole.
    pub hole: Measured,
    /// The shaft.
    pub shaft: Measured,
    /// The part of both uncertainties that is one and the same error (a shared setting ring,
    /// one comparator's zero): it cancels in the difference (m). Zero when there is none.
    pub shared_u_m: f64,
    /// Guard band in standard uncertainties: 1.645 for 95 % one-sided (ISO 14253-1:2017).
    pub guard: f64,
}

impl FitReading {
    /// A reading with no shared error and the guard band of ISO 14253-1's default 95 %.
    pub fn new(hole: Measured, shaft: Measured) -> Self {
        Self { hole, shaft, shared_u_m: 0.0, guard: 1.645 }
    }
}

/// Where a value lies against a band, with its uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Place {
    /// Inside both limits by the guard band.
    Inside,
    /// Below the lower limit by the guard band.
    Below,
    /// Above the upper limit by the guard band.
    Above,
    /// Within a guard band of a limit: this gauge cannot tell.
    CannotTell,
}

/// One member against its own limits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MemberJudgement {
    /// Actual deviation from nominal (m).
    pub deviation_m: f64,
    /// Where it lies.
    pub place: Place,
    /// How far outside its limits it is (m): positive above the upper limit, negative below the
    /// lower, zero inside.
    pub outside_by_m: f64,
    /// Position in the zone: 0 at the lower limit, 1 at the upper; beyond when outside. `None`
    /// for a zone without width.
    pub position: Option<f64>,
}

/// Which member is outside its limits for certain.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum OffMember {
    /// Neither is for certain outside.
    Neither,
    /// One is.
    One(Member),
    /// Both are.
    Both,
}

/// The judgement of a measured pair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FitJudgement {
    /// Hole minus shaft (m); negative is interference.
    pub clearance_m: f64,
    /// Standard uncertainty of it (m).
    pub clearance_u_m: f64,
    /// Where the clearance lies in the fit's band.
    pub place: Place,
    /// How far outside the fit's band (m): positive too loose, negative too tight, zero inside.
    pub outside_by_m: f64,
    /// Position in the band: 0 at the tightest allowed, 1 at the loosest. `None` for a band
    /// without width.
    pub position: Option<f64>,
    /// The hole against its limits.
    pub hole: MemberJudgement,
    /// The shaft against its limits.
    pub shaft: MemberJudgement,
    /// Which member is off.
    pub off: OffMember,
}

/// Judge a measured pair against a fit's limits.
///
/// `c = hole - shaft`; `u(c)^2 = (u_h^2 - s^2) + (u_s^2 - s^2)` with `s` the shared part, which
/// cancels in the difference (JCGM 100:2008, 5.2.2 with both sensitivities equal and opposite).
/// A value is inside or outside when it is so by `guard * u`; between, it cannot be told
/// (ISO 14253-1:2017). Both members may be off and the pair still fit: that is why the pair and
/// the members are judged apart.
///
/// Worked value: bore 60 H7 with u = 2 µm is inside from +3.3 to +26.7 µm (UN-09).
///
/// # Errors
/// [`FitsError::BadNumber`] for sizes that are not finite and positive, uncertainties that are
/// negative or not finite, or a shared part larger than either uncertainty.
pub fn judge_reading(limits: &FitLimits, reading: &FitReading) -> Result<FitJudgement, FitsError> {
    check("hole size", reading.hole.size_m, reading.hole.size_m > 0.0, "above 0")?;
    check("shaft size", reading.shaft.size_m, reading.shaft.size_m > 0.0, "above 0")?;
    check("hole uncertainty", reading.hole.u_m, reading.hole.u_m >= 0.0, "not negative")?;
    check("shaft uncertainty", reading.shaft.u_m, reading.shaft.u_m >= 0.0, "not negative")?;
    let least = reading.hole.u_m.min(reading.shaft.u_m);
    let shared = reading.shared_u_m;
    check(
        "shared uncertainty",
        shared,
        (0.0..=least).contains(&shared),
        "from 0 to the smaller of the two uncertainties",
    )?;
    if !reading.guard.is_finite() || reading.guard < 0.0 {
        return Err(FitsError::BadNumber {
            what: "guard",
            value: reading.guard,
            unit: "standard uncertainties",
            condition: "not negative",
        });
    }

    let clearance_m = reading.hole.size_m - reading.shaft.size_m;
    let own = reading.hole.u_m.powi(2) + reading.shaft.u_m.powi(2) - 2.0 * shared.powi(2);
    let clearance_u_m = own.max(0.0).sqrt();
    let (place, outside_by_m, position) =
        against(clearance_m, limits.clearance, reading.guard * clearance_u_m);
    let member = |measured: Measured, of: Limits| {
        let deviation_m = measured.size_m - limits.size_m;
        let band = Band { min_m: of.lower_m, max_m: of.upper_m };
        let (place, outside_by_m, position) =
            against(deviation_m, band, reading.guard * measured.u_m);
        MemberJudgement { deviation_m, place, outside_by_m, position }
    };
    let hole = member(reading.hole, limits.hole);
    let shaft = member(reading.shaft, limits.shaft);
    let is_off = |m: &MemberJudgement| matches!(m.place, Place::Below | Place::Above);
    let off = match (is_off(&hole), is_off(&shaft)) {
        (false, false) => OffMember::Neither,
        (true, false) => OffMember::One(Member::Hole),
        (false, true) => OffMember::One(Member::Shaft),
        (true, true) => OffMember::Both,
    };
    Ok(FitJudgement { clearance_m, clearance_u_m, place, outside_by_m, position, hole, shaft, off })
}

fn against(value: f64, band: Band, guard: f64) -> (Place, f64, Option<f64>) {
    // A picometre of play: sizes near a metre carry rounding of a tenth of that.
    let play = 1e-12;
    let place = if value >= band.min_m + guard - play && value <= band.max_m - guard + play {
        Place::Inside
    } else if value < band.min_m - guard - play {
        Place::Below
    } else if value > band.max_m + guard + play {
        Place::Above
    } else {
        Place::CannotTell
    };
    let outside = if value > band.max_m {
        value - band.max_m
    } else if value < band.min_m {
        value - band.min_m
    } else {
        0.0
    };
    let width = band.max_m - band.min_m;
    (place, outside, (width > 0.0).then(|| (value - band.min_m) / width))
}

fn check(
    what: &'static str,
    value: f64,
    holds: bool,
    condition: &'static str,
) -> Result<(), FitsError> {
    if value.is_finite() && holds {
        Ok(())
    } else {
        Err(FitsError::BadNumber { what, value, unit: "m", condition })
    }
}
