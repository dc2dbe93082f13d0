//! The inch classes of ANSI B4.1: RC, LC, LT, LN and FN.

use std::fmt;
use std::str::FromStr;

use super::imperial_table as table;
use super::imperial_table::Shaft;
use super::{FitLimits, FitsError, Limits, SymbolError};

/// A family of inch fits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum FitFamily {
    /// Running and sliding, RC 1 to RC 9.
    Running,
    /// Locational clearance, LC 1 to LC 11.
    LocationClearance,
    /// Locational transition, LT 1 to LT 6.
    LocationTransition,
    /// Locational interference, LN 1 to LN 3.
    LocationInterference,
    /// Force and shrink, FN 1 to FN 5.
    Force,
}

impl FitFamily {
    /// All five.
    pub const ALL: [Self; 5] = [
        Self::Running,
        Self::LocationClearance,
        Self::LocationTransition,
        Self::LocationInterference,
        Self::Force,
    ];

    /// The number of its last class.
    pub fn last(self) -> u8 {
        match self {
            Self::Running => 9,
            Self::LocationClearance => 11,
            Self::LocationTransition => 6,
            Self::LocationInterference => 3,
            Self::Force => 5,
        }
    }
}

impl fmt::Display for FitFamily {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Running => "RC",
            Self::LocationClearance => "LC",
            Self::LocationTransition => "LT",
            Self::LocationInterference => "LN",
            Self::Force => "FN",
        })
    }
}

/// An inch class such as FN 2.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct ImperialClass {
    family: FitFamily,
    number: u8,
}

/// Where the limits of a class at a size come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Provenance {
    /// Read in a public reprint of the standard's table.
    ReadInReprint,
    /// From memory: consistent with the standard's grades and with the printed clearance of the
    /// row as remembered, but not seen in print. Check against a copy before use on a drawing.
    FromMemory,
}

/// An inch class's limits at one size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ImperialLimits {
    /// The limits, in metres like all others.
    pub limits: FitLimits,
    /// Where they come from.
    pub provenance: Provenance,
}

impl ImperialClass {
    /// A class by family and number.
    ///
    /// # Errors
    /// [`FitsError::NoSuchClass`].
    pub fn new(family: FitFamily, number: u8) -> Result<Self, FitsError> {
        if (1..=family.last()).contains(&number) {
            Ok(Self { family, number })
        } else {
            Err(FitsError::NoSuchClass { family, number, last: family.last() })
        }
    }

    /// A class written after its size: `2 in RC4`, `1 1/2 in LN 2`, `FN2`. What stands before it is
    /// handed back as written; `None` where no class ends the text.
    ///
    /// # Errors
    /// [`FitsError::NoSuchClass`] within, for a number that its family does not have.
    pub fn parse_after_size(text: &str) -> Option<(&str, Result<Self, FitsError>)> {
        let text = text.trim();
        let number = text.trim_end_matches(|c: char| c.is_ascii_digit());
        let digits = text.get(number.len()..)?;
        let head = number.trim_end();
        // A letter of more than one byte has no class before it.
        let at = head.len().checked_sub(2)?;
        let (before, letters) = (head.get(..at)?, head.get(at..)?);
        let family =
            FitFamily::ALL.into_iter().find(|f| f.to_string().eq_ignore_ascii_case(letters))?;
        let number: u8 = digits.parse().ok()?;
        Some((before.trim(), Self::new(family, number)))
    }

    /// Its family.
    pub fn family(self) -> FitFamily {
        self.family
    }

    /// Its number.
    pub fn number(self) -> u8 {
        self.number
    }

    /// All 34 classes.
    pub fn all() -> impl Iterator<Item = Self> {
        FitFamily::ALL
            .into_iter()
            .flat_map(|family| (1..=family.last()).map(move |number| Self { family, number }))
    }

    /// The limits at a nominal size (m).
    ///
    /// Carried here: sizes above 0 to 19.69 in (0.500126 m) in all classes, steps "over ... to"
    /// as the standard prints them (13 steps; 25 for FN). No entry, hence an error: LT 3 and
    /// LT 4 to 0.24 in, FN 3 to 0.95 in (the standard has none), and everything above 19.69 in
    /// (the standard goes on to 200 in; those tables are not carried).
    ///
    /// Source: ANSI B4.1-1967 (R2009), Tables of RC, LC, LT, LN and FN fits. RC, LT, LN and FN
    /// were read in a public reprint (Machinery's Handbook, 27th and 31st ed.), save FN over
    /// 3.94 to 4.73 in and FN 2 over 15.75 in; LC 6 to LC 11 to 1.19 in likewise in another
    /// copy; LC 1 to LC 5, and LC 6 to LC 11 over 1.19 in, are from memory. The result says
    /// which. Where reprints disagree with themselves (LC 6 over 1.97 to 3.15 in is -1.2 in the
    /// limits of some and -1.0 in others) the figure that gives the printed clearance is used.
    ///
    /// Worked value: FN 2 at 1.5 in -> hole +1.0/0, shaft +2.4/+1.8, interference 0.8 to 2.4
    /// thou (LF-12).
    ///
    /// # Errors
    /// [`FitsError::SizeOutOfRange`] for sizes that are not positive numbers,
    /// [`FitsError::ClassNotCarried`].
    pub fn at(self, size_m: f64) -> Result<ImperialLimits, FitsError> {
        if !size_m.is_finite() || size_m <= 0.0 {
            return Err(FitsError::SizeOutOfRange { size_m });
        }
        let refuse = |reason| FitsError::ClassNotCarried {
            family: self.family,
            number: self.number,
            size_m,
            reason,
        };
        let ends: &[i32] =
            if self.family == FitFamily::Force { &table::FORCE_TO } else { &table::GENERAL_TO };
        let size = size_m / 0.0254 * 1e4;
        let row = ends
            .iter()
            .position(|&end| size <= f64::from(end) * (1.0 + 1e-9))
            .ok_or(refuse("the tables carried end at 19.69 in (0.500126 m)"))?;
        let (holes, shafts) = self.columns();
        let (Some(&hole), Some(&Some((upper, lower)))) = (holes.get(row), shafts.get(row)) else {
            return Err(refuse("the standard has no entry at this size"));
        };
        // 0.01 thou is 0.254 µm.
        let metres = |hundredths: i32| f64::from(hundredths) * 0.254e-6;
        let limits = FitLimits::new(
            size_m,
            Limits { lower_m: 0.0, upper_m: metres(hole) },
            Limits { lower_m: metres(lower), upper_m: metres(upper) },
        )?;
        Ok(ImperialLimits { limits, provenance: self.provenance(row) })
    }

