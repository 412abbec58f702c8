//! A width measured at the yard: what follows it, and the notes about it.

use super::small::{draft, fact, faults, mm, part, sound};
use lengthwise::job::JobDraft;

const BOARD: (&str, &str, &str, &str) = ("board", "20", "145", "137");

fn measured(width: &str, joint: &str, set_outs: &[super::small::Written]) -> JobDraft {
    let mut draft = draft("mm", &[BOARD], set_outs);
    draft.sections[0].measured = Some(width.to_owned());
    draft.sections[0].joint = Some(joint.to_owned());
    draft
}

#[test]
fn boards_of_141_in_place_of_145_are_set_out_as_they_measure() {
    let fields = [("width", "600"), ("height", "500"), ("gap", "0")];
    let job = sound(&measured(
        "141",
        "tongued",
        &[("Side", "boarding", &fields)],
    ));
    assert_eq!(job.sections[0].width, Some(mm("141")));
    assert_eq!(job.sections[0].sold_width, Some(mm("145")));
    // The tongue stays 8, so they cover 133: 600 - 4 x 133 leaves 68, more than half a board.
    assert_eq!(job.sections[0].cover, Some(mm("133")));
    let set_out = &job.set_outs[0];
    assert_eq!(part(set_out, "board ripped to 68 mm"), (mm("500"), 1));
    let told = "\"board\" measures 141 mm at the yard, not 145 mm: as sold it took 3 \u{d7} Side: board, 500 mm long; 2 \u{d7} Side: board ripped to 94.5 mm, 500 mm long.";
    assert!(
        set_out.notes.iter().any(|note| note == told),
        "{:?}",
        set_out.notes
    );
}

#[test]
fn a_measured_lapped_board_keeps_its_least_lap() {
    let fields = [("width", "1000"), ("height", "500")];
    let job = sound(&measured("141", "lapped", &[("Side", "boarding", &fields)]));
    assert_eq!(job.sections[0].cover, Some(mm("133")));
    // Eight boards, (1000 - 141) / 7 apart.
    assert_eq!(part(&job.set_outs[0], "board"), (mm("500"), 8));
    assert!(fact(&job.set_outs[0], "lap") >= mm("8"));
}

#[test]
fn what_only_refers_to_a_set_out_that_changed_is_told_as_well() {
    let slats = [
        ("span", "500"),
        ("length", "600"),
        ("count", "2"),
        ("section", "board"),
    ];
    let cap = [
        ("width", "[Top] equal gap"),
        ("depth", "400"),
        ("overhang", "0"),
        ("section", "rail"),
    ];
    let mut draft = draft(
        "mm",
        &[("rail", "20", "20", ""), BOARD],
        &[("Top", "slats", &slats), ("Cap", "mitred_frame", &cap)],
    );
    draft.sections[1].measured = Some("141".into());
    let job = sound(&draft);
    let told = |at: usize, words: &str| {
        job.set_outs[at]
            .notes
            .iter()
            .any(|note| note.contains(words))
    };
    assert!(told(
        0,
        "\"board\" measures 141 mm at the yard, not 145 mm: its parts stay as they were; as sold it came to 2 slats of 600 mm across 500 mm, gap 210 mm."
    ));
    assert!(
        told(1, "Other boards were measured at the yard: as sold it took"),
        "{:?}",
        job.set_outs[1].notes
    );
}

#[test]
fn a_width_that_is_measured_as_sold_changes_nothing_and_one_narrower_than_the_tongue_is_refused() {
    let fields = [("width", "600"), ("height", "500")];
    let set_outs: [super::small::Written; 1] = [("Side", "boarding", &fields)];
    let plain = sound(&draft("mm", &[BOARD], &set_outs));
    let same = sound(&measured("145", "by cover", &set_outs));
    assert_eq!(
        (&same.sections, &same.set_outs),
        (&plain.sections, &plain.set_outs)
    );
    let told: Vec<String> = faults(&measured("8", "by cover", &set_outs))
        .iter()
        .map(ToString::to_string)
        .collect();
    assert_eq!(
        told,
        [
            "sections 1, measured: 8 mm is not sensible for the measured width; give 9 mm to 1500 mm, and check the unit"
        ]
    );
}

#[test]
fn where_only_the_measured_width_is_given_it_is_the_width() {
    let mut draft = draft("mm", &[("batten", "20", "", "")], &[]);
    draft.sections[0].measured = Some("44".into());
    let (job, _) = lengthwise::job::examine(&draft);
    assert_eq!(
        (job.sections[0].width, job.sections[0].sold_width),
        (Some(mm("44")), None)
    );
}

#[test]
fn the_plan_says_which_widths_it_took_from_the_yard() {
    let fields = [("width", "600"), ("height", "500")];
    let job = sound(&measured(
        "141",
        "by cover",
        &[("Side", "boarding", &fields)],
    ));
    let said = lengthwise::cautions::beside_the_plan(&job);
    let told = "Planned with widths measured at the yard: \"board\" is 141 mm, not 145 mm. The set-outs say what that changed.";
    assert!(said.iter().any(|one| one == told), "{said:?}");
}
