//! `cargo figures`: the table of figures of `lengthwise bench`, made anew, with its date, its commit and the machine's noise.

use crate::workshop::{command_line, root};
use anyhow::{Context, Result, bail};
use std::path::Path;
use std::process::Command;

pub const HELP: &str = "\
cargo figures [DIR] [--seconds S] [--jobs N] [--every N]
                         the table of figures: made-up jobs of three sizes and seeds, N of each (20), and the
                         published instances in DIR, of which every N-th; S seconds for each at most (60)";

struct Asked {
    folder: Option<String>,
    seconds: String,
    jobs: String,
    every: String,
}

/// Measures and prints the table as Markdown.
pub fn run(words: &[String]) -> Result<()> {
    let asked = read(words)?;
    let program = command_line(true)?;
    println!(
        "{}, commit {}, {} s for each at most, one thread, seconds of a processor\n",
        said("date", &["-u", "+%F"])?,
        commit()?,
        asked.seconds
    );
    println!(
        "| class | seed | proven | median | worst | worst gap, % | first plan, ms |\n|---|---|---|---|---|---|---|"
    );
    let mut noise = Vec::new();
    for seed in ["1", "2", "3"] {
        let words = [
            "--jobs",
            &asked.jobs,
            "--seed",
            seed,
            "--seconds",
            &asked.seconds,
        ];
        noise.push(rows(&program, &words, seed)?);
    }
    if let Some(folder) = &asked.folder {
        let words = [folder, "--every", &asked.every, "--seconds", &asked.seconds];
        noise.push(rows(&program, &words, "")?);
    }
    println!("\nNoise, run by run:\n");
    for noise in noise {
        println!("- {noise}");
    }
    Ok(())
}

fn read(words: &[String]) -> Result<Asked> {
    let mut asked = Asked {
        folder: None,
        seconds: "60".into(),
        jobs: "20".into(),
        every: "1".into(),
    };
    let mut words = words.iter();
    while let Some(word) = words.next() {
        let mut value = |field: &mut String| -> Result<()> {
            *field = words
                .next()
                .with_context(|| format!("{word} takes a number\n{HELP}"))?
                .clone();
            Ok(())
        };
        match word.as_str() {
            "--seconds" => value(&mut asked.seconds)?,
            "--jobs" => value(&mut asked.jobs)?,
            "--every" => value(&mut asked.every)?,
            folder if asked.folder.is_none() && Path::new(folder).is_dir() => {
                asked.folder = Some(folder.to_owned())
            }
            other => bail!("\"{other}\" is neither a folder nor a word of this command\n{HELP}"),
        }
    }
    Ok(asked)
}

/// Runs the bench and prints a row for each class; what it says of the machine's noise. A contradiction of a published value is an error.
fn rows(program: &Path, words: &[&str], seed: &str) -> Result<String> {
    let ended = Command::new(program)
        .arg("bench")
        .args(words)
        .output()
        .context("the bench did not start")?;
    if !ended.status.success() {
        bail!(
            "bench {} failed: {}",
            words.join(" "),
            String::from_utf8_lossy(&ended.stderr)
        );
    }
    let text = String::from_utf8(ended.stdout)?;
    let (rows, noise) = table(&text, seed)?;
    print!("{rows}");
    Ok(noise)
}

/// The rows of the bench's summary as those of a table, and its line of noise.
fn table(text: &str, seed: &str) -> Result<(String, String)> {
    let summary = text
        .lines()
        .skip_while(|line| !line.starts_with("class,instances,proven"))
        .skip(1);
    let (mut rows, mut noise) = (String::new(), String::new());
    for line in summary {
        if let Some(told) = line.strip_prefix("# ") {
            noise = told.to_owned();
            continue;
        }
        let cells: Vec<&str> = line.split(',').collect();
        let &[
            class,
            all,
            proven,
            median,
            worst,
            gap,
            first,
            contradictions,
        ] = &cells[..]
        else {
            bail!("the bench says \"{line}\", which is no row of its summary");
        };
        if contradictions != "0" {
            bail!("{class}: {contradictions} published values are contradicted");
        }
        rows.push_str(&format!(
            "| {class} | {seed} | {proven} of {all} | {median} | {worst} | {gap} | {first} |\n"
        ));
    }
    if rows.is_empty() || noise.is_empty() {
        bail!("the bench has no summary");
    }
    Ok((rows, noise))
}

fn commit() -> Result<String> {
    let hash = said("git", &["rev-parse", "--short", "HEAD"])?;
    let changed = !said("git", &["status", "--porcelain", "--untracked-files=no"])?.is_empty();
    Ok(if changed {
        format!("{hash} and changes")
    } else {
        hash
    })
}

fn said(program: &str, words: &[&str]) -> Result<String> {
    let ended = Command::new(program)
        .args(words)
        .current_dir(root())
        .output();
    let ended = ended.with_context(|| format!("{program} did not start"))?;
    Ok(String::from_utf8_lossy(&ended.stdout).trim().to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    const SAID: &str = "class,instance,stock_used_or_cost,bound,proven,seconds,nodes,columns\na,1,5,5,yes,0.1,1,2\n\n\
        class,instances,proven,median_seconds,worst_seconds,worst_gap_percent,median_first_ms,contradictions\na,3,2,0.100,0.500,1.250,0.4,0\n# noise\n";

    #[test]
    fn a_summary_becomes_a_table() {
        let (rows, noise) = table(SAID, "7").expect("a summary");
        assert_eq!(rows, "| a | 7 | 2 of 3 | 0.100 | 0.500 | 1.250 | 0.4 |\n");
        assert_eq!(noise, "noise");
    }

    #[test]
    fn a_contradiction_and_a_text_without_a_summary_are_errors() {
        assert!(table(&SAID.replace(",0.4,0", ",0.4,1"), "7").is_err());
        assert!(table("class,instance\n", "7").is_err());
    }
}
