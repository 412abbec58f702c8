//! Choices side by side, compared with every purchase there is: each is tried with a packing of these tests, and what no other beats must be told, and
//! nothing else. Each choice is then written into the job and planned anew.

mod common;

use common::random::Random;
use common::{checked, job};
use lengthwise::api;
use lengthwise::check::{Backing, Lie, Reason, check};
use lengthwise::choices::{self, Choice, Choices};
use lengthwise::io::job_file;
use lengthwise::patience::Limits;
use lengthwise::plan::{Measure, Source};
use serde_json::{Value, json};

/// Looks that are enough for all of a small job, and the same on every machine.
const LOOKS: u64 = 1_000_000;

fn looked_within(value: &Value, looks: u64) -> Choices {
    let (draft, faults) = job_file::read_value(value);
    assert_eq!(faults, [], "{value}");
    let job = job(&value.to_string());
    let plan = checked(&job);
    let limits = Limits::asks(looks);
    choices::look((&draft, &job), &plan, limits, &|| 0.0, &mut |_| {})
}

fn looked(value: &Value) -> Choices {
    looked_within(value, LOOKS)
}

/// Lengths, hundredths and millimetres of a choice; no money where a price is missing.
fn figures(choice: &Choice) -> [i64; 3] {
    let money = choice.money.map_or(0, |money| money.minor());
    [choice.lengths, money, choice.timber.ticks() / 3_200]
}

/// What the plan of a job buys: lengths, hundredths and millimetres.
fn bought(value: &Value) -> [i64; 3] {
    let job = job(&value.to_string());
    let plan = checked(&job);
    let mut sums = [0; 3];
    for board in &plan.plan().boards {
        if let Source::Yard(line) = board.source {
            let line = &job.yard[line];
            sums[0] += 1;
            sums[1] += line.price.map_or(0, |price| price.minor());
            sums[2] += line.length.ticks() / 3_200;
        }
    }
    sums
}

/// The job with a choice taken, written into the file field by field.
fn taken(value: &Value, choice: &Choice) -> Value {
    let mut other = value.clone();
    for edit in &choice.edits {
        let place = &edit.place;
        let row = place.row.expect("a row of the sections");
        other[&place.list][row][&place.field] = edit.text.clone().into();
    }
    other
}

/// A piece of timber in millimetres, and which section it is.
type Board = (i64, usize);

/// Every piece lies in a board of a section that it may be made of: pieces of a board, with a cut between each two, are no longer than it.
fn fits(pieces: &[(i64, Vec<usize>)], boards: &[Board], kerf: i64) -> bool {
    fn place(pieces: &[(i64, Vec<usize>)], room: &mut Vec<Board>, kerf: i64) -> bool {
        let Some(((length, sections), rest)) = pieces.split_first() else {
            return true;
        };
        for at in 0..room.len() {
            let (free, section) = room[at];
            if free < *length || !sections.contains(&section) || room[..at].contains(&room[at]) {
                continue;
            }
            room[at].0 = free - length - kerf;
            let does = place(rest, room, kerf);
            room[at].0 = free;
            if does {
                return true;
            }
        }
        false
    }
    place(pieces, &mut boards.to_vec(), kerf)
}

