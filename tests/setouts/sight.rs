//! No size is changed out of sight: the outside sizes of a set-out are shown in one line, and usual values are among the sizes.

use super::small::{Sides, draft, fact, mm, one, part, sound};
use lengthwise::setout::{Kind, Sort, Usual};

const CAP: Sides = ("cap", "20", "95", "");
const FRAME: Sides = ("frame", "45", "70", "");
const BOARD: Sides = ("board", "20", "145", "137");

#[test]
fn a_usual_length_is_never_folded_away_nor_is_what_a_size_refers_to() {
    for kind in Kind::ALL {
        for field in kind.about().all_fields() {
            let usual_length = matches!(field.sort, Sort::Size | Sort::Length)
                && !matches!(field.usual, Usual::Needed | Usual::Nothing);
            let refers = ["around", "measured", "corners", "boards_past"].contains(&field.field);
            if usual_length || refers {
                assert!(field.in_sight, "{} of {kind:?}", field.field);
            }
        }
    }
}

#[test]
fn a_cap_says_its_outside_and_the_overhang_that_makes_it() {
    let cap = |more: &[(&str, &str)]| {
        let mut fields = vec![("width", "900"), ("depth", "600")];
        fields.extend(more);
        one("mm", CAP, "mitred_frame", &fields)
    };
    // 20 mm stand out at each end where nothing is said: 900 + 40 and 600 + 40.
    assert_eq!(
        cap(&[]).makes,
        "outside 940 mm x 640 mm: 900 mm x 600 mm and 20 mm all round"
    );
    assert_eq!(
        cap(&[("overhang", "0")]).makes,
        "outside 900 mm x 600 mm: the box itself"
    );
    // Around an opening: 3 to fit and twice 95, each way.
    assert_eq!(
        cap(&[("around", "an opening"), ("fit", "3")]).makes,
        "outside 1093 mm x 793 mm: an opening of 900 mm x 600 mm and 3 mm each way to fit, and 95 mm all round"
    );
}

#[test]
fn a_mitred_frame_of_its_own_outside_size_has_just_that_size() {
    let fields = [
        ("width", "900"),
        ("depth", "600"),
        ("around", "the outside of the frame"),
    ];
    let set_out = one("mm", CAP, "mitred_frame", &fields);
    assert_eq!(part(&set_out, "long side"), (mm("900"), 2));
    assert_eq!(part(&set_out, "short side"), (mm("600"), 2));
    assert_eq!(fact(&set_out, "short point width"), mm("710"));
    assert_eq!(
        set_out.makes,
        "outside 900 mm x 600 mm as given, inside 710 mm x 410 mm"
    );
}

#[test]
fn every_kind_says_what_it_makes() {
    let made =
        |sides: Sides, kind: &str, fields: &[(&str, &str)]| one("mm", sides, kind, fields).makes;
    assert_eq!(
        made(FRAME, "frame", &[("width", "900"), ("height", "1100")]),
        "outside 900 mm x 1100 mm as given, inside 760 mm x 960 mm"
    );
    assert_eq!(
        made(
            FRAME,
            "box",
            &[("width", "900"), ("depth", "500"), ("height", "700")]
        ),
        "outside 900 mm x 500 mm x 700 mm as given, inside 810 mm x 410 mm"
    );
    assert_eq!(
        made(FRAME, "top_frame", &[("length", "1200"), ("depth", "400")]),
        "outside 1200 mm x 400 mm as given, inside 1110 mm x 310 mm"
    );
    // Six slats of 70 leave 30 of 450 for five gaps.
    let slats = [
        ("span", "430"),
        ("length", "1200"),
        ("count", "6"),
        ("past", "10"),
        ("overhang", "15"),
    ];
    assert_eq!(
        made(("slat", "20", "70", ""), "slats", &slats),
        "6 slats of 1230 mm across 450 mm, gap 6 mm; 1200 mm and 15 mm at each end of a slat; 430 mm and 10 mm on each side of the span"
    );
    // 300 times the root of three is 519.62, and a tape read to half a millimetre shows 519.5.
    assert_eq!(
        made(
            FRAME,
            "polygon",
            &[("size", "300"), ("measured", "along one side")]
        ),
        "6 sides of 300 mm: \u{2248}519.5 mm across the flats, 600 mm across the points"
    );
    assert_eq!(
        made(
            ("stud", "45", "95", ""),
            "spaced",
            &[("span", "1200"), ("height", "2400"), ("plates", "two")]
        ),
        "outside 1200 mm x 2400 mm as given, members of 2310 mm between plates of 45 mm"
    );
    assert_eq!(
        made(
            FRAME,
            "parts",
            &[("length", "640"), ("quantity", "3"), ("label", "runner")]
        ),
        "3 x runner of 640 mm"
    );
}

#[test]
fn boarding_says_what_covering_its_neighbours_and_running_past_add() {
    let fields = [
        ("width", "900"),
        ("height", "700"),
        ("corners", "covers both neighbours"),
        ("past", "30"),
    ];
    assert_eq!(
        one("mm", BOARD, "boarding", &fields).makes,
        "outside 940 mm x 730 mm: 900 mm x 700 mm, 40 mm more across at the corners, 30 mm more in height past the frame"
    );
    let fields = [("width", "900"), ("height", "700")];
    assert_eq!(
        one("mm", BOARD, "boarding", &fields).makes,
        "outside 900 mm x 700 mm: the face itself"
    );
}

#[test]
fn a_cap_follows_the_width_of_a_face_whichever_way_its_boards_run() {
    for run in ["upright", "across"] {
        let face = [
            ("width", "900"),
            ("height", "700"),
            ("run", run),
            ("corners", "covers both neighbours"),
        ];
        let cap = [
            ("width", "[face] boarded width"),
            ("depth", "[face] boarded height"),
            ("overhang", "0"),
        ];
        let job = sound(&draft(
            "mm",
            &[BOARD],
            &[("face", "boarding", &face), ("cap", "mitred_frame", &cap)],
        ));
        assert_eq!(
            fact(&job.set_outs[1], "long point width"),
            mm("940"),
            "{run}"
        );
        assert_eq!(
            fact(&job.set_outs[1], "long point depth"),
            mm("700"),
            "{run}"
        );
    }
}

#[test]
fn a_box_with_an_open_front_says_what_holds_its_front_up() {
    let fields = |front| {
        [
            ("width", "1000"),
            ("depth", "600"),
            ("height", "900"),
            ("front", front),
        ]
    };
    let says = |front| {
        let set_out = one("mm", FRAME, "box", &fields(front));
        set_out
            .notes
            .iter()
            .filter(|note| note.starts_with("The front is open"))
            .cloned()
            .collect::<Vec<_>>()
    };
    assert_eq!(says("closed"), Vec::<String>::new());
    // Between the sides: 1000 less twice 45.
    assert_eq!(
        says("open"),
        [
            "The front is open: the front stiles of the two side panels hold it up, and nothing joins them. Add a tie of 910 mm between them at the top, and another at the bottom; a load on the front edge needs more than a tie."
        ]
    );
}
