//! The lands to make, and what the bolt wants besides.

use crate::design::shapes::{Design, Line, Of, Section, Standing};
use mechanics::bolt::{BoltDesign, DesignFinding, LandRole};

pub(super) fn bolt_lines(
    bolt: &BoltDesign,
    names: &[String],
    reamed_m: Option<f64>,
    out: &mut Design,
) {
    let mut lines = vec![Line::words("stamp head and hole", format!("{}", bolt.hole_number))];
    for land in &bolt.lands {
        let name = names.get(land.member).map_or("", String::as_str);
        let role = match land.role {
            LandRole::Fitted => "land in",
            LandRole::Pilot => "pilot in",
            LandRole::Bridge => "plain behind",
        };
        lines.push(
            Line::band(
                format!("{role} {name}"),
                land.diameter_min_m,
                land.diameter_max_m,
                Of::Size,
            )
            .note(format!(
                "{:.1} to {:.1} mm under the head; interference {:+.1} to {:+.1} um",
                1e3 * land.from_m,
                1e3 * land.to_m,
                1e6 * land.interference_m.0,
                1e6 * land.interference_m.1
            )),
        );
    }
    if reamed_m.is_some() {
        lines.push(Line::words(
            "order of work",
            "ream, gauge the reamed holes, and move each land's band by what they differ from the size above",
        ));
    }
    lines.push(Line::one("length under the head", bolt.length_under_head_m, Of::Length));
    lines.push(Line::one("tightens before home by", bolt.tightens_before_home_m, Of::Length).note(
        if bolt.tightens_before_home_m < 0.5 * bolt.grip_m {
            "slides in by hand until then"
        } else {
            "no step: it is driven most of the way"
        },
    ));
    for step in &bolt.slide {
        if let (Some(open), Some(with)) = (step.open_to_m, step.open_with_m) {
            let name = names.get(step.member).map_or("", String::as_str);
            lines.push(
                Line::one(format!("for a step, open {name} to"), open, Of::Size)
                    .note(format!("reamer {:.3} mm", 1e3 * with)),
            );
        }
    }
    for finding in &bolt.findings {
        let name = |i: usize| names.get(i).cloned().unwrap_or_default();
        let words = match finding {
            DesignFinding::TighterInPlaces { member, most_m, wanted_m } => format!(
                "{}: tighter in places, up to {:.1} um where {:.1} is the most wanted",
                name(*member),
                1e6 * most_m,
                1e6 * wanted_m
            ),
            DesignFinding::LooserInPlaces { member, least_m, wanted_m } => format!(
                "{}: looser in places, down to {:.1} um where {:.1} is the least wanted",
                name(*member),
                1e6 * least_m,
                1e6 * wanted_m
            ),
            DesignFinding::DragsThrough { land, through } => {
                format!("the land of {} drags through {}", name(*land), name(*through))
            }
            DesignFinding::ThreadTooLarge { major_m, passes_m } => format!(
                "the thread of {:.2} mm does not pass the holes ({:.2} mm)",
                1e3 * major_m,
                1e3 * passes_m
            ),
            DesignFinding::OutOfLine { offset_m, clearance_m } => format!(
                "the holes are {:.3} mm out of line and the bolt has {:.3} mm of play: ream in line first",
                1e3 * offset_m,
                1e3 * clearance_m
            ),
            _ => continue,
        };
        lines.push(Line::words("look", words).stands(Standing::Look));
    }
    for note in &bolt.notes {
        lines.push(Line::words("note", *note));
    }
    out.sections.push(Section::making("the bolt", lines));
}
