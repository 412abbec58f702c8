//! How parts add up in a run of one stock of timber: the length that they fill, and what their cuts share.
//!
//! Each part adds its length and a cut. Where it can share cuts, it adds instead what its family then takes more ([`super::family`]). An
//! *ending* is the state of the parts so far on which the next part depends. The last cut of a run may extend into the timber behind the
//! run; the widest possible cut is put last, since for every ending some part can go there.

use super::cuts::{cut_width, stands_back};
use super::family::{Family, Numbers, Point, Sort};
use super::ground::{Ground, stands};
use super::sharing::{Facing, Sharing, angle, sides, turns, written_leans};
use timber::job::{Job, MadeFrom, Part, PartEnd, Treated};

/// Timber of which the same parts may be made: a section, or where its parts ask for more than that, one sort of its timber.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Stock {
    section: usize,
    which: Which,
}

/// A sort of timber of a section.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Which {
    /// All of it.
    All,
    /// What is new, or else of the shed, and may be ripped or not.
    Sort { new: bool, rips: bool },
}

impl Stock {
    /// The stock that a board belongs to.
    pub(super) fn of(job: &Job, ground: &Ground) -> Stock {
        let &Ground { new, rips, .. } = ground;
        let which = if told_apart(job, ground.section) {
            Which::Sort { new, rips }
        } else {
            Which::All
        };
        Stock {
            section: ground.section,
            which,
        }
    }

    /// The section.
    pub(super) fn section(self) -> usize {
        self.section
    }

    /// Whether a part may be made of it.
    pub(super) fn takes(self, part: &Part) -> bool {
        let takes = match self.which {
            Which::All => true,
            Which::Sort { new, rips } => takes(part, new, rips),
        };
        takes && part.sections.contains(&self.section)
    }
}

/// The stocks of some sections, in the same order.
pub(super) fn stocks(job: &Job, sections: &[usize]) -> Vec<Stock> {
    let mut stocks = Vec::new();
    for &section in sections {
        if !told_apart(job, section) {
            let which = Which::All;
            stocks.push(Stock { section, which });
            continue;
        }
        // In ascending order, and none of boards that the job has not: what no board is of tells nothing of plans.
        for new in [false, true] {
            for rips in [false, true] {
                if !rips && !some_unripped(job, section) {
                    continue;
                }
                let which = Which::Sort { new, rips };
                stocks.push(Stock { section, which });
            }
        }
    }
    stocks
}

/// Whether a part may be made of new timber, or else of a shed board, and of one that may be ripped or not, whatever its section.
pub(super) fn takes(part: &Part, new: bool, rips: bool) -> bool {
    let asked = match part.made_from {
        MadeFrom::New => new,
        MadeFrom::Shed => !new,
        MadeFrom::Anything => true,
    };
    asked && (rips || part.strips.is_empty())
}

/// Whether some board of a section may not be ripped while others may.
fn some_unripped(job: &Job, section: usize) -> bool {
    let mut shed = job.shed.iter();
    job.sections[section].treated == Treated::No
        && shed.any(|board| board.section == section && board.treated != Treated::No)
}

/// Whether some part of a section asks for new timber only, for shed boards only, or for boards that may be ripped where some may not.
fn told_apart(job: &Job, section: usize) -> bool {
    let some_unripped = some_unripped(job, section);
    let asks = |part: &Part| {
        part.made_from != MadeFrom::Anything || (some_unripped && !part.strips.is_empty())
    };
    let mut parts = job.parts.iter();
    parts.any(|part| part.sections.contains(&section) && asks(part))
}

/// How parts are laid on one stock of timber, in ticks.
pub(super) struct Wood {
    kerf: i64,
    /// Shortest offcut worth keeping.
    pub(super) keep: i64,
    families: Vec<(Family, Numbers)>,
    /// The parts that may be made of it and lie in its clear runs, in the job's order.
    pub(super) parts: Vec<Wooden>,
    /// Those that stand on factory ends.
    pub(super) posts: Vec<Post>,
    /// For each part of the job, its index in `parts`.
    places: Vec<Option<usize>>,
}

