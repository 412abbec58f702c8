//! Members at centres between two end members: studs, joists, battens; with plates, and a check for square.
//!
//! At fixed centres the tape runs from the middle of the first member, or from its outside face, so that edges of sheets fall on the
//! middles of members; the last bay is never wider than the others. For equal bays the number of members is ceil((S - m) / c) + 1, with a
//! span S, a member face m and centres of at most c. A rectangle is square when its diagonals D1 and D2 are equal; otherwise the far side
//! is out by (D1^2 - D2^2) / (4 x span).

pub mod stands;

use super::drawing::Look;
use super::kind::{Field, KindInfo, Sort, Usual, section_field, seen_field, size_field, use_field};
use super::panel::numbered;
use super::ratio::{Ratio, diagonal};
use super::sizes::{Seen, Sizes};
use super::spacing::{Centres, CentresFrom, EqualGaps};
use super::worked::{Hazard, Misfit, Worked};
use crate::length::Length;

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "spaced",
    title: "Studs, joists or posts at centres",
    name: "Members at centres",
    about: "Studs, joists or battens side by side at fixed centres, with one at each end.",
    fields: &[
        size_field(
            "span",
            "Span",
            "Outside, from the first member to the last.",
        ),
        size_field(
            "height",
            "Length over all",
            "Along the members, plates included.",
        ),
        section_field("section", "Section", "The timber of the members."),
        Field {
            field: "centres",
            label: "Centres",
            hint: "From the middle of one member to the middle of the next.",
            sort: Sort::Size,
            usual: Usual::ByUnit("400 mm", "16\""),
            in_sight: true,
        },
        Field {
            field: "spacing",
            label: "Spacing",
            hint: "Fixed centres suit sheets and boards; equal bays look even.",
            sort: Sort::Choice(&["at the centres", "equal, no wider than the centres"]),
            usual: Usual::Text("at the centres"),
            in_sight: false,
        },
        Field {
            field: "centres_from",
            label: "Centres are measured from",
            hint: "From the outside face, the edges of sheets break on members.",
            sort: Sort::Choice(&["the middle of the first member", "the outside face"]),
            usual: Usual::Text("the middle of the first member"),
            in_sight: false,
        },
        Field {
            field: "end_members",
            label: "End members",
            hint: "Doubled ends give what stands or hangs there more to be fixed to.",
            sort: Sort::Choice(&["single", "doubled"]),
            usual: Usual::Text("single"),
            in_sight: false,
        },
        Field {
            field: "plates",
            label: "Plates across the ends",
            hint: "One at the bottom, or one at each end, as long as the span.",
            sort: Sort::Choice(&["none", "one", "two"]),
            usual: Usual::Text("none"),
            in_sight: true,
        },
        seen_field("on edge"),
        use_field(&["joists or studs", "laths or battens"]),
        Field {
            field: "diagonal_one",
            label: "First diagonal, measured",
            hint: "Fill in both to see how far it is out of square.",
            sort: Sort::Size,
            usual: Usual::Nothing,
            in_sight: false,
        },
        Field {
            field: "diagonal_two",
            label: "Second diagonal, measured",
            hint: "Fill in both to see how far it is out of square.",
            sort: Sort::Size,
            usual: Usual::Nothing,
            in_sight: false,
        },
    ],
};

#[derive(Clone, Copy, PartialEq, Eq)]
enum Spacing {
    Centres,
    Equal,
}

/// The most members in one set-out.
const MOST: usize = 500;

