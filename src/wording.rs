//! Sentences about a plan that the page and the command line share.

use crate::bill::basis;
use crate::check::{Backing, CheckedGroup, CheckedLevel, CheckedPlan, Reason, Standing, Verdict};
use crate::clear::standing_trims;
use crate::job::{Job, MadeFrom, Part, PartEnd, ShedBoard};
use crate::length::Length;
use crate::money::Money;
use crate::plan::{Level, Measure, Source};
use crate::planner::Lack;

/// What is told of a plan of ours that the checker refuses.
pub const NOT_HELD: &str = "the planner made a plan that does not hold, which is our error";

/// What is told where sizes that were chosen within their ranges have faults.
pub const SIZE_NOT_HELD: &str = "a size was chosen that does not hold, which is our error";

/// A level's value while the planner is at work, with the planner's claim about it, which nobody has checked yet: `5 lengths to buy (no
/// plan needs fewer, says the planner)`. A bound below zero, of scrap where mitred ends may share cuts, says nothing to anybody.
pub fn level_text(job: &Job, level: &Level) -> String {
    let value = measured(job, level.measure, level.value);
    if level.is_said_best() {
        format!("{value} ({}, says the planner)", none_better(level.measure))
    } else if level.bound < 0 {
        format!("{value} (not proven)")
    } else {
        format!(
            "{value} (not proven: {} than {}, says the planner)",
            none_better(level.measure),
            figure(job, level.measure, level.bound)
        )
    }
}

/// The sentence that no plan is better at a level.
pub fn none_better(measure: Measure) -> &'static str {
    match measure {
        Measure::Bought => "no plan needs fewer",
        Measure::Money => "no plan needs less money",
        Measure::BoughtLength => "no plan needs less timber",
        Measure::Scrap => "no plan leaves less scrap",
        Measure::LengthsBeyond | Measure::TimberBeyond => "no plan goes less beyond",
    }
}

/// An amount of what a level measures, with its noun, as `5 lengths to buy`.
pub fn measured(job: &Job, measure: Measure, amount: i64) -> String {
    let figure = figure(job, measure, amount);
    match measure {
        Measure::Bought if amount == 1 => "1 length to buy".into(),
        Measure::Bought => format!("{figure} {}", measure.name()),
        Measure::Money if !basis(job).is_empty() => figure + basis(job),
        Measure::Money => format!("{figure} to pay"),
        Measure::BoughtLength => format!("{figure} to buy"),
        Measure::Scrap => format!("{figure} of {}", measure.name()),
        Measure::LengthsBeyond | Measure::TimberBeyond => format!("{figure} {}", measure.name()),
    }
}

/// The amount without its noun.
pub fn figure(job: &Job, measure: Measure, amount: i64) -> String {
    match measure {
        Measure::Bought | Measure::LengthsBeyond => amount.to_string(),
        Measure::Money => Money::from_minor(amount).show(job.decimal()),
        Measure::BoughtLength | Measure::Scrap | Measure::TimberBeyond => {
            long_length(job, Length::from_ticks(amount))
        }
    }
}

/// What a check found: for each group of sections and each level, the plan's value and how well its bound is shown.
pub fn check_text(job: &Job, checked: &CheckedPlan) -> String {
    let mut text = String::from(
        "The plan holds: every part is cut once, every cut fits its board, and the totals are right.\n",
    );
    text.push_str(&verdict_text(job, checked));
    for group in checked.groups() {
        let sections = sections_together(job, &group.sections);
        text.push_str(&format!("\n{sections}\n"));
        for level in &group.levels {
            let line = level_line(job, checked, group, level);
            text.push_str(&format!("  {line}\n"));
        }
    }
    text
}

/// What is printed beyond the figures of a level, in its unit: scrap is what ends up on the floor, which is more where mitred ends overlap.
pub fn beyond(checked: &CheckedPlan, group: &CheckedGroup, measure: Measure) -> i64 {
    if measure != Measure::Scrap {
        return 0;
    }
    let of_group = |section: usize| group.sections.contains(&section);
    let boards = checked.boards().iter();
    let boards = boards.filter(|board| of_group(board.section));
    boards.map(|board| board.mitre_waste.ticks()).sum()
}

