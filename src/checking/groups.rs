//! The groups of a job and the levels of their aim, from the job alone.
//!
//! Two sections belong to one group when some part may be made of either. What a plan file says about groups and levels is compared with
//! these and never used instead.

use timber::job::{Aim, Job};
use timber::plan::Measure;

/// Sections that are planned together.
pub(super) struct Group {
    /// The job's sections, ascending.
    pub(super) sections: Vec<usize>,
    /// The parts that are made of them.
    pub(super) parts: Vec<usize>,
    /// The levels of the aim, in order; the last is the scrap.
    pub(super) measures: Vec<Measure>,
}

impl Group {
    /// The levels that depend on buying alone.
    pub(super) fn costs(&self) -> &[Measure] {
        &self.measures[..self.measures.len() - 1]
    }
}

/// The groups of a job, in the order of their first sections; a section of which nothing is made is in no group.
pub(super) fn groups(job: &Job) -> Vec<Group> {
    let mut of_section = vec![None; job.sections.len()];
    let mut groups: Vec<Group> = Vec::new();
    for sections in joined(job) {
        for &section in &sections {
            of_section[section] = Some(groups.len());
        }
        groups.push(Group {
            measures: measures(job, &sections),
            parts: Vec::new(),
            sections,
        });
    }
    for (index, part) in job.parts.iter().enumerate() {
        if let Some(group) = of_section[part.sections[0]] {
            groups[group].parts.push(index);
        }
    }
    groups
}

/// For each section, the index of its group.
pub(super) fn group_of_section(job: &Job, groups: &[Group]) -> Vec<Option<usize>> {
    let mut of_section = vec![None; job.sections.len()];
    for (index, group) in groups.iter().enumerate() {
        for &section in &group.sections {
            of_section[section] = Some(index);
        }
    }
    of_section
}

/// Sets of sections that share parts, each ascending, in the order of their first sections. The smaller set is joined to the larger (union
/// by size), so a section changes its set at most log2 of the number of sections times.
fn joined(job: &Job) -> Vec<Vec<usize>> {
    let mut set_of: Vec<usize> = (0..job.sections.len()).collect();
    let mut sets: Vec<Vec<usize>> = (0..job.sections.len())
        .map(|section| vec![section])
        .collect();
    let mut wanted = vec![false; job.sections.len()];
    for part in &job.parts {
        for &section in &part.sections {
            wanted[section] = true;
            let (one, other) = (set_of[part.sections[0]], set_of[section]);
            if one == other {
                continue;
            }
            let (large, small) = match sets[one].len() >= sets[other].len() {
                true => (one, other),
                false => (other, one),
            };
            let moved = std::mem::take(&mut sets[small]);
            for &section in &moved {
                set_of[section] = large;
            }
            sets[large].extend(moved);
        }
    }
    sets.retain(|set| set.first().is_some_and(|&section| wanted[section]));
    for set in &mut sets {
        order::sort(set);
    }
    order::sort(&mut sets);
    sets
}

/// The levels of the job's aim. Money is a level only where every length has a price, or where the aim is money.
fn measures(job: &Job, sections: &[usize]) -> Vec<Measure> {
    let mut lines = job
        .yard
        .iter()
        .filter(|line| sections.binary_search(&line.section).is_ok())
        .peekable();
    let priced = lines.peek().is_some() && lines.all(|line| line.price.is_some());
    match job.aim {
        Aim::Fewest if priced => vec![Measure::Bought, Measure::Money, Measure::Scrap],
        // Where a price is missing, the length bought replaces the money.
        Aim::Fewest => vec![Measure::Bought, Measure::BoughtLength, Measure::Scrap],
        Aim::Cheapest => vec![Measure::Money, Measure::Bought, Measure::Scrap],
        Aim::Shortest if priced => vec![Measure::BoughtLength, Measure::Money, Measure::Scrap],
        Aim::Shortest => vec![Measure::BoughtLength, Measure::Scrap],
    }
}
