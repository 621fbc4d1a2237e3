//! The command line: what each command takes, prints and returns.

#![allow(clippy::print_stdout, clippy::print_stderr, reason = "the command line is what prints")]

use std::path::PathBuf;
use std::process::ExitCode;

mod compile;

use clap::{Args, Parser, Subcommand, ValueEnum};
use tellmark::corpus::Corpus;
use tellmark::diagnostic::{Diagnostic, Severity, to_json_lines, to_sarif, to_text};
use tellmark::entry::Day;
use tellmark::preview;
use tellmark::reckon::coverage::coverage;
use tellmark::rules::undecodable;
use tellmark::schema;
use tellmark::search;
use tellmark::{check, draft, publish, source};

/// A bench reference on genuine, forged and altered nickel and silver coins, compiled into an offline site.
#[derive(Parser)]
#[command(
    version,
    about,
    after_help = "Exit codes: 0 done, 1 the entries have errors, 2 wrong usage, 3 the disk or the tool failed."
)]
struct Cli {
    #[command(subcommand)]
    command: Option<Command>,
    #[command(flatten)]
    compile: CompileArgs,
}

#[derive(Subcommand)]
enum Command {
    /// Entries into the site (what happens when no command is given)
    Compile(CompileArgs),
    /// All problems of the entries; nothing is written
    Validate(ValidateArgs),
    /// Search from the terminal, as the look-up in the pages does
    Find(FindArgs),
    /// What is thin: statements by basis, missing checks and pictures, stale reviews
    Coverage(CoverageArgs),
    /// A new entry that lacks only what the curator knows
    Draft(DraftArgs),
    /// The site on this machine only, recompiled on save, with problems shown in the page
    Preview(PreviewArgs),
    /// JSON Schema of each kind of entry, for editors
    Schema(SchemaArgs),
}

#[derive(Args, Clone)]
struct EntryArgs {
    /// Folder of a collection, or of collections; repeat it: later ones add to or override earlier ones
    #[arg(long = "entries", value_name = "DIR", default_value = "entries")]
    entries: Vec<PathBuf>,
    /// The day against which reviews are called stale, such as 2026-11-25
    #[arg(long, value_name = "DATE", value_parser = parse_day)]
    today: Option<Day>,
    /// Folder of pictures that may not be published, by the names that entries give in `file`; repeat it. What is compiled
    /// with one is private
    #[arg(long = "photos", value_name = "DIR")]
    photos: Vec<PathBuf>,
    /// Worker threads; as many as cores if not given
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256))]
    jobs: Option<u16>,
}

