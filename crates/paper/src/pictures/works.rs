//! Drawings of plans and lifts.

use drawing::day_chart::{Bar, DayChart, Look, Panel, Row, day_chart};
use drawing::lifting::{SlingDiagram, TransferStrip, sling_diagram, transfer_strip};
use drawing::{DrawingError, Picture};
use engine::model::Engine;
use engine::view::{ChartBarView, ChartRowView, ChartView};
use engine::works::LiftAnswer;

/// A plan as a chart, day by day.
///
/// # Errors
/// It has a figure that cannot be drawn: which, and why.
pub fn plan_picture(view: &ChartView) -> Result<Picture, DrawingError> {
    day_chart(&of(view))
}

/// A plan as one chart a day, each with the words over it, in their order.
///
/// # Errors
/// It has a figure that cannot be drawn: which, and why.
pub fn day_pictures(view: &ChartView) -> Result<Vec<(String, Picture)>, DrawingError> {
    (0..view.panels.len())
        .map(|n| Ok((view.panels[n].label.clone(), day_chart(&of(&one_day(view, n)))?)))
        .collect()
}

/// What of a chart is of one of its days; what goes on before or after is cut at its ends.
fn one_day(view: &ChartView, n: usize) -> ChartView {
    let day = &view.panels[n];
    let bars = |all: &[ChartBarView]| -> Vec<ChartBarView> {
        all.iter()
            .filter(|b| b.panel <= n && n <= b.to_panel)
            .map(|b| ChartBarView {
                panel: 0,
                from_min: if b.panel < n { day.opens_min } else { b.from_min },
                to_panel: 0,
                until_min: if n < b.to_panel { day.closes_min } else { b.until_min },
                ..b.clone()
            })
            .collect()
    };
    let rows: Vec<ChartRowView> = view
        .rows
        .iter()
        .map(|r| ChartRowView {
            name: r.name.clone(),
            person: r.person,
            bars: bars(&r.bars),
            away: r.away.iter().filter(|a| a.0 == n).map(|a| (0, a.1, a.2)).collect(),
        })
        .filter(|r| !r.bars.is_empty())
        .collect();
    let there = |number: usize| rows.iter().flat_map(|r| &r.bars).any(|b| b.number == Some(number));
    ChartView {
        title: String::new(),
        panels: vec![day.clone()],
        engine: bars(&view.engine),
        waits: bars(&view.waits),
        key: view.key.iter().filter(|(number, _)| there(*number)).cloned().collect(),
        rows,
    }
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

/// A lift: how it hangs, and how it comes off its seat. None where it has neither slings nor a slide.
///
/// # Errors
/// It has a figure that cannot be drawn: which, and why.
pub fn lift_pictures(engine: &Engine, answer: &LiftAnswer) -> Result<Vec<Picture>, DrawingError> {
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
        pictures.push(sling_diagram(&diagram)?);
    }
    if let Some(s) = &answer.slide {
        let ends_m = described.slide.as_ref().map_or(s.transfer.fit_m, |d| d.ends_m);
        let strip = TransferStrip {
            title: format!("{}: off its seat", described.name),
            transfer: &s.transfer,
            stages: &s.stages,
            ends_m,
        };
        pictures.push(transfer_strip(&strip)?);
    }
    Ok(pictures)
}
