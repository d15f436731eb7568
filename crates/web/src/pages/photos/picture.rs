//! From the bytes of an upload to a picture as it is kept: turned, shrunk, free of what came with it.

use std::fmt::Write as _;
use std::io::Cursor;

use image::codecs::jpeg::{JpegDecoder, JpegEncoder};
use image::codecs::png::PngDecoder;
use image::codecs::webp::WebPDecoder;
use image::{DynamicImage, ImageDecoder, ImageError, ImageFormat, Limits, RgbImage};
use linkwright_store::records::Image;
use sha2::{Digest, Sha256};
use thiserror::Error;

/// Bytes of an upload that are read at most.
pub(super) const BYTES_MAX: usize = 12 * 1024 * 1024;
/// Pixels along a side that are decoded at most: a large phone picture has some 8,000.
const SIDE_PX_MAX: u32 = 12_000;
/// Bytes a decoded picture may take: some 66 million pixels.
const DECODED_BYTES_MAX: u64 = 200 * 1024 * 1024;
/// Pixels along the longer side as kept: sharp on any screen, small in the data file.
const KEPT_SIDE_PX: u32 = 1600;
/// Of a hundred; no difference is seen from here on. Own choice.
const JPEG_QUALITY: u8 = 85;

/// Why an upload is not kept.
#[derive(Debug, Error, PartialEq)]
pub(super) enum PictureError {
    /// No file was chosen.
    #[error("choose a picture first")]
    Nothing,
    /// The file is too long.
    #[error(
        "this file is larger than 12 MB; make it smaller, or take the picture with fewer pixels"
    )]
    TooLarge,
    /// The picture has too many pixels.
    #[error(
        "this picture has {width_px} x {height_px} pixels; at most 12,000 along a side and 66 million in all are read"
    )]
    TooManyPixels {
        /// Its width.
        width_px: u32,
        /// Its height.
        height_px: u32,
    },
    /// It moves.
    #[error("this picture moves; a still JPEG, PNG or WebP picture is wanted")]
    Moving,
    /// It is something else.
    #[error("this file is no JPEG, PNG or WebP picture")]
    NoPicture,
    /// It begins like a picture and cannot be read on.
    #[error("this picture is damaged and cannot be read")]
    Damaged,
}

/// The picture as it is kept: upright, at most [`KEPT_SIDE_PX`] along a side, written afresh as
/// JPEG, so that nothing else of the upload remains.
pub(super) fn kept(upload: &[u8]) -> Result<Image, PictureError> {
    if upload.is_empty() {
        return Err(PictureError::Nothing);
    }
    if upload.len() > BYTES_MAX {
        return Err(PictureError::TooLarge);
    }
    let format = image::guess_format(upload).map_err(|_| PictureError::NoPicture)?;
    let bytes = Cursor::new(upload);
    let picture = match format {
        ImageFormat::Jpeg => upright(JpegDecoder::new(bytes).map_err(refused)?)?,
        ImageFormat::Png => {
            let decoder = PngDecoder::with_limits(bytes, limits()).map_err(refused)?;
            if decoder.is_apng().map_err(refused)? {
                return Err(PictureError::Moving);
            }
            upright(decoder)?
        }
        ImageFormat::WebP => {
            let decoder = WebPDecoder::new(bytes).map_err(refused)?;
            if decoder.has_animation() {
                return Err(PictureError::Moving);
            }
            upright(decoder)?
        }
        ImageFormat::Gif => return Err(PictureError::Moving),
        _ => return Err(PictureError::NoPicture),
    };
    written(&on_white(&picture))
}

fn limits() -> Limits {
    let mut limits = Limits::default();
    limits.max_image_width = Some(SIDE_PX_MAX);
    limits.max_image_height = Some(SIDE_PX_MAX);
    limits.max_alloc = Some(DECODED_BYTES_MAX);
    limits
}

/// Decodes within the limits, shrinks, and turns as the camera was held.
fn upright(mut decoder: impl ImageDecoder) -> Result<DynamicImage, PictureError> {
    let (width_px, height_px) = decoder.dimensions();
    if width_px.max(height_px) > SIDE_PX_MAX || decoder.total_bytes() > DECODED_BYTES_MAX {
        return Err(PictureError::TooManyPixels { width_px, height_px });
    }
    decoder.set_limits(limits()).map_err(refused)?;
    // A picture whose note of how it was held cannot be read stays as it is.
    let held = decoder.orientation().unwrap_or(image::metadata::Orientation::NoTransforms);
    let whole = DynamicImage::from_decoder(decoder).map_err(refused)?;
    let mut picture = if width_px.max(height_px) > KEPT_SIDE_PX {
        whole.thumbnail(KEPT_SIDE_PX, KEPT_SIDE_PX)
    } else {
        whole
    };
    picture.apply_orientation(held);
    Ok(picture)
}

