//! Lengths as they are printed on a sheet.

use super::shapes::Pair;
use engine::judge::{Estimate, FeatureState};
use engine::model::Measure;
use engine::view::Figure;
use mechanics::metrology::budget::{Dof, coverage_factor};
use quantity::{Quantity, System, Unit, print_in, print_with_uncertainty_in};

/// Probability that the interval printed after ± is meant to cover.
pub(super) const COVERED: f64 = 0.95;

/// Both systems of a figure.
pub(super) fn pair(figure: &Figure) -> Pair {
    Pair { metric: minus(&figure.metric), imperial: minus(&figure.imperial) }
}

/// A figure with a true minus: a hyphen before a clearance is too easily overlooked.
pub(super) fn minus(figure: &str) -> String {
    let mut out = String::with_capacity(figure.len() + 2);
    let mut previous = ' ';
    let mut rest = figure.chars().peekable();
    while let Some(c) = rest.next() {
        let negative = c == '-'
            && matches!(previous, ' ' | '(')
            && rest.peek().is_some_and(|n| n.is_ascii_digit() || *n == '.');
        out.push(if negative { '−' } else { c });
        previous = c;
    }
    out
}

/// A figure of a measure with its expanded uncertainty: coverage factor of Student's t at 95 %
/// and its effective degrees of freedom (JCGM 100:2008, G.3.2).
pub(super) fn expanded_pair(
    measure: Measure,
    estimate: &Estimate,
    features: &[FeatureState],
) -> Pair {
    let wide = expanded_m(estimate.u(), estimate.degrees_of_freedom(features));
    let small = !matches!(measure, Measure::Size | Measure::Length);
    let imperial = if small { Unit::THOU } else { Unit::INCH };
    Pair {
        metric: minus(&print_with_uncertainty_in(estimate.si(), Unit::MILLIMETRE, wide)),
        imperial: minus(&print_with_uncertainty_in(estimate.si(), imperial, wide)),
    }
}

/// A size as it was written, and exactly the same in the other system.
pub(super) fn exact_pair(quantity: &Quantity) -> Pair {
    let si = quantity.si();
    let in_unit = |unit| print_in(si, unit, None);
    let small = si.abs() < 2.5e-3;
    let mut pair = Pair {
        metric: in_unit(Unit::MILLIMETRE),
        imperial: in_unit(if small { Unit::THOU } else { Unit::INCH }),
    };
    match quantity.unit().system() {
        Some(System::Metric) => pair.metric = quantity.text().to_owned(),
        Some(System::Imperial) => pair.imperial = quantity.text().to_owned(),
        None => {}
    }
    pair
}

/// Expanded uncertainty.
pub(super) fn expanded_m(u_m: f64, degrees_of_freedom: f64) -> f64 {
    let dof = if degrees_of_freedom.is_finite() {
        Dof::Finite(degrees_of_freedom.max(1.0))
    } else {
        Dof::Infinite
    };
    // Only a probability or degrees of freedom out of range is refused, and neither is; should it
    // be after all, an uncertainty that is not finite prints as "no value" rather than as a guess.
    u_m * coverage_factor(COVERED, dof).unwrap_or(f64::NAN)
}

/// `most 0.50 mm`, `0.10 to 0.25 mm` in both systems.
pub(super) fn limit_pair(min: Option<&Figure>, max: Option<&Figure>) -> Pair {
    let words = |pick: fn(&Figure) -> &str| match (min, max) {
        (Some(a), Some(b)) => between(pick(a), pick(b)),
        (Some(a), None) => format!("least {}", pick(a)),
        (None, Some(b)) => format!("most {}", pick(b)),
        (None, None) => String::new(),
    };
    Pair { metric: minus(&words(|f| &f.metric)), imperial: minus(&words(|f| &f.imperial)) }
}

/// `0.10 to 0.25 mm`: the unit once where both have the same.
fn between(a: &str, b: &str) -> String {
    match (a.rsplit_once(' '), b.rsplit_once(' ')) {
        (Some((figure, unit)), Some((_, other))) if unit == other => format!("{figure} to {b}"),
        _ => format!("{a} to {b}"),
    }
}

/// A probability without more nines than anyone can vouch for.
pub(super) fn probability(p: f64) -> String {
    if !p.is_finite() {
        "not to be had".to_owned()
    } else if p > 0.999 {
        "> 99.9 %".to_owned()
    } else if p < 0.001 {
        "< 0.1 %".to_owned()
    } else if !(0.1..=0.9).contains(&p) {
        format!("{:.1} %", 100.0 * p)
    } else {
        format!("{:.0} %", 100.0 * p)
    }
}

/// `1,500`
pub(super) fn count(n: usize) -> String {
    let digits = n.to_string();
    let mut out = String::new();
    for (i, c) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(c);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn as_made_keeps_what_was_written() {
        // 1 in = 25.4 mm exactly (1959 agreement): 1 3/8 in is 34.925 mm.
        let written = Quantity::parse("1 3/8 in").expect("a size");
        let pair = exact_pair(&written);
        assert_eq!((pair.metric.as_str(), pair.imperial.as_str()), ("34.925 mm", "1 3/8 in"));
        let written = Quantity::parse("203.2 mm").expect("a size");
        let pair = exact_pair(&written);
        assert_eq!((pair.metric.as_str(), pair.imperial.as_str()), ("203.2 mm", "8 in"));
    }

    #[test]
    fn a_minus_is_a_minus() {
        assert_eq!(minus("-0.24 mm (-9.4 thou)"), "−0.24 mm (−9.4 thou)");
        assert_eq!(minus("-0.5 to 0.5 mm"), "−0.5 to 0.5 mm");
        assert_eq!(minus("8-3/16 in"), "8-3/16 in");
    }

    #[test]
    fn units_once() {
        assert_eq!(between("0.1 mm", "0.25 mm"), "0.1 to 0.25 mm");
        assert_eq!(between("8 in", "203.4 mm"), "8 in to 203.4 mm");
    }

    #[test]
    fn coverage_is_students() {
        // JCGM 100:2008 Table G.2: t at 95 % is 2.12 for 16 degrees of freedom, 1.960 for
        // infinitely many (verified against a public test suite that quotes the table).
        assert!((expanded_m(1.0, 16.0) - 2.12).abs() < 0.005);
        assert!((expanded_m(1.0, f64::INFINITY) - 1.960).abs() < 0.0005);
    }

    #[test]
    fn counts_and_chances() {
        assert_eq!(count(1500), "1,500");
        assert_eq!(count(12), "12");
        assert_eq!(count(1_234_567), "1,234,567");
        assert_eq!(probability(0.9999), "> 99.9 %");
        assert_eq!(probability(0.956), "95.6 %");
        assert_eq!(probability(0.52), "52 %");
    }
}
