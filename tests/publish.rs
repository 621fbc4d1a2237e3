//! All or nothing on the disk, pictures freed of metadata, and what the command line returns.

mod fixture;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use fixture::{files_under, lay};
use tellmark::out_file::OutFile;
use tellmark::publish::{PublishError, complete, publish, strip};
use tempfile::TempDir;

fn site(word: &str) -> Vec<OutFile> {
    complete(vec![OutFile::text("index.html", word), OutFile::text(format!("pages/{word}.html"), word)])
}

/// A file cannot stand where a folder is wanted: writing this site fails half-way.
fn impossible_site() -> Vec<OutFile> {
    complete(vec![OutFile::text("index.html", "new"), OutFile::text("a", "file"), OutFile::text("a/b.html", "page")])
}

fn published(word: &str) -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let out = folder.path().join("public");
    publish(&site(word), &out).expect("a first site is published");
    (folder, out)
}

fn assert_holds(out: &Path, word: &str) {
    let files = files_under(out);
    assert_eq!(files, ["README.md".into(), "SHA256SUMS".into(), "index.html".into(), format!("pages/{word}.html")]);
    assert_eq!(fs::read_to_string(out.join("index.html")).unwrap(), word);
}

fn assert_nothing_left_behind(folder: &Path) {
    let mut names: Vec<_> = fs::read_dir(folder).unwrap().map(|item| item.unwrap().file_name()).collect();
    names.sort();
    assert_eq!(names, ["public"]);
}

#[test]
fn a_missing_or_empty_folder_is_filled() {
    let (folder, out) = published("one");
    assert_holds(&out, "one");
    let empty = folder.path().join("empty");
    fs::create_dir(&empty).unwrap();
    publish(&site("two"), &empty).unwrap();
    assert_holds(&empty, "two");
}

#[test]
fn a_second_site_replaces_the_first_whole() {
    let (folder, out) = published("one");
    publish(&site("two"), &out).unwrap();
    assert_holds(&out, "two");
    assert_nothing_left_behind(folder.path());
}

#[test]
fn a_folder_that_the_tool_did_not_make_is_refused_and_untouched() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("photos");
    fs::create_dir(&out).unwrap();
    fs::write(out.join("README.md"), "# My photos\n").unwrap();
    assert!(matches!(publish(&site("one"), &out), Err(PublishError::NotOurs { .. })));
    assert_eq!(files_under(&out), ["README.md"]);
}

#[test]
fn a_file_in_place_of_the_folder_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("public");
    fs::write(&out, "a file").unwrap();
    assert!(matches!(publish(&site("one"), &out), Err(PublishError::NotOurs { .. })));
    assert_eq!(fs::read_to_string(&out).unwrap(), "a file");
}

#[test]
fn one_file_too_many_is_named_and_nothing_is_replaced() {
    let (_folder, out) = published("one");
    fs::write(out.join("pages/notes.txt"), "mine").unwrap();
    let refused = publish(&site("two"), &out).unwrap_err().to_string();
    assert!(refused.contains("`pages/notes.txt`"), "{refused}");
    assert_eq!(fs::read_to_string(out.join("index.html")).unwrap(), "one");
    assert_eq!(fs::read_to_string(out.join("pages/notes.txt")).unwrap(), "mine");
}

#[test]
fn a_failed_write_leaves_the_site_as_it_was() {
    let (folder, out) = published("one");
    assert!(matches!(publish(&impossible_site(), &out), Err(PublishError::Disk { .. })));
    assert_holds(&out, "one");
    assert_nothing_left_behind(folder.path());
}

#[test]
fn a_run_killed_while_writing_does_not_disturb_the_next() {
    let (folder, out) = published("one");
    let next = folder.path().join(".public.tellmark-next");
    fs::create_dir(&next).unwrap();
    fs::write(next.join("half.html"), "half").unwrap();
    publish(&site("two"), &out).unwrap();
    assert_holds(&out, "two");
    assert_nothing_left_behind(folder.path());
}

#[test]
fn a_run_killed_between_two_renames_is_mended_by_the_next() {
    let (folder, out) = published("one");
    fs::rename(&out, folder.path().join(".public.tellmark-old")).unwrap();
    assert!(publish(&impossible_site(), &out).is_err());
    assert_holds(&out, "one");
    publish(&site("two"), &out).unwrap();
    assert_holds(&out, "two");
    assert_nothing_left_behind(folder.path());
}

