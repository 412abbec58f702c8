//! Dominance among partial patterns of one state.
//!
//! **Idea** (Nemhauser and Ullmann 1969). A partial pattern that takes no less length and is worth no more than another is dropped. A list that would
//! grow too long is halved: neighbours become one that takes the lesser length and is worth the greater value; no pattern stands behind it
//! any longer, but it is an upper bound still.
//!
//! **Invariant.** Lists ascend in length and in value, both strictly. **Why it ends:** one pass over two lists; halving shortens a list of more than
//! two.

use crate::limits::{LINKS_BEFORE_THINNING, THINNED_LIST};
use crate::pricing::partial_pattern::PartialPattern;
use crate::pricing::traceback::{NO_PATTERN, Traceback};

/// Merges a list into another, both ascending in length and in value; `spare` is memory to work in.
pub(crate) fn merge_nondominated(
    list: &mut Vec<PartialPattern>,
    new: &[PartialPattern],
    spare: &mut Vec<PartialPattern>,
) {
    if new.is_empty() {
        return;
    }
    if list.is_empty() {
        list.extend_from_slice(new);
        return;
    }
    spare.clear();
    spare.reserve(list.len() + new.len());
    let mut best = i64::MIN;
    let (mut at_old, mut at_new) = (0, 0);
    while let (Some(&old), Some(&other)) = (list.get(at_old), new.get(at_new)) {
        let take_new =
            other.length < old.length || (other.length == old.length && other.value > old.value);
        at_new += usize::from(take_new);
        at_old += usize::from(!take_new);
        let fill = if take_new { other } else { old };
        if fill.value > best {
            best = fill.value;
            spare.push(fill);
        }
    }
    // One of the two is used up; of the other's rest, values ascend, so what is left out is a first stretch.
    let rest = if at_old < list.len() {
        &list[at_old..]
    } else {
        &new[at_new..]
    };
    let skipped = rest.partition_point(|fill| fill.value <= best);
    spare.extend_from_slice(&rest[skipped..]);
    std::mem::swap(list, spare);
}

/// Halves a list until it is no longer than it may be.
pub(crate) fn thin_if_long(
    list: &mut Vec<PartialPattern>,
    longest_list: usize,
    traceback: &Traceback,
) {
    let limit = if traceback.len() > LINKS_BEFORE_THINNING {
        THINNED_LIST.min(longest_list)
    } else {
        longest_list
    };
    while list.len() > limit {
        let merged = list.chunks(2).map(|pair| match pair {
            [one, two] => PartialPattern {
                length: one.length,
                value: two.value,
                link: NO_PATTERN,
            },
            rest => rest[0],
        });
        *list = merged.collect();
    }
}
