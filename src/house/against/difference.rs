//! The first difference between the results of two sides.

use serde_json::Value;

/// The most characters of a value that are shown.
const SHOWN: usize = 90;

/// Where two results differ, and what each has there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// Which field.
    pub place: String,
    /// The value before; "nothing" where there is none.
    pub before: String,
    /// The value after; "nothing" where there is none.
    pub after: String,
}

impl Difference {
    /// A difference at a place. Long values are shortened.
    pub fn new(place: impl Into<String>, before: &str, after: &str) -> Difference {
        Difference {
            place: place.into(),
            before: shortened(before),
            after: shortened(after),
        }
    }
}

/// The first difference between two versions of `name`: in JSON by its field, in text by its line.
pub fn of_bytes(name: &str, before: &[u8], after: &[u8]) -> Option<Difference> {
    if before == after {
        return None;
    }
    let values = serde_json::from_slice(before)
        .ok()
        .zip(serde_json::from_slice(after).ok());
    let by_field = values.and_then(|(before, after)| of_values(name, &before, &after));
    by_field.or_else(|| of_texts(name, before, after))
}

/// The first difference between two values, in the order of the fields before.
pub fn of_values(place: &str, before: &Value, after: &Value) -> Option<Difference> {
    let one_missing = |place: String, before: Option<&Value>, after: Option<&Value>| {
        let shown = |value: Option<&Value>| value.map_or("nothing".to_owned(), Value::to_string);
        Some(Difference::new(place, &shown(before), &shown(after)))
    };
    let either = |place: String, pair: (Option<&Value>, Option<&Value>)| match pair {
        (Some(before), Some(after)) => of_values(&place, before, after),
        (before, after) => one_missing(place, before, after),
    };
    match (before, after) {
        (Value::Object(old), Value::Object(new)) => {
            let added = new.keys().filter(|key| !old.contains_key(*key));
            old.keys()
                .chain(added)
                .find_map(|key| either(format!("{place}.{key}"), (old.get(key), new.get(key))))
        }
        (Value::Array(old), Value::Array(new)) => (0..old.len().max(new.len()))
            .find_map(|at| either(format!("{place}[{at}]"), (old.get(at), new.get(at)))),
        _ if before == after => None,
        _ => one_missing(place.to_owned(), Some(before), Some(after)),
    }
}

/// The first line that differs, counted from one, shown from a little before the first different byte.
fn of_texts(name: &str, before: &[u8], after: &[u8]) -> Option<Difference> {
    const LEAD: usize = 20;
    let at = before.iter().zip(after).position(|(one, two)| one != two);
    let at = at.unwrap_or(before.len().min(after.len()));
    let line = before[..at].iter().filter(|byte| **byte == b'\n').count();
    let start = before[..at]
        .iter()
        .rposition(|byte| *byte == b'\n')
        .map_or(0, |end| end + 1);
    let start = start.max(at.saturating_sub(LEAD));
    let shown = |bytes: &[u8]| {
        let rest = bytes.get(start..).unwrap_or_default();
        let end = rest.iter().position(|byte| *byte == b'\n');
        match end {
            _ if rest.is_empty() => "nothing".to_owned(),
            // A line end that the other side lacks is shown as a line end.
            Some(end) if start + end == at => {
                format!("{}\\n", String::from_utf8_lossy(&rest[..end]))
            }
            _ => String::from_utf8_lossy(&rest[..end.unwrap_or(rest.len())]).into_owned(),
        }
    };
    let place = format!("{name}, line {}", line + 1);
    Some(Difference::new(place, &shown(before), &shown(after)))
}

fn shortened(text: &str) -> String {
    if text.chars().count() <= SHOWN {
        return text.to_owned();
    }
    text.chars().take(SHOWN).chain(" ...".chars()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[track_caller]
    fn check(before: &Value, after: &Value, expected: [&str; 3]) {
        let [place, before_is, after_is] = expected;
        let found = of_values("plan", before, after);
        assert_eq!(found, Some(Difference::new(place, before_is, after_is)));
    }

    #[test]
    fn equal_values_have_no_difference_whatever_the_order_of_their_fields() {
        let before = json!({ "boards": [1, 2], "proofs": null });
        let after = json!({ "proofs": null, "boards": [1, 2] });
        assert_eq!(of_values("plan", &before, &after), None);
    }

    #[test]
    fn the_first_difference_is_named_by_its_way_from_the_root() {
        let before = json!({ "boards": [{ "yard": 1 }, { "runs": [{ "to": 5 }] }], "proofs": 1 });
        let after = json!({ "boards": [{ "yard": 1 }, { "runs": [{ "to": 7 }] }], "proofs": 2 });
        check(&before, &after, ["plan.boards[1].runs[0].to", "5", "7"]);
    }

    #[test]
    fn what_one_side_lacks_is_told_as_nothing() {
        let with = json!({ "cut": 1, "turned": true });
        let without = json!({ "cut": 1 });
        check(&with, &without, ["plan.turned", "true", "nothing"]);
        check(&without, &with, ["plan.turned", "nothing", "true"]);
        check(&json!([1]), &json!([1, 2]), ["plan[1]", "nothing", "2"]);
        // A missing value is not the same as null.
        check(&json!([]), &json!([null]), ["plan[0]", "nothing", "null"]);
    }

    #[test]
    fn values_of_different_kinds_differ_where_they_stand() {
        check(
            &json!({ "a": [1] }),
            &json!({ "a": "1" }),
            ["plan.a", "[1]", "\"1\""],
        );
    }

    #[test]
    fn json_that_is_only_written_differently_differs_by_its_line() {
        let found = of_bytes("plan", b"{\"a\":1}\n", b"{\"a\": 1}\n");
        let expected = Difference::new("plan, line 1", "{\"a\":1}", "{\"a\": 1}");
        assert_eq!(found, Some(expected));
    }

    #[test]
    fn texts_differ_by_their_first_line_that_does() {
        let found = of_bytes("report", b"Buy\n  3 posts\nSaw", b"Buy\n  4 posts\nSaw");
        let expected = Difference::new("report, line 2", "  3 posts", "  4 posts");
        assert_eq!(found, Some(expected));
        let found = of_bytes("report", b"Buy\n", b"Buy\nSaw\n");
        let expected = Difference::new("report, line 2", "nothing", "Saw");
        assert_eq!(found, Some(expected));
        let found = of_bytes("report", b"Buy", b"Buy\n");
        let expected = Difference::new("report, line 1", "Buy", "Buy\\n");
        assert_eq!(found, Some(expected));
        assert_eq!(of_bytes("report", b"Buy\n", b"Buy\n"), None);
    }

    #[test]
    fn long_values_are_shortened() {
        let long = "x".repeat(200);
        let found = of_bytes("report", long.as_bytes(), b"short").map(|found| found.before);
        assert_eq!(found, Some("x".repeat(90) + " ..."));
    }
}
