//! The tree of nodes as a certificate will tell it.
//!
//! **Invariant.** Every place is open, settled, searched, closed by a written search, or split in two that come later in the list. Once the tree has
//! more places than are written down, what only a certificate would tell is let go of, and the root's bound alone is told. **Why it ends:** a walk
//! visits each place once.

use crate::branch_path::Counted;
use proof::certificate::{Branch, Leaf, Pairing, Twig};

/// A place of the tree.
pub(crate) enum TreePlace {
    /// Not settled; the prices show its bound.
    Open(Leaf),
    /// Settled by prices.
    Settled(Leaf),
    /// Settled by a search that is not written down.
    Searched(Leaf),
    /// Settled by a search that is.
    Closed(Leaf, Vec<Twig>),
    /// Settled by a search over pairs that is.
    Paired(Leaf, Vec<Pairing>),
    /// Split on how many of a set of boards are used, or of their offcuts kept: the places of both sides.
    Split {
        boards: Vec<usize>,
        counted: Counted,
        at: u32,
        at_most: usize,
        at_least: usize,
    },
}

/// The tree, root first.
#[derive(Default)]
pub(crate) struct ProofTree {
    places: Vec<TreePlace>,
    /// How many places are written down at the most.
    most_written: usize,
}

impl ProofTree {
    /// A root with its prices.
    pub(crate) fn new(root: Leaf, most_written: usize) -> Self {
        ProofTree {
            places: vec![TreePlace::Open(root)],
            most_written,
        }
    }

    /// How many places there are.
    pub(crate) fn len(&self) -> usize {
        self.places.len()
    }

    /// Whether the tree is small enough to be written down.
    pub(crate) fn is_written(&self) -> bool {
        self.places.len() <= self.most_written
    }

    /// The prices of a place that is open.
    pub(crate) fn open(&self, at: usize) -> Option<&Leaf> {
        match &self.places[at] {
            TreePlace::Open(leaf) => Some(leaf),
            _ => None,
        }
    }

    /// Puts something else in a place.
    pub(crate) fn set(&mut self, at: usize, place: TreePlace) {
        self.places[at] = place;
    }

    /// Settles a place by the prices it has.
    pub(crate) fn settle(&mut self, at: usize) {
        if let TreePlace::Open(leaf) = &self.places[at] {
            self.places[at] = TreePlace::Settled(leaf.clone());
        }
    }

    /// Splits an open place; returns the place of the side with fewer, behind which comes the other.
    pub(crate) fn split(
        &mut self,
        place: usize,
        (boards, counted): (Vec<usize>, Counted),
        at: u32,
    ) -> Option<usize> {
        let first = self.places.len();
        let leaf = self.open(place)?.clone();
        self.places.push(TreePlace::Open(leaf.clone()));
        self.places.push(TreePlace::Open(leaf));
        self.places[place] = TreePlace::Split {
            boards: if self.is_written() {
                boards
            } else {
                Vec::new()
            },
            counted,
            at,
            at_most: first,
            at_least: first + 1,
        };
        if first <= self.most_written && !self.is_written() {
            self.forget();
        }
        Some(first)
    }

    /// Lets go of what only a certificate would tell.
    fn forget(&mut self) {
        for place in &mut self.places {
            match place {
                TreePlace::Open(leaf) | TreePlace::Settled(leaf) | TreePlace::Searched(leaf) => {
                    *leaf = Leaf::default()
                }
                TreePlace::Closed(..) | TreePlace::Paired(..) => {
                    *place = TreePlace::Searched(Leaf::default())
                }
                TreePlace::Split { boards, .. } => *boards = Vec::new(),
            }
        }
    }

    /// The tree in the order of a certificate: behind a split all of its side with fewer, then all of its side with more.
    pub(crate) fn written(&self) -> Vec<Branch> {
        let mut written = Vec::with_capacity(self.places.len());
        let mut waiting = vec![0];
        while let Some(at) = waiting.pop() {
            written.push(match &self.places[at] {
                TreePlace::Open(leaf) | TreePlace::Settled(leaf) => Branch::Leaf(leaf.clone()),
                TreePlace::Searched(leaf) => Branch::Searched(leaf.clone()),
                TreePlace::Closed(leaf, search) => Branch::Closed {
                    leaf: leaf.clone(),
                    search: search.clone(),
                },
                TreePlace::Paired(leaf, search) => Branch::Paired {
                    leaf: leaf.clone(),
                    search: search.clone(),
                },
                TreePlace::Split {
                    boards,
                    counted,
                    at,
                    at_most,
                    at_least,
                } => {
                    waiting.extend([*at_least, *at_most]);
                    let (boards, at) = (boards.clone(), *at);
                    match counted {
                        Counted::Boards => Branch::Split { boards, at },
                        Counted::Kept => Branch::Kept { boards, at },
                    }
                }
            });
        }
        written
    }
}
