//! The posts and the rails of a layout as members.

use super::layout::Layout;
use crate::length::Length;
use crate::part::{Leans, Part, PartEnd};
use crate::setout::built::{Built, in_ground};
use crate::setout::ratio::share;
use crate::setout::worked::Misfit;
use crate::space::Solid;

impl Layout<'_> {
    /// Adds the posts, the front ones first.
    pub fn posts(&self, built: &mut Built) {
        let [across, back] = &self.places;
        let (top, ground, [face, deep]) = (&self.top, self.ground, self.post);
        // A saw cuts an angle across the wide side alone; what is left square is sawn in place.
        let top_end = match deep == self.timber.width {
            true => self.end,
            false => PartEnd::Square,
        };
        for (row, &y) in back.iter().enumerate() {
            let is_end = row == 0 || row == back.len() - 1;
            for (column, &x) in across.iter().enumerate() {
                if !is_end && column != 0 && column != across.len() - 1 {
                    continue;
                }
                let label = match (top.rise == Length::ZERO, row, is_end) {
                    (true, ..) => "post",
                    (_, 0, _) => "front post",
                    (_, _, true) => "back post",
                    _ => "side post",
                };
                let [near, far] = [top.at(y), top.at(y + deep)];
                let part = Part {
                    ends: [PartEnd::Square, top_end],
                    fitting: in_ground(ground),
                    ..Part::square(label, &self.timber.sections, near.max(far) + ground, 1)
                };
                let [x, right, y, behind, near, far, foot] =
                    [x, x + face, y, y + deep, near, far, -ground].map(Length::ticks);
                let outline = vec![[y, foot], [behind, foot], [behind, far], [y, near]];
                built.add(part, Solid::prism(0, outline, [x, right]));
            }
        }
    }

    /// Adds the level rails: of the front, of the back, and of the sides below a top that slopes.
    ///
    /// # Errors
    /// More rails than fit.
    pub fn level_rails(&self, built: &mut Built) -> Result<(), Misfit> {
        let (depth, thick) = (self.top.depth, self.rails.timber.thickness);
        let [front_top, _] = self.top.over(Length::ZERO, thick);
        let [back_top, _] = self.top.over(depth - thick, depth);
        let front = self.rails.starts(front_top)?;
        let first = match self.is_open {
            true => front.len() - 1,
            false => 0,
        };
        self.rows(built, "front rail", (0, Length::ZERO), &front[first..]);
        self.rows(
            built,
            "back rail",
            (0, depth - thick),
            &self.rails.starts(back_top)?,
        );
        let [lower, _] = self.top.over(Length::ZERO, depth);
        let mut sides = self.rails.starts(lower)?;
        if !self.is_level() {
            sides.pop();
        }
        for at in [Length::ZERO, self.width - thick] {
            self.rows(built, "side rail", (1, at), &sides);
        }
        Ok(())
    }

    /// Rails along the width or the depth, so far behind or to the right, at these heights.
    fn rows(&self, built: &mut Built, label: &str, (side, at): (usize, Length), up: &[Length]) {
        let timber = self.rails.timber;
        for &start in up {
            for [from, to] in self.bays(side) {
                let mut corner = [from, at, start].map(Length::ticks);
                let mut size = [to - from, timber.thickness, timber.width].map(Length::ticks);
                if side == 1 {
                    corner.swap(0, 1);
                    size.swap(0, 1);
                }
                let part = self.rails.part(label, to - from);
                built.add(part, Solid::cuboid(corner, size));
            }
        }
    }

    /// Adds the top rails of both sides of a sloping top.
    ///
    /// # Errors
    /// Rails that reach below the lowest one.
    pub fn sloping_rails(&self, built: &mut Built) -> Result<(), Misfit> {
        let (top, timber) = (&self.top, self.rails.timber);
        let slope = top.slope().long;
        let along = |length: Length, of: Length| share(length, of.ticks(), top.depth.ticks());
        let upright = along(timber.width, slope);
        for [from, to] in self.bays(1) {
            let [near, far] = [top.at(from), top.at(to)];
            if near.min(far) - upright < self.rails.up {
                return Err(Misfit::new(
                    "rails",
                    "the sloping rails reach below the lowest rail; make it higher, or the rails narrower",
                ));
            }
            let long = along(to - from, slope) + along(timber.width, top.steep());
            let part = Part {
                ends: [self.end; 2],
                leans: Leans::Same,
                pair: true,
                ..self.rails.part("sloping rail", long)
            };
            let [from, to, near, far, high] = [from, to, near, far, upright].map(Length::ticks);
            let outline = [
                [from, near - high],
                [to, far - high],
                [to, far],
                [from, near],
            ];
            // Left first, then right: two that are mirror images.
            for x in [Length::ZERO, self.width - timber.thickness] {
                let ends = [x, x + timber.thickness].map(Length::ticks);
                built.add(part.clone(), Solid::prism(0, outline.to_vec(), ends));
            }
        }
        Ok(())
    }
}
