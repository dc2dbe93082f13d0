//! Pictures one below the other in one.

use crate::svg::{Picture, escape_into};
use crate::{DrawingError, error};
use std::fmt::Write as _;

/// Space between two.
const GAP: f64 = 18.0;

/// Pictures one below the other as one document.
///
/// # Errors
/// There is none.
pub fn stacked(pictures: &[Picture], title: &str) -> Result<Picture, DrawingError> {
    if pictures.is_empty() {
        return Err(error::DrawingError::Nothing { what: "pictures" });
    }
    let mut inner = String::new();
    let (mut wide, mut high): (f64, f64) = (0.0, 0.0);
    for p in pictures {
        if high > 0.0 {
            high += GAP;
        }
        // Inside, a unit would be scaled a second time.
        let placed = p.svg.replacen("<svg ", &format!("<svg x=\"0\" y=\"{high}\" "), 1);
        inner.push_str(&placed.replacen("pt\" height", "\" height", 1).replacen(
            "pt\" viewBox",
            "\" viewBox",
            1,
        ));
        wide = wide.max(p.width_pt);
        high += p.height_pt;
    }
    let mut svg = String::new();
    let _ = write!(
        svg,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{wide}pt\" height=\"{high}pt\" viewBox=\"0 0 {wide} {high}\">\n<title>"
    );
    escape_into(&mut svg, title);
    svg.push_str("</title>\n");
    svg.push_str(&inner);
    svg.push_str("</svg>\n");
    let all: Vec<&str> = pictures.iter().map(|p| p.description.as_str()).collect();
    Ok(Picture { svg, width_pt: wide, height_pt: high, description: all.join("; ") })
}
