//! `cargo compare --against COMMIT`: this tree's command line and that of a commit, as programs, on the same inputs in turns.
//!
//! Nothing of either commit is known here but its command line, so that the sources may be arranged anew between the two. Searches are
//! ended by counted looks where both sides know them. Else, and in a bench, the clock ends some; those are not compared, and neither are
//! seconds that are printed.

mod builds;
mod difference;
mod inputs;
mod program;
mod runs;
mod verdict;

use crate::workshop::root;
use anyhow::{Context, Result, bail};
use inputs::Input;
use program::{Answer, Program};
use runs::Runs;
use sha2::{Digest, Sha256};
use std::path::{Path, PathBuf};
use verdict::Verdict;

/// What `cargo compare --help` says of it.
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

/// What is asked.
struct Asked {
    commit: String,
    folders: Vec<PathBuf>,
    jobs: usize,
    seed: u64,
    sizes: Vec<&'static str>,
    looks: u64,
    seconds: f64,
    rounds: usize,
    keep: Option<PathBuf>,
}

/// The sizes of made-up jobs that `lengthwise bench` knows.
const SIZES: [&str; 3] = ["small", "medium", "large"];

impl Asked {
    fn read(words: &[String]) -> Result<Asked> {
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

/// Compares as the words ask; prints a line for each input and one at the end.
pub fn run(words: &[String]) -> Result<()> {
    let asked = Asked::read(words)?;
    let hash = builds::hash(&asked.commit)?;
    // Kept or not, all is written into one folder; this one goes away with its value.
    let passing = tempfile::tempdir()?;
    let work = match &asked.keep {
        Some(folder) => std::path::absolute(folder)?,
        None => passing.path().to_owned(),
    };
    let mut inputs = vec![Input::Schema];
    for folder in &asked.folders {
        inputs.extend(inputs::of_folder(folder)?);
    }
    inputs.extend(inputs::made_up(&asked, &work.join("made-up"))?);
    // This tree first, for it may be worked on while the other is built.
    let after = builds::of_this_tree()?;
    let sides = [builds::of_commit(&hash)?, after].map(Program::new);
    println!(
        "# before: {} ({hash}); after: {}",
        asked.commit,
        builds::state()?
    );
    let limit = Limit::known_to(&sides, &asked, passing.path())?;
    let mut sum = Sum::new(asked.rounds);
    for (number, input) in inputs.iter().enumerate() {
        let folder = work.join(format!("{number:03}"));
        for runs in runs::of_input(input, &sides, (&asked, limit), &folder)
            .with_context(|| format!("{input} could not be given to both"))?
        {
            sum.add(&runs);
        }
    }
    sum.close()
}

/// What ends the search of a plan.
#[derive(Clone, Copy, PartialEq)]
enum Limit {
    /// Looks, which are the same on every machine.
    Looks(u64),
    /// The clock, after so many seconds or earlier.
    Seconds(f64),
}

impl Limit {
    /// Looks where both sides know them.
    fn known_to(sides: &[Program; 2], asked: &Asked, folder: &Path) -> Result<Limit> {
        for side in sides {
            // The help that is asked for behind it is printed only where the option is read.
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

    /// It as words of `lengthwise plan`.
    fn words(self) -> [String; 2] {
        match self {
            Limit::Looks(looks) => ["--looks".to_owned(), looks.to_string()],
            Limit::Seconds(seconds) => ["--seconds".to_owned(), seconds.to_string()],
        }
    }
}

/// What all inputs come to.
struct Sum {
    same: usize,
    different: usize,
    left_out: usize,
    digests: [Sha256; 2],
    /// Processor seconds of each round, before and after.
    seconds: Vec<[f64; 2]>,
}

impl Sum {
    fn new(rounds: usize) -> Sum {
        Sum {
            same: 0,
            different: 0,
            left_out: 0,
            digests: [Sha256::new(), Sha256::new()],
            seconds: vec![[0.0; 2]; rounds],
        }
    }

    /// Prints what came of one input and counts it.
    fn add(&mut self, runs: &Runs) {
        let verdict = runs.verdict();
        let figures = runs.median_seconds();
        let figures = figures.map_or(String::new(), |[before, after]| {
            format!("  {before:.3} s before, {after:.3} s after")
        });
        println!("{:9} {}{figures}{}", verdict.word(), runs.name, verdict);
        match &verdict {
            Verdict::Same => self.same += 1,
            Verdict::Different(_) => self.different += 1,
            Verdict::LeftOut(_) => {
                self.left_out += 1;
                return;
            }
        }
        for (digest, answers) in self.digests.iter_mut().zip(&runs.answers) {
            if let Some(answer) = Answer::settled(answers).or(answers.first()) {
                answer.feed(&runs.name, digest);
            }
        }
        for (sum, round) in self.seconds.iter_mut().zip(runs.seconds_of_rounds()) {
            sum[0] += round[0];
            sum[1] += round[1];
        }
    }

    /// Prints the last line. A difference is a failure, and so is that nothing was compared.
    fn close(self) -> Result<()> {
        let [before, after] = self.digests.map(|digest| hexadecimal(&digest.finalize()));
        let mut ratios: Vec<f64> = self
            .seconds
            .iter()
            .filter(|[before, _]| *before > 0.0)
            .map(|[before, after]| after / before)
            .collect();
        ratios.sort_by(f64::total_cmp);
        let ratio = match (ratios.first(), ratios.last()) {
            (Some(least), Some(most)) => format!(
                "{:.3} in the median of {} rounds ({least:.3} to {most:.3})",
                ratios[ratios.len() / 2],
                ratios.len()
            ),
            _ => "not measured".to_owned(),
        };
        println!(
            "# compared {}, the same {}, different {}, left out {}; SHA-256 before {before}, after {after}; processor time after/before {ratio}",
            self.same + self.different,
            self.same,
            self.different,
            self.left_out,
        );
        if self.different > 0 {
            bail!("{} of what is compared differ", self.different);
        }
        if self.same < 2 {
            bail!("nothing but the schema was compared; give more with --seconds or --jobs");
        }
        Ok(())
    }
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(words: &[&str]) -> String {
        let words: Vec<String> = words.iter().map(|&word| word.to_owned()).collect();
        match Asked::read(&words) {
            Ok(_) => panic!("{words:?} is not refused"),
            Err(why) => why.to_string(),
        }
    }

    #[test]
    fn words_without_their_value_or_of_another_command_are_refused() {
        assert_eq!(refused(&["--against"]), "--against needs a value");
        assert_eq!(
            refused(&["--against", "HEAD", "--rounds", "few"]),
            "--rounds takes a whole number, not \"few\""
        );
        assert_eq!(
            refused(&["--against", "HEAD", "--size", "huge"]),
            "\"huge\" is not a size; sizes are small, medium, large"
        );
        assert_eq!(
            refused(&["--against", "HEAD", "--seconds", "0"]),
            "--seconds takes a number of seconds, not \"0\""
        );
        assert!(
            refused(&["--against", "HEAD", "--highs", "3"])
                .starts_with("--highs cannot be asked together with --against")
        );
    }

    #[test]
    fn an_unknown_commit_is_one_clear_error() {
        assert_eq!(
            builds::hash("no-such-commit").map_err(|why| why.to_string()),
            Err("there is no commit \"no-such-commit\" in this repository; git log --oneline lists those there are".to_owned())
        );
    }
}
