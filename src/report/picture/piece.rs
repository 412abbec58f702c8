//! One piece, a set-out with all that stands on it, as it is to be drawn: its members with the rows of the list that they are of.

use super::names::{Name, by_hand};
use super::scene::clash;
use crate::job::Job;
use crate::limits;
use crate::report::words::Words;
use crate::setout::{SetOut, Whole, apart};
use crate::space::{Member, Point, View};

/// A set-out as it is put to a piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// The letters of its parts.
    pub letters: String,
    /// Their keys.
    pub parts: Vec<String>,
    /// What shows that it is square and where it is fixed.
    pub fixed: Option<String>,
}

/// A piece to be drawn.
pub(super) struct Piece<'a> {
    job: &'a Job,
    whole: &'a Whole,
    /// The rows of its set-outs, the one that stands by itself first.
    pub(super) set_outs: Vec<usize>,
    /// For each row of the job's set-outs the first of its names in `names`, where it is in the piece.
    first: Vec<usize>,
    /// The names of its parts. Members say their places among them.
    pub(super) names: Vec<Name>,
}

impl Piece<'_> {
    /// A piece of a job, with the names of the job's list. None where there is nothing.
    pub(super) fn of<'a>(job: &'a Job, whole: &'a Whole, all: &[Name]) -> Option<Piece<'a>> {
        let set_outs = whole.rows();
        set_outs.first()?;
        let (mut first, mut names) = (vec![0; job.set_outs.len()], Vec::new());
        for &row in &set_outs {
            first[row] = names.len();
            let mut from = by_hand(job);
            for before in &job.set_outs[..row] {
                from += before.parts.len();
            }
            let parts = job.set_outs[row].parts.len();
            names.extend_from_slice(&all[from..from + parts]);
            if parts == 0 {
                names.push(Name::bought(row));
            }
        }
        Some(Piece {
            job,
            whole,
            set_outs,
            first,
            names,
        })
    }

    fn carries(&self) -> &SetOut {
        &self.job.set_outs[self.set_outs[0]]
    }

    /// Its name, and that it is one of several where it is.
    pub(super) fn heading(&self) -> String {
        let carries = self.carries();
        match carries.times {
            0 | 1 => carries.name.clone(),
            times => format!("{}: one of {times}", carries.name),
        }
    }

    /// Its set-outs as they are put together.
    pub(super) fn order(&self, words: &Words) -> Vec<Step> {
        let step = |&row: &usize| {
            let count = self.job.set_outs[row].parts.len();
            let names = &self.names[self.first[row]..self.first[row] + count];
            let mut letters: Vec<String> = Vec::new();
            let mut parts = Vec::new();
            for name in names {
                letters.push(name.short());
                parts.push(name.key.clone());
            }
            Step {
                letters: letters.join(", "),
                parts,
                fixed: self.fixed(words, row),
            }
        };
        self.set_outs.iter().map(step).collect()
    }

    /// How a set-out is seen to be square, and where it is fixed, for one of it; nothing where neither is known.
    fn fixed(&self, words: &Words, row: usize) -> Option<String> {
        let set_out = &self.job.set_outs[row];
        let mut told = Vec::new();
        if let Some(length) = set_out.length("diagonal") {
            let length = words.job.style().show(length).told();
            told.push(format!("Square where both diagonals are {length}."));
        }
        let mut joints = Vec::new();
        for joint in &set_out.joints {
            let count = joint.count / set_out.times.max(1);
            joints.push(format!("{count} {}", joint.what));
        }
        if !joints.is_empty() {
            told.push(format!("Fixed at {}.", joints.join(", ")));
        }
        (!told.is_empty()).then(|| told.join(" "))
    }

    /// Why it is too much to draw, where it is.
    pub(super) fn too_much(&self) -> Option<String> {
        let mut all = 0;
        for &row in &self.set_outs {
            for part in &self.job.set_outs[row].parts {
                all += part.quantity as usize;
            }
        }
        // Each is drawn once, however many there are of the piece.
        let all = all / self.carries().times.max(1) as usize;
        let told = limits::DRAWN.told(all);
        limits::DRAWN.passed_by(all).then_some(told)
    }

    /// Whether it can be pulled apart.
    pub(super) fn comes_apart(&self) -> bool {
        self.whole.put.len() > 1
    }

    /// Its members where they go.
    pub(super) fn members(&self) -> Vec<Member> {
        self.moved(&[])
    }

    /// Its members pulled apart, to be drawn from a corner.
    pub(super) fn apart(&self, view: View) -> Vec<Member> {
        self.moved(&apart(self.whole, view))
    }

    /// Its members, each set-out moved by so much.
    fn moved(&self, by: &[Point]) -> Vec<Member> {
        let mut all = Vec::new();
        for (nth, put) in self.whole.put.iter().enumerate() {
            let by = by.get(nth).copied().unwrap_or_default();
            for member in &put.members {
                let mut body = Vec::new();
                for solid in &member.body {
                    body.push(solid.shifted(by));
                }
                let part = self.first[put.row] + member.part;
                all.push(Member { part, body });
            }
        }
        all
    }

    /// What is not drawn, or two parts that are in one place, in a sentence, where there are any.
    pub(super) fn clash(&self, members: &[Member]) -> Option<String> {
        if let Some(put) = self.whole.put.iter().find(|put| put.members.is_empty()) {
            let name = &self.job.set_outs[put.row].name;
            return Some(format!(
                "{name} is not drawn: it stands on a slope, and only what is square is drawn there."
            ));
        }
        let [one, other] = clash(members)?;
        Some(format!(
            "Drawn as sized, two of its parts are in one place: {} and {}. Change a size or a section.",
            self.label(one),
            self.label(other)
        ))
    }

    fn label(&self, part: usize) -> &str {
        for &row in self.set_outs.iter().rev() {
            let set_out = &self.job.set_outs[row];
            if let Some(nth) = part.checked_sub(self.first[row]) {
                let part = set_out.parts.get(nth);
                return part.map_or(&set_out.name, |part| &part.label);
            }
        }
        ""
    }
}
