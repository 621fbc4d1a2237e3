//! What holds for any input.

use proptest::prelude::*;
use tellmark::entry::{EntryId, RowLabel, read};
use tellmark::render::href;
use tellmark::source::{FileId, LineIndex, SourceFile};

/// Reads a text as each kind of file; a panic fails the test.
fn read_as_every_kind(text: &str) {
    for stem in [
        "collection",
        "sources",
        "countries/x",
        "series/x/y",
        "issues/x/y/1911",
        "families/x/y",
        "methods/x",
        "alterations/x",
        "glossary/x",
        "nothing/x",
        "x",
    ] {
        let file = SourceFile {
            shown: format!("{stem}.toml"),
            stem: stem.into(),
            collection: 0,
            text: text.into(),
            lines: LineIndex::new(text),
        };
        let (_, report) = read(FileId(0), &file);
        for problem in report.finish() {
            assert!(problem.primary.end <= text.len() && problem.primary.start <= problem.primary.end, "{problem:?}");
            file.lines.position(text, problem.primary.start);
        }
    }
}

/// Words that entries are made of, so that random texts get past the first key.
fn word() -> impl Strategy<Value = String> {
    const WORDS: &[&str] = &[
        "series",
        "year",
        "mint",
        "reviewed",
        "summary",
        "text",
        "basis",
        "where",
        "face",
        "clock",
        "reach",
        "to",
        "check",
        "check.finding",
        "expect",
        "genuine",
        "self",
        "\"family:a\"",
        "standard",
        "weight",
        "value",
        "unit",
        "alloy",
        "struck",
        "rows",
        "digits",
        "landmark",
        "kind",
        "d",
        "photo",
        "see",
        "hosts",
        "alteration",
        "figure",
        "=",
        "= \"common-practice\"",
        "= 1911",
        "= 2026-04-18",
        "= [[1911, \"K\", 0]]",
        "= {",
        "}",
        "[",
        "]",
        "[[",
        "]]",
        "'''",
        "\"",
        "\n",
        ",",
        ".",
        "= 0x",
        "= nan",
        "= inf",
        "= -1",
        "é",
        "= 99999999999999999999",
        "#",
    ];
    prop::sample::select(WORDS).prop_map(String::from)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn reading_any_text_never_panics(text in "\\PC{0,200}") {
        read_as_every_kind(&text);
    }

    #[test]
    fn reading_any_bytes_that_are_text_never_panics(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        read_as_every_kind(&String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn reading_a_heap_of_words_never_panics(words in prop::collection::vec(word(), 0..60)) {
        read_as_every_kind(&words.join(" "));
        read_as_every_kind(&words.join("\n"));
    }

    #[test]
    fn an_entry_cut_or_changed_anywhere_never_panics(cut in 0usize..2000, byte in any::<u8>()) {
        let whole = include_str!("good/orrin/issues/orrin/half-mark/1911-k.toml").as_bytes();
        let cut = cut % whole.len();
        read_as_every_kind(&String::from_utf8_lossy(&whole[..cut]));
        let mut changed = whole.to_vec();
        changed[cut] = byte;
        read_as_every_kind(&String::from_utf8_lossy(&changed));
    }

    #[test]
    fn a_link_leads_back_to_its_target(from in path(), to in path(), anchor in prop::option::of("[a-z]{1,5}")) {
        let target = anchor.as_ref().map_or(to.clone(), |anchor| format!("{to}#{anchor}"));
        let link = href(&from, &target);
        prop_assert!(!link.starts_with('/') && !link.is_empty());
        prop_assert_eq!(resolve(&from, &link), target);
    }

    #[test]
    fn an_id_is_what_it_was_read_from_or_nothing(text in "[a-z0-9/.-]{0,20}|\\PC{0,12}") {
        if let Some(id) = EntryId::parse(&text) {
            prop_assert_eq!(id.as_str(), text.as_str());
            for word in text.split('/') {
                prop_assert!(!word.is_empty() && word.len() <= 64 && !word.contains('.') && !word.starts_with('-'));
                prop_assert!(word.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-'));
            }
            prop_assert!(text.ends_with(id.stem()) && text.ends_with(id.below_kind()));
        }
    }

    #[test]
    fn words_joined_by_hyphens_and_folders_are_an_id(text in "([a-z0-9]{1,4}(-[a-z0-9]{1,4}){0,3}/){0,3}[a-z0-9]{1,8}") {
        prop_assert!(EntryId::parse(&text).is_some());
    }

    #[test]
    fn a_row_reads_as_it_is_shown(year in 1000i32..2100, mint in "[A-Z]{0,2}", variety in "([a-z0-9]{1,5}( [a-z0-9]{1,5}){0,2})?") {
        let label = RowLabel { year, mint, variety };
        prop_assert_eq!(RowLabel::parse(&label.to_string()), Some(label));
    }

    #[test]
    fn a_position_is_within_its_text(text in "(a|é|€|\r\n|\n){0,40}", offset in 0usize..60) {
        let lines = LineIndex::new(&text);
        let (line, column) = lines.position(&text, offset);
        prop_assert!(line >= 1 && line <= text.matches('\n').count() + 1);
        prop_assert!(column >= 1 && column <= lines.line(&text, line).chars().count() + 2);
    }
}

fn path() -> impl Strategy<Value = String> {
    "([ab]{1,2}/){0,3}[abc]{1,2}\\.html"
}

/// RFC 3986, section 5.2, for relative references without queries.
fn resolve(from: &str, link: &str) -> String {
    let (path, anchor) = link.split_once('#').map_or((link, None), |(path, anchor)| (path, Some(anchor)));
    let mut out: Vec<&str> = from.split('/').collect();
    if !path.is_empty() {
        out.pop();
        for part in path.split('/') {
            if part == ".." {
                out.pop();
            } else {
                out.push(part);
            }
        }
    }
    anchor.map_or(out.join("/"), |anchor| format!("{}#{anchor}", out.join("/")))
}
