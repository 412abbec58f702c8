//! Sizes within their ranges: which of all the sizes that a person allows make the plan best, and of those the closest to what is wanted.
//!
//! **Idea.** A part that is shorter never costs more, so with every part at its least the plan is as good as any within the ranges; that decides what can
//! be reached. A size of a set-out moves parts and counts at once, so it is tried step by step, one size after another, for as long as that helps. Then the
//! sizes go back towards what is wanted while the plan stays as good: first together, as far as the runs of the plan at hand have room (a linear program
//! over the lengths, `together`), then one by one, each as far as exact plans allow.
//!
//! **Invariant.** The sizes at hand always have a plan with the best figures found. **Why it ends:** in the first half the figures get less with each step
//! that is kept, in the second the sum of what sizes miss; both are whole numbers that cannot go below zero.

mod together;
mod words;

pub use words::{chosen_text, told_text};

use crate::draft::JobDraft;
use crate::fault::Place;
use crate::figures::Figures;
use crate::job::Job;
use crate::length::{Length, typed};
use crate::patience::{Clock, Limits};
use crate::plan::Measure;
use crate::trials::{Trial, Trials};
use timber::edit::{Edit, edited};
use timber::give::{self, Gives};

/// Most steps in which the range of a size of a set-out is tried.
const MOST_STEPS: i64 = 240;

/// The sizes of a job, chosen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chosen {
    /// The job as written, with each size that was not kept written as chosen, and what was wanted beside it.
    pub draft: JobDraft,
    /// What that writes into the job.
    pub edits: Vec<Edit>,
    /// Every size that has a range.
    pub sizes: Vec<ChosenSize>,
    /// What is known of the plan.
    pub best: Best,
    /// What is known of how close the sizes are to what is wanted.
    pub closest: Closest,
    /// The least that a plan within the ranges was found to cost, as the aim counts it; none where there was no time for one.
    pub least: Vec<(Measure, i64)>,
}

/// A size within its range.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChosenSize {
    /// Its field.
    pub place: Place,
    /// What is wanted.
    pub wanted: Length,
    /// What was chosen.
    pub chosen: Length,
    /// From what to what it may be.
    pub range: [Length; 2],
}

/// What is known of the plan with the sizes chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Best {
    /// No sizes within the ranges have a better plan: the checker has shown it of the plan with every part at its least.
    Proven,
    /// None were found.
    Found,
}

/// How close the sizes are to what is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Closest {
    /// All are as wanted.
    AsWanted,
    /// One part alone has a range, and its next step towards what is wanted costs more, as the planner has settled.
    OneStep,
    /// The closest that were found.
    Found,
}

/// Chooses sizes within their ranges; `None` where no size has one.
pub fn choose(draft: &JobDraft, job: &Job, limits: Limits, clock: &Clock) -> Option<Chosen> {
    let ranges = ranges(job);
    if ranges.is_empty() {
        return None;
    }
    let mut search = Search {
        job,
        trials: Trials::new(draft, limits, clock),
        at: ranges.iter().map(|range| range.wanted).collect(),
        ranges,
    };
    let (best, closest, least) = search.run();
    let Search { ranges, at, .. } = search;
    let mut edits = Vec::new();
    let mut sizes = Vec::new();
    for (range, chosen) in ranges.into_iter().zip(at) {
        if chosen != range.wanted {
            edits.push(edit(&range, chosen, job));
        }
        sizes.push(ChosenSize {
            place: range.place,
            wanted: range.wanted,
            chosen,
            range: [range.least, range.most],
        });
    }
    Some(Chosen {
        draft: edited(draft, &edits)?,
        edits,
        sizes,
        best,
        closest,
        least: least.levels(),
    })
}

/// The job as written with these lengths for sizes that have ranges, as a plan says it was made for.
///
/// # Errors
/// A sentence about a length that no range of the job allows.
pub fn as_planned(
    draft: &JobDraft,
    job: &Job,
    lengths: &[(Place, Length)],
) -> Result<JobDraft, String> {
    let ranges = ranges(job);
    let mut edits = Vec::new();
    for (place, length) in lengths {
        let allows = |range: &&Range| {
            range.place == *place && range.least <= *length && *length <= range.most
        };
        let Some(range) = ranges.iter().find(allows) else {
            return Err(format!(
                "the plan is for another length of {place} than the job allows"
            ));
        };
        if *length != range.wanted {
            edits.push(edit(range, *length, job));
        }
    }
    edited(draft, &edits)
        .ok_or_else(|| "the plan is for sizes that the job does not have".to_owned())
}

