//! The sound timber of a board: its clear runs, worked out from the job.
//!
//! A board's ends are trimmed and its bad stretches are cut out. A bad stretch narrower than the kerf takes one kerf, for the saw
//! cannot take less; where parts are mitred it takes the widest slanted cut. Where a part stands on a factory end, the run there starts or ends
//! without a trim. A length too long to carry is cut once at the yard; its two carried pieces are runs of their own.

use super::cuts::cut_width;
use timber::job::{Fitting, Job, Part, Section, ShedBoard, Stretch, Treated, Trim, YardLength};
use timber::length::Length;
use timber::plan::Source;

/// A board of the job, from the yard or the shed.
pub(super) struct Ground<'a> {
    pub(super) section: usize,
    /// Whether it is new timber, or else of the shed.
    pub(super) new: bool,
    /// Whether what is ripped may come out of it: it is not treated, or its section is too.
    pub(super) rips: bool,
    pub(super) length: Length,
    pub(super) trim: Trim,
    pub(super) bad: &'a [Stretch],
    /// Whether the datum end and the far end came from the factory.
    factory: [bool; 2],
}

/// Whether a part has to stand on a factory end of a board of this section: it goes in the ground and the section is treated, as is said.
pub(super) fn stands(job: &Job, part: &Part, section: usize) -> bool {
    let treated = job.sections[section].treated == Treated::Yes;
    job.posts_stand && part.fitting == Fitting::Ground && treated
}

/// The lengths of the parts that stand on the datum end and the far end.
pub(super) type Standing = [Option<Length>; 2];

/// A stretch in which parts may lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct ClearRun {
    pub(super) from: Length,
    pub(super) to: Length,
    /// The length that is added to an offcut at its end.
    pub(super) tail: Length,
}

impl ClearRun {
    pub(super) fn length(&self) -> Length {
        self.to - self.from
    }
}

