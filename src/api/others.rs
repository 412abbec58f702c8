//! What other programs ask of the engine, and the page never does: a whole answer to a job, the check of a plan, and the plan as a sheet.

use super::planning::{faults_reply, read_written, seconds};
use super::request::{Reply, field};
use super::stream::{self, Allowed};
use crate::check::check;
use crate::io::objects::object;
use crate::io::plan_file;
use crate::job::{Job, validate};
use crate::patience::Clock;
use crate::piece::piece_text;
use crate::plan::Plan;
use crate::report;
use crate::sizes;
use crate::wording;
use serde_json::Value;

/// The answer to `{job, looks?, seconds?}`, as one line of a stream. Without a clock that runs, `looks` has to be given.
pub fn answer(request: &Value, clock: &Clock) -> Result<String, String> {
    let allowed = match request.get("looks").map(Value::as_u64) {
        Some(Some(looks)) => Allowed::Looks(looks),
        Some(None) => return Err("\"looks\" should be a whole number".into()),
        None => Allowed::Milliseconds(1e3 * seconds(request)),
    };
    let line = field(request, "job")?.to_string();
    Ok(stream::answer(&line, allowed, clock))
}

/// Checks a plan file against its job: `{job, plan}` gives `{ok, findings, proof?}`, or the faults of the job.
pub fn checked(request: &Value) -> Reply {
    let (job, plan) = match made_for(request)? {
        Ok(both) => both,
        Err(faults) => return Ok(faults),
    };
    Ok(match check(&job, plan) {
        Ok(checked) => {
            object!({ "ok": true, "findings": [], "proof": wording::check_text(&job, &checked) })
        }
        Err(lies) => {
            object!({ "ok": false, "findings": lies.iter().map(ToString::to_string).collect::<Vec<_>>() })
        }
    })
}

/// A plan as people read it: `{job, plan}` gives `{headline, text, drawing, picture, saw}`. An error where the plan does not hold.
pub fn sheet(request: &Value) -> Reply {
    let (job, plan) = match made_for(request)? {
        Ok(both) => both,
        Err(faults) => {
            return Err(faults["faults"][0]["text"]
                .as_str()
                .unwrap_or_default()
                .to_owned());
        }
    };
    let checked = check(&job, plan).map_err(|lies| lies[0].to_string())?;
    let report = report::build(&job, &checked);
    Ok(object!({
        "headline": report.headline,
        "text": piece_text(&job) + &report::text::text(&report),
        "drawing": report::standalone(&report.drawing, report::SHEET_WIDTH),
        "picture": report::picture(&job),
        "saw": report::csv::saw(&report),
    }))
}

/// A job with the sizes that its plan was made for, and the plan; or the faults of the job.
fn made_for(request: &Value) -> Result<Result<(Job, Plan), Value>, String> {
    let (draft, job) = match read_written(field(request, "job")?) {
        Ok(both) => both,
        Err(faults) => return Ok(Err(faults_reply(&faults))),
    };
    let (plan, lengths) = plan_file::read_with_sizes(&field(request, "plan")?.to_string())?;
    if lengths.is_empty() {
        return Ok(Ok((job, plan)));
    }
    let draft = sizes::as_planned(&draft, &job, &lengths)?;
    Ok(match validate(&draft) {
        Ok(job) => Ok((job, plan)),
        Err(faults) => Err(faults_reply(&faults)),
    })
}
