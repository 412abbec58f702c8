//! The legal range of each bounded quantity of a job. Messages, the schema, the README and tests read this one table.
//!
//! There are two sorts: a [`Limit`] is the range of a length, and a [`Most`] is the greatest number of something in one job, board or text.
//! The second sort is checked before any work is done with what it counts. So no input, however large, costs more time or memory than the
//! largest job that is planned. The figures behind the limits are in `fixtures/BENCHMARKS.md`.

use crate::length::Length;
use crate::money::Money;

/// A quantity with its legal range, both ends allowed.
pub struct Limit {
    /// What it is, as a message names it.
    pub what: &'static str,
    /// The least.
    pub least: Length,
    /// The most.
    pub most: Length,
}

const fn limit(what: &'static str, least_ticks: i64, most_mm: i64) -> Limit {
    Limit {
        what,
        least: Length::from_ticks(least_ticks),
        most: Length::from_mm(most_mm),
    }
}

/// Width of a saw cut. Zero is allowed for a knife or a published example.
pub const KERF: Limit = limit("a saw kerf", 0, 20);
/// Length of a part.
pub const PART: Limit = limit("the length of a part", 3_200, 100_000);
/// Most cuts of a scrap from which a kerf is worked out; nobody makes more.
pub const KERF_CUTS: u32 = 100;
/// What a part is left long by.
pub const OVER: Limit = limit("what a part is left long by", 0, 1_000);
/// A length the yard sells, or a board in the shed. The least, 50 mm, catches metres typed where millimetres are read.
pub const BOARD: Limit = limit("the length of a board", 50 * 3_200, 100_000);
/// Thickness and width of a section.
pub const SIDE: Limit = limit("a side of a section", 3_200, 1_500);
/// What is trimmed off one end.
pub const TRIM: Limit = limit("an end trim", 0, 2_000);
/// How far off its reading a cut at the yard may come out.
pub const YARD_TOLERANCE: Limit = limit("how far off a cut at the yard may come out", 0, 100);
/// The shortest offcut worth keeping.
pub const KEEP: Limit = limit("the keep length", 0, 100_000);
/// The finest step readings are printed to.
pub const STEP: Limit = limit("the step of a reading", 32, 100);
/// How much timber may be bought: as many boards as a plan may have, each as long as one may be.
pub const ALLOWED: Limit = limit("the timber that may be bought", 0, 1_000_000_000);
/// Where a bad stretch starts or ends.
pub const STRETCH: Limit = limit("a bad stretch", 0, 100_000);
/// Most boards of one length at the yard.
pub const COUNT: u32 = 1_000_000;
/// Most lengths of one pack. Each length of a pack is looked at wherever its boards are.
pub const PACK: u32 = 50;
/// The highest price of one length. Proofs hold prices times a scale; up to this limit their sums fit the arithmetic.
pub const PRICE: Money = Money::from_minor(100_000_000);
/// Most per cent of the timber bought that may be allowed for as bad; beyond it nobody would buy there.
pub const HIDDEN_DEFECTS: u32 = 50;
/// Most kilograms per cubic metre; the heaviest timbers have about 1 300.
pub const DENSITY: u32 = 1_500;

/// The greatest number of something, and the words of a message where there are more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Most {
    /// What has too many of them, as the subject of the message: `this job has`.
    pub subject: &'static str,
    /// What is counted: `rows of parts`.
    pub what: &'static str,
    /// How many there may be.
    pub most: usize,
    /// What is done with them: `are planned at once`.
    pub done: &'static str,
    /// The way out.
    pub remedy: &'static str,
}

const fn most(
    subject: &'static str,
    what: &'static str,
    most: usize,
    done: &'static str,
    remedy: &'static str,
) -> Most {
    Most {
        subject,
        what,
        most,
        done,
        remedy,
    }
}

const PLANNED: &str = "are planned at once";
const SPLIT: &str = "split the piece in two";

