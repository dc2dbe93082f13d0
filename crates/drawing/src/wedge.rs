//! What fills the slot of a wedged rod end, as it is and as it will be.

use crate::DrawingError;
use crate::error::length;
use crate::svg::{Anchor, Dash, Fill, Lettering, OUT, PALE, Pen, Picture, Svg};

/// One thing in the slot.
#[derive(Clone, Debug)]
pub struct Filler {
    /// Name.
    pub name: String,
    /// Thickness (m).
    pub thick_m: f64,
    /// Drawn as what it is.
    pub kind: FillerKind,
}

/// What it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FillerKind {
    /// A brass.
    Brass,
    /// A liner.
    Liner,
    /// The wedge.
    Wedge,
    /// Something nobody accounts for.
    Hidden,
}

/// A slot and what fills it.
#[derive(Clone, Debug)]
pub struct SlotState {
    /// "as found", "after repair".
    pub name: String,
    /// Slot (m).
    pub slot_m: f64,
    /// From the crown of the strap to the butt.
    pub fill: Vec<Filler>,
    /// Where the wedge stands, and the least and most it may (m).
    pub stand_m: f64,
    /// Least stand (m).
    pub home_m: f64,
    /// Greatest stand (m).
    pub slack_m: f64,
    /// Taper: thickness for each length.
    pub slope: f64,
}

const WIDTH: f64 = 740.0;
const PITCH: f64 = 268.0;
const LETTER: Lettering = Lettering::new(8.5);

/// Draws slots one below the other, to one scale; thin liners are drawn no thinner than can be
/// seen, with their figure.
///
/// # Errors
/// Sizes that are not finite, or nothing to draw.
pub fn wedge_sketch(title: &str, slots: &[SlotState]) -> Result<Picture, DrawingError> {
    let longest = slots.iter().map(|s| s.slot_m).fold(0.0, f64::max);
    if slots.is_empty() || longest <= 0.0 {
        return Err(DrawingError::Nothing { what: "no slot" });
    }
    length("the slot", longest)?;
    let scale = 480.0 / longest;
    let mut svg = Svg::new(WIDTH, 52.0 + PITCH * slots.len() as f64);
    svg.text((20.0, 22.0), title, Lettering::new(12.0).bold());
    for (i, slot) in slots.iter().enumerate() {
        draw_slot(&mut svg, slot, 44.0 + PITCH * i as f64, scale)?;
    }
    let text: Vec<String> = slots
        .iter()
        .map(|s| {
            let parts: Vec<String> =
                s.fill.iter().map(|f| format!("{} {:.3} mm", f.name, 1e3 * f.thick_m)).collect();
            format!("{}: {}", s.name, parts.join(", "))
        })
        .collect();
    svg.finish(title, &text.join("; "))
}

