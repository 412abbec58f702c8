//! Parts typed one by one, as a set-out: so they can follow other sizes and be made several times over.

pub mod stands;

use super::drawing::Look;
use super::kind::{Field, KindInfo, Sort, Usual, size_field};
use super::sizes::Sizes;
use super::worked::{Misfit, Worked};
use crate::fields::words;
use crate::length::Length;
use crate::part::{Fitting, HANDS, Leans, Part, PartEnd};

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "parts",
    title: "Loose parts",
    name: "Loose parts",
    about: "Parts of one length that follow other sizes, such as battens or feet.",
    fields: &[
        size_field(
            "length",
            "Length",
            "From long point to long point where the ends are mitred.",
        ),
        Field {
            field: "section",
            label: "Section",
            hint: "The timber of the parts.",
            sort: Sort::AnySection,
            usual: Usual::Needed,
            in_sight: false,
        },
        Field {
            field: "quantity",
            label: "How many",
            hint: "Parts in one of these.",
            sort: Sort::Count {
                least: 1,
                most: 10_000,
            },
            usual: Usual::Text("1"),
            in_sight: false,
        },
        Field {
            field: "ends",
            label: "Ends",
            hint: "Square, or degrees off square; two parted by a semicolon.",
            sort: Sort::Ends,
            usual: Usual::Text("square"),
            in_sight: false,
        },
        Field {
            field: "leans",
            label: "Ends lean",
            hint: "Opposite ways as on a frame, the same way as on a brace.",
            sort: Sort::Choice(&words(&Leans::WORDS)),
            usual: Usual::Text(Leans::WORDS[0].0),
            in_sight: false,
        },
        Field {
            field: "hand",
            label: "Hand",
            hint: "Left and right: half of them are mirror images.",
            sort: Sort::Choice(&words(&HANDS)),
            usual: Usual::Text(HANDS[0].0),
            in_sight: false,
        },
        Field {
            field: "goes",
            label: "Where they go",
            hint: "Between others they are measured first and never come out long; posts go in the ground.",
            sort: Sort::Choice(&words(&Fitting::WORDS)),
            usual: Usual::Text(Fitting::WORDS[0].0),
            in_sight: false,
        },
        Field {
            field: "label",
            label: "Called",
            hint: "What the part is, such as foot or batten.",
            sort: Sort::Text,
            usual: Usual::Text("part"),
            in_sight: false,
        },
    ],
};

/// Works the parts out.
///
/// # Errors
/// A field that is missing.
pub fn work_out(sizes: &Sizes) -> Result<Worked, Misfit> {
    let timber = sizes.timber("section")?;
    let length = sizes.length("length")?;
    let mut worked = Worked::default();
    let label = sizes.text("label");
    let ends = sizes.ends("ends");
    if ends.iter().any(|end| *end != PartEnd::Square) && timber.width == Length::ZERO {
        return Err(Misfit::new(
            "ends",
            "a mitre needs the width of its section; fill it in there first",
        ));
    }
    worked.add(Part {
        ends,
        leans: sizes.choice("leans", Leans::WORDS.map(|(_, leans)| leans)),
        pair: sizes.choice("hand", HANDS.map(|(_, pair)| pair)),
        fitting: sizes.choice("goes", Fitting::WORDS.map(|(_, fitting)| fitting)),
        ..Part::square(
            label,
            &timber.sections,
            length,
            sizes.count("quantity").max(1),
        )
    });
    // The bar stands for the part; its depth is only for looks.
    let depth = Length::from_ticks((length.ticks() / 12).max(1));
    worked
        .drawing
        .rectangle(Look::Part, (Length::ZERO, Length::ZERO), (length, depth));
    worked
        .drawing
        .across(0, Length::ZERO, length, sizes.show(length));
    let count = sizes.count("quantity").max(1);
    let room = stands::room(sizes).filter(|_| !timber.width.is_none());
    if let Some(spread) = room.and_then(|room| stands::spread(count, timber.width.ticks(), room)) {
        let up = sizes.given("up").unwrap_or_default();
        let marks = (0..count).map(|nth| {
            let start = Length::from_ticks(spread.start(nth.into()));
            (format!("{label} {} starts", nth + 1), up + start)
        });
        let datum = format!("the {} of the face", sizes.stands.lower_edge());
        worked.marks("spread over the face", &datum, marks.collect());
    }
    worked.makes = format!(
        "{} x {label} of {}",
        sizes.count("quantity").max(1),
        sizes.show(length)
    );
    worked.description = format!("One {label}, {} long.", sizes.show(length));
    Ok(worked)
}
