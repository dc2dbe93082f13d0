//! Job cards, plans and lift sheets: words and drawings from whoever plans the work, laid out.
//!
//! The shapes here are plain, so that anyone can fill them; nothing is worked out from them.

use super::shapes::*;
use crate::error::PaperError;
use crate::options::SheetOptions;
use crate::qr::qr_svg;
use crate::text::{Narrow, Words};
use drawing::Picture;
use serde::Deserialize;

/// A job card: one work, for the people who do it.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct JobCard {
    /// Engine.
    pub engine: String,
    /// Work, by its id.
    pub work: String,
    /// What is done, in a few words.
    pub title: String,
    /// Day or shift it is planned for.
    pub when: String,
    /// How long it should take.
    pub takes: String,
    /// What can hurt, and who decides. Stand first.
    pub cautions: Vec<String>,
    /// People and what each must be.
    pub people: Vec<String>,
    /// Kit, jigs, consumables.
    pub kit: Vec<String>,
    /// Where the engine must stand, in words.
    pub position: String,
    /// The motion at that position.
    #[serde(skip)]
    pub position_drawing: Option<Picture>,
    /// What must be off, or done, first.
    pub first: Vec<String>,
    /// Parts that come off or go on, with their tags.
    pub parts: Vec<CardPart>,
    /// Steps in their order.
    pub steps: Vec<CardStep>,
    /// Lifts.
    pub lifts: Vec<CardLift>,
    /// The sling, drawn.
    #[serde(skip)]
    pub lift_drawing: Option<Picture>,
    /// What to look out for, write down, keep together.
    pub notes: Vec<String>,
}

/// A part on a job card.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct CardPart {
    /// Part.
    pub part: String,
    /// Its name.
    pub name: String,
    /// Code of its tag.
    pub tag: String,
    /// Where it goes.
    pub to: String,
}

/// A step.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct CardStep {
    /// What is done.
    pub text: String,
    /// What can hurt in this step.
    pub caution: String,
    /// A figure to write down: what it is of; empty when there is none.
    pub figure: String,
    /// Hold point: nobody goes on before it is released. Its name; empty when there is none.
    pub hold_point: String,
}

/// A lift.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct CardLift {
    /// What is lifted.
    pub what: String,
    /// Its mass, and how it is known.
    pub mass: String,
    /// With what.
    pub with: String,
    /// Greatest load in a leg.
    pub leg: String,
    /// What that leg may carry.
    pub limit: String,
    /// Share of that limit.
    pub share: String,
}

/// A strip or build plan.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct PlanSheet {
    /// Engine.
    pub engine: String,
    /// What is planned.
    pub title: String,
    /// From when.
    pub from: String,
    /// How long, and how far from the least possible.
    pub takes: String,
    /// Who planned it.
    pub by: String,
    /// Remarks.
    pub notes: Vec<String>,
    /// What can hurt.
    pub cautions: Vec<String>,
    /// Days.
    pub days: Vec<PlanDay>,
    /// What the plan did not consider.
    pub not_considered: Vec<String>,
}

/// A day of a plan.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct PlanDay {
    /// Day.
    pub title: String,
    /// Where the engine stands, who is there, what hangs: a sentence.
    pub position: String,
    /// The day as a chart.
    #[serde(skip)]
    pub chart: Option<Picture>,
    /// Works.
    pub works: Vec<PlanWork>,
}

/// A work on a plan.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct PlanWork {
    /// From.
    pub from: String,
    /// To.
    pub to: String,
    /// Work.
    pub work: String,
    /// Who.
    pub people: String,
    /// With what, where.
    pub kit: String,
    /// Remark: hold point, caution, what it waits for.
    pub note: String,
}

/// A lift planned.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct LiftSheet {
    /// Engine.
    pub engine: String,
    /// What is lifted.
    pub title: String,
    /// Its mass, and how it is known.
    pub mass: String,
    /// With what.
    pub with: String,
    /// What can hurt, and who decides.
    pub cautions: Vec<String>,
    /// Loads: sling legs, crane, jacks, stands.
    pub tables: Vec<FigureTable>,
    /// Sling and load, drawn.
    #[serde(skip)]
    pub drawings: Vec<Picture>,
    /// What follows from the figures.
    pub notes: Vec<String>,
    /// Steps in their order.
    pub steps: Vec<CardStep>,
    /// What was not considered.
    pub not_considered: Vec<String>,
}

/// Figures with their headings.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct FigureTable {
    /// Title.
    pub title: String,
    /// Names of the columns.
    pub heading: Vec<String>,
    /// Rows; a short one is filled with blanks, a long one is cut to the heading.
    pub rows: Vec<Vec<String>>,
}

/// Characters of a title in the foot of a sheet.
const LONGEST_FOOT: usize = 50;

fn words(texts: &[String]) -> Vec<Words> {
    texts.iter().filter(|t| !t.trim().is_empty()).map(Words::from).collect()
}

