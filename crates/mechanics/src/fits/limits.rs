//! Tolerance classes, fits, and the limits they give at a size.

use std::fmt;

use super::deviation::limits_nm;
use super::step::StepIndex;
use super::{FitsError, Grade, Letter, Member};

/// A tolerance class: hole or shaft, letter, grade, such as `H7` or `js6`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Zone {
    /// Hole or shaft.
    pub member: Member,
    /// Where the zone lies.
    pub letter: Letter,
    /// How wide it is.
    pub grade: Grade,
}

/// The two deviations of a class at a size (m), measured from the nominal size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Lower deviation, EI or ei (m).
    pub lower_m: f64,
    /// Upper deviation, ES or es (m).
    pub upper_m: f64,
}

impl Limits {
    /// Width of the zone (m).
    pub fn width_m(self) -> f64 {
        self.upper_m - self.lower_m
    }
}

/// A band of clearance, or of anything measured in metres: from `min_m` to `max_m`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Lower end (m).
    pub min_m: f64,
    /// Upper end (m).
    pub max_m: f64,
}

impl Band {
    /// The same band seen from the other side: a clearance band as interference and back.
    pub fn flipped(self) -> Self {
        // Subtraction rather than negation, so that a zero stays a plain zero.
        Self { min_m: 0.0 - self.max_m, max_m: 0.0 - self.min_m }
    }
}

impl Zone {
    /// A class of the hole.
    pub fn hole(letter: Letter, grade: Grade) -> Self {
        Self { member: Member::Hole, letter, grade }
    }

    /// A class of the shaft.
    pub fn shaft(letter: Letter, grade: Grade) -> Self {
        Self { member: Member::Shaft, letter, grade }
    }

    /// The limits at a nominal size (m).
    ///
    /// The far deviation is the fundamental deviation plus or minus the standard tolerance.
    /// Source and range: see [`super::fundamental_deviation_m`] and
    /// [`super::standard_tolerance_m`]. Worked values: 60 s6 -> +53 to +72 µm; 45 js8 -> ±19.5 µm.
    ///
    /// # Errors
    /// As those two.
    pub fn limits(self, size_m: f64) -> Result<Limits, FitsError> {
        let (lower, upper) =
            limits_nm(StepIndex::of(size_m)?, self.member, self.letter, self.grade)?;
        Ok(Limits { lower_m: f64::from(lower) * 1e-9, upper_m: f64::from(upper) * 1e-9 })
    }
}

impl fmt::Display for Zone {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let grade = if self.grade == Grade::IT01 {
            "01".to_owned()
        } else {
            self.grade.number().to_string()
        };
        write!(f, "{}{grade}", self.letter.text(self.member))
    }
}

/// A fit: a class for the hole and a class for the shaft.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Fit {
    /// The hole's class; its `member` is always the hole.
    hole: Zone,
    /// The shaft's class; its `member` is always the shaft.
    shaft: Zone,
}

/// Whether a fit always has clearance, always interference, or may have either.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum FitKind {
    /// The smallest hole is not smaller than the largest shaft.
    Clearance,
    /// Either may happen.
    Transition,
    /// The largest hole is not larger than the smallest shaft.
    Interference,
}

/// A fit's limits at one size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FitLimits {
    /// Nominal size (m).
    pub size_m: f64,
    /// The hole's deviations.
    pub hole: Limits,
    /// The shaft's deviations.
    pub shaft: Limits,
    /// Hole minus shaft: smallest and largest clearance (m); negative is interference.
    pub clearance: Band,
}

impl Fit {
    /// A fit of two letters with their grades.
    pub fn new(hole: (Letter, Grade), shaft: (Letter, Grade)) -> Self {
        Self { hole: Zone::hole(hole.0, hole.1), shaft: Zone::shaft(shaft.0, shaft.1) }
    }

    /// The hole's class.
    pub fn hole(self) -> Zone {
        self.hole
    }

    /// The shaft's class.
    pub fn shaft(self) -> Zone {
        self.shaft
    }

    /// The limits at a nominal size (m).
    ///
    /// `clearance = [EI - es, ES - ei]`. Worked value: 60 H7/s6 -> interference 23 to 72 µm.
    ///
    /// # Errors
    /// As [`Zone::limits`].
    pub fn at(self, size_m: f64) -> Result<FitLimits, FitsError> {
        FitLimits::new(size_m, self.hole.limits(size_m)?, self.shaft.limits(size_m)?)
    }
}

impl fmt::Display for Fit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.hole, self.shaft)
    }
}

impl FitLimits {
    /// A fit from limits of one's own (a drawing's figures rather than a symbol).
    ///
    /// # Errors
    /// [`FitsError::BadNumber`] for figures that are not finite or a size that is not positive;
    /// [`FitsError::BandUpsideDown`] when an upper deviation is below its lower.
    pub fn new(size_m: f64, hole: Limits, shaft: Limits) -> Result<Self, FitsError> {
        if !size_m.is_finite() || size_m <= 0.0 {
            return Err(FitsError::BadNumber {
                what: "nominal size",
                value: size_m,
                unit: "m",
                condition: "above 0",
            });
        }
        for limits in [hole, shaft] {
            for value in [limits.lower_m, limits.upper_m] {
                if !value.is_finite() {
                    return Err(FitsError::BadNumber {
                        what: "deviation",
                        value,
                        unit: "m",
                        condition: "a number",
                    });
                }
            }
            if limits.lower_m > limits.upper_m {
                return Err(FitsError::BandUpsideDown {
                    min_m: limits.lower_m,
                    max_m: limits.upper_m,
                });
            }
        }
        let clearance =
            Band { min_m: hole.lower_m - shaft.upper_m, max_m: hole.upper_m - shaft.lower_m };
        Ok(Self { size_m, hole, shaft, clearance })
    }

    /// Clearance, transition or interference. Table values are whole tenths of a micrometre at
    /// finest, so a difference under a nanometre counts as zero.
    pub fn kind(&self) -> FitKind {
        if self.clearance.min_m > -1e-9 {
            FitKind::Clearance
        } else if self.clearance.max_m < 1e-9 {
            FitKind::Interference
        } else {
            FitKind::Transition
        }
    }

    /// Shaft minus hole: smallest and largest interference (m); negative is clearance.
    pub fn interference(&self) -> Band {
        self.clearance.flipped()
    }

    /// Actual hole sizes allowed (m).
    pub fn hole_size(&self) -> Band {
        Band { min_m: self.size_m + self.hole.lower_m, max_m: self.size_m + self.hole.upper_m }
    }

    /// Actual shaft sizes allowed (m).
    pub fn shaft_size(&self) -> Band {
        Band { min_m: self.size_m + self.shaft.lower_m, max_m: self.size_m + self.shaft.upper_m }
    }
}
