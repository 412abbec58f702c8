//! The linear program of a search over pairs: the cuttings priced so far, kept from node to node.
//!
//! **Idea.** A row asks for each part as often as it is wanted, and one for each block joined of blocks that there were more of asks for that block. A
//! block that holds a part wanted once needs none, since cuttings that part them are forbidden. A forbidden cutting may not be above zero, which the
//! dual method mends from the basis of the node above; those allowed again join after that. A part left uncut costs a little more than its
//! share of a board at first: dearer only where that is not enough, which keeps prices near what they end as.
//!
//! **Invariant.** Every column has the entries of its parts and of the blocks it was made with. **Why it ends:** nothing loops but over columns and rows.

use crate::clock::{Clock, Stopped};
use crate::limits::{INTEGRAL, INTEGRAL_MARGIN, UNCUT_RAISE, UNCUT_SHARE};
use crate::pair_search::blocks::{BlockPair, Blocks, PairNode};
use crate::simplex::{Basis, Simplex, Verdict};
use order::Set;

/// A cutting: its parts, and the blocks of it that have a row.
pub(crate) struct PairColumn {
    pub(crate) parts: Vec<(usize, u32)>,
    pub(crate) own: Vec<usize>,
}

/// The program.
pub(crate) struct PairProgram {
    pub(crate) simplex: Simplex,
    pub(crate) columns: Vec<PairColumn>,
    /// For each cutting its column in the simplex method.
    places: Vec<usize>,
    /// For each cutting its blocks at this node, where it is allowed.
    pub(crate) held: Vec<Option<Vec<(usize, u32)>>>,
    /// For each row its column of what is left uncut, and how often dearer that is than at first.
    uncut: Vec<(usize, f64)>,
    /// The rows of blocks: (block, row).
    rows: Vec<(usize, usize)>,
    /// The cuttings by their digests.
    known: Set<u64>,
    scratch: Vec<u32>,
    wanted: Vec<u32>,
    room: f64,
    /// Whether the row of a part asks for it.
    asked: Vec<bool>,
}

impl PairProgram {
    /// A program without cuttings.
    pub(crate) fn new(demand: &[u32], blocks: &Blocks, room: usize) -> Self {
        let wanted = demand.iter();
        let bounds: Vec<(f64, f64)> = wanted
            .map(|&count| (f64::from(count), f64::INFINITY))
            .collect();
        let mut program = PairProgram {
            simplex: Simplex::new(&bounds),
            columns: Vec::new(),
            places: Vec::new(),
            held: Vec::new(),
            uncut: Vec::new(),
            rows: Vec::new(),
            known: Set::new(),
            scratch: Vec::new(),
            wanted: demand.to_vec(),
            room: room as f64,
            asked: vec![true; demand.len()],
        };
        for part in 0..demand.len() {
            let cost = UNCUT_SHARE * blocks.lengths[part] as f64 / room as f64;
            program.add_uncut(part, cost);
        }
        program
    }

    fn add_uncut(&mut self, row: usize, cost: f64) {
        let column = self.simplex.add_column(cost, &[(row as u32, 1.0)]);
        self.uncut.push((column, 1.0));
    }

    /// Lets the program use a cutting.
    pub(crate) fn add(&mut self, node: &PairNode, parts: Vec<(usize, u32)>, own: Vec<usize>) {
        if !self.known.insert(digest(&parts, &own)) {
            return;
        }
        let mut entries: Vec<(u32, f64)> = parts
            .iter()
            .map(|&(part, count)| (part as u32, f64::from(count)))
            .collect();
        let rows = own.iter().filter_map(|&block| self.row_of(block));
        entries.extend(rows.map(|row| (row as u32, 1.0)));
        self.scratch.resize(node.wanted.len(), 0);
        let held = node.blocks_of(&parts, &own, &mut self.scratch);
        let place = self.simplex.add_column(1.0, &entries);
        if held.is_none() {
            self.simplex.set_upper(place, 0.0);
        }
        self.places.push(place);
        self.held.push(held);
        self.columns.push(PairColumn { parts, own });
    }

