//! Savings in words.

use super::change::Change;
use super::found::{Least, Reserve, Room, Saving, Savings};
use crate::bill::{basis, left_out};
use crate::job::Job;
use crate::length::{Length, Style};
use crate::lower::lower;
use crate::money::Money;
use crate::plan::Measure;
use crate::wording::long_length;

/// What is done, as `pale 9 mm shorter, 1191 mm`.
pub fn change_text(job: &Job, change: &Change) -> String {
    let shown = |length: Length| shown(job, length);
    let section = |section: usize| job.sections[section].name.as_str();
    let label = |row: usize| label(job, row);
    let set_out = |row: usize| job.set_outs.get(row).map_or("", |set_out| &set_out.name);
    match change {
        Change::Part { row, from, to } => {
            format!(
                "{} {} shorter, {}",
                label(*row),
                shown(*from - *to),
                shown(*to)
            )
        }
        Change::Quantity { row, from, to } => {
            format!("{}: {to} instead of {from}", label(*row))
        }
        Change::Spare { row } => format!("a spare {}", label(*row)),
        Change::SparePiece { section: of, .. } => {
            format!(
                "a spare piece of {} as long as its longest part",
                section(*of)
            )
        }
        Change::Size {
            set_out: row,
            field,
            from,
            to,
        } => {
            let by = match to < from {
                true => format!("{} less", shown(*from - *to)),
                false => format!("{} more", shown(*to - *from)),
            };
            let field = lower(field.label);
            format!("{}, {field}: {by}, {}", set_out(*row), shown(*to))
        }
        Change::Count {
            set_out: row,
            field,
            from,
            to,
        } => format!(
            "{}, {}: {to} instead of {from}",
            set_out(*row),
            lower(field.label)
        ),
        Change::Word {
            set_out: row,
            field,
            to,
        } => format!("{}, {}: {to}", set_out(*row), lower(field.label)),
        Change::AlsoOf { part, other, .. } => {
            format!("{part} made of {} as well", section(*other))
        }
        Change::Ripped { row, width, of } => {
            format!(
                "{} ripped to {} out of {}",
                label(*row),
                shown(*width),
                section(*of)
            )
        }
        Change::Kerf { from, to } => {
            format!("a saw cut of {} instead of {}", shown(*to), shown(*from))
        }
        Change::Trim {
            section: of,
            from,
            to,
            ..
        } => {
            let name = section(*of);
            let ends = |ends: &[Length; 2]| match ends {
                [datum, far] if datum == far => shown(*datum),
                [datum, far] => format!("{} and {}", shown(*datum), shown(*far)),
            };
            format!(
                "{} trimmed off the ends of new {name} instead of {}, where they are good",
                ends(to),
                ends(from)
            )
        }
        Change::Carry { to, .. } => format!("a vehicle that carries {}", shown(*to)),
        Change::ShedBoard {
            section: of,
            length,
            ..
        } => {
            format!(
                "one more board of {} in the shed, {} or longer",
                section(*of),
                shown(*length)
            )
        }
        Change::YardLength {
            section: of,
            length,
            price,
            ..
        } => {
            let price = price.map(|price| format!(", reckoned at {}", price.show(job.decimal())));
            format!(
                "{} of {} at the yard{}",
                shown(*length),
                section(*of),
                price.unwrap_or_default()
            )
        }
        Change::Stock {
            section: of,
            length,
            from,
            to,
            ..
        } => format!(
            "{} more of the {} {} at the yard",
            to - from,
            shown(*length),
            section(*of)
        ),
    }
}

/// What it saves, as `12 lengths fewer, 46.80 saved`.
pub fn gain_text(job: &Job, gain: &[(Measure, i64)]) -> String {
    let told = gain
        .iter()
        .filter(|(_, by)| *by != 0)
        .map(|&(measure, by)| {
            let less = by > 0;
            let by = by.abs();
            match measure {
                Measure::Bought => {
                    let lengths = if by == 1 { "length" } else { "lengths" };
                    format!("{by} {lengths} {}", if less { "fewer" } else { "more" })
                }
                Measure::Money => {
                    let money = Money::from_minor(by).show(job.decimal());
                    match (less, basis(job)) {
                        (true, basis) => format!("{money} saved{basis}"),
                        (false, "") => format!("{money} more to pay"),
                        (false, basis) => format!("{money} more{basis}"),
                    }
                }
                Measure::BoughtLength => {
                    let length = long_length(job, Length::from_ticks(by));
                    format!("{length} {} timber", if less { "less" } else { "more" })
                }
                Measure::Scrap | Measure::LengthsBeyond | Measure::TimberBeyond => String::new(),
            }
        });
    told.collect::<Vec<_>>().join(", ")
}

/// What is known of smaller changes; empty where there are none.
pub fn least_text(job: &Job, least: Least) -> String {
    let step = shown(job, job.trial_step());
    match least {
        Least::Proven => format!("proven: a change {step} smaller saves nothing"),
        Least::Tried => format!("tried in steps of {step}: no smaller change saves"),
        Least::Claimed => {
            format!("no smaller change was found that saves, in steps of {step}")
        }
        Least::Smallest => String::new(),
    }
}

/// How long a part could be, as `pale up to 1210 mm, 10 mm longer`.
pub fn room_text(job: &Job, room: &Room) -> String {
    format!(
        "{} up to {}, {} longer",
        label(job, room.row),
        shown(job, room.to),
        shown(job, room.to - room.from)
    )
}

/// What a spare costs, as `1 length more, 9.40 more to pay`.
pub fn reserve_text(job: &Job, reserve: &Reserve) -> String {
    let text = gain_text(job, &reserve.gain);
    if text.is_empty() {
        "for nothing".to_owned()
    } else {
        text
    }
}

/// All of it as plain text; empty where there is nothing to tell.
pub fn text(job: &Job, savings: &Savings) -> String {
    let mut out = String::new();
    if !savings.found.is_empty() {
        out.push_str("\nWhat would save\n");
        for Saving {
            change,
            gain,
            least,
        } in &savings.found
        {
            let change = change_text(job, change);
            let gain = gain_text(job, gain);
            let least = match &least_text(job, *least)[..] {
                "" => String::new(),
                text => format!(" ({text})"),
            };
            out.push_str(&format!("  {change}: {gain}{least}\n"));
        }
    }
    if !savings.room.is_empty() {
        out.push_str("\nLonger for nothing, each by itself\n");
        for room in &savings.room {
            out.push_str(&format!("  {}\n", room_text(job, room)));
        }
    }
    if !savings.reserves.is_empty() {
        out.push_str("\nIn reserve, planned with the rest, each by itself\n");
        for reserve in &savings.reserves {
            let change = change_text(job, &reserve.change);
            out.push_str(&format!("  {change}: {}\n", reserve_text(job, reserve)));
        }
    }
    let left_out = left_out(job);
    if savings.found.len() + savings.reserves.len() > 0 && !left_out.is_empty() {
        out.push_str(&format!("\n{left_out}\n"));
    }
    if !savings.complete {
        out.push_str("\nTime was up before every change was tried that might save.\n");
    }
    out
}

fn label(job: &Job, row: usize) -> &str {
    let part = job.list.iter().find(|part| part.row == Some(row));
    part.map_or("", |part| &part.label)
}

fn shown(job: &Job, length: Length) -> String {
    let style = job.style();
    match style.show(length).rounded {
        true => Style::exact(job.unit(), job.decimal()).show(length).text,
        false => style.show(length).text,
    }
}
