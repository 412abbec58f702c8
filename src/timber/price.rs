//! What a length costs, as yards give it: for one, or per length, area or volume of timber.
//!
//! A price per unit becomes whole hundredths a length, rounded half up, once. A volume counts the size that a section is sold as, where that is
//! said, else its real size. A board foot is 144 cubic inches, and of what is thinner than an inch a face of 144 square inches.

use crate::length::{Decimal, Length, Unit};
use crate::lower::lower;
use crate::money::Money;

/// A price as written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Price {
    /// Of one.
    One(Money),
    /// Of a unit: how many ten-thousandths, and of which.
    Per(i64, Per),
}

/// What a price per unit is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Per {
    /// A metre.
    Metre,
    /// A foot.
    Foot,
    /// A cubic metre.
    CubicMetre,
    /// A board foot.
    BoardFoot,
    /// A thousand board feet.
    ThousandBoardFeet,
}

const UNITS: [(&str, Per); 10] = [
    ("m", Per::Metre),
    ("metre", Per::Metre),
    ("meter", Per::Metre),
    ("ft", Per::Foot),
    ("foot", Per::Foot),
    ("m3", Per::CubicMetre),
    ("m\u{b3}", Per::CubicMetre),
    ("bf", Per::BoardFoot),
    ("board foot", Per::BoardFoot),
    ("mbf", Per::ThousandBoardFeet),
];

/// Most decimals of a price per unit.
const DECIMALS: usize = 4;

impl Per {
    /// Whether it counts thickness and width.
    pub fn is_volume(self) -> bool {
        !matches!(self, Per::Metre | Per::Foot)
    }

    /// How much of it a length has, as a fraction. The sides count only for a volume.
    fn amount(self, length: Length, [thickness, width]: [Length; 2]) -> (i128, i128) {
        let of = |length: Length| i128::from(length.ticks());
        let (metre, inch) = (
            i128::from(Unit::Metre.ticks()),
            i128::from(Unit::Inch.ticks()),
        );
        let board_foot = 144 * inch * inch * inch;
        let thick = of(thickness).max(inch);
        match self {
            Per::Metre => (of(length), metre),
            Per::Foot => (of(length), i128::from(Unit::Foot.ticks())),
            Per::CubicMetre => (
                of(length) * of(thickness) * of(width),
                metre * metre * metre,
            ),
            Per::BoardFoot => (of(length) * thick * of(width), board_foot),
            Per::ThousandBoardFeet => (of(length) * thick * of(width), 1_000 * board_foot),
        }
    }
}

impl Price {
    /// Reads `12.40`, `4.20 per m`, `1.28/ft`, `500 per m3` or `620 per MBF`, with the job's decimal sign. `None` for any other text.
    pub fn read(text: &str, decimal: Decimal) -> Option<Price> {
        let text = lower(text.trim());
        let parted = text.split_once(" per ").or_else(|| text.split_once('/'));
        let Some((amount, unit)) = parted else {
            return Money::read(&text, decimal).map(Price::One);
        };
        let unit = unit.trim();
        let (_, per) = UNITS.iter().find(|(word, _)| *word == unit)?;
        Some(Price::Per(ten_thousandths(amount.trim(), decimal)?, *per))
    }

    /// What a length costs, rounded half up to a whole hundredth. `sides` are thickness and width; `None` where a volume lacks them.
    pub fn of(self, length: Length, sides: Option<[Length; 2]>) -> Option<Money> {
        let (amount, per) = match self {
            Price::One(money) => return Some(money),
            Price::Per(amount, per) => (i128::from(amount), per),
        };
        let sides = match per.is_volume() {
            true => sides?,
            false => [Length::ZERO; 2],
        };
        let (many, unit) = per.amount(length, sides);
        // A hundred ten-thousandths are one hundredth.
        let (value, whole) = (amount * many, unit * 100);
        let rounded = (2 * value + whole) / (2 * whole);
        Some(Money::from_minor(
            i64::try_from(rounded).unwrap_or(i64::MAX),
        ))
    }
}

