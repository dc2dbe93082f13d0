//! How a report or a sheet is wanted.

use crate::qr::percent_encoded;

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

/// Which system of units stands first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum UnitsFirst {
    /// Millimetres.
    #[default]
    Metric,
    /// Inches and thou.
    Imperial,
}

/// Addresses that the QR codes on sheets open: each is followed by a name, percent-encoded.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Links {
    /// Page to enter readings of a feature.
    pub gauge: String,
    /// Page of a part by the code of its tag.
    pub tag: String,
    /// Page of a part or joint by its id.
    pub thing: String,
    /// Page of a work.
    pub work: String,
}

impl Links {
    /// The usual pages under an address: `gauge/`, `tag/`, `thing/` and `work/`.
    ///
    /// ```
    /// let links = paper::Links::under("https://shed.local:8443/");
    /// assert_eq!(links.gauge, "https://shed.local:8443/gauge/");
    /// ```
    pub fn under(address: &str) -> Links {
        let base = address.trim().trim_end_matches('/');
        let page = |name: &str| format!("{base}/{name}/");
        Links { gauge: page("gauge"), tag: page("tag"), thing: page("thing"), work: page("work") }
    }
}

/// How a sheet is wanted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SheetOptions {
    /// Sheet size.
    pub paper: PaperSize,
    /// Which system of units stands first.
    pub units: UnitsFirst,
    /// Addresses for QR codes; without them a code holds the name itself.
    pub links: Option<Links>,
}

impl SheetOptions {
    /// What a code says: an address with a name after it, or the name alone.
    pub(crate) fn code(&self, page: fn(&Links) -> &str, name: &str) -> String {
        match &self.links {
            Some(links) => format!("{}{}", page(links), percent_encoded(name)),
            None => name.to_owned(),
        }
    }
}
