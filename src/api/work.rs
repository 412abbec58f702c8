//! Work in progress: the job that is left, and what goes back to the shed.

use super::actions::{Reply, ends_text, field, part_draft, part_row};
use crate::io::{job_file, plan_file};
use crate::job::{Job, JobDraft, Stretch, Trim, limits, read_stretches, validate};
use crate::length::{Length, exact_text, read_length, with_unit};
use crate::plan::{Plan, Source};
use crate::progress::{
    BoardProgress, Bought, Marks, Progress, Rest, RestState, kept_offcuts, left, left_alone,
};
use serde_json::{Map, Value, json};

/// What a request about work in progress speaks of.
struct Work {
    file: Value,
    draft: JobDraft,
    job: Job,
    plan: Plan,
    progress: Progress,
}

/// The job that is left to plan: cut parts gone, boards left as boards of the shed.
pub fn remaining(request: &Value) -> Reply {
    let work = read(request)?;
    let left = left(&work.job, &work.plan, &work.progress);
    let mut file = work.file.clone();
    let object = file.as_object_mut().ok_or("the job is no object")?;
    let parts = left
        .parts
        .iter()
        .map(|part| part_row(&part_draft(&work.job, part)))
        .collect();
    object.insert("parts".into(), Value::Array(parts));
    object.remove("set_outs");
    let kept = written(&work.draft)
        .into_iter()
        .enumerate()
        .filter(|(index, _)| left.shed_kept.contains(index));
    let mut shed: Vec<Value> = kept.map(|(_, row)| row).collect();
    let mut names = Names::of(&work.job, request);
    shed.extend(
        left.shed_new
            .iter()
            .map(|rest| shed_row(&work.job, rest, &mut names)),
    );
    object.insert("shed".into(), Value::Array(shed));
    if let Some(Value::Array(yard)) = object.get_mut("yard") {
        let missing = missing(request);
        let rows = yard.iter_mut().filter(|row| row_is_written(row));
        for (line, row) in rows.enumerate() {
            let Some(row) = row.as_object_mut() else {
                continue;
            };
            match work.job.yard.get(line).and_then(|yard| yard.count) {
                _ if missing.contains(&line) => {
                    row.insert("count".into(), "0".into());
                }
                Some(count) => {
                    let bought = left.bought.get(line).copied().unwrap_or(0);
                    row.insert(
                        "count".into(),
                        count.saturating_sub(bought).to_string().into(),
                    );
                }
                None => {}
            }
        }
    }
    Ok(json!({
        "job": file,
        "done": left.parts.is_empty(),
        "parts": left.parts.iter().map(|part| json!({
            "label": part.label, "quantity": part.quantity, "length": work.job.style().show(part.length).text,
            "ends": ends_text(&part.ends),
        })).collect::<Vec<_>>(),
    }))
}

/// The boards that go to the shed once the plan is cut, and which of the job's shed are left over and too short to keep.
pub fn finish(request: &Value) -> Reply {
    let work = read(request)?;
    let mut names = Names::of(&work.job, request);
    let shed: Vec<Value> = kept_offcuts(&work.job, &work.plan, &work.progress)
        .iter()
        .map(|rest| shed_row(&work.job, &as_a_tape_reads(rest, work.job.step), &mut names))
        .collect();
    let left = left_alone(&work.job, &work.plan);
    let short: Vec<usize> = left
        .iter()
        .filter(|one| one.short)
        .map(|one| one.shed)
        .collect();
    Ok(json!({ "shed": shed, "short": short }))
}

fn read(request: &Value) -> Result<Work, String> {
    let file = field(request, "job")?.clone();
    let (draft, mut faults) = job_file::read_value(&file);
    let job = match validate(&draft) {
        Ok(job) if faults.is_empty() => job,
        Ok(_) => return Err(faults[0].to_string()),
        Err(more) => {
            faults.extend(more);
            return Err(faults[0].to_string());
        }
    };
    let plan = match field(request, "plan")? {
        // It cannot be read any more: what is bought is all that is known.
        Value::Null => Plan::default(),
        plan => plan_file::read_under_way(plan)?,
    };
    if !fits(&job, &plan) {
        return Err("the plan is of another job".into());
    }
    let progress = progress(&job, request.get("progress").unwrap_or(&Value::Null))?;
    Ok(Work {
        file,
        draft,
        job,
        plan,
        progress,
    })
}

