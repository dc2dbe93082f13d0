//! Strength of a cotter joint.

use crate::design::ask::{Ask, because};
use crate::design::shapes::{Design, Line, Of, Section};
use mechanics::wedge::{self as mw, AllowedStress, CotterCheck, CotterFailure, CotterJoint};

pub(super) fn cotter(ask: &mut Ask<'_>, out: &mut Design) -> Option<[CotterCheck; 9]> {
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
