//! The job file: JSON read into a [`JobDraft`].
//!
//! Every value may be a number or a text, and is kept as typed. Faults are gathered, so that a fault in one field never hides another.
//! Shapes and field names are checked here; `job::validate` reads what the texts mean.

mod texts;

use super::bounded;
use crate::fault::{Fault, FaultKind, Place};
use crate::job::{Job, JobDraft, OwnDraft, SawDraft, SectionDraft, SetOutDraft, Sides, validate};
use crate::limits;
use serde_json::{Map, Value};
use timber::fields::{Holds, Row, names};
use timber::nearest::nearest_word;

/// The `format` of a job file.
pub const FORMAT: &str = "lengthwise-job";
/// The `version` of the job file that is read and written.
pub const VERSION: u64 = 1;

/// Whether a JSON text claims to be a job file, by its `format`.
///
/// # Errors
/// The text is no JSON: the parser's message, with line and column.
pub fn is_one(text: &str) -> Result<bool, String> {
    let value = serde_json::from_str::<Value>(text.trim_start_matches('\u{feff}'))
        .map_err(|error| error.to_string())?;
    Ok(value.get("format").and_then(Value::as_str) == Some(FORMAT))
}

/// Reads a job file.
///
/// The draft is as complete as the text allows even where there are faults; they name what was left out.
pub fn read(text: &str) -> (JobDraft, Vec<Fault>) {
    if let Err(fault) = bounded::json(text, &limits::FILE) {
        return (JobDraft::default(), vec![*fault]);
    }
    let text = text.trim_start_matches('\u{feff}');
    match serde_json::from_str::<Value>(text) {
        Ok(value) => read_value(&value),
        Err(error) => {
            let place = Place::line(error.line(), error.column());
            let why = error.to_string();
            let why = why.split(" at line ").next().unwrap_or(&why).to_owned();
            (
                JobDraft::default(),
                vec![Fault::new(place, FaultKind::Unreadable(why))],
            )
        }
    }
}

/// The job of a draft, with the faults that were found while it was read.
///
/// # Errors
/// The faults of both. Where the text itself could not be read, that parts of the job are missing follows and is not told.
pub fn understood(draft: &JobDraft, mut faults: Vec<Fault>) -> Result<Job, Vec<Fault>> {
    match validate(draft) {
        Ok(job) if faults.is_empty() => Ok(job),
        Ok(_) => Err(faults),
        Err(more) => {
            if faults.iter().all(|fault| fault.place.line.is_none()) {
                faults.extend(more);
            }
            Err(faults)
        }
    }
}

/// Reads a job file that is already parsed.
pub fn read_value(value: &Value) -> (JobDraft, Vec<Fault>) {
    let comma = value.get("decimal").and_then(Value::as_str) == Some("comma");
    let mut reader = FileReader {
        comma,
        faults: Vec::new(),
        unread: Vec::new(),
    };
    let mut draft = reader.job(value);
    draft.unread = reader.unread;
    (draft, reader.faults)
}

struct FileReader {
    /// Whether the texts of the job have a decimal comma. A JSON number always has a point.
    comma: bool,
    faults: Vec<Fault>,
    unread: Vec<(&'static str, usize)>,
}

/// The fields of one object, with the object's place.
struct Fields<'a> {
    list: &'a str,
    row: Option<usize>,
    object: &'a Map<String, Value>,
}

impl Fields<'_> {
    fn place(&self, field: &str) -> Place {
        Place {
            list: self.list.to_owned(),
            row: self.row,
            field: field.to_owned(),
            line: None,
        }
    }
}

/// The field that earlier files have in place of a section's `faces` and `edges`.
const TURNABLE: &str = "turnable";

/// Fields of the job that are lists or objects, or that name the file's format.
const JOB_LISTS: &[&str] = &[
    "format",
    "version",
    "saw",
    "sections",
    "yard",
    "yards",
    "shed",
    "parts",
    "set_outs",
    "quantities",
];

impl FileReader {
    fn job(&mut self, value: &Value) -> JobDraft {
        let Value::Object(object) = value else {
            self.push(Place::default(), FaultKind::WrongFormat("no object".into()));
            return JobDraft::default();
        };
        let top = Fields {
            list: "",
            row: None,
            object,
        };
        match object.get("format").and_then(Value::as_str) {
            Some(FORMAT) => {}
            Some(other) => self.push(
                Place::job("format"),
                FaultKind::WrongFormat(format!("a file of format \"{other}\"")),
            ),
            None => self.push(
                Place::job("format"),
                FaultKind::WrongFormat("a file that does not say its format".into()),
            ),
        }
        if let Some(version) = object.get("version")
            && version.as_u64() != Some(VERSION)
        {
            self.push(
                Place::job("version"),
                FaultKind::WrongFormat(format!("version {version}")),
            );
        }
        self.known(&top, &[&names(OwnDraft::FIELDS), JOB_LISTS].concat());
        JobDraft {
            own: self.row(&top),
            saw: self.saw(&top),
            sections: self.rows(&top, "sections", FileReader::section),
            yard: self.rows(&top, "yard", FileReader::known_row),
            yards: self.rows(&top, "yards", FileReader::known_row),
            shed: self.rows(&top, "shed", FileReader::known_row),
            parts: self.rows(&top, "parts", FileReader::known_row),
            set_outs: self.rows(&top, "set_outs", FileReader::set_out),
            quantities: self.quantities(&top),
            unread: Vec::new(),
        }
    }

