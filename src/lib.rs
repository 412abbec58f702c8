//! Lengthwise.

pub mod api;
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
pub mod setout;
pub mod solve;
