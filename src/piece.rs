//! The piece in words: its set-outs with their positions, its cutting list and its quantities.

use crate::cautions;
use crate::job::{Fitting, Job, Part, PartEnd};
use crate::quantities;
use crate::setout::{FactValue, SetOut};
use crate::shown::counted;
use crate::wording::sections_to_choose;
use std::fmt::Write;

/// Set-outs and cutting list as text for a terminal or a file.
pub fn piece_text(job: &Job) -> String {
    let mut text = String::new();
    for (row, set_out) in job.set_outs.iter().enumerate() {
        set_out_text(job, set_out, &mut text);
        for wanted in job.told_wanted_of_set_out(row) {
            let _ = writeln!(text, "  {wanted}");
        }
    }
    text.push_str("Cutting list\n");
    for part in &job.list {
        let _ = writeln!(text, "  {}", part_text(job, part));
    }
    text.push('\n');
    quantities_text(job, &mut text);
    text
}

/// What the piece takes besides lengths of timber, each figure with its assumption.
fn quantities_text(job: &Job, text: &mut String) {
    let quantities = quantities::work_out(job);
    text.push_str("Quantities\n");
    for row in quantities::section_rows(job, &quantities) {
        let mass = row.mass.map_or(String::new(), |mass| format!(", {mass}"));
        let feet = row
            .board_feet
            .map_or(String::new(), |feet| format!(", {feet} board feet"));
        let _ = writeln!(
            text,
            "  {}: {}, {}{mass}{feet}; spare {}",
            row.section,
            counted(row.parts, "part", "parts"),
            row.length,
            row.spare
        );
    }
    for row in quantities::rows(job, &quantities) {
        let _ = writeln!(text, "  {}: {} ({})", row.name, row.value, row.basis);
    }
    text.push('\n');
}

fn set_out_text(job: &Job, set_out: &SetOut, text: &mut String) {
    let style = job.style();
    let times = if set_out.times > 1 {
        format!(" x {}", set_out.times)
    } else {
        String::new()
    };
    // Writing to a String cannot fail.
    let _ = writeln!(text, "{}{times} ({})", set_out.name, set_out.kind);
    if !set_out.makes.is_empty() {
        let _ = writeln!(text, "  {}", set_out.makes);
    }
    for fact in &set_out.facts {
        let value = match fact.value {
            FactValue::Length(length) => set_out.shown(length, style).told(),
            FactValue::Count(count) => count.to_string(),
        };
        let _ = writeln!(text, "  {}: {value}", fact.name);
    }
    for positions in &set_out.positions {
        let _ = writeln!(text, "  {}, from {}:", positions.title, positions.datum);
        for mark in &positions.marks {
            let shown = style.show(mark.at).told();
            let _ = writeln!(text, "    {shown}  {}", mark.label);
        }
    }
    for note in &set_out.notes {
        let _ = writeln!(text, "  {note}");
    }
    for caution in cautions::for_set_out(set_out, &job.sections, style) {
        let _ = writeln!(text, "  Mind: {caution}");
    }
    text.push('\n');
}

/// A part in one line: `8 x leg, 560 mm, frame 45 x 70`.
pub fn part_text(job: &Job, part: &Part) -> String {
    let end = |end: &PartEnd| end.told(job.decimal());
    let ends = match &part.ends {
        [PartEnd::Square, PartEnd::Square] => String::new(),
        [one, other] if one == other => format!(", both ends {}", end(one)),
        [one, other] => format!(", ends {} and {}", end(one), end(other)),
    };
    let leans = match &part.ends {
        [PartEnd::Mitre(_), PartEnd::Mitre(_)] => format!(" leaning {}", part.leans.word()),
        _ => String::new(),
    };
    let goes = match part.fitting {
        Fitting::Free => "",
        Fitting::Between => ", measure first",
        Fitting::Ground => ", goes in the ground",
    };
    let over = part
        .told_over(job.style())
        .map_or(String::new(), |over| format!(", {over}"));
    let also = part
        .told_also(job.decimal())
        .map_or(String::new(), |also| format!(", {also}"));
    let wanted = job
        .told_wanted(part)
        .map_or(String::new(), |wanted| format!(", {wanted}"));
    let ripped = part
        .told_rip(job.style())
        .map_or(String::new(), |ripped| format!(", {ripped}"));
    format!(
        "{} x {}, {}{wanted}, {}{ripped}{ends}{leans}{goes}{over}{also}",
        part.quantity,
        part.label,
        part.told_length(job.style()).told(),
        sections_to_choose(job, &part.sections)
    )
}
