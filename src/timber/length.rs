//! Exact lengths.
//!
//! A [`Length`] is a whole number of ticks, 3 200 to the millimetre. So 0.01 mm is 32 ticks and 1/128 in is 635 ticks: both metric and
//! imperial tapes are exact, and no decision about timber rests on a rounded number. `parse` reads text, `display` prints, and `spelled`
//! adds the unit to a bare number. Rounding is always an explicit call ([`Length::nearest`], [`Length::up_to`], [`Length::down_to`]).

mod display;
mod parse;
mod remedy;
mod spelled;

pub use display::{Shown, Style, exact_text, typed};
pub use parse::{Decimal, LengthFault, Reading, read_length};
pub use remedy::told;
pub use spelled::with_unit;

use std::iter::Sum;
use std::ops::{Add, AddAssign, Neg, Sub, SubAssign};

/// An exact length, or an exact difference of lengths, in ticks of 1/3 200 mm.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

/// The unit a bare number is read in and lengths are printed in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Millimetres.
    #[default]
    Millimetre,
    /// Centimetres.
    Centimetre,
    /// Metres.
    Metre,
    /// Inches, printed as whole inches and a fraction.
    Inch,
    /// Feet, printed as feet, inches and a fraction.
    Foot,
}

impl Unit {
    /// How the unit is written behind a number.
    pub const fn abbreviation(self) -> &'static str {
        match self {
            Unit::Millimetre => "mm",
            Unit::Centimetre => "cm",
            Unit::Metre => "m",
            Unit::Inch => "in",
            Unit::Foot => "ft",
        }
    }

    /// Ticks in one of this unit.
    pub const fn ticks(self) -> i64 {
        match self {
            Unit::Millimetre => 3_200,
            Unit::Centimetre => 32_000,
            Unit::Metre => 3_200_000,
            Unit::Inch => 81_280,
            Unit::Foot => 975_360,
        }
    }

    /// Whether this is an inch or foot unit.
    pub const fn is_imperial(self) -> bool {
        matches!(self, Unit::Inch | Unit::Foot)
    }
}

impl Length {
    /// The length zero.
    pub const ZERO: Length = Length(0);

    /// A length of so many ticks.
    pub const fn from_ticks(ticks: i64) -> Length {
        Length(ticks)
    }

    /// A whole number of millimetres.
    pub const fn from_mm(millimetres: i64) -> Length {
        Length(millimetres * 3_200)
    }

    /// So many sixty-fourths of an inch.
    pub const fn from_inch_64ths(count: i64) -> Length {
        Length(count * 1_270)
    }

    /// The number of ticks.
    pub const fn ticks(self) -> i64 {
        self.0
    }

    /// This many times the length; `None` on overflow.
    pub fn times(self, count: i64) -> Option<Length> {
        self.0.checked_mul(count).map(Length)
    }

    /// Whether it is zero or less.
    pub const fn is_none(self) -> bool {
        self.0 <= 0
    }

    /// The nearest multiple of `step`, halves away from zero. `step` is above zero.
    pub fn nearest(self, step: Length) -> Length {
        let (half, sign) = (step.0 / 2, self.0.signum());
        Length((self.0.abs() + half) / step.0 * step.0 * sign)
    }

    /// The smallest multiple of `step` that is not below the length. `step` is above zero.
    pub fn up_to(self, step: Length) -> Length {
        Length((self.0 + step.0 - 1).div_euclid(step.0) * step.0)
    }

    /// The largest multiple of `step` that is not above the length. `step` is above zero.
    pub fn down_to(self, step: Length) -> Length {
        Length(self.0.div_euclid(step.0) * step.0)
    }

    /// The multiple of `step` that is the `nth` below the length, from one on. `step` is above zero.
    pub fn nth_below(self, step: Length, nth: i64) -> Length {
        let first = Length(self.0 - 1).down_to(step);
        Length(first.0 - step.0 * (nth - 1))
    }

    /// The multiple of `step` that is the `nth` above the length, from one on. `step` is above zero.
    pub fn nth_above(self, step: Length, nth: i64) -> Length {
        let first = Length(self.0 + 1).up_to(step);
        Length(first.0 + step.0 * (nth - 1))
    }
}

impl Add for Length {
    type Output = Length;
    fn add(self, other: Length) -> Length {
        Length(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Length;
    fn sub(self, other: Length) -> Length {
        Length(self.0 - other.0)
    }
}

impl Neg for Length {
    type Output = Length;
    fn neg(self) -> Length {
        Length(-self.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Length) {
        self.0 += other.0;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Length) {
        self.0 -= other.0;
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Length>>(lengths: I) -> Length {
        Length(lengths.map(|length| length.0).sum())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_tapes_are_exact_in_ticks() {
        // 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
        assert_eq!(Unit::Inch.ticks() * 10, Unit::Millimetre.ticks() * 254);
        assert_eq!(Unit::Inch.ticks() % 128, 0);
        assert_eq!(Unit::Foot.ticks(), 12 * Unit::Inch.ticks());
    }

    #[test]
    fn rounding_goes_the_way_its_name_says() {
        let step = Length::from_mm(1);
        let length = Length::from_ticks(3_200 * 7 + 1_600);
        assert_eq!(length.nearest(step), Length::from_mm(8));
        assert_eq!(length.up_to(step), Length::from_mm(8));
        assert_eq!(length.down_to(step), Length::from_mm(7));
        assert_eq!((-length).nearest(step), Length::from_mm(-8));
        assert_eq!((-length).up_to(step), Length::from_mm(-7));
        assert_eq!((-length).down_to(step), Length::from_mm(-8));
        // The length itself is no step below or above it.
        let below =
            [1, 2].map(|nth| [length, Length::from_mm(7)].map(|from| from.nth_below(step, nth)));
        assert_eq!(below, [[7, 6], [6, 5]].map(|mm| mm.map(Length::from_mm)));
        let above =
            [1, 2].map(|nth| [length, Length::from_mm(7)].map(|from| from.nth_above(step, nth)));
        assert_eq!(above, [[8, 8], [9, 9]].map(|mm| mm.map(Length::from_mm)));
    }
}
