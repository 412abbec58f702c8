//! A command line as a program, and its results.

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
            // `None` where a signal ended it.
            code: output.status.code(),
            said: output.stdout,
            told: output.stderr,
            seconds: processor_seconds() - before,
        })
    }
}

/// The result of a run.
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

/// The processor seconds that the system has counted for all programs that this one started and waited for; only one runs at a time.
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

/// Elapsed seconds, where the system does not report processor seconds.
#[cfg(not(unix))]
fn processor_seconds() -> f64 {
    use std::{sync::OnceLock, time::Instant};
    static BEGAN: OnceLock<Instant> = OnceLock::new();
    BEGAN.get_or_init(Instant::now).elapsed().as_secs_f64()
}

/// The result of one side for one input in one run: what is compared, and the time it took.
#[derive(Clone, Debug, Default)]
pub struct Answer {
    /// What is compared, each piece with its name. Nothing in it depends on a clock.
    pub pieces: Vec<(&'static str, Vec<u8>)>,
    /// Whether the time was up before all was proven; such results differ from run to run.
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

    /// The first of several runs that no clock stopped.
    pub fn settled(answers: &[Answer]) -> Option<&Answer> {
        answers.iter().find(|answer| !answer.by_clock)
    }

    /// Adds what is compared to a digest, each piece with its name and length, so that different answers have different input.
    pub fn feed(&self, input: &str, digest: &mut Sha256) {
        for (name, bytes) in &self.pieces {
            digest.update(format!("{input}\n{name}\n{}\n", bytes.len()));
            digest.update(bytes);
        }
    }
}

/// Whether a level in a plan file has not reached its bound, so that only the time limit stopped the engine.
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
