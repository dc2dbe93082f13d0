//! Figures that are asked about before they are kept.
//!
//! None of this is a limit and none is refused for it: a person says "yes, as typed" and that stands
//! in the book beside the figure. How far is far is this page's own choice: so far that a slip (a
//! wrong inch, a turn of the thimble, millimetres for inches) is caught before the gauge is put
//! away, and so far that honest wear is hardly ever asked about.

use engine::model::{FeatureKind, Metal};

/// A figure from one sitting lies this near its fellows: half a millimetre (a micrometer's thimble
/// turn is that, or 25 thou), or this share of the size.
const FELLOWS_M: f64 = 0.5e-3;
const FELLOWS_SHARE: f64 = 0.001;
/// And this near to what was read years ago, or to the drawing.
const BEFORE_M: f64 = 2e-3;
const BEFORE_SHARE: f64 = 0.02;
/// A worn surface does not gain metal: so much is told from a reading in another temperature.
const GAIN_M: f64 = 0.25e-3;

/// What a figure is compared with.
#[derive(Clone, Debug)]
pub(crate) struct Expected {
    /// Metres.
    pub(crate) si: f64,
    /// What that is: "the last", "its drawing".
    pub(crate) words: String,
    /// How far from it is asked about, metres.
    pub(crate) far_m: f64,
    /// More metal than before is asked about beyond this: above the figure (+1) or below it (-1).
    pub(crate) gains: f64,
}

/// How far from figures of the same sitting is asked about, metres.
pub(crate) fn far_from_fellows(size_m: f64) -> f64 {
    FELLOWS_M.max(FELLOWS_SHARE * size_m.abs())
}

/// How far from an earlier figure is asked about, metres.
pub(crate) fn far_from_before(size_m: f64) -> f64 {
    BEFORE_M.max(BEFORE_SHARE * size_m.abs())
}

/// Which way a surface gains metal.
pub(crate) fn gains(kind: FeatureKind) -> f64 {
    match kind.metal() {
        Metal::Inside => 1.0,
        Metal::Outside => -1.0,
        Metal::Neither => 0.0,
    }
}

/// Least gain of metal that is asked about, metres.
pub(crate) fn least_gain() -> f64 {
    GAIN_M
}

/// What is asked about a figure; nothing when it looks right.
pub(crate) fn doubts(
    si: f64,
    expected: Option<&Expected>,
    fellows: &[f64],
    range: Option<(f64, f64)>,
    inches: bool,
) -> Vec<String> {
    let mut out = Vec::new();
    if si <= 0.0 {
        out.push("this is nothing or less than nothing".to_owned());
    }
    if let Some(middle) = median(fellows)
        && far_from_fellows(middle) < (si - middle).abs()
    {
        out.push(format!("this is {} than the others just typed", apart(si - middle, inches)));
    } else if let Some(e) = expected {
        let off = si - e.si;
        if e.far_m < off.abs() {
            out.push(format!("this is {} than {}", apart(off, inches), e.words));
        } else if GAIN_M < off * e.gains {
            let metal = if 0.0 < e.gains { "grown" } else { "closed in" };
            out.push(format!(
                "this is {} than {}: a worn surface has not {metal}",
                apart(off, inches),
                e.words
            ));
        }
    }
    if let Some((from, to)) = range {
        let past = 0.02 * (to - from);
        if si < from - past || to + past < si {
            out.push("this is outside the range of the gauge".to_owned());
        }
    }
    out
}

fn median(values: &[f64]) -> Option<f64> {
    let mut sorted: Vec<f64> = values.iter().copied().filter(|v| v.is_finite()).collect();
    sorted.sort_by(f64::total_cmp);
    sorted.get(sorted.len() / 2).copied()
}

/// "1 in larger", "0.63 mm smaller".
fn apart(m: f64, inches: bool) -> String {
    let way = if 0.0 < m { "larger" } else { "smaller" };
    let trimmed = |text: String| {
        if text.contains('.') {
            text.trim_end_matches('0').trim_end_matches('.').to_owned()
        } else {
            text
        }
    };
    let (m, inch) = (m.abs(), m.abs() / 25.4e-3);
    match inches {
        true if 0.1 <= inch => format!("{} in {way}", trimmed(format!("{inch:.3}"))),
        true => format!("{} thou {way}", trimmed(format!("{:.1}", inch * 1e3))),
        false => format!("{} mm {way}", trimmed(format!("{:.2}", m * 1e3))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn last(si: f64, kind: FeatureKind) -> Expected {
        Expected {
            si,
            words: "the last".to_owned(),
            far_m: far_from_before(si),
            gains: gains(kind),
        }
    }

    #[test]
    fn an_inch_a_thimble_turn_and_grown_metal_are_asked_about() {
        let inch = 25.4e-3;
        let journal = last(7.75 * inch, FeatureKind::Journal);
        let ask = |si: f64, fellows: &[f64]| doubts(si, Some(&journal), fellows, None, true);
        assert_eq!(ask(8.75 * inch, &[]), ["this is 1 in larger than the last"]);
        let fellows = [7.747 * inch, 7.747 * inch, 7.748 * inch];
        assert_eq!(
            ask(7.722 * inch, &fellows),
            ["this is 25 thou smaller than the others just typed"]
        );
        assert!(ask(7.731 * inch, &fellows).is_empty(), "sixteen thou oval has been seen");
        assert_eq!(
            ask(7.77 * inch, &[]),
            ["this is 20 thou larger than the last: a worn surface has not grown"]
        );
        assert!(ask(7.70 * inch, &[]).is_empty(), "fifty thou of wear is no slip");
        let bore = last(0.1, FeatureKind::Bore);
        assert_eq!(
            doubts(0.0995, Some(&bore), &[], None, false),
            ["this is 0.5 mm smaller than the last: a worn surface has not closed in"]
        );
        assert_eq!(
            doubts(0.1, None, &[], Some((0.125, 0.15)), false),
            ["this is outside the range of the gauge"]
        );
        assert_eq!(doubts(f64::NAN, Some(&bore), &[f64::NAN], None, false), Vec::<String>::new());
    }
}
