//! Splits on pairs of parts: the listed cuttings that hold both of a pair, and what such splits come to at the prices of a leaf.

use super::alike::Cutting;
use crate::figures::side::Side;
use crate::steps::{Steps, TooLarge};
use order::Map;
use std::rc::Rc;

/// The listed cuttings that hold both of each pair that was asked for by now.
#[derive(Default)]
pub(super) struct Together {
    /// By their classes, the lesser first.
    known: Map<(usize, usize), Rc<[usize]>>,
}

impl Together {
    /// The listed cuttings that hold both of two classes of parts, or two of the one. What is of no class is on no board.
    pub(super) fn holders(
        &mut self,
        classes: [Option<usize>; 2],
        cuttings: &[Cutting],
        steps: &mut Steps,
    ) -> Result<Rc<[usize]>, TooLarge> {
        let [Some(one), Some(other)] = classes else {
            return Ok(Rc::default());
        };
        let pair = (one.min(other), one.max(other));
        if let Some(known) = self.known.get(&pair) {
            return Ok(known.clone());
        }
        let each = cuttings.iter().map(|cutting| 1 + cutting.counts.len());
        steps.take(cuttings.len() as u64)?;
        steps.take(each.sum::<usize>() as u64)?;
        let holds = |cutting: &Cutting| {
            let of = |class| {
                let mut counts = cutting.counts.iter();
                let own = counts.find(|(known, _)| *known == class);
                own.map_or(0, |(_, count)| *count)
            };
            match one == other {
                true => of(one) >= 2,
                false => of(one) >= 1 && of(other) >= 1,
            }
        };
        let holders = (0..cuttings.len()).filter(|at| holds(&cuttings[*at]));
        let holders: Rc<[usize]> = holders.collect();
        self.known.insert(pair, holders.clone());
        Ok(holders)
    }
}

/// What splits on pairs come to at the prices of a leaf.
pub(super) struct PairSums {
    /// What they add to all.
    pub(super) sum: i128,
    /// What they charge for one use of each cutting.
    pub(super) charges: Vec<i128>,
}

impl PairSums {
    pub(super) fn new(cuttings: usize) -> PairSums {
        PairSums {
            sum: 0,
            charges: vec![0; cuttings],
        }
    }

    /// Adds a split on how many boards hold a pair: at most `at`, or more. False where more are fixed than that.
    pub(super) fn add(
        &mut self,
        (side, at): (Side, i64),
        price: i64,
        holders: &[usize],
        cuttings: &[Cutting],
    ) -> bool {
        let price = i128::from(price);
        let given = holders.iter().map(|&index| i128::from(cuttings[index].low));
        let left = i128::from(at) - given.sum::<i128>();
        let charge = match side {
            Side::Fewer => {
                self.sum -= price * left;
                price
            }
            Side::More => {
                self.sum += price * (left + 1).max(0);
                -price
            }
        };
        if price > 0 {
            for &index in holders {
                self.charges[index] += charge;
            }
        }
        side == Side::More || left >= 0
    }
}
