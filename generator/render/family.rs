//! Pages of forgery families, methods, alterations and glossary terms.

use serde::Serialize;

use super::RenderError;
use super::checks::CheckView;
use super::comparison::{Comparison, comparison, methods_of};
use super::parts::{Fact, Foot, SignView, StatementView};
use super::site::{Head, Link, Page};
use crate::corpus::title;
use crate::entry::{Check, Entry, Kind, METHOD_GROUPS, OPERATIONS, Practice, TRAITS};
use crate::out_file::OutFile;

/// Families shown side by side with one.
const NEIGHBOURS: usize = 5;

#[derive(Serialize)]
struct FamilyPage {
    head: Head,
    name: String,
    also_called: String,
    summary: Option<StatementView>,
    period: String,
    methods: Vec<Link>,
    series: Vec<Link>,
    issues: Vec<Link>,
    traits: Vec<Fact>,
    signs: Vec<SignView>,
    checks: Vec<CheckView>,
    comparison: Comparison,
    foot: Foot,
}

pub fn family(page: &Page<'_>, entry: &Entry) -> Result<OutFile, RenderError> {
    let Some(family) = entry.family() else { return page.missing(entry) };
    let corpus = page.corpus();
    let name = title(corpus, entry);
    let series: Vec<&Entry> =
        family.series.iter().filter_map(|series| corpus.find(Kind::Series, series).ok()).collect();
    let mut beside: Vec<&Entry> = vec![entry];
    for other in series.iter().flat_map(|series| page.site.backlinks.of_kind(corpus, &series.id, Kind::Family)) {
        if beside.len() < NEIGHBOURS && !beside.iter().any(|known| known.id == other.id) {
            beside.push(other);
        }
    }
    let view = FamilyPage {
        head: page.head(&name, "family", "families", Some(entry)),
        also_called: also_called(entry),
        summary: summary(page, entry),
        period: family.period.clone().unwrap_or_default(),
        methods: methods_of(page, family),
        series: page.links(series),
        issues: page.links(page.site.backlinks.of_kind(corpus, &entry.id, Kind::Issue)),
        traits: family
            .traits
            .iter()
            .map(|one| Fact {
                label: TRAITS.iter().find(|(_, kind)| *kind == one.of).map_or("", |(word, _)| word),
                html: page.prose.inline(&one.statement.text.text),
                basis_html: page.basis_html(&one.statement.basis),
            })
            .collect(),
        signs: page.signs(&family.signs, entry, None),
        checks: checks(page, &family.checks, entry),
        comparison: if beside.len() > 1 { comparison(page, &beside) } else { Comparison::default() },
        foot: page.foot(entry),
        name,
    };
    page.render("family.html", &view)
}

#[derive(Serialize)]
struct PracticePage {
    head: Head,
    name: String,
    index: Link,
    group: String,
    also_called: String,
    summary: Option<StatementView>,
    made: Vec<StatementView>,
    signs: Vec<SignView>,
    mimics: Vec<StatementView>,
    cautions: Vec<StatementView>,
    checks: Vec<CheckView>,
    families: Vec<Link>,
    issues: Vec<Link>,
    foot: Foot,
}

/// The page of a method or of an alteration.
pub fn practice(page: &Page<'_>, entry: &Entry) -> Result<OutFile, RenderError> {
    if let Some(method) = entry.method() {
        let group = METHOD_GROUPS.iter().find(|(_, group)| *group == method.group);
        practice_page(page, entry, method, group.map_or("", |(word, _)| word))
    } else if let Some(alteration) = entry.alteration() {
        let group = OPERATIONS.iter().find(|(_, group)| *group == alteration.group);
        practice_page(page, entry, alteration, group.map_or("", |(word, _)| word))
    } else {
        page.missing(entry)
    }
}

fn practice_page<G>(
    page: &Page<'_>,
    entry: &Entry,
    practice: &Practice<G>,
    group: &str,
) -> Result<OutFile, RenderError> {
    let corpus = page.corpus();
    let is_method = entry.kind() == Kind::Method;
    let (index, nav) = if is_method { ("Methods", "methods") } else { ("Alterations", "alterations") };
    let name = title(corpus, entry);
    let view = PracticePage {
        head: page.head(&name, "practice", nav, Some(entry)),
        index: Link { text: index.into(), href: page.to(&format!("{nav}/index.html")) },
        group: group.replace('-', " "),
        also_called: also_called(entry),
        summary: summary(page, entry),
        made: page.statements(&practice.made),
        signs: page.signs(&practice.signs, entry, None),
        mimics: page.statements(&practice.mimics),
        cautions: page.statements(&practice.cautions),
        checks: checks(page, &practice.checks, entry),
        families: page.links(page.site.backlinks.of_kind(corpus, &entry.id, Kind::Family)),
        issues: page.links(page.site.backlinks.of_kind(corpus, &entry.id, Kind::Issue)),
        foot: page.foot(entry),
        name,
    };
    page.render("practice.html", &view)
}

#[derive(Serialize)]
struct TermPage {
    head: Head,
    name: String,
    forms: String,
    meaning: StatementView,
    see: Vec<Link>,
    used: Vec<Link>,
    written: String,
}

pub fn term(page: &Page<'_>, entry: &Entry) -> Result<OutFile, RenderError> {
    let Some(term) = entry.term() else { return page.missing(entry) };
    let corpus = page.corpus();
    let view = TermPage {
        head: page.head(&term.term, "term", "glossary", Some(entry)),
        name: term.term.clone(),
        forms: term.forms.join(", "),
        meaning: page.statement(&term.meaning),
        see: page.links(term.see.iter().filter_map(|see| corpus.find(Kind::Term, see).ok())),
        used: page.links(page.site.backlinks.of_kind(corpus, &entry.id, Kind::Term)),
        written: page.to(&super::site::written_of(entry)),
    };
    page.render("term.html", &view)
}

fn checks(page: &Page<'_>, list: &[Check], owner: &Entry) -> Vec<CheckView> {
    list.iter().enumerate().map(|(at, check)| page.check_of_entry(at + 1, check, owner)).collect()
}

fn summary(page: &Page<'_>, entry: &Entry) -> Option<StatementView> {
    entry.common.as_ref().and_then(|common| common.summary.as_ref()).map(|statement| page.statement(statement))
}

fn also_called(entry: &Entry) -> String {
    entry.common.as_ref().map_or(String::new(), |common| common.also_called.join(", "))
}
