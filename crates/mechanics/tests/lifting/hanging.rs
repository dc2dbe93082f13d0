//! How loads hang: tensions, attitude, what is refused.

use super::{body, near, weight};
use mechanics::lifting::*;
use proptest::prelude::*;

type V = [f64; 3];

/// Balance point, mass, eyes with their leg lengths.
type Rigging = (V, f64, Vec<(V, f64)>);

fn sub(a: V, b: V) -> V {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}
fn dot(a: V, b: V) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}
fn norm(a: V) -> f64 {
    dot(a, a).sqrt()
}
fn cross(a: V, b: V) -> V {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

/// Legs to `n` eyes evenly round a circle, at `beta` to the vertical, over a part whose balance
/// point lies `below` the plane of the eyes.
fn ring(n: usize, beta: f64, below: f64) -> (Body, Vec<Leg>) {
    let length = 2.0;
    let radius = length * beta.sin();
    let legs = (0..n)
        .map(|i| {
            let a = std::f64::consts::TAU * i as f64 / n as f64 + 0.3;
            Leg::new([radius * a.cos(), radius * a.sin(), 0.0], length)
        })
        .collect();
    (body(1000.0, [0.0, 0.0, -below]), legs)
}

/// LG-01: tension factor per leg at 0, 15, 30, 45, 60 degrees: 1.000, 1.035, 1.155, 1.414, 2.000
/// over the number of legs (statics; rounded so in public sling-angle tables, verified).
#[test]
fn tension_factors_of_the_tables() {
    for (deg, factor) in [(15.0, 1.035), (30.0, 1.155), (45.0, 1.414), (60.0, 2.000)] {
        for n in 2..=4 {
            let (body, legs) = ring(n, f64::to_radians(deg), 0.5);
            let at = hang(&body, &legs).unwrap();
            assert!(at.tilt_rad < 1e-6);
            for leg in &at.legs {
                let got = leg.tension.even_n / weight(1000.0) * n as f64;
                assert!(near(got, factor, 5e-4), "{n} legs at {deg}: {got}");
                assert!(near(leg.angle_rad.to_degrees(), deg, 1e-6));
            }
        }
    }
    let one = hang(&body(1000.0, [0.0, 0.0, -0.5]), &[Leg::new([0.0; 3], 1.0)]).unwrap();
    assert!(near(one.legs[0].tension.even_n, weight(1000.0), 1e-6));
}

/// LG-05: 2000 lb on two legs at 30 and 60 degrees: 1154 and 2000 lb each (university page on sling
/// angles, verified there; it cuts 1154.7).
#[test]
fn university_sling_angles() {
    for (deg, expected) in [(30.0, 1154.0), (60.0, 2000.0)] {
        let (_, legs) = ring(2, f64::to_radians(deg), 0.5);
        let at = hang(&body(2000.0, [0.0, 0.0, -0.5]), &legs).unwrap();
        let got = at.legs[0].tension.even_n / STANDARD_GRAVITY_M_S2;
        assert!(got >= expected - 1e-6 && got < expected + 1.0, "{got}");
    }
}

/// Beer & Johnston, Statics, sample problem 2.9 (from memory): 200 kg held off a wall on two cables
/// in space by a level force of 235 N; 1401 and 1236 N. The
/// book takes g = 9.81 and rounds direction cosines to three digits: 1401.9 and 1237.6 unrounded.
#[test]
fn cables_in_space_of_beer_and_johnston() {
    let weight = 200.0 * 9.81;
    let level = 0.12 * weight;
    let pulls = [[-1.2, 10.0, 8.0], [-1.2, 10.0, -10.0]];
    let shares = leg_shares(&pulls, [-level, weight, 0.0], level.hypot(weight)).unwrap();
    assert!(near(level, 235.0, 0.5));
    for (got, expected) in shares.even_n.iter().zip([1401.0, 1236.0]) {
        assert!(near(*got, expected, 2.0), "{got}");
    }
}

/// Four equal legs: on two opposite ones W/(2 cos β) each, the worst that statics allows; evenly
/// elastic W/(4 cos β); rated on three W/(3 cos β).
#[test]
fn four_legs_give_a_range() {
    let beta = f64::to_radians(40.0);
    let (body, mut legs) = ring(4, beta, 0.3);
    for leg in &mut legs {
        leg.stretch = Stretch::AxialN(8e6);
    }
    let at = hang(&body, &legs).unwrap();
    let full = weight(1000.0) / beta.cos();
    for leg in &at.legs {
        assert!(near(leg.tension.even_n, full / 4.0, 1e-3));
        assert!(near(leg.tension.most_n, full / 2.0, 1e-3));
        assert!(near(leg.tension.least_n, 0.0, 1e-3));
    }
    let four = at.four.unwrap();
    assert!(near(four.on_three_n, full / 3.0, 1e-3) && near(four.on_two_n, full / 2.0, 1e-3));
    let elastic = four.elastic.unwrap();
    for t in elastic.tension_n {
        // Stretch brings the hook a little higher: tensions fall by less than a thousandth.
        assert!(near(t, full / 4.0, 1e-3 * full));
    }
    // One leg 30 mm long: it hangs slack by about that, two opposite legs carry, and the elastic
    // answer says how slack it is.
    legs[1].length_m += 0.03;
    let at = hang(&body, &legs).unwrap();
    assert!(at.legs[1].gap_m > 0.01);
    assert!(at.legs[1].tension.even_n == 0.0);
    let elastic = at.four.unwrap().elastic.unwrap();
    assert!(elastic.tension_n[1] == 0.0);
    assert!(near(elastic.tension_n[0], full / 2.0, 0.02 * full));
}

/// Reported tensions balance the weight and have no moment about the balance point.
fn check_equilibrium(body: &Body, legs: &[Leg], at: &Hang) -> Result<(), TestCaseError> {
    let w = at.weight_n;
    let mut force = at.up.map(|u| -u * w);
    let mut moment = [0.0; 3];
    for (leg, state) in legs.iter().zip(&at.legs) {
        let pull = sub(at.hook_m, leg.eye_m);
        let length = norm(pull);
        prop_assert!(length < leg.length_m + 1e-6);
        prop_assert!(near(leg.length_m - length, state.gap_m, 1e-6));
        let t = pull.map(|p| p / length * state.tension.even_n);
        let arm = cross(sub(leg.eye_m, body.centre_m()), t);
        for i in 0..3 {
            force[i] += t[i];
            moment[i] += arm[i];
        }
        prop_assert!(state.tension.even_n <= state.tension.most_n + 1e-6 * w);
        prop_assert!(state.tension.least_n <= state.tension.even_n + 1e-6 * w || state.gap_m > 0.0);
    }
    prop_assert!(norm(force) < 1e-6 * w, "force {:?}", force);
    prop_assert!(norm(moment) < 1e-6 * w, "moment {:?}", moment);
    Ok(())
}

/// The load in space, hook at the origin: six numbers of place and turn.
struct InSpace<'a> {
    body: &'a Body,
    legs: &'a [Leg],
    stiffness: Vec<f64>,
}

