//! Gates: the leaf that an opening leaves, and its braces up from the hinge side.

use crate::small::{Sides, draft, fact, faults, inches, mm, number, one, part, sound};
use lengthwise::job::{Leans, PartEnd};
use lengthwise::length::Length;
use lengthwise::setout::{SetOut, members};
use lengthwise::space::bounds;

const BOARD: Sides = ("board", "20", "95", "");

fn gate(more: &[(&str, &str)]) -> SetOut {
    let mut fields = vec![("opening", "918"), ("height", "1850")];
    fields.retain(|(field, _)| !more.iter().any(|(other, _)| other == field));
    fields.extend(more);
    one("mm", BOARD, "gate", &fields)
}

fn hundredths(length: Length) -> i64 {
    (200 * length.ticks() + 3_200).div_euclid(2 * 3_200)
}

#[test]
fn a_leaf_is_the_opening_less_its_gaps() {
    // blitarweb.com: an opening is the leaf and 1 1/2 in, 36 -> 37 1/2; here 1/2 at the hinges and 1 at the latch.
    let fields = [
        ("opening", "37 1/2"),
        ("height", "4'"),
        ("hinge_gap", "1/2"),
        ("latch_gap", "1"),
    ];
    let set_out = one("in", ("board", "3/4", "3 1/2", ""), "gate", &fields);
    assert_eq!(fact(&set_out, "leaf width"), inches("36"));
    // growerexperts.com: a field gate takes 150 more than its leaf, 100 for hangers and 50 for the latch, and 150 below.
    let field = gate(&[
        ("opening", "3750"),
        ("hinge_gap", "100"),
        ("latch_gap", "50"),
        ("below", "150"),
        ("height", "1300"),
        ("back", "a frame"),
        ("braces", "sawn against the stiles"),
    ]);
    assert_eq!(fact(&field, "leaf width"), mm("3600"));
    assert_eq!(fact(&field, "leaf height"), mm("1150"));
    // Where nothing is said: 6 at the hinges, 12 at the latch, 50 below.
    assert_eq!(fact(&gate(&[]), "leaf width"), mm("900"));
    assert_eq!(fact(&gate(&[]), "leaf height"), mm("1800"));
}

#[test]
fn whole_boards_cover_the_leaf_at_the_gap_nearest_to_the_one_asked_for() {
    // 900 in boards of 95: nine leave 45 for eight gaps, 5.625; eight leave 140 for seven, 20. In ticks of 1/3200 mm.
    for (gap, boards, comes_out) in [
        ("6", 9, 18_000),
        ("12", 9, 18_000),
        ("13", 8, 64_000),
        ("0", 9, 18_000),
    ] {
        let set_out = gate(&[("gap", gap)]);
        assert_eq!(number(&set_out, "boards"), boards, "{gap}");
        assert_eq!(fact(&set_out, "board gap").ticks(), comes_out, "{gap}");
        assert_eq!(part(&set_out, "board"), (mm("1800"), boards));
    }
}

#[test]
fn braces_between_ledges_fit_the_clear_rectangle_of_their_bay() {
    // A door of 800 whose ledges stay 40 in, 650 clear between two of them, a brace of 95: formulas in words at tp69.blog, Mitre angles for
    // gate braces, and dougaj4, Geometry for joiners; figures checked with polygons: 47.70 from the ledge, so 42.30 off square, 965.34 over all,
    // 128.45 of the ledge.
    let set_out = gate(&[
        ("opening", "818"),
        ("height", "1090"),
        ("ledges", "2"),
        ("ledge_in", "40"),
    ]);
    assert_eq!(part(&set_out, "ledge"), (mm("720"), 2));
    assert_eq!(fact(&set_out, "bay height"), mm("650"));
    let found = ["brace length", "mark", "long edge"].map(|name| hundredths(fact(&set_out, name)));
    assert_eq!(found, [96_534, 12_845, 87_888]);
    let brace = set_out.parts.last().expect("the brace");
    let PartEnd::Mitre(angle) = brace.ends[0] else {
        panic!("{brace:?}")
    };
    assert!(angle.millidegrees().abs_diff(42_300) <= 5);
}

#[test]
fn braces_rise_from_the_hinge_side() {
    for (hinge, leans, rises) in [
        ("left", Leans::Same, true),
        ("right", Leans::Mirrored, false),
    ] {
        let job = sound(&draft(
            "mm",
            &[BOARD],
            &[(
                "it",
                "gate",
                &[("opening", "918"), ("height", "1850"), ("hinge", hinge)],
            )],
        ));
        let set_out = &job.set_outs[0];
        let row = set_out
            .parts
            .iter()
            .position(|part| part.label == "it: brace");
        let row = row.expect("braces");
        assert_eq!(set_out.parts[row].leans, leans);
        let members = members(set_out, &job.sections).expect("members");
        let braces: Vec<_> = members.iter().filter(|member| member.part == row).collect();
        assert_eq!(braces.len(), 2);
        for brace in braces {
            let [[left, right], _, [low, high]] = bounds(brace.body.iter()).expect("a body");
            let corners = brace.body[0].corners();
            let is_there = |x, z| {
                corners
                    .iter()
                    .any(|corner| corner[0] == x && corner[2] == z)
            };
            assert_eq!(is_there(left, low) && is_there(right, high), rises);
            assert_eq!(is_there(right, low) && is_there(left, high), !rises);
        }
    }
}

#[test]
fn a_flat_brace_is_warned_of_with_what_makes_it_steeper() {
    let said = |more: &[(&str, &str)]| {
        let notes = gate(more).notes;
        let told = notes.into_iter().find(|note| note.contains("45 degrees"));
        told.unwrap_or_default()
    };
    // 900 by 1410 in one bay lies at 57.4 degrees; four bays of 900 by 281 at 17.
    assert_eq!(said(&[("ledges", "2")]), "");
    assert!(
        said(&[("ledges", "5"), ("section", "board")]).ends_with("Fewer ledges make them steeper.")
    );
    assert!(
        said(&[("ledges", "2"), ("height", "900")])
            .ends_with("Two narrower leaves would have steeper ones.")
    );
}

#[test]
fn a_frame_has_its_rails_between_stiles() {
    let set_out = gate(&[("back", "a frame")]);
    assert_eq!(part(&set_out, "stile"), (mm("1800"), 2));
    assert_eq!(part(&set_out, "rail"), (mm("710"), 3));
    let found = faults(&draft(
        "mm",
        &[BOARD],
        &[(
            "it",
            "gate",
            &[
                ("opening", "918"),
                ("height", "1850"),
                ("braces", "sawn against the stiles"),
            ],
        )],
    ));
    let told: Vec<String> = found.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "set_outs 1, braces: without a frame there are no stiles to saw the braces against; choose the ledges"
        ]
    );
}
