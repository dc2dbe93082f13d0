//! The working point that the loads are taken at.

use super::Fault;
use crate::design::ask::Ask;
use crate::motion::{Mechanism, SteamSaid};
use quantity::{Dimension, print_both};

/// Speed and steam.
pub(super) struct WorkingPoint {
    pub(super) speed_m_s: f64,
    pub(super) speed_words: String,
    pub(super) steam: SteamSaid,
}

/// Speed from the duty's `speed`, else from its `turning` and the tyre; pressure from its `steam`,
/// else the boiler's; cut-off from its `cut-off`, else the whole stroke, which no ordinary running
/// exceeds.
pub(super) fn working_point(
    ask: &mut Ask<'_>,
    mechanism: &Mechanism,
) -> Result<WorkingPoint, Fault> {
    let tyre_m = mechanism.tyre()?.diameter_m;
    let speed = match (ask.maybe("speed"), ask.maybe("turning")) {
        (Some(v), _) => Some((v, String::new())),
        (None, Some(w)) => {
            Some((0.5 * w * tyre_m, " by the duty's turning and the tyre".to_owned()))
        }
        (None, None) => ask.one("speed").map(|v| (v, String::new())),
    };
    let boiler = ask.judgement.engine().motion.figures.get("pressure").copied();
    let steam = match (ask.maybe("steam"), boiler) {
        (Some(p), _) => Some(p),
        (None, Some(p)) => {
            ask.note("steam", said(p), "pressure in [motion]: the duty names none");
            Some(p)
        }
        (None, None) => ask.one("steam"),
    };
    let cut_off = ask.maybe("cut-off");
    let (Some((speed_m_s, how)), Some(pressure)) = (speed, steam) else {
        return Err(Fault::Wants);
    };
    let steam = match cut_off {
        _ if pressure == 0.0 => SteamSaid::Drifting,
        Some(share) if share >= 1.0 => SteamSaid::WholeStroke(pressure),
        Some(share) => SteamSaid::CutOff(pressure, share),
        None => {
            ask.note(
                "cut-off",
                "steam for the whole stroke",
                "the duty names no cut-off: no ordinary running is harder",
            );
            SteamSaid::WholeStroke(pressure)
        }
    };
    let speed_words =
        format!("{:.0} km/h ({:.0} miles an hour){how}", 3.6 * speed_m_s, speed_m_s / 0.447_04);
    Ok(WorkingPoint { speed_m_s, speed_words, steam })
}

fn said(pa: f64) -> String {
    print_both(pa, Dimension::Pressure, Some(pa.abs() / 500.0))
}
