//! A bearing that has come to its running temperature.

use super::error::{BearingError, Range};
use super::film::{Convergence, FilmNumbers};
use super::journal::{
    Journal, JournalBearing, JournalOptions, RunningFilm, SteadyDuty, check_duty,
};
use super::oil::Oil;
use super::seek::Sought;

const TEMPERATURE: Range = Range::new("temperature", "K", 250.0, 520.0);
/// How fast the made-up temperature runs on past the oil's range, K for each factor e of viscosity.
const BEYOND_K: f64 = 50.0;
const SURFACE: Range = Range::new("heat shed by the surface", "W/K", 0.0, 1e5);

/// How the oil that goes through the film takes heat with it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OilCooling {
    /// All oil at the inlet is fresh. It leaves at the ends half warmed and past the film fully
    /// warmed: `heat = rho cp (Q - Qs / 2) dT` (Raimondi & Boyd 1958, from memory). A bearing
    /// flooded from a pump or a full gravity feed.
    FreshInlet,
    /// Only what leaks at the ends is replaced by fresh oil: `heat = rho cp Qs dT` (ISO 7902-1,
    /// from memory). A pad, a trimming or a drip. The hotter and more careful of the two.
    SideFlowReplaced,
    /// The oil goes round and round and takes no heat away.
    None,
}

/// Where the heat of the film can go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatPath {
    /// How the oil takes heat with it.
    pub oil: OilCooling,
    /// Temperature at which fresh oil enters, K.
    pub inlet_k: f64,
    /// Heat shed by the box or rod to the air for each kelvin, W/K: surface times coefficient.
    /// ISO 7902-1 takes 15 to 20 W/(m2 K) in still air (from memory).
    pub surface_w_k: f64,
    /// Temperature of the air, K.
    pub air_k: f64,
}

/// A film at its running temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WarmFilm {
    /// The film.
    pub film: RunningFilm,
    /// Temperature that sets the viscosity: the mean of the oil as it enters and leaves, K.
    pub film_k: f64,
    /// Temperature of the oil as it leaves, K: `2 film_k - inlet_k`, or `film_k` where the oil
    /// carries nothing off.
    pub outlet_k: f64,
    /// Heat carried off by the oil, W.
    pub oil_heat_w: f64,
    /// Heat shed to the air, W.
    pub surface_heat_w: f64,
}

/// Finds the temperature at which the heat made in the film equals the heat carried off.
///
/// **Equation.** `f W U = rho cp Q' dT + k A (T - T_air)` with `T = T_in + dT / 2`, `Q'` by
/// [`OilCooling`], the film solved at the viscosity of `T`. Own arrangement: for each eccentricity
/// the load fixes the viscosity, the viscosity the temperature, and the film the heat, so that one
/// unknown is sought and each look costs one film. **Units.** SI. **Range.** One temperature for
/// the whole film; steady load. **Source.** Raimondi & Boyd (1958); ISO 7902-1 (from memory).
///
/// # Errors
///
/// [`BearingError::OutOfRange`] on the inputs; [`BearingError::NoHeatBalance`] when no temperature
/// from 250 K to 520 K balances; otherwise as [`super::film_for_load`].
pub fn warm_film(
    bearing: &JournalBearing,
    duty: &SteadyDuty,
    oil: &Oil,
    heat: &HeatPath,
    options: &JournalOptions,
) -> Result<WarmFilm, BearingError> {
    check_heat(heat)?;
    Journal::new(bearing, options)?.warm(duty, oil, heat)
}

pub(super) fn check_heat(heat: &HeatPath) -> Result<(), BearingError> {
    TEMPERATURE.check(heat.inlet_k)?;
    TEMPERATURE.check(heat.air_k)?;
    SURFACE.check(heat.surface_w_k)?;
    Ok(())
}

impl Journal {
    /// See [`warm_film`].
    pub(super) fn warm(
        &mut self,
        duty: &SteadyDuty,
        oil: &Oil,
        heat: &HeatPath,
    ) -> Result<WarmFilm, BearingError> {
        check_duty(duty)?;
        let per_pa_s = self.sommerfeld_per_pa_s(duty);
        let cold_k = heat.inlet_k.min(heat.air_k).max(TEMPERATURE.low);
        let guess = self.guess(per_pa_s * oil.viscosity_pa_s(cold_k + 5.0)?);
        let thickest = oil.viscosity_pa_s(TEMPERATURE.low)?;
        let thinnest = oil.viscosity_pa_s(TEMPERATURE.high)?;
        let units = self.units(duty);
        let warmed = |numbers: &FilmNumbers, search: Convergence| {
            let viscosity = numbers.sommerfeld / per_pa_s;
            // Past either end of the oil's range a made-up temperature carries the search on; an
            // answer that lies there is refused below.
            let film_k = oil.temperature_at(viscosity).unwrap_or(if viscosity > thickest {
                TEMPERATURE.low - BEYOND_K * (viscosity / thickest).ln()
            } else {
                TEMPERATURE.high + BEYOND_K * (thinnest / viscosity).ln()
            });
            share_out(&units.film(numbers, viscosity, search), film_k, oil, heat)
        };
        let nothing = Convergence { passes: 0, residual: 0.0, unknowns: 0 };
        let sought = self.seek("the running temperature", guess, |numbers| {
            let warm = warmed(numbers, nothing)?;
            let made = warm.film.power_w;
            Ok((made - warm.oil_heat_w - warm.surface_heat_w) / made)
        })?;
        let no_balance =
            BearingError::NoHeatBalance { low_k: TEMPERATURE.low, high_k: TEMPERATURE.high };
        match sought {
            Sought::At(numbers, search) => {
                let warm = warmed(&numbers, search)?;
                TEMPERATURE.check(warm.film_k).map_err(|_| no_balance)?;
                Ok(warm)
            }
            Sought::Nowhere { last, seen_low, seen_high } => {
                let warm = warmed(&last, nothing)?;
                TEMPERATURE.check(warm.film_k).map_err(|_| no_balance)?;
                let wanted = last.sommerfeld;
                Err(BearingError::LoadOutsideFilm { wanted, low: seen_low, high: seen_high })
            }
        }
    }
}

/// The heat carried off when the film is at `film_k`.
fn share_out(
    film: &RunningFilm,
    film_k: f64,
    oil: &Oil,
    heat: &HeatPath,
) -> Result<WarmFilm, BearingError> {
    let flow = match heat.oil {
        OilCooling::FreshInlet => film.inflow_m3_s - 0.5 * film.side_flow_m3_s,
        OilCooling::SideFlowReplaced => film.side_flow_m3_s,
        OilCooling::None => 0.0,
    };
    let rise = 2.0 * (film_k - heat.inlet_k);
    let capacity = oil.density_kg_m3(film_k.clamp(TEMPERATURE.low, TEMPERATURE.high))?
        * oil.sheet().heat_capacity_j_kg_k;
    let outlet_k = if heat.oil == OilCooling::None { film_k } else { heat.inlet_k + rise };
    Ok(WarmFilm {
        film: *film,
        film_k,
        outlet_k,
        oil_heat_w: capacity * flow * rise,
        surface_heat_w: heat.surface_w_k * (film_k - heat.air_k),
    })
}
