//! One piece of a picture, a set-out with all that stands on it: its heading, its four corners, its three views with their sizes.

use super::labels::{APART, ASIDE, letters};
use super::names::Name;
use super::scene::{Shape, clash, over_all, shaded, shapes};
use super::sheet::{LETTER, LETTERS, LINE, MARGIN, Sheet, WIDTH};
use crate::length::Length;
use crate::limits;
use crate::report::words::Words;
use crate::setout::{Put, SetOut, Whole, apart};
use crate::space::{Member, Point, Solid, View};

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
const CORNERS: [&str; 4] = [
    "from the front left",
    "from the front right",
    "from the back right",
    "from the back left",
];

/// Draws a piece below what is on the sheet. `names` are those of the list, `first` has the first row of each set-out's parts in it.
pub(super) fn block(
    words: &Words,
    whole: &Whole,
    names: &[Name],
    first: &[usize],
    sheet: &mut Sheet,
) {
    let drawn = whole.rows();
    let set_outs = || drawn.iter().map(|&row| &words.job.set_outs[row]);
    let Some(carries) = set_outs().next() else {
        return;
    };
    let heading = match carries.times {
        0 | 1 => carries.name.clone(),
        times => format!("{}: one of {times}", carries.name),
    };
    sheet.heading(&heading);
    for (at, set_out) in set_outs().enumerate() {
        match at {
            0 => sheet.line(&set_out.makes),
            _ => sheet.line(&format!("{}: {}", set_out.name, set_out.makes)),
        }
    }
    let of_one = |set_out: &SetOut| {
        let quantities = set_out.parts.iter().map(|part| part.quantity as usize);
        quantities.sum::<usize>() / carries.times.max(1) as usize
    };
    let all = set_outs().map(of_one).sum();
    if limits::DRAWN.passed_by(all) {
        sheet.line(&limits::DRAWN.told(all));
        return;
    }
    // The rows of the list that are drawn here, and the members by their places among them.
    let rows: Vec<usize> = drawn
        .iter()
        .flat_map(|&row| first[row]..first[row] + words.job.set_outs[row].parts.len())
        .collect();
    let moved = |put: &Put, by: Point| -> Vec<Member> {
        let known = put.members.iter().filter_map(|member| {
            let part = rows
                .iter()
                .position(|&of| of == first[put.row] + member.part)?;
            let shift = |solid: &Solid| solid.moved(|at| [0, 1, 2].map(|axis| at[axis] + by[axis]));
            let body = member.body.iter().map(shift).collect();
            Some(Member { part, body })
        });
        known.collect()
    };
    let still = |put| moved(put, [0; 3]);
    let members: Vec<Member> = whole.put.iter().flat_map(still).collect();
    if members.is_empty() {
        return;
    }
    let names: Vec<Name> = rows.iter().map(|&row| names[row].clone()).collect();
    if let Some([one, other]) = clash(&members) {
        let label = |part: usize| &words.job.list[rows[part]].label;
        sheet.line(&format!(
            "Drawn as sized, two of its parts are in one place: {} and {}. Change a size or a section.",
            label(one),
            label(other)
        ));
    }
    corners(sheet, &members, &names);
    if whole.put.len() > 1 {
        let shifts = apart(whole, APART_FROM);
        let both = whole.put.iter().zip(shifts);
        let members: Vec<Member> = both.flat_map(|(put, by)| moved(put, by)).collect();
        pulled_apart(sheet, &members, &names);
    }
    views(words, sheet, &members, &names);
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
    sheet.text(caption, "pulled apart", " text-anchor=\"middle\"");
    sheet.bottom = top + high + LINE;
}

/// A scale: hundredths of a unit to so many ticks.
#[derive(Clone, Copy)]
struct Scale {
    hundredths: i64,
    ticks: i64,
}

impl Scale {
    /// The greatest scale at which this fits into that.
    fn fitting(fits: [i64; 2], into: [i64; 2]) -> Scale {
        let fits = fits.map(|side| side.max(1));
        let by_width =
            i128::from(into[0]) * i128::from(fits[1]) <= i128::from(into[1]) * i128::from(fits[0]);
        let side = usize::from(!by_width);
        Scale {
            hundredths: into[side],
            ticks: fits[side],
        }
    }

    fn of(self, ticks: i64) -> i64 {
        (i128::from(ticks) * i128::from(self.hundredths) / i128::from(self.ticks)) as i64
    }
}

