//! The files of one picture, made from its bytes: decoded once, in full, whatever is wanted.

use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use image::metadata::Orientation;
use image::{DynamicImage, ExtendedColorType, ImageEncoder, ImageError, ImageFormat, ImageReader, Limits};

use super::header::{LARGEST_SIDE, LARGEST_WORK};
use super::plan::{Part, Plan, Sized, Tiles};
use super::scale::Pixels;
use super::{Flaw, PictureKind, strip};

/// Of 100: copies are for finding one's way, and the whole picture is a click away; tiles are what is judged.
const COPY_QUALITY: u8 = 82;
const TILE_QUALITY: u8 = 88;

/// Makes the parts of a picture and hands each over as soon as it is there, so that they are not all in memory at once.
/// `keep` says whether a part is wanted, and takes it.
///
/// # Errors
/// A picture that cannot be decoded to its end; or what `keep` fails with.
pub fn make<E: From<Flaw>>(
    bytes: &[u8],
    plan: &Plan,
    wanted: &[Part],
    mut keep: impl FnMut(Part, Vec<u8>) -> Result<(), E>,
) -> Result<(), E> {
    let whole = || strip(bytes).ok_or_else(|| Flaw::broken("cannot be taken apart: it is broken"));
    // Decoded even if only the whole is wanted: nothing is published that cannot be shown.
    let pixels = decode(bytes, plan)?;
    // The small copy is made of the page's, whoever is wanted: one long way through all the pixels is enough.
    let copied = wanted.iter().any(|part| matches!(part, Part::Page | Part::Small | Part::Script));
    let page = (copied && plan.page != plan.whole).then(|| pixels.scaled(plan.page.width, plan.page.height));
    let shown = match &page {
        Some(page) => encode(page, plan.copies(), COPY_QUALITY)?,
        None => Vec::new(),
    };
    let mut tiles = Vec::new();
    for part in wanted {
        match part {
            Part::Whole => keep(*part, whole()?)?,
            Part::Page => keep(*part, shown.clone())?,
            Part::Small => {
                if let Some(Sized { width, height, .. }) = plan.small {
                    let small = page.as_ref().unwrap_or(&pixels).scaled(width, height);
                    keep(*part, encode(&small, plan.copies(), COPY_QUALITY)?)?;
                }
            }
            Part::Script if page.is_some() => keep(*part, script(plan, &shown).into_bytes())?,
            Part::Script => keep(*part, script(plan, &whole()?).into_bytes())?,
            Part::Layout => {
                if let Some(tiles) = &plan.tiles {
                    keep(*part, layout(plan, tiles).into_bytes())?;
                }
            }
            Part::Tile { level, column, row } => tiles.push((*level, *column, *row)),
        }
    }
    if !tiles.is_empty() {
        pyramid(pixels, plan, &mut tiles, keep)?;
    }
    Ok(())
}

fn decode(bytes: &[u8], plan: &Plan) -> Result<Pixels, Flaw> {
    let format = match plan.header.kind {
        PictureKind::Png => ImageFormat::Png,
        PictureKind::Jpeg => ImageFormat::Jpeg,
    };
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    let mut limits = Limits::default();
    limits.max_image_width = Some(LARGEST_SIDE);
    limits.max_image_height = Some(LARGEST_SIDE);
    limits.max_alloc = Some(LARGEST_WORK);
    reader.limits(limits);
    let mut image = reader.decode().map_err(|error| undecodable(&error))?;
    if let Some(orientation) = Orientation::from_exif(plan.header.turn) {
        image.apply_orientation(orientation);
    }
    Ok(pixels_of(image))
}

fn undecodable(error: &ImageError) -> Flaw {
    let why = error.to_string().lines().next().unwrap_or_default().to_string();
    Flaw::broken(format!("cannot be decoded to its end: {why}"))
}

/// Eight bits a channel; transparency only where there is some.
fn pixels_of(image: DynamicImage) -> Pixels {
    let (width, height) = (image.width(), image.height());
    let (channels, data) = match image {
        DynamicImage::ImageLuma8(image) => (1, image.into_raw()),
        DynamicImage::ImageRgb8(image) => (3, image.into_raw()),
        DynamicImage::ImageRgba8(image) => (4, image.into_raw()),
        DynamicImage::ImageLuma16(_) => (1, image.into_luma8().into_raw()),
        image if image.color().has_alpha() => (4, image.into_rgba8().into_raw()),
        image => (3, image.into_rgb8().into_raw()),
    };
    Pixels { width, height, channels, data }
}

