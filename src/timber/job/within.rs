//! Whether a job as typed is within the limits, checked before any of it is read.
//!
//! Lists come first. Where one has too many rows, nothing else is looked at or reported. Texts that are too long are taken out, so that the
//! rest of the job is still read and shown while it is being typed.

use super::JobDraft;
use crate::fault::{Fault, FaultKind, Place};
use crate::fields::Row;
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
        "yards" => draft.yards.len(),
        "shed" => draft.shed.len(),
        "parts" => draft.parts.len(),
        _ => draft.set_outs.len(),
    }
}

/// Takes out the texts that are too long, and returns a fault for each.
pub(super) fn shorten(draft: &mut JobDraft) -> Vec<Fault> {
    let mut texts = Texts { faults: Vec::new() };
    texts.row(&mut draft.own, &Place::job);
    texts.row(&mut draft.saw, &|at| Place::object("saw", at));
    texts.rows("sections", &mut draft.sections);
    texts.rows("yard", &mut draft.yard);
    texts.rows("yards", &mut draft.yards);
    texts.rows("shed", &mut draft.shed);
    texts.rows("parts", &mut draft.parts);
    texts.set_outs(draft);
    texts.faults
}

/// The fault that there are too many of something: how many there are, and how many there may be.
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
        // A text has at most as many characters as bytes, so most texts need not be counted.
        let long = limit.passed_by(text.len()) && limit.passed_by(text.chars().count());
        if long {
            let fault = too_many(place(), text.chars().count(), limit);
            self.faults.push(fault);
        }
        long
    }

    fn rows<R: Row>(&mut self, list: &str, rows: &mut [R]) {
        for (at, row) in rows.iter_mut().enumerate() {
            self.row(row, &|field| Place::row(list, at, field));
        }
    }

    fn row<R: Row>(&mut self, row: &mut R, place: &dyn Fn(&str) -> Place) {
        for (field, text) in R::FIELDS.iter().zip(row.texts_mut()) {
            self.look(|| place(field.name), text, field.characters);
        }
    }

    fn set_outs(&mut self, draft: &mut JobDraft) {
        for (row, set_out) in draft.set_outs.iter_mut().enumerate() {
            let place = |at: &str| Place::row("set_outs", row, at);
            self.look(|| place("name"), &mut set_out.name, &limits::NAME);
            self.look(|| place("kind"), &mut set_out.kind, &limits::NAME);
            set_out.fields.retain(|(field, text)| {
                // The label is shorter than in a list of parts, since a longer one is made from it.
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
