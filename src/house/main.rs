//! Builds the page and runs every check.

fn main() {}
