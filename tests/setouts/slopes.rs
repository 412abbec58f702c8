//! Braces, rafters, splayed legs and runs of posts against printed tables and worked examples. Each has its source beside it; where figures
//! were worked out for the test by a second way, polygons or vectors, it says so.

use super::small::{Sides, draft, fact, faults, number, one, part, sound};
use lengthwise::job::{Leans, PartEnd};
use lengthwise::length::Length;
use lengthwise::setout::SetOut;

/// A length in hundredths of a millimetre or of an inch, to the nearest.
fn hundredths(length: Length, of: i64) -> i64 {
    (200 * length.ticks() + of).div_euclid(2 * of)
}

const MM: i64 = 3_200;
const INCH: i64 = 81_280;

fn rafters(unit: &str, depth: &str, rise: &str, more: &[(&str, &str)]) -> SetOut {
    let sides = match unit {
        "in" => ("rafter", "1 1/2", "3 1/2", ""),
        _ => ("rafter", "45", "70", ""),
    };
    let length = if unit == "in" { "8'" } else { "2400" };
    let mut fields = vec![("length", length), ("depth", depth), ("rise", rise)];
    fields.extend(more);
    one(unit, sides, "rafters", &fields)
}

fn millidegrees(set_out: &SetOut, label: &str) -> u32 {
    let part = set_out
        .parts
        .iter()
        .find(|part| part.label.ends_with(label));
    match part.expect("the part").ends {
        [one, PartEnd::Mitre(angle)] => {
            assert!([PartEnd::Square, PartEnd::Mitre(angle)].contains(&one));
            angle.millidegrees()
        }
        ends => panic!("{ends:?}"),
    }
}

/// For each rise in inches to a foot of run, the length of a common rafter in hundredths of an inch and its pitch in hundredths of a degree.
const TABLE: [(u32, i64, u32); 17] = [
    (2, 1_217, 946),
    (3, 1_237, 1_404),
    (4, 1_265, 1_843),
    (5, 1_300, 2_262),
    (6, 1_342, 2_657),
    (7, 1_389, 3_026),
    (8, 1_442, 3_369),
    (9, 1_500, 3_687),
    (10, 1_562, 3_981),
    (11, 1_628, 4_251),
    (12, 1_697, 4_500),
    (13, 1_769, 4_729),
    (14, 1_844, 4_940),
    (15, 1_921, 5_134),
    (16, 2_000, 5_313),
    (17, 2_081, 5_478),
    (18, 2_163, 5_631),
];

#[test]
fn rafters_have_the_lengths_on_the_carpenters_square() {
    // The line "length of common rafters per foot of run" of the steel square, as printed by instructables.com (Common rafter) and, for 13 and
    // 16, by US Army EN0069, Frame Structures, p. 60. The pitches are arcus tangens of the same.
    for (rise, common, pitch) in TABLE {
        let set_out = rafters("in", "12", &rise.to_string(), &[]);
        assert_eq!(
            hundredths(fact(&set_out, "slope length"), INCH),
            common,
            "{rise}"
        );
        assert!(
            millidegrees(&set_out, "rafter").abs_diff(10 * pitch) <= 5,
            "{rise}"
        );
    }
}

#[test]
fn jack_rafters_differ_by_the_length_over_their_spacing() {
    // US Navy NAVEDTRA 14044, figures 2-51 and 2-41: 8 in 12 at 16 in, 19.23.
    assert_eq!(
        hundredths(
            fact(&rafters("in", "16", "16 * 8 / 12", &[]), "slope length"),
            INCH
        ),
        1_923
    );
}

#[test]
fn a_rafter_of_seven_in_twelve_over_eight_feet_is_111_inches_and_an_eighth() {
    // NAVEDTRA 14044, figure 2-17: 111.12, said as 111 1/8.
    let line = fact(&rafters("in", "8'", "56", &[]), "slope length");
    assert_eq!(hundredths(line, INCH), 11_114);
    assert_eq!((line.ticks() * 8 + INCH / 2) / INCH, 889);
}

