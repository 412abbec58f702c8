//! A person who does exactly what the screen at the saw says while things go wrong: parts are spoiled, and boards turn out bad, to their end or in the
//! middle. The timber in the workshop is followed here with arithmetic of its own, from the readings and the words alone. No cut may go through a part, none
//! may lie beyond the piece in hand, no part may have bad wood that was told, and what is kept has the length and the mark that were told.

use lengthwise::api;
use lengthwise::check::{Effort, check_within};
use lengthwise::io::{job_file, plan_file};
use lengthwise::job::{Job, validate};
use lengthwise::patience::{Limits, Patience};
use lengthwise::planner::{Planned, plan_job};
use lengthwise::report::{self, Side, Step, StepKind};
use serde_json::{Value, json};
use std::collections::HashMap;

/// Tenths of a millimetre: all lengths here are whole numbers of them.
type Tenths = i64;

/// Numbers that look random and are the same every time: xorshift64* of Vigna (2016).
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: i64) -> i64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        ((self.0.wrapping_mul(0x2545_f491_4f6c_dd1d) >> 33) % most as u64) as i64
    }
}

/// `640`, `640.5`, `640.5 mm` or `0.6 m` in tenths of a millimetre.
fn tenths(text: &str) -> Tenths {
    let text = text.trim_start_matches('≈');
    let (number, unit) = text.split_once(' ').unwrap_or((text, "mm"));
    let scale = match unit {
        "mm" => 10,
        "m" => 10_000,
        other => panic!("{other}: {text}"),
    };
    let (whole, rest) = number.split_once('.').unwrap_or((number, ""));
    let rest: i64 = format!("{rest:0<5}").parse().expect("decimals");
    whole.parse::<i64>().expect("a number") * scale + rest * scale / 100_000
}

/// A piece of timber in the workshop: what it is of, where on that it lies, and the bad wood that somebody has seen, on what it is of.
#[derive(Clone, Debug)]
struct Wood {
    of: usize,
    from: Tenths,
    to: Tenths,
}

#[derive(Default)]
struct Workshop {
    marked: HashMap<String, Wood>,
    bad: Vec<Vec<(Tenths, Tenths)>>,
}

#[derive(Default, Debug)]
struct Met {
    parts: usize,
    kept: usize,
    spoiled: usize,
    bad: usize,
    fresh: usize,
    bad_ends: usize,
    /// Pieces that kept a mark through a plan made again.
    stayed: usize,
}

fn one_of(dice: &mut Dice, texts: &[&str]) -> String {
    texts[dice.below(texts.len() as i64) as usize].to_owned()
}

fn made_up(dice: &mut Dice) -> Value {
    let parts: Vec<Value> = (0..2 + dice.below(3))
        .map(|at| {
            json!({ "label": format!("part {at}"), "length": (250 + dice.below(700)).to_string(), "quantity": (1 + dice.below(4)).to_string(),
                "goes": if dice.below(4) == 0 { "between others" } else { "free" } })
        })
        .collect();
    let shed: Vec<Value> = (0..2 + dice.below(3))
        .map(|at| {
            let from = 200 + dice.below(900);
            let bad = match dice.below(2) {
                0 => String::new(),
                _ => format!("{from}..{}", from + 20 + dice.below(300)),
            };
            json!({ "mark": format!("S{at}"), "length": (1_500 + dice.below(1_200)).to_string(), "bad": bad, "trim": one_of(dice, &["0", "10", "50"]) })
        })
        .collect();
    json!({
        "format": "lengthwise-job", "version": 1, "step": one_of(dice, &["0.5", "1"]),
        "saw": { "kerf": one_of(dice, &["2.4", "3"]), "keep": "300" },
        "sections": [{ "name": "batten", "trim": "10" }],
        "yard": [{ "length": "2400" }, { "length": "3600" }],
        "shed": shed, "parts": parts,
    })
}

fn read(job: &Value) -> Job {
    let (draft, faults) = job_file::read_value(job);
    assert!(faults.is_empty(), "{faults:?}");
    validate(&draft).unwrap_or_else(|faults| panic!("{faults:?}: {job}"))
}

