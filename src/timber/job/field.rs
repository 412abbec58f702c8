//! Readers of single fields. Each takes the text of one field. Where that cannot be read, it adds a fault and returns a value that causes
//! no further fault.

use crate::fault::{Fault, FaultKind, Place};
use crate::length::{Length, Reading, Style, read_length};
use crate::limits::{self, Limit};
use crate::nearest::nearest_word;
use crate::part::{PartEnd, read_ends};
use crate::runs::{Stretch, joined, split_stretch};
use crate::section::Trim;
use crate::shown;

/// Reads fields and gathers the faults of all of them.
pub(super) struct Reader {
    pub(super) reading: Reading,
    pub(super) kerf: Length,
    pub(super) faults: Vec<Fault>,
}

impl Reader {
    pub(super) fn ends(&mut self, place: Place, text: &Option<String>) -> [PartEnd; 2] {
        let Some(text) = written(text) else {
            return [PartEnd::Square; 2];
        };
        read_ends(text, self.reading.decimal).unwrap_or_else(|| {
            self.push(place, FaultKind::Angle(text.to_owned()));
            [PartEnd::Square; 2]
        })
    }

    pub(super) fn trim(&mut self, place: Place, text: &Option<String>, usual: Length) -> Trim {
        let Some(text) = written(text) else {
            return Trim {
                datum: usual,
                far: usual,
            };
        };
        let ends: Vec<&str> = text.split(';').collect();
        let mut read =
            |text: &str| self.length(place.clone(), &Some(text.to_owned()), &limits::TRIM);
        match ends[..] {
            [both] => {
                let both = read(both);
                Trim {
                    datum: both,
                    far: both,
                }
            }
            [datum, far] => Trim {
                datum: read(datum),
                far: read(far),
            },
            _ => {
                self.push(
                    place,
                    FaultKind::WrongShape("one length for both ends, or two parted by a semicolon"),
                );
                Trim::default()
            }
        }
    }

    pub(super) fn bad(
        &mut self,
        place: Place,
        text: &Option<String>,
        board: Length,
    ) -> Vec<Stretch> {
        let Some(text) = written(text) else {
            return Vec::new();
        };
        let written = || {
            let stretches = text.split(';').map(str::trim);
            stretches.filter(|stretch| !stretch.is_empty())
        };
        let found = written().count();
        if limits::STRETCHES.passed_by(found) {
            let limit = &limits::STRETCHES;
            self.push(place, FaultKind::TooMany { found, limit });
            return Vec::new();
        }
        let mut stretches = Vec::new();
        for stretch in written() {
            let Some((from, to)) = split_stretch(stretch) else {
                self.push(
                    place.clone(),
                    FaultKind::WrongShape("stretches such as 400..460, parted by semicolons"),
                );
                continue;
            };
            let faults_before = self.faults.len();
            let from = self.length(place.clone(), &Some(from.to_owned()), &limits::STRETCH);
            let to = self.length(place.clone(), &Some(to.to_owned()), &limits::STRETCH);
            if self.faults.len() == faults_before {
                if from < to && to <= board {
                    stretches.push(Stretch { from, to });
                } else {
                    self.push(place.clone(), FaultKind::BadStretch(stretch.to_owned()));
                }
            }
        }
        joined(stretches)
    }

    pub(super) fn name(
        &mut self,
        place: Place,
        text: &Option<String>,
        what: &'static str,
    ) -> String {
        match written(text) {
            Some(text) => shown::line(text),
            None => {
                self.push(place, FaultKind::Missing(what));
                String::new()
            }
        }
    }

    pub(super) fn section(
        &mut self,
        place: Place,
        text: &Option<String>,
        names: &[String],
    ) -> usize {
        let Some(text) = written(text) else {
            // With one section there is nothing to choose.
            if names.len() != 1 {
                self.push(place, FaultKind::Missing("the section"));
            }
            return 0;
        };
        let text = shown::line(text);
        names
            .iter()
            .position(|name| *name == text)
            .unwrap_or_else(|| {
                let nearest = nearest_word(&text, names.iter().map(String::as_str));
                self.push(
                    place,
                    FaultKind::UnknownSection {
                        name: text.clone(),
                        nearest,
                    },
                );
                0
            })
    }

