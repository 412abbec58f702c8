//! Laws: the same job typed in another way.

use crate::dice::Dice;
use crate::jobs::{add_row, millimetres, money, rows};
use serde_json::{Value, json};

const LISTS: [&str; 4] = ["sections", "yard", "shed", "parts"];

pub fn shuffled(dice: &mut Dice, job: &Value) -> Option<Value> {
    // What is kept in reserve of a part of several sections is that of the first of them in the job.
    if keeps_reserve(job) && has_choice(job) {
        return None;
    }
    let mut other = job.clone();
    for list in LISTS {
        let rows = rows(&mut other, list);
        for at in (1..rows.len()).rev() {
            let place = dice.below(at + 1);
            rows.swap(at, place);
        }
    }
    Some(other)
}

/// Whether spare pieces of any section are planned.
fn keeps_reserve(job: &Value) -> bool {
    let mut sections = job["sections"].as_array().into_iter().flatten();
    sections.any(|section| {
        ["spares", "hidden_defects"]
            .iter()
            .any(|field| section.get(field).is_some())
    })
}

/// Whether any part may be made of several sections.
fn has_choice(job: &Value) -> bool {
    let mut parts = job["parts"].as_array().into_iter().flatten();
    parts.any(|part| match &part["section"] {
        Value::String(names) => names.contains(';'),
        names => names.is_array(),
    })
}

/// Whether any part may be narrower than its section, as those of a boarded face are.
fn is_ripped(job: &Value) -> bool {
    let mut parts = job["parts"].as_array().into_iter().flatten();
    parts.any(|part| part.get("ripped").is_some()) || job.get("set_outs").is_some()
}

/// Writes every length of a job anew; `None` where one of them is not written in plain millimetres.
fn every_length(job: &Value, write: &dyn Fn(&str) -> Option<String>) -> Option<Value> {
    /// Those of the job itself.
    const OWN: [&str; 3] = ["carry", "yard_tolerance", "yard_trim"];
    /// The fields that hold lengths, wherever they stand.
    const LENGTHS: [&str; 15] = [
        "length",
        "over",
        "cover",
        "measured",
        "height",
        "gap",
        "trim",
        "keep",
        "kerf",
        "width",
        "thickness",
        "bad",
        OWN[0],
        OWN[1],
        OWN[2],
    ];
    let mut other = job.clone();
    let mut objects: Vec<&mut Value> = Vec::new();
    // Every setting with a usual value is typed, since usual values would not be scaled.
    let saw = other.get_mut("saw")?.as_object_mut()?;
    saw.entry("kerf").or_insert("2.4".into());
    saw.entry("keep").or_insert("300".into());
    for section in rows(&mut other, "sections") {
        section
            .as_object_mut()?
            .entry("trim")
            .or_insert("10".into());
    }
    for board in rows(&mut other, "shed") {
        board.as_object_mut()?.entry("trim").or_insert("50".into());
    }
    let fields = other.as_object_mut()?;
    fields.entry(OWN[1]).or_insert("10".into());
    let own = OWN.iter().filter_map(|name| fields.remove_entry(*name));
    let mut own = Value::Object(own.collect());
    for (_, value) in fields.iter_mut() {
        match value {
            Value::Array(rows) => objects.extend(rows.iter_mut()),
            Value::Object(_) => objects.push(value),
            _ => {}
        }
    }
    objects.push(&mut own);
    for object in objects {
        for (name, value) in object.as_object_mut()? {
            if !LENGTHS.contains(&name.as_str()) {
                continue;
            }
            // Several lengths are separated by semicolons, the two of a stretch by dots.
            let several = value
                .as_str()?
                .split(';')
                .filter(|text| !text.trim().is_empty());
            let several = several.map(|stretch| {
                let ends = stretch.split("..").map(|text| write(text.trim()));
                Some(ends.collect::<Option<Vec<_>>>()?.join(".."))
            });
            *value = several.collect::<Option<Vec<_>>>()?.join("; ").into();
        }
    }
    let own = own.as_object_mut()?;
    other.as_object_mut()?.append(own);
    Some(other)
}

