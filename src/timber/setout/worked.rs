//! The result of a set-out before it is given its name: parts, positions, sizes, joints and a drawing.

use super::drawing::Drawing;
use crate::angle::Angle;
use crate::length::Length;
use crate::money::Money;
use crate::part::{Fitting, Part, PartEnd};
use crate::space::Tilt;

/// The result for one of the set-out; `times` is applied afterwards.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Worked {
    /// Its parts, labelled within the set-out; the set-out's name is added when it is finished.
    pub parts: Vec<Part>,
    /// Named sizes others may refer to.
    pub facts: Vec<Fact>,
    /// Running marks.
    pub positions: Vec<Positions>,
    /// Notes for the person.
    pub notes: Vec<String>,
    /// Its hazards.
    pub hazards: Vec<Hazard>,
    /// The elevation.
    pub drawing: Drawing,
    /// What the drawing shows, for those who cannot see it.
    pub description: String,
    /// Its outside sizes and what was added to the sizes given, as one line below the drawing.
    pub makes: String,
    /// Where parts meet and are fixed.
    pub joints: Vec<Joint>,
    /// What else is bought for it where the person says nothing, and how many of it.
    pub bought: Vec<(u32, String)>,
    /// What is bought for all of it at once, whatever the person says.
    pub sheets: Vec<(u32, String)>,
    /// Width, height and thickness of each piece that is sawn out of them.
    pub sawn: Option<[Length; 3]>,
    /// What these cost, where a price is given.
    pub sheets_cost: Option<Money>,
    /// What is filled into it.
    pub fill: Option<Fill>,
    /// How its top slopes, where it does.
    pub slope: Option<Slope>,
}

/// A top that slopes from front to back, along the whole width.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Slope {
    /// Its near edge, and how steep it is.
    pub tilt: Tilt,
    /// From there to its far edge, along the slope.
    pub long: Length,
}

/// A named size or number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fact {
    /// The name others refer to it by.
    pub name: String,
    /// Its value.
    pub value: FactValue,
}

/// The value of a fact.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FactValue {
    /// A length, to the tick.
    Length(Length),
    /// A number of things.
    Count(u32),
}

/// Running marks from one datum.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Positions {
    /// What is marked.
    pub title: String,
    /// Where the tape is hooked.
    pub datum: String,
    /// The marks, ascending.
    pub marks: Vec<Mark>,
}

/// One mark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// What it is for.
    pub label: String,
    /// The exact reading, to the tick.
    pub at: Length,
}

/// A hazard, which calls for a caution.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Hazard {
    /// Boards of these sections are ripped to width.
    Rip(Vec<usize>),
    /// People may sit or stand on it, or things lie on it.
    Load,
}

/// A kind of joint, and how often it occurs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Joint {
    /// The members that meet, in words.
    pub what: String,
    /// How many there are.
    pub count: u32,
    /// Its sort, which decides the fixings.
    pub sort: JointSort,
    /// Thickness of the piece that the fixing goes through first.
    pub thickness: Length,
}

/// How parts meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JointSort {
    /// A board of this width crosses a support.
    Crossing(Length),
    /// Two framing members meet.
    Frame,
}

/// What a box is filled with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fill {
    /// Inside width.
    pub width: Length,
    /// Inside depth from front to back.
    pub depth: Length,
    /// Height of the fill.
    pub height: Length,
}

/// A size that does not fit the others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misfit {
    /// The field in which it is mended.
    pub field: &'static str,
    /// What is wrong and how to mend it.
    pub message: String,
}

impl Misfit {
    /// A misfit mended in this field.
    pub fn new(field: &'static str, message: impl Into<String>) -> Misfit {
        Misfit {
            field,
            message: message.into(),
        }
    }
}

impl Worked {
    /// Adds square-ended parts.
    pub fn part(&mut self, label: &str, sections: &[usize], length: Length, quantity: u32) {
        self.add(Part::square(label, sections, length, quantity));
    }

    /// Adds square-ended parts that go between others.
    pub fn part_between(&mut self, label: &str, sections: &[usize], length: Length, quantity: u32) {
        self.add(Part {
            fitting: Fitting::Between,
            ..Part::square(label, sections, length, quantity)
        });
    }

    /// Adds parts mitred at 45 degrees at both ends.
    pub fn mitred_part(&mut self, label: &str, sections: &[usize], length: Length, quantity: u32) {
        let end = Angle::from_millidegrees(45_000).map_or(PartEnd::Square, PartEnd::Mitre);
        self.add(Part {
            ends: [end; 2],
            ..Part::square(label, sections, length, quantity)
        });
    }

    /// Adds parts, unless there are none; parts that differ only in their quantity are added up.
    pub fn add(&mut self, part: Part) {
        if part.quantity == 0 {
            return;
        }
        let same = |other: &&mut Part| {
            **other
                == Part {
                    quantity: other.quantity,
                    ..part.clone()
                }
        };
        match self.parts.iter_mut().find(same) {
            Some(other) => other.quantity += part.quantity,
            None => self.parts.push(part),
        }
    }

    /// Adds a named length.
    pub fn fact(&mut self, name: &str, length: Length) {
        self.facts.push(Fact {
            name: name.to_owned(),
            value: FactValue::Length(length),
        });
    }

    /// Adds a named number.
    pub fn number(&mut self, name: &str, count: u32) {
        self.facts.push(Fact {
            name: name.to_owned(),
            value: FactValue::Count(count),
        });
    }

    /// Adds running marks.
    pub fn marks(&mut self, title: &str, datum: &str, marks: Vec<(String, Length)>) {
        let marks: Vec<Mark> = marks
            .into_iter()
            .map(|(label, at)| Mark { label, at })
            .collect();
        if !marks.is_empty() {
            self.positions.push(Positions {
                title: title.to_owned(),
                datum: datum.to_owned(),
                marks,
            });
        }
    }

    /// Adds joints between framing members.
    pub fn frame_joints(&mut self, what: &str, count: u32, thickness: Length) {
        self.joint(what, count, JointSort::Frame, thickness);
    }

    /// Adds crossings of boards over supports.
    pub fn crossings(&mut self, what: &str, count: u32, width: Length, thickness: Length) {
        self.joint(what, count, JointSort::Crossing(width), thickness);
    }

    fn joint(&mut self, what: &str, count: u32, sort: JointSort, thickness: Length) {
        if count > 0 {
            self.joints.push(Joint {
                what: what.to_owned(),
                count,
                sort,
                thickness,
            });
        }
    }
}
