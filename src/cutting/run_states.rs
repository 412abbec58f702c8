//! How parts add up in a run, one part at a time: the states of the knapsack.
//!
//! **Idea.** [`Section::lay`] needs to know all parts of a run at once, since mitred ends pair up. Here the same sum is taken part by
//! part: a small *state* remembers what the pairing needs (for each nest of parts that may share cuts a state of [`NestStates`], and the widest cut that
//! any other part has). Each part then adds a fixed amount to the fill, chosen by the state, and the state tells at the end what the run
//! needs. A state space of this kind makes dynamic programming possible wherever a sum does not depend on order (Bellman 1957).
//!
//! **Invariant.** Whatever the order parts were added in, fill and state give the need that [`Section::lay`] gives. **Why it ends:** no loop but
//! over parts and nests.

use crate::nest_states::NestStates;
use crate::nesting::Nests;
use crate::problem::{Need, Problem, Section, Shape, Ticks};

/// A part, as it is added to a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Item {
    /// Index of the part.
    pub(crate) part: usize,
    /// The least it adds to any fill.
    pub(crate) least: Ticks,
    /// The run it needs when it lies there alone.
    pub(crate) alone: Ticks,
    adding: Adding,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Adding {
    /// Adds its length and a cut of its own; the digit is the rank of the cut.
    Own { amount: Ticks, rank: usize },
    /// Adds its length and what the cuts of its nest take more.
    Nested {
        length: Ticks,
        nest: usize,
        kind: usize,
    },
}

/// How parts add up on one section.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct RunStates {
    /// The parts that may be made of this section.
    pub(crate) items: Vec<Item>,
    /// How many states there are; state 0 is the empty run.
    pub(crate) states: usize,
    /// The widest cut that may come last: a fill may pass the end of a run by so much.
    pub(crate) overhang: Ticks,
    /// Widths of the cuts that parts have to themselves, ascending.
    cuts: Vec<Ticks>,
    /// The nests of parts that share cuts, each with its weight in the number of a state.
    nests: Vec<(NestStates, usize)>,
}

impl RunStates {
    /// The states of a section's runs. Where there are too many to be told apart, there are no items and as many states as can be said.
    pub(crate) fn new(problem: &Problem, section: &Section) -> Self {
        let nests = Nests::of(section, |part| problem.demand[part]);
        let alone = |part: usize| {
            let lies = nests.place(part).is_none() && !section.posts.contains(&part);
            let fit = section.fits[part].filter(|_| lies)?;
            Some(section.own_cut(fit))
        };
        let cuts = ascending((0..problem.demand.len()).filter_map(alone));
        let widest = section.mitres.iter().map(|mitre| mitre.kerf);
        let overhang = widest.chain([section.kerf]).max().unwrap_or(0);
        // With one kind of cut and no nest the state "not empty" needs no digit: any fill above zero has that cut.
        let ranks = if cuts.len() <= 1 && nests.nests.is_empty() {
            1
        } else {
            cuts.len() + 1
        };
        let most = most_of_each_kind(problem, section, &nests);
        // So many that they overflow are more than anyone goes through.
        let mut states = ranks;
        let mut machines = Vec::new();
        for (nest, most) in nests.nests.iter().zip(&most) {
            match NestStates::new(nest, most) {
                Some(machine) => {
                    let weight = states;
                    states = states.saturating_mul(machine.len());
                    machines.push((machine, weight));
                }
                None => states = usize::MAX,
            }
        }
        if states == usize::MAX {
            return RunStates {
                items: Vec::new(),
                states,
                overhang,
                cuts,
                nests: Vec::new(),
            };
        }
        let mut run_states = RunStates {
            items: Vec::new(),
            states,
            overhang,
            cuts,
            nests: machines,
        };
        run_states.items = (0..problem.demand.len())
            .filter_map(|part| run_states.item(section, &nests, part))
            .collect();
        run_states
    }

