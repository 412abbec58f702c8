//! Proofs by how many boards hold two parts together: what scrap needs such a search for is told in the plan file and shown again from it.

mod common;

use common::hand::{Draft, job};
use common::planned_within;
use common::random::Random;
use lengthwise::certificate::{Branch, Twig};
use lengthwise::check::{Backing, Lie, Misshape, check};
use lengthwise::io::plan_file;
use lengthwise::job::Job;
use lengthwise::plan::{Measure, Plan};
use lengthwise::planner::Planned;

fn made_up(seed: u64) -> Job {
    let mut random = Random(seed);
    job(|draft: &mut Draft| {
        draft.section("batten", |section| section.width = Some("45".into()));
        for length in [2_400, 3_600] {
            let price = format!("{}.{:02}", length / 400, random.below(100));
            draft.yard("batten", &length.to_string(), Some(&price), None);
        }
        for board in 0..random.below(4) {
            let length = (700 + random.below(1_500)).to_string();
            draft.shed(&board.to_string(), "batten", &length, "");
        }
        for part in 0..4 + random.below(3) {
            let length = (250 + random.below(1_000)).to_string();
            let wanted = (1 + random.below(5)).to_string();
            draft.part(
                &format!("part {part}"),
                "batten",
                &length,
                &wanted,
                "square",
            );
        }
    })
}

/// The searches of a plan that split on pairs: (proof, level, node).
fn searches(plan: &Plan) -> Vec<[usize; 3]> {
    let mut found = Vec::new();
    for (proof, told) in plan.proofs.iter().enumerate() {
        let levels = told.certificate.iter().flat_map(|told| &told.levels);
        for (level, told) in levels.enumerate() {
            for (node, branch) in told.tree.iter().enumerate() {
                if let Branch::Closed { search, .. } = branch
                    && search.iter().any(is_pair)
                {
                    found.push([proof, level, node]);
                }
            }
        }
    }
    found
}

fn is_pair(twig: &Twig) -> bool {
    matches!(twig, Twig::Pair { .. })
}

fn search_of(plan: &mut Plan, [proof, level, node]: [usize; 3]) -> &mut Vec<Twig> {
    let certificate = plan.proofs[proof].certificate.as_mut().expect("a proof");
    match &mut certificate.levels[level].tree[node] {
        Branch::Closed { search, .. } => search,
        other => panic!("no search: {other:?}"),
    }
}

/// The jobs among those made up that have such a search, with their plans and where it is.
fn told() -> Vec<(Job, Plan, [usize; 3])> {
    let mut told = Vec::new();
    for seed in 1..=80 {
        let job = made_up(seed);
        if let Planned::Found(plan) = planned_within(&job, 3_000) {
            let first = searches(&plan).into_iter().next();
            told.extend(first.map(|search| (job, plan, search)));
        }
    }
    assert!(told.len() >= 3, "only {} split on pairs", told.len());
    told
}

#[test]
fn scrap_that_needs_splits_on_pairs_is_shown_again_from_a_plan_file() {
    for (job, mut plan, place) in told() {
        // What a search is reckoned to take is what it takes at most.
        let written = plan_file::write_value(&plan);
        let [proof, level, node] = place;
        let tree = &written["proofs"][proof]["certificate"][level]["tree"];
        let taken = tree[node]["closed"]["search"].to_string().len();
        let search = search_of(&mut plan, place).iter();
        let reckoned: usize = search.map(|twig| twig.bytes(job.parts.len())).sum();
        assert!(
            taken <= reckoned + 2 && reckoned < 2 * taken,
            "{taken} {reckoned}"
        );
        let read = plan_file::read(&plan_file::write(&plan)).expect("a plan file");
        assert_eq!(read, plan);
        let checked = check(&job, read).unwrap_or_else(|lies| panic!("{lies:?}"));
        let levels = checked.groups().iter().flat_map(|group| &group.levels);
        let scrap: Vec<_> = levels
            .filter(|level| level.measure == Measure::Scrap)
            .collect();
        assert_eq!(scrap.len(), 1);
        assert_eq!(scrap[0].bound, Some(scrap[0].value));
        assert_eq!(scrap[0].backing, Backing::ReProved);
    }
}

/// What a search is found to be once it is changed.
fn changed(
    (job, plan, place): &(Job, Plan, [usize; 3]),
    change: impl FnOnce(&mut Vec<Twig>),
) -> Result<(), Vec<Lie>> {
    let mut plan = plan.clone();
    change(search_of(&mut plan, *place));
    let read = plan_file::read(&plan_file::write(&plan)).expect("a plan file");
    check(job, read).map(|_| ())
}

/// Where the nodes below one end.
fn end(search: &[Twig], from: usize) -> usize {
    let (mut at, mut missing) = (from, 1);
    while missing > 0 {
        missing = match search[at] {
            Twig::Leaf(_) => missing - 1,
            _ => missing + 1,
        };
        at += 1;
    }
    at
}

#[test]
fn a_forged_search_is_refused_for_what_is_wrong_with_it() {
    let mut refused = [0; 2];
    for told in told() {
        let (job, plan, place) = &told;
        let search = search_of(&mut plan.clone(), *place).clone();
        let at = search.iter().position(is_pair).expect("a pair");
        let second = end(&search, at + 1);
        let misshapen = |change: &dyn Fn(&mut Vec<Twig>), what: Misshape| {
            let lies = changed(&told, |search| change(search));
            let Err(lies) = lies else {
                panic!("it is believed")
            };
            let found = lies.iter().any(
                |lie| matches!(lie, Lie::MisshapenFigures { what: found, .. } if *found == what),
            );
            assert!(found, "{lies:?}");
        };
        let of_parts = |parts| {
            move |search: &mut Vec<Twig>| {
                let Twig::Pair { parts: told, .. } = &mut search[at] else {
                    panic!("a pair")
                };
                *told = parts;
            }
        };
        misshapen(&of_parts([0, job.parts.len()]), Misshape::Pair);
        misshapen(&|search| drop(search.pop()), Misshape::TooShort);
        misshapen(
            &|search| search.push(search[second].clone()),
            Misshape::TooLong,
        );
        misshapen(
            &|search| search.insert(at, search[at].clone()),
            Misshape::Repeated,
        );
        // A price for a split that there is not.
        let leaf = search.len() - 1;
        misshapen(
            &|search| {
                let Twig::Leaf(leaf) = &mut search[leaf] else {
                    panic!("the last is a leaf")
                };
                leaf.splits.push((10_000, 1));
            },
            Misshape::Splits,
        );
        // The sides change places, or no split on a pair is charged. Where a side is settled without that charge, it stays true.
        let turned = changed(&told, |search| {
            let after = end(search, second);
            search[at + 1..after].rotate_left(second - at - 1);
        });
        let uncharged = changed(&told, |search| {
            for twig in search {
                if let Twig::Leaf(leaf) = twig {
                    leaf.splits.clear();
                }
            }
        });
        refused[0] += usize::from(turned.is_err());
        refused[1] += usize::from(uncharged.is_err());
    }
    assert!(refused.iter().all(|refused| *refused > 1), "{refused:?}");
}
