//! A cone and its socket, hand tight, with what draws it home.

use crate::DrawingError;
use crate::error::{above_zero, length};
use crate::svg::{Anchor, Dash, Fill, INK, Lettering, PALE, Pen, Picture, Svg, arrow_head};

/// A cone to be drawn; figures that are not known are left out.
#[derive(Clone, Debug)]
pub struct ConeSketch {
    /// Engine and joint.
    pub title: String,
    /// Length for one of change on the diameter: 16 of "1 in 16".
    pub n: f64,
    /// Cone at its gauge plane (m).
    pub cone_m: f64,
    /// Socket at its gauge plane (m).
    pub socket_m: f64,
    /// How far it stands from home, hand tight, least and most (m).
    pub stands_m: (f64, f64),
    /// The same wanted when put back.
    pub wanted_m: Option<(f64, f64)>,
    /// Sizes to which the cone is ground for that.
    pub grind_m: Option<(f64, f64)>,
    /// What can still be drawn (m), and what then stops it.
    pub draw_left_m: Option<(f64, &'static str)>,
    /// Length of the cone (m).
    pub length_m: Option<f64>,
    /// What holds it, in words.
    pub held_by: String,
    /// Force to draw it home: low, likely, high (N).
    pub draw_in_n: Option<(f64, f64, f64)>,
    /// Day.
    pub day: String,
}

const WIDTH: f64 = 720.0;
const LETTER: Lettering = Lettering::new(9.0);

/// Draws cone and socket in section, the taper and the stand drawn out.
///
/// # Errors
/// Sizes that are not finite or not above zero.
pub fn cone_sketch(c: &ConeSketch) -> Result<Picture, DrawingError> {
    for (what, m) in [("the cone", c.cone_m), ("the socket", c.socket_m)] {
        above_zero(what, m)?;
    }
    length("the stand", c.stands_m.0)?;
    length("the stand", c.stands_m.1)?;
    if !(c.n.is_finite() && c.n > 0.0) {
        return Err(DrawingError::NotFinite { what: "the taper", value: c.n });
    }
    let mut svg = Svg::new(WIDTH, 400.0);
    svg.text((20.0, 24.0), &c.title, Lettering::new(12.0).bold());
    svg.text((WIDTH - 20.0, 24.0), &c.day, LETTER.at(Anchor::End));
    let axis = 150.0;
    // Half heights of the socket's two ends; the taper is drawn steeper than it is.
    let (mouth, end) = (58.0, 40.0);
    let (left, right) = (96.0, 330.0);
    let out = if c.stands_m.0 + c.stands_m.1 > 0.0 { 26.0 } else { 0.0 };
    for side in [-1.0, 1.0] {
        let y = |h: f64| axis + side * h;
        svg.polygon(
            &[(left, y(end)), (right, y(mouth)), (right, y(96.0)), (left, y(96.0))],
            Fill::Colour(PALE),
            Some(Pen::ink(1.2)),
        );
    }
    // Standing out by `out` it touches the same slope further along.
    let slope = (mouth - end) / (right - left);
    let rod = 74.0;
    let large = mouth + 18.0 * slope;
    svg.polygon(
        &[
            (left + out, axis - end),
            (right + out + 18.0, axis - large),
            (right + out + 18.0, axis - rod),
            (right + 150.0, axis - rod),
            (right + 150.0, axis + rod),
            (right + out + 18.0, axis + rod),
            (right + out + 18.0, axis + large),
            (left + out, axis + end),
        ],
        Fill::Colour("#ffffff"),
        Some(Pen::ink(1.4)),
    );
    svg.line((left - 30.0, axis), (right + 165.0, axis), Pen::grey(0.6).dashed(Dash::Axis));
    svg.line((right, axis - 112.0), (right, axis + 112.0), Pen::ink(0.5).dashed(Dash::Dashed));
    svg.label((right - 4.0, axis - 104.0), "gauge plane of the socket", LETTER.at(Anchor::End));
    if out > 0.0 {
        svg.line(
            (right + out, axis - 112.0),
            (right + out, axis + 112.0),
            Pen::ink(0.5).dashed(Dash::Dashed),
        );
        svg.label((right + out + 4.0, axis - 104.0), "of the cone", LETTER);
        let y = axis + 106.0;
        svg.line((right, y), (right + out, y), Pen::ink(0.6));
        for (x, dx) in [(right, -1.0), (right + out, 1.0)] {
            svg.polygon(&arrow_head((x, y), (dx, 0.0), 6.0), Fill::Colour(INK), None);
        }
    }
    svg.text(
        (right + out + 8.0, axis + 109.0),
        &format!(
            "stands {:.2} – {:.2} mm ({:.1} – {:.1} thou) from home",
            1e3 * c.stands_m.0,
            1e3 * c.stands_m.1,
            c.stands_m.0 / 25.4e-6,
            c.stands_m.1 / 25.4e-6
        ),
        LETTER.bold(),
    );
    let both = |m: f64| format!("{:.3} mm ({:.4} in)", 1e3 * m, m / 25.4e-3);
    let band = |(a, b): (f64, f64)| {
        format!("{:.3} – {:.3} mm ({:.4} – {:.4} in)", 1e3 * a, 1e3 * b, a / 25.4e-3, b / 25.4e-3)
    };
    let mut facts = vec![
        format!("taper 1 in {:.0} on the diameter; held by {}", c.n, c.held_by),
        format!("cone at its gauge plane ø {}", both(c.cone_m)),
        format!("socket at its gauge plane ø {}", both(c.socket_m)),
    ];
    if let Some(m) = c.length_m {
        facts.push(format!("length that bears {}", both(m)));
    }
    if let Some(w) = c.wanted_m {
        facts.push(format!("wanted stand when put back {}", band(w)));
    }
    if let Some(g) = c.grind_m {
        facts.push(format!("for that, grind the cone at its gauge plane to ø {}", band(g)));
    }
    if let Some((m, why)) = c.draw_left_m {
        facts.push(format!("can still be drawn {}, {why}", both(m)));
    }
    if let Some((a, b, d)) = c.draw_in_n {
        facts.push(format!(
            "to draw it home {:.0} / {:.0} / {:.0} kN ({:.1} / {:.1} / {:.1} tonf) at low, likely and high friction",
            1e-3 * a, 1e-3 * b, 1e-3 * d, a / 9964.016, b / 9964.016, d / 9964.016
        ));
    }
    facts.push("sizes at 20 °C; taper and stand drawn out".to_owned());
    for (i, text) in facts.iter().enumerate() {
        svg.text((30.0, axis + 138.0 + 15.0 * i as f64), text, LETTER);
    }
    svg.set_height(axis + 150.0 + 15.0 * facts.len() as f64);
    svg.finish(&c.title, &facts.join("; "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_said_and_bad_ones_refused() -> Result<(), DrawingError> {
        let mut c = ConeSketch {
            title: "engine, cone".into(),
            n: 16.0,
            cone_m: 0.0667,
            socket_m: 0.0666,
            stands_m: (1.5e-3, 1.7e-3),
            wanted_m: None,
            grind_m: Some((0.0667, 0.0668)),
            draw_left_m: Some((4e-3, "then the shoulder meets the socket")),
            length_m: None,
            held_by: "a cotter".into(),
            draw_in_n: Some((1e4, 2e4, 3e4)),
            day: String::new(),
        };
        let p = cone_sketch(&c)?;
        for wanted in ["66.700 mm (2.6260 in)", "1 in 16", "1.50 – 1.70 mm", "10 / 20 / 30 kN"] {
            assert!(p.svg.contains(wanted), "{wanted}");
        }
        c.n = f64::NAN;
        assert!(cone_sketch(&c).is_err());
        c.n = 16.0;
        c.socket_m = 0.0;
        assert!(cone_sketch(&c).is_err());
        Ok(())
    }
}
