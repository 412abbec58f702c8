//! What the page may ask of the engine: JSON in, JSON out.
//!
//! Quick questions go through [`call`], planning through [`plan`]. A reply is always an object; a request that cannot be understood
//! is answered by `{"error": …}`, which is a fault of the page and not of the person at it.

mod actions;
mod pieces;
mod planning;
mod quantities;
mod set_outs;
mod tables;
mod units;
mod work;
mod yard;

pub use planning::plan;

use serde_json::{Value, json};

/// Answers a quick question.
pub fn call(action: &str, request: &str) -> String {
    let reply = match serde_json::from_str::<Value>(request) {
        Ok(request) => actions::answer(action, &request),
        Err(error) => Err(format!("the request is not JSON: {error}")),
    };
    reply
        .unwrap_or_else(|error| json!({ "error": error }))
        .to_string()
}
