//! Jobs of every kind, small enough to be planned in milliseconds.
//!
//! A job begins plain: one section, a yard, square parts, whole millimetres. Then features are added, each a small change to the job as
//! typed. Another feature is one more row of [`FEATURES`].

#[path = "jobs/sold.rs"]
mod sold;
#[path = "jobs/written.rs"]
mod written;

pub use written::{add_row, millimetres, money, rows};

use crate::dice::Dice;
use lengthwise::limits::NAME;
use serde_json::{Value, json};

/// A feature of a job.
struct Feature {
    /// Its name, which is added to the name of a job that has it, where there is room.
    name: &'static str,
    /// One in so many jobs has it.
    rarity: usize,
    /// Adds it.
    add: fn(&mut Dice, &mut Value),
}

const fn feature(name: &'static str, rarity: usize, add: fn(&mut Dice, &mut Value)) -> Feature {
    Feature { name, rarity, add }
}

/// All features. Sections come first, since the others write into them.
const FEATURES: &[Feature] = &[
    feature("several sections", 3, several_sections),
    feature("parts of either section", 3, either_section),
    feature("shed", 2, shed),
    feature("bad stretches", 2, bad_stretches),
    feature("equal boards in the shed", 6, equal_boards),
    feature("trims", 3, trims),
    feature("kerf", 3, kerf),
    feature("keep lengths", 3, keep),
    feature("mitres", 3, mitres),
    feature("turning", 5, turning),
    feature("good faces", 5, good_faces),
    feature("pairs", 5, pairs),
    feature("parts between others", 4, between_others),
    feature("made from", 4, made_from),
    feature("left long", 4, left_long),
    feature("posts in the ground", 3, posts),
    feature("measured widths", 5, measured),
    feature("a boarded face", 5, boarded_face),
    feature("narrow parts", 3, narrow),
    feature("counts", 3, counts),
    feature("a length twice", 4, length_twice),
    feature("a length too short", 4, too_short),
    feature("no prices", 5, no_prices),
    feature("prices by volume", 6, sold::by_volume),
    feature("prices at the end of their range", 20, great_prices),
    feature("allowances", 5, allowances),
    feature("carry", 4, carry),
    feature("packs", 5, sold::packs),
    feature("yards", 4, sold::yards),
    feature("yard cut", 3, yard_cut),
    feature("a part twice", 5, part_twice),
    feature("parts that just fit", 3, just_fit),
    feature("spares", 4, spares),
];

/// A job with some of the features.
pub fn job(dice: &mut Dice) -> Value {
    let mut job = plain(dice);
    let mut name = "gate".to_owned();
    for feature in FEATURES {
        if dice.once_in(feature.rarity) {
            (feature.add)(dice, &mut job);
            // As many as a name has room for: a job that is refused for its long name attacks nothing.
            if name.len() + 2 + feature.name.len() <= NAME.most {
                name.push_str(", ");
                name.push_str(feature.name);
            }
        }
    }
    job["piece"] = name.into();
    job
}

fn plain(dice: &mut Dice) -> Value {
    let steps: Vec<i64> = (0..dice.between(1, 4))
        .map(|_| 1_800 + 300 * dice.between(0, 10))
        .collect();
    let per_metre = dice.between(180, 520);
    let yard: Vec<Value> = steps
        .iter()
        .map(|&length| {
            let price = per_metre * length / 1_000 + dice.between(-90, 90);
            json!({ "section": "post", "length": length.to_string(), "price": money(price) })
        })
        .collect();
    let parts: Vec<Value> = (0..dice.between(1, 5))
        .map(|row| {
            let length = dice.between(180, 1_750);
            json!({ "label": format!("p{row}"), "section": "post", "length": length.to_string(), "quantity": dice.between(1, 4) })
        })
        .collect();
    json!({
        "format": "lengthwise-job", "version": 1, "unit": "mm",
        "aim": dice.one_of(&["fewest", "cheapest", "shortest", "offcuts", "scrap"]),
        "saw": { "kerf": "2.4", "keep": "300" },
        "sections": [{ "name": "post", "thickness": "45", "width": "70" }],
        "yard": yard, "shed": [], "parts": parts,
    })
}

fn section_names(job: &Value) -> Vec<String> {
    let sections = job["sections"].as_array().into_iter().flatten();
    sections
        .filter_map(|section| section["name"].as_str().map(str::to_owned))
        .collect()
}

