//! Two faces and what slides between them: liners or white metal, which goes where, and the sizes.

use crate::DrawingError;
use crate::error::above_zero;
use crate::lettering::wrapped;
use crate::svg::{Anchor, Dash, Fill, INK, Lettering, PALE, Pen, Picture, Svg, arrow_head};

/// What goes on one face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlideLayer {
    /// It is white metal, cast on; else a liner.
    pub cast: bool,
    /// Thickness when finished (m).
    pub thick_m: f64,
    /// Thickness as cast, or what is machined off the face first (m).
    pub before_m: Option<f64>,
}

/// One of the two sides.
#[derive(Clone, Debug)]
pub struct SlidePart {
    /// Name.
    pub name: String,
    /// Size when done, least and most (m).
    pub done_m: (f64, f64),
    /// Size as gauged (m).
    pub now_m: Option<f64>,
    /// On its first and its second face.
    pub layers: Option<[SlideLayer; 2]>,
}

/// A sliding joint to be drawn.
#[derive(Clone, Debug)]
pub struct SlideSection {
    /// Engine and joint.
    pub title: String,
    /// Names of the faces, the first drawn above.
    pub faces: [String; 2],
    /// What slides between.
    pub inner: SlidePart,
    /// What it slides in.
    pub outer: SlidePart,
    /// Clearance when done, least and most (m).
    pub clearance_m: (f64, f64),
    /// How far the inner stands from its line towards the second face (m).
    pub stands_off_m: Option<f64>,
    /// Day.
    pub day: String,
}

const WIDTH: f64 = 720.0;
const LETTER: Lettering = Lettering::new(9.0);
const SMALL: Lettering = Lettering::new(8.0);
/// Left and right edge of what is drawn.
const EDGES: (f64, f64) = (176.0, 420.0);
/// Clearance as drawn: a hair could not be seen.
const DRAWN_CLEARANCE: f64 = 7.0;
const BAR: f64 = 40.0;

