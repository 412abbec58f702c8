//! CSV as spreadsheets write it: the cells of a table, and parts and boards as tables.
//!
//! The separator is the comma, the semicolon or the tab, whichever is on most of the first lines. Quotes, a byte-order mark and blank lines
//! are accepted. What the columns mean is decided in [`super::parts_table`].

use crate::cells::table;
use crate::job::{PartDraft, ShedDraft};
use timber::fields::{Row as Draft, names};

/// A row of a table that is not blank.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The line of the text it starts on, from one.
    pub line: usize,
    /// Its cells, without the space around them; text in quotes is kept as it is.
    pub cells: Vec<String>,
}

/// How many rows are read to find the separator.
const LOOKED_AT: usize = 20;

/// The rows of a text.
///
/// # Errors
/// The number of the line with a quote that is never closed, counted from one: it would swallow all that follows.
pub fn rows(text: &str) -> Result<Vec<Row>, usize> {
    let text = text.trim_start_matches('\u{feff}');
    // Some spreadsheets name the separator in a first line, `sep=;`.
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
            '"' if reader.quoted.is_some() => {
                reader.quoted = None;
                reader.kept = reader.cell.len();
            }
            // A quote opens a quoted text only at the start of a cell; elsewhere it is an inch mark.
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
    /// How many bytes of the cell, from its start, were in quotes and are not trimmed.
    kept: usize,
    /// Lines that have ended so far, and, as `began`, that number when the row began.
    line: usize,
    began: usize,
    /// The line, counted from zero, of a quote that is still open.
    quoted: Option<usize>,
}

impl Reader {
    fn cell_ends(&mut self) {
        let cell = std::mem::take(&mut self.cell);
        let (quoted, bare) = cell.split_at(std::mem::take(&mut self.kept));
        self.cells.push(if quoted.is_empty() {
            bare.trim().to_owned()
        } else {
            format!("{quoted}{}", bare.trim_end())
        });
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
        // A row of nothing but other separators is blank too.
        let blank = |cell: &String| {
            cell.chars()
                .all(|sign| matches!(sign, ';' | ',' | '\t' | ' '))
        };
        if !row.cells.iter().all(blank) {
            self.rows.push(row);
        }
    }
}

/// The separator of a text: the sign on most of its first rows outside quotes, and of those the most frequent.
fn separator_of(text: &str) -> char {
    const SIGNS: [char; 3] = [',', ';', '\t'];
    // For each sign: the rows it is on, its occurrences in all, and whether it is on this row.
    let mut counts = [(0, 0, false); SIGNS.len()];
    let (mut rows, mut quoted, mut cell_begins) = (0, false, true);
    for sign in text.chars() {
        match sign {
            // Two quotes, which stand for one inside a cell, close the quoted text and open it again.
            '"' if quoted || cell_begins => quoted = !quoted,
            _ if quoted => {}
            '\n' => {
                rows += usize::from(counts.iter().any(|count| count.2) || !cell_begins);
                counts.iter_mut().for_each(|count| count.2 = false);
                cell_begins = true;
                if rows == LOOKED_AT {
                    break;
                }
            }
            sign => match SIGNS.iter().position(|known| *known == sign) {
                Some(index) => {
                    let (held, times, on_row) = &mut counts[index];
                    *held += usize::from(!*on_row);
                    (*times, *on_row, cell_begins) = (*times + 1, true, true);
                }
                None => cell_begins &= sign.is_whitespace(),
            },
        }
    }
    let worth = |index: &usize| (counts[*index].0, counts[*index].1, SIGNS[*index] == ',');
    let found = (0..SIGNS.len()).max_by_key(worth);
    found.map_or(',', |index| SIGNS[index])
}

/// Writes parts as CSV with the headings that [`super::parts_table`] reads.
pub fn write_parts(parts: &[PartDraft]) -> String {
    written(parts)
}

/// Writes the boards of a shed as CSV.
pub fn write_shed(boards: &[ShedDraft]) -> String {
    written(boards)
}

/// Rows as CSV with the names of their fields as headings; an empty field is an empty cell.
fn written<R: Draft>(rows: &[R]) -> String {
    let cells = |row: &R| -> Vec<String> {
        let texts = row.texts().into_iter();
        texts.map(|text| text.clone().unwrap_or_default()).collect()
    };
    let rows: Vec<Vec<String>> = rows.iter().map(cells).collect();
    table(
        &names(R::FIELDS),
        rows.iter()
            .map(|row| row.iter().map(String::as_str).collect()),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cells::unshielded;

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
    fn what_stands_in_quotes_is_kept_with_its_space_and_its_lines() {
        assert_eq!(cells("a , \" b \" ,\"c\nd\"\n"), [["a", " b ", "c\nd"]]);
        // Separators inside quotes do not separate cells, however many lines of them there are.
        let cell = ";;;\n".repeat(30);
        let text = format!("label,length\n\"{cell}\",5\n");
        assert_eq!(cells(&text)[1], [cell.as_str(), "5"]);
    }

    #[test]
    fn no_cell_is_run_as_a_formula_and_none_is_changed_on_the_way_back() {
        for label in [
            "=1+1", "+a", "@", "-a", "\t=1", "\r=1", " =1", "'=1", "''=1", "'quoted'", "-5",
            "plain",
        ] {
            let (label_of, mark_of) = (Some(label.to_owned()), Some(label.to_owned()));
            let part = PartDraft {
                label: label_of,
                ..PartDraft::default()
            };
            let board = ShedDraft {
                mark: mark_of,
                ..ShedDraft::default()
            };
            for written in [write_parts(&[part]), write_shed(&[board])] {
                let first = written
                    .lines()
                    .nth(1)
                    .expect("a row")
                    .trim_start_matches('"');
                assert!(
                    !first.starts_with(['=', '+', '@', '\t', '\r', ' ']),
                    "{first}"
                );
                assert!(!first.starts_with('-') || label == "-5", "{first}");
                assert_eq!(unshielded(&cells(&written)[1][0]), label);
            }
        }
    }
}
