//! Boarding of a face: where each board goes and how wide the ripped ones are.
//!
//! A board covers its cover width; the next one starts a movement gap further on. Laid from one side, `full` boards fit and the
//! last is ripped to what is left. Where that is a sliver (under half a cover width, the floor-layer's rule, or a least width that
//! is given) both edges are ripped to the same width instead: with N boards and gaps g, edge = (W - (N-2) c - (N-1) g) / 2.
//! Both ways are listed. Boards, gaps and what is left at the end fill the face to the tick, always.

use super::drawing::{Look, Point};
use super::kind::{Field, KindInfo, Sort, Usual, section_field, size_field};
use super::lay::{Lay, lay, lay_rest, shared};
use super::sizes::{Sizes, Timber};
use super::worked::{Hazard, Misfit, Worked};
use crate::length::Length;
use crate::shown::counted;

/// The form.
pub const KIND: KindInfo = KindInfo {
    kind: "boarding",
    title: "Boarding of a face",
    name: "Boarding",
    about: "Boards that cover a face, tongued, lapped or square, with the edges worked out.",
    fields: &[
        size_field(
            "width",
            "Width of the face",
            "Of the frame that is covered.",
        ),
        size_field(
            "height",
            "Height of the face",
            "Of the frame that is covered.",
        ),
        section_field(
            "section",
            "Boards",
            "A section with its cover width, where boards lap or have a tongue.",
        ),
        Field {
            field: "run",
            label: "Boards run",
            hint: "Upright boards shed water best at the foot of a wall.",
            sort: Sort::Choice(&["upright", "across"]),
            usual: Usual::Text("upright"),
            in_sight: true,
        },
        Field {
            field: "gap",
            label: "Movement gap",
            hint: "Between one board and the next; boards swell when wet.",
            sort: Sort::Length,
            usual: Usual::ByUnit("2 mm", "1/16\""),
            in_sight: true,
        },
        Field {
            field: "edges",
            label: "Edges",
            hint: "A thin last board can be shared between both edges.",
            sort: Sort::Choice(&[
                "share where the last is thin",
                "rip the last board only",
                "rip both edges alike",
            ]),
            usual: Usual::Text("share where the last is thin"),
            in_sight: false,
        },
        Field {
            field: "least_rip",
            label: "Thinnest board allowed",
            hint: "Leave empty for half a cover width.",
            sort: Sort::Size,
            usual: Usual::Nothing,
            in_sight: false,
        },
        Field {
            field: "first_off",
            label: "Cut off the first board",
            hint: "Its groove or tongue, where the first edge is seen; taken from the cover width.",
            sort: Sort::Length,
            usual: Usual::ByUnit("0 mm", "0\""),
            in_sight: true,
        },
        Field {
            field: "corners",
            label: "At the corners it",
            hint: "Covering a neighbour adds the thickness of its boards.",
            sort: Sort::Choice(&[
                "ends with the frame",
                "covers both neighbours",
                "covers one neighbour",
                "stands between both neighbours",
            ]),
            usual: Usual::Text("ends with the frame"),
            in_sight: true,
        },
        Field {
            field: "past",
            label: "Past the frame, top and bottom together",
            hint: "Added to the height.",
            sort: Sort::Length,
            usual: Usual::ByUnit("0 mm", "0\""),
            in_sight: true,
        },
        Field {
            field: "supports",
            label: "Rails behind each board",
            hint: "For counting nails or screws.",
            sort: Sort::Count {
                least: 0,
                most: 100,
            },
            usual: Usual::Text("2"),
            in_sight: false,
        },
        Field {
            field: "laid",
            label: "Boards laid so far",
            hint: "With the next size, shares out again what is really left.",
            sort: Sort::Count {
                least: 1,
                most: 2_000,
            },
            usual: Usual::Nothing,
            in_sight: false,
        },
        Field {
            field: "left",
            label: "Measured width still to cover",
            hint: "From the edge of the last board laid to the end of the face.",
            sort: Sort::Size,
            usual: Usual::Nothing,
            in_sight: false,
        },
    ],
};