#[test]
fn braces_of_equal_runs_have_the_lengths_of_the_old_table() {
    // NAVEDTRA 14044, p. 2-8: 24, 27, 30 and 8; W. Noyes, Handwork in Wood: 54; F. T. Hodgson, ABC of the Steel Square, 7 and 21: 21, and 18 by 24;
    // NAVEDTRA 14044, Scales: a run of 60 and a rise of 72. All are diagonals, as the length of a slope is.
    for (run, rise, line) in [
        ("24", "24", 3_394),
        ("27", "27", 3_818),
        ("30", "30", 4_243),
        ("8", "8", 1_131),
        ("54", "54", 7_637),
        ("21", "21", 2_970),
        ("18", "24", 3_000),
        ("60", "72", 9_372),
    ] {
        let set_out = rafters("in", run, rise, &[]);
        assert_eq!(
            hundredths(fact(&set_out, "slope length"), INCH),
            line,
            "{run} {rise}"
        );
    }
}

#[test]
fn a_lean_to_of_two_and_a_half_metres_has_rafters_of_2549_and_a_half() {
    // basiccarpentrytechniques.com: walls of 2500 and 2000, 2500 apart: 2549.5; an overhang of 500 is 510 along the slope.
    let line = fact(&rafters("mm", "2500", "500", &[]), "slope length");
    assert_eq!((hundredths(line, MM) + 5) / 10, 25_495);
    let over = fact(
        &rafters("mm", "2500", "500", &[("overhang_front", "500")]),
        "slope length",
    );
    assert_eq!((hundredths(over - line, MM) + 50) / 100, 510);
    // jlconline.com: walls that differ by 24 in at 6 in 12 are 48 in apart.
    assert_eq!(
        millidegrees(&rafters("in", "48", "24", &[]), "rafter"),
        millidegrees(&rafters("in", "12", "6", &[]), "rafter")
    );
}

#[test]
fn plumb_ends_add_their_slant_to_the_length_of_a_rafter() {
    // Own arithmetic: 800 on the level, 10 degrees, 50 and 30 over: 880 / cos 10 = 893.6; with 70 tan 10 it is 905.9; 70 / cos 10 = 71.08.
    let over = [("overhang_front", "50"), ("overhang_back", "30")];
    let set_out = rafters("mm", "800", "141.06", &over);
    assert_eq!(
        (hundredths(fact(&set_out, "slope length"), MM) + 5) / 10,
        8_936
    );
    assert_eq!(
        (hundredths(fact(&set_out, "rafter length"), MM) + 5) / 10,
        9_059
    );
    assert_eq!(hundredths(fact(&set_out, "plumb depth"), MM), 7_108);
    assert_eq!(millidegrees(&set_out, "rafter"), 10_000);
}

#[test]
fn two_slopes_meet_at_the_ridge_which_shortens_them_by_half_its_thickness_on_the_level() {
    // 2000 over the walls and 1000 up: 45 degrees. Half of a ridge of 45 is 22.5, so 977.5 on the level, 1382.39 along the slope.
    let ridge = [
        ("slopes", "two"),
        ("ridge_section", "rafter"),
        ("centres", "600"),
    ];
    let set_out = rafters("mm", "2000", "1000", &ridge);
    assert_eq!(hundredths(fact(&set_out, "slope length"), MM), 138_239);
    // 2355 between the middles of the end rafters at no more than 600: four bays, five pairs.
    assert_eq!(part(&set_out, "rafter").1, 10);
    assert_eq!(part(&set_out, "ridge"), (Length::from_mm(2_400), 1));
}

