//! What is left of work, and what goes back to the shed.

use super::*;

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
    let rest = json!({ "how": "rest", "of": "K" });
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
