//! Turns a job into problems for the solver, one for each group of sections.
//!
//! Two sections belong to one group when some part may be made of either. Other sections are planned separately, since no board serves two
//! groups. Where parts of a section are for new timber only or for shed boards only, the problem has two sections for it: its new timber
//! and its shed boards. A group keeps the job's parts and boards one to one, so that a solution and its certificate translate back by
//! index.

use crate::certificate::{Branch, Certificate, Leaf, Twig};
use crate::clear::{carried_trims, clear_runs};
use crate::job::{Aim, Job, MadeFrom, Part, Sides, Timber};
use crate::length::Length;
use crate::plan::{Measure, Source};
use crate::problem::{Board, FactoryEnds, Problem, Run, Section as ProblemSection, Shape};
use crate::solve::{Aims, ScrapAim};
use timber::runs::ClearRun;

pub mod mitres;

/// A group of sections, its problem, and the meaning of the problem's indices in the job.
#[derive(Clone, Debug)]
pub struct Group {
    /// Indices of the job's sections, ascending.
    pub sections: Vec<usize>,
    /// For each section of the problem, the timber of the job that it stands for.
    pub stocks: Vec<Stock>,
    /// For each part of the problem, its index in the job.
    pub parts: Vec<usize>,
    /// For each board of the problem, its source in the job.
    pub boards: Vec<Source>,
    /// The measures of the boards' costs in the problem, in order.
    pub measures: Vec<Measure>,
    /// Where among them the scrap comes.
    pub aims: Aims,
    /// The problem for the solver.
    pub problem: Problem,
}

/// Timber of which the same parts may be made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stock {
    /// Index of the job's section.
    pub section: usize,
    /// Which timber of it; `None` where no part distinguishes any, and it is all of it.
    pub timber: Option<Timber>,
}

impl Stock {
    /// The stocks of a section that any of these parts may be made of: one, or where some part asks for more than the section, one for each sort of
    /// timber that some part takes.
    fn of(job: &Job, section: usize, parts: &[usize]) -> Vec<Stock> {
        let parts = || {
            let parts = parts.iter().map(|&part| &job.parts[part]);
            parts.filter(|part| part.sections.contains(&section))
        };
        let mut of_shed = (0..job.shed.len()).filter(|&shed| job.shed[shed].section == section);
        let all_rips = of_shed.all(|shed| job.timber(Source::Shed(shed)).rips);
        let asks = |part: &Part| {
            part.made_from != MadeFrom::Anything || !(all_rips || part.strips.is_empty())
        };
        if !parts().any(asks) {
            return vec![Stock {
                section,
                timber: None,
            }];
        }
        let sorts = [(true, true), (true, false), (false, true), (false, false)];
        let sorts = sorts.map(|(new, rips)| Timber { new, rips });
        let taken = |timber: &Timber| {
            let is_there = timber.rips || !all_rips;
            is_there && parts().any(|part| part.takes(*timber))
        };
        let sorts = sorts.into_iter().filter(taken);
        sorts
            .map(|timber| Stock {
                section,
                timber: Some(timber),
            })
            .collect()
    }

    fn holds(self, section: usize, timber: Timber) -> bool {
        self.section == section && self.timber.is_none_or(|own| own == timber)
    }
}

/// The groups of a job, in the order of their first sections; a section of which nothing is made is in no group.
pub fn groups(job: &Job) -> Vec<Group> {
    let mut root: Vec<usize> = (0..job.sections.len()).collect();
    fn find(root: &[usize], mut section: usize) -> usize {
        while root[section] != section {
            section = root[section];
        }
        section
    }
    for part in &job.parts {
        for &section in &part.sections {
            let (one, other) = (find(&root, part.sections[0]), find(&root, section));
            root[one.max(other)] = one.min(other);
        }
    }
    let wanted: Vec<usize> = job
        .parts
        .iter()
        .map(|part| find(&root, part.sections[0]))
        .collect();
    let mut roots = wanted.clone();
    order::sort(&mut roots);
    roots.dedup();
    roots
        .into_iter()
        .map(|group| {
            let sections = (0..job.sections.len())
                .filter(|&section| find(&root, section) == group)
                .collect();
            let parts = (0..job.parts.len())
                .filter(|&part| wanted[part] == group)
                .collect();
            Group::new(job, sections, parts)
        })
        .collect()
}

