//! Makes a failing case smaller: removes things for as long as the engine still fails in the same way. It ends with its time, or when no
//! change succeeds.

use serde_json::Value;
use std::time::{Duration, Instant};

/// Time limit for one case.
const PATIENCE: Duration = Duration::from_secs(8);

/// The smallest case found for which `wrong` still holds. Fields named in `held` stay.
pub fn smaller(case: &Value, held: &[&str], mut wrong: impl FnMut(&Value) -> bool) -> Value {
    let until = Instant::now() + PATIENCE;
    let mut best = case.clone();
    loop {
        let mut changed = false;
        let mut at = 0;
        // Removing things moves the others, so the places are listed anew after each success.
        while let Some(place) = places(&best, held).get(at).cloned() {
            let tries = best.pointer(&place).map(changes).unwrap_or_default();
            let found = tries.into_iter().find_map(|change| {
                let mut tried = best.clone();
                change(tried.pointer_mut(&place)?);
                (Instant::now() < until && wrong(&tried)).then_some(tried)
            });
            match found {
                Some(found) => {
                    best = found;
                    changed = true;
                }
                None => at += 1,
            }
            if Instant::now() >= until {
                return best;
            }
        }
        if !changed {
            return best;
        }
    }
}

/// JSON pointers to everything in a case, larger things first.
fn places(case: &Value, held: &[&str]) -> Vec<String> {
    let mut found = Vec::new();
    let mut open = vec![(String::new(), case)];
    while let Some((place, value)) = open.pop() {
        match value {
            Value::Object(fields) => {
                for (name, field) in fields {
                    let name_escaped = name.replace('~', "~0").replace('/', "~1");
                    if !(place.is_empty() && held.contains(&name.as_str())) {
                        open.push((format!("{place}/{name_escaped}"), field));
                    }
                }
            }
            Value::Array(rows) => {
                for (index, row) in rows.iter().enumerate() {
                    open.push((format!("{place}/{index}"), row));
                }
            }
            _ => {}
        }
        if !place.is_empty() {
            found.push(place);
        }
    }
    found.sort_by_key(|place| place.matches('/').count());
    found
}

type Change = Box<dyn Fn(&mut Value)>;

/// Ways of making one value smaller.
fn changes(value: &Value) -> Vec<Change> {
    let mut ways: Vec<Change> = Vec::new();
    match value {
        Value::Array(rows) if !rows.is_empty() => {
            let count = rows.len();
            let mut size = count;
            while size > 0 {
                for from in (0..count).step_by(size) {
                    let to = (from + size).min(count);
                    ways.push(Box::new(move |value| {
                        if let Value::Array(rows) = value {
                            rows.drain(from..to);
                        }
                    }));
                }
                size /= 2;
            }
        }
        Value::Object(fields) => {
            let names: Vec<String> = fields.keys().cloned().collect();
            for name in names {
                ways.push(Box::new(move |value| {
                    if let Value::Object(fields) = value {
                        fields.remove(&name);
                    }
                }));
            }
        }
        Value::String(text) if !text.is_empty() => {
            let signs: Vec<char> = text.chars().collect();
            let count = signs.len();
            let mut size = count.div_ceil(2);
            let mut tries = 0;
            while size > 0 && tries < 64 {
                for from in (0..count).step_by(size) {
                    let mut left = signs.clone();
                    left.drain(from..(from + size).min(count));
                    let left: String = left.into_iter().collect();
                    ways.push(Box::new(move |value| *value = left.clone().into()));
                    tries += 1;
                }
                size /= 2;
            }
        }
        Value::Number(number) => {
            if let Some(whole) = number.as_i64() {
                for smaller in [0, 1, whole / 2] {
                    if smaller.unsigned_abs() < whole.unsigned_abs() {
                        ways.push(Box::new(move |value| *value = smaller.into()));
                    }
                }
            }
        }
        _ => {}
    }
    ways
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_find_loses_all_that_it_does_not_need() {
        let case = json!({ "law": "shuffled", "rows": [1, 2, { "a": "xxyxx", "b": [5, 6] }, 900], "more": "text" });
        let wrong = |case: &Value| case["rows"].to_string().contains('y');
        let small = smaller(&case, &["law"], wrong);
        assert_eq!(small["law"], "shuffled");
        assert_eq!(small["rows"], json!([{ "a": "y" }]));
    }
}
