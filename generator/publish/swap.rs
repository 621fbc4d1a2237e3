//! Writing the sibling folder, reading it back, and the swap.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

use rayon::prelude::*;
use walkdir::WalkDir;

use super::{NOTE, Published, pictures};
use crate::out_file::{Content, OutFile};
use crate::picture::{Flaw, Sum};

/// Why nothing was published. The folder is as it was.
#[derive(Debug)]
pub enum PublishError {
    /// The disk said no.
    Disk { action: &'static str, path: PathBuf, cause: io::Error },
    /// The folder holds something this tool did not write.
    NotOurs { folder: PathBuf, found: String },
    /// Another run is publishing there.
    Busy { folder: PathBuf },
    /// What was read back is not what was written.
    Unfaithful { path: PathBuf },
    /// A picture is no longer what it was when the entries were read.
    Changed { path: PathBuf },
    /// Pictures that cannot be decoded, by the sums of their files: the entries that name them are at fault.
    Pictures { flaws: Vec<(Sum, Flaw)> },
    /// A picture that may not be published, or something made of it, was among the files.
    Private { path: String },
}

impl std::fmt::Display for PublishError {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            PublishError::Disk { action, path, cause } => write!(out, "cannot {action} {}: {cause}", path.display()),
            PublishError::NotOurs { folder, found } => write!(
                out,
                "{} is not replaced: it holds {found}, which tellmark did not write; name another folder with --out, or move it away",
                folder.display()
            ),
            PublishError::Busy { folder } => {
                write!(out, "another tellmark is publishing to {}; try again when it is done", folder.display())
            }
            PublishError::Unfaithful { path } => {
                write!(out, "{} was not written faithfully: the disk may be full or failing", path.display())
            }
            PublishError::Changed { path } => {
                write!(out, "{} was changed while the site was being made; try again", path.display())
            }
            PublishError::Pictures { flaws } => {
                let all: Vec<String> = flaws.iter().map(|(sum, flaw)| format!("{sum} {}", flaw.what)).collect();
                write!(out, "pictures cannot be decoded: {}", all.join("; "))
            }
            PublishError::Private { path } => {
                write!(out, "{path} would publish a picture that an entry calls private; nothing was published")
            }
        }
    }
}

impl std::error::Error for PublishError {}

pub(super) fn disk(action: &'static str, path: &Path) -> impl FnOnce(io::Error) -> PublishError {
    let path = path.to_path_buf();
    move |cause| PublishError::Disk { action, path, cause }
}

/// Publishes `files` (from [`super::complete`]) as the folder `out`. Either all of it is there afterwards, or `out` is as it was.
///
/// # Errors
/// See [`PublishError`].
pub fn publish(files: &[OutFile], out: &Path) -> Result<Published, PublishError> {
    publish_without(files, out, &BTreeSet::new())
}

/// [`publish`], and proof that nothing is among the files that has one of the sums in `private`, or is made of a picture
/// that has.
///
/// # Errors
/// See [`PublishError`].
pub fn publish_without(files: &[OutFile], out: &Path, private: &BTreeSet<Sum>) -> Result<Published, PublishError> {
    let name = out.file_name().map_or_else(|| "public".into(), |name| name.to_string_lossy().into_owned());
    let parent = match out.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_path_buf(),
        _ => PathBuf::from("."),
    };
    fs::create_dir_all(&parent).map_err(disk("make the folder", &parent))?;
    let lock_path = parent.join(format!(".{name}.tellmark-lock"));
    let lock = File::create(&lock_path).map_err(disk("write", &lock_path))?;
    if lock.try_lock().is_err() {
        return Err(PublishError::Busy { folder: out.to_path_buf() });
    }
    let next = parent.join(format!(".{name}.tellmark-next"));
    let old = parent.join(format!(".{name}.tellmark-old"));
    let result = publish_locked(files, out, &next, &old, private);
    // Whatever happened, nothing half-written stays behind. An error here would hide the first one.
    let _ = fs::remove_dir_all(&next);
    let _ = fs::remove_file(&lock_path);
    result
}

fn publish_locked(
    files: &[OutFile],
    out: &Path,
    next: &Path,
    old: &Path,
    private: &BTreeSet<Sum>,
) -> Result<Published, PublishError> {
    // A run that was killed between two renames left the site here.
    if !out.exists() && old.exists() {
        fs::rename(old, out).map_err(disk("put back", out))?;
    }
    refuse_foreign(out)?;
    for leftover in [next, old] {
        if leftover.exists() {
            fs::remove_dir_all(leftover).map_err(disk("remove", leftover))?;
        }
    }
    // What can be seen before any picture is made is refused before; what is made is looked at again below.
    pictures::prove_absent(files, &BTreeMap::new(), private)?;
    write_texts(files, next, out)?;
    let mut written = pictures::write(files, next, out)?;
    written.files.extend(read_back(files, next)?);
    let sums: BTreeMap<&str, &Sum> = written.files.iter().map(|(path, sum, _)| (path.as_str(), sum)).collect();
    pictures::prove_absent(files, &sums, private)?;
    let mut bytes = written.files.iter().map(|(_, _, bytes)| bytes).sum();
    for file in files.iter().filter(|file| file.content == Content::Sums) {
        let list: String = sums.iter().map(|(path, sum)| format!("{sum}  {path}\n")).collect();
        let path = next.join(&file.path);
        fs::write(&path, &list).map_err(disk("write", &path))?;
        bytes += list.len() as u64;
    }
    swap(out, next, old)?;
    Ok(Published { files: files.len(), bytes, made: written.made, kept: written.kept })
}

