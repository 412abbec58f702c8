//! Choices of a whole job: sums of those of its groups of sections, without those that others beat.

use super::found::{Choice, Choices, MOST_TOLD};
use super::front::{Front, KeptBy, Point};
use crate::draft::JobDraft;
use crate::job::{Allowed, Job};
use crate::length::{Length, typed};
use crate::money::Money;
use timber::edit::Edit;

/// Most sums that are carried on to the next group.
const MOST_SUMS: usize = 150;

/// A choice of a point in each group so far.
#[derive(Clone, Default)]
struct Sum {
    /// What is compared: lengths, money, which is zero where a price is missing, and timber.
    key: [i64; 3],
    picks: Vec<usize>,
}

impl Sum {
    /// Whether it is no more than another in the first so many of what is compared.
    fn is_within(&self, other: &Sum, first: usize) -> bool {
        (0..first).all(|at| self.key[at] <= other.key[at])
    }

    fn is_today(&self) -> bool {
        self.picks.iter().all(|&pick| pick == 0)
    }

    fn with(&self, key: [i64; 3], pick: usize) -> Sum {
        let mut sum = self.clone();
        sum.picks.push(pick);
        for (one, more) in sum.key.iter_mut().zip(key) {
            *one += more;
        }
        sum
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
    let key = |point: &Point| {
        let money = if priced { point.money } else { 0 };
        [point.lengths, money, point.timber]
    };
    let (mut sums, mut today) = (vec![Sum::default()], Sum::default());
    let mut whole = complete;
    for front in fronts {
        let mut all = Vec::new();
        for sum in &sums {
            let points = front.points.iter().enumerate();
            all.extend(points.map(|(pick, point)| sum.with(key(point), pick)));
        }
        sums = unbeaten(all, 3);
        today = today.with(key(&front.points[0]), 0);
        whole &= sums.len() <= MOST_SUMS;
        sums = spread(sums, MOST_SUMS);
    }
    let all = sums.len();
    let beaten = !sums.iter().any(Sum::is_today);
    let mut told = thinned(sums);
    let untold = all - told.len();
    if !told.iter().any(Sum::is_today) {
        told.push(today);
        order::sort_by_key(&mut told, |sum| sum.key);
    }
    // A sum of points that nothing beats may be beaten by another sum that was not looked at.
    let alone = fronts.iter().filter(|front| front.points.len() > 1).count() < 2;
    let choice = |sum: &Sum| {
        let mut choice = Choice {
            lengths: sum.key[0],
            money: priced.then(|| Money::from_minor(sum.key[1])),
            timber: Length::from_ticks(sum.key[2]),
            today: sum.is_today(),
            proven: alone || whole,
            ..Choice::default()
        };
        choice.beaten = choice.today && beaten;
        choice.proven &= !choice.beaten;
        for (front, &pick) in fronts.iter().zip(&sum.picks) {
            let point = &front.points[pick];
            choice.scrap += point.scrap;
            choice.kept += point.kept;
            choice.kept_length += point.kept_length;
            choice.settings += point.settings;
            choice.proven &= point.shown;
            if front.points.len() > 1 {
                edits(of, front, point, &mut choice.edits);
            }
        }
        choice
    };
    let mut found: Vec<Choice> = told.iter().map(choice).collect();
    let only = whole && found.len() == 1 && found[0].proven;
    if found.len() < 2 {
        found.clear();
    }
    Choices {
        found,
        complete: whole,
        only,
        priced,
        untold,
    }
}

/// Those that no other beats in the first so many of what is compared, in its order; of equal ones the plan as it is today, or the first.
fn unbeaten(mut sums: Vec<Sum>, first: usize) -> Vec<Sum> {
    order::sort_by_key(&mut sums, |sum| (sum.key, !sum.is_today()));
    let mut kept: Vec<Sum> = Vec::new();
    for sum in sums {
        if !kept.iter().any(|other| other.is_within(&sum, first)) {
            kept.push(sum);
        }
    }
    kept
}

/// At most so many of them, evenly spread, with the first and the last.
fn spread(sums: Vec<Sum>, most: usize) -> Vec<Sum> {
    let count = sums.len();
    if count <= most {
        return sums;
    }
    let place = |nth: usize| nth * (count - 1) / (most - 1);
    (0..most).map(|nth| sums[place(nth)].clone()).collect()
}

/// As many as are told; where they are too many, those that none beats on lengths and money.
fn thinned(sums: Vec<Sum>) -> Vec<Sum> {
    match sums.len() > MOST_TOLD {
        true => spread(unbeaten(sums, 2), MOST_TOLD),
        false => sums,
    }
}

/// What writes a point of a group into the job, whatever is there: the first of its sections says all that may be bought.
fn edits(of: Of, front: &Front, point: &Point, edits: &mut Vec<Edit>) {
    let allowed = match point.kept_by {
        KeptBy::Today | KeptBy::Aim => Allowed::default(),
        KeptBy::Allowed(within) => Allowed {
            lengths: u32::try_from(within.lengths).ok(),
            timber: within.timber.map(Length::from_ticks),
        },
    };
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
}
