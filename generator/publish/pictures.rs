//! Files made of pictures: taken from the previous site where it vouches for them, made and written otherwise, one
//! picture at a time and only as many at once as there is room for.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io::{self, Read};
use std::path::Path;
use std::sync::Arc;

use rayon::prelude::*;
use sha2::{Digest, Sha256};

use super::PublishError;
use super::swap::disk;
use crate::corpus::{Corpus, feeds_the_bench};
use crate::out_file::{Content, OutFile, Picture};
use crate::picture::{Flaw, Gate, LARGEST_WORK, Part, Sum, make};

/// Every file that the shown pictures become, in order of path.
pub fn pictures(corpus: &Corpus) -> Vec<OutFile> {
    let mut out = BTreeMap::new();
    for (entry, photo) in corpus.photos() {
        let Some(shown) = corpus.shown(entry, photo) else { continue };
        let mut files = shown.plan.files();
        if feeds_the_bench(entry) {
            files.push((shown.plan.script(), Part::Script));
        }
        let picture = Arc::new(Picture { disk: shown.disk.to_path_buf(), plan: shown.plan });
        for (path, part) in files {
            out.entry(path).or_insert_with(|| Content::Made { picture: Arc::clone(&picture), part });
        }
    }
    out.into_iter().map(|(path, content)| OutFile { path, content }).collect()
}

/// Every shown picture decoded to its end: the sums and flaws of those that cannot be.
///
/// # Errors
/// A file that cannot be read.
pub fn decode_all(corpus: &Corpus) -> Result<Vec<(Sum, Flaw)>, PublishError> {
    let files = pictures(corpus);
    let gate = Gate::new(LARGEST_WORK);
    let flaws: Vec<Option<(Sum, Flaw)>> = groups(&files)
        .par_iter()
        .map(|group| {
            let _room = gate.enter(group.picture.plan.header.work);
            match make_parts(group.picture, &[], |_, _| Ok(())) {
                Err(Stop::Flaw(flaw)) => Ok(Some((group.picture.plan.sum.clone(), flaw))),
                Err(Stop::Publish(error)) => Err(error),
                Ok(()) => Ok(None),
            }
        })
        .collect::<Result<_, _>>()?;
    Ok(flaws.into_iter().flatten().collect())
}

/// The bytes of one file that is made of a picture, for whoever writes nothing.
///
/// # Errors
/// A picture that is no longer as it was, or cannot be decoded.
pub fn make_one(picture: &Picture, part: Part, gate: &Gate) -> Result<Vec<u8>, String> {
    let _room = gate.enter(picture.plan.header.work);
    let mut made = Vec::new();
    match make_parts(picture, &[part], |_, bytes| {
        made = bytes;
        Ok(())
    }) {
        Ok(()) => Ok(made),
        Err(Stop::Flaw(flaw)) => Err(format!("{} {}", picture.disk.display(), flaw.what)),
        Err(Stop::Publish(error)) => Err(error.to_string()),
    }
}

/// What was written or kept: sums and lengths by path, and how many files were made anew.
#[derive(Default)]
pub(super) struct Written {
    pub files: Vec<(String, Sum, u64)>,
    pub made: usize,
    pub kept: usize,
}

/// Writes them to `next`. Those that `out`, the previous site, has under the same name and vouches for are linked to.
pub(super) fn write(files: &[OutFile], next: &Path, out: &Path) -> Result<Written, PublishError> {
    let vouched = sums(out);
    let gate = Gate::new(LARGEST_WORK);
    let done: Vec<Result<Written, Stop>> = groups(files)
        .par_iter()
        .map(|group| {
            let mut written = Written::default();
            let mut missing = BTreeMap::new();
            for (part, path) in &group.parts {
                match keep(path, &vouched, next, out) {
                    Some((sum, bytes)) => written.files.push(((*path).to_string(), sum, bytes)),
                    None => _ = missing.insert(*part, *path),
                }
            }
            written.kept = written.files.len();
            if !missing.is_empty() {
                let _room = gate.enter(group.picture.plan.header.work);
                let wanted: Vec<Part> = missing.keys().copied().collect();
                make_parts(group.picture, &wanted, |part, bytes| {
                    let path = next.join(missing[&part]);
                    fs::write(&path, &bytes).map_err(disk("write", &path))?;
                    written.files.push((missing[&part].to_string(), Sum::of(&bytes), bytes.len() as u64));
                    Ok(())
                })?;
                written.made = missing.len();
                read_back(&written.files[written.kept..], next)?;
            }
            Ok(written)
        })
        .collect();
    let (mut all, mut flaws) = (Written::default(), Vec::new());
    for (one, group) in done.into_iter().zip(groups(files)) {
        match one {
            Ok(one) => {
                all.files.extend(one.files);
                all.made += one.made;
                all.kept += one.kept;
            }
            Err(Stop::Flaw(flaw)) => flaws.push((group.picture.plan.sum.clone(), flaw)),
            Err(Stop::Publish(error)) => return Err(error),
        }
    }
    if flaws.is_empty() { Ok(all) } else { Err(PublishError::Pictures { flaws }) }
}

