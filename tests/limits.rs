//! The limits of a job: each is declared once. The fault, with its place and its way out, the README and the schema all state it, and it is
//! checked before any work is done with what it counts.

use lengthwise::api;
use lengthwise::draft::{LISTS, OwnDraft, SawDraft};
use lengthwise::fault::FaultKind;
use lengthwise::fields::Row;
use lengthwise::io::{job_file, parts_table, plan_file, schema};
use lengthwise::job::validate;
use lengthwise::limits::{self, Most, grouped};
use serde_json::{Value, json};

/// A sound job with one part, which the tests overload.
fn job() -> Value {
    json!({ "format": "lengthwise-job", "version": 1, "sections": [{ "name": "batten", "width": 45 }],
        "yard": [{ "length": "2.4 m" }], "parts": [{ "label": "rung", "length": 560 }] })
}

fn with(list: &str, rows: Vec<Value>) -> Value {
    let mut job = job();
    job[list] = Value::Array(rows);
    job
}

fn faults_of(job: &Value) -> Vec<String> {
    let (draft, mut faults) = job_file::read(&job.to_string());
    if let Err(more) = validate(&draft) {
        faults.extend(more);
    }
    faults.iter().map(ToString::to_string).collect()
}

/// `count` rows are sound and one more is a fault that says so and nothing else.
#[track_caller]
fn bounded(list: &str, limit: &Most, row: impl Fn(usize) -> Value) {
    let rows = |count: usize| (0..count).map(&row).collect::<Vec<_>>();
    assert_eq!(
        faults_of(&with(list, rows(limit.most))),
        Vec::<String>::new()
    );
    let found = faults_of(&with(list, rows(limit.most + 1)));
    assert_eq!(found, [format!("{list}: {}", limit.told(limit.most + 1))]);
}

#[test]
fn each_list_takes_its_limit_and_says_what_to_do_with_more() {
    bounded(
        "parts",
        &limits::PARTS,
        |row| json!({ "label": "rung", "length": 300 + row }),
    );
    bounded(
        "yard",
        &limits::YARD,
        |row| json!({ "length": 1_800 + row }),
    );
    bounded("shed", &limits::SHED, |row| json!({ "length": 900 + row }));
    bounded(
        "set_outs",
        &limits::SET_OUTS,
        |row| json!({ "kind": "parts", "name": format!("set {row}"), "length": 400, "section": "batten" }),
    );
    let named = |row: usize| json!({ "name": format!("batten {row}"), "width": 45 });
    let found = |count: usize| {
        let mut job = with("sections", (0..count).map(named).collect());
        job["yard"][0]["section"] = "batten 0".into();
        job["parts"][0]["section"] = "batten 0".into();
        faults_of(&job)
    };
    assert_eq!(found(limits::SECTIONS.most), Vec::<String>::new());
    assert_eq!(
        found(limits::SECTIONS.most + 1),
        [
            "sections: this job has 201 sections; at most 200 are planned at once; take out those that no part is made of, or split the piece in two"
        ]
    );
}

#[test]
fn a_length_costs_a_million_at_most() {
    let at = |price: &str| {
        let mut job = job();
        job["yard"][0]["price"] = price.into();
        faults_of(&job)
    };
    assert_eq!(at("1000000.00"), Vec::<String>::new());
    assert_eq!(
        at("1000000.01"),
        [
            "yard 1, price: 1000000.01 is more than 1000000.00, the most that one length may cost; check the decimal sign, or write all prices in a larger unit of money"
        ]
    );
}

#[test]
fn parts_are_counted_in_all_and_those_of_set_outs_with_them() {
    let made = |one: usize, other: usize| {
        let rows = [one, other]
            .map(|quantity| json!({ "label": "rung", "length": 560, "quantity": quantity }));
        faults_of(&with("parts", rows.to_vec()))
    };
    assert_eq!(made(5_000, 5_000), Vec::<String>::new());
    assert_eq!(
        made(5_000, 5_001),
        [
            "parts: this job has 10 001 parts in all; at most 10 000 are planned at once; split the piece in two"
        ]
    );
    assert_eq!(
        made(1, 10_001),
        ["parts 2, quantity: \"10001\" should be a whole number from 1 to 10000"]
    );
    let mut job = job();
    job["set_outs"] = json!([{ "kind": "parts", "length": 400, "section": "batten", "quantity": 5_000, "times": 2 }]);
    assert_eq!(
        faults_of(&job),
        [
            "parts: this job has 10 001 parts in all; at most 10 000 are planned at once; split the piece in two"
        ]
    );
}

