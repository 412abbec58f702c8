//! Reads which faces a set-out stands on, and the sizes and corners that follow from them.

use super::{Blocked, LONGEST_CHAIN, Outcome, Resolver, Step};
use crate::fault::FaultKind;
use crate::length::Length;
use crate::limits;
use crate::nearest::nearest_word;
use crate::setout::beneath::{Stand, Stands};
use crate::setout::boarding;
use crate::setout::entries::{alike, named};
use crate::setout::faces::{Ends, Name, SIDES, room, sloping};
use crate::setout::fields;
use crate::setout::kinds::Kind;
use crate::setout::sizes::{FieldValue, Sizes};
use crate::setout::stands::members;
use crate::setout::taken::sized;
use crate::setout::trouble::{Trouble, wrong};
use crate::space::bounds;

impl Resolver<'_> {
    /// The faces a set-out stands on; every fault of the field is reported at its place before this returns.
    pub(super) fn stands(&mut self, row: usize) -> Result<Stands, Trouble> {
        let text = self.written(row, "on");
        if text.is_empty() {
            return Ok(Stands::default());
        }
        let waits = Trouble::Waits(format!("[{}] on", self.entries[row].name));
        if let Some(known) = self.stands.get(&row) {
            return known.clone().ok_or(waits);
        }
        let step = Step::Field(row, "on");
        if let Some(start) = self.path.iter().position(|earlier| *earlier == step) {
            self.loop_fault(start);
            return Err(waits);
        }
        self.path.push(step);
        let found = self.read_stands(row, &text);
        self.path.pop();
        self.stands.insert(row, found.as_ref().ok().cloned());
        found.map_err(|trouble| match trouble {
            Trouble::Wrong(message) => {
                self.fault(row, "on", FaultKind::SetOut(message));
                waits
            }
            other => other,
        })
    }

    /// Gives a set-out its faces, and the number of times that follows from them.
    pub(super) fn told_times(&mut self, row: usize, sizes: &mut Sizes) {
        let Ok(stands) = self.stands(row) else { return };
        if stands.on.is_empty() {
            return;
        }
        let times = stands.times;
        if sizes.written.contains("times") && sizes.count("times") != times {
            let message = format!(
                "with one on each face there are {times}; leave this empty, or name as many faces as there are to be"
            );
            self.fault(row, "times", FaultKind::SetOut(message));
        }
        sizes.values.insert("times", FieldValue::Count(times));
        sizes.stands = stands;
    }

    /// The size that a face gives to an empty field; `None` where it gives none.
    pub(super) fn of_the_face(
        &mut self,
        row: usize,
        field: &'static str,
    ) -> Result<Option<Option<Length>>, Blocked> {
        let Some(kind) = self.entries[row].kind else {
            return Ok(None);
        };
        let blocked = |trouble: Trouble| match trouble {
            Trouble::Waits(name) => Blocked::Waits(name),
            _ => Blocked::Waits(String::new()),
        };
        let stands = self.stands(row).map_err(blocked)?;
        let fields = sized(kind, self.are_pales(row, kind));
        let side = fields.iter().position(|known| *known == Some(field));
        let (Some(stand), Some(side)) = (stands.on.first(), side) else {
            return Ok(None);
        };
        let mut offset = 0;
        if let Some(field) = kind.about().field(["along", "up"][side]) {
            let length = self.length(row, field).map_err(blocked)?;
            offset = length.map_or(0, Length::ticks);
        }
        Ok(Some(Some(Length::from_ticks(
            stand.face.size[side] - offset,
        ))))
    }

    fn written(&self, row: usize, field: &'static str) -> String {
        let text = self.entries[row].texts.get(field);
        text.cloned().unwrap_or_default()
    }

    /// Which of a field's words is chosen; the first where none is.
    fn chosen(&self, row: usize, kind: Kind, field: &'static str) -> usize {
        let text = self.written(row, field);
        let known = kind.about().field(field);
        known
            .and_then(|known| known.sort.chosen(&text))
            .unwrap_or(0)
    }

    fn are_pales(&self, row: usize, kind: Kind) -> bool {
        self.chosen(row, kind, "use") == 1
    }

    fn read_stands(&mut self, row: usize, text: &str) -> Result<Stands, Trouble> {
        if self.path.len() > LONGEST_CHAIN {
            return Err(wrong(
                "too many set-outs stand on each other; let one stand by itself",
            ));
        }
        let mut stands = Stands::default();
        let mut wanted = None;
        for piece in text
            .split(';')
            .map(str::trim)
            .filter(|piece| !piece.is_empty())
        {
            let (target, face) = self.face_named(row, piece)?;
            let (mut ends, times) = self.ends(target, face.inside)?;
            let known = self.finished.get(&target);
            if self.entries[target].kind == Some(Kind::Stand) && face.is_top() {
                // What is to lie on it stands out over its legs.
                for (ends, side) in ends.iter_mut().zip(["width", "depth"]) {
                    let size = known.and_then(|(set_out, _)| set_out.length(side));
                    *ends = size.map_or(*ends, |size| [0, size.ticks()]);
                }
            }
            let slope = known.and_then(|(set_out, _)| set_out.slope);
            let slope = slope.filter(|_| face.is_top());
            let rectangle = match &slope {
                Some(slope) => sloping(slope, ends),
                None => face.rectangle(ends),
            };
            let corners = self.corners(row, target, face);
            let both = corners.map(|ends| ends[0] + ends[1]);
            if *wanted.get_or_insert((rectangle.size, both)) != (rectangle.size, both) {
                return Err(wrong(format!(
                    "{piece} has another size or other corners than the face before it; give each a set-out of its own"
                )));
            }
            // Corners that its own field says are no part of the face.
            let own = self.own_corner(row, target, face);
            stands.past_corners = both.filter(|_| own.is_none());
            stands.on.push(Stand {
                row: target,
                face: rectangle,
                before: own.unwrap_or(corners.map_or(0, |ends| ends[0])),
                tilt: slope.map(|slope| slope.tilt),
                off: face.way_off(&rectangle),
            });
            stands.times += times;
        }
        if limits::PARTS_IN_ALL.passed_by(stands.times as usize) {
            return Err(wrong(
                "this is more than can be planned at once; name fewer faces",
            ));
        }
        Ok(stands)
    }

    /// The set-out and the face that a text names.
    fn face_named(&self, row: usize, text: &str) -> Result<(usize, Name), Trouble> {
        let Some((name, face)) = split(text) else {
            return Err(wrong(
                "write the name of a set-out and one of its faces, such as [Box] back",
            ));
        };
        let target = named(&self.entries, name)?;
        if target == row {
            return Err(wrong("a set-out cannot stand on itself; name another one"));
        }
        let known = Name::read(face).ok_or_else(|| {
            let name = &self.entries[target].name;
            wrong(match nearest_word(face, SIDES.into_iter()) {
                Some(nearest) => format!(
                    "\"{name}\" has no face called \"{face}\"; did you mean [{name}] {nearest}?"
                ),
                None => format!(
                    "\"{name}\" has no face called \"{face}\"; its faces are {}",
                    SIDES.join(", ")
                ),
            })
        })?;
        Ok((target, known))
    }

    /// The outside of a set-out, or the room inside it; and how many there are of it.
    fn ends(&mut self, target: usize, inside: bool) -> Result<(Ends, u32), Trouble> {
        let name = self.entries[target].name.clone();
        let waits = Trouble::Waits(format!("[{name}]"));
        let step = Step::Whole(target);
        if let Some(start) = self.path.iter().position(|earlier| *earlier == step) {
            self.loop_fault(start);
            return Err(waits);
        }
        self.work_out(target);
        let Some((set_out, Outcome::Sound)) = self.finished.get(&target) else {
            return Err(waits);
        };
        let all: usize = set_out
            .parts
            .iter()
            .map(|part| part.quantity as usize)
            .sum();
        if limits::DRAWN.passed_by(all / set_out.times.max(1) as usize) {
            return Err(wrong(format!(
                "\"{name}\" has too many parts for its faces to be known"
            )));
        }
        let known = members(set_out, self.sections).unwrap_or_default();
        let kind = self.entries[target].kind;
        let mut outside = bounds(known.iter().flat_map(|member| &member.body));
        if let (Some(Kind::Posts | Kind::Fence), Some([_, _, high])) = (kind, &mut outside) {
            // Faces begin at the ground that posts stand in.
            high[0] = high[0].max(0);
        }
        let ends = match inside {
            false => outside,
            true => kind
                .zip(outside)
                .and_then(|(kind, outside)| room(kind, set_out, outside)),
        };
        let ends = ends.filter(|ends| ends.iter().all(|[from, to]| from < to));
        let told = || {
            wrong(format!(
                "\"{name}\" has no room inside; only a frame or a box has faces inside"
            ))
        };
        Ok((ends.ok_or_else(told)?, set_out.times.max(1)))
    }

    /// How far the boards of a face of a box run past its left and its right edge, by the box's own word; below zero where they end before.
    fn corners(&self, row: usize, target: usize, face: Name) -> Option<[i64; 2]> {
        if self.entries[row].kind != Some(Kind::Boarding)
            || self.entries[target].kind != Some(Kind::Box)
        {
            return None;
        }
        let sides_run_past = self.chosen(target, Kind::Box, "boards_past") == 1;
        let runs_past = sides_run_past == (face.side >= 2);
        let thick = self.beside(target, face)?;
        Some(match (face.inside, runs_past) {
            (false, true) => thick,
            (true, false) => thick.map(|thick| -thick),
            _ => [0; 2],
        })
    }

    /// The thickness of the boards on the faces to the left and to the right of a face that stands.
    fn beside(&self, target: usize, face: Name) -> Option<[i64; 2]> {
        let sides = face.neighbours()?;
        Some(sides.map(|side| {
            let other = Name { side, ..face };
            let is_on = |row: &usize| {
                let text = self.written(*row, "on");
                let is = |piece: &str| {
                    split(piece).is_some_and(|(name, face)| {
                        alike(name, &self.entries[target].name) && Name::read(face) == Some(other)
                    })
                };
                self.entries[*row].kind == Some(Kind::Boarding)
                    && text.split(';').any(|piece| is(piece.trim()))
            };
            let rows = (0..self.entries.len()).filter(is_on);
            rows.map(|row| self.thickness(row)).max().unwrap_or(0)
        }))
    }

    /// The thickness of a boarding's boards; zero where they have a fault, which is reported at their field.
    fn thickness(&self, row: usize) -> i64 {
        let Some(field) = Kind::Boarding.about().field("section") else {
            return 0;
        };
        let imperial = self.style.unit.is_imperial();
        let text = self.written(row, "section");
        match fields::read(field, &text, imperial, self.sections, self.style.decimal) {
            Ok(Some(FieldValue::Timber(timber))) => timber.thickness.ticks(),
            _ => 0,
        }
    }

    /// How far before the left edge of its face a boarding begins that says itself how it ends; one that covers one neighbour does so where
    /// there are boards.
    fn own_corner(&self, row: usize, target: usize, face: Name) -> Option<i64> {
        let is_said = !self.written(row, "corners").is_empty();
        if self.entries[row].kind != Some(Kind::Boarding) || !is_said {
            return None;
        }
        let thick = self.thickness(row);
        let share = boarding::CORNERS[self.chosen(row, Kind::Boarding, "corners")];
        Some(match share {
            1 => match self.beside(target, face) {
                Some([left, 0]) if left > 0 => thick,
                _ => 0,
            },
            share => share * thick / 2,
        })
    }
}

/// A name in brackets and the words behind it.
fn split(text: &str) -> Option<(&str, &str)> {
    let (name, face) = text.strip_prefix('[')?.split_once(']')?;
    Some((name.trim(), face.trim())).filter(|(_, face)| !face.is_empty())
}
