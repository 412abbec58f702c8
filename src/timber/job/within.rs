//! Whether a job as written is within the limits, before anything in it is read.
//!
//! Lists come first: where one has too many rows nothing else is said, for nothing else is looked at. Texts that are too long are taken out, so
//! that the rest of the job is still read and shown while it is being typed.

use super::{JobDraft, ShedDraft};
use crate::fault::{Fault, FaultKind, Place};
use crate::limits::{self, Most};

/// The lists that have too many rows; empty where all of them may be read.
pub(super) fn lists(draft: &JobDraft) -> Vec<Fault> {
    let counted = limits::LISTS.iter().map(|(list, limit)| {
        let unread = draft.unread.iter().find(|(name, _)| name == list);
        let found = unread.map_or_else(|| rows(draft, list), |(_, found)| *found);
        (*list, found, *limit)
    });
    counted
        .filter(|(_, found, limit)| limit.passed_by(*found))
        .map(|(list, found, limit)| too_many(Place::job(list), found, limit))
        .collect()
}

fn rows(draft: &JobDraft, list: &str) -> usize {
    match list {
        "sections" => draft.sections.len(),
        "yard" => draft.yard.len(),
        "shed" => draft.shed.len(),
        "parts" => draft.parts.len(),
        _ => draft.set_outs.len(),
    }
}

/// Takes out the texts that are too long; what they were is told.
pub(super) fn shorten(draft: &mut JobDraft) -> Vec<Fault> {
    let mut texts = Texts { faults: Vec::new() };
    let [name, field, list] = [&limits::NAME, &limits::FIELD, &limits::LIST];
    for (at, text, limit) in [
        ("piece", &mut draft.piece, name),
        ("unit", &mut draft.unit, field),
        ("decimal", &mut draft.decimal, field),
        ("step", &mut draft.step, field),
        ("aim", &mut draft.aim, field),
        ("carry", &mut draft.carry, field),
        ("payload", &mut draft.payload, field),
    ] {
        texts.look(|| Place::job(at), text, limit);
    }
    for (at, text) in [("kerf", &mut draft.saw.kerf), ("keep", &mut draft.saw.keep)] {
        texts.look(|| Place::object("saw", at), text, field);
    }
    for (row, section) in draft.sections.iter_mut().enumerate() {
        for (at, text, limit) in [
            ("name", &mut section.name, name),
            ("thickness", &mut section.thickness, field),
            ("width", &mut section.width, field),
            ("cover", &mut section.cover, field),
            ("treated", &mut section.treated, field),
            ("turnable", &mut section.turnable, field),
            ("density", &mut section.density, field),
            ("trim", &mut section.trim, field),
            ("keep", &mut section.keep, field),
        ] {
            texts.look(|| Place::row("sections", row, at), text, limit);
        }
    }
    for (row, line) in draft.yard.iter_mut().enumerate() {
        for (at, text, limit) in [
            ("section", &mut line.section, name),
            ("length", &mut line.length, field),
            ("price", &mut line.price, field),
            ("count", &mut line.count, field),
        ] {
            texts.look(|| Place::row("yard", row, at), text, limit);
        }
    }
    for (row, board) in draft.shed.iter_mut().enumerate() {
        texts.board(row, board);
    }
    for (row, part) in draft.parts.iter_mut().enumerate() {
        for (at, text, limit) in [
            ("label", &mut part.label, &limits::LABEL),
            ("section", &mut part.section, list),
            ("length", &mut part.length, field),
            ("quantity", &mut part.quantity, field),
            ("ends", &mut part.ends, field),
            ("goes", &mut part.goes, field),
        ] {
            texts.look(|| Place::row("parts", row, at), text, limit);
        }
    }
    texts.set_outs(draft);
    texts.faults
}

/// A fault that says how many there are and how many there may be.
pub(super) fn too_many(place: Place, found: usize, limit: &'static Most) -> Fault {
    Fault::new(place, FaultKind::TooMany { found, limit })
}

struct Texts {
    faults: Vec<Fault>,
}

impl Texts {
    fn look(&mut self, place: impl Fn() -> Place, text: &mut Option<String>, limit: &'static Most) {
        if text
            .as_ref()
            .is_some_and(|text| self.is_long(&place, text, limit))
        {
            *text = None;
        }
    }

    fn is_long(&mut self, place: impl Fn() -> Place, text: &str, limit: &'static Most) -> bool {
        // No text has more characters than bytes, so most are not counted.
        let long = limit.passed_by(text.len()) && limit.passed_by(text.chars().count());
        if long {
            let fault = too_many(place(), text.chars().count(), limit);
            self.faults.push(fault);
        }
        long
    }

    fn board(&mut self, row: usize, board: &mut ShedDraft) {
        for (at, text, limit) in [
            ("mark", &mut board.mark, &limits::NAME),
            ("section", &mut board.section, &limits::NAME),
            ("length", &mut board.length, &limits::FIELD),
            ("bad", &mut board.bad, &limits::LIST),
            ("trim", &mut board.trim, &limits::FIELD),
            ("note", &mut board.note, &limits::NOTE),
        ] {
            self.look(|| Place::row("shed", row, at), text, limit);
        }
    }

    fn set_outs(&mut self, draft: &mut JobDraft) {
        for (row, set_out) in draft.set_outs.iter_mut().enumerate() {
            let place = |at: &str| Place::row("set_outs", row, at);
            self.look(|| place("name"), &mut set_out.name, &limits::NAME);
            self.look(|| place("kind"), &mut set_out.kind, &limits::NAME);
            set_out.fields.retain(|(field, text)| {
                // The label of its parts goes into a longer one.
                let limit = if field == "label" {
                    &limits::NAME
                } else {
                    &limits::FIELD
                };
                !self.is_long(|| place(&limits::NAME.cut(field.clone())), text, limit)
            });
        }
        draft.quantities.retain(|(rule, text)| {
            let place = || Place::object("quantities", &limits::NAME.cut(rule.clone()));
            !self.is_long(place, text, &limits::FIELD)
        });
    }
}
