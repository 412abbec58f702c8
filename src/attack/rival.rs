//! A rival solver: the same jobs, given to Cbc as integer programs over all cuttings of each board, which are listed here by a geometry of
//! their own.
//!
//! Of the engine only the job as read is used. Clear runs ([`ground`]), how parts are laid in one ([`lay`]) and the integer program
//! ([`program`]) follow from the rules of the trade alone. The levels are minimised one after the other, and each bound and value of the
//! plan is compared with Cbc's result. A new feature of jobs needs its rule in `ground` or `lay`.

mod contents;
mod ground;
mod lay;
mod program;
mod standing;

use crate::dice::Dice;
use crate::jobs;
use crate::part::{Attack, Met};
use crate::planned;
use lengthwise::check::{Effort, check_within};
use lengthwise::job::{Aim, Job};
use lengthwise::length::Length;
use lengthwise::plan::{Measure, PlannedBoard};
use lengthwise::planner::Planned;
use program::{Answer, Program};
use serde_json::{Value, json};

/// This part of the attack.
pub struct Rival;

impl Attack for Rival {
    fn make(&mut self, dice: &mut Dice) -> Value {
        json!({ "job": jobs::job(dice) })
    }

    fn judge(&mut self, case: &Value) -> Result<Met, String> {
        let Ok(job) = planned::read(&case["job"]) else {
            return Ok(vec!["jobs with faults"]);
        };
        let mut programs = Vec::new();
        for sections in groups(&job) {
            match Program::of(&job, &sections) {
                Some(program) => programs.push((sections, program)),
                None => return Ok(vec!["jobs with too many cuttings"]),
            }
        }
        match planned::plan(&job, planned::ASKS, &mut |_| {}) {
            Planned::NothingYet => Ok(vec!["without a plan yet"]),
            Planned::Impossible(_) => impossible(&job, &programs),
            Planned::Found(plan) => {
                // Whether the checker can confirm the bounds does not matter here: they are compared as claimed.
                let checked = check_within(&job, plan, Effort::NONE)
                    .map_err(|lies| format!("our own plan is refused: {}", lies[0]))?;
                let mut met = vec!["planned"];
                for (yard_cut, told) in [
                    (false, "with parts on both ends of a board"),
                    (
                        true,
                        "with parts on both ends of a length that the yard cuts",
                    ),
                ] {
                    let boards = checked.plan().boards.iter();
                    let mut boards = boards.filter(|board| board.yard_cut.is_some() == yard_cut);
                    let ends = |board: &PlannedBoard| {
                        let runs = [board.runs.first(), board.runs.last()];
                        let [Some(first), Some(last)] = runs else {
                            return false;
                        };
                        let start = first
                            .cuts
                            .first()
                            .is_some_and(|cut| cut.start == Length::ZERO);
                        start
                            && last.from > first.to
                            && last.cuts.last().is_some_and(|cut| cut.end == last.to)
                    };
                    if boards.any(ends) {
                        met.push(told);
                    }
                }
                for (sections, program) in &programs {
                    let group = checked
                        .groups()
                        .iter()
                        .find(|group| group.sections == *sections);
                    let group = group.ok_or("groups: the checker has others")?;
                    met.extend(compare(&job, sections, program, &group.levels)?);
                }
                Ok(met)
            }
        }
    }
}

/// At least one group must be impossible for the rival too.
fn impossible(job: &Job, programs: &[(Vec<usize>, Program)]) -> Result<Met, String> {
    for (sections, program) in programs {
        let mut first = measures(job, sections).into_iter();
        let first = first.find(|measure| !measure.is_beyond());
        match program.least(first.unwrap_or(Measure::Scrap), &[]) {
            Answer::Impossible => return Ok(vec!["impossible for both"]),
            Answer::Unknown => return Ok(vec!["left open by the rival"]),
            Answer::Least(_) => {}
        }
    }
    Err("called impossible: the rival has a plan".into())
}

