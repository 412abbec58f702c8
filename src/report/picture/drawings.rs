//! Single drawings for a screen: each piece once, as it is looked at just now. Each is as large as what is drawn in it, so that it can fill
//! whatever room it gets.

use super::block::{CORNERS, Scale, Views, draw, extent, put};
use super::labels::letters;
use super::names::{Name, names};
use super::piece::{Piece, Step};
use super::scene::{over_all, shapes};
use super::sheet::{LETTER, Sheet, units};
use crate::job::Job;
use crate::report::drawing::{INK, PAPER};
use crate::report::words::Words;
use crate::setout::wholes;
use crate::shown;
use crate::space::{Member, View};

/// How pieces are looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// Isometric, from the corner with this place in [`View::CORNERS`].
    Corner(usize),
    /// Pulled apart, from the corner with this place in [`View::CORNERS`]. What does not come apart is drawn as it stands.
    Apart(usize),
    /// From the front, the left and above, with sizes over all.
    Views,
}

/// A drawing of one piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawing {
    /// The rows of its set-outs, the one that carries the others first.
    pub set_outs: Vec<usize>,
    /// The keys of its parts, in the order of the list.
    pub parts: Vec<String>,
    /// Its name.
    pub name: String,
    /// The drawing, an SVG; empty where there is nothing or too much to draw.
    pub svg: String,
    /// What is to be said of it.
    pub told: Option<String>,
    /// Whether it can be pulled apart.
    pub comes_apart: bool,
    /// Its set-outs as they are put together.
    pub order: Vec<Step>,
}

/// Greatest width and height of a drawing without its letters, in hundredths of a unit.
const ROOM: [i64; 2] = [27_000, 27_000];
/// The same of one pulled apart, which is higher.
const ROOM_APART: [i64; 2] = [27_000, 38_000];
/// Space around a drawing.
const AROUND: i64 = 400;
/// Space between two views.
const BETWEEN: i64 = 3_000;

/// A drawing of every piece of a job. A set-out with a fault, of which no member is known, is left out.
pub fn drawings(job: &Job, look: Look) -> Vec<Drawing> {
    let (words, all) = (Words::of(job), names(job));
    let mut drawings = Vec::new();
    for whole in wholes(&job.set_outs, &job.sections) {
        if let Some(piece) = Piece::of(job, &whole, &all) {
            drawings.push(drawing(&words, &piece, look));
        }
    }
    drawings
}

fn drawing(words: &Words, piece: &Piece, look: Look) -> Drawing {
    let mut drawing = Drawing {
        set_outs: piece.set_outs.clone(),
        parts: piece.names.iter().map(|name| name.key.clone()).collect(),
        name: piece.heading(),
        svg: String::new(),
        told: piece.too_much(),
        comes_apart: piece.comes_apart(),
        order: piece.order(words),
    };
    if drawing.told.is_none() {
        let members = piece.members();
        drawing.told = piece.clash(&members);
        if !members.is_empty() {
            drawing.svg = drawn(words, piece, &members, look);
        }
    }
    drawing
}

fn drawn(words: &Words, piece: &Piece, members: &[Member], look: Look) -> String {
    let names = &piece.names;
    let mut sheet = Sheet::default();
    let from = |corner: usize| (View::CORNERS[corner % 4], CORNERS[corner % 4]);
    let seen = match look {
        Look::Apart(corner) if piece.comes_apart() => {
            let (view, words) = from(corner);
            isometric(&mut sheet, &piece.apart(view), names, view, ROOM_APART);
            format!("pulled apart, {words}")
        }
        Look::Corner(corner) | Look::Apart(corner) => {
            let (view, words) = from(corner);
            isometric(&mut sheet, members, names, view, ROOM);
            words.to_owned()
        }
        Look::Views => {
            let told = over_all(members).map(|size| words.job.style().show(size).told());
            let letters = told[0].chars().count().max(5) as i64;
            let views = Views {
                corner: [0, 0],
                within: ROOM,
                between: BETWEEN,
                least: letters * LETTER,
                captions: ["front", "left", "above", "behind"],
            };
            let (_, behind) = views.draw(words, &mut sheet, members, names);
            let seen = match behind {
                true => "from the front, the left, above and behind",
                false => "from the front, the left and above",
            };
            seen.to_owned()
        }
    };
    let [wide, deep, high] = over_all(members).map(|size| words.job.style().show(size).told());
    let about = format!(
        "{wide} wide, {deep} deep and {high} high over all. The cutting list says its parts in words."
    );
    let title = format!("{}, {seen}", piece.heading());
    framed(&sheet, &title, &about)
}

fn isometric(sheet: &mut Sheet, members: &[Member], names: &[Name], view: View, room: [i64; 2]) {
    let seen = shapes(members, view);
    let [least, size] = extent(&seen);
    let scale = Scale::fitting(size, room);
    let shapes = put(seen, least, scale, [0, 0]);
    draw(sheet, &shapes, names);
    letters(
        sheet,
        &shapes,
        names,
        [[0, 0], size.map(|side| scale.of(side))],
        true,
    );
}

/// What is on a sheet, on light paper of its own.
fn framed(sheet: &Sheet, title: &str, about: &str) -> String {
    let [x, y] = sheet.ends.map(|[from, _]| units(from - AROUND));
    let [wide, high] = sheet.ends.map(|[from, to]| units(to - from + 2 * AROUND));
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"lw-picture\" role=\"img\" width=\"100%\" viewBox=\"{x} {y} {wide} {high}\" \
         font-family=\"system-ui, sans-serif\" font-size=\"12\" fill=\"{INK}\"><title>{}</title><desc>{}</desc>\
         <rect x=\"{x}\" y=\"{y}\" width=\"{wide}\" height=\"{high}\" fill=\"{PAPER}\"/>{}</svg>",
        shown::markup(title),
        shown::markup(about),
        sheet.markup,
    )
}
