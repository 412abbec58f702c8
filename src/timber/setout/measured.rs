//! What changes where boards measure other than they were sold: each set-out is worked out with both widths, and the difference becomes a
//! note.

use super::finish::SetOut;
use crate::length::{Length, Style};
use crate::part::Part;
use crate::section::Section;

/// Adds a note to every set-out that changed because boards measure other than `before` had them. Both lists are of the same set-outs.
pub fn tell(set_outs: &mut [SetOut], before: &[SetOut], sections: &[Section], style: Style) {
    for (set_out, before) in set_outs.iter_mut().zip(before) {
        let used = |section: usize| {
            let mut parts = set_out.parts.iter();
            parts.any(|part| part.sections.contains(&section))
        };
        let measured: Vec<String> = sections
            .iter()
            .enumerate()
            .filter(|&(index, _)| used(index))
            .filter_map(|(_, section)| measures(section, style))
            .collect();
        let same = before.parts == set_out.parts;
        if measured.is_empty() && same {
            continue;
        }
        let cause = if measured.is_empty() {
            "Other boards were measured at the yard".to_owned()
        } else {
            measured.join("; ")
        };
        let effect = if same && before.makes == set_out.makes {
            "its parts stay as they were".to_owned()
        } else if same {
            format!(
                "its parts stay as they were; as sold it came to {}",
                before.makes
            )
        } else if before.parts.is_empty() {
            "as sold it could not be worked out".to_owned()
        } else {
            format!("as sold it took {}", listed(&before.parts, style))
        };
        set_out.notes.push(format!("{cause}: {effect}."));
    }
}

/// `"board" measures 141 mm at the yard, not 145 mm`.
fn measures(section: &Section, style: Style) -> Option<String> {
    let (width, sold) = (section.width?, section.sold_width?);
    let style = Style::exact(style.unit, style.decimal);
    let [width, sold] = [width, sold].map(|length: Length| style.show(length).text);
    Some(format!(
        "\"{}\" measures {width} at the yard, not {sold}",
        section.name
    ))
}

fn listed(parts: &[Part], style: Style) -> String {
    let lines = parts.iter().map(|part| {
        format!(
            "{} \u{d7} {}, {} long",
            part.quantity,
            part.label,
            style.show(part.length).text
        )
    });
    lines.collect::<Vec<String>>().join("; ")
}