fn compare(
    job: &Job,
    sections: &[usize],
    program: &Program,
    levels: &[lengthwise::check::CheckedLevel],
) -> Result<Met, String> {
    let expected = measures(job, sections);
    if levels
        .iter()
        .map(|level| level.measure)
        .ne(expected.iter().copied())
    {
        return Err(format!("levels: {expected:?} are expected"));
    }
    let mut met = Vec::new();
    let mut held = Vec::new();
    for level in levels {
        let (measure, value) = (level.measure, level.value);
        let before = held.iter().map(|(measure, _)| *measure);
        let counts_scrap = before.chain([measure]).any(|of| of == Measure::Scrap);
        if counts_scrap && !program.lists_all() {
            break;
        }
        // What is beyond an allowance is of a sum that counts as that at least.
        let (summed, allowed) = match measure {
            Measure::LengthsBeyond => (Measure::Bought, allowed(job, sections)[0].unwrap_or(0)),
            Measure::TimberBeyond => (
                Measure::BoughtLength,
                allowed(job, sections)[1].unwrap_or(0),
            ),
            own => (own, 0),
        };
        let least = match program.least(summed, &held) {
            Answer::Least(least) if measure.is_beyond() => (least - allowed).max(0),
            Answer::Least(least) => least,
            Answer::Unknown => {
                met.push("levels left open by the rival");
                break;
            }
            Answer::Impossible => {
                return Err(format!("{measure:?} is impossible: planned all the same"));
            }
        };
        if value < least {
            // Cbc calls a few answers optimal that are not. Asked for no more than the plan's, it finds them itself; a sum that its program does
            // not have stays impossible.
            let ours = (summed, value + allowed);
            let asked: Vec<_> = held.iter().copied().chain([ours]).collect();
            match program.least(summed, &asked) {
                Answer::Least(again) if again <= ours.1 => {
                    met.push("answers that the rival took back");
                    break;
                }
                _ => {
                    return Err(format!(
                        "{measure:?} is less than the rival's: {value} and {least}"
                    ));
                }
            }
        }
        if level.bound.is_some_and(|bound| bound > least) {
            return Err(format!(
                "{measure:?} is said to be no less: {:?}, the rival has {least}",
                level.bound
            ));
        }
        if value > least {
            met.push("levels with a gap");
            break;
        }
        met.push(if measure == Measure::Scrap {
            "levels of scrap compared"
        } else if counts_scrap {
            "levels after scrap compared"
        } else {
            "levels compared"
        });
        held.push((summed, least + allowed));
    }
    Ok(met)
}

/// The measures that are minimised, in order: README, "fewest" and the other aims. The length bought replaces money where a price is
/// missing.
fn measures(job: &Job, sections: &[usize]) -> Vec<Measure> {
    let mut prices = job
        .yard
        .iter()
        .filter(|line| sections.contains(&line.section))
        .map(|line| line.price.is_some())
        .peekable();
    let priced = prices.peek().is_some() && prices.all(|priced| priced);
    let mut measures = match (job.aim, priced) {
        (Aim::Fewest | Aim::Offcuts | Aim::Scrap, true) => vec![Measure::Bought, Measure::Money],
        (Aim::Fewest | Aim::Offcuts | Aim::Scrap, false) => {
            vec![Measure::Bought, Measure::BoughtLength]
        }
        (Aim::Cheapest, _) => vec![Measure::Money, Measure::Bought],
        (Aim::Shortest, true) => vec![Measure::BoughtLength, Measure::Money],
        (Aim::Shortest, false) => vec![Measure::BoughtLength],
    };
    let allowed = allowed(job, sections);
    if allowed != [None; 2] {
        measures = vec![Measure::BoughtLength, Measure::Bought];
        if priced {
            measures = vec![Measure::Money, Measure::Bought, Measure::BoughtLength];
        }
    }
    let last = if job.aim == Aim::Scrap {
        0
    } else {
        measures.len()
    };
    measures.insert(last, Measure::Scrap);
    if allowed != [None; 2] {
        let beyond = [Measure::LengthsBeyond, Measure::TimberBeyond];
        for (at, measure) in beyond.into_iter().enumerate().rev() {
            if allowed[at].is_some() {
                measures.insert(0, measure);
            }
        }
    }
    measures
}

/// How many lengths of these sections and how many ticks of timber may be bought where that costs less: all that they say, added up.
fn allowed(job: &Job, sections: &[usize]) -> [Option<i64>; 2] {
    let said = || {
        sections
            .iter()
            .map(|&section| job.sections[section].allowed)
    };
    let lengths: Vec<i64> = said()
        .filter_map(|said| said.lengths)
        .map(i64::from)
        .collect();
    let timber: Vec<i64> = said()
        .filter_map(|said| said.timber)
        .map(|timber| timber.ticks())
        .collect();
    [lengths, timber].map(|all| (!all.is_empty()).then(|| all.iter().sum()))
}