#[derive(Args, Clone)]
struct CompileArgs {
    #[command(flatten)]
    entries: EntryArgs,
    /// Folder to publish to; replaced as a whole, if this tool made it
    #[arg(long, value_name = "DIR", default_value = "public")]
    out: PathBuf,
    /// How problems and the summary are printed
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

#[derive(Args)]
struct ValidateArgs {
    #[command(flatten)]
    entries: EntryArgs,
    /// How problems are printed
    #[arg(long, value_enum, default_value_t = ProblemFormat::Text)]
    format: ProblemFormat,
    /// Warnings fail too
    #[arg(long)]
    strict: bool,
}

#[derive(Args)]
struct FindArgs {
    /// What to look up, such as 16d dime; `-` reads one query a line from the standard input
    #[arg(required = true)]
    query: Vec<String>,
    #[command(flatten)]
    entries: EntryArgs,
    /// How many to show
    #[arg(long, value_name = "N", default_value_t = 10)]
    limit: usize,
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

#[derive(Args)]
struct CoverageArgs {
    #[command(flatten)]
    entries: EntryArgs,
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

#[derive(Args)]
struct DraftArgs {
    /// country, series, issue, family, method, alteration or term
    #[arg(value_name = "KIND")]
    kind: String,
    /// Its id, such as us/dime/1919-d
    #[arg(value_name = "ID")]
    id: String,
    #[command(flatten)]
    entries: EntryArgs,
    /// Make the file instead of printing it; a file that is there is never replaced
    #[arg(long)]
    write: bool,
    /// With --write: the collection the file goes to; the first if not given
    #[arg(long, value_name = "NAME", requires = "write")]
    collection: Option<String>,
}

#[derive(Args)]
struct PreviewArgs {
    #[command(flatten)]
    entries: EntryArgs,
    /// Port of 127.0.0.1 to listen on; 0 takes any free one
    #[arg(long, value_name = "N", default_value_t = 4410)]
    port: u16,
}

#[derive(Args)]
struct SchemaArgs {
    /// One kind alone; all of them, by kind, if not given
    #[arg(value_name = "KIND")]
    kind: Option<String>,
}

#[derive(Clone, Copy, PartialEq, ValueEnum)]
enum Format {
    Text,
    Json,
}

#[derive(Clone, Copy, PartialEq, ValueEnum)]
enum ProblemFormat {
    Text,
    Json,
    Sarif,
}

const DONE: u8 = 0;
const ENTRIES_WRONG: u8 = 1;
const WRONG_USAGE: u8 = 2;
const TOOL_FAILED: u8 = 3;

pub fn run() -> ExitCode {
    let cli = Cli::parse();
    let command = cli.command.unwrap_or(Command::Compile(cli.compile));
    let outcome = match command {
        Command::Compile(args) => compile::compile(&args),
        Command::Validate(args) => validate(&args),
        Command::Find(args) => find(&args),
        Command::Coverage(args) => show_coverage(&args),
        Command::Draft(args) => make_draft(&args),
        Command::Preview(args) => show_preview(&args),
        Command::Schema(args) => show_schema(&args),
    };
    ExitCode::from(outcome.unwrap_or_else(|failure| {
        eprintln!("tellmark: {failure}");
        TOOL_FAILED
    }))
}

type Outcome = Result<u8, Box<dyn std::error::Error>>;

fn read(args: &EntryArgs) -> Result<(Corpus, Vec<Diagnostic>), Box<dyn std::error::Error>> {
    set_jobs(args)?;
    Ok(check(source::load_with(&args.entries, &args.photos)?, args.today))
}

fn set_jobs(args: &EntryArgs) -> Result<(), Box<dyn std::error::Error>> {
    if let Some(jobs) = args.jobs {
        rayon::ThreadPoolBuilder::new().num_threads(usize::from(jobs)).build_global()?;
    }
    Ok(())
}

fn validate(args: &ValidateArgs) -> Outcome {
    let (corpus, mut problems) = read(&args.entries)?;
    problems.extend(undecodable(&corpus, &publish::decode_all(&corpus)?));
    problems.sort_by_key(|problem| problem.primary);
    let (errors, warnings) = count(&problems);
    match args.format {
        ProblemFormat::Text => {
            print!("{}", to_text(&problems, &corpus.sources));
            eprintln!("tellmark: {} entries, {}", corpus.entries().len(), tally(errors, warnings));
        }
        ProblemFormat::Json => print!("{}", to_json_lines(&problems, &corpus.sources)),
        ProblemFormat::Sarif => print!("{}", to_sarif(&problems, &corpus.sources)),
    }
    let failed = errors > 0 || (args.strict && warnings > 0);
    Ok(if failed { ENTRIES_WRONG } else { DONE })
}

fn find(args: &FindArgs) -> Outcome {
    let (corpus, _) = read(&args.entries)?;
    let index = search::Index::new(&corpus)?;
    let form = if args.format == Format::Json { search::Answers::Json } else { search::Answers::Text };
    let typed = args.query.join(" ");
    let given = if typed == "-" { std::io::read_to_string(std::io::stdin())? } else { typed };
    print!("{}", search::answers(&index, given.lines(), args.limit, form)?);
    Ok(DONE)
}

fn show_coverage(args: &CoverageArgs) -> Outcome {
    let (corpus, problems) = read(&args.entries)?;
    let (errors, warnings) = count(&problems);
    let counted = coverage(&corpus, args.entries.today);
    match args.format {
        Format::Json => println!("{}", serde_json::to_string(&counted)?),
        Format::Text => {
            let bases = counted.bases;
            println!(
                "{} statements: {} read, {} from memory, {} common practice",
                bases.total(),
                bases.read,
                bases.memory,
                bases.common_practice
            );
            for (kind, entries) in &counted.entries_by_kind {
                println!("{entries:>5} {kind}");
            }
            for one in counted.entries.iter().filter(|one| !one.thin.is_empty()) {
                println!("{}: {}", one.id, one.thin.join(", "));
            }
        }
    }
    if errors > 0 {
        eprintln!("tellmark: {}; see `tellmark validate`", tally(errors, warnings));
        return Ok(ENTRIES_WRONG);
    }
    Ok(DONE)
}

fn make_draft(args: &DraftArgs) -> Outcome {
    let made = draft::kind(&args.kind).and_then(|kind| Ok((kind, draft::id(kind, &args.id)?)));
    let (kind, id) = match made {
        Ok(named) => named,
        Err(refusal) => return Ok(refused(&refusal)),
    };
    // Problems of other entries are no hindrance to a new one.
    let (corpus, _) = read(&args.entries)?;
    let text = match draft::draft(&corpus, kind, &id) {
        Ok(text) => text,
        Err(refusal) => return Ok(refused(&refusal)),
    };
    if !args.write {
        print!("{text}");
        return Ok(DONE);
    }
    let collections = &corpus.sources.collections;
    let chosen = match &args.collection {
        Some(name) => collections.iter().find(|collection| collection.name == *name),
        None => collections.first(),
    };
    let Some(chosen) = chosen else {
        let names: Vec<&str> = collections.iter().map(|collection| collection.name.as_str()).collect();
        eprintln!("tellmark: no such collection; it can be: {}", names.join(", "));
        return Ok(WRONG_USAGE);
    };
    let path = chosen.path.join(format!("{id}.toml"));
    publish::write_new(&path, &text)?;
    println!("{}", path.display());
    Ok(DONE)
}

fn refused(refusal: &draft::Refusal) -> u8 {
    eprintln!("tellmark: {refusal}");
    WRONG_USAGE
}

fn show_preview(args: &PreviewArgs) -> Outcome {
    set_jobs(&args.entries)?;
    eprintln!("tellmark: reading entries");
    let preview = preview::start(&preview::Options {
        roots: args.entries.entries.clone(),
        photos: args.entries.photos.clone(),
        port: args.port,
        today: args.entries.today,
    })?;
    println!("open http://{}/ (Ctrl-C stops the preview)", preview.address());
    preview.until_stopped(|now| match &now.failure {
        Some(why) => eprintln!("tellmark: {why}"),
        None => eprintln!("tellmark: {} entries, {}", now.entries, tally(now.errors, now.warnings)),
    });
    Ok(DONE)
}

fn show_schema(args: &SchemaArgs) -> Outcome {
    let printed = match &args.kind {
        None => schema::all(),
        Some(word) => match schema::of(word) {
            Some(one) => one,
            None => {
                eprintln!("tellmark: `{word}` has no schema; it can be: {}", schema::KINDS.join(", "));
                return Ok(WRONG_USAGE);
            }
        },
    };
    println!("{}", serde_json::to_string_pretty(&printed)?);
    Ok(DONE)
}

fn count(problems: &[Diagnostic]) -> (usize, usize) {
    let errors = problems.iter().filter(|problem| problem.severity == Severity::Error).count();
    (errors, problems.len() - errors)
}

fn tally(errors: usize, warnings: usize) -> String {
    let many = |count: usize, word: &str| format!("{count} {word}{}", if count == 1 { "" } else { "s" });
    format!("{}, {}", many(errors, "error"), many(warnings, "warning"))
}

fn parse_day(text: &str) -> Result<Day, String> {
    Day::parse(text).ok_or_else(|| "write a date such as 2026-11-25".to_string())
}
