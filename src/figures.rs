//! What plans cost, compared as the aim of a job compares them.

use crate::check::CheckedGroup;
use crate::plan::Measure;

/// What a plan comes to in all its groups: a sum for each measure of what is bought, in the order of the aim.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Figures(Vec<(Measure, i64)>);

impl Figures {
    /// Adds what a group comes to.
    pub fn add(&mut self, levels: impl IntoIterator<Item = (Measure, i64)>) {
        for (measure, value) in levels {
            match self.0.iter_mut().find(|(known, _)| *known == measure) {
                Some((_, sum)) => *sum = sum.saturating_add(value),
                None => self.0.push((measure, value)),
            }
        }
    }

    /// Each measure with its sum.
    pub fn levels(self) -> Vec<(Measure, i64)> {
        self.0
    }

    /// The sum of a measure; zero where nothing is measured by it.
    pub fn of(&self, measure: Measure) -> i64 {
        let known = self.0.iter().find(|(known, _)| *known == measure);
        known.map_or(0, |(_, sum)| *sum)
    }

    /// Whether these are less than others, compared measure by measure in the order of the aim.
    pub fn better_than(&self, others: &Figures) -> bool {
        let measures = others.measures(self);
        let differences = measures
            .iter()
            .map(|&measure| self.of(measure) - others.of(measure));
        differences
            .into_iter()
            .find(|&by| by != 0)
            .is_some_and(|by| by < 0)
    }

    /// How much less these are than others, measure by measure; below zero where they are more.
    pub fn less_than(&self, others: &Figures) -> Vec<(Measure, i64)> {
        let measures = others.measures(self);
        let differences = measures.into_iter();
        differences
            .map(|measure| (measure, others.of(measure) - self.of(measure)))
            .collect()
    }

    /// The measures of both, in the order of the aim.
    fn measures(&self, others: &Figures) -> Vec<Measure> {
        let mut all: Vec<Measure> = self.0.iter().map(|(measure, _)| *measure).collect();
        for (measure, _) in &others.0 {
            if !all.contains(measure) {
                all.push(*measure);
            }
        }
        all
    }
}

/// What a checked group's plan comes to in what is bought.
pub fn bought(group: &CheckedGroup) -> impl Iterator<Item = (Measure, i64)> + '_ {
    let levels = group.deciding().iter();
    levels.map(|level| (level.measure, level.value))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figures(levels: &[(Measure, i64)]) -> Figures {
        let mut figures = Figures::default();
        figures.add(levels.iter().copied());
        figures
    }

    #[test]
    fn the_first_measure_that_differs_decides() {
        let base = figures(&[(Measure::Bought, 5), (Measure::Money, 900)]);
        let dearer = figures(&[(Measure::Bought, 4), (Measure::Money, 950)]);
        assert!(dearer.better_than(&base) && !base.better_than(&dearer));
        assert!(!base.better_than(&base));
        assert_eq!(
            dearer.less_than(&base),
            [(Measure::Bought, 1), (Measure::Money, -50)]
        );
    }

    #[test]
    fn groups_are_added_up() {
        let mut both = figures(&[(Measure::Bought, 5)]);
        both.add([(Measure::Bought, 2), (Measure::BoughtLength, 7)]);
        assert_eq!(
            (both.of(Measure::Bought), both.of(Measure::BoughtLength)),
            (7, 7)
        );
        assert_eq!(both.of(Measure::Money), 0);
    }
}
