//! The documents of one term as a short string of letters, digits, `-` and `_`, and back.
//!
//! Each posting is three numbers: the gap to the document before it, doubled, plus one if the term stands there more
//! than once; then, only in that case, how often, less two; then tantivy's step of the field's length. A number is
//! written in groups of five bits, lowest first; every group but the last has the sixth bit set.

/// One document of a term. Lists of them ascend by document.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Posting {
    pub doc: u32,
    /// How often the term stands in the field, at least once.
    pub count: u32,
    /// Length of the field in tokens, rounded down to one of tantivy's 256 steps.
    pub norm: u8,
}

const ALPHABET: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

pub fn encode(postings: &[Posting]) -> String {
    let mut out = String::new();
    let mut next = 0;
    for posting in postings {
        let gap = u64::from(posting.doc) - next;
        let many = posting.count > 1;
        number(gap * 2 + u64::from(many), &mut out);
        if many {
            number(u64::from(posting.count) - 2, &mut out);
        }
        number(u64::from(posting.norm), &mut out);
        next = u64::from(posting.doc) + 1;
    }
    out
}

fn number(mut value: u64, out: &mut String) {
    loop {
        let more = if value > 31 { 32 } else { 0 };
        out.push(char::from(ALPHABET[(value & 31) as usize | more]));
        value >>= 5;
        if more == 0 {
            return;
        }
    }
}

/// What [`encode`] wrote; `None` for any other text.
pub fn decode(text: &str) -> Option<Vec<Posting>> {
    let mut bytes = text.bytes();
    let mut out = Vec::new();
    let mut next = 0_u64;
    while let Some(first) = bytes.next() {
        let head = read(first, &mut bytes)?;
        let count = if head & 1 == 1 { read(bytes.next()?, &mut bytes)?.checked_add(2)? } else { 1 };
        let norm = read(bytes.next()?, &mut bytes)?;
        let doc = next.checked_add(head >> 1)?;
        let posting = Posting { doc: doc.try_into().ok()?, count: count.try_into().ok()?, norm: norm.try_into().ok()? };
        out.push(posting);
        next = doc + 1;
    }
    Some(out)
}

fn read(first: u8, rest: &mut std::str::Bytes<'_>) -> Option<u64> {
    let mut value = 0_u64;
    let (mut byte, mut shift) = (first, 0_u32);
    loop {
        let group = ALPHABET.iter().position(|letter| *letter == byte)? as u64;
        value |= (group & 31).checked_shl(shift).filter(|_| shift < 40)?;
        if group < 32 {
            return Some(value);
        }
        (byte, shift) = (rest.next()?, shift + 5);
    }
}
