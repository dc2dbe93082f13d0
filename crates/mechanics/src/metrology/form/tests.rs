//! Checks of size and form against closed forms and hand computation.

use std::f64::consts::PI;

use super::*;
use crate::metrology::{MetrologyError, Missing};

fn read(station: usize, degrees: f64, mm: f64) -> DiameterReading {
    DiameterReading { station, direction_rad: Some(degrees.to_radians()), diameter_m: mm / 1000.0 }
}

#[test]
fn one_reading_gives_a_size_and_says_why_not_the_rest() {
    let form = cylinder_form(SurfaceKind::Journal, &[0.0], &[read(0, 0.0, 200.0)]).unwrap();
    assert_eq!(form.mean_size.value, 0.2);
    assert_eq!(form.spread, Err(Missing::Readings { need: 2, got: 1 }));
    assert_eq!(form.taper, Err(Missing::Stations { need: 2, got: 1 }));
    assert_eq!(form.crown, Err(Missing::Stations { need: 3, got: 1 }));
    assert_eq!(form.stations[0].ovality, Err(Missing::Directions { need: 2, got: 1 }));
    assert!(form.cautions.contains(&Caution::OddLobesUnseen));
}

#[test]
fn a_taper_is_not_made_of_ovality_when_cells_are_missing() {
    // True surface: 200 mm, ovality 0.08 mm along 30 degrees, no taper. Stations read in
    // different directions; plain station means differ by 0.04 mm.
    let truth = |deg: f64| 200.0 + 0.04 * (2.0 * (deg - 30.0_f64).to_radians()).cos();
    let cells = [(0, 0.0), (0, 45.0), (1, 0.0), (1, 90.0), (1, 135.0), (2, 45.0), (2, 90.0)];
    let readings: Vec<_> = cells.iter().map(|&(s, d)| read(s, d, truth(d))).collect();
    let form = cylinder_form(SurfaceKind::Journal, &[0.0, 0.1, 0.2], &readings).unwrap();
    assert!(form.taper.as_ref().unwrap().value.abs() < 1e-12);
    assert!((form.least_squares_size.unwrap().value - 0.2).abs() < 1e-12);
    assert!(form.crown.unwrap().value.abs() < 1e-12);
}

#[test]
fn harmonic_ovality_finds_amplitude_and_direction() {
    let truth = |deg: f64| 180.0 + 0.05 * (2.0 * (deg - 20.0_f64).to_radians()).cos();
    let readings: Vec<_> =
        (0..6).map(|i| read(0, 30.0 * f64::from(i), truth(30.0 * f64::from(i)))).collect();
    let form = cylinder_form(SurfaceKind::Journal, &[0.0], &readings).unwrap();
    let harmonic = form.stations[0].harmonic_ovality.as_ref().unwrap();
    assert!((harmonic.ovality.value - 0.1e-3).abs() < 1e-12);
    assert!((harmonic.largest_at_rad - 20.0_f64.to_radians()).abs() < 1e-9);
    // Largest and smallest reading lie off the axes of the ellipse: 10 degrees from it.
    let seen = 0.1e-3 * (20.0_f64.to_radians()).cos();
    let picked = form.stations[0].ovality.as_ref().unwrap();
    assert!((picked.value - seen).abs() < 1e-12);
    // Between the directions read the journal is smaller than any reading.
    let between = form.clean_up.between_directions.unwrap();
    assert!((between.value - 0.17995).abs() < 1e-12);
    assert!(between.value < form.clean_up.bound.value);
}

#[test]
fn crown_and_its_name() {
    // d = 200 + 0.02 t - 0.05 t^2 (mm), t from -1 to 1: middle is 0.05 above the mean of ends.
    let readings: Vec<_> = (0..5)
        .map(|i| {
            let t = f64::from(i) / 2.0 - 1.0;
            read(i as usize, 0.0, 200.0 + 0.02 * t - 0.05 * t * t)
        })
        .collect();
    let stations = [0.0, 0.05, 0.1, 0.15, 0.2];
    let journal = cylinder_form(SurfaceKind::Journal, &stations, &readings).unwrap();
    assert!((journal.crown.as_ref().unwrap().value - 0.05e-3).abs() < 1e-12);
    assert_eq!(journal.axial_shape(), Ok(AxialShape::Barrel));
    assert!((journal.taper.unwrap().value - 0.02e-3 / 0.1).abs() < 1e-11);
    let bore: Vec<_> =
        readings.iter().map(|r| DiameterReading { diameter_m: 0.4 - r.diameter_m, ..*r }).collect();
    let bore = cylinder_form(SurfaceKind::Bore, &stations, &bore).unwrap();
    assert_eq!(bore.axial_shape(), Ok(AxialShape::BellMouth));
}

