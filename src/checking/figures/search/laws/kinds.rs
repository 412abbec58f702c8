//! What the search takes together: parts laid alike at one price, boards that differ in their supply alone.

use super::{Open, OpenBoard};
use crate::figures::boards::boards;
use crate::figures::laws::question;
use crate::figures::search::alike::{Class, Cutting, classes, kinds};
use crate::groups::groups;
use crate::laws::{job, some};
use crate::steps::with_steps;
use crate::wood::{Wood, stocks};
use std::rc::Rc;

/// The first of each class, its members and how many are wanted; then the same of the boards, with their supply.
type Alike = (
    Vec<(usize, Vec<usize>, u32)>,
    Vec<(usize, Vec<usize>, Option<i64>)>,
);

/// Three lines of 3000 in the yard, a shed with two boards of 900 and one of 800, and five parts at these prices; `counts` says how many each line
/// has, `split` which board a split counts.
fn alike(counts: [Option<&str>; 3], prices: [i64; 5], split: Option<usize>) -> Alike {
    let sheds = [("900", "", "0"), ("900", "", "0"), ("800", "", "0")];
    let parts = [
        ("400", "square", "2"),
        ("400", "square", "3"),
        ("300", "square", "4"),
        ("400", "45; square", "5"),
        ("400", "square", "7"),
    ];
    let job = job(&sheds, &parts, |draft| {
        let line = draft.yard[0].clone();
        draft.yard = Vec::new();
        for count in counts {
            let mut line = line.clone();
            line.count = count.and_then(some);
            draft.yard.push(line);
        }
    });
    let group = &groups(&job)[0];
    let question = question(&job, group, 0, Vec::new(), 0);
    let stock = stocks(&job, &[0])[0];
    let woods = [(stock, Wood::of(&job, stock).expect("few numbers"))];
    let wood = &woods[0].1;
    let worths = with_steps(1_000, |steps| wood.worths(&[0; 5], 1, steps));
    let worths = Rc::new(worths.expect("small"));
    let boards = boards(&question);
    let open_boards = boards.iter().enumerate().map(|(index, board)| OpenBoard {
        board,
        index,
        wood,
        worths: worths.clone(),
        charge: 0,
        excess: 0,
        kept: 0,
        costs: &board.costs,
        fewer: split
            .filter(|at| *at == index)
            .map(|_| (0, crate::figures::side::Counted::Boards))
            .into_iter()
            .collect(),
        more: Vec::new(),
    });
    let open = Open {
        job: &job,
        parts: &[0, 1, 2, 3, 4],
        woods: &woods,
        prices: &prices,
        tick_cost: 0,
        gap: 0,
        beaten: 0,
        cost_level: Some(0),
        used_limit: None,
        boards: open_boards.collect(),
        limits: Vec::new(),
        fewer: Vec::new(),
        more: Vec::new(),
        sides: Vec::new(),
        offcuts: false,
    };
    let classes = classes(&open).into_iter();
    let kinds = kinds(&open).into_iter();
    (
        classes
            .map(|class| (class.part, class.members, class.wanted))
            .collect(),
        kinds
            .map(|kind| (kind.first, kind.members, kind.supply))
            .collect(),
    )
}

#[test]
fn parts_laid_alike_at_one_price_are_wanted_together() {
    let (classes, _) = alike([None; 3], [9, 9, 9, 9, 9], None);
    let mitred = (3, vec![3], 5);
    let shorter = (2, vec![2], 4);
    assert_eq!(
        classes,
        [(0, vec![0, 1, 4], 12), shorter.clone(), mitred.clone()]
    );
    let (classes, _) = alike([None; 3], [9, 8, 9, 9, 9], None);
    let dearer = (0, vec![0, 4], 9);
    assert_eq!(classes, [dearer, (1, vec![1], 3), shorter, mitred]);
}

#[test]
fn boards_that_differ_in_their_supply_alone_are_there_together() {
    let of = |counts, split| alike(counts, [9; 5], split).1;
    let sheds = [(3, vec![3, 4], Some(2)), (5, vec![5], Some(1))];
    let lines = |supply| (0, vec![0, 1, 2], supply);
    let all = |supply| [lines(supply), sheds[0].clone(), sheds[1].clone()];
    assert_eq!(of([Some("2"), Some("3"), Some("4")], None), all(Some(9)));
    // One of them without end is without end together, wherever it is.
    assert_eq!(of([None, Some("3"), Some("4")], None), all(None));
    assert_eq!(of([Some("2"), Some("3"), None], None), all(None));
    // What a split counts by itself is of its own.
    let apart = [
        lines(Some(9)),
        (3, vec![3], Some(1)),
        (4, vec![4], Some(1)),
        (5, vec![5], Some(1)),
    ];
    assert_eq!(of([Some("2"), Some("3"), Some("4")], Some(4)), apart);
}

#[test]
fn a_cutting_is_used_at_most_until_each_of_its_parts_is_there_as_often_as_it_is_wanted() {
    let classes = [5, 2].map(|wanted| Class {
        part: 0,
        members: vec![0],
        wanted,
    });
    let high =
        |counts: &[(usize, u32)]| Cutting::new(0, (counts.to_vec(), 0), (1, 0), &classes).high;
    // Five by two take three uses, by five one; two by one take two.
    assert_eq!(high(&[(0, 2)]), 3);
    assert_eq!(high(&[(0, 5)]), 1);
    assert_eq!(high(&[(1, 1)]), 2);
    assert_eq!(high(&[(0, 2), (1, 1)]), 3);
    assert_eq!(high(&[(0, 5), (1, 1)]), 2);
}
