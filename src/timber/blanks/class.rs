//! The strips of one section: what fits beside what, and how few blanks they need at least. The bound is told at the head of [`super`].

use crate::length::Length;
use crate::part::{Keeps, Part};
use crate::section::{EdgeJoint, Section};

/// What widths are told by: the kerf, and the step of the tape.
#[derive(Clone, Copy, Debug)]
pub struct Fence {
    /// Width of a cut.
    pub kerf: Length,
    /// The step that a fence is set to.
    pub step: Length,
    /// Whether the saw rips at all.
    pub rips: bool,
}

/// The strips of one section, the longest first and of these the widest. Strips of one length, width and edge are one kind.
pub(super) struct Class {
    pub(super) kinds: Vec<Kind>,
    /// How many there are of each.
    pub(super) wanted: Vec<u32>,
    /// The width of a board and a kerf, for the last strip has none behind it.
    room: i64,
}

/// Strips that nothing tells apart.
pub(super) struct Kind {
    /// The rows of the list they are of, ascending.
    pub(super) rows: Vec<usize>,
    pub(super) length: i64,
    /// Its width and a kerf.
    takes: i64,
    /// The edge that one strip of a blank may keep; none where edges are alike.
    pub(super) edge: Option<usize>,
}

/// What lies in a blank: kinds with how many of each, ascending.
pub(super) type Fill = Vec<(usize, u32)>;

impl Class {
    pub(super) fn of(
        list: &[Part],
        rows: impl Iterator<Item = usize>,
        section: &Section,
        fence: Fence,
    ) -> Class {
        let kind = |row: usize| {
            let rip = list[row].rip?;
            Some(Kind {
                rows: vec![row],
                length: list[row].length.ticks(),
                takes: (rip.width.up_to(fence.step) + fence.kerf).ticks(),
                edge: match (section.joint, rip.keeps) {
                    (EdgeJoint::Square, _) => None,
                    (_, keeps) => Some(usize::from(keeps == Keeps::Last)),
                },
            })
        };
        let mut apart: Vec<Kind> = rows.filter_map(kind).collect();
        let key = |kind: &Kind| (-kind.length, -kind.takes, kind.edge);
        order::sort_by_key(&mut apart, |kind| (key(kind), kind.rows[0]));
        let mut kinds: Vec<Kind> = Vec::new();
        for one in apart {
            match kinds.last_mut().filter(|last| key(last) == key(&one)) {
                Some(last) => last.rows.extend(one.rows),
                None => kinds.push(one),
            }
        }
        let quantity = |row: &usize| list[*row].quantity;
        Class {
            wanted: kinds
                .iter()
                .map(|kind| kind.rows.iter().map(quantity).sum())
                .collect(),
            kinds,
            room: (section.broad().unwrap_or_default() + fence.kerf).ticks(),
        }
    }

    /// The length of so many blanks.
    pub(super) fn length(&self, fills: &[(Fill, u32)]) -> i64 {
        let of = |(fill, times): &(Fill, u32)| self.kinds[fill[0].0].length * i64::from(*times);
        fills.iter().map(of).sum()
    }

    /// No blanks for so many of each kind are shorter in all.
    pub(super) fn least(&self, wanted: &[u32]) -> i64 {
        let mut least = 0;
        for (last, kind) in self.kinds.iter().enumerate() {
            let next = self.kinds.get(last + 1).map_or(0, |kind| kind.length);
            if next < kind.length {
                least += (kind.length - next) * self.fewest(&wanted[..=last]);
            }
        }
        least
    }

    /// No fewer blanks hold so many of the first kinds.
    pub(super) fn fewest(&self, wanted: &[u32]) -> i64 {
        let sum = |which: &dyn Fn(&Kind) -> i64| -> i64 {
            let kinds = self.kinds.iter().zip(wanted);
            kinds
                .map(|(kind, &count)| which(kind) * i64::from(count))
                .sum()
        };
        let up = |amount: i64, by: i64| (amount + by - 1) / by.max(1);
        let filled = up(sum(&|kind| kind.takes.min(self.room)), self.room);
        let edges = [0, 1].map(|edge| sum(&|kind| i64::from(kind.edge == Some(edge))));
        let wide = self.kinds[..wanted.len()].iter().map(|narrowest| {
            let many = sum(&|kind| i64::from(kind.takes >= narrowest.takes));
            up(many, (self.room / narrowest.takes.max(1)).max(1))
        });
        wide.chain(edges).fold(filled, i64::max)
    }
}

/// What is still free of a blank.
#[derive(Clone, Copy)]
pub(super) struct Room<'a> {
    class: &'a Class,
    width: i64,
    edges: [bool; 2],
}

impl Room<'_> {
    pub(super) fn of(class: &Class) -> Room<'_> {
        Room {
            class,
            width: class.room,
            edges: [true; 2],
        }
    }

    /// How many of a kind fit.
    pub(super) fn holds(&self, kind: usize) -> u32 {
        let kind = &self.class.kinds[kind];
        let by_width = u32::try_from(self.width / kind.takes.max(1)).unwrap_or(0);
        match kind.edge {
            None => by_width,
            Some(edge) => by_width.min(u32::from(self.edges[edge])),
        }
    }

    pub(super) fn take(&mut self, kind: usize, count: u32) {
        let kind = &self.class.kinds[kind];
        self.width -= kind.takes * i64::from(count);
        if let Some(edge) = kind.edge.filter(|_| count > 0) {
            self.edges[edge] = false;
        }
    }
}