/// All that can be bought so that everything fits, by what it comes to.
fn purchases(value: &Value) -> Vec<[i64; 3]> {
    let number = |value: &Value| -> i64 { value.as_str().expect("a text").parse().expect("whole") };
    let section = |name: &str| {
        let sections = value["sections"].as_array().expect("sections");
        let place = sections.iter().position(|section| section["name"] == name);
        place.expect("a section of the job")
    };
    let rows = |list: &str| value[list].as_array().cloned().unwrap_or_default();
    let mut pieces = Vec::new();
    for part in rows("parts") {
        let sections = part["section"].as_str().expect("a section").split("; ");
        let piece = (
            number(&part["length"]),
            sections.map(section).collect::<Vec<_>>(),
        );
        let times = part["quantity"].as_u64().expect("a number") as usize;
        pieces.extend(vec![piece; times]);
    }
    pieces.sort_by_key(|(length, _)| -length);
    let of = |row: &Value| {
        (
            number(&row["length"]),
            section(row["section"].as_str().expect("one")),
        )
    };
    let shed: Vec<Board> = rows("shed").iter().map(&of).collect();
    let yard: Vec<(Board, i64, usize)> = rows("yard")
        .iter()
        .map(|row| {
            let most = row["count"]
                .as_str()
                .map_or(usize::MAX, |text| text.parse().expect("a count"));
            let price = row["price"].as_str().map_or(0, |text| {
                text.parse::<f64>().expect("money").mul_add(100.0, 0.5) as i64
            });
            (of(row), price, most.min(pieces.len()))
        })
        .collect();
    let kerf = number(&value["saw"]["kerf"]);
    let mut counts = vec![0; yard.len()];
    let mut found = Vec::new();
    loop {
        let mut boards = shed.clone();
        let mut sums = [0; 3];
        for ((board, price, _), &count) in yard.iter().zip(&counts) {
            boards.extend(vec![*board; count]);
            let count = count as i64;
            sums = [
                sums[0] + count,
                sums[1] + count * price,
                sums[2] + count * board.0,
            ];
        }
        if sums[0] <= pieces.len() as i64 && fits(&pieces, &boards, kerf) {
            found.push(sums);
        }
        let Some(next) = (0..yard.len()).find(|&at| counts[at] < yard[at].2) else {
            return found;
        };
        counts[next] += 1;
        counts[..next].fill(0);
    }
}

/// Those that no other beats, each once.
fn unbeaten(all: &[[i64; 3]], priced: bool) -> Vec<[i64; 3]> {
    let key = |sums: &[i64; 3]| if priced { *sums } else { [sums[0], 0, sums[2]] };
    let mut all: Vec<[i64; 3]> = all.iter().map(key).collect();
    all.sort_unstable();
    all.dedup();
    let beaten = |one: &[i64; 3]| {
        let mut others = all.iter().filter(|other| *other != one);
        others.any(|other| other.iter().zip(one).all(|(other, one)| other <= one))
    };
    all.iter().filter(|one| !beaten(one)).copied().collect()
}

/// A small job: one section, two that are planned apart, or two of which some part may be made of either.
fn small(random: &mut Random, kind: usize) -> Value {
    let names = ["a", "b"];
    let sections = if kind == 0 { 1 } else { 2 };
    let mut yard = Vec::new();
    for section in &names[..sections] {
        for length in [900, 1_200, 1_500] {
            if random.below(4) > 0 || length == 1_200 {
                let price = length / 10 + random.below(70);
                let mut line = json!({ "section": section, "length": length.to_string() });
                if kind != 3 {
                    line["price"] = format!("{}.{:02}", price / 100, price % 100).into();
                }
                if length != 1_200 && random.below(3) == 0 {
                    line["count"] = (1 + random.below(2)).to_string().into();
                }
                yard.push(line);
            }
        }
    }
    let parts: Vec<Value> = (0..2 + random.below(2))
        .map(|at| {
            let section = match kind {
                2 if at == 0 => "a; b",
                _ => names[at % sections],
            };
            json!({
                "label": format!("part {at}"), "section": section,
                "length": (250 + random.below(60) * 10).to_string(), "quantity": 1 + random.below(3),
            })
        })
        .collect();
    let aims = ["fewest", "shortest", "cheapest"];
    let aim = aims[random.below(if kind == 3 { 2 } else { 3 })];
    let mut job = json!({
        "format": "lengthwise-job", "version": 1, "saw": { "kerf": "3", "keep": "200" },
        "aim": aim,
        "sections": names[..sections].iter().map(|name| json!({ "name": name, "trim": "0" })).collect::<Vec<_>>(),
        "yard": yard, "parts": parts,
    });
    if random.below(3) == 0 {
        job["shed"] = json!([{ "section": "a", "length": (400 + random.below(50) * 10).to_string(), "trim": "0" }]);
    }
    job
}