/// Groups of sections that are linked by parts which may be made of either.
fn groups(job: &Job) -> Vec<Vec<usize>> {
    let mut mark: Vec<usize> = (0..job.sections.len()).collect();
    loop {
        let before = mark.clone();
        for part in &job.parts {
            let least = part
                .sections
                .iter()
                .map(|&section| mark[section])
                .min()
                .unwrap_or(0);
            for &section in &part.sections {
                mark[section] = least;
            }
        }
        if mark == before {
            break;
        }
    }
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for group in 0..job.sections.len() {
        let sections: Vec<usize> = (0..mark.len())
            .filter(|&section| mark[section] == group)
            .collect();
        if job
            .parts
            .iter()
            .any(|part| sections.contains(&part.sections[0]))
        {
            groups.push(sections);
        }
    }
    groups
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::planned::read;

    fn program(job: Value) -> (Job, Program) {
        let job = read(&job).expect("a sound job");
        let program = Program::of(&job, &groups(&job)[0]).expect("few cuttings");
        (job, program)
    }

    fn job(carry: Option<&str>, parts: Value) -> Value {
        json!({ "format": "lengthwise-job", "aim": "cheapest", "saw": { "kerf": "2", "keep": "300" }, "carry": carry,
            "sections": [{ "name": "post", "width": "70", "trim": "10" }],
            "yard": [{ "length": "2400", "price": "6" }, { "length": "3000", "price": "7.10", "count": 1 }],
            "shed": [{ "length": "1300", "trim": "50", "bad": "600..640" }], "parts": parts })
    }

    #[test]
    fn the_rival_finds_what_is_counted_by_hand() {
        // The shed's runs of 550 and 610 take one leg each; three more legs are 1504 of a length's 2380, so the dearer one is not needed.
        let (_, five) = program(job(
            None,
            json!([{ "label": "leg", "length": 500, "quantity": 5 }]),
        ));
        assert_eq!(five.least(Measure::Money, &[]), Answer::Least(600));
        // Seven legs are five of the yard: 2508 is more than 2380 and less than 2980.
        let (_, seven) = program(job(
            None,
            json!([{ "label": "leg", "length": 500, "quantity": 7 }]),
        ));
        assert_eq!(seven.least(Measure::Money, &[]), Answer::Least(710));
        assert_eq!(
            seven.least(Measure::Bought, &[(Measure::Money, 710)]),
            Answer::Least(1)
        );
        let (_, too_long) = program(job(None, json!([{ "label": "leg", "length": 2990 }])));
        assert_eq!(too_long.least(Measure::Money, &[]), Answer::Impossible);
    }

    #[test]
    fn a_length_cut_at_the_yard_holds_no_part_that_the_vehicle_does_not() {
        // Pieces of 1500 at most: one of 1470 in each, but not one of 1471, for 10 are trimmed at both its ends, and it may be 10 shorter.
        let part = |length: i64| json!([{ "label": "rail", "length": length }]);
        let (_, fits) = program(job(Some("1500"), part(1_470)));
        assert_eq!(fits.least(Measure::Bought, &[]), Answer::Least(1));
        let (_, misses) = program(job(Some("1500"), part(1_471)));
        assert_eq!(misses.least(Measure::Bought, &[]), Answer::Impossible);
    }

    #[test]
    fn a_plan_that_is_not_the_best_is_told() {
        let (job, program) = program(job(
            None,
            json!([{ "label": "leg", "length": 500, "quantity": 5 }]),
        ));
        let level = |value: i64, bound: i64| lengthwise::check::CheckedLevel {
            within: Default::default(),
            measure: Measure::Money,
            value,
            bound: Some(bound),
            backing: lengthwise::check::Backing::NothingClaimed,
        };
        let sections = groups(&job)[0].clone();
        let told = |level: lengthwise::check::CheckedLevel| {
            let mut levels = vec![level];
            for measure in [Measure::Bought, Measure::Scrap] {
                levels.push(lengthwise::check::CheckedLevel {
                    measure,
                    ..levels[0].clone()
                });
            }
            compare(&job, &sections, &program, &levels)
        };
        assert!(told(level(710, 710)).is_err_and(|why| why.contains("no less")));
        assert!(told(level(599, 0)).is_err_and(|why| why.contains("less than")));
        assert!(told(level(710, 600)).is_ok_and(|met| met == ["levels with a gap"]));
    }
}
