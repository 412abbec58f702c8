//! The values of a job file as texts, as a person would type them.

use super::{Fields, FileReader};
use crate::fault::FaultKind;
use serde_json::Value;

impl FileReader {
    /// A value as the text a person typed.
    pub(super) fn text(&mut self, fields: &Fields, field: &str) -> Option<String> {
        self.one(fields, field, plain)
    }

    /// The same for a size: a number gets the decimal sign of the job's texts.
    pub(super) fn size(&mut self, fields: &Fields, field: &str) -> Option<String> {
        self.one(fields, field, self.sizes())
    }

    /// The function that turns sizes into texts.
    fn sizes(&self) -> fn(&Value) -> Option<String> {
        match self.comma {
            true => with_comma,
            false => plain,
        }
    }

    fn one(
        &mut self,
        fields: &Fields,
        field: &str,
        told: fn(&Value) -> Option<String>,
    ) -> Option<String> {
        match fields.object.get(field) {
            None | Some(Value::Null) => None,
            Some(value) => match told(value) {
                Some(text) => Some(text).filter(|text| !text.trim().is_empty()),
                None => {
                    self.push(
                        fields.place(field),
                        FaultKind::WrongShape("a text or a number"),
                    );
                    None
                }
            },
        }
    }

    /// A value, or a list of values as one text separated by semicolons.
    pub(super) fn several(&mut self, fields: &Fields, field: &str) -> Option<String> {
        match fields.object.get(field) {
            Some(Value::Array(values)) => {
                match values.iter().map(self.sizes()).collect::<Option<Vec<_>>>() {
                    Some(texts) => Some(texts.join("; ")),
                    None => {
                        self.push(
                            fields.place(field),
                            FaultKind::WrongShape("a list of texts or numbers"),
                        );
                        None
                    }
                }
            }
            _ => self.size(fields, field),
        }
    }

    /// Bad stretches: a text, or a list of pairs.
    pub(super) fn stretches(&mut self, fields: &Fields, field: &str) -> Option<String> {
        let Some(Value::Array(values)) = fields.object.get(field) else {
            return self.text(fields, field);
        };
        let told = self.sizes();
        let pair = |value: &Value| match value {
            Value::Array(ends) if ends.len() == 2 => {
                Some(format!("{}..{}", told(&ends[0])?, told(&ends[1])?))
            }
            value => value.as_str().map(str::to_owned),
        };
        match values.iter().map(pair).collect::<Option<Vec<_>>>() {
            Some(texts) => Some(texts.join("; ")),
            None => {
                self.push(
                    fields.place(field),
                    FaultKind::WrongShape("a list of pairs such as [400, 460]"),
                );
                None
            }
        }
    }
}

fn plain(value: &Value) -> Option<String> {
    match value {
        Value::String(text) => Some(text.clone()),
        Value::Number(number) => Some(number.to_string()),
        Value::Bool(true) => Some("yes".into()),
        Value::Bool(false) => Some("no".into()),
        _ => None,
    }
}

/// A number written with a decimal comma.
fn with_comma(value: &Value) -> Option<String> {
    match value {
        Value::Number(number) => Some(number.to_string().replace('.', ",")),
        value => plain(value),
    }
}
