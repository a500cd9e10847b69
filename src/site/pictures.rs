//! Photos for the pages: read, shrunk, turned upright and written anew.
//!
//! What leaves here is a new picture of the same scene. Nothing of the old file is carried over, so the place
//! and the hour a phone writes into its photos never reach a site. No file is read or written here, and the
//! same bytes in give the same bytes out.

mod error;
#[cfg(test)]
mod tests;

pub use self::error::PictureError;

use image::codecs::jpeg::JpegEncoder;
use image::codecs::png::{CompressionType, FilterType as PngFilter, PngEncoder};
use image::imageops::FilterType;
use image::metadata::Orientation;
use image::{DynamicImage, GenericImageView, ImageDecoder, ImageError, ImageFormat, ImageReader};
use std::collections::BTreeMap;
use std::io::Cursor;

/// How large a picture may be, and how wide the ones made from it are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PhotoLimits {
    /// The longest side that is read, in pixels.
    pub longest_side: u32,
    /// The memory a picture may take once unpacked, in bytes.
    pub memory: u64,
    /// The widths to make, in pixels, in any order. A picture is never enlarged.
    pub widths: Vec<u32>,
}

impl Default for PhotoLimits {
    /// 16,000 pixels and 512 MB: room for any camera, none for a file made to fill the memory.
    fn default() -> Self {
        Self { longest_side: 16_000, memory: 512 * 1024 * 1024, widths: vec![800, 1600] }
    }
}

/// A photo made ready for the pages.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Photo {
    /// The same picture in one or more sizes, the largest last; never empty.
    pub variants: Vec<PhotoVariant>,
}

/// A photo in one size, encoded.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PhotoVariant {
    /// Width in pixels, as seen: after turning upright.
    pub width: u32,
    /// Height in pixels, as seen.
    pub height: u32,
    /// `jpg` or `png`.
    pub extension: &'static str,
    /// The whole file.
    pub bytes: Vec<u8>,
}

/// Makes a photo ready for the pages: JPEG, PNG, WebP or GIF (its first frame) in, one or more sizes out.
///
/// The kind is told from the bytes, not from a name. The photo is turned upright as its camera noted. A
/// smaller size is made only where it spares the reader at least a fifth of the width. Pictures with
/// transparency, and PNG or GIF files that look drawn, become PNG; all others JPEG. Colour profiles are
/// dropped with everything else the file carried.
///
/// # Errors
///
/// A file of another kind, a damaged one, or one past the limits. A photo cut short may still decode, its lower part grey.
pub fn prepare_photo(bytes: &[u8], limits: &PhotoLimits) -> Result<Photo, PictureError> {
    let (format, source, orientation) = decode(bytes, limits)?;
    let transparent = is_transparent(&source);
    let keep_exact = transparent || (matches!(format, ImageFormat::Png | ImageFormat::Gif) && looks_drawn(&source));

    let turned = swaps_sides(orientation);
    let (seen_width, seen_height) = if turned { (source.height(), source.width()) } else { (source.width(), source.height()) };
    // The largest is made from the source, which is then dropped; each smaller one from the one above it.
    let mut current = source;
    let mut upright = orientation;
    let mut variants = Vec::new();
    for width in widths_to_make(seen_width, &limits.widths) {
        let height = scaled(seen_height, width, seen_width);
        let (stored_width, stored_height) = if swaps_sides(upright) { (height, width) } else { (width, height) };
        current = in_eight_bits(shrink(current, stored_width, stored_height, transparent), transparent);
        // Turned after scaling: the pixels are then few.
        current.apply_orientation(upright);
        upright = Orientation::NoTransforms;
        let (extension, bytes) = encode(&current, keep_exact)?;
        variants.push(PhotoVariant { width, height, extension, bytes });
    }
    variants.reverse();
    Ok(Photo { variants })
}