/// The most boards on one face.
const MOST: usize = 1_000;
/// How many boards before the end to measure again: late enough that slack has shown, early enough to share it out (common
/// practice, no source).
const MEASURE_BEFORE_END: usize = 3;

#[derive(Clone, Copy, PartialEq, Eq)]
enum Edges {
    ShareThin,
    RipLast,
    RipBoth,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Run {
    Upright,
    Across,
}

/// Works the boarding out.
///
/// # Errors
/// Sizes that do not go together.
pub fn work_out(sizes: &Sizes) -> Result<Worked, Misfit> {
    let timber = sizes.timber("section")?;
    let face = Face::read(sizes, timber)?;
    let as_laid = face.laid_from_one_side()?;
    let shared = shared(&as_laid, face.span, face.cover, face.gap);
    let last = *as_laid.widths.last().unwrap_or(&face.cover);
    let chosen = match (face.edges, &shared) {
        (Edges::RipBoth, Some(shared)) => shared,
        (Edges::ShareThin, Some(shared)) if last < face.least => shared,
        _ => &as_laid,
    };
    let mut worked = Worked::default();
    let chosen = face.measured_again(sizes, chosen, &mut worked)?;
    face.parts(sizes, &chosen, &mut worked);
    face.facts(&chosen, &as_laid, shared.as_ref(), &mut worked);
    face.positions(&chosen, &mut worked);
    face.notes(sizes, &as_laid, shared.as_ref(), &mut worked);
    worked.makes = face.makes(sizes)?;
    face.draw(sizes, &chosen, &mut worked);
    Ok(worked)
}

struct Face<'a> {
    timber: &'a Timber,
    run: Run,
    edges: Edges,
    /// Across the boards.
    span: Length,
    /// Along the boards.
    length: Length,
    cover: Length,
    gap: Length,
    first: Length,
    least: Length,
}