#[test]
fn the_choices_are_all_purchases_that_no_other_beats() {
    let mut random = Random(2_026);
    let (mut several, mut timber, mut alone) = (0, 0, 0);
    for index in 0..400 {
        let kind = index % 4;
        let value = small(&mut random, kind);
        let wanted = unbeaten(&purchases(&value), kind != 3);
        let found = looked(&value);
        assert!(found.complete && found.untold == 0, "{found:?} {value}");
        let today = bought(&value);
        if found.found.is_empty() {
            let same = |one: &[i64; 3]| one[0] == today[0] && one[2] == today[2];
            assert!(wanted.len() == 1 && same(&wanted[0]), "{wanted:?} {value}");
            // Where it is proven that there is nothing to choose, this is said; jobs as small as these are always proven.
            assert!(found.only, "{found:?} {value}");
            let note = choices::note_text(&job(&value.to_string()), &found);
            assert_eq!(note.contains("costs less"), kind != 3, "{note} {value}");
            alone += 1;
            continue;
        }
        assert!(!found.only, "{found:?} {value}");
        let told: Vec<&Choice> = found.found.iter().filter(|one| !one.beaten).collect();
        let figures: Vec<[i64; 3]> = told.iter().map(|choice| figures(choice)).collect();
        assert_eq!(figures, wanted, "{value}");
        assert!(told.iter().all(|choice| choice.proven), "{found:?} {value}");
        assert_eq!(found.found.iter().filter(|choice| choice.today).count(), 1);
        several += usize::from(wanted.len() > 1);
        timber += usize::from(wanted.len() > 2 && kind != 3);
        for choice in &found.found {
            let made = bought(&taken(&value, choice));
            let told = self::figures(choice);
            assert_eq!([made[0], made[2]], [told[0], told[2]], "{choice:?} {value}");
            assert!(
                choice.money.is_none() || made[1] == told[1],
                "{choice:?} {value}"
            );
            let written = choice.edits.iter().all(|edit| edit.text.is_empty());
            assert!(!choice.today || written, "{choice:?}");
        }
    }
    assert!(
        several > 60 && timber > 15 && alone > 60,
        "{several} with several, {timber} with more than two, {alone} with one"
    );
}

/// Worked by hand. Of 3 m at 10.00 two make the four rails; of 1.5 m at 4.00 four do. A rail of 1400 mm takes more than half of a 3 m length less
/// its trims, so each 3 m length gives two, each 1.5 m length one.
fn rails() -> Value {
    json!({
        "format": "lengthwise-job", "version": 1, "saw": { "kerf": "3" },
        "sections": [{ "name": "rail" }],
        "yard": [{ "length": "3000", "price": "10" }, { "length": "1500", "price": "4" }],
        "parts": [{ "label": "rail", "length": "1400", "quantity": 4 }],
    })
}

#[test]
fn fewer_lengths_and_less_money_stand_side_by_side() {
    let found = looked(&rails());
    let told: Vec<[i64; 3]> = found.found.iter().map(figures).collect();
    assert_eq!(
        told,
        [[2, 2_000, 6_000], [3, 1_800, 6_000], [4, 1_600, 6_000]]
    );
    assert!(found.found[0].today && found.complete);
    let names = (0..3).map(|at| choices::choice_text(&found, at));
    let names: Vec<String> = names.collect();
    assert_eq!(
        names,
        [
            "fewest lengths, least timber",
            "least timber",
            "least money, least timber"
        ]
    );
    let text = choices::text(&job(&rails().to_string()), &found);
    assert!(text.contains("\"allowed\": \"4\""), "{text}");
}

