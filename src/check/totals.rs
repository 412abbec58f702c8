//! Counts and totals over the whole plan, and what it claims of them.
//!
//! Sections belong to one group when some part may be made of either. A claim is about one group; its levels are those of the aim
//! in order, and each value is added up here from the boards of the group alone.

use super::board::{self, CheckedBoard};
use super::figures::{self, Question};
use super::lie::Lie;
use super::{Backing, CheckedGroup, CheckedLevel, Effort, Reason};
use crate::job::{Aim, Job};
use crate::length::Length;
use crate::plan::{Level, Measure, Plan, PlannedBoard, Proof, Source};

/// Every part once for each time it is wanted, every shed board once, no more of a length than the yard has.
pub(super) fn check_counts(job: &Job, plan: &Plan, lies: &mut Vec<Lie>) {
    let mut cut = vec![0u64; job.parts.len()];
    for placed in plan
        .boards
        .iter()
        .flat_map(|board| &board.runs)
        .flat_map(|run| &run.cuts)
    {
        if let Some(count) = cut.get_mut(placed.part) {
            *count += 1;
        }
    }
    for (part, &cut) in cut.iter().enumerate() {
        let wanted = u64::from(job.parts[part].quantity);
        if cut < wanted {
            lies.push(Lie::PartForgotten { part, wanted, cut });
        } else if cut > wanted {
            lies.push(Lie::PartCutTooOften { part, wanted, cut });
        }
    }
    let used = |source: Source| {
        plan.boards
            .iter()
            .filter(|board| board.source == source)
            .count() as u64
    };
    for shed in 0..job.shed.len() {
        if used(Source::Shed(shed)) > 1 {
            lies.push(Lie::BoardUsedTwice { shed });
        }
    }
    for (yard, line) in job.yard.iter().enumerate() {
        let bought = used(Source::Yard(yard));
        if let Some(count) = line.count.map(u64::from)
            && bought > count
        {
            lies.push(Lie::MoreThanTheYardHas {
                yard,
                bought,
                count,
            });
        }
    }
}

/// What is known of each group, claims checked. Boards are sound and all parts are cut.
pub(super) fn check_claims(
    job: &Job,
    plan: &Plan,
    boards: &[CheckedBoard],
    effort: Effort,
    lies: &mut Vec<Lie>,
) -> Vec<CheckedGroup> {
    let groups = groups(job);
    let mut effort = effort.0;
    for (index, proof) in plan.proofs.iter().enumerate() {
        let again = plan.proofs[..index]
            .iter()
            .any(|other| other.sections == proof.sections);
        if again || !groups.contains(&proof.sections) {
            lies.push(Lie::WrongGroup {
                sections: proof.sections.clone(),
            });
        }
    }
    groups
        .into_iter()
        .map(|sections| {
            let totals = Totals::of(job, plan, boards, &sections);
            let proof = plan.proofs.iter().find(|proof| proof.sections == sections);
            let levels = match proof {
                Some(proof) => check_proof(job, &totals, proof, &mut effort, lies),
                None => unclaimed(job, &totals, &[]),
            };
            CheckedGroup { sections, levels }
        })
        .collect()
}

/// What the boards of one group come to.
struct Totals {
    sections: Vec<usize>,
    bought: i64,
    money: i64,
    bought_length: i64,
    scrap: i64,
}

impl Totals {
    fn of(job: &Job, plan: &Plan, boards: &[CheckedBoard], sections: &[usize]) -> Totals {
        let mut totals = Totals {
            sections: sections.to_vec(),
            bought: 0,
            money: 0,
            bought_length: 0,
            scrap: 0,
        };
        for (planned, board) in plan.boards.iter().zip(boards) {
            if sections.contains(&board.section) {
                totals.add(job, planned, board);
            }
        }
        totals
    }

    fn add(&mut self, job: &Job, planned: &PlannedBoard, board: &CheckedBoard) {
        self.scrap += board.scrap.ticks();
        if let Source::Yard(line) = planned.source {
            self.bought += 1;
            self.money += job.yard[line].price.unwrap_or_default().minor();
            self.bought_length += board.length.ticks();
        }
    }

    fn measured(&self, measure: Measure) -> i64 {
        match measure {
            Measure::Bought => self.bought,
            Measure::Money => self.money,
            Measure::BoughtLength => self.bought_length,
            Measure::Scrap => self.scrap,
        }
    }
}

