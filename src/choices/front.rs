//! The plans of one group of sections that are not beaten.
//!
//! **Idea.** Everything is within a box: at most so many lengths, at most so much timber. The cheapest plan in a box, of those the one with the fewest
//! lengths, of those the one with the least timber, is beaten by none: what would beat it is in the box, and costs as much, and so on. Any other plan
//! in the box that is not beaten has fewer lengths or less timber, so it is in one of two smaller boxes.
//!
//! **Invariant.** A plan that is not beaten is told of, or in a box that is open or was left unsettled. **Why it ends:** boxes get smaller, and only so
//! many are looked at.

use crate::bill;
use crate::check::{CheckedPlan, Effort, check_group};
use crate::group::groups;
use crate::job::{Allowed, Job};
use crate::length::Length;
use crate::limits;
use crate::patience::{Allowance, Patience};
use crate::plan::{Measure, Plan};
use crate::planner::{Planned, plan_group_in_full};
use crate::progress::{Progress, kept_offcuts};
use crate::report::alike;

/// How much work the check of one plan may be.
const CHECK: Effort = Effort(60_000_000);

/// Times at which one plan may look up, where nothing else limits it.
const ASKS: u64 = 8_000;

/// Most plans that are made for one group.
const MOST_PLANS: usize = 60;

/// What a plan of one group comes to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Point {
    pub lengths: i64,
    /// In hundredths; zero where a price is missing.
    pub money: i64,
    /// In ticks.
    pub timber: i64,
    pub scrap: Length,
    pub kept: usize,
    pub kept_length: Length,
    pub settings: usize,
    /// Whether it is shown that nothing beats it.
    pub shown: bool,
    pub kept_by: KeptBy,
}

/// How a job has a plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KeptBy {
    /// As it is today.
    Today,
    /// By its aim alone.
    Aim,
    /// By what may be bought.
    Allowed(Within),
}

/// A box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Within {
    pub lengths: i64,
    /// In ticks; none where any is allowed.
    pub timber: Option<i64>,
}

#[derive(Clone)]
enum Answer {
    /// The best plan.
    Best(Point),
    /// There is none, which is shown.
    Nothing,
    /// It was not settled.
    Unsettled,
}

/// The plans of one group that are not beaten.
pub struct Front {
    pub sections: Vec<usize>,
    /// Whether every length at the yard has a price, or nothing is bought.
    pub priced: bool,
    /// The plan as it is today, then the others.
    pub points: Vec<Point>,
    open: Vec<Within>,
    known: Vec<(Within, Answer)>,
    /// What all sums of lengths at the yard are multiples of. A limit between two sums could only be told apart from a sum by figures without end.
    step: i64,
    /// What the aim alone comes to, once that is known.
    aim: Option<[i64; 3]>,
    settled: bool,
}

impl Front {
    /// Knows no more yet than the plan as it is today.
    pub fn today(job: &Job, sections: &[usize], checked: &CheckedPlan) -> Front {
        let today = Point::of(job, sections, checked, KeptBy::Today);
        let is_here = |section: usize| sections.contains(&section);
        let lines = || job.yard.iter().filter(|line| is_here(line.section));
        let buys = today.lengths > 0;
        let priced = lines().all(|line| line.price.is_some());
        let divisor = |mut one: i64, mut other: i64| {
            while other != 0 {
                (one, other) = (other, one % other);
            }
            one
        };
        let step = lines().map(|line| line.length.ticks()).fold(0, divisor);
        let allows = |section: &usize| job.sections[*section].allowed != Allowed::default();
        let everything = Within {
            lengths: limits::BOARDS.most as i64,
            timber: None,
        };
        Front {
            sections: sections.to_vec(),
            priced: priced || !buys,
            step: step.max(1),
            aim: (!sections.iter().any(allows)).then(|| today.figures()),
            points: vec![Point {
                shown: !buys,
                ..today
            }],
            open: if buys { vec![everything] } else { Vec::new() },
            known: Vec::new(),
            settled: true,
        }
    }

    /// Whether all plans that are not beaten are known, which is shown.
    pub fn is_complete(&self) -> bool {
        self.open.is_empty() && self.settled
    }

    /// Looks for one more plan; whether there is more to look for.
    pub fn look_on(&mut self, job: &Job, allowance: &mut Allowance) -> bool {
        if self.open.is_empty() {
            return false;
        }
        if allowance.is_over() || self.known.len() >= MOST_PLANS {
            self.settled = false;
            return false;
        }
        if self.aim.is_none() {
            let plain = self.planned(job, Allowed::default(), KeptBy::Aim, allowance);
            self.aim = Some(plain.map_or([-1; 3], |(point, _)| point.figures()));
        }
        // Lengths and money first; how timber bears on them after that.
        let next = self.open.iter().position(|open| open.timber.is_none());
        let next = self.open.remove(next.unwrap_or(0));
        if self.open.iter().any(|open| open.holds(next)) {
            return true;
        }
        let answer = match self.known_of(next) {
            Some(answer) => answer,
            None => {
                let answer = self.asked(job, next, allowance);
                self.known.push((next, answer.clone()));
                answer
            }
        };
        match answer {
            Answer::Nothing => {}
            Answer::Unsettled => self.settled = false,
            Answer::Best(point) => {
                let lengths = Within {
                    lengths: point.lengths - 1,
                    ..next
                };
                let timber = Within {
                    timber: Some(point.timber - self.step),
                    ..next
                };
                self.open.push(lengths);
                if self.priced {
                    self.open.push(timber);
                }
                self.add(point);
            }
        }
        true
    }

