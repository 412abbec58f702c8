//! Why a command ends early.

use super::codes::{FAILURE, FAULTS};

/// An end before the end, with its exit code.
pub struct Stop {
    /// The exit code.
    pub code: u8,
    /// What the person is told.
    pub message: String,
}

impl Stop {
    /// What is asked, or a file that was given, has a fault.
    pub fn faults(message: String) -> Stop {
        Stop {
            code: FAULTS,
            message: format!("lengthwise: {message}"),
        }
    }

    /// It could not be done, and that is no fault of the job.
    pub fn failure(message: String) -> Stop {
        Stop {
            code: FAILURE,
            message: format!("lengthwise: {message}"),
        }
    }
}
