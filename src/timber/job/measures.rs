//! The sides of a section as written: its sizes, how its edges meet, and what its boards measure at the yard.
//!
//! The cover width changes by as much as the measured width does. For what lies under the next board (the tongue, the rebate, the least
//! lap) is milled or laid, and stays the same on a board that is narrower or wider than it was sold.

use super::field::{Reader, written};
use crate::draft::SectionDraft;
use crate::fault::{FaultKind, Place};
use crate::length::Length;
use crate::limits;
use crate::section::EdgeJoint;

/// The sides of a section as typed.
pub(super) struct Measures {
    pub(super) thickness: Option<Length>,
    pub(super) width: Option<Length>,
    pub(super) cover: Option<Length>,
    pub(super) sold_width: Option<Length>,
    pub(super) joint: EdgeJoint,
}

/// The choice where nothing is typed comes first: tongued where the cover is under the width, otherwise square.
const JOINTS: &[(&str, Option<EdgeJoint>)] = &[
    ("by cover", None),
    of(EdgeJoint::WORDS[0]),
    of(EdgeJoint::WORDS[1]),
    of(EdgeJoint::WORDS[2]),
    of(EdgeJoint::WORDS[3]),
];

const fn of((word, joint): (&str, EdgeJoint)) -> (&str, Option<EdgeJoint>) {
    (word, Some(joint))
}

impl Reader {
    pub(super) fn measures(&mut self, row: usize, section: &SectionDraft) -> Measures {
        let place = |field| Place::row("sections", row, field);
        let side = |reader: &mut Reader, field, text: &Option<String>| {
            written(text).map(|_| reader.length(place(field), text, &limits::SIDE))
        };
        let typed = side(self, "width", &section.width);
        let measured = side(self, "measured", &section.measured);
        let mut width = typed.or(measured);
        let mut cover = side(self, "cover", &section.cover);
        let least = limits::SIDE.least;
        if let (Some(width), Some(covered)) = (width, cover)
            && covered > width
        {
            let kind = self.out_of_range(covered, "the cover width", least, width);
            self.push(place("cover"), kind);
        }
        let covers_less = cover.is_some() && cover < width;
        let said = self.word(place("joint"), &section.joint, JOINTS, None);
        let by_cover = if covers_less {
            EdgeJoint::Tongued
        } else {
            EdgeJoint::Square
        };
        let mut joint = said.unwrap_or(by_cover);
        if width.is_some() && covers_less != (joint != EdgeJoint::Square) {
            self.push(
                place("cover"),
                if covers_less {
                    FaultKind::WrongShape("no cover width, as square edges cover the whole width")
                } else {
                    FaultKind::Missing("the cover width, less than the width,")
                },
            );
            joint = by_cover;
        }
        let mut sold_width = None;
        if let (Some(typed), Some(measured)) = (typed, measured)
            && typed != measured
        {
            let under = cover.map_or(Length::ZERO, |cover| (typed - cover).max(Length::ZERO));
            if measured <= under {
                let most = limits::SIDE.most;
                let kind = self.out_of_range(measured, "the measured width", under + least, most);
                self.push(place("measured"), kind);
            } else {
                sold_width = Some(typed);
                width = Some(measured);
                cover = cover.map(|_| measured - under);
            }
        }
        Measures {
            thickness: side(self, "thickness", &section.thickness),
            width,
            cover,
            sold_width,
            joint,
        }
    }
}
