//! Where the time of a whole build goes, as ratios within one run: `cargo bench`.
//!
//! The yardstick is reading every entry as plain TOML with the same parser: what no build can do without. Nothing here
//! passes or fails; the numbers are for whoever changes a step.

#![allow(clippy::print_stdout)]

use std::hint::black_box;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use tellmark::reckon::hosts;
use tellmark::render::{Theme, pages};
use tellmark::search::{Answers, Index, answers, files};
use tellmark::source::load;
use tellmark::{check, publish, site};

const RUNS: usize = 7;
/// One look-up of each shape that examiners type.
const QUERIES: &[&str] =
    &["16d dime", "1918/7 nickel", "3 legs 37", "18 over 17", "1893s morgan", "seam at foot", "mercry dime"];

fn main() {
    let roots = [PathBuf::from("entries")];
    let loaded = || load(&roots).expect("the entries can be read");
    let (corpus, _) = check(loaded(), None);
    let theme = Theme::built_in().expect("the theme is whole");
    let index = Index::new(&corpus).expect("the index can be made");
    let out = tempfile::tempdir().expect("a temporary folder");
    let finished = site(&corpus, &theme, None).expect("pages fit");

    let yardstick = median(|| {
        for file in &loaded().sources.files {
            black_box(toml::from_str::<toml::Table>(&file.text).expect("well-formed"));
        }
    });
    println!("{:<44} {:>9}  {:>6}", "step", "median", "ratio");
    let say = |step: &str, time: Duration| {
        println!(
            "{step:<44} {:>6.1} ms  {:>6.2}",
            time.as_secs_f64() * 1e3,
            time.as_secs_f64() / yardstick.as_secs_f64()
        );
    };
    say("every entry as plain TOML (yardstick)", yardstick);
    say("entries into a checked corpus", median(|| drop(black_box(check(loaded(), None)))));
    say("hosts of every issue", median(|| drop(black_box(hosts::all(&corpus)))));
    let all = hosts::all(&corpus);
    say("corpus into pages", median(|| drop(black_box(pages(&corpus, &theme, &all, None).expect("pages fit")))));
    say(
        "corpus into the search index and its files",
        median(|| {
            let index = Index::new(&corpus).expect("the index can be made");
            drop(black_box(files(&index).expect("shards fit")));
        }),
    );
    say(
        "files onto the disk, read back and swapped",
        median(|| {
            publish::publish(&finished, &out.path().join("public")).expect("published");
        }),
    );
    say(
        "all of it",
        median(|| {
            let (corpus, _) = check(loaded(), None);
            let files = site(&corpus, &theme, None).expect("pages fit");
            publish::publish(&files, &out.path().join("public")).expect("published");
        }),
    );
    let one = median(|| {
        black_box(answers(&index, QUERIES.iter().copied(), 10, Answers::Json).expect("answers"));
    });
    say("one look-up, of seven shapes on average", one / QUERIES.len() as u32);
}

/// The middle of several runs, after one that does not count.
fn median(mut step: impl FnMut()) -> Duration {
    step();
    let mut times: Vec<Duration> = (0..RUNS)
        .map(|_| {
            let start = Instant::now();
            step();
            start.elapsed()
        })
        .collect();
    times.sort();
    times[RUNS / 2]
}
