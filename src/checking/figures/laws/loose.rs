//! What is overstated is never called a lie, what is exact is: a worth is overstated where one of several runs may be allowed parts that another has.

use super::{not_shown, of_one_level};
use crate::laws::{job, some};
use crate::lie::Lie;
use crate::settled::{Backing, Reason};
use proof::certificate::{Branch, Leaf, LevelProof, Twig, TwigLeaf};
use timber::job::Job;
use timber::plan::{Measure, Source};

fn leaf(scale: i64, price: i64) -> Leaf {
    Leaf {
        scale,
        parts: vec![price],
        ..Leaf::default()
    }
}

/// What comes of the claim that so many boards at least are bought; without searches it would be `shown`.
fn claimed(job: &Job, bound: i64, shown: i64, tree: Vec<Branch>) -> Result<Backing, Lie> {
    let claim = LevelProof {
        level: 0,
        earlier: Vec::new(),
        bound,
        shown,
        lifted: false,
        tree,
    };
    of_one_level(job, bound, Vec::new(), &claim)
}

fn loose(shown: i64) -> Result<Backing, Lie> {
    Ok(Backing::ClaimOnly(Reason::Loose { shown }))
}

fn searched(shown: i64) -> Result<Backing, Lie> {
    Ok(Backing::ClaimOnly(Reason::Searched { shown }))
}

#[test]
fn prices_that_overcharge_are_a_lie_but_for_a_length_that_is_carried_in_two_pieces() {
    let mut job = job(&[], &[("400", "square", "20")], |draft| {
        draft.sections[0].trim = some("0");
    });
    // Own arithmetic: 7 parts and 6 cuts between them are 2818.
    let overcharge = |charge| {
        Err(Lie::PricesOvercharge {
            measure: Measure::Bought,
            board: Source::Yard(0),
            worth: 7,
            charge,
        })
    };
    let tree = |scale| vec![Branch::Leaf(leaf(scale, 1))];
    assert_eq!(claimed(&job, 3, 3, tree(7)), Ok(Backing::ReProved));
    assert_eq!(claimed(&job, 3, 3, tree(6)), overcharge(6));
    // Of two pieces of 1600 at most, together 2997, each holds three parts.
    job.carry = Some(crate::laws::mm(1_600));
    assert_eq!(claimed(&job, 4, 4, tree(6)), Ok(Backing::ReProved));
    assert_eq!(claimed(&job, 4, 4, tree(5)), loose(0));
}

/// Parts of 300 from lengths of 1000, three from each, beside shed boards of 700: sound ones, of which one run gives two parts, and ones with a bad
/// stretch in the middle, of which each of two runs gives one.
fn with_sheds(sheds: &[&str], wanted: &str) -> Job {
    let sheds: Vec<_> = sheds.iter().map(|bad| ("700", *bad, "0")).collect();
    job(&sheds, &[("300", "square", wanted)], |draft| {
        draft.sections[0].trim = some("0");
        draft.yard[0].length = some("1000");
    })
}

const SOUND: &str = "";
const TWO_RUNS: &str = "340-350";

#[test]
fn a_bound_beyond_the_figures_is_no_lie_just_where_a_board_of_several_runs_is_worth_more_than_its_charge()
 {
    // Own arithmetic: at a price of 1 and a scale of 3, each shed board is worth 2 and charged nothing. Four parts beside what one of them gives, or
    // six beside two, leave 2, a board; a claim of two is beyond that.
    let tree = || vec![Branch::Leaf(leaf(3, 1))];
    for (sheds, wanted, is_loose) in [
        (&[SOUND][..], "4", false),
        (&[TWO_RUNS], "4", true),
        (&[SOUND, SOUND], "6", false),
        (&[SOUND, TWO_RUNS], "6", true),
        (&[TWO_RUNS, SOUND], "6", true),
        (&[TWO_RUNS, TWO_RUNS], "6", true),
    ] {
        let job = with_sheds(sheds, wanted);
        let expected = if is_loose { loose(1) } else { not_shown(2, 1) };
        assert_eq!(claimed(&job, 2, 2, tree()), expected, "{sheds:?}");
        assert_eq!(claimed(&job, 1, 1, tree()), Ok(Backing::ReProved));
    }
    // What is worth no more than its charge overstates nothing: of prices of zero nothing comes, whatever the runs.
    let free = vec![Branch::Leaf(leaf(3, 0))];
    let job = with_sheds(&[TWO_RUNS], "4");
    assert_eq!(claimed(&job, 2, 2, free), not_shown(2, 0));
}

#[test]
fn one_leaf_that_is_overstated_or_searched_is_enough_wherever_it_is() {
    let job = with_sheds(&[TWO_RUNS], "4");
    // At prices of zero nothing is overstated; the other leaf shows one, as above.
    let exact = || leaf(3, 0);
    let overstated = || leaf(3, 1);
    let split = || Branch::Split {
        boards: vec![0],
        at: 1,
    };
    let both = |one, other| vec![split(), one, other];
    let of = |one, other| claimed(&job, 2, 0, both(one, other));
    let by_prices = Branch::Leaf;
    assert_eq!(of(by_prices(exact()), by_prices(exact())), not_shown(2, 0));
    assert_eq!(of(by_prices(overstated()), by_prices(exact())), loose(0));
    assert_eq!(of(by_prices(exact()), by_prices(overstated())), loose(0));
    let loose_twice = of(by_prices(overstated()), by_prices(overstated()));
    assert_eq!(loose_twice, loose(1));
    let by_search = Branch::Searched;
    assert_eq!(of(by_search(exact()), by_prices(exact())), searched(0));
    assert_eq!(of(by_prices(exact()), by_search(exact())), searched(0));
    assert_eq!(of(by_search(exact()), by_search(exact())), searched(0));
}

#[test]
fn a_list_that_settles_nothing_is_a_lie_unless_it_hangs_on_what_is_overstated() {
    // Prices of zero leave open whatever has a part in it, and show nothing of what is listed.
    let search = || {
        let twig = TwigLeaf {
            scale: 1,
            parts: vec![0],
            boards: vec![0, 0],
            earlier: Vec::new(),
            splits: Vec::new(),
        };
        vec![Twig::Leaf(twig)]
    };
    for (bad, expected) in [(SOUND, not_shown(2, 1)), (TWO_RUNS, searched(1))] {
        let job = with_sheds(&[bad], "4");
        let closed = Branch::Closed {
            leaf: leaf(3, 1),
            search: search(),
        };
        assert_eq!(claimed(&job, 2, 1, vec![closed]), expected, "{bad}");
    }
}
