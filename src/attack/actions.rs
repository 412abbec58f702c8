//! Sends every action of the page's engine requests that have all the fields it needs and are then spoiled.
//!
//! The names are read from the sources of the actions, so a new action is attacked as soon as it exists.

use crate::dice::Dice;
use crate::job_files;
use crate::jobs;
use crate::mutate::{hostile_text, hostile_value, spoil};
use crate::part::{Attack, Met};
use crate::planned;
use lengthwise::io::plan_file;
use lengthwise::planner::Planned;
use serde_json::{Value, json};

/// The source in which actions are told apart by name.
const SOURCE: &str = include_str!("../api/actions.rs");

/// The action that plans, which has an entry point of its own.
const PLAN: &str = "plan";

/// The action that answers other programs with a whole plan.
const ANSWER: &str = "answer";

/// This part of the attack.
pub struct Actions;

impl Attack for Actions {
    fn make(&mut self, dice: &mut Dice) -> Value {
        let mut names = names();
        names.push(PLAN);
        let action = dice.one_of(&names);
        let mut request = request(dice);
        for _ in 0..dice.below(4) {
            spoil(dice, &mut request);
        }
        json!({ "action": action, "request": request })
    }

    fn judge(&mut self, case: &Value) -> Result<Met, String> {
        let action = case["action"].as_str().unwrap_or_default();
        let request = limited(action, &case["request"]);
        let reply = if action == PLAN {
            let clock = || 0.0;
            lengthwise::api::plan(&request, &clock, &mut |progress| {
                debug_assert!(
                    serde_json::from_str::<Value>(progress).is_ok(),
                    "progress is JSON"
                );
            })
        } else {
            lengthwise::api::call(action, &request)
        };
        let reply: Value = serde_json::from_str(&reply)
            .map_err(|error| format!("{action} does not answer in JSON: {error}"))?;
        if !reply.is_object() {
            return Err(format!("{action} does not answer with an object: {reply}"));
        }
        match reply.get("error") {
            None => Ok(vec!["answered"]),
            // A plan in the request may well be false; a plan that was just made may not.
            Some(Value::String(why)) if action == PLAN && why.contains("our error") => {
                Err(format!("{action} made an error of ours: {reply}"))
            }
            Some(Value::String(why)) if !why.trim().is_empty() => Ok(vec!["refused"]),
            Some(_) => Err(format!("{action} refuses without a word")),
        }
    }

    fn held(&self) -> &'static [&'static str] {
        &["action"]
    }
}

/// The names of the actions, as their source has them.
fn names() -> Vec<&'static str> {
    let lines = SOURCE.lines().filter_map(|line| {
        let (name, rest) = line.trim().strip_prefix('"')?.split_once('"')?;
        rest.trim_start().starts_with("=>").then_some(name)
    });
    lines.collect()
}

/// Most clock checks that a case has time for.
const MOST_LOOKS: u64 = 300;

/// The request with no more clock checks than a case has time for: its clock stands still, so nothing else would end its work.
fn limited(action: &str, request: &Value) -> String {
    let mut request = request.clone();
    let field = if action == ANSWER { "looks" } else { "asks" };
    if let Some(request) = request.as_object_mut() {
        let asked = request.get(field).and_then(Value::as_u64);
        let most = asked.unwrap_or(MOST_LOOKS).min(MOST_LOOKS);
        request.insert(field.into(), most.into());
    }
    request.to_string()
}

/// A request with every field that any action reads.
fn request(dice: &mut Dice) -> Value {
    let job = if dice.once_in(3) {
        job_files::job(dice)
    } else {
        jobs::job(dice)
    };
    let other = jobs::job(dice);
    let plan = plan_of(&job);
    let progress = progress(dice);
    json!({
        "job": job,
        "jobs": [job, other],
        "plan": plan,
        "plans": [plan],
        "part": plan,
        "group": dice.between(0, 1),
        "asks": dice.between(1, 300),
        "looks": [{ "how": dice.one_of(&["whole", "apart", "views"]), "corner": dice.between(0, 3) }, { "how": "views" }],
        "progress": progress,
        "times": [{ "job": job, "progress": progress }],
        "taken": ["A", "S1", hostile_text(dice)],
        "line": dice.between(0, 3),
        "text": dice.one_of(&["1200", "47 1/4\"", "label,length\nleg,560\n", "2,4 m", "Part;Length (mm)\nleg;560,5\n"]),
        "what": dice.one_of(&["parts", "shed", "buying", "saw"]),
        "unit": dice.one_of(&["mm", "cm", "m", "in", "ft"]),
        "decimal": dice.one_of(&["point", "comma"]),
        "imperial": dice.once_in(2),
        "headed": dice.once_in(2),
        "columns": ["label", "length", null, "quantity"],
        "sections": { "post": "rail" },
        "fragment": lengthwise::io::link::pack(&other.to_string()),
        "address": "https://timber.example.org/",
        "boards": [{ "row": other["shed"][0], "unit": "in", "decimal": "point" }, { "row": hostile_value(dice), "unit": "mm" }],
        "shed": other["shed"],
    })
}

/// A plan of the job where there is one, else a plan of another job.
fn plan_of(job: &Value) -> Value {
    let other = || json!({ "format": "lengthwise-plan", "version": 2, "boards": [{ "yard": 0, "runs": [] }], "proofs": [] });
    // Whether planning fails is tested by another part.
    let planned = std::panic::catch_unwind(|| match planned::read(job) {
        Ok(job) => planned::plan(&job, 5, &mut |_| {}),
        Err(_) => Planned::NothingYet,
    });
    match planned {
        Ok(Planned::Found(plan)) => plan_file::write_value(&plan),
        _ => other(),
    }
}

/// Work in progress: boards cut, spoiled, bought, missing.
fn progress(dice: &mut Dice) -> Value {
    let board = |dice: &mut Dice| {
        json!({ "board": dice.between(0, 3), "cut": dice.between(0, 4), "spoiled": [dice.between(0, 3)],
            "bad_from": dice.one_of(&["", "400", "1 m", "x"]), "bad_to": dice.one_of(&["", "500"]), "mark": "B7",
            "real_length": dice.one_of(&["", "0", "350", "1 m"]), "sound": dice.one_of(&["", "0", "120", "x"]) })
    };
    let bought = |dice: &mut Dice| {
        json!({ "line": dice.between(0, 2), "lengths": ["2412", "", "2.4 m"], "count": dice.between(0, 5), "bad": ["", "100..140"],
            "marks": ["K1", "K2"] })
    };
    json!({ "boards": [board(dice), board(dice)], "bought": [bought(dice)], "missing": [dice.between(0, 2)] })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_names_of_the_actions_are_found_in_their_source() {
        let names = names();
        for known in ["new", "read", "remaining", "finish", "keep_sizes"] {
            assert!(names.contains(&known), "{known} in {names:?}");
        }
    }
}
