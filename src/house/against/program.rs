//! A command line run as a program, and what it answers.

use anyhow::{Context, Result};
use serde_json::Value;
use sha2::{Digest, Sha256};
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// One of the two command lines.
pub struct Program(PathBuf);

impl Program {
    /// The program in this file.
    pub fn new(file: PathBuf) -> Program {
        Program(file)
    }

    /// Runs it to its end in a folder.
    pub fn run<Word: AsRef<OsStr>>(&self, words: &[Word], folder: &Path) -> Result<Ran> {
        let before = processor_seconds();
        let output = Command::new(&self.0)
            .args(words)
            .current_dir(folder)
            .stdin(Stdio::null())
            .output()
            .with_context(|| format!("{} did not start", self.0.display()))?;
        Ok(Ran {
            // Ended by a signal it has none.
            code: output.status.code(),
            said: output.stdout,
            told: output.stderr,
            seconds: processor_seconds() - before,
        })
    }
}

/// What a run came to.
pub struct Ran {
    /// The exit code.
    pub code: Option<i32>,
    /// Standard output.
    pub said: Vec<u8>,
    /// Standard error.
    pub told: Vec<u8>,
    /// Processor seconds of all its threads.
    pub seconds: f64,
}

impl Ran {
    /// The exit code as it is compared.
    pub fn code_text(&self) -> Vec<u8> {
        let code = self.code.map_or("none".to_owned(), |code| code.to_string());
        code.into_bytes()
    }
}

/// What the system has counted for the programs that this one started and waited for; only one runs at a time.
#[cfg(unix)]
fn processor_seconds() -> f64 {
    use nix::sys::resource::{UsageWho, getrusage};
    use nix::sys::time::TimeValLike;
    let usage = getrusage(UsageWho::RUSAGE_CHILDREN);
    usage.map_or(0.0, |usage| {
        let time = usage.user_time() + usage.system_time();
        time.num_microseconds() as f64 / 1e6
    })
}

/// Where the system does not tell, the seconds that passed.
#[cfg(not(unix))]
fn processor_seconds() -> f64 {
    use std::{sync::OnceLock, time::Instant};
    static BEGAN: OnceLock<Instant> = OnceLock::new();
    BEGAN.get_or_init(Instant::now).elapsed().as_secs_f64()
}

/// What one side answers to one input in one run: what is compared, and what it took.
#[derive(Clone, Debug, Default)]
pub struct Answer {
    /// What is compared, each by its name. Nothing in it is told by a clock.
    pub pieces: Vec<(&'static str, Vec<u8>)>,
    /// Whether the time was up before all was proven. What is found by then differs from run to run.
    pub by_clock: bool,
    /// Processor seconds.
    pub seconds: f64,
}

impl Answer {
    /// The piece of this name.
    pub fn piece(&self, name: &str) -> Option<&[u8]> {
        let mut pieces = self.pieces.iter();
        let found = pieces.find(|(of, _)| *of == name);
        found.map(|(_, bytes)| bytes.as_slice())
    }

    /// The first of several runs that no clock ended.
    pub fn settled(answers: &[Answer]) -> Option<&Answer> {
        answers.iter().find(|answer| !answer.by_clock)
    }

    /// Feeds what is compared to a digest, each piece with its name and length, so that no two answers are one.
    pub fn feed(&self, input: &str, digest: &mut Sha256) {
        for (name, bytes) in &self.pieces {
            digest.update(format!("{input}\n{name}\n{}\n", bytes.len()));
            digest.update(bytes);
        }
    }
}

/// Whether a plan file has a level whose bound is not reached: nothing but the time keeps the engine from going on.
pub fn is_open(plan: &[u8]) -> bool {
    let Ok(plan) = serde_json::from_slice::<Value>(plan) else {
        return false;
    };
    let proofs = plan["proofs"].as_array().into_iter().flatten();
    let mut levels = proofs.flat_map(|proof| proof["levels"].as_array().into_iter().flatten());
    levels.any(|level| level["value"] != level["bound"])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plan_is_open_where_a_level_of_any_group_does_not_reach_its_bound() {
        let plan = |last: i64| {
            let closed = r#"{"levels":[{"measure":"bought","value":3,"bound":3}]}"#;
            let other = format!(r#"{{"levels":[{{"measure":"scrap","value":9,"bound":{last}}}]}}"#);
            format!(r#"{{"proofs":[{closed},{other}]}}"#).into_bytes()
        };
        assert!(!is_open(&plan(9)));
        assert!(is_open(&plan(8)));
    }

    #[test]
    fn answers_that_share_their_bytes_otherwise_have_other_digests() {
        let digest = |pieces: Vec<(&'static str, Vec<u8>)>| {
            let mut digest = Sha256::new();
            let answer = Answer {
                pieces,
                ..Answer::default()
            };
            answer.feed("job", &mut digest);
            digest.finalize()
        };
        let one = digest(vec![("plan", b"ab".to_vec()), ("report", b"c".to_vec())]);
        let other = digest(vec![("plan", b"a".to_vec()), ("report", b"bc".to_vec())]);
        assert_ne!(one, other);
    }
}
