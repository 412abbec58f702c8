//! Work in progress: the job that is left to plan, and what goes back to the shed.

use super::parts::{part_draft, part_row};
use super::request::{Reply, field};
use crate::exact_yard::as_planned;
use crate::io::objects::object;
use crate::io::{job_file, plan_file};
use crate::job::{
    EdgeJoint, Job, JobDraft, SectionDraft, ShedDraft, Sides, Treated, ends_told, read_stretches,
    validate,
};
use crate::length::{Length, exact_text, read_length, with_unit};
use crate::limits;
use crate::plan::{Plan, PlannedBoard, Source};
use crate::progress::{
    BoardProgress, Bought, Marks, Progress, Rest, RestState, as_begun, kept_offcuts, left,
    left_alone, section_name,
};
use crate::report::{in_hand, key_by_hand, keys};
use serde_json::{Map, Value};
use timber::draft::{COUNTS_AS, FACTORY_ENDS};
use timber::fields::Row;

/// The input of a request about work in progress: the job, its plan and what is done.
struct Work {
    file: Value,
    draft: JobDraft,
    job: Job,
    plan: Plan,
    progress: Progress,
}

/// The job that is left to plan: parts that are cut are gone from it, and what is left of boards is in its shed.
///
/// `came` says how each row of its shed came there, since notes are words for people and programs do not read them. It has one value for
/// each row: `null` for a board that was there before the work, else `{how, of?, cut?, end?, in_hand?}`. `how` is `bought` (still whole), `rest` (of a
/// board that was cut) or `carried` (one of the two pieces of a length that the yard cut, at the reading `cut`). `of` is the mark of the
/// board it came from, and `end` the end of a rest on which the tape is hooked, in words where it matters; `in_hand` says that it is what is in hand after the last cut. Entries of the request's own `came` are passed on for rows that stay.
///
/// `keys` has by the key of each of its parts that of the row of the request's job that it is of, and `made` and `spoiled` are `[key, count]` for each of these rows
/// of which any are cut and sound, or cut and spoiled.
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
    // What is still to be had in reserve is among the parts.
    if let Some(Value::Array(sections)) = object.get_mut("sections") {
        for section in sections.iter_mut().filter_map(Value::as_object_mut) {
            section.remove("spares");
            section.remove("hidden_defects");
        }
    }
    let known: Vec<Value> = rows(request, "came").cloned().collect();
    let kept = written(&work.draft)
        .into_iter()
        .enumerate()
        .filter(|(index, _)| left.shed_kept.contains(index));
    let (mut shed, mut came): (Vec<Value>, Vec<Value>) = kept
        .map(|(index, row)| (row, known.get(index).cloned().unwrap_or_default()))
        .unzip();
    let mut names = Names::of(&work.job, request);
    names.as_told(&work);
    let room = limits::SHED.most.saturating_sub(shed.len());
    let (strips, pieces): (Vec<&Rest>, Vec<&Rest>) =
        left.shed_new.iter().partition(|rest| rest.strip.is_some());
    // Strips come last: where there is no room for all they are left out.
    let strips = strips.into_iter().take(room.saturating_sub(pieces.len()));
    for rest in pieces.into_iter().chain(strips) {
        if rest.strip.is_some() && !add_section(object, &work, rest) {
            continue;
        }
        let (mut row, mut how) = shed_row(&work, rest, &mut names);
        if let (Source::Shed(shed), RestState::Whole) = (rest.source, rest.state) {
            how = known.get(shed).cloned().unwrap_or_default();
        }
        // What was bought stays new timber: for parts that are made from it alone or not at all, and in words.
        if work.job.is_new(rest.source) {
            row["counts_as"] = COUNTS_AS[1].into();
        }
        shed.push(row);
        came.push(how);
    }
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
    let keys = keys(&work.job);
    let of_rows = left.rows.iter().enumerate();
    let of_rows = of_rows.map(|(at, &row)| (key_by_hand(at), Value::from(keys[row].as_str())));
    Ok(object!({
        "job": file,
        "came": came,
        "keys": of_rows.collect::<Map<_, _>>(),
        "made": counted(&keys, &left.made),
        "spoiled": counted(&keys, &left.spoiled),
        "done": left.parts.is_empty(),
        "parts": left.parts.iter().map(|part| object!({
            "label": part.label, "quantity": part.quantity, "length": part.told_length(work.job.style()).text,
            "ends": ends_told(part, work.job.decimal()),
        })).collect::<Vec<_>>(),
    }))
}