    /// Goes to a node, from a basis where one is given; false where the figures went bad.
    pub(crate) fn go_to(
        &mut self,
        node: &PairNode,
        basis: Option<&Basis>,
        lengths: &[usize],
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        if let Some(basis) = basis {
            self.simplex.come_back_to(basis);
        }
        self.scratch.resize(node.wanted.len(), 0);
        for (at, column) in self.columns.iter().enumerate() {
            let held = node.blocks_of(&column.parts, &column.own, &mut self.scratch);
            if held.is_none() {
                self.simplex.set_upper(self.places[at], 0.0);
            }
            self.held[at] = held;
        }
        let asked = node.joins.iter().filter(|join| join.has_row);
        let asked: Vec<usize> = asked.map(|join| join.block).collect();
        for &block in &asked {
            if self.row_of(block).is_none() {
                let row = self.simplex.rows();
                self.simplex.add_row(0.0, f64::INFINITY, |_| 0.0);
                self.add_uncut(row, UNCUT_SHARE / 2.0);
                self.rows.push((block, row));
            }
        }
        self.ask_parts(node, lengths);
        for &(block, row) in &self.rows {
            let (least, most) = match asked.contains(&block) {
                true => (1.0, 1.0),
                false => (0.0, f64::INFINITY),
            };
            self.simplex.set_row(row, least, most);
        }
        self.simplex.repair(clock)?;
        for (&place, held) in self.places.iter().zip(&self.held) {
            if held.is_some() {
                self.simplex.set_upper(place, f64::INFINITY);
            }
        }
        self.solve(clock)
    }

    /// Of the parts that a block holds the last copies of, one row asks for all: a cutting that holds one holds the others.
    fn ask_parts(&mut self, node: &PairNode, lengths: &[usize]) {
        let mut asks: Vec<bool> = self.wanted.iter().map(|&count| count > 0).collect();
        asks.resize(node.wanted.len(), false);
        // For each block a row that asks for it alone.
        let mut own: Vec<Option<usize>> = (0..node.wanted.len())
            .map(|block| (block < self.wanted.len() && self.wanted[block] == 1).then_some(block))
            .collect();
        let mut whole: Vec<usize> = (0..self.wanted.len()).collect();
        for join in &node.joins {
            let (one, other) = join.pair;
            own[join.block] = match (own[one], own[other]) {
                (Some(one), Some(other)) => {
                    asks[other] = false;
                    Some(one)
                }
                (one, other) => one.or(other),
            };
            if let Some(row) = own[join.block] {
                whole[row] = join.block;
            }
        }
        for part in 0..self.wanted.len() {
            if asks[part] != self.asked[part] {
                self.asked[part] = asks[part];
                let least = if asks[part] { self.wanted[part] } else { 0 };
                self.simplex.set_row(part, f64::from(least), f64::INFINITY);
            }
            let (column, raise) = self.uncut[part];
            let cost = raise * UNCUT_SHARE * lengths[whole[part]] as f64 / self.room;
            self.simplex.set_cost(column, cost);
        }
    }

    /// Repairs the basis and finishes; false where the figures went bad.
    fn solve(&mut self, clock: &mut Clock) -> Result<bool, Stopped> {
        if self.simplex.solve(clock)? == Verdict::Optimal {
            return Ok(true);
        }
        self.simplex.reset();
        Ok(self.simplex.solve(clock)? == Verdict::Optimal)
    }

    /// Finishes after columns were added; false where the figures went bad.
    pub(crate) fn go_on(&mut self, clock: &mut Clock) -> Result<bool, Stopped> {
        if self.simplex.primal(clock)? == Verdict::Optimal {
            return Ok(true);
        }
        self.solve(clock)
    }

    /// The price of each block of a node.
    pub(crate) fn prices(&self, node: &PairNode) -> Vec<f64> {
        let rows = self.simplex.prices();
        let mut prices = vec![0.0; node.wanted.len()];
        for (part, price) in prices.iter_mut().enumerate().take(self.first_row()) {
            *price = rows[part].max(0.0);
        }
        for join in &node.joins {
            let (one, other) = join.pair;
            let own = match join.has_row {
                true => self.row_of(join.block).map_or(0.0, |row| rows[row]),
                false => 0.0,
            };
            prices[join.block] = (prices[one] + prices[other] + own).max(0.0);
        }
        prices
    }