/// A part on this stock.
pub(super) struct Wooden {
    pub(super) part: usize,
    length: i64,
    pub(super) wanted: u32,
    ends: Ends,
}

/// A part that stands on a factory end.
#[derive(Clone, Copy)]
pub(super) struct Post {
    pub(super) part: usize,
    pub(super) wanted: u32,
    pub(super) length: i64,
    /// What is taken behind it.
    pub(super) cut: i64,
    /// Whether it may stand on the datum end, and whether on the far end.
    pub(super) on: [bool; 2],
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Ends {
    /// Stands on one of these ends of its board; what is taken behind it.
    Stands([bool; 2], i64),
    /// Shares no cut; the cut behind it takes this much.
    Alone(i64),
    /// Shares cuts: the index of its family, and of its sort there.
    Shares(usize, usize),
}

/// The state at the end of a run's parts.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Ending {
    last_cut: i64,
    /// For each family, the index of its numbers.
    numbers: Vec<usize>,
    /// Whether there is any part at all.
    pub(super) touched: bool,
}

/// The length of a run that its parts take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Laid {
    /// The clear length the run must have.
    pub(super) need: i64,
    /// The same with the last cut, which may be beyond the run.
    pub(super) filled: i64,
}

impl Laid {
    /// An empty run.
    pub(super) const NOTHING: Laid = Laid { need: 0, filled: 0 };
}

impl Wood {
    /// The parts of the job that may be made of a stock. What may share a cut is said of the section.
    ///
    /// Returns `None` where the families have too many numbers.
    pub(super) fn of(job: &Job, stock: Stock) -> Option<Wood> {
        let section = stock.section;
        let parts = || {
            job.parts
                .iter()
                .enumerate()
                .filter(|(_, part)| stock.takes(part))
        };
        let on_end = |part: &Part| stands(job, part, section);
        let turns = turns(sides(job, section));
        let families = families(job, stock)
            .into_iter()
            .map(|(family, sorts)| {
                let mut most = vec![0u32; family.sorts.len()];
                for (part, sort) in sorts.iter().enumerate() {
                    if let Some(sort) = *sort {
                        most[sort] = most[sort].saturating_add(job.parts[part].quantity);
                    }
                }
                let numbers = Numbers::of(&family, &most)?;
                Some((family, numbers, sorts))
            })
            .collect::<Option<Vec<_>>>()?;
        let mut wood = Wood {
            kerf: job.saw.kerf.ticks(),
            keep: job.sections[section].keep.ticks(),
            families: Vec::new(),
            parts: Vec::new(),
            posts: Vec::new(),
            places: vec![None; job.parts.len()],
        };
        for (index, part) in parts().filter(|(_, part)| on_end(part)) {
            let square = part.ends.map(|end| end == PartEnd::Square);
            let turned = turns && square != [false, false];
            let cuts = part.ends.map(|end| cut_width(job.saw.kerf, end).ticks());
            wood.posts.push(Post {
                part: index,
                wanted: part.quantity,
                length: part.length.ticks(),
                cut: cuts[0].max(cuts[1]),
                on: square.map(|square| square || turned),
            });
        }
        for (index, part) in parts().filter(|(_, part)| !on_end(part)) {
            let [first, second] = part.ends.map(|end| cut_width(job.saw.kerf, end).ticks());
            let shares = families
                .iter()
                .enumerate()
                .find_map(|(family, (_, _, sorts))| {
                    sorts[index].map(|sort| Ends::Shares(family, sort))
                });
            let alone = if turns { first.min(second) } else { second };
            wood.places[index] = Some(wood.parts.len());
            wood.parts.push(Wooden {
                part: index,
                length: part.length.ticks(),
                wanted: part.quantity,
                ends: shares.unwrap_or(Ends::Alone(alone)),
            });
        }
        let families = families.into_iter();
        wood.families = families
            .map(|(family, numbers, _)| (family, numbers))
            .collect();
        // A part that added less than zero could be added without end.
        let sound = |part: &Wooden| part.length + wood.cut_at_least(part.ends) > 0;
        wood.parts.iter().all(sound).then_some(wood)
    }

