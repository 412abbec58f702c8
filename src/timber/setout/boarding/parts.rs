//! The parts of a boarding: whole boards, and the ripped ones each by its width.

use super::face::Face;
use super::laid::Laid;
use crate::length::Length;
use crate::part::{Keeps, Part, Rip};
use crate::setout::sizes::Sizes;
use crate::setout::worked::{Hazard, Worked};

impl Face<'_> {
    pub(super) fn parts(&self, sizes: &Sizes, chosen: &Laid, worked: &mut Worked) {
        let sections = &self.timber.sections;
        let full = chosen.widths.iter().filter(|&&width| self.is_full(width));
        worked.part("board", sections, self.length, full.count() as u32);
        let mut ripped = 0;
        for (index, &width) in chosen.widths.iter().enumerate() {
            if self.is_full(width) {
                continue;
            }
            let label = self.ripped_label(index, chosen.widths.len(), sizes.show(width), width);
            worked.add(Part {
                rip: Some(self.rip(index, chosen.widths.len(), width)),
                ..Part::square(&label, sections, self.length, 1)
            });
            ripped += 1;
        }
        if ripped > 0 {
            worked.hazards.push(Hazard::Rip(sections.clone()));
        }
        let boards = chosen.widths.len() as u32;
        worked.crossings(
            "boards over rails",
            boards * sizes.count("supports"),
            self.timber.width,
            self.timber.thickness,
        );
    }

    /// What a board is ripped to and which edge it keeps. Widths of tongued boards are cover widths here, and first and last ones of one width are one part: which
    /// edge each keeps is told under the drawing, and on the list they have a board each.
    pub(super) fn rip(&self, index: usize, count: usize, width: Length) -> Rip {
        let keeps = match (self.is_lap() && count > 1, index) {
            (true, 0) => Keeps::First,
            (true, _) => Keeps::Last,
            (false, _) => Keeps::Either,
        };
        Rip::square(width, keeps)
    }

    /// What a ripped board is called: which it is, how wide, and where it lies over its neighbour which edge stays.
    fn ripped_label(&self, index: usize, count: usize, shown: String, width: Length) -> String {
        let overall = if self.is_lap() { " overall" } else { "" };
        match self.ripped(index, count, width) {
            Ripped::EdgeOff => format!("first board, edge off to {shown}{overall}"),
            Ripped::FirstOver => {
                format!("first board ripped to {shown} overall, its edge under the next stays")
            }
            Ripped::LastOver => {
                format!("last board ripped to {shown} overall, its edge over the one before stays")
            }
            Ripped::Board => format!("board ripped to {shown}{overall}"),
        }
    }

    /// Why a board is narrower than a whole one.
    pub(super) fn ripped(&self, index: usize, count: usize, width: Length) -> Ripped {
        match (self.is_lap() && count > 1, index) {
            (_, 0) if width == self.first => Ripped::EdgeOff,
            (true, 0) => Ripped::FirstOver,
            (true, _) => Ripped::LastOver,
            (false, _) => Ripped::Board,
        }
    }
}

/// Why a board is narrower than a whole one, in the order in which such boards follow each other.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Ripped {
    /// The edge of the first one is cut off.
    EdgeOff,
    /// It is the first one, and lies under the next.
    FirstOver,
    /// It fills what is left.
    Board,
    /// It fills what is left, and lies over the one before.
    LastOver,
}
