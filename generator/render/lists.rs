//! Pages that gather: the front page, countries, families side by side, methods, alterations, glossary, sources.

use std::collections::BTreeMap;

use serde::Serialize;

use super::parts::StatementView;
use super::site::{Head, Link, Page};
use super::{RenderError, words};
use crate::corpus::title;
use crate::entry::{Entry, Family, Kind, METHOD_GROUPS, OPERATIONS, SOURCE_KINDS, Series, TRAITS, TraitKind};
use crate::out_file::OutFile;
use crate::reckon::{coverage::Bases, standard};

/// Families as columns, traits as rows.
#[derive(Serialize, Default)]
pub struct Comparison {
    pub families: Vec<FamilyColumn>,
    pub traits: Vec<&'static str>,
}

#[derive(Serialize)]
pub struct FamilyColumn {
    pub link: Link,
    pub methods: Vec<Link>,
    pub period: String,
    pub issues: usize,
    /// In the order of `traits`; empty where the entry says nothing.
    pub cells: Vec<Option<StatementView>>,
}

pub fn comparison(page: &Page<'_>, families: &[&Entry]) -> Comparison {
    let read: Vec<(&Entry, &Family)> = families.iter().filter_map(|entry| Some((*entry, entry.family()?))).collect();
    let used = |kind: TraitKind| read.iter().any(|(_, family)| family.traits.iter().any(|one| one.of == kind));
    let kinds: Vec<(&'static str, TraitKind)> = TRAITS.iter().copied().filter(|(_, kind)| used(*kind)).collect();
    let columns = read
        .iter()
        .map(|(entry, family)| FamilyColumn {
            link: page.link(entry),
            methods: methods_of(page, family),
            period: family.period.clone().unwrap_or_default(),
            issues: page.site.backlinks.of_kind(page.corpus(), &entry.id, Kind::Issue).len(),
            cells: kinds
                .iter()
                .map(|(_, kind)| {
                    family.traits.iter().find(|one| one.of == *kind).map(|one| StatementView {
                        html: page.prose.inline(&one.statement.text.text),
                        place: String::new(),
                        basis_html: page.basis_html(&one.statement.basis),
                    })
                })
                .collect(),
        })
        .collect();
    Comparison { families: columns, traits: kinds.iter().map(|(word, _)| trait_name(word)).collect() }
}

fn trait_name(word: &'static str) -> &'static str {
    match word {
        "axis" => "die axis",
        other => other,
    }
}

pub fn methods_of(page: &Page<'_>, family: &Family) -> Vec<Link> {
    page.links(family.methods.iter().filter_map(|method| page.corpus().find(Kind::Method, method).ok()))
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

#[derive(Serialize)]
struct Front {
    head: Head,
    countries: Vec<CountryView>,
    invented: Vec<CountryView>,
    counts: Vec<(String, &'static str, String)>,
    bases: Bases,
}

#[derive(Serialize)]
struct CountryView {
    link: Link,
    series: Vec<SeriesLine>,
    issues: usize,
}

#[derive(Serialize)]
struct SeriesLine {
    link: Link,
    years: String,
    issues: usize,
}

pub fn front(page: &Page<'_>, bases: Bases) -> Result<OutFile, RenderError> {
    let corpus = page.corpus();
    let mut real = Vec::new();
    let mut invented = Vec::new();
    for (entry, _) in countries(page) {
        let view = country_view(page, entry);
        if corpus.collection(entry).real { real.push(view) } else { invented.push(view) }
    }
    let count = |kind: Kind| {
        words::thousands(corpus.of_kind(kind).filter(|entry| corpus.collection(entry).real).count() as u64)
    };
    let counts = vec![
        (count(Kind::Issue), "issues to examine", page.to("coverage.html")),
        (count(Kind::Series), "series with their standards", page.to("coverage.html")),
        (count(Kind::Family), "forgery families", page.to("families/index.html")),
        (count(Kind::Alteration), "alterations", page.to("alterations/index.html")),
        (count(Kind::Method), "methods", page.to("methods/index.html")),
        (count(Kind::Term), "glossary terms", page.to("glossary/index.html")),
    ];
    let view = Front {
        head: page.head("Which coin is under the glass?", "front", "front", None),
        countries: real,
        invented,
        counts,
        bases,
    };
    page.render("front.html", &view)
}

fn countries<'a>(page: &Page<'a>) -> Vec<(&'a Entry, i64)> {
    let mut list: Vec<(&Entry, i64)> =
        page.corpus().of_kind(Kind::Country).filter_map(|entry| Some((entry, entry.country()?.order))).collect();
    list.sort_by(|a, b| a.1.cmp(&b.1).then_with(|| a.0.id.cmp(&b.0.id)));
    list
}

/// Series of a country, small coins first: by the lightest standard of their denomination, then by year.
fn series_of_country<'a>(page: &Page<'a>, country: &Entry) -> Vec<&'a Entry> {
    let list = page.site.backlinks.of_kind(page.corpus(), &country.id, Kind::Series);
    let grams = |series: &Series| {
        series.standards.iter().filter_map(standard::weight).map(|w| w.grams).fold(f64::MAX, f64::min)
    };
    let mut lightest: BTreeMap<&str, f64> = BTreeMap::new();
    for series in list.iter().filter_map(|entry| entry.series()) {
        let known = lightest.entry(&series.denomination).or_insert(f64::MAX);
        *known = known.min(grams(series));
    }
    let mut keyed: Vec<(f64, &str, (i32, i32), &Entry)> = list
        .iter()
        .filter_map(|entry| {
            let series = entry.series()?;
            let denomination = series.denomination.as_str();
            Some((lightest.get(denomination).copied()?, denomination, series.years, *entry))
        })
        .collect();
    keyed.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| (a.1, a.2, &a.3.id).cmp(&(b.1, b.2, &b.3.id))));
    keyed.into_iter().map(|(_, _, _, entry)| entry).collect()
}

