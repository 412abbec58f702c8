//! What the page may ask of the engine: JSON in, JSON out.
//!
//! Quick questions go through [`call`], planning through [`plan`]. A reply is always an object; a request that cannot be understood
//! is answered by `{"error": …}`, which is a fault of the page and not of the person at it.

mod actions;
mod kerf;
mod parts;
mod pieces;
mod planning;
mod quantities;
mod request;
mod set_outs;
mod tables;
mod units;
mod work;
mod yard;

pub use planning::plan;

use request::parsed;
use serde_json::json;

/// Answers a quick question without a clock: what it may cost is counted in steps alone.
pub fn call(action: &str, request: &str) -> String {
    call_timed(action, request, &|| 0.0)
}

/// Answers a quick question; `clock` gives milliseconds, for what is asked to be done in a time.
pub fn call_timed(action: &str, request: &str, clock: &crate::patience::Clock) -> String {
    parsed(request)
        .and_then(|request| actions::answer(action, &request, clock))
        .unwrap_or_else(|error| json!({ "error": error }).to_string())
}
