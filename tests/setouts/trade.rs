//! Values worked out by hand from the formulas of the trade: common practice without a source, unless one is named.

use crate::small::{draft, fact, faults, marks, mm, number, one, part, sound};
use lengthwise::length::Length;

const FRAME: crate::small::Sides = ("frame", "45", "70", "");

#[test]
fn a_frame_of_600_loses_two_members_where_it_is_butted() {
    let corner = |corner: &'static str| {
        one(
            "mm",
            FRAME,
            "frame",
            &[("width", "600"), ("height", "600"), ("corner", corner)],
        )
    };
    let set_out = corner("butt, stiles run through");
    assert_eq!(part(&set_out, "rail"), (mm("460"), 2));
    assert_eq!(part(&set_out, "stile"), (mm("600"), 2));
    assert_eq!(
        part(&corner("butt, rails run through"), "stile"),
        (mm("460"), 2)
    );
    assert_eq!(part(&corner("halved"), "rail"), (mm("600"), 2));
    let set_out = corner("mitred");
    assert_eq!(part(&set_out, "rail"), (mm("600"), 2));
    assert_eq!(fact(&set_out, "inside width"), mm("460"));
    assert_eq!(fact(&set_out, "diagonal").nearest(mm("0.1")), mm("848.5"));
}

#[test]
fn halved_members_lose_half_their_depth_as_they_lie_from_the_end_to_shoulders_that_are_marked() {
    // Half the thinner of two alike; a shoulder is half the width of the other member from the middle of the crossing, and the middle of a
    // corner is half that width from the end (Fairham, Woodwork Joints; Noyes, Handwork in Wood): 70 or 45 from either end.
    for (seen, lost, shoulders) in [
        ("on the flat", "22.5", [["70", "830"], ["70", "530"]]),
        ("on edge", "35", [["45", "855"], ["45", "555"]]),
        // As older files call it.
        ("wide side", "22.5", [["70", "830"], ["70", "530"]]),
        ("narrow side", "35", [["45", "855"], ["45", "555"]]),
    ] {
        let fields = [
            ("width", "600"),
            ("height", "900"),
            ("corner", "halved"),
            ("noggins", "1"),
            ("seen", seen),
        ];
        let set_out = one("mm", FRAME, "frame", &fields);
        assert_eq!(fact(&set_out, "halving depth"), mm(lost), "{seen}");
        let titles = set_out.positions.iter().map(|one| one.title.as_str());
        assert_eq!(
            titles.collect::<Vec<_>>(),
            [
                "noggins up the stiles",
                "shoulders on each stile",
                "shoulders on each rail"
            ]
        );
        for (at, shoulders) in shoulders.into_iter().enumerate() {
            assert_eq!(set_out.positions[at + 1].datum, "either end of it");
            assert_eq!(marks(&set_out, at + 1), shoulders.map(mm), "{seen}");
        }
        assert_eq!(
            set_out.notes,
            [format!(
                "Halve each corner: take {lost} mm, half of how deep the members lie, off the back of each stile and off the front of each \
                 rail, from the end to the shoulder. The front is the side drawn; gauge every depth from it."
            )]
        );
    }
}

#[test]
fn every_panel_of_a_box_and_a_top_has_the_shoulders_of_its_halvings() {
    let titled = |kind, fields: &[(&str, &str)]| {
        let set_out = one("mm", FRAME, kind, fields);
        let titles = set_out.positions.iter().map(|one| one.title.clone());
        let titles = titles.collect::<Vec<_>>();
        let all = (0..titles.len()).map(|at| marks(&set_out, at));
        titles.into_iter().zip(all).collect::<Vec<_>>()
    };
    let shoulders = |title: &str, at: [&str; 2]| (title.to_owned(), at.map(mm).to_vec());
    // The sides stand between front and back: 500 less twice 45.
    let fields = [
        ("width", "800"),
        ("depth", "500"),
        ("height", "700"),
        ("corner", "halved"),
    ];
    assert_eq!(
        titled("box", &fields),
        [
            shoulders("shoulders on each front or back stile", ["70", "630"]),
            shoulders("shoulders on each front or back rail", ["70", "730"]),
            shoulders("shoulders on each side stile", ["70", "630"]),
            shoulders("shoulders on each side rail", ["70", "340"]),
        ]
    );
    // On edge, as a top lies where nothing else is said.
    let fields = [
        ("length", "1200"),
        ("depth", "400"),
        ("corner", "halved"),
        ("cross_members", "0"),
    ];
    assert_eq!(
        titled("top_frame", &fields),
        [
            shoulders("shoulders on each end", ["45", "355"]),
            shoulders("shoulders on each long rail", ["45", "1155"]),
        ]
    );
}

