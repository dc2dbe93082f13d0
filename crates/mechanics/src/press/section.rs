//! One section of a pressed joint: a ring on a solid or hollow pin, after Lamé.

use super::error::need;
use super::stress::{JointStress, Stress};
use super::{Hypothesis, Material, PressError};

/// The diameters of a section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Geometry {
    /// Joint diameter d (m).
    pub joint_m: f64,
    /// Outside diameter of the hub D (m).
    pub hub_outer_m: f64,
    /// Bore of the pin (m), 0 for a solid pin.
    pub pin_bore_m: f64,
}

/// A checked section: geometry and the two materials.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Section {
    geometry: Geometry,
    hub: Material,
    pin: Material,
}

impl Section {
    /// A section.
    ///
    /// # Errors
    /// [`PressError::DiametersOutOfOrder`] unless `0 <= pin bore < joint < hub outside`, all
    /// finite; [`PressError::BadNumber`] for a material that cannot be.
    pub fn new(geometry: Geometry, hub: Material, pin: Material) -> Result<Self, PressError> {
        let Geometry { joint_m, hub_outer_m, pin_bore_m } = geometry;
        let finite = joint_m.is_finite() && hub_outer_m.is_finite() && pin_bore_m.is_finite();
        if !finite || pin_bore_m < 0.0 || pin_bore_m >= joint_m || joint_m >= hub_outer_m {
            return Err(PressError::DiametersOutOfOrder { pin_bore_m, joint_m, hub_outer_m });
        }
        need("joint diameter", joint_m, "m", joint_m >= 1e-6, "a micrometre or more")?;
        hub.check()?;
        pin.check()?;
        Ok(Self { geometry, hub, pin })
    }

    /// The diameters.
    pub fn geometry(&self) -> Geometry {
        self.geometry
    }

    /// The hub's material.
    pub fn hub(&self) -> Material {
        self.hub
    }

    /// The pin's material.
    pub fn pin(&self) -> Material {
        self.pin
    }

    /// Hub diameter ratio d/D (-), below 1.
    pub fn hub_ratio(&self) -> f64 {
        self.geometry.joint_m / self.geometry.hub_outer_m
    }

    /// Pin diameter ratio bore/d (-), 0 when solid.
    pub fn pin_ratio(&self) -> f64 {
        self.geometry.pin_bore_m / self.geometry.joint_m
    }

    /// Elastic joint pressure (Pa) from a diametral interference (m).
    ///
    /// `p = (delta / d) / [ ((1+Q^2)/(1-Q^2) + nu_h)/E_h + ((1+q^2)/(1-q^2) - nu_p)/E_p ]` with
    /// `Q = d/D`, `q = bore/d`. A negative interference is clearance: no contact, no pressure.
    ///
    /// Valid range: elastic in both members (see [`super::joint_state`] for the range beyond),
    /// interference to a tenth of the diameter, beyond which it is no fit but a mistake.
    /// Source: Timoshenko, *Strength of Materials* II, art. 41; DIN 7190-1, rein elastisch.
    /// Worked value (PF-01, Norton, Machine Design, 4th ed., Example 10-5): solid steel pin
    /// 0.781 in in a cast-iron hub 3.00 in, 0.0015 in of interference -> 15 265 psi.
    ///
    /// # Errors
    /// [`PressError::BadNumber`] for an interference that is not finite or above a tenth of the
    /// diameter, or a pressure beyond what a double can hold.
    pub fn pressure_pa(&self, interference_m: f64) -> Result<f64, PressError> {
        self.check_interference(interference_m)?;
        let pressure_pa = self.elastic_pressure_pa(interference_m);
        need("pressure", pressure_pa, "Pa", true, "a number")?;
        Ok(pressure_pa)
    }

    pub(super) fn check_interference(&self, interference_m: f64) -> Result<(), PressError> {
        let sensible = interference_m <= 0.1 * self.geometry.joint_m;
        need("interference", interference_m, "m", sensible, "no more than a tenth of the diameter")
    }

    pub(super) fn elastic_pressure_pa(&self, interference_m: f64) -> f64 {
        interference_m.max(0.0)
            / self.geometry.joint_m
            / (self.hub_compliance() + self.pin_compliance())
    }

    /// The interference (m) that gives a pressure (Pa), elastic: the inverse of
    /// [`Section::pressure_pa`].
    ///
    /// # Errors
    /// [`PressError::BadNumber`] for a pressure that is negative or not finite.
    pub fn interference_m(&self, pressure_pa: f64) -> Result<f64, PressError> {
        need("pressure", pressure_pa, "Pa", pressure_pa >= 0.0, "not negative")?;
        Ok(pressure_pa * self.geometry.joint_m * (self.hub_compliance() + self.pin_compliance()))
    }

