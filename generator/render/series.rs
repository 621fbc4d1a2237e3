//! A series: standards by year, the date and mint grid, what is known against it.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::checks::CheckView;
use super::comparison::{Comparison, comparison};
use super::faces::FaceView;
use super::hosts::row_anchor;
use super::parts::{Fact, Foot, SignView, StatementView};
use super::site::{Head, Link, Page};
use super::{RenderError, words};
use crate::corpus::title;
use crate::entry::{DateEntry, DigitStyle, Entry, Kind, Row, RowLabel, Series};
use crate::out_file::OutFile;

#[derive(Serialize)]
struct View {
    head: Head,
    name: String,
    country: Link,
    years: String,
    denomination: String,
    also_called: String,
    summary: Option<StatementView>,
    faces: Vec<FaceView>,
    standards: Vec<StandardView>,
    mark_places: Vec<StatementView>,
    date_words: String,
    date_basis_html: String,
    decades: Vec<Decade>,
    mints: Vec<String>,
    incomplete: String,
    rows: Vec<RowView>,
    bases: Vec<String>,
    changes: Vec<ChangeView>,
    genuine: Vec<SignView>,
    checks: Vec<CheckView>,
    issues: Vec<IssueLine>,
    comparison: Comparison,
    alterations: Vec<Link>,
    foot: Foot,
}

#[derive(Serialize)]
struct StandardView {
    years: String,
    facts: Vec<Fact>,
    remarks: Vec<StatementView>,
}

/// Ten years of the grid.
#[derive(Serialize)]
struct Decade {
    mints: Vec<String>,
    years: Vec<YearLine>,
}

#[derive(Serialize)]
struct YearLine {
    year: i32,
    cells: Vec<Option<Cell>>,
}

/// One date and mint: class `f` on file, `h` could be altered into an issue on file.
#[derive(Serialize)]
struct Cell {
    class: String,
    href: String,
    label: String,
    /// Size of the dot, 1 to 8, by the number struck.
    size: u32,
}

#[derive(Serialize)]
struct RowView {
    anchor: String,
    label: String,
    href: String,
    pieces: String,
    remark: String,
    /// Into `bases`, from 1.
    basis: usize,
    targets: Vec<Link>,
    more: usize,
}

#[derive(Serialize)]
struct ChangeView {
    year: i32,
    statement: StatementView,
}

#[derive(Serialize)]
struct IssueLine {
    link: Link,
    summary: String,
}

/// Targets named per row; the rest are counted.
const TARGETS_SHOWN: usize = 2;

pub fn page(page: &Page<'_>, entry: &Entry) -> Result<OutFile, RenderError> {
    let Some(series) = entry.series() else { return page.missing(entry) };
    let corpus = page.corpus();
    let name = title(corpus, entry);
    let on_file: BTreeMap<RowLabel, &Entry> =
        corpus.issues_of(&entry.id).into_iter().map(|(entry, issue)| (issue.row.clone(), entry)).collect();
    let (rows, bases) = rows(page, entry, series, &on_file);
    let common = entry.common.as_ref();
    let families = page.site.backlinks.of_kind(corpus, &entry.id, Kind::Family);
    let model = View {
        head: page.head(&name, "series", "issues", Some(entry)),
        country: corpus
            .country_of(series)
            .map_or(Link { text: String::new(), href: page.to("index.html") }, |(c, _)| page.link(c)),
        years: years(series.years),
        denomination: series.denomination.clone(),
        also_called: common.map_or(String::new(), |c| c.also_called.join(", ")),
        summary: common.and_then(|c| c.summary.as_ref()).map(|s| page.statement(s)),
        faces: page.faces_of_series(series),
        standards: standards(page, series),
        mark_places: series
            .mark_places
            .iter()
            .map(|place| {
                let mut view = page.statement(&place.statement);
                view.place = format!(
                    "{}{}",
                    years((place.from, place.to)),
                    if view.place.is_empty() { String::new() } else { format!(" · {}", view.place) }
                );
                view
            })
            .collect(),
        date_words: date_words(series),
        date_basis_html: page.basis_html(&series.digits.basis),
        decades: decades(page, entry, series, &on_file),
        mints: mints(page, series),
        incomplete: series.incomplete.clone().unwrap_or_default(),
        rows,
        bases,
        changes: series
            .changes
            .iter()
            .map(|change| ChangeView { year: change.year, statement: page.statement(&change.statement) })
            .collect(),
        genuine: page.signs(&series.genuine, entry, Some((series, series.years.0))),
        checks: series.checks.iter().enumerate().map(|(at, check)| page.check_of_entry(at + 1, check, entry)).collect(),
        issues: issue_lines(page, &on_file),
        comparison: comparison(page, &families),
        alterations: page.links(alterations_on(page, &on_file)),
        foot: page.foot(entry),
        name,
    };
    page.render("series.html", &model)
}

