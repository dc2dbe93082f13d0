//! Cones drawn home by cotter or nut: seat, draw left, grip, and the cotter's strength.

use super::ask::{Ask, because};
use super::shapes::{Design, Line, Of, Section, Standing};
use crate::judge::Estimate;
use crate::model::{Measure, When};
use mechanics::wedge::{
    self as mw, AllowedStress, ConeElastic, ConeForce, ConeGrip, ConeGripPressure, ConeSeat,
    ConeStand, ConeTaper, CotterCheck, CotterFailure, CotterJoint, DrawLimit, Friction,
};

/// The calculation behind a cone.
#[derive(Clone, Debug, PartialEq)]
pub struct ConeDetail {
    /// How far it stands from home, hand tight (m), least and most.
    pub stands_m: (f64, f64),
    /// What is left of its draw.
    pub seat: Option<ConeStand>,
    /// Grip when drawn by the draw that is left.
    pub grip: Option<(ConeGripPressure, ConeForce)>,
    /// The cotter joint's checks.
    pub cotter: Option<[CotterCheck; 9]>,
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
    let (Some(rod), Some(socket), Some(draw)) =
        (size(joint.inner), size(joint.outer), judgement.joint(ask.joint).measure(Measure::Draw))
    else {
        out.absent.push(because(what, "cone and socket must both be gauged at their gauge plane"));
        return;
    };
    let stands_m = (draw.si() - 2.0 * draw.u(), draw.si() + 2.0 * draw.u());
    let mut lines = vec![
        Line::band("stands from home, hand tight", stands_m.0, stands_m.1, Of::Difference)
            .note(format!("a thou on the diameter is {:.1} thou along it", taper.n())),
    ];
    if let Some((low, high)) = limits(ask) {
        lines.push(Line::band("wanted when put back", low, high, Of::Difference).stands(
            if stands_m.0 >= low && stands_m.1 <= high { Standing::Good } else { Standing::Look },
        ));
        lines.push(
            Line::band(
                "for that, grind the cone to",
                socket + low / taper.n(),
                socket + high / taper.n(),
                Of::Size,
            )
            .note("at its gauge plane, to the socket as gauged"),
        );
    }
    let mut detail = ConeDetail { stands_m, seat: None, grip: None, cotter: None };
    if let Some(draw_m) = ask.one("draw") {
        let shoulder_m = ask.maybe("shoulder");
        match mw::cone_stand(&ConeSeat {
            rod_large_m: rod,
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
    detail.grip = grip(ask, rod, taper, detail.seat.as_ref(), out);
    detail.cotter = cotter(ask, out);
    out.not_considered.push(
        "loads that reverse fatigue the slot and want much lower stresses than a static check",
    );
    out.caution("drawing a cone stores energy and it may let go at once: restrain it, nobody in line, a competent person at the jack or hammer");
    out.detail.cone = Some(Box::new(detail));
}

fn limits(ask: &Ask<'_>) -> Option<(f64, f64)> {
    let l = super::wanted::limit(
        &ask.judgement.engine().joint(ask.joint).limits,
        Measure::Draw,
        When::Refit,
    )?;
    Some((l.min_si()?, l.max_si()?))
}

fn grip(
    ask: &mut Ask<'_>,
    rod_m: f64,
    taper: ConeTaper,
    seat: Option<&ConeStand>,
    out: &mut Design,
) -> Option<(ConeGripPressure, ConeForce)> {
    let what = "grip of the cone when drawn home";
    let joint = ask.judgement.engine().joint(ask.joint);
    let outside = ask.one("socket-outer");
    let length = ask.one("length");
    let rod = ask.strength_of(joint.inner);
    let socket = ask.strength_of(joint.outer);
    let friction = ask.friction((0.08, 0.12, 0.18), "oiled steel cones");
    let (Some(socket_outside_m), Some(length_m), Some(rod), Some(socket), Some(seat)) =
        (outside, length, rod, socket, seat)
    else {
        out.absent.push(ask.absent(what));
        return None;
    };
    // A cone is measured at its large end; over the length that bears it is half the taper less.
    let mean_diameter_m = rod_m - 0.5 * length_m * taper.on_diameter();
    let draw_m = seat.stands_out_m.max(0.0).min(seat.draw_left_m.max(0.0));
    let answer = (|| {
        let p = mw::pressure_from_draw(
            &ConeElastic {
                mean_diameter_m,
                socket_outside_m,
                rod_modulus_pa: rod.youngs_pa,
                rod_poisson: rod.poisson,
                socket_modulus_pa: socket.youngs_pa,
                socket_poisson: socket.poisson,
            },
            taper,
            draw_m,
        )?;
        let friction = Friction::new(friction.0, friction.1, friction.2)?;
        let f = mw::cone_force_n(
            &ConeGrip { mean_diameter_m, length_m, taper, friction },
            p.pressure_pa,
        )?;
        Ok::<_, mw::WedgeError>((p, f))
    })();
    match answer {
        Ok((p, f)) => {
            let three = |s: &mw::Spread| (s.at_low, s.at_likely, s.at_high);
            out.sections.push(Section::new(
                "grip when drawn home by its stand",
                vec![
                    Line::one("drawn by", draw_m, Of::Difference),
                    Line::one("pressure on the cone", p.pressure_pa, Of::Stress),
                    Line::one("hoop stress in the socket", p.socket_hoop_pa, Of::Stress)
                        .good_if(p.socket_hoop_pa <= socket.yield_pa)
                        .note(format!("yield {:.0} MPa", 1e-6 * socket.yield_pa)),
                    Line::spread("force to draw it in", three(&f.draw_in_n), Of::Force),
                    Line::spread("force to push it out", three(&f.push_out_n), Of::Force),
                ],
            ));
            Some((p, f))
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}

fn cotter(ask: &mut Ask<'_>, out: &mut Design) -> Option<[CotterCheck; 9]> {
    let what = "strength of the cotter joint";
    let sizes = [
        ask.one("rod"),
        ask.one("rod-end"),
        ask.one("socket-outer"),
        ask.one("socket-collar"),
        ask.one("cotter-thickness"),
        ask.one("cotter-width"),
        ask.one("rod-beyond"),
        ask.one("socket-beyond"),
    ];
    let load = ask.one("load");
    let allowed =
        [ask.one("tension-allowed"), ask.one("shear-allowed"), ask.one("bearing-allowed")];
    let all: Option<Vec<f64>> = sizes.into_iter().collect();
    let stress: Option<Vec<f64>> = allowed.into_iter().collect();
    let (Some(s), Some(load), Some(a)) = (all, load, stress) else {
        out.absent.push(ask.absent(what));
        return None;
    };
    let joint = CotterJoint {
        rod_m: s[0],
        rod_end_m: s[1],
        socket_m: s[2],
        socket_collar_m: s[3],
        cotter_thickness_m: s[4],
        cotter_width_m: s[5],
        rod_end_beyond_m: s[6],
        socket_beyond_m: s[7],
    };
    let allowed = AllowedStress { tension_pa: a[0], shear_pa: a[1], crushing_pa: a[2] };
    match mw::check_cotter_joint(&joint, load, &allowed) {
        Ok(checks) => {
            let name = |f: CotterFailure| match f {
                CotterFailure::RodTension => "rod pulled in two",
                CotterFailure::RodEndTension => "rod end pulled in two across the slot",
                CotterFailure::RodEndCrushing => "rod end or cotter crushed",
                CotterFailure::RodEndShear => "rod end sheared out behind the slot",
                CotterFailure::SocketTension => "socket pulled in two across the slot",
                CotterFailure::SocketCrushing => "socket or cotter crushed",
                CotterFailure::SocketShear => "socket sheared out behind the slot",
                CotterFailure::CotterShear => "cotter sheared",
                CotterFailure::CotterBending => "cotter bent",
            };
            let lines = checks
                .iter()
                .map(|c| {
                    Line::one(name(c.failure), c.stress_pa, Of::Stress)
                        .good_if(c.share <= 1.0)
                        .note(format!("{:.0} % of {:.0} MPa", 100.0 * c.share, 1e-6 * c.allowed_pa))
                })
                .collect();
            out.sections.push(Section::new("cotter joint under the load given", lines));
            Some(checks)
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}
