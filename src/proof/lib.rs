//! What may be claimed of a plan, and the figures that show it.
//!
//! These are the sentences that the solver may say and that the checker adds up again. They know of no timber, no solver and no checker, so
//! that both sides can read the same claim and share nothing else.

pub mod certificate;
pub mod claim;
