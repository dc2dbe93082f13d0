//! The surfaces of a joint side by side.

use super::figures::{exact_pair, expanded_pair};
use super::pictures::features_of;
use super::shapes::{Pair, SurfaceRow, SurfacesTable};
use crate::text::Words;
use engine::judge::{Estimate, FeatureState, Judgement};
use engine::model::{FeatureIx, JointIx, Measure};

/// Surfaces that go side by side.
const MOST_COLUMNS: usize = 4;

/// What was found of each surface, in one table for up to four of them.
pub(super) fn surfaces(judgement: &Judgement, joint: JointIx) -> Vec<SurfacesTable> {
    features_of(judgement, joint).chunks(MOST_COLUMNS).map(|some| table(judgement, some)).collect()
}

fn table(judgement: &Judgement, some: &[FeatureIx]) -> SurfacesTable {
    let engine = judgement.engine();
    let mut rows = vec![SurfaceRow {
        measure: "as made",
        cells: some.iter().map(|f| engine.feature(*f).as_made.as_ref().map(exact_pair)).collect(),
    }];
    let mut row =
        |name: &'static str, measure: Measure, pick: &dyn Fn(&FeatureState) -> Option<Estimate>| {
            let cells: Vec<Option<Pair>> = some
                .iter()
                .map(|f| {
                    pick(judgement.feature(*f))
                        .map(|e| expanded_pair(measure, &e, judgement.features()))
                })
                .collect();
            if cells.iter().any(Option::is_some) {
                rows.push(SurfaceRow { measure: name, cells });
            }
        };
    row("mean size", Measure::Size, &|s| s.size.clone());
    row("largest place", Measure::Size, &|s| s.largest.clone());
    row("smallest place", Measure::Size, &|s| s.smallest.clone());
    row("cleans up at", Measure::Size, &|s| s.clean_up.clone());
    for measure in [Measure::Ovality, Measure::Taper, Measure::Barrel, Measure::Roundness] {
        row(measure.word(), measure, &|s| s.measure(measure).cloned());
    }
    row("lost since made", Measure::Wear, &|s| s.worn_since_made.clone());
    row("lost since last time", Measure::Wear, &|s| s.worn_since_last.clone());
    SurfacesTable {
        features: some.iter().map(|f| Words::from(&engine.feature(*f).id)).collect(),
        rows,
    }
}