    /// The least that the cuts of a part with such ends take.
    fn cut_at_least(&self, ends: Ends) -> i64 {
        match ends {
            Ends::Alone(cut) | Ends::Stands(_, cut) => cut,
            Ends::Shares(family, sort) => self.families[family].1.least(sort),
        }
    }

    /// All lengths of which fills consist: each part's own, and what its cuts take or save.
    pub(super) fn lengths(&self) -> impl Iterator<Item = i64> {
        self.parts.iter().flat_map(|part| {
            let mut lengths = vec![part.length];
            match part.ends {
                Ends::Alone(cut) | Ends::Stands(_, cut) => lengths.push(cut),
                Ends::Shares(family, sort) => {
                    let family = &self.families[family].0;
                    lengths.push(self.kerf);
                    for point in family.sorts[sort].into_iter().flatten() {
                        lengths.extend([family.points[point].cut, family.points[point].saving]);
                    }
                }
            }
            lengths
        })
    }

    /// The ending of a run from which nothing is cut.
    pub(super) fn untouched(&self) -> Ending {
        Ending {
            last_cut: 0,
            numbers: vec![0; self.families.len()],
            touched: false,
        }
    }

    /// The least a part adds to a fill; `None` where it is not made of this stock.
    pub(super) fn least(&self, part: usize) -> Option<i64> {
        let part = self.wooden(part)?;
        Some(part.length + self.cut_at_least(part.ends))
    }

    /// The ending with one part more, and what that part adds to the fill. A part of another stock changes nothing.
    pub(super) fn with(&self, part: usize, ending: &Ending) -> (Ending, i64) {
        self.wooden(part)
            .map_or_else(|| (ending.clone(), 0), |part| self.add(part, ending))
    }

    /// How much of a run a fill takes.
    pub(super) fn laid(&self, fill: i64, ending: &Ending) -> Laid {
        let (owed, last_cut) = self.close(ending);
        Laid {
            need: fill + owed - last_cut,
            filled: fill + owed,
        }
    }

    /// How a part is laid on this stock; parts for which this is equal are interchangeable.
    pub(super) fn lies(&self, part: usize) -> Option<(i64, Ends)> {
        let lying = self.wooden(part).map(|part| (part.length, part.ends));
        let standing = self.posts.iter().find(|post| post.part == part);
        lying.or(standing.map(|post| (post.length, Ends::Stands(post.on, post.cut))))
    }

    fn wooden(&self, part: usize) -> Option<&Wooden> {
        self.parts.get((*self.places.get(part)?)?)
    }

    /// The widest cut of all.
    pub(super) fn widest_cut(&self) -> i64 {
        let alone = self.parts.iter().filter_map(|part| match part.ends {
            Ends::Alone(cut) | Ends::Stands(_, cut) => Some(cut),
            Ends::Shares(..) => None,
        });
        let points = self.families.iter().flat_map(|(family, _)| &family.points);
        points
            .map(|point| point.cut)
            .chain(alone)
            .chain([self.kerf])
            .max()
            .unwrap_or(0)
    }

    /// The ending with one part more, and what that part adds to the fill.
    pub(super) fn add(&self, part: &Wooden, ending: &Ending) -> (Ending, i64) {
        let mut next = ending.clone();
        next.touched = true;
        let cut = match part.ends {
            Ends::Alone(cut) | Ends::Stands(_, cut) => {
                next.last_cut = next.last_cut.max(cut);
                cut
            }
            Ends::Shares(family, sort) => {
                let (cut, place) = self.families[family].1.add(ending.numbers[family], sort);
                next.numbers[family] = place;
                cut
            }
        };
        (next, part.length + cut)
    }

    /// The savings lost where rings are opened, and the widest cut that can come last.
    pub(super) fn close(&self, ending: &Ending) -> (i64, i64) {
        let mut owed = 0;
        let mut last_cut = ending.last_cut;
        for ((_, numbers), place) in self.families.iter().zip(&ending.numbers) {
            let (here, last) = numbers.end(*place);
            owed += here;
            last_cut = last_cut.max(last);
        }
        (owed, last_cut)
    }
}

