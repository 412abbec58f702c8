//! All that people read about a checked plan: the buying list, the saw sheet, the drawing, what goes back to the shed.
//!
//! A [`Report`] is plain data whose numbers are ready-made texts. So the page, the command line and paper say the same, and none of them
//! does arithmetic. All of it comes from one checked plan; each reading is printed from its own exact position.

mod buying;
mod car;
mod cautions;
pub mod csv;
mod drawing;
mod hand;
mod legend;
mod picture;
mod prices;
mod proof;
mod rip;
mod shed;
mod sheet;
mod spoiled;
mod stations;
mod step;
pub mod text;
mod why;
mod words;
mod yard;

pub use buying::{Buying, BuyingRow, BuyingTotals, Total};
pub use car::{Car, CarFigure, CarTotal, in_the_car};
pub(crate) use drawing::{INK, PAPER};
pub use drawing::{SHEET_WIDTH, alike, drawing_style, standalone};
pub use hand::{InHand, in_hand};
pub use legend::LegendRow;
pub use picture::{Drawing, Look, Name, drawings, key_by_hand, keys, names, picture};
pub use prices::Prices;
pub use proof::ProofRow;
pub use shed::{LeftAloneRow, OffcutRow, Scrap, ShedRow};
pub use step::{MARKING, Setting, Side, Step, StepKind};

use crate::check::{CheckedPlan, Verdict};
use crate::job::{Aim, Job};
use crate::plan::Source;
use crate::usual;
use words::Words;

/// Neighbouring boards that are cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Alike {
    /// Index of the first.
    pub first: usize,
    /// How many they are.
    pub count: usize,
    /// What they are, with the marks of all.
    pub title: String,
}

/// All that people read about a checked plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Report {
    /// How planning ended.
    pub outcome: Outcome,
    /// The plan in one line.
    pub headline: String,
    /// Sentences that follow the headline.
    pub explanation: Vec<String>,
    /// What is to be known of the yard's cuts; the explanation has it too.
    pub at_the_yard: Vec<String>,
    /// What is proven, level by level.
    pub proof: Vec<ProofRow>,
    /// Why no plan buys fewer lengths, where counting shows it.
    pub why: Vec<String>,
    /// Which parts drive what it comes to, and what each is worth in the proof.
    pub prices: Prices,
    /// What replaces a part that is spoiled once all is cut.
    pub spoiled: Vec<String>,
    /// What to buy.
    pub buying: Buying,
    /// Every board, in the plan's order.
    pub boards: Vec<BoardReport>,
    /// How the readings are used, and how far they are rounded.
    pub marking: String,
    /// Series of neighbouring boards that are cut alike, in the plan's order.
    pub alike: Vec<Alike>,
    /// Equal saw settings of all boards.
    pub settings: Vec<Setting>,
    /// The drawing of the whole plan, an SVG.
    pub drawing: String,
    /// The same drawing as one SVG per entry of `alike`, all to one scale.
    pub drawings: Vec<String>,
    /// The key to the drawings: each part with its letter, colour and texture.
    pub legend: Vec<LegendRow>,
    /// What goes back to the shed.
    pub back_to_shed: Vec<ShedRow>,
    /// Boards of the shed that the plan does not take.
    pub left_alone: Vec<LeftAloneRow>,
    /// The timber that is neither part nor kept offcut.
    pub scrap: Scrap,
    /// What to mind.
    pub cautions: Vec<String>,
    /// Totals of the whole plan.
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
    /// A name for this board that stays the same while the board is in the plan; programs know it by this.
    pub key: String,
    /// The board in words.
    pub title: String,
    /// Where it comes from.
    pub source: BoardSource,
    /// The mark on its end, for a shed board.
    pub mark: String,
    /// Whether it, or what it is a rest of, was bought for this piece.
    pub bought: bool,
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

/// What is known of the offcuts of a plan whose aim they are.
const LONGEST: &str =
    "Of the plans that buy as little, this leaves the longest offcuts that were found.";

