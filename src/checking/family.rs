//! What the cuts of parts take that can share cuts with each other: a family.
//!
//! **As a graph.** The points are the ways ends face ([`super::sharing::Facing`]), each part is an edge between its two ends, and a run is cut into trails: a part
//! follows another where their ends meet. With `n` ends at a point that meets itself at most `n / 2` cuts are shared there, rounded down; at two points
//! that meet each other as many as the fewer of both. In a connected piece of the graph where this uses up all ends, and none is square, the trail would be
//! a ring: it is opened at one shared cut. Everywhere else so many can be had, for a ring can be let into whatever passes the same point.
//!
//! Each of `t` trails ends in a cut of its own. There are `2 t` ends that share nothing; where parts may lie either way round, the `t` narrowest of
//! them are where trails end. Parts of two angles are held to three points ([`super::sharing`]), where nothing stands in the way of that.
//!
//! **Counts.** How many parts of each sort there are is followed in small numbers: of parts whose two ends meet each other one stands for any number, and
//! none is needed where another part passes the same point; of others two are taken off a number where that changes neither what is odd nor what is there
//! and leaves as many square ends as there are points. Each part adds what [`Family::taken`] says the new numbers take more.

/// Two ends; none for a square one.
pub(super) type Sort = [Option<usize>; 2];

/// A point of the graph.
#[derive(Clone, Copy, Debug)]
pub(super) struct Point {
    /// The cut at such an end.
    pub(super) cut: i64,
    /// What is saved where it is shared.
    pub(super) saving: i64,
    /// The point it meets, where there is one.
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

/// What the cuts of some parts of a family take.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Taken {
    pub(super) cuts: i64,
    /// What rings owe that are opened.
    pub(super) owed: i64,
    /// What the run need not hold: the widest cut that can come last.
    pub(super) last: i64,
}

/// One connected piece of the graph.
#[derive(Default)]
struct Piece {
    /// Cuts at ends that share nothing and can end a trail, each with how many there are.
    open: Vec<(i64, i64)>,
    /// Ends that share nothing and only begin trails.
    begins: i64,
    /// Cheapest opening of a ring, and the cheapest with its cut last.
    opening: Option<(i64, i64)>,
}

impl Family {
    /// What the cuts of so many parts of each sort take.
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
        // At each point the ends that come first in a part, and those that come second.
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
        // Each piece stands at the place of one of its points.
        let mut pieces: Vec<Piece> = self.points.iter().map(|_| Piece::default()).collect();
        for (sort, &number) in there() {
            let number = i64::from(number);
            match *sort {
                [Some(point), None] => {
                    let piece = &mut pieces[piece_of[point]];
                    piece.open.push((self.kerf, number));
                }
                [None, Some(point)] => {
                    let piece = &mut pieces[piece_of[point]];
                    if self.turns {
                        piece.open.push((self.kerf, number));
                    } else {
                        piece.begins += number;
                    }
                }
                _ => {}
            }
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
            } else {
                piece.begins += left;
            }
        }
        for piece in pieces {
            piece.end(self.turns, &mut taken);
        }
        taken
    }

    /// Smaller numbers that every further part adds as much to; see the head of this file.
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
        if open + self.begins == 0 {
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

/// The numbers that a family can come to, each once, and where each part leads.
#[derive(Debug)]
pub(super) struct Numbers {
    taken: Vec<Taken>,
    /// For each and each sort what a part more takes, and where it leads.
    more: Vec<Vec<(i64, usize)>>,
}

/// Most numbers that are told apart in one family. Beyond, what the figures say is not worked out again.
const MOST_NUMBERS: usize = 3_000;

impl Numbers {
    /// All that no more than `most` of each sort lead to; `None` where they are too many.
    pub(super) fn of(family: &Family, most: &[u32]) -> Option<Numbers> {
        let none = vec![0; family.sorts.len()];
        // Numbers in order, each with its place.
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
                    // No run has so many: this is never asked for.
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

    /// What a part of a sort takes more, and where it leads.
    pub(super) fn add(&self, place: usize, sort: usize) -> (i64, usize) {
        self.more[place][sort]
    }

    /// The least that a part of a sort takes more, from anywhere.
    pub(super) fn least(&self, sort: usize) -> i64 {
        self.more
            .iter()
            .map(|steps| steps[sort].0)
            .min()
            .unwrap_or(0)
    }

    /// What is owed at the end, and the widest cut that can be last.
    pub(super) fn end(&self, place: usize) -> (i64, i64) {
        (self.taken[place].owed, self.taken[place].last)
    }
}