/// What shows through is white, as paper would be.
fn on_white(picture: &DynamicImage) -> RgbImage {
    if !picture.color().has_alpha() {
        return picture.to_rgb8();
    }
    let clear = picture.to_rgba8();
    RgbImage::from_fn(clear.width(), clear.height(), |x, y| {
        let [red, green, blue, alpha] = clear.get_pixel(x, y).0.map(u16::from);
        let over = |colour: u16| {
            u8::try_from((colour * alpha + 255 * (255 - alpha)) / 255).unwrap_or(u8::MAX)
        };
        image::Rgb([over(red), over(green), over(blue)])
    })
}

fn written(picture: &RgbImage) -> Result<Image, PictureError> {
    let mut jpeg = Vec::new();
    JpegEncoder::new_with_quality(&mut jpeg, JPEG_QUALITY)
        .encode_image(picture)
        .map_err(refused)?;
    let sha256 = Sha256::digest(&jpeg).iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    });
    Ok(Image { sha256, width_px: picture.width(), height_px: picture.height(), jpeg })
}

fn refused(error: ImageError) -> PictureError {
    match error {
        ImageError::Unsupported(_) => PictureError::NoPicture,
        _ => PictureError::Damaged,
    }
}

#[cfg(test)]
mod tests {
    use image::{DynamicImage, ImageFormat, Rgb, RgbImage, Rgba, RgbaImage};

    use super::{BYTES_MAX, PictureError, kept};

    fn as_format(picture: impl Into<DynamicImage>, format: ImageFormat) -> Vec<u8> {
        let mut bytes = std::io::Cursor::new(Vec::new());
        picture.into().write_to(&mut bytes, format).expect("written");
        bytes.into_inner()
    }

    /// Left half dark, right half light.
    fn halves(width_px: u32, height_px: u32) -> RgbImage {
        RgbImage::from_fn(width_px, height_px, |x, _| {
            if x < width_px / 2 { Rgb([10, 10, 10]) } else { Rgb([240, 240, 240]) }
        })
    }

    /// An EXIF block by hand: orientation 6 (held upright, turn right) and a GPS latitude of
    /// 52 degrees. Layout: TIFF 6.0 header, directory of two entries, GPS directory of one.
    fn exif() -> Vec<u8> {
        let mut tiff: Vec<u8> = b"MM\x00\x2a\x00\x00\x00\x08".to_vec();
        tiff.extend(b"\x00\x02");
        tiff.extend(b"\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00"); // orientation, short, 6
        tiff.extend(b"\x88\x25\x00\x04\x00\x00\x00\x01\x00\x00\x00\x26"); // GPS directory at 38
        tiff.extend(b"\x00\x00\x00\x00");
        tiff.extend(b"\x00\x01\x00\x02\x00\x05\x00\x00\x00\x03\x00\x00\x00\x38\x00\x00\x00\x00");
        tiff.extend(b"\x00\x00\x00\x34\x00\x00\x00\x01\x00\x00\x00\x1e\x00\x00\x00\x01");
        tiff.extend(b"\x00\x00\x00\x00\x00\x00\x00\x01");
        let mut block = b"Exif\x00\x00".to_vec();
        block.extend(tiff);
        block
    }

    /// A JPEG with an EXIF block and a comment put in after its first marker.
    fn photographed(width_px: u32, height_px: u32) -> Vec<u8> {
        let plain = as_format(halves(width_px, height_px), ImageFormat::Jpeg);
        let mut bytes = plain[..2].to_vec();
        for (marker, block) in [(0xe1, exif()), (0xfe, b"taken at home".to_vec())] {
            bytes.extend([0xff, marker]);
            bytes.extend(u16::try_from(block.len() + 2).expect("short").to_be_bytes());
            bytes.extend(block);
        }
        bytes.extend(&plain[2..]);
        bytes
    }

    fn holds(bytes: &[u8], piece: &[u8]) -> bool {
        bytes.windows(piece.len()).any(|window| window == piece)
    }

    #[test]
    fn nothing_of_where_and_how_a_picture_was_taken_remains() {
        let upload = photographed(64, 32);
        assert!(holds(&upload, b"Exif") && holds(&upload, b"\x88\x25"));
        let image = kept(&upload).expect("kept");
        for piece in [b"Exif".as_slice(), b"\x88\x25", b"taken at home", b"MM\x00\x2a"] {
            assert!(!holds(&image.jpeg, piece), "{piece:?} is still there");
        }
        // The only blocks before the picture are those of a plain JPEG: JFIF, tables, frame, scan.
        let mut at = 2;
        while image.jpeg[at + 1] != 0xda {
            let marker = image.jpeg[at + 1];
            assert!([0xe0, 0xdb, 0xc0, 0xc4].contains(&marker), "block {marker:x}");
            at += 2 + usize::from(u16::from_be_bytes([image.jpeg[at + 2], image.jpeg[at + 3]]));
        }
    }