/// A plan's value at a level, and how far it is proven.
fn level_line(
    job: &Job,
    checked: &CheckedPlan,
    group: &CheckedGroup,
    level: &CheckedLevel,
) -> String {
    let beyond = beyond(checked, group, level.measure);
    let amount = |figure: i64| measured(job, level.measure, figure.saturating_add(beyond));
    let standing = standing_text(level, &amount);
    format!("{}: {standing}", amount(level.value))
}

/// How far the plan as a whole is proven: a line for each level of buying that the checker has not shown.
fn verdict_text(job: &Job, checked: &CheckedPlan) -> String {
    match checked.verdict() {
        Verdict::Proven => "Proven: no plan does better.\n".into(),
        Verdict::BuyingProven => {
            "Proven: nothing better can be bought. Of the scrap this was not shown.\n".into()
        }
        Verdict::InBlanks => format!(
            "Proven{}: nothing better can be bought. {}\n",
            checked.within().said(),
            checked.within().why()
        ),
        Verdict::FirstProven | Verdict::Claimed | Verdict::Open => {
            let mut text = String::from("Not proven. What is missing:\n");
            for group in checked.groups() {
                for level in group.deciding() {
                    if !level.is_shown() {
                        let sections = sections_together(job, &group.sections);
                        text.push_str(&format!(
                            "- {sections}, {}\n",
                            level_line(job, checked, group, level)
                        ));
                    }
                }
            }
            text
        }
    }
}

/// Sections that are planned together.
pub fn sections_together(job: &Job, sections: &[usize]) -> String {
    section_names(job, sections).join(" and ")
}

/// Sections that a part may be made of.
pub fn sections_to_choose(job: &Job, sections: &[usize]) -> String {
    section_names(job, sections).join(" or ")
}

fn section_names<'a>(job: &'a Job, sections: &[usize]) -> Vec<&'a str> {
    let names = sections.iter();
    names
        .map(|&section| job.sections[section].name.as_str())
        .collect()
}

/// How far a level is proven. `amount` writes a figure of the level's unit.
pub fn standing_text(level: &CheckedLevel, amount: &dyn Fn(i64) -> String) -> String {
    let within = level.within.said();
    match level.standing() {
        // Nothing is below zero, and no figures were needed for that.
        Standing::ReProved if level.value == 0 => format!("no plan does better{within}"),
        Standing::ReProved => {
            format!("no plan does better{within}; a second reckoning shows it")
        }
        Standing::ClaimOnly(reason) => format!(
            "the planner found that no plan does better{within}; {}",
            why_not_shown(reason, amount)
        ),
        Standing::Gap => match level.bound {
            Some(bound) if bound >= 0 => {
                let how = if level.backing == Backing::ReProved {
                    "proven"
                } else {
                    "said by the planner"
                };
                format!(
                    "better may exist, but nothing below {}{within} ({how})",
                    amount(bound)
                )
            }
            _ => "better may exist".into(),
        },
    }
}

fn why_not_shown(reason: Reason, amount: &dyn Fn(i64) -> String) -> String {
    match reason {
        Reason::NoFigures => "the plan brings no figures to add up".into(),
        Reason::Searched { shown } => format!(
            "the figures alone show {}, the rest was searched through",
            amount(shown)
        ),
        Reason::OtherTotals => "its figures speak of other plans".into(),
        Reason::TooLarge => "its figures are too many to add up here".into(),
        Reason::OutOfTime => "time was up before its figures were added up".into(),
        Reason::Loose { shown } => format!("what could be added up shows {}", amount(shown)),
    }
}

/// A sum of lengths in the unit that reads best.
pub fn long_length(job: &Job, length: Length) -> String {
    job.style().for_sums().show(length).text
}

