//! Photo references as pages show them, each with what it shows; and the lists that the viewer opens.

use serde::Serialize;
use serde_json::{Value, json};

use super::site::{Link, Page, page_of};
use super::words;
use crate::corpus::{Corpus, Shown, checks_of, photos_of, signs_of, title};
use crate::entry::{Entry, Photo, Side};
use crate::figure;
use crate::out_file::OutFile;
use crate::picture::Sized;

/// The page that shows one picture, or a pair, as large as one likes.
pub const VIEWER: &str = "bench/picture.html";

#[derive(Serialize)]
pub struct PhotoView {
    pub id: String,
    /// The picture itself; empty where there is only a reference.
    pub href: String,
    pub src: String,
    pub srcset: String,
    pub width: u32,
    pub height: u32,
    pub alt: String,
    pub caption_html: String,
    /// `true`, `false` or empty, with its words.
    pub side: &'static str,
    pub side_words: &'static str,
    pub see_html: String,
    pub shows: Vec<Link>,
    pub credit: String,
    pub private: bool,
}

impl Page<'_> {
    /// The photos of an entry in its order, pairs together and the true piece first.
    pub(super) fn photos(&self, entry: &Entry) -> Vec<Vec<PhotoView>> {
        let all = photos_of(entry);
        let visible: Vec<&Photo> = all.iter().filter(|photo| is_visible(self.corpus(), entry, photo)).collect();
        let mut out = Vec::new();
        for (at, photo) in visible.iter().enumerate() {
            let partner = visible.iter().position(|other| is_pair(photo, other));
            match partner {
                Some(other) if other < at => {}
                Some(other) => {
                    let mut two = vec![self.photo(photo, entry), self.photo(visible[other], entry)];
                    two.sort_by_key(|view| view.side != "true");
                    out.push(two);
                }
                None => out.push(vec![self.photo(photo, entry)]),
            }
        }
        out
    }

    /// Links to the photos of an entry that show one of its checks or diagnostics.
    pub(super) fn pictures_of(&self, entry: &Entry, id: &str) -> Vec<Link> {
        let shows = |photo: &&Photo| photo.shows.iter().any(|shown| shown.text == id);
        photos_of(entry)
            .iter()
            .filter(shows)
            .filter(|photo| is_visible(self.corpus(), entry, photo))
            .map(|photo| Link {
                text: photo.id.as_str().replace('-', " "),
                href: self.to(&format!("{}#photo-{}", page_of(entry), photo.id)),
            })
            .collect()
    }

    fn photo(&self, photo: &Photo, entry: &Entry) -> PhotoView {
        let shown = self.corpus().shown(entry, photo);
        let caption = photo.words();
        let (side, side_words) = side(photo);
        let mut view = PhotoView {
            id: photo.id.to_string(),
            href: String::new(),
            src: String::new(),
            srcset: String::new(),
            width: 0,
            height: 0,
            // The caption beside it says what is seen.
            alt: photo.id.as_str().replace('-', " "),
            caption_html: figure::escape(&caption),
            side,
            side_words,
            see_html: photo.see.as_ref().map_or(String::new(), |citation| self.citation_html(citation)),
            shows: photo
                .shows
                .iter()
                .map(|id| Link { text: id.text.replace('-', " "), href: anchor(entry, &id.text) })
                .collect(),
            credit: match common_credit(entry) {
                Some(_) => magnified(photo).unwrap_or_default(),
                None => credit(photo).join(" · "),
            },
            private: photo.private && shown.is_some(),
        };
        if let Some(Shown { plan, .. }) = &shown {
            view.href = self.to(&plan.whole.path);
            view.src = self.to(&plan.page.path);
            if let Some(small) = &plan.small {
                let each = |copy: &Sized| format!("{} {}w", self.to(&copy.path), copy.width);
                view.srcset = format!("{}, {}", each(small), each(&plan.page));
            }
            (view.width, view.height) = (plan.page.width, plan.page.height);
        }
        view
    }

    /// Where pages with scripts open the entry's pictures, each with its name behind.
    pub(super) fn viewer(&self, entry: &Entry) -> String {
        self.to(&format!("{VIEWER}#{}/", entry.id))
    }

    /// Whether a picture that may not be published is to be seen on the page of an entry.
    pub(super) fn is_private(&self, entry: &Entry) -> bool {
        photos_of(entry).iter().any(|photo| photo.private && self.corpus().shown(entry, photo).is_some())
    }
}