impl InSpace<'_> {
    fn turned(pose: &[f64; 6], p: V) -> V {
        // Rodrigues: turn by the vector pose[3..6].
        let w = [pose[3], pose[4], pose[5]];
        let angle = norm(w);
        let q = if angle < 1e-12 {
            p
        } else {
            let k = w.map(|x| x / angle);
            let (s, c) = angle.sin_cos();
            let kp = cross(k, p);
            let kd = dot(k, p) * (1.0 - c);
            [0, 1, 2].map(|i| p[i] * c + kp[i] * s + k[i] * kd)
        };
        [q[0] + pose[0], q[1] + pose[1], q[2] + pose[2]]
    }

    fn energy(&self, pose: &[f64; 6]) -> f64 {
        let w = weight(self.body.mass_kg());
        let mut e = w * Self::turned(pose, self.body.centre_m())[2];
        for (leg, k) in self.legs.iter().zip(&self.stiffness) {
            let stretch = norm(Self::turned(pose, leg.eye_m)) - leg.length_m;
            e += 0.5 * k * stretch.max(0.0).powi(2);
        }
        e
    }

    /// Energy minimum by a plain search: every number up and down, along the last gain, and along
    /// seeded random directions, steps halved when nothing helps. Knows nothing of the solver's
    /// reduction to the hook's place.
    fn search(&self, start: [f64; 6]) -> [f64; 6] {
        let mut pose = start;
        let mut best = self.energy(&pose);
        let mut step = 0.05;
        let mut seed = 0x9e37_79b9_7f4a_7c15_u64;
        let mut random = move || {
            seed ^= seed << 13;
            seed ^= seed >> 7;
            seed ^= seed << 17;
            (seed >> 11) as f64 / (1_u64 << 53) as f64 - 0.5
        };
        while step > 1e-9 {
            let mut gained = false;
            for _ in 0..60 {
                let way: [f64; 6] = std::array::from_fn(|_| random());
                for sign in [step, -step] {
                    let next: [f64; 6] = std::array::from_fn(|i| pose[i] + sign * way[i]);
                    let e = self.energy(&next);
                    if e < best {
                        best = e;
                        pose = next;
                        gained = true;
                    }
                }
            }
            if !gained {
                step *= 0.7;
            }
        }
        pose
    }
}

