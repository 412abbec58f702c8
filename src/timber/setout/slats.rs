//! Slats or boards across a span, at equal gaps.
//!
//! How many slats: for a wanted gap, the number whose equal gap is nearest to it; for a widest gap, the fewest that keep to it; or a fixed
//! number. Gaps are exact fractions of what the slats leave over (`spacing`), so slats and gaps fill the span to the tick.

pub mod stands;

use super::drawing::{Look, Point};
use super::kind::{Field, KindInfo, Sort, Usual, section_field, seen_field, size_field, use_field};
use super::movement;
use super::sizes::{Seen, Sizes, Timber};
use super::spacing::{EndGaps, EqualGaps, fewest_for_gap};
use super::worked::{Hazard, Misfit, Worked};
use crate::length::Length;
use crate::shown::counted;

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "slats",
    title: "Slats or boards",
    name: "Slats or boards",
    about: "Slats side by side across a span with equal gaps: a seat, a shelf, a fence, a lid.",
    fields: &[
        size_field(
            "span",
            "Span to fill",
            "Across the slats, from edge to edge.",
        ),
        size_field(
            "length",
            "Length of a slat",
            "Between the edges it lies on; the overhang is added.",
        ),
        section_field("section", "Section", "The timber of the slats."),
        Field {
            field: "gap",
            label: "Gap you would like",
            hint: "The nearest equal gap is found.",
            sort: Sort::Length,
            usual: Usual::ByUnit("8 mm", "5/16\""),
            in_sight: true,
        },
        Field {
            field: "most_gap",
            label: "Or the widest gap allowed",
            hint: "The fewest slats that keep to it.",
            sort: Sort::Size,
            usual: Usual::Nothing,
            in_sight: false,
        },
        Field {
            field: "count",
            label: "Or how many slats",
            hint: "Leave empty to follow the gap.",
            sort: Sort::Count {
                least: 1,
                most: 500,
            },
            usual: Usual::Nothing,
            in_sight: false,
        },
        Field {
            field: "ends",
            label: "At the two ends of the span",
            hint: "Between posts there is a gap at both ends.",
            sort: Sort::Choice(&["a slat", "a gap"]),
            usual: Usual::Text("a slat"),
            in_sight: true,
        },
        Field {
            field: "overhang",
            label: "Overhang of a slat at each end",
            hint: "Added twice to its length.",
            sort: Sort::Length,
            usual: Usual::ByUnit("0 mm", "0\""),
            in_sight: true,
        },
        Field {
            field: "past",
            label: "Slats past the span on each side",
            hint: "Added twice to the span.",
            sort: Sort::Length,
            usual: Usual::ByUnit("0 mm", "0\""),
            in_sight: true,
        },
        Field {
            field: "supports",
            label: "Supports under each slat",
            hint: "For counting screws.",
            sort: Sort::Count {
                least: 0,
                most: 100,
            },
            usual: Usual::Text("2"),
            in_sight: false,
        },
        seen_field("on the flat"),
        use_field(&["a seat, a shelf, a deck or a lid", "pales or laths"]),
        movement::WOOD,
        movement::MOISTURE,
        movement::MOISTURE_LATER,
    ],
};

/// Works the slats out.
///
/// # Errors
/// A span the slats do not fit.
pub fn work_out(sizes: &Sizes) -> Result<Worked, Misfit> {
    let timber = sizes.timber("section")?;
    let seen = sizes.choice("seen", Seen::ALL);
    let (gaps, length) = laid(sizes)?;
    let (span, ends) = (gaps.span, gaps.ends);
    let mut worked = Worked::default();
    worked.part("slat", &timber.sections, length, gaps.count);
    worked.number("slats", gaps.count);
    worked.fact("equal gap", gaps.gap());
    worked.fact("slat length", length);
    worked.fact("covered span", span);
    let starts = gaps.starts();
    let marks = starts
        .iter()
        .enumerate()
        .map(|(index, &start)| (format!("near edge of slat {}", index + 1), start))
        .collect();
    worked.marks(
        "slats across the span",
        "the end of the span you start from",
        marks,
    );
    if gaps.count == 1 && ends == EndGaps::None && gaps.left_over() > Length::ZERO {
        worked.notes.push(format!(
            "One slat stands at the start of the span and leaves {}.",
            sizes.show(gaps.left_over())
        ));
    }
    worked.crossings(
        "slats over supports",
        gaps.count * sizes.count("supports"),
        gaps.member,
        timber.depth(seen),
    );
    if sizes.choice("use", [true, false]) {
        worked.hazards.push(Hazard::Load);
    }
    let room = movement::Room::Gap(gaps.gap());
    movement::told(sizes, gaps.member, room, &mut worked);
    worked.makes = makes(sizes, &gaps, length)?;
    draw(sizes, &gaps, &starts, length, &mut worked);
    Ok(worked)
}

