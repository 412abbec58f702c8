//! How parts add up in a run, one part at a time: the states of the knapsack.
//!
//! **Idea.** [`Section::lay`] needs to know all parts of a run at once, since mitred ends pair up. Here the same sum is taken part by
//! part: a small *state* remembers what the pairing needs (for each mitre whose cuts are shared: no such part yet, only parts
//! with both ends in the chain, an odd or an even number of parts with one end in it; and the widest cut that any other part has). Each part then
//! adds a fixed amount to the fill, chosen by the state, and the state tells at the end what the run needs. A state space of this kind makes
//! dynamic programming possible wherever a sum does not depend on order (Bellman 1957).
//!
//! **Invariant.** Whatever the order parts were added in, fill and state give the need that [`Section::lay`] gives. **Why it ends:** no loop but
//! over parts and mitres.

use crate::problem::{Need, Problem, Section, Ticks, Trailing};

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
    /// Both ends in the chain of a class.
    Both { amount: Ticks, class: usize },
    /// One end in the chain of a class; what it adds depends on whether it pairs with another.
    One {
        unpaired: Ticks,
        paired: Ticks,
        class: usize,
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
    /// The mitres whose cuts are shared: (kerf, saving).
    classes: Vec<(Ticks, Ticks)>,
    kerf: Ticks,
}

const NONE: usize = 0;
const BOTH: usize = 1;
const ODD: usize = 2;
const EVEN: usize = 3;

impl RunStates {
    /// The states of a section's runs.
    pub(crate) fn new(problem: &Problem, section: &Section) -> Self {
        let turnable = section.mitres.iter().any(|mitre| mitre.saving > 0);
        let trailing: Vec<(usize, Trailing)> = (0..problem.demand.len())
            .filter_map(|part| Some((part, section.trailing(section.fits[part]?.ends, turnable))))
            .collect();
        let cuts = ascending(trailing.iter().filter_map(|&(_, trailing)| match trailing {
            Trailing::Own(cut) => Some(cut),
            _ => None,
        }));
        let mitres = ascending(trailing.iter().filter_map(|&(_, trailing)| match trailing {
            Trailing::Both(mitre) | Trailing::One(mitre) => Some(mitre),
            Trailing::Own(_) => None,
        }));
        let items = trailing
            .iter()
            .filter_map(|&(part, trailing)| Item::new(section, part, trailing, (&cuts, &mitres)))
            .collect();
        let classes: Vec<(Ticks, Ticks)> = mitres
            .iter()
            .map(|&mitre| (section.mitres[mitre].kerf, section.mitres[mitre].saving))
            .collect();
        let overhang = cuts
            .iter()
            .copied()
            .chain(classes.iter().map(|class| class.0))
            .chain([section.kerf])
            .max()
            .unwrap_or(0);
        // With one kind of cut and no classes the state "not empty" needs no digit: any fill above zero has that cut.
        let ranks = if cuts.len() <= 1 && classes.is_empty() {
            1
        } else {
            cuts.len() + 1
        };
        // So many that they overflow are more than anyone goes through.
        let states = ranks.saturating_mul(4usize.saturating_pow(classes.len() as u32));
        RunStates {
            items,
            states,
            overhang,
            cuts,
            classes,
            kerf: section.kerf,
        }
    }

    /// What adding `item` to a run in `state` adds to the fill, and the state after it.
    pub(crate) fn add(&self, item: &Item, state: usize) -> (Ticks, usize) {
        match item.adding {
            Adding::Own { amount, .. } if self.states == 1 => (amount, 0),
            Adding::Own { amount, rank } => {
                let digit = state % (self.cuts.len() + 1);
                (amount, state - digit + digit.max(rank))
            }
            Adding::Both { amount, class } => {
                let weight = self.weight(class);
                let digit = state / weight % 4;
                (
                    amount,
                    if digit == NONE {
                        state + BOTH * weight
                    } else {
                        state
                    },
                )
            }
            Adding::One {
                unpaired,
                paired,
                class,
            } => {
                let weight = self.weight(class);
                let digit = state / weight % 4;
                let (amount, next) = if digit == ODD {
                    (paired, EVEN)
                } else {
                    (unpaired, ODD)
                };
                (amount, state - digit * weight + next * weight)
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
        for (class, &(kerf, saving)) in self.classes.iter().enumerate() {
            match state / self.weight(class) % 4 {
                NONE => {}
                BOTH => {
                    length += saving;
                    last_cut = last_cut.max(kerf);
                }
                _ => last_cut = last_cut.max(self.kerf),
            }
        }
        Need {
            length: length - last_cut,
            last_cut,
        }
    }

    fn weight(&self, class: usize) -> usize {
        (self.cuts.len() + 1) * 4usize.pow(class as u32)
    }
}

impl Item {
    /// A part as it is added to a run, where `cuts` and `mitres` are the widths and the angles that make up states.
    fn new(
        section: &Section,
        part: usize,
        trailing: Trailing,
        (cuts, mitres): (&[Ticks], &[usize]),
    ) -> Option<Item> {
        let length = section.fits[part]?.length;
        let link = |mitre: usize| {
            let mitre = section.mitres[mitre];
            length + mitre.kerf - mitre.saving
        };
        let class = |mitre: usize| mitres.binary_search(&mitre).unwrap_or(0);
        let (least, adding) = match trailing {
            Trailing::Own(cut) => {
                let amount = length + cut;
                let rank = cuts.binary_search(&cut).map_or(0, |rank| rank + 1);
                (amount, Adding::Own { amount, rank })
            }
            Trailing::Both(mitre) => {
                let (amount, class) = (link(mitre), class(mitre));
                (amount, Adding::Both { amount, class })
            }
            Trailing::One(mitre) => {
                let (unpaired, paired) = (length + section.kerf, link(mitre));
                let adding = Adding::One {
                    unpaired,
                    paired,
                    class: class(mitre),
                };
                (unpaired.min(paired), adding)
            }
        };
        Some(Item {
            part,
            least,
            alone: section.need(&[(part, 1)]),
            adding,
        })
    }
}

/// The different values, ascending.
fn ascending<T: Ord>(values: impl Iterator<Item = T>) -> Vec<T> {
    let mut values: Vec<T> = values.collect();
    order::sort(&mut values);
    values.dedup();
    values
}
