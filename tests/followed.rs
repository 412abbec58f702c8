//! A person who does just what the saw sheet says: what comes off the boards is measured here from the table of the sheet and the
//! job as written, with arithmetic of its own. No part may come out short, or too long to go between others, without having been told; every
//! slanted end must come out by turning the board as it is said; and what goes back to the shed must be the timber that is really left.
//!
//! The jobs of `fixtures/sheets` are some whose sheets, followed so, once made wrong parts or told wrong rests.

#[path = "followed/rests.rs"]
mod rests;

use lengthwise::check::{Effort, check_within};
use lengthwise::io::csv::rows as cells;
use lengthwise::io::job_file;
use lengthwise::job::{Fitting, Job, PartEnd, Turnable, validate};
use lengthwise::patience::{Limits, Patience};
use lengthwise::planner::{Planned, plan_job};
use lengthwise::report::{self, csv};
use serde_json::{Value, json};
use std::collections::HashMap;

/// Ticks in a millimetre and in an inch: 1 in = 25.4 mm (international yard and pound agreement, 1959).
const MILLIMETRE: i64 = 3_200;
const INCH: i64 = 81_280;

/// `123.5`, `1,85 m`, `50 1/2"`, `3' 4 1/2"`, `≈12`, in ticks; a bare number is in the unit of the job.
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

