//! The machine-to list, as a table and as a sheet of its own.

use super::figures::pair;
use super::options::suit_words;
use super::pictures::shown;
use super::report::{head, page_words};
use super::shapes::*;
use crate::error::PaperError;
use crate::options::ReportOptions;
use crate::text::Words;
use drawing::{MachineSketch, SketchShape, machine_sketch};
use engine::judge::Judgement;
use engine::model::FeatureKind;
use engine::repair::machine_to;
use engine::view::{MachineToLineView, MachineToView, machine_to_view};

/// The list.
pub(super) fn list(judgement: &Judgement) -> MachineToList {
    rows(&machine_to_view(judgement, &machine_to(judgement)))
}

fn rows(view: &MachineToView) -> MachineToList {
    MachineToList {
        lines: view.lines.iter().map(row).collect(),
        liners: view
            .liners
            .iter()
            .map(|l| LinerRow { joint: Words::from(&l.joint), thickness: pair(&l.thickness) })
            .collect(),
        open: view
            .open
            .iter()
            .map(|o| OpenRow { joint: Words::from(&o.joint), why: Words::from(&o.why) })
            .collect(),
        families: view
            .families
            .iter()
            .map(|f| FamilyRow {
                family: Words::from(&f.family),
                members: f.members.iter().map(Words::from).collect(),
                common: pair(&f.common),
            })
            .collect(),
    }
}

fn row(l: &MachineToLineView) -> MachineToRow {
    MachineToRow {
        joint: Words::from(&l.joint),
        part: Words::from(&l.part),
        feature: Words::from(&l.feature),
        name: Words::from(&l.name),
        now: l.now.as_ref().map(pair),
        to: pair(&l.to),
        tolerance: pair(&l.tolerance),
        repair: l.repair,
        way: l.way,
        suit: suit_words(l.to_suit.as_deref(), l.more.as_ref()),
        decided: Words::from(match &l.decided_by {
            Some(by) => format!("decided by {by}"),
            None => "recommended".to_owned(),
        }),
        conflict: l.conflict,
    }
}

/// The sheet.
pub(crate) fn machine_to_content(
    judgement: &Judgement,
    options: &ReportOptions,
    warnings: &mut Vec<String>,
) -> Result<MachineToSheet, PaperError> {
    let view = machine_to_view(judgement, &machine_to(judgement));
    let mut cards = Vec::with_capacity(view.lines.len());
    for line in &view.lines {
        cards.push(Card { row: row(line), sketch: sketch(judgement, line)? });
    }
    page_words(judgement, warnings);
    Ok(MachineToSheet {
        paper: options.paper.name(),
        head: head(judgement),
        cards,
        list: rows(&view),
        cautions: view.cautions.iter().map(Words::from).collect(),
    })
}

/// The sketches of the surfaces that a joint has on the list.
pub(super) fn machine_sketches(
    judgement: &Judgement,
    joint: &str,
) -> Result<Vec<Shown>, PaperError> {
    let view = machine_to_view(judgement, &machine_to(judgement));
    view.lines.iter().filter(|l| l.joint == joint).map(|l| sketch(judgement, l)).collect()
}

fn sketch(judgement: &Judgement, line: &MachineToLineView) -> Result<Shown, PaperError> {
    let engine = judgement.engine();
    let feature = engine.feature_by_id(&line.feature).map(|ix| engine.feature(ix));
    let gauged = feature.and_then(|f| {
        let (first, last) = (f.station_at_m.first()?, f.station_at_m.last()?);
        let length_m = (last - first).abs();
        (length_m > 0.0 && length_m.is_finite())
            .then(|| format!("gauged over {:.0} mm", length_m * 1e3))
    });
    let mut notes = Vec::new();
    match line.way {
        "" => {}
        "new" => notes.push("Made new.".to_owned()),
        "lining" => notes.push("Lined, then machined to this size.".to_owned()),
        way => notes.push(format!("By {way}.")),
    }
    let suit = suit_words(line.to_suit.as_deref(), line.more.as_ref());
    if !suit.is_empty() {
        notes.push(format!("Made {}: gauge the mate first.", suit.text()));
    }
    if line.conflict {
        notes.push(
            "Another line wants another size of this surface: ask before cutting.".to_owned(),
        );
    }
    let plus_minus = |to: &str, tolerance: &str| match to.rsplit_once(' ') {
        Some((figure, unit)) => format!("{figure} ± {tolerance} {unit}"),
        None => to.to_owned(),
    };
    let tolerance_m = line.tolerance.si;
    let picture = machine_sketch(&MachineSketch {
        title: Words::from(&line.feature).text().to_owned(),
        shape: shape(feature.map(|f| f.kind)),
        metric: plus_minus(&line.to.metric, &format!("{:.3}", tolerance_m * 1e3)),
        imperial: plus_minus(&line.to.imperial, &format!("{:.4}", tolerance_m / 25.4e-3)),
        length: gauged,
        notes,
    });
    shown(&line.feature, picture)
}

pub(super) fn shape(kind: Option<FeatureKind>) -> SketchShape {
    use FeatureKind as K;
    match kind {
        Some(K::Journal) => SketchShape::Journal,
        Some(K::Pin | K::Piston) => SketchShape::Pin,
        Some(K::Bore | K::Cylinder) => SketchShape::Bore,
        Some(K::Hole) => SketchShape::Hole,
        Some(K::Cone) => SketchShape::Cone,
        Some(K::Socket) => SketchShape::Socket,
        Some(K::Thickness) => SketchShape::Thickness,
        Some(K::Gap) => SketchShape::Gap,
        Some(K::Centres) => SketchShape::Centres,
        Some(K::Length | K::Stand) | None => SketchShape::Length,
    }
}
