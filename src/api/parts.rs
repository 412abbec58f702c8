//! Parts in the words of a parts table.

use crate::job::{Fitting, Job, Leans, Part, PartDraft, ends_written};
use serde_json::{Value, json};
use timber::fields::Row;

/// A part as a row of the page.
pub fn part_row(part: &PartDraft) -> Value {
    let fields = PartDraft::FIELDS.iter().zip(part.texts());
    fields
        .map(|(field, text)| (field.name, json!(text)))
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
        length: Some(crate::length::exact_text(part.length, job.reading)),
        quantity: Some(part.quantity.to_string()),
        ends: Some(ends_written(part.ends, job.decimal())),
        leans: (part.leans != Leans::Opposite).then(|| part.leans.word().to_owned()),
        goes: (part.fitting != Fitting::Free).then(|| part.fitting.word().to_owned()),
    }
}
