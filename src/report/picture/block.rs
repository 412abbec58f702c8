//! One piece of a picture, a set-out with all that stands on it: its heading, its four corners, its three views with their sizes.

use super::labels::{APART, ASIDE, letters, rows_seen};
use super::names::Name;
use super::piece::Piece;
use super::scene::{Shape, over_all, shaded, shapes};
use super::sheet::{Anchor, LETTER, LETTERS, LINE, MARGIN, Sheet, WIDTH, of_part};
use crate::length::Length;
use crate::report::drawing::INK;
use crate::report::words::Words;
use crate::space::{Member, View, reach};

/// Greatest height of an isometric drawing.
const TALL: i64 = 24_000;
/// Greatest height of the drawing pulled apart.
const WIDE_APART: i64 = 70_000;
/// Greatest width and height of the three views together.
const VIEWS: [i64; 2] = [76_000, 40_000];
/// Space between two views.
const BETWEEN: i64 = 6_000;
/// Room for the sizes to the left of the views.
const SIZES: i64 = 12_000;

/// What the four corners are called.
pub(super) const CORNERS: [&str; 4] = [
    "from the front left",
    "from the front right",
    "from the back right",
    "from the back left",
];

/// Draws a piece below what is on the sheet.
pub(super) fn block(words: &Words, piece: &Piece, sheet: &mut Sheet) {
    sheet.heading(&piece.heading());
    match piece.set_outs.as_slice() {
        [only] => sheet.line(&words.job.set_outs[*only].makes),
        all => {
            sheet.line("Put together in this order:");
            for (at, step) in piece.order(words).into_iter().enumerate() {
                let (set_out, letters) = (&words.job.set_outs[all[at]], step.letters);
                sheet.line(&format!(
                    "{}. {} ({letters}): {}",
                    at + 1,
                    set_out.name,
                    set_out.makes
                ));
                if let Some(told) = step.fixed {
                    sheet.line(&told);
                }
            }
        }
    }
    if let Some(told) = piece.too_much() {
        sheet.line(&told);
        return;
    }
    let members = piece.members();
    if members.is_empty() {
        return;
    }
    let names = &piece.names;
    if let Some(told) = piece.clash(&members) {
        sheet.line(&told);
    }
    corners(sheet, &members, names);
    if piece.comes_apart() {
        pulled_apart(sheet, &piece.apart(APART_FROM), names);
    }
    let views = Views {
        corner: [MARGIN + SIZES, sheet.bottom + 2 * LINE],
        within: VIEWS,
        between: BETWEEN,
        least: BETWEEN + 10_000,
        captions: [
            "from the front",
            "from the left",
            "from above",
            "from behind",
        ],
    };
    sheet.bottom = views.draw(words, sheet, &members, names).0 + 2 * LINE;
}

/// The corner from which a piece is drawn pulled apart.
const APART_FROM: View = View::FrontLeft;

fn pulled_apart(sheet: &mut Sheet, members: &[Member], names: &[Name]) {
    let seen = shapes(members, APART_FROM);
    let [least, size] = extent(&seen);
    let scale = Scale::fitting(size, [WIDTH - 2 * MARGIN - 2 * ASIDE, WIDE_APART]);
    let size = size.map(|side| scale.of(side));
    let high = size[1].max(names.len() as i64 * APART / 2);
    let top = sheet.bottom + 2 * LINE;
    let corner = [(WIDTH - size[0]) / 2, top + (high - size[1]) / 2];
    let shapes = put(seen, least, scale, corner);
    draw(sheet, &shapes, names);
    let place = [[corner[0], top], [size[0], high]];
    letters(sheet, &shapes, names, place, true);
    let caption = [WIDTH / 2, top + high + LINE];
    sheet.text(caption, "pulled apart", Anchor::Middle, "");
    sheet.bottom = top + high + LINE;
}

/// A scale: hundredths of a unit to so many ticks. No drawing is 2^40 ticks wide, nor 2^20 hundredths of a unit, so no product wraps.
#[derive(Clone, Copy)]
pub(super) struct Scale {
    hundredths: i64,
    ticks: i64,
}

