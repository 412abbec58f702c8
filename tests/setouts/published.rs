//! Values printed in handbooks, in tables of standards and in worked examples. Each has its source beside it.

use crate::small::{Sides, draft, fact, inches, marks, mm, number, one, part, sound};
use lengthwise::job::EdgeJoint;
use lengthwise::length::Length;
use lengthwise::quantities::{self, board_feet};
use lengthwise::section_table::{SECTIONS, TableRow};

const TWO_BY_FOUR: Sides = ("2 x 4", "1 1/2", "3 1/2", "");

#[track_caller]
fn members(span: &str, centres: &str) -> u32 {
    let fields = [("span", span), ("height", "8'"), ("centres", centres)];
    number(&one("in", TWO_BY_FOUR, "spaced", &fields), "members")
}

#[test]
fn sixty_feet_of_wall_at_sixteen_inches_take_46_studs() {
    // Building Trades Pocketbook (International Textbook Company): three quarters of the feet, and one to start with.
    assert_eq!(members("60'", "16\""), 46);
}

#[test]
fn thirty_two_feet_of_floor_take_25_joists_at_sixteen_inches_and_33_at_twelve() {
    // Builders' Guide (chestofbooks.com), joist rule.
    assert_eq!(members("32'", "16\""), 25);
    assert_eq!(members("32'", "12\""), 33);
}

#[test]
fn twenty_feet_eight_take_17_joists() {
    // A trade-school worked example (freezingblue.com): 15.5 spaces, so 16, so 17 joists.
    assert_eq!(members("20' 8\"", "16\""), 17);
}

#[track_caller]
fn slats(span: &str, width: &str, rule: (&str, &str)) -> (u32, Length, Length) {
    let sides = ("slat", "1", width, "");
    let fields = [("span", span), ("length", "36"), ("ends", "a gap"), rule];
    let set_out = one("in", sides, "slats", &fields);
    let gap = fact(&set_out, "equal gap");
    (number(&set_out, "slats"), gap, inches(span))
}

#[test]
fn fifty_two_inches_with_ten_balusters_leave_37_over_11() {
    // ironfurnit.blogspot.com: 52 / 5.5 is 9.45, so ten; 37 inches are shared by one more space than balusters.
    let (count, gap, _) = slats("52", "1 1/2", ("count", "10"));
    assert_eq!(count, 10);
    assert_eq!(gap.ticks(), (37 * 81_280 + 5) / 11);
    // That rule of thumb takes one more than a gap of four inches needs: nine leave 3.85, own arithmetic.
    let (count, gap, _) = slats("52", "1 1/2", ("most_gap", "4"));
    assert_eq!((count, gap.ticks()), (9, 385 * 81_280 / 100));
}

#[test]
fn seventy_two_inches_with_13_balusters_leave_three_and_three_quarters() {
    // ehow.com 6210555: 52 1/2 inches over 14 spaces.
    assert_eq!(slats("72", "1 1/2", ("count", "13")).1, inches("3 3/4"));
}

#[test]
fn sixty_eight_inches_with_13_pickets_leave_two_and_a_fourteenth() {
    // hunker.com: 13 pickets of 3 inches leave 29 inches for 14 spaces.
    let (_, gap, _) = slats("68", "3", ("count", "13"));
    assert_eq!(gap.ticks(), (29 * 81_280 + 7) / 14);
}

#[test]
fn a_moulding_of_66_around_305_by_407_takes_1956() {
    // ashcraftframing.co.uk: 1424 around the board, 4 to fit, 8 x 66 for the corners.
    let sides = ("moulding", "20", "66", "");
    let fields = [
        ("width", "305"),
        ("depth", "407"),
        ("around", "an opening"),
        ("fit", "1"),
    ];
    let set_out = one("mm", sides, "mitred_frame", &fields);
    assert_eq!(fact(&set_out, "total length"), mm("1956"));
}

#[test]
fn a_two_inch_moulding_around_16_by_20_takes_88_and_a_quarter() {
    // framing4yourself.com: sides of 20 and 24 inches; 72 + 16, and a quarter to fit.
    let sides = ("moulding", "1", "2", "");
    let fields = |fit: &'static str| {
        [
            ("width", "16"),
            ("depth", "20"),
            ("around", "an opening"),
            ("fit", fit),
        ]
    };
    let set_out = one("in", sides, "mitred_frame", &fields("0"));
    assert_eq!(part(&set_out, "short side"), (inches("20"), 2));
    assert_eq!(part(&set_out, "long side"), (inches("24"), 2));
    let set_out = one("in", sides, "mitred_frame", &fields("1/16"));
    assert_eq!(fact(&set_out, "total length"), inches("88 1/4"));
}

