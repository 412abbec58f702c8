//! What runs are worth does not hang on how long the others are that are asked about with them.

use super::job;
use crate::steps::with_steps;
use crate::wood::{Wood, stocks};

#[test]
fn a_run_is_worth_the_same_beside_longer_ones() {
    for parts in [
        vec![("40.5", "square", "4"), ("31", "square", "3")],
        vec![
            ("100", "45", "3"),
            ("55", "45; square", "2"),
            ("31", "square", "2"),
        ],
        vec![("90", "60; square", "3"), ("45", "square", "3")],
    ] {
        let job = job(&[], &parts, |_| ());
        let wood = Wood::of(&job, stocks(&job, &[0])[0]).expect("few numbers");
        let prices = [7, 4, 3];
        let worths = |longest| {
            with_steps(10_000_000, |steps| {
                wood.worths(&prices[..parts.len()], longest, steps)
            })
            .expect("small")
        };
        let of_long_ones = worths(1_000 * 3_200);
        // Every place where a part more fits is among the lengths that fills come to, last cut or not.
        let places = of_long_ones
            .touched()
            .flat_map(|(laid, _)| [laid.need, laid.filled]);
        let mut compared = 0;
        for run in places.flat_map(|place| [place - 1, place, place + 1]) {
            assert_eq!(
                worths(run).best(run),
                of_long_ones.best(run),
                "{parts:?} {run}"
            );
            compared += 1;
        }
        assert!(compared > 30, "{compared}");
    }
}
