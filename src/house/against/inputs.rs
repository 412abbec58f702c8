//! The inputs of both sides: job files, folders of instances, and jobs made up from a seed.

use super::asked::Asked;
use crate::dice::Dice;
use crate::jobs;
use anyhow::{Context, Result, bail};
use lengthwise::io::job_file;
use serde_json::{Value, json};
use std::fmt;
use std::fs;
use std::path::{Path, PathBuf};

/// One input.
pub enum Input {
    /// Print the schema of job files.
    Schema,
    /// Plan a job file.
    Job(PathBuf),
    /// Run a benchmark with these arguments; each of its problems is compared by itself.
    Bench(Vec<String>),
}

impl fmt::Display for Input {
    fn fmt(&self, output: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Input::Schema => write!(output, "schema"),
            Input::Job(file) => {
                let folder = file.parent().and_then(Path::file_name).unwrap_or_default();
                let name = file.file_name().unwrap_or_default();
                write!(output, "{}/{}", folder.display(), name.display())
            }
            Input::Bench(words) => write!(output, "bench {}", words.join(" ")),
        }
    }
}

/// The job files of a folder and its subfolders, and one benchmark where those hold instances. A file that is no JSON is an input too,
/// since both sides must refuse it alike. JSON that is no job is not.
pub fn of_folder(folder: &Path) -> Result<Vec<Input>> {
    let (mut inputs, mut has_instances) = (Vec::new(), false);
    for place in entries(folder)? {
        if place.is_dir() {
            for inside in entries(&place)? {
                has_instances |= ending(&inside) == "txt";
                inputs.extend(of_file(&inside)?);
            }
        } else {
            inputs.extend(of_file(&place)?);
        }
    }
    if has_instances {
        let whole = std::path::absolute(folder)?;
        inputs.push(Input::Bench(vec![whole.to_string_lossy().into_owned()]));
    }
    if inputs.is_empty() {
        bail!(
            "{} holds neither jobs nor instances; jobs are .json files in it or in folders in it, instances are .txt files in folders in it",
            folder.display()
        );
    }
    Ok(inputs)
}

fn of_file(file: &Path) -> Result<Option<Input>> {
    if ending(file) != "json" {
        return Ok(None);
    }
    let text = fs::read(file).with_context(|| format!("{} cannot be read", file.display()))?;
    let is_other = job_file::is_one(&String::from_utf8_lossy(&text)) == Ok(false);
    Ok((!is_other).then(|| Input::Job(file.to_owned())))
}

pub fn entries(folder: &Path) -> Result<Vec<PathBuf>> {
    let told = || format!("{} is no folder that can be read", folder.display());
    let mut places = fs::read_dir(folder)
        .with_context(told)?
        .map(|entry| Ok(entry?.path()))
        .collect::<Result<Vec<_>>>()?;
    places.sort();
    Ok(places)
}

pub fn ending(path: &Path) -> &str {
    let ending = path.extension().and_then(|ending| ending.to_str());
    ending.unwrap_or_default()
}

/// Jobs made up from the seed, written into `folder`: small ones of every kind from the attack's generator, and longer searches. In
/// addition a benchmark with its own made-up jobs.
pub fn made_up(asked: &Asked, folder: &Path) -> Result<Vec<Input>> {
    if asked.jobs == 0 {
        return Ok(Vec::new());
    }
    fs::create_dir_all(folder)?;
    let mut inputs = Vec::new();
    let mut add = |name: String, job: &Value| -> Result<()> {
        let file = folder.join(name);
        fs::write(&file, format!("{job:#}\n"))?;
        inputs.push(Input::Job(file));
        Ok(())
    };
    let (seed, dice) = (asked.seed, &mut Dice::new(asked.seed));
    for number in 0..asked.jobs {
        add(format!("sort-{seed}-{number}.json"), &jobs::job(dice))?;
    }
    for size in &asked.sizes {
        let dice = &mut Dice::new(asked.seed);
        for number in 0..asked.jobs {
            let name = format!("search-{size}-{seed}-{number}.json");
            add(name, &search(dice, size))?;
        }
    }
    for size in &asked.sizes {
        let (count, seed) = (asked.jobs.to_string(), seed.to_string());
        let words = ["--jobs", &count, "--seed", &seed, "--size", size];
        inputs.push(Input::Bench(words.map(str::to_owned).to_vec()));
    }
    Ok(inputs)
}

