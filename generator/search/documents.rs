//! Corpus → what can be found. First the pages, kind by kind and by id, then the checks in the order of their pages, so
//! that a page comes before a check that answers a query equally well, and the pages' titles stand close together.

use super::issue_names;
use super::terms::terms;
use crate::corpus::{Corpus, checks_of, statements, title};
use crate::entry::{Body, Check, CheckKind, Entry, Kind, Prose, Published, Reference};

/// Something that can be found: a page, or a check on a page.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Document {
    /// Below the site's folder; a check has its anchor.
    pub url: String,
    pub title: String,
    /// One short line: country, series, or the page a check stands on.
    pub note: String,
    pub kind: DocKind,
    /// From a collection that is invented.
    pub demo: bool,
    /// What it is, in all writings.
    pub identity: String,
    /// What else it is called.
    pub aliases: String,
    /// What it is linked with.
    pub names: String,
    /// Its prose.
    pub body: String,
}

impl Document {
    /// In the order of [`super::FIELDS`].
    pub fn texts(&self) -> [&str; 4] {
        [&self.identity, &self.aliases, &self.names, &self.body]
    }
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum DocKind {
    #[default]
    Issue,
    Series,
    Family,
    Method,
    Alteration,
    Term,
    Country,
    Source,
    Check,
}

impl DocKind {
    pub const ALL: [DocKind; 9] = [
        DocKind::Issue,
        DocKind::Series,
        DocKind::Family,
        DocKind::Method,
        DocKind::Alteration,
        DocKind::Term,
        DocKind::Country,
        DocKind::Source,
        DocKind::Check,
    ];

    /// As shown beside a result.
    pub fn word(self) -> &'static str {
        match self.entries() {
            Some(kind) => kind.singular(),
            None if self == DocKind::Source => "source",
            None => "check",
        }
    }

    fn entries(self) -> Option<Kind> {
        Some(match self {
            DocKind::Issue => Kind::Issue,
            DocKind::Series => Kind::Series,
            DocKind::Family => Kind::Family,
            DocKind::Method => Kind::Method,
            DocKind::Alteration => Kind::Alteration,
            DocKind::Term => Kind::Term,
            DocKind::Country => Kind::Country,
            DocKind::Source | DocKind::Check => return None,
        })
    }
}

/// Everything that can be found, in the order that decides between equals.
pub fn documents(corpus: &Corpus) -> Vec<Document> {
    let mut pages = Vec::new();
    let mut checks = Vec::new();
    for kind in DocKind::ALL {
        for entry in corpus.of_kind_or_none(kind.entries()) {
            let page = page(corpus, entry, kind);
            for check in checks_of(entry).iter().filter(|check| has_words(check)) {
                checks.push(of_check(corpus, entry, check, &page));
            }
            pages.push(page);
        }
        if kind == DocKind::Source {
            pages.extend(corpus.published.iter().map(|(key, (at, source))| {
                let demo = !corpus.collections[*at].real;
                of_source(key, source, demo)
            }));
        }
    }
    pages.extend(checks);
    pages
}

impl Corpus {
    fn of_kind_or_none(&self, kind: Option<Kind>) -> impl Iterator<Item = &Entry> {
        self.entries().iter().filter(move |entry| Some(entry.kind()) == kind && !matches!(entry.body, Body::Unread(_)))
    }
}

fn page(corpus: &Corpus, entry: &Entry, kind: DocKind) -> Document {
    let name = title(corpus, entry);
    let mut page = Document {
        url: format!("{}.html", entry.id),
        identity: name.clone(),
        title: name,
        kind,
        demo: !corpus.collection(entry).real,
        body: body(entry),
        ..Document::default()
    };
    let also: Vec<&str> = entry.common.iter().flat_map(|common| &common.also_called).map(String::as_str).collect();
    page.aliases = also.join(" ");
    let linked = |kind, list: &[&Reference]| -> Vec<String> {
        list.iter().filter_map(|to| corpus.find(kind, to).ok()).map(|to| title(corpus, to)).collect()
    };
    match &entry.body {
        Body::Issue(issue) => {
            let series = corpus.series_of(issue);
            page.identity = issue_names::identity(corpus, issue, series);
            if let Some((_, series)) = series {
                page.aliases = format!("{} {}", page.aliases, series.name);
                page.note = of_country(corpus, &series.name, &series.country);
            }
            let families: Vec<&Reference> = issue.forgeries.iter().map(|forgery| &forgery.family).collect();
            let alterations: Vec<&Reference> = issue.alterations.iter().map(|altered| &altered.pattern).collect();
            let under = issue_names::under(&issue.row).into_iter().collect();
            page.names =
                words(&[under, linked(Kind::Family, &families), linked(Kind::Alteration, &alterations)].concat());
        }
        Body::Series(series) => {
            page.note = of_country(corpus, &format!("{} to {}", series.years.0, series.years.1), &series.country);
            page.identity = format!("{} {} {}", series.name, series.denomination, country(corpus, &series.country));
            let rows = series.rows();
            page.names = once(rows.iter().map(|(row, _)| issue_names::date(&row.label)));
        }
        Body::Family(family) => {
            page.note = nation(corpus, entry);
            let methods: Vec<&Reference> = family.methods.iter().collect();
            let series: Vec<&Reference> = family.series.iter().collect();
            page.names = words(
                &[linked(Kind::Method, &methods), linked(Kind::Series, &series), vec![page.note.clone()]].concat(),
            );
        }
        Body::Method(_) | Body::Alteration(_) => {
            page.note = also.first().map_or_else(String::new, |name| name.to_string())
        }
        Body::Term(term) => {
            page.aliases = term.forms.join(" ");
            page.note = cut(&term.meaning.text.plain(), 72);
        }
        Body::Country(country) => {
            page.identity = format!("{} {}", country.name, entry.id.stem());
            page.names = once(country.mints.iter().map(|mint| format!("{} {}", mint.mark, mint.city)));
        }
        Body::Unread(_) => {}
    }
    page
}

