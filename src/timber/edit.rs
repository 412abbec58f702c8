//! Writing into the fields of a job as written, by their places.

use crate::draft::JobDraft;
use crate::fault::Place;
use crate::fields::Row;

/// What is to be written in a field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    /// The field. A row just behind the last of its list is a new one.
    pub place: Place,
    /// The text.
    pub text: String,
}

impl Edit {
    /// This text in a field of a row.
    pub fn row(list: &str, row: usize, field: &str, text: impl Into<String>) -> Edit {
        Edit {
            place: Place::row(list, row, field),
            text: text.into(),
        }
    }
}

/// The job as written with these fields changed; `None` where it has no such field.
pub fn edited(draft: &JobDraft, edits: &[Edit]) -> Option<JobDraft> {
    let mut draft = draft.clone();
    for edit in edits {
        write(&mut draft, edit)?;
    }
    Some(draft)
}

fn write(draft: &mut JobDraft, edit: &Edit) -> Option<()> {
    let Place {
        list, row, field, ..
    } = &edit.place;
    let text = &edit.text;
    match (list.as_str(), *row) {
        ("", None) => put(&mut draft.own, field, text),
        ("saw", None) => put(&mut draft.saw, field, text),
        ("sections", Some(row)) => put_in(&mut draft.sections, row, field, text),
        ("yard", Some(row)) => put_in(&mut draft.yard, row, field, text),
        ("yards", Some(row)) => put_in(&mut draft.yards, row, field, text),
        ("shed", Some(row)) => put_in(&mut draft.shed, row, field, text),
        ("parts", Some(row)) => put_in(&mut draft.parts, row, field, text),
        ("set_outs", Some(row)) => {
            let fields = &mut draft.set_outs.get_mut(row)?.fields;
            match fields.iter_mut().find(|(name, _)| name == field) {
                Some((_, old)) => text.clone_into(old),
                None => fields.push((field.clone(), text.clone())),
            }
            Some(())
        }
        _ => None,
    }
}

fn put_in<R: Row>(rows: &mut Vec<R>, row: usize, field: &str, text: &str) -> Option<()> {
    if row == rows.len() {
        rows.push(R::default());
    }
    put(rows.get_mut(row)?, field, text)
}

fn put<R: Row>(row: &mut R, field: &str, text: &str) -> Option<()> {
    let at = R::FIELDS.iter().position(|known| known.name == field)?;
    *row.texts_mut().into_iter().nth(at)? = Some(text.to_owned());
    Some(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draft::{SetOutDraft, ShedDraft};

    #[test]
    fn every_sort_of_place_is_written_and_no_other() {
        let before = JobDraft {
            shed: vec![ShedDraft::default()],
            set_outs: vec![SetOutDraft {
                fields: vec![("height".into(), "900".into())],
                ..SetOutDraft::default()
            }],
            ..JobDraft::default()
        };
        let after = edited(
            &before,
            &[
                Edit {
                    place: Place::job("carry"),
                    text: "3100".into(),
                },
                Edit {
                    place: Place::object("saw", "kerf"),
                    text: "2".into(),
                },
                Edit::row("shed", 1, "length", "310"),
                Edit::row("set_outs", 0, "height", "890"),
                Edit::row("set_outs", 0, "gap", "12"),
            ],
        )
        .expect("all of these are there");
        assert_eq!(after.own.carry.as_deref(), Some("3100"));
        assert_eq!(after.saw.kerf.as_deref(), Some("2"));
        assert_eq!(after.shed.len(), 2);
        assert_eq!(after.shed[1].length.as_deref(), Some("310"));
        let fields = [("height", "890"), ("gap", "12")];
        assert_eq!(
            after.set_outs[0].fields,
            fields.map(|(name, text)| (name.to_owned(), text.to_owned()))
        );
        for nowhere in [
            Edit::row("shed", 2, "length", "1"),
            Edit::row("shed", 0, "size", "1"),
            Edit::row("set_outs", 1, "height", "1"),
            Edit::row("offcuts", 0, "length", "1"),
        ] {
            assert_eq!(edited(&before, &[nowhere]), None);
        }
    }
}
