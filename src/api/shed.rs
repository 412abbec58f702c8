//! The shed as boards to scale, and bad stretches set by touching them. The page draws with the whole numbers that it gets here, and reckons no length.

use super::request::{Reply, field};
use super::units::reading_of;
use crate::io::objects::object;
use crate::length::{Length, Reading, Style, read_length, typed};

use serde_json::Value;
use timber::runs::{Stretch, read_stretches};

/// One in so many: the shares that the page draws with.
const SHARES: i64 = 10_000;

/// Boards to draw: `{boards: [{row, unit, decimal}], sizes: [{name, thickness, width}], unit, decimal}` gives `{boards: [{long, bad: [[at, wide, from, to]]}], sizes:
/// [{total, wide, thick}]}`. `long` is of the longest board, `wide` and `thick` too, `bad` of the board itself, all in ten thousandths. A board whose length cannot
/// be read is null; `bad` is null where the stretches cannot. `total` sums up the boards of the section.
pub fn boards(request: &Value) -> Reply {
    let own = reading_of(request);
    let read: Vec<Read<'_>> = list(request, "boards").map(Read::new).collect();
    let longest = read.iter().map(|one| one.length).max().unwrap_or_default();
    let style = Style::exact(own.unit, own.decimal).for_sums();
    let sizes = list(request, "sizes").map(|size| {
        let mine = read.iter().filter(|one| *one.section == size["name"]);
        let total = mine.fold(Length::ZERO, |sum, one| sum + one.length);
        let side = |name: &str| length(&size[name], own).unwrap_or_default();
        let (one, other) = (side("thickness"), side("width"));
        object!({ "total": style.show(total).text, "wide": of(one.max(other), longest), "thick": of(one.min(other), longest) })
    });
    let sizes: Value = sizes.collect();
    let boards: Value = read.iter().map(|one| one.drawn(longest, own)).collect();
    Ok(object!({ "boards": boards, "sizes": sizes }))
}

fn list<'a>(request: &'a Value, name: &str) -> impl Iterator<Item = &'a Value> {
    request[name].as_array().into_iter().flatten()
}

/// A board as it is read: zero long where its length cannot be.
struct Read<'a> {
    section: &'a Value,
    length: Length,
    bad: Option<Vec<Stretch>>,
}

impl Read<'_> {
    fn new(board: &Value) -> Read<'_> {
        let (row, reading) = (&board["row"], reading_of(board));
        Read {
            section: &row["section"],
            length: length(&row["length"], reading).unwrap_or_default(),
            bad: stretches(row, reading),
        }
    }

    fn drawn(&self, longest: Length, reading: Reading) -> Value {
        if self.length.is_none() {
            return Value::Null;
        }
        let spot = |one: &Stretch| -> Value {
            let part = |part| Value::from(of(part, self.length));
            let told = |end| Value::from(typed(end, reading));
            let (from, to) = (one.from, one.to);
            Value::Array(vec![part(from), part(to - from), told(from), told(to)])
        };
        let bad = self.bad.as_ref();
        let bad = bad.map_or(Value::Null, |bad| bad.iter().map(spot).collect());
        object!({ "long": of(self.length, longest), "bad": bad })
    }
}

/// Sets a bad stretch of a board where it is touched: `{row, unit, decimal, to: {unit, decimal}, nth, ends: [spot, spot], by: [steps, steps], gone}` gives `{bad,
/// stretch, from}`. A spot is in ten thousandths of the board and null for an end that stays; `nth` is null for a new stretch. Ends go to whole steps of a
/// tape: 5 mm or a quarter inch. All replies are texts, as a person would type them. An empty object where the board's texts cannot be read.
pub fn touched(request: &Value) -> Reply {
    let (from, to) = (reading_of(request), reading_of(field(request, "to")?));
    let row = field(request, "row")?;
    let Some((length, mut bad)) = length(&row["length"], from).zip(stretches(row, from)) else {
        return Ok(object!({}));
    };
    let step = match to.unit.is_imperial() {
        true => Length::from_inch_64ths(16),
        false => Length::from_mm(5),
    };
    let nth = request["nth"].as_u64().map(|nth| nth as usize);
    let held = nth.and_then(|nth| bad.get(nth).copied());
    let end = |at: usize, now: Option<Length>| {
        let touched = request["ends"][at].as_i64().map(|spot| {
            let spot = length.ticks().saturating_mul(spot.clamp(0, SHARES));
            Length::from_ticks(spot / SHARES).nearest(step)
        });
        let end = touched.or(now).unwrap_or_default();
        let end = match request["by"][at].as_i64().unwrap_or_default() {
            0 => end,
            by if by > 0 => end.nth_above(step, 1),
            _ => end.nth_below(step, 1),
        };
        end.clamp(Length::ZERO, length)
    };
    let ends = [
        end(0, held.map(|held| held.from)),
        end(1, held.map(|held| held.to)),
    ];
    let [low, high] = [ends[0].min(ends[1]), ends[0].max(ends[1])];
    let stretch = match low == high {
        // A touch alone marks a step of the tape.
        true if low < length => [low, (low + step).min(length)],
        true => [(low - step).max(Length::ZERO), low],
        false => [low, high],
    };
    let stretch = Stretch {
        from: stretch[0],
        to: stretch[1],
    };
    if let Some(nth) = nth.filter(|nth| *nth < bad.len()) {
        bad.remove(nth);
    }
    if request["gone"] != true {
        bad.push(stretch);
    }
    bad.sort_by_key(|stretch| (stretch.from, stretch.to));
    let told = |one: &Stretch| [one.from, one.to].map(|end| typed(end, to)).join("..");
    let all: Vec<String> = bad.iter().map(told).collect();
    Ok(
        object!({ "bad": all.join("; "), "stretch": told(&stretch), "from": typed(stretch.from, to) }),
    )
}

