//! `tellmark draft`: for every kind the draft reads, and its only problems are the places left for the curator.

use std::path::PathBuf;

use tellmark::corpus::Corpus;
use tellmark::diagnostic::Report;
use tellmark::entry::Kind;
use tellmark::source::{LineIndex, Loaded, SourceFile};
use tellmark::{check, corpus, draft, source};

fn reference() -> Loaded {
    source::load(&[PathBuf::from("entries/reference")]).unwrap()
}

fn assembled(loaded: Loaded) -> Corpus {
    corpus::assemble(loaded, &mut Report::default())
}

fn draft_of(corpus: &Corpus, kind: &str, id: &str) -> (String, String) {
    let kind = draft::kind(kind).unwrap();
    let id = draft::id(kind, id).unwrap();
    (id.to_string(), draft::draft(corpus, kind, &id).unwrap_or_else(|refusal| panic!("{refusal}")))
}

fn refusal(corpus: &Corpus, kind: &str, id: &str) -> String {
    let made = draft::kind(kind).and_then(|kind| draft::draft(corpus, kind, &draft::id(kind, id)?));
    made.expect_err("a refusal").to_string()
}

/// The drafts added to the reference as one more collection's files would be, and the problems of each: `code message`.
fn problems(drafts: &[(String, String)]) -> Vec<Vec<String>> {
    let mut loaded = reference();
    let first = loaded.sources.files.len();
    for (id, text) in drafts {
        loaded.sources.files.push(SourceFile {
            shown: id.clone(),
            stem: id.clone(),
            collection: 0,
            lines: LineIndex::new(text),
            text: text.clone(),
        });
    }
    let (_, found) = check(loaded, None);
    let of = |file: usize| {
        let of_file = found.iter().filter(|problem| problem.primary.file.0 as usize == first + file);
        of_file.map(|problem| format!("{} {}", problem.code.name(), problem.message)).collect()
    };
    (0..drafts.len()).map(of).collect()
}

const REVIEWED: &str = "missing-key this entry has no `reviewed`";
const TEXT: &str = "bad-value `text` is empty";
const BASIS: &str = "basis-missing `basis` is an empty list: the statement stands on nothing";
const NAME: &str = "bad-value `name` is empty";

#[test]
fn the_only_problems_of_a_draft_are_the_places_left_for_the_curator() {
    let corpus = assembled(reference());
    let cases: &[(&str, &str, &[&str])] = &[
        ("issue", "us/dime/1919-d", &[REVIEWED, TEXT, BASIS]),
        ("issues", "issues/us/five-cents/1942", &[REVIEWED, TEXT, BASIS]),
        (
            "series",
            "us/quarter-of-a-dime-1890-1891",
            &[NAME, "bad-value `denomination` is empty", REVIEWED, TEXT, BASIS, BASIS, BASIS, BASIS],
        ),
        (
            "series",
            "us/quarter-of-a-dime",
            &[
                NAME,
                "bad-value `denomination` is empty",
                "missing-key this entry has no `years`",
                REVIEWED,
                TEXT,
                BASIS,
                BASIS,
                "missing-key this standard has no `from`",
                "missing-key this standard has no `to`",
                BASIS,
                BASIS,
            ],
        ),
        ("family", "us/workshop-dies", &[NAME, "missing-key this entry has no `methods`", REVIEWED, TEXT, BASIS]),
        ("method", "struck-clay-dies", &[NAME, "bad-value `group` cannot be \"\"", REVIEWED, TEXT, BASIS, TEXT, BASIS]),
        ("alteration", "mark-added-by-rivet", &[NAME, REVIEWED, TEXT, BASIS, TEXT, BASIS]),
        (
            "alteration",
            "rim-rebuilt",
            &[NAME, "bad-value `operation` cannot be \"\"", REVIEWED, TEXT, BASIS, TEXT, BASIS],
        ),
        ("country", "zz", &[NAME, "bad-value `city` is empty", "missing-key this mint has no `years`", BASIS]),
        ("term", "ghost-legend", &[TEXT, BASIS]),
    ];
    for kind in Kind::ALL {
        assert!(cases.iter().any(|case| draft::kind(case.0) == Ok(*kind)), "no case for {}", kind.word());
    }
    let drafts: Vec<_> = cases.iter().map(|(kind, id, _)| draft_of(&corpus, kind, id)).collect();
    for ((found, (_, id, expected)), (_, text)) in problems(&drafts).into_iter().zip(cases).zip(&drafts) {
        let (mut found, mut wanted) = (found.clone(), expected.to_vec());
        found.sort();
        wanted.sort();
        assert_eq!(found, wanted, "{id}:\n{text}");
        assert_eq!(found.len(), expected.len());
        for line in text.lines().filter(|line| line.ends_with("''''''") || line.ends_with("\"\"")) {
            assert!(
                line.starts_with('#') || line.starts_with("mark ") || line.starts_with("mint "),
                "{line} says not what to put"
            );
        }
    }
}

