//! The forces at one place of the slide.

use super::super::STANDARD_GRAVITY_M_S2;
use super::super::error::{FORCE, LiftingError, MASS, PLACE, Range, check_larger};
use crate::wedge::{Friction, Spread};

const INCLINE: Range = Range::new("incline of the seat", "rad", -0.5, 0.5);

/// How a seat holds a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SeatHold {
    /// It only bears from below: a strap on its butt, a piston in a bore with room above it.
    BearsOnly,
    /// It holds both ways: a rod in a stuffing box, a spigot, a strap between its jaws.
    Grips,
}

/// The seat that the part slides off, outwards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seat {
    /// Its inner edge, m.
    pub inner_m: f64,
    /// Its outer edge (the mouth), m.
    pub outer_m: f64,
    /// How it holds.
    pub hold: SeatHold,
}

/// What the crane does while the part moves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HookKeep {
    /// Its pull is kept at this, N: a load cell is watched, or a counterweight or spring carries.
    Tension(f64),
    /// Its height is kept, having begun with this pull, N: the pull stays while seat and hook can
    /// share, and follows where the seat can give no more.
    Height(f64),
}

/// The crane's hook on the part, its fall plumb and travelling with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hook {
    /// Where it holds the part, m.
    pub at_m: f64,
    /// What the crane does.
    pub keep: HookKeep,
}

/// Hands on the part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hands {
    /// Where they hold, m.
    pub at_m: f64,
    /// The most they can push up or down, N.
    pub most_n: f64,
}

/// A part that slides off a seat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Transfer {
    /// Mass, kg.
    pub mass_kg: f64,
    /// Its balance point along the axis, m.
    pub balance_m: f64,
    /// The length of it that fits the seat, from its inner to its outer end, m.
    pub fit_m: [f64; 2],
    /// The seat.
    pub seat: Seat,
    /// The crane, where there is one.
    pub hook: Option<Hook>,
    /// Hands, where there are any.
    pub hands: Option<Hands>,
    /// Slope of the axis, rad: positive where outwards is up.
    pub incline_rad: f64,
    /// Friction on the seat.
    pub friction: Friction,
}

/// An end of the part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartEnd {
    /// The end towards the engine.
    Inner,
    /// The end that leads out.
    Outer,
}

/// How the part stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StageState {
    /// Both edges bear from below, or one just does.
    Seated,
    /// The seat holds one edge down: it binds.
    Binds,
    /// It stays only because hands push or hold down.
    HeldByHands,
    /// It tips: this end drops.
    Tips(PartEnd),
    /// The hook pulls more than the part weighs: it lifts off.
    Lifts,
    /// Off the seat and carried by the hook (and hands) without dropping.
    Free,
    /// Off the seat and not carried: it drops.
    Drops,
}

/// What carries the part at one place of the slide.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stage {
    /// How far it has slid, m.
    pub slid_m: f64,
    /// The edges that bear, inner and outer, m; equal where nothing does.
    pub edges_m: [f64; 2],
    /// What the seat carries at those edges, square to it, N; negative where it holds down.
    pub seat_n: [f64; 2],
    /// What the crane carries, N.
    pub hook_n: f64,
    /// Least and most the crane can carry here with the part at rest on its seat without hands, N.
    pub hook_band_n: Option<[f64; 2]>,
    /// What hands carry, N; negative where they hold down.
    pub hands_n: f64,
    /// Force along the axis to draw it on outwards at low, likely and high friction, N; negative
    /// where it runs out by itself and must be held back.
    pub pull_n: Spread,
    /// How it stands.
    pub state: StageState,
}