/// Width, height and width of the brace; what it is sawn against; the saw's angle, then edge, length over all and mark, in hundredths.
type BraceRow = ([&'static str; 3], &'static str, u32, [i64; 3]);

#[test]
fn braces_fit_their_corners() {
    // Formulas in words: tp69.blog, Mitre angles for gate braces, and dougaj4, Geometry for joiners; figures worked out for this
    // test and checked with polygons.
    let rows: [BraceRow; 6] = [
        (
            ["600", "800", "100"],
            "the rails",
            31_131,
            [93_459, 99_499, 11_682],
        ),
        (
            ["600", "800", "100"],
            "the stiles",
            47_391,
            [88_627, 99_499, 14_771],
        ),
        (
            ["700", "600", "95"],
            "the rails",
            43_484,
            [82_694, 91_705, 13_093],
        ),
        (
            ["900", "450", "70"],
            "the rails",
            59_446,
            [88_521, 100_379, 13_770],
        ),
        (
            ["1000", "1000", "100"],
            "the rails",
            40_945,
            [132_391, 141_067, 13_239],
        ),
        (
            ["720", "650", "95"],
            "the rails",
            42_300,
            [87_888, 96_534, 12_845],
        ),
    ];
    for ([width, height, wide], against, angle, lengths) in rows {
        let fields = [("width", width), ("height", height), ("against", against)];
        let set_out = one("mm", ("b", "20", wide, ""), "brace", &fields);
        let found =
            ["long edge", "brace length", "mark"].map(|name| hundredths(fact(&set_out, name), MM));
        assert_eq!(found, lengths, "{width} {height} {wide} {against}");
        // The last angle was worked out to a hundredth.
        assert!(
            millidegrees(&set_out, "brace").abs_diff(angle) <= 5,
            "{width} {height}"
        );
        assert_eq!(set_out.parts[0].leans, Leans::Same);
        assert_eq!(part(&set_out, "brace").0, fact(&set_out, "brace length"));
        // Rounded one way wherever it is told: down, since it goes between others.
        let written: &[(&str, &str)] = &fields;
        let style = sound(&draft(
            "mm",
            &[("b", "20", wide, "")],
            &[("it", "brace", written)],
        ))
        .style();
        let told = set_out.parts[0].told_length(style).told();
        let length = fact(&set_out, "brace length");
        assert_eq!(set_out.shown(length, style).told(), told);
        assert!(
            set_out
                .makes
                .ends_with(&format!("a brace of {told} over all")),
            "{}",
            set_out.makes
        );
    }
}

#[test]
fn a_flat_brace_is_warned_of_and_one_for_both_hands_is_a_pair() {
    let brace = |fields: &[(&str, &str)]| one("mm", ("b", "20", "70", ""), "brace", fields);
    let says = |set_out: &SetOut| {
        set_out
            .notes
            .iter()
            .any(|note| note.contains("less than 45 degrees"))
    };
    // 900 by 450 lies at 30.6 degrees to the rails, 450 by 900 at 68.
    assert!(says(&brace(&[("width", "900"), ("height", "450")])));
    assert!(!says(&brace(&[("width", "450"), ("height", "900")])));
    let pair = brace(&[
        ("width", "450"),
        ("height", "900"),
        ("hand", "left and right"),
    ]);
    assert_eq!(
        (pair.parts.len(), pair.parts[0].quantity, pair.parts[0].pair),
        (1, 2, true)
    );
    // With a good face out the two are cut as left and right.
    let hands = brace(&[
        ("width", "450"),
        ("height", "900"),
        ("hand", "left and right"),
        ("face", "good face out"),
    ]);
    let cut: Vec<(bool, u32, Leans)> = hands
        .parts
        .iter()
        .map(|part| (part.label.ends_with(" L"), part.quantity, part.leans))
        .collect();
    assert_eq!(cut, [(true, 1, Leans::Same), (false, 1, Leans::Mirrored)]);
}

#[test]
fn splayed_legs_have_the_lengths_of_the_right_triangle() {
    // Worked out for this test: height, half of the spread, width; edge, over all and foot out, each in hundredths. The half spread is the foot out and the
    // width of a leg on the level: 364.0 + 70 / cos 20, 187.6 + 95 / cos 15, 105.8 + 45 / cos 10.
    for (height, half, wide, lengths, angle) in [
        ("1000", "438.462", "70", [106_418, 108_966, 36_397], 20_000),
        ("700", "285.915", "95", [72_469, 75_015, 18_756], 15_000),
        ("600", "151.490", "45", [60_926, 61_719, 10_580], 10_000),
    ] {
        let spread = format!("2 * {half}");
        let height = format!("{height} + 20");
        let fields = [
            ("height", height.as_str()),
            ("spread", &spread),
            ("length", "900"),
            ("tie_up", "100"),
            ("beam_section", "b"),
        ];
        let draft = super::small::draft(
            "mm",
            &[("b", "20", "120", ""), ("leg", "20", wide, "")],
            &[(
                "it",
                "trestle",
                &[
                    ("section", "leg"),
                    fields[0],
                    fields[1],
                    fields[2],
                    fields[3],
                    fields[4],
                ],
            )],
        );
        let job = sound(&draft);
        let set_out = &job.set_outs[0];
        let found =
            ["leg edge", "leg length", "foot out"].map(|name| hundredths(fact(set_out, name), MM));
        for (found, wanted) in found.into_iter().zip(lengths) {
            assert!((found - wanted).abs() <= 1, "{found} {wanted}");
        }
        assert!(millidegrees(set_out, "leg").abs_diff(angle) <= 1);
        assert_eq!(
            (
                part(set_out, "leg").1,
                part(set_out, "tie").1,
                part(set_out, "beam").1
            ),
            (4, 2, 1)
        );
        // The tie spans the spread less what the legs stand in at its lower edge, 100 up.
        let tie = 2 * fact(set_out, "foot out").ticks();
        let spread = 2 * (fact(set_out, "spread").ticks() / 2);
        let stands_in = (tie * 100 * MM + 500 * MM) / (set_out_height(set_out) - 20 * MM);
        assert!((part(set_out, "tie").0.ticks() - (spread - stands_in)).abs() <= 2);
    }
}

fn set_out_height(set_out: &SetOut) -> i64 {
    fact(set_out, "height").ticks()
}

#[test]
fn a_run_of_posts_has_equal_bays_no_wider_than_asked() {
    // Own arithmetic by the counting rule of members at centres: ceil((L - p) / c) bays, (L - p) / n - p clear.
    for (length, post, centres, bays, clear) in [
        ("10000", "100", "1800", 6, 155_000),
        ("10000", "100", "3000", 4, 237_500),
        ("7300", "75", "1830", 4, 173_125),
    ] {
        let sides: Sides = ("post", post, post, "");
        let fields = [
            ("length", length),
            ("height", "1800"),
            ("centres", centres),
            ("rails", "3"),
        ];
        let set_out = one("mm", sides, "fence", &fields);
        assert_eq!(number(&set_out, "bays"), bays, "{length} {centres}");
        assert_eq!(hundredths(fact(&set_out, "clear bay"), MM), clear);
        assert_eq!(part(&set_out, "post"), (Length::from_mm(2_400), bays + 1));
        assert_eq!(
            part(&set_out, "rail"),
            (fact(&set_out, "clear bay"), 3 * bays)
        );
    }
    // diynot.com: a fence of 6 ft stands on posts of 8 ft, a quarter of them in the ground.
    let fields = [("length", "18'"), ("height", "6'"), ("ground", "6' / 3")];
    let set_out = one("in", ("post", "4", "4", ""), "fence", &fields);
    assert_eq!(part(&set_out, "post").0, Length::from_ticks(96 * INCH));
}

#[test]
fn a_store_with_a_sloping_top_has_posts_and_rails_to_the_slope() {
    // 1200 wide, 600 deep, 1500 at the front and 1300 at the back; posts of 70 square, rails of 38 by 70. The slope falls 200 over 600.
    let fields = [
        ("width", "1200"),
        ("depth", "600"),
        ("height", "1500"),
        ("back_height", "1300"),
        ("section", "post"),
        ("rail_section", "rail"),
    ];
    let draft = super::small::draft(
        "mm",
        &[("post", "70", "70", ""), ("rail", "38", "70", "")],
        &[("it", "posts_and_rails", &fields)],
    );
    let job = sound(&draft);
    let set_out = &job.set_outs[0];
    let list: Vec<(&str, u32, i64)> = set_out
        .parts
        .iter()
        .map(|part| {
            (
                part.label.as_str(),
                part.quantity,
                hundredths(part.length, MM),
            )
        })
        .collect();
    assert_eq!(
        list,
        [
            // The longer edge of a post: at the outside of the front, and 70 before the back, 1300 + 200 x 70 / 600.
            ("it: front post", 2, 150_000),
            ("it: back post", 2, 132_333),
            ("it: front rail", 2, 106_000),
            ("it: back rail", 2, 106_000),
            ("it: side rail", 2, 46_000),
            // 460 sqrt(600² + 200²) / 600 + 70 x 200 / 600 = 484.883 + 23.333.
            ("it: sloping rail", 2, 50_822),
        ]
    );
    // atan(200 / 600) is 18.435 degrees.
    for label in ["front post", "back post", "sloping rail"] {
        assert_eq!(millidegrees(set_out, label), 18_435, "{label}");
    }
    assert_eq!(hundredths(fact(set_out, "slope length"), MM), 63_246);
    let makes = "outside 1200 mm x 600 mm, 1500 mm at the front and 1300 mm at the back high";
    assert_eq!(set_out.makes, makes);
}

#[test]
fn parts_have_the_persons_names_wherever_they_are_named() {
    let fields = |called| [("length", "3000"), ("height", "1000"), ("called", called)];
    let set_out = one(
        "mm",
        ("post", "90", "90", ""),
        "fence",
        &fields("Post = stake; rail = rung"),
    );
    let labels: Vec<&str> = set_out
        .parts
        .iter()
        .map(|part| part.label.as_str())
        .collect();
    assert_eq!(labels, ["it: stake", "it: rung"]);
    assert_eq!(set_out.positions[0].marks[1].label, "middle of stake 2");
    assert_eq!(set_out.joints[0].what, "rung ends on posts");
    let told = |called| {
        let draft = super::small::draft(
            "mm",
            &[("post", "90", "90", "")],
            &[("it", "fence", &fields(called))],
        );
        let faults = super::small::faults(&draft);
        assert_eq!(
            (faults.len(), faults[0].place.field.as_str()),
            (1, "called")
        );
        faults[0].kind.to_string()
    };
    assert_eq!(
        told("pots = stake"),
        "no part here is called \"pots\"; there are post, rail"
    );
    let pair = "write the usual name, an equals sign and yours, such as post = leg; rail = ledge";
    assert_eq!(told("post"), pair);
    assert_eq!(told("post ="), pair);
}

#[test]
fn members_of_what_has_the_persons_names_are_found_in_the_list() {
    let fields = [
        ("width", "900"),
        ("depth", "500"),
        ("height", "1200"),
        ("back_height", "1100"),
        ("called", "front post = stile; sloping rail = barge"),
        ("face", "good face out"),
    ];
    let draft = super::small::draft(
        "mm",
        &[("post", "70", "70", "")],
        &[("it", "posts_and_rails", &fields)],
    );
    let job = sound(&draft);
    let members = lengthwise::setout::members(&job.set_outs[0], &job.sections).expect("members");
    let parts: u32 = job.set_outs[0].parts.iter().map(|part| part.quantity).sum();
    assert_eq!(members.len(), parts as usize);
    // With a good face out the two sloping rails are cut as left and right; the left one stands at the left.
    let of = |label: &str| {
        let row = job.set_outs[0]
            .parts
            .iter()
            .position(|part| part.label == label)
            .expect(label);
        let member = members
            .iter()
            .find(|member| member.part == row)
            .expect("a member");
        member.body[0].bounds()[0][0]
    };
    assert_eq!((of("it: barge L"), of("it: barge R")), (0, 830 * MM));
}

fn angle_of(end: PartEnd) -> (u32, u32) {
    match end {
        PartEnd::Square => (0, 0),
        PartEnd::Mitre(angle) => (angle.millidegrees(), angle.tilt()),
    }
}

#[test]
fn staves_have_the_widths_of_a_woodworkers_table() {
    // woodmagazine.com, Staves and segments: the width of a stave times this is the width across the flats.
    for (sides, factor) in [
        ("6", "1.73205"),
        ("8", "2.41421"),
        ("10", "3.07768"),
        ("12", "3.73205"),
        ("16", "5.02734"),
    ] {
        let flats = format!("100 x {factor}");
        let fields = [
            ("width", flats.as_str()),
            ("height", "400"),
            ("sides", sides),
        ];
        let set_out = one("mm", ("board", "20", "145", ""), "staves", &fields);
        assert_eq!(
            hundredths(fact(&set_out, "side at the top"), MM),
            10_000,
            "{sides}"
        );
        let rip = set_out.parts[0].rip.expect("it is ripped");
        assert_eq!(part(&set_out, "stave").0, Length::from_mm(400));
        // The edges stand at half of what a side takes of a turn.
        let half = 180_000 / sides.parse::<u32>().expect("a number");
        assert_eq!(rip.edges.map(angle_of), [(half, 0); 2]);
    }
    // Where nothing is said there are the fewest that a board is wide enough for: 600 tan (180 / 12) is 160.8, 600 tan (180 / 14) is 136.9.
    let fields = [("width", "600"), ("height", "400")];
    let set_out = one("mm", ("board", "20", "145", ""), "staves", &fields);
    assert_eq!(number(&set_out, "sides"), 14);
    // The same: a hexagon of 24 in across the flats has sides of 13 55/64.
    let fields = [("width", "24"), ("height", "20"), ("sides", "6")];
    let set_out = one("in", ("board", "3/4", "14", ""), "staves", &fields);
    assert_eq!(hundredths(fact(&set_out, "side at the top"), INCH), 1_386);
}

#[test]
fn tapered_staves_lean_taper_and_are_bevelled_as_a_compound_mitre() {
    // Own arithmetic, checked with vectors: sides, widths across the flats at the top and the bottom, height; slant, widths of a stave, taper and bevel.
    for (sides, [top, bottom, height], [slant, wide, narrow], taper, bevel) in [
        (
            "12",
            ["500", "400", "400"],
            [40_311, 13_397, 10_718],
            "1.9",
            14_881,
        ),
        (
            "8",
            ["600", "500", "450"],
            [45_277, 24_853, 20_711],
            "2.6",
            22_355,
        ),
        (
            "16",
            ["450", "380", "350"],
            [35_175, 8_951, 7_559],
            "1.1",
            11_193,
        ),
    ] {
        let fields = [
            ("width", top),
            ("bottom_width", bottom),
            ("height", height),
            ("sides", sides),
        ];
        let set_out = one("mm", ("board", "20", "250", ""), "staves", &fields);
        let found = ["slant", "side at the top", "side at the bottom"]
            .map(|name| hundredths(fact(&set_out, name), MM));
        assert_eq!(found, [slant, wide, narrow], "{sides}");
        let rip = set_out.parts[0].rip.expect("it is ripped");
        assert!(angle_of(rip.edges[0]).0.abs_diff(bevel) <= 1, "{rip:?}");
        let says = format!("{taper}\u{b0} each");
        assert!(
            set_out.notes.iter().any(|note| note.contains(&says)),
            "{:?}",
            set_out.notes
        );
    }
}

#[test]
fn hoppers_are_sawn_as_the_table_of_a_mitre_saw_says() {
    // Manual of a 315 mm mitre saw, manualsdump.com, 276873, p. 24, which counts the pitch from flat: sides, how far off upright that is, mitre and tilt in
    // hundredths. The rows at 5, 15 and 25 degrees were worked out by the same formulas and checked with vectors.
    for (sides, off, mitre, tilt) in [
        ("4", 45.0, 3_526, 3_000),
        ("6", 60.0, 2_657, 1_448),
        ("8", 50.0, 1_760, 1_424),
        ("4", 5.0, 498, 4_478),
        ("4", 15.0, 1_451, 4_308),
        ("6", 15.0, 850, 2_888),
        ("8", 25.0, 993, 2_029),
    ] {
        let lean = format!("{:.2}", 300.0 * f64::to_radians(off).sin());
        let fields = [("width", "2 m"), ("lean", lean.as_str()), ("sides", sides)];
        let set_out = one("mm", ("board", "20", "300", ""), "hopper", &fields);
        let (swung, tilted) = angle_of(set_out.parts[0].ends[0]);
        assert_eq!(
            [(swung + 5) / 10, (tilted + 5) / 10],
            [mitre, tilt],
            "{sides} {off}"
        );
    }
    // Own arithmetic: 500 at the top, boards of 300 at 15 degrees: 344.71 at the bottom, 289.78 high.
    let fields = [("width", "500"), ("depth", "400"), ("lean", "77.64")];
    let set_out = one("mm", ("board", "20", "300", ""), "hopper", &fields);
    assert_eq!(hundredths(fact(&set_out, "side at the bottom"), MM), 34_472);
    assert_eq!(hundredths(fact(&set_out, "wall height"), MM), 28_978);
    let sides: Vec<_> = set_out
        .parts
        .iter()
        .map(|part| (part.length, part.quantity))
        .collect();
    assert_eq!(
        sides,
        [(Length::from_mm(500), 2), (Length::from_mm(400), 2)]
    );
}

#[test]
fn four_butted_sides_are_sawn_by_the_angle_between_their_faces() {
    // asin(sin^2 s) beside atan(sin s), in hundredths; the formulas are those of Snyder and Gottesman 2015 (docslib.org/doc/11210050) for butt joints, worked out with
    // vectors too. At 45 degrees the blade is at 30.
    for (off, mitre, tilt) in [
        (5.0, 498, 44),
        (10.0, 985, 173),
        (15.0, 1_451, 384),
        (20.0, 1_888, 672),
        (25.0, 2_291, 1_029),
        (30.0, 2_657, 1_448),
        (35.0, 2_984, 1_921),
        (40.0, 3_273, 2_440),
        (45.0, 3_526, 3_000),
    ] {
        let lean = format!("{:.2}", 300.0 * f64::to_radians(off).sin());
        let fields = [
            ("width", "2 m"),
            ("depth", "1 m"),
            ("lean", lean.as_str()),
            ("corners", "butted"),
        ];
        let set_out = one("mm", ("board", "20", "300", ""), "hopper", &fields);
        for part in &set_out.parts {
            let (swung, tilted) = angle_of(part.ends[0]);
            // A lean of whole hundredths of a millimetre is good to a hundredth of a degree.
            for (found, wanted) in [(swung, mitre), (tilted, tilt)] {
                assert!(((found + 5) / 10).abs_diff(wanted) <= 1, "{off}: {found}");
            }
            assert_eq!(part.ends[0], part.ends[1]);
        }
        // Longer than the outside by twice 20 tan b / cos m inside; between the others less twice 20 / cos s.
        let [swung, tilted] = [mitre, tilt].map(|angle| f64::from(angle).to_radians() / 100.0);
        let points = 40.0 * tilted.tan() / swung.cos();
        let level = 20.0 / f64::to_radians(off).cos();
        for (part, wanted) in set_out
            .parts
            .iter()
            .zip([2_000.0 + points, 1_000.0 - 2.0 * level + points])
        {
            let length = part.length.ticks() as f64 / 3_200.0;
            assert!((length - wanted).abs() < 0.02, "{off}: {length} {wanted}");
            assert_eq!(part.quantity, 2);
        }
    }
    // Upright sides are butted square, and more than four are not butted.
    let fields = [("width", "500"), ("lean", "0"), ("corners", "butted")];
    let set_out = one("mm", ("board", "20", "300", ""), "hopper", &fields);
    assert!(set_out.parts.iter().all(|part| !part.is_angled()));
    let fields = [("width", "900"), ("sides", "6"), ("corners", "butted")];
    let six = draft(
        "mm",
        &[("board", "20", "300", "")],
        &[("it", "hopper", &fields)],
    );
    let told: Vec<String> = faults(&six).iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        ["set_outs 1, corners: four sides alone can be butted; take mitred corners, or four sides"]
    );
}

