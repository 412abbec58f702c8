//! One board: whether its parts can be cut as they are placed, and what is left of it.
//!
//! Parts lie in a clear run one behind the other. Behind each is one cut: a kerf at a square end, `kerf / cos t` at a mitre. Two neighbours
//! whose ends meet at the same angle and lean may share one cut ([`super::sharing`]). The second then starts that cut's width beyond the
//! end of the first, less `width * tan t`. Nothing else is between parts, so every position follows from the one before.

use super::ground::{ClearRun, Ground, Standing, stands};
use super::lie::Lie;
use crate::cuts::{cut_width, mitre_waste, stands_back};
use crate::sharing::{Lean, Sharing, lying_leans, may_lie};
use crate::wood;
use timber::job::{Job, Part, PartEnd};
use timber::length::Length;
use timber::limits;
use timber::plan::{Lies, PlacedPart, PlannedBoard, PlannedRun, Source};

/// The result of checking a board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CheckedBoard {
    /// Index of its section.
    pub section: usize,
    /// Its whole length.
    pub length: Length,
    /// Sum of the long-point lengths of its parts.
    pub parts: Length,
    /// What is left of its clear runs, as offcuts in ascending order.
    pub offcuts: Vec<Offcut>,
    /// Length that is neither a part nor an offcut worth keeping. Shared mitres save what overlaps, so it may be below zero.
    pub scrap: Length,
    /// What overlaps where mitred ends stand back from their long points: half of `width * tan t` for each end. Scrap and this
    /// together are what ends up on the floor.
    pub mitre_waste: Length,
}

/// What is left of a clear run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Offcut {
    /// Where it starts on the board.
    pub from: Length,
    /// Where it ends on the board, an untouched end's trim included.
    pub to: Length,
    /// The length that decides whether it is kept. It is less than from `from` to `to` where an untouched trim does not count.
    pub counted: Length,
    /// Whether it is worth keeping.
    pub kept: bool,
}

/// A part as it lies: its ends towards the datum and away from it.
struct Lying<'a> {
    placed: &'a PlacedPart,
    part: &'a Part,
    near_datum: PartEnd,
    away: PartEnd,
    /// How both ends lean.
    leans: [Option<Lean>; 2],
}

/// Checks one board; `None` where it is too wrong to work out its offcuts.
pub(super) fn check_board(
    job: &Job,
    sharing: &[Sharing],
    (index, planned): (usize, &PlannedBoard),
    lies: &mut Vec<Lie>,
) -> Option<CheckedBoard> {
    let Some(ground) = Ground::of(job, planned.source) else {
        lies.push(Lie::UnknownBoard { board: index });
        return None;
    };
    if let Some(at) = far_off(planned) {
        lies.push(Lie::MarkOffTheBoard { board: index, at });
        return None;
    }
    let before = lies.len();
    if planned.runs.iter().all(|run| run.cuts.is_empty()) {
        lies.push(Lie::NothingCut { board: index });
    }
    for placed in planned.runs.iter().flat_map(|run| &run.cuts) {
        check_part(job, index, &ground, placed, lies);
    }
    let standing = standing(job, (index, planned), &ground, lies);
    let carried = carried(job, index, planned, &ground, lies);
    if lies.len() > before {
        return None;
    }
    let Some(runs) = runs_of(job, &ground, carried, standing) else {
        // What stands on an end has no room there.
        let mut placed = planned.runs.iter().flat_map(|run| &run.cuts);
        let part = placed.find(|placed| stands(job, &job.parts[placed.part], ground.section));
        let part = part.map_or(0, |placed| placed.part);
        lies.push(Lie::NotOnFactoryEnd { board: index, part });
        return None;
    };
    let mut laid: Vec<Option<&PlannedRun>> = vec![None; runs.len()];
    let mut behind = 0;
    for planned_run in &planned.runs {
        let ahead = runs[behind..].iter();
        let known = ahead
            .take_while(|run| run.from <= planned_run.from)
            .position(|run| run.from == planned_run.from && run.to == planned_run.to);
        match known {
            // The plan's runs ascend, so earlier clear runs need not be looked at again.
            Some(at) => {
                laid[behind + at] = Some(planned_run);
                behind += at + 1;
            }
            None => lies.push(Lie::NotAClearRun {
                board: index,
                from: planned_run.from,
                to: planned_run.to,
            }),
        }
        check_run(job, &sharing[ground.section], (index, planned_run), lies);
    }
    if lies.len() > before {
        return None;
    }
    Some(left_over(job, planned, &ground, (&runs, &laid)))
}

