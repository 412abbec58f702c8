//! A box of four framed panels, from its outside sizes.
//!
//! Two opposite panels run past the other two, which are therefore narrower by the depth of the two panels they fit between. So the four
//! panels make a box of exactly the outside sizes.

pub mod stands;

use super::frame::{MIDDLE_SECTION, NOGGIN_CENTRES, NOGGINS, between};
use super::kind::{Field, KindInfo, Sort, Usual, section_field, seen_field, size_field};
use super::panel::{Between, Corner, Panel, UPRIGHT_PANEL};
use super::ratio::diagonal;
use super::sizes::{Seen, Sizes};
use super::worked::{Fill, Hazard, Misfit, Worked};
use crate::length::Length;

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "box",
    title: "Box of four panels",
    name: "Box",
    about: "Four framed panels that make a box of exactly the outside sizes you give.",
    fields: &[
        size_field("width", "Width", "Outside, along the front."),
        size_field("depth", "Depth", "Outside, from front to back."),
        size_field("height", "Height", "Outside."),
        section_field("section", "Section", "The timber of the frames."),
        seen_field("on the flat"),
        super::frame::CORNER,
        Field {
            field: "laps",
            label: "Which panels run past",
            hint: "The others stand between them.",
            sort: Sort::Choice(&["front and back", "the two sides"]),
            usual: Usual::Text("front and back"),
            in_sight: false,
        },
        Field {
            field: "boards_past",
            label: "Which boards run past at its corners",
            hint: "Of boarding that stands on this box; the others end with the frame.",
            sort: Sort::Choice(&["front and back", "the two sides"]),
            usual: Usual::Text("front and back"),
            in_sight: true,
        },
        Field {
            field: "front",
            label: "Front",
            hint: "An open front has no panel: a store, a shelf, a kennel.",
            sort: Sort::Choice(&["closed", "open"]),
            usual: Usual::Text("closed"),
            in_sight: false,
        },
        Field {
            field: "front_uprights",
            label: "Uprights, front and back",
            hint: "How many between the stiles of each.",
            sort: Sort::Count {
                least: 0,
                most: 100,
            },
            usual: Usual::Text("0"),
            in_sight: false,
        },
        Field {
            field: "side_uprights",
            label: "Uprights, sides",
            hint: "How many between the stiles of each.",
            sort: Sort::Count {
                least: 0,
                most: 100,
            },
            usual: Usual::Text("0"),
            in_sight: false,
        },
        NOGGINS,
        NOGGIN_CENTRES,
        MIDDLE_SECTION,
        Field {
            field: "fill_height",
            label: "Height of soil or other fill",
            hint: "Leave empty where nothing is filled in.",
            sort: Sort::Size,
            usual: Usual::Nothing,
            in_sight: false,
        },
    ],
};

#[derive(Clone, Copy, PartialEq, Eq)]
enum Laps {
    FrontAndBack,
    Sides,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Front {
    Closed,
    Open,
}

/// The panels of a box, and where they go.
struct Panels<'a> {
    /// The panel of the front and of the back.
    front: Panel<'a>,
    /// The panel of either side.
    side: Panel<'a>,
    closed: Front,
    laps: Laps,
    /// Width, depth and height over all.
    outside: [Length; 3],
    /// Width and depth inside.
    inside: (Length, Length),
    /// How deep a panel is.
    deep: Length,
}

impl Panels<'_> {
    /// How many panels lie one behind the other from front to back.
    fn across(&self) -> i64 {
        match self.closed {
            Front::Closed => 2,
            Front::Open => 1,
        }
    }
}

fn panels(sizes: &Sizes) -> Result<Panels<'_>, Misfit> {
    let (width, depth, height) = (
        sizes.length("width")?,
        sizes.length("depth")?,
        sizes.length("height")?,
    );
    let timber = sizes.timber("section")?;
    let seen = sizes.choice("seen", Seen::ALL);
    let laps = sizes.choice("laps", [Laps::FrontAndBack, Laps::Sides]);
    let panel = |width: Length, uprights: &'static str| Panel {
        words: UPRIGHT_PANEL,
        width,
        height,
        timber,
        middle: sizes.given_timber("middle_section").unwrap_or(timber),
        seen,
        corner: sizes.choice("corner", Corner::ALL),
        uprights: Between::Count(sizes.count(uprights)),
        noggins: between(sizes, "noggins", "noggin_centres"),
        fixing: None,
    };
    let mut panels = Panels {
        front: panel(width, "front_uprights"),
        side: panel(depth, "side_uprights"),
        closed: sizes.choice("front", [Front::Closed, Front::Open]),
        laps,
        outside: [width, depth, height],
        inside: (width, depth),
        deep: timber.depth(seen),
    };
    let from_front_to_back = Length::from_ticks(panels.across() * panels.deep.ticks());
    panels.inside = (
        width - panels.deep - panels.deep,
        depth - from_front_to_back,
    );
    match laps {
        Laps::FrontAndBack => panels.side.width = panels.inside.1,
        Laps::Sides => panels.front.width = panels.inside.0,
    }
    for (field, left) in [("width", panels.front.width), ("depth", panels.side.width)] {
        if left.is_none() {
            return Err(Misfit::new(
                field,
                "the panels leave nothing between them; make the box larger",
            ));
        }
    }
    Ok(panels)
}