fn country_view(page: &Page<'_>, country: &Entry) -> CountryView {
    let series: Vec<SeriesLine> = series_of_country(page, country)
        .iter()
        .filter_map(|entry| {
            let series = entry.series()?;
            let (from, to) = series.years;
            Some(SeriesLine {
                link: page.link(entry),
                years: if from == to { from.to_string() } else { format!("{from}–{to}") },
                issues: page.corpus().issues_of(&entry.id).len(),
            })
        })
        .collect();
    CountryView { link: page.link(country), issues: series.iter().map(|line| line.issues).sum(), series }
}

#[derive(Serialize)]
struct CountryPage {
    head: Head,
    name: String,
    country: CountryView,
    mints: Vec<MintLine>,
    issues: Vec<Link>,
    written: String,
}

#[derive(Serialize)]
struct MintLine {
    mark: String,
    city: String,
    years: String,
    basis_html: String,
}

pub fn country(page: &Page<'_>, entry: &Entry) -> Result<OutFile, RenderError> {
    let Some(country) = entry.country() else { return page.missing(entry) };
    let mints = country
        .mints
        .iter()
        .map(|mint| MintLine {
            mark: if mint.mark.is_empty() { "no mark".into() } else { mint.mark.clone() },
            city: mint.city.clone(),
            years: mint
                .years
                .iter()
                .map(|(from, to)| match to {
                    Some(to) => format!("{from} to {to}"),
                    None => format!("from {from}"),
                })
                .collect::<Vec<_>>()
                .join(", "),
            basis_html: page.basis_html(&mint.basis),
        })
        .collect();
    let series = series_of_country(page, entry);
    let issues = series
        .iter()
        .flat_map(|series| page.corpus().issues_of(&series.id))
        .map(|(entry, _)| page.link(entry))
        .collect();
    let view = CountryPage {
        head: page.head(&country.name, "country", "issues", Some(entry)),
        name: country.name.clone(),
        country: country_view(page, entry),
        mints,
        issues,
        written: page.to(&super::site::written_of(entry)),
    };
    page.render("country.html", &view)
}

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

#[derive(Serialize)]
struct Sources {
    head: Head,
    groups: Vec<SourceGroup>,
    bases: Bases,
}

#[derive(Serialize)]
struct SourceGroup {
    name: String,
    sources: Vec<SourceLine>,
}

#[derive(Serialize)]
struct SourceLine {
    link: Link,
    author: String,
    year: String,
    statements: usize,
    demo: bool,
}

pub fn sources(page: &Page<'_>, bases: Bases) -> Result<OutFile, RenderError> {
    let corpus = page.corpus();
    let groups = SOURCE_KINDS
        .iter()
        .map(|(word, kind)| SourceGroup {
            name: (*word).to_string(),
            sources: corpus
                .published
                .iter()
                .filter(|(_, (_, source))| source.kind == *kind)
                .map(|(key, (collection, source))| SourceLine {
                    link: Link { text: source.title.clone(), href: page.to(&format!("sources/{key}.html")) },
                    author: source.author.clone().unwrap_or_default(),
                    year: source.year.map_or(String::new(), |year| year.to_string()),
                    statements: page.site.backlinks.cited.get(key).map_or(0, |by| by.values().sum()),
                    demo: !corpus.collections[*collection].real,
                })
                .collect(),
        })
        .filter(|group| !group.sources.is_empty())
        .collect();
    page.render("sources.html", &Sources { head: page.head("Sources", "sources", "sources", None), groups, bases })
}

#[derive(Serialize)]
struct SourcePage {
    head: Head,
    name: String,
    author: String,
    year: String,
    kind: &'static str,
    seen_in: String,
    address: String,
    note: String,
    uses: Vec<SourceUse>,
    total: usize,
}

#[derive(Serialize)]
struct SourceUse {
    link: Link,
    kind: &'static str,
    statements: usize,
}

pub fn source(page: &Page<'_>, key: &str) -> Result<OutFile, RenderError> {
    let corpus = page.corpus();
    let (collection, source) = &corpus.published[key];
    let mut head = page.head(&source.title, "source", "sources", None);
    head.demo = !corpus.collections[*collection].real;
    let cited = page.site.backlinks.cited.get(key);
    let uses: Vec<SourceUse> = cited
        .into_iter()
        .flatten()
        .filter_map(|(id, statements)| {
            let entry = corpus.get(id)?;
            Some(SourceUse { link: page.link(entry), kind: entry.kind().singular(), statements: *statements })
        })
        .collect();
    let view = SourcePage {
        head,
        name: source.title.clone(),
        author: source.author.clone().unwrap_or_default(),
        year: source.year.map_or(String::new(), |year| year.to_string()),
        kind: SOURCE_KINDS.iter().find(|(_, kind)| *kind == source.kind).map_or("", |(word, _)| word),
        seen_in: source.seen_in.clone().unwrap_or_default(),
        address: source.address.clone().unwrap_or_default(),
        note: source.note.clone().unwrap_or_default(),
        total: uses.iter().map(|one| one.statements).sum(),
        uses,
    };
    page.render("source.html", &view)
}
