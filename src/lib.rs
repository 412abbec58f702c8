//! Lengthwise.

pub mod api;
#[cfg(not(target_arch = "wasm32"))]
pub mod bench;
pub mod certificate;
pub mod check;
pub mod fault;
pub mod group;
pub mod io;
pub mod job;
pub mod layout;
pub mod length;
pub mod money;
pub mod plan;

pub mod problem;
pub mod progress;
pub mod report;
pub mod setout;
pub mod solve;
