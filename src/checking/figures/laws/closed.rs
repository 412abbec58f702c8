//! A closed leaf holds what is left open just as far as its gap reaches: to a tick of the price.

use super::{not_shown, of_one_level};
use crate::laws::{job, some};
use crate::lie::{Lie, Misshape, Spot};
use crate::settled::Backing;
use proof::certificate::{Branch, Leaf, LevelProof, Twig, TwigLeaf};
use timber::job::Job;
use timber::plan::Measure;

/// A closed leaf at a level, and a search that is one leaf: (scale, price of each part) of both.
fn closed(
    job: &Job,
    (level, bound): (usize, i64),
    earlier: &[i64],
    [by_prices, over_the_list]: [(i64, i64); 2],
) -> Result<Backing, Lie> {
    let twig = TwigLeaf {
        scale: over_the_list.0,
        parts: vec![over_the_list.1],
        boards: vec![0; job.yard.len() + job.shed.len()],
        earlier: vec![0; earlier.len()],
        splits: Vec::new(),
    };
    let leaf = Leaf {
        scale: by_prices.0,
        parts: vec![by_prices.1],
        earlier: vec![0; earlier.len()],
        splits: Vec::new(),
    };
    let claim = LevelProof {
        level,
        earlier: earlier.to_vec(),
        bound,
        shown: bound,
        lifted: false,
        tree: vec![Branch::Closed {
            leaf,
            search: vec![Twig::Leaf(twig)],
        }],
    };
    of_one_level(job, bound, earlier.to_vec(), &claim)
}

/// Parts of 1100, two from a length of 3000.
fn of_two_each(wanted: &str) -> Job {
    job(&[], &[("1100", "square", wanted)], |draft| {
        draft.sections[0].trim = some("0");
    })
}

#[test]
fn a_plan_that_loses_just_the_gap_is_left_open() {
    // Own arithmetic: four parts need two lengths, and none may claim three. At a scale of 7 and a price of 2 the sum is 8, the gap to two boards
    // 14 - 8 = 6; each board loses 7 - 4 = 3, so both lose 6. Over a list without them any price would hold.
    let job = of_two_each("4");
    for (scale, price, shown) in [(7, 2, 2), (5, 2, 2), (4, 2, 2), (9, 1, 1), (1, 0, 0)] {
        let found = closed(&job, (0, 3), &[], [(scale, price), (1, 10)]);
        assert_eq!(found, not_shown(3, shown), "{scale} {price}");
    }
    // Two parts need one length, which is the whole plan, and loses the whole gap.
    let job = of_two_each("2");
    for (scale, price, shown) in [(7, 2, 1), (5, 2, 1), (4, 2, 1), (9, 1, 1), (1, 0, 0)] {
        let found = closed(&job, (0, 2), &[], [(scale, price), (1, 10)]);
        assert_eq!(found, not_shown(2, shown), "{scale} {price}");
    }
}

#[test]
fn a_board_that_loses_more_than_the_gap_is_not_left_open() {
    // Own arithmetic: three parts need two lengths. At a scale of 7 and a price of 2 the sum is 6, the gap to one board 7 - 6 = 1, and a board of two
    // parts loses 3. So the list is empty, and a price of ten holds that would not with that board on it: 3 x 10 beside twice 1 - 20.
    let job = of_two_each("3");
    for (scale, price) in [(7, 2), (9, 3), (8, 3)] {
        let found = closed(&job, (0, 2), &[], [(scale, price), (1, 10)]);
        assert_eq!(found, Ok(Backing::ReProved), "{scale} {price}");
    }
    // At a price of 1 the gap is 7 - 3 = 4, and the board loses 5; at a scale of 6 it is 6 - 3 = 3 and 4; at no price it is all a board costs.
    for (scale, price) in [(7, 1), (6, 1)] {
        let found = closed(&job, (0, 2), &[], [(scale, price), (1, 10)]);
        assert_eq!(found, Ok(Backing::ReProved), "{scale} {price}");
    }
    let found = closed(&job, (0, 2), &[], [(1, 0), (1, 10)]);
    assert_eq!(found, not_shown(2, 0));
    // With that board on the list, a price of one at a scale of two shows 3 / 2, which is two boards.
    let found = closed(&job, (0, 2), &[], [(1, 0), (2, 1)]);
    assert_eq!(found, Ok(Backing::ReProved));
}