/// Whether some board would be long enough for a part if its ends were not trimmed.
fn trimmed_away(job: &Job, part: usize) -> bool {
    let part = &job.parts[part];
    let yard = job.yard.iter().enumerate();
    let yard = yard.filter(|(_, line)| line.count != Some(0));
    let shed = job.shed.iter().enumerate();
    yard.map(|(line, yard)| (yard.section, yard.length, Source::Yard(line)))
        .chain(shed.map(|(at, board)| (board.section, board.length, Source::Shed(at))))
        .any(|(section, length, source)| {
            part.goes_on(section, job.timber(source))
                && length >= part.length
                && job.carry.is_none_or(|carry| length <= carry)
        })
}

/// Whether a piece that the vehicle takes would be long enough for a part if the yard sawed exactly and nothing were trimmed.
fn lost_at_the_yards_cut(job: &Job, part: &Part) -> bool {
    let (Some(carry), kerf) = (job.carry, job.saw.kerf) else {
        return false;
    };
    let mut lines = job.yard.iter().filter(|line| line.count != Some(0));
    lines.any(|line| {
        let cut = line.length > carry && line.length - kerf <= carry + carry;
        let longest = carry.min(line.length - kerf);
        cut && part.sections.contains(&line.section) && longest >= part.length
    })
}

/// The longest length that the vehicle takes once the yard has cut it in two, to the step under it.
fn carried_in_two(job: &Job) -> Option<Length> {
    let both = job.carry? + job.carry? + job.saw.kerf;
    Some(both.down_to(job.step))
}

/// Why lengths at the yard of these sections, at least `least` long, cannot be used: they are there, but the vehicle takes them neither
/// whole nor in two pieces. `None` where it takes one of them, or where the yard has none.
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

/// What is lacking where a part fits no board that it may be made from: it is for shed boards only, or for new timber only while a shed
/// board is long enough, or it is ripped while a board that may not be is long enough.
fn kept_off(job: &Job, part: &Part) -> Option<String> {
    let (label, length) = (&part.label, job.style().show(part.length).told());
    let long_enough =
        |board: &&ShedBoard| part.sections.contains(&board.section) && board.length >= part.length;
    let unripped = (0..job.shed.len()).filter(|&at| !job.timber(Source::Shed(at)).rips);
    let mut unripped = unripped.map(|at| (at, &job.shed[at]));
    let unripped = unripped.find(|(_, board)| long_enough(board));
    if let Some((at, board)) =
        unripped.filter(|(_, board)| part.made_from.takes(board.new) && !part.strips.is_empty())
    {
        let (mark, treated) = (&board.mark, job.treated(Source::Shed(at)).told());
        return Some(format!(
            "\"{label}\" is {length} long and ripped to its width, and no board that may be ripped takes it; board {mark} of the shed is {treated}: \
             add a longer length to the yard, or say that it is not treated where you know"
        ));
    }
    let mut shed = job.shed.iter();
    let (timber, more) = match part.made_from {
        MadeFrom::Shed => ("shed board", "board to the shed"),
        MadeFrom::New if shed.any(|board| long_enough(&board)) => {
            ("new timber", "length to the yard")
        }
        _ => return None,
    };
    let only = part.made_from.word();
    let sections = sections_to_choose(job, &part.sections);
    Some(format!(
        "\"{label}\" is {length} long and made from {only}, and no {timber} of {sections} takes it; add a longer {more}, let it be made from \
         anything, or shorten it"
    ))
}

/// Whether a part stands on a factory end, and the boards that are long enough for it have none.
fn without_factory_end(job: &Job, part: &Part) -> bool {
    let mut sections = part.sections.iter();
    let stands = sections.all(|&section| job.stands_on_factory_end(part, section));
    let sources = (0..job.yard.len()).map(Source::Yard);
    let mut sources = sources
        .chain((0..job.shed.len()).map(Source::Shed))
        .filter(|&source| {
            let (section, length) = job.board(source);
            let there = matches!(source, Source::Shed(_)) || !is_missing(job, source);
            there && part.goes_on(section, job.timber(source)) && length >= part.length
        });
    let long_enough = sources.clone().next().is_some();
    stands && long_enough && sources.all(|source| standing_trims(job, source) == [None, None])
}

