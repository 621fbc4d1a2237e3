//! The chunks of a PNG (W3C PNG, third edition): sizes, sums, and what is not a still picture.

use super::header::fits;
use super::jpeg::turn_in_tiff;
use super::{Flaw, FlawSort, Header, PictureKind};

/// Below this many bits a pixel a PNG is taken for a drawing: photographs need several, even areas next to none.
const DRAWING_BITS: u64 = 1;

/// What one chunk says.
struct Chunk<'a> {
    kind: &'a [u8],
    body: &'a [u8],
}

pub(super) fn header(bytes: &[u8]) -> Result<Header, Flaw> {
    let (first, mut at) = chunk(bytes, 8)?;
    if first.kind != b"IHDR" || first.body.len() != 13 {
        return Err(Flaw::broken("does not begin as a PNG does"));
    }
    let number = |from: usize| first.body[from..from + 4].iter().fold(0u32, |sum, byte| sum << 8 | u32::from(*byte));
    let (width, height) = (number(0), number(4));
    let (depth, colour) = (first.body[8], first.body[9]);
    // A palette is opened into three colours, and with transparency into four.
    let channels = match colour {
        0 => 1,
        2 => 3,
        3 | 6 => 4,
        4 => 2,
        _ => return Err(Flaw::broken(format!("has colours of type {colour}, which PNG does not know"))),
    };
    let work = u64::from(width) * u64::from(height) * channels * if depth == 16 { 2 } else { 1 };
    fits(width, height, work)?;
    let (mut data, mut transparent) = (0u64, matches!(colour, 4 | 6));
    loop {
        let (next, after) = chunk(bytes, at)?;
        match next.kind {
            b"IDAT" => data += next.body.len() as u64,
            b"tRNS" => transparent = true,
            b"acTL" => {
                return Err(Flaw::new(
                    FlawSort::Format,
                    "is an animated PNG",
                    "save the one frame that shows it; for several stages, one picture each",
                ));
            }
            b"eXIf" if turn_in_tiff(next.body).is_some_and(|turn| turn != 1) => {
                return Err(Flaw::new(
                    FlawSort::Format,
                    "is a PNG with a note that it is to be turned, which not every program heeds",
                    "turn the picture itself and save it again",
                ));
            }
            b"IEND" => break,
            _ => {}
        }
        at = after;
    }
    if data == 0 {
        return Err(Flaw::broken("holds no image"));
    }
    let drawing = transparent || data * 8 < u64::from(width) * u64::from(height) * DRAWING_BITS;
    Ok(Header { kind: PictureKind::Png, width, height, turn: 1, work, drawing })
}

/// The chunk at `at`, its sum checked, and where the next begins.
fn chunk(bytes: &[u8], at: usize) -> Result<(Chunk<'_>, usize), Flaw> {
    let short = || Flaw::broken("cannot be read as a picture: it is cut short or broken");
    let length =
        bytes.get(at..at + 4).ok_or_else(short)?.iter().fold(0usize, |sum, byte| sum << 8 | usize::from(*byte));
    let end = at.checked_add(8).and_then(|from| from.checked_add(length)).ok_or_else(short)?;
    let sum = bytes.get(end..end + 4).ok_or_else(short)?;
    if crc32fast::hash(&bytes[at + 4..end]).to_be_bytes() != sum {
        return Err(Flaw::broken("is damaged: a part of it does not fit its own sum"));
    }
    Ok((Chunk { kind: &bytes[at + 4..at + 8], body: &bytes[at + 8..end] }, end + 4))
}