#[test]
fn two_runs_do_not_publish_to_one_folder_at_once() {
    let (folder, out) = published("one");
    let lock = fs::File::create(folder.path().join(".public.tellmark-lock")).unwrap();
    lock.lock().unwrap();
    assert!(matches!(publish(&site("two"), &out), Err(PublishError::Busy { .. })));
    assert_holds(&out, "one");
    drop(lock);
    publish(&site("two"), &out).unwrap();
    assert_holds(&out, "two");
}

#[test]
#[cfg(target_os = "linux")]
fn the_sums_are_those_of_sha256sum() {
    let (_folder, out) = published("one");
    let check = || Command::new("sha256sum").args(["-c", "--strict", "SHA256SUMS"]).current_dir(&out).output().unwrap();
    assert!(check().status.success());
    fs::write(out.join("index.html"), "changed").unwrap();
    assert!(!check().status.success());
}

/// A PNG with a text, a time, an Exif block and bytes after its end (W3C PNG, chapters 5 and 11).
fn png_with_metadata() -> (Vec<u8>, Vec<u8>) {
    let pixels: Vec<u8> = (0..12 * 9).map(|at| (at * 7 % 256) as u8).collect();
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, 12, 9);
    encoder.set_color(png::ColorType::Grayscale);
    encoder.add_text_chunk("Author".into(), "SECRET".into()).unwrap();
    encoder.add_itxt_chunk("Comment".into(), "SECRET".into()).unwrap();
    let mut writer = encoder.write_header().unwrap();
    writer.write_chunk(png::chunk::ChunkType(*b"eXIf"), b"MM\0*\0\0\0\x08SECRET").unwrap();
    writer.write_chunk(png::chunk::ChunkType(*b"tIME"), &[7, 234, 4, 18, 12, 0, 0]).unwrap();
    writer.write_image_data(&pixels).unwrap();
    writer.finish().unwrap();
    bytes.extend_from_slice(b"SECRET after the end");
    (bytes, pixels)
}

fn holds(bytes: &[u8], word: &[u8]) -> bool {
    bytes.windows(word.len()).any(|window| window == word)
}

#[test]
fn a_png_loses_its_metadata_and_keeps_its_pixels() {
    let (bytes, pixels) = png_with_metadata();
    assert!(holds(&bytes, b"SECRET") && holds(&bytes, b"eXIf") && holds(&bytes, b"tIME"));
    let clean = strip(&bytes).expect("a whole picture");
    for word in [&b"SECRET"[..], b"eXIf", b"tIME", b"tEXt", b"iTXt"] {
        assert!(!holds(&clean, word), "{}", String::from_utf8_lossy(word));
    }
    let mut reader = png::Decoder::new(std::io::Cursor::new(&clean)).read_info().unwrap();
    let mut decoded = vec![0; reader.output_buffer_size().unwrap()];
    reader.next_frame(&mut decoded).unwrap();
    assert_eq!(decoded, pixels);
}

#[test]
fn a_jpeg_loses_its_metadata_and_keeps_its_image() {
    let segment =
        |marker: u8, body: &[u8]| [&[0xff, marker], &(body.len() as u16 + 2).to_be_bytes()[..], body].concat();
    // ITU-T T.81, annex B: tables, frame, scan; the decoder needs all of them and nothing else but APP0 and APP14.
    let kept = [
        segment(0xdb, &[&[0][..], &[1; 64]].concat()),
        segment(0xc0, &[8, 0, 1, 0, 1, 1, 1, 0x11, 0]),
        segment(0xc4, &[&[0, 1][..], &[0; 15], &[0]].concat()),
        segment(0xda, &[1, 1, 0, 0, 63, 0]),
        vec![0x3f, 0xff, 0x00, 0x7f, 0xff, 0xd9],
    ]
    .concat();
    let jfif = segment(0xe0, b"JFIF\0\x01\x01\0\0\x01\0\x01\0\0");
    let private = [
        segment(0xe1, b"Exif\0\0MM\0*\0\0\0\x08SECRET"),
        segment(0xe1, b"http://ns.adobe.com/xap/1.0/\0SECRET"),
        segment(0xe2, b"ICC_PROFILE\0\x01\x01SECRET"),
        segment(0xed, b"Photoshop 3.0\0SECRET"),
        segment(0xfe, b"SECRET"),
    ]
    .concat();
    let bytes = [&[0xff, 0xd8][..], &jfif, &private, &kept, b"SECRET after the end"].concat();
    let clean = strip(&bytes).expect("a whole picture");
    assert!(!holds(&clean, b"SECRET"));
    assert_eq!(clean, [&[0xff, 0xd8][..], &jfif, &kept].concat());
}

