//! The known word nearest to an unknown one.

/// The longest text that is compared; a longer one is no misspelled word.
const LONGEST: usize = 60;

/// The word of a list nearest to `text`, whatever the case of its letters. `None` where none is near: as many letters may differ as a third
/// of the word and one more.
pub fn nearest_word<'a>(text: &str, words: impl Iterator<Item = &'a str>) -> Option<String> {
    let lower = text.to_lowercase();
    let letters = lower.chars().count();
    if letters > LONGEST {
        return None;
    }
    // The difference in length is a lower bound on the distance, so most words need not be compared.
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
