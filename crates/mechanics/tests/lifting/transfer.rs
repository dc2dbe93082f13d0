//! Load transfer from the seat to the crane.

use super::{near, weight};
use mechanics::lifting::*;
use mechanics::wedge::Friction;
use proptest::prelude::*;

/// A strap of 90 kg, 0.9 m long, 0.5 m of it on a butt whose mouth is at 0; its balance point 0.1 m
/// inside the mouth.
fn strap(hold: SeatHold, hook: Option<Hook>, hands: Option<Hands>) -> Transfer {
    Transfer {
        mass_kg: 90.0,
        balance_m: -0.1,
        fit_m: [-0.5, 0.0],
        seat: Seat { inner_m: -0.6, outer_m: 0.0, hold },
        hook,
        hands,
        incline_rad: 0.0,
        friction: Friction::new(0.1, 0.15, 0.3).unwrap(),
    }
}

fn state(t: &Transfer, slid: f64) -> StageState {
    transfer_stage(t, slid).unwrap().state
}

/// Without a crane the part tips when its balance point passes the mouth (statics).
#[test]
fn tips_when_the_balance_point_passes_the_mouth() {
    let bare = strap(SeatHold::BearsOnly, None, None);
    assert_eq!(state(&bare, 0.0999), StageState::Seated);
    assert_eq!(state(&bare, 0.1001), StageState::Tips(PartEnd::Outer));
    let events = transfer_events(&bare).unwrap();
    assert!(near(events[0].slid_m, 0.1, 2e-6));
    assert_eq!(events.last().unwrap().after, StageState::Drops);
    assert!(near(events.last().unwrap().slid_m, 0.5, 2e-6));
    // Just before, all the weight is on the mouth.
    let at = transfer_stage(&bare, 0.1 - 1e-9).unwrap();
    assert!(near(at.seat_n[1], weight(90.0), 1e-3) && near(at.seat_n[0], 0.0, 1e-3));
    // A seat that grips binds instead: at 0.3 m the couple W · 0.2 over 0.2 m of overlap.
    let grips = strap(SeatHold::Grips, None, None);
    let at = transfer_stage(&grips, 0.3).unwrap();
    assert_eq!(at.state, StageState::Binds);
    assert!(
        near(at.seat_n[0], -weight(90.0), 1e-6) && near(at.seat_n[1], 2.0 * weight(90.0), 1e-6)
    );
    assert!(near(at.pull_n.at_high, 0.3 * 3.0 * weight(90.0), 1e-6));
}

/// The hook over the balance point with the whole weight on it: the seat carries nothing at any
/// stage, nothing is needed to draw, and nothing moves at release.
#[test]
fn a_hook_over_the_balance_point_takes_all_smoothly() {
    let hook = Hook { at_m: -0.1, keep: HookKeep::Tension(weight(90.0)) };
    let t = strap(SeatHold::BearsOnly, Some(hook), None);
    for stage in transfer_stages(&t, 41).unwrap() {
        assert!(stage.seat_n.iter().all(|n| n.abs() < 1e-6));
        assert!(stage.pull_n.at_high.abs() < 1e-6);
        assert!(matches!(stage.state, StageState::Seated | StageState::Free));
    }
    let end = transfer_stage(&t, 0.5).unwrap();
    assert_eq!(end.state, StageState::Free);
    let free = release(&ReleaseInput {
        mass_kg: 90.0,
        balance_m: -0.1,
        hook_m: -0.1,
        pivot_above_m: 0.3,
        ends_m: [-0.5, 0.4],
        last_overlap_m: 0.01,
    })
    .unwrap();
    assert!(free.drops.is_none() && free.tilt_rad == 0.0 && free.energy_j == 0.0);
}

/// The hook 50 mm too far out (fore) or in (aft): the couple W d over the overlap grows without
/// bound as it comes off, and at release the inner or the outer end drops. By hand: 50 mm over the
/// last 20 mm is 2.5 times the weight at each edge; tan θ = 0.05 / 0.25.
#[test]
fn a_hook_out_of_place_binds_and_swings() {
    for (out, drops) in [(0.05, PartEnd::Inner), (-0.05, PartEnd::Outer)] {
        let hook = Hook { at_m: -0.1 + out, keep: HookKeep::Tension(weight(90.0)) };
        let t = strap(SeatHold::Grips, Some(hook), None);
        let at = transfer_stage(&t, 0.48).unwrap();
        assert_eq!(at.state, StageState::Binds);
        assert!(near(at.seat_n[0].abs(), 2.5 * weight(90.0), 1e-6));
        assert!(near(at.seat_n[0] + at.seat_n[1], 0.0, 1e-6));
        let free = release(&ReleaseInput {
            mass_kg: 90.0,
            balance_m: -0.1,
            hook_m: -0.1 + out,
            pivot_above_m: 0.25,
            ends_m: [-0.5, 0.4],
            last_overlap_m: 0.02,
        })
        .unwrap();
        assert_eq!(free.drops, Some(drops));
        assert!(near(free.tilt_rad.tan(), 0.2, 1e-12));
        assert!(near(free.edge_n, 2.5 * weight(90.0), 1e-9));
        let low = if drops == PartEnd::Inner { 0 } else { 1 };
        assert!(free.ends_rise_m[low] < 0.0 && free.ends_rise_m[1 - low] > 0.0);
        // Pythagoras: the balance point falls by √(0.05² + 0.25²) − 0.25.
        assert!(near(free.energy_j, weight(90.0) * (0.065_f64.sqrt() - 0.25), 1e-9));
    }
}

