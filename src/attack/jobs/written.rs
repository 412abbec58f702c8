//! Jobs as they are written: amounts, rows, lengths.

use serde_json::Value;

/// An amount as it is written.
pub fn money(minor: i64) -> String {
    format!("{}.{:02}", minor / 100, minor % 100)
}

/// The rows of a list of a job; none where it is no list.
pub fn rows<'a>(job: &'a mut Value, list: &str) -> &'a mut [Value] {
    job.get_mut(list)
        .and_then(Value::as_array_mut)
        .map_or(&mut [], |rows| rows.as_mut_slice())
}

/// Adds a row to a list of a job.
pub fn add_row(job: &mut Value, list: &str, row: Value) {
    if let Some(rows) = job.get_mut(list).and_then(Value::as_array_mut) {
        rows.push(row);
    }
}

/// The length of a row in whole millimetres, where it is written so.
pub fn millimetres(row: &Value) -> Option<i64> {
    row.get("length")?.as_str()?.parse().ok()
}
