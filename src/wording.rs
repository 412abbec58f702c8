//! Sentences about a plan that both the page and the command line say.

use crate::check::{CheckedGroup, CheckedLevel, CheckedPlan, Reason, Standing, Verdict};
use crate::job::Job;
use crate::length::Length;
use crate::money::Money;
use crate::plan::{Level, Measure};
use crate::planner::Lack;

/// What a level comes to while the planner is at work, and what the planner says of it, which nobody has shown again yet:
/// `5 lengths to buy (no plan needs fewer, says the planner)`.
pub fn level_text(job: &Job, level: &Level) -> String {
    let value = measured(job, level.measure, level.value);
    if level.is_said_best() {
        let best = match level.measure {
            Measure::Bought => "no plan needs fewer",
            Measure::Money => "no plan costs less",
            Measure::BoughtLength => "no plan buys less",
            Measure::Scrap => "no plan wastes less",
        };
        format!("{value} ({best}, says the planner)")
    } else {
        format!(
            "{value} (not proven: no plan can be below {}, says the planner)",
            measured(job, level.measure, level.bound)
        )
    }
}

/// An amount of what a level measures.
pub fn measured(job: &Job, measure: Measure, amount: i64) -> String {
    match measure {
        Measure::Bought if amount == 1 => "1 length to buy".into(),
        Measure::Bought => format!("{amount} lengths to buy"),
        Measure::Money => format!("{} to pay", Money::from_minor(amount).show(job.decimal())),
        Measure::BoughtLength => format!("{} to buy", long_length(job, Length::from_ticks(amount))),
        Measure::Scrap => format!("{} of scrap", long_length(job, Length::from_ticks(amount))),
    }
}

/// What a check found: for each group of sections and each level, what the plan comes to and what stands behind its bound.
pub fn check_text(job: &Job, checked: &CheckedPlan) -> String {
    let mut text = String::from(
        "The plan holds: every part is cut once, every cut fits its board, and the totals are right.\n",
    );
    text.push_str(&verdict_text(job, checked));
    for group in checked.groups() {
        text.push_str(&format!("\n{}\n", group_name(job, group)));
        for level in &group.levels {
            let standing = standing_text(job, level);
            text.push_str(&format!(
                "  {}: {standing}\n",
                measured(job, level.measure, level.value)
            ));
        }
    }
    text
}

/// How far the plan as a whole is settled, a line for each level of what is bought that is not shown again.
fn verdict_text(job: &Job, checked: &CheckedPlan) -> String {
    match checked.verdict() {
        Verdict::Proven => "Proven: no plan does better.\n".into(),
        Verdict::BuyingProven => {
            "Proven: nothing better can be bought. Of the scrap this was not shown.\n".into()
        }
        Verdict::FirstProven | Verdict::Claimed | Verdict::Open => {
            let mut text = String::from("Not proven. What is missing:\n");
            for group in checked.groups() {
                for level in group.levels.iter().filter(|level| level.is_bought()) {
                    if !level.is_shown() {
                        text.push_str(&format!(
                            "- {}, {}: {}\n",
                            group_name(job, group),
                            measured(job, level.measure, level.value),
                            standing_text(job, level)
                        ));
                    }
                }
            }
            text
        }
    }
}

fn group_name(job: &Job, group: &CheckedGroup) -> String {
    let names = group
        .sections
        .iter()
        .map(|&section| job.sections[section].name.as_str());
    names.collect::<Vec<_>>().join(" + ")
}

/// How far a level is settled, in words.
pub fn standing_text(job: &Job, level: &CheckedLevel) -> String {
    match level.standing() {
        // Nothing is not a figure that needs a certificate.
        Standing::ReProved if level.value == 0 => "no plan does better".into(),
        Standing::ReProved => "no plan does better; proven again from the certificate".into(),
        Standing::Gap => match level.bound {
            Some(bound) => format!(
                "better may exist, but not below {}",
                measured(job, level.measure, bound)
            ),
            None => "better may exist; nothing is claimed".into(),
        },
        Standing::ClaimOnly(reason) => {
            let why = match reason {
                Reason::NoFigures => "the plan brings no figures for it".to_owned(),
                Reason::Searched { shown } => {
                    format!(
                        "part of it rests on a search; the figures alone show {}",
                        measured(job, level.measure, shown)
                    )
                }
                Reason::OtherTotals => {
                    "its figures speak of other totals at the levels before".to_owned()
                }
                Reason::TooLarge => "adding its figures up would take too long".to_owned(),
                Reason::OutOfTime => "time was up before its figures were added up".to_owned(),
                Reason::Loose { shown } => {
                    format!(
                        "its figures could be followed only as far as {}",
                        measured(job, level.measure, shown)
                    )
                }
            };
            format!("the planner says that no plan does better; not proven again: {why}")
        }
    }
}

