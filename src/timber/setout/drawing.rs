//! The elevation of a set-out as SVG: outlines to one scale, dimension lines, a title and a description.
//!
//! Positions are kept in ticks and rounded to hundredths of a drawing unit only when they are written, with integers throughout. The
//! drawing is 320 units wide, so that its text is readable on the narrowest phone. It has its own light background and ink, and a class on
//! every kind of shape for a style sheet that adds more.

use crate::length::Length;
use crate::shown;
use std::fmt::Write;

/// A drawing in progress. The origin is top left, `y` runs down.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Drawing {
    shapes: Vec<(Look, Vec<Point>)>,
    across: Vec<Dimension>,
    up: Vec<Dimension>,
    caption: String,
}

/// What an outline stands for, which decides how it looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// A part.
    Part,
    /// A part that is ripped to width.
    Ripped,
    /// Something behind or around the parts: dashed, not filled.
    Behind,
}

/// A place on the drawing: `x` to the right, `y` down.
pub type Point = (Length, Length);

#[derive(Clone, Debug, PartialEq, Eq)]
struct Dimension {
    from: Length,
    to: Length,
    level: u8,
    text: String,
}

/// Width of every drawing, in drawing units.
const WIDTH: i64 = 320;
/// Greatest height of the outlines.
const TALLEST: i64 = 140;
/// Least height of the outlines, so that a lone batten still shows as a shape.
const EDGE: i64 = 8;
/// Height of one level of dimension lines.
const LEVEL: i64 = 26;
/// Height of the text.
const LETTERS: i64 = 13;
/// Ink and background colours, which each drawing sets itself, so that no screen darkens one without the other.
const INK: &str = "#1b1e22";
const PAPER: &str = "#ffffff";

impl Drawing {
    /// Adds a rectangle by its top left corner and its size.
    pub fn rectangle(&mut self, look: Look, corner: Point, size: Point) {
        let (x, y) = corner;
        let (right, bottom) = (x + size.0, y + size.1);
        self.outline(look, vec![(x, y), (right, y), (right, bottom), (x, bottom)]);
    }

    /// Adds an outline by its corners.
    pub fn outline(&mut self, look: Look, corners: Vec<Point>) {
        self.shapes.push((look, corners));
    }

    /// Adds a dimension below the outlines; level 0 is nearest to them.
    pub fn across(&mut self, level: u8, from: Length, to: Length, text: impl Into<String>) {
        self.across.push(Dimension {
            from,
            to,
            level,
            text: text.into(),
        });
    }

    /// Adds a dimension to the left of the outlines; level 0 is nearest to them.
    pub fn up(&mut self, level: u8, from: Length, to: Length, text: impl Into<String>) {
        self.up.push(Dimension {
            from,
            to,
            level,
            text: text.into(),
        });
    }

    /// Sets the line of text below everything.
    pub fn caption(&mut self, text: impl Into<String>) {
        self.caption = text.into();
    }

    /// The finished drawing; empty where nothing was drawn. `key` makes its ids unique on a page with several drawings.
    pub fn svg(&self, key: &str, title: &str, description: &str) -> String {
        let Some(frame) = self.frame() else {
            return String::new();
        };
        let captions = if self.caption.is_empty() { 0 } else { 1 };
        let bottom =
            frame.top + frame.height + LEVEL * 100 * (levels(&self.across) + captions) + 600;
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"set-out\" viewBox=\"0 0 {WIDTH} {}\" role=\"img\" \
             aria-labelledby=\"{key}-title {key}-text\" font-family=\"sans-serif\" font-size=\"{LETTERS}\" \
             color=\"{INK}\" stroke=\"currentColor\" fill=\"none\">\n<title id=\"{key}-title\">{}</title>\n<desc id=\"{key}-text\">{}</desc>\n\
             <rect class=\"set-out-paper\" x=\"-{WIDTH}\" width=\"{}\" height=\"100%\" fill=\"{PAPER}\" stroke=\"none\"/>\n",
            units(bottom),
            shown::markup(title),
            shown::markup(description),
            3 * WIDTH,
        );
        for (look, corners) in &self.shapes {
            let points: Vec<String> = corners
                .iter()
                .map(|&(x, y)| format!("{},{}", units(frame.x(x)), units(frame.y(y))))
                .collect();
            let (class, paint) = match look {
                Look::Part => (
                    "set-out-part",
                    "fill=\"currentColor\" fill-opacity=\"0.14\" stroke-width=\"1\"",
                ),
                Look::Ripped => (
                    "set-out-ripped",
                    "fill=\"currentColor\" fill-opacity=\"0.34\" stroke-width=\"1\"",
                ),
                Look::Behind => (
                    "set-out-behind",
                    "stroke-width=\"0.8\" stroke-dasharray=\"4 3\" stroke-opacity=\"0.7\"",
                ),
            };
            // Writing to a text cannot fail.
            let _ = writeln!(
                svg,
                "<polygon class=\"{class}\" {paint} points=\"{}\"/>",
                points.join(" ")
            );
        }
        for dimension in &self.across {
            frame.draw_across(&mut svg, dimension);
        }
        for dimension in &self.up {
            frame.draw_up(&mut svg, dimension);
        }
        if !self.caption.is_empty() {
            let _ = writeln!(
                svg,
                "<text class=\"set-out-words\" x=\"{}\" y=\"{}\" text-anchor=\"middle\" fill=\"currentColor\" stroke=\"none\">{}</text>",
                WIDTH / 2,
                units(bottom - 700),
                shown::markup(&self.caption)
            );
        }
        svg.push_str("</svg>");
        svg
    }

    fn frame(&self) -> Option<Frame> {
        let corners = || self.shapes.iter().flat_map(|(_, corners)| corners);
        let least_x = corners().map(|corner| corner.0.ticks()).min()?;
        let most_x = corners().map(|corner| corner.0.ticks()).max()?;
        let least_y = corners().map(|corner| corner.1.ticks()).min()?;
        let most_y = corners().map(|corner| corner.1.ticks()).max()?;
        let left = (LEVEL * levels(&self.up) + EDGE) * 100;
        let room = (WIDTH - EDGE) * 100 - left;
        let (wide, high) = ((most_x - least_x).max(1), (most_y - least_y).max(1));
        // The scale in hundredths of a unit per tick is `top / under`: the smaller of the two scales that fit.
        let fits_by_width =
            i128::from(room) * i128::from(high) <= i128::from(TALLEST * 100) * i128::from(wide);
        let (top, under) = if fits_by_width {
            (room, wide)
        } else {
            (TALLEST * 100, high)
        };
        let scaled = |ticks: i64| (i128::from(ticks) * i128::from(top) / i128::from(under)) as i64;
        Some(Frame {
            least_x,
            least_y,
            left: left + (room - scaled(wide)) / 2,
            top: EDGE * 100,
            height: scaled(high),
            scale: (top, under),
        })
    }
}

