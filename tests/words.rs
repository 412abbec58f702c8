//! Words and figures beside the plan: usual sizes of an inch job, singular and plural, and causes named for what they are.

mod common;

use common::{checked, job, planned};
use lengthwise::job::Job;
use lengthwise::length::Length;
use lengthwise::piece::piece_text;
use lengthwise::planner::Planned;
use lengthwise::quantities::{rows, section_rows, work_out};
use lengthwise::report::{self, StepKind};
use lengthwise::wording::lack_text;

/// An inch is 25.4 mm (international yard and pound agreement, 1959), and a millimetre 3200 ticks: a 32nd is 2540 ticks.
fn inch_32nds(count: i64) -> Length {
    Length::from_ticks(count * 2_540)
}

/// A board in the shed, a length at the yard, a peg and a rung; no size of saw and timber is said.
fn bare(unit: &str, lengths: [&str; 4]) -> Job {
    let [yard, shed, peg, rung] = lengths;
    job(&format!(
        r#"{{"format":"lengthwise-job","unit":"{unit}","sections":[{{"name":"rail"}}],"yard":[{{"length":"{yard}"}}],
            "shed":[{{"mark":"A","length":"{shed}"}}],"parts":[{{"label":"peg","length":"{peg}"}},{{"label":"rung","length":"{rung}"}}]}}"#
    ))
}

fn cautions(job: &Job) -> Vec<String> {
    report::build(job, &checked(job)).cautions
}

fn has(texts: &[String], text: &str) -> bool {
    texts.iter().any(|one| one.contains(text))
}

#[test]
fn an_inch_job_that_says_no_sizes_has_those_of_an_inch_saw_and_yard() {
    for (unit, foot, lengths) in [
        ("in", "12\"", ["96", "60", "11 3/4", "12"]),
        ("ft", "1'", ["8", "5", "11 3/4 in", "1"]),
    ] {
        let job = bare(unit, lengths);
        assert_eq!(job.saw.kerf, inch_32nds(4), "{unit}"); // 1/8 in
        assert_eq!(job.sections[0].keep, inch_32nds(12 * 32), "{unit}");
        let trims = [job.sections[0].trim, job.shed[0].trim];
        let half_and_two = [16, 2 * 32].map(inch_32nds);
        assert_eq!(trims.map(|trim| trim.datum), half_and_two, "{unit}");
        assert_eq!(trims.map(|trim| trim.far), half_and_two, "{unit}");
        // A part of a foot is no short part.
        let said = cautions(&job);
        assert!(has(&said, &format!("Parts under {foot} (peg)")), "{said:?}");
    }
    let job = bare("mm", ["2400", "1500", "299", "300"]);
    assert_eq!(job.saw.kerf, Length::from_ticks(24 * 320));
    assert_eq!(job.sections[0].trim.datum, Length::from_mm(10));
    assert_eq!(job.shed[0].trim.datum, Length::from_mm(50));
    assert_eq!(job.sections[0].keep, Length::from_mm(300));
    assert!(has(&cautions(&job), "Parts under 300 mm (peg)"));
}