#[test]
fn noggins_are_as_long_as_their_bay() {
    let set_out = one(
        "mm",
        FRAME,
        "frame",
        &[
            ("width", "1200"),
            ("height", "900"),
            ("uprights", "1"),
            ("noggins", "2"),
            ("seen", "narrow side"),
        ],
    );
    // 1200 - 3 x 45 over two bays; 900 - 2 x 45 - 2 x 45 over three gaps.
    assert_eq!(
        part(&set_out, "noggin"),
        (Length::from_ticks(3_200 * 1_065 / 2), 4)
    );
    assert_eq!(part(&set_out, "upright"), (mm("810"), 1));
    let marks = marks(&set_out, 1);
    assert_eq!(marks, [mm("285"), mm("570")]);
}

#[test]
fn what_an_inch_tape_cannot_show_says_so() {
    // (10 - 4 1/2) / 4 = 1 3/8 is exact; (10 - 3) / 3 = 2 1/3 is 2 5/16 to the nearest sixteenth.
    let gaps = [
        ("3", "3 slats, gap 1 3/8&quot;"),
        ("2", "2 slats, gap \u{2248}2 5/16&quot;"),
    ];
    for (count, told) in gaps {
        let fields = [
            ("span", "10"),
            ("length", "20"),
            ("count", count),
            ("ends", "a gap"),
        ];
        let set_out = one("in", ("stick", "3/4", "1 1/2", ""), "slats", &fields);
        assert!(set_out.svg.contains(told), "{}", set_out.svg);
    }
}

#[test]
fn uprights_at_fixed_centres_are_marked_from_the_outside() {
    let set_out = one(
        "mm",
        FRAME,
        "frame",
        &[
            ("width", "1200"),
            ("height", "900"),
            ("upright_centres", "400"),
            ("noggins", "1"),
            ("seen", "narrow side"),
        ],
    );
    let marks = marks(&set_out, 0);
    // Middles at 22.5 + 400 and 22.5 + 800.
    assert_eq!(marks, [mm("400"), mm("800")]);
    // Bays 45 to 400, 445 to 800, 845 to 1155.
    let bays: Vec<(Length, u32)> = set_out
        .parts
        .iter()
        .filter(|part| part.label.ends_with("noggin"))
        .map(|part| (part.length, part.quantity))
        .collect();
    assert_eq!(bays, [(mm("355"), 2), (mm("310"), 1)]);
}

#[test]
fn four_panels_make_a_box_of_the_outside_size() {
    let set_out = one(
        "mm",
        ("frame", "45", "45", ""),
        "box",
        &[("width", "600"), ("depth", "560"), ("height", "500")],
    );
    assert_eq!(part(&set_out, "front or back rail"), (mm("510"), 4));
    // 560 less two panels of 45, less two stiles of 45.
    assert_eq!(part(&set_out, "side rail"), (mm("380"), 4));
    assert_eq!(part(&set_out, "side stile"), (mm("500"), 4));
    assert_eq!(fact(&set_out, "inside depth"), mm("470"));
}

