//! One part of the attack, case after case until its time is up. It runs in a process of its own.
//!
//! A process does not survive a stack overflow, a lack of memory or a case that never ends. So each case is written down before it is
//! judged, and the parent reports that case.

use crate::dice::Dice;
use crate::part::{Attack, Met};
use crate::parts::Part;
use crate::places::Places;
use crate::shrink;
use lengthwise::bench::Stopwatch;
use serde_json::{Value, json};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::{Duration, Instant};

/// Most seconds of work for one case. The limit is far beyond what is promised, since this build is slower.
const TOO_LONG: f64 = 20.0;

/// Most kinds of failure that are written to files; more would help nobody.
const MOST_FILES: usize = 20;

/// The results of a part.
#[derive(Default)]
pub struct Counts {
    /// How many cases were judged.
    pub cases: u64,
    /// How many of them the engine got wrong.
    pub finds: u64,
    /// One failure of each kind: what is wrong, and the file that shows it.
    pub told: Vec<String>,
    /// Events met in cases, and how often.
    pub met: BTreeMap<String, u64>,
}

impl Counts {
    /// The results as a line that the parent process reads.
    pub fn line(&self) -> String {
        json!({ "cases": self.cases, "finds": self.finds, "told": self.told, "met": self.met })
            .to_string()
    }

    /// Reads such a line.
    pub fn read(line: &str) -> Option<Counts> {
        let value: Value = serde_json::from_str(line).ok()?;
        let told = value["told"].as_array()?.iter();
        let met = value["met"].as_object()?.iter();
        Some(Counts {
            cases: value["cases"].as_u64()?,
            finds: value["finds"].as_u64()?,
            told: told
                .filter_map(|text| text.as_str().map(str::to_owned))
                .collect(),
            met: met
                .filter_map(|(name, count)| Some((name.clone(), count.as_u64()?)))
                .collect(),
        })
    }
}

thread_local! {
    static PANIC: RefCell<String> = const { RefCell::new(String::new()) };
}

/// Notes panics instead of printing them.
pub fn note_panics() {
    std::panic::set_hook(Box::new(|info| {
        let place = info.location().map(ToString::to_string).unwrap_or_default();
        let what = info.payload_as_str().unwrap_or("something that is no text");
        PANIC.with(|panic| *panic.borrow_mut() = format!("panic at {place}: {what}"));
    }));
}

/// Judges a case; a panic is an error too.
pub fn judged(attack: &mut dyn Attack, case: &Value) -> Result<Met, String> {
    let watch = Stopwatch::start();
    let met = catch_unwind(AssertUnwindSafe(|| attack.judge(case)))
        .unwrap_or_else(|_| Err(PANIC.with(|panic| panic.borrow().clone())))?;
    let took = watch.seconds();
    if took > TOO_LONG {
        return Err(format!("took too long: {took:.0} s"));
    }
    Ok(met)
}

/// The kind of a failure: its text without numbers; for a panic its place in the source alone.
fn kind(why: &str) -> String {
    if why.starts_with("panic at ") {
        return why.split(": ").next().unwrap_or(why).to_owned();
    }
    let words = why.chars().filter(|sign| !sign.is_ascii_digit());
    words.take(160).collect()
}

/// Attacks for this many seconds.
pub fn run(part: &Part, seconds: f64, seed: u64, places: &Places) -> Counts {
    let until = Instant::now() + Duration::from_secs_f64(seconds);
    let mut attack = (part.open)();
    let mut dice = Dice::new(seed);
    let mut counts = Counts::default();
    let mut known: Vec<String> = Vec::new();
    let mut kept = places.kept(part.name).into_iter();
    while Instant::now() < until {
        // Cases kept from earlier failures come first.
        let case = match kept.next() {
            Some((_, case)) => case,
            None => attack.make(&mut dice),
        };
        places.begin(part.name, &case);
        counts.cases += 1;
        match judged(attack.as_mut(), &case) {
            Ok(met) => {
                for name in met {
                    *counts.met.entry(name.to_owned()).or_default() += 1;
                }
            }
            Err(why) => {
                counts.finds += 1;
                let kind = kind(&why);
                if !known.contains(&kind) && known.len() < MOST_FILES {
                    counts
                        .told
                        .push(told(part, attack.as_mut(), &case, &kind, places));
                    known.push(kind);
                }
            }
        }
    }
    places.end(part.name);
    counts
}

/// Writes a failing case to a file, made as small as possible; returns the message about it.
fn told(part: &Part, attack: &mut dyn Attack, case: &Value, sort: &str, places: &Places) -> String {
    let mut why = String::new();
    let held = attack.held();
    let case = shrink::smaller(case, held, |case| match judged(attack, case) {
        Err(now) if kind(&now) == sort => {
            why = now;
            true
        }
        _ => false,
    });
    if let Err(now) = judged(attack, &case) {
        why = now;
    }
    let file = places.write_find(part.name, &why, &case);
    format!("{why}\n    {file}")
}
