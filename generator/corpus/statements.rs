//! Every statement and every run of prose of an entry, in file order by kind: for bases, links and repeated sentences.

use crate::entry::{Basis, Body, Check, CheckKind, Entry, Prose, Sign, Statement};
use crate::source::Span;

/// A statement of some kind and what it stands on.
pub struct StatementRef<'e> {
    /// What sort of statement, in a word or two: `diagnostic`, `finding`, `standard`.
    pub sort: &'static str,
    pub basis: &'e Basis,
    /// The sentence, where there is one; a standard or a list has figures instead.
    pub text: Option<&'e Prose>,
    pub span: Option<Span>,
}

/// All statements of an entry.
pub fn statements(entry: &Entry) -> Vec<StatementRef<'_>> {
    let mut out = Vec::new();
    if let Some(common) = &entry.common {
        out.extend(common.summary.iter().map(|s| of("summary", s)));
        out.extend(common.not_decisive.iter().map(|s| of("remark", s)));
    }
    match &entry.body {
        Body::Country(country) => {
            for mint in &country.mints {
                out.push(StatementRef { sort: "mint", basis: &mint.basis, text: None, span: Some(mint.span) });
            }
        }
        Body::Series(series) => {
            out.push(StatementRef { sort: "date style", basis: &series.digits.basis, text: None, span: None });
            for standard in &series.standards {
                let text = standard.text.as_ref();
                out.push(StatementRef { sort: "standard", basis: &standard.basis, text, span: Some(standard.span) });
                for basis in standard.basis_of.values() {
                    out.push(StatementRef { sort: "standard", basis, text: None, span: Some(standard.span) });
                }
                out.extend(standard.also.iter().map(|also| of("standard", &also.statement)));
            }
            out.extend(series.mark_places.iter().map(|place| of("mint-mark place", &place.statement)));
            for block in &series.struck {
                for row in &block.rows {
                    out.push(StatementRef { sort: "mintage", basis: &block.basis, text: None, span: Some(row.span) });
                }
            }
            out.extend(series.changes.iter().map(|change| of("change", &change.statement)));
            signs(&series.genuine, "diagnostic", &mut out);
            checks(&series.checks, &mut out);
        }
        Body::Issue(issue) => {
            if let Some(mintage) = &issue.mintage {
                out.push(StatementRef {
                    sort: "mintage",
                    basis: &mintage.basis,
                    text: mintage.text.as_ref(),
                    span: None,
                });
            }
            signs(&issue.genuine, "diagnostic", &mut out);
            for forgery in &issue.forgeries {
                out.push(StatementRef {
                    sort: "forgery",
                    basis: &forgery.basis,
                    text: Some(&forgery.text),
                    span: Some(forgery.span),
                });
            }
            for altered in &issue.alterations {
                out.push(StatementRef {
                    sort: "alteration",
                    basis: &altered.basis,
                    text: altered.text.as_ref(),
                    span: Some(altered.span),
                });
            }
            checks(&issue.checks, &mut out);
        }
        Body::Family(family) => {
            out.extend(family.traits.iter().map(|one| of("trait", &one.statement)));
            signs(&family.signs, "sign", &mut out);
            checks(&family.checks, &mut out);
        }
        Body::Method(method) => {
            practice(&method.made, &method.signs, &method.mimics, &method.cautions, &method.checks, &mut out)
        }
        Body::Alteration(alteration) => {
            practice(
                &alteration.made,
                &alteration.signs,
                &alteration.mimics,
                &alteration.cautions,
                &alteration.checks,
                &mut out,
            );
        }
        Body::Term(term) => out.push(of("meaning", &term.meaning)),
        Body::Unread(_) => {}
    }
    out
}

fn practice<'e>(
    made: &'e [Statement],
    list: &'e [Sign],
    mimics: &'e [Statement],
    cautions: &'e [Statement],
    looks: &'e [Check],
    out: &mut Vec<StatementRef<'e>>,
) {
    out.extend(made.iter().map(|s| of("account", s)));
    signs(list, "sign", out);
    out.extend(mimics.iter().map(|s| of("mimic", s)));
    out.extend(cautions.iter().map(|s| of("caution", s)));
    checks(looks, out);
}