/// Brute force: the load in space with six degrees of freedom, soft legs, energy searched down from
/// level. The solver's rest with stretch must be as low, and tilt the same.
#[test]
fn attitude_by_brute_force() {
    let cases: [Rigging; 4] = [
        ([0.15, 0.0, -0.4], 300.0, vec![([-0.8, 0.0, 0.0], 1.4), ([0.9, 0.0, 0.1], 1.5)]),
        (
            [0.1, 0.05, 0.1],
            500.0,
            vec![([-0.8, 0.3, 0.0], 1.6), ([0.8, 0.4, 0.0], 1.5), ([0.1, -0.7, 0.0], 1.5)],
        ),
        (
            [0.1, -0.05, -0.2],
            900.0,
            vec![
                ([-0.9, 0.4, 0.0], 1.7),
                ([0.9, 0.4, 0.0], 1.7),
                ([0.9, -0.4, 0.0], 1.7),
                ([-0.9, -0.4, 0.0], 1.71),
            ],
        ),
        ([0.3, 0.1, -0.5], 120.0, vec![([0.1, 0.2, 0.0], 1.0)]),
    ];
    for (centre, mass, eyes) in cases {
        let body = body(mass, centre);
        // Soft legs, so that a plain search can follow the valley of the energy.
        let ea = 60.0 * weight(mass);
        let legs: Vec<Leg> = eyes
            .iter()
            .map(|(eye, l)| Leg { eye_m: *eye, length_m: *l, stretch: Stretch::AxialN(ea) })
            .collect();
        let at = hang_elastic(&body, &legs).unwrap();
        let stiffness = legs.iter().map(|l| ea / l.length_m).collect();
        let space = InSpace { body: &body, legs: &legs, stiffness };
        let found = space.search([-centre[0], -centre[1], -1.2, 0.0, 0.0, 0.0]);
        let energy = {
            let drop = norm(sub(at.hook_m, centre));
            let mut e = -weight(mass) * drop;
            for leg in &legs {
                let s = (norm(sub(at.hook_m, leg.eye_m)) - leg.length_m).max(0.0);
                e += 0.5 * ea / leg.length_m * s * s;
            }
            e
        };
        let scale = weight(mass);
        assert!(near(space.energy(&found), energy, 2e-5 * scale), "{mass}");
        // The part's z axis in space: its lean is the tilt.
        let origin = InSpace::turned(&found, [0.0; 3]);
        let z = sub(InSpace::turned(&found, [0.0, 0.0, 1.0]), origin);
        assert!(near(z[2].acos(), at.tilt_rad, 4e-3), "{mass}: {} {}", z[2].acos(), at.tilt_rad);
    }
}

/// Legs that hardly stretch hang as legs that do not.
#[test]
fn stiff_legs_hang_as_rigid_ones() {
    let body = body(700.0, [0.12, 0.03, -0.3]);
    let mut legs = vec![
        Leg::new([-0.8, 0.3, 0.0], 1.6),
        Leg::new([0.8, 0.4, 0.0], 1.5),
        Leg::new([0.1, -0.7, 0.0], 1.5),
    ];
    let rigid = hang(&body, &legs).unwrap();
    for leg in &mut legs {
        leg.stretch = Stretch::AxialN(1e11);
    }
    let stiff = hang_elastic(&body, &legs).unwrap();
    assert!(norm(sub(stiff.hook_m, rigid.hook_m)) < 1e-6);
    for (a, b) in stiff.tension_n.iter().zip(&rigid.legs) {
        assert!(near(*a, b.tension.even_n, 1e-4 * rigid.weight_n));
    }
}