/// Every millimetre becomes a sixteenth of an inch: sizes are 1.5875 times as large, and nothing else changes. A mitre's slant is rounded
/// to a tick, which is not scaled, but no job here depends on one tick.
pub fn in_inches(_: &mut Dice, job: &Value) -> Option<Value> {
    let by_volume = |line: &Value| {
        line["price"]
            .as_str()
            .is_some_and(|price| price.contains(" per "))
    };
    let mut lines = job["yard"].as_array().into_iter().flatten();
    // A fence shows the steps of its tape, and these change; so does what a price per volume comes to.
    if is_ripped(job) || lines.any(by_volume) {
        return None;
    }
    let mut other = every_length(job, &|text| {
        let (whole, tenth) = text.split_once('.').unwrap_or((text, "0"));
        let tenths = whole.parse::<i64>().ok()? * 10 + tenth.parse::<i64>().ok()?;
        // n tenths of a millimetre become n / 160 inches, which has at most five decimals.
        let scaled = tenths * 625;
        (tenth.len() == 1).then(|| format!("{}.{:05}", scaled / 100_000, scaled % 100_000))
    })?;
    other["unit"] = "in".into();
    Some(other)
}

/// Every length says its unit, one of several, and the unit of bare numbers is another one.
pub fn spelled(dice: &mut Dice, job: &Value) -> Option<Value> {
    // A fence shows the steps of its tape, and these change.
    if is_ripped(job) {
        return None;
    }
    let unit = dice.one_of(&["mm", "cm", "m"]);
    let mut other = every_length(job, &|text| {
        let (whole, tenth) = text.split_once('.').unwrap_or((text, "0"));
        let tenths = whole.parse::<i64>().ok()? * 10 + tenth.parse::<i64>().ok()?;
        let spelled = match unit {
            "cm" => format!("{}.{:02} cm", tenths / 100, tenths % 100),
            "m" => format!("{}.{:04} m", tenths / 10_000, tenths % 10_000),
            _ => format!("{}.{} mm", tenths / 10, tenths % 10),
        };
        (tenth.len() == 1).then_some(spelled)
    })?;
    other["unit"] = dice.one_of(&["in", "ft", "m"]).into();
    Some(other)
}

pub fn renamed(_: &mut Dice, job: &Value) -> Option<Value> {
    let mut other = job.clone();
    let new = |name: &str| format!("timber {}", name.trim().to_uppercase());
    for section in rows(&mut other, "sections") {
        section["name"] = new(section["name"].as_str()?).into();
    }
    for list in ["yard", "shed", "parts"] {
        for row in rows(&mut other, list) {
            let names = row["section"].as_str()?.split(';').map(new);
            row["section"] = names.collect::<Vec<_>>().join(";").into();
        }
    }
    for (number, part) in rows(&mut other, "parts").iter_mut().enumerate() {
        part["label"] = format!("other {}", 90 - number).into();
    }
    for (number, board) in rows(&mut other, "shed").iter_mut().enumerate() {
        board["mark"] = format!("M{number}").into();
    }
    Some(other)
}

pub fn row_in_two(dice: &mut Dice, job: &Value) -> Option<Value> {
    let mut other = job.clone();
    let parts = rows(&mut other, "parts");
    if parts.is_empty() {
        return None;
    }
    let at = dice.below(parts.len());
    let quantity = parts[at]
        .get("quantity")?
        .as_i64()
        .filter(|&quantity| quantity > 1)?;
    // Of a pair each row has as many left as right.
    let first = match parts[at].get("hand") {
        Some(_) if quantity < 4 => return None,
        Some(_) => 2,
        None => dice.between(1, quantity - 1),
    };
    let mut twin = parts[at].clone();
    parts[at]["quantity"] = first.into();
    twin["quantity"] = (quantity - first).into();
    twin["label"] = "second row".into();
    // The spares are those of both.
    if let Some(twin) = twin.as_object_mut() {
        twin.remove("spares");
    }
    add_row(&mut other, "parts", twin);
    Some(other)
}

/// The left and the right of a pair, each in a row of its own. Where another part has its good face out, the two need not be one piece any
/// more. Ripped ones have their blanks to themselves as a pair, and share them where they are none.
pub fn pair_in_two(_: &mut Dice, job: &Value) -> Option<Value> {
    let mut other = job.clone();
    let parts = rows(&mut other, "parts");
    let faces = parts.iter().any(|part| part.get("face").is_some());
    // A spare of a pair that is one piece serves for both hands.
    let is_plain = |part: &Value| part.get("ripped").is_none() && part.get("spares").is_none();
    let is_pair = |part: &Value| part.get("hand").is_some() && is_plain(part);
    let pair = parts
        .iter_mut()
        .find(|part| is_pair(part) && (!faces || part.get("face").is_some()))?;
    let part = pair.as_object_mut()?;
    part.remove("hand");
    let half = part.get("quantity")?.as_i64()? / 2;
    part.insert("quantity".into(), half.into());
    let mut twin = part.clone();
    twin.insert("label".into(), "the other hand".into());
    let text = |name: &str| part.get(name).and_then(Value::as_str);
    if let Some((one, two)) = text("ends").and_then(|ends| ends.split_once(';')) {
        let ends = format!("{}; {}", two.trim(), one.trim());
        twin.insert("ends".into(), ends.into());
    }
    let leans = match text("leans").unwrap_or("opposite ways") {
        "the same way" => "the same way, mirrored",
        "the same way, mirrored" => "the same way",
        leans => leans,
    };
    twin.insert("leans".into(), leans.into());
    add_row(&mut other, "parts", Value::Object(twin));
    Some(other)
}

