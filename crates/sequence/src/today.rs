//! The day's list: who is here, how long, with what kit, in what weather.

use crate::events::rest_of_day;
use crate::plan::{Plan, Progress, Refused};
use crate::scheme::{KitId, Scheme, Weather, WorkId};
use crate::search::{Old, SearchOptions, Watch, solve_from};
use std::sync::atomic::AtomicBool;

/// What the day is like.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Here {
    /// People here; `None`: as the calendar says.
    pub people: Option<u32>,
    /// Minutes to work from now; `None`: as the calendar says.
    pub minutes: Option<u32>,
    /// Weather: kit and places that it rules out are not used.
    pub weather: Vec<Weather>,
    /// Kit of which there is another number today.
    pub kit: Vec<(KitId, u32)>,
}

/// One line of the list.
#[derive(Debug, Clone, PartialEq)]
pub enum Line {
    /// A work.
    Do {
        /// Minute of the clock at which it begins.
        clock_min: u32,
        /// The work.
        work: WorkId,
        /// Its way.
        way: usize,
        /// Minutes of it that fall on this day.
        today_min: u64,
        /// Goes on another day.
        goes_on: bool,
        /// Another way, should this one not go.
        if_stuck: Option<usize>,
    },
    /// The engine is barred.
    Bar {
        /// Minute of the clock at which it begins.
        clock_min: u32,
        /// Crank angle to bar to, radians.
        to_rad: f64,
    },
}

/// The list for a day.
#[derive(Debug, Clone, PartialEq)]
pub struct DayList {
    /// The scheme with the day as it is; the plan belongs to it.
    pub scheme: Scheme,
    /// The whole plan from now on.
    pub plan: Plan,
    /// What is done today, by the clock.
    pub lines: Vec<Line>,
    /// Kit to fetch, and how many at once.
    pub fetch: Vec<(KitId, u32)>,
    /// Cautions, each once.
    pub cautions: Vec<String>,
    /// What hangs when the day ends.
    pub hangs_overnight: Vec<String>,
    /// Chance that every way begun today goes at once, from the chances given and taken as
    /// independent: 1 less each chance of failing, multiplied.
    pub all_go: f64,
}

/// The best list for the rest of the day in which `progress.now_min` falls: the plan of all that is
/// left, with this day as it is, cut at its end. A plan from before is a start to search from.
///
/// # Errors
/// As [`solve`](crate::solve); a kit that is not there is [`Refused::NotThere`].
pub fn today(
    scheme: &Scheme,
    progress: &Progress,
    here: &Here,
    before: Option<&Plan>,
    options: &SearchOptions,
) -> Result<DayList, Refused> {
    let mut scheme = scheme.clone();
    let day = rest_of_day(&mut scheme, progress.now_min)?;
    if let Some(people) = here.people {
        scheme.calendar.days[day].people = people;
    }
    if let Some(minutes) = here.minutes {
        scheme.calendar.days[day].minutes = minutes;
    }
    for (kit, count) in &here.kit {
        let slot = scheme.kits.get_mut(kit.0).ok_or(Refused::NotThere(kit.0))?;
        slot.by_day.push((day, *count));
    }
    let out = |rules: &[Weather]| rules.iter().any(|w| here.weather.contains(w));
    scheme.kits.iter_mut().filter(|k| out(&k.not_in)).for_each(|k| k.by_day.push((day, 0)));
    scheme.places.iter_mut().filter(|p| out(&p.not_in)).for_each(|p| p.shut.push(day));

    let stop = AtomicBool::new(false);
    let watch = Watch { news: &|_| {}, stop: &stop };
    let old = before.map(|p| Old { steps: &p.steps, keep: false, minutes_a_change: 0 });
    let plan = solve_from(&scheme, progress, options, &watch, old.as_ref())?;
    Ok(list(scheme, progress, plan, day))
}

fn list(scheme: Scheme, progress: &Progress, plan: Plan, day: usize) -> DayList {
    let opens = scheme.calendar.opens(day);
    let closes = opens + u64::from(scheme.calendar.days[day].minutes);
    let clock = |m: u64| scheme.calendar.days[day].opens_min + (m - opens) as u32;
    let mut lines: Vec<(u64, Line)> = Vec::new();
    let mut cautions: Vec<String> = Vec::new();
    let mut caution = |text: String| {
        if !cautions.contains(&text) {
            cautions.push(text);
        }
    };
    let mut all_go = 1.0;
    let mut peaks: Vec<u32> = vec![0; scheme.kits.len()];
    let all = || progress.running.iter().chain(&plan.steps);
    let today = |start: u64, end: u64| start < closes && end > opens;
    for s in all().filter(|s| today(s.start_min, s.end_min)) {
        let Some(way) = scheme.way(s.work, s.way) else { continue };
        let begins = s.start_min.max(opens);
        way.hazards.iter().for_each(|h| caution(h.caution()));
        for (kit, _) in &way.kit {
            let at: u32 = all()
                .filter(|o| o.start_min <= begins && begins < o.end_min)
                .filter_map(|o| scheme.way(o.work, o.way))
                .flat_map(|y| y.kit.iter().filter(|k| k.0 == *kit).map(|k| k.1))
                .sum();
            peaks[kit.0] = peaks[kit.0].max(at);
        }
        if s.start_min >= progress.now_min {
            all_go *= 1.0 - way.fails;
        }
        let others = scheme.works[s.work.0].ways.len();
        let goes = |k: &usize| *k != s.way && !progress.stuck.contains(&(s.work, *k));
        let line = Line::Do {
            clock_min: clock(begins),
            work: s.work,
            way: s.way,
            today_min: s.end_min.min(closes) - begins,
            goes_on: s.end_min > closes,
            if_stuck: (0..others).find(goes),
        };
        lines.push((begins, line));
    }
    for m in plan.moves.iter().filter(|m| today(m.start_min, m.end_min)) {
        caution(
            "moving the engine: everybody out of the motion and told, scotches and a hand at them; \
             one person gives the word"
                .into(),
        );
        let clock_min = clock(m.start_min.max(opens));
        lines.push((m.start_min, Line::Bar { clock_min, to_rad: m.to_rad }));
    }
    lines.sort_by_key(|l| l.0);
    let ended = |w: WorkId| {
        let mut past = progress.done.iter().chain(all());
        past.any(|s| s.work == w && s.end_min <= closes)
    };
    let mut hangs_overnight = Vec::new();
    for s in progress.done.iter().chain(all()).filter(|s| s.start_min < closes) {
        for hang in scheme.way(s.work, s.way).map(|y| y.leaves.as_slice()).unwrap_or(&[]) {
            if !hang.until.is_some_and(ended) {
                hangs_overnight.push(hang.what.clone());
            }
        }
    }
    if !hangs_overnight.is_empty() {
        caution(
            "something is left hanging overnight: support it, and leave a warning board".into(),
        );
    }
    let fetch =
        peaks.iter().enumerate().filter(|p| *p.1 > 0).map(|(k, n)| (KitId(k), *n)).collect();
    let lines = lines.into_iter().map(|l| l.1).collect();
    DayList { scheme, plan, lines, fetch, cautions, hangs_overnight, all_go }
}
