//! Every cell of the ISO 286 tables against the standard's own formulas.
//!
//! Source of the formulas and of the rounding: ISO 286-1:1988, Annex A (from memory). They are
//! independent of the tables, which were typed from memory and compared, cell by cell, with two
//! public transcriptions (one of PN-EN ISO 286-1:2011 to 500 mm, one of a catalogue's reprint
//! over 500 to 3150 mm). Where table and formula part, the table rules, and the cell is listed
//! below with what the formula would give: the lists must be complete and must hold nothing else.

use std::collections::BTreeSet;

use mechanics::fits::formula::{
    FormulaDeviation, Rounding, rounded_um, shaft_deviation_um, tolerance_um,
};
use mechanics::fits::{Grade, Letter, Member, Zone, standard_tolerance_m};

const MAIN_TO_MM: [i32; 21] = [
    3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500,
    3150,
];
const SUB_TO_MM: [i32; 41] = [
    3, 6, 10, 14, 18, 24, 30, 40, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250, 280, 315,
    355, 400, 450, 500, 560, 630, 710, 800, 900, 1000, 1120, 1250, 1400, 1600, 1800, 2000, 2240,
    2500, 2800, 3150,
];

fn um(metres: f64) -> f64 {
    (metres * 1e7).round() / 10.0
}

/// IT5 to IT11 where the table is not the rounded formula: (step to mm, grade, table, formula).
#[rustfmt::skip]
const GRADE_EXCEPTIONS: [(i32, u8, i32, i32); 31] = [
    (3, 6, 6, 5), (3, 7, 10, 9), (3, 9, 25, 22), (3, 10, 40, 35), (3, 11, 60, 54),
    (6, 6, 8, 7), (6, 9, 30, 29), (6, 10, 48, 47), (6, 11, 75, 73),
    (10, 7, 15, 14), (10, 10, 58, 57), (18, 7, 18, 17), (18, 10, 70, 69),
    (50, 11, 160, 155), (80, 11, 190, 185), (400, 6, 36, 35), (400, 11, 360, 350),
    (500, 6, 40, 39), (500, 7, 63, 62), (500, 11, 400, 390),
    (630, 6, 44, 43), (630, 11, 440, 430), (800, 6, 50, 49), (800, 7, 80, 79),
    (800, 11, 500, 490), (1000, 6, 56, 57), (1000, 7, 90, 91), (2000, 6, 92, 93),
    // Not a case of the rule: 40 i = 115.8 rounds to 115 by steps of 5, to 116 by steps of 1.
    // The three below are IT5 of large sizes, where the table is a micrometre or three above.
    (630, 5, 32, 30), (800, 5, 36, 35), (3150, 5, 96, 93),
];

#[test]
fn grades_5_to_11_are_the_rounded_formula_but_for_the_listed_cells() {
    let mut found = BTreeSet::new();
    for to in MAIN_TO_MM {
        for number in 5..=11 {
            let grade = Grade::it(number).unwrap();
            let size = f64::from(to) * 1e-3;
            let table = um(standard_tolerance_m(size, grade).unwrap());
            let exact = tolerance_um(size, grade).unwrap();
            let formula = rounded_um(exact, Rounding::Tolerance);
            // Never more than two micrometres and 4 % from the formula (15 % to 3 mm, where the
            // standard kept its old values).
            let slack = if to <= 6 { 0.16 * exact } else { 1.2 + 0.04 * exact };
            assert!((table - exact).abs() <= slack, "{to} mm {grade}: {table} vs {exact}");
            if table != formula {
                found.insert((to, number, table as i32, formula as i32));
            }
        }
    }
    // IT5 to 6 mm and of the other large sizes differs by one; those are listed here, apart
    // from the main list, because the standard states IT5 = 7 i without the rounding rule.
    let it5: BTreeSet<_> = [(1250, 5, 47, 46), (1600, 5, 55, 54), (2500, 5, 78, 77)].into();
    let listed: BTreeSet<_> = GRADE_EXCEPTIONS.into_iter().chain(it5).collect();
    assert_eq!(found, listed);
}

