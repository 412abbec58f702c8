//! The requests that the page may send to the engine: JSON in, JSON out.
//!
//! Quick requests go through [`call`], planning through [`plan`]. A reply is always an object. A request that cannot be understood is
//! answered by `{"error": …}`: a fault of the page, not of the person at it.

mod actions;
mod choices;
mod kerf;
#[cfg(any(not(target_arch = "wasm32"), feature = "package"))]
mod others;
mod parts;
mod picture;
mod pieces;
mod planning;
mod quantities;
mod request;
mod saving;
mod set_outs;
mod shed;
mod sizes;
#[cfg(any(not(target_arch = "wasm32"), feature = "package"))]
pub mod stream;
mod tables;
mod units;
mod work;
mod yard;

use crate::io::objects::object;
use request::parsed;
use serde_json::Value;

/// Answers a quick request without a clock: its work is limited by counted steps alone, so an `answer` has to say how many `looks` it may take.
pub fn call(action: &str, request: &str) -> String {
    call_timed(action, request, &|| 0.0)
}

/// Answers a quick request. `clock` gives milliseconds, for requests with a time limit.
pub fn call_timed(action: &str, request: &str, clock: &crate::patience::Clock) -> String {
    parsed(request)
        .and_then(|request| actions::answer(action, &request, clock))
        .unwrap_or_else(|error| object!({ "error": error }).to_string())
}

/// Answers a request that may take long: to plan a job (`planning::plan`), to look for what would improve a plan (`saving::look`) or for other
/// plans to choose from (`choices::look`), or to choose sizes
/// (`sizes::choose`). `clock` gives milliseconds; `progress` hears JSON text on the way.
pub fn plan(
    request: &str,
    clock: &crate::patience::Clock,
    progress: &mut dyn FnMut(&str),
) -> String {
    let asks = |request: &Value, field: &str| request.get(field).is_some();
    let reply = parsed(request).and_then(|request| match () {
        () if asks(&request, "improve") => saving::look(&request, clock, progress),
        () if asks(&request, "choices") => choices::look(&request, clock, progress),
        () if asks(&request, "choose") => sizes::choose(&request, clock),
        () => planning::plan(&request, clock, progress),
    });
    reply.unwrap_or_else(|error| object!({ "error": error }).to_string())
}
