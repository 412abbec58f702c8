//! Boards in space: the boarding stands, its boards upright or across, with what is behind it at the back.
//!
//! A board has a profile across its width, as convex pieces. A tongue is a third of the thickness, in a groove as deep as it is long; a
//! tongue that would stand out past the face is planed off. A rebate is half of the thickness. Boards that lap, plain or feather-edged, are
//! drawn as thick as their section. They lean on each other: with thickness t and a distance E from one to the next, a board rises from
//! the wall by t / E, so that its inner side meets the outer side of the one before. A profile sheared like this keeps its area.

use super::face::{Face, Run};
use super::laid::Laid;
use crate::section::EdgeJoint;
use crate::setout::lay::{lay, shared};
use crate::setout::placed::Placed;
use crate::setout::sizes::Sizes;
use crate::setout::worked::{Misfit, Worked};
use crate::space::Solid;

/// A convex piece of a profile: how far along the face, and how far out from what is behind.
type Piece = Vec<[i64; 2]>;

/// Its members, in the order in which they are laid.
///
/// # Errors
/// Sizes that do not go together.
pub fn members(sizes: &Sizes) -> Result<Vec<Placed>, Misfit> {
    let face = Face::read(sizes, sizes.timber("section")?)?;
    let as_laid = lay(face.span, face.first, face.board, face.gap);
    let shared = shared(&as_laid, face.span, face.board, face.gap);
    let planned = face.chosen(sizes, &as_laid, shared.as_ref())?;
    let laid = face.measured_again(sizes, planned, &mut Worked::default())?;
    let profiles = match face.timber.joint {
        EdgeJoint::Square => face.square(&laid),
        EdgeJoint::Tongued => face.tongued(&laid),
        EdgeJoint::Rebated => face.rebated(&laid),
        EdgeJoint::Lapped => face.lapped(&laid),
    };
    let out = profiles.iter().flatten().flatten().map(|corner| corner[1]);
    let deepest = out.max().unwrap_or_default();
    let along = [0, face.length.ticks()];
    let body = |piece: &Piece| match face.run {
        // Across z the outline is x, y; across x it is y, z.
        Run::Upright => {
            let outline = piece.iter().map(|&[at, out]| [at, deepest - out]);
            Solid::prism(2, outline.collect(), along)
        }
        Run::Across => {
            let outline = piece.iter().map(|&[at, out]| [deepest - out, at]);
            Solid::prism(0, outline.collect(), along)
        }
    };
    let count = laid.widths.len();
    let board = |(index, profile): (usize, &Vec<Piece>)| {
        let width = laid.widths[index];
        let whole = face.is_full(width);
        Placed {
            line: match whole {
                true => 0,
                false => 1 + face.ripped(index, count, width) as u8,
            },
            length: face.length,
            rip: (!whole).then(|| face.rip(index, count, width)),
            body: profile.iter().map(body).collect(),
        }
    };
    Ok(profiles.iter().enumerate().map(board).collect())
}

fn rectangle([from, to]: [i64; 2], [inner, outer]: [i64; 2]) -> Piece {
    vec![[from, inner], [to, inner], [to, outer], [from, outer]]
}

/// Those of some rectangles that there is anything of.
fn rectangles(all: &[([i64; 2], [i64; 2])]) -> Vec<Piece> {
    let some = |sides: &&([i64; 2], [i64; 2])| sides.0[0] < sides.0[1] && sides.1[0] < sides.1[1];
    let pieces = all.iter().filter(some);
    pieces.map(|&(along, out)| rectangle(along, out)).collect()
}