/// Where the outlines lie on the page; all in hundredths of a unit.
struct Frame {
    least_x: i64,
    least_y: i64,
    left: i64,
    top: i64,
    height: i64,
    scale: (i64, i64),
}

impl Frame {
    fn scaled(&self, ticks: i64) -> i64 {
        (i128::from(ticks) * i128::from(self.scale.0) / i128::from(self.scale.1)) as i64
    }

    fn x(&self, x: Length) -> i64 {
        self.left + self.scaled(x.ticks() - self.least_x)
    }

    fn y(&self, y: Length) -> i64 {
        self.top + self.scaled(y.ticks() - self.least_y)
    }

    fn draw_across(&self, svg: &mut String, dimension: &Dimension) {
        let line = self.top + self.height + LEVEL * 100 * i64::from(dimension.level) + 800;
        let (from, to) = (self.x(dimension.from), self.x(dimension.to));
        let (line_text, above, below) = (units(line), units(line - 400), units(line + 400));
        let (from_text, to_text) = (units(from), units(to));
        let _ = writeln!(
            svg,
            "<path class=\"set-out-dimension\" stroke-width=\"0.8\" d=\"M{from_text} {line_text}H{to_text}M{from_text} {above}V{below}M{to_text} {above}V{below}\"/>"
        );
        // Text near an edge is moved inwards instead of being cut off.
        let half = dimension.text.chars().count() as i64 * LETTERS * 29;
        let middle =
            ((from + to) / 2).clamp(half.min(WIDTH * 50), (WIDTH * 100 - half).max(WIDTH * 50));
        let _ = writeln!(
            svg,
            "<text class=\"set-out-words\" x=\"{}\" y=\"{}\" text-anchor=\"middle\" fill=\"currentColor\" stroke=\"none\">{}</text>",
            units(middle),
            units(line + 1_450),
            shown::markup(&dimension.text)
        );
    }

    fn draw_up(&self, svg: &mut String, dimension: &Dimension) {
        let line = self.left - LEVEL * 100 * i64::from(dimension.level) - 800;
        let (from, to) = (self.y(dimension.from), self.y(dimension.to));
        let (line_text, before, behind) = (units(line), units(line - 400), units(line + 400));
        let (from_text, to_text) = (units(from), units(to));
        let _ = writeln!(
            svg,
            "<path class=\"set-out-dimension\" stroke-width=\"0.8\" d=\"M{line_text} {from_text}V{to_text}M{before} {from_text}H{behind}M{before} {to_text}H{behind}\"/>"
        );
        let (x, y) = (units(line - 600), units((from + to) / 2));
        let _ = writeln!(
            svg,
            "<text class=\"set-out-words\" x=\"{x}\" y=\"{y}\" transform=\"rotate(-90 {x} {y})\" text-anchor=\"middle\" fill=\"currentColor\" stroke=\"none\">{}</text>",
            shown::markup(&dimension.text)
        );
    }
}

fn levels(dimensions: &[Dimension]) -> i64 {
    dimensions
        .iter()
        .map(|dimension| i64::from(dimension.level) + 1)
        .max()
        .unwrap_or(0)
}

/// Hundredths of a unit as a decimal without needless zeros.
fn units(hundredths: i64) -> String {
    let sign = if hundredths < 0 { "-" } else { "" };
    let hundredths = hundredths.unsigned_abs();
    let text = format!("{}.{:02}", hundredths / 100, hundredths % 100);
    format!("{sign}{}", text.trim_end_matches('0').trim_end_matches('.'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_drawing_keeps_its_proportions_and_escapes_its_words() {
        let mut drawing = Drawing::default();
        let mm = Length::from_mm;
        drawing.rectangle(Look::Part, (mm(0), mm(0)), (mm(600), mm(150)));
        drawing.across(0, mm(0), mm(600), "600 mm");
        let svg = drawing.svg("a", "Lid <left> & right", "one board");
        assert!(svg.contains("Lid &lt;left&gt; &amp; right"), "{svg}");
        // 304 units are left of 320 for 600 mm, so 150 mm are 76 units high.
        assert!(svg.contains("points=\"8,8 312,8 312,84 8,84\""), "{svg}");
        assert!(svg.contains(">600 mm</text>"));
        assert_eq!(Drawing::default().svg("a", "b", "c"), "");
    }

    #[test]
    fn hundredths_print_as_short_decimals() {
        assert_eq!(units(1_250), "12.5");
        assert_eq!(units(-5), "-0.05");
        assert_eq!(units(800), "8");
    }
}
