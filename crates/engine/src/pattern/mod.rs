//! Layouts of engines, so that a stranger describes their own by answering some twenty
//! dimensions and not by typing a thousand lines.
//!
//! A pattern is a text with two halves. The first, TOML, says what it is and what it asks. The
//! second, after a line `#: body`, is the engine file to be filled in: TOML with lines
//! `#: for side in left, right` ... `#: end` repeated, `<side>` replaced by the word, and
//! `<= crank-pin + 0.5 mm >` by the size worked out from the answers.

mod expression;
mod template;

use crate::problem::{Place, Problem, nearest};
use indexmap::IndexMap;
use quantity::{Dimension, Quantity};
use serde::Deserialize;

/// Patterns that come with the program.
const BUILT_IN: &[(&str, &str)] = &[
    ("inside-six-coupled", include_str!("../../patterns/inside-six-coupled.toml")),
    ("outside-four-coupled", include_str!("../../patterns/outside-four-coupled.toml")),
];

/// A layout.
#[derive(Clone, Debug)]
pub struct Pattern {
    /// Short id.
    pub id: String,
    /// What it is.
    pub about: String,
    /// What it asks.
    pub asks: Vec<Ask>,
    body: String,
    body_line: usize,
}

/// One question of a pattern.
#[derive(Clone, Debug)]
pub struct Ask {
    /// Name used in `[dimensions]`.
    pub name: String,
    /// The question.
    pub ask: String,
    /// What is taken when it is not answered.
    pub suggest: Quantity,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct HeadText {
    pattern: HeadPattern,
    #[serde(default)]
    ask: Vec<AskText>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct HeadPattern {
    id: String,
    about: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AskText {
    name: toml::Spanned<String>,
    ask: String,
    suggest: toml::Spanned<String>,
}

impl Pattern {
    /// Ids and texts of the patterns that come with the program.
    pub fn built_in() -> impl Iterator<Item = &'static str> {
        BUILT_IN.iter().map(|(id, _)| *id)
    }

    /// A pattern that comes with the program.
    ///
    /// # Errors
    /// There is none of that name: the text lists those there are.
    pub fn find(id: &str) -> Result<Pattern, String> {
        match BUILT_IN.iter().find(|(name, _)| *name == id) {
            Some((name, text)) => Pattern::parse(name, text)
                .map_err(|p| format!("the pattern itself is at fault: {p}")),
            None => {
                let all = BUILT_IN.iter().map(|(n, _)| *n).collect::<Vec<_>>().join(", ");
                let hint = nearest(id, BUILT_IN.iter().map(|(n, _)| *n))
                    .map_or_else(String::new, |n| format!(" (did you mean \"{n}\"?)"));
                Err(format!("there is no pattern \"{id}\"{hint}; there are: {all}"))
            }
        }
    }

    /// Reads a pattern.
    ///
    /// # Errors
    /// The first fault, with its place.
    pub fn parse(file: &str, text: &str) -> Result<Pattern, Problem> {
        let Some((at, marker)) =
            text.match_indices("#: body").find(|(i, _)| *i == 0 || text.as_bytes()[i - 1] == b'\n')
        else {
            return Err(Problem::new(
                Place::file(file),
                "a pattern without a line \"#: body\"",
                "what it asks stands before that line, the engine file to fill in after it",
            ));
        };
        let head: HeadText = toml::from_str(&text[..at]).map_err(|e| {
            let place = e.span().map_or(Place::file(file), |s| Place::at(file, text, s.start));
            Problem::new(place, e.message().to_owned(), "see docs/patterns.md")
        })?;
        let mut asks: Vec<Ask> = Vec::new();
        for a in head.ask {
            let place = |s: &toml::Spanned<String>| Place::at(file, text, s.span().start);
            let suggest =
                Quantity::parse_as(a.suggest.get_ref(), Dimension::Length).map_err(|e| {
                    Problem::new(
                        place(&a.suggest),
                        format!("\"{}\": {}", a.suggest.get_ref(), e.reason()),
                        e.hint(),
                    )
                })?;
            if asks.iter().any(|b| b.name == *a.name.get_ref()) {
                return Err(Problem::new(
                    place(&a.name),
                    format!("\"{}\" is asked twice", a.name.get_ref()),
                    "keep one",
                ));
            }
            asks.push(Ask { name: a.name.into_inner(), ask: a.ask, suggest });
        }
        let body_start = at + marker.len();
        Ok(Pattern {
            id: head.pattern.id,
            about: head.pattern.about,
            asks,
            body: text[body_start..].to_owned(),
            body_line: text[..body_start].matches('\n').count() + 1,
        })
    }

    /// The engine file for some answers; questions without an answer take what is suggested.
    ///
    /// # Errors
    /// Answers to questions not asked, sizes that cannot be, and faults in the pattern.
    pub fn expand(&self, answers: &IndexMap<String, Quantity>) -> Result<String, Vec<Problem>> {
        let file = format!("pattern {}", self.id);
        let mut problems = Vec::new();
        let mut sizes: IndexMap<&str, &Quantity> =
            self.asks.iter().map(|a| (a.name.as_str(), &a.suggest)).collect();
        for (name, value) in answers {
            match sizes.get_mut(name.as_str()) {
                Some(slot) if value.si() > 0.0 && value.si() < 100.0 => *slot = value,
                Some(_) => problems.push(Problem::new(
                    Place::file("[dimensions]"),
                    format!("{name} = \"{}\" cannot be a size", value.text()),
                    "sizes are above zero and below 100 m",
                )),
                None => {
                    let mend = nearest(name, self.asks.iter().map(|a| a.name.as_str()))
                        .map_or_else(
                            || "`pinchbar pattern` lists what a pattern asks".to_owned(),
                            |n| format!("did you mean \"{n}\"?"),
                        );
                    problems.push(Problem::new(
                        Place::file("[dimensions]"),
                        format!("pattern \"{}\" does not ask for \"{name}\"", self.id),
                        mend,
                    ));
                }
            }
        }
        if !problems.is_empty() {
            return Err(problems);
        }
        template::fill(&self.body, &sizes).map_err(|(line, what)| {
            vec![Problem::new(
                Place { file, line: self.body_line + line - 1, column: 0 },
                what,
                "the pattern wants mending, or an answer is too large or too small for it",
            )]
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SMALL: &str = "[pattern]\nid = \"p\"\nabout = \"a pin\"\n[[ask]]\nname = \"pin\"\nask = \"Pin?\"\nsuggest = \"2 in\"\n#: body\n#: for side, s in left:L, right:R\n[[part]]\nid = \"<side>.<s>\"\nmass = \"1 kg\"\n#: end\n[x]\na = \"<= pin >\"\nb = \"<= pin + 0.5 mm>\"\nc = \"<= 0.5 * (pin - 1 mm)>\"\n";

    fn answers(pin: &str) -> IndexMap<String, Quantity> {
        [("pin".to_owned(), Quantity::parse(pin).expect("good"))].into_iter().collect()
    }

    #[test]
    fn fills_words_and_sizes() {
        let p = Pattern::parse("p", SMALL).expect("good pattern");
        let out = p.expand(&answers("2 1/4 in")).expect("fills");
        assert!(out.contains("id = \"left.L\"") && out.contains("id = \"right.R\""), "{out}");
        assert!(out.contains("a = \"2 1/4 in\""), "as written: {out}");
        // 2.25 in + 0.5 mm = 57.65 mm = 2.269685 in
        assert!(out.contains("b = \"2.269685 in\""), "{out}");
        // (57.15 - 1)/2 = 28.075 mm = 1.105315 in
        assert!(out.contains("c = \"1.105315 in\""), "{out}");
    }

    #[test]
    fn faults_are_named() {
        let p = Pattern::parse("p", SMALL).expect("good pattern");
        let mut bad = answers("2 in");
        bad.insert("pim".into(), Quantity::parse("1 in").expect("good"));
        let problems = p.expand(&bad).unwrap_err();
        assert!(problems[0].mend.contains("\"pin\""), "{}", problems[0]);
        assert!(Pattern::parse("p", "[pattern]\n").is_err());
        let broken = SMALL.replace("#: end\n", "");
        let problems = Pattern::parse("p", &broken)
            .expect("head is good")
            .expand(&answers("2 in"))
            .unwrap_err();
        assert!(problems[0].what.contains("end"), "{}", problems[0]);
    }

    #[test]
    fn built_in_patterns_fill() {
        for id in Pattern::built_in() {
            let pattern = Pattern::find(id).unwrap_or_else(|e| panic!("{e}"));
            pattern.expand(&IndexMap::new()).unwrap_or_else(|p| panic!("{id}: {}", p[0]));
        }
    }
}
