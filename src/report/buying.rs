//! What to buy, per section and length, and the totals of a plan.

use super::proof::from_shed;
use super::shed;
use super::words::{Words, counted};
use crate::bill::{self, TopUp};
use crate::check::CheckedPlan;
use crate::length::Length;
use crate::money::Money;
use crate::plan::Source;
use crate::quantities::{load, load_rows};

/// What to buy.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Buying {
    /// One row for each line of the yard that is bought from.
    pub rows: Vec<BuyingRow>,
    /// All rows added up.
    pub totals: BuyingTotals,
    /// What is to be paid, by the terms of the yards; empty where nothing is said of them.
    pub bill: Vec<Total>,
    /// What may be added so that delivery is free and less is paid.
    pub offers: Vec<String>,
    /// The order, as lines to read out to a yard.
    pub order_lines: Vec<String>,
}

/// Lengths of one kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BuyingRow {
    /// Index of the line in the job's yard. Two lines may read alike, so programs tell them apart by this alone.
    pub line: usize,
    /// The section.
    pub section: String,
    /// The length of one.
    pub length: String,
    /// How many.
    pub count: u64,
    /// What one costs, empty where no price is given.
    pub price: String,
    /// How many come in a pack.
    pub pack: u32,
    /// What else is to be said of it, else empty: the yard where there are several, packs, the price as typed where it is per unit.
    pub told: String,
    /// What all cost.
    pub cost: String,
    /// Their lengths added up.
    pub total_length: String,
    /// Where the yard cuts those that are too long to carry: `2 cut at 1962.5 mm`, one text for each reading.
    pub yard_cuts: Vec<String>,
}

/// All that is bought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BuyingTotals {
    /// How many lengths.
    pub count: u64,
    /// What they cost, empty where a price is missing.
    pub cost: String,
    /// Their lengths added up.
    pub total_length: String,
}

/// Indices of the yard's lines that are bought from, with how many of each, in the order of sections and lengths.
pub(super) fn bought(words: &Words, checked: &CheckedPlan) -> Vec<(usize, u64)> {
    let yard = &words.job.yard;
    let mut lines = bill::bought(words.job, checked.plan());
    order::sort_by_key(&mut lines, |(line, _)| {
        (yard[*line].section, yard[*line].length)
    });
    lines
}

pub(super) fn buying(words: &Words, checked: &CheckedPlan) -> Buying {
    let yard = &words.job.yard;
    let bought = bought(words, checked);
    let priced = |price: Option<Money>| price.map(|price| words.money(price)).unwrap_or_default();
    let rows = bought.iter().map(|&(line, count)| {
        let board = &yard[line];
        BuyingRow {
            line,
            section: words.section(board.section),
            length: words.stated_length(Source::Yard(line)),
            count,
            price: priced(board.price),
            pack: board.pack,
            told: told(words, line, count),
            cost: priced(words.job.paid(line, count)),
            total_length: words.total(many(board.length, count)),
            yard_cuts: yard_cuts(words, checked, line),
        }
    });
    let order_lines = bought.iter().map(|&(line, count)| {
        let board = &yard[line];
        let cuts = yard_cuts(words, checked, line).join(", ");
        let at = at(words, line).map_or(String::new(), |name| format!("{name}: "));
        format!(
            "{at}{} \u{2013} {} {}{}",
            packs(words, line, count).unwrap_or_else(|| count.to_string()),
            board
                .written
                .clone()
                .unwrap_or_else(|| words.yard_length(board.length)),
            words.section(board.section),
            if cuts.is_empty() {
                cuts
            } else {
                format!(" ({cuts})")
            },
        )
    });
    Buying {
        rows: rows.collect(),
        bill: bill_rows(words, &bought),
        offers: bill::top_ups(words.job, &bought, checked.groups())
            .iter()
            .map(|offer| offer_text(words, offer))
            .collect(),
        order_lines: order_lines.collect(),
        totals: BuyingTotals {
            count: bought.iter().map(|(_, count)| count).sum(),
            cost: priced(cost(words, &bought)),
            total_length: words.total(
                bought
                    .iter()
                    .map(|&(line, count)| many(yard[line].length, count))
                    .sum(),
            ),
        },
    }
}

/// The yard that sells a line, where there are several.
fn at<'a>(words: &'a Words, line: usize) -> Option<&'a str> {
    let yards = Some(&words.job.yards).filter(|yards| yards.len() > 1)?;
    Some(&yards[words.job.yard[line].at].name)
}

/// So many lengths of a line in packs, where it is sold in packs: `2 packs of 6`.
fn packs(words: &Words, line: usize, count: u64) -> Option<String> {
    let sold = Some(&words.job.yard[line]).filter(|sold| sold.pack > 1)?;
    let packs = counted(sold.packs(count), "pack", "packs");
    Some(format!("{packs} of {}", sold.pack))
}

fn told(words: &Words, line: usize, count: u64) -> String {
    let sold = &words.job.yard[line];
    let price = sold.price.map(|price| words.money(price));
    let packs = packs(words, line, count);
    let one = if packs.is_some() { "a pack" } else { "each" };
    let each = price.filter(|_| packs.is_some() || sold.per.is_some());
    let each = each.map(|price| match &sold.per {
        Some(per) => format!("{price} {one}, at {per}"),
        None => format!("{price} {one}"),
    });
    let at = at(words, line).map(|name| format!("at {name}"));
    let told: Vec<String> = [at, packs, each].into_iter().flatten().collect();
    told.join("; ")
}