/// A hook off the balance point on one stiff pair: the exact tilt by hand. Equal legs 1.0 m to eyes
/// 1.2 m apart put the hook 0.8 m over the middle; a balance point 0.1 m aside and 0.3 m below the
/// eyes tilts the part by atan(0.1 / 1.1).
#[test]
fn tilt_by_hand() {
    let legs = [Leg::new([-0.6, 0.0, 0.0], 1.0), Leg::new([0.6, 0.0, 0.0], 1.0)];
    let at = hang(&body(100.0, [0.1, 0.0, -0.3]), &legs).unwrap();
    assert!(near(at.tilt_rad, (0.1_f64 / 1.1).atan(), 1e-9));
    // The end with the balance point hangs low, and its leg carries more.
    assert!(at.lean_rad[0] > 0.0 && at.legs[1].tension.even_n > at.legs[0].tension.even_n);
    assert!(near(at.drop_m, 0.1_f64.hypot(1.1), 1e-9));
}

/// What cannot be balanced is refused, with the reason.
#[test]
fn refused_with_the_reason() {
    let pair = [Leg::new([-0.6, 0.0, 0.0], 1.0), Leg::new([0.6, 0.0, 0.0], 1.0)];
    // Balance point 0.2 m over the line of the eyes: it turns over.
    match hang(&body(100.0, [0.05, 0.0, 0.2]), &pair) {
        Err(LiftingError::TurnsOver { above_m }) => assert!(near(above_m, 0.2, 1e-9)),
        other => panic!("{other:?}"),
    }
    // On the line of the eyes it rolls freely.
    match hang(&body(100.0, [0.05, 0.0, 0.0]), &pair) {
        Err(LiftingError::TurnsOver { above_m }) => assert!(near(above_m, 0.0, 1e-9)),
        other => panic!("{other:?}"),
    }
    // One eye below the balance point.
    let below = hang(&body(100.0, [0.0, 0.0, 0.3]), &[Leg::new([0.0, 0.0, 0.0], 1.0)]);
    assert!(matches!(below, Err(LiftingError::TurnsOver { .. })), "{below:?}");
    // Balance point far beyond one eye: the other leg goes slack.
    let slack = hang(&body(100.0, [1.5, 0.0, -0.1]), &pair);
    assert!(matches!(slack, Err(LiftingError::LegSlack { leg: 0, .. })), "{slack:?}");
    // Legs too short to meet.
    let short = [Leg::new([-0.6, 0.0, 0.0], 0.5), Leg::new([0.6, 0.0, 0.0], 0.5)];
    match hang(&body(100.0, [0.0, 0.0, -0.1]), &short) {
        Err(LiftingError::LegsDoNotMeet { short_m }) => assert!(near(short_m, 0.2, 1e-9)),
        other => panic!("{other:?}"),
    }
    // Three legs round a balance point above the eyes: held, because no leg can go slack.
    let (_, legs) = ring(3, 0.6, 0.0);
    let held = hang(&body(100.0, [0.0, 0.0, 0.2]), &legs).unwrap();
    assert!(near(held.above_eyes_m, 0.2, 1e-9));
    // But not with the balance point above the hook.
    let top = hang(&body(100.0, [0.0, 0.0, 2.2]), &legs);
    assert!(top.is_err(), "{top:?}");
}

/// Uncertainty of the tilt by hand: `u = u_x / drop` near level.
#[test]
fn spread_of_the_tilt() {
    let legs = [Leg::new([-0.6, 0.0, 0.0], 1.0), Leg::new([0.6, 0.0, 0.0], 1.0)];
    let body = Body::weighed((100.0, 1.0), [0.0, 0.0, -0.3], [0.01, 0.0, 0.0]).unwrap();
    let spread = hang_spread(&body, &legs).unwrap();
    assert!(near(spread.u_lean_rad[0], 0.01 / 1.1, 1e-5));
    // An eye that a leg may leave slack within the uncertainty: refused.
    let edge = Body::weighed((100.0, 1.0), [0.7, 0.0, -0.1], [0.5, 0.0, 0.0]).unwrap();
    assert!(hang_spread(&edge, &legs).is_err());
}

