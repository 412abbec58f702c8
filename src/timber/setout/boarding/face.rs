//! The face to be boarded and its boards, as the form gives them.

use crate::length::Length;
use crate::section::EdgeJoint;
use crate::setout::movement;
use crate::setout::sizes::{Sizes, Timber};
use crate::setout::worked::Misfit;
use crate::usual;

/// How many thicknesses of boards each word of `corners` adds.
pub const CORNERS: [i64; 4] = [0, 2, 1, -2];

/// The most boards on one face.
const MOST: usize = 1_000;

#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Edges {
    ShareThin,
    RipLast,
    RipBoth,
}

#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Laps {
    Evened,
    AsTheCover,
}

#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Run {
    Upright,
    Across,
}

pub(super) struct Face<'a> {
    pub(super) timber: &'a Timber,
    pub(super) run: Run,
    pub(super) edges: Edges,
    pub(super) laps: Laps,
    /// The face's size across the boards.
    pub(super) span: Length,
    /// The face's size along the boards.
    pub(super) length: Length,
    /// The width that a whole board takes: its cover width, or where it overlaps its neighbour its overall width.
    pub(super) board: Length,
    /// The gap from a board to the next; below zero where they overlap.
    pub(super) gap: Length,
    /// The width that the first board takes.
    pub(super) first: Length,
    /// The least width of the last board; below it, both edge boards are ripped instead.
    pub(super) least: Length,
    /// The least width to which an overlapping board may be ripped; zero for the others.
    pub(super) floor: Length,
    /// The width beside its lap that holds an overlapping board.
    pub(super) hold: Length,
}

impl<'a> Face<'a> {
    pub(super) fn read(sizes: &Sizes, timber: &'a Timber) -> Result<Face<'a>, Misfit> {
        let corner = sizes.choice("corners", CORNERS) * timber.thickness.ticks();
        let corner = sizes.stands.past_corners.unwrap_or(corner);
        let width = Length::from_ticks(sizes.length("width")?.ticks() + corner);
        let height = sizes.length("height")? + sizes.length("past")?;
        if width.is_none() {
            return Err(Misfit::new(
                "corners",
                "the neighbours leave nothing between them; make the face wider",
            ));
        }
        let run = sizes.choice("run", [Run::Upright, Run::Across]);
        let (span, length) = match run {
            Run::Upright => (width, height),
            Run::Across => (height, width),
        };
        let hold = usual::HOLD.on(sizes.style.unit.is_imperial());
        let (board, gap, floor) = taken(sizes, timber, hold)?;
        let first = board - sizes.length("first_off")?;
        if first.is_none() {
            return Err(Misfit::new(
                "first_off",
                "this cuts the whole first board away; give less than its cover width",
            ));
        }
        if first < board && first < floor {
            let message = format!(
                "this leaves {} of the first board, less than the {} of its lap and what holds it; give less",
                sizes.show(first),
                sizes.show(floor)
            );
            return Err(Misfit::new("first_off", message));
        }
        let half = Length::from_ticks(timber.cover.ticks() / 2);
        Ok(Face {
            timber,
            run,
            edges: sizes.choice("edges", [Edges::ShareThin, Edges::RipLast, Edges::RipBoth]),
            laps: sizes.choice("laps", [Laps::Evened, Laps::AsTheCover]),
            span,
            length,
            board,
            gap,
            first,
            least: sizes.given("least_rip").unwrap_or(half).max(floor),
            floor,
            hold,
        })
    }

    /// The name of the field with the face's size across the boards.
    pub(super) fn across_field(&self) -> &'static str {
        match self.run {
            Run::Upright => "width",
            Run::Across => "height",
        }
    }

    pub(super) fn not_too_many(&self, span: Length, field: &'static str) -> Result<(), Misfit> {
        if (span.ticks() / (self.board + self.gap).ticks().max(1)) as usize >= MOST {
            return Err(Misfit::new(
                field,
                "this takes more than 1000 boards; check the unit",
            ));
        }
        Ok(())
    }

    pub(super) fn is_lap(&self) -> bool {
        self.timber.joint.is_lap()
    }

    /// The lap of a board with its given cover width, over or under its neighbour.
    pub(super) fn least_lap(&self) -> Length {
        Length::ZERO - self.gap
    }

    /// The room in which boards can swell and shrink.
    pub(super) fn room(&self) -> movement::Room {
        match self.timber.joint {
            EdgeJoint::Square => movement::Room::Gap(self.gap),
            EdgeJoint::Tongued => movement::Room::Tongue {
                gap: self.gap,
                tongue: self.timber.width - self.timber.cover,
            },
            EdgeJoint::Rebated => movement::Room::Tongue {
                gap: self.timber.width - self.timber.cover + self.gap,
                tongue: self.timber.width - self.timber.cover,
            },
            EdgeJoint::Lapped => movement::Room::Lap(self.least_lap()),
        }
    }

    /// The outside sizes of the boarding, across and up, whichever way its boards run.
    pub(super) fn over_all(&self) -> [Length; 2] {
        match self.run {
            Run::Upright => [self.span, self.length],
            Run::Across => [self.length, self.span],
        }
    }

    pub(super) fn is_full(&self, width: Length) -> bool {
        width == self.board
    }
}

/// The width that a whole board takes, the gap to the next (below zero where they overlap), and the least width to which it may be ripped.
fn taken(sizes: &Sizes, timber: &Timber, hold: Length) -> Result<(Length, Length, Length), Misfit> {
    let lap = timber.width - timber.cover;
    let gap = sizes.length("gap")?;
    Ok(match timber.joint {
        EdgeJoint::Square | EdgeJoint::Tongued => (timber.cover, gap, Length::ZERO),
        EdgeJoint::Lapped => (timber.width, Length::ZERO - lap, lap + hold),
        EdgeJoint::Rebated if gap >= lap => {
            let message = format!(
                "a gap of {} opens the rebate of {} wholly; give a narrower one",
                sizes.show(gap),
                sizes.show(lap)
            );
            return Err(Misfit::new("gap", message));
        }
        EdgeJoint::Rebated => (timber.width, gap - lap, lap + hold),
    })
}
