//! The letters that place a tolerance zone, and the two members of a fit.

use std::fmt;

/// Which member of a fit: the internal feature (hole) or the external one (shaft).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Member {
    /// Hole, bore, slot: capital letters.
    Hole,
    /// Shaft, pin, bolt, tongue: small letters.
    Shaft,
}

impl fmt::Display for Member {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Hole => "hole",
            Self::Shaft => "shaft",
        })
    }
}

/// A fundamental deviation's letter, from most clearance (A) to most interference (ZC).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)] // the letters are their own names
pub enum Letter {
    A,
    B,
    C,
    Cd,
    D,
    E,
    Ef,
    F,
    Fg,
    G,
    H,
    Js,
    J,
    K,
    M,
    N,
    P,
    R,
    S,
    T,
    U,
    V,
    X,
    Y,
    Z,
    Za,
    Zb,
    Zc,
}

impl Letter {
    /// All 28, in order.
    pub const ALL: [Self; 28] = [
        Self::A,
        Self::B,
        Self::C,
        Self::Cd,
        Self::D,
        Self::E,
        Self::Ef,
        Self::F,
        Self::Fg,
        Self::G,
        Self::H,
        Self::Js,
        Self::J,
        Self::K,
        Self::M,
        Self::N,
        Self::P,
        Self::R,
        Self::S,
        Self::T,
        Self::U,
        Self::V,
        Self::X,
        Self::Y,
        Self::Z,
        Self::Za,
        Self::Zb,
        Self::Zc,
    ];

    /// The letter as written for a hole (capitals) or a shaft (small).
    pub fn text(self, member: Member) -> &'static str {
        let (hole, shaft) = match self {
            Self::A => ("A", "a"),
            Self::B => ("B", "b"),
            Self::C => ("C", "c"),
            Self::Cd => ("CD", "cd"),
            Self::D => ("D", "d"),
            Self::E => ("E", "e"),
            Self::Ef => ("EF", "ef"),
            Self::F => ("F", "f"),
            Self::Fg => ("FG", "fg"),
            Self::G => ("G", "g"),
            Self::H => ("H", "h"),
            Self::Js => ("JS", "js"),
            Self::J => ("J", "j"),
            Self::K => ("K", "k"),
            Self::M => ("M", "m"),
            Self::N => ("N", "n"),
            Self::P => ("P", "p"),
            Self::R => ("R", "r"),
            Self::S => ("S", "s"),
            Self::T => ("T", "t"),
            Self::U => ("U", "u"),
            Self::V => ("V", "v"),
            Self::X => ("X", "x"),
            Self::Y => ("Y", "y"),
            Self::Z => ("Z", "z"),
            Self::Za => ("ZA", "za"),
            Self::Zb => ("ZB", "zb"),
            Self::Zc => ("ZC", "zc"),
        };
        match member {
            Member::Hole => hole,
            Member::Shaft => shaft,
        }
    }
}