fn counted<'a>(keys: &'a [String], counts: &[u32]) -> Vec<(&'a String, u32)> {
    let counts = keys.iter().zip(counts.iter().copied());
    counts.filter(|(_, count)| *count > 0).collect()
}

/// Adds the section of a strip that was left from ripping, unless the job has it. Returns whether it has it now.
fn add_section(job: &mut Map<String, Value>, work: &Work, strip: &Rest) -> bool {
    let name = section_name(&work.job, strip);
    let Some(Value::Array(sections)) = job.get_mut("sections") else {
        return false;
    };
    if sections.iter().any(|section| section["name"] == *name) {
        return true;
    }
    let rows = work.draft.sections.iter();
    let mut rows = rows.filter(|row| **row != SectionDraft::default());
    let (Some(of), Some(width)) = (rows.nth(strip.section), strip.strip) else {
        return false;
    };
    let section = &work.job.sections[strip.section];
    let mut row = row_of(of);
    for field in ["cover", "measured", "joint", "allowed", "allowed_timber"] {
        row.remove(field);
    }
    // A lapped or tongued board loses an edge at least.
    if section.joint != EdgeJoint::Square {
        row.insert("edges".into(), Sides::Different.word().into());
    }
    row.insert("name".into(), name.into());
    row.insert("width".into(), exact_text(width, work.job.reading).into());
    let has_room = sections.len() < limits::SECTIONS.most;
    if has_room {
        sections.push(Value::Object(row));
    }
    has_room
}

/// The boards that go to the shed once the plan is cut, each with the index of its board in the plan and, where it is a strip left from ripping, its width in words; and which
/// boards of the job's shed are left over and too short to keep.
pub fn finish(request: &Value) -> Reply {
    let work = read(request)?;
    let mut names = Names::of(&work.job, request);
    let rests = kept_offcuts(&work.job, &work.plan, &work.progress);
    let shed: Vec<Value> = rests
        .iter()
        .map(|rest| shed_row(&work, rest, &mut names).0)
        .collect();
    let boards: Vec<Option<usize>> = rests.iter().map(|rest| rest.board).collect();
    let left = left_alone(&work.job, &work.plan);
    let short: Vec<usize> = left
        .iter()
        .filter(|one| one.short)
        .map(|one| one.shed)
        .collect();
    let wide = |width: Length| work.job.style().show(width).text;
    let widths: Vec<Option<String>> = rests.iter().map(|rest| rest.strip.map(wide)).collect();
    Ok(object!({ "shed": shed, "boards": boards, "widths": widths, "short": short }))
}

/// The timber in hand at one board of the plan: how long it is, on which end its tape is hooked, and what is wrong with a bad stretch `bad_from` a reading
/// `bad_to` another on it, or with its `real_length`, or with how much of a spoiled part is `sound`, where the board's entry of the progress says that.
pub fn hand(request: &Value) -> Reply {
    let mut request = request.clone();
    let board = whole(&request, "board")?;
    let of = |entry: &&Value| whole(entry, "board").is_ok_and(|own| own == board);
    let entry = rows(&request["progress"], "boards").find(of).cloned();
    let steps = entry.and_then(|entry| whole(&entry, "steps").ok());
    // A bad stretch that cannot be is a fault of its field, not of the request.
    let asked = request["progress"].take();
    let work = read(&request)?;
    let planned = work
        .plan
        .boards
        .get(board)
        .ok_or("the plan has no such board")?;
    let hand = in_hand(&work.job, planned, steps.unwrap_or(0));
    let fault = progress(&work.job, &work.plan, &asked).err();
    Ok(object!({
        "piece": hand.piece, "length": hand.told_length(&work.job), "hooked": hand.hooked, "fault": fault,
    }))
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
        // A plan that can no longer be read: only what is bought is known.
        Value::Null => Plan::default(),
        plan => plan_file::read_under_way(plan)?,
    };
    let job = as_begun(job, &plan).ok_or("the plan is of another job")?;
    let job = as_planned(&job, &plan);
    let progress = progress(&job, &plan, request.get("progress").unwrap_or(&Value::Null))?;
    Ok(Work {
        file,
        draft,
        job,
        plan,
        progress,
    })
}

