//! A mitred ring of equal sides: the cover of a well, a table edge, a seat around a tree.
//!
//! With n sides every end is mitred at 180/n degrees off square. Between its long points a side measures F tan(180/n), where F is the size
//! across the flats, or D sin(180/n), where D is the diameter of the circle through the points. Each short point stands back w tan(180/n),
//! where w is the width of the section. Sines and tangents are Taylor series in fixed point, as for the mitres of parts; each length is
//! rounded once, to the tick.

use super::drawing::{Look, Point};
use super::kind::{Field, KindInfo, Sort, Usual, section_field, size_field};
use super::placed::Placed;
use super::sizes::Sizes;
use super::worked::{Misfit, Worked};
use crate::angle::Angle;
use crate::length::Length;
use crate::part::{Part, PartEnd};
use crate::space::Solid;

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "polygon",
    title: "Hexagon, octagon or other ring",
    name: "Ring",
    about: "A mitred ring of three to twenty-four equal sides.",
    fields: &[
        size_field("size", "Size", "Measured as chosen below."),
        Field {
            field: "sides",
            label: "Sides",
            hint: "Six for a hexagon, eight for an octagon.",
            sort: Sort::Count { least: 3, most: 24 },
            usual: Usual::Text("6"),
            in_sight: true,
        },
        section_field("section", "Section", "The timber; its wide side lies flat."),
        Field {
            field: "measured",
            label: "The size is measured",
            hint: "Outside, over the long points.",
            sort: Sort::Choice(&["across the flats", "across the points", "along one side"]),
            usual: Usual::Text("across the flats"),
            in_sight: true,
        },
    ],
};

#[derive(Clone, Copy, PartialEq, Eq)]
enum Measured {
    Flats,
    Points,
    Side,
}

/// Fixed-point one.
pub const ONE: i128 = 1 << 60;
/// pi in units of 2^-60, rounded down.
const PI: i128 = 3_622_009_729_038_561_421;

/// A ring of sides with their long and their short points.
struct Ring {
    sides: u32,
    long: Length,
    short: Length,
    measured: Measured,
    /// The sine and cosine of half of what a side takes of a turn.
    half: (i128, i128),
}

impl Ring {
    fn read(sizes: &Sizes) -> Result<Ring, Misfit> {
        let timber = sizes.timber("section")?;
        let sides = sizes.count("sides").clamp(3, 24);
        let size = sizes.length("size")?;
        let (sine, cosine) = half_turn(sides);
        let measured = sizes.choice(
            "measured",
            [Measured::Flats, Measured::Points, Measured::Side],
        );
        let long = match measured {
            Measured::Flats => part_of(size, sine, cosine),
            Measured::Points => part_of(size, sine, ONE),
            Measured::Side => size,
        };
        let set_back = part_of(timber.width, sine, cosine);
        let short = long - set_back - set_back;
        if short.is_none() {
            return Err(Misfit::new(
                "size",
                "the section is too wide for such a ring; make the ring larger or use a narrower section",
            ));
        }
        Ok(Ring {
            sides,
            long,
            short,
            measured,
            half: (sine, cosine),
        })
    }

    /// The corners of each side: its two long points, then its two short points. Neighbours have theirs in common.
    fn outlines(&self) -> Vec<[Point; 4]> {
        let corners = |side: Length| ring(self.sides, part_of(side, ONE, self.half.0));
        let (outer, inner) = (corners(self.long), corners(self.short));
        let next = |side: usize| (side + 1) % outer.len();
        let side = |side: usize| {
            [
                outer[side],
                outer[next(side)],
                inner[next(side)],
                inner[side],
            ]
        };
        (0..outer.len()).map(side).collect()
    }
}

/// Its members: the ring lies flat. Its corners are rounded to a tick, so a side is as long as its part to a few ticks.
///
/// # Errors
/// Sizes that do not go together.
pub fn members(sizes: &Sizes) -> Result<Vec<Placed>, Misfit> {
    let ring = Ring::read(sizes)?;
    let high = sizes.timber("section")?.thickness.ticks();
    let side = |outline: [Point; 4]| {
        let outline = outline.map(|(x, y)| [x.ticks(), y.ticks()]);
        Placed {
            line: 0,
            length: ring.long,
            rip: None,
            body: vec![Solid::prism(2, outline.to_vec(), [0, high])],
        }
    };
    Ok(ring.outlines().into_iter().map(side).collect())
}

