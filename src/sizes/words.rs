//! Chosen sizes in words.

use super::{Best, Chosen, ChosenSize, Closest};
use crate::job::Job;
use crate::length::{Length, Style};
use crate::lower::lower;
use crate::wording::measured;
use timber::setout::Kind;

/// A size as it was chosen: `pale: 1191 mm, 1200 mm wanted`.
pub fn chosen_text(job: &Job, size: &ChosenSize) -> String {
    let style = Style::exact(job.unit(), job.decimal());
    let shown = |length: Length| style.show(length).text;
    let name = name(job, size);
    let chosen = shown(size.chosen);
    match size.chosen == size.wanted {
        true => format!("{name}: {chosen}, as wanted"),
        false => format!("{name}: {chosen}, {} wanted", shown(size.wanted)),
    }
}

/// What is known of the sizes as a whole. It speaks of what plans within the ranges come to, and not of the plan that is made then.
pub fn told_text(job: &Job, chosen: &Chosen) -> String {
    let least = chosen.least.iter();
    let least = least.map(|&(measure, amount)| measured(job, measure, amount));
    let least = least.collect::<Vec<_>>().join(", ");
    if least.is_empty() {
        return "There was no time to try sizes within the ranges.".to_owned();
    }
    let best = match chosen.best {
        Best::Proven => format!(
            "No sizes within the ranges allow less than {least}: proven by the plan with every such part at its shortest."
        ),
        Best::Found => format!("The least that was found within the ranges: {least}."),
    };
    let closest = match chosen.closest {
        Closest::AsWanted => "All are as wanted.",
        Closest::OneStep => "The next step of the tape towards what is wanted costs more.",
        Closest::Found => "Nothing closer to what is wanted was found that costs no more.",
    };
    format!("{best} {closest}")
}

/// What a size is of: a part, or a field of a set-out.
fn name(job: &Job, size: &ChosenSize) -> String {
    let row = size.place.row.unwrap_or_default();
    if size.place.list == "parts" {
        let part = job.list.iter().find(|part| part.row == Some(row));
        return part.map_or(String::new(), |part| part.label.clone());
    }
    let Some(set_out) = job.set_outs.get(row) else {
        return String::new();
    };
    let field = Kind::named(&set_out.kind).and_then(|kind| kind.about().field(&size.place.field));
    let label = field.map_or("", |field| field.label);
    format!("{}, {}", set_out.name, lower(label))
}
