//! The known word nearest to an unknown one.

use crate::lower::lower;

/// The longest text that is compared; a longer one is no misspelled word.
const LONGEST: usize = 60;

/// The word of a list nearest to `text`, whatever the case of its letters. `None` where none is near: as many letters may differ as a third
/// of the word and one more.
pub fn nearest_word<'a>(text: &str, words: impl Iterator<Item = &'a str>) -> Option<String> {
    nearest(text, &mut { words })
}

/// The same, compiled once for lists of all sorts.
fn nearest(text: &str, words: &mut dyn Iterator<Item = &str>) -> Option<String> {
    let lowered = lower(text);
    let letters = lowered.chars().count();
    if letters > LONGEST {
        return None;
    }
    let mut best: Option<(usize, &str)> = None;
    for word in words {
        // The difference in length is a lower bound on the distance, so most words need not be compared.
        let own = word.chars().count();
        if own > 2 * LONGEST || own.abs_diff(letters) > 2 + own / 3 {
            continue;
        }
        let apart = letters_apart(&lowered, &lower(word));
        if best.is_none_or(|(known, _)| apart < known) {
            best = Some((apart, word));
        }
    }
    let (_, word) = best.filter(|(apart, word)| *apart <= 1 + word.chars().count() / 3)?;
    Some(word.to_owned())
}

/// The edit distance: how many letters must be changed, added or dropped to turn one word into the other (Levenshtein 1966), computed row
/// by row.
fn letters_apart(one: &str, other: &str) -> usize {
    let other: Vec<char> = other.chars().collect();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (line, letter) in one.chars().enumerate() {
        let mut diagonal = std::mem::replace(&mut row[0], line + 1);
        for (column, wanted) in other.iter().enumerate() {
            let change = diagonal + usize::from(letter != *wanted);
            diagonal = row[column + 1];
            row[column + 1] = change.min(row[column] + 1).min(diagonal + 1);
        }
    }
    row[other.len()]
}
