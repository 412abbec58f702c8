//! A person who does exactly what the saw sheet says. What comes off the boards is measured here from the sheet's table and the job as
//! typed, by arithmetic of its own. No part may come out short, or too long to go between others, unless the sheet says so. Every slanted
//! end must come out right when the board is turned as the sheet says. What goes back to the shed must be the timber that is really left.
//!
//! The jobs of `fixtures/sheets` are some whose sheets once led to wrong parts or listed wrong rests.

#[path = "followed/hand.rs"]
mod hand;
#[path = "followed/little_room.rs"]
mod little_room;
#[path = "followed/rests.rs"]
mod rests;
#[path = "followed/rips.rs"]
mod rips;
#[path = "followed/saw.rs"]
mod saw;
#[path = "followed/told.rs"]
mod told;

use hand::Hand;

use lengthwise::check::{CheckedPlan, Effort, check_within};
use lengthwise::io::csv::rows as cells;
use lengthwise::io::job_file;
use lengthwise::job::{Job, validate};
use lengthwise::patience::{Limits, Patience};
use lengthwise::planner::{Planned, plan_job};
use lengthwise::report::{self, csv};
use serde_json::{Value, json};
use std::collections::HashMap;

/// Ticks in a millimetre and in an inch: 1 in = 25.4 mm (international yard and pound agreement, 1959).
const MILLIMETRE: i64 = 3_200;
const INCH: i64 = 81_280;

/// `123.5`, `1,85 m`, `50 1/2"`, `3' 4 1/2"` or `≈12` in ticks; a bare number is in the unit of the job.
fn ticks(job: &Job, text: &str) -> i64 {
    let text = text.trim_start_matches('≈').replace(',', ".");
    if !text.contains(['"', '\'']) {
        let (number, unit) = text
            .split_once(' ')
            .unwrap_or((&text, job.unit().abbreviation()));
        let unit = match unit {
            "mm" => MILLIMETRE,
            "cm" => 10 * MILLIMETRE,
            "m" => 1_000 * MILLIMETRE,
            other => panic!("{other}"),
        };
        let (whole, rest) = number.split_once('.').unwrap_or((number, ""));
        let rest: i64 = format!("{rest:0<5}").parse().expect("decimals");
        return whole.parse::<i64>().expect("a number") * unit + rest * unit / 100_000;
    }
    let (feet, inches) = match text.split_once('\'') {
        Some((feet, inches)) => (feet.parse::<i64>().expect("feet"), inches.to_owned()),
        None => (0, text.clone()),
    };
    let words = inches.replace('"', "");
    let inches: i64 = words
        .split_whitespace()
        .map(|word| match word.split_once('/') {
            Some((top, bottom)) => {
                top.parse::<i64>().expect("a top") * INCH / bottom.parse::<i64>().expect("a bottom")
            }
            None => word.parse::<i64>().expect("inches") * INCH,
        })
        .sum();
    feet * 12 * INCH + inches
}

/// The cells of each row below the headings, by heading.
fn rows(table: &str) -> Vec<HashMap<String, String>> {
    let mut rows = cells(table)
        .expect("a table")
        .into_iter()
        .map(|row| row.cells);
    let heads = rows.next().expect("headings");
    rows.map(|row| heads.iter().cloned().zip(row).collect())
        .collect()
}

/// Numbers that look random and are the same every time: xorshift64* of Vigna (2016).
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: u64) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        (self.0.wrapping_mul(0x2545_f491_4f6c_dd1d) >> 33) % most
    }
}

/// The findings from following the sheets of a job.
#[derive(Default)]
struct Found {
    parts: usize,
    told: usize,
    /// Parts that stood on the factory end at the datum, and at the far end.
    stood: [usize; 2],
    /// Parts with an end sawn with the blade tilted.
    tilted: usize,
}

/// Follows every sheet of a plan.
fn follow(job: &Job, found: &mut Found) {
    let clock = || 0.0;
    let mut hear = |_: &_| ();
    let planned = plan_job(job, &mut Patience::new(Limits::asks(60), &clock, &mut hear));
    let Planned::Found(plan) = planned else {
        return;
    };
    let checked = check_within(job, plan, Effort::NONE).expect("a plan that holds");
    let report = report::build(job, &checked);
    let table = rows(&csv::saw(&report));
    // The yard saws as far off as it may, to either side, and somewhere between.
    let most = job.yard_tolerance.ticks();
    let cut = checked
        .plan()
        .boards
        .iter()
        .any(|board| board.yard_cut.is_some());
    let offs = match cut && most > 0 {
        true => vec![-most, -most / 3, 0, 1, most],
        false => vec![0],
    };
    for off in offs {
        follow_boards(job, (&checked, &report, &table), off, found);
    }
}

