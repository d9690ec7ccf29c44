//! What a file that came is: a picture, shown smaller and upright, or something that is kept as it came.
//!
//! A picture is measured by its header before it is decoded. One that would take more memory than [`DECODED`] is kept
//! without a preview, for the shop's computer does other things besides.

use fast_image_resize::{ResizeOptions, Resizer};
use image::codecs::jpeg::JpegEncoder;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};
use std::io::{BufRead, Seek, SeekFrom};

/// Longest side of what a page shows, in pixels.
const PREVIEW: u32 = 1600;
/// Longest side of what a list shows, in pixels.
const THUMB: u32 = 320;
/// Longest file of a picture, bytes.
const LONGEST_PICTURE: u64 = 40_000_000;
/// Most pixels of a picture.
const MOST_PIXELS: u64 = 200_000_000;
/// Most memory that a decoded picture may take, bytes: 52 megapixels of a camera's JPEG. Decoding one whose detail comes
/// in several passes takes about twice as much beside.
pub(super) const DECODED: u64 = 156_000_000;
/// As many bytes as tell what a file is.
const TELLING: usize = 16;

/// A file, looked at.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Developed {
    pub media_type: &'static str,
    /// Width and height of a picture, upright, where its header could be read.
    pub size: Option<(u32, u32)>,
    pub smaller: Option<Smaller>,
}

/// Smaller copies of a picture, as JPEG.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Smaller {
    pub preview: Vec<u8>,
    pub thumb: Vec<u8>,
}

impl Developed {
    /// A file that is kept as it came.
    pub fn unseen(media_type: &'static str) -> Self {
        Self { media_type, size: None, smaller: None }
    }
}

/// What a file is by its first bytes; nothing is believed of its name.
pub(super) fn media_type(file: &mut (impl BufRead + Seek)) -> std::io::Result<&'static str> {
    let mut head = [0; TELLING];
    let mut filled = 0;
    while filled < TELLING {
        match file.read(&mut head[filled..])? {
            0 => break,
            bytes => filled += bytes,
        }
    }
    file.seek(SeekFrom::Start(0))?;
    Ok(type_of(&head[..filled]))
}

fn type_of(head: &[u8]) -> &'static str {
    match head {
        [0xff, 0xd8, 0xff, ..] => "image/jpeg",
        [0x89, b'P', b'N', b'G', b'\r', b'\n', 0x1a, b'\n', ..] => "image/png",
        [b'%', b'P', b'D', b'F', b'-', ..] => "application/pdf",
        [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'E', b'B', b'P', ..] => "image/webp",
        [_, _, _, _, b'f', b't', b'y', b'p', brand @ ..] => match brand {
            [b'h', b'e', ..] | [b'm', b'i', b'f', b'1', ..] => "image/heic",
            [b'a', b'v', b'i', ..] => "image/avif",
            [b'q', b't', ..] => "video/quicktime",
            _ => "video/mp4",
        },
        [0x1a, 0x45, 0xdf, 0xa3, ..] => "video/webm",
        _ => "application/octet-stream",
    }
}

/// Whether a media type is a picture that is shown.
pub(super) fn is_shown(media_type: &str) -> bool {
    matches!(media_type, "image/jpeg" | "image/png")
}

/// Looks at a file of so many bytes. A picture that cannot be decoded, or would take too much memory, has no smaller copies.
///
/// # Errors
/// Where a picture is larger than what is taken in, in words.
pub(super) fn develop(mut file: impl BufRead + Seek, bytes: u64) -> Result<Developed, String> {
    let Ok(media_type) = media_type(&mut file) else { return Ok(Developed::unseen("application/octet-stream")) };
    let format = match media_type {
        "image/jpeg" => ImageFormat::Jpeg,
        "image/png" => ImageFormat::Png,
        _ => return Ok(Developed::unseen(media_type)),
    };
    if bytes > LONGEST_PICTURE {
        return Err(format!("a picture of {}, where at most 40 MB are taken", megabytes(bytes)));
    }
    let mut limits = Limits::no_limits();
    limits.max_alloc = Some(DECODED);
    let mut reader = ImageReader::with_format(file, format);
    reader.limits(limits);
    // From here on nothing is decoded yet: the header alone.
    let Ok(mut decoder) = reader.into_decoder() else { return Ok(Developed::unseen(media_type)) };
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        return Err(format!("a picture of {width} × {height} px, where at most 200 megapixels are taken"));
    }
    let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let size = Some(if is_turned(orientation) { (height, width) } else { (width, height) });
    if decoder.total_bytes() > DECODED {
        return Ok(Developed { media_type, size, smaller: None });
    }
    match smaller(decoder, orientation) {
        Some(smaller) => Ok(Developed { media_type, size, smaller: Some(smaller) }),
        None => Ok(Developed::unseen(media_type)),
    }
}

/// Whether a picture upright is as wide as it came high.
fn is_turned(orientation: Orientation) -> bool {
    use Orientation::{Rotate90, Rotate90FlipH, Rotate270, Rotate270FlipH};
    matches!(orientation, Rotate90 | Rotate90FlipH | Rotate270 | Rotate270FlipH)
}

