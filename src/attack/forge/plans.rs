//! Plans that hold but are not the best, and the true proofs from which false ones are made.

use super::pairs;
use crate::dice::Dice;
use crate::jobs::rows;
use crate::planned;
use lengthwise::check::{Effort, check_within};
use lengthwise::io::plan_file;
use lengthwise::job::Job;
use lengthwise::length::Length;
use lengthwise::plan::{Edge, Lies, Plan, PlannedBoard, PlannedRun, Proof, Source};
use lengthwise::planner::Planned;
use serde_json::Value;

/// The material for forgeries of a job, in the form of the plan file.
pub struct Base {
    /// Plans of the job that hold, without proofs but with their true levels; the best one is last.
    pub plans: Vec<Value>,
    /// True proofs: `proofs` of the best plan, those by pairs, and of the plans of jobs like this one.
    pub proofs: Vec<Value>,
    /// How many lines the yard has.
    pub yard: usize,
    /// How many boards there are, the yard's lines first.
    pub boards: usize,
    /// How many parts there are.
    pub parts: usize,
}

impl Base {
    /// The material for a job; `None` where it has no plan, or none that is worse than the best.
    pub fn of(job: &Value, dice: &mut Dice) -> Option<Base> {
        let sound = planned::read(job).ok()?;
        let Planned::Found(best) = planned::plan(&sound, planned::ASKS, &mut |_| {}) else {
            return None;
        };
        let mut proofs = vec![plan_file::write_value(&best)["proofs"].clone()];
        proofs.extend(pairs::proofs(&sound, &best));
        let mut plans = Vec::new();
        for _ in 0..4 {
            let like = like(dice, job);
            let Ok(like) = planned::read(&like) else {
                continue;
            };
            if let Planned::Found(plan) = planned::plan(&like, planned::ASKS / 4, &mut |_| {}) {
                proofs.push(plan_file::write_value(&plan)["proofs"].clone());
                plans.push(plan);
            }
        }
        let mut spread = best.clone();
        for _ in 0..=dice.below(3) {
            spread = spread_out(dice, &sound, spread);
        }
        plans.push(spread);
        plans.push(best);
        let plans: Vec<Value> = plans
            .into_iter()
            .filter_map(|plan| bare(&sound, plan))
            .collect();
        (plans.len() > 1).then_some(Base {
            plans,
            proofs,
            yard: sound.yard.len(),
            boards: sound.yard.len() + sound.shed.len(),
            parts: sound.parts.len(),
        })
    }
}

/// The plan with its true levels and without a proof, where its cuts hold for the job.
fn bare(job: &Job, plan: Plan) -> Option<Value> {
    let plan = Plan {
        boards: plan.boards,
        proofs: Vec::new(),
    };
    let checked = check_within(job, plan.clone(), Effort::NONE).ok()?;
    let proofs = checked.groups().iter().map(|group| Proof {
        sections: group.sections.clone(),
        levels: group
            .levels
            .iter()
            .map(|level| lengthwise::plan::Level {
                measure: level.measure,
                value: level.value,
                bound: level.value,
            })
            .collect(),
        certificate: None,
    });
    let plan = Plan {
        proofs: proofs.collect(),
        boards: plan.boards,
    };
    Some(plan_file::write_value(&plan))
}

/// A job whose rows are those of another, so that its plans fit that one too, but which has less to choose from or aims elsewhere.
fn like(dice: &mut Dice, job: &Value) -> Value {
    let mut other = job.clone();
    match dice.below(6) {
        0 => {
            other["aim"] = dice
                .one_of(&["fewest", "cheapest", "shortest", "scrap"])
                .into()
        }
        1 => {
            let lines = rows(&mut other, "yard");
            if !lines.is_empty() {
                let at = dice.below(lines.len());
                lines[at]["count"] = 0.into();
            }
        }
        2 => {
            for line in rows(&mut other, "yard") {
                if dice.once_in(2) {
                    line["count"] = dice.between(0, 2).into();
                }
            }
        }
        // Parts on timber that they may not be made from, or with their good face down.
        3 => {
            for part in rows(&mut other, "parts") {
                part["from"] = "anything".into();
                part["face"] = "either".into();
            }
        }
        // A yard that saws far worse, of which more has to be bought, or exactly.
        4 => other["yard_tolerance"] = dice.one_of(&["0", "90"]).into(),
        // Boards of the shed that nothing fits on.
        _ => {
            for board in rows(&mut other, "shed") {
                if dice.once_in(2) {
                    board["trim"] = "0".into();
                    board["length"] = "60".into();
                    board["bad"] = "".into();
                }
            }
        }
    }
    other
}

/// Moves a part of a bought board to a board of its own.
fn spread_out(dice: &mut Dice, job: &Job, mut plan: Plan) -> Plan {
    let full: Vec<usize> = (0..plan.boards.len())
        .filter(|&board| {
            let board = &plan.boards[board];
            let cuts: usize = board.runs.iter().map(|run| run.cuts.len()).sum();
            board.yard_cut.is_none() && cuts > 1
        })
        .collect();
    if full.is_empty() || job.yard.is_empty() {
        return plan;
    }
    let from = dice.one_of(&full);
    let board = &mut plan.boards[from];
    let run = board
        .runs
        .iter()
        .position(|run| !run.cuts.is_empty())
        .unwrap_or(0);
    let Some(mut cut) = board.runs[run].cuts.pop() else {
        return plan;
    };
    board.runs.retain(|run| !run.cuts.is_empty());
    // Any length that takes the part without a cut at the yard.
    let part = &job.parts[cut.part];
    let lines: Vec<usize> = (0..job.yard.len())
        .filter(|&line| {
            let yard = &job.yard[line];
            let trim = job.sections[yard.section].trim;
            part.goes_on(yard.section, job.timber(Source::Yard(line)))
                && trim.datum + part.length <= yard.length - trim.far
                && job.carry.is_none_or(|carry| yard.length <= carry)
        })
        .collect();
    if lines.is_empty() {
        return plan;
    }
    let line = dice.one_of(&lines);
    let yard = &job.yard[line];
    let trim = job.sections[yard.section].trim;
    cut.start = trim.datum;
    cut.end = trim.datum + part.length;
    (cut.lies, cut.long_edge) = (Lies::AsWritten, Edge::Far);
    let whole = PlannedRun {
        from: trim.datum,
        to: yard.length - trim.far,
        cuts: vec![cut],
    };
    debug_assert!(whole.to > Length::ZERO, "the part fits in it");
    plan.boards.push(PlannedBoard {
        source: Source::Yard(line),
        yard_cut: None,
        runs: vec![whole],
    });
    plan
}
