// Set-up shared by the tests unwraps as well.
#![allow(clippy::unwrap_used)]

use super::*;
use mechanics::loads::*;
use mechanics::motion::*;

fn chain() -> ClearanceChain {
    ClearanceChain::new(ChainSizes {
        incline_rad: 0.1,
        cylinder_length_m: 0.800,
        front_cover_spigot_m: 0.012,
        back_cover_spigot_m: 0.014,
        front_joint_m: 0.001,
        back_joint_m: 0.001,
        piston_thickness_m: 0.124,
        cone_to_piston_m: 1.000,
        pin_to_cone_m: 0.150,
        rod_centres_m: 1.900,
        big_end_take_up_m: 0.0,
        small_end_take_up_m: 0.0,
        crank_throw_m: 0.320,
        line_offset_m: 0.040,
        axle_to_cylinder_m: 2.7113,
        axle_fore_m: 0.0,
        axle_rise_m: 0.0,
        big_end_slack_m: 0.0009,
        small_end_slack_m: 0.0006,
        journal_slack_m: 0.0006,
        horn_slack_m: 0.0008,
    })
    .unwrap()
}

fn motion() -> Motion {
    let line = |place, lateral_m, crank_lag_rad| CylinderLine {
        place,
        lateral_m,
        crank_throw_m: 0.32,
        rod_centres_m: 1.9,
        incline_rad: 0.1,
        offset_m: 0.04,
        crank_lag_rad,
    };
    let quarter = std::f64::consts::FRAC_PI_2;
    Motion::new(&[line(Place::InsideLeft, 0.33, quarter), line(Place::InsideRight, -0.33, 0.0)])
        .unwrap()
}

fn view(deg: f64) -> SideView {
    SideView {
        cylinder: CylinderNo(0),
        body: CylinderBody::from_chain(&chain(), 0.46, 0.075).unwrap(),
        tyre_diameter_m: 1.6,
        wheel: WheelAngle::from_deg(deg).unwrap(),
    }
}

fn end_sizes() -> EndViewSizes {
    EndViewSizes {
        tyre_diameter_m: 1.6,
        tyre_width_m: 0.14,
        wheels_apart_m: 1.5,
        axle_m: 0.2,
        crank_pin_m: 0.19,
        crank_pin_length_m: 0.12,
        web_m: 0.11,
    }
}

/// Numbers of one attribute of an element.
fn attribute(element: &str, name: &str) -> f64 {
    let from = element.find(&format!(" {name}=\"")).unwrap() + name.len() + 3;
    element[from..].split('"').next().unwrap().parse().unwrap()
}

/// Plain SVG 1.1: only attributes, every element closed, nothing that is no number.
fn check(svg: &str) {
    assert!(svg.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\""));
    assert!(svg.trim_end().ends_with("</svg>"));
    for word in ["class=", "style=", "<style", "var(", "NaN", "inf\"", "script", "href"] {
        assert!(!svg.contains(word), "{word}");
    }
    for text in svg.lines().filter(|l| l.starts_with("<text")) {
        assert!(text.contains(" font-family=\"Noto Sans, DejaVu Sans, sans-serif\""));
        assert!(text.ends_with("</text>"));
    }
    let mut open_groups = 0i32;
    for line in svg.lines().filter(|l| l.starts_with('<') && !l.starts_with("<svg")) {
        match line {
            "</g>" => open_groups -= 1,
            group if group.starts_with("<g ") || group == "<g>" => open_groups += 1,
            other => assert!(other.ends_with("/>") || other.contains("</"), "{other}"),
        }
        assert!(open_groups >= 0, "{line}");
    }
    assert_eq!(open_groups, 0, "every group is closed");
}

/// Crank, rod and wheel in the picture have the proportions of the engine, at eight positions.
#[test]
fn the_side_view_is_in_true_proportion() {
    for k in 0..8 {
        let deg = 45.0 * f64::from(k) + 7.0;
        let svg =
            side_view(&motion(), &Running::STANDING, &view(deg), &DrawingStyle::default()).unwrap();
        check(&svg);
        let wheel = svg.lines().find(|l| l.starts_with("<circle")).unwrap();
        let scale = attribute(wheel, "r") / 0.8;
        let red =
            svg.lines().find(|l| l.starts_with("<line") && l.contains("stroke-width=\"2.4\""));
        let rod = svg.lines().find(|l| l.starts_with("<line") && l.contains("\"10 3 2 3\""));
        for (line, size) in [(red, 0.32), (rod, 1.9)] {
            let line = line.unwrap();
            let dx = attribute(line, "x2") - attribute(line, "x1");
            let dy = attribute(line, "y2") - attribute(line, "y1");
            assert!((dx.hypot(dy) / scale - size).abs() < 2e-4, "{deg} {size}");
            if size < 1.0 {
                // Forward rotation is clockwise on the page: the crank's angle from the right.
                let crank = (deg - 90.0).to_radians();
                let turn = (dy.atan2(dx) - crank).rem_euclid(std::f64::consts::TAU);
                assert!(turn.min(std::f64::consts::TAU - turn) < 1e-3, "{deg}");
            }
        }
    }
}

