//! Stages of a part sliding off its seat on to the crane.

use super::sling_diagram::balance_mark;
use super::words::{NOT_A_PERMISSION, force, mm, short_force, wrapped};
use crate::error::length;
use crate::svg::{Anchor, At, Dash, Fill, GREY, Lettering, OUT, PALE, PAPER, Pen, Svg, arrow_head};
use crate::{DrawingError, Picture};
use mechanics::lifting::{PartEnd, SeatHold, Stage, StageState, Transfer};

const WIDTH: f64 = 500.0;
const MARGIN: f64 = 8.0;
const FIGURES: f64 = 168.0;
const ROW: f64 = 92.0;
const SMALL: Lettering = Lettering::new(7.5);
const USUAL: Lettering = Lettering::new(8.5);
/// Longest force arrow.
const ARROW: f64 = 24.0;

/// Stages of a load transfer.
#[derive(Clone, Debug)]
pub struct TransferStrip<'a> {
    /// What slides off what.
    pub title: String,
    /// The case.
    pub transfer: &'a Transfer,
    /// Stages to show, one a row.
    pub stages: &'a [Stage],
    /// The ends of the whole part before it moves, inner and outer, m.
    pub ends_m: [f64; 2],
}

/// One row a stage: part and seat with the forces on them, and the figures beside.
///
/// # Errors
/// No stage or more than 12; figures that are not finite or no place on an engine.
pub fn transfer_strip(strip: &TransferStrip<'_>) -> Result<Picture, DrawingError> {
    if strip.stages.is_empty() {
        return Err(DrawingError::Nothing { what: "stages of the transfer" });
    }
    if strip.stages.len() > 12 {
        return Err(DrawingError::OutOfRange {
            what: "number of stages",
            value: strip.stages.len() as f64,
            least: 1.0,
            most: 12.0,
            unit: "stages",
        });
    }
    let t = strip.transfer;
    for m in [strip.ends_m[0], strip.ends_m[1], t.seat.inner_m, t.seat.outer_m, t.balance_m] {
        length("a place of the transfer", m)?;
    }
    let furthest = strip.stages.iter().map(|s| s.slid_m).fold(0.0, f64::max);
    length("how far it slides", furthest)?;
    let held = t.hook.map(|h| h.at_m).into_iter().chain(t.hands.map(|h| h.at_m));
    let most = held.clone().fold(strip.ends_m[1].max(t.balance_m), f64::max) + furthest;
    let least = held.fold(t.seat.inner_m.min(strip.ends_m[0]), f64::min);
    let room = WIDTH - 3.0 * MARGIN - FIGURES;
    let scale = (room - 24.0) / (most - least).max(1e-3);

    let mut svg = Svg::new(WIDTH, 0.0);
    let heading = Lettering::new(11.0).bold();
    svg.text((MARGIN, 16.0), &heading.fitted(&strip.title, WIDTH - 2.0 * MARGIN), heading);
    let weight_n = t.mass_kg * mechanics::lifting::STANDARD_GRAVITY_M_S2;
    let about =
        format!("{:.0} kg, weight {}; outwards is to the right", t.mass_kg, force(weight_n));
    svg.text((MARGIN, 28.0), &about, USUAL);
    let mut y = 36.0;
    for (i, stage) in strip.stages.iter().enumerate() {
        if i > 0 {
            svg.line((MARGIN, y), (WIDTH - MARGIN, y), Pen::grey(0.4));
        }
        let x = |m: f64| MARGIN + 12.0 + (m - least) * scale;
        draw_stage(&mut svg, strip, stage, weight_n, &x, y);
        figures(&mut svg, strip, stage, (MARGIN + room + MARGIN, y + 14.0));
        y += ROW;
    }
    y += 4.0;
    for row in wrapped(NOT_A_PERMISSION, WIDTH - 2.0 * MARGIN, SMALL) {
        svg.text((MARGIN, y + 6.0), &row, SMALL);
        y += 10.0;
    }
    svg.set_height(y + 4.0);
    svg.finish(&strip.title, &format!("{}: {} stages of {about}", strip.title, strip.stages.len()))
}

