//! Made-up problems, the same every time, and someone who waits for ever.

use crate::aims::{Aims, ScrapAim};
use crate::objective::Objective;
use crate::problem::{Board, End, Fit, Mitre, Problem, Run, Section, Shape};
use crate::random::SplitMix;
use crate::watch::Watch;

/// Nothing is asked of the scrap.
pub(crate) const NO_SCRAP: Aims = Aims {
    scrap: ScrapAim::Ignored,
};

/// What is made least in turn.
pub(crate) const OBJECTIVES: [Objective; 3] = [
    Objective::Cost(0),
    Objective::Cost(1),
    Objective::UsedLength,
];

/// Nobody is in a hurry.
pub(crate) struct Forever;

impl Watch for Forever {
    fn expired(&mut self) -> bool {
        false
    }
}

/// The one generator of the laws.
pub(crate) struct Random(SplitMix);

impl Random {
    pub(crate) fn new(seed: u64) -> Self {
        Random(SplitMix(seed))
    }

    /// An integer from 0 to below `end`.
    pub(crate) fn below(&mut self, end: i64) -> i64 {
        self.0.up_to(end as f64) as i64
    }

    /// True once in so many times.
    pub(crate) fn once_in(&mut self, times: i64) -> bool {
        self.below(times) == 0
    }
}

/// So many parts of 20 to 50, each up to `most` times, from lengths of 100 without limit.
pub(crate) fn of_one_length(random: &mut Random, parts: usize, most: i64) -> Problem {
    let lengths: Vec<i64> = (0..parts).map(|_| 20 + random.below(31)).collect();
    let wanted = lengths.into_iter();
    let wanted: Vec<(i64, u32)> = wanted
        .map(|length| (length, 1 + random.below(most) as u32))
        .collect();
    of_lengths(100, &wanted)
}

/// Parts, as (length, how many), from boards of one length without limit.
pub(crate) fn of_lengths(board: i64, wanted: &[(i64, u32)]) -> Problem {
    let ends = [End::Square; 2];
    let fits = wanted.iter();
    Problem {
        demand: wanted.iter().map(|&(_, count)| count).collect(),
        sections: vec![Section {
            fits: fits
                .map(|&(length, _)| Some(Fit { length, ends }))
                .collect(),
            ..Section::default()
        }],
        boards: vec![Board {
            section: 0,
            shape: Shape::Runs(vec![Run {
                length: board,
                tail: 0,
            }]),
            cost: vec![1],
            supply: None,
            lost: 0,
            factory: None,
        }],
        floors: Vec::new(),
    }
}

/// Three parts, each once or twice, square or mitred, on one or two sections; a few boards of any shape, limited or not, at two levels of cost.
pub(crate) fn of_all_sorts(random: &mut Random) -> Problem {
    let parts = 3;
    let lengths: Vec<i64> = (0..parts).map(|_| 20 + random.below(30)).collect();
    let sections: Vec<Section> = (0..1 + random.below(2))
        .map(|index| section(random, &lengths, index == 0))
        .collect();
    let boards = 2 + random.below(3);
    let boards = (0..boards).map(|_| board(random, sections.len())).collect();
    Problem {
        demand: (0..parts).map(|_| 1 + random.below(2) as u32).collect(),
        sections,
        boards,
        floors: Vec::new(),
    }
}

fn section(random: &mut Random, lengths: &[i64], takes_all: bool) -> Section {
    let reversible = random.once_in(2);
    let mitres: Vec<Mitre> = (0..random.below(3) as usize)
        .map(|partner| Mitre {
            kerf: 3 + random.below(3),
            saving: if reversible { 4 + random.below(6) } else { 0 },
            partner,
        })
        .collect();
    let fits = lengths
        .iter()
        .map(|&length| {
            let mut end = || match mitres.len() {
                0 => End::Square,
                _ if random.once_in(2) => End::Square,
                angles => End::Mitre(random.below(angles as i64) as usize),
            };
            let ends = [end(), end()];
            (takes_all || !random.once_in(4)).then_some(Fit { length, ends })
        })
        .collect();
    Section {
        kerf: 2,
        fits,
        mitres,
        reversible,
        keep: 15 + random.below(20),
        posts: Vec::new(),
    }
}

fn board(random: &mut Random, sections: usize) -> Board {
    let length = 50 + random.below(90);
    let shape = match random.below(4) {
        0 => {
            let mut each = || length / 2 + random.below(length / 2);
            Shape::OneCut {
                together: length,
                each: [each(), each()],
            }
        }
        1 => {
            let first = 20 + random.below(length - 30);
            let mut run = |length| Run {
                length,
                tail: random.below(4),
            };
            Shape::Runs(vec![run(first), run(length - first)])
        }
        _ => Shape::Runs(vec![Run {
            length,
            tail: random.below(4),
        }]),
    };
    let is_free = random.once_in(3);
    let dear = length * 3 + random.below(50);
    Board {
        section: random.below(sections as i64) as usize,
        shape,
        cost: if is_free { vec![0, 0] } else { vec![1, dear] },
        supply: (is_free || random.once_in(3)).then(|| 1 + random.below(3) as u32),
        lost: random.below(5),
        factory: None,
    }
}

/// One board on which many parts lie in one run.
pub(crate) fn long_board() -> Board {
    Board {
        section: 0,
        shape: Shape::Runs(vec![Run {
            length: 1_000,
            tail: 0,
        }]),
        cost: vec![1],
        supply: None,
        lost: 0,
        factory: None,
    }
}
