//! How wide words come out, so that a label is not set over its neighbour.

use crate::svg::Weight;

/// Advance widths of the characters from space to tilde, thousandths of the size: Libertinus
/// Serif Regular, read from the font's own hmtx and cmap tables.
const REGULAR: [u16; 95] = [
    250, 288, 336, 465, 465, 637, 705, 190, 298, 298, 369, 550, 220, 338, 220, 323, 465, 465, 465,
    465, 465, 465, 465, 465, 465, 465, 236, 236, 550, 550, 550, 435, 895, 695, 588, 646, 701, 557,
    485, 685, 730, 297, 322, 637, 528, 839, 699, 702, 541, 702, 587, 485, 597, 661, 652, 951, 660,
    575, 604, 356, 287, 356, 518, 486, 392, 457, 493, 428, 506, 447, 310, 500, 538, 271, 272, 512,
    264, 790, 542, 504, 519, 503, 372, 390, 316, 531, 497, 747, 490, 515, 424, 277, 205, 277, 449,
];

/// The same of Libertinus Serif Bold.
const BOLD: [u16; 95] = [
    250, 266, 376, 514, 514, 637, 729, 215, 315, 315, 433, 537, 244, 358, 244, 316, 514, 514, 514,
    514, 514, 514, 514, 514, 514, 514, 256, 256, 512, 551, 512, 430, 988, 740, 654, 706, 734, 609,
    545, 732, 817, 367, 373, 736, 577, 899, 740, 730, 614, 730, 716, 504, 652, 732, 700, 1028, 718,
    624, 624, 397, 307, 397, 518, 486, 392, 506, 542, 456, 561, 489, 391, 521, 619, 322, 312, 613,
    325, 905, 616, 551, 581, 573, 428, 427, 358, 598, 529, 777, 561, 558, 452, 307, 220, 307, 473,
];

/// Width of a text in points.
pub(crate) fn width_of(text: &str, size: f64, weight: Weight) -> f64 {
    let table = match weight {
        Weight::Regular => &REGULAR,
        Weight::Bold => &BOLD,
    };
    text.chars().map(|c| width_of_char(c, table)).sum::<f64>() / 1000.0 * size
}

fn width_of_char(c: char, table: &[u16; 95]) -> f64 {
    match c {
        ' '..='~' => f64::from(table[c as usize - ' ' as usize]),
        '°' => 267.0,
        '–' => 548.0,
        '…' => 749.0,
        '±' | '×' | '−' => 550.0,
        c if c.is_control() => 0.0,
        // Latin letters with accents are about as wide as without; others may be as wide as high.
        c if (c as u32) < 0x250 => 560.0,
        c if (c as u32) < 0x2E80 => 700.0,
        _ => 1000.0,
    }
}

/// The text, cut with an ellipsis where it is wider than `width`.
pub(crate) fn shortened(text: &str, width: f64, size: f64, weight: Weight) -> String {
    if width_of(text, size, weight) <= width {
        return text.to_owned();
    }
    let room = width - width_of("…", size, weight);
    let mut out = String::new();
    let mut used = 0.0;
    for c in text.chars() {
        used += width_of(c.encode_utf8(&mut [0; 4]), size, weight);
        if used > room {
            break;
        }
        out.push(c);
    }
    out.truncate(out.trim_end().len());
    out.push('…');
    out
}

/// The text in lines no wider than `width`; a single word that is wider is cut.
pub(crate) fn wrapped(text: &str, width: f64, size: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let word = shortened(word, width, size, Weight::Regular);
        match lines.last_mut() {
            Some(line) if width_of(&format!("{line} {word}"), size, Weight::Regular) <= width => {
                line.push(' ');
                line.push_str(&word);
            }
            _ => lines.push(word),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_all_as_wide() {
        // Lining figures of one width, so that columns of sizes stand.
        let one = width_of("1", 10.0, Weight::Regular);
        assert!(('0'..='9').all(|c| width_of(&c.to_string(), 10.0, Weight::Regular) == one));
    }

    #[test]
    fn cuts_what_is_too_wide() {
        let cut = shortened(&"m".repeat(4000), 50.0, 8.0, Weight::Regular);
        assert!(cut.ends_with('…') && width_of(&cut, 8.0, Weight::Regular) <= 50.0, "{cut}");
        assert_eq!(shortened("short", 50.0, 8.0, Weight::Regular), "short");
    }

    #[test]
    fn wraps_between_words() {
        let lines = wrapped("two point diameters cannot see odd lobes", 60.0, 7.0);
        assert!(lines.len() > 1);
        assert!(lines.iter().all(|l| width_of(l, 7.0, Weight::Regular) <= 60.0), "{lines:?}");
        assert_eq!(lines.join(" "), "two point diameters cannot see odd lobes");
        assert!(wrapped("", 60.0, 7.0).is_empty());
    }
}