/// Rows of the cutting list, those of set-outs included.
pub static PARTS: Most = most("this job has", "rows of parts", 2_000, PLANNED, SPLIT);
/// Parts in all: each row counted by its quantity.
pub static PARTS_IN_ALL: Most = most("this job has", "parts in all", 10_000, PLANNED, SPLIT);
/// Sections.
pub static SECTIONS: Most = most(
    "this job has",
    "sections",
    200,
    PLANNED,
    "take out those that no part is made of, or split the piece in two",
);
/// Lengths that the yard sells.
pub static YARD: Most = most(
    "this job has",
    "lengths at the yard",
    2_000,
    PLANNED,
    "take out those that you would not buy",
);
/// Yards. Every choice among them is planned.
pub static YARDS: Most = most(
    "this job has",
    "yards",
    3,
    "are compared",
    "leave out those that you would not buy at",
);
/// Boards in the shed.
pub static SHED: Most = most(
    "this job has",
    "boards in the shed",
    2_000,
    PLANNED,
    "leave out the shortest ones",
);
/// Set-outs.
pub static SET_OUTS: Most = most(
    "this job has",
    "set-outs",
    300,
    "are worked out at once",
    SPLIT,
);
/// Parts that stand together and are drawn where they go. Each two of them are compared.
pub const DRAWN: Most = most(
    "what stands together here has",
    "parts",
    1_000,
    "are drawn together",
    "let some of its set-outs stand by themselves",
);
/// Sections that one part may be made of.
pub static CHOICES: Most = most(
    "this part has",
    "sections to be made of",
    50,
    "are compared",
    "name those that you would rather use",
);
/// Bad stretches of one board, before those that touch are joined.
pub static STRETCHES: Most = most(
    "this board has",
    "bad stretches",
    200,
    "are planned around",
    "write stretches that lie close together as one, or cut the board first",
);
/// Bad stretches of all boards.
pub static STRETCHES_IN_ALL: Most = most(
    "this job has",
    "bad stretches in all",
    5_000,
    "are planned around",
    "leave out the worst boards of the shed",
);
/// Different angles in one section, of two ends or more. Neighbours share a cut where their angles are equal, and the planner's state at a
/// place on a board includes which ends may follow. So the work grows three- to fourfold with each angle. An angle of one end alone adds
/// none.
pub static ANGLES: Most = most(
    "this section has",
    "different mitre angles of two ends or more",
    8,
    PLANNED,
    "give the parts of some angles a section of their own, or split the piece in two",
);
/// Ways in which parts stand on the ends of the boards of one section: each length of the yard and each board of the shed with a factory end, with any
/// two of the different parts that stand there, one or none. Every one is looked at whenever boards are compared.
pub static STANDING: Most = most(
    "this section has",
    "ways for what goes in the ground to stand on its boards",
    50_000,
    PLANNED,
    "leave out lengths at the yard, or make some of the parts equal",
);
/// Characters of a name, a mark or a label that is part of another.
pub static NAME: Most = most(
    "this text has",
    "characters",
    100,
    "are read here",
    "shorten it",
);
/// Characters of a label. This has room for a label made by the program from a piece, a set-out and a label of its parts.
pub static LABEL: Most = most(
    "this text has",
    "characters",
    400,
    "are read here",
    "shorten it",
);
/// Characters of a note.
pub static NOTE: Most = most(
    "this text has",
    "characters",
    2_000,
    "are read here",
    "shorten it",
);
/// Characters of a length, a count, a sum that names other sizes, or any other field.
pub static FIELD: Most = most(
    "this text has",
    "characters",
    1_000,
    "are read here",
    "shorten it",
);
/// Characters of a list: the bad stretches of a board, the sections of a part.
pub static LIST: Most = most(
    "this text has",
    "characters",
    20_000,
    "are read here",
    "shorten it",
);
/// Bytes of a job file or a parts table.
pub static FILE: Most = most(
    "this file has",
    "bytes",
    4 << 20,
    "are read",
    "split the piece in two",
);
/// Bytes of a plan file, most of which is its certificate.
pub static PLAN_FILE: Most = most(
    "this file has",
    "bytes",
    16 << 20,
    "are read",
    "plan the job again with less time, which writes a shorter certificate",
);
/// Bytes of a job in a link once unpacked, so that a short link cannot fill the memory.
pub static LINK: Most = most(
    "this link has",
    "bytes",
    1 << 20,
    "are read",
    "send the piece as a file",
);
/// Codes that carry a link in parts. More are photographed by nobody (common practice, no source).
pub static CODES: Most = most(
    "this piece takes",
    "codes",
    20,
    "are shown",
    "send the link or a file",
);
/// Bytes of one request to the engine: a few jobs and a plan.
pub static REQUEST: Most = most(
    "this request has",
    "bytes",
    24 << 20,
    "are read",
    "take something out of the piece",
);
/// Nesting of lists and objects in a file; our own files need 16 at most.
pub static DEPTH: Most = most(
    "this file has",
    "lists and objects inside each other",
    32,
    "are read",
    "a job file and a plan file have no more than 16; look for a bracket that is never closed",
);
/// Lines of a parts table, those without a part included.
pub static TABLE_LINES: Most = most(
    "this table has",
    "lines",
    4_000,
    "are read",
    "split the table in two",
);
/// Columns of a parts table.
pub static TABLE_COLUMNS: Most = most(
    "this table has",
    "columns",
    100,
    "are read",
    "keep those for label, section, length, quantity and ends",
);
/// Boards of one plan, and boards bought.
pub static BOARDS: Most = most("this plan has", "boards", 10_000, "are reported", SPLIT);
/// Pieces that are bought for together.
pub static PIECES: Most = most(
    "this list has",
    "pieces",
    50,
    "are bought for together",
    "leave some for another time",
);

