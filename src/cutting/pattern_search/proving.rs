//! What integer prices prove of a node of the search.
//!
//! **Idea** (Neumaier and Shcherbina 2004, in integers). Prices are rounded to integers, each row is charged at the end of its range that its price's
//! sign asks for, and a pattern whose exact reduced cost comes out below zero is charged as often as it may be cut.
//!
//! **Invariant.** The bound holds for any prices. **Why it ends:** one pass over rows and columns.

use crate::arithmetic::ceiling;
use crate::branch_path::BranchSide;
use crate::limits::{PRICE_UNITS, SEARCH_PRICE};
use crate::pattern_search::program::SearchProgram;
use proof::certificate::{Twig, TwigLeaf};

impl SearchProgram<'_, '_> {
    /// The linear program's prices as integers, one for each row, and how many price units are one unit of cost.
    pub(crate) fn integer_prices(&self) -> (i64, Vec<i64>) {
        let scale = ((PRICE_UNITS as f64 / self.largest as f64) as i64).max(1);
        let unit = scale as f64 * self.largest as f64;
        let prices = self.simplex.prices().iter().zip(&self.rows);
        let prices = prices
            .map(|(price, row)| {
                let price = price * unit / row.scale as f64;
                let price = price.clamp(-SEARCH_PRICE, SEARCH_PRICE).floor() as i64;
                if price < 0 && row.upper.is_none() {
                    0
                } else {
                    price
                }
            })
            .collect();
        (scale, prices)
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

    /// What integer prices prove of what is still to be cut.
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
            let worth: i128 = column
                .entries
                .iter()
                .map(|&(row, entry)| i128::from(prices[row]) * i128::from(entry))
                .sum();
            let reduced = i128::from(scale) * i128::from(column.cost) - worth;
            if reduced < 0 {
                total += reduced * i128::from(column.upper.max(0));
            }
        }
        let bound = ceiling(total, i128::from(scale));
        i64::try_from(bound).unwrap_or(0).max(0)
    }
}
