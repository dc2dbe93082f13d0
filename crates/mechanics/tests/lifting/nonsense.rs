//! Whatever comes in, an answer or an error comes out.

use mechanics::lifting::*;
use mechanics::wedge::Friction;
use proptest::prelude::*;

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        3 => -3.0..3.0_f64,
        1 => Just(0.0),
        1 => Just(f64::NAN),
        1 => Just(f64::INFINITY),
        1 => Just(-1e300),
        1 => Just(1e-300),
        1 => any::<f64>(),
    ]
}

fn three() -> impl Strategy<Value = [f64; 3]> {
    prop::array::uniform3(number())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn nothing_panics(
        places in prop::collection::vec(three(), 0..6),
        n in prop::collection::vec(number(), 12),
        centre in three(),
    ) {
        let some = Body::weighed((n[0], n[1]), centre, [n[2], n[3], n[4]]);
        let body = Body::weighed((5.0, 0.1), [0.1, 0.0, -0.2], [0.01; 3]).unwrap();
        let legs: Vec<Leg> = places
            .iter()
            .map(|p| Leg { eye_m: *p, length_m: n[5], stretch: Stretch::AxialN(n[6]) })
            .collect();
        let _ = hang(&some.unwrap_or(body), &legs);
        let _ = hang_elastic(&body, &legs);
        let _ = hang_spread(&body, &legs);
        let _ = leg_shares(&places, centre, n[0]);
        let plan: Vec<[f64; 2]> = places.iter().map(|p| [p[0], p[1]]).collect();
        let _ = base_of(&plan);
        let supports = plan
            .iter()
            .map(|at| Support {
                at_m: *at,
                kind: SupportKind::Jack { rated_kg: n[7], side_share: n[8] },
                packing: None,
            })
            .collect();
        let friction = Friction::new(0.1, 0.2, 0.3).unwrap();
        let _ = jack_loads(&Jacking {
            body,
            supports,
            heads_m: n[0],
            side_n: n[1],
            side_above_heads_m: n[2],
            grade_rad: n[3],
            heads: friction,
        });
        let transfer = Transfer {
            mass_kg: n[0],
            balance_m: n[1],
            fit_m: [n[2], n[3]],
            seat: Seat { inner_m: n[4], outer_m: n[5], hold: SeatHold::BearsOnly },
            hook: Some(Hook { at_m: n[6], keep: HookKeep::Height(n[7]) }),
            hands: Some(Hands { at_m: n[8], most_n: n[9] }),
            incline_rad: n[10],
            friction,
        };
        let _ = transfer_stage(&transfer, n[11]);
        let _ = transfer_stages(&transfer, 5);
        let size = |i: usize| Size::new(n[i], n[i + 1]);
        let solids = [
            Solid::Bar { length: size(0), width: size(1), height: size(2) },
            Solid::Tube { outer: size(0), inner: size(1), length: size(2) },
            Solid::Cone { first: size(0), last: size(1), length: size(2) },
            Solid::Prism { corners_m: plan.clone(), length: size(0) },
            Solid::RingSector { outer: size(0), inner: size(1), length: size(2), arc_rad: n[4] },
        ];
        for solid in solids {
            let piece = Piece {
                solid,
                density: DensityNo(0),
                kind: PieceKind::Metal,
                placement: Placement { origin_m: centre, turn_rad: [n[4], n[5], n[6]] },
                u_place_m: n[7],
            };
            let _ = compose(&[piece], &[Material::MildSteel.density()]);
        }
        let _ = rated_mass_kg(n[0], SlingUse::Basket { angle_rad: n[1] });
        let _ = edge_factor(n[0], n[1]);
        let _ = two_hook_shares(&body, &TwoHooks { eyes_m: [centre, [n[0], n[1], n[2]]] }, n[3]);
        let _ = end_lift(&EndLift {
            mass_kg: n[0],
            balance_m: n[1],
            balance_above_m: n[2],
            jack_m: n[3],
            lift_m: n[4],
        });
        let _ = slope_forces(&OnSlope {
            mass_kg: n[0],
            slope_rad: n[1],
            resistance: friction,
            run_m: n[2],
        });
        let _ = release(&ReleaseInput {
            mass_kg: n[0],
            balance_m: n[1],
            hook_m: n[2],
            pivot_above_m: n[3],
            ends_m: [n[4], n[5]],
            last_overlap_m: n[6],
        });
    }
}

/// Errors say the value and the limit, and mend where they can.
#[test]
fn errors_read_well() {
    let error = Body::weighed((f64::NAN, 0.0), [0.0; 3], [0.0; 3]).unwrap_err();
    assert_eq!(error.to_string(), "mass is NaN kg: it must lie between 0.000001 and 1000000 kg");
    assert!(error.mend().is_some());
    let slack = LiftingError::LegSlack { leg: 1, gap_m: 0.02, tilt_deg: 12.3 };
    assert_eq!(slack.to_string(), "leg 2 goes slack by 0.020 m: the load swings to 12.3 degrees");
}
