//! Typing mistakes, and the place and message that people get.

use crate::common::random::Random;
use crate::small::{Written, draft, faults};
use lengthwise::cautions;
use lengthwise::job::examine;
use lengthwise::quantities;
use lengthwise::setout::{Kind, Sort};

const STICK: (&str, &str, &str, &str) = ("stick", "45", "70", "");

#[track_caller]
fn told(set_outs: &[Written], expected: &[&str]) {
    let faults = faults(&draft("mm", &[STICK], set_outs));
    let texts: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert_eq!(texts, expected);
}

#[test]
fn sizes_that_wait_for_each_other_are_told_at_every_one_of_them() {
    let circle = "these sizes wait for each other in a circle: [a] width \u{2192} [b] height \u{2192} [a] width; give one of them a plain length";
    told(
        &[
            (
                "a",
                "frame",
                &[("width", "[b] height + 20"), ("height", "600")],
            ),
            (
                "b",
                "frame",
                &[("width", "600"), ("height", "[a] width - 20")],
            ),
        ],
        &[
            &format!("set_outs 1, width: {circle}"),
            &format!("set_outs 2, height: {circle}"),
        ],
    );
}

#[test]
fn a_size_that_comes_from_itself_is_a_circle_too() {
    told(
        &[("a", "frame", &[("width", "width + 1"), ("height", "600")])],
        &[
            "set_outs 1, width: these sizes wait for each other in a circle: [a] width \u{2192} [a] width; give one of them a plain length",
        ],
    );
    told(
        &[
            (
                "a",
                "frame",
                &[("width", "[b] inside width"), ("height", "600")],
            ),
            (
                "b",
                "frame",
                &[("width", "[a] inside width"), ("height", "600")],
            ),
        ],
        &[
            "set_outs 1, width: these sizes wait for each other in a circle: [a] width \u{2192} [b] width \u{2192} [a] width; give one of them a plain length",
            "set_outs 2, width: these sizes wait for each other in a circle: [a] width \u{2192} [b] width \u{2192} [a] width; give one of them a plain length",
        ],
    );
}

#[test]
fn two_set_outs_may_follow_each_other_where_no_size_does() {
    told(
        &[
            ("a", "frame", &[("width", "[b] height"), ("height", "600")]),
            ("b", "frame", &[("width", "[a] height"), ("height", "500")]),
        ],
        &[],
    );
}

#[test]
fn unknown_names_are_told_with_the_nearest_known_one() {
    told(
        &[
            ("Bin box", "frame", &[("width", "600"), ("height", "500")]),
            (
                "b",
                "frame",
                &[("width", "[Bin bux] width"), ("height", "[bin box] widht")],
            ),
            (
                "c",
                "frame",
                &[
                    ("width", "[Bin box] inside widht"),
                    ("height", "[Nothing like it] width"),
                ],
            ),
        ],
        &[
            "set_outs 2, width: no set-out is called \"Bin bux\"; did you mean [Bin box]?",
            "set_outs 2, height: \"Bin box\" has no size called \"widht\"; did you mean width?",
            "set_outs 3, width: \"Bin box\" has no size called \"inside widht\"; did you mean inside width?",
            "set_outs 3, height: no set-out is called \"Nothing like it\"; write the name of one in the brackets",
        ],
    );
}

#[test]
fn unknown_kinds_fields_sections_and_words_are_told() {
    told(
        &[
            ("a", "frames", &[]),
            (
                "b",
                "frame",
                &[
                    ("width", "600"),
                    ("height", "500"),
                    ("hight", "3"),
                    ("section", "stik"),
                    ("corner", "glued"),
                ],
            ),
            (
                "b",
                "slats",
                &[("span", "600"), ("length", "500"), ("count", "many")],
            ),
        ],
        &[
            "set_outs 1, kind: \"frames\" is not known here; choose frame, box, top_frame, boarding, slats, mitred_frame, polygon, spaced, posts_and_rails, stand, fence, gate, brace, rafters, trestle, staves, hopper, lattice, sheet, parts",
            "set_outs 2, hight: no field is called \"hight\"; did you mean \"height\"?",
            "set_outs 2, section: no section is called \"stik\"; did you mean \"stick\"?",
            "set_outs 2, corner: \"glued\" is not known here; choose butt, stiles run through, butt, rails run through, halved, mitred",
            "set_outs 3, name: \"b\" is there twice; give each its own name",
            "set_outs 3, count: \"many\" should be a whole number from 1 to 500",
        ],
    );
}

