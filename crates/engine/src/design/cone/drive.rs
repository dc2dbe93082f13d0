//! How a cotter, or a gib and cotter, drives, draws and holds.

use crate::design::ask::{Ask, because};
use crate::design::shapes::{Design, Line, Of, Section, Standing};
use crate::design::wedge::drive_and_draw;
use mechanics::wedge::{
    self as mw, Friction, GibCotter, GibDraw, GibLimit, Holding, Spread, Taper, Wedge,
};

/// The calculation behind a cotter's drive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CotterDrive {
    /// Does it stay by itself?
    pub holding: Holding,
    /// Force to drive it for the preload and to start it out (N).
    pub forces: Option<(Spread, Spread)>,
    /// What is left of its draw.
    pub draw: Option<GibDraw>,
    /// Shear in gib and cotter together under the load (Pa).
    pub shear_pa: Option<f64>,
}

const LINES: [&str; 4] = ["cotter-taper", "gap-at-gib", "gap-at-cotter", "drive-left"];

/// The duty says something of it.
pub(in crate::design) fn is_asked(ask: &Ask<'_>) -> bool {
    LINES.iter().any(|n| ask.has(n))
}

/// Drive, hold and draw of a cotter; `with_gib` says that a gib stands beside it.
pub(in crate::design) fn cotter_drive(
    ask: &mut Ask<'_>,
    with_gib: bool,
    out: &mut Design,
) -> Option<CotterDrive> {
    let what = if with_gib { "drive of gib and cotter" } else { "drive of the cotter" };
    let Some(slope) = ask.one("cotter-taper") else {
        out.absent.push(ask.absent(what));
        return None;
    };
    let (low, likely, high) = ask.friction((0.08, 0.12, 0.18), "greased steel on steel");
    let made = Taper::from_slope(slope).and_then(|t| Ok((t, Friction::new(low, likely, high)?)));
    let (taper, friction) = match made {
        Ok(pair) => pair,
        Err(e) => {
            out.absent.push(because(what, e));
            return None;
        }
    };
    let wedge = Wedge::one_sided(taper, friction);
    let holding = mw::holding(&wedge);
    let mut lines = vec![
        Line::words("by itself it", holding.text()).stands(if holding == Holding::Holds {
            Standing::Good
        } else {
            Standing::Bad
        }),
        Line::one("draw for each inch driven", 0.0254 * slope, Of::Difference),
    ];
    let draw = draw(ask, taper, with_gib, &mut lines, out);
    let forces = forces(ask, &wedge, &mut lines, out);
    let shear_pa = if with_gib { shear(ask, &mut lines, out) } else { None };
    out.sections
        .push(Section::new(if with_gib { "gib and cotter" } else { "the cotter driven" }, lines));
    out.caution("a cotter under load can fly when it is struck: eye protection, nobody in line, and its security in before anything is moved");
    Some(CotterDrive { holding, forces, draw, shear_pa })
}

fn draw(
    ask: &mut Ask<'_>,
    taper: Taper,
    with_gib: bool,
    lines: &mut Vec<Line>,
    out: &mut Design,
) -> Option<GibDraw> {
    let what = "draw left in the cotter";
    let drive = ask.one("drive-left");
    // Alone in its slots, the cotter has the same two gaps with no gib between.
    let gaps = (ask.one("gap-at-gib"), ask.one("gap-at-cotter"));
    let (Some(drive_left_m), (Some(gap_at_gib_m), Some(gap_at_cotter_m))) = (drive, gaps) else {
        out.absent.push(ask.absent(what));
        return None;
    };
    match mw::gib_draw(&GibCotter { taper, gap_at_gib_m, gap_at_cotter_m, drive_left_m }) {
        Ok(d) => {
            lines.push(
                Line::one("can still draw", d.draw_left_m, Of::Difference)
                    .stands(if d.draw_left_m > 0.0 { Standing::Good } else { Standing::Bad })
                    .note(match d.limit {
                        GibLimit::GapAtGib if with_gib => "then the gib meets the rod's slot",
                        GibLimit::GapAtGib => "then the cotter's straight edge meets its slot",
                        GibLimit::GapAtCotter => "then the cotter meets the outer slot",
                        GibLimit::CotterHome => "then the cotter is driven to its end",
                    }),
            );
            lines.push(Line::one("drive that takes", d.drive_m, Of::Length));
            Some(d)
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}

fn forces(
    ask: &mut Ask<'_>,
    wedge: &Wedge,
    lines: &mut Vec<Line>,
    out: &mut Design,
) -> Option<(Spread, Spread)> {
    let what = "forces on the cotter";
    let Some(preload) = ask.one("preload") else {
        out.absent.push(ask.absent(what));
        return None;
    };
    let to_drive = "to drive it, low to high friction";
    drive_and_draw(ask, wedge, (preload, what, to_drive), lines, out)
}

fn shear(ask: &mut Ask<'_>, lines: &mut Vec<Line>, out: &mut Design) -> Option<f64> {
    let what = "shear in gib and cotter";
    let widths = (ask.one("gib-width"), ask.one("cotter-width"), ask.one("cotter-thickness"));
    let loads = (ask.one("load"), ask.one("shear-allowed"));
    let ((Some(gib), Some(cotter), Some(thick)), (Some(load), Some(allowed))) = (widths, loads)
    else {
        out.absent.push(ask.absent(what));
        return None;
    };
    match mw::gib_shear_pa(load, gib + cotter, thick) {
        Ok(pa) => {
            lines.push(
                Line::one("shear in both together", pa, Of::Stress)
                    .good_if(pa <= allowed)
                    .note(format!("{:.0} MPa is allowed", 1e-6 * allowed)),
            );
            Some(pa)
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}
