//! Views as words on a terminal.

pub(crate) mod book;
mod chain;
mod design;
mod joint;
mod lists;
pub(crate) mod motion;
mod table;
pub(crate) mod works;

pub(crate) use chain::chain;
pub(crate) use design::{design, designed};
pub(crate) use joint::{joint, options, trial};
pub(crate) use lists::{machine_to, refused, refused_briefly, summary};

use crate::args::Units;
use engine::view::{Amount, Figure};

/// A figure, the wanted system first.
pub(crate) fn figure(f: &Figure, units: Units) -> String {
    match units {
        Units::Metric => format!("{} ({})", f.metric, f.imperial),
        Units::Imperial => format!("{} ({})", f.imperial, f.metric),
    }
}

/// A figure in one system.
pub(crate) fn short(f: &Figure, units: Units) -> &str {
    match units {
        Units::Metric => &f.metric,
        Units::Imperial => &f.imperial,
    }
}

/// An amount in one system.
pub(crate) fn amount(a: &Amount, units: Units) -> &str {
    match units {
        Units::Metric => &a.metric,
        Units::Imperial => &a.imperial,
    }
}

/// An amount, the wanted system first; once where both say the same.
pub(crate) fn both(a: &Amount, units: Units) -> String {
    match units {
        _ if a.metric == a.imperial => a.metric.clone(),
        Units::Metric => format!("{} ({})", a.metric, a.imperial),
        Units::Imperial => format!("{} ({})", a.imperial, a.metric),
    }
}

/// A probability as a person says it; never certain.
pub(crate) fn probability(p: f64) -> String {
    let percent = 100.0 * p;
    if percent > 99.9 {
        "over 99.9 %".to_owned()
    } else if percent < 0.1 {
        "under 0.1 %".to_owned()
    } else {
        format!("{percent:.1} %")
    }
}

/// "0.254 mm over `mate` as finished", "under" where it is less.
pub(crate) fn to_suit(mate: &str, more: &Figure, units: Units) -> String {
    let text = short(more, units);
    let (size, word) = match text.strip_prefix(['-', '\u{2212}']) {
        Some(less) => (less, "under"),
        None => (text, "over"),
    };
    format!("{size} {word} {mate} as finished")
}