#[test]
fn what_a_draft_leaves_out_is_known_to_the_reader_once_it_is_taken_in() {
    let corpus = assembled(reference());
    let cases = [
        ("issue", "us/dime/1919-d"),
        ("series", "us/quarter-of-a-dime"),
        ("family", "us/workshop-dies"),
        ("method", "struck-clay-dies"),
        ("alteration", "rim-rebuilt"),
        ("country", "zz"),
        ("term", "ghost-legend"),
    ];
    let taken_in: Vec<_> = cases
        .iter()
        .map(|(kind, id)| {
            let (id, text) = draft_of(&corpus, kind, id);
            let lines = text.lines().map(|line| match line.strip_prefix('#') {
                Some(rest) if !rest.starts_with(' ') => rest,
                _ => line,
            });
            (id, lines.collect::<Vec<_>>().join("\n"))
        })
        .collect();
    for (found, (id, text)) in problems(&taken_in).iter().zip(&taken_in) {
        for problem in found {
            let foreign = ["unknown-key", "syntax", "wrong-type"].iter().any(|code| problem.starts_with(code));
            assert!(!foreign, "{id}: {problem}\n{text}");
        }
    }
}

#[test]
fn an_issue_finds_its_series_row_its_hosts_and_the_families_of_its_series() {
    let corpus = assembled(reference());
    let (_, text) = draft_of(&corpus, "issue", "us/dime/1919-d");
    for part in [
        "series   = \"us/dime-winged-head-1916-1945\"",
        "year     = 1919",
        "mint     = \"D\"",
        "# 1919: D added; 35",
        "#pattern = \"mark-added\"     # or ",
        "#hosts   = [\"1919\"",
        "# 1918-D: 8 into 9 (lower left stroke removed); ",
        "#pattern = \"digit-cut-down\"",
        "#family = \"us/",
    ] {
        assert!(text.contains(part), "no {part} in:\n{text}");
    }
}

/// Ids of issues on file are found again when the issues are not: by year, mint and what the id says of the variety.
#[test]
fn the_series_of_an_issue_is_told_from_its_id() {
    let whole = assembled(reference());
    let mut loaded = reference();
    loaded.sources.files.retain(|file| !file.stem.starts_with("issues/"));
    let bare = assembled(loaded);
    let (mut right, mut all, mut wrong) = (0, 0, Vec::new());
    for (entry, issue) in whole.issues() {
        all += 1;
        let series = whole.series_of(issue).unwrap().0.id.below_kind().to_string();
        let wanted = [
            format!("series   = \"{series}\"\nyear     = {}\nmint     = \"{}\"\n", issue.row.year, issue.row.mint),
            format!("variety  = \"{}\"\n", issue.row.variety),
        ];
        match draft::draft(&bare, Kind::Issue, &entry.id) {
            Ok(text) if text.contains(&wanted[0]) && (issue.row.variety.is_empty() || text.contains(&wanted[1])) => {
                right += 1;
            }
            Ok(text) => wrong.push(format!(
                "{}: wanted {} {}\n{}",
                entry.id,
                series,
                issue.row,
                text.lines().take(9).collect::<Vec<_>>().join("\n")
            )),
            Err(refusal) => wrong.push(format!("{}: {refusal}", entry.id)),
        }
    }
    assert!(right * 100 >= all * 95, "{right} of {all}\n{}", wrong.join("\n"));
}

#[test]
fn a_bad_kind_or_id_says_what_to_type() {
    let corpus = assembled(reference());
    for (kind, id, parts) in [
        ("isue", "us/dime/1919-d", ["`isue` is no kind of entry", "did you mean issue?"]),
        ("coin", "x", ["`coin` is no kind of entry", "write one of: country, series, issue, "]),
        ("issue", "us/dime", ["is not how an entry of this kind is named", "tellmark draft issue us/dime/1921-d"]),
        ("issue", "US/Dime/1919-D", ["cannot be the id", "lower-case"]),
        ("term", "issues/us/dime/1919-d", ["another kind", "tellmark draft issue issues/us/dime/1919-d"]),
        (
            "issue",
            "us/dime/1916-d",
            ["has an entry already: entries/reference/issues/us/dime/1916-d.toml", "overrides = true"],
        ),
        ("issue", "us/dime/1922-d", ["no series list has a row", "dime-winged-head-1916-1945 (1916 to 1945)"]),
        ("issue", "us/dime/1921-z", ["no series list has a row", "has 1921, 1921-D"]),
        ("issue", "us/dimme/1919-d", ["the denomination `dimme`", "did you mean dime?"]),
        ("issue", "uk/crown/1847", ["no country `uk`", "tellmark draft country uk"]),
        ("issue", "us/dime/d-1919", ["does not begin with a year", "us/five-cents/1918-d-8-over-7"]),
        ("series", "zz/mark", ["no country `zz`", "tellmark draft country zz"]),
    ] {
        let said = refusal(&corpus, kind, id);
        for part in parts {
            assert!(said.contains(part), "no `{part}` in: {said}");
        }
    }
}
