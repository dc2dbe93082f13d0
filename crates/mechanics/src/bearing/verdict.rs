//! What a bearing's figures mean, in plain words with reasons.

use super::duty::{
    BearingMetal, Duty, HANDBOOK_PRESSURES, Place, PressureBasis, Stand, Standing, metal_limit,
    stand,
};
use super::error::{BearingError, Range};
use super::film::FilmStart;
use super::warm::WarmFilm;

const ROUGHNESS: Range = Range::new("roughness", "m", 0.0, 1e-4);
const SUPPLY: Range = Range::new("oil supply", "m3/s", 0.0, 1.0);

/// At and above this many times the roughness the surfaces are apart (common practice; Hamrock,
/// Fundamentals of Fluid Film Lubrication, gives 3 to 10, from memory).
const FULL_FILM_LAMBDA: f64 = 3.0;
/// Below this the peaks carry the load (likewise).
const BOUNDARY_LAMBDA: f64 = 1.0;

/// How the load behaves through a turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LoadCharacter {
    /// Always the same in size and direction: the weight on a carrying axle on straight track.
    Steady,
    /// A steady part that outweighs one that swings: a driving axlebox, weight and piston thrust.
    SteadyWithSwing,
    /// Changes direction every turn or half turn: big end, little end, coupling rod.
    Reversing,
}

/// What is told about the bearing beside its film.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilmSetting {
    /// How the load behaves.
    pub load: LoadCharacter,
    /// Roughness Rq of the journal, m.
    pub journal_rq_m: f64,
    /// Roughness Rq of the bearing metal, m.
    pub metal_rq_m: f64,
    /// The bearing metal, for its temperature.
    pub metal: BearingMetal,
    /// Oil the felt, trimming or pump delivers, m3/s; `None` when not known.
    pub supply_m3_s: Option<f64>,
}

/// Does the film keep the surfaces apart?
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FilmVerdict {
    /// A full film at least three times as thick as the surfaces are rough.
    FullFilm,
    /// Part film, part touching.
    Mixed,
    /// The surfaces rub.
    Boundary,
    /// The steady film does not answer for this bearing.
    CannotTell,
}

impl FilmVerdict {
    /// The verdict in plain words.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::FullFilm => "runs on a full film of oil",
            Self::Mixed => "runs partly on oil and partly metal to metal",
            Self::Boundary => "rubs metal to metal",
            Self::CannotTell => "cannot tell from a steady film",
        }
    }
}

/// A verdict on a film.
#[derive(Debug, Clone, PartialEq)]
pub struct FilmJudgement {
    /// The verdict.
    pub verdict: FilmVerdict,
    /// Thinnest film over the roughness of both surfaces together; `None` when both are given as
    /// perfectly smooth.
    pub lambda: Option<f64>,
    /// Least film Trumpler asks for, m: `5.1 um + 0.00004 d`.
    pub trumpler_m: f64,
    /// Why, one plain sentence each.
    pub reasons: Vec<String>,
}

/// Judges a warm film.
///
/// **Equation.** `lambda = h0 / sqrt(Rq1^2 + Rq2^2)`: 3 and above full film, below 1 boundary
/// (common practice). Trumpler's rule `h0 >= 0.0002 in + 0.00004 d` is stated beside it (Trumpler,
/// Design of Film Bearings (1966), as in Shigley, from memory). A reversing load gives
/// [`FilmVerdict::CannotTell`]: squeeze between the thrusts carries part of it and the steady film
/// is neither its upper nor its lower bound.
///
/// # Errors
///
/// [`BearingError::OutOfRange`] on roughness or supply.
pub fn judge_film(
    warm: &WarmFilm,
    journal_diameter_m: f64,
    setting: &FilmSetting,
) -> Result<FilmJudgement, BearingError> {
    let rough = ROUGHNESS.check(setting.journal_rq_m)?.hypot(ROUGHNESS.check(setting.metal_rq_m)?);
    let film = warm.film.minimum_film_m;
    let lambda = (rough > 0.0).then(|| film / rough);
    let trumpler_m = 0.0002 * 0.0254 + 0.000_04 * journal_diameter_m;
    let mut reasons = Vec::new();
    let um = |metres: f64| metres * 1e6;

    let mut verdict = match lambda {
        Some(lambda) if lambda < BOUNDARY_LAMBDA => FilmVerdict::Boundary,
        Some(lambda) if lambda < FULL_FILM_LAMBDA => FilmVerdict::Mixed,
        _ => FilmVerdict::FullFilm,
    };
    reasons.push(match lambda {
        Some(lambda) => format!(
            "the thinnest film is {:.1} um, {lambda:.1} times the roughness of the two surfaces \
             together; three times is wanted",
            um(film)
        ),
        None => format!("the thinnest film is {:.1} um; no roughness was given", um(film)),
    });
    if film < trumpler_m {
        reasons.push(format!("Trumpler's rule asks for {:.1} um at this diameter", um(trumpler_m)));
    }
    let wanted = warm.film.side_flow_m3_s;
    match setting.supply_m3_s {
        Some(supply) if SUPPLY.check(supply)? < wanted => {
            // A starved inlet carries less than a full one, and by how much is not computed.
            if verdict == FilmVerdict::FullFilm {
                verdict = FilmVerdict::CannotTell;
            }
            reasons.push(format!(
                "the ends leak {:.2} ml a minute when the inlet is full, the supply brings {:.2}: \
                 the film is starved and thinner than computed",
                wanted * 6e7,
                supply * 6e7
            ));
        }
        Some(_) => {}
        None => reasons.push(format!(
            "the supply must bring at least {:.2} ml a minute to keep the inlet full; what it \
             brings was not given",
            wanted * 6e7
        )),
    }
    if warm.film.numbers.start == FilmStart::InsideArc {
        reasons.push(
            "the gap widens behind the inlet edge and the film begins inside the arc: this is \
             the most film there could be"
                .to_owned(),
        );
    }
    let limit = metal_limit(setting.metal);
    if stand(warm.outlet_k, limit.temperature_k) == Stand::Beyond {
        reasons.push(format!(
            "the oil leaves at {:.0} degC, above the {:.0} degC given for this metal",
            warm.outlet_k - 273.15,
            limit.temperature_k - 273.15
        ));
    }
    match setting.load {
        LoadCharacter::Steady => {}
        LoadCharacter::SteadyWithSwing => reasons.push(
            "the load swings about its mean: the film was computed for the load given, not for \
             the swing"
                .to_owned(),
        ),
        LoadCharacter::Reversing => {
            verdict = FilmVerdict::CannotTell;
            reasons.push(
                "the load reverses every turn: oil squeezed between the thrusts carries part of \
                 it, and a steady film does not answer for that"
                    .to_owned(),
            );
        }
    }
    Ok(FilmJudgement { verdict, lambda, trumpler_m, reasons })
}