/// A picture written anew in its own kind and size, upright: the same scene, and nothing else that its file held.
/// Of a film the first frame is kept.
///
/// # Errors
///
/// A file of another kind than JPEG, PNG, WebP and GIF, a damaged one, or one past the limits or with more than
/// `most_pixels`.
pub fn written_anew(bytes: &[u8], limits: &PhotoLimits, most_pixels: u64) -> Result<Vec<u8>, PictureError> {
    // Asked before anything is unpacked.
    if let Some((width, height)) = sides(bytes)
        && u64::from(width) * u64::from(height) > most_pixels
    {
        return Err(PictureError::TooManyPixels { width, height });
    }
    let (format, mut picture, orientation) = decode(bytes, limits)?;
    picture.apply_orientation(orientation);
    let transparent = is_transparent(&picture);
    let picture = in_eight_bits(picture, transparent);
    if format == ImageFormat::Jpeg {
        return encode(&picture, false).map(|(_, bytes)| bytes);
    }
    if format == ImageFormat::Png {
        return encode(&picture, true).map(|(_, bytes)| bytes);
    }
    let mut anew = Cursor::new(Vec::new());
    let picture = if transparent { DynamicImage::ImageRgba8(picture.into_rgba8()) } else { DynamicImage::ImageRgb8(picture.into_rgb8()) };
    picture.write_to(&mut anew, format).map_err(|error| PictureError::NotWritten(error.to_string()))?;
    Ok(anew.into_inner())
}

/// Width and height of a picture, without unpacking it. `None`: its head cannot be read.
#[must_use]
pub fn sides(bytes: &[u8]) -> Option<(u32, u32)> {
    ImageReader::new(Cursor::new(bytes)).with_guessed_format().ok()?.into_dimensions().ok()
}

/// The kinds of picture that are read.
const READ: [ImageFormat; 4] = [ImageFormat::Jpeg, ImageFormat::Png, ImageFormat::WebP, ImageFormat::Gif];

/// Kinds of file in the container of films that are pictures, by its brand: HEIC and HEIF, and AVIF.
const HEIC: [&[u8]; 9] = [b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"heif", b"mif1", b"msf1"];
const AVIF: [&[u8]; 2] = [b"avif", b"avis"];

/// Endings of pictures, also of kinds that are not read, with raw photos of many makes among them.
const ENDINGS: [&str; 26] = [
    "jpg", "jpeg", "jpe", "jfif", "png", "gif", "webp", "heic", "heif", "hif", "avif", "tif", "tiff", "bmp", "jxl", "jp2", "psd", "dng",
    "nef", "cr2", "cr3", "arw", "orf", "rw2", "raf", "pef",
];

/// Whether a file is a picture, be it of a kind that is read or not: by its bytes or by the ending of its name.
#[must_use]
pub fn is_picture(path: &str, bytes: &[u8]) -> bool {
    let ending = path.rsplit_once('.').map(|(_, ending)| ending.to_lowercase());
    ending.is_some_and(|ending| ENDINGS.contains(&ending.as_str()))
        || image::guess_format(bytes).is_ok_and(|format| READ.contains(&format) || format == ImageFormat::Tiff)
        || brand(bytes).is_some_and(|brand| HEIC.contains(&brand) || AVIF.contains(&brand))
}

/// The brand of a file in the container of films.
fn brand(bytes: &[u8]) -> Option<&[u8]> {
    bytes.get(8..12).filter(|_| bytes.get(4..8) == Some(b"ftyp"))
}

fn decode(bytes: &[u8], limits: &PhotoLimits) -> Result<(ImageFormat, DynamicImage, Orientation), PictureError> {
    if bytes.is_empty() {
        return Err(PictureError::Empty);
    }
    let format = image::guess_format(bytes).map_err(|_| unknown_kind(bytes))?;
    if !READ.contains(&format) {
        return Err(unknown_kind(bytes));
    }
    // The sides are looked at here rather than by the reader, so that the message can name them.
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    let mut decoder_limits = image::Limits::default();
    decoder_limits.max_alloc = Some(limits.memory);
    reader.limits(decoder_limits.clone());
    let mut decoder = reader.into_decoder().map_err(from_image_error)?;
    let (width, height) = decoder.dimensions();
    if width.max(height) > limits.longest_side {
        return Err(PictureError::TooManyPixels { width, height });
    }
    if width == 0 || height == 0 {
        return Err(PictureError::Damaged("it has no pixels".to_owned()));
    }
    // The decoders bound what they need besides; the picture itself is bounded here.
    decoder_limits.reserve(decoder.total_bytes()).and_then(|()| decoder.set_limits(decoder_limits)).map_err(from_image_error)?;
    // A note that cannot be read leaves the picture as it is stored.
    let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let picture = DynamicImage::from_decoder(decoder).map_err(from_image_error)?;
    Ok((format, picture, orientation))
}

