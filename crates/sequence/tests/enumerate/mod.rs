//! Every plan of a small scheme, minute by minute: states are merged, nothing is left out by
//! reasoning. Shares nothing with the planner but the scheme.

use sequence::*;
use std::collections::HashMap;
use std::f64::consts::TAU;

#[derive(Clone, PartialEq, Eq, Hash, Debug)]
enum Stage {
    Open,
    Running { way: usize, end: u64 },
    Done { way: usize, end: u64 },
}

#[derive(Clone, PartialEq, Eq, Hash)]
struct State {
    stages: Vec<Stage>,
    /// Index of the angle; while moving, of the angle moved to.
    at: usize,
    moving_until: u64,
    spot: Option<u32>,
}

/// What trying everything found.
pub(crate) enum Enumerated {
    /// The rank of the best plan.
    Best(u128),
    /// There is no plan within the calendar.
    NoPlan,
    /// Given up: too many states.
    TooMany,
}

pub(crate) fn best(s: &Scheme, objective: Objective, most_states: usize) -> Enumerated {
    let mut angles: Vec<f64> = vec![s.stands_rad];
    angles.extend((0..8).map(|k| f64::from(k) * TAU / 8.0));
    let start =
        State { stages: vec![Stage::Open; s.works.len()], at: 0, moving_until: 0, spot: None };
    let mut layer: HashMap<State, Cost> = HashMap::from([(start, Cost::default())]);
    let mut best: Option<u128> = None;
    let mut states = 0;
    for t in 0..=s.calendar.minutes() {
        let mut here: HashMap<State, Cost> = HashMap::new();
        for (mut state, cost) in layer {
            for stage in &mut state.stages {
                if let Stage::Running { way, end } = *stage
                    && end == t
                {
                    *stage = Stage::Done { way, end };
                }
            }
            let wanted = |w: usize| s.works[w].wanted == Wanted::Always;
            let over = state.stages.iter().enumerate().all(|(w, g)| match g {
                Stage::Open => !wanted(w),
                Stage::Running { .. } => false,
                Stage::Done { .. } => true,
            });
            if over && state.moving_until <= t {
                let rank = objective.rank(&Cost { elapsed_min: t, ..cost });
                best = Some(best.map_or(rank, |b: u128| b.min(rank)));
            }
            begin(s, &angles, t, 0, state, cost, objective, &mut here);
        }
        states += here.len();
        if states > most_states {
            return Enumerated::TooMany;
        }
        let next = objective.rank(&Cost { elapsed_min: t + 1, ..Cost::default() });
        if best.is_some_and(|b| b <= next) {
            break;
        }
        layer = HashMap::new();
        for (state, cost) in here {
            if holds(s, &state, t) {
                let mut tidy = state;
                forget(s, &mut tidy);
                keep(&mut layer, tidy, cost, objective);
            }
        }
    }
    best.map_or(Enumerated::NoPlan, Enumerated::Best)
}

fn keep(into: &mut HashMap<State, Cost>, state: State, cost: Cost, objective: Objective) {
    let slot = into.entry(state).or_insert(cost);
    if objective.rank(&cost) < objective.rank(slot) {
        *slot = cost;
    }
}

/// Drops what can no longer matter, so that states merge.
fn forget(s: &Scheme, state: &mut State) {
    let waits = |w: usize| {
        s.works.iter().any(|x| x.after.iter().any(|b| b.work.0 == w && b.wait != Wait::None))
    };
    for w in 0..state.stages.len() {
        if let Stage::Done { way, end } = state.stages[w] {
            let hangs = s.works[w].ways[way]
                .leaves
                .iter()
                .any(|h| h.until.is_none_or(|u| !matches!(state.stages[u.0], Stage::Done { .. })));
            // With kit that stays the way is kept too.
            let hangs = hangs || s.works[w].ways.iter().any(|y| !y.stays.is_empty());
            state.stages[w] = Stage::Done {
                way: if hangs { way } else { 0 },
                end: if waits(w) { end } else { 0 },
            };
            if !hangs && !s.works[w].ways[0].leaves.is_empty() {
                // Way 0 would look as if it hung; any done `until` makes that false.
                let freed = s.works[w].ways[0].leaves.iter().all(|h| {
                    h.until.is_some_and(|u| matches!(state.stages[u.0], Stage::Done { .. }))
                });
                if !freed {
                    state.stages[w] = Stage::Done { way, end: if waits(w) { end } else { 0 } };
                }
            }
        }
    }
}

/// Whether a work that puts something right is not done.
fn open(state: &State, until: Option<WorkId>) -> bool {
    until.is_none_or(|u| !matches!(state.stages[u.0], Stage::Done { .. }))
}

