//! What the parts that fit a board can be worth at most.
//!
//! Parts are added to a run one at a time, in the job's order. What matters of the parts so far is how much of the run they fill,
//! what they are worth, and how they end: the widest cut that can come last, and for each mitre angle whether its parts can still
//! pair up ([`super::wood`]). A *state* is that ending; for each state only the fills that are worth more than every smaller fill are kept
//! (Nemhauser & Ullmann 1969), so the lists hold reachable fills alone and fine ticks cost nothing by themselves.
//!
//! The lists end: every part is added no more often than it is wanted, and a fill beyond the longest run is dropped. A run is
//! exact; the runs of one board are each allowed the whole demand, which can only overstate what the board is worth.

use super::steps::{Steps, TooLarge};
use super::wood::{Ending, Laid, Wood};
use std::collections::BTreeMap;

/// A fill and what it is worth.
type Point = (i64, i128);

/// What fills are worth on one section, for runs up to a length.
pub(super) struct Worths {
    lists: BTreeMap<Ending, Vec<Point>>,
    /// What each ending owes at the end, and its last cut.
    closing: BTreeMap<Ending, (i64, i64)>,
}

impl Wood {
    /// What fills of runs up to `longest` are worth at these prices, one for each part of the job.
    pub(super) fn worths(
        &self,
        prices: &[i64],
        longest: i64,
        steps: &mut Steps,
    ) -> Result<Worths, TooLarge> {
        let empty = self.untouched();
        let widest = self.widest_cut();
        let mut lists = BTreeMap::from([(empty, vec![(0i64, 0i128)])]);
        for part in &self.parts {
            steps.take(1)?;
            let price = i128::from(prices[part.part]);
            for _ in 0..part.wanted {
                let mut grown: BTreeMap<Ending, Vec<Point>> = lists.clone();
                let mut changed = false;
                for (ending, list) in &lists {
                    let (next, amount) = self.add(part, ending);
                    let added: Vec<Point> = list
                        .iter()
                        .map(|&(fill, worth)| (fill + amount, worth + price))
                        .filter(|point| point.0 <= longest + widest)
                        .collect();
                    let work = added.len() as u64 + list.len() as u64 + 1;
                    steps.take(work)?;
                    let merged = grown.entry(next).or_default();
                    changed |= merge(merged, &added);
                }
                lists = grown;
                if !changed {
                    break;
                }
            }
        }
        let closing = lists
            .keys()
            .map(|ending| (ending.clone(), self.close(ending)))
            .collect();
        Ok(Worths { lists, closing })
    }
}

impl Worths {
    /// The most that the parts in a run of this length can be worth; no parts are worth zero.
    pub(super) fn best(&self, run: i64) -> i128 {
        self.lists
            .iter()
            .filter_map(|(ending, list)| {
                let (owed, last_cut) = self.closing[ending];
                let room = run - owed + last_cut;
                let fitting = list.partition_point(|point| point.0 <= room);
                fitting.checked_sub(1).map(|last| list[last].1)
            })
            .max()
            .unwrap_or(0)
    }

    /// Every fill that is worth listing, and what it is worth; the untouched run is left out.
    pub(super) fn touched(&self) -> impl Iterator<Item = (Laid, i128)> {
        self.lists
            .iter()
            .filter(|(ending, _)| ending.touched)
            .flat_map(|(ending, list)| {
                let (owed, last_cut) = self.closing[ending];
                list.iter().map(move |&(fill, worth)| {
                    let laid = Laid {
                        need: fill + owed - last_cut,
                        filled: fill + owed,
                    };
                    (laid, worth)
                })
            })
    }

    /// How many fills are listed.
    pub(super) fn len(&self) -> u64 {
        self.lists.values().map(|list| list.len() as u64).sum()
    }

    /// How many endings they have: the steps of asking for the best of a run.
    pub(super) fn endings(&self) -> u64 {
        self.lists.len() as u64
    }
}

