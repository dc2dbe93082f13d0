//! Drawings of plans and lifts.

use crate::failure::Failure;
use crate::folder::write_whole;
use drawing::{DrawingError, stacked};
use engine::model::Engine;
use engine::view::ChartView;
use engine::works::LiftAnswer;
use std::path::Path;

/// Draws a plan.
pub(super) fn chart(view: &ChartView, file: &Path) -> Result<(), Failure> {
    let picture = paper::plan_picture(view).map_err(undrawn)?;
    write_whole(file, picture.svg.as_bytes())
}

/// Draws a lift: how it hangs, and how it comes off its seat.
pub(super) fn lift(engine: &Engine, answer: &LiftAnswer, file: &Path) -> Result<(), Failure> {
    let described = &engine.works.lifts[answer.lift];
    let pictures = paper::lift_pictures(engine, answer).map_err(undrawn)?;
    if pictures.is_empty() {
        return Err(Failure::wrong(
            "this lift has neither slings nor a slide to draw",
            "jacks and draws are told in figures",
        ));
    }
    let picture = stacked(&pictures, &described.name).map_err(undrawn)?;
    write_whole(file, picture.svg.as_bytes())
}

pub(super) fn undrawn(e: DrawingError) -> Failure {
    Failure::wrong(format!("it cannot be drawn: {e}"), "check the figures of the lift")
}
