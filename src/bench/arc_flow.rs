//! A problem as an arc-flow model, for a general integer-programming solver.
//!
//! J. M. Valerio de Carvalho, Exact solution of bin-packing problems using column generation and branch-and-bound, Annals of Operations
//! Research 86 (1999). A run filled from its datum end is a path through the reachable fills. An arc as long as a part and its cut lays
//! that part; an arc without a part skips what is lost. Parts are laid longest first, each at most as often as wanted, so only fills
//! reached in that way are nodes. Two steps shrink the graph and keep every plan in it. First, lengths are divided by their common divisor.
//! Second, each fill is moved up as far as all its completions allow, and fills that then coincide become one node (as F. Brandao and J. P.
//! Pedroso do in Computers & Operations Research 69, 2016).
//!
//! *What it covers.* Several kinds of board with supplies, any number of cost levels, boards of several clear runs, and the kerf, whose
//! last cut may run into the tail. Each run is a path of its own; as many paths leave as boards of that kind are taken. *Not covered, and
//! refused:* several sections, mitres, a length cut once at the yard, and scrap as a level.

use crate::problem::{Board, End, Problem, Shape};
use std::collections::{BTreeMap, BTreeSet};

/// A graph whose paths are the cuttings of every run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ArcFlow {
    /// The fills, ascending; the first is 0.
    pub nodes: Vec<i64>,
    /// Arcs as (part, index of the node it leaves, index of the node it enters).
    pub arcs: Vec<(usize, usize, usize)>,
    /// For each kind of board, the index of the node at which each of its runs ends.
    pub ends: Vec<Vec<usize>>,
}

impl ArcFlow {
    /// The graph of a problem.
    ///
    /// # Errors
    /// What of the problem the model does not cover.
    pub fn of(problem: &Problem) -> Result<ArcFlow, String> {
        let [section] = problem.sections.as_slice() else {
            return Err("the model covers one section".to_owned());
        };
        let mut steps = Vec::new();
        for fit in &section.fits {
            match fit {
                Some(fit) if fit.ends == [End::Square; 2] => steps.push(fit.length + section.kerf),
                _ => return Err("the model covers square ends only".to_owned()),
            }
        }
        let mut runs: Vec<Vec<i64>> = Vec::new();
        for Board { shape, .. } in &problem.boards {
            match shape {
                Shape::Runs(all) => {
                    runs.push(all.iter().map(|run| run.length + section.kerf).collect());
                }
                Shape::OneCut { .. } => {
                    return Err("the model covers no length cut at the yard".to_owned());
                }
            }
        }
        // Fills are multiples of the divisor, so the length of a run beyond its last multiple is of no use.
        let divisor = steps.iter().fold(0, |divisor, &step| common(divisor, step));
        let steps: Vec<i64> = steps.iter().map(|step| step / divisor.max(1)).collect();
        let runs: Vec<Vec<i64>> = runs
            .iter()
            .map(|runs| {
                runs.iter()
                    .map(|run| run.max(&0) / divisor.max(1))
                    .collect()
            })
            .collect();
        Ok(build(&steps, &problem.demand, &runs))
    }
}

fn build(steps: &[i64], demand: &[u32], runs: &[Vec<i64>]) -> ArcFlow {
    let ends: BTreeSet<i64> = runs.iter().flatten().copied().collect();
    let longest = ends.last().copied().unwrap_or(0);
    let mut order: Vec<usize> = (0..steps.len()).collect();
    order.sort_by_key(|&part| (-steps[part], part));
    let mut reached = BTreeSet::from([0]);
    let mut arcs: BTreeSet<(i64, usize)> = BTreeSet::new();
    for part in order {
        let mut front: Vec<i64> = reached.iter().copied().collect();
        for _ in 0..demand[part] {
            front.retain(|fill| fill + steps[part] <= longest && arcs.insert((*fill, part)));
            for fill in &mut front {
                *fill += steps[part];
                reached.insert(*fill);
            }
        }
    }
    // Backwards from the far end: how far up each fill can be moved without losing a completion.
    let mut from: BTreeMap<i64, Vec<usize>> = BTreeMap::new();
    for (fill, part) in arcs {
        from.entry(fill).or_default().push(part);
    }
    let mut moved: BTreeMap<i64, i64> = BTreeMap::new();
    let mut laid: BTreeSet<(usize, i64, i64)> = BTreeSet::new();
    for &fill in reached.iter().rev() {
        let own: &[usize] = from.get(&fill).map_or(&[], Vec::as_slice);
        let room = own
            .iter()
            .map(|&part| moved[&(fill + steps[part])] - steps[part]);
        // The first run end at or after this fill is a completion too. It exists, since no fill is beyond the longest run.
        let end = ends.range(fill..).next().copied();
        let up = room.chain(end).min().unwrap_or(fill);
        let up = if fill == 0 { 0 } else { up };
        moved.insert(fill, up);
        laid.extend(
            own.iter()
                .map(|&part| (part, up, moved[&(fill + steps[part])])),
        );
    }
    let mut nodes: BTreeSet<i64> = moved.into_values().collect();
    nodes.extend(&ends);
    let nodes: Vec<i64> = nodes.into_iter().collect();
    let index = |fill: i64| nodes.partition_point(|&node| node < fill);
    ArcFlow {
        arcs: laid
            .into_iter()
            .map(|(part, tail, head)| (part, index(tail), index(head)))
            .collect(),
        ends: runs
            .iter()
            .map(|runs| runs.iter().map(|&run| index(run)).collect())
            .collect(),
        nodes,
    }
}

