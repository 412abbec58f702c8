//! Halvings: two members cut into each other where they cross, with their faces flush.
//!
//! Both lose the same depth, half of the thinner member's as they lie: one from its back, the other from its front. Both depths are gauged
//! from the front, since what is left of one is what is removed from the other (E. Joyce, *The Technique of Furniture Making*, on halved
//! joints). So members of unequal depth come out flush too. At a crossing, the shoulders are half the width of the other member to each
//! side of its centre line (W. Fairham, *Woodwork Joints*). At a corner the halving therefore reaches from the end of a member inwards by
//! the width of the other (W. Noyes, *Handwork in Wood*, on end laps).

use crate::length::Length;

/// The depth that each of two members loses where they cross, given how deep both lie. It is rounded down to a tick, so that neither is cut
/// deeper than half.
pub fn depth(one: Length, other: Length) -> Length {
    Length::from_ticks(one.min(other).ticks() / 2)
}

/// Where the shoulders are on a member halved at both ends, measured from its first end; `across` is the width of the members it meets.
pub fn end_shoulders(length: Length, across: Length) -> [Length; 2] {
    [across, length - across]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_members_lose_half_of_the_thinner_one() {
        // 45 on 45, 45 on 70 and 20 on 45: the thin one keeps half, the thick one the rest of it, 22.5, 47.5 and 35.
        for (thin, thick, lost, kept) in [
            (450, 450, 225, 225),
            (450, 700, 225, 475),
            (200, 450, 100, 350),
        ] {
            let [thin, thick, lost, kept] =
                [thin, thick, lost, kept].map(|tenths: i64| Length::from_ticks(tenths * 320));
            assert_eq!(depth(thin, thick), lost);
            assert_eq!(depth(thick, thin), lost);
            assert_eq!(thick - depth(thin, thick), kept);
        }
    }
}
