//! Expectations are about hypotheses that exist, and checks tell hypotheses apart.

use crate::corpus::{Corpus, Hypo, IssueView, checks_of};
use crate::diagnostic::{Code, Report, closest};
use crate::entry::{Body, CheckKind, Entry, Hypothesis, HypothesisKind, Kind, Quantity, Unseparated};
use crate::reckon::separation;

/// `unknown-hypothesis`: an issue's expectations name its own forgeries and alterations; other entries name `genuine` and `self`,
/// or hypotheses that exist at all.
pub fn unknown_hypothesis(corpus: &Corpus, report: &mut Report) {
    for entry in corpus.entries() {
        let known = known_to(corpus, entry);
        for check in checks_of(entry) {
            let named: Vec<&Hypothesis> = match &check.kind {
                CheckKind::Look { findings, .. } => {
                    findings.iter().flat_map(|f| f.expect.iter().map(|(h, _)| h)).collect()
                }
                CheckKind::Measure { expect, .. } => expect.iter().map(|(h, _)| h).collect(),
            };
            for hypothesis in named {
                if let Some((message, hint)) = wrong_with(corpus, entry, hypothesis, &known) {
                    report.error(Code::UnknownHypothesis, hypothesis.span, message).hint(hint);
                }
            }
        }
        for note in entry.issue().into_iter().flat_map(|issue| &issue.unseparated) {
            for hypothesis in &note.between {
                if let Some((message, hint)) = wrong_with(corpus, entry, hypothesis, &known) {
                    report.error(Code::UnknownHypothesis, hypothesis.span, message).hint(hint);
                }
            }
        }
    }
}

/// The hypotheses an issue has, whether or not its series could be read.
fn known_to(corpus: &Corpus, entry: &Entry) -> Vec<Hypo> {
    let Some(issue) = entry.issue() else { return Vec::new() };
    let families = issue.forgeries.iter().filter_map(|f| corpus.find(Kind::Family, &f.family).ok());
    let alterations = issue.alterations.iter().filter_map(|a| corpus.find(Kind::Alteration, &a.pattern).ok());
    families.map(|e| Hypo::Family(e.id.clone())).chain(alterations.map(|e| Hypo::Alteration(e.id.clone()))).collect()
}

fn wrong_with(corpus: &Corpus, entry: &Entry, hypothesis: &Hypothesis, known: &[Hypo]) -> Option<(String, String)> {
    let (kind, reference) = match &hypothesis.kind {
        HypothesisKind::Genuine => return None,
        HypothesisKind::This => {
            let has_self = matches!(entry.body, Body::Family(_) | Body::Method(_) | Body::Alteration(_));
            return (!has_self).then(|| {
                let hint = "name the hypothesis: \"family:ID\" or \"alteration:ID\"".to_string();
                ("`self` means nothing in this kind of entry".to_string(), hint)
            });
        }
        HypothesisKind::Family(name) => (Kind::Family, name),
        HypothesisKind::Alteration(name) => (Kind::Alteration, name),
    };
    let found = corpus.find(kind, reference).ok();
    let is_issue = entry.issue().is_some();
    let ok = found.is_some_and(|target| !is_issue || known.iter().any(|hypo| hypo.entry() == Some(&target.id)));
    if ok {
        return None;
    }
    let keys: Vec<String> = known.iter().map(Hypo::key).collect();
    let written = format!("{}:{}", if kind == Kind::Family { "family" } else { "alteration" }, reference.text);
    let hint = match closest(&written, keys.iter().map(String::as_str)) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None if is_issue => {
            let table = if kind == Kind::Family { "[[forgery]]" } else { "[[alteration]]" };
            format!(
                "add a {table} for it, or use one of: genuine{}",
                keys.iter().map(|key| format!(", {key}")).collect::<String>()
            )
        }
        None => format!("name {} {} that has an entry", super::references::article(kind.singular()), kind.singular()),
    };
    Some((format!("this entry has no hypothesis `{written}`"), hint))
}