/// Of a picture that may not be published, neither it nor anything made of it is among the files.
pub(super) fn prove_absent(
    files: &[OutFile],
    written: &BTreeMap<&str, &Sum>,
    private: &BTreeSet<Sum>,
) -> Result<(), PublishError> {
    for file in files {
        let made_of = if let Content::Made { picture, .. } = &file.content { Some(&picture.plan.sum) } else { None };
        let itself = written.get(file.path.as_str()).copied();
        if made_of.into_iter().chain(itself).any(|sum| private.contains(sum)) {
            return Err(PublishError::Private { path: file.path.clone() });
        }
    }
    Ok(())
}

/// The files of one picture.
struct Group<'a> {
    picture: &'a Picture,
    parts: Vec<(Part, &'a str)>,
}

fn groups(files: &[OutFile]) -> Vec<Group<'_>> {
    let mut out: BTreeMap<&str, Group<'_>> = BTreeMap::new();
    for file in files {
        if let Content::Made { picture, part } = &file.content {
            let group = out.entry(&picture.plan.whole.path).or_insert_with(|| Group { picture, parts: Vec::new() });
            group.parts.push((*part, &file.path));
        }
    }
    out.into_values().collect()
}

enum Stop {
    Flaw(Flaw),
    Publish(PublishError),
}

impl From<Flaw> for Stop {
    fn from(flaw: Flaw) -> Stop {
        Stop::Flaw(flaw)
    }
}

impl From<PublishError> for Stop {
    fn from(error: PublishError) -> Stop {
        Stop::Publish(error)
    }
}

fn make_parts(
    picture: &Picture,
    wanted: &[Part],
    mut keep: impl FnMut(Part, Vec<u8>) -> Result<(), PublishError>,
) -> Result<(), Stop> {
    let bytes = fs::read(&picture.disk).map_err(disk("read", &picture.disk))?;
    if Sum::of(&bytes) != picture.plan.sum {
        return Err(PublishError::Changed { path: picture.disk.clone() }.into());
    }
    make(&bytes, &picture.plan, wanted, |part, bytes| keep(part, bytes).map_err(Stop::from))
}

/// The previous site's file of this name, linked to if it still is what its list of sums says.
fn keep(path: &str, vouched: &BTreeMap<String, Sum>, next: &Path, out: &Path) -> Option<(Sum, u64)> {
    let listed = vouched.get(path)?;
    let before = out.join(path);
    let meta = fs::symlink_metadata(&before).ok().filter(fs::Metadata::is_file)?;
    let is_listed = |path: &Path| sum_of(path).ok().as_ref() == Some(listed);
    let there = next.join(path);
    // Some disks know no links.
    let kept = || fs::hard_link(&before, &there).is_ok() || (fs::copy(&before, &there).is_ok() && is_listed(&there));
    (is_listed(&before) && kept()).then(|| (listed.clone(), meta.len()))
}

/// The list of sums of a site, as it stands in it.
fn sums(site: &Path) -> BTreeMap<String, Sum> {
    let text = fs::read_to_string(site.join("SHA256SUMS")).unwrap_or_default();
    let line = |line: &str| line.split_once("  ").and_then(|(sum, path)| Some((path.to_string(), Sum::parse(sum)?)));
    text.lines().filter_map(line).collect()
}

pub(super) fn read_back(written: &[(String, Sum, u64)], next: &Path) -> Result<(), PublishError> {
    for (path, sum, _) in written {
        let path = next.join(path);
        if sum_of(&path).map_err(disk("read back", &path))? != *sum {
            return Err(PublishError::Unfaithful { path });
        }
    }
    Ok(())
}

/// The sum of a file, read piece by piece.
fn sum_of(path: &Path) -> io::Result<Sum> {
    let (mut file, mut hash, mut piece) = (fs::File::open(path)?, Sha256::new(), vec![0; 1 << 18]);
    loop {
        match file.read(&mut piece)? {
            0 => return Ok(Sum::from_digest(&hash.finalize())),
            read => hash.update(&piece[..read]),
        }
    }
}
