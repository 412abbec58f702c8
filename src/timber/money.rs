//! Money: whole minor units (pence, cents), two decimals when printed.

use crate::length::Decimal;
use std::iter::Sum;
use std::ops::{Add, AddAssign};

/// An amount of money in minor units, a hundred to the major unit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Money(i64);

impl Money {
    /// Zero.
    pub const ZERO: Money = Money(0);

    /// So many minor units.
    pub const fn from_minor(minor: i64) -> Money {
        Money(minor)
    }

    /// The number of minor units.
    pub const fn minor(self) -> i64 {
        self.0
    }

    /// This many times the amount; `None` on overflow.
    pub fn times(self, count: i64) -> Option<Money> {
        self.0.checked_mul(count).map(Money)
    }

    /// Reads `5`, `5.4` or `5.40`, with the job's decimal sign. `None` for any other text, as one with a currency sign, a thousands
    /// separator, three decimals or a minus.
    pub fn read(text: &str, decimal: Decimal) -> Option<Money> {
        let text = text.trim();
        let (whole, cents) = match text.split_once(decimal.sign()) {
            None => (text, "00".to_owned()),
            Some((whole, cents)) if cents.len() == 1 => (whole, format!("{cents}0")),
            Some((whole, cents)) if cents.len() == 2 => (whole, cents.to_owned()),
            Some(_) => return None,
        };
        let digits = |text: &str| {
            !text.is_empty() && text.len() <= 10 && text.bytes().all(|byte| byte.is_ascii_digit())
        };
        if !digits(whole) || !digits(&cents) {
            return None;
        }
        let (whole, cents): (i64, i64) = (whole.parse().ok()?, cents.parse().ok()?);
        Some(Money(whole * 100 + cents))
    }

    /// Prints the amount with two decimals.
    pub fn show(self, decimal: Decimal) -> String {
        let sign = if self.0 < 0 { "\u{2212}" } else { "" };
        let minor = self.0.unsigned_abs();
        format!("{sign}{}{}{:02}", minor / 100, decimal.sign(), minor % 100)
    }
}

impl Add for Money {
    type Output = Money;
    fn add(self, other: Money) -> Money {
        Money(self.0 + other.0)
    }
}

impl AddAssign for Money {
    fn add_assign(&mut self, other: Money) {
        self.0 += other.0;
    }
}

impl Sum for Money {
    fn sum<I: Iterator<Item = Money>>(amounts: I) -> Money {
        Money(amounts.map(|amount| amount.0).sum())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn money_reads_back_what_it_prints() {
        for minor in [0, 5, 40, 540, 123_456] {
            let text = Money(minor).show(Decimal::Point);
            assert_eq!(
                Money::read(&text, Decimal::Point),
                Some(Money(minor)),
                "{text}"
            );
        }
        assert_eq!(Money::read("5,4", Decimal::Comma), Some(Money(540)));
        for wrong in ["", "5.123", "-5", "1,200", "£5", ".5", "5."] {
            assert_eq!(Money::read(wrong, Decimal::Point), None, "{wrong}");
        }
    }
}
