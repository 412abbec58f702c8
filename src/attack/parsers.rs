//! Every reader of texts and files, given texts that nobody wrote for it.
//!
//! A reader must not panic and must give a reason where it refuses. What it accepts must be the same after it is written and read again. A
//! new reader is one more row of [`TARGETS`].

mod texts;

use crate::dice::Dice;
use crate::part::{Attack, Met};
use lengthwise::bench;
use lengthwise::fault::Fault;
use lengthwise::io::link::{self, Held};
use lengthwise::io::{csv, job_file, parts_table, plan_file};
use lengthwise::job::examine;
use lengthwise::length::{Decimal, Reading, Unit, exact_text, read_length, told, with_unit};
use lengthwise::mass::Mass;
use lengthwise::money::Money;
use serde_json::{Value, json};

/// A reader under attack.
struct Target {
    name: &'static str,
    /// A text for it.
    make: fn(&mut Dice) -> String,
    /// Reads it; the errors are those of [`Attack::judge`].
    judge: fn(&str) -> Result<Met, String>,
}

const TARGETS: &[Target] = &[
    Target {
        name: "length",
        make: texts::length_text,
        judge: judge_length,
    },
    Target {
        name: "money",
        make: texts::number_text,
        judge: judge_money,
    },
    Target {
        name: "mass",
        make: texts::number_text,
        judge: judge_mass,
    },
    Target {
        name: "job file",
        make: texts::job_file_text,
        judge: judge_job_file,
    },
    Target {
        name: "parts table",
        make: texts::table_text,
        judge: judge_table,
    },
    Target {
        name: "plan file",
        make: texts::plan_text,
        judge: judge_plan,
    },
    Target {
        name: "link",
        make: texts::link_text,
        judge: judge_link,
    },
    Target {
        name: "instance",
        make: texts::instance_text,
        judge: judge_instance,
    },
];

/// This part of the attack.
#[derive(Default)]
pub struct Parsers {
    turn: usize,
}

impl Attack for Parsers {
    fn make(&mut self, dice: &mut Dice) -> Value {
        self.turn += 1;
        let target = &TARGETS[self.turn % TARGETS.len()];
        json!({ "target": target.name, "text": (target.make)(dice) })
    }

    fn judge(&mut self, case: &Value) -> Result<Met, String> {
        let target = TARGETS.iter().find(|target| case["target"] == target.name);
        let target = target.ok_or("there is no such target")?;
        let text = case["text"].as_str().unwrap_or_default();
        (target.judge)(text).map_err(|why| format!("{}, {why}", target.name))
    }

    fn held(&self) -> &'static [&'static str] {
        &["target"]
    }
}

/// An error where a message is empty.
fn says(what: &str) -> Result<(), String> {
    if what.trim().is_empty() {
        return Err("refused without a word".into());
    }
    Ok(())
}

fn faults_say(faults: &[Fault]) -> Result<(), String> {
    faults.iter().try_for_each(|fault| says(&fault.to_string()))
}

/// Every way in which a bare number may be read.
fn readings() -> impl Iterator<Item = Reading> {
    let units = [
        Unit::Millimetre,
        Unit::Centimetre,
        Unit::Metre,
        Unit::Inch,
        Unit::Foot,
    ];
    units
        .into_iter()
        .flat_map(|unit| [Decimal::Point, Decimal::Comma].map(|decimal| Reading { unit, decimal }))
}

fn judge_length(text: &str) -> Result<Met, String> {
    let mut met = "lengths refused";
    for reading in readings() {
        match read_length(text, reading) {
            Ok(length) => {
                met = "lengths read";
                let written = exact_text(length, reading);
                if read_length(&written, reading) != Ok(length) {
                    return Err(format!("written otherwise: {written:?} in {reading:?}"));
                }
                if let Some(spelled) = with_unit(text, reading)
                    && read_length(&spelled, reading) != Ok(length)
                {
                    return Err(format!("spelled otherwise: {spelled:?} in {reading:?}"));
                }
            }
            Err(fault) => {
                says(&fault.to_string())?;
                says(&told(text, &fault))?;
            }
        }
    }
    Ok(vec![met])
}

fn judge_money(text: &str) -> Result<Met, String> {
    for decimal in [Decimal::Point, Decimal::Comma] {
        if let Some(amount) = Money::read(text, decimal) {
            let written = amount.show(decimal);
            if Money::read(&written, decimal) != Some(amount) {
                return Err(format!("written otherwise: {written}"));
            }
        }
    }
    Ok(vec![])
}

fn judge_mass(text: &str) -> Result<Met, String> {
    for reading in readings() {
        let _ = Mass::read(text, reading);
    }
    Ok(vec![])
}

