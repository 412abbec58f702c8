//! Parts from a table: CSV as spreadsheets write it.
//!
//! Comma, semicolon or tab parts the cells, whichever the first line uses most; quotes, a byte-order mark and blank lines are
//! taken in stride. The headings say which column is what, in any order and in several words people use; columns nobody knows
//! are named and left out rather than guessed at. The texts of the cells go into a [`PartDraft`] untouched, except that a column
//! headed with a unit, such as `length (mm)`, puts that unit behind its bare numbers.

use crate::fault::{Fault, FaultKind, Place};
use crate::job::{PartDraft, ShedDraft};

/// A table of parts, read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PartsTable {
    /// The columns in order: the heading, and the part field it is taken for.
    pub columns: Vec<(String, Option<&'static str>)>,
    /// The parts, one a row.
    pub parts: Vec<PartDraft>,
}

/// The headings known for each field, lower case.
const HEADINGS: &[(&str, &[&str])] = &[
    (
        "label",
        &["label", "part", "name", "item", "description", "what"],
    ),
    (
        "section",
        &["section", "timber", "size", "stock", "material"],
    ),
    ("length", &["length", "long point", "cut length"]),
    (
        "quantity",
        &[
            "quantity", "qty", "no.", "no", "off", "count", "number", "pieces", "pcs",
        ],
    ),
    ("ends", &["ends", "end", "mitre", "angle"]),
];

/// Reads a table of parts.
///
/// # Errors
/// Every fault with its line and column: no text, no column for the length, cells in a row that has no heading.
pub fn read_parts(text: &str) -> Result<PartsTable, Vec<Fault>> {
    let rows = cells(text);
    let Some((_, headings)) = rows.first() else {
        return Err(vec![Fault::new(
            Place::line(1, 1),
            FaultKind::Unreadable("the table is empty".into()),
        )]);
    };
    let columns: Vec<(String, Option<&'static str>, Option<&'static str>)> = headings
        .iter()
        .map(|heading| {
            let (field, unit) = taken_for(heading);
            (heading.trim().to_owned(), field, unit)
        })
        .collect();
    let mut faults = Vec::new();
    if !columns.iter().any(|(_, field, _)| *field == Some("length")) {
        let why = "no column is headed \"length\"; name the columns label, section, length, quantity, ends in the first line";
        faults.push(Fault::new(
            Place::line(1, 1),
            FaultKind::Unreadable(why.into()),
        ));
    }
    for (index, (heading, field, _)) in columns.iter().enumerate() {
        if field.is_some() && columns[..index].iter().any(|(_, other, _)| other == field) {
            let place = Place::line(1, index + 1);
            faults.push(Fault::new(place, FaultKind::Duplicate(heading.clone())));
        }
    }
    let mut table = PartsTable {
        columns: columns
            .iter()
            .map(|(heading, field, _)| (heading.clone(), *field))
            .collect(),
        parts: Vec::new(),
    };
    for (line, row) in &rows[1..] {
        let mut part = PartDraft::default();
        for (index, cell) in row
            .iter()
            .enumerate()
            .filter(|(_, cell)| !cell.trim().is_empty())
        {
            let Some((_, field, unit)) = columns.get(index) else {
                let why = format!(
                    "the cell \"{}\" stands beyond the last heading; quote cells that hold a comma",
                    cell.trim()
                );
                faults.push(Fault::new(
                    Place::line(*line, index + 1),
                    FaultKind::Unreadable(why),
                ));
                continue;
            };
            let text = cell.trim().to_owned();
            match field {
                Some("label") => part.label = Some(text),
                Some("section") => part.section = Some(text),
                Some("length") => part.length = Some(with_unit(text, *unit)),
                Some("quantity") => part.quantity = Some(text),
                Some("ends") => part.ends = Some(text),
                _ => {}
            }
        }
        table.parts.push(part);
    }
    if faults.is_empty() {
        Ok(table)
    } else {
        Err(faults)
    }
}

/// Writes parts as CSV with the headings this file reads.
pub fn write_parts(parts: &[PartDraft]) -> String {
    let rows = parts.iter().map(|part| {
        [
            &part.label,
            &part.section,
            &part.length,
            &part.quantity,
            &part.ends,
        ]
    });
    table(["label", "section", "length", "quantity", "ends"], rows)
}

/// Writes the boards of a shed as CSV.
pub fn write_shed(boards: &[ShedDraft]) -> String {
    let rows = boards.iter().map(|board| {
        [
            &board.mark,
            &board.section,
            &board.length,
            &board.bad,
            &board.trim,
            &board.note,
        ]
    });
    table(["mark", "section", "length", "bad", "trim", "note"], rows)
}

/// A table of texts as CSV, one line a row.
fn table<'a, const N: usize>(
    headings: [&str; N],
    rows: impl Iterator<Item = [&'a Option<String>; N]>,
) -> String {
    let mut text = headings.join(",") + "\r\n";
    for row in rows {
        text.push_str(
            &row.map(|cell| quoted(cell.as_deref().unwrap_or("")))
                .join(","),
        );
        text.push_str("\r\n");
    }
    text
}

/// A cell as CSV: quoted where it must be, and never one that a spreadsheet would run as a formula.
pub fn quoted(cell: &str) -> String {
    let cell = if cell.starts_with(['=', '+', '@']) {
        format!("'{cell}")
    } else {
        cell.to_owned()
    };
    if cell.contains([',', ';', '"', '\n', '\r', '\t']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell
    }
}

