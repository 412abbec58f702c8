//! The one source of random numbers in these tests: the same everywhere, so that a seed determines a whole job.

/// SplitMix64 (Steele, Lea and Flood 2014). Neighbouring seeds give unrelated sequences from the first number on.
pub struct Random(pub u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// From zero to one less than `end`, which is one or more.
    pub fn below<Whole: TryInto<i128> + TryFrom<i128>>(&mut self, end: Whole) -> Whole {
        let end = wide(end);
        assert!(end > 0, "nothing is below {end}");
        narrow(i128::from(self.next()) % end)
    }

    /// From `least` to `most`, both included.
    pub fn between<Whole: TryInto<i128> + TryFrom<i128>>(
        &mut self,
        least: Whole,
        most: Whole,
    ) -> Whole {
        let least = wide(least);
        narrow(least + self.below(wide(most) - least + 1))
    }

    /// One of these, of which there is one at least.
    pub fn pick<Choice: Clone>(&mut self, choices: &[Choice]) -> Choice {
        choices[self.below(choices.len())].clone()
    }

    /// True once in so many times.
    pub fn once_in(&mut self, times: u64) -> bool {
        self.below(times) == 0
    }
}

fn wide(whole: impl TryInto<i128>) -> i128 {
    whole.try_into().ok().expect("a whole number has room")
}

fn narrow<Whole: TryFrom<i128>>(wide: i128) -> Whole {
    Whole::try_from(wide)
        .ok()
        .expect("it lies between two that have room")
}
