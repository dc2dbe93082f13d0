//! Indicator diagrams: pressure in one end of a cylinder against piston position.

use super::LoadError;
use crate::motion::Bound;

const POINT_LIMIT: usize = 100_000;
/// Ends of the stroke are met to this share of it; a pencil line is thicker.
const END_SHARE: f64 = 1e-6;
pub(crate) const PRESSURE: Bound = Bound::new("pressure above the atmosphere", "Pa", -1.1e5, 1e8);

/// One point of a diagram.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DiagramPoint {
    /// Piston away from the end the diagram belongs to, as a share of the stroke, 0 to 1.
    pub share: f64,
    /// Pressure above the atmosphere, Pa.
    pub pressure_pa: f64,
}

/// A closed, checked diagram of one end, straight between its points.
#[derive(Debug, Clone, PartialEq)]
pub struct IndicatorDiagram {
    out: Branch,
    home: Branch,
}

/// One stroke of a diagram with growing share.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Branch {
    knots: Vec<Knot>,
}

/// A point of a stroke and the slope to the next one.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Knot {
    share: f64,
    pressure_pa: f64,
    slope_pa: f64,
}

impl IndicatorDiagram {
    /// A diagram from its points in the order the pencil drew them: from the dead centre of its
    /// own end (share 0) out to the other (share 1) and back to share 0. Steps straight up or
    /// down (the same share twice) are allowed.
    ///
    /// `closing_limit_pa` is the greatest gap accepted between the first and the last pressure;
    /// within it the gap stays a step at the dead centre.
    ///
    /// # Errors
    /// Fewer than 3 points or more than 100 000; a value not finite or out of range; a loop that
    /// does not begin and end at share 0, does not reach share 1, goes back on its way, or does
    /// not close.
    pub fn from_loop(points: &[DiagramPoint], closing_limit_pa: f64) -> Result<Self, LoadError> {
        const LIMIT: Bound = Bound::new("closing limit of the diagram", "Pa", 0.0, 1e7);
        const SHARE: Bound = Bound::new("share of the stroke", "", -END_SHARE, 1.0 + END_SHARE);
        let count = points.len();
        if !(3..=POINT_LIMIT).contains(&count) {
            return Err(LoadError::DiagramPoints { count, low: 3, high: POINT_LIMIT });
        }
        let limit_pa = LIMIT.check(closing_limit_pa)?;
        for p in points {
            SHARE.check(p.share)?;
            PRESSURE.check(p.pressure_pa)?;
        }
        let (first, last) = (points[0], points[count - 1]);
        let ends = [("begins", first.share), ("ends", last.share)];
        if let Some((what, share)) = ends.into_iter().find(|(_, s)| END_SHARE < s.abs()) {
            return Err(LoadError::DiagramEnds { what, share, wanted: 0.0 });
        }
        // The first point of the greatest share is where the pencil turned.
        let turn = points
            .iter()
            .enumerate()
            .fold(0, |best, (i, p)| if points[best].share < p.share { i } else { best });
        if points[turn].share < 1.0 - END_SHARE {
            let share = points[turn].share;
            return Err(LoadError::DiagramEnds { what: "turns", share, wanted: 1.0 });
        }
        for i in 1..count {
            let (before, share) = (points[i - 1].share, points[i].share);
            let wrong = if i <= turn { share < before } else { before < share };
            if wrong {
                return Err(LoadError::DiagramOrder { index: i, before, share });
            }
        }
        if limit_pa < (last.pressure_pa - first.pressure_pa).abs() {
            return Err(LoadError::DiagramOpen {
                first_pa: first.pressure_pa,
                last_pa: last.pressure_pa,
                limit_pa,
            });
        }
        let out = Branch::new(points[..=turn].iter().copied());
        let home = Branch::new(points[turn..].iter().rev().copied());
        Ok(Self { out, home })
    }

    /// The same pressure all the way, out and home each.
    ///
    /// # Errors
    /// A pressure not finite or out of range.
    pub fn constant(out_pa: f64, home_pa: f64) -> Result<Self, LoadError> {
        let level = |pressure_pa| -> Result<Branch, LoadError> {
            let pressure_pa = PRESSURE.check(pressure_pa)?;
            let at = |share| DiagramPoint { share, pressure_pa };
            Ok(Branch::new([at(0.0), at(1.0)].into_iter()))
        };
        Ok(Self { out: level(out_pa)?, home: level(home_pa)? })
    }

    /// Pressure on the stroke away from this end, Pa; the share is held to 0..1.
    pub fn out_pa(&self, share: f64) -> f64 {
        self.out.at(share, &mut 0)
    }

    /// Pressure on the stroke home to this end, Pa; the share is held to 0..1.
    pub fn home_pa(&self, share: f64) -> f64 {
        self.home.at(share, &mut 0)
    }

    /// Mean effective pressure, Pa.
    ///
    /// Equation: area of the loop over its length, `∮ p dx`, exact for straight lines between the
    /// points (trapezia). Negative when the end takes work from the engine.
    pub fn mean_effective_pa(&self) -> f64 {
        self.out.area_pa() - self.home.area_pa()
    }

