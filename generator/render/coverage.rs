//! The coverage map: every issue a square, darker the thinner it is, and what makes it so.

use std::collections::BTreeMap;

use serde::Serialize;

use super::RenderError;
use super::site::{Head, Link, Page};
use crate::corpus::title;
use crate::entry::Kind;
use crate::out_file::OutFile;
use crate::reckon::coverage::{Bases, Coverage, EntryCoverage};

#[derive(Serialize)]
struct View {
    head: Head,
    bases: Bases,
    total: usize,
    shares: [String; 3],
    counts: Vec<(String, usize)>,
    countries: Vec<CountryMap>,
    levels: [usize; 4],
}

#[derive(Serialize)]
struct CountryMap {
    name: String,
    demo: bool,
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
    /// 0 well covered to 3 thin.
    level: usize,
    label: String,
}

pub fn page(page: &Page<'_>, coverage: &Coverage) -> Result<OutFile, RenderError> {
    let corpus = page.corpus();
    let by_id: BTreeMap<&str, &EntryCoverage> = coverage.entries.iter().map(|one| (one.id.as_str(), one)).collect();
    let mut levels = [0; 4];
    let mut countries: BTreeMap<(i64, String), CountryMap> = BTreeMap::new();
    for (entry, series) in corpus.all_series() {
        let country = corpus.country_of(series);
        let order = country.map_or(9999, |(_, country)| country.order);
        let name = country.map_or(String::new(), |(_, country)| country.name.clone());
        let map = countries.entry((order, name.clone())).or_insert_with(|| CountryMap {
            name,
            demo: !corpus.collection(entry).real,
            series: Vec::new(),
        });
        let mut bases = by_id.get(entry.id.as_str()).map_or(Bases::default(), |one| one.bases);
        let squares = corpus
            .issues_of(&entry.id)
            .into_iter()
            .filter_map(|(issue_entry, issue)| {
                let one = by_id.get(issue_entry.id.as_str())?;
                bases.merge(one.bases);
                let level = level(one);
                levels[level] += 1;
                let thin = if one.thin.is_empty() { "nothing missing".to_string() } else { one.thin.join(", ") };
                Some(Square { href: page.to_entry(issue_entry), level, label: format!("{}: {thin}", issue.row) })
            })
            .collect();
        map.series.push(SeriesMap {
            link: Link { text: title(corpus, entry), href: page.to_entry(entry) },
            bases,
            squares,
            listed: series.rows().len(),
        });
    }
    let total = coverage.bases.total();
    let share = |part: usize| format!("{:.1} %", part as f64 / total.max(1) as f64 * 100.0);
    let counts = Kind::ALL
        .iter()
        .map(|kind| (kind.folder().to_string(), coverage.entries_by_kind.get(kind.folder()).copied().unwrap_or(0)))
        .collect();
    let view = View {
        head: page.head("Coverage", "coverage", "coverage", None),
        bases: coverage.bases,
        total,
        shares: [share(coverage.bases.read), share(coverage.bases.memory), share(coverage.bases.common_practice)],
        counts,
        countries: countries.into_values().collect(),
        levels,
    };
    page.render("coverage.html", &view)
}

/// How thin an issue is. Pictures and published diagnostics are wanting almost everywhere and count together as one.
fn level(one: &EntryCoverage) -> usize {
    let bare =
        one.thin.iter().any(|line| line == "no picture") || one.thin.iter().any(|line| line == "nothing published");
    let weak = [
        one.checks < crate::reckon::coverage::FEW_CHECKS,
        one.own_checks == 0,
        one.unseparated > 0,
        one.stale,
        one.thin.iter().any(|line| line == "no diagnostic of the true dies"),
    ];
    (usize::from(bare) + weak.iter().filter(|weak| **weak).count()).min(3)
}
