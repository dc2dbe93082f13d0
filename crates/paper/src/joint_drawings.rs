//! Drawings and sheets of designed repairs: from the engine's design to the drawings' plain shapes.

use drawing::bearing::{BearingSection, bearing_section};
use drawing::bolt::{BoltDrawing, bolt_drawing};
use drawing::cone::{ConeSketch, cone_sketch};
use drawing::press::{PressPlot, press_plot};
use drawing::sheet::{Row, Sheet, Table};
use drawing::slide::{SlideLayer, SlidePart, SlideSection, slide_section};
use drawing::turn::{TurnPlot, TurnPoint, turn_plot};
use drawing::wedge::{Filler, FillerKind, SlotState, wedge_sketch};
use drawing::{DrawingError, Picture};
use engine::design::{ConeDetail, Design, SlideDetail, SlideSide, TurnLoad};
use engine::view::DesignView;
use mechanics::wedge::DrawLimit;
use quantity::System;

/// The drawings of a design, the one to work from first.
///
/// # Errors
/// A size that cannot be drawn. What there is nothing to draw of is left out.
pub fn design_drawings(view: &DesignView, design: &Design) -> Result<Vec<Picture>, DrawingError> {
    let title = title_of(view);
    let mut out = Vec::new();
    let detail = &design.detail;
    if let Some(b) = &detail.bolt {
        out.push(bolt_drawing(&BoltDrawing {
            bolt: &b.bolt,
            title: format!("{} ({})", title, view.joint),
            material: b.material.clone(),
            members: &b.names,
            reamed_m: b.reamed_m,
            day: view.day.clone().unwrap_or_default(),
        })?);
        if let Some(d) = &b.drive {
            let plot = PressPlot {
                title: format!("{title}: driving bolt {}", b.number),
                curve: &d.curve,
                readings: &b.readings,
                press_rating_n: None,
            };
            // A bolt that slides all the way has no curve to draw.
            keep(&mut out, press_plot(&plot))?;
        }
    }
    if let Some(w) = &detail.wedge {
        let brass = |m: f64| Filler { name: "brasses".into(), thick_m: m, kind: FillerKind::Brass };
        let state = |name: &str, fill, stand_m| SlotState {
            name: name.into(),
            slot_m: w.stack.slot_m,
            fill,
            stand_m,
            home_m: w.wedge.home_stand_m,
            slack_m: w.wedge.slack_stand_m,
            slope: w.wedge.slope,
        };
        let mut fill = vec![
            Filler {
                name: "liner known of".into(),
                thick_m: w.stack.packing_m,
                kind: FillerKind::Liner,
            },
            brass(w.stack.brasses_m),
        ];
        if w.account.unaccounted_m > w.expanded_m {
            fill.push(Filler {
                name: "not accounted for".into(),
                thick_m: w.account.unaccounted_m,
                kind: FillerKind::Hidden,
            });
        }
        fill.push(Filler {
            name: "wedge".into(),
            thick_m: w.account.wedge_m,
            kind: FillerKind::Wedge,
        });
        let mut slots = vec![state("as found", fill, w.stand_m)];
        if let Some((advice, ..)) = &w.liner {
            let wedge_m = w.stack.slot_m - w.after.brasses_m - advice.liner_m;
            slots.push(state(
                "after the repair, packing out",
                vec![
                    Filler {
                        name: "liner to make".into(),
                        thick_m: advice.liner_m,
                        kind: FillerKind::Liner,
                    },
                    brass(w.after.brasses_m),
                    Filler { name: "wedge".into(), thick_m: wedge_m, kind: FillerKind::Wedge },
                ],
                advice.stand_m,
            ));
        }
        out.push(wedge_sketch(&title, &slots)?);
    }
    if let Some(b) = &detail.bearing {
        out.push(bearing_section(&BearingSection {
            title: title.clone(),
            journal_m: b.journal_m,
            bore_m: b.bore_m,
            recess_m: b
                .lined
                .as_ref()
                .map(|(l, _)| l.recess_m)
                .or_else(|| b.pour.as_ref().map(|p| p.sheet.shell_bore_m)),
            metal_m: b.lined.as_ref().map(|(_, t)| (t.thinnest_m, t.thickest_m, t.worn_m)),
            bush_m: b.bush.map(|x| (x.eye_m, x.outside_m)),
            bronze_m: b.lined.as_ref().map(|(_, t)| t.bronze_m),
            arc_rad: b.arc_rad,
            split: b.split,
            filed_m: b.closed.as_ref().map(|(c, ..)| (c.upper_filed_m, c.lower_filed_m)),
            mandrel_m: b.pour.as_ref().map(|p| p.sheet.mandrel_m),
            clearance_m: (b.bore_m.0 - b.journal_m.1, b.bore_m.1 - b.journal_m.0),
            hot_m: b.hot_m,
        })?);
    }
    if let Some(c) = &detail.cone {
        out.push(cone_sketch(&cone_of(title.clone(), view, c))?);
    }
    if let Some(s) = &detail.slide {
        out.push(slide_section(&slide_of(title.clone(), view, s))?);
    }
    if let Some(p) = &detail.press
        && let Some(curve) = &p.curve
    {
        let title = format!("{title}: force along the stroke");
        let plot =
            PressPlot { title, curve, readings: &p.readings, press_rating_n: p.press_rating_n };
        keep(&mut out, press_plot(&plot))?;
    }
    let turn = detail.bearing.as_ref().and_then(|b| b.turn.as_ref());
    if let Some(t) = turn.or(detail.slide.as_ref().and_then(|s| s.turn.as_ref())) {
        let film = detail.bearing.as_ref().and_then(|b| b.films.first()).map(|f| f.load_n);
        keep(&mut out, turn_plot(&turn_of(&title_of(view), t, film)))?;
    }
    Ok(out)
}

