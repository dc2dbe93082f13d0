//! Heating the hub or chilling the pin to put a joint together without pressing.

use super::error::need;
use super::{PressError, Section};

/// What kind of hub it is, for the temperature it may be taken to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HeatLimit {
    /// Plain structural or forged steel, cast steel, nodular iron: 350 °C.
    PlainSteel,
    /// Steel hardened and tempered to high strength: 300 °C, never above its tempering.
    HardenedTempered,
    /// Surface-hardened: 250 °C.
    SurfaceHardened,
    /// Case-hardened or high-alloy: 200 °C.
    CaseHardened,
    /// A limit set by a competent person (°C).
    Given {
        /// The limit (°C).
        celsius: f64,
    },
}

impl HeatLimit {
    /// The temperature not to be passed (°C).
    ///
    /// Source: DIN 7190-1:2017, table of joining temperatures, from memory; the maker's figures
    /// and the parts' own history go before it.
    pub fn celsius(self) -> f64 {
        match self {
            Self::PlainSteel => 350.0,
            Self::HardenedTempered => 300.0,
            Self::SurfaceHardened => 250.0,
            Self::CaseHardened => 200.0,
            Self::Given { celsius } => celsius,
        }
    }
}

/// What is wanted of the assembly.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatWanted {
    /// The largest interference that may meet (m).
    pub interference_m: f64,
    /// The diametral gap wanted when they go together (m). DIN 7190-1 asks for a thousandth of
    /// the diameter, or as much again as half the interference (from memory).
    pub gap_m: f64,
    /// Temperature of the shop, at which the parts were measured (°C).
    pub shop_celsius: f64,
    /// Temperature of the pin when they go together (°C); the shop's when it is not chilled.
    pub pin_celsius: f64,
    /// Heat the hub loses between fire and joint, as a fall of temperature (K).
    pub cooling_on_the_way_k: f64,
    /// The hub's limit.
    pub limit: HeatLimit,
}

/// How hot and how cold, and what to mind.
#[derive(Debug, Clone, PartialEq)]
pub struct AssemblyHeat {
    /// Rise of the hub above the shop when they meet (K).
    pub hub_rise_k: f64,
    /// Temperature of the hub when they meet (°C).
    pub hub_at_joint_celsius: f64,
    /// Temperature to heat the hub to, the loss on the way included (°C).
    pub heat_to_celsius: f64,
    /// The limit it was held against (°C).
    pub limit_celsius: f64,
    /// Whether the limit is kept.
    pub within_limit: bool,
    /// How cold the pin would have to be (°C) if the hub were left at shop temperature; `None`
    /// when that is below -196 °C, where liquid nitrogen ends.
    pub chill_only_celsius: Option<f64>,
    /// Cautions for whoever does it. Show them all.
    pub cautions: Vec<&'static str>,
}

/// The temperature a hub needs to pass over its pin with a gap.
///
/// With the hub bored to d and the pin at d + delta:
/// `d (1 + alpha_h dT_h) = (d + delta)(1 + alpha_p dT_p) + gap`.
///
/// Valid range: constant expansion (steel expands about 12e-6 /K to 200 °C and more above, so the
/// figure is on the hot side). Source: first principles; DIN 7190-1. Worked value (PF-06):
/// 100 mm, 0.146 mm interference, 0.050 mm gap, 11e-6 /K -> 178 K.
///
/// # Errors
/// [`PressError::BadNumber`].
pub fn assembly_heat(section: &Section, wanted: &HeatWanted) -> Result<AssemblyHeat, PressError> {
    let w = wanted;
    need("interference", w.interference_m, "m", w.interference_m >= 0.0, "not negative")?;
    need("gap", w.gap_m, "m", w.gap_m >= 0.0, "not negative")?;
    for (what, value) in [("shop temperature", w.shop_celsius), ("pin temperature", w.pin_celsius)]
    {
        need(what, value, "degC", (-273.15..=1000.0).contains(&value), "from -273.15 to 1000")?;
    }
    let lost = w.cooling_on_the_way_k;
    need("cooling on the way", lost, "K", lost >= 0.0, "not negative")?;
    let limit_celsius = w.limit.celsius();
    need("temperature limit", limit_celsius, "degC", true, "a number")?;

    let joint_m = section.geometry().joint_m;
    let pin_m = joint_m + w.interference_m;
    let pin_rise = w.pin_celsius - w.shop_celsius;
    let passing_m = pin_m * (1.0 + section.pin().expansion_per_k * pin_rise) + w.gap_m;
    let hub_rise_k = ((passing_m / joint_m - 1.0) / section.hub().expansion_per_k).max(0.0);
    let hub_at_joint_celsius = w.shop_celsius + hub_rise_k;
    let heat_to_celsius = hub_at_joint_celsius + lost;
    let chill_rise = ((joint_m - w.gap_m) / pin_m - 1.0) / section.pin().expansion_per_k;
    let chill_only = w.shop_celsius + chill_rise;

    let mut cautions = vec![
        "a competent person decides on the method and is present; local rules and licensed practice come first",
        "hot and cold parts burn: gloves, face and foot protection, no standing under the lift",
        "have gauges, stops and lifting tackle tried cold first: once they touch they grip at once",
        "heat evenly and slowly round the whole hub and measure its temperature with an instrument, not by colour alone",
    ];
    if heat_to_celsius > w.shop_celsius + 1.0 {
        cautions.push(
            "steel shows oxide colours above about 220 degC and scales above about 550 degC: scale in the joint spoils the fit",
        );
        cautions.push(
            "heat above its tempering temperature softens a hardened or tempered part: know the part's history first",
        );
        cautions.push("burning oil, paint and grease give off fumes: clean first, ventilate");
    }
    if w.pin_celsius < -20.0 {
        cautions.push(
            "dry ice and liquid nitrogen take the place of the air and burn the skin: ventilate, measure oxygen, use trained people",
        );
        cautions.push(
            "steel turns brittle in the cold, some below -20 degC: no blows on the chilled part; frost in the joint spoils the fit",
        );
    }
    if heat_to_celsius > limit_celsius {
        cautions.push("the temperature is above the limit for this hub: chill the pin as well, take less gap, or press");
    }
    Ok(AssemblyHeat {
        hub_rise_k,
        hub_at_joint_celsius,
        heat_to_celsius,
        limit_celsius,
        within_limit: heat_to_celsius <= limit_celsius,
        chill_only_celsius: (chill_only >= -196.0).then_some(chill_only),
        cautions,
    })
}
