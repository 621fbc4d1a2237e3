//! Pictures on the disk → what they are. Each is read once, looked through and let go: a thousand photographs do not fit
//! into memory together.

use std::fs;
use std::path::{Path, PathBuf};

use aho_corasick::AhoCorasick;
use rayon::prelude::*;
use walkdir::WalkDir;

use super::walk::{LoadError, failure};
use super::{Asset, Opened, SourceFile};
use crate::picture::{self, Flaw, FlawSort, Gate, LARGEST_FILE, Sum};

/// Bytes of files that are looked through at once.
const ROOM: u64 = 96 << 20;

/// A file that may be a picture, not opened yet.
pub(super) struct Found {
    pub collection: Option<usize>,
    pub below: String,
    pub disk: PathBuf,
}

/// Files below a folder of pictures that may not be published, by their paths in it.
///
/// # Errors
/// A folder that cannot be read.
pub(super) fn private(folder: &Path, found: &mut Vec<Found>) -> Result<(), LoadError> {
    for item in WalkDir::new(folder).follow_links(false).sort_by_file_name() {
        let item = item.map_err(|e| LoadError {
            path: e.path().unwrap_or(folder).to_path_buf(),
            action: "read",
            cause: e.io_error().map_or_else(|| e.to_string(), ToString::to_string),
        })?;
        let below = item.path().strip_prefix(folder).unwrap_or(item.path()).to_string_lossy().replace('\\', "/");
        if item.file_type().is_file() && !below.split('/').any(|part| part.starts_with('.')) {
            found.push(Found { collection: None, below, disk: item.path().to_path_buf() });
        }
    }
    Ok(())
}

/// Opens what some entry's text names; a house's folder may hold thousands that none does.
///
/// # Errors
/// A file that cannot be read.
pub(super) fn open(found: Vec<Found>, texts: &[SourceFile]) -> Result<Vec<Asset>, LoadError> {
    let named = named(&found, texts);
    let gate = Gate::new(ROOM);
    found
        .into_par_iter()
        .zip(named)
        .map(|(file, named)| {
            let opened = if named { Some(look(&file, &gate)?) } else { None };
            Ok(Asset { collection: file.collection, path: file.below, disk: file.disk, opened })
        })
        .collect()
}

fn look(file: &Found, gate: &Gate) -> Result<Opened, LoadError> {
    let bytes = fs::symlink_metadata(&file.disk).map_err(|e| failure(&file.disk, "read", &e))?.len();
    if bytes > LARGEST_FILE {
        let what = format!("has {bytes} bytes; {LARGEST_FILE} is the most");
        let hint = "scale it down, or cut out the part that shows something";
        return Ok(Opened { bytes, sum: None, picture: Err(Flaw { sort: FlawSort::Size, what, hint: hint.into() }) });
    }
    let _room = gate.enter(bytes);
    let read = fs::read(&file.disk).map_err(|e| failure(&file.disk, "read", &e))?;
    Ok(Opened { bytes, sum: Some(Sum::of(&read)), picture: picture::examine(&read, &file.below) })
}

/// For each file, whether its path stands in one of the texts.
fn named(found: &[Found], texts: &[SourceFile]) -> Vec<bool> {
    let mut named = vec![false; found.len()];
    let Ok(paths) = AhoCorasick::new(found.iter().map(|file| &file.below)) else { return vec![true; found.len()] };
    for text in texts {
        for hit in paths.find_overlapping_iter(&text.text) {
            named[hit.pattern().as_usize()] = true;
        }
    }
    named
}