impl Face<'_> {
    /// Where each board starts and ends.
    fn stretches(&self, laid: &Laid) -> Vec<[i64; 2]> {
        let starts = laid.starts.iter().zip(&laid.widths);
        starts
            .map(|(&start, &width)| [start.ticks(), (start + width).ticks()])
            .collect()
    }

    fn thick(&self) -> i64 {
        self.timber.thickness.ticks()
    }

    fn square(&self, laid: &Laid) -> Vec<Vec<Piece>> {
        let board = |along: [i64; 2]| vec![rectangle(along, [0, self.thick()])];
        self.stretches(laid).into_iter().map(board).collect()
    }

    /// A first board that is ripped loses its groove, any other its tongue.
    fn tongued(&self, laid: &Laid) -> Vec<Vec<Piece>> {
        let deep = (self.timber.width - self.timber.cover).ticks();
        let thick = self.thick();
        let inner = (thick - thick / 3) / 2;
        let outer = inner + thick / 3;
        let count = laid.widths.len();
        let end = self.span.max(laid.end(count)).ticks();
        let board = |(index, [from, to]): (usize, [i64; 2])| {
            let whole = self.is_full(laid.widths[index]);
            let first = index == 0 && count > 1;
            let groove = match whole || !first {
                true => deep.min(to - from),
                false => 0,
            };
            let tongue = match whole || first {
                true => deep.min(end - to),
                false => 0,
            };
            rectangles(&[
                ([from, from + groove], [0, inner]),
                ([from, from + groove], [outer, thick]),
                ([from + groove, to], [0, thick]),
                ([to, to + tongue], [inner, outer]),
            ])
        };
        self.stretches(laid)
            .into_iter()
            .enumerate()
            .map(board)
            .collect()
    }

    /// A board is the whole one that it was, less what is ripped off: the near edge of the first, the far edge of any other.
    fn rebated(&self, laid: &Laid) -> Vec<Vec<Piece>> {
        let (wide, thick) = (self.board.ticks(), self.thick());
        let lap = (self.timber.width - self.timber.cover)
            .ticks()
            .min(wide / 2);
        let board = |(index, [from, to]): (usize, [i64; 2])| {
            let near = if index == 0 { to - wide } else { from };
            let left = |from_near: i64, to_near: i64| {
                [(near + from_near).max(from), (near + to_near).min(to)]
            };
            rectangles(&[
                (left(0, lap), [thick / 2, thick]),
                (left(lap, wide - lap), [0, thick]),
                (left(wide - lap, wide), [0, thick / 2]),
            ])
        };
        self.stretches(laid)
            .into_iter()
            .enumerate()
            .map(board)
            .collect()
    }

    fn lapped(&self, laid: &Laid) -> Vec<Vec<Piece>> {
        let stretches = self.stretches(laid);
        let (wide, thick) = (self.board.ticks(), self.thick());
        // What a whole board rises over its width, so that even the closest two lie on each other.
        let whole = |at: usize| self.is_full(laid.widths[at]);
        let apart = (1..stretches.len()).filter(|&at| whole(at - 1) && whole(at));
        let apart = apart
            .map(|at| stretches[at][0] - stretches[at - 1][0])
            .min();
        let rise = apart.map_or(0, |apart| up(wide * thick, apart.max(1)));
        let mut before: Option<([i64; 2], i64, i64)> = None;
        let board = |along: [i64; 2]| {
            let rise = rise * (along[1] - along[0]) / wide;
            let top = match before {
                Some((under, top, under_rise)) if under[1] > along[0] => {
                    // Where the two lie over each other, this one's inner side must not be under the other's outer side; both are
                    // straight, so it is enough to look at both ends.
                    let ends = [along[0], under[1]].map(|at| {
                        let outer =
                            top + thick + up(under_rise * (under[1] - at), under[1] - under[0]);
                        outer - rise * (along[1] - at) / (along[1] - along[0])
                    });
                    ends[0].max(ends[1]).max(0)
                }
                _ => 0,
            };
            before = Some((along, top, rise));
            vec![vec![
                [along[0], top + rise],
                [along[1], top],
                [along[1], top + thick],
                [along[0], top + rise + thick],
            ]]
        };
        stretches.into_iter().map(board).collect()
    }
}

/// `top / bottom`, rounded up.
fn up(top: i64, bottom: i64) -> i64 {
    (top + bottom - 1).div_euclid(bottom)
}
