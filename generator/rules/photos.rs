//! Photos: the file is there, inside its collection, unchanged and sound; what may not be published is kept apart; what a
//! photo shows, and what it is shown beside, exists.

use crate::corpus::{Corpus, photos_of};
use crate::diagnostic::{Code, Diagnostic, Report, closest};
use crate::entry::{Entry, Photo, Reference};
use crate::picture::{Flaw, FlawSort, Sum};
use crate::source::Asset;

/// `photo-outside`, `photo-missing`, `photo-altered`, `photo-format`, `photo-size`, `photo-broken`, `photo-private`,
/// `photo-pair`, and `dangling-reference` for what a photo is said to show.
pub fn photos(corpus: &Corpus, report: &mut Report) {
    for (entry, photo) in corpus.photos() {
        if let Some(file) = &photo.file {
            check_file(corpus, entry, photo, file, report);
        }
        pair(entry, photo, report);
        shows(entry, corpus, photo, report);
    }
}

/// `photo-broken` for pictures whose damage shows only when they are decoded: each with the sum of its file.
pub fn undecodable(corpus: &Corpus, flaws: &[(Sum, Flaw)]) -> Vec<Diagnostic> {
    let mut report = Report::default();
    for (entry, photo) in corpus.photos() {
        let Some(file) = &photo.file else { continue };
        let sum = corpus.asset_of(entry, photo).and_then(Asset::sum);
        if let Some((_, flaw)) = flaws.iter().find(|(broken, _)| Some(broken) == sum) {
            tell(flaw, file, &mut report);
        }
    }
    report.finish()
}

fn tell(flaw: &Flaw, file: &Reference, report: &mut Report) {
    let code = match flaw.sort {
        FlawSort::Format => Code::PhotoFormat,
        FlawSort::Size => Code::PhotoSize,
        FlawSort::Broken => Code::PhotoBroken,
    };
    report.error(code, file.span, format!("`{}` {}", file.text, flaw.what)).hint(&flaw.hint);
}

fn check_file(corpus: &Corpus, entry: &Entry, photo: &Photo, file: &Reference, report: &mut Report) {
    let path = &file.text;
    let climbs = path.starts_with('/')
        || path.contains('\\')
        || path.contains(':')
        || path.split('/').any(|part| matches!(part, ".." | "." | ""));
    if climbs {
        report
            .error(Code::PhotoOutside, file.span, format!("`{path}` is not a path inside the collection"))
            .hint("put the picture into the collection's folder and write its path from there: photos/orrin/name.png");
        return;
    }
    if photo.private {
        kept_apart(corpus, photo, file, report);
    }
    let Some(asset) = corpus.asset_of(entry, photo) else { return missing(corpus, entry, photo, file, report) };
    let Some(opened) = &asset.opened else {
        report
            .error(
                Code::PhotoMissing,
                file.span,
                format!("`{path}` was not looked for: its name is not written plainly"),
            )
            .hint("write the path letter by letter, without escapes");
        return;
    };
    if let (Some(stated), Some(sum)) = (&photo.sha256, &opened.sum)
        && photo.sum().as_ref() != Some(sum)
    {
        report
            .error(
                Code::PhotoAltered,
                stated.span,
                format!("`{path}` is not the picture this entry describes: its sha256 differs"),
            )
            .hint(format!("if the change is meant, look at the picture again and write sha256 = \"{sum}\""));
    }
    if let Err(flaw) = &opened.picture {
        tell(flaw, file, report);
    }
}

/// `photo-private`: what may not be published stands in no collection, under this name or another.
fn kept_apart(corpus: &Corpus, photo: &Photo, file: &Reference, report: &mut Report) {
    let stated = photo.sum();
    let published = corpus.sources.assets.iter().filter(|asset| asset.collection.is_some());
    let same = |asset: &&Asset| asset.path == file.text || (stated.is_some() && asset.sum() == stated.as_ref());
    if let Some(found) = published.into_iter().find(same) {
        let root = found.collection.map_or("", |at| corpus.sources.collections[at].shown.as_str());
        report
            .error(Code::PhotoPrivate, file.span, format!("`{}` is private, but is in a collection", file.text))
            .hint(format!("move {root}/{} to a folder of its own and name that with --photos", found.path));
    }
}

