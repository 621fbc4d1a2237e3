//! The page an examiner opens.

use serde::Serialize;

use super::checks::{CheckView, bar};
use super::faces::Faces;
use super::hosts::{Hosts, hosts_of, row_link};
use super::parts::{Fact, Foot, SignView, StatementView};
use super::site::{Head, Link, Page};
use super::{RenderError, drawings, words};
use crate::corpus::{Hypo, IssueView, PlacedCheck, host_row, title};
use crate::entry::{CheckKind, Entry, Kind, Quantity};
use crate::figure::{self, Bar, NumberLine};
use crate::out_file::OutFile;
use crate::reckon::{standard, units};

#[derive(Serialize)]
struct View {
    head: Head,
    name: String,
    country: Link,
    series: Link,
    summary: Option<StatementView>,
    facts: Vec<Fact>,
    hypotheses: Vec<HypothesisView>,
    faces: Faces,
    checks: Vec<CheckView>,
    suspicions: Vec<Suspicion>,
    standard: Vec<Fact>,
    standard_remarks: Vec<StatementView>,
    scale_html: String,
    genuine: Vec<SignView>,
    genuine_of_series: Vec<SignView>,
    forgeries: Vec<ForgeryView>,
    alterations: Vec<AlteredView>,
    #[serde(flatten)]
    hosts: Hosts,
    hosts_note: String,
    unseparated: Vec<UnseparatedView>,
    foot: Foot,
}

/// Looks inherited from one entry, in short: the full words are on its own page.
#[derive(Serialize)]
struct Suspicion {
    link: Link,
    looks: Vec<ShortLook>,
}

#[derive(Serialize)]
struct ShortLook {
    id: String,
    ask_html: String,
    speaks_for_html: String,
    speaks_against_html: String,
    pictures: Vec<Link>,
}

#[derive(Serialize)]
struct HypothesisView {
    class: &'static str,
    word: &'static str,
    name: String,
    href: String,
}

#[derive(Serialize)]
struct ForgeryView {
    link: Link,
    methods: Vec<Link>,
    html: String,
    basis_html: String,
}

#[derive(Serialize)]
struct AlteredView {
    link: Link,
    html: String,
    hosts: Vec<Link>,
    basis_html: String,
}

#[derive(Serialize)]
struct UnseparatedView {
    between: String,
    html: String,
}

/// The page of one issue. Its view must be whole, which holds for every entry without errors.
pub fn page(page: &Page<'_>, entry: &Entry) -> Result<OutFile, RenderError> {
    let corpus = page.corpus();
    let Some(view) = corpus.view(entry) else { return page.missing(entry) };
    let name = title(corpus, entry);
    let country = corpus.country_of(view.series).map(|(country, _)| page.link(country));
    let summary = entry.common.as_ref().and_then(|common| common.summary.as_ref()).map(|s| page.statement(s));
    let facts = facts(page, &view);
    let (first, inherited): (Vec<&PlacedCheck<'_>>, Vec<&PlacedCheck<'_>>) =
        view.checks.iter().partition(|placed| comes_first(placed, &view));
    let questions: Vec<String> = first.iter().map(|placed| question(&placed.check.kind)).collect();
    let faces = page.faces_of(&view, &first, &questions);
    let mut checks: Vec<CheckView> =
        first.iter().enumerate().map(|(at, placed)| page.check_of_issue(at + 1, placed, &view)).collect();
    let mut genuine = page.signs(&view.issue.genuine, entry, Some((view.series, view.issue.row.year)));
    let mut genuine_of_series =
        page.signs(&view.series.genuine, view.series_entry, Some((view.series, view.issue.row.year)));
    genuine_of_series.iter_mut().for_each(|sign| sign.id.insert_str(0, "series-"));
    drawings::each_once(&mut checks, genuine.iter_mut().chain(&mut genuine_of_series));
    let model = View {
        head: page.head(&name, "issue", "issues", Some(entry)),
        country: country.unwrap_or(Link { text: String::new(), href: page.to("index.html") }),
        series: page.link(view.series_entry),
        summary,
        facts,
        hypotheses: view.hypotheses.iter().map(|hypo| hypothesis(page, hypo)).collect(),
        faces,
        checks,
        suspicions: suspicions(page, &inherited, &view),
        standard: view.standard.map_or(Vec::new(), |one| page.standard_facts(one)),
        standard_remarks: remarks(page, &view),
        scale_html: weight_scale(page, &view),
        genuine,
        genuine_of_series,
        forgeries: forgeries(page, &view),
        alterations: alterations(page, &view),
        hosts: hosts_of(page, &view),
        hosts_note: view.series.incomplete.clone().unwrap_or_default(),
        unseparated: view
            .issue
            .unseparated
            .iter()
            .map(|note| UnseparatedView {
                between: note
                    .between
                    .iter()
                    .map(|h| page.name_as_written(&h.kind, entry))
                    .collect::<Vec<_>>()
                    .join(" and "),
                html: page.prose.block(&note.why.text),
            })
            .collect(),
        foot: page.foot(entry),
        name,
    };
    page.render("issue.html", &model)
}