/// The levels of a group's claim: the first ones of the aim, in its order.
fn check_proof(
    job: &Job,
    totals: &Totals,
    proof: &Proof,
    effort: &mut u64,
    lies: &mut Vec<Lie>,
) -> Vec<CheckedLevel> {
    let measures: Vec<Measure> = proof.levels.iter().map(|level| level.measure).collect();
    let known = measures_of(job, &totals.sections).starts_with(&measures);
    if !known {
        lies.push(Lie::WrongLevels {
            sections: totals.sections.clone(),
        });
        return Vec::new();
    }
    let mut sound = true;
    for level in &proof.levels {
        let (measure, found) = (level.measure, totals.measured(level.measure));
        if level.value != found {
            lies.push(Lie::WrongValue {
                measure,
                claimed: level.value,
                found,
            });
            sound = false;
        }
        if level.bound > level.value {
            lies.push(Lie::BoundAboveValue {
                measure,
                bound: level.bound,
                value: level.value,
            });
            sound = false;
        }
    }
    if !sound {
        return Vec::new();
    }
    let mut levels: Vec<CheckedLevel> = (0..proof.levels.len())
        .map(|index| {
            let Level {
                measure,
                value,
                bound,
            } = proof.levels[index];
            let backing = back(job, totals, proof, index, effort, lies);
            CheckedLevel {
                measure,
                value,
                bound: Some(bound),
                backing,
            }
        })
        .collect();
    let rest = unclaimed(job, totals, &measures);
    levels.extend(rest);
    levels
}

/// What stands behind one level.
fn back(
    job: &Job,
    totals: &Totals,
    proof: &Proof,
    index: usize,
    effort: &mut u64,
    lies: &mut Vec<Lie>,
) -> Backing {
    let level = proof.levels[index];
    if level.bound <= least(job, totals, level.measure) {
        return Backing::ReProved;
    }
    let Some(certificate) = &proof.certificate else {
        return Backing::ClaimOnly(Reason::NoFigures);
    };
    let costs: Vec<Measure> = proof
        .levels
        .iter()
        .map(|level| level.measure)
        .filter(|measure| *measure != Measure::Scrap)
        .collect();
    let Some(claim) = certificate.levels.iter().find(|claim| claim.level == index) else {
        return Backing::ClaimOnly(Reason::NoFigures);
    };
    let wanted: Length = job
        .parts
        .iter()
        .filter(|part| totals.sections.contains(&part.sections[0]))
        .map(|part| Length::from_ticks(part.length.ticks() * i64::from(part.quantity)))
        .sum();
    let question = Question {
        job,
        sections: &totals.sections,
        costs: &costs,
        level: index,
        values: proof.levels[..index]
            .iter()
            .map(|level| level.value)
            .collect(),
        bound: level.bound,
        offset: if level.measure == Measure::Scrap {
            wanted.ticks()
        } else {
            0
        },
        measure: level.measure,
    };
    figures::back(&question, claim, effort).unwrap_or_else(|lie| {
        lies.push(lie);
        Backing::ClaimOnly(Reason::NoFigures)
    })
}

/// What no plan can be below, without any figures: nothing costs less than nothing, and scrap is less than nothing only as far as parts
/// overlap.
fn least(job: &Job, totals: &Totals, measure: Measure) -> i64 {
    if measure != Measure::Scrap {
        return 0;
    }
    let in_group = job
        .parts
        .iter()
        .filter(|part| totals.sections.contains(&part.sections[0]));
    let overlaps = in_group.map(|part| {
        let most = part
            .sections
            .iter()
            .map(|&section| board::most_overlap(&job.sections[section], part, job.saw.kerf))
            .max();
        most.unwrap_or_default().ticks() * i64::from(part.quantity)
    });
    -overlaps.sum::<i64>()
}

/// The levels nothing is said of.
fn unclaimed(job: &Job, totals: &Totals, claimed: &[Measure]) -> Vec<CheckedLevel> {
    measures_of(job, &totals.sections)
        .into_iter()
        .filter(|measure| !claimed.contains(measure))
        .map(|measure| CheckedLevel {
            measure,
            value: totals.measured(measure),
            bound: None,
            backing: Backing::NothingClaimed,
        })
        .collect()
}

/// The levels of the job's aim. Money is one only where every length has a price, or where the aim is money.
fn measures_of(job: &Job, sections: &[usize]) -> Vec<Measure> {
    let mut lines = job
        .yard
        .iter()
        .filter(|line| sections.contains(&line.section))
        .peekable();
    let priced = lines.peek().is_some() && lines.all(|line| line.price.is_some());
    match job.aim {
        Aim::Fewest if priced => vec![Measure::Bought, Measure::Money, Measure::Scrap],
        // Where a price is missing, the length bought stands in for the money.
        Aim::Fewest => vec![Measure::Bought, Measure::BoughtLength, Measure::Scrap],
        Aim::Cheapest => vec![Measure::Money, Measure::Bought, Measure::Scrap],
        Aim::Shortest if priced => vec![Measure::BoughtLength, Measure::Money, Measure::Scrap],
        Aim::Shortest => vec![Measure::BoughtLength, Measure::Scrap],
    }
}

/// Sections in groups, in the order of their first sections; sections nothing is made of are in none.
fn groups(job: &Job) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for part in &job.parts {
        let (joined, apart): (Vec<_>, Vec<_>) = groups
            .into_iter()
            .partition(|group| group.iter().any(|section| part.sections.contains(section)));
        groups = apart;
        let mut group: Vec<usize> = joined
            .into_iter()
            .flatten()
            .chain(part.sections.iter().copied())
            .collect();
        group.sort_unstable();
        group.dedup();
        groups.push(group);
    }
    groups.sort();
    groups
}
