//! What the book says at one entry, shared by every reader until the next one is written.
//!
//! What takes time to work out is worked out when it is first asked for, and kept.

use crate::drawings::Drawn;
use crate::timeline::Told;
use book::{Book, Error, Fold, Said, Written};
use engine::design::design;
use engine::judge::Judgement;
use engine::model::{Date, JointIx};
use engine::view::{
    ClearancesView, DayListView, DesignView, JointView, MachineToView, OptionView, PlanView,
    Summary, WorkView, chart_view, clearances_view, day_view, design_view, joint_view,
    machine_to_view, option_views, plan_view, summary, works_view,
};
use engine::works::{self, Ask, KeptPlans, OnTheDay, Planned, Stage, Wanted, Watch};
use std::collections::HashMap;
use std::sync::atomic::AtomicBool;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// A row or record that was refused, in words.
#[derive(Clone, Debug)]
pub(crate) struct NotTaken {
    /// File or table, and line.
    pub(crate) place: String,
    /// What is wrong.
    pub(crate) what: String,
    /// How to put it right.
    pub(crate) mend: String,
}

/// The engine as the book describes it, judged; and what is worked out from that.
#[derive(Debug)]
pub(crate) struct Judged {
    pub(crate) judgement: Judgement,
    pub(crate) not_taken: Vec<NotTaken>,
    summary: OnceLock<Summary>,
    machine_to: OnceLock<MachineToView>,
    clearances: OnceLock<ClearancesView>,
    gear: OnceLock<Drawn>,
    joints: Mutex<HashMap<JointIx, Arc<JointShown>>>,
    /// Plans made from what was known before, to be mended around what has happened since.
    kept: KeptPlans,
    plans: [OnceLock<Result<Planned, String>>; 2],
    /// Works wanted before others, of the newest sheet of a day.
    pub(crate) wanted: Vec<Wanted>,
    shown_plans: [OnceLock<Result<Arc<PlanShown>, String>>; 2],
    days: Mutex<Vec<DayAsked>>,
    works: [OnceLock<Vec<WorkView>>; 2],
    designs: Mutex<HashMap<JointIx, Arc<DesignShown>>>,
    positions: Mutex<HashMap<String, Option<Drawn>>>,
    lately: Arc<Mutex<Lately>>,
}

/// What costly answers were asked for lately, so that they are worked out anew when the book has gone
/// on, before anybody waits for them.
#[derive(Debug, Default)]
struct Lately {
    clearances: bool,
    stages: [bool; 2],
    days: Vec<(Stage, OnTheDay)>,
    designs: Vec<String>,
}

/// Of each kind, what was asked for last.
const MOST_LATELY: usize = 4;

fn remember<T: PartialEq>(all: &mut Vec<T>, one: T) {
    all.retain(|x| *x != one);
    all.push(one);
    if MOST_LATELY < all.len() {
        all.remove(0);
    }
}

/// A day's list, and what was asked.
#[derive(Clone, Debug)]
struct DayAsked {
    stage: Stage,
    here: OnTheDay,
    answer: Result<Arc<DayListView>, String>,
}

/// Day's lists that are kept; the same few are asked for over and over.
const MOST_DAYS: usize = 24;

/// A plan as it is shown.
#[derive(Debug)]
pub(crate) struct PlanShown {
    /// With the works in the order that is wanted.
    pub(crate) planned: Planned,
    pub(crate) view: PlanView,
    /// What of the wanted order cannot be.
    pub(crate) refused: Vec<String>,
    /// A chart a day.
    pub(crate) charts: Vec<DayChart>,
}

/// The chart of a day.
#[derive(Debug)]
pub(crate) struct DayChart {
    /// The words over it, in which the date stands; empty when no day can be drawn.
    pub(crate) label: String,
    /// SVG, width and height in points; or why it is not drawn.
    pub(crate) drawn: Result<(String, u32, u32), String>,
}

/// The repair of a joint as it is shown.
#[derive(Debug)]
pub(crate) struct DesignShown {
    pub(crate) view: DesignView,
    pub(crate) pictures: Vec<Drawn>,
}

fn at(stage: Stage) -> usize {
    usize::from(stage == Stage::Build)
}