#[test]
fn board_feet_of_all_sections_are_added_up_before_they_are_rounded() {
    // 30 1/2 inches of 1 x 2 are 61 / 144 = 0.4236 board feet, and three of them 1.2708.
    let names = ["ash", "elm", "oak"];
    let sections = names.map(|name| format!(r#"{{"name":"{name}","thickness":"1","width":"2"}}"#));
    let yard = names.map(|name| format!(r#"{{"section":"{name}","length":"96"}}"#));
    let parts =
        names.map(|name| format!(r#"{{"label":"rung","section":"{name}","length":"30 1/2"}}"#));
    let job = job(&format!(
        r#"{{"format":"lengthwise-job","unit":"in","sections":[{}],"yard":[{}],"parts":[{}]}}"#,
        sections.join(","),
        yard.join(","),
        parts.join(",")
    ));
    let quantities = work_out(&job);
    let each: Vec<_> = section_rows(&job, &quantities)
        .into_iter()
        .map(|row| row.board_feet)
        .collect();
    assert_eq!(each, vec![Some("0.42".to_owned()); 3]);
    let all = rows(&job, &quantities)
        .into_iter()
        .find(|row| row.name == "Board feet in the parts");
    assert_eq!(all.map(|row| row.value), Some("1.27 BF".to_owned()));
}

#[test]
fn one_part_is_a_part_and_two_are_parts() {
    let text = |quantity: u32| {
        piece_text(&job(&format!(
            r#"{{"format":"lengthwise-job","sections":[{{"name":"rail"}}],"yard":[{{"length":"2400"}}],
                "parts":[{{"label":"rung","length":"500","quantity":{quantity}}}]}}"#
        )))
    };
    let said = text(1);
    assert!(said.contains("\n  rail: 1 part, 0.5 m; spare "), "{said}");
    let said = text(2);
    assert!(said.contains("\n  rail: 2 parts, 1 m; spare "), "{said}");
}

#[test]
fn a_face_of_one_full_board_says_so() {
    // 137 mm and a rip of 63, which is less than half a board and so not shared where only the last is ripped.
    let notes = |width: u32| {
        let job = job(&format!(
            r#"{{"format":"lengthwise-job","sections":[{{"name":"board","thickness":20,"width":145,"cover":137}}],
                "yard":[{{"length":"2400"}}],
                "set_outs":[{{"kind":"boarding","name":"face","width":{width},"height":500,"gap":0,"edges":"share where the last is thin"}}]}}"#
        ));
        job.set_outs[0].notes.clone()
    };
    let said = notes(200);
    assert!(
        has(
            &said,
            "Laid from one side: 1 full board and a last one of 63 mm."
        ),
        "{said:?}"
    );
    let said = notes(337);
    assert!(
        has(
            &said,
            "Laid from one side: 2 full boards and a last one of 63 mm."
        ),
        "{said:?}"
    );
    assert!(
        has(&notes(137), "One board covers it with nothing to rip."),
        "{:?}",
        notes(137)
    );
}

#[test]
fn what_stays_bare_beside_whole_boards_is_said() {
    // Eight boards of 120 and seven gaps of 4 cover 988: what is asked more, up to another gap, is bare.
    let said = job(
        r#"{"format":"lengthwise-job","sections":[{"name":"board","thickness":20,"width":120}],"yard":[{"length":"2400"}],
            "set_outs":[{"kind":"boarding","name":"face","width":992,"height":500,"gap":4}]}"#,
    )
    .set_outs[0]
        .notes
        .clone();
    assert!(
        said.iter().any(|note| note.starts_with(
            "8 boards cover 988 mm with nothing to rip, and 4 mm stay bare at the end, no more than a gap: make it 988 mm"
        )),
        "{said:?}"
    );
}

#[test]
fn a_length_of_eight_feet_is_told_in_metres_as_a_yard_would() {
    let job = job(
        r#"{"format":"lengthwise-job","sections":[{"name":"rail"}],"yard":[{"length":"8'"}],"parts":[{"label":"rung","length":"500"}]}"#,
    );
    let said = cautions(&job);
    // Eight feet are 2438.4 mm.
    assert!(
        has(&said, "To carry home: the longest piece is 2.438 m"),
        "{said:?}"
    );
}

#[test]
fn a_nail_is_said_to_be_shorter_than_what_it_goes_into() {
    let job = job(
        r#"{"format":"lengthwise-job","sections":[{"name":"slat","thickness":20,"width":120}],"yard":[{"length":"2400"}],
            "set_outs":[{"kind":"slats","name":"shelf","span":600,"length":600,"supports":3}]}"#,
    );
    let crossings = rows(&job, &work_out(&job))
        .into_iter()
        .find(|row| row.name == "Fixings where boards cross supports");
    let basis = crossings.expect("slats cross supports").basis;
    let end = "; plain nails are often 2.5 times as long as the board is thick, here 50 mm for 20 mm, but shorter than the board and what it lies on together";
    assert!(basis.ends_with(end), "{basis}");
}

#[test]
fn a_part_that_only_the_trims_keep_off_every_board_says_that_the_trims_do() {
    let lacks = |length: u32| {
        let job = job(&format!(
            r#"{{"format":"lengthwise-job","sections":[{{"name":"rail"}}],"yard":[{{"length":"2400"}}],"parts":[{{"label":"rung","length":"{length}"}}]}}"#
        ));
        match planned(&job) {
            Planned::Impossible(lacks) => lacks.iter().map(|lack| lack_text(&job, lack)).collect(),
            _ => Vec::new(),
        }
    };
    // Less 10 mm at each end a length of 2400 has 2380.
    assert_eq!(lacks(2_380), Vec::<String>::new());
    assert_eq!(
        lacks(2_381),
        [
            "\"rung\" is 2381 mm long, and once its ends are trimmed no board of rail is as long as that; make the end trim less where the ends are good, add a longer length to the yard, or shorten the part"
        ]
    );
    assert_eq!(
        lacks(2_401),
        [
            "\"rung\" is 2401 mm long, and no board of rail takes it; add a longer length to the yard, or shorten or join the part"
        ]
    );
}

#[test]
fn boards_cut_alike_are_printed_once_with_a_box_to_tick_for_each() {
    // Three of 700 to a length, so nine take three lengths, all cut alike.
    let job = job(
        r#"{"format":"lengthwise-job","sections":[{"name":"rail"}],"yard":[{"length":"2400"}],"parts":[{"label":"rung","length":"700","quantity":9}]}"#,
    );
    let text = report::text::text(&report::build(&job, &checked(&job)));
    let sheet = "\nBoards 1 to 3: 3 \u{d7} New 2400 mm, rail\n  \u{2610} 1  \u{2610} 2  \u{2610} 3\n      10  trim the datum end";
    assert!(text.contains(sheet), "{text}");
    assert_eq!(text.matches("trim the datum end").count(), 1, "{text}");
}

