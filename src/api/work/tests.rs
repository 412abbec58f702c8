//! What is left of work, and what goes back to the shed.

use super::*;
use serde_json::json;

/// Three legs of 560 from a board of 2.4 m, and a board of the shed whose note was typed by a person.
fn asked(bought: usize, cut: usize) -> Value {
    let mm = Length::from_mm(1).ticks();
    let cut_at =
        |nth: i64| json!({ "part": 0, "start": nth * 564 * mm, "end": (nth * 564 + 560) * mm });
    json!({
        "job": {
            "format": "lengthwise-job", "version": 1, "sections": [{ "name": "batten", "trim": "0" }],
            "saw": { "kerf": "4", "keep": "300" },
            "yard": [{ "section": "batten", "length": "2.4 m" }],
            "shed": [{ "mark": "S", "section": "batten", "length": "500 mm", "note": "bought for this piece" }],
            "parts": [{ "label": "leg", "section": "batten", "length": "560", "quantity": "3" }],
        },
        "plan": {
            "format": plan_file::FORMAT, "version": plan_file::VERSION, "proofs": [],
            "boards": [{ "yard": 0, "runs": [{ "from": 0, "to": 2_400 * mm, "cuts": [cut_at(0), cut_at(1), cut_at(2)] }] }],
        },
        "progress": {
            "boards": [{ "board": 0, "steps": cut, "spoiled": [], "mark": "K" }],
            "bought": [{ "line": 0, "count": bought, "lengths": vec![""; bought], "marks": &["K", "L"][..bought] }],
        },
    })
}

#[test]
fn how_a_board_came_into_the_shed_is_told_beside_its_row_and_handed_on() {
    let mut request = asked(2, 1);
    let reply = remaining(&request).expect("a reply");
    let none = Value::Null;
    let rest =
        json!({ "how": "rest", "of": "K", "end": "the end that was cut last", "in_hand": true });
    let whole = json!({ "how": "bought" });
    assert_eq!(reply["came"], json!([none, rest, whole]));
    let marks = reply["job"]["shed"].as_array().expect("a shed");
    let marks: Vec<&Value> = marks.iter().map(|row| &row["mark"]).collect();
    // K-2 is the mark of the offcut that the plan leaves of K in the end: the rest in hand has another.
    assert_eq!(marks, ["S", "K-3", "L"]);
    // The entry for a row that stays is passed on, whatever its note says.
    request["came"] = json!([{ "how": "rest", "of": "R" }]);
    let reply = remaining(&request).expect("a reply");
    assert_eq!(reply["came"][0], json!({ "how": "rest", "of": "R" }));
}

#[test]
fn an_offcut_that_comes_back_says_which_board_it_is_of() {
    let reply = finish(&asked(1, 3)).expect("a reply");
    assert_eq!(reply["boards"], json!([0]));
    assert_eq!(reply["shed"][0]["mark"], "K-2");
}

#[test]
fn what_is_in_the_car_stays_new_timber() {
    let counted = |request: &Value| -> Vec<Value> {
        let reply = remaining(request).expect("a reply");
        let shed = reply["job"]["shed"].as_array().expect("a shed");
        shed.iter().map(|row| row["counts_as"].clone()).collect()
    };
    let mut request = asked(2, 1);
    // The board of the shed, the rest of K, and L as it was bought.
    let new = json!("new timber");
    assert_eq!(counted(&request), [Value::Null, new.clone(), new]);
    request["job"]["parts"][0]["from"] = "new timber only".into();
    let reply = remaining(&request).expect("a reply");
    assert_eq!(reply["job"]["parts"][0]["from"], "new timber only");
    let left = job_file::read_value(&reply["job"]).0;
    let left = validate(&left).expect("a job");
    assert_eq!(
        [0, 1, 2].map(|board| left.shed[board].new),
        [false, true, true]
    );
}

/// A board of 1850 with an offcut of 600 before a bad stretch and a post of 640 behind it, the first `steps` of its sheet done.
fn offcut_first(steps: usize) -> Value {
    let at = |mm: i64| Length::from_mm(mm).ticks();
    json!({
        "job": {
            "format": "lengthwise-job", "version": 1, "sections": [{ "name": "frame", "trim": "0" }],
            "saw": { "kerf": "3", "keep": "300" },
            "shed": [{ "mark": "B", "section": "frame", "length": "1850", "bad": "600..700", "trim": "0" }],
            "parts": [{ "label": "post", "section": "frame", "length": "640", "quantity": "1" }],
        },
        "plan": {
            "format": plan_file::FORMAT, "version": plan_file::VERSION, "proofs": [],
            "boards": [{ "shed": 0, "runs": [{ "from": at(700), "to": at(1850), "cuts": [{ "part": 0, "start": at(700), "end": at(1340) }] }] }],
        },
        "progress": { "boards": [{ "board": 0, "steps": steps, "cut": 0, "spoiled": [], "mark": "B" }], "bought": [] },
        "board": 0,
    })
}