/// What the viewer reads: a script for each entry that shows a picture.
pub fn albums(corpus: &Corpus) -> Vec<OutFile> {
    let mut out = Vec::new();
    for entry in corpus.entries() {
        let of = |photo| Some(album_of(entry, photo, &corpus.shown(entry, photo)?));
        let photos: Vec<Value> = photos_of(entry).iter().filter_map(of).collect();
        if photos.is_empty() {
            continue;
        }
        let demo = !corpus.collection(entry).real;
        let album = json!({ "title": title(corpus, entry), "page": page_of(entry), "demo": demo, "photos": photos });
        out.push(OutFile::script(&format!("bench/pictures/{}.js", entry.id), "album", entry.id.as_str(), &album));
    }
    out
}

fn album_of(entry: &Entry, photo: &Photo, shown: &Shown<'_>) -> Value {
    let plan = &shown.plan;
    let size = |one: &Sized| json!({ "src": one.path, "width": one.width, "height": one.height });
    let tiles = plan.tiles.as_ref().map(|tiles| {
        json!({ "path": tiles.path, "size": tiles.size, "overlap": tiles.overlap, "format": plan.copies().extension() })
    });
    let partner = photos_of(entry).iter().find(|other| is_pair(photo, other)).map(|other| other.id.as_str());
    let shows: Vec<Value> = photo
        .shows
        .iter()
        .map(|id| json!({ "text": id.text.replace('-', " "), "at": anchor(entry, &id.text) }))
        .collect();
    json!({
        "id": photo.id.as_str(), "words": photo.words(), "side": side(photo).0, "pair": partner.unwrap_or_default(),
        "whole": size(&plan.whole), "small": size(plan.small.as_ref().unwrap_or(&plan.page)), "tiles": tiles,
        "shows": shows, "credit": credit(photo).join(" · "), "private": shown.private,
    })
}

/// A private picture that is not at hand is not spoken of, unless it is to be seen elsewhere too.
fn is_visible(corpus: &Corpus, entry: &Entry, photo: &Photo) -> bool {
    photo.see.is_some() || corpus.shown(entry, photo).is_some()
}

fn is_pair(one: &Photo, other: &Photo) -> bool {
    let names = |a: &Photo, b: &Photo| a.pair.as_ref().is_some_and(|pair| pair.text == b.id.as_str());
    one.id != other.id && (names(one, other) || names(other, one))
}

fn side(photo: &Photo) -> (&'static str, &'static str) {
    match photo.of {
        Some(Side::Genuine) => ("true", "True piece"),
        Some(Side::False) => ("false", "False piece"),
        None => ("", ""),
    }
}

/// Where on its entry's page a check or diagnostic stands.
fn anchor(entry: &Entry, id: &str) -> String {
    let sign = signs_of(entry).iter().any(|sign| sign.id.as_str() == id);
    let looks = checks_of(entry).iter().any(|check| check.id.as_str() == id);
    format!("#{}{id}", if sign && !looks { "sign-" } else { "" })
}

/// Who made them and under which licence, if that is the same of all the entry's pictures and they are several.
pub(super) fn common_credit(entry: &Entry) -> Option<String> {
    let with_file = photos_of(entry).iter().filter(|photo| photo.file.is_some());
    let mut credits: Vec<String> = with_file.map(rights).collect();
    let many = credits.len() > 2;
    credits.dedup();
    credits.pop().filter(|only| many && credits.is_empty() && !only.is_empty())
}

fn rights(photo: &Photo) -> String {
    photo.credit.iter().chain(&photo.licence).cloned().collect::<Vec<_>>().join(" · ")
}

/// How many times, and the rights.
fn credit(photo: &Photo) -> Vec<String> {
    magnified(photo).into_iter().chain(Some(rights(photo)).filter(|rights| !rights.is_empty())).collect()
}

fn magnified(photo: &Photo) -> Option<String> {
    photo.magnification.map(|times| format!("{}×", words::decimals(times, 1, 0)))
}