fn asked(action: &str, request: &Value) -> Value {
    let reply: Value =
        serde_json::from_str(&api::call(action, &request.to_string())).expect("a reply");
    assert_eq!(reply["error"], Value::Null, "{action}");
    reply
}

/// The tenths in a text such as `from the end it came with, or 640 mm from the fresh end`.
fn from_the_fresh_end(step: &Step) -> Option<Tenths> {
    let (came, fresh) = step.hooked.split_once(", or ")?;
    assert_eq!(came, "from the end it came with");
    Some(tenths(
        fresh.strip_suffix(" from the fresh end").expect("an end"),
    ))
}

/// What is said to be kept of a board, with the marks to write: lengths by mark.
fn told_marks(request: &Value, board: usize) -> Vec<(String, Tenths)> {
    let reply = asked("finish", request);
    let boards = reply["boards"].as_array().expect("boards");
    let rows = reply["shed"].as_array().expect("a shed").iter().zip(boards);
    rows.filter(|(_, of)| **of == json!(board))
        .map(|(row, _)| {
            let text = |name: &str| row[name].as_str().expect("a text").to_owned();
            (text("mark"), tenths(&text("length")))
        })
        .collect()
}

/// One board at the saw.
struct Bench<'a> {
    shop: &'a mut Workshop,
    hand: Wood,
    kerf: Tenths,
    step: Tenths,
    /// Where the tape was hooked when the lines were marked.
    hooked: Tenths,
    /// Whether each part is cut from the fresh end, where the screen has a reading for that.
    as_he_goes: bool,
    /// By how much cuts from the fresh end lie before their marks at most.
    before: Tenths,
}

impl Bench<'_> {
    /// Makes one cut and returns the piece that comes off.
    fn cut(&mut self, step: &Step, met: &mut Met) -> Wood {
        let mark = self.hooked + tenths(&step.reading);
        let at = match from_the_fresh_end(step).filter(|_| self.as_he_goes) {
            Some(fresh) => {
                met.fresh += 1;
                let at = self.hand.from + fresh;
                assert!(at <= mark, "{step:?}: {at} is beyond the mark at {mark}");
                self.before = self.before.max(mark - at);
                at
            }
            None => mark,
        };
        // A reading is printed to a step of the tape.
        let near = self.step;
        assert!(at >= self.hand.from, "{step:?}: before {:?}", self.hand);
        assert!(
            at <= self.hand.to + near,
            "{step:?}: beyond {:?}",
            self.hand
        );
        let (end, start) = match step.side {
            Side::Datum => (at - self.kerf, at),
            Side::Far => (at, at + self.kerf),
            Side::Neither => (self.hand.to, self.hand.to),
        };
        let off = Wood {
            to: end.min(self.hand.to),
            ..self.hand.clone()
        };
        self.hand.from = start.min(self.hand.to);
        off
    }

    fn is_sound(&self, wood: &Wood, near: Tenths) -> bool {
        let mut bad = self.shop.bad[wood.of].iter();
        bad.all(|&(from, to)| wood.to <= from + near || wood.from >= to - near)
    }

    fn part(&self, wood: &Wood, step: &Step, job: &Value, met: &mut Met) {
        let wanted = job["parts"].as_array().expect("parts").iter();
        let mut wanted = wanted.filter(|part| part["label"] == *step.label);
        let wanted = wanted.next().expect("a part");
        let length = tenths(wanted["length"].as_str().expect("a length"));
        let made = wood.to - wood.from;
        let between = wanted["goes"] == "between others";
        if step.miss.is_empty() {
            let over = made - length;
            let near = self.step + self.before;
            let (least, most) = if between {
                (-near, self.before)
            } else {
                (0, near)
            };
            assert!(
                (least..=most).contains(&over),
                "{step:?}: {over} over, {wood:?}"
            );
        }
        assert!(
            self.is_sound(wood, 0),
            "{step:?}: bad wood in {wood:?}: {:?}",
            self.shop.bad[wood.of]
        );
        met.parts += 1;
    }
}

