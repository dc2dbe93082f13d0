//! Reasons, causes and faults in words of the trade: works by what they do, not by their ids.

use sequence::{Cause, Fault, Link, Reason, Scheme, Turned, WayOut, WorkId};

/// What a work does.
pub(crate) fn name(scheme: &Scheme, work: WorkId) -> &str {
    scheme.work(work).map_or("?", |w| w.title.as_str())
}

/// A chain of reasons.
pub(crate) fn chain(scheme: &Scheme, links: &[Link]) -> Vec<String> {
    links
        .iter()
        .map(|l| {
            let (a, b) = (name(scheme, l.earlier), name(scheme, l.later));
            format!("\"{a}\" comes before \"{b}\": {}", l.reason)
        })
        .collect()
}

/// A fault of the scheme.
pub(crate) fn fault(scheme: &Scheme, fault: &Fault) -> String {
    match fault {
        Fault::Circle(links) => {
            let mut all = vec!["these works wait for each other in a circle:".to_owned()];
            all.extend(chain(scheme, links).into_iter().map(|l| format!("    {l}")));
            all.push("    mend: one of these reasons must go, or hold for one way only".to_owned());
            all.join("\n")
        }
        Fault::NoWay { work, ways } => {
            let title = scheme.find(work).map_or(work.as_str(), |w| name(scheme, w));
            let mut all = vec![format!("\"{title}\" ({work}) has no way that can be done:")];
            all.extend(ways.iter().map(|w| format!("    {}", way_out(scheme, w))));
            all.join("\n")
        }
        other => other.to_string(),
    }
}

/// A way that can never be done.
pub(crate) fn way_out(scheme: &Scheme, out: &WayOut) -> String {
    let why = match &out.reason {
        Reason::Circle(links) => {
            format!("waits in a circle: {}", chain(scheme, links).join("; "))
        }
        Reason::Needs(tag) => {
            let title = scheme.find(tag).map_or(tag.as_str(), |w| name(scheme, w));
            format!("needs \"{title}\", which cannot be done")
        }
        other => other.to_string(),
    };
    format!("{}, {}: {why}", name(scheme, out.work), out.title)
}

/// Why a step begins when it does.
pub(crate) fn cause(scheme: &Scheme, cause: &Cause) -> String {
    let names = |works: &[WorkId]| {
        let all: Vec<String> =
            works.iter().take(3).map(|w| format!("\"{}\"", name(scheme, *w))).collect();
        all.join(" and ")
    };
    match cause {
        Cause::Now => "nothing holds it back".to_owned(),
        Cause::After(l) => format!("after \"{}\": {}", name(scheme, l.earlier), l.reason),
        Cause::Barring => "the engine is barred round first".to_owned(),
        Cause::People(w) => format!("everybody is at {}", names(w)),
        Cause::Kit(kit, w) => {
            let kit = scheme.kits.get(kit.0).map_or("the kit", |k| k.name.as_str());
            if w.is_empty() {
                format!("no {kit} before")
            } else {
                format!("{kit} in use for {}", names(w))
            }
        }
        Cause::Place(w) if w.is_empty() => "the place is shut before".to_owned(),
        Cause::Place(w) => format!("the place is taken or kept clear for {}", names(w)),
        Cause::Morning => "it is begun fresh: it does not stand over a break half done".to_owned(),
        Cause::Free => "it fits here as well as anywhere".to_owned(),
    }
}

/// What is otherwise than before.
pub(crate) fn turned(scheme: &Scheme, work: WorkId, turned: &Turned) -> String {
    let way = |k: usize| scheme.way(work, k).map_or("another way", |w| w.title.as_str());
    match turned {
        Turned::Way { from, to } => format!("now: {} (was: {})", way(*to), way(*from)),
        Turned::Order => "taken out of its place in the order".to_owned(),
        Turned::New => "new in the plan".to_owned(),
        Turned::Left => "no longer in the plan".to_owned(),
        Turned::Later(min) => format!("{} later", hours(*min)),
        Turned::Sooner(min) => format!("{} sooner", hours(*min)),
    }
}

/// Minutes as hours and minutes.
pub(crate) fn hours(min: u64) -> String {
    match (min / 60, min % 60) {
        (0, m) => format!("{m} min"),
        (h, 0) => format!("{h} h"),
        (h, m) => format!("{h} h {m:02} min"),
    }
}
