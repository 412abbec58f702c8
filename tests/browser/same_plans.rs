//! The engine in the page gives the same plans as the engine of the command line, byte for byte.
//!
//! Both are given a number of clock checks instead of a time limit, so that the plans do not depend on a clock. The reply is compared, and
//! every better plan on the way to it. The oracle is the native build; nothing else is assumed of a plan here.

use crate::harness::Browser;
use crate::site;
use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};

/// How often the solver may check the clock. Small jobs are proven by then; large ones are stopped halfway, which is compared too.
const ASKS: u64 = 400;

/// Plans in a Worker of the page; returns the texts as they arrive, unparsed.
const PLAN: &str = "
    const { engineSource } = await import('./engine-source.js');
    const { module, start } = await engineSource();
    const worker = start();
    const reports = [];
    const end = new Promise((resolve, reject) => {
        worker.onerror = reject;
        worker.onmessage = ({ data }) => {
            if (data.failure !== undefined) reject(data.failure);
            if (data.progress !== undefined) reports.push(data.progress.report);
            if (data.reply !== undefined) resolve(data.reply);
        };
    });
    worker.postMessage({ start: module });
    worker.postMessage({ id: 1, plan: arguments[0] });
    const reply = await end;
    worker.terminate();
    return { reply, reports };";

#[test]
fn every_job_of_the_fixtures_has_the_same_plan_in_the_page_and_natively() {
    let places = jobs(&Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/jobs"));
    assert!(!places.is_empty());
    let browser = Browser::desktop();
    browser.go(&site::address());
    for place in places {
        let job: Value = serde_json::from_str(&fs::read_to_string(&place).unwrap()).unwrap();
        let request = json!({ "job": job, "asks": ASKS }).to_string();
        let mut reports: Vec<String> = Vec::new();
        let reply = lengthwise::api::plan(&request, &|| 0.0, &mut |report| {
            reports.push(report.to_owned())
        });
        assert!(!reply.contains("\"error\""), "{}: {reply}", place.display());
        let in_page = browser.run_to_end(PLAN, vec![json!(request)]);
        assert!(
            in_page["reply"] == json!(reply),
            "{} is planned differently in the page",
            place.display()
        );
        // What was spent is told by each clock of its own; all else is the same.
        let told = |report: &str| -> Value {
            let mut report: Value = serde_json::from_str(report).unwrap();
            report.as_object_mut().unwrap().remove("spent");
            report
        };
        let seen = in_page["reports"].as_array().unwrap();
        let seen: Vec<Value> = seen.iter().map(|one| told(one.as_str().unwrap())).collect();
        let reports: Vec<Value> = reports.iter().map(|one| told(one)).collect();
        assert!(
            seen == reports,
            "{} is planned by another way in the page",
            place.display()
        );
    }
}

/// Every job file below a folder, in order of name.
fn jobs(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path());
    let mut places: Vec<PathBuf> = entries
        .flat_map(|place| {
            if place.is_dir() {
                jobs(&place)
            } else {
                vec![place]
            }
        })
        .filter(|place| place.extension().is_some_and(|end| end == "json"))
        .collect();
    places.sort();
    places
}
