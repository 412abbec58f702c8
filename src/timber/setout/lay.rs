//! Boards side by side: laid from one side, with both edges ripped alike, or laid on from a given point.
//!
//! Each board takes its cover width, and the next starts a movement gap further on. The widths, the gaps between them and the bare end add
//! up to the span, to the tick; the bare end is never wider than a gap. `cover + gap` is above zero throughout. Where boards overlap,
//! `cover` is their overall width and the gap is the lap as a negative number; then nothing is bare.

use crate::length::Length;

/// A row of boards: the width of each, and the width left bare at the end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lay {
    /// The widths in order.
    pub widths: Vec<Length>,
    /// The width left bare behind the last board; at most a gap.
    pub bare: Length,
}

/// Boards laid from one side. The first takes `first`, the others take `cover` after a gap each, and the last takes what is left.
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

/// The same number of boards with both edge boards ripped to one width, an odd tick to the last. `None` where there is but one board, or
/// where an edge board would have no width or more than a whole board's.
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

/// Boards laid over `left`, which starts with a gap. A last board narrower than `least` shares its width with the one before.
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
