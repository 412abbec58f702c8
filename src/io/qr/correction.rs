//! The bytes by which a QR code that is read badly is put right: Reed-Solomon codes over the 256 remainders of x^8 + x^4 + x^3 + x^2 + 1 (ISO/IEC 18004).
//!
//! The library for QR codes does the same with tables for every size of code, which are larger than all its code. Here the divisor is worked
//! out for the one size that is needed.

/// For the versions from 1 on, at the lowest correction: the bytes of correction of each block, and the blocks (ISO/IEC 18004, taken
/// from the tables of the crate `qrcode`, with which the test compares what comes of them).
static BLOCKS: [(u8, u8); 20] = [
    (7, 1),
    (10, 1),
    (15, 1),
    (20, 1),
    (26, 1),
    (18, 2),
    (20, 2),
    (24, 2),
    (30, 2),
    (18, 4),
    (20, 4),
    (24, 4),
    (26, 4),
    (30, 4),
    (22, 6),
    (24, 6),
    (28, 6),
    (30, 6),
    (28, 7),
    (28, 8),
];

/// The bytes of a code and those of its correction in the order in which they are drawn: the first of each block, then the second of each.
/// `None` for a version that has no row here.
pub fn codewords(bytes: &[u8], version: i16) -> Option<[Vec<u8>; 2]> {
    let row = usize::try_from(version).ok()?.checked_sub(1)?;
    let (correcting, count) = BLOCKS.get(row)?;
    let count = usize::from(*count);
    let (mut blocks, mut rest) = (Vec::new(), bytes);
    for left in (1..=count).rev() {
        // The longer blocks are last, and none is longer than another by more than a byte.
        let (block, behind) = rest.split_at(rest.len() / left);
        blocks.push(block.to_vec());
        rest = behind;
    }
    let divisor = divisor(*correcting);
    let corrections: Vec<Vec<u8>> = blocks.iter().map(|one| remainder(one, &divisor)).collect();
    Some([in_turn(&blocks), in_turn(&corrections)])
}

/// The product of `x - 2^n` for the first so many `n`, without its first term, which is 1; the highest power first.
fn divisor(terms: u8) -> Vec<u8> {
    let mut product = vec![0; usize::from(terms)];
    *product.last_mut().expect("a code has some correction") = 1;
    let mut root = 1;
    for _ in 0..terms {
        for term in 0..product.len() {
            let next = product.get(term + 1).copied().unwrap_or(0);
            product[term] = times(product[term], root) ^ next;
        }
        root = times(root, 2);
    }
    product
}

/// What is left of a block, moved up by the terms of the divisor, when it is divided.
fn remainder(block: &[u8], divisor: &[u8]) -> Vec<u8> {
    let mut left = vec![0; divisor.len()];
    for byte in block {
        let factor = byte ^ left[0];
        left.rotate_left(1);
        *left.last_mut().expect("a divisor has terms") = 0;
        for (left, term) in left.iter_mut().zip(divisor) {
            *left ^= times(*term, factor);
        }
    }
    left
}

/// The product of two remainders.
fn times(one: u8, other: u8) -> u8 {
    let mut product = 0;
    for bit in (0..8).rev() {
        let carried = product >> 7;
        product = (product << 1) ^ (carried * 0x1d) ^ ((other >> bit & 1) * one);
    }
    product
}

/// The first byte of each block, then the second of each that has one, and so on.
fn in_turn(blocks: &[Vec<u8>]) -> Vec<u8> {
    let longest = blocks.iter().map(Vec::len).max().unwrap_or(0);
    let turns = (0..longest).flat_map(|turn| blocks.iter().filter_map(move |one| one.get(turn)));
    turns.copied().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use qrcode::bits::Bits;
    use qrcode::ec::construct_codewords;
    use qrcode::{EcLevel, Version};

    #[test]
    fn every_version_is_corrected_as_by_the_library() {
        for version in 1..=20 {
            let of = Version::Normal(version);
            let room = Bits::new(of).max_len(EcLevel::L).expect("a version") / 8;
            let mut state = 7_u32;
            let bytes: Vec<u8> = std::iter::repeat_with(|| {
                // Numbers of a linear congruential generator (Numerical Recipes, from memory).
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                state.to_be_bytes()[0]
            })
            .take(room)
            .collect();
            let [drawn, correcting] = codewords(&bytes, version).expect("a row");
            let theirs = construct_codewords(&bytes, of, EcLevel::L).expect("a version");
            assert_eq!((drawn, correcting), theirs, "version {version}");
        }
        assert!(codewords(&[], 0).is_none() && codewords(&[], 21).is_none());
    }

    #[test]
    fn the_product_of_two_remainders_is_reduced() {
        // 2 * 128 is x^8, which leaves x^4 + x^3 + x^2 + 1.
        assert_eq!(
            [times(2, 128), times(128, 2), times(1, 200)],
            [0x1d, 0x1d, 200]
        );
    }
}
