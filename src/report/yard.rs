//! What is said of a cut at the yard: how far off it may come out, what that means for the vehicle, and what it costs.

use super::buying::{bought, cost};
use super::words::{Words, counted};
use crate::check::CheckedPlan;
use crate::job::{Aim, Job};
use crate::length::Length;

/// What is planned for: how far off the cut may come out, and what is trimmed off the ends it makes; `None` where neither is anything.
pub(super) fn heeded(words: &Words, section: usize) -> Option<String> {
    let (off, fresh) = (
        words.job.yard_tolerance,
        words.job.sections[section].yard_sawn,
    );
    let within = format!(
        "sawn up to {} off it, no part comes out short",
        words.cut_length(off)
    );
    let [first, second] = [fresh.far, fresh.datum].map(|end| words.cut_length(end));
    let trimmed = match first == second {
        true => format!("{first} is trimmed off each end it makes"),
        false => format!(
            "{first} is trimmed off the first of the ends it makes, {second} off the second"
        ),
    };
    let said = [
        (off > Length::ZERO).then_some(within),
        (fresh.far + fresh.datum > Length::ZERO).then_some(trimmed),
    ];
    let said: Vec<String> = said.into_iter().flatten().collect();
    (!said.is_empty()).then(|| said.join("; "))
}

/// How long the pieces come out, where the reading is not one that a yard saws at.
pub(super) fn left_on_either_side(words: &Words, sides: [Length; 2]) -> Option<String> {
    let whole = words.job.yard_reading?;
    let [first, second] = sides.map(|side| words.cut_length(side));
    (sides[0].down_to(whole) != sides[0])
        .then(|| format!("measure well: it leaves {first} before it and {second} beyond it"))
}

/// That a piece may come out longer than the vehicle takes, where the yard may be so far off.
pub(super) fn longer_than_carried(words: &Words, sides: [Length; 2]) -> Option<String> {
    let longest = sides[0].max(sides[1]) + words.job.yard_tolerance;
    let over = longest - words.job.carry?;
    (over > Length::ZERO).then(|| {
        format!(
            "sawn {} off, a piece comes out {} longer than the vehicle takes",
            words.cut_length(words.job.yard_tolerance),
            words.miss_length(over)
        )
    })
}

/// What is to be known before going to the yard.
pub(super) fn notes(words: &Words, checked: &CheckedPlan) -> Vec<String> {
    let mut notes: Vec<String> = Vec::new();
    for (marked, board) in checked.marked().iter().zip(checked.boards()) {
        let Some(cut) = marked.board.yard_cut else {
            continue;
        };
        let sides = [cut, board.length - cut - words.job.saw.kerf];
        let reading = words.cut_length(cut);
        let said = [
            heeded(words, board.section).map(|heeded| format!("A cut at the yard: {heeded}.")),
            longer_than_carried(words, sides).map(|longer| format!("Cut at {reading}: {longer}.")),
        ];
        for note in said.into_iter().flatten() {
            if !notes.contains(&note) {
                notes.push(note);
            }
        }
    }
    notes
}

/// What the plan would be with a yard that saws exactly; `exact` is that plan. `None` where it is no better at the first level of the aim.
pub(super) fn what_it_costs(
    job: &Job,
    heeding: &CheckedPlan,
    exact: &CheckedPlan,
) -> Option<String> {
    let words = Words::of(job);
    let [one, other] = [heeding, exact].map(|checked| {
        let lines = bought(&words, checked);
        let length = |&(line, count): &(usize, u64)| job.yard[line].length.ticks() * count as i64;
        (
            lines.iter().map(|(_, count)| *count as i64).sum::<i64>(),
            cost(&words, &lines).map(|cost| cost.minor()),
            lines.iter().map(length).sum::<i64>(),
        )
    });
    let money = one.1.zip(other.1).map(|(one, other)| other - one);
    let (lengths, metres) = (other.0 - one.0, other.2 - one.2);
    let first = match job.aim {
        Aim::Fewest | Aim::Offcuts => lengths,
        Aim::Cheapest => money?,
        Aim::Shortest => metres,
        Aim::Scrap => return None,
    };
    if first >= 0 {
        return None;
    }
    let way = |difference: i64| if difference < 0 { "less" } else { "more" };
    let told = [
        (lengths != 0).then(|| {
            let count = match lengths.unsigned_abs() {
                1 => "one length".into(),
                many => counted(many, "length", "lengths"),
            };
            let fewer = if lengths < 0 { "fewer" } else { "more" };
            format!("{count} {fewer}")
        }),
        (job.aim == Aim::Shortest).then(|| {
            let by = words.total(Length::from_ticks(metres.abs()));
            format!("{by} {}", way(metres))
        }),
        money.filter(|money| *money != 0).map(|money| {
            let by = words.money(crate::money::Money::from_minor(money.abs()));
            format!("{by} {}", way(money))
        }),
    ];
    let told: Vec<String> = told.into_iter().flatten().collect();
    let mut cuts: Vec<Length> = exact
        .marked()
        .iter()
        .filter_map(|marked| marked.board.yard_cut)
        .collect();
    order::sort(&mut cuts);
    cuts.dedup();
    let cut = match cuts[..] {
        [cut] => format!("a cut at exactly {} at the yard", words.cut_length(cut)),
        _ => "every cut at the yard exactly at its reading".into(),
    };
    Some(format!("With {cut}: {}.", told.join(", ")))
}
