//! Verdicts, figures and other small pieces of a page.

use crate::visit::Units;
use engine::view::Figure;
use maud::{Markup, html};

/// A verdict: its shape, its word, and a shade of ink; never colour alone.
pub(crate) fn verdict(word: &str) -> Markup {
    html! {
        span class={ "verdict " (class(word)) } {
            span.shape aria-hidden="true" { (engine::view::verdict_sign(word)) }
            " " (word)
        }
    }
}

/// The class of a verdict.
pub(crate) fn class(word: &str) -> &'static str {
    match word {
        "beyond" => "beyond",
        "near" => "near",
        "cannot tell" => "cannot-tell",
        "within" => "within",
        _ => "no-limit",
    }
}

/// Both systems, the chosen one first and large.
pub(crate) fn figure(units: Units, f: &Figure) -> Markup {
    let (first, second) = pair(units, f);
    html! { span.figure { b { (first) } " " small { (second) } } }
}

/// A figure or a dash.
pub(crate) fn figure_or_dash(units: Units, f: Option<&Figure>) -> Markup {
    match f {
        Some(f) => figure(units, f),
        None => html! { "–" },
    }
}

/// Both systems as text.
pub(crate) fn pair(units: Units, f: &Figure) -> (&str, &str) {
    match units {
        Units::Metric => (&f.metric, &f.imperial),
        Units::Imperial => (&f.imperial, &f.metric),
    }
}

/// A text as part of an address.
pub(crate) fn encoded(text: &str) -> String {
    let mut out = String::new();
    for b in text.bytes() {
        if b.is_ascii_alphanumeric() || matches!(b, b'-' | b'.' | b'_' | b'~') {
            out.push(char::from(b));
        } else {
            out.push_str(&format!("%{b:02X}"));
        }
    }
    out
}

/// Cautions, where work can hurt.
pub(crate) fn cautions(all: &[impl AsRef<str>]) -> Markup {
    html! {
        @if !all.is_empty() {
            section.cautions aria-label="Cautions" {
                h2 { "Cautions" }
                ul { @for c in all { li { (c.as_ref()) } } }
            }
        }
    }
}
