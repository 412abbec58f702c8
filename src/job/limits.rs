//! What each bounded quantity of a job may be. Messages, the schema and tests read this one table.

use crate::length::Length;

/// A quantity with its legal range, both ends allowed.
pub struct Limit {
    /// What it is, as a message names it.
    pub what: &'static str,
    /// The least.
    pub least: Length,
    /// The most.
    pub most: Length,
}

const fn limit(what: &'static str, least_ticks: i64, most_mm: i64) -> Limit {
    Limit {
        what,
        least: Length::from_ticks(least_ticks),
        most: Length::from_mm(most_mm),
    }
}

/// Width of a saw cut. Zero is for a knife or a published example.
pub const KERF: Limit = limit("a saw kerf", 0, 20);
/// Length of a part.
pub const PART: Limit = limit("the length of a part", 3_200, 100_000);
/// A length the yard sells, or a board in the shed. 50 mm catches metres typed where millimetres are read.
pub const BOARD: Limit = limit("the length of a board", 50 * 3_200, 100_000);
/// Thickness and width of a section.
pub const SIDE: Limit = limit("a side of a section", 3_200, 1_500);
/// What is trimmed off one end.
pub const TRIM: Limit = limit("an end trim", 0, 2_000);
/// The shortest offcut worth keeping.
pub const KEEP: Limit = limit("the keep length", 0, 100_000);
/// The finest step readings are printed to.
pub const STEP: Limit = limit("the step of a reading", 32, 100);
/// Where a bad stretch starts or ends.
pub const STRETCH: Limit = limit("a bad stretch", 0, 100_000);
/// Most of one part.
pub const QUANTITY: u32 = 100_000;
/// Most boards of one length at the yard.
pub const COUNT: u32 = 1_000_000;
/// Most kilograms per cubic metre; the heaviest timbers are near 1 300.
pub const DENSITY: u32 = 1_500;
/// Most rows in one list.
pub const ROWS: usize = 2_000;