type Sheets<'a> = (
    &'a CheckedPlan,
    &'a report::Report,
    &'a [HashMap<String, String>],
);

/// Follows the sheets of all boards, the yard sawing so far off the readings it was told.
fn follow_boards(job: &Job, (checked, report, table): Sheets, off: i64, found: &mut Found) {
    let mut came_off: HashMap<usize, u32> = HashMap::new();
    for (index, planned) in checked.plan().boards.iter().enumerate() {
        let number = (index + 1).to_string();
        let mut hand = Hand::of(
            job,
            planned.source,
            off,
            format!("board {number} of {:?}", job.piece),
        );
        for step in table.iter().filter(|row| row["board"] == number) {
            if let Some(part) = hand.step(step, found) {
                *came_off.entry(part).or_default() += 1;
            }
        }
        let back = report.back_to_shed.iter();
        let back = back.filter(|row| row.board == Some(index));
        let (pieces, strips): (Vec<_>, Vec<_>) =
            back.partition(|row| !row.section.ends_with(" wide"));
        let strips = strips.iter().map(|row| {
            let width = row.section.trim_end_matches(" wide").rsplit(", ").next();
            (ticks(job, &row.length), ticks(job, width.expect("a width")))
        });
        assert_eq!(strips.collect::<Vec<_>>(), hand.strips, "{}", hand.name);
        let told: Vec<_> = pieces
            .iter()
            .map(|row| {
                // What is told to be cut off an end, up to a step more than it needs.
                let off = ["start", "end"].map(|end| {
                    let told = format!(" to cut off its {end}");
                    let mut flaws = row.flaws.split(", ");
                    flaws
                        .find_map(|flaw| flaw.strip_suffix(&told))
                        .map_or(0, |size| ticks(job, size))
                });
                (ticks(job, &row.length), row.flaws.contains("bad from"), off)
            })
            .collect();
        let kept = hand.left.kept();
        assert_eq!(told.len(), kept.len(), "{}: {told:?} {kept:?}", hand.name);
        for ((length, bad, off), real) in told.into_iter().zip(kept) {
            let step = job.step.ticks();
            assert_eq!(length, real.length, "{}", hand.name);
            // A step or less of a bad stretch at the end is told as what that end needs.
            let bad = bad || (off[1] > 0 && real.needs[1] == 0);
            assert_eq!(bad, real.bad, "{}: {off:?} {real:?}", hand.name);
            for (told, needs) in off.into_iter().zip(real.needs) {
                // Two ticks for the floats by which a slant is worked out.
                let over = told - needs;
                assert!(
                    (-2..step + 2).contains(&over),
                    "{}: {off:?} {real:?}",
                    hand.name
                );
            }
        }
    }
    for (part, wanted) in job.parts.iter().enumerate() {
        assert_eq!(
            came_off.get(&part),
            Some(&wanted.quantity),
            "{}",
            wanted.label
        );
    }
}

fn read(job: &Value) -> Job {
    let (draft, faults) = job_file::read_value(job);
    assert!(faults.is_empty(), "{faults:?}");
    validate(&draft).unwrap_or_else(|faults| panic!("{faults:?}"))
}