fn is_missing(job: &Job, source: Source) -> bool {
    matches!(source, Source::Yard(line) if job.yard[line].count == Some(0))
}

/// How many parts of some sections stand on factory ends, and how many such ends there are, where these are too few.
fn too_few_factory_ends(job: &Job, sections: &[usize]) -> Option<[u64; 2]> {
    let of_it = |part: &&Part| {
        let mut sections_of = part.sections.iter();
        sections.contains(&part.sections[0])
            && sections_of.all(|&section| job.stands_on_factory_end(part, section))
    };
    let posts = job.parts.iter().filter(of_it);
    let posts: u64 = posts.map(|part| u64::from(part.quantity)).sum();
    let mut ends = 0;
    let sources = (0..job.yard.len()).map(Source::Yard);
    for source in sources.chain((0..job.shed.len()).map(Source::Shed)) {
        if sections.contains(&job.board(source).0) {
            let count = match source {
                Source::Yard(line) => job.yard[line].count?,
                Source::Shed(_) => 1,
            };
            let here = standing_trims(job, source).into_iter().flatten().count();
            ends += u64::from(count) * here as u64;
        }
    }
    (posts > ends).then_some([posts, ends])
}

/// What is lacking where no plan exists, and the way out.
pub fn lack_text(job: &Job, lack: &Lack) -> String {
    match lack {
        Lack::PartFitsNowhere { part: part_index } => {
            let part = &job.parts[*part_index];
            let (label, length) = (&part.label, job.style().show(part.length).told());
            let sections = sections_to_choose(job, &part.sections);
            if let Some(text) = kept_off(job, part) {
                return text;
            }
            let stands = |&section: &usize| job.stands_on_factory_end(part, section);
            if part.sections.iter().all(stands) && !part.ends.contains(&PartEnd::Square) {
                return format!(
                    "\"{label}\" goes in the ground and stands on a factory end, which is square; make one of its ends square"
                );
            }
            if without_factory_end(job, part) {
                return format!(
                    "\"{label}\" goes in the ground and needs a factory end, and no board of {sections} that is long enough has one; add a length to the \
                     yard, or say which ends of a board in the shed are factory ends"
                );
            }
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
            if lost_at_the_yards_cut(job, part) {
                let off = job.style().show(job.yard_tolerance).told();
                return format!(
                    "\"{label}\" is {length} long, and no board of {sections} takes it once its ends are trimmed and the yard's cut may be {off} off; say \
                     that the yard saws nearer its reading, if it does, make the trim less where the ends are good, add a longer length to the \
                     yard, or shorten the part"
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
            if let Some([posts, ends]) = too_few_factory_ends(job, sections) {
                let names = sections_together(job, sections);
                return format!(
                    "Posts need a factory end: {posts} parts of {names} go in the ground, and the boards that there are have {ends} such ends; raise a count at \
                     the yard, add a length, or say which ends of a board in the shed are factory ends"
                );
            }
            let parts = if *missing == 1 {
                "one part is".to_owned()
            } else {
                format!("{missing} parts are")
            };
            let names = sections_together(job, sections);
            let mut parts_of = job
                .parts
                .iter()
                .filter(|part| sections.contains(&part.sections[0]));
            let how = match parts_of.any(|part| part.strips.len() > 1) {
                true => "with narrow parts side by side as they take the least length",
                false => "however they are cut",
            };
            if let Some(why) = not_carried(job, sections, Length::ZERO) {
                return format!(
                    "there are too few boards of {names}: at least {parts} left over {how}; {why}; add a shorter length to the \
                     yard, or say that the vehicle carries more"
                );
            }
            let choosy = job.parts.iter().any(|part| {
                part.made_from != MadeFrom::Anything
                    && part
                        .sections
                        .iter()
                        .any(|section| sections.contains(section))
            });
            let mend = match choosy {
                true => "add timber that they may be made from, or let them be made from anything",
                false => "raise a count at the yard, or add a length",
            };
            format!("there are too few boards of {names}: at least {parts} left over {how}; {mend}")
        }
    }
}
