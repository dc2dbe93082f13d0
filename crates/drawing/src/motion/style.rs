//! Size and lettering of a picture.

use super::DrawingError;
use mechanics::motion::Bound;

/// Units that a picture's figures are in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum DrawnUnits {
    /// Millimetres, metres a second, kilonewtons.
    #[default]
    Metric,
    /// Inches, feet a second, long tons-force.
    Imperial,
}

/// A unit as a picture uses it: SI times `per_si` is the figure.
#[derive(Debug, Clone, Copy)]
pub(super) struct DrawnUnit {
    pub(super) per_si: f64,
    pub(super) name: &'static str,
    /// Places after the point of a small length.
    pub(super) places: usize,
}

impl DrawnUnit {
    pub(super) fn say(&self, si: f64) -> String {
        let v = si * self.per_si;
        let places = self.places;
        // A hair below nothing is nothing.
        let hair = 0.5 * 10.0_f64.powi(-i32::try_from(places).unwrap_or(2));
        let v = if v.abs() < hair { 0.0 } else { v };
        format!("{v:.places$} {}", self.name)
    }
}

impl DrawnUnits {
    /// Inch, foot and pound exactly by the international agreement of 1959; the long ton is 2240
    /// pounds, its force by standard free fall (9.80665 m/s²).
    const TONF_N: f64 = 2240.0 * 0.453_592_37 * 9.806_65;

    const fn unit(
        self,
        metric: (f64, &'static str, usize),
        imperial: (f64, &'static str, usize),
    ) -> DrawnUnit {
        let (per_si, name, places) = match self {
            DrawnUnits::Metric => metric,
            DrawnUnits::Imperial => imperial,
        };
        DrawnUnit { per_si, name, places }
    }

    pub(super) const fn length(self) -> DrawnUnit {
        self.unit((1e3, "mm", 1), (1.0 / 0.0254, "in", 2))
    }

    pub(super) const fn clearance(self) -> DrawnUnit {
        self.unit((1e3, "mm", 2), (1.0 / 0.0254, "in", 3))
    }

    pub(super) const fn speed(self) -> DrawnUnit {
        self.unit((1.0, "m/s", 1), (1.0 / 0.3048, "ft/s", 1))
    }

    pub(super) const fn force(self) -> DrawnUnit {
        self.unit((1e-3, "kN", 1), (1.0 / Self::TONF_N, "tonf", 2))
    }

    pub(super) const fn moment(self) -> DrawnUnit {
        self.unit((1e-3, "kN m", 1), (1.0 / (Self::TONF_N * 0.3048), "tonf ft", 2))
    }
}

/// Size and lettering of a picture.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawingStyle {
    /// Family names of the lettering, as the `font-family` attribute takes them.
    pub font_family: String,
    /// Width of the picture in its own units (a page may show it at any size).
    pub width: f64,
    /// Height of the lettering in the same units.
    pub text: f64,
    /// Units of its figures.
    pub units: DrawnUnits,
}

impl Default for DrawingStyle {
    fn default() -> Self {
        Self {
            font_family: "Noto Sans, DejaVu Sans, sans-serif".to_owned(),
            width: 900.0,
            text: 14.0,
            units: DrawnUnits::Metric,
        }
    }
}

impl DrawingStyle {
    pub(super) fn check(&self) -> Result<(), DrawingError> {
        const WIDTH: Bound = Bound::new("width of the picture", "units", 200.0, 10_000.0);
        const TEXT: Bound = Bound::new("height of the lettering", "units", 4.0, 100.0);
        WIDTH.check(self.width)?;
        TEXT.check(self.text)?;
        Ok(())
    }
}
