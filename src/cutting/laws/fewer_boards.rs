//! Plans on the fewest boards of several runs.

use crate::fewer_boards::on_fewest_boards;
use crate::laws::made_up::{Random, of_lengths};
use crate::pattern::Pattern;
use crate::problem::{Run, Shape};

#[test]
fn the_same_runs_are_cut_from_the_fewest_boards() {
    let mut random = Random::new(77);
    let mut fewer = 0;
    for _ in 0..500 {
        let mut problem = of_lengths(100, &[(30, 9), (40, 9)]);
        let each = 2 + random.below(4) as usize;
        let run = Run {
            length: 100,
            tail: 0,
        };
        problem.boards[0].shape = Shape::Runs(vec![run; each]);
        let patterns: Vec<(Pattern, u32)> = (0..1 + random.below(4))
            .map(|_| {
                let run = |at: usize| match (at, random.below(4)) {
                    (0, 0) | (_, 1) => vec![(0, 1)],
                    (0, _) | (_, 2) => vec![(0, 1), (1, 1)],
                    _ => Vec::new(),
                };
                let runs = (0..each).map(run).collect();
                (Pattern { board: 0, runs }, 1 + random.below(5) as u32)
            })
            .collect();
        let runs = |patterns: &[(Pattern, u32)]| {
            let mut all = Vec::new();
            for (pattern, count) in patterns {
                let filled = pattern.runs.iter().filter(|run| !run.is_empty());
                for run in filled {
                    all.extend(vec![run.clone(); *count as usize]);
                }
            }
            all.sort();
            all
        };
        let boards =
            |patterns: &[(Pattern, u32)]| -> u32 { patterns.iter().map(|(_, count)| count).sum() };
        let before = patterns.clone();
        let after = on_fewest_boards(&problem, patterns);
        assert_eq!(runs(&after), runs(&before));
        let least = runs(&before).len().div_ceil(each) as u32;
        assert_eq!(boards(&after), least.min(boards(&before)));
        assert!(after.iter().all(|(pattern, _)| pattern.runs.len() == each));
        fewer += usize::from(boards(&after) < boards(&before));
    }
    assert!(fewer > 100, "{fewer}");
}
