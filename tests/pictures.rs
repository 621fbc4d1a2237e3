//! Photographs on their way into the site: copies, tiles and scripts, nothing made twice, and nothing private published.

mod fixture;

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use fixture::{files_under, lay};
use image::codecs::jpeg::JpegEncoder;
use image::{ExtendedColorType, ImageEncoder};
use tellmark::out_file::OutFile;
use tellmark::picture::Sum;
use tellmark::publish::{PublishError, Published, complete, publish, publish_without};
use tellmark::render::Theme;
use tellmark::source::{load, load_with};
use tempfile::TempDir;

const HEAD: &str = "series   = \"orrin/half-mark-harbour\"\nyear     = 1912\nreviewed = 2026-04-18\n\n\
    [summary]\ntext  = '''A common date.'''\nbasis = \"common-practice\"\n";

/// A photograph of nothing: a slope of greys with a darker corner at the top left, and a seed that makes it its own.
fn jpeg(width: u32, height: u32, seed: u8) -> Vec<u8> {
    let corner = |x: u32, y: u32| x < width / 4 && y < height / 4;
    let grey = |x: u32, y: u32| if corner(x, y) { 20 } else { 120 + (x * 100 / width) as u8 };
    let pixels: Vec<u8> = (0..height)
        .flat_map(|y| (0..width).map(move |x| (x, y)))
        .flat_map(|(x, y)| [grey(x, y), grey(x, y), seed])
        .collect();
    let mut out = Vec::new();
    JpegEncoder::new_with_quality(&mut out, 90).write_image(&pixels, width, height, ExtendedColorType::Rgb8).unwrap();
    out
}

/// With a camera's notes: that it is to be turned (Exif 2.3, tag 0x0112), and who took it.
fn with_notes(jpeg: &[u8], turn: u8) -> Vec<u8> {
    let mut body = b"Exif\0\0II*\0\x08\0\0\0\x02\0\x12\x01\x03\0\x01\0\0\0".to_vec();
    body.extend([turn, 0, 0, 0]);
    body.extend(b"\x3b\x01\x02\0\x07\0\0\0\x26\0\0\0\0\0\0\0SECRET\0");
    let segment = [&[0xff, 0xe1][..], &(body.len() as u16 + 2).to_be_bytes(), &body].concat();
    [&jpeg[..2], &segment, &jpeg[2..]].concat()
}

struct Photo<'a> {
    file: &'a str,
    bytes: &'a [u8],
    private: bool,
}

/// The small collection with an issue that has these photos. Private ones are in `private/` beside it.
fn collection(photos: &[Photo<'_>]) -> TempDir {
    let folder = lay(Path::new(""));
    let mut entry = HEAD.to_string();
    for (at, photo) in photos.iter().enumerate() {
        let (file, sum) = (photo.file, Sum::of(photo.bytes));
        let rights = if photo.private { "private = true" } else { "licence = \"CC0-1.0\"" };
        write!(
            entry,
            "\n[[photo]]\nid = \"p{at}\"\nfile = \"{file}\"\nsha256 = \"{sum}\"\ncredit = \"drawn\"\n{rights}\n"
        )
        .unwrap();
        let path = folder.path().join(if photo.private { "private" } else { "orrin" }).join(file);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, photo.bytes).unwrap();
    }
    fs::write(folder.path().join("orrin/issues/orrin/half-mark/1912.toml"), entry).unwrap();
    folder
}

fn site(folder: &Path, private: bool) -> Vec<OutFile> {
    let photos: Vec<_> = private.then(|| folder.join("private")).into_iter().collect();
    let (corpus, problems) = tellmark::check(load_with(&[folder.join("orrin")], &photos).unwrap(), None);
    assert!(problems.is_empty(), "{problems:?}");
    tellmark::site(&corpus, &Theme::built_in().unwrap(), None).unwrap()
}

fn published(folder: &Path) -> Published {
    publish(&site(folder, false), &folder.join("public")).unwrap()
}

/// Published files of pictures, by what follows the sum in their names.
fn pictures(out: &Path) -> BTreeMap<String, Vec<u8>> {
    files_under(&out.join("pictures"))
        .into_iter()
        .filter(|path| !path.contains("1911-k-mark"))
        .map(|path| {
            (path.split_once("-r1").unwrap().1.to_string(), fs::read(out.join("pictures").join(&path)).unwrap())
        })
        .collect()
}

fn size(bytes: &[u8]) -> (u32, u32) {
    let image = image::load_from_memory(bytes).unwrap();
    (image.width(), image.height())
}

