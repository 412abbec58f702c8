//! The picture of a job: the letters and colours of the boards, sizes over all, and no text over another.

mod common;

use common::hand::draft_of;
use common::random::Random;
use lengthwise::io::job_file;
use lengthwise::job::{Job, JobDraft, examine};
use lengthwise::limits;
use lengthwise::patience::{Limits, Patience};
use lengthwise::planner::{Planned, plan_job};
use lengthwise::report::{self, LegendRow, Look, drawings, names};
use lengthwise::setout::{Kind, Sort, Usual};
use roxmltree::{Document, Node};

fn fixture(name: &str) -> Job {
    let path = format!("{}/fixtures/jobs/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).expect("a fixture");
    let (draft, faults) = job_file::read(&text);
    assert!(faults.is_empty());
    sound(&draft)
}

#[track_caller]
fn sound(draft: &JobDraft) -> Job {
    let (job, faults) = examine(draft);
    let faults: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert_eq!(faults, Vec::<String>::new());
    job
}

fn legend(job: &Job) -> Vec<LegendRow> {
    let clock = || 0.0;
    let mut hear = |_: &lengthwise::plan::Plan| {};
    let mut patience = Patience::new(Limits::asks(2_000), &clock, &mut hear);
    let Planned::Found(plan) = plan_job(job, &mut patience) else {
        panic!("it can be planned")
    };
    let checked = lengthwise::check::check(job, plan).expect("the plan holds");
    report::build(job, &checked).legend
}

fn text_of<'a>(node: Node<'a, 'a>) -> &'a str {
    node.text().unwrap_or_default()
}

fn number(node: Node, name: &str) -> f64 {
    node.attribute(name)
        .and_then(|text| text.parse().ok())
        .expect("a number")
}

/// A text with the box it takes: a letter of the widest common font is 0.64 of its height wide, and stands 0.75 of it above its base line.
fn boxes<'a>(picture: &'a Document) -> Vec<(&'a str, [f64; 4])> {
    let texts = picture
        .descendants()
        .filter(|node| node.has_tag_name("text"));
    texts
        .map(|node| {
            let (x, y, text) = (number(node, "x"), number(node, "y"), text_of(node));
            let wide = text.chars().count() as f64 * 12.0 * 0.64;
            let from = match node.attribute("text-anchor") {
                None => x,
                Some("middle") => x - wide / 2.0,
                Some("start") => x,
                Some("end") => x - wide,
                Some(other) => panic!("{other}"),
            };
            (text, [from, y - 9.0, from + wide, y + 1.0])
        })
        .collect()
}

#[track_caller]
fn no_text_is_over_another(picture: &str) {
    let picture = Document::parse(picture).expect("an SVG");
    let boxes = boxes(&picture);
    let high = number(picture.root_element(), "height");
    for (at, (one, a)) in boxes.iter().enumerate() {
        assert!(
            a[0] >= 0.0 && a[2] <= 1_000.0 && a[1] >= 0.0 && a[3] <= high,
            "{one} {a:?}"
        );
        for (other, b) in &boxes[at + 1..] {
            let apart = a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1];
            assert!(apart, "{one} {a:?}, {other} {b:?}");
        }
    }
}

#[test]
fn every_part_has_the_letter_and_the_colour_it_has_on_the_boards() {
    let job = fixture("bin_store");
    let picture = report::picture(&job);
    let picture = Document::parse(&picture).expect("an SVG");
    let texts: Vec<&str> = picture
        .descendants()
        .filter(|node| node.has_tag_name("text"))
        .map(text_of)
        .collect();
    for row in legend(&job) {
        let key = format!(
            "{}  {}, {} \u{d7} {}",
            row.letter, row.label, row.count, row.length
        );
        // Two spaces are one where lines are wrapped.
        let key = key.replace("  ", " ");
        let line = picture
            .descendants()
            .find(|node| node.has_tag_name("text") && text_of(*node).replace("  ", " ") == key);
        let line = line.unwrap_or_else(|| panic!("no line {key} in {texts:?}"));
        let swatch = line
            .prev_siblings()
            .find(|node| node.has_tag_name("polygon"))
            .expect("a swatch before its line");
        assert_eq!(swatch.attribute("fill"), Some(row.colour), "{key}");
        // It stands on the part, from at least one side.
        assert!(texts.contains(&row.letter.as_str()), "{}", row.letter);
    }
}