#[test]
fn a_set_out_says_which_of_its_parts_are_measured_first_and_a_length_off_the_step_has_its_sign() {
    // Two stiles of 70 leave 760.3 of 900.3 for the rails and the noggin, and a tape shows halves of a millimetre.
    let job = job(
        r#"{"format":"lengthwise-job","sections":[{"name":"rail","thickness":45,"width":70}],"yard":[{"length":"2400"}],
            "set_outs":[{"kind":"frame","name":"gate","width":"900.3","height":1100,"noggins":1}]}"#,
    );
    let text = piece_text(&job);
    let lines: Vec<&str> = text
        .lines()
        .filter(|line| line.starts_with("  ") && line.contains(" x gate: "))
        .collect();
    assert_eq!(
        lines,
        [
            "  2 x gate: stile, 1100 mm, rail",
            "  2 x gate: rail, \u{2248}760.5 mm, rail",
            "  1 x gate: noggin, \u{2248}760 mm, rail, measure first",
        ]
    );
}

#[test]
fn a_part_that_is_left_long_is_planned_and_told_as_it_is_cut_and_as_it_is_trimmed() {
    let job = job(
        r#"{"format":"lengthwise-job","saw":{"kerf":3},"sections":[{"name":"rail","trim":0}],"yard":[{"length":"2400"}],
            "parts":[{"label":"post","length":"700","over":"12","quantity":3}]}"#,
    );
    assert_eq!(
        piece_text(&job)
            .lines()
            .find(|line| line.contains(" x post")),
        Some("  3 x post, 712 mm, rail, 12 mm over: trim it to 700 mm where it goes")
    );
    let report = report::build(&job, &checked(&job));
    let steps: Vec<(&str, &str)> = report.boards[0]
        .steps
        .iter()
        .map(|step| (step.reading.as_str(), step.hint.as_str()))
        .collect();
    let over = "12 mm over: trim it to 700 mm where it goes";
    let held = format!("{over}; hold the part, for what is left beyond it is short");
    assert_eq!(
        steps,
        [("712", over), ("1427", over), ("2142", held.as_str())]
    );
}

#[test]
fn what_is_left_long_is_not_measured_first() {
    let text = r#"{"format":"lengthwise-job","sections":[{"name":"rail"}],"yard":[{"length":"2400"}],
        "parts":[{"label":"noggin","length":"700","over":"12","goes":"between others"}]}"#;
    let (draft, _) = lengthwise::io::job_file::read(text);
    let faults = lengthwise::job::validate(&draft).expect_err("it cannot be both");
    let told: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "parts 1, over: a part that is left long is trimmed where it goes, so it is not measured first; leave this empty, or let it go free"
        ]
    );
}

#[test]
fn joists_and_boxes_say_that_their_load_is_not_worked_out() {
    let cautions = |set_out: &str| {
        let job = job(&format!(
            r#"{{"format":"lengthwise-job","sections":[{{"name":"rail","thickness":45,"width":70}}],"yard":[{{"length":"2400"}}],"set_outs":[{set_out}]}}"#
        ));
        lengthwise::cautions::beside_the_plan(&job).join(" ")
    };
    for set_out in [
        r#"{"kind":"spaced","name":"floor","span":"1830","height":"1200","centres":"600"}"#,
        r#"{"kind":"box","name":"store","width":"900","depth":"600","height":"800"}"#,
    ] {
        let told = cautions(set_out);
        assert!(told.contains("is not worked out here"), "{told}");
    }
    let told = cautions(r#"{"kind":"frame","name":"gate","width":"900","height":"1100"}"#);
    assert!(!told.contains("is not worked out here"), "{told}");
}

#[test]
fn mitres_that_meet_once_a_part_is_trimmed_are_refused() {
    let text = r#"{"format":"lengthwise-job","sections":[{"name":"rail","width":100}],"yard":[{"length":"2400"}],
        "parts":[{"label":"cap","length":"190","over":"12","ends":"45; 45"}]}"#;
    let (draft, _) = lengthwise::io::job_file::read(text);
    let faults = lengthwise::job::validate(&draft).expect_err("200 mm stand back on 190");
    assert!(
        faults[0].to_string().contains("the mitres meet"),
        "{faults:?}"
    );
}

