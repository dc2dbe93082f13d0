//! Taking out of a photograph what the camera wrote about place, time and owner, without touching
//! the picture. What stays is the orientation.

use super::refused;
use crate::Error;
use crate::crc::crc;
use image::metadata::Orientation;

/// A TIFF with one field: Orientation (tag 0x0112, SHORT), after TIFF 6.0 section 2 and Exif 2.3
/// table 4.
fn orientation_only(orientation: Orientation) -> Vec<u8> {
    let mut tiff = b"MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
    tiff.extend([orientation.to_exif(), 0, 0, 0, 0, 0, 0]);
    tiff
}

/// Keeps the segments a picture needs to be shown (ITU-T T.81 annex B), drops APP1 (Exif, XMP),
/// APP13, comments and all other application segments but JFIF, the colour profile and Adobe's
/// colour transform, and everything after the end of the image, where some cameras put a second
/// picture with a place of its own.
pub(super) fn jpeg(bytes: &[u8], orientation: Orientation) -> Result<Vec<u8>, Error> {
    let cut = || refused("the JPEG ends in the middle");
    let mut out = vec![0xFF, 0xD8];
    if orientation != Orientation::NoTransforms {
        let tiff = orientation_only(orientation);
        let length = (2 + 6 + tiff.len()) as u16;
        out.extend([0xFF, 0xE1]);
        out.extend(length.to_be_bytes());
        out.extend(b"Exif\0\0");
        out.extend(tiff);
    }
    let mut at = 2;
    loop {
        if bytes.get(at) != Some(&0xFF) {
            return Err(refused(format!("the JPEG is damaged at byte {at}")));
        }
        let marker = *bytes.get(at + 1).ok_or_else(cut)?;
        match marker {
            // Fill bytes before a marker.
            0xFF => {
                at += 1;
                continue;
            }
            0xD9 => {
                out.extend([0xFF, 0xD9]);
                return Ok(out);
            }
            // Markers without a segment.
            0x01 | 0xD0..=0xD8 => {
                out.extend([0xFF, marker]);
                at += 2;
                continue;
            }
            _ => {}
        }
        let length = bytes.get(at + 2..at + 4).ok_or_else(cut)?;
        let end = at + 2 + usize::from(u16::from_be_bytes([length[0], length[1]]));
        let segment = bytes.get(at..end).filter(|s| 4 <= s.len()).ok_or_else(cut)?;
        let keep = match marker {
            0xE0 => segment[4..].starts_with(b"JFIF\0"),
            0xE2 => segment[4..].starts_with(b"ICC_PROFILE\0"),
            0xEE => segment[4..].starts_with(b"Adobe"),
            0xE1..=0xEF | 0xFE => false,
            _ => true,
        };
        if keep {
            out.extend(segment);
        }
        at = end;
        if marker == 0xDA {
            // The scan itself: up to the next marker that is neither a stuffed byte nor a restart.
            let start = at;
            loop {
                let next = bytes.get(at..at + 2).ok_or_else(cut)?;
                if next[0] == 0xFF && !matches!(next[1], 0x00 | 0xD0..=0xD7) {
                    break;
                }
                at += 1;
            }
            out.extend(&bytes[start..at]);
        }
    }
}

/// Drops text, time and Exif chunks and what follows IEND (PNG third edition, sections 5 and 11).
pub(super) fn png(bytes: &[u8], orientation: Orientation) -> Result<Vec<u8>, Error> {
    let cut = || refused("the PNG ends in the middle");
    let mut out = bytes.get(..8).ok_or_else(cut)?.to_vec();
    let mut at = 8;
    loop {
        let head = bytes.get(at..at + 8).ok_or_else(cut)?;
        let length = u32::from_be_bytes([head[0], head[1], head[2], head[3]]) as usize;
        let end = at.checked_add(length).and_then(|e| e.checked_add(12)).ok_or_else(cut)?;
        let chunk = bytes.get(at..end).ok_or_else(cut)?;
        match &head[4..8] {
            b"eXIf" | b"tEXt" | b"zTXt" | b"iTXt" | b"tIME" => {}
            kind => {
                out.extend(chunk);
                if kind == b"IHDR" && orientation != Orientation::NoTransforms {
                    let tiff = orientation_only(orientation);
                    out.extend((tiff.len() as u32).to_be_bytes());
                    let start = out.len();
                    out.extend(b"eXIf");
                    out.extend(tiff);
                    let check = crc(&out[start..]);
                    out.extend(check.to_be_bytes());
                }
                if kind == b"IEND" {
                    return Ok(out);
                }
            }
        }
        at = end;
    }
}
