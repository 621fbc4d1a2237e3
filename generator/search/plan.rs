//! A query → which terms count, in which field, and for how much. `theme/reader.js` plans in the same way with the
//! numbers it finds in the manifest; a test holds the two to each other over hundreds of queries.

use super::index::{BODY, Index};
use super::terms::terms;

/// What an exact term counts for in each field.
pub const WEIGHTS: [f32; 4] = [6.0, 4.0, 2.0, 1.0];
/// What is left of it for a term that only begins with the token.
pub const BEGUN: f32 = 0.5;
/// What is left of it for a term one slip of the keys away.
pub const SLIPPED: f32 = 0.25;
/// A pasted page is no query: tokens beyond these are not looked at.
pub const MOST_TOKENS: usize = 24;
/// Words that say nothing unless they are still being typed.
pub const STOP_WORDS: &[&str] = &[
    "and", "are", "for", "from", "has", "in", "is", "it", "its", "of", "on", "or", "that", "the", "this", "to", "was",
    "were", "which",
];

/// What a query asks for.
#[derive(Debug, Default, PartialEq)]
pub struct Plan {
    pub wants: Vec<Want>,
    /// There is a number of two or more digits, which may be a date.
    pub dated: bool,
}

/// One token of a query.
#[derive(Debug, Default, PartialEq)]
pub struct Want {
    pub token: String,
    /// The token itself, in each field that has it. Their scores add up.
    pub exact: Vec<Clause>,
    /// Terms begun by the token or one slip away. The best one counts.
    pub loose: Vec<Clause>,
    /// The loose ones are begun by the token.
    pub begun: bool,
}

#[derive(Debug, PartialEq)]
pub struct Clause {
    pub field: usize,
    pub term: String,
    pub boost: f32,
}

pub fn plan(index: &Index, query: &str) -> Plan {
    let mut tokens: Vec<String> = Vec::new();
    let mut all = terms(query);
    all.truncate(MOST_TOKENS);
    let last = all.pop();
    for token in all {
        if Some(&token) != last.as_ref() && !tokens.contains(&token) && !STOP_WORDS.contains(&token.as_str()) {
            tokens.push(token);
        }
    }
    let mut wants: Vec<Want> = tokens.into_iter().map(|token| want(index, token, false)).collect();
    wants.extend(last.map(|token| want(index, token, true)));
    let dated = wants.iter().any(|want| !is_word(&want.token) && want.token.chars().count() >= 2);
    Plan { wants, dated }
}

fn want(index: &Index, token: String, last: bool) -> Want {
    let fields: &[usize] = match (is_mark(&token), in_body(&token)) {
        (true, _) => &[0, 2],
        (false, false) => &[0, 1, 2],
        (false, true) => &[0, 1, 2, 3],
    };
    let exact = fields.iter().copied().filter(|at| index.has(*at, &token)).map(|at| clause(at, &token, 1.0)).collect();
    let mut want = Want { exact, ..Want::default() };
    if last && !is_mark(&token) && token.chars().count() >= 2 {
        begun(index, &token, &mut want.loose);
        want.begun = !want.loose.is_empty();
    }
    if want.exact.is_empty() && want.loose.is_empty() && token.chars().count() >= 4 && is_word(&token) {
        slipped(index, &token, &mut want.loose);
    }
    want.token = token;
    want
}

fn begun(index: &Index, token: &str, out: &mut Vec<Clause>) {
    let from = |term: &&String| term.starts_with(token);
    for (term, fields) in index.names.range(token.to_string()..).take_while(|(term, _)| from(term)) {
        if term != token {
            out.extend((0..BODY).filter(|at| fields[*at]).map(|at| clause(at, term, BEGUN)));
        }
    }
    if is_word(token) && token.chars().count() >= 4 {
        let terms = index.body.range(token.to_string()..).map(|(term, ())| term).take_while(from);
        out.extend(terms.filter(|term| *term != token).map(|term| clause(BODY, term, BEGUN)));
    }
}

/// Names first: prose is asked only if no name is near.
fn slipped(index: &Index, token: &str, out: &mut Vec<Clause>) {
    for (term, fields) in index.names.iter().filter(|(term, _)| one_slip(token, term)) {
        out.extend((0..BODY).filter(|at| fields[*at]).map(|at| clause(at, term, SLIPPED)));
    }
    if out.is_empty() {
        out.extend(index.body.keys().filter(|term| one_slip(token, term)).map(|term| clause(BODY, term, SLIPPED)));
    }
}

fn clause(field: usize, term: &str, share: f32) -> Clause {
    Clause { field, term: term.to_string(), boost: WEIGHTS[field] * share }
}

impl Index {
    fn has(&self, at: usize, term: &str) -> bool {
        match at {
            BODY => self.body.contains_key(term),
            _ => self.names.get(term).is_some_and(|fields| fields[at]),
        }
    }
}

/// A letter alone is a mint mark, and stands only where mint marks do.
pub fn is_mark(token: &str) -> bool {
    token.len() == 1 && token.as_bytes()[0].is_ascii_lowercase()
}

/// Letters only. Tokens never mix letters and digits.
pub(super) fn is_word(token: &str) -> bool {
    !token.starts_with(char::is_numeric)
}

/// Whether prose is asked for a token: words from three letters, years, and other scripts.
pub fn in_body(token: &str) -> bool {
    let length = token.chars().count();
    if is_word(token) { length >= 3 || !token.is_ascii() } else { length >= 4 }
}

/// One letter too many, missing, wrong, or two changed about. Only letters: digits are never guessed.
fn one_slip(token: &str, term: &str) -> bool {
    if token.len().abs_diff(term.len()) > 4 || !is_word(term) {
        return false;
    }
    let (a, b): (Vec<char>, Vec<char>) = (token.chars().collect(), term.chars().collect());
    let (short, long) = if a.len() <= b.len() { (&a, &b) } else { (&b, &a) };
    let same = std::iter::zip(short, long).take_while(|(x, y)| x == y).count();
    match long.len() - short.len() {
        0 if same == long.len() => false,
        0 => {
            short[same + 1..] == long[same + 1..]
                || (same + 1 < long.len()
                    && short[same] == long[same + 1]
                    && short[same + 1] == long[same]
                    && short[same + 2..] == long[same + 2..])
        }
        1 => short[same..] == long[same + 1..],
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::{in_body, one_slip};

    #[test]
    fn one_slip_is_one_key() {
        for near in ["dime", "dim", "dimes", "dmie", "dine", "ime"] {
            assert_eq!(one_slip("dime", near), near != "dime", "{near}");
        }
        for far in ["dmei", "di", "dimess", "emid", "dixe1"] {
            assert!(!one_slip("dime", far) || far == "dixe", "{far}");
        }
        assert!(one_slip("złoty", "złotyc") && !one_slip("1916", "1917"));
    }

    #[test]
    fn prose_is_asked_for_words_and_years() {
        assert!(
            in_body("die") && in_body("1916") && in_body("袁") && !in_body("di") && !in_body("16") && !in_body("d")
        );
    }
}
