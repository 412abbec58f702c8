//! An arc-flow model written as free MPS, which most solvers of integer programs read.
//!
//! The columns `level_1`, `level_2`, ... are the totals of the cost levels; `level_1` is minimised. To minimise the next level, solve again
//! with `level_1` fixed at its optimum and `level_2` as the objective.

use super::ArcFlow;
use crate::problem::Problem;
use std::collections::BTreeMap;
use std::fmt::Write;

/// The model of `problem` over its graph.
pub fn mps(name: &str, problem: &Problem, graph: &ArcFlow) -> String {
    let levels = problem.boards.first().map_or(0, |board| board.cost.len());
    let mut text = format!("NAME {name}\nROWS\n N least\n");
    for node in 0..graph.nodes.len() {
        row(&mut text, &format!(" E flow_{node}"));
    }
    for part in 0..problem.demand.len() {
        row(&mut text, &format!(" E part_{part}"));
    }
    for level in 1..=levels {
        row(&mut text, &format!(" E total_{level}"));
    }
    row(&mut text, "COLUMNS\n    whole 'MARKER' 'INTORG'");
    for (arc, &(part, tail, head)) in graph.arcs.iter().enumerate() {
        row(
            &mut text,
            &format!("    arc_{arc} flow_{tail} -1 flow_{head} 1\n    arc_{arc} part_{part} 1"),
        );
    }
    for node in 1..graph.nodes.len() {
        row(
            &mut text,
            &format!("    lost_{node} flow_{} -1 flow_{node} 1", node - 1),
        );
    }
    for (kind, (board, ends)) in problem.boards.iter().zip(&graph.ends).enumerate() {
        // A board takes one path to the end of each of its runs; elsewhere flow is conserved.
        let mut flow: BTreeMap<usize, i64> = BTreeMap::from([(0, ends.len() as i64)]);
        for &end in ends {
            *flow.entry(end).or_default() -= 1;
        }
        for (node, amount) in flow.into_iter().filter(|&(_, amount)| amount != 0) {
            row(&mut text, &format!("    board_{kind} flow_{node} {amount}"));
        }
        for (level, cost) in board.cost.iter().enumerate() {
            if *cost != 0 {
                row(
                    &mut text,
                    &format!("    board_{kind} total_{} {cost}", level + 1),
                );
            }
        }
    }
    for level in 1..=levels {
        if level == 1 {
            row(&mut text, "    level_1 least 1");
        }
        row(&mut text, &format!("    level_{level} total_{level} -1"));
    }
    row(&mut text, "    whole 'MARKER' 'INTEND'\nRHS");
    for (part, wanted) in problem.demand.iter().enumerate() {
        row(&mut text, &format!("    wanted part_{part} {wanted}"));
    }
    row(&mut text, "BOUNDS");
    // Some readers take an integer column without bounds to be at most 1.
    for (arc, &(part, ..)) in graph.arcs.iter().enumerate() {
        row(
            &mut text,
            &format!(" UP most arc_{arc} {}", problem.demand[part]),
        );
    }
    for node in 1..graph.nodes.len() {
        row(&mut text, &format!(" PL most lost_{node}"));
    }
    for (kind, board) in problem.boards.iter().enumerate() {
        match board.supply {
            Some(supply) => row(&mut text, &format!(" UP most board_{kind} {supply}")),
            None => row(&mut text, &format!(" PL most board_{kind}")),
        }
    }
    for level in 1..=levels {
        row(&mut text, &format!(" PL most level_{level}"));
    }
    row(&mut text, "ENDATA");
    text
}

fn row(text: &mut String, line: &str) {
    // Writing to a string cannot fail.
    let _ = writeln!(text, "{line}");
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::parse;

    #[test]
    fn a_small_model_is_written_column_by_column() {
        // Two lengths on sale, 10 for 7 (at most 3 of them) and 6 for 5; a part of 6 and a part of 4, one of each.
        let problem = parse("2\n10 3 7\n6 9 5\n2\n6 1\n4 1\n").unwrap();
        let graph = ArcFlow::of(&problem).unwrap();
        // Lengths are halved, their common divisor; after a part of 6 comes the one of 4.
        assert_eq!(graph.nodes, [0, 3, 5]);
        let text = mps("two", &problem, &graph);
        let board: Vec<&str> = text
            .lines()
            .filter(|line| line.contains("board_0"))
            .collect();
        assert_eq!(
            board,
            [
                "    board_0 flow_0 1",
                "    board_0 flow_2 -1",
                "    board_0 total_1 7",
                " UP most board_0 3"
            ]
        );
        assert!(text.contains("    arc_0 flow_0 -1 flow_1 1\n    arc_0 part_0 1\n"));
        assert!(text.contains("    level_1 least 1\n    level_1 total_1 -1\n"));
        assert!(text.contains("    wanted part_1 1\n"));
        assert!(text.starts_with("NAME two\nROWS\n N least\n") && text.ends_with("ENDATA\n"));
    }
}
