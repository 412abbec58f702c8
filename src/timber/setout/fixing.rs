//! One more member of a panel, of a section of its own, at the place where something is fixed to it.

use super::kind::{Field, choice_field, other_section_field, spare_field};
use super::sizes::{Sizes, Timber};
use super::worked::Misfit;
use crate::length::Length;

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
    pub at: Length,
    /// Whether it is upright, or else runs across.
    pub upright: bool,
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
