//! What the saw, the yard and the shed may give: a thinner cut, smaller trims, a longer load, other timber.

use super::super::change::Change;
use super::{Asked, Idea, Way, push, rows, steps};
use crate::length::Length;
use crate::limits;
use crate::money::Money;
use crate::usual;

/// The thinnest saw cut that is thought of.
const THIN_KERF: usual::Usual = usual::Usual {
    metric: Length::from_ticks(4_800),
    imperial: Length::from_inch_64ths(4),
};

/// How much longer a vehicle's load may get.
const LONGER_LOAD: usual::Usual = usual::Usual {
    metric: Length::from_mm(300),
    imperial: Length::from_inch_64ths(12 * 64),
};

/// Lengths of timber are sold in steps of this.
const SOLD_STEP: usual::Usual = usual::Usual {
    metric: Length::from_mm(300),
    imperial: Length::from_inch_64ths(24 * 64),
};

/// The shortest length of timber that is sold.
const SOLD_LEAST: usual::Usual = usual::Usual {
    metric: Length::from_mm(1_800),
    imperial: Length::from_inch_64ths(72 * 64),
};

impl<'a> Asked<'a> {
    pub(super) fn saw_and_trims(self, all: &mut Vec<Idea<'a>>) {
        let job = self.job;
        let kerf = job.saw.kerf;
        let fine = match self.imperial() {
            true => Length::from_inch_64ths(1),
            false => Length::from_ticks(320),
        };
        let most = steps(kerf - THIN_KERF.on(self.imperial()), fine);
        push(all, most, Way::Halving, move |n| Change::Kerf {
            from: kerf,
            to: kerf.nth_below(fine, n.into()),
        });
        let step = self.job.trial_step();
        let rows = rows(&self.draft.sections);
        for (section, row) in rows.into_iter().enumerate() {
            let trim = job.sections[section].trim;
            let from = [trim.datum, trim.far];
            let step = job.step;
            // What is trimmed off holds the saw cut: less than that is nothing, an end that is left as it came.
            let sawn = from.map(|end| steps(end - kerf, step)).into_iter().max();
            let sawn = sawn.unwrap_or(0);
            let any = from.iter().any(|end| *end > Length::ZERO);
            push(all, sawn + u32::from(any), Way::Halving, move |n| {
                let to = from.map(|end| match n > sawn || end <= kerf {
                    true => Length::ZERO,
                    false => end.nth_below(step, n.into()).max(kerf),
                });
                Change::Trim {
                    row,
                    section,
                    from,
                    to,
                }
            });
        }
        if let Some(from) = job.carry {
            let step = step.max(Length::from_mm(10));
            let most = steps(LONGER_LOAD.on(self.imperial()), step);
            push(all, most, Way::Halving, move |n| Change::Carry {
                from,
                to: from.nth_above(step, n.into()),
            });
        }
    }

    pub(super) fn stock(self, all: &mut Vec<Idea<'a>>) {
        let job = self.job;
        let lines = rows(&self.draft.yard);
        for (line, &row) in job.yard.iter().zip(&lines) {
            if let Some(from) = line.count.filter(|_| !line.elsewhere) {
                let (section, length) = (line.section, line.length);
                push(all, 3, Way::Halving, move |n| Change::Stock {
                    row,
                    section,
                    length,
                    from,
                    to: from.saturating_add(n),
                });
            }
        }
        for section in 0..job.sections.len() {
            let used = job
                .parts
                .iter()
                .any(|part| part.sections.contains(&section));
            let sold: Vec<Length> = job
                .yard
                .iter()
                .filter(|line| line.section == section)
                .map(|line| line.length)
                .collect();
            let Some(longest) = sold.iter().copied().max().filter(|_| used) else {
                continue;
            };
            // A board as long as what the yard sells would be bought there.
            let step = job.step;
            let first = limits::BOARD.least + usual::SHED_TRIM.on(self.imperial());
            let row = self.draft.shed.len();
            push(all, steps(longest - first, step), Way::Halving, move |n| {
                Change::ShedBoard {
                    row,
                    section,
                    length: first.nth_above(step, n.into()),
                }
            });
            self.other_lengths(section, &sold, longest, all);
        }
    }

    /// Lengths that a yard might sell besides those it is known to, at the price per length of the one next to it.
    fn other_lengths(
        self,
        section: usize,
        sold: &[Length],
        longest: Length,
        all: &mut Vec<Idea<'a>>,
    ) {
        let (least, step) = (
            SOLD_LEAST.on(self.imperial()),
            SOLD_STEP.on(self.imperial()),
        );
        let row = self.draft.yard.len();
        let longest = self.job.carry.unwrap_or(longest).max(longest);
        for n in 0..=steps(longest - least, step) {
            let length = least + Length::from_ticks(step.ticks() * i64::from(n));
            if length > longest || sold.contains(&length) {
                continue;
            }
            let price = self.price_like(section, length);
            all.push(Idea {
                most: 1,
                way: Way::Halving,
                at: Box::new(move |_| Change::YardLength {
                    row,
                    section,
                    length,
                    price,
                }),
                rivals: Some(section),
            });
        }
    }

    /// The price of a length at that per metre of the length sold that is nearest to it, rounded up to a whole hundredth.
    fn price_like(self, section: usize, length: Length) -> Option<Money> {
        let lines = self.job.yard.iter().filter(|line| line.section == section);
        let near = lines.min_by_key(|line| (line.length - length).ticks().abs())?;
        let (price, of) = (
            i128::from(near.price?.minor()),
            i128::from(near.length.ticks()) * i128::from(near.pack),
        );
        let dearer = price * i128::from(length.ticks()) + of - 1;
        i64::try_from(dearer / of).ok().map(Money::from_minor)
    }
}
