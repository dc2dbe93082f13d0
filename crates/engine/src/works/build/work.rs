//! Works with their ways.

use super::super::model::{Stage, Stated, Way, Work, WorkKind};
use super::{MOST, Reader};
use crate::description::{Description, Text, WayText, WorkText};
use quantity::Dimension;
use sequence::{Hazard, Wait};

impl Reader<'_> {
    pub(super) fn works(&mut self, d: &Description) {
        // Names first: ties point both ways.
        let mut kept: Vec<&WorkText> = Vec::new();
        for w in d.works.iter().take(MOST) {
            let taken: Vec<String> = Vec::new();
            let Some(id) = self.id(&w.id, "work", &taken) else { continue };
            if self.model.work_by_id(&id).is_some() {
                if let Some(at) = &w.id {
                    self.fault(
                        at,
                        format!("work \"{id}\" stands twice"),
                        "give one of the two another id",
                    );
                }
                continue;
            }
            if let Some(work) = self.work_head(w, id) {
                self.model.works.push(work);
                kept.push(w);
            }
        }
        if d.works.len() > MOST {
            let what = format!("{} works: those after {MOST} are left out", d.works.len());
            self.fault_file(what, "look for a file read twice");
        }
        for (at, w) in kept.iter().enumerate() {
            let after = self.ties(&w.after);
            let needs = self.ties(&w.needs);
            let reverse_of = w.reverse_of.as_ref().and_then(|t| self.work(t));
            if let (Some(r), Some(t)) = (reverse_of, &w.reverse_of)
                && (self.model.works[r].stage != Stage::Strip
                    || self.model.works[at].stage != Stage::Build)
            {
                self.fault(
                    t,
                    "only a work of the build can be the reverse of one of the strip",
                    "check stage and reverse-of",
                );
            }
            let mut ways = Vec::new();
            for way in w.way.iter().flatten() {
                if let Some(way) = self.way(way, w, &ways) {
                    ways.push(way);
                }
            }
            let work = &mut self.model.works[at];
            (work.after, work.needs, work.reverse_of, work.ways) = (after, needs, reverse_of, ways);
        }
        self.take_over();
        self.parts_once();
        for (at, w) in kept.iter().enumerate() {
            if self.model.works[at].ways.is_empty()
                && let Some(id) = &w.id
            {
                self.fault(
                    id,
                    format!("work \"{}\" has no way to do it", id.get_ref()),
                    "write a [[work.way]] with how, time and people",
                );
            }
        }
    }

    fn work_head(&mut self, w: &WorkText, id: String) -> Option<Work> {
        let at = w.id.as_ref()?;
        let stage = match Self::say(&w.stage).as_str() {
            "" | "strip" => Stage::Strip,
            "build" => Stage::Build,
            other => {
                let what = format!("\"{other}\" is no stage");
                self.fault(w.stage.as_ref().unwrap_or(at), what, "use one of: strip, build");
                return None;
            }
        };
        let takes_off = self.part_list(&w.takes_off);
        let puts_on = self.part_list(&w.puts_on);
        let kind = match Self::say(&w.kind).as_str() {
            "" if !takes_off.is_empty() => WorkKind::TakeOff,
            "" if !puts_on.is_empty() || w.reverse_of.is_some() => WorkKind::PutOn,
            "" if w.gauges.is_some() || w.reads.is_some() => WorkKind::Gauge,
            "" | "change" => WorkKind::Change,
            "support" => WorkKind::Support,
            "gauge" => WorkKind::Gauge,
            "send" => WorkKind::Send,
            "hold" => WorkKind::Hold,
            other => {
                let what = format!("\"{other}\" is no kind of work");
                let mend = "use one of: change, support, gauge, send, hold; takes-off and puts-on say themselves";
                self.fault(w.kind.as_ref().unwrap_or(at), what, mend);
                return None;
            }
        };
        Some(Work {
            name: w.name.as_ref().map_or_else(|| id.clone(), |t| t.get_ref().trim().to_owned()),
            id,
            stage,
            kind,
            when_needed: Self::yes(&w.when_needed),
            takes_off,
            puts_on,
            undoes: self.joint_list(&w.undoes),
            makes: self.joint_list(&w.makes),
            gauges: self.features(&w.gauges),
            reads: self.joint_list(&w.reads),
            after: Vec::new(),
            needs: Vec::new(),
            holds_all: Self::yes(&w.holds_all),
            reverse_of: None,
            note: Self::say(&w.note),
            ways: Vec::new(),
        })
    }

    /// What a reverse takes over from the work that it undoes.
    fn take_over(&mut self) {
        for at in 0..self.model.works.len() {
            let Some(of) = self.model.works[at].reverse_of else { continue };
            let was = self.model.works[of].clone();
            let work = &mut self.model.works[at];
            if work.puts_on.is_empty() {
                work.puts_on = was.takes_off;
            }
            if work.makes.is_empty() {
                work.makes = was.undoes;
            }
        }
    }

    /// A part comes off once and goes on once.
    fn parts_once(&mut self) {
        for stage in [Stage::Strip, Stage::Build] {
            let mut seen: std::collections::HashMap<_, usize> = std::collections::HashMap::new();
            let mut twice = Vec::new();
            for (w, work) in self.model.works.iter().enumerate().filter(|w| w.1.stage == stage) {
                let parts = if stage == Stage::Strip { &work.takes_off } else { &work.puts_on };
                for p in parts {
                    if let Some(other) = seen.insert(*p, w) {
                        twice.push((*p, other, w));
                    }
                }
            }
            for (p, a, b) in twice {
                let what = format!(
                    "part \"{}\" comes {} in two works, \"{}\" and \"{}\"",
                    self.engine.part(p).id,
                    if stage == Stage::Strip { "off" } else { "on" },
                    self.model.works[a].id,
                    self.model.works[b].id
                );
                self.fault_file(
                    what,
                    "leave it to one of them; two ways of one work are [[work.way]]s",
                );
            }
        }
    }

    pub(super) fn work(&mut self, text: &Text) -> Option<usize> {
        let name = text.get_ref().trim();
        if let Some(at) = self.model.work_by_id(name) {
            return Some(at);
        }
        let mend = self.model.nearest_work(name).map_or_else(
            || "describe it in a [[work]] or correct the name".to_owned(),
            |n| format!("did you mean \"{n}\"?"),
        );
        self.fault(text, format!("there is no work \"{name}\""), mend);
        None
    }

    pub(super) fn way_of(&mut self, work: usize, text: &Text) -> Option<usize> {
        let ids: Vec<String> = self.model.works[work].ways.iter().map(|w| w.id.clone()).collect();
        let name = text.get_ref().trim();
        if let Some(at) = ids.iter().position(|i| i == name) {
            return Some(at);
        }
        let what = format!("work \"{}\" has no way \"{name}\"", self.model.works[work].id);
        self.fault(text, what, format!("its ways are: {}", ids.join(", ")));
        None
    }

    /// Ties: `WORK: reason` and `WORK, 10 days later: reason`.
    pub(super) fn ties(&mut self, list: &Option<Vec<Text>>) -> Vec<Stated> {
        let mut all = Vec::new();
        for text in list.iter().flatten() {
            const FORM: &str = "write \"WORK: reason\" or \"WORK, 10 days later: reason\"";
            let Some((head, reason)) = text.get_ref().split_once(':') else {
                self.fault(text, format!("\"{}\" gives no reason", text.get_ref()), FORM);
                continue;
            };
            let (name, wait) = match head.split_once(',') {
                Some((name, wait)) => (name, Some(wait)),
                None => (head, None),
            };
            let reason = reason.trim().to_owned();
            if reason.is_empty() {
                self.fault(text, "the reason is empty", FORM);
                continue;
            }
            let wait = match wait {
                None => Wait::None,
                Some(w) => match wait_of(w) {
                    Some(w) => w,
                    None => {
                        self.fault(text, format!("\"{}\" is no wait", w.trim()), FORM);
                        continue;
                    }
                },
            };
            let piece = toml::Spanned::new(text.span(), name.trim().to_owned());
            if let Some(work) = self.work(&piece) {
                all.push(Stated { work, wait, reason });
            }
        }
        all
    }

    fn way(&mut self, w: &WayText, work: &WorkText, before: &[Way]) -> Option<Way> {
        let taken: Vec<String> = before.iter().map(|w| w.id.clone()).collect();
        let id = match &w.id {
            Some(_) => self.id(&w.id, "way", &taken)?,
            // A work with one way needs no name for it.
            None if work.way.as_ref().is_some_and(|all| all.len() == 1) => "usual".to_owned(),
            None => return self.id(&w.id, "way", &taken).and(None),
        };
        let at = w.how.as_ref().or(w.id.as_ref()).or(work.id.as_ref())?;
        let Some(minutes) = w.time.as_ref().map(|t| self.minutes(t)) else {
            self.fault(at, format!("way \"{id}\" says not how long"), "write time = \"40 min\"");
            return None;
        };
        let minutes = minutes?;
        if minutes == 0 {
            self.fault(at, format!("way \"{id}\" takes no time"), "write a minute or more");
            return None;
        }
        let people = self.count(&w.people, "people").unwrap_or(1);
        let kits: Vec<String> = self.model.kit.iter().map(|k| k.id.clone()).collect();
        let places: Vec<String> = self.model.places.iter().map(|p| p.id.clone()).collect();
        let mut kit = Vec::new();
        for text in w.kit.iter().flatten() {
            let (count, name) = counted(text.get_ref());
            let piece = toml::Spanned::new(text.span(), name.to_owned());
            if let Some(k) = self.named(&piece, "kit", &kits) {
                kit.push((k, count));
            }
        }
        let mut reach = Vec::new();
        for text in w.reach.iter().flatten() {
            let name = text.get_ref().trim().to_owned();
            if self.engine.motion.reaches.iter().any(|r| r.to == name) {
                reach.push(name);
            } else {
                self.fault(
                    text,
                    format!("there is no window for \"{name}\""),
                    "write a [[reach]] with to, crank, from, until and by; see docs/motion.md",
                );
            }
        }
        let said: Vec<_> = w.at.iter().flatten().filter_map(|t| self.said(t)).collect();
        let either = self.optional(&w.either_side, Dimension::Angle, (0.0, 3.2));
        if said.is_empty()
            && let (Some(_), Some(at)) = (either, &w.either_side)
        {
            self.fault(at, "either side of what?", "write at = [\"left pin bottom\"] with it");
        }
        let from = w.from.as_ref().and_then(|t| self.named(t, "place", &places));
        let keeps_clear = w
            .keeps_clear
            .iter()
            .flatten()
            .filter_map(|t| self.named(t, "place", &places))
            .collect();
        let needs = self.ties(&w.needs);
        let mut leaves = Vec::new();
        for text in w.leaves.iter().flatten() {
            match text.get_ref().rsplit_once(" until ") {
                Some((what, until)) => {
                    let mut works = Vec::new();
                    for name in until.split(" or ") {
                        let piece = toml::Spanned::new(text.span(), name.trim().to_owned());
                        works.extend(self.work(&piece));
                    }
                    if !works.is_empty() {
                        leaves.push((what.trim().to_owned(), works));
                    }
                }
                None => leaves.push((text.get_ref().trim().to_owned(), Vec::new())),
            }
        }
        let stays = self.stays(&w.stays, &kit, &kits);
        let lifts: Vec<String> = self.model.lifts.iter().map(|l| l.id.clone()).collect();
        let lift = w.lift.as_ref().and_then(|t| self.named(t, "lift", &lifts));
        let hazards = w.hazards.iter().flatten().map(|t| hazard_of(t.get_ref())).collect();
        let fails = self.share(&w.fails).unwrap_or(0.0);
        Some(Way {
            how: w.how.as_ref().map_or_else(|| id.clone(), |t| t.get_ref().trim().to_owned()),
            id,
            minutes,
            people,
            kit,
            bring: w.bring.iter().flatten().map(|t| t.get_ref().trim().to_owned()).collect(),
            reach: w.reach.as_ref().map(|_| reach),
            at: said,
            either_side_rad: either.unwrap_or(0.17),
            from,
            keeps_clear,
            bench: Self::yes(&w.bench),
            same_day: Self::yes(&w.same_day),
            needs,
            leaves,
            stays,
            hazards,
            fails: fails.min(0.999),
            lift,
            spot: Self::say(&w.spot),
        })
    }
}

