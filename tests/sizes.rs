//! Sizes within their ranges: chosen so that the plan is best and then as close as may be to what is wanted; every choice in small jobs is tried once more.

mod common;

use common::random::Random;
use common::{checked, planned};
use lengthwise::fault::Fault;
use lengthwise::give::Gives;
use lengthwise::io::{job_file, plan_file};
use lengthwise::job::{Job, JobDraft, validate};
use lengthwise::length::Length;
use lengthwise::patience::Limits;
use lengthwise::plan::Source;
use lengthwise::planner::Planned;
use lengthwise::savings::{self, Asked, Least};
use lengthwise::sizes::{self, Best, Chosen, Closest};
use serde_json::{Value, json};

const LOOKS: u64 = 400_000;
const STEP: i64 = 5;

fn draft_of(value: &Value) -> JobDraft {
    let (draft, faults) = job_file::read_value(value);
    assert_eq!(faults, [], "{value}");
    draft
}

#[track_caller]
fn job_of(value: &Value) -> (JobDraft, Job) {
    let draft = draft_of(value);
    let job = validate(&draft).unwrap_or_else(|faults| panic!("{faults:?}"));
    (draft, job)
}

#[track_caller]
fn chosen(value: &Value) -> Chosen {
    let (draft, job) = job_of(value);
    let chosen = sizes::choose(&draft, &job, Limits::asks(LOOKS), &|| 0.0).expect("a size gives");
    for size in &chosen.sizes {
        let [least, most] = size.range;
        assert!(least <= size.chosen && size.chosen <= most, "{size:?}");
    }
    chosen
}

/// What a plan of a job costs in lengths and hundredths.
fn costs(job: &Job) -> Option<[i64; 2]> {
    let Planned::Found(plan) = planned(job) else {
        return None;
    };
    let bought = plan.boards.iter().filter_map(|board| match board.source {
        Source::Yard(line) => Some(job.yard[line].price.expect("a price").minor()),
        Source::Shed(_) => None,
    });
    let prices: Vec<i64> = bought.collect();
    Some([prices.len() as i64, prices.iter().sum()])
}

fn faults(value: &Value) -> Vec<String> {
    let told = |faults: Vec<Fault>| faults.iter().map(ToString::to_string).collect();
    validate(&draft_of(value)).map_or_else(told, |_| Vec::new())
}

fn fence(length: &str) -> Value {
    json!({
        "format": "lengthwise-job", "version": 1, "saw": { "kerf": "3" },
        "sections": [{ "name": "pale", "thickness": "20", "width": "95" }],
        "yard": [{ "length": "3600", "price": "3.90" }],
        "parts": [{ "label": "pale", "length": length, "quantity": 72 }],
    })
}

#[test]
fn pales_that_may_be_shorter_are_as_long_as_the_best_plan_allows() {
    let value = fence("1200, may be 1150 to 1200");
    let chosen = chosen(&value);
    // 3 x 1 191 + 2 x 3 = 3 579 of 3 600 less two trims of 10; three of 1 192 would take 3 582.
    assert_eq!(chosen.sizes[0].chosen, Length::from_mm(1_191));
    assert_eq!(
        (chosen.best, chosen.closest),
        (Best::Proven, Closest::OneStep)
    );
    assert_eq!(chosen.edits[0].text, "1191, wanted 1200");
    let job = validate(&chosen.draft).expect("it holds");
    assert_eq!(costs(&job), Some([24, 9_360]));
    assert_eq!(
        job.told_wanted(&job.list[0]).as_deref(),
        Some("1200 mm wanted")
    );
    assert_eq!(
        sizes::chosen_text(&job, &chosen.sizes[0]),
        "pale: 1191 mm, 1200 mm wanted"
    );
    assert_eq!(
        sizes::told_text(&job, &chosen),
        "Within the ranges no plan needs fewer than 24 lengths, 93.60 to pay: proven by the plan with every such part at its shortest. \
         The next step of the tape towards what is wanted costs more."
    );
}