/// How a duty stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DutyVerdict {
    /// Below nine tenths of every figure known.
    Within,
    /// Close under one of them.
    Near,
    /// Above one of them.
    Beyond,
    /// No figure is known to compare with.
    CannotTell,
}

impl DutyVerdict {
    /// The verdict in plain words.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::Within => "within the handbook figures",
            Self::Near => "close under a handbook figure",
            Self::Beyond => "beyond a handbook figure",
            Self::CannotTell => "no handbook figure to compare with",
        }
    }
}

/// A verdict on a duty.
#[derive(Debug, Clone, PartialEq)]
pub struct DutyJudgement {
    /// The verdict: the worst of the comparisons.
    pub verdict: DutyVerdict,
    /// Each comparison made, with its source and whether that was recalled or read.
    pub reasons: Vec<String>,
}

/// Compares pressure, speed and product with the handbook figures for the place and the metal.
///
/// A place with figures for another basis of load (dead load, greatest load) is compared only
/// with those for the basis given.
#[must_use]
pub fn judge_duty(
    duty: &Duty,
    place: Place,
    basis: PressureBasis,
    metal: BearingMetal,
) -> DutyJudgement {
    let mut worst: Option<Stand> = None;
    let mut reasons = Vec::new();
    let mut compare =
        |what: &str, unit: &str, figure: f64, limit: f64, book: &str, at: Standing| {
            let found = stand(figure, limit);
            worst = Some(worst.map_or(found, |worst: Stand| worst.max(found)));
            let word = match found {
                Stand::Within => "is under",
                Stand::Near => "is close under",
                Stand::Beyond => "is above",
            };
            let standing = match at {
                Standing::FromMemory => "from memory",
                Standing::ReadInCopy => "read in a copy",
            };
            reasons.push(format!(
                "{what} {figure:.3} {unit} {word} {limit:.3} {unit} ({book}; {standing})"
            ));
        };
    for row in HANDBOOK_PRESSURES.iter().filter(|row| row.place == place && row.basis == basis) {
        let mpa = |pa: f64| pa * 1e-6;
        let (figure, limit) = (mpa(duty.pressure_pa), mpa(row.high_pa));
        compare("pressure", "MPa", figure, limit, row.source, row.standing);
    }
    let limit = metal_limit(metal);
    let (book, at) = (limit.source, limit.standing);
    let (figure, most) = (duty.pressure_pa * 1e-6, limit.pressure_pa * 1e-6);
    compare("pressure", "MPa", figure, most, book, at);
    if let Some(speed) = limit.speed_m_s {
        compare("rubbing speed", "m/s", duty.speed_m_s, speed, book, at);
    }
    if let Some(pv) = limit.pv_w_m2 {
        let (figure, most) = (duty.pv_w_m2 * 1e-6, pv * 1e-6);
        compare("pressure times speed", "MPa m/s", figure, most, book, at);
    } else {
        reasons.push("no figure for pressure times speed is known for this metal".to_owned());
    }
    let verdict = match worst {
        Some(Stand::Within) => DutyVerdict::Within,
        Some(Stand::Near) => DutyVerdict::Near,
        Some(Stand::Beyond) => DutyVerdict::Beyond,
        None => DutyVerdict::CannotTell,
    };
    DutyJudgement { verdict, reasons }
}
