//! CSV as spreadsheets write it: the cells of a table, and parts and boards as tables.
//!
//! Comma, semicolon or tab parts the cells, whichever is on most of the first lines; quotes, a byte-order mark and blank lines are
//! taken in stride. What the columns mean is read in [`super::parts_table`].

use crate::job::{PartDraft, ShedDraft};

/// A row of a table that is not blank.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The line of the text it starts on, from one.
    pub line: usize,
    /// Its cells, trimmed.
    pub cells: Vec<String>,
}

/// How many lines say what parts the cells.
const LOOKED_AT: usize = 20;

/// The rows of a text.
///
/// # Errors
/// The line of a quote that is never closed: it would swallow all that follows.
pub fn rows(text: &str) -> Result<Vec<Row>, usize> {
    let text = text.trim_start_matches('\u{feff}');
    // Some spreadsheets say in a first line what parts the cells.
    let said = text
        .lines()
        .next()
        .and_then(|line| line.trim().strip_prefix("sep="));
    let separator = said
        .and_then(|said| said.chars().next())
        .unwrap_or_else(|| separator_of(text));
    let mut reader = Reader::default();
    let mut signs = text.chars().peekable();
    while let Some(sign) = signs.next() {
        match sign {
            '"' if reader.quoted.is_some() && signs.peek() == Some(&'"') => {
                signs.next();
                reader.cell.push('"');
            }
            '"' if reader.quoted.is_some() => reader.quoted = None,
            // A quote opens only at the start of a cell; elsewhere it is an inch mark.
            '"' if reader.cell.trim().is_empty() => {
                reader.cell.clear();
                reader.quoted = Some(reader.line);
            }
            '\r' if reader.quoted.is_none() => {}
            '\n' => reader.line_ends(),
            sign if sign == separator && reader.quoted.is_none() => reader.cell_ends(),
            sign => reader.cell.push(sign),
        }
    }
    if let Some(line) = reader.quoted {
        return Err(line + 1);
    }
    reader.row_ends();
    let mut rows = reader.rows;
    if said.is_some() {
        rows.retain(|row| row.line > 1);
    }
    Ok(rows)
}

#[derive(Default)]
struct Reader {
    rows: Vec<Row>,
    cells: Vec<String>,
    cell: String,
    /// Lines that have ended, and how many had when the row began.
    line: usize,
    began: usize,
    /// The line on which an open quote was opened.
    quoted: Option<usize>,
}

impl Reader {
    fn cell_ends(&mut self) {
        self.cells
            .push(std::mem::take(&mut self.cell).trim().to_owned());
    }

    fn line_ends(&mut self) {
        self.line += 1;
        if self.quoted.is_some() {
            self.cell.push('\n');
        } else {
            self.row_ends();
        }
    }

    fn row_ends(&mut self) {
        self.cell_ends();
        let row = Row {
            line: self.began + 1,
            cells: std::mem::take(&mut self.cells),
        };
        self.began = self.line;
        // A line of separators of another sort is blank too.
        let blank = |cell: &String| {
            cell.chars()
                .all(|sign| matches!(sign, ';' | ',' | '\t' | ' '))
        };
        if !row.cells.iter().all(blank) {
            self.rows.push(row);
        }
    }
}

fn separator_of(text: &str) -> char {
    let lines: Vec<String> = text
        .lines()
        .filter(|line| !line.trim().is_empty())
        .take(LOOKED_AT)
        .map(outside_quotes)
        .collect();
    let worth = |sign: &char| {
        let held = lines.iter().filter(|line| line.contains(*sign)).count();
        let times: usize = lines.iter().map(|line| line.matches(*sign).count()).sum();
        (held, times, *sign == ',')
    };
    [',', ';', '\t']
        .into_iter()
        .max_by_key(worth)
        .unwrap_or(',')
}

fn outside_quotes(line: &str) -> String {
    let parts = line.split('"').enumerate();
    parts
        .filter(|(index, _)| index % 2 == 0)
        .map(|(_, part)| part)
        .collect()
}

/// Writes parts as CSV with the headings that [`super::parts_table`] reads.
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

/// A cell without the sign that [`quoted`] puts before what looks like a formula.
pub fn unshielded(cell: &str) -> &str {
    cell.strip_prefix('\'')
        .filter(|rest| rest.starts_with(['=', '+', '@']))
        .unwrap_or(cell)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cells(text: &str) -> Vec<Vec<String>> {
        let rows = rows(text).expect("every quote is closed");
        rows.into_iter().map(|row| row.cells).collect()
    }

    #[test]
    fn cells_are_the_same_whatever_parts_them() {
        let expected = [
            ["part", "length"],
            ["leg, front", "560,5"],
            ["rail", "47 1/4\""],
        ];
        for text in [
            "part,length\n\"leg, front\",\"560,5\"\nrail,47 1/4\"\n",
            "\u{feff}part;length\r\nleg, front;560,5\r\n\r\n;;\r\nrail;\"47 1/4\"\"\"",
            "part\tlength\nleg, front\t560,5\n , \nrail\t47 1/4\"",
            "sep=;\npart;length\nleg, front;560,5\nrail;47 1/4\"",
        ] {
            assert_eq!(cells(text), expected, "{text}");
        }
    }

    #[test]
    fn a_row_knows_the_line_it_starts_on_and_a_quote_must_be_closed() {
        let rows_of = rows("a,b\n\n\"two\nlines\",1\nc,2").expect("closed");
        let lines: Vec<usize> = rows_of.iter().map(|row| row.line).collect();
        assert_eq!(lines, [1, 3, 5]);
        assert_eq!(rows("a,b\nc,\"d\ne,f"), Err(2));
    }

    #[test]
    fn no_cell_is_run_as_a_formula_and_none_is_changed_on_the_way_back() {
        for label in ["=1+1", "+a", "@", "'quoted'", "-5", "plain"] {
            let part = PartDraft {
                label: Some(label.into()),
                ..PartDraft::default()
            };
            let written = write_parts(&[part]);
            assert!(
                !written.contains("\n=") && !written.contains("\n+") && !written.contains("\n@")
            );
            assert_eq!(unshielded(&cells(&written)[1][0]), label);
        }
    }
}
