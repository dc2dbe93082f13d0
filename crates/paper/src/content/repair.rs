//! The repair of a joint as designed: a sheet for the bench, and its part of the report.

use super::machine_to::machine_sketches;
use super::pictures::shown;
use super::report::head;
use super::shapes::*;
use crate::error::PaperError;
use crate::joint_drawings::design_drawings;
use crate::options::{SheetOptions, UnitsFirst};
use crate::text::Words;
use engine::design::{Design, design};
use engine::judge::{Judgement, Verdict};
use engine::model::{JointKind, RepairKind};
use engine::view::{DesignView, ItemView, SectionView, design_view};

/// Lines of the record of a press: enough for a reading every few millimetres.
const PRESS_READINGS: usize = 12;
/// Drawings wider than this are turned and have a page of their own, points.
const WIDEST_UPRIGHT_PT: f64 = 680.0;

/// The sheets' content.
pub(crate) fn repair_content(
    judgement: &Judgement,
    designs: &[Design],
    options: &SheetOptions,
) -> Result<RepairSheets, PaperError> {
    if designs.is_empty() {
        return Err(PaperError::Nothing("no repair is designed".to_owned()));
    }
    let mut sheets = Vec::with_capacity(designs.len());
    for d in designs {
        sheets.push(sheet(judgement, d, options)?);
    }
    Ok(RepairSheets { paper: options.paper.name(), head: head(judgement), sheets })
}

fn sheet(
    judgement: &Judgement,
    design: &Design,
    options: &SheetOptions,
) -> Result<RepairContent, PaperError> {
    let view = design_view(judgement, design);
    let drawn = design_drawings(&view, design)
        .map_err(|why| PaperError::Drawing { which: view.joint.clone(), why })?;
    let (mut upright, mut turned) = (Vec::new(), Vec::new());
    for picture in drawn {
        let shown = shown(&view.joint, Ok(picture))?;
        if shown.width_pt > WIDEST_UPRIGHT_PT { &mut turned } else { &mut upright }.push(shown);
    }
    let kind = judgement.engine().joint(design.joint).kind;
    let (make, other): (Vec<_>, Vec<_>) = view.sections.iter().partition(|s| s.to_make);
    Ok(RepairContent {
        title: title(design, kind),
        joint: Words::from(&view.joint),
        name: Words::from(&view.name),
        kind: view.kind,
        verdict: view.verdict,
        words: Words::from(&view.words),
        decided: Words::from(decided(&view)),
        cautions: view.cautions.iter().map(Words::from).collect(),
        sketches: machine_sketches(judgement, &view.joint)?,
        upright,
        turned,
        make: make.into_iter().map(|s| section(s, options.units)).collect(),
        other: other.into_iter().map(|s| section(s, options.units)).collect(),
        press_readings: if matches!(kind, JointKind::Pressed | JointKind::Shrunk) {
            PRESS_READINGS
        } else {
            0
        },
        absent: view
            .absent
            .iter()
            .map(|a| AbsentRow {
                what: Words::from(&a.what),
                why: Words::from(if a.why.is_empty() { a.wants.join("; ") } else { a.why.clone() }),
            })
            .collect(),
        given: view
            .given
            .iter()
            .map(|g| RestsRow {
                name: Words::from(&g.name),
                what: Words::from(&g.what),
                text: Words::from(&g.text),
                from: Words::from(&g.from),
            })
            .collect(),
        not_considered: view.not_considered.iter().map(|n| Words::new(n)).collect(),
    })
}

fn title(design: &Design, kind: JointKind) -> &'static str {
    match (design.repair, kind) {
        (RepairKind::ReMetal, _) => "Re-metalling sheet",
        (_, JointKind::Pressed) => "Press sheet",
        (_, JointKind::Shrunk) => "Shrinking sheet",
        _ if design.detail.bolt.is_some() => "Bolt drawing",
        (_, JointKind::Wedged) => "Wedge and liner sheet",
        _ => "Repair sheet",
    }
}

fn decided(view: &DesignView) -> String {
    match &view.decided_by {
        Some(by) => format!("decided by {by}"),
        None => "recommended, to be decided by the responsible engineer".to_owned(),
    }
}

fn section(s: &SectionView, units: UnitsFirst) -> RepairSection {
    RepairSection {
        title: Words::from(&s.title),
        rows: s.items.iter().map(|i| item(i, units)).collect(),
    }
}

fn item(i: &ItemView, units: UnitsFirst) -> RepairRow {
    let (first, second) = match units {
        UnitsFirst::Imperial if !i.imperial.is_empty() => (&i.imperial, &i.metric),
        _ => (&i.metric, &i.imperial),
    };
    RepairRow {
        label: Words::from(&i.label),
        first: Words::from(super::figures::minus(first)),
        second: Words::from(super::figures::minus(second)),
        note: Words::from(super::figures::minus(&i.note)),
        figure: !i.si.is_empty(),
        stands: match i.stands {
            "look" => "look into it",
            "bad" => "not as it may be",
            _ => "",
        },
    }
}

/// Repairs of the joints beyond their limits, the worst first, as far as the bench needs them.
pub(super) fn repairs(judgement: &Judgement) -> Vec<RepairPart> {
    judgement
        .worst_first()
        .into_iter()
        .filter(|j| judgement.joint(*j).verdict == Verdict::Beyond)
        // Only lines laid over a duty can be wrong, and there are none.
        .filter_map(|j| design(judgement, j, &[]).ok())
        .map(|d| {
            let view = design_view(judgement, &d);
            RepairPart {
                joint: Words::from(&view.joint),
                name: Words::from(&view.name),
                repair: view.repair,
                words: Words::from(&view.words),
                decided: Words::from(decided(&view)),
                make: view
                    .sections
                    .iter()
                    .filter(|s| s.to_make)
                    .map(|s| section(s, UnitsFirst::Metric))
                    .collect(),
                bad: view
                    .sections
                    .iter()
                    .flat_map(|s| &s.items)
                    .filter(|i| i.stands == "bad")
                    .map(|i| item(i, UnitsFirst::Metric))
                    .collect(),
                absent: view.absent.iter().map(|a| Words::from(&a.what)).collect(),
                cautions: view.cautions.iter().map(Words::from).collect(),
            }
        })
        .collect()
}