/// `separates-nothing`: every check of an issue tells something apart there. A check that its series, family, method or
/// alteration states must do so by its own words.
pub fn separates_nothing(corpus: &Corpus, report: &mut Report) {
    for entry in corpus.entries().iter().filter(|entry| !entry.broken) {
        if let Some(view) = corpus.view(entry) {
            for placed in view.checks.iter().filter(|placed| placed.from.id == entry.id) {
                if separation::separates_anything(placed, &view) {
                    continue;
                }
                match &placed.check.kind {
                    CheckKind::Measure { quantity, .. } => no_range(placed.check.id_span, *quantity, report),
                    CheckKind::Look { .. } => say_nothing(placed.check.id_span, report),
                }
            }
        } else if entry.issue().is_none() {
            for check in checks_of(entry) {
                let CheckKind::Look { findings, .. } = &check.kind else { continue };
                if findings.iter().all(|finding| finding.expect.is_empty()) {
                    say_nothing(check.id_span, report);
                }
            }
        }
    }
}

fn no_range(span: crate::source::Span, quantity: Quantity, report: &mut Report) {
    let name = quantity.word();
    report
        .error(Code::SeparatesNothing, span, format!("this check has no {name} to expect of a genuine piece"))
        .hint("state it in the [[standard]] of the series, or as expect = { genuine = { low = …, high = … } }");
}

fn say_nothing(span: crate::source::Span, report: &mut Report) {
    report
        .error(
            Code::SeparatesNothing,
            span,
            "this check tells no two hypotheses apart: each expects its findings alike",
        )
        .hint("say in `expect` what a true and a false piece show, or leave the check out");
}

/// `not-separated` (warning): any two hypotheses of an issue are told apart by some check, unless the entry says why not.
pub fn not_separated(corpus: &Corpus, report: &mut Report) {
    for (entry, issue) in corpus.issues().filter(|(entry, _)| !entry.broken) {
        let Some(view) = corpus.view(entry) else { continue };
        for (one, other) in separation::unseparated(&view) {
            if issue.unseparated.iter().any(|note| excuses(corpus, note, &one, &other)) {
                continue;
            }
            let message = format!("no check tells {} from {}", one.key(), other.key());
            let hint = "add a check whose findings differ between them, or [[unseparated]] with between and why";
            report.warning(Code::NotSeparated, points_at(&view, &other), message).hint(hint);
        }
    }
}

/// Whether a note is about this pair.
pub fn excuses(corpus: &Corpus, note: &Unseparated, one: &Hypo, other: &Hypo) -> bool {
    let is = |hypothesis: &Hypothesis, hypo: &Hypo| match &hypothesis.kind {
        HypothesisKind::Genuine => *hypo == Hypo::Genuine,
        HypothesisKind::Family(name) => {
            corpus.find(Kind::Family, name).is_ok_and(|e| *hypo == Hypo::Family(e.id.clone()))
        }
        HypothesisKind::Alteration(name) => {
            corpus.find(Kind::Alteration, name).is_ok_and(|e| *hypo == Hypo::Alteration(e.id.clone()))
        }
        HypothesisKind::This => false,
    };
    match &note.between[..] {
        [a, b] => (is(a, one) && is(b, other)) || (is(a, other) && is(b, one)),
        _ => false,
    }
}

fn points_at(view: &IssueView<'_>, hypo: &Hypo) -> crate::source::Span {
    let of_family = view.issue.forgeries.iter().zip(view.hypotheses.iter().skip(1)).find(|(_, h)| *h == hypo);
    let altered = view.hypotheses.iter().filter(|h| matches!(h, Hypo::Alteration(_)));
    let of_alteration = view.issue.alterations.iter().zip(altered).find(|(_, h)| *h == hypo);
    of_family.map(|(f, _)| f.span).or(of_alteration.map(|(a, _)| a.span)).unwrap_or(view.entry.span)
}
