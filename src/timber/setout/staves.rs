//! Walls of equal sides that slope, or stand upright: staves around a tub or a planting ring, and the boards of a hopper.
//!
//! With n sides, h = 180/n, the wall at s off upright, F across the flats at its wider end, a height H and a slant L: a side measures F tan h there and
//! loses 2 L sin s tan h to the other end. Its two sloping lines stand at M = atan(sin s tan h) to a square, and the joint between two sides is
//! sawn with the blade at B = asin(cos s sin h) off upright. (Compound mitres, as in the tables of mitre saw manuals.) In a stave these are its long
//! edges, ripped; in a hopper they are the ends of its boards.
//!
//! Four sides can be butted too: the front and the back run past the others. All ends then stand at M with the blade at asin(sin^2 s), which is what
//! two neighbouring sides are off a right angle to each other; the long points are inside.

use super::built::Built;
use super::kind::{
    Field, KindInfo, Sort, Usual, choice_field, section_field, size_field, spare_field, usual_field,
};
use super::panel::ring_outlines;
use super::polygon::{ONE, half_turn, part_of, ring};
use super::ratio::{diagonal, nearest_root, share};
use super::sizes::{Sizes, Timber};
use super::worked::{Hazard, Misfit, Worked};
use crate::angle::Angle;
use crate::length::Length;
use crate::part::{Keeps, Part, PartEnd, Rip};
use crate::space::Solid;

const SIDES: Field = Field {
    field: "sides",
    label: "Sides",
    hint: "More sides are narrower, and rounder. Leave empty for the fewest, of an even number, that the boards are wide enough for.",
    sort: Sort::Count {
        least: 4,
        most: MOST as u32,
    },
    usual: Usual::Nothing,
    in_sight: true,
};

/// The most sides.
const MOST: i64 = 60;

/// The form of staves.
pub static STAVES: KindInfo = KindInfo {
    kind: "staves",
    title: "Staves",
    name: "Staves",
    about: "Equal staves around a tub or a ring, upright or tapered, their long edges bevelled.",
    fields: &[
        size_field("width", "Width at the top", "Outside, across the flats."),
        spare_field(
            "bottom_width",
            "Width at the bottom",
            "Outside, across the flats; leave empty for upright staves.",
        ),
        size_field("height", "Height", "Upright, not along the staves."),
        SIDES,
        section_field(
            "section",
            "Section",
            "The boards that the staves are ripped from.",
        ),
    ],
};

/// The form of a hopper.
pub static HOPPER: KindInfo = KindInfo {
    kind: "hopper",
    title: "Box with sloping sides",
    name: "Hopper",
    about: "Boards on edge that lean out all round, their ends sawn with the blade tilted.",
    fields: &[
        size_field(
            "width",
            "Width at the top",
            "Outside; across the flats where there are more than four sides.",
        ),
        spare_field(
            "depth",
            "Depth at the top",
            "Of four sides; leave empty for a square one.",
        ),
        usual_field(
            "lean",
            "Sides lean out by",
            "Level, from the lower to the upper outside edge of one side.",
            ["30 mm", "1 1/4\""],
        ),
        Field {
            hint: "Four, or more that are all alike.",
            usual: Usual::Text("4"),
            ..SIDES
        },
        choice_field(
            "corners",
            "Corners",
            "Butted: the front and the back run past the sides; of four sides alone.",
            &["mitred", "butted"],
        ),
        section_field(
            "section",
            "Section",
            "Each side is one board, as high as it is wide.",
        ),
    ],
};

/// How far each end of a sloping side of a ring is drawn in, in ticks: its corners are rounded to one, and neighbours must not overlap.
const DRAWN_IN: i128 = 4;

/// A wall as it is read.
struct Wall<'a> {
    timber: &'a Timber,
    sides: u32,
    /// Sine and cosine of half of what a side takes of a turn.
    half: (i128, i128),
    /// Across the flats, outside, at the bottom and at the top; the other way too where there are four sides.
    flats: [[Length; 2]; 2],
    height: Length,
    /// How far it leans out, and its height along the slope.
    lean: Length,
    slant: Length,
}

