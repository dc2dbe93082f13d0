//! Filling in a pattern's body: loops, words and sizes.

use super::expression::evaluate;
use indexmap::IndexMap;
use quantity::Quantity;

/// A filled body longer than this is a pattern gone wrong.
const MOST_BYTES: usize = 16 << 20;

type Words<'a> = Vec<(&'a str, &'a str)>;

/// Fills a body; the error is a line of it, from 1, and what is wrong there.
pub(super) fn fill(
    body: &str,
    sizes: &IndexMap<&str, &Quantity>,
) -> Result<String, (usize, String)> {
    let lines: Vec<&str> = body.lines().collect();
    let mut out = String::with_capacity(body.len() * 4);
    block(&lines, 0, lines.len(), &mut Vec::new(), sizes, &mut out)?;
    Ok(out)
}

fn block<'a>(
    lines: &[&'a str],
    from: usize,
    to: usize,
    words: &mut Words<'a>,
    sizes: &IndexMap<&str, &Quantity>,
    out: &mut String,
) -> Result<(), (usize, String)> {
    let mut at = from;
    while at < to {
        let line = lines[at];
        if let Some(directive) = line.trim_start().strip_prefix("#:") {
            let directive = directive.trim();
            let Some(rest) = directive.strip_prefix("for ") else {
                return Err((
                    at + 1,
                    format!("\"#: {directive}\" is not known here (for ... in ..., end)"),
                ));
            };
            let end = matching_end(lines, at, to)?;
            let (names, rounds) = loop_head(rest).ok_or_else(|| {
                (at + 1, "a loop is written `#: for side in left, right` or `#: for side, s in left:L, right:R`".to_owned())
            })?;
            for round in rounds {
                let depth = words.len();
                words.extend(names.iter().copied().zip(round));
                block(lines, at + 1, end, words, sizes, out)?;
                words.truncate(depth);
            }
            at = end + 1;
            continue;
        }
        fill_line(line, words, sizes, out).map_err(|what| (at + 1, what))?;
        out.push('\n');
        if out.len() > MOST_BYTES {
            return Err((at + 1, "the filled pattern grows beyond 16 MB".to_owned()));
        }
        at += 1;
    }
    Ok(())
}

fn matching_end(lines: &[&str], at: usize, to: usize) -> Result<usize, (usize, String)> {
    let mut depth = 0;
    for (i, line) in lines.iter().enumerate().take(to).skip(at) {
        match line.trim_start().strip_prefix("#:").map(str::trim) {
            Some(d) if d.starts_with("for ") => depth += 1,
            Some("end") => {
                depth -= 1;
                if depth == 0 {
                    return Ok(i);
                }
            }
            _ => {}
        }
    }
    Err((at + 1, "this loop has no \"#: end\"".to_owned()))
}

type LoopHead<'a> = (Vec<&'a str>, Vec<Vec<&'a str>>);

fn loop_head(rest: &str) -> Option<LoopHead<'_>> {
    let (names, values) = rest.split_once(" in ")?;
    let names: Vec<&str> = names.split(',').map(str::trim).collect();
    let rounds: Vec<Vec<&str>> =
        values.split(',').map(|v| v.split(':').map(str::trim).collect()).collect();
    let whole = rounds
        .iter()
        .all(|r: &Vec<&str>| r.len() == names.len() && r.iter().all(|w| !w.is_empty()));
    (whole && names.iter().all(|n| !n.is_empty())).then_some((names, rounds))
}

fn fill_line(
    line: &str,
    words: &Words<'_>,
    sizes: &IndexMap<&str, &Quantity>,
    out: &mut String,
) -> Result<(), String> {
    let mut rest = line;
    while let Some(open) = rest.find('<') {
        out.push_str(&rest[..open]);
        let Some(close) = rest[open..].find('>') else {
            return Err("a \"<\" without its \">\"".to_owned());
        };
        let inner = &rest[open + 1..open + close];
        match inner.strip_prefix('=') {
            Some(expression) => {
                // Loop words may stand inside a size's name: <= pin-<side> > is written
                // <= pin-{side} >.
                let mut expression = expression.to_owned();
                for (name, word) in words {
                    expression = expression.replace(&format!("{{{name}}}"), word);
                }
                out.push_str(&evaluate(&expression, sizes)?);
            }
            None => match words.iter().rev().find(|(name, _)| *name == inner.trim()) {
                Some((_, word)) => out.push_str(word),
                None => return Err(format!("<{inner}> is no word of a loop around it")),
            },
        }
        rest = &rest[open + close + 1..];
    }
    out.push_str(rest);
    Ok(())
}
