//! Stress at the surfaces of a joint, and the hypotheses by which it is compared with yield.

/// By which hypothesis an equivalent stress is formed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Hypothesis {
    /// Greatest shear stress: largest minus smallest principal stress (the axial one is nil).
    Tresca,
    /// Greatest shear with the yield shear stress of von Mises: Tresca times `sqrt(3)/2`. This is
    /// the modified hypothesis of DIN 7190-1.
    ModifiedTresca,
    /// Shape-change energy (von Mises).
    VonMises,
}

/// Radial and hoop stress at a point (Pa), tension positive; axial stress nil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stress {
    /// Radial stress (Pa).
    pub radial_pa: f64,
    /// Hoop stress (Pa).
    pub hoop_pa: f64,
}

impl Stress {
    /// The equivalent stress (Pa) by a hypothesis, to be compared with yield.
    ///
    /// Tresca `max(s, 0) - min(s, 0)` over both stresses; modified Tresca `sqrt(3)/2` of that;
    /// von Mises `sqrt(r^2 + t^2 - r t)`.
    pub fn equivalent_pa(self, by: Hypothesis) -> f64 {
        let (r, t) = (self.radial_pa, self.hoop_pa);
        let tresca = r.max(t).max(0.0) - r.min(t).min(0.0);
        match by {
            Hypothesis::Tresca => tresca,
            Hypothesis::ModifiedTresca => tresca * 3f64.sqrt() / 2.0,
            Hypothesis::VonMises => (r * r + t * t - r * t).max(0.0).sqrt(),
        }
    }
}

/// Stress at the four surfaces of a joint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JointStress {
    /// At the hub's bore.
    pub hub_bore: Stress,
    /// At the hub's outside.
    pub hub_outside: Stress,
    /// At the pin's outside.
    pub pin_outside: Stress,
    /// At the pin's bore, or its centre when solid.
    pub pin_inside: Stress,
}
