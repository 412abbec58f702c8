//! What cuts take of a board, and what stands back at slanted ends.

use timber::job::{Angle, Part, PartEnd, Section, Turnable};
use timber::length::Length;

/// Length of board that the cut at an end takes.
pub(super) fn cut_width(kerf: Length, end: PartEnd) -> Length {
    match end {
        PartEnd::Square => kerf,
        PartEnd::Mitre(angle) => angle.kerf(kerf),
    }
}

/// Half of what stands back at the mitred ends of a part, rounded up: the waste of its slanted ends.
pub(super) fn mitre_waste(section: &Section, part: &Part) -> Length {
    let twice: i64 = part
        .ends
        .iter()
        .map(|end| match end {
            PartEnd::Square => 0,
            PartEnd::Mitre(angle) => stands_back(section, *angle).ticks(),
        })
        .sum();
    Length::from_ticks((twice + 1) / 2)
}

/// Half of what the mitred ends of a part can overlap with others by, rounded up: zero where the section may not be turned, or where
/// the cut itself takes more than stands back.
pub(super) fn most_overlap(section: &Section, part: &Part, kerf: Length) -> Length {
    let twice = part.ends.iter().map(|&end| match end {
        PartEnd::Mitre(angle) if section.turnable == Turnable::Yes => (stands_back(section, angle)
            - cut_width(kerf, end))
        .ticks()
        .max(0),
        _ => 0,
    });
    Length::from_ticks((twice.sum::<i64>() + 1) / 2)
}

/// How far the short point of a mitre stands back from its long point.
pub(super) fn stands_back(section: &Section, angle: Angle) -> Length {
    angle.saving(section.width.unwrap_or_default())
}