impl Wall<'_> {
    /// The outside size of a side, where it is so much across the flats the way that it runs.
    fn side(&self, flats: Length) -> Length {
        match self.sides {
            4 => flats,
            _ => part_of(flats, self.half.0, self.half.1),
        }
    }

    /// The wall on the level: thicker where it slopes.
    fn level(&self) -> Length {
        share(
            self.timber.thickness,
            self.slant.ticks(),
            self.height.ticks(),
        )
    }

    /// How its joints are sawn: off square where it slopes, and with the blade tilted.
    fn joint(&self) -> Option<[PartEnd; 2]> {
        let (sine, cosine) = self.half;
        let [lean, height, slant] =
            [self.lean, self.height, self.slant].map(|one| i128::from(one.ticks()));
        let mitre = angle(lean * sine / slant, cosine);
        let tilt = of_sine(height * sine / slant)?;
        let end = mitre.map_or(PartEnd::Square, PartEnd::Mitre);
        Some([end, PartEnd::Mitre(tilt)])
    }

    /// How the ends of mitred sides are sawn; `None` where they are too flat to saw.
    fn mitred(&self) -> Option<PartEnd> {
        let [mitre, tilt] = self.joint()?;
        let swung = |end: PartEnd| match end {
            PartEnd::Square => None,
            PartEnd::Mitre(angle) => Some(angle),
        };
        Angle::tilted(swung(mitre), swung(tilt)?.millidegrees()).map(PartEnd::Mitre)
    }

    /// How the ends of four butted sides are sawn; square where they are upright, or nearly so. `None` where they are too flat to saw.
    fn butt(&self) -> Option<PartEnd> {
        let [lean, slant] = [self.lean, self.slant].map(|one| i128::from(one.ticks()));
        // Half a quarter turn has equal sine and cosine.
        let swung = angle(lean * ONE / slant, ONE);
        let sine = lean * lean * ONE / (slant * slant);
        match (swung, of_sine(sine)) {
            (_, None) if 2 * sine > ONE => None,
            (None, None) => Some(PartEnd::Square),
            (Some(swung), None) => Some(PartEnd::Mitre(swung)),
            (swung, Some(tilt)) => Angle::tilted(swung, tilt.millidegrees()).map(PartEnd::Mitre),
        }
    }

    /// The bodies of four butted sides, the front first, then the back and those between.
    fn butted(&self) -> Vec<Solid> {
        let level = self.level().ticks();
        let [bottom, top] = self.flats.map(|size| {
            let [x, y] = self.inset(size);
            let [right, back] = [x + size[0].ticks(), y + size[1].ticks()];
            let (inner, behind) = (y + level, back - level);
            let across = |x: [i64; 2], y: [i64; 2]| {
                vec![[x[0], y[0]], [x[1], y[0]], [x[1], y[1]], [x[0], y[1]]]
            };
            [
                across([x, right], [y, inner]),
                across([x, right], [behind, back]),
                across([x, x + level], [inner, behind]),
                across([right - level, right], [inner, behind]),
            ]
        });
        let ends = [0, self.height.ticks()];
        let both = bottom.into_iter().zip(top);
        both.map(|(bottom, top)| Solid::sloping(2, [bottom, top], ends))
            .collect()
    }

    /// How far an outside of this size is from the greatest one, of four sides.
    fn inset(&self, size: [Length; 2]) -> [i64; 2] {
        [0, 1].map(|way| {
            let widest = self.flats[0][way].max(self.flats[1][way]);
            (widest - size[way]).ticks() / 2
        })
    }

    /// The bodies of its sides, the front first.
    fn bodies(&self) -> Vec<Solid> {
        let level = self.level();
        let ends = [0, self.height.ticks()];
        let [bottom, top] = self.flats.map(|size| self.outlines(size, level));
        let both = bottom.into_iter().zip(top);
        both.map(|(bottom, top)| match self.lean.is_none() {
            true => Solid::prism(2, top, ends),
            false => Solid::sloping(2, [bottom, top], ends),
        })
        .collect()
    }

    /// The outlines of its sides on one level, where the outside has this size.
    fn outlines(&self, size: [Length; 2], level: Length) -> Vec<Vec<[i64; 2]>> {
        if self.sides == 4 {
            let [right, back] = self.inset(size);
            let shifted = |outline: Vec<[i64; 2]>| {
                let corners = outline.into_iter();
                corners.map(|[x, y]| [x + right, y + back]).collect()
            };
            let [near, far, left, other] = ring_outlines(size, level);
            return [near, far, left, other].map(shifted).into();
        }
        let corners = |flats: Length| {
            let points = ring(self.sides, part_of(flats, ONE, self.half.1)).into_iter();
            points
                .map(|(x, y)| [x.ticks(), y.ticks()])
                .collect::<Vec<_>>()
        };
        let (outer, inner) = (corners(size[0]), corners(size[0] - level - level));
        let drawn_in = if self.lean.is_none() { 0 } else { DRAWN_IN };
        let side = |at: usize| {
            let next = (at + 1) % outer.len();
            let [from, to] = [outer[at], outer[next]];
            let [x, y] = [0, 1].map(|side| i128::from(to[side] - from[side]));
            let long = nearest_root((x * x + y * y) as u128).max(1) as i128;
            let by = [x, y].map(|part| (part * drawn_in / long) as i64);
            let moved = |[x, y]: [i64; 2], way: i64| [x + way * by[0], y + way * by[1]];
            vec![
                moved(from, 1),
                moved(to, -1),
                moved(inner[next], -1),
                moved(inner[at], 1),
            ]
        };
        (0..outer.len()).map(side).collect()
    }

    /// Reads what both kinds have; the wall must leave room inside.
    fn check(self, field: &'static str) -> Result<Self, Misfit> {
        let level = self.level();
        let least = self.flats.into_iter().flatten().min().unwrap_or_default();
        if least <= level + level {
            return Err(Misfit::new(
                field,
                "the sides leave nothing between them; make it larger, or let them lean less",
            ));
        }
        Ok(self)
    }

    fn say(&self, sizes: &Sizes, worked: &mut Worked) {
        let ring = |flats: Length| match self.sides {
            4 => flats,
            _ => part_of(flats, ONE, self.half.1),
        };
        let [bottom, top] = self.flats;
        worked.number("sides", self.sides);
        worked.fact("wall height", self.height);
        worked.fact("slant", self.slant);
        worked.fact("wall on the level", self.level());
        worked.fact("side at the top", self.side(top[0]));
        worked.fact("side at the bottom", self.side(bottom[0]));
        worked.fact("width at the bottom", bottom[0]);
        worked.fact("over all", ring(top[0].max(bottom[0])));
        let all = 2 * self.sides;
        worked.notes.push(format!(
            "Try the setting on scraps and dry-fit all sides before any glue: an error of a tenth of a degree in each cut opens the last joint by {}.{} degrees. Half the sides at a time can be fitted and trimmed.",
            all / 10,
            all % 10
        ));
        if self.sides % 2 == 1 {
            worked.notes.push("With an odd number of sides nothing lies opposite: the width is twice the distance from the centre.".to_owned());
        }
        if !self.lean.is_none() {
            worked.notes.push(
                "Its upper and lower edges are drawn level; sawn square they lean with the sides."
                    .to_owned(),
            );
        }
        // The width of what is seen in front: of four sides all of it, of a ring one side.
        let (front, from) = match self.sides {
            4 => (top[0].max(bottom[0]), Length::ZERO),
            _ => {
                let side = self.side(top[0]);
                (side, Length::ZERO - Length::from_ticks(side.ticks() / 2))
            }
        };
        worked
            .drawing
            .across(0, from, from + front, sizes.show(front));
        let high = sizes.show(self.height);
        worked.drawing.up(0, -self.height, Length::ZERO, high);
    }
}

