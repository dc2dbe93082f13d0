//! What comes before what: derived from parts and joints where it can be, stated where it cannot.
//!
//! In the strip, with "off" the work that takes a part off, alone or inside another:
//!
//! | the engine says | follows |
//! | --- | --- |
//! | P is held by H, or covered by H | H is off before P |
//! | P rests on S | P is off before S |
//! | a fastening F mates with P in a joint (bolt in its hole, pin in its eye, wedge on its brass) | F is off before P |
//! | a joint is drawn apart by a work of its own | it is drawn before either side is off |
//! | F holds a joint | F is off before the joint is drawn |
//! | P is taken out of Q at the bench | Q is off before P |
//! | a surface is gauged | whatever mates with it is off first, or its own part is, as the other ties have it |
//! | a joint is read while together | before it is drawn and before either side is off |
//! | a hold point holds all | before everything that does not come before it |
//!
//! In the build each turns round. Stated ties of the strip turn round too where both works have a
//! reverse in the build.

use super::model::{PartTies, Stage, WorkKind};
use crate::model::{Engine, FeatureIx, JointIx, PartIx};
use sequence::{Tie, Wait};
use std::collections::{HashMap, HashSet};

/// One tie between two works.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WorkTie {
    /// The earlier work, by its place in the engine's list.
    pub earlier: usize,
    /// The later work.
    pub later: usize,
    /// The sort.
    pub tie: Tie,
    /// Why, in words of the trade.
    pub reason: String,
    /// How long to wait.
    pub wait: Wait,
    /// Where it comes from.
    pub from: TieFrom,
}

/// Where a tie comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TieFrom {
    /// A part's own record.
    Part(PartIx),
    /// A joint.
    Joint(JointIx),
    /// A person stated it.
    Stated,
    /// A person stated it for the strip.
    TurnedRound,
}

/// Every tie of a stage that holds whatever the ways.
pub fn ties(engine: &Engine, stage: Stage) -> Vec<WorkTie> {
    let mut t = Deriving::new(engine, stage);
    t.parts();
    t.joints();
    t.benches();
    t.stated();
    t.reads();
    t.gauges();
    t.hold_points();
    t.all
}

struct Deriving<'a> {
    engine: &'a Engine,
    stage: Stage,
    /// Work that takes a part off, or puts it on.
    by_part: HashMap<PartIx, usize>,
    /// Work that draws a joint apart, or makes it.
    by_joint: HashMap<JointIx, usize>,
    /// Works done at the bench only.
    bench: Vec<bool>,
    seen: HashSet<(usize, usize, Option<u32>)>,
    all: Vec<WorkTie>,
    none: PartTies,
}

impl<'a> Deriving<'a> {
    fn new(engine: &'a Engine, stage: Stage) -> Self {
        let works = &engine.works.works;
        let (mut by_part, mut by_joint) = (HashMap::new(), HashMap::new());
        for (w, work) in works.iter().enumerate().filter(|w| w.1.stage == stage) {
            let (parts, joints) = match stage {
                Stage::Strip => (&work.takes_off, &work.undoes),
                Stage::Build => (&work.puts_on, &work.makes),
            };
            by_part.extend(parts.iter().map(|p| (*p, w)));
            by_joint.extend(joints.iter().map(|j| (*j, w)));
        }
        let bench = works
            .iter()
            .map(|w| !w.ways.is_empty() && w.ways.iter().all(|way| way.bench))
            .collect();
        let (seen, all) = (HashSet::new(), Vec::new());
        Deriving { engine, stage, by_part, by_joint, bench, seen, all, none: PartTies::default() }
    }

    fn ties_of(&self, part: PartIx) -> &PartTies {
        self.engine.works.parts.get(&part).unwrap_or(&self.none)
    }

    fn name(&self, part: PartIx) -> &str {
        &self.engine.part(part).name
    }

    /// The work that takes a part off, by itself or inside another.
    fn carrier(&self, part: PartIx) -> Option<usize> {
        let mut at = Some(part);
        // Nesting has no circles: they were broken when the parts were read.
        while let Some(p) = at {
            if let Some(w) = self.by_part.get(&p) {
                return Some(*w);
            }
            at = self.engine.part(p).inside;
        }
        None
    }

    /// Adds a tie written for the strip; in the build it turns round.
    fn strip_tie(&mut self, first: usize, then: usize, tie: Tie, reason: String, from: TieFrom) {
        match self.stage {
            Stage::Strip => self.add(first, then, tie, reason, Wait::None, from),
            Stage::Build => self.add(then, first, tie, reason, Wait::None, from),
        }
    }

