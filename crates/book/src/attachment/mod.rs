//! Photographs and drawings: known by their content, kept without the place they were taken at,
//! and with a small picture to look through.

mod strip;

use crate::store::Attached;
use crate::{Book, Error, Hash, Pen, Said, Written};
use image::codecs::jpeg::JpegEncoder;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageReader, Limits};
use std::io::Cursor;

/// Larger files are refused.
pub const MAX_ATTACHMENT_BYTES: usize = 64 << 20;
/// Longer side of the small picture, pixels.
const THUMBNAIL_SIDE: u32 = 480;
const THUMBNAIL_QUALITY: u8 = 80;
/// Longest side of a picture that is opened, pixels.
const LONGEST_SIDE: u32 = 30_000;
/// Most memory a picture may take when it is opened: 128 million pixels of three bytes.
const MOST_DECODED_BYTES: u64 = 384 << 20;

/// What to do with the place a photograph was taken at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Location {
    /// Taken out, with all else the camera wrote but the orientation.
    TakenOut,
    /// Kept, and everything the camera wrote with it: the file is kept byte for byte.
    Kept,
}

/// A file made ready to be attached.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Attachment {
    media: &'static str,
    bytes: Vec<u8>,
    thumbnail: Option<Vec<u8>>,
}

fn refused(what: impl Into<String>) -> Error {
    Error::wrong(what, "a photograph as JPEG or PNG, a drawing as PDF, at most 64 MiB")
}

impl Attachment {
    /// Looks at what a file is, whatever its name says, and makes it ready.
    ///
    /// # Errors
    /// Not a JPEG, PNG or PDF by its content, damaged, or larger than [`MAX_ATTACHMENT_BYTES`].
    pub fn of(bytes: &[u8], location: Location) -> Result<Attachment, Error> {
        if bytes.is_empty() || MAX_ATTACHMENT_BYTES < bytes.len() {
            return Err(refused(format!("a file of {} bytes is not attached", bytes.len())));
        }
        if bytes.starts_with(b"%PDF-") {
            return Ok(Attachment {
                media: "application/pdf",
                bytes: bytes.to_vec(),
                thumbnail: None,
            });
        }
        let media = if bytes.starts_with(&[0xFF, 0xD8, 0xFF]) {
            "image/jpeg"
        } else if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
            "image/png"
        } else {
            return Err(refused("this is neither a JPEG nor a PNG nor a PDF, by its content"));
        };
        let (picture, orientation) = open(bytes)?;
        let thumbnail = Some(thumbnail(picture)?);
        let bytes = match (location, media) {
            (Location::Kept, _) => bytes.to_vec(),
            (Location::TakenOut, "image/jpeg") => strip::jpeg(bytes, orientation)?,
            (Location::TakenOut, _) => strip::png(bytes, orientation)?,
        };
        Ok(Attachment { media, bytes, thumbnail })
    }

    /// What it is.
    pub fn media(&self) -> &'static str {
        self.media
    }

    /// The bytes as they will be kept.
    pub fn bytes(&self) -> &[u8] {
        &self.bytes
    }

    /// A small upright JPEG of a photograph.
    pub fn thumbnail(&self) -> Option<&[u8]> {
        self.thumbnail.as_deref()
    }
}

/// The picture upright, and how it was turned.
fn open(bytes: &[u8]) -> Result<(DynamicImage, Orientation), Error> {
    let damaged = |e: image::ImageError| refused(format!("the picture cannot be opened: {e}"));
    let mut reader = ImageReader::new(Cursor::new(bytes))
        .with_guessed_format()
        .map_err(|e| refused(format!("the picture cannot be opened: {e}")))?;
    let mut limits = Limits::default();
    limits.max_image_width = Some(LONGEST_SIDE);
    limits.max_image_height = Some(LONGEST_SIDE);
    limits.max_alloc = Some(MOST_DECODED_BYTES);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(damaged)?;
    let orientation = decoder.orientation().map_err(damaged)?;
    // The limits above are for the decoder's own memory; the picture itself comes on top.
    if MOST_DECODED_BYTES < decoder.total_bytes() {
        let (width, height) = decoder.dimensions();
        return Err(Error::wrong(
            format!("a picture of {width} by {height} pixels is more than is opened"),
            format!("at most {} MiB when it is unpacked", MOST_DECODED_BYTES >> 20),
        ));
    }
    let mut picture = DynamicImage::from_decoder(decoder).map_err(damaged)?;
    picture.apply_orientation(orientation);
    Ok((picture, orientation))
}

fn thumbnail(picture: DynamicImage) -> Result<Vec<u8>, Error> {
    let small = if picture.width().max(picture.height()) <= THUMBNAIL_SIDE {
        picture
    } else {
        picture.thumbnail(THUMBNAIL_SIDE, THUMBNAIL_SIDE)
    };
    let mut out = Vec::new();
    JpegEncoder::new_with_quality(&mut out, THUMBNAIL_QUALITY)
        .encode_image(&small.to_rgb8())
        .map_err(|e| refused(format!("no small picture can be made of it: {e}")))?;
    Ok(out)
}

impl Book {
    /// Attaches a file.
    ///
    /// # Errors
    /// As [`Book::append`].
    pub fn attach(
        &mut self,
        pen: &Pen,
        attachment: &Attachment,
        words: AttachedWords,
    ) -> Result<Written, Error> {
        let (said, all) = attachment.said(words);
        self.append_with(pen, said, all)
    }

    /// Attaches a file once, however often it is sent.
    ///
    /// # Errors
    /// As [`Book::append_once`].
    pub fn attach_once(
        &mut self,
        pen: &Pen,
        key: &str,
        attachment: &Attachment,
        words: AttachedWords,
    ) -> Result<(Written, bool), Error> {
        let (said, all) = attachment.said(words);
        self.append_once_with(pen, key, said, all)
    }
}

impl Attachment {
    /// The entry, and what is kept with it.
    fn said(&self, words: AttachedWords) -> (Said, Vec<Attached>) {
        let whole = Attached { hash: Hash::of(&self.bytes), bytes: self.bytes.clone() };
        let small = self.thumbnail.clone().map(|bytes| Attached { hash: Hash::of(&bytes), bytes });
        let said = Said::Attached {
            about: words.about,
            name: words.name,
            media: self.media.to_owned(),
            sha256: whole.hash.to_string(),
            bytes: whole.bytes.len() as u64,
            thumbnail: small.as_ref().map_or(String::new(), |s| s.hash.to_string()),
            note: words.note,
        };
        (said, std::iter::once(whole).chain(small).collect())
    }
}

/// What is said about an attachment.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct AttachedWords {
    /// Part, joint or feature it shows.
    pub about: String,
    /// File name as it came.
    pub name: String,
    /// Remark.
    pub note: String,
}

#[cfg(test)]
mod tests;