/// A made-up job: metric or in inches, with or without a length that the yard cuts, shed boards with bad stretches, mitres.
fn made_up(dice: &mut Dice) -> Value {
    let imperial = dice.below(3) == 0;
    let length = |millimetres: u64, fine: u64| match imperial {
        true => format!("{} {}/32\"", millimetres * 10 / 254, fine % 32),
        false => format!("{millimetres}.{}", fine % 10),
    };
    let kerf = match imperial {
        true => ["1/8\"", "3/32\"", "0.11\""][dice.below(3) as usize],
        false => ["2.4", "3.2", "1.85"][dice.below(3) as usize],
    };
    let step = match imperial {
        true => ["1/16\"", "1/32\"", "1/8\""][dice.below(3) as usize],
        false => ["0.5", "1", "0.1"][dice.below(3) as usize],
    };
    let parts: Vec<Value> = (0..1 + dice.below(6))
        .map(|number| {
            let ends = ["square", "45", "45; square", "30"][dice.below(8).min(3) as usize];
            let narrow = dice.below(3) == 0;
            let wide = 12 + dice.below(34);
            let ripped = match (narrow, imperial) {
                (false, _) => String::new(),
                (true, false) => format!("{wide}.{}", dice.below(10)),
                (true, true) => format!("{wide}/32\""),
            };
            json!({
                "ripped": ripped,
                "label": format!("part {number}"), "length": length(250 + dice.below(1_500), dice.below(40)),
                "quantity": (1 + dice.below(6)).to_string(), "ends": if dice.below(3) > 0 { "square" } else { ends },
                "goes": if dice.below(4) == 0 { "between others" } else { "free" },
            })
        })
        .collect();
    let shed: Vec<Value> = (0..dice.below(5))
        .map(|number| {
            let from = 300 + dice.below(600);
            json!({
                "mark": format!("M{number}"), "length": length(1_100 + dice.below(1_500), dice.below(40)),
                "bad": if dice.below(2) == 0 { format!("{}..{}", length(from, 3), length(from + dice.below(90) + 2, 7)) } else { String::new() },
                "trim": if imperial { "1/2\"" } else { "12.3" },
            })
        })
        .collect();
    let mut job = json!({
        "format": "lengthwise-job", "version": 1, "unit": if imperial { "in" } else { "mm" }, "step": step,
        "saw": { "kerf": kerf, "keep": if imperial { "12\"" } else { "300" } },
        "sections": [{ "name": "batten", "thickness": if imperial { "1\"" } else { "25" }, "width": if imperial { "2\"" } else { "50" },
            "trim": if dice.below(2) == 0 { "0" } else if imperial { "3/8\"" } else { "9.7" } }],
        "yard": [{ "length": if imperial { "8'" } else { "2.4 m" }, "price": "5" }, { "length": if imperial { "12'" } else { "3.6 m" }, "price": "7" }],
        "shed": shed, "parts": parts,
    });
    if dice.below(3) == 0 {
        job["carry"] = json!(if imperial { "8'" } else { "2.4 m" });
        match dice.below(4) {
            0 => job["yard_tolerance"] = json!("0"),
            1 => job["yard_trim"] = json!("0"),
            2 => {
                job["yard_tolerance"] = json!(if imperial { "3/4\"" } else { "21.3" });
                job["yard_trim"] = json!(if imperial { "1/4\"" } else { "4.1" });
            }
            _ => {}
        }
    }
    job
}

/// Where a board is full to the last tenth there is no room; that is seldom.
#[track_caller]
fn is_told_seldom(found: &Found) {
    assert!(
        found.told * 20 < found.parts,
        "{} of {}",
        found.told,
        found.parts
    );
}

#[test]
fn whoever_follows_the_sheets_of_made_up_jobs_is_told_of_every_part_that_comes_out_short() {
    let mut dice = Dice(11);
    let mut found = Found::default();
    for _ in 0..150 {
        follow(&read(&made_up(&mut dice)), &mut found);
    }
    assert!(found.parts > 1_000, "{} parts", found.parts);
    is_told_seldom(&found);
}

/// The same with both ways of leaning, with parts of two angles, and with faces and edges alike or different.
#[test]
fn whoever_follows_the_sheets_of_braces_and_rafters_is_told_of_every_part_that_comes_out_short() {
    let mut dice = Dice(99);
    let mut found = Found::default();
    for _ in 0..600 {
        let mut job = made_up(&mut dice);
        let ends = [
            "45",
            "30",
            "45; 30",
            "square; 45",
            "30; square",
            "22.5; 45",
            "square",
        ];
        lean(&mut job, &mut dice, &ends);
        follow(&read(&job), &mut found);
    }
    assert!(found.parts > 1_000, "{} parts", found.parts);
    is_told_seldom(&found);
}

/// The same with ends that are sawn with the blade tilted, alone or with a mitre.
#[test]
fn whoever_follows_the_sheets_of_tilted_ends_is_told_of_every_part_that_comes_out_short() {
    let mut dice = Dice(2_024);
    let mut found = Found::default();
    for _ in 0..400 {
        let mut job = made_up(&mut dice);
        lean(&mut job, &mut dice, &TILTED);
        follow(&read(&job), &mut found);
    }
    assert!(found.tilted > 1_000, "{} parts", found.tilted);
    is_told_seldom(&found);
}

