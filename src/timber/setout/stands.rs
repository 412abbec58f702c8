//! How a set-out stands in space: its members as solids, each a part of its list.
//!
//! A set-out stands by itself, with its least corner near the origin. A panel stands with the side drawn to the front; tops, caps and rings
//! lie. Members come in the order of building. What is not known of a member (the section of loose parts without sizes) is made up for the
//! eye, and that alone.
//!
//! Members are worked out by the calculation that makes the parts, and are then counted against the list: rows, lengths, widths and
//! quantities. Where they differ nothing is returned, so a picture cannot show what the list does not say.

use super::built::rows;
use super::finish::SetOut;
use super::free_parts;
use super::kinds::{Kind, Way};
use super::placed::Placed;
use super::sheet;
use crate::length::Length;
use crate::part::{Part, Rip};
use crate::section::Section;
use crate::space::Member;

/// The members of one of a set-out, in the order of building; `part` of each is a row of `set_out.parts`. `None` for a set-out with a fault.
pub fn members(set_out: &SetOut, sections: &[Section]) -> Option<Vec<Member>> {
    let (kind, sizes) = (Kind::named(&set_out.kind)?, set_out.sizes.as_ref()?);
    let parts = &set_out.parts;
    match kind.way() {
        Way::Parts(_, members) => listed(members(sizes).ok()?, parts, set_out.times),
        Way::Members(build, _) => rows(build(sizes).ok()?, parts, set_out.times),
        Way::Bought(_) => Some(sheet::members(sizes)),
        Way::Loose(_) => {
            let count = parts.iter().map(|part| part.quantity).sum::<u32>() / set_out.times;
            let room = free_parts::stands::room(sizes);
            Some(free_parts::stands::members(parts, sections, count, room))
        }
    }
}

/// What tells a row of the list from the others of its set-out.
type Key = (u8, Length, Option<Rip>);

/// The members with their rows. `Worked::add` makes a row where a part first occurs, so the rows are the distinct parts in that order.
fn listed(placed: Vec<Placed>, parts: &[Part], times: u32) -> Option<Vec<Member>> {
    let key = |one: &Placed| -> Key { (one.line, one.length, one.rip) };
    let mut rows: Vec<(Key, u32)> = Vec::new();
    for one in &placed {
        match rows.iter_mut().find(|(row, _)| *row == key(one)) {
            Some((_, count)) => *count += 1,
            None => rows.push((key(one), 1)),
        }
    }
    order::sort_by_key(&mut rows, |((line, ..), _)| *line);
    let same = |part: &Part, &((_, length, rip), count): &(Key, u32)| {
        part.length == length && part.rip == rip && part.quantity == count * times
    };
    let mut both = parts.iter().zip(&rows);
    if rows.len() != parts.len() || !both.all(|(part, row)| same(part, row)) {
        return None;
    }
    let row = |one: &Placed| rows.iter().position(|(row, _)| *row == key(one));
    let known = |one: Placed| {
        Some(Member {
            part: row(&one)?,
            body: one.body,
        })
    };
    placed.into_iter().map(known).collect()
}
