//! Boards drawn as bars, an SVG for each and one for the whole plan.
//!
//! Boards in one drawing have one scale, and the longest fills the width; a board drawn alone fills the width by itself. Widths are in per
//! cent of the drawing and heights in pixels, so a bar grows with its screen while its text keeps its size. Labels take as many rows as the
//! narrowest phone needs. Inside a bar the unit is the millimetre, and every coordinate is written from an exact length, to a hundredth.
//! Colours are in attributes, and each drawing has its own light background, so that every viewer, screen and printer shows the same.

mod bar;
mod key;
mod labels;
mod pen;
mod style;
mod texture;

pub(super) use key::key;
pub(super) use pen::decimal;
pub(crate) use style::{INK, PAPER};

use super::sheet;
use super::words::Words;
use crate::check::CheckedPlan;
use crate::job::{Job, Section};
use crate::length::Length;
use crate::marks::MarkedBoard;
use crate::plan::{PlannedBoard, Source};
use crate::shown;
use labels::{LARGE, SMALL, Type};
use pen::Pen;

/// Height of the bar of a board by itself in pixels.
const ALONE: i64 = 52;

/// The drawing of one board by itself, filling the width.
pub(super) fn board(words: &Words, checked: &CheckedPlan, board: usize) -> String {
    let pen = Pen {
        words,
        longest: checked.boards()[board].length,
        size: LARGE,
        high: ALONE,
    };
    let (marked, found) = (&checked.marked()[board], &checked.boards()[board]);
    let drawn = bar::bar(&pen, marked, found, 2);
    let source = marked.board.source;
    let title = format!("Board {}: {}", board + 1, words.board_title(source));
    svg(
        &title,
        &sheet::summary(words, checked, board),
        drawn.bottom + 2,
        LARGE,
        &drawn.markup,
    )
}

/// The drawing of the whole plan. Neighbouring boards that are alike are drawn once, with their number.
pub(super) fn plan(words: &Words, checked: &CheckedPlan, series: &[Series]) -> String {
    let pen = Pen::of(words, checked);
    let (mut markup, mut top) = (String::new(), 0);
    for &(index, count) in series {
        let drawn = headed(&pen, checked, index, count, top);
        markup.push_str(&drawn.markup);
        top = drawn.bottom + 14;
    }
    let title = if words.job.piece.is_empty() {
        "The plan".to_owned()
    } else {
        format!("The plan of {}", words.job.piece)
    };
    let boards = &checked.plan().boards;
    let boards = super::words::counted(boards.len() as u64, "board", "boards");
    let about = format!(
        "{boards}, each drawn as a bar from its datum end on the left; the saw sheets say the same in words."
    );
    svg(&title, &about, top.max(1), SMALL, &markup)
}

/// The drawing of the whole plan as separate drawings to one scale, so that a page can break between boards.
pub(super) fn blocks(words: &Words, checked: &CheckedPlan, series: &[Series]) -> Vec<String> {
    let pen = Pen::of(words, checked);
    series
        .iter()
        .map(|&(index, count)| {
            let drawn = headed(&pen, checked, index, count, 0);
            let title = heading(words, checked, index, count);
            let about = sheet::summary(words, checked, index);
            svg(&title, &about, drawn.bottom + 2, SMALL, &drawn.markup)
        })
        .collect()
}

/// Neighbouring boards that are alike: (index of the first, how many).
pub type Series = (usize, usize);

/// The series of boards that are alike. Equal boards that were bought are, though each has its mark.
pub fn alike(job: &Job, checked: &CheckedPlan) -> Vec<Series> {
    let boards = checked.marked();
    let (mut found, mut index) = (Vec::new(), 0);
    while index < boards.len() {
        let same = |other: &&MarkedBoard| are_cut_alike(job, &boards[index], other);
        let count = boards[index..].iter().take_while(same).count();
        found.push((index, count));
        index += count;
    }
    found
}

/// Whether one board stands for another, and both are cut alike.
fn are_cut_alike(job: &Job, one: &MarkedBoard, other: &MarkedBoard) -> bool {
    let MarkedBoard {
        board: PlannedBoard {
            source,
            yard_cut,
            runs,
        },
        off,
        for_offcut,
        freed,
    } = one;
    (yard_cut, runs) == (&other.board.yard_cut, &other.board.runs)
        && (off, for_offcut, freed) == (&other.off, &other.for_offcut, &other.freed)
        && (*source == other.board.source || job.are_like(*source, other.board.source))
}