/// Works the ring out.
///
/// # Errors
/// A section too wide for the ring.
pub fn work_out(sizes: &Sizes) -> Result<Worked, Misfit> {
    let timber = sizes.timber("section")?;
    let worked_out = Ring::read(sizes)?;
    let Ring {
        sides,
        long,
        short,
        measured,
        half: (sine, cosine),
    } = worked_out;
    let millidegrees = (180_000 + sides / 2) / sides;
    let end = Angle::from_millidegrees(millidegrees).map_or(PartEnd::Square, PartEnd::Mitre);
    let mut worked = Worked::default();
    worked.add(Part {
        ends: [end; 2],
        ..Part::square("side", &timber.sections, long, sides)
    });
    worked.fact("side", long);
    worked.fact("short point side", short);
    worked.fact("across the flats", part_of(long, cosine, sine));
    worked.fact("across the points", part_of(long, ONE, sine));
    worked.fact(
        "total length",
        Length::from_ticks(long.ticks() * i64::from(sides)),
    );
    worked.frame_joints("mitred corners", sides, timber.width);
    if let PartEnd::Mitre(angle) = end {
        worked.notes.push(format!(
            "Saw every end at {} degrees off square.",
            angle.degrees(sizes.style.decimal)
        ));
    }
    if sides % 2 == 1 && measured != Measured::Side {
        worked.notes.push(
            "With an odd number of sides nothing lies opposite: the size is twice the distance from the centre."
                .to_owned(),
        );
    }
    worked.makes = format!(
        "{sides} sides of {}: {} across the flats, {} across the points",
        sizes.show(long),
        sizes.show(part_of(long, cosine, sine)),
        sizes.show(part_of(long, ONE, sine))
    );
    let outlines = worked_out.outlines();
    for outline in &outlines {
        worked.drawing.outline(Look::Part, outline.to_vec());
    }
    let outer = outlines.iter().map(|outline| outline[0].0);
    let left = outer.clone().min().unwrap_or_default();
    let right = outer.max().unwrap_or_default();
    let words = format!("{sides} sides of {}", sizes.show(long));
    worked
        .drawing
        .across(0, left, right, sizes.show(right - left));
    worked.drawing.caption(words.clone());
    worked.description = format!("A ring of {words}, over the long points.");
    Ok(worked)
}

/// The sine and cosine of 180 degrees by this number of sides.
pub fn half_turn(sides: u32) -> (i128, i128) {
    sine_cosine(PI / i128::from(sides))
}

/// The corners of a ring around the origin, one side at the bottom.
pub fn ring(sides: u32, across_points: Length) -> Vec<Point> {
    let sides = i128::from(sides);
    (0..sides)
        .map(|corner| {
            // The angle from straight down, anticlockwise, in half steps, the first corner half a side on; kept within half a turn either
            // way so that the series converges.
            let mut half_steps = 2 * corner + 1;
            if half_steps > sides {
                half_steps -= 2 * sides;
            }
            let (sine, cosine) = sine_cosine(PI * half_steps / sides);
            let radius = Length::from_ticks(across_points.ticks() / 2);
            (part_of(radius, sine, ONE), part_of(radius, cosine, ONE))
        })
        .collect()
}

/// `length * top / bottom`, to the nearest tick.
pub fn part_of(length: Length, top: i128, bottom: i128) -> Length {
    let product = i128::from(length.ticks()) * top;
    let nearest = (2 * product + bottom).div_euclid(2 * bottom);
    Length::from_ticks(nearest as i64)
}

/// Sine and cosine in units of 2^-60, for angles within half a turn either way.
fn sine_cosine(radians: i128) -> (i128, i128) {
    let square = (radians * radians) >> 60;
    let (mut odd, mut even) = (radians, ONE);
    let (mut sine, mut cosine) = (radians, ONE);
    // Twenty terms: pi^41 / 41! is below 2^-60 by far.
    for term in 1..20i128 {
        odd = -((odd * square) >> 60) / (2 * term * (2 * term + 1));
        even = -((even * square) >> 60) / (2 * term * (2 * term - 1));
        sine += odd;
        cosine += even;
    }
    (sine, cosine)
}
