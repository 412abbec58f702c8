//! What can be false in a plan, with exact figures.

mod words;

use timber::length::Length;
use timber::plan::{Measure, Source};

/// A false statement in a plan. Boards are counted from zero in the plan's order and printed from one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Lie {
    /// A board of the plan is in neither the yard nor the shed of the job.
    UnknownBoard {
        /// The board of the plan.
        board: usize,
    },
    /// A part of the plan is not on the cutting list.
    UnknownPart {
        /// The board of the plan.
        board: usize,
        /// The part as the plan counts it.
        part: usize,
    },
    /// A board is used and nothing is cut from it.
    NothingCut {
        /// The board of the plan.
        board: usize,
    },
    /// Fewer of a part are cut than are wanted.
    PartForgotten {
        /// The part.
        part: usize,
        /// How many are wanted.
        wanted: u64,
        /// How many are cut.
        cut: u64,
    },
    /// More of a part are cut than are wanted.
    PartCutTooOften {
        /// The part.
        part: usize,
        /// How many are wanted.
        wanted: u64,
        /// How many are cut.
        cut: u64,
    },
    /// A mark is far off any possible board.
    MarkOffTheBoard {
        /// The board of the plan.
        board: usize,
        /// Where it is said to be.
        at: Length,
    },
    /// A part is cut from a section it may not be made of.
    WrongSection {
        /// The board of the plan.
        board: usize,
        /// The part.
        part: usize,
    },
    /// A part that goes in the ground does not stand on a factory end of its board, or not with a square end.
    NotOnFactoryEnd {
        /// The board of the plan.
        board: usize,
        /// The part.
        part: usize,
    },
    /// A part that is made from new timber only is cut from a board of the shed, or one of shed boards only from new timber, or what is ripped from a board that may not be.
    WrongTimber {
        /// The board of the plan.
        board: usize,
        /// The part.
        part: usize,
    },
    /// A part is marked out at another length than it has.
    WrongLength {
        /// The board of the plan.
        board: usize,
        /// The part.
        part: usize,
        /// The length it has.
        wanted: Length,
        /// The length between its marks.
        marked: Length,
    },
    /// A part lies over a bad stretch.
    PartInBadStretch {
        /// The board of the plan.
        board: usize,
        /// The part.
        part: usize,
        /// Where the bad stretch starts.
        from: Length,
        /// Where it ends.
        to: Length,
    },
    /// A part reaches beyond the clear run it lies in: into a trim, a yard cut or past the end.
    PartBeyondRun {
        /// The board of the plan.
        board: usize,
        /// The part.
        part: usize,
        /// How far beyond.
        by: Length,
    },
    /// A run of the plan is not a clear run of its board.
    NotAClearRun {
        /// The board of the plan.
        board: usize,
        /// Where it starts.
        from: Length,
        /// Where it ends.
        to: Length,
    },
    /// There is no room for the saw between two parts.
    NoRoomForTheSaw {
        /// The board of the plan.
        board: usize,
        /// The part behind the cut.
        part: usize,
        /// The room there is.
        room: Length,
        /// The room the cut takes.
        needed: Length,
    },
    /// A gap that no cut explains.
    StrayGap {
        /// The board of the plan.
        board: usize,
        /// The part behind it.
        part: usize,
        /// The gap.
        gap: Length,
        /// What the cut takes.
        needed: Length,
    },
    /// Two neighbours share a mitre, but their long points are on the same edge.
    MitreSharedWithoutTurning {
        /// The board of the plan.
        board: usize,
        /// The part behind the cut.
        part: usize,
    },
    /// A part is turned on a section that may not be turned.
    TurnedOnFixedSection {
        /// The board of the plan.
        board: usize,
        /// The part.
        part: usize,
    },
    /// The marks of a board are for other parts than it is planned with, or in another order, or its pieces cannot be carried.
    MarksOfAnotherPlan {
        /// The board of the plan.
        board: usize,
    },
    /// A part does not come out at the length that its marks are said to give.
    MarkAstray {
        /// The board of the plan.
        board: usize,
        /// The part.
        part: usize,
        /// The length it comes out at.
        made: Length,
    },
    /// With the marks of a board an offcut that is to be kept becomes too short to keep.
    MarksLoseAnOffcut {
        /// The board of the plan.
        board: usize,
    },
    /// A narrow part comes out of blanks more or less often than it is wanted. Rows are those of the job's list.
    StripsMiscounted {
        /// Its row.
        row: usize,
        /// How many are wanted.
        wanted: u64,
        /// How many are ripped.
        cut: u64,
    },
    /// What is ripped out of a blank is no narrow part of the list, or may not lie beside the others there.
    UnlikeStrips {
        /// The blank.
        part: usize,
        /// The row of the list.
        row: usize,
    },
    /// The strips of a blank and the kerfs between them are wider than its board.
    BlankTooWide {
        /// The blank.
        part: usize,
        /// By so much.
        by: Length,
    },
    /// A blank is not as long as its longest strip, or not square.
    WrongBlank {
        /// The blank.
        part: usize,
    },
    /// A strip that lies over its neighbour is no wider than its lap.
    RippedIntoItsLap {
        /// The blank.
        part: usize,
        /// The row of the list.
        row: usize,
    },
    /// A shed board is cut twice.
    BoardUsedTwice {
        /// Index into the job's shed.
        shed: usize,
    },
    /// More of a length are bought than the yard has.
    MoreThanTheYardHas {
        /// Index into the job's yard.
        yard: usize,
        /// How many are bought.
        bought: u64,
        /// How many there are.
        count: u64,
    },
    /// A carried piece is longer than the vehicle takes.
    TooLongToCarry {
        /// The board of the plan.
        board: usize,
        /// The carried piece.
        length: Length,
        /// What the vehicle takes.
        carry: Length,
    },
    /// A cut at the yard that is off the board, on a shed board, or on a length that is carried whole.
    NeedlessYardCut {
        /// The board of the plan.
        board: usize,
    },
    /// A claim about sections that are not a group of the job, or about one group twice.
    WrongGroup {
        /// The sections named.
        sections: Vec<usize>,
    },
    /// The levels are not those of the aim in their order.
    WrongLevels {
        /// The sections of the group.
        sections: Vec<usize>,
    },
    /// A total differs from the plan's.
    WrongValue {
        /// What is measured.
        measure: Measure,
        /// What the plan says.
        claimed: i64,
        /// The value found.
        found: i64,
    },
    /// A total of the boards does not fit 64 bits.
    TotalTooGreat {
        /// What is measured.
        measure: Measure,
    },
    /// A bound is above the plan's own total.
    BoundAboveValue {
        /// What is measured.
        measure: Measure,
        /// The bound.
        bound: i64,
        /// The total.
        value: i64,
    },
    /// A bound is above the one that its own figures claim.
    BoundAboveFigures {
        /// What is measured.
        measure: Measure,
        /// The bound.
        bound: i64,
        /// What the figures claim.
        figures: i64,
    },
    /// Figures have the wrong shape and cannot be summed.
    MisshapenFigures {
        /// What is measured.
        measure: Measure,
        /// Where in the tree; none where it is about the claim as a whole.
        spot: Option<Spot>,
        /// What is wrong.
        what: Misshape,
    },
    /// The parts a board can hold are worth more than its charge, though its supply is unlimited.
    PricesOvercharge {
        /// What is measured.
        measure: Measure,
        /// The board.
        board: Source,
        /// What its parts can be worth.
        worth: i128,
        /// What it is charged.
        charge: i128,
    },
    /// The figures do not show the bound they claim.
    BoundNotShown {
        /// What is measured.
        measure: Measure,
        /// The claim.
        claimed: i64,
        /// What they show.
        shown: i64,
    },
    /// The bound was raised beyond the next total that boards can add up to, or the next length that can be used up.
    LiftedTooFar {
        /// What is measured.
        measure: Measure,
        /// The claim.
        claimed: i64,
        /// The next total.
        next: i64,
    },
}