fn from_image_error(error: ImageError) -> PictureError {
    match error {
        ImageError::Limits(_) => PictureError::TooMuchMemory,
        other => PictureError::Damaged(other.to_string()),
    }
}

/// Tells a few common kinds of file by their first bytes, so that the message can name what was given.
fn unknown_kind(bytes: &[u8]) -> PictureError {
    if let Some(brand) = brand(bytes) {
        return match brand {
            heic if HEIC.contains(&heic) => PictureError::Heic,
            avif if AVIF.contains(&avif) => PictureError::UnknownKind(Some("an AVIF picture")),
            _ => PictureError::UnknownKind(Some("a film")),
        };
    }
    let known: [(&[u8], &str); 7] = [
        (b"%PDF", "a PDF document"),
        (b"II*\0", "a TIFF picture or a raw photo"),
        (b"MM\0*", "a TIFF picture or a raw photo"),
        (b"BM", "a BMP picture"),
        (b"PK\x03\x04", "a ZIP archive or an office document"),
        (b"<svg", "an SVG drawing"),
        (b"<?xml", "an XML file"),
    ];
    let kind = known.iter().find(|(start, _)| bytes.starts_with(start));
    PictureError::UnknownKind(kind.map(|(_, name)| *name))
}

fn swaps_sides(orientation: Orientation) -> bool {
    matches!(orientation, Orientation::Rotate90 | Orientation::Rotate270 | Orientation::Rotate90FlipH | Orientation::Rotate270FlipH)
}

/// The widths to make, largest first: none above the picture's own, and none that spares less than a fifth
/// of the one above it.
fn widths_to_make(own: u32, wanted: &[u32]) -> Vec<u32> {
    let mut wanted: Vec<u32> = wanted.iter().map(|width| (*width).clamp(1, own)).collect();
    wanted.sort_unstable_by(|a, b| b.cmp(a));
    let mut widths: Vec<u32> = Vec::new();
    for width in wanted {
        let spares_enough = widths.last().is_none_or(|above| u64::from(width) * 5 <= u64::from(*above) * 4);
        if spares_enough {
            widths.push(width);
        }
    }
    if widths.is_empty() {
        widths.push(own);
    }
    widths
}

/// `side × to / from`, rounded to the nearest pixel, at least one.
fn scaled(side: u32, to: u32, from: u32) -> u32 {
    let from = u64::from(from.max(1));
    let exact = (u64::from(side) * u64::from(to) + from / 2) / from;
    u32::try_from(exact).unwrap_or(u32::MAX).max(1)
}

/// Shrinks to exact sides. The colour of pixels that nobody sees must not leak into the edges beside them, so a
/// transparent picture is shrunk with its colours weighed by how much of them shows.
fn shrink(picture: DynamicImage, width: u32, height: u32, transparent: bool) -> DynamicImage {
    if (picture.width(), picture.height()) == (width, height) {
        return picture;
    }
    if !transparent {
        return resample(&picture, width, height);
    }
    let mut pixels = picture.into_rgba8();
    for pixel in pixels.pixels_mut() {
        let [red, green, blue, alpha] = pixel.0;
        let weigh = |colour: u8| scaled_channel(colour, alpha, u8::MAX);
        pixel.0 = [weigh(red), weigh(green), weigh(blue), alpha];
    }
    let mut pixels = resample(&DynamicImage::ImageRgba8(pixels), width, height).into_rgba8();
    for pixel in pixels.pixels_mut() {
        let [red, green, blue, alpha] = pixel.0;
        let restore = |colour: u8| scaled_channel(colour, u8::MAX, alpha);
        pixel.0 = [restore(red), restore(green), restore(blue), alpha];
    }
    DynamicImage::ImageRgba8(pixels)
}