/// The smaller copies; none where the picture cannot be decoded.
fn smaller(decoder: impl ImageDecoder, orientation: Orientation) -> Option<Smaller> {
    let picture = DynamicImage::from_decoder(decoder).ok()?;
    // Made plain and turned after shrinking: the whole picture once more would take twice the memory.
    let mut preview = DynamicImage::ImageRgb8(shrunk(picture, PREVIEW)?.into_rgb8());
    preview.apply_orientation(orientation);
    let preview_bytes = jpeg(&preview)?;
    Some(Smaller { preview: preview_bytes, thumb: jpeg(&shrunk(preview, THUMB)?)? })
}

fn shrunk(picture: DynamicImage, longest: u32) -> Option<DynamicImage> {
    let (width, height) = (picture.width(), picture.height());
    if width.max(height) <= longest {
        return Some(picture);
    }
    let side = |side: u32| {
        let side = u64::from(side) * u64::from(longest) / u64::from(width.max(height));
        u32::try_from(side.max(1)).unwrap_or(longest)
    };
    let mut small = DynamicImage::new(side(width), side(height), picture.color());
    Resizer::new().resize(&picture, &mut small, &ResizeOptions::new().use_alpha(false)).ok()?;
    Some(small)
}

fn jpeg(picture: &DynamicImage) -> Option<Vec<u8>> {
    let mut bytes = Vec::new();
    picture.write_with_encoder(JpegEncoder::new_with_quality(&mut bytes, 82)).ok()?;
    Some(bytes)
}

/// A length of a file in words: "3.4 MB".
pub(super) fn megabytes(bytes: u64) -> String {
    match bytes {
        0..1_000 => format!("{bytes} bytes"),
        1_000..1_000_000 => format!("{} kB", bytes / 1_000),
        _ => format!("{}.{} MB", bytes / 1_000_000, bytes / 100_000 % 10),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use image::{ImageEncoder, RgbImage};
    use std::io::Cursor;

    fn look(bytes: &[u8]) -> Result<Developed, String> {
        develop(Cursor::new(bytes), bytes.len() as u64)
    }

    /// A PNG that claims this size in its header and holds nothing of it.
    fn claims(width: u32, height: u32) -> Vec<u8> {
        let mut bytes = Vec::new();
        let one = [0_u8; 3];
        image::codecs::png::PngEncoder::new(&mut bytes)
            .write_image(&one, 1, 1, image::ExtendedColorType::Rgb8)
            .expect("a picture");
        bytes[16..20].copy_from_slice(&width.to_be_bytes());
        bytes[20..24].copy_from_slice(&height.to_be_bytes());
        let sum = check_sum(&bytes[12..29]).to_be_bytes();
        bytes[29..33].copy_from_slice(&sum);
        bytes
    }

    /// CRC-32 as PNG (ISO/IEC 15948, annex D) asks for.
    fn check_sum(bytes: &[u8]) -> u32 {
        !bytes.iter().fold(u32::MAX, |sum, byte| {
            (0..8).fold(sum ^ u32::from(*byte), |sum, _| (sum >> 1) ^ if sum & 1 == 1 { 0xedb8_8320 } else { 0 })
        })
    }

    #[test]
    fn a_picture_is_measured_by_its_header_before_it_is_decoded() {
        let large = look(&claims(10_000, 20_000)).expect("200 megapixels are taken");
        assert_eq!(large, Developed { media_type: "image/png", size: Some((10_000, 20_000)), smaller: None });
        let refused = look(&claims(10_000, 20_001)).expect_err("too large");
        assert!(refused.contains("10000 × 20001 px") && refused.contains("200 megapixels"), "{refused}");
        // No decoder begins on such a claim.
        assert_eq!(look(&claims(u32::MAX >> 1, u32::MAX >> 1)), Ok(Developed::unseen("image/png")));
        // One that is small enough is decoded, and found empty: kept without a preview.
        assert_eq!(look(&claims(100, 100)), Ok(Developed::unseen("image/png")));
    }

    #[test]
    fn a_picture_is_shown_smaller() {
        let mut bytes = Cursor::new(Vec::new());
        RgbImage::from_pixel(2000, 1000, image::Rgb([90, 90, 90]))
            .write_to(&mut bytes, ImageFormat::Png)
            .expect("a picture");
        let seen = look(bytes.get_ref()).expect("a picture");
        assert_eq!((seen.media_type, seen.size), ("image/png", Some((2000, 1000))));
        let smaller = seen.smaller.expect("smaller copies");
        for (bytes, size) in [(smaller.preview, (1600, 800)), (smaller.thumb, (320, 160))] {
            assert_eq!(
                ImageReader::with_format(Cursor::new(bytes), ImageFormat::Jpeg).into_dimensions().unwrap(),
                size
            );
        }
    }

    #[test]
    fn a_file_is_what_its_first_bytes_say() {
        for (head, said) in [
            (b"\xff\xd8\xff\xe0".as_slice(), "image/jpeg"),
            (b"%PDF-1.7", "application/pdf"),
            (b"\0\0\0\x18ftypheic", "image/heic"),
            (b"\0\0\0\x18ftypisom", "video/mp4"),
            (b"\0\0\0\x14ftypqt  ", "video/quicktime"),
            (b"RIFF\0\0\0\0WEBPVP8 ", "image/webp"),
            (b"<html><script>", "application/octet-stream"),
            (b"<svg xmlns=", "application/octet-stream"),
            (b"", "application/octet-stream"),
        ] {
            assert_eq!(look(head).expect("kept").media_type, said, "{head:?}");
        }
    }
}
