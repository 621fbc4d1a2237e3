//! CommonMark → HTML: links to entries become relative, and the first use of each glossary term on a page is linked.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

use aho_corasick::{AhoCorasick, MatchKind};
use pulldown_cmark::{CowStr, Event, Parser, Tag, TagEnd, html};

use super::href::href;
use crate::corpus::Corpus;
use crate::entry::Kind;
use crate::figure::escape;

/// Finds glossary terms in running text.
pub struct Terms {
    finder: AhoCorasick,
    /// For each pattern of the finder: the page of its term.
    pages: Vec<String>,
}

impl Terms {
    pub fn new(corpus: &Corpus) -> Terms {
        let mut forms: BTreeMap<String, String> = BTreeMap::new();
        for entry in corpus.of_kind(Kind::Term) {
            let Some(term) = entry.term() else { continue };
            let page = format!("{}.html", entry.id);
            for form in std::iter::once(&term.term).chain(&term.forms) {
                forms.entry(form.to_lowercase()).or_insert_with(|| page.clone());
            }
        }
        let finder = AhoCorasick::builder()
            .ascii_case_insensitive(true)
            .match_kind(MatchKind::LeftmostLongest)
            .build(forms.keys())
            .expect("a few hundred short words fit");
        Terms { finder, pages: forms.into_values().collect() }
    }

    /// Ranges of `text` that are terms, as whole words, with their pages.
    fn find<'t>(&'t self, text: &str) -> Vec<(std::ops::Range<usize>, &'t str)> {
        let letter = |c: Option<char>| c.is_some_and(|c| c.is_alphanumeric());
        self.finder
            .find_iter(text)
            .filter(|found| {
                !letter(text[..found.start()].chars().next_back()) && !letter(text[found.end()..].chars().next())
            })
            .map(|found| (found.range(), self.pages[found.pattern().as_usize()].as_str()))
            .collect()
    }
}

/// Prose as it stands on one page.
pub struct PageProse<'a> {
    corpus: &'a Corpus,
    terms: &'a Terms,
    page: String,
    linked: RefCell<BTreeSet<String>>,
}

impl<'a> PageProse<'a> {
    pub fn new(corpus: &'a Corpus, terms: &'a Terms, page: &str) -> PageProse<'a> {
        // A term is not linked to itself.
        let linked = RefCell::new(BTreeSet::from([page.to_string()]));
        PageProse { corpus, terms, page: page.to_string(), linked }
    }

    /// Paragraphs and lists.
    pub fn block(&self, text: &str) -> String {
        self.render(text, false)
    }

    /// Without the paragraph around it, for cells and headings.
    pub fn inline(&self, text: &str) -> String {
        self.render(text, true)
    }

    /// Glossary terms in words that the tool itself puts together.
    pub fn plain(&self, text: &str) -> String {
        self.link_terms(text)
    }

    fn render(&self, text: &str, inline: bool) -> String {
        let mut in_link = 0;
        let mut first = true;
        let events = Parser::new(text.trim()).filter_map(|event| match event {
            // The rules refuse both; a build with HTML in it never comes this far.
            Event::Html(html) | Event::InlineHtml(html) => Some(Event::Text(html)),
            Event::Start(Tag::Link { link_type, dest_url, title, id }) => {
                in_link += 1;
                let dest_url = self.target(&dest_url).map_or(dest_url, CowStr::from);
                Some(Event::Start(Tag::Link { link_type, dest_url, title, id }))
            }
            Event::End(TagEnd::Link) => {
                in_link -= 1;
                Some(Event::End(TagEnd::Link))
            }
            Event::Start(Tag::Paragraph) if inline => {
                let between = (!first).then_some(Event::InlineHtml("<br>".into()));
                first = false;
                between
            }
            Event::End(TagEnd::Paragraph) if inline => None,
            Event::Text(text) if in_link == 0 => Some(Event::InlineHtml(self.link_terms(&text).into())),
            other => Some(other),
        });
        let mut out = String::new();
        html::push_html(&mut out, events);
        out.trim().to_string()
    }

    fn target(&self, link: &str) -> Option<String> {
        let entry = self.corpus.find_any(link).ok()?;
        Some(href(&self.page, &format!("{}.html", entry.id)))
    }

    fn link_terms(&self, text: &str) -> String {
        let mut out = String::new();
        let mut done = 0;
        for (range, page) in self.terms.find(text) {
            if !self.linked.borrow_mut().insert(page.to_string()) {
                continue;
            }
            out.push_str(&escape(&text[done..range.start]));
            out.push_str(&format!(
                "<a class=\"term\" href=\"{}\">{}</a>",
                href(&self.page, page),
                escape(&text[range.clone()])
            ));
            done = range.end;
        }
        out.push_str(&escape(&text[done..]));
        out
    }
}
