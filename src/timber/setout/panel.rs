//! The arithmetic of a framed panel: stiles and rails, with uprights and noggins between them.
//!
//! Outside size W x H, member face m. Butted: the members that run through have the full size, the others lose 2 m. Halved: every member
//! has the full size, and half its depth is cut away at the corner (`halving`). Mitred: every long point has the full size. Uprights and
//! noggins are spaced at equal gaps, or at fixed centres from the middle of the first outer member. A noggin is as long as the clear bay
//! between its uprights.

mod fixing;
mod stands;

use super::drawing::{Drawing, Look};
use super::fixing::Fixing;
use super::halving;
use super::sizes::{Seen, Sizes, Timber};
use super::spacing::{Centres, CentresFrom, EndGaps, EqualGaps};
use super::worked::{Misfit, Worked};
use crate::length::Length;

/// How the corners of a frame meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Corner {
    /// Butted, the stiles run the full height.
    StilesThrough,
    /// Butted, the rails run the full width.
    RailsThrough,
    /// Halved into each other.
    Halved,
    /// Mitred.
    Mitred,
}

impl Corner {
    /// In the order of the words to choose from.
    pub const ALL: [Corner; 4] = [
        Corner::StilesThrough,
        Corner::RailsThrough,
        Corner::Halved,
        Corner::Mitred,
    ];
}

/// How the members between two others are spaced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Between {
    /// This many, at equal gaps.
    Count(u32),
    /// At fixed centres from the outside.
    Centres(Length),
}

/// What the members of a panel are called.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Words {
    /// The two at the ends.
    pub stile: &'static str,
    /// The two along the length.
    pub rail: &'static str,
    /// Those between the ends.
    pub upright: &'static str,
    /// Title of the marks for the members between.
    pub along: &'static str,
}

/// The words of an upright panel.
pub const UPRIGHT_PANEL: Words = Words {
    stile: "stile",
    rail: "rail",
    upright: "upright",
    along: "uprights along the rails",
};

/// A panel to be worked out.
#[derive(Clone, Debug)]
pub struct Panel<'a> {
    /// What its members are called.
    pub words: Words,
    /// Outside width.
    pub width: Length,
    /// Outside height.
    pub height: Length,
    /// The timber of the frame.
    pub timber: &'a Timber,
    /// The timber of uprights and noggins.
    pub middle: &'a Timber,
    /// Which side is seen.
    pub seen: Seen,
    /// How the corners meet.
    pub corner: Corner,
    /// Uprights between the stiles.
    pub uprights: Between,
    /// Rows of noggins.
    pub noggins: Between,
    /// One more member.
    pub fixing: Option<Fixing<'a>>,
}