fn draw_slot(svg: &mut Svg, slot: &SlotState, top: f64, scale: f64) -> Result<(), DrawingError> {
    let (left, height) = (70.0, 96.0);
    let body = top + 62.0;
    svg.text((20.0, top + 12.0), &slot.name, Lettering::new(10.0).bold());
    let right = left + slot.slot_m * scale;
    // Crown of the strap on the left, butt of the rod on the right.
    for (x, w, name) in [(left - 34.0, 34.0, "strap"), (right, 34.0, "butt")] {
        svg.rect((x, body - 8.0), w, height + 16.0, Fill::Colour(PALE), Some(Pen::ink(1.2)));
        svg.text((x + 0.5 * w, body + 0.5 * height), name, LETTER.at(Anchor::Middle));
    }
    svg.line((left - 34.0, body - 8.0), (right + 34.0, body - 8.0), Pen::ink(1.2));
    svg.line(
        (left - 34.0, body + height + 8.0),
        (right + 34.0, body + height + 8.0),
        Pen::ink(1.2),
    );
    let mut x = left;
    for (i, f) in slot.fill.iter().enumerate() {
        length("a part in the slot", f.thick_m)?;
        let w = (f.thick_m * scale).max(0.0);
        let seen = w.max(2.5);
        match f.kind {
            FillerKind::Wedge => {
                let stand = (slot.stand_m * scale).clamp(-40.0, 50.0);
                let lean = (slot.slope * (height + stand)).min(0.8 * w);
                svg.polygon(
                    &[
                        (x, body - stand),
                        (x + w, body - stand),
                        (x + w, body + height),
                        (x + lean, body + height),
                    ],
                    Fill::None,
                    Some(Pen::ink(1.3)),
                );
                svg.line((x + w + 6.0, body), (x + w + 6.0, body - stand), Pen::ink(0.6));
                svg.label(
                    (x + w + 9.0, body - 0.5 * stand + 3.0),
                    &format!(
                        "stands {:.1} mm ({:.2} in)",
                        1e3 * slot.stand_m,
                        slot.stand_m / 25.4e-3
                    ),
                    LETTER,
                );
            }
            FillerKind::Brass => {
                svg.rect((x, body), w, height, Fill::None, Some(Pen::ink(1.3)));
                svg.hatch((x, body), w, height, 7.0, Pen::grey(0.4));
            }
            FillerKind::Liner => {
                svg.rect((x, body), seen, height, Fill::Colour("#555555"), Some(Pen::ink(0.8)))
            }
            FillerKind::Hidden => svg.rect(
                (x, body - 4.0),
                seen,
                height + 8.0,
                Fill::None,
                Some(Pen::ink(1.6).in_colour(OUT).dashed(Dash::Dashed)),
            ),
        }
        // Names and figures below, the first lowest, each beginning at its leader: no leader then
        // runs through another's text.
        let middle = x + 0.5 * seen.max(w);
        let row = (slot.fill.len() - 1 - i).min(5);
        let y = body + height + 28.0 + 14.0 * row as f64;
        svg.line((middle, body + height + 2.0), (middle, y + 1.0), Pen::grey(0.5));
        let colour = if f.kind == FillerKind::Hidden { OUT } else { crate::svg::INK };
        let text = format!("{} {:.3} mm ({:.4} in)", f.name, 1e3 * f.thick_m, f.thick_m / 25.4e-3);
        svg.text((middle + 3.0, y), &text, LETTER.in_colour(colour));
        x += w;
    }
    svg.line((left, top + 36.0), (right, top + 36.0), Pen::ink(0.5));
    for (x, dx) in [(left, -1.0), (right, 1.0)] {
        svg.polygon(
            &crate::svg::arrow_head((x, top + 36.0), (dx, 0.0), 6.0),
            Fill::Colour(crate::svg::INK),
            None,
        );
        svg.line((x, top + 30.0), (x, body), Pen::grey(0.5));
    }
    svg.label(
        (left + 0.35 * (right - left), top + 39.0),
        &format!("slot {:.3} mm ({:.4} in)", 1e3 * slot.slot_m, slot.slot_m / 25.4e-3),
        LETTER.at(Anchor::Middle),
    );
    travel_bar(svg, slot, (20.0, body + height + 92.0));
    Ok(())
}

/// How much of the wedge's travel is left: from slack to home.
fn travel_bar(svg: &mut Svg, slot: &SlotState, (x, y): (f64, f64)) {
    let span = slot.slack_m - slot.home_m;
    if span <= 0.0 {
        return;
    }
    let width = 260.0;
    let from = x + 150.0;
    let share = (slot.slack_m - slot.stand_m) / span;
    svg.text((x, y + 3.0), "wedge, slack to home", LETTER);
    svg.line((from, y), (from + width, y), Pen::ink(0.8));
    for t in [0.0, 0.5, 1.0] {
        svg.line((from + t * width, y - 4.0), (from + t * width, y + 4.0), Pen::ink(0.8));
    }
    let at = from + share.clamp(-0.05, 1.05) * width;
    let out = !(0.0..=1.0).contains(&share);
    let colour = if out { OUT } else { crate::svg::INK };
    svg.polygon(
        &[(at, y - 2.0), (at - 5.0, y - 11.0), (at + 5.0, y - 11.0)],
        Fill::Colour(colour),
        None,
    );
    svg.text(
        (from + width + 10.0, y + 3.0),
        &format!("{:.0} % of travel left", 100.0 * (1.0 - share)),
        LETTER.in_colour(colour),
    );
}
