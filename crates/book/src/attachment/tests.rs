use super::*;
use image::{ImageFormat, Rgb, RgbImage};

/// 600 by 300, red on the left.
fn picture() -> DynamicImage {
    RgbImage::from_fn(
        600,
        300,
        |x, _| if x < 300 { Rgb([220, 10, 10]) } else { Rgb([10, 10, 220]) },
    )
    .into()
}

fn encoded(format: ImageFormat) -> Vec<u8> {
    let mut out = Cursor::new(Vec::new());
    picture().write_to(&mut out, format).expect("encodes");
    out.into_inner()
}

/// Exif with orientation 6 (turn right to see it upright) and a place, as a phone writes it.
fn phone_exif() -> Vec<u8> {
    let mut tiff = b"MM\0\x2a\0\0\0\x08\0\x02".to_vec();
    tiff.extend(b"\x01\x12\0\x03\0\0\0\x01\0\x06\0\0");
    // GPS IFD pointer, tag 0x8825, to the IFD at byte 38.
    tiff.extend(b"\x88\x25\0\x04\0\0\0\x01\0\0\0\x26");
    tiff.extend(b"\0\0\0\0");
    tiff.extend(b"\0\x01\0\x01\0\x02\0\0\0\x02N\0\0\0\0\0\0\0");
    tiff.extend(b"51.4778 N place marker");
    tiff
}

fn with_exif(jpeg: &[u8]) -> Vec<u8> {
    let tiff = phone_exif();
    let mut out = jpeg[..2].to_vec();
    out.extend([0xFF, 0xE1]);
    out.extend(((8 + tiff.len()) as u16).to_be_bytes());
    out.extend(b"Exif\0\0");
    out.extend(tiff);
    out.extend(&jpeg[2..]);
    // A second picture behind the first, with the place again.
    out.extend(b"\xFF\xD8\xFF\xE1 place marker \xFF\xD9");
    out
}

fn has(bytes: &[u8], what: &[u8]) -> bool {
    bytes.windows(what.len()).any(|w| w == what)
}

#[test]
fn the_place_goes_and_the_orientation_stays() {
    let plain = encoded(ImageFormat::Jpeg);
    let photo = with_exif(&plain);
    let (upright, orientation) = open(&photo).expect("opens");
    assert_eq!(orientation, Orientation::Rotate90, "the image crate reads our test Exif");
    assert_eq!((upright.width(), upright.height()), (300, 600));
    let taken = Attachment::of(&photo, Location::TakenOut).expect("taken");
    assert_eq!(taken.media(), "image/jpeg");
    assert!(!has(taken.bytes(), b"place marker") && !has(taken.bytes(), b"\x88\x25"));
    let (after, orientation) = open(taken.bytes()).expect("opens");
    assert_eq!(orientation, Orientation::Rotate90);
    assert_eq!(after, upright, "not a pixel of the picture has changed");
    let small = image::load_from_memory(taken.thumbnail().expect("one")).expect("opens").to_rgb8();
    assert_eq!((small.width(), small.height()), (240, 480));
    assert!(200 < small.get_pixel(120, 40)[0], "red is on top when upright");
    let kept = Attachment::of(&photo, Location::Kept).expect("taken");
    assert_eq!(kept.bytes(), photo, "kept byte for byte when asked");
}

#[test]
fn png_too() {
    let plain = encoded(ImageFormat::Png);
    let tiff = phone_exif();
    let mut photo = plain[..33].to_vec();
    for (kind, body) in [(b"eXIf", &tiff[..]), (b"tEXt", &b"Comment\0place marker"[..])] {
        photo.extend((body.len() as u32).to_be_bytes());
        let start = photo.len();
        photo.extend(kind);
        photo.extend(body);
        // CRC by bits, as in the PNG specification's own sample code.
        let mut c = u32::MAX;
        for byte in &photo[start..] {
            c ^= u32::from(*byte);
            for _ in 0..8 {
                c = if c & 1 == 1 { 0xEDB8_8320 ^ (c >> 1) } else { c >> 1 };
            }
        }
        photo.extend((!c).to_be_bytes());
    }
    photo.extend(&plain[33..]);
    let (upright, before) = open(&photo).expect("opens");
    let taken = Attachment::of(&photo, Location::TakenOut).expect("taken");
    assert!(!has(taken.bytes(), b"place marker"));
    let (after, orientation) = open(taken.bytes()).expect("opens");
    assert_eq!(orientation, before);
    assert_eq!(after, upright);
}

#[test]
fn content_decides_and_damage_is_refused() {
    let jpeg = encoded(ImageFormat::Jpeg);
    assert_eq!(
        Attachment::of(b"%PDF-1.7\n", Location::TakenOut).map(|a| a.media()),
        Ok("application/pdf")
    );
    for bad in
        [&b""[..], b"MZ\x90 a program named photo.jpg", b"<svg/>", &jpeg[..200], b"\xFF\xD8\xFF"]
    {
        assert!(Attachment::of(bad, Location::TakenOut).is_err());
    }
    // Every cut and many changes: refused or taken, never a panic.
    for at in (0..jpeg.len()).step_by(7) {
        let mut changed = jpeg.clone();
        changed[at] ^= 0x5A;
        let _ = strip::jpeg(&changed, Orientation::Rotate90);
        let _ = strip::jpeg(&jpeg[..at], Orientation::NoTransforms);
        let _ = strip::png(&changed, Orientation::NoTransforms);
    }
}

/// A PNG that says how large it is and has next to nothing in it (PNG third edition, section 5).
fn png_that_says(width: u32, height: u32) -> Vec<u8> {
    let mut out = b"\x89PNG\r\n\x1a\n".to_vec();
    let mut head = width.to_be_bytes().to_vec();
    head.extend(height.to_be_bytes());
    head.extend([8, 2, 0, 0, 0]);
    for (kind, body) in [(b"IHDR", head.as_slice()), (b"IDAT", &[0x78, 0x9C]), (b"IEND", &[])] {
        out.extend((body.len() as u32).to_be_bytes());
        let start = out.len();
        out.extend(kind);
        out.extend(body);
        let check = crate::crc::crc(&out[start..]);
        out.extend(check.to_be_bytes());
    }
    out
}

#[test]
fn a_picture_that_unpacks_to_too_much_is_refused_unopened() {
    for (width, height, word) in
        [(15_000, 15_000, "15000 by 15000"), (65_000, 10, "size"), (u32::MAX, u32::MAX, "")]
    {
        let refused = Attachment::of(&png_that_says(width, height), Location::TakenOut);
        let what = refused.expect_err("refused").to_string();
        assert!(what.contains(word), "{what}");
    }
    // What fits is looked into, and found cut short.
    assert!(Attachment::of(&png_that_says(10, 10), Location::TakenOut).is_err());
}
