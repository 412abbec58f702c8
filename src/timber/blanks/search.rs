//! All ways to fill blanks, one blank after the other; how and why it ends is told at the head of [`super`].

use super::class::{Class, Fill, Room};

pub(super) struct Search<'c> {
    class: &'c Class,
    /// How many of each kind are in no blank yet.
    left: Vec<u32>,
    fills: Vec<Fill>,
    /// The length of those blanks.
    length: i64,
    /// The length and the number of the best blanks so far.
    best: (i64, u32),
    found: Option<Vec<Fill>>,
    steps: u64,
}

impl<'c> Search<'c> {
    /// Blanks that are better than `best`, if there are any.
    pub(super) fn better(class: &'c Class, best: (i64, u32), steps: u64) -> Option<Vec<Fill>> {
        let mut search = Search {
            class,
            left: class.wanted.clone(),
            fills: Vec::new(),
            length: 0,
            best,
            found: None,
            steps,
        };
        search.open();
        search.found
    }

    /// Takes the next blank, around the longest strip left.
    fn open(&mut self) {
        let blanks = self.fills.len() as u32;
        let Some(first) = self.left.iter().position(|&count| count > 0) else {
            if (self.length, blanks) < self.best {
                self.best = (self.length, blanks);
                self.found = Some(self.fills.clone());
            }
            return;
        };
        let kinds = self.left.len() as u64;
        let (length, fewest) = (
            self.length + self.class.least(&self.left),
            self.class.fewest(&self.left),
        );
        let reached = (length, blanks.saturating_add(fewest as u32));
        if reached >= self.best || self.steps < kinds * kinds {
            return;
        }
        self.steps -= kinds * kinds;
        let longest = self.class.kinds[first].length;
        let mut room = Room::of(self.class);
        room.take(first, 1);
        self.left[first] -= 1;
        self.length += longest;
        self.fills.push(vec![(first, 1)]);
        self.fill(first, room);
        self.fills.pop();
        self.length -= longest;
        self.left[first] += 1;
    }

    /// Adds of this kind and the later ones what fits, the most first.
    fn fill(&mut self, kind: usize, room: Room) {
        if self.steps == 0 {
            return;
        }
        self.steps -= 1;
        if kind == self.left.len() {
            let more = |kind: usize| self.left[kind] > 0 && room.holds(kind) > 0;
            if !(0..kind).any(more) {
                self.open();
            }
            return;
        }
        for count in (0..=self.left[kind].min(room.holds(kind))).rev() {
            let last = self.fills.len() - 1;
            let before = self.fills[last].clone();
            match self.fills[last].last_mut() {
                Some(one) if one.0 == kind => one.1 += count,
                _ if count > 0 => self.fills[last].push((kind, count)),
                _ => {}
            }
            let mut room = room;
            room.take(kind, count);
            self.left[kind] -= count;
            self.fill(kind + 1, room);
            self.left[kind] += count;
            self.fills[last] = before;
        }
    }
}
