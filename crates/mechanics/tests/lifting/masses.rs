//! Masses and balance points.

use super::{body, near};
use mechanics::lifting::*;
use proptest::prelude::*;
use std::f64::consts::PI;

const STEEL: Density = Density { kg_m3: 7850.0, u_kg_m3: 0.0 };

fn piece(solid: Solid, kind: PieceKind, placement: Placement) -> Piece {
    Piece { solid, density: DensityNo(0), kind, placement, u_place_m: 0.0 }
}

fn mm(value: f64) -> Size {
    Size::exact(value * 1e-3)
}

/// LG-08: T section, flange 100 x 20 on web 20 x 80, centroid 67.78 mm above the foot (computed).
/// The same as a prism of eight corners and as two bars.
#[test]
fn t_section_three_ways() {
    let tee = Solid::TSection {
        flange_width: mm(100.0),
        flange_thickness: mm(20.0),
        web_thickness: mm(20.0),
        web_height: mm(80.0),
        length: mm(1000.0),
    };
    let (volume, c) = tee.volume_and_centroid().unwrap();
    assert!(near(volume, 3600e-6, 1e-12));
    assert!(near(c[2], 0.06778, 5e-6), "{c:?}");
    let corners = [
        [-10.0, 0.0],
        [10.0, 0.0],
        [10.0, 80.0],
        [50.0, 80.0],
        [50.0, 100.0],
        [-50.0, 100.0],
        [-50.0, 80.0],
        [-10.0, 80.0],
    ];
    for turn in [false, true] {
        let mut corners_m: Vec<_> = corners.iter().map(|c| [c[0] * 1e-3, c[1] * 1e-3]).collect();
        if turn {
            corners_m.reverse();
        }
        let prism = Solid::Prism { corners_m, length: mm(1000.0) };
        let (v, p) = prism.volume_and_centroid().unwrap();
        assert!(near(v, volume, 1e-12) && near(p[2], c[2], 1e-12) && near(p[1], 0.0, 1e-12));
    }
    let bar = |w, h, z| {
        let solid = Solid::Bar { length: mm(1000.0), width: mm(w), height: mm(h) };
        piece(solid, PieceKind::Metal, Placement::at([0.0, 0.0, z]))
    };
    let two = compose(&[bar(100.0, 20.0, 0.090), bar(20.0, 80.0, 0.040)], &[STEEL]).unwrap();
    assert!(near(two.body.centre_m()[2], c[2], 1e-12));
    assert!(near(two.body.mass_kg(), volume * 7850.0, 1e-9));
}

/// An I section with both flanges alike is symmetric; one without a lower flange wider than its web
/// is the T section.
#[test]
fn i_section_limits() {
    let eye = |lower: f64| Solid::ISection {
        lower_width: mm(lower),
        lower_thickness: mm(20.0),
        upper_width: mm(100.0),
        upper_thickness: mm(20.0),
        web_thickness: mm(20.0),
        web_height: mm(60.0),
        length: mm(500.0),
    };
    let (_, c) = eye(100.0).volume_and_centroid().unwrap();
    assert!(near(c[2], 0.05, 1e-12));
    let (_, c) = eye(20.0).volume_and_centroid().unwrap();
    assert!(near(c[2], 0.067_777_8, 1e-6), "{c:?}");
}

/// Composite area of Beer & Johnston, Vector Mechanics for Engineers: Statics, sample problem 5.1
/// (from memory): A = 13.828e3 mm², centroid at 54.8 and 36.6 mm. Drawn as a plate 1 mm thick of a
/// rectangle 120 x 80, a triangle 120 x 60 below it, a half disc of radius 60 on top and a hole of
/// radius 40.
#[test]
fn composite_plate_of_beer_and_johnston() {
    // Sections lie in y, z; the thickness is along x.
    let rectangle = Solid::Bar { length: mm(1.0), width: mm(120.0), height: mm(80.0) };
    let triangle =
        Solid::Prism { corners_m: vec![[0.0, 0.0], [0.12, 0.0], [0.0, -0.06]], length: mm(1.0) };
    let half = Solid::RingSector { outer: mm(120.0), inner: mm(0.0), length: mm(1.0), arc_rad: PI };
    let hole = Solid::Cylinder { diameter: mm(80.0), length: mm(1.0) };
    let all = compose(
        &[
            piece(rectangle, PieceKind::Metal, Placement::at([0.0, 0.06, 0.04])),
            piece(triangle, PieceKind::Metal, Placement::HOME),
            piece(half, PieceKind::Metal, Placement::at([0.0, 0.06, 0.08])),
            piece(hole, PieceKind::Hole, Placement::at([0.0, 0.06, 0.08])),
        ],
        &[STEEL],
    )
    .unwrap();
    let c = all.body.centre_m();
    assert!(near(all.body.mass_kg() / 7850.0 / 1e-3, 13.828e-3, 1e-6));
    assert!(near(c[1], 0.0548, 0.5e-4) && near(c[2], 0.0366, 0.5e-4), "{c:?}");
}

