//! Which changes of a job are tried, each with how far.
//!
//! Sizes are given up a little at a time, so an idea is a series of changes, each going further than the one before. Where a change that goes further
//! never costs more, the series is searched by halving; elsewhere one by one. How far a person would go is [`GIVES`] and what else is named here (common
//! practice, no source).

use super::change::Change;
use crate::fault::Place;
use crate::job::{Job, Part};
use crate::length::{Length, read_length};
use crate::limits;
use crate::money::Money;
use crate::setout::{Field, Kind, Sort, Usual};
use crate::usual;
use timber::draft::JobDraft;

/// Most of a size that is given up, as one part in this many of it.
pub const GIVES: i64 = 20;

/// Of so many parts one less may do.
const FEWER: u32 = 10;

/// Most that is given up of a long size.
const MOST: usual::Usual = usual::Usual {
    metric: Length::from_mm(60),
    imperial: Length::from_inch_64ths(5 * 32),
};

/// The thinnest saw cut that is thought of.
const THIN_KERF: usual::Usual = usual::Usual {
    metric: Length::from_ticks(4_800),
    imperial: Length::from_inch_64ths(4),
};

/// How much longer a vehicle's load may get.
const LONGER_LOAD: usual::Usual = usual::Usual {
    metric: Length::from_mm(300),
    imperial: Length::from_inch_64ths(12 * 64),
};

/// Lengths of timber are sold in steps of this.
const SOLD_STEP: usual::Usual = usual::Usual {
    metric: Length::from_mm(300),
    imperial: Length::from_inch_64ths(24 * 64),
};

/// The shortest length of timber that is sold.
const SOLD_LEAST: usual::Usual = usual::Usual {
    metric: Length::from_mm(1_800),
    imperial: Length::from_inch_64ths(72 * 64),
};

/// Steps in which the lengths of set-outs and of parts that share blanks are tried, one by one.
const COARSE: usual::Usual = usual::Usual {
    metric: Length::from_mm(1),
    imperial: Length::from_inch_64ths(4),
};

/// Sizes of set-outs that may be less than what is wanted. Depths in the ground, centres of what bears a load, and slopes are left as they are.
const SIZES: [&str; 14] = [
    "width",
    "depth",
    "height",
    "length",
    "span",
    "spread",
    "size",
    "opening",
    "back_height",
    "bottom_width",
    "overhang",
    "overhang_front",
    "overhang_back",
    "past",
];

/// Gaps of set-outs that may be wider.
const GAPS: [&str; 3] = ["gap", "most_gap", "across_gap"];

/// Numbers of set-outs that may be less: of what bears nothing.
const COUNTS: [&str; 2] = ["quantity", "count"];

/// Fields that say which members run past at a corner, where the words after the first two are other joints.
const LAPS: [&str; 3] = ["laps", "boards_past", "corner"];

/// How a series of changes is searched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Going further never costs more, so halving finds the first that saves.
    Halving,
    /// Each is tried in turn.
    OneByOne,
}

/// A series of changes.
pub struct Idea<'a> {
    /// How many there are.
    pub most: u32,
    /// How the first that saves is searched.
    pub way: Way,
    /// The change of a number from one to `most`.
    pub at: Box<dyn Fn(u32) -> Change + 'a>,
    /// Ideas of one sort of which only the best is told.
    pub rivals: Option<usize>,
}

/// Something that costs nothing: a part of the list that could be longer.
pub struct Longer<'a> {
    /// How many steps longer at most.
    pub most: u32,
    /// The change that makes it so many steps longer.
    pub at: Box<dyn Fn(u32) -> Change + 'a>,
}

/// A job as written and as it is understood.
#[derive(Clone, Copy)]
pub struct Asked<'a> {
    /// As it is written.
    pub draft: &'a JobDraft,
    /// As it is understood.
    pub job: &'a Job,
}

/// The step in which changes are tried one by one.
pub fn coarse(job: &Job) -> Length {
    COARSE.on(job.is_imperial()).max(job.step)
}

