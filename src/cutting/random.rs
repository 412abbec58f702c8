//! Two generators of numbers, each with a fixed seed, so that the same problem is planned the same way everywhere.

/// A shift-register generator of 64 bits (Marsaglia, Xorshift RNGs, 2003): quick, for tiny perturbations.
#[derive(Clone, Debug, Default)]
pub(crate) struct Xorshift(pub(crate) u64);

impl Xorshift {
    /// The next number from 0 to below 1.
    pub(crate) fn unit(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
}

/// SplitMix64 (Steele, Lea and Flood, Fast splittable pseudorandom number generators, 2014): better mixed, for choices.
#[derive(Clone, Debug)]
pub(crate) struct SplitMix(pub(crate) u64);

impl SplitMix {
    /// The next 64 bits.
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// The next number from 0 to below `end`.
    pub(crate) fn up_to(&mut self, end: f64) -> f64 {
        end * (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }
}