#[test]
fn a_picture_cut_short_is_not_published() {
    let (bytes, _) = png_with_metadata();
    assert_eq!(strip(&bytes[..40]), None);
    assert_eq!(strip(&[0xff, 0xd8, 0xff, 0xe0, 0, 16, b'J', b'F']), None);
    assert_eq!(strip(b"<svg/>"), None);
}

fn tellmark(args: &[&str], folder: &Path) -> Output {
    Command::new(env!("CARGO_BIN_EXE_tellmark")).args(args).current_dir(folder).output().expect("the tool runs")
}

fn assert_exit(code: i32, args: &[&str], folder: &Path) -> Output {
    let output = tellmark(args, folder);
    assert_eq!(output.status.code(), Some(code), "{args:?}: {}", String::from_utf8_lossy(&output.stderr));
    output
}

#[test]
fn exit_0_when_all_is_done() {
    let folder = lay(Path::new(""));
    assert_exit(0, &["validate", "--entries", "orrin", "--strict"], folder.path());
    assert_exit(0, &["--entries", "orrin", "--out", "public", "--jobs", "1"], folder.path());
    assert!(folder.path().join("public/issues/orrin/half-mark/1911-k.html").is_file());
    assert_exit(0, &["coverage", "--entries", "orrin"], folder.path());
    assert_exit(0, &["--help"], folder.path());
}

#[test]
fn exit_1_when_the_entries_have_errors_and_nothing_is_published() {
    let folder = lay(Path::new("tests/bad/basis-missing/statement"));
    assert_exit(1, &["validate", "--entries", "orrin"], folder.path());
    let output = assert_exit(1, &["compile", "--entries", "orrin", "--out", "public"], folder.path());
    assert!(String::from_utf8_lossy(&output.stderr).contains("nothing was published"));
    assert!(!folder.path().join("public").exists());
}

#[test]
fn warnings_fail_only_when_strict() {
    let folder = lay(Path::new("tests/bad/not-separated/family-without-a-check"));
    assert_exit(0, &["validate", "--entries", "orrin"], folder.path());
    assert_exit(1, &["validate", "--entries", "orrin", "--strict"], folder.path());
}

#[test]
fn exit_2_when_it_is_called_wrongly() {
    let folder = lay(Path::new(""));
    for args in
        [&["--jobs", "0"][..], &["--jobs", "x"], &["compose"], &["validate", "--format", "xml"], &["--today", "May"]]
    {
        assert_exit(2, args, folder.path());
    }
}

#[test]
fn exit_3_when_the_disk_fails() {
    let folder = lay(Path::new(""));
    assert_exit(3, &["validate", "--entries", "missing"], folder.path());
    let output = assert_exit(3, &["compile", "--entries", "orrin", "--out", "orrin"], folder.path());
    assert!(String::from_utf8_lossy(&output.stderr).contains("is not replaced"));
}

#[test]
fn problems_for_machines_are_one_object_a_line() {
    let folder = lay(Path::new("tests/bad/duplicate-id/check"));
    let output = assert_exit(1, &["validate", "--entries", "orrin", "--format", "json"], folder.path());
    let text = String::from_utf8(output.stdout).unwrap();
    let rows: Vec<serde_json::Value> = text.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    assert_eq!(rows.len(), 1);
    let keys = ["severity", "code", "message", "file", "line", "column", "end_line", "end_column", "hint", "related"];
    assert_eq!(rows[0].as_object().unwrap().keys().collect::<Vec<_>>(), keys);
    assert_eq!(rows[0]["code"], "duplicate-id");
    assert_eq!(rows[0]["file"], "orrin/issues/orrin/half-mark/1912.toml");
    assert_eq!([&rows[0]["line"], &rows[0]["column"], &rows[0]["end_column"]], [24, 7, 13]);
    assert_eq!(rows[0]["related"][0]["line"], 10);
}

#[test]
fn problems_for_code_hosts_are_one_sarif_log() {
    let folder = lay(Path::new("tests/bad/duplicate-id/check"));
    let output = assert_exit(1, &["validate", "--entries", "orrin", "--format", "sarif"], folder.path());
    let log: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(log["version"], "2.1.0");
    assert_eq!(log["runs"][0]["results"][0]["ruleId"], "duplicate-id");
    assert_eq!(log["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["region"]["startLine"], 24);
}

#[test]
fn the_summary_for_machines_counts_what_was_published() {
    let folder = lay(Path::new(""));
    let args = ["compile", "--entries", "orrin", "--out", "public", "--format", "json"];
    let output = assert_exit(0, &args, folder.path());
    let summary: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(summary["files"], files_under(&folder.path().join("public")).len());
    assert_eq!(summary["entries"], 9);
}
