//! The length that cuts take between parts that can share cuts with each other: such parts are a family.
//!
//! **As a graph.** The vertices are the ways that ends face ([`super::sharing::Facing`]). Each part is an edge between its two ends, and a
//! run decomposes into trails: a part follows another where their ends meet. At a vertex that meets itself, `n` ends share at most `n / 2`
//! cuts, rounded down. At two vertices that meet each other, as many cuts are shared as the vertex with fewer ends has. Where that uses up
//! all ends of a connected component, and none is square, the trail would be a ring, which is opened at one shared cut. Everywhere else
//! this many cuts can be shared, since a ring can be inserted into any trail that passes the same vertex.
//!
//! Each of `t` trails ends in a cut of its own, so `2 t` ends share nothing. Where parts may lie either way round, trails end at the `t`
//! narrowest of these. Parts of two angles are limited to three vertices ([`super::sharing`]), where nothing prevents that.
//!
//! **Counts.** The number of parts of each sort is reduced to small numbers. Of parts whose two ends meet each other, one stands for any
//! number, and none is needed where another part passes the same vertex. Of other parts, two are taken off where that changes neither a
//! parity nor which sorts occur, and leaves as many square ends as there are vertices. Each further part adds the difference in
//! [`Family::taken`].

/// The vertices of a part's two ends; `None` for a square end.
pub(super) type Sort = [Option<usize>; 2];

/// A vertex of the graph.
#[derive(Clone, Copy, Debug)]
pub(super) struct Point {
    /// The cut at such an end.
    pub(super) cut: i64,
    /// What is saved where it is shared.
    pub(super) saving: i64,
    /// The vertex it meets, where there is one.
    pub(super) meets: Option<usize>,
}

/// Parts that can share cuts, by sorts.
#[derive(Debug)]
pub(super) struct Family {
    pub(super) points: Vec<Point>,
    pub(super) sorts: Vec<Sort>,
    pub(super) kerf: i64,
    /// Whether parts may lie either way round.
    pub(super) turns: bool,
}

/// The length that the cuts of some parts of a family take.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Taken {
    pub(super) cuts: i64,
    /// The savings lost where rings are opened.
    pub(super) owed: i64,
    /// The part of the last cut that may run beyond the run: the widest cut that can come last.
    pub(super) last: i64,
}

/// A connected component of the graph.
#[derive(Default)]
struct Piece {
    /// Cuts at ends that share nothing and can end a trail, each with its number. Ends that only begin trails are not counted: where parts may
    /// not turn, as many trails begin as end.
    open: Vec<(i64, i64)>,
    /// The cheapest opening of a ring, and the cheapest one with its cut last.
    opening: Option<(i64, i64)>,
}

impl Family {
    /// The length that the cuts take, given the number of parts of each sort.
    pub(super) fn taken(&self, numbers: &[u32]) -> Taken {
        let mut piece_of: Vec<usize> = (0..self.points.len()).collect();
        let mut join = |one: usize, other: usize| {
            let (from, to) = (piece_of[one], piece_of[other]);
            for piece in piece_of.iter_mut().filter(|piece| **piece == from) {
                *piece = to;
            }
        };
        for (point, own) in self.points.iter().enumerate() {
            join(point, own.meets.unwrap_or(point));
        }
        let there = || {
            let sorts = self.sorts.iter().zip(numbers);
            sorts.filter(|(_, number)| **number > 0)
        };
        // For each vertex, the number of its ends that come first in a part, and of those that come second.
        let mut ends = vec![(0i64, 0i64); self.points.len()];
        for (&[first, second], &number) in there() {
            let number = i64::from(number);
            if let Some(first) = first {
                ends[first].0 += number;
            }
            if let Some(second) = second {
                ends[second].1 += number;
            }
            if let (Some(first), Some(second)) = (first, second) {
                join(first, second);
            }
        }
        // Each component is stored at the index of one of its vertices.
        let mut pieces: Vec<Piece> = self.points.iter().map(|_| Piece::default()).collect();
        for (sort, &number) in there() {
            let point = match *sort {
                [Some(point), None] => point,
                [None, Some(point)] if self.turns => point,
                _ => continue,
            };
            let open = &mut pieces[piece_of[point]].open;
            open.push((self.kerf, i64::from(number)));
        }
        let mut taken = Taken::default();
        for (point, own) in self.points.iter().enumerate() {
            let here = ends[point].0 + ends[point].1;
            if here == 0 {
                continue;
            }
            let piece = &mut pieces[piece_of[point]];
            let across = own.meets.map_or(0, |meets| ends[meets].0 + ends[meets].1);
            let (shared, left) = if own.meets == Some(point) {
                (here / 2, here % 2)
            } else {
                (here.min(across), here - here.min(across))
            };
            if own.meets.is_some_and(|meets| point <= meets) {
                taken.cuts += shared * (own.cut - own.saving);
            }
            let (cost, last) = piece.opening.unwrap_or((i64::MAX, i64::MAX));
            piece.opening = Some((cost.min(own.saving), last.min(own.saving - own.cut)));
            if self.turns || ends[point].1 > 0 {
                piece.open.push((own.cut, left));
            }
        }
        for piece in pieces {
            piece.end(self.turns, &mut taken);
        }
        taken
    }