/// Closed forms of the handbooks (from memory): cone h/4 from its base, half disc 4r/3π, quarter
/// disc 4√2 r/3π from its corner, half of a thin ring 2r/π, Pappus for a ring of round section.
#[test]
fn centroids_of_the_handbooks() {
    let cone = Solid::Cone { first: mm(200.0), last: mm(0.0), length: mm(400.0) };
    let (v, c) = cone.volume_and_centroid().unwrap();
    assert!(near(c[0], 0.1, 1e-12) && near(v, PI * 0.01 * 0.4 / 3.0, 1e-12));
    let same = Solid::Cone { first: mm(200.0), last: mm(200.0), length: mm(400.0) };
    assert!(near(same.volume_and_centroid().unwrap().1[0], 0.2, 1e-12));
    let sector = |inner: f64, arc_rad: f64| {
        let s = Solid::RingSector { outer: mm(200.0), inner: mm(inner), length: mm(10.0), arc_rad };
        s.volume_and_centroid().unwrap().1[2]
    };
    assert!(near(sector(0.0, PI), 0.4 / (3.0 * PI), 1e-12));
    assert!(near(sector(0.0, PI / 2.0), 0.4 * 2.0_f64.sqrt() / (3.0 * PI), 1e-12));
    assert!(near(sector(199.9, PI), 0.2 / PI, 1e-4));
    assert!(near(sector(100.0, 2.0 * PI), 0.0, 1e-15));
    let ring = Solid::RoundRing { middle: mm(100.0), section: mm(10.0) };
    assert!(near(ring.volume_and_centroid().unwrap().0, PI * 0.1 * PI * 0.005_f64.powi(2), 1e-15));
    let tube = Solid::Tube { outer: mm(100.0), inner: mm(60.0), length: mm(50.0) };
    assert!(near(tube.volume_and_centroid().unwrap().0, PI * (0.0025 - 0.0009) * 0.05, 1e-15));
}

/// A plate with a hole against the same plate less a cylinder.
#[test]
fn a_plate_with_holes_is_a_plate_less_cylinders() {
    let holes = vec![
        PlateHole { x_m: 0.1, y_m: 0.05, diameter: mm(60.0) },
        PlateHole { x_m: 0.3, y_m: 0.12, diameter: mm(40.0) },
    ];
    let with =
        |holes| Solid::Plate { length: mm(400.0), width: mm(200.0), thickness: mm(20.0), holes };
    let (v, c) = with(holes.clone()).volume_and_centroid().unwrap();
    let mut pieces = vec![piece(with(vec![]), PieceKind::Metal, Placement::HOME)];
    for hole in &holes {
        let solid = Solid::Cylinder { diameter: hole.diameter, length: mm(20.0) };
        // Turned so that its axis stands up.
        let placement =
            Placement { origin_m: [hole.x_m, hole.y_m, 0.0], turn_rad: [0.0, -PI / 2.0, 0.0] };
        pieces.push(piece(solid, PieceKind::Hole, placement));
    }
    let all = compose(&pieces, &[STEEL]).unwrap();
    assert!(near(all.body.mass_kg(), v * 7850.0, 1e-9));
    for (got, expected) in all.body.centre_m().iter().zip(c) {
        assert!(near(*got, expected, 1e-12));
    }
}

/// LG-07: handbook densities, g/cm³ (from memory).
#[test]
fn densities_of_the_handbooks() {
    for (material, low, high) in [
        (Material::MildSteel, 7.85, 7.85),
        (Material::GreyCastIron, 7.1, 7.3),
        (Material::Gunmetal, 8.7, 8.8),
        (Material::Brass, 8.4, 8.7),
        (Material::Copper, 8.93, 8.93),
        (Material::Lead, 11.34, 11.34),
        (Material::Tin, 7.29, 7.29),
        (Material::TinWhiteMetal, 7.39, 7.39),
        (Material::Aluminium, 2.70, 2.70),
    ] {
        let d = material.density();
        assert!(d.kg_m3 >= 1000.0 * low - 1e-9 && d.kg_m3 <= 1000.0 * high + 1e-9);
        assert!(d.u_kg_m3 > 0.0);
    }
}