/// A bar under its heading.
fn headed(pen: &Pen, checked: &CheckedPlan, index: usize, count: usize, top: i64) -> bar::Drawn {
    let marked = &checked.marked()[index];
    let pen = pen.of_section(checked.boards()[index].section);
    let (end, x) = end_view(pen.words, checked.boards()[index].section, top + 16);
    let (mut markup, mut top) = (end, top);
    for line in labels::wrapped(&heading(pen.words, checked, index, count)) {
        top += 16;
        markup.push_str(&format!(
            "<text class=\"lw-head\" x=\"{x}\" y=\"{top}\">{}</text>",
            shown::markup(&line)
        ));
    }
    let drawn = bar::bar(&pen, marked, &checked.boards()[index], top + 5);
    markup.push_str(&drawn.markup);
    bar::Drawn { markup, ..drawn }
}

/// A section seen from its end, as it lies, on a base line; all sections of a job are to one scale. Also where the text beside it begins. Nothing
/// without sizes.
fn end_view(words: &Words, section: usize, base: i64) -> (String, i64) {
    const WIDEST: i64 = 24;
    let sections = &words.job.sections;
    let sizes = |one: &Section| one.width.zip(one.thickness);
    let largest = sections
        .iter()
        .filter_map(sizes)
        .map(|(width, thickness)| width.max(thickness).ticks())
        .max();
    let (Some(largest), Some((width, thickness))) = (largest, sizes(&sections[section])) else {
        return (String::new(), 0);
    };
    let tenths = |length: Length| (length.ticks() * WIDEST * 10 / largest.max(1)).max(15);
    let (wide, high) = (tenths(width), tenths(thickness));
    let [x, y, wide, high] =
        [0, base * 10 - high, wide, high].map(|tenths| pen::decimal(tenths, 1));
    let ink = INK;
    let end = format!(
        "<rect class=\"lw-end\" x=\"{x}\" y=\"{y}\" width=\"{wide}\" height=\"{high}\" fill=\"none\" stroke=\"{ink}\"/>"
    );
    (end, WIDEST + 6)
}

/// Width of a drawing in a file, in pixels: about the width of an A4 sheet in landscape at 96 pixels per inch, less its margins.
pub const SHEET_WIDTH: u32 = 1_060;

/// A drawing as an SVG file, `width` pixels wide.
pub fn standalone(drawing: &str, width: u32) -> String {
    let fixed = drawing.replacen("width=\"100%\"", &format!("width=\"{width}\""), 1);
    format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{fixed}\n")
}

fn heading(words: &Words, checked: &CheckedPlan, index: usize, alike: usize) -> String {
    let title = title(words, checked, index, alike);
    match alike {
        1 => format!("{}. {title}", index + 1),
        _ => format!(
            "{}\u{2013}{}. {alike} \u{d7} {title}",
            index + 1,
            index + alike
        ),
    }
}

/// The title of a series of like boards, with the marks of all of them.
pub(super) fn title(words: &Words, checked: &CheckedPlan, index: usize, alike: usize) -> String {
    let boards = &checked.plan().boards[index..index + alike];
    let sources: Vec<Source> = boards.iter().map(|board| board.source).collect();
    words.boards_title(&sources)
}

/// The style sheet inside every drawing of boards, the same in each. A page with a content security policy has to allow it.
pub fn drawing_style() -> String {
    style::sheet()
}

/// A drawing with its title and its description.
fn svg(title: &str, about: &str, height: i64, size: Type, markup: &str) -> String {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"lw\" role=\"img\" width=\"100%\" height=\"{height}\" \
         font-family=\"system-ui, sans-serif\" font-size=\"{letters}\" fill=\"{ink}\"><title>{}</title><desc>{}</desc>\
         <style>{}</style>{}{markup}</svg>",
        shown::markup(title),
        shown::markup(about),
        style::sheet(),
        style::paper(),
        ink = style::INK,
        letters = size.height,
    )
}
