//! What would save, for the page: looked for once a plan stands, and told as it is found.

use super::planning::{limits_beside, read_written};
use super::request::{edit_reply, field};
use crate::bill::left_out;
use crate::check::{Effort, check_within};
use crate::io::objects::object;
use crate::io::plan_file;
use crate::job::Job;
use crate::patience::Clock;
use crate::savings::{self, Asked, Change, News, Reserve, Room, Saving};
use crate::sellers::{self, Order};
use serde_json::Value;

/// Seconds that may go to looking, where the page says nothing.
const USUAL_SECONDS: u32 = 10;

/// How much work the check of today's plan may be, whose figures savings are compared with.
const CHECK: Effort = Effort(200_000_000);

/// Looks for savings in a job with a plan: `{job, improve: plan file, seconds?, asks?}`. `progress` hears JSON text with the `orders` at the
/// yards, a `saving`, a `room` or a `reserve`.
/// The reply is `{complete, note?}`: whether there was time for all of it, and what its money leaves out.
pub fn look(
    request: &Value,
    clock: &Clock,
    progress: &mut dyn FnMut(&str),
) -> Result<String, String> {
    let read = read_written(field(request, "job")?);
    let (draft, job) = read.map_err(|faults| faults[0].to_string())?;
    let plan = plan_file::read_value(field(request, "improve")?)?;
    let checked = check_within(&job, plan, CHECK).map_err(|lies| lies[0].to_string())?;
    let limits = limits_beside(request, USUAL_SECONDS);
    let asked = Asked {
        draft: &draft,
        job: &job,
    };
    let [for_yards, limits] = limits.for_yards(job.yards.len());
    let orders = sellers::compare(asked, &checked, for_yards, clock);
    if !orders.is_empty() {
        let orders: Vec<Value> = orders
            .iter()
            .map(|order| order_reply(&job, order))
            .collect();
        progress(&object!({ "orders": orders }).to_string());
    }
    let found = savings::look(asked, &checked, limits, clock, &mut |news| {
        let told = match news {
            News::Saving(saving) => object!({ "saving": saving_reply(&job, saving) }),
            News::Room(room) => object!({ "room": room_reply(&job, room) }),
            News::Reserve(reserve) => object!({ "reserve": reserve_reply(&job, reserve) }),
        };
        progress(&told.to_string());
    });
    let mut reply = object!({ "complete": found.complete });
    let note = left_out(&job);
    if !note.is_empty() {
        reply["note"] = note.into();
    }
    Ok(reply.to_string())
}

fn saving_reply(job: &Job, saving: &Saving) -> Value {
    let Saving {
        change,
        gain,
        least,
    } = saving;
    let told = [
        savings::gain_text(job, gain),
        savings::least_text(job, *least),
    ];
    change_reply(job, change, told)
}

fn reserve_reply(job: &Job, reserve: &Reserve) -> Value {
    let told = [savings::reserve_text(job, reserve), String::new()];
    change_reply(job, &reserve.change, told)
}

fn change_reply(job: &Job, change: &Change, [gain, least]: [String; 2]) -> Value {
    let edits: Vec<Value> = match change.can_be_taken() {
        true => change.edits(job).iter().map(edit_reply).collect(),
        false => Vec::new(),
    };
    let text = savings::change_text(job, change);
    object!({ "change": text, "gain": gain, "least": least, "edits": edits })
}

fn order_reply(job: &Job, order: &Order) -> Value {
    let (name, total, least) = sellers::text(job, order);
    let edits: Vec<Value> = match order.is_planned {
        true => Vec::new(),
        false => vec![edit_reply(&order.edit(job))],
    };
    object!({ "change": name, "gain": total, "least": least, "edits": edits })
}

fn room_reply(job: &Job, room: &Room) -> Value {
    object!({ "text": savings::room_text(job, room), "row": room.row })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::api::plan;
    use serde_json::json;

    fn value(reply: &str) -> Value {
        serde_json::from_str(reply).expect("a reply is JSON")
    }

    fn pales() -> Value {
        json!({
            "format": "lengthwise-job", "saw": { "kerf": "3" },
            "sections": [{ "name": "pale" }], "yard": [{ "length": "3600", "price": "3.90" }],
            "parts": [{ "label": "pale", "length": "1200", "quantity": 72 }],
        })
    }

    /// Asks for the plan of a job and then for what would save; what is heard and the reply.
    fn looked(asks: u64) -> (Vec<Value>, Value) {
        let job = pales();
        let first = plan(
            &json!({ "job": job, "asks": 100 }).to_string(),
            &|| 0.0,
            &mut |_| {},
        );
        let request = json!({ "job": job, "improve": value(&first)["plan"], "asks": asks });
        let mut heard = Vec::new();
        let reply = plan(&request.to_string(), &|| 0.0, &mut |news| {
            heard.push(value(news))
        });
        (heard, value(&reply))
    }

    #[test]
    fn each_saving_is_told_as_it_is_found_with_what_it_writes() {
        let (heard, reply) = looked(100_000);
        assert_eq!(reply, json!({ "complete": true }));
        assert_eq!(
            heard[0],
            json!({ "saving": {
                "change": "pale 9 mm shorter, 1191 mm", "gain": "12 lengths fewer, 46.80 saved",
                "least": "proven: a change 1 mm smaller saves nothing",
                "edits": [{ "list": "parts", "row": 0, "field": "length", "text": "1191" }],
            } })
        );
        let rooms = heard.iter().map(|news| &news["room"]);
        let rooms: Vec<&Value> = rooms.filter(|room| !room.is_null()).collect();
        assert_eq!(
            rooms,
            [&json!({ "text": "pale up to 1788.5 mm, 588.5 mm longer", "row": 0 })]
        );
        let reserves = heard.iter().map(|news| &news["reserve"]);
        let reserves: Vec<&Value> = reserves.filter(|reserve| !reserve.is_null()).collect();
        // 72 pales are two of each of 36 lengths, so one more takes another length.
        let reserve = |change: &str, list: &str| {
            json!({ "change": change, "gain": "1 length more, 3.90 more to pay", "least": "",
                "edits": [{ "list": list, "row": 0, "field": "spares", "text": "1" }] })
        };
        assert_eq!(
            reserves,
            [
                &reserve(
                    "a spare piece of pale as long as its longest part",
                    "sections"
                ),
                &reserve("a spare pale", "parts"),
            ]
        );
        // What nobody can decide on alone is told and not offered.
        let told = heard.iter().map(|news| &news["saving"]);
        let shed = told.filter(|saving| {
            saving["change"]
                .as_str()
                .is_some_and(|text| text.contains("in the shed"))
        });
        assert!(
            shed.clone().count() == 1 && shed.clone().all(|saving| saving["edits"] == json!([]))
        );
    }

    #[test]
    fn without_looks_it_is_said_that_not_all_was_tried() {
        let (heard, reply) = looked(0);
        assert_eq!((heard, reply), (Vec::new(), json!({ "complete": false })));
    }

    #[test]
    fn a_plan_of_another_job_is_an_error() {
        let mut other = pales();
        other["parts"][0]["length"] = "1300".into();
        let first = plan(
            &json!({ "job": pales(), "asks": 100 }).to_string(),
            &|| 0.0,
            &mut |_| {},
        );
        let request = json!({ "job": other, "improve": value(&first)["plan"] });
        let reply = value(&plan(&request.to_string(), &|| 0.0, &mut |_| {}));
        assert!(reply["error"].is_string(), "{reply}");
    }
}
