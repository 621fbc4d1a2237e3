//! Photo references as pages show them, each with what it shows; and the lists that the viewer opens.

use serde::Serialize;
use serde_json::{Value, json};

use super::checks::question;
use super::site::{Link, Page, page_of};
use super::words;
use crate::corpus::{Corpus, Shown, checks_of, photos_of, signs_of, title};
use crate::entry::{Check, CheckKind, Entry, Photo, Side};
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
                    // Side by side, what both show is said once.
                    let said: Vec<String> = two[0].shows.iter().map(|link| link.href.clone()).collect();
                    two[1].shows.retain(|link| !said.contains(&link.href));
                    out.push(two);
                }
                None => out.push(vec![self.photo(photo, entry)]),
            }
        }
        out
    }

    /// Links to the photos of an entry that show one of its checks or diagnostics; one for two that stand side by side.
    pub(super) fn pictures_of(&self, entry: &Entry, id: &str) -> Vec<Link> {
        let shows = |photo: &&Photo| {
            photo.shows.iter().any(|shown| shown.text == id) && is_visible(self.corpus(), entry, photo)
        };
        let all: Vec<&Photo> = photos_of(entry).iter().filter(shows).collect();
        let partner = |photo: &Photo| all.iter().any(|other| is_pair(photo, other));
        all.iter()
            .filter(|photo| photo.of != Some(Side::False) || !partner(photo))
            .map(|photo| Link {
                text: brief(&photo.words()) + if partner(photo) { ", beside a false piece" } else { "" },
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
            // The caption beside it says the rest.
            alt: brief(&caption),
            // A page of an invented coin says so at its top.
            caption_html: figure::escape(caption.strip_prefix("Invented coin: ").unwrap_or(&caption)),
            side,
            side_words,
            see_html: photo.see.as_ref().map_or(String::new(), |citation| self.citation_html(citation)),
            shows: photo
                .shows
                .iter()
                .map(|id| Link { text: shown_words(self.corpus(), entry, &id.text), href: anchor(entry, &id.text) })
                .collect(),
            credit: match common_credit(self.corpus(), entry) {
                // What is only to be seen elsewhere has no maker here.
                _ if shown.is_none() => String::new(),
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
        let of = |photo| Some(album_of(corpus, entry, photo, &corpus.shown(entry, photo)?));
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

fn album_of(corpus: &Corpus, entry: &Entry, photo: &Photo, shown: &Shown<'_>) -> Value {
    let plan = &shown.plan;
    let size = |one: &Sized| json!({ "src": one.path, "width": one.width, "height": one.height });
    let tiles = plan.tiles.as_ref().map(|tiles| {
        json!({ "path": tiles.path, "size": tiles.size, "overlap": tiles.overlap, "format": plan.copies().extension() })
    });
    let partner = photos_of(entry).iter().find(|other| is_pair(photo, other)).map(|other| other.id.as_str());
    let shows: Vec<Value> = photo
        .shows
        .iter()
        .map(|id| json!({ "text": shown_words(corpus, entry, &id.text), "at": anchor(entry, &id.text) }))
        .collect();
    json!({
        "id": photo.id.as_str(), "words": photo.words(), "side": side(photo).0, "pair": partner.unwrap_or_default(),
        "whole": size(&plan.whole), "small": size(plan.small.as_ref().unwrap_or(&plan.page)), "tiles": tiles,
        "shows": shows, "credit": credit(photo).join(" · "), "private": shown.private,
    })
}

/// A private picture that is not at hand is not spoken of, unless it is to be seen elsewhere too: then its caption and
/// that place are, and they alone.
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

/// What a photo shows, as the check asks or the diagnostic says it.
fn shown_words(corpus: &Corpus, entry: &Entry, id: &str) -> String {
    let of_check = |check: &Check| match &check.kind {
        CheckKind::Look { ask, .. } => brief(&ask.plain()),
        CheckKind::Measure { quantity, against, ask, .. } => {
            ask.as_ref().map_or_else(|| brief(question(*quantity, *against)), |ask| brief(&ask.plain()))
        }
    };
    let own = checks_of(entry).iter().find(|check| check.id.as_str() == id).map(of_check);
    let sign =
        || signs_of(entry).iter().find(|sign| sign.id.as_str() == id).map(|sign| brief(&sign.statement.text.plain()));
    let inherited = || {
        let view = corpus.view(entry)?;
        view.checks.iter().find(|placed| placed.check.id.as_str() == id).map(|placed| of_check(placed.check))
    };
    own.or_else(sign).or_else(inherited).unwrap_or_else(|| id.replace('-', " "))
}

/// The beginning of a sentence, for a link: its first part of a fair length, without a lead such as `Invented coin:`.
pub(super) fn brief(text: &str) -> String {
    const LONG: usize = 40;
    let text = text.trim();
    let text = text.split_once(": ").filter(|(lead, _)| lead.len() <= 14).map_or(text, |(_, rest)| rest);
    let first = text.find(['?', ';']).or_else(|| text.find(". ")).map_or(text, |at| &text[..at + 1]);
    let first = first.trim_end_matches([';', '.']);
    // A few letters more are better than a cut.
    if first.chars().count() <= LONG + 4 {
        return first.to_string();
    }
    let head: String = first.chars().take(LONG).collect();
    match head.rfind([',', ':']).filter(|at| *at > 24) {
        Some(at) => head[..at].to_string(),
        None => format!("{}…", head.rsplit_once(' ').map_or(head.as_str(), |(words, _)| words)),
    }
}

/// Where on its entry's page a check or diagnostic stands.
fn anchor(entry: &Entry, id: &str) -> String {
    let sign = signs_of(entry).iter().any(|sign| sign.id.as_str() == id);
    let looks = checks_of(entry).iter().any(|check| check.id.as_str() == id);
    format!("#{}{id}", if sign && !looks { "sign-" } else { "" })
}

/// Who made them and under which licence, if that is the same of all the entry's pictures and they are several.
pub(super) fn common_credit(corpus: &Corpus, entry: &Entry) -> Option<String> {
    let with_file = photos_of(entry).iter().filter(|photo| corpus.shown(entry, photo).is_some());
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

#[cfg(test)]
mod tests {
    use super::brief;

    #[test]
    fn a_link_says_the_beginning_of_a_sentence() {
        for (whole, said) in [
            (
                "Invented coin: the true K of 1911, sunk in its dip, over the gap between HALF and MARK",
                "the true K of 1911, sunk in its dip",
            ),
            ("Does a crack run from the prow to the rim?", "Does a crack run from the prow to the rim?"),
            ("How far? Right is positive.", "How far?"),
            (
                "By how many degrees is the upright of the mark turned away from the line?",
                "By how many degrees is the upright of…",
            ),
        ] {
            assert_eq!(brief(whole), said);
        }
    }
}
