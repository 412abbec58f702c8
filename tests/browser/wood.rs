//! An account of timber beside the page: what comes in, what every cut leaves, and what must be in the shed at the end.
//!
//! Own arithmetic. It uses the physical lengths of boards and the marks of the saw sheets as a person sees them, and nothing that the page
//! says about offcuts. A cut takes the kerf on that side of the mark which the sheet names. Between two cuts is a part or a rest, and a
//! rest is kept when a clear stretch of it is long enough. Readings are rounded to 0.5 mm and boards are given in millimetres, so lengths
//! are compared to within [`ROUNDED`].

use crate::harness::Browser;
use serde_json::Value;

/// Kerf and shortest kept offcut of the demo piece, in millimetres.
const KERF: f64 = 2.4;
const KEEP: f64 = 300.0;

/// Greatest difference between a length and this account, in millimetres: two roundings to 0.5 mm, the kerf and its share of a mitre.
const ROUNDED: f64 = 1.6;

/// A length of timber nobody has cut yet, with its bad stretches.
#[derive(Clone, Debug, PartialEq)]
pub struct Board {
    pub section: String,
    pub length: f64,
    pub bad: Vec<(f64, f64)>,
}

/// One board as the saw shows it.
#[derive(Debug)]
pub struct Sheet {
    /// "Shed 2T", "New 3.6 m", or "10T: New 3.6 m" where it has its mark.
    pub name: String,
    /// Still to be bought, so not in the account yet.
    pub new: bool,
    pub section: String,
    pub length: f64,
    pub cuts: Vec<Cut>,
    /// The strips to keep that ripping leaves, each with the number of marks that are sawn by then.
    pub strips: Vec<(usize, Board)>,
}

/// One mark of a sheet.
#[derive(Debug)]
pub struct Cut {
    reading: f64,
    makes_part: bool,
    /// The saw stands on the datum side of the mark.
    before: bool,
    /// How much further towards the datum the timber reaches at the board's other edge, behind this cut.
    slant: f64,
}

impl Board {
    pub fn new(section: &str, length: f64) -> Board {
        Board {
            section: section.to_owned(),
            length,
            bad: Vec::new(),
        }
    }

    fn clear(&self) -> f64 {
        let mut ends: Vec<f64> = vec![0.0];
        ends.extend(self.bad.iter().flat_map(|&(from, to)| [from, to]));
        ends.push(self.length);
        ends.chunks(2)
            .map(|run| run[1] - run[0])
            .fold(0.0, f64::max)
    }

    /// What lies between two readings of this board.
    fn between(&self, from: f64, to: f64) -> Board {
        let bad = self.bad.iter();
        let bad = bad
            .map(|&(start, end)| (start.max(from) - from, end.min(to) - from))
            .filter(|(start, end)| end - start > ROUNDED);
        Board {
            bad: bad.collect(),
            ..Board::new(&self.section, to - from)
        }
    }
}

/// The timber there is.
#[derive(Debug, Default)]
pub struct Wood(pub Vec<Board>);

impl Wood {
    /// Every mark of the sheet is sawn: the board is gone and its rests are here.
    pub fn cut(&mut self, sheet: &Sheet) {
        self.cut_up_to(sheet, sheet.cuts.len());
    }

    /// The first part of the sheet is sawn and spoiled; what lies beyond it is a board of its own.
    pub fn spoil_first(&mut self, sheet: &Sheet) {
        let first = sheet.cuts.iter().position(|cut| cut.makes_part);
        let first = 1 + first.expect("a board with a part");
        let strips = |sheet: &Sheet| sheet.strips.iter().any(|(marks, _)| *marks <= first);
        assert!(!strips(sheet), "a spoiled piece leaves no strip");
        self.cut_up_to(sheet, first);
    }

    fn cut_up_to(&mut self, sheet: &Sheet, count: usize) {
        let board = match sheet.new {
            true => Board::new(&sheet.section, sheet.length),
            false => self.take(&sheet.section, sheet.length),
        };
        let mut at = 0.0;
        for cut in &sheet.cuts[..count] {
            let kerf = if cut.slant > 0.0 {
                KERF * 2_f64.sqrt()
            } else {
                KERF
            };
            if !cut.makes_part {
                let near = cut.reading - if cut.before { kerf } else { 0.0 };
                self.0.push(board.between(at, near.max(at)));
            }
            at = cut.reading - cut.slant + if cut.before { 0.0 } else { kerf };
        }
        if at < board.length {
            self.0.push(board.between(at, board.length));
        }
        let sawn = sheet.strips.iter().filter(|(marks, _)| *marks <= count);
        self.0.extend(sawn.map(|(_, strip)| strip.clone()));
    }