/// Builds a piece to the end; what went wrong on the way is planned around.
fn build(dice: &mut Dice, met: &mut Met) {
    let first = made_up(dice);
    let mut job = first.clone();
    let mut shop = Workshop::default();
    for row in first["shed"].as_array().expect("a shed") {
        let text = |name: &str| row[name].as_str().expect("a text");
        let wood = Wood {
            of: shop.bad.len(),
            from: 0,
            to: tenths(text("length")),
        };
        let bad = text("bad")
            .split_once("..")
            .map(|(from, to)| (tenths(from), tenths(to)));
        shop.marked.insert(text("mark").to_owned(), wood);
        shop.bad.push(bad.into_iter().collect());
    }
    let mut troubles = 2 + dice.below(3);
    let mut new = 0;
    while let Some(next) = follow(
        &first,
        &job,
        &mut shop,
        (&mut troubles, &mut new),
        (dice, met),
    ) {
        job = next;
        if job["parts"].as_array().expect("parts").is_empty() {
            return;
        }
    }
}

/// Cuts a plan until something goes wrong; returns what is left to plan then.
fn follow(
    first: &Value,
    typed: &Value,
    shop: &mut Workshop,
    (troubles, new): (&mut i64, &mut usize),
    (dice, met): (&mut Dice, &mut Met),
) -> Option<Value> {
    let job = read(typed);
    let mut hear = |_: &_| ();
    let planned = plan_job(
        &job,
        &mut Patience::new(Limits::asks(40), &|| 0.0, &mut hear),
    );
    let Planned::Found(plan) = planned else {
        panic!("{planned:?}: {typed}");
    };
    let checked = check_within(&job, plan, Effort::NONE).expect("a plan that holds");
    let report = report::build(&job, &checked);
    let kerf = tenths(first["saw"]["kerf"].as_str().expect("a kerf"));
    let step_of = tenths(first["step"].as_str().expect("a step"));
    let plan = plan_file::write(checked.plan());
    let plan: Value = serde_json::from_str(&plan).expect("a plan file");
    let mut boards: Vec<Value> = Vec::new();
    for (index, board) in report.boards.iter().enumerate() {
        let mark = match board.mark.is_empty() {
            false => board.mark.clone(),
            true => {
                *new += 1;
                let mark = format!("N{new}");
                let wood = Wood {
                    of: shop.bad.len(),
                    from: 0,
                    to: tenths(&board.length),
                };
                shop.marked.insert(mark.clone(), wood);
                shop.bad.push(Vec::new());
                mark
            }
        };
        let hand = shop
            .marked
            .remove(&mark)
            .unwrap_or_else(|| panic!("no {mark}"));
        let near = tenths(&board.length) - (hand.to - hand.from);
        assert!(
            (-60..=0).contains(&near),
            "{mark}: told {} of {hand:?}",
            board.length
        );
        let mut bench = Bench {
            shop,
            hooked: hand.from,
            hand,
            kerf,
            step: step_of,
            as_he_goes: dice.below(2) == 0,
            before: 0,
        };
        boards.push(json!({ "board": index, "steps": 0, "cut": 0, "spoiled": [], "mark": mark }));
        let mut kept: Vec<(String, Wood)> = Vec::new();
        let mut parts = 0;
        for (done, step) in board.steps.iter().enumerate() {
            assert_ne!(step.kind, StepKind::Rip);
            let off = bench.cut(step, met);
            boards[index]["steps"] = (done + 1).into();
            let request = |boards: &[Value]| json!({ "job": typed, "plan": plan, "progress": { "boards": boards, "bought": [], "missing": [] } });
            let told = told_marks(&request(&boards), index);
            let is_part = !step.part_length.is_empty();
            if is_part {
                parts += 1;
                bench.part(&off, step, first, met);
            } else if step.side == Side::Far {
                met.bad_ends += usize::from(step.label == "cut the bad end off");
                let fits = |(_, length): &&(String, Tenths)| {
                    (0..step_of + bench.before + 1).contains(&(off.to - off.from - length))
                };
                let named = told
                    .iter()
                    .filter(fits)
                    .find(|(mark, _)| !kept.iter().any(|(own, _)| own == mark));
                let (mark, _) =
                    named.unwrap_or_else(|| panic!("{step:?}: {off:?} is not among {told:?}"));
                assert!(
                    bench.is_sound(&off, step_of + bench.before)
                        || step.label != "cut the bad end off"
                );
                kept.push((mark.clone(), off.clone()));
                met.kept += 1;
            }
            if *troubles == 0 || dice.below(6) > 0 {
                continue;
            }
            *troubles -= 1;
            let mut entry = boards[index].clone();
            let hand = bench.hand.clone();
            if is_part && dice.below(2) == 0 {
                met.spoiled += 1;
                entry["spoiled"] = json!([parts - 1]);
            } else if hand.to - hand.from > 1_000 {
                met.bad += 1;
                let whole = (hand.to - hand.from) / 10;
                let from = dice.below(whole - 1);
                entry["bad_from"] = from.to_string().into();
                let asked = asked(
                    "in_hand",
                    &json!({ "job": typed, "plan": plan, "board": index, "progress": { "boards": [entry] } }),
                );
                assert_eq!(asked["fault"], Value::Null);
                assert_eq!(asked["hooked"], "the fresh end");
                let told = tenths(asked["length"].as_str().expect("a length"));
                assert!(
                    (0..step_of + bench.before + 1).contains(&(hand.to - hand.from - told)),
                    "{asked}: {hand:?}"
                );
                let to = (from + 20 + dice.below(400)).min(whole);
                let ends = dice.below(2) == 0 || to == whole;
                if !ends {
                    entry["bad_to"] = to.to_string().into();
                }
                let to = if ends { hand.to } else { hand.from + to * 10 };
                bench.shop.bad[hand.of].push((hand.from + from * 10, to));
            } else {
                continue;
            }
            boards[index] = entry;
            let left = asked("remaining", &request(&boards));
            again(&left, shop, (&mark, hand, kept), step_of, met);
            return Some(left["job"].clone());
        }
        let hand = bench.hand.clone();
        kept.retain(|(_, wood)| wood.to > wood.from);
        // What is left in hand is kept where it is told to be.
        let request = json!({ "job": typed, "plan": plan, "progress": { "boards": boards, "bought": [], "missing": [] } });
        for (mark, length) in told_marks(&request, index) {
            if kept.iter().any(|(own, _)| *own == mark) {
                continue;
            }
            let over = hand.to - hand.from - length;
            assert!(
                (0..step_of + 60).contains(&over),
                "{mark} of {length}: {hand:?}"
            );
            kept.push((mark, hand.clone()));
        }
        shop.marked.extend(kept);
    }
    None
}

