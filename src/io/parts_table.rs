//! Parts from a table with rows and columns.
//!
//! The headings say which column is which, in any order and in the several words that people use. Columns with unknown headings are
//! reported and left out, never guessed at, and a person may assign them. Cell texts go into a [`PartDraft`] unchanged, with two
//! exceptions: a column headed with a unit, such as `length (mm)`, adds that unit to its bare numbers, and `2 pcs` is read as 2.

use super::bounded;
use super::csv::{Row, rows};
use crate::cells::unshielded;
use crate::fault::{Fault, FaultKind, Place};
use crate::job::PartDraft;
use crate::limits;
use crate::lower::lower;
use timber::give;

/// The fields that a column may be, each with its known headings in lower case.
const FIELDS: &[(&str, &[&str])] = &[
    (
        "label",
        &["label", "part", "name", "item", "description", "what"],
    ),
    (
        "section",
        &["section", "timber", "size", "stock", "material"],
    ),
    ("length", &["length", "long point", "cut length", "len"]),
    (
        "quantity",
        &[
            "quantity", "qty", "no", "off", "count", "number", "pieces", "pcs", "amount",
        ],
    ),
    ("spares", &["spares", "spare"]),
    ("ends", &["ends", "end", "mitre", "angle"]),
    ("leans", &["leans", "lean", "ends lean"]),
    ("over", &["over", "left long by", "left long"]),
    ("goes", &["goes", "fit", "place"]),
    ("from", &["from", "made from"]),
    ("face", &["face", "good face"]),
    ("hand", &["hand", "pair"]),
    ("ripped", &["ripped", "ripped to"]),
    ("keeps", &["keeps", "edge that stays"]),
    ("bevel", &["bevel", "bevelled"]),
];

/// Words that people write after a count.
const COUNTED: &[&str] = &["pcs", "pc", "pieces", "off", "no", "x", "\u{d7}"];

/// How many rows above the headings may be skipped, such as a title or a date.
const TITLES: usize = 10;

/// A person's corrections of how a table is read.
#[derive(Clone, Debug, Default)]
pub struct Said {
    /// Whether a row of headings stands above the parts.
    pub headed: Option<bool>,
    /// The field of each column, `None` for one that is left out; so are columns beyond the end of the list.
    pub columns: Option<Vec<Option<String>>>,
}

/// A column of a table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Column {
    /// Its heading, empty where it has none.
    pub heading: String,
    /// The first text in it, as a sample for the person.
    pub sample: String,
    /// The field of a part that it is read as.
    pub field: Option<&'static str>,
    /// The field that its heading names; its unit.
    named: Option<&'static str>,
    unit: Option<&'static str>,
}

/// A table of parts, read as far as possible.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PartsTable {
    /// Whether the first row that is not skipped is a row of headings.
    pub headed: bool,
    /// How many rows above the headings are skipped.
    pub above: usize,
    /// The columns in order.
    pub columns: Vec<Column>,
    /// The parts, each with its line in the text.
    pub parts: Vec<(usize, PartDraft)>,
    /// Lines without a length, such as a sum below the parts.
    pub without_length: Vec<usize>,
    /// Faults of the table or of single lines.
    pub faults: Vec<Fault>,
}

