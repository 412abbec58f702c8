//! Blanks: whether narrow parts come out of the pieces they are ripped from, and how far that choice of pieces was shown to be the best.
//!
//! **What may share a blank.** Strips of one section that is not treated and of known width, made of no other and from the same timber of it, square at both ends and standing free, none with a good face out, bevelled edges or wanted left and right. They and the kerfs
//! between them are no wider than the board, each as wide as a fence shows it: the next step over its width. Where the section's edges meet squarely they
//! are alike; else every strip says which edge of the board it keeps, no two keep one, and none is as narrow as the lap it keeps. The blank is as long
//! as its longest strip. A strip alone is cut as its part is, and where the saw does not rip each is alone. The planner's blanks (`timber::blanks`) follow the same statement with code of their own.
//!
//! **How far the choice is the best.** Take the strips of a section that are at least so long. Each lies in a blank at least so long, so there are no fewer such
//! blanks than those strips need. Where the plan's blanks are no more than that for every length, they can be laid one for one where those of any other
//! choice lie, and no other choice buys less. Where besides all strips have one length, no other way to cut does either: mark points along a board, a length and a
//! kerf apart; every strip lies over exactly one of them, those over one point lie side by side there, and so make a blank.
//!
//! How many blanks strips need is bounded by weights (dual feasible functions; Fekete and Schepers 2001): with `x` the share of a strip and its kerf in a board and a kerf, the
//! sum of `x` over a blank is at most 1, so that the sum of `ceil((q + 1) x) - 1`, which is below that of `(q + 1) x`, is at most `q`.

use crate::groups::Group;
use crate::lie::Lie;
use order::Map;
use timber::job::{EdgeJoint, Fitting, Job, Keeps, Part, PartEnd, Section, Sides, Treated};
use timber::length::Length;
use timber::plan::Within;

/// The most strips to a blank that weights are tried for; more are bounded a little less.
const WEIGHTS: i128 = 64;

/// Whether every narrow part of the list comes out of blanks as often as it is wanted, and nothing comes out that cannot.
pub(crate) fn check_blanks(job: &Job, lies: &mut Vec<Lie>) {
    let mut cut: Map<usize, u64> = Map::new();
    for (index, blank) in job.parts.iter().enumerate() {
        for &row in &blank.strips {
            *cut.or_insert_with(row, || 0) += u64::from(blank.quantity);
        }
        if let Some(lie) = wrong_with(job, index, blank) {
            lies.push(lie);
        }
    }
    for (row, part) in job.list.iter().enumerate() {
        let wanted = part.rip.map_or(0, |_| u64::from(part.quantity));
        let cut = cut.remove(&row).unwrap_or(0);
        if cut != wanted {
            lies.push(Lie::StripsMiscounted { row, wanted, cut });
        }
    }
}

/// What is wrong with one blank, if anything.
fn wrong_with(job: &Job, index: usize, blank: &Part) -> Option<Lie> {
    let unlike = |row: usize| Some(Lie::UnlikeStrips { part: index, row });
    let strips = blank.strips.iter();
    if let Some(&row) = strips
        .clone()
        .find(|&&row| job.list.get(row).is_none_or(|part| part.rip.is_none()))
    {
        return unlike(row);
    }
    let &first = blank.strips.first()?;
    if blank.strips.len() == 1 {
        let part = &job.list[first];
        let as_cut = |part: &Part| {
            (
                part.sections.clone(),
                part.length,
                part.ends,
                part.leans,
                part.fitting,
                part.made_from,
                part.good_face,
            )
        };
        return if as_cut(part) == as_cut(blank) {
            None
        } else {
            unlike(first)
        };
    }
    let &[of] = &blank.sections[..] else {
        return unlike(first);
    };
    let section = &job.sections[of];
    let board = section.broad().unwrap_or_default();
    let (mut across, mut longest) = (Length::ZERO, Length::ZERO);
    let mut kept = Vec::new();
    for &row in strips {
        let part = &job.list[row];
        let rip = part.rip?;
        if !job.saw.rips
            || !may_share(part, of, section)
            || part.made_from != blank.made_from
            || (rip.keeps != Keeps::Either && kept.contains(&rip.keeps))
        {
            return unlike(row);
        }
        if section.joint != EdgeJoint::Square {
            kept.push(rip.keeps);
            if rip.width <= section.lap() {
                return Some(Lie::RippedIntoItsLap { part: index, row });
            }
        }
        across += rip.width.up_to(job.step) + job.saw.kerf;
        longest = longest.max(part.length);
    }
    let by = across - job.saw.kerf - board;
    if by > Length::ZERO {
        return Some(Lie::BlankTooWide { part: index, by });
    }
    let square = blank.ends == [PartEnd::Square; 2] && blank.fitting == Fitting::Free;
    (blank.length != longest || !square).then_some(Lie::WrongBlank { part: index })
}