/// The slats across their span, and the length of each.
fn laid(sizes: &Sizes) -> Result<(EqualGaps, Length), Misfit> {
    let timber = sizes.timber("section")?;
    let seen = sizes.choice("seen", Seen::ALL);
    let (overhang, past) = (sizes.length("overhang")?, sizes.length("past")?);
    let length = sizes.length("length")? + overhang + overhang;
    let span = sizes.length("span")? + past + past;
    let ends = sizes.choice("ends", [EndGaps::None, EndGaps::Both]);
    let gaps = EqualGaps {
        span,
        member: timber.face(seen),
        count: count(sizes, span, timber, seen, ends)?,
        ends,
    };
    if gaps.left_over() < Length::ZERO {
        return Err(Misfit::new(
            "count",
            format!(
                "{} slats of {} do not fit in {}; use fewer",
                gaps.count,
                sizes.show(gaps.member),
                sizes.show(span)
            ),
        ));
    }
    Ok((gaps, length))
}

/// The span and length of the finished slats, and what was added to the sizes given.
fn makes(sizes: &Sizes, gaps: &EqualGaps, length: Length) -> Result<String, Misfit> {
    let mut added = String::new();
    for (field, over, end) in [
        ("length", "overhang", "at each end of a slat"),
        ("span", "past", "on each side of the span"),
    ] {
        let more = sizes.length(over)?;
        if more > Length::ZERO {
            let from = sizes.show(sizes.length(field)?);
            added += &format!("; {from} and {} {end}", sizes.show(more));
        }
    }
    let count = counted(u64::from(gaps.count), "slat", "slats");
    Ok(format!(
        "{count} of {} across {}, gap {}{added}",
        sizes.show(length),
        sizes.show(gaps.span),
        sizes.show(gaps.gap())
    ))
}

/// How many slats: the fixed number, else the fewest for the widest gap, else the number whose gap is nearest to the wanted one.
fn count(
    sizes: &Sizes,
    span: Length,
    timber: &Timber,
    seen: Seen,
    ends: EndGaps,
) -> Result<u32, Misfit> {
    if let Some(count) = sizes.given_count("count") {
        return Ok(count);
    }
    let member = timber.face(seen);
    let (field, gap) = match sizes.given("most_gap") {
        Some(most) => ("most_gap", most),
        None => ("gap", sizes.length("gap")?),
    };
    let fewest = fewest_for_gap(span, member, gap, ends);
    let fits = |count: i64| count >= 1 && count * member.ticks() <= span.ticks();
    let chosen = if field == "most_gap" {
        fits(fewest).then_some(fewest)
    } else {
        (fewest - 1..=fewest + 1)
            .filter(|&count| fits(count))
            .min_by_key(|&count| {
                let spaces = match ends {
                    EndGaps::None => (count - 1).max(1),
                    EndGaps::Both => count + 1,
                };
                let left = span.ticks() - count * member.ticks();
                (left / spaces - gap.ticks()).abs()
            })
    };
    let chosen = chosen.ok_or_else(|| {
        Misfit::new(
            field,
            "no number of slats gives such a gap here; allow a wider gap or use a narrower section",
        )
    })?;
    u32::try_from(chosen)
        .ok()
        .filter(|&count| count <= 500)
        .ok_or_else(|| Misfit::new(field, "this takes more than 500 slats; allow a wider gap"))
}

/// Draws the slats with the longer of span and length across the drawing.
fn draw(sizes: &Sizes, gaps: &EqualGaps, starts: &[Length], length: Length, worked: &mut Worked) {
    let across = length <= gaps.span;
    let turned = |along: Length, over: Length| -> Point {
        if across { (along, over) } else { (over, along) }
    };
    let zero = Length::ZERO;
    let drawing = &mut worked.drawing;
    drawing.rectangle(Look::Behind, (zero, zero), turned(gaps.span, length));
    for &start in starts {
        drawing.rectangle(Look::Part, turned(start, zero), turned(gaps.member, length));
    }
    let (span, slat) = (sizes.show(gaps.span), sizes.show(length));
    let gap = sizes.show(gaps.gap());
    let words = format!("{} slats, gap {gap}", gaps.count);
    if across {
        drawing.across(0, zero, gaps.span, span.clone());
        drawing.caption(words);
        drawing.up(0, zero, length, slat.clone());
    } else {
        drawing.up(0, zero, gaps.span, span.clone());
        drawing.across(0, zero, length, slat.clone());
        drawing.caption(words);
    }
    worked.description = format!(
        "{} slats {slat} long across {span}, with gaps of {gap}.",
        gaps.count
    );
}
