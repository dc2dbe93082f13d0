//! Checks of the detectors on slips made on purpose, and on honest readings.

use super::*;

const PIN: Expected = Expected { value_m: 0.2032, within_m: 0.2e-3 };

#[test]
fn inches_read_as_millimetres() {
    // 8.001 in entered as 8.001 mm.
    let slip = unit_slip(0.008_001, &PIN).unwrap().unwrap();
    assert_eq!(slip.kind, UnitSlipKind::InchesAsMillimetres);
    assert!((slip.meant_m - 8.001 * 0.0254).abs() < 1e-12);
    assert_eq!(slip.strength, Strength::Strong);
    assert_eq!(unit_slip(0.2031, &PIN).unwrap(), None);
    assert_eq!(unit_slip(0.15, &PIN).unwrap(), None);
}

#[test]
fn decimal_point_and_radius() {
    let point = unit_slip(2.0321, &PIN).unwrap().unwrap();
    assert_eq!(point.kind, UnitSlipKind::DecimalPoint { places: 1 });
    let radius = unit_slip(0.10155, &PIN).unwrap().unwrap();
    assert_eq!(radius.kind, UnitSlipKind::RadiusForDiameter);
}

#[test]
fn one_thimble_turn() {
    // 8.0250 in where 8.000 in was expected: one turn of an inch thimble too many.
    let slip = setting_slip(8.0250 * 0.0254, &PIN).unwrap().unwrap();
    assert_eq!((slip.step_m, slip.steps), (0.000_635, 1));
    assert!((slip.meant_m - 0.2032).abs() < 1e-12);
    let anvil = setting_slip(7.0 * 0.0254, &PIN).unwrap().unwrap();
    assert_eq!((anvil.step_m, anvil.steps), (0.0254, -1));
    assert_eq!(setting_slip(0.2033, &PIN).unwrap(), None);
    // An expectation as wide as the step can tell nothing.
    let vague = Expected { value_m: 0.2032, within_m: 0.4e-3 };
    assert_eq!(setting_slip(0.2032 + 0.000_635, &vague).unwrap(), None);
}

#[test]
fn swapped_digits_found_and_honest_ones_left() {
    let fellows = [203.12, 203.14, 203.13];
    let swap = swapped_digits("203.41", &fellows, 0.05).unwrap().unwrap();
    assert_eq!(swap.meant_text, "203.14");
    assert_eq!(swap.at, 4);
    assert_eq!(swap.strength, Strength::Strong);
    let across = swapped_digits("201.33", &fellows, 0.05).unwrap().unwrap();
    assert_eq!(across.meant_text, "203.13");
    assert_eq!(swapped_digits("203.15", &fellows, 0.05).unwrap(), None);
    assert_eq!(swapped_digits("209.99", &fellows, 0.05).unwrap(), None);
    assert!(swapped_digits("8 3/16", &fellows, 0.05).is_err());
    assert!(swapped_digits("203.41", &[203.1], 0.05).is_err());
    assert!(swapped_digits("", &fellows, 0.05).is_err());
    assert!(swapped_digits("１", &fellows, 0.05).is_err());
}

#[test]
fn outlier_needs_five_and_a_floor() {
    let few = outliers(&[1.0, 1.0, 9.0], 0.01).unwrap();
    assert_eq!(few, OutlierTest::TooFewToSay { need: 5, got: 3 });
    // Equal readings but one a last digit off: not an outlier at that resolution.
    let level = outliers(&[5.0, 5.0, 5.0, 5.0, 5.01], 0.01).unwrap();
    assert_eq!(level, OutlierTest::Tested(Vec::new()));
    let OutlierTest::Tested(found) = outliers(&[5.0, 5.02, 4.99, 5.01, 6.0], 0.01).unwrap() else {
        panic!("five are enough")
    };
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].reading, 4);
    assert_eq!(found[0].strength, Strength::Strong);
    assert!((found[0].meant - 5.005).abs() < 1e-12);
}

#[test]
fn drift_is_found_beside_taper_and_ovality() {
    // Stations and directions differ; every cell read twice, the second round in reverse order.
    let mut readings = Vec::new();
    let mut time_s = 0.0;
    let wobble = [0.3e-6, -0.2e-6, 0.1e-6, -0.3e-6, 0.2e-6, 0.0];
    for round in 0..2 {
        let mut cells: Vec<(usize, usize)> =
            (0..3).flat_map(|s| (0..2).map(move |d| (s, d))).collect();
        if round == 1 {
            cells.reverse();
        }
        for (i, (station, direction)) in cells.into_iter().enumerate() {
            let true_m = 0.2 + 50e-6 * station as f64 + 80e-6 * direction as f64;
            let reading_m = true_m + 0.1e-6 * time_s / 10.0 * 5.0 + wobble[i];
            readings.push(DriftReading { time_s, station, direction, reading_m });
            time_s += 10.0;
        }
    }
    let found = drift(&readings).unwrap();
    assert!((found.slope_m_per_s - 0.05e-6).abs() < 3.0 * found.standard_error);
    assert_eq!(found.degrees_of_freedom, 12 - 4 - 1);
    assert!(found.strength.is_some());
    // The same without the drift.
    let still: Vec<DriftReading> = readings
        .iter()
        .map(|r| DriftReading { reading_m: r.reading_m - 0.05e-6 * r.time_s, ..*r })
        .collect();
    assert_eq!(drift(&still).unwrap().strength, None);
}

#[test]
fn drift_in_step_with_stations_cannot_be_told() {
    let readings: Vec<DriftReading> = (0..6)
        .map(|i| DriftReading {
            time_s: f64::from(i / 2),
            station: i as usize / 2,
            direction: i as usize % 2,
            reading_m: 0.2,
        })
        .collect();
    assert!(matches!(drift(&readings), Err(crate::metrology::MetrologyError::Undetermined { .. })));
}

#[test]
fn the_same_diameter_from_both_sides() {
    let read = |station, degrees: f64, diameter_m| OpposedReading {
        station,
        direction_rad: degrees.to_radians(),
        diameter_m,
    };
    let readings = [
        read(0, 30.0, 0.2),
        read(0, 210.0, 0.20004),
        read(1, 210.0, 0.2001),
        read(0, 120.0, 0.2002),
        read(0, 300.0, 0.200201),
    ];
    let found = opposed_disagreements(&readings, 2e-6).unwrap();
    assert_eq!(found.len(), 1);
    assert_eq!((found[0].first, found[0].second), (0, 1));
    assert_eq!(found[0].strength, Strength::Strong);
}
