//! Proofs by pairs: what the search over pairs tells, the checker shows again, and what is forged of it is refused.
//!
//! The planner settles small problems by other means, so the search is asked for its proof alone. Where a problem is settled at the root, decisions
//! are put in at random with the prices of the root, under which they hold as well: a joined block is worth what its two are.

mod common;

use common::hand::{board, job, one_run, proof};
use common::planned;
use common::random::Random;
use lengthwise::certificate::{
    Branch, Certificate, LevelProof, MOST_PAIR_BYTES, MOST_PAIR_FIGURE, Pairing,
};
use lengthwise::check::{CheckedPlan, Lie, Misshape, Reason, Spot, Standing, check};
use lengthwise::group::groups;
use lengthwise::io::plan_file;
use lengthwise::job::Job;
use lengthwise::plan::{Level, Measure, Plan, Source};
use lengthwise::planner::Planned;
use lengthwise::solve::{Watch, proof_by_pairs};

struct Forever;

impl Watch for Forever {
    fn expired(&mut self) -> bool {
        false
    }
}

/// Parts (length, how many) from lengths of one kind that the saw takes nothing of.
fn of_one_length(length: i64, parts: &[(i64, u32)]) -> Job {
    job(|draft| {
        draft.saw.kerf = Some("0".into());
        draft.section("batten", |section| section.trim = Some("0".into()));
        draft.yard("batten", &length.to_string(), None, None);
        for (at, (part, wanted)) in parts.iter().enumerate() {
            let (label, length) = (format!("part {at}"), part.to_string());
            draft.part(&label, "batten", &length, &wanted.to_string(), "square");
        }
    })
}

/// Published problems that one length less would do for in fractions: Fieldhouse's, tenfold, and one of 20 items, N53 0918. Names from memory.
fn published() -> [Job; 2] {
    let items = [
        697, 679, 667, 643, 569, 520, 496, 492, 484, 442, 368, 351, 339, 335, 332, 331, 310, 213,
        197, 190,
    ];
    [
        of_one_length(300, &[(150, 3), (100, 5), (60, 9)]),
        of_one_length(1_000, &items.map(|item| (item, 1))),
    ]
}

/// Parts near halves, thirds and so on of a length, one of them twice in the list.
fn made_up(random: &mut Random) -> Job {
    let length = random.between(100, 400);
    let parts = (0..random.between(2, 4)).map(|_| {
        let part = length / random.between(2, 6) + random.between(-2, 2);
        (part, random.between(1, 5))
    });
    let mut parts: Vec<(i64, u32)> = parts.collect();
    parts.push((parts[0].0, random.between(1, 3)));
    of_one_length(length, &parts)
}

/// The fewest lengths, and the search that shows that one less does not do; `None` where another bound says so at once.
fn told(job: &Job) -> Option<(i64, Plan, Vec<Pairing>)> {
    let Planned::Found(plan) = planned(job) else {
        panic!("there is a plan")
    };
    let fewest = plan.boards.len() as i64;
    let group = &groups(job)[0];
    let branch = proof_by_pairs(&group.problem, fewest - 1, 1_000, &mut Forever)?;
    let certificate = certificate(fewest, branch);
    let certificate = group.certificate_of_job(job, &certificate);
    let Branch::Paired { search, .. } = certificate.levels[0].tree[0].clone() else {
        panic!("a proof by pairs")
    };
    Some((fewest, plan, search))
}

fn certificate(bound: i64, branch: Branch) -> Certificate {
    let claim = LevelProof {
        level: 0,
        earlier: Vec::new(),
        bound,
        shown: bound,
        lifted: true,
        tree: vec![branch],
    };
    Certificate {
        levels: vec![claim],
    }
}

/// What the checker says of a plan with such a search for its proof; it is written and read before.
fn judged(job: &Job, plan: &Plan, search: &[Pairing]) -> Result<CheckedPlan, Vec<Lie>> {
    let value = plan.boards.len() as i64;
    let leaf = lengthwise::certificate::Leaf {
        scale: 1,
        parts: vec![0; job.parts.len()],
        earlier: Vec::new(),
        splits: Vec::new(),
    };
    let search = search.to_vec();
    let level = Level {
        measure: Measure::Bought,
        value,
        bound: value,
    };
    let certificate = certificate(value, Branch::Paired { leaf, search });
    let plan = Plan {
        boards: plan.boards.clone(),
        proofs: vec![proof(&[0], vec![level], Some(certificate))],
    };
    let read = plan_file::read(&plan_file::write(&plan));
    let read = read.expect("it is a plan file");
    assert_eq!(read, plan);
    check(job, read)
}

