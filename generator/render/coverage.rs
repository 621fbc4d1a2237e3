//! The coverage map: every issue a square, darker the thinner it is, and what makes it so.

use std::collections::BTreeMap;

use serde::Serialize;

use super::RenderError;
use super::site::{Head, Link, Page};
use crate::corpus::title;
use crate::entry::{Entry, Kind};
use crate::out_file::OutFile;
use crate::reckon::coverage::{Bases, Coverage, EntryCoverage};

#[derive(Serialize)]
struct View {
    head: Head,
    bases: Bases,
    total: usize,
    shares: [String; 3],
    counts: Vec<(String, usize)>,
    countries: Vec<CountryLine>,
    levels: [usize; MOST + 1],
}

#[derive(Serialize)]
struct CountryLine {
    link: Link,
    demo: bool,
    levels: Vec<usize>,
    series: usize,
    bare: usize,
}

#[derive(Serialize)]
struct CountryMap {
    head: Head,
    name: String,
    series: Vec<SeriesMap>,
}

#[derive(Serialize)]
struct SeriesMap {
    link: Link,
    bases: Bases,
    squares: Vec<Square>,
    listed: usize,
}

#[derive(Serialize)]
struct Square {
    href: String,
    /// How many things it lacks, 0 to 5.
    level: usize,
    label: String,
}

/// Where the map of one country stands.
pub fn path_of(country: &Entry) -> String {
    format!("coverage/{}.html", country.id.stem())
}

/// All countries, a small square for each issue.
pub fn page(page: &Page<'_>, coverage: &Coverage) -> Result<OutFile, RenderError> {
    let corpus = page.corpus();
    let by_id = by_id(coverage);
    let mut levels = [0; MOST + 1];
    let mut countries: Vec<(i64, CountryLine)> = Vec::new();
    for entry in corpus.of_kind(Kind::Country) {
        let Some(country) = entry.country() else { continue };
        let series = page.site.backlinks.of_kind(corpus, &entry.id, Kind::Series);
        let issues: Vec<_> = series.iter().map(|series| corpus.issues_of(&series.id)).collect();
        let squares: Vec<usize> = issues
            .iter()
            .flatten()
            .filter_map(|(issue, _)| by_id.get(issue.id.as_str()))
            .map(|one| level(one))
            .collect();
        squares.iter().for_each(|level| levels[*level] += 1);
        let line = CountryLine {
            link: Link { text: country.name.clone(), href: page.to(&path_of(entry)) },
            demo: !corpus.collection(entry).real,
            levels: squares,
            series: series.len(),
            bare: issues.iter().filter(|issues| issues.is_empty()).count(),
        };
        countries.push((country.order, line));
    }
    countries.sort_by_key(|(order, _)| *order);
    let total = coverage.bases.total();
    let share = |part: usize| format!("{:.1} %", part as f64 / total.max(1) as f64 * 100.0);
    let view = View {
        head: page.head("Coverage", "coverage", "coverage", None),
        bases: coverage.bases,
        total,
        shares: [share(coverage.bases.read), share(coverage.bases.memory), share(coverage.bases.common_practice)],
        counts: Kind::ALL
            .iter()
            .map(|kind| (kind.folder().to_string(), coverage.entries_by_kind.get(kind.folder()).copied().unwrap_or(0)))
            .collect(),
        countries: countries.into_iter().map(|(_, line)| line).collect(),
        levels,
    };
    page.render("coverage.html", &view)
}

/// One country, series by series, a square for each issue.
pub fn country(page: &Page<'_>, entry: &Entry, coverage: &Coverage) -> Result<OutFile, RenderError> {
    let corpus = page.corpus();
    let by_id = by_id(coverage);
    let series = page
        .site
        .backlinks
        .of_kind(corpus, &entry.id, Kind::Series)
        .into_iter()
        .filter_map(|series_entry| {
            let mut bases = by_id.get(series_entry.id.as_str()).map_or(Bases::default(), |one| one.bases);
            let squares = corpus
                .issues_of(&series_entry.id)
                .into_iter()
                .filter_map(|(issue_entry, issue)| {
                    let one = by_id.get(issue_entry.id.as_str())?;
                    bases.merge(one.bases);
                    let thin = if one.thin.is_empty() { "nothing missing".to_string() } else { one.thin.join(", ") };
                    Some(Square {
                        href: page.to_entry(issue_entry),
                        level: level(one),
                        label: format!("{}: {thin}", issue.row),
                    })
                })
                .collect();
            Some(SeriesMap {
                link: page.link(series_entry),
                bases,
                squares,
                listed: series_entry.series()?.rows().len(),
            })
        })
        .collect();
    let name = title(corpus, entry);
    let view =
        CountryMap { head: page.head(&format!("Coverage: {name}"), "coverage", "coverage", Some(entry)), name, series };
    page.render("coverage-country.html", &view)
}

fn by_id(coverage: &Coverage) -> BTreeMap<&str, &EntryCoverage> {
    coverage.entries.iter().map(|one| (one.id.as_str(), one)).collect()
}

/// How many of six things an issue lacks: a picture, anything published, checks and diagnostics of its own, hypotheses
/// told apart, what its curator still wants, a recent review.
fn level(one: &EntryCoverage) -> usize {
    one.thin.len().min(MOST)
}

/// Lacking this much or more is drawn alike.
const MOST: usize = 5;
