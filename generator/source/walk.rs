//! Walks the `--entries` folders. A folder with `collection.toml` is a collection; a folder without one holds collections.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use super::assets::{self, Found};
use super::{CollectionRoot, LineIndex, SourceFile, Sources};

/// Files above this many bytes are refused: no entry comes near it.
const LARGEST_ENTRY: u64 = 1 << 20;
/// Folders nested deeper than this are refused.
const DEEPEST: usize = 12;

/// The disk, not the entries, is at fault: the tool stops with exit code 3.
#[derive(Debug)]
pub struct LoadError {
    pub path: PathBuf,
    pub action: &'static str,
    pub cause: String,
}

impl std::fmt::Display for LoadError {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "cannot {} {}: {}", self.action, self.path.display(), self.cause)
    }
}

impl std::error::Error for LoadError {}

/// A file that is there but is not an entry's text. `index` of a readable stand-in with empty text.
#[derive(Debug)]
pub struct Problem {
    pub file: usize,
    pub message: String,
    pub hint: String,
}

/// What was read, and what was found that is not text.
#[derive(Debug, Default)]
pub struct Loaded {
    pub sources: Sources,
    pub problems: Vec<Problem>,
}

/// Reads every collection under `roots`, in the order given, each sorted by path.
///
/// # Errors
/// A folder or file that cannot be read, or a root that holds no collection.
pub fn load(roots: &[PathBuf]) -> Result<Loaded, LoadError> {
    load_with(roots, &[])
}

/// [`load`], with folders of pictures that may not be published.
///
/// # Errors
/// As for [`load`].
pub fn load_with(roots: &[PathBuf], photos: &[PathBuf]) -> Result<Loaded, LoadError> {
    let (mut loaded, mut found) = (Loaded::default(), Vec::new());
    for root in roots {
        let collections = collections_under(root)?;
        for (path, shown) in collections {
            read_collection(&path, &shown, &mut loaded, &mut found)?;
        }
    }
    for folder in photos {
        assets::private(folder, &mut found)?;
    }
    loaded.sources.private = !photos.is_empty();
    loaded.sources.assets = assets::open(found, &loaded.sources.files)?;
    Ok(loaded)
}

fn collections_under(root: &Path) -> Result<Vec<(PathBuf, String)>, LoadError> {
    let shown = root.to_string_lossy().replace('\\', "/").trim_end_matches('/').to_string();
    if root.join("collection.toml").is_file() {
        return Ok(vec![(root.to_path_buf(), shown)]);
    }
    let listing = fs::read_dir(root).map_err(|e| failure(root, "read the folder", &e))?;
    let mut names = BTreeSet::new();
    for entry in listing {
        let entry = entry.map_err(|e| failure(root, "read the folder", &e))?;
        if entry.path().join("collection.toml").is_file() {
            names.insert(entry.file_name().to_string_lossy().into_owned());
        }
    }
    if names.is_empty() {
        return Err(LoadError {
            path: root.to_path_buf(),
            action: "use",
            cause: "neither it nor a folder in it holds a collection.toml".into(),
        });
    }
    // The real collection comes first whatever the others are called: later ones add to it.
    let mut names: Vec<String> = names.into_iter().collect();
    names.sort_by_key(|name| (name != "reference", name.clone()));
    Ok(names.into_iter().map(|name| (root.join(&name), format!("{shown}/{name}"))).collect())
}

fn read_collection(path: &Path, shown: &str, loaded: &mut Loaded, found: &mut Vec<Found>) -> Result<(), LoadError> {
    let collection = loaded.sources.collections.len();
    let name = shown.rsplit('/').next().unwrap_or(shown).to_string();
    let name = match name.as_str() {
        "." | ".." | "" => fs::canonicalize(path)
            .ok()
            .and_then(|full| full.file_name().map(|n| n.to_string_lossy().into_owned()))
            .unwrap_or_else(|| "collection".into()),
        _ => name,
    };
    loaded.sources.collections.push(CollectionRoot { name, shown: shown.into(), path: path.to_path_buf() });
    for item in WalkDir::new(path).follow_links(false).sort_by_file_name() {
        let item = item.map_err(|e| LoadError {
            path: e.path().unwrap_or(path).to_path_buf(),
            action: "read",
            cause: e.io_error().map_or_else(|| e.to_string(), ToString::to_string),
        })?;
        let below = item.path().strip_prefix(path).unwrap_or(item.path());
        let below = below.to_string_lossy().replace('\\', "/");
        let hidden = below.split('/').any(|part| part.starts_with('.'));
        if hidden || below.is_empty() || item.file_type().is_dir() {
            continue;
        }
        let is_link = item.path_is_symlink();
        if below.ends_with(".toml") {
            read_one(item.path(), &below, shown, collection, is_link, loaded)?;
        } else if !is_link && !below.ends_with(".md") && below.split('/').count() <= DEEPEST {
            // Notes for curators are no part of the corpus; a picture that is refused here is reported as missing by the
            // entry that names it.
            found.push(Found { collection: Some(collection), below, disk: item.path().to_path_buf() });
        }
    }
    Ok(())
}

fn read_one(
    path: &Path,
    below: &str,
    shown: &str,
    collection: usize,
    is_link: bool,
    loaded: &mut Loaded,
) -> Result<(), LoadError> {
    let mut problem = None;
    if is_link {
        problem = Some((
            "this is a symbolic link, which is not followed".to_string(),
            "put the file itself here, or name its folder with --entries".to_string(),
        ));
    } else if below.split('/').count() > DEEPEST {
        problem = Some((
            format!("folders are nested more than {DEEPEST} deep here"),
            "move the entry up: kind/country/denomination/name.toml is enough".to_string(),
        ));
    }
    let size = fs::symlink_metadata(path).map_err(|e| failure(path, "read", &e))?.len();
    if problem.is_none() && size > LARGEST_ENTRY {
        problem = Some((
            format!("this file has {size} bytes; {LARGEST_ENTRY} is the most"),
            "split the entry: no page needs as much".to_string(),
        ));
    }
    let mut text = String::new();
    if problem.is_none() {
        match String::from_utf8(fs::read(path).map_err(|e| failure(path, "read", &e))?) {
            Ok(read) => text = read,
            Err(error) => {
                let read = &error.as_bytes()[..error.utf8_error().valid_up_to()];
                let line = read.iter().filter(|byte| **byte == b'\n').count() + 1;
                problem = Some((
                    format!("line {line} of this file is not UTF-8 text"),
                    "save the file as UTF-8 in your editor".to_string(),
                ));
            }
        }
    }
    let file = loaded.sources.files.len();
    if let Some((message, hint)) = problem {
        loaded.problems.push(Problem { file, message, hint });
    }
    loaded.sources.files.push(SourceFile {
        shown: format!("{shown}/{below}"),
        stem: below.strip_suffix(".toml").unwrap_or(below).to_string(),
        collection,
        lines: LineIndex::new(&text),
        text,
    });
    Ok(())
}

pub(super) fn failure(path: &Path, action: &'static str, error: &std::io::Error) -> LoadError {
    LoadError { path: path.to_path_buf(), action, cause: error.to_string() }
}