impl Transfer {
    pub(super) fn check(&self) -> Result<(), LiftingError> {
        MASS.check(self.mass_kg)?;
        for place in [self.balance_m, self.fit_m[0], self.fit_m[1]] {
            PLACE.check(place)?;
        }
        PLACE.check(self.seat.inner_m)?;
        PLACE.check(self.seat.outer_m)?;
        check_larger(("outer end of the fit", self.fit_m[1]), ("its inner end", self.fit_m[0]))?;
        check_larger(
            ("outer edge of the seat", self.seat.outer_m),
            ("its inner edge", self.seat.inner_m),
        )?;
        check_larger(
            ("outer edge of the seat", self.seat.outer_m),
            ("inner end of the fit", self.fit_m[0]),
        )?;
        check_larger(
            ("outer end of the fit", self.fit_m[1]),
            ("inner edge of the seat", self.seat.inner_m),
        )?;
        if let Some(hook) = self.hook {
            PLACE.check(hook.at_m)?;
            let (HookKeep::Tension(n) | HookKeep::Height(n)) = hook.keep;
            FORCE.check(n)?;
        }
        if let Some(hands) = self.hands {
            PLACE.check(hands.at_m)?;
            FORCE.check(hands.most_n)?;
        }
        INCLINE.check(self.incline_rad)?;
        Ok(())
    }

    /// Weight, N.
    pub(super) fn weight_n(&self) -> f64 {
        self.mass_kg * STANDARD_GRAVITY_M_S2
    }

    /// How far it slides before it is off, m.
    #[must_use]
    pub fn travel_m(&self) -> f64 {
        self.seat.outer_m - self.fit_m[0]
    }

    /// The stretch of the seat that bears when slid by so much, m.
    pub(super) fn edges(&self, slid: f64) -> [f64; 2] {
        [self.seat.inner_m.max(self.fit_m[0] + slid), self.seat.outer_m.min(self.fit_m[1] + slid)]
    }
}

/// The forces when the part has slid out by so much.
///
/// Own derivation, statics of a rigid part: with the seat bearing at the ends a, b of the contact,
/// `R_b = (W (g − a) − T (h − a) − H (k − a)) / (b − a)` and `R_a = (W (b − g) − T (b − h) −
/// H (b − k)) / (b − a)`, T the hook at h, H the hands at k. A seat that only bears must have both
/// at least zero: that gives the band of T. Where T lies outside it, hands give the least push that
/// mends it, and if they cannot the part tips. On an incline every upright force acts square to the
/// seat by its cosine and along it by its sine. Drawing on takes `μ (|N_a| + |N_b|)` and the weight
/// along the slope.
///
/// # Errors
/// Sizes and masses out of range, a fit that does not touch the seat, a slide below 0.
pub fn transfer_stage(transfer: &Transfer, slid_m: f64) -> Result<Stage, LiftingError> {
    transfer.check()?;
    let slid = Range::new("how far it has slid", "m", 0.0, 2000.0).check(slid_m)?;
    let edges_m = transfer.edges(slid);
    let lever = Lever {
        weight: transfer.weight_n(),
        g: transfer.balance_m + slid,
        h: transfer.hook.map(|h| h.at_m + slid),
        k: transfer.hands.map(|h| h.at_m + slid),
        edges: edges_m,
    };
    // Less than this much of the seat is no seat, m.
    if edges_m[1] - edges_m[0] < 1e-9 {
        return Ok(off_the_seat(transfer, slid, &lever));
    }
    let band = lever.band();
    let hook_n = match transfer.hook.map(|h| h.keep) {
        None => 0.0,
        Some(HookKeep::Tension(n)) => n,
        Some(HookKeep::Height(n)) => match band {
            Some([low, high]) => n.clamp(low, high),
            None => n.min(lever.weight),
        },
    };
    let mut hands_n = 0.0;
    let mut seat = lever.seat(hook_n, 0.0);
    let hair = 1e-9 * lever.weight;
    let state = if hook_n > lever.weight + hair {
        StageState::Lifts
    } else if seat[0] >= -hair && seat[1] >= -hair {
        StageState::Seated
    } else if transfer.seat.hold == SeatHold::Grips {
        StageState::Binds
    } else {
        let drops = if seat[0] < 0.0 { PartEnd::Outer } else { PartEnd::Inner };
        match lever
            .hands(hook_n)
            .filter(|h| transfer.hands.is_some_and(|hands| h.abs() <= hands.most_n * (1.0 + 1e-9)))
        {
            Some(push) => {
                hands_n = push;
                seat = lever.seat(hook_n, hands_n);
                StageState::HeldByHands
            }
            None => StageState::Tips(drops),
        }
    };
    let square = transfer.incline_rad.cos();
    let seat_n = seat.map(|r| r * square);
    let along = (lever.weight - hook_n - hands_n) * transfer.incline_rad.sin();
    let press = seat_n[0].abs() + seat_n[1].abs();
    let friction = transfer.friction;
    Ok(Stage {
        slid_m: slid,
        edges_m,
        seat_n,
        hook_n,
        hook_band_n: if transfer.hook.is_some() { band } else { None },
        hands_n,
        pull_n: Spread {
            at_low: friction.low() * press + along,
            at_likely: friction.likely() * press + along,
            at_high: friction.high() * press + along,
        },
        state,
    })
}