/// Whether every index of the plan exists in the job.
fn fits(job: &Job, plan: &Plan) -> bool {
    plan.boards.iter().all(|board| {
        let known = match board.source {
            Source::Shed(shed) => shed < job.shed.len(),
            Source::Yard(line) => line < job.yard.len(),
        };
        known
            && board
                .runs
                .iter()
                .flat_map(|run| &run.cuts)
                .all(|cut| cut.part < job.parts.len())
    })
}

pub(super) fn progress(job: &Job, value: &Value) -> Result<Progress, String> {
    let length = |value: &Value| -> Result<Option<Length>, String> {
        match value
            .as_str()
            .map(str::trim)
            .filter(|text| !text.is_empty())
        {
            None => Ok(None),
            Some(text) => read_length(text, job.reading)
                .map(Some)
                .map_err(|fault| format!("\"{text}\": {fault}")),
        }
    };
    let mut progress = Progress::default();
    let mut counted = 0usize;
    for board in rows(value, "boards") {
        let spoiled = rows(board, "spoiled")
            .filter_map(Value::as_u64)
            .map(|at| at as usize)
            .collect();
        progress.boards.push(BoardProgress {
            board: whole(board, "board")?,
            cut: whole(board, "cut").unwrap_or(0),
            spoiled,
            bad_from: length(board.get("bad_from").unwrap_or(&Value::Null))?,
        });
    }
    for bought in rows(value, "bought") {
        let mut lengths = rows(bought, "lengths")
            .map(length)
            .collect::<Result<Vec<_>, _>>()?;
        let count = whole(bought, "count").unwrap_or(lengths.len());
        counted = counted.saturating_add(count);
        if limits::BOARDS.passed_by(counted) {
            return Err(format!("bought: {}", limits::BOARDS.told(counted)));
        }
        lengths.resize(count, None);
        let line = whole(bought, "line")?;
        let bad = rows(bought, "bad")
            .map(|text| read_stretches(text.as_str().unwrap_or_default(), job.reading))
            .collect::<Option<Vec<_>>>()
            .ok_or("a bad stretch of a bought board cannot be read")?;
        progress.bought.push(Bought { line, lengths, bad });
    }
    Ok(progress)
}

/// Lines of the yard that turned out not to be there.
fn missing(request: &Value) -> Vec<usize> {
    let progress = request.get("progress").unwrap_or(&Value::Null);
    rows(progress, "missing")
        .filter_map(Value::as_u64)
        .map(|line| line as usize)
        .collect()
}

fn rows<'a>(value: &'a Value, name: &str) -> impl Iterator<Item = &'a Value> + use<'a> {
    value
        .get(name)
        .and_then(Value::as_array)
        .into_iter()
        .flatten()
}

fn whole(value: &Value, name: &str) -> Result<usize, String> {
    let number = value
        .get(name)
        .and_then(Value::as_u64)
        .and_then(|number| usize::try_from(number).ok());
    number
        .filter(|number| *number <= 1_000_000)
        .ok_or_else(|| format!("\"{name}\" should be a whole number"))
}

fn row_is_written(row: &Value) -> bool {
    row.as_object().is_some_and(|row| {
        row.values().any(|value| match value {
            Value::String(text) => !text.trim().is_empty(),
            Value::Null => false,
            _ => true,
        })
    })
}

/// The shed's rows of which something is written, as rows of a job file.
fn written(draft: &JobDraft) -> Vec<Value> {
    let rows = draft.shed.iter().filter(|row| **row != Default::default());
    rows.map(|row| {
        let fields = [
            ("mark", &row.mark),
            ("section", &row.section),
            ("length", &row.length),
            ("bad", &row.bad),
            ("trim", &row.trim),
            ("note", &row.note),
        ];
        let written = fields
            .into_iter()
            .filter_map(|(name, text)| Some((name.to_owned(), text.clone()?.into())));
        Value::Object(written.collect::<Map<_, _>>())
    })
    .collect()
}

