//! Tables of a report as CSV, with one line of headings.

use super::Report;
use super::step::StepKind;
use crate::cells::table;

/// The buying list.
pub fn buying(report: &Report) -> String {
    let rows = report.buying.rows.iter().map(|row| {
        vec![
            row.section.clone(),
            row.length.clone(),
            row.count.to_string(),
            row.price.clone(),
            row.cost.clone(),
            row.total_length.clone(),
        ]
    });
    table(
        &[
            "section",
            "length",
            "count",
            "price",
            "cost",
            "total length",
        ],
        rows,
    )
}

/// The saw sheet: a row for every step of every board. Notes on a whole board are in the row of its first step, how to mark in the very
/// first row; what is left of a board is in the row of its last step.
pub fn saw(report: &Report) -> String {
    let steps = report.boards.iter().enumerate().flat_map(|(index, board)| {
        let last = board.steps.len();
        board.steps.iter().map(move |step| {
            let first = step.order == 1;
            let marking = match first && index == 0 {
                true => &report.marking[..],
                false => "",
            };
            let minded = if first {
                board.cautions.join(" ")
            } else {
                String::new()
            };
            let left: Vec<&str> = board
                .offcuts
                .iter()
                .filter(|_| step.order == last)
                .map(|offcut| offcut.text.as_str())
                .collect();
            vec![
                (index + 1).to_string(),
                board.title.clone(),
                step.order.to_string(),
                kind_word(step.kind).to_owned(),
                step.reading.clone(),
                if step.rounded {
                    "rounded".to_owned()
                } else {
                    String::new()
                },
                step.letter.clone(),
                step.label.clone(),
                step.part_length.clone(),
                step.ends.clone(),
                step.long_edge.clone(),
                step.turn.clone(),
                step.tape.clone(),
                step.side.text().to_owned(),
                step.hint.clone(),
                step.miss.clone(),
                step.caution.clone(),
                minded,
                left.join("; "),
                marking.to_owned(),
                step.rip.clone(),
            ]
        })
    });
    let headings = [
        "board",
        "title",
        "step",
        "kind",
        "reading",
        "rounded",
        "letter",
        "label",
        "part length",
        "ends",
        "long edge",
        "turn",
        "tape",
        "side",
        "hint",
        "misses",
        "mind",
        "mind with the board",
        "left of the board",
        "how to mark",
        "rip",
    ];
    table(&headings, steps)
}

/// What goes back to the shed.
pub fn back_to_shed(report: &Report) -> String {
    let rows = report.back_to_shed.iter().map(|row| {
        vec![
            row.mark.clone(),
            row.section.clone(),
            row.length.clone(),
            row.from.clone(),
            row.flaws.clone(),
        ]
    });
    table(&["mark", "section", "length", "from", "flaws"], rows)
}

/// The word for a kind of step in tables and replies.
pub fn kind_word(kind: StepKind) -> &'static str {
    match kind {
        StepKind::Trim => "trim",
        StepKind::Cut => "cut",
        StepKind::Mitre => "mitre",
        StepKind::Bad => "bad",
        StepKind::YardCut => "yard_cut",
        StepKind::Rip => "rip",
        StepKind::Finish => "finish",
    }
}