    fn saw(&mut self, top: &Fields) -> SawDraft {
        match top.object.get("saw") {
            None | Some(Value::Null) => SawDraft::default(),
            Some(Value::Object(object)) => {
                let own = Fields {
                    list: "saw",
                    row: None,
                    object,
                };
                self.known_row(&own)
            }
            Some(_) => {
                self.push(
                    Place::job("saw"),
                    FaultKind::WrongShape("an object with kerf and keep"),
                );
                SawDraft::default()
            }
        }
    }

    fn quantities(&mut self, top: &Fields) -> Vec<(String, String)> {
        match top.object.get("quantities") {
            None | Some(Value::Null) => Vec::new(),
            Some(Value::Object(object)) => {
                let own = Fields {
                    list: "quantities",
                    row: None,
                    object,
                };
                let mut rules = Vec::new();
                for name in object.keys() {
                    if let Some(text) = self.size(&own, name) {
                        rules.push((name.clone(), text));
                    }
                }
                rules
            }
            Some(_) => {
                self.push(
                    Place::job("quantities"),
                    FaultKind::WrongShape("an object of rules such as coverage and coats"),
                );
                Vec::new()
            }
        }
    }

    /// A row all of whose fields should be in its table; unknown ones are faults.
    fn known_row<R: Row>(&mut self, fields: &Fields) -> R {
        self.known(fields, &names(R::FIELDS));
        self.row(fields)
    }

    /// The fields of a row, each as the text a person typed.
    fn row<R: Row>(&mut self, fields: &Fields) -> R {
        let mut row = R::default();
        for (field, text) in R::FIELDS.iter().zip(row.texts_mut()) {
            *text = match field.holds {
                Holds::TwoLengths | Holds::Sections | Holds::Ends => {
                    self.several(fields, field.name)
                }
                Holds::Stretches => self.stretches(fields, field.name),
                Holds::Text | Holds::Section => self.text(fields, field.name),
                _ => self.size(fields, field.name),
            };
        }
        row
    }

    /// A section. Earlier files say in one field whether parts may be turned: if so, both its faces and its edges are alike, else neither.
    fn section(&mut self, fields: &Fields) -> SectionDraft {
        self.known(
            fields,
            &[&names(SectionDraft::FIELDS)[..], &[TURNABLE]].concat(),
        );
        let mut section: SectionDraft = self.row(fields);
        match self.text(fields, TURNABLE).as_deref() {
            None | Some("yes") => {}
            Some("no") => {
                for sides in [&mut section.faces, &mut section.edges] {
                    sides.get_or_insert_with(|| Sides::Different.word().to_owned());
                }
            }
            Some(_) => self.push(fields.place(TURNABLE), FaultKind::WrongShape("yes or no")),
        }
        section
    }

    fn set_out(&mut self, fields: &Fields) -> SetOutDraft {
        let mut own = Vec::new();
        for field in fields
            .object
            .keys()
            .filter(|field| !matches!(field.as_str(), "name" | "kind"))
        {
            if let Some(text) = self.several(fields, field) {
                own.push((field.clone(), text));
            }
        }
        SetOutDraft {
            name: self.text(fields, "name"),
            kind: self.text(fields, "kind"),
            fields: own,
        }
    }

    /// Reads a list of objects.
    fn rows<T: Default>(
        &mut self,
        top: &Fields,
        list: &str,
        read: fn(&mut FileReader, &Fields) -> T,
    ) -> Vec<T> {
        let rows = match top.object.get(list) {
            None | Some(Value::Null) => return Vec::new(),
            Some(Value::Array(rows)) => rows,
            Some(_) => {
                self.push(Place::job(list), FaultKind::WrongShape("a list of objects"));
                return Vec::new();
            }
        };
        if let Some((list, limit)) = limits::of_list(list)
            && limit.passed_by(rows.len())
        {
            self.unread.push((list, rows.len()));
            return Vec::new();
        }
        let read_row = |(row, value): (usize, &Value)| match value {
            Value::Object(object) => {
                let own = Fields {
                    list,
                    row: Some(row),
                    object,
                };
                read(self, &own)
            }
            _ => {
                self.push(
                    Place::row(list, row, ""),
                    FaultKind::WrongShape("an object"),
                );
                T::default()
            }
        };
        rows.iter().enumerate().map(read_row).collect()
    }

    fn known(&mut self, fields: &Fields, known: &[&str]) {
        for field in fields
            .object
            .keys()
            .filter(|field| !known.contains(&field.as_str()))
        {
            let nearest = nearest_word(field, known.iter().copied());
            self.push(
                fields.place(field),
                FaultKind::UnknownField {
                    field: field.clone(),
                    nearest,
                },
            );
        }
    }