    /// Opening of the hub's bore per pressure and diameter (1/Pa).
    pub(super) fn hub_compliance(&self) -> f64 {
        let q2 = self.hub_ratio().powi(2);
        ((1.0 + q2) / (1.0 - q2) + self.hub.poisson) / self.hub.youngs_pa
    }

    /// Closing of the pin per pressure and diameter (1/Pa).
    pub(super) fn pin_compliance(&self) -> f64 {
        let q2 = self.pin_ratio().powi(2);
        ((1.0 + q2) / (1.0 - q2) - self.pin.poisson) / self.pin.youngs_pa
    }

    /// Elastic stresses at the four surfaces under a joint pressure (Pa).
    ///
    /// Hub bore: hoop `p (1+Q^2)/(1-Q^2)`, radial `-p`; hub outside: hoop `2 p Q^2/(1-Q^2)`,
    /// radial 0; pin outside: hoop `-p (1+q^2)/(1-q^2)`, radial `-p`; pin bore: hoop
    /// `-2 p/(1-q^2)`, radial 0 (a solid pin has `-p` both ways at its centre).
    ///
    /// Source: as [`Section::pressure_pa`]. Worked value (PF-05): d 60, D 120, bore 20 mm, E
    /// 206 GPa, 0.053 mm -> p 62.39 MPa, hub hoop 103.98, pin outside -77.99 MPa (computed).
    ///
    /// # Errors
    /// [`PressError::BadNumber`] for a pressure that is negative or not finite.
    pub fn stress(&self, pressure_pa: f64) -> Result<JointStress, PressError> {
        need("pressure", pressure_pa, "Pa", pressure_pa >= 0.0, "not negative")?;
        let p = pressure_pa;
        let q2 = self.hub_ratio().powi(2);
        let i2 = self.pin_ratio().powi(2);
        let pin_inside = if i2 > 0.0 {
            Stress { radial_pa: 0.0, hoop_pa: -2.0 * p / (1.0 - i2) }
        } else {
            Stress { radial_pa: -p, hoop_pa: -p }
        };
        Ok(JointStress {
            hub_bore: Stress { radial_pa: -p, hoop_pa: p * (1.0 + q2) / (1.0 - q2) },
            hub_outside: Stress { radial_pa: 0.0, hoop_pa: 2.0 * p * q2 / (1.0 - q2) },
            pin_outside: Stress { radial_pa: -p, hoop_pa: -p * (1.0 + i2) / (1.0 - i2) },
            pin_inside,
        })
    }

    /// The joint pressure (Pa) at which the hub's bore first yields.
    ///
    /// With `Q = d/D` and yield R: modified Tresca `R (1-Q^2)/sqrt(3)` (DIN 7190-1), Tresca
    /// `R (1-Q^2)/2`, von Mises `R (1-Q^2)/sqrt(3+Q^4)`.
    pub fn hub_yield_pressure_pa(&self, by: Hypothesis) -> f64 {
        let q2 = self.hub_ratio().powi(2);
        let strength = self.hub.yield_pa * (1.0 - q2);
        match by {
            Hypothesis::Tresca => strength / 2.0,
            Hypothesis::ModifiedTresca => strength / 3f64.sqrt(),
            Hypothesis::VonMises => strength / (3.0 + q2 * q2).sqrt(),
        }
    }

    /// The joint pressure (Pa) at which the pin first yields: at its bore when hollow,
    /// throughout when solid.
    ///
    /// Hollow, `q = bore/d`: Tresca and von Mises `R (1-q^2)/2`, modified Tresca
    /// `R (1-q^2)/sqrt(3)`; solid: Tresca and von Mises `R`, modified Tresca `2 R/sqrt(3)`
    /// (DIN 7190-1).
    pub fn pin_yield_pressure_pa(&self, by: Hypothesis) -> f64 {
        let solid = self.geometry.pin_bore_m <= 0.0;
        let full = match by {
            Hypothesis::Tresca | Hypothesis::VonMises => self.pin.yield_pa,
            Hypothesis::ModifiedTresca => self.pin.yield_pa * 2.0 / 3f64.sqrt(),
        };
        if solid { full } else { full * (1.0 - self.pin_ratio().powi(2)) / 2.0 }
    }
}
