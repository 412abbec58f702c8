//! From a job as written to a [`Job`], gathering every fault on the way.
//!
//! Each field is read by one small reader that pushes a fault and carries on with a harmless stand-in, so one pass finds all of
//! them. The stand-ins never reach anybody: a job with faults is not returned.

use super::{
    Aim, Angle, Job, JobDraft, Part, PartDraft, PartEnd, Saw, Section, ShedBoard, Stretch, Treated,
    Trim, Turnable, YardLength,
};
use crate::fault::{Fault, FaultKind, Place};
use crate::group::runs_between;
use crate::length::{Decimal, Length, Reading, Style, Unit, read_length};
use crate::money::Money;
use crate::quantities::read_rules;
use crate::setout;

/// What each bounded quantity of a job may be. Messages, the schema and tests read this one table.
pub mod limits {
    use crate::length::Length;

    /// A quantity with its legal range, both ends allowed.
    pub struct Limit {
        /// What it is, as a message names it.
        pub what: &'static str,
        /// The least.
        pub least: Length,
        /// The most.
        pub most: Length,
    }

    const fn limit(what: &'static str, least_ticks: i64, most_mm: i64) -> Limit {
        Limit {
            what,
            least: Length::from_ticks(least_ticks),
            most: Length::from_mm(most_mm),
        }
    }

    /// Width of a saw cut. Zero is for a knife or a published example.
    pub const KERF: Limit = limit("a saw kerf", 0, 20);
    /// Length of a part.
    pub const PART: Limit = limit("the length of a part", 3_200, 100_000);
    /// A length the yard sells, or a board in the shed. 50 mm catches metres typed where millimetres are read.
    pub const BOARD: Limit = limit("the length of a board", 50 * 3_200, 100_000);
    /// Thickness and width of a section.
    pub const SIDE: Limit = limit("a side of a section", 3_200, 1_500);
    /// What is trimmed off one end.
    pub const TRIM: Limit = limit("an end trim", 0, 2_000);
    /// The shortest offcut worth keeping.
    pub const KEEP: Limit = limit("the keep length", 0, 100_000);
    /// The finest step readings are printed to.
    pub const STEP: Limit = limit("the step of a reading", 32, 100);
    /// Where a bad stretch starts or ends.
    pub const STRETCH: Limit = limit("a bad stretch", 0, 100_000);
    /// Most of one part.
    pub const QUANTITY: u32 = 100_000;
    /// Most boards of one length at the yard.
    pub const COUNT: u32 = 1_000_000;
    /// Most kilograms per cubic metre; the heaviest timbers are near 1 300.
    pub const DENSITY: u32 = 1_500;
    /// Most rows in one list.
    pub const ROWS: usize = 2_000;
}

use limits::Limit;

/// Checks a job as written.
///
/// # Errors
/// All faults of the job, in the order of its lists; never an empty list.
pub fn validate(draft: &JobDraft) -> Result<Job, Vec<Fault>> {
    let (job, faults) = examine(draft);
    if faults.is_empty() {
        Ok(job)
    } else {
        Err(faults)
    }
}

