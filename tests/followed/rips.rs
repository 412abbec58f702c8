//! A piece at the fence: each setting is made as told, and the strips that come off are measured with arithmetic of its own.

use super::ticks;
use lengthwise::job::{Fitting, Job, Part, PartEnd};
use lengthwise::length::Length;

/// A strip that is kept beside what was ripped: its length and its width, in ticks.
pub type Strip = (i64, i64);

/// Rips a piece that came off a board of this section as `told`; the strip to keep, if any.
pub fn rip(job: &Job, section: usize, piece: &Part, told: &str) -> Option<Strip> {
    let (kerf, step) = (job.saw.kerf.ticks(), job.step.ticks());
    let wide = job.sections[section].broad().expect("a width").ticks();
    let wanted: Vec<&Part> = piece.strips.iter().map(|&row| &job.list[row]).collect();
    let width = |strip: usize| wanted[strip].rip.expect("a narrow part").width.ticks();
    let near = |set: i64, strip: usize| {
        assert!((set - width(strip)).abs() < step, "{told}: strip {strip}");
    };
    let (mut across, mut off) = (0, 0);
    let mut lengths = vec![piece.length.ticks(); wanted.len()];
    let mut left = None;
    for does in told.split("; ") {
        let alone = does.strip_prefix("to ").filter(|_| wanted.len() == 1);
        if let Some(set) = does.strip_prefix("fence to ").or(alone) {
            let set = ticks(job, size(set));
            let count = if alone.is_some() { 1 } else { strips(does) };
            for _ in 0..count {
                near(set, off);
                assert!(across + set <= wide, "{told}: beyond the board");
                across += set + kerf;
                off += 1;
            }
        } else if does.starts_with("what is left is ") {
            near(wide - across, off);
            across = wide;
            off += 1;
        } else if let Some(told) = does
            .strip_suffix(" wide is left: keep it")
            .or(does.strip_suffix(" wide is left"))
        {
            left = Some((ticks(job, told), does.ends_with("keep it")));
        } else if let Some(cut) = does.strip_prefix("cut ") {
            let (names, length) = cut.rsplit_once(" to ").expect("a length");
            let [first, last] = numbers(names);
            lengths[first - 1..last].fill(ticks(job, length));
        }
    }
    assert_eq!(off, wanted.len(), "{told}: not all strips");
    for (part, length) in wanted.iter().zip(lengths) {
        let over = length - part.length.ticks();
        assert!((0..step).contains(&over), "{told}: {}", part.label);
    }
    let real = wide - across;
    let (told_left, kept) = left.unwrap_or_default();
    // A set-out's tongued board has a tongue beside its cover width, or has lost it: the sheet counts on less.
    let tongue = match told.contains(" as it covers") {
        true => job.sections[section].lap().ticks(),
        false => 0,
    };
    let slack = step * (wanted.len() as i64 + 1) + tongue;
    assert!(
        told_left <= real.max(0) && real - told_left < slack,
        "{told}: {real} left"
    );
    let square = piece.ends == [PartEnd::Square; 2];
    let long = piece.length >= job.sections[section].keep;
    let worth = told_left > 0 && told_left >= job.saw.keep_width.ticks() && long && square;
    assert_eq!(kept, worth, "{told}");
    // What goes between others may come out up to a step short.
    let short = match piece.fitting {
        Fitting::Between => job.step,
        Fitting::Free | Fitting::Ground => Length::ZERO,
    };
    kept.then(|| ((piece.length - short).down_to(job.step).ticks(), told_left))
}

/// The size that a setting begins with: up to the strips' names, the edge that is told, or how the piece is fed.
fn size(set: &str) -> &str {
    let end = [": ", ", ", " measured"]
        .iter()
        .filter_map(|end| set.find(end));
    &set[..end.min().expect("an end")]
}

/// How many strips a setting is for.
fn strips(does: &str) -> usize {
    let (_, names) = does.split_once(": ").expect("names of strips");
    let [first, last] = numbers(names);
    last - first + 1
}

/// `A1 rail`, `A1 and A2 rail`, `A1 to A5 rail`: the first and the last number.
fn numbers(names: &str) -> [usize; 2] {
    let number = |word: &str| -> Option<usize> {
        let digits = word.trim_start_matches(|letter: char| letter.is_ascii_uppercase());
        digits.parse().ok().filter(|_| digits != word)
    };
    let mut words = names.split(' ');
    let first = words.next().and_then(number).expect("a strip");
    let last = match words.next() {
        Some("and" | "to") => words.next().and_then(number),
        _ => None,
    };
    [first, last.unwrap_or(first)]
}