#[test]
fn diagonals_are_those_of_the_right_triangles_in_every_handbook() {
    // doityourself.com squares a 12 by 16 ft deck with 20 ft; the others are the usual table of whole-number triangles.
    for (width, height, diagonal) in [
        ("12'", "16'", "20'"),
        ("3'", "4'", "5'"),
        ("6'", "8'", "10'"),
        ("9'", "12'", "15'"),
        ("5'", "12'", "13'"),
        ("8'", "15'", "17'"),
    ] {
        let fields = [("width", width), ("height", height)];
        let set_out = one("in", TWO_BY_FOUR, "frame", &fields);
        assert_eq!(fact(&set_out, "diagonal"), inches(diagonal));
    }
}

#[test]
fn running_marks_go_40_then_2021_then_2061() {
    // Goring, Manual of Purpose-Made Woodworking Joinery, "Drawings and rods", page 14: running marks from one end.
    let sides = ("member", "40", "90", "");
    let fields = [("span", "2061"), ("height", "900"), ("centres", "3 m")];
    let set_out = one("mm", sides, "spaced", &fields);
    let marks = marks(&set_out, 0);
    assert_eq!(marks, [mm("0"), mm("2021")]);
    assert_eq!(fact(&set_out, "widest bay"), mm("1981"));
    let fields = [
        ("width", "2061"),
        ("height", "900"),
        ("seen", "narrow side"),
    ];
    let set_out = one("mm", sides, "frame", &fields);
    assert_eq!(fact(&set_out, "inside width"), mm("1981"));
}

fn row(name: &str) -> &'static TableRow {
    match SECTIONS.iter().find(|row| row.name == name) {
        Some(row) => row,
        None => panic!("no section {name}"),
    }
}

#[test]
fn tongued_boards_cover_by_the_printed_factors() {
    // WWPA coverage table: 12 / exposed face, and nominal / exposed face, to two decimals.
    for (name, nominal, linear, board) in [
        ("1 x 4 tongued board", 4, 384, 128),
        ("1 x 6 tongued board", 6, 234, 117),
        ("1 x 8 tongued board", 8, 175, 116),
        ("1 x 10 tongued board", 10, 135, 113),
    ] {
        let cover = row(name).cover.expect("a tongued board").ticks();
        let hundredths = |inches: i64| (inches * 81_280 * 200 + cover) / (2 * cover);
        assert_eq!(
            (hundredths(12), hundredths(nominal)),
            (linear, board),
            "{name}"
        );
    }
}

#[test]
fn feather_edge_covers_its_width_less_25() {
    // mjelliott.co.uk: 150 covers 125 and 200 covers 175 with an overlap of 25 mm.
    assert_eq!(row("feather edge 150").cover, Some(mm("125")));
    assert_eq!(row("feather edge 200").cover, Some(mm("175")));
    // They lie over each other, and are set out so.
    assert_eq!(row("feather edge 150").joint, EdgeJoint::Lapped);
}

#[test]
fn a_swedish_board_of_95_covers_85() {
    // swedishwood.com, sawn timber range: sold as 23 x 95, named 23 x 85 in the standard.
    assert_eq!(row("23 x 95 tongued board").cover, Some(mm("85")));
}

#[track_caller]
fn board_metres(board: Sides, gap: &str, width: &str, height: &str) -> Length {
    let fields = [("width", width), ("height", height), ("gap", gap)];
    let set_out = one("mm", board, "boarding", &fields);
    let lengths = set_out.parts.iter();
    lengths
        .map(|part| part.length.times(i64::from(part.quantity)).expect("small"))
        .sum::<Length>()
        .nearest(mm("10"))
}

#[test]
fn square_metres_of_decking_come_to_the_printed_metres() {
    // ironbarktimber: 21 m2 of 86 mm boards with 5 mm gaps take 230.77 m; the face is 100 boards wide here.
    let board = ("board", "19", "86", "");
    assert_eq!(board_metres(board, "5", "9095", "2307.69"), mm("230.77 m"));
    // timbersuppliesmelbourne: 80 m2 of 92 mm boards with 5 mm gaps take 825 m.
    let board = ("board", "19", "92", "");
    let metres = board_metres(board, "5", "9695", "8247.42");
    assert_eq!(metres.nearest(mm("1 m")), mm("825 m"));
}

