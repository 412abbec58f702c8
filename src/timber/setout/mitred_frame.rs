//! A mitred cap or frame around a rectangle.
//!
//! Around a box: long point = box + 2 x overhang, and short point = long point - 2 x width of the section; inwards, the cap covers its
//! width less the overhang. Around an opening (a picture, a panel): long point = opening + fit + 2 x width. Where the sizes are the outside
//! of the frame itself, they are the long points. Four parts whose long points are the outside sizes close exactly, whatever the width.

use super::drawing::Look;
use super::kind::{Field, KindInfo, Sort, Usual, section_field, size_field};
use super::panel::{mitred_ring, ring_outlines};
use super::placed::Placed;
use super::ratio::diagonal;
use super::sizes::Sizes;
use super::worked::{Misfit, Worked};
use crate::length::Length;
use crate::space::Solid;

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "mitred_frame",
    title: "Mitred cap or frame",
    name: "Mitred cap or frame",
    about: "Four mitred parts that lie around the top of a box, or around an opening.",
    fields: &[
        size_field(
            "width",
            "Width",
            "Of what is chosen below: a box, an opening, or the frame itself.",
        ),
        size_field("depth", "Depth", "The same, the other way."),
        section_field(
            "section",
            "Section",
            "The timber of the cap; its wide side lies flat.",
        ),
        Field {
            field: "around",
            label: "Sizes are those of",
            hint: "A cap lies on a box; a frame surrounds an opening, or has an outside size of its own.",
            sort: Sort::Choice(&[
                "the outside of a box",
                "an opening",
                "the outside of the frame",
            ]),
            usual: Usual::Text("the outside of a box"),
            in_sight: true,
        },
        Field {
            field: "overhang",
            label: "Overhang",
            hint: "How far a cap stands out past a box on each side; nothing else has one.",
            sort: Sort::Length,
            usual: Usual::ByUnit("20 mm", "3/4\""),
            in_sight: true,
        },
        Field {
            field: "fit",
            label: "Room to fit",
            hint: "Clearance for what goes in: the opening is as much wider and as much deeper.",
            sort: Sort::Length,
            usual: Usual::ByUnit("0 mm", "0\""),
            in_sight: true,
        },
    ],
};

#[derive(Clone, Copy, PartialEq, Eq)]
enum Around {
    Box,
    Opening,
    Itself,
}

/// The outside width and depth.
fn outside(sizes: &Sizes, around: Around, given: [Length; 2]) -> Result<[Length; 2], Misfit> {
    let member = sizes.timber("section")?.width;
    let (overhang, fit) = (sizes.length("overhang")?, sizes.length("fit")?);
    Ok(given.map(|size| match around {
        Around::Box => size + overhang + overhang,
        Around::Opening => size + fit + member + member,
        Around::Itself => size,
    }))
}

fn around(sizes: &Sizes) -> Around {
    sizes.choice("around", [Around::Box, Around::Opening, Around::Itself])
}

/// Its members: the frame lies flat, its width along the front.
///
/// # Errors
/// Sizes that are missing.
pub fn members(sizes: &Sizes) -> Result<Vec<Placed>, Misfit> {
    let timber = sizes.timber("section")?;
    let given = [sizes.length("width")?, sizes.length("depth")?];
    let [width, depth] = outside(sizes, around(sizes), given)?;
    let [near, far, left, right] = ring_outlines([width, depth], timber.width);
    let side = |outline, length: Length| Placed {
        line: u8::from(length < width.max(depth)),
        length,
        rip: None,
        body: vec![Solid::prism(2, outline, [0, timber.thickness.ticks()])],
    };
    Ok(vec![
        side(near, width),
        side(far, width),
        side(left, depth),
        side(right, depth),
    ])
}

/// Works the frame out.
///
/// # Errors
/// A section too wide for the rectangle.
pub fn work_out(sizes: &Sizes) -> Result<Worked, Misfit> {
    let timber = sizes.timber("section")?;
    let member = timber.width;
    let around = around(sizes);
    let overhang = sizes.length("overhang")?;
    let given = [sizes.length("width")?, sizes.length("depth")?];
    let [width, depth] = outside(sizes, around, given)?;
    let short = |long: Length| long - member - member;
    for (field, long) in [("width", width), ("depth", depth)] {
        if short(long).is_none() {
            return Err(Misfit::new(
                field,
                "two widths of the section leave nothing between them; use a narrower section",
            ));
        }
    }
    let mut worked = Worked::default();
    worked.mitred_part("long side", &timber.sections, width.max(depth), 2);
    worked.mitred_part("short side", &timber.sections, width.min(depth), 2);
    if width == depth {
        worked.parts.clear();
        worked.mitred_part("side", &timber.sections, width, 4);
    }
    worked.fact("long point width", width);
    worked.fact("long point depth", depth);
    worked.fact("short point width", short(width));
    worked.fact("short point depth", short(depth));
    let total = width + width + depth + depth;
    worked.fact("total length", total);
    worked.fact("diagonal", diagonal(width, depth));
    if around == Around::Box {
        let inward = member - overhang;
        if inward.is_none() {
            return Err(Misfit::new(
                "overhang",
                "the cap would not reach the box; make the overhang less than the width of the section",
            ));
        }
        worked.fact("inward cover", inward);
        // The edge of the box under the cap.
        worked.drawing.rectangle(
            Look::Behind,
            (overhang, overhang),
            (width - overhang - overhang, depth - overhang - overhang),
        );
    }
    worked.makes = makes(sizes, around, given, [width, depth], member);
    worked.frame_joints("mitred corners", 4, timber.width);
    mitred_ring(
        &mut worked.drawing,
        (Length::ZERO, Length::ZERO),
        (width, depth),
        member,
    );
    worked.drawing.across(
        0,
        member,
        width - member,
        format!("short point {}", sizes.show(short(width))),
    );
    worked.drawing.across(
        1,
        Length::ZERO,
        width,
        format!("long point {}", sizes.show(width)),
    );
    worked.drawing.up(0, Length::ZERO, depth, sizes.show(depth));
    worked.description = format!(
        "A mitred frame seen from above, {} by {} over its long points.",
        sizes.show(width),
        sizes.show(depth)
    );
    Ok(worked)
}

/// The outside sizes, and how they follow from the sizes given.
fn makes(
    sizes: &Sizes,
    around: Around,
    given: [Length; 2],
    outside: [Length; 2],
    member: Length,
) -> String {
    let added = |field, words: &str| match sizes.given(field) {
        Some(length) if length > Length::ZERO => format!(" and {} {words}", sizes.show(length)),
        _ => String::new(),
    };
    let (outside, from) = (sizes.by(&outside), sizes.by(&given));
    match around {
        Around::Box => match added("overhang", "all round") {
            none if none.is_empty() => format!("outside {outside}: the box itself"),
            overhang => format!("outside {outside}: {from}{overhang}"),
        },
        Around::Opening => format!(
            "outside {outside}: an opening of {from}{}, and {} all round",
            added("fit", "each way to fit"),
            sizes.show(member)
        ),
        Around::Itself => {
            let inside = given.map(|size| size - member - member);
            format!("outside {outside} as given, inside {}", sizes.by(&inside))
        }
    }
}
