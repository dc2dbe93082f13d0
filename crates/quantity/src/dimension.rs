//! Kinds of quantity.

use std::fmt;

/// The kind of a quantity: what it is a size of.
///
/// Kinds are those a workshop keeps apart, not only those that differ in SI base units: a torque
/// and an energy are both kg m2/s2, a temperature and a difference of two temperatures are both
/// kelvin, and in each case taking one for the other is a mistake.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum Dimension {
    /// A plain number: a count, a ratio, a coefficient of friction.
    Number,
    /// Length, in metres.
    Length,
    /// Area, in square metres.
    Area,
    /// Volume, in cubic metres.
    Volume,
    /// Plane angle, in radians.
    Angle,
    /// Mass, in kilograms.
    Mass,
    /// Mass per volume, in kilograms per cubic metre.
    Density,
    /// Force, in newtons.
    Force,
    /// Spring rate or force per run of length, in newtons per metre.
    ForcePerLength,
    /// Pressure or stress, in pascals.
    Pressure,
    /// Moment of a force, in newton metres.
    Torque,
    /// A temperature on a scale with a zero of its own, in kelvin from absolute zero.
    Temperature,
    /// How much hotter one thing is than another, in kelvin.
    TemperatureDifference,
    /// Coefficient of linear expansion, per kelvin.
    Expansion,
    /// Time, in seconds.
    Time,
    /// Speed along a line, in metres per second.
    Speed,
    /// Speed of turning, in radians per second.
    AngularSpeed,
    /// Power, in watts.
    Power,
    /// Energy, work or heat, in joules.
    Energy,
    /// Dynamic viscosity, in pascal seconds.
    Viscosity,
    /// Volume per time, in cubic metres per second.
    VolumeFlow,
}

impl Dimension {
    /// Every kind, in the order of the declaration.
    pub const ALL: [Dimension; 21] = [
        Dimension::Number,
        Dimension::Length,
        Dimension::Area,
        Dimension::Volume,
        Dimension::Angle,
        Dimension::Mass,
        Dimension::Density,
        Dimension::Force,
        Dimension::ForcePerLength,
        Dimension::Pressure,
        Dimension::Torque,
        Dimension::Temperature,
        Dimension::TemperatureDifference,
        Dimension::Expansion,
        Dimension::Time,
        Dimension::Speed,
        Dimension::AngularSpeed,
        Dimension::Power,
        Dimension::Energy,
        Dimension::Viscosity,
        Dimension::VolumeFlow,
    ];

    /// The kind in plain words, lower case, without an article: `length`, `force per length`.
    pub fn name(self) -> &'static str {
        match self {
            Dimension::Number => "plain number",
            Dimension::Length => "length",
            Dimension::Area => "area",
            Dimension::Volume => "volume",
            Dimension::Angle => "angle",
            Dimension::Mass => "mass",
            Dimension::Density => "density",
            Dimension::Force => "force",
            Dimension::ForcePerLength => "force per length",
            Dimension::Pressure => "pressure",
            Dimension::Torque => "torque",
            Dimension::Temperature => "temperature",
            Dimension::TemperatureDifference => "temperature difference",
            Dimension::Expansion => "coefficient of expansion",
            Dimension::Time => "time",
            Dimension::Speed => "speed",
            Dimension::AngularSpeed => "speed of turning",
            Dimension::Power => "power",
            Dimension::Energy => "energy",
            Dimension::Viscosity => "dynamic viscosity",
            Dimension::VolumeFlow => "volume flow",
        }
    }

    /// The kind with this name, as [`name`](Self::name) gives it.
    ///
    /// ```
    /// use quantity::Dimension;
    /// assert_eq!(Dimension::find("force per length"), Some(Dimension::ForcePerLength));
    /// assert_eq!(Dimension::find("weight"), None);
    /// ```
    pub fn find(name: &str) -> Option<Dimension> {
        Dimension::ALL.into_iter().find(|kind| kind.name() == name.trim())
    }

    /// Symbol of the SI unit that [`Quantity::si`](crate::Quantity::si) is in; empty for a plain
    /// number.
    pub fn si_symbol(self) -> &'static str {
        match self {
            Dimension::Number => "",
            Dimension::Length => "m",
            Dimension::Area => "m²",
            Dimension::Volume => "m³",
            Dimension::Angle => "rad",
            Dimension::Mass => "kg",
            Dimension::Density => "kg/m³",
            Dimension::Force => "N",
            Dimension::ForcePerLength => "N/m",
            Dimension::Pressure => "Pa",
            Dimension::Torque => "N m",
            Dimension::Temperature | Dimension::TemperatureDifference => "K",
            Dimension::Expansion => "/K",
            Dimension::Time => "s",
            Dimension::Speed => "m/s",
            Dimension::AngularSpeed => "rad/s",
            Dimension::Power => "W",
            Dimension::Energy => "J",
            Dimension::Viscosity => "Pa s",
            Dimension::VolumeFlow => "m³/s",
        }
    }

    /// The kind with its article, for sentences: `a length`, `an area`.
    pub(crate) fn with_article(self) -> String {
        let name = self.name();
        let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
        format!("{article} {name}")
    }
}

impl fmt::Display for Dimension {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}
