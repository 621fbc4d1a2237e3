//! The index pages of families, methods, alterations and the glossary.

use std::collections::BTreeMap;

use serde::Serialize;

use super::RenderError;
use super::comparison::methods_of;
use super::site::{Head, Link, Page};
use crate::corpus::title;
use crate::entry::{Entry, Kind, METHOD_GROUPS, OPERATIONS};
use crate::out_file::OutFile;

#[derive(Serialize)]
struct Families {
    head: Head,
    groups: Vec<FamilyGroup>,
}

#[derive(Serialize)]
struct FamilyGroup {
    name: String,
    anchor: String,
    demo: bool,
    families: Vec<FamilyLine>,
}

#[derive(Serialize)]
struct FamilyLine {
    link: Link,
    methods: Vec<Link>,
    period: String,
    issues: usize,
    summary: String,
}

pub fn families(page: &Page<'_>) -> Result<OutFile, RenderError> {
    let corpus = page.corpus();
    let mut groups: BTreeMap<(i64, String), FamilyGroup> = BTreeMap::new();
    for entry in corpus.of_kind(Kind::Family) {
        let Some(family) = entry.family() else { continue };
        let folder = entry.id.below_kind().split('/').next().unwrap_or("").to_string();
        let country = corpus.get_str(&format!("countries/{folder}"));
        let order = country.and_then(|c| c.country()).map_or(9999, |c| c.order);
        let group = groups.entry((order, folder.clone())).or_insert_with(|| FamilyGroup {
            name: country.map_or_else(|| "Several countries".into(), |c| title(corpus, c)),
            anchor: folder.clone(),
            demo: !corpus.collection(entry).real,
            families: Vec::new(),
        });
        group.families.push(FamilyLine {
            link: page.link(entry),
            methods: methods_of(page, family),
            period: family.period.clone().unwrap_or_default(),
            issues: page.site.backlinks.of_kind(corpus, &entry.id, Kind::Issue).len(),
            summary: entry
                .common
                .as_ref()
                .and_then(|c| c.summary.as_ref())
                .map_or(String::new(), |s| short(&s.text.text, 90)),
        });
    }
    let view = Families {
        head: page.head("Forgery families", "families", "families", None),
        groups: groups.into_values().collect(),
    };
    page.render("families.html", &view)
}

#[derive(Serialize)]
struct Practices {
    head: Head,
    name: &'static str,
    lead: &'static str,
    groups: Vec<PracticeGroup>,
}

#[derive(Serialize)]
struct PracticeGroup {
    name: String,
    items: Vec<PracticeLine>,
}

#[derive(Serialize)]
struct PracticeLine {
    link: Link,
    summary: String,
    uses: usize,
    demo: bool,
}

/// The index of methods, or of alterations.
pub fn practices(page: &Page<'_>, kind: Kind) -> Result<OutFile, RenderError> {
    let corpus = page.corpus();
    let words: Vec<&'static str> = match kind {
        Kind::Method => METHOD_GROUPS.iter().map(|(word, _)| *word).collect(),
        _ => OPERATIONS.iter().map(|(word, _)| *word).collect(),
    };
    let group_of = |entry: &Entry| match kind {
        Kind::Method => entry.method().and_then(|m| METHOD_GROUPS.iter().position(|(_, group)| *group == m.group)),
        _ => entry.alteration().and_then(|a| OPERATIONS.iter().position(|(_, group)| *group == a.group)),
    };
    let used_by = if kind == Kind::Method { Kind::Family } else { Kind::Issue };
    let mut groups = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let items: Vec<PracticeLine> = corpus
            .of_kind(kind)
            .filter(|entry| group_of(entry) == Some(at))
            .map(|entry| PracticeLine {
                link: page.link(entry),
                summary: entry
                    .common
                    .as_ref()
                    .and_then(|c| c.summary.as_ref())
                    .map_or(String::new(), |s| first_sentence(&s.text.text)),
                uses: page.site.backlinks.of_kind(corpus, &entry.id, used_by).len(),
                demo: !corpus.collection(entry).real,
            })
            .collect();
        if !items.is_empty() {
            groups.push(PracticeGroup { name: word.replace('-', " "), items });
        }
    }
    let (name, lead, nav) = match kind {
        Kind::Method => ("Methods", "How false pieces are made, and what each way of making leaves behind.", "methods"),
        _ => (
            "Alterations",
            "How a genuine coin is changed to pass as another, and what the change leaves behind.",
            "alterations",
        ),
    };
    page.render("practices.html", &Practices { head: page.head(name, "practices", nav, None), name, lead, groups })
}

#[derive(Serialize)]
struct Glossary {
    head: Head,
    letters: Vec<Letter>,
}

#[derive(Serialize)]
struct Letter {
    letter: String,
    terms: Vec<TermLine>,
}

#[derive(Serialize)]
struct TermLine {
    link: Link,
    meaning: String,
}

pub fn glossary(page: &Page<'_>) -> Result<OutFile, RenderError> {
    let corpus = page.corpus();
    let mut letters: BTreeMap<String, Vec<TermLine>> = BTreeMap::new();
    let mut terms: Vec<&Entry> = corpus.of_kind(Kind::Term).collect();
    terms.sort_by_key(|entry| title(corpus, entry).to_lowercase());
    for entry in terms {
        let Some(term) = entry.term() else { continue };
        let letter = term.term.chars().next().map_or(String::new(), |c| c.to_uppercase().to_string());
        letters
            .entry(letter)
            .or_default()
            .push(TermLine { link: page.link(entry), meaning: first_sentence(&term.meaning.text.text) });
    }
    let letters = letters.into_iter().map(|(letter, terms)| Letter { letter, terms }).collect();
    page.render("glossary.html", &Glossary { head: page.head("Glossary", "glossary", "glossary", None), letters })
}

/// The first sentence of CommonMark, without marks.
pub fn first_sentence(text: &str) -> String {
    let plain: String = pulldown_cmark::Parser::new(text)
        .filter_map(|event| match event {
            pulldown_cmark::Event::Text(text) | pulldown_cmark::Event::Code(text) => Some(text.to_string()),
            pulldown_cmark::Event::SoftBreak => Some(" ".into()),
            _ => None,
        })
        .collect();
    match plain.find(". ") {
        Some(end) => plain[..=end].to_string(),
        None => plain,
    }
}

/// The first sentence, cut at a word to at most so many characters.
fn short(text: &str, most: usize) -> String {
    let sentence = first_sentence(text);
    if sentence.chars().count() <= most {
        return sentence;
    }
    let cut: String = sentence.chars().take(most).collect();
    let end = cut.rfind(' ').unwrap_or(cut.len());
    format!("{}…", cut[..end].trim_end_matches([',', ';', ':']))
}