/// The new plan's boards are those in the workshop: what was told to be kept has the mark that was told, and what is in hand gets one of its own.
fn again(
    left: &Value,
    shop: &mut Workshop,
    (mark, hand, kept): (&str, Wood, Vec<(String, Wood)>),
    step: Tenths,
    met: &mut Met,
) {
    let stem = mark.split('-').next().expect("a stem");
    shop.marked.extend(kept.iter().cloned());
    let rows = left["job"]["shed"].as_array().expect("a shed");
    for (mark, wood) in &kept {
        let row = rows.iter().find(|row| row["mark"] == **mark);
        let row = row.unwrap_or_else(|| panic!("{mark} is gone: {rows:?}"));
        let length = tenths(row["length"].as_str().expect("a length"));
        let over = wood.to - wood.from - length;
        assert!(
            (-step..step + 60).contains(&over),
            "{mark} of {length}: {wood:?}"
        );
        met.stayed += 1;
    }
    for row in rows {
        let own = row["mark"].as_str().expect("a mark");
        let length = tenths(row["length"].as_str().expect("a length"));
        if shop.marked.contains_key(own) || !own.starts_with(stem) {
            continue;
        }
        let over = hand.to - hand.from - length;
        if (-step..60).contains(&over) {
            shop.marked.insert(own.to_owned(), hand.clone());
        }
    }
}

#[test]
fn whoever_cuts_what_the_screen_says_while_things_go_wrong_cuts_no_part_and_keeps_what_is_told() {
    let mut dice = Dice(77);
    let mut met = Met::default();
    for _ in 0..300 {
        build(&mut dice, &mut met);
    }
    println!("{met:?}");
    let least = [
        met.parts,
        met.kept,
        met.spoiled,
        met.bad,
        met.fresh,
        met.bad_ends,
        met.stayed,
    ];
    assert!(least.iter().all(|met| *met > 10), "{met:?}");
}