fn taken_for(heading: &str) -> (Option<&'static str>, Option<&'static str>) {
    let heading = heading.trim().to_lowercase();
    let (name, unit) = match heading.split_once(['(', '[']) {
        Some((name, unit)) => (name.trim(), Some(unit.trim_end_matches([')', ']']).trim())),
        None => match heading.rsplit_once(' ') {
            Some((name, unit)) if matches!(unit, "mm" | "cm" | "m" | "in" | "ft") => {
                (name.trim(), Some(unit))
            }
            _ => (heading.as_str(), None),
        },
    };
    let unit = unit.and_then(|unit| {
        ["mm", "cm", "m", "in", "ft"]
            .into_iter()
            .find(|known| *known == unit)
    });
    let field = HEADINGS
        .iter()
        .find(|(_, words)| words.contains(&name))
        .map(|(field, _)| *field);
    (field, unit)
}

fn with_unit(text: String, unit: Option<&str>) -> String {
    match unit {
        Some(unit) if text.ends_with(|sign: char| sign.is_ascii_digit()) => {
            format!("{text} {unit}")
        }
        _ => text,
    }
}

/// The cells of each row that is not blank, with the line it starts on.
fn cells(text: &str) -> Vec<(usize, Vec<String>)> {
    let text = text.trim_start_matches('\u{feff}');
    let first = text
        .lines()
        .find(|line| !line.trim().is_empty())
        .unwrap_or("");
    let separator = [',', ';', '\t']
        .into_iter()
        .max_by_key(|sign| (first.matches(*sign).count(), *sign == ','))
        .unwrap_or(',');
    let mut rows = Vec::new();
    let (mut row, mut cell) = (Vec::new(), String::new());
    let (mut line, mut row_line, mut in_quotes) = (1, 1, false);
    let mut signs = text.chars().peekable();
    let mut end_row = |row: &mut Vec<String>, cell: &mut String, line: usize| {
        row.push(std::mem::take(cell));
        let full = std::mem::take(row);
        if full.iter().any(|cell| !cell.trim().is_empty()) {
            rows.push((line, full));
        }
    };
    while let Some(sign) = signs.next() {
        match sign {
            '"' if in_quotes && signs.peek() == Some(&'"') => {
                signs.next();
                cell.push('"');
            }
            '"' if in_quotes => in_quotes = false,
            // A quote opens only at the start of a cell; elsewhere it is an inch mark.
            '"' if cell.trim().is_empty() => {
                cell.clear();
                in_quotes = true;
            }
            '\r' if !in_quotes => {}
            '\n' => {
                line += 1;
                if in_quotes {
                    cell.push('\n');
                } else {
                    end_row(&mut row, &mut cell, row_line);
                    row_line = line;
                }
            }
            sign if sign == separator && !in_quotes => row.push(std::mem::take(&mut cell)),
            sign => cell.push(sign),
        }
    }
    end_row(&mut row, &mut cell, row_line);
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    fn part(label: &str, section: &str, length: &str, quantity: &str) -> PartDraft {
        let text = |text: &str| (!text.is_empty()).then(|| text.to_owned());
        PartDraft {
            label: text(label),
            section: text(section),
            length: text(length),
            quantity: text(quantity),
            ends: None,
        }
    }

    #[test]
    fn the_same_table_reads_the_same_in_every_dialect() {
        let expected = vec![
            part("leg, front", "batten", "560", "4"),
            part("rail", "batten", "47 1/4\"", "2"),
        ];
        for text in [
            "label,section,length,qty\n\"leg, front\",batten,560,4\nrail,batten,47 1/4\",2\n",
            "\u{feff}Part;Timber;Length;No.\r\n\"leg, front\";batten;560;4\r\n\r\nrail;batten;\"47 1/4\"\"\";2",
            "qty\tlength\tlabel\tsection\n4\t560\tleg, front\tbatten\n2\t47 1/4\"\trail\tbatten\n",
        ] {
            assert_eq!(
                read_parts(text).map(|table| table.parts),
                Ok(expected.clone()),
                "{text}"
            );
        }
    }

    #[test]
    fn a_unit_in_the_heading_goes_behind_bare_numbers() {
        let table =
            read_parts("label,length (mm),colour\na,560,red\nb,2 ft,blue\n").expect("reads");
        assert_eq!(table.parts[0].length.as_deref(), Some("560 mm"));
        assert_eq!(table.parts[1].length.as_deref(), Some("2 ft"));
        assert_eq!(table.columns[2], ("colour".to_owned(), None));
    }

    #[test]
    fn a_table_without_lengths_says_so_with_its_place() {
        let faults = read_parts("label,width\na,5\n").expect_err("no length");
        assert!(
            faults[0]
                .to_string()
                .starts_with("line 1, column 1: cannot be read: no column is headed \"length\"")
        );
        let faults = read_parts("label,length\na,1,2\n").expect_err("loose cell");
        assert!(faults[0].to_string().starts_with("line 2, column 3"));
    }

    #[test]
    fn what_is_written_reads_back() {
        let parts = vec![part("leg, front", "batten", "47 1/4\"", "4")];
        assert_eq!(
            read_parts(&write_parts(&parts)).map(|table| table.parts),
            Ok(parts)
        );
        assert_eq!(quoted("=1+1"), "'=1+1");
    }
}
