//! A bearing in section: journal, white metal, bronze, with their thicknesses.

use crate::DrawingError;
use crate::error::{above_zero, length};
use crate::svg::{Anchor, At, Dash, Fill, Lettering, PALE, Pen, Picture, Svg, arrow_head};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// A bearing to be drawn; figures that are not known are left out.
#[derive(Clone, Debug)]
pub struct BearingSection {
    /// Engine and joint.
    pub title: String,
    /// Journal, least and most (m).
    pub journal_m: (f64, f64),
    /// Bore, least and most (m).
    pub bore_m: (f64, f64),
    /// Recess of the white metal (m).
    pub recess_m: Option<f64>,
    /// White metal after boring, thinnest and thickest (m), and worn.
    pub metal_m: Option<(f64, f64, f64)>,
    /// A bush that lines it: eye that it is pressed into, and its outside, least and most (m).
    pub bush_m: Option<(f64, (f64, f64))>,
    /// Bronze behind it (m).
    pub bronze_m: Option<f64>,
    /// Arc of the brass (rad).
    pub arc_rad: f64,
    /// Split in two halves across the closing direction.
    pub split: bool,
    /// Filed off each joint face, fixed and moving half (m).
    pub filed_m: Option<(f64, f64)>,
    /// Mandrel for pouring (m).
    pub mandrel_m: Option<f64>,
    /// Clearance cold and hot, least and most (m).
    pub clearance_m: (f64, f64),
    /// Clearance hot.
    pub hot_m: Option<(f64, f64)>,
}

const WIDTH: f64 = 720.0;
const LETTER: Lettering = Lettering::new(9.0);