impl Scale {
    /// The greatest scale at which this fits into that.
    pub(super) fn fitting(fits: [i64; 2], into: [i64; 2]) -> Scale {
        let fits = [fits[0].max(1), fits[1].max(1)];
        let by_width = into[0] * fits[1] <= into[1] * fits[0];
        let side = usize::from(!by_width);
        Scale {
            hundredths: into[side],
            ticks: fits[side],
        }
    }

    pub(super) fn of(self, ticks: i64) -> i64 {
        ticks * self.hundredths / self.ticks
    }
}

/// Least corner and size of what shapes cover.
pub(super) fn extent(shapes: &[Shape]) -> [[i64; 2]; 2] {
    let mut corners = Vec::new();
    for shape in shapes {
        corners.extend_from_slice(&shape.corners);
    }
    let ([left, right], [top, bottom]) = (reach(&corners, 0), reach(&corners, 1));
    [[left, top], [right - left, bottom - top]]
}

/// The shapes on the sheet, their least corner at `corner`.
pub(super) fn put(
    mut shapes: Vec<Shape>,
    least: [i64; 2],
    scale: Scale,
    corner: [i64; 2],
) -> Vec<Shape> {
    let point = |point: &mut [i64; 2]| {
        *point = [
            corner[0] + scale.of(point[0] - least[0]),
            corner[1] + scale.of(point[1] - least[1]),
        ];
    };
    for shape in &mut shapes {
        for corner in &mut shape.corners {
            point(corner);
        }
        for [from, to] in &mut shape.edges {
            point(from);
            point(to);
        }
    }
    shapes
}

pub(super) fn draw(sheet: &mut Sheet, shapes: &[Shape], names: &[Name]) {
    sheet.markup +=
        &format!("<g stroke=\"{INK}\" stroke-width=\".8\" stroke-linecap=\"round\" fill=\"none\">");
    for shape in shapes {
        let name = &names[shape.part];
        let colour = shaded(name.colour, shape.shade);
        let member = format!("{} data-nth=\"{}\"", of_part(&name.key), shape.nth);
        sheet.outline(&shape.corners, &colour, &member);
        sheet.strokes(&shape.edges, "");
    }
    sheet.markup += "</g>\n";
}

fn corners(sheet: &mut Sheet, members: &[Member], names: &[Name]) {
    let seen = View::CORNERS.map(|view| shapes(members, view));
    let room = (WIDTH - 2 * MARGIN) / 4;
    // All to one scale; what slopes is higher from one corner than from another.
    let sizes = seen.each_ref().map(|seen| extent(seen)[1]);
    let most = |side: usize| sizes.iter().map(|size| size[side]).max();
    let size = [0, 1].map(|side| most(side).unwrap_or_default());
    let tall = TALL.max(names.len() as i64 * APART);
    let scale = Scale::fitting(size, [room - 2 * ASIDE, tall]);
    let size = size.map(|side| scale.of(side));
    // Letters beside a low drawing may need more height than it has.
    let high = size[1].max(names.len() as i64 * APART);
    let top = sheet.bottom + LINE;
    for (at, seen) in seen.into_iter().enumerate() {
        let left = MARGIN + room * at as i64;
        let corner = [left + (room - size[0]) / 2, top + (high - size[1]) / 2];
        let [least, _] = extent(&seen);
        let shapes = put(seen, least, scale, corner);
        draw(sheet, &shapes, names);
        let place = [[corner[0], top], [size[0], high]];
        letters(sheet, &shapes, names, place, true);
        let caption = [left + room / 2, top + high + LINE];
        sheet.text(caption, CORNERS[at], Anchor::Middle, "");
    }
    sheet.bottom = top + high + LINE;
}