/// Takes a picture, or nothing where there is nothing to draw.
fn keep(
    out: &mut Vec<Picture>,
    picture: Result<Picture, DrawingError>,
) -> Result<(), DrawingError> {
    match picture {
        Ok(p) => out.push(p),
        Err(DrawingError::Nothing { .. }) => {}
        Err(e) => return Err(e),
    }
    Ok(())
}

fn title_of(view: &DesignView) -> String {
    format!("{}, {}", view.engine, view.name)
}

fn turn_of(title: &str, t: &TurnLoad, held_still_n: Option<f64>) -> TurnPlot {
    TurnPlot {
        title: title.to_owned(),
        point: t.point.clone(),
        directions: t.directions,
        points: t
            .steps
            .iter()
            .enumerate()
            .map(|(i, s)| TurnPoint {
                wheel_rad: s.wheel_rad,
                along_n: s.along_n,
                across_n: s.across_n,
                weak: t.swing.as_ref().is_some_and(|w| {
                    w.wedge.get(i).is_some_and(|share| *share < 0.5)
                        && s.along_n.hypot(s.across_n) >= 0.1 * t.greatest_n
                }),
            })
            .collect(),
        held_still_n,
    }
}

fn slide_of(title: String, view: &DesignView, s: &SlideDetail) -> SlideSection {
    let part = |p: &SlideSide| SlidePart {
        name: p.name.clone(),
        done_m: p.done_m,
        now_m: p.now_m,
        layers: p.layers.map(|both| {
            both.map(|l| SlideLayer { cast: l.cast, thick_m: l.thick_m, before_m: l.before_m })
        }),
    };
    SlideSection {
        title,
        faces: s.faces.clone(),
        inner: part(&s.inner),
        outer: part(&s.outer),
        clearance_m: s.clearance_m,
        stands_off_m: s.stands_off_m,
        day: view.day.clone().unwrap_or_default(),
    }
}

fn cone_of(title: String, view: &DesignView, c: &ConeDetail) -> ConeSketch {
    ConeSketch {
        title,
        n: c.n,
        cone_m: c.cone_m,
        socket_m: c.socket_m,
        stands_m: c.stands_m,
        wanted_m: c.wanted_m,
        grind_m: c.grind_m,
        draw_left_m: c.seat.as_ref().map(|s| {
            let why = match s.limit {
                DrawLimit::Shoulder => "then the shoulder meets the socket",
                DrawLimit::Draw => "then there is no more draw",
            };
            (s.draw_left_m, why)
        }),
        length_m: c.length_m,
        held_by: c.held_by.words().to_owned(),
        draw_in_n: c
            .grip
            .as_ref()
            .map(|(_, f)| (f.draw_in_n.at_low, f.draw_in_n.at_likely, f.draw_in_n.at_high)),
        day: view.day.clone().unwrap_or_default(),
    }
}

/// The sheet of a design for the bench, the first system of units as asked.
pub fn design_sheet(view: &DesignView, pictures: &[Picture], first: System) -> Sheet {
    let row = |i: &engine::view::ItemView| {
        let (first, second) = match first {
            System::Imperial if !i.imperial.is_empty() => (i.imperial.clone(), i.metric.clone()),
            _ => (i.metric.clone(), i.imperial.clone()),
        };
        Row {
            label: i.label.clone(),
            first,
            second,
            note: i.note.clone(),
            sign: match i.stands {
                "good" => "✓ ",
                "look" => "? ",
                "bad" => "✖ ",
                _ => "",
            },
        }
    };
    let by = view
        .decided_by
        .as_ref()
        .map_or_else(|| "recommended, to be decided".to_owned(), |w| format!("decided, {w}"));
    let mut tables: Vec<Table> = Vec::new();
    for wanted in [true, false] {
        for s in view.sections.iter().filter(|s| s.to_make == wanted) {
            tables.push(Table {
                title: s.title.clone(),
                rows: s.items.iter().map(row).collect(),
                boxes: wanted,
            });
        }
    }
    if view.press_record {
        tables.push(Table {
            title: "press record: write in as it goes".into(),
            rows: (1..=8)
                .map(|i| Row {
                    label: format!("reading {i}: stroke"),
                    first: "force".into(),
                    ..Row::default()
                })
                .collect(),
            boxes: true,
        });
    }
    if !view.absent.is_empty() {
        tables.push(Table {
            title: "not worked out".into(),
            rows: view
                .absent
                .iter()
                .map(|a| Row {
                    label: a.what.clone(),
                    note: if a.why.is_empty() { a.wants.join("; ") } else { a.why.clone() },
                    ..Row::default()
                })
                .collect(),
            boxes: false,
        });
    }
    tables.push(Table {
        title: "rests on".into(),
        rows: view
            .given
            .iter()
            .map(|g| Row {
                label: g.name.clone(),
                first: g.text.clone(),
                note: g.from.clone(),
                ..Row::default()
            })
            .collect(),
        boxes: false,
    });
    Sheet {
        title: format!("{}: {}", view.engine, view.name),
        head: vec![
            format!(
                "joint {} ({}), {}; judged {}",
                view.joint,
                view.kind,
                view.verdict,
                view.day.as_deref().unwrap_or("without a day")
            ),
            format!("repair: {} ({by})", view.words),
        ],
        pictures: pictures.iter().map(|p| p.svg.clone()).collect(),
        tables,
        cautions: view.cautions.clone(),
        foot: vec![
            format!("Not considered: {}.", view.not_considered.join("; ")),
            view.foot.join(" "),
        ],
        signed: vec![
            "made by, day".into(),
            "gauged by, with, day".into(),
            "released by, day".into(),
        ],
    }
}
