//! Pictures as a page takes them.

use engine::judge::Judgement;
use engine::model::JointIx;
use maud::{Markup, PreEscaped, html};

/// A drawing, or why there is none.
#[derive(Clone, Debug)]
pub(crate) enum Drawn {
    /// SVG, and what it shows in words.
    Picture { svg: String, words: String },
    /// Why it cannot be drawn.
    Not(String),
}

/// The running gear with every joint's verdict.
pub(crate) fn gear(_judgement: &Judgement) -> Drawn {
    Drawn::Not("not yet".to_owned())
}

/// Drawings of a joint.
pub(crate) fn joint(_judgement: &Judgement, _ix: JointIx) -> Vec<Drawn> {
    Vec::new()
}

/// On the page.
pub(crate) fn shown(drawn: &Drawn) -> Markup {
    match drawn {
        // The drawing escapes its own words.
        Drawn::Picture { svg, words } => html! {
            figure.drawing { (PreEscaped(svg)) figcaption.unseen { (words) } }
        },
        Drawn::Not(why) => html! { p.quiet { "Not drawn: " (why) } },
    }
}