fn years((from, to): (i32, i32)) -> String {
    if from == to { from.to_string() } else { format!("{from} to {to}") }
}

fn date_words(series: &Series) -> String {
    if !series.digits.western {
        return "The coin shows no western date of its own year, so no change of digits is worked out.".into();
    }
    let entry = match series.digits.entry {
        DateEntry::Hub => "The date is part of the hub: the same on every die of its year.",
        DateEntry::Logotype => {
            "One punch held the whole date and was set by hand into each die: its place and tilt vary from die to die."
        }
        DateEntry::Punches => "Digits were punched into each die one by one: their places vary.",
        DateEntry::Unknown => "How the date came into the dies is not recorded here.",
    };
    let style = if series.digits.style == DigitStyle::OldStyle { " Its numerals are of unequal height." } else { "" };
    format!("{entry}{style}")
}

fn standards(page: &Page<'_>, series: &Series) -> Vec<StandardView> {
    let mut list: Vec<_> = series.standards.iter().collect();
    list.sort_by_key(|standard| standard.from);
    list.iter()
        .map(|standard| {
            let mut remarks: Vec<StatementView> = Vec::new();
            if let Some(text) = &standard.text {
                remarks.push(StatementView {
                    html: page.prose.block(&text.text),
                    place: String::new(),
                    basis_html: page.basis_html(&standard.basis),
                });
            }
            remarks.extend(standard.also.iter().map(|also| page.statement(&also.statement)));
            StandardView { years: years((standard.from, standard.to)), facts: page.standard_facts(standard), remarks }
        })
        .collect()
}

fn mints(page: &Page<'_>, series: &Series) -> Vec<String> {
    let marks: BTreeSet<&str> = series.rows().iter().map(|(row, _)| row.label.mint.as_str()).collect();
    let country = page.corpus().country_of(series).map(|(_, country)| country);
    marks
        .iter()
        .map(|mark| {
            let cities: BTreeSet<&str> = country
                .into_iter()
                .flat_map(|c| &c.mints)
                .filter(|mint| mint.mark == *mark)
                .map(|mint| mint.city.as_str())
                .collect();
            let cities = cities.into_iter().collect::<Vec<_>>().join(" or ");
            format!("{}: {cities}", if mark.is_empty() { "no mark" } else { mark })
        })
        .collect()
}

fn decades(page: &Page<'_>, entry: &Entry, series: &Series, on_file: &BTreeMap<RowLabel, &Entry>) -> Vec<Decade> {
    let rows = series.rows();
    let targets = page.site.targets.get(&entry.id);
    let mut by_decade: BTreeMap<i32, BTreeMap<i32, Vec<&Row>>> = BTreeMap::new();
    for (row, _) in &rows {
        by_decade.entry(row.label.year / 10).or_default().entry(row.label.year).or_default().push(row);
    }
    let most = rows.iter().filter_map(|(row, _)| row.pieces).max().unwrap_or(1).max(2) as f64;
    by_decade
        .into_values()
        .map(|years| {
            let mints: BTreeSet<String> = years.values().flatten().map(|row| row.label.mint.clone()).collect();
            let mints: Vec<String> = mints.into_iter().collect();
            let lines = years
                .into_iter()
                .map(|(year, rows)| YearLine {
                    year,
                    cells: mints.iter().map(|mint| cell(page, entry, &rows, mint, on_file, targets, most)).collect(),
                })
                .collect();
            Decade {
                mints: mints.iter().map(|mint| if mint.is_empty() { "–".into() } else { mint.clone() }).collect(),
                years: lines,
            }
        })
        .collect()
}

