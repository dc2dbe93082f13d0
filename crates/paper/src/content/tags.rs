//! Tags: a code and words to tie to a part, many on a sheet to be cut apart.

use super::shapes::{TagCell, TagSheet};
use crate::error::PaperError;
use crate::options::{PaperSize, SheetOptions};
use crate::qr::qr_svg;
use crate::text::Words;

/// How large a tag is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum TagSize {
    /// 60 by 120 mm with a hole: tied to a part with wire.
    #[default]
    TieOn,
    /// 90 by 45 mm: label for a tin, a drawer or a shelf.
    Tin,
    /// 45 by 25 mm: pins, bolts, brasses.
    Small,
    /// 180 by 130 mm: frames, wheels, boilers; read from across the shop.
    Large,
}

impl TagSize {
    /// All of them.
    pub const ALL: [TagSize; 4] = [TagSize::TieOn, TagSize::Tin, TagSize::Small, TagSize::Large];

    /// Width and height, millimetres.
    pub fn size_mm(self) -> (f64, f64) {
        match self {
            TagSize::TieOn => (60.0, 120.0),
            TagSize::Tin => (90.0, 45.0),
            TagSize::Small => (45.0, 25.0),
            TagSize::Large => (180.0, 130.0),
        }
    }

    /// How many lie side by side and one under the other on a sheet.
    pub fn on_a_sheet(self, paper: PaperSize) -> (usize, usize) {
        let (w, h) = self.size_mm();
        let (across, down) = match paper {
            PaperSize::A4 => (210.0, 297.0),
            PaperSize::UsLetter => (215.9, 279.4),
        };
        let fit = |room: f64, one: f64| ((room - 2.0 * MARGIN_MM) / one).floor().max(1.0) as usize;
        (fit(across, w), fit(down, h))
    }

    /// Characters of the part's name that are printed.
    fn longest_name(self) -> usize {
        match self {
            TagSize::TieOn => 70,
            TagSize::Tin => 60,
            TagSize::Small => 36,
            TagSize::Large => 90,
        }
    }

    fn word(self) -> &'static str {
        match self {
            TagSize::TieOn => "tie-on",
            TagSize::Tin => "tin",
            TagSize::Small => "small",
            TagSize::Large => "large",
        }
    }
}

/// What no printer reaches, with room for cutting marks.
const MARGIN_MM: f64 = 8.0;

/// What stands on a tag.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TagWords {
    /// Code with its check character; empty leaves room to write one.
    pub code: String,
    /// Part, by its id.
    pub part: String,
    /// Its name.
    pub name: String,
    /// left, right, or empty.
    pub side: String,
    /// Engine.
    pub engine: String,
}

pub(crate) fn tags_content(
    tags: &[TagWords],
    size: TagSize,
    options: &SheetOptions,
    warnings: &mut Vec<String>,
) -> Result<TagSheet, PaperError> {
    if tags.is_empty() {
        return Err(PaperError::Nothing("there are no tags".to_owned()));
    }
    let (width_mm, height_mm) = size.size_mm();
    let (across, down) = size.on_a_sheet(options.paper);
    let cells = tags.iter().map(|t| cell(t, size, options, warnings)).collect();
    Ok(TagSheet {
        paper: options.paper.name(),
        size: size.word(),
        width_mm,
        height_mm,
        across,
        down,
        cells,
    })
}

fn cell(
    tag: &TagWords,
    size: TagSize,
    options: &SheetOptions,
    warnings: &mut Vec<String>,
) -> TagCell {
    // Without a code yet the part itself is named.
    let says = if tag.code.is_empty() {
        options.code(|l| &l.thing, &tag.part)
    } else {
        options.code(|l| &l.tag, &tag.code)
    };
    let qr = qr_svg(&says).unwrap_or_else(|| {
        warnings.push(format!(
            "the tag \"{}\" has no QR code: what it would say is empty or too long",
            Words::from(&tag.code).text()
        ));
        String::new()
    });
    let name = if tag.name.is_empty() { &tag.part } else { &tag.name };
    TagCell {
        qr,
        code: cut(&tag.code, 14),
        name: cut(name, size.longest_name()),
        part: cut(&tag.part, size.longest_name()),
        side: cut(&tag.side, 16),
        engine: cut(&tag.engine, 32),
    }
}

/// A text that fits its place; the code tells what was cut.
fn cut(text: &str, most: usize) -> Words {
    if text.chars().count() <= most {
        return Words::from(text);
    }
    let mut short: String = text.chars().take(most - 1).collect();
    short.push('…');
    Words::from(short)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tags_fill_a_sheet() {
        // 210 by 297 mm (ISO 216) and 8 1/2 by 11 in, 8 mm left all round.
        let on = |s: TagSize| (s.on_a_sheet(PaperSize::A4), s.on_a_sheet(PaperSize::UsLetter));
        assert_eq!(on(TagSize::TieOn), ((3, 2), (3, 2)));
        assert_eq!(on(TagSize::Tin), ((2, 6), (2, 5)));
        assert_eq!(on(TagSize::Small), ((4, 11), (4, 10)));
        assert_eq!(on(TagSize::Large), ((1, 2), (1, 2)));
    }
}