fn judge_job_file(text: &str) -> Result<Met, String> {
    let (draft, faults) = job_file::read(text);
    faults_say(&faults)?;
    let (job, more) = examine(&draft);
    faults_say(&more)?;
    if !faults.is_empty() || !more.is_empty() {
        return Ok(vec!["jobs with faults"]);
    }
    // Written in another way, with every unit added, it is the same job.
    let value: Value = serde_json::from_str(text.trim_start_matches('\u{feff}'))
        .map_err(|error| format!("taken though it is no JSON: {error}"))?;
    let spelled = lengthwise::io::units::spell_job(&value).job;
    let (draft, faults) = job_file::read_value(&spelled);
    let (again, more) = examine(&draft);
    if let Some(fault) = faults.iter().chain(&more).next() {
        return Err(format!("spelled out it has a fault: {fault}"));
    }
    let sizes =
        |job: &lengthwise::job::Job| (job.parts.clone(), job.yard.len(), job.shed.clone(), job.saw);
    let (one, other) = (sizes(&job), sizes(&again));
    if one != other {
        return Err("spelled out it is another job".into());
    }
    Ok(vec!["jobs read"])
}

fn judge_table(text: &str) -> Result<Met, String> {
    let table = parts_table::read(text, &parts_table::Said::default());
    faults_say(&table.faults)?;
    match parts_table::read_strictly(text) {
        Err(faults) if faults.is_empty() => Err("refused without a word".into()),
        Err(faults) => faults_say(&faults).map(|()| vec!["tables with faults"]),
        Ok(parts) => {
            let written = csv::write_parts(&parts);
            let again = parts_table::read_strictly(&written);
            if !parts.is_empty() && again.as_ref() != Ok(&parts) {
                return Err(format!(
                    "written otherwise: {parts:?}, read again {again:?}"
                ));
            }
            Ok(vec!["tables read"])
        }
    }
}

fn judge_plan(text: &str) -> Result<Met, String> {
    match plan_file::read(text) {
        Err(why) => says(&why).map(|()| vec!["plans refused"]),
        Ok(plan) => {
            let written = plan_file::write(&plan);
            if plan_file::read(&written).as_ref() != Ok(&plan) {
                return Err(format!("written otherwise: {written}"));
            }
            let job = json!({ "format": "lengthwise-job", "sections": [{ "name": "post" }], "yard": [{ "length": "2.4 m" }],
                "shed": [{ "length": 900 }], "parts": [{ "label": "leg", "length": 560, "quantity": 2 }] });
            let job = crate::planned::read(&job)?;
            match lengthwise::check::check(&job, plan) {
                Ok(_) => Ok(vec!["plans that hold"]),
                Err(lies) if lies.is_empty() => Err("refused without a word".into()),
                Err(lies) => lies
                    .iter()
                    .try_for_each(|lie| says(&lie.to_string()))
                    .map(|()| vec!["plans read"]),
            }
        }
    }
}

fn judge_link(text: &str) -> Result<Met, String> {
    /// The longest text of a link, in bytes.
    const MOST: usize = 1 << 20;
    let back = |text: &str| link::unpack(&link::pack(text)) == Ok(Held::Text(text.to_owned()));
    if text.len() < MOST && !back(text) {
        return Err("a text does not come back from its link".into());
    }
    let part = |part: &String| match link::unpack(part) {
        Ok(Held::Part(part)) => Some(part),
        _ => None,
    };
    let parts: Option<Vec<_>> = link::pack_in_parts(text, 3).iter().map(part).collect();
    let parts = parts.ok_or("a part of a link is not read")?;
    if text.len() < MOST && parts.len() == 3 && link::joined(parts).as_deref() != Some(text) {
        return Err("a text does not come back from its parts".into());
    }
    match link::unpack(text) {
        Ok(Held::Text(inside)) if !back(&inside) => {
            Err("what a link carries does not come back".into())
        }
        Ok(Held::Text(_)) => Ok(vec!["links read"]),
        Ok(Held::Part(part)) if link::joined(vec![part.clone()]).is_some() && part.of > 1 => {
            Err("one part alone was read as a whole".into())
        }
        Ok(Held::Part(_)) => Ok(vec!["parts of links read"]),
        Err(_) => Ok(vec!["links refused"]),
    }
}

/// An instance that is read is solved too, for a few checks of the clock.
fn judge_instance(text: &str) -> Result<Met, String> {
    match bench::parse(text) {
        Err(why) => says(&why).map(|()| vec!["instances refused"]),
        Ok(problem) => {
            // Millions of parts are left to the timed runs.
            let parts: u64 = problem.demand.iter().map(|&count| u64::from(count)).sum();
            if parts > 10_000 {
                return Ok(vec!["instances too large to solve here"]);
            }
            let mut watch = Looks(200);
            let aims = lengthwise::solve::Aims {
                scrap: lengthwise::solve::ScrapAim::Least,
            };
            lengthwise::solve::solve(&problem, aims, &mut watch);
            Ok(vec!["instances solved"])
        }
    }
}

/// Stops the solver after this many checks of the clock.
struct Looks(u32);

impl lengthwise::solve::Watch for Looks {
    fn expired(&mut self) -> bool {
        self.0 = self.0.saturating_sub(1);
        self.0 == 0
    }

    fn better(&mut self, _: &lengthwise::solve::Progress) {}
}