#[track_caller]
fn holds(job: &Job, plan: &Plan, search: &[Pairing]) {
    let checked = judged(job, plan, search).expect("the figures hold");
    let level = &checked.groups()[0].levels[0];
    assert_eq!(level.standing(), Standing::ReProved, "{search:?}");
}

/// A node as a search over pairs tells it: how many are left of each block, and what is apart.
#[derive(Clone)]
struct Node {
    left: Vec<u32>,
    apart: Vec<[usize; 2]>,
    prices: Vec<i64>,
}

impl Node {
    fn of(job: &Job, prices: &[i64]) -> Node {
        Node {
            left: job.parts.iter().map(|part| part.quantity).collect(),
            apart: Vec::new(),
            prices: prices.to_vec(),
        }
    }

    /// Both sides of a decision on parts that no other part of the job is as long as; `None` where it cannot be made.
    fn sides(&self, [one, other]: [usize; 2]) -> Option<[Node; 2]> {
        let [mut together, mut apart] = [self.clone(), self.clone()];
        apart.apart.push([one.min(other), one.max(other)]);
        if self.apart.contains(&[one.min(other), one.max(other)]) {
            return None;
        }
        for block in [one, other] {
            together.left[block] = together.left[block].checked_sub(1)?;
        }
        for [first, second] in &self.apart {
            for (block, kept) in [(first, second), (second, first)] {
                if [one, other].contains(block) {
                    together.apart.push([*kept, self.left.len()]);
                }
            }
        }
        together.left.push(1);
        together.prices.push(self.prices[one] + self.prices[other]);
        Some([together, apart])
    }

    /// A search with so many decisions at most.
    fn grown(&self, random: &mut Random, scale: i64, decisions: usize) -> Vec<Pairing> {
        let pair = [random.below(self.left.len()), random.below(self.left.len())];
        let sides = self.sides(pair).filter(|_| decisions > 0);
        let Some([together, apart]) = sides else {
            let prices = self.prices.clone();
            return vec![Pairing::Leaf { scale, prices }];
        };
        let left = random.below(decisions);
        let rest = decisions - 1 - left;
        [
            vec![Pairing::Split(pair)],
            together.grown(random, scale, left),
            apart.grown(random, scale, rest),
        ]
        .concat()
    }
}

/// The root's prices, where it is settled at the root.
fn settled_at_once(search: &[Pairing]) -> Option<(i64, &[i64])> {
    match search {
        [Pairing::Leaf { scale, prices }] => Some((*scale, prices)),
        _ => None,
    }
}

#[test]
fn a_search_that_splits_is_told_and_shown_again() {
    for job in published() {
        let (_, plan, search) = told(&job).expect("a proof");
        assert!(matches!(search[0], Pairing::Split(_)), "{search:?}");
        holds(&job, &plan, &search);
    }
}

#[test]
fn every_search_that_is_told_is_shown_again_and_so_are_decisions_put_in() {
    let mut random = Random(41);
    let (mut shown, mut decisions) = (0, 0);
    for _ in 0..400 {
        let job = made_up(&mut random);
        let Some((_, plan, search)) = told(&job) else {
            continue;
        };
        holds(&job, &plan, &search);
        shown += 1;
        let Some((scale, prices)) = settled_at_once(&search) else {
            continue;
        };
        // The part that is there twice counts as its first, of which there are as many as of both.
        let mut node = Node::of(&job, prices);
        let twice = node.left.len() - 1;
        node.left[0] += node.left[twice];
        node.left[twice] = 0;
        for _ in 0..4 {
            let grown = node.grown(&mut random, scale, 5);
            // What no board has room for together is no decision, and is not told.
            let room = job.yard[0].length;
            let fits = grown_fits(&job, &grown, room.ticks());
            if fits {
                holds(&job, &plan, &grown);
                decisions += grown.len() / 2;
            }
        }
    }
    assert!(shown > 30 && decisions > 60, "{shown} {decisions}");
}