#[test]
fn slope_not_separable_from_direction_says_so() {
    let readings = [read(0, 0.0, 200.0), read(1, 90.0, 199.9)];
    let form = cylinder_form(SurfaceKind::Journal, &[0.0, 0.2], &readings).unwrap();
    assert_eq!(form.taper, Err(Missing::NotSeparable));
    let ends = form.end_to_end.unwrap();
    assert!(!ends.same_directions);
    assert!((ends.difference.value + 0.1e-3).abs() < 1e-12);
}

#[test]
fn refuses_what_is_not_a_diameter() {
    for bad in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e9] {
        let result = cylinder_form(SurfaceKind::Bore, &[0.0], &[read(0, 0.0, bad)]);
        assert!(matches!(result, Err(MetrologyError::OutOfRange { .. })), "{bad}");
    }
    assert!(cylinder_form(SurfaceKind::Bore, &[0.0], &[]).is_err());
    assert!(cylinder_form(SurfaceKind::Bore, &[], &[read(0, 0.0, 1.0)]).is_err());
}

#[test]
fn two_points_are_blind_to_three_lobes_and_traverses_are_not() {
    // ISO 4292:1985 / identity (reference value FT-10): r = R + a cos 3θ.
    let (radius, a) = (0.1, 20e-6);
    let r = |angle: f64| radius + a * (3.0 * angle).cos();
    let readings: Vec<_> = (0..12)
        .map(|i| {
            let angle = PI * f64::from(i) / 12.0;
            DiameterReading {
                station: 0,
                direction_rad: Some(angle),
                diameter_m: r(angle) + r(angle + PI),
            }
        })
        .collect();
    let form = cylinder_form(SurfaceKind::Journal, &[0.0], &readings).unwrap();
    assert!(form.spread.unwrap().value < 1e-15);
    assert!((form.clean_up.bound.value - 0.2).abs() < 1e-15);
    let dial: Vec<_> = (0..72)
        .map(|i| {
            let angle_rad = 2.0 * PI * f64::from(i) / 72.0;
            RadialReading { station: 0, angle_rad, radial_m: r(angle_rad) - radius }
        })
        .collect();
    let seen = traversed_cylinder(&TraversedStations {
        kind: SurfaceKind::Journal,
        base_radius_m: radius,
        stations_m: &[0.0],
        readings: &dial,
    })
    .unwrap();
    assert!((seen.least_squares.cylindricity_m - 2.0 * a).abs() < 1e-12);
    assert!((seen.clean_up.unwrap().diameter_m - 2.0 * (radius - a)).abs() < 1e-12);
}

#[test]
fn a_bent_pin_cleans_up_on_the_straight_line_through_its_stations() {
    // Round stations whose centres lie off a line: middle one out by 0.1 mm. The largest cylinder
    // on a free straight axis loses half of that on each side: radius less 0.05 mm.
    let offsets = [0.0, 0.1e-3, 0.0];
    let dial: Vec<_> = (0..3)
        .flat_map(|station| {
            (0..36).map(move |i| {
                let angle_rad = 2.0 * PI * f64::from(i) / 36.0;
                RadialReading { station, angle_rad, radial_m: offsets[station] * angle_rad.cos() }
            })
        })
        .collect();
    let seen = traversed_cylinder(&TraversedStations {
        kind: SurfaceKind::Journal,
        base_radius_m: 0.1,
        stations_m: &[0.0, 0.15, 0.3],
        readings: &dial,
    })
    .unwrap();
    assert!((seen.clean_up.as_ref().unwrap().diameter_m - 2.0 * (0.1 - 0.05e-3)).abs() < 1e-12);
    assert!((seen.clean_up_on_centres_m - 2.0 * (0.1 - 0.1e-3)).abs() < 1e-12);
    let zone = seen.minimum_zone.unwrap();
    assert!((zone.cylindricity_m - 0.1e-3).abs() < 1e-12, "{}", zone.cylindricity_m);
}

#[test]
fn faces() {
    let place =
        |u: f64, v: f64, mm: f64| FaceReading { place_m: Some((u, v)), distance_m: mm / 1000.0 };
    // d = 40 + 0.2 u - 0.1 v mm, u and v in m.
    let readings = [
        place(0.0, 0.0, 40.0),
        place(0.1, 0.0, 40.02),
        place(0.0, 0.1, 39.99),
        place(0.1, 0.1, 40.01),
    ];
    let form = faces_form(&readings).unwrap();
    assert!((form.mean.value - 0.040005).abs() < 1e-15);
    assert!((form.parallelism.unwrap().value - 0.03e-3).abs() < 1e-12);
    let plane = form.plane.unwrap();
    assert!((plane.slope_first.value - 0.2e-3).abs() < 1e-12);
    assert!((plane.slope_second.unwrap().value + 0.1e-3).abs() < 1e-12);
    let unplaced = [FaceReading { place_m: None, distance_m: 0.0 }];
    assert_eq!(faces_form(&unplaced).unwrap().plane, Err(Missing::NoPlaces));
}
