//! Random small jobs, planned by us and by an independent solver: the least totals are equal, and so are the impossible jobs.
//!
//! The other solver is Cbc (COIN-OR branch and cut, called through good_lp). It solves the textbook's assignment model, after Kantorovich
//! (1939, 1960): how many of each part go on each clear run, and whether a board is bought. It shares nothing with our engine, neither
//! patterns nor bounds. Sizes are whole tenths of a millimetre, which floating point represents well enough.

mod common;

use common::random::Random;
use common::{checked, job, planned, proven};
use good_lp::solvers::coin_cbc::coin_cbc;
use good_lp::{
    Expression, ResolutionError, Solution, SolverModel, Variable, constraint, variable, variables,
};
use lengthwise::plan::Measure;
use lengthwise::planner::Planned;

/// How many jobs are compared. Each takes the other solver a fraction of a second.
const JOBS: u64 = 300;

/// Tenths of a millimetre.
type Tenths = i64;

/// How many of our units are one unit of the other solver, which then has no large numbers.
fn unit(measure: Measure) -> i64 {
    const TICKS_IN_A_TENTH: i64 = 320;
    if measure == Measure::BoughtLength {
        TICKS_IN_A_TENTH
    } else {
        1
    }
}

/// A length on sale.
struct Yard {
    length: Tenths,
    cents: i64,
    count: Option<i64>,
}

/// A board that is owned, perhaps with a bad stretch.
struct Shed {
    length: Tenths,
    bad: Option<(Tenths, Tenths)>,
    /// Its factory ends, in the words of a job, and whether the datum end and the far end are.
    ends: (&'static str, [bool; 2]),
}

/// The factory ends that a board may have.
const ENDS: [(&str, [bool; 2]); 4] = [
    ("none", [false, false]),
    ("datum end", [true, false]),
    ("far end", [false, true]),
    ("both", [true, true]),
];

/// A part at the far end is measured from there to a step of the tape, half a millimetre.
const STEP: Tenths = 5;

struct Part {
    length: Tenths,
    quantity: i64,
    /// What it is made from, in the words of a job.
    from: &'static str,
    /// Whether it stands on a factory end.
    post: bool,
}

/// What parts may be made from, with whether a new length will do and whether a board that is owned.
const FROM: [(&str, [bool; 2]); 3] = [
    ("anything", [true, true]),
    ("new timber only", [true, false]),
    ("shed boards only", [false, true]),
];

struct Small {
    kerf: Tenths,
    trim: Tenths,
    yard: Vec<Yard>,
    shed: Vec<Shed>,
    parts: Vec<Part>,
}

/// The measures, in the order in which they are minimised.
const AIMS: [(&str, [Measure; 2]); 3] = [
    ("fewest", [Measure::Bought, Measure::Money]),
    ("cheapest", [Measure::Money, Measure::Bought]),
    ("shortest", [Measure::BoughtLength, Measure::Money]),
];

#[test]
fn small_jobs_have_the_totals_that_another_solver_finds() {
    // Both outcomes are met often enough to mean something.
    let [found, impossible] = compared(|seed| Small::random(&mut Random(seed)));
    assert!(
        found >= 200 && impossible >= 15,
        "{found} planned, {impossible} impossible"
    );
}

#[test]
fn small_jobs_with_posts_have_the_totals_that_another_solver_finds() {
    let [found, impossible] = compared(|seed| {
        let mut random = Random(1_000 + seed);
        let mut small = Small::random(&mut random);
        for part in &mut small.parts {
            part.post = random.between(0, 1) == 0;
        }
        for board in &mut small.shed {
            board.ends = ENDS[random.between(0, 3) as usize];
        }
        small
    });
    assert!(
        found >= 150 && impossible >= 30,
        "{found} planned, {impossible} impossible"
    );
}

/// How many of the jobs were planned and how many are impossible, all of them as the other solver finds.
fn compared(small: impl Fn(u64) -> Small) -> [usize; 2] {
    let (mut found, mut impossible) = (0, 0);
    for seed in 1..=JOBS {
        let small = small(seed);
        let (aim, measures) = AIMS[seed as usize % AIMS.len()];
        let text = small.text(aim);
        let job = job(&text);
        match small.reference(measures) {
            Some(totals) => {
                let checked = checked(&job);
                let ours = measures.map(|measure| proven(&checked, measure) / unit(measure));
                assert_eq!(ours, totals, "job {seed}: {text}");
                found += 1;
            }
            None => {
                let ours = planned(&job);
                assert!(matches!(ours, Planned::Impossible(_)), "job {seed}: {text}");
                impossible += 1;
            }
        }
    }
    [found, impossible]
}

impl Small {
    fn random(random: &mut Random) -> Small {
        let scarce = random.between(0, 3) == 0;
        let yard = (0..random.between(1, 4)).map(|step| Yard {
            length: 18_000 + 6_000 * step,
            cents: (500 + 170 * step) + random.between(-60, 60),
            count: scarce.then(|| random.between(0, 2)),
        });
        let yard = yard.collect();
        let shed = (0..random.between(0, 3)).map(|_| {
            let length = random.between(8_000, 24_000);
            let from = random.between(1_000, length - 2_000);
            let bad =
                (random.between(0, 1) == 0).then_some((from, from + random.between(100, 900)));
            Shed {
                length,
                bad,
                ends: ENDS[0],
            }
        });
        let shed = shed.collect();
        let parts = (0..random.between(2, 5))
            .map(|_| (random.between(2_500, 16_000), random.between(1, 4)));
        let mut parts: Vec<Part> = parts
            .map(|(length, quantity)| Part {
                length,
                quantity,
                from: FROM[0].0,
                post: false,
            })
            .collect();
        let (kerf, trim) = (random.pick(&[0, 24, 32]), random.pick(&[0, 100]));
        // In every third job some parts say what they are made from; where that is the shed, they are few and short.
        if random.between(0, 2) == 0 {
            for part in &mut parts {
                part.from = FROM[random.between(0, 2) as usize].0;
                if part.from == FROM[2].0 {
                    (part.length, part.quantity) = (part.length.min(7_000), 1);
                }
            }
        }
        Small {
            kerf,
            trim,
            yard,
            shed,
            parts,
        }
    }