#[test]
fn sizes_that_are_missing_negative_or_nothing_are_told() {
    told(
        &[
            ("a", "frame", &[("width", "600")]),
            (
                "b",
                "frame",
                &[("width", "[a] width - 700"), ("height", "300 - 300")],
            ),
            ("c", "frame", &[("width", "1,200"), ("height", "500 m")]),
        ],
        &[
            "set_outs 1, height: height is missing; fill it in",
            "set_outs 2, width: this comes to \u{2212}100 mm, below zero; check the sizes it is made of",
            "set_outs 2, height: this comes to nothing; give a length above zero",
            "set_outs 3, width: \"1,200\": a comma can mean thousands or a decimal; write 1200 or 1.2, or set the decimal sign of the piece to a comma",
            "set_outs 3, height: 500000 mm is too much here; give at most 100000 mm, and check the unit",
        ],
    );
}

#[test]
fn a_set_out_that_waits_for_a_faulty_one_says_so_and_adds_no_fault() {
    let draft = draft(
        "mm",
        &[STICK],
        &[
            ("a", "frame", &[("width", "wide"), ("height", "500")]),
            ("b", "frame", &[("width", "[a] width"), ("height", "500")]),
            ("c", "frame", &[("width", "400"), ("height", "500")]),
        ],
    );
    let (job, faults) = examine(&draft);
    assert_eq!(faults.len(), 1, "{faults:?}");
    assert_eq!(
        job.set_outs[1].notes,
        ["waits for [a] width, which has a fault"]
    );
    assert!(job.set_outs[1].parts.is_empty());
    // What is sound is worked out all the same.
    assert_eq!(job.set_outs[2].parts.len(), 2);
}

#[test]
fn sizes_that_do_not_fit_together_are_told_where_they_are_mended() {
    for (kind, fields, place) in [
        ("frame", &[("width", "100"), ("height", "500")][..], "width"),
        ("frame", &[("width", "500"), ("height", "140")], "height"),
        (
            "frame",
            &[("width", "500"), ("height", "500"), ("uprights", "6")],
            "uprights",
        ),
        (
            "frame",
            &[
                ("width", "500"),
                ("height", "500"),
                ("seen", "narrow side"),
                ("corner", "mitred"),
            ],
            "corner",
        ),
        (
            "box",
            &[("width", "500"), ("depth", "80"), ("height", "500")],
            "depth",
        ),
        (
            "box",
            &[
                ("width", "500"),
                ("depth", "500"),
                ("height", "500"),
                ("fill_height", "600"),
            ],
            "fill_height",
        ),
        ("top_frame", &[("length", "80"), ("depth", "500")], "length"),
        (
            "slats",
            &[("span", "500"), ("length", "500"), ("count", "8")],
            "count",
        ),
        ("slats", &[("span", "50"), ("length", "500")], "gap"),
        (
            "mitred_frame",
            &[("width", "90"), ("depth", "500")],
            "width",
        ),
        (
            "mitred_frame",
            &[("width", "500"), ("depth", "500"), ("overhang", "70")],
            "overhang",
        ),
        ("polygon", &[("size", "100"), ("sides", "8")], "size"),
        ("spaced", &[("span", "80"), ("height", "500")], "span"),
        (
            "spaced",
            &[("span", "800"), ("height", "500"), ("centres", "30")],
            "centres",
        ),
        (
            "spaced",
            &[("span", "80 m"), ("height", "500"), ("centres", "60")],
            "centres",
        ),
        (
            "spaced",
            &[("span", "800"), ("height", "500"), ("diagonal_one", "900")],
            "diagonal_two",
        ),
        (
            "boarding",
            &[("width", "800"), ("height", "500"), ("first_off", "70")],
            "first_off",
        ),
        ("boarding", &[("width", "90 m"), ("height", "500")], "width"),
        (
            "boarding",
            &[("width", "800"), ("height", "500"), ("laid", "3")],
            "left",
        ),
        (
            "boarding",
            &[
                ("width", "800"),
                ("height", "500"),
                ("laid", "90"),
                ("left", "50"),
            ],
            "laid",
        ),
    ] {
        let draft = draft("mm", &[STICK], &[("it", kind, fields)]);
        let found = faults(&draft);
        let places: Vec<&str> = found
            .iter()
            .map(|fault| fault.place.field.as_str())
            .collect();
        assert_eq!(places, [place], "{kind} {fields:?}: {found:?}");
    }
}

