//! One bar: the parts, cuts and offcuts of a board, its tape, its readings and its letters.

use super::labels::{self, Label};
use super::pen::{Pen, mm};
use super::style::{BAD, INK, KEPT, LOST, PAPER};
use super::texture::{crossed, hatching, texture};
use crate::check::CheckedBoard;
use crate::job::PartEnd;
use crate::left::LeftPiece;
use crate::length::{Length, Style};
use crate::marks::{MarkedBoard, lying_edges, lying_ends};
use crate::plan::{Edge, PlacedPart, PlannedBoard, Source};
use crate::report::legend::{self, COLOURS};
use crate::report::shed::kept_pieces;
use crate::report::stations::{Blade, Station, pieces, stations};
use crate::report::{rip, sheet};
use crate::shown;

/// Pixels of the tape under a bar.
const TAPE: i64 = 9;

/// A bar as markup, and the y coordinate of its lower end.
pub(super) struct Drawn {
    pub(super) markup: String,
    pub(super) bottom: i64,
}

/// Draws a board from `top` down: letters of narrow parts, the bar, its tape, the readings.
pub(super) fn bar(pen: &Pen, marked: &MarkedBoard, found: &CheckedBoard, top: i64) -> Drawn {
    let planned = &marked.board;
    let stations = stations(pen.words, marked, found.length);
    let steps = sheet::steps_of(pen.words, planned.source, &stations);
    let kept = kept_pieces(pen.words.job, marked);
    let (inside, above) = letters(pen, planned);
    let put_above = labels::put(
        &above
            .iter()
            .map(|(label, _)| Label {
                text: label.text.clone(),
                at: label.at,
            })
            .collect::<Vec<_>>(),
        pen.size,
    );
    let rows_above = put_above.iter().map(|put| put.row + 1).max().unwrap_or(0);
    let bar_top = top + rows_above * pen.size.row;
    let mut markup = String::new();
    for ((label, at), put) in above.iter().zip(&put_above) {
        let y = bar_top - 4 - put.row * pen.size.row;
        markup.push_str(&text_at(pen, *at, y, put.anchor, "lw-letter", &label.text));
    }
    markup.push_str(&body(
        pen,
        (planned, found),
        &kept,
        (&stations, &steps),
        bar_top,
    ));
    for (text, at, y) in inside {
        markup.push_str(&text_at(
            pen,
            at,
            bar_top + y,
            "middle",
            "lw-letter lw-halo",
            &text,
        ));
    }
    for offcut in &kept {
        let (from, to) = (offcut.from, offcut.to);
        let text = format!("keep {}", pen.words.left_figure(to - from));
        if pen.narrow(to) - pen.narrow(from) > pen.size.width(&text) + 4 {
            let middle = Length::from_ticks((from.ticks() + to.ticks()) / 2);
            markup.push_str(&text_at(
                pen,
                middle,
                bar_top + pen.high / 2 + pen.size.height / 3,
                "middle",
                "lw-letter lw-halo",
                &text,
            ));
        }
    }
    let (readings, bottom) = readings(pen, (&stations, &steps), bar_top + pen.high + TAPE);
    markup.push_str(&readings);
    Drawn { markup, bottom }
}

/// Letters inside wide parts, as (text, position along the board, height in the bar), and labels of narrow parts.
type Letters = (Vec<(String, Length, i64)>, Vec<(Label, Length)>);

fn letters(pen: &Pen, planned: &PlannedBoard) -> Letters {
    let (mut inside, mut above) = (Vec::new(), Vec::new());
    for placed in planned.runs.iter().flat_map(|run| &run.cuts) {
        let mut letter = rip::piece_letters(pen.words, placed.part);
        let part = &pen.words.job.parts[placed.part];
        let length = part
            .told_length(Style {
                with_unit: false,
                ..pen.words.job.style()
            })
            .text;
        let middle = Length::from_ticks((placed.start.ticks() + placed.end.ticks()) / 2);
        let room = pen.narrow(placed.end) - pen.narrow(placed.start) - 4;
        if room < pen.size.width(&letter) {
            letter = pen.words.letter(placed.part);
        }
        if room < pen.size.width(&letter) {
            above.push((
                Label {
                    text: letter,
                    at: pen.narrow(middle),
                },
                middle,
            ));
        } else if room < pen.size.width(&length) {
            inside.push((letter, middle, pen.high / 2 + pen.size.height / 3));
        } else {
            inside.push((letter, middle, pen.high / 2 - pen.size.height / 4));
            inside.push((length, middle, pen.high / 2 + pen.size.height));
        }
    }
    (inside, above)
}

