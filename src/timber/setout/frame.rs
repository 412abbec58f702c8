//! A framed panel as a set-out of its own. The arithmetic is in `panel`, which boxes and tops share.

use super::fixing::{FIELDS as FIXING, Fixing};
use super::kind::{Field, KindInfo, Sort, Usual, section_field, seen_field, size_field};
use super::panel::{Between, Corner, Panel, UPRIGHT_PANEL};
use super::placed::Placed;
use super::ratio::diagonal;
use super::sizes::{Seen, Sizes};
use super::worked::{Misfit, Worked};
use crate::length::Length;

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "frame",
    title: "Framed panel",
    name: "Framed panel",
    about: "Stiles and rails around a panel, with uprights and noggins between them.",
    fields: &[
        size_field("width", "Width", "Outside, from edge to edge."),
        size_field("height", "Height", "Outside, from edge to edge."),
        section_field("section", "Section", "The timber of the frame."),
        seen_field("on the flat"),
        CORNER,
        UPRIGHTS,
        UPRIGHT_CENTRES,
        NOGGINS,
        NOGGIN_CENTRES,
        MIDDLE_SECTION,
        FIXING[0],
        FIXING[1],
        FIXING[2],
    ],
};

/// How the corners meet.
pub const CORNER: Field = Field {
    field: "corner",
    label: "Corners",
    hint: "Butt is the simplest; halved and mitred corners take more care.",
    sort: Sort::Choice(&[
        "butt, stiles run through",
        "butt, rails run through",
        "halved",
        "mitred",
    ]),
    usual: Usual::Text("butt, stiles run through"),
    in_sight: false,
};

/// Uprights between the stiles.
pub const UPRIGHTS: Field = Field {
    field: "uprights",
    label: "Uprights between",
    hint: "How many stand between the stiles, at equal gaps.",
    sort: Sort::Count {
        least: 0,
        most: 100,
    },
    usual: Usual::Text("0"),
    in_sight: false,
};

/// Uprights at fixed centres.
pub const UPRIGHT_CENTRES: Field = Field {
    field: "upright_centres",
    label: "Or uprights at centres of",
    hint: "Leave empty for equal gaps.",
    sort: Sort::Size,
    usual: Usual::Nothing,
    in_sight: false,
};

/// Rows of noggins.
pub const NOGGINS: Field = Field {
    field: "noggins",
    label: "Rows of noggins",
    hint: "Short pieces across, at equal gaps up the panel.",
    sort: Sort::Count {
        least: 0,
        most: 100,
    },
    usual: Usual::Text("0"),
    in_sight: false,
};

/// Noggins at fixed centres.
pub const NOGGIN_CENTRES: Field = Field {
    field: "noggin_centres",
    label: "Or noggins at centres of",
    hint: "Leave empty for equal gaps.",
    sort: Sort::Size,
    usual: Usual::Nothing,
    in_sight: false,
};

/// The timber of uprights and noggins.
pub const MIDDLE_SECTION: Field = Field {
    field: "middle_section",
    label: "Section of uprights and noggins",
    hint: "Leave empty for the timber of the frame.",
    sort: Sort::Section,
    usual: Usual::Nothing,
    in_sight: false,
};

fn panel(sizes: &Sizes) -> Result<Panel<'_>, Misfit> {
    let timber = sizes.timber("section")?;
    let middle = sizes.given_timber("middle_section").unwrap_or(timber);
    Ok(Panel {
        words: UPRIGHT_PANEL,
        width: sizes.length("width")?,
        height: sizes.length("height")?,
        timber,
        middle,
        seen: sizes.choice("seen", Seen::ALL),
        corner: sizes.choice("corner", Corner::ALL),
        uprights: between(sizes, "uprights", "upright_centres"),
        noggins: between(sizes, "noggins", "noggin_centres"),
        fixing: Fixing::read(sizes, middle)?,
    })
}

/// Its members: the panel stands with the side drawn to the front.
///
/// # Errors
/// Sizes that do not go together.
pub fn members(sizes: &Sizes) -> Result<Vec<Placed>, Misfit> {
    panel(sizes)?.members(0, &|point| point)
}

/// Works the panel out.
///
/// # Errors
/// Sizes that do not go together.
pub fn work_out(sizes: &Sizes) -> Result<Worked, Misfit> {
    let panel = panel(sizes)?;
    let mut worked = Worked::default();
    panel.add("", sizes, &mut worked)?;
    panel.draw(&mut worked.drawing, Length::ZERO);
    let inside = (panel.inside_width(), panel.inside_height());
    worked.makes = format!(
        "outside {} as given, inside {}",
        sizes.by(&[panel.width, panel.height]),
        sizes.by(&[inside.0, inside.1])
    );
    worked.fact("inside width", inside.0);
    worked.fact("inside height", inside.1);
    worked.fact("member", panel.member());
    worked.fact("depth", panel.timber.depth(panel.seen));
    worked.fact("diagonal", diagonal(panel.width, panel.height));
    panel.dimensions(sizes, &mut worked.drawing);
    worked.description = format!(
        "A frame {} wide and {} high.",
        sizes.show(panel.width),
        sizes.show(panel.height)
    );
    Ok(worked)
}

/// How members are spaced, from the two fields that say so.
pub fn between(sizes: &Sizes, count: &'static str, centres: &'static str) -> Between {
    match sizes.given(centres) {
        Some(centres) => Between::Centres(centres),
        None => Between::Count(sizes.count(count)),
    }
}