    #[test]
    fn a_picture_taken_on_its_side_is_turned_upright() {
        let image = kept(&photographed(64, 32)).expect("kept");
        assert_eq!((image.width_px, image.height_px), (32, 64));
        let upright = image::load_from_memory(&image.jpeg).expect("a picture").to_luma8();
        // Turned right, what was left is above.
        assert!(upright.get_pixel(16, 4).0[0] < 60 && upright.get_pixel(16, 60).0[0] > 200);
    }

    #[test]
    fn a_large_picture_is_shrunk_in_proportion_and_a_small_one_left() {
        let large = kept(&as_format(halves(2000, 500), ImageFormat::Png)).expect("kept");
        assert_eq!((large.width_px, large.height_px), (1600, 400));
        let small = kept(&as_format(halves(40, 30), ImageFormat::WebP)).expect("kept");
        assert_eq!((small.width_px, small.height_px), (40, 30));
    }

    #[test]
    fn the_same_picture_has_the_same_digest_and_another_has_not() {
        let digest = |width_px| kept(&photographed(width_px, 32)).expect("kept").sha256;
        assert_eq!(digest(64), digest(64));
        assert_ne!(digest(64), digest(66));
        assert_eq!(digest(64).len(), 64);
    }

    #[test]
    fn what_is_clear_becomes_white() {
        let clear = RgbaImage::from_pixel(8, 8, Rgba([200, 0, 0, 0]));
        let image = kept(&as_format(clear, ImageFormat::Png)).expect("kept");
        let seen = image::load_from_memory(&image.jpeg).expect("a picture").to_rgb8();
        assert!(seen.get_pixel(4, 4).0.iter().all(|part| *part > 250));
    }

    /// A chunk of a PNG with its check sum (CRC-32 of type and data, PNG specification, annex D).
    fn chunk(kind: &[u8; 4], data: &[u8]) -> Vec<u8> {
        let body: Vec<u8> = [kind.as_slice(), data].concat();
        let crc = body.iter().fold(u32::MAX, |crc, byte| {
            (0..8).fold(crc ^ u32::from(*byte), |crc, _| {
                if crc & 1 == 1 { 0xedb8_8320 ^ (crc >> 1) } else { crc >> 1 }
            })
        });
        let length = u32::try_from(data.len()).expect("short").to_be_bytes();
        [length.as_slice(), &body, &(!crc).to_be_bytes()].concat()
    }

    fn png(width_px: u32, height_px: u32, between: &[u8]) -> Vec<u8> {
        let header =
            [&width_px.to_be_bytes()[..], &height_px.to_be_bytes(), &[8, 2, 0, 0, 0]].concat();
        [b"\x89PNG\r\n\x1a\n".as_slice(), &chunk(b"IHDR", &header), between].concat()
    }

    #[test]
    fn a_small_file_that_unfolds_to_a_huge_picture_is_refused_before_it_unfolds() {
        // An IDAT must begin before the decoder answers; it never has to be unfolded.
        let data = chunk(b"IDAT", b"\x78\x9c\x03\x00\x00\x00\x00\x01");
        for (width_px, height_px) in [(60_000, 60_000), (11_000, 11_000), (1, 4_000_000)] {
            let bomb = png(width_px, height_px, &data);
            assert!(bomb.len() < 100);
            let refused = kept(&bomb).expect_err("a bomb");
            let expected =
                [PictureError::TooManyPixels { width_px, height_px }, PictureError::Damaged];
            assert!(expected.contains(&refused), "{refused:?}");
        }
    }

    #[test]
    fn a_picture_that_moves_is_refused() {
        let moving = chunk(b"acTL", &[0, 0, 0, 2, 0, 0, 0, 0]);
        let data = chunk(b"IDAT", b"\x78\x9c\x03\x00\x00\x00\x00\x01");
        assert_eq!(kept(&png(4, 4, &[moving, data].concat())), Err(PictureError::Moving));
        assert_eq!(kept(b"GIF89a\x01\x00\x01\x00"), Err(PictureError::Moving));
    }

    #[test]
    fn what_is_no_picture_is_refused_in_words() {
        assert_eq!(kept(b""), Err(PictureError::Nothing));
        assert_eq!(kept(b"%PDF-1.7 hello"), Err(PictureError::NoPicture));
        assert_eq!(kept(b"<svg xmlns='x'><script/></svg>"), Err(PictureError::NoPicture));
        let whole = as_format(halves(64, 64), ImageFormat::Png);
        assert_eq!(kept(&whole[..whole.len() / 2]), Err(PictureError::Damaged));
        assert_eq!(kept(&vec![0xff; BYTES_MAX + 1]), Err(PictureError::TooLarge));
    }
}
