//! `lengthwise bench`: the engine against published instances and against practical jobs made up by the hundred.
//!
//! Native only. Here, and nowhere in the engine, is a clock.

mod instance;
mod jobs;
mod run;

pub use instance::{Instance, read_folder};
pub use jobs::{JobSize, practical_jobs};
pub use run::{Arguments, run};