    fn push(&mut self, place: Place, kind: FaultKind) {
        self.faults.push(Fault::new(place, kind));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn faults_of(text: &str) -> Vec<String> {
        read(text).1.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_job_file_keeps_every_text_as_typed() {
        let (draft, faults) = read(
            r#"{"format":"lengthwise-job","version":1,"unit":"mm","saw":{"kerf":2.4},
               "sections":[{"name":"batten","trim":[10,"2 in"]}],
               "shed":[{"section":"batten","length":"1 830","bad":[[400,460],["1.2 m","1250"]]}],
               "parts":[{"label":"slat","section":["batten","board"],"length":"47 1/4\"","quantity":3,"ends":["square",45]}],
               "set_outs":[{"kind":"frame","name":"lid","width":600}]}"#,
        );
        assert_eq!(faults, []);
        assert_eq!(draft.saw.kerf.as_deref(), Some("2.4"));
        assert_eq!(draft.sections[0].trim.as_deref(), Some("10; 2 in"));
        assert_eq!(draft.shed[0].bad.as_deref(), Some("400..460; 1.2 m..1250"));
        assert_eq!(draft.parts[0].section.as_deref(), Some("batten; board"));
        assert_eq!(draft.parts[0].ends.as_deref(), Some("square; 45"));
        assert_eq!(
            draft.set_outs[0].fields,
            [("width".to_owned(), "600".to_owned())]
        );
    }

    #[test]
    fn a_number_is_the_same_size_whatever_the_decimal_sign_of_the_texts_is() {
        let (draft, faults) = read(
            r#"{"format":"lengthwise-job","version":1,"decimal":"comma","piece":7.5,"saw":{"kerf":2.4},
               "sections":[{"name":1.5,"trim":[10.5,"12,5"]}],
               "yard":[{"section":1.5,"length":2400.5,"price":9.13}],
               "shed":[{"length":"1830,5","bad":[[400.5,"460,5"]]}],
               "parts":[{"label":"slat","length":1200.5,"ends":["square",22.5]}],
               "set_outs":[{"kind":"frame","name":"lid","width":600.5}],
               "quantities":{"coverage":12.5}}"#,
        );
        assert_eq!(faults, []);
        let texts = [
            &draft.saw.kerf,
            &draft.sections[0].trim,
            &draft.yard[0].length,
            &draft.yard[0].price,
            &draft.shed[0].bad,
            &draft.parts[0].length,
            &draft.parts[0].ends,
        ];
        assert_eq!(
            texts.map(|text| text.as_deref().unwrap_or_default()),
            [
                "2,4",
                "10,5; 12,5",
                "2400,5",
                "9,13",
                "400,5..460,5",
                "1200,5",
                "square; 22,5"
            ]
        );
        assert_eq!(draft.set_outs[0].fields, [("width".into(), "600,5".into())]);
        assert_eq!(draft.quantities, [("coverage".into(), "12,5".into())]);
        // A name that looks like a number stays as it is.
        assert_eq!(draft.sections[0].name.as_deref(), Some("1.5"));
        assert_eq!(draft.yard[0].section.as_deref(), Some("1.5"));
        assert_eq!(draft.own.piece.as_deref(), Some("7.5"));
    }

    #[test]
    fn an_unknown_field_names_the_nearest_known_one() {
        let faults = faults_of(r#"{"format":"lengthwise-job","parts":[{"lenght":5}],"kerf":2}"#);
        assert_eq!(
            faults,
            [
                "kerf: no field is called \"kerf\"; remove it",
                "parts 1, lenght: no field is called \"lenght\"; did you mean \"length\"?",
            ]
        );
    }

    #[test]
    fn text_that_is_not_json_names_its_line_and_column() {
        let faults = faults_of("{\"format\": \"lengthwise-job\",\n  parts: []}");
        assert_eq!(
            faults,
            ["line 2, column 3: cannot be read: key must be a string"]
        );
    }

    #[test]
    fn another_kind_of_file_is_told_apart() {
        assert!(faults_of("[]")[0].contains("a job file has \"format\": \"lengthwise-job\""));
        assert!(faults_of(r#"{"format":"lengthwise-job","version":2}"#)[0].contains("version 2"));
    }

    #[test]
    fn a_section_of_earlier_files_that_may_not_be_turned_has_different_faces_and_edges() {
        let section = |field: &str| {
            let text =
                format!(r#"{{"format":"lengthwise-job","sections":[{{"name":"a"{field}}}]}}"#);
            let (draft, faults) = read(&text);
            let section = draft.sections[0].clone();
            (section.faces, section.edges, faults.len())
        };
        let different = Some("different".to_owned());
        assert_eq!(
            section(r#","turnable":"no""#),
            (different.clone(), different.clone(), 0)
        );
        assert_eq!(section(r#","turnable":"yes""#), (None, None, 0));
        let own = section(r#","turnable":"no","faces":"alike""#);
        assert_eq!(own, (Some("alike".to_owned()), different, 0));
        assert_eq!(section(r#","turnable":"perhaps""#), (None, None, 1));
    }
}