/// Merges sorted points into a sorted list and keeps those that are worth more than every smaller fill. Returns whether the list changed.
fn merge(list: &mut Vec<Point>, added: &[Point]) -> bool {
    if added.is_empty() {
        return false;
    }
    let mut merged: Vec<Point> = Vec::with_capacity(list.len() + added.len());
    let (mut left, mut right) = (
        list.iter().copied().peekable(),
        added.iter().copied().peekable(),
    );
    loop {
        let point = match (left.peek(), right.peek()) {
            (None, None) => break,
            (Some(_), None) => left.next(),
            (None, Some(_)) => right.next(),
            (Some(one), Some(other)) if (one.0, -one.1) <= (other.0, -other.1) => left.next(),
            _ => right.next(),
        };
        if let Some(point) = point
            && merged.last().is_none_or(|last| point.1 > last.1)
        {
            merged.push(point);
        }
    }
    let changed = merged != *list;
    *list = merged;
    changed
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cuts::{cut_width, stands_back};
    use crate::steps::with_steps;
    use timber::job::{
        Job, JobDraft, PartDraft, PartEnd, SectionDraft, Turnable, YardDraft, validate,
    };

    /// A job of one section 20 wide with a kerf of 3, its parts as (length, ends, how many).
    fn job(turnable: &str, parts: &[(&str, &str, &str)]) -> Job {
        let some = |text: &str| Some(text.to_owned());
        let mut draft = JobDraft::default();
        draft.saw.kerf = some("3");
        draft.saw.keep = some("40");
        draft.sections.push(SectionDraft {
            name: some("20 x 20"),
            width: some("20"),
            turnable: some(turnable),
            ..SectionDraft::default()
        });
        draft.yard.push(YardDraft {
            section: some("20 x 20"),
            length: some("1000"),
            ..YardDraft::default()
        });
        for (index, (length, ends, quantity)) in parts.iter().enumerate() {
            draft.parts.push(PartDraft {
                label: Some(format!("part {index}")),
                section: some("20 x 20"),
                length: some(length),
                quantity: some(quantity),
                ends: some(ends),
                goes: None,
            });
        }
        validate(&draft).expect("the job is sound")
    }

    /// Every order of every choice of parts, each part either way round: (end of the last part, end of the last cut, choice).
    fn arrangements(job: &Job) -> Vec<(i64, i64, Vec<usize>)> {
        let mut found = Vec::new();
        let counts = vec![0; job.parts.len()];
        extend(job, &mut Vec::new(), counts, 0, 0, &mut found);
        found
    }

    fn extend(
        job: &Job,
        chosen: &mut Vec<(usize, PartEnd)>,
        counts: Vec<usize>,
        end: i64,
        filled: i64,
        found: &mut Vec<(i64, i64, Vec<usize>)>,
    ) {
        if !chosen.is_empty() {
            found.push((end, filled, counts.clone()));
        }
        let section = &job.sections[0];
        for (index, part) in job.parts.iter().enumerate() {
            if counts[index] == part.quantity as usize {
                continue;
            }
            let [one, other] = part.ends;
            let ways = match section.turnable {
                Turnable::Yes => vec![[one, other], [other, one]],
                Turnable::No => vec![[one, other]],
            };
            for [near_datum, away] in ways {
                let mut start = filled;
                // Parts with two different mitres are planned without shared cuts.
                let plain = |part: usize| {
                    let ends = job.parts[part].ends;
                    ends[0] == ends[1] || ends.contains(&PartEnd::Square)
                };
                if let Some(&(before, PartEnd::Mitre(angle))) = chosen.last()
                    && near_datum == PartEnd::Mitre(angle)
                    && section.turnable == Turnable::Yes
                    && plain(before)
                    && plain(index)
                {
                    start -= stands_back(section, angle).ticks();
                }
                let end = start + part.length.ticks();
                let mut counts = counts.clone();
                counts[index] += 1;
                chosen.push((index, away));
                let filled = end + cut_width(job.saw.kerf, away).ticks();
                extend(job, chosen, counts, end, filled, found);
                chosen.pop();
            }
        }
    }

    #[track_caller]
    fn agrees_with_every_arrangement(job: &Job, prices: &[i64]) {
        let wood = Wood::of(job, 0).expect("no part is too short");
        let longest = 400 * 3_200;
        let worths = with_steps(10_000_000, |steps| wood.worths(prices, longest, steps));
        let worths = worths.expect("small");
        let all = arrangements(job);
        let worth = |counts: &[usize]| -> i128 {
            counts
                .iter()
                .zip(prices)
                .map(|(count, price)| *count as i128 * i128::from(*price))
                .sum()
        };
        for millimetres in 0..=400 {
            let run = millimetres * 3_200 + 17;
            let fitting = all.iter().filter(|(end, _, _)| *end <= run);
            let best = fitting
                .map(|(_, _, counts)| worth(counts))
                .max()
                .unwrap_or(0)
                .max(0);
            assert_eq!(worths.best(run), best, "a run of {millimetres} mm");
            // The least a fill takes of the run, last cut and all, for each worth that can be had in it.
            let least = all
                .iter()
                .filter(|(end, _, counts)| *end <= run && worth(counts) == best);
            let least = least.map(|(_, filled, _)| *filled).min();
            if best > 0 {
                let listed = worths
                    .touched()
                    .filter(|(laid, worth)| laid.need <= run && *worth == best);
                assert_eq!(
                    listed.map(|(laid, _)| laid.filled).min(),
                    least,
                    "a run of {millimetres} mm"
                );
            }
        }
    }

    #[test]
    fn sums_agree_with_every_order_of_square_parts() {
        let job = job(
            "yes",
            &[
                ("70", "square", "2"),
                ("45.5", "square", "2"),
                ("31", "square", "2"),
            ],
        );
        agrees_with_every_arrangement(&job, &[7, 4, 3]);
        agrees_with_every_arrangement(&job, &[1, 1, 1]);
    }

    #[test]
    fn sums_agree_with_every_order_of_mitred_parts() {
        let job = job(
            "yes",
            &[
                ("60", "45", "2"),
                ("48", "45; square", "3"),
                ("33", "square", "1"),
            ],
        );
        agrees_with_every_arrangement(&job, &[6, 5, 3]);
        agrees_with_every_arrangement(&job, &[5, 1, 1]);
        agrees_with_every_arrangement(&job, &[1, 9, 2]);
    }

    #[test]
    fn sums_agree_with_every_order_of_two_angles() {
        let job = job(
            "yes",
            &[
                ("60", "45", "2"),
                ("52", "square; 30", "2"),
                ("55", "45; 30", "1"),
            ],
        );
        agrees_with_every_arrangement(&job, &[6, 5, 5]);
        agrees_with_every_arrangement(&job, &[11, 10, 12]);
    }

    #[test]
    fn sums_agree_with_every_order_on_a_section_that_may_not_be_turned() {
        let job = job(
            "no",
            &[
                ("60", "45", "2"),
                ("48", "45; square", "2"),
                ("47", "square; 45", "2"),
            ],
        );
        agrees_with_every_arrangement(&job, &[6, 5, 5]);
        agrees_with_every_arrangement(&job, &[6, 5, 4]);
    }

    #[test]
    fn flat_cuts_are_not_shared() {
        let job = job("yes", &[("60", "0.5", "3"), ("48", "0.5; square", "2")]);
        agrees_with_every_arrangement(&job, &[6, 5]);
    }

    #[test]
    fn part_shorter_than_its_mitre_is_left_to_the_planner() {
        let mut job = job("yes", &[("48", "45; square", "1")]);
        job.parts[0].length = timber::length::Length::from_mm(19);
        assert!(Wood::of(&job, 0).is_none());
    }
}
