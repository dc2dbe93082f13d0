//! Pressure, rubbing speed and their product beside handbook figures.

use super::ask::{Ask, because};
use super::loading::{Carries, TurnLoad};
use super::shapes::{Design, Line, Of, Section, Standing};
use mechanics::bearing::{self as mb, BearingMetal, DutyInput, DutyVerdict, Place, PressureBasis};

pub(super) fn metal(word: &str) -> BearingMetal {
    match word {
        "cast bronze" => BearingMetal::CastBronze,
        "lead white metal" => BearingMetal::LeadWhiteMetal,
        _ => BearingMetal::TinWhiteMetal,
    }
}

fn place(word: &str) -> Place {
    match word {
        "carrying axle" => Place::CarryingAxle,
        "big end" => Place::BigEnd,
        "crosshead pin" => Place::CrossheadPin,
        "slide bar" => Place::SlideBar,
        "eccentric" => Place::Eccentric,
        "coupling pin" => Place::CouplingPin,
        _ => Place::DrivingAxle,
    }
}

fn basis(word: &str) -> PressureBasis {
    if word == "greatest load" { PressureBasis::GreatestLoad } else { PressureBasis::DeadLoad }
}

/// Pressure, rubbing speed and their product beside handbook figures: of the load through a turn
/// where the motion gives one, else of the duty's.
pub(super) fn duty(
    ask: &mut Ask<'_>,
    diameter_m: Option<f64>,
    turn: Option<&TurnLoad>,
    out: &mut Design,
) -> Option<mb::Duty> {
    let what = "pressure and rubbing speed";
    let words = (ask.text("place"), ask.text("load-basis"), ask.text("bearing-metal"));
    // A handbook's pressure for an axlebox may be meant for the weight alone.
    let dead = words.1 == Some("dead load");
    let axle = turn.is_some_and(|t| t.carries == Carries::Axlebox);
    let load = match turn {
        Some(t) => Some(t.dead_n.filter(|_| axle && dead).unwrap_or(t.greatest_n)),
        None => ask.one("load"),
    };
    let length = ask.one("length");
    // A slipper has a width and a speed along its bar; a journal a diameter and a turning speed.
    let (across, turning) = match diameter_m {
        Some(d) => {
            let speed = match turn {
                Some(t) => Some(2.0 * t.rubbing_m_s.0 / d),
                None => ask.one("turning"),
            };
            (Some(d), speed)
        }
        None => {
            let width = ask.one("width");
            let speed = match turn {
                Some(t) => Some(t.rubbing_m_s.0),
                None => ask.one("rubbing-speed"),
            };
            (width, speed.zip(width).map(|(v, w)| 2.0 * v / w))
        }
    };
    let (
        Some(load_n),
        Some(length_m),
        Some(diameter_m),
        Some(speed_rad_s),
        (Some(p), Some(b), Some(m)),
    ) = (load, length, across, turning, words)
    else {
        out.absent.push(ask.absent(what));
        return None;
    };
    match mb::bearing_duty(&DutyInput { load_n, diameter_m, length_m, speed_rad_s }) {
        Ok(d) => {
            // The greatest load of a turn is that, whatever the duty calls its own.
            let by = if turn.is_some() && !(axle && dead) {
                PressureBasis::GreatestLoad
            } else {
                basis(b)
            };
            // A figure for pressure times speed is one of heat: the mean through the turn counts.
            let heats = match turn {
                Some(t) => {
                    let pv_w_m2 = t.mean_load_speed_w / (diameter_m * length_m);
                    mb::Duty { pv_w_m2, ..d }
                }
                None => d,
            };
            let judged = mb::judge_duty(&heats, place(p), by, metal(m));
            let standing = match judged.verdict {
                DutyVerdict::Within => Standing::Good,
                DutyVerdict::Near | DutyVerdict::CannotTell => Standing::Look,
                DutyVerdict::Beyond => Standing::Bad,
            };
            let from = match turn {
                Some(_) if axle && dead => "of the dead load, as the handbook has it",
                Some(_) => "of the greatest load in the turn",
                None => "of the duty's own load: the motion says nothing of this joint",
            };
            let mut lines = vec![
                Line::one("projected pressure", d.pressure_pa, Of::Stress).note(from),
                Line::one("rubbing speed", d.speed_m_s, Of::Speed).note(match turn {
                    Some(_) => "the greatest in the turn",
                    None => "",
                }),
                Line::one("pressure times speed", d.pv_w_m2, Of::PressureSpeed).note(match turn {
                    Some(_) => "the greatest of both",
                    None => "",
                }),
                Line::words("verdict", judged.verdict.text()).stands(standing),
            ];
            if let Some(t) = turn {
                let area = diameter_m * length_m;
                lines.insert(
                    3,
                    Line::one(
                        "its mean through the turn",
                        t.mean_load_speed_w / area,
                        Of::PressureSpeed,
                    )
                    .note("what heats the bearing, times its friction"),
                );
                lines.insert(1, Line::one("of the mean load", t.mean_n / area, Of::Stress));
                if axle && dead {
                    lines.insert(
                        2,
                        Line::one(
                            "of the greatest load in the turn",
                            t.greatest_n / area,
                            Of::Stress,
                        ),
                    );
                }
            }
            lines.extend(judged.reasons.iter().map(|r| Line::words("because", r.clone())));
            out.sections.push(Section::new("bearing duty", lines));
            Some(d)
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}