/// A rest as long as a tape says it is, never longer than it is and never better.
fn as_a_tape_reads(rest: &Rest, step: Length) -> Rest {
    let length = rest.length.down_to(step);
    let bad = rest.bad.iter().map(|stretch| Stretch {
        from: stretch.from.down_to(step),
        to: stretch.to.up_to(step).min(length),
    });
    Rest {
        length,
        bad: bad.filter(|stretch| stretch.from < stretch.to).collect(),
        trim: Trim {
            datum: rest.trim.datum.up_to(step),
            far: rest.trim.far.up_to(step),
        },
        ..rest.clone()
    }
}

/// A rest of a board as a row of the shed.
fn shed_row(job: &Job, rest: &Rest, names: &mut Names) -> Value {
    let text = |length: Length| exact_text(length, job.reading);
    let spelled =
        |length: Length| with_unit(&text(length), job.reading).unwrap_or_else(|| text(length));
    let bad: Vec<String> = rest
        .bad
        .iter()
        .map(|stretch| format!("{}..{}", spelled(stretch.from), spelled(stretch.to)))
        .collect();
    let from = names.board(job, rest);
    let (mark, note) = match (rest.state, from) {
        (RestState::Carried(cut), Some(from)) => {
            let cut = job.style().show(cut).text;
            let note = format!("rest of {from}, cut at the yard at {cut}");
            (names.marks.rest_of(&from), note)
        }
        (RestState::Carried(_), None) => {
            (names.marks.fresh(), "rest of a bought length".to_owned())
        }
        (RestState::Whole, from) => (
            from.unwrap_or_else(|| names.marks.fresh()),
            BOUGHT.to_owned(),
        ),
        (RestState::Cut, Some(from)) => (names.marks.rest_of(&from), format!("rest of {from}")),
        (RestState::Cut, None) => (names.marks.fresh(), "rest of a bought length".to_owned()),
    };
    json!({
        "mark": mark,
        "section": job.sections[rest.section].name,
        "length": spelled(rest.length),
        "bad": bad.join("; "),
        "trim": format!("{}; {}", spelled(rest.trim.datum), spelled(rest.trim.far)),
        "note": note,
    })
}

/// How a board that is bought and not cut is noted in the shed.
const BOUGHT: &str = "bought, not cut yet";

/// The marks that boards of the plan wear, and free ones for what is left of them.
///
/// A request may say which marks bought boards were given (`progress.bought[].marks`), which a board got when it was first cut
/// (`progress.boards[].mark`), and which are worn elsewhere (`taken`).
struct Names<'a> {
    marks: Marks,
    progress: &'a Value,
}

impl<'a> Names<'a> {
    fn of(job: &Job, request: &'a Value) -> Names<'a> {
        let mut marks = Marks::of(job);
        for mark in rows(request, "taken").filter_map(Value::as_str) {
            marks.take(mark);
        }
        let progress = request.get("progress").unwrap_or(&Value::Null);
        for bought in rows(progress, "bought") {
            for mark in rows(bought, "marks").filter_map(Value::as_str) {
                marks.take(mark);
            }
        }
        Names { marks, progress }
    }

    /// The mark of the board a rest is of, where it has one.
    fn board(&self, job: &Job, rest: &Rest) -> Option<String> {
        let line = match rest.source {
            Source::Shed(shed) => return Some(job.shed[shed].mark.clone()),
            Source::Yard(line) => line,
        };
        let bought = || {
            let bought = rows(self.progress, "bought")
                .find(|bought| whole(bought, "line").is_ok_and(|own| own == line))?;
            rows(bought, "marks").nth(rest.bought?)?.as_str()
        };
        let first_cut = || {
            let board = rows(self.progress, "boards")
                .find(|board| whole(board, "board").ok() == rest.board && rest.board.is_some())?;
            board.get("mark")?.as_str()
        };
        bought()
            .or_else(first_cut)
            .filter(|mark| !mark.trim().is_empty())
            .map(str::to_owned)
    }
}