fn holds(bytes: &[u8], word: &[u8]) -> bool {
    bytes.windows(word.len()).any(|window| window == word)
}

#[test]
fn a_photograph_is_copied_for_the_page_and_for_small_screens_and_stays_at_hand_whole() {
    let original = with_notes(&jpeg(1500, 1125, 7), 1);
    let folder = collection(&[Photo { file: "photos/a.jpg", bytes: &original, private: false }]);
    published(folder.path());
    let files = pictures(&folder.path().join("public"));
    assert_eq!(files.keys().collect::<Vec<_>>(), ["-1200.jpg", "-1200.js", "-480.jpg", ".jpg"]);
    assert_eq!(size(&files["-1200.jpg"]), (1200, 900));
    assert_eq!(size(&files["-480.jpg"]), (480, 360));
    assert_eq!(size(&files[".jpg"]), (1500, 1125));
    assert!(holds(&original, b"SECRET") && holds(&original, b"Exif"));
    for (name, bytes) in &files {
        assert!(!holds(bytes, b"SECRET") && !holds(bytes, b"Exif"), "{name} keeps a camera's notes");
    }
    let page = fs::read_to_string(folder.path().join("public/issues/orrin/half-mark/1912.html")).unwrap();
    for part in [
        "-480.jpg 480w, ",
        "-1200.jpg 1200w\" sizes=",
        "width=\"1200\" height=\"900\"",
        "loading=\"lazy\"",
        "data-view=\"",
    ] {
        assert!(page.contains(part), "no {part}");
    }
}

#[test]
fn the_script_beside_the_page_s_copy_holds_the_same_bytes() {
    let original = jpeg(1500, 1125, 7);
    let folder = collection(&[Photo { file: "photos/a.jpg", bytes: &original, private: false }]);
    published(folder.path());
    let files = pictures(&folder.path().join("public"));
    let script = String::from_utf8(files["-1200.js"].clone()).unwrap();
    let (call, rest) = script.split_once(",\"data:image/jpeg;base64,").unwrap();
    assert!(call.starts_with("Tellmark.picture(\"pictures/orrin/a-") && call.ends_with("-r1-1200.jpg\""), "{call}");
    let value = |sign: u8| match sign {
        b'A'..=b'Z' => sign - b'A',
        b'a'..=b'z' => sign - b'a' + 26,
        b'0'..=b'9' => sign - b'0' + 52,
        b'+' => 62,
        _ => 63,
    };
    let signs: Vec<u8> = rest.trim_end().trim_end_matches("\");").bytes().filter(|sign| *sign != b'=').collect();
    let bits = signs.iter().flat_map(|sign| (0..6).rev().map(move |bit| value(*sign) >> bit & 1)).collect::<Vec<_>>();
    let bytes: Vec<u8> = bits.chunks_exact(8).map(|eight| eight.iter().fold(0, |sum, bit| sum << 1 | bit)).collect();
    assert_eq!(bytes, files["-1200.jpg"]);
}

