//! Why a size has no value.

use crate::length::LengthFault;

/// Why an expression has no value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// One of its lengths cannot be read.
    Length(String, LengthFault),
    /// It is wrong in itself; the message says how to mend it.
    Wrong(String),
    /// It names a size that is unknown because of a fault of its own, which is reported there; the text is that size's name.
    Waits(String),
}

/// An error in the text itself; the message says how to mend it.
pub fn wrong(message: impl Into<String>) -> Trouble {
    Trouble::Wrong(message.into())
}
