//! Works out the set-outs as typed, whatever order they refer to each other in.
//!
//! **Idea.** Two things can be referred to by name: a field of a set-out, which needs that field alone, and a size worked out, which needs
//! the whole set-out. Both are worked out on demand, once, and kept (depth-first search with memoisation). **Invariant.** What is being
//! worked out is on a path; a reference to something on the path closes a loop, which is reported at every field of it. **Why it ends:**
//! each step is taken once, and the path, with it the recursion, is limited in length.

mod on;

use super::beneath::Stands;
use super::crossed;
use super::entries::{Entry, alike, named, read_entries, spoken, unknown_size};
use super::evaluate::{Value, evaluate};
use super::fields;
use super::finish::{SetOut, finished};
use super::kind::{Field, Sort};
use super::ratio::Ratio;
use super::sizes::{FieldValue, Sizes};
use super::tokens::Reference;
use super::trouble::Trouble;
use super::worked::FactValue;
use crate::draft::SetOutDraft;
use crate::fault::{Fault, FaultKind, Place};
use crate::length::{Length, Reading, Style};
use crate::section::Section;
use order::{Map, Set};

/// Most steps on the path: enough for any piece, and few enough for any stack.
const LONGEST_CHAIN: usize = 60;

/// Works out all set-outs; the faults come in the order of rows and fields.
pub fn work_out_all(
    drafts: &[SetOutDraft],
    sections: &[Section],
    style: Style,
) -> (Vec<SetOut>, Vec<Fault>) {
    let mut resolver = Resolver {
        sections,
        style,
        entries: Vec::new(),
        fields: Map::new(),
        finished: Map::new(),
        stands: Map::new(),
        path: Vec::new(),
        faults: Vec::new(),
    };
    let (entries, found) = read_entries(drafts);
    resolver.entries = entries;
    for (row, field, kind) in found {
        resolver.fault(row, &field, kind);
    }
    for row in 0..drafts.len() {
        resolver.work_out(row);
    }
    let Resolver {
        mut finished,
        mut faults,
        ..
    } = resolver;
    order::sort_by_key(&mut faults, |(row, order, _)| (*row, *order));
    let mut distinct: Vec<Fault> = Vec::new();
    for (_, _, fault) in faults {
        if !distinct.contains(&fault) {
            distinct.push(fault);
        }
    }
    let mut set_outs: Vec<SetOut> = (0..drafts.len())
        .map(|row| {
            finished
                .remove(&row)
                .map_or_else(SetOut::default, |(set_out, _)| set_out)
        })
        .collect();
    crossed::count(&mut set_outs, sections);
    (set_outs, distinct)
}

/// What is known of a field that holds a length.
#[derive(Clone, Copy)]
enum Known {
    Empty,
    Length(Length),
    Faulty,
}

/// Why a field has no value.
enum Blocked {
    Fault(FaultKind),
    Waits(String),
}

/// A step: something that is worked out.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Step {
    Field(usize, &'static str),
    Whole(usize),
}

/// Whether a set-out could be worked out.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Outcome {
    Sound,
    Faulty,
}

struct Resolver<'a> {
    sections: &'a [Section],
    style: Style,
    entries: Vec<Entry>,
    fields: Map<(usize, &'static str), Known>,
    finished: Map<usize, (SetOut, Outcome)>,
    /// What each set-out stands on that says so; `None` where that has a fault.
    stands: Map<usize, Option<Stands>>,
    path: Vec<Step>,
    faults: Vec<(usize, usize, Fault)>,
}