/// The families of a stock, each with the sort of every part of the job that is in it. A part that can meet no other is in none.
fn families(job: &Job, stock: Stock) -> Vec<(Family, Vec<Option<usize>>)> {
    let section_index = stock.section;
    let sharing = Sharing::of(job, section_index);
    let sides = sharing.sides;
    let turns = turns(sides);
    let faces = |part: &Part| -> [Option<Facing>; 2] {
        let leans = written_leans(part);
        let mut faces = [0, 1].map(|at| {
            let (angle, lean) = (angle(part.ends[at])?, leans[at]?);
            Some(Facing::of(sides, angle, lean, at == 1))
        });
        if turns {
            order::sort(&mut faces);
        }
        faces
    };
    let sharing_parts: Vec<(usize, [Option<Facing>; 2])> = (0..job.parts.len())
        .filter(|&part| stock.takes(&job.parts[part]))
        .filter(|&part| sharing.may(&job.parts[part]))
        .map(|part| (part, faces(&job.parts[part])))
        .filter(|(_, faces)| *faces != [None, None])
        .collect();
    let ends_facing = |facing: Facing| -> u64 {
        let each = sharing_parts.iter().map(|(part, faces)| {
            let ends = faces.iter().flatten().filter(|face| **face == facing);
            ends.count() as u64 * u64::from(job.parts[*part].quantity)
        });
        each.sum()
    };
    let mut left = sharing_parts.clone();
    let mut families = Vec::new();
    while let Some((_, first)) = left.first() {
        // Adds whatever has the same facing, meets it, or is the other end of a part that has it.
        let mut known: Vec<Facing> = first.iter().flatten().copied().collect();
        let mut at = 0;
        while let Some(&facing) = known.get(at) {
            at += 1;
            let on_parts = sharing_parts
                .iter()
                .filter(|(_, faces)| faces.contains(&Some(facing)))
                .flat_map(|(_, faces)| faces.iter().flatten().copied());
            let more: Vec<Facing> = on_parts.chain([facing.meets(sides)]).collect();
            for facing in more {
                if !known.contains(&facing) {
                    known.push(facing);
                }
            }
        }
        let of_it =
            |faces: &[Option<Facing>; 2]| faces.iter().flatten().any(|face| known.contains(face));
        let meet = known.iter().any(|&facing| {
            let meets = facing.meets(sides);
            ends_facing(facing) > 0 && ends_facing(meets) > u64::from(meets == facing)
        });
        if meet {
            families.push(family(job, section_index, &known, &sharing_parts));
        }
        left.retain(|(_, faces)| !of_it(faces));
    }
    families
}

/// The family of these ends.
fn family(
    job: &Job,
    section_index: usize,
    known: &[Facing],
    parts: &[(usize, [Option<Facing>; 2])],
) -> (Family, Vec<Option<usize>>) {
    let section = &job.sections[section_index];
    let sides = sides(job, section_index);
    let point_of = |facing: Facing| known.iter().position(|known| *known == facing);
    let points = known.iter().map(|&facing| Point {
        cut: facing.angle.kerf(job.saw.kerf).ticks(),
        saving: stands_back(section, facing.angle).ticks(),
        meets: point_of(facing.meets(sides)),
    });
    let mut sorts: Vec<Sort> = Vec::new();
    let mut sort_of = vec![None; job.parts.len()];
    for (part, faces) in parts {
        let sort: Sort = faces.map(|face| face.and_then(point_of));
        if sort == [None, None] {
            continue;
        }
        let place = sorts.iter().position(|other| *other == sort);
        sort_of[*part] = Some(place.unwrap_or(sorts.len()));
        if place.is_none() {
            sorts.push(sort);
        }
    }
    let family = Family {
        points: points.collect(),
        sorts,
        kerf: job.saw.kerf.ticks(),
        turns: turns(sides),
    };
    (family, sort_of)
}
