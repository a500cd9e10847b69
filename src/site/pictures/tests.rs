//! The pictures are made here, by the image crate and by hand; what is checked is what a reader of the site
//! would see: sides, kind, and that nothing of the old file is left.

use super::*;
use image::{GrayImage, Luma, Rgb, RgbImage, Rgba, RgbaImage};

/// A picture with no flat areas, as a photo has none; the same for the same sides.
fn photo_like(width: u32, height: u32) -> DynamicImage {
    DynamicImage::ImageRgb8(RgbImage::from_fn(width, height, |x, y| {
        let noise = (x.wrapping_mul(7919) ^ y.wrapping_mul(104_729)).wrapping_mul(2_654_435_761);
        Rgb([noise.to_be_bytes()[0], (x % 256).to_le_bytes()[0], (y % 256).to_le_bytes()[0]])
    }))
}

fn encoded(picture: &DynamicImage, format: ImageFormat) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, format).expect("a picture made here can be written");
    bytes.into_inner()
}

#[track_caller]
fn prepared(bytes: &[u8]) -> Photo {
    prepare_photo(bytes, &PhotoLimits::default()).expect("a photo that can be read")
}

#[track_caller]
fn refused(bytes: &[u8]) -> PictureError {
    prepare_photo(bytes, &PhotoLimits::default()).expect_err("a photo that cannot be read")
}

/// Puts an APP1 segment with EXIF data after the start of a JPEG: Orientation and a GPS latitude. Laid out by
/// hand after Exif 2.32, sections 4.5 and 4.6 (tags 0x0112 and 0x8825; GPS tags 1 and 2). From memory.
fn with_exif(jpeg: &[u8], orientation: u8) -> Vec<u8> {
    let entry = |tag: u16, kind: u16, count: u32, value: [u8; 4]| {
        let mut entry = tag.to_be_bytes().to_vec();
        entry.extend(kind.to_be_bytes());
        entry.extend(count.to_be_bytes());
        entry.extend(value);
        entry
    };
    let mut tiff = b"MM\0*\0\0\0\x08".to_vec();
    tiff.extend(2_u16.to_be_bytes());
    tiff.extend(entry(0x0112, 3, 1, [0, orientation, 0, 0]));
    tiff.extend(entry(0x8825, 4, 1, 38_u32.to_be_bytes()));
    tiff.extend(0_u32.to_be_bytes());
    assert_eq!(tiff.len(), 38, "the GPS directory starts here");
    tiff.extend(2_u16.to_be_bytes());
    tiff.extend(entry(1, 2, 2, *b"S\0\0\0"));
    tiff.extend(entry(2, 5, 3, 68_u32.to_be_bytes()));
    tiff.extend(0_u32.to_be_bytes());
    for part in [17_u32, 1, 42, 1, 0, 1] {
        tiff.extend(part.to_be_bytes());
    }
    let length = u16::try_from(2 + 6 + tiff.len()).expect("a short segment");
    let mut bytes = jpeg[..2].to_vec();
    bytes.extend([0xFF, 0xE1]);
    bytes.extend(length.to_be_bytes());
    bytes.extend(b"Exif\0\0");
    bytes.extend(tiff);
    bytes.extend(&jpeg[2..]);
    bytes
}

#[track_caller]
fn sizes(photo: &Photo) -> Vec<(u32, u32, &'static str)> {
    for variant in &photo.variants {
        let picture = image::load_from_memory(&variant.bytes).expect("what was written can be read");
        assert_eq!((picture.width(), picture.height()), (variant.width, variant.height));
        let format = image::guess_format(&variant.bytes).expect("a known kind");
        assert!(format.extensions_str().contains(&variant.extension));
    }
    let variants = photo.variants.iter();
    variants.map(|v| (v.width, v.height, v.extension)).collect()
}

#[test]
fn photos_are_shrunk_and_never_enlarged() {
    #[track_caller]
    fn case(width: u32, height: u32, expected: &[(u32, u32)]) {
        let photo = prepared(&encoded(&photo_like(width, height), ImageFormat::Jpeg));
        let expected: Vec<_> = expected.iter().map(|(w, h)| (*w, *h, "jpg")).collect();
        assert_eq!(sizes(&photo), expected);
    }
    case(4000, 3000, &[(800, 600), (1600, 1200)]);
    case(2000, 100, &[(800, 40), (1600, 80)]);
    case(1600, 900, &[(800, 450), (1600, 900)]);
    case(1200, 900, &[(800, 600), (1200, 900)]);
    // A second size that spares less than a fifth is not worth a file.
    case(900, 600, &[(900, 600)]);
    case(64, 48, &[(64, 48)]);
    case(1, 1, &[(1, 1)]);
    case(3000, 1, &[(800, 1), (1600, 1)]);
}