impl Group {
    fn new(job: &Job, sections: Vec<usize>, parts: Vec<usize>) -> Group {
        let lines: Vec<usize> = (0..job.yard.len())
            .filter(|&line| sections.contains(&job.yard[line].section))
            .collect();
        let priced = lines.iter().all(|&line| job.yard[line].price.is_some()) && !lines.is_empty();
        // Where a price is missing, the length bought replaces the money.
        let allowed = allowed(job, &sections);
        let mut measures = match (job.aim, priced) {
            (Aim::Fewest | Aim::Offcuts | Aim::Scrap, true) => {
                vec![Measure::Bought, Measure::Money]
            }
            (Aim::Fewest | Aim::Offcuts | Aim::Scrap, false) => {
                vec![Measure::Bought, Measure::BoughtLength]
            }
            (Aim::Cheapest, _) => vec![Measure::Money, Measure::Bought],
            (Aim::Shortest, true) => vec![Measure::BoughtLength, Measure::Money],
            (Aim::Shortest, false) => vec![Measure::BoughtLength],
        };
        // Where something may be bought, the plan is the cheapest within it, whatever the aim; or the one of the least scrap.
        if !allowed.is_empty() {
            let rest: &[Measure] = match priced {
                true => &[Measure::Money, Measure::Bought, Measure::BoughtLength],
                false => &[Measure::BoughtLength, Measure::Bought],
            };
            let beyond = allowed.iter().map(|(measure, _)| *measure);
            measures = beyond.chain(rest.iter().copied()).collect();
        }
        let aims = Aims {
            scrap: match job.aim {
                Aim::Scrap => ScrapAim::LeastAfter(allowed.len()),
                _ => ScrapAim::Least,
            },
        };
        let stocks = sections.iter();
        let stocks = stocks.flat_map(|&section| Stock::of(job, section, &parts));
        let mut group = Group {
            stocks: stocks.collect(),
            sections,
            parts,
            boards: Vec::new(),
            measures,
            aims,
            problem: Problem {
                floors: allowed.into_iter().map(|(_, floor)| floor).collect(),
                ..Problem::default()
            },
        };
        group.problem.demand = group
            .parts
            .iter()
            .map(|&part| job.parts[part].quantity)
            .collect();
        group.problem.sections = group
            .stocks
            .iter()
            .map(|&stock| problem_section(job, stock, &group.parts))
            .collect();
        for line in lines {
            group.add_yard(job, line);
        }
        for board in 0..job.shed.len() {
            group.add_shed(job, board);
        }
        group
    }

    fn add_yard(&mut self, job: &Job, line: usize) {
        let yard = &job.yard[line];
        let (Some(section), Some(shape)) = (
            self.local_section(yard.section, job.timber(Source::Yard(line))),
            yard_shape(job, line),
        ) else {
            return;
        };
        let factory = factory_ends(job, Source::Yard(line), &self.problem.sections[section]);
        let pack = i64::from(yard.pack);
        // What a pack holds is one board with the clear runs of all its lengths.
        let shape = match shape {
            Shape::Runs(runs) => Shape::Runs(runs.repeat(yard.pack as usize)),
            one_cut @ Shape::OneCut { .. } => one_cut,
        };
        let fee = match shape {
            Shape::OneCut { .. } => job.cut_fee(line).minor(),
            Shape::Runs(_) => 0,
        };
        let taken = match &shape {
            Shape::Runs(runs) => runs.iter().map(|run| run.length + run.tail).sum(),
            Shape::OneCut { together, .. } => *together,
        };
        let cost = self.measures.iter().map(|measure| match measure {
            Measure::Bought | Measure::LengthsBeyond => pack,
            Measure::Money => yard.price.unwrap_or_default().minor() + fee,
            Measure::BoughtLength | Measure::TimberBeyond => pack * yard.length.ticks(),
            Measure::Scrap => 0,
        });
        self.problem.boards.push(Board {
            section,
            shape,
            cost: cost.collect(),
            supply: yard.count,
            lost: pack * yard.length.ticks() - taken,
            factory,
        });
        self.boards.push(Source::Yard(line));
    }

