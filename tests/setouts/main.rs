//! Set-outs against published values, against laws that must always hold, and against what people mistype.

mod common;
mod demo;
mod faults;
mod laws;
mod published;
mod quantities;
mod sight;
mod trade;