/// Measured checks, the issue's own, its series', and whatever decides: the looks with numbers and pins.
fn comes_first(placed: &PlacedCheck<'_>, view: &IssueView<'_>) -> bool {
    let measured = matches!(placed.check.kind, CheckKind::Measure { .. });
    measured || placed.check.decisive || placed.from.id == view.entry.id || placed.from.id == view.series_entry.id
}

/// For each check of a view, the number its look has on the issue's page.
pub(crate) fn numbers(view: &IssueView<'_>) -> Vec<Option<usize>> {
    let mut last = 0;
    let number = |placed| {
        comes_first(placed, view).then(|| {
            last += 1;
            last
        })
    };
    view.checks.iter().map(number).collect()
}

fn suspicions(page: &Page<'_>, inherited: &[&PlacedCheck<'_>], view: &IssueView<'_>) -> Vec<Suspicion> {
    let mut out: Vec<Suspicion> = Vec::new();
    for placed in inherited {
        let link = page.link(placed.from);
        let full = page.check_of_issue(0, placed, view);
        let said = |lean: &str| {
            full.findings.iter().find(|finding| finding.lean == lean).map_or(String::new(), |f| f.say_html.clone())
        };
        let look = ShortLook {
            id: full.id.clone(),
            ask_html: full.ask_html.clone(),
            speaks_for_html: said("true"),
            speaks_against_html: said("false"),
            pictures: full.pictures,
        };
        match out.last_mut() {
            Some(last) if last.link.href == link.href => last.looks.push(look),
            _ => out.push(Suspicion { link, looks: vec![look] }),
        }
    }
    out
}

fn question(kind: &CheckKind) -> String {
    match kind {
        CheckKind::Look { ask, .. } => ask.text.trim().to_string(),
        CheckKind::Measure { quantity, .. } => format!("measure the {}", quantity.plain()),
    }
}

fn hypothesis(page: &Page<'_>, hypo: &Hypo) -> HypothesisView {
    let (class, word) = match hypo {
        Hypo::Genuine => ("true", "Genuine"),
        Hypo::Family(_) => ("false", "Forged"),
        Hypo::Alteration(_) => ("altered", "Altered"),
    };
    let entry = hypo.entry().and_then(|id| page.corpus().get(id));
    HypothesisView {
        class,
        word,
        name: entry.map_or(String::new(), |entry| title(page.corpus(), entry)),
        href: entry.map_or("#true-dies".into(), |entry| page.to_entry(entry)),
    }
}

fn facts(page: &Page<'_>, view: &IssueView<'_>) -> Vec<Fact> {
    let corpus = page.corpus();
    let mut out = Vec::new();
    let row = &view.issue.row;
    if let Some((_, country)) = corpus.country_of(view.series) {
        let mint = country.mints.iter().find(|mint| mint.mark == row.mint && mint.open_in(row.year));
        if let Some(mint) = mint {
            let mark = if row.mint.is_empty() { "no mark".to_string() } else { format!("mark {}", row.mint) };
            out.push(Fact {
                label: "Struck at",
                html: figure::escape(&format!("{} ({mark})", mint.city)),
                basis_html: page.basis_html(&mint.basis),
            });
        }
    }
    let listed = view.series.row(row).map(|(row, basis)| (row.pieces, row.remark.clone(), basis));
    match (&view.issue.mintage, listed) {
        (Some(mintage), _) => {
            let number =
                mintage.pieces.map_or(String::new(), |pieces| format!("{} pieces. ", words::thousands(pieces)));
            let text = mintage.text.as_ref().map_or(String::new(), |text| page.prose.inline(&text.text));
            out.push(Fact {
                label: "Struck",
                html: format!("{number}{text}"),
                basis_html: page.basis_html(&mintage.basis),
            });
        }
        (None, Some((pieces, remark, basis))) => {
            let mut html = pieces.map_or("number not known or not counted apart".into(), |pieces| {
                format!("{} pieces", words::thousands(pieces))
            });
            if let Some(remark) = remark {
                html.push_str(&format!(", {}", figure::escape(&remark)));
            }
            out.push(Fact { label: "Struck", html, basis_html: page.basis_html(basis) });
        }
        (None, None) => {}
    }
    if let Some(place) = view.series.mark_place(row.year).filter(|_| !row.mint.is_empty()) {
        let html = page.prose.inline(&place.statement.text.text);
        out.push(Fact { label: "Mint mark", html, basis_html: page.basis_html(&place.statement.basis) });
    }
    if let Some(dated) = &view.issue.dated {
        out.push(Fact { label: "Dated on the coin", html: figure::escape(dated), basis_html: String::new() });
    }
    out
}

