//! Rafters side by side: one slope, or two that meet at a ridge, with plumb cuts.
//!
//! Over a run r with a rise h a rafter that overhangs by o on the level has the length (r + o) sqrt(r² + h²) / r along its slope; with both ends
//! cut plumb and a depth d it measures d h / r more from tip to tip. At a ridge half of the ridge board is taken off the run, on the level. (The
//! rafter table of the carpenter's square: length per foot of run sqrt(12² + rise²) in inches.)

use super::built::{Built, end_of_slope};
use super::kind::{Field, KindInfo, Sort, Usual, section_field, size_field};
use super::panel::numbered;
use super::ratio::{diagonal, share};
use super::sizes::{Sizes, Timber};
use super::spacing::EqualGaps;
use super::worked::{Hazard, Misfit, Slope, Worked};
use crate::length::Length;
use crate::part::{Leans, Part, PartEnd};
use crate::space::{Solid, Tilt};

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "rafters",
    title: "Rafters",
    name: "Rafters",
    about: "Rafters on edge with plumb ends: one slope, or two that meet at a ridge.",
    fields: &[
        size_field(
            "length",
            "Length",
            "Outside, over the end rafters, along the eaves.",
        ),
        size_field(
            "depth",
            "Depth",
            "On the level, over the walls, from front to back.",
        ),
        size_field(
            "rise",
            "Rise",
            "How much higher the back, or the ridge, is than the front.",
        ),
        section_field(
            "section",
            "Section of the rafters",
            "Rafters stand on edge.",
        ),
        Field {
            field: "slopes",
            label: "Slopes",
            hint: "Two slopes meet at a ridge in the middle.",
            sort: Sort::Choice(&["one", "two"]),
            usual: Usual::Text("one"),
            in_sight: true,
        },
        Field {
            field: "overhang_front",
            label: "Overhang at the front",
            hint: "On the level; of two slopes at the front and the back.",
            sort: Sort::Length,
            usual: Usual::Nothing,
            in_sight: true,
        },
        Field {
            field: "overhang_back",
            label: "Overhang at the back",
            hint: "On the level; of one slope.",
            sort: Sort::Length,
            usual: Usual::Nothing,
            in_sight: true,
        },
        Field {
            field: "centres",
            label: "Rafters no further than",
            hint: "From the middle of one to the middle of the next; the bays come out equal.",
            sort: Sort::Size,
            usual: Usual::ByUnit("600 mm", "24\""),
            in_sight: true,
        },
        Field {
            field: "ridge_section",
            label: "Section of the ridge",
            hint: "Of two slopes; leave empty where rafters meet without one. It stands on edge.",
            sort: Sort::Section,
            usual: Usual::Nothing,
            in_sight: true,
        },
    ],
};

/// The most rafters on a slope.
const MOST: i64 = 500;

/// Rafters as they are read.
struct Roof<'a> {
    timber: &'a Timber,
    ridge: Option<&'a Timber>,
    two: bool,
    depth: Length,
    rise: Length,
    /// To the outside of the far wall, or to the middle of the ridge.
    run: Length,
    /// How much a rafter takes of it on the level, and where it begins.
    taken: Length,
    low: Length,
    end: PartEnd,
    places: EqualGaps,
}