/// Works the members out.
///
/// # Errors
/// Sizes that do not go together.
pub fn work_out(sizes: &Sizes) -> Result<Worked, Misfit> {
    let timber = sizes.timber("section")?;
    let seen = sizes.choice("seen", Seen::ALL);
    let member = timber.face(seen);
    let (span, height) = (sizes.length("span")?, sizes.length("height")?);
    let plates = sizes.choice("plates", [0u32, 1, 2]);
    let length = Length::from_ticks(height.ticks() - i64::from(plates) * member.ticks());
    if length.is_none() {
        return Err(Misfit::new(
            "height",
            "the plates leave nothing between them; make it longer",
        ));
    }
    let starts = starts(sizes, span, member)?;
    let mut worked = Worked::default();
    worked.part("member", &timber.sections, length, starts.len() as u32);
    worked.part("plate", &timber.sections, span, plates);
    worked.number("members", starts.len() as u32);
    worked.fact("member length", length);
    worked.fact("diagonal", diagonal(span, height));
    let bay = starts
        .windows(2)
        .map(|pair| pair[1] - pair[0] - member)
        .max();
    if let Some(bay) = bay {
        worked.fact("widest bay", bay);
    }
    worked.frame_joints(
        "member ends on plates",
        plates * starts.len() as u32,
        member,
    );
    worked.marks(
        "near edges along the span",
        "outside face of the first member",
        numbered("member", &starts, Length::ZERO),
    );
    let half = Length::from_ticks(member.ticks() / 2);
    worked.marks(
        "centres along the span",
        "outside face of the first member",
        numbered("centre of member", &starts, half),
    );
    worked.makes = makes(sizes, [span, height], length, (plates, member));
    worked.notes.push(taken(sizes));
    square(sizes, span, height, &mut worked)?;
    let zero = Length::ZERO;
    let drawing = &mut worked.drawing;
    let top = if plates == 2 { member } else { zero };
    for &start in &starts {
        drawing.rectangle(Look::Part, (start, top), (member, length));
    }
    if plates >= 1 {
        drawing.rectangle(Look::Part, (zero, height - member), (span, member));
    }
    if plates == 2 {
        drawing.rectangle(Look::Part, (zero, zero), (span, member));
    }
    drawing.across(0, zero, span, sizes.show(span));
    drawing.up(0, zero, height, sizes.show(height));
    worked.description = format!(
        "{} members across {}, {} over all.",
        starts.len(),
        sizes.show(span),
        sizes.show(height)
    );
    if sizes.choice("use", [true, false]) {
        worked.hazards.push(Hazard::Load);
    }
    Ok(worked)
}

/// The outside sizes, and what the plates of this size leave of them for the members between.
fn makes(
    sizes: &Sizes,
    outside: [Length; 2],
    length: Length,
    (plates, plate): (u32, Length),
) -> String {
    let (outside, members) = (sizes.by(&outside), sizes.show(length));
    let plates = match plates {
        0 => String::new(),
        1 => format!(" and a plate of {}", sizes.show(plate)),
        _ => format!(" between plates of {}", sizes.show(plate)),
    };
    format!("outside {outside} as given, members of {members}{plates}")
}

fn starts(sizes: &Sizes, span: Length, member: Length) -> Result<Vec<Length>, Misfit> {
    let centres = sizes.length("centres")?;
    if span < member + member {
        return Err(Misfit::new(
            "span",
            "two end members do not fit in this span; make it wider",
        ));
    }
    if centres < member {
        return Err(Misfit::new(
            "centres",
            "the centres are closer than one member is wide; set them further apart",
        ));
    }
    // The number is checked first, so that a wrong unit cannot lead to a million members.
    if (span.ticks() / centres.ticks()) as usize >= MOST {
        return Err(Misfit::new(
            "centres",
            "this takes more than 500 members; check the unit",
        ));
    }
    let last = span - member;
    let starts = match sizes.choice("spacing", [Spacing::Centres, Spacing::Equal]) {
        Spacing::Centres => {
            let rule = Centres {
                span,
                end: member,
                member,
                centres,
                from: centres_from(sizes),
            };
            let mut starts = vec![Length::ZERO];
            starts.extend(rule.starts());
            starts.push(last);
            starts
        }
        Spacing::Equal => {
            // With doubled ends, the bays are between the inner members.
            let outer = if is_doubled(sizes) {
                member
            } else {
                Length::ZERO
            };
            let inner = span - outer - outer;
            if inner < member + member {
                return Err(Misfit::new(
                    "span",
                    "two doubled end members do not fit in this span; make it wider",
                ));
            }
            let gaps = EqualGaps::within(inner, member, centres, MOST as i64);
            let starts = gaps.map(|gaps| gaps.starts());
            let starts = starts.unwrap_or_default().into_iter();
            starts.map(|start| start + outer).collect()
        }
    };
    let starts = match (
        is_doubled(sizes),
        sizes.choice("spacing", [Spacing::Centres, Spacing::Equal]),
    ) {
        (false, _) => starts,
        (true, Spacing::Centres) => doubled(&starts, member),
        (true, Spacing::Equal) => [&[Length::ZERO][..], &starts, &[last]].concat(),
    };
    if starts.windows(2).any(|pair| pair[0] + member > pair[1]) {
        return Err(Misfit::new(
            "centres",
            "members would run into each other; set the centres further apart",
        ));
    }
    Ok(starts)
}

