//! Set-outs that stand on faces of others: their sizes are those one would type, they go where their faces go, and faults are at their field.

use super::small::{Sides, draft, fact, mm, part, sound};
use lengthwise::job::{Job, JobDraft, examine};
use lengthwise::setout::{SetOut, wholes};
use lengthwise::space::{Solid, bounds, plane_between};

const FRAME: Sides = ("frame", "45", "70", "");
const BOARD: Sides = ("board", "20", "145", "137");

type Fields<'a> = Vec<(&'a str, &'a str)>;
type Row<'a> = (&'a str, &'a str, Fields<'a>);
type Rows<'a> = Vec<Row<'a>>;

fn drafted(rows: &Rows) -> JobDraft {
    let rows: Vec<_> = rows
        .iter()
        .map(|(name, kind, fields)| (*name, *kind, fields.as_slice()))
        .collect();
    draft("mm", &[FRAME, BOARD], &rows)
}

fn job(rows: &Rows) -> Job {
    sound(&drafted(rows))
}

/// The faults, each as its row, its field and its message.
fn faults(rows: &Rows) -> Vec<(usize, String, String)> {
    let (_, faults) = examine(&drafted(rows));
    let told = faults.into_iter().map(|fault| {
        let row = fault.place.row.expect("a row");
        (row, fault.place.field.clone(), fault.kind.to_string())
    });
    told.collect()
}

fn store(more: &[(&'static str, &'static str)]) -> Row<'static> {
    let mut fields = vec![
        ("width", "1400"),
        ("depth", "800"),
        ("height", "1200"),
        ("section", "frame"),
        ("front", "open"),
    ];
    fields.extend(more);
    ("Store", "box", fields)
}

fn set_out<'a>(job: &'a Job, name: &str) -> &'a SetOut {
    job.set_outs
        .iter()
        .find(|set_out| set_out.name == name)
        .expect("a set-out of this name")
}

/// Where the members of a set-out are in the piece that the first set-out carries, in millimetres.
fn ends(job: &Job, name: &str) -> [[i64; 2]; 3] {
    let wholes = wholes(&job.set_outs, &job.sections);
    let row = job.set_outs.iter().position(|one| one.name == name);
    let of_it = wholes[0].put.iter().filter(|put| Some(put.row) == row);
    let members = of_it.flat_map(|put| &put.members);
    let solids = members.flat_map(|member| &member.body);
    bounds(solids)
        .expect("members")
        .map(|ends| ends.map(|at| at / 3_200))
}

#[track_caller]
fn disjoint(job: &Job) -> usize {
    let mut count = 0;
    for whole in wholes(&job.set_outs, &job.sections) {
        let members = whole
            .put
            .iter()
            .flat_map(|put| put.members.iter().map(move |member| (put.row, member)));
        let pieces: Vec<(usize, &Solid)> = members
            .clone()
            .flat_map(|(row, member)| member.body.iter().map(move |solid| (row, solid)))
            .collect();
        for (at, (one, solid)) in pieces.iter().enumerate() {
            for (other, with) in &pieces[at + 1..] {
                let [one, other] = [one, other].map(|&row| &job.set_outs[row].name);
                assert!(
                    plane_between(solid, with).is_some(),
                    "{one} {other}: {solid:?} {with:?}"
                );
            }
        }
        count += members.count();
    }
    count
}

