//! The frame of a top, a seat or a shelf: two long rails, two ends and cross members between them.
//!
//! Along its length it is a framed panel whose uprights are the cross members, so it uses that arithmetic. Where the rails run through,
//! ends and cross members are as long as the depth less two rails.

use super::frame::between;
use super::kind::{Field, KindInfo, Sort, Usual, section_field, seen_field, size_field};
use super::panel::{Between, Corner, Panel, Words};
use super::placed::Placed;
use super::ratio::diagonal;
use super::sizes::{Seen, Sizes};
use super::worked::{Hazard, Misfit, Worked};
use crate::length::Length;

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "top_frame",
    title: "Top, seat or shelf frame",
    name: "Top, seat or shelf frame",
    about: "A flat frame with cross members, for slats or boards to lie on.",
    fields: &[
        size_field("length", "Length", "Outside, the long way."),
        size_field("depth", "Depth", "Outside, from front to back."),
        section_field("section", "Section", "The timber of the frame."),
        seen_field("on edge"),
        Field {
            field: "corner",
            label: "Corners",
            hint: "Which members run the full size.",
            sort: Sort::Choice(&[
                "butt, long rails run through",
                "butt, ends run through",
                "halved",
                "mitred",
            ]),
            usual: Usual::Text("butt, long rails run through"),
            in_sight: false,
        },
        Field {
            field: "cross_members",
            label: "Cross members",
            hint: "How many between the two ends, at equal gaps.",
            sort: Sort::Count {
                least: 0,
                most: 100,
            },
            usual: Usual::Text("1"),
            in_sight: false,
        },
        Field {
            field: "cross_centres",
            label: "Or cross members at centres of",
            hint: "Leave empty for equal gaps.",
            sort: Sort::Size,
            usual: Usual::Nothing,
            in_sight: false,
        },
    ],
};

const WORDS: Words = Words {
    stile: "end",
    rail: "long rail",
    upright: "cross member",
    along: "cross members along the long rails",
};

fn panel(sizes: &Sizes) -> Result<Panel<'_>, Misfit> {
    let timber = sizes.timber("section")?;
    let corner = sizes.choice(
        "corner",
        [
            Corner::RailsThrough,
            Corner::StilesThrough,
            Corner::Halved,
            Corner::Mitred,
        ],
    );
    Ok(Panel {
        words: WORDS,
        width: sizes.length("length")?,
        height: sizes.length("depth")?,
        timber,
        middle: timber,
        seen: sizes.choice("seen", Seen::ALL),
        corner,
        uprights: between(sizes, "cross_members", "cross_centres"),
        noggins: Between::Count(0),
        fixing: None,
    })
}

/// Its members: the frame lies with the side drawn to the top, its length along the front.
///
/// # Errors
/// Sizes that do not go together.
pub fn members(sizes: &Sizes) -> Result<Vec<Placed>, Misfit> {
    let panel = panel(sizes)?;
    let high = panel.timber.depth(panel.seen).ticks();
    panel.members(0, &|[x, y, z]| [x, z, high - y])
}

/// Works the frame out.
///
/// # Errors
/// Sizes that do not go together.
pub fn work_out(sizes: &Sizes) -> Result<Worked, Misfit> {
    let panel = panel(sizes)?;
    let mut worked = Worked::default();
    panel.add("", sizes, &mut worked).map_err(|misfit| Misfit {
        field: match misfit.field {
            "width" => "length",
            "height" => "depth",
            "uprights" => "cross_members",
            field => field,
        },
        ..misfit
    })?;
    panel.draw(&mut worked.drawing, Length::ZERO);
    worked.makes = format!(
        "outside {} as given, inside {}",
        sizes.by(&[panel.width, panel.height]),
        sizes.by(&[panel.inside_width(), panel.inside_height()])
    );
    worked.fact("inside length", panel.inside_width());
    worked.fact("inside depth", panel.inside_height());
    worked.fact("member", panel.member());
    worked.fact("frame height", panel.timber.depth(panel.seen));
    worked.fact("diagonal", diagonal(panel.width, panel.height));
    worked.hazards.push(Hazard::Load);
    let (length, depth) = (sizes.show(panel.width), sizes.show(panel.height));
    panel.dimensions(sizes, &mut worked.drawing);
    worked.description = format!("A flat frame seen from above, {length} long and {depth} deep.");
    Ok(worked)
}
