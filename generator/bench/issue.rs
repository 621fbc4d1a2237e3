//! One issue: its hypotheses, its checks with what each hypothesis expects, its true dies, what it may have been.

use serde::Serialize;
use serde_json::{Value, json};

use super::country::Shelf;
use crate::corpus::{
    Hypo, IssueView, PlacedCheck, ResolvedPlace, feeds_the_bench, host_row, photos_of, place_on, title,
};
use crate::entry::{CheckKind, Entry, Expectation, Face, Kind, Quantity, Range, Sign};
use crate::figure::{Spot, dial, midst};
use crate::reckon::standard;
use crate::render::{self, words};

/// Hosts beyond this many are too far-fetched to offer.
const HOSTS: usize = 12;

#[derive(Serialize)]
pub struct Issue {
    title: String,
    page: String,
    series: String,
    year: i32,
    row: String,
    standard: Option<usize>,
    hypotheses: Vec<Hypothesis>,
    checks: Vec<Placed>,
    signs: Vec<SignOf>,
    hosts: Vec<String>,
    pictures: Vec<Picture>,
    entries: Vec<String>,
}

#[derive(Serialize)]
struct Hypothesis {
    key: String,
    kind: &'static str,
    title: String,
    entry: String,
    hosts: Vec<String>,
}

#[derive(Serialize)]
struct Placed {
    check: usize,
    number: Option<usize>,
    place: String,
    at: Option<Point>,
    /// For each finding, who expects it how.
    expect: Vec<Vec<(usize, Value)>>,
    ranges: Vec<(usize, Value)>,
}

#[derive(Serialize)]
struct SignOf {
    text: String,
    place: String,
    at: Option<Point>,
    basis: usize,
}

#[derive(Serialize)]
struct Point {
    face: &'static str,
    clock: f64,
    reach: f64,
    about: bool,
}

#[derive(Serialize)]
struct Picture {
    id: String,
    name: String,
    src: String,
    alt: String,
    shows: Vec<String>,
}

/// `None` while something behind it is missing.
pub fn issue(shelf: &mut Shelf<'_>, entry: &Entry) -> Option<Issue> {
    let corpus = shelf.corpus;
    let view = corpus.view(entry)?;
    let numbers = render::numbers(&view);
    let mut behind: Vec<&Entry> = vec![view.entry, view.series_entry];
    behind.extend(view.hypotheses.iter().filter_map(|hypo| hypo.entry()).filter_map(|id| corpus.get(id)));
    let shown =
        behind.iter().filter(|owner| feeds_the_bench(owner)).flat_map(|owner| pictures(shelf, owner, entry)).collect();
    behind.extend(view.checks.iter().map(|placed| placed.from));
    let mut entries: Vec<String> = behind.iter().map(|entry| shelf.know(entry)).collect();
    entries.sort();
    entries.dedup();
    let signs = view.issue.genuine.iter().chain(&view.series.genuine);
    Some(Issue {
        title: title(corpus, entry),
        page: render::page_of(entry),
        series: view.series_entry.id.to_string(),
        year: view.issue.row.year,
        row: view.issue.row.to_string(),
        standard: view.standard.and_then(|one| view.series.standards.iter().position(|other| std::ptr::eq(one, other))),
        hypotheses: view.hypotheses.iter().map(|hypo| hypothesis(shelf, &view, hypo)).collect(),
        checks: view
            .checks
            .iter()
            .zip(numbers)
            .map(|(placed, number)| Placed {
                check: shelf.check(placed),
                number,
                place: words::place(&placed.place),
                at: point(&placed.place),
                expect: expected(placed, &view),
                ranges: ranges(placed, &view),
            })
            .collect(),
        signs: signs.map(|sign| sign_of(shelf, sign, &view)).collect(),
        hosts: shelf
            .hosts
            .get(&entry.id)
            .into_iter()
            .flatten()
            .take(HOSTS)
            .map(|host| host.label.to_string())
            .collect(),
        pictures: shown,
        entries,
    })
}

fn hypothesis(shelf: &Shelf<'_>, view: &IssueView<'_>, hypo: &Hypo) -> Hypothesis {
    let entry = hypo.entry().and_then(|id| shelf.corpus.get(id));
    let kind = match hypo {
        Hypo::Genuine => "genuine",
        Hypo::Family(_) => "family",
        Hypo::Alteration(_) => "alteration",
    };
    let recorded = view.issue.alterations.iter().filter(|altered| {
        let pattern = shelf.corpus.find(Kind::Alteration, &altered.pattern).ok();
        pattern.is_some_and(|pattern| hypo.entry() == Some(&pattern.id))
    });
    let hosts = recorded
        .flat_map(|altered| &altered.hosts)
        .filter_map(|host| host_row(shelf.corpus, view.series_entry, host).ok())
        .map(|(_, label)| label.to_string());
    Hypothesis {
        key: hypo.key(),
        kind,
        title: entry.map_or("genuine".into(), |entry| title(shelf.corpus, entry)),
        entry: entry.map_or(String::new(), |entry| entry.id.to_string()),
        hosts: hosts.collect(),
    }
}

