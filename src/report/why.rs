//! Why no plan buys fewer lengths, in words that can be checked on the back of a board.
//!
//! Two reasons need no more than counting. **Pieces:** of parts that are so long or longer only so many come out of a length; where they are over half of it,
//! one. **Timber:** the parts with their cuts are longer than one length fewer holds, however they are laid. Each is a bound of its own, worked out here
//! from the job in whole ticks, and it is told only where it comes to the number bought; where neither does, the figures of the proof are all there is.

use super::words::{Words, counted};
use crate::check::{CheckedGroup, CheckedPlan};
use crate::clear::clear_runs;
use crate::job::{Job, Part};
use crate::length::{Length, Style};
use crate::plan::{Measure, Source};

/// A reason for each group of sections that has one.
pub(super) fn reasons(words: &Words, checked: &CheckedPlan) -> Vec<String> {
    let groups = checked.groups();
    let told = groups.iter().filter_map(|group| {
        let reason = reason(words, group)?;
        let of = match groups.len() {
            1 => String::new(),
            _ => format!(" of {}", words.sections(&group.sections)),
        };
        Some(format!("Why no fewer{of}: {reason}"))
    });
    told.collect()
}

fn reason(words: &Words, group: &CheckedGroup) -> Option<String> {
    let bought = group
        .levels
        .iter()
        .find(|level| level.measure == Measure::Bought)?;
    let count = u64::try_from(bought.value)
        .ok()
        .filter(|&count| count > 0)?;
    // With other sizes within their ranges the parts would take something else.
    if !bought.is_shown() || words.job.has_free_sizes() {
        return None;
    }
    let stock = Stock::of(words.job, &group.sections)?;
    stock
        .pieces(words, count)
        .or_else(|| stock.timber(words, count))
}

/// The timber that a group may be cut from, and its parts.
struct Stock<'a> {
    parts: Vec<&'a Part>,
    kerf: Length,
    /// The clear runs of each length of the yard, and of each board of the shed.
    yard: Vec<Vec<Length>>,
    shed: Vec<Vec<Length>>,
}

impl<'a> Stock<'a> {
    /// `None` where cuts may be shared, or a length is cut at the yard: then a part does not take what it takes here.
    fn of(job: &'a Job, sections: &[usize]) -> Option<Stock<'a>> {
        let is_here = |section: usize| sections.contains(&section);
        let parts: Vec<&Part> = job
            .parts
            .iter()
            .filter(|part| is_here(part.sections[0]))
            .collect();
        let lines = (0..job.yard.len()).filter(|&line| is_here(job.yard[line].section));
        let boards = (0..job.shed.len()).filter(|&board| is_here(job.shed[board].section));
        let is_plain = |part: &&Part| {
            let mut of = part.sections.iter();
            !part.is_angled() && !of.any(|&section| job.stands_on_factory_end(part, section))
        };
        let is_carried = |line: usize| job.carry.is_some_and(|carry| job.yard[line].length > carry);
        if !parts.iter().all(is_plain) || lines.clone().any(is_carried) {
            return None;
        }
        let runs = |source: Source| {
            let runs = clear_runs(job, source).into_iter();
            runs.map(|run| run.stretch.to - run.stretch.from).collect()
        };
        Some(Stock {
            parts,
            kerf: job.saw.kerf,
            yard: lines.map(|line| runs(Source::Yard(line))).collect(),
            shed: boards.map(|board| runs(Source::Shed(board))).collect(),
        })
    }

    /// Parts of some length or more, of which so many come out of a length at the most.
    fn pieces(&self, words: &Words, bought: u64) -> Option<String> {
        let mut lengths: Vec<Length> = self.parts.iter().map(|part| part.length).collect();
        order::sort(&mut lengths);
        lengths.dedup();
        // The longest parts first: the fewer they are, the plainer is the reason.
        lengths.into_iter().rev().find_map(|shortest| {
            let out_of = |runs: &Vec<Length>| -> u64 {
                let room = |run: &Length| (run.ticks() + self.kerf.ticks()).max(0);
                let each = shortest.ticks() + self.kerf.ticks();
                runs.iter().map(|run| (room(run) / each) as u64).sum()
            };
            let of_length = self.yard.iter().map(out_of).max().filter(|&most| most > 0)?;
            let of_shed: u64 = self.shed.iter().map(out_of).sum();
            let large = self.parts.iter().filter(|part| part.length >= shortest);
            let number: u64 = large.map(|part| u64::from(part.quantity)).sum();
            if number.saturating_sub(of_shed).div_ceil(of_length) != bought {
                return None;
            }
            let parts = counted(number, "part", "parts");
            let length = words.length(shortest);
            let shed = match of_shed {
                0 => String::new(),
                _ => format!(", and {of_shed} out of all of the shed"),
            };
            Some(format!(
                "there {} {parts} of {length} or more, and at most {of_length} of them come out of one length{shed}.",
                if number == 1 { "is" } else { "are" }
            ))
        })
    }

    /// What the parts take is more than one length fewer holds.
    fn timber(&self, words: &Words, bought: u64) -> Option<String> {
        let kerf = i128::from(self.kerf.ticks());
        // A run holds parts each with the cut behind it, the last of which may fall off its end.
        let holds = |runs: &Vec<Length>| -> i128 {
            runs.iter().map(|run| i128::from(run.ticks()) + kerf).sum()
        };
        let takes =
            |part: &&Part| (i128::from(part.length.ticks()) + kerf) * i128::from(part.quantity);
        let needed: i128 = self.parts.iter().map(takes).sum();
        let longest = self.yard.iter().map(holds).max()?;
        let shed: i128 = self.shed.iter().map(holds).sum();
        let fewer = i128::from(bought) - 1;
        let held = longest * fewer + shed;
        if held >= needed {
            return None;
        }
        // Rounded so that what is printed holds as well.
        let sums = words.job.style().for_sums();
        let step = match words.job.is_imperial() {
            true => sums.step,
            false => Length::from_mm(1),
        };
        let length = |ticks: i128| i64::try_from(ticks).ok().map(Length::from_ticks);
        let (needed, held) = (length(needed)?.down_to(step), length(held)?.up_to(step));
        if needed <= held {
            return None;
        }
        let sum = |length: Length| Style { step, ..sums }.show(length).text;
        let and_shed = if self.shed.is_empty() {
            ""
        } else {
            " with all of the shed"
        };
        let lengths = match fewer {
            0 if self.shed.is_empty() => return None,
            0 => "all of the shed".to_owned(),
            1 => format!("one of the longest lengths{and_shed}"),
            _ => format!("{fewer} of the longest lengths{and_shed}"),
        };
        let hold = if fewer > 1 { "hold" } else { "holds" };
        Some(format!(
            "the parts with a saw cut each take {}, and {lengths} {hold} no more than {}.",
            sum(needed),
            sum(held)
        ))
    }
}
