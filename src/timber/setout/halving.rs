//! Halvings: two members let into each other where they cross, with their fronts flush.
//!
//! Both lose the same depth, half of the thinner one's as they lie, one from its back and the other from its front: what is left in one is
//! taken from the other, and all of it is gauged from the front (E. Joyce, *The Technique of Furniture Making*, on halved joints). So members of
//! unequal depth come out flush too. A shoulder stands half the width of the other member to each side of the middle of the crossing
//! (W. Fairham, *Woodwork Joints*); at a corner the halving therefore reaches from the end of a member in by the width of the other
//! (W. Noyes, *Handwork in Wood*, on end laps).

use crate::length::Length;

/// What each of two members loses where they cross, from how deep both lie; rounded down to a tick, so that neither is cut deeper than half.
pub fn depth(one: Length, other: Length) -> Length {
    Length::from_ticks(one.min(other).ticks() / 2)
}

/// Where the shoulders of a member stand that is halved at both its ends, from either end of it; `across` is the width of the members it meets.
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