/// A sum of lengths, as it reads best.
pub fn long_length(job: &Job, length: Length) -> String {
    job.style().for_sums().show(length).text
}

/// Whether some board would be long enough for a part if its ends were not trimmed.
fn trimmed_away(job: &Job, part: usize) -> bool {
    let part = &job.parts[part];
    let takes =
        |section: usize, length: Length| part.sections.contains(&section) && length >= part.length;
    let yard = job.yard.iter().filter(|line| line.count != Some(0));
    yard.map(|line| (line.section, line.length))
        .chain(job.shed.iter().map(|board| (board.section, board.length)))
        .any(|(section, length)| {
            takes(section, length) && job.carry.is_none_or(|carry| length <= carry)
        })
}

/// The longest length that the vehicle takes once the yard has cut it in two, to the step under it.
fn carried_in_two(job: &Job) -> Option<Length> {
    let both = job.carry? + job.carry? + job.saw.kerf;
    Some(both.down_to(job.step))
}

/// What hinders the lengths at the yard that are of these sections and at least `least` long: not that they lack, but that the vehicle takes
/// them neither whole nor in two pieces. Nothing where it takes one of them, or where the yard has none.
fn not_carried(job: &Job, sections: &[usize], least: Length) -> Option<String> {
    let (carry, most) = (job.carry?, carried_in_two(job)?);
    let mut lengths = job
        .yard
        .iter()
        .filter(|line| sections.contains(&line.section) && line.count != Some(0))
        .map(|line| line.length)
        .filter(|length| *length >= least)
        .peekable();
    lengths.peek()?;
    if lengths.any(|length| length <= carry + carry + job.saw.kerf) {
        return None;
    }
    let style = job.style();
    let (carry, most) = (style.show(carry).told(), style.show(most).told());
    Some(format!(
        "the vehicle takes {carry}, so a length of more than {most} cannot be carried even when the yard cuts it in two"
    ))
}

/// What is lacking where no plan exists, and what would mend it.
pub fn lack_text(job: &Job, lack: &Lack) -> String {
    match lack {
        Lack::PartFitsNowhere { part: part_index } => {
            let part = &job.parts[*part_index];
            let sections: Vec<&str> = part
                .sections
                .iter()
                .map(|&section| job.sections[section].name.as_str())
                .collect();
            let (label, length) = (&part.label, job.style().show(part.length).told());
            let sections = sections.join(" or ");
            if let Some(carry) = job.carry.filter(|carry| part.length > *carry)
                && job
                    .yard
                    .iter()
                    .any(|line| part.sections.contains(&line.section) && line.length >= part.length)
            {
                let carry = job.style().show(carry).told();
                return format!(
                    "\"{label}\" is {length} long, and the vehicle takes {carry}; say that it carries more, or shorten or join the part"
                );
            }
            if let Some(why) = not_carried(job, &part.sections, part.length) {
                return format!(
                    "\"{label}\" is {length} long, and no board of {sections} takes it: {why}; add a shorter length to the yard, or say that the \
                     vehicle carries more"
                );
            }
            match trimmed_away(job, *part_index) {
                true => format!(
                    "\"{label}\" is {length} long, and once its ends are trimmed no board of {sections} is as long as that; make the end \
                     trim less where the ends are good, add a longer length to the yard, or shorten the part"
                ),
                false => format!(
                    "\"{label}\" is {length} long, and no board of {sections} takes it; add a longer length to the yard, or shorten or join the part"
                ),
            }
        }
        Lack::TooFewBoards { sections, missing } => {
            let names: Vec<&str> = sections
                .iter()
                .map(|&section| job.sections[section].name.as_str())
                .collect();
            let parts = if *missing == 1 {
                "one part is".to_owned()
            } else {
                format!("{missing} parts are")
            };
            let names = names.join(" and ");
            if let Some(why) = not_carried(job, sections, Length::ZERO) {
                return format!(
                    "there are too few boards of {names}: at least {parts} left over however they are cut; {why}; add a shorter length to the \
                     yard, or say that the vehicle carries more"
                );
            }
            format!(
                "there are too few boards of {names}: at least {parts} left over however they are cut; raise a count at the yard, or add a length"
            )
        }
    }
}
