//! Boarding of a face: where each board goes and how wide the ripped ones are.
//!
//! A board covers its cover width; the next one starts a movement gap further on. Laid from one side, `full` boards fit and the
//! last is ripped to what is left. Where that is a sliver (under half a cover width, the floor-layer's rule, or a least width that
//! is given) both edges are ripped to the same width instead: with N boards and gaps g, edge = (W - (N-2) c - (N-1) g) / 2.
//! Both ways are listed. Boards, gaps and what is left at the end fill the face to the tick, always.
//!
//! A board that lies over the one before takes its overall width and starts a lap before the other's end: the same sums with a gap below
//! zero. Its last board covers its whole width, and laps are evened out before anything is ripped (`laid`).

mod drawn;
mod face;
mod form;
mod laid;
mod parts;
mod said;

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
    let chosen = face.chosen(sizes, &as_laid, shared.as_ref())?;
    let chosen = face.measured_again(sizes, chosen, &mut worked)?;
    face.parts(sizes, &chosen, &mut worked);
    face.facts(&chosen, &as_laid, shared.as_ref(), &mut worked);
    face.positions(&chosen, &mut worked);
    face.notes(sizes, &chosen, &as_laid, shared.as_ref(), &mut worked);
    movement::told(sizes, timber.width, face.room(), &mut worked);
    worked.makes = face.makes(sizes, &chosen)?;
    face.draw(sizes, &chosen, &mut worked);
    Ok(worked)
}