/// A folder is ours if it is missing, empty, or holds our note and nothing that our list does not name.
fn refuse_foreign(out: &Path) -> Result<(), PublishError> {
    if !out.exists() {
        return Ok(());
    }
    let foreign = |found: &str| PublishError::NotOurs { folder: out.to_path_buf(), found: found.to_string() };
    if !out.is_dir() {
        return Err(foreign("a file, not a folder"));
    }
    let listed = fs::read_to_string(out.join("SHA256SUMS")).unwrap_or_default();
    let mut ours: BTreeSet<&str> =
        listed.lines().filter_map(|line| line.split_once("  ").map(|(_, path)| path)).collect();
    ours.insert("SHA256SUMS");
    ours.insert("README.md");
    let mut any = false;
    for item in WalkDir::new(out).sort_by_file_name() {
        let item =
            item.map_err(|error| PublishError::Disk { action: "read", path: out.to_path_buf(), cause: error.into() })?;
        if item.file_type().is_dir() {
            continue;
        }
        any = true;
        let below = item.path().strip_prefix(out).unwrap_or(item.path()).to_string_lossy().replace('\\', "/");
        if !ours.contains(below.as_str()) {
            return Err(foreign(&format!("`{below}`")));
        }
    }
    let note = fs::read_to_string(out.join("README.md")).unwrap_or_default();
    let first = |text: &str| text.lines().next().unwrap_or("").to_string();
    if any && first(&note) != first(NOTE) {
        return Err(foreign("files, but not the note that tellmark leaves in README.md"));
    }
    Ok(())
}

/// Makes every folder, and writes what is in memory.
fn write_texts(files: &[OutFile], next: &Path, out: &Path) -> Result<(), PublishError> {
    let folders: BTreeSet<PathBuf> =
        files.iter().filter_map(|file| next.join(&file.path).parent().map(Path::to_path_buf)).collect();
    fs::create_dir_all(next).map_err(disk("make the folder", next))?;
    for folder in folders {
        fs::create_dir_all(&folder).map_err(disk("make the folder", &folder))?;
    }
    files.par_iter().try_for_each(|file| {
        let Content::Bytes(text) = &file.content else { return Ok(()) };
        let path = next.join(&file.path);
        // An unchanged file is linked to, not written again: making files is the slow part on many disks. The old name
        // goes with the old folder, and nothing writes into a published file.
        let before = out.join(&file.path);
        let plain = fs::symlink_metadata(&before).is_ok_and(|meta| meta.is_file());
        if plain && fs::read(&before).is_ok_and(|bytes| bytes == *text) && fs::hard_link(&before, &path).is_ok() {
            return Ok(());
        }
        fs::write(&path, text).map_err(disk("write", &path))
    })
}

/// What was in memory, as it is read back: path, sum and length.
fn read_back(files: &[OutFile], next: &Path) -> Result<Vec<(String, Sum, u64)>, PublishError> {
    let texts = files.par_iter().filter_map(|file| match &file.content {
        Content::Bytes(text) => Some((file, text)),
        Content::Made { .. } | Content::Sums => None,
    });
    texts
        .map(|(file, text)| {
            let path = next.join(&file.path);
            let read = fs::read(&path).map_err(disk("read back", &path))?;
            if read != *text {
                return Err(PublishError::Unfaithful { path });
            }
            Ok((file.path.clone(), Sum::of(&read), read.len() as u64))
        })
        .collect()
}

/// On Linux the two folders change places in one step; elsewhere the old one steps aside first and is put back on failure.
fn swap(out: &Path, next: &Path, old: &Path) -> Result<(), PublishError> {
    if !out.exists() {
        return fs::rename(next, out).map_err(disk("move into place", out));
    }
    if exchange(next, out) {
        // `next` now holds the old site; the caller removes it.
        return Ok(());
    }
    fs::rename(out, old).map_err(disk("move aside", out))?;
    if let Err(cause) = fs::rename(next, out) {
        fs::rename(old, out).map_err(disk("put back", out))?;
        return Err(PublishError::Disk { action: "move into place", path: out.to_path_buf(), cause });
    }
    let _ = fs::remove_dir_all(old);
    Ok(())
}

#[cfg(target_os = "linux")]
fn exchange(one: &Path, other: &Path) -> bool {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE).is_ok()
}

#[cfg(not(target_os = "linux"))]
fn exchange(_one: &Path, _other: &Path) -> bool {
    false
}
