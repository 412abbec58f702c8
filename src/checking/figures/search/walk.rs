//! Walks through a search over listed cuttings and checks the bounds of its nodes.
//!
//! The search is a list of nodes in preorder. The way to the present node is kept beside it, with what each split on it changed, so the
//! walk needs no recursion. Cuttings, kinds and classes are looked up in maps; each node costs the steps of summing over the whole list.

use super::alike::{Class, Cutting, Kind};
use super::open::Open;
use crate::figures::side::Side;
use crate::steps::{Steps, TooLarge};
use order::Map;
use proof::certificate::{Twig, TwigLeaf};

/// A walk through the search, root first.
pub(super) struct Walk<'a> {
    open: &'a Open<'a>,
    classes: Vec<Class>,
    kinds: Vec<Kind>,
    cuttings: Vec<Cutting>,
    /// For each board as certificates number it, the index of its kind.
    kind_of: Map<usize, usize>,
    /// For each part, the index of its class.
    class_of: Map<usize, usize>,
    /// The index of a listed cutting, by its kind and its counts.
    listed: Map<(usize, Vec<(usize, u32)>), usize>,
    /// The steps of one node.
    each: u64,
}

/// A split on the way.
struct Turn {
    /// The cutting it bounds; `None` where it is not listed, so that no better plan has it.
    cutting: Option<usize>,
    /// The greatest number of uses on the first side.
    at: i64,
    /// The cutting's bounds before this split.
    low: i64,
    high: i64,
    /// Whether the bounds left any plan before this split.
    open: bool,
    side: Side,
}