fn missing(corpus: &Corpus, entry: &Entry, photo: &Photo, file: &Reference, report: &mut Report) {
    let path = &file.text;
    let beside = |collection: Option<usize>| {
        corpus
            .sources
            .assets
            .iter()
            .filter(move |asset| asset.collection == collection)
            .map(|asset| asset.path.as_str())
    };
    if photo.private {
        // Without the folders nobody can say what is in them.
        if corpus.sources.private {
            let hint = match closest(path, beside(None)) {
                Some(near) => format!("did you mean \"{near}\"?"),
                None => "name its folder with --photos too; until then it is left out".to_string(),
            };
            let message = format!("no folder given with --photos has a picture `{path}`");
            report.warning(Code::PhotoMissing, file.span, message).hint(hint);
        }
        return;
    }
    let hint = if beside(None).any(|known| known == path) {
        "a folder given with --photos has it: add private = true, or put it into the collection".to_string()
    } else {
        match closest(path, beside(Some(entry.collection))) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => "add the picture, or leave `file` out and say in `see` where a picture is".to_string(),
        }
    };
    report.error(Code::PhotoMissing, file.span, format!("there is no picture `{path}`")).hint(hint);
}

/// `photo-pair`
fn pair(entry: &Entry, photo: &Photo, report: &mut Report) {
    let Some(named) = &photo.pair else { return };
    let photos = photos_of(entry);
    let Some(other) = photos.iter().find(|other| other.id.as_str() == named.text && other.id != photo.id) else {
        let others = photos.iter().filter(|other| other.id != photo.id).map(|other| other.id.as_str());
        let hint = match closest(&named.text, others) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => "name the id of another photo of this entry".to_string(),
        };
        let message = format!("no other photo here is called `{}`", named.text);
        report.error(Code::PhotoPair, named.span, message).hint(hint);
        return;
    };
    if photo.of.is_none() || other.of.is_none() || photo.of == other.of {
        report
            .error(Code::PhotoPair, named.span, "a pair shows a true piece beside a false one")
            .hint("write of = \"genuine\" in one of the two photos and of = \"false\" in the other")
            .related(other.id_span, "the other photo");
    }
    let third = photos.iter().find(|third| {
        let names = |id: &str| third.pair.as_ref().is_some_and(|pair| pair.text == id);
        third.id != photo.id && third.id != other.id && (names(other.id.as_str()) || names(photo.id.as_str()))
    });
    let crossed = other.pair.as_ref().filter(|back| back.text != photo.id.as_str());
    if let Some(span) = crossed.map(|back| back.span).or(third.map(|third| third.id_span)) {
        report
            .error(Code::PhotoPair, named.span, "a photo is shown beside one other, not beside two")
            .hint("leave out one `pair`; a photo may be used again under another id")
            .related(span, "named here too");
    }
}

fn shows(entry: &Entry, corpus: &Corpus, photo: &Photo, report: &mut Report) {
    let mut known: Vec<&str> = crate::corpus::checks_of(entry).iter().map(|check| check.id.as_str()).collect();
    known.extend(crate::corpus::signs_of(entry).iter().map(|sign| sign.id.as_str()));
    if let Some(view) = corpus.view(entry) {
        known.extend(view.checks.iter().map(|placed| placed.check.id.as_str()));
    }
    for shown in &photo.shows {
        if known.contains(&shown.text.as_str()) {
            continue;
        }
        let hint = match closest(&shown.text, known.iter().copied()) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => "name the id of a check or diagnostic of this entry".to_string(),
        };
        let message = format!("no check or diagnostic here is called `{}`", shown.text);
        report.error(Code::DanglingReference, shown.span, message).hint(hint);
    }
}
