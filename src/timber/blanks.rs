//! Blanks: pieces cut across a board and then ripped, so that narrow parts come out of one board together.
//!
//! A *strip* is a narrow part. Strips lie side by side in a blank, a kerf between neighbours; a blank is as long as its longest strip, and shorter
//! ones are cut to length once they are ripped. Widths count as the fence is set: to the next step of the tape over them.
//!
//! **What may share a blank, in one statement.** Strips of one section that is not treated and of which the width is known, that may be made of no other section,
//! and from the same timber of it, with square ends and edges, that stand free, none with its good face out or wanted left and right; where edges meet squarely both edges are alike, and elsewhere a blank has at most one strip that keeps its first
//! edge and one that keeps its last. Any other narrow part has a blank to itself, and so has each
//! where the saw does not rip. The checker holds blanks to the same statement with code of its own
//! (`checking::blanks`).
//!
//! **Which blanks.** Those of the least length in all, and of these the fewest, as far as it is searched. The longest strip that is left decides how
//! long its blank is; whatever else fits beside it makes no blank longer. So blanks are filled one by one, each around the longest strip left, and
//! only with fills to which nothing left can be added. First each is filled with the longest that fit; that is the best where it meets the
//! bound below, and where strips are few all fills are tried, depth first, a branch being left where the bound shows nothing better (Land and Doig 1960).
//! Each blank takes a strip, so it ends; it stops earlier at a limit of steps and keeps the best.
//!
//! **Bound.** Of the strips of a length and longer ones each is in a blank at least so long. There are at least so many of these as their widths, kerf and
//! all, fill; as strips of a width and wider ones, so many to a blank, fill; and as many as keep one edge. Summed over the lengths
//! this is a least length.

mod class;
mod search;

use crate::limits;
use crate::part::{Fitting, Keeps, MadeFrom, Part, PartEnd};
use crate::section::{EdgeJoint, Section, Sides, Treated};
pub use class::Fence;
use class::{Class, Fill, Room};
use search::Search;

/// The most strips of one section of which all fills are tried; above zero. More are filled with the longest that fit.
const SEARCHED: u32 = 40;
/// The most steps of that search: one for each kind that is looked at while a blank is filled, and for each blank the square of their number.
const STEPS: u64 = 500_000;

/// What is cut across boards for a cutting list, in its order: a blank stands where its first strip does.
pub fn cut_parts(list: &[Part], sections: &[Section], fence: Fence) -> Vec<Part> {
    let mut placed: Vec<(usize, Part)> = Vec::new();
    let of: Vec<Option<usize>> = list
        .iter()
        .map(|part| shared(part, sections).filter(|_| fence.rips))
        .collect();
    let places = MadeFrom::WORDS.map(|(_, made_from)| made_from);
    for (row, part) in list.iter().enumerate() {
        if of[row].is_none() {
            let strips = part.rip.map(|_| row).into_iter().collect();
            let part = Part {
                strips,
                ..part.clone()
            };
            placed.push((row, part));
        }
    }
    let all = (0..sections.len()).flat_map(|section| places.map(|place| (section, place)));
    for (index, place) in all {
        let section = &sections[index];
        let rows =
            (0..list.len()).filter(|&row| of[row] == Some(index) && list[row].made_from == place);
        let class = Class::of(list, rows, section, fence);
        for (rows, times) in of_rows(list, &class) {
            let first = rows.iter().copied().min().unwrap_or(0);
            placed.push((first, blank(list, rows, times)));
        }
    }
    order::sort_by_key(&mut placed, |(row, _)| *row);
    placed.into_iter().map(|(_, part)| part).collect()
}

/// The section of which a narrow part may share blanks.
fn shared(part: &Part, sections: &[Section]) -> Option<usize> {
    let rip = part.rip?;
    let &[index] = &part.sections[..] else {
        return None;
    };
    let section = sections.get(index)?;
    section.broad()?;
    let edge = match section.joint {
        EdgeJoint::Square => section.edges == Sides::Alike,
        _ => rip.keeps != Keeps::Either,
    };
    let plain = part.ends == [PartEnd::Square; 2]
        && part.fitting == Fitting::Free
        && !part.good_face
        && !part.pair
        && !rip.is_bevelled();
    (edge && plain && section.treated == Treated::No).then_some(index)
}

