//! Why a size has no value.

use crate::length::LengthFault;

/// Why an expression has no value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// One of its lengths cannot be read.
    Length(String, LengthFault),
    /// It is wrong in itself; the message says how to mend it.
    Wrong(String),
    /// It names a size that is not known because of a fault of its own, which is reported there.
    Waits(String),
}

/// Trouble with the text itself; the message says how to mend it.
pub fn wrong(message: impl Into<String>) -> Trouble {
    Trouble::Wrong(message.into())
}
