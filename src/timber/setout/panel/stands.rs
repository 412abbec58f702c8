//! The members of a panel in space: `x` along its width, `y` from the side drawn to its back, `z` up.

use super::{Corner, Panel, ring_outlines};
use crate::length::Length;
use crate::setout::halving;
use crate::setout::placed::Placed;
use crate::setout::worked::Misfit;
use crate::space::{Point, Solid};

impl Panel<'_> {
    /// Its members, moved by `to`; `line` is the number of its first row.
    ///
    /// # Errors
    /// Sizes that do not go together.
    pub fn members(&self, line: u8, to: &dyn Fn(Point) -> Point) -> Result<Vec<Placed>, Misfit> {
        let mut placed = Vec::new();
        let mut put = |row: u8, length: Length, body: Vec<Solid>| {
            placed.push(Placed {
                line: line + row,
                length,
                rip: None,
                body: body.iter().map(|solid| solid.moved(to)).collect(),
            });
        };
        let bodies = self.outer();
        for (at, body) in bodies.into_iter().enumerate() {
            let long = match (self.corner, at) {
                (Corner::RailsThrough, 0 | 1) => self.inside_height(),
                (Corner::StilesThrough, 2 | 3) => self.inside_width(),
                (_, 0 | 1) => self.height,
                _ => self.width,
            };
            put(at as u8 / 2, long, body);
        }
        let [face, deep] = [self.middle_face(), self.middle.depth(self.seen)].map(Length::ticks);
        let (edge, inside) = (self.member().ticks(), self.inside_height());
        let uprights = self.upright_starts()?;
        for start in &uprights {
            let corner = [edge + start.ticks(), 0, edge];
            let body = Solid::cuboid(corner, [face, deep, inside.ticks()]);
            put(2, inside, vec![body]);
        }
        let rows = self.noggin_starts()?;
        for (start, bay) in self.bays(&uprights) {
            for row in &rows {
                let corner = [edge + start.ticks(), 0, edge + row.ticks()];
                let body = Solid::cuboid(corner, [bay.ticks(), deep, face]);
                put(3, bay, vec![body]);
            }
        }
        if let Some(fixing) = self.fixing {
            let deep = fixing.timber.depth(self.seen).ticks();
            for ([start, row], long) in self.fixing_pieces()? {
                let [across, up] = self.fixing_size(long).map(Length::ticks);
                let corner = [edge + start.ticks(), 0, edge + row.ticks()];
                put(4, long, vec![Solid::cuboid(corner, [across, deep, up])]);
            }
        }
        Ok(placed)
    }

    /// The bodies of the left and the right stile, the lower and the upper rail.
    fn outer(&self) -> [Vec<Solid>; 4] {
        let [wide, high, edge] = [self.width, self.height, self.member()].map(Length::ticks);
        let deep = self.timber.depth(self.seen).ticks();
        let upright = |x: i64, z: [i64; 2], y: [i64; 2]| {
            Solid::cuboid([x, y[0], z[0]], [edge, y[1] - y[0], z[1] - z[0]])
        };
        let level = |z: i64, x: [i64; 2], y: [i64; 2]| {
            Solid::cuboid([x[0], y[0], z], [x[1] - x[0], y[1] - y[0], edge])
        };
        let (left, right, top) = (0, wide - edge, high - edge);
        let (across, up, through) = ([edge, right], [edge, top], [0, deep]);
        let pair = |one: Solid, other: Solid| [vec![one], vec![other]];
        let (stiles, rails) = match self.corner {
            Corner::StilesThrough => (
                pair(
                    upright(left, [0, high], through),
                    upright(right, [0, high], through),
                ),
                pair(level(0, across, through), level(top, across, through)),
            ),
            Corner::RailsThrough => (
                pair(upright(left, up, through), upright(right, up, through)),
                pair(level(0, [0, wide], through), level(top, [0, wide], through)),
            ),
            Corner::Halved => {
                // What is left of a stile in front is what is taken from the rail.
                let lies = self.timber.depth(self.seen);
                let left_over = (lies - halving::depth(lies, lies)).ticks();
                let (front, back) = ([0, left_over], [left_over, deep]);
                let stile = |x| vec![upright(x, [0, high], front), upright(x, up, back)];
                let rail = |z| vec![level(z, across, front), level(z, [0, wide], back)];
                ([stile(left), stile(right)], [rail(0), rail(top)])
            }
            Corner::Mitred => {
                let sides = ring_outlines([self.width, self.height], self.member());
                // Across y the outline is z, x.
                let [lower, upper, left, right] = sides.map(|outline| {
                    let turned = outline.into_iter().map(|[x, z]| [z, x]);
                    Solid::prism(1, turned.collect(), through)
                });
                (pair(left, right), pair(lower, upper))
            }
        };
        let ([left, right], [lower, upper]) = (stiles, rails);
        [left, right, lower, upper]
    }
}
