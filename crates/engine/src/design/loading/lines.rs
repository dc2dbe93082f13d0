//! What the load through a turn is told as.

use super::{Carries, TurnLoad};
use crate::design::ask::Ask;
use crate::design::shapes::{Design, Line, Of, Section, Standing};
use mechanics::bearing::LoadCharacter;

/// Says the load through a turn, and where a steady film does not answer for it.
pub(in crate::design) fn turn_lines(ask: &mut Ask<'_>, t: &TurnLoad, out: &mut Design) {
    let mut lines = vec![
        Line::words("taken at", t.point.clone()),
        Line::one("greatest load", t.greatest_n, Of::Force).note(t.greatest_at.clone()),
        Line::one("mean load", t.mean_n, Of::Force),
    ];
    let axle = t.carries == Carries::Axlebox;
    if let Some(dead) = t.dead_n {
        lines.push(Line::one("dead load", dead, Of::Force));
    }
    if let Some(said) = ask.maybe("load") {
        let (of, what) = match t.dead_n {
            Some(dead) if axle => (dead, "the dead load of the motion"),
            _ => (t.greatest_n, "the greatest of the turn"),
        };
        let off = said / of.max(f64::MIN_POSITIVE) - 1.0;
        lines.push(
            Line::one("the duty's own load, not used here", said, Of::Force)
                .note(format!("{:+.0} % against {what}", 100.0 * off))
                .stands(if off < -0.1 { Standing::Look } else { Standing::Plain }),
        );
    }
    let sides = match t.carries {
        Carries::BigEnd => [
            ("on the outer brass, at most", t.along_n().0),
            ("on the brass next to the rod, at most", t.along_n().1),
        ],
        Carries::LittleEnd => {
            [("rod in thrust, at most", t.along_n().0), ("rod in pull, at most", t.along_n().1)]
        }
        Carries::SlideBars => [
            ("on the upper bar, at most", t.along_n().0),
            ("on the lower bar, at most", t.along_n().1),
        ],
        Carries::Axlebox => [
            ("forward on the box, at most", t.across_n().0),
            ("backward on the box, at most", t.across_n().1),
        ],
        Carries::Horn | Carries::CouplingPin => {
            [("forward, at most", t.along_n().0), ("backward, at most", t.along_n().1)]
        }
    };
    lines.extend(sides.map(|(label, n)| Line::one(label, n, Of::Force)));
    if t.rubbing_m_s.0 > 0.0 {
        lines.push(Line::band(
            "rubbing speed, mean to greatest",
            t.rubbing_m_s.1,
            t.rubbing_m_s.0,
            Of::Speed,
        ));
    }
    let reverses = match &t.swing {
        Some(s) => s.character == LoadCharacter::Reversing,
        None => t.along_n().0 > 0.1 * t.greatest_n && t.along_n().1 > 0.1 * t.greatest_n,
    };
    lines.push(Line::words(
        "the load",
        match (&t.swing, reverses) {
            (Some(s), true) if s.spread_rad > 6.0 => {
                "goes right round the bearing every turn".to_owned()
            }
            (Some(s), true) => format!(
                "reverses every turn: its direction takes up {:.0} deg of the bearing",
                s.spread_rad.to_degrees()
            ),
            (Some(s), false) => {
                format!("swings through {:.0} deg and does not reverse", s.spread_rad.to_degrees())
            }
            (None, true) => "reverses every turn".to_owned(),
            (None, false) => "keeps to one side".to_owned(),
        },
    ));
    if let Some(s) = &t.swing {
        let at = t.steps.get(s.least_at).map_or(0.0, |p| p.wheel_rad.to_degrees());
        lines.push(
            Line::words(
                "oil wedge left by the swing",
                format!(
                    "{:.0} % of a steady load's at the least (wheel angle {at:.0} deg); less than half of it through {:.0} % of the turn",
                    100.0 * s.least_wedge,
                    100.0 * s.weak_share
                ),
            )
            .note("there a steady film does not answer at all: squeeze carries the load, and how thin it gets is not computed")
            .stands(if s.weak_share > 0.0 { Standing::Look } else { Standing::Plain }),
        );
    } else if t.carries == Carries::LittleEnd {
        lines.push(
            Line::words(
                "oil wedge",
                "none to count on: the pin swings to and fro and stands still twice a turn",
            )
            .stands(Standing::Look),
        );
    }
    for words in &t.besides {
        lines.push(Line::words("besides", words.clone()));
    }
    out.sections.push(Section::new("load through a turn, from the motion of this engine", lines));
    out.not_considered.push("in the load through a turn: knock of slack, water in the cylinder, slipping wheels, blows of the road, parts that spring");
}