/// What writes a length in place of the one wanted.
fn edit(range: &Range, chosen: Length, job: &Job) -> Edit {
    let [chosen, wanted] = [chosen, range.wanted].map(|length| typed(length, job.reading));
    Edit {
        place: range.place.clone(),
        text: give::chosen(&chosen, &wanted),
    }
}

/// A size that gives.
struct Range {
    place: Place,
    wanted: Length,
    least: Length,
    most: Length,
    /// The rows of what is cut that are this part; none where shorter may cost more.
    part: Option<usize>,
}

fn ranges(job: &Job) -> Vec<Range> {
    let sizes = job.sizes.iter();
    let ranges = sizes.filter_map(|size| match size.gives {
        Gives::Between(least, most) if least < most => Some(Range {
            place: size.place.clone(),
            wanted: size.length,
            least,
            most,
            part: plain_part(job, &size.place),
        }),
        _ => None,
    });
    ranges.collect()
}

/// The row of a part that is cut by itself.
fn plain_part(job: &Job, place: &Place) -> Option<usize> {
    let row = place.row.filter(|_| place.list == "parts")?;
    let mut of_row = job.list.iter().filter(|part| part.row == Some(row));
    of_row.all(|part| part.rip.is_none()).then_some(row)
}

struct Search<'a> {
    job: &'a Job,
    trials: Trials<'a>,
    ranges: Vec<Range>,
    /// The sizes at hand.
    at: Vec<Length>,
}

