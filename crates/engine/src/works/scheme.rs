//! From an engine to a scheme that the planner takes.

use super::calendar::{Spell, calendar, opens_min, spells, working_min};
use super::model::{Happened, Moment, Stage, Stated, Way, What, WorkKind, WorksModel};
use super::no_plan::NoPlan;
use super::ties::{WorkTie, ties};
use crate::judge::Judgement;
use crate::model::Engine;
use crate::motion::{By, Mechanism, Said};
use mechanics::motion::{Arcs, Barring as Bar, CylinderNo, Tyre};
use sequence::{
    Arc, Barring, Before, Break, Hanging, Hazard, Kind, Kit, KitId, Place, PlaceId, Progress,
    Scheme, SetUps, Staying, Step, Targets, Tie, Wanted, Where, Window, WorkId,
};
use std::collections::HashMap;

/// A stage of an engine as a scheme, and how to find back.
#[derive(Clone, Debug)]
pub struct Assembled {
    /// The scheme.
    pub scheme: Scheme,
    /// The engine's work of each [`WorkId`].
    pub works: Vec<usize>,
    /// The spells of the calendar, in its order, with who is there.
    pub spells: Vec<Spell>,
    /// Ties that hold whatever the ways, in the engine's numbers.
    pub ties: Vec<WorkTie>,
    /// What was taken for granted.
    pub notes: Vec<String>,
    /// Strip or build.
    pub stage: Stage,
}

impl Assembled {
    /// The planner's number of a work of the engine.
    pub fn id_of(&self, work: usize) -> Option<WorkId> {
        self.works.iter().position(|w| *w == work).map(WorkId)
    }

    /// The day and minute of the clock of a working minute that begins something.
    pub fn moment(&self, working: u64) -> Option<Moment> {
        let (d, m) = self.scheme.calendar.day_of(working)?;
        let s = self.spells.get(d)?;
        Some(Moment { date: s.date, clock_min: Some(s.opens_min + m) })
    }

    /// The same for something that ends.
    pub fn moment_of_end(&self, working: u64) -> Option<Moment> {
        let (d, m) = self.scheme.calendar.day_of_end(working)?;
        let s = self.spells.get(d)?;
        Some(Moment { date: s.date, clock_min: Some(s.opens_min + m) })
    }

    /// Working minutes gone by at a moment.
    pub fn working_min(&self, at: Moment) -> u64 {
        working_min(&self.spells, at)
    }

    /// Working minutes gone by when a day opens.
    pub fn opens_min(&self, date: crate::model::Date) -> u64 {
        opens_min(&self.spells, date)
    }
}

/// Angles and windows of the wheels; everything else a scheme needs is in the engine.
struct Wheels<'a> {
    judgement: &'a Judgement,
    mechanism: Option<Mechanism>,
    why_not: String,
}

impl Wheels<'_> {
    fn angle(&self, said: &Said) -> Result<f64, NoPlan> {
        if let Said::Wheel(deg) = said {
            return Ok(deg.to_radians());
        }
        let mechanism = self.mechanism()?;
        said.wheel_angle(mechanism)
            .map(|a| a.rad())
            .map_err(|e| NoPlan::Position { what: said.to_string(), why: e.to_string() })
    }

    fn mechanism(&self) -> Result<&Mechanism, NoPlan> {
        self.mechanism.as_ref().ok_or_else(|| NoPlan::Position {
            what: "the positions of the wheels".to_owned(),
            why: self.why_not.clone(),
        })
    }

    /// Windows to get at a joint or feature, from a place where that is said.
    fn reach(&self, to: &str, by: Option<By>) -> Result<Option<Arcs>, NoPlan> {
        let reaches = &self.judgement.engine().motion.reaches;
        let mine = || reaches.iter().filter(|r| r.to == to);
        let by = by.filter(|b| mine().any(|r| r.by == *b));
        let mut found: Option<Arcs> = None;
        for r in mine().filter(|r| by.is_none_or(|b| r.by == b)) {
            // Any tyre will do for angles.
            let tyre = Tyre { diameter_m: 1.0, diameter_standard_m: 0.0 };
            let mechanism = self.mechanism()?;
            let arcs = Bar::new(&mechanism.motion, tyre, mechanism.axle)
                .and_then(|b| b.wheel_windows(CylinderNo(r.cylinder), &[(r.from_rad, r.until_rad)]))
                .map_err(|e| NoPlan::Position { what: to.to_owned(), why: e.to_string() })?;
            found = Some(match found {
                Some(f) => f.or(&arcs),
                None => arcs,
            });
        }
        Ok(found)
    }
}

