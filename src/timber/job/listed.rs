//! A part as it is written in the list.

use super::field::{Reader, written};
use super::{Fitting, Leans, MadeFrom, Part, PartDraft, PartEnd, Section, Treated, within};
use crate::fault::{FaultKind, Place};
use crate::length::Length;
use crate::limits;
use crate::part::{FACES, HANDS, Spare};

/// The greatest quantity of one part.
pub(super) const MOST_PARTS: u32 = limits::PARTS_IN_ALL.most as u32;

impl Reader {
    pub(super) fn part(
        &mut self,
        row: usize,
        part: &PartDraft,
        sections: &[Section],
        names: &[String],
    ) -> Part {
        let place = |field| Place::row("parts", row, field);
        let label = self.name(place("label"), &part.label, "the label of the part");
        let mut made_of: Vec<usize> = match written(&part.section) {
            None => vec![self.section(place("section"), &part.section, names)],
            Some(text) => text
                .split(';')
                .map(|name| self.section(place("section"), &Some(name.trim().to_owned()), names))
                .collect(),
        };
        if limits::CHOICES.passed_by(made_of.len()) {
            let fault = within::too_many(place("section"), made_of.len(), &limits::CHOICES);
            self.faults.push(fault);
        }
        order::sort(&mut made_of);
        made_of.dedup();
        let finished = self.length(place("length"), &part.length, &limits::PART);
        let over = self.length_or(place("over"), &part.over, &limits::OVER, Length::ZERO);
        let length = finished + over;
        if length > limits::PART.most {
            let kind = self.out_of_range(
                length,
                "the length it is cut to",
                limits::PART.least,
                limits::PART.most,
            );
            self.push(place("over"), kind);
        }
        let quantity = match written(&part.quantity) {
            None => 1,
            Some(_) => self.count(place("quantity"), &part.quantity, 1, MOST_PARTS),
        };
        let ends = self.ends(place("ends"), &part.ends);
        let leans = self.word(place("leans"), &part.leans, &Leans::WORDS, Leans::Opposite);
        if ends.iter().any(|end| *end != PartEnd::Square) {
            for section in made_of.iter().filter_map(|&section| sections.get(section)) {
                match section.width {
                    None => self.push(
                        place("ends"),
                        FaultKind::MitreWithoutWidth(section.name.clone()),
                    ),
                    Some(width) if slant(&ends, leans, (width, section)) > finished => {
                        self.push(place("ends"), FaultKind::MitresMeet);
                    }
                    _ if section.thickness.is_none() && ends.iter().any(|end| end.is_tilted()) => {
                        let name = section.name.clone();
                        self.push(place("ends"), FaultKind::TiltWithoutThickness(name));
                    }
                    Some(_) => {}
                }
            }
        }
        let pair = self.word(place("hand"), &part.hand, &HANDS, false);
        if pair && quantity % 2 == 1 {
            self.push(place("quantity"), FaultKind::OddPair);
        }
        let fitting = self.word(place("goes"), &part.goes, &Fitting::WORDS, Fitting::Free);
        if fitting == Fitting::Between && !over.is_none() {
            self.push(place("over"), FaultKind::LongBetweenOthers);
        }
        if lacks_square_end((fitting, ends), &made_of, sections) {
            self.push(place("ends"), FaultKind::PostWithoutSquareEnd);
        }
        let rip = self.rip(row, part, &made_of, sections);
        Part {
            label,
            sections: made_of,
            length,
            over,
            quantity,
            ends,
            leans,
            fitting,
            made_from: self.word(
                place("from"),
                &part.from,
                &MadeFrom::WORDS,
                MadeFrom::Anything,
            ),
            good_face: self.word(place("face"), &part.face, &FACES, false),
            pair,
            rip,
            strips: Vec::new(),
            from: String::new(),
            row: Some(row),
            letter: None,
            spare: Spare::No,
        }
    }
}

/// The least length at which ends do not meet: what both stand back where they lean opposite ways, what one does where they lean the same way.
fn slant(ends: &[PartEnd; 2], leans: Leans, (width, section): (Length, &Section)) -> Length {
    let thickness = section.thickness.unwrap_or_default();
    let [one, other] = ends.map(|end| end.stands_back(width) + end.through(thickness));
    match leans {
        Leans::Opposite => one + other,
        Leans::Same | Leans::Mirrored => one.max(other),
    }
}

/// Whether what goes in the ground has no square end, though some section that it may be made of is treated, so that it stands on a factory end.
pub(super) fn lacks_square_end(
    (fitting, ends): (Fitting, [PartEnd; 2]),
    made_of: &[usize],
    sections: &[Section],
) -> bool {
    let mut sections = made_of.iter().filter_map(|&section| sections.get(section));
    fitting == Fitting::Ground
        && !ends.contains(&PartEnd::Square)
        && sections.any(|section| section.treated == Treated::Yes)
}
