//! Printed sheets and reports: a judged engine as PDF and as a plain HTML page.
//!
//! Nothing is judged or worked out here: what the engine says is laid out, with the drawings of
//! [`drawing`]. Words that came from a person reach the page as data and never as markup, so a
//! name that looks like a command is printed as it was written. No clock, no files, no network:
//! the date is the engine's day of judging, the letters are built in, and the same judgement gives
//! the same bytes.
//!
//! ```
//! use engine::{description::SourceText, judge::Judgement};
//! use paper::{ReportOptions, condition_report};
//!
//! let text = SourceText { file: "engine.toml".into(), text: "[engine]\nname = \"No. 1\"".into() };
//! let (engine, _problems) = engine::load(vec![text], None).finish();
//! let report = condition_report(&Judgement::of(engine), &ReportOptions::default())?;
//! assert!(report.pdf.starts_with(b"%PDF-") && report.pages >= 1);
//! # Ok::<(), paper::PaperError>(())
//! ```

mod content;
mod error;
mod html;
mod joint_drawings;
mod options;
mod pictures;
mod qr;
mod render;
#[cfg(test)]
mod tests;
mod text;
mod world;

pub use content::{
    CardLift, CardPart, CardStep, Dossier, DossierDecision, DossierEntry, DossierHoldPoint,
    DossierPerson, DossierPhotograph, DossierReading, DossierReadings, DossierSitting, EntryRef,
    FigureTable, GaugeSheetOf, JobCard, LiftSheet, PlanDay, PlanSheet, PlanWork, Record, TagSize,
    TagWords, card_of, condition_report, day_of, dossier, gauge_sheet, job_cards, lift_of,
    lift_sheet, machine_to_sheet, plan_of, plan_sheet, position_picture, repair_sheets, tag_sheets,
};
pub use error::PaperError;
pub use html::condition_report_html;
pub use joint_drawings::{design_drawings, design_sheet};

pub use options::{Links, PaperSize, ReportOptions, SheetOptions, UnitsFirst};
pub use pictures::{
    JointPictures, clearance_pictures, day_pictures, joint_pictures, lift_pictures, load_pictures,
    motion_pictures, plan_picture,
};
pub use render::Rendered;