/// The scheme of one stage of an engine.
///
/// # Errors
/// No works or no days are described; positions of the wheels that cannot be had.
pub fn assemble(judgement: &Judgement, stage: Stage) -> Result<Assembled, NoPlan> {
    let engine = judgement.engine();
    let model = &engine.works;
    let works: Vec<usize> =
        (0..model.works.len()).filter(|w| model.works[*w].stage == stage).collect();
    if works.is_empty() {
        return Err(NoPlan::NoWorks { stage: stage.word() });
    }
    let (begins, field) = match stage {
        Stage::Strip => (model.shed.begins, "begins"),
        Stage::Build => (model.shed.build_begins.or(model.shed.begins), "build-begins"),
    };
    let begins = begins.ok_or(NoPlan::NoDays { field })?;
    let spells = spells(model, begins);
    if spells.is_empty() {
        return Err(NoPlan::NoDays { field: "[[shift]] records" });
    }
    let (mechanism, why_not) = match Mechanism::of(judgement) {
        Ok(m) => (Some(m), String::new()),
        Err(e) => (None, e.to_string()),
    };
    let wheels = Wheels { judgement, mechanism, why_not };
    let mut notes = Vec::new();
    let mut scheme = Scheme::new(calendar(&spells));
    kit_and_places(model, &spells, &mut scheme);
    let id_of: HashMap<usize, WorkId> =
        works.iter().enumerate().map(|(i, w)| (*w, WorkId(i))).collect();
    let found = ties(engine, stage);
    let mut spots = Vec::new();
    for w in &works {
        let work = &model.works[*w];
        let mut out = sequence::Work::new(&work.id, &work.name).kind(kind_of(work.kind));
        if work.when_needed {
            out.wanted = Wanted::WhenNeeded;
        }
        for t in found.iter().filter(|t| t.later == *w) {
            if let Some(earlier) = id_of.get(&t.earlier) {
                out = out.tied(Before::new(*earlier, t.tie, &t.reason).wait(t.wait));
            }
        }
        for way in &work.ways {
            let mut to = sequence::Way::new(&way.how, way.minutes, way.people);
            to.window = window(engine, &wheels, *w, way)?;
            to.kit = way.kit.iter().map(|(k, n)| (KitId(*k), *n)).collect();
            to.whereabouts = if way.bench { Where::AtBench } else { Where::OnEngine };
            to.place = way.from.map(PlaceId);
            to.keeps_clear = way.keeps_clear.iter().map(|p| PlaceId(*p)).collect();
            let short = way.minutes <= model.shed.unbroken_min;
            to.stands = if way.same_day || short { Break::SameDay } else { Break::MayStand };
            to.after = befores(model, &way.needs, &id_of, stage, &mut notes);
            for (what, until) in &way.leaves {
                let until = put_right_by(model, until).and_then(|u| id_of.get(&u).copied());
                to.leaves.push(Hanging { what: what.clone(), until });
            }
            for (kit, count, until) in &way.stays {
                let (kit, until) = (KitId(*kit), id_of.get(until).copied());
                to.stays.push(Staying { kit, count: *count, until });
            }
            to.spot = spot(&mut spots, &way.spot);
            to.hazards = hazards(model, way);
            to.fails = way.fails;
            out = out.way(to);
        }
        scheme.add(out);
    }
    scheme.barring = barring(model, &id_of, stage, &mut notes);
    let stands = match stage {
        Stage::Strip => &model.shed.stands,
        Stage::Build => &model.shed.build_stands,
    };
    match stands {
        Some(said) => scheme.stands_rad = wheels.angle(said)?,
        None => notes.push("where the engine stands at the start is not said: taken as wheel 0; write stands = \"left front\" in [shed]".to_owned()),
    }
    notes.sort();
    notes.dedup();
    Ok(Assembled { scheme, works, spells, ties: found, notes, stage })
}

/// The work that puts right what hangs: the first named, or the second once every way of the first
/// that is not stuck needs it before.
fn put_right_by(model: &WorksModel, until: &[usize]) -> Option<usize> {
    let first = *until.first()?;
    let mut stuck = Vec::new();
    for h in model.progress.iter().filter(|h| h.work == first) {
        match (h.what, h.way) {
            (What::Stuck, Some(way)) => stuck.push(way),
            (What::Undone, Some(way)) => stuck.retain(|w| *w != way),
            (What::Undone, None) => stuck.clear(),
            _ => {}
        }
    }
    let ways = model.works[first].ways.iter().enumerate();
    let left: Vec<&Way> = ways.filter(|(k, _)| !stuck.contains(k)).map(|(_, w)| w).collect();
    let other = until
        .iter()
        .skip(1)
        .find(|u| !left.is_empty() && left.iter().all(|w| w.needs.iter().any(|n| n.work == **u)));
    Some(other.copied().unwrap_or(first))
}