/// Ends for made-up parts, half of them with a tilt.
const TILTED: [&str; 8] = [
    "tilt 30",
    "45 tilt 20",
    "45; 30 tilt 15",
    "square; tilt 10",
    "22.5 tilt 14.5; 45",
    "tilt 20; 45 tilt 20",
    "square",
    "30; square",
];

/// Gives the parts of a made-up job such ends, leaning either way, and its section faces and edges that are alike or different.
fn lean(job: &mut Value, dice: &mut Dice, ends: &[&str]) {
    let mut one_of = |words: &[&str]| words[dice.below(words.len() as u64) as usize].to_owned();
    for sides in ["faces", "edges"] {
        job["sections"][0][sides] = one_of(&["alike", "different"]).into();
    }
    for part in job["parts"].as_array_mut().expect("parts") {
        part["ends"] = one_of(ends).into();
        part["leans"] = one_of(&["opposite ways", "the same way"]).into();
    }
}

/// Posts among the parts: their bottoms are left as they came, some of them at the far end of a board and measured from there, on whole boards and on what
/// the yard cuts. Their tops are square, slanted or sawn with the blade tilted.
#[test]
fn whoever_follows_the_sheets_of_posts_gets_each_with_a_factory_end_that_nobody_sawed() {
    let mut dice = Dice(7_411);
    let mut found = Found::default();
    for _ in 0..500 {
        let mut job = made_up(&mut dice);
        lean(&mut job, &mut dice, &TILTED);
        job["sections"][0]["treated"] = ["yes", "yes", "unknown"][dice.below(3) as usize].into();
        for board in job["shed"].as_array_mut().expect("a shed") {
            let ends = ["none", "datum end", "far end", "both"];
            board["factory_ends"] = ends[dice.below(4) as usize].into();
        }
        for part in job["parts"].as_array_mut().expect("parts") {
            if dice.below(2) == 0 {
                let ends = [
                    "square",
                    "square; 30",
                    "45; square",
                    "square; 30 tilt 15",
                    "tilt 10; square",
                ];
                part["goes"] = "in the ground".into();
                part["ripped"] = "".into();
                part["ends"] = ends[dice.below(5) as usize].into();
            }
        }
        follow(&read(&job), &mut found);
    }
    assert!(found.parts > 1_000, "{} parts", found.parts);
    assert!(found.stood[0] > 200, "{:?}", found.stood);
    assert!(found.stood[1] > 200, "{:?}", found.stood);
    is_told_seldom(&found);
}

#[test]
fn whoever_follows_the_sheets_of_the_examples_gets_every_part_at_least_as_long_as_it_should_be() {
    let folders = ["fixtures/jobs", "fixtures/sheets"]
        .map(|folder| std::fs::read_dir(folder).expect("the examples"));
    for name in folders.into_iter().flatten() {
        let path = name.expect("an example").path();
        let text = std::fs::read_to_string(&path).expect("an example");
        let mut found = Found::default();
        follow(
            &read(&serde_json::from_str(&text).expect("JSON")),
            &mut found,
        );
        assert!(found.parts > 0, "{}", path.display());
    }
}

/// The report of a job that has a plan.
fn reported(job: &Job) -> report::Report {
    let clock = || 0.0;
    let mut hear = |_: &_| ();
    let planned = plan_job(job, &mut Patience::new(Limits::asks(60), &clock, &mut hear));
    let Planned::Found(plan) = planned else {
        panic!("no plan");
    };
    let checked = check_within(job, plan, Effort::NONE).expect("a plan that holds");
    report::build(job, &checked)
}

/// The saw sheet of a job's first board: kind, reading and turn of each step.
fn sheet(job: &Value) -> Vec<(String, String, String)> {
    rows(&csv::saw(&reported(&read(job))))
        .into_iter()
        .filter(|row| row["board"] == "1")
        .map(|row| {
            (
                row["kind"].clone(),
                row["reading"].clone(),
                row["turn"].clone(),
            )
        })
        .collect()
}