fn cell(
    page: &Page<'_>,
    entry: &Entry,
    rows: &[&Row],
    mint: &str,
    on_file: &BTreeMap<RowLabel, &Entry>,
    targets: Option<&BTreeMap<RowLabel, Vec<&Entry>>>,
    most: f64,
) -> Option<Cell> {
    let here: Vec<&&Row> = rows.iter().filter(|row| row.label.mint == mint).collect();
    let first = here.first()?;
    let filed = here.iter().find_map(|row| on_file.get(&row.label));
    let hosted = here.iter().find_map(|row| targets.and_then(|targets| targets.get(&row.label)));
    let pieces = here.iter().filter_map(|row| row.pieces).max();
    let href = match filed {
        Some(issue) => page.to_entry(issue),
        None => page.to(&format!("{}.html#{}", entry.id, row_anchor(&first.label))),
    };
    let mut label = first.label.date();
    label.push_str(&pieces.map_or(String::new(), |pieces| format!(", {} struck", words::thousands(pieces))));
    let mut class = if filed.is_some() { "f" } else { "" }.to_string();
    if let Some(targets) = hosted {
        class.push_str(if class.is_empty() { "h" } else { " h" });
        let names: Vec<String> = targets
            .iter()
            .take(2)
            .map(|target| target.issue().map_or(String::new(), |issue| issue.row.to_string()))
            .collect();
        label.push_str(&format!("; can be altered into {}", names.join(", ")));
    }
    if filed.is_some() {
        label.push_str("; on file");
    }
    // Area grows with the logarithm: a mintage of hundreds and one of millions must both be seen.
    let share = pieces.map_or(0.35, |pieces| ((pieces as f64).ln() / most.ln()).clamp(0.1, 1.0));
    Some(Cell { class, href, label, size: (1.0 + 7.0 * share).round() as u32 })
}

fn rows(
    page: &Page<'_>,
    entry: &Entry,
    series: &Series,
    on_file: &BTreeMap<RowLabel, &Entry>,
) -> (Vec<RowView>, Vec<String>) {
    let mut bases: Vec<String> = Vec::new();
    let targets = page.site.targets.get(&entry.id);
    let rows = series
        .rows()
        .iter()
        .map(|(row, basis)| {
            let basis_html = page.basis_html(basis);
            let at = bases.iter().position(|known| *known == basis_html).unwrap_or_else(|| {
                bases.push(basis_html);
                bases.len() - 1
            });
            let all: &[&Entry] = targets.and_then(|targets| targets.get(&row.label)).map_or(&[], Vec::as_slice);
            RowView {
                anchor: row_anchor(&row.label),
                label: row.label.to_string(),
                href: on_file.get(&row.label).map_or(String::new(), |issue| page.to_entry(issue)),
                pieces: row.pieces.map_or(String::new(), words::thousands),
                remark: row.remark.clone().unwrap_or_default(),
                basis: at + 1,
                targets: all
                    .iter()
                    .take(TARGETS_SHOWN)
                    .map(|target| Link {
                        text: target.issue().map_or(String::new(), |issue| issue.row.to_string()),
                        href: page.to_entry(target),
                    })
                    .collect(),
                more: all.len().saturating_sub(TARGETS_SHOWN),
            }
        })
        .collect();
    (rows, bases)
}

fn issue_lines(page: &Page<'_>, on_file: &BTreeMap<RowLabel, &Entry>) -> Vec<IssueLine> {
    on_file
        .iter()
        .map(|(label, entry)| {
            let summary = entry.common.as_ref().and_then(|common| common.summary.as_ref());
            IssueLine {
                link: Link { text: label.to_string(), href: page.to_entry(entry) },
                summary: summary.map_or(String::new(), |summary| super::lists::first_sentence(&summary.text.text)),
            }
        })
        .collect()
}

fn alterations_on<'a>(page: &Page<'a>, on_file: &BTreeMap<RowLabel, &Entry>) -> Vec<&'a Entry> {
    let corpus = page.corpus();
    let found: BTreeMap<_, &Entry> = on_file
        .values()
        .filter_map(|entry| entry.issue())
        .flat_map(|issue| &issue.alterations)
        .filter_map(|altered| corpus.find(Kind::Alteration, &altered.pattern).ok())
        .map(|entry| (entry.id.clone(), entry))
        .collect();
    found.into_values().collect()
}
