//! A joint in slices along its length: hubs stepped outside, pins stepped inside.

use super::error::need;
use super::{Behaviour, PressError, Section, joint_state};

/// One slice of a joint: a length over which nothing changes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slice {
    /// Its length along the axis (m).
    pub length_m: f64,
    /// Its section.
    pub section: Section,
    /// Effective diametral interference in it, losses taken off (m).
    pub interference_m: f64,
}

/// A joint as a row of slices.
#[derive(Debug, Clone, PartialEq)]
pub struct Assembly {
    slices: Vec<Slice>,
    pressures_pa: Vec<f64>,
}

/// What a joint holds at one coefficient of friction, or what is asked of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Holding {
    /// Axial force to draw it off (N).
    pub axial_n: f64,
    /// Torque at slip (N m).
    pub torque_nm: f64,
}

/// A duty: axial force and torque at once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// Axial force (N).
    pub axial_n: f64,
    /// Torque (N m).
    pub torque_nm: f64,
}

impl Assembly {
    /// A joint from its slices, each with its own pressure as if the others were not there.
    ///
    /// That is the usual approximation (DIN 7190-1, stepped hubs): a thin slice beside a thick
    /// one is in truth helped by it, so the sum is on the low side near a step and right away
    /// from it.
    ///
    /// # Errors
    /// [`PressError::TooFew`] without slices; [`PressError::BadNumber`] for a length that is not
    /// positive; as [`joint_state`] when the elastic-plastic behaviour is asked for.
    pub fn new(slices: Vec<Slice>, behaviour: Behaviour) -> Result<Self, PressError> {
        if slices.is_empty() {
            return Err(PressError::TooFew { what: "slices", given: 0, least: 1 });
        }
        let mut pressures_pa = Vec::with_capacity(slices.len());
        for slice in &slices {
            need("length of a slice", slice.length_m, "m", slice.length_m > 0.0, "above 0")?;
            pressures_pa.push(match behaviour {
                Behaviour::Elastic => slice.section.pressure_pa(slice.interference_m)?,
                Behaviour::ElasticPlastic => {
                    joint_state(&slice.section, slice.interference_m)?.pressure_pa
                }
            });
        }
        Ok(Self { slices, pressures_pa })
    }

    /// The slices with their joint pressures (Pa).
    pub fn slices(&self) -> impl Iterator<Item = (&Slice, f64)> {
        self.slices.iter().zip(self.pressures_pa.iter().copied())
    }

    /// Length of the joint (m).
    pub fn length_m(&self) -> f64 {
        self.slices.iter().map(|s| s.length_m).sum()
    }

    /// Normal force between the members (N), summed over the surface: `sum of pi d l p`.
    pub fn normal_force_n(&self) -> f64 {
        self.slices()
            .map(|(s, p)| std::f64::consts::PI * s.section.geometry().joint_m * s.length_m * p)
            .sum()
    }

    /// What the joint holds at a coefficient of friction.
    ///
    /// Axial `sum of pi d l p f`; torque `sum of pi d^2 l p f / 2`; each as if the other were
    /// not there. Source: Shigley, *Mechanical Engineering Design*; DIN 7190-1. Worked value
    /// (PF-02): the joint of PF-01, 1.5 in long, f = 0.15 -> 3291 lbf in.
    ///
    /// # Errors
    /// [`PressError::BadNumber`] for a friction that is not positive.
    pub fn holding(&self, friction: f64) -> Result<Holding, PressError> {
        need("friction", friction, "-", friction > 0.0, "above 0")?;
        let mut held = Holding { axial_n: 0.0, torque_nm: 0.0 };
        for (slice, pressure_pa) in self.slices() {
            let joint_m = slice.section.geometry().joint_m;
            let force_n = std::f64::consts::PI * joint_m * slice.length_m * pressure_pa * friction;
            held.axial_n += force_n;
            held.torque_nm += 0.5 * joint_m * force_n;
        }
        Ok(held)
    }

    /// Factor of safety against slip under axial force and torque together (-).
    ///
    /// The two add as a resultant at the surface: `S = 1/sqrt((F/F_held)^2 + (T/T_held)^2)`, with
    /// the holding at the friction given. `None` when there is no load. It does not say that the
    /// joint is strong enough otherwise.
    ///
    /// Source: DIN 7190-1 (resultant of axial and tangential force), from memory; exact for one
    /// diameter.
    ///
    /// # Errors
    /// [`PressError::BadNumber`] for a load that is not finite or a friction that is not positive.
    pub fn slip_safety(&self, load: Load, friction: f64) -> Result<Option<f64>, PressError> {
        need("axial load", load.axial_n, "N", true, "a number")?;
        need("torque", load.torque_nm, "N m", true, "a number")?;
        let held = self.holding(friction)?;
        if load.axial_n == 0.0 && load.torque_nm == 0.0 {
            return Ok(None);
        }
        if held.axial_n == 0.0 {
            return Ok(Some(0.0));
        }
        let share = (load.axial_n / held.axial_n).hypot(load.torque_nm / held.torque_nm);
        Ok(Some(1.0 / share))
    }
}
