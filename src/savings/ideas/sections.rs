//! Which other sections parts may be made of: one of the same size, or a wider one that they are ripped out of.

use super::super::change::Change;
use super::{Asked, Idea, Way, push, written_parts};
use crate::fault::Place;
use crate::job::Part;

impl<'a> Asked<'a> {
    pub(super) fn sections(self, all: &mut Vec<Idea<'a>>) {
        for (row, part) in written_parts(self.job) {
            let place = Place::row("parts", row, "section");
            let text = self.draft.parts[row].section.as_deref().unwrap_or_default();
            self.also_of(place, (&part.label, text), all);
            self.ripped(row, part, all);
        }
    }

    /// Sections of the same size as those in a field, from which its parts could be made too.
    pub(super) fn also_of(self, place: Place, (part, text): (&str, &str), all: &mut Vec<Idea<'a>>) {
        let known = &self.job.sections;
        let named: Vec<usize> = text
            .split(';')
            .filter_map(|name| known.iter().position(|section| section.name == name.trim()))
            .collect();
        let Some(&first) = named.first() else { return };
        let size = |section: usize| {
            (
                known[section].thickness,
                known[section].width,
                known[section].cover,
            )
        };
        for other in 0..known.len() {
            let (thickness, width, _) = size(other);
            let is_sized = thickness.is_some() && width.is_some();
            if is_sized && size(other) == size(first) && !named.contains(&other) {
                let (place, part, sections) = (place.clone(), part.to_owned(), named.clone());
                push(all, 1, Way::Halving, move |_| Change::AlsoOf {
                    place: place.clone(),
                    part: part.clone(),
                    sections: sections.clone(),
                    other,
                });
            }
        }
    }

    /// Wider sections of the same thickness out of which a part could be ripped.
    fn ripped(self, row: usize, part: &Part, all: &mut Vec<Idea<'a>>) {
        let (known, saw) = (&self.job.sections, self.job.saw);
        let [own] = part.sections[..] else { return };
        let Some(width) = known[own].width.filter(|_| part.rip.is_none() && saw.rips) else {
            return;
        };
        for of in 0..known.len() {
            let wider = known[of].width.is_some_and(|wide| wide > width);
            if wider
                && known[own].thickness.is_some()
                && known[of].thickness == known[own].thickness
            {
                push(all, 1, Way::Halving, move |_| Change::Ripped {
                    row,
                    width,
                    of,
                });
            }
        }
    }
}