/// Whether a narrow part may lie beside others of its section in one blank.
fn may_share(part: &Part, of: usize, section: &Section) -> bool {
    let Some(rip) = part.rip else {
        return false;
    };
    let edge_is_there = if section.joint == EdgeJoint::Square {
        section.edges == Sides::Alike
    } else {
        rip.keeps != Keeps::Either
    };
    edge_is_there
        && section.treated == Treated::No
        && section.width.is_some()
        && part.sections == [of]
        && part.ends.iter().all(|end| *end == PartEnd::Square)
        && part.fitting == Fitting::Free
        && !(part.good_face || part.pair || rip.is_bevelled())
}

/// Within what the blanks of a group are the best there are.
pub(crate) fn within(job: &Job, group: &Group) -> Within {
    let of_section = group
        .sections
        .iter()
        .map(|&section| within_section(job, section));
    of_section.max().unwrap_or(Within::Everything)
}

pub(crate) fn within_section(job: &Job, of: usize) -> Within {
    let section = &job.sections[of];
    // Where nothing is ripped no strips lie side by side.
    let rips = job.saw.rips && section.treated == Treated::No;
    let Some(board) = section.broad().filter(|_| rips) else {
        return Within::Everything;
    };
    let kerf = job.saw.kerf;
    let narrow = || {
        let parts = job.list.iter().filter(|part| part.rip.is_some());
        parts.filter(|part| part.sections.contains(&of))
    };
    let mut widths: Vec<Length> = Vec::new();
    for part in narrow() {
        let width = part.rip.map(|rip| rip.width).unwrap_or_default();
        widths.extend(std::iter::repeat_n(width, part.quantity.min(2) as usize));
    }
    order::sort(&mut widths);
    match widths[..] {
        // Not even the two narrowest lie side by side.
        [] | [_] => return Within::Everything,
        [one, other, ..] if one + kerf + other > board => return Within::Everything,
        _ => {}
    }
    let mut from = narrow().map(|part| part.made_from);
    let first = from.next();
    let one_timber = from.all(|made_from| Some(made_from) == first);
    if !one_timber || !narrow().all(|part| may_share(part, of, section)) {
        return Within::TheseBlanks;
    }
    let mut lengths: Vec<Length> = narrow().map(|part| part.length).collect();
    order::sort(&mut lengths);
    lengths.dedup();
    for &length in &lengths {
        let blanks = job
            .parts
            .iter()
            .filter(|part| !part.strips.is_empty() && part.sections == [of]);
        let there = blanks.filter(|blank| blank.length >= length);
        let there: i128 = there.map(|blank| i128::from(blank.quantity)).sum();
        let strips: Vec<&Part> = narrow().filter(|part| part.length >= length).collect();
        if there > fewest(&strips, section, (board + kerf, kerf)) {
            return Within::TheseBlanks;
        }
    }
    match lengths.len() {
        1 => Within::Everything,
        _ => Within::SideBySide,
    }
}

