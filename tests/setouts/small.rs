//! Small jobs built from set-outs, and short ways to get their results.

use crate::common::hand::draft_of;
use lengthwise::fault::Fault;
use lengthwise::job::{Job, JobDraft, examine};
use lengthwise::length::{Length, Reading, Unit, read_length};
use lengthwise::setout::{FactValue, SetOut};

/// A section: name, thickness, width, cover.
pub type Sides<'a> = (&'a str, &'a str, &'a str, &'a str);

/// A set-out as written: its name, its kind, its fields.
pub type Written<'a> = (&'a str, &'a str, &'a [(&'a str, &'a str)]);

pub fn draft(unit: &str, sections: &[Sides], set_outs: &[Written]) -> JobDraft {
    let text = |text: &str| Some(text.to_owned()).filter(|text| !text.is_empty());
    draft_of(|draft| {
        draft.own.unit = text(unit);
        for &(name, thickness, width, cover) in sections {
            draft.section(name, |section| {
                section.name = text(name);
                section.thickness = text(thickness);
                section.width = text(width);
                section.cover = text(cover);
            });
        }
        for &(name, kind, fields) in set_outs {
            draft.set_out(name, kind, fields);
        }
    })
}

/// The job, which must be without fault.
#[track_caller]
pub fn sound(draft: &JobDraft) -> Job {
    let (job, faults) = examine(draft);
    let faults: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert_eq!(faults, Vec::<String>::new());
    job
}

pub fn faults(draft: &JobDraft) -> Vec<Fault> {
    examine(draft).1
}

/// One set-out with one section, worked out.
#[track_caller]
pub fn one(unit: &str, sides: Sides, kind: &str, fields: &[(&str, &str)]) -> SetOut {
    let job = sound(&draft(unit, &[sides], &[("it", kind, fields)]));
    job.set_outs[0].clone()
}

/// The length with this name among its facts.
#[track_caller]
pub fn fact(set_out: &SetOut, name: &str) -> Length {
    match set_out.facts.iter().find(|fact| fact.name == name) {
        Some(fact) => match fact.value {
            FactValue::Length(length) => length,
            FactValue::Count(count) => panic!("{name} is the number {count}"),
        },
        None => panic!("no fact {name} in {:?}", set_out.facts),
    }
}

/// The number with this name among its facts.
#[track_caller]
pub fn number(set_out: &SetOut, name: &str) -> u32 {
    match set_out
        .facts
        .iter()
        .find(|fact| fact.name == name)
        .map(|fact| fact.value)
    {
        Some(FactValue::Count(count)) => count,
        other => panic!("{name}: {other:?}"),
    }
}

/// Length and quantity of the part with this label within the set-out.
#[track_caller]
pub fn part(set_out: &SetOut, label: &str) -> (Length, u32) {
    let label = format!("{}: {label}", set_out.name);
    match set_out.parts.iter().find(|part| part.label == label) {
        Some(part) => (part.length, part.quantity),
        None => panic!("no part {label} in {:?}", set_out.parts),
    }
}

/// The running marks of a set-out from the datum at this place in its list.
pub fn marks(set_out: &SetOut, datum: usize) -> Vec<Length> {
    let marks = set_out.positions[datum].marks.iter();
    marks.map(|mark| mark.at).collect()
}

pub fn mm(text: &str) -> Length {
    length(text, Unit::Millimetre)
}

pub fn inches(text: &str) -> Length {
    length(text, Unit::Inch)
}

#[track_caller]
fn length(text: &str, unit: Unit) -> Length {
    let reading = Reading {
        unit,
        ..Reading::default()
    };
    read_length(text, reading).unwrap_or_else(|fault| panic!("{text}: {fault}"))
}