fn centres_from(sizes: &Sizes) -> CentresFrom {
    sizes.choice(
        "centres_from",
        [CentresFrom::Middle, CentresFrom::OutsideFace],
    )
}

fn is_doubled(sizes: &Sizes) -> bool {
    sizes.choice("end_members", [false, true])
}

/// Adds a member tight against each end member. A member at the centres that would overlap it is left out, since the added one takes its
/// place.
fn doubled(starts: &[Length], member: Length) -> Vec<Length> {
    let [first, between @ .., last] = starts else {
        return starts.to_vec();
    };
    let (second, last_but_one) = (*first + member, *last - member);
    let clear = |start: &&Length| **start >= second + member && **start + member <= last_but_one;
    let mut all = vec![*first, second];
    all.extend(between.iter().filter(clear));
    all.extend([last_but_one, *last]);
    all
}

/// The note on how the centres were counted.
fn taken(sizes: &Sizes) -> String {
    let ends = match is_doubled(sizes) {
        true => "; the end members are doubled",
        false => "",
    };
    let centres = sizes.given("centres").unwrap_or_default();
    match sizes.choice("spacing", [Spacing::Centres, Spacing::Equal]) {
        Spacing::Equal => format!("Equal bays, no wider than {}{ends}.", sizes.show(centres)),
        Spacing::Centres => match centres_from(sizes) {
            CentresFrom::Middle => format!(
                "At {} from the middle of the first member; the last distance is what is left{ends}.",
                sizes.show(centres)
            ),
            CentresFrom::OutsideFace => format!(
                "At {} from the outside face, so that sheets break on members{ends}.",
                sizes.show(centres)
            ),
        },
    }
}

/// Notes on two measured diagonals.
fn square(sizes: &Sizes, span: Length, height: Length, worked: &mut Worked) -> Result<(), Misfit> {
    let should_be = sizes.show(diagonal(span, height));
    let (one, two) = match (sizes.given("diagonal_one"), sizes.given("diagonal_two")) {
        (Some(one), Some(two)) => (one, two),
        (None, None) => {
            worked
                .notes
                .push(format!("Square when both diagonals measure {should_be}."));
            return Ok(());
        }
        (Some(_), None) => {
            return Err(Misfit::new(
                "diagonal_two",
                "fill in the other diagonal too",
            ));
        }
        (None, Some(_)) => {
            return Err(Misfit::new(
                "diagonal_one",
                "fill in the other diagonal too",
            ));
        }
    };
    let out = out_of_square(one, two, span).ok_or_else(|| {
        Misfit::new(
            "diagonal_one",
            "this diagonal makes no sense; measure it again",
        )
    })?;
    worked.fact("out of square", out);
    worked.notes.push(if out == Length::ZERO {
        "Both diagonals are equal: it is square.".to_owned()
    } else {
        format!(
            "Out of square: one end stands {} to one side. Push the longer diagonal shorter until both measure about {should_be}.",
            sizes.show(out)
        )
    });
    Ok(())
}

/// How far the far side is out of square: |D1^2 - D2^2| / (4 x span), to the nearest tick.
pub fn out_of_square(one: Length, two: Length, span: Length) -> Option<Length> {
    let square = |length: Length| i128::from(length.ticks()) * i128::from(length.ticks());
    let apart = (square(one) - square(two)).abs();
    let out = Ratio::new(apart, 4 * i128::from(span.ticks()))?.nearest();
    i64::try_from(out).ok().map(Length::from_ticks)
}