#[test]
fn board_feet_are_those_of_the_handbooks() {
    let feet = |thickness: &str, width: &str, length: &str| {
        board_feet(
            inches(thickness),
            inches(width),
            i128::from(inches(length).ticks()),
        )
    };
    // In hundredths. Building Trades Pocketbook.
    assert_eq!(feet("3", "10", "20'"), 5000);
    assert_eq!(feet("2", "6", "26'"), 2600);
    assert_eq!(feet("2", "10", "18'"), 3000);
    // Griffith, Carpentry, 1916, section 77.
    assert_eq!(feet("6", "8", "16'"), 6400);
    // elmwoodreclaimedtimber.com.
    assert_eq!(feet("4", "6", "10'"), 2000);
    // NAVEDTRA 14044, Builder 3 and 2, volume 2: 8 4/12 and 19 3/12.
    assert_eq!(feet("1", "10", "10'"), 833);
    assert_eq!(feet("1", "7", "33'"), 1925);
    // US Army subcourse EN5155, page 1-28: four pieces, 37 1/3.
    assert_eq!(feet("1", "8", "56'"), 3733);
    // Building Construction, volume 4, section 67: 979.5 feet of 2 x 10.
    assert_eq!(feet("2", "10", "979' 6\""), 163250);
    // The same: 292.75 feet of 3 x 10 are 731.87 (731.875).
    assert_eq!(feet("3", "10", "292' 9\""), 73188);
    // Dressed sizes count as the nominal ones they are sold as (PS 20), and less than an inch as an inch.
    assert_eq!(feet("1 1/2", "3 1/2", "14'"), feet("2", "4", "14'"));
    assert_eq!(feet("1/2", "12", "1'"), 100);
}

#[test]
fn a_tenth_of_a_thousand_frames_take_6000_nails_and_7200_with_spares() {
    // US Army subcourse EN0069, lesson 4: 30 joints of two nails, 100 times, and 20 percent.
    let fields = [("width", "24"), ("height", "24"), ("times", "750")];
    let job = sound(&draft("in", &[TWO_BY_FOUR], &[("frame", "frame", &fields)]));
    let fixings = quantities::work_out(&job).frame_joints;
    assert_eq!(
        (fixings.places, fixings.count, fixings.with_spare),
        (3_000, 6_000, 7_200)
    );
}

#[test]
fn a_bed_four_by_two_filled_a_foot_and_a_half_takes_12_cubic_feet() {
    // gardenguides.com: three of 4 x 2 x 1.5 ft hold 36 cubic feet.
    let fields = [
        ("width", "4' 3\""),
        ("depth", "2' 3\""),
        ("height", "20"),
        ("fill_height", "18"),
        ("times", "3"),
    ];
    let job = sound(&draft("in", &[TWO_BY_FOUR], &[("bed", "box", &fields)]));
    let fill = quantities::work_out(&job).fill;
    assert_eq!(fill, 36 * 975_360i128.pow(3));
}

#[test]
fn crossings_take_two_fixings_and_narrow_boards_one() {
    // Timber Decking and Cladding Association in the TRADA Yearbook 2022, page 117: one in boards under 100 mm. A board sold as 100 mm is
    // planed to 95, one sold as 4 in to 3 1/2 in; 70 mm is sold as 75.
    for (width, each) in [
        ("70", 1),
        ("3 1/2 in", 2),
        ("95", 2),
        ("100", 2),
        ("145", 2),
    ] {
        let fields = [
            ("span", "600"),
            ("length", "1200"),
            ("count", "4"),
            ("supports", "3"),
        ];
        let job = sound(&draft(
            "mm",
            &[("b", "20", width, "")],
            &[("s", "slats", &fields)],
        ));
        let crossings = quantities::work_out(&job).crossings;
        assert_eq!((crossings.places, crossings.count), (12, 12 * each));
    }
}

#[test]
fn two_coats_of_decking_oil_go_six_and_a_half_square_metres_to_the_litre() {
    // biohouse decking oil sheet: 6 to 7 m2 to the litre for two coats; one coat at 13 is the middle of that.
    let fields = [("length", "1000"), ("quantity", "65"), ("label", "p")];
    let mut draft = draft("mm", &[("b", "20", "28", "")], &[("s", "parts", &fields)]);
    draft.quantities = vec![
        ("coverage".into(), "13".into()),
        ("coats".into(), "2".into()),
    ];
    let job = sound(&draft);
    let quantities = quantities::work_out(&job);
    // 65 parts of 96 mm around and 1 m long, and their ends.
    assert_eq!(
        quantities.surface,
        65 * (96_000 + 2 * 560) * 3_200i128.pow(2)
    );
    // 6.3128 m2, over 6.5.
    assert_eq!(quantities.finish, 98);
}

#[test]
fn the_mean_density_of_c24_is_420() {
    // EN 338 as tabled at engineeringtoolbox.com. A stick of 45 x 95 x 3.6 m is then 6.46 kg: own arithmetic.
    let fields = [("length", "3.6 m"), ("label", "stick")];
    let job = sound(&draft(
        "mm",
        &[("b", "45", "95", "")],
        &[("s", "parts", &fields)],
    ));
    assert_eq!(quantities::work_out(&job).mass, 6_464);
}