#[test]
fn a_thin_last_board_of_a_face_of_600_is_shared_between_both_edges() {
    let board = ("board", "20", "145", "137");
    let face = |width: &'static str, edges: &'static str| {
        one(
            "mm",
            board,
            "boarding",
            &[
                ("width", width),
                ("height", "500"),
                ("gap", "0"),
                ("edges", edges),
            ],
        )
    };
    let set_out = face("600", "share where the last is thin");
    assert_eq!(
        fact(&set_out, "last board, laid full from one side"),
        mm("52")
    );
    assert_eq!(part(&set_out, "board"), (mm("500"), 3));
    assert_eq!(part(&set_out, "board ripped to 94.5 mm"), (mm("500"), 2));
    // Its own marks and no others; the other way is told in a sentence.
    assert_eq!(set_out.positions.len(), 1, "{:?}", set_out.positions);
    let said = "Laid from one side: 4 full boards and a last one of 52 mm.";
    assert!(
        set_out.notes.iter().any(|note| note == said),
        "{:?}",
        set_out.notes
    );
    let set_out = face("600", "rip the last board only");
    assert_eq!(part(&set_out, "board ripped to 52 mm"), (mm("500"), 1));
    // A sliver of 12 is shared into two edges of 74.5.
    let set_out = face("560", "share where the last is thin");
    assert_eq!(part(&set_out, "board ripped to 74.5 mm"), (mm("500"), 2));
    assert_eq!(number(&set_out, "boards"), 5);
    // 548 is four boards exactly.
    let set_out = face("548", "share where the last is thin");
    assert_eq!(set_out.parts.len(), 1);
}

#[test]
fn corners_add_or_take_the_thickness_of_the_boards() {
    let board = ("board", "20", "145", "137");
    for (corners, covered) in [
        ("ends with the frame", "600"),
        ("covers both neighbours", "640"),
        ("covers one neighbour", "620"),
        ("stands between both neighbours", "560"),
    ] {
        let fields = [("width", "600"), ("height", "500"), ("corners", corners)];
        assert_eq!(
            fact(&one("mm", board, "boarding", &fields), "covered"),
            mm(covered)
        );
    }
}

#[test]
fn a_face_measured_again_shares_out_what_is_left() {
    let board = ("board", "20", "145", "137");
    let fields = [
        ("width", "1000"),
        ("height", "500"),
        ("gap", "2"),
        ("edges", "rip the last board only"),
        ("laid", "5"),
        ("left", "320"),
    ];
    // 5 laid; then 2 + 137 + 2 + 137 + 2 + 40 = 320.
    let set_out = one("mm", board, "boarding", &fields);
    assert_eq!(part(&set_out, "board"), (mm("500"), 7));
    assert_eq!(part(&set_out, "board ripped to 40 mm"), (mm("500"), 1));
    // With sharing the last two split 137 + 40.
    let fields = [
        ("width", "1000"),
        ("height", "500"),
        ("gap", "2"),
        ("laid", "5"),
        ("left", "320"),
        ("edges", "share where the last is thin"),
    ];
    let set_out = one("mm", board, "boarding", &fields);
    assert_eq!(part(&set_out, "board ripped to 88.5 mm"), (mm("500"), 2));
}

#[test]
fn a_seat_of_450_in_slats_of_70_has_these_counts_and_gaps() {
    for (ends, count, gap) in [
        ("a slat", "6", "6"),
        ("a slat", "5", "25"),
        ("a gap", "6", "4.29"),
        ("a gap", "5", "16.67"),
    ] {
        let fields = [
            ("span", "450"),
            ("length", "1200"),
            ("count", count),
            ("ends", ends),
        ];
        let set_out = one("mm", ("slat", "20", "70", ""), "slats", &fields);
        assert_eq!(fact(&set_out, "equal gap").nearest(mm("0.01")), mm(gap));
    }
    // 8 mm are wanted: six slats leave 6, five leave 25.
    let fields = [("span", "450"), ("length", "1200"), ("gap", "8")];
    let set_out = one("mm", ("slat", "20", "70", ""), "slats", &fields);
    assert_eq!(number(&set_out, "slats"), 6);
    // At most 20 mm are allowed.
    let fields = [("span", "450"), ("length", "1200"), ("most_gap", "20")];
    let set_out = one("mm", ("slat", "20", "70", ""), "slats", &fields);
    assert_eq!(number(&set_out, "slats"), 6);
}

