//! Dates and mints: issues are in their series' list, mints were open, standards cover every year, hosts are possible.

use std::collections::BTreeMap;

use crate::corpus::{Corpus, host_row};
use crate::diagnostic::{Code, Report, closest};
use crate::entry::{Entry, Issue, Kind, RowLabel, Series};
use crate::reckon::hosts;
use crate::source::Span;

/// `outside-series`: an issue's year, mint and variety are a row of its series.
pub fn outside_series(corpus: &Corpus, report: &mut Report) {
    let mut on_file: BTreeMap<(String, RowLabel), &Entry> = BTreeMap::new();
    for (entry, issue) in corpus.issues() {
        let Some((series_entry, series)) = corpus.series_of(issue) else { continue };
        if series.row(&issue.row).is_some() {
            if let Some(first) = on_file.insert((series_entry.id.to_string(), issue.row.clone()), entry) {
                report
                    .error(
                        Code::DuplicateId,
                        issue.year_span,
                        format!("{} of this series has an entry already", issue.row),
                    )
                    .hint("merge the two entries")
                    .related(first.span, "the other entry");
            }
            continue;
        }
        not_listed(issue, series, report);
    }
}

fn not_listed(issue: &Issue, series: &Series, report: &mut Report) {
    let row = &issue.row;
    let (from, to) = series.years;
    let of_year: Vec<String> =
        series.rows().iter().filter(|(r, _)| r.label.year == row.year).map(|(r, _)| r.label.to_string()).collect();
    let (span, message) = if !(from..=to).contains(&row.year) {
        (issue.year_span, format!("{} is outside {}, {from} to {to}", row.year, series.name))
    } else if of_year.is_empty() {
        (issue.year_span, format!("{} has no row for {}", series.name, row.year))
    } else {
        let dated = series.rows().iter().any(|(r, _)| r.label.date() == row.date());
        let span = if dated { issue.variety_span } else { issue.mint_span };
        (span, format!("{} has no row {row}", series.name))
    };
    let hint = if of_year.is_empty() {
        let years: Vec<String> = series.rows().iter().map(|(r, _)| r.label.year.to_string()).collect();
        match closest(&row.year.to_string(), years.iter().map(String::as_str)) {
            Some(near) if !(from..=to).contains(&row.year) => format!("did you mean {near}? Or name another series"),
            _ => "add the row to the series, if it was struck".to_string(),
        }
    } else {
        format!("of {} the series has: {}", row.year, of_year.join(", "))
    };
    report.error(Code::OutsideSeries, span, message).hint(hint);
}

/// `mint-not-open`: each row's mint is one of the country's, and coined in that year.
pub fn mint_not_open(corpus: &Corpus, report: &mut Report) {
    for (_, series) in corpus.all_series() {
        let Some((country_entry, country)) = corpus.country_of(series) else { continue };
        if country_entry.broken {
            continue;
        }
        for (row, _) in series.rows() {
            let mark = &row.label.mint;
            let mints: Vec<_> = country.mints.iter().filter(|mint| mint.mark == *mark).collect();
            if mints.is_empty() {
                let marks: Vec<String> = country.mints.iter().map(|mint| format!("\"{}\"", mint.mark)).collect();
                report
                    .error(
                        Code::MintNotOpen,
                        row.span,
                        format!("{} has no mint with the mark \"{mark}\"", country.name),
                    )
                    .hint(format!("its marks are {}; or add the mint to its entry", marks.join(", ")))
                    .related(country_entry.span, "the country's mints");
            } else if !mints.iter().any(|mint| mint.open_in(row.label.year)) {
                report
                    .error(Code::MintNotOpen, row.span, format!("{} did not coin in {}", mints[0].city, row.label.year))
                    .hint("correct the year or the mark, or the mint's years in the country's entry")
                    .related(mints[0].span, "its years of coining");
            }
        }
    }
}

/// `standard-gap`: every listed year has a standard, and no two overlap.
pub fn standard_gap(corpus: &Corpus, report: &mut Report) {
    for (_, series) in corpus.all_series().filter(|(entry, _)| !entry.broken) {
        let mut years: Vec<i32> = series.rows().iter().map(|(row, _)| row.label.year).collect();
        years.dedup();
        if let Some(bare) = years.iter().find(|year| series.standard(**year).is_none()) {
            report
                .error(Code::StandardGap, series.years_span, format!("no standard covers {bare}"))
                .hint("add a [[standard]] whose years include it, or widen from and to");
        }
        for (at, one) in series.standards.iter().enumerate() {
            for other in &series.standards[at + 1..] {
                let (first, last) = (one.from.max(other.from), one.to.min(other.to));
                // A year of change may stand in both: coins of both weights were struck in it.
                if last > first {
                    report
                        .error(Code::StandardGap, other.span, format!("two standards claim {first} to {last}"))
                        .hint("end one in the year the other begins")
                        .related(one.span, "the other one");
                }
            }
        }
    }
}

/// `duplicate-id`, `outside-series`: rows of a series are distinct and within its years.
pub fn rows(corpus: &Corpus, report: &mut Report) {
    for (_, series) in corpus.all_series() {
        let mut seen: BTreeMap<&RowLabel, Span> = BTreeMap::new();
        for (row, _) in series.rows() {
            if let Some(first) = seen.insert(&row.label, row.span) {
                report
                    .error(Code::DuplicateId, row.span, format!("{} is listed twice", row.label))
                    .hint("keep one; say how they differ in the variety, or give both figures in a remark")
                    .related(first, "the first one");
            }
            if !(series.years.0..=series.years.1).contains(&row.label.year) {
                let message = format!(
                    "{} is outside the years of the series, {} to {}",
                    row.label.year, series.years.0, series.years.1
                );
                report.error(Code::OutsideSeries, row.span, message).hint("correct the row, or widen `years`");
            }
        }
    }
}

/// `host-impossible`: a recorded host exists, and (a warning) the computation finds it too.
pub fn host_impossible(corpus: &Corpus, report: &mut Report) {
    for (entry, issue) in corpus.issues() {
        let Some((own, _)) = corpus.series_of(issue) else { continue };
        for altered in &issue.alterations {
            let Ok(pattern) = corpus.find(Kind::Alteration, &altered.pattern) else { continue };
            let Some(operation) = pattern.alteration().map(|alteration| alteration.group) else { continue };
            for host in &altered.hosts {
                let Ok((series_entry, label)) = host_row(corpus, own, host) else { continue };
                let Some(series) = series_entry.series() else { continue };
                if series.row(&label).is_none() {
                    let of_year: Vec<String> = series
                        .rows()
                        .iter()
                        .filter(|(r, _)| r.label.year == label.year)
                        .map(|(r, _)| r.label.to_string())
                        .collect();
                    let hint = if of_year.is_empty() {
                        "name a date that was struck".to_string()
                    } else {
                        format!("of {} the series has: {}", label.year, of_year.join(", "))
                    };
                    report
                        .error(Code::HostImpossible, host.span, format!("{label} was not struck in {}", series.name))
                        .hint(hint);
                } else if series_entry.id == own.id && label == issue.row {
                    if hosts::needs_host(operation) {
                        report
                            .error(Code::HostImpossible, host.span, format!("{label} is the issue itself"))
                            .hint("name the coin it is made from");
                    }
                } else if series_entry.id == own.id && !hosts::found(corpus, entry, operation, &label) {
                    report
                        .warning(
                            Code::HostImpossible,
                            host.span,
                            format!("{label} is not among the hosts worked out for this alteration"),
                        )
                        .hint("check the date, the mark and the pattern; a rarer path may need another pattern");
                }
            }
        }
    }
}
