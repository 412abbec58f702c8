//! Blocks: parts, and parts that are to lie on one board together.
//!
//! **Idea** (Ryan and Foster 1981, for parts wanted more than once as well). Take two blocks. Either some board holds both or none does. On the first
//! side one copy of each is joined to a block of its own, as long as both; on the second the two are kept apart. A block joined of others keeps apart
//! from all that they were kept apart from. So a node is a problem of the same kind with other parts, and pricing sees its decisions.
//!
//! **Invariant.** Every plan that cuts each part just as often as it is wanted lies on one side of a decision. **Why it ends:** a join leaves one block
//! less to place, and there are finitely many pairs to keep apart.

/// Two blocks; the same one twice where two copies of it are meant.
pub(crate) type BlockPair = (usize, usize);

/// All blocks that were ever made. The parts come first.
pub(crate) struct Blocks {
    /// How many parts there are.
    pub(crate) parts: usize,
    /// What each takes of a board.
    pub(crate) lengths: Vec<usize>,
    /// What the blocks behind the parts are joined of and how many of the same were joined before on the way.
    known: Vec<(BlockPair, usize)>,
}

/// A decision on the way to a node.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct PairDecision {
    pub(crate) pair: BlockPair,
    /// Whether some board holds both; else none does.
    pub(crate) together: bool,
}

/// Two blocks joined on the way to a node.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Join {
    pub(crate) pair: BlockPair,
    /// The block they make.
    pub(crate) block: usize,
    /// For both, whether it took the last copy, which then lies with the other on every board.
    pub(crate) last: [bool; 2],
    /// Whether a row of its own asks for the block: neither of the two was the only one of its kind, so no row asks for it already.
    pub(crate) has_row: bool,
}

/// The blocks of a node.
pub(crate) struct PairNode {
    /// How many of each block are to be placed.
    pub(crate) wanted: Vec<u32>,
    /// For each block those that it shares no board with; itself, where no board holds two.
    pub(crate) apart: Vec<Vec<usize>>,
    pub(crate) joins: Vec<Join>,
}

impl Blocks {
    /// The parts alone.
    pub(crate) fn new(lengths: Vec<usize>) -> Self {
        Blocks {
            parts: lengths.len(),
            lengths,
            known: Vec::new(),
        }
    }

    /// How many blocks there are.
    pub(crate) fn len(&self) -> usize {
        self.lengths.len()
    }

    /// The block of a pair of which so many were joined before on the way.
    fn joined(&mut self, pair: BlockPair, before: usize) -> usize {
        let same = |known: &(BlockPair, usize)| *known == (pair, before);
        if let Some(at) = self.known.iter().position(same) {
            return self.parts + at;
        }
        self.known.push((pair, before));
        let length = self.lengths[pair.0] + self.lengths[pair.1];
        self.lengths.push(length);
        self.lengths.len() - 1
    }
}

impl PairNode {
    /// The node at the end of a way.
    pub(crate) fn new(blocks: &mut Blocks, demand: &[u32], way: &[PairDecision]) -> Self {
        let mut node = PairNode {
            wanted: demand.to_vec(),
            apart: vec![Vec::new(); demand.len()],
            joins: Vec::new(),
        };
        for decision in way {
            if decision.together {
                node.join(blocks, demand, decision.pair);
            } else {
                let (one, other) = decision.pair;
                node.apart[one].push(other);
                if one != other {
                    node.apart[other].push(one);
                }
            }
        }
        node.wanted.resize(blocks.len(), 0);
        node.apart.resize(blocks.len(), Vec::new());
        node
    }

    fn join(&mut self, blocks: &mut Blocks, demand: &[u32], pair: BlockPair) {
        let before = self.joins.iter().filter(|join| join.pair == pair).count();
        let block = blocks.joined(pair, before);
        let (one, other) = pair;
        self.wanted[one] -= 1;
        self.wanted[other] -= 1;
        let last = [one, other].map(|block| self.wanted[block] == 0);
        self.wanted.resize(blocks.len(), 0);
        self.apart.resize(blocks.len(), Vec::new());
        self.wanted[block] = 1;
        let mut apart = self.apart[one].clone();
        apart.extend(&self.apart[other]);
        order::sort(&mut apart);
        apart.dedup();
        for &kept_off in &apart {
            self.apart[kept_off].push(block);
        }
        self.apart[block] = apart;
        let has_row = [one, other]
            .iter()
            .all(|&block| demand.get(block).is_some_and(|&count| count > 1));
        self.joins.push(Join {
            pair,
            block,
            last,
            has_row,
        });
    }

    /// What a cutting is made of here: (block, count). `own` are the blocks it was made with that have rows of their own. `None` where no
    /// plan of this node has it. `counts` holds a zero for each block, then and after.
    pub(crate) fn blocks_of(
        &self,
        parts: &[(usize, u32)],
        own: &[usize],
        counts: &mut [u32],
    ) -> Option<Vec<(usize, u32)>> {
        for &(part, count) in parts {
            counts[part] = count;
        }
        let mut made: Vec<usize> = parts.iter().map(|&(part, _)| part).collect();
        let fits = self.take_joined(own, counts, &mut made);
        order::sort(&mut made);
        made.dedup();
        let held: Vec<(usize, u32)> = made
            .into_iter()
            .map(|block| (block, std::mem::take(&mut counts[block])))
            .filter(|&(_, count)| count > 0)
            .collect();
        let fits = fits
            && held.iter().enumerate().all(|(at, &(block, count))| {
                let apart = &self.apart[block];
                count <= self.wanted[block]
                    && (count < 2 || !apart.contains(&block))
                    && (apart.is_empty()
                        || !held[at + 1..]
                            .iter()
                            .any(|(other, _)| apart.contains(other)))
            });
        fits.then_some(held)
    }

    /// Joins what is to be joined; false where a block lacks what it is joined with.
    fn take_joined(&self, own: &[usize], counts: &mut [u32], made: &mut Vec<usize>) -> bool {
        for join in &self.joins {
            let (one, other) = join.pair;
            let enough = match one == other {
                true => counts[one] > 1,
                false => counts[one] > 0 && counts[other] > 0,
            };
            // What is not made as the block holds the two side by side, which the last copy of one of them may not.
            if join.has_row && !own.contains(&join.block) || !enough {
                if (join.last[0] && counts[one] > 0) || (join.last[1] && counts[other] > 0) {
                    return false;
                }
                if own.contains(&join.block) && join.has_row {
                    return false;
                }
                continue;
            }
            counts[one] -= 1;
            counts[other] -= 1;
            counts[join.block] = 1;
            made.push(join.block);
        }
        true
    }
}
