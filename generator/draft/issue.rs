//! The draft of an issue: its row found in the series lists, its hosts and the families of its series suggested.

use super::{
    GENUINE, NOT_DECISIVE, OPTIONAL, PHOTO, REVIEWED, Refusal, check, country_of, known_country, quoted, refuse, slug,
    summary,
};
use crate::corpus::Corpus;
use crate::diagnostic::closest;
use crate::entry::{self, Content, Entry, EntryId, Kind, Operation, Row, Series};
use crate::reckon::hosts::{self, Change, Host};
use crate::render::thousands;
use crate::source::{FileId, LineIndex, SourceFile};

/// Hosts named for one pattern; the rest are only counted.
const MOST_HOSTS: usize = 8;

pub fn issue(corpus: &Corpus, id: &EntryId) -> Result<String, Refusal> {
    known_country(corpus, id)?;
    let (found, also) = find(corpus, id)?;
    let head = head(&found);
    let other = if also.is_empty() { String::new() } else { format!("# It could also be: {}\n", also.join("; ")) };
    let pieces = found.row.pieces.map_or("not known".into(), thousands);
    let remark = found.row.remark.as_ref().map_or(String::new(), |remark| format!("; {remark}"));
    Ok(format!(
        "# {}: the series list has {}, pieces {pieces}{remark}\n{other}{head}{REVIEWED}{OPTIONAL}\
         #dated    = \"…\"     # what the coin itself shows, if not the year\n\n{}\
         # Only to say more of the number struck than the series list says.\n#[mintage]\n#text  = ''''''\n#basis = []\n\n\
         {GENUINE}{}{}{}{UNSEPARATED}{NOT_DECISIVE}{PHOTO}",
        found.series.name,
        found.row.label,
        summary("what makes this date a target, and what most false pieces are"),
        families(corpus, found.entry),
        alterations(corpus, id, &head),
        check("\"alteration:mark-added\""),
    ))
}

const UNSEPARATED: &str = "\
# Two hypotheses that no check here tells apart, and why that stands.
#[[unseparated]]
#between = [\"family:…\", \"alteration:…\"]
#why     = ''''''

";

struct Found<'c> {
    entry: &'c Entry,
    series: &'c Series,
    row: &'c Row,
}

fn head(found: &Found<'_>) -> String {
    let label = &found.row.label;
    let variety = match label.variety.as_str() {
        "" => String::new(),
        variety => format!("variety  = {}\n", quoted(variety)),
    };
    format!(
        "series   = {}\nyear     = {}\nmint     = {}\n{variety}",
        quoted(found.entry.id.below_kind()),
        label.year,
        quoted(&label.mint)
    )
}

/// The row an id means: series of its country and denomination, then year, mint and variety as the last word has them.
/// Rows that have an entry already come last. Beside it, other rows that fit as well.
fn find<'c>(corpus: &'c Corpus, id: &EntryId) -> Result<(Found<'c>, Vec<String>), Refusal> {
    let words: Vec<&str> = id.below_kind().split('/').collect();
    let denomination = words[1..words.len() - 1].join("-");
    let year = id.stem().split('-').next().and_then(|word| word.parse::<i32>().ok());
    let Some(year) = year.filter(|year| (1000..=2100).contains(year)) else {
        let hint = "write its year, then its mint and variety if it has them: us/five-cents/1918-d-8-over-7";
        return refuse(format!("`{}` does not begin with a year", id.stem()), hint);
    };
    let fitting = of_denomination(corpus, id, &denomination)?;
    let mut rows: Vec<(i32, Found<'c>)> = Vec::new();
    for (entry, series) in &fitting {
        let on_file = corpus.issues_of(&entry.id);
        for (row, _) in series.rows().into_iter().filter(|(row, _)| row.label.year == year) {
            let taken = on_file.iter().any(|(_, issue)| issue.row == row.label);
            if let Some(score) = fit(id.stem(), entry, row) {
                rows.push((score - if taken { 1000 } else { 0 }, Found { entry, series, row }));
            }
        }
    }
    let Some(best) = rows.iter().map(|(score, _)| *score).max() else {
        return not_listed(id, year, &fitting);
    };
    let mut fits = rows.into_iter().filter(|(score, _)| *score == best).map(|(_, found)| found);
    let Some(first) = fits.next() else { return not_listed(id, year, &fitting) };
    if best < -500 {
        let message = format!("{} of {} has an entry already", first.row.label, first.entry.id.below_kind());
        return refuse(message, "name a row of the series that has none, by its year, mint and variety");
    }
    let also = fits.map(|other| format!("{} of {}", other.row.label, other.entry.id.below_kind())).collect();
    Ok((first, also))
}

/// Series of the id's country whose denomination, by any of its names, is the id's.
fn of_denomination<'c>(
    corpus: &'c Corpus,
    id: &EntryId,
    denomination: &str,
) -> Result<Vec<(&'c Entry, &'c Series)>, Refusal> {
    let prefix = format!("series/{}/", country_of(id));
    let of_country: Vec<_> = corpus.all_series().filter(|(entry, _)| entry.id.as_str().starts_with(&prefix)).collect();
    let fitting: Vec<_> = of_country
        .iter()
        .filter(|(entry, series)| {
            let called = entry.common.iter().flat_map(|common| &common.also_called);
            slug(&series.denomination) == denomination
                || entry.id.stem().starts_with(denomination)
                || called.into_iter().any(|name| slug(name) == denomination)
        })
        .copied()
        .collect();
    if !fitting.is_empty() {
        return Ok(fitting);
    }
    let mut known: Vec<String> = of_country.iter().map(|(_, series)| slug(&series.denomination)).collect();
    known.sort();
    known.dedup();
    let near = closest(denomination, known.iter().map(String::as_str));
    let near = near.map_or_else(String::new, |near| format!("did you mean {near}? "));
    let country = country_of(id);
    let hint = format!(
        "{near}Denominations of {country} on file: {}; for another one, first: tellmark draft series {country}/{denomination}-…",
        if known.is_empty() { "none".to_string() } else { known.join(", ") }
    );
    refuse(format!("no series of `{country}` is of the denomination `{denomination}`"), hint)
}