/// A board is at most some hundred metres long, so the products have room.
fn of(part: Length, whole: Length) -> i64 {
    part.ticks().saturating_mul(SHARES) / whole.ticks().max(1)
}

/// A length above zero, of a text or a number.
fn length(value: &Value, reading: Reading) -> Option<Length> {
    let text = match value {
        Value::String(text) => text.clone(),
        Value::Number(number) => number.to_string(),
        _ => return None,
    };
    read_length(&text, reading)
        .ok()
        .filter(|length| !length.is_none())
}

/// The bad stretches of a row, as a text or as a job file lists them.
fn stretches(row: &Value, reading: Reading) -> Option<Vec<Stretch>> {
    match &row["bad"] {
        Value::Null => Some(Vec::new()),
        Value::String(text) => read_stretches(text, reading),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn touch(bad: &str, more: Value) -> Value {
        let mut request =
            json!({ "row": { "length": "2 m", "bad": bad }, "unit": "mm", "to": { "unit": "mm" } });
        for (name, value) in more.as_object().expect("an object") {
            request[name] = value.clone();
        }
        touched(&request).expect("a reply")
    }

    #[test]
    fn boards_are_as_long_as_they_are_of_the_longest_one_and_summed_by_their_section() {
        let board = |section: &str, length: &str, bad: &str| json!({ "row": { "section": section, "length": length, "bad": bad }, "unit": "mm" });
        let boards = [
            board("lath", "2 m", "500..600"),
            board("lath", "0.5 m", "x"),
            board("post", "1 m", ""),
            board("post", "long", ""),
        ];
        let reply = super::boards(
            &json!({ "boards": boards, "unit": "mm", "sizes": [{ "name": "lath", "thickness": "20", "width": 40 }, { "name": "post" }] }),
        );
        let reply = reply.expect("a reply");
        assert_eq!(
            reply["boards"],
            json!([{ "long": 10_000, "bad": [[2_500, 500, "500", "600"]] }, { "long": 2_500, "bad": null }, { "long": 5_000, "bad": [] }, null])
        );
        assert_eq!(
            reply["sizes"],
            json!([{ "total": "2.5 m", "wide": 200, "thick": 100 }, { "total": "1 m", "wide": 0, "thick": 0 }])
        );
    }

    #[test]
    fn a_stretch_goes_from_touch_to_touch_at_whole_steps_whichever_comes_first() {
        // Spots of 2 m: 4 003 ten thousandths are 800.6 mm, to the next 5 mm.
        let told = json!({ "bad": "500..800", "stretch": "500..800", "from": "500" });
        assert_eq!(touch("", json!({ "ends": [4_003, 2_500] })), told);
        assert_eq!(
            touch("", json!({ "ends": [2_500, 2_500] }))["bad"],
            "500..505"
        );
        assert_eq!(
            touch("", json!({ "ends": [10_000, 10_000] }))["bad"],
            "1995..2000"
        );
        assert_eq!(
            touch("900..950", json!({ "ends": [0, 500] }))["bad"],
            "0..100; 900..950"
        );
    }

    #[test]
    fn an_end_is_moved_by_steps_and_a_stretch_taken_away() {
        assert_eq!(
            touch("0..100; 900..952", json!({ "nth": 1, "by": [0, 1] }))["bad"],
            "0..100; 900..955"
        );
        assert_eq!(
            touch(
                "0..100; 900..952",
                json!({ "nth": 1, "ends": [4_000, null] })
            )["bad"],
            "0..100; 800..952"
        );
        assert_eq!(
            touch("0..100; 900..952", json!({ "nth": 0, "gone": true }))["bad"],
            "900..952"
        );
        assert_eq!(touch("x", json!({ "ends": [0, 500] })), json!({}));
        let inches = json!({ "to": { "unit": "in" }, "ends": [1_270, 2_540] });
        assert_eq!(touch("", inches)["bad"], "10\"..20\"");
    }
}
