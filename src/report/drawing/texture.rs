//! Textures, drawn line by line. An SVG pattern would not print where the drawing that defines it is hidden elsewhere on the page.

use super::pen::{Pen, decimal, mm};
use crate::length::Length;
use crate::report::legend::Texture;

/// Pixels between lines on the narrowest phone.
const APART: i64 = 5;

/// Fills a stretch of a bar with a texture; returns the `d` of an SVG path.
pub(super) fn texture(pen: &Pen, from: Length, to: Length, texture: Texture) -> String {
    match texture {
        Texture::Plain => String::new(),
        Texture::Upright => upright(pen, from, to),
        Texture::Level => level(pen, from, to),
        Texture::Rising => slanted(pen, from, to, Slope::Rising),
        Texture::Falling => slanted(pen, from, to, Slope::Falling),
        Texture::Squares => upright(pen, from, to) + &level(pen, from, to),
        Texture::Diamonds => {
            slanted(pen, from, to, Slope::Rising) + &slanted(pen, from, to, Slope::Falling)
        }
    }
}

/// The hatching of an offcut worth keeping, with wider gaps than any part's texture.
pub(super) fn hatching(pen: &Pen, from: Length, to: Length) -> String {
    lines(pen, from, to, Slope::Rising, 3 * APART)
}

/// A cross from corner to corner, with its frame.
pub(super) fn crossed(pen: &Pen, from: Length, to: Length) -> String {
    let (from, to, high) = (mm(from), mm(to), pen.high);
    format!("M{from},0H{to}V{high}H{from}ZM{from},0L{to},{high}M{from},{high}L{to},0")
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Slope {
    Rising,
    Falling,
}

fn upright(pen: &Pen, from: Length, to: Length) -> String {
    let (step, high) = (pen.along(APART), pen.high);
    let mut path = String::new();
    let mut at = from + step;
    while at < to {
        path.push_str(&format!("M{},0V{high}", mm(at)));
        at += step;
    }
    path
}

fn level(pen: &Pen, from: Length, to: Length) -> String {
    (1..pen.high / 8)
        .map(|row| format!("M{},{}H{}", mm(from), row * 8, mm(to)))
        .collect()
}

fn slanted(pen: &Pen, from: Length, to: Length, slope: Slope) -> String {
    lines(pen, from, to, slope, APART)
}

/// Lines from edge to edge at 45 degrees on the narrowest phone, clipped to the stretch.
fn lines(pen: &Pen, from: Length, to: Length, slope: Slope, apart: i64) -> String {
    let (step, run) = (pen.along(apart), pen.along(pen.high));
    let mut path = String::new();
    // A line starts at `at` on the near edge and reaches the far edge at `at + run`; falling ones are the same, mirrored.
    let mut at = from - run + step;
    while at < to {
        let (start, end) = (at.max(from), (at + run).min(to));
        let height = |place: Length| {
            let risen = i128::from((place - at).ticks()) * i128::from(pen.high * 100)
                / i128::from(run.ticks().max(1));
            let hundredths = match slope {
                Slope::Rising => pen.high * 100 - risen as i64,
                Slope::Falling => risen as i64,
            };
            decimal(hundredths, 2)
        };
        path.push_str(&format!(
            "M{},{}L{},{}",
            mm(start),
            height(start),
            mm(end),
            height(end)
        ));
        at += step;
    }
    path
}
