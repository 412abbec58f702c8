//! The length of board that cuts take, and how far slanted ends stand back.

use timber::job::{Angle, Part, PartEnd, Section};
use timber::length::Length;

/// Length of board that the cut at an end takes.
pub(super) fn cut_width(kerf: Length, end: PartEnd) -> Length {
    match end {
        PartEnd::Square => kerf,
        PartEnd::Mitre(angle) => angle.kerf(kerf),
    }
}

/// Half of the length by which the mitred ends of a part stand back, rounded up: the waste of its slanted ends.
pub(super) fn mitre_waste(section: &Section, part: &Part) -> Length {
    let twice: i64 = part
        .ends
        .iter()
        .map(|end| match end {
            PartEnd::Square => 0,
            PartEnd::Mitre(angle) => {
                let through = angle.through(section.thickness.unwrap_or_default());
                (stands_back(section, *angle) + through).ticks()
            }
        })
        .sum();
    Length::from_ticks((twice + 1) / 2)
}

/// How far the short point of a mitre stands back from its long point.
pub(super) fn stands_back(section: &Section, angle: Angle) -> Length {
    angle.saving(section.width.unwrap_or_default())
}
