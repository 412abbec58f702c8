//! The arguments of a comparison, and what stops the search of its plans.

use super::program::Program;
use crate::workshop::root;
use anyhow::{Context, Result, bail};
use std::path::{Path, PathBuf};

/// The help text of `cargo compare` about this.
pub const HELP: &str = "\
cargo compare --against COMMIT [DIR]... [--jobs N] [--seed N] [--size small|medium|large]
              [--looks N] [--seconds S] [--rounds N] [--keep DIR]
    The command line of this tree and of a commit, in turns on the same inputs: plan files with their
    proofs, text reports, saw sheets as CSV, drawings, messages, exit codes, the check of each plan by
    both, bench without its seconds, and the schema. Fails where any of it differs. What the clock has
    ended is told and left out.
    DIR          folders of job files (.json) and of folders of instances (.txt) (fixtures/jobs)
    --jobs N     N made-up jobs of every sort, N with longer searches of each size, and N of bench (20)
    --seed N     what they are made up from (1)
    --size Z     one size of them (small and medium)
    --looks N    the looks after which the search of a plan ends, where both sides know them (20000)
    --seconds S  the time for a plan where they do not, and for a problem of bench (10)
    --rounds N   runs of each side, taken in turns; the ratio of their processor times is told (3)
    --keep DIR   keep the made-up jobs and all that was written in DIR";

/// The arguments.
pub(super) struct Asked {
    pub(super) commit: String,
    pub(super) folders: Vec<PathBuf>,
    pub(super) jobs: usize,
    pub(super) seed: u64,
    pub(super) sizes: Vec<&'static str>,
    pub(super) looks: u64,
    pub(super) seconds: f64,
    pub(super) rounds: usize,
    pub(super) keep: Option<PathBuf>,
}

/// The sizes of made-up jobs that `lengthwise bench` accepts.
pub(super) const SIZES: [&str; 3] = ["small", "medium", "large"];

impl Asked {
    pub(super) fn read(words: &[String]) -> Result<Asked> {
        let mut asked = Asked {
            commit: String::new(),
            folders: Vec::new(),
            jobs: 20,
            seed: 1,
            sizes: vec!["small", "medium"],
            looks: 20_000,
            seconds: 10.0,
            rounds: 3,
            keep: None,
        };
        let mut words = words.iter();
        while let Some(word) = words.next() {
            let value = |text: Option<&String>| {
                let text = text.cloned();
                text.with_context(|| format!("{word} needs a value"))
            };
            let whole = |text: Option<&String>| {
                let text = value(text)?;
                let number = text.parse::<u32>();
                number.with_context(|| format!("{word} takes a whole number, not \"{text}\""))
            };
            match word.as_str() {
                "--against" => asked.commit = value(words.next())?,
                "--jobs" => asked.jobs = whole(words.next())? as usize,
                "--looks" => asked.looks = whole(words.next())?.max(1).into(),
                "--seed" => asked.seed = whole(words.next())?.into(),
                "--rounds" => asked.rounds = whole(words.next())?.max(1) as usize,
                "--keep" => asked.keep = Some(value(words.next())?.into()),
                "--size" => {
                    let text = value(words.next())?;
                    let size = SIZES.into_iter().find(|size| *size == text);
                    let size = size.with_context(|| {
                        format!("\"{text}\" is not a size; sizes are {}", SIZES.join(", "))
                    })?;
                    asked.sizes = vec![size];
                }
                "--seconds" => {
                    let text = value(words.next())?;
                    let seconds = text.parse().ok();
                    let seconds = seconds.filter(|seconds| (0.001..=1e6).contains(seconds));
                    asked.seconds = seconds.with_context(|| {
                        format!("--seconds takes a number of seconds, not \"{text}\"")
                    })?;
                }
                option if option.starts_with('-') => {
                    bail!("{option} cannot be asked together with --against\n{HELP}")
                }
                folder => asked.folders.push(folder.into()),
            }
        }
        if asked.folders.is_empty() {
            asked.folders.push(root().join("fixtures/jobs"));
        }
        Ok(asked)
    }
}

/// What stops the search of a plan.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Limit {
    /// A number of clock checks, which is the same on every machine.
    Looks(u64),
    /// The clock, after this many seconds at most.
    Seconds(f64),
}

impl Limit {
    /// Clock checks where both sides have that option.
    pub(super) fn known_to(sides: &[Program; 2], asked: &Asked, folder: &Path) -> Result<Limit> {
        for side in sides {
            // The help that follows is printed only if the option before it is accepted.
            let ran = side.run(&["plan", "--looks", "1", "--help"], folder)?;
            if ran.code != Some(0) {
                println!(
                    "# one side knows no --looks, so the clock ends plans; those are left out"
                );
                return Ok(Limit::Seconds(asked.seconds));
            }
        }
        Ok(Limit::Looks(asked.looks))
    }

    /// The limit as arguments of `lengthwise plan`.
    pub(super) fn words(self) -> [String; 2] {
        match self {
            Limit::Looks(looks) => ["--looks".to_owned(), looks.to_string()],
            Limit::Seconds(seconds) => ["--seconds".to_owned(), seconds.to_string()],
        }
    }
}
