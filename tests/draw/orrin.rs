//! Draws the photographs of the demonstration collection: invented coins as height fields, lit by one low lamp, each
//! with a file that says what is truly to be seen. Same bytes every time and everywhere: no clock, no randomness, no
//! function that platforms round differently (`draw::numbers`).
//!
//! `cargo run --release --example draw-orrin [--only NAME]` writes `entries/demo/photos/orrin/*.png`,
//! `tests/draw/truth/*.json` and `tests/draw/SHA256SUMS`, and prints the sums.

#![allow(clippy::print_stdout, reason = "it says what it drew")]

#[path = "mod.rs"]
mod draw;

use sha2::{Digest, Sha256};
use std::fmt::Write as _;
use std::fs;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

fn main() {
    let only: Option<String> = std::env::args().skip_while(|word| word != "--only").nth(1);
    let scenes: Vec<draw::scenes::Scene> = draw::scenes::all()
        .into_iter()
        .filter(|scene| only.as_ref().is_none_or(|name| scene.name.contains(name)))
        .collect();
    for folder in ["entries/demo/photos/orrin", "tests/draw/truth"] {
        fs::create_dir_all(folder).expect("the folder can be made");
    }
    let (next, sums) = (AtomicUsize::new(0), Mutex::new(Vec::new()));
    std::thread::scope(|scope| {
        for _ in 0..std::thread::available_parallelism().map_or(1, usize::from) {
            scope.spawn(|| {
                while let Some(scene) = scenes.get(next.fetch_add(1, Ordering::Relaxed)) {
                    let line = draw(scene);
                    sums.lock().expect("no thread has failed").push(line);
                }
            });
        }
    });
    let mut sums = sums.into_inner().expect("no thread has failed");
    sums.sort_by(|a: &String, b| a[66..].cmp(&b[66..]));
    let text = sums.concat();
    print!("{text}");
    if only.is_none() {
        fs::write("tests/draw/SHA256SUMS", text).expect("the sums can be written");
    }
}

/// Writes a picture and its truth; gives its line of the sums.
fn draw(scene: &draw::scenes::Scene) -> String {
    let bytes = scene.picture();
    let file = format!("{}.png", scene.name);
    fs::write(format!("entries/demo/photos/orrin/{file}"), &bytes).expect("a photograph can be written");
    fs::write(format!("tests/draw/truth/{}.json", scene.name), draw::truth::truth(scene))
        .expect("truth can be written");
    let mut line = String::new();
    for byte in Sha256::digest(&bytes) {
        write!(line, "{byte:02x}").expect("text can be written");
    }
    writeln!(line, "  {file}").expect("text can be written");
    line
}
