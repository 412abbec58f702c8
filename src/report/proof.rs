//! What is proven of a plan, in words.

use super::words::{Words, counted};
use crate::check::{CheckedGroup, CheckedLevel, CheckedPlan, Standing, Verdict};
use crate::job::{Aim, Job};
use crate::plan::{Measure, Source};
use crate::wording;

/// The proof of one level of one group of sections, ready to print.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ProofRow {
    /// The sections of the group.
    pub sections: String,
    /// What is measured: `bought`, `money`, `bought_length`, `scrap`, `lengths_beyond`, `timber_beyond`.
    pub measure: &'static str,
    /// What is measured, in words.
    pub name: &'static str,
    /// The plan's value.
    pub value: String,
    /// The lower bound on any plan, empty where none is known.
    pub bound: String,
    /// Whether the checker has shown that no plan is better.
    pub proven: bool,
    /// A sentence that says so.
    pub text: String,
}

/// All levels of all groups.
pub(super) fn rows(words: &Words, checked: &CheckedPlan) -> Vec<ProofRow> {
    checked
        .groups()
        .iter()
        .flat_map(|group| group.levels.iter().map(move |level| (group, level)))
        .map(|(group, level)| row(words, checked, group, level))
        .collect()
}

fn row(
    words: &Words,
    checked: &CheckedPlan,
    group: &CheckedGroup,
    level: &CheckedLevel,
) -> ProofRow {
    let beyond = wording::beyond(checked, group, level.measure);
    let amount =
        |figure: i64| wording::figure(words.job, level.measure, figure.saturating_add(beyond));
    let name = level.measure.name();
    let value = amount(level.value);
    let bound = level.bound.map(&amount).unwrap_or_default();
    let sections = words.sections(&group.sections);
    let standing = wording::standing_text(level, &amount);
    let said = match level.standing() {
        Standing::Gap => format!("{value}; {standing}"),
        Standing::ReProved | Standing::ClaimOnly(_) => format!("{value}, and {standing}"),
    };
    ProofRow {
        text: format!("{sections}: {name}: {said}."),
        sections,
        measure: key(level.measure),
        name,
        value,
        bound,
        proven: level.is_shown(),
    }
}

/// The key by which programs know what is measured.
fn key(measure: Measure) -> &'static str {
    match measure {
        Measure::Bought => "bought",
        Measure::Money => "money",
        Measure::BoughtLength => "bought_length",
        Measure::Scrap => "scrap",
        Measure::LengthsBeyond => "lengths_beyond",
        Measure::TimberBeyond => "timber_beyond",
    }
}

/// The plan in one line.
pub(super) fn headline(words: &Words, checked: &CheckedPlan) -> String {
    let bought = checked
        .plan()
        .boards
        .iter()
        .filter(|board| matches!(board.source, Source::Yard(_)))
        .count();
    let what = match bought {
        0 if words.job.parts.is_empty() => "No lengths to buy".to_owned(),
        0 if from_shed(words.job, checked) < checked.boards().len() => {
            "No more lengths to buy".to_owned()
        }
        0 => "No lengths to buy: the shed has them all".to_owned(),
        count => format!("Buy {}", counted(count as u64, "length", "lengths")),
    };
    let levels = || checked.groups().iter().flat_map(|group| &group.levels);
    let first = match words.job.aim {
        // Sections that may buy more are after the money whatever the aim.
        _ if levels().any(|level| level.measure.is_beyond()) => {
            "no plan does better at what is put first"
        }
        Aim::Fewest | Aim::Offcuts => wording::none_better(Measure::Bought),
        Aim::Cheapest => wording::none_better(Measure::Money),
        Aim::Shortest => wording::none_better(Measure::BoughtLength),
        Aim::Scrap => wording::none_better(Measure::Scrap),
    };
    match checked.verdict() {
        Verdict::Proven => format!("{what}{}: proven, no plan does better", least(checked)),
        Verdict::BuyingProven | Verdict::FirstProven => {
            format!("{what}: proven, {first}")
        }
        Verdict::InBlanks => format!("{what}: proven, {first}{}", checked.within().said()),
        Verdict::Claimed => format!(
            "{what}: the planner found that {first}{}",
            checked.within().said()
        ),
        Verdict::Open => format!("{what}: the best found so far"),
    }
}

/// What is made least, where it is not the number of lengths; empty where sections differ in that.
fn least(checked: &CheckedPlan) -> &'static str {
    let mut firsts = checked.groups().iter().map(|group| group.levels[0].measure);
    let first = firsts
        .next()
        .filter(|first| firsts.all(|other| other == *first));
    match first {
        Some(Measure::Money) => " for the least money",
        Some(Measure::BoughtLength) => ", the least timber",
        Some(Measure::Scrap) => " with the least scrap",
        _ => "",
    }
}

/// How many boards come from the shed: what was bought for the piece does not.
pub(super) fn from_shed(job: &Job, checked: &CheckedPlan) -> usize {
    let boards = checked.plan().boards.iter();
    boards.filter(|board| !job.is_new(board.source)).count()
}

/// Sentences that follow the headline.
pub(super) fn explanation(words: &Words, checked: &CheckedPlan) -> Vec<String> {
    let mut texts = Vec::new();
    let total: usize = checked.boards().len();
    let shed = from_shed(words.job, checked);
    if shed > 0 && shed < total {
        texts.push(format!(
            "{} from the shed used.",
            counted(shed as u64, "board", "boards")
        ));
    }
    if checked
        .plan()
        .boards
        .iter()
        .any(|board| board.yard_cut.is_some())
    {
        texts.push("Some lengths are too long to carry and are cut once at the yard.".into());
    }
    match checked.verdict() {
        Verdict::Open => texts.push("A better plan may exist: give the planner longer to find it or to show that there is none.".into()),
        Verdict::Claimed => texts.push("That no plan needs less is the planner's word; it was not shown again, for the reason that stands by the figures.".into()),
        Verdict::BuyingProven => texts.push(scrap_left_open(checked)),
        Verdict::InBlanks => texts.push(checked.within().why().into()),
        Verdict::FirstProven | Verdict::Proven => {}
    }
    texts
}

/// The sentence on scrap, where everything bought is proven and the scrap is not.
fn scrap_left_open(checked: &CheckedPlan) -> String {
    let levels = checked.groups().iter().flat_map(|group| &group.levels);
    let mut open = levels.filter(|level| level.standing() == Standing::Gap);
    if open.next().is_some() {
        "What is bought is settled; a little less scrap may be possible.".into()
    } else {
        let none = wording::none_better(Measure::Scrap);
        format!("What is bought is settled; that {none} is the planner's word.")
    }
}