/// A job that takes some search: shelves of several lengths, from several lengths on sale and boards of the shed.
pub fn search(dice: &mut Dice, size: &str) -> Value {
    let lengths = match size {
        "small" => dice.between(4, 12),
        "medium" => dice.between(13, 24),
        _ => dice.between(25, 50),
    };
    let per_metre = dice.between(200, 500);
    let yard: Vec<Value> = (0..dice.between(2, 6))
        .map(|step| {
            let length = 2_400 + 600 * step;
            let price = jobs::money(per_metre * length / 1_000 + dice.between(-25, 25));
            json!({ "section": "shelf", "length": length.to_string(), "price": price })
        })
        .collect();
    let shed: Vec<Value> = (0..dice.between(0, 6))
        .map(|number| {
            let length = dice.between(600, 3_600).to_string();
            json!({ "mark": format!("S{number}"), "section": "shelf", "length": length })
        })
        .collect();
    let parts: Vec<Value> = (0..lengths)
        .map(|row| {
            let longest = dice.one_of(&[700, 1_200, 2_200]);
            json!({
                "label": format!("shelf {row}"), "section": "shelf",
                "length": dice.between(180, longest).to_string(), "quantity": dice.between(1, 10),
            })
        })
        .collect();
    json!({
        "format": "lengthwise-job", "version": 1, "unit": "mm",
        "piece": "shelves", "aim": dice.one_of(&["fewest", "cheapest", "shortest"]),
        "saw": { "kerf": dice.one_of(&["2.4", "3.2"]), "keep": "300" },
        "sections": [{ "name": "shelf", "thickness": "18", "width": "220" }],
        "yard": yard, "shed": shed, "parts": parts,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use lengthwise::job::validate;

    fn names(inputs: &[Input]) -> Vec<String> {
        inputs.iter().map(Input::to_string).collect()
    }

    #[test]
    fn every_search_made_up_is_a_sound_job() {
        for size in crate::against::asked::SIZES {
            let mut dice = Dice::new(1);
            for _ in 0..50 {
                let (draft, faults) = job_file::read_value(&search(&mut dice, size));
                assert!(faults.is_empty() && validate(&draft).is_ok());
            }
        }
    }

    #[test]
    fn a_folder_gives_its_jobs_and_one_bench_for_its_instances() {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path();
        fs::create_dir(place.join("paper")).unwrap();
        fs::write(place.join("a.json"), r#"{"format":"lengthwise-job"}"#).unwrap();
        fs::write(place.join("b.json"), r#"{"format":"of another kind"}"#).unwrap();
        fs::write(place.join("paper/c.json"), "{ spoilt").unwrap();
        fs::write(place.join("paper/mill.txt"), "1\n10\n3 4\n").unwrap();
        let inputs = of_folder(place).unwrap();
        let own = place.file_name().unwrap().display();
        let expected = [
            format!("{own}/a.json"),
            "paper/c.json".to_owned(),
            format!("bench {}", place.display()),
        ];
        assert_eq!(names(&inputs), expected);
    }

    #[test]
    fn a_folder_that_is_not_there_or_holds_nothing_is_an_error() {
        let folder = tempfile::tempdir().unwrap();
        let told =
            |folder: &Path| of_folder(folder).map_or_else(|why| why.to_string(), |_| String::new());
        let place = folder.path();
        assert!(told(place).starts_with(&format!(
            "{} holds neither jobs nor instances;",
            place.display()
        )));
        let none = place.join("none");
        assert_eq!(
            told(&none),
            format!("{} is no folder that can be read", none.display())
        );
    }
}