/// The lists of a job, and how many rows each may have.
pub static LISTS: &[(&str, &Most)] = &[
    ("sections", &SECTIONS),
    ("yard", &YARD),
    ("yards", &YARDS),
    ("shed", &SHED),
    ("parts", &PARTS),
    ("set_outs", &SET_OUTS),
];

/// How many rows a list of the job may have, with its name.
pub fn of_list(list: &str) -> Option<(&'static str, &'static Most)> {
    LISTS.iter().find(|(name, _)| *name == list).copied()
}

/// Every limit of the second sort with its subject, in the order of the README.
pub static ALL: &[(&str, &Most)] = &[
    ("rows of parts, those of set-outs included", &PARTS),
    ("parts in all, and of one row", &PARTS_IN_ALL),
    ("sections", &SECTIONS),
    ("lengths at the yard", &YARD),
    ("yards", &YARDS),
    ("boards in the shed", &SHED),
    ("set-outs", &SET_OUTS),
    ("parts that stand together in a picture", &DRAWN),
    ("sections that one part may be made of", &CHOICES),
    (
        "different mitre angles in one section, of two ends or more",
        &ANGLES,
    ),
    (
        "ways for what goes in the ground to stand on the boards of one section",
        &STANDING,
    ),
    ("bad stretches on one board", &STRETCHES),
    ("bad stretches in all", &STRETCHES_IN_ALL),
    ("boards of one plan, and boards bought", &BOARDS),
    ("pieces that are bought for together", &PIECES),
    ("characters of a name or a mark", &NAME),
    ("characters of a label", &LABEL),
    ("characters of a note", &NOTE),
    (
        "characters of a length, a sum of lengths, or another field",
        &FIELD,
    ),
    ("characters of a list of stretches or of sections", &LIST),
    ("bytes of a job file or a parts table", &FILE),
    ("bytes of a plan file", &PLAN_FILE),
    ("bytes of a piece that comes out of a link", &LINK),
    ("codes of one link", &CODES),
    ("bytes of one request of the page", &REQUEST),
    ("lists and objects inside each other in a file", &DEPTH),
    ("lines of a parts table", &TABLE_LINES),
    ("columns of a parts table", &TABLE_COLUMNS),
];

impl Most {
    /// Whether this count is over the limit.
    pub const fn passed_by(&self, count: usize) -> bool {
        count > self.most
    }

    /// The message for this count.
    pub fn told(&self, found: usize) -> String {
        format!(
            "{} {} {}; at most {} {}; {}",
            self.subject,
            grouped(found),
            self.what,
            grouped(self.most),
            self.done,
            self.remedy
        )
    }

    /// A text that the program made, shortened to this many characters where it is longer.
    pub fn cut(&self, text: String) -> String {
        if text.chars().nth(self.most).is_none() {
            return text;
        }
        let kept: String = text.chars().take(self.most - 1).collect();
        format!("{}\u{2026}", kept.trim_end())
    }
}

/// A whole number with its thousands separated.
pub fn grouped(number: usize) -> String {
    let digits = number.to_string();
    let mut text = String::new();
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index).is_multiple_of(3) {
            text.push(' ');
        }
        text.push(digit);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_told_of_too_many_names_both_numbers_and_the_way_out() {
        assert_eq!(
            PARTS.told(2_431),
            "this job has 2 431 rows of parts; at most 2 000 are planned at once; split the piece in two"
        );
        assert_eq!(grouped(1_234_567), "1 234 567");
        assert_eq!(grouped(17), "17");
    }

    #[test]
    fn a_text_of_our_own_making_is_cut_to_what_is_read() {
        let text = NAME.cut("\u{e9}".repeat(101));
        assert_eq!(text.chars().count(), 100);
        assert!(text.ends_with("\u{e9}\u{2026}"));
        let whole = "\u{e9}".repeat(100);
        assert_eq!(NAME.cut(whole.clone()), whole);
    }
}