#[test]
fn the_sizes_of_a_face_are_those_one_would_type() {
    let on = |kind, face, more: &[(&'static str, &'static str)]| {
        let mut fields = vec![("on", face)];
        fields.extend(more);
        let job = job(&vec![store(&[]), ("It", kind, fields)]);
        set_out(&job, "It").parts.clone()
    };
    let typed = |kind, fields: &[(&'static str, &'static str)]| {
        let job = job(&vec![store(&[]), ("It", kind, fields.to_vec())]);
        set_out(&job, "It").parts.clone()
    };
    // Inside it is 1400 - 2 x 45 wide, and 800 - 45 deep behind its open front.
    for (kind, face, more, sizes) in [
        (
            "boarding",
            "[Store] back",
            ("section", "board"),
            [("width", "1400"), ("height", "1200")],
        ),
        (
            "boarding",
            "[store] LEFT",
            ("section", "board"),
            [("width", "800"), ("height", "1200")],
        ),
        (
            "frame",
            "[Store] right",
            ("section", "frame"),
            [("width", "800"), ("height", "1200")],
        ),
        (
            "top_frame",
            "[Store] top",
            ("section", "frame"),
            [("length", "1400"), ("depth", "800")],
        ),
        (
            "top_frame",
            "[Store] inside bottom",
            ("section", "frame"),
            [("length", "1310"), ("depth", "755")],
        ),
        (
            "mitred_frame",
            "[Store] top",
            ("section", "board"),
            [("width", "1400"), ("depth", "800")],
        ),
        (
            "slats",
            "[Store] top",
            ("section", "board"),
            [("length", "1400"), ("span", "800")],
        ),
        (
            "spaced",
            "[Store] inside back",
            ("section", "frame"),
            [("span", "1310"), ("height", "1200")],
        ),
    ] {
        let mut fields = sizes.to_vec();
        fields.push(more);
        assert_eq!(
            on(kind, face, &[more]),
            typed(kind, &fields),
            "{kind} {face}"
        );
    }
    // What people see stands; its pales are as high as the face.
    let pales = ("use", "pales or laths");
    let fields = [
        ("section", "board"),
        ("span", "1400"),
        ("length", "1200"),
        pales,
    ];
    assert_eq!(
        on("slats", "[Store] back", &[("section", "board"), pales]),
        typed("slats", &fields)
    );
    // An edge that is kept away from takes its distance off the size.
    let fields = [("section", "board"), ("width", "1400"), ("height", "1050")];
    assert_eq!(
        on(
            "boarding",
            "[Store] back",
            &[("section", "board"), ("up", "150")]
        ),
        typed("boarding", &fields)
    );
}

#[test]
fn a_typed_size_overrides_that_of_the_face_and_what_it_makes_says_which_it_is() {
    let made = |more: &[(&'static str, &'static str)]| {
        let mut fields = vec![("on", "[Store] back"), ("section", "board")];
        fields.extend(more);
        set_out(&job(&vec![store(&[]), ("It", "boarding", fields)]), "It")
            .makes
            .clone()
    };
    assert_eq!(
        made(&[]),
        "outside 1400 mm x 1200 mm: the face itself; width and height of [Store] back"
    );
    assert_eq!(
        made(&[("height", "900")]),
        "outside 1400 mm x 900 mm: the face itself; width of [Store] back, height typed"
    );
    assert_eq!(
        made(&[("height", "900"), ("width", "[Store] width / 2")]),
        "outside 700 mm x 900 mm: the face itself; on [Store] back, width and height typed"
    );
}

#[test]
fn the_box_says_once_which_of_its_boards_run_past() {
    let boards = |past: &'static str, faces: [&'static str; 2]| {
        let on = |face| vec![("on", face), ("section", "board"), ("run", "across")];
        let job = job(&vec![
            store(&[("boards_past", past)]),
            ("Back", "boarding", on(faces[0])),
            ("Sides", "boarding", on(faces[1])),
        ]);
        disjoint(&job);
        ["Back", "Sides"].map(|name| (fact(set_out(&job, name), "board length"), ends(&job, name)))
    };
    // The front is open, so the sides have a neighbour at the back alone: 20 more, at the back.
    let outside = ["[Store] back", "[Store] left; [Store] right"];
    let [back, sides] = boards("the two sides", outside);
    assert_eq!(back, (mm("1400"), [[0, 1_400], [800, 820], [0, 1_200]]));
    assert_eq!(sides, (mm("820"), [[-20, 1_420], [0, 820], [0, 1_200]]));
    // The back has one at either end.
    let [back, sides] = boards("front and back", outside);
    assert_eq!(back, (mm("1440"), [[-20, 1_420], [800, 820], [0, 1_200]]));
    assert_eq!(sides, (mm("800"), [[-20, 1_420], [0, 800], [0, 1_200]]));
    // Inside, those that do not run past stand between the others.
    let inside = [
        "[Store] inside back",
        "[Store] inside left; [Store] inside right",
    ];
    let [back, sides] = boards("the two sides", inside);
    assert_eq!(back, (mm("1270"), [[65, 1_335], [735, 755], [0, 1_200]]));
    assert_eq!(sides, (mm("755"), [[45, 1_355], [0, 755], [0, 1_200]]));
}

