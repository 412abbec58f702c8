//! A list of jobs answered by one process, by workers of Dask (`tests/stream/spread.py`) and by GNU parallel: the answers must be the same
//! bytes. Dask because it spreads to other machines as well; parallel because it is one word on one.

use crate::against::{ending, entries, search};
use crate::dice::Dice;
use crate::workshop::{command_line, root, run as run_program, target_folder};
use crate::{jobs, setup};
use anyhow::{Context, Result, bail};
use serde_json::Value;
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;

pub const HELP: &str = "\
cargo spread [N]         N made-up jobs and those of the fixtures as one list (400): by one process, by one and
                         two workers of Dask, and by GNU parallel; the answers must be the same";

/// The looks after which the search of a job ends, so that no clock has a say.
const LOOKS: &str = "3000";

/// The made-up jobs in `cargo verify`.
const FEW: usize = 40;

/// The jobs that a worker is given at a time.
const PIECE: &str = "8";

/// Runs the comparison with as many made-up jobs as the words say, in the release build, and prints the time of each way.
pub fn run(words: &[String]) -> Result<()> {
    let count = match words {
        [] => 400,
        [count] => count
            .parse()
            .with_context(|| format!("\"{count}\" is no number of jobs\n{HELP}"))?,
        _ => bail!("too many words\n{HELP}"),
    };
    compared(&command_line(true)?, count)
}

/// The same with few jobs, in the build of the tests.
pub fn check() -> Result<()> {
    compared(&command_line(false)?, FEW)
}

fn compared(program: &Path, made_up: usize) -> Result<()> {
    let tools = target_folder()?.join("tools");
    let python = setup::dask(&tools.join("dask"))?;
    setup::parallel()?;
    let folder = tempfile::tempdir()?;
    let list = folder.path().join("jobs.jsonl");
    let lines = lines(made_up)?;
    fs::write(&list, lines.join("\n") + "\n")?;
    println!(
        "{} jobs, at most {LOOKS} looks each, pieces of {PIECE}",
        lines.len()
    );
    let stream = ["plan", "--stream", "--looks", LOOKS];
    let alone = folder.path().join("alone");
    let mut one = Command::new(program);
    timed(
        "one process",
        one.args(stream)
            .stdin(File::open(&list)?)
            .stdout(File::create(&alone)?),
    )?;
    let expected = fs::read(&alone)?;
    if expected.iter().filter(|&&byte| byte == b'\n').count() != lines.len() {
        bail!("not every job has an answer");
    }
    for workers in ["1", "2"] {
        let answers = folder.path().join("answers");
        let mut dask = Command::new(&python);
        dask.arg(root().join("tests/stream/spread.py"))
            .args([&list, &answers])
            .arg("--program")
            .arg(program)
            .args(["--looks", LOOKS, "--workers", workers, "--piece", PIECE]);
        timed(
            &format!("Dask, its start included, workers: {workers}"),
            &mut dask,
        )?;
        same(&expected, &answers)?;
        let mut parallel = Command::new("parallel");
        parallel
            .args([
                "--will-cite",
                "--pipe",
                "--keep-order",
                "--halt",
                "now,fail=1",
                "-N",
                PIECE,
                "--jobs",
                workers,
            ])
            .arg(program)
            .args(stream)
            .stdin(File::open(&list)?)
            .stdout(File::create(&answers)?);
        timed(
            &format!("GNU parallel, processes at a time: {workers}"),
            &mut parallel,
        )?;
        same(&expected, &answers)?;
    }
    Ok(())
}

/// The jobs of the fixtures and made-up ones of every sort, faulty and impossible ones among them, and longer searches.
fn lines(made_up: usize) -> Result<Vec<String>> {
    let mut lines = Vec::new();
    for name in ["jobs", "pieces"] {
        for file in entries(&root().join("fixtures").join(name))? {
            if ending(&file) == "json" {
                let job: Value = serde_json::from_str(&fs::read_to_string(&file)?)?;
                lines.push(job.to_string());
            }
        }
    }
    let dice = &mut Dice::new(1);
    for number in 0..made_up {
        lines.push(match number % 2 {
            0 => jobs::job(dice).to_string(),
            _ => search(dice, "medium").to_string(),
        });
    }
    Ok(lines)
}

fn timed(name: &str, command: &mut Command) -> Result<()> {
    let began = Instant::now();
    run_program(command.stderr(Stdio::inherit()))?;
    println!("{:8.2} s  {name}", began.elapsed().as_secs_f64());
    Ok(())
}

fn same(expected: &[u8], answers: &PathBuf) -> Result<()> {
    if fs::read(answers)? != expected {
        bail!("the answers differ from those of one process");
    }
    Ok(())
}