fn picture(p: &Picture) -> Shown {
    Shown {
        svg: p.svg.clone(),
        width_pt: p.width_pt,
        height_pt: p.height_pt,
        alt: p.description.clone(),
    }
}

fn steps(steps: &[CardStep]) -> Vec<StepRow> {
    steps
        .iter()
        .map(|s| StepRow {
            text: Words::from(&s.text),
            caution: Words::from(&s.caution),
            figure: Words::from(&s.figure),
            hold_point: Words::from(&s.hold_point),
        })
        .collect()
}

fn head(engine: &str, foot: &str) -> PlainHead {
    // The foot has one line.
    let mut short: String = foot.chars().take(LONGEST_FOOT).collect();
    if short.len() < foot.len() {
        short.push('…');
    }
    PlainHead { engine: Words::from(engine), foot: Words::from(short) }
}

pub(crate) fn job_card_content(
    cards: &[JobCard],
    options: &SheetOptions,
) -> Result<JobCards, PaperError> {
    let Some(first) = cards.first() else {
        return Err(PaperError::Nothing("there is no job card".to_owned()));
    };
    Ok(JobCards {
        paper: options.paper.name(),
        head: head(&first.engine, if cards.len() == 1 { &first.title } else { "job cards" }),
        cards: cards.iter().map(|c| card(c, options)).collect(),
    })
}

fn card(c: &JobCard, options: &SheetOptions) -> CardContent {
    CardContent {
        work: Words::from(&c.work),
        engine: Words::from(&c.engine),
        title: Words::from(if c.title.is_empty() { &c.work } else { &c.title }),
        when: Words::from(&c.when),
        takes: Words::from(&c.takes),
        qr: qr_svg(&options.code(|l| &l.work, &c.work)).unwrap_or_default(),
        cautions: words(&c.cautions),
        people: words(&c.people),
        kit: words(&c.kit),
        position: Words::from(&c.position),
        position_drawing: c.position_drawing.as_ref().map(picture),
        first: words(&c.first),
        parts: c
            .parts
            .iter()
            .map(|p| PartRow {
                part: Words::from(&p.part),
                name: Words::from(&p.name),
                tag: Narrow::from(&p.tag),
                to: Words::from(&p.to),
            })
            .collect(),
        steps: steps(&c.steps),
        lifts: c
            .lifts
            .iter()
            .map(|l| LiftRow {
                what: Narrow::from(&l.what),
                mass: Narrow::from(&l.mass),
                with: Narrow::from(&l.with),
                leg: Narrow::from(&l.leg),
                limit: Narrow::from(&l.limit),
                share: Narrow::from(&l.share),
            })
            .collect(),
        lift_drawing: c.lift_drawing.as_ref().map(picture),
        notes: words(&c.notes),
    }
}

pub(crate) fn plan_content(plan: &PlanSheet, options: &SheetOptions) -> PlanContent {
    PlanContent {
        paper: options.paper.name(),
        head: head(&plan.engine, &plan.title),
        title: Words::from(&plan.title),
        from: Words::from(&plan.from),
        takes: Words::from(&plan.takes),
        by: Words::from(&plan.by),
        notes: words(&plan.notes),
        cautions: words(&plan.cautions),
        days: plan
            .days
            .iter()
            .map(|d| DayContent {
                title: Words::from(&d.title),
                position: Words::from(&d.position),
                chart: d.chart.as_ref().map(picture),
                works: d
                    .works
                    .iter()
                    .map(|w| PlanRow {
                        from: Narrow::from(&w.from),
                        to: Narrow::from(&w.to),
                        work: Words::from(&w.work),
                        people: Narrow::from(&w.people),
                        kit: Narrow::from(&w.kit),
                        note: Words::from(&w.note),
                    })
                    .collect(),
            })
            .collect(),
        not_considered: words(&plan.not_considered),
    }
}

pub(crate) fn lift_content(lift: &LiftSheet, options: &SheetOptions) -> LiftContent {
    LiftContent {
        paper: options.paper.name(),
        head: head(&lift.engine, &lift.title),
        title: Words::from(&lift.title),
        mass: Words::from(&lift.mass),
        with: Words::from(&lift.with),
        cautions: words(&lift.cautions),
        tables: lift.tables.iter().filter(|t| !t.heading.is_empty()).map(table).collect(),
        drawings: lift.drawings.iter().map(picture).collect(),
        notes: words(&lift.notes),
        steps: steps(&lift.steps),
        not_considered: words(&lift.not_considered),
    }
}

fn table(t: &FigureTable) -> TableContent {
    let wide = t.heading.len();
    TableContent {
        title: Words::from(&t.title),
        heading: t.heading.iter().map(Narrow::from).collect(),
        rows: t
            .rows
            .iter()
            .map(|r| (0..wide).map(|i| Narrow::new(r.get(i).map_or("", |c| c.as_str()))).collect())
            .collect(),
    }
}