/// The three views, with a fourth from behind where that shows more rows of members than the front, and the room they have.
pub(super) struct Views {
    /// Where the first of them begins.
    pub(super) corner: [i64; 2],
    /// Greatest width and height of all three together.
    pub(super) within: [i64; 2],
    /// Space between two of them.
    pub(super) between: i64,
    /// Least width of the front, so that words have room.
    pub(super) least: i64,
    /// What stands above them: front, left, above and behind.
    pub(super) captions: [&'static str; 4],
}

impl Views {
    /// Front, left side and plan, as the first angle has them: the left side to the right of the front, what is behind to the right of that, and the plan
    /// below the front. Each size over all is said once. Gives where the last of them ends, without its size, and whether there is one from behind.
    pub(super) fn draw(
        &self,
        words: &Words,
        sheet: &mut Sheet,
        members: &[Member],
        names: &[Name],
    ) -> (i64, bool) {
        let sizes = over_all(members);
        let [wide, deep, high] = sizes.map(Length::ticks);
        let room = [self.within[0] - self.between, self.within[1] - self.between];
        let behind = shows_more_behind(members, names.len());
        let (room, fronts) = match behind {
            true => ([room[0] - self.between, room[1]], 2 * wide),
            false => (room, wide),
        };
        let scale = Scale::fitting([fronts + deep, high + deep], room);
        let [wide, deep, high] = [wide, deep, high].map(|side| scale.of(side).max(1));
        let [left, top] = self.corner;
        let beside = left + wide.max(self.least) + self.between;
        let below = top + high + self.between;
        let places = [
            (View::Front, [left, top], [wide, high]),
            (View::Left, [beside, top], [deep, high]),
            (View::Above, [left, below], [wide, deep]),
        ];
        let third = beside + deep.max(self.least / 2) + self.between;
        let back = (View::Back, [third, top], [wide, high]);
        let places = places.into_iter().chain(behind.then_some(back));
        for ((view, corner, size), text) in places.zip(self.captions) {
            let seen = shapes(members, view);
            let [least, _] = extent(&seen);
            let shapes = put(seen, least, scale, corner);
            draw(sheet, &shapes, names);
            letters(sheet, &shapes, names, [corner, size], false);
            let caption = [corner[0], corner[1] - LETTERS / 2];
            sheet.text(caption, text, Anchor::Start, "");
        }
        let told = sizes.map(|size| words.job.style().show(size).told());
        across(sheet, [left, left + wide], below + deep, &told[0]);
        across(sheet, [beside, beside + deep], top + high, &told[1]);
        up(sheet, [top, top + high], left, &told[2]);
        (below + deep, behind)
    }
}

/// Whether more rows of members are seen from behind than from the front.
fn shows_more_behind(members: &[Member], rows: usize) -> bool {
    let seen = |view: View| {
        let seen = shapes(members, view);
        let [least, size] = extent(&seen);
        let scale = Scale::fitting(size, VIEWS);
        let size = size.map(|side| scale.of(side));
        rows_seen(&put(seen, least, scale, [0, 0]), rows, size)
    };
    seen(View::Back) > seen(View::Front)
}

/// A size across, below a drawing that ends at `bottom`.
fn across(sheet: &mut Sheet, [from, to]: [i64; 2], bottom: i64, text: &str) {
    let y = bottom + 900;
    let end = |x: i64| [[x, y - 400], [x, y + 400]];
    sheet.strokes(&[[[from, y], [to, y]], end(from), end(to)], THIN);
    // The text keeps to the left edge of what it measures where it is the wider of the two.
    let wide = text.chars().count() as i64 * LETTER;
    let x = ((from + to) / 2).max(from + wide / 2);
    sheet.text([x, y + 1_400], text, Anchor::Middle, "");
}

/// A size upwards, to the left of a drawing that begins at `left`.
fn up(sheet: &mut Sheet, [from, to]: [i64; 2], left: i64, text: &str) {
    let x = left - 900;
    let end = |y: i64| [[x - 400, y], [x + 400, y]];
    sheet.strokes(&[[[x, from], [x, to]], end(from), end(to)], THIN);
    let beside = [x - 700, (from + to) / 2 + LETTERS / 3];
    sheet.text(beside, text, Anchor::End, "");
}

const THIN: &str = " stroke-width=\".6\" fill=\"none\"";
