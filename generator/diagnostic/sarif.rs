//! Problems as SARIF 2.1.0 (OASIS), for code hosts that annotate pull requests.

use serde_json::json;

use super::{Code, Diagnostic};
use crate::source::{Sources, Span};

/// One SARIF log with one run.
pub fn to_sarif(problems: &[Diagnostic], sources: &Sources) -> String {
    let rules: Vec<_> = Code::ALL
        .iter()
        .map(|code| json!({ "id": code.name(), "shortDescription": { "text": code.about() } }))
        .collect();
    let results: Vec<_> = problems
        .iter()
        .map(|problem| {
            let hint = problem.hint.as_ref().map_or(String::new(), |hint| format!("\n{hint}"));
            json!({
                "ruleId": problem.code.name(),
                "level": problem.severity.word(),
                "message": { "text": format!("{}{hint}", problem.message) },
                "locations": [location(problem.primary, sources)],
                "relatedLocations": problem.related.iter().map(|label| {
                    let mut at = location(label.span, sources);
                    at["message"] = json!({ "text": label.text });
                    at
                }).collect::<Vec<_>>(),
            })
        })
        .collect();
    let log = json!({
        "$schema": "https://json.schemastore.org/sarif-2.1.0.json",
        "version": "2.1.0",
        "runs": [{
            "tool": { "driver": { "name": "tellmark", "version": env!("CARGO_PKG_VERSION"), "rules": rules } },
            "columnKind": "unicodeCodePoints",
            "results": results,
        }],
    });
    format!("{log:#}\n")
}

fn location(span: Span, sources: &Sources) -> serde_json::Value {
    let file = sources.file(span.file);
    let (line, column) = file.lines.position(&file.text, span.start);
    let (end_line, end_column) = file.lines.position(&file.text, span.end);
    json!({
        "physicalLocation": {
            "artifactLocation": { "uri": file.shown },
            "region": { "startLine": line, "startColumn": column, "endLine": end_line, "endColumn": end_column },
        }
    })
}
