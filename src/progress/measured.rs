//! A board measured at the yard against the length on its label: when they are far enough apart to ask.
//!
//! Lengths are sold a little over, seldom under. Up to 50 mm (2 in) over is accepted without a question, and so is up to 10 mm (3/8 in)
//! under, which a rough end hides (common practice, no source). Beyond that the tape was misread, or another length was picked out.

use crate::length::Length;

/// Why a measured length is asked about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doubt {
    /// It is longer than its label by this much.
    Longer(Length),
    /// It is shorter than its label by this much.
    Shorter(Length),
}

/// Whether a measured length should be asked about, and why; `sold` is the length on the label.
pub fn doubt(sold: Length, measured: Length, imperial: bool) -> Option<Doubt> {
    let (over, under) = if imperial {
        (Length::from_inch_64ths(128), Length::from_inch_64ths(24))
    } else {
        (Length::from_mm(50), Length::from_mm(10))
    };
    if measured - sold > over {
        Some(Doubt::Longer(measured - sold))
    } else if sold - measured > under {
        Some(Doubt::Shorter(sold - measured))
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_board_a_little_over_is_taken_and_one_far_off_its_label_is_asked_about() {
        let asked = |measured| doubt(Length::from_mm(3_600), Length::from_mm(measured), false);
        assert_eq!(asked(3_650), None);
        assert_eq!(asked(3_651), Some(Doubt::Longer(Length::from_mm(51))));
        assert_eq!(asked(3_590), None);
        assert_eq!(asked(3_589), Some(Doubt::Shorter(Length::from_mm(11))));
        assert_eq!(asked(2_412), Some(Doubt::Shorter(Length::from_mm(1_188))));
    }

    #[test]
    fn inches_have_limits_of_their_own() {
        let inches = |eighths: i64| Length::from_inch_64ths(8 * eighths);
        let asked = |measured| doubt(inches(96 * 8), inches(measured), true);
        assert_eq!(asked(98 * 8), None);
        assert_eq!(asked(98 * 8 + 1), Some(Doubt::Longer(inches(17))));
        assert_eq!(asked(96 * 8 - 3), None);
        assert_eq!(asked(96 * 8 - 4), Some(Doubt::Shorter(inches(4))));
    }
}