#[test]
fn bad_stretches_are_counted_on_each_board_and_in_all() {
    let board = |count: usize| {
        let bad = (0..count).map(|one| json!([100 + 4 * one, 102 + 4 * one]));
        json!({ "length": 4_000, "bad": bad.collect::<Vec<_>>() })
    };
    let most = limits::STRETCHES.most;
    assert_eq!(
        faults_of(&with("shed", vec![board(most)])),
        Vec::<String>::new()
    );
    assert_eq!(
        faults_of(&with("shed", vec![board(most + 1)])),
        [
            "shed 1, bad: this board has 201 bad stretches; at most 200 are planned around; write stretches that lie close together as one, or cut the board first"
        ]
    );
    let boards = limits::STRETCHES_IN_ALL.most / most;
    let mut rows = vec![board(most); boards];
    assert_eq!(faults_of(&with("shed", rows.clone())), Vec::<String>::new());
    rows.push(board(1));
    assert_eq!(
        faults_of(&with("shed", rows)),
        [
            "shed: this job has 5 001 bad stretches in all; at most 5 000 are planned around; leave out the worst boards of the shed"
        ]
    );
}

#[test]
fn mitre_angles_of_one_section_are_counted_once_each() {
    let mitred = |angles: usize| {
        let ends = |row: usize| format!("{}; {}", 10 + row % angles, 10 + (row + 1) % angles);
        let row = |row: usize| json!({ "label": "cap", "length": 900, "ends": ends(row) });
        faults_of(&with("parts", (0..3 * angles).map(row).collect()))
    };
    assert_eq!(mitred(limits::ANGLES.most), Vec::<String>::new());
    let more = limits::ANGLES.most + 1;
    let told = limits::ANGLES.told(more);
    assert_eq!(mitred(more), [format!("sections 1: {told}")]);
}

#[test]
fn one_part_may_be_made_of_so_many_sections_and_no_more() {
    let names = |count: usize| vec!["batten"; count].join("; ");
    let of = |count: usize| {
        faults_of(&with(
            "parts",
            vec![json!({ "label": "rung", "length": 560, "section": names(count) })],
        ))
    };
    let most = limits::CHOICES.most;
    assert_eq!(of(most), Vec::<String>::new());
    let told = limits::CHOICES.told(most + 1);
    assert_eq!(of(most + 1), [format!("parts 1, section: {told}")]);
}

#[test]
fn every_field_has_a_limit_of_characters_and_says_it() {
    let own = [("", OwnDraft::FIELDS), ("saw", SawDraft::FIELDS)];
    for (list, known) in own.into_iter().chain(LISTS) {
        for field in known {
            let most = field.characters.most;
            let told = field.characters.told(most + 1);
            let too_long = |count: usize| {
                let mut job = job();
                let text: Value = "é".repeat(count).into();
                match list {
                    "" => job[field.name] = text,
                    "saw" => job["saw"] = json!({ field.name: text }),
                    "yards" => job["yards"] = json!([{ field.name: text }]),
                    "shed" => {
                        job["shed"] = json!([{ "length": 900 }]);
                        job["shed"][0][field.name] = text;
                    }
                    list => job[list][0][field.name] = text,
                }
                let found = faults_of(&job);
                found.iter().filter(|fault| fault.ends_with(&told)).count()
            };
            assert_eq!(too_long(most), 0, "{list} {}", field.name);
            assert_eq!(too_long(most + 1), 1, "{list} {}", field.name);
        }
    }
}

#[test]
fn a_text_that_is_too_long_is_told_once_and_the_rest_of_the_job_is_still_read() {
    let mut job = job();
    job["parts"][0]["label"] = "x".repeat(100_000).into();
    job["set_outs"] = json!([{ "kind": "parts", "length": "1 + ".repeat(500), "section": "batten", "label": "y".repeat(101) }]);
    let (draft, _) = job_file::read_value(&job);
    let (read, faults) = lengthwise::job::examine(&draft);
    let told: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "parts 1, label: this text has 100 000 characters; at most 400 are read here; shorten it",
            "set_outs 1, length: this text has 2 000 characters; at most 1 000 are read here; shorten it",
            "set_outs 1, label: this text has 101 characters; at most 100 are read here; shorten it",
        ]
    );
    assert_eq!(read.yard.len(), 1);
}

