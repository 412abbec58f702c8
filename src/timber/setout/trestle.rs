//! Legs that lean against each other in pairs beneath a beam, as of a trestle.
//!
//! A leg of width w that leans by an angle s off upright over a height H has edges of H / cos(s) and measures H / cos(s) + w tan(s) from tip to tip;
//! both its ends are sawn at s, parallel. The foot stands out by H tan(s). A tie on the outside of a pair is sawn at s at both ends, leaning
//! opposite ways. (Right-angled triangles; worked examples of splayed legs in handbooks on the steel square.)

use super::built::{Built, end_of_slope};
use super::kind::{Field, KindInfo, Sort, Usual, section_field, size_field};
use super::ratio::{diagonal, share};
use super::sizes::{Sizes, Timber};
use super::spacing::{EndGaps, EqualGaps};
use super::worked::{Hazard, Misfit, Worked};
use crate::length::Length;
use crate::part::{Leans, Part, PartEnd};
use crate::space::Solid;

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "trestle",
    title: "Trestle",
    name: "Trestle",
    about: "Pairs of splayed legs beneath a beam, each pair with a tie.",
    fields: &[
        size_field("height", "Height", "To the top of the beam."),
        size_field(
            "spread",
            "Spread of the feet",
            "Outside, over the feet of a pair.",
        ),
        size_field(
            "length",
            "Length of the beam",
            "The pairs stand flush with its ends.",
        ),
        section_field("section", "Section of the legs", "Their wide side leans."),
        Field {
            field: "beam_section",
            label: "Section of the beam",
            hint: "Leave empty for the timber of the legs. It lies flat on the legs.",
            sort: Sort::Section,
            usual: Usual::Nothing,
            in_sight: true,
        },
        Field {
            field: "pairs",
            label: "Pairs of legs",
            hint: "At both ends, and others at equal gaps between.",
            sort: Sort::Count { least: 2, most: 20 },
            usual: Usual::Text("2"),
            in_sight: true,
        },
        Field {
            field: "tie_up",
            label: "Ties above the ground",
            hint: "To the lower edge; leave empty for none. They go inside the pairs at the ends.",
            sort: Sort::Length,
            usual: Usual::ByUnit("150 mm", "6\""),
            in_sight: true,
        },
    ],
};

/// A trestle as it is read.
struct Splay<'a> {
    legs: &'a Timber,
    beam: &'a Timber,
    /// Below the beam.
    height: Length,
    /// Of the feet over all, half of it, and how far a foot stands out.
    half: Length,
    out: Length,
    end: PartEnd,
    pairs: EqualGaps,
}

