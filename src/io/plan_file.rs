//! The plan file: a [`Plan`] as JSON, its certificate included, so that anyone can check it later.
//!
//! Lengths are whole ticks of 1/3 200 mm. Parts, yard lines and shed boards are named by their position in the job, counted from
//! zero; a plan is only ever read together with its job.

use crate::certificate::{Certificate, Leaf, LevelProof, Tree, Twig, TwigLeaf};
use crate::length::Length;
use crate::plan::{
    Edge, Level, Lies, Measure, PlacedPart, Plan, PlannedBoard, PlannedRun, Proof, Source,
};
use serde::{Deserialize, Serialize};

/// What a plan file says it is.
pub const FORMAT: &str = "lengthwise-plan";

/// Writes a plan as one line of JSON.
pub fn write(plan: &Plan) -> String {
    // Plain data of texts and integers always serialises.
    serde_json::to_string(&PlanFile::from(plan)).unwrap_or_default()
}

/// The plan as a JSON value.
pub fn write_value(plan: &Plan) -> serde_json::Value {
    serde_json::to_value(PlanFile::from(plan)).unwrap_or_default()
}

/// Reads a plan file.
///
/// # Errors
/// A sentence that says what is wrong and where.
pub fn read(text: &str) -> Result<Plan, String> {
    let file: PlanFile =
        serde_json::from_str(text).map_err(|error| format!("this is no plan file: {error}"))?;
    file.into_plan()
}

