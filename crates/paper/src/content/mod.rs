//! What stands on a sheet, as data for the template and for the HTML page.
//!
//! These shapes belong to this crate. Every text a person wrote is [`Words`](crate::text::Words),
//! every length is printed in both systems.

mod cards;
mod dossier;
mod figures;
mod gauge_sheet;
mod joint;
mod machine_to;
mod not_considered;
mod options;
mod pictures;
mod readings;
mod repair;
mod report;
mod shapes;
mod summary;
mod surfaces;
mod tags;
mod works;

pub use cards::{
    CardLift, CardPart, CardStep, FigureTable, JobCard, LiftSheet, PlanDay, PlanSheet, PlanWork,
};
pub use dossier::{
    Dossier, DossierDecision, DossierEntry, DossierHoldPoint, DossierPerson, DossierPhotograph,
    DossierReading, DossierReadings, DossierSitting, EntryRef, Record,
};
pub use gauge_sheet::GaugeSheetOf;
pub use tags::{TagSize, TagWords};
pub use works::{card_of, day_of, lift_of, plan_of, position_picture};

pub(crate) use cards::{job_card_content, lift_content, plan_content};
pub(crate) use dossier::dossier_content;
pub(crate) use gauge_sheet::gauge_content;
pub(crate) use machine_to::machine_to_content;
pub use pictures::{JointPictures, joint_pictures};
pub(crate) use repair::repair_content;
pub(crate) use report::report_content;
pub(crate) use shapes::*;
pub(crate) use tags::tags_content;

use crate::error::PaperError;
use crate::options::{ReportOptions, SheetOptions};
use crate::render::{Asked, Rendered, render, render_with};
use engine::design::Design;
use engine::judge::Judgement;

/// The condition report of a judged engine.
///
/// # Errors
/// A drawing or the typesetting failed; the text says which and why. Nothing a person can write
/// in an engine file should bring that about.
pub fn condition_report(
    judgement: &Judgement,
    options: &ReportOptions,
) -> Result<Rendered, PaperError> {
    let mut warnings = Vec::new();
    let content = report_content(judgement, options, &mut warnings);
    render(include_str!("../typst/report.typ"), &content, judgement.engine().today, warnings)
}

/// The machine-to list with a dimensioned sketch of every surface and boxes to sign.
///
/// # Errors
/// As [`condition_report`].
pub fn machine_to_sheet(
    judgement: &Judgement,
    options: &ReportOptions,
) -> Result<Rendered, PaperError> {
    let mut warnings = Vec::new();
    let content = machine_to_content(judgement, options, &mut warnings)?;
    render(include_str!("../typst/machine_to.typ"), &content, judgement.engine().today, warnings)
}

/// A blank gauge sheet of a part or a joint: for every surface a sketch of where the gauge goes and
/// boxes in the order a person goes round, the last figures small beside them.
///
/// # Errors
/// [`PaperError::Nothing`] when no surface of it is described; else as [`condition_report`].
pub fn gauge_sheet(
    judgement: &Judgement,
    of: GaugeSheetOf<'_>,
    options: &SheetOptions,
) -> Result<Rendered, PaperError> {
    let mut warnings = Vec::new();
    let content = gauge_content(judgement, of, options, &mut warnings)?;
    render(include_str!("../typst/gauge.typ"), &content, judgement.engine().today, warnings)
}

/// Tags, as many on a sheet as fit, with cutting marks.
///
/// # Errors
/// [`PaperError::Nothing`] when there are no tags; else as [`condition_report`].
pub fn tag_sheets(
    tags: &[TagWords],
    size: TagSize,
    options: &SheetOptions,
) -> Result<Rendered, PaperError> {
    let mut warnings = Vec::new();
    let content = tags_content(tags, size, options, &mut warnings)?;
    render(include_str!("../typst/tags.typ"), &content, None, warnings)
}

/// Job cards, one after another, each on a page of its own.
///
/// # Errors
/// [`PaperError::Nothing`] when there is none; else as [`condition_report`].
pub fn job_cards(cards: &[JobCard], options: &SheetOptions) -> Result<Rendered, PaperError> {
    let content = job_card_content(cards, options)?;
    render(include_str!("../typst/card.typ"), &content, None, Vec::new())
}

/// A strip or build plan, day by day.
///
/// # Errors
/// As [`condition_report`].
pub fn plan_sheet(plan: &PlanSheet, options: &SheetOptions) -> Result<Rendered, PaperError> {
    render(include_str!("../typst/plan.typ"), &plan_content(plan, options), None, Vec::new())
}

/// A lift: cautions, loads against what may be carried, the sling drawn, places to sign.
///
/// # Errors
/// As [`condition_report`].
pub fn lift_sheet(lift: &LiftSheet, options: &SheetOptions) -> Result<Rendered, PaperError> {
    render(include_str!("../typst/lift.typ"), &lift_content(lift, options), None, Vec::new())
}

/// Designed repairs for the bench: sizes with dimensioned sketches, bolt drawings, the press with
/// its record, re-metalling, each beginning on a page of its own.
///
/// # Errors
/// [`PaperError::Nothing`] when there is no design; else as [`condition_report`].
pub fn repair_sheets(
    judgement: &Judgement,
    designs: &[Design],
    options: &SheetOptions,
) -> Result<Rendered, PaperError> {
    let content = repair_content(judgement, designs, options)?;
    render(include_str!("../typst/repair.typ"), &content, judgement.engine().today, Vec::new())
}

/// The dossier of an overhaul: the record as it was written, and what was judged from it where the
/// engine is described.
///
/// # Errors
/// [`PaperError::Nothing`] when the record has no entries; else as [`condition_report`].
pub fn dossier(
    judgement: Option<&Judgement>,
    dossier: &Dossier,
    options: &SheetOptions,
) -> Result<Rendered, PaperError> {
    let mut warnings = Vec::new();
    let (content, pictures) = dossier_content(judgement, dossier, options, &mut warnings)?;
    let today = judgement.and_then(|j| j.engine().today);
    let template = include_str!("../typst/dossier.typ");
    let asked = Asked { template, today, pictures, tagged: false };
    render_with(asked, &content, warnings)
}
