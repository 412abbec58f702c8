//! A board in hand: each step of its sheet is done, and what comes off is measured.

use super::rests::{self, Real};
use super::rips::{self, Strip};
use super::saw::Saw;
use super::{Found, ticks};
use lengthwise::job::{Angle, Fitting, Job, Part, PartEnd, Stretch, Treated};
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
    /// Where the part that came off last ends, or where the piece in hand starts.
    sound: i64,
    yard: Option<i64>,
    /// Which ends of the board came from the factory.
    factory: [bool; 2],
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
        let (section, length, bad, factory) = match source {
            Source::Yard(line) => {
                let yard = &job.yard[line];
                (yard.section, yard.length, Vec::new(), [true; 2])
            }
            Source::Shed(shed) => {
                let board = &job.shed[shed];
                let bad = board.bad.clone();
                (board.section, board.length, bad, board.factory_ends)
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
            sound: 0,
            yard: None,
            factory,
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
        let tape = step["tape"].split_once(" carried piece");
        if let Some((tape, _)) = tape
            && tape != self.tape
        {
            self.take(tape);
        }
        // On a board in one piece nothing is said of the piece.
        assert_eq!(
            tape.is_some(),
            self.yard.is_some(),
            "{}: {}",
            self.name,
            step["tape"]
        );
        let corner =
            step["hint"].contains("no mark to make: its long point is the corner of the end");
        let from_far = step["tape"].ends_with("read from the far end, the tape hooked on it");
        let mark = match (corner, from_far) {
            (true, _) => self.end,
            (_, true) => self.end - reading,
            _ => self.start + reading,
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
            Some(part) if from_far => self.far_post(step, &self.job.parts[part], mark, found),
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
        let first = tape == "first";
        (self.start, self.end) = match first {
            true => (0, cut),
            false => (cut + self.job.saw.kerf.ticks(), self.length),
        };
        (self.at, self.sound) = (self.start, self.start);
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
        let idle = step["side"].is_empty();
        let to = if idle { self.end } else { mark };
        let stands = self.stands(step, wanted, (self.at, to));
        let name = self.measured(step, wanted, (self.at, to), stands, found);
        // A part that stands on the datum end is sawn at its top.
        if stands == [true, false] {
            let square = step["kind"] != "mitre";
            assert!(square == (wanted.ends == [PartEnd::Square; 2]), "{name}");
        }
        let sides = self.sides();
        self.sound = to;
        self.at = to + self.cut_behind(step, wanted, sides[0]);
        let mitred = step["kind"] == "mitre";
        let slant = if mitred {
            rests::slant(&step["turn"], sides)
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

    /// The width and the thickness of what is in hand.
    fn sides(&self) -> [Length; 2] {
        let section = &self.job.sections[self.section];
        [section.width, section.thickness].map(Option::unwrap_or_default)
    }

    /// A part that comes off the far end, by a cut before its mark.
    fn far_post(&mut self, step: &Row, wanted: &Part, mark: i64, found: &mut Found) {
        assert_eq!(step["side"], "saw on the datum side of the mark");
        let piece = (mark, self.end);
        let stands = self.stands(step, wanted, piece);
        assert!(stands[1], "{}: measured from the far end", self.name);
        let name = self.measured(step, wanted, piece, stands, found);
        let (taken, slant) = match step["kind"].as_str() {
            "mitre" => (
                rests::taken(&step["turn"], self.job.saw.kerf),
                rests::slant(&step["turn"], self.sides()),
            ),
            _ => (self.job.saw.kerf.ticks(), 0),
        };
        assert_eq!(slant == 0, wanted.ends == [PartEnd::Square; 2], "{name}");
        // The saw may run in the cut behind the part before it, never in the part.
        assert!(
            mark - taken >= self.sound,
            "{name}: sawn into the part before"
        );
        self.left
            .freed_from_the_far_end(mark - taken + slant, slant);
        (self.at, self.end) = (mark, mark);
    }

    /// On which ends of its board a part lies that has to stand on a factory end; it does on one at least, and the sheet says so.
    fn stands(&self, step: &Row, wanted: &Part, (from, to): (i64, i64)) -> [bool; 2] {
        let section = &self.job.sections[self.section];
        let must = wanted.fitting == Fitting::Ground && section.treated == Treated::Yes;
        let ends = [from == 0, to == self.length];
        let factory = self.factory;
        let stands = [0, 1].map(|end| must && ends[end] && factory[end]);
        let told = ["datum", "far"].map(|end| {
            step["hint"].contains(&format!(
                "the {end} end is its factory end and goes down: do not trim it"
            ))
        });
        assert_eq!(must, told != [false; 2], "{}: {}", self.name, step["hint"]);
        for end in [0, 1] {
            assert!(!told[end] || stands[end], "{}: {told:?}", self.name);
        }
        // The other end of a board that is used up by one part is sawn or as it came.
        told
    }

    /// Measures a part that lies from one place to another, and compares what is told of it; its name.
    fn measured(
        &self,
        step: &Row,
        wanted: &Part,
        (from, to): (i64, i64),
        stands: [bool; 2],
        found: &mut Found,
    ) -> String {
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
        for stretch in &self.bad {
            let clear = to <= stretch.from.ticks() || from >= stretch.to.ticks();
            assert!(clear, "{name}: in a bad stretch");
        }
        assert!(
            to <= self.end && from >= self.start,
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
            let [datum, far] = [(datum, stands[0]), (far, stands[1])]
                .map(|(trim, stands)| if stands { 0 } else { trim.ticks() });
            let end = if first { cut } else { self.length };
            assert!(
                from >= self.start + datum && to <= end - far,
                "{name}: in the rough end of its piece, sawn {} off",
                self.off
            );
        }
        let over = to - from - wanted.length.ticks();
        let misses = &step["misses"];
        assert_eq!(
            good(over),
            misses.is_empty(),
            "{name}: {over} ticks over, told: {misses:?}"
        );
        found.parts += 1;
        found.told += usize::from(!good(over));
        found.stood[0] += usize::from(stands[0]);
        found.stood[1] += usize::from(stands[1]);
        found.tilted += usize::from(wanted.ends.iter().any(|end| end.is_tilted()));
        name
    }

    /// What the cut behind a part takes, less what of it lies in the next part's slanted start.
    fn cut_behind(&self, step: &Row, wanted: &Part, width: Length) -> i64 {
        let kerf = self.job.saw.kerf;
        if step["kind"] != "mitre" {
            return kerf.ticks();
        }
        // The part's end at the angle that the saw is set to.
        let turn = &step["turn"];
        let told = turn.rsplit_once(" at ").or(turn.rsplit_once(": "));
        let (_, told) = told.expect("a setting");
        let set = |angle: &Angle| told == angle.tenths(self.job.decimal());
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
