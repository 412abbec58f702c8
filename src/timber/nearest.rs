//! The known word that is nearest to one that is not known.

/// The longest text that is compared: what is longer is no word that was misspelled.
const LONGEST: usize = 60;

/// The word of a list nearest to what was written, if one is near: at most a third of its letters wrong.
pub fn nearest_word<'a>(text: &str, words: impl Iterator<Item = &'a str>) -> Option<String> {
    let lower = text.to_lowercase();
    let letters = lower.chars().count();
    if letters > LONGEST {
        return None;
    }
    // Each letter that one of the two has more is wrong by itself, so most words need not be compared.
    let near = |word: &&str| {
        let own = word.chars().count();
        own <= 2 * LONGEST && own.abs_diff(letters) <= 2 + own / 3
    };
    words
        .filter(near)
        .map(|word| (letters_apart(&lower, &word.to_lowercase()), word))
        .min_by_key(|(apart, _)| *apart)
        .filter(|(apart, word)| *apart <= 1 + word.chars().count() / 3)
        .map(|(_, word)| word.to_owned())
}

/// How many letters must be changed, added or dropped to make one word of the other (Levenshtein 1966), row by row.
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
