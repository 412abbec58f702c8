//! Input and output: the job file, parts tables, plan files, and the replies to the page. The names of fields in plan files and replies are
//! here; those of the job file are in `timber/draft`.

pub mod bounded;
pub mod csv;
#[cfg(any(not(target_arch = "wasm32"), feature = "package"))]
pub mod forms;
pub mod job_file;
pub mod link;
pub(crate) mod objects;
pub mod parts_table;
pub mod plan_file;
pub mod price_table;
pub mod qr;
pub mod reply;
#[cfg(any(not(target_arch = "wasm32"), feature = "package"))]
pub mod schema;
pub mod units;