#[test]
fn every_kind_is_read_by_its_bytes() {
    for (format, extension) in [(ImageFormat::Jpeg, "jpg"), (ImageFormat::Png, "jpg"), (ImageFormat::WebP, "jpg")] {
        let photo = prepared(&encoded(&photo_like(100, 50), format));
        assert_eq!(sizes(&photo), [(100, 50, extension)], "{format:?}");
    }
    let drawn = RgbaImage::from_pixel(100, 50, Rgba([200, 10, 10, 255]));
    let photo = prepared(&encoded(&DynamicImage::ImageRgba8(drawn), ImageFormat::Gif));
    assert_eq!(sizes(&photo), [(100, 50, "png")]);
}

#[test]
fn a_photo_is_turned_upright_and_loses_place_and_hour() {
    // Orientation values: Exif 2.32, tag 0x0112: 6 is "row 0 is the right-hand side of the visual image, column 0
    // its top", so the stored left edge is the seen top. From memory.
    let mut stored = photo_like(2400, 1800);
    if let DynamicImage::ImageRgb8(pixels) = &mut stored {
        for y in 0..1800 {
            for x in 0..600 {
                pixels.put_pixel(x, y, Rgb([255, 0, 0]));
            }
        }
    }
    let bytes = with_exif(&encoded(&stored, ImageFormat::Jpeg), 6);
    assert!(bytes.windows(4).any(|part| part == b"Exif"));
    let photo = prepared(&bytes);
    assert_eq!(sizes(&photo), [(800, 1067, "jpg"), (1600, 2133, "jpg")]);
    for variant in &photo.variants {
        assert!(!variant.bytes.windows(4).any(|part| part == b"Exif"));
        let seen = image::load_from_memory(&variant.bytes).expect("readable").into_rgb8();
        let Rgb([red, green, blue]) = *seen.get_pixel(variant.width / 2, variant.height / 20);
        assert!(red > 240 && green < 20 && blue < 20, "the stored left is the seen top");
    }
}

#[test]
fn all_eight_orientations_show_the_same_corner_first() {
    // Where the stored top left corner is seen, by Orientation; Exif 2.32, tag 0x0112, from memory.
    for (orientation, right, bottom) in [
        (1, false, false),
        (2, true, false),
        (3, true, true),
        (4, false, true),
        (5, false, false),
        (6, true, false),
        (7, true, true),
        (8, false, true),
    ] {
        let mut stored = RgbImage::from_pixel(80, 40, Rgb([255, 255, 255]));
        for y in 0..16 {
            for x in 0..16 {
                stored.put_pixel(x, y, Rgb([0, 0, 0]));
            }
        }
        let jpeg = encoded(&DynamicImage::ImageRgb8(stored), ImageFormat::Jpeg);
        let photo = prepared(&with_exif(&jpeg, orientation));
        let seen = image::load_from_memory(&photo.variants[0].bytes).expect("readable").into_luma8();
        let sides = if orientation >= 5 { (40, 80) } else { (80, 40) };
        assert_eq!(seen.dimensions(), sides, "orientation {orientation}");
        let x = if right { sides.0 - 5 } else { 4 };
        let y = if bottom { sides.1 - 5 } else { 4 };
        assert!(seen.get_pixel(x, y).0[0] < 40, "orientation {orientation}");
        assert!(seen.get_pixel(sides.0 - 1 - x, sides.1 - 1 - y).0[0] > 215, "orientation {orientation}");
    }
}

#[test]
fn an_unreadable_orientation_leaves_the_photo_as_stored() {
    let jpeg = encoded(&photo_like(80, 40), ImageFormat::Jpeg);
    for orientation in [0, 9, 255] {
        assert_eq!(sizes(&prepared(&with_exif(&jpeg, orientation))), [(80, 40, "jpg")]);
    }
}

