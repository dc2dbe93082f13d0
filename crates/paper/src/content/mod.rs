//! What stands on a sheet, as data for the template and for the HTML page.
//!
//! These shapes belong to this crate. Every text a person wrote is [`Words`](crate::text::Words),
//! every length is printed in both systems.

mod figures;
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

pub(crate) use machine_to::machine_to_content;
pub use pictures::{JointPictures, joint_pictures};
pub(crate) use report::report_content;
pub(crate) use shapes::*;

use crate::error::PaperError;
use crate::options::ReportOptions;
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
