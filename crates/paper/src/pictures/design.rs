//! Drawings of a designed repair.

use drawing::bearing::{BearingSection, bearing_section};
use drawing::bolt::{BoltDrawing, bolt_drawing};
use drawing::press::{PressPlot, press_plot};
use drawing::wedge::{Filler, FillerKind, SlotState, wedge_sketch};
use drawing::{DrawingError, Picture};
use engine::design::Design;
use engine::view::DesignView;

/// The drawings of a design, the one to work from first.
///
/// # Errors
/// A figure that cannot be drawn: which, and why.
pub fn design_pictures(view: &DesignView, design: &Design) -> Result<Vec<Picture>, DrawingError> {
    let title = format!("{}, {}", view.engine, view.name);
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
                readings: &[],
                press_rating_n: None,
            };
            // A bolt that slides all the way has no curve to draw.
            match press_plot(&plot) {
                Ok(p) => out.push(p),
                Err(DrawingError::Nothing { .. }) => {}
                Err(e) => return Err(e),
            }
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
            bronze_m: b.lined.as_ref().map(|(_, t)| t.bronze_m),
            arc_rad: b.arc_rad,
            split: b.split,
            filed_m: b.closed.as_ref().map(|(c, ..)| (c.upper_filed_m, c.lower_filed_m)),
            mandrel_m: b.pour.as_ref().map(|p| p.sheet.mandrel_m),
            clearance_m: (b.bore_m.0 - b.journal_m.1, b.bore_m.1 - b.journal_m.0),
            hot_m: b.hot_m,
        })?);
    }
    if let Some(p) = &detail.press
        && let Some(curve) = &p.curve
    {
        let plot =
            PressPlot { title, curve, readings: &p.readings, press_rating_n: p.press_rating_n };
        match press_plot(&plot) {
            Ok(p) => out.push(p),
            Err(DrawingError::Nothing { .. }) => {}
            Err(e) => return Err(e),
        }
    }
    Ok(out)
}
