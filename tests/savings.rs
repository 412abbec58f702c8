//! What would save: every change that is told is written into the job as a person would write it, planned and checked anew, and compared by sums of
//! these tests. Smallest changes, and how much longer a part could be, are found once more by trying every step.

mod common;

use common::random::Random;
use common::{checked, job, planned};
use lengthwise::check::{CheckedPlan, check};
use lengthwise::group::groups;
use lengthwise::io::job_file;
use lengthwise::job::{Job, JobDraft};
use lengthwise::patience::{Limits, Patience};
use lengthwise::plan::{Measure, Plan, Source};
use lengthwise::planner::{Planned, joined, plan_group};
use lengthwise::savings::{self, Asked, Change, Least, Saving, Savings};
use serde_json::{Value, json};

/// Looks that are enough for all of a small job, and the same on every machine.
const LOOKS: u64 = 1_000_000;

/// The length in which these jobs are searched: few enough steps to try them all.
const STEP: i64 = 5;

fn draft_of(value: &Value) -> JobDraft {
    let (draft, faults) = job_file::read_value(value);
    assert_eq!(faults, [], "{value}");
    draft
}

fn looked(value: &Value) -> (Job, Savings) {
    let (draft, job) = (draft_of(value), job(&value.to_string()));
    let plan = checked(&job);
    let asked = Asked {
        draft: &draft,
        job: &job,
    };
    let found = savings::look(asked, &plan, Limits::asks(LOOKS), &|| 0.0, &mut |_| {});
    (job, found)
}

/// The job with a saving taken, written into the file field by field.
fn taken(value: &Value, job: &Job, saving: &Saving) -> Value {
    let mut other = value.clone();
    for edit in saving.change.edits(job) {
        let place = edit.place;
        let object = match (place.list.as_str(), place.row) {
            ("", _) => &mut other,
            (list, None) => &mut other[list],
            (list, Some(row)) => {
                if other[list].is_null() {
                    other[list] = json!([]);
                }
                let rows = other[list].as_array_mut().expect("a list");
                if row == rows.len() {
                    rows.push(json!({}));
                }
                &mut rows[row]
            }
        };
        object[place.field.as_str()] = edit.text.into();
    }
    other
}

/// What a job costs by the plan that is made for it: lengths, hundredths, millimetres, in the order of its aim. `None` where there is no plan.
fn costs(value: &Value) -> Option<[i64; 2]> {
    let job = job(&value.to_string());
    let Planned::Found(plan) = planned(&job) else {
        return None;
    };
    let bought = plan.boards.iter().filter_map(|board| match board.source {
        Source::Yard(line) => Some(&job.yard[line]),
        Source::Shed(_) => None,
    });
    let (mut lengths, mut money, mut ticks) = (0, 0, 0);
    for line in bought {
        lengths += 1;
        money += line.price.expect("all have prices").minor();
        ticks += line.length.ticks();
    }
    Some(match value["aim"].as_str() {
        Some("cheapest") => [money, lengths],
        Some("shortest") => [ticks, money],
        _ => [lengths, money],
    })
}

/// A checked plan, each group made within looks of its own, so that the scrap of one takes none from the next.
fn by_groups(job: &Job) -> CheckedPlan {
    let each = groups(job).into_iter().map(|group| {
        let mut hear = |_: &Plan| {};
        let mut patience = Patience::new(Limits::asks(8_000), &|| 0.0, &mut hear);
        plan_group(job, &group, &mut patience)
    });
    let Planned::Found(plan) = joined(each.collect()) else {
        panic!("no plan");
    };
    check(job, plan).expect("it holds")
}

fn gain(saving: &Saving) -> Vec<i64> {
    saving.gain.iter().map(|(_, by)| *by).collect()
}

/// The job with another length of a part.
fn with_length(value: &Value, row: usize, millimetres: i64) -> Value {
    let mut other = value.clone();
    other["parts"][row]["length"] = millimetres.to_string().into();
    other
}