#[test]
fn rails_of_a_raked_fence_follow_the_ground_between_plumb_posts() {
    // Own arithmetic: 900 over five bays of 1800 is 5.71 degrees, and 1700 clear are 1708.5 along it; 600 over ten bays 1.909, and 1700.9. A rail of 100 is
    // longer by 100 tan q from tip to tip, 10 and 3.33: 1718.48 and 1704.28.
    for (length, rise, angle, long) in [
        ("9000 + 100", "900 * 9100 / 9000", 5_711, 171_848),
        ("18000 + 100", "600 * 18100 / 18000", 1_909, 170_428),
    ] {
        let fields = [
            ("length", length),
            ("height", "1200"),
            ("centres", "1800"),
            ("rise", rise),
        ];
        let set_out = one("mm", ("post", "100", "100", ""), "fence", &fields);
        assert_eq!(fact(&set_out, "clear bay"), Length::from_mm(1_700));
        assert!(
            millidegrees(&set_out, "rail").abs_diff(angle) <= 1,
            "{rise}"
        );
        let rail = set_out
            .parts
            .iter()
            .find(|part| part.label.ends_with("rail"))
            .expect("rails");
        assert_eq!(hundredths(rail.length, MM), long, "{rise}");
        assert_eq!(rail.leans, Leans::Same);
        assert_eq!(part(&set_out, "post").0, Length::from_mm(1_800));
    }
}
