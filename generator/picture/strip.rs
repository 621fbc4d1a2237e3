//! A picture freed of what a camera or an editor wrote into it, its pixels untouched.

use img_parts::{Bytes, ImageEXIF, ImageICC, jpeg::Jpeg, jpeg::JpegSegment, png::Png};

use super::{PictureKind, jpeg, picture_kind};

/// Chunks that a PNG needs to be shown as it was made; everything else is left out.
const PNG_KEPT: &[&[u8; 4]] = &[b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"pHYs"];

/// The same picture without texts, times, places and profiles. Of a camera's notes one stays, written anew: which way up
/// a JPEG is, since turning it would mean coding it again. `None` if it cannot be taken apart.
pub fn strip(bytes: &[u8]) -> Option<Vec<u8>> {
    match picture_kind(bytes)? {
        PictureKind::Png => {
            let mut png = Png::from_bytes(bytes.to_vec().into()).ok()?;
            png.chunks_mut().retain(|chunk| PNG_KEPT.iter().any(|kept| **kept == chunk.kind()));
            Some(png.encoder().bytes().to_vec())
        }
        PictureKind::Jpeg => {
            let mut jpeg = Jpeg::from_bytes(bytes[..jpeg::end(bytes)?].to_vec().into()).ok()?;
            let turn = jpeg.exif().and_then(|exif| jpeg::turn_in_tiff(&exif)).unwrap_or(1);
            jpeg.set_exif(None);
            jpeg.set_icc_profile(None);
            // APP1 to APP13 and comments; APP0 (JFIF) and APP14 (Adobe colour) say how to decode.
            jpeg.segments_mut().retain(|segment| !matches!(segment.marker(), 0xe1..=0xed | 0xef | 0xfe));
            if turn != 1 {
                let after_jfif = jpeg.segments().iter().take_while(|segment| segment.marker() == 0xe0).count();
                jpeg.segments_mut().insert(after_jfif, JpegSegment::new_with_contents(0xe1, way_up(turn)));
            }
            Some(jpeg.encoder().bytes().to_vec())
        }
    }
}

/// An Exif block that holds an orientation and nothing else.
fn way_up(turn: u8) -> Bytes {
    let mut block = b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
    block.extend([turn, 0, 0, 0, 0, 0, 0]);
    Bytes::from(block)
}
