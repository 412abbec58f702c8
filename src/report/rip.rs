//! What is ripped out of a piece once it is cut off its board, in the order it is done.

use super::words::Words;
use crate::job::{EdgeJoint, Keeps, Part, Section, Treated};
use crate::length::Length;
use crate::plan::Source;
use timber::beside::{is_ripped_here, kept_beside, left_beside};

/// The strips that follow each other in a piece and are of one row of the list.
struct Alike {
    row: usize,
    /// The number of the first in the piece, from zero.
    first: usize,
    count: usize,
}

/// How a piece is ripped once it is off its board; `None` where it is not.
pub(super) fn text(words: &Words, index: usize, board: Source) -> Option<String> {
    let (piece, of) = (&words.job.parts[index], words.section_of(board));
    let section = &words.job.sections[of];
    let &first = piece.strips.first()?;
    if !is_ripped_here(words.job, board) {
        return None;
    }
    let mut steps = match piece.strips.len() {
        1 => vec![alone(words, &words.job.list[first], section)],
        _ => side_by_side(words, index, section),
    };
    let left = left_beside(words.job, index, of);
    if left > Length::ZERO {
        let keep = match kept_beside(words.job, index, (board, of)) {
            Some(_) => ": keep it",
            None => "",
        };
        steps.push(format!("{} wide is left{keep}", words.left_length(left)));
    }
    if piece.strips.len() > 1 {
        steps.extend(cut_to_length(words, index));
    }
    Some(steps.join("; "))
}

/// Why a narrow piece stays as wide as its board, empty where it is ripped or is no narrow piece.
pub(super) fn left_whole(words: &Words, index: usize, board: Source) -> String {
    let strips = &words.job.parts[index].strips;
    let Some(&first) = strips.first() else {
        return String::new();
    };
    let treated = words.job.treated(board);
    if treated != Treated::No {
        format!("do not rip it: its board is {}", treated.told())
    } else if words.job.saw.rips {
        String::new()
    } else {
        let [set, _] = fence(words, &words.job.list[first]);
        format!(
            "leave it as wide as its board, to be ripped to {} where there is a saw for it",
            told(words, set)
        )
    }
}

/// The settings of the fence for the strips of a piece, in their order.
fn side_by_side(words: &Words, index: usize, section: &Section) -> Vec<String> {
    let piece = &words.job.parts[index];
    let mut steps = vec![how(words, piece.length).to_owned()];
    let mut left = section.broad().unwrap_or_default();
    for alike in alike(piece) {
        let part = &words.job.list[alike.row];
        let [set, taken] = fence(words, part);
        let all = (0..alike.count).fold(Length::ZERO, |sum, _| sum + taken + words.job.saw.kerf);
        let (name, label) = (letters(words, index, &alike), &part.label);
        steps.push(if left == taken {
            format!("what is left is {name} {label}")
        } else {
            format!(
                "fence to {}{}: {name} {label}",
                told(words, set),
                edge(part, section)
            )
        });
        left -= all;
    }
    steps
}

/// What is done to the strips of a piece once they are apart.
fn cut_to_length(words: &Words, index: usize) -> Vec<String> {
    let piece = &words.job.parts[index];
    let mut steps = Vec::new();
    for alike in alike(piece) {
        let part = &words.job.list[alike.row];
        if part.length < piece.length {
            steps.push(format!(
                "cut {} to {}",
                letters(words, index, &alike),
                words.part_length(part)
            ));
        }
        let over = part.told_over(words.job.style());
        steps.extend(over.map(|over| format!("{}: {over}", letters(words, index, &alike))));
    }
    steps
}

/// What a fence is set to for a strip, and what of the board's width it takes without its cut: the next step over it.
fn fence(words: &Words, part: &Part) -> [Length; 2] {
    let width = part.rip.map(|rip| rip.width).unwrap_or_default();
    [width, width.up_to(words.job.step)]
}

fn alone(words: &Words, part: &Part, section: &Section) -> String {
    let [set, _] = fence(words, part);
    let from = match section.joint {
        // A set-out's tongued boards have their widths as they cover.
        EdgeJoint::Tongued if part.row.is_none() => {
            " measured as it covers, from the edge that stays"
        }
        _ => "",
    };
    let bevels = part.rip.and_then(|rip| rip.told_edges(words.job.decimal()));
    let bevels = bevels.map_or(String::new(), |told| {
        format!("; {told}, the width being that of the wider face")
    });
    format!(
        "to {}{from}{}, {}{bevels}",
        told(words, set),
        edge(part, section),
        how(words, part.length)
    )
}

/// A width as the fence shows it, with the sign for about where it is between two steps.
fn told(words: &Words, width: Length) -> String {
    words.job.style().show(width).told()
}

/// How a piece is fed: one that is short is not fed by hand.
fn how(words: &Words, length: Length) -> &'static str {
    match length < words.short() {
        true => "in a jig that holds it, for it is short",
        false => "with a push stick",
    }
}

/// Which edge lies at the fence, where that is not all one.
fn edge(part: &Part, section: &Section) -> &'static str {
    match (section.joint, part.rip.map(|rip| rip.keeps)) {
        (EdgeJoint::Square, _) | (_, None | Some(Keeps::Either)) => "",
        (_, Some(Keeps::First)) => ", the edge towards the next board at it",
        (_, Some(Keeps::Last)) => ", the edge towards the board before at it",
    }
}

fn alike(piece: &Part) -> impl Iterator<Item = Alike> {
    let mut first = 0;
    let runs = piece.strips.chunk_by(|one, other| one == other);
    runs.map(move |rows| {
        let alike = Alike {
            row: rows[0],
            first,
            count: rows.len(),
        };
        first += rows.len();
        alike
    })
}

/// `C1`, `C2 to C4`: the strips by the letter of their piece.
fn letters(words: &Words, piece: usize, alike: &Alike) -> String {
    let letter = words.letter(piece);
    let first = alike.first + 1;
    match alike.count {
        1 => format!("{letter}{first}"),
        2 => format!("{letter}{first} and {letter}{}", first + 1),
        count => format!("{letter}{first} to {letter}{}", first + count - 1),
    }
}

/// The letter of a piece, and where several strips are ripped out of it those of the first and the last: `C`, `C1\u{2013}C3`.
pub(super) fn piece_letters(words: &Words, index: usize) -> String {
    let letter = words.letter(index);
    match words.job.parts[index].strips.len() {
        0 | 1 => letter,
        count => format!("{letter}1\u{2013}{letter}{count}"),
    }
}

/// Where a piece is ripped, in hundredths of its width from the edge it is ripped from; nowhere where its board is not ripped here.
pub(super) fn cuts(words: &Words, index: usize, board: Source) -> Vec<i64> {
    if !is_ripped_here(words.job, board) {
        return Vec::new();
    }
    let piece = &words.job.parts[index];
    let wide = words.job.sections[words.section_of(board)]
        .broad()
        .unwrap_or_default();
    let mut at = Length::ZERO;
    let mut cuts = Vec::new();
    for &row in &piece.strips {
        at += fence(words, &words.job.list[row])[1];
        if at < wide {
            cuts.push(at.ticks() * 100 / wide.ticks().max(1));
        }
        at += words.job.saw.kerf;
    }
    cuts
}
