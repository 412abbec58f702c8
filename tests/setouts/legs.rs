//! Legs and aprons, and what stands on them. Sizes are own arithmetic, worked out beside them.

use crate::small::{draft, fact, faults, mm, one, part, sound};
use lengthwise::length::Length;
use lengthwise::setout::wholes;
use lengthwise::space::bounds;

const LEG: crate::small::Sides = ("leg", "70", "70", "");
const BOARD: crate::small::Sides = ("board", "20", "95", "");

/// A top of 1200 x 700 that stands out 50 all round, on legs of 70.
fn fields<'a>(more: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let mut fields = vec![
        ("width", "1200"),
        ("depth", "700"),
        ("height", "720"),
        ("overhang", "50"),
        ("section", "leg"),
        ("apron_section", "board"),
    ];
    fields.extend(more);
    fields
}

#[test]
fn aprons_are_as_long_as_the_top_less_its_overhang_and_two_legs() {
    // 1200 - 2 x 50 = 1100 over the legs, less 2 x 70 is 960; 700 - 100 - 140 = 460. The aprons are 20 thick, so 1060 and 560 are left between
    // them, or 1040 and 540 where they are set in by 10.
    for (more, inside) in [
        (vec![], ["1060", "560"]),
        (vec![("set_in", "10")], ["1040", "540"]),
    ] {
        let job = sound(&draft(
            "mm",
            &[LEG, BOARD],
            &[("it", "stand", &fields(&more))],
        ));
        let set_out = &job.set_outs[0];
        assert_eq!(part(set_out, "leg"), (mm("720"), 4));
        assert_eq!(part(set_out, "apron"), (mm("960"), 2));
        assert_eq!(part(set_out, "side apron"), (mm("460"), 2));
        let found = ["inside width", "inside depth"].map(|name| fact(set_out, name));
        assert_eq!(found, inside.map(mm));
        assert_eq!(set_out.joints.len(), 1);
        assert_eq!(set_out.joints[0].count, 8);
        assert_eq!(
            set_out.makes,
            "legs 1100 mm x 600 mm over all and 720 mm high, for a top of 1200 mm x 700 mm"
        );
    }
}

#[test]
fn one_stretcher_between_those_at_the_sides_goes_from_face_to_face() {
    // 1100 less twice 20 is 1060 between the inner faces of those at the sides.
    let more = [
        ("stretcher_up", "150"),
        ("stretchers", "at the sides and one between"),
    ];
    let job = sound(&draft(
        "mm",
        &[LEG, BOARD],
        &[("it", "stand", &fields(&more))],
    ));
    let set_out = &job.set_outs[0];
    assert_eq!(part(set_out, "side stretcher"), (mm("460"), 2));
    assert_eq!(part(set_out, "middle stretcher"), (mm("1060"), 1));
    let ends = set_out
        .joints
        .iter()
        .find(|joint| joint.what == "stretcher ends");
    assert_eq!(ends.expect("stretcher ends").count, 6);
    let all_round = sound(&draft(
        "mm",
        &[LEG, BOARD],
        &[("it", "stand", &fields(&more[..1]))],
    ));
    assert_eq!(part(&all_round.set_outs[0], "stretcher"), (mm("960"), 2));
}

#[test]
fn what_lies_on_a_stand_has_the_size_of_its_top_and_stands_out_by_the_overhang() {
    let slats = [("on", "[Stand] top"), ("section", "board"), ("gap", "5")];
    let job = sound(&draft(
        "mm",
        &[LEG, BOARD],
        &[("Stand", "stand", &fields(&[])), ("Top", "slats", &slats)],
    ));
    assert_eq!(fact(&job.set_outs[1], "length"), mm("1200"));
    assert_eq!(fact(&job.set_outs[1], "span"), mm("700"));
    let wholes = wholes(&job.set_outs, &job.sections);
    let over = |row: usize| {
        let put = wholes[0].put.iter().find(|put| put.row == row).expect("it");
        bounds(put.members.iter().flat_map(|member| &member.body))
            .expect("members")
            .map(|ends| ends.map(Length::from_ticks))
    };
    let zero = Length::ZERO;
    assert_eq!(
        over(0),
        [
            [mm("50"), mm("1150")],
            [mm("50"), mm("650")],
            [zero, mm("720")]
        ]
    );
    assert_eq!(
        over(1),
        [
            [zero, mm("1200")],
            [zero, mm("700")],
            [mm("720"), mm("740")]
        ]
    );
}

#[test]
fn what_does_not_go_together_is_told_where_it_is_mended() {
    for (more, field) in [
        (("set_in", "51"), "apron_section"),
        (("overhang", "300"), "depth"),
        (("height", "95"), "height"),
        (("stretcher_up", "550"), "stretcher_up"),
    ] {
        let found = faults(&draft(
            "mm",
            &[LEG, BOARD],
            &[("it", "stand", &fields(&[more]))],
        ));
        let places: Vec<&str> = found
            .iter()
            .map(|fault| fault.place.field.as_str())
            .collect();
        assert_eq!(places, [field], "{more:?}");
    }
    // With one section everything is made of it.
    let plain = [("width", "1200"), ("depth", "700"), ("height", "720")];
    assert_eq!(
        fact(&one("mm", LEG, "stand", &plain), "frame width"),
        mm("1160")
    );
}