    /// The board of this section whose length is nearest to this one.
    pub fn take(&mut self, section: &str, length: f64) -> Board {
        let off = |board: &Board| (board.length - length).abs();
        let mine = (0..self.0.len()).filter(|&at| self.0[at].section == section);
        let nearest = mine.min_by(|&a, &b| off(&self.0[a]).total_cmp(&off(&self.0[b])));
        let nearest = nearest.filter(|&at| off(&self.0[at]) <= ROUNDED);
        let at =
            nearest.unwrap_or_else(|| panic!("there is no {length} mm of {section}: {self:?}"));
        self.0.swap_remove(at)
    }

    /// Checks that these boards, by section and physical length, are exactly those worth keeping in this account.
    pub fn assert_kept(mut self, shed: &[Board]) {
        self.0.retain(|board| board.clear() >= KEEP);
        for board in shed {
            self.take(&board.section, board.length);
        }
        assert!(self.0.is_empty(), "missing in the shed: {:?}", self.0);
    }
}

/// All boards of the saw, one after the other as the page shows them.
pub fn sheets(browser: &Browser) -> Vec<Sheet> {
    let shown = browser.run(
        "const choice = document.getElementById('board-choice');
         const text = (element, name) => element.querySelector('.' + name).textContent;
         return [...choice.options].map((_, index) => {
             choice.selectedIndex = index;
             choice.dispatchEvent(new Event('change'));
             return {
                 title: document.querySelector('#board h2').textContent,
                 steps: [...document.querySelectorAll('.step')].map((step) => [text(step, 'reading'), text(step, 'part-length'), text(step, 'how')]),
             };
         });",
    );
    shown.as_array().unwrap().iter().map(sheet).collect()
}

fn sheet(shown: &Value) -> Sheet {
    let title = shown["title"].as_str().unwrap();
    // "2 of 24: Shed 2T, frame 45 x 70, 1425 mm"; "11 of 24: 10T: New 3.6 m, frame 45 x 70" is bought and has its mark,
    // "11 of 24: New 3.6 m, frame 45 x 70" is not.
    let (name, rest) = title.split_once(": ").unwrap().1.split_once(", ").unwrap();
    let (new, section, length) = match (name.split_once("New "), rest.split_once(", ")) {
        (Some((mark, length)), None) => (mark.is_empty(), rest, length),
        (None, Some((section, length))) => (false, section, length),
        _ => panic!("a board's title is not understood: {title:?}"),
    };
    let steps = shown["steps"].as_array().unwrap();
    let (cuts, rips): (Vec<_>, Vec<_>) = (0..steps.len()).partition(|&at| steps[at][0] != "");
    // "...; 40 mm wide is left: keep it", of the piece that the line before cuts off.
    let strip = |&at: &usize| {
        let how = steps[at][2].as_str().unwrap();
        let wide = how
            .split("; ")
            .find_map(|told| told.strip_suffix(" is left: keep it"))?;
        let marks = cuts.iter().filter(|&&cut| cut < at).count();
        let length = millimetres(steps[at - 1][1].as_str().unwrap());
        Some((marks, Board::new(&format!("{section}, {wide}"), length)))
    };
    Sheet {
        name: name.to_owned(),
        new,
        section: section.to_owned(),
        length: millimetres(length),
        strips: rips.iter().filter_map(strip).collect(),
        cuts: cuts.iter().map(|&at| cut(&steps[at], section)).collect(),
    }
}

/// "slat 21 x 95" is 95 wide.
fn width(section: &str) -> f64 {
    section.rsplit(' ').next().unwrap().parse().unwrap()
}

fn cut(step: &Value, section: &str) -> Cut {
    let how = step[2].as_str().unwrap();
    let makes_part = step[1] != "";
    // A mitre of 45° crosses as much length as the board is wide; its long point is on the tape's edge, the rest reaches back.
    let mitred = makes_part && how.contains(" at 45°");
    Cut {
        reading: step[0].as_str().unwrap().parse().unwrap(),
        makes_part,
        before: how.contains("on the datum side of the mark"),
        slant: if mitred { width(section) } else { 0.0 },
    }
}

/// A length of this piece as it is typed or printed: "1425", "1425 mm" or "3.6 m".
pub fn millimetres(text: &str) -> f64 {
    let (number, unit) = text.rsplit_once(' ').unwrap_or((text, "mm"));
    let number: f64 = number.parse().unwrap();
    match unit {
        "m" => number * 1_000.0,
        "mm" => number,
        _ => panic!("no length of this piece: {text:?}"),
    }
}
