//! Drawings of plans and lifts.

use crate::failure::Failure;
use crate::folder::write_whole;
use drawing::day_chart::{Bar, DayChart, Look, Panel, Row, day_chart};
use drawing::lifting::{SlingDiagram, TransferStrip, sling_diagram, transfer_strip};
use drawing::svg::Picture;
use drawing::{DrawingError, stacked};
use engine::model::Engine;
use engine::view::{ChartBarView, ChartView};
use engine::works::LiftAnswer;
use std::path::Path;

/// Draws a plan.
pub(super) fn chart(view: &ChartView, file: &Path) -> Result<(), Failure> {
    write_whole(file, chart_picture(view)?.svg.as_bytes())
}

/// A plan as a picture.
pub(super) fn chart_picture(view: &ChartView) -> Result<Picture, Failure> {
    day_chart(&of(view)).map_err(undrawn)
}

fn of(view: &ChartView) -> DayChart {
    let bar = |b: &ChartBarView| Bar {
        from: (b.panel, b.from_min),
        until: (b.to_panel, b.until_min),
        number: b.number,
        label: b.label.clone(),
        look: match b.look {
            "bench" => Look::Bench,
            "hold" => Look::Hold,
            "lift" => Look::Lift,
            "bar" => Look::Move,
            "stands" => Look::Stands,
            "wait" => Look::Wait,
            _ => Look::OnEngine,
        },
    };
    DayChart {
        title: view.title.clone(),
        panels: view
            .panels
            .iter()
            .map(|p| Panel {
                label: p.label.clone(),
                opens_min: p.opens_min,
                closes_min: p.closes_min,
                empty: p.empty.clone(),
            })
            .collect(),
        rows: view
            .rows
            .iter()
            .map(|r| Row {
                name: r.name.clone(),
                person: r.person,
                bars: r.bars.iter().map(bar).collect(),
                away: r.away.clone(),
            })
            .collect(),
        engine: view.engine.iter().map(bar).collect(),
        waits: view.waits.iter().map(bar).collect(),
        key: view.key.clone(),
    }
}

/// Draws a lift: how it hangs, and how it comes off its seat.
pub(super) fn lift(engine: &Engine, answer: &LiftAnswer, file: &Path) -> Result<(), Failure> {
    let described = &engine.works.lifts[answer.lift];
    let pictures = lift_pictures(engine, answer)?;
    if pictures.is_empty() {
        return Err(Failure::wrong(
            "this lift has neither slings nor a slide to draw",
            "jacks and draws are told in figures",
        ));
    }
    let picture = stacked(&pictures, &described.name).map_err(undrawn)?;
    write_whole(file, picture.svg.as_bytes())
}

/// The drawings of a lift; none of one that has neither slings nor a slide.
pub(super) fn lift_pictures(engine: &Engine, answer: &LiftAnswer) -> Result<Vec<Picture>, Failure> {
    let described = &engine.works.lifts[answer.lift];
    let mut pictures: Vec<Picture> = Vec::new();
    if let Some(s) = &answer.sling {
        let centre = answer.load.body.centre_m();
        // Without a box of its own the load is drawn round its eyes and balance point.
        let part_m = described.box_m.unwrap_or_else(|| {
            let all = s.legs.iter().map(|l| l.eye_m).chain([centre]);
            let mut b = [[f64::INFINITY; 3], [f64::NEG_INFINITY; 3]];
            for p in all {
                for k in 0..3 {
                    b[0][k] = b[0][k].min(p[k] - 0.05);
                    b[1][k] = b[1][k].max(p[k] + 0.05);
                }
            }
            b
        });
        let diagram = SlingDiagram {
            title: described.name.clone(),
            body: &answer.load.body,
            legs: &s.legs,
            hang: &s.hang,
            verdict: Some(&s.verdict),
            part_m,
        };
        pictures.push(sling_diagram(&diagram).map_err(undrawn)?);
    }
    if let Some(s) = &answer.slide {
        let ends_m = described.slide.as_ref().map_or(s.transfer.fit_m, |d| d.ends_m);
        let strip = TransferStrip {
            title: format!("{}: off its seat", described.name),
            transfer: &s.transfer,
            stages: &s.stages,
            ends_m,
        };
        pictures.push(transfer_strip(&strip).map_err(undrawn)?);
    }
    Ok(pictures)
}

fn undrawn(e: DrawingError) -> Failure {
    Failure::wrong(format!("it cannot be drawn: {e}"), "check the figures of the lift")
}
