//! One input, run on both sides in turns.

use super::asked::{Asked, Limit};
use super::difference::Difference;
use super::inputs::Input;
use super::program::{Answer, Program, Ran, is_open};
use super::verdict::Verdict;
use anyhow::Result;
use std::fs;
use std::path::Path;

/// The names of the sides, and of the folders that they write into.
const SIDES: [&str; 2] = ["before", "after"];

/// The files that a plan is asked to write: the option, the file, and the name under which it is compared.
const FILES: [(&str, &str, &str); 3] = [
    ("--json", "plan.json", PLAN),
    ("--csv", "saw.csv", "saw sheet"),
    ("--svg", "drawing.svg", "drawing"),
];
const PLAN: &str = "plan";

/// The exit code of a plan that is not proven in time, or not found in time.
const NOT_PROVEN: i32 = 3;

/// The results of both sides for one input, run by run.
pub struct Runs {
    /// The input, or the problem of a bench.
    pub name: String,
    /// The answers before, and those after.
    pub answers: [Vec<Answer>; 2],
    /// The difference between the two sides' checks of one plan that both got.
    check: Option<Difference>,
}

impl Runs {
    /// Whether both sides gave the same result.
    pub fn verdict(&self) -> Verdict {
        let [before, after] = &self.answers;
        match (Verdict::of(before, after), &self.check) {
            (Verdict::Same | Verdict::LeftOut(_), Some(check)) => Verdict::Different(check.clone()),
            (verdict, _) => verdict,
        }
    }

    /// Processor seconds of each round, before and after, without rounds in which the clock stopped either.
    pub fn seconds_of_rounds(&self) -> Vec<[f64; 2]> {
        let [before, after] = &self.answers;
        let rounds = before.iter().zip(after);
        rounds
            .map(|(before, after)| match before.by_clock || after.by_clock {
                true => [0.0; 2],
                false => [before.seconds, after.seconds],
            })
            .collect()
    }

    /// The median of each side; `None` where nothing was measured, as for a benchmark as a whole.
    pub fn median_seconds(&self) -> Option<[f64; 2]> {
        let median = |answers: &[Answer]| {
            let mut seconds: Vec<f64> = answers.iter().map(|answer| answer.seconds).collect();
            seconds.sort_by(f64::total_cmp);
            seconds.get(seconds.len() / 2).copied()
        };
        let [before, after] = &self.answers;
        Some([median(before)?, median(after)?]).filter(|sides| *sides != [0.0; 2])
    }
}

/// Runs an input on both sides as often as asked. Returns one result, or one for each problem of a benchmark. `folder` is for their files.
pub fn of_input(
    input: &Input,
    sides: &[Program; 2],
    (asked, limit): (&Asked, Limit),
    folder: &Path,
) -> Result<Vec<Runs>> {
    for side in SIDES {
        fs::create_dir_all(folder.join(side))?;
    }
    if let Input::Job(file) = input {
        fs::copy(file, folder.join("job.json"))?;
    }
    let mut all: Vec<Runs> = Vec::new();
    for round in 0..asked.rounds {
        // Each side goes first equally often.
        for side in [round % 2, (round + 1) % 2] {
            let place = folder.join(SIDES[side]);
            for (name, answer) in answers(input, &sides[side], (asked, limit), &place)? {
                let at = all.iter().position(|runs| runs.name == name);
                let at = at.unwrap_or_else(|| {
                    let (answers, check) = ([Vec::new(), Vec::new()], None);
                    all.push(Runs {
                        name,
                        answers,
                        check,
                    });
                    all.len() - 1
                });
                all[at].answers[side].push(answer);
            }
        }
        let ended = |runs: &Runs| runs.answers.iter().flatten().all(|answer| answer.by_clock);
        if all.iter().all(ended) {
            break;
        }
    }
    if let (Input::Job(_), Some(runs)) = (input, all.first_mut()) {
        runs.check = check_each(&runs.answers, sides, folder)?;
    }
    Ok(all)
}

fn answers(
    input: &Input,
    side: &Program,
    (asked, limit): (&Asked, Limit),
    folder: &Path,
) -> Result<Vec<(String, Answer)>> {
    Ok(match input {
        Input::Schema => {
            let ran = side.run(&["schema"], folder)?;
            vec![(input.to_string(), answer(ran, "schema"))]
        }
        Input::Job(_) => vec![(input.to_string(), plan(side, limit, folder)?)],
        Input::Bench(own) => {
            let mut words = vec!["bench".to_owned()];
            words.extend_from_slice(own);
            words.extend(Limit::Seconds(asked.seconds).words());
            let ran = side.run(&words, folder)?;
            fs::write(folder.join("bench.csv"), &ran.said)?;
            of_bench(&input.to_string(), ran)
        }
    })
}

/// What every command gives: its exit code, its messages, and its output under the name `said`.
fn answer(ran: Ran, said: &'static str) -> Answer {
    Answer {
        by_clock: false,
        seconds: ran.seconds,
        pieces: vec![
            ("exit code", ran.code_text()),
            ("messages", ran.told),
            (said, ran.said),
        ],
    }
}

