//! Quantities follow the job, and stay apart from the parts.

use crate::small::{draft, mm, one, sound};
use lengthwise::cautions;
use lengthwise::job::{Job, JobDraft, Treated, YardDraft};
use lengthwise::quantities::{load, load_rows, rows, section_rows, work_out};

const FRAME: [(&str, &str); 2] = [("width", "600"), ("height", "500")];

fn framed(treated: &str) -> JobDraft {
    let mut draft = draft(
        "mm",
        &[("stick", "45", "70", "")],
        &[("a", "frame", &FRAME)],
    );
    draft.sections[0].treated = Some(treated.into());
    draft.sections[0].density = Some("500".into());
    draft
}

fn texts(job: &Job) -> Vec<(String, String)> {
    rows(job, &work_out(job))
        .into_iter()
        .map(|row| (row.name, row.value))
        .collect()
}

#[test]
fn spare_timber_changes_no_part() {
    let plain = sound(&framed("no"));
    let mut with = framed("no");
    with.quantities = vec![("spare".into(), "50".into())];
    let with = sound(&with);
    assert_eq!(plain.parts, with.parts);
    let (plain, with) = (work_out(&plain), work_out(&with));
    assert_eq!(plain.mass, with.mass);
    assert_eq!(with.by_section[0].length, mm("1920"));
    assert_eq!(with.by_section[0].spare, mm("960"));
}

#[test]
fn only_treated_or_unknown_timber_has_ends_to_brush() {
    assert_eq!(work_out(&sound(&framed("no"))).treated_ends, 0);
    for treated in ["yes", "unknown"] {
        let quantities = work_out(&sound(&framed(treated)));
        assert_eq!(quantities.treated_ends, 8);
        assert_eq!(quantities.treated_end_area, 8 * 45 * 70 * 3_200i128.pow(2));
    }
}

#[test]
fn figures_are_printed_with_their_units_and_what_they_rest_on() {
    let job = sound(&framed("yes"));
    assert_eq!(
        texts(&job),
        [
            // 1.92 m of 45 x 70 at 500 kg/m3.
            ("Mass of the finished piece".to_owned(), "3.0 kg".to_owned()),
            (
                "Size over all".to_owned(),
                "600 mm \u{d7} 45 mm \u{d7} 500 mm".to_owned()
            ),
            (
                "Fixings at frame joints".to_owned(),
                "8 (10 with 20 % spare)".to_owned()
            ),
            // 1.92 m x 230 mm around, and 8 ends of 45 x 70.
            ("Surface of all parts".to_owned(), "0.47 m\u{b2}".to_owned()),
            ("Finish".to_owned(), "0.08 l".to_owned()),
            (
                "Cut ends to brush with preservative".to_owned(),
                "8 ends, 0.03 m\u{b2}".to_owned()
            ),
            (
                "Spare timber, apart from the parts".to_owned(),
                "0.1 m".to_owned()
            ),
        ]
    );
    let basis = rows(&job, &work_out(&job)).remove(0).basis;
    assert!(
        basis.contains("densities of the sections: 500 kg/m\u{b3}"),
        "{basis}"
    );
}

#[test]
fn an_imperial_job_has_board_feet_and_pounds() {
    let fields = [("width", "24"), ("height", "24")];
    let job = sound(&draft(
        "in",
        &[("2 x 4", "1 1/2", "3 1/2", "")],
        &[("a", "frame", &fields)],
    ));
    let section = section_rows(&job, &work_out(&job)).remove(0);
    // 48 + 34 inches of 2 x 4: 8 x 82 / 144 board feet.
    assert_eq!(section.board_feet.as_deref(), Some("4.56"));
    // 430.5 cubic inches at 420 kg/m3, the mean of C24.
    assert_eq!(section.mass.as_deref(), Some("6.5 lb"));
    assert!(
        texts(&job)
            .iter()
            .any(|(name, value)| name == "Board feet in the parts" && value == "4.56 BF")
    );
    let metric = sound(&framed("no"));
    assert_eq!(
        section_rows(&metric, &work_out(&metric))
            .remove(0)
            .board_feet,
        None
    );
}

#[test]
fn a_section_of_unknown_sides_is_named_and_not_guessed() {
    let mut draft = framed("no");
    draft.sections[0].thickness = None;
    draft.set_outs[0].kind = Some("parts".into());
    draft.set_outs[0].fields = vec![("length".into(), "900".into())];
    let job = sound(&draft);
    let quantities = work_out(&job);
    assert_eq!((quantities.mass, quantities.by_section[0].mass), (0, None));
    assert_eq!(quantities.by_section[0].length, mm("900"));
}

#[test]
fn the_load_is_what_was_bought_and_the_longest_piece_what_is_carried() {
    let mut draft = framed("no");
    let line = |length: &str| YardDraft {
        section: Some("stick".into()),
        length: Some(length.into()),
        price: Some("1".into()),
        ..YardDraft::default()
    };
    draft.yard = vec![line("2400"), line("4800")];
    let job = sound(&draft);
    let bought = load(&job, &[(0, 2), (1, 1)]);
    // 9.6 m of 45 x 70 at 500 kg/m3.
    assert_eq!((bought.mass, bought.longest), (15_120, mm("4800")));
    assert_eq!(load(&job, &[(0, 1), (1, 0)]).longest, mm("2400"));
    draft.own.carry = Some("3 m".into());
    let job = sound(&draft);
    let carried = load(&job, &[(0, 2), (1, 1)]);
    assert_eq!(carried.longest, mm("3000"));
    let names: Vec<String> = load_rows(&job, &carried)
        .into_iter()
        .map(|row| row.name)
        .collect();
    assert_eq!(names, ["Mass of the load, stick"]);
}

