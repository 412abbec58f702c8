//! The result of marking a board.

use crate::length::Length;
use crate::part::Fitting;
use crate::plan::PlannedBoard;
use crate::runs::Stretch;

/// A board as it comes out when its marks are followed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MarkedBoard {
    /// The board, each part where the marks put it: `end - start` is the length it comes out at.
    pub board: PlannedBoard,
    /// For each part along the board, by how much it misses its length: below zero where it comes out too short, above zero where it is too
    /// long to go between others. Zero where it is within a step on the right side.
    pub off: Vec<Length>,
    /// For each part along the board, whether its loss keeps an offcut behind it long enough to keep.
    pub for_offcut: Vec<bool>,
    /// The offcuts worth keeping that a cut ends, ascending. What is left at the end of a piece of timber is not among them.
    pub freed: Vec<Freed>,
}

/// An offcut worth keeping that a cut ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Freed {
    /// Where it starts: at its own mark, else at what was cut before it or at the end of the timber in hand.
    pub from: Length,
    /// The mark of the cut that ends it.
    pub to: Length,
    /// The clear stretch in it.
    pub clear: Stretch,
    /// Whether it starts at a mark of its own, with the cut outside it. The timber before it is then bad, or too short to keep.
    pub begins: bool,
}

/// By how much a part misses its length where it comes out `made` long. Zero up to one step over, and for a part that goes between others
/// zero up to one step under.
pub fn miss(wanted: Length, made: Length, fitting: Fitting, step: Length) -> Length {
    let over = made - wanted;
    let good = match fitting {
        Fitting::Free | Fitting::Ground => over >= Length::ZERO && over < step,
        Fitting::Between => over <= Length::ZERO && over > -step,
    };
    if good { Length::ZERO } else { over }
}
