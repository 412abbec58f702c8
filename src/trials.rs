//! Tries changes of a job: the changed job is planned, as far as what is bought goes.
//!
//! A group of sections of which the problem is the same as before costs what it cost before, so only groups that differ are solved.

use crate::check::{CheckedPlan, Effort, check_group};
use crate::draft::JobDraft;
use crate::figures::{Figures, bought};
use crate::group::{Group, groups};
use crate::job::{Job, validate};
use crate::patience::{Allowance, Clock, Limits, Patience};
use crate::plan::{Measure, Plan};
use crate::planner::{Listener, Planned, plan_group};
use crate::problem::Problem;
use crate::solve::{Aims, Outcome, ScrapAim, Watch, solve};
use timber::edit::{Edit, edited};

/// How much work the check of one changed plan may be. It is a small part of what the plan itself is given, since there are many.
const CHECK: Effort = Effort(60_000_000);

/// Times at which one trial may look up, where nothing else limits it: most are proven after a few dozen.
const ASKS: u64 = 1_500;

/// The same for a plan that is told of: its last hundredths should be settled too.
const ASKS_TOLD: u64 = 8_000;

/// What a changed job comes to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trial {
    /// A plan with these figures; `best` where no plan has less, says the planner.
    Planned {
        /// What it comes to.
        figures: Figures,
        /// Whether each figure is said to be the least.
        best: bool,
    },
    /// There is no plan, or no such job.
    None,
    /// Time was up.
    NotSettled,
}

/// Most groups that are remembered; more would be compared for longer than they take.
const REMEMBERED: usize = 60;

/// A group that was planned before.
struct Known {
    problem: Problem,
    measures: Vec<Measure>,
    levels: Vec<(Measure, i64)>,
    /// Whether it is of the checked plan that changes are compared with.
    of_plan: bool,
    /// Whether the checker has shown that no plan has less.
    shown: bool,
}

/// Tries changes of a job.
pub struct Trials<'a> {
    draft: &'a JobDraft,
    /// What its plan comes to.
    pub base: Figures,
    known: Vec<Known>,
    allowance: Allowance<'a>,
}

impl<'a> Trials<'a> {
    /// Ready to try changes of a job as written, within these limits.
    pub fn new(draft: &'a JobDraft, limits: Limits, clock: &'a Clock<'a>) -> Trials<'a> {
        Trials {
            draft,
            base: Figures::default(),
            known: Vec::new(),
            allowance: Allowance::new(limits, clock),
        }
    }

    /// The same, of a job that has a plan.
    pub fn of_plan(
        draft: &'a JobDraft,
        (job, checked): (&Job, &CheckedPlan),
        limits: Limits,
        clock: &'a Clock<'a>,
    ) -> Trials<'a> {
        let Trials {
            mut base,
            mut known,
            ..
        } = Trials::new(draft, limits, clock);
        for group in groups(job) {
            let sections = |other: &&crate::check::CheckedGroup| other.sections == group.sections;
            let Some(of) = checked.groups().iter().find(sections) else {
                continue;
            };
            let levels: Vec<(Measure, i64)> = bought(of).collect();
            base.add(levels.iter().copied());
            known.push(Known {
                of_plan: true,
                shown: of.deciding().iter().all(|level| level.is_shown()),
                problem: group.problem,
                measures: group.measures,
                levels,
            });
        }
        Trials {
            draft,
            base,
            known,
            allowance: Allowance::new(limits, clock),
        }
    }

    /// Whether time is up.
    pub fn is_over(&self) -> bool {
        self.allowance.is_over()
    }

    /// How much of the time is used up, in thousandths.
    pub fn spent(&self) -> u32 {
        self.allowance.spent()
    }

    /// What the job comes to with these fields changed.
    pub fn tried(&mut self, edits: &[Edit]) -> Trial {
        if self.is_over() {
            return Trial::NotSettled;
        }
        self.allowance.take(1);
        let Some(job) = self.changed(edits) else {
            return Trial::None;
        };
        let mut figures = Figures::default();
        let mut best = true;
        for group in groups(&job) {
            if let Some(known) = self.known(&group) {
                figures.add(known.levels.iter().copied());
                continue;
            }
            let mut unheard = |_: &Plan| {};
            let limits = self.allowance.left(ASKS);
            let mut patience = Patience::new(limits, self.allowance.clock(), &mut unheard);
            let aims = Aims {
                scrap: ScrapAim::Ignored,
            };
            let outcome = solve(&group.problem, aims, &mut Waits(&mut patience));
            self.allowance.take(patience.asked());
            match outcome {
                Outcome::Found(solution) => {
                    let proven = solution.levels.iter().all(|level| level.proven());
                    let values = solution.levels.iter().map(|level| level.value);
                    let levels: Vec<(Measure, i64)> =
                        group.measures.iter().copied().zip(values).collect();
                    figures.add(levels.iter().copied());
                    best &= proven;
                    if proven && self.known.len() < REMEMBERED {
                        self.known.push(Known {
                            problem: group.problem,
                            measures: group.measures,
                            levels,
                            of_plan: false,
                            shown: false,
                        });
                    }
                }
                Outcome::Impossible(_) => return Trial::None,
                Outcome::NothingYet => return Trial::NotSettled,
            }
        }
        Trial::Planned { figures, best }
    }

    /// What the checked plans of a changed job come to, and whether the checker has shown that no plan of it has less; `None` where they do not hold
    /// or there are none in time.
    pub fn checked(&mut self, edits: &[Edit]) -> Option<(Figures, bool)> {
        if self.is_over() {
            return None;
        }
        let job = self.changed(edits)?;
        let mut figures = Figures::default();
        let mut shown = true;
        for group in groups(&job) {
            if let Some(known) = self.known(&group).filter(|known| known.of_plan) {
                figures.add(known.levels.iter().copied());
                shown &= known.shown;
                continue;
            }
            let plan = self.plan(&job, &group)?;
            let checked = check_group(&job, &group.sections, plan, CHECK).ok()?;
            let of = checked.groups().first()?;
            figures.add(bought(of));
            let mut levels = of.deciding().iter();
            shown &= levels.all(|level| level.is_shown());
        }
        Some((figures, shown))
    }

    /// The plan of a group of a changed job.
    pub fn plan(&mut self, job: &Job, group: &Group) -> Option<Plan> {
        let mut unheard = |_: &Plan| {};
        let limits = self.allowance.left(ASKS_TOLD);
        let mut patience = Patience::new(limits, self.allowance.clock(), &mut unheard);
        if patience.expired() {
            return None;
        }
        let planned = plan_group(job, group, &mut patience);
        self.allowance.take(patience.asked());
        match planned {
            Planned::Found(plan) => Some(plan),
            Planned::Impossible(_) | Planned::NothingYet => None,
        }
    }

    /// The job with these fields changed; `None` where that is none.
    pub fn changed(&self, edits: &[Edit]) -> Option<Job> {
        validate(&edited(self.draft, edits)?).ok()
    }

    fn known(&self, group: &Group) -> Option<&Known> {
        let same =
            |known: &&Known| known.problem == group.problem && known.measures == group.measures;
        self.known.iter().find(same)
    }
}

/// What the solver asks, of what a planner is given.
struct Waits<'a, 'b>(&'a mut Patience<'b>);

impl Watch for Waits<'_, '_> {
    fn expired(&mut self) -> bool {
        self.0.expired()
    }

    fn spent(&mut self) -> u32 {
        self.0.spent()
    }
}
