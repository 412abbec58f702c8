//! How the ends of a part are cut, as people write it and are told it.

use crate::angle::Angle;
use crate::length::{Decimal, Length};

/// How an end of a part is cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PartEnd {
    /// Square across.
    #[default]
    Square,
    /// At this angle off square.
    Mitre(Angle),
}

impl PartEnd {
    /// Its word in a parts table: `square`, `22.5`.
    fn written(self, decimal: Decimal) -> String {
        match self {
            PartEnd::Square => "square".to_owned(),
            PartEnd::Mitre(angle) => angle.degrees(decimal),
        }
    }

    /// Length of board that the cut at it takes: a kerf, or more across a slant.
    pub fn cut(self, kerf: Length) -> Length {
        match self {
            PartEnd::Square => kerf,
            PartEnd::Mitre(angle) => angle.kerf(kerf),
        }
    }

    /// How far its short point stands back from its long one on a board of this width.
    pub fn stands_back(self, width: Length) -> Length {
        match self {
            PartEnd::Square => Length::ZERO,
            PartEnd::Mitre(angle) => angle.saving(width),
        }
    }

    /// How far it stands back through a board of this thickness, where it is sawn with the blade tilted.
    pub fn through(self, thickness: Length) -> Length {
        match self {
            PartEnd::Square => Length::ZERO,
            PartEnd::Mitre(angle) => angle.through(thickness),
        }
    }

    /// Whether it is sawn with the blade tilted.
    pub fn is_tilted(self) -> bool {
        matches!(self, PartEnd::Mitre(angle) if angle.is_tilted())
    }

    /// As people are told it: `square`, `22.5\u{b0}`, `22.5\u{b0} tilt 30\u{b0}`.
    pub fn told(self, decimal: Decimal) -> String {
        match self {
            PartEnd::Square => self.written(decimal),
            PartEnd::Mitre(angle) => angle.tenths(decimal),
        }
    }
}

/// Both ends of a part as a parts table has them, which [`read_ends`] reads back: `square`, `45; square`.
pub fn ends_written(ends: [PartEnd; 2], decimal: Decimal) -> String {
    both(ends.map(|end| end.written(decimal)))
}

/// One word where both are the same.
pub(crate) fn both([datum, far]: [String; 2]) -> String {
    if datum == far {
        datum
    } else {
        format!("{datum}; {far}")
    }
}

/// The ends of a part: one word for both, or two separated by a semicolon, the datum end first.
pub fn read_ends(text: &str, decimal: Decimal) -> Option<[PartEnd; 2]> {
    let ends: Vec<Option<PartEnd>> = text
        .split([';', '/'])
        .map(|word| read_end(word.trim(), decimal))
        .collect();
    match ends[..] {
        [Some(both)] => Some([both, both]),
        [Some(datum), Some(far)] => Some([datum, far]),
        _ => None,
    }
}

fn read_end(word: &str, decimal: Decimal) -> Option<PartEnd> {
    let word = word.trim_end_matches('\u{b0}').trim();
    if word.is_empty() || word.eq_ignore_ascii_case("square") || word == "0" {
        return Some(PartEnd::Square);
    }
    if let Some((swung, tilted)) = word.split_once("tilt") {
        // A tilt alone may have a square swing in front of it.
        let swung = match read_end(swung, decimal)? {
            PartEnd::Square => None,
            PartEnd::Mitre(angle) => Some(angle),
        };
        let PartEnd::Mitre(tilted) = read_end(tilted.trim(), decimal)? else {
            return swung.map(PartEnd::Mitre);
        };
        let tilted = Some(tilted).filter(|angle| !angle.is_tilted())?;
        return Angle::tilted(swung, tilted.millidegrees()).map(PartEnd::Mitre);
    }
    let (whole, thousandths) = word.split_once(decimal.sign()).unwrap_or((word, ""));
    let digits = |text: &str| text.len() <= 3 && text.bytes().all(|byte| byte.is_ascii_digit());
    if whole.is_empty() || !digits(whole) || !digits(thousandths) {
        return None;
    }
    let whole: u32 = whole.parse().ok()?;
    let thousandths: u32 = format!("{thousandths:0<3}").parse().ok()?;
    Angle::from_millidegrees(whole * 1_000 + thousandths).map(PartEnd::Mitre)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mitre(millidegrees: u32) -> PartEnd {
        PartEnd::Mitre(Angle::from_millidegrees(millidegrees).expect("in range"))
    }

    #[test]
    fn ends_read_back_as_they_are_written_with_either_decimal_sign() {
        let tilt = |swung: u32| {
            let swung = Angle::from_millidegrees(swung);
            PartEnd::Mitre(Angle::tilted(swung, 14_478).expect("in range"))
        };
        let all = [
            PartEnd::Square,
            mitre(22_500),
            mitre(45_000),
            mitre(7_125),
            tilt(0),
            tilt(26_565),
        ];
        for (decimal, half) in [(Decimal::Point, "22.5"), (Decimal::Comma, "22,5")] {
            for datum in all {
                for far in all {
                    let ends = [datum, far];
                    assert_eq!(read_ends(&ends_written(ends, decimal), decimal), Some(ends));
                }
            }
            let ends = [mitre(22_500), PartEnd::Square];
            assert_eq!(ends_written(ends, decimal), format!("{half}; square"));
        }
    }
}
