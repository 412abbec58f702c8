//! Choices in words.

use super::found::{Choice, Choices};
use crate::bill::{basis, left_out};
use crate::job::Job;
use crate::length::Length;
use crate::report::text::table;
use crate::wording::{long_length, sections_together};

/// What sets a choice apart from the others: `fewest lengths`.
pub fn choice_text(choices: &Choices, index: usize) -> String {
    let choice = &choices.found[index];
    if choice.beaten {
        return "as it is today".into();
    }
    let all = || choices.found.iter().filter(|choice| !choice.beaten);
    let money = |choice: &Choice| choice.money.unwrap_or_default();
    let fewest = all().all(|other| other.lengths >= choice.lengths);
    let cheapest = choice.money.is_some() && all().all(|other| money(other) >= money(choice));
    let shortest = all().all(|other| other.timber >= choice.timber);
    let firsts = [
        (fewest, "fewest lengths"),
        (cheapest, "least money"),
        (shortest, "least timber"),
    ];
    let firsts = firsts.into_iter().filter(|(is_first, _)| *is_first);
    let firsts: Vec<&str> = firsts.map(|(_, name)| name).collect();
    match firsts.is_empty() {
        true => "in between".into(),
        false => firsts.join(", "),
    }
}

/// The aims by which a choice is planned: of those with the fewest lengths the cheapest, and so on, as the levels of a plan follow each other.
pub fn aims(choices: &Choices, index: usize) -> Vec<&'static str> {
    let choice = &choices.found[index];
    let figures = |one: &Choice| {
        let money = one.money.unwrap_or_default().minor();
        let (lengths, timber) = (one.lengths, one.timber.ticks());
        [
            ("fewest", [lengths, money, timber]),
            ("cheapest", [money, lengths, timber]),
            ("shortest", [timber, money, lengths]),
        ]
    };
    let all = || choices.found.iter().filter(|choice| !choice.beaten);
    let priced = choice.money.is_some();
    let least = |at: usize| all().all(|other| figures(other)[at].1 >= figures(choice)[at].1);
    let aims = figures(choice).into_iter().enumerate();
    aims.filter(|(at, (aim, _))| !choice.beaten && (priced || *aim != "cheapest") && least(*at))
        .map(|(_, (aim, _))| aim)
        .collect()
}

/// What a choice buys: `15 lengths, 162.80, 54 m`.
pub fn bought_text(job: &Job, choice: &Choice) -> String {
    let [lengths, mut money, timber, ..] = cells(job, choice);
    if !money.is_empty() {
        money.push_str(basis(job));
    }
    let lengths = match choice.lengths {
        1 => "1 length".into(),
        _ => format!("{lengths} lengths"),
    };
    let texts = [lengths, money, timber].into_iter();
    let texts: Vec<String> = texts.filter(|text| !text.is_empty()).collect();
    texts.join(", ")
}

/// What is left of it and what it takes at the saw.
pub fn about_text(job: &Job, choice: &Choice) -> String {
    let [.., scrap, kept, settings] = cells(job, choice);
    let settings = match choice.settings {
        1 => "1 saw setting".into(),
        _ => format!("{settings} saw settings"),
    };
    format!("{scrap} of scrap, {kept} to keep, {settings}")
}

/// What is known of a choice.
pub fn proof_text(choice: &Choice) -> &'static str {
    match choice {
        Choice { beaten: true, .. } => "another choice is better in one and worse in none",
        Choice { proven: true, .. } => "proven: no plan is better in one and worse in none",
        _ => "the best found",
    }
}

/// What is known of all of them, and what their money leaves out; empty where there is nothing to say.
pub fn note_text(job: &Job, choices: &Choices) -> String {
    let notes = [known_text(choices), left_out(job).to_owned()];
    let notes = notes.into_iter().filter(|note| !note.is_empty());
    notes.collect::<Vec<_>>().join(" ")
}

fn known_text(choices: &Choices) -> String {
    if choices.only {
        let less = match choices.priced {
            true => "buys fewer lengths, costs less or takes less timber",
            false => "buys fewer lengths or takes less timber",
        };
        return format!("There is nothing to choose: no plan {less} than this one.");
    }
    if choices.untold > 0 {
        return format!(
            "{} more lie between these or take less timber; they are not shown.",
            choices.untold
        );
    }
    match choices.complete {
        true => String::new(),
        false => "Not everything was settled in the time given; there may be more.".into(),
    }
}

/// All of them as plain text, with what to write into the job for each; empty where there is nothing to choose.
pub fn text(job: &Job, choices: &Choices) -> String {
    if choices.found.is_empty() {
        return String::new();
    }
    let mut out =
        String::from("\nChoices: plans that no other beats on lengths, money and timber\n");
    let mut rows = vec![HEADS.map(str::to_owned).to_vec()];
    for (index, choice) in choices.found.iter().enumerate() {
        let mut row = cells(job, choice).to_vec();
        let today = if choice.today { ", today" } else { "" };
        row.push(choice_text(choices, index) + if choice.beaten { "" } else { today });
        row.push(match (choice.proven, choice.beaten) {
            (true, _) => "proven".into(),
            (_, true) => "beaten".into(),
            _ => "found".into(),
        });
        row.push(taken_by(job, choice));
        rows.push(row);
    }
    table(&mut out, &rows);
    let note = note_text(job, choices);
    if !note.is_empty() {
        out.push_str(&format!("  {note}\n"));
    }
    out
}

/// What stands over the cells of a choice in plain text.
const HEADS: [&str; 9] = [
    "lengths",
    "money",
    "timber",
    "scrap",
    "to keep",
    "settings",
    "",
    "",
    "to take it",
];

/// The figures of a choice: lengths, money, timber, scrap, what is worth keeping, saw settings. Money is empty where a price is missing.
pub fn cells(job: &Job, choice: &Choice) -> [String; 6] {
    let length = |length: Length| long_length(job, length);
    let kept = match choice.kept {
        0 => "no offcut".into(),
        1 => format!("1 offcut of {}", length(choice.kept_length)),
        many => format!("{many} offcuts of {}", length(choice.kept_length)),
    };
    let money = choice.money.map(|money| money.show(job.decimal()));
    [
        choice.lengths.to_string(),
        money.unwrap_or_default(),
        length(choice.timber),
        length(choice.scrap),
        kept,
        choice.settings.to_string(),
    ]
}

/// The fields that take a choice, as a job file has them.
fn taken_by(job: &Job, choice: &Choice) -> String {
    if choice.today {
        return String::new();
    }
    let edits = choice.edits.iter().filter(|edit| !edit.text.is_empty());
    let edits = edits.map(|edit| {
        let section = edit.place.row.unwrap_or_default();
        let section = match job.sections.len() {
            1 => String::new(),
            count if section < count => format!("{}: ", sections_together(job, &[section])),
            _ => format!("section {}: ", section + 1),
        };
        format!("{section}\"{}\": \"{}\"", edit.place.field, edit.text)
    });
    let edits: Vec<String> = edits.collect();
    match edits.is_empty() {
        true => "nothing \"allowed\"".into(),
        false => edits.join(", "),
    }
}
