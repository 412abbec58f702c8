//! Prices from a table with rows and columns: what a yard sells.
//!
//! The headings say which column is which, in any order; others are left out. Cell texts go into a [`YardDraft`] unchanged, but for a column headed with a
//! unit, as `length (mm)`, which adds that unit to its bare numbers.

use super::bounded;
use super::csv::{Row, rows};
use super::parts_table::{meaning_among, with_unit};
use crate::cells::unshielded;
use crate::fault::{Fault, FaultKind, Place};
use crate::job::YardDraft;
use crate::limits;
use timber::fields::Row as _;

/// The fields that a column may be, each with its known headings in lower case.
const FIELDS: &[(&str, &[&str])] = &[
    (
        "section",
        &[
            "section",
            "timber",
            "size",
            "item",
            "description",
            "material",
            "name",
        ],
    ),
    ("length", &["length", "len", "long"]),
    ("price", &["price", "cost", "rate", "each"]),
    ("count", &["stock", "count", "quantity", "qty", "available"]),
    (
        "pack",
        &["pack", "pack size", "packs of", "sold in packs of"],
    ),
    ("yard", &["yard", "merchant", "supplier", "seller"]),
];

/// How many rows above the headings may be skipped, such as a title or a date.
const TITLES: usize = 10;

/// Reads the lines of a price list, each with its line in the text.
///
/// # Errors
/// Why it is none: a fault for each line without a length, or one for all of it.
pub fn read(text: &str) -> Result<Vec<YardDraft>, Vec<Fault>> {
    let refused = |line: usize, why: &str| {
        let kind = FaultKind::Unreadable(why.into());
        vec![Fault::new(Place::line(line, 1), kind)]
    };
    bounded::size(text.len(), &limits::FILE).map_err(|fault| vec![*fault])?;
    let rows =
        rows(text).map_err(|line| refused(line, "a quote that begins here is never closed"))?;
    if limits::TABLE_LINES.passed_by(rows.len()) {
        let (found, limit) = (rows.len(), &limits::TABLE_LINES);
        let kind = FaultKind::TooMany { found, limit };
        return Err(vec![Fault::new(Place::line(1, 1), kind)]);
    }
    let is_length = |cell: &String| meaning_among(FIELDS, cell).0 == Some("length");
    let mut first = rows.iter().take(TITLES);
    let Some(head) = first.position(|row| row.cells.iter().any(is_length)) else {
        let why = "no column is headed \"length\"; name the columns section, length, price, stock, pack, yard in the first line";
        return Err(refused(1, why));
    };
    let columns: Vec<_> = rows[head]
        .cells
        .iter()
        .map(|cell| meaning_among(FIELDS, cell))
        .collect();
    let read: Vec<(usize, YardDraft)> = rows[head + 1..]
        .iter()
        .map(|row| (row.line, line(row, &columns)))
        .collect();
    let without = read.iter().filter(|(_, row)| row.length.is_none());
    let faults: Vec<Fault> = without
        .flat_map(|(line, _)| refused(*line, "the row has no length"))
        .collect();
    match faults.is_empty() {
        true => Ok(read.into_iter().map(|(_, row)| row).collect()),
        false => Err(faults),
    }
}

fn line(row: &Row, columns: &[(Option<&'static str>, Option<&'static str>)]) -> YardDraft {
    let mut sold = YardDraft::default();
    for (cell, (field, unit)) in row.cells.iter().zip(columns) {
        let text = unshielded(cell).trim();
        let Some(field) = field.filter(|_| !text.is_empty()) else {
            continue;
        };
        let at = YardDraft::FIELDS
            .iter()
            .position(|known| known.name == field);
        let known = at.and_then(|at| sold.texts_mut().into_iter().nth(at));
        // Of two columns for one field the first is taken.
        if let Some(known) = known.filter(|known| known.is_none()) {
            let unit = unit.filter(|_| field == "length");
            *known = Some(with_unit(text.to_owned(), unit));
        }
    }
    sold
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_stand_in_any_order_and_others_are_left_out() {
        let text = "Spring list;;\n\nPrice;Length (mm);colour;Timber;Pack size\n4,20 per m;3000;red;post;\n\"31,00\";2,4 m;;post;10\n";
        let read = read(text).expect("a table");
        let told: Vec<Vec<&str>> = read
            .iter()
            .map(|row| {
                row.texts()
                    .into_iter()
                    .map(|text| text.as_deref().unwrap_or(""))
                    .collect()
            })
            .collect();
        assert_eq!(
            told,
            [
                ["post", "3000 mm", "4,20 per m", "", "", ""],
                ["post", "2,4 m", "31,00", "", "10", ""]
            ]
        );
    }

    #[test]
    fn a_table_that_is_no_price_list_says_why() {
        let faults = |text: &str| -> Vec<String> {
            let faults = read(text).expect_err("no list");
            faults.iter().map(ToString::to_string).collect()
        };
        assert_eq!(
            faults("section,price\npost,3\n"),
            [
                "line 1, column 1: cannot be read: no column is headed \"length\"; name the columns section, length, price, stock, pack, yard in the first line"
            ]
        );
        assert_eq!(
            faults("length,price\n3 m,3\n,4\n"),
            ["line 3, column 1: cannot be read: the row has no length"]
        );
    }
}
