//! Prose is CommonMark without HTML or pictures, and its links lead to entries.

use pulldown_cmark::{Event, LinkType, Parser, Tag};

use crate::corpus::{Corpus, Lost, prose_of};
use crate::diagnostic::{Code, Report};
use crate::entry::{Entry, Prose};
use crate::source::Span;

/// `raw-html`, `forbidden-link`, `term-undefined`, `dangling-reference` in all prose.
pub fn links_and_html(corpus: &Corpus, report: &mut Report) {
    for entry in corpus.entries() {
        for prose in prose_of(entry) {
            check(corpus, entry, prose, report);
        }
    }
}

fn check(corpus: &Corpus, entry: &Entry, prose: &Prose, report: &mut Report) {
    for (event, range) in Parser::new(&prose.text).into_offset_iter() {
        let span = prose.span_of(range.start, range.end);
        match event {
            Event::Html(_) | Event::InlineHtml(_) => {
                report
                    .error(Code::RawHtml, span, "HTML is not allowed in prose")
                    .hint("write CommonMark; a literal < is written \\<");
            }
            Event::Start(Tag::Image { .. }) => {
                report
                    .error(Code::ForbiddenLink, span, "pictures are not allowed in prose")
                    .hint("add a [[photo]] to the entry: it needs a file, its sha256, a credit and a licence");
            }
            Event::Start(Tag::Link { link_type, dest_url, .. }) => {
                link(corpus, entry, link_type, &dest_url, span, report);
            }
            _ => {}
        }
    }
}

fn link(corpus: &Corpus, entry: &Entry, link_type: LinkType, target: &str, span: Span, report: &mut Report) {
    let autolink = matches!(link_type, LinkType::Autolink | LinkType::Email);
    if autolink || target.contains(':') || target.starts_with("//") || target.contains("..") {
        report
            .error(Code::ForbiddenLink, span, format!("a link to `{target}` leaves the site"))
            .hint("link to an entry by its id, such as [strike doubling](glossary/strike-doubling); put addresses into sources.toml");
        return;
    }
    match corpus.find_any(target) {
        Ok(found) if corpus.collection(entry).public && !corpus.collection(found).public => {
            report
                .error(Code::PrivateReference, span, format!("`{}` belongs to a private collection", found.id))
                .hint("leave the link out here");
        }
        Ok(_) => {}
        Err(lost) => {
            if target.starts_with("glossary/") {
                let hint = match lost {
                    Lost::Dangling { closest: Some(near) } => format!("did you mean {near}? Or add {target}.toml"),
                    _ => format!("add {target}.toml with the term and its meaning"),
                };
                report.error(Code::TermUndefined, span, format!("the glossary has no `{target}`")).hint(hint);
            } else {
                super::references::lost_reference(lost, "entry", target, span, report);
            }
        }
    }
}
