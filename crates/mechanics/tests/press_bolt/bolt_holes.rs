//! Holes as read, their line, and whether to ream.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_3, FRAC_PI_6, PI};

use mechanics::bolt::{
    BoltError, BoltLoad, Circle, FormLimits, HoleReading, LoadMember, MatchInput, Mismatch,
    ReamDecision, ReamReason, ReamWanted, clean_up, go_through, load_bolt, match_bolts,
    mismatch_from_pin, ream_advice,
};
use mechanics::fits::Band;
use proptest::prelude::*;

use super::parts::{circle, close, near, read_hole, reading, synthetic};

/// What is put in comes out: size, taper, bell-mouth, ovality and its direction.
#[test]
fn form_of_a_made_up_hole() {
    let readings = synthetic(0.045, 20e-6, 12e-6, 30e-6, FRAC_PI_6);
    let form = read_hole(&readings, 0.060, 2e-6, 1e-6).unwrap();
    close(form.taper_m.unwrap(), 20e-6);
    close(form.bell_head_m.unwrap(), 12e-6);
    close(form.bell_far_m.unwrap(), 12e-6);
    // The bell reaches the mean over the length by the trapezium rule: a quarter of it.
    close(form.size_m, 0.045 + 3e-6);
    for station in &form.stations {
        close(station.long_axis_rad.unwrap(), FRAC_PI_6);
        // Four directions 45 degrees apart catch cos(30) of the ovality's ends.
        close(station.out_of_round_m.unwrap(), 30e-6 * (PI / 6.0).cos());
    }
    // Twenty readings: own 2/sqrt 20, shared 1 µm.
    near(form.size_u_m, (1e-12 + 4e-12 / 20.0f64).sqrt(), 1e-9);
    // Turned end for end, the taper changes sign and the mouths change places.
    let turned: Vec<_> =
        readings.iter().map(|r| HoleReading { depth_m: 0.060 - r.depth_m, ..*r }).collect();
    let back = read_hole(&turned, 0.060, 2e-6, 1e-6).unwrap();
    close(back.taper_m.unwrap(), -20e-6);
    close(back.size_m, form.size_m);
}

/// FT-10, ISO 4292:1985 (identity): all diameters of a three-lobed profile r = R + a cos 3t are
/// 2 R, so a two-point gauge reads it as round.
#[test]
fn odd_lobes_are_not_seen_by_two_points() {
    let radius = |t: f64| 0.0225 + 50e-6 * (3.0 * t).cos();
    let readings: Vec<_> = (0..8)
        .map(|k| {
            let t = PI * f64::from(k) / 8.0;
            reading(0.0, t, radius(t) + radius(t + PI))
        })
        .collect();
    let form = read_hole(&readings, 0.01, 0.0, 0.0).unwrap();
    assert!(form.out_of_round_m.unwrap() < 1e-12);
    assert_eq!(form.stations[0].long_axis_rad, None);
    close(form.size_m, 0.045);
}

#[test]
fn too_few_readings_leave_the_form_unsaid() {
    let one = read_hole(&[reading(0.0, 0.0, 0.045)], 0.05, 1e-6, 0.0).unwrap();
    assert_eq!((one.out_of_round_m, one.taper_m, one.bell_head_m), (None, None, None));
    close(one.size_m, 0.045);
    // The same direction a half turn on is the same direction.
    let twice = [reading(0.0, 0.1, 0.045), reading(0.0, 0.1 + PI, 0.04501)];
    assert_eq!(read_hole(&twice, 0.05, 0.0, 0.0).unwrap().out_of_round_m, None);
    assert!(matches!(read_hole(&[], 0.05, 0.0, 0.0), Err(BoltError::TooFew { .. })));
    for bad in [f64::NAN, f64::INFINITY, -0.01, 0.0] {
        assert!(read_hole(&[reading(0.0, 0.0, bad)], 0.05, 0.0, 0.0).is_err());
        assert!(read_hole(&[reading(0.0, 0.0, 0.045)], bad, 0.0, 0.0).is_err());
    }
    assert!(read_hole(&[reading(0.06, 0.0, 0.045)], 0.05, 0.0, 0.0).is_err());
}