fn draw_stage(
    svg: &mut Svg,
    strip: &TransferStrip<'_>,
    stage: &Stage,
    weight_n: f64,
    x: &dyn Fn(f64) -> f64,
    top: f64,
) {
    let t = strip.transfer;
    // The part lies on this line; arrows need room above and below.
    let bed = top + 54.0;
    let thick = 13.0;
    let seat = (x(t.seat.inner_m), x(t.seat.outer_m));
    block(svg, seat, bed, bed + 7.0);
    if t.seat.hold == SeatHold::Grips {
        block(svg, seat, bed - thick - 7.0, bed - thick);
    }
    // Tipping is shown, not to scale: 7 degrees about the edge that still bears.
    let (pivot, turn) = match stage.state {
        StageState::Tips(PartEnd::Outer) => (x(stage.edges_m[1]), 0.12_f64),
        StageState::Tips(PartEnd::Inner) => (x(stage.edges_m[0]), -0.12),
        _ => (0.0, 0.0),
    };
    let fallen = if stage.state == StageState::Drops { 9.0 } else { 0.0 };
    let place = |m: f64, up: f64| -> At {
        let (dx, dy) = (x(m + stage.slid_m) - pivot, -up);
        let (s, c) = turn.sin_cos();
        if turn == 0.0 {
            (pivot + dx, bed + dy + fallen)
        } else {
            (pivot + dx * c - dy * s, bed + dx * s + dy * c)
        }
    };
    let [inner, outer] = strip.ends_m;
    let part = [place(inner, 0.0), place(outer, 0.0), place(outer, thick), place(inner, thick)];
    svg.polygon(&part, Fill::Colour(PALE), Some(Pen::ink(0.9)));
    for m in t.fit_m {
        svg.line(place(m, 0.0), place(m, thick), Pen::grey(0.6).dashed(Dash::Dashed));
    }
    let g = place(t.balance_m, 0.5 * thick);
    let long = |n: f64| (n.abs() / weight_n * ARROW).clamp(7.0, 1.25 * ARROW);
    arrow(svg, g, (g.0, g.1 + 5.0 + long(weight_n)), Pen::ink(1.4));
    balance_mark(svg, g, 4.0);
    if let Some(hook) = t.hook {
        let at = place(hook.at_m, thick);
        let mut tip = at;
        if stage.hook_n > 0.005 * weight_n {
            tip = (at.0, at.1 - long(stage.hook_n));
            arrow(svg, at, tip, Pen::ink(1.4));
        }
        svg.circle(at, 2.4, Fill::Colour(PAPER), Some(Pen::ink(0.9)));
        svg.text((at.0 + 4.0, top + 12.0), "crane", SMALL);
        svg.line((at.0, top + 6.0), tip, Pen::grey(0.5).dashed(Dash::Dotted));
    }
    if let Some(hands) = t.hands {
        let at = place(hands.at_m, 0.0);
        svg.circle(at, 1.6, Fill::Colour(GREY), None);
        if stage.hands_n.abs() > 0.005 * weight_n {
            let way = if stage.hands_n > 0.0 { 1.0 } else { -1.0 };
            arrow(svg, (at.0, at.1 + way * long(stage.hands_n)), at, Pen::ink(1.0));
            let label = at.1 + 8.0 + if way > 0.0 { long(stage.hands_n) } else { 0.0 };
            svg.text((at.0, label), "hands", SMALL.at(Anchor::Middle));
        }
    }
    if stage.edges_m[1] - stage.edges_m[0] > 1e-9 && turn == 0.0 {
        for (edge, n) in stage.edges_m.into_iter().zip(stage.seat_n) {
            if n.abs() > 0.005 * weight_n {
                let (from, to) = if n > 0.0 {
                    (bed + 7.0 + long(n), bed + 0.5)
                } else {
                    (bed - thick - 7.0 - long(n), bed - thick - 0.5)
                };
                arrow(svg, (x(edge), from), (x(edge), to), Pen::ink(1.0));
            }
        }
    }
}