#[test]
fn drawings_and_transparent_pictures_stay_exact() {
    let mut line_art = RgbImage::from_pixel(1700, 400, Rgb([255, 255, 255]));
    for x in 0..1700 {
        line_art.put_pixel(x, x % 400, Rgb([0, 0, 0]));
    }
    let drawn = encoded(&DynamicImage::ImageRgb8(line_art), ImageFormat::Png);
    assert_eq!(sizes(&prepared(&drawn)), [(800, 188, "png"), (1600, 376, "png")]);

    let scan = GrayImage::from_fn(300, 300, |x, y| Luma([(x * y % 251).to_le_bytes()[0]]));
    let scan = encoded(&DynamicImage::ImageLuma8(scan), ImageFormat::Png);
    assert_eq!(sizes(&prepared(&scan)), [(300, 300, "jpg")]);

    let mut glass = photo_like(2000, 100).into_rgba8();
    glass.put_pixel(1000, 50, Rgba([0, 0, 0, 0]));
    let glass = encoded(&DynamicImage::ImageRgba8(glass), ImageFormat::WebP);
    assert_eq!(sizes(&prepared(&glass)), [(800, 40, "png"), (1600, 80, "png")]);

    // Alpha that is opaque everywhere is no transparency.
    let opaque = DynamicImage::ImageRgba8(photo_like(200, 100).into_rgba8());
    assert_eq!(sizes(&prepared(&encoded(&opaque, ImageFormat::Png))), [(200, 100, "jpg")]);
    let deep = DynamicImage::ImageRgba16(photo_like(200, 100).into_rgba16());
    assert_eq!(sizes(&prepared(&encoded(&deep, ImageFormat::Png))), [(200, 100, "jpg")]);
}

#[test]
fn what_is_unseen_does_not_darken_the_edge() {
    let half = RgbaImage::from_fn(3200, 20, |x, _| if x % 4 == 0 { Rgba([0, 0, 0, 0]) } else { Rgba([250, 250, 250, 255]) });
    let photo = prepared(&encoded(&DynamicImage::ImageRgba8(half), ImageFormat::Png));
    let seen = image::load_from_memory(&photo.variants[0].bytes).expect("readable").into_rgba8();
    let Rgba([red, _, _, alpha]) = *seen.get_pixel(400, 2);
    assert!(red >= 248, "{red}");
    assert!((189..=193).contains(&alpha), "three pixels of four show: {alpha}");
}

#[test]
fn the_same_photo_gives_the_same_bytes() {
    for format in [ImageFormat::Jpeg, ImageFormat::Png] {
        let bytes = encoded(&photo_like(1000, 700), format);
        assert_eq!(prepared(&bytes), prepared(&bytes));
    }
}