/// What is known of sizes is a sentence, by whatever the aim counts first.
#[test]
fn what_sizes_come_to_is_said_by_what_is_counted_first() {
    let told = |aim: &str, shed: Value| {
        let mut value = fence("1200, may be 1150 to 1200");
        value["aim"] = aim.into();
        value["parts"][0]["quantity"] = 2.into();
        value["shed"] = shed;
        let (_, job) = job_of(&value);
        sizes::told_text(&job, &chosen(&value))
    };
    let said = [
        ("fewest", "needs fewer than 1 length, "),
        ("cheapest", "needs less money than 3.90, "),
        ("shortest", "needs less timber than 3.6 m, "),
    ];
    for (aim, less) in said {
        let told = told(aim, json!([]));
        assert!(
            told.starts_with(&format!("Within the ranges no plan {less}")),
            "{told}"
        );
    }
    // Where nothing has a price it is the timber that comes next.
    let mut unpriced = fence("1200, may be 1150 to 1200");
    unpriced["yard"][0]["price"] = Value::Null;
    let (_, job) = job_of(&unpriced);
    let said = sizes::told_text(&job, &chosen(&unpriced));
    let whole = "Within the ranges no plan needs fewer than 24 lengths, 86.4 m of timber: proven ";
    assert!(said.starts_with(whole), "{said}");
    let told = told("fewest", json!([{ "length": "3600" }]));
    assert!(
        told.starts_with("Within the ranges nothing has to be bought. "),
        "{told}"
    );
}

#[test]
fn what_costs_nothing_stays_as_wanted() {
    // Two to a length, whatever their length in this range.
    let chosen = chosen(&fence("1300, may be 1250 to 1350"));
    assert_eq!(
        (chosen.best, chosen.closest),
        (Best::Proven, Closest::AsWanted)
    );
    assert_eq!(chosen.sizes[0].chosen, Length::from_mm(1_300));
    assert_eq!(chosen.edits, []);
}

/// A job with ranges on so many parts; the ranges, in millimetres as wanted, least and most.
fn small(seed: u64, ranges: usize) -> (Value, Vec<[i64; 3]>) {
    let random = &mut Random(seed);
    let yard: Vec<Value> = (0..random.between(1, 2))
        .map(|_| {
            let length: i64 = random.pick(&[1_800, 2_400, 3_000, 3_600]);
            let minor = length * random.between(20, 30) / 100;
            json!({ "length": length.to_string(), "price": format!("{}.{:02}", minor / 100, minor % 100) })
        })
        .collect();
    let mut given = Vec::new();
    let parts: Vec<Value> = (0..random.between(ranges, 3))
        .map(|row| {
            let length = random.between(80, 240) * STEP;
            let least = length - random.between(2, 18) * STEP;
            let most = length + random.between(0, 2) * STEP;
            let text = match row < ranges {
                true => {
                    given.push([length, least, most]);
                    format!("{length}, may be {least} to {most}")
                }
                false => length.to_string(),
            };
            json!({ "label": format!("p{row}"), "length": text, "quantity": random.between(3, 14) })
        })
        .collect();
    let value = json!({
        "format": "lengthwise-job", "version": 1, "step": STEP.to_string(), "saw": { "kerf": "3" },
        "sections": [{ "name": "rail" }], "yard": yard, "parts": parts,
    });
    (value, given)
}

/// The least costs over all choices, and the least sum of what sizes miss at those costs.
fn by_trying_all(value: &Value, given: &[[i64; 3]]) -> ([i64; 2], i64) {
    let choices =
        |range: &[i64; 3]| -> Vec<i64> { (range[1]..=range[2]).step_by(STEP as usize).collect() };
    let mut all: Vec<Vec<i64>> = vec![Vec::new()];
    for range in given {
        let longer = |sizes: &Vec<i64>| {
            let sizes = sizes.clone();
            choices(range)
                .into_iter()
                .map(move |size| [&sizes[..], &[size]].concat())
        };
        all = all.iter().flat_map(longer).collect();
    }
    let costs = all.into_iter().filter_map(|sizes| {
        let mut other = value.clone();
        for (row, size) in sizes.iter().enumerate() {
            other["parts"][row]["length"] = size.to_string().into();
        }
        let missed: i64 = sizes
            .iter()
            .zip(given)
            .map(|(size, range)| (size - range[0]).abs())
            .sum();
        Some((costs(&job_of(&other).1)?, missed))
    });
    costs.min().expect("some choice has a plan")
}