    fn item(&self, section: &Section, nests: &Nests, part: usize) -> Option<Item> {
        let fit = section.fits[part].filter(|_| !section.posts.contains(&part))?;
        let (least, adding) = match nests.place(part) {
            Some((nest, kind)) => {
                let least = fit.length + self.nests[nest].0.least(kind);
                let length = fit.length;
                (least, Adding::Nested { length, nest, kind })
            }
            None => {
                let cut = section.own_cut(fit);
                let rank = self.cuts.binary_search(&cut).map_or(0, |rank| rank + 1);
                let amount = fit.length + cut;
                (amount, Adding::Own { amount, rank })
            }
        };
        Some(Item {
            part,
            least,
            alone: section.need(&[(part, 1)]),
            adding,
        })
    }

    /// What adding `item` to a run in `state` adds to the fill, and the state after it.
    pub(crate) fn add(&self, item: &Item, state: usize) -> (Ticks, usize) {
        match item.adding {
            Adding::Own { amount, .. } if self.states == 1 => (amount, 0),
            Adding::Own { amount, rank } => {
                let digit = state % (self.cuts.len() + 1);
                (amount, state - digit + digit.max(rank))
            }
            Adding::Nested { length, nest, kind } => {
                let (machine, weight) = &self.nests[nest];
                let digit = state / weight % machine.len();
                let (added, next) = machine.add(digit, kind);
                (length + added, state - digit * weight + next * weight)
            }
        }
    }

    /// What a run with this fill, reached in this state, needs. The empty run needs zero.
    pub(crate) fn need(&self, fill: Ticks, state: usize) -> Need {
        if fill == 0 {
            return Need {
                length: 0,
                last_cut: 0,
            };
        }
        if self.states == 1 {
            let last_cut = self.cuts.first().copied().unwrap_or(0);
            return Need {
                length: fill - last_cut,
                last_cut,
            };
        }
        let rank = state % (self.cuts.len() + 1);
        let mut last_cut = if rank == 0 { 0 } else { self.cuts[rank - 1] };
        let mut length = fill;
        for (machine, weight) in &self.nests {
            let (owed, last) = machine.end(state / weight % machine.len());
            length += owed;
            last_cut = last_cut.max(last);
        }
        Need {
            length: length - last_cut,
            last_cut,
        }
    }
}

/// For each kind of each nest the most parts of it that a run holds.
fn most_of_each_kind(problem: &Problem, section: &Section, nests: &Nests) -> Vec<Vec<u32>> {
    let rooms = problem.boards.iter().flat_map(|board| match &board.shape {
        Shape::Runs(runs) => runs.iter().map(|run| run.length).max(),
        Shape::OneCut { each, .. } => Some(each[0].max(each[1])),
    });
    let longest = rooms.max().unwrap_or(0);
    let mut most: Vec<Vec<u32>> = nests
        .nests
        .iter()
        .map(|nest| vec![0; nest.kinds.len()])
        .collect();
    let mut shortest: Vec<Vec<Ticks>> = nests
        .nests
        .iter()
        .map(|nest| vec![Ticks::MAX; nest.kinds.len()])
        .collect();
    for (part, fit) in section.fits.iter().enumerate() {
        if let (Some((nest, kind)), Some(fit)) = (nests.place(part), fit) {
            most[nest][kind] = most[nest][kind].saturating_add(problem.demand[part]);
            shortest[nest][kind] = shortest[nest][kind].min(fit.length);
        }
    }
    let widest = section
        .mitres
        .iter()
        .map(|mitre| mitre.saving)
        .max()
        .unwrap_or(0);
    for (most, shortest) in most
        .iter_mut()
        .flatten()
        .zip(shortest.into_iter().flatten())
    {
        // Each part takes its length less at most two savings and more than zero.
        let each = (shortest - 2 * widest).max(1);
        let holds = (longest / each + 2).min(Ticks::from(u32::MAX));
        *most = (*most).min(holds as u32);
    }
    most
}

/// The different values, ascending.
fn ascending<T: Ord>(values: impl Iterator<Item = T>) -> Vec<T> {
    let mut values: Vec<T> = values.collect();
    order::sort(&mut values);
    values.dedup();
    values
}