fn text_at(pen: &Pen, at: Length, y: i64, anchor: &str, class: &str, text: &str) -> String {
    let (x, text) = (pen.across(at), shown::markup(text));
    format!("<text class=\"{class}\" x=\"{x}\" y=\"{y}\" text-anchor=\"{anchor}\">{text}</text>")
}

/// The bar and its tape, in millimetres along and pixels across.
fn body(
    pen: &Pen,
    (planned, found): (&PlannedBoard, &CheckedBoard),
    kept: &[LeftPiece],
    (stations, steps): (&[Station], &[usize]),
    top: i64,
) -> String {
    let (high, height) = (pen.high, pen.high + TAPE);
    let mut markup = format!(
        "<svg class=\"lw-bar\" x=\"0\" y=\"{top}\" width=\"{}\" height=\"{height}\" viewBox=\"0 0 {} {height}\" \
         preserveAspectRatio=\"none\">",
        pen.across(found.length),
        mm(found.length),
    );
    let rect = |class: &str, fill: &str, from: Length, to: Length| {
        let (x, width) = (mm(from), mm(to - from));
        format!(
            "<rect class=\"{class}\" fill=\"{fill}\" x=\"{x}\" y=\"0\" width=\"{width}\" height=\"{high}\"/>"
        )
    };
    markup.push_str(&rect("lw-lost", LOST, Length::ZERO, found.length));
    for offcut in kept {
        markup.push_str(&rect("lw-kept", KEPT, offcut.from, offcut.to));
        markup.push_str(&line("lw-hatch", &hatching(pen, offcut.from, offcut.to), 1));
    }
    if let Source::Shed(shed) = planned.source {
        for bad in &pen.words.job.shed[shed].bad {
            markup.push_str(&rect("lw-bad", BAD, bad.from, bad.to));
            markup.push_str(&line("lw-cross", &crossed(pen, bad.from, bad.to), 1));
        }
    }
    for (station, step) in stations.iter().zip(steps) {
        markup.push_str(&kerf(pen, found, station, *step));
    }
    for placed in planned.runs.iter().flat_map(|run| &run.cuts) {
        let freed = stations.iter().position(|one| one.frees == Some(*placed));
        let step = freed.map(|at| steps[at]);
        markup.push_str(&part(pen, (planned.source, found), placed, step));
    }
    markup.push_str(&line(
        "lw-edge",
        &format!("M0,0H{}V{high}H0Z", mm(found.length)),
        1,
    ));
    markup.push_str(&line("lw-tape", &tape(pen, planned, found), 1));
    markup.push_str("</svg>");
    markup
}

fn line(class: &str, path: &str, width: u32) -> String {
    if path.is_empty() {
        return String::new();
    }
    let ink = INK;
    format!(
        "<path class=\"{class} lw-line\" fill=\"none\" stroke=\"{ink}\" stroke-width=\"{width}\" d=\"{path}\"/>"
    )
}

/// How far the short point of an end stands back.
fn stands_back(pen: &Pen, found: &CheckedBoard, end: PartEnd) -> Length {
    let width = pen.words.job.sections[found.section]
        .width
        .unwrap_or_default();
    end.stands_back(width)
}

/// The attribute that says of which rows of the cutting list something is: their keys, each once.
fn of_parts(keys: &[String]) -> String {
    let keys: Vec<&str> = keys
        .chunk_by(|one, other| one == other)
        .map(|same| same[0].as_str())
        .collect();
    format!(" data-part=\"{}\"", keys.join(" "))
}

/// The attribute that says which step of its board's sheet something is of, the first being zero.
fn of_step(step: usize) -> String {
    format!(" data-step=\"{step}\"")
}

/// A part as it is cut: from mark to mark, an edge standing back at the mitres whose long points are on the other.
fn part(
    pen: &Pen,
    (source, found): (Source, &CheckedBoard),
    placed: &PlacedPart,
    step: Option<usize>,
) -> String {
    let high = pen.high;
    let [near_datum, away] = lying_ends(pen.words.job, placed);
    let (short_from, short_to) = (
        placed.start + stands_back(pen, found, near_datum),
        placed.end - stands_back(pen, found, away),
    );
    // Each end has its long point on one edge and its short one on the other.
    let edges = lying_edges(pen.words.job, placed);
    let along = |edge: Edge| {
        let from = if edges[0] == edge {
            placed.start
        } else {
            short_from
        };
        let to = if edges[1] == edge {
            placed.end
        } else {
            short_to
        };
        (from, to)
    };
    let (far, near) = (along(Edge::Far), along(Edge::Near));
    let colour = legend::colour(pen.words.look(placed.part));
    let points = format!(
        "{},0 {},0 {},{high} {},{high}",
        mm(far.0),
        mm(far.1),
        mm(near.1),
        mm(near.0)
    );
    let fill = COLOURS[colour];
    // Paper lies under it, so that a page can show a tint of it.
    let mut markup = format!(
        "<polygon fill=\"{PAPER}\" points=\"{points}\"/><polygon class=\"lw-part lw-c{colour}\"{}{} fill=\"{fill}\" points=\"{points}\"/>",
        of_parts(pen.words.keys(placed.part)),
        step.map(of_step).unwrap_or_default(),
    );
    markup.push_str(&line(
        "lw-texture",
        &texture(
            pen,
            short_from,
            short_to,
            legend::texture(pen.words.look(placed.part)),
        ),
        1,
    ));
    let outline = format!(
        "M{},0L{},0L{},{high}L{},{high}Z",
        mm(far.0),
        mm(far.1),
        mm(near.1),
        mm(near.0)
    );
    markup.push_str(&line("lw-outline", &outline, 1));
    let ripped: String = rip::cuts(pen.words, placed.part, source)
        .into_iter()
        .map(|at| format!("M{},{}H{}", mm(short_from), high * at / 100, mm(short_to)))
        .collect();
    markup.push_str(&line("lw-outline", &ripped, 1));
    markup
}

