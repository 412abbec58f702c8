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
    /// The levels of the aim, in order; one of them is the scrap.
    pub(super) measures: Vec<Measure>,
    /// How many lengths of its sections may be bought, and how many ticks of timber, where the job says so.
    pub(super) allowed: [Option<i64>; 2],
}

impl Group {
    /// What a total of a measure counts as at least: what may be bought, of what is measured beyond that.
    pub(super) fn floor(&self, measure: Measure) -> i64 {
        let [lengths, timber] = self.allowed;
        match measure {
            Measure::LengthsBeyond => lengths.unwrap_or(0),
            Measure::TimberBeyond => timber.unwrap_or(0),
            _ => 0,
        }
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
        let allowed = allowed(job, &sections);
        groups.push(Group {
            measures: measures(job, &sections, allowed),
            allowed,
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

/// What may be bought of these sections: the sum of what each of them says; none where no section says anything.
fn allowed(job: &Job, sections: &[usize]) -> [Option<i64>; 2] {
    let mut sums = [None; 2];
    for &section in sections {
        let allowed = job.sections[section].allowed;
        let each = [
            allowed.lengths.map(i64::from),
            allowed.timber.map(|timber| timber.ticks()),
        ];
        for (sum, each) in sums.iter_mut().zip(each) {
            if let Some(each) = each {
                *sum = Some(sum.unwrap_or(0) + each);
            }
        }
    }
    sums
}

/// The levels of the job's aim, or where something may be bought, of the least money within it, or of the least scrap. Money is a level only where every length has a
/// price, or where the aim is money.
fn measures(job: &Job, sections: &[usize], [lengths, timber]: [Option<i64>; 2]) -> Vec<Measure> {
    let mut lines = job
        .yard
        .iter()
        .filter(|line| sections.binary_search(&line.section).is_ok())
        .peekable();
    let priced = lines.peek().is_some() && lines.all(|line| line.price.is_some());
    if lengths.is_some() || timber.is_some() {
        let beyond = [
            lengths.map(|_| Measure::LengthsBeyond),
            timber.map(|_| Measure::TimberBeyond),
            (job.aim == Aim::Scrap).then_some(Measure::Scrap),
            priced.then_some(Measure::Money),
        ];
        let mut measures: Vec<Measure> = beyond.into_iter().flatten().collect();
        measures.extend(match priced {
            true => [Measure::Bought, Measure::BoughtLength],
            false => [Measure::BoughtLength, Measure::Bought],
        });
        measures.extend((job.aim != Aim::Scrap).then_some(Measure::Scrap));
        return measures;
    }
    match job.aim {
        Aim::Fewest | Aim::Offcuts if priced => {
            vec![Measure::Bought, Measure::Money, Measure::Scrap]
        }
        // Where a price is missing, the length bought replaces the money.
        Aim::Fewest | Aim::Offcuts => vec![Measure::Bought, Measure::BoughtLength, Measure::Scrap],
        Aim::Cheapest => vec![Measure::Money, Measure::Bought, Measure::Scrap],
        Aim::Shortest if priced => vec![Measure::BoughtLength, Measure::Money, Measure::Scrap],
        Aim::Shortest => vec![Measure::BoughtLength, Measure::Scrap],
        Aim::Scrap if priced => vec![Measure::Scrap, Measure::Bought, Measure::Money],
        Aim::Scrap => vec![Measure::Scrap, Measure::Bought, Measure::BoughtLength],
    }
}