#[test]
fn nothing_is_read_of_a_list_that_is_too_long() {
    let rows = vec![json!(0); 1_000_000];
    let (draft, faults) = job_file::read(&with("parts", rows).to_string());
    assert_eq!(faults, []);
    assert!(draft.parts.is_empty());
    let faults = validate(&draft).expect_err("too many rows");
    assert_eq!(
        faults[0].to_string(),
        "parts: this job has 1 000 000 rows of parts; at most 2 000 are planned at once; split the piece in two"
    );
}

#[test]
fn a_table_of_too_many_lines_or_columns_is_refused_at_once() {
    let told = |text: &str| {
        let faults = parts_table::read_strictly(text).expect_err("too much");
        faults.iter().map(ToString::to_string).collect::<Vec<_>>()
    };
    let lines = "label,length\n".to_owned() + &"rung,560\n".repeat(limits::TABLE_LINES.most);
    assert_eq!(
        told(&lines),
        [
            "line 1, column 1: this table has 4 001 lines; at most 4 000 are read; split the table in two"
        ]
    );
    let columns = "length".to_owned() + &",more".repeat(limits::TABLE_COLUMNS.most);
    assert_eq!(
        told(&columns),
        [
            "line 1, column 1: this table has 101 columns; at most 100 are read; keep those for label, section, length, quantity and ends"
        ]
    );
    let bytes = "length\n".to_owned() + &"5".repeat(limits::FILE.most);
    assert_eq!(told(&bytes).len(), 1);
    assert!(told(&bytes)[0].contains("bytes; at most 4 194 304 are read"));
}

#[test]
fn a_plan_file_has_limits_of_its_own() {
    let plan = |boards: Vec<Value>| {
        json!({ "format": "lengthwise-plan", "version": 2, "boards": boards, "proofs": [] })
            .to_string()
    };
    let board = json!({ "yard": 0, "runs": [{ "from": 0, "to": 5, "cuts": [{ "part": 0, "start": 0, "end": 5 }] }] });
    assert!(plan_file::read(&plan(vec![board.clone(); limits::BOARDS.most])).is_ok());
    assert_eq!(
        plan_file::read(&plan(vec![board.clone(); limits::BOARDS.most + 1])).unwrap_err(),
        limits::BOARDS.told(limits::BOARDS.most + 1)
    );
    let mut crowded = board.clone();
    crowded["runs"][0]["cuts"] = vec![board["runs"][0]["cuts"][0].clone(); 10_001].into();
    assert_eq!(
        plan_file::read(&plan(vec![crowded])).unwrap_err(),
        limits::PARTS_IN_ALL.told(10_001)
    );
    for place in [
        "/runs/0/from",
        "/runs/0/to",
        "/runs/0/cuts/0/start",
        "/runs/0/cuts/0/end",
    ] {
        for far in [i64::MAX, i64::MIN, 3_200_000_001] {
            let mut far_off = board.clone();
            *far_off.pointer_mut(place).expect("a position") = far.into();
            assert_eq!(
                plan_file::read(&plan(vec![board.clone(), far_off])).unwrap_err(),
                "boards 2: a position lies more than 1000 m from the end of the board; plan the job again"
            );
        }
    }
    for place in ["/yard", "/runs/0/cuts/0/part"] {
        let mut nowhere = board.clone();
        *nowhere.pointer_mut(place).expect("a row") = u64::MAX.into();
        assert_eq!(
            plan_file::read(&plan(vec![nowhere])).unwrap_err(),
            "no job has a row 18446744073709551615; plan the job again"
        );
    }
}

#[test]
fn a_plan_file_and_a_request_of_too_many_bytes_are_refused_before_they_are_read() {
    let long = |limit: &Most| " ".repeat(limit.most + 1);
    assert_eq!(
        plan_file::read(&long(&limits::PLAN_FILE)).unwrap_err(),
        "this file has 16 777 217 bytes; at most 16 777 216 are read; \
         plan the job again with less time, which writes a shorter certificate"
    );
    let request = long(&limits::REQUEST);
    let nothing = &mut |_: &str| {};
    for reply in [
        api::call("read", &request),
        api::plan(&request, &|| 0.0, nothing),
    ] {
        assert!(
            reply.contains("this request has 25 165 825 bytes; at most 25 165 824 are read"),
            "{reply}"
        );
    }
    // One byte less is read, and is no JSON.
    assert!(api::call("read", &request[1..]).contains("the request is not JSON"));
}

