//! Jobs and plans made by hand, for test files that need nothing else of `common`.

#[path = "../common/hand.rs"]
mod made;

pub use made::*;