/// The first mark so far off that sums of marks could overflow: further than twice the longest board of a job, on either side.
fn far_off(planned: &PlannedBoard) -> Option<Length> {
    let in_runs = planned.runs.iter().flat_map(|run| {
        let cuts = run.cuts.iter().flat_map(|cut| [cut.start, cut.end]);
        cuts.chain([run.from, run.to])
    });
    let most = limits::BOARD.most + limits::BOARD.most;
    in_runs
        .chain(planned.yard_cut)
        .find(|at| *at > most || *at < -most)
}

/// Checks a part by itself: it exists, its section and timber are allowed, it has its length, and it lies on sound timber.
fn check_part(job: &Job, index: usize, ground: &Ground, placed: &PlacedPart, lies: &mut Vec<Lie>) {
    let part = placed.part;
    let Some(wanted) = job.parts.get(part) else {
        lies.push(Lie::UnknownPart { board: index, part });
        return;
    };
    if !wanted.sections.contains(&ground.section) {
        lies.push(Lie::WrongSection { board: index, part });
    } else if !wood::takes(wanted, ground.new, ground.rips) {
        lies.push(Lie::WrongTimber { board: index, part });
    }
    let marked = placed.end - placed.start;
    if marked != wanted.length {
        lies.push(Lie::WrongLength {
            board: index,
            part,
            wanted: wanted.length,
            marked,
        });
    }
    // Bad stretches ascend and do not touch, so those that end before the part come first.
    let before = ground.bad.partition_point(|bad| bad.to <= placed.start);
    let met = ground.bad[before..]
        .iter()
        .take_while(|bad| bad.from < placed.end);
    for bad in met {
        lies.push(Lie::PartInBadStretch {
            board: index,
            part,
            from: bad.from,
            to: bad.to,
        });
    }
}

/// The parts that stand on the ends of a planned board. One on the datum end is the first of all; one on the far end is a run of its own, the last. Each
/// stands on a square end. Any other part that has to stand on an end is a lie.
pub(super) fn standing(
    job: &Job,
    (index, planned): (usize, &PlannedBoard),
    ground: &Ground,
    lies: &mut Vec<Lie>,
) -> Standing {
    let mut found = [None; 2];
    let last = planned.runs.len().wrapping_sub(1);
    for (at, run) in planned.runs.iter().enumerate() {
        for (nth, placed) in run.cuts.iter().enumerate() {
            let Some(part) = job.parts.get(placed.part) else {
                continue;
            };
            if !stands(job, part, ground.section) {
                continue;
            }
            let lying = Lying::of(job, placed);
            let place = match (at, nth) {
                (0, 0) if placed.start == Length::ZERO => Some((0, lying.near_datum)),
                (at, 0) if at == last && run.cuts.len() == 1 && placed.end == ground.length => {
                    Some((1, lying.away))
                }
                _ => None,
            };
            let place = place.filter(|(_, end)| *end == PartEnd::Square);
            match place {
                Some((end, _)) if ground.may_carry(job)[end] => {
                    found[end] = Some(part.length);
                }
                _ => lies.push(Lie::NotOnFactoryEnd {
                    board: index,
                    part: placed.part,
                }),
            }
        }
    }
    found
}

/// The clear runs of a board with such parts on its ends, the run of the one at the far end the last; `None` where they cannot stand there.
pub(super) fn runs_of(
    job: &Job,
    ground: &Ground,
    yard_cut: Option<Length>,
    standing: Standing,
) -> Option<Vec<ClearRun>> {
    let mut runs = match yard_cut {
        Some(cut) => ground.carried_runs(job, cut, standing)?,
        None => ground.runs_beside(job, standing)?,
    };
    runs.retain(|run| run.to > run.from);
    runs.extend(standing[1].map(|far| ClearRun {
        from: ground.length - far,
        to: ground.length,
        tail: Length::ZERO,
    }));
    Some(runs)
}

/// Where the yard cuts the board, if it does.
fn carried(
    job: &Job,
    index: usize,
    planned: &PlannedBoard,
    ground: &Ground,
    lies: &mut Vec<Lie>,
) -> Option<Length> {
    let too_long = match (planned.source, job.carry) {
        (Source::Yard(_), Some(carry)) if ground.length > carry => Some(carry),
        _ => None,
    };
    match (planned.yard_cut, too_long) {
        (None, None) => None,
        (None, Some(carry)) => {
            lies.push(Lie::TooLongToCarry {
                board: index,
                length: ground.length,
                carry,
            });
            None
        }
        (Some(_), None) => {
            lies.push(Lie::NeedlessYardCut { board: index });
            None
        }
        (Some(cut), Some(carry)) => {
            let second = ground.length - cut - job.saw.kerf;
            // The saw may take all timber beyond the cut; then there is only one piece to carry.
            if cut < Length::ZERO || second < Length::ZERO {
                lies.push(Lie::NeedlessYardCut { board: index });
            }
            for length in [cut, second] {
                if length > carry {
                    lies.push(Lie::TooLongToCarry {
                        board: index,
                        length,
                        carry,
                    });
                }
            }
            Some(cut)
        }
    }
}

