//! Reads a job as typed into a [`Job`] and gathers every fault on the way.
//!
//! Each field is read by one small reader. Where it cannot be read, the reader adds a fault and returns a value that causes no further
//! fault, so one pass finds all faults. These stand-in values are never used: a job with faults is not returned.

use super::field::{Reader, written, written_rows};
use super::listed::{MOST_PARTS, lacks_square_end};
use super::{
    Aim, Allowed, Job, JobDraft, Part, PartEnd, Saw, Section, ShedBoard, Sides, Treated, Trim,
    within,
};
use super::{sold, spares, standing};
use crate::draft::{self, RIPS_WORDS};
use crate::fault::{Fault, FaultKind, Place};
use crate::give;
use crate::length::{Decimal, Length, Reading, Style, Unit};
use crate::mass::Mass;
use crate::rules::read_rules;
use crate::runs::runs_between;
use crate::setout;
use crate::shown;
use crate::{limits, usual};

/// Validates a job as typed.
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

/// Reads a job as far as possible, to show it while it is still being typed. Fields with faults hold stand-in values, so a job with faults
/// must not be planned. Empty rows are skipped.
///
/// A job with a list beyond its limit is not read at all; the job that is returned is then empty.
pub fn examine(draft: &JobDraft) -> (Job, Vec<Fault>) {
    let faults = within::lists(draft);
    if !faults.is_empty() {
        return (examine_within(JobDraft::default()).0, faults);
    }
    let mut short = draft.clone();
    let long = within::shorten(&mut short);
    let (job, mut faults) = examine_within(short);
    // A text that was too long and was taken out is not reported as missing too.
    faults.retain(|fault| long.iter().all(|long| long.place != fault.place));
    faults.splice(0..0, long);
    (job, faults)
}

fn examine_within(mut draft: JobDraft) -> (Job, Vec<Fault>) {
    let mut reader = Reader {
        reading: Reading::default(),
        kerf: Length::ZERO,
        faults: Vec::new(),
    };
    reader.reading = reader.job_reading(&draft);
    let (sizes, size_faults) = give::taken_out(&mut draft, reader.reading);
    reader.faults.extend(size_faults);
    let draft = &draft;
    let step = reader.step(draft);
    let saw = reader.saw(draft);
    reader.kerf = saw.kerf;
    let aim = reader.word(Place::job("aim"), &draft.own.aim, AIMS, Aim::Fewest);
    let carry = draft
        .own
        .carry
        .as_ref()
        .map(|_| reader.length(Place::job("carry"), &draft.own.carry, &limits::BOARD));
    let yard_tolerance = reader.length_or(
        Place::job("yard_tolerance"),
        &draft.own.yard_tolerance,
        &limits::YARD_TOLERANCE,
        usual::YARD_TOLERANCE.on(reader.is_imperial()),
    );
    let payload = reader.payload(draft);
    let door = written(&draft.own.door)
        .map(|_| reader.length(Place::job("door"), &draft.own.door, &limits::BOARD));
    let sections = reader.sections(draft, saw.keep, step);
    let names: Vec<String> = sections
        .iter()
        .map(|section| section.name.clone())
        .collect();
    let yards = reader.yards(draft);
    let yard = reader.yard(draft, (aim, carry), (&sections, &yards), &names);
    let shed = reader.shed(draft, &sections, &names);
    let mut parts: Vec<Part> = Vec::new();
    for (row, draft) in written_rows(&draft.parts) {
        let mut part = reader.part(row, draft, &sections, &names);
        part.letter = reader.letter(row, &draft.letter, &parts);
        let place = Place::row("parts", row, "spares");
        let spares = reader.count_or_none(place, &draft.spares, MOST_PARTS);
        for part in part.hands(&sections) {
            let spare = part.spare(spares);
            parts.push(part);
            parts.extend(spare);
        }
    }
    let style = Style {
        unit: reader.reading.unit,
        step,
        decimal: reader.reading.decimal,
        with_unit: true,
    };
    let (set_outs, set_out_parts, set_out_faults) =
        setout::work_out(&draft.set_outs, &sections, style);
    reader.faults.extend(set_out_faults);
    for (row, set_out) in set_outs.iter().enumerate() {
        let lacks =
            |part: &Part| lacks_square_end((part.fitting, part.ends), &part.sections, &sections);
        if set_out.parts.iter().any(lacks) {
            let place = Place::row("set_outs", row, "ends");
            reader.push(place, FaultKind::PostWithoutSquareEnd);
        }
    }
    let by_hand = parts.len();
    parts.extend(set_out_parts);
    // What is of no set-out comes first.
    let pieces = spares::pieces(&sections, &parts);
    parts.splice(by_hand..by_hand, pieces);
    let (quantities, rule_faults) = read_rules(&draft.quantities, reader.reading);
    reader.faults.extend(rule_faults);
    if parts.is_empty() && draft.set_outs.is_empty() {
        reader
            .faults
            .push(Fault::new(Place::job("parts"), FaultKind::NoParts));
    }
    let job = Job {
        piece: shown::line(written(&draft.own.piece).unwrap_or_default()),
        reading: reader.reading,
        step,
        aim,
        saw,
        carry,
        yard_tolerance,
        posts_stand: true,
        yard_reading: Some(usual::YARD_READING.on(reader.is_imperial())),
        payload,
        door,
        sections,
        yard,
        yards,
        shed,
        parts: Vec::new(),
        list: parts,
        set_outs,
        quantities,
        sizes,
    };
    reader.faults.extend(beyond(&job));
    let job = job.with_blanks();
    (job, reader.faults)
}

