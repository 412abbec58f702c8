//! What would save, for the page: looked for once a plan stands, and told as it is found.

use super::request::field;
use crate::check::{Effort, check_within};
use crate::io::{job_file, plan_file};
use crate::job::{Job, JobDraft, validate};
use crate::patience::{Clock, Limits};
use crate::savings::{self, Asked, News, Room, Saving};
use serde_json::{Value, json};
use timber::edit::Edit;

/// Seconds that may go to looking, where the page says nothing.
const USUAL_SECONDS: f64 = 10.0;

/// How much work the check of today's plan may be, whose figures savings are compared with.
const CHECK: Effort = Effort(200_000_000);

/// Looks for savings in a job with a plan: `{job, improve: plan file, seconds?, asks?}`. `progress` hears JSON text with a `saving` or a `room`.
/// The reply is `{complete}`: whether there was time for all of it.
pub fn look(
    request: &Value,
    clock: &Clock,
    progress: &mut dyn FnMut(&str),
) -> Result<String, String> {
    let (draft, faults) = job_file::read_value(field(request, "job")?);
    let job = validate(&draft)
        .ok()
        .filter(|_| faults.is_empty())
        .ok_or("the job has faults")?;
    let plan = plan_file::read_value(field(request, "improve")?)?;
    let checked = check_within(&job, plan, CHECK).map_err(|lies| lies[0].to_string())?;
    let seconds = request
        .get("seconds")
        .and_then(Value::as_f64)
        .unwrap_or(USUAL_SECONDS);
    let limits = match request.get("asks").and_then(Value::as_u64) {
        Some(asks) => Limits::asks(asks),
        None => Limits::milliseconds(1e3 * seconds),
    };
    let asked = Asked {
        draft: &draft,
        job: &job,
    };
    let found = savings::look(asked, &checked, limits, clock, &mut |news| {
        let told = match news {
            News::Saving(saving) => json!({ "saving": saving_reply(&draft, &job, saving) }),
            News::Room(room) => json!({ "room": room_reply(&job, room) }),
        };
        progress(&told.to_string());
    });
    Ok(json!({ "complete": found.complete }).to_string())
}

fn saving_reply(draft: &JobDraft, job: &Job, saving: &Saving) -> Value {
    let edits: Vec<Value> = match saving.change.can_be_taken() {
        true => saving.change.edits(job).iter().map(edit_reply).collect(),
        false => Vec::new(),
    };
    json!({
        "change": savings::change_text(draft, job, &saving.change),
        "gain": savings::gain_text(job, &saving.gain),
        "least": savings::least_text(saving.least),
        "edits": edits,
    })
}

fn edit_reply(edit: &Edit) -> Value {
    let place = &edit.place;
    json!({ "list": place.list, "row": place.row, "field": place.field, "text": edit.text })
}

fn room_reply(job: &Job, room: &Room) -> Value {
    json!({ "text": savings::room_text(job, room), "row": room.row })
}
