//! Pictures on their way out: told by their first bytes, and freed of what a camera or an editor wrote into them.

use img_parts::{ImageEXIF, ImageICC, jpeg::Jpeg, png::Png};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PictureKind {
    Png,
    Jpeg,
}

/// PNG (W3C PNG, signature) or JPEG (ITU-T T.81, SOI marker), by the first bytes.
pub fn picture_kind(bytes: &[u8]) -> Option<PictureKind> {
    if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        Some(PictureKind::Png)
    } else if bytes.starts_with(&[0xff, 0xd8, 0xff]) {
        Some(PictureKind::Jpeg)
    } else {
        None
    }
}

/// Chunks that a PNG needs to be shown as it was made; everything else is left out.
const PNG_KEPT: &[&[u8; 4]] = &[b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"pHYs"];

/// The same picture without texts, times, places and profiles. `None` if it cannot be taken apart.
pub fn strip(bytes: &[u8]) -> Option<Vec<u8>> {
    let owned = bytes.to_vec();
    match picture_kind(bytes)? {
        PictureKind::Png => {
            let mut png = Png::from_bytes(owned.into()).ok()?;
            png.chunks_mut().retain(|chunk| PNG_KEPT.iter().any(|kept| **kept == chunk.kind()));
            Some(png.encoder().bytes().to_vec())
        }
        PictureKind::Jpeg => {
            let mut jpeg = Jpeg::from_bytes(owned[..end_of_jpeg(bytes)?].to_vec().into()).ok()?;
            jpeg.set_exif(None);
            jpeg.set_icc_profile(None);
            // APP1 to APP13 and comments; APP0 (JFIF) and APP14 (Adobe colour) say how to decode.
            jpeg.segments_mut().retain(|segment| !matches!(segment.marker(), 0xe1..=0xed | 0xef | 0xfe));
            Some(jpeg.encoder().bytes().to_vec())
        }
    }
}

/// Where the image ends, by its segments (ITU-T T.81, annex B): some cameras write a second picture behind it. `None` if it
/// is cut short.
fn end_of_jpeg(bytes: &[u8]) -> Option<usize> {
    let mut at = 2;
    loop {
        let (marker, next) = (*bytes.get(at + 1)?, at + 2);
        match (bytes[at], marker) {
            (0xff, 0xd9) => return Some(next),
            // A byte of the image, a stuffed 0xFF, a restart, or fill before a marker.
            (0xff, 0xff) => at += 1,
            (0xff, 0x00 | 0x01 | 0xd0..=0xd7) => at = next,
            (0xff, _) => at = next + usize::from(u16::from_be_bytes([*bytes.get(next)?, *bytes.get(next + 1)?])),
            _ => at += 1,
        }
    }
}

/// The pictures that entries name, freed of metadata, at their places in the site. Those that cannot be taken apart are
/// refused by the rules before.
pub fn pictures(corpus: &crate::corpus::Corpus) -> Vec<crate::out_file::OutFile> {
    let mut out = std::collections::BTreeMap::new();
    for entry in corpus.entries() {
        for file in entry.common.iter().flat_map(|common| &common.photos).filter_map(|photo| photo.file.as_ref()) {
            let Some(asset) = corpus.sources.asset(entry.collection, &file.text) else { continue };
            let path = crate::render::picture_path(&corpus.collection(entry).key, &file.text);
            if let Some(bytes) = strip(&asset.bytes) {
                out.insert(path, bytes);
            }
        }
    }
    out.into_iter().map(|(path, bytes)| crate::out_file::OutFile { path, bytes }).collect()
}
