//! The form of the boarding of a face.

use crate::setout::kind::{Field, KindInfo, Sort, Usual, section_field, size_field};
use crate::setout::movement;

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "boarding",
    title: "Boarding of a face",
    name: "Boarding",
    about: "Boards that cover a face, tongued, lapped or square, with the edges worked out.",
    fields: &[
        size_field(
            "width",
            "Width of the face",
            "Of the frame that is covered.",
        ),
        size_field(
            "height",
            "Height of the face",
            "Of the frame that is covered.",
        ),
        section_field(
            "section",
            "Boards",
            "A section with its cover width and how its edges meet, where boards lap or have a tongue.",
        ),
        Field {
            field: "run",
            label: "Boards run",
            hint: "Upright boards shed water best at the foot of a wall.",
            sort: Sort::Choice(&["upright", "across"]),
            usual: Usual::Text("upright"),
            in_sight: true,
        },
        Field {
            field: "gap",
            label: "Movement gap",
            hint: "Between one board and the next; boards swell when wet. Not added to lapped boards.",
            sort: Sort::Length,
            usual: Usual::ByUnit("2 mm", "1/16\""),
            in_sight: true,
        },
        Field {
            field: "laps",
            label: "Laps of lapped boards",
            hint: "Evened out, every board is whole and no lap is under the least.",
            sort: Sort::Choice(&["evened out", "as the cover width says"]),
            usual: Usual::Text("evened out"),
            in_sight: true,
        },
        Field {
            field: "edges",
            label: "Edges",
            hint: "A thin last board can be shared between both edges.",
            sort: Sort::Choice(&[
                "share where the last is thin",
                "rip the last board only",
                "rip both edges alike",
            ]),
            usual: Usual::Text("share where the last is thin"),
            in_sight: false,
        },
        Field {
            field: "least_rip",
            label: "Thinnest board allowed",
            hint: "Leave empty for half a cover width; a lapped board keeps its lap and what holds it besides.",
            sort: Sort::Size,
            usual: Usual::Nothing,
            in_sight: false,
        },
        Field {
            field: "first_off",
            label: "Cut off the first board",
            hint: "Its groove or tongue, where the first edge is seen; taken from the cover width.",
            sort: Sort::Length,
            usual: Usual::ByUnit("0 mm", "0\""),
            in_sight: true,
        },
        Field {
            field: "corners",
            label: "At the corners it",
            hint: "Covering a neighbour adds the thickness of its boards.",
            sort: Sort::Choice(&[
                "ends with the frame",
                "covers both neighbours",
                "covers one neighbour",
                "stands between both neighbours",
            ]),
            usual: Usual::Text("ends with the frame"),
            in_sight: true,
        },
        Field {
            field: "past",
            label: "Past the frame, top and bottom together",
            hint: "Added to the height.",
            sort: Sort::Length,
            usual: Usual::ByUnit("0 mm", "0\""),
            in_sight: true,
        },
        Field {
            field: "supports",
            label: "Rails behind each board",
            hint: "For counting nails or screws.",
            sort: Sort::Count {
                least: 0,
                most: 100,
            },
            usual: Usual::Text("2"),
            in_sight: false,
        },
        Field {
            field: "laid",
            label: "Boards laid so far",
            hint: "With the next size, shares out again what is really left.",
            sort: Sort::Count {
                least: 1,
                most: 2_000,
            },
            usual: Usual::Nothing,
            in_sight: false,
        },
        Field {
            field: "left",
            label: "Measured width still to cover",
            hint: "From the edge of the last board laid to the end of the face.",
            sort: Sort::Size,
            usual: Usual::Nothing,
            in_sight: false,
        },
        movement::WOOD,
        movement::MOISTURE,
        movement::MOISTURE_LATER,
    ],
};