/// The gaps written in the side view are the chain's clearances.
#[test]
fn the_side_view_tells_the_clearance() {
    let [front, _] = chain().at_dead_centres(Float::Middle).unwrap();
    let motion = motion();
    let dead = motion.wheel_angle(CylinderNo(0), front.crank_angle_rad).unwrap();
    let at = SideView { wheel: dead, ..view(0.0) };
    let svg = side_view(&motion, &Running::STANDING, &at, &DrawingStyle::default()).unwrap();
    assert!(svg.contains(&format!(">front {:.1} mm<", 1000.0 * front.front_m)));
    assert!(svg.contains(&format!(">back {:.1} mm<", 1000.0 * front.back_m)));
}

#[test]
fn the_other_pictures_are_sound() {
    let style = DrawingStyle::default();
    let (motion, running) = (motion(), Running::steady(20.0));
    let wheel = WheelAngle::from_deg(72.0).unwrap();
    check(&end_view(&motion, &running, wheel, &end_sizes(), &style).unwrap());
    check(&piston_plot(&motion, &running, Some(wheel), &style).unwrap());
    check(&piston_plot(&motion, &Running::STANDING, None, &style).unwrap());
    check(&clearance_plot(&chain(), Some(0.004), &style).unwrap());
    let load = CylinderLoad {
        steam: Steam::Constant { front_pa: 8e5, back_pa: 0.0 },
        areas: PistonAreas { front_m2: 0.16, back_m2: 0.16 },
        parts: MovingParts {
            piston_set_kg: 280.0,
            rod: RodMass {
                mass_kg: 200.0,
                centre_from_small_end_m: 1.1,
                inertia: RodInertia::TwoMass,
            },
            slide_friction: 0.0,
            piston_friction_n: 0.0,
            gravity_m_s2: 0.0,
        },
    };
    let all = load_revolution(&motion, &[load.clone(), load], &running, 360).unwrap();
    let polar = pin_polar(&motion, &all, CylinderNo(0), &running).unwrap();
    check(&polar_plot(&polar, "left <inside> & \"worn\"", &style).unwrap());
    let curves = [
        LoadCurve { name: "left", values: &all.cylinders[0].moment_nm, heavy: false },
        LoadCurve { name: "all", values: &all.moment_nm, heavy: true },
    ];
    let plot = LoadPlot {
        title: "Turning moment",
        load: PlottedLoad::Moment,
        positive: "driving forward positive",
        curves: &curves,
        level: Some(("mean", 1e4)),
    };
    let svg = load_plot(&plot, &style).unwrap();
    check(&svg);
    assert!(svg.contains(">mean 10.0 kN m<"));
    // A long ton-force is 9964.016 N, a foot 0.3048 m (NIST SP 811, appendix B): 3.29 tonf ft.
    let inches = DrawingStyle { units: DrawnUnits::Imperial, ..style };
    assert!(load_plot(&plot, &inches).unwrap().contains(">mean 3.29 tonf ft<"));
    let side = side_view(&motion, &running, &view(7.0), &inches).unwrap();
    check(&side);
    // Tyre 1.6 m is 62.99 in.
    assert!(side.contains("tyre 62.99 in"));
    let short = [LoadCurve { name: "x", values: &[1.0, f64::NAN], heavy: false }];
    assert!(load_plot(&LoadPlot { curves: &short, ..plot }, &inches).is_err());
    assert!(load_plot(&LoadPlot { curves: &[], ..plot }, &inches).is_err());
}

#[test]
fn nonsense_is_refused() {
    let style = DrawingStyle::default();
    let side = |v: &SideView| side_view(&motion(), &Running::STANDING, v, &style).is_err();
    assert!(side(&SideView { tyre_diameter_m: f64::NAN, ..view(0.0) }));
    assert!(side(&SideView { cylinder: CylinderNo(9), ..view(0.0) }));
    let mut bad = view(0.0);
    bad.body.bore_m = -1.0;
    assert!(side(&bad));
    let narrow = DrawingStyle { width: 1.0, ..DrawingStyle::default() };
    assert!(clearance_plot(&chain(), None, &narrow).is_err());
    let empty = PinPolar { points: vec![], greatest_n: 0.0, greatest_at_rad: 0.0, mean_n: 0.0 };
    assert!(polar_plot(&empty, "x", &style).is_err());
    let sizes = EndViewSizes { axle_m: f64::INFINITY, ..end_sizes() };
    assert!(end_view(&motion(), &Running::STANDING, WheelAngle::ZERO, &sizes, &style).is_err());
}
