//! Projected pressure, rubbing speed and their product, beside handbook values.

use super::error::{BearingError, Range};

/// Pascals in one pound-force per square inch (exact by definition, rounded).
const PSI_PA: f64 = 6_894.757_293_168;
/// Metres per second in one foot per minute.
const FPM_M_S: f64 = 0.3048 / 60.0;
/// Nearer than this to a handbook value counts as near.
const NEAR_SHARE: f64 = 0.9;

const LOAD: Range = Range::new("load", "N", 0.0, 1e8);
const DIAMETER: Range = Range::new("journal diameter", "m", 1e-3, 3.0);
const LENGTH: Range = Range::new("length of the bearing", "m", 1e-3, 5.0);
const SPEED: Range = Range::new("speed of the journal", "rad/s", 0.0, 1e5);

/// What a bearing has to bear.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DutyInput {
    /// Load, N.
    pub load_n: f64,
    /// Diameter of the journal, m.
    pub diameter_m: f64,
    /// Length of the bearing metal along the journal, m.
    pub length_m: f64,
    /// Speed of journal against brass, rad/s (for a pin that swings: its highest).
    pub speed_rad_s: f64,
}

/// Pressure, speed and product.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Duty {
    /// Load over projected area, Pa.
    pub pressure_pa: f64,
    /// Rubbing speed, m/s.
    pub speed_m_s: f64,
    /// Their product, W/m2 (1 MPa m/s = 1e6 W/m2).
    pub pv_w_m2: f64,
}

/// Works out pressure, rubbing speed and their product.
///
/// **Equation.** `p = W / (d L)`, `v = omega d / 2`, `p v`. **Units.** SI. **Range.** Any; the
/// pressure is a mean over the projected area, not the film's peak. **Source.** Every machine
/// design book. **Worked value.** 18 000 lbf on a journal 8 in by 10 in: 225 psi.
///
/// # Errors
///
/// [`BearingError::OutOfRange`] unless load and speed are not negative and the sizes are those of
/// a bearing (1 mm to 3 m, 1 mm to 5 m).
pub fn bearing_duty(input: &DutyInput) -> Result<Duty, BearingError> {
    let load = LOAD.check(input.load_n)?;
    let diameter = DIAMETER.check(input.diameter_m)?;
    let length = LENGTH.check(input.length_m)?;
    let speed = SPEED.check(input.speed_rad_s)?;
    let pressure_pa = load / (diameter * length);
    let speed_m_s = 0.5 * diameter * speed;
    Ok(Duty { pressure_pa, speed_m_s, pv_w_m2: pressure_pa * speed_m_s })
}

/// Where in the engine a bearing is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// Coupled or driving axle in its axlebox.
    DrivingAxle,
    /// Carrying axle of engine or tender.
    CarryingAxle,
    /// Big end on its crank pin or crank axle.
    BigEnd,
    /// Little end on the crosshead (gudgeon) pin.
    CrossheadPin,
    /// Crosshead slipper on its slide bar.
    SlideBar,
    /// Eccentric strap on its sheave.
    Eccentric,
    /// Coupling rod on its pin.
    CouplingPin,
}

/// Which load a handbook pressure is meant for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PressureBasis {
    /// The weight carried, standing.
    DeadLoad,
    /// The greatest load in a turn, piston thrust included.
    GreatestLoad,
}

/// How far a handbook value has been checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Recalled; look it up before leaning on it.
    FromMemory,
    /// Read in a public text that quotes the source.
    ReadInCopy,
}

/// A pressure that a book allows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HandbookPressure {
    /// Where it applies.
    pub place: Place,
    /// The lower figure of the book, Pa.
    pub low_pa: f64,
    /// The higher figure, Pa.
    pub high_pa: f64,
    /// The load it is meant for.
    pub basis: PressureBasis,
    /// The book.
    pub source: &'static str,
    /// How far it has been checked.
    pub standing: Standing,
}

const KHURMI: &str = "Khurmi & Gupta, A Textbook of Machine Design (2005), Table 26.3, \
                      steam locomotives";
const KENT: &str = "Kent, Mechanical Engineers' Pocket-Book, locomotive bearings";
const RAILWAY: &str = "Railway Mechanical Engineer (about 1917), diagrams for pins and axles";
const UNWIN: &str = "Unwin, The Elements of Machine Design, bearing pressures";

