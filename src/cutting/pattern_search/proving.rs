//! What integer prices prove of a node of the search.
//!
//! **Idea** (Neumaier and Shcherbina 2004, in integers). Prices are rounded to integers, each row is charged at the end of its range that its price's
//! sign asks for, and a pattern whose exact reduced cost comes out below zero is charged as often as it may be cut.
//!
//! **Invariant.** The bound holds for any prices. **Why it ends:** one pass over rows and columns.

use crate::arithmetic::ceiling;
use crate::branch_path::BranchSide;
use crate::limits::{COARSE_PRICE_UNITS, FINE_PRICE_UNITS, PRICE_UNITS, SEARCH_PRICE};
use crate::pattern_search::pairs::PairSplit;
use crate::pattern_search::program::{SearchColumn, SearchProgram};
use proof::certificate::{Twig, TwigLeaf};

impl SearchProgram<'_, '_> {
    /// How many price units are one unit of cost, where there are so many in the largest cost.
    fn scale(&self, units: i64) -> i64 {
        ((units as f64 / self.largest as f64) as i64).max(1)
    }

    /// The linear program's prices as integers, one for each row, with so many price units in one unit of cost.
    fn at_scale(&self, scale: i64) -> Vec<i64> {
        let unit = scale as f64 * self.largest as f64;
        let prices = self.simplex.prices().iter().zip(&self.rows);
        prices
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
            .collect()
    }

    /// The prices that prove most, how many of their units are one unit of cost, and the bound. Finer units are tried where coarse ones prove less
    /// than is asked: a price of an earlier level is charged for every tick of it, so that rounding it may lose thousands of them.
    pub(crate) fn proves(&self, asked: impl Fn(i64) -> bool) -> (i64, Vec<i64>, i64) {
        let rounded = |units| {
            let scale = self.scale(units);
            let prices = self.at_scale(scale);
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

    /// The shortest prices that prove what is asked, coarse units before fine ones; `None` where none of the coarse ones do.
    pub(crate) fn short_prices(&self, asked: impl Fn(i64) -> bool) -> Option<(i64, Vec<i64>)> {
        let mut scales = COARSE_PRICE_UNITS.map(|units| self.scale(units)).to_vec();
        scales.dedup();
        let mut rounded = scales
            .into_iter()
            .map(|scale| (scale, self.at_scale(scale)));
        rounded.find(|(scale, prices)| asked(self.bound(*scale, prices)))
    }

    /// These prices as a certificate tells them, behind these splits. A price that has the wrong sign for what it charges shows nothing and is left out.
    pub(crate) fn leaf(&self, scale: i64, prices: &[i64], way: &[Option<PairSplit>]) -> Twig {
        let charge = |row: usize| (-prices[row]).max(0);
        let first_decision = self.first_earlier + self.given.earlier.len();
        let parts = prices[..self.given.demand.len()].iter();
        let boards = self.supply_row.iter();
        let decisions = self.given.path.iter().zip(first_decision..);
        let decisions = decisions.map(|(decision, row)| match decision.side {
            BranchSide::AtMost(_) => charge(row),
            BranchSide::AtLeast(_) => prices[row].max(0),
        });
        // Of several splits that bound a row on one side, the last is the strictest.
        let pairs = way.iter().enumerate().map(|(at, split)| {
            let Some(PairSplit { row, more, .. }) = *split else {
                return 0;
            };
            let mut later = way[at + 1..].iter().flatten();
            match later.any(|later| (later.row, later.more) == (row, more)) {
                true => 0,
                false if more => prices[row].max(0),
                false => charge(row),
            }
        });
        Twig::Leaf(TwigLeaf {
            scale,
            parts: parts.map(|price| (*price).max(0)).collect(),
            boards: boards.map(|row| row.map_or(0, charge)).collect(),
            earlier: (self.first_earlier..first_decision).map(charge).collect(),
            splits: decisions
                .chain(pairs)
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
