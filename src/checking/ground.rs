//! The sound timber of a board: its clear runs, worked out from the job.
//!
//! A board's ends are trimmed and its bad stretches are cut out. A bad stretch narrower than the kerf takes one kerf, for the saw
//! cannot take less; where parts are mitred it takes the widest slanted cut. A length too long to carry is cut once at the yard; its two carried pieces are runs of their own.

use super::cuts::cut_width;
use timber::job::{Job, Section, ShedBoard, Stretch, Treated, Trim, YardLength};
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
}

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
                    ..
                } = job.shed.get(index)?;
                Some(Ground {
                    section: *section,
                    new: *new,
                    rips: *treated == Treated::No || job.sections[*section].treated != Treated::No,
                    length: *length,
                    trim: *trim,
                    bad,
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
    pub(super) fn carried_runs(&self, job: &Job, cut: Length) -> Vec<ClearRun> {
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
        runs.into_iter().filter(|run| run.to > run.from).collect()
    }
}