/// Works the box out.
///
/// # Errors
/// Sizes that do not go together.
pub fn work_out(sizes: &Sizes) -> Result<Worked, Misfit> {
    let panels = panels(sizes)?;
    let ([width, depth, height], inside) = (panels.outside, panels.inside);
    let (front, panel_depth) = (panels.closed, panels.deep);
    let (front_panel, side_panel) = (&panels.front, &panels.side);
    let mut worked = Worked::default();
    let front_field = |misfit| in_field(misfit, "width", "front_uprights");
    match front {
        Front::Closed => {
            front_panel
                .add("front or back ", sizes, &mut worked)
                .map_err(front_field)?;
            double(&mut worked);
        }
        Front::Open => front_panel
            .add("back ", sizes, &mut worked)
            .map_err(front_field)?,
    }
    let mut sides = Worked::default();
    side_panel
        .add("side ", sizes, &mut sides)
        .map_err(|misfit| in_field(misfit, "depth", "side_uprights"))?;
    double(&mut sides);
    worked.parts.extend(sides.parts);
    worked.positions.extend(sides.positions);
    worked.joints.extend(sides.joints);
    worked.frame_joints(
        "panels screwed together",
        2 * 3 * panels.across() as u32,
        panel_depth,
    );
    worked.fact("inside width", inside.0);
    worked.fact("inside depth", inside.1);
    worked.fact("front panel width", front_panel.width);
    worked.fact("side panel width", side_panel.width);
    worked.fact("member", front_panel.member());
    worked.fact("panel depth", panel_depth);
    worked.fact("diagonal", diagonal(width, depth));
    worked.fill = fill(sizes, inside, height)?;
    worked.notes.push(format!(
        "Check that it is square: both diagonals of the plan measure {}.",
        sizes.show(diagonal(width, depth))
    ));
    worked.makes = format!(
        "outside {} as given, inside {}",
        sizes.by(&[width, depth, height]),
        sizes.by(&[inside.0, inside.1])
    );
    if front == Front::Open {
        worked.notes.push(open_front(sizes, inside.0));
    }
    draw(sizes, front_panel, side_panel, &mut worked);
    worked.hazards.push(Hazard::Load);
    Ok(worked)
}

/// The fill of the box, where it has one.
fn fill(
    sizes: &Sizes,
    (width, depth): (Length, Length),
    most: Length,
) -> Result<Option<Fill>, Misfit> {
    let Some(height) = sizes.given("fill_height") else {
        return Ok(None);
    };
    if height > most {
        return Err(Misfit::new(
            "fill_height",
            "the fill stands higher than the box; give at most its height",
        ));
    }
    Ok(Some(Fill {
        width,
        depth,
        height,
    }))
}

/// A note on what holds the front up where it has no panel, and on what is missing there.
fn open_front(sizes: &Sizes, inside_width: Length) -> String {
    format!(
        "The front is open: the front stiles of the two side panels hold it up, and nothing joins them. Add a tie of {} between them at the top, and another at the bottom; a load on the front edge needs more than a tie.",
        sizes.show(inside_width)
    )
}

/// Draws the front and a side next to each other.
fn draw(sizes: &Sizes, front: &Panel, side: &Panel, worked: &mut Worked) {
    let between = Length::from_ticks((front.width.ticks() + side.width.ticks()) / 12);
    let second = front.width + between;
    let drawing = &mut worked.drawing;
    front.draw(drawing, Length::ZERO);
    side.draw(drawing, second);
    drawing.across(0, Length::ZERO, front.width, sizes.show(front.width));
    drawing.across(0, second, second + side.width, sizes.show(side.width));
    drawing.up(0, Length::ZERO, front.height, sizes.show(front.height));
    worked.description = format!(
        "The panel of the front or back, {} wide, beside the panel of a side, {} wide; both {} high.",
        sizes.show(front.width),
        sizes.show(side.width),
        sizes.show(front.height)
    );
}

/// Doubles what was worked out for one panel, since there are two of it.
fn double(worked: &mut Worked) {
    for part in &mut worked.parts {
        part.quantity *= 2;
    }
    for joint in &mut worked.joints {
        joint.count *= 2;
    }
}

/// A misfit of a panel, moved to the field of the box in which it is mended.
fn in_field(misfit: Misfit, width: &'static str, uprights: &'static str) -> Misfit {
    let field = match misfit.field {
        "width" => width,
        "uprights" => uprights,
        field => field,
    };
    Misfit { field, ..misfit }
}
