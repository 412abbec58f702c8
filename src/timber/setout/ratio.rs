//! Exact fractions, so that an equal gap is rounded only once, where it becomes a mark.
//!
//! A [`Ratio`] is reduced, and neither of its numbers is greater than [`Ratio::MOST`], so that every product of two of them fits 128 bits.
//! A result beyond that is `None`, which callers report as a size that makes no sense.

use crate::length::Length;

/// A reduced fraction with a positive denominator.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ratio {
    top: i128,
    bottom: i128,
}

impl Ratio {
    /// The greatest numerator, its sign left aside, and the greatest denominator.
    pub const MOST: i128 = 1_000_000_000_000_000_000;

    /// `top / bottom`; `None` where `bottom` is zero or a reduced number is greater than [`Ratio::MOST`].
    pub fn new(top: i128, bottom: i128) -> Option<Ratio> {
        if bottom == 0 {
            return None;
        }
        let divisor = common_divisor(top.unsigned_abs(), bottom.unsigned_abs()) as i128;
        let sign = bottom.signum();
        let (top, bottom) = (sign * (top / divisor), sign * (bottom / divisor));
        (top.abs() <= Ratio::MOST && bottom <= Ratio::MOST).then_some(Ratio { top, bottom })
    }

    /// A length as a whole number of ticks.
    pub fn of(length: Length) -> Ratio {
        Ratio {
            top: i128::from(length.ticks()),
            bottom: 1,
        }
    }

    /// The sum.
    pub fn plus(self, other: Ratio) -> Option<Ratio> {
        Ratio::new(
            self.top * other.bottom + other.top * self.bottom,
            self.bottom * other.bottom,
        )
    }

    /// The difference.
    pub fn minus(self, other: Ratio) -> Option<Ratio> {
        Ratio::new(
            self.top * other.bottom - other.top * self.bottom,
            self.bottom * other.bottom,
        )
    }

    /// The product.
    pub fn times(self, other: Ratio) -> Option<Ratio> {
        Ratio::new(self.top * other.top, self.bottom * other.bottom)
    }

    /// The quotient; `None` where `other` is zero.
    pub fn over(self, other: Ratio) -> Option<Ratio> {
        Ratio::new(self.top * other.bottom, self.bottom * other.top)
    }

    /// Whether it is zero.
    pub fn is_zero(self) -> bool {
        self.top == 0
    }

    /// The nearest whole number, halves away from zero.
    pub fn nearest(self) -> i128 {
        let twice = 2 * self.top.abs() + self.bottom;
        self.top.signum() * (twice / (2 * self.bottom))
    }
}

/// `length * share / of`, rounded to the nearest tick: the only rounding of an equal gap. `of` is above zero.
pub fn share(length: Length, share: i64, of: i64) -> Length {
    let product = i128::from(length.ticks()) * i128::from(share);
    let of = i128::from(of);
    let nearest = (2 * product + of).div_euclid(2 * of);
    Length::from_ticks(nearest as i64)
}

/// The greatest common divisor, by Euclid's algorithm; one where both are zero.
fn common_divisor(mut one: u128, mut other: u128) -> u128 {
    while other != 0 {
        (one, other) = (other, one % other);
    }
    one.max(1)
}

/// The square root, rounded to the nearest whole number. Newton's method from above: its steps decrease strictly until they reach the root
/// rounded down, so it ends.
pub fn nearest_root(square: u128) -> u128 {
    if square == 0 {
        return 0;
    }
    let mut root = 1u128 << (square.ilog2() / 2 + 1);
    loop {
        let next = (root + square / root) / 2;
        if next >= root {
            break;
        }
        root = next;
    }
    if square - root * root > root {
        root + 1
    } else {
        root
    }
}

/// The diagonal of a rectangle, to the nearest tick.
pub fn diagonal(width: Length, height: Length) -> Length {
    let square = |side: Length| u128::from(side.ticks().unsigned_abs()).pow(2);
    Length::from_ticks(nearest_root(square(width) + square(height)) as i64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_reduce_and_round_halves_away_from_zero() {
        let third = Ratio::new(2, 6).expect("not over zero");
        assert_eq!(third, Ratio::new(-1, -3).expect("not over zero"));
        let sixth = Ratio::new(1, 6).expect("not over zero");
        assert_eq!(third.plus(sixth), Ratio::new(1, 2));
        assert_eq!(third.minus(sixth), Some(sixth));
        assert_eq!(third.over(sixth), Ratio::new(2, 1));
        assert_eq!(third.over(Ratio::new(0, 1).expect("zero")), None);
        assert_eq!(Ratio::new(5, 2).map(Ratio::nearest), Some(3));
        assert_eq!(Ratio::new(-5, 2).map(Ratio::nearest), Some(-3));
        assert_eq!(Ratio::new(Ratio::MOST + 1, 1), None);
    }

    #[test]
    fn shares_of_a_length_add_up_to_it() {
        for ticks in [0, 1, 7, 3_199, 1_234_567] {
            let length = Length::from_ticks(ticks);
            for of in 1..30 {
                assert_eq!(share(length, of, of), length);
                let steps: Length = (0..of)
                    .map(|step| share(length, step + 1, of) - share(length, step, of))
                    .sum();
                assert_eq!(steps, length);
            }
        }
    }

    #[test]
    fn roots_are_the_nearest_whole_number() {
        for number in 0..5_000u128 {
            let root = nearest_root(number);
            let apart = |root: u128| (root * root).abs_diff(number);
            assert!(root == 0 || apart(root) <= apart(root - 1), "{number}");
            assert!(apart(root) <= apart(root + 1), "{number}");
        }
    }
}
