//! Directions around an axis, as people write them.

use std::f64::consts::TAU;

/// A direction in radians, 0 up to a full turn.
///
/// Accepts degrees (`45`, `45°`, `45 deg`), `V` or `vertical` (90), `H` or `horizontal` (0), and
/// clock hours (`3 o'clock` is 0, `12 o'clock` is 90, counted the way angles are).
///
/// # Errors
/// Says what may be written.
pub fn parse_direction(text: &str) -> Result<f64, String> {
    let written = text.trim();
    if (1..=3).contains(&written.len()) && written.bytes().all(|b| b.is_ascii_digit()) {
        let degrees = written.bytes().fold(0.0, |n, b| 10.0 * n + f64::from(b - b'0'));
        return Ok(degrees.to_radians().rem_euclid(TAU));
    }
    let lower = written.to_lowercase();
    let degrees = match lower.as_str() {
        "v" | "vert" | "vertical" => 90.0,
        "h" | "hor" | "horizontal" => 0.0,
        _ => {
            if let Some(hours) = lower.strip_suffix("o'clock").map(str::trim) {
                let hours: f64 = hours.parse().map_err(|_| wrong())?;
                if !(0.0..=12.0).contains(&hours) {
                    return Err(wrong());
                }
                90.0 - hours * 30.0
            } else {
                let number = lower
                    .trim_end_matches("degrees")
                    .trim_end_matches("deg")
                    .trim_end_matches('°')
                    .trim()
                    .replace(',', ".");
                number.parse::<f64>().map_err(|_| wrong())?
            }
        }
    };
    if !degrees.is_finite() || degrees.abs() > 3600.0 {
        return Err(wrong());
    }
    Ok(degrees.to_radians().rem_euclid(TAU))
}

fn wrong() -> String {
    "write degrees (0, 45, 90), V, H or an hour (3 o'clock)".to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn directions() {
        let degrees = |t: &str| parse_direction(t).map(|r| r.to_degrees().round());
        assert_eq!(degrees("45°"), Ok(45.0));
        assert_eq!(degrees("-45"), Ok(315.0));
        for n in 0..1000 {
            // Plain figures are read by themselves; with a point they go the long way.
            assert_eq!(parse_direction(&n.to_string()), parse_direction(&format!("{n}.0")));
        }
        assert_eq!(degrees("V"), Ok(90.0));
        assert_eq!(degrees("3 o'clock"), Ok(0.0));
        assert_eq!(degrees("6 o'clock"), Ok(270.0));
        assert_eq!(degrees("22,5"), Ok(23.0));
        assert!(degrees("up").is_err());
        assert!(degrees("inf").is_err());
    }
}
