//! What people are told of a checked plan: the buying list, the saw sheet, the drawing, what goes back to the shed.
//!
//! A [`Report`] is plain data whose numbers are ready-made texts, so that the page, the command line and paper all say the same and
//! none of them does arithmetic. Everything comes from one checked plan; each reading is printed from its own exact position.

mod buying;
mod car;
mod cautions;
pub mod csv;
mod drawing;
mod legend;
mod proof;
mod shed;
mod sheet;
mod stations;
pub mod text;
mod words;

/// How the readings of a saw sheet are used. Said wherever one is shown, for a tape hooked again on a fresh end puts every later part out.
pub const MARKING: &str = "Mark every reading of a board before its first cut, the tape hooked on the end it came with; saw on the far \
     side of each mark where nothing else is said. Where you cut as you go, set each part to its own length from the fresh end instead.";

pub use buying::{Buying, BuyingRow, BuyingTotals};
pub use car::{Car, CarFigure, CarTotal, in_the_car};
pub use drawing::{drawing_style, standalone};
pub use legend::LegendRow;
pub use proof::ProofRow;
pub use shed::{LeftAloneRow, ShedRow};

use crate::check::{CheckedPlan, Verdict};
use crate::job::Job;
use crate::plan::Source;
use legend::Legend;
use words::Words;

/// What people are told of a checked plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Report {
    /// How planning ended.
    pub outcome: Outcome,
    /// The plan in one line.
    pub headline: String,
    /// What is to be said beyond the headline.
    pub explanation: Vec<String>,
    /// What is proven, level by level.
    pub proof: Vec<ProofRow>,
    /// What to buy.
    pub buying: Buying,
    /// Every board, in the plan's order.
    pub boards: Vec<BoardReport>,
    /// Boards that follow each other and are cut alike: the first of them and how many, in the plan's order.
    pub alike: Vec<(usize, usize)>,
    /// Equal saw settings of all boards.
    pub settings: Vec<Setting>,
    /// The drawing of the whole plan, an SVG.
    pub drawing: String,
    /// The same board by board, each an SVG to the one scale; boards that are alike are drawn once.
    pub drawings: Vec<String>,
    /// The parts as the drawings show them.
    pub legend: Vec<LegendRow>,
    /// What goes back to the shed.
    pub back_to_shed: Vec<ShedRow>,
    /// Boards of the shed that the plan does not take.
    pub left_alone: Vec<LeftAloneRow>,
    /// What is neither part nor kept.
    pub scrap: Scrap,
    /// What to mind.
    pub cautions: Vec<String>,
    /// Totals worth knowing.
    pub totals: Vec<Total>,
}

/// How planning ended, where there is a plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Nothing better exists, and the checker showed it again.
    Proven,
    /// The best that was found.
    Found,
}

/// One board at the saw.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoardReport {
    /// A name for this board that stays the same while it is in the plan.
    pub key: String,
    /// What it is, in words.
    pub title: String,
    /// Where it comes from.
    pub source: BoardSource,
    /// The mark on its end, for a shed board.
    pub mark: String,
    /// Its section.
    pub section: String,
    /// Its length.
    pub length: String,
    /// Where the yard cuts it, empty where it does not.
    pub yard_cut: String,
    /// Its drawing.
    pub svg: String,
    /// The drawing in words.
    pub summary: String,
    /// What is done to it, in order.
    pub steps: Vec<Step>,
    /// Its saw settings.
    pub settings: Vec<Setting>,
    /// What is left of it.
    pub offcuts: Vec<OffcutRow>,
    /// What to mind with it.
    pub cautions: Vec<String>,
}

/// Where a board comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BoardSource {
    /// The yard.
    Yard,
    /// The shed.
    Shed,
}

/// One thing to do to a board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// Its place in the order, from one.
    pub order: usize,
    /// What is done.
    pub kind: StepKind,
    /// The tape reading from the datum end.
    pub reading: String,
    /// Whether the reading stands for a slightly other position.
    pub rounded: bool,
    /// The part this frees, or what the cut is for.
    pub label: String,
    /// The part's letter, empty where no part comes off.
    pub letter: String,
    /// The part's length, empty where no part comes off.
    pub part_length: String,
    /// The part's ends, empty where no part comes off.
    pub ends: String,
    /// Whether an end of the part is not square.
    pub angled: bool,
    /// For a mitre, the edge its long point is on.
    pub long_edge: String,
    /// For a mitre, whether the board is turned over for it.
    pub turn: String,
    /// On which side of the mark the saw goes.
    pub side: Side,
    /// Which piece of the board is in hand and where the tape is hooked on it, for a board that the yard cuts in two; else empty.
    pub tape: String,
    /// How else to do it.
    pub hint: String,
    /// What the part misses of its length, empty where it is within a step of the tape on the right side.
    pub miss: String,
    /// What to mind.
    pub caution: String,
}