/// Faults of counts that only show once the job is read, such as parts in all.
fn beyond(job: &Job) -> Vec<Fault> {
    let mut faults = sold::packs_of_posts(job);
    let gives = |size: &&give::Size| matches!(size.gives, give::Gives::Between(..));
    for size in job.sizes.iter().filter(gives) {
        if job.aim == Aim::Scrap {
            let kind = FaultKind::ScrapFirst("with sizes that may give; write the length alone");
            faults.push(Fault::new(size.place.clone(), kind));
        }
    }
    let (parts, sections, shed) = (&job.list, &job.sections, &job.shed);
    let mut count = |place: Place, found: usize, limit: &'static limits::Most| {
        if limit.passed_by(found) {
            faults.push(within::too_many(place, found, limit));
        }
    };
    count(Place::job("parts"), parts.len(), &limits::PARTS);
    let quantity = |part: &Part| part.quantity as usize;
    let in_all = parts.iter().map(quantity).fold(0, usize::saturating_add);
    count(Place::job("parts"), in_all, &limits::PARTS_IN_ALL);
    let stretches = shed.iter().map(|board| board.bad.len()).sum();
    count(Place::job("shed"), stretches, &limits::STRETCHES_IN_ALL);
    let mut angles = vec![Vec::new(); sections.len()];
    for part in parts {
        for end in part.ends {
            let PartEnd::Mitre(angle) = end else { continue };
            for &section in &part.sections {
                if let Some(angles) = angles.get_mut(section) {
                    angles.push((angle, part.quantity));
                }
            }
        }
    }
    for (row, angles) in angles.iter_mut().enumerate() {
        order::sort(angles);
        // Only ends of one angle can meet: an angle that one end alone has takes no work.
        let met = angles.chunk_by(|one, other| one.0 == other.0);
        let met = met.filter(|ends| ends.iter().map(|end| u64::from(end.1)).sum::<u64>() > 1);
        let many = met.count();
        count(Place::row("sections", row, ""), many, &limits::ANGLES);
        let ways = standing::ways(job, row);
        count(Place::row("sections", row, ""), ways, &limits::STANDING);
    }
    faults
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
    ("offcuts", Aim::Offcuts),
    ("scrap", Aim::Scrap),
];
/// The choice where nothing is typed comes first: as its section.
const BOARD_TREATED: &[(&str, Option<Treated>)] = &[
    ("as its section", None),
    own(Treated::WORDS[0]),
    own(Treated::WORDS[1]),
    own(Treated::WORDS[2]),
];

const fn own((word, treated): (&str, Treated)) -> (&str, Option<Treated>) {
    (word, Some(treated))
}

const COUNTS_AS: &[(&str, bool)] = &[(draft::COUNTS_AS[0], false), (draft::COUNTS_AS[1], true)];

impl Reader {
    fn job_reading(&mut self, draft: &JobDraft) -> Reading {
        Reading {
            unit: self.word(Place::job("unit"), &draft.own.unit, UNITS, Unit::Millimetre),
            decimal: self.word(
                Place::job("decimal"),
                &draft.own.decimal,
                DECIMALS,
                Decimal::Point,
            ),
        }
    }

    fn step(&mut self, draft: &JobDraft) -> Length {
        if written(&draft.own.step).is_some() {
            return self.length(Place::job("step"), &draft.own.step, &limits::STEP);
        }
        usual::STEP.on(self.is_imperial())
    }

    fn is_imperial(&self) -> bool {
        self.reading.unit.is_imperial()
    }

    fn payload(&mut self, draft: &JobDraft) -> Option<Mass> {
        let text = written(&draft.own.payload)?;
        let mass = Mass::read(text, self.reading);
        if mass.is_none() {
            self.push(Place::job("payload"), FaultKind::Mass(text.to_owned()));
        }
        mass
    }

