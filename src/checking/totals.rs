//! Checks counts and totals over the whole plan, and the claims about them.
//!
//! Groups and levels are those of the job ([`super::groups`]). Each value is added up here from the boards of its group alone, and a claim
//! about it is only compared. Sums are 128-bit; a total that does not fit 64 bits is a lie.

#[cfg(test)]
mod laws;

use super::blanks;
use super::board::CheckedBoard;
use super::figures::{self, Question};
use super::groups::{Group, group_of_section};
use super::lie::Lie;
use super::settled::{Backing, CheckedGroup, CheckedLevel, Reason};
use super::sharing::Sharing;
use super::steps::Steps;
use order::Map;
use timber::job::Job;
use timber::plan::{Level, Measure, Plan, Proof, Source, Within};

/// Checks the counts. Every part of the groups must be cut exactly as often as wanted, and no other part at all. Every shed board may be
/// used at most once, and of each length no more may be bought than the yard has.
pub(super) fn check_counts(job: &Job, groups: &[Group], plan: &Plan, lies: &mut Vec<Lie>) {
    let mut wanted = vec![0u64; job.parts.len()];
    for &part in groups.iter().flat_map(|group| &group.parts) {
        wanted[part] = u64::from(job.parts[part].quantity);
    }
    let mut cut = vec![0u64; job.parts.len()];
    let mut bought = vec![0u64; job.yard.len()];
    let mut taken = vec![0u64; job.shed.len()];
    for board in &plan.boards {
        let times = match board.source {
            Source::Yard(line) => bought.get_mut(line),
            Source::Shed(index) => taken.get_mut(index),
        };
        for placed in board.runs.iter().flat_map(|run| &run.cuts) {
            if let Some(count) = cut.get_mut(placed.part) {
                *count += 1;
            }
        }
        if let Some(times) = times {
            *times += 1;
        }
    }
    for (part, (&cut, &wanted)) in cut.iter().zip(&wanted).enumerate() {
        if cut < wanted {
            lies.push(Lie::PartForgotten { part, wanted, cut });
        } else if cut > wanted {
            lies.push(Lie::PartCutTooOften { part, wanted, cut });
        }
    }
    for (shed, &taken) in taken.iter().enumerate() {
        if taken > 1 {
            lies.push(Lie::BoardUsedTwice { shed });
        }
    }
    for (yard, (&bought, line)) in bought.iter().zip(&job.yard).enumerate() {
        if let Some(count) = line.count.map(u64::from)
            && bought > count * u64::from(line.pack)
        {
            lies.push(Lie::MoreThanTheYardHas {
                yard,
                bought,
                count,
            });
        }
    }
}

/// Checks the claims and returns the results of each group. All boards hold and all parts are cut.
///
/// The levels of buying are checked first in every group, since the allowed work may not be enough for all.
pub(super) fn check_claims(
    job: &Job,
    groups: &[Group],
    (plan, boards): (&Plan, &[CheckedBoard]),
    steps: &mut Steps,
    lies: &mut Vec<Lie>,
) -> Vec<CheckedGroup> {
    let proofs = proofs_of(groups, plan, lies);
    let totals = Totals::of_groups(job, groups, plan, boards);
    let mut claims: Vec<Claims> = Vec::new();
    for ((group, totals), proof) in groups.iter().zip(totals).zip(proofs) {
        if let Some(claim) = Claims::of(job, group, &totals, proof, lies) {
            claims.push(claim);
        }
    }
    for scrap in [false, true] {
        for claim in &mut claims {
            claim.settle(job, scrap, steps, lies);
        }
    }
    let checked = claims.into_iter().map(|claim| CheckedGroup {
        sections: claim.group.sections.clone(),
        levels: claim.levels,
    });
    checked.collect()
}

