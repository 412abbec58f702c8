//! The plan file: a [`Plan`] as JSON, its certificate included, so that anyone can check it later.
//!
//! Lengths are whole ticks of 1/3 200 mm. Parts, yard lines and shed boards are given by their index in the job, from zero; a plan is only
//! ever read together with its job. `figures` says how the certificate is written.

mod figures;

use super::bounded;
use crate::certificate::Certificate;
use crate::fault::Place;
use crate::length::Length;
use crate::limits;
use crate::plan::{
    Edge, Level, Lies, Measure, PlacedPart, Plan, PlannedBoard, PlannedRun, Proof, Source,
};
use figures::LevelProofWire;
use serde::{Deserialize, Serialize};

/// The `format` of a plan file.
pub const FORMAT: &str = "lengthwise-plan";
/// The only version that [`read`] accepts, since a plan is soon made again from its job. Version 1 nested its trees.
pub const VERSION: u32 = 2;

/// Writes a plan as one line of JSON.
pub fn write(plan: &Plan) -> String {
    // Plain data of texts and integers always serialises.
    serde_json::to_string(&PlanFile::from(plan)).unwrap_or_default()
}

/// The same, with the lengths that were chosen for sizes with ranges.
pub fn write_with_sizes(plan: &Plan, sizes: &[(Place, Length)]) -> String {
    serde_json::to_string(&with_sizes(plan, sizes)).unwrap_or_default()
}

/// What is written of a plan, with the lengths that were chosen for sizes with ranges.
pub fn with_sizes(plan: &Plan, sizes: &[(Place, Length)]) -> PlanFile {
    let mut file = PlanFile::from(plan);
    file.sizes = sizes
        .iter()
        .map(|(place, length)| SizeWire {
            list: place.list.clone(),
            row: place.row.unwrap_or_default(),
            field: place.field.clone(),
            length: length.ticks(),
        })
        .collect();
    file
}

/// The plan as a JSON value. It is read from its text: that takes a little longer than to make it at once, and the page's engine is 2 KB smaller for having
/// one way to write it.
pub fn write_value(plan: &Plan) -> serde_json::Value {
    serde_json::from_str(&write(plan)).unwrap_or_default()
}

/// Reads a plan file.
///
/// # Errors
/// A sentence that says what is wrong and where.
pub fn read(text: &str) -> Result<Plan, String> {
    read_file(text)?.into_plan()
}

/// Reads a plan file with the lengths that were chosen for sizes with ranges.
///
/// # Errors
/// As [`read`].
pub fn read_with_sizes(text: &str) -> Result<(Plan, Vec<(Place, Length)>), String> {
    let mut file = read_file(text)?;
    let sizes = std::mem::take(&mut file.sizes).into_iter();
    let sizes = sizes.map(|size| {
        let place = Place::row(&size.list, size.row, &size.field);
        (place, Length::from_ticks(size.length))
    });
    Ok((file.into_plan()?, sizes.collect()))
}

fn read_file(text: &str) -> Result<PlanFile, String> {
    bounded::json(text, &limits::PLAN_FILE).map_err(|fault| fault.to_string())?;
    let text = text.trim_start_matches('\u{feff}');
    // Format and version come first: a file of another version would otherwise seem full of faults.
    if let Ok(head) = serde_json::from_str::<Head>(text) {
        head.expect_ours()?;
    }
    serde_json::from_str::<PlanFile>(text).map_err(|error| format!("this is no plan file: {error}"))
}

/// Reads a plan that is already parsed.
///
/// # Errors
/// A sentence that says what is wrong.
pub fn read_value(value: &serde_json::Value) -> Result<Plan, String> {
    if let Ok(head) = Head::deserialize(value) {
        head.expect_ours()?;
    }
    PlanFile::deserialize(value)
        .map_err(|error| format!("this is no plan file: {error}"))?
        .into_plan()
}

/// Reads a plan that is being carried out, whatever version wrote it.
///
/// The boards are written the same in every version since 1, and a newer page must not lose what is cut. Certificates of another version
/// are skipped, so their claims count as unproven.
///
/// # Errors
/// A sentence that says what is wrong.
pub fn read_under_way(value: &serde_json::Value) -> Result<Plan, String> {
    let refused = match read_value(value) {
        Ok(plan) => return Ok(plan),
        Err(refused) => refused,
    };
    let mut bare = value.clone();
    let Some(object) = bare.as_object_mut() else {
        return Err(refused);
    };
    object.insert("version".into(), VERSION.into());
    let proofs = object
        .get_mut("proofs")
        .and_then(|proofs| proofs.as_array_mut());
    for proof in proofs.into_iter().flatten() {
        if let Some(proof) = proof.as_object_mut() {
            proof.remove("certificate");
        }
    }
    read_value(&bare).map_err(|_| refused)
}