/// Draws the section: the clearance drawn out above the part, liners no thinner than can be seen.
///
/// # Errors
/// Sizes that are not finite, or not above zero.
pub fn slide_section(s: &SlideSection) -> Result<Picture, DrawingError> {
    for (what, m) in [
        ("the part between the faces", s.inner.done_m.0),
        ("the part between the faces", s.inner.done_m.1),
        ("the faces", s.outer.done_m.0),
        ("the faces", s.outer.done_m.1),
    ] {
        above_zero(what, m)?;
    }
    let gap = 0.5 * (s.outer.done_m.0 + s.outer.done_m.1);
    let scale = 150.0 / gap;
    let drawn = |l: &SlideLayer| (l.thick_m.abs() * scale).clamp(5.0, 40.0);
    let mut svg = Svg::new(WIDTH, 400.0);
    svg.text((20.0, 24.0), &s.title, Lettering::new(12.0).bold());
    svg.text((WIDTH - 20.0, 24.0), &s.day, SMALL.at(Anchor::End));
    let top = 92.0;
    let (left, right) = EDGES;
    let width = right - left;
    let bottom = top + 150.0 + DRAWN_CLEARANCE;
    // The faces, hatched as what stays, with their layers on the inside.
    for (y, name_y) in [(top - BAR, top - BAR - 6.0), (bottom, bottom + BAR + 12.0)] {
        svg.rect((left - 20.0, y), width + 40.0, BAR, Fill::Colour(PALE), Some(Pen::ink(1.2)));
        svg.hatch((left - 20.0, y), width + 40.0, BAR, 7.0, Pen::grey(0.4));
        let first = y < top;
        let name = if first { &s.faces[0] } else { &s.faces[1] };
        svg.label((left - 16.0, name_y), name, LETTER.bold());
    }
    if let Some([first, second]) = &s.outer.layers {
        layer(&mut svg, first, (left - 20.0, top - drawn(first)), width + 40.0, drawn(first));
        layer(&mut svg, second, (left - 20.0, bottom), width + 40.0, drawn(second));
    }
    // The part lies on the second face.
    let part_top = top + DRAWN_CLEARANCE;
    svg.rect((left, part_top), width, bottom - part_top, Fill::None, Some(Pen::ink(1.4)));
    if let Some([first, second]) = &s.inner.layers {
        layer(&mut svg, first, (left, part_top), width, drawn(first));
        layer(&mut svg, second, (left, bottom - drawn(second)), width, drawn(second));
    }
    let middle = 0.5 * (part_top + bottom);
    svg.line((left - 12.0, middle), (right + 12.0, middle), Pen::grey(0.6).dashed(Dash::Axis));
    let name = LETTER.fitted(&s.inner.name, width - 16.0);
    svg.label((0.5 * (left + right), middle - 30.0), &name, LETTER.at(Anchor::Middle));
    if let Some(e) = s.stands_off_m.filter(|e| e.abs() > 0.0) {
        // Its line, drawn out so that it can be told from the part's own middle.
        let y = middle - 9.0 * e.signum();
        svg.line((left + 4.0, y), (right - 4.0, y), Pen::ink(0.7).dashed(Dash::DoubleDotted));
        let words = format!(
            "its line: the part now stands {:.3} mm ({:.1} thou) off it towards the {}",
            1e3 * e.abs(),
            e.abs() / 25.4e-6,
            if e > 0.0 { &s.faces[1] } else { &s.faces[0] }
        );
        let mut at = middle + 16.0;
        for line in wrapped(&words, width - 16.0, SMALL.size) {
            svg.label((0.5 * (left + right), at), &line, SMALL.at(Anchor::Middle));
            at += 10.0;
        }
    }
    // What it slides in on the left, what slides on the right.
    dimension(&mut svg, left - 40.0, (top, bottom), &s.outer, Anchor::End);
    dimension(&mut svg, right + 34.0, (part_top, bottom), &s.inner, Anchor::Start);
    for (i, y) in [(0, top), (1, bottom)] {
        for part in [&s.outer, &s.inner] {
            let Some(layers) = &part.layers else { continue };
            let l = &layers[i];
            let h = 0.5 * drawn(l);
            let inside = std::ptr::eq(part, &s.inner);
            let tip_y = match (i, inside) {
                (0, false) => y - h,
                (0, true) => part_top + h,
                (_, false) => y + h,
                (_, true) => y - h,
            };
            let text_y = if i == 0 { top - 30.0 } else { bottom + 36.0 };
            svg.polyline(
                &[
                    (right + 42.0, text_y - 3.0),
                    (right + 30.0, text_y - 3.0),
                    (right - 10.0, tip_y),
                ],
                Pen::ink(0.5),
            );
            svg.polygon(
                &arrow_head((right - 10.0, tip_y), (-40.0, tip_y - text_y + 3.0), 6.0),
                Fill::Colour(INK),
                None,
            );
            for (row, line) in layer_words(&s.faces[i], l).iter().enumerate() {
                svg.text((right + 46.0, text_y + 11.0 * row as f64), line, SMALL);
            }
        }
    }
    let below = [
        format!(
            "clearance when done {:.3} – {:.3} mm ({:.1} – {:.1} thou), both faces together, drawn above the part",
            1e3 * s.clearance_m.0,
            1e3 * s.clearance_m.1,
            s.clearance_m.0 / 25.4e-6,
            s.clearance_m.1 / 25.4e-6
        ),
        "sizes at 20 °C; clearance and thin layers drawn out, the rest to scale across the faces"
            .to_owned(),
    ];
    for (i, text) in below.iter().enumerate() {
        svg.text((20.0, bottom + BAR + 44.0 + 15.0 * i as f64), text, LETTER);
    }
    svg.set_height(bottom + BAR + 72.0);
    svg.finish(&s.title, &below.join("; "))
}

fn layer(svg: &mut Svg, l: &SlideLayer, corner: (f64, f64), width: f64, height: f64) {
    let fill = if l.cast { "#a8a8a8" } else { "#555555" };
    svg.rect(corner, width, height, Fill::Colour(fill), Some(Pen::ink(0.8)));
}