/// Two hooks: shares by moments level, and through a tilt by turning every point one by one.
#[test]
fn two_hooks_through_a_tilt() {
    let body = body(1000.0, [1.0, 0.0, -0.5]);
    let hooks = TwoHooks { eyes_m: [[0.0, 0.0, 0.0], [3.0, 0.0, 0.0]] };
    let level = two_hook_shares(&body, &hooks, 0.0).unwrap();
    assert!(near(level.force_n[1], weight(1000.0) / 3.0, 1e-6));
    for at in two_hook_shares_through(&body, &hooks, (-0.4, 0.4, 9)).unwrap() {
        let x = |p: [f64; 2]| p[0] * at.tilt_rad.cos() - p[1] * at.tilt_rad.sin();
        let expected = weight(1000.0) * x([1.0, -0.5]) / x([3.0, 0.0]);
        assert!(near(at.force_n[1], expected, 1e-6));
        assert!(near(at.force_n[0] + at.force_n[1], weight(1000.0), 1e-6));
        assert!(near(at.rise_m, 3.0 * at.tilt_rad.sin(), 1e-9));
    }
    let above = two_hook_shares(&super::body(1000.0, [1.0, 0.0, 0.1]), &hooks, 0.0);
    assert!(matches!(above, Err(LiftingError::TurnsOver { .. })));
    // A balance point to one side rolls the part under the line of the eyes.
    let side = two_hook_shares(&super::body(1000.0, [1.0, 0.3, -0.3]), &hooks, 0.0).unwrap();
    assert!(near(side.roll_rad.to_degrees(), 45.0, 1e-9));
}

