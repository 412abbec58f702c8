//! A brace between the members of a rectangle, with an edge in two of its corners.
//!
//! In a clear rectangle of width a and height b a brace of width w has the overall length sqrt(a² + b² - w²), tip to tip. Sawn against the
//! rails it stands at phi + asin(w / D) to them, against the stiles at phi - asin(w / D), where D is the diagonal and phi its angle; its ends are
//! parallel. With the overall length O the tangent of the saw's angle off square is (a O - b w) / (b O + a w) against the rails, and
//! (b O - a w) / (a O + b w) against the stiles. (From the two right-angled triangles on the diagonal; the same formulas in words in articles
//! on gate braces.)

use super::built::Built;
use super::kind::{Field, KindInfo, Sort, Usual, section_field, size_field};
use super::ratio::{nearest_root, share};
use super::sizes::Sizes;
use super::worked::{Misfit, Worked};
use crate::angle::Angle;
use crate::fields::words;
use crate::length::Length;
use crate::part::{Fitting, HANDS, Leans, Part, PartEnd};
use crate::space::Solid;

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "brace",
    title: "Brace",
    name: "Brace",
    about: "A diagonal member with parallel ends, in the corners of a rectangle.",
    fields: &[
        size_field(
            "width",
            "Width of the opening",
            "Clear, between the upright members.",
        ),
        size_field(
            "height",
            "Height of the opening",
            "Clear, between the members across.",
        ),
        section_field(
            "section",
            "Section",
            "The timber of the brace; its wide side is seen.",
        ),
        Field {
            field: "against",
            label: "Its ends are sawn against",
            hint: "One cut at each end; the brace is steeper against the rails.",
            sort: Sort::Choice(&["the rails", "the stiles"]),
            usual: Usual::Text("the rails"),
            in_sight: true,
        },
        Field {
            field: "hand",
            label: "Wanted",
            hint: "As drawn it rises to the right, away from hinges on the left.",
            sort: Sort::Choice(&words(&HANDS)),
            usual: Usual::Text(HANDS[0].0),
            in_sight: false,
        },
    ],
};

/// Its members: it stands with the side drawn to the front; of a left and a right one the right one stands behind.
///
/// # Errors
/// Sizes that do not go together.
pub fn build(sizes: &Sizes) -> Result<Built, Misfit> {
    let timber = sizes.timber("section")?;
    let (width, height) = (sizes.length("width")?, sizes.length("height")?);
    let deep = timber.thickness.ticks();
    let stiles = sizes.choice("against", [false, true]);
    let fit = Fit::of(width, height, timber.width, stiles)?;
    let pair = sizes.choice("hand", HANDS.map(|(_, both)| both));
    let part = Part {
        ends: [PartEnd::Mitre(fit.angle); 2],
        leans: Leans::Same,
        fitting: Fitting::Between,
        pair,
        ..Part::square("brace", &timber.sections, fit.over_all, 1)
    };
    let corners = fit.corners(width, height, stiles);
    let body = |mirrored: bool, from: i64| {
        let outline = corners.map(|[x, z]| [z, if mirrored { width.ticks() - x } else { x }]);
        Solid::prism(1, outline.to_vec(), [from, from + deep])
    };
    let told = part.told_length(sizes.style).told();
    let mut built = Built::default();
    built.add(part.clone(), body(false, 0));
    if pair {
        built.add(part, body(true, 2 * deep));
    }
    let worked = &mut built.worked;
    worked.frame_joints("brace ends", if pair { 4 } else { 2 }, timber.thickness);
    fit.say(sizes, if stiles { "upright" } else { "rail" }, worked);
    if fit.is_shallow {
        worked.notes.push("It lies at less than 45 degrees to the rails and holds little. An upright between makes two steeper braces.".to_owned());
    }
    worked.makes = format!(
        "an opening of {}, a brace of {told} over all",
        sizes.by(&[width, height]),
    );
    worked
        .drawing
        .across(0, Length::ZERO, width, sizes.show(width));
    worked
        .drawing
        .up(0, -height, Length::ZERO, sizes.show(height));
    worked.description = format!(
        "A brace from the lower left to the upper right corner of an opening {} wide and {} high.",
        sizes.show(width),
        sizes.show(height)
    );
    Ok(built)
}

/// How a brace fits.
pub struct Fit {
    /// From tip to tip.
    pub over_all: Length,
    /// Each of its two edges.
    pub edge: Length,
    /// How much of the member it is sawn against its end covers.
    pub mark: Length,
    /// Of the saw, off square.
    pub angle: Angle,
    /// Whether it lies at less than 45 degrees to the rails.
    pub is_shallow: bool,
}

impl Fit {
    /// Its outline in a rectangle of width `a` and height `b`, where it rises to the right from the lower left corner.
    pub fn corners(&self, a: Length, b: Length, stiles: bool) -> [[i64; 2]; 4] {
        let [a, b, mark] = [a, b, self.mark].map(Length::ticks);
        match stiles {
            false => [[0, 0], [mark, 0], [a, b], [a - mark, b]],
            true => [[0, 0], [a, b - mark], [a, b], [0, mark]],
        }
    }

    /// Adds its sizes, and how it is cut; `member` is what its ends are sawn against.
    pub fn say(&self, sizes: &Sizes, member: &str, worked: &mut Worked) {
        worked.fact("brace length", self.over_all);
        worked.fact("long edge", self.edge);
        worked.fact("mark", self.mark);
        worked.notes.push(format!(
            "Set the saw to {} off square for both ends, parallel. From each of its two corners its end covers {} of the {member}.",
            self.angle.tenths(sizes.style.decimal),
            sizes.show(self.mark),
        ));
        worked.notes.push("Cut it last: make the frame square, both diagonals alike, lay the brace over it and mark it there.".to_owned());
    }

    /// In a clear rectangle of width `a` and height `b`, of a brace so wide, sawn against the stiles or the rails.
    ///
    /// # Errors
    /// One that is too wide, or cannot be sawn.
    pub fn of(a: Length, b: Length, wide: Length, stiles: bool) -> Result<Fit, Misfit> {
        let [wide, a, b] = [wide, a, b].map(|side| i128::from(side.ticks()));
        let diagonal = a * a + b * b;
        let over_all = nearest_root((diagonal - wide * wide).max(0) as u128) as i128;
        // Along the members that it is sawn against, and across them.
        let (along, across) = if stiles { (b, a) } else { (a, b) };
        let (rise, run) = (
            along * over_all - across * wide,
            across * over_all + along * wide,
        );
        let length = |ticks: i128| Length::from_ticks(ticks as i64);
        let mark = length((2 * wide * diagonal + run) / (2 * run));
        if rise <= 0 || mark >= length(along) {
            return Err(Misfit::new(
                "section",
                "the brace is too wide for this opening; take a narrower section, or saw its ends against the other members",
            ));
        }
        let (rise, run) = (length(rise), length(run));
        let Some(angle) = Angle::of_slope(rise, run) else {
            return Err(Misfit::new(
                if stiles { "height" } else { "width" },
                "its ends would be sawn at more than 75 degrees, or hardly at all; saw them against the other members, or put a member between",
            ));
        };
        let over_all = length(over_all);
        Ok(Fit {
            over_all,
            edge: over_all - share(length(wide), rise.ticks(), run.ticks()),
            mark,
            angle,
            is_shallow: (rise > run) != stiles && rise != run,
        })
    }
}