fn layer_words(face: &str, l: &SlideLayer) -> Vec<String> {
    let both = |m: f64| format!("{:.3} mm ({:.4} in)", 1e3 * m, m / 25.4e-3);
    let mut out = vec![format!(
        "{face}: {} {}",
        if l.cast { "white metal" } else { "liner" },
        both(l.thick_m)
    )];
    if let Some(m) = l.before_m {
        out.push(if l.cast {
            format!("as cast {}", both(m))
        } else {
            format!("machine {} off the face first", both(m))
        });
    }
    out
}

/// A dimension up and down, with what it was beside what it will be.
fn dimension(svg: &mut Svg, x: f64, (from, to): (f64, f64), part: &SlidePart, anchor: Anchor) {
    svg.line((x, from), (x, to), Pen::ink(0.6));
    for (y, dy) in [(from, -1.0), (to, 1.0)] {
        svg.polygon(&arrow_head((x, y), (0.0, dy), 7.0), Fill::Colour(INK), None);
        let towards = if anchor == Anchor::End { 1.0 } else { -1.0 };
        svg.line((x - 5.0 * towards, y), (x + 20.0 * towards, y), Pen::grey(0.5));
    }
    let out = if anchor == Anchor::End { -8.0 } else { 8.0 };
    let mut lines = vec![
        (format!("{:.3} – {:.3} mm", 1e3 * part.done_m.0, 1e3 * part.done_m.1), LETTER.bold()),
        (format!("{:.4} – {:.4} in", part.done_m.0 / 25.4e-3, part.done_m.1 / 25.4e-3), LETTER),
    ];
    if let Some(now) = part.now_m {
        lines.push((format!("now {:.3} mm", 1e3 * now), SMALL));
        lines.push((format!("({:.4} in)", now / 25.4e-3), SMALL));
    }
    if anchor == Anchor::End {
        for line in wrapped(&part.name, 116.0, SMALL.size) {
            lines.push((line, SMALL));
        }
    }
    let mut y = 0.5 * (from + to) - 6.5 * (lines.len() as f64 - 1.0) + 3.0;
    for (text, lettering) in lines {
        svg.text((x + out, y), &text, lettering.at(anchor));
        y += 13.0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn section() -> SlideSection {
        let liner = |thick_m: f64| SlideLayer { cast: false, thick_m, before_m: Some(0.004) };
        SlideSection {
            title: "engine, <joint>".into(),
            faces: ["upper".into(), "lower".into()],
            inner: SlidePart {
                name: "slipper".into(),
                done_m: (0.1332, 0.1334),
                now_m: Some(0.1331),
                layers: None,
            },
            outer: SlidePart {
                name: "bars".into(),
                done_m: (0.1335, 0.1337),
                now_m: Some(0.1342),
                layers: Some([liner(0.006), liner(0.0064)]),
            },
            clearance_m: (0.1e-3, 0.5e-3),
            stands_off_m: Some(0.2e-3),
            day: "2026-11-25".into(),
        }
    }

    #[test]
    fn every_size_is_said_in_both_systems() -> Result<(), DrawingError> {
        let p = slide_section(&section())?;
        // The words alone: a long line is set as several.
        let words: Vec<&str> =
            p.svg.split('<').filter_map(|t| t.split_once('>')).map(|(_, w)| w.trim()).collect();
        let words = words.iter().filter(|w| !w.is_empty()).copied().collect::<Vec<_>>().join(" ");
        for wanted in [
            "133.500 – 133.700 mm",
            "5.2559 – 5.2638 in",
            "upper: liner 6.000 mm (0.2362 in)",
            "lower: liner 6.400 mm (0.2520 in)",
            "0.200 mm (7.9 thou) off it towards the lower",
            "engine, &lt;joint&gt;",
        ] {
            assert!(words.contains(wanted), "{wanted}: {words}");
        }
        Ok(())
    }

    #[test]
    fn what_cannot_be_drawn_is_refused() {
        let mut s = section();
        s.inner.done_m.0 = f64::NAN;
        assert!(slide_section(&s).is_err());
        s.inner.done_m.0 = -1.0;
        assert!(slide_section(&s).is_err());
        let mut s = section();
        s.stands_off_m = Some(f64::INFINITY);
        assert!(slide_section(&s).is_ok_and(|p| !p.svg.contains("NaN")));
    }
}
