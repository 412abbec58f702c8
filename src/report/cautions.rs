//! Cautions that follow from the plan: about short pieces, treated timber, and the load.
//!
//! They are guidance and say so. Nothing here is about strength.

use super::buying::bought;
use super::words::Words;
use crate::cautions;
use crate::check::CheckedPlan;
use crate::job::{Job, PartEnd, Treated};
use crate::length::Length;
use crate::mass::Mass;
use crate::plan::{PlannedBoard, Source};
use crate::quantities::{load, mass_text};

/// Cautions for the whole plan.
pub(super) fn of_plan(words: &Words, checked: &CheckedPlan) -> Vec<String> {
    let mut texts = Vec::new();
    let treated = |treated: Treated| sources(checked).any(|one| words.job.treated(one) == treated);
    if treated(Treated::Yes) || treated(Treated::Unknown) {
        texts.push(cautions::treated(&which_treated(words, checked)));
    }
    if treated(Treated::Unknown) {
        texts.push(cautions::UNKNOWN_TREATMENT.into());
    }
    if sources(checked).any(|source| matches!(source, Source::Shed(_))) {
        texts.push(cautions::FROM_THE_SHED.into());
    }
    let short = short_parts(words);
    if !short.is_empty() {
        let limit = words.length(words.short());
        texts.push(cautions::short_parts(&limit, &short));
    }
    let mut boards = checked.plan().boards.iter();
    if boards.any(|board| has_slanted_cuts(words.job, board)) {
        texts.push(cautions::POINTED_OFFCUTS.into());
    }
    texts.extend(cautions::beside_the_plan(words.job));
    texts.extend(vehicle(words, checked));
    texts
}

/// Which timber is treated, in brackets, where the plan uses untreated timber too: names of sections that are treated throughout, else of
/// single boards.
fn which_treated(words: &Words, checked: &CheckedPlan) -> String {
    let mut used: Vec<Source> = sources(checked).collect();
    order::sort(&mut used);
    used.dedup();
    let is_treated = |source: &Source| words.job.treated(*source) != Treated::No;
    if used.iter().all(is_treated) {
        return String::new();
    }
    let mut names: Vec<String> = Vec::new();
    for section in 0..words.job.sections.len() {
        let mut of_it = used
            .iter()
            .copied()
            .filter(|&source| words.section_of(source) == section);
        let (treated, plain): (Vec<Source>, Vec<Source>) = of_it.by_ref().partition(is_treated);
        if plain.is_empty() {
            names.extend((!treated.is_empty()).then(|| words.section(section)));
            continue;
        }
        let mut boards: Vec<String> = treated
            .into_iter()
            .map(|source| match source {
                Source::Shed(shed) => format!("board {}", words.job.shed[shed].mark),
                Source::Yard(_) => format!("new {}", words.section(section)),
            })
            .collect();
        boards.dedup();
        names.extend(boards);
    }
    format!(" ({})", names.join(" and "))
}

/// Where the boards of a plan come from.
fn sources(checked: &CheckedPlan) -> impl Iterator<Item = Source> {
    checked.plan().boards.iter().map(|board| board.source)
}

/// What to mind with one board.
pub(super) fn of_board(words: &Words, checked: &CheckedPlan, board: usize) -> Vec<String> {
    let planned = &checked.marked()[board].board;
    let mut texts = Vec::new();
    // A caution about what is done first is given first.
    if let Source::Shed(shed) = planned.source
        && !words.job.shed[shed].bad.is_empty()
    {
        texts.push(
            "Mark the bad stretches first, and check that they reach no further than measured."
                .into(),
        );
    }
    let mut placed = planned.runs.iter().flat_map(|run| &run.cuts);
    if placed.any(|placed| words.job.parts[placed.part].good_face) {
        texts.push("Choose the good face of this board, mark it, and keep it up.".into());
    }
    if has_slanted_cuts(words.job, planned) {
        texts.push(
            "Mark one edge along its whole length, and keep that edge towards you and the face up for every cut: / and \\ are as you see them then."
                .into(),
        );
    }
    if runs_short_when_set(words.job, planned) {
        texts.push(
            "Mark this board: cut as you go it is too short, for each length to set to is rounded by itself.".into(),
        );
    }
    if words.job.treated(planned.source) != Treated::No {
        texts.push(cautions::BRUSH_ENDS.into());
    }
    if let Source::Shed(shed) = planned.source {
        let shed = &words.job.shed[shed];
        if !shed.note.is_empty() {
            texts.push(format!(
                "Note on this board: {}.",
                shed.note.trim_end_matches('.')
            ));
        }
    }
    texts
}