/// A job of boards that cover a face, of which those of the shed are old; 560 across takes four of 140 without a gap.
fn boarded(width: &str, treated: &str, own: &str) -> Job {
    job(&format!(
        r#"{{"format":"lengthwise-job","sections":[{{"name":"board","thickness":20,"width":140,"treated":"{treated}"}}],
            "yard":[{{"length":"2400"}}],"shed":[{{"mark":"A","length":"2400","treated":"{own}"}},{{"mark":"B","length":"2400"}}],
            "set_outs":[{{"kind":"boarding","name":"face","width":"{width}","height":"900","gap":"0","edges":"rip the last board only"}}]}}"#
    ))
}

#[test]
fn what_is_ripped_is_not_ripped_at_a_mitre_saw_and_nothing_is_said_of_that_where_nothing_is_ripped()
{
    let rips = "Never rip at a mitre saw, it cuts across only: rip at a bench saw with its riving knife on and a push stick, or have the yard \
                do it.";
    let told = |width, treated| {
        let job = boarded(width, treated, "no");
        has(&cautions(&job), rips)
    };
    assert!(told("630", "no"));
    assert!(!told("560", "no"));
    // Treated boards are not ripped at all.
    assert!(!told("630", "yes"));
}

#[test]
fn nothing_is_ripped_out_of_boards_of_unknown_treatment_where_the_rest_of_their_section_may_be() {
    // Whether the narrow board comes out of A, which the plan takes in any case.
    let from_a = |own| {
        let job = boarded("630", "no", own);
        let report = report::build(&job, &checked(&job));
        let a = report.boards.iter().find(|board| board.mark == "A");
        let steps = &a.expect("a board of the plan").steps;
        let narrow = steps.iter().any(|step| step.label.contains("ripped"));
        (narrow, steps.iter().any(|step| step.kind == StepKind::Rip))
    };
    assert_eq!(from_a("unknown"), (false, false));
    assert_eq!(from_a("yes"), (false, false));
}

#[test]
fn posts_have_their_cautions_and_are_cut_as_parts_that_stand_free() {
    let posts = |goes: &str| {
        job(&format!(
            r#"{{"format":"lengthwise-job","sections":[{{"name":"post","thickness":75,"width":75,"treated":"yes"}}],
                "yard":[{{"length":"3000"}}],"parts":[{{"label":"stake","length":"1800.2","quantity":2,"goes":"{goes}"}}]}}"#
        ))
    };
    let post = "Posts: a cut end never goes in the ground; the end that came treated does. Where the sheet cuts both ends of a post, buy it at \
                its own length. Local codes say how deep it stands.";
    let stands = "Posts: the factory end goes down, never a cut end; each is laid out with one, which the sheet leaves untrimmed. Local codes say how \
                  deep it stands.";
    let dig = "Before you dig, look for buried services (power, gas, water, telephone): ask for their plans, search the ground, and follow \
               local rules.";
    for (goes, said) in [("in the ground", true), ("free", false)] {
        let job = posts(goes);
        let cautions = cautions(&job);
        // Where the section is said to be treated the plan sees to it.
        for text in [stands, dig] {
            assert_eq!(has(&cautions, text), said, "{goes}: {cautions:?}");
        }
        // A part is never short: the next half millimetre over it.
        let [length] = [&job.parts[0]].map(|part| part.set_length(job.step));
        assert_eq!(length, Length::from_ticks(18_005 * 320), "{goes}");
    }
    let text = piece_text(&posts("in the ground"));
    let line = "  2 x stake, \u{2248}1800.5 mm, post, goes in the ground\n";
    assert!(text.contains(line), "{text}");
    // The same as a set-out, which has its cautions under its own drawing too.
    let text = piece_text(&job(
        r#"{"format":"lengthwise-job","sections":[{"name":"post","thickness":75,"width":75}],"yard":[{"length":"3000"}],
            "set_outs":[{"kind":"parts","name":"posts","length":"1800","quantity":"3","goes":"in the ground"}]}"#,
    ));
    assert!(
        text.contains(&format!("  Mind: {post}\n  Mind: {dig}\n")),
        "{text}"
    );
}

#[test]
fn pales_and_laths_say_nothing_of_a_load_and_seats_and_joists_do() {
    let load = |kind: &str, used: &str| {
        let size = match kind {
            "slats" => "length",
            _ => "height",
        };
        let job = job(&format!(
            r#"{{"format":"lengthwise-job","sections":[{{"name":"lath","thickness":20,"width":45}}],"yard":[{{"length":"2400"}}],
                "set_outs":[{{"kind":"{kind}","name":"run","span":"1830","{size}":"900","use":"{used}"}}]}}"#
        ));
        has(&cautions(&job), "is not worked out here")
    };
    assert!(load("slats", ""));
    assert!(load("slats", "a seat, a shelf, a deck or a lid"));
    assert!(!load("slats", "pales or laths"));
    assert!(load("spaced", ""));
    assert!(load("spaced", "joists or studs"));
    assert!(!load("spaced", "laths or battens"));
}
