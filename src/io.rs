//! The edges: the job file, parts tables, plan files and what the page is told. Names of fields in files live here and nowhere else.

pub mod bounded;
pub mod csv;
#[cfg(not(target_arch = "wasm32"))]
pub mod forms;
pub mod job_file;
pub mod link;
pub mod parts_table;
pub mod plan_file;
pub mod qr;
pub mod reply;
#[cfg(not(target_arch = "wasm32"))]
pub mod schema;
pub mod units;
