//! A board in hand: each step of its sheet is done, and what comes off is measured.

use super::rests::{self, Real};
use super::rips::{self, Strip};
use super::saw::Saw;
use super::{Found, ticks};
use lengthwise::job::{Angle, Fitting, Job, Part, PartEnd, Stretch};
use lengthwise::length::Length;
use lengthwise::plan::Source;
use std::collections::HashMap;

/// A row of the saw table, by heading.
type Row = HashMap<String, String>;

/// The piece in hand: where it starts and ends on the original board, and from where on it is still uncut.
pub struct Hand<'a> {
    job: &'a Job,
    pub name: String,
    section: usize,
    length: i64,
    bad: Vec<Stretch>,
    start: i64,
    end: i64,
    at: i64,
    yard: Option<i64>,
    /// How far off the reading the yard saws.
    off: i64,
    tape: String,
    saw: Saw,
    pub left: Real<'a>,
    /// The part that came off last, until it is ripped.
    narrow: Option<usize>,
    /// The strips that are kept.
    pub strips: Vec<Strip>,
}

impl<'a> Hand<'a> {
    pub fn of(job: &'a Job, source: Source, off: i64, name: String) -> Hand<'a> {
        let (section, length, bad) = match source {
            Source::Yard(line) => (job.yard[line].section, job.yard[line].length, Vec::new()),
            Source::Shed(shed) => {
                let board = &job.shed[shed];
                (board.section, board.length, board.bad.clone())
            }
        };
        Hand {
            job,
            name,
            section,
            length: length.ticks(),
            bad,
            start: 0,
            end: length.ticks(),
            at: 0,
            yard: None,
            off,
            tape: String::new(),
            saw: Saw::default(),
            left: Real::of(job, source),
            narrow: None,
            strips: Vec::new(),
        }
    }

    /// Does a step; the part that comes off.
    pub fn step(&mut self, step: &Row, found: &mut Found) -> Option<usize> {
        if step["kind"] == "rip" {
            let piece = self.narrow.take().expect("a part that came off just now");
            let piece = &self.job.parts[piece];
            self.strips
                .extend(rips::rip(self.job, self.section, piece, &step["rip"]));
            return None;
        }
        assert_eq!(self.narrow, None, "{}: a part is not ripped", self.name);
        let reading = ticks(self.job, &step["reading"]);
        if step["kind"] == "yard_cut" {
            self.yard_cut(step, reading);
            return None;
        }
        if step["tape"] != self.tape {
            self.take(&step["tape"]);
        }
        let corner =
            step["hint"].contains("no mark to make: its long point is the corner of the end");
        let mark = if corner {
            self.end
        } else {
            self.start + reading
        };
        if !step["side"].is_empty() {
            assert!(mark <= self.end, "{}: a mark beyond the timber", self.name);
        }
        self.saw.cut(step);
        // A to Z, then AA and so on: the lines of the cutting list in order. Two lines may have one label.
        let number = step["letter"].bytes().fold(0, |number, letter| {
            number * 26 + usize::from(letter - b'A') + 1
        });
        match number.checked_sub(1) {
            Some(part) => self.part(step, &self.job.parts[part], mark, found),
            None => self.waste(step, mark),
        }
        let part = number.checked_sub(1);
        self.narrow =
            part.filter(|&part| !self.job.parts[part].strips.is_empty() && step["rip"].is_empty());
        part
    }

    fn yard_cut(&mut self, step: &Row, reading: i64) {
        assert!(step["rounded"].is_empty(), "{}: the yard's cut", self.name);
        let carry = self.job.carry.expect("a limit to what is carried").ticks();
        let rest = self.length - reading - self.job.saw.kerf.ticks();
        assert!(reading <= carry && rest <= carry, "{}", self.name);
        let at = (reading + self.off).clamp(0, self.length - self.job.saw.kerf.ticks());
        self.yard = Some(at);
        self.left.yard_cut(at, at - reading);
    }

    /// Takes the other carried piece in hand.
    fn take(&mut self, tape: &str) {
        let cut = self.yard.expect("the yard's cut comes first");
        let first = tape.starts_with("first");
        (self.start, self.end) = match first {
            true => (0, cut),
            false => (cut + self.job.saw.kerf.ticks(), self.length),
        };
        self.at = self.start;
        self.left.hand(usize::from(!first));
        self.saw = Saw::default();
        self.tape = tape.to_owned();
    }

    /// A cut that frees no part.
    fn waste(&mut self, step: &Row, mark: i64) {
        if step["kind"] == "finish" {
            self.left.freed(mark);
        }
        self.at = match step["side"].as_str() {
            "saw on the datum side of the mark" => mark,
            "saw on the far side of the mark" => mark + self.job.saw.kerf.ticks(),
            other => panic!("{other}"),
        };
        self.left.cut_to(self.at, 0);
    }

    fn part(&mut self, step: &Row, wanted: &Part, mark: i64, found: &mut Found) {
        let name = format!("{}, {}", self.name, step["label"]);
        assert_eq!(wanted.label, step["label"], "{name}");
        let good = |over: i64| match wanted.fitting {
            Fitting::Free | Fitting::Ground => (0..self.job.step.ticks()).contains(&over),
            Fitting::Between => (1 - self.job.step.ticks()..=0).contains(&over),
        };
        let set = ticks(self.job, &step["part length"]);
        assert!(
            good(set - wanted.length.ticks()),
            "{name}: set to {set} ticks"
        );
        let idle = step["side"].is_empty();
        let to = if idle { self.end } else { mark };
        for stretch in &self.bad {
            let clear = to <= stretch.from.ticks() || self.at >= stretch.to.ticks();
            assert!(clear, "{name}: in a bad stretch");
        }
        assert!(
            to <= self.end && self.at >= self.start,
            "{name}: beyond its piece"
        );
        if let Some(cut) = self.yard {
            // What the yard sawed is rough: nothing of it is in a part, nor of the ends the length came with.
            let (sawn, trim) = (
                self.job.sections[self.section].yard_sawn,
                self.job.sections[self.section].trim,
            );
            let first = self.start == 0;
            let (datum, far) = match first {
                true => (trim.datum, sawn.far),
                false => (sawn.datum, trim.far),
            };
            let end = if first { cut } else { self.length };
            assert!(
                self.at >= self.start + datum.ticks() && to <= end - far.ticks(),
                "{name}: in the rough end of its piece, sawn {} off",
                self.off
            );
        }
        let over = to - self.at - wanted.length.ticks();
        let misses = &step["misses"];
        assert_eq!(
            good(over),
            misses.is_empty(),
            "{name}: {over} ticks over, told: {misses:?}"
        );
        found.parts += 1;
        found.told += usize::from(!good(over));
        let width = self.job.sections[self.section].width.unwrap_or_default();
        self.at = to + self.cut_behind(step, wanted, width);
        let mitred = step["kind"] == "mitre";
        let slant = if mitred {
            rests::slant(&step["turn"], width)
        } else {
            0
        };
        match idle {
            true => self.left.all_used(),
            false => {
                let taken = rests::taken(&step["turn"], self.job.saw.kerf);
                self.left.cut_to(to + taken, slant);
            }
        }
    }

    /// What the cut behind a part takes, less what of it lies in the next part's slanted start.
    fn cut_behind(&self, step: &Row, wanted: &Part, width: Length) -> i64 {
        let kerf = self.job.saw.kerf;
        if step["kind"] != "mitre" {
            return kerf.ticks();
        }
        // The part's end at the angle that the saw is set to.
        let set = |angle: &Angle| {
            step["turn"].ends_with(&format!(" at {}", angle.tenths(self.job.decimal())))
        };
        let angle = wanted.ends.iter().find_map(|end| match end {
            PartEnd::Mitre(angle) => Some(*angle).filter(set),
            PartEnd::Square => None,
        });
        let angle = angle.expect("a mitred end");
        let shared = step["hint"].contains("one cut for this end");
        let slant = if shared {
            angle.saving(width).ticks()
        } else {
            0
        };
        angle.kerf(kerf).ticks() - slant
    }
}
