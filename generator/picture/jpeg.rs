//! The segments of a JPEG (ITU-T T.81, annex B), and the one note of its Exif block that changes what is seen.

use super::header::fits;
use super::{Flaw, FlawSort, Header, PictureKind};

pub(super) fn header(bytes: &[u8]) -> Result<Header, Flaw> {
    let short = || Flaw::broken("cannot be read as a picture: it is cut short or broken");
    let (mut frame, mut turn, mut at) = (None, 1, 2);
    loop {
        let marker = *bytes.get(at + 1).ok_or_else(short)?;
        if bytes[at] != 0xff {
            return Err(Flaw::broken("is damaged: a segment does not begin where the one before it ends"));
        }
        if marker == 0xff {
            at += 1;
            continue;
        }
        let body = segment(bytes, at + 2).ok_or_else(short)?;
        match marker {
            0xc0..=0xcf if !matches!(marker, 0xc4 | 0xc8 | 0xcc) => frame = Some(read_frame(marker, body)?),
            0xe1 if body.starts_with(b"Exif\0\0") => turn = turn_in_tiff(&body[6..]).unwrap_or(1),
            0xda => break,
            0xd9 => return Err(Flaw::broken("holds no image")),
            _ => {}
        }
        at += 4 + body.len();
    }
    let (width, height, work) = frame.ok_or_else(|| Flaw::broken("does not say how large it is"))?;
    // Turning takes a second picture beside the first.
    let work = if turn >= 5 { 2 * work } else { work };
    fits(width, height, work)?;
    end(bytes).ok_or_else(short)?;
    Ok(Header { kind: PictureKind::Jpeg, width, height, turn, work, drawing: false })
}

/// The body of a segment whose length stands at `at`.
fn segment(bytes: &[u8], at: usize) -> Option<&[u8]> {
    let length = usize::from(u16::from_be_bytes([*bytes.get(at)?, *bytes.get(at + 1)?]));
    bytes.get(at + 2..at + length)
}

/// Width, height and the bytes that decoding takes.
fn read_frame(marker: u8, body: &[u8]) -> Result<(u32, u32, u64), Flaw> {
    let [precision, h1, h0, w1, w0, components, ..] = *body else {
        return Err(Flaw::broken("does not say how large it is"));
    };
    let format = |what: &str, hint: &str| Err(Flaw::new(FlawSort::Format, what, hint));
    if marker > 0xc2 || precision != 8 {
        return format("is a JPEG of a kind that browsers do not show", "save it as a usual JPEG: baseline, 8 bits");
    }
    match components {
        1 | 3 => {}
        4 => return format("is in the four colours of printing (CMYK)", "convert it to RGB and save it again"),
        _ => return format("has neither one colour nor three", "convert it to RGB or grey and save it again"),
    }
    let side = |high, low| u32::from(u16::from_be_bytes([high, low]));
    let (width, height) = (side(w1, w0), side(h1, h0));
    // A progressive one is held as coefficients of two bytes until its last scan.
    let each = if marker == 0xc2 { 3 } else { 1 };
    Ok((width, height, u64::from(width) * u64::from(height) * u64::from(components) * each))
}

/// Where the image ends, by its segments: some cameras write a second picture behind it. `None` if it is cut short.
pub(super) fn end(bytes: &[u8]) -> Option<usize> {
    let mut at = 2;
    loop {
        // Coded image data goes on until a 0xFF that means something.
        at += memchr::memchr(0xff, bytes.get(at..)?)?;
        let (marker, next) = (*bytes.get(at + 1)?, at + 2);
        match marker {
            0xd9 => return Some(next),
            // Fill before a marker; a stuffed byte of the image; a restart.
            0xff => at += 1,
            0x00 | 0x01 | 0xd0..=0xd7 => at = next,
            _ => at = next + usize::from(u16::from_be_bytes([*bytes.get(next)?, *bytes.get(next + 1)?])),
        }
    }
}

/// The orientation (tag 0x0112) of the first directory of a TIFF block (TIFF 6.0, section 2), if it states one from 1 to 8.
pub(super) fn turn_in_tiff(tiff: &[u8]) -> Option<u8> {
    let little = match tiff.get(..4)? {
        b"II*\0" => true,
        b"MM\0*" => false,
        _ => return None,
    };
    let short = |at: usize| {
        let two = [*tiff.get(at)?, *tiff.get(at + 1)?];
        Some(usize::from(if little { u16::from_le_bytes(two) } else { u16::from_be_bytes(two) }))
    };
    let long = |at: usize| {
        let (a, b) = (short(at)?, short(at + 2)?);
        Some(if little { b << 16 | a } else { a << 16 | b })
    };
    let directory = long(4)?;
    (0..short(directory)?).map(|entry| directory + 2 + 12 * entry).find_map(|at| {
        let value = short(at + 8)?;
        (short(at)? == 0x0112 && short(at + 2)? == 3 && (1..=8).contains(&value)).then_some(value as u8)
    })
}