/// A node in the tree of a level, counted from zero in the order of the list and printed from one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spot {
    /// The index of the node; the number of nodes where the list ends too soon.
    pub branch: usize,
    /// The index of the node in the search that is recorded there.
    pub twig: Option<usize>,
}

/// What is wrong with the shape of figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Misshape {
    /// Levels in another number or order than the plan's.
    Levels,
    /// A price below zero, or a scale below one.
    BelowZero,
    /// A price or a scale above [`MOST_FIGURE`](proof::certificate::MOST_FIGURE).
    TooGreat,
    /// Prices for more or fewer parts than the job has.
    Parts,
    /// Prices for more or fewer earlier levels than there are.
    Earlier,
    /// Prices for more or fewer boards than the job has, or some below zero.
    Boards,
    /// A leaf prices a split that is not on the way to it, or one twice.
    Splits,
    /// A split names a board twice, or one that does not exist, so its sides are not complementary.
    Cover,
    /// A split counts the offcuts of a board that is cut at the yard or has parts on its ends, or at a level that is not the scrap.
    Offcuts,
    /// A split names a cutting that has a part twice, a count of zero, or a part that does not exist.
    Cutting,
    /// A split on a pair names a block or a part that there is not.
    Pair,
    /// A split occurs again below itself, where one of its sides is empty.
    Repeated,
    /// The list ends before every split has both its sides.
    TooShort,
    /// The tree is complete, and the list goes on.
    TooLong,
}

/// What a lie concerns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LieKind {
    /// The plan itself: cutting it would go wrong.
    Plan,
    /// The plan's claims about totals and bounds; the cuts hold.
    Claim,
}

impl Lie {
    /// What it is about.
    pub fn kind(&self) -> LieKind {
        match self {
            Lie::WrongGroup { .. }
            | Lie::WrongLevels { .. }
            | Lie::WrongValue { .. }
            | Lie::TotalTooGreat { .. }
            | Lie::BoundAboveValue { .. }
            | Lie::BoundAboveFigures { .. }
            | Lie::MisshapenFigures { .. }
            | Lie::PricesOvercharge { .. }
            | Lie::BoundNotShown { .. }
            | Lie::LiftedTooFar { .. } => LieKind::Claim,
            _ => LieKind::Plan,
        }
    }
}