#[test]
fn one_stands_on_each_face_that_is_named() {
    let boards = vec![("on", "[Store] left; [Store] right"), ("section", "board")];
    let one = vec![("on", "[Store] left"), ("section", "board")];
    let quantity = |rows: &Rows| set_out(&job(rows), "It").parts[0].quantity;
    let alone = quantity(&vec![store(&[]), ("It", "boarding", one.clone())]);
    assert_eq!(
        quantity(&vec![store(&[]), ("It", "boarding", boards.clone())]),
        2 * alone
    );
    // Of three stores each has its two.
    assert_eq!(
        quantity(&vec![
            store(&[("times", "3")]),
            ("It", "boarding", boards.clone())
        ]),
        6 * alone
    );
    let mut three = boards;
    three.push(("times", "3"));
    let message = "with one on each face there are 2; leave this empty, or name as many faces as there are to be";
    assert_eq!(
        faults(&vec![store(&[]), ("It", "boarding", three)]),
        [(1, "times".to_owned(), message.to_owned())]
    );
}

#[test]
fn faces_of_posts_begin_at_the_ground_they_stand_in() {
    let post = ("post", "100", "100", "");
    let posts = [
        ("length", "3000"),
        ("height", "1200"),
        ("section", "post"),
        ("centres", "3000"),
        ("ground", "500"),
    ];
    let boards = [("on", "[Fence] front"), ("section", "board"), ("up", "50")];
    let rows = [
        ("Fence", "fence", &posts[..]),
        ("Boards", "boarding", &boards),
    ];
    let draft = draft("mm", &[post, BOARD], &rows);
    let job = sound(&draft);
    let boards = set_out(&job, "Boards");
    assert_eq!(fact(boards, "height"), mm("1150"));
    assert_eq!(ends(&job, "Boards")[2], [50, 1_200]);
    assert_eq!(ends(&job, "Fence")[2], [-500, 1_200]);
}

/// Posts 400 apart in height over 1200, which slope as 1 to 3.
const SLOPING: [(&str, &str); 6] = [
    ("width", "1000"),
    ("depth", "1200"),
    ("height", "1600"),
    ("back_height", "1200"),
    ("section", "post"),
    ("rail_section", "board"),
];

fn sloping(lid: &[(&str, &str)]) -> Job {
    let boards = [("on", "[Lid] top"), ("section", "board")];
    let rows = [
        ("Posts", "posts_and_rails", &SLOPING[..]),
        ("Lid", "top_frame", lid),
        ("Boards", "boarding", &boards),
    ];
    sound(&draft(
        "mm",
        &[("post", "70", "70", ""), FRAME, BOARD],
        &rows,
    ))
}

#[test]
fn a_lid_lies_on_a_slope_and_takes_its_size_from_there() {
    let job = sloping(&[
        ("on", "[Posts] top"),
        ("section", "frame"),
        ("seen", "wide side"),
    ]);
    // sqrt(1200² + 400²) is 1264.911 mm, in ticks of a 3200th 4 047 715.4.
    let lid = set_out(&job, "Lid");
    let along = fact(lid, "depth").ticks();
    assert_eq!((along, fact(lid, "length")), (4_047_715, mm("1000")));
    assert_eq!(fact(set_out(&job, "Boards"), "height"), fact(lid, "depth"));
    disjoint(&job);
    // Square to the slope the lid is 45 thick and its boards 20: the highest corner is at the front, 65 x 3 / sqrt(10) above the posts, and 65 / sqrt(10) in
    // front of them.
    let [x, y, z] = ends(&job, "Boards");
    assert_eq!(x, [0, 1_000]);
    let near = |found: i64, wanted: f64| (found as f64 - wanted).abs() < 1.5;
    let root = 10f64.sqrt();
    assert!(near(z[1], 1_600.0 + 65.0 * 3.0 / root), "{z:?}");
    // It falls to the back, so its normal leans to the back.
    assert!(
        near(y[0], 45.0 / root) && near(y[1], 1_200.0 + 65.0 / root),
        "{y:?}"
    );
}