#[test]
fn seventy_two_pales_are_a_third_cheaper_nine_millimetres_shorter() {
    let fence = json!({
        "format": "lengthwise-job", "version": 1, "saw": { "kerf": "3" },
        "sections": [{ "name": "pale", "thickness": "20", "width": "95" }],
        "yard": [{ "length": "3600", "price": "3.90" }],
        "parts": [{ "label": "pale", "length": "1200", "quantity": 72 }],
    });
    let (job, found) = looked(&fence);
    assert!(found.complete);
    let first = &found.found[0];
    // Two to a length of 3 600 less its trims of 10, three where three pales and two cuts of 3 fit 3 580: 3 x 1 191 + 2 x 3 = 3 579.
    assert_eq!(first.gain, [(Measure::Bought, 12), (Measure::Money, 4_680)]);
    assert_eq!(first.least, Least::Proven);
    assert_eq!(
        savings::change_text(&job, &first.change),
        "pale 9 mm shorter, 1191 mm"
    );
    assert_eq!(
        savings::gain_text(&job, &first.gain),
        "12 lengths fewer, 46.80 saved"
    );
    assert_eq!(costs(&fence), Some([36, 14_040]));
    assert_eq!(costs(&taken(&fence, &job, first)), Some([24, 9_360]));
    // Two to a length: each may take half of 3 580 less a cut.
    let room = &found.room[0];
    assert_eq!(
        savings::room_text(&job, room),
        "pale up to 1788.5 mm, 588.5 mm longer"
    );
    // As a person would be told.
    let text = savings::text(&job, &found);
    assert!(text.contains(
        "  pale 9 mm shorter, 1191 mm: 12 lengths fewer, 46.80 saved (proven: a change 1 mm smaller saves nothing)\n"
    ), "{text}");
}

/// A small job of one section.
fn small(seed: u64) -> Value {
    let random = &mut Random(seed);
    let yard: Vec<Value> = (0..random.between(1, 2))
        .map(|_| {
            let length: i64 = random.pick(&[1_800, 2_400, 2_700, 3_000, 3_600]);
            let minor = length * random.between(20, 30) / 100;
            let price = format!("{}.{:02}", minor / 100, minor % 100);
            let mut line = json!({ "length": length.to_string(), "price": price });
            if random.once_in(4) {
                line["count"] = random.between(2, 6).into();
            }
            line
        })
        .collect();
    let parts: Vec<Value> = (0..random.between(1, 3))
        .map(|row| {
            let ends = random.pick(&["square", "square", "45", "30; square"]);
            json!({
                "label": format!("p{row}"), "length": random.between(250, 1_500).to_string(),
                "quantity": random.between(1, 12), "ends": ends,
            })
        })
        .collect();
    let shed: Vec<Value> = (0..random.below(2))
        .map(|row| json!({ "mark": format!("S{row}"), "length": random.between(600, 1_900).to_string() }))
        .collect();
    json!({
        "format": "lengthwise-job", "version": 1, "step": STEP.to_string(),
        "aim": random.pick(&["fewest", "cheapest", "shortest"]),
        "saw": { "kerf": random.pick(&["2.4", "3", "4"]) },
        "sections": [{ "name": "rail", "thickness": "45", "width": "70", "trim": random.pick(&["10", "0; 20", "30"]) }],
        "yard": yard, "shed": shed, "parts": parts,
    })
}

fn all_small() -> impl Iterator<Item = (u64, Value)> {
    (0..40)
        .map(|seed| (seed, small(seed)))
        .filter(|(_, value)| costs(value).is_some())
}

#[test]
fn what_is_told_is_what_the_changed_job_costs() {
    let mut sorts = std::collections::BTreeMap::new();
    for (seed, value) in all_small() {
        let (job, found) = looked(&value);
        assert!(found.complete, "{seed}");
        let today = costs(&value).expect("it has a plan");
        for saving in &found.found {
            let other = taken(&value, &job, saving);
            // The checker accepts the plan of the changed job.
            checked(&common::job(&other.to_string()));
            let then = costs(&other).expect("it has a plan");
            let saved: Vec<i64> = (0..2).map(|at| today[at] - then[at]).collect();
            assert_eq!(gain(saving), saved, "{seed}: {saving:?}");
            assert!(then < today, "{seed}: {saving:?}");
            let sort = format!("{:?}", saving.change);
            let sort = sort.split([' ', '{']).next().expect("a name").to_owned();
            *sorts.entry(sort).or_insert(0) += 1;
        }
    }
    // Each sort is met in these jobs, so that it is really tried.
    for sort in [
        "Part",
        "Quantity",
        "Kerf",
        "Trim",
        "ShedBoard",
        "YardLength",
        "Stock",
    ] {
        assert!(sorts.contains_key(sort), "no {sort} in {sorts:?}");
    }
}

