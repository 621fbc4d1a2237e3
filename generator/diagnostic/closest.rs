//! The known word nearest to a misspelt one, or nothing rather than a wild guess.

/// The closest of `known` to `typed`, if it is close enough to be meant.
pub fn closest<'k>(typed: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
    let tail = typed.rsplit('/').next().unwrap_or(typed);
    known
        .into_iter()
        .map(|word| {
            let other = word.rsplit('/').next().unwrap_or(word);
            // Folders that are right already say nothing about the rest.
            let shared = typed.split_inclusive('/').zip(word.split_inclusive('/')).take_while(|(a, b)| a == b);
            let shared: usize = shared.map(|(folder, _)| if folder.ends_with('/') { folder.len() } else { 0 }).sum();
            let whole = strsim::normalized_damerau_levenshtein(&typed[shared..], &word[shared..]);
            let last = strsim::normalized_damerau_levenshtein(tail, other) - 0.02;
            (word, whole.max(last))
        })
        .filter(|(_, score)| *score >= 0.6)
        // On a tie the first in order wins, so that the hint does not depend on chance.
        .fold(None, |best: Option<(&str, f64)>, next| match best {
            Some(best) if best.1 >= next.1 => Some(best),
            _ => Some(next),
        })
        .map(|(word, _)| word)
}

#[cfg(test)]
mod tests {
    use super::closest;

    #[test]
    fn a_slip_is_mended_and_a_stranger_is_not() {
        let known = ["mark-added", "mark-removed", "digit-cut-down"];
        assert_eq!(closest("mark-aded", known), Some("mark-added"));
        assert_eq!(closest("alterations/mark-remvoed", known), Some("mark-removed"));
        assert_eq!(closest("whizzed", known), None);
        assert_eq!(closest("glossary/abaft", ["glossary/prow"]), None);
    }
}