    fn add_shed(&mut self, job: &Job, index: usize) {
        let board = &job.shed[index];
        let Some(section) = self.local_section(board.section, job.timber(Source::Shed(index)))
        else {
            return;
        };
        let runs = clear_runs(job, Source::Shed(index));
        if runs.is_empty() {
            return;
        }
        let taken: Length = runs
            .iter()
            .map(|run| run.stretch.to - run.stretch.from + run.tail)
            .sum();
        self.problem.boards.push(Board {
            section,
            shape: Shape::Runs(runs.iter().map(problem_run).collect()),
            cost: vec![0; self.measures.len()],
            supply: Some(1),
            lost: (board.length - taken).ticks(),
            factory: factory_ends(job, Source::Shed(index), &self.problem.sections[section]),
        });
        self.boards.push(Source::Shed(index));
    }

    /// How many lengths a board of the problem stands for.
    pub fn pack(&self, job: &Job, board: usize) -> u32 {
        match self.boards[board] {
            Source::Yard(line) => job.yard[line].pack,
            Source::Shed(_) => 1,
        }
    }

    /// Whether some of its lengths are sold in packs. Scrap is then sought and not claimed: the problem counts the trims of lengths that are left whole.
    pub fn has_packs(&self, job: &Job) -> bool {
        (0..self.boards.len()).any(|board| self.pack(job, board) > 1)
    }

    /// What the solver's levels measure, in order; scrap is not claimed of packs.
    pub fn levels(&self, job: &Job) -> Vec<Measure> {
        let mut measures = self.measures.clone();
        let place = match self.aims.scrap {
            ScrapAim::LeastAfter(place) => place,
            _ => measures.len(),
        };
        if !self.has_packs(job) {
            measures.insert(place, Measure::Scrap);
        }
        measures
    }

    /// The index in the problem of a board's section; `None` where no part may be made of it.
    fn local_section(&self, section: usize, timber: Timber) -> Option<usize> {
        let mut stocks = self.stocks.iter();
        stocks.position(|stock| stock.holds(section, timber))
    }

    /// A certificate of this group's problem, in the indices of the job (see [`crate::plan::Proof::certificate`]).
    pub fn certificate_of_job(&self, job: &Job, certificate: &Certificate) -> Certificate {
        let mut translated = certificate.clone();
        if self.has_packs(job) {
            translated
                .levels
                .retain(|level| level.level < self.measures.len());
        }
        let levels = translated.levels.iter_mut();
        for branch in levels.flat_map(|level| &mut level.tree) {
            self.translate(job, branch);
        }
        translated
    }

    fn translate(&self, job: &Job, branch: &mut Branch) {
        match branch {
            Branch::Split { boards, .. } | Branch::Kept { boards, .. } => {
                for board in boards.iter_mut() {
                    *board = self.board_of_job(job, *board);
                }
                order::sort(boards);
            }
            Branch::Leaf(leaf) | Branch::Searched(leaf) => self.translate_leaf(job, leaf),
            Branch::Closed { leaf, search } => {
                self.translate_leaf(job, leaf);
                for twig in search {
                    self.translate_twig(job, twig);
                }
            }
            Branch::Paired { leaf, search } => {
                self.translate_leaf(job, leaf);
                let part_of = |part| self.parts.iter().position(|&own| own == part);
                let from: Vec<Option<usize>> = (0..job.parts.len()).map(part_of).collect();
                for pairing in search {
                    pairing.renumber(self.parts.len(), &from);
                }
            }
        }
    }

    fn translate_twig(&self, job: &Job, twig: &mut Twig) {
        match twig {
            Twig::Split { board, parts, .. } => {
                *board = self.board_of_job(job, *board);
                for (part, _) in parts.iter_mut() {
                    *part = self.parts[*part];
                }
            }
            Twig::Pair { parts, .. } => *parts = parts.map(|part| self.parts[part]),
            Twig::Leaf(leaf) => {
                let mut parts = vec![0; job.parts.len()];
                for (&part, &price) in self.parts.iter().zip(&leaf.parts) {
                    parts[part] = price;
                }
                leaf.parts = parts;
                let mut boards = vec![0; job.yard.len() + job.shed.len()];
                for (board, &price) in leaf.boards.iter().enumerate() {
                    boards[self.board_of_job(job, board)] = price;
                }
                leaf.boards = boards;
            }
        }
    }

