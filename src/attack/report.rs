//! Runs the parts one after the other, shares the time among them, and prints the result of each.

use crate::page;
use crate::parts::{PARTS, Part};
use crate::places::{self, Places};
use crate::run::{self, Counts};
use std::io::Read;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

/// The arguments of a run.
pub struct Asked {
    /// Seconds in all.
    pub seconds: f64,
    /// The only part to run, where one is named.
    pub part: Option<String>,
    /// The seed of the random numbers.
    pub seed: u64,
}

/// How long after its time a part is killed. A case may take 20 s of work, and shrinking a failing case takes 8 s; the machine may have
/// other work too.
const GRACE: Duration = Duration::from_secs(120);

/// Seconds to start a part, subtracted from its share beforehand. Time left over when a part ends early is not redistributed.
const STARTING: f64 = 0.2;

/// Runs the attack.
///
/// # Errors
/// A failing case was found, or a part could not be run.
pub fn attack(asked: &Asked) -> Result<(), String> {
    let places = Places::open()?;
    let wanted = |name: &str| asked.part.as_deref().is_none_or(|part| part == name);
    // A part has the same seed whether it runs alone or with the others, so that a find can be met again alone.
    let parts: Vec<(u64, &Part)> = (0..)
        .zip(PARTS)
        .filter(|(_, part)| wanted(part.name))
        .collect();
    let with_page = wanted(page::NAME);
    let shares: u32 = parts.iter().map(|(_, part)| part.share).sum::<u32>()
        + if with_page { page::SHARE } else { 0 };
    let seconds = |share: u32| {
        (asked.seconds * f64::from(share) / f64::from(shares.max(1)) - STARTING).max(0.0)
    };
    println!("seed {}", asked.seed);
    println!(
        "{:10} {:>10} {:>7} {:>9}",
        "part", "cases", "finds", "seconds"
    );
    let mut finds = 0;
    let mut told = Vec::new();
    let mut show = |name: &str, counts: Counts, began: Instant| {
        let took = began.elapsed().as_secs_f64();
        let met = counts
            .met
            .iter()
            .map(|(name, count)| format!("{count} {name}"));
        let met = met.collect::<Vec<_>>().join(", ");
        println!(
            "{name:10} {:>10} {:>7} {took:>9.1}  {met}",
            counts.cases, counts.finds
        );
        finds += counts.finds;
        told.extend(
            counts
                .told
                .into_iter()
                .map(|find| format!("{name}: {find}")),
        );
    };
    for (index, part) in &parts {
        let began = Instant::now();
        let seed = asked.seed.wrapping_add(*index);
        let counts = one(part, seconds(part.share), seed, &places)?;
        show(part.name, counts, began);
    }
    if with_page && page::is_there() {
        let began = Instant::now();
        show(
            page::NAME,
            page::run(seconds(page::SHARE), asked.seed)?,
            began,
        );
    }
    for find in &told {
        println!("\n{find}");
    }
    match finds {
        0 => Ok(()),
        _ => Err(format!(
            "{finds} cases went wrong; cargo attack --again FILE judges one again"
        )),
    }
}

/// Runs one part in a process of its own.
fn one(part: &Part, seconds: f64, seed: u64, places: &Places) -> Result<Counts, String> {
    let program = std::env::current_exe().map_err(|error| error.to_string())?;
    let mut process = Command::new(program)
        .args(["--inside", "--part", part.name])
        .args([
            "--seconds",
            &seconds.to_string(),
            "--seed",
            &seed.to_string(),
        ])
        .stdout(Stdio::piped())
        .spawn()
        .map_err(|error| format!("{} did not start: {error}", part.name))?;
    let number = process.id();
    let end = ended(&mut process, Duration::from_secs_f64(seconds) + GRACE);
    let mut said = String::new();
    if let Some(mut output) = process.stdout.take() {
        // Output that is no text is no report either.
        let _ = output.read_to_string(&mut said);
    }
    let counts = said.lines().last().and_then(Counts::read);
    if let (Ok(()), Some(counts)) = (&end, counts) {
        return Ok(counts);
    }
    let why = match end {
        Ok(()) => "died: the process said nothing".to_owned(),
        Err(why) => why,
    };
    let file = places
        .left_behind(part.name, number, &why)
        .unwrap_or_default();
    Ok(Counts {
        finds: 1,
        told: vec![format!("{why}\n    {file}")],
        ..Counts::default()
    })
}

/// Waits for a process to end, and kills it where it is late.
fn ended(process: &mut Child, most: Duration) -> Result<(), String> {
    let began = Instant::now();
    loop {
        match process.try_wait().map_err(|error| error.to_string())? {
            Some(status) if status.success() => return Ok(()),
            Some(status) => return Err(format!("died: {status}")),
            None if began.elapsed() > most => {
                // Where it ends by itself at this moment there is nothing to kill.
                let _ = process.kill();
                let _ = process.wait();
                return Err("did not end: the case was stopped from outside".into());
            }
            None => thread::sleep(Duration::from_millis(20)),
        }
    }
}

/// Judges the case in a file again.
///
/// # Errors
/// What the engine still gets wrong, or why the file cannot be read.
pub fn again(file: &Path) -> Result<(), String> {
    let (name, case) = places::read(file)?;
    let part = PARTS.iter().find(|part| part.name == name);
    let part = part.ok_or_else(|| format!("there is no part \"{name}\""))?;
    run::note_panics();
    let met = run::judged((part.open)().as_mut(), &case)?;
    println!("nothing is wrong: {}", met.join(", "));
    Ok(())
}
