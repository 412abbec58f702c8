//! Legs with aprons between them, as of a table, a bench or a stand; what lies on top is a set-out of its own.
//!
//! The top is given with all that stands out over the legs: with an overhang o the legs are W - 2 o apart over all, and an apron is as long as the
//! clear bay, W - 2 o - 2 p for legs of p. Its top edge is level with the tops of the legs. Aprons and stretchers lie in one line, flush with
//! the outside of the legs or set in.

use super::built::Built;
use super::kind::{
    Field, KindInfo, choice_field, other_section_field, section_field, seen_field, size_field,
    spare_field, usual_field,
};
use super::ratio::diagonal;
use super::sizes::{Seen, Sizes, Timber};
use super::worked::{Hazard, Misfit};
use crate::length::Length;
use crate::part::{Fitting, Part};
use crate::space::Solid;

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "stand",
    title: "Legs and aprons",
    name: "Stand",
    about: "Four legs with aprons below a top, and stretchers where they are wanted. Boards or slats stand on its top.",
    fields: &[
        size_field(
            "width",
            "Width of the top",
            "Along the front, to its edges.",
        ),
        size_field(
            "depth",
            "Depth of the top",
            "From front to back, to its edges.",
        ),
        size_field(
            "height",
            "Height of the legs",
            "Without the boards of the top.",
        ),
        usual_field(
            "overhang",
            "Overhang of the top",
            "From the outside of the legs to the edge of the top, all round.",
            ["20 mm", "3/4\""],
        ),
        section_field("section", "Section of the legs", "The timber of the legs."),
        other_section_field(
            "apron_section",
            "Section of the aprons",
            "Leave empty for the timber of the legs. They stand on edge.",
        ),
        seen_field("on the flat"),
        spare_field(
            "set_in",
            "Aprons set in",
            "How far they stand back from the outside of the legs; leave empty for flush.",
        ),
        spare_field(
            "stretcher_up",
            "Stretchers above the ground",
            "To their lower edge; leave empty for none.",
        ),
        Field {
            in_sight: false,
            ..choice_field(
                "stretchers",
                "Stretchers",
                "Where feet go, one between those at the sides leaves room.",
                &["all round", "at the sides and one between"],
            )
        },
        other_section_field(
            "stretcher_section",
            "Section of the stretchers",
            "Leave empty for the timber of the aprons. They stand on edge.",
        ),
    ],
};

/// A stand as it is read.
struct Frame<'a> {
    legs: &'a Timber,
    /// A leg along the width and along the depth.
    leg: [Length; 2],
    /// From here the legs begin, both ways.
    overhang: Length,
    /// Over the legs, and between them.
    outside: [Length; 2],
    clear: [Length; 2],
    height: Length,
    set_in: Length,
}

impl Frame<'_> {
    fn read(sizes: &Sizes) -> Result<Frame<'_>, Misfit> {
        let legs = sizes.timber("section")?;
        let seen = sizes.choice("seen", Seen::ALL);
        let leg = [legs.face(seen), legs.depth(seen)];
        let overhang = sizes.length("overhang")?;
        let mut outside = [Length::ZERO; 2];
        let mut clear = outside;
        for (side, field) in ["width", "depth"].into_iter().enumerate() {
            outside[side] = sizes.length(field)? - overhang - overhang;
            clear[side] = outside[side] - leg[side] - leg[side];
            if clear[side] <= Length::ZERO {
                return Err(Misfit::new(
                    field,
                    "the legs leave nothing between them; make it larger, or the overhang less",
                ));
            }
        }
        Ok(Frame {
            legs,
            leg,
            overhang,
            outside,
            clear,
            height: sizes.length("height")?,
            set_in: sizes.given("set_in").unwrap_or_default(),
        })
    }

    fn add_legs(&self, built: &mut Built) {
        let [face, deep] = self.leg;
        for y in [Length::ZERO, self.outside[1] - deep] {
            for x in [Length::ZERO, self.outside[0] - face] {
                let corner = [x + self.overhang, y + self.overhang, Length::ZERO];
                let size = [face, deep, self.height].map(Length::ticks);
                let part = Part::square("leg", &self.legs.sections, self.height, 1);
                built.add(part, Solid::cuboid(corner.map(Length::ticks), size));
            }
        }
    }

    /// Adds a rail along the width or the depth, so far behind the outside of the legs or to the right of it, its lower edge at this height.
    fn rail(
        &self,
        built: &mut Built,
        (label, timber): (&str, &Timber),
        side: usize,
        [at, up]: [Length; 2],
    ) {
        let (long, overhang) = (self.clear[side], self.overhang);
        let mut corner = [self.leg[side] + overhang, at + overhang, up].map(Length::ticks);
        let mut size = [long, timber.thickness, timber.width].map(Length::ticks);
        if side == 1 {
            corner.swap(0, 1);
            size.swap(0, 1);
        }
        let part = Part {
            fitting: Fitting::Between,
            ..Part::square(label, &timber.sections, long, 1)
        };
        built.add(part, Solid::cuboid(corner, size));
    }

    /// Adds the two rails along the width or the depth.
    fn both(&self, built: &mut Built, what: (&str, &Timber), side: usize, up: Length) {
        let far = self.outside[1 - side] - self.set_in - what.1.thickness;
        for at in [self.set_in, far] {
            self.rail(built, what, side, [at, up]);
        }
    }

    /// Whether rails of this timber lie within the legs.
    fn takes(&self, timber: &Timber) -> bool {
        self.set_in + timber.thickness <= self.leg[0].min(self.leg[1])
    }

    /// Adds the stretchers; returns how many ends of them meet something.
    fn stretchers(
        &self,
        sizes: &Sizes,
        timber: &Timber,
        (up, below): (Length, Length),
        built: &mut Built,
    ) -> Result<u32, Misfit> {
        if !self.takes(timber) {
            return Err(Misfit::new(
                "stretcher_section",
                "the stretchers are thicker than the legs; take a thinner section, or set them in less",
            ));
        }
        if up + timber.width > below {
            return Err(Misfit::new(
                "stretcher_up",
                "the stretchers reach the aprons; set them lower",
            ));
        }
        self.both(built, ("side stretcher", timber), 1, up);
        if !sizes.choice("stretchers", [false, true]) {
            self.both(built, ("stretcher", timber), 0, up);
            return Ok(8);
        }
        // Between the inner faces of those at the sides, in the middle of the depth.
        let from = self.set_in + timber.thickness;
        let long = self.outside[0] - from - from;
        let at = Length::from_ticks((self.outside[1] - timber.thickness).ticks() / 2);
        let corner = [from + self.overhang, at + self.overhang, up].map(Length::ticks);
        let size = [long, timber.thickness, timber.width].map(Length::ticks);
        let part = Part {
            fitting: Fitting::Between,
            ..Part::square("middle stretcher", &timber.sections, long, 1)
        };
        built.add(part, Solid::cuboid(corner, size));
        Ok(6)
    }
}