/// Everything shown of a joint.
#[derive(Debug)]
pub(crate) struct JointShown {
    pub(crate) view: JointView,
    pub(crate) options: Vec<OptionView>,
    /// Its figures against its limits.
    pub(crate) bars: Vec<Drawn>,
    /// Its worst surfaces.
    pub(crate) plots: Vec<Drawn>,
}

/// What the book says at one entry.
#[derive(Debug)]
pub(crate) struct Snapshot {
    pub(crate) head: Written,
    /// Id of the book.
    pub(crate) book_id: String,
    pub(crate) today: Option<Date>,
    pub(crate) fold: Fold,
    pub(crate) timeline: Vec<Arc<Told>>,
    /// The engine, or why there is none to judge.
    pub(crate) engine: Result<Arc<Judged>, String>,
}

impl Snapshot {
    pub(crate) fn of(
        book: &mut Book,
        before: Option<&Snapshot>,
        today: Option<Date>,
    ) -> Result<Snapshot, Error> {
        let head = book.head();
        let mut timeline = before.map_or_else(Vec::new, |b| b.timeline.clone());
        let known = timeline.len();
        crate::timeline::read_on(book, &mut timeline)?;
        let fold = book.fold().clone();
        let same_engine = before.filter(|b| {
            b.today == today && timeline[known..].iter().all(|t| !changes_the_engine(&t.said))
        });
        let engine = match same_engine {
            Some(before) => before.engine.clone(),
            None => {
                let old = before.and_then(|b| b.engine.as_ref().ok());
                let plans = old.map_or_else(KeptPlans::default, |j| j.kept_plans());
                let lately = old.map_or_else(Arc::default, |j| Arc::clone(&j.lately));
                let wanted = crate::order::wanted(&fold, &timeline);
                judge(&fold, today, plans, wanted).map(|j| Arc::new(Judged { lately, ..j }))
            }
        };
        Ok(Snapshot { head, book_id: book.id().to_owned(), today, fold, timeline, engine })
    }
}

/// Whether an entry reaches the engine's sources; when in doubt it does.
fn changes_the_engine(said: &Said) -> bool {
    !matches!(
        said,
        Said::Note { .. }
            | Said::Worked { .. }
            | Said::HoldPoint { .. }
            | Said::Released { .. }
            | Said::SignedOff { .. }
            | Said::Attached { .. }
            | Said::Person { .. }
            | Said::Concession { .. }
            | Said::ConcessionClosed { .. }
            | Said::DeviceToken { .. }
            | Said::DeviceTokenWithdrawn { .. }
    )
}

fn judge(
    fold: &Fold,
    today: Option<Date>,
    plans: KeptPlans,
    wanted: Vec<Wanted>,
) -> Result<Judged, String> {
    let sources = fold.engine_sources();
    if sources.texts.is_empty() {
        return Err("no engine is described in this book yet".to_owned());
    }
    let mut read = sources.read(today)?;
    let mut not_taken: Vec<NotTaken> = read
        .problems
        .iter()
        .map(|p| NotTaken {
            place: format!("{}, line {}", p.place.file, p.place.line),
            what: p.what.clone(),
            mend: p.mend.clone(),
        })
        .collect();
    for (table, taken) in &read.tables {
        not_taken.extend(taken.refused.iter().map(|r| NotTaken {
            place: match table.entry_of(r.line) {
                Some(entry) => format!("entry {entry} ({}): {}", table.name, r.row),
                None => format!("{}, line {}: {}", table.name, r.line, r.row),
            },
            what: format!("{}: {}", r.column, r.what),
            mend: r.mend.clone(),
        }));
    }
    not_taken.extend(fold.tell_works(&mut read.engine).into_iter().map(|what| NotTaken {
        place: "works of the plan".to_owned(),
        what,
        mend: String::new(),
    }));
    if read.engine.features.is_empty() {
        return Err("the engine in this book has no features to judge yet".to_owned());
    }
    Ok(Judged {
        judgement: Judgement::of(read.engine),
        not_taken,
        summary: OnceLock::new(),
        machine_to: OnceLock::new(),
        clearances: OnceLock::new(),
        gear: OnceLock::new(),
        joints: Mutex::default(),
        kept: plans,
        plans: [OnceLock::new(), OnceLock::new()],
        wanted,
        shown_plans: [OnceLock::new(), OnceLock::new()],
        days: Mutex::default(),
        works: [OnceLock::new(), OnceLock::new()],
        designs: Mutex::default(),
        positions: Mutex::default(),
        lately: Arc::default(),
    })
}