impl<'a> Face<'a> {
    fn read(sizes: &Sizes, timber: &'a Timber) -> Result<Face<'a>, Misfit> {
        let corner = sizes.choice("corners", [0i64, 2, 1, -2]);
        let width = sizes.length("width")?;
        let width = Length::from_ticks(width.ticks() + corner * timber.thickness.ticks());
        let height = sizes.length("height")? + sizes.length("past")?;
        if width.is_none() {
            return Err(Misfit::new(
                "corners",
                "the neighbours leave nothing between them; make the face wider",
            ));
        }
        let run = sizes.choice("run", [Run::Upright, Run::Across]);
        let cover = timber.cover;
        let first = cover - sizes.length("first_off")?;
        if first.is_none() {
            return Err(Misfit::new(
                "first_off",
                "this cuts the whole first board away; give less than its cover width",
            ));
        }
        let half = Length::from_ticks(cover.ticks() / 2);
        let (span, length) = match run {
            Run::Upright => (width, height),
            Run::Across => (height, width),
        };
        Ok(Face {
            timber,
            run,
            edges: sizes.choice("edges", [Edges::ShareThin, Edges::RipLast, Edges::RipBoth]),
            span,
            length,
            cover,
            gap: sizes.length("gap")?,
            first,
            least: sizes.given("least_rip").unwrap_or(half),
        })
    }

    /// What the boarding measures across and up, whichever way its boards run.
    fn over_all(&self) -> [Length; 2] {
        match self.run {
            Run::Upright => [self.span, self.length],
            Run::Across => [self.length, self.span],
        }
    }

    /// What the boarding measures, and what was added to the face or taken from it.
    fn makes(&self, sizes: &Sizes) -> Result<String, Misfit> {
        let over_all = self.over_all();
        let face = [sizes.length("width")?, sizes.length("height")?];
        let mut added = Vec::new();
        let corners = over_all[0].ticks() - face[0].ticks();
        if corners != 0 {
            let word = if corners > 0 { "more" } else { "less" };
            let amount = sizes.show(Length::from_ticks(corners.abs()));
            added.push(format!("{amount} {word} across at the corners"));
        }
        if over_all[1] > face[1] {
            let past = sizes.show(over_all[1] - face[1]);
            added.push(format!("{past} more in height past the frame"));
        }
        let over_all = sizes.by(&over_all);
        Ok(if added.is_empty() {
            format!("outside {over_all}: the face itself")
        } else {
            let face = sizes.by(&face);
            format!("outside {over_all}: {face}, {}", added.join(", "))
        })
    }

    fn laid_from_one_side(&self) -> Result<Lay, Misfit> {
        let pitch = self.cover + self.gap;
        if (self.span.ticks() / pitch.ticks().max(1)) as usize >= MOST {
            let field = if self.run == Run::Upright {
                "width"
            } else {
                "height"
            };
            return Err(Misfit::new(
                field,
                "this takes more than 1000 boards; check the unit",
            ));
        }
        Ok(lay(self.span, self.first, self.cover, self.gap))
    }

    /// The boards laid so far, and the rest shared out over the width that was measured.
    fn measured_again(
        &self,
        sizes: &Sizes,
        planned: &Lay,
        worked: &mut Worked,
    ) -> Result<Lay, Misfit> {
        let (laid, left) = match (sizes.given_count("laid"), sizes.given("left")) {
            (Some(laid), Some(left)) => (laid as usize, left),
            (None, None) => return Ok(planned.clone()),
            (Some(_), None) => {
                return Err(Misfit::new("left", "fill in the width still to cover too"));
            }
            (None, Some(_)) => {
                return Err(Misfit::new("laid", "fill in how many boards are laid too"));
            }
        };
        if laid >= planned.widths.len() {
            return Err(Misfit::new(
                "laid",
                format!(
                    "the face takes {} boards; fewer than that are laid when it is measured again",
                    planned.widths.len()
                ),
            ));
        }
        if (left.ticks() / (self.cover + self.gap).ticks().max(1)) as usize >= MOST {
            return Err(Misfit::new(
                "left",
                "this takes more than 1000 boards; check the unit",
            ));
        }
        let planned_left: Length = planned.widths[laid..].iter().copied().sum::<Length>()
            + Length::from_ticks(self.gap.ticks() * (planned.widths.len() - laid) as i64)
            + planned.bare;
        let mut widths = planned.widths[..laid].to_vec();
        let sharing = match self.edges {
            Edges::RipLast => Length::ZERO,
            Edges::ShareThin | Edges::RipBoth => self.least,
        };
        let again = lay_rest(left, self.cover, self.gap, sharing);
        widths.extend(again.widths);
        worked.notes.push(format!(
            "Shared out again from {} measured; {} was planned there.",
            sizes.show(left),
            sizes.show(planned_left)
        ));
        Ok(Lay {
            widths,
            bare: again.bare,
        })
    }

    fn is_full(&self, width: Length) -> bool {
        width == self.cover
    }

    fn parts(&self, sizes: &Sizes, chosen: &Lay, worked: &mut Worked) {
        let sections = &self.timber.sections;
        let full = chosen.widths.iter().filter(|&&width| self.is_full(width));
        worked.part("board", sections, self.length, full.count() as u32);
        let mut ripped = 0;
        for (index, &width) in chosen.widths.iter().enumerate() {
            if self.is_full(width) {
                continue;
            }
            let shown = sizes.show(width);
            if index == 0 && width == self.first {
                worked.part(
                    &format!("first board, edge off to {shown}"),
                    sections,
                    self.length,
                    1,
                );
            } else {
                worked.part(
                    &format!("board ripped to {shown}"),
                    sections,
                    self.length,
                    1,
                );
            }
            ripped += 1;
        }
        if ripped > 0 {
            worked.hazards.push(Hazard::Rip(sections.clone()));
        }
        let boards = chosen.widths.len() as u32;
        worked.crossings(
            "boards over rails",
            boards * sizes.count("supports"),
            self.timber.width,
            self.timber.thickness,
        );
    }

    fn facts(&self, chosen: &Lay, as_laid: &Lay, shared: Option<&Lay>, worked: &mut Worked) {
        worked.number("boards", chosen.widths.len() as u32);
        worked.fact("board length", self.length);
        worked.fact("covered", self.span);
        let [across, up] = self.over_all();
        worked.fact("boarded width", across);
        worked.fact("boarded height", up);
        worked.fact("pitch", self.cover + self.gap);
        if let Some(&last) = as_laid.widths.last() {
            worked.fact("last board alone", last);
        }
        if let Some(shared) = shared {
            worked.fact("both edges alike", shared.widths[0]);
        }
    }

    fn positions(&self, chosen: &Lay, worked: &mut Worked) {
        let datum = match self.run {
            Run::Upright => "the side of the face you start from",
            Run::Across => "the bottom of the face",
        };
        let mut marks = Vec::new();
        let mut at = Length::ZERO;
        let count = chosen.widths.len();
        for (index, &width) in chosen.widths.iter().enumerate() {
            let again = count > MEASURE_BEFORE_END + 1 && index + MEASURE_BEFORE_END == count;
            let first = if again {
                "; measure what is left first"
            } else {
                ""
            };
            marks.push((format!("board {} starts{first}", index + 1), at));
            at = at + width + self.gap;
        }
        marks.push(("end of the last board".to_owned(), at - self.gap));
        worked.marks("boards, as listed in the parts", datum, marks);
    }

    fn notes(&self, sizes: &Sizes, as_laid: &Lay, shared: Option<&Lay>, worked: &mut Worked) {
        let last = as_laid.widths.last().copied().unwrap_or_default();
        let full = as_laid.widths.len() - usize::from(!self.is_full(last));
        worked.notes.push(if self.is_full(last) {
            match full {
                1 => "One board covers it with nothing to rip.".to_owned(),
                _ => format!("{full} boards cover it with nothing to rip."),
            }
        } else {
            format!(
                "Laid from one side: {} and a last one of {}.",
                counted(full as u64, "full board", "full boards"),
                sizes.show(last)
            )
        });
        if let (Some(shared), false) = (shared, self.is_full(last)) {
            worked.notes.push(format!(
                "Or {} between two edges of {}.",
                counted(shared.widths.len() as u64 - 2, "full board", "full boards"),
                sizes.show(shared.widths[0])
            ));
        }
        if self.timber.cover < self.timber.width {
            worked.notes.push(format!(
                "Boards are {} overall and cover {}; widths here are cover widths, measured from the edge that stays in sight.",
                sizes.show(self.timber.width),
                sizes.show(self.timber.cover)
            ));
        }
        if as_laid.widths.len() > MEASURE_BEFORE_END + 1 && sizes.given("left").is_none() {
            let laid = as_laid.widths.len() - MEASURE_BEFORE_END;
            worked.notes.push(format!(
                "Measure again when {laid} boards are laid: slack adds up, and three boards are enough to share it out."
            ));
        }
    }

    fn draw(&self, sizes: &Sizes, chosen: &Lay, worked: &mut Worked) {
        let zero = Length::ZERO;
        let turned = |along: Length, size: Length| -> (Point, Point) {
            match self.run {
                Run::Upright => ((along, zero), (size, self.length)),
                // Boards that run across are laid from the bottom up.
                Run::Across => ((zero, self.span - along - size), (self.length, size)),
            }
        };
        let (corner, size) = turned(zero, self.span);
        let drawing = &mut worked.drawing;
        drawing.rectangle(Look::Behind, corner, size);
        let mut at = zero;
        for &width in &chosen.widths {
            let look = if self.is_full(width) {
                Look::Part
            } else {
                Look::Ripped
            };
            let (corner, size) = turned(at, width);
            drawing.rectangle(look, corner, size);
            at = at + width + self.gap;
        }
        let (span, length) = (sizes.show(self.span), sizes.show(self.length));
        let edges = match (chosen.widths.first(), chosen.widths.last()) {
            (Some(&first), Some(&last)) if first != self.cover || last != self.cover => {
                format!("edges {} and {}", sizes.show(first), sizes.show(last))
            }
            _ => "nothing to rip".to_owned(),
        };
        let words = format!("{} boards, {edges}", chosen.widths.len());
        let [across, up] = self.over_all();
        drawing.across(0, zero, across, sizes.show(across));
        drawing.caption(words.clone());
        drawing.up(0, zero, up, sizes.show(up));
        worked.description = format!("{words}, {length} long, over {span}.");
    }
}
