//! Timber in reserve: spare pieces, each as long as the longest part of its section.
//!
//! A spare piece is planned as a part is, so that it costs least: it may come out of what would be an offcut. The allowance for hidden defects is as many
//! of them as make up for a share `w` of what is bought: the parts then take `1 - w` of it, so `w / (1 - w)` of what they take is in reserve.

use crate::job::{Fitting, Part, Section};
use crate::part::{MadeFrom, Spare};
use std::cmp::Reverse;

/// What they are called.
const LABEL: &str = "spare piece";

/// The spare pieces of each section that has parts, a row for each section. A part that may be made of several sections counts for the first.
pub(super) fn pieces(sections: &[Section], list: &[Part]) -> Vec<Part> {
    let rows = sections.iter().enumerate();
    let rows = rows.filter_map(|(index, section)| {
        let own = list
            .iter()
            .filter(|part| part.sections.first() == Some(&index));
        let longest = own.clone().max_by_key(|part| (part.length, asks(part)))?;
        let taken = own.filter(|part| part.spare == Spare::No);
        let taken: i128 = taken.map(|part| takes(part, section)).sum();
        let share = i128::from(section.hidden_defects.min(99));
        let each = i128::from(longest.length.ticks()).max(1);
        let (most, of) = (share * taken, (100 - share) * each);
        let allowed = (most + of - 1) / of;
        let number = i128::from(section.spares) + allowed;
        let number = u32::try_from(number).unwrap_or(u32::MAX);
        (number > 0).then(|| Part {
            fitting: match longest.fitting {
                Fitting::Ground => Fitting::Ground,
                Fitting::Free | Fitting::Between => Fitting::Free,
            },
            made_from: longest.made_from,
            spare: Spare::Piece,
            ..Part::square(LABEL, &longest.sections, longest.length, number)
        })
    });
    rows.collect()
}

/// What a part asks of its timber, most last: of parts that are equally long the spare piece does for the one that asks most, in whatever order they stand.
fn asks(part: &Part) -> (bool, Reverse<&[usize]>, u8) {
    // Of any timber, where one of them is: there may be no room for it in the shed.
    let from = match part.made_from {
        MadeFrom::Shed => 0,
        MadeFrom::New => 1,
        MadeFrom::Anything => 2,
    };
    let ground = part.fitting == Fitting::Ground;
    (ground, Reverse(&part.sections), from)
}

/// The length of timber that a row takes; of what is ripped as much as its share of the width.
fn takes(part: &Part, section: &Section) -> i128 {
    let length = i128::from(part.length.ticks()) * i128::from(part.quantity);
    match (part.rip, section.broad()) {
        (Some(rip), Some(broad)) => {
            length * i128::from(rip.width.ticks()) / i128::from(broad.ticks()).max(1)
        }
        _ => length,
    }
}