#[test]
fn a_cap_of_95_on_a_box_of_600_covers_75_inwards() {
    let fields = [("width", "600"), ("depth", "600"), ("overhang", "20")];
    let set_out = one("mm", ("cap", "20", "95", ""), "mitred_frame", &fields);
    assert_eq!(part(&set_out, "side"), (mm("640"), 4));
    assert_eq!(fact(&set_out, "short point width"), mm("450"));
    assert_eq!(fact(&set_out, "inward cover"), mm("75"));
}

#[test]
fn studs_of_45_at_400_in_1200_are_four() {
    let fields = [("span", "1200"), ("height", "2400"), ("plates", "two")];
    let set_out = one("mm", ("stud", "45", "95", ""), "spaced", &fields);
    assert_eq!(part(&set_out, "member"), (mm("2310"), 4));
    assert_eq!(part(&set_out, "plate"), (mm("1200"), 2));
    let centres = marks(&set_out, 1);
    // From the middle of the first: 22.5 and twice 400 on; what is left to the last is 355.
    assert_eq!(
        centres,
        [mm("22.5"), mm("422.5"), mm("822.5"), mm("1177.5")]
    );
}

#[test]
fn sheets_break_on_studs_at_400_and_800_where_the_tape_runs_from_the_outside_face() {
    let fields = [
        ("span", "1200"),
        ("height", "2400"),
        ("centres_from", "the outside face"),
        ("end_members", "doubled"),
    ];
    let set_out = one("mm", ("stud", "45", "95", ""), "spaced", &fields);
    let centres = marks(&set_out, 1);
    assert_eq!(
        centres,
        ["22.5", "67.5", "400", "800", "1132.5", "1177.5"].map(mm)
    );
    let said = "At 400 mm from the outside face, so that sheets break on members; the end members are doubled.";
    assert!(
        set_out.notes.iter().any(|note| note == said),
        "{:?}",
        set_out.notes
    );
}

#[test]
fn equal_bays_of_doubled_ends_are_equal_between_the_inner_ones() {
    let fields = [
        ("span", "1845"),
        ("height", "2400"),
        ("centres", "600"),
        ("spacing", "equal, no wider than the centres"),
        ("end_members", "doubled"),
    ];
    let set_out = one("mm", ("stud", "45", "95", ""), "spaced", &fields);
    // Between 45 and 1800 lie 1755: (1755 - 45) / 600 makes three bays, each 570 from member to member.
    let near_edges = marks(&set_out, 0);
    assert_eq!(
        near_edges,
        ["0", "45", "615", "1185", "1755", "1800"].map(mm)
    );
}

#[test]
fn a_difference_of_4_in_the_diagonals_of_a_600_square_is_2_8_out() {
    let fields = [
        ("span", "600"),
        ("height", "600"),
        ("diagonal_one", "850.5"),
        ("diagonal_two", "846.5"),
    ];
    let set_out = one("mm", ("stud", "45", "95", ""), "spaced", &fields);
    assert_eq!(
        fact(&set_out, "out of square").nearest(mm("0.1")),
        mm("2.8")
    );
}

#[test]
fn rings_are_those_of_the_textbook_polygons() {
    let ring = |sides: &'static str, measured: &'static str| {
        let fields = [("size", "1000"), ("sides", sides), ("measured", measured)];
        one("mm", ("rim", "20", "95", ""), "polygon", &fields)
    };
    // A square across its flats has sides of that size; a hexagon's side is half the circle through its points.
    assert_eq!(
        part(&ring("4", "across the flats"), "side"),
        (mm("1000"), 4)
    );
    assert_eq!(
        part(&ring("6", "across the points"), "side"),
        (mm("500"), 6)
    );
    // tan 22.5 degrees is the square root of 2, less 1: 0.41421356.
    let octagon = ring("8", "across the flats");
    assert_eq!(part(&octagon, "side").0.nearest(mm("0.01")), mm("414.21"));
    // Each end of a side of 95 mm timber at 22.5 degrees stands back 39.35.
    let set_back = part(&octagon, "side").0 - fact(&octagon, "short point side");
    assert_eq!(set_back.nearest(mm("0.01")), mm("78.7"));
    assert_eq!(
        fact(&octagon, "across the flats").nearest(mm("0.01")),
        mm("1000")
    );
}

