//! Figures and words on drawings of handling.

use mechanics::lifting::STANDARD_GRAVITY_M_S2;

/// What stands under every one of them.
pub(super) const NOT_A_PERMISSION: &str = "Computed from the figures given; no permission to lift. \
    A competent person checks the plan. Rated gear in date. Nobody under the load.";

/// A force with what it is in kilograms.
pub(super) fn force(n: f64) -> String {
    let kg = n / STANDARD_GRAVITY_M_S2;
    if n.abs() < 0.5 {
        return "nothing".to_owned();
    }
    if n.abs() >= 999.5 {
        format!("{:.2} kN ({kg:.0} kg)", n / 1000.0)
    } else {
        format!("{n:.0} N ({kg:.1} kg)")
    }
}

/// A force alone.
pub(super) fn short_force(n: f64) -> String {
    if n.abs() >= 999.5 {
        format!("{:.2} kN", n / 1000.0)
    } else {
        format!("{:.0} N", if n.abs() < 0.5 { 0.0 } else { n })
    }
}

/// A length, mm.
pub(super) fn mm(m: f64) -> String {
    let mm = 1000.0 * m;
    format!("{:.0} mm", if mm.abs() < 0.5 { 0.0 } else { mm })
}

/// Lines of at most this width.
pub(super) fn wrapped(text: &str, width: f64, letter: crate::svg::Lettering) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if letter.width(line) + letter.width(" ") + letter.width(word) <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
