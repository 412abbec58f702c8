//! Jobs and plans made by hand.
#![allow(dead_code)]

use lengthwise::certificate::{Certificate, LevelProof};
use lengthwise::job::{
    Job, JobDraft, PartDraft, PartEnd, SectionDraft, SetOutDraft, ShedDraft, YardDraft, validate,
};
use lengthwise::length::Length;
use lengthwise::plan::{Level, Lies, PlacedPart, Plan, PlannedBoard, PlannedRun, Proof, Source};

/// A draft under construction.
#[derive(Default)]
pub struct Draft(JobDraft);

impl std::ops::Deref for Draft {
    type Target = JobDraft;
    fn deref(&self) -> &JobDraft {
        &self.0
    }
}

impl std::ops::DerefMut for Draft {
    fn deref_mut(&mut self) -> &mut JobDraft {
        &mut self.0
    }
}

impl Draft {
    /// The yard saws exactly at its readings, and what it sawed is square: its cut takes a kerf and no more.
    pub fn exact_yard(&mut self) {
        self.own.yard_tolerance = Some("0".into());
        self.own.yard_trim = Some("0".into());
    }

    pub fn section(&mut self, name: &str, change: impl FnOnce(&mut SectionDraft)) {
        let mut section = SectionDraft {
            name: Some(name.into()),
            ..SectionDraft::default()
        };
        change(&mut section);
        self.sections.push(section);
    }

    pub fn yard(&mut self, section: &str, length: &str, price: Option<&str>, count: Option<&str>) {
        self.yard.push(YardDraft {
            section: Some(section.into()),
            length: Some(length.into()),
            price: price.map(Into::into),
            count: count.map(Into::into),
            ..YardDraft::default()
        });
    }

    pub fn shed(&mut self, mark: &str, section: &str, length: &str, bad: &str) {
        self.shed.push(ShedDraft {
            mark: Some(mark.into()),
            section: Some(section.into()),
            length: Some(length.into()),
            bad: Some(bad.into()),
            ..ShedDraft::default()
        });
    }

    pub fn part(&mut self, label: &str, section: &str, length: &str, quantity: &str, ends: &str) {
        self.parts.push(PartDraft {
            letter: None,
            ripped: None,
            keeps: None,
            bevel: None,
            label: Some(label.into()),
            section: Some(section.into()),
            length: Some(length.into()),
            quantity: Some(quantity.into()),
            spares: None,
            ends: Some(ends.into()),
            leans: None,
            over: None,
            goes: None,
            from: None,
            face: None,
            hand: None,
        });
    }

    /// A set-out; an empty name or kind is none.
    pub fn set_out(&mut self, name: &str, kind: &str, fields: &[(&str, &str)]) {
        let text = |text: &str| Some(text.to_owned()).filter(|text| !text.is_empty());
        self.set_outs.push(SetOutDraft {
            name: text(name),
            kind: text(kind),
            fields: fields
                .iter()
                .map(|&(field, text)| (field.to_owned(), text.to_owned()))
                .collect(),
        });
    }
}

/// A draft as a person would have typed it, with any faults it has.
pub fn draft_of(write: impl FnOnce(&mut Draft)) -> JobDraft {
    let mut draft = Draft::default();
    write(&mut draft);
    draft.0
}

/// A job from a draft that must be without faults.
#[track_caller]
pub fn job(write: impl FnOnce(&mut Draft)) -> Job {
    match validate(&draft_of(write)) {
        Ok(job) => job,
        Err(faults) => panic!(
            "{}",
            faults
                .iter()
                .map(ToString::to_string)
                .collect::<Vec<_>>()
                .join("\n")
        ),
    }
}

pub fn mm(millimetres: i64) -> Length {
    Length::from_mm(millimetres)
}

pub fn placed(part: usize, start: Length, end: Length) -> PlacedPart {
    PlacedPart {
        part,
        start,
        end,
        lies: Lies::default(),
        long_edge: Default::default(),
    }
}

/// Parts laid one behind the other from `from`, as written, each with a cut of its own behind it.
pub fn laid(job: &Job, from: Length, parts: &[usize]) -> Vec<PlacedPart> {
    let mut at = from;
    parts
        .iter()
        .map(|&part| {
            let end = at + job.parts[part].length;
            let cut = placed(part, at, end);
            at = end
                + match job.parts[part].ends[1] {
                    PartEnd::Square => job.saw.kerf,
                    PartEnd::Mitre(angle) => angle.kerf(job.saw.kerf),
                };
            cut
        })
        .collect()
}

/// The one run of a new length, with parts from its trimmed datum end.
pub fn one_run(job: &Job, source: Source, parts: &[usize]) -> PlannedRun {
    let Source::Yard(line) = source else {
        panic!("a new length")
    };
    let trim = job.sections[job.yard[line].section].trim;
    PlannedRun {
        from: trim.datum,
        to: job.yard[line].length - trim.far,
        cuts: laid(job, trim.datum, parts),
    }
}

pub fn board(source: Source, runs: Vec<PlannedRun>) -> PlannedBoard {
    PlannedBoard {
        source,
        yard_cut: None,
        runs,
    }
}

pub fn proof(sections: &[usize], levels: Vec<Level>, certificate: Option<Certificate>) -> Proof {
    Proof {
        sections: sections.to_vec(),
        levels,
        certificate,
    }
}

/// Changes one level's figures.
pub fn marked(plan: &mut Plan, level: usize, change: impl FnOnce(&mut LevelProof)) {
    let certificate = plan.proofs[0]
        .certificate
        .as_mut()
        .expect("the plan has figures");
    change(&mut certificate.levels[level]);
}
