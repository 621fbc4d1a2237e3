//! What preview adds to a page on its way out: the problems of the entries, and the script that reloads it. The files
//! themselves stay as they would be published.

use super::edition::Edition;
use crate::diagnostic::closest;
use crate::figure::escape;

/// Paths of preview's own; no entry's id can begin so.
pub const EVENTS: &str = "/_preview/events";
pub const SCRIPT: &str = "/_preview/reload.js";
pub const STYLE: &str = "/_preview/preview.css";

/// A page of the site with preview's parts before its end.
pub fn dress(page: &str, path: &str, edition: &Edition) -> String {
    let at = page.rfind("</body>").unwrap_or(page.len());
    format!("{}{}{}", &page[..at], parts(path, edition), &page[at..])
}

fn parts(path: &str, edition: &Edition) -> String {
    format!(
        "{}<script src=\"{SCRIPT}\" data-edition=\"{}\" data-events=\"{EVENTS}\" defer></script>\n",
        problems(path, edition),
        edition.number
    )
}

/// Errors of the build on every page, this page's own first; on a page without errors, the warnings of its entry.
fn problems(path: &str, edition: &Edition) -> String {
    let own = edition.by_page.get(path);
    let link = format!("<link rel=\"stylesheet\" href=\"{STYLE}\">");
    if edition.is_good {
        return own.map_or_else(String::new, |own| {
            format!(
                "{link}<aside id=\"preview-problems\" class=\"warnings\" aria-label=\"Warnings of this entry\">\
                 <details><summary>This entry has warnings</summary><pre>{}</pre></details></aside>\n",
                escape(own)
            )
        });
    }
    let own = own.map_or_else(String::new, |own| format!("<h2>In this entry</h2><pre>{}</pre>", escape(own)));
    let stale = if edition.files.is_empty() { "" } else { " This page is from the last save without errors." };
    format!(
        "{link}<aside id=\"preview-problems\" role=\"alert\" aria-label=\"Problems of the entries\"><details open>\
         <summary>{}</summary><p>Nothing of this would be published.{stale}</p>{own}\
         <h2>All problems</h2><pre>{}</pre></details></aside>\n",
        escape(&headline(edition)),
        escape(&edition.problems)
    )
}

fn headline(edition: &Edition) -> String {
    match (&edition.tally.failure, edition.tally.errors) {
        (Some(_), _) => "The entries could not be compiled".to_string(),
        (None, 1) => "1 error in the entries".to_string(),
        (None, many) => format!("{many} errors in the entries"),
    }
}

/// In place of a page that is not there: what it may be instead, and what is wrong with its entry if it has one.
pub fn missing(path: &str, edition: &Edition) -> String {
    let title = if edition.by_page.contains_key(path) { "This entry has problems" } else { "No such page" };
    let near = closest(path, edition.files.keys().filter(|file| file.ends_with(".html")).map(String::as_str));
    let near = near
        .map_or_else(String::new, |near| format!("<p>The nearest page is <a href=\"/{0}\">{0}</a>.</p>", escape(near)));
    let front = if edition.files.is_empty() {
        "<p>There are no pages yet: they come with the first save without errors.</p>"
    } else {
        "<p><a href=\"/index.html\">To the front page</a></p>"
    };
    let page = format!(
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" \
         content=\"width=device-width, initial-scale=1\"><title>{title} · Tellmark preview</title>\
         <link rel=\"stylesheet\" href=\"{STYLE}\"></head>\n<body class=\"preview-missing\"><main><h1>{title}</h1>\
         <p>There is no <code>{}</code> in this edition.</p>{near}{front}</main>\n</body></html>\n",
        escape(path)
    );
    dress(&page, path, edition)
}