/// What was found when the sheets of a job were followed.
#[derive(Default)]
struct Found {
    parts: usize,
    told: usize,
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
    let mut came_off: HashMap<usize, u32> = HashMap::new();
    let table = rows(&csv::saw(&report));
    for (index, planned) in checked.plan().boards.iter().enumerate() {
        let number = (index + 1).to_string();
        let steps: Vec<_> = table.iter().filter(|row| row["board"] == number).collect();
        let (section, length, bad) = match planned.source {
            lengthwise::plan::Source::Yard(line) => {
                (job.yard[line].section, job.yard[line].length, Vec::new())
            }
            lengthwise::plan::Source::Shed(shed) => {
                let board = &job.shed[shed];
                (board.section, board.length, board.bad.clone())
            }
        };
        let width = job.sections[section].width.unwrap_or_default();
        // The piece in hand: where it starts and ends on the board as it came, and from where on it is not cut yet.
        let (mut start, mut end, mut at) = (0, length.ticks(), 0);
        let mut yard: Option<i64> = None;
        let mut hand = String::new();
        let mut saw = Saw::default();
        let mut left = rests::Real::of(job, planned.source);
        for step in steps {
            let reading = ticks(job, &step["reading"]);
            let kerf = job.saw.kerf.ticks();
            if step["kind"] == "yard_cut" {
                yard = Some(reading);
                left.yard_cut(reading);
                assert!(step["rounded"].is_empty(), "board {number}: the yard's cut");
                let carry = job.carry.expect("a limit to what is carried").ticks();
                assert!(reading <= carry && length.ticks() - reading - kerf <= carry);
                continue;
            }
            if step["tape"] != hand {
                hand = step["tape"].clone();
                let cut = yard.expect("the yard's cut comes first");
                (start, end) = match hand.starts_with("first") {
                    true => (0, cut),
                    false => (cut + kerf, length.ticks()),
                };
                at = start;
                left.hand(usize::from(!hand.starts_with("first")));
                saw = Saw::default();
            }
            let mark = start + reading;
            if !step["side"].is_empty() {
                assert!(mark <= end, "board {number}: a mark beyond the timber");
            }
            saw.cut(step, job.sections[section].turnable);
            // A to Z, then AA and so on: the lines of the cutting list in order. Two lines may have one label.
            let letters = step["letter"].bytes();
            let number = letters.fold(0, |number, letter| {
                number * 26 + usize::from(letter - b'A') + 1
            });
            let part = number.checked_sub(1);
            assert!(part.is_none_or(|part| job.parts[part].label == step["label"]));
            let Some(part) = part else {
                if step["kind"] == "finish" {
                    left.freed(mark);
                }
                at = match step["side"].as_str() {
                    "saw on the datum side of the mark" => mark,
                    "saw on the far side of the mark" => mark + kerf,
                    other => panic!("{other}"),
                };
                left.cut_to(at, 0);
                continue;
            };
            let wanted = &job.parts[part];
            let set = ticks(job, &step["part length"]) - wanted.length.ticks();
            match wanted.fitting {
                Fitting::Free => assert!((0..job.step.ticks()).contains(&set), "{}", step["label"]),
                Fitting::Between => {
                    assert!(
                        (1 - job.step.ticks()..=0).contains(&set),
                        "{}",
                        step["label"]
                    );
                }
            }
            let idle = step["side"].is_empty();
            let to = if idle { end } else { mark };
            let made = to - at;
            for stretch in &bad {
                let clear = to <= stretch.from.ticks() || at >= stretch.to.ticks();
                assert!(clear, "board {number}: a part in a bad stretch");
            }
            assert!(
                to <= end && at >= start,
                "board {number}: a part beyond its piece"
            );
            let over = made - wanted.length.ticks();
            let step_of_tape = job.step.ticks();
            let good = match wanted.fitting {
                Fitting::Free => (0..step_of_tape).contains(&over),
                Fitting::Between => (1 - step_of_tape..=0).contains(&over),
            };
            assert_eq!(
                good,
                step["misses"].is_empty(),
                "board {number}, {}: {} ticks over, told: {:?}",
                step["label"],
                over,
                step["misses"]
            );
            found.parts += 1;
            found.told += usize::from(!good);
            *came_off.entry(part).or_default() += 1;
            // What the cut takes, and what the next part starts with of it.
            let cut = match step["kind"].as_str() {
                "mitre" => {
                    let angle = wanted.ends.iter().find_map(|end| match end {
                        PartEnd::Mitre(angle) => Some(*angle),
                        PartEnd::Square => None,
                    });
                    let angle = angle.expect("a mitred end");
                    let shared = step["hint"].contains("one cut for this end");
                    let slant = if shared {
                        angle.saving(width).ticks()
                    } else {
                        0
                    };
                    angle.kerf(job.saw.kerf).ticks() - slant
                }
                _ => kerf,
            };
            at = to + cut;
            let slant = match step["kind"].as_str() {
                "mitre" => rests::slant(&step["turn"], width),
                _ => 0,
            };
            match idle {
                true => left.all_used(),
                false => left.cut_to(to + rests::taken(&step["turn"], job.saw.kerf), slant),
            }
        }
        let told: Vec<_> = report
            .back_to_shed
            .iter()
            .filter(|row| row.board == Some(index))
            .map(|row| (ticks(job, &row.length), row.flaws.contains("bad from")))
            .collect();
        assert_eq!(told, left.kept(), "board {number} of {:?}", job.piece);
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

/// The saw and the board as they are set for slanted cuts. The saw stays as it is set first; seen from the person, turning the board over makes the
/// same setting lean the other way.
#[derive(Default)]
struct Saw {
    /// Which way the setting leans, and the angle it is set to.
    set: Option<(bool, String)>,
    turned: bool,
}

impl Saw {
    /// Does what a step says of a slanted cut, and holds what comes out against what is wanted: the mark is on the edge of the long point.
    fn cut(&mut self, step: &HashMap<String, String>, turnable: Turnable) {
        if step["kind"] != "mitre" {
            return;
        }
        let (angle, way) = step["turn"].split_once(", ").expect("an angle and a way");
        let leans = (step["side"] == "saw on the far side of the mark")
            == (step["long edge"] == "long point on the far edge");
        match way {
            "this way first" => assert!(self.set.is_none(), "{way} again"),
            "as before, do not turn" => {
                let set = self.set.as_ref().map(|(_, angle)| angle.as_str());
                assert_eq!(set, Some(angle), "as before, at another angle");
            }
            "the same way, do not turn" => {}
            "turn the board over, datum end where it is, or swing the saw to the other side" => {
                assert_eq!(turnable, Turnable::Yes);
                self.turned = !self.turned;
            }
            "swing the saw to the other side, do not turn the board" => {
                let (set, _) = self.set.as_mut().expect("a saw that is set");
                *set = !*set;
            }
            other => panic!("{other}"),
        }
        let set = self.set.as_ref().map_or(leans, |(set, _)| *set);
        assert_eq!(
            set != self.turned,
            leans,
            "{angle}, {way}: the cut leans the wrong way"
        );
        self.set = Some((set, angle.to_owned()));
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
            json!({
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
    }
    job
}

#[test]
fn whoever_follows_the_sheets_of_made_up_jobs_gets_no_part_short_without_a_word() {
    let mut dice = Dice(11);
    let mut found = Found::default();
    for _ in 0..150 {
        follow(&read(&made_up(&mut dice)), &mut found);
    }
    assert!(found.parts > 1_000, "{} parts", found.parts);
    // Where a board is full to the last tenth there is no room; that is seldom.
    assert!(
        found.told * 20 < found.parts,
        "{} of {}",
        found.told,
        found.parts
    );
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

/// What is left of the boards of an example, as the sheet says it, and what goes back to the shed.
fn told(name: &str) -> (Vec<String>, Vec<String>) {
    let text = std::fs::read_to_string(format!("fixtures/sheets/{name}.json")).expect("a job");
    let job = read(&serde_json::from_str(&text).expect("JSON"));
    let report = reported(&job);
    let offcuts = report.boards.iter().flat_map(|board| &board.offcuts);
    let back = report.back_to_shed.iter();
    (
        offcuts.map(|offcut| offcut.text.clone()).collect(),
        back.map(|row| {
            [&row.mark[..], &row.length, &row.flaws]
                .join(" ")
                .trim()
                .to_owned()
        })
        .collect(),
    )
}

#[test]
fn an_offcut_between_two_bad_stretches_is_cut_off_at_both_its_ends() {
    let text = std::fs::read_to_string("fixtures/sheets/an-offcut-between-two-bad-stretches.json");
    let steps = sheet(&serde_json::from_str(&text.expect("a job")).expect("JSON"));
    let readings: Vec<_> = steps
        .iter()
        .map(|(kind, reading, _)| (&kind[..], &reading[..]))
        .collect();
    // Bad from 100 to 140 and from 600 to 640: 460 clear between them.
    let cuts = [
        ("bad", "140"),
        ("finish", "600"),
        ("bad", "640"),
        ("cut", "1640"),
    ];
    assert_eq!(readings, cuts);
    let (offcuts, back) = told("an-offcut-between-two-bad-stretches");
    // 1700 - 1640 - 2.4 = 57.6, and a tape of half millimetres shows 57.5 of it.
    assert_eq!(
        offcuts,
        [
            "100 mm left from 0, scrap",
            "460 mm left from 140, keep it",
            "57.5 mm left from 1642.5, scrap"
        ]
    );
    assert_eq!(back, ["S-2 460 mm"]);
}

#[test]
fn what_is_left_of_a_carried_piece_is_read_from_its_own_start_and_told_alike_everywhere() {
    // The yard cuts at 1951, so 3000 - 1951 - 2.4 = 1046.6 are left; at 1955 and with whole millimetres 1042.6.
    for (name, length) in [
        (
            "a-first-carried-piece-that-nothing-is-cut-from",
            "1046.5 mm",
        ),
        ("a-second-carried-piece-that-goes-back", "1042 mm"),
    ] {
        let (offcuts, back) = told(name);
        assert_eq!(
            offcuts,
            [format!(
                "{length} left from 0 of the second carried piece, keep it"
            )]
        );
        assert_eq!(back, [format!("A {length}")]);
    }
}

#[test]
fn a_rest_that_is_scrap_on_the_sheet_does_not_go_back() {
    for path in std::fs::read_dir("fixtures/sheets").expect("the examples") {
        let name = path.expect("an example").path();
        let (offcuts, back) = told(
            name.file_stem()
                .and_then(|name| name.to_str())
                .expect("a name"),
        );
        let kept = offcuts
            .iter()
            .filter(|text| text.contains("keep it"))
            .count();
        assert_eq!(kept, back.len(), "{}", name.display());
        assert!(
            !offcuts
                .iter()
                .any(|text| text.starts_with("0 ") || text.starts_with("0\"")),
            "{offcuts:?}"
        );
    }
}

#[test]
fn a_bad_stretch_in_what_goes_back_is_told_however_short_it_is() {
    // 1010 - 492 = 518 go back, and the millimetre from 636 to 637 is inside them: 640 - 490 = 150 at most from the start of the rest.
    let job = read(&json!({
        "format": "lengthwise-job", "version": 1, "step": "10", "saw": { "kerf": "2", "keep": "300" },
        "sections": [{ "name": "lath", "trim": "0" }],
        "shed": [{ "mark": "A", "length": "1010", "bad": "636..637", "trim": "0" }], "parts": [{ "label": "bar", "length": "490" }],
    }));
    let report = reported(&job);
    assert_eq!(
        report.boards[0].offcuts[0].text,
        "510 mm left from 490, keep it, bad from 630 to 640"
    );
    let row = &report.back_to_shed[0];
    assert_eq!(
        (&row.length[..], &row.flaws[..]),
        ("510 mm", "bad from 140 to 150")
    );
}

#[test]
fn nothing_is_said_of_a_rest_where_nothing_is_left() {
    // 10 + 1190 = 1200, and the cut of 10 ends with the board: nothing is left beyond the last part to hold or to throw away.
    let job = read(&json!({
        "format": "lengthwise-job", "version": 1, "saw": { "kerf": "10", "keep": "300" },
        "sections": [{ "name": "lath", "trim": "0" }],
        "shed": [{ "mark": "A", "length": "1210", "trim": "0" }], "parts": [{ "label": "bar", "length": "1200" }],
    }));
    let report = reported(&job);
    assert_eq!(report.boards[0].offcuts, []);
    assert_eq!(report.boards[0].steps[0].hint, "");
}

#[test]
fn a_piece_that_ends_with_its_part_is_called_a_piece_and_a_board_a_board() {
    let ends = |carry: &str, length: &str| {
        let job = json!({
            "format": "lengthwise-job", "version": 1, "carry": carry, "saw": { "kerf": "3" }, "sections": [{ "name": "rail", "trim": "0" }],
            "yard": [{ "length": length }], "parts": [{ "label": "p", "length": "900", "quantity": 2 }],
        });
        let hint = reported(&read(&job)).boards[0]
            .steps
            .last()
            .map(|step| step.hint.clone());
        hint.expect("a step")
    };
    assert_eq!(ends("1200", "1803"), "nothing to cut: the piece ends here");
    assert_eq!(ends("2000", "1803"), "nothing to cut: the board ends here");
}

#[test]
fn the_table_of_the_saw_sheet_says_how_to_mark_what_to_mind_with_a_board_and_what_is_left_of_it() {
    let text = std::fs::read_to_string("fixtures/sheets/an-offcut-between-two-bad-stretches.json");
    let job = read(&serde_json::from_str(&text.expect("a job")).expect("JSON"));
    let table = rows(&csv::saw(&reported(&job)));
    let column = |name: &str| {
        table
            .iter()
            .map(|row| row[name].clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(column("how to mark"), [report::MARKING, "", "", ""]);
    let minded = column("mind with the board");
    assert!(
        minded[0].starts_with("Mark the bad stretches first"),
        "{minded:?}"
    );
    assert_eq!(minded[1..], ["", "", ""]);
    let left =
        "100 mm left from 0, scrap; 460 mm left from 140, keep it; 57.5 mm left from 1642.5, scrap";
    assert_eq!(column("left of the board"), ["", "", "", left]);
}

/// The saw sheet of a job's first board: kind, reading and what is said of the turn, step by step.
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
        "format": "lengthwise-job", "version": 1, "carry": "1200", "saw": { "kerf": "3" }, "sections": section,
        "yard": [{ "length": "1803", "price": "1" }], "parts": [{ "label": "p", "length": "900", "quantity": "2", "ends": "45" }],
    });
    for (job, mitres) in [(whole, 2), (carried, 4)] {
        let steps = sheet(&job);
        let sawn = steps
            .iter()
            .filter(|(kind, _, turn)| kind == "mitre" && turn.contains("saw at 45"));
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
