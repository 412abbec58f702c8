//! Parts: the lines of the cutting list.

pub use crate::ends::{PartEnd, ends_written, read_ends};

use crate::ends::both;
use crate::fields::word_of;
use crate::length::{Decimal, Length, Shown, Style};
use crate::limits;
use crate::plan::Edge;
use crate::section::{Section, Sides};

/// One line of the cutting list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// What it is called.
    pub label: String,
    /// Indices of the sections it may be made of, ascending, at least one.
    pub sections: Vec<usize>,
    /// The long-point length it is cut to; with parallel ends its overall length, tip to tip.
    pub length: Length,
    /// How much of that is trimmed off in place.
    pub over: Length,
    /// How many, at least one.
    pub quantity: u32,
    /// Its ends, the datum end first.
    pub ends: [PartEnd; 2],
    /// How its ends lean where both are angled.
    pub leans: Leans,
    /// Where it goes.
    pub fitting: Fitting,
    /// Which timber of its sections it may be made from.
    pub made_from: MadeFrom,
    /// Whether its good face is out: it is marked out and cut with that face up.
    pub good_face: bool,
    /// Whether half of them are the mirror image of the others and come out as one piece, turned over where they go; see [`Part::hands`].
    pub pair: bool,
    /// What it is ripped to, where it is narrower than its section.
    pub rip: Option<Rip>,
    /// For a part as it is cut across boards, the rows of the job's list that are ripped out of it, one for each strip and in the order they lie in;
    /// empty for what is not ripped.
    pub strips: Vec<usize>,
    /// The set-out it comes from, empty for a part written by hand.
    pub from: String,
    /// Row of the draft it was written in, for parts written by hand.
    pub row: Option<usize>,
    /// The place of its letter in the alphabet, from zero, where it is given one.
    pub letter: Option<usize>,
    /// Whether it is one of the piece or in reserve.
    pub spare: Spare,
}

/// Whether a part is one of the piece or in reserve.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Spare {
    /// It is one of the piece.
    #[default]
    No,
    /// It is cut in case one of the part before it in the list is spoiled.
    Part,
    /// It is timber in reserve, as long as the longest part of its section.
    Piece,
}

/// A label with more behind it, as long as one may be.
fn labelled(label: &str, more: &str) -> String {
    let room = limits::LABEL.most - more.len();
    label.chars().take(room).chain(more.chars()).collect()
}

impl Part {
    /// Square-ended parts that stand free, of no set-out yet.
    pub fn square(label: &str, sections: &[usize], length: Length, quantity: u32) -> Part {
        Part {
            label: label.to_owned(),
            sections: sections.to_vec(),
            length,
            over: Length::ZERO,
            quantity,
            ends: [PartEnd::Square; 2],
            leans: Leans::Opposite,
            fitting: Fitting::Free,
            made_from: MadeFrom::Anything,
            good_face: false,
            pair: false,
            rip: None,
            strips: Vec::new(),
            from: String::new(),
            row: None,
            letter: None,
            spare: Spare::No,
        }
    }

    /// So many more of it in reserve, as a row of its own; none where none are wanted.
    pub fn spare(&self, number: u32) -> Option<Part> {
        (number > 0).then(|| Part {
            label: labelled(&self.label, ", spare"),
            quantity: number,
            pair: false,
            letter: None,
            spare: Spare::Part,
            ..self.clone()
        })
    }

    /// The length to set a saw or a stop to. A length that is not on a step of the tape is rounded in the direction in which it may miss:
    /// up for a part that stands free, down for one that goes between others.
    pub fn set_length(&self, step: Length) -> Length {
        let set = match self.fitting {
            Fitting::Free | Fitting::Ground => self.length.up_to(step),
            Fitting::Between => self.length.down_to(step),
        };
        // The step is coarser than the part: rounding down would give zero.
        if set.is_none() { step } else { set }
    }

