//! What a reader might take to have been considered, and was not.

use super::figures::count;
use crate::text::Words;
use engine::judge::{Judgement, Verdict};

/// Ids named in one sentence; the rest are counted.
const MOST_NAMED: usize = 40;

/// What was not considered, from what the engine lacks and from what the program does not do.
pub(super) fn not_considered(judgement: &Judgement) -> Vec<Words> {
    let engine = judgement.engine();
    let mut out = Vec::new();
    let features = (0..engine.features.len()).filter_map(|i| {
        let feature = &engine.features[i];
        judgement.features().get(i)?.size.is_none().then(|| feature.id.clone())
    });
    tell(&mut out, "not gauged", "feature", features.collect());
    let joints = (0..engine.joints.len()).filter_map(|i| {
        let no_limit = judgement.joints().get(i)?.verdict == Verdict::NoLimit;
        no_limit.then(|| engine.joints[i].id.clone())
    });
    tell(&mut out, "without a limit in service, and not judged", "joint", joints.collect());
    let set_aside: usize = judgement
        .features()
        .iter()
        .map(|f| f.suspicions.iter().filter(|s| s.set_aside).count())
        .sum();
    let struck = engine.readings.iter().filter(|r| r.struck).count();
    let no_gauge = engine.readings.iter().filter(|r| !r.struck && r.gauge.is_none()).count();
    for (n, what) in [
        (set_aside, "set aside as slips until a person says otherwise"),
        (struck, "struck out"),
        (no_gauge, "without a gauge, so that their doubt is unknown"),
    ] {
        if n > 0 {
            out.push(Words::from(format!("{} reading(s) {what}.", count(n))));
        }
    }
    let assumed: usize = judgement.chains().iter().map(|c| c.assumed.len()).sum();
    if assumed > 0 {
        out.push(Words::from(format!(
            "{} length(s) in chains were not gauged and taken as made.",
            count(assumed)
        )));
    }
    for general in [
        "Strength, fatigue and life: a size within its limit says nothing of them.",
        "Cracks, seams and loose metal that nobody looked for: only the conditions found are listed.",
        "Shape between the places gauged, and shapes that two-point diameters cannot see.",
        "The lie of axes to one another (square, parallel, in line), but for the chains listed.",
        "The boiler, its fittings and their statutory examination.",
    ] {
        out.push(Words::new(general));
    }
    out
}

fn tell(out: &mut Vec<Words>, what: &str, one: &str, ids: Vec<String>) {
    if ids.is_empty() {
        return;
    }
    let more = ids.len().saturating_sub(MOST_NAMED);
    let mut named = ids.iter().take(MOST_NAMED).map(String::as_str).collect::<Vec<_>>().join(", ");
    if more > 0 {
        named.push_str(&format!(" and {} more", count(more)));
    }
    let plural = if ids.len() == 1 { "" } else { "s" };
    out.push(Words::from(format!("{} {one}{plural} {what}: {named}.", count(ids.len()))));
}