/// Uncertainty of a cylinder's mass in closed form, `u²/m² = (2 u_d/d)² + (u_l/l)² + (u_ρ/ρ)²`
/// (JCGM 100:2008, 5.1.6), and the shared density: it moves a balance point of one metal not at all.
#[test]
fn uncertainty_of_composed_parts() {
    let density = Density { kg_m3: 7850.0, u_kg_m3: 50.0 };
    let solid = Solid::Cylinder { diameter: Size::new(0.2, 0.001), length: Size::new(1.5, 0.003) };
    let one = compose(&[piece(solid.clone(), PieceKind::Metal, Placement::HOME)], &[density]);
    let one = one.unwrap();
    let relative = (0.01_f64.powi(2) + 0.002_f64.powi(2) + (50.0_f64 / 7850.0).powi(2)).sqrt();
    assert!(near(one.body.u_mass_kg() / one.body.mass_kg(), relative, 1e-7));
    assert!(near(one.body.u_centre_m()[0], 0.0015, 1e-9));
    assert_eq!(one.contributions[0].source, Source::Size { piece: 0, size: 0 });

    let exact = Solid::Cylinder { diameter: mm(200.0), length: mm(1500.0) };
    let at = Placement::at([4.0, 1.0, 0.0]);
    let far = [
        piece(exact.clone(), PieceKind::Metal, Placement::HOME),
        piece(exact.clone(), PieceKind::Metal, at),
    ];
    let shared = compose(&far, &[density]).unwrap();
    assert!(shared.body.u_centre_m().iter().all(|&u| u < 1e-9));
    assert!(near(shared.body.u_mass_kg() / shared.body.mass_kg(), 50.0 / 7850.0, 1e-9));
    // With two densities known apart it does: c = 4 m2/(m1+m2), u = 4·(1/4)·√2·u_ρ/ρ.
    let mut apart = far.clone();
    apart[1].density = DensityNo(1);
    let apart = compose(&apart, &[density, density]).unwrap();
    let expected = 4.0 * 0.25 * 2.0_f64.sqrt() * 50.0 / 7850.0;
    assert!(near(apart.body.u_centre_m()[0], expected, 1e-7), "{:?}", apart.body.u_centre_m());
}

/// LS-05 turned round: axle loads 16.875 and 13.125 t over 2.4 m, balance point 1.05 m from the
/// first (statics); with scales of ± 50 kg its uncertainty by hand: u = √((x u)² + ((B−x) u)²)/m.
#[test]
fn weighing_on_two_supports() {
    let reading = |x: f64, mass_kg: f64| SupportReading {
        at_m: [x, 0.0],
        u_at_m: 0.0,
        mass_kg,
        u_mass_kg: 50.0,
    };
    let all = [reading(0.0, 16_875.0), reading(2.4, 13_125.0)];
    let weighing = weigh_on_supports(&all, (0.0, 0.0)).unwrap();
    assert_eq!(weighing.axis, WeighingAxis::AlongTheLineOnly);
    assert!(near(weighing.body.mass_kg(), 30_000.0, 1e-6));
    assert!(near(weighing.body.centre_m()[0], 1.05, 1e-12));
    assert!(near(weighing.body.u_mass_kg(), 50.0 * 2.0_f64.sqrt(), 1e-9));
    let u = 50.0 * 1.05_f64.hypot(1.35) / 30_000.0;
    assert!(near(weighing.body.u_centre_m()[0], u, 1e-12));
}

/// Two hangs: the crossing by hand, and its uncertainty against a simulation by fixed steps.
#[test]
fn hook_and_string() {
    let line = |x: f64, y: f64, deg: f64| HangLine {
        from_m: [x, y],
        direction_rad: f64::to_radians(deg),
        u_from_m: 0.001,
        u_direction_rad: 0.002,
    };
    // From (0, 1) straight down, and from (1, 1) at 45 degrees down to the left: they cross at (0, 0).
    let lines = [line(0.0, 1.0, -90.0), line(1.0, 1.0, -135.0)];
    let hung = centre_from_two_hangs(&lines).unwrap();
    assert!(near(hung.centre_m[0], 0.0, 1e-12) && near(hung.centre_m[1], 0.0, 1e-12));
    assert!(near(hung.crossing_rad, PI / 4.0, 1e-12));
    let mut variance = [0.0, 0.0];
    for i in 0..2 {
        let mut moved = lines;
        moved[i].direction_rad += 0.002;
        let by_turn = centre_from_two_hangs(&moved).unwrap().centre_m;
        moved = lines;
        let across = lines[i].direction_rad + PI / 2.0;
        moved[i].from_m[0] += 0.001 * across.cos();
        moved[i].from_m[1] += 0.001 * across.sin();
        let by_shift = centre_from_two_hangs(&moved).unwrap().centre_m;
        for axis in 0..2 {
            variance[axis] += by_turn[axis].powi(2) + by_shift[axis].powi(2);
        }
    }
    for (u, v) in hung.u_centre_m.iter().zip(variance) {
        assert!((u / v.sqrt() - 1.0).abs() < 0.01);
    }
    let parallel = [line(0.0, 1.0, -90.0), line(1.0, 1.0, -100.0)];
    assert!(matches!(centre_from_two_hangs(&parallel), Err(LiftingError::LinesTooParallel { .. })));
}

