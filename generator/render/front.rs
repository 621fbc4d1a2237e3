//! The front page and the page of a country: what there is, series by series.

use std::collections::BTreeMap;

use serde::Serialize;

use super::site::{Head, Link, Page};
use super::{RenderError, words};
use crate::corpus::title;
use crate::entry::{Entry, Kind, Series};
use crate::out_file::OutFile;
use crate::reckon::{coverage::Bases, standard};

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
    let mut issues: Vec<Link> = Vec::new();
    for series in &series {
        let of_series = page.corpus().issues_of(&series.id);
        issues.extend(of_series.into_iter().map(|(entry, _)| page.link(entry)));
    }
    tell_apart(page, &series, &mut issues);
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

/// Issues of two designs may share date, mint and denomination: their links then name the series too.
fn tell_apart(page: &Page<'_>, series: &[&Entry], issues: &mut [Link]) {
    let mut uses: BTreeMap<String, usize> = BTreeMap::new();
    issues.iter().for_each(|link| *uses.entry(link.text.clone()).or_default() += 1);
    let names = series
        .iter()
        .flat_map(|entry| page.corpus().issues_of(&entry.id).into_iter().map(|_| title(page.corpus(), entry)));
    for (link, name) in issues.iter_mut().zip(names) {
        if uses.get(&link.text).is_some_and(|uses| *uses > 1) {
            link.text = format!("{} ({name})", link.text);
        }
    }
}