fn several_sections(dice: &mut Dice, job: &mut Value) {
    let other = json!({ "name": "rail", "thickness": "22", "width": "95" });
    add_row(job, "sections", other);
    for list in ["yard", "parts"] {
        for row in rows(job, list) {
            if dice.once_in(2) {
                row["section"] = "rail".into();
            }
        }
    }
}

fn either_section(dice: &mut Dice, job: &mut Value) {
    let names = section_names(job);
    for row in rows(job, "parts") {
        if dice.once_in(2) {
            row["section"] = names.join("; ").into();
        }
    }
}

fn shed(dice: &mut Dice, job: &mut Value) {
    let names = section_names(job);
    for number in 0..dice.between(1, 3) {
        let row = json!({
            "mark": format!("S{number}"), "section": dice.one_of(&names), "length": dice.between(700, 2_600).to_string(),
            "trim": dice.between(0, 60).to_string(),
        });
        add_row(job, "shed", row);
    }
}

fn bad_stretches(dice: &mut Dice, job: &mut Value) {
    for row in rows(job, "shed") {
        let length = millimetres(row).unwrap_or(1_000);
        let first = dice.between(0, length - 300);
        let mut bad = format!("{first}..{}", first + dice.one_of(&[1, 2, 3, 40, 200]));
        if dice.once_in(3) {
            let from = dice.between(first + 200, length - 10);
            bad += &format!("; {from}..{}", (from + dice.between(1, 120)).min(length));
        }
        row["bad"] = bad.into();
    }
}

fn equal_boards(_: &mut Dice, job: &mut Value) {
    if let Some(mut twin) = rows(job, "shed").first().cloned() {
        twin["mark"] = "twin".into();
        add_row(job, "shed", twin);
    }
}

fn trims(dice: &mut Dice, job: &mut Value) {
    for section in rows(job, "sections") {
        section["trim"] = format!("{}; {}", dice.between(0, 60), dice.between(0, 60)).into();
    }
    for board in rows(job, "shed") {
        board["trim"] = format!("{}; {}", dice.between(0, 90), dice.between(0, 90)).into();
    }
}

fn kerf(dice: &mut Dice, job: &mut Value) {
    job["saw"]["kerf"] = dice.one_of(&["0", "3.2", "2", "12"]).into();
}

fn keep(dice: &mut Dice, job: &mut Value) {
    job["saw"]["keep"] = dice.one_of(&["0", "120", "500", "1000"]).into();
    if dice.once_in(2) {
        for section in rows(job, "sections") {
            section["keep"] = dice.between(0, 700).to_string().into();
        }
    }
}

fn mitres(dice: &mut Dice, job: &mut Value) {
    const ENDS: &[&str] = &[
        "45",
        "square; 45",
        "45; square",
        "22.5",
        "22.5; 45",
        "square; 30",
        "60",
        "tilt 20; square",
        "45 tilt 30",
    ];
    let (one, other) = (dice.one_of(ENDS), dice.one_of(ENDS));
    for part in rows(job, "parts") {
        if !dice.once_in(3) {
            part["ends"] = if dice.once_in(2) { one } else { other }.into();
            part["leans"] = dice
                .one_of(&["opposite ways", "the same way", "the same way, mirrored"])
                .into();
            // What stands back at both ends is shorter than the part.
            let length = millimetres(part).unwrap_or(500);
            part["length"] = length.max(420).to_string().into();
        }
    }
}

fn turning(dice: &mut Dice, job: &mut Value) {
    for section in rows(job, "sections") {
        for sides in ["faces", "edges"] {
            section[sides] = dice.one_of(&["alike", "different"]).into();
        }
    }
}

fn good_faces(dice: &mut Dice, job: &mut Value) {
    for part in rows(job, "parts") {
        if dice.once_in(3) {
            part["face"] = "good face out".into();
        }
    }
}

/// Parts left and right, an even number of them.
fn pairs(dice: &mut Dice, job: &mut Value) {
    for part in rows(job, "parts") {
        if dice.once_in(2) {
            part["hand"] = "left and right".into();
            part["quantity"] = (2 * dice.between(1, 2)).into();
        }
    }
}

/// Parts and timber in reserve.
fn spares(dice: &mut Dice, job: &mut Value) {
    for part in rows(job, "parts") {
        if dice.once_in(3) {
            part["spares"] = dice.between(0, 2).into();
        }
    }
    for section in rows(job, "sections") {
        match dice.between(0, 3) {
            0 => section["spares"] = 1.into(),
            1 => section["hidden_defects"] = dice.between(1, 12).into(),
            _ => {}
        }
    }
}

