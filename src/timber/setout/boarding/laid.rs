//! How the boards are laid: from one side, with both edges ripped, or whole with their laps evened out.
//!
//! Evening out laps is the practice of every weatherboarding text (Griffith, *Carpentry*, section 57; US Navy *Builder*, on bevel siding).
//! In a face of S, n whole boards of width w with an exposure of E cover (n - 1) E + w. So n = ceil((S - w) / (w - lap)) + 1 and E = (S -
//! w) / (n - 1), and the lap w - E is never below the least. Every start is rounded from its own fraction, so the first board begins and
//! the last ends with the face, to the tick.

use super::face::{Edges, Face, Laps};
use crate::length::Length;
use crate::section::EdgeJoint;
use crate::setout::lay::{Lay, lay_rest};
use crate::setout::ratio::share;
use crate::setout::sizes::Sizes;
use crate::setout::worked::{Misfit, Worked};

/// Boards as they lie.
pub(super) struct Laid {
    /// The width that each takes.
    pub(super) widths: Vec<Length>,
    /// Where each starts.
    pub(super) starts: Vec<Length>,
    /// The lap, where laps were evened out.
    pub(super) lap: Option<Length>,
}

impl Laid {
    fn of(lay: &Lay, gap: Length) -> Laid {
        let mut at = Length::ZERO;
        let starts = lay.widths.iter().map(|&width| {
            let start = at;
            at = at + width + gap;
            start
        });
        Laid {
            starts: starts.collect(),
            widths: lay.widths.clone(),
            lap: None,
        }
    }

    /// Where the last of the first `boards` boards ends.
    pub(super) fn end(&self, boards: usize) -> Length {
        self.starts[boards - 1] + self.widths[boards - 1]
    }
}

impl Face<'_> {
    /// The boards laid in the way that the form chooses.
    pub(super) fn chosen(
        &self,
        sizes: &Sizes,
        as_laid: &Lay,
        shared: Option<&Lay>,
    ) -> Result<Laid, Misfit> {
        if let Some(laid) = self.evened() {
            return Ok(laid);
        }
        let last = *as_laid.widths.last().unwrap_or(&self.board);
        let shared = shared.filter(|shared| self.holds(shared));
        let chosen = match (self.edges, shared) {
            (Edges::RipBoth, Some(shared)) => shared,
            (Edges::ShareThin, Some(shared)) if last < self.least => shared,
            _ => as_laid,
        };
        if self.holds(chosen) {
            return Ok(Laid::of(chosen, self.gap));
        }
        let [last, floor] = [last, self.floor].map(|length| sizes.show(length));
        let (field, way_out) = match (self.timber.joint, self.laps) {
            (EdgeJoint::Lapped, Laps::AsTheCover) => ("laps", "even the laps out"),
            _ if shared.is_some() => ("edges", "share it between both edges"),
            _ => (
                self.across_field(),
                "make the face wider or narrower, or change the cover width",
            ),
        };
        Err(Misfit::new(
            field,
            format!(
                "the last board would be ripped to {last} overall, and less than {floor} leaves nothing beside its lap to hold it; {way_out}"
            ),
        ))
    }

    /// Whether every ripped board is wide enough for its lap and its hold. A lone board has no lap.
    fn holds(&self, lay: &Lay) -> bool {
        lay.widths.len() < 2 || lay.widths.iter().all(|&width| width >= self.floor)
    }

    /// Whether boards may start this far apart: each shows enough to be held, and none covers two others.
    fn may_lie(&self, apart: Length, more: i64, first_off: Length) -> bool {
        apart - first_off >= self.hold && (more < 2 || apart + apart >= self.board)
    }

    /// Whole boards with their laps evened out; `None` where that is not chosen or not possible.
    fn evened(&self) -> Option<Laid> {
        if self.timber.joint != EdgeJoint::Lapped || self.laps != Laps::Evened {
            return None;
        }
        let rest = self.span - self.first;
        let more = self.boards_over(rest);
        let off = self.board - self.first;
        if more < 1 || !self.may_lie(share(rest, 1, more), more, off) {
            return None;
        }
        let before = Laid {
            widths: vec![self.first],
            starts: vec![Length::ZERO],
            lap: None,
        };
        Some(self.laid_on(before, rest, more))
    }

    /// The fewest whole boards that cover `rest` beyond the board before.
    fn boards_over(&self, rest: Length) -> i64 {
        let cover = (self.board + self.gap).ticks();
        (rest.ticks() + cover - 1).div_euclid(cover)
    }

    /// The boards so far and `more` whole boards at equal laps.
    fn laid_on(&self, mut laid: Laid, rest: Length, more: i64) -> Laid {
        let edge = laid.end(laid.widths.len());
        for board in 1..=more {
            laid.starts
                .push(edge - self.board + share(rest, board, more));
            laid.widths.push(self.board);
        }
        laid.lap = Some(self.board - share(rest, 1, more));
        laid
    }

    /// The boards laid so far, and the rest laid over the width that was measured.
    pub(super) fn measured_again(
        &self,
        sizes: &Sizes,
        planned: Laid,
        worked: &mut Worked,
    ) -> Result<Laid, Misfit> {
        let (laid, left) = match (sizes.given_count("laid"), sizes.given("left")) {
            (Some(laid), Some(left)) => (laid as usize, left),
            (None, None) => return Ok(planned),
            (Some(_), None) => {
                return Err(Misfit::new("left", "fill in the width still to cover too"));
            }
            (None, Some(_)) => {
                return Err(Misfit::new("laid", "fill in how many boards are laid too"));
            }
        };
        if laid >= planned.widths.len() {
            return Err(Misfit::new(
                "laid",
                format!(
                    "the face takes {} boards; fewer than that are laid when it is measured again",
                    planned.widths.len()
                ),
            ));
        }
        self.not_too_many(left, "left")?;
        worked.notes.push(format!(
            "Shared out again from {} measured; {} was planned there.",
            sizes.show(left),
            sizes.show(self.span - planned.end(laid))
        ));
        let before = Laid {
            widths: planned.widths[..laid].to_vec(),
            starts: planned.starts[..laid].to_vec(),
            lap: None,
        };
        self.rest(sizes, before, left)
    }

    fn rest(&self, sizes: &Sizes, mut laid: Laid, left: Length) -> Result<Laid, Misfit> {
        let more = self.boards_over(left);
        let even = self.timber.joint == EdgeJoint::Lapped && self.laps == Laps::Evened;
        if even && self.may_lie(share(left, 1, more), more, Length::ZERO) {
            return Ok(self.laid_on(laid, left, more));
        }
        // An overlapping board is not ripped in the middle of the face: that would remove one of its two edges.
        let sharing = match self.edges {
            Edges::ShareThin | Edges::RipBoth if !self.is_lap() => self.least,
            _ => Length::ZERO,
        };
        let again = lay_rest(left, self.board, self.gap, sharing);
        if let Some(&last) = again.widths.last()
            && last < self.floor
        {
            let [last, floor] = [last, self.floor].map(|length| sizes.show(length));
            return Err(Misfit::new(
                "left",
                format!(
                    "the last board would be ripped to {last} overall, less than the {floor} of its lap and what holds it; take the last board laid off again and measure from the one before"
                ),
            ));
        }
        let mut at = laid.end(laid.widths.len()) + self.gap;
        for width in again.widths {
            laid.starts.push(at);
            laid.widths.push(width);
            at = at + width + self.gap;
        }
        Ok(laid)
    }
}
