//! How lengths, boards and parts are named in a report.

use super::picture::keys;
use crate::job::{Job, Part, Stretch, Trim, ends_told};
use crate::length::{Length, Shown, Style, Unit};
use crate::money::Money;
use crate::plan::{Plan, Source};
use crate::usual::SHORT;
use timber::part::letter_of;

/// A job, and the words that its report uses.
pub(super) struct Words<'a> {
    pub(super) job: &'a Job,
    letters: Vec<usize>,
    keys: Vec<Vec<String>>,
}

impl<'a> Words<'a> {
    pub(super) fn of(job: &'a Job) -> Words<'a> {
        let keys = keys(job);
        let of_rows = |rows: Vec<usize>| rows.into_iter().map(|row| keys[row].clone()).collect();
        Words {
            job,
            letters: job.letters(),
            keys: job.rows_cut().into_iter().map(of_rows).collect(),
        }
    }

    /// The letter of a part.
    pub(super) fn letter(&self, part: usize) -> String {
        letter_of(self.letters[part])
    }

    /// What decides how a part is coloured and textured.
    pub(super) fn look(&self, part: usize) -> usize {
        self.letters[part]
    }

    /// The keys of the rows of the list that come out of a part, one for each strip where it is ripped.
    pub(super) fn keys(&self, part: usize) -> &[String] {
        &self.keys[part]
    }

    /// A length with its unit, rounded to the job's step.
    pub(super) fn length(&self, length: Length) -> String {
        self.job.style().show(length).text
    }

    /// Parts shorter than this are not held by hand.
    pub(super) fn short(&self) -> Length {
        SHORT.on(self.job.is_imperial())
    }

    /// How long a piece of timber that is there is said to be.
    pub(super) fn left_length(&self, length: Length) -> String {
        held(self.job.style(), length)
    }

    /// The same without the unit, as it stands in a drawing.
    pub(super) fn left_figure(&self, length: Length) -> String {
        let style = Style {
            with_unit: false,
            ..self.job.style()
        };
        held(style, length)
    }

    /// The length to set a part's stop to, with the sign for about where that is not on a step of the tape. It is rounded up to the next
    /// step, and for a part that goes between others down to the next step.
    pub(super) fn part_length(&self, part: &Part) -> String {
        part.told_length(self.job.style()).told()
    }

    /// Where the yard cuts. A position between two steps is printed as finely as lengths are written.
    pub(super) fn cut_reading(&self, at: Length) -> Shown {
        Style {
            with_unit: false,
            ..self.cut_style(at)
        }
        .show(at)
    }

    /// The same, with its unit.
    pub(super) fn cut_length(&self, at: Length) -> String {
        self.cut_style(at).show(at).text
    }

    fn cut_style(&self, at: Length) -> Style {
        let style = self.job.style();
        match style.show(at).rounded {
            true => Style::exact(self.job.unit(), self.job.decimal()),
            false => style,
        }
    }

    /// A tape reading: without the unit where the tape has but one.
    pub(super) fn reading(&self, length: Length) -> Shown {
        Style {
            with_unit: false,
            ..self.job.style()
        }
        .show(length)
    }

    /// The length of a whole board, as exactly as it was typed.
    pub(super) fn board_length(&self, length: Length) -> String {
        Style::exact(self.job.unit(), self.job.decimal())
            .show(length)
            .text
    }

    /// The amount that a part misses: to 0.1 mm or 1/64 in, rounded up.
    pub(super) fn miss_length(&self, length: Length) -> String {
        let step = match self.job.unit().is_imperial() {
            true => Length::from_inch_64ths(1),
            false => Length::from_ticks(Length::from_mm(1).ticks() / 10),
        };
        self.board_length(length.up_to(step))
    }

    /// A length at the yard in metres to the millimetre, or in feet, as yards state them.
    pub(super) fn yard_length(&self, length: Length) -> String {
        let decimal = self.job.decimal();
        let style = match self.job.is_imperial() {
            true => Style::exact(Unit::Foot, decimal),
            false => Style {
                step: Length::from_mm(1),
                ..Style::exact(Unit::Metre, decimal)
            },
        };
        style.show(length).text
    }

    /// A sum of lengths.
    pub(super) fn total(&self, length: Length) -> String {
        long_length(self.job, length)
    }

    pub(super) fn money(&self, money: Money) -> String {
        money.show(self.job.decimal())
    }

    pub(super) fn section(&self, section: usize) -> String {
        self.job.sections[section].name.clone()
    }

    pub(super) fn sections(&self, sections: &[usize]) -> String {
        wording::sections_together(self.job, sections)
    }

    pub(super) fn section_of(&self, source: Source) -> usize {
        match source {
            Source::Yard(line) => self.job.yard[line].section,
            Source::Shed(shed) => self.job.shed[shed].section,
        }
    }

    pub(super) fn trim_of(&self, source: Source) -> Trim {
        match source {
            Source::Yard(line) => self.job.sections[self.job.yard[line].section].trim,
            Source::Shed(shed) => self.job.shed[shed].trim,
        }
    }

    /// The bad stretches of a board.
    pub(super) fn bad_of(&self, source: Source) -> &[Stretch] {
        match source {
            Source::Yard(_) => &[],
            Source::Shed(shed) => &self.job.shed[shed].bad,
        }
    }

    pub(super) fn length_of(&self, source: Source) -> Length {
        match source {
            Source::Yard(line) => self.job.yard[line].length,
            Source::Shed(shed) => self.job.shed[shed].length,
        }
    }

    /// The length of a board as its yard states it, or as the tape shows it.
    pub(super) fn stated_length(&self, source: Source) -> String {
        let length = self.length_of(source);
        match source {
            Source::Yard(line) => match &self.job.yard[line].written {
                Some(written) => written.clone(),
                None => self.board_length(length),
            },
            Source::Shed(_) => self.left_length(length),
        }
    }

    /// `Shed A, 47 x 75, 1300 mm`, `Bought K, 47 x 75, 2400 mm`, `New 2400 mm, 47 x 75`.
    pub(super) fn board_title(&self, source: Source) -> String {
        self.boards_title(&[source])
    }

    /// The title of boards that are alike but for their marks: `Bought K, L, 47 x 75, 2400 mm`.
    pub(super) fn boards_title(&self, sources: &[Source]) -> String {
        let source = sources[0];
        let (section, length) = (
            self.section(self.section_of(source)),
            self.stated_length(source),
        );
        match source {
            Source::Yard(_) => format!("New {length}, {section}"),
            Source::Shed(shed) => {
                let board = &self.job.shed[shed];
                let whose = if board.new { "Bought" } else { "Shed" };
                let marks = sources.iter().filter_map(|source| match source {
                    Source::Shed(shed) => Some(&self.job.shed[*shed].mark[..]),
                    Source::Yard(_) => None,
                });
                let marks: Vec<&str> = marks.collect();
                format!("{whose} {}, {section}, {length}", marks.join(", "))
            }
        }
    }

    /// `shed-A`, `yard-2-1`: the line and how many of it came before.
    pub(super) fn board_key(&self, plan: &Plan, board: usize) -> String {
        match plan.boards[board].source {
            Source::Shed(shed) => format!("shed-{}", self.job.shed[shed].mark),
            Source::Yard(line) => {
                let before = plan.boards[..board]
                    .iter()
                    .filter(|other| other.source == Source::Yard(line));
                format!("yard-{}-{}", line + 1, before.count() + 1)
            }
        }
    }

    /// `square`, `45°`, `45°; square`.
    pub(super) fn ends(&self, part: &Part) -> String {
        ends_told(part, self.job.decimal())
    }
}

pub(super) use crate::shown::counted;
use crate::wording::{self, long_length};

/// How long a piece of timber that is there is told, be it in hand, an offcut or a board of the shed: as the tape shows it, and never longer than it is. What is sold
/// is told as the yard states it, a mark as its reading.
pub(super) fn held(tape: Style, length: Length) -> String {
    tape.show(length.down_to(tape.step)).text
}

/// A share in per cent with one decimal, rounded to the nearest.
pub(super) fn per_cent(part: i64, whole: i64, decimal: char) -> String {
    if whole <= 0 {
        return format!("0{decimal}0 %");
    }
    let thousandths =
        (i128::from(part.max(0)) * 2_000 + i128::from(whole)) / (2 * i128::from(whole));
    format!("{}{decimal}{} %", thousandths / 10, thousandths % 10)
}
