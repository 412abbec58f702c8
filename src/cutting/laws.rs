//! Laws of the crate's mechanisms, on problems so small that everything can be tried: each against brute force, a solver of another make, or
//! its own inverse.

mod bounds;
mod exhaustive;
mod fewer_boards;
mod knapsack_table;
mod linear_program;
mod made_up;
mod nesting;
mod offcuts;
mod pairs;
mod presolving;
mod pricing;
mod published;
mod search;
mod totals;