/// Height from a tilt, by the readings that a part of known height would give.
#[test]
fn height_by_tilting() {
    let (m, l, x, z, tilt) = (800.0, 3.0, 1.2, 0.45, 0.15_f64);
    // Moments in the tilted part, every point turned one by one.
    let turned = |p: [f64; 2]| p[0] * tilt.cos() - p[1] * tilt.sin();
    let tilted_kg = m * turned([x, z]) / turned([l, 0.0]);
    let case = HeightByTilt {
        mass_kg: m,
        apart_m: l,
        level_kg: m * x / l,
        tilted_kg,
        tilt_rad: tilt,
        u_reading_kg: 0.5,
        u_tilt_rad: 0.001,
    };
    let (got, u) = height_from_tilt(&case).unwrap();
    assert!(near(got, z, 1e-9) && u > 0.0 && u < 0.05, "{got} {u}");
}

/// Taking a part off again gives the rest back.
#[test]
fn on_and_off_again() {
    let (a, b) = (body(300.0, [1.0, 2.0, 3.0]), body(50.0, [-1.0, 0.5, 0.2]));
    let both = Body::assembled(&[(a, PartSign::On), (b, PartSign::On)]).unwrap();
    let rest = Body::assembled(&[(both, PartSign::On), (b, PartSign::TakenOff)]).unwrap();
    assert!(near(rest.mass_kg(), 300.0, 1e-9) && near(rest.centre_m()[2], 3.0, 1e-9));
    let gone = Body::assembled(&[(b, PartSign::On), (a, PartSign::TakenOff)]);
    assert!(matches!(gone, Err(LiftingError::NothingLeft { .. })));
}

proptest! {
    /// A bar cut into pieces weighs and balances as the whole, wherever and however it lies; three
    /// supports read back its balance point.
    #[test]
    fn pieces_make_the_whole(
        cuts in prop::collection::vec(0.05..1.0_f64, 1..6),
        turn in prop::array::uniform3(-3.0..3.0_f64),
        origin in prop::array::uniform3(-5.0..5.0_f64),
    ) {
        let bar = |l: f64| Solid::Bar { length: Size::exact(l), width: mm(50.0), height: mm(80.0) };
        let whole_length: f64 = cuts.iter().sum();
        let placement = Placement { origin_m: origin, turn_rad: turn };
        let whole = compose(&[piece(bar(whole_length), PieceKind::Metal, placement)], &[STEEL])
            .unwrap().body;
        let mut from = 0.0;
        let mut parts = Vec::new();
        for cut in &cuts {
            parts.push(piece(bar(*cut), PieceKind::Metal, Placement::at([from, 0.0, 0.0])));
            from += cut;
        }
        let made = compose(&parts, &[STEEL]).unwrap().body.placed(&placement).unwrap();
        prop_assert!(near(made.mass_kg(), whole.mass_kg(), 1e-9));
        for axis in 0..3 {
            prop_assert!(near(made.centre_m()[axis], whole.centre_m()[axis], 1e-9));
        }
        let [x, y, _] = whole.centre_m();
        let supports = [[x - 1.0, y - 0.5], [x + 2.0, y - 0.4], [x + 0.2, y + 1.5]];
        // Shares by areas of the three triangles.
        let area = |p: [f64; 2], q: [f64; 2], r: [f64; 2]| {
            0.5 * ((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]))
        };
        let c = [x, y];
        let [p, q, r] = supports;
        let parts = [area(c, q, r), area(p, c, r), area(p, q, c)];
        let all = area(p, q, r);
        let readings: Vec<SupportReading> = supports.iter().zip(parts).map(|(at, part)| {
            SupportReading {
                at_m: *at,
                u_at_m: 0.001,
                mass_kg: whole.mass_kg() * part / all,
                u_mass_kg: 0.1,
            }
        }).collect();
        let weighed = weigh_on_supports(&readings, (0.0, 0.0)).unwrap();
        prop_assert_eq!(weighed.axis, WeighingAxis::Plan);
        prop_assert!(near(weighed.body.centre_m()[0], x, 1e-9));
        prop_assert!(near(weighed.body.centre_m()[1], y, 1e-9));
    }
}
