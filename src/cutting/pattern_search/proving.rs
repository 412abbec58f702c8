//! What integer prices prove of a node of the search.
//!
//! **Idea** (Neumaier and Shcherbina 2004, in integers). Prices are rounded to integers, each row is charged at the end of its range that its price's
//! sign asks for, and a pattern whose exact reduced cost comes out below zero is charged as often as it may be cut.
//!
//! **Invariant.** The bound holds for any prices. **Why it ends:** one pass over rows and columns.

use crate::arithmetic::ceiling;
use crate::branch_path::BranchSide;
use crate::limits::{FINE_PRICE_UNITS, PRICE_UNITS, SEARCH_PRICE};
use crate::pattern_search::program::{SearchColumn, SearchProgram};
use proof::certificate::{Twig, TwigLeaf};

impl SearchProgram<'_, '_> {
    /// The linear program's prices as integers, one for each row, and how many price units are one unit of cost; with so many price units in the
    /// largest cost.
    fn integer_prices(&self, units: i64) -> (i64, Vec<i64>) {
        let scale = ((units as f64 / self.largest as f64) as i64).max(1);
        let unit = scale as f64 * self.largest as f64;
        let prices = self.simplex.prices().iter().zip(&self.rows);
        let prices = prices
            .map(|(price, row)| {
                let price = price * unit / row.scale as f64;
                let price = price.clamp(-SEARCH_PRICE, SEARCH_PRICE);
                // A unit less for a part loses a unit. For an earlier level it would be charged for every tick, and a price of zero that the
                // program has as a little less would undo the bound.
                let is_earlier = row.scale > 1;
                let price = if is_earlier {
                    price.round()
                } else {
                    price.floor()
                } as i64;
                if price < 0 && row.upper.is_none() {
                    0
                } else {
                    price
                }
            })
            .collect();
        (scale, prices)
    }

    /// The prices that prove most, how many of their units are one unit of cost, and the bound. Finer units are tried where coarse ones prove less
    /// than is asked: a price of an earlier level is charged for every tick of it, so that rounding it may lose thousands of them.
    pub(crate) fn proves(&self, asked: impl Fn(i64) -> bool) -> (i64, Vec<i64>, i64) {
        let rounded = |units| {
            let (scale, prices) = self.integer_prices(units);
            let bound = self.bound(scale, &prices);
            (scale, prices, bound)
        };
        let coarse = rounded(PRICE_UNITS);
        if asked(coarse.2) {
            return coarse;
        }
        let fine = rounded(FINE_PRICE_UNITS);
        if fine.2 > coarse.2 { fine } else { coarse }
    }

    /// These prices as a certificate tells them. A price that has the wrong sign for what it charges shows nothing and is left out.
    pub(crate) fn leaf(&self, scale: i64, prices: &[i64]) -> Twig {
        let charge = |row: usize| (-prices[row]).max(0);
        let first_decision = self.first_earlier + self.given.earlier.len();
        let parts = prices[..self.given.demand.len()].iter();
        let boards = self.supply_row.iter();
        let decisions = self.given.path.iter().zip(first_decision..);
        Twig::Leaf(TwigLeaf {
            scale,
            parts: parts.map(|price| (*price).max(0)).collect(),
            boards: boards.map(|row| row.map_or(0, charge)).collect(),
            earlier: (self.first_earlier..first_decision).map(charge).collect(),
            splits: decisions
                .map(|(decision, row)| match decision.side {
                    BranchSide::AtMost(_) => charge(row),
                    BranchSide::AtLeast(_) => prices[row].max(0),
                })
                .enumerate()
                .filter(|(_, price)| *price > 0)
                .collect(),
        })
    }

    /// What integer prices prove of what is still to be cut: what they add up to in the certificate and no more, even where that is below zero.
    pub(crate) fn bound(&self, scale: i64, prices: &[i64]) -> i64 {
        let mut total: i128 = 0;
        for (&price, row) in prices.iter().zip(&self.rows) {
            let end = if price > 0 {
                row.lower.max(0)
            } else {
                row.upper.unwrap_or(0)
            };
            total += i128::from(price) * i128::from(end);
        }
        for column in &self.columns {
            let reduced = reduced(scale, prices, column);
            if reduced < 0 {
                total += reduced * i128::from(column.upper.max(0));
            }
        }
        let bound = ceiling(total, i128::from(scale));
        i64::try_from(bound).unwrap_or(i64::MIN)
    }
}

/// What a pattern costs less what it is worth, in price units. Most sums fit 64 bits, which takes a third of the time.
fn reduced(scale: i64, prices: &[i64], column: &SearchColumn) -> i128 {
    let mut short = scale.checked_mul(column.cost);
    for &(row, entry) in &column.entries {
        let worth = prices[row].checked_mul(entry);
        short = short
            .zip(worth)
            .and_then(|(sum, worth)| sum.checked_sub(worth));
    }
    short.map_or_else(
        || {
            let entries = column.entries.iter();
            let worth: i128 = entries
                .map(|&(row, entry)| i128::from(prices[row]) * i128::from(entry))
                .sum();
            i128::from(scale) * i128::from(column.cost) - worth
        },
        i128::from,
    )
}
