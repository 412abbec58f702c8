//! The drawings of the pieces of a job, as they are looked at just now.

use super::request::{Reply, field};
use crate::io::job_file;
use crate::io::objects::object;
use crate::job::examine;
use crate::report::{Drawing, Look, drawings};
use crate::space::View;
use serde_json::Value;

/// The most looks at once: each corner as it stands and pulled apart, and the views.
const MOST: usize = 2 * View::CORNERS.len() + 1;

/// `{job, looks: [{how, corner}...]}` gives `{complete, looks: [[{set_outs, parts, name, svg, told, comes_apart, order}...]...]}`: for each look a drawing
/// of every piece. `order` has `{letters, parts, fixed}` for each of its set-outs. `how` is `whole`, `apart` or `views`, `corner` is 0 to 3. `complete` is false where a set-out has a fault and is left out.
pub fn picture(request: &Value) -> Reply {
    let (job, _) = examine(&job_file::read_value(field(request, "job")?).0);
    let looks = field(request, "looks")?.as_array();
    if looks.is_some_and(|looks| looks.len() > MOST) {
        return Err(format!("\"looks\" should be at most {MOST}"));
    }
    let looks: Result<Vec<Look>, String> = looks.into_iter().flatten().map(look).collect();
    let drawn: Vec<Vec<Drawing>> = looks?
        .into_iter()
        .map(|look| drawings(&job, look))
        .collect();
    let is_drawn = |row| {
        let mut looks = drawn.iter();
        looks.all(|look| look.iter().any(|one| one.set_outs.contains(&row)))
    };
    let looks = drawn.iter().map(|look| look.iter().map(view).collect());
    Ok(object!({
        "complete": (0..job.set_outs.len()).all(is_drawn),
        "looks": looks.collect::<Vec<Vec<Value>>>(),
    }))
}

fn look(asked: &Value) -> Result<Look, String> {
    let corner = || {
        let corner = asked.get("corner").and_then(Value::as_u64);
        corner
            .filter(|corner| *corner < 4)
            .map(|corner| corner as usize)
            .ok_or("\"corner\" should be 0 to 3")
    };
    Ok(match super::request::text(asked, "how")? {
        "whole" => Look::Corner(corner()?),
        "apart" => Look::Apart(corner()?),
        "views" => Look::Views,
        other => return Err(format!("there is no look \"{other}\"")),
    })
}

fn view(drawing: &Drawing) -> Value {
    object!({
        "set_outs": drawing.set_outs,
        "parts": drawing.parts,
        "name": drawing.name,
        "svg": drawing.svg,
        "told": drawing.told,
        "comes_apart": drawing.comes_apart,
        "order": drawing.order.iter().map(|step| object!({ "letters": step.letters, "parts": step.parts, "fixed": step.fixed })).collect::<Vec<_>>(),
    })
}