/// Reads a plan that is already parsed.
///
/// # Errors
/// A sentence that says what is wrong.
pub fn read_value(value: &serde_json::Value) -> Result<Plan, String> {
    let file =
        PlanFile::deserialize(value).map_err(|error| format!("this is no plan file: {error}"))?;
    file.into_plan()
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PlanFile {
    format: String,
    version: u32,
    boards: Vec<BoardWire>,
    proofs: Vec<ProofWire>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct BoardWire {
    #[serde(flatten)]
    source: SourceWire,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    yard_cut: Option<i64>,
    runs: Vec<RunWire>,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
enum SourceWire {
    Shed(usize),
    Yard(usize),
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct RunWire {
    from: i64,
    to: i64,
    cuts: Vec<CutWire>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CutWire {
    part: usize,
    start: i64,
    end: i64,
    #[serde(skip_serializing_if = "is_false", default)]
    turned: bool,
    #[serde(skip_serializing_if = "is_false", default)]
    near: bool,
}

fn is_false(value: &bool) -> bool {
    !*value
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ProofWire {
    sections: Vec<usize>,
    levels: Vec<LevelWire>,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    certificate: Option<Vec<LevelProofWire>>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct LevelWire {
    measure: MeasureWire,
    value: i64,
    bound: i64,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum MeasureWire {
    Bought,
    Money,
    BoughtLength,
    Scrap,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct LevelProofWire {
    level: usize,
    earlier: Vec<i64>,
    bound: i64,
    shown: i64,
    lifted: bool,
    tree: TreeWire,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum TreeWire {
    Split {
        boards: Vec<usize>,
        at: u32,
        fewer: Box<TreeWire>,
        more: Box<TreeWire>,
    },
    Leaf(LeafWire),
    Searched(LeafWire),
    Closed {
        leaf: LeafWire,
        search: Vec<TwigWire>,
    },
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum TwigWire {
    Split {
        board: usize,
        parts: Vec<(usize, u32)>,
        at: u32,
    },
    Leaf {
        scale: i64,
        parts: Vec<i64>,
        boards: Vec<i64>,
        earlier: Vec<i64>,
        splits: Vec<i64>,
    },
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct LeafWire {
    scale: i64,
    parts: Vec<i64>,
    earlier: Vec<i64>,
    splits: Vec<i64>,
}

impl From<&Plan> for PlanFile {
    fn from(plan: &Plan) -> PlanFile {
        PlanFile {
            format: FORMAT.to_owned(),
            version: 1,
            boards: plan.boards.iter().map(board_wire).collect(),
            proofs: plan.proofs.iter().map(proof_wire).collect(),
        }
    }
}

fn board_wire(board: &PlannedBoard) -> BoardWire {
    let cut = |cut: &PlacedPart| CutWire {
        part: cut.part,
        start: cut.start.ticks(),
        end: cut.end.ticks(),
        turned: cut.lies == Lies::Turned,
        near: cut.long_edge == Edge::Near,
    };
    let run = |run: &PlannedRun| RunWire {
        from: run.from.ticks(),
        to: run.to.ticks(),
        cuts: run.cuts.iter().map(cut).collect(),
    };
    let source = match board.source {
        Source::Shed(index) => SourceWire::Shed(index),
        Source::Yard(line) => SourceWire::Yard(line),
    };
    BoardWire {
        source,
        yard_cut: board.yard_cut.map(Length::ticks),
        runs: board.runs.iter().map(run).collect(),
    }
}

fn proof_wire(proof: &Proof) -> ProofWire {
    let level = |level: &Level| LevelWire {
        measure: match level.measure {
            Measure::Bought => MeasureWire::Bought,
            Measure::Money => MeasureWire::Money,
            Measure::BoughtLength => MeasureWire::BoughtLength,
            Measure::Scrap => MeasureWire::Scrap,
        },
        value: level.value,
        bound: level.bound,
    };
    let level_proof = |proof: &LevelProof| LevelProofWire {
        level: proof.level,
        earlier: proof.earlier.clone(),
        bound: proof.bound,
        shown: proof.shown,
        lifted: proof.lifted,
        tree: tree_wire(&proof.tree),
    };
    ProofWire {
        sections: proof.sections.clone(),
        levels: proof.levels.iter().map(level).collect(),
        certificate: proof
            .certificate
            .as_ref()
            .map(|certificate| certificate.levels.iter().map(level_proof).collect()),
    }
}

fn tree_wire(tree: &Tree) -> TreeWire {
    let leaf = |leaf: &Leaf| LeafWire {
        scale: leaf.scale,
        parts: leaf.parts.clone(),
        earlier: leaf.earlier.clone(),
        splits: leaf.splits.clone(),
    };
    match tree {
        Tree::Split {
            boards,
            at,
            fewer,
            more,
        } => TreeWire::Split {
            boards: boards.clone(),
            at: *at,
            fewer: Box::new(tree_wire(fewer)),
            more: Box::new(tree_wire(more)),
        },
        Tree::Leaf(prices) => TreeWire::Leaf(leaf(prices)),
        Tree::Searched(prices) => TreeWire::Searched(leaf(prices)),
        Tree::Closed {
            leaf: prices,
            search,
        } => TreeWire::Closed {
            leaf: leaf(prices),
            search: search.iter().map(twig_wire).collect(),
        },
    }
}

fn twig_wire(twig: &Twig) -> TwigWire {
    match twig.clone() {
        Twig::Split { board, parts, at } => TwigWire::Split { board, parts, at },
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

impl PlanFile {
    fn into_plan(self) -> Result<Plan, String> {
        if self.format != FORMAT || self.version != 1 {
            return Err(format!(
                "this is \"{}\" version {}, not a {FORMAT} of version 1",
                self.format, self.version
            ));
        }
        Ok(Plan {
            boards: self.boards.into_iter().map(BoardWire::into_board).collect(),
            proofs: self.proofs.into_iter().map(ProofWire::into_proof).collect(),
        })
    }
}

impl TwigWire {
    fn into_twig(self) -> Twig {
        match self {
            TwigWire::Split { board, parts, at } => Twig::Split { board, parts, at },
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

impl BoardWire {
    fn into_board(self) -> PlannedBoard {
        let length = Length::from_ticks;
        let cut = |cut: CutWire| PlacedPart {
            part: cut.part,
            start: length(cut.start),
            end: length(cut.end),
            lies: if cut.turned {
                Lies::Turned
            } else {
                Lies::AsWritten
            },
            long_edge: if cut.near { Edge::Near } else { Edge::Far },
        };
        let run = |run: RunWire| PlannedRun {
            from: length(run.from),
            to: length(run.to),
            cuts: run.cuts.into_iter().map(cut).collect(),
        };
        PlannedBoard {
            source: match self.source {
                SourceWire::Shed(index) => Source::Shed(index),
                SourceWire::Yard(line) => Source::Yard(line),
            },
            yard_cut: self.yard_cut.map(length),
            runs: self.runs.into_iter().map(run).collect(),
        }
    }
}

impl ProofWire {
    fn into_proof(self) -> Proof {
        let level = |level: LevelWire| Level {
            measure: match level.measure {
                MeasureWire::Bought => Measure::Bought,
                MeasureWire::Money => Measure::Money,
                MeasureWire::BoughtLength => Measure::BoughtLength,
                MeasureWire::Scrap => Measure::Scrap,
            },
            value: level.value,
            bound: level.bound,
        };
        let level_proof = |proof: LevelProofWire| LevelProof {
            level: proof.level,
            earlier: proof.earlier,
            bound: proof.bound,
            shown: proof.shown,
            lifted: proof.lifted,
            tree: proof.tree.into_tree(),
        };
        Proof {
            sections: self.sections,
            levels: self.levels.into_iter().map(level).collect(),
            certificate: self.certificate.map(|levels| Certificate {
                levels: levels.into_iter().map(level_proof).collect(),
            }),
        }
    }
}

impl TreeWire {
    fn into_tree(self) -> Tree {
        let leaf = |leaf: LeafWire| Leaf {
            scale: leaf.scale,
            parts: leaf.parts,
            earlier: leaf.earlier,
            splits: leaf.splits,
        };
        match self {
            TreeWire::Split {
                boards,
                at,
                fewer,
                more,
            } => Tree::Split {
                boards,
                at,
                fewer: Box::new(fewer.into_tree()),
                more: Box::new(more.into_tree()),
            },
            TreeWire::Leaf(prices) => Tree::Leaf(leaf(prices)),
            TreeWire::Searched(prices) => Tree::Searched(leaf(prices)),
            TreeWire::Closed {
                leaf: prices,
                search,
            } => Tree::Closed {
                leaf: leaf(prices),
                search: search.into_iter().map(TwigWire::into_twig).collect(),
            },
        }
    }
}
