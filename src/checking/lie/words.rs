//! Lies in words. They are for whoever mends the planner, so lengths are exact millimetres whatever the job's unit.

use super::{Lie, Misshape, Spot};
use std::fmt;
use timber::length::Length;
use timber::plan::{Measure, Source};

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
            Lie::MarkOffTheBoard { board, at } => {
                write!(
                    out,
                    "board {}: a mark at {}, off any board",
                    board + 1,
                    mm(*at)
                )
            }
            Lie::MarksOfAnotherPlan { board } => write!(
                out,
                "board {}: its marks are not those of its parts",
                board + 1
            ),
            Lie::MarkAstray { board, part, made } => write!(
                out,
                "board {}: part {} comes out at {} by its marks",
                board + 1,
                part + 1,
                mm(*made)
            ),
            Lie::MarksLoseAnOffcut { board } => write!(
                out,
                "board {}: by its marks an offcut is too short to keep",
                board + 1
            ),
            Lie::PartForgotten { part, wanted, cut }
            | Lie::PartCutTooOften { part, wanted, cut } => {
                write!(out, "part {}: {wanted} wanted, {cut} cut", part + 1)
            }
            Lie::StripsMiscounted { row, wanted, cut } => write!(
                out,
                "row {} of the list: {wanted} wanted, {cut} ripped",
                row + 1
            ),
            Lie::UnlikeStrips { part, row } => write!(
                out,
                "part {}: row {} of the list cannot be ripped out of it",
                part + 1,
                row + 1
            ),
            Lie::BlankTooWide { part, by } => write!(
                out,
                "part {}: its strips are {} wider than its board",
                part + 1,
                mm(*by)
            ),
            Lie::WrongBlank { part } => write!(
                out,
                "part {}: it is not as long as its longest strip, or not square",
                part + 1
            ),
            Lie::RippedIntoItsLap { part, row } => write!(
                out,
                "part {}: row {} of the list is no wider than its lap",
                part + 1,
                row + 1
            ),
            Lie::WrongSection { board, part } => {
                write!(
                    out,
                    "board {}: part {} may not be made of this section",
                    board + 1,
                    part + 1
                )
            }
            Lie::WrongTimber { board, part } => {
                write!(
                    out,
                    "board {}: part {} may not be made from this board: it asks for new timber, for shed boards only, or for a board that may be ripped",
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
            Lie::NotOnFactoryEnd { board, part } => {
                write!(
                    out,
                    "board {}: part {} goes in the ground and does not stand on a factory end",
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
            Lie::TotalTooGreat { measure } => {
                write!(out, "{}: the total is too great to be told", name(*measure))
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
            Lie::MisshapenFigures {
                measure,
                spot,
                what,
            } => {
                write!(
                    out,
                    "{}: its figures cannot be added up: {}{}",
                    name(*measure),
                    spot.map(Spot::words).unwrap_or_default(),
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
                    "{}: raised to {claimed}, but plans can come to {next}",
                    name(*measure)
                )
            }
        }
    }
}

impl Spot {
    fn words(self) -> String {
        let branch = self.branch + 1;
        match self.twig {
            None => format!("place {branch}: "),
            Some(twig) => format!("place {branch}, step {} of its search: ", twig + 1),
        }
    }
}

impl Misshape {
    fn words(self) -> &'static str {
        match self {
            Misshape::Levels => "other levels than the plan's",
            Misshape::BelowZero => "a price below zero",
            Misshape::TooGreat => "a price greater than any that is added up",
            Misshape::Parts => "not one price for each part",
            Misshape::Earlier => "not one price for each earlier level",
            Misshape::Boards => "not one price for each board",
            Misshape::Splits => "a price for a split that is not on the way",
            Misshape::Cover => "a split whose two sides do not part the plans",
            Misshape::Offcuts => "a split on offcuts that are not counted here",
            Misshape::Cutting => "a split on a cutting that cannot be",
            Misshape::Pair => "a pair of parts or blocks of which one is none",
            Misshape::Repeated => "a split that was made before on the way",
            Misshape::TooShort => "the list ends here, and a side of a split is missing",
            Misshape::TooLong => "the tree was complete before it",
        }
    }
}

/// What a level measures, and its unit.
fn name(measure: Measure) -> String {
    let unit = match measure {
        Measure::Bought | Measure::LengthsBeyond => "",
        Measure::Money => " in minor units",
        Measure::BoughtLength | Measure::Scrap | Measure::TimberBeyond => " in ticks",
    };
    format!("{}{unit}", measure.name())
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
    let ticks = length.ticks().unsigned_abs();
    let (whole, rest) = (ticks / 3_200, ticks % 3_200);
    let sign = if length.ticks() < 0 { "-" } else { "" };
    // A tick is 312.5 nanometres: seven decimals of a millimetre are exact.
    let text = format!("{sign}{whole}.{:07}", rest * 3_125);
    format!("{} mm", text.trim_end_matches('0').trim_end_matches('.'))
}
