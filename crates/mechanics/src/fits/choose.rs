//! The inverse: which fits give a wanted clearance or interference.

use std::cmp::{Ordering, Reverse};
use std::collections::BinaryHeap;

use super::deviation::limits_nm;
use super::step::StepIndex;
use super::{Band, Fit, FitLimits, FitsError, Grade, Letter, Member};

/// Which fits to look through.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Basis {
    /// Holes H only.
    HoleBasis,
    /// Shafts h only.
    ShaftBasis,
    /// Holes H first, then shafts h.
    EitherBasis,
    /// Every hole with every shaft: hole basis first, then shaft basis, then the rest.
    AnyPair,
}

/// What is wanted of a fit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FitWanted {
    /// Nominal size (m).
    pub size_m: f64,
    /// Clearance wanted, hole minus shaft (m): a fit's smallest clearance must not be below
    /// `min_m` nor its largest above `max_m`. Interference is negative; [`Band::flipped`] turns
    /// one into the other.
    pub clearance: Band,
    /// Which fits to look through.
    pub basis: Basis,
    /// Finest grade worth making.
    pub finest: Grade,
    /// Coarsest grade to consider.
    pub coarsest: Grade,
    /// How many candidates to return at most.
    pub at_most: usize,
}

impl FitWanted {
    /// Hole or shaft basis, grades IT5 to IT11 (the usual range for fits, ISO 286-1:2010,
    /// clause 7 gives IT5 to IT11 among its preferred classes), the best ten.
    pub fn new(size_m: f64, clearance: Band) -> Self {
        Self {
            size_m,
            clearance,
            basis: Basis::EitherBasis,
            finest: Grade::it(5).unwrap_or(Grade::IT0),
            coarsest: Grade::it(11).unwrap_or(Grade::IT0),
            at_most: 10,
        }
    }
}

/// A fit that lies within the wanted band.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FitCandidate {
    /// The fit.
    pub fit: Fit,
    /// Its limits at the size.
    pub limits: FitLimits,
    /// Sum of both tolerances (m): the wider, the easier to make.
    pub spread_m: f64,
    /// Whether ISO 286-1:2010, clause 7, shows it among the preferred fits (from memory).
    pub preferred: bool,
}

/// The candidates, and how many there were.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// Best first, at most as many as asked for. Empty when no fit lies within the band.
    pub candidates: Vec<FitCandidate>,
    /// How many fits lie within the band in all.
    pub found: usize,
    /// How many fits were looked at.
    pub examined: usize,
}

/// All fits of a size whose clearance stays within the wanted band, the most useful first.
///
/// Order: hole basis, then shaft basis, then other pairs; within these the widest sum of
/// tolerances first; then the hole one grade coarser than the shaft or of the same grade before
/// other splits (common practice: a hole is harder to finish to size than a shaft); then the
/// band best centred; then by name. Every class that exists at the size is looked at, so the
/// answer is complete: an empty list means no fit of these grades lies within the band.
///
/// # Errors
/// [`FitsError::SizeOutOfRange`]; [`FitsError::BadNumber`] for a band that is not finite;
/// [`FitsError::BandUpsideDown`].
pub fn choose_fits(wanted: &FitWanted) -> Result<Choice, FitsError> {
    let at = StepIndex::of(wanted.size_m)?;
    let Band { min_m, max_m } = wanted.clearance;
    for value in [min_m, max_m] {
        if !value.is_finite() {
            return Err(FitsError::BadNumber {
                what: "end of the wanted band",
                value,
                unit: "m",
                condition: "a number",
            });
        }
    }
    if min_m > max_m {
        return Err(FitsError::BandUpsideDown { min_m, max_m });
    }
    // Half a nanometre of play, so that a band typed as the table's own figures is met.
    let clamp = |v: f64| v.clamp(-1.0, 1.0);
    let min_nm = (clamp(min_m) * 1e9 - 0.5).ceil() as i32;
    let max_nm = (clamp(max_m) * 1e9 + 0.5).floor() as i32;

    let holes = classes(at, Member::Hole, wanted);
    let shafts = classes(at, Member::Shaft, wanted);
    let mut best: BinaryHeap<Ranked> = BinaryHeap::new();
    let mut choice = Choice { candidates: Vec::new(), found: 0, examined: 0 };
    for hole in &holes {
        for shaft in &shafts {
            let Some(group) = group(wanted.basis, hole.letter, shaft.letter) else { continue };
            choice.examined += 1;
            let tightest = hole.lower_nm - shaft.upper_nm;
            let loosest = hole.upper_nm - shaft.lower_nm;
            if tightest < min_nm || loosest > max_nm {
                continue;
            }
            choice.found += 1;
            let split = hole.grade.number() - shaft.grade.number();
            let ranked = Ranked {
                group,
                spread_nm: Reverse(loosest - tightest),
                split: if (0..=1).contains(&split) { 0 } else { split.unsigned_abs() },
                off_centre: (i64::from(tightest) + i64::from(loosest)
                    - i64::from(min_nm)
                    - i64::from(max_nm))
                .unsigned_abs(),
                hole: (hole.letter, hole.grade),
                shaft: (shaft.letter, shaft.grade),
            };
            if best.len() < wanted.at_most {
                best.push(ranked);
            } else if best.peek().is_some_and(|worst| ranked < *worst) {
                best.pop();
                best.push(ranked);
            }
        }
    }
    for ranked in best.into_sorted_vec() {
        let fit = Fit::new(ranked.hole, ranked.shaft);
        let limits = fit.at(wanted.size_m)?;
        choice.candidates.push(FitCandidate {
            fit,
            limits,
            spread_m: f64::from(ranked.spread_nm.0) * 1e-9,
            preferred: is_preferred(fit),
        });
    }
    Ok(choice)
}