/// Reads a job as far as it goes, for showing while it is still being typed. Where there are faults, stand-ins fill their fields,
/// so such a job must not be planned. Rows of which nothing is written yet are passed over.
pub fn examine(draft: &JobDraft) -> (Job, Vec<Fault>) {
    let mut reader = Reader {
        reading: Reading::default(),
        kerf: Length::ZERO,
        faults: Vec::new(),
    };
    reader.reading = reader.job_reading(draft);
    let step = reader.step(draft);
    let saw = reader.saw(draft);
    reader.kerf = saw.kerf;
    let aim = reader.word(Place::job("aim"), &draft.aim, AIMS, Aim::Fewest);
    let carry = draft
        .carry
        .as_ref()
        .map(|_| reader.length(Place::job("carry"), &draft.carry, &limits::BOARD));
    let sections = reader.sections(draft, saw.keep);
    let names: Vec<String> = sections
        .iter()
        .map(|section| section.name.clone())
        .collect();
    let yard = reader.yard(draft, aim, &sections, &names);
    let shed = reader.shed(draft, &names);
    let mut parts: Vec<Part> = written_rows(&draft.parts)
        .map(|(row, part)| reader.part(row, part, &sections, &names))
        .collect();
    let style = Style {
        unit: reader.reading.unit,
        step,
        decimal: reader.reading.decimal,
        with_unit: true,
    };
    let (set_outs, set_out_parts, set_out_faults) =
        setout::work_out(&draft.set_outs, &sections, style);
    reader.faults.extend(set_out_faults);
    parts.extend(set_out_parts);
    let (quantities, rule_faults) = read_rules(&draft.quantities, reader.reading);
    reader.faults.extend(rule_faults);
    for (list, rows) in [
        ("sections", sections.len()),
        ("yard", yard.len()),
        ("shed", shed.len()),
        ("parts", parts.len()),
    ] {
        if rows > limits::ROWS {
            reader.faults.push(Fault::new(
                Place::job(list),
                FaultKind::TooMuch("the number of rows"),
            ));
        }
    }
    if parts.is_empty() && draft.set_outs.is_empty() {
        reader
            .faults
            .push(Fault::new(Place::job("parts"), FaultKind::NoParts));
    }
    let job = Job {
        piece: draft.piece.clone().unwrap_or_default().trim().to_owned(),
        reading: reader.reading,
        step,
        aim,
        saw,
        carry,
        sections,
        yard,
        shed,
        parts,
        set_outs,
        quantities,
    };
    (job, reader.faults)
}

const UNITS: &[(&str, Unit)] = &[
    ("mm", Unit::Millimetre),
    ("cm", Unit::Centimetre),
    ("m", Unit::Metre),
    ("in", Unit::Inch),
    ("ft", Unit::Foot),
];
const DECIMALS: &[(&str, Decimal)] = &[("point", Decimal::Point), ("comma", Decimal::Comma)];
const AIMS: &[(&str, Aim)] = &[
    ("fewest", Aim::Fewest),
    ("cheapest", Aim::Cheapest),
    ("shortest", Aim::Shortest),
];
const TREATED: &[(&str, Treated)] = &[
    ("no", Treated::No),
    ("yes", Treated::Yes),
    ("unknown", Treated::Unknown),
];
const TURNABLE: &[(&str, Turnable)] = &[("yes", Turnable::Yes), ("no", Turnable::No)];

struct Reader {
    reading: Reading,
    kerf: Length,
    faults: Vec<Fault>,
}

impl Reader {
    fn job_reading(&mut self, draft: &JobDraft) -> Reading {
        Reading {
            unit: self.word(Place::job("unit"), &draft.unit, UNITS, Unit::Millimetre),
            decimal: self.word(
                Place::job("decimal"),
                &draft.decimal,
                DECIMALS,
                Decimal::Point,
            ),
        }
    }

    fn step(&mut self, draft: &JobDraft) -> Length {
        if written(&draft.step).is_some() {
            return self.length(Place::job("step"), &draft.step, &limits::STEP);
        }
        // Half a millimetre and a sixteenth are the finest marks on ordinary tapes (common practice, no source).
        if self.reading.unit.is_imperial() {
            Length::from_inch_64ths(4)
        } else {
            Length::from_ticks(1_600)
        }
    }

    fn saw(&mut self, draft: &JobDraft) -> Saw {
        Saw {
            kerf: self.length_or(
                Place::object("saw", "kerf"),
                &draft.saw.kerf,
                &limits::KERF,
                Length::from_ticks(7_680),
            ),
            keep: self.length_or(
                Place::object("saw", "keep"),
                &draft.saw.keep,
                &limits::KEEP,
                Length::from_mm(300),
            ),
        }
    }