#[test]
fn grades_12_and_up_are_ten_times_five_grades_finer() {
    for to in MAIN_TO_MM {
        let size = f64::from(to) * 1e-3;
        for number in 11..=18 {
            let value = |n: u8| um(standard_tolerance_m(size, Grade::it(n).unwrap()).unwrap());
            let (coarse, fine) = (value(number), value(number - 5));
            // The one exception: IT11 over 3 to 6 mm is 75, not 80.
            let expected = if (to, number) == (6, 11) { 75.0 } else { 10.0 * fine };
            assert_eq!(coarse, expected, "{to} mm IT{number}");
        }
    }
}

#[test]
fn fine_grades_stay_near_their_formula() {
    // The finest values were rounded to a series by hand: the largest part is 28 % (IT0 over 18
    // to 30 mm, 1 against 0.78 µm); in absolute terms never more than 2.7 µm.
    for to in MAIN_TO_MM {
        let size = f64::from(to) * 1e-3;
        for grade in Grade::all().take_while(|g| g.number() <= 4) {
            let Ok(table) = standard_tolerance_m(size, grade) else {
                assert!(to > 500 && grade.number() <= 0, "{to} {grade} is missing");
                continue;
            };
            let (table, exact) = (um(table), tolerance_um(size, grade).unwrap());
            let part = (table - exact) / exact;
            assert!(part.abs() < 0.29, "{to} mm {grade}: {table} vs {exact}");
            assert!((table - exact).abs() < 2.7, "{to} mm {grade}: {table} vs {exact}");
        }
    }
}

/// Shaft deviations where the table is not the rounded formula:
/// (letter, step to mm, table, formula). Most of the first 30 mm is older practice kept.
#[rustfmt::skip]
const DEVIATION_EXCEPTIONS: &[(&str, i32, i32, i32)] = &[
    ("a", 14, 290, 280), ("a", 24, 300, 290), ("a", 140, 460, 450), ("a", 180, 580, 600),
    ("a", 250, 820, 840), ("a", 355, 1200, 1150), ("a", 400, 1350, 1300), ("b", 6, 140, 145),
    ("b", 10, 150, 145), ("b", 18, 150, 155), ("b", 30, 160, 165), ("b", 120, 240, 230),
    ("b", 140, 260, 250), ("b", 160, 280, 270), ("b", 250, 420, 430), ("b", 315, 540, 530),
    ("b", 500, 840, 860), ("c", 3, 60, 58), ("c", 14, 95, 85), ("c", 18, 95, 90),
    ("c", 24, 110, 95), ("c", 30, 110, 100), ("c", 40, 120, 105), ("c", 80, 150, 155),
    ("c", 100, 170, 165), ("c", 120, 180, 185), ("c", 200, 240, 250), ("c", 280, 300, 310),
    ("c", 450, 440, 430), ("c", 500, 480, 470), ("cd", 3, 34, 35), ("cd", 10, 56, 57),
    ("d", 10, 40, 39), ("e", 50, 50, 49), ("e", 120, 72, 70), ("e", 400, 125, 120),
    ("e", 1000, 170, 180), ("ef", 3, 10, 9), ("f", 3, 6, 7), ("f", 250, 50, 49),
    ("f", 315, 56, 55), ("f", 400, 62, 60), ("f", 500, 68, 65), ("f", 630, 76, 74),
    ("f", 800, 80, 82), ("f", 1000, 86, 90), ("fg", 3, 4, 3), ("g", 3, 2, 3), ("g", 800, 24, 23),
    ("g", 1000, 26, 25), ("g", 1250, 28, 27), ("g", 1600, 30, 29), ("g", 3150, 38, 37),
    ("k", 3, 0, 1), ("m", 3, 2, 4), ("m", 1250, 40, 39), ("m", 1600, 48, 47), ("m", 2000, 58, 56),
    ("m", 2500, 68, 66), ("m", 3150, 76, 80), ("n", 3, 4, 6), ("n", 120, 23, 24),
    ("n", 630, 44, 43), ("n", 800, 50, 49), ("n", 1000, 56, 57), ("p", 2000, 170, 165),
    ("p", 2500, 195, 200), ("r", 3, 10, 9), ("r", 14, 23, 22), ("r", 18, 23, 22),
    ("r", 40, 34, 33), ("r", 50, 34, 33), ("r", 160, 65, 66), ("r", 200, 77, 78),
    ("r", 225, 80, 81), ("r", 500, 132, 130), ("r", 1600, 330, 320), ("r", 2800, 550, 540),
    ("s", 710, 340, 350), ("s", 1400, 640, 660), ("s", 2000, 920, 900), ("t", 30, 41, 38),
    ("t", 40, 48, 47), ("t", 50, 54, 53), ("t", 630, 450, 440), ("t", 1250, 840, 860),
    ("u", 3, 18, 12), ("u", 6, 23, 16), ("u", 10, 28, 23), ("u", 14, 33, 30), ("u", 18, 33, 34),
    ("u", 24, 41, 42), ("u", 450, 490, 485), ("u", 500, 540, 535), ("v", 18, 39, 38),
    ("x", 3, 20, 13), ("x", 6, 28, 19), ("x", 10, 34, 27), ("x", 14, 40, 37), ("x", 18, 45, 43),
    ("z", 3, 26, 14), ("z", 6, 35, 23), ("z", 10, 42, 34), ("z", 14, 50, 48), ("z", 18, 60, 58),
    ("za", 3, 32, 19), ("za", 6, 42, 31), ("za", 10, 52, 46), ("zb", 3, 40, 32),
    ("zb", 6, 50, 47), ("zb", 18, 108, 106), ("zb", 50, 242, 240), ("zc", 3, 60, 49),
    ("zc", 6, 80, 69),
];

