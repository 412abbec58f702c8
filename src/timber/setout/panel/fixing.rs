//! The fixing member of a panel: where its pieces are, and the bay that it parts.

use super::Panel;
use crate::length::Length;
use crate::setout::worked::{Misfit, Worked};

impl Panel<'_> {
    /// Where its fixing member begins, from the inside of the left stile or of the bottom rail, and how wide it is; whether it is upright.
    ///
    /// # Errors
    /// A place that is taken.
    pub(super) fn fixing(&self) -> Result<Option<([Length; 2], bool)>, Misfit> {
        let Some(fixing) = self.fixing else {
            return Ok(None);
        };
        let (others, inside) = match fixing.upright {
            true => (self.upright_starts()?, self.inside_width()),
            false => (self.noggin_starts()?, self.inside_height()),
        };
        let (start, face) = (fixing.at - self.member(), fixing.timber.face(self.seen));
        let end = start + face;
        let clear = |other: &Length| *other + self.middle_face() <= start || end <= *other;
        if start < Length::ZERO || end > inside || !others.iter().all(clear) {
            return Err(Misfit::new(
                "fixing_at",
                "another member is there; move it, or change how the others are spaced",
            ));
        }
        Ok(Some(([start, face], fixing.upright)))
    }

    /// The bays with the one parted in which an upright stands.
    pub(super) fn parted(&self, bays: Vec<(Length, Length)>) -> Vec<(Length, Length)> {
        let Ok(Some(([start, face], true))) = self.fixing() else {
            return bays;
        };
        let mut parted = Vec::new();
        for (from, bay) in bays {
            let (to, end) = (from + bay, start + face);
            let both = match end <= from || to <= start {
                true => [(from, bay), (to, Length::ZERO)],
                false => [(from, start - from), (end, to - end)],
            };
            parted.extend(both.into_iter().filter(|(_, bay)| *bay > Length::ZERO));
        }
        parted
    }

    /// Where its pieces are, from the inside of the lower left corner, and their length; nothing where there is no such member.
    pub(super) fn fixing_pieces(&self) -> Result<Vec<([Length; 2], Length)>, Misfit> {
        let Some(([start, _], upright)) = self.fixing()? else {
            return Ok(Vec::new());
        };
        if upright {
            return Ok(vec![([start, Length::ZERO], self.inside_height())]);
        }
        let bays = self.bays(&self.upright_starts()?).into_iter();
        Ok(bays.map(|(from, bay)| ([from, start], bay)).collect())
    }

    /// Its size across and up, where it is so long.
    pub(super) fn fixing_size(&self, long: Length) -> [Length; 2] {
        let fixing = self
            .fixing
            .map(|one| (one.timber.face(self.seen), one.upright));
        let (face, upright) = fixing.unwrap_or_default();
        if upright { [face, long] } else { [long, face] }
    }

    /// Adds its parts, its mark and its joints.
    pub(super) fn add_fixing(&self, prefix: &str, worked: &mut Worked) -> Result<(), Misfit> {
        let (Some(fixing), pieces) = (self.fixing, self.fixing_pieces()?) else {
            return Ok(());
        };
        let (label, way, edge, datum) = match fixing.upright {
            true => (
                "fixing upright",
                "along the rails",
                "left",
                "left outside edge",
            ),
            false => (
                "fixing noggin",
                "up the stiles",
                "lower",
                "bottom outside edge",
            ),
        };
        let label = format!("{prefix}{label}");
        for &(_, long) in &pieces {
            worked.part_between(&label, &fixing.timber.sections, long, 1);
        }
        worked.frame_joints(
            &format!("{label} ends"),
            2 * pieces.len() as u32,
            self.member(),
        );
        let mark = vec![(format!("{edge} edge of it"), fixing.at)];
        worked.marks(&format!("{label} {way}"), datum, mark);
        Ok(())
    }
}
