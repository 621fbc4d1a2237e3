//! Corpus → search index: answers of `find`, and the same index as classic scripts for the look-up in every page.
//!
//! | file | turns | into |
//! |---|---|---|
//! | `documents` | the corpus | what can be found, in a fixed order |
//! | `issue_names` | an issue | every way the trade writes it |
//! | `terms` | any text | tokens; `theme/terms.js` does the same |
//! | `index` | documents | a tantivy index in memory, one segment |
//! | `plan` | a query | which terms count in which field, and for how much; `theme/reader.js` does the same |
//! | `find` | a plan | ranked documents, scored by tantivy itself |
//! | `postings` | documents of a term | a short string, and back |
//! | `shards` | the index | scripts of a few kilobytes |
//!
//! Never touches the disk; the same corpus gives the same bytes. The library's own files are not published.

mod documents;
mod find;
mod index;
mod issue_names;
mod plan;
mod postings;
mod shards;
mod terms;

pub use documents::{DocKind, Document, documents};
pub use find::{Answers, Hit, answers, find};
pub use index::{FIELDS, Index, SearchError};
pub use plan::{Clause, Plan, Want, plan};
pub use postings::{Posting, decode, encode};
pub use shards::files;
pub use terms::terms;