/// Reads a table of parts.
pub fn read(text: &str, said: &Said) -> PartsTable {
    if let Err(fault) = bounded::size(text.len(), &limits::FILE) {
        return beyond(fault.kind);
    }
    let rows = match rows(text) {
        Ok(rows) => rows,
        Err(line) => return refused(line, "a quote that begins here is never closed"),
    };
    let widest = rows.iter().map(|row| row.cells.len()).max().unwrap_or(0);
    for (found, limit) in [
        (rows.len(), &limits::TABLE_LINES),
        (widest, &limits::TABLE_COLUMNS),
    ] {
        if limit.passed_by(found) {
            return beyond(FaultKind::TooMany { found, limit });
        }
    }
    if rows.is_empty() {
        return refused(1, "the table is empty");
    }
    let found = rows.iter().take(TITLES).position(|row| {
        row.cells
            .iter()
            .any(|cell| meaning(cell).0 == Some("length"))
    });
    let headed = said
        .headed
        .unwrap_or_else(|| found.is_some() || names_fields(&rows[0]));
    let above = if headed { found.unwrap_or(0) } else { 0 };
    let (head, body) = rows[above..].split_at(usize::from(headed));
    let columns = columns(head.first(), body, said);
    let mut table = PartsTable {
        headed,
        above,
        columns,
        ..PartsTable::default()
    };
    if !table
        .columns
        .iter()
        .any(|column| column.field == Some("length"))
    {
        let why = "no column is headed \"length\"; name the columns label, section, length, quantity, ends in the first line";
        let place = Place::line(rows[above].line, 1);
        let kind = FaultKind::Unreadable(why.into());
        table.faults.push(Fault::new(place, kind));
        return table;
    }
    let named = head.first().map_or(usize::MAX, |head| head.cells.len());
    for row in body {
        for (index, cell) in row.cells.iter().enumerate().skip(named) {
            if !cell.trim().is_empty() {
                let why = format!(
                    "the cell \"{cell}\" stands beyond the last heading; quote cells that hold a comma"
                );
                let kind = FaultKind::Unreadable(why);
                table
                    .faults
                    .push(Fault::new(Place::line(row.line, index + 1), kind));
            }
        }
        let part = part(row, &table.columns);
        if part.length.is_some() {
            table.parts.push((row.line, part));
        } else {
            table.without_length.push(row.line);
        }
    }
    table
}

/// Reads a table without a person who looks at its columns first.
///
/// # Errors
/// All faults, each with its line and column. Here a line without a length is a fault, and so are two columns for one field.
pub fn read_strictly(text: &str) -> Result<Vec<PartDraft>, Vec<Fault>> {
    let table = read(text, &Said::default());
    let mut faults = table.faults;
    for (index, column) in table.columns.iter().enumerate() {
        if column.named.is_some() && column.field.is_none() {
            let kind = FaultKind::Duplicate(column.heading.clone());
            faults.push(Fault::new(Place::line(1, index + 1), kind));
        }
    }
    for line in table.without_length {
        let kind = FaultKind::Unreadable("the part has no length".into());
        faults.push(Fault::new(Place::line(line, 1), kind));
    }
    if faults.is_empty() {
        Ok(table.parts.into_iter().map(|(_, part)| part).collect())
    } else {
        Err(faults)
    }
}

/// The result for a table beyond a limit.
fn beyond(kind: FaultKind) -> PartsTable {
    PartsTable {
        faults: vec![Fault::new(Place::line(1, 1), kind)],
        ..PartsTable::default()
    }
}

fn refused(line: usize, why: &str) -> PartsTable {
    PartsTable {
        faults: vec![Fault::new(
            Place::line(line, 1),
            FaultKind::Unreadable(why.into()),
        )],
        ..PartsTable::default()
    }
}

/// Whether a row reads like headings though no cell names the length: two of its cells name fields.
fn names_fields(row: &Row) -> bool {
    let known = row.cells.iter().filter(|cell| meaning(cell).0.is_some());
    known.count() >= 2
}

fn columns(head: Option<&Row>, body: &[Row], said: &Said) -> Vec<Column> {
    let count = head
        .into_iter()
        .chain(body)
        .map(|row| row.cells.len())
        .max();
    let mut columns: Vec<Column> = Vec::new();
    for index in 0..count.unwrap_or(0) {
        let heading = head
            .and_then(|row| row.cells.get(index))
            .map(|cell| cell.trim().to_owned())
            .unwrap_or_default();
        let (named, unit) = meaning(&heading);
        let sample = body
            .iter()
            .filter_map(|row| row.cells.get(index))
            .find(|cell| !cell.trim().is_empty());
        // Of two columns for one field the first is taken.
        let field = match &said.columns {
            Some(fields) => fields
                .get(index)
                .and_then(|name| known_field(name.as_deref()?)),
            None => named.filter(|name| columns.iter().all(|other| other.field != Some(name))),
        };
        columns.push(Column {
            heading,
            sample: sample.cloned().unwrap_or_default(),
            field,
            named,
            unit,
        });
    }
    // Cells beyond the last heading are a fault of their line unless a person assigns them.
    while said.columns.is_none() && head.is_some_and(|head| columns.len() > head.cells.len()) {
        columns.pop();
    }
    columns
}