fn place_of(hypo: &Hypo, view: &IssueView<'_>) -> Option<usize> {
    view.hypotheses.iter().position(|known| known == hypo)
}

fn expected(placed: &PlacedCheck<'_>, view: &IssueView<'_>) -> Vec<Vec<(usize, Value)>> {
    let of_finding = |finding: &Vec<(Hypo, Expectation)>| {
        let mut list: Vec<(usize, Value)> = Vec::new();
        for (hypo, expectation) in finding {
            let Some(at) = place_of(hypo, view) else { continue };
            // The first that speaks of a hypothesis is heard, as in `PlacedCheck::shares`.
            if list.iter().all(|(known, _)| *known != at) {
                list.push((
                    at,
                    match expectation {
                        Expectation::Word(word) => json!(word.word()),
                        Expectation::Count { k, n } => json!([k, n]),
                    },
                ));
            }
        }
        list
    };
    placed.expects.iter().map(of_finding).collect()
}

fn ranges(placed: &PlacedCheck<'_>, view: &IssueView<'_>) -> Vec<(usize, Value)> {
    let weighed = matches!(placed.check.kind, CheckKind::Measure { quantity: Quantity::Weight, .. });
    let smooth =
        |range: &Range| view.standard.filter(|_| weighed).and_then(|standard| standard::smooth(standard, *range));
    let value = |range: &Range| match range {
        Range::Between { low, high } => match smooth(range) {
            Some(tail) => json!({ "low": low, "high": high, "tail": tail }),
            None => json!({ "low": low, "high": high }),
        },
        Range::Around { mean, sd } => json!({ "mean": mean, "sd": sd }),
    };
    placed.ranges.iter().filter_map(|(hypo, range)| Some((place_of(hypo, view)?, value(range)))).collect()
}

fn sign_of(shelf: &mut Shelf<'_>, sign: &Sign, view: &IssueView<'_>) -> SignOf {
    let place = place_on(sign.statement.place.as_ref(), view.series, view.issue.row.year);
    SignOf {
        text: sign.statement.text.plain(),
        place: words::place(&place),
        at: point(&place),
        basis: shelf.basis(&sign.statement.basis),
    }
}

/// Where on the face to look; the middle of an arc or a line, the midst of an area.
fn point(place: &ResolvedPlace) -> Option<Point> {
    let within = |face: &Face, spot: Spot, about: bool| {
        let (clock, reach) = dial(midst(&spot));
        let hundredths = |number: f64| (number * 100.0).round() / 100.0;
        Some(Point { face: face.word(), clock: hundredths(clock), reach: hundredths(reach), about })
    };
    match place {
        ResolvedPlace::Path { face, points, about } => within(face, Spot::Path(points.clone()), *about),
        ResolvedPlace::Area { face, points, about } => within(face, Spot::Area(points.clone()), *about),
        ResolvedPlace::Point { face, clock, reach, about } => {
            Some(Point { face: face.word(), clock: *clock, reach: *reach, about: *about })
        }
        ResolvedPlace::Arc { face, from, to, reach, about } => {
            let clock = (from + (to - from).rem_euclid(12.0) / 2.0).rem_euclid(12.0);
            Some(Point { face: face.word(), clock, reach: *reach, about: *about })
        }
        _ => None,
    }
}

/// The pictures of an entry, the issue's own or of one behind it.
fn pictures(shelf: &Shelf<'_>, owner: &Entry, issue: &Entry) -> Vec<Picture> {
    let whose = if owner.id == issue.id { String::new() } else { format!("{}: ", title(shelf.corpus, owner)) };
    photos_of(owner)
        .iter()
        .filter_map(|photo| {
            Some(Picture {
                id: format!("{}/{}", owner.id, photo.id),
                name: format!("{whose}{}", photo.id.as_str().replace('-', " ")),
                src: shelf.corpus.shown(owner, photo)?.plan.page.path,
                alt: photo.words(),
                shows: photo.shows.iter().map(|shown| shown.text.clone()).collect(),
            })
        })
        .collect()
}
