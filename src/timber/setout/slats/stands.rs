//! Slats in space. What people or things rest on lies, its longer side along the front; pales stand, side by side along the front.

use super::laid;
use crate::length::Length;
use crate::setout::placed::Placed;
use crate::setout::sizes::{Seen, Sizes};
use crate::setout::worked::Misfit;
use crate::space::{Point, Solid};

/// Its members, from the start of the span.
///
/// # Errors
/// Sizes that do not go together.
pub fn members(sizes: &Sizes) -> Result<Vec<Placed>, Misfit> {
    let timber = sizes.timber("section")?;
    let deep = timber.depth(sizes.choice("seen", Seen::ALL)).ticks();
    let (gaps, length) = laid(sizes)?;
    let [member, long] = [gaps.member, length].map(Length::ticks);
    let lies = sizes.choice("use", [true, false]);
    // As the span runs, along a slat, from the face to the back of it.
    let put = |[span, along, back]: Point| match (lies, length <= gaps.span) {
        (true, true) => [span, along, back],
        (true, false) => [along, span, back],
        (false, _) => [span, back, along],
    };
    let slat = |start: Length| Placed {
        line: 0,
        length,
        rip: None,
        body: vec![Solid::cuboid(
            put([start.ticks(), 0, 0]),
            put([member, long, deep]),
        )],
    };
    Ok(gaps.starts().into_iter().map(slat).collect())
}
