//! Standard tolerance grades IT01 to IT18: the table of ISO 286-1.

use std::fmt;

use super::FitsError;
use super::step::{MAIN_TO_500, StepIndex};

/// A standard tolerance grade, finest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Grade(u8);

impl Grade {
    /// IT01, the finest.
    pub const IT01: Self = Self(0);
    /// IT0.
    pub const IT0: Self = Self(1);
    /// How many grades there are.
    pub const COUNT: usize = 20;

    /// The grade of a number 0 to 18 (`0` is IT0; IT01 is [`Grade::IT01`]).
    pub const fn it(number: u8) -> Option<Self> {
        if number <= 18 { Some(Self(number + 1)) } else { None }
    }

    /// All twenty grades, finest first.
    pub fn all() -> impl Iterator<Item = Self> {
        (0..Self::COUNT as u8).map(Self)
    }

    /// The number of the grade for comparing: IT01 is -1, IT0 is 0, IT7 is 7.
    pub const fn number(self) -> i32 {
        self.0 as i32 - 1
    }

    pub(super) const fn index(self) -> usize {
        self.0 as usize
    }
}

impl fmt::Display for Grade {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if *self == Self::IT01 { f.write_str("IT01") } else { write!(f, "IT{}", self.number()) }
    }
}

/// The standard tolerance (m) of a grade at a nominal size (m), from the table.
///
/// Valid range: sizes above 0 to 3.15 m; IT01 and IT0 to 500 mm only; IT14 to IT18 above 1 mm
/// only. Where the formula rounds otherwise the table rules: IT9 over 180 to 250 mm is 115 µm
/// though 40 i is 115.8 µm.
///
/// Source: ISO 286-1:2010, Table 1. Worked value: 25 mm, IT7 -> 21 µm.
///
/// # Errors
/// [`FitsError::SizeOutOfRange`], [`FitsError::GradeNotDefined`].
pub fn standard_tolerance_m(size_m: f64, grade: Grade) -> Result<f64, FitsError> {
    Ok(f64::from(tolerance_nm(StepIndex::of(size_m)?, grade)?) * 1e-9)
}

pub(super) fn tolerance_nm(at: StepIndex, grade: Grade) -> Result<i32, FitsError> {
    let refuse = |reason| FitsError::GradeNotDefined { grade, size_m: at.size_m, reason };
    if at.to_1_mm() && grade.number() >= 14 {
        return Err(refuse("IT14 to IT18 are not used for sizes up to and including 1 mm"));
    }
    let row = at.main;
    match grade.index() {
        i @ (0 | 1) => {
            let fine = FINE_TENTHS_UM.get(row).ok_or(refuse("IT01 and IT0 end at 500 mm"))?;
            Ok(fine[i] * 100)
        }
        i @ 2..=5 => Ok(LOW_TENTHS_UM[row][i - 2] * 100),
        i => Ok(HIGH_UM[row][i - 6] * 1000),
    }
}

/// IT01 and IT0, tenths of a micrometre, main steps to 500 mm.
const FINE_TENTHS_UM: [[i32; 2]; MAIN_TO_500] = [
    [3, 5],
    [4, 6],
    [4, 6],
    [5, 8],
    [6, 10],
    [6, 10],
    [8, 12],
    [10, 15],
    [12, 20],
    [20, 30],
    [25, 40],
    [30, 50],
    [40, 60],
];

/// IT1 to IT4, tenths of a micrometre.
const LOW_TENTHS_UM: [[i32; 4]; 21] = [
    [8, 12, 20, 30],
    [10, 15, 25, 40],
    [10, 15, 25, 40],
    [12, 20, 30, 50],
    [15, 25, 40, 60],
    [15, 25, 40, 70],
    [20, 30, 50, 80],
    [25, 40, 60, 100],
    [35, 50, 80, 120],
    [45, 70, 100, 140],
    [60, 80, 120, 160],
    [70, 90, 130, 180],
    [80, 100, 150, 200],
    [90, 110, 160, 220],
    [100, 130, 180, 250],
    [110, 150, 210, 280],
    [130, 180, 240, 330],
    [150, 210, 290, 390],
    [180, 250, 350, 460],
    [220, 300, 410, 550],
    [260, 360, 500, 680],
];

/// IT5 to IT18, micrometres.
#[rustfmt::skip]
const HIGH_UM: [[i32; 14]; 21] = [
    [ 4,   6,  10,  14,  25,  40,   60,  100,  140,  250,  400,   600,  1000,  1400],
    [ 5,   8,  12,  18,  30,  48,   75,  120,  180,  300,  480,   750,  1200,  1800],
    [ 6,   9,  15,  22,  36,  58,   90,  150,  220,  360,  580,   900,  1500,  2200],
    [ 8,  11,  18,  27,  43,  70,  110,  180,  270,  430,  700,  1100,  1800,  2700],
    [ 9,  13,  21,  33,  52,  84,  130,  210,  330,  520,  840,  1300,  2100,  3300],
    [11,  16,  25,  39,  62, 100,  160,  250,  390,  620, 1000,  1600,  2500,  3900],
    [13,  19,  30,  46,  74, 120,  190,  300,  460,  740, 1200,  1900,  3000,  4600],
    [15,  22,  35,  54,  87, 140,  220,  350,  540,  870, 1400,  2200,  3500,  5400],
    [18,  25,  40,  63, 100, 160,  250,  400,  630, 1000, 1600,  2500,  4000,  6300],
    [20,  29,  46,  72, 115, 185,  290,  460,  720, 1150, 1850,  2900,  4600,  7200],
    [23,  32,  52,  81, 130, 210,  320,  520,  810, 1300, 2100,  3200,  5200,  8100],
    [25,  36,  57,  89, 140, 230,  360,  570,  890, 1400, 2300,  3600,  5700,  8900],
    [27,  40,  63,  97, 155, 250,  400,  630,  970, 1550, 2500,  4000,  6300,  9700],
    [32,  44,  70, 110, 175, 280,  440,  700, 1100, 1750, 2800,  4400,  7000, 11000],
    [36,  50,  80, 125, 200, 320,  500,  800, 1250, 2000, 3200,  5000,  8000, 12500],
    [40,  56,  90, 140, 230, 360,  560,  900, 1400, 2300, 3600,  5600,  9000, 14000],
    [47,  66, 105, 165, 260, 420,  660, 1050, 1650, 2600, 4200,  6600, 10500, 16500],
    [55,  78, 125, 195, 310, 500,  780, 1250, 1950, 3100, 5000,  7800, 12500, 19500],
    [65,  92, 150, 230, 370, 600,  920, 1500, 2300, 3700, 6000,  9200, 15000, 23000],
    [78, 110, 175, 280, 440, 700, 1100, 1750, 2800, 4400, 7000, 11000, 17500, 28000],
    [96, 135, 210, 330, 540, 860, 1350, 2100, 3300, 5400, 8600, 13500, 21000, 33000],
];