#[test]
fn other_files_are_named() {
    #[track_caller]
    fn case(bytes: &[u8], message: &str, remedy: &str) {
        let error = refused(bytes);
        assert_eq!(error.to_string(), message);
        assert_eq!(error.remedy(), remedy);
    }
    let heic = "this is a HEIC photo, which browsers cannot show";
    let on_the_phone = "save it as JPEG on the phone first, and set the camera to take JPEG";
    // Brands: ISO/IEC 23008-12, annex B; from memory.
    case(b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", heic, on_the_phone);
    case(b"\0\0\0\x18ftypmif1\0\0\0\0mif1heic", heic, on_the_phone);
    let other = "save it as JPEG, PNG, WebP or GIF, or a drawing as SVG";
    case(b"%PDF-1.7", "this is a PDF document, not a photo that can be read", other);
    case(b"\0\0\0\x18ftypisom", "this is a film, not a photo that can be read", other);
    case(b"\0\0\0\x18ftyp", "this is not a photo that can be read", other);
    case(b"hello", "this is not a photo that can be read", other);
    case(b"", "the picture file is empty", "copy the file from the camera or phone again");
}

#[test]
fn absurd_sizes_are_refused_before_they_are_unpacked() {
    // A PNG header (PNG specification, section 11.2.2 IHDR) that claims more than the data can hold.
    let mut png = encoded(&photo_like(16, 16), ImageFormat::Png);
    let claim = |png: &mut Vec<u8>, width: u32, height: u32| {
        png[16..20].copy_from_slice(&width.to_be_bytes());
        png[20..24].copy_from_slice(&height.to_be_bytes());
        let sum = crc32(&png[12..29]);
        png[29..33].copy_from_slice(&sum.to_be_bytes());
    };
    claim(&mut png, 60_000, 60_000);
    let error = refused(&png);
    assert_eq!(error.to_string(), "this picture claims 60000 by 60000 pixels, more than any camera takes");
    assert_eq!(error.remedy(), "make a smaller copy of it: 1600 pixels wide is all a page shows");
    claim(&mut png, 15_000, 15_000);
    assert_eq!(refused(&png), PictureError::TooMuchMemory);
    // A JPEG frame header (ITU-T T.81, B.2.2) with the largest sides it can hold.
    let mut jpeg = encoded(&photo_like(16, 16), ImageFormat::Jpeg);
    let frame = jpeg.windows(2).position(|part| part == [0xFF, 0xC0]).expect("a baseline frame");
    jpeg[frame + 5..frame + 9].copy_from_slice(&[0xFF, 0xFF, 0xFF, 0xFF]);
    let error = refused(&jpeg);
    assert_eq!(error, PictureError::TooManyPixels { width: 65_535, height: 65_535 });
    jpeg[frame + 5..frame + 9].copy_from_slice(&[0x3E, 0x00, 0x3E, 0x00]);
    assert_eq!(refused(&jpeg), PictureError::TooMuchMemory);
}

/// The checksum of PNG chunks (PNG specification, annex D).
fn crc32(bytes: &[u8]) -> u32 {
    !bytes
        .iter()
        .fold(u32::MAX, |sum, byte| (0..8).fold(sum ^ u32::from(*byte), |sum, _| (sum >> 1) ^ (if sum & 1 == 1 { 0xEDB8_8320 } else { 0 })))
}

#[test]
fn damaged_files_never_panic() {
    let drawn = RgbaImage::from_fn(24, 16, |x, y| Rgba([x.to_le_bytes()[0] * 8, 9, 200, y.to_le_bytes()[0] * 16]));
    let drawn = DynamicImage::ImageRgba8(drawn);
    let files = [
        with_exif(&encoded(&photo_like(24, 16), ImageFormat::Jpeg), 6),
        encoded(&drawn, ImageFormat::Png),
        encoded(&drawn, ImageFormat::WebP),
        encoded(&drawn, ImageFormat::Gif),
    ];
    // A damaged header may claim a large picture; a small bound keeps the test quick.
    let limits = PhotoLimits { longest_side: 1_000, memory: 4_000_000, widths: vec![10, 20] };
    let mut read = 0;
    for file in &files {
        assert!(prepare_photo(file, &limits).is_ok());
        for end in 0..file.len() {
            read += u32::from(prepare_photo(&file[..end], &limits).is_ok());
        }
        for place in 0..file.len() {
            for mask in [0x01, 0x80, 0xFF] {
                let mut damaged = file.clone();
                damaged[place] ^= mask;
                read += u32::from(prepare_photo(&damaged, &limits).is_ok());
            }
        }
    }
    assert!(read > 0, "some damage goes unseen");
}

#[test]
fn widths_that_make_no_sense_still_give_a_photo() {
    let bytes = encoded(&photo_like(40, 30), ImageFormat::Jpeg);
    for widths in [vec![], vec![0], vec![u32::MAX], vec![7, 7, 7]] {
        let limits = PhotoLimits { widths, ..PhotoLimits::default() };
        let photo = prepare_photo(&bytes, &limits).expect("a photo");
        assert_eq!(photo.variants.len(), 1);
    }
}

/// The first bytes of HEIF by ISO/IEC 23008-12, of TIFF by its revision 6.0.
#[test]
fn a_picture_is_known_by_its_bytes_or_its_name() {
    let jpeg = encoded(&photo_like(8, 8), ImageFormat::Jpeg);
    let heic = b"\0\0\0\x18ftypheic\0\0\0\0";
    let film = b"\0\0\0\x18ftypisom\0\0\0\0";
    for (path, bytes) in
        [("a.dat", jpeg.as_slice()), ("a", heic), ("a.x", b"II*\0...."), ("a.jpg", b"no picture"), ("A.HEIC", film), ("a.cr3", film)]
    {
        assert!(is_picture(path, bytes), "{path}");
    }
    for (path, bytes) in [("a.pdf", &b"%PDF-1.7"[..]), ("a.txt", b"BM is no picture"), ("a.mp4", film), ("jpg", b""), ("a.csv", b"a,b")] {
        assert!(!is_picture(path, bytes), "{path}");
    }
}
