//! `compile`: entries → the site, and what is said about it.

#![allow(clippy::print_stdout, clippy::print_stderr, reason = "the command line is what prints")]

use std::collections::BTreeSet;
use std::time::Instant;

use tellmark::corpus::Corpus;
use tellmark::diagnostic::{Diagnostic, to_json_lines, to_text};
use tellmark::publish;
use tellmark::reckon::coverage::coverage;
use tellmark::render::Theme;
use tellmark::rules::undecodable;
use tellmark::site;

use super::{CompileArgs, DONE, ENTRIES_WRONG, Format, Outcome, WRONG_USAGE, count, read, tally};

pub fn compile(args: &CompileArgs) -> Outcome {
    if !args.entries.photos.is_empty() && args.out.file_name().is_some_and(|name| name == "public") {
        eprintln!("tellmark: with --photos the site is private; name a folder for it with --out, other than `public`");
        return Ok(WRONG_USAGE);
    }
    let start = Instant::now();
    let progress = |line: &str| {
        if args.format == Format::Text {
            eprintln!("tellmark: {line}");
        }
    };
    progress("reading entries");
    let (corpus, problems) = read(&args.entries)?;
    show(&problems, &corpus, args.format);
    let (errors, warnings) = count(&problems);
    if errors > 0 {
        eprintln!("tellmark: {}; nothing was published", tally(errors, warnings));
        return Ok(ENTRIES_WRONG);
    }
    progress(&format!("making pages from {} entries", corpus.entries().len()));
    let theme = Theme::built_in()?;
    let files = site(&corpus, &theme, args.entries.today)?;
    progress(&format!("writing {} files", files.len()));
    let kept_out = if corpus.sources.private { BTreeSet::new() } else { corpus.private_sums() };
    let published = match publish::publish_without(&files, &args.out, &kept_out) {
        Err(publish::PublishError::Pictures { flaws }) => {
            let problems = undecodable(&corpus, &flaws);
            show(&problems, &corpus, args.format);
            eprintln!("tellmark: {}; nothing was published", tally(problems.len(), warnings));
            return Ok(ENTRIES_WRONG);
        }
        // Two entries disagree about a picture: theirs to mend, as any other error in them.
        Err(refused @ publish::PublishError::Private { .. }) => {
            eprintln!("tellmark: {refused}");
            return Ok(ENTRIES_WRONG);
        }
        published => published?,
    };
    let private = Private::count(&corpus);
    let pages = files.iter().filter(|file| file.path.ends_with(".html")).count();
    let bases = coverage(&corpus, args.entries.today).bases;
    let seconds = start.elapsed().as_secs_f64();
    match args.format {
        Format::Json => {
            let summary = serde_json::json!({
                "entries": corpus.entries().len(), "statements": bases, "pages": pages, "files": published.files,
                "bytes": published.bytes, "warnings": warnings, "seconds": seconds, "open": args.out.join("index.html"),
                "pictures": { "made": published.made, "kept": published.kept },
                "private": { "included": private.included, "left_out": private.left_out },
            });
            println!("{summary}");
        }
        Format::Text => {
            println!(
                "{} entries; {} statements: {} read, {} from memory, {} common practice",
                corpus.entries().len(),
                bases.total(),
                bases.read,
                bases.memory,
                bases.common_practice
            );
            println!(
                "{pages} pages in {} files, {:.1} MB, {seconds:.2} s; {warnings} warnings",
                published.files,
                published.bytes as f64 / 1e6
            );
            if published.made + published.kept > 0 {
                println!(
                    "{} files of pictures: {} made, {} as they were",
                    published.made + published.kept,
                    published.made,
                    published.kept
                );
            }
            private.tell(!corpus.sources.private);
            println!("open {}", args.out.join("index.html").display());
        }
    }
    Ok(DONE)
}

fn show(problems: &[Diagnostic], corpus: &Corpus, format: Format) {
    match format {
        Format::Text => eprint!("{}", to_text(problems, &corpus.sources)),
        Format::Json => print!("{}", to_json_lines(problems, &corpus.sources)),
    }
}

/// Pictures that may not be published.
struct Private {
    included: usize,
    left_out: usize,
}

impl Private {
    fn count(corpus: &Corpus) -> Private {
        let private: Vec<_> = corpus.photos().filter(|(_, photo)| photo.private).collect();
        let included = private.iter().filter(|(entry, photo)| corpus.shown(entry, photo).is_some()).count();
        Private { included, left_out: private.len() - included }
    }

    fn tell(&self, public: bool) {
        let many = |count: usize| format!("{count} private picture{}", if count == 1 { "" } else { "s" });
        if self.included > 0 {
            println!("{} included: this site is not to be published", many(self.included));
        }
        if self.left_out > 0 && public {
            println!("{} left out: no published file is one, or is made of one", many(self.left_out));
        } else if self.left_out > 0 {
            println!("{} not found in the folders given", many(self.left_out));
        }
    }
}
