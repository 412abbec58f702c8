//! What is bought in sheets: counted whole, outside the plan of lengths, on the buying list and in the picture.

use crate::small::{draft, fact, faults, mm, number, one, sound};
use lengthwise::quantities;
use lengthwise::setout::{SetOut, members, wholes};
use lengthwise::space::bounds;

const FRAME: crate::small::Sides = ("frame", "45", "70", "");

fn sheet(more: &[(&str, &str)]) -> SetOut {
    one("mm", FRAME, "sheet", more)
}

#[test]
fn sheets_are_counted_whole_by_how_many_pieces_one_yields() {
    // Own arithmetic, sheets of 2440 x 1220 and 4 lost at each cut: 900 x 600 goes twice each way, 4 to a sheet; two of 1220 do not go into 2440; they do where
    // nothing is lost.
    for (width, height, times, lost, sheets) in [
        ("900", "600", "1", "4", 1),
        ("900", "600", "4", "4", 1),
        ("900", "600", "5", "4", 2),
        ("1220", "1220", "2", "4", 2),
        ("1220", "1220", "2", "0", 1),
        ("2440", "1220", "3", "4", 3),
        // Turned round it goes four times into the length.
        ("1200", "600", "4", "4", 1),
        // Larger than a sheet: two side by side one way, three the other; the last goes on three turned round.
        ("3000", "1200", "1", "4", 2),
        ("3000", "1200", "2", "4", 4),
        ("3000", "2000", "1", "4", 3),
    ] {
        let set_out = sheet(&[
            ("width", width),
            ("height", height),
            ("times", times),
            ("lost", lost),
        ]);
        assert_eq!(
            number(&set_out, "sheets"),
            sheets,
            "{width} {height} {times} {lost}"
        );
        assert_eq!(
            set_out.bought,
            [(
                sheets,
                "sheets of 2440 mm x 1220 mm, 18 mm thick".to_owned()
            )]
        );
        assert!(set_out.parts.is_empty());
    }
}

#[test]
fn a_sheet_has_the_size_of_its_face_and_is_on_the_buying_list_and_in_the_picture() {
    let frame = [("width", "1000"), ("height", "800"), ("section", "frame")];
    let back = [
        ("on", "[Panel] back"),
        ("price", "24.50"),
        ("bought", "20 screws"),
    ];
    let job = sound(&draft(
        "mm",
        &[FRAME],
        &[("Panel", "frame", &frame), ("Back", "sheet", &back)],
    ));
    let set_out = &job.set_outs[1];
    assert_eq!(
        [fact(set_out, "width"), fact(set_out, "height")],
        ["1000", "800"].map(mm)
    );
    assert!(
        set_out.notes[0].starts_with("The sheets cost 24.50, "),
        "{:?}",
        set_out.notes
    );
    let rows = quantities::rows(&job, &quantities::work_out(&job));
    let row = |name: &str| {
        rows.iter()
            .find(|row| row.name == name)
            .expect("a row")
            .clone()
    };
    let sheets = row("sheets of 2440 mm x 1220 mm, 18 mm thick");
    assert_eq!(
        (sheets.value.as_str(), sheets.basis.as_str()),
        ("1", "for Back")
    );
    assert_eq!(row("screws").value, "20");
    // It lies behind the panel, which is 45 deep.
    let wholes = wholes(&job.set_outs, &job.sections);
    let put = &wholes[0].put[1];
    let ends = bounds(put.members.iter().flat_map(|member| &member.body)).expect("a body");
    assert_eq!(ends[1], ["45", "63"].map(|at| mm(at).ticks()));
    assert_eq!(members(set_out, &job.sections).expect("a body").len(), 1);
    let picture = lengthwise::report::picture(&job);
    assert!(picture.contains(">sheet</text>"), "{picture}");
}

#[test]
fn what_sheets_cost_is_summed_where_all_prices_are_known() {
    let cost = |prices: &[&str]| {
        let fields: Vec<[(&str, &str); 3]> = prices
            .iter()
            .map(|price| [("width", "2440"), ("height", "1220"), ("price", *price)])
            .collect();
        let rows: Vec<crate::small::Written> = fields
            .iter()
            .map(|fields| ("it", "sheet", &fields[..]))
            .collect();
        let mut draft = draft("mm", &[FRAME], &rows);
        for (nth, set_out) in draft.set_outs.iter_mut().enumerate() {
            set_out.name = Some(format!("Sheet {nth}"));
        }
        let job = sound(&draft);
        let rows = quantities::rows(&job, &quantities::work_out(&job));
        let mut rows = rows.into_iter();
        rows.find(|row| row.name == "Cost of all sheets")
            .map(|row| row.value)
    };
    assert_eq!(cost(&["24.50", "31.25"]).as_deref(), Some("55.75"));
    assert_eq!(cost(&["24.50"]).as_deref(), Some("24.50"));
    assert_eq!(cost(&["24.50", ""]), None);
}

#[test]
fn what_is_no_price_and_sheets_beyond_count_are_told_at_their_fields() {
    for (more, field) in [
        (("price", "cheap"), "price"),
        (("sheet_length", "0"), "sheet_length"),
        (("sheet_width", "1 mm"), "width"),
    ] {
        let fields = [("width", "90 m"), ("height", "90 m"), more];
        let found = faults(&draft("mm", &[FRAME], &[("it", "sheet", &fields)]));
        let places: Vec<&str> = found
            .iter()
            .map(|fault| fault.place.field.as_str())
            .collect();
        assert_eq!(places, [field], "{found:?}");
    }
}