/// The angle of a slope, in units of 2^-60.
fn angle(rise: i128, run: i128) -> Option<Angle> {
    let length = |of: i128| Length::from_ticks((of >> 30) as i64);
    Angle::of_slope(length(rise), length(run))
}

/// The angle with this sine.
fn of_sine(sine: i128) -> Option<Angle> {
    let run = nearest_root((ONE * ONE - sine * sine).max(0) as u128) as i128;
    angle(sine, run)
}

/// The members of staves.
///
/// # Errors
/// Sizes that do not go together.
pub fn staves(sizes: &Sizes) -> Result<Built, Misfit> {
    let timber = sizes.timber("section")?;
    let (top, height) = (sizes.length("width")?, sizes.length("height")?);
    let bottom = sizes.given("bottom_width").unwrap_or(top);
    let widest = top.max(bottom);
    let fits = |sides: &u32| {
        let (sine, cosine) = half_turn(*sides);
        part_of(widest, sine, cosine) <= timber.width
    };
    let fewest = || {
        (4..=MOST as u32)
            .step_by(2)
            .find(fits)
            .unwrap_or(MOST as u32)
    };
    let sides = sizes.given_count("sides").unwrap_or_else(fewest);
    let twice = (top - bottom).max(bottom - top);
    let lean = Length::from_ticks(twice.ticks() / 2);
    let wall = Wall {
        timber,
        sides,
        half: half_turn(sides),
        flats: [[bottom; 2], [top; 2]],
        height,
        lean,
        slant: diagonal(height, lean),
    }
    .check("width")?;
    let Some([taper, edge]) = wall.joint() else {
        return Err(steep("height"));
    };
    let (wide, narrow) = (wall.side(top.max(bottom)), wall.side(top.min(bottom)));
    if wide > timber.width {
        return Err(Misfit::new(
            "sides",
            format!(
                "each stave would be {} wide, wider than its boards; take more sides or wider boards",
                sizes.show(wide)
            ),
        ));
    }
    let part = Part {
        rip: Some(Rip {
            edges: [edge; 2],
            ..Rip::square(wide, Keeps::Either)
        }),
        ..Part::square("stave", &timber.sections, wall.slant, 1)
    };
    let mut built = Built::default();
    for body in wall.bodies() {
        built.add(part.clone(), body);
    }
    let worked = &mut built.worked;
    wall.say(sizes, worked);
    worked.frame_joints("edges of staves", sides, timber.thickness);
    worked.hazards.push(Hazard::Rip(timber.sections.clone()));
    let decimal = sizes.style.decimal;
    let [wide_shown, narrow_shown] = [wide, narrow].map(|width| sizes.show(width));
    let tapers = match taper {
        PartEnd::Square => String::new(),
        angle => format!(
            " First taper both edges alike, {} each, to {narrow_shown} at the narrow end, in a tapering jig.",
            angle.told(decimal)
        ),
    };
    worked.notes.push(format!(
        "Rip the staves to {wide_shown}, the wider face out, with the blade at {} off upright for both long edges.{tapers}",
        edge.told(decimal)
    ));
    worked
        .notes
        .push("Hoops or bands hold staves that stay outdoors; glue alone does not.".to_owned());
    worked.makes = format!(
        "{sides} staves of {wide_shown} by {}: {} across the flats at the top, {} at the bottom, {} high",
        sizes.show(wall.slant),
        sizes.show(top),
        sizes.show(bottom),
        sizes.show(height)
    );
    worked.description = format!("A wall of {sides} staves, {} high.", sizes.show(height));
    Ok(built)
}

