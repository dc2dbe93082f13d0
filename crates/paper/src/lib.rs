//! Printed sheets and reports: a judged engine as PDF and as a plain HTML page.
//!
//! Nothing is judged or worked out here: what the engine says is laid out, with the drawings of
//! [`drawing`]. Words that came from a person reach the page as data and never as markup, so a
//! name that looks like a command is printed as it was written. No clock, no files, no network:
//! the date is the engine's day of judging, the letters are built in, and the same judgement gives
//! the same bytes.
//!
//! ```no_run
//! use paper::{ReportOptions, condition_report};
//! # fn judged() -> engine::judge::Judgement { unimplemented!() }
//! let rendered = condition_report(&judged(), &ReportOptions::default())?;
//! std::fs::write("report.pdf", &rendered.pdf)?;
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod content;
mod error;
mod html;
mod options;
mod render;
#[cfg(test)]
mod tests;
mod text;
mod world;

pub use content::{condition_report, machine_to_sheet};
pub use error::PaperError;
pub use html::condition_report_html;
pub use options::{PaperSize, ReportOptions};
pub use render::Rendered;