impl Resolver<'_> {
    fn reading(&self) -> Reading {
        Reading {
            unit: self.style.unit,
            decimal: self.style.decimal,
        }
    }

    fn fault(&mut self, row: usize, field: &str, kind: FaultKind) {
        let order = self
            .entries
            .get(row)
            .and_then(|entry| entry.kind)
            .and_then(|kind| {
                kind.about()
                    .all_fields()
                    .position(|known| known.field == field)
            })
            .map_or(0, |position| position + 1);
        let fault = Fault::new(Place::row("set_outs", row, field), kind);
        self.faults.push((row, order, fault));
    }

    /// Works out a set-out, unless it is known already.
    fn work_out(&mut self, row: usize) {
        if self.finished.contains_key(&row) {
            return;
        }
        self.path.push(Step::Whole(row));
        let set_out = self.attempt(row);
        self.path.pop();
        let outcome = set_out.as_ref().map_or(Outcome::Faulty, |_| Outcome::Sound);
        let set_out = set_out.unwrap_or_else(|waits| SetOut {
            name: self.entries[row].name.clone(),
            kind: self.entries[row]
                .kind
                .map_or("", |kind| kind.about().kind)
                .to_owned(),
            notes: waits
                .into_iter()
                .map(|name| format!("waits for {name}, which has a fault"))
                .collect(),
            ..SetOut::default()
        });
        self.finished.insert(row, (set_out, outcome));
    }

    /// The set-out, or the names of the faulty sizes on which it depends.
    fn attempt(&mut self, row: usize) -> Result<SetOut, Vec<String>> {
        let Some(kind) = self.entries[row].kind else {
            return Err(Vec::new());
        };
        let mut sizes = Sizes {
            values: Map::new(),
            written: Set::new(),
            style: self.style,
            stands: Stands::default(),
        };
        let (mut sound, mut waits) = (true, Vec::new());
        for field in kind.about().all_fields() {
            match self.value(row, field) {
                Ok(None) => {}
                Ok(Some(value)) => {
                    sizes.values.insert(field.field, value);
                    if !self.text(row, field).is_empty() {
                        sizes.written.insert(field.field);
                    }
                }
                Err(name) => {
                    sound = false;
                    waits.extend(name);
                }
            }
        }
        self.told_times(row, &mut sizes);
        if !sound || self.faults.iter().any(|(faulty, _, _)| *faulty == row) {
            // Faults of its own fields are reported at those fields.
            let own = format!("[{}] ", self.entries[row].name);
            waits.retain(|name| !name.starts_with(&own));
            waits.dedup();
            return Err(waits);
        }
        let worked = kind.work_out(&sizes);
        match worked.and_then(|worked| finished(row, &self.entries[row].name, kind, sizes, worked))
        {
            Ok(set_out) => Ok(set_out),
            Err(misfit) => {
                self.fault(row, misfit.field, FaultKind::SetOut(misfit.message));
                Err(Vec::new())
            }
        }
    }

    /// The value of a field; `None` where it is empty and may be. A fault is reported; the error is the name of a faulty size on which the
    /// field depends.
    fn value(
        &mut self,
        row: usize,
        field: &'static Field,
    ) -> Result<Option<FieldValue>, Option<String>> {
        if matches!(field.sort, Sort::Size | Sort::Length) {
            return match self.length(row, field) {
                Ok(length) => Ok(length.map(FieldValue::Length)),
                Err(Trouble::Waits(name)) => Err(Some(name)),
                Err(_) => Err(None),
            };
        }
        let text = self.text(row, field);
        if field.sort == Sort::Face {
            return match self.stands(row) {
                Ok(stands) if stands.on.is_empty() => Ok(None),
                Ok(_) => Ok(Some(FieldValue::Text(text))),
                Err(Trouble::Waits(name)) => Err(Some(name)),
                Err(_) => Err(None),
            };
        }
        let imperial = self.style.unit.is_imperial();
        fields::read(field, &text, imperial, self.sections, self.style.decimal).map_err(|kind| {
            self.fault(row, field.field, kind);
            None
        })
    }

    fn text(&self, row: usize, field: &'static Field) -> String {
        self.entries[row]
            .texts
            .get(field.field)
            .cloned()
            .unwrap_or_default()
    }

    /// The length in a field; every fault of it is reported at its place before this returns.
    fn length(&mut self, row: usize, field: &'static Field) -> Result<Option<Length>, Trouble> {
        let key = (row, field.field);
        let waits = || {
            Trouble::Waits(format!(
                "[{}] {}",
                self.entries[row].name,
                spoken(field.field)
            ))
        };
        match self.fields.get(&key) {
            Some(Known::Empty) => return Ok(None),
            Some(Known::Length(length)) => return Ok(Some(*length)),
            Some(Known::Faulty) => return Err(waits()),
            None => {}
        }
        let waits = waits();
        let step = Step::Field(row, field.field);
        if let Some(start) = self.path.iter().position(|earlier| *earlier == step) {
            self.loop_fault(start);
            return Err(waits);
        }
        self.path.push(step);
        let result = self.evaluated(row, field);
        self.path.pop();
        let known = match &result {
            Ok(None) => Known::Empty,
            Ok(Some(length)) => Known::Length(*length),
            Err(_) => Known::Faulty,
        };
        self.fields.insert(key, known);
        match result {
            Ok(length) => Ok(length),
            Err(Blocked::Fault(fault)) => {
                self.fault(row, field.field, fault);
                Err(waits)
            }
            Err(Blocked::Waits(name)) => Err(Trouble::Waits(name)),
        }
    }

    /// The length of a field; the error is its own fault, or the name of a faulty size elsewhere.
    fn evaluated(&mut self, row: usize, field: &'static Field) -> Result<Option<Length>, Blocked> {
        let written = self.text(row, field);
        let usual = field.usual.text(self.style.unit.is_imperial());
        let text = if written.is_empty() {
            usual.to_owned()
        } else {
            written
        };
        if text.is_empty() {
            return match field.usual {
                super::Usual::Needed => match self.of_the_face(row, field.field)? {
                    Some(length) => fields::in_range(field, length, self.style)
                        .map(Some)
                        .map_err(Blocked::Fault),
                    None => Err(Blocked::Fault(fields::missing(field))),
                },
                _ => Ok(None),
            };
        }
        if self.path.len() > LONGEST_CHAIN {
            let message = "too many sizes wait for each other; give one of them a plain length";
            return Err(Blocked::Fault(FaultKind::SetOut(message.into())));
        }
        let reading = self.reading();
        let value = evaluate(&text, reading, &mut |reference| {
            self.look_up(row, reference)
        });
        let length = match value {
            Ok(value) => value.length(reading),
            Err(Trouble::Length(text, fault)) => {
                return Err(Blocked::Fault(FaultKind::Length { text, fault }));
            }
            Err(Trouble::Wrong(message)) => return Err(Blocked::Fault(FaultKind::SetOut(message))),
            Err(Trouble::Waits(name)) => return Err(Blocked::Waits(name)),
        };
        fields::in_range(field, length, self.style)
            .map(Some)
            .map_err(Blocked::Fault)
    }

    fn look_up(&mut self, row: usize, reference: &Reference) -> Result<Value, Trouble> {
        let target = match &reference.set_out {
            None => row,
            Some(name) => named(&self.entries, name)?,
        };
        let Some(kind) = self.entries[target].kind else {
            return Err(Trouble::Waits(format!("[{}]", self.entries[target].name)));
        };
        let field = kind.about().all_fields().find(|field| {
            matches!(field.sort, Sort::Size | Sort::Length)
                && alike(&spoken(field.field), &spoken(&reference.size))
        });
        if let Some(field) = field {
            return match self.length(target, field)? {
                Some(length) => Ok(Value::Length(Ratio::of(length))),
                None => Err(Trouble::Wrong(format!(
                    "the {} of \"{}\" is empty; fill it in or name another size",
                    spoken(field.field),
                    self.entries[target].name
                ))),
            };
        }
        if let Some(start) = self
            .path
            .iter()
            .position(|step| *step == Step::Whole(target))
        {
            let in_a_loop = self.path[start..]
                .iter()
                .any(|step| matches!(step, Step::Field(..)));
            // A field of the set-out that is being worked out can refer to its other fields alone; none of its sizes is known yet.
            if target == row || !in_a_loop {
                return Err(unknown_size(&self.entries[target], reference, &[]));
            }
            self.loop_fault(start);
            return Err(Trouble::Waits(format!("[{}]", self.entries[target].name)));
        }
        self.work_out(target);
        match self.finished.get(&target) {
            Some((set_out, Outcome::Sound)) => {
                let fact = set_out
                    .facts
                    .iter()
                    .find(|fact| alike(&fact.name, &spoken(&reference.size)));
                match fact.map(|fact| fact.value) {
                    Some(FactValue::Length(length)) => Ok(Value::Length(Ratio::of(length))),
                    Some(FactValue::Count(count)) => Ratio::new(i128::from(count), 1)
                        .map(Value::Number)
                        .ok_or_else(|| Trouble::Wrong("this number is too large".into())),
                    None => {
                        let facts = set_out.facts.clone();
                        Err(unknown_size(&self.entries[target], reference, &facts))
                    }
                }
            }
            _ => Err(Trouble::Waits(format!("[{}]", self.entries[target].name))),
        }
    }

    /// Reports the loop that closes at index `start` of the path, at each of its fields.
    fn loop_fault(&mut self, start: usize) {
        let fields: Vec<(usize, &'static str)> = self.path[start..]
            .iter()
            .filter_map(|step| match step {
                Step::Field(row, field) => Some((*row, *field)),
                Step::Whole(_) => None,
            })
            .collect();
        let name = |&(row, field): &(usize, &str)| {
            format!("[{}] {}", self.entries[row].name, spoken(field))
        };
        let mut names: Vec<String> = fields.iter().map(name).collect();
        names.extend(names.first().cloned());
        let message = format!(
            "these sizes wait for each other in a circle: {}; give one of them a plain length{}",
            names.join(" \u{2192} "),
            match fields.iter().any(|(_, field)| *field == "on") {
                true => ", or let one set-out stand by itself",
                false => "",
            }
        );
        for (row, field) in fields {
            self.fault(row, field, FaultKind::SetOut(message.clone()));
        }
    }
}