/// How `stays` is written.
const STAYS: &str = "write stays = [\"timber until rod-out.left\"]";

impl Reader<'_> {
    /// Kit of a way that stays after it.
    fn stays(
        &mut self,
        texts: &Option<Vec<Text>>,
        kit: &[(usize, u32)],
        kits: &[String],
    ) -> Vec<(usize, u32, usize)> {
        let mut all = Vec::new();
        for text in texts.iter().flatten() {
            let Some((what, until)) = text.get_ref().rsplit_once(" until ") else {
                self.fault(text, format!("\"{}\" says not until when", text.get_ref()), STAYS);
                continue;
            };
            let (count, name) = counted(what);
            let name = toml::Spanned::new(text.span(), name.to_owned());
            let until = toml::Spanned::new(text.span(), until.trim().to_owned());
            let (Some(k), Some(work)) = (self.named(&name, "kit", kits), self.work(&until)) else {
                continue;
            };
            let used: u32 = kit.iter().filter(|x| x.0 == k).map(|x| x.1).sum();
            if count > used {
                let what = format!("{count} {} stay, but the way has only {used}", kits[k]);
                self.fault(text, what, "write in kit what the way needs, in stays what is left");
            } else {
                all.push((k, count, work));
            }
        }
        all
    }
}

fn hazard_of(word: &str) -> Hazard {
    match word.trim() {
        "lift" => Hazard::Lift,
        "jack" => Hazard::Jack,
        "hydraulic" => Hazard::Hydraulic,
        "hot" => Hazard::Hot,
        "drop" => Hazard::Drop,
        "below" => Hazard::Below,
        words => Hazard::Other(words.to_owned()),
    }
}

/// A number before a name.
fn counted(text: &str) -> (u32, &str) {
    let text = text.trim();
    match text.split_once(' ') {
        Some((n, name)) => match n.parse() {
            Ok(n) if n > 0 => (n, name.trim()),
            _ => (1, text),
        },
        None => (1, text),
    }
}

/// `10 days later`, `90 min later`, `overnight`.
fn wait_of(text: &str) -> Option<Wait> {
    let text = text.trim();
    if text == "overnight" {
        return Some(Wait::Days(1));
    }
    let (n, unit) = text.strip_suffix("later")?.trim().split_once(' ')?;
    let n: u32 = n.parse().ok()?;
    match unit.trim() {
        "day" | "days" => Some(Wait::Days(n)),
        "week" | "weeks" => Some(Wait::Days(n.checked_mul(7)?)),
        "min" | "minutes" => Some(Wait::Minutes(n)),
        "h" | "hours" | "hour" => Some(Wait::Minutes(n.checked_mul(60)?)),
        _ => None,
    }
}