#[test]
fn a_wall_just_over_its_last_centre_takes_no_stud_more() {
    // The end stud of a wall of 1245 has its middle at 1222.5, just 400 behind the one at 822.5.
    let fields = [("span", "1245"), ("height", "2400")];
    let set_out = one("mm", ("stud", "45", "95", ""), "spaced", &fields);
    assert_eq!(number(&set_out, "members"), 4);
    // At 1246 it is out of reach, and the last one between goes midway instead of tight against it.
    let fields = [("span", "1246"), ("height", "2400")];
    let set_out = one("mm", ("stud", "45", "95", ""), "spaced", &fields);
    assert_eq!(number(&set_out, "members"), 5);
    assert_eq!(set_out.positions[0].marks[3].at, mm("1000.5"));
}

#[test]
fn a_box_with_an_open_front_has_three_panels() {
    let fields = [
        ("width", "1000"),
        ("depth", "600"),
        ("height", "900"),
        ("front", "open"),
    ];
    let set_out = one("mm", FRAME, "box", &fields);
    assert_eq!(part(&set_out, "back stile"), (mm("900"), 2));
    // Only the back stands before the ends of the sides: 600 less 45, less two stiles of 70.
    assert_eq!(part(&set_out, "side rail"), (mm("415"), 4));
    assert_eq!(fact(&set_out, "inside depth"), mm("555"));
    assert_eq!(fact(&set_out, "inside width"), mm("910"));
}

#[test]
fn a_last_board_that_is_wide_enough_stays_as_it_is_laid() {
    let board = ("board", "20", "145", "137");
    // 628 is four boards and 80, more than half of 137; a least width of 90 makes it thin.
    let fields = [("width", "628"), ("height", "500"), ("gap", "0")];
    let set_out = one("mm", board, "boarding", &fields);
    assert_eq!(part(&set_out, "board ripped to 80 mm"), (mm("500"), 1));
    let fields = [fields[0], fields[1], fields[2], ("least_rip", "90")];
    let set_out = one("mm", board, "boarding", &fields);
    assert_eq!(part(&set_out, "board ripped to 108.5 mm"), (mm("500"), 2));
}

#[test]
fn a_shelf_frame_has_long_rails_and_cross_members_between_them() {
    let frame = |corner: &'static str| {
        let fields = [("length", "1200"), ("depth", "400"), ("corner", corner)];
        one("mm", FRAME, "top_frame", &fields)
    };
    // On edge, so each rail takes 45.
    let set_out = frame("butt, long rails run through");
    assert_eq!(part(&set_out, "long rail"), (mm("1200"), 2));
    assert_eq!(part(&set_out, "end"), (mm("310"), 2));
    assert_eq!(part(&set_out, "cross member"), (mm("310"), 1));
    let set_out = frame("butt, ends run through");
    assert_eq!(part(&set_out, "long rail"), (mm("1110"), 2));
    assert_eq!(part(&set_out, "end"), (mm("400"), 2));
    assert_eq!(fact(&set_out, "inside length"), mm("1110"));
    assert_eq!(fact(&set_out, "inside depth"), mm("310"));
}

#[test]
fn a_panel_tells_its_clear_size_and_slats_their_overhangs() {
    let set_out = one("mm", FRAME, "frame", &[("width", "800"), ("height", "500")]);
    assert_eq!(fact(&set_out, "inside width"), mm("660"));
    assert_eq!(fact(&set_out, "inside height"), mm("360"));
    let fields = [
        ("span", "400"),
        ("length", "1000"),
        ("count", "5"),
        ("past", "15"),
        ("overhang", "25"),
    ];
    // 430 less 5 x 70 over four gaps.
    let set_out = one("mm", ("slat", "20", "70", ""), "slats", &fields);
    assert_eq!(fact(&set_out, "equal gap"), mm("20"));
    assert_eq!(part(&set_out, "slat"), (mm("1050"), 5));
}

