//! A lifted bound is the next total that can occur: a sum of what boards cost, or a multiple of what every length used up is a multiple of.

use super::of_one_level;
use crate::laws::{job, some};
use crate::lie::Lie;
use crate::settled::Backing;
use proof::certificate::{Branch, Leaf, LevelProof, Twig, TwigLeaf};
use timber::job::Job;
use timber::plan::Measure;

/// What comes of a claim of one leaf, lifted or not; the same closed, over a list of which nothing is shown.
fn both(
    job: &Job,
    (level, bound): (usize, i64),
    earlier: &[i64],
    leaf: &Leaf,
    lifted: bool,
) -> [Result<Backing, Lie>; 2] {
    let nothing = TwigLeaf {
        scale: 1,
        parts: vec![0],
        boards: vec![0; job.yard.len() + job.shed.len()],
        earlier: vec![0; earlier.len()],
        splits: Vec::new(),
    };
    let closed = Branch::Closed {
        leaf: leaf.clone(),
        search: vec![Twig::Leaf(nothing)],
    };
    [Branch::Leaf(leaf.clone()), closed].map(|branch| {
        let claim = LevelProof {
            level,
            earlier: earlier.to_vec(),
            bound,
            shown: bound,
            lifted,
            tree: vec![branch],
        };
        of_one_level(job, bound, earlier.to_vec(), &claim)
    })
}

#[test]
fn a_bound_of_money_is_lifted_to_the_next_sum_of_prices() {
    let of = |counts: [Option<&str>; 2], price: i64, bound: i64, lifted: bool| {
        let job = job(&[], &[("300", "square", "8")], |draft| {
            draft.own.aim = some("cheapest");
            draft.sections[0].trim = some("0");
            draft.yard.push(draft.yard[0].clone());
            for (line, (price, count)) in draft
                .yard
                .iter_mut()
                .zip(["0.05", "0.07"].iter().zip(counts))
            {
                line.length = some("1000");
                line.price = some(price);
                line.count = count.and_then(some);
            }
        });
        let leaf = Leaf {
            scale: 1,
            parts: vec![price],
            ..Leaf::default()
        };
        both(&job, (0, bound), &[], &leaf, lifted)
    };
    let re_proved = || [Ok(Backing::ReProved), Ok(Backing::ReProved)];
    let lie = |lie: Lie| [Err(lie.clone()), Err(lie)];
    // Own arithmetic: three parts from a length at 5 are worth 3 at a price of 1. Eight parts show 8, and the next sum of 5 and 7 is 10.
    let measure = Measure::Money;
    assert_eq!(of([None; 2], 1, 8, false), re_proved());
    let not_shown = Lie::BoundNotShown {
        measure,
        claimed: 10,
        shown: 8,
    };
    assert_eq!(of([None; 2], 1, 10, false), lie(not_shown));
    assert_eq!(of([None; 2], 1, 10, true), re_proved());
    // What would beat 11 is 10, to which the sum of 8 leaves a gap.
    let too_far = Lie::LiftedTooFar {
        measure,
        claimed: 11,
        next: 10,
    };
    assert_eq!(of([None; 2], 1, 11, true), lie(too_far));
    // Of one length at 5 and three at 7, with an excess of 1 for the first at a price of 2: 16 - 1 = 15 lifts to 19, for there is no second at 5.
    let few = [Some("1"), Some("3")];
    assert_eq!(of(few, 2, 19, true), re_proved());
    let too_far = Lie::LiftedTooFar {
        measure,
        claimed: 20,
        next: 19,
    };
    assert_eq!(of(few, 2, 20, true), lie(too_far));
}

#[test]
fn a_bound_of_the_length_used_up_is_lifted_to_the_next_millimetre_where_all_lengths_are_whole_ones()
{
    let job = job(&[], &[("300", "square", "2")], |draft| {
        draft.sections[0].trim = some("0");
        draft.yard[0].length = some("1000");
        draft.saw.keep = some("50");
    });
    let level = 2;
    // Own arithmetic: each part uses up 303 and its cut, or a little more; priced a tick below that, two show two ticks less than 606.
    let leaf = Leaf {
        scale: 1,
        parts: vec![303 * 3_200 - 1],
        earlier: vec![0; 2],
        ..Leaf::default()
    };
    let of = |bound, lifted| both(&job, (level, bound), &[9, 99_999_999], &leaf, lifted);
    let re_proved = || [Ok(Backing::ReProved), Ok(Backing::ReProved)];
    let lie = |lie: Lie| [Err(lie.clone()), Err(lie)];
    let measure = Measure::Scrap;
    let whole = 606 * 3_200;
    assert_eq!(of(whole - 2, false), re_proved());
    let not_shown = Lie::BoundNotShown {
        measure,
        claimed: whole,
        shown: whole - 2,
    };
    assert_eq!(of(whole, false), lie(not_shown));
    assert_eq!(of(whole, true), re_proved());
    let too_far = Lie::LiftedTooFar {
        measure,
        claimed: whole + 1,
        next: whole,
    };
    assert_eq!(of(whole + 1, true), lie(too_far));
}