/// Closed forms: two circles, and three equal circles on a triangle (their common inscribed and
/// enclosing circles are `r -+ R` with R the circumradius).
#[test]
fn line_of_two_and_three_holes() {
    let two = [circle(0.0, 0.0, 0.045), circle(0.1e-3, 0.0, 0.0451)];
    close(go_through(&two).unwrap().diameter_m, 0.5 * (0.045 + 0.0451) - 0.1e-3);
    close(clean_up(&two).unwrap().diameter_m, 0.5 * (0.045 + 0.0451) + 0.1e-3);
    // One hole within the other: the smaller passes, the larger cleans up.
    let nested = [circle(0.0, 0.0, 0.045), circle(0.02e-3, 0.0, 0.0452)];
    close(go_through(&nested).unwrap().diameter_m, 0.045);
    close(clean_up(&nested).unwrap().diameter_m, 0.0452);
    let (r, big) = (0.045, 0.15e-3);
    let three: Vec<Circle> = (0..3)
        .map(|k| {
            let t = 2.0 * PI * f64::from(k) / 3.0 + 0.3;
            circle(big * t.cos(), big * t.sin(), r)
        })
        .collect();
    close(go_through(&three).unwrap().diameter_m, r - 2.0 * big);
    let out = clean_up(&three).unwrap();
    close(out.diameter_m, r + 2.0 * big);
    assert!(out.x_m.hypot(out.y_m) < 1e-6);
    let apart = [circle(0.0, 0.0, 0.02), circle(0.05, 0.0, 0.02)];
    assert!(matches!(go_through(&apart), Err(BoltError::NothingPasses { .. })));
    assert!(matches!(go_through(&[]), Err(BoltError::TooFew { .. })));
    assert!(go_through(&[circle(f64::NAN, 0.0, 0.02)]).is_err());
}

/// The pin that goes through gives back the offset that limits it.
#[test]
fn mismatch_from_the_largest_pin() {
    let passing = go_through(&[circle(0.0, 0.0, 0.045), circle(80e-6, 60e-6, 0.04502)]).unwrap();
    match mismatch_from_pin(0.045, 0.04502, passing.diameter_m).unwrap() {
        Mismatch::Exactly(offset) => close(offset, 100e-6),
        other => panic!("{other:?}"),
    }
    let free = mismatch_from_pin(0.045, 0.04502, 0.045).unwrap();
    assert!(matches!(free, Mismatch::AtMost(m) if (m - 10e-6).abs() < 1e-12), "{free:?}");
    assert!(mismatch_from_pin(0.045, 0.04502, 0.0451).is_err());
    assert!(mismatch_from_pin(0.045, f64::NAN, 0.04).is_err());
}

fn ream_wanted() -> ReamWanted {
    ReamWanted {
        limits: FormLimits {
            out_of_round_m: 20e-6,
            taper_m: 25e-6,
            bell_m: 30e-6,
            offset_m: 30e-6,
        },
        reamers_m: vec![0.0455, 0.0452, 0.0451, 0.046],
        cut_m: 50e-6,
        largest_m: 0.0458,
    }
}

#[test]
fn holes_within_the_limits_are_left() {
    let good = read_hole(&synthetic(0.045, 5e-6, 2e-6, 8e-6, 0.0), 0.060, 0.0, 0.0).unwrap();
    let forms = [good.clone(), good];
    let advice = ream_advice(&forms, &[(0.0, 0.0), (10e-6, 0.0)], &ream_wanted()).unwrap();
    assert_eq!(advice.decision, ReamDecision::LeaveAsFound);
    assert!(advice.reasons.is_empty() && advice.not_judged.is_empty());
}

