//! The page, driven in a real Chromium; what matters most, in WebKit and Firefox too ([`other_engines`]).
//!
//! `cargo verify` sets the browser up, builds the site once and runs these tests; without it, start them with
//! `cargo test --features browser --test browser`. A missing browser is a failure. A test is plain code from top to
//! bottom: see [`harness::Browser`] for all it can do, and the shortest modules here for examples.

#[macro_use]
mod soon;

mod calm;
mod carried_out;
mod carrying;
mod choices;
mod day;
mod driver;
mod engine;
mod entering;
mod everyone;
mod guarded;
mod harness;
mod harness_itself;
mod keeping;
mod lists;
mod looks;
mod nothing_lost;
mod offline;
mod one_file;
mod other_engines;
mod page;
mod picture;
mod prices;
mod refusing;
mod rods;
mod same_plans;
mod savings;
mod saw;
#[path = "../../src/house/serve.rs"]
#[allow(
    dead_code,
    reason = "the tests stop their servers, and never serve for ever"
)]
mod serve;
mod session;
mod several_pieces;
mod shed;
mod site;
mod starting;
mod units;
mod usable;
mod vehicle;
mod waiting;
mod wood;
mod yard;