fn between_others(dice: &mut Dice, job: &mut Value) {
    for part in rows(job, "parts") {
        if dice.once_in(2) {
            part["goes"] = "between others".into();
        }
    }
}

fn made_from(dice: &mut Dice, job: &mut Value) {
    for part in rows(job, "parts") {
        part["from"] = dice
            .one_of(&["anything", "new timber only", "shed boards only"])
            .into();
    }
    for board in rows(job, "shed") {
        board["counts_as"] = dice
            .one_of(&["a shed board", "a shed board", "new timber"])
            .into();
    }
}

/// Parts that stand on factory ends, and boards of the shed that have some.
fn posts(dice: &mut Dice, job: &mut Value) {
    for section in rows(job, "sections") {
        section["treated"] = dice.one_of(&["yes", "yes", "yes", "unknown", "no"]).into();
    }
    for part in rows(job, "parts") {
        if dice.once_in(2) {
            part["goes"] = "in the ground".into();
            // It stands on a square end.
            let ends = part["ends"].as_str().unwrap_or("square").to_owned();
            if !ends.contains("square") {
                let one = ends.split(';').next().unwrap_or_default();
                part["ends"] = match dice.once_in(2) {
                    true => format!("{one}; square"),
                    false => format!("square; {one}"),
                }
                .into();
            }
        }
    }
    for board in rows(job, "shed") {
        board["factory_ends"] = dice
            .one_of(&["none", "datum end", "far end", "both", "both"])
            .into();
    }
}

fn left_long(dice: &mut Dice, job: &mut Value) {
    for part in rows(job, "parts") {
        if dice.once_in(2) {
            part["over"] = dice.one_of(&["0", "3", "12.5", "40"]).into();
        }
    }
}

/// Sections of which more lengths may be bought where that costs less, too few of them among those.
fn allowances(dice: &mut Dice, job: &mut Value) {
    for section in rows(job, "sections") {
        if dice.once_in(2) {
            section["allowed"] = dice.between(0, 9).to_string().into();
        }
    }
}

fn measured(dice: &mut Dice, job: &mut Value) {
    for section in rows(job, "sections") {
        let width = section["width"]
            .as_str()
            .and_then(|width| width.parse().ok());
        let width: i64 = width.unwrap_or(70);
        section["measured"] = (width + dice.between(-4, 4)).to_string().into();
    }
}

/// A face covered by boards of a section of its own, whose edges meet in any way there is: most of its boards are ripped somewhere.
fn boarded_face(dice: &mut Dice, job: &mut Value) {
    let (joint, cover) = dice.one_of(&[
        ("square", 120),
        ("tongued", 112),
        ("rebated", 108),
        ("lapped", 100),
    ]);
    let mut board = json!({ "name": "board", "thickness": "19", "width": "120", "cover": cover.to_string(), "joint": joint });
    if dice.once_in(3) {
        board["measured"] = (120 + dice.between(-3, 3)).to_string().into();
    }
    add_row(job, "sections", board);
    for length in [1_800, 2_400] {
        let line = json!({ "section": "board", "length": length.to_string(), "price": money(dice.between(500, 900)) });
        add_row(job, "yard", line);
    }
    let face = json!({
        "kind": "boarding", "name": "face", "section": "board",
        "width": dice.between(280, 760).to_string(), "height": dice.between(200, 900).to_string(),
        "gap": dice.one_of(&["0", "2", "4"]), "run": dice.one_of(&["upright", "across"]),
        "laps": dice.one_of(&["evened out", "as the cover width says"]),
        "edges": dice.one_of(&["share where the last is thin", "rip the last board only", "rip both edges alike"]),
    });
    job["set_outs"] = json!([face]);
}

/// No wider than the narrowest section, and often of one length, so that several fit side by side.
fn narrow(dice: &mut Dice, job: &mut Value) {
    let (one, length) = (dice.between(12, 40), dice.between(300, 900));
    for part in rows(job, "parts") {
        if dice.once_in(2) {
            let width = if dice.once_in(2) {
                one
            } else {
                dice.between(10, 60)
            };
            part["ripped"] = width.to_string().into();
            if dice.once_in(2) && part.get("ends").is_none() {
                part["length"] = length.to_string().into();
            }
        }
    }
    for board in rows(job, "shed") {
        if dice.once_in(3) {
            board["treated"] = dice.one_of(&["no", "yes", "unknown"]).into();
        }
    }
    if dice.once_in(6) {
        job["saw"]["rips"] = dice.one_of(&["yes", "no"]).into();
    }
    if dice.once_in(3) {
        job["saw"]["keep_width"] = dice.one_of(&["0", "10", "300"]).into();
    }
}

