//! The attack: tries to break the engine with input that nobody would think of, and reports how often it tried and what broke.
//!
//! `cargo attack` runs it at length, `cargo verify` for less than a minute. Each part is a generator with an oracle ([`part`]) and runs in
//! a process of its own ([`run`]), so that no crash there ends the report ([`report`]). A failing case is made smaller ([`shrink`]) and
//! written to a file, from which it can be judged again alone.

mod actions;
mod dice;
mod forge;
mod job_files;
mod jobs;
mod laws;
mod mutate;
mod ordinary;
mod page;
mod parsers;
mod part;
mod parts;
mod places;
mod planned;
mod report;
mod rival;
mod run;
mod shrink;

use parts::PARTS;
use places::Places;
use report::Asked;
use std::path::PathBuf;
use std::process::ExitCode;
use std::time::{SystemTime, UNIX_EPOCH};

const HELP: &str = "\
cargo attack [--minutes M | --seconds S] [--part NAME] [--seed N]
    Attacks for so long in all (six minutes where nothing is said) and prints cases, finds and seconds of each
    part. Fails on any find; each is written to a file. Another seed is taken each time unless one is given.
cargo attack --again FILE
    Judges the case of such a file once more.
";

/// Minutes of a run where none are given.
const USUAL_MINUTES: f64 = 6.0;

enum Command {
    Help,
    Attack(Asked),
    Again(PathBuf),
    /// One part, in the process that the report started for it.
    Part(Asked),
}

fn main() -> ExitCode {
    let outcome = command().and_then(|command| match command {
        Command::Help => {
            print!("{HELP}");
            for part in PARTS {
                println!("    {:10}  {}", part.name, part.about);
            }
            println!("    {:10}  {}", page::NAME, page::ABOUT);
            Ok(())
        }
        Command::Attack(asked) => report::attack(&asked),
        Command::Again(file) => report::again(&file),
        Command::Part(asked) => {
            let part = PARTS
                .iter()
                .find(|part| Some(part.name) == asked.part.as_deref());
            let part = part.ok_or("there is no such part")?;
            run::note_panics();
            let counts = run::run(part, asked.seconds, asked.seed, &Places::open()?);
            println!("{}", counts.line());
            Ok(())
        }
    });
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("attack: {why}");
            ExitCode::FAILURE
        }
    }
}

fn command() -> Result<Command, String> {
    use lexopt::prelude::*;
    let text = |error: lexopt::Error| error.to_string();
    let mut asked = Asked {
        seconds: USUAL_MINUTES * 60.0,
        part: None,
        seed: SystemTime::now()
            .duration_since(UNIX_EPOCH)
            .map_or(1, |time| time.as_nanos() as u64),
    };
    let mut inside = false;
    let mut words = lexopt::Parser::from_env();
    while let Some(word) = words.next().map_err(text)? {
        match word {
            Long("minutes") => asked.seconds = 60.0 * number(&mut words)?,
            Long("seconds") => asked.seconds = number(&mut words)?,
            Long("seed") => {
                let seed = words.value().map_err(text)?;
                asked.seed = seed.parse().map_err(text)?;
            }
            Long("part") => {
                let name = words.value().map_err(text)?.to_string_lossy().into_owned();
                if name != page::NAME && PARTS.iter().all(|part| part.name != name) {
                    return Err(format!("there is no part \"{name}\"; --help names them"));
                }
                asked.part = Some(name);
            }
            Long("inside") => inside = true,
            Long("again") => return Ok(Command::Again(words.value().map_err(text)?.into())),
            Short('h') | Long("help") => return Ok(Command::Help),
            other => return Err(other.unexpected().to_string()),
        }
    }
    Ok(if inside {
        Command::Part(asked)
    } else {
        Command::Attack(asked)
    })
}

fn number(words: &mut lexopt::Parser) -> Result<f64, String> {
    let value = words.value().map_err(|error| error.to_string())?;
    let number = value.to_str().and_then(|value| value.parse::<f64>().ok());
    number
        .filter(|number| (0.0..=1e6).contains(number))
        .ok_or_else(|| "--minutes and --seconds take a number, such as 10".into())
}