    pub(super) fn length(&mut self, place: Place, text: &Option<String>, limit: &Limit) -> Length {
        let text = text.as_deref().unwrap_or("");
        match read_length(text, self.reading) {
            Ok(length) if length < limit.least || length > limit.most => {
                let mut kind = self.out_of_range(length, limit.what, limit.least, limit.most);
                if let FaultKind::OutOfRange { value, .. } = &mut kind {
                    *value = self.as_read(text);
                }
                self.push(place, kind);
                limit.least
            }
            Ok(length) => length,
            Err(fault) => {
                self.push(
                    place,
                    FaultKind::Length {
                        text: text.to_owned(),
                        fault,
                    },
                );
                limit.least
            }
        }
    }

    pub(super) fn length_or(
        &mut self,
        place: Place,
        text: &Option<String>,
        limit: &Limit,
        usual: Length,
    ) -> Length {
        match written(text) {
            None => usual,
            Some(_) => self.length(place, text, limit),
        }
    }

    pub(super) fn count(
        &mut self,
        place: Place,
        text: &Option<String>,
        least: u32,
        most: u32,
    ) -> u32 {
        let text = text.as_deref().unwrap_or("").trim();
        match text.parse::<u32>() {
            Ok(count) if (least..=most).contains(&count) => count,
            _ => {
                self.push(
                    place,
                    FaultKind::Count {
                        text: text.to_owned(),
                        least,
                        most,
                    },
                );
                least.max(1)
            }
        }
    }

    /// A number that is zero where nothing is said.
    pub(super) fn count_or_none(&mut self, place: Place, text: &Option<String>, most: u32) -> u32 {
        match written(text) {
            None => 0,
            Some(_) => self.count(place, text, 0, most),
        }
    }

    pub(super) fn word<T: Copy>(
        &mut self,
        place: Place,
        text: &Option<String>,
        words: &'static [(&'static str, T)],
        usual: T,
    ) -> T {
        let Some(text) = written(text) else {
            return usual;
        };
        match words
            .iter()
            .find(|(word, _)| word.eq_ignore_ascii_case(text))
        {
            Some((_, value)) => *value,
            None => {
                let allowed = words.iter().map(|(word, _)| *word).collect();
                self.push(
                    place,
                    FaultKind::Word {
                        text: text.to_owned(),
                        allowed,
                    },
                );
                usual
            }
        }
    }

    pub(super) fn out_of_range(
        &self,
        value: Length,
        what: &'static str,
        least: Length,
        most: Length,
    ) -> FaultKind {
        let style = Style::exact(self.reading.unit, self.reading.decimal);
        let [least, most] = self.sensible([least, most]);
        FaultKind::OutOfRange {
            value: style.show(value).text,
            what,
            least: if least == Length::ZERO {
                String::new()
            } else {
                style.show(least).text
            },
            most: style.show(most).text,
        }
    }

    /// A length as typed, with its unit added where it is a bare number.
    fn as_read(&self, text: &str) -> String {
        self.with_unit(text)
            .unwrap_or_else(|| format!("{} {}", text.trim(), self.reading.unit.abbreviation()))
    }

    /// A length as typed, unless it is a bare number.
    pub(super) fn with_unit(&self, text: &str) -> Option<String> {
        let bare = |sign: char| sign.is_ascii_digit() || matches!(sign, '.' | ',' | ' ' | '/');
        let text = text.trim();
        (!text.chars().all(bare)).then(|| text.to_owned())
    }

    /// A range as a person would state it: in feet and inches, a limit in whole millimetres is narrowed to a round fraction.
    fn sensible(&self, [least, most]: [Length; 2]) -> [Length; 2] {
        if !self.reading.unit.is_imperial() {
            return [least, most];
        }
        let inches = |sixty_fourths: i64| Length::from_inch_64ths(sixty_fourths);
        let step = |length: Length| match length {
            length if length < inches(2 * 64) => inches(4),
            length if length < inches(24 * 64) => inches(16),
            _ => inches(64),
        };
        [least.up_to(step(least)), most.down_to(step(most))]
    }

    pub(super) fn push(&mut self, place: Place, kind: FaultKind) {
        self.faults.push(Fault::new(place, kind));
    }
}

/// The text of a field, if anything but space was written.
pub(super) fn written(text: &Option<String>) -> Option<&str> {
    text.as_deref()
        .map(str::trim)
        .filter(|text| !text.is_empty())
}

/// The rows of which something is written, with their position in the list the person sees.
pub(super) fn written_rows<T: Default + PartialEq>(
    rows: &[T],
) -> impl Iterator<Item = (usize, &T)> {
    rows.iter()
        .enumerate()
        .filter(|(_, row)| **row != T::default())
}
