//! What was found, in a paragraph.

use super::figures::count;
use crate::text::Words;
use engine::view::{Counts, Summary};

/// The paragraphs.
pub(super) fn found(summary: &Summary) -> Vec<Words> {
    let c = &summary.counts;
    if c.joints == 0 && c.readings == 0 {
        return vec![Words::new("Nothing to judge yet: the engine has no joints and no readings.")];
    }
    let mut first = joints_words(c);
    first.push(' ');
    first.push_str(&readings_words(c));
    let mut out = vec![Words::from(first)];
    let mut second = Vec::new();
    let slips = summary.suspicious.len();
    if slips > 0 {
        let aside = summary.suspicious.iter().filter(|s| s.set_aside).count();
        second.push(format!(
            "{} {} like slips, of which {} {} set aside until a person says otherwise",
            plural(slips, "reading"),
            if slips == 1 { "looks" } else { "look" },
            count(aside),
            if aside == 1 { "is" } else { "are" }
        ));
    }
    if !summary.swaps.is_empty() {
        let n = summary.swaps.len();
        second.push(format!(
            "{} {} exchanged",
            plural(n, "part"),
            if n == 1 { "looks" } else { "look" }
        ));
    }
    let bad = summary.findings.iter().filter(|f| f.condition != "sound").count();
    if bad > 0 {
        second
            .push(format!("{} found other than sound by eye, ear or dye", plural(bad, "surface")));
    }
    let lapsed: usize = summary.gauges.iter().map(|g| g.lapsed_readings).sum();
    if lapsed > 0 {
        second.push(format!(
            "{} {} taken with a gauge out of calibration",
            plural(lapsed, "reading"),
            if lapsed == 1 { "was" } else { "were" }
        ));
    }
    if !second.is_empty() {
        let mut text = second.join("; ");
        text.push('.');
        out.push(Words::from(text));
    }
    out
}

fn joints_words(c: &Counts) -> String {
    if c.joints == 0 {
        return "The engine has no joints to judge.".to_owned();
    }
    let mut parts = vec![
        format!("{} beyond a limit in service", count(c.beyond)),
        format!("{} near one", count(c.near)),
        format!("{} that cannot be told with what was read", count(c.cannot_tell)),
        format!("{} within", count(c.within)),
    ];
    if c.no_limit > 0 {
        parts.push(format!("{} without a limit", count(c.no_limit)));
    }
    let last = parts.pop().unwrap_or_default();
    format!("Of {}: {} and {last}.", plural(c.joints, "joint"), parts.join(", "))
}

fn readings_words(c: &Counts) -> String {
    if c.readings == 0 {
        return "There are no readings.".to_owned();
    }
    format!(
        "{} gave a size to {} of {} on {}.",
        plural(c.readings, "reading"),
        count(c.features_gauged),
        plural(c.features, "feature"),
        plural(c.parts, "part")
    )
}

fn plural(n: usize, one: &str) -> String {
    if n == 1 { format!("1 {one}") } else { format!("{} {one}s", count(n)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn counts() -> Counts {
        Counts {
            parts: 40,
            features: 60,
            features_gauged: 58,
            joints: 10,
            chains: 2,
            readings: 1500,
            beyond: 2,
            near: 1,
            cannot_tell: 1,
            within: 6,
            no_limit: 0,
        }
    }

    #[test]
    fn counts_in_words() {
        assert_eq!(
            joints_words(&counts()),
            "Of 10 joints: 2 beyond a limit in service, 1 near one, 1 that cannot be told with what was read and 6 within."
        );
        assert_eq!(
            readings_words(&counts()),
            "1,500 readings gave a size to 58 of 60 features on 40 parts."
        );
    }
}
