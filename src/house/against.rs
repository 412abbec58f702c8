//! `cargo compare --against COMMIT`: this tree's command line and that of a commit, as programs, on the same inputs in turns.
//!
//! Only the command lines of the two are used, so the sources may be rearranged between them. Searches are stopped by a counted number of
//! clock checks where both sides have that option. Otherwise, and in a benchmark, the clock stops some of them. Those are not compared, and
//! neither are printed seconds.

mod asked;
mod builds;
mod difference;
mod inputs;
mod program;
mod runs;
mod verdict;

pub use asked::HELP;
pub use inputs::{ending, entries, search};

use crate::workshop::hexadecimal;
use anyhow::{Context, Result, bail};
use asked::{Asked, Limit};
use inputs::Input;
use program::{Answer, Program};
use runs::Runs;
use sha2::{Digest, Sha256};
use verdict::Verdict;

/// Compares as the arguments ask; prints a line for each input and one at the end.
pub fn run(words: &[String]) -> Result<()> {
    let asked = Asked::read(words)?;
    let hash = builds::hash(&asked.commit)?;
    // All is written into one folder; a temporary one is deleted when this value is dropped.
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
    // This tree is built first, since it may be edited while the other is built.
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

/// The result over all inputs.
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

    /// Prints the result of one input and counts it.
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

    /// Prints the last line. A difference is a failure, and so is a run that compared nothing.
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
