//! The words about a boarding: its named sizes, its marks, what was added to its sizes or taken from them, and notes.

use super::face::{Face, Run};
use super::laid::Laid;
use crate::length::Length;
use crate::section::EdgeJoint;
use crate::setout::lay::Lay;
use crate::setout::sizes::Sizes;
use crate::setout::worked::{Misfit, Worked};
use crate::shown::counted;

/// How many boards before the end to measure again: late enough that slack has shown, early enough to share it out (common
/// practice, no source).
const MEASURE_BEFORE_END: usize = 3;

impl Face<'_> {
    /// The outside sizes of the boarding, and what was added to the face or taken from it.
    pub(super) fn makes(&self, sizes: &Sizes, chosen: &Laid) -> Result<String, Misfit> {
        let over_all = self.over_all();
        let face = [sizes.length("width")?, sizes.length("height")?];
        let mut added = Vec::new();
        let corners = over_all[0].ticks() - face[0].ticks();
        if corners != 0 {
            let word = if corners > 0 { "more" } else { "less" };
            let amount = sizes.show(Length::from_ticks(corners.abs()));
            added.push(format!("{amount} {word} across at the corners"));
        }
        if over_all[1] > face[1] {
            let past = sizes.show(over_all[1] - face[1]);
            added.push(format!("{past} more in height past the frame"));
        }
        let over_all = sizes.by(&over_all);
        let lap = match chosen.lap {
            Some(lap) if lap > self.least_lap() => format!(
                "; laps of {}, evened out from {}",
                sizes.show(lap),
                sizes.show(self.least_lap())
            ),
            _ => String::new(),
        };
        Ok(if added.is_empty() {
            format!("outside {over_all}: the face itself{lap}")
        } else {
            let face = sizes.by(&face);
            format!("outside {over_all}: {face}, {}{lap}", added.join(", "))
        })
    }

    pub(super) fn facts(
        &self,
        chosen: &Laid,
        as_laid: &Lay,
        shared: Option<&Lay>,
        worked: &mut Worked,
    ) {
        worked.number("boards", chosen.widths.len() as u32);
        worked.fact("board length", self.length);
        worked.fact("covered", self.span);
        let [across, up] = self.over_all();
        worked.fact("boarded width", across);
        worked.fact("boarded height", up);
        let lap = chosen.lap.unwrap_or(self.least_lap());
        worked.fact("pitch", self.board - lap);
        if self.is_lap() {
            worked.fact("lap", lap);
        }
        if chosen.lap.is_some() {
            return;
        }
        if let Some(&last) = as_laid.widths.last() {
            worked.fact("last board, laid full from one side", last);
        }
        if let Some(shared) = shared {
            worked.fact("both edges, if they share it", shared.widths[0]);
        }
    }

    pub(super) fn positions(&self, chosen: &Laid, worked: &mut Worked) {
        let datum = match self.run {
            Run::Upright => "the side of the face you start from",
            Run::Across => "the bottom of the face",
        };
        let count = chosen.widths.len();
        let mut marks = Vec::new();
        for (index, &start) in chosen.starts.iter().enumerate() {
            let again = count > MEASURE_BEFORE_END + 1 && index + MEASURE_BEFORE_END == count;
            let first = if again {
                "; measure what is left first"
            } else {
                ""
            };
            marks.push((format!("board {} starts{first}", index + 1), start));
        }
        marks.push(("end of the last board".to_owned(), chosen.end(count)));
        worked.marks("boards, as listed in the parts", datum, marks);
    }

    pub(super) fn notes(
        &self,
        sizes: &Sizes,
        chosen: &Laid,
        as_laid: &Lay,
        shared: Option<&Lay>,
        worked: &mut Worked,
    ) {
        match chosen.lap {
            Some(lap) => worked.notes.push(self.evened_note(sizes, chosen, lap)),
            None => self.rip_notes(sizes, as_laid, shared, worked),
        }
        match self.timber.joint {
            EdgeJoint::Square => {}
            EdgeJoint::Tongued => worked.notes.push(self.tongued_note(sizes, chosen)),
            EdgeJoint::Rebated => worked.notes.push(format!(
                "Each board lies {} over the one before, the rebate less the gap; widths to rip are overall widths.",
                sizes.show(self.least_lap())
            )),
            EdgeJoint::Lapped => {
                if sizes.given("gap").is_some_and(|gap| !gap.is_none()) {
                    worked.notes.push("The movement gap is not added to a lap: nail each board clear of the one under it, and it moves within its lap.".into());
                }
            }
        }
        let boards = if chosen.lap.is_some() {
            chosen.widths.len()
        } else {
            as_laid.widths.len()
        };
        if boards > MEASURE_BEFORE_END + 1 && sizes.given("left").is_none() {
            let laid = boards - MEASURE_BEFORE_END;
            worked.notes.push(format!(
                "Measure again when {laid} boards are laid: slack adds up, and three boards are enough to share it out."
            ));
        }
    }

    fn rip_notes(&self, sizes: &Sizes, as_laid: &Lay, shared: Option<&Lay>, worked: &mut Worked) {
        let last = as_laid.widths.last().copied().unwrap_or_default();
        let overall = if self.is_lap() { " overall" } else { "" };
        let full = as_laid.widths.len() - usize::from(!self.is_full(last));
        let covered = sizes.show(self.span - as_laid.bare);
        worked.notes.push(if self.is_full(last) {
            let boards = match full {
                1 => "One board covers".to_owned(),
                _ => format!("{full} boards cover"),
            };
            match as_laid.bare.is_none() {
                true => format!("{boards} it with nothing to rip."),
                false => format!(
                    "{boards} {covered} with nothing to rip, and {} stay bare at the end, no more than a gap: make it {covered}, or measure what goes on it from the boards.",
                    sizes.show(as_laid.bare)
                ),
            }
        } else {
            format!(
                "Laid from one side: {} and a last one of {}{overall}.",
                counted(full as u64, "full board", "full boards"),
                sizes.show(last)
            )
        });
        if let (Some(shared), false) = (shared, self.is_full(last)) {
            worked.notes.push(format!(
                "Or {} between two edges of {}{overall}.",
                counted(shared.widths.len() as u64 - 2, "full board", "full boards"),
                sizes.show(shared.widths[0])
            ));
        }
    }

    fn evened_note(&self, sizes: &Sizes, chosen: &Laid, lap: Length) -> String {
        let boards = counted(chosen.widths.len() as u64, "board", "boards");
        let apart = sizes.show(self.board - lap);
        let [lap, least] = [lap, self.least_lap()].map(|length| sizes.show(length));
        if lap == least {
            return format!(
                "{boards} with laps of {lap}, {apart} from one edge to the next: nothing to rip."
            );
        }
        format!(
            "{boards} with laps of {lap}, {apart} from one edge to the next: evened out from the least lap of {least}, so that nothing is ripped."
        )
    }

    /// For tongued boards the visible width is printed, and the width to set a saw to beside it.
    fn tongued_note(&self, sizes: &Sizes, chosen: &Laid) -> String {
        let tongue = self.timber.width - self.timber.cover;
        let mut note = format!(
            "Boards are {} overall and cover {}; widths here are cover widths, measured from the edge that stays in sight.",
            sizes.show(self.timber.width),
            sizes.show(self.timber.cover)
        );
        let ends = [chosen.widths[0], chosen.widths[chosen.widths.len() - 1]];
        if chosen.widths.len() > 1 && !self.is_full(ends[0]) {
            note += &format!(
                " Rip the first to {} overall: its groove goes, its tongue stays.",
                sizes.show(ends[0] + tongue)
            );
        }
        if !self.is_full(ends[1]) {
            note += &format!(
                " Rip the last to {} overall: its tongue goes, its groove stays.",
                sizes.show(ends[1])
            );
        }
        note
    }
}
