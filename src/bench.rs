//! `lengthwise bench`: the engine on published instances, on job files, and on practical jobs made up from a seed.
//!
//! The part that reads folders and needs a clock is native only. The rest is also compiled into the engine of the page where the feature
//! `bench` is set, so that both builds can solve the same problem.

#[cfg(not(target_arch = "wasm32"))]
mod arc_flow;
#[cfg(not(target_arch = "wasm32"))]
mod arguments;
#[cfg(not(target_arch = "wasm32"))]
mod checked;
#[cfg(not(target_arch = "wasm32"))]
mod folder;
mod instance;
mod job_files;
mod jobs;
#[cfg(not(target_arch = "wasm32"))]
mod mps;
#[cfg(not(target_arch = "wasm32"))]
mod noise;
mod once;
#[cfg(not(target_arch = "wasm32"))]
mod run;
#[cfg(not(target_arch = "wasm32"))]
mod stopwatch;
#[cfg(not(target_arch = "wasm32"))]
mod written;

#[cfg(not(target_arch = "wasm32"))]
pub use {
    arc_flow::ArcFlow, arguments::Arguments, checked::run_checked, folder::read_folder,
    jobs::practical_jobs, mps::mps, noise::Noise, run::run, stopwatch::Stopwatch,
};

pub use instance::{Instance, parse};
pub use jobs::{JobSize, practical};
pub use once::{Allowance, Answer, aims, solve_text};