#[test]
fn so_many_pieces_are_bought_for_together_and_no_more() {
    let ask = |count| {
        let request = json!({ "jobs": vec![job(); count] });
        api::call("join", &request.to_string())
    };
    let most = limits::PIECES.most;
    assert!(ask(most).contains("\"job\""), "{}", ask(most));
    assert!(
        ask(most + 1).contains("this list has 51 pieces; at most 50 are bought for together"),
        "{}",
        ask(most + 1)
    );
}

#[test]
fn brackets_without_end_are_refused_by_every_reader_with_the_way_out() {
    let deep = "[".repeat(100_000);
    let way_out = "look for a bracket that is never closed";
    let (_, faults) = job_file::read(&deep);
    assert!(matches!(
        faults[0].kind,
        FaultKind::TooMany { found: 33, .. }
    ));
    assert!(plan_file::read(&deep).unwrap_err().ends_with(way_out));
    let nothing = &mut |_: &str| {};
    for reply in [api::call("read", &deep), api::plan(&deep, &|| 0.0, nothing)] {
        assert!(reply.contains(way_out), "{reply}");
    }
}

#[test]
fn the_looks_of_an_answer_are_a_whole_number() {
    for looks in [json!("many"), json!(-1), json!(0.5), json!(null)] {
        let request = json!({ "job": job(), "looks": looks });
        let reply = api::call("answer", &request.to_string());
        assert_eq!(reply, r#"{"error":"\"looks\" should be a whole number"}"#);
    }
    let request = json!({ "job": job(), "looks": 1_000 });
    let reply = api::call("answer", &request.to_string());
    assert!(reply.contains(r#""outcome""#), "{reply}");
}

#[test]
fn no_more_boards_are_bought_than_a_plan_has() {
    let ask = |counts: [usize; 2]| {
        let bought = counts.map(|count| json!({ "line": 0, "count": count }));
        let request = json!({ "job": job(), "plan": null, "progress": { "bought": bought } });
        ["remaining", "finish"].map(|action| api::call(action, &request.to_string()))
    };
    for reply in ask([5_000, 5_000]) {
        assert!(reply.contains("\"shed\""), "{reply}");
    }
    for counts in [[5_000, 5_001], [100_000, 0], [0, 1_000_000]] {
        for reply in ask(counts) {
            assert!(
                reply.contains("boards; at most 10 000 are reported"),
                "{reply}"
            );
        }
    }
}

#[test]
fn a_job_put_together_of_long_names_is_one_that_is_read() {
    let mut one = job();
    one["piece"] = "p".repeat(limits::NAME.most).into();
    one["parts"][0]["label"] = "l".repeat(limits::LABEL.most).into();
    let reply = api::call("join", &json!({ "jobs": [one, one] }).to_string());
    let reply: Value = serde_json::from_str(&reply).expect("JSON");
    assert_eq!(faults_of(&reply["job"]), Vec::<String>::new());
}

#[test]
fn the_schema_says_every_limit_that_a_schema_can() {
    let schema = schema::value();
    let at = |pointer: &str| schema.pointer(pointer).and_then(Value::as_u64);
    let found = |pointer: &str, most: usize| {
        assert_eq!(at(pointer), Some(most as u64), "{pointer}");
    };
    for (list, limit) in limits::LISTS {
        found(&format!("/properties/{list}/maxItems"), limit.most);
    }
    found("/$defs/length/maxLength", limits::FIELD.most);
    for (field, most) in [
        ("label/maxLength", limits::LABEL.most),
        ("quantity/maximum", limits::PARTS_IN_ALL.most),
        ("section/anyOf/1/maxItems", limits::CHOICES.most),
    ] {
        found(&format!("/properties/parts/items/properties/{field}"), most);
    }
    for (field, most) in [
        ("mark/maxLength", limits::NAME.most),
        ("note/maxLength", limits::NOTE.most),
        ("bad/anyOf/1/maxItems", limits::STRETCHES.most),
    ] {
        found(&format!("/properties/shed/items/properties/{field}"), most);
    }
}

#[test]
fn the_readme_says_every_limit() {
    let readme = include_str!("../README.md");
    for (what, limit) in limits::ALL {
        let row = format!("| {what} | {} |", grouped(limit.most));
        assert!(readme.contains(&row), "the README lacks: {row}");
    }
}