/// A blank of these rows of the list, one for each strip. One with a single strip is that part.
fn blank(list: &[Part], strips: Vec<usize>, quantity: u32) -> Part {
    let parts = || strips.iter().map(|&row| &list[row]);
    if let &[row] = &strips[..] {
        return Part {
            quantity,
            strips,
            ..list[row].clone()
        };
    }
    let length = parts().map(|part| part.length).max().unwrap_or_default();
    let mut told: Vec<String> = Vec::new();
    for same in strips.chunk_by(|one, other| one == other) {
        let label = &list[same[0]].label;
        told.push(match same.len() {
            1 => label.clone(),
            count => format!("{count} \u{d7} {label}"),
        });
    }
    let first = &list[strips[0]];
    let alike = parts().all(|part| part.from == first.from);
    let label = limits::LABEL.cut(told.join(" + "));
    Part {
        from: if alike {
            first.from.clone()
        } else {
            String::new()
        },
        strips,
        made_from: first.made_from,
        ..Part::square(&label, &first.sections, length, quantity)
    }
}

/// The blanks of a class, the strips of each by their rows in the list, and how many there are of each. Strips that keep a first edge come before
/// the others; what nothing tells apart is taken from the rows in their order.
fn of_rows(list: &[Part], class: &Class) -> Vec<(Vec<usize>, u32)> {
    let rows = |kind: &class::Kind| {
        let rows = kind.rows.iter();
        rows.flat_map(|&row| std::iter::repeat_n(row, list[row].quantity as usize))
            .collect::<Vec<usize>>()
            .into_iter()
    };
    let mut left: Vec<_> = class.kinds.iter().map(rows).collect();
    let mut blanks: Vec<(Vec<usize>, u32)> = Vec::new();
    for (mut fill, times) in chosen(class) {
        order::sort_by_key(&mut fill, |&(kind, _)| (class.kinds[kind].edge, kind));
        for _ in 0..times {
            let strips = fill
                .iter()
                .flat_map(|&(kind, count)| {
                    left[kind].by_ref().take(count as usize).collect::<Vec<_>>()
                })
                .collect::<Vec<usize>>();
            match blanks.iter_mut().rev().find(|known| known.0 == strips) {
                Some(known) => known.1 += 1,
                None => blanks.push((strips, 1)),
            }
        }
    }
    blanks
}

/// The fills and how many blanks there are of each.
fn chosen(class: &Class) -> Vec<(Fill, u32)> {
    let longest = longest_first(class);
    let strips = class
        .wanted
        .iter()
        .fold(0, |sum: u32, &count| sum.saturating_add(count));
    let worth = (
        class.length(&longest),
        longest.iter().map(|fill| fill.1).sum(),
    );
    // The bound takes the cube of the number of kinds, so that it comes second.
    if strips > SEARCHED || worth.0 <= class.least(&class.wanted) {
        return longest;
    }
    match Search::better(class, worth, STEPS) {
        Some(fills) => fills.into_iter().map(|fill| (fill, 1)).collect(),
        None => longest,
    }
}

/// Each blank around the longest strip left, filled with the longest that fit.
fn longest_first(class: &Class) -> Vec<(Fill, u32)> {
    let mut left = class.wanted.clone();
    let mut fills = Vec::new();
    while let Some(first) = left.iter().position(|&count| count > 0) {
        let mut room = Room::of(class);
        let mut fill: Fill = Vec::new();
        let mut times = u32::MAX;
        for (kind, &wanted) in left.iter().enumerate().skip(first) {
            // A strip alone is always in: it is no wider than its board, though the fence may show more.
            let count = wanted.min(room.holds(kind).max(u32::from(kind == first)));
            if count > 0 {
                room.take(kind, count);
                times = times.min(wanted / count);
                fill.push((kind, count));
            }
        }
        for &(kind, count) in &fill {
            left[kind] -= count * times;
        }
        fills.push((fill, times));
    }
    fills
}
