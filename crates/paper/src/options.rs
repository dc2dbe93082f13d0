//! How a report is wanted.

/// Sheet size.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PaperSize {
    /// 210 by 297 mm (ISO 216).
    #[default]
    A4,
    /// 8 1/2 by 11 in.
    UsLetter,
}

impl PaperSize {
    /// The typesetter's name for it.
    pub(crate) fn name(self) -> &'static str {
        match self {
            PaperSize::A4 => "a4",
            PaperSize::UsLetter => "us-letter",
        }
    }
}

/// How a condition report is wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReportOptions {
    /// Sheet size.
    pub paper: PaperSize,
    /// Joints set out in full, worst first: those beyond, then those near. The report says how
    /// many there are that it does not set out.
    pub joints_in_full: usize,
}

impl Default for ReportOptions {
    /// A4, a dozen joints in full.
    fn default() -> Self {
        ReportOptions { paper: PaperSize::A4, joints_in_full: 12 }
    }
}
