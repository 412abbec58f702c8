//! Set-outs as typed, each with its name, its kind and its fields by name, and how they are found by name.

use super::kind::Sort;
use super::kinds::Kind;
use super::tokens::Reference;
use super::trouble::Trouble;
use super::worked::Fact;
use crate::draft::SetOutDraft;
use crate::fault::FaultKind;
use crate::lower::lower;
use crate::nearest::nearest_word;
use crate::shown;
use order::Map;

/// A set-out as written.
pub struct Entry {
    /// Its name, or one that was made for it.
    pub name: String,
    /// Its kind; `None` where the word typed names none.
    pub kind: Option<Kind>,
    /// The texts of its fields.
    pub texts: Map<&'static str, String>,
}

/// A fault with its row and field.
pub type Found = (usize, String, FaultKind);

/// Reads the set-outs, and returns the faults of names, kinds and fields.
pub fn read_entries(drafts: &[SetOutDraft]) -> (Vec<Entry>, Vec<Found>) {
    let mut entries: Vec<Entry> = Vec::new();
    let mut found = Vec::new();
    for (row, draft) in drafts.iter().enumerate() {
        let mut fault = |field: &str, kind: FaultKind| found.push((row, field.to_owned(), kind));
        let kind = read_kind(draft).map_err(|kind| fault("kind", kind)).ok();
        let name = shown::line(draft.name.as_deref().unwrap_or("").trim());
        let name = name.as_str();
        if name.contains(['[', ']', ';']) {
            fault("name", FaultKind::WrongShape("a name without [ ] or ;"));
        }
        if !name.is_empty() && entries.iter().any(|other| alike(&other.name, name)) {
            fault("name", FaultKind::Duplicate(name.to_owned()));
        }
        let title = kind.map_or("Set-out", |kind| kind.about().title);
        let mut texts = Map::new();
        for (field, text) in &draft.fields {
            let Some(kind) = kind else { continue };
            match kind.about().field(field.trim()) {
                Some(known) => {
                    texts.insert(known.field, text.trim().to_owned());
                }
                None => {
                    let known = kind.about().all_fields().map(|known| known.field);
                    let nearest = nearest_word(field, known.chain(["name", "kind"]));
                    let field = field.clone();
                    fault(&field.clone(), FaultKind::UnknownField { field, nearest });
                }
            }
        }
        entries.push(Entry {
            name: if name.is_empty() {
                format!("{title} {}", row + 1)
            } else {
                name.to_owned()
            },
            kind,
            texts,
        });
    }
    (entries, found)
}

fn read_kind(draft: &SetOutDraft) -> Result<Kind, FaultKind> {
    let word = draft.kind.as_deref().unwrap_or("").trim();
    if word.is_empty() {
        return Err(FaultKind::Missing("the kind of set-out"));
    }
    Kind::named(word).ok_or_else(|| FaultKind::Word {
        text: word.to_owned(),
        allowed: Kind::ALL.iter().map(|kind| kind.about().kind).collect(),
    })
}

/// The row of the set-out with this name.
///
/// # Errors
/// No set-out has this name; the message suggests the nearest.
pub fn named(entries: &[Entry], name: &str) -> Result<usize, Trouble> {
    let found = entries.iter().position(|entry| alike(&entry.name, name));
    found.ok_or_else(|| {
        let names = entries.iter().map(|entry| entry.name.as_str());
        Trouble::Wrong(match nearest_word(name, names) {
            Some(nearest) => format!("no set-out is called \"{name}\"; did you mean [{nearest}]?"),
            None => {
                format!("no set-out is called \"{name}\"; write the name of one in the brackets")
            }
        })
    })
}

/// The error for a size that the set-out does not have, with the nearest that it has.
pub fn unknown_size(entry: &Entry, reference: &Reference, facts: &[Fact]) -> Trouble {
    let fields: Vec<String> = entry
        .kind
        .iter()
        .flat_map(|kind| kind.about().all_fields())
        .filter(|field| matches!(field.sort, Sort::Size | Sort::Length))
        .map(|field| spoken(field.field))
        .collect();
    let facts = facts.iter().map(|fact| fact.name.as_str());
    let names = fields.iter().map(String::as_str).chain(facts);
    let (size, name) = (&reference.size, &entry.name);
    Trouble::Wrong(match nearest_word(size, names) {
        Some(nearest) => {
            format!("\"{name}\" has no size called \"{size}\"; did you mean {nearest}?")
        }
        None => format!(
            "\"{name}\" has no size called \"{size}\"; its sizes include {}",
            fields.join(", ")
        ),
    })
}

/// A field's name with spaces, as people write it.
pub fn spoken(field: &str) -> String {
    let words = field.replace('_', " ");
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whether two names are equal, whatever the case of their letters.
pub fn alike(one: &str, other: &str) -> bool {
    let plain = |name: &str| lower(&shown::line(name.trim()));
    plain(one) == plain(other)
}