fn kind_of(kind: WorkKind) -> Kind {
    match kind {
        WorkKind::TakeOff => Kind::TakeOff,
        WorkKind::PutOn => Kind::PutOn,
        WorkKind::Change => Kind::Change,
        WorkKind::Support => Kind::Support,
        WorkKind::Gauge => Kind::Gauge,
        WorkKind::Send => Kind::SendAway,
        WorkKind::Hold => Kind::Hold,
    }
}

fn kit_and_places(model: &WorksModel, spells: &[Spell], scheme: &mut Scheme) {
    for k in &model.kit {
        let mut kit = Kit::new(&k.name, k.count);
        kit.not_in = k.not_in.clone();
        kit.set_ups = if k.set_ups { SetUps::Counted } else { SetUps::Free };
        for (d, s) in spells.iter().enumerate() {
            let there = if k.ticket {
                let holds = |p: &&usize| model.crew[**p].tickets.contains(&k.id);
                s.people.iter().filter(holds).count() as u32
            } else {
                match &k.there {
                    Some(on) if !on.iter().any(|o| o.holds(s.date)) => 0,
                    _ => k.count,
                }
            };
            if there != kit.count {
                kit.by_day.push((d, there));
            }
        }
        scheme.add_kit(kit);
    }
    for p in &model.places {
        let mut place = Place::new(&p.name, p.room);
        place.not_in = p.not_in.clone();
        place.shut =
            spells.iter().enumerate().filter(|s| p.shut.contains(&s.1.date)).map(|s| s.0).collect();
        scheme.add_place(place);
    }
}

fn befores(
    model: &WorksModel,
    stated: &[Stated],
    id_of: &HashMap<usize, WorkId>,
    stage: Stage,
    notes: &mut Vec<String>,
) -> Vec<Before> {
    let mut all = Vec::new();
    for s in stated {
        let tie = match model.works[s.work].kind {
            WorkKind::Support => Tie::SupportedBy,
            _ => Tie::Other,
        };
        match id_of.get(&s.work) {
            Some(id) => all.push(Before::new(*id, tie, &s.reason).wait(s.wait)),
            None => notes.push(format!(
                "\"{}\" belongs to the {}: taken as done before",
                model.works[s.work].name,
                if stage == Stage::Strip { "build" } else { "strip" }
            )),
        }
    }
    all
}

fn barring(
    model: &WorksModel,
    id_of: &HashMap<usize, WorkId>,
    stage: Stage,
    notes: &mut Vec<String>,
) -> Barring {
    let usual = Barring::default();
    let shed = &model.shed;
    if shed.bar_people.is_none() || shed.bar_set_up_min.is_none() || shed.bar_turn_min.is_none() {
        notes.push(format!(
            "moving the engine: what [shed] does not say is taken as {} people, {} min and {} min a turn",
            usual.people, usual.set_up_min, usual.turn_min
        ));
    }
    // What stands before a move in the strip is long past in the build, and the other way.
    let mine: Vec<Stated> =
        shed.bar_after.iter().filter(|s| model.works[s.work].stage == stage).cloned().collect();
    Barring {
        people: shed.bar_people.unwrap_or(usual.people),
        set_up_min: shed.bar_set_up_min.unwrap_or(usual.set_up_min),
        turn_min: shed.bar_turn_min.unwrap_or(usual.turn_min),
        round_min: usual.round_min,
        after: befores(model, &mine, id_of, stage, notes),
    }
}

fn spot(spots: &mut Vec<String>, named: &str) -> u32 {
    let at = spots.iter().position(|s| s == named).unwrap_or_else(|| {
        spots.push(named.to_owned());
        spots.len() - 1
    });
    at as u32
}

/// The hazards said, and those that follow from the lift and the place.
fn hazards(model: &WorksModel, way: &Way) -> Vec<Hazard> {
    let mut all = way.hazards.clone();
    let mut add = |h: Hazard| {
        if !all.contains(&h) {
            all.push(h);
        }
    };
    if let Some(lift) = way.lift.map(|l| &model.lifts[l]) {
        if lift.sling.is_some() || lift.slide.is_some() {
            add(Hazard::Lift);
        }
        if lift.jacks.is_some() {
            add(Hazard::Jack);
        }
        if lift.draw.is_some() {
            add(Hazard::Hydraulic);
        }
    }
    if way.from.is_some_and(|p| model.places[p].id == By::Pit.word()) {
        add(Hazard::Below);
    }
    all
}