    fn add(
        &mut self,
        earlier: usize,
        later: usize,
        tie: Tie,
        reason: String,
        wait: Wait,
        from: TieFrom,
    ) {
        let waits = match wait {
            Wait::None => None,
            Wait::Minutes(n) | Wait::Days(n) => Some(n),
        };
        if earlier != later && self.seen.insert((earlier, later, waits)) {
            self.all.push(WorkTie { earlier, later, tie, reason, wait, from });
        }
    }

    /// Held by, covered by, rests on.
    fn parts(&mut self) {
        let mut list: Vec<PartIx> = self.engine.works.parts.keys().copied().collect();
        list.sort();
        for part in list {
            let Some(mine) = self.by_part.get(&part).copied() else { continue };
            let ties = self.ties_of(part).clone();
            for (others, tie, verb) in [
                (&ties.held_by, Tie::HeldBy, "holds"),
                (&ties.covered_by, Tie::CoveredBy, "covers"),
            ] {
                for other in others {
                    if let Some(theirs) = self.carrier(*other) {
                        let reason = format!("{} {verb} {}", self.name(*other), self.name(part));
                        self.strip_tie(theirs, mine, tie, reason, TieFrom::Part(part));
                    }
                }
            }
            for under in &ties.supported_by {
                if let Some(theirs) = self.carrier(*under) {
                    let reason = format!("{} rests on {}", self.name(part), self.name(*under));
                    self.strip_tie(mine, theirs, Tie::SupportedBy, reason, TieFrom::Part(part));
                }
            }
        }
    }

    /// Parts that meet in a joint.
    fn parts_of(&self, joint: JointIx) -> Vec<PartIx> {
        let j = self.engine.joint(joint);
        let all = [j.inner, j.outer].into_iter().chain(j.fills.iter().copied());
        let mut parts: Vec<PartIx> = all.map(|f| self.engine.feature(f).part).collect();
        parts.sort();
        parts.dedup();
        parts
    }

    /// Fastenings, and joints that are drawn apart.
    fn joints(&mut self) {
        for at in 0..self.engine.joints.len() {
            let ix = JointIx::new(at);
            let parts = self.parts_of(ix);
            let (fastenings, others): (Vec<PartIx>, Vec<PartIx>) =
                parts.iter().partition(|p| self.ties_of(**p).fastens);
            for f in fastenings {
                let Some(theirs) = self.by_part.get(&f).copied() else { continue };
                for p in others.iter().copied() {
                    let Some(mine) = self.carrier(p) else { continue };
                    // What is taken out at the bench no longer holds anything on the engine.
                    if !self.bench[theirs] || self.bench[mine] {
                        let reason = format!("{} holds {}", self.name(f), self.name(p));
                        self.strip_tie(theirs, mine, Tie::HeldBy, reason, TieFrom::Joint(ix));
                    }
                }
            }
            let Some(drawn) = self.by_joint.get(&ix).copied() else { continue };
            let name = &self.engine.joint(ix).name;
            for p in &parts {
                // What is drawn at the bench holds nothing on the engine.
                let bench = self.bench[drawn];
                if let Some(off) = self.carrier(*p).filter(|off| !bench || self.bench[*off]) {
                    let reason = format!("{name}: it is fast until it is drawn");
                    self.strip_tie(drawn, off, Tie::HeldBy, reason, TieFrom::Joint(ix));
                }
            }
            for f in self.engine.works.joint_held_by.get(&ix).cloned().unwrap_or_default() {
                if let Some(off) = self.by_part.get(&f).copied() {
                    let reason = format!("{} holds {name}", self.name(f));
                    self.strip_tie(off, drawn, Tie::HeldBy, reason, TieFrom::Joint(ix));
                }
            }
        }
    }

    /// What is taken out of another part at the bench.
    fn benches(&mut self) {
        let mut list: Vec<(PartIx, usize)> = self.by_part.iter().map(|(p, w)| (*p, *w)).collect();
        list.sort();
        list.retain(|(_, w)| self.bench[*w]);
        for (part, mine) in list {
            let Some(parent) = self.engine.part(part).inside else { continue };
            let Some(theirs) = self.carrier(parent) else { continue };
            let verb = if self.stage == Stage::Strip { "taken out of" } else { "put into" };
            let reason =
                format!("{} is {verb} {} at the bench", self.name(part), self.name(parent));
            self.strip_tie(theirs, mine, Tie::CoveredBy, reason, TieFrom::Part(part));
        }
    }

