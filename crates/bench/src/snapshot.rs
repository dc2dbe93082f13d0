//! What the book says at one entry, shared by every reader until the next one is written.
//!
//! What takes time to work out is worked out when it is first asked for, and kept.

use crate::drawings::Drawn;
use crate::timeline::Told;
use book::{Book, Error, Fold, Said, Written};
use engine::judge::Judgement;
use engine::model::{Date, JointIx};
use engine::view::{
    ClearancesView, JointView, MachineToView, OptionView, Summary, clearances_view, joint_view,
    machine_to_view, option_views, summary,
};
use engine::works::{self, Ask, KeptPlans, Planned, Stage, Watch};
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
                let plans = before
                    .and_then(|b| b.engine.as_ref().ok())
                    .map_or_else(KeptPlans::default, |j| j.kept_plans());
                judge(&fold, today, plans).map(Arc::new)
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
            | Said::DayPlanned { .. }
            | Said::DeviceToken { .. }
            | Said::DeviceTokenWithdrawn { .. }
    )
}

fn judge(fold: &Fold, today: Option<Date>, plans: KeptPlans) -> Result<Judged, String> {
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
        let at = usize::from(stage == Stage::Build);
        self.plans[at].get_or_init(|| {
            let never = AtomicBool::new(false);
            let watch = Watch { news: &|_| {}, stop: &never };
            works::plan(&self.judgement, &Ask::of(stage), self.kept.of(stage), &watch)
                .map_err(|e| e.to_string())
        })
    }

    /// The plans as they are kept, those made since taking the place of those before.
    fn kept_plans(&self) -> KeptPlans {
        let mut plans = self.kept.clone();
        for stage in [Stage::Strip, Stage::Build] {
            if let Some(Ok(planned)) = self.plans[usize::from(stage == Stage::Build)].get() {
                plans.put(stage, planned.kept.clone());
            }
        }
        plans
    }

    /// Piston clearances.
    pub(crate) fn clearances(&self) -> &ClearancesView {
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