/// Whether any cut of a board is at an angle.
fn has_slanted_cuts(job: &Job, planned: &PlannedBoard) -> bool {
    let parts = planned.runs.iter().flat_map(|run| &run.cuts);
    let mut ends = parts.flat_map(|placed| job.parts[placed.part].ends);
    ends.any(|end| end != PartEnd::Square)
}

/// Whether the parts of a run would not all fit into it if each were cut to its printed length by a stop instead of at its mark.
fn runs_short_when_set(job: &Job, planned: &PlannedBoard) -> bool {
    planned.runs.iter().any(|run| {
        let over: Length = run
            .cuts
            .iter()
            .map(|placed| {
                let set = job.parts[placed.part].set_length(job.step);
                set - (placed.end - placed.start)
            })
            .sum();
        let ends = run.cuts.last().map(|last| last.end);
        over > Length::ZERO && ends.is_some_and(|end| end + over > run.to)
    })
}

/// Labels of short parts, each once.
fn short_parts(words: &Words) -> Vec<String> {
    let mut labels: Vec<String> = words
        .job
        .parts
        .iter()
        .filter(|part| part.length < words.short())
        .map(|part| part.label.clone())
        .collect();
    labels.dedup();
    labels.truncate(6);
    labels
}

/// The longest piece to carry and the mass of what is bought.
fn vehicle(words: &Words, checked: &CheckedPlan) -> Vec<String> {
    let Some(longest) = longest_carried(words, checked) else {
        return Vec::new();
    };
    let cut = checked
        .plan()
        .boards
        .iter()
        .any(|board| board.yard_cut.is_some());
    let longest_text = if cut {
        words.length(longest)
    } else {
        words.yard_length(longest)
    };
    let mut text = format!("To carry home: the longest piece is {longest_text}");
    if let Some(grams) = mass(words, checked) {
        text.push_str(&format!(
            ", the timber weighs about {}",
            mass_text(words.job, grams)
        ));
    }
    text.push('.');
    let mut texts = vec![text];
    if cut {
        texts.push(
            "The yard's cut is planned as square: ask for that, and measure both pieces before they are loaded.".into(),
        );
    }
    if words.job.carry.is_none() && longest > Length::from_mm(2_400) {
        texts.push(overhang(words).into());
    }
    texts
}

/// The warning where the load is over what the vehicle may carry.
pub(super) fn payload(words: &Words, checked: &CheckedPlan) -> Option<String> {
    let payload = words.job.payload?;
    match mass(words, checked) {
        None => Some(
            "Whether the vehicle may carry it cannot be told: give every section its thickness and width.".into(),
        ),
        Some(grams) => over_payload(words.job, grams, payload),
    }
}

/// The warning for a load over the payload.
pub(super) fn over_payload(job: &Job, grams: i64, payload: Mass) -> Option<String> {
    (grams > payload.grams()).then(|| {
        format!(
            "Too heavy for the vehicle: {} of timber, and it may carry {}. Go twice, or have it brought.",
            mass_text(job, grams),
            mass_text(job, payload.grams())
        )
    })
}

/// The longest piece that is bought, after the yard's cuts.
pub(super) fn longest_carried(words: &Words, checked: &CheckedPlan) -> Option<Length> {
    let bought = checked
        .marked()
        .iter()
        .map(|marked| &marked.board)
        .filter(|board| matches!(board.source, Source::Yard(_)));
    bought
        .map(|board| {
            let length = words.length_of(board.source);
            match board.yard_cut {
                None => length,
                Some(cut) => cut.max(length - cut - words.job.saw.kerf),
            }
        })
        .max()
}

/// The mass of what is bought, in grams; `None` where a side of a section is missing, since a partial sum would mislead.
fn mass(words: &Words, checked: &CheckedPlan) -> Option<i64> {
    let load = load(words.job, &bought(words, checked));
    let known = load.by_section.iter().all(|(_, mass)| mass.is_some());
    known.then_some(load.mass)
}

/// Guidance on how far a load may overhang. Britain: the government's page on overhanging loads; United States: 49 CFR 393.87.
fn overhang(words: &Words) -> &'static str {
    if words.job.is_imperial() {
        "Guidance on overhang: loads more than 4 ft behind the vehicle need flags in the United States; states differ, so ask."
    } else {
        "Guidance on overhang: up to 1 m behind the vehicle needs nothing in Britain, up to 2 m must be clearly seen, beyond that \
         marker boards; other countries differ, so ask."
    }
}