fn of<'e>(sort: &'static str, statement: &'e Statement) -> StatementRef<'e> {
    StatementRef { sort, basis: &statement.basis, text: Some(&statement.text), span: Some(statement.span) }
}

fn signs<'e>(list: &'e [Sign], sort: &'static str, out: &mut Vec<StatementRef<'e>>) {
    out.extend(list.iter().map(|sign| of(sort, &sign.statement)));
}

fn checks<'e>(list: &'e [Check], out: &mut Vec<StatementRef<'e>>) {
    for check in list {
        match &check.kind {
            CheckKind::Look { findings, .. } => {
                for finding in findings {
                    out.push(StatementRef {
                        sort: "finding",
                        basis: &finding.basis,
                        text: Some(&finding.say),
                        span: Some(finding.span),
                    });
                }
            }
            CheckKind::Measure { basis, ask, .. } => {
                out.push(StatementRef { sort: "measurement", basis, text: ask.as_ref(), span: Some(check.span) });
            }
        }
    }
}

/// The checks an entry states itself.
pub fn checks_of(entry: &Entry) -> &[Check] {
    match &entry.body {
        Body::Series(series) => &series.checks,
        Body::Issue(issue) => &issue.checks,
        Body::Family(family) => &family.checks,
        Body::Method(method) => &method.checks,
        Body::Alteration(alteration) => &alteration.checks,
        _ => &[],
    }
}

/// The diagnostics or tell-tales an entry states itself.
pub fn signs_of(entry: &Entry) -> &[Sign] {
    match &entry.body {
        Body::Series(series) => &series.genuine,
        Body::Issue(issue) => &issue.genuine,
        Body::Family(family) => &family.signs,
        Body::Method(method) => &method.signs,
        Body::Alteration(alteration) => &alteration.signs,
        _ => &[],
    }
}

/// All CommonMark of an entry: the texts of its statements, the questions of its checks, and its notes.
pub fn prose_of(entry: &Entry) -> Vec<&Prose> {
    let mut out: Vec<&Prose> = statements(entry).into_iter().filter_map(|statement| statement.text).collect();
    for check in checks_of(entry) {
        if let CheckKind::Look { ask, .. } = &check.kind {
            out.push(ask);
        }
    }
    if let Body::Issue(issue) = &entry.body {
        out.extend(issue.unseparated.iter().map(|note| &note.why));
    }
    out
}

/// The sentences of a text, in plain lower case without marks, and the byte range of each. Under five words is no sentence.
pub fn sentences(text: &str) -> Vec<(String, std::ops::Range<usize>)> {
    let mut out = Vec::new();
    let mut start = 0;
    let bytes = text.as_bytes();
    for (at, c) in text.char_indices() {
        let ends =
            matches!(c, '.' | '?' | '!' | ';') && bytes.get(at + 1).is_none_or(|next| next.is_ascii_whitespace());
        let paragraph = c == '\n' && bytes.get(at + 1) == Some(&b'\n');
        if ends || paragraph {
            push(text, start..at + c.len_utf8(), &mut out);
            start = at + c.len_utf8();
        }
    }
    push(text, start..text.len(), &mut out);
    out
}

fn push(text: &str, range: std::ops::Range<usize>, out: &mut Vec<(String, std::ops::Range<usize>)>) {
    let words: Vec<String> = text[range.clone()]
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    if words.len() >= 5 {
        let lead = text[range.clone()].len() - text[range.clone()].trim_start().len();
        out.push((words.join(" "), range.start + lead..range.end));
    }
}

#[cfg(test)]
mod tests {
    use super::sentences;

    #[test]
    fn sentences_are_compared_without_case_and_marks() {
        let found = sentences("The mark stands proud of the field. Too short. *The* mark stands proud, of the FIELD!");
        assert_eq!(found.len(), 2);
        assert_eq!(found[0].0, found[1].0);
    }
}