#[test]
fn what_is_larger_than_its_face_stands_out_alike_at_both_sides() {
    let larger = [
        ("on", "[Posts] top"),
        ("section", "frame"),
        ("length", "[Posts] width + 100"),
        ("depth", "[Posts] slope length + 60"),
    ];
    let job = sloping(&larger);
    assert_eq!(ends(&job, "Lid")[0], [-50, 1_050]);
    disjoint(&job);
    // An edge that is said is kept.
    let mut said = larger.to_vec();
    said.push(("along", "0"));
    assert_eq!(ends(&sloping(&said), "Lid")[0], [0, 1_100]);
}

#[test]
fn a_slope_on_a_slope_is_not_drawn_and_nor_is_what_is_mitred_flat_on_one() {
    let mitred = [
        ("on", "[Posts] top"),
        ("section", "frame"),
        ("corner", "mitred"),
        ("seen", "wide side"),
    ];
    let job = sloping(&mitred);
    let wholes = wholes(&job.set_outs, &job.sections);
    let drawn: Vec<bool> = wholes[0]
        .put
        .iter()
        .map(|put| !put.members.is_empty())
        .collect();
    assert_eq!(drawn, [true, false, true]);
    let picture = lengthwise::report::picture(&job);
    assert!(picture.contains(
        "Lid is not drawn: it stands on a slope, and only what is square is drawn there."
    ));
}

#[test]
fn boards_lie_on_rafters_of_one_slope() {
    let rafters = [
        ("length", "2000"),
        ("depth", "900"),
        ("rise", "300"),
        ("section", "frame"),
        ("overhang_front", "90"),
        ("overhang_back", "60"),
    ];
    let boards = [
        ("on", "[Roof] top"),
        ("section", "board"),
        ("run", "across"),
    ];
    let rows = [
        ("Roof", "rafters", &rafters[..]),
        ("Boards", "boarding", &boards),
    ];
    let job = sound(&draft("mm", &[FRAME, BOARD], &rows));
    assert_eq!(
        fact(set_out(&job, "Boards"), "height"),
        fact(set_out(&job, "Roof"), "slope length")
    );
    assert_eq!(fact(set_out(&job, "Boards"), "width"), mm("2000"));
    disjoint(&job);
    // The upper edge of the rafters at the eaves is 70 sqrt(10) / 3 - 30 high and 90 out; boards of 20 go 20 x 3 / sqrt(10) above the upper end.
    let z = ends(&job, "Boards")[2];
    let root = 10f64.sqrt();
    let low = 70.0 * root / 3.0 - 30.0;
    assert!((z[0] as f64 - low).abs() < 1.5, "{z:?} {low}");
    assert!(
        (z[1] as f64 - (low + 350.0 + 60.0 / root)).abs() < 1.5,
        "{z:?}"
    );
}

#[test]
fn the_room_between_posts_is_inside_them() {
    let posts = [
        ("width", "1000"),
        ("depth", "600"),
        ("height", "900"),
        ("section", "frame"),
        ("rail_section", "board"),
    ];
    let shelf = [
        ("on", "[Posts] inside bottom"),
        ("section", "frame"),
        ("off", "300"),
    ];
    let rows = [
        ("Posts", "posts_and_rails", &posts[..]),
        ("Shelf", "top_frame", &shelf),
    ];
    let job = sound(&draft("mm", &[FRAME, BOARD], &rows));
    // Posts show their wide side of 70 to the front and are 45 deep.
    assert_eq!(ends(&job, "Shelf")[0], [70, 930]);
    assert_eq!(ends(&job, "Shelf")[1], [45, 555]);
    disjoint(&job);
}