/// Whether all blocks that are joined on some way fit a board.
fn grown_fits(job: &Job, search: &[Pairing], room: i64) -> bool {
    let lengths: Vec<i64> = job.parts.iter().map(|part| part.length.ticks()).collect();
    let mut waiting = vec![lengths];
    for pairing in search {
        let here = waiting.pop().expect("a node is missing");
        if let Pairing::Split([one, other]) = *pairing {
            let mut together = here.clone();
            together.push(here[one] + here[other]);
            if together.last().is_some_and(|joined| *joined > room) {
                return false;
            }
            waiting.extend([here, together]);
        }
    }
    true
}

/// The lie of a node that is misshapen.
fn misshapen(twig: usize, what: Misshape) -> Vec<Lie> {
    vec![Lie::MisshapenFigures {
        measure: Measure::Bought,
        spot: Some(Spot {
            branch: 0,
            twig: Some(twig),
        }),
        what,
    }]
}

/// The lie of a search that does not show six lengths; the prices beside it show none.
fn not_shown(claimed: i64) -> Vec<Lie> {
    vec![Lie::BoundNotShown {
        measure: Measure::Bought,
        claimed,
        shown: 0,
    }]
}

#[test]
fn each_forged_search_is_refused_for_what_is_wrong_with_it() {
    let job = &published()[0];
    let (_, plan, search) = told(job).expect("a proof");
    // One decision and two leaves, in which all is as it should be.
    let [
        Pairing::Split(pair),
        Pairing::Leaf { scale, prices },
        Pairing::Leaf { prices: apart, .. },
    ] = &search[..]
    else {
        panic!("one decision: {search:?}")
    };
    assert_eq!((prices.len(), apart.len()), (4, 3));
    let (split, together, parted) = (&search[0], &search[1], &search[2]);
    let refused = |forged: &[&Pairing], lies: Vec<Lie>| {
        let forged: Vec<Pairing> = forged.iter().map(|&node| node.clone()).collect();
        let judged = judged(job, &plan, &forged).map(|_| "believed");
        assert_eq!(judged, Err(lies), "{forged:?}");
    };
    let leaf = |scale: i64, prices: Vec<i64>| Pairing::Leaf { scale, prices };
    // A block that there is not, on the way or at all; one that the way has not yet.
    for block in [3, 4, usize::MAX] {
        let wrong = Pairing::Split([pair[0], block]);
        // A greater number is none that a file can hold.
        if block < 9 {
            refused(&[&wrong, together, parted], misshapen(0, Misshape::Pair));
        }
    }
    // A leaf taken away, a side missing, all missing; a leaf too many.
    refused(&[split, together], misshapen(2, Misshape::TooShort));
    refused(&[split, parted], misshapen(1, Misshape::Parts));
    refused(&[split], misshapen(1, Misshape::TooShort));
    refused(&[], misshapen(0, Misshape::TooShort));
    let one_more = [split, together, parted, parted];
    refused(&one_more, misshapen(3, Misshape::TooLong));
    // The sides change places: a joined block has a price where there is none.
    refused(&[split, parted, together], misshapen(1, Misshape::Parts));
    // Figures that are none.
    let with = |change: &dyn Fn(&mut Vec<i64>)| {
        let mut prices = apart.clone();
        change(&mut prices);
        leaf(*scale, prices)
    };
    let wrong = with(&|prices| prices[1] = -1);
    refused(
        &[split, together, &wrong],
        misshapen(2, Misshape::BelowZero),
    );
    let wrong = leaf(-1, apart.clone());
    refused(
        &[split, together, &wrong],
        misshapen(2, Misshape::BelowZero),
    );
    let wrong = with(&|prices| prices[1] = MOST_PAIR_FIGURE + 1);
    refused(&[split, together, &wrong], misshapen(2, Misshape::TooGreat));
    let wrong = leaf(MOST_PAIR_FIGURE + 1, apart.clone());
    refused(&[split, together, &wrong], misshapen(2, Misshape::TooGreat));
    // A price raised until a board holds too much, or prices that are worth too little. Where no board holds two halves none holds one, for it would waste
    // more than all may: its price is free.
    for part in 1..3 {
        let wrong = with(&|prices| prices[part] = scale + 1);
        refused(&[split, together, &wrong], not_shown(6));
    }
    let wrong = with(&|prices| prices.fill(0));
    refused(&[split, together, &wrong], not_shown(6));
    let wrong = leaf(scale * 2, apart.clone());
    refused(&[split, together, &wrong], not_shown(6));
    // The prices of a side that is left out hold no more without its decision.
    refused(&[parted], not_shown(6));
    // A join of blocks that are apart, and of a part with itself where they are.
    let again = [split, together, split, together, parted];
    refused(&again, not_shown(6));
    // A joined block of which there is one, with itself.
    let itself = Pairing::Split([3, 3]);
    let mut five = prices.clone();
    five.push(prices[3] * 2);
    let five = leaf(*scale, five);
    refused(&[split, &itself, &five, together, parted], not_shown(6));
}

