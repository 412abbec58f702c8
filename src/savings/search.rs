//! Searches series of changes for the first that saves.

use super::change::Change;
use super::found::{Least, Reserve, Room, Saving};
use super::ideas::{Idea, Longer, Way};
use crate::figures::Figures;
use crate::job::Job;
use crate::trials::{Trial, Trials};
use std::cmp::Ordering;

/// Changes of a job, tried.
pub struct Tried<'a> {
    /// The job.
    pub job: &'a Job,
    /// What tries them.
    pub trials: Trials<'a>,
}

impl Tried<'_> {
    /// What the plan today comes to.
    fn base(&self) -> &Figures {
        &self.trials.base
    }

    /// Whether time is up.
    pub fn is_over(&self) -> bool {
        self.trials.is_over()
    }

    fn tried(&mut self, change: &Change) -> Trial {
        self.trials.tried(&change.edits(self.job))
    }

    fn checked(&mut self, change: &Change) -> Option<(Figures, bool)> {
        self.trials.checked(&change.edits(self.job))
    }
}

/// A change that saves, says the planner.
pub struct Hope {
    /// Which idea it is of, and which change of that.
    idea: usize,
    nth: u32,
    /// The change.
    pub change: Change,
    figures: Figures,
    /// Whether each change before it that was tried was settled.
    settled: bool,
}

/// The share of the time, in thousandths, after which no more ideas are tried: what was found by then has to be checked before it is told.
const TRYING: u32 = 600;

/// The first change of each idea that saves, the best first: those that a person can decide on, then the others; and whether there was time to try every
/// idea.
pub fn hopeful(ideas: &[Idea], trials: &mut Tried) -> (Vec<Hope>, bool) {
    let mut found: Vec<Hope> = Vec::new();
    let mut whole = true;
    for (index, idea) in ideas.iter().enumerate() {
        if trials.trials.spent() > TRYING {
            whole = false;
            break;
        }
        let first = match idea.way {
            Way::Halving => by_halving(idea, trials).map(|(nth, figures)| (nth, figures, true)),
            Way::OneByOne => one_by_one(idea, trials),
        };
        let Some((nth, figures, settled)) = first else {
            continue;
        };
        let hope = Hope {
            idea: index,
            nth,
            change: (idea.at)(nth),
            figures,
            settled,
        };
        let rival = |other: &Hope| idea.rivals.is_some() && ideas[other.idea].rivals == idea.rivals;
        match found.iter_mut().find(|other| rival(other)) {
            Some(other) if hope.figures.better_than(&other.figures) => *other = hope,
            Some(_) => {}
            None => found.push(hope),
        }
    }
    order::sort_by(&mut found, |one, other| {
        let told_later = |hope: &Hope| !hope.change.can_be_taken();
        told_later(one).cmp(&told_later(other)).then_with(|| {
            match (
                one.figures.better_than(&other.figures),
                other.figures.better_than(&one.figures),
            ) {
                (true, _) => Ordering::Less,
                (_, true) => Ordering::Greater,
                _ => Ordering::Equal,
            }
        })
    });
    (found, whole)
}

/// The figures of a change that saves.
fn saves(idea: &Idea, nth: u32, trials: &mut Tried) -> Option<Figures> {
    match trials.tried(&(idea.at)(nth)) {
        Trial::Planned { figures, .. } if figures.better_than(trials.base()) => Some(figures),
        _ => None,
    }
}

/// Halving: the change at `not` does not save, the one at `does` does, and each look halves what is between them.
fn by_halving(idea: &Idea, trials: &mut Tried) -> Option<(u32, Figures)> {
    let mut found = (idea.most, saves(idea, idea.most, trials)?);
    let mut not = 0;
    while found.0 - not > 1 {
        let middle = not + (found.0 - not) / 2;
        match saves(idea, middle, trials) {
            Some(figures) => found = (middle, figures),
            None => not = middle,
        }
    }
    Some(found)
}

/// Each change in turn; with the first that saves, whether every one before was settled.
fn one_by_one(idea: &Idea, trials: &mut Tried) -> Option<(u32, Figures, bool)> {
    let mut settled = true;
    for nth in 1..=idea.most {
        match trials.tried(&(idea.at)(nth)) {
            Trial::Planned { figures, .. } if figures.better_than(trials.base()) => {
                return Some((nth, figures, settled));
            }
            Trial::Planned { best, .. } => settled &= best,
            Trial::None => {}
            Trial::NotSettled => settled = false,
        }
    }
    None
}

/// The saving, where the checker accepts its plan and finds it better than today's.
pub fn verified(hope: &Hope, ideas: &[Idea], trials: &mut Tried) -> Option<Saving> {
    let (figures, _) = trials.checked(&hope.change)?;
    if !figures.better_than(trials.base()) {
        return None;
    }
    let idea = &ideas[hope.idea];
    // Other sizes within their ranges might do with less.
    let least = match (hope.nth, idea.way) {
        (1, _) => Least::Smallest,
        _ if trials.job.has_free_sizes() => Least::Claimed,
        (_, Way::OneByOne) if hope.settled => Least::Tried,
        (_, Way::OneByOne) => Least::Claimed,
        (nth, Way::Halving) => match trials.checked(&(idea.at)(nth - 1)) {
            Some((less, true)) if !less.better_than(trials.base()) => Least::Proven,
            _ => Least::Claimed,
        },
    };
    Some(Saving {
        change: hope.change.clone(),
        gain: figures.less_than(trials.base()),
        least,
    })
}

/// How long a part could be for nothing: doubled until it costs something, then halved. `None` where it is not a step longer.
pub fn room(part: &Longer, trials: &mut Tried) -> Option<Room> {
    let free = |nth: u32, trials: &mut Tried| {
        let base = trials.base().clone();
        matches!(trials.tried(&(part.at)(nth)), Trial::Planned { figures, .. } if !base.better_than(&figures))
    };
    let (mut does, mut not) = (0, part.most.saturating_add(1));
    let mut next = 1;
    while next < not {
        if free(next, trials) {
            does = next;
            next = next
                .saturating_mul(2)
                .min(not.saturating_sub(1))
                .max(next + 1);
        } else {
            not = next;
        }
    }
    while not - does > 1 {
        let middle = does + (not - does) / 2;
        match free(middle, trials) {
            true => does = middle,
            false => not = middle,
        }
    }
    if does == 0 {
        return None;
    }
    let change = (part.at)(does);
    let (figures, _) = trials.checked(&change)?;
    match change {
        Change::Part { row, from, to } if !trials.base().better_than(&figures) => {
            Some(Room { row, from, to })
        }
        _ => None,
    }
}

/// What a spare costs; `None` where there was no time to tell.
pub fn reserve(change: Change, trials: &mut Tried) -> Option<Reserve> {
    let (figures, _) = trials.checked(&change)?;
    Some(Reserve {
        change,
        gain: figures.less_than(trials.base()),
    })
}