    fn add(&mut self, point: Point) {
        let figures = point.figures();
        match self
            .points
            .iter_mut()
            .find(|other| other.figures() == figures)
        {
            Some(known) => known.shown |= point.shown,
            None if self.aim == Some(figures) => self.points.push(Point {
                kept_by: KeptBy::Aim,
                ..point
            }),
            None => self.points.push(point),
        }
    }

    /// What is known of a box from a larger one.
    fn known_of(&self, within: Within) -> Option<Answer> {
        let mut known = self.known.iter();
        let known = known.find(|(of, answer)| {
            of.holds(within)
                && match answer {
                    Answer::Best(point) => within.has(point),
                    Answer::Nothing => true,
                    Answer::Unsettled => false,
                }
        });
        known.map(|(_, answer)| answer.clone())
    }

    fn asked(&self, job: &Job, within: Within, allowance: &mut Allowance) -> Answer {
        let allowed = Allowed {
            lengths: u32::try_from(within.lengths).ok(),
            timber: within.timber.map(Length::from_ticks),
        };
        let kept_by = KeptBy::Allowed(within);
        match self.planned(job, allowed, kept_by, allowance) {
            Some((point, _)) if within.has(&point) => Answer::Best(Point {
                kept_by: KeptBy::Allowed(Within {
                    lengths: point.lengths,
                    timber: within.timber.map(|_| point.timber),
                }),
                ..point
            }),
            Some((_, true)) => Answer::Nothing,
            _ => Answer::Unsettled,
        }
    }

    /// The plan of the job where so much may be bought of the group, and whether it is shown that every plan passes that.
    fn planned(
        &self,
        job: &Job,
        allowed: Allowed,
        kept_by: KeptBy,
        allowance: &mut Allowance,
    ) -> Option<(Point, bool)> {
        let mut other = job.clone();
        for (at, &section) in self.sections.iter().enumerate() {
            other.sections[section].allowed = match at {
                0 => allowed,
                _ => Allowed::default(),
            };
        }
        let mut groups = groups(&other).into_iter();
        let group = groups.find(|group| group.sections == self.sections)?;
        let mut unheard = |_: &Plan| {};
        let limits = allowance.left(ASKS).with_scrap();
        let mut patience = Patience::new(limits, allowance.clock(), &mut unheard);
        let planned = plan_group_in_full(&other, &group, &mut patience);
        allowance.take(patience.asked());
        let Planned::Found(plan) = planned else {
            return None;
        };
        let checked = check_group(&other, &self.sections, plan, CHECK).ok()?;
        let levels = || checked.groups().iter().flat_map(|group| &group.levels);
        let mut bought = levels().filter(|level| level.measure != Measure::Scrap);
        let shown = bought.all(|level| level.is_shown());
        // One level alone tells: to be within it, another that was put first would have to be passed.
        let passed = levels().find(|level| level.measure.is_beyond() && level.value > 0);
        let passes = passed.is_some_and(|level| level.is_shown());
        let point = Point::of(&other, &self.sections, &checked, kept_by);
        Some((Point { shown, ..point }, passes))
    }
}

impl Within {
    fn holds(self, other: Within) -> bool {
        let timber = match (self.timber, other.timber) {
            (None, _) => true,
            (Some(_), None) => false,
            (Some(own), Some(other)) => other <= own,
        };
        timber && other.lengths <= self.lengths
    }

    fn has(self, point: &Point) -> bool {
        point.lengths <= self.lengths && self.timber.is_none_or(|timber| point.timber <= timber)
    }
}

impl Point {
    /// What a plan comes to in a group of sections.
    fn of(job: &Job, sections: &[usize], checked: &CheckedPlan, kept_by: KeptBy) -> Point {
        let is_here = |board: usize| sections.contains(&checked.boards()[board].section);
        let boards = (0..checked.boards().len()).filter(|&board| is_here(board));
        let boards: Vec<usize> = boards.collect();
        let plan = Plan {
            boards: boards
                .iter()
                .map(|&board| checked.plan().boards[board].clone())
                .collect(),
            proofs: Vec::new(),
        };
        let kept = kept_offcuts(job, &plan, &Progress::default());
        // Whole packs are bought, and the yard's cuts are paid for.
        let bought = bill::bought(job, &plan);
        let found = boards.iter().map(|&board| &checked.boards()[board]);
        Point {
            lengths: bought.iter().map(|(_, count)| *count as i64).sum(),
            money: bought
                .iter()
                .map(|&(line, count)| job.paid(line, count).unwrap_or_default().minor())
                .sum(),
            timber: bought
                .iter()
                .map(|&(line, count)| job.yard[line].length.ticks() * count as i64)
                .sum(),
            scrap: found.map(|board| board.scrap + board.mitre_waste).sum(),
            kept: kept.len(),
            kept_length: kept.iter().map(|rest| rest.length).sum(),
            settings: alike(job, checked)
                .into_iter()
                .filter(|(first, _)| is_here(*first))
                .count(),
            shown: false,
            kept_by,
        }
    }

    fn figures(&self) -> [i64; 3] {
        [self.lengths, self.money, self.timber]
    }
}