fn of_source(key: &str, source: &Published, demo: bool) -> Document {
    let year = source.year.map(|year| year.to_string());
    let parts: Vec<&str> = [source.author.as_deref(), year.as_deref()].into_iter().flatten().collect();
    Document {
        url: format!("sources/{key}.html"),
        title: source.title.clone(),
        note: parts.join(", "),
        kind: DocKind::Source,
        demo,
        identity: format!("{} {}", source.title, parts.join(" ")),
        body: format!("{} {}", source.seen_in.as_deref().unwrap_or(""), source.note.as_deref().unwrap_or("")),
        ..Document::default()
    }
}

/// A measurement without a question of its own is found with its page.
fn has_words(check: &Check) -> bool {
    match &check.kind {
        CheckKind::Look { .. } => true,
        CheckKind::Measure { ask, .. } => ask.is_some(),
    }
}

/// A check is indexed once, where it is stated, under the date and value of that page.
fn of_check(corpus: &Corpus, entry: &Entry, check: &Check, page: &Document) -> Document {
    let (ask, say) = match &check.kind {
        CheckKind::Look { ask, findings } => {
            (ask.plain(), findings.iter().map(|finding| finding.say.plain()).collect())
        }
        CheckKind::Measure { ask, .. } => (ask.as_ref().map(Prose::plain).unwrap_or_default(), Vec::new()),
    };
    let names = match &entry.body {
        Body::Issue(issue) => {
            let mut parts = vec![issue_names::date(&issue.row), issue.row.variety.clone()];
            if let Some((series, body)) = corpus.series_of(issue) {
                parts.push(body.denomination.clone());
                parts.extend(issue_names::nicknames(series).into_iter().filter(|name| !name.contains([' ', '-'])));
            }
            once(parts.into_iter())
        }
        _ => words(std::slice::from_ref(&page.title)),
    };
    Document {
        url: format!("{}#{}", page.url, check.id),
        title: cut(&ask, 110),
        note: page.title.clone(),
        kind: DocKind::Check,
        demo: page.demo,
        names,
        body: format!("{ask} {}", say.join(" ")),
        ..Document::default()
    }
}

/// The prose of a page, but for its checks, which are found by themselves.
fn body(entry: &Entry) -> String {
    let all = statements(entry).into_iter().filter(|statement| !matches!(statement.sort, "finding" | "measurement"));
    all.filter_map(|statement| statement.text).map(Prose::plain).collect::<Vec<_>>().join(" ")
}

/// At most so many characters, cut between words.
fn cut(text: &str, most: usize) -> String {
    let Some((end, _)) = text.char_indices().nth(most) else { return text.to_string() };
    let head = text[..end].rsplit_once(' ').map_or(&text[..end], |(head, _)| head);
    format!("{}…", head.trim_end_matches([',', ';', ':', '.']))
}

/// Tokens of all texts, each once.
fn once(texts: impl Iterator<Item = String>) -> String {
    let mut tokens: Vec<String> = Vec::new();
    for token in texts.flat_map(|text| terms(&text)) {
        if !tokens.contains(&token) {
            tokens.push(token);
        }
    }
    tokens.join(" ")
}

/// Tokens of names, each once, without single letters: those are mint marks wherever they are asked for.
fn words(texts: &[String]) -> String {
    once(
        texts.iter().map(|text| {
            terms(text).into_iter().filter(|token| !super::plan::is_mark(token)).collect::<Vec<_>>().join(" ")
        }),
    )
}

fn of_country(corpus: &Corpus, text: &str, reference: &Reference) -> String {
    match corpus.find(Kind::Country, reference) {
        Ok(country) => format!("{text}, {}", title(corpus, country)),
        Err(_) => text.to_string(),
    }
}

fn country(corpus: &Corpus, reference: &Reference) -> String {
    corpus
        .find(Kind::Country, reference)
        .map_or_else(|_| String::new(), |entry| format!("{} {}", title(corpus, entry), entry.id.stem()))
}

/// The country whose folder an entry stands in.
fn nation(corpus: &Corpus, entry: &Entry) -> String {
    let folder = entry.id.below_kind().split_once('/').map_or("", |(folder, _)| folder);
    corpus.get_str(&format!("countries/{folder}")).map_or_else(String::new, |country| title(corpus, country))
}