/// Positions of the wheels in which a way can be done: those said, within the windows of what it has
/// to get at.
fn window(engine: &Engine, wheels: &Wheels<'_>, work: usize, way: &Way) -> Result<Window, NoPlan> {
    if way.bench {
        return Ok(Window::Any);
    }
    let by = way.from.and_then(|p| match engine.works.places[p].id.as_str() {
        "pit" => Some(By::Pit),
        "above" => Some(By::Above),
        "side" => Some(By::Side),
        _ => None,
    });
    let mut arcs: Option<Arcs> = None;
    let both = |arcs: Option<Arcs>, more: Arcs| {
        Some(match arcs {
            Some(a) => a.and(&more),
            None => more,
        })
    };
    match &way.reach {
        Some(named) => {
            for to in named {
                if let Some(more) = wheels.reach(to, by)? {
                    arcs = both(arcs, more);
                }
            }
        }
        // From which place is what tells one window of a joint from another: without a place, and
        // with positions of its own, a way is not tied to them.
        None if by.is_some() && way.at.is_empty() => {
            for to in gets_at(engine, work) {
                let known = |r: &&crate::motion::Reach| r.to == to && Some(r.by) == by;
                if engine.motion.reaches.iter().any(|r| known(&r))
                    && let Some(more) = wheels.reach(&to, by)?
                {
                    arcs = both(arcs, more);
                }
            }
        }
        None => {}
    }
    if !way.at.is_empty() {
        let mut said: Option<Arcs> = None;
        for at in &way.at {
            let angle = wheels.angle(at)?;
            let (from, to) = (angle - way.either_side_rad, angle + way.either_side_rad);
            let one = Arcs::from_to(&[(from, to)])
                .map_err(|e| NoPlan::Position { what: at.to_string(), why: e.to_string() })?;
            said = Some(match said {
                Some(s) => s.or(&one),
                None => one,
            });
        }
        if let Some(more) = said {
            arcs = both(arcs, more);
        }
    }
    Ok(match arcs {
        None => Window::Any,
        Some(a) => Window::Arcs(
            a.windows()
                .iter()
                .map(|w| Arc { from_rad: w.from_rad, to_rad: w.from_rad + w.length_rad })
                .collect(),
        ),
    })
}

/// Joints and features that a work has to get at.
fn gets_at(engine: &Engine, work: usize) -> Vec<String> {
    let w = &engine.works.works[work];
    let mut all: Vec<String> = Vec::new();
    for j in w.undoes.iter().chain(&w.makes).chain(&w.reads) {
        all.push(engine.joint(*j).id.clone());
    }
    for f in &w.gauges {
        all.push(engine.feature(*f).id.clone());
    }
    for p in w.takes_off.iter().chain(&w.puts_on) {
        for f in engine.features.iter().filter(|f| f.part == *p) {
            all.extend(f.in_joints.iter().map(|j| engine.joint(*j).id.clone()));
        }
    }
    all.sort();
    all.dedup();
    all
}

/// What the records of an engine say has happened in this stage, until a moment if one is given.
pub fn progress(
    judgement: &Judgement,
    assembled: &Assembled,
    now: Option<Moment>,
) -> Result<Progress, NoPlan> {
    let mine: Vec<Happened> = judgement
        .engine()
        .works
        .progress
        .iter()
        .filter(|h| judgement.engine().works.works[h.work].stage == assembled.stage)
        .cloned()
        .collect();
    progress_of(judgement, assembled, &mine, now)
}

/// The same for these records.
pub fn progress_of(
    judgement: &Judgement,
    assembled: &Assembled,
    records: &[Happened],
    now: Option<Moment>,
) -> Result<Progress, NoPlan> {
    let mut p = Progress::default();
    let mut said_stands: Option<(u64, Said)> = None;
    for h in records {
        let Some(work) = assembled.id_of(h.work) else { continue };
        let at = assembled.working_min(h.when);
        p.now_min = p.now_min.max(at);
        if let Some(s) = &h.stands {
            said_stands = Some((at, s.clone()));
        }
        match h.what {
            What::Done(began) => {
                let way = h.way.unwrap_or(0);
                let minutes = assembled.scheme.way(work, way).map_or(1, |y| u64::from(y.minutes));
                let start_min =
                    began.map_or(at.saturating_sub(minutes), |b| assembled.working_min(b)).min(at);
                p.done.retain(|s| s.work != work);
                p.done.push(Step { work, way, start_min, end_min: at });
            }
            What::Stuck => {
                let ways = assembled.scheme.works[work.0].ways.len();
                let free = |k: &usize| !p.stuck.contains(&(work, *k));
                if let Some(way) = h.way.or_else(|| (0..ways).find(free)) {
                    p.stuck.push((work, way));
                }
                p.done.retain(|s| s.work != work);
            }
            What::Undone => {
                p.done.retain(|s| s.work != work);
                match h.way {
                    Some(k) => p.stuck.retain(|s| *s != (work, k)),
                    None => p.stuck.retain(|s| s.0 != work),
                }
            }
        }
    }
    if let Some(now) = now {
        p.now_min = p.now_min.max(assembled.working_min(now));
    }
    p.done.sort_by_key(|s| (s.end_min, s.start_min, s.work));
    p.stands_rad = stands(judgement, assembled, &p, said_stands)?;
    Ok(p)
}