#[test]
fn a_choice_taken_allows_and_never_forbids() {
    let mut value = rails();
    value["sections"][0]["allowed"] = "3".into();
    assert_eq!(bought(&value), [3, 1_800, 6_000]);
    // Each choice is written over what is there; the aim alone allows nothing.
    let found = looked(&value);
    let edits: Vec<Vec<&str>> = found
        .found
        .iter()
        .map(|choice| choice.edits.iter().map(|edit| &edit.text[..]).collect())
        .collect();
    assert_eq!(edits, [["", ""], ["3", ""], ["4", ""]]);
    assert!(found.found[1].today);
    // More parts need more than was allowed, and get it: as few more as will do.
    value["parts"][0]["quantity"] = 8.into();
    assert_eq!(bought(&value)[0], 4);
    // Fewer parts are the cheapest within it.
    value["parts"][0]["quantity"] = 2.into();
    assert_eq!(bought(&value), [2, 800, 3_000]);
}

#[test]
fn what_may_be_bought_is_kept_in_the_job_file() {
    let mut value = rails();
    value["sections"][0]["allowed"] = "3".into();
    value["sections"][0]["allowed_timber"] = "6 m".into();
    let (draft, faults) = job_file::read_value(&value);
    assert_eq!(faults, []);
    let call = |action: &str, request: Value| -> Value {
        serde_json::from_str(&api::call(action, &request.to_string())).expect("a reply")
    };
    let link = call("link", json!({ "job": value, "address": "here" }));
    let (_, fragment) = link["link"]
        .as_str()
        .and_then(|link| link.split_once('#'))
        .expect("a link");
    let read = call("job_in_link", json!({ "fragment": fragment }));
    let (again, faults) = job_file::read_value(&read["job"]);
    assert_eq!((again, faults), (draft, Vec::new()));
    let read = job(&value.to_string());
    let allowed = read.sections[0].allowed;
    assert_eq!(allowed.lengths, Some(3));
    assert_eq!(
        allowed.timber.map(|timber| timber.ticks()),
        Some(6_000 * 3_200)
    );
}

#[test]
fn time_that_is_too_short_is_told() {
    let found = looked_within(&rails(), 2);
    assert!(!found.complete && !found.only);
}

#[test]
fn figures_for_what_the_job_does_not_allow_show_nothing() {
    let mut three = rails();
    three["sections"][0]["allowed"] = "3".into();
    let plan = checked(&job(&three.to_string())).plan().clone();
    let with = |lengths: &str| {
        let mut other = rails();
        other["sections"][0]["allowed"] = lengths.into();
        job(&other.to_string())
    };
    // A job without `allowed` has other levels than the plan was made for.
    let lies = check(&job(&rails().to_string()), plan.clone()).expect_err("other levels");
    assert!(matches!(lies[..], [Lie::WrongLevels { .. }]), "{lies:?}");
    // Two are allowed and three are bought, so one is beyond what is allowed; the plan claims none.
    let lies = check(&with("2"), plan.clone()).expect_err("beyond");
    let beyond = Lie::WrongValue {
        measure: Measure::LengthsBeyond,
        claimed: 0,
        found: 1,
    };
    assert_eq!(lies, [beyond]);
    // Four are allowed: that no plan of three lengths costs less proves nothing about plans of four.
    let within_four = check(&with("4"), plan.clone()).expect("it can be cut");
    let money = |checked: &lengthwise::check::CheckedPlan| {
        let mut levels = checked.groups()[0].levels.iter();
        let level = levels.find(|level| level.measure == Measure::Money);
        level.expect("money is a level").clone()
    };
    assert_eq!(
        money(&within_four).backing,
        Backing::ClaimOnly(Reason::OtherTotals)
    );
    // The same figures, forged to say that they are of plans of four lengths, do not hold.
    let mut forged = plan;
    let certificate = forged.proofs[0].certificate.as_mut().expect("figures");
    for level in &mut certificate.levels {
        if let Some(lengths) = level.earlier.first_mut() {
            *lengths = 4;
        }
    }
    let lies = check(&with("4"), forged).expect_err("16.00 is less");
    assert!(
        matches!(
            lies[0],
            Lie::BoundNotShown { measure: Measure::Money, claimed: 1_800, shown } if shown <= 1_600
        ) || matches!(lies[0], Lie::LiftedTooFar { measure: Measure::Money, claimed: 1_800, next } if next <= 1_600),
        "{lies:?}"
    );
}