/// Plans the job that is in the folder above.
fn plan(side: &Program, limit: Limit, folder: &Path) -> Result<Answer> {
    let limits = limit.words();
    let mut words = vec!["plan", "../job.json", &limits[0], &limits[1]];
    for (option, file, _) in FILES {
        let _ = fs::remove_file(folder.join(file));
        words.extend([option, file]);
    }
    let ran = side.run(&words, folder)?;
    fs::write(folder.join("report.txt"), &ran.said)?;
    let not_proven = ran.code == Some(NOT_PROVEN);
    let mut answer = answer(ran, "report");
    // The plan comes first: where it differs, a difference in the report says less.
    for (_, file, name) in FILES.iter().rev() {
        if let Ok(bytes) = fs::read(folder.join(file)) {
            answer.pieces.insert(0, (name, bytes));
        }
    }
    let is_open = not_proven || answer.piece(PLAN).is_some_and(is_open);
    answer.by_clock = is_open && matches!(limit, Limit::Seconds(_));
    Ok(answer)
}

/// Has each side check the plan of each; both must give the same result, and it must be that the plan holds.
fn check_each(
    answers: &[Vec<Answer>; 2],
    sides: &[Program; 2],
    folder: &Path,
) -> Result<Option<Difference>> {
    const CHECKED: &str = "checked.json";
    for (answers, whose) in answers.iter().zip(SIDES) {
        let made = Answer::settled(answers).or(answers.first());
        let Some(plan) = made.and_then(|answer| answer.piece(PLAN)) else {
            continue;
        };
        fs::write(folder.join(CHECKED), plan)?;
        let check = |side: &Program| side.run(&["check", "job.json", CHECKED], folder);
        let [before, after] = [check(&sides[0])?, check(&sides[1])?];
        let name = format!("check of the plan that was made {whose}");
        let holds = |ran: &Ran| matches!(ran.code, Some(0 | NOT_PROVEN));
        let said = |ran: &Ran| {
            let all = [ran.said.as_slice(), &ran.told].concat();
            String::from_utf8_lossy(&all).into_owned()
                + "exit code "
                + &String::from_utf8_lossy(&ran.code_text())
        };
        let (old, new) = (said(&before), said(&after));
        if let Some(difference) = super::difference::of_bytes(&name, old.as_bytes(), new.as_bytes())
        {
            return Ok(Some(difference));
        }
        if !holds(&before) || !holds(&after) {
            return Ok(Some(Difference::new(name, &old, &new)));
        }
    }
    Ok(None)
}

/// The problems of a benchmark, each by its class and name, and the result of the benchmark as a whole.
fn of_bench(name: &str, ran: Ran) -> Vec<(String, Answer)> {
    let text = String::from_utf8_lossy(&ran.said).into_owned();
    let mut lines = text.lines().take_while(|line| !line.is_empty());
    let head = lines.next().unwrap_or_default();
    let mut all = vec![(
        name.to_owned(),
        Answer {
            pieces: vec![
                ("exit code", ran.code_text()),
                ("messages", ran.told.clone()),
                ("columns", head.as_bytes().to_vec()),
            ],
            ..Answer::default()
        },
    )];
    all.extend(lines.map(|line| of_row(name, head, line)));
    all
}

/// One row of a benchmark. Its seconds depend on a clock, so they are removed from what is compared and counted.
fn of_row(bench: &str, head: &str, line: &str) -> (String, Answer) {
    let mut answer = Answer::default();
    let mut kept = serde_json::Map::new();
    let names = head.split(',');
    for (column, field) in names.zip(line.split(',')) {
        match column {
            "seconds" => answer.seconds = field.parse().unwrap_or(0.0),
            _ => {
                kept.insert(column.to_owned(), field.into());
            }
        }
        answer.by_clock |= column == "proven" && field == "no";
    }
    let named = |column: &str| {
        kept.get(column)
            .and_then(|name| name.as_str())
            .unwrap_or("")
    };
    let name = format!("{bench}: {}/{}", named("class"), named("instance"));
    let row = serde_json::Value::Object(kept).to_string();
    answer.pieces.push(("row", row.into_bytes()));
    (name, answer)
}

#[cfg(test)]
mod tests {
    use super::*;

    const HEAD: &str = "class,instance,stock_used_or_cost,bound,proven,seconds,nodes,columns";

    #[test]
    fn the_seconds_of_a_bench_are_left_out_and_counted() {
        let (name, slow) = of_row("bench D", HEAD, "paper,mill,73,73,yes,1.250,3,40");
        let (_, quick) = of_row("bench D", HEAD, "paper,mill,73,73,yes,0.500,3,40");
        assert_eq!(name, "bench D: paper/mill");
        assert_eq!(slow.pieces, quick.pieces);
        assert_eq!((slow.seconds, quick.seconds), (1.25, 0.5));
        let (_, other) = of_row("bench D", HEAD, "paper,mill,73,73,yes,0.500,4,40");
        assert_eq!(
            Verdict::of(&[slow], &[other]),
            Verdict::Different(Difference::new("row.nodes", "\"3\"", "\"4\""))
        );
    }

    #[test]
    fn a_row_of_a_bench_that_is_not_proven_was_ended_by_the_clock() {
        let (_, open) = of_row("bench D", HEAD, "paper,mill,74,73,no,10.000,900,400");
        let (_, closed) = of_row("bench D", HEAD, "paper,mill,impossible,,yes,0.000,0,0");
        assert!(open.by_clock && !closed.by_clock);
    }

    #[test]
    fn the_summary_of_a_bench_is_no_problem_of_it() {
        let said = format!("{HEAD}\npaper,mill,73,73,yes,1.250,3,40\n\nclass,instances\npaper,1\n");
        let ran = Ran {
            code: Some(0),
            said: said.into_bytes(),
            told: Vec::new(),
            seconds: 1.3,
        };
        let names: Vec<String> = of_bench("bench D", ran)
            .into_iter()
            .map(|(name, _)| name)
            .collect();
        assert_eq!(names, ["bench D", "bench D: paper/mill"]);
    }
}
