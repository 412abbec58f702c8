//! What can be false about a plan, with exact figures.

use crate::length::Length;
use crate::plan::{Measure, Source};
use std::fmt;

/// Something false about a plan. Boards are counted from zero in the plan's order and printed from one.
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
    /// A board is taken and nothing is cut from it.
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
    /// A part is cut from a section it may not be made of.
    WrongSection {
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
    /// A total is not what the plan comes to.
    WrongValue {
        /// What is measured.
        measure: Measure,
        /// What the plan says.
        claimed: i64,
        /// What it comes to.
        found: i64,
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
    /// A bound is above what its own figures claim.
    BoundAboveFigures {
        /// What is measured.
        measure: Measure,
        /// The bound.
        bound: i64,
        /// What the figures claim.
        figures: i64,
    },
    /// Figures of the wrong shape: they cannot be added up.
    MisshapenFigures {
        /// What is measured.
        measure: Measure,
        /// What is wrong.
        what: Misshape,
    },
    /// The parts a board can hold are worth more than it is charged, and there are as many such boards as anyone likes.
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
    /// The bound was raised beyond the next total that boards can add up to.
    LiftedTooFar {
        /// What is measured.
        measure: Measure,
        /// The claim.
        claimed: i64,
        /// The next total.
        next: i64,
    },
}

/// What is wrong with the shape of figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Misshape {
    /// Levels in another number or order than the plan's.
    Levels,
    /// A price below zero, or a scale below one.
    BelowZero,
    /// Prices for more or fewer parts than the job has.
    Parts,
    /// Prices for more or fewer earlier levels than there are.
    Earlier,
    /// A leaf does not price each split on the way to it.
    Splits,
    /// A split names a board twice or one that is not there, so its sides do not part the plans.
    Cover,
    /// Lifted where totals are not sums of board costs.
    Lift,
}

/// What a lie is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LieKind {
    /// The plan itself: cutting it would go wrong.
    Plan,
    /// What the plan says of its totals and bounds; the cuts are sound.
    Claim,
}

