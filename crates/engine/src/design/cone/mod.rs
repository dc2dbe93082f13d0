//! Cones drawn home by cotter, gib and cotter or nut, and taper pins: seat, draw left, grip, and the
//! strength of what holds them.

mod drive;
mod grip;
mod pin;
mod strength;

pub use drive::CotterDrive;
pub(super) use drive::{cotter_drive, is_asked as cotter_asked};

use super::ask::{Ask, because};
use super::shapes::{Design, Line, Of, Section, Standing};
use crate::judge::Estimate;
use crate::model::{Measure, When};
use mechanics::wedge::{
    self as mw, ConeForce, ConeGripPressure, ConeSeat, ConeStand, ConeTaper, CotterCheck, DrawLimit,
};

/// What holds a cone in its socket.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeldBy {
    /// The duty does not say.
    NotSaid,
    /// A nut.
    Nut,
    /// A cotter.
    Cotter,
    /// A gib and cotter.
    GibAndCotter,
    /// Nothing: it is a taper pin, held by its own friction.
    TaperPin,
}

impl HeldBy {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            HeldBy::NotSaid => "what the duty does not say (held-by)",
            HeldBy::Nut => "a nut",
            HeldBy::Cotter => "a cotter",
            HeldBy::GibAndCotter => "a gib and cotter",
            HeldBy::TaperPin => "its own friction, driven home",
        }
    }
}

/// The calculation behind a cone or a taper pin.
#[derive(Clone, Debug, PartialEq)]
pub struct ConeDetail {
    /// What holds it.
    pub held_by: HeldBy,
    /// Length for one of change on the diameter.
    pub n: f64,
    /// Cone at its gauge plane (m).
    pub cone_m: f64,
    /// Socket at its gauge plane (m).
    pub socket_m: f64,
    /// Length that bears (m).
    pub length_m: Option<f64>,
    /// How far it stands from home, hand tight (m), least and most.
    pub stands_m: (f64, f64),
    /// The same wanted when put back (m).
    pub wanted_m: Option<(f64, f64)>,
    /// Sizes to which the cone is ground for that (m).
    pub grind_m: Option<(f64, f64)>,
    /// What is left of its draw.
    pub seat: Option<ConeStand>,
    /// Grip when drawn by the draw that is left.
    pub grip: Option<(ConeGripPressure, ConeForce)>,
    /// The cotter joint's checks.
    pub cotter: Option<[CotterCheck; 9]>,
    /// How the cotter drives and holds.
    pub drive: Option<CotterDrive>,
    /// Shear in a taper pin (Pa).
    pub pin_shear_pa: Option<f64>,
}