fn ten_thousandths(text: &str, decimal: Decimal) -> Option<i64> {
    let (whole, part) = match text.split_once(decimal.sign()) {
        Some((_, "")) => return None,
        Some(both) => both,
        None => (text, ""),
    };
    let are_digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    if whole.is_empty() || whole.len() > 9 || part.len() > DECIMALS {
        return None;
    }
    if !are_digits(whole) || !are_digits(part) {
        return None;
    }
    format!("{whole}{part:0<DECIMALS$}").parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cost(text: &str, length: Length, sides: Option<[Length; 2]>) -> Option<i64> {
        let price = Price::read(text, Decimal::Point)?;
        price.of(length, sides).map(Money::minor)
    }

    fn metres(hundredths: i64) -> Length {
        Length::from_mm(hundredths * 10)
    }

    fn inches(inches: i64) -> Length {
        Length::from_inch_64ths(inches * 64)
    }

    fn section(thickness: i64, width: i64) -> Option<[Length; 2]> {
        Some([thickness, width].map(Length::from_mm))
    }

    /// Published: a timber merchant's worked examples (davidstimber.com.au) have 75 x 25 at 420 per cubic metre as 0.79 a metre, and a piece of
    /// 2.4 x 0.125 x 0.05 m at 420 as 6.30. Own arithmetic: 45 x 95 at 500 per cubic metre is 2.1375 a metre.
    #[test]
    fn a_cubic_metre_counts_all_three_sides() {
        assert_eq!(cost("420 per m3", metres(100), section(25, 75)), Some(79));
        assert_eq!(
            cost("420/m\u{b3}", metres(240), section(50, 125)),
            Some(630)
        );
        assert_eq!(cost("500 per m3", metres(100), section(45, 95)), Some(214));
        assert_eq!(cost("500 per m3", metres(100), None), None);
    }

    /// Published: 1 cubic metre is 423.776 board feet (tradelink-group.com; exactly 1 / (144 x 0.0254^3)), and 500 per thousand board feet is
    /// 211.89 a cubic metre exactly, 211.95 with the rounded 2.359 (carsonlakelumber.com).
    #[test]
    fn a_thousand_board_feet_are_2_36_cubic_metres() {
        let one = Some([Length::from_mm(1_000); 2]);
        assert_eq!(cost("1 per BF", metres(100), one), Some(42_378));
        assert_eq!(cost("500 per MBF", metres(100), one), Some(21_189));
        // 65 m3 of nominal timber are 27 545.4 board feet: own arithmetic from the same factor.
        assert_eq!(cost("1 per bf", metres(6_500), one), Some(2_754_544));
    }

    /// Published: 3 000 ft of 6/4 x 6 are 2 250 board feet; 500 per thousand of a 1 x 9 is 0.375 a foot; 0.90 a foot of it is 1 200 per thousand.
    /// The sizes of the last two are those that the figures give: 0.75 board feet a foot. Common tables of lumber, read in a summary.
    #[test]
    fn board_feet_of_boards() {
        let six_quarter = Some([Length::from_inch_64ths(96), inches(6)]);
        assert_eq!(
            cost("1 per BF", inches(12 * 3_000), six_quarter),
            Some(225_000)
        );
        let nine = Some([inches(1), inches(9)]);
        assert_eq!(cost("500 per MBF", inches(12 * 1_000), nine), Some(37_500));
        assert_eq!(cost("1200 per MBF", inches(12), nine), Some(90));
    }

    /// Published: W. Noyes, *Handwork in Wood* (Project Gutenberg 20846): boards under an inch are sold by their face; 14 ft of 11 in are 12 10/12 board feet, 5 ft of 9 in 3 9/12, and 23 ft of
    /// 13 in 24 11/12. At 12 a foot that is 154, 45 and 299.
    #[test]
    fn a_board_thinner_than_an_inch_counts_as_an_inch() {
        for (feet, width, whole) in [(14, 11, 154), (5, 9, 45), (23, 13, 299)] {
            let thin = Some([Length::from_inch_64ths(40), inches(width)]);
            assert_eq!(
                cost("12 per BF", inches(12 * feet), thin),
                Some(whole * 100)
            );
        }
        let real = Some([Length::from_inch_64ths(48), inches(12)]);
        assert_eq!(cost("1 per BF", inches(12), real), Some(100));
        assert_eq!(cost("1 per m3", metres(100), section(19, 1_000)), Some(2));
    }

    /// Own arithmetic: a foot is 0.3048 m.
    #[test]
    fn metres_and_feet() {
        assert_eq!(cost("4.20 per m", metres(360), None), Some(1_512));
        assert_eq!(cost("4.20/m", inches(12), None), Some(128));
        assert_eq!(cost("1.28 per ft", metres(360), None), Some(1_512));
        // Half a hundredth goes up: 0.375 a foot.
        assert_eq!(cost("0.375 per foot", inches(12), None), Some(38));
        assert_eq!(cost("0.3749 per ft", inches(12), None), Some(37));
    }

    #[test]
    fn other_texts_are_no_prices() {
        assert_eq!(
            Price::read("12,40", Decimal::Comma),
            Some(Price::One(Money::from_minor(1_240)))
        );
        for wrong in [
            "",
            "per m",
            "4 per yard",
            "4. per m",
            ".4 per m",
            "4.12345 per m",
            "4 per",
            "4,2 per m",
            "\u{a3}4 per m",
            "-4 per m",
            "1234567890 per m",
            "5.123",
        ] {
            assert_eq!(Price::read(wrong, Decimal::Point), None, "{wrong}");
        }
    }
}