fn eye() -> impl Strategy<Value = (V, f64)> {
    ((-1.0..1.0_f64, -1.0..1.0_f64, -0.2..0.2_f64), 0.8..2.5_f64)
        .prop_map(|((x, y, z), l)| ([x, y, z], l))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// Random rigging: whatever is not refused is in equilibrium in force and moment, and no place
    /// of the hook that the legs allow nearby hangs the balance point lower (energy minimum).
    #[test]
    fn what_hangs_is_in_equilibrium_and_lowest(
        eyes in prop::collection::vec(eye(), 1..5),
        centre in (-0.3..0.3_f64, -0.3..0.3_f64, -0.8..0.3_f64),
        nudges in prop::collection::vec(prop::array::uniform3(-0.02..0.02_f64), 60),
    ) {
        let body = body(250.0, [centre.0, centre.1, centre.2]);
        let legs: Vec<Leg> = eyes.iter().map(|(e, l)| Leg::new(*e, *l)).collect();
        if let Ok(at) = hang(&body, &legs) {
            check_equilibrium(&body, &legs, &at)?;
            for nudge in nudges {
                let hook = [0, 1, 2].map(|i| at.hook_m[i] + nudge[i]);
                let allowed = legs.iter().all(|l| norm(sub(hook, l.eye_m)) <= l.length_m);
                if allowed {
                    prop_assert!(norm(sub(hook, body.centre_m())) <= at.drop_m + 1e-9);
                }
            }
        }
    }

    /// Made backwards: the hook and the pulls are chosen first, leg lengths and balance point follow.
    /// The solver finds the hook again and, with up to three legs, the very pulls; with four the
    /// chosen ones lie in its range.
    #[test]
    fn made_backwards(
        n in 2..5_usize,
        turn in 0.0..6.2_f64,
        spread in 0.3..1.0_f64,
        wobble in prop::collection::vec((-0.15..0.15_f64, -0.1..0.1_f64), 4),
        over in (-0.15..0.15_f64, -0.15..0.15_f64, 1.0..2.5_f64),
        pulls in prop::collection::vec(0.4..1.0_f64, 4),
        below in 0.3..1.0_f64,
    ) {
        let hook = [over.0, over.1, over.2];
        let eyes: Vec<V> = (0..n)
            .map(|i| {
                let a = turn + std::f64::consts::TAU * i as f64 / n as f64 + wobble[i].0;
                [spread * a.cos(), spread * a.sin(), wobble[i].1]
            })
            .collect();
        let mut lift = [0.0; 3];
        for (eye, t) in eyes.iter().zip(&pulls) {
            let pull = sub(hook, *eye);
            for i in 0..3 {
                lift[i] += t * pull[i] / norm(pull);
            }
        }
        let drop = norm(hook) + 0.2 + below;
        let centre = [0, 1, 2].map(|i| hook[i] - drop * lift[i] / norm(lift));
        let body = body(150.0, centre);
        let legs: Vec<Leg> = eyes.iter().map(|e| Leg::new(*e, norm(sub(hook, *e)))).collect();
        let at = hang(&body, &legs).unwrap();
        prop_assert!(norm(sub(at.hook_m, hook)) < 1e-6, "{:?} for {:?}", at.hook_m, hook);
        let scale = at.weight_n / norm(lift);
        for (state, t) in at.legs.iter().zip(&pulls) {
            let made = t * scale;
            let hair = 1e-5 * at.weight_n;
            prop_assert!(state.tension.least_n <= made + hair);
            prop_assert!(made <= state.tension.most_n + hair);
            if n < 4 {
                prop_assert!(near(state.tension.even_n, made, hair));
            }
        }
    }

    /// Four corners of a plate, hook over an off-centre balance point: never refused, the elastic
    /// answer is in equilibrium, and lies in the range of statics.
    #[test]
    fn four_corner_lifts(
        half in (0.4..1.5_f64, 0.3..0.8_f64),
        off in (-0.3..0.3_f64, -0.3..0.3_f64),
        below in 0.05..0.6_f64,
        link in 0.0..0.01_f64,
    ) {
        let centre = [off.0 * half.0, off.1 * half.1, -below];
        let body = body(2000.0, centre);
        let corner = |sx: f64, sy: f64, more: f64| Leg {
            eye_m: [sx * half.0, sy * half.1, 0.0],
            length_m: 2.2 + more,
            stretch: Stretch::AxialN(1e7),
        };
        let legs = [
            corner(-1.0, -1.0, 0.0),
            corner(1.0, -1.0, 0.0),
            corner(1.0, 1.0, link),
            corner(-1.0, 1.0, 0.0),
        ];
        let at = hang(&body, &legs).unwrap();
        check_equilibrium(&body, &legs, &at)?;
        let elastic = at.four.as_ref().unwrap().elastic.as_ref().unwrap();
        let mut force = elastic.up.map(|u| -u * at.weight_n);
        for (leg, t) in legs.iter().zip(&elastic.tension_n) {
            let pull = sub(elastic.hook_m, leg.eye_m);
            for i in 0..3 {
                force[i] += pull[i] / norm(pull) * t;
            }
        }
        prop_assert!(norm(force) < 1e-6 * at.weight_n);
        for (leg, t) in at.legs.iter().zip(&elastic.tension_n) {
            prop_assert!(*t <= leg.tension.most_n + 0.02 * at.weight_n);
        }
    }

    /// Mirrored rigging hangs mirrored.
    #[test]
    fn mirrored(eyes in prop::collection::vec(eye(), 2..4), centre in (-0.3..0.3_f64, -0.3..0.3_f64)) {
        let legs: Vec<Leg> = eyes.iter().map(|(e, l)| Leg::new(*e, *l)).collect();
        let other: Vec<Leg> =
            eyes.iter().map(|(e, l)| Leg::new([-e[0], e[1], e[2]], *l)).collect();
        let here = hang(&body(50.0, [centre.0, centre.1, -0.5]), &legs);
        let there = hang(&body(50.0, [-centre.0, centre.1, -0.5]), &other);
        prop_assert_eq!(here.is_ok(), there.is_ok());
        if let (Ok(a), Ok(b)) = (here, there) {
            prop_assert!(near(a.tilt_rad, b.tilt_rad, 1e-7));
            prop_assert!(near(a.lean_rad[0], -b.lean_rad[0], 1e-7));
            for (p, q) in a.legs.iter().zip(&b.legs) {
                prop_assert!(near(p.tension.even_n, q.tension.even_n, 1e-4));
            }
        }
    }
}