/// All series that are tried.
pub fn ideas(asked: Asked<'_>) -> Vec<Idea<'_>> {
    let mut all = Vec::new();
    asked.parts(&mut all);
    asked.set_outs(&mut all);
    asked.saw_and_trims(&mut all);
    asked.stock(&mut all);
    asked.sections(&mut all);
    all
}

/// The parts of the list that could be longer.
pub fn longer(asked: Asked<'_>) -> Vec<Longer<'_>> {
    let Asked { job, .. } = asked;
    let boards = job.yard.iter().map(|line| line.length);
    let boards = boards.chain(job.shed.iter().map(|board| board.length));
    let longest = boards.max().unwrap_or_default();
    let parts = written_parts(job).into_iter();
    let parts = parts.filter(|(row, part)| {
        let place = Place::row("parts", *row, "length");
        part.rip.is_none() && !asked.is_settled(&place)
    });
    parts
        .map(|(row, part)| {
            let from = part.length - part.over;
            Longer {
                most: steps(longest - part.length, job.step),
                at: Box::new(move |n| Change::Part {
                    row,
                    from,
                    to: above(from, job.step, n),
                }),
            }
        })
        .collect()
}

/// The parts written by hand, with their rows; of a pair the first.
fn written_parts(job: &Job) -> Vec<(usize, &Part)> {
    let mut found: Vec<(usize, &Part)> = Vec::new();
    for part in &job.list {
        if let Some(row) = part.row
            && found.last().is_none_or(|(last, _)| *last != row)
        {
            found.push((row, part));
        }
    }
    found
}

/// The rows of a list of which something is written: the sections, lines and boards of the job are those.
pub(super) fn rows<T: Default + PartialEq>(list: &[T]) -> Vec<usize> {
    let rows = (0..list.len()).filter(|&row| list[row] != T::default());
    rows.collect()
}

impl<'a> Asked<'a> {
    fn imperial(self) -> bool {
        self.job.is_imperial()
    }

    fn coarse(self) -> Length {
        coarse(self.job)
    }

    /// How much of a size may be given up: a twentieth, and no more than a person sees at once.
    fn given_up(self, size: Length) -> Length {
        Length::from_ticks(size.ticks() / GIVES).min(MOST.on(self.imperial()))
    }

    fn parts(self, all: &mut Vec<Idea<'a>>) {
        let step = self.job.step;
        for (row, part) in written_parts(self.job) {
            let from = part.length - part.over;
            let free = !self.is_settled(&Place::row("parts", row, "length"));
            // What is ripped shares blanks with other narrow parts, which a shorter one may spoil.
            let (way, step) = match part.rip {
                None => (Way::Halving, step),
                Some(_) => (Way::OneByOne, self.coarse()),
            };
            let given = if free {
                self.given_up(from)
            } else {
                Length::ZERO
            };
            push(all, steps(given, step), way, move |n| Change::Part {
                row,
                from,
                to: below(from, step, n),
            });
            let pair = if part.pair || self.is_of_two(row) {
                2
            } else {
                1
            };
            let quantity = self.quantity(row);
            push(all, quantity / FEWER / pair, Way::Halving, move |n| {
                Change::Quantity {
                    row,
                    from: quantity,
                    to: quantity - n * pair,
                }
            });
        }
    }

    /// Whether a person has said how far a size may be another, or that it may not.
    fn is_settled(self, place: &Place) -> bool {
        self.job.sizes.iter().any(|size| size.place == *place)
    }

    /// Whether a part written by hand is two of the list, left and right.
    fn is_of_two(self, row: usize) -> bool {
        let of_row = self.job.list.iter().filter(|part| part.row == Some(row));
        of_row.count() > 1
    }

    fn quantity(self, row: usize) -> u32 {
        let of_row = self.job.list.iter().filter(|part| part.row == Some(row));
        of_row.map(|part| part.quantity).sum()
    }

    fn set_outs(self, all: &mut Vec<Idea<'a>>) {
        for (set_out, written) in self.draft.set_outs.iter().enumerate() {
            let kind = written.kind.as_deref().and_then(Kind::named);
            let Some(kind) = kind else { continue };
            for field in kind.about().fields {
                let text = written.fields.iter().find(|(name, _)| name == field.field);
                let typed = text.map_or("", |(_, text)| text.trim());
                let text = match typed.is_empty() {
                    true => field.usual.text(self.imperial()),
                    false => typed,
                };
                // A gap between boards that close a face is there for the wood to move in.
                if kind != Kind::Boarding || !GAPS.contains(&field.field) {
                    self.set_out_field(set_out, field, text, all);
                }
            }
        }
    }

    fn set_out_field(
        self,
        set_out: usize,
        field: &'static Field,
        text: &str,
        all: &mut Vec<Idea<'a>>,
    ) {
        let name = field.field;
        if self.is_settled(&Place::row("set_outs", set_out, name)) {
            return;
        }
        match field.sort {
            Sort::Size | Sort::Length => {
                // A sum of other sizes moves with those.
                let Ok(from) = read_length(text, self.job.reading) else {
                    return;
                };
                let step = self.coarse();
                if SIZES.contains(&name) {
                    push(
                        all,
                        steps(self.given_up(from), step),
                        Way::OneByOne,
                        move |n| Change::Size {
                            set_out,
                            field,
                            from,
                            to: below(from, step, n),
                        },
                    );
                }
                if GAPS.contains(&name) && field.usual != Usual::Needed {
                    // One slat fewer widens a gap by less than a third, where there are four or more.
                    let most = Length::from_ticks(from.ticks() / 3).max(Length::from_mm(10));
                    push(all, steps(most, step), Way::OneByOne, move |n| {
                        Change::Size {
                            set_out,
                            field,
                            from,
                            to: above(from, step, n),
                        }
                    });
                }
            }
            Sort::Count { least, .. } if COUNTS.contains(&name) => {
                let Ok(from) = text.parse::<u32>() else {
                    return;
                };
                let most = (from / FEWER).min(from.saturating_sub(least));
                push(all, most, Way::OneByOne, move |n| Change::Count {
                    set_out,
                    field,
                    from,
                    to: from - n,
                });
            }
            Sort::Choice(words) if LAPS.contains(&name) => {
                let laps = &words[..words.len().min(2)];
                let other = laps.iter().copied().find(|word| *word != text);
                if let Some(to) = other.filter(|_| laps.contains(&text)) {
                    push(all, 1, Way::Halving, move |_| Change::Word {
                        set_out,
                        field,
                        to,
                    });
                }
            }
            Sort::Section | Sort::AnySection => {
                let place = Place::row("set_outs", set_out, name);
                let part = self
                    .job
                    .set_outs
                    .get(set_out)
                    .map_or("", |set_out| &set_out.name);
                self.also_of(place, (part, text), all);
            }
            _ => {}
        }
    }

    fn saw_and_trims(self, all: &mut Vec<Idea<'a>>) {
        let job = self.job;
        let kerf = job.saw.kerf;
        let fine = match self.imperial() {
            true => Length::from_inch_64ths(1),
            false => Length::from_ticks(320),
        };
        let most = steps(kerf - THIN_KERF.on(self.imperial()), fine);
        push(all, most, Way::Halving, move |n| Change::Kerf {
            from: kerf,
            to: below(kerf, fine, n),
        });
        let step = self.coarse();
        let rows = rows(&self.draft.sections);
        for (section, &row) in job.sections.iter().zip(&rows) {
            let from = [section.trim.datum, section.trim.far];
            let step = job.step;
            // What is trimmed off holds the saw cut: less than that is nothing, an end that is left as it came.
            let sawn = from.map(|end| steps(end - kerf, step)).into_iter().max();
            let sawn = sawn.unwrap_or(0);
            let any = from.iter().any(|end| *end > Length::ZERO);
            push(all, sawn + u32::from(any), Way::Halving, move |n| {
                let to = from.map(|end| match n > sawn || end <= kerf {
                    true => Length::ZERO,
                    false => below(end, step, n).max(kerf),
                });
                Change::Trim {
                    section: row,
                    from,
                    to,
                }
            });
        }
        if let Some(from) = job.carry {
            let step = step.max(Length::from_mm(10));
            let most = steps(LONGER_LOAD.on(self.imperial()), step);
            push(all, most, Way::Halving, move |n| Change::Carry {
                from,
                to: above(from, step, n),
            });
        }
    }

    fn stock(self, all: &mut Vec<Idea<'a>>) {
        let job = self.job;
        let lines = rows(&self.draft.yard);
        for (line, &row) in job.yard.iter().zip(&lines) {
            if let Some(from) = line.count {
                let (section, length) = (line.section, line.length);
                push(all, 3, Way::Halving, move |n| Change::Stock {
                    row,
                    section,
                    length,
                    from,
                    to: from.saturating_add(n),
                });
            }
        }
        for section in 0..job.sections.len() {
            let used = job
                .parts
                .iter()
                .any(|part| part.sections.contains(&section));
            let sold: Vec<Length> = job
                .yard
                .iter()
                .filter(|line| line.section == section)
                .map(|line| line.length)
                .collect();
            let Some(longest) = sold.iter().copied().max().filter(|_| used) else {
                continue;
            };
            // A board as long as what the yard sells would be bought there.
            let step = job.step;
            let first = limits::BOARD.least + usual::SHED_TRIM.on(self.imperial());
            let row = self.draft.shed.len();
            push(all, steps(longest - first, step), Way::Halving, move |n| {
                Change::ShedBoard {
                    row,
                    section,
                    length: above(first, step, n),
                }
            });
            self.other_lengths(section, &sold, longest, all);
        }
    }

    /// Lengths that a yard might sell besides those it is known to, at the price per length of the one next to it.
    fn other_lengths(
        self,
        section: usize,
        sold: &[Length],
        longest: Length,
        all: &mut Vec<Idea<'a>>,
    ) {
        let (least, step) = (
            SOLD_LEAST.on(self.imperial()),
            SOLD_STEP.on(self.imperial()),
        );
        let row = self.draft.yard.len();
        let longest = self.job.carry.unwrap_or(longest).max(longest);
        for n in 0..=steps(longest - least, step) {
            let length = least + Length::from_ticks(step.ticks() * i64::from(n));
            if length > longest || sold.contains(&length) {
                continue;
            }
            let price = self.price_like(section, length);
            all.push(Idea {
                most: 1,
                way: Way::Halving,
                at: Box::new(move |_| Change::YardLength {
                    row,
                    section,
                    length,
                    price,
                }),
                rivals: Some(section),
            });
        }
    }

    /// The price of a length at that per metre of the length sold that is nearest to it, rounded up to a whole hundredth.
    fn price_like(self, section: usize, length: Length) -> Option<Money> {
        let lines = self.job.yard.iter().filter(|line| line.section == section);
        let near = lines.min_by_key(|line| (line.length - length).ticks().abs())?;
        let (price, of) = (
            i128::from(near.price?.minor()),
            i128::from(near.length.ticks()),
        );
        let dearer = price * i128::from(length.ticks()) + of - 1;
        i64::try_from(dearer / of).ok().map(Money::from_minor)
    }

    fn sections(self, all: &mut Vec<Idea<'a>>) {
        for (row, part) in written_parts(self.job) {
            let place = Place::row("parts", row, "section");
            let text = self.draft.parts[row].section.as_deref().unwrap_or_default();
            self.also_of(place, (&part.label, text), all);
            self.ripped(row, part, all);
        }
    }

    /// Sections of the same size as those in a field, from which its parts could be made too.
    fn also_of(self, place: Place, (part, text): (&str, &str), all: &mut Vec<Idea<'a>>) {
        let known = &self.job.sections;
        let named: Vec<usize> = text
            .split(';')
            .filter_map(|name| known.iter().position(|section| section.name == name.trim()))
            .collect();
        let Some(&first) = named.first() else { return };
        let size = |section: usize| {
            (
                known[section].thickness,
                known[section].width,
                known[section].cover,
            )
        };
        for other in 0..known.len() {
            let (thickness, width, _) = size(other);
            let is_sized = thickness.is_some() && width.is_some();
            if is_sized && size(other) == size(first) && !named.contains(&other) {
                let (place, part, sections) = (place.clone(), part.to_owned(), named.clone());
                push(all, 1, Way::Halving, move |_| Change::AlsoOf {
                    place: place.clone(),
                    part: part.clone(),
                    sections: sections.clone(),
                    other,
                });
            }
        }
    }

    /// Wider sections of the same thickness out of which a part could be ripped.
    fn ripped(self, row: usize, part: &Part, all: &mut Vec<Idea<'a>>) {
        let (known, saw) = (&self.job.sections, self.job.saw);
        let [own] = part.sections[..] else { return };
        let Some(width) = known[own].width.filter(|_| part.rip.is_none() && saw.rips) else {
            return;
        };
        for of in 0..known.len() {
            let wider = known[of].width.is_some_and(|wide| wide > width);
            if wider
                && known[own].thickness.is_some()
                && known[of].thickness == known[own].thickness
            {
                push(all, 1, Way::Halving, move |_| Change::Ripped {
                    row,
                    width,
                    of,
                });
            }
        }
    }
}

fn push<'a>(all: &mut Vec<Idea<'a>>, most: u32, way: Way, at: impl Fn(u32) -> Change + 'a) {
    if most > 0 {
        all.push(Idea {
            most,
            way,
            at: Box::new(at),
            rivals: None,
        });
    }
}

/// How many whole steps there are in a length.
fn steps(length: Length, step: Length) -> u32 {
    u32::try_from(length.ticks().max(0) / step.ticks().max(1)).unwrap_or(u32::MAX)
}

/// The multiple of a step that is so many below a length.
fn below(length: Length, step: Length, n: u32) -> Length {
    let before = Length::from_ticks(length.ticks() - 1).down_to(step);
    Length::from_ticks(before.ticks() - step.ticks() * (i64::from(n) - 1))
}

/// The multiple of a step that is so many above a length.
fn above(length: Length, step: Length, n: u32) -> Length {
    let after = Length::from_ticks(length.ticks() + 1).up_to(step);
    Length::from_ticks(after.ticks() + step.ticks() * (i64::from(n) - 1))
}
