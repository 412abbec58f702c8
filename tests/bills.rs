//! Bills of timber with known answers, from the job file to the checked plan.
//!
//! Where the numbers of a bill are our own, the answer is worked out beside it; the others name the book they are from.

mod common;

use common::{checked, job, proven};
use lengthwise::length::Length;
use lengthwise::plan::Measure;

/// A job of one section without shed: kerf and end trim in mm, lengths of the yard in m.
fn bill(aim: &str, kerf: &str, trim: &str, yard: &[&str], parts: &str) -> String {
    let yard: Vec<String> = yard
        .iter()
        .map(|length| format!(r#"{{"length":"{length} m"}}"#))
        .collect();
    format!(
        r#"{{"format":"lengthwise-job","aim":"{aim}","saw":{{"kerf":{kerf}}},
            "sections":[{{"name":"timber","width":95,"trim":{trim}}}],"yard":[{}],"parts":[{parts}]}}"#,
        yard.join(",")
    )
}

const FRAMES: &str = r#"{"label":"stile","length":560,"quantity":8},{"label":"rail","length":470,"quantity":8},
    {"label":"noggin","length":390,"quantity":16}"#;

/// Metres to buy in tenths, and lengths to buy, each proven least under an aim of its own.
#[track_caller]
fn bought(kerf: &str, trim: &str, yard: &[&str], parts: &str, tenths: i64, lengths: i64) {
    let shortest = checked(&job(&bill("shortest", kerf, trim, yard, parts)));
    let metres = Length::from_ticks(proven(&shortest, Measure::BoughtLength));
    assert_eq!(
        metres,
        Length::from_mm(tenths * 100),
        "metres from {yard:?}"
    );
    let fewest = checked(&job(&bill("fewest", kerf, trim, yard, parts)));
    assert_eq!(
        proven(&fewest, Measure::Bought),
        lengths,
        "lengths from {yard:?}"
    );
}

/// Own arithmetic: the parts are 14 480 mm net. 14.4 m is less, so 15.0 m is the least in steps of 0.6 m; three lengths of at most
/// 4.8 m reach 14.4 m, so four are the fewest.
#[test]
fn the_parts_of_square_ended_frames_take_fifteen_metres() {
    for kerf in ["2.4", "3.2"] {
        bought(
            kerf,
            "10",
            &["2.4", "3", "3.6", "4.2", "4.8"],
            FRAMES,
            150,
            4,
        );
        bought(kerf, "10", &["2.4", "3", "3.6"], FRAMES, 150, 5);
        bought(kerf, "10", &["3"], FRAMES, 150, 5);
    }
}

/// Own arithmetic: a length gives floor((length - 20 + 2.4) / 482.4) boards of 480: 3 from 1.8 m, 4 from 2.4, 6 from 3.0, 7 from 3.6, 8 from 3.9
/// and 4.2, 9 from 4.8. Forty take 6 x 3.0 + 2.4 = 20.4 m in steps of 0.6 m, and 5 x 3.9 = 19.5 m in steps of 0.3 m.
#[test]
fn forty_boards_take_less_timber_where_the_yard_sells_every_length() {
    let boards = r#"{"label":"board","length":480,"quantity":40}"#;
    bought(
        "2.4",
        "10",
        &["1.8", "2.4", "3", "3.6", "4.2", "4.8"],
        boards,
        204,
        5,
    );
    let every = [
        "1.8", "2.1", "2.4", "2.7", "3", "3.3", "3.6", "3.9", "4.2", "4.5", "4.8",
    ];
    bought("2.4", "10", &every, boards, 195, 5);
}

/// Own arithmetic: two slats of 1200 and a cut are 2402.4 mm, so a 2.4 m length gives one. 4.2 m gives three, and so does 3.9 m.
#[test]
fn a_length_of_twice_the_slat_gives_one_slat() {
    let slats = r#"{"label":"slat","length":1200,"quantity":6}"#;
    bought(
        "2.4",
        "10",
        &["2.4", "3", "3.6", "4.2", "4.8"],
        slats,
        84,
        2,
    );
    bought(
        "2.4",
        "10",
        &[
            "2.4", "2.7", "3", "3.3", "3.6", "3.9", "4.2", "4.5", "4.8", "5.1",
        ],
        slats,
        78,
        2,
    );
    bought("2.4", "10", &["2.4"], slats, 144, 6);
}

