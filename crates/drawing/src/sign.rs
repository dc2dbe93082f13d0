//! Signs for verdicts, told apart by shape.

use crate::DrawingError;
use crate::svg::{Anchor, At, Fill, INK, Lettering, OUT, Pen, Picture, Svg};

/// A verdict, as it is told to a drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Proven outside its limit.
    Beyond,
    /// Inside, with little left.
    Near,
    /// Neither can be proven.
    CannotTell,
    /// Proven inside.
    Within,
    /// There is no limit.
    NoLimit,
}

impl Verdict {
    /// Every one, worst first.
    pub const ALL: [Verdict; 5] =
        [Verdict::Beyond, Verdict::Near, Verdict::CannotTell, Verdict::Within, Verdict::NoLimit];

    /// The word.
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Beyond => "beyond",
            Verdict::Near => "near",
            Verdict::CannotTell => "cannot tell",
            Verdict::Within => "within",
            Verdict::NoLimit => "no limit",
        }
    }

    /// From its word.
    pub fn from_word(word: &str) -> Option<Verdict> {
        Verdict::ALL.into_iter().find(|v| v.word() == word)
    }

    pub(crate) fn ink(self) -> &'static str {
        if self == Verdict::Beyond { OUT } else { INK }
    }
}

impl Svg {
    /// The sign of a verdict about a centre, `size` points across: a cross, a triangle, a question
    /// mark, a dot, a dash.
    pub fn sign(&mut self, centre: At, size: f64, verdict: Verdict) {
        let (x, y) = centre;
        let r = size / 2.0;
        let ink = verdict.ink();
        match verdict {
            Verdict::Beyond => {
                let a = r * 0.82;
                let pen = Pen::ink(size * 0.26).in_colour(ink);
                self.line((x - a, y - a), (x + a, y + a), pen);
                self.line((x - a, y + a), (x + a, y - a), pen);
            }
            Verdict::Near => {
                let corners =
                    [(x, y - r), (x + r * 0.98, y + r * 0.8), (x - r * 0.98, y + r * 0.8)];
                self.polygon(&corners, Fill::Colour(ink), None);
            }
            Verdict::CannotTell => {
                let letter = Lettering::new(size * 1.25).bold().at(Anchor::Middle);
                self.text((x, y + size * 0.42), "?", letter);
            }
            Verdict::Within => self.circle(centre, r * 0.72, Fill::Colour(ink), None),
            Verdict::NoLimit => {
                self.line((x - r * 0.8, y), (x + r * 0.8, y), Pen::ink(size * 0.14));
            }
        }
    }
}

/// A sign alone, `size` points across.
///
/// # Errors
/// A size that is not a finite figure from 1 to 1000 points.
pub fn sign_picture(verdict: Verdict, size_pt: f64) -> Result<Picture, DrawingError> {
    if !size_pt.is_finite() {
        return Err(DrawingError::NotFinite { what: "size of the sign", value: size_pt });
    }
    if !(1.0..=1000.0).contains(&size_pt) {
        return Err(DrawingError::OutOfRange {
            what: "size of the sign",
            value: size_pt,
            least: 1.0,
            most: 1000.0,
            unit: "pt",
        });
    }
    let mut svg = Svg::clear(size_pt, size_pt);
    svg.sign((size_pt / 2.0, size_pt / 2.0), size_pt * 0.9, verdict);
    svg.finish(verdict.word(), "")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::{check, count};

    #[test]
    fn signs_differ_in_shape() {
        let shape = |v| {
            let p = sign_picture(v, 10.0).expect("drawn");
            check(&p);
            ["line", "polygon", "circle", "text"].map(|e| count(&p, e))
        };
        let all = Verdict::ALL.map(shape);
        for (i, a) in all.iter().enumerate() {
            assert!(all[i + 1..].iter().all(|b| a != b), "{all:?}");
        }
        assert!(sign_picture(Verdict::Near, f64::NAN).is_err());
        assert!(sign_picture(Verdict::Near, 0.0).is_err());
    }

    #[test]
    fn words_come_back() {
        for v in Verdict::ALL {
            assert_eq!(Verdict::from_word(v.word()), Some(v));
        }
        assert_eq!(Verdict::from_word("safe"), None);
    }
}