impl Search<'_> {
    fn run(&mut self) -> (Best, Closest, Figures) {
        let wanted = self.at.clone();
        let as_wanted = self.figures(&wanted);
        for (size, range) in self.at.iter_mut().zip(&self.ranges) {
            if range.part.is_some() {
                *size = range.least;
            }
        }
        let least = self.at.clone();
        let Some(mut best) = self.figures(&least).or(as_wanted.clone()) else {
            // Nothing can be planned in the time there is: the sizes stay.
            self.at = wanted;
            return (Best::Found, Closest::AsWanted, Figures::default());
        };
        let steady = self.ranges.iter().all(|range| range.part.is_some());
        while !steady && self.lower(&mut best) {}
        let closest = match as_wanted {
            Some(figures) if !best.better_than(&figures) => {
                self.at = wanted;
                Closest::AsWanted
            }
            _ => {
                self.go_back(&best);
                match steady && self.next_step_costs(&best) {
                    true => Closest::OneStep,
                    false => Closest::Found,
                }
            }
        };
        let shown = steady && {
            let edits = self.edits(&least);
            let shown = self.trials.checked(&edits);
            shown.is_some_and(|(figures, shown)| {
                shown && !best.better_than(&figures) && !figures.better_than(&best)
            })
        };
        let is_best = if shown { Best::Proven } else { Best::Found };
        (is_best, closest, best)
    }

    /// Tries every step of each size of a set-out, and keeps what makes the plan better. Whether something did.
    fn lower(&mut self, best: &mut Figures) -> bool {
        let mut found = false;
        for index in 0..self.ranges.len() {
            if self.ranges[index].part.is_some() {
                continue;
            }
            for size in self.steps(index) {
                if self.trials.is_over() {
                    return false;
                }
                let mut tried = self.at.clone();
                tried[index] = size;
                let Some(figures) = self.figures(&tried) else {
                    continue;
                };
                if figures.better_than(best) {
                    *best = figures;
                    self.at = tried;
                    found = true;
                }
            }
        }
        found
    }

    /// Brings the sizes back towards what is wanted while the plan stays as good.
    fn go_back(&mut self, best: &Figures) {
        if let Some(tried) = together::closer(self.job, &self.planned(), &self.at)
            && self.is_as_good(&tried, best)
        {
            self.at = tried;
        }
        loop {
            let before = self.missed();
            for index in 0..self.ranges.len() {
                if self.trials.is_over() {
                    return;
                }
                match self.ranges[index].part {
                    Some(_) => self.halve(index, best),
                    None => self.nearest(index, best),
                }
            }
            if self.missed() >= before {
                return;
            }
        }
    }

    /// The nearest length of a part to the wanted one at which the plan is as good: shorter never costs more, so halving finds it.
    fn halve(&mut self, index: usize, best: &Figures) {
        let range = &self.ranges[index];
        let (wanted, least, step) = (range.wanted, range.least, self.job.step);
        // So many steps below what is wanted; zero is that itself.
        let length = |n: i64| match n {
            0 => wanted,
            n => wanted.nth_below(step, n).max(least),
        };
        let at = self.at[index];
        let mut does = (wanted.ticks() - at.ticks()).div_euclid(step.ticks().max(1)) + 1;
        let mut not = -1;
        while does - not > 1 {
            let middle = not + (does - not) / 2;
            let mut tried = self.at.clone();
            tried[index] = length(middle);
            match self.is_as_good(&tried, best) {
                true => does = middle,
                false => not = middle,
            }
        }
        let found = length(does);
        if (wanted - found).ticks().abs() < (wanted - at).ticks().abs() {
            self.at[index] = found;
        }
    }

    /// Whether there is one part alone with a range, and its next step towards what is wanted costs more, which the planner has settled.
    fn next_step_costs(&mut self, best: &Figures) -> bool {
        let (&[at], [range]) = (&self.at[..], &self.ranges[..]) else {
            return false;
        };
        let next = at.nth_above(self.job.step, 1).min(range.wanted);
        let edits = self.edits(&[next]);
        match self.trials.tried(&edits) {
            Trial::Planned {
                figures,
                best: settled,
            } => settled && best.better_than(&figures),
            Trial::None => true,
            Trial::NotSettled => false,
        }
    }

    /// The nearest size of a set-out to the wanted one at which the plan is as good, tried from the wanted one outwards.
    fn nearest(&mut self, index: usize, best: &Figures) {
        let wanted = self.ranges[index].wanted;
        let off = |size: Length| (size - wanted).ticks().abs();
        let at = self.at[index];
        let mut steps = self.steps(index);
        order::sort_by_key(&mut steps, |size| off(*size));
        for size in steps.into_iter().take_while(|size| off(*size) < off(at)) {
            if self.trials.is_over() {
                return;
            }
            let mut tried = self.at.clone();
            tried[index] = size;
            if self.is_as_good(&tried, best) {
                self.at[index] = size;
                return;
            }
        }
    }

    /// The sizes of a range that are tried: what is wanted, and whole steps from the least to the most.
    fn steps(&self, index: usize) -> Vec<Length> {
        let range = &self.ranges[index];
        let step = self.job.trial_step();
        let span = range.most.ticks() - range.least.ticks();
        // A wide range is tried in coarser steps.
        let times = (span / step.ticks() / MOST_STEPS).max(0) + 1;
        let step = Length::from_ticks(step.ticks() * times);
        let first = range.least.up_to(step);
        let whole = (0..).map(|n| Length::from_ticks(first.ticks() + n * step.ticks()));
        let whole = whole.take_while(|size| *size <= range.most);
        [range.wanted].into_iter().chain(whole).collect()
    }

    fn is_as_good(&mut self, sizes: &[Length], best: &Figures) -> bool {
        self.figures(sizes)
            .is_some_and(|figures| !best.better_than(&figures))
    }

    fn figures(&mut self, sizes: &[Length]) -> Option<Figures> {
        let edits = self.edits(sizes);
        match self.trials.tried(&edits) {
            Trial::Planned { figures, .. } => Some(figures),
            Trial::None | Trial::NotSettled => None,
        }
    }

    fn edits(&self, sizes: &[Length]) -> Vec<Edit> {
        let edits = self.ranges.iter().zip(sizes);
        edits
            .map(|(range, size)| Edit {
                place: range.place.clone(),
                text: typed(*size, self.job.reading),
            })
            .collect()
    }

    /// What all sizes miss together, in ticks.
    fn missed(&self) -> i64 {
        let sizes = self.at.iter().zip(&self.ranges);
        sizes
            .map(|(size, range)| (*size - range.wanted).ticks().abs())
            .sum()
    }

    /// The parts with ranges, and the plan with the sizes at hand.
    fn planned(&mut self) -> together::Planned {
        let edits = self.edits(&self.at);
        let job = self.trials.changed(&edits);
        let boards = job.map(|job| {
            let groups = crate::group::groups(&job);
            let plans = groups
                .iter()
                .filter_map(|group| self.trials.plan(&job, group));
            let boards = plans.flat_map(|plan| plan.boards).collect();
            (job, boards)
        });
        together::Planned {
            boards,
            parts: self
                .ranges
                .iter()
                .map(|range| (range.part, range.wanted))
                .collect(),
        }
    }
}
