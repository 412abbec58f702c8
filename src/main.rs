//! The command line; see `lengthwise --help`.

fn main() {}
