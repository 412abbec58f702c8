//! One more member of a panel, of a section of its own, at the place where something is fixed to it.

use super::Panel;
use crate::length::Length;
use crate::setout::kind::{Field, choice_field, other_section_field, spare_field};
use crate::setout::sizes::{Sizes, Timber};
use crate::setout::worked::{Misfit, Worked};

/// Its fields.
pub const FIELDS: [Field; 3] = [
    Field {
        in_sight: false,
        ..spare_field(
            "fixing_at",
            "A member to fix something to, at",
            "From the lower outside edge to its lower edge, or from the left one to its left edge; leave empty for none.",
        )
    },
    Field {
        in_sight: false,
        ..choice_field(
            "fixing_runs",
            "It runs",
            "Across between the uprights, or upright between the rails.",
            &["across", "upright"],
        )
    },
    other_section_field(
        "fixing_section",
        "Its section",
        "Leave empty for the timber of uprights and noggins.",
    ),
];

/// Such a member.
#[derive(Clone, Copy, Debug)]
pub struct Fixing<'a> {
    /// Its timber.
    pub timber: &'a Timber,
    /// From the outside edge of the panel.
    at: Length,
    upright: bool,
}

impl<'a> Fixing<'a> {
    /// Reads its fields; `None` where there is none.
    ///
    /// # Errors
    /// A section without a place.
    pub fn read(sizes: &'a Sizes, middle: &'a Timber) -> Result<Option<Fixing<'a>>, Misfit> {
        let timber = sizes.given_timber("fixing_section");
        match (sizes.given("fixing_at"), timber) {
            (None, None) => Ok(None),
            (None, Some(_)) => Err(Misfit::new(
                "fixing_at",
                "say where this member goes, or leave its section empty",
            )),
            (Some(at), timber) => Ok(Some(Fixing {
                timber: timber.unwrap_or(middle),
                at,
                upright: sizes.choice("fixing_runs", [false, true]),
            })),
        }
    }
}

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