#[derive(Debug, Clone, Copy)]
struct Class {
    letter: Letter,
    grade: Grade,
    lower_nm: i32,
    upper_nm: i32,
}

fn classes(at: StepIndex, member: Member, wanted: &FitWanted) -> Vec<Class> {
    // With a basis, the basic member needs only H; the other member may be anything.
    let only_h = matches!(
        (wanted.basis, member),
        (Basis::HoleBasis, Member::Hole) | (Basis::ShaftBasis, Member::Shaft)
    );
    let mut found = Vec::new();
    for letter in Letter::ALL {
        if only_h && letter != Letter::H {
            continue;
        }
        for grade in Grade::all().filter(|g| (wanted.finest..=wanted.coarsest).contains(g)) {
            if let Ok((lower_nm, upper_nm)) = limits_nm(at, member, letter, grade) {
                found.push(Class { letter, grade, lower_nm, upper_nm });
            }
        }
    }
    found
}

/// 0 hole basis, 1 shaft basis, 2 neither; `None` when the basis asked for leaves it out.
fn group(basis: Basis, hole: Letter, shaft: Letter) -> Option<u8> {
    let group = match (hole == Letter::H, shaft == Letter::H) {
        (true, _) => 0,
        (false, true) => 1,
        (false, false) => 2,
    };
    let keep = match basis {
        Basis::HoleBasis => group == 0,
        Basis::ShaftBasis => shaft == Letter::H,
        Basis::EitherBasis => group <= 1,
        Basis::AnyPair => true,
    };
    keep.then_some(group)
}

/// Field order is rank order: smaller is better.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Ranked {
    group: u8,
    spread_nm: Reverse<i32>,
    split: u32,
    off_centre: u64,
    hole: (Letter, Grade),
    shaft: (Letter, Grade),
}

impl Ord for Ranked {
    fn cmp(&self, other: &Self) -> Ordering {
        let key = |r: &Self| (r.group, r.spread_nm, r.split, r.off_centre, r.hole, r.shaft);
        key(self).cmp(&key(other))
    }
}

impl PartialOrd for Ranked {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// ISO 286-1:2010, clause 7, Figures of preferred fits, hole basis and shaft basis (from memory).
fn is_preferred(fit: Fit) -> bool {
    use Letter as L;
    let (hole, shaft) = (fit.hole(), fit.shaft());
    let pair = (hole.grade.number(), shaft.grade.number());
    let (h, s) = (hole.letter, shaft.letter);
    if h == L::H {
        let of = |letters: &[Letter]| letters.contains(&s);
        return match pair {
            (6, 5) => of(&[L::G, L::H, L::Js, L::K, L::M, L::N, L::P]),
            (7, 6) => {
                of(&[L::F, L::G, L::H, L::Js, L::K, L::M, L::N, L::P, L::R, L::S, L::T, L::U, L::X])
            }
            (8, 7) => of(&[L::E, L::F, L::H, L::Js, L::K, L::M, L::S, L::U]),
            (8, 8) | (9, 8) => of(&[L::D, L::E, L::F, L::H]),
            (10, 9) => of(&[L::B, L::C, L::D, L::E, L::H]),
            (11, 11) => of(&[L::B, L::C]),
            (11, 10) => of(&[L::D, L::H]),
            _ => false,
        };
    }
    if s == L::H {
        let of = |letters: &[Letter]| letters.contains(&h);
        return match pair {
            (6, 5) => of(&[L::G, L::Js, L::K, L::M, L::N, L::P]),
            (7, 6) => {
                of(&[L::F, L::G, L::Js, L::K, L::M, L::N, L::P, L::R, L::S, L::T, L::U, L::X])
            }
            (8, 7) => of(&[L::E, L::F]),
            (9, 8) | (9, 9) => of(&[L::D, L::E, L::F]),
            (10, 9) => of(&[L::D, L::B, L::C]),
            (11, 9) => of(&[L::B, L::C, L::D]),
            _ => false,
        };
    }
    false
}