#[test]
fn the_first_length_that_saves_is_told_and_no_other() {
    for (seed, value) in all_small() {
        let (_, found) = looked(&value);
        let today = costs(&value).expect("it has a plan");
        let is_whole = found
            .found
            .iter()
            .filter(|one| one.change.can_be_taken())
            .count()
            < 8;
        for (row, part) in value["parts"].as_array().expect("parts").iter().enumerate() {
            let from: i64 = part["length"]
                .as_str()
                .and_then(|text| text.parse().ok())
                .expect("a length");
            // A twentieth, and no more than 60 mm.
            let most = (from as f64 / 20.0).min(60.0);
            let tried = (1..).map(|n| (from - 1) / STEP * STEP - (n - 1) * STEP);
            let steps = (most / STEP as f64).floor() as usize;
            let first = tried.take(steps).find(|&length| {
                costs(&with_length(&value, row, length)).is_some_and(|then| then < today)
            });
            let told = found.found.iter().find_map(|saving| match saving.change {
                Change::Part { row: of, to, .. } if of == row => Some((to, saving.least)),
                _ => None,
            });
            match told {
                Some((to, least)) => {
                    assert_eq!(
                        Some(to.ticks()),
                        first.map(|length| 3_200 * length),
                        "{seed}"
                    );
                    assert!(
                        matches!(least, Least::Proven | Least::Smallest),
                        "{seed}: {least:?}"
                    );
                }
                None => assert!(
                    first.is_none() || !is_whole,
                    "{seed}, part {row}: {first:?}"
                ),
            }
        }
    }
}

#[test]
fn a_part_could_be_as_long_as_is_told_for_nothing_and_no_step_longer() {
    let mut met = 0;
    for (seed, value) in all_small().take(20) {
        let (_, found) = looked(&value);
        let today = costs(&value);
        for (row, part) in value["parts"].as_array().expect("parts").iter().enumerate() {
            let from: i64 = part["length"]
                .as_str()
                .and_then(|text| text.parse().ok())
                .expect("a length");
            let room = found.room.iter().find(|room| room.row == row);
            let longest = room.map_or(from, |room| room.to.ticks() / 3_200);
            assert!(longest == from || longest % STEP == 0, "{seed}");
            assert_eq!(costs(&with_length(&value, row, longest)), today, "{seed}");
            let next = longest / STEP * STEP + STEP;
            let beyond = costs(&with_length(&value, row, next));
            assert!(
                beyond.is_none() || beyond > today,
                "{seed}, part {row}: {next}"
            );
            met += usize::from(room.is_some());
        }
    }
    assert!(met > 10, "{met}");
}

#[test]
fn the_shortest_board_that_saves_is_told() {
    let mut met = 0;
    for (seed, value) in all_small() {
        let (job, found) = looked(&value);
        let today = costs(&value).expect("it has a plan");
        for saving in &found.found {
            let Change::ShedBoard { length, row, .. } = saving.change else {
                continue;
            };
            met += 1;
            let mut other = taken(&value, &job, saving);
            assert!(costs(&other).expect("a plan") < today, "{seed}");
            // Every shorter one in steps of 5, down to the least board there may be with its usual trims.
            for shorter in (0..12).map(|n| length.ticks() / 3_200 - STEP * (1 + n * n)) {
                if shorter > 100 {
                    other["shed"][row]["length"] = shorter.to_string().into();
                    assert!(costs(&other).expect("a plan") >= today, "{seed}: {shorter}");
                }
            }
        }
    }
    assert!(met > 20, "{met}");
}

#[test]
fn a_job_that_buys_nothing_has_nothing_to_save() {
    let value = json!({
        "format": "lengthwise-job", "version": 1, "sections": [{ "name": "rail" }], "yard": [{ "length": "2400" }],
        "shed": [{ "mark": "S1", "length": "2000" }], "parts": [{ "label": "rail", "length": "500" }],
    });
    let (_, found) = looked(&value);
    assert_eq!(
        (found.found.len(), found.room.len(), found.complete),
        (0, 0, true)
    );
}

