//! What every page of a build shares, and what a page knows of itself.

use std::collections::BTreeMap;

use serde::Serialize;

use super::href::{href, root};
use super::prose::{PageProse, Terms};
use super::theme::Theme;
use super::words;
use crate::corpus::{Backlinks, Corpus, title};
use crate::entry::{Basis, Citation, Entry, EntryId, Kind, RowLabel};
use crate::figure::escape;
use crate::reckon::hosts::{self, AllHosts};

/// Derived once for all pages.
pub struct Site<'a> {
    pub corpus: &'a Corpus,
    pub theme: &'a Theme,
    pub backlinks: Backlinks,
    pub terms: Terms,
    pub hosts: &'a AllHosts<'a>,
    /// For each series, what its coins could be altered into.
    pub targets: BTreeMap<EntryId, BTreeMap<RowLabel, Vec<&'a Entry>>>,
}

impl<'a> Site<'a> {
    pub fn new(corpus: &'a Corpus, theme: &'a Theme, hosts: &'a AllHosts<'a>) -> Site<'a> {
        let series = corpus.of_kind(Kind::Series);
        let targets = series.map(|entry| (entry.id.clone(), hosts::targets(corpus, hosts, &entry.id))).collect();
        Site { corpus, theme, backlinks: Backlinks::new(corpus), terms: Terms::new(corpus), hosts, targets }
    }
}

/// One page being made.
pub struct Page<'a> {
    pub site: &'a Site<'a>,
    pub path: String,
    pub prose: PageProse<'a>,
}

/// What the frame around every page needs.
#[derive(Serialize)]
pub struct Head {
    pub title: String,
    /// Way to the site's folder.
    pub root: String,
    /// Which word of the top line is lit.
    pub nav: &'static str,
    /// The page shows invented entries.
    pub demo: bool,
    /// The page shows a picture that may not be published.
    pub private: bool,
    /// Show the full cautions.
    pub cautions: bool,
    /// Classes of the body.
    pub kind: &'static str,
}

#[derive(Serialize)]
pub struct Link {
    pub text: String,
    pub href: String,
}

impl<'a> Page<'a> {
    pub fn new(site: &'a Site<'a>, path: String) -> Page<'a> {
        let prose = PageProse::new(site.corpus, &site.terms, &path);
        Page { site, path, prose }
    }

    pub fn corpus(&self) -> &'a Corpus {
        self.site.corpus
    }

    pub fn head(&self, title: &str, kind: &'static str, nav: &'static str, entry: Option<&Entry>) -> Head {
        Head {
            title: title.to_string(),
            root: root(&self.path),
            nav,
            demo: entry.is_some_and(|entry| !self.corpus().collection(entry).real),
            private: match entry {
                Some(entry) => self.is_private(entry),
                // The instruments open the pictures of any coin.
                None => kind == "bench" && self.corpus().entries().iter().any(|entry| self.is_private(entry)),
            },
            cautions: kind == "issue",
            kind,
        }
    }

    pub fn to(&self, path: &str) -> String {
        href(&self.path, path)
    }

    pub fn to_entry(&self, entry: &Entry) -> String {
        self.to(&page_of(entry))
    }

    pub fn link(&self, entry: &Entry) -> Link {
        Link { text: title(self.corpus(), entry), href: self.to_entry(entry) }
    }

    pub fn links<'e>(&self, entries: impl IntoIterator<Item = &'e Entry>) -> Vec<Link> {
        entries.into_iter().map(|entry| self.link(entry)).collect()
    }

    /// What a statement stands on, in words, as HTML.
    pub fn basis_html(&self, basis: &Basis) -> String {
        let class = words::basis_class(basis.kind());
        match basis {
            Basis::CommonPractice => format!("<span class=\"basis {class}\">Common practice</span>"),
            published => {
                let cited: Vec<String> = published.citations().map(|citation| self.citation_html(citation)).collect();
                format!("<span class=\"basis {class}\">{}</span>", cited.join("; "))
            }
        }
    }

    pub fn citation_html(&self, citation: &Citation) -> String {
        let key = &citation.source.text;
        let name = self.corpus().published.get(key).map_or(key.as_str(), |(_, source)| source.title.as_str());
        let how = if citation.read { "read" } else { "cited from memory" };
        format!(
            "<a href=\"{}\">{}</a>, {} ({how})",
            self.to(&format!("sources/{key}.html")),
            escape(name),
            escape(&citation.at)
        )
    }

    pub fn render(
        &self,
        template: &str,
        view: &impl Serialize,
    ) -> Result<crate::out_file::OutFile, super::RenderError> {
        let html = self.site.theme.render(template, view).map_err(|cause| super::RenderError {
            template: template.to_string(),
            page: self.path.clone(),
            cause,
        })?;
        Ok(crate::out_file::OutFile::text(self.path.clone(), html))
    }
}

/// The page of an entry.
pub fn page_of(entry: &Entry) -> String {
    format!("{}.html", entry.id)
}

/// The page that shows an entry's file.
pub fn written_of(entry: &Entry) -> String {
    format!("written/{}.html", entry.id)
}
