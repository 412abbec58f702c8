//! Which parts drive what a plan comes to, and the prices that its proof rests on.
//!
//! The figures of a proof price every part so that no board holds parts worth more than it costs ([`proof::certificate`]). At the first level of the aim
//! nothing else is charged. So what parts are worth together is what any plan comes to at least, and what each sort of them is worth of that is its
//! share. Where plans were split the prices of the first of the cases stand for all, and only the shares are told.

use super::words::{Words, per_cent};
use crate::certificate::{Branch, Leaf, LevelProof};
use crate::check::{CheckedGroup, CheckedPlan};
use crate::job::{Job, YardLength};
use crate::length::Length;
use crate::money::Money;
use crate::plan::Measure;

/// Most sorts of parts whose share is told.
const MOST: usize = 5;

/// What is told of the prices of a plan's proof.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Prices {
    /// Which parts drive what it comes to, a line for each group of sections.
    pub shares: Vec<String>,
    /// What each part is worth in the proof, a line for each group where all of it rests on one list of prices.
    pub each: Vec<String>,
}

/// The prices of the proofs that were shown again.
pub(super) fn prices(words: &Words, checked: &CheckedPlan) -> Prices {
    let mut told = Prices::default();
    let groups = checked.groups();
    for group in groups {
        let of = match groups.len() {
            1 => String::new(),
            _ => format!(" of {}", words.sections(&group.sections)),
        };
        let Some((measure, claim, leaf)) = first_leaf(group, checked) else {
            continue;
        };
        let priced: Vec<(usize, i128)> = (0..words.job.parts.len())
            .map(|part| (part, i128::from(leaf.parts[part])))
            .filter(|(_, price)| *price > 0)
            .collect();
        let worth =
            |&(part, price): &(usize, i128)| price * i128::from(words.job.parts[part].quantity);
        let all: i128 = priced.iter().map(worth).sum();
        let label = |part: usize| words.job.parts[part].label.as_str();
        if priced.len() > 1 {
            let mut driving = priced.clone();
            order::sort_by_key(&mut driving, |one| -worth(one));
            let shares = driving.iter().take(MOST).map(|one| {
                let share = (worth(one) * 1_000_000 / all) as i64;
                let share = per_cent(share, 1_000_000, words.job.decimal().sign());
                format!("{} {share}", label(one.0))
            });
            let shares: Vec<String> = shares.collect();
            told.shares.push(format!(
                "What drives the {}{of}: {}.",
                what(measure),
                shares.join(", ")
            ));
        }
        // The figures price a pack as one board.
        let packs = |line: &YardLength| line.pack > 1 && group.sections.contains(&line.section);
        if claim.tree.len() == 1 && !words.job.yard.iter().any(packs) {
            let each = priced.iter().map(|&(part, price)| {
                let shown = shown(words, measure, price, leaf.scale);
                format!("{} {shown}", label(part))
            });
            let each: Vec<String> = each.collect();
            let all = shown(words, measure, all, leaf.scale);
            let few = is_limited(words.job, &group.sections);
            let (boards, less) = match few {
                false => ("board", ""),
                true => (
                    "board of which there are as many as wanted",
                    ", less what the other boards hold beyond their cost",
                ),
            };
            told.each.push(format!(
                "The prices{of}: {}. No {boards} holds parts worth more than it costs; all parts are worth {all} together{less}.",
                each.join(", ")
            ));
        }
    }
    told
}

/// Whether there are boards of which there are only so many.
fn is_limited(job: &Job, sections: &[usize]) -> bool {
    let limited = |line: &YardLength| line.count.is_some() && sections.contains(&line.section);
    let mut shed = job.shed.iter();
    job.yard.iter().any(limited) || shed.any(|board| sections.contains(&board.section))
}

/// The first level of a group's aim, its figures and their first prices, where the checker has shown them.
fn first_leaf<'a>(
    group: &CheckedGroup,
    checked: &'a CheckedPlan,
) -> Option<(Measure, &'a LevelProof, &'a Leaf)> {
    let level = group.levels.first().filter(|level| level.is_shown())?;
    let mut proofs = checked.plan().proofs.iter();
    let proof = proofs.find(|proof| proof.sections == group.sections)?;
    let mut levels = proof.certificate.as_ref()?.levels.iter();
    let claim = levels.find(|claim| claim.level == 0)?;
    let leaf = claim.tree.iter().find_map(|branch| match branch {
        Branch::Leaf(leaf) | Branch::Closed { leaf, .. } | Branch::Paired { leaf, .. } => {
            Some(leaf)
        }
        Branch::Split { .. } | Branch::Kept { .. } | Branch::Searched(_) => None,
    })?;
    // The figures on scrap price what is used up, the parts themselves with it.
    let told = level.value > 0 && level.measure != Measure::Scrap;
    told.then_some((level.measure, claim, leaf))
}

const fn what(measure: Measure) -> &'static str {
    match measure {
        Measure::Bought => "number of lengths",
        Measure::Money => "money",
        Measure::BoughtLength => "timber to buy",
        Measure::Scrap => "scrap",
        Measure::LengthsBeyond | Measure::TimberBeyond => measure.name(),
    }
}

/// A price in the unit of its measure, to the nearest thousandth of a length or hundredth of money.
fn shown(words: &Words, measure: Measure, price: i128, scale: i64) -> String {
    let nearest = |times: i128| {
        let scale = i128::from(scale);
        let whole = (2 * price * times + scale).div_euclid(2 * scale);
        i64::try_from(whole).unwrap_or(i64::MAX)
    };
    match measure {
        Measure::Money => words.money(Money::from_minor(nearest(1))),
        Measure::BoughtLength | Measure::TimberBeyond | Measure::Scrap => {
            words.total(Length::from_ticks(nearest(1)))
        }
        Measure::Bought | Measure::LengthsBeyond => {
            let thousandths = nearest(1_000);
            let sign = words.job.decimal().sign();
            format!("{}{sign}{:03}", thousandths / 1_000, thousandths % 1_000)
        }
    }
}