    /// The index of a board of the problem in certificates of the job: the yard's lines come first, then the shed's boards.
    fn board_of_job(&self, job: &Job, board: usize) -> usize {
        match self.boards[board] {
            Source::Yard(line) => line,
            Source::Shed(index) => job.yard.len() + index,
        }
    }

    fn translate_leaf(&self, job: &Job, leaf: &mut Leaf) {
        let mut parts = vec![0; job.parts.len()];
        for (&part, &price) in self.parts.iter().zip(&leaf.parts) {
            parts[part] = price;
        }
        leaf.parts = parts;
    }
}

/// What may be bought of sections that are planned together: the sum of what they say, for each measure of which one of them says something.
fn allowed(job: &Job, sections: &[usize]) -> Vec<(Measure, i64)> {
    let allowed = || {
        sections
            .iter()
            .map(|&section| job.sections[section].allowed)
    };
    let lengths = allowed().filter_map(|allowed| allowed.lengths.map(i64::from));
    let timber = allowed().filter_map(|allowed| allowed.timber.map(Length::ticks));
    let lengths = lengths.reduce(|one, other| one + other);
    let timber = timber.reduce(|one, other| one + other);
    let lengths = lengths.map(|floor| (Measure::LengthsBeyond, floor));
    let timber = timber.map(|floor| (Measure::TimberBeyond, floor));
    lengths.into_iter().chain(timber).collect()
}

/// The shape of a length of the yard; `None` where it cannot be carried home or has no clear timber.
fn yard_shape(job: &Job, line: usize) -> Option<Shape> {
    let yard = &job.yard[line];
    match job.carry {
        Some(carry) if yard.length > carry => {
            if yard.length - job.saw.kerf > carry + carry {
                return None;
            }
            // Wherever the yard cuts, the kerf is taken off sound timber, so neither piece is ever longer than both together; a
            // piece loses what is trimmed off its ends and what the yard may be off, and where that is all of it, it has nothing else.
            let trim = carried_trims(job, yard.section);
            let together = (yard.length - job.saw.kerf - trim.datum - trim.far).ticks();
            let each =
                [trim.datum, trim.far].map(|trim| (carry - trim).ticks().min(together).max(0));
            (together > 0 && each != [0, 0]).then_some(Shape::OneCut { together, each })
        }
        _ => {
            let runs = clear_runs(job, Source::Yard(line));
            (!runs.is_empty()).then(|| Shape::Runs(runs.iter().map(problem_run).collect()))
        }
    }
}

fn problem_run(run: &ClearRun) -> Run {
    Run {
        length: (run.stretch.to - run.stretch.from).ticks(),
        tail: run.tail.ticks(),
    }
}

fn problem_section(job: &Job, stock: Stock, parts: &[usize]) -> ProblemSection {
    let section = &job.sections[stock.section];
    let mut mitres = mitres::Mitres::of(job, stock.section);
    let mut fit = |part: &usize| {
        let part = &job.parts[*part];
        let fits = part.sections.contains(&stock.section)
            && stock.timber.is_none_or(|timber| part.takes(timber));
        fits.then(|| mitres.fit(part))
    };
    ProblemSection {
        kerf: job.saw.kerf.ticks(),
        fits: parts.iter().map(&mut fit).collect(),
        mitres: mitres.finish(),
        // Two of the three half-turns change the ends.
        reversible: job.sides(stock.section) != (Sides::Different, Sides::Different),
        keep: section.keep.ticks(),
        posts: (0..parts.len())
            .filter(|&at| {
                let part = &job.parts[parts[at]];
                part.sections.contains(&stock.section)
                    && job.stands_on_factory_end(part, stock.section)
            })
            .collect(),
    }
}

/// The factory ends of a board of which some part is made that stands on them; `None` where it has none. An end whose trim a bad stretch reaches counts
/// as cut.
fn factory_ends(job: &Job, source: Source, section: &ProblemSection) -> Option<FactoryEnds> {
    if section.posts.is_empty() {
        return None;
    }
    let trims = timber::clear::standing_trims(job, source).map(|trim| trim.map(Length::ticks));
    let (section, _) = job.board(source);
    (trims != [None, None]).then(|| FactoryEnds {
        trims,
        step: job.step.ticks(),
        before: timber::clear::widest_cut(job, section).ticks(),
    })
}