impl Roof<'_> {
    fn read(sizes: &Sizes) -> Result<Roof<'_>, Misfit> {
        let (length, depth) = (sizes.length("length")?, sizes.length("depth")?);
        let rise = sizes.length("rise")?;
        let timber = sizes.timber("section")?;
        let two = sizes.choice("slopes", [false, true]);
        let ridge = sizes.given_timber("ridge_section").filter(|_| two);
        let [front, back] =
            ["overhang_front", "overhang_back"].map(|field| sizes.given(field).unwrap_or_default());
        let half_ridge = ridge.map_or(0, |ridge| (ridge.thickness.ticks() + 1) / 2);
        let (run, taken) = match two {
            true => {
                let run = Length::from_ticks(depth.ticks() / 2);
                (run, run + front - Length::from_ticks(half_ridge))
            }
            false => (depth, depth + front + back),
        };
        let Some(end) = end_of_slope(rise, run).filter(|_| !run.is_none()) else {
            return Err(Misfit::new(
                "rise",
                "this is steeper than 75 degrees; make it lower or deeper",
            ));
        };
        if taken <= Length::ZERO {
            return Err(Misfit::new(
                "depth",
                "the ridge leaves nothing of the rafters; make it deeper",
            ));
        }
        let centres = sizes.length("centres")?;
        let Some(places) = EqualGaps::within(length, timber.thickness, centres, MOST - 1) else {
            return Err(Misfit::new(
                "centres",
                "this takes more than 500 rafters; check the unit",
            ));
        };
        if places.left_over() < Length::ZERO {
            return Err(Misfit::new(
                "length",
                "two rafters do not fit side by side; make it longer",
            ));
        }
        Ok(Roof {
            timber,
            ridge,
            two,
            depth,
            rise,
            run,
            taken,
            low: -front,
            end,
            places,
        })
    }

    /// `length * of / run`.
    fn along(&self, length: Length, of: Length) -> Length {
        share(length, of.ticks(), self.run.ticks())
    }

    /// Along the slope, from tip to tip, and how deep a rafter is measured plumb.
    fn lengths(&self) -> [Length; 3] {
        let slope = diagonal(self.run, self.rise);
        let line = self.along(self.taken, slope);
        let wide = self.timber.width;
        let over_all = line + self.along(wide, self.rise);
        [line, over_all, self.along(wide, slope)]
    }

    /// The upper edges of rafters of one slope, so long and so deep, measured plumb.
    fn slope(&self, long: Length, plumb: Length) -> Slope {
        let along = diagonal(self.run, self.rise);
        let eaves = self.along(self.rise, self.low) + plumb;
        let [run, rise, along, y, z] =
            [self.run, self.rise, along, self.low, eaves].map(Length::ticks);
        Slope {
            tilt: Tilt {
                pivot: [y, z],
                run,
                rise,
                along,
            },
            long,
        }
    }

    fn say(&self, sizes: &Sizes, worked: &mut Worked) {
        let [line, over_all, plumb] = self.lengths();
        let rafters = self.places.count * if self.two { 2 } else { 1 };
        worked.number("rafters", rafters);
        worked.fact("slope length", line);
        worked.fact("rafter length", over_all);
        worked.fact("plumb depth", plumb);
        if self.two {
            worked.fact(
                "ridge",
                self.along(self.rise, self.low + self.taken) + plumb,
            );
        } else {
            worked.slope = Some(self.slope(line, plumb));
        }
        let half = Length::from_ticks(self.timber.thickness.ticks() / 2);
        worked.marks(
            "middles of rafters along the eaves",
            "outside face of the first rafter",
            numbered("middle of rafter", &self.places.starts(), half),
        );
        worked.frame_joints("rafter ends", 2 * rafters, self.timber.thickness);
        let angle = self.end.told(sizes.style.decimal);
        worked.notes.push(format!(
            "Set the saw to {angle} off square for both ends, parallel. Above the outside of a wall a rafter is {} deep, measured plumb.",
            sizes.show(plumb)
        ));
        worked.notes.push("Where a rafter is notched over a wall plate, take no more than a third of its depth (common practice; local codes come first).".to_owned());
        worked.makes = format!(
            "{} long, a slope of {} with its overhangs at {angle}",
            sizes.show(self.places.span),
            sizes.show(line)
        );
        worked.hazards.push(Hazard::Load);
        worked.description = format!(
            "Rafters seen from the left: {} on the level, {} higher at the {}.",
            sizes.show(self.depth),
            sizes.show(self.rise),
            if self.two { "ridge" } else { "back" }
        );
    }
}

/// Its members; the undersides of the slopes begin on the level at the outside of the walls.
///
/// # Errors
/// Sizes that do not go together.
pub fn build(sizes: &Sizes) -> Result<Built, Misfit> {
    let roof = Roof::read(sizes)?;
    let [_, over_all, plumb] = roof.lengths();
    let part = Part {
        ends: [roof.end; 2],
        leans: Leans::Same,
        ..Part::square("rafter", &roof.timber.sections, over_all, 1)
    };
    let height = |from: Length| roof.along(roof.rise, from);
    let (low, high) = (roof.low, roof.low + roof.taken);
    let [near, far, under, over, up, depth] =
        [low, high, height(low), height(high), plumb, roof.depth].map(Length::ticks);
    let outline = [
        [near, under],
        [far, over],
        [far, over + up],
        [near, under + up],
    ];
    let mut built = Built::default();
    for start in roof.places.starts() {
        let ends = [start, start + roof.timber.thickness].map(Length::ticks);
        built.add(part.clone(), Solid::prism(0, outline.to_vec(), ends));
        if roof.two {
            let other = outline.map(|[y, z]| [depth - y, z]);
            built.add(part.clone(), Solid::prism(0, other.to_vec(), ends));
        }
    }
    if let Some(ridge) = roof.ridge {
        let length = roof.places.span;
        let [long, thick, wide] = [length, ridge.thickness, ridge.width].map(Length::ticks);
        let corner = [0, (depth - thick).div_euclid(2), over + up - wide];
        let body = Solid::cuboid(corner, [long, thick, wide]);
        built.add(Part::square("ridge", &ridge.sections, length, 1), body);
    }
    roof.say(sizes, &mut built.worked);
    Ok(built)
}
