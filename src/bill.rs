//! What is to be paid for a plan, by the terms of the yards: lengths, cuts, delivery, tax, and the way there.

mod topped;

pub use topped::{TopUp, least_order, top_ups};

use crate::job::{Job, Terms};
use crate::money::Money;
use crate::plan::{Plan, Source};

/// What is to be paid at one yard.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bill {
    /// Index of the yard.
    pub yard: usize,
    /// What the lengths cost.
    pub lengths: Money,
    /// What the yard charges for its cuts.
    pub fees: Money,
    /// What it charges to deliver.
    pub delivery: Money,
    /// The tax that comes on top, or that is in the prices.
    pub tax: Money,
    /// All that is paid at the yard.
    pub to_pay: Money,
    /// What it costs to drive there.
    pub trip: Money,
}

impl Bill {
    /// What is paid at the yard and on the way there.
    pub fn total(&self) -> Money {
        self.to_pay + self.trip
    }

    fn of(terms: &Terms, yard: usize, [lengths, fees]: [Money; 2]) -> Bill {
        let order = lengths + fees;
        let delivery = delivery(terms, order);
        let sum = order + delivery;
        let tax = tax(terms, sum);
        Bill {
            yard,
            lengths,
            fees,
            delivery,
            tax,
            to_pay: match terms.on_top {
                true => sum + tax,
                false => sum,
            },
            trip: terms.trip,
        }
    }
}

/// What is paid for an order of this sum at a yard, the way there counted.
pub fn total_of(terms: &Terms, order: Money) -> Money {
    Bill::of(terms, 0, [order, Money::ZERO]).total()
}

/// What a yard charges to deliver an order of this sum.
pub fn delivery(terms: &Terms, order: Money) -> Money {
    match terms.free_from {
        Some(free) if order >= free => Money::ZERO,
        _ => terms.delivery,
    }
}

/// The tax on a sum, or in it where prices are with the tax in; rounded half up, once for the bill (common practice, no source).
fn tax(terms: &Terms, sum: Money) -> Money {
    let whole = 10_000;
    let of = match terms.on_top {
        true => whole,
        false => whole + i128::from(terms.tax),
    };
    let twice = 2 * i128::from(sum.minor()) * i128::from(terms.tax) + of;
    Money::from_minor(i64::try_from(twice / (2 * of)).unwrap_or(i64::MAX))
}

/// How many lengths of each line of the yard a plan buys: those that are cut, in whole packs.
pub fn bought(job: &Job, plan: &Plan) -> Vec<(usize, u64)> {
    let mut counts = vec![0; job.yard.len()];
    for board in &plan.boards {
        if let Source::Yard(line) = board.source
            && let Some(count) = counts.get_mut(line)
        {
            *count += 1;
        }
    }
    let counts = counts.into_iter().enumerate();
    let bought = counts.filter(|(_, count)| *count > 0);
    bought
        .map(|(line, count)| (line, job.yard[line].in_packs(count)))
        .collect()
}

/// The bill of each yard that anything is bought at. `None` where nothing is said of yards, or a price is missing.
pub fn bills(job: &Job, bought: &[(usize, u64)]) -> Option<Vec<Bill>> {
    if job.yards.is_empty() {
        return None;
    }
    let mut sums: Vec<Option<[Money; 2]>> = vec![None; job.yards.len()];
    for &(line, count) in bought {
        let sold = &job.yard[line];
        let lengths = sold.price?.times(sold.packs(count) as i64)?;
        let paid = job.paid(line, count)?;
        let sum = sums[sold.at].get_or_insert([Money::ZERO; 2]);
        sum[0] += lengths;
        sum[1] += Money::from_minor(paid.minor() - lengths.minor());
    }
    let terms = job.yards.iter().enumerate().zip(sums);
    let bills = terms.filter_map(|((yard, terms), sums)| Some(Bill::of(terms, yard, sums?)));
    Some(bills.collect())
}

/// What figures that add up prices alone leave out, as a sentence; empty where that is nothing.
pub fn left_out(job: &Job) -> &'static str {
    let mut terms = job.yards.iter();
    let some = |money: Money| money > Money::ZERO;
    let charges = job
        .yards
        .iter()
        .any(|terms| some(terms.delivery) || some(terms.trip));
    let taxed = terms.any(|terms| terms.on_top && !terms.put_in && terms.tax > 0);
    match (charges, taxed) {
        (true, true) => "Money is by the prices alone: the bill has delivery and tax as well.",
        (true, false) => "Money is by the prices alone: the bill has delivery as well.",
        (false, true) => "Money is by the prices alone: the bill has tax as well.",
        (false, false) => "",
    }
}

/// What figures that add up prices alone say of themselves, where the bill has more: ` by the prices`; empty where it has not.
pub fn basis(job: &Job) -> &'static str {
    match left_out(job) {
        "" => "",
        _ => " by the prices",
    }
}

/// All that is paid by these bills.
pub fn in_all(bills: &[Bill]) -> Money {
    bills.iter().map(Bill::total).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn terms(tax: i64, on_top: bool) -> Terms {
        Terms {
            tax,
            on_top,
            delivery: Money::from_minor(4_000),
            free_from: Some(Money::from_minor(20_000)),
            trip: Money::from_minor(500),
            ..Terms::default()
        }
    }

    /// Own arithmetic, in hundredths: 199.99 and 40.00 are 239.99, and a fifth of that is 47.998; at 200.00 delivery is free.
    #[test]
    fn tax_on_top_is_of_the_delivery_too_and_is_rounded_once() {
        let of = |order| {
            Bill::of(
                &terms(2_000, true),
                0,
                [Money::from_minor(order), Money::ZERO],
            )
        };
        let below = of(19_999);
        assert_eq!(
            [below.delivery, below.tax, below.to_pay, below.total()].map(Money::minor),
            [4_000, 4_800, 28_799, 29_299]
        );
        let over = of(20_000);
        assert_eq!(
            [over.delivery, over.tax, over.to_pay].map(Money::minor),
            [0, 4_000, 24_000]
        );
    }

    /// Own arithmetic: in 120.00 with a fifth on top of the net there are 20.00; in 10.03 at 7.5 percent 0.69977.
    #[test]
    fn tax_in_the_prices_is_told_and_not_added() {
        let mut with = terms(2_000, false);
        with.delivery = Money::ZERO;
        let bill = Bill::of(
            &with,
            0,
            [Money::from_minor(11_000), Money::from_minor(1_000)],
        );
        assert_eq!([bill.tax, bill.to_pay].map(Money::minor), [2_000, 12_000]);
        with.tax = 750;
        assert_eq!(tax(&with, Money::from_minor(1_003)).minor(), 70);
    }
}
