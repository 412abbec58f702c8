//! Lengthwise.

pub mod certificate;
pub mod check;
pub mod fault;
pub mod job;
pub mod length;
pub mod money;
pub mod plan;
pub mod problem;
pub mod setout;
pub mod solve;