fn known_field(name: &str) -> Option<&'static str> {
    FIELDS
        .iter()
        .map(|(field, _)| *field)
        .find(|field| *field == name)
}

/// The field of a part that a heading names, and its unit.
fn meaning(heading: &str) -> (Option<&'static str>, Option<&'static str>) {
    meaning_among(FIELDS, heading)
}

/// The same among fields with their known headings.
pub(super) fn meaning_among(
    fields: &[(&'static str, &[&str])],
    heading: &str,
) -> (Option<&'static str>, Option<&'static str>) {
    let heading = lower(heading.trim());
    let (name, unit) = match heading.split_once(['(', '[']) {
        Some((name, unit)) => (name, Some(unit.trim_end_matches([')', ']']).trim())),
        None => match heading.rsplit_once(' ') {
            Some((name, unit)) if UNITS.contains(&unit) => (name, Some(unit)),
            _ => (heading.as_str(), None),
        },
    };
    let name = name.trim().trim_end_matches(['.', ':', ',', '-']).trim();
    let unit = unit.and_then(|unit| UNITS.iter().find(|known| **known == unit).copied());
    let field = fields
        .iter()
        .find(|(_, words)| words.contains(&name))
        .map(|(field, _)| *field);
    (field, unit)
}

const UNITS: [&str; 5] = ["mm", "cm", "m", "in", "ft"];

fn part(row: &Row, columns: &[Column]) -> PartDraft {
    let mut part = PartDraft::default();
    for (cell, column) in row.cells.iter().zip(columns) {
        if cell.trim().is_empty() {
            continue;
        }
        let text = unshielded(cell).to_owned();
        match column.field {
            Some("label") => part.label = Some(text),
            Some("section") => part.section = Some(text),
            Some("length") => {
                let text = text.trim().to_owned();
                let mut one = |text: &str| Some(with_unit(text.to_owned(), column.unit));
                part.length = give::rewritten(&text, &mut one);
            }
            Some("quantity") => part.quantity = Some(count(text.trim())),
            Some("spares") => part.spares = Some(count(text.trim())),
            Some("ends") => part.ends = Some(text),
            Some("leans") => part.leans = Some(text),
            Some("over") => part.over = Some(with_unit(text.trim().to_owned(), column.unit)),
            Some("goes") => part.goes = Some(text),
            Some("from") => part.from = Some(text),
            Some("face") => part.face = Some(text),
            Some("hand") => part.hand = Some(text),
            Some("ripped") => part.ripped = Some(with_unit(text.trim().to_owned(), column.unit)),
            Some("keeps") => part.keeps = Some(text),
            Some("bevel") => part.bevel = Some(text),
            _ => {}
        }
    }
    part
}

pub(super) fn with_unit(text: String, unit: Option<&str>) -> String {
    match unit {
        Some(unit) if text.ends_with(|sign: char| sign.is_ascii_digit()) => {
            format!("{text} {unit}")
        }
        _ => text,
    }
}

/// A count without its word, as in `2 pcs`, and without decimals that are zero, as in `2.0`; any other text unchanged.
fn count(text: &str) -> String {
    let lowered = lower(text);
    let bare = COUNTED
        .iter()
        .find_map(|word| lowered.strip_suffix(word))
        .unwrap_or(&lowered)
        .trim_end_matches('.')
        .trim();
    let whole = bare
        .split_once(['.', ','])
        .filter(|(_, decimals)| decimals.chars().all(|sign| sign == '0'))
        .map_or(bare, |(whole, _)| whole);
    let is_count = !whole.is_empty() && whole.chars().all(|sign| sign.is_ascii_digit());
    if is_count { whole } else { text }.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::io::csv::write_parts;

    fn part(label: &str, section: &str, length: &str, quantity: &str) -> PartDraft {
        let text = |text: &str| (!text.is_empty()).then(|| text.to_owned());
        PartDraft {
            letter: None,
            label: text(label),
            section: text(section),
            length: text(length),
            quantity: text(quantity),
            spares: None,
            ends: None,
            leans: None,
            over: None,
            goes: None,
            from: None,
            face: None,
            hand: None,
            ripped: None,
            keeps: None,
            bevel: None,
        }
    }

    fn parts(table: &PartsTable) -> Vec<PartDraft> {
        table.parts.iter().map(|(_, part)| part.clone()).collect()
    }

    fn guessed(text: &str) -> PartsTable {
        read(text, &Said::default())
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
            "Cutting list, 3 May,,\n\nlabel,section,length,Qty.\n\"leg, front\",batten,560,4 pcs\nrail,batten,47 1/4\",2.0\nAll,,,6\n",
        ] {
            assert_eq!(parts(&guessed(text)), expected, "{text}");
        }
        let table = guessed("a title\nlabel,length\nleg,560\nall,\n");
        assert_eq!((table.above, table.without_length), (1, vec![4]));
    }

    #[test]
    fn a_unit_in_the_heading_goes_behind_bare_numbers() {
        let table = guessed("label,length (mm),colour\na,560,red\nb,2 ft,blue\n");
        assert_eq!(table.parts[0].1.length.as_deref(), Some("560 mm"));
        assert_eq!(table.parts[1].1.length.as_deref(), Some("2 ft"));
        assert_eq!(table.columns[2].field, None);
        assert_eq!(table.columns[2].sample, "red");
    }

    #[test]
    fn a_table_without_headings_is_read_once_a_person_says_what_its_columns_are() {
        let text = "leg,batten,560,4\nrail,batten,1200,2\n";
        let table = guessed(text);
        assert!(!table.headed && table.parts.is_empty() && !table.faults.is_empty());
        assert_eq!(table.columns[2].sample, "560");
        let said = Said {
            headed: None,
            columns: Some(
                ["label", "section", "length", "quantity"]
                    .map(|name| Some(name.into()))
                    .to_vec(),
            ),
        };
        let expected = [
            part("leg", "batten", "560", "4"),
            part("rail", "batten", "1200", "2"),
        ];
        assert_eq!(parts(&read(text, &said)), expected);
        // A first line that was wrongly read as headings, and a column that was read as another.
        let said = Said {
            headed: Some(true),
            columns: Some(vec![None, Some("label".into()), Some("length".into())]),
        };
        assert_eq!(parts(&read(text, &said)), [part("batten", "", "1200", "")]);
    }

    #[test]
    fn of_two_columns_for_one_thing_the_first_is_taken_where_a_person_looks_on() {
        let text = "part,length,cut length\nleg,570,560\n";
        assert_eq!(guessed(text).parts[0].1.length.as_deref(), Some("570"));
        let faults = read_strictly(text).expect_err("two lengths");
        assert!(faults[0].to_string().starts_with("line 1, column 3"));
    }

    #[test]
    fn a_table_without_lengths_says_so_with_its_place() {
        let faults = read_strictly("label,width\na,5\n").expect_err("no length");
        assert!(
            faults[0]
                .to_string()
                .starts_with("line 1, column 1: cannot be read: no column is headed \"length\"")
        );
        let faults = read_strictly("label,length\na,1,2\n").expect_err("loose cell");
        assert!(faults[0].to_string().starts_with("line 2, column 3"));
        let faults = read_strictly("label,length\nall,\n").expect_err("a sum");
        assert!(faults[0].to_string().starts_with("line 2, column 1"));
        let faults = read_strictly("label,length\n\"a,1\n").expect_err("an open quote");
        assert!(faults[0].to_string().starts_with("line 2, column 1"));
    }

    #[test]
    fn what_is_written_reads_back() {
        let parts = vec![
            part("leg, front", "batten", "47 1/4\"", "4"),
            part("=b", "a; b", "560,5 mm", "1"),
        ];
        assert_eq!(read_strictly(&write_parts(&parts)), Ok(parts));
    }
}
