//! Grip of a cone when it is drawn home.

use crate::design::ask::{Ask, because};
use crate::design::shapes::{Design, Line, Of, Section};
use mechanics::wedge::{
    self as mw, ConeElastic, ConeForce, ConeGrip, ConeGripPressure, ConeStand, ConeTaper, Friction,
};

pub(super) fn grip(
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
