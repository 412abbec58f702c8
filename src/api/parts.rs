//! Parts in the words of a parts table.

use crate::job::{Fitting, Job, Part, PartDraft, PartEnd};
use serde_json::{Value, json};
use timber::fields::Row;

/// The ends of a part in words a parts table reads back.
pub fn ends_text(ends: &[PartEnd; 2]) -> String {
    let word = |end: &PartEnd| match end {
        PartEnd::Square => "square".to_owned(),
        PartEnd::Mitre(angle) => angle.degrees(),
    };
    if ends[0] == ends[1] {
        word(&ends[0])
    } else {
        format!("{}; {}", word(&ends[0]), word(&ends[1]))
    }
}

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
        ends: Some(ends_text(&part.ends)),
        goes: (part.fitting != Fitting::Free).then(|| part.fitting.word().to_owned()),
    }
}