/// `colour × to / from`, rounded, at most full; nothing where nothing shows.
fn scaled_channel(colour: u8, to: u8, from: u8) -> u8 {
    if from == 0 {
        return 0;
    }
    let from = u32::from(from);
    let exact = (u32::from(colour) * u32::from(to) + from / 2) / from;
    u8::try_from(exact).unwrap_or(u8::MAX)
}

/// By averaging where the step is large, which needs no memory besides the result; by a finer filter where it is
/// small, and averaging would show stairs.
fn resample(picture: &DynamicImage, width: u32, height: u32) -> DynamicImage {
    if picture.width() / 2 >= width {
        picture.thumbnail_exact(width, height)
    } else {
        picture.resize_exact(width, height, FilterType::CatmullRom)
    }
}

/// Eight bits a channel, and no alpha where all is opaque: what JPEG can hold and pages need.
fn in_eight_bits(picture: DynamicImage, transparent: bool) -> DynamicImage {
    match (picture.color().has_color(), transparent) {
        (true, true) => DynamicImage::ImageRgba8(picture.into_rgba8()),
        (true, false) => DynamicImage::ImageRgb8(picture.into_rgb8()),
        (false, true) => DynamicImage::ImageLumaA8(picture.into_luma_alpha8()),
        (false, false) => DynamicImage::ImageLuma8(picture.into_luma8()),
    }
}

fn is_transparent(picture: &DynamicImage) -> bool {
    match picture {
        DynamicImage::ImageRgba8(pixels) => pixels.pixels().any(|pixel| pixel.0[3] < u8::MAX),
        DynamicImage::ImageLumaA8(pixels) => pixels.pixels().any(|pixel| pixel.0[1] < u8::MAX),
        other if other.color().has_alpha() => other.pixels().any(|(_, _, pixel)| pixel.0[3] < u8::MAX),
        _ => false,
    }
}

/// How many pixels a side are looked at to tell a drawing from a photo.
const SAMPLES: u32 = 256;
/// The colours that make up most of a drawing; a photo spreads over thousands.
const DRAWN_COLOURS: usize = 16;

/// Whether 16 colours make up three quarters of the picture. A drawing has flat areas, however many shades
/// its edges have; a photo has none, nor has a scanned page.
fn looks_drawn(picture: &DynamicImage) -> bool {
    let mut counts: BTreeMap<[u8; 4], u32> = BTreeMap::new();
    let columns = picture.width().min(SAMPLES);
    let rows = picture.height().min(SAMPLES);
    for row in 0..rows {
        for column in 0..columns {
            let x = column * picture.width() / columns;
            let y = row * picture.height() / rows;
            *counts.entry(picture.get_pixel(x, y).0).or_default() += 1;
        }
    }
    let mut counts: Vec<u32> = counts.into_values().collect();
    counts.sort_unstable_by(|a, b| b.cmp(a));
    let most: u32 = counts.iter().take(DRAWN_COLOURS).sum();
    u64::from(most) * 4 >= u64::from(columns * rows) * 3
}

/// The quality of the JPEG files: above 85 they grow fast, below 75 the grain of a gasket starts to smear.
const JPEG_QUALITY: u8 = 82;

fn encode(picture: &DynamicImage, keep_exact: bool) -> Result<(&'static str, Vec<u8>), PictureError> {
    let mut bytes = Vec::new();
    let (extension, written) = if keep_exact {
        let encoder = PngEncoder::new_with_quality(&mut bytes, CompressionType::Default, PngFilter::Adaptive);
        ("png", picture.write_with_encoder(encoder))
    } else {
        let encoder = JpegEncoder::new_with_quality(&mut bytes, JPEG_QUALITY);
        ("jpg", picture.write_with_encoder(encoder))
    };
    match written {
        Ok(()) => Ok((extension, bytes)),
        Err(error) => Err(PictureError::NotWritten(error.to_string())),
    }
}
