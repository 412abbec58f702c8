//! How boards lie side by side: laid from one side, shared between both edges, or laid on over what is left.
//!
//! A board covers its cover width and the next starts a movement gap further on. Widths, the gaps between them and what is bare at
//! the end add up to the span, to the tick; what is bare is never wider than a gap. `cover + gap` is above zero throughout. Where boards lie
//! over each other, `cover` is their overall width and the gap is the lap, below zero: then nothing is bare.

use crate::length::Length;

/// A run of boards: how wide each is, and what is left bare at the end (less than a gap).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lay {
    /// The widths in order.
    pub widths: Vec<Length>,
    /// What is left bare behind the last board.
    pub bare: Length,
}

/// Boards laid from one side: the first covers `first`, the others `cover` after a gap each, the last what is left.
///
/// Widths, gaps and what is bare at the end add up to `span`.
pub fn lay(span: Length, first: Length, cover: Length, gap: Length) -> Lay {
    if first >= span {
        return Lay {
            widths: vec![span],
            bare: Length::ZERO,
        };
    }
    let mut widths = vec![first];
    let rest = (span - first).ticks();
    let pitch = (cover + gap).ticks();
    let full = rest / pitch;
    widths.extend(std::iter::repeat_n(cover, full as usize));
    let left = Length::from_ticks(rest - full * pitch);
    if left <= gap.max(Length::ZERO) {
        return Lay { widths, bare: left };
    }
    widths.push(left - gap);
    Lay {
        widths,
        bare: Length::ZERO,
    }
}

/// The same number of boards with both edges ripped alike, the odd tick in the last; `None` where there are too few to share.
pub fn shared(as_laid: &Lay, span: Length, cover: Length, gap: Length) -> Option<Lay> {
    let boards = as_laid.widths.len();
    if boards < 2 {
        return None;
    }
    let between = (boards as i64 - 2) * cover.ticks() + (boards as i64 - 1) * gap.ticks();
    let both = span.ticks() - between;
    let (first, last) = (both / 2, both - both / 2);
    if first <= 0 || last > cover.ticks() {
        return None;
    }
    let mut widths = vec![cover; boards];
    widths[0] = Length::from_ticks(first);
    widths[boards - 1] = Length::from_ticks(last);
    Some(Lay {
        widths,
        bare: Length::ZERO,
    })
}

/// Boards laid on over `left`, which starts with a gap. A last one under `least` shares its width with the one before.
pub fn lay_rest(left: Length, cover: Length, gap: Length, least: Length) -> Lay {
    let rest = left - gap;
    if rest.is_none() {
        return Lay {
            widths: Vec::new(),
            bare: left,
        };
    }
    let mut again = lay(rest, cover, cover, gap);
    if let [.., before, last] = &mut again.widths[..]
        && *last < least
    {
        let both = *before + *last;
        *last = Length::from_ticks(both.ticks() / 2);
        *before = both - *last;
    }
    again
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn fills(lay: &Lay, span: Length, gap: Length) {
        let boards: Length = lay.widths.iter().copied().sum();
        let gaps = Length::from_ticks(gap.ticks() * (lay.widths.len() as i64 - 1));
        assert_eq!(boards + gaps + lay.bare, span, "{lay:?}");
        assert!(
            lay.bare >= Length::ZERO && lay.bare <= gap.max(Length::ZERO),
            "{lay:?}"
        );
        assert!(lay.widths.iter().all(|width| !width.is_none()), "{lay:?}");
    }

    #[test]
    fn every_tiny_face_is_filled_to_the_tick_either_way() {
        let ticks = Length::from_ticks;
        for span in 1..60 {
            for cover in 1..9 {
                for gap in 1 - cover..4 {
                    let (span, cover, gap) = (ticks(span), ticks(cover), ticks(gap));
                    let as_laid = lay(span, cover, cover, gap);
                    fills(&as_laid, span, gap);
                    if let Some(shared) = shared(&as_laid, span, cover, gap) {
                        fills(&shared, span, gap);
                        assert_eq!(shared.bare, Length::ZERO);
                        let edges = [shared.widths[0], shared.widths[shared.widths.len() - 1]];
                        assert!((edges[1] - edges[0]).ticks() <= 1, "{shared:?}");
                    }
                    // What is laid on starts with a gap of its own.
                    let rest = lay_rest(span, cover, gap, cover);
                    if !rest.widths.is_empty() {
                        fills(&rest, span - gap, gap);
                    }
                }
            }
        }
    }
}