/// How well a row answers the words after the year; `None` if its mint is not the one named. A word may name the
/// variety or the series.
fn fit(stem: &str, entry: &Entry, row: &Row) -> Option<i32> {
    let rest = stem.split_once('-').map_or("", |(_, rest)| rest);
    let mint = slug(&row.label.mint);
    let rest = match mint.as_str() {
        "" => rest,
        mint if rest == mint => "",
        mint => rest.strip_prefix(mint)?.strip_prefix('-')?,
    };
    let variety = slug(&row.label.variety);
    if rest == variety {
        return Some(100);
    }
    let variety: Vec<&str> = variety.split('-').filter(|word| !word.is_empty()).collect();
    let mut series = entry.id.stem().split('-');
    let asked: Vec<&str> = rest.split('-').filter(|word| !word.is_empty()).collect();
    let named = asked.iter().filter(|word| variety.contains(word)).count() as i32;
    let of_series = asked.iter().filter(|word| series.any(|other| other == **word)).count() as i32;
    // A short first word that is neither of the variety nor of the series was meant as a mint.
    let is_mint = |word: &&str| word.len() <= 2 && word.bytes().all(|byte| byte.is_ascii_lowercase());
    if mint.is_empty() && named + of_series == 0 && asked.first().is_some_and(is_mint) {
        return None;
    }
    let unasked = variety.len() as i32 - named;
    let strange = asked.len() as i32 - named.max(of_series);
    Some(10 * (named + of_series) - unasked - 20 * strange - if named == 0 { 5 * unasked } else { 0 })
        .filter(|score| *score > -60)
}

fn not_listed<T>(id: &EntryId, year: i32, fitting: &[(&Entry, &Series)]) -> Result<T, Refusal> {
    let mut listed = Vec::new();
    for (entry, series) in fitting {
        let rows = series.rows().into_iter().filter(|(row, _)| row.label.year == year);
        let rows: Vec<String> = rows.map(|(row, _)| row.label.to_string()).collect();
        if !rows.is_empty() {
            listed.push(format!("{} has {}", entry.id.below_kind(), rows.join(", ")));
        }
    }
    let hint = if listed.is_empty() {
        let spans =
            fitting.iter().map(|(entry, s)| format!("{} ({} to {})", entry.id.below_kind(), s.years.0, s.years.1));
        format!("the series of that denomination are: {}", spans.collect::<Vec<_>>().join(", "))
    } else {
        format!("of {year}, {}; add the row to the series first if it was struck", listed.join("; "))
    };
    refuse(format!("no series list has a row for {}", id.below_kind()), hint)
}

