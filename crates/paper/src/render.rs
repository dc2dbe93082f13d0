//! From a template and its data to a PDF.

use crate::error::PaperError;
use crate::world::SheetWorld;
use engine::model::Date;
use serde::Serialize;
use typst::diag::{SourceDiagnostic, Warned};
use typst::foundations::{Bytes, Smart};
use typst::{World, WorldExt};
use typst_pdf::PdfOptions;

/// A finished document.
#[derive(Clone, Debug)]
pub struct Rendered {
    /// The PDF.
    pub pdf: Vec<u8>,
    /// Pages in it.
    pub pages: usize,
    /// What the reader of the program, not of the paper, should know: texts that were cut,
    /// letters that were not to be had.
    pub warnings: Vec<String>,
}

/// Sets a template with its data.
pub(crate) fn render(
    template: &'static str,
    data: &impl Serialize,
    today: Option<Date>,
    warnings: Vec<String>,
) -> Result<Rendered, PaperError> {
    render_with(Asked { template, today, pictures: Vec::new(), tagged: true }, data, warnings)
}

/// A template with what it needs beside its data.
pub(crate) struct Asked {
    /// Template.
    pub(crate) template: &'static str,
    /// Day of judging.
    pub(crate) today: Option<Date>,
    /// Pictures by the names under which the data speaks of them.
    pub(crate) pictures: Vec<(String, Bytes)>,
    /// With the structure that reading aloud wants; it doubles the time and weight of a long one.
    pub(crate) tagged: bool,
}

/// Sets a template with its data and pictures.
pub(crate) fn render_with(
    asked: Asked,
    data: &impl Serialize,
    mut warnings: Vec<String>,
) -> Result<Rendered, PaperError> {
    let world = SheetWorld::new(asked.template, serde_json::to_vec(data)?, asked.today)
        .with_pictures(asked.pictures);
    let Warned { output, warnings: said } = typst::compile(&world);
    let refused = |errors: &[SourceDiagnostic]| {
        let all: Vec<String> = errors.iter().map(|e| words(&world, e)).collect();
        PaperError::Typesetting(all.join("; "))
    };
    let document = output.map_err(|e| refused(&e))?;
    let options = PdfOptions {
        creator: Smart::Custom(Some("Pinchbar".to_owned())),
        tagged: asked.tagged,
        ..PdfOptions::default()
    };
    let pdf = typst_pdf::pdf(&document, &options).map_err(|e| refused(&e))?;
    let pages = document.pages().len();
    warnings.extend(said.iter().map(|w| words(&world, w)));
    // What was kept for a next setting of the same sheet would only grow.
    typst::comemo::evict(0);
    Ok(Rendered { pdf, pages, warnings })
}

/// A message of the typesetter with its place in the template.
fn words(world: &SheetWorld, d: &SourceDiagnostic) -> String {
    let line = world.range(d.span).and_then(|range| {
        let source = world.source(world.main()).ok()?;
        source.text().get(..range.start).map(|t| t.matches('\n').count() + 1)
    });
    match line {
        Some(line) => format!("{} (near line {line})", d.message),
        None => d.message.to_string(),
    }
}
