//! The integer program: how often each cutting is cut, so that every part is made and a total is minimal (Kantorovich 1939; Gilmore and
//! Gomory 1961 for cuttings as columns).
//!
//! For the buying it is enough to cut at least what is wanted, from cuttings to which nothing can be added. Scrap needs every cutting,
//! since what is left over counts; there every part is cut exactly as often as it is wanted.

use super::contents::{Column, Content, Lister, pairs, used};
use super::ground::{Board, Timber, boards};
use super::lay::{Layer, Ticks};
use super::standing;
use good_lp::solvers::SolutionStatus;
use good_lp::solvers::coin_cbc::coin_cbc;
use good_lp::{
    Expression, ResolutionError, Solution, SolverModel, WithTimeLimit, constraint, variable,
    variables,
};
use lengthwise::job::Job;
use lengthwise::plan::Measure;
use std::collections::HashMap;

/// What tells the boards of a section apart for parts: whether they are new, and whether they may be ripped.
const TIMBERS: [(bool, bool); 4] = [(true, true), (true, false), (false, true), (false, false)];

/// Most of one part that are listed.
const MOST_OF_A_PART: u32 = 40;

/// Most columns that Cbc is given where every cutting is a column.
const MOST_COLUMNS: usize = 2_500;

/// Greatest coefficient; Cbc's floats do not separate larger amounts reliably.
const MOST_AMOUNT: i64 = 1 << 22;

/// Time limit of Cbc for one total, in seconds.
const SECONDS: u32 = 5;

/// Cbc's result.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answer {
    Least(i64),
    Impossible,
    /// Cbc did not finish in time.
    Unknown,
}

/// A stretch, or a board cut at the yard, with all choices of parts that fit it.
struct Place {
    board: usize,
    columns: Vec<Column>,
}

/// The program of one group.
pub struct Program {
    /// How many of each part are wanted.
    wanted: Vec<u32>,
    /// The lengths of all parts wanted, added up.
    parts: Ticks,
    boards: Vec<BoardOf>,
    places: Vec<Place>,
}

/// A board in the program.
struct BoardOf {
    /// The cost of a pack in the measure's unit; zero where it is owned.
    price: i64,
    length: Ticks,
    bought: bool,
    /// How many are bought together; there are `count` such packs.
    pack: u32,
    count: Option<u32>,
    /// What is lost as soon as the board is touched.
    lost: Ticks,
}

impl Program {
    /// The program of some sections; `None` where there are too many cuttings to list.
    pub fn of(job: &Job, sections: &[usize]) -> Option<Program> {
        let own: Vec<usize> = (0..job.parts.len())
            .filter(|&part| sections.contains(&job.parts[part].sections[0]))
            .collect();
        let wanted: Vec<u32> = own.iter().map(|&part| job.parts[part].quantity).collect();
        if wanted.iter().any(|&count| count > MOST_OF_A_PART) {
            return None;
        }
        let lengths: Vec<Ticks> = own
            .iter()
            .map(|&part| job.parts[part].length.ticks())
            .collect();
        let parts = lengths
            .iter()
            .zip(&wanted)
            .map(|(length, &count)| length * i64::from(count))
            .sum();
        let kinds = sections
            .iter()
            .flat_map(|&section| TIMBERS.map(|timber| (section, timber)));
        let mut layers: HashMap<(usize, (bool, bool)), Layer> = kinds
            .map(|(section, timber)| ((section, timber), Layer::new(job, section, timber)))
            .collect();
        let mut program = Program {
            wanted,
            parts,
            boards: Vec::new(),
            places: Vec::new(),
        };
        for board in boards(job, sections) {
            let layer = layers.get_mut(&(board.section, (board.new, board.rips)))?;
            let keep = job.sections[board.section].keep.ticks();
            let price = board.line.map_or(0, |line| {
                let fee = match board.timber {
                    Timber::Cut { .. } => job.cut_fee(line).minor(),
                    Timber::Whole(_) => 0,
                };
                job.yard[line].price.map_or(0, |price| price.minor()) + fee
            });
            let pack = board.line.map_or(1, |line| job.yard[line].pack);
            program.add(
                &board,
                (price, pack),
                keep,
                &mut Lister {
                    job,
                    layer,
                    own: &own,
                    lengths: &lengths,
                },
            )?;
        }
        Some(program)
    }