/// Rows of the cutting list, and lines of the yard, that differ in their number alone.
pub fn rows_in_one(_: &mut Dice, job: &Value) -> Option<Value> {
    let mut other = job.clone();
    let mut merged = false;
    for (list, count, named) in [
        ("parts", "quantity", Some("label")),
        ("yard", "count", None),
    ] {
        let mut kept: Vec<Value> = Vec::new();
        for row in rows(&mut other, list) {
            let bare = |row: &Value| {
                let mut bare = row.clone();
                let object = bare.as_object_mut()?;
                // Each row has spares of its own.
                if object.contains_key("spares") {
                    return None;
                }
                object.remove(count);
                if let Some(named) = named {
                    object.remove(named);
                }
                Some(bare)
            };
            let own = bare(row);
            let twin = kept
                .iter_mut()
                .find(|kept| own.is_some() && bare(kept) == own);
            match twin {
                Some(twin) => {
                    merged = true;
                    match (
                        twin.get(count).and_then(Value::as_i64),
                        row.get(count).and_then(Value::as_i64),
                    ) {
                        (Some(one), Some(more)) => twin[count] = (one + more).into(),
                        // As many as are wanted, and some more.
                        _ => drop(twin.as_object_mut()?.remove(count)),
                    }
                }
                None => kept.push(row.clone()),
            }
        }
        other[list] = kept.into();
    }
    merged.then_some(other)
}

/// Boards of the shed turned end for end, where every end of every part is square.
pub fn turned(_: &mut Dice, job: &Value) -> Option<Value> {
    let mut other = job.clone();
    if rows(&mut other, "parts")
        .iter()
        .any(|part| part.get("ends").is_some())
    {
        return None;
    }
    let kerf: f64 = other["saw"]["kerf"].as_str()?.parse().ok()?;
    let boards = rows(&mut other, "shed");
    if boards.is_empty() {
        return None;
    }
    for board in boards {
        let length = millimetres(board)?;
        let trim = board
            .get("trim")
            .map_or("50", |trim| trim.as_str().unwrap_or("50"));
        let turned = match trim.split_once(';') {
            Some((datum, far)) => format!("{}; {}", far.trim(), datum.trim()),
            None => trim.to_owned(),
        };
        let bad = board
            .get("bad")
            .and_then(Value::as_str)
            .unwrap_or_default()
            .to_owned();
        let mut stretches = Vec::new();
        for stretch in bad.split(';').filter(|stretch| !stretch.trim().is_empty()) {
            let (from, to) = stretch.split_once("..")?;
            let (from, to): (i64, i64) = (from.trim().parse().ok()?, to.trim().parse().ok()?);
            // The part of a cut that is wider than a narrow stretch lies behind the stretch's start, so it lies elsewhere from the other
            // end.
            if ((to - from) as f64) < kerf {
                return None;
            }
            stretches.push(format!("{}..{}", length - to, length - from));
        }
        board["trim"] = turned.into();
        match board.get("factory_ends").and_then(Value::as_str) {
            Some("datum end") => board["factory_ends"] = "far end".into(),
            Some("far end") => board["factory_ends"] = "datum end".into(),
            _ => {}
        }
        board["bad"] = stretches.join("; ").into();
    }
    Some(other)
}

/// Stock that is too small for any part.
pub fn useless_stock(dice: &mut Dice, job: &Value) -> Option<Value> {
    let mut other = job.clone();
    let name = other["sections"][0]["name"].clone();
    let priced = rows(&mut other, "yard")
        .iter()
        .all(|line| line.get("price").is_some());
    let bought = rows(&mut other, "yard")
        .iter()
        .any(|line| line["section"] == name);
    // Where a section had no length at all, a first one would change which measures count.
    if !bought {
        return None;
    }
    let mut line = json!({ "section": name, "length": dice.between(130, 170).to_string() });
    if priced {
        line["price"] = money(dice.between(1, 40)).into();
    }
    let missing = rows(&mut other, "yard")
        .iter()
        .any(|line| line["section"] == name && line.get("price").is_none());
    if !priced && !missing {
        return None;
    }
    add_row(&mut other, "yard", line);
    add_row(
        &mut other,
        "shed",
        json!({ "mark": "stub", "section": name, "length": "190", "trim": "20" }),
    );
    Some(other)
}
