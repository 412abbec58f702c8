//! Chosen sizes in words.

use super::{Best, Chosen, ChosenSize, Closest};
use crate::bill::basis;
use crate::job::Job;
use crate::length::{Length, Style};
use crate::lower::lower;
use crate::plan::Measure;
use crate::shown::counted;
use crate::wording::{figure, measured, none_better};
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
    let mut told = String::new();
    let mut less = "";
    let mut nothing = true;
    for &(measure, amount) in &chosen.least {
        if measure.is_beyond() && amount == 0 {
            continue;
        }
        nothing &= amount == 0;
        let is_first = told.is_empty();
        if is_first {
            less = none_better(measure);
        } else {
            told.push_str(", ");
        }
        told.push_str(&match measure {
            Measure::Bought => counted(amount.unsigned_abs(), "length", "lengths"),
            // What it is of has been said.
            Measure::Money if is_first => figure(job, measure, amount) + basis(job),
            _ if is_first => figure(job, measure, amount),
            Measure::BoughtLength => figure(job, measure, amount) + " of timber",
            _ => measured(job, measure, amount),
        });
    }
    if told.is_empty() {
        return "There was no time to try sizes within the ranges.".to_owned();
    }
    let best = match chosen.best {
        _ if nothing => "Within the ranges nothing has to be bought.".to_owned(),
        Best::Proven => format!(
            "Within the ranges {less} than {told}: proven by the plan with every such part at its shortest."
        ),
        Best::Found => format!("The least that was found within the ranges: {told}."),
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
