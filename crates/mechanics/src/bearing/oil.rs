//! Oil: how its viscosity falls as it warms.

use super::error::{BearingError, Range};

/// Absolute zero on the Celsius scale.
const ZERO_CELSIUS_K: f64 = 273.15;
/// Density is stated at this temperature (ISO 91, 15 degC).
const DENSITY_AT_K: f64 = ZERO_CELSIUS_K + 15.0;
/// Share of volume gained per kelvin by a mineral lubricating oil (handbook figure, from memory).
const EXPANSION_PER_K: f64 = 0.000_65;
/// Vogel's constant fixed at 95 degC, so that two readings are enough (ISO 7902-1 / DIN 31652
/// practice, from memory).
const VOGEL_OFFSET_K: f64 = ZERO_CELSIUS_K - 95.0;

const KINEMATIC: Range = Range::new("kinematic viscosity", "m2/s", 1.5e-6, 0.5);
const TEMPERATURE: Range = Range::new("temperature of the oil", "K", 250.0, 520.0);
const DENSITY: Range = Range::new("density of the oil", "kg/m3", 600.0, 1300.0);
const HEAT: Range = Range::new("heat capacity of the oil", "J/(kg K)", 1000.0, 5000.0);

/// One reading off the oil's sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OilPoint {
    /// Kinematic viscosity, m2/s (1 mm2/s = 1 cSt = 1e-6 m2/s).
    pub kinematic_m2_s: f64,
    /// Temperature, K.
    pub temperature_k: f64,
}

/// The law that carries viscosity between and a little beyond the two readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ViscosityLaw {
    /// `log10 log10(nu + 0.7) = A - B log10 T`, `nu` in mm2/s, `T` in K: Walther's law as ASTM
    /// D341 uses it. The default.
    #[default]
    Walther,
    /// `ln mu = a + b / (t + 95)`, `t` in degC: Vogel's law with its third constant fixed.
    Vogel,
}

/// What is known of an oil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OilSheet {
    /// The cooler reading.
    pub cooler: OilPoint,
    /// The warmer reading.
    pub warmer: OilPoint,
    /// Density at 15 degC, kg/m3.
    pub density_kg_m3: f64,
    /// Specific heat capacity, J/(kg K): about 2000 for mineral oil.
    pub heat_capacity_j_kg_k: f64,
    /// The law between the readings.
    pub law: ViscosityLaw,
}

/// An oil whose viscosity is known at any working temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Oil {
    sheet: OilSheet,
    intercept: f64,
    slope: f64,
}

impl Oil {
    /// Draws the curve through the two readings of the sheet.
    ///
    /// **Worked value.** 32 mm2/s at 40 degC and 5.4 mm2/s at 100 degC give 8.5 mm2/s at 80 degC
    /// by Walther's law.
    ///
    /// # Errors
    ///
    /// [`BearingError::OutOfRange`] on the readings; [`BearingError::ViscosityNotFalling`] when the
    /// warmer reading is not both warmer and thinner.
    pub fn new(sheet: OilSheet) -> Result<Self, BearingError> {
        for point in [sheet.cooler, sheet.warmer] {
            KINEMATIC.check(point.kinematic_m2_s)?;
            TEMPERATURE.check(point.temperature_k)?;
        }
        DENSITY.check(sheet.density_kg_m3)?;
        HEAT.check(sheet.heat_capacity_j_kg_k)?;
        let mut oil = Self { sheet, intercept: 0.0, slope: 0.0 };
        let (x1, y1) = oil.straight(sheet.cooler);
        let (x2, y2) = oil.straight(sheet.warmer);
        oil.slope = (y2 - y1) / (x2 - x1);
        oil.intercept = y1 - oil.slope * x1;
        let falling = sheet.warmer.temperature_k - sheet.cooler.temperature_k >= 1.0
            && sheet.warmer.kinematic_m2_s < sheet.cooler.kinematic_m2_s
            && oil.slope.is_finite();
        if !falling {
            return Err(BearingError::ViscosityNotFalling {
                first_pa_s: sheet.cooler.kinematic_m2_s * oil.density(sheet.cooler.temperature_k),
                first_k: sheet.cooler.temperature_k,
                second_pa_s: sheet.warmer.kinematic_m2_s * oil.density(sheet.warmer.temperature_k),
                second_k: sheet.warmer.temperature_k,
            });
        }
        Ok(oil)
    }

    /// The sheet it was made from.
    #[must_use]
    pub fn sheet(&self) -> &OilSheet {
        &self.sheet
    }

    /// Kinematic viscosity, m2/s.
    ///
    /// # Errors
    ///
    /// [`BearingError::OutOfRange`] unless 250 K to 520 K.
    pub fn kinematic_m2_s(&self, temperature_k: f64) -> Result<f64, BearingError> {
        let t = TEMPERATURE.check(temperature_k)?;
        Ok(match self.sheet.law {
            ViscosityLaw::Walther => {
                let double_log = self.intercept + self.slope * t.log10();
                (10.0_f64.powf(10.0_f64.powf(double_log)) - 0.7) * 1e-6
            }
            ViscosityLaw::Vogel => {
                (self.intercept + self.slope / (t - VOGEL_OFFSET_K)).exp() / self.density(t)
            }
        })
    }

    /// Dynamic viscosity, Pa s: kinematic viscosity times the density at that temperature.
    ///
    /// # Errors
    ///
    /// [`BearingError::OutOfRange`] unless 250 K to 520 K.
    pub fn viscosity_pa_s(&self, temperature_k: f64) -> Result<f64, BearingError> {
        Ok(self.kinematic_m2_s(temperature_k)? * self.density(temperature_k))
    }

    /// Density, kg/m3, falling with temperature from the sheet's figure at 15 degC by 0.065 per
    /// cent of volume a kelvin.
    ///
    /// # Errors
    ///
    /// [`BearingError::OutOfRange`] unless 250 K to 520 K.
    pub fn density_kg_m3(&self, temperature_k: f64) -> Result<f64, BearingError> {
        Ok(self.density(TEMPERATURE.check(temperature_k)?))
    }

    /// The temperature at which the oil has this viscosity: `None` outside 250 K to 520 K.
    #[must_use]
    pub fn temperature_at(&self, viscosity_pa_s: f64) -> Option<f64> {
        let (mut cold, mut hot) = (TEMPERATURE.low, TEMPERATURE.high);
        let at = |t: f64| self.viscosity_pa_s(t).unwrap_or(f64::NAN);
        if !(viscosity_pa_s <= at(cold) && viscosity_pa_s >= at(hot)) {
            return None;
        }
        // Viscosity times falling density has no neat inverse; halving is quick enough here.
        for _ in 0..60 {
            let middle = 0.5 * (cold + hot);
            if at(middle) > viscosity_pa_s {
                cold = middle;
            } else {
                hot = middle;
            }
        }
        Some(0.5 * (cold + hot))
    }

    fn density(&self, temperature_k: f64) -> f64 {
        self.sheet.density_kg_m3 / (1.0 + EXPANSION_PER_K * (temperature_k - DENSITY_AT_K))
    }

    /// The coordinates in which the law is a straight line.
    fn straight(&self, point: OilPoint) -> (f64, f64) {
        let t = point.temperature_k;
        match self.sheet.law {
            ViscosityLaw::Walther => {
                (t.log10(), (point.kinematic_m2_s * 1e6 + 0.7).log10().log10())
            }
            ViscosityLaw::Vogel => {
                (1.0 / (t - VOGEL_OFFSET_K), (point.kinematic_m2_s * self.density(t)).ln())
            }
        }
    }
}
