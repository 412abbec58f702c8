//! The report as plain text, for a terminal and for paper without pictures.

use super::step::Step;
use super::{Alike, Report};
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
    line(&mut out, &format!("  {}", report.marking));
    for alike in &report.alike {
        saw_board(&mut out, report, alike);
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
                        row.flaws.clone(),
                    ]
                })
                .collect::<Vec<_>>(),
        );
    }
    heading(&mut out, "Scrap");
    line(&mut out, &format!("  {}", report.scrap.text));
    if !report.spoiled.is_empty() {
        heading(&mut out, "If a part is spoiled once all is cut");
        for way in &report.spoiled {
            line(&mut out, &format!("  {way}"));
        }
    }
    heading(&mut out, "Proof");
    for why in &report.why {
        line(&mut out, &format!("  {why}"));
    }
    for share in &report.prices.shares {
        line(&mut out, &format!("  {share}"));
    }
    for row in &report.proof {
        line(&mut out, &format!("  {}", row.text));
    }
    for each in &report.prices.each {
        line(&mut out, &format!("  {each}"));
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
    for row in report.buying.rows.iter().filter(|row| !row.told.is_empty()) {
        let (length, section, told) = (&row.length, &row.section, &row.told);
        line(out, &format!("  {length} {section}: {told}"));
    }
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
    if !report.buying.bill.is_empty() {
        heading(out, "Bill");
        let rows = report.buying.bill.iter();
        let rows = rows.map(|row| vec![row.name.clone(), row.value.clone()]);
        table(out, &rows.collect::<Vec<_>>());
    }
    for offer in &report.buying.offers {
        line(out, &format!("  {offer}"));
    }
}

/// A board, or several that are cut alike, with a tick box for each of them.
fn saw_board(out: &mut String, report: &Report, alike: &Alike) {
    let (first, count, title) = (alike.first, alike.count, &alike.title);
    let board = &report.boards[first];
    let title = match count {
        1 => format!("Board {}: {title}", first + 1),
        _ => format!(
            "Boards {} to {}: {count} \u{d7} {title}",
            first + 1,
            first + count,
        ),
    };
    heading(out, &title);
    let boxes: Vec<String> = (first + 1..=first + count)
        .map(|number| format!("\u{2610} {number}"))
        .collect();
    line(out, &format!("  {}", boxes.join("  ")));
    // What is done, and what to mind, before the first mark is printed first.
    for caution in &board.cautions {
        line(out, &format!("  {caution}"));
    }
    let rows: Vec<Vec<String>> = board.steps.iter().map(step_row).collect();
    table(out, &rows);
    for offcut in &board.offcuts {
        line(out, &format!("  {}", offcut.text));
    }
}

fn step_row(step: &Step) -> Vec<String> {
    let what = match step.letter.as_str() {
        "" => step.label.clone(),
        letter => format!("{letter} {}", step.label),
    };
    vec![
        step.told_reading(),
        what,
        step.part_length.clone(),
        step.says()
            .into_iter()
            .chain(Some(step.caution.clone()).filter(|caution| !caution.is_empty()))
            .collect::<Vec<_>>()
            .join("; "),
    ]
}

fn heading(out: &mut String, text: &str) {
    out.push('\n');
    line(out, text);
}

fn line(out: &mut String, text: &str) {
    out.push_str(text);
    out.push('\n');
}

/// A table in aligned columns, the first one aligned to the right.
pub(crate) fn table(out: &mut String, rows: &[Vec<String>]) {
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