#[test]
fn a_cut_that_frees_an_offcut_alone_counts_and_what_is_written_on_that_stays() {
    let told = finish(&offcut_first(1)).expect("a reply");
    assert_eq!(told["shed"][0]["mark"], "B-2");
    // The cut at 600 is made, then that at 700: the piece in hand starts behind each.
    for (steps, length, trim) in [(1, 1_247, "97 mm; 0 mm"), (2, 1_150, "0 mm; 0 mm")] {
        let mut request = offcut_first(steps);
        let inside = hand(&request).expect("a reply");
        assert_eq!(inside["length"], format!("{length} mm"));
        assert_eq!(inside["hooked"], "the fresh end");
        request["progress"]["boards"][0]["bad_from"] = "947 mm".into();
        assert_eq!(hand(&request).expect("a reply")["fault"], Value::Null);
        let left = remaining(&request).expect("a reply");
        let shed = left["job"]["shed"].as_array().expect("a shed");
        let told = |name: &str| -> Vec<&str> {
            shed.iter().filter_map(|row| row[name].as_str()).collect()
        };
        assert_eq!(
            told("length"),
            ["600 mm".to_owned(), format!("{length} mm")]
        );
        // B-3 is the mark of what the plan would have left behind the post.
        assert_eq!(told("mark"), ["B-2", "B-4"]);
        assert_eq!(told("bad"), [String::new(), format!("947 mm..{length} mm")]);
        let ends: Vec<&str> = left["came"]
            .as_array()
            .into_iter()
            .flatten()
            .filter_map(|came| came["end"].as_str())
            .collect();
        assert_eq!(
            ends,
            ["the end that was not cut", "the end that was cut last"]
        );
        // What is bad at its start is what that end needs cut off.
        assert_eq!(told("trim")[1], trim);
    }
}

#[test]
fn a_board_that_is_bad_before_its_first_cut_is_what_it_was_and_a_reading_beyond_what_is_in_hand_is_refused()
 {
    let mut request = offcut_first(0);
    let entry = &mut request["progress"]["boards"][0];
    entry["bad_from"] = "1000 mm".into();
    entry["bad_to"] = "1040 mm".into();
    let left = remaining(&request).expect("a reply");
    let row = &left["job"]["shed"][0];
    assert_eq!(row["mark"], "B");
    assert_eq!(row["length"], "1850 mm");
    assert_eq!(row["bad"], "600 mm..700 mm; 1000 mm..1040 mm");
    assert_eq!(left["came"], json!([null]));
    let fault = |from: &str, to: &str| {
        let mut request = offcut_first(1);
        let entry = &mut request["progress"]["boards"][0];
        entry["bad_from"] = from.into();
        entry["bad_to"] = to.into();
        hand(&request).expect("a reply")["fault"].clone()
    };
    assert_eq!(
        fault("1247 mm", ""),
        "the piece in hand is 1247 mm long, from the fresh end"
    );
    assert_eq!(
        fault("900 mm", "900 mm"),
        "a bad stretch ends beyond where it begins"
    );
}

/// A board of the shed of 2400 whose ends need 10 mm each, with one leg of 560 planned, the first `steps` of its sheet done.
fn with_trims(steps: usize, real: &str) -> Value {
    let at = |mm: i64| Length::from_mm(mm).ticks();
    json!({
        "job": {
            "format": "lengthwise-job", "version": 1, "sections": [{ "name": "batten", "trim": "10" }],
            "saw": { "kerf": "4", "keep": "300" },
            "shed": [{ "mark": "B", "section": "batten", "length": "2400", "trim": "10" }],
            "parts": [{ "label": "leg", "section": "batten", "length": "560", "quantity": "2" }],
        },
        "plan": {
            "format": plan_file::FORMAT, "version": plan_file::VERSION, "proofs": [],
            "boards": [{ "shed": 0, "runs": [{ "from": at(10), "to": at(2390), "cuts": [
                { "part": 0, "start": at(10), "end": at(570) }, { "part": 0, "start": at(574), "end": at(1134) },
            ] }] }],
        },
        "progress": { "boards": [{ "board": 0, "steps": steps, "spoiled": [], "mark": "B", "real_length": real }], "bought": [] },
        "board": 0,
    })
}