/// Handbook pressures by place. The books do not agree; the basis says why.
pub const HANDBOOK_PRESSURES: [HandbookPressure; 9] = {
    const fn row(
        place: Place,
        low_pa: f64,
        high_pa: f64,
        basis: PressureBasis,
        source: &'static str,
        standing: Standing,
    ) -> HandbookPressure {
        HandbookPressure { place, low_pa, high_pa, basis, source, standing }
    }
    use Place::*;
    use PressureBasis::*;
    use Standing::*;
    [
        row(DrivingAxle, 3.85e6, 3.85e6, GreatestLoad, KHURMI, FromMemory),
        row(DrivingAxle, 190.0 * PSI_PA, 220.0 * PSI_PA, DeadLoad, KENT, FromMemory),
        row(CarryingAxle, 300.0 * PSI_PA, 300.0 * PSI_PA, DeadLoad, KENT, FromMemory),
        row(BigEnd, 14e6, 14e6, GreatestLoad, KHURMI, FromMemory),
        row(BigEnd, 1600.0 * PSI_PA, 1700.0 * PSI_PA, GreatestLoad, RAILWAY, ReadInCopy),
        row(CrossheadPin, 28e6, 28e6, GreatestLoad, KHURMI, FromMemory),
        row(CrossheadPin, 4600.0 * PSI_PA, 4800.0 * PSI_PA, GreatestLoad, RAILWAY, ReadInCopy),
        row(SlideBar, 25.0 * PSI_PA, 125.0 * PSI_PA, GreatestLoad, UNWIN, FromMemory),
        row(Eccentric, 80.0 * PSI_PA, 140.0 * PSI_PA, GreatestLoad, UNWIN, FromMemory),
    ]
};

/// What a book says of a bearing's proportions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HandbookProportion {
    /// Where it applies.
    pub place: Place,
    /// Diametral clearance over diameter.
    pub clearance_share: f64,
    /// Least length over diameter.
    pub least_length_share: f64,
    /// Greatest length over diameter.
    pub greatest_length_share: f64,
    /// The book.
    pub source: &'static str,
    /// How far it has been checked.
    pub standing: Standing,
}

/// Handbook proportions by place.
pub const HANDBOOK_PROPORTIONS: [HandbookProportion; 3] = {
    const fn row(place: Place, low: f64, high: f64) -> HandbookProportion {
        HandbookProportion {
            place,
            clearance_share: 0.001,
            least_length_share: low,
            greatest_length_share: high,
            source: KHURMI,
            standing: Standing::FromMemory,
        }
    }
    [
        row(Place::DrivingAxle, 1.6, 1.8),
        row(Place::BigEnd, 0.7, 1.1),
        row(Place::CrossheadPin, 0.8, 1.3),
    ]
};

/// Metal of the bearing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum BearingMetal {
    /// Cast tin bronze.
    CastBronze,
    /// White metal with tin as its base.
    TinWhiteMetal,
    /// White metal with lead as its base.
    LeadWhiteMetal,
}

/// What a metal is said to bear when it has only a smear of oil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MetalLimit {
    /// The metal.
    pub metal: BearingMetal,
    /// Greatest pressure, Pa.
    pub pressure_pa: f64,
    /// Greatest rubbing speed, m/s, where a figure is known.
    pub speed_m_s: Option<f64>,
    /// Greatest pressure times speed, W/m2, where a figure is known.
    pub pv_w_m2: Option<f64>,
    /// Greatest running temperature, K.
    pub temperature_k: f64,
    /// The book.
    pub source: &'static str,
    /// How far it has been checked.
    pub standing: Standing,
}

/// Limits of bearing metals. Where no figure for `p v` is known none is given.
pub const METAL_LIMITS: [MetalLimit; 3] = [
    MetalLimit {
        metal: BearingMetal::CastBronze,
        pressure_pa: 4500.0 * PSI_PA,
        speed_m_s: Some(1500.0 * FPM_M_S),
        pv_w_m2: Some(50_000.0 * PSI_PA * FPM_M_S),
        // 325 degF.
        temperature_k: 435.93,
        source: "Shigley's Mechanical Engineering Design, 9th ed. (2011), boundary-lubricated \
                 bearing materials",
        standing: Standing::FromMemory,
    },
    MetalLimit {
        metal: BearingMetal::TinWhiteMetal,
        pressure_pa: 1500.0 * PSI_PA,
        speed_m_s: None,
        pv_w_m2: None,
        // 300 degF.
        temperature_k: 422.04,
        source: "Juvinall & Marshek / Norton, bearing materials table (800 to 1500 psi)",
        standing: Standing::FromMemory,
    },
    MetalLimit {
        metal: BearingMetal::LeadWhiteMetal,
        pressure_pa: 1200.0 * PSI_PA,
        speed_m_s: None,
        pv_w_m2: None,
        temperature_k: 422.04,
        source: "Juvinall & Marshek / Norton, bearing materials table (800 to 1200 psi)",
        standing: Standing::FromMemory,
    },
];

/// The limit of a metal.
#[must_use]
pub fn metal_limit(metal: BearingMetal) -> &'static MetalLimit {
    match metal {
        BearingMetal::CastBronze => &METAL_LIMITS[0],
        BearingMetal::TinWhiteMetal => &METAL_LIMITS[1],
        BearingMetal::LeadWhiteMetal => &METAL_LIMITS[2],
    }
}

/// How a figure stands beside a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stand {
    /// Below nine tenths of the limit.
    Within,
    /// Between nine tenths of the limit and the limit.
    Near,
    /// Above the limit.
    Beyond,
}

/// Compares a figure with a limit above which it should not go.
#[must_use]
pub fn stand(figure: f64, limit: f64) -> Stand {
    if figure <= NEAR_SHARE * limit {
        Stand::Within
    } else if figure <= limit {
        Stand::Near
    } else {
        // NaN ends here too: never within.
        Stand::Beyond
    }
}