fn encode(pixels: &Pixels, kind: PictureKind, quality: u8) -> Result<Vec<u8>, Flaw> {
    let mut out = Vec::new();
    let colour = match pixels.channels {
        1 => ExtendedColorType::L8,
        3 => ExtendedColorType::Rgb8,
        _ => ExtendedColorType::Rgba8,
    };
    let (data, width, height) = (&pixels.data, pixels.width, pixels.height);
    let encoded = match kind {
        PictureKind::Jpeg => JpegEncoder::new_with_quality(&mut out, quality).write_image(data, width, height, colour),
        PictureKind::Png => PngEncoder::new_with_quality(&mut out, CompressionType::Best, FilterType::Adaptive)
            .write_image(data, width, height, colour),
    };
    encoded.map_err(|error| Flaw::broken(format!("cannot be copied: {error}")))?;
    Ok(out)
}

/// Every wanted tile, from the largest level down; each level is made from the one above it.
fn pyramid<E: From<Flaw>>(
    mut pixels: Pixels,
    plan: &Plan,
    wanted: &mut [(u32, u32, u32)],
    mut keep: impl FnMut(Part, Vec<u8>) -> Result<(), E>,
) -> Result<(), E> {
    let Some(Tiles { size, overlap, .. }) = plan.tiles else { return Ok(()) };
    wanted.sort_by(|a, b| b.cmp(a));
    let mut at = plan.top();
    for (level, column, row) in wanted.iter().copied() {
        // Step by step even past levels that nobody asked for: a tile's bytes do not depend on its company.
        while at > level {
            at -= 1;
            let (width, height) = plan.level(at);
            pixels = pixels.scaled(width, height);
        }
        let run = |at: u32, side: u32| {
            let from = (at * size).saturating_sub(overlap);
            (from, ((at + 1) * size + overlap).min(side) - from)
        };
        let ((x, wide), (y, high)) = (run(column, pixels.width), run(row, pixels.height));
        let tile = encode(&pixels.cut(x, y, wide, high), plan.copies(), TILE_QUALITY)?;
        keep(Part::Tile { level, column, row }, tile)?;
    }
    Ok(())
}

/// The picture's own description, for software that reads the layout from a file.
fn layout(plan: &Plan, tiles: &Tiles) -> String {
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<Image xmlns=\"http://schemas.microsoft.com/deepzoom/2008\" \
         Format=\"{}\" Overlap=\"{}\" TileSize=\"{}\"><Size Width=\"{}\" Height=\"{}\"/></Image>\n",
        plan.copies().extension(),
        tiles.overlap,
        tiles.size,
        plan.whole.width,
        plan.whole.height
    )
}

/// A classic script: a page opened from a disk may not read back the pixels of a picture file, but of this text it may.
fn script(plan: &Plan, shown: &[u8]) -> String {
    let kind = if plan.page == plan.whole { plan.header.kind } else { plan.copies() };
    let mime = if kind == PictureKind::Png { "image/png" } else { "image/jpeg" };
    format!("Tellmark.picture(\"{}\",\"data:{mime};base64,{}\");\n", plan.page.path, base64(shown))
}

/// RFC 4648, section 4.
fn base64(bytes: &[u8]) -> String {
    const SIGNS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let group = (0..3).fold(0u32, |sum, at| sum << 8 | u32::from(three.get(at).copied().unwrap_or(0)));
        for place in 0..4 {
            let sign = SIGNS[(group >> (18 - 6 * place)) as usize & 63];
            out.push(if place <= three.len() { char::from(sign) } else { '=' });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::base64;

    /// RFC 4648, section 10.
    #[test]
    fn base64_is_that_of_the_standard() {
        let known =
            [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foob", "Zm9vYg=="), ("foobar", "Zm9vYmFy")];
        for (plain, coded) in known {
            assert_eq!(base64(plain.as_bytes()), coded);
        }
    }
}