/// A block for each family on file that says it is met in the series.
fn families(corpus: &Corpus, series: &Entry) -> String {
    let mut out = String::from("# A forgery family known on this issue. Those on file for the series follow.\n");
    let mut any = false;
    for entry in corpus.of_kind(Kind::Family) {
        let Some(family) = entry.family() else { continue };
        if family.series.iter().any(|named| corpus.find(Kind::Series, named).is_ok_and(|found| found.id == series.id)) {
            any = true;
            out.push_str(&forgery(entry.id.below_kind()));
        }
    }
    if !any {
        out.push_str(&forgery("…"));
    }
    out
}

fn forgery(family: &str) -> String {
    format!(
        "#[[forgery]]\n#family = {}\n#text   = ''''''     # what is known of it on this date\n#basis  = []\n\n",
        quoted(family)
    )
}

/// A block for each pattern with the hosts worked out for it, easiest first.
fn alterations(corpus: &Corpus, id: &EntryId, head: &str) -> String {
    let read = as_entry(id, head);
    let hosts = read.as_ref().map_or_else(Vec::new, |entry| hosts::hosts(corpus, entry));
    let mut by_pattern: Vec<(Vec<&str>, Vec<&Host<'_>>)> = Vec::new();
    for host in &hosts {
        let patterns = patterns(corpus, &host.changes[0]);
        match by_pattern.iter_mut().find(|(known, _)| *known == patterns) {
            Some((_, same)) => same.push(host),
            None => by_pattern.push((patterns, vec![host])),
        }
    }
    let mut out =
        String::from("# Alterations worked out from the date and mint list, easiest first. Keep those that are met.\n");
    if by_pattern.is_empty() {
        out.push_str("# None: no other date is one or two changes away.\n");
        out.push_str("#[[alteration]]\n#pattern = \"…\"\n#hosts   = [\"…\"]\n#basis   = []\n\n");
    }
    for (patterns, hosts) in by_pattern {
        let shown = &hosts[..hosts.len().min(MOST_HOSTS)];
        for host in shown {
            let changes: Vec<String> = host.changes.iter().map(hosts::in_words).collect();
            let pieces = host.pieces.map_or_else(String::new, |pieces| format!("; {} pieces", thousands(pieces)));
            out.push_str(&format!("# {}: {}{pieces}\n", host.label, changes.join(", then ")));
        }
        if hosts.len() > shown.len() {
            out.push_str(&format!("# and {} more\n", hosts.len() - shown.len()));
        }
        let labels: Vec<String> = shown.iter().map(|host| quoted(&host.label.to_string())).collect();
        let first = patterns.first().copied().unwrap_or("…");
        let or = if patterns.len() > 1 { format!("     # or {}", patterns[1..].join(", ")) } else { String::new() };
        out.push_str(&format!(
            "#[[alteration]]\n#pattern = {}{or}\n#hosts   = [{}]\n#basis   = []\n\n",
            quoted(first),
            labels.join(", ")
        ));
    }
    out
}

/// The draft's own first lines, read as any entry is, so that hosts are worked out by the same steps as for one on file.
fn as_entry(id: &EntryId, head: &str) -> Option<Entry> {
    let file = SourceFile {
        shown: id.to_string(),
        stem: id.to_string(),
        collection: 0,
        text: head.to_string(),
        lines: LineIndex::new(head),
    };
    match entry::read(FileId(0), &file).0 {
        Content::Entry(entry) => Some(*entry),
        _ => None,
    }
}

/// Alterations on file that make a change, the likeliest first.
fn patterns<'c>(corpus: &'c Corpus, change: &Change) -> Vec<&'c str> {
    let (operation, likeliest) = match change {
        Change::MarkAdded { .. } => (Operation::MarkAdded, "mark-added"),
        Change::MarkRemoved { .. } => (Operation::MarkRemoved, "mark-removed"),
        Change::MarkChanged { .. } => (Operation::MarkChanged, "mark-changed"),
        Change::Digit(reshaping) if reshaping.added.is_empty() => (Operation::DigitChanged, "digit-cut-down"),
        Change::Digit(_) => (Operation::DigitChanged, "digit-built-up"),
        Change::Feature { to, .. } if to.is_empty() => (Operation::FeatureRemoved, "feature-removed"),
        Change::Feature { .. } => (Operation::FeatureAdded, "feature-cut-in"),
    };
    let mut out: Vec<&str> = corpus
        .of_kind(Kind::Alteration)
        .filter(|entry| entry.alteration().is_some_and(|alteration| alteration.group == operation))
        .map(|entry| entry.id.stem())
        .collect();
    out.sort_by_key(|stem| (*stem != likeliest, *stem));
    out
}
