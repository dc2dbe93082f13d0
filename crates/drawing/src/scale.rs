//! Steps that a person counts in, and how lengths are printed on a drawing.

/// Millimetres in a metre and thou in a metre.
const MM_PER_M: f64 = 1e3;
const THOU_PER_M: f64 = 1.0 / 25.4e-6;

/// The smallest of 1, 2, 5 times a power of ten that divides `span` into at most `most` steps.
pub(crate) fn step_for(span: f64, most: f64) -> f64 {
    let raw = (span / most).max(1e-9);
    let decade = 10f64.powf(raw.log10().floor());
    [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|m| m * decade)
        // A hair of slack: 0.05 / 5 may come out just above 0.01.
        .find(|s| *s >= raw * (1.0 - 1e-9))
        .unwrap_or(10.0 * decade)
}

/// Decimals of a millimetre that tell multiples of `step_m` apart.
pub(crate) fn decimals_mm(step_m: f64) -> usize {
    let mut decimals = 0;
    let mut step = step_m * MM_PER_M;
    while decimals < 4 && (step - step.round()).abs() > 1e-6 * step.max(1e-12) {
        step *= 10.0;
        decimals += 1;
    }
    decimals
}

/// `0.02 mm`
pub(crate) fn mm(si_m: f64, decimals: usize) -> String {
    minus(format!("{:.*} mm", decimals, clean(si_m * MM_PER_M)))
}

/// `0.8 thou`
pub(crate) fn thou(si_m: f64) -> String {
    let value = clean(si_m * THOU_PER_M);
    let decimals = if value.abs() >= 99.95 { 0 } else { 1 };
    minus(format!("{value:.decimals$} thou"))
}

/// `0.02 mm (0.8 thou)`, for differences.
pub(crate) fn both(si_m: f64) -> String {
    let decimals = if si_m.abs() < 9.95e-6 { 4 } else { 3 };
    let metric = format!("{:.*}", decimals, clean(si_m * MM_PER_M));
    let metric = metric.trim_end_matches('0').trim_end_matches('.');
    minus(format!("{metric} mm ({})", thou(si_m)))
}

/// A true minus: a hyphen before a figure is too easily overlooked.
fn minus(figure: String) -> String {
    match figure.strip_prefix('-') {
        Some(rest) => format!("−{rest}"),
        None => figure,
    }
}

/// No minus before a nought.
fn clean(value: f64) -> f64 {
    if value.abs() < 1e-9 { 0.0 } else { value }
}

/// Least and greatest.
pub(crate) fn extent(values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    values.fold(None, |e, v| match e {
        None => Some((v, v)),
        Some((a, b)) => Some((a.min(v), b.max(v))),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_one_two_five() {
        assert!((step_for(0.1e-3, 5.0) - 0.02e-3).abs() < 1e-12);
        assert!((step_for(0.26e-3, 5.0) - 0.1e-3).abs() < 1e-12);
        assert!((step_for(0.05e-3, 5.0) - 0.01e-3).abs() < 1e-12);
        for span in [1e-6, 3.3e-5, 0.7e-3, 1.2] {
            let n = span / step_for(span, 6.0);
            assert!((2.0..=6.0 + 1e-6).contains(&n), "{span}: {n} steps");
        }
    }

    #[test]
    fn prints_both_systems() {
        // The inch is 25.4 mm exactly (international yard and pound agreement, 1959), so a thou
        // is 0.0254 mm.
        assert_eq!(both(0.0254e-3), "0.025 mm (1.0 thou)");
        assert_eq!(both(0.02e-3), "0.02 mm (0.8 thou)");
        assert_eq!(both(-0.5e-3), "−0.5 mm (−19.7 thou)");
        assert_eq!(both(5e-3), "5 mm (197 thou)");
        assert_eq!(mm(203.2e-3, decimals_mm(0.02e-3)), "203.20 mm");
        assert_eq!(decimals_mm(0.05e-3), 2);
        assert_eq!(decimals_mm(1e-3), 0);
    }
}