    /// The job as a person writes it.
    fn text(&self, aim: &str) -> String {
        let mm = |tenths: Tenths| format!("\"{}.{}\"", tenths / 10, tenths % 10);
        let joined = |rows: Vec<String>| rows.join(",");
        let yard = self.yard.iter().map(|yard| {
            let count = yard
                .count
                .map(|count| format!(r#","count":{count}"#))
                .unwrap_or_default();
            let price = format!("{}.{:02}", yard.cents / 100, yard.cents % 100);
            format!(
                r#"{{"length":{},"price":"{price}"{count}}}"#,
                mm(yard.length)
            )
        });
        let shed = self.shed.iter().enumerate().map(|(number, board)| {
            let plain = |tenths: Tenths| mm(tenths).replace('"', "");
            let bad = board
                .bad
                .map(|(from, to)| format!("{}..{}", plain(from), plain(to)))
                .unwrap_or_default();
            format!(
                r#"{{"mark":"S{number}","length":{},"trim":{},"bad":"{bad}","factory_ends":"{}"}}"#,
                mm(board.length),
                mm(self.trim),
                board.ends.0
            )
        });
        let parts = self.parts.iter().enumerate().map(|(number, part)| {
            format!(
                r#"{{"label":"p{number}","length":{},"quantity":{},"from":"{}","goes":"{}"}}"#,
                mm(part.length),
                part.quantity,
                part.from,
                if part.post { "in the ground" } else { "free" }
            )
        });
        format!(
            r#"{{"format":"lengthwise-job","aim":"{aim}","saw":{{"kerf":{}}},"sections":[{{"name":"timber","treated":"yes","trim":{}}}],
                "yard":[{}],"shed":[{}],"parts":[{}]}}"#,
            mm(self.kerf),
            mm(self.trim),
            joined(yard.collect()),
            joined(shed.collect()),
            joined(parts.collect()),
        )
    }

    /// The clear runs of a board.
    fn runs(&self, length: Tenths, bad: Option<(Tenths, Tenths)>) -> Vec<Tenths> {
        match bad {
            None => vec![length - 2 * self.trim],
            Some((from, to)) => vec![from - self.trim, length - self.trim - to],
        }
    }

    /// The least totals by the other solver, the second one among plans with the first; `None` where no plan exists.
    fn reference(&self, measures: [Measure; 2]) -> Option<[i64; 2]> {
        let first = self.least(measures[0], None)?;
        let second = self.least(measures[1], Some((measures[0], first)));
        Some([first, second.expect("the plan of the first total is one")])
    }