/// No fewer blanks hold these strips.
fn fewest(strips: &[&Part], section: &Section, (board, kerf): (Length, Length)) -> i128 {
    let board = i128::from(board.ticks()).max(1);
    let sum = |weight: &dyn Fn(i128) -> i128| -> i128 {
        let of = |part: &&Part| {
            let width = part.rip.map(|rip| rip.width).unwrap_or_default() + kerf;
            weight(i128::from(width.ticks())) * i128::from(part.quantity)
        };
        strips.iter().map(of).sum()
    };
    let up = |amount: i128, by: i128| (amount + by - 1) / by;
    let mut least = up(sum(&|width| width), board);
    for most in 1..=WEIGHTS {
        least = least.max(up(sum(&|width| up(width * (most + 1), board) - 1), most));
    }
    for edge in [Keeps::First, Keeps::Last] {
        let keep = strips.iter().filter(|part| {
            section.joint != EdgeJoint::Square && part.rip.is_some_and(|rip| rip.keeps == edge)
        });
        least = least.max(keep.map(|part| i128::from(part.quantity)).sum());
    }
    least
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::laws::{job, mm};
    use timber::job::Rip;

    /// The fewest boards that hold these strips: each goes in every board that has room, or in a new one. No board gives one edge twice.
    fn fewest_of_all(
        strips: &[(i64, Keeps)],
        board: i64,
        boards: &mut Vec<(i64, Vec<Keeps>)>,
        best: &mut usize,
    ) {
        if boards.len() >= *best {
            return;
        }
        let Some((&(width, keeps), rest)) = strips.split_first() else {
            *best = boards.len();
            return;
        };
        for at in 0..=boards.len() {
            if at == boards.len() {
                boards.push((board, Vec::new()));
            }
            let (room, edges) = &boards[at];
            if *room >= width && (keeps == Keeps::Either || !edges.contains(&keeps)) {
                boards[at].0 -= width;
                boards[at].1.push(keeps);
                fewest_of_all(rest, board, boards, best);
                boards[at].0 += width;
                boards[at].1.pop();
            }
            if boards[at].1.is_empty() {
                boards.remove(at);
            }
        }
    }

    #[test]
    fn no_fewer_boards_hold_strips_than_the_weights_say_and_mostly_as_few() {
        let mut job = job(&[], &[("400", "square", "1")], |_| ());
        let part = job.list[0].clone();
        let (board, kerf) = (40, 3);
        let mut seed = 9u64;
        let mut below = |end: u64| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            (seed >> 33) % end
        };
        let mut exact = [0, 0];
        for case in 0..400 {
            let joint = [EdgeJoint::Square, EdgeJoint::Tongued][case % 2];
            job.sections[0].joint = joint;
            let strips: Vec<Part> = (0..1 + below(3))
                .map(|_| {
                    let mut part = part.clone();
                    part.quantity = 1 + below(3) as u32;
                    let width = mm(4 + below(30) as i64);
                    let keeps = match joint {
                        EdgeJoint::Square => Keeps::Either,
                        _ => [Keeps::First, Keeps::Last][below(2) as usize],
                    };
                    part.rip = Some(Rip::square(width, keeps));
                    part
                })
                .collect();
            let mut each: Vec<(i64, Keeps)> = Vec::new();
            for strip in &strips {
                let rip = strip.rip.expect("a strip");
                let width = rip.width.ticks() / 3_200 + kerf;
                each.extend(std::iter::repeat_n(
                    (width, rip.keeps),
                    strip.quantity as usize,
                ));
            }
            let mut most = each.len() + 1;
            fewest_of_all(&each, board + kerf, &mut Vec::new(), &mut most);
            let strips: Vec<&Part> = strips.iter().collect();
            let told = fewest(&strips, &job.sections[0], (mm(board + kerf), mm(kerf)));
            assert!(told <= most as i128, "{told} {most} {each:?}");
            exact[case % 2] += usize::from(told == most as i128);
        }
        // The weights see nearly all; what they leave is a board too few.
        assert!(exact.iter().all(|exact| *exact > 170), "{exact:?} of 200");
    }
}