/// An oval hole 100 µm off the other: clean-up 45.03 + 0.1 (closed form), so the next reamer with
/// a cut of 0.05 is 45.2; and the reasons are named.
#[test]
fn oval_and_off_line_holes_are_reamed_to_the_next_size() {
    let oval = read_hole(&synthetic(0.045, 0.0, 0.0, 60e-6, 0.0), 0.060, 0.0, 0.0).unwrap();
    let plain = read_hole(&synthetic(0.045, 0.0, 0.0, 0.0, 0.0), 0.060, 0.0, 0.0).unwrap();
    let forms = [oval.clone(), plain.clone()];
    let centres = [(0.0, 0.0), (100e-6, 0.0)];
    let advice = ream_advice(&forms, &centres, &ream_wanted()).unwrap();
    close(advice.clean_up.diameter_m, 0.5 * (0.04503 + 0.045) + 100e-6);
    close(advice.go_through.unwrap().diameter_m, 0.5 * (0.04497 + 0.045) - 100e-6);
    match advice.decision {
        ReamDecision::Ream { reamer_m, takes_off_m } => {
            close(reamer_m, 0.0452);
            close(takes_off_m, 0.0452 - 0.04503);
        }
        other => panic!("{other:?}"),
    }
    let is_oval = |r: &ReamReason| matches!(r, ReamReason::OutOfRound { member: 0, .. });
    assert!(advice.reasons.iter().any(is_oval));
    assert!(advice.reasons.iter().any(|r| matches!(r, ReamReason::OffLine { .. })));
    // Too small a set of reamers, and too small a strap.
    let mut small = ream_wanted();
    small.reamers_m = vec![0.0451];
    let advice = ream_advice(&forms, &centres, &small).unwrap();
    assert!(matches!(advice.decision, ReamDecision::NoReamer { needed_m } if needed_m > 0.0451));
    let mut thin = ream_wanted();
    thin.largest_m = 0.0451;
    let advice = ream_advice(&forms, &centres, &thin).unwrap();
    assert!(matches!(advice.decision, ReamDecision::TooLarge { .. }));
    // Two readings only: what was not read is said.
    let bare = read_hole(&[reading(0.0, 0.0, 0.045)], 0.06, 0.0, 0.0).unwrap();
    let advice = ream_advice(&[bare], &[(0.0, 0.0)], &ream_wanted()).unwrap();
    assert_eq!(advice.not_judged.len(), 3);
    assert!(ream_advice(&forms, &[(0.0, 0.0)], &ream_wanted()).is_err());
}

