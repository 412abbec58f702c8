//! What to buy, per section and length, and the totals of a plan.

use super::shed;
use super::words::{Words, counted};
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
    /// The price as typed where it is per unit, else empty.
    pub per: String,
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
    let count = |line: usize| {
        let boards = checked.plan().boards.iter();
        boards
            .filter(|board| board.source == Source::Yard(line))
            .count() as u64
    };
    let mut lines: Vec<(usize, u64)> = (0..yard.len())
        .map(|line| (line, yard[line].in_packs(count(line))))
        .filter(|(_, count)| *count > 0)
        .collect();
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
            per: board.per.clone().unwrap_or_default(),
            cost: priced(words.job.paid(line, count)),
            total_length: words.total(many(board.length, count)),
            yard_cuts: yard_cuts(words, checked, line),
        }
    });
    let order_lines = bought.iter().map(|&(line, count)| {
        let board = &yard[line];
        let cuts = yard_cuts(words, checked, line).join(", ");
        format!(
            "{count} \u{2013} {} {}{}",
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
    let from_shed = boards
        .iter()
        .filter(|board| matches!(board.source, Source::Shed(_)))
        .count() as u64;
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
        totals.push(total("Cost", words.money(cost)));
    }
    if !bought.is_empty() {
        totals.push(total("Timber to buy", words.total(length)));
    }
    for row in load_rows(words.job, &load(words.job, &bought)) {
        totals.push(total(&row.name, format!("{} ({})", row.value, row.basis)));
    }
    totals.push(total(
        "From the shed",
        counted(from_shed, "board", "boards"),
    ));
    totals.push(total("Parts", parts.to_string()));
    totals.push(total("Scrap", shed::scrap(words, checked).text));
    totals
}
