use super::*;
use crate::check::{check, count};
use mechanics::lifting::*;
use mechanics::wedge::Friction;

fn rod() -> Body {
    Body::weighed((210.0, 2.0), [1.05, 0.0, 0.0], [0.005, 0.002, 0.002]).unwrap()
}

fn gear(n: usize, kg: f64) -> Vec<LegGear> {
    vec![LegGear { one_leg_kg: kg, hitch: Hitch::Straight, edge: 1.0 }; n]
}

const BY: JudgeBy = JudgeBy { most_tilt_rad: 0.1, four: FourLegRule::OnThree };

fn four() -> (Body, Vec<Leg>) {
    let leg = |x, y| Leg { eye_m: [x, y, 0.3], length_m: 1.5, stretch: Stretch::AxialN(5e6) };
    let legs = vec![leg(-0.8, -0.3), leg(0.8, -0.3), leg(0.8, 0.3), leg(-0.8, 0.3)];
    (Body::weighed((1800.0, 40.0), [0.1, 0.03, 0.0], [0.02; 3]).unwrap(), legs)
}

fn cases() -> Vec<(&'static str, crate::Picture)> {
    let mut out = Vec::new();
    let rod = rod();
    let legs = [Leg::new([0.25, 0.0, 0.07], 1.1), Leg::new([1.65, 0.0, 0.07], 1.1)];
    let rod_part = [[-0.1, -0.05, -0.08], [2.0, 0.05, 0.08]];
    let mut add = |name, title: &str, body: &Body, legs: &[Leg], kg, part_m| {
        let hang = hang(body, legs).unwrap();
        let verdict = judge_gear(&hang, &gear(legs.len(), kg), &BY).unwrap();
        let picture = sling_diagram(&SlingDiagram {
            title: title.to_owned(),
            body,
            legs,
            hang: &hang,
            verdict: Some(&verdict),
            part_m,
        });
        out.push((name, picture.unwrap()));
    };
    add("sling-two", "Connecting rod, left, on two legs", &rod, &legs, 500.0, rod_part);
    let (box_body, box_legs) = four();
    let part = [[-1.0, -0.4, -0.3], [1.0, 0.4, 0.3]];
    add("sling-four", "Axlebox and spring on four legs", &box_body, &box_legs, 800.0, part);
    let one = [Leg::new([1.05, 0.0, 0.08], 0.8)];
    add("sling-one", "Connecting rod on one leg", &rod, &one, 100.0, rod_part);
    let three = [
        Leg::new([-0.5, -0.4, 0.2], 1.2),
        Leg::new([0.6, -0.4, 0.2], 1.3),
        Leg::new([0.1, 0.5, 0.2], 1.2),
    ];
    let cover = Body::weighed((400.0, 5.0), [0.05, -0.05, 0.0], [0.01; 3]).unwrap();
    let part = [[-0.6, -0.5, -0.1], [0.7, 0.6, 0.2]];
    add("sling-three", "Cylinder cover on three legs", &cover, &three, 400.0, part);

    let strap = |hold, hook: Option<(f64, HookKeep)>| Transfer {
        mass_kg: 90.0,
        balance_m: -0.1,
        fit_m: [-0.5, 0.0],
        seat: Seat { inner_m: -0.6, outer_m: 0.0, hold },
        hook: hook.map(|(at_m, keep)| Hook { at_m, keep }),
        hands: Some(Hands { at_m: 0.35, most_n: 250.0 }),
        incline_rad: 0.0,
        friction: Friction::new(0.1, 0.15, 0.3).unwrap(),
    };
    let weight = 90.0 * STANDARD_GRAVITY_M_S2;
    for (name, title, t) in [
        ("transfer-bare", "Strap off its butt, no crane", strap(SeatHold::BearsOnly, None)),
        (
            "transfer-height",
            "Strap off its butt, crane 150 mm fore, height kept",
            strap(SeatHold::BearsOnly, Some((0.05, HookKeep::Height(200.0)))),
        ),
        (
            "transfer-grips",
            "Rod out of its box, hook 40 mm aft, full weight kept",
            strap(SeatHold::Grips, Some((-0.14, HookKeep::Tension(weight)))),
        ),
    ] {
        let stages: Vec<Stage> =
            [0.0, 0.15, 0.3, 0.45, 0.5].iter().map(|&x| transfer_stage(&t, x).unwrap()).collect();
        let picture = transfer_strip(&TransferStrip {
            title: title.to_owned(),
            transfer: &t,
            stages: &stages,
            ends_m: [-0.5, 0.4],
        });
        out.push((name, picture.unwrap()));
    }
    out
}

#[test]
fn every_picture_is_sound() {
    for (name, picture) in cases() {
        let texts = check(&picture);
        assert!(texts.iter().any(|t| t.contains("no permission")), "{name}");
        assert!(!picture.svg.to_lowercase().contains("safe"));
    }
}

/// Figures on the sheet are those of the lift.
#[test]
fn the_diagram_tells_the_lift() {
    let (body, legs) = four();
    let hang = hang(&body, &legs).unwrap();
    let draw = |verdict| {
        sling_diagram(&SlingDiagram {
            title: "t".to_owned(),
            body: &body,
            legs: &legs,
            hang: &hang,
            verdict,
            part_m: [[-1.0, -0.4, -0.3], [1.0, 0.4, 0.3]],
        })
        .unwrap()
    };
    let picture = draw(None);
    let texts = check(&picture);
    for (i, leg) in hang.legs.iter().enumerate() {
        let angle = format!("leg {}: {:.1}° to plumb", i + 1, leg.angle_rad.to_degrees());
        assert!(texts.contains(&angle), "{angle}");
        let most = format!("{:.2} kN", leg.tension.most_n / 1000.0);
        assert!(texts.iter().any(|t| t.contains(&most)), "{most}");
    }
    // Four legs in each of two views, each with its eye.
    assert!(count(&picture, "circle") >= 2 * 4);
    let verdict = judge_gear(&hang, &gear(4, 300.0), &BY).unwrap();
    assert!(check(&draw(Some(&verdict))).iter().any(|t| t.starts_with("OVER: ")));
}

#[test]
fn nonsense_is_refused() {
    let (body, legs) = four();
    let hang = hang(&body, &legs).unwrap();
    let case = SlingDiagram {
        title: String::new(),
        body: &body,
        legs: &legs,
        hang: &hang,
        verdict: None,
        part_m: [[f64::NAN; 3], [1.0; 3]],
    };
    assert!(sling_diagram(&case).is_err());
    let fewer = SlingDiagram { legs: &legs[..2], part_m: [[0.0; 3], [1.0; 3]], ..case };
    assert!(sling_diagram(&fewer).is_err());
}