#[test]
fn strips_that_share_a_piece_are_lettered_by_their_place_in_it() {
    // Two faces whose last boards are ripped to 50 and 38: one piece of a 100 board holds both, C1 and C2; whole boards are A and B.
    let job = sound(&draft_of(|draft| {
        draft.own.unit = Some("mm".into());
        draft.saw.kerf = Some("2".into());
        draft.section("board", |section| {
            section.thickness = Some("20".into());
            section.width = Some("100".into());
        });
        draft.yard("board", "3 m", None, None);
        for (name, width) in [("Left", "250"), ("Right", "238")] {
            let fields = [
                ("width", width),
                ("height", "800"),
                ("gap", "0"),
                ("edges", "rip the last board only"),
            ];
            draft.set_out(name, "boarding", &fields);
        }
    }));
    let pieces: Vec<usize> = job.parts.iter().map(|part| part.strips.len()).collect();
    assert_eq!(
        pieces,
        [0, 2, 0],
        "a whole board, a piece of two strips, a whole board"
    );
    let picture = report::picture(&job);
    for text in [">B1<", ">B2<", ">A<", ">C<"] {
        assert!(picture.contains(text), "{text}");
    }
}

#[test]
fn the_views_say_each_size_over_all_once() {
    let job = fixture("bin_store");
    let picture = report::picture(&job);
    // All of it stands on the store. To the left and right boards of 19 on the frame of 1410; to the back a board of 19 on its 800, to
    // the front the lid's trim, which stands out by 15; above its 1180 the lid's frame of 45, its boards of 19 and the trim of 21.
    // The trim stands out by 15 and the boards by 19, so that the boards are the widest.
    for size in ["1448 mm", "834 mm", "1265 mm"] {
        assert_eq!(picture.matches(&format!(">{size}<")).count(), 1, "{size}");
    }
    for view in ["from the front", "from the left", "from above"] {
        assert_eq!(picture.matches(&format!(">{view}<")).count(), 1, "{view}");
    }
    // What stands on something is put on after it, else as it is listed; each with the letters of its parts.
    let lines = [
        ">Put together in this order:<",
        ">2. Front tie (H): ",
        ">9. Lid trim (U, V): ",
    ];
    let places = lines.map(|line| picture.find(line).unwrap_or_else(|| panic!("no {line}")));
    assert!(places.is_sorted());
    // 1440 by 830 over the points: sqrt(1440² + 830²) is 1662.1.
    // The long sides lie on ten boards each, the short ones on one.
    let square = ">Square where both diagonals are \u{2248}1662 mm. Fixed at 4 mitred corners, 22 places on Lid boards.<";
    assert!(picture.contains(square));
}

#[test]
fn no_text_of_a_picture_is_over_another_whatever_the_sizes() {
    for name in ["bin_store", "cold_frame_inches", "log_store", "gate_parts"] {
        no_text_is_over_another(&report::picture(&fixture(name)));
    }
    let mut random = Random(307);
    let mut sound = 0;
    for round in 0..90 {
        let kind = Kind::ALL[round % Kind::ALL.len()];
        let mut fields: Vec<(&str, String)> = Vec::new();
        for field in kind.about().fields {
            if field.usual == Usual::Nothing && random.below(3) > 0 {
                continue;
            }
            let text = match field.sort {
                Sort::Section | Sort::AnySection => random.pick(&["stick", "board"]).to_owned(),
                Sort::Choice(words) => random.pick(words).to_owned(),
                Sort::Count { least, most } => random.between(least, most.min(7)).to_string(),
                Sort::Ends => "45; 30".to_owned(),
                Sort::Face | Sort::Text => "a part with a name that is rather long".to_owned(),
                Sort::Size | Sort::Length => match field.usual {
                    Usual::Needed => random.between(150, 4_000).to_string(),
                    Usual::Nothing => random.between(200, 600).to_string(),
                    _ => random.between(0, 60).to_string(),
                },
            };
            fields.push((field.field, text));
        }
        let fields: Vec<(&str, &str)> = fields
            .iter()
            .map(|(field, text)| (*field, text.as_str()))
            .collect();
        let draft = draft_of(|draft| {
            draft.own.unit = Some("mm".into());
            for (name, thickness, width) in [("stick", "38", "63"), ("board", "19", "140")] {
                draft.section(name, |section| {
                    section.thickness = Some(thickness.into());
                    section.width = Some(width.into());
                });
            }
            draft.set_out("It", kind.about().kind, &fields);
        });
        let (job, faults) = examine(&draft);
        if faults.is_empty() {
            sound += 1;
            no_text_is_over_another(&report::picture(&job));
        }
    }
    assert!(sound > 30, "{sound}");
}

