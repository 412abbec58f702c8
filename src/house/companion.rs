//! Another program that answers requests: one line of JSON in, one line of JSON out.

use anyhow::{Context, Result, bail};
use serde_json::Value;
use std::io::{BufRead, BufReader, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

/// A program that runs beside this one; it is ended when this is dropped.
pub struct Companion {
    process: Child,
    questions: ChildStdin,
    answers: BufReader<ChildStdout>,
}

impl Companion {
    /// Starts a program.
    pub fn start(command: &mut Command) -> Result<Companion> {
        let shown = format!("{command:?}");
        let mut process = command
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .with_context(|| format!("{shown} did not start"))?;
        let questions = process.stdin.take().context("it cannot be asked")?;
        let answers = process.stdout.take().context("it cannot be heard")?;
        Ok(Companion {
            process,
            questions,
            answers: BufReader::new(answers),
        })
    }

    /// Sends a request and waits for the reply. An error where the program ended or reports a failure.
    pub fn ask(&mut self, question: &Value) -> Result<Value> {
        writeln!(self.questions, "{question}")?;
        self.questions.flush()?;
        let mut line = String::new();
        self.answers.read_line(&mut line)?;
        let answer: Value = serde_json::from_str(&line)
            .with_context(|| format!("{line:?} is no answer to {question}"))?;
        if let Some(failure) = answer.get("failure") {
            bail!("{failure}");
        }
        Ok(answer)
    }
}

impl Drop for Companion {
    fn drop(&mut self) {
        // One that has ended already cannot be ended again; that is no error.
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}
