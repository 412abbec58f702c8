//! Parts as rows of a parts table.

use crate::job::{Fitting, Job, Keeps, Leans, MadeFrom, Part, PartDraft, Rip, ends_written};
use crate::length::exact_text;
use serde_json::Value;
use timber::fields::Row;
use timber::part::{FACES, letter_of};

/// A part as a row of the page.
pub fn part_row(part: &PartDraft) -> Value {
    let fields = PartDraft::FIELDS.iter().zip(part.texts());
    fields
        .map(|(field, text)| (field.name, Value::from(text.clone())))
        .collect()
}

/// A part with its texts written so that they read back exactly.
pub fn part_draft(job: &Job, part: &Part) -> PartDraft {
    let sections: Vec<&str> = part
        .sections
        .iter()
        .filter_map(|&section| job.sections.get(section))
        .map(|section| section.name.as_str())
        .collect();
    PartDraft {
        label: Some(part.label.clone()),
        section: Some(sections.join("; ")),
        length: Some(exact_text(part.length - part.over, job.reading)),
        over: (!part.over.is_none()).then(|| exact_text(part.over, job.reading)),
        quantity: Some(part.quantity.to_string()),
        spares: None,
        ends: Some(ends_written(part.ends, job.decimal())),
        leans: (part.leans != Leans::Opposite).then(|| part.leans.word().to_owned()),
        ripped: part.rip.map(|rip| exact_text(rip.width, job.reading)),
        keeps: part
            .rip
            .filter(|rip| rip.keeps != Keeps::Either)
            .map(|rip| rip.keeps.word().to_owned()),
        goes: (part.fitting != Fitting::Free).then(|| part.fitting.word().to_owned()),
        from: (part.made_from != MadeFrom::Anything).then(|| part.made_from.word().to_owned()),
        hand: None,
        bevel: part
            .rip
            .filter(Rip::is_bevelled)
            .map(|rip| ends_written(rip.edges, job.decimal())),
        letter: part.letter.map(letter_of),
        face: part.good_face.then(|| FACES[1].0.to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{JobDraft, SectionDraft, validate};

    #[test]
    fn a_part_that_is_left_long_reads_back_as_it_was() {
        let some = |text: &str| Some(text.to_owned());
        let part = PartDraft {
            label: some("post"),
            length: some("700"),
            over: some("12"),
            ..PartDraft::default()
        };
        let draft = |part: PartDraft| JobDraft {
            sections: vec![SectionDraft {
                name: some("rail"),
                ..SectionDraft::default()
            }],
            parts: vec![part],
            ..JobDraft::default()
        };
        let job = validate(&draft(part)).expect("a job without faults");
        let again = part_draft(&job, &job.parts[0]);
        assert_eq!(
            (again.length.as_deref(), again.over.as_deref()),
            (Some("700 mm"), Some("12 mm"))
        );
        assert_eq!(validate(&draft(again)).expect("the same").parts, job.parts);
    }

    #[test]
    fn left_and_right_read_back_as_they_were_however_many_are_left_of_each() {
        let some = |text: &str| Some(text.to_owned());
        let draft = |parts: Vec<PartDraft>| JobDraft {
            sections: vec![SectionDraft {
                name: some("rail"),
                width: some("95"),
                ..SectionDraft::default()
            }],
            parts,
            ..JobDraft::default()
        };
        let pair = PartDraft {
            label: some("brace"),
            length: some("700"),
            quantity: some("4"),
            ends: some("30; 45"),
            leans: some("the same way"),
            face: some("good face out"),
            hand: some("left and right"),
            ..PartDraft::default()
        };
        let mut job = validate(&draft(vec![pair])).expect("a job without faults");
        job.parts[0].quantity = 1;
        let again = job.parts.iter().map(|part| part_draft(&job, part));
        let mut again = validate(&draft(again.collect())).expect("the same");
        again.parts[1].row = Some(0);
        assert_eq!(again.parts, job.parts);
    }
}