    fn add(
        &mut self,
        board: &Board,
        (price, pack): (i64, u32),
        keep: Ticks,
        lister: &mut Lister,
    ) -> Option<()> {
        let index = self.boards.len();
        let of = |held: Ticks| BoardOf {
            price,
            length: board.length,
            bought: board.line.is_some(),
            pack,
            count: board.count,
            lost: board.length - held,
        };
        if !lister.layer.posts.is_empty() && board.stands != [None, None] {
            let (columns, held) = standing::columns(board, keep, &self.wanted, lister)?;
            self.boards.push(of(held));
            self.places.push(Place {
                board: index,
                columns,
            });
            return Some(());
        }
        let (places, held): (Vec<Vec<Column>>, Ticks) = match &board.timber {
            Timber::Whole(sound) => {
                let mut places = Vec::new();
                for sound in sound {
                    let contents = lister.contents(&self.wanted, sound.length)?;
                    let column = |content: &Content| Column {
                        counts: content.counts.clone(),
                        used: used(*sound, content, keep),
                    };
                    places.push(contents.iter().map(column).collect());
                }
                (
                    places,
                    sound.iter().map(|sound| sound.length + sound.beyond).sum(),
                )
            }
            &Timber::Cut { of, first } => {
                let longest = first.1.max(of - first.0);
                let contents = lister.contents(&self.wanted, longest)?;
                (vec![pairs(&contents, of, first, keep, &self.wanted)?], of)
            }
        };
        self.boards.push(of(held));
        self.places.extend(places.into_iter().map(|columns| Place {
            board: index,
            columns,
        }));
        Some(())
    }

    /// Whether every cutting can be a column, so that scrap can be compared.
    pub fn lists_all(&self) -> bool {
        self.places
            .iter()
            .map(|place| place.columns.len())
            .sum::<usize>()
            <= MOST_COLUMNS
    }