impl Judged {
    /// The engine at a glance.
    pub(crate) fn summary(&self) -> &Summary {
        self.summary.get_or_init(|| summary(&self.judgement))
    }

    /// The machine-to list.
    pub(crate) fn machine_to(&self) -> &MachineToView {
        self.machine_to.get_or_init(|| {
            machine_to_view(&self.judgement, &engine::repair::machine_to(&self.judgement))
        })
    }

    /// The plan of a stage; takes seconds when it is first asked for.
    pub(crate) fn plan(&self, stage: Stage) -> &Result<Planned, String> {
        self.plans[at(stage)].get_or_init(|| {
            let never = AtomicBool::new(false);
            let watch = Watch { news: &|_| {}, stop: &never };
            works::plan(&self.judgement, &Ask::of(stage), self.kept.of(stage), &watch)
                .map_err(|e| e.to_string())
        })
    }

    /// The plan as it is shown, with the works in the order that is wanted; likewise.
    pub(crate) fn plan_shown(&self, stage: Stage) -> Result<Arc<PlanShown>, String> {
        self.lately(|l| l.stages[at(stage)] = true);
        self.shown_plans[at(stage)]
            .get_or_init(|| {
                let planned = self.plan(stage).as_ref().map_err(Clone::clone)?.clone();
                let (planned, refused) = works::in_order(&self.judgement, planned, &self.wanted)
                    .map_err(|e| e.to_string())?;
                let charts = match paper::day_pictures(&chart_view(&self.judgement, &planned)) {
                    Ok(all) => all
                        .into_iter()
                        .map(|(label, p)| DayChart {
                            label,
                            // Whole points, for a page that leaves room for it.
                            drawn: Ok((
                                p.svg,
                                p.width_pt.round() as u32,
                                p.height_pt.round() as u32,
                            )),
                        })
                        .collect(),
                    Err(why) => {
                        vec![DayChart { label: String::new(), drawn: Err(why.to_string()) }]
                    }
                };
                let view = plan_view(&self.judgement, &planned);
                Ok(Arc::new(PlanShown { planned, view, refused, charts }))
            })
            .clone()
    }

    /// The plan of a stage if it has been worked out already.
    pub(crate) fn plan_at_hand(&self, stage: Stage) -> Option<Result<Arc<PlanShown>, String>> {
        self.shown_plans[at(stage)].get().cloned()
    }

    /// A day's list if it has been worked out already.
    pub(crate) fn day_at_hand(
        &self,
        stage: Stage,
        here: &OnTheDay,
    ) -> Option<Result<Arc<DayListView>, String>> {
        let all = self.days.lock().unwrap_or_else(PoisonError::into_inner);
        all.iter().find(|d| d.stage == stage && d.here == *here).map(|d| d.answer.clone())
    }

    /// A day's list; takes a while when it is first asked for.
    pub(crate) fn day(&self, stage: Stage, here: &OnTheDay) -> Result<Arc<DayListView>, String> {
        if let Some(known) = self.day_at_hand(stage, here) {
            return known;
        }
        self.lately(|l| remember(&mut l.days, (stage, here.clone())));
        let answer = self.plan_shown(stage).and_then(|shown| {
            works::day_list(&self.judgement, shown.planned.clone(), here)
                .map(|answer| Arc::new(day_view(&self.judgement, &answer)))
                .map_err(|e| e.to_string())
        });
        let mut all = self.days.lock().unwrap_or_else(PoisonError::into_inner);
        if MOST_DAYS <= all.len() {
            all.remove(0);
        }
        all.push(DayAsked { stage, here: here.clone(), answer: answer.clone() });
        answer
    }

    /// The cranks at a position of the wheels as a plan says it; none where the words are no position.
    pub(crate) fn position(&self, words: &str) -> Option<Drawn> {
        let known =
            self.positions.lock().unwrap_or_else(PoisonError::into_inner).get(words).cloned();
        known.unwrap_or_else(|| {
            let drawn = paper::position_picture(&self.judgement, words).map(|p| match p {
                Ok(picture) => crate::drawings::picture(picture),
                Err(why) => Drawn::Not(why),
            });
            let mut all = self.positions.lock().unwrap_or_else(PoisonError::into_inner);
            all.entry(words.to_owned()).or_insert(drawn).clone()
        })
    }