impl<'a> Ground<'a> {
    /// The board of a source, if the job has it.
    pub(super) fn of(job: &'a Job, source: Source) -> Option<Ground<'a>> {
        match source {
            Source::Yard(line) => {
                let YardLength {
                    section, length, ..
                } = job.yard.get(line)?;
                let (section, length) = (*section, *length);
                let Section { trim, .. } = job.sections[section];
                Some(Ground {
                    section,
                    new: true,
                    rips: true,
                    length,
                    trim,
                    bad: &[],
                    factory: [true; 2],
                })
            }
            Source::Shed(index) => {
                let ShedBoard {
                    section,
                    length,
                    trim,
                    bad,
                    new,
                    treated,
                    factory_ends,
                    ..
                } = job.shed.get(index)?;
                Some(Ground {
                    section: *section,
                    new: *new,
                    rips: *treated == Treated::No || job.sections[*section].treated != Treated::No,
                    length: *length,
                    trim: *trim,
                    bad,
                    factory: *factory_ends,
                })
            }
        }
    }

    /// The clear runs of the uncut board. A bad stretch takes no less than the widest cut that may be made into it.
    pub(super) fn runs(&self, job: &Job) -> Vec<ClearRun> {
        let widest = self.widest_cut(job);
        let end = self.length - self.trim.far;
        let mut runs = Vec::new();
        let mut from = self.trim.datum;
        for bad in self.bad {
            runs.push(ClearRun {
                from,
                to: bad.from.min(end),
                tail: Length::ZERO,
            });
            from = from.max(bad.to).max(bad.from + widest);
        }
        runs.push(ClearRun {
            from,
            to: end,
            tail: self.trim.far,
        });
        runs.retain(|run| run.to > run.from);
        runs
    }

    /// Whether any part may stand on each end: it came from the factory, and sound timber begins where its trim ends.
    pub(super) fn may_carry(&self, job: &Job) -> [bool; 2] {
        let [datum, far] = self.factory;
        let runs = self.runs(job);
        let first = runs.first().is_some_and(|run| run.from == self.trim.datum);
        let last = runs
            .last()
            .is_some_and(|run| run.to == self.length - self.trim.far);
        let bad_before = self.bad.iter().any(|bad| bad.from <= self.trim.datum);
        let widest = self.widest_cut(job);
        let end = self.length - self.trim.far;
        let bad_behind = self
            .bad
            .iter()
            .any(|bad| bad.to.max(bad.from + widest) >= end);
        [datum && first && !bad_before, far && last && !bad_behind]
    }

    /// The clear runs of the uncut board where parts of these lengths stand on its ends, those of the parts left out; `None` where they cannot stand there.
    ///
    /// The first run then begins at the very end of the board. What is behind the last, up to the part there, is one cut: the widest of the section. That part is measured
    /// from the far end, to the next step, and so is not shorter than that end's trim.
    pub(super) fn runs_beside(&self, job: &Job, standing: Standing) -> Option<Vec<ClearRun>> {
        let mut runs = self.runs(job);
        let may = self.may_carry(job);
        if let Some(far) = standing[1] {
            let start = self.length - far.up_to(job.step);
            let last = runs.last_mut().filter(|_| may[1])?;
            let to = start - self.widest_of_section(job);
            if far.up_to(job.step) < self.trim.far || start < last.from {
                return None;
            }
            (last.to, last.tail) = (to, Length::ZERO);
        }
        if let Some(datum) = standing[0] {
            let first = runs.first_mut().filter(|_| may[0])?;
            // A part as long as the board, with both its ends, is the board as it came.
            if datum == self.length && may[1] && standing[1].is_none() && self.bad.is_empty() {
                (first.to, first.tail) = (self.length, Length::ZERO);
            }
            if datum < self.trim.datum || datum > first.to {
                return None;
            }
            first.from = Length::ZERO;
        }
        Some(runs)
    }

    /// The widest cut of any part of the section.
    pub(super) fn widest_of_section(&self, job: &Job) -> Length {
        let parts = job.parts.iter();
        let parts = parts.filter(|part| part.sections.contains(&self.section));
        let cuts = parts.flat_map(|part| part.ends.map(|end| cut_width(job.saw.kerf, end)));
        cuts.fold(job.saw.kerf, Length::max)
    }

    /// What the widest cut takes that can end a part on this board: the saw's kerf, or more at the steepest mitre of a part it may be
    /// used for.
    fn widest_cut(&self, job: &Job) -> Length {
        let mut widest = job.saw.kerf;
        for part in job.parts.iter().filter(|_| !self.bad.is_empty()) {
            if part.sections.contains(&self.section) {
                for end in part.ends {
                    widest = widest.max(cut_width(job.saw.kerf, end));
                }
            }
        }
        widest
    }

    /// How long each carried piece has to be before parts lie in it: its own trim, what its fresh end needs, and by how much the yard may cut it
    /// short.
    pub(super) fn carried_ends(&self, job: &Job) -> [Length; 2] {
        let fresh = job.sections[self.section].yard_sawn;
        [
            self.trim.datum + job.yard_tolerance + fresh.far,
            fresh.datum + job.yard_tolerance + self.trim.far,
        ]
    }

    /// The clear runs of the two pieces a length is carried in, when the yard's cut starts at `cut`. The far trim of a cut
    /// length is counted as lost, so that both pieces count alike wherever the cut is.
    ///
    /// The first piece is measured from its datum end, the second from its fresh one. Where the yard cuts short of the reading or beyond it, one of
    /// them lacks the tolerance at its other end; so nothing lies there. A cut in a trimmed end leaves one piece without any clear run. Its kerf
    /// still counts as taken from sound timber, next to that end; so the two runs are as long together wherever the cut is, and neither reaches
    /// into a trim.
    ///
    /// Where a part stands on the datum end the first run begins there.
    pub(super) fn carried_runs(
        &self,
        job: &Job,
        cut: Length,
        standing: Standing,
    ) -> Option<Vec<ClearRun>> {
        let [first_ends, second_ends] = self.carried_ends(job);
        let kerf = job.saw.kerf;
        let cut = cut.max(first_ends).min(self.length - kerf - second_ends);
        let pieces = [
            (self.trim.datum, cut - first_ends),
            (
                cut + kerf + job.sections[self.section].yard_sawn.datum,
                self.length - kerf - cut - second_ends,
            ),
        ];
        let runs = pieces.map(|(from, length)| ClearRun {
            from,
            to: from + length,
            tail: Length::ZERO,
        });
        let mut runs = runs.to_vec();
        let may = self.may_carry(job);
        if let Some(datum) = standing[0] {
            if !may[0] || datum < self.trim.datum || datum > runs[0].to {
                return None;
            }
            runs[0].from = Length::ZERO;
        }
        if let Some(far) = standing[1] {
            // It is measured from the far end, so how far off the yard saws is lost before it.
            let start = self.length - far.up_to(job.step);
            runs[1].to = start - self.widest_of_section(job) - job.yard_tolerance;
            if !may[1] || far.up_to(job.step) < self.trim.far || runs[1].to < runs[1].from {
                return None;
            }
        }
        runs.retain(|run| run.to > run.from);
        Some(runs)
    }
}
