//! At which yards to buy: what the piece costs at each, and at several together.
//!
//! There are at most three yards, so every choice among them is planned like any changed job, by the piece's own aim, and its bill worked out: delivery,
//! tax and the way there. A choice of which the plan leaves a yard out is the smaller choice, and is not told.
//!
//! **What is proven.** The checker shows the least sum of an order. No bill of so much or more is below the bill of just that sum, or below that of the
//! least orders of the yards' lengths that have their delivery free, at any of the yards. Where a choice costs no more than that, no order there costs less.

use crate::bill;
use crate::check::{CheckedGroup, CheckedPlan, Effort, check_group};
use crate::group::groups;
use crate::job::{Aim, Allowed, Job, Section, Terms, YardLength};
use crate::money::Money;
use crate::patience::{Clock, Limits};
use crate::plan::{Measure, Plan};
use crate::savings::Asked;
use crate::trials::Trials;
use timber::edit::Edit;
use timber::fault::Place;

/// How much work the check of the plan of one choice may be.
const CHECK: Effort = Effort(60_000_000);

/// What the piece costs at certain yards.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Order {
    /// The yards, ascending; anything is bought at each.
    pub yards: Vec<usize>,
    /// What is paid there, and on the way there.
    pub total: Money,
    /// The same with what may be added so that delivery is free, where that is less.
    pub topped: Money,
    /// No order at all these yards costs less; shown by the checker.
    pub bound: Money,
    /// Whether it is what is planned today.
    pub is_planned: bool,
}

impl Order {
    /// Whether no order at these yards costs less.
    pub fn is_proven(&self) -> bool {
        self.topped <= self.bound
    }

    /// What chooses it.
    pub fn edit(&self, job: &Job) -> Edit {
        Edit {
            place: Place::job("buy_at"),
            text: named(job, &self.yards, "; "),
        }
    }
}

fn named(job: &Job, yards: &[usize], between: &str) -> String {
    let names: Vec<&str> = yards
        .iter()
        .map(|&yard| job.yards[yard].name.as_str())
        .collect();
    names.join(between)
}

/// The choices among the yards of a job with this plan that can supply it, cheapest first. None where there are no two yards, a price is missing, or time
/// is up.
pub fn compare(asked: Asked, checked: &CheckedPlan, limits: Limits, clock: &Clock) -> Vec<Order> {
    let job = asked.job;
    let mut found = Vec::new();
    if job.yards.len() < 2 {
        return found;
    }
    let bills = bill::bills(job, &bill::bought(job, checked.plan())).unwrap_or_default();
    let today: Vec<usize> = bills.iter().map(|bill| bill.yard).collect();
    let sells = |yard: usize| {
        let mut lines = job.yard.iter();
        lines.any(|line| line.at == yard && !line.elsewhere)
    };
    let here: Vec<usize> = (0..job.yards.len()).filter(|&yard| sells(yard)).collect();
    let mut trials = Trials::new(asked.draft, limits, clock);
    for choice in 1..1usize << job.yards.len() {
        let yards: Vec<usize> = (0..job.yards.len())
            .filter(|yard| choice >> yard & 1 == 1)
            .collect();
        let mut order = Order {
            yards,
            total: Money::ZERO,
            topped: Money::ZERO,
            bound: Money::ZERO,
            is_planned: false,
        };
        order.is_planned = today == order.yards;
        let told = match order.is_planned {
            true => cost(job, &order.yards, checked.plan(), checked.groups()),
            // Today's plan is chosen among these, and leaves some of them out.
            false if here == order.yards => None,
            false => planned(&mut trials, &order.edit(job), &order.yards),
        };
        if let Some(costs) = told {
            [order.total, order.topped, order.bound] = costs;
            found.push(order);
        }
    }
    order::sort_by_key(&mut found, |order| (order.topped, order.yards.len()));
    found
}

/// The costs of a changed job's plan.
fn planned(trials: &mut Trials, edit: &Edit, yards: &[usize]) -> Option<[Money; 3]> {
    let job = trials.changed(std::slice::from_ref(edit))?;
    let mut all = Plan::default();
    let mut checked = Vec::new();
    for group in groups(&job) {
        let plan = trials.plan(&job, &group)?;
        let group = check_group(&job, &group.sections, plan, CHECK).ok()?;
        all.boards.extend(group.plan().boards.iter().cloned());
        checked.extend(group.groups().iter().cloned());
    }
    cost(&job, yards, &all, &checked)
}

