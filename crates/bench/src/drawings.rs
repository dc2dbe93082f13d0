//! Pictures as a page takes them.

use crate::marks::encoded;
use drawing::{GearAlong, GearDrawing, GearRow, GearSpot, Picture, Verdict, running_gear};
use engine::judge::Judgement;
use engine::model::JointIx;
use engine::view::{Along, Out, Side, gear_plan};
use maud::{Markup, PreEscaped, html};
use std::fmt::Write as _;

/// A drawing, or why there is none.
#[derive(Clone, Debug)]
pub(crate) enum Drawn {
    /// SVG, and what it shows in words.
    Picture { svg: String, words: String },
    /// Why it cannot be drawn.
    Not(String),
}

impl Drawn {
    /// A drawing that says in its title what it shows.
    pub(crate) fn titled(svg: String) -> Drawn {
        let title = svg.split_once("<title>").and_then(|(_, rest)| rest.split_once("</title>"));
        // The title is escaped in the drawing, and is escaped again where it is put on a page.
        let words = title.map_or("a drawing", |(t, _)| t).replace("&amp;", "&");
        Drawn::Picture { svg, words }
    }
}

/// Half the side of the square about a sign that leads to its joint, points.
const REACH: f64 = 9.5;

/// The running gear with every joint's verdict; each sign leads to its joint. Those that are not
/// within have the number of their line in the list, worst first.
pub(crate) fn gear(judgement: &Judgement) -> Drawn {
    let engine = judgement.engine();
    let plan = gear_plan(engine);
    let order = judgement.worst_first();
    let verdict = |ix: JointIx| {
        Verdict::from_word(judgement.joint(ix).verdict.word()).unwrap_or(Verdict::NoLimit)
    };
    let spots = plan
        .places
        .iter()
        .map(|p| {
            let along = match p.along {
                Along::Cylinder => Some(GearAlong::Cylinder),
                Along::Crosshead => Some(GearAlong::Crosshead),
                Along::Axle(n) => Some(GearAlong::Axle(n)),
                Along::Gear => Some(GearAlong::Gear),
                Along::Tender(n) => Some(GearAlong::Tender(n)),
                Along::Drawbar => Some(GearAlong::Drawbar),
                Along::Elsewhere => None,
            };
            let verdict = verdict(p.joint);
            let mark = if verdict < Verdict::Within {
                order
                    .iter()
                    .position(|j| *j == p.joint)
                    .map_or(String::new(), |n| (n + 1).to_string())
            } else {
                String::new()
            };
            GearSpot { place: along.map(|a| (a, row(p.out, p.side, plan.inside))), verdict, mark }
        })
        .collect();
    let asked = GearDrawing {
        title: engine.name.clone(),
        axles: plan.axles.clone(),
        driving: plan.driving,
        tender_axles: plan.tender_axles,
        spots,
    };
    match running_gear(&asked) {
        Err(why) => Drawn::Not(why.to_string()),
        Ok((picture, at)) => {
            let mut links = String::new();
            for (place, (x, y)) in plan.places.iter().zip(at) {
                let joint = engine.joint(place.joint);
                let name = if joint.name.is_empty() { &joint.id } else { &joint.name };
                let words = html! { (name) ": " (verdict(place.joint).word()) }.into_string();
                // A figure and an address of our own, and words that are escaped.
                let _ = write!(
                    links,
                    "<a href=\"/joint/{}\"><title>{words}</title><rect x=\"{:.1}\" y=\"{:.1}\" width=\"{:.1}\" height=\"{:.1}\" fill=\"transparent\" pointer-events=\"all\"/></a>",
                    encoded(&joint.id),
                    x - REACH,
                    y - REACH,
                    2.0 * REACH,
                    2.0 * REACH
                );
            }
            let svg = picture.svg.replacen("</svg>", &format!("{links}</svg>"), 1);
            Drawn::Picture { svg, words: picture.description }
        }
    }
}

fn row(out: Out, side: Side, inside: bool) -> GearRow {
    match (out, side) {
        (_, Side::Both) => GearRow::Middle,
        (Out::Middle, Side::Left) => GearRow::MiddleLeft,
        (Out::Middle, Side::Right) => GearRow::MiddleRight,
        (Out::Motion, Side::Left) if inside => GearRow::MotionLeft,
        (Out::Motion, Side::Right) if inside => GearRow::MotionRight,
        (Out::Box, Side::Left) => GearRow::BoxLeft,
        (Out::Box, Side::Right) => GearRow::BoxRight,
        (_, Side::Left) => GearRow::OutLeft,
        (_, Side::Right) => GearRow::OutRight,
    }
}

/// Drawings of a joint: its figures against its limits, and its worst surfaces.
pub(crate) fn joint(judgement: &Judgement, ix: JointIx) -> (Vec<Drawn>, Vec<Drawn>) {
    let pictures = paper::joint_pictures(judgement, ix);
    let drawn = |(svg, words)| Drawn::Picture { svg, words };
    let bars = pictures.bars.into_iter().map(drawn).collect();
    let mut plots: Vec<Drawn> = pictures.plots.into_iter().map(drawn).collect();
    plots.extend(pictures.faults.into_iter().map(Drawn::Not));
    (bars, plots)
}

/// A picture of the drawing crate.
pub(crate) fn picture(p: Picture) -> Drawn {
    Drawn::Picture { svg: p.svg, words: p.description }
}

/// On the page.
pub(crate) fn shown(drawn: &Drawn) -> Markup {
    match drawn {
        // The drawing escapes its own words, and says itself what it shows.
        Drawn::Picture { svg, words } => html! {
            figure.drawing role="group" aria-label=(words) { (PreEscaped(svg)) }
        },
        Drawn::Not(why) => html! { p.quiet { "Not drawn: " (why) "." } },
    }
}

/// On the page, in a box that scrolls sideways where the screen is narrow.
pub(crate) fn wide(drawn: &Drawn) -> Markup {
    match drawn {
        Drawn::Picture { svg, words } => html! {
            figure.drawing.map role="region" aria-label=(words) tabindex="0" { (PreEscaped(svg)) }
        },
        Drawn::Not(why) => html! { p.quiet { "Not drawn: " (why) "." } },
    }
}