/// Checks the parts of one run, one behind the other.
fn check_run(
    job: &Job,
    sharing: &Sharing,
    (index, run): (usize, &PlannedRun),
    lies: &mut Vec<Lie>,
) {
    let lying: Vec<Lying> = run
        .cuts
        .iter()
        .map(|placed| Lying::of(job, placed))
        .collect();
    for one in &lying {
        let part = one.placed.part;
        if !may_lie(job, sharing.sides, one.placed) {
            lies.push(Lie::TurnedOnFixedSection { board: index, part });
        }
        if one.placed.end > run.to {
            lies.push(Lie::PartBeyondRun {
                board: index,
                part,
                by: one.placed.end - run.to,
            });
        }
    }
    if let Some(first) = run.cuts.first() {
        check_gap(
            index,
            first.part,
            first.start - run.from,
            Length::ZERO,
            lies,
        );
    }
    for pair in lying.windows(2) {
        check_pair(job, sharing, index, [&pair[0], &pair[1]], lies);
    }
}

fn check_pair(
    job: &Job,
    sharing: &Sharing,
    index: usize,
    [one, next]: [&Lying; 2],
    lies: &mut Vec<Lie>,
) {
    let part = next.placed.part;
    let gap = next.placed.start - one.placed.end;
    let alone = cut_width(job.saw.kerf, one.away);
    if let (PartEnd::Mitre(angle), PartEnd::Mitre(other)) = (one.away, next.near_datum)
        && angle == other
        && gap < alone
        && sharing.may(one.part)
        && sharing.may(next.part)
    {
        let shared = alone - stands_back(&job.sections[sharing.section], angle);
        if one.leans[1] != next.leans[0] {
            lies.push(Lie::MitreSharedWithoutTurning { board: index, part });
        } else {
            check_gap(index, part, gap, shared, lies);
        }
        return;
    }
    check_gap(index, part, gap, alone, lies);
}

fn check_gap(board: usize, part: usize, gap: Length, needed: Length, lies: &mut Vec<Lie>) {
    if gap < needed {
        lies.push(Lie::NoRoomForTheSaw {
            board,
            part,
            room: gap,
            needed,
        });
    } else if gap > needed {
        lies.push(Lie::StrayGap {
            board,
            part,
            gap,
            needed,
        });
    }
}

/// The offcuts of a board whose runs hold.
pub(super) fn left_over(
    job: &Job,
    planned: &PlannedBoard,
    ground: &Ground,
    (runs, laid): (&[ClearRun], &[Option<&PlannedRun>]),
) -> CheckedBoard {
    let section = &job.sections[ground.section];
    let mut offcuts = Vec::new();
    for (run, laid) in runs.iter().zip(laid) {
        let cuts = laid.and_then(|planned_run| planned_run.cuts.last());
        let (from, mut start) = match cuts {
            None => (run.from, run.from),
            Some(last) => {
                let end = last.end + cut_width(job.saw.kerf, Lying::of(job, last).away);
                (end, end)
            }
        };
        if from >= run.to {
            continue;
        }
        let counted = run.to - from + run.tail;
        // An end that nobody cuts keeps its trim.
        if cuts.is_none() && run.from == ground.trim.datum {
            start = Length::ZERO;
        }
        let to = if run.to == ground.length - ground.trim.far {
            ground.length
        } else {
            run.to
        };
        offcuts.push(Offcut {
            from: start,
            to,
            counted,
            kept: counted >= section.keep,
        });
    }
    let placed: Vec<&PlacedPart> = planned.runs.iter().flat_map(|run| &run.cuts).collect();
    let parts: Length = placed.iter().map(|placed| placed.end - placed.start).sum();
    let kept: Length = offcuts
        .iter()
        .filter(|offcut| offcut.kept)
        .map(|offcut| offcut.counted)
        .sum();
    CheckedBoard {
        section: ground.section,
        length: ground.length,
        parts,
        offcuts,
        scrap: ground.length - parts - kept,
        mitre_waste: placed
            .iter()
            .map(|placed| mitre_waste(section, &job.parts[placed.part]))
            .sum(),
    }
}

impl<'a> Lying<'a> {
    fn of(job: &'a Job, placed: &'a PlacedPart) -> Lying<'a> {
        let part = &job.parts[placed.part];
        let [first, second] = part.ends;
        let (near_datum, away) = match placed.lies {
            Lies::AsWritten => (first, second),
            Lies::Turned => (second, first),
        };
        Lying {
            placed,
            part,
            near_datum,
            away,
            leans: lying_leans(part, placed),
        }
    }
}
