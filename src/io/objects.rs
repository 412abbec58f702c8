//! JSON objects of replies, in little code.
//!
//! `json!` of serde_json writes out for each field how its name is copied, its value made and put in. Replies have some six hundred fields, so here
//! each field is one call, whose code is there once for each type of value. Fields keep the order in which they are written.

use serde::Serialize;
use serde_json::{Map, Value};

/// An object of JSON: `object!({ "name": value, "more": { "nested": value }, "none": [] })`. A value is anything that serde can write.
macro_rules! object {
    ({ $($fields:tt)* }) => {{
        #[allow(unused_mut)]
        let mut made = serde_json::Map::new();
        $crate::io::objects::object!(@into made $($fields)*);
        serde_json::Value::Object(made)
    }};
    (@into $object:ident) => {};
    (@into $object:ident $name:literal : { $($inner:tt)* } $(, $($more:tt)*)?) => {
        $crate::io::objects::put(&mut $object, $name, &$crate::io::objects::object!({ $($inner)* }));
        $crate::io::objects::object!(@into $object $($($more)*)?);
    };
    (@into $object:ident $name:literal : [] $(, $($more:tt)*)?) => {
        $crate::io::objects::put(&mut $object, $name, &serde_json::Value::Array(Vec::new()));
        $crate::io::objects::object!(@into $object $($($more)*)?);
    };
    (@into $object:ident $name:literal : $value:expr $(, $($more:tt)*)?) => {
        $crate::io::objects::put(&mut $object, $name, &$value);
        $crate::io::objects::object!(@into $object $($($more)*)?);
    };
}
pub(crate) use object;

/// Puts a value into an object.
///
/// # Panics
/// Where serde cannot write the value as JSON; no value of a reply is such.
pub(crate) fn put<Told: Serialize + ?Sized>(
    object: &mut Map<String, Value>,
    name: &str,
    value: &Told,
) {
    let value = serde_json::to_value(value);
    put_value(object, name, value.expect("a value that JSON has"));
}

#[inline(never)]
fn put_value(object: &mut Map<String, Value>, name: &str, value: Value) {
    object.insert(name.to_owned(), value);
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    #[test]
    fn an_object_is_what_serde_json_makes_of_the_same_words() {
        let rows = vec![object!({ "length": "900", "count": 2 }), object!({})];
        let (mark, none) = (Some("A"), None::<u32>);
        let object = object!({
            "rows": rows, "mark": mark, "none": none, "more": { "faults": [], "of": { "wide": mark.is_some() }, },
            "sum": 2 + 3, "closed": if rows.len() > 1 { "yes" } else { "no" },
        });
        let usual = json!({
            "rows": [{ "length": "900", "count": 2 }, {}], "mark": "A", "none": null,
            "more": { "faults": [], "of": { "wide": true } }, "sum": 5, "closed": "yes",
        });
        assert_eq!(object.to_string(), usual.to_string());
    }
}