#[test]
fn a_search_of_more_bytes_than_are_read_stays_a_claim() {
    let job = &published()[0];
    let (_, plan, search) = told(job).expect("a proof");
    let [split, together, apart] = &search[..] else {
        panic!("one decision: {search:?}")
    };
    // Whether the same decision may be made again is not looked at, since no node is.
    let each = split.bytes() + together.bytes();
    let mut forged = Vec::new();
    for _ in 0..MOST_PAIR_BYTES / each + 1 {
        forged.extend([split.clone(), together.clone()]);
    }
    forged.push(apart.clone());
    let checked = judged(job, &plan, &forged).expect("its cuts hold");
    let level = &checked.groups()[0].levels[0];
    assert_eq!(level.standing(), Standing::ClaimOnly(Reason::TooLarge));
}

/// The plan with a part on a length of its own.
fn spread_out(job: &Job, plan: &Plan) -> Option<Plan> {
    let parts = plan.boards.iter().map(|board| {
        let cuts = board.runs.iter().flat_map(|run| &run.cuts);
        cuts.map(|cut| cut.part).collect::<Vec<_>>()
    });
    let mut parts: Vec<Vec<usize>> = parts.collect();
    let from = parts.iter().position(|board| board.len() > 1)?;
    let moved = parts[from].pop()?;
    parts.push(vec![moved]);
    let boards = parts
        .iter()
        .map(|parts| board(Source::Yard(0), vec![one_run(job, Source::Yard(0), parts)]));
    Some(Plan {
        boards: boards.collect(),
        proofs: Vec::new(),
    })
}

#[test]
fn no_search_shows_more_than_is_true_however_it_is_changed() {
    let mut random = Random(97);
    let mut judgements = 0;
    for round in 0..60 {
        let job = match round % 6 {
            0 => published()[0].clone(),
            _ => made_up(&mut random),
        };
        let Some((_, plan, search)) = told(&job) else {
            continue;
        };
        let Some(worse) = spread_out(&job, &plan) else {
            continue;
        };
        for _ in 0..200 {
            let mut forged = match settled_at_once(&search) {
                Some((scale, prices)) => {
                    let decisions = random.below(4);
                    Node::of(&job, prices).grown(&mut random, scale, decisions)
                }
                None => search.clone(),
            };
            for _ in 0..random.below(3) {
                spoil(&mut random, &mut forged);
            }
            if let Ok(checked) = judged(&job, &worse, &forged) {
                let level = &checked.groups()[0].levels[0];
                assert_ne!(level.standing(), Standing::ReProved, "{forged:?}");
            }
            judgements += 1;
        }
    }
    assert!(judgements > 2_000, "{judgements}");
}

/// Changes a node, or takes it away, or has it twice.
fn spoil(random: &mut Random, search: &mut Vec<Pairing>) {
    let at = random.below(search.len());
    match random.below(6) {
        0 if search.len() > 1 => drop(search.remove(at)),
        1 => search.insert(at, search[at].clone()),
        _ => match &mut search[at] {
            Pairing::Split(pair) => pair[random.below(2usize)] = random.below(8),
            Pairing::Leaf { scale, prices } => {
                let times = random.between(1, 3);
                for price in prices {
                    let more = random.between(0, 1);
                    *price = *price * if random.once_in(3) { 1 } else { times } + more;
                }
                if random.once_in(3) {
                    *scale = (*scale / 2).max(1);
                }
            }
        },
    }
}
