//! What stands on a sheet, as data for the template and for the HTML page.
//!
//! These shapes belong to this crate. Every text a person wrote is [`Words`](crate::text::Words),
//! every length is printed in both systems.

mod figures;
mod gauge_sheet;
mod joint;
mod machine_to;
mod not_considered;
mod options;
mod pictures;
mod readings;
mod report;
mod shapes;
mod summary;
mod surfaces;
mod tags;

pub use gauge_sheet::GaugeSheetOf;
pub use tags::{TagSize, TagWords};

pub(crate) use gauge_sheet::gauge_content;
pub(crate) use machine_to::machine_to_content;
pub(crate) use report::report_content;
pub(crate) use shapes::*;
pub(crate) use tags::tags_content;

use crate::error::PaperError;
use crate::options::{ReportOptions, SheetOptions};
use crate::render::{Rendered, render};
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
