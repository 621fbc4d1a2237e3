//! Problems as a person reads them: what, where, the line itself, and what to type instead.

use std::fmt::Write;

use super::Diagnostic;
use crate::source::{Sources, Span};

/// All problems as text, one blank line between two.
pub fn to_text(problems: &[Diagnostic], sources: &Sources) -> String {
    let mut out = String::new();
    for (nth, problem) in problems.iter().enumerate() {
        if nth > 0 {
            out.push('\n');
        }
        let _ = writeln!(out, "{}[{}]: {}", problem.severity.word(), problem.code.name(), problem.message);
        let spans = problem.related.iter().map(|label| label.span).chain([problem.primary]);
        let width = spans.map(|span| line_of(span, sources).to_string().len()).max().unwrap_or(1);
        excerpt(&mut out, width, "-->", problem.primary, "", sources);
        for label in &problem.related {
            excerpt(&mut out, width, ":::", label.span, &label.text, sources);
        }
        if let Some(hint) = &problem.hint {
            let _ = writeln!(out, "{:width$} = help: {hint}", "");
        }
    }
    out
}

fn line_of(span: Span, sources: &Sources) -> usize {
    let file = sources.file(span.file);
    file.lines.position(&file.text, span.start).0
}

/// `width` is that of the longest line number of the problem, so that its bars stand below each other.
fn excerpt(out: &mut String, width: usize, arrow: &str, span: Span, remark: &str, sources: &Sources) {
    let file = sources.file(span.file);
    let (line, column) = file.lines.position(&file.text, span.start);
    let (end_line, end_column) = file.lines.position(&file.text, span.end);
    let _ = writeln!(out, "{:width$}{arrow} {}:{line}:{column}", "", file.shown);
    let text = shorten(file.lines.line(&file.text, line), column);
    if text.0.trim().is_empty() {
        return;
    }
    let last = if end_line > line { text.0.chars().count() + 1 } else { end_column.saturating_sub(text.1) };
    let first = column - text.1;
    let carets = last.saturating_sub(first).clamp(1, text.0.chars().count().saturating_sub(first - 1).max(1));
    let pad = " ".repeat(width);
    let _ = writeln!(out, "{pad} |");
    let _ = writeln!(out, "{line:width$} | {}", text.0);
    let gap = " ".repeat(first - 1);
    let remark = if remark.is_empty() { String::new() } else { format!(" {remark}") };
    let _ = writeln!(out, "{pad} | {gap}{}{remark}", "^".repeat(carets));
}

/// A long line is cut to a window around the column; returns the text and how many characters were cut before it.
fn shorten(line: &str, column: usize) -> (String, usize) {
    const WIDTH: usize = 110;
    let line = line.replace('\t', " ");
    if line.chars().count() <= WIDTH {
        return (line, 0);
    }
    let cut = column.saturating_sub(30).min(line.chars().count() - 1);
    let cut = if cut < 12 { 0 } else { cut };
    (line.chars().skip(cut).take(WIDTH).collect(), cut)
}
