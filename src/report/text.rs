//! The report as plain text, for a terminal and for paper without pictures.

use super::{BoardReport, Report, Side, Step};
use std::fmt::Write;

/// The whole report.
pub fn text(report: &Report) -> String {
    let mut out = String::new();
    line(&mut out, &report.headline);
    for text in &report.explanation {
        line(&mut out, text);
    }
    heading(&mut out, "Buy");
    buying(&mut out, report);
    heading(&mut out, "Saw sheet");
    line(&mut out, &format!("  {}", super::MARKING));
    for board in report.boards.iter().enumerate() {
        saw_board(&mut out, board);
    }
    if !report.back_to_shed.is_empty() {
        heading(&mut out, "Back to the shed");
        let rows = report.back_to_shed.iter();
        table(
            &mut out,
            &rows
                .map(|row| {
                    vec![
                        row.mark.clone(),
                        row.length.clone(),
                        row.section.clone(),
                        row.from.clone(),
                    ]
                })
                .collect::<Vec<_>>(),
        );
    }
    heading(&mut out, "Scrap");
    line(&mut out, &format!("  {}", report.scrap.text));
    heading(&mut out, "Proof");
    for row in &report.proof {
        line(&mut out, &format!("  {}", row.text));
    }
    if !report.cautions.is_empty() {
        heading(&mut out, "Mind");
        for caution in &report.cautions {
            line(&mut out, &format!("  {caution}"));
        }
    }
    out
}

fn buying(out: &mut String, report: &Report) {
    if report.buying.rows.is_empty() {
        line(out, "  nothing");
        return;
    }
    let mut rows: Vec<Vec<String>> = report
        .buying
        .rows
        .iter()
        .map(|row| {
            vec![
                format!("{} \u{d7}", row.count),
                row.length.clone(),
                row.section.clone(),
                row.total_length.clone(),
                row.cost.clone(),
            ]
        })
        .collect();
    let totals = &report.buying.totals;
    rows.push(vec![
        totals.count.to_string(),
        String::new(),
        "in all".into(),
        totals.total_length.clone(),
        totals.cost.clone(),
    ]);
    table(out, &rows);
    for row in report
        .buying
        .rows
        .iter()
        .filter(|row| !row.yard_cuts.is_empty())
    {
        let cuts = row.yard_cuts.join(", ");
        line(
            out,
            &format!("  At the yard, of {} {}: {cuts}", row.length, row.section),
        );
    }
}

fn saw_board(out: &mut String, (index, board): (usize, &BoardReport)) {
    heading(out, &format!("Board {}: {}", index + 1, board.title));
    let rows: Vec<Vec<String>> = board.steps.iter().map(step_row).collect();
    table(out, &rows);
    for step in board.steps.iter().filter(|step| !step.caution.is_empty()) {
        line(out, &format!("  at {}: {}", step.reading, step.caution));
    }
    for offcut in &board.offcuts {
        line(out, &format!("  {}", offcut.text));
    }
    for caution in &board.cautions {
        line(out, &format!("  {caution}"));
    }
}

fn step_row(step: &Step) -> Vec<String> {
    let reading = if step.rounded {
        format!("\u{2248}{}", step.reading)
    } else {
        step.reading.clone()
    };
    let what = match step.letter.as_str() {
        "" => step.label.clone(),
        letter => format!("{letter} {}", step.label),
    };
    let side = match step.side {
        Side::Datum => step.side.text(),
        Side::Far | Side::Neither => "",
    };
    let detail: Vec<&str> = [step.long_edge.as_str(), step.turn.as_str(), side]
        .into_iter()
        .filter(|text| !text.is_empty())
        .collect();
    vec![reading, what, step.part_length.clone(), detail.join("; ")]
}

fn heading(out: &mut String, text: &str) {
    out.push('\n');
    line(out, text);
}

fn line(out: &mut String, text: &str) {
    out.push_str(text);
    out.push('\n');
}

/// Columns under each other, the first to the right.
fn table(out: &mut String, rows: &[Vec<String>]) {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width = |column: usize| {
        rows.iter()
            .filter_map(|row| row.get(column))
            .map(|cell| cell.chars().count())
            .max()
            .unwrap_or(0)
    };
    let widths: Vec<usize> = (0..columns).map(width).collect();
    for row in rows {
        let mut text = String::from(" ");
        for (column, cell) in row.iter().enumerate() {
            let width = widths[column];
            // Writing to a text cannot fail.
            let _ = match column {
                0 => write!(text, " {cell:>width$}"),
                _ => write!(text, "  {cell:<width$}"),
            };
        }
        line(out, text.trim_end());
    }
}
