//! How fills were reached, told when someone asks.
//!
//! A fill in a list has a link: the fill before it and the part added. A fill in a table has none, for most are never asked about; for
//! each bundle of parts the table remembers at which fills taking it was better, and the way is found backwards from that.

use super::pattern::added_up;
use super::stage::greatest_common_divisor;
use crate::problem::Ticks;

/// A fill that no cutting stands behind.
pub(super) const MERGED: u32 = u32::MAX;
/// Links with this bit are places in a table; the next bit tells which of two.
const IN_TABLE: u32 = 1 << 31;
const SECOND: u32 = 1 << 30;

/// What is taken of one part at once.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bundle {
    pub(super) part: usize,
    pub(super) count: u32,
    /// The length it takes, in steps of the table.
    pub(super) steps: usize,
}

/// What a table remembers of how it was filled.
#[derive(Default)]
pub(super) struct Memory {
    /// For each place what it held before the table: a link in a list, where there was one.
    pub(super) before: Vec<u32>,
    pub(super) bundles: Vec<Bundle>,
    /// For each bundle, for each place, whether taking it was better.
    pub(super) taken: Vec<u8>,
}

/// The ways to all fills of one pricing of a section.
#[derive(Default)]
pub(super) struct Ways {
    /// The fill before and the part added, so many links to a chunk; link 0 is the empty run. Chunks do not move when others are added,
    /// so that millions of links never lie in memory twice.
    chunks: Vec<Vec<(u32, u32)>>,
    tables: Vec<Memory>,
}

/// Links to a chunk, as a power of two.
const CHUNK: u32 = 16;
/// The links kept at most; what is reached after that is told as merged.
const MOST_LINKS: usize = 6_500_000;

impl Ways {
    /// Forgets everything.
    pub(super) fn clear(&mut self) {
        self.chunks.truncate(1);
        match self.chunks.first_mut() {
            Some(first) => first.clear(),
            None => self.chunks.push(Vec::new()),
        }
        self.chunks[0].push((0, u32::MAX));
        self.tables.clear();
    }

    /// The number of links.
    pub(super) fn len(&self) -> usize {
        let last = self.chunks.last().map_or(0, Vec::len);
        ((self.chunks.len().max(1) - 1) << CHUNK) + last
    }

    /// A link to what is reached from another by adding a part.
    pub(super) fn add(&mut self, before: u32, part: usize) -> u32 {
        if before == MERGED {
            return MERGED;
        }
        let at = self.chunks.len() - 1;
        let last = &mut self.chunks[at];
        last.push((before, part as u32));
        let link = (at << CHUNK) + last.len() - 1;
        if last.len() == 1 << CHUNK {
            if link >= MOST_LINKS {
                last.pop();
                return MERGED;
            }
            self.chunks.push(Vec::with_capacity(1 << CHUNK));
        }
        link as u32
    }

    /// Keeps what a table remembers; returns the link of its first place, to which others are added. `None` where there is room for no more.
    pub(super) fn keep(&mut self, memory: Memory) -> u32 {
        self.tables.push(memory);
        match self.tables.len() {
            1 => IN_TABLE,
            _ => IN_TABLE | SECOND,
        }
    }

    /// Whether another table can be kept.
    pub(super) fn has_room(&self) -> bool {
        self.tables.len() < 2
    }

    /// The parts of a fill, ascending, with their counts.
    pub(super) fn trace(&self, mut link: u32) -> Vec<(usize, u32)> {
        let mut parts: Vec<(usize, u32)> = Vec::new();
        if link & IN_TABLE != 0 {
            let memory = &self.tables[usize::from(link & SECOND != 0)];
            let places = memory.before.len();
            let mut place = (link & !(IN_TABLE | SECOND)) as usize;
            for (at, bundle) in memory.bundles.iter().enumerate().rev() {
                if memory.taken[at * places + place] != 0 {
                    parts.push((bundle.part, bundle.count));
                    place -= bundle.steps;
                }
            }
            link = memory.before[place];
        }
        while link != 0 {
            let (before, part) =
                self.chunks[(link >> CHUNK) as usize][(link & ((1 << CHUNK) - 1)) as usize];
            parts.push((part as usize, 1));
            link = before;
        }
        added_up(parts)
    }
}

/// The greatest step of which all these lengths are multiples; at least one.
pub(super) fn common_step(lengths: impl Iterator<Item = Ticks>) -> Ticks {
    lengths.fold(0, greatest_common_divisor).max(1)
}