#[test]
fn without_time_nothing_is_told_and_that_is_said() {
    let value = small(3);
    let (draft, job) = (draft_of(&value), job(&value.to_string()));
    let plan = checked(&job);
    let asked = Asked {
        draft: &draft,
        job: &job,
    };
    let found = savings::look(asked, &plan, Limits::asks(0), &|| 0.0, &mut |_| {});
    assert_eq!((found.found.len(), found.complete), (0, false));
    assert_eq!(
        savings::text(&job, &found),
        "\nTime was up before every change was tried that might save.\n"
    );
}

#[test]
fn set_outs_give_through_their_own_sizes_alone() {
    let value: Value =
        serde_json::from_str(include_str!("../fixtures/jobs/bin_store.json")).expect("a job");
    let (job, found) = looked(&value);
    assert!(found.complete);
    let sizes = found
        .found
        .iter()
        .filter(|saving| matches!(saving.change, Change::Size { .. }));
    assert!(sizes.count() >= 3, "{:?}", found.found);
    let today = by_groups(&job);
    for saving in &found.found {
        assert!(
            !matches!(saving.change, Change::Part { .. }),
            "its parts are those of its set-outs"
        );
        let other = common::job(&taken(&value, &job, saving).to_string());
        let then = by_groups(&other);
        for &(measure, by) in &saving.gain {
            let of = |plan: &CheckedPlan| -> i64 {
                let levels = plan.groups().iter().flat_map(|group| &group.levels);
                levels
                    .filter(|level| level.measure == measure)
                    .map(|level| level.value)
                    .sum()
            };
            assert_eq!(of(&today) - of(&then), by, "{saving:?}");
        }
    }
}

/// What is offered in a job, each change with its sort; every one is taken, planned and compared.
#[track_caller]
fn offered(value: &Value) -> Vec<(Change, String)> {
    let (job, found) = looked(value);
    assert!(found.complete);
    let today = costs(value).expect("it has a plan");
    let told = found.found.iter().map(|saving| {
        let then = costs(&taken(value, &job, saving)).expect("it has a plan");
        assert!(then < today, "{saving:?}");
        let saved: Vec<i64> = (0..2).map(|at| today[at] - then[at]).collect();
        assert_eq!(gain(saving), saved, "{saving:?}");
        let text = savings::change_text(&job, &saving.change);
        (saving.change.clone(), text)
    });
    told.collect()
}

#[track_caller]
fn is_offered(value: &Value, text: &str) {
    let offered = offered(value);
    assert!(offered.iter().any(|(_, told)| told == text), "{offered:#?}");
}

fn of_set_out(set_out: Value, yard: Value) -> Value {
    json!({
        "format": "lengthwise-job", "version": 1, "saw": { "kerf": "3" },
        "sections": [{ "name": "batten", "thickness": "20", "width": "45" }], "yard": yard, "set_outs": [set_out],
    })
}

#[test]
fn one_slat_fewer_and_a_wider_gap_are_offered() {
    // Four slats come out of a length, so one slat fewer saves a length where their number is one over a multiple of four.
    let slats = json!({ "name": "Shelf", "kind": "slats", "span": "520", "length": "590", "section": "batten", "gap": "12", "ends": "a slat" });
    let value = of_set_out(slats, json!([{ "length": "2400", "price": "2.40" }]));
    let today = costs(&value).expect("a plan");
    let gaps: Vec<i64> = offered(&value)
        .into_iter()
        .filter_map(|(change, _)| match change {
            Change::Size { field, to, .. } if field.field == "gap" => Some(to.ticks() / 3_200),
            _ => None,
        })
        .collect();
    // By trying every gap up to ten millimetres more.
    let first = (13..=22).find(|gap| {
        let mut other = value.clone();
        other["set_outs"][0]["gap"] = gap.to_string().into();
        costs(&other).is_some_and(|then| then < today)
    });
    assert_eq!(gaps, first.into_iter().collect::<Vec<i64>>());
    assert_eq!(gaps.len(), 1, "a gap is met at all");
}

