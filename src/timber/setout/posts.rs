//! Posts at the corners of a rectangle with rails between them, level on top or with the top sloping from front to back.
//!
//! The slope is the line from the height at the outside of the front to the height at the outside of the back; every height on it is rounded
//! once, to the tick. A post is as long as its longer edge. The top rails of the sides follow the slope between plumb ends: with a run r of
//! a bay, a depth D, a rise R over it and a rail of width w, such a rail is r L / D + w R / D from tip to tip, where L = sqrt(D² + R²). (A common
//! rafter with plumb cuts; the carpenter's square table.)

mod layout;
mod members;

use super::built::{Built, One};
use super::kind::{Field, KindInfo, Sort, Usual, section_field, seen_field, size_field};
use super::ratio::diagonal;
use super::sizes::Sizes;
use super::worked::{Hazard, Misfit, Worked};
use crate::length::Length;
use crate::part::{Fitting, PartEnd};
use layout::Layout;

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "posts_and_rails",
    title: "Posts and rails",
    name: "Posts and rails",
    about: "Posts at the corners with rails between them, level on top or sloping to the back.",
    fields: &[
        size_field("width", "Width", "Outside, along the front."),
        size_field("depth", "Depth", "Outside, from front to back."),
        size_field("height", "Height at the front", "Above the ground."),
        Field {
            field: "back_height",
            label: "Height at the back",
            hint: "Leave empty for a level top.",
            sort: Sort::Size,
            usual: Usual::Nothing,
            in_sight: true,
        },
        section_field(
            "section",
            "Section of the posts",
            "The timber of the posts.",
        ),
        RAIL_SECTION,
        seen_field("on the flat"),
        Field {
            field: "rails",
            label: "Rails one above the other",
            hint: "The lowest and the top one, and others at equal gaps between.",
            sort: Sort::Count { least: 1, most: 20 },
            usual: Usual::Text("2"),
            in_sight: true,
        },
        Field {
            field: "rail_up",
            label: "Lowest rail above the ground",
            hint: "To its lower edge.",
            sort: Sort::Length,
            usual: Usual::ByUnit("50 mm", "2\""),
            in_sight: true,
        },
        Field {
            field: "front",
            label: "Front",
            hint: "An open front has its top rail alone.",
            sort: Sort::Choice(&["closed", "open"]),
            usual: Usual::Text("closed"),
            in_sight: false,
        },
        between_field("front_posts", "Posts between, front and back"),
        between_field("side_posts", "Posts between, sides"),
        GROUND,
    ],
};

/// How deep posts stand in the ground.
const GROUND: Field = Field {
    field: "ground",
    label: "Depth in the ground",
    hint: "Leave empty where posts stand on something. Ask what holds where you are.",
    sort: Sort::Size,
    usual: Usual::Nothing,
    in_sight: true,
};

/// The timber of rails between posts.
pub const RAIL_SECTION: Field = Field {
    field: "rail_section",
    label: "Section of the rails",
    hint: "Leave empty for the timber of the posts. Rails stand on edge, flush with the outside.",
    sort: Sort::Section,
    usual: Usual::Nothing,
    in_sight: false,
};

const fn between_field(field: &'static str, label: &'static str) -> Field {
    Field {
        field,
        label,
        hint: "How many between those at the corners, at equal gaps.",
        sort: Sort::Count { least: 0, most: 20 },
        usual: Usual::Text("0"),
        in_sight: false,
    }
}

/// Its members, its front towards the front.
///
/// # Errors
/// Sizes that do not go together.
pub fn build(sizes: &Sizes) -> Result<Built, Misfit> {
    let layout = Layout::read(sizes)?;
    let mut built = Built::default();
    layout.posts(&mut built);
    layout.level_rails(&mut built)?;
    if !layout.is_level() {
        layout.sloping_rails(&mut built)?;
    }
    let is_rail = |one: &&One| one.part.fitting == Fitting::Between;
    let rails = built.members.iter().filter(is_rail).count();
    let thick = layout.rails.timber.thickness;
    let worked = &mut built.worked;
    worked.frame_joints("rail ends on posts", 2 * rails as u32, thick);
    say(sizes, &layout, worked);
    Ok(built)
}

fn say(sizes: &Sizes, layout: &Layout, worked: &mut Worked) {
    let (width, depth, top) = (layout.width, layout.top.depth, &layout.top);
    let slope = top.slope().long;
    let [face, deep] = layout.post;
    worked.fact("inside width", width - face - face);
    worked.fact("inside depth", depth - deep - deep);
    worked.fact("slope length", slope);
    worked.fact("diagonal", diagonal(width, depth));
    let square = sizes.show(diagonal(width, depth));
    worked.notes.push(format!(
        "Check that it is square: both diagonals of the plan measure {square}."
    ));
    if top.rise != Length::ZERO {
        worked.slope = Some(top.slope());
    }
    let heights = match layout.end {
        PartEnd::Square => sizes.show(top.front),
        PartEnd::Mitre(angle) => {
            let angle = angle.tenths(sizes.style.decimal);
            worked.notes.push(format!(
                "The top slopes at {angle}: {} along the side. Saw the tops of the posts to it, and the sloping rails at {angle} off square, both ends parallel.",
                sizes.show(slope)
            ));
            format!(
                "{} at the front and {} at the back",
                sizes.show(top.front),
                sizes.show(top.at(depth))
            )
        }
    };
    worked.makes = format!("outside {}, {heights} high", sizes.by(&[width, depth]));
    if !layout.ground.is_none() {
        let ground = sizes.show(layout.ground);
        worked.makes += &format!(", posts {ground} longer in the ground");
    }
    let [_, most] = top.over(Length::ZERO, depth);
    worked.description = format!(
        "Posts and rails, {} wide, {heights} high, seen from the front.",
        sizes.show(width)
    );
    worked.hazards.push(Hazard::Load);
    let (wide, high) = (sizes.show(width), sizes.show(most));
    worked.drawing.across(0, Length::ZERO, width, wide);
    worked.drawing.up(0, -most, Length::ZERO, high);
}