/// The plan's claims about each group, where it has any.
fn proofs_of<'a>(groups: &[Group], plan: &'a Plan, lies: &mut Vec<Lie>) -> Vec<Option<&'a Proof>> {
    let known: Map<&[usize], usize> = groups
        .iter()
        .enumerate()
        .map(|(index, group)| (group.sections.as_slice(), index))
        .collect();
    let mut proofs = vec![None; groups.len()];
    for proof in &plan.proofs {
        match known.get(proof.sections.as_slice()) {
            Some(&index) if proofs[index].is_none() => proofs[index] = Some(proof),
            _ => lies.push(Lie::WrongGroup {
                sections: proof.sections.clone(),
            }),
        }
    }
    proofs
}

/// The totals of the boards of one group.
#[derive(Clone, Default)]
struct Totals {
    bought: i128,
    money: i128,
    bought_length: i128,
    scrap: i128,
}

impl Totals {
    fn of_groups(job: &Job, groups: &[Group], plan: &Plan, boards: &[CheckedBoard]) -> Vec<Totals> {
        let mut totals = vec![Totals::default(); groups.len()];
        let mut bought = Map::new();
        let of_section = group_of_section(job, groups);
        for (planned, board) in plan.boards.iter().zip(boards) {
            if let Some(group) = of_section[board.section] {
                totals[group].scrap += i128::from(board.scrap.ticks());
                if let Source::Yard(line) = planned.source {
                    let (lengths, cuts) = bought.or_insert_with((group, line), || (0i128, 0i128));
                    *lengths += 1;
                    *cuts += i128::from(planned.yard_cut.is_some());
                }
            }
        }
        for (&(group, line), &(lengths, cuts)) in bought.iter() {
            totals[group].buy(job, line, lengths, cuts);
        }
        totals
    }

    /// Adds so many lengths of a line, in whole packs, and what the yard asks for so many cuts of them.
    fn buy(&mut self, job: &Job, line: usize, lengths: i128, cuts: i128) {
        let sold = &job.yard[line];
        let pack = i128::from(sold.pack);
        let packs = (lengths + pack - 1) / pack;
        let price = i128::from(sold.price.unwrap_or_default().minor());
        self.bought += packs * pack;
        self.money += packs * price + cuts * i128::from(job.cut_fee(line).minor());
        self.bought_length += packs * pack * i128::from(sold.length.ticks());
    }

    fn measured(&self, measure: Measure) -> i128 {
        match measure {
            Measure::Bought | Measure::LengthsBeyond => self.bought,
            Measure::Money => self.money,
            Measure::BoughtLength | Measure::TimberBeyond => self.bought_length,
            Measure::Scrap => self.scrap,
        }
    }
}

/// One group, its totals, and the plan's claims about them.
struct Claims<'a> {
    group: &'a Group,
    proof: Option<&'a Proof>,
    /// The levels of the job's aim with the plan's totals; their bounds are checked one after the other.
    levels: Vec<CheckedLevel>,
}

