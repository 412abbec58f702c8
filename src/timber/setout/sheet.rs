//! Sheet goods: a floor, a back or a roof that is bought in sheets and sawn to size, outside the plan of lengths.
//!
//! Sheets are counted whole. A sheet of L by W yields floor((L + k) / (w + k)) floor((W + k) / (h + k)) pieces of w by h with k lost at each cut,
//! turned whichever way there are more. What is larger than a sheet takes ceil(w / L) ceil(h / W) of them, the fewer of both ways.

use super::drawing::Look;
use super::kind::{Field, KindInfo, Sort, Usual, size_field, usual_field};
use super::ratio::diagonal;
use super::sizes::Sizes;
use super::worked::{Misfit, Worked};
use crate::length::Length;
use crate::limits;
use crate::money::Money;
use crate::space::{Member, Solid};

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "sheet",
    title: "Sheet",
    name: "Sheet",
    about: "A floor, a back or a roof of plywood or another sheet: bought in whole sheets, not planned with the lengths.",
    fields: &[
        size_field("width", "Width", "As it is sawn."),
        size_field("height", "Height", "Or depth, where it lies."),
        usual_field(
            "thickness",
            "Thickness",
            "Of the sheet.",
            ["18 mm", "3/4\""],
        ),
        usual_field(
            "sheet_length",
            "Length of a sheet",
            "As it is sold.",
            ["2440 mm", "8'"],
        ),
        usual_field(
            "sheet_width",
            "Width of a sheet",
            "As it is sold.",
            ["1220 mm", "4'"],
        ),
        usual_field(
            "lost",
            "Lost at each cut",
            "Between two pieces of one sheet.",
            ["4 mm", "3/16\""],
        ),
        Field {
            field: "price",
            label: "Price of a sheet",
            hint: "Leave empty where it is not known.",
            sort: Sort::Text,
            usual: Usual::Nothing,
            in_sight: false,
        },
    ],
};

/// It in space: it stands, its front towards the front.
pub fn members(sizes: &Sizes) -> Vec<Member> {
    let size = ["width", "thickness", "height"].map(|field| sizes.given(field).unwrap_or_default());
    vec![Member {
        part: 0,
        body: vec![Solid::cuboid([0; 3], size.map(Length::ticks))],
    }]
}

/// Works it out.
///
/// # Errors
/// Sizes that do not go together.
pub fn work_out(sizes: &Sizes) -> Result<Worked, Misfit> {
    let [width, height, thick] = ["width", "height", "thickness"].map(|field| sizes.length(field));
    let (piece, thick) = ([width?, height?], thick?);
    let sold = [sizes.length("sheet_length")?, sizes.length("sheet_width")?];
    let lost = sizes.given("lost").unwrap_or_default();
    for (field, side) in [
        ("thickness", thick),
        ("sheet_length", sold[0]),
        ("sheet_width", sold[1]),
    ] {
        if side.is_none() {
            return Err(Misfit::new(
                field,
                "a sheet has no such size; give a length above zero",
            ));
        }
    }
    let times = i64::from(sizes.count("times").max(1));
    let [wide, high] = piece.map(Length::ticks);
    let turned = [[wide, high], [high, wide]];
    let over = |size: [i64; 2], count: fn(i64, i64) -> i64, more: i64| {
        count(sold[0].ticks() + more, size[0] + more)
            .saturating_mul(count(sold[1].ticks() + more, size[1] + more))
    };
    let whole = turned
        .map(|size| over(size, |sold, size| sold / size, lost.ticks()))
        .into_iter()
        .max();
    let whole = whole.unwrap_or_default();
    let joined = turned
        .map(|size| over(size, |sold, size| (size + sold - 1) / sold, 0))
        .into_iter()
        .min();
    let joined = joined.unwrap_or_default();
    let count = match whole {
        0 => times.saturating_mul(joined),
        _ => (times + whole - 1) / whole,
    };
    if limits::PARTS_IN_ALL.passed_by(count as usize) {
        return Err(Misfit::new(
            "width",
            "this takes more sheets than can be planned; check the unit",
        ));
    }
    let mut worked = Worked::default();
    worked.number("sheets", count as u32);
    worked.fact("diagonal", diagonal(piece[0], piece[1]));
    let told = format!("{}, {} thick", sizes.by(&sold), sizes.show(thick));
    worked.sheets = vec![(count as u32, format!("sheets of {told}"))];
    worked.sawn = Some([piece[0], piece[1], thick]);
    let each = match whole {
        0 => format!("each of {joined} sheets side by side"),
        1 => "one to a sheet".to_owned(),
        _ => format!("{whole} to a sheet"),
    };
    let sheets = if count == 1 { "sheet" } else { "sheets" };
    worked.makes = format!(
        "{times} x {}, {each}: {count} {sheets} of {told}",
        sizes.by(&piece)
    );
    match sizes.text("price") {
        "" => {}
        text => {
            let price =
                Money::read(text, sizes.style.decimal).filter(|price| *price <= limits::PRICE);
            let Some(cost) = price.and_then(|price| price.times(count)) else {
                return Err(Misfit::new("price", "this is no price; write it as 24.50"));
            };
            worked.sheets_cost = Some(cost);
            worked.notes.push(format!(
                "The sheets cost {}, which is not in the money of the plan.",
                cost.show(sizes.style.decimal)
            ));
        }
    }
    if whole == 0 {
        worked.notes.push("It is larger than a sheet: put the joints over a member, and saw one sheet narrower rather than leave a thin strip.".to_owned());
    }
    worked.notes.push("Measure where it goes before it is sawn. Fix it along every member behind it, as far apart as the maker of the sheet says.".to_owned());
    let zero = Length::ZERO;
    worked
        .drawing
        .rectangle(Look::Part, (zero, zero), (piece[0], piece[1]));
    worked
        .drawing
        .across(0, zero, piece[0], sizes.show(piece[0]));
    worked.drawing.up(0, zero, piece[1], sizes.show(piece[1]));
    worked.description = format!(
        "A sheet {} wide and {} high.",
        sizes.show(piece[0]),
        sizes.show(piece[1])
    );
    Ok(worked)
}