/// Least corner and size of what shapes cover.
fn extent(shapes: &[Shape]) -> [[i64; 2]; 2] {
    let ends = [0, 1].map(|side| {
        let along = shapes
            .iter()
            .flat_map(|shape| &shape.corners)
            .map(|corner| corner[side]);
        let least = along.clone().min().unwrap_or_default();
        [least, along.max().unwrap_or_default() - least]
    });
    [[ends[0][0], ends[1][0]], [ends[0][1], ends[1][1]]]
}

/// The shapes on the sheet, their least corner at `corner`.
fn put(mut shapes: Vec<Shape>, least: [i64; 2], scale: Scale, corner: [i64; 2]) -> Vec<Shape> {
    let point = |point: &mut [i64; 2]| {
        *point = [0, 1].map(|side| corner[side] + scale.of(point[side] - least[side]));
    };
    for shape in &mut shapes {
        shape.corners.iter_mut().for_each(point);
        shape.edges.iter_mut().flatten().for_each(point);
    }
    shapes
}

fn draw(sheet: &mut Sheet, shapes: &[Shape], names: &[Name]) {
    for shape in shapes {
        sheet.outline(
            &shape.corners,
            &shaded(names[shape.part].colour, shape.shade),
        );
        sheet.strokes(
            &shape.edges,
            " stroke-width=\".8\" stroke-linecap=\"round\"",
        );
    }
}

fn corners(sheet: &mut Sheet, members: &[Member], names: &[Name]) {
    let seen = View::CORNERS.map(|view| shapes(members, view));
    let room = (WIDTH - 2 * MARGIN) / 4;
    // From every corner the drawing is as wide and as high.
    let [_, size] = extent(&seen[0]);
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
        sheet.text(caption, CORNERS[at], " text-anchor=\"middle\"");
    }
    sheet.bottom = top + high + LINE;
}

/// Front, left side and plan, as the first angle has them: the left side to the right of the front, and the plan below it. Each size over all is
/// said once.
fn views(words: &Words, sheet: &mut Sheet, members: &[Member], names: &[Name]) {
    let sizes = over_all(members);
    let [wide, deep, high] = sizes.map(Length::ticks);
    let room = [VIEWS[0] - BETWEEN, VIEWS[1] - BETWEEN];
    let scale = Scale::fitting([wide + deep, high + deep], room);
    let [wide, deep, high] = [wide, deep, high].map(|side| scale.of(side).max(1));
    let top = sheet.bottom + 2 * LINE;
    let left = MARGIN + SIZES;
    let caption = |sheet: &mut Sheet, x: i64, y: i64, text: &str| {
        sheet.text([x, y - LETTERS / 2], text, "");
    };
    let beside = left + wide.max(BETWEEN + 10_000) + BETWEEN;
    let below = top + high + BETWEEN;
    let places = [
        (View::Front, [left, top], [wide, high], "from the front"),
        (View::Left, [beside, top], [deep, high], "from the left"),
        (View::Above, [left, below], [wide, deep], "from above"),
    ];
    for (view, corner, size, text) in places {
        let seen = shapes(members, view);
        let [least, _] = extent(&seen);
        let shapes = put(seen, least, scale, corner);
        draw(sheet, &shapes, names);
        letters(sheet, &shapes, names, [corner, size], false);
        caption(sheet, corner[0], corner[1], text);
    }
    let told = sizes.map(|size| words.job.style().show(size).told());
    across(sheet, [left, left + wide], below + deep, &told[0]);
    across(sheet, [beside, beside + deep], top + high, &told[1]);
    up(sheet, [top, top + high], left, &told[2]);
    sheet.bottom = below + deep + 2 * LINE;
}

/// A size across, below a drawing that ends at `bottom`.
fn across(sheet: &mut Sheet, [from, to]: [i64; 2], bottom: i64, text: &str) {
    let y = bottom + 900;
    let end = |x: i64| [[x, y - 400], [x, y + 400]];
    sheet.strokes(&[[[from, y], [to, y]], end(from), end(to)], THIN);
    // The text keeps to the left edge of what it measures where it is the wider of the two.
    let wide = text.chars().count() as i64 * LETTER;
    let x = ((from + to) / 2).max(from + wide / 2);
    sheet.text([x, y + 1_400], text, " text-anchor=\"middle\"");
}

/// A size upwards, to the left of a drawing that begins at `left`.
fn up(sheet: &mut Sheet, [from, to]: [i64; 2], left: i64, text: &str) {
    let x = left - 900;
    let end = |y: i64| [[x - 400, y], [x + 400, y]];
    sheet.strokes(&[[[x, from], [x, to]], end(from), end(to)], THIN);
    sheet.text(
        [x - 700, (from + to) / 2 + LETTERS / 3],
        text,
        " text-anchor=\"end\"",
    );
}

const THIN: &str = " stroke-width=\".6\" fill=\"none\"";