impl Panel<'_> {
    /// The side of a member that is seen.
    pub fn member(&self) -> Length {
        self.timber.face(self.seen)
    }

    /// The width between the stiles.
    pub fn inside_width(&self) -> Length {
        self.width - self.member() - self.member()
    }

    /// The height between the rails.
    pub fn inside_height(&self) -> Length {
        self.height - self.member() - self.member()
    }

    /// Adds its parts, marks and joints; `prefix` names the panel within a larger set-out.
    ///
    /// # Errors
    /// Sizes that do not go together.
    pub fn add(&self, prefix: &str, sizes: &Sizes, worked: &mut Worked) -> Result<(), Misfit> {
        self.check()?;
        let name = |part: &str| format!("{prefix}{part}");
        let sections = &self.timber.sections;
        let (stile, rail) = match self.corner {
            Corner::StilesThrough => (self.height, self.inside_width()),
            Corner::RailsThrough => (self.inside_height(), self.width),
            Corner::Halved | Corner::Mitred => (self.height, self.width),
        };
        if self.corner == Corner::Mitred {
            worked.mitred_part(&name(self.words.stile), sections, stile, 2);
            worked.mitred_part(&name(self.words.rail), sections, rail, 2);
        } else {
            worked.part(&name(self.words.stile), sections, stile, 2);
            worked.part(&name(self.words.rail), sections, rail, 2);
        }
        let member = self.member();
        worked.frame_joints("frame corners", 4, member);
        let uprights = self.upright_starts()?;
        worked.part_between(
            &name(self.words.upright),
            &self.middle.sections,
            self.inside_height(),
            uprights.len() as u32,
        );
        worked.frame_joints(
            &format!("{} ends", self.words.upright),
            2 * uprights.len() as u32,
            member,
        );
        let marks = numbered(
            &format!("left edge of {}", self.words.upright),
            &uprights,
            member,
        );
        worked.marks(&name(self.words.along), "left outside edge", marks);
        let rows = self.noggin_starts()?;
        for (_, bay) in self.bays(&uprights) {
            worked.part_between(
                &name("noggin"),
                &self.middle.sections,
                bay,
                rows.len() as u32,
            );
        }
        let noggins = rows.len() as u32 * (uprights.len() as u32 + 1);
        worked.frame_joints("noggin ends", 2 * noggins, member);
        let marks = numbered("lower edge of noggin", &rows, member);
        worked.marks(&name("noggins up the stiles"), "bottom outside edge", marks);
        self.add_fixing(prefix, worked)?;
        if self.corner == Corner::Halved {
            self.halve(prefix, sizes, worked);
        }
        Ok(())
    }

    /// Adds a note on how the corners are halved, and marks the shoulders of every member.
    fn halve(&self, prefix: &str, sizes: &Sizes, worked: &mut Worked) {
        let Words { stile, rail, .. } = self.words;
        let lies = self.timber.depth(self.seen);
        let depth = halving::depth(lies, lies);
        worked.fact("halving depth", depth);
        worked.notes.push(format!(
            "Halve each corner: take {}, half of how deep the members lie, off the back of each {stile} and off the front of each {rail}, from \
             the end to the shoulder. The front is the side drawn; gauge every depth from it.",
            sizes.show(depth)
        ));
        for (member, length) in [(stile, self.height), (rail, self.width)] {
            let [this, other] = halving::end_shoulders(length, self.member());
            worked.marks(
                &format!("shoulders on each {prefix}{member}"),
                "either end of it",
                vec![
                    ("shoulder of the halving at this end".to_owned(), this),
                    ("shoulder of the halving at the other end".to_owned(), other),
                ],
            );
        }
    }

    fn check(&self) -> Result<(), Misfit> {
        if self.inside_width().is_none() {
            return Err(Misfit::new(
                "width",
                "the two stiles leave nothing between them; make the panel wider",
            ));
        }
        if self.inside_height().is_none() {
            return Err(Misfit::new(
                "height",
                "the two rails leave nothing between them; make the panel higher",
            ));
        }
        let square = self.timber.width == self.timber.thickness;
        if self.corner == Corner::Mitred && self.seen == Seen::Narrow && !square {
            return Err(Misfit::new(
                "corner",
                "a mitre here is cut across the wide side; lay the timber on the flat, or choose another corner",
            ));
        }
        Ok(())
    }

    fn middle_face(&self) -> Length {
        self.middle.face(self.seen)
    }

    /// Where uprights start, from the inside of the left stile.
    fn upright_starts(&self) -> Result<Vec<Length>, Misfit> {
        let inside = self.inside_width();
        self.starts(self.uprights, self.width, inside)
            .ok_or_else(|| {
                Misfit::new(
                    "uprights",
                    "so many uprights do not fit between the stiles; use fewer",
                )
            })
    }

    /// Where noggins start, from the inside of the bottom rail.
    fn noggin_starts(&self) -> Result<Vec<Length>, Misfit> {
        let inside = self.inside_height();
        self.starts(self.noggins, self.height, inside)
            .ok_or_else(|| {
                Misfit::new(
                    "noggins",
                    "so many noggins do not fit between the rails; use fewer",
                )
            })
    }

    fn starts(&self, between: Between, outside: Length, inside: Length) -> Option<Vec<Length>> {
        let face = self.middle_face();
        match between {
            Between::Count(count) => {
                let gaps = EqualGaps {
                    span: inside,
                    member: face,
                    count,
                    ends: EndGaps::Both,
                };
                (count == 0 || !gaps.left_over().is_none()).then(|| gaps.starts())
            }
            Between::Centres(centres) => {
                let rule = Centres {
                    span: outside,
                    end: self.member(),
                    member: face,
                    centres,
                    from: CentresFrom::Middle,
                };
                let starts: Vec<Length> = rule
                    .starts()
                    .into_iter()
                    .map(|start| start - self.member())
                    .filter(|&start| start >= Length::ZERO && start + face <= inside)
                    .collect();
                let apart = starts.windows(2).all(|pair| pair[0] + face <= pair[1]);
                apart.then_some(starts)
            }
        }
    }

    /// Where each bay starts, from the inside of the left stile, and its clear width. At equal gaps all are as wide as the same gap, rounded
    /// down to a tick.
    fn bays(&self, uprights: &[Length]) -> Vec<(Length, Length)> {
        let inside = self.inside_width();
        let mut bays = Vec::new();
        let mut from = Length::ZERO;
        for &start in uprights {
            bays.push((from, start - from));
            from = start + self.middle_face();
        }
        bays.push((from, inside - from));
        if let Between::Count(count) = self.uprights {
            let gaps = EqualGaps {
                span: inside,
                member: self.middle_face(),
                count,
                ends: EndGaps::Both,
            };
            for (_, bay) in &mut bays {
                *bay = gaps.clear();
            }
        } else {
            bays.retain(|(_, bay)| !bay.is_none());
        }
        self.parted(bays)
    }

    /// Draws it with its left edge at `x`.
    pub fn draw(&self, drawing: &mut Drawing, x: Length) {
        let (width, height, member) = (self.width, self.height, self.member());
        let (right, bottom) = (x + width, height);
        let zero = Length::ZERO;
        let part = Look::Part;
        match self.corner {
            Corner::StilesThrough | Corner::Halved => {
                drawing.rectangle(part, (x, zero), (member, height));
                drawing.rectangle(part, (right - member, zero), (member, height));
                let inside = self.inside_width();
                drawing.rectangle(part, (x + member, zero), (inside, member));
                drawing.rectangle(part, (x + member, bottom - member), (inside, member));
            }
            Corner::RailsThrough => {
                drawing.rectangle(part, (x, zero), (width, member));
                drawing.rectangle(part, (x, bottom - member), (width, member));
                let inside = self.inside_height();
                drawing.rectangle(part, (x, member), (member, inside));
                drawing.rectangle(part, (right - member, member), (member, inside));
            }
            Corner::Mitred => mitred_ring(drawing, (x, zero), (width, height), member),
        }
        let face = self.middle_face();
        let uprights = self.upright_starts().unwrap_or_default();
        for &start in &uprights {
            drawing.rectangle(
                part,
                (x + member + start, member),
                (face, self.inside_height()),
            );
        }
        let bays = self.bays(&uprights);
        for row in self.noggin_starts().unwrap_or_default() {
            let top = bottom - member - row - face;
            for &(start, bay) in &bays {
                drawing.rectangle(part, (x + member + start, top), (bay, face));
            }
        }
        for ([start, row], long) in self.fixing_pieces().unwrap_or_default() {
            let [across, up] = self.fixing_size(long);
            let top = bottom - member - row - up;
            drawing.rectangle(part, (x + member + start, top), (across, up));
        }
    }
}

