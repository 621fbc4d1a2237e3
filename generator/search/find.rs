//! A plan → ranked documents. Scores are tantivy's own, term by term; which tokens a document answers decides first.

use serde::Serialize;
use tantivy::Term;
use tantivy::query::{BoostQuery, EnableScoring, Query, TermQuery};
use tantivy::schema::IndexRecordOption;

use super::documents::{DocKind, Document};
use super::index::{Index, SearchError};
use super::plan::{Clause, Plan, plan};

/// Scores are compared in steps of this part of one, so that the last bits of a sum decide nothing.
pub const STEPS: f64 = 1024.0;
/// Fields that name a thing: identity and aliases.
const NAMING: usize = 2;

/// A document found.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Hit<'i> {
    pub url: &'i str,
    pub title: &'i str,
    pub note: &'i str,
    /// The kind, in words.
    pub kind: &'static str,
    /// It is invented, for demonstration.
    pub demo: bool,
    /// In steps of 1/1024. Documents that name more of the query come first whatever their score.
    pub score: f64,
}

/// How answers are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answers {
    Text,
    Json,
}

/// What a document gathers over a query.
#[derive(Clone, Copy, Default)]
struct Found {
    /// Tokens answered at all.
    tokens: u32,
    /// Tokens answered exactly by identity or aliases.
    named: u32,
    /// The last token answered by a name that it begins, not exactly.
    begun: bool,
    score: f64,
}

impl Found {
    fn steps(&self) -> u64 {
        (self.score * STEPS).round() as u64
    }
}

/// The best documents for a query, best first: issues named by every token with a date among them, other pages named by
/// every token, then those that answer more tokens, then by score.
///
/// # Errors
/// The index library refuses: a fault of the tool.
pub fn find<'i>(index: &'i Index, query: &str, limit: usize) -> Result<Vec<Hit<'i>>, SearchError> {
    let plan = plan(index, query);
    let found = gather(index, &plan)?;
    let all = plan.wants.len() as u32;
    let tier = |doc: u32, found: &Found| match found.named {
        named if named == all && plan.dated && index.documents[doc as usize].kind == DocKind::Issue => 3,
        named if named == all => 2,
        named if named + 1 == all && found.begun => 1,
        _ => 0,
    };
    let mut ranked: Vec<(u32, &Found)> = (0_u32..).zip(&found).filter(|(_, found)| found.tokens > 0).collect();
    let key = |(doc, found): &(u32, &Found)| (tier(*doc, found), found.tokens, found.steps());
    ranked.sort_by(|a, b| key(b).cmp(&key(a)).then(a.0.cmp(&b.0)));
    Ok(ranked.into_iter().take(limit).map(|(doc, found)| hit(&index.documents[doc as usize], found)).collect())
}

fn hit<'i>(document: &'i Document, found: &Found) -> Hit<'i> {
    Hit {
        url: &document.url,
        title: &document.title,
        note: &document.note,
        kind: document.kind.word(),
        demo: document.demo,
        score: found.steps() as f64 / STEPS,
    }
}

fn gather(index: &Index, plan: &Plan) -> Result<Vec<Found>, SearchError> {
    let mut found = vec![Found::default(); index.documents.len()];
    for want in &plan.wants {
        // Of this token alone: sum of the exact terms, and the best of the loose ones.
        let mut exact = vec![0.0_f64; found.len()];
        let mut loose = vec![0.0_f64; found.len()];
        let mut named = vec![false; found.len()];
        let mut begun = vec![false; found.len()];
        for clause in &want.exact {
            scores(index, clause, &mut |doc, score| {
                exact[doc] += f64::from(score);
                named[doc] |= clause.field < NAMING;
            })?;
        }
        for clause in &want.loose {
            scores(index, clause, &mut |doc, score| {
                loose[doc] = loose[doc].max(f64::from(score));
                begun[doc] |= want.begun && clause.field < NAMING;
            })?;
        }
        for (doc, found) in found.iter_mut().enumerate() {
            let score = exact[doc] + loose[doc];
            if score > 0.0 {
                found.tokens += 1;
                found.score += score;
                found.named += u32::from(named[doc]);
                found.begun |= begun[doc] && !named[doc];
            }
        }
    }
    Ok(found)
}

fn scores(index: &Index, clause: &Clause, each: &mut dyn FnMut(usize, f32)) -> Result<(), SearchError> {
    let term = Term::from_field_text(index.fields[clause.field], &clause.term);
    let query = BoostQuery::new(Box::new(TermQuery::new(term, IndexRecordOption::WithFreqs)), clause.boost);
    let weight = query.weight(EnableScoring::enabled_from_searcher(&index.searcher))?;
    for segment in index.searcher.segment_readers() {
        weight.for_each(segment, &mut |doc, score| each(doc as usize, score))?;
    }
    Ok(())
}

/// What `find` prints: in text, a numbered list for each query; in JSON, one array a line and query.
///
/// # Errors
/// The index library refuses: a fault of the tool.
pub fn answers<'q>(
    index: &Index,
    queries: impl IntoIterator<Item = &'q str>,
    limit: usize,
    form: Answers,
) -> Result<String, SearchError> {
    let mut out = String::new();
    for query in queries {
        let hits = find(index, query, limit)?;
        match form {
            Answers::Json => {
                out.push_str(&serde_json::to_string(&hits).map_err(|error| SearchError(error.to_string()))?);
                out.push('\n');
            }
            Answers::Text if hits.is_empty() => out.push_str(&format!("nothing found for {query}\n")),
            Answers::Text => hits.iter().enumerate().for_each(|(at, hit)| line(at + 1, hit, &mut out)),
        }
    }
    Ok(out)
}

fn line(number: usize, hit: &Hit<'_>, out: &mut String) {
    let invented = if hit.demo { ", invented" } else { "" };
    let note = if hit.note.is_empty() { String::new() } else { format!(" · {}", hit.note) };
    out.push_str(&format!("{number:>2}  {} ({}{invented}){note}\n    {}\n", hit.title, hit.kind, hit.url));
}
