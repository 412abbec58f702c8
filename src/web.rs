//! The bridge between the engine and the page: strings of JSON in, strings of JSON out.
//!
//! It only adapts. The page calls it inside a Worker, so a long plan never holds up a keystroke. The core has no clock;
//! this file lends it the Worker's `performance.now()`. A panic leaves the engine unusable, so its message is thrown
//! to the Worker as an exception, and the page starts a fresh Worker.

// The macro of wasm-bindgen writes the foreign functions behind each export; nothing here is unsafe by hand.
#![allow(unsafe_code)]

use crate::api;
use js_sys::{Function, Reflect};
use serde::Serialize;
use wasm_bindgen::prelude::*;

/// What the page receives at every better plan.
#[derive(Serialize)]
struct Progress<'report> {
    /// Milliseconds since planning began, by the Worker's clock.
    milliseconds: f64,
    /// The plan so far, as JSON text; the page reads it only when it has time to draw.
    report: &'report str,
}

/// Runs once, when the engine is started.
#[wasm_bindgen(start)]
pub fn start() {
    std::panic::set_hook(Box::new(|panic| {
        // Without its place: the page's engine has none (`house/unplaced`); the native build tells it.
        wasm_bindgen::throw_str(panic.payload_as_str().unwrap_or("the engine stopped"))
    }));
}

/// The version of the engine.
#[wasm_bindgen]
pub fn version() -> String {
    env!("CARGO_PKG_VERSION").to_owned()
}

/// Answers a quick request. The reply is JSON text, faults included.
///
/// # Errors
/// Throws where the Worker has no clock.
#[wasm_bindgen]
pub fn call(action: &str, request: &str) -> Result<String, JsValue> {
    let clock = clock()?;
    Ok(api::call_timed(action, request, &clock))
}

/// The Worker's clock: milliseconds since this call.
fn clock() -> Result<impl Fn() -> f64, JsValue> {
    let performance: web_sys::Performance =
        Reflect::get(&js_sys::global(), &"performance".into())?.unchecked_into();
    let began = performance.now();
    Ok(move || performance.now() - began)
}

/// Plans a job and calls `progress` with a [`Progress`] at every better plan. The reply is JSON text.
///
/// # Errors
/// Throws where the Worker has no clock, or where `progress` throws.
#[wasm_bindgen]
pub fn plan(request: &str, progress: &Function) -> Result<String, JsValue> {
    let clock = clock()?;
    let mut failure = None;
    let reply = api::plan(request, &clock, &mut |report| {
        let sent = serde_wasm_bindgen::to_value(&Progress {
            milliseconds: clock(),
            report,
        })
        .map_err(JsValue::from)
        .and_then(|value| progress.call1(&JsValue::NULL, &value));
        if let Err(error) = sent {
            failure.get_or_insert(error);
        }
    });
    failure.map_or(Ok(reply), Err)
}

/// Solves a problem of the benchmark with at most this many clock checks; returns the answer as text. See [`crate::bench::solve_text`].
///
/// # Errors
/// Throws where the text describes no problem.
#[cfg(feature = "bench")]
#[wasm_bindgen]
pub fn bench(problem: &str, least_scrap: bool, looks: u32) -> Result<String, JsValue> {
    let mut allowance = crate::bench::Allowance::of_looks(u64::from(looks));
    crate::bench::solve_text(problem, least_scrap, &mut allowance)
        .map(|answer| answer.to_string())
        .map_err(|why| JsValue::from_str(&why))
}
