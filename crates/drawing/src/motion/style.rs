//! Size and lettering of a picture.

use super::DrawingError;
use mechanics::motion::Bound;

/// Size and lettering of a picture.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawingStyle {
    /// Family names of the lettering, as the `font-family` attribute takes them.
    pub font_family: String,
    /// Width of the picture in its own units (a page may show it at any size).
    pub width: f64,
    /// Height of the lettering in the same units.
    pub text: f64,
}

impl Default for DrawingStyle {
    fn default() -> Self {
        Self {
            font_family: "Noto Sans, DejaVu Sans, sans-serif".to_owned(),
            width: 900.0,
            text: 14.0,
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
