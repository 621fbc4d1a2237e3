//! The entry file behind a page, highlighted line by line.

use serde::Serialize;
use syntect::parsing::{ParseState, Scope, ScopeStack};

use super::RenderError;
use super::site::{Head, Link, Page};
use crate::corpus::title;
use crate::entry::Entry;
use crate::figure::escape;
use crate::out_file::OutFile;

#[derive(Serialize)]
struct View {
    head: Head,
    name: String,
    back: Link,
    file: String,
    licence: String,
    code_html: String,
}

/// The page that shows an entry's file.
pub fn page(page: &Page<'_>, entry: &Entry) -> Result<OutFile, RenderError> {
    let name = title(page.corpus(), entry);
    let collection = page.corpus().collection(entry);
    let view = View {
        head: page.head(&format!("Written: {name}"), "written", "", Some(entry)),
        back: page.link(entry),
        file: format!("{}/{}.toml", collection.key, entry.id),
        licence: collection.licence.clone().unwrap_or_default(),
        code_html: highlight(page, &page.corpus().text_of(entry)),
        name,
    };
    page.render("written.html", &view)
}

/// Lines as HTML, with five classes only: `h` header, `k` key, `s` string, `v` other value, `c` comment.
fn highlight(page: &Page<'_>, text: &str) -> String {
    let syntaxes = &page.site.theme.syntaxes;
    let Some(syntax) = syntaxes.find_syntax_by_extension("toml") else { return escape(text) };
    let classes = &page.site.theme.classes;
    let mut state = ParseState::new(syntax);
    let mut stack = ScopeStack::new();
    let mut out = String::new();
    for line in text.split_inclusive('\n') {
        let mut open: Option<&'static str> = None;
        let mut done = 0;
        // A line that the syntax cannot follow is shown plain.
        let ops = state.parse_line(line, syntaxes).unwrap_or_default();
        for (at, op) in ops {
            put(&mut out, &line[done..at], &mut open, class_of(&stack, classes));
            done = at;
            let _ = stack.apply(&op);
        }
        put(&mut out, &line[done..], &mut open, class_of(&stack, classes));
        if open.is_some() {
            out.push_str("</i>");
        }
    }
    out
}

fn put(out: &mut String, text: &str, open: &mut Option<&'static str>, class: Option<&'static str>) {
    if text.is_empty() {
        return;
    }
    // Blanks need no colour of their own.
    let class = if text.trim().is_empty() { *open } else { class };
    if class != *open {
        if open.is_some() {
            out.push_str("</i>");
        }
        if let Some(class) = class {
            out.push_str(&format!("<i class={class}>"));
        }
        *open = class;
    }
    out.push_str(&escape(text));
}

/// The class of the innermost scope that has one.
fn class_of(stack: &ScopeStack, classes: &[(Scope, &'static str)]) -> Option<&'static str> {
    stack
        .as_slice()
        .iter()
        .rev()
        .find_map(|scope| classes.iter().find(|(known, _)| known == scope).map(|(_, class)| *class))
}