fn missed(chosen: &Chosen) -> i64 {
    let sizes = chosen.sizes.iter();
    sizes
        .map(|size| (size.chosen - size.wanted).ticks().abs() / 3_200)
        .sum()
}

#[test]
fn one_range_is_used_as_little_as_the_best_plan_asks() {
    let mut given_up = 0;
    for seed in 0..60 {
        let (value, given) = small(seed, 1);
        let chosen = chosen(&value);
        let (least, closest) = by_trying_all(&value, &given);
        let job = validate(&chosen.draft).expect("it holds");
        checked(&job);
        assert_eq!(costs(&job), Some(least), "{seed}");
        assert_eq!(missed(&chosen), closest, "{seed}");
        assert_eq!(chosen.best, Best::Proven, "{seed}");
        given_up += i64::from(closest > 0);
    }
    assert!(given_up >= 8, "{given_up}");
}

#[test]
fn two_ranges_have_the_best_plan_and_come_close() {
    let (mut closest_found, mut given_up) = (0, 0);
    for seed in 100..130 {
        let (value, given) = small(seed, 2);
        let chosen = chosen(&value);
        let (least, closest) = by_trying_all(&value, &given);
        let job = validate(&chosen.draft).expect("it holds");
        assert_eq!(costs(&job), Some(least), "{seed}");
        assert_eq!(chosen.best, Best::Proven, "{seed}");
        assert!(missed(&chosen) >= closest, "{seed}");
        // What is only the closest that was found is not said to be more.
        assert!(chosen.closest != Closest::OneStep, "{seed}");
        if closest > 0 {
            given_up += 1;
            closest_found += i32::from(missed(&chosen) == closest);
        }
    }
    assert!(given_up >= 5, "{given_up}");
    // It is searched, not proven; in these jobs it is mostly reached.
    assert!(
        4 * closest_found >= 3 * given_up,
        "{closest_found} of {given_up}"
    );
}

#[test]
fn a_size_of_a_set_out_is_tried_step_by_step() {
    let frame = |width: &str| {
        json!({
            "format": "lengthwise-job", "version": 1, "saw": { "kerf": "3" },
            "sections": [{ "name": "batten", "thickness": "20", "width": "45" }],
            "yard": [{ "length": "2400", "price": "2.40" }],
            "set_outs": [{ "name": "Panel", "kind": "frame", "width": width, "height": "700", "section": "batten", "times": "3" }],
        })
    };
    let chosen = chosen(&frame("920, may be 880 to 930"));
    assert_eq!(chosen.best, Best::Found);
    let all = (880..=930).filter_map(|width| {
        let cost = costs(&job_of(&frame(&width.to_string())).1)?;
        Some((cost, i64::abs(width - 920)))
    });
    let (least, closest) = all.min().expect("a plan");
    let job = validate(&chosen.draft).expect("it holds");
    assert_eq!(costs(&job), Some(least));
    assert_eq!(missed(&chosen), closest);
    if closest > 0 {
        assert_eq!(job.told_wanted_of_set_out(0), ["width: 920 mm wanted"]);
    }
}

