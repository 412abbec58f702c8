//! What the parts of one nest have come to, as a small machine that a part moves from one state to the next.
//!
//! **Idea.** [`Nest::cuts`] needs to know how many parts of each kind there are. What another part adds depends on less: on whether numbers are odd, on
//! which kinds are there at all, and on how much one colour of ends outnumbers its partner. So counts are first reduced to small ones that every
//! further part adds as much to, and states which no sequence of parts tells apart are then made one (Moore 1956).
//!
//! **Why reducing is sound.** With `m` colours in the nest:
//! * a part both of whose ends are of one pair of partners adds one matched pair and changes no odd number: one of its kind is as good as many;
//! * two parts of a kind with two colours that are their own partners add a matched pair at each and change no odd number: from three on, two are taken off;
//! * two parts with one square end and one colour that is its own partner add one matched pair and two square ends. Where there are already `m` square
//!   ends, no odd end is a right end before or after, and two are taken off while `m` stay;
//! * parts of other kinds are left as they are, up to as many as a run can hold; where all ends of the scarcer partner are those of parts that
//!   have both, one more adds a trail of its own, and one is as good as many.
//!
//! **Why it ends.** Reduced counts are bounded, and so is how many of them are looked at ([`NEST_STATES`]).

use crate::limits::NEST_STATES;
use crate::nesting::{Cuts, Nest};
use crate::problem::Ticks;

/// The machine of a nest. State 0 has no part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct NestStates {
    /// For each state and kind what the cuts take more with such a part, and the state after it.
    steps: Vec<Vec<(Ticks, usize)>>,
    /// For each state what is owed at the end, and the widest cut that can be last.
    ends: Vec<(Ticks, Ticks)>,
}

/// What no run holds.
const TOO_MUCH: Ticks = 1 << 40;

impl NestStates {
    /// The states of a nest of which a run holds at most so many of each kind; `None` where there are too many to be looked at.
    #[cold]
    pub(crate) fn new(nest: &Nest, most: &[u32]) -> Option<NestStates> {
        let limits = nest.limits(most);
        let reduced = |mut counts: Vec<u32>| {
            for (count, limit) in counts.iter_mut().zip(&limits) {
                while *count > limit.most {
                    *count -= limit.period?;
                }
            }
            Some(counts)
        };
        let none = vec![0; nest.kinds.len()];
        // Counts in order, each with its state.
        let mut known = vec![(none.clone(), 0usize)];
        let mut list = vec![(none.clone(), nest.cuts(&none))];
        let mut steps: Vec<Vec<(Ticks, usize)>> = Vec::new();
        while steps.len() < list.len() {
            let (counts, cuts) = list[steps.len()].clone();
            let mut here = Vec::new();
            for kind in 0..nest.kinds.len() {
                let mut more = counts.clone();
                more[kind] += 1;
                let added = nest.cuts(&more).taken - cuts.taken;
                here.push(match reduced(more) {
                    None => (TOO_MUCH, 0),
                    Some(counts) => {
                        let place = known.partition_point(|other| other.0 < counts);
                        let next = match known.get(place) {
                            Some((other, state)) if *other == counts => *state,
                            _ => {
                                known.insert(place, (counts.clone(), list.len()));
                                let cuts = nest.cuts(&counts);
                                list.push((counts, cuts));
                                list.len() - 1
                            }
                        };
                        (added, next)
                    }
                });
            }
            steps.push(here);
            if list.len() > NEST_STATES {
                return None;
            }
        }
        let ends = list.iter().map(|(_, cuts)| ending(cuts)).collect();
        Some(NestStates { steps, ends }.merged())
    }

    /// How many states there are.
    pub(crate) fn len(&self) -> usize {
        self.ends.len()
    }

    /// What a part of a kind adds to what the cuts take, and the state after it.
    pub(crate) fn add(&self, state: usize, kind: usize) -> (Ticks, usize) {
        self.steps[state][kind]
    }

    /// The least that a part of a kind adds in any state.
    pub(crate) fn least(&self, kind: usize) -> Ticks {
        self.steps
            .iter()
            .map(|step| step[kind].0)
            .min()
            .unwrap_or(0)
    }

    /// What is owed in a state at the end, and the widest cut that can be last.
    pub(crate) fn end(&self, state: usize) -> (Ticks, Ticks) {
        self.ends[state]
    }

    /// The same with states made one that no parts tell apart: they end alike, each kind adds as much, and leads to states that are one.
    fn merged(self) -> NestStates {
        let mut class = first_of(&self.ends);
        loop {
            let signs: Vec<_> = (0..self.len())
                .map(|state| {
                    let steps = self.steps[state].iter();
                    let steps: Vec<_> = steps.map(|step| (step.0, class[step.1])).collect();
                    (class[state], steps)
                })
                .collect();
            let finer = first_of(&signs);
            if finer == class {
                break;
            }
            class = finer;
        }
        // The states were found breadth first, so that those kept are numbered in the order in which parts lead to them.
        let kept: Vec<usize> = (0..self.len())
            .filter(|&state| class[state] == state)
            .collect();
        let place = |state: usize| kept.binary_search(&class[state]).unwrap_or(0);
        NestStates {
            steps: kept
                .iter()
                .map(|&state| {
                    let steps = self.steps[state].iter();
                    steps.map(|&(added, next)| (added, place(next))).collect()
                })
                .collect(),
            ends: kept.iter().map(|&state| self.ends[state]).collect(),
        }
    }
}

fn ending(cuts: &Cuts) -> (Ticks, Ticks) {
    (cuts.owed, cuts.last)
}

/// For each place the first that holds the same.
fn first_of<T: PartialEq>(values: &[T]) -> Vec<usize> {
    let first = |value: &T| values.iter().position(|other| other == value);
    values
        .iter()
        .map(|value| first(value).unwrap_or(0))
        .collect()
}
