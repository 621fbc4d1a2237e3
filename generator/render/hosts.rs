//! What an issue may have been: the hosts worked out for it, and rows of a series as links.

use serde::Serialize;

use super::parts::StatementView;
use super::site::{Link, Page};
use super::words;
use crate::corpus::IssueView;
use crate::entry::{Entry, RowLabel};
use crate::figure;
use crate::reckon::hosts;

/// Hosts beyond this many are folded away.
const HOSTS_SHOWN: usize = 8;
/// Folded hosts beyond this many are only counted; `knowledge.json` has them all.
const HOSTS_FOLDED: usize = 8;
/// What betrays this many hosts or more is said once for all of them.
const MANY: usize = 3;

/// The hosts of an issue, the likeliest apart from the rest.
#[derive(Serialize)]
pub struct Hosts {
    hosts: Vec<HostView>,
    more_hosts: Vec<HostView>,
    shared: Vec<Shared>,
    /// Less likely still, and not listed.
    further: usize,
    /// Said once for all hosts that need a digit changed.
    digits_note: Option<StatementView>,
}

/// What betrays many hosts, and which.
#[derive(Serialize)]
struct Shared {
    what: StatementView,
    names: Vec<String>,
}

#[derive(Serialize)]
struct HostView {
    link: Link,
    pieces: String,
    changes: Vec<String>,
    digit_html: String,
    betrayals: Vec<StatementView>,
    recorded: bool,
}

pub fn hosts_of(page: &Page<'_>, view: &IssueView<'_>) -> Hosts {
    let mut all: Vec<HostView> = page
        .site
        .hosts
        .get(&view.entry.id)
        .into_iter()
        .flatten()
        .map(|host| HostView {
            link: row_link(page, view.series_entry, &host.label),
            pieces: host.pieces.map_or(String::new(), words::thousands),
            changes: host.changes.iter().map(hosts::in_words).collect(),
            digit_html: host
                .changes
                .iter()
                .find_map(|change| {
                    if let hosts::Change::Digit(reshaping) = change { Some(figure::reshaped(reshaping)) } else { None }
                })
                .unwrap_or_default(),
            betrayals: host
                .betrayals
                .iter()
                .map(|betrayal| StatementView {
                    html: page.prose.inline(&betrayal.text),
                    place: String::new(),
                    basis_html: betrayal.basis.map_or(String::new(), |basis| page.basis_html(basis)),
                })
                .collect(),
            recorded: host.recorded,
        })
        .collect();
    let digits_note = digits_note(page, view, all.iter().any(|host| !host.digit_html.is_empty()));
    let mut more_hosts = all.split_off(all.len().min(HOSTS_SHOWN));
    let further = more_hosts.len().saturating_sub(HOSTS_FOLDED);
    more_hosts.truncate(HOSTS_FOLDED);
    let shared = said_once(&mut all, &mut more_hosts);
    Hosts { hosts: all, more_hosts, further, shared, digits_note }
}

/// Takes what betrays many hosts out of each, to be said once with their names.
fn said_once(hosts: &mut [HostView], more: &mut [HostView]) -> Vec<Shared> {
    let mut said: Vec<Shared> = Vec::new();
    for host in hosts.iter().chain(more.iter()) {
        for what in &host.betrayals {
            match said.iter_mut().find(|known| known.what == *what) {
                Some(known) => known.names.push(host.link.text.clone()),
                None => said.push(Shared { what: what.clone(), names: vec![host.link.text.clone()] }),
            }
        }
    }
    said.retain(|shared| shared.names.len() >= MANY);
    for host in hosts.iter_mut().chain(more) {
        host.betrayals.retain(|what| said.iter().all(|shared| shared.what != *what));
    }
    said
}

fn digits_note(page: &Page<'_>, view: &IssueView<'_>, any: bool) -> Option<StatementView> {
    let text = hosts::date_entry_betrays(view.series.digits.entry).filter(|_| any)?;
    let basis_html = page.basis_html(&view.series.digits.basis);
    Some(StatementView { html: figure::escape(text), place: String::new(), basis_html })
}

/// A row of a series: its issue if it is on file, else its place in the series' list.
pub fn row_link(page: &Page<'_>, series: &Entry, label: &RowLabel) -> Link {
    let on_file = page.corpus().issues_of(&series.id).into_iter().find(|(_, issue)| issue.row == *label);
    let href = match on_file {
        Some((entry, _)) => page.to_entry(entry),
        None => page.to(&format!("{}.html#{}", series.id, row_anchor(label))),
    };
    Link { text: label.to_string(), href }
}

/// The anchor of a row in its series' list: `row-1916-d-2-over-1`.
pub fn row_anchor(label: &RowLabel) -> String {
    let mut out = String::from("row-");
    for c in label.to_string().chars() {
        match c {
            c if c.is_ascii_alphanumeric() => out.push(c.to_ascii_lowercase()),
            // Marks that differ only by a dot or an accent keep apart.
            ' ' | '-' => out.push('-'),
            c => out.push_str(&format!("_{:x}", c as u32)),
        }
    }
    // Marks may differ by case alone.
    let upper = label.mint.chars().any(char::is_lowercase);
    if upper {
        format!("{out}_{}", label.mint.chars().map(|c| if c.is_lowercase() { 'l' } else { 'u' }).collect::<String>())
    } else {
        out
    }
}