    fn columns(self) -> (&'static [i32], &'static [Shaft]) {
        use table as t;
        match (self.family, self.number) {
            (FitFamily::Running, 1) => (&t::H5, &t::RC1),
            (FitFamily::Running, 2) => (&t::H6, &t::RC2),
            (FitFamily::Running, 3) => (&t::H7, &t::RC3),
            (FitFamily::Running, 4) => (&t::H8, &t::RC4),
            (FitFamily::Running, 5) => (&t::H8, &t::RC5),
            (FitFamily::Running, 6) => (&t::H9, &t::RC6),
            (FitFamily::Running, 7) => (&t::H9, &t::RC7),
            (FitFamily::Running, 8) => (&t::H10, &t::RC8),
            (FitFamily::Running, _) => (&t::H11, &t::RC9),
            (FitFamily::LocationClearance, 1) => (&t::H6, &t::LC1),
            (FitFamily::LocationClearance, 2) => (&t::H7, &t::LC2),
            (FitFamily::LocationClearance, 3) => (&t::H8, &t::LC3),
            (FitFamily::LocationClearance, 4) => (&t::H10, &t::LC4),
            (FitFamily::LocationClearance, 5) => (&t::H7, &t::LC5),
            (FitFamily::LocationClearance, 6) => (&t::H9, &t::LC6),
            (FitFamily::LocationClearance, 7) => (&t::H10, &t::LC7),
            (FitFamily::LocationClearance, 8) => (&t::H10, &t::LC8),
            (FitFamily::LocationClearance, 9) => (&t::H11, &t::LC9),
            (FitFamily::LocationClearance, 10) => (&t::H12, &t::LC10),
            (FitFamily::LocationClearance, _) => (&t::H13, &t::LC11),
            (FitFamily::LocationTransition, 1) => (&t::H7, &t::LT1),
            (FitFamily::LocationTransition, 2) => (&t::H8, &t::LT2),
            (FitFamily::LocationTransition, 3) => (&t::H7, &t::LT3),
            (FitFamily::LocationTransition, 4) => (&t::H8, &t::LT4),
            (FitFamily::LocationTransition, 5) => (&t::H7, &t::LT5),
            (FitFamily::LocationTransition, _) => (&t::H7, &t::LT6),
            (FitFamily::LocationInterference, 1) => (&t::H6, &t::LN1),
            (FitFamily::LocationInterference, 2) => (&t::H7, &t::LN2),
            (FitFamily::LocationInterference, _) => (&t::H7, &t::LN3),
            (FitFamily::Force, 1) => (&t::FORCE_H6, &t::FN1),
            (FitFamily::Force, 2) => (&t::FORCE_H7, &t::FN2),
            (FitFamily::Force, 3) => (&t::FORCE_H7, &t::FN3),
            (FitFamily::Force, 4) => (&t::FORCE_H7, &t::FN4),
            (FitFamily::Force, _) => (&t::FORCE_H8, &t::FN5),
        }
    }

    fn provenance(self, row: usize) -> Provenance {
        let remembered = match self.family {
            FitFamily::LocationClearance => self.number <= 5 || row > 4,
            // Row 12 is over 3.94 to 4.73 in; rows 23 and 24 are over 15.75 in.
            FitFamily::Force => row == 12 || (self.number == 2 && row >= 23),
            _ => false,
        };
        if remembered { Provenance::FromMemory } else { Provenance::ReadInReprint }
    }
}

impl fmt::Display for ImperialClass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.family, self.number)
    }
}

impl FromStr for ImperialClass {
    type Err = SymbolError;

    /// Reads `FN 2`, `FN2`, `fn2`.
    fn from_str(text: &str) -> Result<Self, SymbolError> {
        let chars: Vec<char> = text.chars().take(64).collect();
        let fail =
            |at: usize, message: String| SymbolError { text: chars.iter().collect(), at, message };
        let mut at = chars.iter().take_while(|c| c.is_whitespace()).count();
        let name: String = chars.iter().skip(at).take(2).map(char::to_ascii_uppercase).collect();
        let Some(family) = FitFamily::ALL.into_iter().find(|f| f.to_string() == name) else {
            return Err(fail(at, "expected RC, LC, LT, LN or FN".into()));
        };
        at += 2;
        at += chars.iter().skip(at).take_while(|c| c.is_whitespace()).count();
        let digits: String = chars.iter().skip(at).take_while(|c| c.is_ascii_digit()).collect();
        let rest = at + digits.len();
        if let Some(i) = chars.iter().skip(rest).position(|c| !c.is_whitespace()) {
            return Err(fail(rest + i, "expected the end of the class".into()));
        }
        digits
            .parse::<u8>()
            .ok()
            .and_then(|number| Self::new(family, number).ok())
            .ok_or_else(|| fail(at, format!("expected a number from 1 to {}", family.last())))
    }
}
