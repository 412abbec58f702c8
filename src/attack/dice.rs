//! Random numbers that are the same everywhere, so that a seed determines a whole run (SplitMix64, Steele and others 2014).

/// A sequence of numbers from a seed.
pub struct Dice(u64);

impl Dice {
    /// The sequence of this seed.
    pub fn new(seed: u64) -> Dice {
        Dice(seed)
    }

    /// Any number.
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// From `least` to `most`, both included.
    pub fn between(&mut self, least: i64, most: i64) -> i64 {
        let span = most.max(least) as i128 - least as i128 + 1;
        (least as i128 + self.next() as i128 % span) as i64
    }

    /// An index into a list of this length, which is not empty.
    pub fn below(&mut self, count: usize) -> usize {
        (self.next() % count.max(1) as u64) as usize
    }

    /// True once in this many times on average.
    pub fn once_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }

    /// One of these; there is at least one.
    pub fn one_of<T: Clone>(&mut self, choices: &[T]) -> T {
        choices[self.below(choices.len())].clone()
    }
}