#[test]
fn a_slanted_cut_into_a_narrow_bad_stretch_does_not_reach_the_part_behind_it() {
    // At 60 degrees a blade of 4 takes 8 along the board, 600 to 608, though the bad stretch ends at 604.
    let job = |second: u32| {
        json!({
            "format": "lengthwise-job", "version": 1, "saw": { "kerf": "4" },
            "sections": [{ "name": "rail", "width": "70", "thickness": "20", "turnable": "no" }],
            "yard": [{ "length": "1000", "price": "1" }],
            "shed": [{ "mark": "A", "length": "1300", "trim": "0; 6", "bad": "600..604" }],
            "parts": [{ "label": "m", "length": "600", "ends": "square; 60" }, { "label": "s", "length": second.to_string() }],
        })
    };
    let steps = sheet(&job(686));
    let kinds: Vec<_> = steps
        .iter()
        .map(|(kind, reading, _)| (kind.as_str(), reading.as_str()))
        .collect();
    // The slanted end is squared before the next part is measured.
    assert_eq!(kinds, [("mitre", "600"), ("bad", "608"), ("cut", "1294")]);
    // Four more do not fit there any more.
    assert!(
        sheet(&job(690))
            .iter()
            .all(|(_, reading, _)| reading != "1294")
    );
}

#[test]
fn a_mitre_is_sawn_where_a_part_ends_with_its_board_or_at_the_yards_cut() {
    let section = json!([{ "name": "rail", "width": "70", "thickness": "20", "trim": "0" }]);
    let whole = json!({
        "format": "lengthwise-job", "version": 1, "saw": { "kerf": "3" }, "sections": section,
        "yard": [{ "length": "1000", "price": "1" }], "parts": [{ "label": "p", "length": "1000", "ends": "45" }],
    });
    let carried = json!({
        "format": "lengthwise-job", "version": 1, "carry": "1200", "yard_tolerance": "0", "yard_trim": "0", "saw": { "kerf": "3" }, "sections": section,
        "yard": [{ "length": "1803", "price": "1" }], "parts": [{ "label": "p", "length": "900", "quantity": "2", "ends": "45" }],
    });
    for (job, mitres) in [(whole, 2), (carried, 4)] {
        let steps = sheet(&job);
        let sawn = steps
            .iter()
            .filter(|(kind, _, turn)| kind == "mitre" && turn.ends_with(" at 45\u{b0}"));
        assert_eq!(sawn.count(), mitres, "{steps:?}");
    }
}

#[test]
fn an_offcut_of_any_length_is_kept_where_all_of_them_are_worth_keeping() {
    // 0.2 mm are left of the clear run in front of an untouched trim: there is no room there for a step of half a millimetre.
    let job = json!({
        "format": "lengthwise-job", "version": 1, "saw": { "kerf": "0", "keep": "0" }, "sections": [{ "name": "t" }],
        "yard": [{ "length": "3600" }], "parts": [{ "label": "1", "length": "1789.9", "quantity": "2" }],
    });
    let readings: Vec<String> = sheet(&job)
        .into_iter()
        .map(|(_, reading, _)| reading)
        .collect();
    assert_eq!(readings, ["10", "1800", "3589.5"]);
}

#[test]
fn a_mitre_at_a_fresh_square_end_is_marked_two_millimetres_from_its_corner_where_there_is_room() {
    let job = |length: &str, trim: &str, ends: &str| {
        json!({
            "format": "lengthwise-job", "version": 1, "saw": { "kerf": "3" },
            "sections": [{ "name": "rail", "width": "70", "thickness": "20", "trim": trim }],
            "yard": [{ "length": length, "price": "1" }],
            "parts": [{ "label": "p", "length": "600", "ends": "square" }, { "label": "q", "length": "700", "ends": ends }],
        })
    };
    let marks = |job: Value| -> Vec<String> {
        sheet(&job)
            .into_iter()
            .map(|(_, reading, _)| reading)
            .collect()
    };
    // The square part comes last where it is longer; here the mitred one follows it: 600, a cut of 3, two from the corner, 605 + 700.
    assert_eq!(
        marks(job("2400", "0", "45; square")),
        ["600", "605", "1305"]
    );
    // Behind a trimmed end there is timber beside the long point already.
    let alone = |length: &str, trim: &str| {
        let mut job = job(length, trim, "45");
        job["parts"].as_array_mut().expect("parts").remove(0);
        marks(job)
    };
    assert_eq!(alone("2400", "10"), ["10", "710"]);
    assert_eq!(alone("2400", "0"), ["2", "702"]);
    // Of 701 mm there is one beyond the part, which is no room.
    assert_eq!(alone("701", "0"), ["0", "700"]);
}