impl<'a> Claims<'a> {
    /// Compares the claimed totals; `None` where something is false.
    fn of(
        job: &Job,
        group: &'a Group,
        totals: &Totals,
        proof: Option<&'a Proof>,
        lies: &mut Vec<Lie>,
    ) -> Option<Claims<'a>> {
        let before = lies.len();
        let mut levels = Vec::new();
        let within = blanks::within(job, group);
        for &measure in &group.measures {
            let Ok(total) = i64::try_from(totals.measured(measure)) else {
                lies.push(Lie::TotalTooGreat { measure });
                continue;
            };
            let value = match measure.is_beyond() {
                true => (total - group.floor(measure)).max(0),
                false => total,
            };
            // Where the plan claims no bound, the one that needs no figures holds all the same.
            let least = least(job, group, measure);
            let known = value <= least;
            levels.push(CheckedLevel {
                measure,
                value,
                bound: known.then_some(least),
                backing: if known {
                    Backing::ReProved
                } else {
                    Backing::NothingClaimed
                },
                // No cost is below zero, whatever lies beside what.
                within: match known && measure != Measure::Scrap {
                    true => Within::Everything,
                    false => within,
                },
            });
        }
        let claimed = proof.map_or(&[][..], |proof| &proof.levels);
        let order = claimed.iter().map(|level| level.measure);
        if claimed.len() > group.measures.len()
            || !order.eq(group.measures[..claimed.len()].iter().copied())
        {
            lies.push(Lie::WrongLevels {
                sections: group.sections.clone(),
            });
        }
        if lies.len() == before {
            for (level, found) in claimed.iter().zip(&levels) {
                compare(level, found.value, lies);
            }
        }
        (lies.len() == before).then_some(Claims {
            group,
            proof,
            levels,
        })
    }

    /// Checks the bounds of the levels that decide what is bought, or of the scrap that comes after them.
    fn settle(&mut self, job: &Job, scrap: bool, steps: &mut Steps, lies: &mut Vec<Lie>) {
        let Some(proof) = self.proof else {
            return;
        };
        for (index, level) in proof.levels.iter().enumerate() {
            let is_last = index + 1 == self.group.measures.len();
            if (is_last && level.measure == Measure::Scrap) == scrap {
                let backing = self.back(job, (proof, index), steps, lies);
                self.levels[index].bound = Some(level.bound);
                self.levels[index].backing = backing;
            }
        }
    }

    /// Checks the bound of one level.
    fn back(
        &self,
        job: &Job,
        (proof, index): (&Proof, usize),
        steps: &mut Steps,
        lies: &mut Vec<Lie>,
    ) -> Backing {
        let level = proof.levels[index];
        if level.bound <= least(job, self.group, level.measure) {
            return Backing::ReProved;
        }
        let claim = proof
            .certificate
            .iter()
            .flat_map(|certificate| &certificate.levels)
            .find(|claim| claim.level == index);
        // What is shown of scrap counts what is lost of a board that is cut, and not of the lengths of a pack that are left whole.
        let packs = job
            .yard
            .iter()
            .any(|line| line.pack > 1 && self.group.sections.binary_search(&line.section).is_ok());
        let counts_scrap = self.group.measures[..=index].contains(&Measure::Scrap);
        let claim = claim.filter(|_| !counts_scrap || !packs);
        let Some(claim) = claim else {
            return Backing::ClaimOnly(Reason::NoFigures);
        };
        let wanted = || {
            let parts = self.group.parts.iter().map(|&part| &job.parts[part]);
            parts
                .map(|part| part.length.ticks() * i64::from(part.quantity))
                .sum()
        };
        let offset = |measure: Measure| match measure {
            Measure::Scrap => wanted(),
            measure => self.group.floor(measure),
        };
        let question = Question {
            job,
            group: self.group,
            level: index,
            values: self.levels[..index]
                .iter()
                .map(|level| level.value + offset(level.measure))
                .collect(),
            bound: level.bound,
            offset: offset(level.measure),
            measure: level.measure,
        };
        figures::back(&question, claim, steps).unwrap_or_else(|lie| {
            lies.push(lie);
            Backing::ClaimOnly(Reason::NoFigures)
        })
    }
}

/// Compares the claim about one level with the total found.
fn compare(level: &Level, found: i64, lies: &mut Vec<Lie>) {
    let &Level {
        measure,
        value,
        bound,
    } = level;
    if value != found {
        lies.push(Lie::WrongValue {
            measure,
            claimed: value,
            found,
        });
    }
    if bound > value {
        lies.push(Lie::BoundAboveValue {
            measure,
            bound,
            value,
        });
    }
}

/// A lower bound on any plan that needs no figures: no cost is below zero, and scrap is below zero at most by what parts overlap.
fn least(job: &Job, group: &Group, measure: Measure) -> i64 {
    if measure != Measure::Scrap {
        return 0;
    }
    let sharing = Sharing::of_all(job);
    let in_group = group.parts.iter().map(|&part| &job.parts[part]);
    let overlaps = in_group.map(|part| {
        let most = part
            .sections
            .iter()
            .map(|&section| sharing[section].most_overlap(part))
            .max();
        most.unwrap_or_default().ticks() * i64::from(part.quantity)
    });
    -overlaps.sum::<i64>()
}
