//! The traceback: which parts a partial pattern is made of, told when someone asks.
//!
//! **Idea** (common practice in dynamic programming). A partial pattern in a list has a link: the one before it and the part added. One in a table
//! has none, for most are never asked about; for each bundle the table remembers at which places taking it was better, and the parts are found
//! backwards from that.
//!
//! **Invariant.** A link leads to links with smaller numbers only, a place of a table to shorter places with fewer bundles and at last into the
//! list that the table began from; so **it ends**.

use crate::limits::{TRACEBACK_CHUNK, TRACEBACK_LINKS};
use crate::pattern::added_up;

/// The link of a partial pattern that was merged of two: no cutting stands behind it.
pub(crate) const NO_PATTERN: u32 = u32::MAX;
/// Links with this bit are places in a table; the next bit tells which of two.
const IN_TABLE: u32 = 1 << 31;
const SECOND: u32 = 1 << 30;

/// What is taken of one part at once.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Bundle {
    pub(crate) part: usize,
    pub(crate) count: u32,
    /// The length it takes, in steps of the table.
    pub(crate) steps: usize,
}

/// What a table remembers of how it was filled.
#[derive(Default)]
pub(crate) struct TableChoices {
    /// For each place what it held before the table: a link in a list, where there was one.
    pub(crate) before: Vec<u32>,
    pub(crate) bundles: Vec<Bundle>,
    /// For each bundle, for each place, whether taking it was better.
    pub(crate) taken: Vec<u8>,
}

/// How all fills of one pricing of a section were reached.
#[derive(Default)]
pub(crate) struct Traceback {
    /// The fill before and the part added, so many links to a chunk; link 0 is the empty run. Chunks do not move when others are added,
    /// so that millions of links never lie in memory twice.
    chunks: Vec<Vec<(u32, u32)>>,
    tables: Vec<TableChoices>,
}

impl Traceback {
    /// Forgets everything.
    pub(crate) fn clear(&mut self) {
        self.chunks.truncate(1);
        match self.chunks.first_mut() {
            Some(first) => first.clear(),
            None => self.chunks.push(Vec::new()),
        }
        self.chunks[0].push((0, u32::MAX));
        self.tables.clear();
    }

    /// The number of links.
    pub(crate) fn len(&self) -> usize {
        let last = self.chunks.last().map_or(0, Vec::len);
        ((self.chunks.len().max(1) - 1) << TRACEBACK_CHUNK) + last
    }

    /// A link to what is reached from another by adding a part.
    pub(crate) fn add(&mut self, before: u32, part: usize) -> u32 {
        if before == NO_PATTERN {
            return NO_PATTERN;
        }
        let at = self.chunks.len() - 1;
        let last = &mut self.chunks[at];
        last.push((before, part as u32));
        let link = (at << TRACEBACK_CHUNK) + last.len() - 1;
        if last.len() == 1 << TRACEBACK_CHUNK {
            if link >= TRACEBACK_LINKS {
                last.pop();
                return NO_PATTERN;
            }
            self.chunks.push(Vec::with_capacity(1 << TRACEBACK_CHUNK));
        }
        link as u32
    }

    /// Keeps what a table remembers; returns the link of its first place, to which others are added. `None` where there is room for no more.
    pub(crate) fn keep(&mut self, choices: TableChoices) -> u32 {
        self.tables.push(choices);
        match self.tables.len() {
            1 => IN_TABLE,
            _ => IN_TABLE | SECOND,
        }
    }

    /// Whether another table can be kept.
    pub(crate) fn has_room(&self) -> bool {
        self.tables.len() < 2
    }

    /// The parts of a fill, ascending, with their counts.
    pub(crate) fn trace(&self, mut link: u32) -> Vec<(usize, u32)> {
        let mut parts: Vec<(usize, u32)> = Vec::new();
        if link & IN_TABLE != 0 {
            let choices = &self.tables[usize::from(link & SECOND != 0)];
            let places = choices.before.len();
            let mut place = (link & !(IN_TABLE | SECOND)) as usize;
            for (at, bundle) in choices.bundles.iter().enumerate().rev() {
                if choices.taken[at * places + place] != 0 {
                    parts.push((bundle.part, bundle.count));
                    place -= bundle.steps;
                }
            }
            link = choices.before[place];
        }
        while link != 0 {
            let (before, part) = self.chunks[(link >> TRACEBACK_CHUNK) as usize]
                [(link & ((1 << TRACEBACK_CHUNK) - 1)) as usize];
            parts.push((part as usize, 1));
            link = before;
        }
        added_up(parts)
    }
}