impl Panel<'_> {
    /// Adds the outside dimensions, and inside them the clear size of the first bay each way where there are several.
    pub fn dimensions(&self, sizes: &Sizes, drawing: &mut Drawing) {
        let (zero, member) = (Length::ZERO, self.member());
        let mut level = 0;
        if let Some(&bay) = self.upright_starts().unwrap_or_default().first() {
            drawing.across(0, member, member + bay, sizes.show(bay));
            level = 1;
        }
        drawing.across(level, zero, self.width, sizes.show(self.width));
        let mut level = 0;
        if let Some(&bay) = self.noggin_starts().unwrap_or_default().first() {
            let bottom = self.height - member;
            drawing.up(0, bottom - bay, bottom, sizes.show(bay));
            level = 1;
        }
        drawing.up(level, zero, self.height, sizes.show(self.height));
    }
}

/// Draws four mitred members around a rectangle.
pub fn mitred_ring(
    drawing: &mut Drawing,
    corner: (Length, Length),
    size: (Length, Length),
    member: Length,
) {
    let (left, top) = corner;
    let (right, bottom) = (left + size.0, top + size.1);
    let inner = (left + member, top + member, right - member, bottom - member);
    let part = Look::Part;
    drawing.outline(
        part,
        vec![
            (left, top),
            (right, top),
            (inner.2, inner.1),
            (inner.0, inner.1),
        ],
    );
    drawing.outline(
        part,
        vec![
            (right, top),
            (right, bottom),
            (inner.2, inner.3),
            (inner.2, inner.1),
        ],
    );
    drawing.outline(
        part,
        vec![
            (right, bottom),
            (left, bottom),
            (inner.0, inner.3),
            (inner.2, inner.3),
        ],
    );
    drawing.outline(
        part,
        vec![
            (left, bottom),
            (left, top),
            (inner.0, inner.1),
            (inner.0, inner.3),
        ],
    );
}

/// Marks for members whose `starts` are measured from the inside of an edge member with the face `edge`.
pub fn numbered(label: &str, starts: &[Length], edge: Length) -> Vec<(String, Length)> {
    starts
        .iter()
        .enumerate()
        .map(|(index, &start)| (format!("{label} {}", index + 1), edge + start))
        .collect()
}

/// The outlines of four mitred members around a rectangle: the near one, the far one, the left one and the right one.
pub fn ring_outlines(size: [Length; 2], member: Length) -> [Vec<[i64; 2]>; 4] {
    let [right, far] = size.map(Length::ticks);
    let edge = member.ticks();
    let outer = [[0, 0], [right, 0], [right, far], [0, far]];
    let (left_in, right_in, far_in) = (edge, right - edge, far - edge);
    let inner = [
        [left_in, edge],
        [right_in, edge],
        [right_in, far_in],
        [left_in, far_in],
    ];
    let side = |one: usize, next: usize| vec![outer[one], outer[next], inner[next], inner[one]];
    [side(0, 1), side(2, 3), side(3, 0), side(1, 2)]
}