    fn sections(&mut self, draft: &JobDraft, keep: Length) -> Vec<Section> {
        let mut sections: Vec<Section> = Vec::new();
        for (row, section) in written_rows(&draft.sections) {
            let place = |field| Place::row("sections", row, field);
            let name = self.name(place("name"), &section.name, "the name of the section");
            if name.contains(';') {
                self.push(
                    place("name"),
                    FaultKind::WrongShape("a name without a semicolon"),
                );
            }
            if !name.is_empty() && sections.iter().any(|other| other.name == name) {
                self.push(place("name"), FaultKind::Duplicate(name.clone()));
            }
            let side = |reader: &mut Reader, field: &str, text: &Option<String>| {
                written(text)
                    .map(|_| reader.length(Place::row("sections", row, field), text, &limits::SIDE))
            };
            let width = side(self, "width", &section.width);
            let cover = side(self, "cover", &section.cover);
            if let (Some(width), Some(cover)) = (width, cover)
                && cover > width
            {
                let kind = self.out_of_range(cover, "the cover width", limits::SIDE.least, width);
                self.push(place("cover"), kind);
            }
            sections.push(Section {
                thickness: side(self, "thickness", &section.thickness),
                width,
                cover,
                treated: self.word(place("treated"), &section.treated, TREATED, Treated::No),
                turnable: self.word(
                    place("turnable"),
                    &section.turnable,
                    TURNABLE,
                    Turnable::Yes,
                ),
                density: written(&section.density)
                    .map(|_| self.count(place("density"), &section.density, 50, limits::DENSITY)),
                // 10 mm an end squares a new length (common practice, no source).
                trim: self.trim(place("trim"), &section.trim, Length::from_mm(10)),
                keep: self.length_or(place("keep"), &section.keep, &limits::KEEP, keep),
                name,
            });
        }
        sections
    }

    fn yard(
        &mut self,
        draft: &JobDraft,
        aim: Aim,
        sections: &[Section],
        names: &[String],
    ) -> Vec<YardLength> {
        let mut yard = Vec::new();
        for (row, line) in written_rows(&draft.yard) {
            let place = |field| Place::row("yard", row, field);
            let section = self.section(place("section"), &line.section, names);
            let price = written(&line.price).and_then(|text| {
                let amount = Money::read(text, self.reading.decimal);
                if amount.is_none() {
                    self.push(place("price"), FaultKind::Money(text.to_owned()));
                }
                amount
            });
            let count = written(&line.count)
                .map(|_| self.count(place("count"), &line.count, 0, limits::COUNT));
            let length = self.length(place("length"), &line.length, &limits::BOARD);
            if let Some(section) = sections.get(section)
                && length <= section.trim.datum + section.trim.far
            {
                self.push(place("length"), FaultKind::NothingLeft);
            }
            if aim == Aim::Cheapest && written(&line.price).is_none() {
                self.push(
                    place("price"),
                    FaultKind::Missing("the price, which the aim \"cheapest\" compares,"),
                );
            }
            yard.push(YardLength {
                section,
                length,
                price,
                count,
            });
        }
        yard
    }

    fn shed(&mut self, draft: &JobDraft, names: &[String]) -> Vec<ShedBoard> {
        let mut shed: Vec<ShedBoard> = Vec::new();
        for (row, board) in written_rows(&draft.shed) {
            let place = |field| Place::row("shed", row, field);
            let mark = written(&board.mark).map_or_else(|| (row + 1).to_string(), str::to_owned);
            if shed.iter().any(|other| other.mark == mark) {
                self.push(place("mark"), FaultKind::Duplicate(mark.clone()));
            }
            let section = self.section(place("section"), &board.section, names);
            let length = self.length(place("length"), &board.length, &limits::BOARD);
            // 50 mm an end clears grit and checks from a weathered board (common practice, no source).
            let trim = self.trim(place("trim"), &board.trim, Length::from_mm(50));
            let bad = self.bad(place("bad"), &board.bad, length);
            let kerf = self.kerf;
            if runs_between(length, trim.datum, trim.far, &bad, kerf).is_empty() {
                self.push(place("length"), FaultKind::NothingLeft);
            }
            let note = board.note.clone().unwrap_or_default().trim().to_owned();
            shed.push(ShedBoard {
                mark,
                section,
                length,
                bad,
                trim,
                note,
            });
        }
        shed
    }