/// The total of a plan that buys at all these yards, also with what may be added to it, and the least that such a plan may come to.
fn cost(job: &Job, yards: &[usize], plan: &Plan, groups: &[CheckedGroup]) -> Option<[Money; 3]> {
    let bought = bill::bought(job, plan);
    let bills = bill::bills(job, &bought)?;
    if !bills.iter().map(|bill| bill.yard).eq(yards.iter().copied()) {
        return None;
    }
    let added = bill::top_ups(job, &bought, groups);
    let saves: Money = added.iter().map(|added| added.saves).sum();
    let total = bill::in_all(&bills);
    let topped = Money::from_minor(total.minor() - saves.minor());
    Some([total, topped, least_bill(job, yards, least_sum(groups)?)])
}

/// The least that lengths and cuts may come to, as the checker has shown; `None` where money is not counted.
fn least_sum(groups: &[CheckedGroup]) -> Option<Money> {
    let mut least = 0;
    for group in groups {
        let mut levels = group.levels.iter();
        let money = levels.find(|level| level.measure == Measure::Money)?;
        least += money.bound.filter(|_| money.is_shown()).unwrap_or(0);
    }
    Some(Money::from_minor(least))
}

/// The least bill of orders that come to this sum or more, at each of these yards.
fn least_bill(job: &Job, yards: &[usize], sum: Money) -> Money {
    if let &[only] = yards {
        let terms = &job.yards[only];
        let free = terms.free_from.unwrap_or(sum).max(sum);
        let free = bill::least_order(job, only, free).unwrap_or(free);
        return bill::total_of(terms, sum).min(bill::total_of(terms, free));
    }
    let terms: Vec<&Terms> = yards.iter().map(|&yard| &job.yards[yard]).collect();
    // Each yard delivers free or not. Where it does its order is that much, and anywhere some length is bought.
    let states = (0..1usize << yards.len()).filter_map(|state| {
        let (mut least, mut deliveries) = (Money::ZERO, Money::ZERO);
        for (at, (&yard, terms)) in yards.iter().zip(&terms).enumerate() {
            let from = match state >> at & 1 {
                0 => {
                    deliveries += terms.delivery;
                    let costs_nothing =
                        |line: &YardLength| line.at == yard && line.price == Some(Money::ZERO);
                    Money::from_minor(i64::from(!job.yard.iter().any(costs_nothing)))
                }
                _ => terms.free_from?,
            };
            least += bill::least_order(job, yard, from).unwrap_or(from);
        }
        Some(sum.max(least) + deliveries)
    });
    let sum = states.min().unwrap_or(sum);
    // Tax on top is the same everywhere, and each yard rounds by less than one hundredth.
    let on_top = terms
        .iter()
        .filter(|terms| terms.on_top)
        .map(|terms| terms.tax);
    let tax = i128::from(sum.minor()) * i128::from(on_top.min().unwrap_or(0)) / 10_000;
    let rounded = terms.len() as i64 - 2;
    let tax = i64::try_from(tax)
        .unwrap_or(0)
        .saturating_sub(rounded)
        .max(0);
    sum + Money::from_minor(tax) + terms.iter().map(|terms| terms.trip).sum::<Money>()
}

/// A choice in words: where, and what it costs there.
pub fn text(job: &Job, order: &Order) -> (String, String, String) {
    let money = |money: Money| money.show(job.decimal());
    let planned = if order.is_planned { ", as planned" } else { "" };
    let added = match order.topped < order.total {
        true => format!(
            "{} with lengths added for free delivery, ",
            money(order.topped)
        ),
        false => String::new(),
    };
    // Money is least among the orders that the aim puts first.
    let is_allowed = |section: &Section| section.allowed != Allowed::default();
    let among = match job.aim {
        _ if job.sections.iter().any(is_allowed) => " within what may be bought",
        Aim::Cheapest => "",
        Aim::Fewest | Aim::Offcuts => " of as few lengths",
        Aim::Shortest => " of as little timber",
        Aim::Scrap => " of as little scrap and as few lengths",
    };
    let least = match order.is_proven() {
        true => format!("{added}proven: no order there{among} costs less"),
        false if order.bound > Money::ZERO => {
            let bound = money(order.bound);
            format!(
                "{added}less may do, but no order there{among} costs less than {bound} (proven)"
            )
        }
        false => format!("{added}less may do"),
    };
    let name = format!("{}{planned}", named(job, &order.yards, " and "));
    (name, money(order.total), least)
}

/// All choices as plain text; empty where there are none.
pub fn told(job: &Job, orders: &[Order]) -> String {
    if orders.is_empty() {
        return String::new();
    }
    let mut out = String::from("\nWhere to buy\n");
    for order in orders {
        let (name, total, least) = text(job, order);
        out.push_str(&format!("  {name}: {total} ({least})\n"));
    }
    out
}
