//! Sizes within their ranges, chosen for the page before it plans.

use super::planning::{limits_beside, read_written};
use super::request::field;
use crate::io::objects::object;
use crate::patience::Clock;
use crate::sizes;
use serde_json::Value;

/// Seconds that may go to choosing, where the page says nothing.
const USUAL_SECONDS: u32 = 9;

/// Chooses sizes within their ranges: `{job, choose: true, seconds?, asks?}`. The reply is `{job, told}`: the job with what was chosen, and what was wanted,
/// written into it, and sentences about that.
pub fn choose(request: &Value, clock: &Clock) -> Result<String, String> {
    let written = field(request, "job")?;
    let (draft, job) = read_written(written).map_err(|faults| faults[0].to_string())?;
    let limits = limits_beside(request, USUAL_SECONDS);
    let Some(chosen) = sizes::choose(&draft, &job, limits, clock) else {
        return Ok(object!({ "job": written, "told": [] }).to_string());
    };
    let mut other = written.clone();
    for edit in &chosen.edits {
        let place = &edit.place;
        let row = place.row.unwrap_or_default();
        let row = other
            .get_mut(&place.list)
            .and_then(|list| list.get_mut(row));
        let fields = row.and_then(Value::as_object_mut);
        let fields = fields.ok_or("a size was chosen that the job does not have")?;
        fields.insert(place.field.clone(), edit.text.clone().into());
    }
    let told = chosen.sizes.iter();
    let told = told.map(|size| sizes::chosen_text(&job, size));
    let told: Vec<String> = told.chain([sizes::told_text(&job, &chosen)]).collect();
    Ok(object!({ "job": other, "told": told }).to_string())
}
