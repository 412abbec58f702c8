//! The data from which the page's forms are made: the table of the job file's fields. The page builder writes it into the page.

use serde_json::{Map, Value, json};
use timber::draft::{
    OwnDraft, PartDraft, SawDraft, SectionDraft, ShedDraft, TermsDraft, YardDraft,
};
use timber::fields::{Field, Holds, Row, Said};

/// Every list's fields, by the list's name; the job's own fields are under `job`.
pub fn value() -> Value {
    let lists = [
        ("job", fields::<OwnDraft>()),
        ("saw", fields::<SawDraft>()),
        ("sections", fields::<SectionDraft>()),
        ("yard", fields::<YardDraft>()),
        ("yards", fields::<TermsDraft>()),
        ("shed", fields::<ShedDraft>()),
        ("parts", fields::<PartDraft>()),
    ];
    let lists = lists.map(|(list, fields)| (list.to_owned(), fields));
    Value::Object(lists.into_iter().collect::<Map<_, _>>())
}

fn fields<R: Row>() -> Value {
    R::FIELDS.iter().zip(R::SAID).map(form).collect()
}

fn form((field, said): (&Field, &Said)) -> Value {
    let choices = match field.holds {
        Holds::Word(words) => Some(words.iter().map(choice).collect::<Vec<_>>()),
        _ => None,
    };
    json!({
        "name": field.name, "label": said.label, "hint": said.hint, "holds": field.holds.word(), "choices": choices,
    })
}

fn choice((value, label): &(&str, &str)) -> Value {
    json!({ "value": value, "label": label })
}
