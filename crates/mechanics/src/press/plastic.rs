//! The elastic-plastic range of DIN 7190-1: a hub whose bore yields under the joint pressure.

use super::{Hypothesis, PressError, Section};

/// Which range a joint is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Range {
    /// Clearance or just touching.
    NoContact,
    /// Elastic throughout.
    Elastic,
    /// The hub is plastic out to a diameter, elastic beyond it; the pin is elastic.
    HubPartlyPlastic,
}

/// The state of a joint at an interference.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JointState {
    /// Which range.
    pub range: Range,
    /// Joint pressure (Pa).
    pub pressure_pa: f64,
    /// Diameter out to which the hub is plastic (m); the joint diameter when elastic.
    pub plastic_diameter_m: f64,
    /// Part of the hub's cross-section that is plastic (-), `(zeta^2-1) Q^2/(1-Q^2)`. DIN 7190-1
    /// asks for no more than about 0.3 in highly loaded joints (from memory).
    pub plastic_share: f64,
    /// Whether DIN 7190-1 covers the case: solid pin and equal elastic constants, or elastic.
    /// Otherwise the plastic result is the extension derived in this module.
    pub within_din_scope: bool,
}

// Own derivation of the general case; it gives DIN 7190-1's equation for a solid pin of the
// hub's elastic constants. With radii a (joint), c (plastic front), b (outside), zeta = c/a,
// Q = a/b, k = 2 R/sqrt(3) (yield: hoop - radial = k):
//
//   plastic zone, equilibrium   r ds_r/dr = k          -> s_r = -p + k ln(r/a)
//   elastic ring at its limit   p_c = k (1 - Q^2 zeta^2)/2
//   so                          p = k [ ln zeta + (1 - Q^2 zeta^2)/2 ]
//
// Tresca's flow rule strains only radially and hoopwise without change of area, so the sum of
// the strains is elastic: (1/r) d(r u)/dr = (1-nu)/E (s_r + s_t) = (1-nu)/(E r) d(r^2 s_r)/dr.
// Integrated from a to c, with the elastic ring's u(c) = c p_c/E [(1+q)/(1-q) + nu], q = (c/b)^2:
//
//   u(a)/a = k zeta^2/E - (1-nu) p/E
//
// The pin closes elastically by p (its compliance). Interference over diameter is the sum:
//
//   delta/d = k zeta^2/E_h + p [ C_pin - (1-nu_h)/E_h ]
//
// With a solid pin of the same constants the bracket is nil: delta/d = 2 zeta^2 R/(sqrt(3) E),
// which is DIN 7190-1. At zeta = 1 it is the elastic equation at first yield, so the ranges
// join. It holds while the hoop stress at the bore, k - p, is not compressive (the axial stress
// would stop being the middle one): p <= k.

/// The state of a joint at a diametral interference (m), elastic or with the hub partly plastic.
///
/// Elastic to the modified Tresca limit of the hub; beyond it
/// `p = k [ln zeta + (1 - Q^2 zeta^2)/2]` and
/// `delta/d = k zeta^2/E_h + p [C_pin - (1 - nu_h)/E_h]`, `k = 2 R/sqrt(3)`, `zeta` the plastic
/// front over the joint diameter.
///
/// Valid range: ductile hub (DIN 7190-1: elongation 10 % and reduction of area 30 % at least,
/// from memory), elastic pin, plastic front within the hub, `p <= k`, first pressing only (a
/// joint that has yielded does not give the same interference again).
///
/// Source: DIN 7190-1:2017, elastisch-plastisch (solid pin, equal constants), from memory; own
/// derivation for other pins, shown in the source. Limit case: `zeta = 1/Q` gives
/// `p = k ln(D/d)`, Hill, *The Mathematical Theory of Plasticity* (1950), ch. V.
///
/// # Errors
/// [`PressError::BadNumber`], [`PressError::PinYields`], [`PressError::HubFullyPlastic`].
pub fn joint_state(section: &Section, interference_m: f64) -> Result<JointState, PressError> {
    section.check_interference(interference_m)?;
    let joint_m = section.geometry().joint_m;
    if interference_m <= 0.0 {
        return Ok(JointState {
            range: Range::NoContact,
            pressure_pa: 0.0,
            plastic_diameter_m: joint_m,
            plastic_share: 0.0,
            within_din_scope: true,
        });
    }
    let pin_limit = section.pin_yield_pressure_pa(Hypothesis::ModifiedTresca);
    let elastic = section.elastic_pressure_pa(interference_m);
    if elastic <= section.hub_yield_pressure_pa(Hypothesis::ModifiedTresca) {
        if elastic > pin_limit {
            return Err(PressError::PinYields { pressure_pa: elastic, limit_pa: pin_limit });
        }
        return Ok(JointState {
            range: Range::Elastic,
            pressure_pa: elastic,
            plastic_diameter_m: joint_m,
            plastic_share: 0.0,
            within_din_scope: true,
        });
    }
    let ring = PlasticRing::new(section);
    let limit = ring.front_limit();
    let wanted = interference_m / joint_m;
    if wanted > ring.relative_interference(limit) {
        return Err(PressError::HubFullyPlastic {
            interference_m,
            limit_m: ring.relative_interference(limit) * joint_m,
        });
    }
    // Interference rises steadily with the front, so halving cannot miss; 60 halvings leave
    // less than the spacing of doubles.
    let (mut inside, mut outside) = (1.0, limit);
    for _ in 0..60 {
        let middle = 0.5 * (inside + outside);
        if ring.relative_interference(middle) < wanted {
            inside = middle;
        } else {
            outside = middle;
        }
    }
    let zeta = 0.5 * (inside + outside);
    let pressure_pa = ring.pressure_pa(zeta);
    if pressure_pa > pin_limit {
        return Err(PressError::PinYields { pressure_pa, limit_pa: pin_limit });
    }
    Ok(JointState {
        range: Range::HubPartlyPlastic,
        pressure_pa,
        plastic_diameter_m: zeta * joint_m,
        plastic_share: ring.share(zeta),
        within_din_scope: ring.din_scope,
    })
}

