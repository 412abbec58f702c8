//! Plans a job: solves each group of sections and lays the solutions out on boards.
//!
//! [`plan_job`] does all of it. The page plans groups side by side; it calls [`plan_group`] for each, and [`joined`] at the end. The result
//! is a [`Plan`], which counts only once the checker has accepted it.

use crate::group::{Group, groups};
use crate::job::{Aim, Job};
use crate::layout::lay_boards;
use crate::longest::longest_kept;
use crate::plan::{Level, Plan, PlannedBoard, Proof};
use crate::problem::Cutting;
use crate::reserve::better_kept;
use crate::solve::{Outcome, Progress, Shortage, Watch, solve};
use order::Set;

/// How planning ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Planned {
    /// A plan; its proofs hold what is claimed about it.
    Found(Plan),
    /// No plan exists, for these reasons.
    Impossible(Vec<Lack>),
    /// Time ran out before there was a plan. One may exist.
    NothingYet,
}

/// What is lacking where no plan exists.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Lack {
    /// This part of the job fits on no board, even alone.
    PartFitsNowhere {
        /// Index of the part.
        part: usize,
    },
    /// This group has too few boards.
    TooFewBoards {
        /// Indices of the group's sections.
        sections: Vec<usize>,
        /// At least this many parts are left over.
        missing: u32,
    },
}

/// Receives better plans while a group is planned, and stops the planner.
pub trait Listener {
    /// Whether to stop now and keep the best.
    fn expired(&mut self) -> bool;
    /// The share of the time that is spent, in thousandths; zero where that is unknown.
    fn spent(&mut self) -> u32 {
        0
    }
    /// Receives every better plan of the present group.
    fn better(&mut self, plan: &Plan);
}

/// Plans every group of a job.
pub fn plan_job(job: &Job, listener: &mut dyn Listener) -> Planned {
    joined(
        groups(job)
            .iter()
            .map(|group| plan_group(job, group, listener))
            .collect(),
    )
}

/// Plans one group of a job.
pub fn plan_group(job: &Job, group: &Group, listener: &mut dyn Listener) -> Planned {
    planned(job, (group, Equals::Any), listener)
}

/// The same; of the plans that are equally good, one in which a spoiled part costs least to replace.
pub fn plan_group_in_full(job: &Job, group: &Group, listener: &mut dyn Listener) -> Planned {
    planned(job, (group, Equals::WithRoom), listener)
}

/// Which of the plans that are equally good is taken.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Equals {
    Any,
    /// One that leaves pieces long enough to replace long parts.
    WithRoom,
}

fn planned(job: &Job, (group, equals): (&Group, Equals), listener: &mut dyn Listener) -> Planned {
    let named = job.parts.iter().flat_map(|part| &part.sections);
    let named: Set<usize> = named.copied().collect();
    let mut watch = GroupWatch {
        job,
        group,
        // A place has a price for each part of the job, and no more groups than sections share the room there is.
        prices: job.parts.len()
            * (named.len() + 1)
                .saturating_sub(group.sections.len())
                .max(1),
        listener,
    };
    match solve(&group.problem, group.aims, &mut watch) {
        Outcome::Found(solution) => {
            let mut solution = solution;
            let kept = match equals {
                Equals::Any => None,
                // With so little scrap there seldom is room.
                Equals::WithRoom if job.aim == Aim::Scrap => None,
                Equals::WithRoom if job.aim == Aim::Offcuts => {
                    let sections = sections_of_job(group);
                    let asked = (&sections[..], job.trial_step().ticks());
                    let kept = longest_kept(&group.problem, &solution, asked, &mut watch);
                    let used = kept.iter().flatten().map(|(cutting, count)| {
                        Some(group.problem.used(cutting)? * i64::from(*count))
                    });
                    // What is left long may be more scrap, which its level tells.
                    let used = used.sum::<Option<i64>>();
                    if let (Some(used), Some(_), Some(scrap)) =
                        (used, &kept, solution.levels.last_mut())
                    {
                        scrap.value = used - group.problem.wanted();
                    }
                    kept
                }
                Equals::WithRoom => better_kept(&group.problem, &solution, &mut watch),
            };
            let cuttings = kept.as_ref().unwrap_or(&solution.cuttings);
            let mut plan = plan_of(job, group, cuttings, &solution.levels);
            plan.proofs[0].certificate = solution
                .certificate
                .as_ref()
                .map(|certificate| group.certificate_of_job(job, certificate));
            Planned::Found(plan)
        }
        Outcome::Impossible(Shortage::Part(part)) => {
            Planned::Impossible(vec![Lack::PartFitsNowhere {
                part: group.parts[part],
            }])
        }
        Outcome::Impossible(Shortage::Boards { missing }) => {
            Planned::Impossible(vec![Lack::TooFewBoards {
                sections: group.sections.clone(),
                missing,
            }])
        }
        Outcome::NothingYet => Planned::NothingYet,
    }
}

