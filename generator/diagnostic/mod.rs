//! What is wrong with the entries: one type for every problem, collected, sorted and shown. Never stops at the first.

mod closest;
mod code;
mod json;
mod sarif;
mod text;

pub use closest::closest;
pub use code::Code;
pub use json::to_json_lines;
pub use sarif::to_sarif;
pub use text::to_text;

use crate::source::Span;

/// How bad it is. Errors publish nothing; warnings fail only under `--strict`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    Error,
    Warning,
}

impl Severity {
    pub fn word(self) -> &'static str {
        match self {
            Severity::Error => "error",
            Severity::Warning => "warning",
        }
    }
}

/// A span with an optional remark of its own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    pub span: Span,
    pub text: String,
}

/// One problem, in the author's terms.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    pub code: Code,
    pub severity: Severity,
    /// One line: what is wrong.
    pub message: String,
    /// The narrowest span that shows it.
    pub primary: Span,
    /// Such as the first use of a duplicate id.
    pub related: Vec<Label>,
    /// What to type instead.
    pub hint: Option<String>,
}

impl Diagnostic {
    pub fn hint(&mut self, hint: impl Into<String>) -> &mut Self {
        self.hint = Some(hint.into());
        self
    }

    pub fn related(&mut self, span: Span, text: impl Into<String>) -> &mut Self {
        self.related.push(Label { span, text: text.into() });
        self
    }
}

/// All problems found so far.
#[derive(Debug, Default)]
pub struct Report {
    problems: Vec<Diagnostic>,
}

impl Report {
    pub fn error(&mut self, code: Code, span: Span, message: impl Into<String>) -> &mut Diagnostic {
        self.push(code, Severity::Error, span, message.into())
    }

    pub fn warning(&mut self, code: Code, span: Span, message: impl Into<String>) -> &mut Diagnostic {
        self.push(code, Severity::Warning, span, message.into())
    }

    fn push(&mut self, code: Code, severity: Severity, primary: Span, message: String) -> &mut Diagnostic {
        self.problems.push(Diagnostic { code, severity, message, primary, related: Vec::new(), hint: None });
        self.problems.last_mut().expect("just pushed")
    }

    /// Leaves out problems that only follow from others.
    pub fn retain(&mut self, keep: impl FnMut(&Diagnostic) -> bool) {
        self.problems.retain(keep);
    }

    pub fn append(&mut self, mut other: Report) {
        self.problems.append(&mut other.problems);
    }

    /// Sorted by file, offset and code; the same problem twice is one.
    pub fn finish(mut self) -> Vec<Diagnostic> {
        self.problems
            .sort_by(|a, b| (a.primary, a.code.name(), &a.message).cmp(&(b.primary, b.code.name(), &b.message)));
        self.problems.dedup();
        self.problems
    }

    pub fn has_errors(&self) -> bool {
        self.problems.iter().any(|problem| problem.severity == Severity::Error)
    }

    pub fn len(&self) -> usize {
        self.problems.len()
    }

    pub fn is_empty(&self) -> bool {
        self.problems.is_empty()
    }
}
