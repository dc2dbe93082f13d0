//! Positions, moves and windows as they are shown.

use super::super::figure::Figure;
use super::shapes::*;
use super::{in_words, shown_to};
use crate::judge::Judgement;
use crate::motion::{Bringing, Mechanism, Reaching, Standing};
use mechanics::motion::{Arc, Caution, CylinderState, Move, Way};

/// Where everything is.
pub fn position_view(
    judgement: &Judgement,
    mechanism: &Mechanism,
    standing: &Standing,
) -> PositionView {
    let engine = judgement.engine();
    PositionView {
        said: standing.said.to_string(),
        wheel_deg: standing.wheel.deg(),
        cylinders: engine
            .motion
            .cylinders
            .iter()
            .zip(&standing.cylinders)
            .map(|(c, state)| cylinder(&c.id, state))
            .collect(),
        notes: mechanism.notes.words(engine),
    }
}

fn cylinder(id: &str, s: &CylinderState) -> CylinderPositionView {
    let (ahead, above) = (s.crank_pin.x_m - s.axle_centre.x_m, s.crank_pin.z_m - s.axle_centre.z_m);
    // Rounding must not call the dead centre a whole turn.
    let past = match s.past_front_dead_centre_rad.to_degrees() {
        deg if deg > 360.0 - 1e-6 => 0.0,
        deg => deg,
    };
    CylinderPositionView {
        cylinder: id.to_owned(),
        place: s.place.words(),
        past_front_deg: past,
        pin: pin_words(ahead, above),
        pin_ahead: shown_to(ahead, 0.5e-3),
        pin_above: shown_to(above, 0.5e-3),
        piston_from_front: shown_to(s.from_front_m, 0.1e-3),
        stroke_percent: 100.0 * s.from_front_share,
        // At a dead centre it stands still.
        going: if past < 1e-6 {
            "at the front"
        } else if s.from_front_share > 1.0 - 1e-9 {
            "at the back"
        } else if s.position_falls() {
            "back"
        } else {
            "forward"
        },
        rod_deg: s.rod_angle_rad.to_degrees(),
    }
}

/// Which way the piston goes in forward running. With an offset the back dead centre is not half
/// a turn after the front one.
trait Falls {
    fn position_falls(&self) -> bool;
}

impl Falls for CylinderState {
    fn position_falls(&self) -> bool {
        // ds/df = -(r sin f + r cos f tan g): its sign is that of -sin(f + g).
        (self.crank_angle_rad + self.rod_angle_rad).sin() > 0.0
    }
}

fn pin_words(ahead: f64, above: f64) -> String {
    let r = ahead.hypot(above);
    let near = |v: f64| v.abs() < 0.2 * r;
    let updown = if above > 0.0 { "top" } else { "bottom" };
    let forback = if ahead > 0.0 { "front" } else { "back" };
    match (near(ahead), near(above)) {
        (true, _) => updown.to_owned(),
        (_, true) => forback.to_owned(),
        _ => format!("{updown} {forback}"),
    }
}

fn move_view(m: &Move) -> MoveView {
    MoveView {
        way: match m.way {
            Way::Forward => "forward",
            Way::Backward => "backward",
        },
        distance: Figure {
            u_si: Some(m.distance_standard_m).filter(|u| *u > 0.0),
            // Nobody stops an engine to the millimetre, however well the tyre is known.
            ..Figure::of_size(m.distance_m, Some(m.distance_standard_m.max(1e-3)))
        },
        turn_deg: m.turn_rad.to_degrees(),
        arrival_doubt_deg: m.arrival_standard_rad.to_degrees(),
    }
}

fn texts(cautions: &[Caution]) -> Vec<&'static str> {
    cautions.iter().map(|c| c.text()).collect()
}

/// How far to go and where everything is then.
pub fn bring_view(judgement: &Judgement, mechanism: &Mechanism, b: &Bringing) -> BringView {
    let tyre = mechanism.tyre.as_ref();
    BringView {
        from: position_view(judgement, mechanism, &b.from),
        to: position_view(judgement, mechanism, &b.to),
        shorter: move_view(&b.moves.shorter),
        other: move_view(&b.moves.other),
        tyre: Figure::of_size(
            tyre.map_or(f64::NAN, quantity::Uncertain::value),
            tyre.map(quantity::Uncertain::standard_uncertainty),
        ),
        cautions: texts(b.cautions),
        notes: mechanism.notes.words(judgement.engine()),
    }
}

/// Windows, common windows and stops.
pub fn reach_view(
    judgement: &Judgement,
    mechanism: &Mechanism,
    from: &Standing,
    r: &Reaching,
) -> ReachView {
    let engine = judgement.engine();
    let running = mechanism.running(0.0);
    let window = |cylinder: usize, a: &Arc| {
        let id = engine.motion.cylinders.get(cylinder).map_or("", |c| c.id.as_str());
        let at = |rad: f64| in_words(&mechanism.motion, &running, id, cylinder, rad);
        WindowView {
            from: at(a.from_rad),
            until: at(a.to_rad()),
            from_deg: a.from_rad.to_degrees(),
            length_deg: a.length_rad.to_degrees(),
        }
    };
    let name = |j: usize| {
        let reach = &r.jobs[j].reach;
        format!("{} ({})", reach.to, reach.by.word())
    };
    ReachView {
        from: from.said.to_string(),
        jobs: r
            .jobs
            .iter()
            .map(|j| ReachJobView {
                to: j.reach.to.clone(),
                by: j.reach.by.word(),
                windows: j.windows.windows().iter().map(|a| window(j.reach.cylinder, a)).collect(),
                now: j.windows.contains(from.wheel.rad()),
                forward: j.moves.as_ref().map(|m| move_view(&m[0])),
                backward: j.moves.as_ref().map(|m| move_view(&m[1])),
                note: j.reach.note.clone(),
            })
            .collect(),
        common: r.common.windows().iter().map(|a| window(0, a)).collect(),
        stops: r
            .stops
            .iter()
            .map(|s| StopView {
                jobs: s.stop.jobs.iter().map(|j| name(*j)).collect(),
                window: window(0, &s.stop.window),
                forward: move_view(&s.forward),
            })
            .collect(),
        cautions: texts(r.cautions),
        notes: mechanism.notes.words(engine),
    }
}
