//! The solver: bare integers in, the boards to cut and a certificate out.
//!
//! It knows nothing of timber, units or people; what it claims it says in the words of `proof`.

pub mod problem;
pub mod solve;
