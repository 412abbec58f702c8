//! Equal gaps and fixed centres: where members stand along a span.
//!
//! Equal gaps are exact fractions: n members of width w in a span S leave (S - n w) / (n - 1) between them, or (S - n w) / (n + 1)
//! where there is a gap at both ends as well. Every mark is rounded from its own exact fraction, so marks never drift and members
//! plus gaps always fill the span to the tick. These are the counting rules of Griffith-era handbooks and of any slat fence.

use super::ratio::share;
use crate::length::Length;

/// Whether there is a gap outside the first and last member.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EndGaps {
    /// The first and the last member stand at the ends of the span.
    None,
    /// There is a gap at both ends too.
    Both,
}

/// Members of one width at equal gaps along a span.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EqualGaps {
    /// The span.
    pub span: Length,
    /// Width of a member.
    pub member: Length,
    /// How many members.
    pub count: u32,
    /// Whether there are gaps at the ends.
    pub ends: EndGaps,
}

impl EqualGaps {
    /// What the gaps add up to; below zero where the members do not fit.
    pub fn left_over(&self) -> Length {
        Length::from_ticks(self.span.ticks() - i64::from(self.count) * self.member.ticks())
    }

    /// How many gaps there are.
    pub fn gaps(&self) -> i64 {
        match self.ends {
            EndGaps::None => i64::from(self.count) - 1,
            EndGaps::Both => i64::from(self.count) + 1,
        }
    }

    /// The gap to the nearest tick; all of what is left where there is only one member and no end gap.
    pub fn gap(&self) -> Length {
        share(self.left_over(), 1, self.gaps().max(1))
    }

    /// The widest length that fits every gap: the gap rounded down to a tick.
    pub fn clear(&self) -> Length {
        Length::from_ticks(self.left_over().ticks().div_euclid(self.gaps().max(1)))
    }

    /// Where each member starts, from the start of the span.
    pub fn starts(&self) -> Vec<Length> {
        let gaps = self.gaps().max(1);
        (0..i64::from(self.count))
            .map(|member| {
                let gaps_before = match self.ends {
                    EndGaps::None => member,
                    EndGaps::Both => member + 1,
                };
                let whole = Length::from_ticks(self.member.ticks() * member);
                whole + share(self.left_over(), gaps_before, gaps)
            })
            .collect()
    }
}

/// The fewest members whose gaps are no wider than `most`: ceil((S + G) / (w + G)), or ceil((S - G) / (w + G)) with end gaps.
/// `member + most` is above zero.
pub fn fewest_for_gap(span: Length, member: Length, most: Length, ends: EndGaps) -> i64 {
    let (span, member, most) = (span.ticks(), member.ticks(), most.ticks());
    let top = match ends {
        EndGaps::None => span + most,
        EndGaps::Both => span - most,
    };
    let pitch = member + most;
    (top + pitch - 1).div_euclid(pitch).max(0)
}

/// Where the members between two end members stand, at fixed centres from the outside face of the first.
///
/// Returns the start of each, from the same face; both end members are left out. One that would run into the last end member is
/// set tight against it. `centres` is above zero.
pub fn between_at_centres(span: Length, member: Length, centres: Length) -> Vec<Length> {
    let (span, width, centres) = (span.ticks(), member.ticks(), centres.ticks());
    // The last bay, to the centre of the end member, is no wider than the others.
    let reach = span - width / 2;
    let count = (reach + centres - 1).div_euclid(centres) - 1;
    let last = span - 2 * width;
    (1..=count)
        .map(|step| (step * centres - width / 2).max(width).min(last))
        .map(Length::from_ticks)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn members_and_gaps_fill_every_span_to_the_tick() {
        for span in [1_000_003i64, 1_920_000, 3_840_017] {
            for member in [1i64, 31_999, 64_000] {
                for count in 1..=12u32 {
                    for ends in [EndGaps::None, EndGaps::Both] {
                        let gaps = EqualGaps {
                            span: Length::from_ticks(span),
                            member: Length::from_ticks(member),
                            count,
                            ends,
                        };
                        if gaps.left_over().ticks() < 0 {
                            continue;
                        }
                        let starts = gaps.starts();
                        let mut at = Length::ZERO;
                        let mut between = Vec::new();
                        for &start in &starts {
                            between.push(start - at);
                            at = start + gaps.member;
                        }
                        between.push(gaps.span - at);
                        let filled: Length = between.iter().copied().sum();
                        assert_eq!(filled, gaps.left_over());
                        if ends == EndGaps::None && count > 1 {
                            assert_eq!(between.first(), Some(&Length::ZERO));
                            assert_eq!(between.last(), Some(&Length::ZERO));
                            between.pop();
                            between.remove(0);
                        }
                        if count > 1 {
                            for gap in between {
                                let apart = (gap - gaps.gap()).ticks().abs();
                                assert!(apart <= 1, "{gaps:?} {gap:?}");
                            }
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn no_bay_is_wider_than_the_centres() {
        for span in (200..2_500).step_by(7) {
            for centres in [300, 400, 450, 600] {
                let (span, member) = (Length::from_mm(span), Length::from_mm(45));
                let centres = Length::from_mm(centres);
                let half = Length::from_ticks(member.ticks() / 2);
                let mut last = Length::ZERO;
                for start in between_at_centres(span, member, centres) {
                    assert!(start + half - last <= centres);
                    assert!(start >= member && start + member + member <= span);
                    last = start + half;
                }
                assert!(span - half - last <= centres, "{span:?} {centres:?}");
            }
        }
    }
}
