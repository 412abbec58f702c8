//! Several pieces at once: their jobs made into one, so that one trip to the yard serves them all and offcuts of one feed another.

use super::actions::{Reply, part_draft, part_row};
use crate::io::job_file;
use crate::job::{examine, limits, validate};
use serde_json::{Map, Value, json};

/// Joins jobs: `{jobs: [job...]}` gives `{job}`, whose parts are those of all pieces, each labelled with its piece.
///
/// Sections of one name must be the same in all jobs. Equal lines of the yard become one, as do shed boards of one mark, since there
/// is one shed. The joint job takes its unit, saw and aim from the first; lengths are written so that they read back exactly.
pub fn join(request: &Value) -> Reply {
    let jobs = super::actions::field(request, "jobs")?
        .as_array()
        .ok_or("\"jobs\" should be a list")?;
    let first = jobs
        .first()
        .and_then(Value::as_object)
        .ok_or("there are no jobs to join")?;
    if limits::PIECES.passed_by(jobs.len()) {
        return Err(limits::PIECES.told(jobs.len()));
    }
    let mut joint: Map<String, Value> = first.clone();
    let (mut parts, mut names) = (Vec::new(), Vec::new());
    let mut lists = [
        ("sections", "name", Vec::new()),
        ("yard", "", Vec::new()),
        ("shed", "mark", Vec::new()),
    ];
    let reading = examine(&job_file::read_value(&jobs[0]).0).0.reading;
    for (index, value) in jobs.iter().enumerate() {
        let (draft, faults) = job_file::read_value(value);
        let named = draft
            .piece
            .clone()
            .unwrap_or_else(|| format!("piece {}", index + 1));
        let job = match validate(&draft) {
            Ok(job) if faults.is_empty() => job,
            Ok(_) => return Err(format!("{named}: {}", faults[0])),
            Err(more) => return Err(format!("{named}: {}", more[0])),
        };
        if job.reading != reading {
            return Err(format!(
                "{named} is written in another unit or decimal sign; set the pieces alike to plan them together"
            ));
        }
        for (list, key, rows) in &mut lists {
            for row in value
                .get(*list)
                .and_then(Value::as_array)
                .into_iter()
                .flatten()
            {
                add(rows, row, key).map_err(|why| format!("{named}: {why}"))?;
            }
        }
        for part in &job.parts {
            let mut row = part_row(&part_draft(&job, part));
            row["label"] = limits::LABEL.cut(format!("{named}: {}", part.label)).into();
            parts.push(row);
        }
        names.push(named);
    }
    joint.insert("piece".into(), limits::NAME.cut(names.join(" + ")).into());
    for (list, _, rows) in lists {
        joint.insert(list.into(), Value::Array(rows));
    }
    joint.insert("parts".into(), Value::Array(parts));
    joint.remove("set_outs");
    Ok(json!({ "job": joint }))
}

/// Adds a row unless an equal one is there. Rows that share their key but nothing else are a contradiction.
fn add(rows: &mut Vec<Value>, row: &Value, key: &str) -> Result<(), String> {
    if rows.contains(row) {
        return Ok(());
    }
    let name = row
        .get(key)
        .and_then(Value::as_str)
        .map(str::trim)
        .unwrap_or("");
    let twin = rows.iter().find(|other| {
        !name.is_empty() && other.get(key).and_then(Value::as_str).map(str::trim) == Some(name)
    });
    match twin {
        Some(_) => Err(format!(
            "\"{name}\" is described differently in another piece; make them alike or rename one"
        )),
        None => {
            rows.push(row.clone());
            Ok(())
        }
    }
}
