//! The exit codes.

/// A plan was found, and the checker has shown that nothing better can be bought; or all else that the command should do was done.
pub const PROVEN: u8 = 0;
/// Our own failure.
pub const FAILURE: u8 = 1;
/// Faults in the job, or on the command line.
pub const FAULTS: u8 = 2;
/// A plan that is not proven, or none yet, when time was up.
pub const NOT_PROVEN: u8 = 3;
/// No plan exists.
pub const IMPOSSIBLE: u8 = 4;