    /// The works of a stage as described.
    pub(crate) fn works(&self, stage: Stage) -> &[WorkView] {
        self.works[at(stage)].get_or_init(|| works_view(&self.judgement, stage))
    }

    /// The repair of a joint if it has been worked out already.
    pub(crate) fn design_at_hand(&self, ix: JointIx) -> Option<Arc<DesignShown>> {
        self.designs.lock().unwrap_or_else(PoisonError::into_inner).get(&ix).cloned()
    }

    /// The repair of a joint.
    ///
    /// # Errors
    /// It cannot be designed.
    pub(crate) fn design(&self, ix: JointIx) -> Result<Arc<DesignShown>, String> {
        if let Some(known) = self.design_at_hand(ix) {
            return Ok(known);
        }
        let id = self.judgement.engine().joint(ix).id.clone();
        self.lately(|l| remember(&mut l.designs, id));
        let found = design(&self.judgement, ix, &[]).map_err(|e| e.to_string())?;
        let view = design_view(&self.judgement, &found);
        let pictures = match paper::design_drawings(&view, &found) {
            Ok(all) => all.into_iter().map(crate::drawings::picture).collect(),
            Err(why) => vec![Drawn::Not(why.to_string())],
        };
        let shown = Arc::new(DesignShown { view, pictures });
        let mut all = self.designs.lock().unwrap_or_else(PoisonError::into_inner);
        Ok(Arc::clone(all.entry(ix).or_insert(shown)))
    }

    fn lately(&self, told: impl FnOnce(&mut Lately)) {
        told(&mut self.lately.lock().unwrap_or_else(PoisonError::into_inner));
    }

    /// Works out what anybody would wait for who asks first.
    pub(crate) fn warm(&self) {
        let _ = (self.summary(), self.gear(), self.machine_to(), self.clearances());
        if self.judgement.engine().works.works.is_empty() {
            return;
        }
        for stage in [Stage::Strip, Stage::Build] {
            let _ = self.works(stage);
            let _ = self.day(stage, &crate::order::usual_day());
        }
    }

    /// Works out what was asked for lately.
    pub(crate) fn warm_again(&self) {
        let _ = self.summary();
        let (mut clearances, mut stages, mut days, mut designs) =
            (false, [false; 2], Vec::new(), Vec::new());
        self.lately(|l| {
            (clearances, stages) = (l.clearances, l.stages);
            (days, designs) = (l.days.clone(), l.designs.clone());
        });
        if clearances {
            let _ = self.clearances();
        }
        for stage in [Stage::Strip, Stage::Build] {
            if stages[at(stage)] {
                let _ = self.plan_shown(stage);
            }
        }
        for (stage, here) in &days {
            let _ = self.day(*stage, here);
        }
        for id in &designs {
            if let Some(ix) = self.judgement.engine().joint_by_id(id) {
                let _ = self.design(ix);
            }
        }
    }

    /// The plans as they are kept, those made since taking the place of those before.
    fn kept_plans(&self) -> KeptPlans {
        let mut plans = self.kept.clone();
        for stage in [Stage::Strip, Stage::Build] {
            if let Some(Ok(planned)) = self.plans[at(stage)].get() {
                plans.put(stage, planned.kept.clone());
            }
        }
        plans
    }

    /// Piston clearances.
    pub(crate) fn clearances(&self) -> &ClearancesView {
        self.lately(|l| l.clearances = true);
        self.clearances.get_or_init(|| clearances_view(&self.judgement))
    }

    /// The drawing of the running gear.
    pub(crate) fn gear(&self) -> &Drawn {
        self.gear.get_or_init(|| crate::drawings::gear(&self.judgement))
    }

    /// A joint.
    pub(crate) fn joint(&self, ix: JointIx) -> Arc<JointShown> {
        let known = self.joints.lock().unwrap_or_else(PoisonError::into_inner).get(&ix).cloned();
        known.unwrap_or_else(|| {
            // Two who ask at once may both work it out; the answers are the same.
            let (bars, plots) = crate::drawings::joint(&self.judgement, ix);
            let shown = Arc::new(JointShown {
                view: joint_view(&self.judgement, ix),
                options: option_views(&self.judgement, ix),
                bars,
                plots,
            });
            let mut all = self.joints.lock().unwrap_or_else(PoisonError::into_inner);
            Arc::clone(all.entry(ix).or_insert(shown))
        })
    }
}