impl<'a> Walk<'a> {
    pub(super) fn new(
        open: &'a Open,
        (classes, kinds, cuttings): (Vec<Class>, Vec<Kind>, Vec<Cutting>),
    ) -> Walk<'a> {
        let kind_of = kinds.iter().enumerate().flat_map(|(at, kind)| {
            let members = kind.members.iter();
            members.map(move |&board| (open.boards[board].index, at))
        });
        let class_of = classes.iter().enumerate().flat_map(|(at, class)| {
            let members = class.members.iter();
            members.map(move |&part| (part, at))
        });
        let listed = cuttings
            .iter()
            .enumerate()
            .map(|(at, cutting)| ((cutting.kind, cutting.counts.clone()), at));
        let each = cuttings.iter().map(|cutting| {
            let board = &open.boards[kinds[cutting.kind].first];
            let counted = board.costs.len() + board.fewer.len() + board.more.len();
            1 + cutting.counts.len() + counted
        });
        let rest = classes.len() + kinds.len() + 2 * open.sides.len() + open.limits.len() + 1;
        Walk {
            each: (each.sum::<usize>() + rest) as u64,
            kind_of: kind_of.collect(),
            class_of: class_of.collect(),
            listed: listed.collect(),
            open,
            classes,
            kinds,
            cuttings,
        }
    }

    /// Whether every node of a search of the right shape holds.
    pub(super) fn holds(&mut self, twigs: &[Twig], steps: &mut Steps) -> Result<bool, TooLarge> {
        let mut way: Vec<Turn> = Vec::new();
        // Whether the bounds on the way leave any plan.
        let mut open = true;
        for twig in twigs {
            match twig {
                Twig::Leaf(leaf) => {
                    steps.take(self.each)?;
                    if open && !self.leaf_holds(leaf) {
                        return Ok(false);
                    }
                    open = self.go_on(&mut way);
                }
                Twig::Split { board, parts, at } => {
                    steps.take(1 + parts.len() as u64)?;
                    let cutting = self.listed(*board, parts);
                    let bounds = cutting.map(|index| &self.cuttings[index]);
                    way.push(Turn {
                        cutting,
                        at: i64::from(*at),
                        low: bounds.map_or(0, |cutting| cutting.low),
                        high: bounds.map_or(0, |cutting| cutting.high),
                        open,
                        side: Side::Fewer,
                    });
                    open = self.take(&way[way.len() - 1]);
                }
            }
        }
        Ok(true)
    }

    /// Sets a cutting's bounds to those of a side of a split; returns whether that leaves any plan.
    fn take(&mut self, turn: &Turn) -> bool {
        let (low, high) = match turn.side {
            Side::Fewer => (turn.low, turn.high.min(turn.at)),
            Side::More => (turn.low.max(turn.at + 1), turn.high),
        };
        if let Some(index) = turn.cutting {
            self.cuttings[index].low = low;
            self.cuttings[index].high = high;
        }
        turn.open && low <= high
    }

    /// Goes on to the node after a leaf: the second side of the last split of which only the first was visited. Returns whether the bounds
    /// leave any plan.
    fn go_on(&mut self, way: &mut Vec<Turn>) -> bool {
        while let Some(mut turn) = way.pop() {
            if turn.side == Side::Fewer {
                turn.side = Side::More;
                let open = self.take(&turn);
                way.push(turn);
                return open;
            }
            if let Some(index) = turn.cutting {
                self.cuttings[index].low = turn.low;
                self.cuttings[index].high = turn.high;
            }
        }
        false
    }

    /// The index of the listed cutting of a split.
    fn listed(&self, board: usize, parts: &[(usize, u32)]) -> Option<usize> {
        let kind = *self.kind_of.get(&board)?;
        let mut counts = Map::new();
        for (part, count) in parts {
            let sum = counts.or_insert_with(*self.class_of.get(part)?, || 0u32);
            *sum = sum.checked_add(*count)?;
        }
        self.listed
            .get(&(kind, counts.into_iter().collect()))
            .copied()
    }

    /// What one use of a cutting takes of each limit.
    fn costs(&self, cutting: &Cutting) -> impl Iterator<Item = i64> {
        let costs = self.open.boards[self.kinds[cutting.kind].first].costs;
        let (used_limit, used) = (self.open.used_limit, cutting.used);
        let costs = costs.iter().enumerate();
        costs.map(move |(at, cost)| if used_limit == Some(at) { used } else { *cost })
    }

    /// Whether the prices show that no plan over the list, used within its bounds, beats the claim.
    fn leaf_holds(&self, leaf: &TwigLeaf) -> bool {
        let open = self.open;
        let wide = |amounts: &[i64]| amounts.iter().copied().map(i128::from).collect::<Vec<_>>();
        let wanted = self.classes.iter().map(|class| i128::from(class.wanted));
        let mut wanted: Vec<i128> = wanted.collect();
        let supplies = self.kinds.iter().map(|kind| kind.supply.map(i128::from));
        let mut supplies: Vec<Option<i128>> = supplies.collect();
        let mut limits = wide(&open.limits);
        let (mut fewer, mut more) = (wide(&open.fewer), wide(&open.more));
        let mut spent: i128 = 0;
        for cutting in self.cuttings.iter().filter(|cutting| cutting.low > 0) {
            let board = &open.boards[self.kinds[cutting.kind].first];
            let low = i128::from(cutting.low);
            for &(class, count) in &cutting.counts {
                wanted[class] -= low * i128::from(count);
            }
            supplies[cutting.kind] = supplies[cutting.kind].map(|supply| supply - low);
            for (limit, cost) in limits.iter_mut().zip(self.costs(cutting)) {
                *limit -= low * i128::from(cost);
            }
            for &split in &board.fewer {
                fewer[split] -= low;
            }
            for &split in &board.more {
                more[split] -= low;
            }
            spent += low * i128::from(cutting.cost);
        }
        let overdrawn = |left: &i128| *left < 0;
        if supplies.iter().flatten().any(overdrawn)
            || limits.iter().any(overdrawn)
            || fewer.iter().any(overdrawn)
        {
            return true;
        }
        let scale = i128::from(leaf.scale);
        let product = |price: i64, amount: i128| i128::from(price) * amount;
        let (fewer_prices, more_prices) = open.split_prices(&leaf.splits);
        let mut sum = scale * spent;
        for (class, left) in self.classes.iter().zip(&wanted) {
            sum += product(leaf.parts[class.part], (*left).max(0));
        }
        for (kind, left) in self.kinds.iter().zip(&supplies) {
            let price = leaf.boards[open.boards[kind.first].index];
            match left {
                Some(left) => sum -= product(price, *left),
                None if price > 0 => return false,
                None => {}
            }
        }
        for (price, left) in leaf.earlier.iter().zip(&limits) {
            sum -= product(*price, *left);
        }
        for (price, left) in fewer_prices.iter().zip(&fewer) {
            sum -= product(*price, *left);
        }
        for (price, left) in more_prices.iter().zip(&more) {
            sum += product(*price, (*left).max(0));
        }
        let free = |cutting: &&Cutting| cutting.high > cutting.low;
        for cutting in self.cuttings.iter().filter(free) {
            let board = &open.boards[self.kinds[cutting.kind].first];
            let mut reduced =
                scale * i128::from(cutting.cost) + i128::from(leaf.boards[board.index]);
            for &(class, count) in &cutting.counts {
                reduced -= product(leaf.parts[self.classes[class].part], i128::from(count));
            }
            for (price, cost) in leaf.earlier.iter().zip(self.costs(cutting)) {
                reduced += product(*price, i128::from(cost));
            }
            for &split in &board.fewer {
                reduced += i128::from(fewer_prices[split]);
            }
            for &split in &board.more {
                reduced -= i128::from(more_prices[split]);
            }
            sum += reduced.min(0) * i128::from(cutting.high - cutting.low);
        }
        sum > scale * i128::from(open.beaten)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::boards::{Board, Run, Shape};
    use crate::figures::search::open::OpenBoard;
    use crate::ground::Ground;
    use crate::laws::job;
    use crate::steps::with_steps;
    use crate::wood::{Stock, Wood};
    use std::rc::Rc;
    use timber::plan::Source;

    /// Every plan over the list within its bounds: how often each cutting is used.
    fn plans(cuttings: &[Cutting]) -> Vec<Vec<i64>> {
        let mut plans = vec![Vec::new()];
        for cutting in cuttings {
            let longer = plans.iter().flat_map(|plan| {
                (cutting.low..=cutting.high).map(move |times| [&plan[..], &[times]].concat())
            });
            plans = longer.collect();
        }
        plans
    }

    /// Whether a plan is allowed and beats the claim.
    fn beats(walk: &Walk, plan: &[i64]) -> bool {
        let open = walk.open;
        let uses = || walk.cuttings.iter().zip(plan);
        let board = |cutting: &Cutting| &open.boards[walk.kinds[cutting.kind].first];
        let sum = |of: &dyn Fn(&Cutting) -> i64| {
            uses()
                .map(|(cutting, times)| of(cutting) * times)
                .sum::<i64>()
        };
        let of_class = |class: usize| {
            sum(&|cutting| {
                cutting
                    .counts
                    .iter()
                    .filter(|(one, _)| *one == class)
                    .map(|(_, count)| i64::from(*count))
                    .sum()
            })
        };
        (0..walk.classes.len())
            .all(|class| of_class(class) >= i64::from(walk.classes[class].wanted))
            && (0..walk.kinds.len()).all(|kind| {
                let used = sum(&|cutting| i64::from(cutting.kind == kind));
                walk.kinds[kind].supply.is_none_or(|supply| used <= supply)
            })
            && (0..open.limits.len()).all(|level| {
                let taken = |cutting: &Cutting| match open.used_limit == Some(level) {
                    true => cutting.used,
                    false => board(cutting).costs[level],
                };
                sum(&taken) <= open.limits[level]
            })
            && (0..open.fewer.len()).all(|split| {
                sum(&|cutting| i64::from(board(cutting).fewer.contains(&split)))
                    <= open.fewer[split]
            })
            && (0..open.more.len()).all(|split| {
                sum(&|cutting| i64::from(board(cutting).more.contains(&split))) >= open.more[split]
            })
            && sum(&|cutting| cutting.cost) <= open.beaten
    }

    #[test]
    fn where_prices_hold_no_plan_over_the_list_beats_the_claim() {
        let job = job(
            &[],
            &[("400", "square", "3"), ("300", "square", "2")],
            |_| (),
        );
        let ground = Ground::of(&job, Source::Yard(0)).expect("a length of the yard");
        let stock = Stock::of(&job, &ground);
        let wood = Wood::of(&job, stock).expect("no mitres");
        let worths = with_steps(10_000, |steps| wood.worths(&[1, 1], 10, steps)).expect("small");
        let worths = Rc::new(worths);
        let board = Board {
            stands: None,
            source: Source::Yard(0),
            stock,
            shape: Shape::Runs(vec![Run {
                length: 10,
                tail: 0,
            }]),
            length: 10,
            costs: Vec::new(),
            supply: None,
        };
        let mut seed = 17u64;
        let mut below = |end: i64| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            ((seed >> 33) % end as u64) as i64
        };
        let mut held = [0, 0];
        for _ in 0..30_000 {
            // The level before and the leaf's own, and one split of each side.
            let costs: Vec<[i64; 2]> = (0..2).map(|_| [below(4), 1 + below(4)]).collect();
            let counted: Vec<[i64; 2]> = (0..2).map(|_| [below(2), below(2)]).collect();
            let beaten = 2 + below(9);
            let boards = (0..2).map(|at| OpenBoard {
                board: &board,
                index: at,
                wood: &wood,
                worths: worths.clone(),
                charge: 0,
                excess: 0,
                costs: &costs[at],
                fewer: vec![0; counted[at][0] as usize],
                more: vec![0; counted[at][1] as usize],
            });
            let open = Open {
                job: &job,
                parts: &[0, 1],
                woods: &[],
                prices: &[0, 0],
                tick_cost: 0,
                gap: 0,
                beaten,
                cost_level: Some(1),
                used_limit: (below(2) > 0).then_some(0),
                boards: boards.collect(),
                limits: vec![below(12), beaten],
                fewer: vec![below(5)],
                more: vec![below(3)],
                sides: vec![Side::More, Side::Fewer],
            };
            let classes = (0..2).map(|part| Class {
                part,
                members: vec![part],
                wanted: below(5) as u32,
            });
            let classes: Vec<Class> = classes.collect();
            let kinds = (0..2).map(|first| Kind {
                first,
                members: vec![first],
                supply: (below(3) > 0).then(|| below(5)),
            });
            let kinds: Vec<Kind> = kinds.collect();
            let cuttings = [
                (0, vec![(0, 2)]),
                (0, vec![(0, 1), (1, 1)]),
                (1, vec![(1, 2)]),
            ];
            let cuttings = cuttings.map(|(kind, counts)| {
                let low = below(3);
                Cutting {
                    kind,
                    counts,
                    cost: costs[kind][1],
                    used: below(4),
                    low: low / 2,
                    high: low / 2 + below(4),
                }
            });
            let walk = Walk::new(&open, (classes, kinds, cuttings.into()));
            let leaf = TwigLeaf {
                scale: 1 + below(2),
                parts: vec![below(5), below(5)],
                boards: vec![below(3), below(3)],
                earlier: vec![below(2)],
                splits: vec![(0, below(3)), (1, below(3))],
            };
            if walk.leaf_holds(&leaf) {
                let beaten = plans(&walk.cuttings)
                    .into_iter()
                    .find(|plan| beats(&walk, plan));
                assert_eq!(beaten, None, "{leaf:?} {:?}", open.limits);
                held[1] += 1;
            } else {
                held[0] += 1;
            }
        }
        assert!(held.iter().all(|held| *held > 3_000), "{held:?}");
    }
}