/// The saw cut, to scale. A cut that opens a part takes its kerf before the mark; one that frees a part takes it behind the mark.
fn kerf(pen: &Pen, found: &CheckedBoard, station: &Station, step: usize) -> String {
    let high = pen.high;
    if station.blade() == Blade::Idle {
        return String::new();
    }
    let end = station
        .slant
        .map_or(PartEnd::Square, |slant| PartEnd::Mitre(slant.angle));
    let width = end.cut(pen.words.job.saw.kerf);
    let back = stands_back(pen, found, end);
    let frees = station.blade() == Blade::Beyond;
    let (long, short) = if frees {
        (station.at, station.at - back)
    } else {
        (station.at - width, station.at - width + back)
    };
    let (far, near) = match station.slant.map(|slant| slant.long_point) {
        Some(Edge::Near) => (short, long),
        _ => (long, short),
    };
    let clipped = |at: Length| mm(at.max(Length::ZERO).min(found.length));
    format!(
        "<polygon class=\"lw-kerf\"{} fill=\"{}\" points=\"{},0 {},0 {},{high} {},{high}\"/>",
        of_step(step),
        PAPER,
        clipped(far),
        clipped(far + width),
        clipped(near + width),
        clipped(near),
    )
}

/// The graduations of the tape: short ones every 100 mm or 4 in, long ones every 500 mm or foot, from the datum end of each piece.
fn tape(pen: &Pen, planned: &PlannedBoard, found: &CheckedBoard) -> String {
    let (short, every) = match pen.words.job.is_imperial() {
        true => (Length::from_inch_64ths(4 * 64), 3),
        false => (Length::from_mm(100), 5),
    };
    let high = pen.high;
    let mut path = format!("M0,{high}H{}", mm(found.length));
    for (_, start, end) in pieces(pen.words, planned, found.length) {
        let (mut at, mut count) = (start, 0);
        while at <= end {
            let reach = if count % every == 0 { TAPE - 1 } else { 4 };
            path.push_str(&format!("M{},{high}v{reach}", mm(at)));
            at += short;
            count += 1;
        }
    }
    path
}

/// The readings under the tape, each with a line up to its mark.
fn readings(pen: &Pen, (stations, steps): (&[Station], &[usize]), top: i64) -> (String, i64) {
    let mut marks: Vec<(&Station, usize)> = stations.iter().zip(steps.iter().copied()).collect();
    order::sort_by_key(&mut marks, |(station, _)| station.at);
    let labels: Vec<Label> = marks
        .iter()
        .map(|(station, _)| Label {
            text: station.reading(pen.words).text,
            at: pen.narrow(station.at),
        })
        .collect();
    let put = labels::put(&labels, pen.size);
    let mut markup = String::new();
    for (((station, step), label), put) in marks.iter().zip(&labels).zip(&put) {
        let y = top + pen.size.height + put.row * pen.size.row;
        let x = pen.across(station.at);
        let ink = INK;
        markup.push_str(&format!(
            "<line class=\"lw-line lw-mark\"{} stroke=\"{ink}\" stroke-width=\"1\" opacity=\"0.5\" x1=\"{x}\" x2=\"{x}\" y1=\"{}\" y2=\"{}\"/>",
            of_step(*step),
            top - TAPE,
            y + 2 - pen.size.height,
        ));
        markup.push_str(&text_at(
            pen,
            station.at,
            y,
            put.anchor,
            "lw-reading",
            &label.text,
        ));
    }
    let rows = put.iter().map(|put| put.row + 1).max().unwrap_or(0);
    (markup, top + rows * pen.size.row + 2)
}
