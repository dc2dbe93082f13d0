//! Mean and standard deviation of a standard normal cut to an interval.

/// Cuts on the far side of this many standard deviations leave a tail too thin to work with.
pub(super) const FARTHEST: f64 = 30.0;

/// Five-point Gauss-Legendre nodes and weights on −1..1 (Abramowitz & Stegun 1964, Table 25.4).
const NODES: [(f64, f64); 5] = [
    (-0.906_179_845_938_664, 0.236_926_885_056_189_08),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_47),
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_47),
    (0.906_179_845_938_664, 0.236_926_885_056_189_08),
];

/// Mean and standard deviation of a standard normal cut to `low..high` (standard deviations from
/// its mean, either may be infinite, `low < high`, neither beyond [`FARTHEST`] on the wrong side).
///
/// Quadrature rather than the closed form `(φ(a) − φ(b))/(Φ(b) − Φ(a))`, which loses all digits
/// for narrow intervals and far tails. The density is taken relative to its value at the point of
/// the interval nearest the mean, and the interval is shortened to where that falls to e⁻⁴⁰.
pub(super) fn moments(low: f64, high: f64) -> (f64, f64) {
    const PANELS: usize = 100;
    let nearest = if low > 0.0 {
        low
    } else if high < 0.0 {
        high
    } else {
        0.0
    };
    // (x² − nearest²)/2 = 40 at x = ±√(nearest² + 80).
    let reach = (nearest * nearest + 80.0).sqrt();
    let (from, to) = (low.max(-reach), high.min(reach));
    let half = 0.5 * (to - from) / PANELS as f64;
    let (mut weight, mut first) = (0.0, 0.0);
    let mut nodes = Vec::with_capacity(5 * PANELS);
    for panel in 0..PANELS {
        let middle = from + half * (2 * panel + 1) as f64;
        for (node, w) in NODES {
            let x = middle + half * node;
            let density = w * (-0.5 * (x - nearest) * (x + nearest)).exp();
            weight += density;
            first += density * (x - from);
            nodes.push((x - from, density));
        }
    }
    let mean = first / weight;
    let square: f64 = nodes.iter().map(|(x, density)| density * (x - mean) * (x - mean)).sum();
    (from + mean, (square / weight).sqrt())
}

#[cfg(test)]
mod tests {
    use super::moments;

    fn closed_form(a: f64, b: f64) -> (f64, f64) {
        use statrs::distribution::{Continuous, ContinuousCDF, Normal};
        let n = Normal::new(0.0, 1.0).unwrap();
        let z = n.cdf(b) - n.cdf(a);
        let mean = (n.pdf(a) - n.pdf(b)) / z;
        let edge = |x: f64| if x.is_finite() { x * n.pdf(x) } else { 0.0 };
        (mean, (1.0 + (edge(a) - edge(b)) / z - mean * mean).sqrt())
    }

    #[test]
    fn agrees_with_the_closed_form_where_that_is_good() {
        // Johnson, Kotz & Balakrishnan, Continuous Univariate Distributions 1 (1994) 13.10.1.
        for (a, b) in
            [(-1.0, 1.0), (-3.0, 3.0), (0.0, f64::INFINITY), (-2.0, 0.5), (1.0, 4.0), (-9.0, 9.0)]
        {
            let (mean, sd) = moments(a, b);
            let (m, s) = closed_form(a, b);
            assert!(
                (mean - m).abs() < 1e-9 && (sd - s).abs() < 1e-9,
                "{a} {b}: {mean} {m} {sd} {s}"
            );
        }
    }

    #[test]
    fn thin_slices_are_nearly_rectangular() {
        let (mean, sd) = moments(2.0, 2.0 + 1e-6);
        assert!((mean - 2.0000005).abs() < 1e-11);
        assert!((sd - 1e-6 / 12.0_f64.sqrt()).abs() < 1e-12);
    }

    #[test]
    fn far_tails_follow_the_mills_expansion() {
        // For a tail from a, mean − a → 1/a − 2/a³ + 10/a⁵ (Mills' ratio, Abramowitz & Stegun
        // 26.2.12).
        let a = 20.0_f64;
        let (mean, sd) = moments(a, f64::INFINITY);
        assert!((mean - a - (1.0 / a - 2.0 / a.powi(3) + 10.0 / a.powi(5))).abs() < 1e-6);
        assert!((sd - 1.0 / a).abs() < 0.02 / a);
    }
}
