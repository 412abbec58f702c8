//! The solver: bare integers in, the boards to cut and a certificate out.
//!
//! It knows nothing of timber, units or people; what it claims it says in the words of `proof`. What is asked is a [`problem`]; [`solve`]
//! says how it is worked out and holds all that a caller needs. Everything else is a step of that, each file below those it uses:
//!
//! * words: `aims`, `solution`, `watch`, `clock`, `pattern`, `objective`, `attainable`, `branch_path`, `fewer_boards`, `incumbent`, and `limits` for every
//!   constant;
//! * before and after: `presolve`, `postsolve`, `reporter`;
//! * bounds: `material_bound`, `simplex`, `nesting`, `laying`, `nest_states`, `run_states`, `pricing`, `restricted_master`, `dual_bound`, `column_generation`, `interior_duals`;
//! * search: `branching`, `enumeration`, `pattern_search`, `pair_search`, `branch_and_price`;
//! * plans: `greedy`, `diving`, `target_search`, `integer_master`, `neighbourhood`.

mod aims;
mod arithmetic;
mod attainable;
mod board_shape;
mod branch_and_price;
mod branch_path;
mod branching;
mod clock;
mod column_generation;
mod diving;
mod dual_bound;
mod enumeration;
mod fewer_boards;
mod greedy;
mod incumbent;
mod integer_master;
mod interior_duals;
mod laying;
mod limits;
mod master_size;
mod material_bound;
mod neighbourhood;
mod nest_states;
mod nesting;
mod objective;
mod pair_search;
mod pattern;
mod pattern_search;
mod postsolve;
mod presolve;
mod pricing;
pub mod problem;
mod random;
mod reporter;
mod restricted_master;
mod run_states;
mod simplex;
mod solution;
pub mod solve;
mod target_search;
mod watch;

#[cfg(test)]
mod laws;
