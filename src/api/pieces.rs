//! Several pieces joined into one job, so that one trip to the yard serves them all and offcuts of one feed another.

use super::parts::{part_draft, part_row};
use super::request::Reply;
use crate::io::job_file;
use crate::io::objects::object;
use crate::job::{examine, validate};
use crate::limits;
use order::Set;
use serde_json::{Map, Value, json};

/// Joins jobs: `{jobs: [job...]}` gives `{job}`, whose parts are those of all pieces, each labelled with its piece.
///
/// Sections of one name must be the same in all jobs. Equal lines of the yard become one, as do shed boards of one mark, since there
/// is one shed. The joint job takes its unit, saw and aim from the first; lengths are written so that they read back exactly.
pub fn join(request: &Value) -> Reply {
    let jobs = super::request::field(request, "jobs")?
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
        Gathered::of("sections", "name"),
        Gathered::of("yard", ""),
        Gathered::of("yards", "name"),
        Gathered::of("shed", "mark"),
    ];
    let reading = examine(&job_file::read_value(&jobs[0]).0).0.reading;
    for (index, value) in jobs.iter().enumerate() {
        let (draft, faults) = job_file::read_value(value);
        let named = draft
            .own
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
        for gathered in &mut lists {
            let rows = value.get(gathered.list).and_then(Value::as_array);
            for row in rows.into_iter().flatten() {
                gathered.add(row).map_err(|why| format!("{named}: {why}"))?;
            }
        }
        within("parts", parts.len() + job.list.len()).map_err(|why| format!("{named}: {why}"))?;
        for part in &job.list {
            let mut row = part_row(&part_draft(&job, part));
            row["label"] = limits::LABEL.cut(format!("{named}: {}", part.label)).into();
            // Letters are a piece's own, and two pieces may have one.
            row["letter"] = Value::Null;
            parts.push(row);
        }
        names.push(named);
    }
    joint.insert("piece".into(), limits::NAME.cut(names.join(" + ")).into());
    for gathered in lists {
        joint.insert(gathered.list.into(), Value::Array(gathered.rows));
    }
    joint.insert("parts".into(), Value::Array(parts));
    joint.remove("set_outs");
    Ok(object!({ "job": joint }))
}

/// The rows of one list, gathered from several jobs.
struct Gathered {
    list: &'static str,
    /// The field that names a row; empty where rows have no name.
    key: &'static str,
    rows: Vec<Value>,
    /// The rows so far, each as [`canonical`] writes it, and their names.
    texts: Set<String>,
    names: Set<String>,
}

impl Gathered {
    fn of(list: &'static str, key: &'static str) -> Gathered {
        Gathered {
            list,
            key,
            rows: Vec::new(),
            texts: Set::new(),
            names: Set::new(),
        }
    }

    /// Adds a row unless an equal one is there. Two different rows with one name are an error.
    fn add(&mut self, row: &Value) -> Result<(), String> {
        if !self.texts.insert(canonical(row)) {
            return Ok(());
        }
        let name = row.get(self.key).and_then(Value::as_str).map(str::trim);
        if let Some(name) = name.filter(|name| !name.is_empty())
            && !self.names.insert(name.to_owned())
        {
            return Err(format!(
                "\"{name}\" is described differently in another piece; make them alike or rename one"
            ));
        }
        self.rows.push(row.clone());
        within(self.list, self.rows.len())
    }
}

/// An error where a list of the joint job would have more rows than a job may.
fn within(list: &str, rows: usize) -> Result<(), String> {
    match limits::of_list(list) {
        Some((_, limit)) if limit.passed_by(rows) => Err(limit.told(rows)),
        _ => Ok(()),
    }
}

/// A row as text with its fields sorted, so that equal rows have equal texts.
fn canonical(row: &Value) -> String {
    let mut fields: Vec<(&String, &Value)> = row.as_object().into_iter().flatten().collect();
    order::sort_by(&mut fields, |one, other| one.0.cmp(other.0));
    json!([fields, if row.is_object() { &Value::Null } else { row }]).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(name: &str, shed: Value) -> Value {
        json!({ "format": "lengthwise-job", "piece": name, "sections": [{ "name": "batten" }],
            "yard": [{ "length": "2.4 m" }], "shed": shed, "parts": [{ "label": "rung", "length": 560 }] })
    }

    fn joined(shed: [Value; 2]) -> Result<Value, String> {
        let [one, other] = shed;
        join(&json!({ "jobs": [piece("gate", one), piece("frame", other)] }))
    }

    #[test]
    fn equal_rows_become_one_in_whatever_order_their_fields_stand() {
        let reply = joined([
            json!([{ "mark": "A", "length": 900 }, { "length": 700 }]),
            json!([{ "length": 900, "mark": "A" }, { "length": 800 }]),
        ]);
        let shed = &reply.expect("the pieces go together")["job"]["shed"];
        assert_eq!(
            *shed,
            json!([{ "mark": "A", "length": 900 }, { "length": 700 }, { "length": 800 }])
        );
        let contradicted = joined([
            json!([{ "mark": "A", "length": 900 }]),
            json!([{ "mark": " A", "length": 901 }]),
        ]);
        assert!(
            contradicted
                .expect_err("one mark")
                .starts_with("frame: \"A\"")
        );
    }

    #[test]
    fn pieces_that_make_more_rows_together_than_a_job_has_are_not_joined() {
        let most = limits::SHED.most;
        let boards = |from: usize| {
            (from..from + most).map(|at| json!({ "length": 900 + at, "mark": at.to_string() }))
        };
        let reply = joined([boards(0).collect(), boards(1).collect()]);
        assert_eq!(
            reply,
            Err(format!("frame: {}", limits::SHED.told(most + 1)))
        );
    }

    #[test]
    fn letters_of_a_piece_are_not_those_of_several() {
        let lettered = |name: &str| {
            let mut piece = piece(name, json!([]));
            piece["parts"][0]["letter"] = "C".into();
            piece
        };
        let reply = join(&json!({ "jobs": [lettered("gate"), lettered("frame")] }));
        let job = &reply.expect("the pieces go together")["job"];
        let (draft, faults) = job_file::read_value(job);
        assert_eq!(faults, []);
        let job = validate(&draft).expect("a sound job");
        assert_eq!(job.letters(), [0, 1]);
    }
}