pub(super) fn progress(job: &Job, plan: &Plan, value: &Value) -> Result<Progress, String> {
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
    let known = |board: &usize| plan.boards.get(*board);
    let mut counted = 0usize;
    for board in rows(value, "boards") {
        let spoiled = rows(board, "spoiled")
            .filter_map(Value::as_u64)
            .map(|at| at as usize)
            .collect();
        let index = whole(board, "board")?;
        let steps = whole(board, "steps").unwrap_or(0);
        let Some(planned) = known(&index) else {
            continue;
        };
        let hand = in_hand(job, planned, steps);
        let at = |name: &str| length(board.get(name).unwrap_or(&Value::Null));
        let bad = at("bad_from")?.map(|from| hand.bad(job, from, at("bad_to")?));
        let lacks = at("real_length")?.map(|only| hand.lacks(job, only));
        let of_board = BoardProgress {
            board: index,
            // Without the steps the parts alone are known.
            cut: hand.sawn.parts.max(whole(board, "cut").unwrap_or(0)),
            mark: hand.sawn.mark,
            sound: at("sound")?,
            spoiled,
            bad: bad.transpose()?.into_iter().collect(),
            lacks: lacks.transpose()?,
        };
        check_sound(job, planned, &of_board)?;
        progress.boards.push(of_board);
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

/// Whether so much of the part that was spoiled can be sound.
fn check_sound(job: &Job, planned: &PlannedBoard, of: &BoardProgress) -> Result<(), String> {
    let (Some(sound), Some(&part)) = (of.sound, of.spoiled.last()) else {
        return Ok(());
    };
    let mut cuts = planned.runs.iter().flat_map(|run| &run.cuts);
    let placed = cuts.nth(part).ok_or("the board has no such part")?;
    let part = &job.parts[placed.part];
    if !part.strips.is_empty() {
        return Err("what is ripped is no board of its section any more".into());
    }
    match sound <= part.length {
        true => Ok(()),
        false => Err(format!(
            "the part is {} long",
            part.told_length(job.style()).text
        )),
    }
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

/// The rows of the shed that are not empty, as rows of a job file.
fn written(draft: &JobDraft) -> Vec<Value> {
    let rows = written_boards(draft);
    rows.map(|row| Value::Object(row_of(row))).collect()
}

/// The rows of the shed that are not empty, which are those that the job counts.
fn written_boards(draft: &JobDraft) -> impl Iterator<Item = &ShedDraft> {
    draft
        .shed
        .iter()
        .filter(|row| **row != ShedDraft::default())
}

/// The fields of a row that are filled in, by name.
pub(super) fn row_of<R: Row>(row: &R) -> Map<String, Value> {
    let fields = R::FIELDS.iter().zip(row.texts());
    let written =
        fields.filter_map(|(field, text)| Some((field.name.into(), text.clone()?.into())));
    written.collect()
}

/// A rest of a board as a row of the shed, and its entry of `came`.
fn shed_row(work: &Work, rest: &Rest, names: &mut Names) -> (Value, Value) {
    let job = &work.job;
    let text = |length: Length| exact_text(length, job.reading);
    let spelled =
        |length: Length| with_unit(&text(length), job.reading).unwrap_or_else(|| text(length));
    let bad: Vec<String> = rest
        .bad
        .iter()
        .map(|stretch| format!("{}..{}", spelled(stretch.from), spelled(stretch.to)))
        .collect();
    let from = names.board(job, rest);
    let cut = match rest.state {
        RestState::Carried(cut) => Some(job.style().show(cut).text),
        RestState::Whole | RestState::Cut => None,
    };
    let end = match rest.in_hand {
        true => "the end that was cut last",
        false if rest.from.is_none() && rest.strip.is_none() => "the end that was not cut",
        false => "",
    };
    let came = match rest.state {
        RestState::Whole => object!({ "how": "bought" }),
        RestState::Carried(_) => object!({ "how": "carried", "of": from, "cut": cut }),
        RestState::Cut => {
            object!({ "how": "rest", "of": from, "end": end, "in_hand": rest.in_hand })
        }
    };
    let told = names.told(job, rest);
    let (mark, note) = match (rest.state, from) {
        (RestState::Whole, from) => (
            from.unwrap_or_else(|| names.marks.fresh()),
            "bought for this piece".to_owned(),
        ),
        (RestState::Carried(_) | RestState::Cut, Some(from)) => {
            let cut = cut.map(|cut| format!(", cut at the yard at {cut}; at least so long"));
            let note = format!("rest of {from}{}", cut.unwrap_or_default());
            let mark = told.unwrap_or_else(|| names.marks.rest_of(&from));
            (mark, note)
        }
        (RestState::Carried(_) | RestState::Cut, None) => {
            let mark = told.unwrap_or_else(|| names.marks.fresh());
            (mark, "rest of a bought length".to_owned())
        }
    };
    let now = [
        ("mark", mark),
        ("section", section_name(job, rest)),
        ("length", spelled(rest.length)),
        ("bad", bad.join("; ")),
        (
            "trim",
            format!("{}; {}", spelled(rest.trim.datum), spelled(rest.trim.far)),
        ),
        ("note", note),
    ];
    // The other fields of a shed board hold for its rest too.
    let of = match rest.source {
        Source::Shed(index) => written_boards(&work.draft).nth(index),
        Source::Yard(_) => None,
    };
    let mut row = of.map(row_of).unwrap_or_default();
    // A board of the shed that is not cut keeps its note.
    let uncut = rest.state == RestState::Whole && !row.is_empty();
    for (name, text) in now
        .into_iter()
        .filter(|(name, _)| !uncut || *name != "note")
    {
        row.insert(name.into(), text.into());
    }
    let said = match rest.source {
        Source::Shed(index) => job.shed[index].factory_ends != [false; 2],
        Source::Yard(_) => job.sections[rest.section].treated == Treated::Yes,
    };
    row.remove("factory_ends");
    let mut words = FACTORY_ENDS.into_iter();
    let word = words.find(|(_, ends)| said && *ends == rest.factory_ends && *ends != [false; 2]);
    if let Some((word, _)) = word {
        row.insert("factory_ends".into(), word.into());
    }
    (Value::Object(row), came)
}

/// The marks of the plan's boards, and free marks for what is left of them.
///
/// A request may give the marks of bought boards (`progress.bought[].marks`), the mark that a board got when it was first cut
/// (`progress.boards[].mark`), and marks in use elsewhere (`taken`).
struct Names<'a> {
    marks: Marks,
    progress: &'a Value,
    /// The marks that were told for offcuts while the plan was cut: what is written on one stays.
    told: Vec<(Piece, String)>,
}

/// What tells a piece of timber that is left from every other: its board, which of the bought boards it is of, where on it the piece starts, how long a tape
/// says it is, and whether it is a strip.
type Piece = (Option<usize>, Option<usize>, Length, Length, bool);

fn piece(job: &Job, rest: &Rest) -> Piece {
    let length = rest.length.down_to(job.step);
    (
        rest.board,
        rest.bought,
        rest.from,
        length,
        rest.strip.is_some(),
    )
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
        Names {
            marks,
            progress,
            told: Vec::new(),
        }
    }

    /// Takes the marks that the saw told for the offcuts of a plan, before what went wrong now.
    fn as_told(&mut self, work: &Work) {
        let mut before = work.progress.clone();
        for board in &mut before.boards {
            board.spoiled.clear();
            board.sound = None;
            board.bad.clear();
            board.lacks = None;
        }
        for bought in &mut before.bought {
            bought.lengths.fill(None);
            bought.bad.clear();
        }
        let rests = kept_offcuts(&work.job, &work.plan, &before).into_iter();
        for rest in rests.filter(|rest| rest.state == RestState::Cut) {
            let (row, _) = shed_row(work, &rest, self);
            let mark = row["mark"].as_str().unwrap_or_default().to_owned();
            self.told.push((piece(&work.job, &rest), mark));
        }
    }

    fn told(&self, job: &Job, rest: &Rest) -> Option<String> {
        let piece = piece(job, rest);
        let mut told = self.told.iter();
        told.find(|(of, _)| *of == piece)
            .map(|(_, mark)| mark.clone())
    }

    /// The mark of the board that a rest is of, where it has one.
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

#[cfg(test)]
mod tests;
