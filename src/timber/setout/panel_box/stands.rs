//! The members of a box in space: each panel stands with the side drawn to the outside.

use super::{Front, Laps, panels};
use crate::length::Length;
use crate::setout::placed::Placed;
use crate::setout::sizes::Sizes;
use crate::setout::worked::Misfit;
use crate::space::Point;

/// The rows that a panel has at most: stiles, rails, uprights, noggins.
const ROWS: u8 = 4;

/// Its members: the panels one after the other, the front first.
///
/// # Errors
/// Sizes that do not go together.
pub fn members(sizes: &Sizes) -> Result<Vec<Placed>, Misfit> {
    let panels = panels(sizes)?;
    let [wide, far, _] = panels.outside.map(Length::ticks);
    let deep = panels.deep.ticks();
    let front_panel = match panels.closed {
        Front::Closed => deep,
        Front::Open => 0,
    };
    // Where the panels that stand between the others start.
    let (x, y) = match panels.laps {
        Laps::FrontAndBack => (0, front_panel),
        Laps::Sides => (deep, 0),
    };
    let [across, along] = [panels.front.width, panels.side.width].map(Length::ticks);
    let mut placed = Vec::new();
    if panels.closed == Front::Closed {
        let front = |at: Point| [at[0] + x, at[1], at[2]];
        placed.extend(panels.front.members(0, &front)?);
    }
    let back = |at: Point| [x + across - at[0], far - at[1], at[2]];
    placed.extend(panels.front.members(0, &back)?);
    let left = |at: Point| [at[1], y + along - at[0], at[2]];
    placed.extend(panels.side.members(ROWS, &left)?);
    let right = |at: Point| [wide - at[1], y + at[0], at[2]];
    placed.extend(panels.side.members(ROWS, &right)?);
    Ok(placed)
}