fn off_the_seat(transfer: &Transfer, slid: f64, lever: &Lever) -> Stage {
    let weight = lever.weight;
    let hook_n = match transfer.hook.map(|h| h.keep) {
        None => 0.0,
        Some(HookKeep::Tension(n)) => n,
        Some(HookKeep::Height(_)) => weight,
    };
    let short = weight - hook_n;
    let hands_n = transfer.hands.map_or(0.0, |h| short.clamp(-h.most_n, h.most_n));
    let hair = 1e-9 * weight;
    let state = if short < -hair && hands_n - short > hair {
        StageState::Lifts
    } else if (short - hands_n).abs() > hair {
        StageState::Drops
    } else {
        StageState::Free
    };
    Stage {
        slid_m: slid,
        edges_m: [transfer.seat.outer_m; 2],
        seat_n: [0.0; 2],
        hook_n,
        hook_band_n: None,
        hands_n,
        pull_n: Spread { at_low: 0.0, at_likely: 0.0, at_high: 0.0 },
        state,
    }
}

/// The part as a lever on two edges.
struct Lever {
    weight: f64,
    g: f64,
    h: Option<f64>,
    k: Option<f64>,
    edges: [f64; 2],
}

impl Lever {
    /// Upright forces of the seat at both edges.
    fn seat(&self, hook: f64, hands: f64) -> [f64; 2] {
        let [a, b] = self.edges;
        let (h, k) = (self.h.unwrap_or(a), self.k.unwrap_or(a));
        let length = b - a;
        [
            (self.weight * (b - self.g) - hook * (b - h) - hands * (b - k)) / length,
            (self.weight * (self.g - a) - hook * (h - a) - hands * (k - a)) / length,
        ]
    }

    /// Pulls of the hook with which both edges bear: `None` where there are none.
    fn band(&self) -> Option<[f64; 2]> {
        let [a, b] = self.edges;
        let h = self.h?;
        let moments = [self.weight * (b - self.g), self.weight * (self.g - a)];
        bounded(
            &[(moments[0], b - h), (moments[1], h - a)],
            [0.0, self.weight],
            self.weight * (b - a),
        )
    }

    /// The least push of hands with which both edges bear: `None` where there is none.
    fn hands(&self, hook: f64) -> Option<f64> {
        let [a, b] = self.edges;
        let k = self.k?;
        let h = self.h.unwrap_or(a);
        let moments = [
            self.weight * (b - self.g) - hook * (b - h),
            self.weight * (self.g - a) - hook * (h - a),
        ];
        let all = [f64::NEG_INFINITY, f64::INFINITY];
        let [low, high] =
            bounded(&[(moments[0], b - k), (moments[1], k - a)], all, self.weight * (b - a))?;
        Some(0.0_f64.clamp(low, high))
    }
}

/// The range of t within `limits` for which `moment − t arm ≥ 0` in every row.
fn bounded(rows: &[(f64, f64); 2], limits: [f64; 2], scale: f64) -> Option<[f64; 2]> {
    let [mut low, mut high] = limits;
    for &(moment, arm) in rows {
        if arm > 0.0 {
            high = high.min(moment / arm);
        } else if arm < 0.0 {
            low = low.max(moment / arm);
        } else if moment < -1e-12 * scale {
            return None;
        }
    }
    // Both ends meet where the part balances on hook and one edge.
    let hair = 1e-9 * (low.abs() + high.abs());
    if low.is_finite() && high.is_finite() && low > high && low - high <= hair {
        return Some([high, high]);
    }
    (low <= high).then_some([low, high])
}
