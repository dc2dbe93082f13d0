//! The fundamental deviations of ISO 286-1, Tables 2 to 5, as magnitudes in micrometres.
//!
//! A shaft a to h has es = -value; a shaft k to zc has ei = +value; the hole of the same letter
//! mirrors it, with the delta rule where `deviation.rs` applies it. `NONE` marks a step where
//! the standard gives nothing.

use super::Letter;
use super::step::{MAIN_TO_500, SUB_TO_500, StepIndex};

const NONE: i32 = i32::MIN;

/// A row of the tables: by main step or by intermediate step.
enum Row {
    Main(&'static [i32]),
    Sub(&'static [i32]),
}

/// The magnitude (µm) of a letter at a step; `None` where the standard has none. `H`, `Js` and
/// `J` are not here: the first two need no table, the third has its own.
pub(super) fn magnitude_um(letter: Letter, at: StepIndex) -> Option<i32> {
    let row = match letter {
        Letter::A => Row::Sub(&A),
        Letter::B => Row::Sub(&B),
        Letter::C => Row::Sub(&C),
        Letter::Cd => Row::Main(&CD),
        Letter::D => Row::Main(&D),
        Letter::E => Row::Main(&E),
        Letter::Ef => Row::Main(&EF),
        Letter::F => Row::Main(&F),
        Letter::Fg => Row::Main(&FG),
        Letter::G => Row::Main(&G),
        Letter::K => Row::Main(&K),
        Letter::M => Row::Main(&M),
        Letter::N => Row::Main(&N),
        Letter::P => Row::Main(&P),
        Letter::R => Row::Sub(&R),
        Letter::S => Row::Sub(&S),
        Letter::T => Row::Sub(&T),
        Letter::U => Row::Sub(&U),
        Letter::V => Row::Sub(&V),
        Letter::X => Row::Sub(&X),
        Letter::Y => Row::Sub(&Y),
        Letter::Z => Row::Sub(&Z),
        Letter::Za => Row::Sub(&ZA),
        Letter::Zb => Row::Sub(&ZB),
        Letter::Zc => Row::Sub(&ZC),
        Letter::H | Letter::Js | Letter::J => return None,
    };
    let value = match row {
        Row::Main(values) => values.get(at.main),
        Row::Sub(values) => values.get(at.sub),
    };
    value.copied().filter(|&v| v != NONE)
}

/// Shaft j: ei is minus this (µm), grades 5 and 6 together, 7, 8; main steps to 500 mm.
pub(super) fn shaft_j_um(grade_number: i32, at: StepIndex) -> Option<i32> {
    let values: &[i32] = match grade_number {
        5 | 6 => &J56,
        7 => &J7,
        8 => &J8,
        _ => return None,
    };
    values.get(at.main).copied()
}

/// Hole J: ES (µm) for grades 6, 7 and 8; main steps to 500 mm.
pub(super) fn hole_j_um(grade_number: i32, at: StepIndex) -> Option<i32> {
    let values: &[i32] = match grade_number {
        6 => &HOLE_J6,
        7 => &HOLE_J7,
        8 => &HOLE_J8,
        _ => return None,
    };
    values.get(at.main).copied()
}

// Intermediate steps to 500 mm: 3 6 10 14 18 24 30 40 50 65 80 100 120 140 160 180 200 225 250
// 280 315 355 400 450 500, then 560 630 710 800 900 1000 1120 1250 1400 1600 1800 2000 2240
// 2500 2800 3150.
#[rustfmt::skip]
const A: [i32; SUB_TO_500] = [
    270, 270, 280, 290, 290, 300, 300, 310, 320, 340, 360, 380, 410,
    460, 520, 580, 660, 740, 820, 920, 1050, 1200, 1350, 1500, 1650,
];
#[rustfmt::skip]
const B: [i32; SUB_TO_500] = [
    140, 140, 150, 150, 150, 160, 160, 170, 180, 190, 200, 220, 240,
    260, 280, 310, 340, 380, 420, 480, 540, 600, 680, 760, 840,
];
#[rustfmt::skip]
const C: [i32; SUB_TO_500] = [
    60, 70, 80, 95, 95, 110, 110, 120, 130, 140, 150, 170, 180,
    200, 210, 230, 240, 260, 280, 300, 330, 360, 400, 440, 480,
];
// CD, EF and FG run to 50 mm (to 10 mm in the 1988 edition).
const CD: [i32; 6] = [34, 46, 56, 70, 85, 100];
#[rustfmt::skip]
const D: [i32; 21] = [
    20, 30, 40, 50, 65, 80, 100, 120, 145, 170, 190, 210, 230,
    260, 290, 320, 350, 390, 430, 480, 520,
];
#[rustfmt::skip]
const E: [i32; 21] = [
    14, 20, 25, 32, 40, 50, 60, 72, 85, 100, 110, 125, 135,
    145, 160, 170, 195, 220, 240, 260, 290,
];
// ef over 18 to 30 mm is 28; a public copy has 25.
const EF: [i32; 6] = [10, 14, 18, 23, 28, 35];
#[rustfmt::skip]
const F: [i32; 21] = [
    6, 10, 13, 16, 20, 25, 30, 36, 43, 50, 56, 62, 68,
    76, 80, 86, 98, 110, 120, 130, 145,
];
const FG: [i32; 6] = [4, 6, 8, 10, 12, 15];
#[rustfmt::skip]
const G: [i32; 21] = [
    2, 4, 5, 6, 7, 9, 10, 12, 14, 15, 17, 18, 20,
    22, 24, 26, 28, 30, 32, 34, 38,
];
const J56: [i32; MAIN_TO_500] = [2, 2, 2, 3, 4, 5, 7, 9, 11, 13, 16, 18, 20];
const J7: [i32; MAIN_TO_500] = [4, 4, 5, 6, 8, 10, 12, 15, 18, 21, 26, 28, 32];
const J8: [i32; 1] = [6];
const HOLE_J6: [i32; MAIN_TO_500] = [2, 5, 5, 6, 8, 10, 13, 16, 18, 22, 25, 29, 33];
const HOLE_J7: [i32; MAIN_TO_500] = [4, 6, 8, 10, 12, 14, 18, 22, 26, 30, 36, 39, 43];
const HOLE_J8: [i32; MAIN_TO_500] = [6, 10, 12, 15, 20, 24, 28, 34, 41, 47, 55, 60, 66];
// Grades 4 to 7 of the shaft; other grades have 0.
#[rustfmt::skip]
const K: [i32; 21] = [
    0, 1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4, 5,
    0, 0, 0, 0, 0, 0, 0, 0,
];
#[rustfmt::skip]
const M: [i32; 21] = [
    2, 4, 6, 7, 8, 9, 11, 13, 15, 17, 20, 21, 23,
    26, 30, 34, 40, 48, 58, 68, 76,
];
#[rustfmt::skip]
const N: [i32; 21] = [
    4, 8, 10, 12, 15, 17, 20, 23, 27, 31, 34, 37, 40,
    44, 50, 56, 66, 78, 92, 110, 135,
];
#[rustfmt::skip]
const P: [i32; 21] = [
    6, 12, 15, 18, 22, 26, 32, 37, 43, 50, 56, 62, 68,
    78, 88, 100, 120, 140, 170, 195, 240,
];
#[rustfmt::skip]
const R: [i32; 41] = [
    10, 15, 19, 23, 23, 28, 28, 34, 34, 41, 43, 51, 54,
    63, 65, 68, 77, 80, 84, 94, 98, 108, 114, 126, 132,
    150, 155, 175, 185, 210, 220, 250, 260, 300, 330, 370, 400, 440, 460, 550, 580,
];
#[rustfmt::skip]
const S: [i32; 41] = [
    14, 19, 23, 28, 28, 35, 35, 43, 43, 53, 59, 71, 79,
    92, 100, 108, 122, 130, 140, 158, 170, 190, 208, 232, 252,
    280, 310, 340, 380, 430, 470, 520, 580, 640, 720, 820, 920, 1000, 1100, 1250, 1400,
];
#[rustfmt::skip]
const T: [i32; 41] = [
    NONE, NONE, NONE, NONE, NONE, NONE, 41, 48, 54, 66, 75, 91, 104,
    122, 134, 146, 166, 180, 196, 218, 240, 268, 294, 330, 360,
    400, 450, 500, 560, 620, 680, 780, 840, 960, 1050, 1200, 1350, 1500, 1650, 1900, 2100,
];
#[rustfmt::skip]
const U: [i32; 41] = [
    18, 23, 28, 33, 33, 41, 48, 60, 70, 87, 102, 124, 144,
    170, 190, 210, 236, 258, 284, 315, 350, 390, 435, 490, 540,
    600, 660, 740, 840, 940, 1050, 1150, 1300, 1450, 1600, 1850, 2000, 2300, 2500, 2900, 3200,
];
#[rustfmt::skip]
const V: [i32; SUB_TO_500] = [
    NONE, NONE, NONE, NONE, 39, 47, 55, 68, 81, 102, 120, 146, 172,
    202, 228, 252, 284, 310, 340, 385, 425, 475, 530, 595, 660,
];
#[rustfmt::skip]
const X: [i32; SUB_TO_500] = [
    20, 28, 34, 40, 45, 54, 64, 80, 97, 122, 146, 178, 210,
    248, 280, 310, 350, 385, 425, 475, 525, 590, 660, 740, 820,
];
// y begins over 18 mm; a public copy has a stray 39 (which is v) at 14 to 18 mm.
#[rustfmt::skip]
const Y: [i32; SUB_TO_500] = [
    NONE, NONE, NONE, NONE, NONE, 63, 75, 94, 114, 144, 174, 214, 254,
    300, 340, 380, 425, 470, 520, 580, 650, 730, 820, 920, 1000,
];
#[rustfmt::skip]
const Z: [i32; SUB_TO_500] = [
    26, 35, 42, 50, 60, 73, 88, 112, 136, 172, 210, 258, 310,
    365, 415, 465, 520, 575, 640, 710, 790, 900, 1000, 1100, 1250,
];
#[rustfmt::skip]
const ZA: [i32; SUB_TO_500] = [
    32, 42, 52, 64, 77, 98, 118, 148, 180, 226, 274, 335, 400,
    470, 535, 600, 670, 740, 820, 920, 1000, 1150, 1300, 1450, 1600,
];
#[rustfmt::skip]
const ZB: [i32; SUB_TO_500] = [
    40, 50, 67, 90, 108, 136, 160, 200, 242, 300, 360, 445, 525,
    620, 700, 780, 880, 960, 1050, 1200, 1300, 1500, 1650, 1850, 2100,
];
#[rustfmt::skip]
const ZC: [i32; SUB_TO_500] = [
    60, 80, 97, 130, 150, 188, 218, 274, 325, 405, 480, 585, 690,
    800, 900, 1000, 1150, 1250, 1350, 1550, 1700, 1900, 2100, 2400, 2600,
];
