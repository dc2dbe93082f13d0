//! Sheets set from a small engine and read back from the typesetter's own pages.

mod engines;
mod hostile;
mod report;

use crate::error::PaperError;
use crate::world::SheetWorld;
use serde::Serialize;
use typst::layout::{Frame, FrameItem};
use typst::visualize::ImageKind;
use typst_layout::PagedDocument;

/// A set document as a reader sees it.
pub(crate) struct Pages {
    /// Words page by page, without the words inside drawings.
    pub(crate) texts: Vec<String>,
    /// Drawings page by page.
    pub(crate) drawings: Vec<usize>,
    /// Words inside drawings, each with the width the built-in letters gave it, points.
    pub(crate) lettered: Vec<(String, f32)>,
    /// Size of the first page, points.
    pub(crate) size_pt: (f64, f64),
}

impl Pages {
    /// All words.
    pub(crate) fn all(&self) -> String {
        self.texts.join("\n")
    }
}

/// Sets a template and reads the pages.
pub(crate) fn pages(template: &'static str, data: &impl Serialize) -> Result<Pages, PaperError> {
    let world = SheetWorld::new(template, serde_json::to_vec(data)?, None);
    let document: PagedDocument =
        typst::compile(&world).output.map_err(|e| PaperError::Typesetting(format!("{e:?}")))?;
    let mut pages = Pages {
        texts: Vec::new(),
        drawings: Vec::new(),
        lettered: Vec::new(),
        size_pt: (0.0, 0.0),
    };
    for page in document.pages() {
        let (mut text, mut drawings) = (String::new(), 0);
        read(&page.frame, &mut text, &mut drawings, &mut pages.lettered);
        pages.texts.push(text);
        pages.drawings.push(drawings);
    }
    if let Some(first) = document.pages().first() {
        let size = first.frame.size();
        pages.size_pt = (size.x.to_pt(), size.y.to_pt());
    }
    Ok(pages)
}

type Lettered = Vec<(String, f32)>;

fn read(frame: &Frame, text: &mut String, drawings: &mut usize, lettered: &mut Lettered) {
    for (_, item) in frame.items() {
        match item {
            FrameItem::Group(group) => read(&group.frame, text, drawings, lettered),
            // Pieces of one text follow one another without anything between them.
            FrameItem::Text(item) => text.push_str(&item.text),
            FrameItem::Image(image, ..) => {
                *drawings += 1;
                if let ImageKind::Svg(svg) = image.kind() {
                    letters(svg.tree().root(), lettered);
                }
            }
            _ => {}
        }
    }
}

fn letters(group: &usvg::Group, lettered: &mut Lettered) {
    for node in group.children() {
        match node {
            usvg::Node::Group(inner) => letters(inner, lettered),
            usvg::Node::Text(text) => {
                let words: String = text.chunks().iter().map(usvg::TextChunk::text).collect();
                lettered.push((words, text.bounding_box().width()));
            }
            _ => {}
        }
    }
}