#[test]
fn a_section_without_sides_is_asked_for_them() {
    let told = faults(&draft(
        "mm",
        &[("bare", "", "", "")],
        &[("a", "frame", &[("width", "600"), ("height", "500")])],
    ));
    assert!(
        told[0]
            .to_string()
            .contains("needs its thickness and its width"),
        "{told:?}"
    );
}

#[test]
fn sections_of_one_size_may_share_a_set_out_and_others_not() {
    let sections = [
        STICK,
        ("old stick", "45", "70", ""),
        ("thin stick", "40", "70", ""),
    ];
    let with = |section: &'static str| {
        draft(
            "mm",
            &sections,
            &[(
                "a",
                "frame",
                &[("width", "600"), ("height", "500"), ("section", section)],
            )],
        )
    };
    let (job, found) = examine(&with("old stick; stick"));
    assert!(found.is_empty(), "{found:?}");
    assert_eq!(job.parts[0].sections, [0, 1]);
    let found = faults(&with("stick; thin stick"));
    assert!(
        found[0].to_string().contains("has another size"),
        "{found:?}"
    );
}

#[test]
fn a_chain_of_sizes_without_end_is_refused_and_not_followed() {
    let names: Vec<String> = (0..200).map(|row| format!("s{row}")).collect();
    let widths: Vec<String> = (0..200)
        .map(|row| format!("[s{}] width", row + 1))
        .collect();
    let fields: Vec<[(&str, &str); 2]> = widths
        .iter()
        .map(|width| [("width", width.as_str()), ("height", "500")])
        .collect();
    let mut rows: Vec<Written> = Vec::new();
    for (name, fields) in names.iter().zip(&fields) {
        rows.push((name, "frame", fields));
    }
    rows.push(("s200", "frame", &[("width", "600"), ("height", "500")]));
    let found = faults(&draft("mm", &[STICK], &rows));
    assert!(
        found[0].to_string().contains("too many sizes wait"),
        "{}",
        found[0]
    );
}

#[test]
fn no_text_in_any_field_makes_the_reading_panic() {
    const PIECES: &[&str] = &[
        "[a] width",
        "[",
        "]",
        "[b]",
        "(",
        ")",
        " + ",
        " - ",
        " x ",
        " / ",
        "x",
        "-",
        "/",
        "0",
        "1/0",
        "12",
        "999999999",
        "1e9",
        "\u{bd}",
        "\u{2212}",
        "mm",
        "'",
        "\"",
        "m",
        "width",
        ".",
        ",",
        ";",
        " ",
        "\u{1f600}",
        "[\u{e9}] \u{e9}",
    ];
    let mut random = Random(29);
    for _ in 0..4_000 {
        let kind = Kind::ALL[random.below(Kind::ALL.len())].about();
        let texts: Vec<(&str, String)> = kind
            .fields
            .iter()
            .filter(|field| {
                field.usual == lengthwise::setout::Usual::Needed || field.sort == Sort::Size
            })
            .map(|field| {
                let length = random.below(6);
                let text = (0..length).map(|_| random.pick(PIECES)).collect();
                (field.field, text)
            })
            .collect();
        let fields: Vec<(&str, &str)> = texts
            .iter()
            .map(|(field, text)| (*field, text.as_str()))
            .collect();
        let draft = draft(
            "mm",
            &[STICK],
            &[
                ("a", kind.kind, &fields),
                (
                    "b",
                    "frame",
                    &[("width", "[a] width"), ("height", "1/3 x 900")],
                ),
            ],
        );
        let (job, found) = examine(&draft);
        assert!(found.iter().all(|fault| !fault.to_string().is_empty()));
        // The page asks for these while there are faults elsewhere.
        let quantities = quantities::work_out(&job);
        assert!(quantities.mass >= 0 && quantities.finish >= 0);
        let rows = quantities::rows(&job, &quantities);
        assert!(rows.iter().all(|row| !row.value.contains('-')));
        assert_eq!(
            cautions::beside_the_plan(&job).is_empty(),
            job.parts.is_empty()
        );
        assert_eq!(job.set_outs.len(), 2);
    }
}