    /// Highest pressure of the diagram, Pa.
    pub fn greatest_pa(&self) -> f64 {
        let all = self.out.knots.iter().chain(&self.home.knots);
        all.map(|k| k.pressure_pa).fold(f64::NEG_INFINITY, f64::max)
    }

    /// The points again, out and home, in the order the pencil drew them.
    pub fn points(&self) -> Vec<DiagramPoint> {
        let point = |k: &Knot| DiagramPoint { share: k.share, pressure_pa: k.pressure_pa };
        self.out.knots.iter().chain(self.home.knots.iter().rev()).map(point).collect()
    }

    pub(crate) fn branches(&self) -> [&Branch; 2] {
        [&self.out, &self.home]
    }
}

impl Branch {
    fn new(points: impl Iterator<Item = DiagramPoint>) -> Self {
        let mut knots: Vec<Knot> = points
            .map(|p| Knot {
                share: p.share.clamp(0.0, 1.0),
                pressure_pa: p.pressure_pa,
                slope_pa: 0.0,
            })
            .collect();
        // A step straight up has no slope; the interval is never entered except at its end.
        for i in 1..knots.len() {
            let width = knots[i].share - knots[i - 1].share;
            if 0.0 < width {
                knots[i - 1].slope_pa = (knots[i].pressure_pa - knots[i - 1].pressure_pa) / width;
            }
        }
        Self { knots }
    }

    /// Pressure at a share; `hint` is the interval of the last question, which in a batch is the
    /// same or a neighbour.
    #[inline]
    pub(crate) fn at(&self, share: f64, hint: &mut usize) -> f64 {
        let x = share.clamp(0.0, 1.0);
        let knots = self.knots.as_slice();
        let last = knots.len() - 2;
        let mut i = (*hint).min(last);
        while i < last && knots[i + 1].share < x {
            i += 1;
        }
        while 0 < i && x <= knots[i].share {
            i -= 1;
        }
        // At the very beginning a step straight up is behind the piston already.
        if i == 0 {
            while i < last && knots[i + 1].share == knots[i].share {
                i += 1;
            }
        }
        *hint = i;
        let knot = &knots[i];
        knot.pressure_pa + knot.slope_pa * (x - knot.share)
    }

    fn area_pa(&self) -> f64 {
        self.knots
            .windows(2)
            .map(|k| 0.5 * (k[1].pressure_pa + k[0].pressure_pa) * (k[1].share - k[0].share))
            .sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(share: f64, pressure_pa: f64) -> DiagramPoint {
        DiagramPoint { share, pressure_pa }
    }

    fn square() -> Vec<DiagramPoint> {
        vec![point(0.0, 0.0), point(0.0, 8e5), point(1.0, 8e5), point(1.0, 0.0), point(0.0, 0.0)]
    }

    #[test]
    fn a_square_diagram_is_its_pressure() -> Result<(), LoadError> {
        let d = IndicatorDiagram::from_loop(&square(), 1.0)?;
        assert_eq!(d.mean_effective_pa(), 8e5);
        for x in [0.0, 0.2, 1.0] {
            assert_eq!(d.out_pa(x), 8e5);
        }
        for x in [0.0, 0.5] {
            assert_eq!(d.home_pa(x), 0.0);
        }
        assert_eq!(d.greatest_pa(), 8e5);
        assert_eq!(IndicatorDiagram::from_loop(&d.points(), 1.0)?.mean_effective_pa(), 8e5);
        Ok(())
    }

    #[test]
    fn the_hint_changes_nothing() -> Result<(), LoadError> {
        let mut points = vec![point(0.0, 1e5)];
        points.extend((1..=50).map(|i| point(f64::from(i) / 50.0, 1e6 / f64::from(i))));
        points.extend((0..50).rev().map(|i| point(f64::from(i) / 50.0, 1e5)));
        let d = IndicatorDiagram::from_loop(&points, 1.0)?;
        let mut hint = 0;
        for i in 0..2000_u32 {
            let x = f64::from(i * 7919 % 1000) / 1000.0;
            assert_eq!(d.out.at(x, &mut hint), d.out_pa(x));
        }
        Ok(())
    }

    #[test]
    fn refuses_what_is_no_diagram() {
        let mut open = square();
        open[4].pressure_pa = 5e4;
        assert!(matches!(
            IndicatorDiagram::from_loop(&open, 1e4),
            Err(LoadError::DiagramOpen { .. })
        ));
        assert!(IndicatorDiagram::from_loop(&open, 6e4).is_ok());
        let mut short = square();
        short.truncate(3);
        assert!(matches!(
            IndicatorDiagram::from_loop(&short, 1.0),
            Err(LoadError::DiagramEnds { .. })
        ));
        let mut back = square();
        back.insert(2, point(0.5, 8e5));
        back.insert(3, point(0.4, 8e5));
        assert!(matches!(
            IndicatorDiagram::from_loop(&back, 1.0),
            Err(LoadError::DiagramOrder { index: 3, .. })
        ));
        let mut nan = square();
        nan[1].pressure_pa = f64::NAN;
        assert!(IndicatorDiagram::from_loop(&nan, 1.0).is_err());
        assert!(IndicatorDiagram::from_loop(&[], 1.0).is_err());
    }
}
