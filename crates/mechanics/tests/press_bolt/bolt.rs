//! Fitted bolts: holes, line, reaming, lands, driving, load, matching.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_3, FRAC_PI_6, PI};

use mechanics::bolt::{
    BoltError, BoltLoad, BoltWanted, Circle, DesignFinding, DesignMember, DriveInput, DriveMember,
    FormLimits, Head, HoleForm, HoleReading, Jack, LandRole, LoadMember, MatchInput, Mismatch,
    ReamDecision, ReamReason, ReamWanted, Security, Thread, clean_up, design_bolt, drive_bolt,
    go_through, hole_form, load_bolt, match_bolts, mismatch_from_pin, ream_advice,
};
use mechanics::fits::Band;
use mechanics::press::{Assembly, Behaviour, FrictionBand, Geometry, Material, Section, Slice};
use proptest::prelude::*;

fn near(got: f64, expected: f64, relative: f64) {
    assert!((got / expected - 1.0).abs() < relative, "got {got}, expected {expected}");
}

fn close(got: f64, expected: f64) {
    assert!((got - expected).abs() < 1e-9, "got {got}, expected {expected}");
}

fn reading(depth_m: f64, direction_rad: f64, diameter_m: f64) -> HoleReading {
    HoleReading { depth_m, direction_rad, diameter_m }
}

/// Readings of a hole `d(z, t) = size + taper z/l + bell at the mouths + oval cos 2(t - axis)`.
fn synthetic(size: f64, taper: f64, bell: f64, oval: f64, axis: f64) -> Vec<HoleReading> {
    let length = 0.060;
    let mut all = Vec::new();
    for i in 0..5 {
        let depth = length * f64::from(i) / 4.0;
        for k in 0..4 {
            let t = PI * f64::from(k) / 4.0;
            let mouth = if i == 0 || i == 4 { bell } else { 0.0 };
            let d = size
                + taper * (depth / length - 0.5)
                + mouth
                + 0.5 * oval * (2.0 * (t - axis)).cos();
            all.push(reading(depth, t, d));
        }
    }
    all
}

/// What is put in comes out: size, taper, bell-mouth, ovality and its direction.
#[test]
fn form_of_a_made_up_hole() {
    let readings = synthetic(0.045, 20e-6, 12e-6, 30e-6, FRAC_PI_6);
    let form = hole_form(&readings, 0.060, 2e-6, 1e-6).unwrap();
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
    let back = hole_form(&turned, 0.060, 2e-6, 1e-6).unwrap();
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
    let form = hole_form(&readings, 0.01, 0.0, 0.0).unwrap();
    assert!(form.out_of_round_m.unwrap() < 1e-12);
    assert_eq!(form.stations[0].long_axis_rad, None);
    close(form.size_m, 0.045);
}

#[test]
fn too_few_readings_leave_the_form_unsaid() {
    let one = hole_form(&[reading(0.0, 0.0, 0.045)], 0.05, 1e-6, 0.0).unwrap();
    assert_eq!((one.out_of_round_m, one.taper_m, one.bell_head_m), (None, None, None));
    close(one.size_m, 0.045);
    // The same direction a half turn on is the same direction.
    let twice = [reading(0.0, 0.1, 0.045), reading(0.0, 0.1 + PI, 0.04501)];
    assert_eq!(hole_form(&twice, 0.05, 0.0, 0.0).unwrap().out_of_round_m, None);
    assert!(matches!(hole_form(&[], 0.05, 0.0, 0.0), Err(BoltError::TooFew { .. })));
    for bad in [f64::NAN, f64::INFINITY, -0.01, 0.0] {
        assert!(hole_form(&[reading(0.0, 0.0, bad)], 0.05, 0.0, 0.0).is_err());
        assert!(hole_form(&[reading(0.0, 0.0, 0.045)], bad, 0.0, 0.0).is_err());
    }
    assert!(hole_form(&[reading(0.06, 0.0, 0.045)], 0.05, 0.0, 0.0).is_err());
}