/// Whether what goes on in minute `t` is within what is there.
fn holds(s: &Scheme, state: &State, t: u64) -> bool {
    let Some((day, _)) = s.calendar.day_of(t) else { return false };
    let mut people = 0;
    let mut kit = vec![0; s.kits.len()];
    let (mut inside, mut clear) = (vec![0; s.places.len()], vec![0; s.places.len()]);
    let mut on_engine = false;
    for (w, stage) in state.stages.iter().enumerate() {
        if let Stage::Done { way, .. } = stage {
            for x in s.works[w].ways[*way].stays.iter().filter(|x| open(state, x.until)) {
                kit[x.kit.0] += x.count;
            }
        }
        let Stage::Running { way, .. } = stage else { continue };
        let way = &s.works[w].ways[*way];
        people += way.people;
        way.kit.iter().for_each(|(k, c)| kit[k.0] += c);
        way.place.iter().for_each(|p| inside[p.0] += 1);
        way.keeps_clear.iter().for_each(|p| clear[p.0] += 1);
        // A bench work that needs a position needs it to stay.
        on_engine |= way.whereabouts == Where::OnEngine || way.window != Window::Any;
    }
    let moving = state.moving_until > t;
    if moving {
        people += s.barring.people;
        let hangs = state.stages.iter().enumerate().any(|(w, g)| {
            let way = match g {
                Stage::Open => return false,
                Stage::Running { way, .. } | Stage::Done { way, .. } => *way,
            };
            s.works[w].ways[way]
                .leaves
                .iter()
                .any(|h| h.until.is_none_or(|u| !matches!(state.stages[u.0], Stage::Done { .. })))
        });
        if on_engine || hangs {
            return false;
        }
    }
    people <= s.calendar.days[day].people
        && kit.iter().zip(&s.kits).all(|(n, k)| *n <= k.on(day))
        && (0..s.places.len()).all(|p| {
            inside[p] <= s.places[p].on(day) && clear[p] <= 1 && (clear[p] == 0 || inside[p] == 0)
        })
}

/// All that can begin at minute `t`, works from `from` on.
#[allow(clippy::too_many_arguments)]
fn begin(
    s: &Scheme,
    angles: &[f64],
    t: u64,
    from: usize,
    state: State,
    cost: Cost,
    objective: Objective,
    into: &mut HashMap<State, Cost>,
) {
    if !holds_so_far(s, &state, t) {
        return;
    }
    for w in from..s.works.len() {
        if state.stages[w] != Stage::Open {
            continue;
        }
        for (k, way) in s.works[w].ways.iter().enumerate() {
            if !may_begin(s, angles, t, &state, w, way) {
                continue;
            }
            let (mut next, mut cost) = (state.clone(), cost);
            next.stages[w] = Stage::Running { way: k, end: t + u64::from(way.minutes) };
            cost.people_min += way.people_min();
            if way.kit.iter().any(|(id, _)| s.kits[id.0].set_ups == SetUps::Counted) {
                cost.set_ups += u64::from(next.spot != Some(way.spot));
                next.spot = Some(way.spot);
            }
            begin(s, angles, t, w + 1, next, cost, objective, into);
        }
    }
    if state.moving_until <= t {
        for to in 0..angles.len() {
            let minutes = u64::from(s.barring.minutes(angles[state.at], angles[to]));
            if minutes == 0 {
                continue;
            }
            let (mut next, mut cost) = (state.clone(), cost);
            next.at = to;
            next.moving_until = t + minutes;
            cost.moves += 1;
            cost.people_min += minutes * u64::from(s.barring.people);
            if holds_so_far(s, &next, t) {
                keep(into, next, cost, objective);
            }
        }
    }
    keep(into, state, cost, objective);
}

fn holds_so_far(s: &Scheme, state: &State, t: u64) -> bool {
    s.calendar.day_of(t).is_none() || holds(s, state, t)
}

fn may_begin(s: &Scheme, angles: &[f64], t: u64, state: &State, w: usize, way: &Way) -> bool {
    let calendar = &s.calendar;
    let Some((day, minute)) = calendar.day_of(t) else { return false };
    if way.stands == Break::SameDay && minute + way.minutes > calendar.days[day].minutes {
        return false;
    }
    let needs_engine = way.whereabouts == Where::OnEngine || way.window != Window::Any;
    if needs_engine && state.moving_until > t || !way.window.holds(angles[state.at]) {
        return false;
    }
    s.works[w].after.iter().chain(&way.after).all(|b| {
        let Stage::Done { end, .. } = state.stages[b.work.0] else { return false };
        match b.wait {
            Wait::None => true,
            Wait::Minutes(m) => t >= end + u64::from(m),
            Wait::Days(d) => {
                let ended = calendar.day_of_end(end).map_or(0, |x| calendar.days[x.0].date);
                calendar.days[day].date >= ended + i64::from(d)
            }
        }
    })
}