/// For each section of the job the sections of the problem that stand for its timber.
fn sections_of_job(group: &Group) -> Vec<Vec<usize>> {
    let of = |&section: &usize| {
        let stocks = group.stocks.iter().enumerate();
        let own = stocks.filter(|(_, stock)| stock.section == section);
        own.map(|(at, _)| at).collect()
    };
    group.sections.iter().map(of).collect()
}

/// Joins the plans of all groups of a job. A group that is impossible decides the result, since the person can mend it; next, a group
/// without a plan yet.
pub fn joined(groups: Vec<Planned>) -> Planned {
    let mut plan = Plan::default();
    let mut lacks = Vec::new();
    let mut unknown = false;
    for group in groups {
        match group {
            Planned::Found(found) => {
                plan.boards.extend(found.boards);
                plan.proofs.extend(found.proofs);
            }
            Planned::Impossible(found) => lacks.extend(found),
            Planned::NothingYet => unknown = true,
        }
    }
    match (lacks.is_empty(), unknown) {
        (false, _) => Planned::Impossible(lacks),
        (true, true) => Planned::NothingYet,
        (true, false) => {
            sort_boards(&mut plan.boards);
            Planned::Found(plan)
        }
    }
}

struct GroupWatch<'a> {
    job: &'a Job,
    group: &'a Group,
    prices: usize,
    listener: &'a mut dyn Listener,
}

impl Watch for GroupWatch<'_> {
    fn expired(&mut self) -> bool {
        self.listener.expired()
    }

    fn spent(&mut self) -> u32 {
        self.listener.spent()
    }

    fn prices(&self, _parts: usize) -> usize {
        self.prices
    }

    fn better(&mut self, found: &Progress) {
        self.listener.better(&plan_of(
            self.job,
            self.group,
            &found.cuttings,
            &found.levels,
        ));
    }
}

fn plan_of(
    job: &Job,
    group: &Group,
    cuttings: &[(Cutting, u32)],
    levels: &[crate::solve::Level],
) -> Plan {
    let mut boards = Vec::new();
    for (cutting, count) in cuttings {
        let before = boards.len();
        lay_boards(job, group, cutting, &mut boards);
        let laid = before..boards.len();
        for _ in 1..*count {
            boards.extend_from_within(laid.clone());
        }
    }
    sort_boards(&mut boards);
    let measures = group.levels(job).into_iter();
    let levels = measures
        .zip(levels)
        .map(|(measure, level)| Level {
            measure,
            value: level.value,
            bound: level.bound,
        })
        .collect();
    Plan {
        boards,
        proofs: vec![Proof {
            sections: group.sections.clone(),
            levels,
            certificate: None,
        }],
    }
}

/// Shed boards first, then yard lengths, equal boards next to each other.
fn sort_boards(boards: &mut [PlannedBoard]) {
    order::sort_by_key(boards, |board| {
        let cuts: Vec<usize> = board
            .runs
            .iter()
            .flat_map(|run| run.cuts.iter().map(|cut| cut.part))
            .collect();
        (board.source, cuts)
    });
}