#[test]
fn what_is_said_of_a_size_is_read_or_told_with_the_way_out() {
    let (_, job) = job_of(&fence("1200, may be 1150 to 1250"));
    let between = Gives::Between(Length::from_mm(1_150), Length::from_mm(1_250));
    assert_eq!(job.sizes[0].gives, between);
    assert_eq!(job_of(&fence("1200, fixed")).1.sizes[0].gives, Gives::Not);
    let mut comma = fence("1200,5, may be 1150,5 to 1250");
    comma["decimal"] = "comma".into();
    comma["saw"]["kerf"] = "3".into();
    comma["yard"][0]["price"] = "3,90".into();
    let least = Length::from_ticks(3_200 * 1_150 + 1_600);
    let between = Gives::Between(least, Length::from_mm(1_250));
    assert_eq!(job_of(&comma).1.sizes[0].gives, between);
    let cases = [
        (
            "1200, may be 1150",
            "parts 1, length: should be a length such as 600, or 600, may be 585 to 620, or 600, fixed",
        ),
        (
            "1200, may be 1250 to 1300",
            "parts 1, length: the range does not hold the size before it; write the shorter length first, as in 600, may be 585 to 620",
        ),
        (
            "1200, may be 1250 to 1150",
            "parts 1, length: the range does not hold the size before it; write the shorter length first, as in 600, may be 585 to 620",
        ),
    ];
    for (text, told) in cases {
        assert_eq!(faults(&fence(text)), [told], "{text}");
    }
    assert_eq!(faults(&fence("1200, may be long to longer")).len(), 2);
}

#[test]
fn sizes_that_are_fixed_or_have_a_range_are_never_offered() {
    for text in ["1200, fixed", "1200, may be 1195 to 1200"] {
        let (draft, job) = job_of(&fence(text));
        let asked = Asked {
            draft: &draft,
            job: &job,
        };
        let found = savings::look(
            asked,
            &checked(&job),
            Limits::asks(LOOKS),
            &|| 0.0,
            &mut |_| {},
        );
        let offered = found
            .found
            .iter()
            .map(|saving| savings::change_text(&job, &saving.change));
        let offered: Vec<String> = offered.collect();
        assert!(
            !offered.is_empty() && offered.iter().all(|text| !text.contains("shorter")),
            "{offered:?}"
        );
        assert_eq!(found.room, []);
        // Where sizes are free, a smaller change might do with others of them: nothing is proven.
        let proven = found
            .found
            .iter()
            .filter(|saving| saving.least == Least::Proven);
        assert_eq!(proven.count() > 0, text.contains("fixed"), "{text}");
    }
}

#[test]
fn a_plan_file_keeps_the_lengths_it_was_made_for() {
    let value = fence("1200, may be 1150 to 1200");
    let (draft, job) = job_of(&value);
    let chosen = chosen(&value);
    let sized = validate(&chosen.draft).expect("it holds");
    let plan = checked(&sized);
    let lengths: Vec<_> = chosen
        .sizes
        .iter()
        .map(|size| (size.place.clone(), size.chosen))
        .collect();
    let file = plan_file::write_with_sizes(plan.plan(), &lengths);
    let (read, of) = plan_file::read_with_sizes(&file).expect("it reads");
    assert_eq!((&read, &of), (plan.plan(), &lengths));
    let again = sizes::as_planned(&draft, &job, &of).expect("the job allows them");
    assert_eq!(again, chosen.draft);
    // Lengths that no range of the job allows are refused, whatever else the file says.
    for (place, length) in [("parts", 1_149), ("parts", 1_201), ("set_outs", 1_191)] {
        let mut other = of.clone();
        other[0].0.list = place.into();
        other[0].1 = Length::from_mm(length);
        assert!(
            sizes::as_planned(&draft, &job, &other).is_err(),
            "{place} {length}"
        );
    }
}

#[test]
fn a_change_of_unit_keeps_what_a_size_may_be() {
    let spelled = lengthwise::io::units::spell_job(&fence("1200, may be 1150 to 1250")).job;
    assert_eq!(
        spelled["parts"][0]["length"],
        "1200 mm, may be 1150 mm to 1250 mm"
    );
    let mut inches = spelled.clone();
    inches["unit"] = "in".into();
    let (_, job) = job_of(&inches);
    assert_eq!(job.list[0].length, Length::from_mm(1_200));
    let between = Gives::Between(Length::from_mm(1_150), Length::from_mm(1_250));
    assert_eq!(job.sizes[0].gives, between);
}