/// Builds the report of a checked plan.
pub fn build(job: &Job, checked: &CheckedPlan) -> Report {
    let words = Words::of(job);
    let buying = buying::buying(&words, checked);
    let series = drawing::alike(job, checked);
    let proof = proof::rows(&words, checked);
    let at_the_yard = yard::notes(&words, checked);
    let boards = (0..checked.boards().len())
        .map(|board| board_report(&words, checked, board))
        .collect();
    Report {
        outcome: match checked.verdict() {
            Verdict::Proven => Outcome::Proven,
            _ => Outcome::Found,
        },
        headline: proof::headline(&words, checked),
        explanation: proof::explanation(&words, checked)
            .into_iter()
            .chain((job.aim == Aim::Offcuts).then(|| LONGEST.to_owned()))
            .chain(cautions::payload(&words, checked))
            .chain(at_the_yard.iter().cloned())
            .collect(),
        at_the_yard,
        proof,
        why: why::reasons(&words, checked),
        prices: prices::prices(&words, checked),
        spoiled: spoiled::lines(&words, checked),
        settings: sheet::settings(&words, checked.plan().boards.iter()),
        drawing: drawing::plan(&words, checked, &series),
        alike: series
            .iter()
            .map(|&(first, count)| Alike {
                first,
                count,
                title: drawing::title(&words, checked, first, count),
            })
            .collect(),
        drawings: drawing::blocks(&words, checked, &series),
        marking: marking(&words, checked),
        legend: drawing::key(&words),
        back_to_shed: shed::back_to_shed(&words, checked),
        left_alone: shed::left_in_shed(&words, checked),
        scrap: shed::scrap(&words, checked),
        cautions: cautions::of_plan(&words, checked),
        totals: buying::totals(&words, checked),
        boards,
        buying,
    }
}

/// How the readings are used, and, where parts come out over by more than an ordinary tape asks for, that they are rounded.
fn marking(words: &Words, checked: &CheckedPlan) -> String {
    let boards = checked.marked().iter();
    let mut cuts = boards.flat_map(|marked| marked.board.runs.iter().flat_map(|run| &run.cuts));
    let coarse = words.job.step > usual::STEP.on(words.job.is_imperial());
    let over = coarse && cuts.any(|cut| cut.end - cut.start > words.job.parts[cut.part].length);
    let step = words.length(words.job.step);
    match over {
        true => format!(
            "{MARKING} Each mark is on the next {step} of the tape, so a part may come out up to that much over; a finer step of readings makes it less."
        ),
        false => MARKING.to_owned(),
    }
}

impl Report {
    /// Says what the plan would be with a yard that saws exactly at its readings, where that is better: `heeding` is the plan that this report
    /// is of, `exact` the other.
    pub fn tell_of_exact_cuts(&mut self, job: &Job, heeding: &CheckedPlan, exact: &CheckedPlan) {
        let note = yard::what_it_costs(job, heeding, exact);
        self.explanation.extend(note.clone());
        self.at_the_yard.extend(note);
    }
}

fn board_report(words: &Words, checked: &CheckedPlan, board: usize) -> BoardReport {
    let planned = &checked.marked()[board].board;
    let sheet = sheet::sheet(words, checked, board);
    let (source, mark) = match planned.source {
        Source::Yard(_) => (BoardSource::Yard, String::new()),
        Source::Shed(shed) => (BoardSource::Shed, words.job.shed[shed].mark.clone()),
    };
    BoardReport {
        key: words.board_key(checked.plan(), board),
        title: words.board_title(planned.source),
        source,
        mark,
        bought: matches!(planned.source, Source::Shed(_)) && words.job.is_new(planned.source),
        section: words.section(checked.boards()[board].section),
        length: words.stated_length(planned.source),
        yard_cut: planned
            .yard_cut
            .map(|cut| words.cut_length(cut))
            .unwrap_or_default(),
        svg: drawing::board(words, checked, board),
        summary: sheet::summary(words, checked, board),
        settings: sheet::settings(words, [planned].into_iter()),
        offcuts: shed::offcuts(words, checked, board),
        cautions: cautions::of_board(words, checked, board),
        steps: sheet,
    }
}