/// The trim of an end is still to be cut off where the board really ends, however little it lacks.
#[test]
fn a_board_that_is_shorter_than_planned_is_kept_with_the_length_it_has() {
    let row = |steps: usize, real: &str| {
        let left = remaining(&with_trims(steps, real)).expect("a reply");
        let row = left["job"]["shed"][0].clone();
        ["length", "bad", "trim"].map(|name| row[name].as_str().unwrap_or_default().to_owned())
    };
    assert_eq!(row(0, "2394 mm"), ["2394 mm", "", "10 mm; 10 mm"]);
    assert_eq!(row(0, "1800 mm"), ["1800 mm", "", "10 mm; 10 mm"]);
    // The first leg is off, and the length is read from the fresh end: 1826 mm were left of 2400.
    assert_eq!(row(2, "1819 mm"), ["1819 mm", "", "0 mm; 10 mm"]);
    let fault = hand(&with_trims(2, "1826 mm")).expect("a reply")["fault"].clone();
    assert_eq!(
        fault,
        "the piece in hand is 1826 mm long, from the fresh end"
    );
}

/// A part that came out spoiled is a board in hand as far as it is sound, and shorter parts may come from it.
#[test]
fn what_is_sound_of_a_spoiled_part_is_a_board_of_what_is_left() {
    let spoiled = |sound: &str| {
        let mut request = with_trims(2, "");
        request["progress"]["boards"][0]["spoiled"] = json!([0]);
        request["progress"]["boards"][0]["sound"] = sound.into();
        request
    };
    let left = remaining(&spoiled("410 mm")).expect("a reply");
    assert_eq!(left["job"]["parts"][0]["quantity"], "2");
    let shed = left["job"]["shed"].as_array().expect("a shed");
    let told = |name: &str| -> Vec<&str> {
        let texts = shed.iter().filter_map(|row| row[name].as_str());
        texts.collect()
    };
    assert_eq!(told("length"), ["410 mm", "1826 mm"]);
    assert_eq!(told("trim"), ["0 mm; 0 mm", "0 mm; 10 mm"]);
    assert_eq!(told("note"), ["rest of B", "rest of B"]);
    let came = left["came"].as_array().expect("a list").iter();
    let in_hand: Vec<&Value> = came.map(|came| &came["in_hand"]).collect();
    assert_eq!(in_hand, [&json!(false), &json!(true)]);
    // Nothing, or less than a board, is none.
    for sound in ["", "0 mm"] {
        let left = remaining(&spoiled(sound)).expect("a reply");
        assert_eq!(left["job"]["shed"].as_array().map(Vec::len), Some(1));
    }
    let fault = hand(&spoiled("570 mm")).expect("a reply")["fault"].clone();
    assert_eq!(fault, "the part is 560 mm long");
}

/// A piece of timber that is there is told as the tape shows it, wherever that is: in hand, as a board to cut, and as one that is left alone.
#[test]
fn one_piece_of_timber_has_one_length_wherever_it_is_told() {
    let job = json!({
        "format": "lengthwise-job", "version": 1, "step": "1", "sections": [{ "name": "batten" }], "saw": { "kerf": "3", "keep": "300" },
        "shed": [{ "mark": "A", "length": "1187.6", "trim": "0" }, { "mark": "B", "length": "1187.6", "trim": "0" }],
        "parts": [{ "label": "leg", "length": "560" }],
    });
    let asked = json!({ "job": job, "asks": 100 }).to_string();
    let reply = crate::api::plan(&asked, &|| 0.0, &mut |_| {});
    let mut reply: Value = serde_json::from_str(&reply).expect("a reply is JSON");
    let report = if reply["report"].is_object() {
        reply["report"].take()
    } else {
        reply.clone()
    };
    let board = &report["boards"][0];
    let request = json!({ "job": job, "plan": report["plan"], "board": 0, "progress": { "boards": [], "bought": [] } });
    let inside = hand(&request).expect("a reply");
    let left = &report["left_alone"][0];
    for told in [&board["length"], &inside["length"], &left["length"]] {
        assert_eq!(told, "1187 mm");
    }
    let svg = board["svg"].as_str().expect("a drawing");
    // Of 1187.6 the leg and its cut leave 624.6.
    assert!(svg.contains(">keep 624<"), "{svg}");
}
