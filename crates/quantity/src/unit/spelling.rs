//! Finding a unit in text, however a person spaces and types it.

use super::{Unit, table};
use crate::System;
use std::collections::HashMap;
use std::sync::LazyLock;

/// A unit found in text, and the index just after it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Found {
    pub(crate) unit: Unit,
    pub(crate) end: usize,
}

/// The unit with the longest spelling that starts at `text[at]` and ends at a word boundary.
///
/// As written first; then, for imperial units and those of both systems, in any case. SI symbols
/// never in any case: there `m` and `M` are different things.
pub(crate) fn match_unit(text: &[char], at: usize) -> Option<Found> {
    let rest = text.get(at..)?;
    let whole =
        if rest.len() <= LONGEST_WHOLE { whole_unit(&String::from_iter(rest)) } else { None };
    match whole {
        Some(unit) => Some(Found { unit, end: text.len() }),
        None => search(text, at),
    }
}

/// The unit that the search finds in this very text and nothing after it, where it is among the
/// spellings of the table as they stand there: in a table of readings nearly every unit is.
pub(crate) fn whole_unit(text: &str) -> Option<Unit> {
    match text {
        // Nearly all of them.
        "mm" => Some(Unit::MILLIMETRE),
        "in" => Some(Unit::INCH),
        _ => WHOLE.get(text).copied(),
    }
}

/// No spelling of the table has more characters.
const LONGEST_WHOLE: usize = 48;

static WHOLE: LazyLock<HashMap<&'static str, Unit>> = LazyLock::new(|| {
    let all = table::ALL
        .iter()
        .flat_map(|unit| std::iter::once(unit.symbol).chain(unit.spellings.iter().copied()));
    all.filter_map(|spelling| {
        let text: Vec<char> = spelling.chars().collect();
        let found = search(&text, 0).filter(|found| found.end == text.len())?;
        Some((spelling, found.unit))
    })
    .collect()
});

fn search(text: &[char], at: usize) -> Option<Found> {
    longest(text, at, Case::AsWritten).or_else(|| longest(text, at, Case::Any))
}

#[derive(Clone, Copy, PartialEq)]
enum Case {
    AsWritten,
    Any,
}

fn longest(text: &[char], at: usize, case: Case) -> Option<Found> {
    let mut best: Option<Found> = None;
    for &unit in table::ALL {
        if case == Case::Any && unit.system() == Some(System::Metric) {
            continue;
        }
        for spelling in std::iter::once(&unit.symbol).chain(unit.spellings) {
            if let Some(end) = match_spelling(text, at, spelling, case)
                && let Some(end) = boundary(text, end, unit)
                && best.is_none_or(|b| end > b.end)
            {
                best = Some(Found { unit, end });
            }
        }
    }
    best
}

/// Index after `spelling` at `text[at]`, if it is there.
fn match_spelling(text: &[char], at: usize, spelling: &str, case: Case) -> Option<usize> {
    if spelling.is_empty() {
        return None;
    }
    let mut i = at;
    for wanted in spelling.chars() {
        i = match wanted {
            ' ' => skip_joiner(text, i),
            '/' => skip_per(text, i)?,
            '2' | '3' | '²' | '³' => skip_power(text, i, wanted)?,
            _ => {
                let got = canonical(*text.get(i)?);
                let same = match case {
                    Case::AsWritten => got == wanted,
                    Case::Any => got.to_lowercase().eq(wanted.to_lowercase()),
                };
                if !same {
                    return None;
                }
                i + 1
            }
        };
    }
    Some(i)
}

/// Where the unit ends if it may end at `end`: before a space, a sign or the end, before a figure
/// of the next part of a size (`4ft8in`, but not `mm2/s`), or anywhere after a foot or inch mark.
/// A full stop of an abbreviation (`8 in.`) is taken with it.
fn boundary(text: &[char], end: usize, unit: Unit) -> Option<usize> {
    let last = canonical(*text.get(end.checked_sub(1)?)?);
    let Some(&next) = text.get(end) else { return Some(end) };
    let stop_follows =
        next == '.' && last.is_alphabetic() && text.get(end + 1).is_none_or(|c| is_space(*c));
    if stop_follows {
        return Some(end + 1);
    }
    let mark = matches!(last, '\'' | '"' | '°');
    let figure = next.is_ascii_digit() && unit.system() != Some(System::Metric);
    let sign = matches!(next, '+' | '-' | '−' | '–' | '±');
    (mark || figure || sign || is_space(next)).then_some(end)
}

/// Between the two words of a unit: nothing, spaces, or one dot, star or hyphen.
fn skip_joiner(text: &[char], at: usize) -> usize {
    let mut i = skip_spaces(text, at);
    if text.get(i).is_some_and(|c| matches!(c, '·' | '⋅' | '.' | '*' | '×' | '-' | '‑' | '‐'))
    {
        i = skip_spaces(text, i + 1);
    }
    i
}

/// A solidus, with or without spaces, or the word `per`.
fn skip_per(text: &[char], at: usize) -> Option<usize> {
    let i = skip_spaces(text, at);
    if is_solidus(*text.get(i)?) {
        return Some(skip_spaces(text, i + 1));
    }
    let word = text.get(i..i + 3)?;
    let word_is_per = word.iter().collect::<String>().eq_ignore_ascii_case("per");
    (word_is_per && text.get(i + 3).is_some_and(|c| is_space(*c))).then(|| skip_spaces(text, i + 3))
}

/// A square or cube: `2`, `^2` or `²`.
fn skip_power(text: &[char], at: usize, wanted: char) -> Option<usize> {
    let i = if text.get(at) == Some(&'^') { at + 1 } else { at };
    let wanted = canonical(wanted);
    (canonical(*text.get(i)?) == wanted).then_some(i + 1)
}

pub(crate) fn skip_spaces(text: &[char], at: usize) -> usize {
    let mut i = at;
    while text.get(i).is_some_and(|c| is_space(*c)) {
        i += 1;
    }
    i
}

/// White space of any width, with the marks of no width that spreadsheets and web pages leave.
pub(crate) fn is_space(c: char) -> bool {
    c.is_whitespace() || matches!(c, '\u{200B}' | '\u{2060}' | '\u{FEFF}')
}

pub(crate) fn is_solidus(c: char) -> bool {
    matches!(c, '/' | '\u{2044}' | '\u{2215}')
}

/// One form for characters that look alike.
pub(crate) fn canonical(c: char) -> char {
    match c {
        '\u{03BC}' => 'µ',
        '²' => '2',
        '³' => '3',
        '′' | '’' | '‘' | '´' => '\'',
        '″' | '”' | '“' => '"',
        'º' | '˚' => '°',
        '\u{2206}' => 'Δ',
        _ => c,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The list of whole spellings says what the search says, wherever the unit begins.
    #[test]
    fn whole_spellings_are_found_as_by_the_search() {
        for unit in table::ALL {
            assert!(unit.spellings.iter().all(|s| s.chars().count() <= LONGEST_WHOLE));
            for spelling in std::iter::once(&unit.symbol).chain(unit.spellings) {
                for before in ["", "7.9 ", "7", "4ft8", "1/2"] {
                    for after in ["", " ", ".", " + 1 mm", "s"] {
                        let text: Vec<char> =
                            format!("{before}{spelling}{after}").chars().collect();
                        let at = before.chars().count();
                        let (quick, long) = (match_unit(&text, at), search(&text, at));
                        let told = |f: Option<Found>| f.map(|f| (f.unit.symbol, f.end));
                        assert_eq!(told(quick), told(long), "{before}{spelling}{after}");
                    }
                }
            }
        }
    }
}