    fn least(&self, measure: Measure, held: Option<(Measure, i64)>) -> Option<i64> {
        let pieces: i64 = self.parts.iter().map(|part| part.quantity).sum();
        let mut all = variables!();
        let mut rows = Vec::new();
        let mut laid: Vec<Expression> = self.parts.iter().map(|_| Expression::default()).collect();
        let mut totals = [Measure::Bought, Measure::Money, Measure::BoughtLength]
            .map(|measure| (measure, Expression::default()));
        for yard in &self.yard {
            let mut before: Option<Variable> = None;
            for _ in 0..yard.count.unwrap_or(pieces).min(pieces) {
                let bought = all.add(variable().binary());
                let standing = self.standing((&mut all, &mut rows), &mut laid, 0, [true; 2]);
                let [near, far] = standing;
                for run in self.runs(yard.length, None) {
                    let need = self.need(&mut all, &mut laid, 0) + near.clone() + far.clone();
                    rows.push(constraint!(need <= (run + self.kerf) as f64 * bought));
                }
                // Copies of a length are alike; the first ones are bought first.
                if let Some(before) = before.replace(bought) {
                    rows.push(constraint!(bought <= before));
                }
                for (measure, total) in &mut totals {
                    *total += yard.measured(*measure) as f64 * bought;
                }
            }
        }
        for board in &self.shed {
            let ends = self.standing((&mut all, &mut rows), &mut laid, 1, board.ends.1);
            let runs = self.runs(board.length, board.bad);
            for (at, &run) in runs.iter().enumerate() {
                let mut need = self.need(&mut all, &mut laid, 1);
                for (end, taken) in [0, runs.len() - 1].into_iter().zip(&ends) {
                    if end == at {
                        need += taken.clone();
                    }
                }
                rows.push(constraint!(need <= (run + self.kerf).max(0) as f64));
            }
        }
        for (laid, part) in laid.into_iter().zip(&self.parts) {
            rows.push(constraint!(laid == part.quantity as f64));
        }
        let total = |wanted: Measure| {
            totals
                .iter()
                .find(|(measure, _)| *measure == wanted)
                .map(|(_, total)| total.clone())
        };
        if let Some((measure, value)) = held {
            rows.push(constraint!(
                total(measure).expect("it is counted") <= value as f64
            ));
        }
        let least = total(measure).expect("it is counted");
        match all
            .minimise(least.clone())
            .using(coin_cbc)
            .with_all(rows)
            .solve()
        {
            Ok(solution) => Some(solution.eval(least).round() as i64),
            Err(ResolutionError::Infeasible) => None,
            Err(error) => panic!("the other solver failed: {error}"),
        }
    }

    /// What parts on the datum end and the far end of one more board take of the runs there: at most one on each end that is a factory end, each with its cut
    /// and without the trim.
    fn standing(
        &self,
        (all, rows): (
            &mut good_lp::ProblemVariables,
            &mut Vec<good_lp::Constraint>,
        ),
        laid: &mut [Expression],
        owned: usize,
        ends: [bool; 2],
    ) -> [Expression; 2] {
        [0, 1].map(|end| {
            let mut taken = Expression::default();
            let mut here = Expression::default();
            for (part, laid) in self.parts.iter().zip(laid.iter_mut()) {
                if part.post && part.may_be_made_from(owned) && ends[end] {
                    let stands = all.add(variable().binary());
                    let step = if end == 1 { STEP } else { 1 };
                    let length = (part.length + step - 1) / step * step;
                    taken += (length + self.kerf - self.trim) as f64 * stands;
                    here += stands;
                    *laid += stands;
                }
            }
            rows.push(constraint!(here <= 1.0));
            taken
        })
    }

    /// What the parts on one more run need, each with its cut; they are counted in `laid`. The run is of a new length, 0, or of a board that is
    /// owned, 1, and holds only parts that may be made from it.
    fn need(
        &self,
        all: &mut good_lp::ProblemVariables,
        laid: &mut [Expression],
        owned: usize,
    ) -> Expression {
        let mut need = Expression::default();
        for (part, laid) in self.parts.iter().zip(laid) {
            let lies = part.may_be_made_from(owned) && !part.post;
            let most = if lies { part.quantity } else { 0 };
            let here = all.add(variable().integer().min(0).max(most as f64));
            need += (part.length + self.kerf) as f64 * here;
            *laid += here;
        }
        need
    }
}

impl Part {
    /// Whether it may be made from a new length, 0, or from a board that is owned, 1.
    fn may_be_made_from(&self, owned: usize) -> bool {
        let mut from = FROM.iter();
        from.any(|(word, takes)| *word == self.from && takes[owned])
    }
}

impl Yard {
    fn measured(&self, measure: Measure) -> i64 {
        match measure {
            Measure::Bought | Measure::LengthsBeyond => 1,
            Measure::Money => self.cents,
            Measure::BoughtLength | Measure::TimberBeyond => self.length,
            Measure::Scrap => 0,
        }
    }
}