fn circle(x_m: f64, y_m: f64, diameter_m: f64) -> Circle {
    Circle { x_m, y_m, diameter_m }
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

fn true_hole(size_m: f64, length_m: f64) -> HoleForm {
    HoleForm::expected_true(size_m, length_m, 1e-6).unwrap()
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
    let good = hole_form(&synthetic(0.045, 5e-6, 2e-6, 8e-6, 0.0), 0.060, 0.0, 0.0).unwrap();
    let forms = [good.clone(), good];
    let advice = ream_advice(&forms, &[(0.0, 0.0), (10e-6, 0.0)], &ream_wanted()).unwrap();
    assert_eq!(advice.decision, ReamDecision::LeaveAsFound);
    assert!(advice.reasons.is_empty() && advice.not_judged.is_empty());
}

/// An oval hole 100 µm off the other: clean-up 45.03 + 0.1 (closed form), so the next reamer with
/// a cut of 0.05 is 45.2; and the reasons are named.
#[test]
fn oval_and_off_line_holes_are_reamed_to_the_next_size() {
    let oval = hole_form(&synthetic(0.045, 0.0, 0.0, 60e-6, 0.0), 0.060, 0.0, 0.0).unwrap();
    let plain = hole_form(&synthetic(0.045, 0.0, 0.0, 0.0, 0.0), 0.060, 0.0, 0.0).unwrap();
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
    let bare = hole_form(&[reading(0.0, 0.0, 0.045)], 0.06, 0.0, 0.0).unwrap();
    let advice = ream_advice(&[bare], &[(0.0, 0.0)], &ream_wanted()).unwrap();
    assert_eq!(advice.not_judged.len(), 3);
    assert!(ream_advice(&forms, &[(0.0, 0.0)], &ream_wanted()).is_err());
}

fn member(size_m: f64, length_m: f64) -> DesignMember {
    DesignMember {
        hole: true_hole(size_m, length_m),
        centre_m: (0.0, 0.0),
        interference: Band { min_m: 2e-6, max_m: 14e-6 },
        tight_length_m: None,
        gap_after_m: 0.0,
    }
}

/// Three members, holes stepped 0.1 mm from leg to leg: 45.20, 45.10, 45.00.
fn stepped() -> BoltWanted {
    BoltWanted {
        hole_number: 3,
        members: vec![member(0.0452, 0.030), member(0.0451, 0.080), member(0.0450, 0.030)],
        guard_m: 1e-6,
        land_tolerance_m: 8e-6,
        slide_m: 20e-6,
        lead_m: 2e-3,
        reamers_m: vec![0.0451, 0.0452, 0.0453, 0.0454],
        head: Head::Hexagon { across_m: 0.070, height_m: 0.030 },
        thread: Thread { major_m: 0.042, pitch_m: 3e-3, length_m: 0.050, run_out_m: 6e-3 },
        security: Security::SplitPin { hole_m: 8e-3 },
    }
}

#[test]
fn a_stepped_bolt_slides_most_of_the_way() {
    let design = design_bolt(&stepped()).unwrap();
    assert!(design.findings.is_empty(), "{:?}", design.findings);
    let fitted: Vec<_> = design.lands.iter().filter(|l| l.role == LandRole::Fitted).collect();
    assert_eq!(fitted.len(), 3);
    // Land = size + [least + guard, most - guard].
    close(fitted[1].diameter_min_m, 0.0451 + 3e-6);
    close(fitted[1].diameter_max_m, 0.0451 + 13e-6);
    close(fitted[1].from_m, 0.030);
    close(fitted[1].to_m, 0.110);
    close(design.grip_m, 0.140);
    close(design.length_under_head_m, 0.196);
    // Each land grips only in its own member; the longest, the butt, first: 80 mm before home.
    close(design.tightens_before_home_m, 0.080);
    assert!(design.slide.iter().all(|s| s.drags_through.is_empty() && s.open_to_m.is_none()));
    assert!(design.notes.iter().any(|n| n.contains("split pin")));
}

/// A short fitted length at the head side of each member, the rest piloted, brings the tight
/// travel down to that length.
#[test]
fn a_pilot_shortens_the_tight_travel() {
    let mut wanted = stepped();
    for m in &mut wanted.members {
        m.tight_length_m = Some(0.015);
    }
    let design = design_bolt(&wanted).unwrap();
    close(design.tightens_before_home_m, 0.015);
    let pilots: Vec<_> = design.lands.iter().filter(|l| l.role == LandRole::Pilot).collect();
    assert_eq!(pilots.len(), 3);
    for pilot in pilots {
        assert!(pilot.local_interference_m.1 <= -20e-6 + 1e-12);
    }
    // Lands follow each other without gap or overlap from under the head to the grip's end.
    let mut at = 0.0;
    for land in &design.lands {
        close(land.from_m, at);
        at = land.to_m;
    }
    close(at, design.grip_m);
}

/// Parallel holes: the far land has to be dragged through all, and the cascade says what to open:
/// the butt to the strap's land and sliding clearance, the head-side leg beyond the butt's.
#[test]
fn parallel_holes_drag_and_the_cascade_opens_them() {
    let mut wanted = stepped();
    for m in &mut wanted.members {
        m.hole = true_hole(0.0450, m.hole.length_m);
    }
    let design = design_bolt(&wanted).unwrap();
    close(design.tightens_before_home_m, 0.140);
    let far = &design.slide[2];
    assert_eq!(far.drags_through, [0, 1]);
    assert!(design.findings.contains(&DesignFinding::DragsThrough { land: 2, through: 0 }));
    // Far land tops at 45.013; the butt must open to 45.033, the next reamer is 45.1.
    close(design.slide[1].open_to_m.unwrap(), 0.0450 + 13e-6 + 20e-6);
    close(design.slide[1].open_with_m.unwrap(), 0.0451);
    // Then the butt's land tops at 45.113 and the head-side leg must pass that.
    close(design.slide[0].open_to_m.unwrap(), 0.0451 + 13e-6 + 20e-6);
    close(design.slide[0].open_with_m.unwrap(), 0.0452);
    // With the holes opened as advised nothing drags any more.
    for (m, size) in wanted.members.iter_mut().zip([0.0452, 0.0451, 0.0450]) {
        m.hole = true_hole(size, m.hole.length_m);
    }
    assert!(design_bolt(&wanted).unwrap().slide.iter().all(|s| s.drags_through.is_empty()));
}

#[test]
fn form_line_thread_and_bands_are_watched() {
    // An oval hole is tighter and looser in places than wanted.
    let mut wanted = stepped();
    wanted.members[0].hole =
        hole_form(&synthetic(0.0452, 0.0, 0.0, 40e-6, 0.0), 0.060, 0.0, 0.0).unwrap();
    let design = design_bolt(&wanted).unwrap();
    let tighter = |f: &DesignFinding| matches!(f, DesignFinding::TighterInPlaces { member: 0, .. });
    assert!(design.findings.iter().any(tighter), "{:?}", design.findings);
    // The butt 50 µm off the straps: the least circle round the centres is 25 µm in radius.
    let mut off = stepped();
    off.members[1].centre_m = (30e-6, 40e-6);
    let found = design_bolt(&off).unwrap().findings;
    let offset = found.iter().find_map(|f| match f {
        DesignFinding::OutOfLine { offset_m, .. } => Some(*offset_m),
        _ => None,
    });
    close(offset.unwrap(), 25e-6);
    let mut thick = stepped();
    thick.thread.major_m = 0.045;
    let found = design_bolt(&thick).unwrap().findings;
    assert!(found.iter().any(|f| matches!(f, DesignFinding::ThreadTooLarge { .. })));
    let mut narrow = stepped();
    narrow.members[2].interference = Band { min_m: 2e-6, max_m: 9e-6 };
    let refused = design_bolt(&narrow);
    assert!(matches!(refused, Err(BoltError::BandTooNarrow { member: 2, .. })), "{refused:?}");
    let mut apart = stepped();
    apart.members[1].centre_m = (0.05, 0.0);
    assert!(matches!(design_bolt(&apart), Err(BoltError::NothingPasses { .. })));
    let mut none = stepped();
    none.members.clear();
    assert!(design_bolt(&none).is_err());
    let mut odd = stepped();
    odd.slide_m = f64::NAN;
    assert!(design_bolt(&odd).is_err());
}

fn drive_input(wanted: &BoltWanted) -> DriveInput {
    let steels = [Material::steel(350e6), Material::steel(300e6), Material::steel(350e6)];
    DriveInput {
        members: wanted
            .members
            .iter()
            .zip(steels)
            .map(|(m, material)| DriveMember {
                hole: m.hole.clone(),
                outer_m: 0.110,
                material,
                gap_after_m: m.gap_after_m,
            })
            .collect(),
        bolt_material: Material::steel(400e6),
        friction: FrictionBand::OILED_STEEL,
        smoothing_loss_m: 0.0,
        interference_u_m: 0.0,
        breakaway: 1.5,
        jack: Some(Jack { area_m2: 4e-3, rated_pa: 70e6 }),
    }
}

/// The force at home is that of the members as slices of a pressed joint, and the jack's
/// pressure is breakaway times force over area (Pascal).
#[test]
fn drive_force_is_the_sum_of_the_members() {
    let wanted = stepped();
    let design = design_bolt(&wanted).unwrap();
    let mut input = drive_input(&wanted);
    // A different iron in the butt shows that each member has its own material.
    input.members[1].material = Material::cast_iron(120e6);
    let driven = drive_bolt(&design, &input).unwrap();
    let slices = wanted.members.iter().zip(&input.members).map(|(m, d)| {
        let geometry = Geometry { joint_m: m.hole.size_m, hub_outer_m: 0.110, pin_bore_m: 0.0 };
        let section = Section::new(geometry, d.material, input.bolt_material).unwrap();
        Slice { length_m: m.hole.length_m, section, interference_m: 8e-6 }
    });
    let joint = Assembly::new(slices.collect(), Behaviour::Elastic).unwrap();
    near(driven.curve.home.likely_n, joint.holding(0.08).unwrap().axial_n, 1e-6);
    near(driven.draw_n.1, 1.5 * driven.curve.home.likely_n, 1e-12);
    near(driven.jack_pa.unwrap().1, driven.draw_n.1 / 4e-3, 1e-12);
    // Low and high: half the land's tolerance (5 µm) of the 8 µm either way, and friction.
    near(driven.draw_n.0, driven.draw_n.1 * 0.05 / 0.08 * 3.0 / 8.0, 1e-6);
    near(driven.draw_n.2, driven.draw_n.1 * 0.12 / 0.08 * 13.0 / 8.0, 1e-6);
    assert_eq!(driven.jack_covers, Some(driven.jack_pa.unwrap().2 <= 70e6));
}

/// Stepped, the bolt moves freely until the butt's land enters its own member, 80 mm before home;
/// parallel, it grips from the start and the work of driving is far more.
#[test]
fn the_step_takes_the_force_out_of_the_way_in() {
    let step = stepped();
    let design = design_bolt(&step).unwrap();
    let driven = drive_bolt(&design, &drive_input(&step)).unwrap();
    let grips = driven.grips_before_home_m.unwrap();
    assert!((grips - 0.080).abs() < 1e-3, "{grips}");
    assert_eq!(driven.curve.at(0.05).unwrap().high_n, 0.0);

    let mut parallel = stepped();
    for m in &mut parallel.members {
        m.hole = true_hole(0.0450, m.hole.length_m);
    }
    let straight = drive_bolt(&design_bolt(&parallel).unwrap(), &drive_input(&parallel)).unwrap();
    let work = |r: &mechanics::bolt::DriveResult| -> f64 {
        let pairs = r.curve.points.windows(2);
        pairs.map(|p| 0.5 * (p[0].likely_n + p[1].likely_n) * (p[1].stroke_m - p[0].stroke_m)).sum()
    };
    near(straight.curve.home.likely_n, driven.curve.home.likely_n, 0.02);
    // Straight line to home against gripping over the member's own length: closed form
    // sum l_k^2/2 against (sum l_k)^2/2, here 8200 to 19600.
    near(work(&driven) / work(&straight), 8200.0 / 19600.0, 0.01);
}

#[test]
fn a_gap_between_members_grips_nothing() {
    let mut wanted = stepped();
    wanted.members[0].gap_after_m = 0.004;
    let design = design_bolt(&wanted).unwrap();
    close(design.grip_m, 0.144);
    assert!(design.lands.iter().any(|l| l.role == LandRole::Bridge));
    let with_gap = drive_bolt(&design, &drive_input(&wanted)).unwrap();
    let plain = stepped();
    let without = drive_bolt(&design_bolt(&plain).unwrap(), &drive_input(&plain)).unwrap();
    near(with_gap.curve.home.likely_n, without.curve.home.likely_n, 1e-6);
    let mut short = drive_input(&wanted);
    short.members.pop();
    assert!(matches!(drive_bolt(&design, &short), Err(BoltError::Unequal { .. })));
    let odd = DriveInput { breakaway: 0.5, ..drive_input(&wanted) };
    assert!(drive_bolt(&design, &odd).is_err());
}

fn load(shares: [f64; 3], land_m: f64, lengths: [f64; 3], edge_m: f64) -> BoltLoad {
    BoltLoad {
        total_n: 150e3,
        bolts: 1,
        worst_factor: 1.0,
        members: shares
            .iter()
            .zip(lengths)
            .map(|(&share, length_m)| LoadMember { share, land_m, length_m, edge_m })
            .collect(),
        shear_allowed_pa: 60e6,
        bearing_allowed_pa: 150e6,
        edge_ratio_least: 1.0,
    }
}

/// Khurmi & Gupta, A Textbook of Machine Design, knuckle joint for 150 kN with a 52 mm pin, eye
/// 65 mm and forks 39 mm thick, eye 104 mm outside (from memory): pin in double shear 35.3 MPa,
/// eye bearing 44.4, eye tear-out 44.4, fork bearing 37 MPa.
#[test]
fn khurmi_knuckle_joint() {
    let stress = load_bolt(&load([-0.5, 1.0, -0.5], 0.052, [0.039, 0.065, 0.039], 0.052)).unwrap();
    assert_eq!(stress.planes.len(), 2);
    for plane in &stress.planes {
        near(plane.shear_pa, 35.3e6, 2e-3);
        near(plane.force_n, 75e3, 1e-12);
    }
    near(stress.members[1].bearing_pa, 44.4e6, 2e-3);
    near(stress.members[1].tear_out_pa, 44.4e6, 2e-3);
    near(stress.members[0].bearing_pa, 37.0e6, 2e-3);
    near(stress.shear_margin, 60.0 / 35.3, 2e-3);
    assert!(stress.edges_kept);
}

/// Statics: single shear of two members has the whole load in its one plane; the worst factor
/// and the number of bolts scale it.
#[test]
fn single_shear_and_sharing() {
    let mut two = load([-1.0, 1.0, 0.0], 0.040, [0.030; 3], 0.050);
    two.members.pop();
    two.bolts = 4;
    two.worst_factor = 1.3;
    let stress = load_bolt(&two).unwrap();
    near(stress.bolt_n, 150e3 / 4.0 * 1.3, 1e-12);
    near(stress.planes[0].shear_pa, stress.bolt_n / (PI / 4.0 * 0.04 * 0.04), 1e-12);
    assert_eq!(stress.planes.len(), 1);
    two.edge_ratio_least = 1.5;
    assert!(!load_bolt(&two).unwrap().edges_kept);
    two.members[0].share = -0.9;
    assert!(matches!(load_bolt(&two), Err(BoltError::LoadDoesNotBalance { .. })));
    two.members[0].share = f64::NAN;
    assert!(load_bolt(&two).is_err());
    assert!(load_bolt(&BoltLoad { bolts: 0, ..load([0.0; 3], 0.04, [0.03; 3], 0.05) }).is_err());
}

/// A set of six, each bolt made to its own hole with 8 µm, sizes some tens of µm apart.
fn set() -> MatchInput {
    let holes: Vec<Vec<f64>> = [(0, 3), (40, 10), (85, 60), (120, 90), (30, 140), (70, 170)]
        .iter()
        .map(|&(a, b)| vec![0.0452 + f64::from(a) * 1e-6, 0.0450 + f64::from(b) * 1e-6])
        .collect();
    let bolts = holes.iter().map(|h| h.iter().map(|d| d + 8e-6).collect()).collect();
    MatchInput {
        bolts_m: bolts,
        holes_m: holes,
        interference: vec![Band { min_m: 2e-6, max_m: 14e-6 }; 2],
        u_m: 1.5e-6,
        tagged: Some((0..6).collect()),
    }
}

#[test]
fn bolts_find_their_own_holes_again() {
    let mut input = set();
    let good = match_bolts(&input).unwrap();
    assert!(good.matches.iter().enumerate().all(|(i, m)| m.hole == Some(i) && m.fits));
    assert!(good.swapped.is_empty() && good.doubtful.is_empty());
    assert!(good.matches.iter().all(|m| m.margin.unwrap() > 10.0));
    // Stamps of 1 and 4 changed over, and of 0, 2 and 5 moved round.
    input.tagged = Some(vec![2, 4, 5, 3, 1, 0]);
    let found = match_bolts(&input).unwrap();
    let mut rings: Vec<Vec<usize>> = found.swapped.clone();
    rings.iter_mut().for_each(|r| r.sort_unstable());
    rings.sort();
    assert_eq!(rings, [vec![0, 2, 5], vec![1, 4]]);
    // Each belongs in the hole that the next of its ring is tagged for.
    let tagged = input.tagged.as_ref().unwrap();
    for ring in &found.swapped {
        for (i, &bolt) in ring.iter().enumerate() {
            let next = ring[(i + 1) % ring.len()];
            assert_eq!(found.matches[bolt].hole, Some(tagged[next]));
        }
    }
}

/// Two holes 1 µm apart, read to 1.5 µm: which bolt is whose cannot be told, and is said so.
#[test]
fn what_the_readings_cannot_tell_is_called_doubtful() {
    let mut input = set();
    input.holes_m[1] = input.holes_m[0].iter().map(|d| d + 1e-6).collect();
    input.bolts_m[1] = input.bolts_m[0].iter().map(|d| d + 1e-6).collect();
    input.tagged = Some(vec![1, 0, 2, 3, 4, 5]);
    let found = match_bolts(&input).unwrap();
    assert!(found.swapped.is_empty());
    assert_eq!(found.doubtful, [0, 1]);
    assert!(found.matches[0].margin.unwrap() < 10.0);
}

#[test]
fn uneven_sets_and_bad_sets() {
    // A hole without its bolt, and a bolt too many.
    let mut input = set();
    input.tagged = None;
    input.bolts_m.remove(2);
    let found = match_bolts(&input).unwrap();
    let holes: Vec<_> = found.matches.iter().map(|m| m.hole.unwrap()).collect();
    assert_eq!(holes, [0, 1, 3, 4, 5]);
    let mut input = set();
    input.tagged = None;
    input.holes_m.remove(0);
    let found = match_bolts(&input).unwrap();
    assert_eq!(found.matches[0].hole, None);
    assert_eq!(found.matches[5].hole, Some(4));
    let one = MatchInput {
        bolts_m: vec![vec![0.045]],
        holes_m: vec![vec![0.045]],
        interference: vec![Band { min_m: -1e-6, max_m: 1e-6 }],
        u_m: 1e-6,
        tagged: None,
    };
    assert_eq!(match_bolts(&one).unwrap().matches[0].margin, None);
    assert!(match_bolts(&MatchInput { u_m: 0.0, ..one.clone() }).is_err());
    assert!(match_bolts(&MatchInput { holes_m: vec![], ..one.clone() }).is_err());
    assert!(match_bolts(&MatchInput { holes_m: vec![vec![0.04, 0.04]], ..one.clone() }).is_err());
    assert!(match_bolts(&MatchInput { tagged: Some(vec![3]), ..one.clone() }).is_err());
    assert!(match_bolts(&MatchInput { bolts_m: vec![vec![0.04]; 65], ..one }).is_err());
}

proptest! {
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
        let a = hole_form(&readings, 0.060, 1e-6, 1e-6).unwrap();
        let mut moved: Vec<_> = readings
            .iter()
            .map(|r| HoleReading { direction_rad: r.direction_rad + PI * f64::from(turns), ..*r })
            .collect();
        moved.reverse();
        let b = hole_form(&moved, 0.060, 1e-6, 1e-6).unwrap();
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
        let _ = hole_form(&readings, v[0], v[1], v[2]);
        let ok: Vec<_> = v.iter().map(|d| reading(0.01, *d, 0.045)).collect();
        let _ = hole_form(&ok, 0.02, 1e-6, 1e-6);
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

#[test]
fn directions_at_right_angles_are_enough_for_out_of_round() {
    let two = [reading(0.0, 0.0, 0.04502), reading(0.0, FRAC_PI_2, 0.045)];
    let form = hole_form(&two, 0.05, 0.0, 0.0).unwrap();
    close(form.out_of_round_m.unwrap(), 20e-6);
    assert_eq!(form.stations[0].long_axis_rad, None);
    let three: Vec<_> = (0..3)
        .map(|k| {
            let t = FRAC_PI_3 * f64::from(k);
            reading(0.0, t, 0.045 + 10e-6 * (2.0 * t).cos())
        })
        .collect();
    let form = hole_form(&three, 0.05, 0.0, 0.0).unwrap();
    let axis = form.stations[0].long_axis_rad.unwrap();
    assert!(axis.min(PI - axis) < 1e-6, "{axis}");
}