fn counts(dice: &mut Dice, job: &mut Value) {
    for line in rows(job, "yard") {
        if !dice.once_in(3) {
            line["count"] = dice.between(0, 4).into();
        }
    }
}

fn length_twice(dice: &mut Dice, job: &mut Value) {
    if let Some(mut twin) = rows(job, "yard").first().cloned() {
        twin["count"] = dice.between(0, 2).into();
        if dice.once_in(2) {
            // The first of the two is the one there is none of.
            if let Some(lines) = job["yard"].as_array_mut() {
                lines.insert(0, twin);
            }
        } else {
            add_row(job, "yard", twin);
        }
    }
}

fn too_short(dice: &mut Dice, job: &mut Value) {
    let names = section_names(job);
    let line = json!({ "section": dice.one_of(&names), "length": dice.between(130, 175).to_string(), "price": money(dice.between(5, 60)) });
    add_row(job, "yard", line);
}

fn no_prices(dice: &mut Dice, job: &mut Value) {
    if job["aim"] == "cheapest" {
        for line in rows(job, "yard") {
            line["price"] = "0".into();
        }
        return;
    }
    let all = dice.once_in(2);
    for line in rows(job, "yard") {
        if let Some(line) = line.as_object_mut()
            && (all || dice.once_in(2))
        {
            line.remove("price");
        }
    }
}

fn great_prices(dice: &mut Dice, job: &mut Value) {
    for line in rows(job, "yard") {
        if line.get("price").is_some() {
            line["price"] = money(100_000_000 - dice.between(0, 3)).into();
        }
    }
}

fn carry(dice: &mut Dice, job: &mut Value) {
    let longest = rows(job, "yard").iter().filter_map(millimetres).max();
    let longest = longest.unwrap_or(2_400);
    let carry = if dice.once_in(4) {
        longest - dice.between(0, 70)
    } else {
        dice.between(longest / 2, longest)
    };
    job["carry"] = carry.max(100).to_string().into();
}

/// How the yard saws; it counts where a length is too long to carry.
fn yard_cut(dice: &mut Dice, job: &mut Value) {
    job["yard_tolerance"] = dice.one_of(&["0", "2.5", "25", "60"]).into();
    if dice.once_in(2) {
        job["yard_trim"] = dice.between(0, 60).to_string().into();
    }
}

fn part_twice(dice: &mut Dice, job: &mut Value) {
    let parts = rows(job, "parts");
    if !parts.is_empty() {
        let mut twin = parts[dice.below(parts.len())].clone();
        twin["label"] = "twin".into();
        add_row(job, "parts", twin);
    }
}

/// Parts that together fill a length to the last tenth of a millimetre, or miss it by one.
fn just_fit(dice: &mut Dice, job: &mut Value) {
    let lengths: Vec<i64> = rows(job, "yard").iter().filter_map(millimetres).collect();
    let kerf = job["saw"]["kerf"]
        .as_str()
        .and_then(|kerf| kerf.parse::<f64>().ok());
    let kerf = (kerf.unwrap_or(2.4) * 10.0).round() as i64;
    if lengths.is_empty() {
        return;
    }
    for part in rows(job, "parts") {
        if dice.once_in(2) {
            // 10 mm are trimmed off each end where the job gives no trim.
            let clear = 10 * dice.one_of(&lengths) - 200;
            let tenths = (clear + kerf) / dice.between(1, 4) - kerf + dice.one_of(&[0, 0, -1, 1]);
            part["length"] =
                format!("{}.{}", tenths.max(4_200) / 10, tenths.max(4_200) % 10).into();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lengthwise::io::job_file;
    use lengthwise::job::validate;

    #[test]
    fn most_jobs_made_up_are_sound() {
        let mut dice = Dice::new(1);
        let is_sound = |job: &Value| {
            let (draft, faults) = job_file::read_value(job);
            faults.is_empty() && validate(&draft).is_ok()
        };
        let sound = (0..400).filter(|_| is_sound(&job(&mut dice))).count();
        assert!(sound > 380, "{sound} of 400");
    }
}