impl Splay<'_> {
    fn read(sizes: &Sizes) -> Result<Splay<'_>, Misfit> {
        let legs = sizes.timber("section")?;
        let beam = sizes.given_timber("beam_section").unwrap_or(legs);
        let height = sizes.length("height")? - beam.thickness;
        if height <= Length::ZERO {
            return Err(Misfit::new(
                "height",
                "the beam leaves nothing for the legs; make it higher",
            ));
        }
        let half = Length::from_ticks(sizes.length("spread")?.ticks() / 2);
        let Some(out) = foot(height, half, legs.width) else {
            return Err(Misfit::new(
                "spread",
                "the feet are closer than two legs are wide; spread them, or take narrower legs",
            ));
        };
        let Some(end) = end_of_slope(out, height) else {
            return Err(Misfit::new(
                "spread",
                "the legs would lean more than 75 degrees; make it higher, or the spread less",
            ));
        };
        let pairs = EqualGaps {
            span: sizes.length("length")?,
            member: legs.thickness,
            count: sizes.count("pairs"),
            ends: EndGaps::None,
        };
        if pairs.left_over() < Length::ZERO {
            return Err(Misfit::new(
                "length",
                "the pairs do not fit along the beam; make it longer",
            ));
        }
        Ok(Splay {
            legs,
            beam,
            height,
            half,
            out,
            end,
            pairs,
        })
    }

    /// `length * of / height`.
    fn along(&self, length: Length, of: Length) -> Length {
        share(length, of.ticks(), self.height.ticks())
    }

    /// A leg from tip to tip.
    fn leg(&self) -> Length {
        diagonal(self.height, self.out) + self.along(self.legs.width, self.out)
    }

    /// Ties at this height inside the pairs, or behind those between.
    fn ties(&self, up: Length, built: &mut Built) -> Result<(), Misfit> {
        let thick = self.legs.thickness;
        let upper = up + self.legs.width;
        if upper > self.height {
            return Err(Misfit::new(
                "tie_up",
                "the ties reach above the legs; set them lower",
            ));
        }
        if self.pairs.clear() < thick + thick {
            return Err(Misfit::new(
                "length",
                "there is no room for the ties between the pairs; make it longer, or leave the ties out",
            ));
        }
        let (low, top) = (self.along(up, self.out), self.along(upper, self.out));
        let part = Part {
            ends: [self.end; 2],
            ..Part::square(
                "tie",
                &self.legs.sections,
                self.half + self.half - low - low,
                1,
            )
        };
        let [low, top, up, upper, half] = [low, top, up, upper, self.half].map(Length::ticks);
        let outline = [
            [low, up],
            [2 * half - low, up],
            [2 * half - top, upper],
            [top, upper],
        ];
        let starts = self.pairs.starts();
        for (nth, &start) in starts.iter().enumerate() {
            let from = match nth + 1 == starts.len() {
                true => start - thick,
                false => start + thick,
            };
            let ends = [from, from + thick].map(Length::ticks);
            built.add(part.clone(), Solid::prism(0, outline.to_vec(), ends));
        }
        Ok(())
    }

    fn say(&self, sizes: &Sizes, worked: &mut Worked) {
        worked.fact("leg length", self.leg());
        worked.fact("leg edge", diagonal(self.height, self.out));
        worked.fact("foot out", self.out);
        let joints = 6 * self.pairs.count;
        worked.frame_joints("legs, ties and beam", joints, self.legs.thickness);
        let angle = self.end.told(sizes.style.decimal);
        worked.notes.push(format!(
            "Set the saw to {angle} off square for both ends of a leg, parallel, and for a tie, both ends leaning to each other."
        ));
        worked.notes.push("Nothing here says what it bears. Put a tie on each pair, and load it lightly until it has been tried.".to_owned());
        let spread = sizes.show(self.half + self.half);
        worked.makes = format!(
            "{} long, feet {spread} apart over all, {} high, legs at {angle} off upright",
            sizes.show(self.pairs.span),
            sizes.show(self.height + self.beam.thickness)
        );
        worked.hazards.push(Hazard::Load);
        worked.description = format!(
            "A pair of splayed legs seen from the left, {spread} apart at the feet, below a beam."
        );
    }
}

/// Its members, the beam along the front.
///
/// # Errors
/// Sizes that do not go together.
pub fn build(sizes: &Sizes) -> Result<Built, Misfit> {
    let splay = Splay::read(sizes)?;
    let leg = Part {
        ends: [splay.end; 2],
        leans: Leans::Same,
        ..Part::square("leg", &splay.legs.sections, splay.leg(), 1)
    };
    let [high, half, out] = [splay.height, splay.half, splay.out].map(Length::ticks);
    // Feet first; the front one leans to the back, and the two meet in the middle.
    let outline = [[0, 0], [half - out, 0], [half, high], [out, high]];
    let mut built = Built::default();
    for start in splay.pairs.starts() {
        let ends = [start, start + splay.legs.thickness].map(Length::ticks);
        built.add(leg.clone(), Solid::prism(0, outline.to_vec(), ends));
        let other = outline.map(|[y, z]| [2 * half - y, z]);
        built.add(leg.clone(), Solid::prism(0, other.to_vec(), ends));
    }
    if let Some(up) = sizes.given("tie_up") {
        splay.ties(up, &mut built)?;
    }
    let (beam, length) = (splay.beam, splay.pairs.span);
    let [long, thick, wide] = [length, beam.thickness, beam.width].map(Length::ticks);
    let body = Solid::cuboid([0, half - wide / 2, high], [long, wide, thick]);
    built.add(Part::square("beam", &beam.sections, length, 1), body);
    splay.say(sizes, &mut built.worked);
    Ok(built)
}

/// How far a foot stands out from the top of its leg, where the outer edges of two legs meet the middle at half the spread less what a leg covers on the
/// level: the greatest whole number of ticks `out` with `out + w sqrt(H² + out²) / H <= half`, by halves, as the sum grows with `out`.
fn foot(height: Length, half: Length, wide: Length) -> Option<Length> {
    let fits = |out: i64| {
        let slope = diagonal(height, Length::from_ticks(out));
        out + share(wide, slope.ticks(), height.ticks()).ticks() <= half.ticks()
    };
    let (mut low, mut high) = (0, half.ticks());
    if !fits(0) {
        return None;
    }
    while low < high {
        let middle = low + (high - low + 1) / 2;
        match fits(middle) {
            true => low = middle,
            false => high = middle - 1,
        }
    }
    Some(Length::from_ticks(low))
}