fn common(one: i64, other: i64) -> i64 {
    if other == 0 {
        one
    } else {
        common(other, one % other)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

    /// Every way to fill a run of `capacity`: how many of each part, found by counting through all of them.
    fn fillings(steps: &[i64], demand: &[u32], capacity: i64) -> BTreeSet<Vec<u32>> {
        let Some((&step, rest)) = steps.split_first() else {
            return BTreeSet::from([vec![]]);
        };
        (0..=demand[0])
            .filter(|&count| i64::from(count) * step <= capacity)
            .flat_map(|count| {
                fillings(rest, &demand[1..], capacity - i64::from(count) * step)
                    .into_iter()
                    .map(move |others| [vec![count], others].concat())
            })
            .collect()
    }

    /// Every path from zero to `end`, as how many of each part; a loss arc leads from each node to the next.
    fn paths(graph: &ArcFlow, parts: usize, end: usize) -> BTreeSet<Vec<u32>> {
        let mut at: BTreeMap<usize, BTreeSet<Vec<u32>>> = BTreeMap::new();
        at.entry(0).or_default().insert(vec![0; parts]);
        for node in 0..end {
            let here = at.get(&node).cloned().unwrap_or_default();
            for &(part, _, head) in graph.arcs.iter().filter(|arc| arc.1 == node) {
                let laid = here.iter().cloned().map(|mut counts| {
                    counts[part] += 1;
                    counts
                });
                at.entry(head).or_default().extend(laid);
            }
            at.entry(node + 1).or_default().extend(here);
        }
        at.remove(&end).unwrap_or_default()
    }

    #[test]
    fn the_paths_to_the_end_of_a_run_are_its_cuttings() {
        // Oracle: counting through all fillings. Paths may repeat a part beyond what is wanted; the demand rows forbid it.
        let steps = [17, 11, 7, 5];
        let demand = [2, 3, 2, 4];
        let runs = vec![vec![40], vec![29, 12], vec![4]];
        let graph = build(&steps, &demand, &runs);
        for (board, ends) in runs.iter().zip(&graph.ends) {
            for (&capacity, &end) in board.iter().zip(ends) {
                let wanted: BTreeSet<Vec<u32>> = paths(&graph, steps.len(), end)
                    .into_iter()
                    .filter(|counts| counts.iter().zip(&demand).all(|(made, most)| made <= most))
                    .collect();
                assert_eq!(
                    wanted,
                    fillings(&steps, &demand, capacity),
                    "run of {capacity}"
                );
                for counts in paths(&graph, steps.len(), end) {
                    let length: i64 = counts
                        .iter()
                        .zip(steps)
                        .map(|(&n, step)| i64::from(n) * step)
                        .sum();
                    assert!(length <= capacity, "{counts:?} in a run of {capacity}");
                }
            }
        }
    }

    #[test]
    fn fills_with_the_same_completions_are_one_node() {
        // Own arithmetic: of 10, parts of 6 and 4. Nothing but a 4 goes after a 6 and nothing but a 6 or a 4 after a 4.
        let graph = build(&[6, 4], &[1, 1], &[vec![10]]);
        assert_eq!(graph.nodes, [0, 6, 10]);
        assert_eq!(graph.arcs, [(0, 0, 1), (1, 0, 2), (1, 1, 2)]);
    }

    #[test]
    fn what_the_model_does_not_cover_is_refused() {
        let mut problem = crate::bench::practical("practical small 1 0").unwrap();
        problem.sections[0].fits[0] = None;
        assert_eq!(
            ArcFlow::of(&problem),
            Err("the model covers square ends only".to_owned())
        );
        problem.sections.clear();
        assert_eq!(
            ArcFlow::of(&problem),
            Err("the model covers one section".to_owned())
        );
    }
}
