//! Folders of published instances, and the bounds published of them.

use super::{Instance, parse};
use std::collections::HashMap;
use std::fs;
use std::path::Path;

/// All instances under `folder`: `folder/<class>/<instance>.txt`, with the bounds of `folder/bounds.csv` where there is one.
///
/// # Errors
/// A folder or file that cannot be read, or a file that is not an instance, by its path.
pub fn read_folder(folder: &Path) -> Result<Vec<Instance>, String> {
    let published = fs::read_to_string(folder.join("bounds.csv"))
        .map(|text| read_bounds(&text))
        .unwrap_or_default();
    let mut instances = Vec::new();
    for class in entries(folder)? {
        if !class.is_dir() {
            continue;
        }
        for file in entries(&class)? {
            if file.extension().is_none_or(|ending| ending != "txt") {
                continue;
            }
            let text = fs::read_to_string(&file)
                .map_err(|error| format!("{}: {error}", file.display()))?;
            let problem = parse(&text).map_err(|error| format!("{}: {error}", file.display()))?;
            let stem = |path: &Path| {
                path.file_stem()
                    .map(|name| name.to_string_lossy().into_owned())
                    .unwrap_or_default()
            };
            let (class, name) = (stem(&class), stem(&file));
            let published = published
                .get(&(class.clone(), name.clone()))
                .copied()
                .unwrap_or_default();
            instances.push(Instance {
                class,
                name,
                text,
                problem,
                published,
            });
        }
    }
    Ok(instances)
}

fn read_bounds(text: &str) -> HashMap<(String, String), (Option<i64>, Option<i64>)> {
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

fn entries(folder: &Path) -> Result<Vec<std::path::PathBuf>, String> {
    let listing = fs::read_dir(folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    let mut paths: Vec<_> = listing
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .collect();
    paths.sort();
    Ok(paths)
}
