//! What the search treats as equal: parts that are laid alike and have the same price, boards that differ only in their supply, and
//! cuttings with equal counts.

use super::open::Open;
use crate::figures::side::Counted;
use order::Map;

/// Parts that are laid alike and are worth the same.
pub(super) struct Class {
    /// The first of them.
    pub(super) part: usize,
    pub(super) members: Vec<usize>,
    pub(super) wanted: u32,
}

pub(super) fn classes(open: &Open) -> Vec<Class> {
    let mut classes: Vec<Class> = Vec::new();
    let mut known = Map::new();
    for &part in open.parts {
        // How the part is laid on each stock of the group, and its price.
        let lies: Vec<_> = open.woods.iter().map(|(_, wood)| wood.lies(part)).collect();
        let class = *known.or_insert_with((lies, open.prices[part]), || {
            classes.push(Class {
                part,
                members: Vec::new(),
                wanted: 0,
            });
            classes.len() - 1
        });
        classes[class].members.push(part);
        classes[class].wanted += open.job.parts[part].quantity;
    }
    classes
}

/// Boards that differ in nothing but their supply.
pub(super) struct Kind {
    /// The first of them, as an index of [`Open::boards`]; its charge and worth hold for all.
    pub(super) first: usize,
    /// All of them.
    pub(super) members: Vec<usize>,
    /// Their supply together; `None` where one of them is unlimited.
    pub(super) supply: Option<i64>,
}

pub(super) fn kinds(open: &Open) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = Vec::new();
    let mut known = Map::new();
    for (index, one) in open.boards.iter().enumerate() {
        let board = one.board;
        let place = (board.stock, &board.shape, board.length, &board.stands);
        let kind = *known.or_insert_with((place, &board.costs, &one.fewer, &one.more), || {
            kinds.push(Kind {
                first: index,
                members: Vec::new(),
                supply: Some(0),
            });
            kinds.len() - 1
        });
        let kind = &mut kinds[kind];
        kind.members.push(index);
        let supplies = kind.supply.zip(board.supply);
        kind.supply = supplies.map(|(sum, supply)| sum + i64::from(supply));
    }
    kinds
}

/// A cutting of a kind of board: the number of parts of each class, ascending.
pub(super) struct Cutting {
    pub(super) kind: usize,
    pub(super) counts: Vec<(usize, u32)>,
    /// What one use adds to the total of the level.
    pub(super) cost: i64,
    /// What it uses up, where that counts.
    pub(super) used: i64,
    /// How many offcuts it keeps, where a split counts them; else zero.
    pub(super) kept: u32,
    /// The least and the greatest number of its uses.
    pub(super) low: i64,
    pub(super) high: i64,
}

impl Cutting {
    pub(super) fn new(
        kind: usize,
        (counts, kept): (Vec<(usize, u32)>, u32),
        (cost, used): (i64, i64),
        classes: &[Class],
    ) -> Cutting {
        let enough =
            |&(class, count): &(usize, u32)| i64::from(classes[class].wanted.div_ceil(count));
        let high = counts.iter().map(enough).max().unwrap_or(0);
        Cutting {
            kind,
            counts,
            cost,
            used,
            kept,
            low: 0,
            high,
        }
    }

    /// How much one use adds to what a split counts that counts its board.
    pub(super) fn adds(&self, counted: Counted) -> i64 {
        match counted {
            Counted::Boards => 1,
            Counted::Offcuts => i64::from(self.kept),
        }
    }
}
