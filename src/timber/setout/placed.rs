//! A member of a set-out as its calculation places it, before its row of the list is known.

use crate::length::Length;
use crate::part::Rip;
use crate::space::Solid;

/// A member before its row of the list is known.
pub struct Placed {
    /// Which of the calculation's calls that make parts it comes from, in their order; of loose parts the row itself.
    pub line: u8,
    /// Its length.
    pub length: Length,
    /// What it is ripped to.
    pub rip: Option<Rip>,
    /// Its body.
    pub body: Vec<Solid>,
}
