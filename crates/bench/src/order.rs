//! Which works somebody wants before others. It stands in the newest sheet of a day, one line for each
//! pair, behind the words that begin it; so that it is in the book, and read by people as by this.

use crate::snapshot::Judged;
use crate::timeline::Told;
use book::Fold;
use engine::view::DayListView;
use engine::works::{OnTheDay, Wanted};
use std::fmt::Write as _;
use std::sync::Arc;

/// The line behind which the pairs stand.
const BEGINS: &str = "Wanted so:";
/// What stands between the ids of a pair.
const BEFORE: &str = " before ";
/// Plans tried for a day's list.
const FEW_STEPS: u64 = 600;

/// The day that the plan has come to, as the calendar has it.
pub(crate) fn usual_day() -> OnTheDay {
    OnTheDay { steps: FEW_STEPS, seed: 1, ..OnTheDay::default() }
}

/// The pairs of the newest sheet.
pub(crate) fn wanted(fold: &Fold, timeline: &[Arc<Told>]) -> Vec<Wanted> {
    let Some(sheet) = fold.day_plans().max_by_key(|p| p.sequence) else { return Vec::new() };
    let who = timeline
        .binary_search_by_key(&sheet.sequence, |t| t.sequence)
        .map_or("somebody", |at| timeline[at].author.as_str());
    let why = format!("{who} wants it so (entry {})", sheet.sequence);
    pairs(&sheet.text)
        .map(|(first, then)| Wanted {
            first: first.to_owned(),
            then: then.to_owned(),
            why: why.clone(),
        })
        .collect()
}

fn pairs(text: &str) -> impl Iterator<Item = (&str, &str)> {
    text.lines().skip_while(|l| l.trim() != BEGINS).skip(1).filter_map(|l| {
        let (first, then) = l.split_once(BEFORE)?;
        Some((first.trim(), then.trim()))
    })
}

/// A pair as a button sends it.
pub(crate) fn said(first: &str, then: &str) -> String {
    format!("{first}{BEFORE}{then}")
}

/// The pair that a button sent.
pub(crate) fn heard(text: &str) -> Option<(&str, &str)> {
    text.split_once(BEFORE)
}

/// The pairs with one more; one that was wanted the other way round is taken back by it instead.
pub(crate) fn with(all: &[Wanted], first: &str, then: &str) -> Vec<(String, String)> {
    let mut pairs: Vec<(String, String)> =
        all.iter().map(|w| (w.first.clone(), w.then.clone())).collect();
    let before = pairs.len();
    pairs.retain(|(a, b)| !(a == then && b == first));
    if pairs.len() == before && !pairs.iter().any(|(a, b)| a == first && b == then) {
        pairs.push((first.to_owned(), then.to_owned()));
    }
    pairs
}

/// The text of an entry that moves works.
pub(crate) fn moved(
    judged: &Judged,
    first: &str,
    then: &str,
    pairs: &[(String, String)],
) -> String {
    let model = &judged.judgement.engine().works;
    let name = |id: &str| {
        model.work_by_id(id).map_or_else(|| id.to_owned(), |w| model.works[w].name.clone())
    };
    let mut text = format!("moved: {} before {}\n", name(first), name(then));
    write_pairs(&mut text, pairs);
    text
}

/// The text of a day's list that is handed out.
pub(crate) fn sheet(view: &DayListView, all: &[Wanted]) -> String {
    let mut text = format!("the list as handed out, {} lines\n", view.lines.len());
    for l in &view.lines {
        let who = if l.who.is_empty() { String::new() } else { format!(" ({})", l.who.join(", ")) };
        // Into memory: it does not fail.
        let _ = writeln!(text, "{} to {}  {}, {}{who}", l.from, l.until, l.name, l.how);
    }
    let pairs: Vec<(String, String)> =
        all.iter().map(|w| (w.first.clone(), w.then.clone())).collect();
    write_pairs(&mut text, &pairs);
    text
}

fn write_pairs(text: &mut String, pairs: &[(String, String)]) {
    if pairs.is_empty() {
        return;
    }
    let _ = writeln!(text, "\n{BEGINS}");
    for (first, then) in pairs {
        let _ = writeln!(text, "{}", said(first, then));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read_again_and_taken_back() {
        let mut text = "moved: a before b\n".to_owned();
        let all = [("a".to_owned(), "b".to_owned()), ("c.1".to_owned(), "d".to_owned())];
        write_pairs(&mut text, &all);
        assert_eq!(pairs(&text).collect::<Vec<_>>(), [("a", "b"), ("c.1", "d")]);
        assert_eq!(pairs("moved: a before b").count(), 0, "words above are words");
        let wanted: Vec<Wanted> = all
            .iter()
            .map(|(first, then)| Wanted {
                first: first.clone(),
                then: then.clone(),
                why: String::new(),
            })
            .collect();
        assert_eq!(with(&wanted, "b", "a"), [("c.1".to_owned(), "d".to_owned())]);
        assert_eq!(with(&wanted, "a", "b").len(), 2);
        assert_eq!(with(&wanted, "e", "a").len(), 3);
    }
}