/// The whole picture keeps the one note that says which way up it is; copies are turned themselves. With orientation 6
/// the first row is the right-hand side (Exif 2.3, table 6), so the dark corner at the top left of what is stored comes to
/// the top right.
#[test]
fn a_photograph_turned_by_its_notes_is_shown_upright() {
    let original = with_notes(&jpeg(1600, 1200, 9), 6);
    let folder = collection(&[Photo { file: "photos/a.jpg", bytes: &original, private: false }]);
    published(folder.path());
    let files = pictures(&folder.path().join("public"));
    let copy = image::load_from_memory(&files["-1200.jpg"]).unwrap().into_luma8();
    assert_eq!(copy.dimensions(), (900, 1200));
    let dark = |x: u32, y: u32| copy.get_pixel(x, y).0[0] < 70;
    assert!(dark(800, 100) && !dark(100, 100) && !dark(800, 1100) && !dark(100, 1100));
    let whole = &files[".jpg"];
    assert!(!holds(whole, b"SECRET") && holds(whole, b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06"));
    let page = fs::read_to_string(folder.path().join("public/issues/orrin/half-mark/1912.html")).unwrap();
    assert!(page.contains("width=\"900\" height=\"1200\""));
}

/// A drawing: flat areas, saved as PNG. Its copy stays one.
#[test]
fn a_drawing_keeps_its_clean_edges() {
    let pixels: Vec<u8> = (0..1500 * 1500u32).map(|at| if at / 1500 > 700 { 255 } else { 0 }).collect();
    let mut bytes = Vec::new();
    image::codecs::png::PngEncoder::new(&mut bytes).write_image(&pixels, 1500, 1500, ExtendedColorType::L8).unwrap();
    let folder = collection(&[Photo { file: "photos/a.png", bytes: &bytes, private: false }]);
    published(folder.path());
    let files = pictures(&folder.path().join("public"));
    assert_eq!(files.keys().collect::<Vec<_>>(), ["-1200.js", "-1200.png", "-480.png", ".png"]);
    let shades: BTreeSet<u8> =
        image::load_from_memory(&files["-480.png"]).unwrap().into_luma8().into_raw().into_iter().collect();
    assert!(shades.len() <= 3, "{shades:?}");
}

/// Tiles by the open DZI layout: level n of a picture w × h has ⌈w / 2^(N-n)⌉ × ⌈h / 2^(N-n)⌉ pixels, N = ⌈log2 max(w, h)⌉;
/// each tile shares one pixel with each neighbour.
#[test]
fn a_very_large_picture_is_cut_into_tiles() {
    let (width, height) = (5000, 3300);
    let pixels = vec![90; width as usize * height as usize];
    let mut original = Vec::new();
    JpegEncoder::new_with_quality(&mut original, 60)
        .write_image(&pixels, width, height, ExtendedColorType::L8)
        .unwrap();
    let folder = collection(&[Photo { file: "photos/a.jpg", bytes: &original, private: false }]);
    published(folder.path());
    let files = pictures(&folder.path().join("public"));
    assert!(
        String::from_utf8_lossy(&files[".dzi"]).contains("TileSize=\"1024\"><Size Width=\"5000\" Height=\"3300\"/>")
    );
    let mut expected = BTreeSet::new();
    for level in 0..=13u32 {
        let (w, h) = (width.div_ceil(1 << (13 - level)), height.div_ceil(1 << (13 - level)));
        for (column, row) in (0..w.div_ceil(1024)).flat_map(|c| (0..h.div_ceil(1024)).map(move |r| (c, r))) {
            let run = |at: u32, side: u32| ((at + 1) * 1024 + 1).min(side) - (at * 1024).saturating_sub(1);
            let name = format!("_files/{level}/{column}_{row}.jpg");
            assert_eq!(size(&files[&name]), (run(column, w), run(row, h)), "{name}");
            expected.insert(name);
        }
    }
    let made: BTreeSet<String> = files.keys().filter(|name| name.starts_with("_files")).cloned().collect();
    assert_eq!(made, expected);
    let album = fs::read_to_string(folder.path().join("public/bench/pictures/issues/orrin/half-mark/1912.js")).unwrap();
    assert!(album.contains("\"size\":1024,\"overlap\":1,\"format\":\"jpg\""), "{album}");
}

#[test]
fn unchanged_pictures_are_not_made_again() {
    let photos: Vec<Vec<u8>> = (0..12).map(|seed| jpeg(760, 570, seed)).collect();
    let names: Vec<String> = (0..12).map(|at| format!("photos/{at}.jpg")).collect();
    let all = |photos: &[Vec<u8>]| -> TempDir {
        let list: Vec<Photo<'_>> =
            names.iter().zip(photos).map(|(file, bytes)| Photo { file, bytes, private: false }).collect();
        collection(&list)
    };
    let folder = all(&photos);
    let first = published(folder.path());
    // Of each, the whole, a small copy and a script; of the picture of the small collection, itself and a script.
    assert_eq!((first.made, first.kept), (12 * 3 + 2, 0));
    let before = fs::read(folder.path().join("public/SHA256SUMS")).unwrap();
    let second = published(folder.path());
    assert_eq!((second.made, second.kept), (0, first.made));
    assert_eq!(fs::read(folder.path().join("public/SHA256SUMS")).unwrap(), before);

    // One that changed is made again, and only that one.
    let mut changed = photos;
    changed[5] = jpeg(760, 570, 99);
    let other = all(&changed);
    fs::rename(folder.path().join("public"), other.path().join("public")).unwrap();
    let third = published(other.path());
    assert_eq!((third.made, third.kept), (3, first.made - 3));

    // What the list of sums does not vouch for is not trusted.
    let copy =
        files_under(&other.path().join("public/pictures")).into_iter().find(|path| path.ends_with("-480.jpg")).unwrap();
    fs::write(other.path().join("public/pictures").join(copy), "not a picture").unwrap();
    let fourth = published(other.path());
    assert_eq!((fourth.made, fourth.kept), (1, first.made - 1));
    let fresh = tempfile::tempdir().unwrap();
    publish(&site(other.path(), false), &fresh.path().join("public")).unwrap();
    let sums = |folder: &Path| fs::read_to_string(folder.join("public/SHA256SUMS")).unwrap();
    assert_eq!(sums(other.path()), sums(fresh.path()));
}

fn tellmark(args: &[&str], folder: &Path) -> Output {
    Command::new(env!("CARGO_BIN_EXE_tellmark")).args(args).current_dir(folder).output().expect("the tool runs")
}

#[test]
fn a_picture_that_cannot_be_decoded_leaves_the_site_as_it_was() {
    let sound = jpeg(760, 570, 1);
    let folder = collection(&[Photo { file: "photos/a.jpg", bytes: &sound, private: false }]);
    assert!(tellmark(&["--entries", "orrin"], folder.path()).status.success());
    let before = fs::read(folder.path().join("public/SHA256SUMS")).unwrap();
    // Well-formed from outside: only decoding shows that the image data stops half-way.
    let mut png = Vec::new();
    {
        let mut encoder = png::Encoder::new(&mut png, 16, 12);
        encoder.set_color(png::ColorType::Grayscale);
        encoder.write_header().unwrap().write_chunk(png::chunk::IDAT, &[0x78, 0x9c, 3, 0, 0, 0, 0, 1]).unwrap();
    }
    let broken = collection(&[Photo { file: "photos/b.png", bytes: &png, private: false }]);
    fs::rename(folder.path().join("public"), broken.path().join("public")).unwrap();
    let output = tellmark(&["--entries", "orrin"], broken.path());
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(1), "{told}");
    for part in
        ["error[photo-broken]: `photos/b.png` cannot be decoded to its end", "1912.toml:11:8", "nothing was published"]
    {
        assert!(told.contains(part), "no {part} in {told}");
    }
    assert_eq!(fs::read(broken.path().join("public/SHA256SUMS")).unwrap(), before);
    assert_eq!(tellmark(&["validate", "--entries", "orrin"], broken.path()).status.code(), Some(1));
}

#[test]
fn a_picture_that_may_not_be_published_is_in_a_private_site_only() {
    let secret = jpeg(1500, 1125, 42);
    let folder = collection(&[Photo { file: "lots/12.jpg", bytes: &secret, private: true }]);
    let page =
        |out: &str| fs::read_to_string(folder.path().join(out).join("issues/orrin/half-mark/1912.html")).unwrap();
    let said = |output: &Output| String::from_utf8_lossy(&output.stdout).into_owned();

    let public = tellmark(&["--entries", "orrin"], folder.path());
    assert!(public.status.success());
    assert!(
        said(&public).contains("1 private picture left out: no published file is one, or is made of one"),
        "{}",
        said(&public)
    );
    assert!(pictures(&folder.path().join("public")).is_empty());
    assert!(!page("public").contains("photo-p0") && !page("public").contains("not to be published"));
    // Not a word of it either: neither its name, nor its maker, nor its sum, wherever the entry is shown.
    let everywhere = |out: &str| -> String {
        let texts = ["knowledge.json", "written/issues/orrin/half-mark/1912.html", "issues/orrin/half-mark/1912.html"];
        texts.map(|file| fs::read_to_string(folder.path().join(out).join(file)).unwrap()).concat()
    };
    for word in ["lots/12.jpg", &Sum::of(&secret).to_string()] {
        assert!(!everywhere("public").contains(word), "{word}");
    }

    let refused = tellmark(&["--entries", "orrin", "--photos", "private"], folder.path());
    assert_eq!(refused.status.code(), Some(2));
    assert!(pictures(&folder.path().join("public")).is_empty());

    let private = tellmark(&["--entries", "orrin", "--photos", "private", "--out", "house"], folder.path());
    assert!(private.status.success(), "{}", String::from_utf8_lossy(&private.stderr));
    assert!(
        said(&private).contains("1 private picture included: this site is not to be published"),
        "{}",
        said(&private)
    );
    assert_eq!(pictures(&folder.path().join("house")).len(), 4);
    assert!(everywhere("house").contains("lots/12.jpg"));
    assert!(page("house").contains("id=\"photo-p0\"") && page("house").contains("Private: not to be published."));
    let index = fs::read_to_string(folder.path().join("house/index.html")).unwrap();
    assert!(!index.contains("not to be published"));

    // Compiled for the public over a private site, nothing private is left.
    assert!(tellmark(&["--entries", "orrin", "--out", "house"], folder.path()).status.success());
    assert!(pictures(&folder.path().join("house")).is_empty());
}

/// A file of the site that an entry calls private is found only when it is written; still it is the entry's error.
#[test]
fn a_clash_found_late_is_an_error_of_the_entries() {
    let folder = collection(&[Photo { file: "lots/12.jpg", bytes: b"private", private: true }]);
    published(folder.path());
    let sums = fs::read_to_string(folder.path().join("public/SHA256SUMS")).unwrap();
    let icon = sums.lines().find(|line| line.ends_with("look/icon.svg")).unwrap().split_once(' ').unwrap().0;
    let path = folder.path().join("orrin/issues/orrin/half-mark/1912.toml");
    let text = fs::read_to_string(&path).unwrap().replace(&Sum::of(b"private").to_string(), icon);
    fs::write(&path, text).unwrap();
    let refused = tellmark(&["--entries", "orrin"], folder.path());
    assert_eq!(refused.status.code(), Some(1));
    let said = String::from_utf8_lossy(&refused.stderr).into_owned();
    assert!(said.contains("look/icon.svg would publish a picture that an entry calls private"), "{said}");
    assert_eq!(fs::read_to_string(folder.path().join("public/SHA256SUMS")).unwrap(), sums);
}

/// The proof itself: whatever put a private picture, or a copy of one, among the files, it does not come out.
#[test]
fn a_private_picture_among_the_files_is_found_and_nothing_is_published() {
    let secret = jpeg(760, 570, 42);
    let folder = collection(&[Photo { file: "lots/12.jpg", bytes: &secret, private: true }]);
    let out = folder.path().join("public");
    published(folder.path());
    let before = fs::read(out.join("SHA256SUMS")).unwrap();
    let corpus = tellmark::check(load(&[folder.path().join("orrin")]).unwrap(), None).0;
    assert_eq!(corpus.private_sums(), [Sum::of(&secret)].into());

    let made_of_it = site(folder.path(), true);
    let refused = publish_without(&made_of_it, &out, &corpus.private_sums());
    assert!(matches!(refused, Err(PublishError::Private { .. })), "{refused:?}");
    let mut itself = OutFile::text("innocent.txt", "");
    itself.content = tellmark::out_file::Content::Bytes(secret);
    let refused = publish_without(&complete(vec![itself]), &out, &corpus.private_sums());
    assert!(matches!(refused, Err(PublishError::Private { path }) if path == "innocent.txt"));
    assert_eq!(fs::read(out.join("SHA256SUMS")).unwrap(), before);
}

#[test]
fn checks_and_pictures_lead_to_each_other_and_a_pair_stands_side_by_side() {
    let folder = lay(Path::new(""));
    let entry = folder.path().join("orrin/issues/orrin/half-mark/1911-k.toml");
    let sum = Sum::of(&fs::read(folder.path().join("orrin/photos/orrin/1911-k-mark.png")).unwrap());
    let more = format!(
        "\n[[photo]]\nid = \"false-one\"\nof = \"false\"\npair = \"true-one\"\nfile = \"photos/orrin/1911-k-mark.png\"\n\
         sha256 = \"{sum}\"\ncredit = \"drawn\"\nlicence = \"CC0-1.0\"\nshows = [\"mark-seat\"]\n\
         [[photo]]\nid = \"true-one\"\nof = \"genuine\"\ncaption = \"as it should be\"\nfile = \"photos/orrin/1911-k-mark.png\"\n\
         sha256 = \"{sum}\"\ncredit = \"drawn\"\nlicence = \"CC0-1.0\"\nshows = [\"mark-seat\"]\n"
    );
    fs::write(&entry, fs::read_to_string(&entry).unwrap() + &more).unwrap();
    let files = site(folder.path(), false);
    let page = files.iter().find(|file| file.path == "issues/orrin/half-mark/1911-k.html").unwrap();
    let page = String::from_utf8_lossy(page.bytes()).into_owned();
    let at = |part: &str| page.find(part).unwrap_or_else(|| panic!("no {part}"));
    let look = at("<article class=\"look\" id=\"mark-seat\">");
    let seen = &page[look..look + page[look..].find("</article>").unwrap()];
    assert!(
        seen.contains("<p class=\"seen\">")
            && seen.contains("<a href=\"#photo-true-one\">as it should be, beside a false piece</a>"),
        "{seen}"
    );
    assert!(!seen.contains("#photo-false-one"), "they stand side by side: {seen}");
    assert!(page.contains("Shows <a href=\"#mark-seat\">How does the mint mark sit in the field?</a>"));
    assert!(page.contains("alt=\"as it should be\""));
    assert!(
        at("class=\"couple\"") < at("id=\"photo-true-one\"")
            && at("id=\"photo-true-one\"") < at("id=\"photo-false-one\"")
    );
}