#[test]
fn what_is_too_much_to_draw_or_stands_in_one_place_is_said() {
    let with = |kind: &str, fields: &[(&str, &str)]| {
        report::picture(&sound(&draft_of(|draft| {
            draft.own.unit = Some("mm".into());
            for (name, thickness, width) in [
                ("thin", "20", "95"),
                ("lath", "20", "30"),
                ("deep", "70", "95"),
            ] {
                draft.section(name, |section| {
                    section.thickness = Some(thickness.into());
                    section.width = Some(width.into());
                });
            }
            draft.set_out("It", kind, fields);
        })))
    };
    let pegs = [("length", "100"), ("section", "thin"), ("quantity", "1001")];
    let told = limits::DRAWN.told(1_001);
    assert!(with("parts", &pegs).contains(&told), "{told}");
    // Panels of 30 x 20 laths with uprights 95 wide and 70 deep: these reach 50 into the box. One in each panel stands in its middle, clear of
    // the others. Two in each leave gaps of 26.7 and 13.3, so they start 56.7 and 63.3 from the corner, where 70 of the other are.
    let box_with = |uprights| {
        let fields = [
            ("width", "330"),
            ("depth", "330"),
            ("height", "600"),
            ("section", "lath"),
            ("middle_section", "deep"),
            ("front_uprights", uprights),
            ("side_uprights", uprights),
        ];
        with("box", &fields)
    };
    let said = "two of its parts are in one place: It: front or back upright and It: side upright";
    assert!(!box_with("1").contains("in one place"));
    assert!(box_with("2").contains(said), "{}", box_with("2"));
}

#[test]
fn names_of_the_person_reach_the_picture_as_text() {
    let picture = report::picture(&sound(&draft_of(|draft| {
        draft.section("stick", |section| {
            section.thickness = Some("20".into());
            section.width = Some("95".into());
        });
        draft.set_out(
            "<script>&\"",
            "parts",
            &[("length", "1 m"), ("label", "]]>")],
        );
    })));
    let read = Document::parse(&picture).expect("an SVG");
    let texts: Vec<&str> = read
        .descendants()
        .filter(|node| node.has_tag_name("text"))
        .map(text_of)
        .collect();
    assert!(texts.contains(&"<script>&\""), "{texts:?}");
}

/// The looks that the page can ask for.
const LOOKS: [Look; 9] = [
    Look::Corner(0),
    Look::Corner(1),
    Look::Corner(2),
    Look::Corner(3),
    Look::Apart(0),
    Look::Apart(1),
    Look::Apart(2),
    Look::Apart(3),
    Look::Views,
];

#[test]
fn a_drawing_for_a_screen_holds_all_that_is_written_in_it() {
    for name in ["bin_store", "cold_frame_inches", "log_store"] {
        let job = fixture(name);
        for look in LOOKS {
            for drawing in drawings(&job, look) {
                let svg = Document::parse(&drawing.svg).expect("an SVG");
                let room = svg.root_element().attribute("viewBox").expect("its room");
                let room: Vec<f64> = room
                    .split(' ')
                    .map(|at| at.parse().expect("a number"))
                    .collect();
                let boxes = boxes(&svg);
                for (at, (one, a)) in boxes.iter().enumerate() {
                    assert!(
                        a[0] >= room[0]
                            && a[2] <= room[0] + room[2]
                            && a[1] >= room[1]
                            && a[3] <= room[1] + room[3],
                        "{name} {look:?} {one} {a:?} {room:?}"
                    );
                    for (other, b) in &boxes[at + 1..] {
                        let apart = a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1];
                        assert!(apart, "{name} {look:?} {one} {a:?}, {other} {b:?}");
                    }
                }
            }
        }
    }
}