/// Its members, its front towards the front; the corner of the top is at the origin.
///
/// # Errors
/// Sizes that do not go together.
pub fn build(sizes: &Sizes) -> Result<Built, Misfit> {
    let frame = Frame::read(sizes)?;
    let aprons = sizes.given_timber("apron_section").unwrap_or(frame.legs);
    if !frame.takes(aprons) {
        return Err(Misfit::new(
            "apron_section",
            "the aprons are thicker than the legs; take a thinner section, or set them in less",
        ));
    }
    let below = frame.height - aprons.width;
    if below <= Length::ZERO {
        return Err(Misfit::new(
            "height",
            "the aprons reach the ground; make it higher, or the aprons narrower",
        ));
    }
    let mut built = Built::default();
    frame.add_legs(&mut built);
    for (side, label) in ["apron", "side apron"].into_iter().enumerate() {
        frame.both(&mut built, (label, aprons), side, below);
    }
    let mut ends = 0;
    if let Some(up) = sizes.given("stretcher_up") {
        let timber = sizes.given_timber("stretcher_section").unwrap_or(aprons);
        ends = frame.stretchers(sizes, timber, (up, below), &mut built)?;
        built
            .worked
            .frame_joints("stretcher ends", ends, timber.thickness);
    }
    let [wide, deep] = frame.outside;
    let square = diagonal(wide, deep);
    let worked = &mut built.worked;
    worked.fact("frame width", wide);
    worked.fact("frame depth", deep);
    let within = frame.set_in + aprons.thickness;
    worked.fact("inside width", wide - within - within);
    worked.fact("inside depth", deep - within - within);
    worked.fact("apron length", frame.clear[0]);
    worked.fact("side apron length", frame.clear[1]);
    worked.fact("diagonal", square);
    worked.frame_joints("apron ends on legs", 8, aprons.thickness);
    worked.notes.push(format!(
        "Check that it is square: both diagonals over the legs measure {}.",
        sizes.show(square)
    ));
    worked.notes.push("A top of solid boards moves across its width: fix it so that it can, in slots or with turning buttons.".to_owned());
    if ends == 0 {
        worked.notes.push("Without stretchers the aprons alone keep the legs from racking: make them wide, and fix each end twice.".to_owned());
    }
    worked.hazards.push(Hazard::Load);
    let top = [sizes.length("width")?, sizes.length("depth")?];
    worked.makes = format!(
        "legs {} over all and {} high, for a top of {}",
        sizes.by(&frame.outside),
        sizes.show(frame.height),
        sizes.by(&top)
    );
    worked.description = format!(
        "Legs and aprons, {} wide and {} high, seen from the front.",
        sizes.show(wide),
        sizes.show(frame.height)
    );
    let zero = Length::ZERO;
    let (from, to) = (frame.overhang, frame.overhang + wide);
    worked.drawing.across(0, from, to, sizes.show(wide));
    if !from.is_none() {
        worked.drawing.across(1, zero, top[0], sizes.show(top[0]));
    }
    worked
        .drawing
        .up(0, -frame.height, zero, sizes.show(frame.height));
    Ok(built)
}
