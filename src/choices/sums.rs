//! Choices of a whole job: sums of those of its groups of sections, without those that others beat.

use super::front::{Front, KeptBy, Point};
use super::{Choice, Choices, MOST_TOLD};
use crate::draft::JobDraft;
use crate::job::{Allowed, Job};
use crate::length::{Length, typed};
use crate::money::Money;
use timber::edit::Edit;

/// Most sums that are carried on to the next group.
const MOST_SUMS: usize = 150;

/// A choice of a point in each group so far.
#[derive(Clone)]
struct Sum {
    /// What is compared: lengths, money where every price is known, timber.
    key: Vec<i64>,
    picks: Vec<usize>,
}

impl Sum {
    fn beats(&self, other: &Sum) -> bool {
        let mut pairs = self.key.iter().zip(&other.key);
        pairs.all(|(one, other)| one <= other)
    }

    /// Whether it is beaten by none on all but the last of what is compared.
    fn is_short_of_timber(&self, others: &[Sum]) -> bool {
        let last = self.key.len() - 1;
        others.iter().any(|other| {
            let (one, other) = (&self.key[..last], &other.key[..last]);
            one != other && one.iter().zip(other).all(|(one, other)| other <= one)
        })
    }

    fn is_today(&self) -> bool {
        self.picks.iter().all(|&pick| pick == 0)
    }
}

/// A job as written, the rows of its sections, and as understood.
#[derive(Clone, Copy)]
pub struct Of<'a> {
    pub draft: &'a JobDraft,
    pub rows: &'a [usize],
    pub job: &'a Job,
}

/// The choices of a job from what is known of its groups.
pub fn sums(of: Of, fronts: &[Front], complete: bool) -> Choices {
    let priced = fronts.iter().all(|front| front.priced);
    let key = |point: &Point| match priced {
        true => vec![point.lengths, point.money, point.timber],
        false => vec![point.lengths, point.timber],
    };
    let none = Sum {
        key: vec![0; if priced { 3 } else { 2 }],
        picks: Vec::new(),
    };
    let (mut sums, mut today, mut whole) = (vec![none.clone()], none, complete);
    for front in fronts {
        let with = |sum: &Sum, pick: usize| {
            let more = key(&front.points[pick]);
            let key = sum.key.iter().zip(more).map(|(one, more)| one + more);
            let picks = sum.picks.iter().copied().chain([pick]);
            Sum {
                key: key.collect(),
                picks: picks.collect(),
            }
        };
        let all = sums.iter().flat_map(|sum| {
            let picks = 0..front.points.len();
            picks.map(|pick| with(sum, pick)).collect::<Vec<_>>()
        });
        sums = unbeaten(all.collect());
        today = with(&today, 0);
        if sums.len() > MOST_SUMS {
            sums = spread(sums, MOST_SUMS);
            whole = false;
        }
    }
    let all = sums.len();
    let beaten = !sums.iter().any(Sum::is_today);
    let mut told = thinned(sums);
    let untold = all - told.len();
    if beaten || !told.iter().any(Sum::is_today) {
        told.push(today);
        order::sort_by_key(&mut told, |sum| sum.key.clone());
    }
    if told.len() < 2 {
        return Choices {
            complete: whole,
            ..Choices::default()
        };
    }
    // A sum of points that nothing beats may be beaten by another sum that was not looked at.
    let alone = fronts.iter().filter(|front| front.points.len() > 1).count() < 2;
    let choice = |sum: &Sum| {
        let picks = || fronts.iter().zip(&sum.picks);
        let points = || picks().map(|(front, &pick)| &front.points[pick]);
        let today = sum.is_today();
        let beaten = today && beaten;
        Choice {
            lengths: points().map(|point| point.lengths).sum(),
            money: priced.then(|| Money::from_minor(points().map(|point| point.money).sum())),
            timber: Length::from_ticks(points().map(|point| point.timber).sum()),
            scrap: points().map(|point| point.scrap).sum(),
            kept: points().map(|point| point.kept).sum(),
            kept_length: points().map(|point| point.kept_length).sum(),
            settings: points().map(|point| point.settings).sum(),
            today,
            beaten,
            proven: !beaten && (alone || whole) && points().all(|point| point.shown),
            edits: picks()
                .filter(|(front, _)| front.points.len() > 1)
                .flat_map(|(front, &pick)| edits(of, front, &front.points[pick]))
                .collect(),
        }
    };
    Choices {
        found: told.iter().map(choice).collect(),
        complete: whole,
        untold,
    }
}

/// Those that no other beats, in the order of what is compared; of equal ones the plan as it is today, or the first.
fn unbeaten(mut sums: Vec<Sum>) -> Vec<Sum> {
    order::sort_by_key(&mut sums, |sum| (sum.key.clone(), !sum.is_today()));
    let mut kept: Vec<Sum> = Vec::new();
    for sum in sums {
        if !kept.iter().any(|other| other.beats(&sum)) {
            kept.push(sum);
        }
    }
    kept
}

/// So many of them, evenly spread, with the first and the last.
fn spread(sums: Vec<Sum>, most: usize) -> Vec<Sum> {
    let last = sums.len() - 1;
    let mut places = (0..most).map(|nth| nth * last / (most - 1)).peekable();
    let sums = sums.into_iter().enumerate();
    let kept = sums.filter(|(at, _)| places.next_if_eq(at).is_some());
    kept.map(|(_, sum)| sum).collect()
}

/// As many as are told: those first that only more timber would better.
fn thinned(sums: Vec<Sum>) -> Vec<Sum> {
    if sums.len() <= MOST_TOLD {
        return sums;
    }
    let all = sums.clone();
    let (more, first): (Vec<Sum>, Vec<Sum>) = sums
        .into_iter()
        .partition(|sum| sum.is_short_of_timber(&all));
    if first.len() + 1 >= MOST_TOLD {
        return match first.len() > MOST_TOLD {
            true => spread(first, MOST_TOLD),
            false => first,
        };
    }
    let room = MOST_TOLD - first.len();
    let mut told = first;
    told.extend(match more.len() > room {
        true => spread(more, room),
        false => more,
    });
    order::sort_by_key(&mut told, |sum| sum.key.clone());
    told
}

/// What writes a point of a group into the job, whatever is there: the first of its sections says all that may be bought.
fn edits(of: Of, front: &Front, point: &Point) -> Vec<Edit> {
    let allowed = match point.kept_by {
        KeptBy::Today | KeptBy::Aim => Allowed::default(),
        KeptBy::Allowed(within) => Allowed {
            lengths: u32::try_from(within.lengths).ok(),
            timber: within.timber.map(Length::from_ticks),
        },
    };
    let mut edits = Vec::new();
    for (at, &section) in front.sections.iter().enumerate() {
        let Some(&row) = of.rows.get(section) else {
            continue;
        };
        let written = &of.draft.sections[row];
        let Allowed { lengths, timber } = if at == 0 { allowed } else { Allowed::default() };
        let texts = match point.kept_by {
            KeptBy::Today => [written.allowed.clone(), written.allowed_timber.clone()],
            _ => [
                lengths.map(|lengths| lengths.to_string()),
                timber.map(|timber| typed(timber, of.job.reading)),
            ],
        };
        for (field, text) in ["allowed", "allowed_timber"].into_iter().zip(texts) {
            edits.push(Edit::row("sections", row, field, text.unwrap_or_default()));
        }
    }
    edits
}