#[test]
fn what_stands_on_a_set_out_goes_with_it() {
    let piece = |off: &'static str| {
        job(&vec![
            store(&[]),
            (
                "Lid",
                "top_frame",
                vec![("on", "[Store] top"), ("off", off), ("section", "frame")],
            ),
            (
                "Boards",
                "boarding",
                vec![("on", "[Lid] top"), ("section", "board")],
            ),
            (
                "Trim",
                "mitred_frame",
                vec![
                    ("on", "[Boards] front"),
                    ("overhang", "15"),
                    ("section", "board"),
                ],
            ),
        ])
    };
    let (low, high) = (piece("0"), piece("100"));
    let up = |ends: [[i64; 2]; 3]| [ends[0], ends[1], ends[2].map(|z| z + 100)];
    for name in ["Lid", "Boards", "Trim"] {
        assert_eq!(ends(&high, name), up(ends(&low, name)), "{name}");
    }
    // The frame stands on edge, 70 high; its boards are 20, and the cap stands out 15 all round.
    assert_eq!(ends(&low, "Lid"), [[0, 1_400], [0, 800], [1_200, 1_270]]);
    assert_eq!(ends(&low, "Boards"), [[0, 1_400], [0, 800], [1_270, 1_290]]);
    assert_eq!(
        ends(&low, "Trim"),
        [[-15, 1_415], [-15, 815], [1_290, 1_310]]
    );
    assert_eq!(disjoint(&low), disjoint(&high));
    assert_eq!(wholes(&low.set_outs, &low.sections).len(), 1);
}

#[test]
fn slats_run_along_the_face_whichever_way_it_is_the_longer() {
    for face in ["[Store] top", "[Store] left"] {
        let fields = vec![
            ("on", face),
            ("section", "board"),
            ("overhang", "10"),
            ("past", "5"),
        ];
        let job = job(&vec![store(&[]), ("It", "slats", fields)]);
        let wanted = match face {
            "[Store] top" => [[-10, 1_410], [-5, 805], [1_200, 1_220]],
            _ => [[-20, 0], [-10, 810], [-5, 1_205]],
        };
        assert_eq!(ends(&job, "It"), wanted, "{face}");
        disjoint(&job);
    }
}

#[test]
fn the_demo_stands_together_and_no_two_of_its_members_are_in_one_place() {
    let path = format!(
        "{}/fixtures/jobs/bin_store.json",
        env!("CARGO_MANIFEST_DIR")
    );
    let text = std::fs::read_to_string(path).expect("the example");
    let (draft, _) = lengthwise::io::job_file::read(&text);
    let job = sound(&draft);
    let wholes = wholes(&job.set_outs, &job.sections);
    assert_eq!(wholes.len(), 1);
    let parts: u32 = job.list.iter().map(|part| part.quantity).sum();
    assert_eq!(disjoint(&job), parts as usize);
    // One of the two at the bottom and one at the top of the open front, each 70 high.
    assert_eq!(part(set_out(&job, "Front tie"), "tie").1, 2);
    assert_eq!(ends(&job, "Front tie"), [[45, 1_365], [0, 45], [0, 1_180]]);
}

#[test]
fn a_face_that_is_not_there_is_a_fault_of_its_field() {
    let on = |face| {
        let found = faults(&vec![
            store(&[]),
            ("It", "boarding", vec![("on", face), ("section", "board")]),
        ]);
        let [(1, field, message)] = found.as_slice() else {
            panic!("{found:?}")
        };
        assert_eq!(field, "on");
        message.clone()
    };
    assert_eq!(
        on("[Stor] back"),
        "no set-out is called \"Stor\"; did you mean [Store]?"
    );
    assert_eq!(
        on("[Store] bak"),
        "\"Store\" has no face called \"bak\"; did you mean [Store] back?"
    );
    assert_eq!(
        on("[Store] edge of it"),
        "\"Store\" has no face called \"edge of it\"; its faces are front, back, left, right, bottom, top"
    );
    assert_eq!(
        on("Store back"),
        "write the name of a set-out and one of its faces, such as [Box] back"
    );
    assert_eq!(
        on("[Store]"),
        "write the name of a set-out and one of its faces, such as [Box] back"
    );
    assert_eq!(
        on("[It] back"),
        "a set-out cannot stand on itself; name another one"
    );
    assert_eq!(
        on("[Store] left; [Store] back"),
        "[Store] back has another size or other corners than the face before it; give each a set-out of its own"
    );
}