/// The interference (m) at which a given part of the hub's section is plastic; 0 gives the
/// elastic limit. Never beyond the range of [`joint_state`].
pub(super) fn interference_at_share_m(section: &Section, share: f64) -> f64 {
    let ring = PlasticRing::new(section);
    let zeta = (1.0 + share * (1.0 - ring.q2) / ring.q2).sqrt().clamp(1.0, ring.front_limit());
    ring.relative_interference(zeta) * section.geometry().joint_m
}

/// The interference (m) at which the pin reaches its own limit while the hub may be plastic.
pub(super) fn interference_at_pressure_m(section: &Section, pressure_pa: f64) -> Option<f64> {
    let joint_m = section.geometry().joint_m;
    if pressure_pa <= section.hub_yield_pressure_pa(Hypothesis::ModifiedTresca) {
        return section.interference_m(pressure_pa).ok();
    }
    let ring = PlasticRing::new(section);
    let limit = ring.front_limit();
    if pressure_pa > ring.pressure_pa(limit) {
        return None;
    }
    let (mut inside, mut outside) = (1.0, limit);
    for _ in 0..60 {
        let middle = 0.5 * (inside + outside);
        if ring.pressure_pa(middle) < pressure_pa {
            inside = middle;
        } else {
            outside = middle;
        }
    }
    Some(ring.relative_interference(0.5 * (inside + outside)) * joint_m)
}

struct PlasticRing {
    k_pa: f64,
    q2: f64,
    hub_youngs_pa: f64,
    bracket: f64,
    din_scope: bool,
}

impl PlasticRing {
    fn new(section: &Section) -> Self {
        let (hub, pin) = (section.hub(), section.pin());
        Self {
            k_pa: 2.0 * hub.yield_pa / 3f64.sqrt(),
            q2: section.hub_ratio().powi(2),
            hub_youngs_pa: hub.youngs_pa,
            bracket: section.pin_compliance() - (1.0 - hub.poisson) / hub.youngs_pa,
            din_scope: section.geometry().pin_bore_m <= 0.0
                && hub.youngs_pa == pin.youngs_pa
                && hub.poisson == pin.poisson,
        }
    }

    fn pressure_pa(&self, zeta: f64) -> f64 {
        self.k_pa * (zeta.ln() + 0.5 * (1.0 - self.q2 * zeta * zeta))
    }

    fn relative_interference(&self, zeta: f64) -> f64 {
        self.k_pa * zeta * zeta / self.hub_youngs_pa + self.pressure_pa(zeta) * self.bracket
    }

    fn share(&self, zeta: f64) -> f64 {
        (zeta * zeta - 1.0) * self.q2 / (1.0 - self.q2)
    }

    /// The front's furthest: the outside of the hub, or where the pressure reaches k in a hub
    /// thicker than D/d = e.
    fn front_limit(&self) -> f64 {
        let outside = 1.0 / self.q2.sqrt();
        if self.pressure_pa(outside) <= self.k_pa {
            return outside;
        }
        let (mut inside, mut beyond) = (1.0, outside);
        for _ in 0..60 {
            let middle = 0.5 * (inside + beyond);
            if self.pressure_pa(middle) < self.k_pa {
                inside = middle;
            } else {
                beyond = middle;
            }
        }
        inside
    }
}
