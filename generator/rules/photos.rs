//! Photos: the file is there, inside its collection, and unchanged; what it shows exists.

use sha2::{Digest, Sha256};

use crate::corpus::Corpus;
use crate::diagnostic::{Code, Report, closest};
use crate::entry::{Entry, Photo, Reference};

/// `photo-outside`, `photo-missing`, `photo-altered`, and `dangling-reference` for what a photo is said to show.
pub fn photos(corpus: &Corpus, report: &mut Report) {
    for entry in corpus.entries() {
        for photo in entry.common.iter().flat_map(|common| &common.photos) {
            if let Some(file) = &photo.file {
                check_file(corpus, entry, photo, file, report);
            }
            shows(entry, corpus, photo, report);
        }
    }
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
    let Some(asset) = corpus.sources.asset(entry.collection, path) else {
        let known = corpus.sources.assets.iter().filter(|asset| asset.collection == entry.collection);
        let hint = match closest(path, known.map(|asset| asset.path.as_str())) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => "add the picture, or leave `file` out and say in `see` where a picture is".to_string(),
        };
        report.error(Code::PhotoMissing, file.span, format!("there is no picture `{path}`")).hint(hint);
        return;
    };
    let hash = hex(&Sha256::digest(&asset.bytes));
    if let Some(stated) = &photo.sha256
        && !stated.text.eq_ignore_ascii_case(&hash)
    {
        report
            .error(
                Code::PhotoAltered,
                stated.span,
                format!("`{path}` is not the picture this entry describes: its sha256 differs"),
            )
            .hint(format!("if the change is meant, look at the picture again and write sha256 = \"{hash}\""));
    }
    if crate::publish::picture_kind(&asset.bytes).is_none() {
        report
            .error(Code::PhotoMissing, file.span, format!("`{path}` is neither a PNG nor a JPEG picture"))
            .hint("save it as PNG or JPEG");
    } else if crate::publish::strip(&asset.bytes).is_none() {
        report
            .error(
                Code::PhotoMissing,
                file.span,
                format!("`{path}` cannot be read as a picture: it is cut short or broken"),
            )
            .hint("save it again from the original, and write its new sha256");
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

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
