//! Stretches of a board: the bad ones, and the clear runs that they leave.

use crate::length::{Length, Reading, read_length};

/// A stretch of a board, from the datum end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Stretch {
    /// Where it starts.
    pub from: Length,
    /// Where it ends, beyond `from`.
    pub to: Length,
}

/// A clear run of a board, and the trim behind it that counts with an offcut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ClearRun {
    /// Where it starts and ends, from the datum end.
    pub stretch: Stretch,
    /// The trim at the far end, where the run ends there; otherwise zero.
    pub tail: Length,
}

/// The clear runs between the bad stretches of a board. A bad stretch narrower than the widest cut takes that cut all the same, from where
/// the stretch starts.
pub fn runs_between(
    board: Length,
    datum: Length,
    far: Length,
    bad: &[Stretch],
    kerf: Length,
) -> Vec<ClearRun> {
    let end = board - far;
    let mut runs = Vec::new();
    let mut from = datum;
    for stretch in bad {
        let to = stretch.from.min(end);
        if to > from {
            runs.push(ClearRun {
                stretch: Stretch { from, to },
                tail: Length::ZERO,
            });
        }
        from = from.max(stretch.to.max(stretch.from + kerf));
    }
    if end > from {
        runs.push(ClearRun {
            stretch: Stretch { from, to: end },
            tail: far,
        });
    }
    runs
}

/// Splits `400..460` (or `400 to 460`, or a dash between bare numbers) into its two texts.
pub fn split_stretch(text: &str) -> Option<(&str, &str)> {
    text.split_once("..")
        .or_else(|| text.split_once(" to "))
        .or_else(|| text.split_once(['\u{2013}', '\u{2014}']))
        .or_else(|| {
            // A dash is also part of a fraction, so it separates two numbers only where it is the only one and there is no fraction.
            let (from, to) = text.split_once('-')?;
            (!to.contains('-') && !text.contains('/')).then_some((from, to))
        })
}

/// Reads `400..460; 900..950`; `None` for any other text.
pub fn read_stretches(text: &str, reading: Reading) -> Option<Vec<Stretch>> {
    let texts = text
        .split(';')
        .map(str::trim)
        .filter(|text| !text.is_empty());
    let stretches = texts.map(|text| {
        let (from, to) = split_stretch(text)?;
        let [from, to] = [from, to].map(|text| read_length(text.trim(), reading).ok());
        let stretch = Stretch {
            from: from?,
            to: to?,
        };
        (stretch.from < stretch.to).then_some(stretch)
    });
    stretches.collect::<Option<Vec<_>>>().map(joined)
}

/// The stretches in ascending order, with those that touch or overlap joined.
pub fn joined(mut stretches: Vec<Stretch>) -> Vec<Stretch> {
    order::sort(&mut stretches);
    let mut joined: Vec<Stretch> = Vec::new();
    for stretch in stretches {
        match joined.last_mut() {
            Some(last) if stretch.from <= last.to => last.to = last.to.max(stretch.to),
            _ => joined.push(stretch),
        }
    }
    joined
}