    fn stated(&mut self) {
        let works = &self.engine.works.works;
        let stage = self.stage;
        let mut found = Vec::new();
        for (w, work) in works.iter().enumerate().filter(|w| w.1.stage == stage) {
            for s in work.after.iter().chain(&work.needs).filter(|s| works[s.work].stage == stage) {
                found.push((s.work, w, s.reason.clone(), s.wait, TieFrom::Stated));
            }
        }
        if stage == Stage::Build {
            let mut reverse: HashMap<usize, usize> = HashMap::new();
            for (w, work) in works.iter().enumerate() {
                if let Some(of) = work.reverse_of {
                    reverse.insert(of, w);
                }
            }
            for (of, w) in
                works.iter().enumerate().filter_map(|(w, x)| x.reverse_of.map(|o| (o, w)))
            {
                for s in &works[of].after {
                    if let Some(other) = reverse.get(&s.work) {
                        let reason = format!("the strip turned round: {}", s.reason);
                        found.push((w, *other, reason, Wait::None, TieFrom::TurnedRound));
                    }
                }
            }
        }
        for (earlier, later, reason, wait, from) in found {
            let tie = match works[earlier].kind {
                WorkKind::Support => Tie::SupportedBy,
                _ => Tie::Other,
            };
            self.add(earlier, later, tie, reason, wait, from);
        }
    }

    /// Readings of joints that are together.
    fn reads(&mut self) {
        let (works, stage) = (&self.engine.works.works, self.stage);
        for (w, work) in works.iter().enumerate().filter(|w| w.1.stage == stage) {
            for joint in &work.reads {
                let mut apart: Vec<usize> = self.by_joint.get(joint).copied().into_iter().collect();
                apart.extend(self.parts_of(*joint).into_iter().filter_map(|p| self.carrier(p)));
                for other in apart {
                    let name = &self.engine.joint(*joint).name;
                    let reason = format!("{name}: it is read while it is together");
                    self.strip_tie(w, other, Tie::Other, reason, TieFrom::Joint(*joint));
                }
            }
        }
    }

    /// Gauging of bare surfaces. Either side of a joint may be the one that goes; the one that the
    /// other ties put first in the strip is taken.
    fn gauges(&mut self) {
        let works = &self.engine.works.works;
        let mut found = Vec::new();
        for (w, work) in works.iter().enumerate().filter(|w| w.1.stage == self.stage) {
            for feature in &work.gauges {
                for joint in self.engine.feature(*feature).in_joints.clone() {
                    if let Some((off, part)) = self.bares(*feature, joint) {
                        found.push((off, w, part, joint));
                    }
                }
            }
        }
        for (off, w, part, joint) in found {
            let name = &self.engine.joint(joint).name;
            let reason = match self.stage {
                Stage::Strip => format!("{name}: bare only with {} off", self.name(part)),
                Stage::Build => format!("{name}: no longer bare with {} on", self.name(part)),
            };
            self.strip_tie(off, w, Tie::CoveredBy, reason, TieFrom::Joint(joint));
        }
    }

    /// The work that lays a feature bare in a joint, and the part that goes.
    fn bares(&self, feature: FeatureIx, joint: JointIx) -> Option<(usize, PartIx)> {
        let own = self.engine.feature(feature).part;
        let mine = self.carrier(own).map(|w| (w, own));
        let theirs = self
            .parts_of(joint)
            .into_iter()
            .filter(|p| *p != own)
            .find_map(|p| self.carrier(p).map(|w| (w, p)));
        match (mine, theirs) {
            (Some(a), Some(b)) if a.0 == b.0 => None,
            (Some(a), Some(b)) => {
                let sooner = match self.stage {
                    Stage::Strip => self.comes_before(b.0, a.0),
                    Stage::Build => self.comes_before(a.0, b.0),
                };
                Some(if sooner { b } else { a })
            }
            (a, b) => a.or(b),
        }
    }

    /// Hold points that everything waits for. Only works that nothing else behind the hold point
    /// comes before are tied to it: the rest follow.
    fn hold_points(&mut self) {
        let (works, stage) = (&self.engine.works.works, self.stage);
        let mine = |w: &usize| works[*w].stage == stage;
        for hold in (0..works.len()).filter(mine).filter(|w| works[*w].holds_all) {
            let mut before = HashSet::from([hold]);
            let mut queue = vec![hold];
            while let Some(at) = queue.pop() {
                for t in self.all.iter().filter(|t| t.later == at) {
                    if before.insert(t.earlier) {
                        queue.push(t.earlier);
                    }
                }
            }
            for w in (0..works.len()).filter(mine).filter(|w| !before.contains(w)) {
                let tied = self.all.iter().any(|t| t.later == w && !before.contains(&t.earlier));
                if !tied {
                    let reason =
                        format!("{}: nothing goes on until it is passed", works[hold].name);
                    self.add(hold, w, Tie::Other, reason, Wait::None, TieFrom::Stated);
                }
            }
        }
    }

    fn comes_before(&self, first: usize, then: usize) -> bool {
        let (mut seen, mut queue) = (HashSet::new(), vec![then]);
        while let Some(at) = queue.pop() {
            for t in self.all.iter().filter(|t| t.later == at) {
                if t.earlier == first {
                    return true;
                }
                if seen.insert(t.earlier) {
                    queue.push(t.earlier);
                }
            }
        }
        false
    }
}