/// A crane that keeps its height: its pull stays while seat and hook can share the weight, and
/// follows when the part bears on the mouth alone. By hand at 0.3 m out, hook 0.2 m outside the
/// balance point: balance point 0.2, hook 0.4 m beyond the mouth, so it carries half the weight.
#[test]
fn a_crane_that_keeps_its_height() {
    let hook = Hook { at_m: 0.1, keep: HookKeep::Height(100.0) };
    let t = strap(SeatHold::BearsOnly, Some(hook), None);
    assert!(near(transfer_stage(&t, 0.05).unwrap().hook_n, 100.0, 1e-9));
    let at = transfer_stage(&t, 0.3).unwrap();
    assert_eq!(at.state, StageState::Seated);
    assert!(near(at.hook_n, 0.5 * weight(90.0), 1e-6));
    assert!(near(at.seat_n[1], 0.5 * weight(90.0), 1e-6) && near(at.seat_n[0], 0.0, 1e-6));
    // The band is what keeps both edges down.
    let band = transfer_stage(&t, 0.3).unwrap().hook_band_n.unwrap();
    assert!(near(band[0], at.hook_n, 1e-6) && band[1] > band[0]);
    // A hook inside the balance point cannot hold the outer end up once that is past the mouth.
    let aft = Hook { at_m: -0.3, keep: HookKeep::Height(100.0) };
    let t = strap(SeatHold::BearsOnly, Some(aft), None);
    assert_eq!(state(&t, 0.15), StageState::Tips(PartEnd::Outer));
}

/// Hands hold what they can: at 0.2 m out the balance point is 0.1 m beyond the mouth; hands 0.6 m
/// beyond it must carry a sixth of the weight.
#[test]
fn hands_hold_what_they_can() {
    let hands = |most_n| Some(Hands { at_m: 0.4, most_n });
    let t = strap(SeatHold::BearsOnly, None, hands(200.0));
    let at = transfer_stage(&t, 0.2).unwrap();
    assert_eq!(at.state, StageState::HeldByHands);
    assert!(near(at.hands_n, weight(90.0) / 6.0, 1e-6));
    let weak = strap(SeatHold::BearsOnly, None, hands(100.0));
    assert_eq!(state(&weak, 0.2), StageState::Tips(PartEnd::Outer));
    assert_eq!(state(&weak, 0.5), StageState::Drops);
}

/// On a slope outwards down the part may run out by itself: held back by W (sin α − μ cos α).
#[test]
fn a_sloping_seat() {
    let mut t = strap(SeatHold::BearsOnly, None, None);
    t.incline_rad = -0.2;
    let at = transfer_stage(&t, 0.05).unwrap();
    let (s, c) = 0.2_f64.sin_cos();
    assert!(near(at.pull_n.at_low, weight(90.0) * (0.1 * c - s), 1e-6));
    assert!(at.pull_n.at_low < 0.0 && at.pull_n.at_high > 0.0);
}

/// The smooth setting holds what it promises, and not much more.
#[test]
fn smooth_setting() {
    let t = strap(SeatHold::Grips, None, None);
    let limit = SmoothLimit {
        most_pull_n: 300.0,
        last_overlap_m: 0.05,
        most_tilt_rad: 0.1,
        pivot_above_m: 0.4,
    };
    let smooth = smooth_hook(&t, &limit).unwrap();
    assert!(near(smooth.at_m, -0.1, 1e-12) && near(smooth.tension_n, weight(90.0), 1e-9));
    let hook =
        Hook { at_m: smooth.at_m + smooth.out_by_m, keep: HookKeep::Tension(smooth.tension_n) };
    let at = transfer_stage(&strap(SeatHold::Grips, Some(hook), None), 0.45).unwrap();
    assert!(near(at.pull_n.at_high, 300.0, 1e-6), "{at:?}");
    assert!((smooth.out_by_m / 0.4).atan() <= 0.1 + 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    /// At rest on its seat, forces and moments about the mouth sum to nothing, whatever carries; a
    /// seat that only bears never holds down, and a band of the hook is just the range in which that
    /// is so without hands.
    #[test]
    fn forces_and_moments_sum_to_nothing(
        balance in -0.6..0.6_f64,
        hook_at in -0.6..0.8_f64,
        share in 0.0..1.2_f64,
        slid in 0.0..0.49_f64,
        hands in prop::option::of((-0.5..0.9_f64, 0.0..400.0_f64)),
        grips in any::<bool>(),
        incline in -0.2..0.2_f64,
    ) {
        let hold = if grips { SeatHold::Grips } else { SeatHold::BearsOnly };
        let w = weight(90.0);
        let hook = Some(Hook { at_m: hook_at, keep: HookKeep::Tension(share * w) });
        let hands = hands.map(|(at_m, most_n)| Hands { at_m, most_n });
        let mut t = strap(hold, hook, hands);
        t.balance_m = balance;
        t.incline_rad = incline;
        let s = transfer_stage(&t, slid).unwrap();
        let stays = matches!(s.state, StageState::Seated | StageState::Binds | StageState::HeldByHands);
        if stays {
            let cos = incline.cos();
            let force = s.seat_n[0] + s.seat_n[1] + (s.hook_n + s.hands_n - w) * cos;
            prop_assert!(near(force, 0.0, 1e-6));
            let moment = s.seat_n[0] * s.edges_m[0] + s.seat_n[1] * s.edges_m[1]
                + cos * (s.hook_n * (hook_at + slid) - w * (balance + slid)
                    + s.hands_n * hands.map_or(0.0, |h| h.at_m + slid));
            prop_assert!(near(moment, 0.0, 1e-6));
        }
        if stays && !grips {
            prop_assert!(s.seat_n.iter().all(|&n| n > -1e-5));
        }
        let inside = s.hook_band_n.is_some_and(|[a, b]| a <= s.hook_n && s.hook_n <= b);
        prop_assert_eq!(inside, s.state == StageState::Seated);
    }
}
