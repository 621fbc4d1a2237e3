//! One new file, never in the place of another.

use std::fs::{self, File};
use std::io::Write;
use std::path::Path;

use super::PublishError;
use super::swap::disk;

/// Makes the file and the folders above it.
///
/// # Errors
/// A file that is there already, or a disk that says no.
pub fn write_new(path: &Path, text: &str) -> Result<(), PublishError> {
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(disk("make the folder", folder))?;
    }
    let mut file = File::create_new(path).map_err(disk("make the new file", path))?;
    file.write_all(text.as_bytes()).map_err(disk("write", path))
}