    fn part(
        &mut self,
        row: usize,
        part: &PartDraft,
        sections: &[Section],
        names: &[String],
    ) -> Part {
        let place = |field| Place::row("parts", row, field);
        let label = self.name(place("label"), &part.label, "the label of the part");
        let mut made_of: Vec<usize> = match written(&part.section) {
            None => vec![self.section(place("section"), &part.section, names)],
            Some(text) => text
                .split(';')
                .map(|name| self.section(place("section"), &Some(name.trim().to_owned()), names))
                .collect(),
        };
        made_of.sort_unstable();
        made_of.dedup();
        let length = self.length(place("length"), &part.length, &limits::PART);
        let quantity = match written(&part.quantity) {
            None => 1,
            Some(_) => self.count(place("quantity"), &part.quantity, 1, limits::QUANTITY),
        };
        let ends = self.ends(place("ends"), &part.ends);
        if ends.iter().any(|end| *end != PartEnd::Square) {
            for section in made_of.iter().filter_map(|&section| sections.get(section)) {
                match section.width {
                    None => self.push(
                        place("ends"),
                        FaultKind::MitreWithoutWidth(section.name.clone()),
                    ),
                    Some(width) if slant(&ends, width) > length => {
                        self.push(place("ends"), FaultKind::MitresMeet);
                    }
                    Some(_) => {}
                }
            }
        }
        Part {
            label,
            sections: made_of,
            length,
            quantity,
            ends,
            from: String::new(),
            row: Some(row),
        }
    }

    fn ends(&mut self, place: Place, text: &Option<String>) -> [PartEnd; 2] {
        let Some(text) = written(text) else {
            return [PartEnd::Square; 2];
        };
        read_ends(text, self.reading.decimal).unwrap_or_else(|| {
            self.push(place, FaultKind::Angle(text.to_owned()));
            [PartEnd::Square; 2]
        })
    }

