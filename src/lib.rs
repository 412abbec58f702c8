//! Lengthwise.

pub mod certificate;
pub mod problem;
pub mod solve;
