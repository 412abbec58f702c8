//! The sound timber of a board.
//!
//! A board loses a trim at each end and its bad stretches. Parts lie between these. A bad stretch narrower than the saw's cut costs one cut
//! from where it starts: the widest that a part may end in, for it must not reach what lies behind. The far trim belongs to the last offcut, for an end that nobody needs square is not trimmed. A length that
//! the vehicle does not take is cut once at the yard, anywhere between its trims, into two pieces that it takes. Each of those has two ends to trim and may come
//! out shorter than it was asked for.

use super::lay::{Ticks, cut, key};
use lengthwise::job::{Job, PartEnd, Stretch, Treated, Trim, YardLength};

/// A stretch of sound timber.
#[derive(Clone, Copy, Debug)]
pub struct Sound {
    pub length: Ticks,
    /// What is added to an offcut at its end.
    pub beyond: Ticks,
    /// Where it begins on the board.
    pub from: Ticks,
}

/// The sound timber of a board.
#[derive(Clone, Debug)]
pub enum Timber {
    /// Whole.
    Whole(Vec<Sound>),
    /// To be cut at the yard. The cut leaves `first` of sound timber before it, for any `first` within these bounds, and `of` less `first`
    /// behind it.
    Cut { of: Ticks, first: (Ticks, Ticks) },
}

/// A board: its whole length and its timber.
pub struct Board {
    pub section: usize,
    /// Whether it counts as new timber.
    pub new: bool,
    /// Whether narrow parts may be ripped out of it: README, a treated board is never ripped where there is another choice.
    pub rips: bool,
    pub length: Ticks,
    pub timber: Timber,
    /// The trim at the datum end and at the far end, where a part may stand on it untrimmed: README, posts stand on factory ends. Sound timber goes on beyond that trim.
    pub stands: [Option<Ticks>; 2],
    /// The line of the yard it comes from.
    pub line: Option<usize>,
    /// How many there are; `None` for as many as wanted.
    pub count: Option<u32>,
}

/// The boards of some sections that have any sound timber and can be carried home.
pub fn boards(job: &Job, sections: &[usize]) -> Vec<Board> {
    let kerf = job.saw.kerf.ticks();
    let bought = job.yard.iter().enumerate().map(|(line, yard)| {
        let length = yard.length.ticks();
        let trim = job.sections[yard.section].trim;
        let timber = match job.carry {
            Some(carry) if length > carry.ticks() => cut_once(job, yard, carry.ticks()),
            _ => whole(length, trim, kerf, &[]),
        };
        Board {
            section: yard.section,
            new: true,
            rips: true,
            length,
            timber,
            stands: [Some(trim.datum.ticks()), Some(trim.far.ticks())],
            line: Some(line),
            count: yard.count,
        }
    });
    let owned = job.shed.iter().map(|board| {
        let length = board.length.ticks();
        let widest = widest_cut(job, board.section);
        let timber = whole(length, board.trim, widest, &board.bad);
        let [near, far] = [board.trim.datum.ticks(), board.trim.far.ticks()];
        let lost = || {
            let bad = board
                .bad
                .iter()
                .map(|bad| (bad.from.ticks(), bad.to.ticks()));
            bad.map(|(from, to)| (from, to.max(from + widest)))
        };
        let sound = [
            lost().all(|(from, _)| from > near),
            lost().all(|(_, to)| to < length - far),
        ];
        let stands =
            [0, 1].map(|end| (board.factory_ends[end] && sound[end]).then_some([near, far][end]));
        Board {
            stands,
            section: board.section,
            new: board.new,
            rips: board.treated == Treated::No
                || job.sections[board.section].treated != Treated::No,
            length,
            timber,
            line: None,
            count: Some(1),
        }
    });
    bought
        .chain(owned)
        .filter(|board| sections.contains(&board.section))
        .filter(|board| match &board.timber {
            Timber::Whole(sound) => !sound.is_empty(),
            Timber::Cut {
                of,
                first: (least, most),
            } => *of > 0 && least <= most,
        })
        .collect()
}

/// The widest cut that a part of a section may end in.
pub fn widest_cut(job: &Job, section: usize) -> Ticks {
    let kerf = job.saw.kerf.ticks();
    let parts = job
        .parts
        .iter()
        .filter(|part| part.sections.contains(&section));
    let cuts = parts.flat_map(|part| part.ends).map(|end| match end {
        PartEnd::Square => kerf,
        PartEnd::Mitre(angle) => cut(kerf, Some(key(angle))),
    });
    cuts.max().unwrap_or(kerf)
}

fn whole(length: Ticks, trim: Trim, widest: Ticks, bad: &[Stretch]) -> Timber {
    // All that is lost, as stretches, the ends included.
    let end = length - trim.far.ticks();
    let mut lost: Vec<(Ticks, Ticks)> = bad
        .iter()
        .map(|bad| {
            (
                bad.from.ticks(),
                bad.to.ticks().max(bad.from.ticks() + widest),
            )
        })
        .collect();
    lost.push((0, trim.datum.ticks()));
    lost.sort_unstable();
    let mut sound = Vec::new();
    let mut from = 0;
    for (start, stop) in lost {
        if start.min(end) > from {
            sound.push(Sound {
                length: start.min(end) - from,
                beyond: 0,
                from,
            });
        }
        from = from.max(stop);
    }
    if end > from {
        sound.push(Sound {
            length: end - from,
            beyond: trim.far.ticks(),
            from,
        });
    }
    Timber::Whole(sound)
}

fn cut_once(job: &Job, yard: &YardLength, carry: Ticks) -> Timber {
    let section = &job.sections[yard.section];
    let short = job.yard_tolerance.ticks();
    // What a piece as asked for loses before parts lie in it: the first from its datum end to its fresh one, then the second.
    let waste = [
        section.trim.datum.ticks() + section.yard_sawn.far.ticks() + short,
        section.yard_sawn.datum.ticks() + section.trim.far.ticks() + short,
    ];
    let both = yard.length.ticks() - job.saw.kerf.ticks();
    let of = both - waste[0] - waste[1];
    // The second piece is no longer than the vehicle takes, nor is the first, and no piece has less than nothing.
    let least = (both - carry - waste[0]).max(0);
    let most = (carry - waste[0]).min(of);
    Timber::Cut {
        of,
        first: (least, most),
    }
}
