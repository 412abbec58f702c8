//! Equal gaps and fixed centres: where members are along a span.
//!
//! Equal gaps are exact fractions. Members of width w, n of them, in a span S leave (S - n w) / (n - 1) between them, or
//! (S - n w) / (n + 1) where there is a gap at both ends too. Every mark is rounded from its own exact fraction, so marks never drift, and members and gaps
//! always fill the span to the tick. These are the counting rules of carpentry handbooks of about 1916 (Griffith, *Carpentry*) and of any
//! slat fence.

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
    /// Members at both ends of a span and as few between that no two middles are further apart than `centres`, at equal gaps: ceil((S - w) / c) + 1
    /// of them. `None` beyond `most` bays; `centres` is above zero.
    pub fn within(span: Length, member: Length, centres: Length, most: i64) -> Option<EqualGaps> {
        let (run, centres) = ((span - member).ticks(), centres.ticks());
        let bays = (run + centres - 1).div_euclid(centres).max(1);
        (bays <= most).then_some(EqualGaps {
            span,
            member,
            count: bays as u32 + 1,
            ends: EndGaps::None,
        })
    }

    /// The sum of all gaps; below zero where the members do not fit.
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

    /// The gap, rounded to the nearest tick; with one member and no end gaps, all that is left over.
    pub fn gap(&self) -> Length {
        share(self.left_over(), 1, self.gaps().max(1))
    }

    /// The greatest length that fits into every gap: the gap rounded down to a tick.
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

/// Where the tape for fixed centres is hooked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CentresFrom {
    /// On the middle of the first end member: the distances from middle to middle equal the centres, except that the last may be shorter.
    Middle,
    /// On the outside face of the first end member, so that edges of sheets and boards meet on the middles of members.
    OutsideFace,
}

/// Members at fixed centres between two end members.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Centres {
    /// From the outside face of the first end member to that of the last.
    pub span: Length,
    /// The face of an end member.
    pub end: Length,
    /// The face of a member between them.
    pub member: Length,
    /// The distance from middle to middle, above zero.
    pub centres: Length,
    /// Where the tape is hooked.
    pub from: CentresFrom,
}

impl Centres {
    /// Where each member between the end members starts, from the outside face of the first.
    ///
    /// From the middle of the first member there are ceil((span - end) / centres) + 1 members, both ends counted (common practice, no
    /// source). If the last of them would leave a gap narrower than its own face to the end member, it is moved midway between its
    /// neighbours, so that two members are never tight together where one is enough. From the outside face, edges of sheets meet on every
    /// member, so none is moved. A member whose middle the end member covers is left out, and one that would overlap the end member is set
    /// tight against it.
    pub fn starts(&self) -> Vec<Length> {
        let (end, member, centres) = (self.end.ticks(), self.member.ticks(), self.centres.ticks());
        let far = self.span.ticks() - end;
        let ticks = match self.from {
            CentresFrom::Middle => {
                let between = (far + centres - 1).div_euclid(centres) - 1;
                let start = |step: i64| (end - member) / 2 + step * centres;
                let mut starts: Vec<i64> = (1..=between).map(start).collect();
                if let Some(last) = starts.pop() {
                    let before = start(between - 1);
                    let crowded = far - (last + member) < member;
                    // Midway between the middles of its neighbours.
                    let midway = (before + far + (end - member) / 2) / 2;
                    starts.push(if crowded { midway } else { last });
                }
                starts
            }
            CentresFrom::OutsideFace => {
                let between = (far + centres - 1).div_euclid(centres) - 1;
                (1..=between)
                    .map(|step| (step * centres - member / 2).clamp(end, (far - member).max(end)))
                    .collect()
            }
        };
        ticks.into_iter().map(Length::from_ticks).collect()
    }
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

    fn centres(span: i64, member: i64, centres: i64, from: CentresFrom) -> Centres {
        Centres {
            span: Length::from_mm(span),
            end: Length::from_mm(member),
            member: Length::from_mm(member),
            centres: Length::from_mm(centres),
            from,
        }
    }

    #[test]
    fn members_at_centres_are_as_many_as_the_rule_counts() {
        // ceil((W - m) / c) + 1, worked out by hand.
        for (span, apart, members) in [(1_830, 600, 4), (2_440, 400, 7), (2_440, 600, 5)] {
            let between = centres(span, 45, apart, CentresFrom::Middle).starts();
            assert_eq!(between.len() + 2, members, "{span} at {apart}");
        }
        // A sheet that breaks on the end member needs no other beside it; one that breaks 10 mm before it does.
        let sheets = |span| centres(span, 45, 600, CentresFrom::OutsideFace).starts();
        assert_eq!(
            sheets(1_830),
            [577_500, 1_177_500].map(|at| Length::from_ticks(at * 32 / 10))
        );
        let tight = sheets(1_855);
        assert_eq!(tight.last(), Some(&Length::from_mm(1_855 - 90)));
    }

    #[test]
    fn no_two_middles_are_further_apart_than_the_centres_and_no_two_members_tight_where_one_does() {
        for span in (200..2_500).step_by(7) {
            for apart in [300, 400, 450, 600] {
                for from in [CentresFrom::Middle, CentresFrom::OutsideFace] {
                    let rule = centres(span, 45, apart, from);
                    let mut starts = vec![Length::ZERO];
                    starts.extend(rule.starts());
                    starts.push(rule.span - rule.end);
                    let reach = match from {
                        CentresFrom::Middle => rule.centres,
                        // The first middle is measured from the face, half a member before the first member's own.
                        CentresFrom::OutsideFace => {
                            rule.centres + Length::from_ticks(rule.member.ticks() / 2)
                        }
                    };
                    for pair in starts.windows(2) {
                        let between = pair[1] - pair[0];
                        assert!(between >= rule.member, "{rule:?} {starts:?}");
                        assert!(between <= reach, "{rule:?} {starts:?}");
                    }
                }
            }
        }
    }
}