    /// The row of a block that has one.
    fn row_of(&self, block: usize) -> Option<usize> {
        let row = self.rows.iter().find(|row| row.0 == block);
        row.map(|&(_, row)| row)
    }

    /// The first row that is no part's.
    fn first_row(&self) -> usize {
        self.simplex.rows() - self.rows.len()
    }

    /// The cuttings in the solution, how often, what all cost, and whether something is left uncut or forbidden in it.
    pub(crate) fn solution(&self) -> (Vec<(usize, f64)>, f64, bool) {
        let values = self.simplex.solution();
        let mut used = Vec::new();
        let (mut cost, mut missing) = (0.0, false);
        for (at, &place) in self.places.iter().enumerate() {
            let value = values[place];
            if value > INTEGRAL {
                used.push((at, value));
                missing |= self.held[at].is_none();
            }
            cost += self.simplex.cost_of(place) * value;
        }
        for &(column, _) in &self.uncut {
            cost += self.simplex.cost_of(column) * values[column];
            missing |= values[column] > INTEGRAL;
        }
        (used, cost, missing)
    }

    /// Makes what is left uncut dearer; false where all is as dear as it may be.
    pub(crate) fn raise(&mut self, most: f64) -> bool {
        let values = self.simplex.solution();
        let mut raised = false;
        for (column, raise) in &mut self.uncut {
            let cost = self.simplex.cost_of(*column);
            if values[*column] > INTEGRAL && cost < most {
                *raise *= UNCUT_RAISE;
                self.simplex.set_cost(*column, cost * UNCUT_RAISE);
                raised = true;
            }
        }
        if raised {
            self.simplex.recompute();
        }
        raised
    }

    /// The pairs of blocks in cuttings that the solution uses a fraction of, and on how many boards each pair is; in order.
    pub(crate) fn pairs(&self, used: &[(usize, f64)]) -> Vec<(BlockPair, f64)> {
        let mut numbers: Vec<(BlockPair, f64, bool)> = Vec::new();
        for &(at, value) in used {
            let pairs = pairs_of(self.held[at].as_deref().unwrap_or_default());
            numbers.extend(
                pairs
                    .into_iter()
                    .map(|pair| (pair, value, !is_whole(value))),
            );
        }
        order::sort_by(&mut numbers, |one, other| one.0.cmp(&other.0));
        numbers.dedup_by(|next, first| {
            let same = next.0 == first.0;
            if same {
                *first = (first.0, first.1 + next.1, first.2 | next.2);
            }
            same
        });
        let split = numbers.into_iter().filter(|number| number.2);
        split.map(|(pair, number, _)| (pair, number)).collect()
    }
}

/// A number of a cutting (Fowler, Noll and Vo, FNV-1a). Of two that share one only the first is used, which loses a column and no proof.
fn digest(parts: &[(usize, u32)], own: &[usize]) -> u64 {
    let mut digest = 0xcbf2_9ce4_8422_2325;
    let mut add = |number: u64| digest = (digest ^ number).wrapping_mul(0x0100_0000_01b3);
    for &(part, count) in parts {
        add(part as u64);
        add(u64::from(count));
    }
    add(u64::MAX);
    for &block in own {
        add(block as u64);
    }
    digest
}

/// The pairs among blocks of one cutting.
fn pairs_of(held: &[(usize, u32)]) -> Vec<BlockPair> {
    let mut pairs = Vec::new();
    for (at, &(block, count)) in held.iter().enumerate() {
        if count > 1 {
            pairs.push((block, block));
        }
        pairs.extend(held[at + 1..].iter().map(|&(other, _)| (block, other)));
    }
    pairs
}

/// Whether a number is whole, but for what floats add.
pub(crate) fn is_whole(value: f64) -> bool {
    (value - value.round()).abs() < INTEGRAL * INTEGRAL_MARGIN
}
