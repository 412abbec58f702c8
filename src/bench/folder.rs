//! Folders of published instances with their published bounds, and of job files.

use super::{Instance, job_files, parse};
use std::collections::HashMap;
use std::fs;
use std::path::{Path, PathBuf};

/// The published lower and upper bound of instances, by class and name.
type Published = HashMap<(String, String), (Option<i64>, Option<i64>)>;

/// All instances and jobs of `folder`: `folder/<class>/<instance>.txt`, with the bounds of `folder/bounds.csv` where there is one, and job
/// files, `folder/<job>.json` and `folder/<class>/<job>.json`. A job is one problem for each group of sections that are planned together. A
/// JSON file is a job only if its `format` says so; any other is skipped.
///
/// # Errors
/// A folder or file that cannot be read, a file that is no instance, or a job with a fault, each by its path; a folder without instances
/// and jobs.
pub fn read_folder(folder: &Path) -> Result<Vec<Instance>, String> {
    let published = fs::read_to_string(folder.join("bounds.csv"))
        .map(|text| read_bounds(&text))
        .unwrap_or_default();
    let mut instances = Vec::new();
    let whole = fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
    for path in entries(folder)? {
        if path.is_dir() {
            let class = stem(&path);
            for file in entries(&path)? {
                match ending(&file) {
                    "txt" => instances.push(read_instance(&class, &file, &published)?),
                    "json" => instances.extend(read_job(&class, &file)?),
                    _ => {}
                }
            }
        } else if ending(&path) == "json" {
            instances.extend(read_job(&stem(&whole), &path)?);
        }
    }
    if instances.is_empty() {
        return Err(format!(
            "{} holds neither instances nor jobs; instances are .txt files in folders in it, jobs are .json files in it or in those",
            folder.display()
        ));
    }
    Ok(instances)
}

fn read_instance(class: &str, file: &Path, published: &Published) -> Result<Instance, String> {
    let text = read(file)?;
    let problem = parse(&text).map_err(|error| format!("{}: {error}", file.display()))?;
    let name = stem(file);
    let published = published.get(&(class.to_owned(), name.clone()));
    Ok(Instance {
        class: class.to_owned(),
        published: published.copied().unwrap_or_default(),
        name,
        text,
        problem,
    })
}

/// The groups of a job file; from the second on, the name ends with the group's number. Empty where the file is no job.
fn read_job(class: &str, file: &Path) -> Result<Vec<Instance>, String> {
    let text = read(file)?;
    let is_job = crate::io::job_file::is_one(&text);
    if !is_job.map_err(|error| format!("{}: {error}", file.display()))? {
        return Ok(Vec::new());
    }
    let problems =
        job_files::problems(&text).map_err(|fault| format!("{}: {fault}", file.display()))?;
    let name = |group: usize| match group {
        0 => stem(file),
        _ => format!("{}.{}", stem(file), group + 1),
    };
    let instances = problems.into_iter().enumerate();
    Ok(instances
        .map(|(group, problem)| Instance {
            class: class.to_owned(),
            name: name(group),
            text: job_files::of_group(group, &text),
            problem,
            published: (None, None),
        })
        .collect())
}

fn read(file: &Path) -> Result<String, String> {
    fs::read_to_string(file).map_err(|error| format!("{}: {error}", file.display()))
}

fn stem(path: &Path) -> String {
    path.file_stem()
        .map(|name| name.to_string_lossy().into_owned())
        .unwrap_or_default()
}

fn ending(path: &Path) -> &str {
    path.extension()
        .and_then(|ending| ending.to_str())
        .unwrap_or_default()
}

fn read_bounds(text: &str) -> Published {
    text.lines()
        .skip(1)
        .filter_map(|line| {
            let mut fields = line.split(',');
            let key = (fields.next()?.to_owned(), fields.next()?.to_owned());
            let mut bound = || fields.next().and_then(|field| field.trim().parse().ok());
            Some((key, (bound(), bound())))
        })
        .collect()
}

fn entries(folder: &Path) -> Result<Vec<PathBuf>, String> {
    let listing = fs::read_dir(folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    let mut paths: Vec<_> = listing
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .collect();
    paths.sort();
    Ok(paths)
}