/// Where the engine stands: as was said last, or as the last work on the engine needs it.
fn stands(
    judgement: &Judgement,
    assembled: &Assembled,
    p: &Progress,
    said: Option<(u64, Said)>,
) -> Result<Option<f64>, NoPlan> {
    let scheme = &assembled.scheme;
    let mut at = scheme.stands_rad;
    let said = match said {
        Some((when, said)) => {
            let why_not = String::new();
            let mechanism = Mechanism::of(judgement).ok();
            Some((when, Wheels { judgement, mechanism, why_not }.angle(&said)?))
        }
        None => None,
    };
    let mut used = false;
    for s in &p.done {
        if let Some((when, angle)) = said
            && !used
            && when <= s.end_min
        {
            (at, used) = (angle, true);
        }
        if let Some(Window::Arcs(arcs)) = scheme.way(s.work, s.way).map(|y| &y.window)
            && !arcs.iter().any(|a| a.holds(at))
            && let Some(a) = arcs.first()
        {
            at = a.from_rad + 0.5 * a.length_rad();
        }
    }
    if let (Some((_, angle)), false) = (said, used) {
        at = angle;
    }
    Ok((at != scheme.stands_rad).then_some(at))
}

/// What is to be reached: a work, what takes a part off or on, or what opens a joint.
///
/// # Errors
/// It is none of them, or nothing in this stage does it.
pub fn target(engine: &Engine, assembled: &Assembled, name: &str) -> Result<Targets, NoPlan> {
    let name = name.trim();
    let model = &engine.works;
    let only = |work: usize| {
        assembled.id_of(work).map(|id| Targets::Only(vec![id])).ok_or_else(|| NoPlan::NoTarget {
            name: name.to_owned(),
            mend: format!(
                "it belongs to the other stage, not to the {}; --build plans the build",
                assembled.stage.word()
            ),
        })
    };
    if let Some(w) = model.work_by_id(name) {
        return only(w);
    }
    let by_part = |part: crate::model::PartIx| {
        let mut at = Some(part);
        while let Some(p) = at {
            let found = assembled.works.iter().copied().find(|w| {
                let work = &model.works[*w];
                work.takes_off.contains(&p) || work.puts_on.contains(&p)
            });
            if found.is_some() {
                return found;
            }
            at = engine.part(p).inside;
        }
        None
    };
    if let Some(p) = engine.part_by_id(name) {
        return match by_part(p) {
            Some(w) => only(w),
            None => Err(NoPlan::NoTarget {
                name: name.to_owned(),
                mend: format!("no work of the {} takes it in hand", assembled.stage.word()),
            }),
        };
    }
    if let Some(j) = engine.joint_by_id(name) {
        let joint = engine.joint(j);
        let mut wanted: Vec<WorkId> = assembled
            .works
            .iter()
            .filter(|w| model.works[**w].undoes.contains(&j) || model.works[**w].makes.contains(&j))
            .filter_map(|w| assembled.id_of(*w))
            .collect();
        if wanted.is_empty() {
            // The outer side is what comes off a journal or pin.
            let sides = [joint.outer, joint.inner].map(|f| engine.feature(f).part);
            wanted.extend(sides.into_iter().find_map(by_part).and_then(|w| assembled.id_of(w)));
        }
        if !wanted.is_empty() {
            return Ok(Targets::Only(wanted));
        }
    }
    let known = model.works.iter().map(|w| w.id.as_str());
    let known = known.chain(engine.parts.iter().map(|p| p.id.as_str()));
    let mend = crate::problem::nearest(name, known).map_or_else(
        || "name a work, a part or a joint".to_owned(),
        |n| format!("did you mean \"{n}\"?"),
    );
    Err(NoPlan::NoTarget { name: name.to_owned(), mend })
}