    /// The least total of a measure among plans whose earlier totals are at most those in `held`.
    pub fn least(&self, measure: Measure, held: &[(Measure, i64)]) -> Answer {
        let counted = held.iter().map(|(measure, _)| *measure).chain([measure]);
        let exactly = counted.clone().any(|of| of == Measure::Scrap);
        let mut all = variables!();
        let mut rows = Vec::new();
        let mut cut: Vec<Expression> = self.wanted.iter().map(|_| Expression::default()).collect();
        let mut totals: HashMap<Measure, Expression> = HashMap::new();
        let most: u32 = self.wanted.iter().sum();
        let unit = self.unit(measure, held);
        let mut amounts = counted.flat_map(|measure| {
            let unit = unit(measure);
            self.boards
                .iter()
                .map(move |board| board.measured(measure) / unit)
        });
        if amounts.any(|amount| amount > MOST_AMOUNT) {
            return Answer::Unknown;
        }
        // How often each board is taken; each time, every one of its stretches holds a choice of parts, which may be empty.
        let taken: Vec<_> = self
            .boards
            .iter()
            .map(|board| {
                let packs = board.count.unwrap_or(most).min(most);
                let packs = all.add(variable().integer().min(0).max(f64::from(packs)));
                for measure in [Measure::Bought, Measure::Money, Measure::BoughtLength] {
                    let amount = board.measured(measure) / unit(measure);
                    *totals.entry(measure).or_default() += amount as f64 * packs;
                }
                let taken = match board.pack {
                    1 => packs,
                    pack => {
                        // Some of a pack may be left whole.
                        let taken = all.add(variable().integer().min(0).max(f64::from(most)));
                        rows.push(constraint!(taken <= f64::from(pack) * packs));
                        taken
                    }
                };
                *totals.entry(Measure::Scrap).or_default() +=
                    (board.lost / unit(Measure::Scrap)) as f64 * taken;
                taken
            })
            .collect();
        // The rows, each with its least and greatest value.
        let mut held_to: Vec<(Expression, f64, f64)> = Vec::new();
        for place in &self.places {
            let mut here = Expression::default();
            for column in place
                .columns
                .iter()
                .filter(|column| exactly || fullest(column, &place.columns))
            {
                let often = all.add(variable().integer().min(0).max(f64::from(most)));
                here += often;
                for (cut, &count) in cut.iter_mut().zip(&column.counts) {
                    if count > 0 {
                        *cut += f64::from(count) * often;
                    }
                }
                *totals.entry(Measure::Scrap).or_default() +=
                    (column.used / unit(Measure::Scrap)) as f64 * often;
            }
            held_to.push((here.clone() - taken[place.board], 0.0, 0.0));
            rows.push(constraint!(here == taken[place.board]));
        }
        for (cut, &wanted) in cut.into_iter().zip(&self.wanted) {
            let most = if exactly { f64::from(wanted) } else { f64::MAX };
            held_to.push((cut.clone(), f64::from(wanted), most));
            rows.push(if exactly {
                constraint!(cut == f64::from(wanted))
            } else {
                constraint!(cut >= f64::from(wanted))
            });
        }
        let total = |measure: Measure| totals.get(&measure).cloned().unwrap_or_default();
        for &(measure, value) in held {
            let value = value + self.beyond(measure);
            rows.push(constraint!(
                total(measure) <= (value / unit(measure)) as f64 + 0.25
            ));
        }
        let least = total(measure);
        let model = all
            .minimise(least.clone())
            .using(coin_cbc)
            .with_all(rows)
            .with_time_limit(SECONDS);
        match model.solve() {
            Ok(solution) if matches!(solution.status(), SolutionStatus::Optimal) => {
                // Cbc reports a few answers as optimal that violate its own rows ("Presolved problem not optimal").
                let kept = held_to.iter().all(|(row, least, most)| {
                    let sum = solution.eval(row);
                    sum > least - 0.01 && sum < most + 0.01
                });
                if !kept {
                    return Answer::Unknown;
                }
                let total = solution.eval(least).round() as i64 * unit(measure);
                Answer::Least(total - self.beyond(measure))
            }
            Ok(_) => Answer::Unknown,
            Err(ResolutionError::Infeasible) => Answer::Impossible,
            Err(_) => Answer::Unknown,
        }
    }

    /// What is used up beyond scrap: the parts.
    fn beyond(&self, measure: Measure) -> i64 {
        match measure {
            Measure::Scrap => self.parts,
            _ => 0,
        }
    }

    /// A common divisor of all amounts of a measure, so that Cbc gets small numbers.
    fn unit(&self, measure: Measure, held: &[(Measure, i64)]) -> impl Fn(Measure) -> i64 + use<> {
        let mut units = HashMap::new();
        for measure in held.iter().map(|(measure, _)| *measure).chain([measure]) {
            let mut unit = 0;
            for board in &self.boards {
                unit = common(unit, board.measured(measure));
                if measure == Measure::Scrap {
                    unit = common(unit, board.lost);
                }
            }
            if measure == Measure::Scrap {
                let columns = self.places.iter().flat_map(|place| &place.columns);
                unit = columns.fold(unit, |unit, column| common(unit, column.used));
            }
            units.insert(measure, unit.max(1));
        }
        move |measure| units.get(&measure).copied().unwrap_or(1)
    }
}

fn common(one: i64, other: i64) -> i64 {
    if other == 0 {
        one.abs()
    } else {
        common(other, one % other)
    }
}

impl BoardOf {
    fn measured(&self, measure: Measure) -> i64 {
        match measure {
            _ if !self.bought => 0,
            Measure::Bought | Measure::LengthsBeyond => i64::from(self.pack),
            Measure::Money => self.price,
            Measure::BoughtLength | Measure::TimberBeyond => i64::from(self.pack) * self.length,
            Measure::Scrap => 0,
        }
    }
}

/// Whether no other column has at least as many of each part and more of one; of equal columns the first counts.
fn fullest(column: &Column, columns: &[Column]) -> bool {
    let covers = |other: &Column| {
        other
            .counts
            .iter()
            .zip(&column.counts)
            .all(|(more, count)| more >= count)
    };
    !columns
        .iter()
        .any(|other| covers(other) && other.counts != column.counts)
}