    /// What is to be said of a part that is left long, if it is: how long it is once it is trimmed.
    pub fn told_over(&self, style: Style) -> Option<String> {
        (!self.over.is_none()).then(|| {
            let [over, finished] =
                [self.over, self.length - self.over].map(|length| style.show(length).told());
            format!("{over} over: trim it to {finished} where it goes")
        })
    }

    /// Whether it may be made of this timber of a section.
    pub fn goes_on(&self, section: usize, timber: Timber) -> bool {
        self.sections.contains(&section) && self.takes(timber)
    }

    /// Whether it may be made of this timber, whatever the section: what is ripped is made from what may be ripped.
    pub fn takes(&self, timber: Timber) -> bool {
        self.made_from.takes(timber.new) && (timber.rips || self.strips.is_empty())
    }

    /// What else is to be said of it wherever it is listed.
    pub fn told_also(&self, decimal: Decimal) -> Option<String> {
        let from = (self.made_from != MadeFrom::Anything).then(|| self.made_from.word());
        let face = self.good_face.then_some(FACES[1].0);
        let pair = self.pair.then(|| match self.is_its_own_mirror_image() {
            true => "left and right are alike",
            false => "left and right: turn half of them over",
        });
        let edges = self.rip.and_then(|rip| rip.told_edges(decimal));
        let spare = (self.spare == Spare::Piece).then_some("in case a part is spoiled");
        let told = from.into_iter().chain(face).chain(pair).chain(spare);
        let told: Vec<&str> = told.chain(edges.as_deref()).collect();
        (!told.is_empty()).then(|| told.join(", "))
    }

    fn is_its_own_mirror_image(&self) -> bool {
        self.ends[0] == self.ends[1] && (!self.is_angled() || self.leans == Leans::Opposite)
    }

    /// Parts wanted left and right as they are cut. The mirror image of a part, its ends in the other order, is that part turned over about its width; so
    /// they are one piece where that may be done, and else two, half of the number each. It may not be where a good face is out, or where the faces
    /// of a section that they may be made of are different.
    pub fn hands(mut self, sections: &[Section]) -> Vec<Part> {
        let different = |&section: &usize| {
            sections
                .get(section)
                .is_some_and(|section| section.faces == Sides::Different)
        };
        // The mirror image of an end sawn with the blade tilted is no half-turn of it.
        let fixed = self.good_face || self.is_tilted() || self.sections.iter().any(different);
        if !self.pair || !fixed || self.is_its_own_mirror_image() {
            return vec![self];
        }
        self.quantity /= 2;
        self.pair = false;
        let mut ends = self.ends;
        if !self.is_tilted() || self.leans == Leans::Opposite {
            // As in a mirror across its length; a tilted one whose ends lean the same way, in one along it, so that its long points stay on their faces.
            ends.reverse();
        }
        let right = Part {
            label: labelled(&self.label, " R"),
            ends,
            leans: self.leans.mirrored(),
            letter: None,
            ..self.clone()
        };
        self.label = labelled(&self.label, " L");
        vec![self, right]
    }

    /// Whether an end of it is cut at an angle.
    pub fn is_angled(&self) -> bool {
        self.ends != [PartEnd::Square; 2]
    }

    /// Whether an end of it is sawn with the blade tilted.
    pub fn is_tilted(&self) -> bool {
        self.ends.iter().any(|end| end.is_tilted())
    }

    /// Whether the long points of its ends are on the upper face as it is written: the first tilted end's is, and the other's where they lean opposite
    /// ways.
    pub fn written_faces(&self) -> [bool; 2] {
        let both = self.ends.iter().all(|end| end.is_tilted());
        [true, !both || self.leans == Leans::Opposite]
    }

    /// What is to be said of a part written by hand that is ripped. One of a set-out says so in its name.
    pub fn told_rip(&self, style: Style) -> Option<String> {
        let rip = self.rip.filter(|_| self.row.is_some())?;
        Some(format!("ripped to {}", style.show(rip.width).told()))
    }