/// Own arithmetic from w tan t and k / cos t: four caps of 640 x 95 at 45 degrees are 2285.2 mm with their mitres shared and 2570.2 mm without;
/// with 20 mm of trim one 2.4 m length does, against one of 2.7 m. Two sets are two lengths.
#[test]
fn mitred_caps_come_out_of_one_short_length_when_they_share_cuts() {
    let caps = |quantity: u32| {
        format!(r#"{{"label":"cap","length":640,"quantity":{quantity},"ends":45}}"#)
    };
    bought("2.4", "10", &["2.4", "2.7"], &caps(4), 24, 1);
    bought("2.4", "10", &["2.4", "2.7"], &caps(8), 48, 2);
    let faced = bill("shortest", "2.4", "10", &["2.4", "2.7"], &caps(4))
        .replace(r#""width":95"#, r#""width":95,"edges":"different""#);
    assert_eq!(
        proven(&checked(&job(&faced)), Measure::BoughtLength),
        Length::from_mm(2_700).ticks()
    );
}

/// US Army Engineer School, Frame Structures, subcourse EN0069, lesson 4: table legs of 4'-6" (four) and rails of 3'-0" (nine) in 2x4, stock
/// from 8 to 20 ft in steps of 2 ft, kerf ignored. The book's rule, one sort of part to a length, buys five of 10 ft = 50 ft. The least was
/// recomputed by exhaustive search: 46 ft in three lengths without kerf, 48 ft with one of 1/8 in, 50 ft where only 8 and 10 ft are sold.
#[test]
fn the_army_table_takes_less_than_the_books_rule() {
    let table = |kerf: &str, yard: &[u32]| {
        let yard: Vec<String> = yard
            .iter()
            .map(|feet| format!(r#"{{"length":"{feet}'"}}"#))
            .collect();
        let text = format!(
            r#"{{"format":"lengthwise-job","unit":"in","aim":"shortest","saw":{{"kerf":"{kerf}"}},
                "sections":[{{"name":"2x4","trim":0}}],"yard":[{}],
                "parts":[{{"label":"leg","length":"4' 6\"","quantity":4}},{{"label":"rail","length":"3'","quantity":9}}]}}"#,
            yard.join(",")
        );
        let checked = checked(&job(&text));
        let ticks = proven(&checked, Measure::BoughtLength);
        (
            ticks / lengthwise::length::Unit::Foot.ticks(),
            checked.plan().boards.len(),
        )
    };
    let all = [8, 10, 12, 14, 16, 18, 20];
    assert_eq!(table("0", &all), (46, 3));
    assert_eq!(table("1/8", &all), (48, 3));
    assert_eq!(table("3/32", &all), (48, 3));
    assert_eq!(table("0", &[8, 10]).0, 50);
    assert_eq!(table("1/8", &[8, 10]).0, 50);
}

/// A newspaper column on kerf (P. Bianchina, The Oklahoman) asks how many 8 in blocks an 8 ft board gives with a 1/8 in blade; the
/// answer, floor((96 + 1/8) / (8 + 1/8)) = 11 and not 12, is own arithmetic.
#[test]
fn eight_feet_give_eleven_blocks_of_eight_inches() {
    let boards = |quantity: u32| {
        let text = format!(
            r#"{{"format":"lengthwise-job","unit":"in","saw":{{"kerf":"1/8"}},"sections":[{{"name":"board","trim":0}}],
                "yard":[{{"length":"8 ft"}}],"parts":[{{"label":"block","length":8,"quantity":{quantity}}}]}}"#
        );
        proven(&checked(&job(&text)), Measure::Bought)
    };
    assert_eq!((boards(11), boards(12), boards(22)), (1, 2, 2));
}

/// A wood workshop's public wiki (Nottingham Hackspace) warns that a 2.4 m length cut in four gives 4 x 598 mm: with a kerf of 8/3 mm, rounded to
/// 2.66, four of 598 come out of it and four of 599 do not.
#[test]
fn a_length_cut_in_four_is_short_by_its_kerfs() {
    for (length, lengths) in [("598", 1), ("599", 2)] {
        let part = format!(r#"{{"label":"quarter","length":{length},"quantity":4}}"#);
        let checked = checked(&job(&bill("fewest", "2.66", "0", &["2.4"], &part)));
        assert_eq!(proven(&checked, Measure::Bought), lengths, "{length}");
    }
}

/// Own arithmetic: a post of 3400 fits a 3.6 m length, which leaves 190 mm of scrap; a 4.8 m length would leave an offcut worth keeping and
/// less scrap. Nobody buys a longer board for that: where there are no prices, the timber bought counts before the scrap.
#[test]
fn without_prices_the_shorter_length_is_bought() {
    let post = r#"{"label":"post","length":3400}"#;
    let checked = checked(&job(&bill("fewest", "2.4", "10", &["3.6", "4.8"], post)));
    assert_eq!(proven(&checked, Measure::Bought), 1);
    assert_eq!(
        proven(&checked, Measure::BoughtLength),
        Length::from_mm(3_600).ticks()
    );
}
