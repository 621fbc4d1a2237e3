//! What a picture is, by its first bytes and its outer structure. Nothing is decoded, so a small file that claims to be
//! an enormous picture costs nothing.

use super::{Flaw, FlawSort, jpeg, png};

/// Bytes of a file; above it a picture is refused.
pub const LARGEST_FILE: u64 = 64 << 20;
/// Pixels along a side.
pub const LARGEST_SIDE: u32 = 20_000;
/// Bytes that decoding one picture may take: 64 megapixels of a baseline JPEG fit, and 28 of a progressive one.
pub const LARGEST_WORK: u64 = 256 << 20;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PictureKind {
    Png,
    Jpeg,
}

impl PictureKind {
    pub fn extension(self) -> &'static str {
        match self {
            PictureKind::Png => "png",
            PictureKind::Jpeg => "jpg",
        }
    }
}

/// A picture that can be shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Header {
    pub kind: PictureKind,
    /// Pixels, as they are stored.
    pub width: u32,
    pub height: u32,
    /// How it is to be turned when shown (Exif 2.3, tag 0x0112): 1 as stored, 2 to 8 mirrored or turned.
    pub turn: u8,
    /// Bytes that decoding takes.
    pub work: u64,
    /// A drawing: transparent, or of large even areas. Its copies stay free of the noise that JPEG puts beside edges.
    pub drawing: bool,
}

impl Header {
    /// Width and height as shown.
    pub fn shown(&self) -> (u32, u32) {
        if self.turn >= 5 { (self.height, self.width) } else { (self.width, self.height) }
    }
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

/// Reads the structure of a whole file. `name` is compared with what it is.
///
/// # Errors
/// The first thing that hinders it from being shown.
pub fn examine(bytes: &[u8], name: &str) -> Result<Header, Flaw> {
    let Some(kind) = picture_kind(bytes) else { return Err(no_picture(bytes)) };
    let (stem, ending) = name.rsplit_once('.').unwrap_or((name, ""));
    let fits: &[&str] = if kind == PictureKind::Png { &["png"] } else { &["jpg", "jpeg"] };
    if !fits.contains(&ending.to_ascii_lowercase().as_str()) {
        let word = if kind == PictureKind::Png { "PNG" } else { "JPEG" };
        return Err(Flaw::new(
            FlawSort::Format,
            format!("is a {word} picture by its first bytes, but its name ends otherwise"),
            format!("name it `{stem}.{}`, there and here", kind.extension()),
        ));
    }
    let header = match kind {
        PictureKind::Png => png::header(bytes)?,
        PictureKind::Jpeg => jpeg::header(bytes)?,
    };
    Ok(header)
}

/// Refuses sizes before anything is decoded.
pub fn fits(width: u32, height: u32, work: u64) -> Result<(), Flaw> {
    let refuse = |what: String, hint: &str| Err(Flaw::new(FlawSort::Size, what, hint));
    if width == 0 || height == 0 {
        return refuse(
            format!("is {width} × {height} pixels: there is nothing to see"),
            "save it again from the original",
        );
    }
    if width > LARGEST_SIDE || height > LARGEST_SIDE {
        return refuse(
            format!("is {width} × {height} pixels; {LARGEST_SIDE} along a side is the most"),
            "scale it down, or cut out the part that shows something",
        );
    }
    if work > LARGEST_WORK {
        return refuse(
            format!(
                "is {width} × {height} pixels, which take {} MB to open; {} MB is the most",
                work >> 20,
                LARGEST_WORK >> 20
            ),
            "scale it down, cut out the part that shows something, or save it as a baseline JPEG of 8 bits",
        );
    }
    Ok(())
}

/// Formats that are met with, told by their first bytes as their specifications give them.
fn no_picture(bytes: &[u8]) -> Flaw {
    let at = |from: usize, mark: &[u8]| bytes.get(from..from + mark.len()) == Some(mark);
    let named = if at(0, b"GIF8") {
        "a GIF"
    } else if at(0, b"RIFF") && at(8, b"WEBP") {
        "a WebP"
    } else if at(4, b"ftypavif") || at(4, b"ftypavis") {
        "an AVIF"
    } else if at(4, b"ftyp") {
        "a HEIC or another picture of a telephone"
    } else if at(0, b"II*\0") || at(0, b"MM\0*") {
        "a TIFF or a camera's raw picture"
    } else if at(0, b"BM") {
        "a BMP"
    } else if bytes.is_empty() {
        return Flaw::broken("is empty");
    } else {
        return Flaw::new(FlawSort::Format, "is neither a PNG nor a JPEG picture", "save it as PNG or JPEG");
    };
    Flaw::new(
        FlawSort::Format,
        format!("is {named}, and not a PNG or a JPEG picture"),
        "save a photograph as JPEG and a drawing as PNG; of a moving picture, save the one frame that shows it",
    )
}
