//! One thing to do to a board: the tape's reading, what is sawn, and whatever else the person needs for it.

macro_rules! came {
    () => {
        "the end it came with"
    };
}

macro_rules! fresh {
    () => {
        "the fresh end"
    };
}

/// How the readings of a saw sheet are used. It is printed wherever readings are, since a tape hooked again on a fresh end puts every later
/// part out.
pub const MARKING: &str = concat!(
    "Mark every reading of a board before its first cut, the tape hooked on ",
    came!(),
    "; saw on the far side of each mark where nothing else is said. Where you cut as you go, set each part to its own length from ",
    fresh!(),
    " instead."
);

/// The ends on which a tape is hooked: the datum end as the board came.
pub(super) const CAME: &str = came!();
/// The end that the last cut left.
pub(super) const FRESH: &str = fresh!();
/// That of the second piece of a length that the yard cut.
pub(super) const YARD_SAWN: &str = "the end the yard cut";
/// That on which a part stands.
pub(super) const FAR: &str = "the far end";

/// One thing to do to a board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// Its place in the order, from one.
    pub order: usize,
    /// What is done.
    pub kind: StepKind,
    /// The tape reading from the datum end.
    pub reading: String,
    /// Whether the reading is rounded: the mark is not exactly there.
    pub rounded: bool,
    /// The part that this cut frees, or what the cut is for.
    pub label: String,
    /// The part's letter, empty where no part comes off.
    pub letter: String,
    /// The keys of the rows of the cutting list that come off with this cut, one for each strip in it.
    pub keys: Vec<String>,
    /// The part's length, empty where no part comes off.
    pub part_length: String,
    /// The part's ends, empty where no part comes off.
    pub ends: String,
    /// Whether an end of the part is not square.
    pub angled: bool,
    /// For a mitre, the edge its long point is on.
    pub long_edge: String,
    /// For a mitre, whether the board is turned over for it.
    pub turn: String,
    /// On which side of the mark the saw goes.
    pub side: Side,
    /// Which piece of the board is in hand and where the tape is hooked on it, for a board that the yard cuts in two; else empty.
    pub tape: String,
    /// The end on which the tape is hooked for the reading, and what it reads from the fresh end where that may be used; empty where nothing is sawn.
    pub hooked: String,
    /// Another way to do it.
    pub hint: String,
    /// How the part that is off is ripped, or why a narrow part is not; empty where neither is to be said.
    pub rip: String,
    /// What the part misses of its length, empty where it is within a step of the tape on the right side.
    pub miss: String,
    /// What to mind at this step.
    pub caution: String,
}

impl Step {
    /// The reading, with the sign for about where it is rounded.
    pub fn told_reading(&self) -> String {
        match self.rounded {
            true => format!("\u{2248}{}", self.reading),
            false => self.reading.clone(),
        }
    }

    /// Everything about this step beside its reading, its part and its caution, in the order in which it is needed. Every output prints all
    /// of it.
    pub fn says(&self) -> Vec<String> {
        let ends = match self.angled {
            true => format!("ends {}", self.ends),
            false => String::new(),
        };
        let side = self.side.text().to_owned();
        [
            &self.tape,
            &ends,
            &self.long_edge,
            &self.turn,
            &side,
            &self.hint,
            &self.miss,
            &self.rip,
        ]
        .into_iter()
        .filter(|text| !text.is_empty())
        .cloned()
        .collect()
    }
}

/// A side of a mark on a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Towards the datum end.
    Datum,
    /// Away from it.
    Far,
    /// Nothing is sawn.
    Neither,
}

impl Side {
    /// Where to saw, in words; empty where nothing is sawn.
    pub fn text(self) -> &'static str {
        match self {
            Side::Datum => "saw on the datum side of the mark",
            Side::Far => "saw on the far side of the mark",
            Side::Neither => "",
        }
    }
}

/// What a step does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StepKind {
    /// Squares a rough end.
    Trim,
    /// Cuts square.
    Cut,
    /// Cuts at an angle.
    Mitre,
    /// Cuts a bad stretch away.
    Bad,
    /// The yard's cut.
    YardCut,
    /// Rips the part that came off in the step before.
    Rip,
    /// Ends an offcut, or a part that ends where the board does.
    Finish,
}

/// Parts of one length, which share a stop on the saw.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Setting {
    /// The length.
    pub length: String,
    /// How many parts.
    pub count: usize,
    /// Which parts.
    pub labels: Vec<String>,
}