impl Step {
    /// The reading with the sign for about, where the mark stands elsewhere than it says.
    pub fn told_reading(&self) -> String {
        match self.rounded {
            true => format!("\u{2248}{}", self.reading),
            false => self.reading.clone(),
        }
    }

    /// All that is to be known of this step beside its reading, its part and its caution, in the order it is needed. Every output says
    /// all of it.
    pub fn says(&self) -> Vec<String> {
        let ends = match self.angled {
            true => format!("ends {}", self.ends),
            false => String::new(),
        };
        let side = self.side.text().to_owned();
        [
            &self.tape,
            &ends,
            &self.long_edge,
            &self.turn,
            &side,
            &self.hint,
            &self.miss,
        ]
        .into_iter()
        .filter(|text| !text.is_empty())
        .cloned()
        .collect()
    }
}

/// A side of a mark on a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Towards the datum end.
    Datum,
    /// Away from it.
    Far,
    /// Nothing is sawn.
    Neither,
}

impl Side {
    /// Where to saw, in words; empty where nothing is sawn.
    pub fn text(self) -> &'static str {
        match self {
            Side::Datum => "saw on the datum side of the mark",
            Side::Far => "saw on the far side of the mark",
            Side::Neither => "",
        }
    }
}

/// What a step does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StepKind {
    /// Squares a rough end.
    Trim,
    /// Cuts square.
    Cut,
    /// Cuts at an angle.
    Mitre,
    /// Cuts a bad stretch away.
    Bad,
    /// The yard's cut.
    YardCut,
    /// Ends an offcut, or a part that ends where the board does.
    Finish,
}

/// Parts of one length, which share a stop on the saw.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Setting {
    /// The length.
    pub length: String,
    /// How many parts.
    pub count: usize,
    /// Which parts.
    pub labels: Vec<String>,
}

/// Something left of a board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OffcutRow {
    /// Its physical length.
    pub length: String,
    /// Whether it is worth keeping.
    pub kept: bool,
    /// A sentence about it.
    pub text: String,
}

/// What is neither part nor kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Scrap {
    /// How much.
    pub length: String,
    /// Its share of all boards that are cut, in per cent.
    pub share: String,
    /// A sentence about it.
    pub text: String,
}

/// A total worth knowing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Total {
    /// What is added up.
    pub name: String,
    /// What it comes to.
    pub value: String,
}

/// Builds the report of a checked plan.
pub fn build(job: &Job, checked: &CheckedPlan) -> Report {
    let words = Words::of(job);
    let legend = Legend::of(job, checked);
    let buying = buying::buying(&words, checked);
    let proof = proof::rows(&words, checked);
    let boards = (0..checked.boards().len())
        .map(|board| board_report(&words, &legend, checked, board))
        .collect();
    Report {
        outcome: match checked.verdict() {
            Verdict::Proven => Outcome::Proven,
            _ => Outcome::Found,
        },
        headline: proof::headline(&words, checked),
        explanation: proof::explanation(checked)
            .into_iter()
            .chain(cautions::payload(&words, checked))
            .collect(),
        proof,
        settings: sheet::settings(&words, &legend, checked.plan().boards.iter()),
        drawing: drawing::plan(&words, &legend, checked),
        alike: drawing::alike(checked),
        drawings: drawing::blocks(&words, &legend, checked),
        legend: legend.rows(&words),
        back_to_shed: shed::back_to_shed(&words, checked),
        left_alone: shed::left_in_shed(&words, checked),
        scrap: shed::scrap(&words, checked),
        cautions: cautions::of_plan(&words, checked),
        totals: buying::totals(&words, checked),
        boards,
        buying,
    }
}

fn board_report(
    words: &Words,
    legend: &Legend,
    checked: &CheckedPlan,
    board: usize,
) -> BoardReport {
    let planned = &checked.marked()[board].board;
    let sheet = sheet::sheet(words, legend, checked, board);
    let (source, mark) = match planned.source {
        Source::Yard(_) => (BoardSource::Yard, String::new()),
        Source::Shed(shed) => (BoardSource::Shed, words.job.shed[shed].mark.clone()),
    };
    BoardReport {
        key: words.board_key(checked.plan(), board),
        title: words.board_title(planned.source),
        source,
        mark,
        section: words.section(checked.boards()[board].section),
        length: words.stated_length(planned.source),
        yard_cut: planned
            .yard_cut
            .map(|cut| words.cut_length(cut))
            .unwrap_or_default(),
        svg: drawing::board(words, legend, checked, board),
        summary: sheet::summary(words, checked, board),
        settings: sheet::settings(words, legend, [planned].into_iter()),
        offcuts: shed::offcuts(words, checked, board),
        cautions: cautions::of_board(words, checked, board),
        steps: sheet,
    }
}
