//! Documents → a tantivy index in memory: one segment, document numbers in the order given, our own tokens.

use std::collections::BTreeMap;
use std::fmt;

use tantivy::schema::{Field, IndexRecordOption, Schema, TextFieldIndexing, TextOptions};
use tantivy::tokenizer::{Token, TokenStream, Tokenizer};
use tantivy::{DocSet, ReloadPolicy, Searcher, TERMINATED, TantivyDocument, Term};

use super::documents::{Document, documents};
use super::plan::{STOP_WORDS, in_body};
use super::postings::Posting;
use super::terms::terms;
use crate::corpus::Corpus;

/// Names of the fields; `identity`, `aliases` and `names` share one list of terms, `body` has its own.
pub const FIELDS: [&str; 4] = ["identity", "aliases", "names", "body"];
pub(super) const BODY: usize = 3;
/// More than a collection of tens of thousands of entries needs; a second segment is never begun.
const MEMORY: usize = 256 << 20;

/// The index library failed: a fault of the tool, not of an entry.
#[derive(Debug)]
pub struct SearchError(pub String);

impl fmt::Display for SearchError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "the search index cannot be made or read: {}", self.0)
    }
}

impl std::error::Error for SearchError {}

impl From<tantivy::TantivyError> for SearchError {
    fn from(error: tantivy::TantivyError) -> SearchError {
        SearchError(error.to_string())
    }
}

impl From<std::io::Error> for SearchError {
    fn from(error: std::io::Error) -> SearchError {
        SearchError(error.to_string())
    }
}

/// Everything that can be found.
pub struct Index {
    pub documents: Vec<Document>,
    pub(super) searcher: Searcher,
    pub(super) fields: [Field; 4],
    /// Terms of the three short fields: which of them each stands in.
    pub(super) names: BTreeMap<String, [bool; 3]>,
    /// Terms of the body, in order.
    pub(super) body: BTreeMap<String, ()>,
}

impl Index {
    /// # Errors
    /// The index library refuses: a fault of the tool.
    pub fn new(corpus: &Corpus) -> Result<Index, SearchError> {
        Index::of(documents(corpus))
    }

    /// # Errors
    /// The index library refuses: a fault of the tool.
    pub fn of(documents: Vec<Document>) -> Result<Index, SearchError> {
        let mut schema = Schema::builder();
        let fields = std::array::from_fn(|at| {
            let tokens = if at == BODY { "prose" } else { "names" };
            let indexing =
                TextFieldIndexing::default().set_tokenizer(tokens).set_index_option(IndexRecordOption::WithFreqs);
            schema.add_text_field(FIELDS[at], TextOptions::default().set_indexing_options(indexing))
        });
        let builder = tantivy::Index::builder().schema(schema.build());
        let manager = tantivy::tokenizer::TokenizerManager::new();
        manager.register("names", Words { prose: false });
        manager.register("prose", Words { prose: true });
        let directory = tantivy::directory::RamDirectory::create();
        let mut writer = builder.tokenizers(manager.clone()).single_segment_index_writer(directory, MEMORY)?;
        for document in &documents {
            let mut stored = TantivyDocument::default();
            for (field, text) in std::iter::zip(fields, document.texts()) {
                stored.add_text(field, text);
            }
            writer.add_document(stored)?;
        }
        let searcher = writer.finalize()?.reader_builder().reload_policy(ReloadPolicy::Manual).try_into()?.searcher();
        if searcher.segment_readers().len() != usize::from(!documents.is_empty()) {
            return Err(SearchError("it fell into several segments".into()));
        }
        let mut index = Index { documents, searcher, fields, names: BTreeMap::new(), body: BTreeMap::new() };
        for at in 0..FIELDS.len() {
            index.read_terms(at)?;
        }
        Ok(index)
    }

    fn read_terms(&mut self, at: usize) -> Result<(), SearchError> {
        for segment in self.searcher.segment_readers() {
            let inverted = segment.inverted_index(self.fields[at])?;
            let mut stream = inverted.terms().stream()?;
            while stream.advance() {
                let term = String::from_utf8_lossy(stream.key()).into_owned();
                match at {
                    BODY => drop(self.body.insert(term, ())),
                    _ => self.names.entry(term).or_default()[at] = true,
                }
            }
        }
        Ok(())
    }

    /// Documents of a term in a field, as tantivy holds them; none if it does not stand there.
    pub fn postings(&self, at: usize, term: &str) -> Result<Vec<Posting>, SearchError> {
        let mut out = Vec::new();
        for segment in self.searcher.segment_readers() {
            let norms = segment.get_fieldnorms_reader(self.fields[at])?;
            let term = Term::from_field_text(self.fields[at], term);
            let found = segment.inverted_index(self.fields[at])?.read_postings(&term, IndexRecordOption::WithFreqs)?;
            let Some(mut list) = found else { continue };
            while list.doc() != TERMINATED {
                use tantivy::postings::Postings;
                out.push(Posting { doc: list.doc(), count: list.term_freq(), norm: norms.fieldnorm_id(list.doc()) });
                list.advance();
            }
        }
        Ok(out)
    }

    /// Average length of a field in tokens, in the precision tantivy scores with.
    pub fn average_length(&self, at: usize) -> Result<f32, SearchError> {
        let mut tokens = 0;
        for segment in self.searcher.segment_readers() {
            tokens += segment.inverted_index(self.fields[at])?.total_num_tokens();
        }
        Ok(tokens as f32 / self.documents.len() as f32)
    }

    /// Terms that the three short fields or the body hold, in order.
    pub fn terms_of(&self, at: usize) -> Vec<&str> {
        match at {
            BODY => self.body.keys().map(String::as_str).collect(),
            _ => self.names.iter().filter(|(_, fields)| fields[at]).map(|(term, _)| term.as_str()).collect(),
        }
    }
}

/// [`terms`] for tantivy. In prose, what no query asks the body for is left out.
#[derive(Clone)]
struct Words {
    prose: bool,
}

struct WordStream {
    words: std::vec::IntoIter<String>,
    token: Token,
}

impl Tokenizer for Words {
    type TokenStream<'a> = WordStream;

    fn token_stream<'a>(&'a mut self, text: &'a str) -> WordStream {
        let mut words = terms(text);
        if self.prose {
            words.retain(|word| in_body(word) && !STOP_WORDS.contains(&word.as_str()));
        }
        WordStream { words: words.into_iter(), token: Token { position: usize::MAX, ..Token::default() } }
    }
}

impl TokenStream for WordStream {
    fn advance(&mut self) -> bool {
        let Some(word) = self.words.next() else { return false };
        self.token.position = self.token.position.wrapping_add(1);
        self.token.text = word;
        true
    }

    fn token(&self) -> &Token {
        &self.token
    }

    fn token_mut(&mut self) -> &mut Token {
        &mut self.token
    }
}
