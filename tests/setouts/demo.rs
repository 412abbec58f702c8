//! The demo piece and the other examples: sound, built from set-outs, and following a change of one size.

use lengthwise::io::job_file;
use lengthwise::job::{Job, examine};
use lengthwise::setout::{Fact, SetOut};
use serde_json::Value;

fn example(name: &str) -> Value {
    let path = format!("{}/fixtures/jobs/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
    serde_json::from_str(&text).unwrap_or_else(|error| panic!("{path}: {error}"))
}

#[track_caller]
fn read(value: &Value) -> Job {
    let (draft, mut faults) = job_file::read_value(value);
    let (job, more) = examine(&draft);
    faults.extend(more);
    let faults: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert_eq!(faults, Vec::<String>::new());
    job
}

/// Every length of every part of a set-out, in millimetres where it is a whole number of tenths.
fn lengths(job: &Job, from: &str) -> Vec<String> {
    job.parts
        .iter()
        .filter(|part| part.from == from)
        .map(|part| job.style().show(part.length).text)
        .collect()
}

#[test]
fn the_demo_is_built_only_from_set_outs() {
    let job = read(&example("bin_store"));
    assert!(!job.parts.is_empty());
    assert!(job.parts.iter().all(|part| !part.from.is_empty()));
    assert_eq!((job.sections.len(), job.shed.len()), (3, 9));
    assert!(job.shed.iter().any(|board| !board.bad.is_empty()));
}

#[test]
fn twenty_millimetres_more_in_width_reach_every_set_out_that_follows_it() {
    let before = read(&example("bin_store"));
    let mut wider = example("bin_store");
    let width = &mut wider["set_outs"][0]["width"];
    let text = width.as_str().expect("a text").to_owned();
    *width = format!("{text} + 20").into();
    let after = read(&wider);
    let changed: Vec<&str> = before
        .set_outs
        .iter()
        .map(|set_out| set_out.name.as_str())
        .filter(|name| {
            lengths(&before, name) != lengths(&after, name)
                || drawing(&before, name) != drawing(&after, name)
        })
        .collect();
    assert_eq!(
        changed,
        [
            "Store",
            "Front tie",
            "Back boards",
            "Shelf frame",
            "Shelf slats",
            "Lid frame",
            "Lid boards",
            "Lid trim"
        ]
    );
    // The sides do not depend on the width.
    assert_eq!(
        lengths(&before, "Side boards"),
        lengths(&after, "Side boards")
    );
}

/// Two set-outs have sizes of their own; the others take theirs from faces.
#[test]
fn the_demo_has_the_cutting_list_of_one_whose_sizes_are_all_typed() {
    let placed = example("bin_store");
    let mut typed = placed.clone();
    let from_faces = ["on", "up", "off", "boards_past"];
    for row in typed["set_outs"].as_array_mut().expect("set-outs") {
        let row = row.as_object_mut().expect("an object");
        row.retain(|field, _| !from_faces.contains(&field.as_str()));
        let sizes: &[(&str, &str)] = match row["name"].as_str().expect("a name") {
            "Front tie" => &[("length", "1320")],
            "Back boards" => &[("width", "1410"), ("height", "1180")],
            // Both sides cover the edge of the back.
            "Side boards" => &[
                ("width", "800"),
                ("height", "1180"),
                ("corners", "covers one neighbour"),
                ("times", "2"),
            ],
            "Shelf frame" => &[("length", "1320")],
            "Shelf slats" => &[("length", "1320"), ("span", "320")],
            "Lid frame" => &[("length", "1410"), ("depth", "800")],
            "Lid boards" | "Lid trim" => &[("width", "1410"), ("height", "800")],
            name => {
                assert_eq!(name, "Store");
                &[]
            }
        };
        let is_trim = row["kind"] == "mitred_frame";
        for (field, size) in sizes {
            let field = match *field {
                "height" if is_trim => "depth",
                field => field,
            };
            row.insert(field.into(), (*size).into());
        }
    }
    let (placed, typed) = (read(&placed), read(&typed));
    assert_eq!(placed.list, typed.list);
    assert_eq!(placed.parts, typed.parts);
    let own = |set_out: &SetOut| {
        let sizes = ["width", "depth", "height", "length", "span"];
        let is_size = |fact: &&Fact| sizes.contains(&fact.name.as_str());
        let sizes = set_out.facts.iter().filter(is_size).count();
        (set_out.name.clone(), sizes)
    };
    assert_eq!(
        placed.set_outs.iter().map(own).collect::<Vec<_>>(),
        typed.set_outs.iter().map(own).collect::<Vec<_>>()
    );
}

fn drawing<'a>(job: &'a Job, name: &str) -> &'a str {
    let set_out = job.set_outs.iter().find(|set_out| set_out.name == name);
    set_out.map_or("", |set_out| set_out.svg.as_str())
}

#[test]
fn the_cold_frame_in_inches_and_the_gate_of_parts_are_sound() {
    let cold_frame = read(&example("cold_frame_inches"));
    assert!(cold_frame.is_imperial());
    assert!(
        cold_frame
            .set_outs
            .iter()
            .any(|set_out| set_out.fill.is_some())
    );
    let gate = read(&example("gate_parts"));
    assert!(gate.set_outs.is_empty() && gate.parts.iter().all(|part| part.row.is_some()));
}

#[test]
fn the_schema_has_a_shape_for_every_kind() {
    let schema = lengthwise::io::schema::value();
    let kinds = schema["properties"]["set_outs"]["items"]["oneOf"]
        .as_array()
        .expect("a list");
    assert_eq!(kinds.len(), lengthwise::setout::kinds().len());
    assert!(schema["properties"]["quantities"]["properties"]["coverage"].is_object());
}
