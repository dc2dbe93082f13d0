//! What every drawing must keep to, read by an XML reader that is not ours.

use crate::Picture;
use roxmltree::{Document, Node};

/// Elements of SVG 1.1 that a drawing may use.
const ELEMENTS: &[&str] =
    &["svg", "title", "desc", "line", "polyline", "polygon", "circle", "rect", "path", "text"];

/// Checks a picture: well formed, plain attributes only, nothing but known elements, everything on
/// the sheet. Gives the document's texts.
pub(crate) fn check(picture: &Picture) -> Vec<String> {
    let doc = Document::parse(&picture.svg).expect("well formed XML");
    let (width, height) = (picture.width_pt, picture.height_pt);
    for node in doc.descendants().filter(Node::is_element) {
        let name = node.tag_name().name();
        assert!(ELEMENTS.contains(&name), "element {name}");
        for a in node.attributes() {
            assert!(!matches!(a.name(), "style" | "class" | "id" | "href"), "{}", a.name());
            assert!(!a.value().contains("var("), "{}", a.value());
        }
        for (x, y) in places(&node) {
            assert!((-0.5..=width + 0.5).contains(&x), "{name} at x {x} of {width}");
            assert!((-0.5..=height + 0.5).contains(&y), "{name} at y {y} of {height}");
        }
    }
    texts_fit(&doc, width);
    doc.descendants()
        .filter(|n| n.has_tag_name("text"))
        .map(|n| n.text().unwrap_or("").to_owned())
        .collect()
}

/// How many elements of a kind there are.
pub(crate) fn count(picture: &Picture, element: &str) -> usize {
    let doc = Document::parse(&picture.svg).expect("well formed XML");
    doc.descendants().filter(|n| n.has_tag_name(element)).count()
}

fn number(node: &Node<'_, '_>, name: &str) -> f64 {
    let text = node.attribute(name).unwrap_or_else(|| panic!("{name} of {node:?}"));
    text.parse().unwrap_or_else(|_| panic!("{name}=\"{text}\""))
}

/// Corners and ends of an element.
pub(crate) fn places(node: &Node<'_, '_>) -> Vec<(f64, f64)> {
    let n = |name: &str| number(node, name);
    match node.tag_name().name() {
        "line" => vec![(n("x1"), n("y1")), (n("x2"), n("y2"))],
        "circle" => {
            let (x, y, r) = (n("cx"), n("cy"), n("r"));
            vec![(x - r, y - r), (x + r, y + r)]
        }
        "rect" => vec![(n("x"), n("y")), (n("x") + n("width"), n("y") + n("height"))],
        "text" => vec![(n("x"), n("y"))],
        "polyline" | "polygon" => node
            .attribute("points")
            .unwrap_or("")
            .split_whitespace()
            .map(|p| {
                let (x, y) = p.split_once(',').expect("x,y");
                (x.parse().expect("x"), y.parse().expect("y"))
            })
            .collect(),
        _ => Vec::new(),
    }
}

/// No text runs off the sheet.
fn texts_fit(doc: &Document<'_>, width: f64) {
    use crate::svg::Weight;
    for node in doc.descendants().filter(|n| n.has_tag_name("text")) {
        let bold = node.attribute("font-weight") == Some("bold");
        let weight = if bold { Weight::Bold } else { Weight::Regular };
        let text = node.text().unwrap_or("");
        let w = crate::lettering::width_of(text, number(&node, "font-size"), weight);
        let x = number(&node, "x");
        let from = match node.attribute("text-anchor") {
            Some("middle") => x - w / 2.0,
            Some("end") => x - w,
            _ => x,
        };
        assert!(from >= -0.5 && from + w <= width + 0.5, "\"{text}\" {from} to {}", from + w);
    }
}
