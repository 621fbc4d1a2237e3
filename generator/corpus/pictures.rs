//! Photo references → the files they stand for, and what is made of each.

use std::borrow::Cow;
use std::path::Path;

use super::Corpus;
use crate::entry::{Entry, Kind, Photo};
use crate::picture::{Plan, Sum};
use crate::source::Asset;

/// A picture that is shown.
pub struct Shown<'a> {
    pub plan: Plan,
    pub disk: &'a Path,
    /// It may not be published.
    pub private: bool,
}

impl Corpus {
    /// The file of a photo: in its collection, or, if it may not be published, in one of the folders given for such. Of
    /// several with its name, the one whose sha256 the entry states.
    pub fn asset_of(&self, entry: &Entry, photo: &Photo) -> Option<&Asset> {
        let file = photo.file.as_ref()?;
        if !photo.private {
            return self.sources.asset(entry.collection, &file.text);
        }
        let mut named =
            self.sources.assets.iter().filter(|asset| asset.collection.is_none() && asset.path == file.text);
        let first = named.clone().next();
        let stated = photo.sum();
        named.find(|asset| stated.is_some() && asset.sum() == stated.as_ref()).or(first)
    }

    /// What is shown of a photo; `None` if it has no file, or none that is here and sound.
    pub fn shown<'a>(&'a self, entry: &Entry, photo: &Photo) -> Option<Shown<'a>> {
        let asset = self.asset_of(entry, photo)?;
        let opened = asset.opened.as_ref()?;
        let (header, sum) = (*opened.picture.as_ref().ok()?, opened.sum.as_ref()?);
        let folder = if photo.private { "private" } else { self.collection(entry).key.as_str() };
        let place = format!("pictures/{}", place(folder, &asset.path));
        Some(Shown { plan: Plan::new(&place, header, sum, opened.bytes), disk: &asset.disk, private: photo.private })
    }

    /// The text of an entry as a site shows it. A site for the public has no word of a picture that it may not show:
    /// neither its caption nor its maker, nor where it is kept.
    pub fn text_of(&self, entry: &Entry) -> Cow<'_, str> {
        let whole = self.sources.file(entry.file).text.as_str();
        let private: Vec<&Photo> = photos_of(entry).iter().filter(|photo| photo.private).collect();
        if self.sources.private || private.is_empty() {
            return Cow::Borrowed(whole);
        }
        let mut text = whole.to_string();
        // From the last, so that the places of those before stay true.
        for photo in private.iter().rev() {
            let start = whole[..photo.id_span.start].rfind("[[photo]]");
            let rest = whole[photo.id_span.start..].find("\n[");
            let end = rest.map_or(whole.len(), |at| photo.id_span.start + at + 1);
            match start {
                Some(start) if end <= text.len() => text.replace_range(start..end, ""),
                _ => return Cow::Borrowed(WITHHELD),
            }
        }
        // Whatever way the photos were written: all of the private ones are gone and the others are whole, or nothing is shown.
        let photos = |text: &str| {
            let table = toml::from_str::<toml::Table>(text).ok()?;
            Some(table.get("photo").and_then(|photos| photos.as_array()).map_or(0, Vec::len))
        };
        let left = photos_of(entry).len() - private.len();
        if photos(&text) == Some(left) { Cow::Owned(text) } else { Cow::Borrowed(WITHHELD) }
    }

    /// Every photo of every entry.
    pub fn photos(&self) -> impl Iterator<Item = (&Entry, &Photo)> {
        let of = |entry| photos_of(entry).iter().map(move |photo| (entry, photo));
        self.entries().iter().flat_map(of)
    }

    /// Sums of pictures that may not be published, as their entries state them, each once.
    pub fn private_sums(&self) -> std::collections::BTreeSet<Sum> {
        self.photos().filter(|(_, photo)| photo.private).filter_map(|(_, photo)| photo.sum()).collect()
    }
}

impl Asset {
    pub fn sum(&self) -> Option<&Sum> {
        self.opened.as_ref()?.sum.as_ref()
    }
}

/// In the place of a text that cannot be shown without its private pictures; a comment, so that it still is TOML.
const WITHHELD: &str = "# The text of this entry is not shown: it holds pictures that may not be published.\n";

/// The photos of an entry, in its order.
pub fn photos_of(entry: &Entry) -> &[Photo] {
    entry.common.as_ref().map_or(&[], |common| &common.photos)
}

/// Whether the instruments of the bench are offered an entry's pictures: a coin at hand is compared with those of its issue
/// and series, and of the families and alterations it may belong to.
pub fn feeds_the_bench(entry: &Entry) -> bool {
    matches!(entry.kind(), Kind::Issue | Kind::Series | Kind::Family | Kind::Alteration)
}

/// A path below `pictures/` without its ending, safe in any link: other signs than letters, digits, `-`, `_` and `.` of
/// plain ASCII become `-`. Names stay apart by the sum that follows them.
fn place(folder: &str, path: &str) -> String {
    let path = path.strip_prefix("photos/").unwrap_or(path);
    let stem = path.rsplit_once('.').map_or(path, |(stem, _)| stem);
    let plain = |c: char| if c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.' | '/') { c } else { '-' };
    format!("{folder}/{stem}").chars().map(plain).collect()
}

#[cfg(test)]
mod tests {
    use super::place;

    #[test]
    fn a_place_is_safe_in_a_link() {
        assert_eq!(place("demo", "photos/orrin/1911-k.png"), "demo/orrin/1911-k");
        assert_eq!(place("demo", "lots/Sale #3 50% 'é'.JPG"), "demo/lots/Sale--3-50-----");
    }
}