    /// The edges of the long points of its ends as it is written: its first mitred end's is the far edge, unless it is the mirror image of one whose
    /// ends lean the same way. A square end counts as its other end does.
    pub fn written_edges(&self) -> [Edge; 2] {
        match (self.ends, self.leans) {
            ([PartEnd::Mitre(_), PartEnd::Mitre(_)], Leans::Same) => [Edge::Far, Edge::Near],
            ([PartEnd::Mitre(_), PartEnd::Mitre(_)], Leans::Mirrored) => [Edge::Near, Edge::Far],
            _ => [Edge::Far; 2],
        }
    }

    /// The same in words: rounded where it is another length than the part has.
    pub fn told_length(&self, style: Style) -> Shown {
        let set = self.set_length(style.step);
        Shown {
            rounded: set != self.length,
            ..style.show(set)
        }
    }
}

/// Where a part goes. This decides in which direction its length may miss.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Fitting {
    /// It stands free: it may be a little long, never short.
    #[default]
    Free,
    /// It goes between others, as a noggin does: it is measured there first, and may be a little short, never long.
    Between,
    /// It goes in the ground, as a post does: it may miss as one that stands free, and has cautions of its own.
    Ground,
}

impl Fitting {
    /// Every one, with its word in a job file.
    pub const WORDS: [(&'static str, Fitting); 3] = [
        ("free", Fitting::Free),
        ("between others", Fitting::Between),
        ("in the ground", Fitting::Ground),
    ];

    /// Its word in a job file.
    pub fn word(self) -> &'static str {
        word_of(&Fitting::WORDS, self)
    }
}

/// A to Z, then AA, AB and so on: the letter with this place.
pub fn letter_of(place: usize) -> String {
    let mut letters = Vec::new();
    let mut rest = place + 1;
    while rest > 0 {
        letters.push(char::from(b'A' + ((rest - 1) % 26) as u8));
        rest = (rest - 1) / 26;
    }
    letters.iter().rev().collect()
}

/// The place of a letter, of one or two characters; none where it is something else.
pub fn place_of(letter: &str) -> Option<usize> {
    let mut place = 0;
    for character in letter.bytes() {
        if !character.is_ascii_uppercase() || place > 26 {
            return None;
        }
        place = place * 26 + usize::from(character - b'A') + 1;
    }
    place.checked_sub(1)
}

/// Whether parts are wanted as they are drawn or left and right, with the words of a job file.
pub const HANDS: [(&str, bool); 2] = [("as drawn", false), ("left and right", true)];

/// Whether a part has a good face that is to be out, with the words of a job file.
pub const FACES: [(&str, bool); 2] = [("either", false), ("good face out", true)];

/// What parts ask of a board besides its section.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Timber {
    /// Whether it is new, or else of the shed.
    pub new: bool,
    /// Whether narrow parts may be ripped out of it: not where it is treated, or nobody knows, and its section is not.
    pub rips: bool,
}

/// Which timber of its sections a part may be made from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum MadeFrom {
    /// Whatever there is.
    #[default]
    Anything,
    /// New timber: lengths of the yard, and boards of the shed that count as new.
    New,
    /// The other boards of the shed.
    Shed,
}

impl MadeFrom {
    /// Every one, with its word in a job file.
    pub const WORDS: [(&'static str, MadeFrom); 3] = [
        ("anything", MadeFrom::Anything),
        ("new timber only", MadeFrom::New),
        ("shed boards only", MadeFrom::Shed),
    ];

    /// Its word in a job file.
    pub fn word(self) -> &'static str {
        word_of(&MadeFrom::WORDS, self)
    }

    /// Whether it allows new timber, or else shed boards.
    pub fn takes(self, new: bool) -> bool {
        match self {
            MadeFrom::Anything => true,
            MadeFrom::New => new,
            MadeFrom::Shed => !new,
        }
    }
}

/// What a part narrower than its section is ripped to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Rip {
    /// Its width overall, what lies over or under a neighbour included.
    pub width: Length,
    /// Which edge of the board it keeps.
    pub keeps: Keeps,
    /// How its two long edges are sawn: square, or with the blade tilted by an angle. The wider face has the width.
    pub edges: [PartEnd; 2],
}