/// A piece of the seat.
fn block(svg: &mut Svg, (left, right): (f64, f64), top: f64, bottom: f64) {
    svg.hatch((left, top), right - left, bottom - top, 3.0, Pen::grey(0.4));
    svg.rect((left, top), right - left, bottom - top, Fill::None, Some(Pen::ink(0.7)));
}

fn arrow(svg: &mut Svg, from: At, to: At, pen: Pen) {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let long = dx.hypot(dy).max(1e-6);
    let stop = (to.0 - dx / long * 6.0, to.1 - dy / long * 6.0);
    svg.line(from, stop, pen);
    svg.polygon(&arrow_head(to, (dx, dy), 8.0), Fill::Colour(pen.colour), None);
}

fn figures(svg: &mut Svg, strip: &TransferStrip<'_>, stage: &Stage, (x, y): At) {
    let (word, out) = word(stage.state);
    let letter = if out { USUAL.bold().in_colour(OUT) } else { USUAL.bold() };
    let title = format!("out {}: {word}", mm(stage.slid_m));
    let mut rows = wrapped(&title, FIGURES, letter);
    let bold = rows.len();
    if stage.edges_m[1] - stage.edges_m[0] > 1e-9 && !matches!(stage.state, StageState::Tips(_)) {
        rows.push(format!(
            "seat, inner edge {}, mouth {}",
            short_force(stage.seat_n[0]),
            short_force(stage.seat_n[1])
        ));
    }
    if strip.transfer.hook.is_some() {
        rows.push(format!("crane {}", force(stage.hook_n)));
        let bears = strip.transfer.seat.hold == SeatHold::BearsOnly;
        if let Some([low, high]) = stage.hook_band_n.filter(|_| bears) {
            rows.push(format!("(sits still from {} to {})", short_force(low), short_force(high)));
        }
    }
    if strip.transfer.hands.is_some() {
        rows.push(format!("hands {}", force(stage.hands_n)));
    }
    let p = stage.pull_n;
    if matches!(stage.state, StageState::Seated | StageState::Binds | StageState::HeldByHands) {
        rows.push(format!(
            "to draw {} to {}, likely {}",
            short_force(p.at_low),
            short_force(p.at_high),
            short_force(p.at_likely)
        ));
    }
    let warned = swing(strip.transfer, stage).map(|row| wrapped(&row, FIGURES, SMALL.bold()));
    let plain = rows.len();
    rows.extend(warned.into_iter().flatten());
    for (i, row) in rows.iter().enumerate() {
        let letter = match i {
            i if i < bold => letter,
            i if i < plain => SMALL,
            _ => SMALL.bold().in_colour(OUT),
        };
        svg.text((x, y + 11.0 * i as f64), &letter.fitted(row, FIGURES), letter);
    }
}

/// What a hook out of place does once the part is free.
fn swing(transfer: &Transfer, stage: &Stage) -> Option<String> {
    // Less than this does not show.
    const IN_PLACE_M: f64 = 0.001;
    let hook = transfer.hook.filter(|_| stage.state == StageState::Free)?;
    let fore = hook.at_m - transfer.balance_m;
    if fore.abs() < IN_PLACE_M {
        return None;
    }
    let (way, end) = if fore > 0.0 { ("outside", "inner") } else { ("inside", "outer") };
    Some(format!(
        "Hook {} {way} the balance point: as it comes free the {end} end drops and it swings.",
        mm(fore.abs())
    ))
}

/// The state in words, and whether it is one to stop at.
fn word(state: StageState) -> (&'static str, bool) {
    match state {
        StageState::Seated => ("rests on its seat", false),
        StageState::Binds => ("binds in its seat", false),
        StageState::HeldByHands => ("hands keep it level", true),
        StageState::Tips(PartEnd::Outer) => ("TIPS, outer end drops", true),
        StageState::Tips(PartEnd::Inner) => ("TIPS, inner end drops", true),
        StageState::Lifts => ("LIFTS off its seat", true),
        StageState::Free => ("free, on the crane", false),
        StageState::Drops => ("DROPS", true),
    }
}