/// The claim of three boards for thirteen parts of 300, by a tree whose leaves are closed over a list of all full boards, as prices of zero leave them:
/// three parts from a length of 1000, six from one of 2000. Each search is one leaf: (scale, price of a part, prices of the splits).
fn three_boards(tree: impl FnOnce(&mut dyn FnMut(Search) -> Branch) -> Vec<Branch>) -> bool {
    let job = job(&[], &[("300", "square", "13")], |draft| {
        draft.sections[0].trim = some("0");
        draft.yard.push(draft.yard[0].clone());
        draft.yard[0].length = some("1000");
        draft.yard[1].length = some("2000");
    });
    let mut closed = |(scale, price, splits): Search| Branch::Closed {
        leaf: Leaf {
            scale: 1,
            parts: vec![0],
            ..Leaf::default()
        },
        search: vec![Twig::Leaf(TwigLeaf {
            scale,
            parts: vec![price],
            boards: vec![0; 2],
            earlier: Vec::new(),
            splits: splits.iter().copied().enumerate().collect(),
        })],
    };
    let claim = LevelProof {
        level: 0,
        earlier: Vec::new(),
        bound: 3,
        shown: 3,
        lifted: false,
        tree: tree(&mut closed),
    };
    let found = of_one_level(&job, 3, Vec::new(), &claim);
    let shown = found == Ok(Backing::ReProved);
    assert!(shown || found == not_shown(3, 0), "{found:?}");
    shown
}

type Search<'a> = (i64, i64, &'a [i64]);

fn split(boards: &[usize], at: u32) -> Branch {
    Branch::Split {
        boards: boards.to_vec(),
        at,
    }
}

#[test]
fn a_closed_leaf_holds_its_boards_to_the_splits_on_its_way() {
    // Split by the short lengths, at most two of them or more, then by the long ones, at most one or more. Own arithmetic:
    // two short lengths and a long one give 12 parts; of the thirteenth, at 100, that much is left over, which beats any total of two.
    let no_room: Search = (1, 100, &[300, 600]);
    // Of three short ones at least, each pays the one board that it costs: 1 x 3.
    let many_short: Search = (1, 0, &[1, 0]);
    // Of two long ones at least it is 1 x 2, which is no more than two.
    let many_long: Search = (1, 0, &[0, 1]);
    // Three short and two long ones at least.
    let many: Search = (1, 0, &[1, 1]);
    // By parts alone, at six a board: 13 / 6 is more than two boards, wherever.
    let by_parts: Search = (6, 1, &[0, 0]);
    let shown = |searches: [Search; 4]| {
        three_boards(|closed| {
            let [one, other, third, fourth] = searches.map(closed);
            let (short, long) = (split(&[0], 2), || split(&[1], 1));
            vec![short, long(), one, other, long(), third, fourth]
        })
    };
    assert!(shown([no_room, by_parts, many_short, many]));
    // Each search shows what it shows where it stands, and not elsewhere.
    let everywhere = |search| {
        [0, 1, 2, 3].map(|at| {
            let mut searches = [by_parts; 4];
            searches[at] = search;
            shown(searches)
        })
    };
    assert_eq!(everywhere(by_parts), [true; 4]);
    assert_eq!(everywhere(no_room), [true, false, false, false]);
    assert_eq!(everywhere(many_short), [false, false, true, true]);
    assert_eq!(everywhere(many_long), [false; 4]);
    assert_eq!(everywhere(many), [false, false, false, true]);
}

#[test]
fn a_split_counts_all_boards_of_its_set() {
    // Two boards of whatever length give 12 parts at most; three boards at least are three.
    let no_room: Search = (1, 100, &[600]);
    let many: Search = (1, 0, &[1]);
    let shown =
        |one, other| three_boards(|closed| vec![split(&[0, 1], 2), closed(one), closed(other)]);
    assert!(shown(no_room, many));
    assert!(!shown(many, many));
    assert!(!shown(no_room, no_room));
}