    fn trim(&mut self, place: Place, text: &Option<String>, usual: Length) -> Trim {
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

    fn bad(&mut self, place: Place, text: &Option<String>, board: Length) -> Vec<Stretch> {
        let Some(text) = written(text) else {
            return Vec::new();
        };
        let mut stretches = Vec::new();
        for stretch in text
            .split(';')
            .map(str::trim)
            .filter(|stretch| !stretch.is_empty())
        {
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

    fn name(&mut self, place: Place, text: &Option<String>, what: &'static str) -> String {
        match written(text) {
            Some(text) => text.to_owned(),
            None => {
                self.push(place, FaultKind::Missing(what));
                String::new()
            }
        }
    }

    fn section(&mut self, place: Place, text: &Option<String>, names: &[String]) -> usize {
        let Some(text) = written(text) else {
            // With one section there is nothing to choose.
            if names.len() != 1 {
                self.push(place, FaultKind::Missing("the section"));
            }
            return 0;
        };
        names
            .iter()
            .position(|name| name == text)
            .unwrap_or_else(|| {
                let nearest = nearest_word(text, names.iter().map(String::as_str));
                self.push(
                    place,
                    FaultKind::UnknownSection {
                        name: text.to_owned(),
                        nearest,
                    },
                );
                0
            })
    }

    fn length(&mut self, place: Place, text: &Option<String>, limit: &Limit) -> Length {
        let text = text.as_deref().unwrap_or("");
        match read_length(text, self.reading) {
            Ok(length) if length < limit.least || length > limit.most => {
                let kind = self.out_of_range(length, limit.what, limit.least, limit.most);
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

    fn length_or(
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

    fn count(&mut self, place: Place, text: &Option<String>, least: u32, most: u32) -> u32 {
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

    fn word<T: Copy>(
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

    fn out_of_range(
        &self,
        value: Length,
        what: &'static str,
        least: Length,
        most: Length,
    ) -> FaultKind {
        let style = Style::exact(self.reading.unit, self.reading.decimal);
        FaultKind::OutOfRange {
            value: style.show(value).text,
            what,
            least: style.show(least).text,
            most: style.show(most).text,
        }
    }

    fn push(&mut self, place: Place, kind: FaultKind) {
        self.faults.push(Fault::new(place, kind));
    }
}

/// How far the short points stand back from the long ones, both ends together.
fn slant(ends: &[PartEnd; 2], width: Length) -> Length {
    let one = |end: &PartEnd| match end {
        PartEnd::Square => Length::ZERO,
        PartEnd::Mitre(angle) => angle.saving(width),
    };
    ends.iter().map(one).sum()
}

/// The rows of which something is written, with their position in the list the person sees.
fn written_rows<T: Default + PartialEq>(rows: &[T]) -> impl Iterator<Item = (usize, &T)> {
    rows.iter()
        .enumerate()
        .filter(|(_, row)| **row != T::default())
}

/// The text of a field, if anything but space was written.
fn written(text: &Option<String>) -> Option<&str> {
    text.as_deref()
        .map(str::trim)
        .filter(|text| !text.is_empty())
}

/// Both ends of a part: one word for both, or two parted by a semicolon, the datum end first.
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
    let (whole, thousandths) = word.split_once(decimal.sign()).unwrap_or((word, ""));
    let digits = |text: &str| text.len() <= 3 && text.bytes().all(|byte| byte.is_ascii_digit());
    if whole.is_empty() || !digits(whole) || !digits(thousandths) {
        return None;
    }
    let whole: u32 = whole.parse().ok()?;
    let thousandths: u32 = format!("{thousandths:0<3}").parse().ok()?;
    Angle::from_millidegrees(whole * 1_000 + thousandths).map(PartEnd::Mitre)
}

/// Splits `400..460` (or `400 to 460`, or with a dash between bare numbers) in two.
fn split_stretch(text: &str) -> Option<(&str, &str)> {
    text.split_once("..")
        .or_else(|| text.split_once(" to "))
        .or_else(|| text.split_once(['\u{2013}', '\u{2014}']))
        .or_else(|| {
            // A dash is also part of a fraction, so it parts two numbers only where there is exactly one and no fraction.
            let (from, to) = text.split_once('-')?;
            (!to.contains('-') && !text.contains('/')).then_some((from, to))
        })
}

/// Stretches in order, those that touch or overlap made one.
fn joined(mut stretches: Vec<Stretch>) -> Vec<Stretch> {
    stretches.sort_unstable();
    let mut joined: Vec<Stretch> = Vec::new();
    for stretch in stretches {
        match joined.last_mut() {
            Some(last) if stretch.from <= last.to => last.to = last.to.max(stretch.to),
            _ => joined.push(stretch),
        }
    }
    joined
}

/// The word of a list nearest to what was written, if one is near: at most a third of its letters wrong.
pub fn nearest_word<'a>(text: &str, words: impl Iterator<Item = &'a str>) -> Option<String> {
    let lower = text.to_lowercase();
    words
        .map(|word| (letters_apart(&lower, &word.to_lowercase()), word))
        .min_by_key(|(apart, _)| *apart)
        .filter(|(apart, word)| *apart <= 1 + word.chars().count() / 3)
        .map(|(_, word)| word.to_owned())
}

/// How many letters must be changed, added or dropped to make one word of the other (Levenshtein 1966), row by row.
fn letters_apart(one: &str, other: &str) -> usize {
    let other: Vec<char> = other.chars().collect();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (line, letter) in one.chars().enumerate() {
        let mut diagonal = std::mem::replace(&mut row[0], line + 1);
        for (column, wanted) in other.iter().enumerate() {
            let change = diagonal + usize::from(letter != *wanted);
            diagonal = row[column + 1];
            row[column + 1] = change.min(row[column] + 1).min(diagonal + 1);
        }
    }
    row[other.len()]
}
