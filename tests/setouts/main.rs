//! Set-outs against published values, against laws that must always hold, and against what people mistype.

mod closed;
#[path = "../common/mod.rs"]
mod common;
mod demo;
mod faults;
mod fixed;
mod gates;
mod hidden;
mod laps;
mod laws;
mod legs;
mod measured;
mod movement;
mod published;
mod quantities;
mod sheets;
mod sight;
mod slopes;
mod small;
mod standing;
mod stands;
mod trade;
