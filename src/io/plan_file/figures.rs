//! How a certificate is written in a plan file: the tree of each level is one flat list of its nodes, as [`crate::certificate`] keeps it. A
//! list is read without recursion, so the tree may be of any depth. Whether the list is a tree at all is left to the checker.
//!
//! A node of a search over pairs is a list of figures, since there are many: zero and the two blocks of a decision, or the scale of a leaf, which is
//! above zero, and its prices.

use crate::certificate::{Branch, Leaf, LevelProof, Pairing, Twig, TwigLeaf};
use serde::{Deserialize, Serialize};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LevelProofWire {
    level: usize,
    earlier: Vec<i64>,
    bound: i64,
    shown: i64,
    lifted: bool,
    tree: Vec<BranchWire>,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum BranchWire {
    Split {
        boards: Vec<usize>,
        at: u32,
    },
    Kept {
        boards: Vec<usize>,
        at: u32,
    },
    Leaf(LeafWire),
    Searched(LeafWire),
    Closed {
        leaf: LeafWire,
        search: Vec<TwigWire>,
    },
    Paired {
        leaf: LeafWire,
        search: Vec<Vec<i64>>,
    },
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct LeafWire {
    scale: i64,
    parts: Vec<i64>,
    earlier: Vec<i64>,
    splits: Vec<(usize, i64)>,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum TwigWire {
    Split {
        board: usize,
        parts: Vec<(usize, u32)>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        kept: Option<u32>,
        at: u32,
    },
    Pair {
        parts: [usize; 2],
        at: u32,
    },
    Leaf {
        scale: i64,
        parts: Vec<i64>,
        boards: Vec<i64>,
        earlier: Vec<i64>,
        splits: Vec<(usize, i64)>,
    },
}

impl From<&LevelProof> for LevelProofWire {
    fn from(proof: &LevelProof) -> LevelProofWire {
        LevelProofWire {
            level: proof.level,
            earlier: proof.earlier.clone(),
            bound: proof.bound,
            shown: proof.shown,
            lifted: proof.lifted,
            tree: proof.tree.iter().map(branch_wire).collect(),
        }
    }
}

fn branch_wire(branch: &Branch) -> BranchWire {
    match branch {
        Branch::Split { boards, at } => BranchWire::Split {
            boards: boards.clone(),
            at: *at,
        },
        Branch::Kept { boards, at } => BranchWire::Kept {
            boards: boards.clone(),
            at: *at,
        },
        Branch::Leaf(leaf) => BranchWire::Leaf(leaf_wire(leaf)),
        Branch::Searched(leaf) => BranchWire::Searched(leaf_wire(leaf)),
        Branch::Closed { leaf, search } => BranchWire::Closed {
            leaf: leaf_wire(leaf),
            search: search.iter().map(twig_wire).collect(),
        },
        Branch::Paired { leaf, search } => BranchWire::Paired {
            leaf: leaf_wire(leaf),
            search: search.iter().map(figures_of).collect(),
        },
    }
}

fn figures_of(pairing: &Pairing) -> Vec<i64> {
    match pairing {
        Pairing::Split([one, other]) => vec![0, *one as i64, *other as i64],
        Pairing::Leaf { scale, prices } => [&[*scale], &prices[..]].concat(),
    }
}

/// What the figures of a node say. A block that is none is one that no search has.
fn pairing(figures: &[i64]) -> Pairing {
    let block = |figure: i64| usize::try_from(figure).unwrap_or(usize::MAX);
    match *figures {
        [0, one, other] => Pairing::Split([block(one), block(other)]),
        [scale, ref prices @ ..] => Pairing::Leaf {
            scale,
            prices: prices.to_vec(),
        },
        [] => Pairing::Leaf {
            scale: 0,
            prices: Vec::new(),
        },
    }
}

fn leaf_wire(leaf: &Leaf) -> LeafWire {
    LeafWire {
        scale: leaf.scale,
        parts: leaf.parts.clone(),
        earlier: leaf.earlier.clone(),
        splits: leaf.splits.clone(),
    }
}

fn twig_wire(twig: &Twig) -> TwigWire {
    match twig.clone() {
        Twig::Split {
            board,
            parts,
            kept,
            at,
        } => TwigWire::Split {
            board,
            parts,
            kept,
            at,
        },
        Twig::Pair { parts, at } => TwigWire::Pair { parts, at },
        Twig::Leaf(TwigLeaf {
            scale,
            parts,
            boards,
            earlier,
            splits,
        }) => TwigWire::Leaf {
            scale,
            parts,
            boards,
            earlier,
            splits,
        },
    }
}

impl LevelProofWire {
    pub(super) fn into_proof(self) -> LevelProof {
        LevelProof {
            level: self.level,
            earlier: self.earlier,
            bound: self.bound,
            shown: self.shown,
            lifted: self.lifted,
            tree: self.tree.into_iter().map(BranchWire::into_branch).collect(),
        }
    }
}

impl BranchWire {
    fn into_branch(self) -> Branch {
        match self {
            BranchWire::Split { boards, at } => Branch::Split { boards, at },
            BranchWire::Kept { boards, at } => Branch::Kept { boards, at },
            BranchWire::Leaf(leaf) => Branch::Leaf(leaf.into_leaf()),
            BranchWire::Searched(leaf) => Branch::Searched(leaf.into_leaf()),
            BranchWire::Closed { leaf, search } => Branch::Closed {
                leaf: leaf.into_leaf(),
                search: search.into_iter().map(TwigWire::into_twig).collect(),
            },
            BranchWire::Paired { leaf, search } => Branch::Paired {
                leaf: leaf.into_leaf(),
                search: search.iter().map(|figures| pairing(figures)).collect(),
            },
        }
    }
}

impl LeafWire {
    fn into_leaf(self) -> Leaf {
        Leaf {
            scale: self.scale,
            parts: self.parts,
            earlier: self.earlier,
            splits: self.splits,
        }
    }
}

impl TwigWire {
    fn into_twig(self) -> Twig {
        match self {
            TwigWire::Split {
                board,
                parts,
                kept,
                at,
            } => Twig::Split {
                board,
                parts,
                kept,
                at,
            },
            TwigWire::Pair { parts, at } => Twig::Pair { parts, at },
            TwigWire::Leaf {
                scale,
                parts,
                boards,
                earlier,
                splits,
            } => Twig::Leaf(TwigLeaf {
                scale,
                parts,
                boards,
                earlier,
                splits,
            }),
        }
    }
}
