//! Which figure a look shows on a page: digits are those of the coin, and what was drawn above is not drawn again.

use std::borrow::Cow;
use std::collections::BTreeSet;

use super::checks::CheckView;
use super::parts::SignView;
use crate::corpus::{Corpus, IssueView, PlacedCheck, host_row};
use crate::entry::{DIGITS, Drawing, DrawingKind, Form, Kind, Subject};

/// The figure of a check on an issue's page. An inherited one of digits was drawn for another date: it is kept if these
/// are its digits, drawn anew if the recorded hosts say which they are, and else left out.
pub fn on_issue<'c>(corpus: &Corpus, placed: &PlacedCheck<'c>, view: &IssueView<'_>) -> Option<Cow<'c, Drawing>> {
    let drawing = placed.check.drawing.as_ref()?;
    let own = placed.from.id == view.entry.id;
    let row = &view.issue.row;
    let shows = |text: &str, digit: &str| text.contains(digit);
    let year = row.year.to_string();
    match (drawing.kind, &drawing.of) {
        (DrawingKind::Reshaped, _) if !own => {
            let (to, from) = (drawing.genuine.word, drawing.not_genuine.word);
            if placed.from.id == view.series_entry.id {
                return shows(&year, to).then_some(Cow::Borrowed(drawing));
            }
            let changes = changes(corpus, placed, view);
            if changes.contains(&(to, from)) {
                return Some(Cow::Borrowed(drawing));
            }
            let (to, from) = changes.first()?;
            Some(Cow::Owned(Drawing {
                kind: DrawingKind::Reshaped,
                of: Subject::Nothing,
                genuine: Form::named(to),
                not_genuine: Form::named(from),
            }))
        }
        (DrawingKind::Overdate, Subject::Digits { upper, under }) if !own => {
            let known = shows(&year, DIGITS[usize::from(*upper)]) && shows(&row.variety, DIGITS[usize::from(*under)]);
            known.then_some(Cow::Borrowed(drawing))
        }
        _ => Some(Cow::Borrowed(drawing)),
    }
}

/// Digits of the issue with the digit of a host that became it, from hosts recorded for the alteration that states the
/// check, where one digit alone differs.
fn changes(corpus: &Corpus, placed: &PlacedCheck<'_>, view: &IssueView<'_>) -> Vec<(&'static str, &'static str)> {
    let year = view.issue.row.year.to_string();
    let recorded = view.issue.alterations.iter().filter(|altered| {
        corpus.find(Kind::Alteration, &altered.pattern).is_ok_and(|pattern| pattern.id == placed.from.id)
    });
    let years = recorded
        .flat_map(|altered| &altered.hosts)
        .filter_map(|host| host_row(corpus, view.series_entry, host).ok())
        .map(|(_, label)| label.year.to_string());
    let one_digit = |host: String| {
        let mut differing = year.bytes().zip(host.bytes()).filter(|(to, from)| to != from);
        let (to, from) = differing.next().filter(|_| differing.next().is_none())?;
        let word = |byte: u8| DIGITS.get(usize::from(byte.checked_sub(b'0')?)).copied();
        Some((word(to)?, word(from)?))
    };
    years.filter_map(one_digit).collect()
}

/// Leaves every figure of a page out that was drawn above already.
pub fn each_once<'v>(
    checks: impl IntoIterator<Item = &'v mut CheckView>,
    signs: impl IntoIterator<Item = &'v mut SignView>,
) {
    let mut drawn: BTreeSet<String> = BTreeSet::new();
    let all = checks.into_iter().map(|check| &mut check.drawing_html);
    for html in all.chain(signs.into_iter().map(|sign| &mut sign.drawing_html)) {
        if !html.is_empty() && !drawn.insert(html.clone()) {
            html.clear();
        }
    }
}