#[test]
fn a_search_holds_its_plans_to_the_splits_on_pairs_on_its_way() {
    let job = job(&[], &[("300", "square", "13")], |draft| {
        draft.sections[0].trim = some("0");
        draft.yard.push(draft.yard[0].clone());
        draft.yard[0].length = some("1000");
        draft.yard[1].length = some("2000");
    });
    let search = |pair: [usize; 2], splits: [&[(usize, i64)]; 2], price| {
        let leaf = |price, splits: &[(usize, i64)]| {
            Twig::Leaf(TwigLeaf {
                scale: 1,
                parts: vec![price],
                boards: vec![0; 2],
                earlier: Vec::new(),
                splits: splits.to_vec(),
            })
        };
        let split = Twig::Pair { parts: pair, at: 2 };
        vec![split, leaf(price, splits[0]), leaf(0, splits[1])]
    };
    let closed = |search| Branch::Closed {
        leaf: Leaf {
            scale: 1,
            parts: vec![0],
            ..Leaf::default()
        },
        search,
    };
    let of_tree = |tree| {
        let claim = LevelProof {
            level: 0,
            earlier: Vec::new(),
            bound: 3,
            shown: 3,
            lifted: false,
            tree,
        };
        of_one_level(&job, 3, Vec::new(), &claim)
    };
    let found = |search| of_tree(vec![closed(search)]);
    let shown = |search| found(search) == Ok(Backing::ReProved);
    // Every full board holds two of the part. Own arithmetic: two boards hold twelve parts at most; of the thirteenth, at 100, that much is left
    // over, which is more than two. Of three such boards at least, each pays the one that it costs.
    let both: [&[(usize, i64)]; 2] = [&[(0, 600)], &[(0, 1)]];
    assert!(shown(search([0, 0], both, 100)));
    // At 599 a long board is worth one more than its charge and its cost together, which no two boards have left.
    assert!(shown(search([0, 0], [&[(0, 599)], both[1]], 100)));
    assert!(!shown(search([0, 0], [&[(0, 650)], both[1]], 100)));
    assert!(!shown(search([0, 0], [&[], both[1]], 100)));
    assert!(!shown(search([0, 0], [both[0], &[]], 100)));
    assert!(!shown(search([0, 0], [both[0], &[(0, 2)]], 100)));
    assert!(!shown(search([0, 0], [both[1], both[0]], 0)));
    // Behind a split of boards it is numbered one more, and a price for the other counts where that is.
    let behind = |number| {
        let prices: [&[(usize, i64)]; 2] = [&[(number, 600)], &[(number, 1)]];
        let many = Branch::Leaf(Leaf {
            scale: 1,
            parts: vec![0],
            splits: vec![(0, 1)],
            ..Leaf::default()
        });
        of_tree(vec![
            split(&[0, 1], 5),
            closed(search([0, 0], prices, 100)),
            many,
        ])
    };
    assert_eq!(behind(1), Ok(Backing::ReProved));
    assert_eq!(behind(0), not_shown(3, 0));
    let misshapen = |branch, twig, what| {
        Err(Lie::MisshapenFigures {
            measure: Measure::Bought,
            spot: Some(Spot {
                branch,
                twig: Some(twig),
            }),
            what,
        })
    };
    assert_eq!(behind(2), misshapen(1, 1, Misshape::Splits));
    assert_eq!(
        found(search([0, 1], both, 100)),
        misshapen(0, 0, Misshape::Pair)
    );
    let mut twice = search([0, 0], both, 100);
    twice.insert(1, twice[0].clone());
    assert_eq!(found(twice), misshapen(0, 1, Misshape::Repeated));
    let mut open = search([0, 0], both, 100);
    open.pop();
    assert_eq!(found(open), misshapen(0, 2, Misshape::TooShort));
    // A split on a cutting has no price.
    let mut of_cutting = search([0, 0], both, 100);
    of_cutting[0] = Twig::Split {
        kept: None,
        board: 1,
        parts: vec![(0, 6)],
        at: 2,
    };
    assert_eq!(found(of_cutting), misshapen(0, 1, Misshape::Splits));
}
