//! QR codes as vector drawings: every run of dark squares is one rectangle of one path.
//!
//! Symbols after ISO/IEC 18004, laid out by `fast_qr`, at error correction level Q: about a quarter
//! of the symbol may be oil (from memory). The light border of four squares that the standard asks
//! for is part of the drawing.

use fast_qr::{ECL, QRBuilder};
use std::fmt::Write as _;

/// Light border, squares.
const BORDER: usize = 4;
/// Longer texts make squares too small for a phone on a sheet that has been folded.
pub(crate) const LONGEST: usize = 300;

/// The code of a text as SVG; `None` when the text is empty or too long to be read from paper.
pub(crate) fn qr_svg(text: &str) -> Option<String> {
    if text.is_empty() || text.len() > LONGEST {
        return None;
    }
    let code = QRBuilder::new(text.as_bytes()).ecl(ECL::Q).build().ok()?;
    let across = code.size + 2 * BORDER;
    let mut path = String::new();
    for y in 0..code.size {
        let row = &code[y];
        let mut x = 0;
        while x < code.size {
            let run = row.iter().skip(x).take(code.size - x).take_while(|m| m.value()).count();
            if run == 0 {
                x += 1;
                continue;
            }
            // Writing to a string does not fail.
            let _ = write!(path, "M{} {}h{run}v1h-{run}z", x + BORDER, y + BORDER);
            x += run;
        }
    }
    Some(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{across}\" height=\"{across}\" viewBox=\"0 0 {across} {across}\"><path d=\"{path}\" fill=\"#000000\"/></svg>"
    ))
}

/// A text as part of an address: everything but the unreserved characters of RFC 3986, section
/// 2.3, is percent-encoded.
pub(crate) fn percent_encoded(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for byte in text.bytes() {
        match byte {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' => {
                out.push(char::from(byte));
            }
            other => {
                let _ = write!(out, "%{other:02X}");
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Draws the path as dots and has it read by a reader that is not ours.
    fn read(svg: &str) -> String {
        let across: usize = svg
            .split_once("width=\"")
            .and_then(|(_, rest)| rest.split_once('"'))
            .and_then(|(n, _)| n.parse().ok())
            .expect("a width");
        let path = svg.split_once("d=\"").and_then(|(_, r)| r.split_once('"')).expect("a path").0;
        let mut dark = vec![false; across * across];
        for run in path.split('M').skip(1) {
            let (x, rest) = run.split_once(' ').expect("x");
            let (y, rest) = rest.split_once('h').expect("y");
            let (length, _) = rest.split_once('v').expect("length");
            let number = |t: &str| t.parse::<usize>().expect("a number");
            for i in 0..number(length) {
                dark[number(y) * across + number(x) + i] = true;
            }
        }
        let dots = 6;
        let mut image =
            rqrr::PreparedImage::prepare_from_greyscale(across * dots, across * dots, |x, y| {
                if dark[y / dots * across + x / dots] { 0 } else { 255 }
            });
        let grids = image.detect_grids();
        assert_eq!(grids.len(), 1, "one code is seen");
        grids[0].decode().expect("is read").1
    }

    #[test]
    fn another_reader_reads_them() {
        let long = "x".repeat(LONGEST);
        for text in
            ["7K3", "https://192.168.1.20:8443/gauge/big-end.left.bore", "Ærø %20 字", &long]
        {
            assert_eq!(read(&qr_svg(text).expect("a code")), text);
        }
        assert_eq!(qr_svg(""), None);
        assert_eq!(qr_svg(&"x".repeat(LONGEST + 1)), None);
    }

    #[test]
    fn addresses_are_encoded() {
        // RFC 3986, section 2.1: "%20" is the space; section 2.3 lists what stays.
        assert_eq!(percent_encoded("a b/ü?"), "a%20b%2F%C3%BC%3F");
        assert_eq!(percent_encoded("big-end.left_~1"), "big-end.left_~1");
    }
}
