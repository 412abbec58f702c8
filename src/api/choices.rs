//! Choices side by side, for the page: looked for once a plan stands, and told as they are found.

use super::planning::{limits_beside, read_written};
use super::request::{edit_reply, field};
use crate::check::{Effort, check_within};
use crate::choices::{self, Choices};
use crate::io::objects::object;
use crate::io::plan_file;
use crate::job::Job;
use crate::patience::Clock;
use serde_json::Value;

/// Seconds that may go to looking, where the page says nothing.
const USUAL_SECONDS: u32 = 5;

/// Looks for the choices of a job with a plan: `{job, choices: plan file, seconds?, asks?}`. `progress` hears what is known on the way, and the reply is
/// the same at the end: `{choices, picture, note}`, without choices where there is only one, and `only` where that is proven. Of a choice `edits` writes it into the job, and `aims`
/// are those by which it is planned.
pub fn look(
    request: &Value,
    clock: &Clock,
    progress: &mut dyn FnMut(&str),
) -> Result<String, String> {
    let read = read_written(field(request, "job")?);
    let (draft, job) = read.map_err(|faults| faults[0].to_string())?;
    let plan = plan_file::read_value(field(request, "choices")?)?;
    let checked = check_within(&job, plan, Effort::NONE).map_err(|lies| lies[0].to_string())?;
    let limits = limits_beside(request, USUAL_SECONDS);
    let found = choices::look((&draft, &job), &checked, limits, clock, &mut |known| {
        if !known.found.is_empty() {
            progress(&reply(&job, known).to_string());
        }
    });
    Ok(reply(&job, &found).to_string())
}

fn reply(job: &Job, choices: &Choices) -> Value {
    let told = choices.found.iter().enumerate();
    let told = told.map(|(index, choice)| {
        let edits: Vec<Value> = choice.edits.iter().map(edit_reply).collect();
        object!({
            "name": choices::choice_text(choices, index),
            "bought": choices::bought_text(job, choice),
            "about": choices::about_text(job, choice),
            "proof": choices::proof_text(choice),
            "cells": choices::cells(job, choice),
            "aims": choices::aims(choices, index),
            "edits": edits,
        })
    });
    object!({
        "choices": told.collect::<Vec<_>>(),
        "picture": choices::picture(job, choices),
        "note": choices::note_text(job, choices),
        "only": choices.only,
    })
}