/// Draws the section, clearance drawn out so that it can be seen.
///
/// # Errors
/// Sizes that are not finite or not above zero.
pub fn bearing_section(b: &BearingSection) -> Result<Picture, DrawingError> {
    for (what, m) in [
        ("the journal", b.journal_m.0),
        ("the journal", b.journal_m.1),
        ("the bore", b.bore_m.0),
        ("the bore", b.bore_m.1),
    ] {
        above_zero(what, m)?;
    }
    let bore = 0.5 * (b.bore_m.0 + b.bore_m.1);
    let eye = b.bush_m.map(|(eye_m, _)| eye_m);
    // Nothing is known of white metal or bush: the brass is drawn solid.
    let recess = b.recess_m.or(eye).unwrap_or(bore).max(bore);
    let bronze = b.bronze_m.unwrap_or(0.12 * bore).max(0.02 * bore);
    let outside = recess + 2.0 * bronze;
    length("the outside of the brass", outside)?;
    let scale = 250.0 / outside;
    let centre = (170.0, 190.0);
    let mut svg = Svg::new(WIDTH, 372.0);
    svg.text((20.0, 24.0), &b.title, Lettering::new(12.0).bold());
    let full = b.split || b.arc_rad >= TAU - 0.01;
    let (from, to) =
        if full { (0.0, TAU) } else { (FRAC_PI_2 - 0.5 * b.arc_rad, FRAC_PI_2 + 0.5 * b.arc_rad) };
    let r = |m: f64| 0.5 * m * scale;
    // Clearance as found would be a hair: it is drawn six points wide.
    let journal_r = r(bore) - 6.0;
    sector(&mut svg, centre, (r(recess), r(outside)), (from, to), Fill::Colour(PALE));
    if recess > bore {
        sector(&mut svg, centre, (r(bore), r(recess)), (from, to), Fill::Colour("#a8a8a8"));
    }
    svg.circle(centre, journal_r, Fill::None, Some(Pen::ink(1.4)));
    svg.line(
        (centre.0 - r(outside) - 12.0, centre.1),
        (centre.0 + r(outside) + 12.0, centre.1),
        Pen::grey(0.5).dashed(Dash::Axis),
    );
    svg.line(
        (centre.0, centre.1 - r(outside) - 12.0),
        (centre.0, centre.1 + r(outside) + 12.0),
        Pen::grey(0.5).dashed(Dash::Axis),
    );
    if b.split {
        // Joint faces upright: the bearing closes fore and aft.
        for side in [-1.0, 1.0] {
            svg.line(
                (centre.0, centre.1 + side * r(bore)),
                (centre.0, centre.1 + side * r(outside)),
                Pen::ink(2.2),
            );
        }
        svg.label((centre.0, centre.1 - r(outside) - 16.0), "joint", LETTER.at(Anchor::Middle));
        svg.text((centre.0 + r(outside) * 0.62, centre.1 - r(outside) * 0.9), "fixed half", LETTER);
        svg.text(
            (centre.0 - r(outside) * 0.62, centre.1 - r(outside) * 0.9),
            "moving half",
            LETTER.at(Anchor::End),
        );
    }
    svg.text((centre.0, centre.1 - 6.0), "journal", LETTER.at(Anchor::Middle));
    svg.label(
        (centre.0, centre.1 + 16.0),
        &format!("ø {:.3} – {:.3} mm", 1e3 * b.journal_m.0, 1e3 * b.journal_m.1),
        LETTER.at(Anchor::Middle),
    );
    svg.label(
        (centre.0, centre.1 + 29.0),
        &format!("{:.4} – {:.4} in", b.journal_m.0 / 25.4e-3, b.journal_m.1 / 25.4e-3),
        LETTER.at(Anchor::Middle),
    );
    let mut lines: Vec<(f64, String)> = Vec::new();
    lines.push((
        r(bore),
        format!(
            "bore ø {:.3} – {:.3} mm ({:.4} – {:.4} in)",
            1e3 * b.bore_m.0,
            1e3 * b.bore_m.1,
            b.bore_m.0 / 25.4e-3,
            b.bore_m.1 / 25.4e-3
        ),
    ));
    if let Some((thin, thick, worn)) = b.metal_m {
        lines.push((
            0.5 * (r(bore) + r(recess)),
            format!(
                "white metal {:.2} – {:.2} mm ({:.3} – {:.3} in), worn {:.2} mm ({:.3} in)",
                1e3 * thin,
                1e3 * thick,
                thin / 25.4e-3,
                thick / 25.4e-3,
                1e3 * worn,
                worn / 25.4e-3
            ),
        ));
    }
    if let Some(m) = b.recess_m {
        lines.push((
            r(recess),
            format!("recess in the brass ø {:.2} mm ({:.3} in)", 1e3 * m, m / 25.4e-3),
        ));
    }
    if let Some((eye_m, (least, most))) = b.bush_m {
        lines.push((
            0.5 * (r(bore) + r(recess)),
            format!(
                "bush outside ø {:.3} – {:.3} mm ({:.4} – {:.4} in)",
                1e3 * least,
                1e3 * most,
                least / 25.4e-3,
                most / 25.4e-3
            ),
        ));
        lines.push((
            r(recess),
            format!("bore the eye to ø {:.3} mm ({:.4} in)", 1e3 * eye_m, eye_m / 25.4e-3),
        ));
    }
    if let Some(m) = b.bronze_m {
        lines.push((
            0.5 * (r(recess) + r(outside)),
            format!("bronze behind it {:.1} mm ({:.3} in)", 1e3 * m, m / 25.4e-3),
        ));
    }
    for (i, (radius, text)) in lines.iter().enumerate() {
        let y = 70.0 + 26.0 * i as f64;
        let angle = if full {
            0.55 - 0.16 * i as f64
        } else {
            FRAC_PI_2 - (0.5 * b.arc_rad - 0.1).clamp(0.05, 0.9) + 0.2 - 0.1 * i as f64
        };
        let tip = (centre.0 + radius * angle.cos(), centre.1 - radius * angle.sin());
        svg.polyline(&[(338.0, y - 3.0), (326.0, y - 3.0), tip], Pen::ink(0.5));
        svg.polygon(
            &arrow_head(tip, (tip.0 - 326.0, tip.1 - y + 3.0), 6.0),
            Fill::Colour(crate::svg::INK),
            None,
        );
        svg.text((342.0, y), text, LETTER);
    }
    let mut below = vec![format!(
        "clearance cold {:.3} – {:.3} mm ({:.1} – {:.1} thou)",
        1e3 * b.clearance_m.0,
        1e3 * b.clearance_m.1,
        b.clearance_m.0 / 25.4e-6,
        b.clearance_m.1 / 25.4e-6
    )];
    if let Some((a, c)) = b.hot_m {
        below.push(format!(
            "clearance hot {:.3} – {:.3} mm ({:.1} – {:.1} thou)",
            1e3 * a,
            1e3 * c,
            a / 25.4e-6,
            c / 25.4e-6
        ));
    }
    if let Some((fixed, moving)) = b.filed_m {
        below.push(format!(
            "file {:.3} mm ({:.1} thou) off each joint face of the fixed half, {:.3} mm ({:.1} thou) off the moving",
            1e3 * fixed,
            fixed / 25.4e-6,
            1e3 * moving,
            moving / 25.4e-6
        ));
    }
    if let Some(m) = b.mandrel_m {
        below.push(format!("mandrel for pouring ø {:.2} mm ({:.3} in)", 1e3 * m, m / 25.4e-3));
    }
    below.push("sizes at 20 °C; clearance drawn out, the rest to scale".to_owned());
    for (i, text) in below.iter().enumerate() {
        svg.text((342.0, 200.0 + 18.0 * i as f64), text, LETTER);
    }
    svg.finish(&b.title, &below.join("; "))
}

/// A part of a ring between two angles, counted from the right and upwards.
fn sector(
    svg: &mut Svg,
    centre: At,
    (inner, outer): (f64, f64),
    (from, to): (f64, f64),
    fill: Fill,
) {
    let steps = (((to - from) / PI * 90.0).ceil() as usize).clamp(2, 400);
    let at = |radius: f64, i: usize| {
        let a = from + (to - from) * i as f64 / steps as f64;
        (centre.0 + radius * a.cos(), centre.1 - radius * a.sin())
    };
    if to - from >= TAU - 1e-6 {
        svg.ring(centre, inner, outer, fill);
        svg.circle(centre, inner, Fill::None, Some(Pen::ink(1.0)));
        svg.circle(centre, outer, Fill::None, Some(Pen::ink(1.2)));
        return;
    }
    let mut points: Vec<At> = (0..=steps).map(|i| at(outer, i)).collect();
    points.extend((0..=steps).rev().map(|i| at(inner, i)));
    svg.polygon(&points, fill, Some(Pen::ink(1.1)));
}