fn remarks(page: &Page<'_>, view: &IssueView<'_>) -> Vec<StatementView> {
    let Some(one) = view.standard else { return Vec::new() };
    let mut out = Vec::new();
    if let Some(text) = &one.text {
        out.push(StatementView {
            html: page.prose.block(&text.text),
            place: String::new(),
            basis_html: page.basis_html(&one.basis),
        });
    }
    out.extend(one.also.iter().map(|also| page.statement(&also.statement)));
    out
}

/// The law, its deviation, wear, and the ranges of families, on one scale.
fn weight_scale(page: &Page<'_>, view: &IssueView<'_>) -> String {
    let Some(weight) = view.standard.and_then(standard::weight) else { return String::new() };
    let deviation = if weight.stated { "by law" } else { "taken as 1 %: the law read states none" };
    let mut bars = vec![
        Bar {
            class: "law",
            label: "Law and deviation".into(),
            low: weight.grams - weight.deviation,
            high: weight.grams + weight.deviation,
            at: Some(weight.grams),
            words: format!(
                "{} ± {} g, {deviation}",
                words::decimals(weight.grams, 3, 2),
                words::decimals(weight.deviation, 3, 2)
            ),
        },
        Bar {
            class: "wear",
            label: "Honest wear commonly".into(),
            low: weight.worn(),
            high: weight.grams - weight.deviation,
            at: None,
            words: format!("to about {:.2} g", weight.worn()),
        },
    ];
    for also in view.standard.into_iter().flat_map(|one| &one.also) {
        let Some(grams) = also.weight.map(units::grams) else { continue };
        let words = format!("{} g", words::decimals(grams, 4, 2));
        bars.push(Bar {
            class: "law",
            label: "Another published figure".into(),
            low: grams,
            high: grams,
            at: Some(grams),
            words,
        });
    }
    for placed in &view.checks {
        let CheckKind::Measure { quantity: Quantity::Weight, .. } = placed.check.kind else { continue };
        for (hypo, range) in &placed.ranges {
            if matches!(hypo, Hypo::Family(_)) {
                let bar = bar(Quantity::Weight, "false", &page.name(hypo), *range);
                if !bars.iter().any(|known| known.label == bar.label) {
                    bars.push(bar);
                }
            }
        }
    }
    figure::number_line(&NumberLine { unit: "g", bars })
}

fn forgeries(page: &Page<'_>, view: &IssueView<'_>) -> Vec<ForgeryView> {
    let corpus = page.corpus();
    view.issue
        .forgeries
        .iter()
        .filter_map(|forgery| {
            let family = corpus.find(Kind::Family, &forgery.family).ok()?;
            let methods = family.family()?.methods.iter().filter_map(|method| corpus.find(Kind::Method, method).ok());
            Some(ForgeryView {
                link: page.link(family),
                methods: page.links(methods),
                html: page.prose.block(&forgery.text.text),
                basis_html: page.basis_html(&forgery.basis),
            })
        })
        .collect()
}

fn alterations(page: &Page<'_>, view: &IssueView<'_>) -> Vec<AlteredView> {
    let corpus = page.corpus();
    view.issue
        .alterations
        .iter()
        .filter_map(|altered| {
            let pattern = corpus.find(Kind::Alteration, &altered.pattern).ok()?;
            let hosts = altered
                .hosts
                .iter()
                .filter_map(|host| host_row(corpus, view.series_entry, host).ok())
                .map(|(series, label)| row_link(page, series, &label))
                .collect();
            Some(AlteredView {
                link: page.link(pattern),
                html: altered.text.as_ref().map_or(String::new(), |text| page.prose.block(&text.text)),
                hosts,
                basis_html: page.basis_html(&altered.basis),
            })
        })
        .collect()
}