#[test]
fn a_lattice_has_as_few_laths_as_leave_no_wider_gaps() {
    // Own arithmetic by the counting rule of slat fences. 900 in laths of 45 with gaps of at most 100: ceil(1000 / 145) is 7, and 585 / 6 is 97.5 between them.
    // 600: ceil(700 / 145) is 5, 375 / 4 is 93.75. 35 crossings of a lath 45 wide over one 20 thick.
    let fields = [("width", "900"), ("height", "600"), ("gap", "100")];
    let set_out = one("mm", ("lath", "20", "45", ""), "lattice", &fields);
    assert_eq!(part(&set_out, "upright lath"), (mm("600"), 7));
    assert_eq!(part(&set_out, "lath across"), (mm("900"), 5));
    assert_eq!(fact(&set_out, "gap between uprights"), mm("97.5"));
    assert_eq!(fact(&set_out, "gap between laths across"), mm("93.75"));
    assert_eq!(set_out.joints[0].count, 35);
    let marks: Vec<Length> = marks(&set_out, 1);
    assert_eq!(marks[1], mm("138.75"));
    let tight = [("width", "100"), ("height", "600"), ("gap", "1")];
    let draft = draft(
        "mm",
        &[("lath", "20", "45", "")],
        &[("it", "lattice", &tight)],
    );
    let told: Vec<String> = faults(&draft)
        .iter()
        .map(|fault| fault.kind.to_string())
        .collect();
    assert_eq!(
        told,
        ["no number of laths leaves gaps as narrow as this; make the gaps wider"]
    );
}

#[test]
fn a_member_of_its_own_section_goes_where_something_is_fixed_and_parts_the_bays_it_crosses() {
    // 1000 x 2000 in 45 x 70, its wide side seen: 860 x 1860 inside. One upright of 70 in the middle leaves bays of 395. A rail of 95 at 900 from
    // below is in two of these.
    let frame = |more: &[(&str, &str)]| {
        let mut fields = vec![("width", "1000"), ("height", "2000"), ("section", "frame")];
        fields.extend(more);
        draft(
            "mm",
            &[FRAME, ("wide", "45", "95", "")],
            &[("it", "frame", &fields)],
        )
    };
    let worked = |more: &[(&str, &str)]| sound(&frame(more)).set_outs[0].clone();
    let across = worked(&[
        ("uprights", "1"),
        ("fixing_at", "900"),
        ("fixing_section", "wide"),
    ]);
    assert_eq!(part(&across, "fixing noggin"), (mm("395"), 2));
    let fixing = across
        .parts
        .iter()
        .find(|part| part.label.ends_with("fixing noggin"));
    assert_eq!(fixing.expect("it").sections, [1]);
    let mark = across
        .positions
        .iter()
        .find(|one| one.title == "fixing noggin up the stiles");
    assert_eq!(mark.expect("a mark").marks[0].at, mm("900"));
    // Upright at 300 from the left it stands from 230 to 325 inside: a row of noggins is 230 and 535 long.
    let upright = worked(&[
        ("noggins", "1"),
        ("fixing_at", "300"),
        ("fixing_runs", "upright"),
        ("fixing_section", "wide"),
    ]);
    assert_eq!(part(&upright, "fixing upright"), (mm("1860"), 1));
    let noggins: Vec<Length> = upright
        .parts
        .iter()
        .filter(|part| part.label == "it: noggin")
        .map(|part| part.length)
        .collect();
    assert_eq!(noggins, [mm("230"), mm("535")]);
    // In another's place, or with a section and no place, it is a fault there.
    for more in [
        &[
            ("uprights", "1"),
            ("fixing_at", "480"),
            ("fixing_runs", "upright"),
        ][..],
        &[("fixing_at", "1900")],
        &[("fixing_section", "wide")],
    ] {
        let found = faults(&frame(more));
        let places: Vec<&str> = found
            .iter()
            .map(|fault| fault.place.field.as_str())
            .collect();
        assert_eq!(places, ["fixing_at"], "{more:?}");
    }
}
