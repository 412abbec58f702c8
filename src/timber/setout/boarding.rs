//! Boarding of a face: where each board goes, and how wide the ripped boards are.
//!
//! Each board takes its cover width, and the next one starts a movement gap further on. Laid from one side, as many whole boards as fit are
//! laid, and the last is ripped to what is left. Where that would be a sliver (under half a cover width, the floor-layer's rule, or under a
//! least width that is given), both edge boards are ripped to one width instead: with N boards of cover width c and gaps g on a face of
//! width W, edge = (W - (N-2) c - (N-1) g) / 2. Both ways are listed. Boards, gaps and the bare end always add up to the face, to the tick.
//!
//! A board that overlaps the one before takes its overall width and starts a lap before the other ends: the same sums with a gap below
//! zero. The last board shows its whole width. Laps are evened out before anything is ripped (`laid`).

mod drawn;
mod face;
mod form;
mod laid;
mod parts;
mod said;
pub mod stands;

pub use face::CORNERS;
pub use form::KIND;

use super::lay::{lay, shared};
use super::movement;
use super::sizes::Sizes;
use super::worked::{Misfit, Worked};
use face::Face;

/// Works the boarding out.
///
/// # Errors
/// Sizes that do not go together.
pub fn work_out(sizes: &Sizes) -> Result<Worked, Misfit> {
    let timber = sizes.timber("section")?;
    let face = Face::read(sizes, timber)?;
    face.not_too_many(face.span, face.across_field())?;
    let as_laid = lay(face.span, face.first, face.board, face.gap);
    let shared = shared(&as_laid, face.span, face.board, face.gap);
    let mut worked = Worked::default();
    let planned = face.chosen(sizes, &as_laid, shared.as_ref())?;
    let chosen = face.measured_again(sizes, planned, &mut worked)?;
    face.parts(sizes, &chosen, &mut worked);
    face.facts(&chosen, &as_laid, shared.as_ref(), &mut worked);
    face.positions(&chosen, &mut worked);
    face.notes(sizes, &chosen, &as_laid, shared.as_ref(), &mut worked);
    movement::told(sizes, timber.width, face.room(), &mut worked);
    worked.makes = face.makes(sizes, &chosen)?;
    face.draw(sizes, &chosen, &mut worked);
    Ok(worked)
}