/// The members of a hopper.
///
/// # Errors
/// Sizes that do not go together.
pub fn hopper(sizes: &Sizes) -> Result<Built, Misfit> {
    let timber = sizes.timber("section")?;
    let (width, lean, slant) = (sizes.length("width")?, sizes.length("lean")?, timber.width);
    let sides = sizes.count("sides").max(4);
    let depth = sizes.given("depth");
    if depth.is_some() && sides != 4 {
        return Err(Misfit::new(
            "depth",
            "with more than four sides all are alike; leave this empty",
        ));
    }
    let top = [width, depth.unwrap_or(width)];
    let square = |one: Length| i128::from(one.ticks()) * i128::from(one.ticks());
    let height = nearest_root((square(slant) - square(lean)).max(0) as u128) as i64;
    if height == 0 {
        return Err(steep("lean"));
    }
    let wall = Wall {
        timber,
        sides,
        half: half_turn(sides),
        flats: [top.map(|flats| flats - lean - lean), top],
        height: Length::from_ticks(height),
        lean,
        slant,
    }
    .check("lean")?;
    let butted = sizes.choice("corners", [false, true]);
    if butted && sides != 4 {
        return Err(Misfit::new(
            "corners",
            "four sides alone can be butted; take mitred corners, or four sides",
        ));
    }
    let end = match butted {
        true => wall.butt(),
        false => wall.mitred(),
    };
    let Some(end) = end else {
        return Err(steep("lean"));
    };
    let bodies = match butted {
        true => wall.butted(),
        false => wall.bodies(),
    };
    let mut built = Built::default();
    for (at, body) in bodies.into_iter().enumerate() {
        // Of four sides the front and the back come first, then those at the sides.
        let between = sides == 4 && at > 1;
        let mut length = wall.side(top[usize::from(between)]);
        let mut label = "side";
        if butted {
            // The long points are inside, and what stands between others is shorter by both of them.
            let through = end.through(timber.thickness);
            length += through + through;
            if between {
                length = length - wall.level() - wall.level();
                label = "side between";
            }
        }
        let part = Part {
            ends: [end; 2],
            ..Part::square(label, &timber.sections, length, 1)
        };
        built.add(part, body);
    }
    let worked = &mut built.worked;
    wall.say(sizes, worked);
    let (corners, points) = match butted {
        true => ("butted corners", "inside"),
        false => ("mitred corners", "outside"),
    };
    worked.frame_joints(corners, sides, timber.thickness);
    let told = end.told(sizes.style.decimal);
    worked.notes.push(format!(
        "Saw both ends of each side at {told}, the long points at the upper {points} edge. Tables differ in what they call square and upright: here both are zero."
    ));
    worked.notes.push("Plane the upper and the lower edges level once it is together, or bevel them to the slope before.".to_owned());
    worked.makes = format!(
        "{sides} sides, outside {} at the top and {} at the bottom, {} high, ends at {told}",
        sizes.by(&wall.flats[1]),
        sizes.by(&wall.flats[0]),
        sizes.show(wall.height)
    );
    worked.description = format!(
        "A box of {sides} sloping sides, {} high, wider at the top.",
        sizes.show(wall.height)
    );
    Ok(built)
}

fn steep(field: &'static str) -> Misfit {
    Misfit::new(
        field,
        "the sides lie too flat for their joints to be sawn; let them lean less",
    )
}