#[test]
fn set_outs_that_stand_on_each_other_are_a_loop_at_each_of_their_fields() {
    let row = |name, other, more: &[(&'static str, &'static str)]| {
        let mut fields = vec![("on", other), ("section", "board")];
        fields.extend(more);
        (name, "boarding", fields)
    };
    let sizes = [("width", "900"), ("height", "700")];
    let found = faults(&vec![
        row("A", "[B] front", &sizes),
        row("B", "[A] front", &sizes),
    ]);
    let message = "these sizes wait for each other in a circle: [A] on \u{2192} [B] on \u{2192} [A] on; give one of them a plain length, or let one set-out stand by itself";
    let wanted = [0, 1].map(|row| (row, "on".to_owned(), message.to_owned()));
    assert_eq!(found, wanted);
    // Without sizes of their own the first that is asked for closes it.
    let found = faults(&vec![
        row("A", "[B] front", &[]),
        row("B", "[A] front", &[]),
    ]);
    assert!(
        found
            .iter()
            .any(|(row, field, _)| (*row, field.as_str()) == (0, "on"))
    );
    assert!(
        found
            .iter()
            .any(|(row, field, _)| (*row, field.as_str()) == (1, "on"))
    );
    // A size of the one beneath that follows what stands on it.
    let found = faults(&vec![
        (
            "A",
            "boarding",
            vec![
                ("width", "[B] boarded width"),
                ("height", "700"),
                ("section", "board"),
            ],
        ),
        row("B", "[A] front", &[]),
    ]);
    assert!(
        found
            .iter()
            .all(|(_, _, message)| message.contains("in a circle")),
        "{found:?}"
    );
    assert!(
        found
            .iter()
            .any(|(row, field, _)| (*row, field.as_str()) == (0, "width")),
        "{found:?}"
    );
}

#[test]
fn whoever_puts_it_together_is_told_where_on_its_face_each_set_out_goes() {
    let rows = vec![
        (
            "Boards",
            "boarding",
            vec![
                ("width", "900"),
                ("height", "1200"),
                ("section", "board"),
                ("run", "upright"),
            ],
        ),
        (
            "Ledges",
            "parts",
            vec![
                ("on", "[Boards] back"),
                ("section", "board"),
                ("quantity", "3"),
                ("label", "ledge"),
            ],
        ),
        (
            "Brace",
            "brace",
            vec![
                ("on", "[Boards] back"),
                ("along", "40"),
                ("up", "145"),
                ("height", "382.5"),
                ("section", "board"),
            ],
        ),
        (
            "Feet",
            "parts",
            vec![
                ("on", "[Boards] top"),
                ("section", "frame"),
                ("up", "5"),
                ("off", "10"),
            ],
        ),
    ];
    let job = job(&rows);
    // Three of 145 on 1200: (1200 - 145) / 2 from one to the next.
    let ledges = &set_out(&job, "Ledges").positions[0];
    let at = ledges
        .marks
        .iter()
        .map(|mark| (mark.label.as_str(), mark.at));
    assert_eq!(
        at.collect::<Vec<_>>(),
        [
            ("ledge 1 starts", mm("0")),
            ("ledge 2 starts", mm("527.5")),
            ("ledge 3 starts", mm("1055"))
        ]
    );
    assert_eq!(ledges.datum, "the lower edge of the face");
    let starts = ends(&job, "Ledges")[2];
    assert_eq!(starts, [0, 1_200]);
    let ends_with = |name: &str, told: &str| {
        let makes = &set_out(&job, name).makes;
        assert!(makes.ends_with(told), "{makes}");
    };
    ends_with(
        "Brace",
        "; width of [Boards] back, height typed, 40 mm from the left edge of the face, 145 mm from the lower edge of the face",
    );
    // One alone is not spread, and a face that lies has a front edge.
    assert_eq!(set_out(&job, "Feet").positions, []);
    ends_with(
        "Feet",
        ", 5 mm from the front edge of the face, 10 mm off the face",
    );
}