/// The magnitude a shaft's table gives (µm), through the public limits.
fn table_um(letter: Letter, size_m: f64) -> Option<f64> {
    let limits = Zone::shaft(letter, Grade::it(6)?).limits(size_m).ok()?;
    Some(um(if letter < Letter::H { -limits.upper_m } else { limits.lower_m }))
}

#[test]
fn shaft_deviations_are_the_rounded_formula_but_for_the_listed_cells() {
    let by_main = [
        Letter::Cd,
        Letter::D,
        Letter::E,
        Letter::Ef,
        Letter::F,
        Letter::Fg,
        Letter::G,
        Letter::K,
        Letter::M,
        Letter::N,
        Letter::P,
    ];
    let mut found = BTreeSet::new();
    let mut checked = 0;
    for letter in Letter::ALL {
        let steps: &[i32] = if by_main.contains(&letter) { &MAIN_TO_MM } else { &SUB_TO_MM };
        for &to in steps {
            let size = f64::from(to) * 1e-3;
            let Some(formula) = shaft_deviation_um(size, letter).unwrap() else { continue };
            let table = table_um(letter, size).unwrap();
            let rule = match (to > 500, letter < Letter::H) {
                (true, _) => Rounding::Above500,
                (false, true) => Rounding::ClearanceSide,
                (false, false) => Rounding::InterferenceSide,
            };
            checked += 1;
            match formula {
                FormulaDeviation::Value(exact) => {
                    let rounded = rounded_um(exact, rule);
                    if table != rounded {
                        found.insert((
                            letter.text(Member::Shaft),
                            to,
                            table as i32,
                            rounded as i32,
                        ));
                    }
                    // Above 30 mm the table is never further from the formula than 3 µm and 4 %
                    // (c at 30 to 40 mm: 14 %).
                    let c_old = letter == Letter::C && to == 40;
                    if to > 30 && !c_old {
                        let slack = 3.0 + 0.04 * exact;
                        assert!((table - exact).abs() < slack, "{letter:?} {to}: {table} {exact}");
                    }
                }
                FormulaDeviation::Between(low, high) => {
                    // p and s at 3 mm are one grade's worth below the rule.
                    if to == 3 {
                        assert!(table < low && table > 0.5 * low, "{letter:?} {to}: {table}");
                    } else {
                        // A nanometre of play for the sum in the formula.
                        let within = (low - 1e-3..=high + 1e-3).contains(&table);
                        assert!(within, "{letter:?} {to}: {table}");
                    }
                }
            }
        }
    }
    assert_eq!(checked, 585, "cells checked");
    let listed: BTreeSet<_> = DEVIATION_EXCEPTIONS.iter().copied().collect();
    assert_eq!(listed.len(), DEVIATION_EXCEPTIONS.len());
    assert_eq!(found, listed);
}