#[test]
fn every_face_and_letter_says_which_line_of_the_list_it_is_of() {
    let job = fixture("bin_store");
    let names = names(&job);
    assert_eq!(names.len(), job.list.len());
    // The third part of the store's twenty-two lines, the first of the lid's boards, and the last line.
    let key = |letter: &str| {
        let mut of = names.iter().filter(|name| name.short() == letter);
        of.next().map(|name| name.key.as_str())
    };
    assert_eq!(
        [key("C"), key("T"), key("V")],
        [Some("0/2"), Some("7/0"), Some("8/1")]
    );
    for look in LOOKS {
        let [drawing] = &drawings(&job, look)[..] else {
            panic!("one piece")
        };
        let svg = Document::parse(&drawing.svg).expect("an SVG");
        let mut drawn: Vec<&str> = Vec::new();
        for node in svg
            .descendants()
            .filter(|node| node.has_tag_name("polygon"))
        {
            let key = node.attribute("data-part").expect("a key");
            let name = names.iter().find(|name| name.key == key).expect("a line");
            if !drawn.contains(&key) {
                drawn.push(key);
            }
            if look == Look::Views {
                assert_eq!(node.attribute("fill"), Some(name.colour));
            }
        }
        // Hidden or not, every part is drawn.
        if look != Look::Views {
            assert_eq!(drawn.len(), names.len(), "{look:?}");
        }
        for node in svg.descendants().filter(|node| node.has_tag_name("text")) {
            if let Some(key) = node.attribute("data-part") {
                let name = names.iter().find(|name| name.key == key);
                assert_eq!(
                    Some(text_of(node)),
                    name.map(|name| name.short()).as_deref()
                );
            }
        }
    }
}

#[test]
fn what_only_the_back_shows_is_drawn_from_behind_too() {
    let captions = |job: &Job| -> Vec<String> {
        let drawings = drawings(job, Look::Views);
        let svg = Document::parse(&drawings[0].svg).expect("an SVG");
        let texts = svg.descendants().filter(|node| node.has_tag_name("text"));
        let texts = texts.filter(|node| node.attribute("data-part").is_none());
        texts
            .map(|node| text_of(node).to_owned())
            .filter(|text| !text.contains("mm"))
            .collect()
    };
    // The ledges and braces of a gate are behind its boards; a box is walked round.
    let gate =
        serde_json::from_str(include_str!("../fixtures/pieces/gate_metric.json")).expect("JSON");
    let (draft, _) = job_file::read_value(&gate);
    let gate = examine(&draft).0;
    assert_eq!(captions(&gate), ["front", "left", "above", "behind"]);
    assert_eq!(captions(&fixture("bin_store")), ["front", "left", "above"]);
}

#[test]
fn what_cannot_be_sized_is_left_out_of_a_drawing_and_said_to_be() {
    let frame = |name: &str, width: &str| serde_json::json!({ "name": name, "kind": "frame", "width": width, "height": "400", "section": "stick" });
    let reply = |set_outs: Vec<serde_json::Value>| {
        let job = serde_json::json!({ "format": "lengthwise-job", "unit": "mm", "sections": [{ "name": "stick", "thickness": "20", "width": "45" }],
            "set_outs": set_outs });
        let request = serde_json::json!({ "job": job, "looks": [{ "how": "apart", "corner": 3 }] });
        let reply = lengthwise::api::call("picture", &request.to_string());
        serde_json::from_str::<serde_json::Value>(&reply).expect("JSON")
    };
    let names = |reply: &serde_json::Value| {
        let pieces = reply["looks"][0].as_array().expect("pieces").clone();
        pieces
            .iter()
            .map(|one| one["name"].as_str().unwrap_or_default().to_owned())
            .collect::<Vec<_>>()
    };
    let both = reply(vec![frame("Left", "600"), frame("Right", "700")]);
    assert_eq!(
        (&both["complete"], names(&both)),
        (&true.into(), vec!["Left".into(), "Right".into()])
    );
    assert_eq!(both["looks"][0][0]["comes_apart"], false);
    let title = "<title>Right, from the back left</title><desc>700 mm wide, 20 mm deep and 400 mm high over all.";
    let svg = both["looks"][0][1]["svg"].as_str().expect("a drawing");
    assert!(svg.contains(title), "{svg}");
    let one = reply(vec![frame("Left", "6x0"), frame("Right", "700")]);
    assert_eq!(
        (&one["complete"], names(&one)),
        (&false.into(), vec!["Right".into()])
    );
}

#[test]
fn only_faces_and_the_keys_colours_are_filled() {
    for name in ["log_store", "bin_store", "gate_parts"] {
        let picture = report::picture(&fixture(name));
        let document = Document::parse(&picture).expect("markup");
        let lines = document
            .descendants()
            .filter(|node| node.has_tag_name("path"));
        for line in lines {
            let fill = line
                .ancestors()
                .find_map(|node| node.attribute("fill"))
                .expect("the sheet has one");
            assert_eq!(fill, "none", "{line:?}");
        }
    }
}
