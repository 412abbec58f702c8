//! The cost of jobs at their limits: processor time and size of the reply of every action that a large job goes through, and the greatest
//! memory.
//!
//! `cargo test --test limit_figures -- --ignored --nocapture` prints them; the table in fixtures/BENCHMARKS.md was made with it. Times are
//! not asserted, since such a test would fail at random on a shared machine.

use lengthwise::api;
use lengthwise::bench::Stopwatch;
use lengthwise::limits;
use serde_json::{Value, json};

fn row(part: usize, length: usize, quantity: usize) -> Value {
    json!({ "label": format!("rung {part}"), "section": "slat 0", "length": length, "quantity": quantity })
}

/// A job of these lists with sections enough for them.
fn job(sections: usize, yard: Vec<Value>, shed: Vec<Value>, parts: Vec<Value>) -> Value {
    let section = |at| json!({ "name": format!("slat {at}"), "thickness": 20, "width": 45 });
    json!({ "format": "lengthwise-job", "version": 1, "piece": "fence", "yard": yard, "shed": shed, "parts": parts,
        "sections": (0..sections).map(section).collect::<Vec<_>>() })
}

fn yard(count: usize, sections: usize) -> Vec<Value> {
    let line = |at: usize| json!({ "section": format!("slat {}", at % sections), "length": 3_000 + at, "price": "4.50" });
    (0..count).map(line).collect()
}

/// Asks for an action and prints what it cost.
fn asked(action: &str, request: &Value) -> Value {
    let text = request.to_string();
    let watch = Stopwatch::start();
    let reply = match action {
        "plan" => api::plan(&text, &|| 0.0, &mut |_| {}),
        _ => api::call(action, &text),
    };
    let seconds = watch.seconds();
    println!(
        "  {action:12} {seconds:6.2} s, reply {:6} kB",
        reply.len() / 1_000
    );
    let reply: Value = serde_json::from_str(&reply).expect("a reply is JSON");
    assert_eq!(reply.get("error"), None);
    reply
}

fn go_through(what: &str, job: &Value) {
    println!("{what}");
    asked("read", &json!({ "job": job }));
    let plan = asked("plan", &json!({ "job": job, "asks": 1 }))["plan"].take();
    let boards = plan["boards"].as_array().map_or(0, Vec::len);
    println!("  the plan has {boards} boards");
    asked("report", &json!({ "job": job, "plans": [plan] }));
    asked("check", &json!({ "job": job, "plan": plan }));
    for table in ["parts", "shed", "buying", "saw"] {
        asked(
            "write_csv",
            &json!({ "job": job, "plan": plan, "what": table }),
        );
    }
    let table = asked("write_csv", &json!({ "job": job, "what": "parts" }));
    asked("read_csv", &json!({ "job": job, "text": table["text"] }));
    asked(
        "link",
        &json!({ "job": job, "address": "https://example.org/" }),
    );
    asked("keep_sizes", &json!({ "job": job, "unit": "in" }));
    asked("take_numbers", &json!({ "job": job, "unit": "in" }));
    asked("spell_job", &json!({ "job": job }));
    let lines = job["yard"].as_array().map_or(0, Vec::len);
    let of = |line: usize| {
        let boards = plan["boards"].as_array().into_iter().flatten();
        let count = boards.filter(|board| board["yard"] == line).count();
        json!({ "line": line, "count": count })
    };
    let bought: Vec<Value> = (0..lines).map(of).collect();
    let cut: Vec<Value> = (0..boards)
        .map(|board| json!({ "board": board, "cut": 1 }))
        .collect();
    let progress = json!({ "bought": bought, "boards": cut });
    asked(
        "remaining",
        &json!({ "job": job, "plan": plan, "progress": progress }),
    );
    let progress = json!({ "bought": bought });
    asked(
        "finish",
        &json!({ "job": job, "plan": plan, "progress": progress }),
    );
    asked(
        "car",
        &json!({ "times": [{ "job": job, "progress": progress }] }),
    );
    if let Ok(status) = std::fs::read_to_string("/proc/self/status") {
        let peak = status.lines().find(|line| line.starts_with("VmHWM"));
        println!("  most memory so far: {}", peak.unwrap_or_default());
    }
}

#[test]
#[ignore = "it measures and asserts nothing of what it measures"]
fn what_jobs_at_their_limits_cost() {
    let [rows, parts] = [limits::PARTS.most, limits::PARTS_IN_ALL.most];
    let lists = |at: usize| row(at, 300 + at % 1_200, 1);
    let shed = |count: usize, bad: usize, sections: usize| -> Vec<Value> {
        let bad: Vec<Value> = (0..bad)
            .map(|at| json!([200 + 40 * at, 210 + 40 * at]))
            .collect();
        let board = |at: usize| json!({ "section": format!("slat {}", at % sections), "length": 900 + at, "bad": bad });
        (0..count).map(board).collect()
    };
    go_through(
        "one part 10 000 times, a board for each",
        &job(1, yard(1, 1), vec![], vec![row(0, 2_000, parts)]),
    );
    go_through(
        "50 rows of 200 parts, 500 boards in the shed with 5 bad stretches each, 60 yard lengths",
        &job(
            1,
            yard(60, 1),
            shed(500, 5, 1),
            (0..50).map(|at| row(at, 300 + 13 * at, 200)).collect(),
        ),
    );
    let sections = limits::SECTIONS.most;
    go_through(
        "2 000 rows at the yard and in the shed, 200 sections, 100 parts",
        &job(
            sections,
            yard(rows, sections),
            shed(rows, 2, sections),
            (0..100).map(lists).collect(),
        ),
    );
    println!("2 000 rows of parts, read only");
    let large = job(1, yard(60, 1), vec![], (0..rows).map(lists).collect());
    asked("read", &json!({ "job": large }));
    asked("join", &json!({ "jobs": [large] }));
    println!("a mark beside 10 000 others");
    let taken: Vec<String> = (0..limits::BOARDS.most)
        .map(|at| format!("K-{at}"))
        .collect();
    asked("fresh_mark", &json!({ "taken": taken }));
}