    fn saw(&mut self, draft: &JobDraft) -> Saw {
        Saw {
            kerf: self.length_or(
                Place::object("saw", "kerf"),
                &draft.saw.kerf,
                &limits::KERF,
                usual::KERF.on(self.is_imperial()),
            ),
            keep: self.length_or(
                Place::object("saw", "keep"),
                &draft.saw.keep,
                &limits::KEEP,
                usual::KEEP.on(self.is_imperial()),
            ),
            keep_width: self.length_or(
                Place::object("saw", "keep_width"),
                &draft.saw.keep_width,
                &limits::KEEP,
                usual::KEEP_WIDTH.on(self.is_imperial()),
            ),
            rips: self.word(
                Place::object("saw", "rips"),
                &draft.saw.rips,
                &RIPS_WORDS,
                true,
            ),
        }
    }

    fn sections(&mut self, draft: &JobDraft, keep: Length, step: Length) -> Vec<Section> {
        let mut sections: Vec<Section> = Vec::new();
        let yard_sawn = written(&draft.own.yard_trim).map(|_| {
            let place = Place::job("yard_trim");
            self.length(place, &draft.own.yard_trim, &limits::TRIM)
        });
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
            let sides = self.measures(row, section);
            let usual = usual::TRIM.on(self.is_imperial());
            let trim = self.trim(place("trim"), &section.trim, usual);
            sections.push(Section {
                thickness: sides.thickness,
                width: sides.width,
                cover: sides.cover,
                sold_width: sides.sold_width,
                joint: sides.joint,
                treated: self.word(
                    place("treated"),
                    &section.treated,
                    &Treated::WORDS,
                    Treated::No,
                ),
                faces: self.word(place("faces"), &section.faces, &Sides::WORDS, Sides::Alike),
                edges: self.word(place("edges"), &section.edges, &Sides::WORDS, Sides::Alike),
                density: written(&section.density)
                    .map(|_| self.count(place("density"), &section.density, 50, limits::DENSITY)),
                trim,
                // Where nothing is said each carried piece is trimmed as a new length is: nobody knows how square the yard's saw is.
                yard_sawn: yard_sawn.map_or(trim, |end| Trim {
                    datum: end,
                    far: end,
                }),
                // What the tape cannot show is not sawn off for its own sake.
                keep: self
                    .length_or(place("keep"), &section.keep, &limits::KEEP, keep)
                    .max(step),
                spares: self.count_or_none(place("spares"), &section.spares, MOST_PARTS),
                hidden_defects: self.count_or_none(
                    place("hidden_defects"),
                    &section.hidden_defects,
                    limits::HIDDEN_DEFECTS,
                ),
                sold_as: self.sold_as(place("sold_as"), &section.sold_as),
                allowed: Allowed {
                    lengths: written(&section.allowed).map(|_| {
                        let most = limits::BOARDS.most as u32;
                        self.count(place("allowed"), &section.allowed, 0, most)
                    }),
                    timber: written(&section.allowed_timber).map(|_| {
                        let (place, text) = (place("allowed_timber"), &section.allowed_timber);
                        self.length(place, text, &limits::ALLOWED)
                    }),
                },
                name,
            });
        }
        sections
    }

    fn shed(&mut self, draft: &JobDraft, sections: &[Section], names: &[String]) -> Vec<ShedBoard> {
        let mut shed: Vec<ShedBoard> = Vec::new();
        for (row, board) in written_rows(&draft.shed) {
            let place = |field| Place::row("shed", row, field);
            let mark = written(&board.mark).map_or_else(|| (row + 1).to_string(), shown::line);
            if shed.iter().any(|other| other.mark == mark) {
                self.push(place("mark"), FaultKind::Duplicate(mark.clone()));
            }
            let section = self.section(place("section"), &board.section, names);
            let length = self.length(place("length"), &board.length, &limits::BOARD);
            let clear = usual::SHED_TRIM.on(self.is_imperial());
            let trim = self.trim(place("trim"), &board.trim, clear);
            let bad = self.bad(place("bad"), &board.bad, length);
            let kerf = self.kerf;
            if runs_between(length, trim.datum, trim.far, &bad, kerf).is_empty() {
                self.push(place("length"), FaultKind::NothingLeft);
            }
            let treated = self
                .word(place("treated"), &board.treated, BOARD_TREATED, None)
                .or(sections.get(section).map(|section| section.treated));
            let new = self.word(place("counts_as"), &board.counts_as, COUNTS_AS, false);
            let factory_ends = self.word(
                place("factory_ends"),
                &board.factory_ends,
                &draft::FACTORY_ENDS,
                [false; 2],
            );
            let note = shown::line(written(&board.note).unwrap_or_default());
            shed.push(ShedBoard {
                factory_ends,
                mark,
                section,
                length,
                bad,
                trim,
                treated: treated.unwrap_or_default(),
                new,
                note,
            });
        }
        shed
    }
}