#[test]
fn with_that_aim_the_longest_offcut_is_as_long_as_any_plan_that_buys_as_little_leaves() {
    let mut random = Random(5);
    let mut longer = 0;
    for index in 0..60 {
        let mut value = small(&mut random, 0);
        value["aim"] = "fewest".into();
        let plain = longest_left(&value);
        let before = bought(&value);
        value["aim"] = "offcuts".into();
        assert_eq!(bought(&value), before, "{index} {value}");
        let found = longest_left(&value);
        // The longest part more with which as little is bought, by every purchase there is.
        let with = |length: i64| {
            let mut other = value.clone();
            let part = json!({ "label": "more", "section": "a", "length": length.to_string(), "quantity": 1 });
            other["parts"].as_array_mut().expect("parts").push(part);
            let best = purchases(&other).into_iter().min();
            best.is_some_and(|best| best[..2] == before[..2])
        };
        let (mut does, mut not) = (199, 1_501);
        while not - does > 1 {
            let middle = (does + not) / 2;
            match with(middle) {
                true => does = middle,
                false => not = middle,
            }
        }
        let longest = (does >= 200).then_some(does);
        assert!(
            found >= longest.unwrap_or(0),
            "{found} and {longest:?} {value}"
        );
        longer += usize::from(found > plain);
    }
    assert!(longer > 5, "only {longer} are longer for it");
}

/// The longest piece that a plan leaves, in whole millimetres: an offcut, or a board of the shed that is not cut.
fn longest_left(value: &Value) -> i64 {
    let job = job(&value.to_string());
    let mut hear = |_: &lengthwise::plan::Plan| {};
    let group = &lengthwise::group::groups(&job)[0];
    let limits = Limits::asks(50_000);
    let (planned, _) =
        lengthwise::exact_yard::plan_both(&job, (0, group), limits, &|| 0.0, &mut hear);
    let lengthwise::planner::Planned::Found(plan) = planned else {
        panic!("no plan of {value}");
    };
    let checked = check(&job, plan).expect("it holds");
    let offcuts = checked.boards().iter().flat_map(|board| &board.offcuts);
    let offcuts = offcuts.map(|offcut| offcut.to - offcut.from);
    let cut: Vec<Source> = checked
        .plan()
        .boards
        .iter()
        .map(|board| board.source)
        .collect();
    let whole = job.shed.iter().enumerate();
    let whole = whole.filter(|(at, _)| !cut.contains(&Source::Shed(*at)));
    let longest = offcuts.chain(whole.map(|(_, board)| board.length)).max();
    longest.map_or(0, |longest| longest.ticks() / 3_200)
}

/// Lengths in packs are paid for by the pack, whole: the choice that is today's costs what its buying list says, and so does every other once it is taken.
#[test]
fn choices_with_packs_cost_what_their_packs_do() {
    let mut random = Random(50);
    let mut told = 0;
    for _ in 0..30 {
        let value = json!({
            "format": "lengthwise-job", "aim": "fewest", "saw": { "kerf": "3" }, "sections": [{ "name": "a", "trim": "0" }],
            "yards": [{ "delivery": "15" }],
            "yard": [{ "length": "3000", "price": "36.00", "pack": 1 + random.below(5) }, { "length": "3600", "price": "9.10" }],
            "parts": [{ "label": "rail", "length": 900 + 10 * random.below(80), "quantity": 4 + random.below(9) },
                { "label": "pale", "length": 500 + 10 * random.below(60), "quantity": 3 + random.below(9) }],
        });
        let found = looked(&value);
        for choice in &found.found {
            let job = job(&taken(&value, choice).to_string());
            let list = lengthwise::report::build(&job, &checked(&job))
                .buying
                .totals;
            let money = choice.money.expect("all have prices");
            assert_eq!(list.cost, money.show(job.decimal()), "{value}");
            assert_eq!(list.count as i64, choice.lengths, "{value}");
            told += 1;
        }
        let job = job(&value.to_string());
        assert!(choices::note_text(&job, &found).ends_with("the bill has delivery as well."));
    }
    assert!(told > 15, "{told}");
}
