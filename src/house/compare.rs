//! `cargo compare`: the engine natively, the same engine as WebAssembly, and HiGHS on an arc-flow model, on the same problems in one run.
//!
//! Builds take turns on every problem, so that a busy machine slows both. The clock stops the first native run, unless a proof ends it.
//! Every other run, native or not, gets as many clock checks as that one took. So all of them do the same work and must give the same
//! values, bounds, plan and proof.
//!
//! Seconds are processor seconds where the system reports them (Linux does) and the run was not too short, since they come in steps of some
//! milliseconds; otherwise elapsed seconds.

use crate::companion::Companion;
use crate::comparison::{self, Row};
use crate::engine;
use crate::peer::Highs;
use crate::workshop::{root, target_folder};
use anyhow::{Context, Result, bail};
use lengthwise::bench::{Allowance, Answer, Arguments, Instance, Noise, Stopwatch, solve_text};
use lengthwise::solve::ScrapAim;
use serde_json::json;
use std::fs;
use std::path::PathBuf;
use std::process::Command;
use std::time::Instant;

/// What `cargo compare --help` says.
pub const HELP: &str = "\
cargo compare [WORDS OF lengthwise bench] [--rounds N] [--highs SECONDS] [--keep DIR]
    --rounds N       runs of each build on each problem, taken in turns; their medians count (3)
    --highs SECONDS  ask HiGHS too, for so long at most, on an arc-flow model of each problem
    --keep DIR       keep those models, as free MPS, in DIR";

struct Asked {
    bench: Arguments,
    rounds: usize,
    highs: Option<f64>,
    keep: Option<PathBuf>,
}

impl Asked {
    fn read(words: &[String]) -> Result<Asked> {
        let (mut rounds, mut highs, mut keep) = (3, None, None);
        let mut bench = Vec::new();
        let mut words = words.iter();
        while let Some(word) = words.next() {
            let mut value = || {
                words
                    .next()
                    .with_context(|| format!("{word} needs a value"))
            };
            match word.as_str() {
                "--rounds" => rounds = value()?.parse::<usize>()?.max(1),
                "--highs" => highs = Some(value()?.parse()?),
                "--keep" => keep = Some(PathBuf::from(value()?)),
                _ => bench.push(word.clone()),
            }
        }
        let bench = Arguments::parse(&bench).map_err(|why| anyhow::anyhow!("{why}\n{HELP}"))?;
        Ok(Asked {
            bench,
            rounds,
            highs,
            keep,
        })
    }

    fn least_scrap(&self) -> bool {
        self.bench.scrap == ScrapAim::Least
    }
}

/// Compares as the arguments ask; prints a line of CSV for each problem, and medians at the end.
pub fn run(words: &[String]) -> Result<()> {
    let asked = Asked::read(words)?;
    let instances = asked.bench.instances().map_err(anyhow::Error::msg)?;
    let folder = target_folder()?.join("compare");
    let built = engine::build_for_bench(&folder)?;
    fs::write(folder.join("engine.js"), built.script)?;
    fs::write(folder.join("engine.wasm"), built.module)?;
    let runner = root().join("tests/bench/engine.mjs");
    let mut wasm = Companion::start(Command::new("node").arg(runner).arg(&folder))
        .context("Node.js runs the WebAssembly build; install it")?;
    let mut highs = match asked.highs {
        Some(seconds) => {
            if asked.least_scrap() {
                bail!("the arc-flow model has no level for scrap; leave out --scrap or --highs");
            }
            let models = asked.keep.clone().unwrap_or_else(|| folder.join("models"));
            Some(Highs::start(&folder, models, seconds)?)
        }
        None => None,
    };
    warm_up(&mut wasm)?;
    let mut noise = Noise::default();
    noise.listen();
    println!("# load at the start: {}", load());
    println!("{}", comparison::HEAD);
    let mut rows = Vec::new();
    for instance in &instances {
        let row = compare(instance, &asked, &mut wasm, highs.as_mut())
            .with_context(|| format!("{}/{}", instance.class, instance.name))?;
        println!("{}/{},{row}", instance.class, instance.name);
        rows.push(row);
    }
    comparison::summary(&rows);
    noise.listen();
    println!("# load at the end: {}", load());
    println!("# {noise}");
    if rows.iter().any(Row::is_wrong) {
        bail!("not all that must be the same is the same");
    }
    Ok(())
}

/// Solves one problem four times before anything is measured, and prints the seconds of each: WebAssembly is compiled quickly at first and
/// optimised once it has run for a while.
fn warm_up(wasm: &mut Companion) -> Result<()> {
    let question =
        json!({ "problem": "practical medium 1 3", "leastScrap": false, "looks": 20_000 });
    let mut times = Vec::new();
    for _ in 0..4 {
        let answer = wasm.ask(&question)?;
        times.push(format!("{:.3}", answer["seconds"].as_f64().unwrap_or(0.0)));
    }
    println!(
        "# one problem solved at once after the start, and again: {} s",
        times.join(", ")
    );
    Ok(())
}

fn compare(
    instance: &Instance,
    asked: &Asked,
    wasm: &mut Companion,
    highs: Option<&mut Highs>,
) -> Result<Row> {
    let mut looks = u64::from(u32::MAX);
    let mut first: Option<Answer> = None;
    let (mut native_times, mut wasm_times, mut bytes, mut same) = (vec![], vec![], 0, true);
    for round in 0..asked.rounds {
        let stopwatch = Stopwatch::start();
        let began = Instant::now();
        let late = || round == 0 && began.elapsed().as_secs_f64() >= asked.bench.seconds;
        let mut allowance = Allowance::until(&late, looks);
        let answer = solve_text(&instance.text, asked.least_scrap(), &mut allowance)
            .map_err(anyhow::Error::msg)?;
        native_times.push(stopwatch.seconds());
        looks = allowance.looks();
        same &= first.get_or_insert_with(|| answer.clone()) == &answer;
        let reply = wasm.ask(&json!({
            "problem": instance.text, "leastScrap": asked.least_scrap(), "looks": looks,
        }))?;
        wasm_times.push(reply["seconds"].as_f64().context("no time")?);
        bytes = bytes.max(reply["memory"].as_u64().unwrap_or(0));
        same &= reply["answer"] == answer.to_string();
    }
    Ok(Row {
        answer: first.context("at least one round")?,
        native: median(&mut native_times),
        wasm: median(&mut wasm_times),
        same,
        bytes,
        highs: highs.map(|highs| highs.solve(instance)).transpose()?,
    })
}

fn median(figures: &mut [f64]) -> f64 {
    figures.sort_by(f64::total_cmp);
    figures[figures.len() / 2]
}

/// The load of the machine, where the system reports it.
fn load() -> String {
    let told = fs::read_to_string("/proc/loadavg").unwrap_or_default();
    let figures: Vec<&str> = told.split(' ').take(3).collect();
    if figures.len() == 3 {
        figures.join(" ")
    } else {
        "not told".to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn job_files_are_read_and_a_folder_with_nothing_in_it_is_an_error_before_anything_is_built() {
        let words = |folder: PathBuf| [folder.display().to_string()];
        let asked = Asked::read(&words(root().join("fixtures/jobs"))).expect("it is understood");
        let jobs = asked.bench.instances().expect("there are jobs");
        assert!(jobs.iter().any(|job| job.name == "gate_parts"));
        let empty = tempfile::tempdir().expect("a folder");
        let why = run(&words(empty.path().to_path_buf())).expect_err("there is nothing in it");
        let why = why.to_string();
        assert!(why.contains("holds neither instances nor jobs"), "{why}");
    }
}
