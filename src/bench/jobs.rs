//! Practical jobs, made up from a seed: what a yard sells, what lies in the shed, and what is to be built.
//!
//! All figures are invented but of the sizes that the trade knows. Lengths come in steps of 300 mm. The saw takes 2.4 or 3.2 mm. New ends
//! are trimmed by 10 mm, old ones by more. Prices rise a little unevenly with length. Shed boards have any whole length in millimetres,
//! some with a bad stretch. Parts are 150 mm to 2.2 m long.

#[cfg(not(target_arch = "wasm32"))]
use super::Instance;
use crate::problem::{Board, End, Fit, Problem, Run, Section, Shape, Ticks};

const MILLIMETRE: Ticks = 3_200;

/// How large the jobs are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JobSize {
    /// 4 to 16 part lengths, up to 12 lengths on sale.
    Small,
    /// 17 to 30 part lengths.
    Medium,
    /// 40 to 60 part lengths, hundreds of parts.
    Large,
    /// 100 part lengths, some 900 parts, 50 shed boards: a workshop's week.
    Week,
    /// 300 part lengths, some 3 000 parts, 200 shed boards: a workshop's month.
    Month,
}

impl JobSize {
    /// Every size, by which `--size` is understood and its fault is worded.
    pub(super) const ALL: [JobSize; 5] = [
        JobSize::Small,
        JobSize::Medium,
        JobSize::Large,
        JobSize::Week,
        JobSize::Month,
    ];

    /// The size of a name: small, medium, large, week or month.
    pub fn named(name: &str) -> Option<JobSize> {
        Self::ALL.into_iter().find(|size| size.name() == name)
    }

    /// Its name.
    pub(super) fn name(self) -> &'static str {
        match self {
            JobSize::Small => "small",
            JobSize::Medium => "medium",
            JobSize::Large => "large",
            JobSize::Week => "week",
            JobSize::Month => "month",
        }
    }
}

/// `count` jobs of a size; equal seeds give equal jobs.
#[cfg(not(target_arch = "wasm32"))]
pub fn practical_jobs(size: JobSize, seed: u64, count: usize) -> Vec<Instance> {
    let class = format!("jobs_{}", size.name());
    (0..count as u64)
        .map(|index| Instance {
            class: class.clone(),
            name: format!("{class}_{seed}_{index}"),
            text: format!("practical {} {seed} {index}", size.name()),
            problem: job(size, seed, index),
            published: (None, None),
        })
        .collect()
}

/// The job that the words `practical SIZE SEED INDEX` name; `None` for any other text.
pub fn practical(text: &str) -> Option<Problem> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let &["practical", size, seed, index] = words.as_slice() else {
        return None;
    };
    Some(job(
        JobSize::named(size)?,
        seed.parse().ok()?,
        index.parse().ok()?,
    ))
}

fn job(size: JobSize, seed: u64, index: u64) -> Problem {
    let random = &mut Random::new(
        seed.wrapping_mul(1_000_003)
            .wrapping_add(index)
            .wrapping_add(size as u64 * 77_777),
    );
    let (parts, most_wanted) = match size {
        JobSize::Small => (random.between(4, 16), 12),
        JobSize::Medium => (random.between(17, 30), 14),
        JobSize::Large => (random.between(40, 60), 16),
        JobSize::Week => (100, 17),
        JobSize::Month => (300, 19),
    };
    let kerf = [7_680, 10_240][random.between(0, 1) as usize];
    let trim = 10 * MILLIMETRE;
    let mut lengths: Vec<Ticks> = Vec::new();
    while (lengths.len() as i64) < parts {
        let longest = if random.between(0, 4) == 0 {
            2_200
        } else {
            1_200
        };
        let length = random.between(150, longest) * MILLIMETRE;
        if !lengths.contains(&length) {
            lengths.push(length);
        }
    }
    let demand = lengths
        .iter()
        .map(|_| random.between(1, most_wanted) as u32)
        .collect();
    let fits = lengths
        .iter()
        .map(|&length| {
            Some(Fit {
                length,
                ends: [End::Square; 2],
            })
        })
        .collect();
    let mut boards = Vec::new();
    let on_sale = random.between(3, 12);
    let per_metre = random.between(180, 520);
    let mut sold: Vec<i64> = Vec::new();
    while (sold.len() as i64) < on_sale {
        let length = if sold.is_empty() {
            2_400
        } else {
            1_800 + 300 * random.between(0, 14)
        };
        if !sold.contains(&length) {
            sold.push(length);
        }
    }
    sold.sort_unstable();
    for millimetres in sold {
        let dear = if millimetres > 4_800 {
            random.between(103, 115)
        } else {
            100
        };
        let price = per_metre * millimetres * dear / 100_000 + random.between(-25, 25);
        let supply = (random.between(0, 3) == 0).then(|| random.between(3, 12) as u32);
        let supply = if millimetres == 2_400 { None } else { supply };
        boards.push(Board {
            section: 0,
            shape: Shape::Runs(vec![Run {
                length: millimetres * MILLIMETRE - 2 * trim,
                tail: trim,
            }]),
            cost: vec![1, price],
            supply,
            lost: trim,
            factory: None,
        });
    }
    let in_the_shed = match size {
        JobSize::Small | JobSize::Medium | JobSize::Large => random.between(0, 12),
        JobSize::Week => 50,
        JobSize::Month => 200,
    };
    for _ in 0..in_the_shed {
        let length = random.between(500, 3_900) * MILLIMETRE;
        let trim = 25 * MILLIMETRE;
        let clear = length - 2 * trim;
        let bad = if random.between(0, 3) == 0 {
            random.between(20, 90) * MILLIMETRE
        } else {
            0
        };
        let at = random.between(100, clear / MILLIMETRE - 100) * MILLIMETRE;
        let runs = if bad > 0 && at + bad + 100 * MILLIMETRE < clear {
            vec![
                Run {
                    length: at,
                    tail: 0,
                },
                Run {
                    length: clear - at - bad,
                    tail: trim,
                },
            ]
        } else {
            vec![Run {
                length: clear,
                tail: trim,
            }]
        };
        let lost = length - runs.iter().map(|run| run.length + run.tail).sum::<Ticks>();
        boards.push(Board {
            section: 0,
            shape: Shape::Runs(runs),
            cost: vec![0, 0],
            supply: Some(1),
            lost,
            factory: None,
        });
    }
    Problem {
        demand,
        sections: vec![Section {
            kerf,
            fits,
            mitres: Vec::new(),
            reversible: true,
            keep: 300 * MILLIMETRE,
            posts: Vec::new(),
        }],
        boards,
        floors: Vec::new(),
    }
}

/// Random numbers that are the same everywhere (SplitMix64, Steele and others 2014).
struct Random(u64);

impl Random {
    fn new(seed: u64) -> Self {
        Random(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// From `low` to `high`, both included.
    fn between(&mut self, low: i64, high: i64) -> i64 {
        low + (self.next() % (high.max(low) - low + 1) as u64) as i64
    }
}
