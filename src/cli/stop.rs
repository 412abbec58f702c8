//! Why a command ends early.

use super::codes::{FAILURE, FAULTS};

/// An early end of a command, with its exit code.
pub struct Stop {
    /// The exit code.
    pub code: u8,
    /// The message for the person.
    pub message: String,
}

impl Stop {
    /// A fault in the command line or in an input file.
    pub fn faults(message: String) -> Stop {
        Stop {
            code: FAULTS,
            message: format!("lengthwise: {message}"),
        }
    }

    /// A failure that is no fault of the job.
    pub fn failure(message: String) -> Stop {
        Stop {
            code: FAILURE,
            message: format!("lengthwise: {message}"),
        }
    }
}
