//! The cells of a table as CSV: commas between them, a line for each row, and no cell that a spreadsheet would run as a formula.
//!
//! A spreadsheet reads a text that begins like a formula as one, even in quotes. Such a text is written with an apostrophe in front, which
//! spreadsheets read as "this is text" (OWASP's advice on CSV injection). [`unshielded`] removes that apostrophe and no other, so a table
//! that was written here reads back unchanged.

/// A table as CSV with its headings.
pub fn table<Cell: AsRef<str>>(headings: &[&str], rows: impl Iterator<Item = Vec<Cell>>) -> String {
    let mut text = headings.join(",") + "\r\n";
    for row in rows {
        let cells: Vec<String> = row.iter().map(|cell| written(cell.as_ref())).collect();
        text.push_str(&cells.join(","));
        text.push_str("\r\n");
    }
    text
}

/// A cell as CSV: shielded, and quoted where it holds a separator, a quote or a line end, or begins or ends with space.
fn written(cell: &str) -> String {
    let cell = if is_formula(cell) {
        format!("'{cell}")
    } else {
        cell.to_owned()
    };
    if cell.contains([',', ';', '"', '\n', '\r', '\t']) || cell.trim() != cell {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell
    }
}

/// A cell without the apostrophe in front of a formula, whether it was put there by [`table`] or by a spreadsheet.
pub fn unshielded(cell: &str) -> &str {
    cell.strip_prefix('\'')
        .filter(|rest| is_formula(rest))
        .unwrap_or(cell)
}

/// Whether a text begins like a formula once apostrophes and white space before it are skipped. Texts with such beginnings are shielded
/// too; otherwise reading would remove an apostrophe of their own.
fn is_formula(cell: &str) -> bool {
    let bare = cell.trim_start_matches('\'');
    let begins = bare.trim_start_matches(|sign: char| sign.is_whitespace() || sign.is_control());
    match begins.chars().next() {
        Some('=' | '+' | '@') => true,
        // A number is no formula.
        Some('-') => begins[1..].parse::<u64>().is_err(),
        _ => bare.starts_with(['\t', '\r', '\n']),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_begins_like_a_formula_is_marked_as_text_and_a_number_is_not() {
        for (cell, expected) in [
            ("=1+1", "'=1+1"),
            ("+a", "'+a"),
            ("@sum", "'@sum"),
            ("-a", "'-a"),
            ("-5", "-5"),
            ("\t=1", "\"'\t=1\""),
            ("\rx", "\"'\rx\""),
            (" =1", "' =1"),
            ("'=1", "''=1"),
            ("'leg'", "'leg'"),
            ("a,b", "\"a,b\""),
            (" a ", "\" a \""),
            ("47 1/4\"", "\"47 1/4\"\"\""),
        ] {
            assert_eq!(written(cell), expected, "{cell:?}");
        }
    }

    #[test]
    fn only_the_mark_of_a_formula_is_taken_away() {
        for (cell, expected) in [
            ("'=1", "=1"),
            ("''=1", "'=1"),
            ("'leg'", "'leg'"),
            ("'-5", "'-5"),
            ("'- a", "- a"),
        ] {
            assert_eq!(unshielded(cell), expected, "{cell:?}");
        }
    }
}