/// What is to be paid at each yard, and in all.
fn bill_rows(words: &Words, bought: &[(usize, u64)]) -> Vec<Total> {
    let bills = bill::bills(words.job, bought).unwrap_or_default();
    let mut rows = Vec::new();
    for one in &bills {
        let terms = &words.job.yards[one.yard];
        let percent = words.money(Money::from_minor(terms.tax));
        let percent = percent
            .trim_end_matches('0')
            .trim_end_matches(words.job.decimal().sign());
        let tax = match terms.on_top {
            true => format!("tax, {percent} %"),
            false => format!("tax in it, {percent} %"),
        };
        let delivers = terms.delivery > Money::ZERO;
        let lines = [
            (true, "lengths", one.lengths),
            (one.fees > Money::ZERO, "cuts at the yard", one.fees),
            (delivers, "delivery", one.delivery),
            (terms.tax > 0 && terms.on_top, &tax, one.tax),
            (true, "to pay", one.to_pay),
            (terms.tax > 0 && !terms.on_top, &tax, one.tax),
            (one.trip > Money::ZERO, "drive there", one.trip),
        ];
        for (_, name, amount) in lines.into_iter().filter(|(is_told, ..)| *is_told) {
            let name = match terms.name.is_empty() {
                true => name.to_owned(),
                false => format!("{}: {name}", terms.name),
            };
            rows.push(Total {
                name,
                value: words.money(amount),
            });
        }
    }
    let in_all = bill::in_all(&bills);
    if bills.iter().any(|one| one.to_pay != in_all) {
        rows.push(Total {
            name: "In all".into(),
            value: words.money(in_all),
        });
    }
    rows
}

/// An offer in words.
fn offer_text(words: &Words, offer: &TopUp) -> String {
    let lines = offer.lines.iter().map(|&(line, count)| {
        let sold = &words.job.yard[line];
        let packs = if sold.pack > 1 { " (packs)" } else { "" };
        format!(
            "{count} more of {} {}{packs}",
            words.stated_length(Source::Yard(line)),
            words.section(sold.section)
        )
    });
    let proven = match offer.is_proven {
        true => " (proven: no order costs less)",
        false => "",
    };
    format!(
        "{} for {} and delivery is free: {} less to pay{proven}",
        lines.collect::<Vec<_>>().join(", "),
        words.money(offer.cost),
        words.money(offer.saves)
    )
}

/// Where the yard cuts the boards of one line; equal cuts are counted together, in the order of the plan.
fn yard_cuts(words: &Words, checked: &CheckedPlan, line: usize) -> Vec<String> {
    let boards = checked.marked().iter().map(|marked| &marked.board);
    let cuts = boards
        .filter(|board| board.source == Source::Yard(line))
        .filter_map(|board| board.yard_cut);
    let mut counted: Vec<(String, u64)> = Vec::new();
    for cut in cuts.map(|cut| words.cut_length(cut)) {
        match counted.iter_mut().find(|(other, _)| *other == cut) {
            Some((_, count)) => *count += 1,
            None => counted.push((cut, 1)),
        }
    }
    let texts = counted.into_iter();
    texts
        .map(|(cut, count)| format!("{count} cut at {cut}"))
        .collect()
}

/// What all of it costs; `None` where a price is missing or nothing is bought.
pub(super) fn cost(words: &Words, bought: &[(usize, u64)]) -> Option<Money> {
    let costs = bought
        .iter()
        .map(|&(line, count)| words.job.paid(line, count));
    let costs: Vec<Money> = costs.collect::<Option<_>>()?;
    (!costs.is_empty()).then(|| costs.into_iter().sum())
}

fn many(length: Length, count: u64) -> Length {
    Length::from_ticks(length.ticks() * count as i64)
}

/// A total worth knowing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Total {
    /// What is added up.
    pub name: String,
    /// Its value, ready to print.
    pub value: String,
}

/// Totals of the whole plan.
pub(super) fn totals(words: &Words, checked: &CheckedPlan) -> Vec<Total> {
    let bought = bought(words, checked);
    let boards = &checked.plan().boards;
    let from_yard = boards
        .iter()
        .filter(|board| matches!(board.source, Source::Yard(_)));
    let from_shed = from_shed(words.job, checked);
    let bought_before = boards.len() - from_yard.count() - from_shed;
    let parts: u64 = boards
        .iter()
        .flat_map(|board| &board.runs)
        .map(|run| run.cuts.len() as u64)
        .sum();
    let length: Length = bought
        .iter()
        .map(|&(line, count)| many(words.job.yard[line].length, count))
        .sum();
    let total = |name: &str, value: String| Total {
        name: name.into(),
        value,
    };
    let mut totals = vec![total(
        "To buy",
        counted(
            bought.iter().map(|(_, count)| count).sum(),
            "length",
            "lengths",
        ),
    )];
    if let Some(cost) = cost(words, &bought) {
        let name = format!("Cost{}", bill::basis(words.job));
        totals.push(total(&name, words.money(cost)));
    }
    if !bought.is_empty() {
        totals.push(total("Timber to buy", words.total(length)));
    }
    for row in load_rows(words.job, &load(words.job, &bought)) {
        totals.push(total(&row.name, format!("{} ({})", row.value, row.basis)));
    }
    totals.push(total(
        "From the shed",
        counted(from_shed as u64, "board", "boards"),
    ));
    if bought_before > 0 {
        let boards = counted(bought_before as u64, "board", "boards");
        totals.push(total("Bought before, cut by this plan", boards));
    }
    totals.push(total("Parts", parts.to_string()));
    totals.push(total("Scrap", shed::scrap(words, checked).text));
    totals
}
