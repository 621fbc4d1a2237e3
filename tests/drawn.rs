//! The demonstration's photographs are what `tests/draw/` draws, and what is said of them is true.
//!
//! To draw them anew: `cargo run --release --example draw-orrin`, then carry the sums into the entries' `[[photo]]`.

mod draw;

use draw::numbers::{angle, exp, ln, pow, sin_cos};
use draw::scenes::{Scene, all};
use serde_json::Value;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fs;

const PICTURES: &str = "entries/demo/photos/orrin";

fn sum(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// File → sum, as the program wrote them.
fn sums() -> BTreeMap<String, String> {
    let text = fs::read_to_string("tests/draw/SHA256SUMS").expect("the sums are committed");
    text.lines().filter_map(|line| line.split_once("  ")).map(|(sum, file)| (file.into(), sum.into())).collect()
}

fn committed(file: &str) -> Vec<u8> {
    fs::read(format!("{PICTURES}/{file}")).unwrap_or_else(|_| panic!("{file} is committed"))
}

fn truth_of(scene: &Scene) -> Value {
    serde_json::from_str(&draw::truth::truth(scene)).expect("truth is JSON")
}

/// The shades of a picture, a byte each, in rows; and its width.
fn shades(bytes: &[u8]) -> (Vec<u8>, usize) {
    let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().expect("a PNG");
    let mut out = vec![0; reader.output_buffer_size().expect("a size")];
    let info = reader.next_frame(&mut out).expect("a picture");
    assert_eq!(info.bit_depth, png::BitDepth::Eight);
    (out, info.width as usize)
}

#[test]
fn every_scene_is_committed_under_its_sum_and_nothing_else_is() {
    let drawn: Vec<String> = {
        let mut names: Vec<String> = all().iter().map(|scene| format!("{}.png", scene.name)).collect();
        names.sort();
        names
    };
    let sums = sums();
    assert_eq!(drawn, sums.keys().cloned().collect::<Vec<_>>());
    let mut found: Vec<String> = fs::read_dir(PICTURES)
        .expect("the pictures are there")
        .map(|file| file.expect("a file").file_name().to_string_lossy().into_owned())
        .collect();
    found.sort();
    assert_eq!(drawn, found);
    for (file, known) in &sums {
        assert_eq!(&sum(&committed(file)), known, "{file}");
    }
}

#[test]
fn the_set_is_small_enough_to_commit() {
    let bytes: usize = sums().keys().map(|file| committed(file).len()).sum();
    assert!(bytes < 4_000_000, "{bytes} bytes");
}

/// One of each kind that is quick to draw: an added mark, and an edge; each in a thread, for nothing here is optimised.
#[test]
fn drawn_again_a_picture_has_the_committed_bytes() {
    let again = |name: &'static str| {
        move || {
            let scene = all().into_iter().find(|scene| scene.name == name).expect("a scene of that name");
            let (now, then) = (scene.picture(), committed(&format!("{name}.png")));
            if now != then {
                let same = shades(&now) == shades(&then);
                panic!("{name}: {}", if same { "packed differently, the same shades" } else { "other shades" });
            }
        }
    };
    let threads = ["1911-k-mark-cemented", "chain-edge"].map(|name| std::thread::spawn(again(name)));
    assert!(threads.map(std::thread::JoinHandle::join).iter().all(Result::is_ok));
}

#[test]
fn the_committed_truth_is_what_the_constants_say() {
    for scene in all() {
        let file = format!("tests/draw/truth/{}.json", scene.name);
        let known = fs::read_to_string(&file).unwrap_or_default();
        assert!(known == draw::truth::truth(&scene), "{file}");
    }
}

/// Looked up in the pictures themselves: the coin ends where truth puts its rim, a circle or, tilted, an ellipse.
#[test]
fn whole_coins_end_at_the_rim_told() {
    let mut looked_at = 0;
    for scene in all() {
        let truth = truth_of(&scene);
        if truth["rim_in_picture"] != true {
            continue;
        }
        looked_at += 1;
        let (shades, width) = shades(&committed(&format!("{}.png", scene.name)));
        let number = |value: &Value| value.as_f64().expect("a number");
        let (x, y) = (number(&truth["centre_px"][0]), number(&truth["centre_px"][1]));
        let radius = number(&truth["radius_px"]);
        let (short, axis) = match &truth["ellipse"] {
            Value::Null => (radius, 0.0),
            ellipse => (number(&ellipse["semi_minor_px"]), number(&ellipse["major_axis_deg"])),
        };
        let radians = |degrees: f64| sin_cos(degrees / 180.0 * std::f64::consts::PI);
        let ((up, along), share) = (radians(axis), short / radius);
        let at = |far: f64, (sin, cos): (f64, f64)| {
            let (u, v) = (far * cos, far * sin * share);
            let (px, py) = (x + u * along - v * up, y + u * up + v * along);
            f64::from(shades[py as usize * width + px as usize])
        };
        let edges = (0..360).filter(|degrees| {
            let way = radians(f64::from(*degrees));
            at(radius - 2.0, way) > at(radius + 1.5, way) + 1.0
        });
        let count = edges.count();
        assert!(count > 350, "{}: an edge in {count} of 360 directions", scene.name);
    }
    assert_eq!(looked_at, 8);
}

/// Two forgeries from one pair of dies: the similarity told takes each repeating mark of one to that of the other.
#[test]
fn the_similarity_told_takes_one_suspect_to_the_other() {
    let find = |name| truth_of(&all().into_iter().find(|scene| scene.name == name).expect("a scene of that name"));
    let (first, second) = (find("suspect-1911-obverse"), find("suspect-1907-obverse"));
    let number = |value: &Value| value.as_f64().expect("a number");
    let rule = &second["from_picture"];
    let (a, b) = (number(&rule["a"]), number(&rule["b"]));
    let (tx, ty) = (number(&rule["translation_px"][0]), number(&rule["translation_px"][1]));
    let marks = |truth: &Value| truth["repeating_marks"].as_array().expect("marks").clone();
    assert_eq!(marks(&first).len(), 8);
    for (one, other) in marks(&first).iter().zip(marks(&second)) {
        assert_eq!(one["id"], other["id"]);
        let (x, y) = (number(&one["px"][0]), number(&one["px"][1]));
        let (u, v) = (a * x - b * y + tx, b * x + a * y + ty);
        let off = (u - number(&other["px"][0])).hypot(v - number(&other["px"][1]));
        assert!(off < 0.002, "{}: {off} px", one["id"]);
    }
}

/// Our own functions against those of the standard library.
#[test]
fn numbers_without_a_platform_are_those_of_the_library() {
    for i in -400..400 {
        let x = f64::from(i) * 0.0731;
        let (sin, cos) = sin_cos(x);
        assert!((sin - x.sin()).abs() < 1e-12 && (cos - x.cos()).abs() < 1e-12, "angle {x}");
        assert!((exp(x) / x.exp() - 1.0).abs() < 1e-12, "exp {x}");
        let positive = x.abs() + 1e-6;
        assert!((ln(positive) - positive.ln()).abs() < 1e-12, "ln {positive}");
        assert!((pow(positive, 1.4) / positive.powf(1.4) - 1.0).abs() < 1e-11, "pow {positive}");
        let (far, near) = (f64::from(i % 37) + 0.3, f64::from(i % 11) - 4.6);
        assert!((angle(far, near) - far.atan2(near)).abs() < 1e-12, "angle of {far}, {near}");
    }
}