#[test]
fn the_other_lap_at_a_corner_is_offered() {
    // Where the rails run past, the rails are longer by two widths and the stiles shorter: with some lengths of the yard that saves one.
    let frame = json!({ "name": "Panel", "kind": "frame", "width": "790", "height": "870", "section": "batten", "times": "3" });
    let mut met = 0;
    for length in [
        1_800, 2_100, 2_400, 2_500, 2_700, 3_000, 3_300, 3_600, 4_200,
    ] {
        let value = of_set_out(
            frame.clone(),
            json!([{ "length": length.to_string(), "price": "2.40" }]),
        );
        let mut other = value.clone();
        other["set_outs"][0]["corner"] = "butt, rails run through".into();
        let saves = costs(&other) < costs(&value);
        let laps = offered(&value)
            .into_iter()
            .filter(|(change, _)| matches!(change, Change::Word { .. }));
        assert_eq!(laps.count(), usize::from(saves), "{length}");
        met += usize::from(saves);
    }
    assert!(met > 0);
}

#[test]
fn another_section_and_ripping_and_a_longer_load_are_offered() {
    let two = |parts: Value, yard: Value| {
        json!({
            "format": "lengthwise-job", "version": 1, "saw": { "kerf": "3" },
            "sections": [
                { "name": "rough", "thickness": "20", "width": "45" }, { "name": "planed", "thickness": "20", "width": "45" },
                { "name": "board", "thickness": "20", "width": "145" },
            ],
            "yard": yard, "parts": parts,
        })
    };
    // A rough rail in what is left of the planed length.
    let parts = json!([{ "label": "rail", "section": "planed", "length": "1000", "quantity": 1 }, { "label": "ledge", "section": "rough", "length": "1000" }]);
    let yard = json!([{ "section": "planed", "length": "2400", "price": "3.00" }, { "section": "rough", "length": "2400", "price": "2.00" }]);
    is_offered(&two(parts, yard), "ledge made of planed as well");
    // Three laths beside each other in what a board has left over.
    let parts = json!([{ "label": "shelf", "section": "board", "length": "1000" }, { "label": "lath", "section": "rough", "length": "1000", "quantity": 3 }]);
    let yard = json!([{ "section": "board", "length": "2400", "price": "6.00" }, { "section": "rough", "length": "2400", "price": "2.00" }]);
    is_offered(&two(parts, yard), "lath ripped to 45 mm out of board");
    // Cut near its middle, a length of 2 700 has one rail of 700 in each piece; cut at 1 700 it has two and one.
    let carried = json!({
        "format": "lengthwise-job", "version": 1, "carry": "1400", "saw": { "kerf": "3" }, "sections": [{ "name": "rail" }],
        "yard": [{ "length": "2700", "price": "3.00" }], "parts": [{ "label": "rail", "length": "700", "quantity": 3 }],
    });
    let loads = offered(&carried);
    assert!(
        loads
            .iter()
            .any(|(change, text)| matches!(change, Change::Carry { .. })
                && text.starts_with("a vehicle that carries ")),
        "{loads:#?}"
    );
}

#[test]
fn a_trim_is_no_less_than_the_saw_cut_that_it_holds_and_the_first_that_saves() {
    let mut met = 0;
    for length in 1_192..=1_200 {
        let fence = json!({
            "format": "lengthwise-job", "version": 1, "saw": { "kerf": "3" }, "sections": [{ "name": "pale", "trim": "10" }],
            "yard": [{ "length": "3600", "price": "3.90" }],
            "parts": [{ "label": "pale", "length": length.to_string(), "quantity": 72 }],
        });
        let today = costs(&fence).expect("a plan");
        // Every half millimetre down to the saw cut, then nothing at all.
        let trims = (6..20)
            .rev()
            .map(|half| format!("{}", f64::from(half) / 2.0));
        let first = trims.chain(["0".to_owned()]).find(|trim| {
            let mut other = fence.clone();
            other["sections"][0]["trim"] = trim.clone().into();
            costs(&other).is_some_and(|then| then < today)
        });
        let told = offered(&fence)
            .into_iter()
            .find_map(|(change, _)| match change {
                Change::Trim { to, .. } => Some(to[0].ticks()),
                _ => None,
            });
        let expected = first.map(|trim| (3_200.0 * trim.parse::<f64>().expect("a number")) as i64);
        assert_eq!(told, expected, "{length}");
        met += usize::from(told.is_some());
    }
    assert!(met >= 5, "{met}");
}
