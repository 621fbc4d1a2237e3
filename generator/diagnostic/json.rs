//! Problems for machines: one JSON object a line.

use serde::Serialize;

use super::Diagnostic;
use crate::source::{Sources, Span};

#[derive(Serialize)]
struct Where<'a> {
    file: &'a str,
    line: usize,
    column: usize,
    end_line: usize,
    end_column: usize,
}

#[derive(Serialize)]
struct Related<'a> {
    #[serde(flatten)]
    at: Where<'a>,
    message: &'a str,
}

#[derive(Serialize)]
struct Row<'a> {
    severity: &'a str,
    code: &'a str,
    message: &'a str,
    #[serde(flatten)]
    at: Where<'a>,
    hint: Option<&'a str>,
    related: Vec<Related<'a>>,
}

/// One object a line, in the order given. Lines and columns count from 1, columns in characters.
pub fn to_json_lines(problems: &[Diagnostic], sources: &Sources) -> String {
    let mut out = String::new();
    for problem in problems {
        let row = Row {
            severity: problem.severity.word(),
            code: problem.code.name(),
            message: &problem.message,
            at: place(problem.primary, sources),
            hint: problem.hint.as_deref(),
            related: problem
                .related
                .iter()
                .map(|label| Related { at: place(label.span, sources), message: &label.text })
                .collect(),
        };
        out.push_str(&serde_json::to_string(&row).expect("plain strings and numbers serialise"));
        out.push('\n');
    }
    out
}

fn place(span: Span, sources: &Sources) -> Where<'_> {
    let file = sources.file(span.file);
    let (line, column) = file.lines.position(&file.text, span.start);
    let (end_line, end_column) = file.lines.position(&file.text, span.end);
    Where { file: &file.shown, line, column, end_line, end_column }
}