    /// Smaller numbers to which every further part adds the same; see the head of this file.
    fn reduced(&self, mut numbers: Vec<u32>) -> Vec<u32> {
        let meets = |point: usize| self.points[point].meets;
        let round =
            |sort: &Sort| matches!(*sort, [Some(one), Some(other)] if meets(one) == Some(other));
        let at = |sort: &Sort, point: usize| sort.iter().flatten().any(|&end| end == point);
        for place in 0..self.sorts.len() {
            let sort = self.sorts[place];
            if round(&sort) {
                let passed = (0..self.sorts.len()).any(|other| {
                    let passes = sort
                        .iter()
                        .flatten()
                        .any(|&end| at(&self.sorts[other], end));
                    numbers[other] > 0 && !round(&self.sorts[other]) && passes
                });
                numbers[place] = if passed { 0 } else { numbers[place].min(1) };
                continue;
            }
            let itself = sort.iter().flatten().all(|&end| meets(end) == Some(end));
            let scarce = |end: usize| {
                let mut others = self.sorts.iter().filter(|other| !round(other));
                !others.any(|other| meets(end).is_some_and(|meets| at(other, meets)))
            };
            if itself {
                let square = sort.contains(&None);
                let stays = if square { self.points.len() as u32 } else { 1 };
                while numbers[place] >= stays + 2 {
                    numbers[place] -= 2;
                }
            } else if sort.iter().flatten().all(|&end| scarce(end))
                && (!self.turns || sort.contains(&None) || sort[0] == sort[1])
            {
                numbers[place] = numbers[place].min(1);
            }
        }
        numbers
    }
}

impl Piece {
    fn end(mut self, turns: bool, taken: &mut Taken) {
        let open: i64 = self.open.iter().map(|(_, number)| number).sum();
        if open == 0 {
            if let Some((cost, last)) = self.opening {
                taken.owed += cost;
                taken.last = taken.last.max(cost - last);
            }
            return;
        }
        order::sort(&mut self.open);
        let mut trails = if turns { open / 2 } else { open };
        for (cut, number) in self.open {
            let number = number.min(trails);
            trails -= number;
            taken.cuts += cut * number;
            if number > 0 {
                taken.last = taken.last.max(cut);
            }
        }
    }
}

/// The reduced numbers that a family can reach, each once, and the one to which each further part leads.
#[derive(Debug)]
pub(super) struct Numbers {
    taken: Vec<Taken>,
    /// For each of them and each sort: what a further part takes, and the index of the numbers it leads to.
    more: Vec<Vec<(i64, usize)>>,
}

/// Most reduced numbers of one family. Beyond that, figures are not checked and stay claims.
const MOST_NUMBERS: usize = 3_000;

impl Numbers {
    /// All numbers that at most `most` parts of each sort lead to; `None` where they are too many.
    pub(super) fn of(family: &Family, most: &[u32]) -> Option<Numbers> {
        let none = vec![0; family.sorts.len()];
        // The numbers in order, each with its index.
        let mut places = vec![(none.clone(), 0)];
        let mut all = vec![none];
        let mut more = Vec::new();
        while let Some(numbers) = all.get(more.len()).cloned() {
            let before = family.taken(&numbers);
            let mut steps = Vec::new();
            for sort in 0..family.sorts.len() {
                let mut next = numbers.clone();
                next[sort] += 1;
                if next[sort] > most[sort] {
                    // No run has so many parts, so this is never looked up.
                    steps.push((i64::MAX >> 2, 0));
                    continue;
                }
                let added = family.taken(&next).cuts - before.cuts;
                let next = family.reduced(next);
                let at = places.partition_point(|known| known.0 < next);
                let place = match places.get(at) {
                    Some((known, place)) if *known == next => *place,
                    _ => {
                        places.insert(at, (next.clone(), all.len()));
                        all.push(next);
                        all.len() - 1
                    }
                };
                steps.push((added, place));
            }
            more.push(steps);
            if all.len() > MOST_NUMBERS {
                return None;
            }
        }
        Some(Numbers {
            taken: all.iter().map(|numbers| family.taken(numbers)).collect(),
            more,
        })
    }

    /// What a further part of a sort takes, and the index it leads to.
    pub(super) fn add(&self, place: usize, sort: usize) -> (i64, usize) {
        self.more[place][sort]
    }

    /// The least that a further part of a sort takes, from any numbers.
    pub(super) fn least(&self, sort: usize) -> i64 {
        self.more
            .iter()
            .map(|steps| steps[sort].0)
            .min()
            .unwrap_or(0)
    }

    /// The savings lost at the end, and the widest cut that can come last.
    pub(super) fn end(&self, place: usize) -> (i64, i64) {
        (self.taken[place].owed, self.taken[place].last)
    }
}
