//! What a part written by hand is ripped to, and its letter.

use super::field::{Reader, written};
use super::{Keeps, Part, PartDraft, PartEnd, Rip, Section};
use crate::fault::{FaultKind, Place};
use crate::length::Length;
use crate::part::place_of;
use crate::{limits, usual};

impl Reader {
    /// What a part is ripped to; nothing where its boards are as wide as that.
    pub(super) fn rip(
        &mut self,
        row: usize,
        part: &PartDraft,
        made_of: &[usize],
        sections: &[Section],
    ) -> Option<Rip> {
        let place = |field| Place::row("parts", row, field);
        let edges = self.ends(place("bevel"), &part.bevel);
        let bevelled = edges != [PartEnd::Square; 2];
        if edges.iter().any(|edge| edge.is_tilted()) {
            // The blade is tilted in any case.
            let text = part.bevel.clone().unwrap_or_default();
            self.push(place("bevel"), FaultKind::Angle(text));
        }
        let width = match written(&part.ripped) {
            Some(_) => self.length(place("ripped"), &part.ripped, &limits::SIDE),
            None if bevelled => {
                let made_of = made_of.iter().filter_map(|&section| sections.get(section));
                made_of.filter_map(Section::broad).min().unwrap_or_default()
            }
            None => return None,
        };
        let keeps = self.word(place("keeps"), &part.keeps, &Keeps::WORDS, Keeps::Either);
        let made_of = || made_of.iter().filter_map(|&section| sections.get(section));
        for section in made_of() {
            match section.broad() {
                None => self.push(
                    place("ripped"),
                    FaultKind::RipWithoutWidth(section.name.clone()),
                ),
                Some(_) if meet(&edges, section) >= width => {
                    self.push(place("bevel"), FaultKind::BevelsMeet);
                }
                Some(broad) if width > broad || width < self.least_rip(section) => {
                    let least = self.least_rip(section);
                    let kind =
                        self.out_of_range(width, "what its boards are ripped to", least, broad);
                    self.push(place("ripped"), kind);
                }
                Some(_) => {}
            }
        }
        let narrow = made_of().any(|section| section.broad() != Some(width));
        (narrow || bevelled).then_some(Rip {
            width,
            keeps,
            edges,
        })
    }

    /// The least a board is ripped to: one that lies over its neighbour keeps its lap and what holds it beside that.
    fn least_rip(&self, section: &Section) -> Length {
        match section.joint.is_lap() {
            true => section.lap() + usual::HOLD.on(self.reading.unit.is_imperial()),
            false => section.lap().max(limits::SIDE.least),
        }
    }

    /// The letter of a part, where it is given one: none that a part before it has.
    pub(super) fn letter(
        &mut self,
        row: usize,
        text: &Option<String>,
        parts: &[Part],
    ) -> Option<usize> {
        let text = written(text)?;
        let letter = place_of(text);
        if letter.is_none() || parts.iter().any(|part| part.letter == letter) {
            let fault = FaultKind::Letter(text.to_owned());
            self.push(Place::row("parts", row, "letter"), fault);
        }
        letter
    }
}

/// What bevelled edges take off the narrower face of a board.
fn meet(edges: &[PartEnd; 2], section: &Section) -> Length {
    let thickness = section.thickness.unwrap_or_default();
    edges.iter().map(|edge| edge.stands_back(thickness)).sum()
}