#[test]
fn half_a_cubic_metre_goes_into_bags() {
    // 500 x 500 x 450 mm are 112.5 litres: three bags of 50, own arithmetic.
    let fields = [
        ("width", "590"),
        ("depth", "590"),
        ("height", "450"),
        ("fill_height", "450"),
    ];
    let mut draft = draft("mm", &[("stick", "45", "45", "")], &[("a", "box", &fields)]);
    draft.quantities = vec![("settle".into(), "0".into())];
    let job = sound(&draft);
    assert_eq!(work_out(&job).fill, 112_500_000 * 3_200i128.pow(3));
    assert_eq!(work_out(&job).bags, 3);
    draft.quantities = vec![("settle".into(), "0".into()), ("bag".into(), "37.5".into())];
    assert_eq!(work_out(&sound(&draft)).bags, 3);
    draft.quantities = vec![("settle".into(), "1".into()), ("bag".into(), "37.5".into())];
    assert_eq!(work_out(&sound(&draft)).bags, 4);
}

#[test]
fn cautions_stand_where_they_apply_and_nowhere_else() {
    let said = |job: &Job, words: &str| {
        let of_set_outs = job.set_outs.iter();
        let of_set_outs =
            of_set_outs.flat_map(|one| cautions::for_set_out(one, &job.sections, job.style()));
        of_set_outs
            .chain(cautions::beside_the_plan(job))
            .any(|caution| caution.contains(words))
    };
    let plain = sound(&framed("no"));
    for words in ["Parts under", "rip it", "carries"] {
        assert!(!said(&plain, words), "{words}");
    }
    assert!(said(&plain, "blade stop") && said(&plain, "Dust"));
    let mut short = framed("no");
    short.set_outs[0].fields[0].1 = "430".into();
    assert!(said(&sound(&short), "Parts under 300 mm"));
    // A face of 600 in boards of 70 is ripped; in treated boards that is cautioned against.
    let mut boards = framed("unknown");
    boards.set_outs[0].kind = Some("boarding".into());
    let boards = sound(&boards);
    assert_eq!(boards.sections[0].treated, Treated::Unknown);
    assert!(said(&boards, "do not rip it"));
    let mut whole = framed("unknown");
    whole.set_outs[0].kind = Some("boarding".into());
    whole.set_outs[0]
        .fields
        .extend([("gap".into(), "0".into()), ("width".into(), "560".into())]);
    assert!(!said(&sound(&whole), "do not rip it"));
    let slats = one(
        "mm",
        ("slat", "20", "70", ""),
        "slats",
        &[("span", "450"), ("length", "1200")],
    );
    let texts = cautions::for_set_out(&slats, &plain.sections, plain.style());
    assert!(
        texts.len() == 1 && texts[0].contains("qualified person"),
        "{texts:?}"
    );
}

#[test]
fn board_feet_of_a_tongued_board_are_by_its_nominal_size_and_else_the_sizes_are_said_to_be_those_given()
 {
    let job = |sections: &[(&str, &str, &str, &str)], fields: &[(&str, &str)]| {
        let set_outs: Vec<_> = sections
            .iter()
            .map(|(name, ..)| (*name, "parts", fields))
            .collect();
        let mut draft = draft("in", sections, &set_outs);
        for (set_out, (name, ..)) in draft.set_outs.iter_mut().zip(sections) {
            set_out.fields.push(("section".into(), (*name).into()));
        }
        sound(&draft)
    };
    let board_feet = |job: &Job| {
        let row = rows(job, &work_out(job))
            .into_iter()
            .find(|row| row.name == "Board feet in the parts");
        row.map(|row| (row.value, row.basis)).expect("board feet")
    };
    let length = [("length", "144")];
    let over = "; thickness by width by length over 12";
    // Dressed 3/4 x 5 3/8 is 1 x 6 with a tongue (WWPA coverage table): 1 x 6 x 12 / 12.
    let tongued = ("tongued", "3/4", "5 3/8", "5 1/8");
    assert_eq!(
        board_feet(&job(&[tongued], &length)),
        ("6 BF".into(), format!("nominal sizes{over}"))
    );
    // Nobody sells 3/4 x 5 by another name: 1 x 5 x 12 / 12, for under an inch of thickness counts as an inch.
    let odd = ("odd", "3/4", "5", "");
    assert_eq!(
        board_feet(&job(&[odd], &length)),
        ("5 BF".into(), format!("at the sizes given{over}"))
    );
    assert_eq!(
        board_feet(&job(&[tongued, odd], &length)),
        (
            "11 BF".into(),
            format!("nominal sizes, odd at the size given{over}")
        )
    );
}

#[test]
fn a_number_in_a_reason_has_the_decimal_sign_of_the_job_and_a_clause_keeps_its_point() {
    let fields = [("width", "600"), ("height", "600")];
    let mut draft = draft(
        "mm",
        &[("frame", "45", "70", ""), ("board", "20", "120", "")],
        &[("panel", "frame", &fields)],
    );
    draft.own.decimal = Some("comma".into());
    draft.set_outs[0]
        .fields
        .push(("section".into(), "frame".into()));
    let slats = [("span", "600"), ("length", "600"), ("section", "board")];
    let mut more = draft.set_outs[0].clone();
    more.name = Some("top".into());
    more.kind = Some("slats".into());
    more.fields = slats
        .map(|(name, text)| (name.into(), text.into()))
        .to_vec();
    draft.set_outs.push(more);
    let job = sound(&draft);
    let bases: Vec<String> = rows(&job, &work_out(&job))
        .into_iter()
        .map(|row| row.basis)
        .collect();
    let all = bases.join(" ");
    assert!(all.contains("often 2,5 times"), "{all}");
    assert!(all.contains("NHBC 6.3"), "{all}");
}
