//! Reads the fields of a set-out that hold no sums: sections, counts, choices, ends.

use super::kind::{Field, Sort, Usual};
use super::sizes::{FieldValue, Timber};
use crate::fault::FaultKind;
use crate::length::{Decimal, Length, Style};
use crate::limits;
use crate::lower::lower;
use crate::nearest::nearest_word;
use crate::part::read_ends;
use crate::section::Section;
use crate::shown;

/// The value of a field; `None` where it is empty and may be.
///
/// # Errors
/// What is wrong with it.
pub fn read(
    field: &'static Field,
    text: &str,
    imperial: bool,
    sections: &[Section],
    decimal: Decimal,
) -> Result<Option<FieldValue>, FaultKind> {
    let text = if text.is_empty() {
        field.usual.text(imperial)
    } else {
        text
    };
    if text.is_empty() {
        let section = matches!(field.sort, Sort::Section | Sort::AnySection);
        return match (field.usual, section, sections) {
            // With one section there is nothing to choose.
            (Usual::Needed, true, [only]) => {
                timber(field, std::slice::from_ref(&only.name), sections)
                    .map(|timber| Some(FieldValue::Timber(timber)))
            }
            (Usual::Needed, _, _) => Err(missing(field)),
            _ => Ok(None),
        };
    }
    let value = match field.sort {
        Sort::Section | Sort::AnySection => {
            let names: Vec<String> = text
                .split(';')
                .map(|name| name.trim().to_owned())
                .filter(|name| !name.is_empty())
                .collect();
            FieldValue::Timber(timber(field, &names, sections)?)
        }
        Sort::Count { least, most } => match text.parse::<u32>() {
            Ok(count) if (least..=most).contains(&count) => FieldValue::Count(count),
            _ => {
                return Err(FaultKind::Count {
                    text: text.to_owned(),
                    least,
                    most,
                });
            }
        },
        Sort::Choice(words) => {
            let chosen = field.sort.chosen(text);
            FieldValue::Choice(chosen.ok_or_else(|| FaultKind::Word {
                text: text.to_owned(),
                allowed: words.to_vec(),
            })?)
        }
        Sort::Ends => FieldValue::Ends(
            read_ends(text, decimal).ok_or_else(|| FaultKind::Angle(text.to_owned()))?,
        ),
        Sort::Face | Sort::Text | Sort::Size | Sort::Length => FieldValue::Text(text.to_owned()),
    };
    Ok(Some(value))
}

/// The length of a field, where it is within the field's range.
///
/// # Errors
/// What is wrong with it.
pub fn in_range(field: &Field, length: Option<Length>, style: Style) -> Result<Length, FaultKind> {
    let style = Style::exact(style.unit, style.decimal);
    let most = limits::PART.most;
    let length = length.ok_or_else(|| {
        FaultKind::SetOut("this comes to more than can be worked out; check the sizes".into())
    })?;
    let shown = style.show(length).text;
    let message = if length < Length::ZERO {
        format!("this comes to {shown}, below zero; check the sizes it is made of")
    } else if length == Length::ZERO && field.sort == Sort::Size {
        "this comes to nothing; give a length above zero".to_owned()
    } else if length > most {
        format!(
            "{shown} is too much here; give at most {}, and check the unit",
            style.show(most).text
        )
    } else {
        return Ok(length);
    };
    Err(FaultKind::SetOut(message))
}

/// The fault of a field that must be filled in.
pub fn missing(field: &Field) -> FaultKind {
    FaultKind::SetOut(format!("{} is missing; fill it in", lower(field.label)))
}

fn timber(field: &Field, names: &[String], sections: &[Section]) -> Result<Timber, FaultKind> {
    let mut indices = Vec::new();
    for name in names.iter().map(|name| shown::line(name)) {
        let index = sections.iter().position(|section| section.name == name);
        indices.push(index.ok_or_else(|| FaultKind::UnknownSection {
            nearest: nearest_word(&name, sections.iter().map(|section| section.name.as_str())),
            name: name.clone(),
        })?);
    }
    if indices.is_empty() {
        return Err(missing(field));
    }
    order::sort(&mut indices);
    indices.dedup();
    let mut timber = Timber {
        sections: indices,
        ..Timber::default()
    };
    if field.sort == Sort::AnySection {
        // A mitre needs the width of every section it may be cut from.
        let widths = timber.sections.iter().map(|&index| sections[index].width);
        timber.width = widths.min().flatten().unwrap_or_default();
        return Ok(timber);
    }
    for (position, &index) in timber.sections.iter().enumerate() {
        let section = &sections[index];
        let (Some(thickness), Some(width)) = (section.thickness, section.width) else {
            return Err(FaultKind::SetOut(format!(
                "the section \"{}\" needs its thickness and its width first; measure a board and fill them in",
                section.name
            )));
        };
        let cover = section.cover.unwrap_or(width);
        let sides = (thickness, width, cover, section.joint);
        if position > 0 && sides != (timber.thickness, timber.width, timber.cover, timber.joint) {
            return Err(FaultKind::SetOut(format!(
                "\"{}\" has another size than \"{}\"; name sections of one size here",
                section.name, sections[timber.sections[0]].name
            )));
        }
        (timber.thickness, timber.width, timber.cover, timber.joint) = sides;
    }
    Ok(timber)
}
