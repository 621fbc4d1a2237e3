//! Which files a picture becomes, and what they are called: known from its header alone, so that pages can be made, and
//! unchanged files recognised, without opening it again.

use super::{Header, PictureKind, Sum};

/// Pixels along the longer side of the copy that a page shows, and of the one for small screens.
const PAGE: u32 = 1200;
const SMALL: u32 = 480;
/// A picture this little over a copy's size is its own copy.
const SLACK: u32 = 240;
/// Bytes up to which a picture that fits a page is shown as it is.
const LIGHT: u64 = 400_000;
/// Pixels above which a browser is not handed the whole picture but tiles of it.
const WHOLE: u64 = 16_000_000;
/// Pixels along a tile, without the pixel that neighbours share.
const TILE: u32 = 1024;
/// Part of every name: a change in how copies are made is a change of name. Raise it with every such change.
const RECIPE: &str = "r1";

/// A published picture and its size as shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sized {
    pub path: String,
    pub width: u32,
    pub height: u32,
}

/// A pyramid in the open DZI layout: `PATH.dzi`, and `PATH_files/LEVEL/COLUMN_ROW.jpg`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tiles {
    pub path: String,
    pub size: u32,
    pub overlap: u32,
}

/// Everything that is made of one picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plan {
    pub header: Header,
    /// Of the file as the curator keeps it.
    pub sum: Sum,
    /// The picture itself, without its metadata.
    pub whole: Sized,
    /// What a page shows; the picture itself where it is small enough.
    pub page: Sized,
    pub small: Option<Sized>,
    pub tiles: Option<Tiles>,
}

/// One file that is made of a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    Whole,
    Page,
    Small,
    /// The page's copy as text in a script, for instruments that read pixels from a disk.
    Script,
    Layout,
    Tile {
        level: u32,
        column: u32,
        row: u32,
    },
}

impl Plan {
    /// `place` is the path below the site's folder, without an ending; `bytes` the length of the file.
    pub fn new(place: &str, header: Header, sum: &Sum, bytes: u64) -> Plan {
        let (width, height) = header.shown();
        let stem = format!("{place}-{}-{RECIPE}", &sum.as_str()[..10]);
        let whole = Sized { path: format!("{stem}.{}", header.kind.extension()), width, height };
        let copy = |longest: u32| {
            let (width, height) = within(width, height, longest);
            Sized { path: format!("{stem}-{longest}.{}", copied_as(&header).extension()), width, height }
        };
        let longest = width.max(height);
        // A turned picture is never its own copy: what shows it need not know how to turn it.
        let page =
            if longest <= PAGE + SLACK && bytes <= LIGHT && header.turn == 1 { whole.clone() } else { copy(PAGE) };
        let small = (longest > SMALL + SLACK).then(|| copy(SMALL));
        let tiles = (u64::from(width) * u64::from(height) > WHOLE).then(|| Tiles {
            path: stem.clone(),
            size: TILE,
            overlap: 1,
        });
        Plan { header, sum: sum.clone(), whole, page, small, tiles }
    }

    /// Where the script with the page's copy stands.
    pub fn script(&self) -> String {
        let stem = self.page.path.rsplit_once('.').map_or(self.page.path.as_str(), |(stem, _)| stem);
        format!("{stem}.js")
    }

    /// Every file but the script, which only some pages need.
    pub fn files(&self) -> Vec<(String, Part)> {
        let mut out = vec![(self.whole.path.clone(), Part::Whole)];
        if self.page != self.whole {
            out.push((self.page.path.clone(), Part::Page));
        }
        out.extend(self.small.iter().map(|small| (small.path.clone(), Part::Small)));
        if let Some(tiles) = &self.tiles {
            out.push((format!("{}.dzi", tiles.path), Part::Layout));
            for level in 0..=self.top() {
                let (columns, rows) = self.grid(level);
                for (column, row) in (0..columns).flat_map(|column| (0..rows).map(move |row| (column, row))) {
                    out.push((self.tile_path(tiles, level, column, row), Part::Tile { level, column, row }));
                }
            }
        }
        out
    }

    fn tile_path(&self, tiles: &Tiles, level: u32, column: u32, row: u32) -> String {
        format!("{}_files/{level}/{column}_{row}.{}", tiles.path, copied_as(&self.header).extension())
    }

    /// The level of a pyramid that holds the picture in full; level 0 is one pixel.
    pub(super) fn top(&self) -> u32 {
        self.whole.width.max(self.whole.height).next_power_of_two().trailing_zeros()
    }

    /// Width and height of a level.
    pub(super) fn level(&self, level: u32) -> (u32, u32) {
        let halved = |side: u32| side.div_ceil(1 << (self.top() - level));
        (halved(self.whole.width), halved(self.whole.height))
    }

    /// Columns and rows of a level.
    pub(super) fn grid(&self, level: u32) -> (u32, u32) {
        let (width, height) = self.level(level);
        (width.div_ceil(TILE), height.div_ceil(TILE))
    }

    /// What copies and tiles are saved as.
    pub fn copies(&self) -> PictureKind {
        copied_as(&self.header)
    }
}

fn copied_as(header: &Header) -> PictureKind {
    if header.drawing { PictureKind::Png } else { PictureKind::Jpeg }
}

/// The size whose longer side is at most `longest`.
pub(super) fn within(width: u32, height: u32, longest: u32) -> (u32, u32) {
    let most = width.max(height);
    if most <= longest {
        return (width, height);
    }
    let scaled =
        |side: u32| ((u64::from(side) * u64::from(longest) + u64::from(most) / 2) / u64::from(most)).max(1) as u32;
    (scaled(width), scaled(height))
}
