//! Lands and steps, driving and drawing, load.

use std::f64::consts::PI;

use mechanics::bolt::{
    BoltError, BoltLoad, BoltWanted, DesignFinding, DesignMember, DriveInput, DriveMember, Head,
    Jack, LandRole, LoadMember, Security, Thread, design_bolt, drive_bolt, load_bolt,
};
use mechanics::fits::Band;
use mechanics::press::{Assembly, Behaviour, FrictionBand, Geometry, Material, Section, Slice};

use super::parts::{close, near, read_hole, synthetic, true_hole};

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
        read_hole(&synthetic(0.0452, 0.0, 0.0, 40e-6, 0.0), 0.060, 0.0, 0.0).unwrap();
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
        behaviour: Behaviour::Elastic,
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