pub(super) fn design_cone(ask: &mut Ask<'_>, out: &mut Design) {
    let what = "the cone";
    let judgement = ask.judgement;
    let engine = judgement.engine();
    let joint = engine.joint(ask.joint);
    let Some(taper) = joint.taper else {
        out.absent.push(because(
            what,
            "the joint has no taper: write taper = \"1 in 16\" in its [[joint]]",
        ));
        return;
    };
    let taper = match ConeTaper::one_in(1.0 / taper) {
        Ok(t) => t,
        Err(e) => {
            out.absent.push(because(what, e));
            return;
        }
    };
    let size = |f| judgement.feature(f).size.as_ref().map(Estimate::si);
    let (Some(cone_m), Some(socket_m), Some(draw)) =
        (size(joint.inner), size(joint.outer), judgement.joint(ask.joint).measure(Measure::Draw))
    else {
        out.absent.push(because(what, "cone and socket must both be gauged at their gauge plane"));
        return;
    };
    let held_by = match ask.maybe_text("held-by") {
        Some("nut") => HeldBy::Nut,
        Some("cotter") => HeldBy::Cotter,
        Some("gib and cotter") => HeldBy::GibAndCotter,
        Some("taper pin") => HeldBy::TaperPin,
        _ => HeldBy::NotSaid,
    };
    let mut detail = ConeDetail {
        held_by,
        n: taper.n(),
        cone_m,
        socket_m,
        length_m: ask.maybe("length"),
        stands_m: (draw.si() - 2.0 * draw.u(), draw.si() + 2.0 * draw.u()),
        wanted_m: limits(ask),
        grind_m: None,
        seat: None,
        grip: None,
        cotter: None,
        drive: None,
        pin_shear_pa: None,
    };
    seat(ask, taper, &mut detail, out);
    let asked = ["socket-outer", "friction"].iter().any(|n| ask.has(n));
    if held_by != HeldBy::TaperPin || asked {
        detail.grip = grip::grip(ask, cone_m, taper, detail.seat.as_ref(), out);
    }
    match held_by {
        HeldBy::TaperPin => detail.pin_shear_pa = pin::shear(ask, cone_m, taper, out),
        HeldBy::Nut => {}
        HeldBy::NotSaid | HeldBy::Cotter | HeldBy::GibAndCotter => {
            detail.cotter = strength::cotter(ask, out);
            if held_by != HeldBy::NotSaid || cotter_asked(ask) {
                detail.drive = cotter_drive(ask, held_by == HeldBy::GibAndCotter, out);
            }
        }
    }
    out.not_considered.push(
        "loads that reverse fatigue the slot and want much lower stresses than a static check",
    );
    out.caution("drawing a cone stores energy and it may let go at once: restrain it, nobody in line, a competent person at the jack or hammer");
    out.detail.cone = Some(Box::new(detail));
}

fn seat(ask: &mut Ask<'_>, taper: ConeTaper, detail: &mut ConeDetail, out: &mut Design) {
    let pin = detail.held_by == HeldBy::TaperPin;
    let (stands_m, socket) = (detail.stands_m, detail.socket_m);
    let mut lines = vec![
        Line::band("stands from home, hand tight", stands_m.0, stands_m.1, Of::Difference)
            .note(format!("a thou on the diameter is {:.1} thou along it", taper.n())),
    ];
    if let Some((low, high)) = detail.wanted_m {
        lines.push(Line::band("wanted when put back", low, high, Of::Difference).stands(
            if stands_m.0 >= low && stands_m.1 <= high { Standing::Good } else { Standing::Look },
        ));
        let grind = (socket + low / taper.n(), socket + high / taper.n());
        detail.grind_m = Some(grind);
        lines.push(
            Line::band(
                if pin { "for that, a pin of" } else { "for that, grind the cone to" },
                grind.0,
                grind.1,
                Of::Size,
            )
            .note("at its gauge plane, to the socket as gauged"),
        );
    }
    if let Some(draw_m) = ask.one("draw") {
        let shoulder_m = ask.maybe("shoulder");
        match mw::cone_stand(&ConeSeat {
            rod_large_m: detail.cone_m,
            socket_large_m: socket,
            taper,
            shoulder_m,
            draw_m,
        }) {
            Ok(s) => {
                lines.push(
                    Line::one("can still be drawn home", s.draw_left_m, Of::Difference)
                        .stands(if s.draw_left_m > 0.0 { Standing::Good } else { Standing::Bad })
                        .note(match s.limit {
                            DrawLimit::Shoulder => "then the shoulder meets the socket",
                            DrawLimit::Draw if pin => "then the pin is in to its head",
                            DrawLimit::Draw => "then cotter or nut has no more draw",
                        }),
                );
                lines.push(Line::one(
                    "wear on the diameter that uses that up",
                    s.wear_left_m,
                    Of::Difference,
                ));
                detail.seat = Some(s);
            }
            Err(e) => out.absent.push(because("draw left", e)),
        }
    } else {
        out.absent.push(ask.absent("draw left"));
    }
    out.sections.push(Section::new("the seat", lines));
}

fn limits(ask: &Ask<'_>) -> Option<(f64, f64)> {
    let l = super::wanted::limit(
        &ask.judgement.engine().joint(ask.joint).limits,
        Measure::Draw,
        When::Refit,
    )?;
    Some((l.min_si()?, l.max_si()?))
}
