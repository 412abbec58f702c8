//! Members at centres in space: they stand, the plates below and above them.

use super::starts;
use crate::length::Length;
use crate::setout::placed::Placed;
use crate::setout::sizes::{Seen, Sizes};
use crate::setout::worked::Misfit;
use crate::space::Solid;

/// Its members: the plates first.
///
/// # Errors
/// Sizes that do not go together.
pub fn members(sizes: &Sizes) -> Result<Vec<Placed>, Misfit> {
    let timber = sizes.timber("section")?;
    let seen = sizes.choice("seen", Seen::ALL);
    let (face, span, height) = (
        timber.face(seen),
        sizes.length("span")?,
        sizes.length("height")?,
    );
    let [edge, deep, top] = [face, timber.depth(seen), height].map(Length::ticks);
    let plates = sizes.choice("plates", [0, 1, 2]);
    let mut placed = Vec::new();
    let mut put = |line: u8, length: Length, corner: [i64; 2], size: [i64; 2]| {
        placed.push(Placed {
            line,
            length,
            rip: None,
            body: vec![Solid::cuboid(
                [corner[0], 0, corner[1]],
                [size[0], deep, size[1]],
            )],
        });
    };
    for z in [0, top - edge].into_iter().take(plates) {
        put(1, span, [0, z], [span.ticks(), edge]);
    }
    let above = if plates > 0 { edge } else { 0 };
    let long = top - plates as i64 * edge;
    for start in starts(sizes, span, face)? {
        put(
            0,
            Length::from_ticks(long),
            [start.ticks(), above],
            [edge, long],
        );
    }
    Ok(placed)
}