/// The format and version of a file, whatever else is in it.
#[derive(Deserialize)]
struct Head {
    format: String,
    version: u32,
}

impl Head {
    fn expect_ours(&self) -> Result<(), String> {
        let Head { format, version } = self;
        if format != FORMAT {
            return Err(format!("this is a \"{format}\", not a {FORMAT}"));
        }
        if *version != VERSION {
            return Err(format!(
                "this is a plan file of version {version}, and only version {VERSION} is read here; plan the job again"
            ));
        }
        Ok(())
    }
}

/// A plan as it is written.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlanFile {
    format: String,
    version: u32,
    boards: Vec<BoardWire>,
    proofs: Vec<ProofWire>,
    /// The lengths that were chosen for sizes with ranges.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    sizes: Vec<SizeWire>,
}

/// The length that was chosen for a size: its field in the job file.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SizeWire {
    list: String,
    row: usize,
    field: String,
    length: i64,
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
    LengthsBeyond,
    TimberBeyond,
}

impl From<&Plan> for PlanFile {
    fn from(plan: &Plan) -> PlanFile {
        PlanFile {
            format: FORMAT.to_owned(),
            version: VERSION,
            boards: plan.boards.iter().map(board_wire).collect(),
            proofs: plan.proofs.iter().map(proof_wire).collect(),
            sizes: Vec::new(),
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
            Measure::LengthsBeyond => MeasureWire::LengthsBeyond,
            Measure::TimberBeyond => MeasureWire::TimberBeyond,
        },
        value: level.value,
        bound: level.bound,
    };
    ProofWire {
        sections: proof.sections.clone(),
        levels: proof.levels.iter().map(level).collect(),
        certificate: proof.certificate.as_ref().map(|certificate| {
            certificate
                .levels
                .iter()
                .map(LevelProofWire::from)
                .collect()
        }),
    }
}

/// The greatest index that is read. No list of a job has so many rows, and adding one to it for a message cannot overflow.
const MOST_ROWS: usize = 1_000_000;

/// The longest length that is read anywhere, in ticks; no position on a board is further than this from zero, on either side.
const FARTHEST: i64 = 1_000 * 3_200_000;

impl PlanFile {
    /// The rows of the job that it names.
    fn named(&self) -> impl Iterator<Item = usize> {
        let sections = self.proofs.iter().flat_map(|proof| &proof.sections);
        let boards = self.boards.iter().flat_map(BoardWire::named);
        boards.chain(sections.copied())
    }

    fn into_plan(self) -> Result<Plan, String> {
        let cuts = |board: &BoardWire| board.runs.iter().map(|run| run.cuts.len()).sum::<usize>();
        for (found, limit) in [
            (self.boards.len(), &limits::BOARDS),
            (self.boards.iter().map(cuts).sum(), &limits::PARTS_IN_ALL),
        ] {
            if limit.passed_by(found) {
                return Err(limit.told(found));
            }
        }
        if let Some(index) = self.boards.iter().position(|board| !board.is_in_reach()) {
            return Err(format!(
                "boards {}: a position lies more than 1000 m from the end of the board; plan the job again",
                index + 1
            ));
        }
        if let Some(row) = self.named().find(|row| *row > MOST_ROWS) {
            return Err(format!("no job has a row {row}; plan the job again"));
        }
        Ok(Plan {
            boards: self.boards.into_iter().map(BoardWire::into_board).collect(),
            proofs: self.proofs.into_iter().map(ProofWire::into_proof).collect(),
        })
    }
}

impl BoardWire {
    /// The rows of the job that it names.
    fn named(&self) -> impl Iterator<Item = usize> {
        let source = match self.source {
            SourceWire::Shed(row) | SourceWire::Yard(row) => row,
        };
        let cuts = self.runs.iter().flat_map(|run| &run.cuts);
        cuts.map(|cut| cut.part).chain([source])
    }

    /// Whether sums of a few of its positions fit the arithmetic.
    fn is_in_reach(&self) -> bool {
        let runs = self.runs.iter().flat_map(|run| {
            let cuts = run.cuts.iter().flat_map(|cut| [cut.start, cut.end]);
            cuts.chain([run.from, run.to])
        });
        let mut positions = runs.chain(self.yard_cut);
        positions.all(|at| (-FARTHEST..=FARTHEST).contains(&at))
    }

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
                MeasureWire::LengthsBeyond => Measure::LengthsBeyond,
                MeasureWire::TimberBeyond => Measure::TimberBeyond,
            },
            value: level.value,
            bound: level.bound,
        };
        Proof {
            sections: self.sections,
            levels: self.levels.into_iter().map(level).collect(),
            certificate: self.certificate.map(|levels| Certificate {
                levels: levels.into_iter().map(LevelProofWire::into_proof).collect(),
            }),
        }
    }
}
