//! A workshop's week: 100 part lengths, some 900 parts, 50 boards in the shed.

use lengthwise::bench::{Allowance, practical, solve_text};
use lengthwise::solve::Level;

/// More than the search takes to prove these, a third more at most.
const LOOKS: u64 = 400_000;

/// What is bought is settled long before it is decided which boards of the shed are used. Plans are looked for at the bound then, by dives that begin with what the
/// solution uses.
#[test]
fn a_week_of_work_is_proven_before_all_shed_boards_are_decided_on() {
    for index in [0, 3] {
        let text = format!("practical week 1 {index}");
        assert!(practical(&text).is_some_and(|problem| problem.demand.len() >= 80));
        let answer = solve_text(&text, false, &mut Allowance::of_looks(LOOKS));
        let answer = answer.expect("a job of the bench");
        assert!(
            answer.levels.iter().copied().all(Level::proven),
            "job {index}: {:?} with {:?}",
            answer.levels,
            answer.effort
        );
    }
}