impl Lie {
    /// What it is about.
    pub fn kind(&self) -> LieKind {
        match self {
            Lie::WrongGroup { .. }
            | Lie::WrongLevels { .. }
            | Lie::WrongValue { .. }
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

impl fmt::Display for Lie {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Lie::UnknownBoard { board } => write!(
                out,
                "board {} is in neither the yard nor the shed",
                board + 1
            ),
            Lie::UnknownPart { board, part } => {
                write!(
                    out,
                    "board {}: part {} is not on the cutting list",
                    board + 1,
                    part + 1
                )
            }
            Lie::NothingCut { board } => write!(out, "board {}: nothing is cut from it", board + 1),
            Lie::PartForgotten { part, wanted, cut }
            | Lie::PartCutTooOften { part, wanted, cut } => {
                write!(out, "part {}: {wanted} wanted, {cut} cut", part + 1)
            }
            Lie::WrongSection { board, part } => {
                write!(
                    out,
                    "board {}: part {} may not be made of this section",
                    board + 1,
                    part + 1
                )
            }
            Lie::WrongLength {
                board,
                part,
                wanted,
                marked,
            } => {
                let (wanted, marked) = (mm(*wanted), mm(*marked));
                write!(
                    out,
                    "board {}: part {} is marked {marked}, it is {wanted}",
                    board + 1,
                    part + 1
                )
            }
            Lie::PartInBadStretch {
                board,
                part,
                from,
                to,
            } => {
                let (from, to) = (mm(*from), mm(*to));
                write!(
                    out,
                    "board {}: part {} lies over the bad stretch {from} to {to}",
                    board + 1,
                    part + 1
                )
            }
            Lie::PartBeyondRun { board, part, by } => {
                write!(
                    out,
                    "board {}: part {} reaches {} beyond its clear run",
                    board + 1,
                    part + 1,
                    mm(*by)
                )
            }
            Lie::NotAClearRun { board, from, to } => {
                write!(
                    out,
                    "board {}: {} to {} is not a clear run of it",
                    board + 1,
                    mm(*from),
                    mm(*to)
                )
            }
            Lie::NoRoomForTheSaw {
                board,
                part,
                room,
                needed,
            } => {
                let (room, needed) = (mm(*room), mm(*needed));
                write!(
                    out,
                    "board {}: {room} before part {} where the saw takes {needed}",
                    board + 1,
                    part + 1
                )
            }
            Lie::StrayGap {
                board,
                part,
                gap,
                needed,
            } => {
                let (gap, needed) = (mm(*gap), mm(*needed));
                write!(
                    out,
                    "board {}: a gap of {gap} before part {} where the saw takes {needed}",
                    board + 1,
                    part + 1
                )
            }
            Lie::MitreSharedWithoutTurning { board, part } => {
                write!(
                    out,
                    "board {}: part {} shares a mitre but is not turned",
                    board + 1,
                    part + 1
                )
            }
            Lie::TurnedOnFixedSection { board, part } => {
                write!(
                    out,
                    "board {}: part {} is turned on a section that may not be",
                    board + 1,
                    part + 1
                )
            }
            Lie::BoardUsedTwice { shed } => write!(out, "shed board {} is cut twice", shed + 1),
            Lie::MoreThanTheYardHas {
                yard,
                bought,
                count,
            } => {
                write!(
                    out,
                    "yard length {}: {bought} bought, {count} there",
                    yard + 1
                )
            }
            Lie::TooLongToCarry {
                board,
                length,
                carry,
            } => {
                write!(
                    out,
                    "board {}: a piece of {} is carried where {} fits",
                    board + 1,
                    mm(*length),
                    mm(*carry)
                )
            }
            Lie::NeedlessYardCut { board } => write!(
                out,
                "board {}: there is nothing for the yard to cut",
                board + 1
            ),
            Lie::WrongGroup { sections } => {
                write!(
                    out,
                    "a claim about sections {} that are no group of their own",
                    numbers(sections)
                )
            }
            Lie::WrongLevels { sections } => {
                write!(
                    out,
                    "sections {}: the levels are not those of the aim",
                    numbers(sections)
                )
            }
            Lie::WrongValue {
                measure,
                claimed,
                found,
            } => {
                write!(
                    out,
                    "{}: {claimed} claimed, the plan comes to {found}",
                    name(*measure)
                )
            }
            Lie::BoundAboveValue {
                measure,
                bound,
                value,
            } => {
                write!(
                    out,
                    "{}: a bound of {bound} above the plan's own {value}",
                    name(*measure)
                )
            }
            Lie::BoundAboveFigures {
                measure,
                bound,
                figures,
            } => {
                write!(
                    out,
                    "{}: a bound of {bound} where its figures claim {figures}",
                    name(*measure)
                )
            }
            Lie::MisshapenFigures { measure, what } => {
                write!(
                    out,
                    "{}: its figures cannot be added up: {}",
                    name(*measure),
                    what.words()
                )
            }
            Lie::PricesOvercharge {
                measure,
                board,
                worth,
                charge,
            } => {
                let board = match board {
                    Source::Yard(yard) => format!("yard length {}", yard + 1),
                    Source::Shed(shed) => format!("shed board {}", shed + 1),
                };
                write!(
                    out,
                    "{}: parts worth {worth} fit {board}, which is charged {charge}",
                    name(*measure)
                )
            }
            Lie::BoundNotShown {
                measure,
                claimed,
                shown,
            } => {
                write!(
                    out,
                    "{}: figures said to show {claimed} show {shown}",
                    name(*measure)
                )
            }
            Lie::LiftedTooFar {
                measure,
                claimed,
                next,
            } => {
                write!(
                    out,
                    "{}: raised to {claimed}, but boards can add up to {next}",
                    name(*measure)
                )
            }
        }
    }
}

impl Misshape {
    fn words(self) -> &'static str {
        match self {
            Misshape::Levels => "other levels than the plan's",
            Misshape::BelowZero => "a price below zero",
            Misshape::Parts => "not one price for each part",
            Misshape::Earlier => "not one price for each earlier level",
            Misshape::Splits => "not one price for each split",
            Misshape::Cover => "a split whose two sides do not part the plans",
            Misshape::Lift => "raised where totals are not sums of board costs",
        }
    }
}

/// What a level measures, and its unit.
fn name(measure: Measure) -> &'static str {
    match measure {
        Measure::Bought => "lengths bought",
        Measure::Money => "money in minor units",
        Measure::BoughtLength => "bought timber in ticks",
        Measure::Scrap => "scrap in ticks",
    }
}

fn numbers(indices: &[usize]) -> String {
    indices
        .iter()
        .map(|index| (index + 1).to_string())
        .collect::<Vec<_>>()
        .join(", ")
}

/// A length in millimetres, exact.
fn mm(length: Length) -> String {
    let (whole, rest) = (length.ticks().abs() / 3_200, length.ticks().abs() % 3_200);
    let sign = if length.ticks() < 0 { "-" } else { "" };
    // A tick is 312.5 nanometres: seven decimals of a millimetre are exact.
    let text = format!("{sign}{whole}.{:07}", rest * 3_125);
    format!("{} mm", text.trim_end_matches('0').trim_end_matches('.'))
}
