//! A request and its fields, and the replies that report an error.

use crate::fault::Fault;
use crate::io::bounded;
use crate::io::objects::object;
use crate::limits;
use serde_json::Value;
use timber::edit::Edit;

/// The reply to a request: an object, or what is wrong with the request.
pub type Reply = Result<Value, String>;

/// A request as a value. An error where it is too long or no JSON.
pub fn parsed(request: &str) -> Result<Value, String> {
    bounded::json(request, &limits::REQUEST).map_err(|fault| fault.to_string())?;
    serde_json::from_str(request).map_err(|error| format!("the request is not JSON: {error}"))
}

/// A field that the request must have.
pub fn field<'a>(request: &'a Value, name: &str) -> Result<&'a Value, String> {
    request
        .get(name)
        .ok_or_else(|| format!("the request has no \"{name}\""))
}

/// A field that is a text.
pub fn text<'a>(request: &'a Value, name: &str) -> Result<&'a str, String> {
    field(request, name)?
        .as_str()
        .ok_or_else(|| format!("\"{name}\" should be a text"))
}

/// A fault as the page receives it.
pub fn fault_reply(fault: &Fault) -> Value {
    object!({
        "list": fault.place.list,
        "row": fault.place.row,
        "field": fault.place.field,
        "message": fault.kind.to_string(),
        "text": fault.to_string(),
    })
}

/// What is to be written in a field, by its place.
pub fn edit_reply(edit: &Edit) -> Value {
    let place = &edit.place;
    object!({ "list": place.list, "row": place.row, "field": place.field, "text": edit.text })
}
