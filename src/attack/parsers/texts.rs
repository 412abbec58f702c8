//! Texts for every reader: valid ones, mutated in a few places.

use crate::dice::Dice;
use crate::job_files;
use crate::jobs;
use crate::mutate::{hostile_number, hostile_text, spoil, spoiled_bytes, spoiled_text};
use lengthwise::io::link;
use serde_json::Value;

pub fn length_text(dice: &mut Dice) -> String {
    const SOUND: &[&str] = &[
        "1200",
        "1200 mm",
        "1.2 m",
        "47 1/4\"",
        "3' 11 1/4\"",
        "50-1/2\"",
        "½",
        "12 ft 3 in",
        "2,4 m",
        "1 830",
        "7/8",
        "0.5 cm",
        "2.4385 m",
    ];
    let sound = dice.one_of(SOUND);
    if dice.once_in(6) {
        return number_text(dice);
    }
    spoiled_text(dice, sound)
}

pub fn number_text(dice: &mut Dice) -> String {
    let text = match dice.below(4) {
        0 => return hostile_text(dice),
        1 => format!("{}", dice.between(0, 1_000_000)),
        2 => format!("{}.{}", dice.between(0, 100_000), dice.between(0, 9_999)),
        _ => format!(
            "{} {}/{} kg",
            dice.between(0, 200),
            dice.between(0, 70),
            dice.between(0, 64)
        ),
    };
    if dice.once_in(2) {
        spoiled_text(dice, &text)
    } else {
        text
    }
}

pub fn job_file_text(dice: &mut Dice) -> String {
    let mut job = if dice.once_in(3) {
        jobs::job(dice)
    } else {
        job_files::job(dice)
    };
    for _ in 0..dice.below(4) {
        spoil(dice, &mut job);
    }
    let text = job.to_string();
    match dice.below(12) {
        0..=2 => spoiled_bytes(dice, &text),
        3 => format!("\u{feff}{text}"),
        4 => "[".repeat(dice.below(5_000)) + &text,
        _ => text,
    }
}

pub fn table_text(dice: &mut Dice) -> String {
    let sign = dice.one_of(&[",", ";", "\t"]);
    let mut rows = vec![["label", "section", "length", "quantity", "ends"].join(sign)];
    for _ in 0..dice.below(6) {
        let length = length_text(dice);
        let cells = [
            hostile_text(dice),
            "post".into(),
            length,
            dice.between(0, 9).to_string(),
            "square".into(),
        ];
        let cells = cells.map(|cell| {
            if dice.once_in(2) {
                format!("\"{}\"", cell.replace('"', "\"\""))
            } else {
                cell
            }
        });
        rows.push(cells.join(sign));
    }
    let text = rows.join(dice.one_of(&["\n", "\r\n", "\r"]));
    if dice.once_in(2) {
        spoiled_bytes(dice, &text)
    } else {
        text
    }
}

pub fn plan_text(dice: &mut Dice) -> String {
    const SOUND: &str = r#"{"format":"lengthwise-plan","version":2,"boards":[{"yard":0,"yard_cut":3840000,"runs":[{"from":32000,"to":7648000,"cuts":[{"part":0,"start":32000,"end":1824000,"turned":true},{"part":0,"start":1831680,"end":3623680,"near":true}]}]},{"shed":0,"runs":[]}],"proofs":[{"sections":[0],"levels":[{"measure":"bought","value":1,"bound":1},{"measure":"bought_length","value":7680000,"bound":7680000},{"measure":"scrap","value":5,"bound":0}],"certificate":[{"level":0,"earlier":[],"bound":1,"shown":1,"lifted":true,"tree":[{"split":{"boards":[0,1],"at":3}},{"leaf":{"scale":4,"parts":[1],"earlier":[],"splits":[[0,1]]}},{"closed":{"leaf":{"scale":4,"parts":[1],"earlier":[],"splits":[]},"search":[{"split":{"board":0,"parts":[[0,2]],"at":1}},{"leaf":{"scale":1,"parts":[1],"boards":[0,0],"earlier":[],"splits":[]}},{"leaf":{"scale":1,"parts":[1],"boards":[0,0],"earlier":[],"splits":[]}}]}},{"searched":{"scale":4,"parts":[1],"earlier":[],"splits":[]}}]}]}]}"#;
    let mut plan: Value = serde_json::from_str(SOUND).unwrap_or_default();
    for _ in 0..dice.below(5) {
        spoil(dice, &mut plan);
    }
    let text = plan.to_string();
    if dice.once_in(4) {
        spoiled_bytes(dice, &text)
    } else {
        text
    }
}

pub fn link_text(dice: &mut Dice) -> String {
    let text = job_file_text(dice);
    let packed = match dice.below(3) {
        0 => link::pack_in_parts(&text, 2).swap_remove(0),
        _ => link::pack(&text),
    };
    if dice.once_in(2) {
        packed
    } else {
        spoiled_bytes(dice, &packed)
    }
}

pub fn instance_text(dice: &mut Dice) -> String {
    let parts = dice.below(5);
    let mut lines = vec![parts.to_string(), dice.between(1, 500).to_string()];
    lines.extend((0..parts).map(|_| format!("{} {}", dice.between(1, 200), dice.between(0, 9))));
    let text = lines.join("\n");
    if dice.once_in(3) {
        return text;
    }
    let mut signs = text
        .split_inclusive(char::is_whitespace)
        .map(str::to_owned)
        .collect::<Vec<_>>();
    let at = dice.below(signs.len());
    signs[at] = format!("{} ", hostile_number(dice));
    signs.concat()
}
