//! Whether a few lengths more make delivery free and the bill smaller.
//!
//! **Method.** Which sums can be made of the yard's prices, each taken at most as often as there are, is found exactly (a bounded knapsack over hundredths,
//! line by line). The least of them that reaches the sum from which delivery is free is the least that can be added.

use super::{bills, total_of};
use crate::check::CheckedGroup;
use crate::job::{Aim, Job};
use crate::money::Money;
use crate::plan::Measure;

/// Most sums looked at times lines. Beyond it nothing is offered.
const MOST: usize = 50_000_000;
/// Most sums that are remembered, of 8 bytes each. Beyond it, an order of over 100 000.00, nothing is offered either.
const MOST_SUMS: usize = 10_000_000;

/// Lengths to add so that delivery is free.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TopUp {
    /// Lines of the yard with how many packs, or lengths, to add of each.
    pub lines: Vec<(usize, u64)>,
    /// What they cost.
    pub cost: Money,
    /// How much less is paid in all.
    pub saves: Money,
    /// Whether no order costs less.
    pub is_proven: bool,
}

/// What may be added at each yard of a plan that buys so many lengths of each line.
pub fn top_ups(job: &Job, bought: &[(usize, u64)], groups: &[CheckedGroup]) -> Vec<TopUp> {
    let bills = bills(job, bought).unwrap_or_default();
    let offers = bills.iter().filter_map(|bill| {
        let terms = &job.yards[bill.yard];
        let order = bill.lengths + bill.fees;
        let free = terms.free_from.filter(|free| *free > order)?;
        let left = sold(job, bill.yard, bought);
        let (cost, lines) = least_over(&left, (free.minor() - order.minor()) as usize)?;
        let cost = Money::from_minor(cost as i64);
        let saves = total_of(terms, order).minor() - total_of(terms, order + cost).minor();
        let is_proven = is_least(job, bill.yard, order, groups)
            && least_order(job, bill.yard, free) == Some(order + cost);
        (saves > 0).then_some(TopUp {
            lines,
            cost,
            saves: Money::from_minor(saves),
            is_proven,
        })
    });
    offers.collect()
}

/// The least order of any lengths of a yard that comes to so much or more; `None` where there is none, or it would take too long to find.
pub fn least_order(job: &Job, yard: usize, sum: Money) -> Option<Money> {
    let sum = usize::try_from(sum.minor()).ok()?;
    let (least, _) = least_over(&sold(job, yard, &[]), sum)?;
    i64::try_from(least).ok().map(Money::from_minor)
}

/// Whether the checker has shown that no order comes to less than this one, and all of it is bought at one yard.
fn is_least(job: &Job, yard: usize, order: Money, groups: &[CheckedGroup]) -> bool {
    let levels = groups.iter().flat_map(|group| group.levels.first());
    let money = levels.filter(|level| level.measure == Measure::Money && level.is_shown());
    let least: i64 = money.filter_map(|level| level.bound).sum();
    let mut lines = job.yard.iter();
    job.aim == Aim::Cheapest
        && least == order.minor()
        && lines.all(|line| line.elsewhere || line.at == yard)
}

/// What a line costs by the pack, and how many packs there are.
struct Sold {
    line: usize,
    price: usize,
    packs: usize,
}

/// The lines of a yard with what is left of each once so much is bought.
fn sold(job: &Job, yard: usize, bought: &[(usize, u64)]) -> Vec<Sold> {
    let lines = job.yard.iter().enumerate();
    let here = lines.filter(|(_, sold)| sold.at == yard && !sold.elsewhere);
    let sold = here.filter_map(|(line, sold)| {
        let taken = bought.iter().find(|(other, _)| *other == line);
        let taken = taken.map_or(0, |(_, lengths)| sold.packs(*lengths));
        let packs = sold.count.map_or(u64::MAX, u64::from).saturating_sub(taken);
        let price = job.paid(line, sold.pack.into())?.minor();
        Some(Sold {
            line,
            price: usize::try_from(price).ok().filter(|price| *price > 0)?,
            packs: usize::try_from(packs).unwrap_or(usize::MAX),
        })
    });
    sold.collect()
}

/// The least sum of prices that is `need` or more, and how many of each line make it. `None` where there is none, or it would take too long.
fn least_over(sold: &[Sold], need: usize) -> Option<(usize, Vec<(usize, u64)>)> {
    let dearest = sold.iter().map(|one| one.price).max()?;
    let sums = need.checked_add(dearest)?;
    if sums > MOST_SUMS || sums.checked_mul(sold.len())? > MOST {
        return None;
    }
    // The line that was added last to make each sum, and how many of it there are in it.
    let mut last: Vec<u32> = vec![u32::MAX; sums];
    let mut times: Vec<u32> = vec![0; sums];
    let none = sold.len() as u32;
    last[0] = none;
    for (at, one) in (0..).zip(sold) {
        for sum in 0..need {
            let used = if last[sum] == at { times[sum] } else { 0 };
            let next = sum + one.price;
            if last[sum] != u32::MAX && last[next] == u32::MAX && (used as usize) < one.packs {
                (last[next], times[next]) = (at, used + 1);
            }
        }
    }
    let sum = (need..sums).find(|&sum| last[sum] != u32::MAX)?;
    let (mut left, mut counts) = (sum, vec![0; sold.len()]);
    while left > 0 {
        let at = last[left] as usize;
        counts[at] += 1;
        left -= sold[at].price;
    }
    let lines = sold
        .iter()
        .zip(counts)
        .map(|(one, count)| (one.line, count));
    Some((sum, lines.filter(|(_, count)| *count > 0).collect()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sold(prices: &[(usize, usize)]) -> Vec<Sold> {
        let lines = prices.iter().enumerate();
        lines
            .map(|(line, &(price, packs))| Sold { line, price, packs })
            .collect()
    }

    /// Every number of each of three lines is tried.
    #[test]
    fn the_least_sum_is_that_of_all_choices() {
        for seed in 0..400usize {
            let at = |n: usize| (seed * 7_919 + n * 104_729) % 97;
            let lines = [
                (1 + at(1) % 23, at(2) % 4),
                (1 + at(3) % 31, at(4) % 5),
                (1 + at(5) % 41, at(6) % 3),
            ];
            let need = at(7) + 1;
            let mut best: Option<usize> = None;
            for one in 0..=lines[0].1 {
                for two in 0..=lines[1].1 {
                    for three in 0..=lines[2].1 {
                        let sum = one * lines[0].0 + two * lines[1].0 + three * lines[2].0;
                        if sum >= need && best.is_none_or(|best| sum < best) {
                            best = Some(sum);
                        }
                    }
                }
            }
            let found = least_over(&sold(&lines), need);
            assert_eq!(
                found.as_ref().map(|found| found.0),
                best,
                "{lines:?} {need}"
            );
            if let Some((sum, counts)) = found {
                let made = counts
                    .iter()
                    .map(|&(line, count)| lines[line].0 * count as usize);
                assert_eq!(made.sum::<usize>(), sum);
                assert!(
                    counts
                        .iter()
                        .all(|&(line, count)| count as usize <= lines[line].1)
                );
            }
        }
    }
}
