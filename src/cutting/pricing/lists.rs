//! Partial patterns in lists: what lengths of a run can be filled, and the most each can be worth.
//!
//! **Idea** (the knapsack of Gilmore and Gomory 1966 in its sparse form, by lists as Nemhauser and Ullmann 1969). Lists of partial patterns are
//! grown part by part, best value per length first. Copies of one part are added one by one, each to those that the copy before made; they join
//! the list together at the end. What is dominated ([`crate::pricing::dominance`]) or can no longer exceed a threshold
//! ([`crate::pricing::completion`]) is dropped. Where lengths have a common step that is not too fine, a table takes over before a list gets
//! long ([`crate::pricing::table`]).
//!
//! **Invariant.** After each part, for every fill made of the parts so far that some completion brings above a threshold, its state's list holds one
//! that takes no more length and is worth no less. **Why it ends:** parts and their copies are counted.

use crate::clock::{Clock, Stopped};
use crate::limits::{DENSITY_BITS, LIST, LISTS};
use crate::pricing::completion::CompletionBound;
use crate::pricing::dominance::{merge_nondominated, thin_if_long};
use crate::pricing::partial_pattern::{FilledRun, PartialPattern, PricingProblem, Thresholds};
use crate::pricing::table::{KnapsackTable, common_step};
use crate::pricing::traceback::Traceback;
use crate::run_states::{Item, RunStates};

/// All fills of a section that may pass some threshold, and the empty one; ascending by need.
pub(crate) fn grow(
    states: &RunStates,
    pricing: &PricingProblem,
    thresholds: Thresholds,
    traceback: &mut Traceback,
    clock: &mut Clock,
) -> Result<Vec<FilledRun>, Stopped> {
    let items = by_density(states, pricing);
    let step = common_step(items.iter().map(|(item, _)| item.least));
    let mut completion = CompletionBound::new(thresholds, pricing.tick_cost);
    let longest = completion.longest();
    let mut lists: Vec<Vec<PartialPattern>> = vec![Vec::new(); states.states];
    lists[0].push(PartialPattern {
        length: 0,
        value: 0,
        link: 0,
    });
    let mut spare = Vec::new();
    let mut table: Option<KnapsackTable> = None;
    let longest_list = LIST.min(LISTS / states.states).max(2);
    let copies_of =
        |item: &Item| i64::from(pricing.most[item.part]).min(longest / item.least.max(1));
    let mut bundles: usize = items
        .iter()
        .map(|(item, _)| KnapsackTable::bundles(copies_of(item)))
        .sum();
    for (item, density) in items {
        let copies = copies_of(&item);
        bundles -= KnapsackTable::bundles(copies);
        if let Some(table) = &mut table {
            let price = pricing.prices[item.part];
            table.add(item.part, (item.least, price), copies, clock)?;
            continue;
        }
        completion.lower(density);
        for list in &mut lists {
            completion.clear(list);
        }
        let mut fresh = lists.clone();
        let mut added: Vec<Vec<PartialPattern>> = vec![Vec::new(); states.states];
        for _ in 0..copies {
            let grown = one_more(
                states,
                &item,
                (pricing, &completion),
                &fresh,
                (traceback, clock),
            )?;
            if grown.iter().all(Vec::is_empty) {
                break;
            }
            for (added, grown) in added.iter_mut().zip(&grown) {
                merge_nondominated(added, grown, &mut spare);
                thin_if_long(added, longest_list, traceback);
            }
            fresh = grown;
            clock.go_on()?;
        }
        for (list, added) in lists.iter_mut().zip(&added) {
            merge_nondominated(list, added, &mut spare);
            thin_if_long(list, longest_list, traceback);
        }
        // On a section of one state parts are laid by adding fixed lengths, as a table does.
        if states.states == 1 {
            table = KnapsackTable::instead_of(&lists[0], step, longest, (bundles, traceback));
        }
    }
    if let Some(table) = table {
        lists[0] = table.into_list(traceback);
        completion.lower(0);
        completion.clear(&mut lists[0]);
    }
    Ok(resolved(states, pricing, &lists))
}

/// The parts worth anything, best value per length first, each with that value (times two to the [`DENSITY_BITS`], rounded up).
fn by_density(states: &RunStates, pricing: &PricingProblem) -> Vec<(Item, i64)> {
    let worth = |item: &Item| i128::from(pricing.prices[item.part]);
    let mut items: Vec<Item> = states
        .items
        .iter()
        .copied()
        .filter(|item| pricing.prices[item.part] > 0 && pricing.most[item.part] > 0)
        .collect();
    order::sort_by(&mut items, |left, right| {
        let (a, b) = (
            worth(left) * i128::from(right.least),
            worth(right) * i128::from(left.least),
        );
        b.cmp(&a).then(left.part.cmp(&right.part))
    });
    items
        .into_iter()
        .map(|item| {
            let density = (worth(&item) << DENSITY_BITS) / i128::from(item.least.max(1)) + 1;
            (item, i64::try_from(density).unwrap_or(i64::MAX))
        })
        .collect()
}

/// The fills with one more of `item` that can still pass a threshold.
fn one_more(
    states: &RunStates,
    item: &Item,
    (pricing, completion): (&PricingProblem, &CompletionBound),
    fresh: &[Vec<PartialPattern>],
    (traceback, clock): (&mut Traceback, &mut Clock),
) -> Result<Vec<Vec<PartialPattern>>, Stopped> {
    let longest = completion.longest();
    let price = pricing.prices[item.part];
    clock.worked(states.states / 4)?;
    let mut grown: Vec<Vec<PartialPattern>> = vec![Vec::new(); states.states];
    let mut spare = Vec::new();
    for (state, fills) in fresh
        .iter()
        .enumerate()
        .filter(|(_, fills)| !fills.is_empty())
    {
        let (amount, next) = states.add(item, state);
        let mut scan = completion.scan();
        let mut made = Vec::with_capacity(fills.len());
        for fill in fills {
            let (length, value) = (fill.length + amount, fill.value + price);
            if length > longest {
                break;
            }
            if scan.passes(length, value) {
                let link = traceback.add(fill.link, item.part);
                made.push(PartialPattern {
                    length,
                    value,
                    link,
                });
            }
        }
        merge_nondominated(&mut grown[next], &made, &mut spare);
        clock.worked(fills.len())?;
    }
    Ok(grown)
}

/// What the fills of all states need; where only values count, none that needs more and is worth no more than another.
fn resolved(
    states: &RunStates,
    pricing: &PricingProblem,
    lists: &[Vec<PartialPattern>],
) -> Vec<FilledRun> {
    let mut laid = vec![FilledRun {
        need: states.need(0, 0),
        value: 0,
        link: 0,
    }];
    for (state, list) in lists.iter().enumerate() {
        let fills = list.iter().filter(|fill| fill.length > 0);
        laid.extend(fills.map(|fill| FilledRun {
            need: states.need(fill.length, state),
            value: fill.value,
            link: fill.link,
        }));
    }
    order::sort_by_key(&mut laid, |fill| (fill.need.length, -fill.value));
    if pricing.tick_cost == 0 {
        let mut best = -1;
        laid.retain(|fill| {
            let better = fill.value > best;
            best = best.max(fill.value);
            better
        });
    }
    laid
}