#[test]
fn directions_at_right_angles_are_enough_for_out_of_round() {
    let two = [reading(0.0, 0.0, 0.04502), reading(0.0, FRAC_PI_2, 0.045)];
    let form = read_hole(&two, 0.05, 0.0, 0.0).unwrap();
    close(form.out_of_round_m.unwrap(), 20e-6);
    assert_eq!(form.stations[0].long_axis_rad, None);
    let three: Vec<_> = (0..3)
        .map(|k| {
            let t = FRAC_PI_3 * f64::from(k);
            reading(0.0, t, 0.045 + 10e-6 * (2.0 * t).cos())
        })
        .collect();
    let form = read_hole(&three, 0.05, 0.0, 0.0).unwrap();
    let axis = form.stations[0].long_axis_rad.unwrap();
    assert!(axis.min(PI - axis) < 1e-6, "{axis}");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Go-through and clean-up against a fine look over the plane round the centres.
    #[test]
    fn line_agrees_with_looking_everywhere(
        holes in proptest::collection::vec(
            (-200e-6f64..200e-6, -200e-6f64..200e-6, 0.0448f64..0.0452), 1..6),
    ) {
        let circles: Vec<Circle> = holes.iter().map(|&(x, y, d)| circle(x, y, d)).collect();
        let (inner, outer) = (go_through(&circles).unwrap(), clean_up(&circles).unwrap());
        // What is found does pass and does clean up.
        for c in &circles {
            let off = |l: &mechanics::bolt::LineCircle| (l.x_m - c.x_m).hypot(l.y_m - c.y_m);
            prop_assert!(off(&inner) + 0.5 * inner.diameter_m <= 0.5 * c.diameter_m + 1e-9);
            prop_assert!(off(&outer) + 0.5 * c.diameter_m <= 0.5 * outer.diameter_m + 1e-9);
        }
        // And no point of a grid does better.
        for i in -10..=10 {
            for j in -10..=10 {
                let (x, y) = (20e-6 * f64::from(i), 20e-6 * f64::from(j));
                let at = |c: &Circle| (x - c.x_m).hypot(y - c.y_m);
                let pass = circles.iter().map(|c| c.diameter_m - 2.0 * at(c))
                    .fold(f64::INFINITY, f64::min);
                let clean = circles.iter().map(|c| c.diameter_m + 2.0 * at(c)).fold(0.0, f64::max);
                prop_assert!(pass <= inner.diameter_m + 1e-9);
                prop_assert!(clean >= outer.diameter_m - 1e-9);
            }
        }
    }

    /// The same readings in any order, and in directions a whole turn on, give the same form.
    #[test]
    fn form_does_not_depend_on_order(turns in -3i32..3, oval in 0.0f64..50e-6, axis in 0.0f64..3.0) {
        let readings = synthetic(0.045, 10e-6, 5e-6, oval, axis);
        let a = read_hole(&readings, 0.060, 1e-6, 1e-6).unwrap();
        let mut moved: Vec<_> = readings
            .iter()
            .map(|r| HoleReading { direction_rad: r.direction_rad + PI * f64::from(turns), ..*r })
            .collect();
        moved.reverse();
        let b = read_hole(&moved, 0.060, 1e-6, 1e-6).unwrap();
        prop_assert!((a.size_m - b.size_m).abs() < 1e-12);
        prop_assert!((a.taper_m.unwrap() - b.taper_m.unwrap()).abs() < 1e-12);
        if let (Some(p), Some(q)) = (a.stations[0].long_axis_rad, b.stations[0].long_axis_rad) {
            let apart = (p - q).rem_euclid(PI);
            prop_assert!(apart.min(PI - apart) < 1e-6);
        }
    }

    /// No figure makes it panic.
    #[test]
    fn odd_figures_do_not_panic(
        v in proptest::collection::vec(proptest::num::f64::ANY, 8), n in 0u32..5,
    ) {
        let readings: Vec<_> = v.chunks(2).map(|c| reading(c[0], c[1], c[0])).collect();
        let _ = read_hole(&readings, v[0], v[1], v[2]);
        let ok: Vec<_> = v.iter().map(|d| reading(0.01, *d, 0.045)).collect();
        let _ = read_hole(&ok, 0.02, 1e-6, 1e-6);
        let _ = go_through(&[circle(v[0], v[1], v[2]), circle(v[3], v[4], v[5])]);
        let _ = mismatch_from_pin(v[0], v[1], v[2]);
        let members = vec![
            LoadMember { share: v[0], land_m: v[1], length_m: v[2], edge_m: v[3] },
            LoadMember { share: -v[0], land_m: v[4], length_m: v[5], edge_m: v[6] },
        ];
        let _ = load_bolt(&BoltLoad {
            total_n: v[7], bolts: n, worst_factor: v[1], members,
            shear_allowed_pa: v[2], bearing_allowed_pa: v[3], edge_ratio_least: v[4],
        });
        let _ = match_bolts(&MatchInput {
            bolts_m: vec![v[..2].to_vec(), v[2..4].to_vec()],
            holes_m: vec![v[4..6].to_vec(), v[6..].to_vec()],
            interference: vec![Band { min_m: v[0], max_m: v[1] }; 2],
            u_m: v[2],
            tagged: None,
        });
    }
}
