//! The laws that plans and proofs are held to, each told a second time in the plainest way and compared over many small cases.

pub(crate) mod blanks;
mod families;
mod leans;
mod marks;
mod offcuts;
mod pieces;
pub(crate) mod posts;
mod stocks;
mod woods;
mod worths;
mod yard_cuts;

use timber::draft::{JobDraft, PartDraft, SectionDraft, ShedDraft, YardDraft};
use timber::job::{Job, validate};
use timber::length::Length;
use timber::plan::{Edge, Lies, PlacedPart};

pub(crate) fn some(text: &str) -> Option<String> {
    Some(text.to_owned())
}

pub(crate) fn mm(millimetres: i64) -> Length {
    Length::from_mm(millimetres)
}

pub(crate) fn ticks(ticks: i64) -> Length {
    Length::from_ticks(ticks)
}

/// A job of one section, a rail 40 wide with a kerf of 3 and a step of 1 mm. The yard has lengths of 3000, the shed what `shed` says of each board:
/// (length, bad stretches, trim). Of each part: (length, ends, how many).
pub(crate) fn job(
    shed: &[(&str, &str, &str)],
    parts: &[(&str, &str, &str)],
    change: impl FnOnce(&mut JobDraft),
) -> Job {
    let mut draft = JobDraft::default();
    draft.own.step = some("1");
    draft.saw.kerf = some("3");
    draft.sections.push(SectionDraft {
        name: some("rail"),
        width: some("40"),
        ..SectionDraft::default()
    });
    draft.yard.push(YardDraft {
        section: some("rail"),
        length: some("3000"),
        ..YardDraft::default()
    });
    for (at, (length, bad, trim)) in shed.iter().enumerate() {
        draft.shed.push(ShedDraft {
            mark: Some(format!("S{at}")),
            section: some("rail"),
            length: some(length),
            bad: some(bad),
            trim: some(trim),
            ..ShedDraft::default()
        });
    }
    for (at, (length, ends, quantity)) in parts.iter().enumerate() {
        draft.parts.push(PartDraft {
            label: Some(format!("part {at}")),
            section: some("rail"),
            length: some(length),
            ends: some(ends),
            quantity: some(quantity),
            ..PartDraft::default()
        });
    }
    change(&mut draft);
    validate(&draft).expect("a job without faults")
}

/// A part as it is written, from one place to another.
pub(crate) fn placed(part: usize, start: Length, end: Length) -> PlacedPart {
    PlacedPart {
        part,
        start,
        end,
        lies: Lies::AsWritten,
        long_edge: Edge::Far,
    }
}
