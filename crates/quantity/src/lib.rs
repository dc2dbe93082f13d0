//! Units as the trade writes them, and values that know where their uncertainty came from.
//!
//! An overhaul works in two systems at once: old drawings in inches and sixty-fourths, gauges in
//! thou or in hundredths of a millimetre, forces in tons, springs in tons per inch, new work in
//! millimetres. This crate reads what a person wrote, keeps it character for character beside its
//! SI value, prints values in either system with no more figures than their uncertainty supports,
//! and carries first-order uncertainty by source, so that an error two readings share is counted
//! once.
//!
//! ```
//! use quantity::{Dimension, Quantity, SourceId, System, Uncertain, print_both, print_difference};
//!
//! let journal = Quantity::parse("8 3/16\" - 3 thou")?;
//! let bore = Quantity::parse("208.11 mm")?;
//! assert_eq!(journal.si(), 0.2078863);
//!
//! // the zero of the one gauge that read both is source 0, their own repeatability 1 and 2
//! let zero = SourceId(0);
//! let journal = Uncertain::new(journal.si(), SourceId(1), 3e-6).with_part(zero, 8e-6);
//! let bore = Uncertain::new(bore.si(), SourceId(2), 4e-6).with_part(zero, 8e-6);
//! let clearance = &bore - &journal;
//! assert_eq!(clearance.contribution(zero), 0.0);
//! let u = Some(clearance.standard_uncertainty());
//! assert_eq!(print_difference(clearance.value(), System::Imperial, u), "+8.8 thou");
//! assert_eq!(print_both(bore.value(), Dimension::Length, None), "208.11 mm (8.1933 in)");
//! # Ok::<(), quantity::ParseError>(())
//! ```
//!
//! # What it does not do
//! - It does not derive units from one another: kinds of quantity are a closed list, and a kind is
//!   never guessed from the base units (a torque is not an energy).
//! - It does not reckon in quantities: read, take [`Quantity::si`], reckon in SI, print.
//! - It does not keep second-order terms, distributions or degrees of freedom of an uncertainty.
//! - It does not judge: no limits, no tolerances, no verdicts. It reads and writes no files and
//!   knows no language but the trade's English.
//!
//! # Invariants
//! - A [`Quantity`] holds the text exactly as given, and finite numbers only. NaN, infinity and
//!   numbers out of range are refused, and reading any text never panics.
//! - One size written in two systems gives the same `f64`, to the bit: figures are multiplied by
//!   exact factors as whole numbers and rounded once (angles and speeds of turning: twice).
//! - Every refusal points at a character and says what to write instead.
//! - Printed figures never claim more than the uncertainty supports; what is printed with a unit
//!   reads back to within half of its last figure.
//! - In an [`Uncertain`] no source appears twice and none with a zero contribution; `a - a` is
//!   exactly nothing; the order of the terms of a sum does not matter to the bit.
//!
//! # How quantities are written
//! - A number and a unit: `207.96 mm`, `0.0015"`, `160 psi`, `1e-5 m`, `11.5 x 10^-6 /K`. A bare
//!   decimal or whole number is refused; in a column that has a unit, see [`Quantity::parse_in`].
//! - Fractions with 2, 4, 8, 16, 32 or 64 below the line, alone or after a whole number:
//!   `8 3/16"`, `8-3/16 in`, `8¾ in`. A bare fraction is inches.
//! - Sizes in several units, the larger first: `4 ft 8 1/2 in`, `1' 7 1/2"`, `12 ton 5 cwt 2 qr`,
//!   `1° 30′`, `1 h 20 min`. An allowance after a size: `8 3/16 in + 3 thou`, `208 mm - 4 hundredths`.
//! - A point is the decimal mark, or a comma where asked ([`Quantity::parse_decimal_comma`]); the
//!   other one is refused, never guessed, and thousands are left unmarked.
//! - Two words of a unit may be joined by a space, a dot, a hyphen or nothing (`N m`, `N·m`, `Nm`);
//!   `/` may be `per`; `2` after a unit may be `²` or `^2`. Imperial units may be written in
//!   capitals, SI units may not, because there `m` and `M` differ.
//!
//! Words that need saying:
//! - **ton** is the long ton of 2240 lb, as a mass; **t** is the tonne of 1000 kg; **tonf** is the
//!   force of a long ton, 9964.016 418 183 52 N. Per inch and per square inch, where no mass makes
//!   sense, `ton` is read as the force. The American ton is written `short ton`.
//! - **lb** is a mass and **lbf** a force, except in `lb/in2`, `lb/in`, `lb ft` and `lb in`, where
//!   only the force makes sense.
//! - a **hundredth** is 0.01 mm and a **thou** (`mil`, `th`) 0.001 in; a **tenth** is refused.
//! - **degC** and **degF** say how hot; **K**, `delta degC` and `delta degF` how much hotter.
//! - **gal** is the imperial gallon of 4.54609 litres, **cwt** the hundredweight of 112 lb.
//! - **min** is of time, and after degrees, or as `min of arc`, of angle.
//! - a kinematic viscosity (cSt) is refused: a bearing needs the dynamic one.
//!
//! # The units
//! Each has further spellings, [`Unit::spellings`]. Factors follow from 1 yd = 0.9144 m and
//! 1 lb = 0.45359237 kg (international yard and pound agreement, 1959) and standard gravity
//! 9.80665 m/s² (third General Conference on Weights and Measures, 1901), as in ISO 80000 and
//! NIST SP 811.
//!
//! | kind | units as printed | kept in |
//! | --- | --- | --- |
//! | plain number | `%`, `ppm`, `thou/in`, `in/ft`, `mm/m`, `µm/m` | itself |
//! | length | `m`, `cm`, `mm`, `hundredths`, `µm`, `nm`, `km`, `in`, `thou`, `ft`, `yd`, `mile` | `m` |
//! | area | `m²`, `cm²`, `mm²`, `in²`, `ft²` | `m²` |
//! | volume | `m³`, `l`, `ml`, `cm³`, `mm³`, `in³`, `ft³`, `gal`, `pint`, `US gal` | `m³` |
//! | angle | `°`, `arcmin`, `arcsec`, `rad`, `mrad`, `rev` | `rad` |
//! | mass | `kg`, `g`, `mg`, `t`, `long ton`, `short ton`, `cwt`, `qr`, `stone`, `lb`, `oz` | `kg` |
//! | density | `kg/m³`, `g/cm³`, `lb/in³`, `lb/ft³` | `kg/m³` |
//! | force | `N`, `kN`, `MN`, `kgf`, `tf`, `lbf`, `tonf`, `short tonf` | `N` |
//! | force per length | `N/m`, `N/mm`, `kN/mm`, `lbf/in`, `tonf/in` | `N/m` |
//! | pressure | `Pa`, `kPa`, `MPa`, `GPa`, `bar`, `mbar`, `kgf/cm²`, `psi`, `ksi`, `tonf/in²`, `inHg` | `Pa` |
//! | torque | `N m`, `kN m`, `N mm`, `kgf m`, `lbf ft`, `lbf in`, `tonf in` | `N m` |
//! | temperature | `°C`, `°F` | `K` |
//! | temperature difference | `K`, `Δ°F` | `K` |
//! | coefficient of expansion | `/K`, `µm/m K`, `/°F` | `/K` |
//! | time | `s`, `ms`, `min`, `h`, `day` | `s` |
//! | speed | `m/s`, `mm/s`, `m/min`, `km/h`, `mph`, `ft/s`, `ft/min`, `in/s` | `m/s` |
//! | speed of turning | `rad/s`, `rpm`, `rev/s`, `°/s` | `rad/s` |
//! | power | `W`, `kW`, `MW`, `hp`, `metric hp` | `W` |
//! | energy | `J`, `kJ`, `MJ`, `kW h`, `Btu` | `J` |
//! | dynamic viscosity | `Pa s`, `mPa s`, `P`, `cP`, `reyn`, `µreyn` | `Pa s` |
//! | volume flow | `m³/s`, `m³/h`, `l/s`, `l/min`, `l/h`, `ml/min`, `cm³/s`, `in³/s`, `in³/min`, `gal/min`, `gal/h` | `m³/s` |

mod decimal;
mod dimension;
mod fraction;
mod parse;
mod print;
mod quantity;
mod taper;
mod uncertain;
mod unit;

pub use dimension::Dimension;
pub use fraction::{Fraction, nearest_fraction};
pub use parse::{ParseError, ParseErrorKind};
pub use print::{
    System, print, print_both, print_both_from, print_difference, print_in, print_with_uncertainty,
    print_with_uncertainty_in,
};
pub use quantity::Quantity;
pub use taper::Taper;
pub use uncertain::{SourceId, Uncertain};
pub use unit::Unit;