impl Rip {
    /// With square edges.
    pub fn square(width: Length, keeps: Keeps) -> Rip {
        Rip {
            width,
            keeps,
            edges: [PartEnd::Square; 2],
        }
    }

    /// Whether an edge is bevelled.
    pub fn is_bevelled(&self) -> bool {
        self.edges != [PartEnd::Square; 2]
    }

    /// What is to be said of its edges; nothing where they are square.
    pub fn told_edges(&self, decimal: Decimal) -> Option<String> {
        let edges = || both(self.edges.map(|edge| edge.told(decimal)));
        self.is_bevelled()
            .then(|| format!("long edges bevelled {}", edges()))
    }
}

/// Which edge of its board a ripped part keeps. Boards whose edges meet squarely have two alike; of the others one lies over the board before and one under
/// the board behind, and each can go to one part alone.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Keeps {
    /// Nothing is said of it.
    #[default]
    Either,
    /// The edge towards the next board, as the first board of a face does.
    First,
    /// The edge towards the board before, as the last one does.
    Last,
}

impl Keeps {
    /// Every one, with its word in a job file.
    pub const WORDS: [(&'static str, Keeps); 3] = [
        ("either", Keeps::Either),
        ("first", Keeps::First),
        ("last", Keeps::Last),
    ];

    /// Its word in a job file.
    pub fn word(self) -> &'static str {
        word_of(&Keeps::WORDS, self)
    }
}

/// How the two ends of a part lean to each other, where both are cut at an angle.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Leans {
    /// Opposite ways, as on the side of a mitred frame: both long points are on one edge.
    #[default]
    Opposite,
    /// The same way, as on a brace: the long points are on different edges.
    Same,
    /// The same way, and as in a mirror: the long points are on the edges across from those.
    Mirrored,
}

impl Leans {
    /// Every one, with its word in a job file.
    pub const WORDS: [(&'static str, Leans); 3] = [
        ("opposite ways", Leans::Opposite),
        ("the same way", Leans::Same),
        ("the same way, mirrored", Leans::Mirrored),
    ];

    /// Its word in a job file.
    pub fn word(self) -> &'static str {
        word_of(&Leans::WORDS, self)
    }

    /// How the mirror image of a part leans.
    fn mirrored(self) -> Leans {
        match self {
            Leans::Opposite => Leans::Opposite,
            Leans::Same => Leans::Mirrored,
            Leans::Mirrored => Leans::Same,
        }
    }
}

/// Both ends of a part as people are told them, and how they lean where both are angled: `square`, `45\u{b0}; square`, `45\u{b0}, the same way`.
pub fn ends_told(part: &Part, decimal: Decimal) -> String {
    let ends = both(part.ends.map(|end| end.told(decimal)));
    if part.ends.contains(&PartEnd::Square) {
        ends
    } else {
        format!("{ends}, {}", part.leans.word())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::Angle;

    fn mitre(millidegrees: u32) -> PartEnd {
        PartEnd::Mitre(Angle::from_millidegrees(millidegrees).expect("in range"))
    }

    #[test]
    fn ends_are_told_to_a_tenth_of_a_degree_and_with_how_they_lean() {
        // A ring of seven: 180 / 7 = 25.714 degrees.
        let part = |ends, leans| Part {
            ends,
            leans,
            ..Part::square("side", &[0], Length::from_mm(500), 1)
        };
        let told = |ends, leans| ends_told(&part(ends, leans), Decimal::Comma);
        let seven = mitre(25_714);
        assert_eq!(
            told([seven; 2], Leans::Opposite),
            "25,7\u{b0}, opposite ways"
        );
        assert_eq!(told([seven; 2], Leans::Same), "25,7\u{b0}, the same way");
        assert_eq!(
            told([seven, PartEnd::Square], Leans::Same),
            "25,7\u{b0}; square"
        );
        assert_eq!(
            told([mitre(45_000), mitre(30_050)], Leans::Same),
            "45\u{b0}; 30,1\u{b0}, the same way"
        );
        assert_eq!(told([PartEnd::Square; 2], Leans::Opposite), "square");
    }
}
