//! Reports of plans made by hand: bills with known answers, exact texts, and drawings whose parts add up.

#[path = "common/hand.rs"]
mod hand;

use hand::{board, job, laid, mm, one_run};
use lengthwise::check::check;
use lengthwise::job::Job;
use lengthwise::length::Length;
use lengthwise::plan::{Edge, Lies, Plan, PlannedRun, Source};
use lengthwise::report::{self, BoardReport, Report, Side, StepKind};

#[track_caller]
fn reported(job: &Job, plan: Plan) -> Report {
    match check(job, plan) {
        Ok(checked) => report::build(job, &checked),
        Err(lies) => panic!(
            "{}",
            lies.iter()
                .map(ToString::to_string)
                .collect::<Vec<_>>()
                .join("\n")
        ),
    }
}

fn readings(board: &BoardReport) -> Vec<&str> {
    board
        .steps
        .iter()
        .map(|step| step.reading.as_str())
        .collect()
}

/// New lengths of yard lines, each with its parts in order.
fn new_lengths(job: &Job, boards: &[(usize, &[usize])]) -> Plan {
    let boards = boards.iter().map(|&(line, parts)| {
        board(
            Source::Yard(line),
            vec![one_run(job, Source::Yard(line), parts)],
        )
    });
    Plan {
        boards: boards.collect(),
        proofs: Vec::new(),
    }
}

/// Four legs and two rails of one section, one shed board with a bad stretch.
fn stool() -> (Job, Plan) {
    let job = job(|draft| {
        draft.own.piece = Some("stool".into());
        draft.section("45 x 45", |section| {
            section.treated = Some("yes".into());
            section.thickness = Some("45".into());
            section.width = Some("45".into());
            section.density = Some("420".into());
        });
        draft.yard("45 x 45", "2400", Some("5.00"), None);
        draft.shed("A", "45 x 45", "1300", "600..640");
        draft.part("leg", "45 x 45", "450", "4", "square");
        draft.part("rail", "45 x 45", "280", "2", "square");
    });
    let shed = vec![
        PlannedRun {
            from: mm(50),
            to: mm(600),
            cuts: laid(&job, mm(50), &[0]),
        },
        PlannedRun {
            from: mm(640),
            to: mm(1250),
            cuts: laid(&job, mm(640), &[1, 1]),
        },
    ];
    let plan = Plan {
        boards: vec![
            board(Source::Shed(0), shed),
            board(
                Source::Yard(0),
                vec![one_run(&job, Source::Yard(0), &[0, 0, 0])],
            ),
        ],
        proofs: Vec::new(),
    };
    (job, plan)
}

#[test]
fn the_text_of_a_small_job_is_as_written_here() {
    let (job, plan) = stool();
    let text = report::text::text(&reported(&job, plan));
    assert_eq!(
        text,
        "\
Buy 1 length: the best found so far
1 board from the shed used.
A better plan may exist: give the planner longer to find it or to show that there is none.

Buy
  1 ×  2400 mm  45 x 45  2.4 m  5.00
    1           in all   2.4 m  5.00

Saw sheet
  Mark every reading of a board before its first cut, the tape hooked on the end it came with; saw on the far side of each mark where nothing else is said. Where you cut as you go, set each part to its own length from the fresh end instead.

Board 1: Shed A, 45 x 45, 1300 mm
  ☐ 1
  Mark the bad stretches first, and check that they reach no further than measured.
  Brush every cut end with preservative.
      50  trim the datum end               saw on the datum side of the mark
     500  A leg                    450 mm  saw on the far side of the mark
     640  cut the bad stretch off          saw on the datum side of the mark
     920  B rail                   280 mm  saw on the far side of the mark; short part, under 300 mm: hold the long side only, and let the blade stop before reaching in
  1202.5  B rail                   280 mm  saw on the far side of the mark; both sides of this cut are under 300 mm: clamp the timber or use a jig; never hold it by hand
  97.5 mm left from 502.5, scrap
  95 mm left from 1205, scrap

Board 2: New 2400 mm, 45 x 45
  ☐ 2
  Brush every cut end with preservative.
     10  trim the datum end          saw on the datum side of the mark
    460  A leg               450 mm  saw on the far side of the mark
  912.5  A leg               450 mm  saw on the far side of the mark
   1365  A leg               450 mm  saw on the far side of the mark
  1032.5 mm left from 1367.5, keep it

Back to the shed
  1T  1032.5 mm  45 x 45  board 2

Scrap
  0.31 m of 3.7 m is scrap, 8.3 %

If a part is spoiled once all is cut
  leg, rail: from the 1032.5 mm left of board 2

Proof
  45 x 45: lengths to buy: 1; better may exist.
  45 x 45: money: 5.00; better may exist.
  45 x 45: scrap: 0.31 m; better may exist.

Mind
  Treated timber: cross-cut only, never rip, plane or sand it; brush every cut end with preservative; keep its offcuts apart from firewood and never burn them.
  Boards from the shed: look for metal and old paint before sawing; one that does not lie flat against fence and table binds at a mitre saw, so cut it with a jigsaw or by hand.
  Parts under 300 mm (rail): cut them off the long board while it is long, with a clamp or a jig, and never hold them by hand.
  Protect your eyes, and your ears beside a power saw.
  Let the blade stop before you reach in or take a piece away.
  Dust: collect it at the saw and wear a mask; hardwood, and softwood mixed with it, has the lower limit.
  To carry home: the longest piece is 2.4 m, the timber weighs about 2.0 kg.
"
    );
}

#[test]
fn the_tables_of_a_small_job_are_as_written_here() {
    let (job, plan) = stool();
    let report = reported(&job, plan);
    assert_eq!(
        report::csv::buying(&report),
        "section,length,count,price,cost,total length\r\n45 x 45,2400 mm,1,5.00,5.00,2.4 m\r\n"
    );
    assert_eq!(
        report::csv::back_to_shed(&report),
        "mark,section,length,from,flaws\r\n1T,45 x 45,1032.5 mm,board 2,\r\n"
    );
    let saw = report::csv::saw(&report);
    assert!(
        saw.contains(
            "1,\"Shed A, 45 x 45, 1300 mm\",2,cut,500,,A,leg,450 mm,square,,,,saw on the far side of the mark,,,,,,,\r\n"
        ),
        "{saw}"
    );
    assert_eq!(saw.lines().count(), 1 + 5 + 4);
}

/// Own arithmetic, exhaustively checked by its author: 8 x 560, 8 x 470, 16 x 390, kerf 2.4, 10 mm trims, yard lengths 2.4 to 4.8 m: at least
/// 15.0 m in 4 lengths, for instance 4 x 560 (132.8 left), 3 x 560 + 470 + 2 x 390 (38.0 left), 560 + 7 x 470 + 2 x 390 (128.4 left) and
/// 12 x 390 (73.6 left), what is left counted without the far trim and before the last cut.
#[test]
fn frame_parts_from_four_lengths_have_these_readings_and_totals() {
    let job = job(|draft| {
        draft.section("45 x 45", |section| {
            section.thickness = Some("45".into());
            section.width = Some("45".into());
            section.density = Some("420".into());
        });
        for length in ["2400", "3000", "3600", "4200", "4800"] {
            draft.yard("45 x 45", length, None, None);
        }
        draft.part("rail", "45 x 45", "560", "8", "square");
        draft.part("stile", "45 x 45", "470", "8", "square");
        draft.part("slat", "45 x 45", "390", "16", "square");
    });
    let plan = new_lengths(
        &job,
        &[
            (0, &[0, 0, 0, 0]),
            (1, &[0, 0, 0, 1, 2, 2]),
            (4, &[0, 1, 1, 1, 1, 1, 1, 1, 2, 2]),
            (4, &[2; 12]),
        ],
    );
    let report = reported(&job, plan);
    assert_eq!(report.buying.totals.total_length, "15 m");
    assert_eq!(report.buying.totals.count, 4);
    assert_eq!(
        report.buying.order_lines,
        [
            "1 \u{2013} 2.4 m 45 x 45",
            "1 \u{2013} 3 m 45 x 45",
            "2 \u{2013} 4.8 m 45 x 45"
        ]
    );
    let left: Vec<&str> = report
        .boards
        .iter()
        .map(|board| board.offcuts[0].length.as_str())
        .collect();
    // The last cut takes 2.4 off each and the 10 of the far trim are still on it; every mark stands at or beyond the part it ends.
    assert_eq!(left, ["140 mm", "45 mm", "135 mm", "80 mm"]);
    assert_eq!(
        readings(&report.boards[0]),
        ["10", "570", "1132.5", "1695", "2257.5"]
    );
    // 560 + 470 + 390 are three settings, the longest first.
    let settings: Vec<(&str, usize)> = report
        .settings
        .iter()
        .map(|setting| (setting.length.as_str(), setting.count))
        .collect();
    assert_eq!(settings, [("560 mm", 8), ("470 mm", 8), ("390 mm", 16)]);
    // 15 m of 45 x 45 at 420 kg a cubic metre is 12.76 kg; the 14.48 m of parts alone are 12.3 kg.
    assert!(
        report
            .cautions
            .iter()
            .any(|text| text.contains("4.8 m") && text.contains("12.8 kg")),
        "{:?}",
        report.cautions
    );
}

/// A length of 3 m for 9 holds both parts; two of 1.2 m for 4 each are cheaper. Cuts and trims fit in each.
#[test]
fn the_headline_says_what_was_made_least() {
    for (aim, headline) in [
        ("fewest", "Buy 1 length: proven, no plan does better"),
        (
            "cheapest",
            "Buy 2 lengths for the least money: proven, no plan does better",
        ),
        (
            "shortest",
            "Buy 2 lengths, the least timber: proven, no plan does better",
        ),
    ] {
        let job = serde_json::json!({ "format": "lengthwise-job", "aim": aim, "sections": [{ "name": "batten" }],
            "yard": [{ "length": "3 m", "price": "9" }, { "length": "1.2 m", "price": "4" }], "parts": [{ "label": "rail", "length": "1100", "quantity": 2 }] });
        let asked = serde_json::json!({ "job": job, "asks": 1000 });
        let said = lengthwise::api::plan(&asked.to_string(), &|| 0.0, &mut |_| {});
        let said: serde_json::Value = serde_json::from_str(&said).expect("JSON");
        assert_eq!(said["headline"], headline, "{said}");
    }
}

/// Own arithmetic: forty boards of 480, kerf 2.4 and 10 mm trims: six to 3 m and four to 2.4 m, so 20.4 m in seven lengths.
#[test]
fn forty_boards_from_seven_lengths_have_these_readings_and_boards_cut_alike_are_drawn_once() {
    let job = job(|draft| {
        draft.section("20 x 120", |_| {});
        draft.yard("20 x 120", "2400", None, None);
        draft.yard("20 x 120", "3000", None, None);
        draft.part("board", "20 x 120", "480", "40", "square");
    });
    let mut boards: Vec<(usize, &[usize])> = vec![(1, &[0; 6]); 6];
    boards.push((0, &[0; 4]));
    let report = reported(&job, new_lengths(&job, &boards));
    assert_eq!(report.buying.totals.total_length, "20.4 m");
    assert_eq!(
        readings(&report.boards[0]),
        ["10", "490", "972.5", "1455", "1937.5", "2420", "2902.5"]
    );
    assert_eq!(report.headline, "Buy 7 lengths: the best found so far");
    // Six alike are drawn once.
    assert_eq!(report.drawing.matches("class=\"lw-bar\"").count(), 2);
    assert!(
        report
            .drawing
            .contains("1\u{2013}6. 6 \u{d7} New 3000 mm, 20 x 120")
    );
}

/// Own arithmetic: a 2.4 m length gives only one 1200 slat; with nothing trimmed and 2402.4 measured it gives two.
#[test]
fn two_slats_fit_a_length_only_with_room_for_the_kerf_between_them() {
    let slats = |length: &str| {
        job(|draft| {
            draft.section("22 x 70", |section| section.trim = Some("0".into()));
            draft.yard("22 x 70", length, None, None);
            draft.part("slat", "22 x 70", "1200", "2", "square");
        })
    };
    let measured = slats("2402.4");
    let report = reported(&measured, new_lengths(&measured, &[(0, &[0, 0])]));
    let last = &report.boards[0].steps[1];
    assert_eq!(
        (last.kind, last.reading.as_str(), last.part_length.as_str()),
        (StepKind::Finish, "2402.5", "1200 mm")
    );
    assert!(last.rounded);
    let stated = slats("2400");
    assert!(check(&stated, new_lengths(&stated, &[(0, &[0, 0])])).is_err());
}

/// Mitred caps cut one after another (own arithmetic): four of 640 long point, 95 wide, 45 degrees, kerf 2.4:
/// 4 x 640 - 3 x 95 + 3 x 3.394 = 2285.2 between the trims.
fn caps() -> (Job, Plan) {
    let job = job(|draft| {
        draft.section("20 x 95", |section| section.width = Some("95".into()));
        draft.yard("20 x 95", "2400", None, None);
        draft.part("cap", "20 x 95", "640", "4", "45");
    });
    let step = mm(640 - 95) + Length::from_ticks(10_862);
    let cuts = (0..4)
        .map(|index| {
            let start = mm(10) + Length::from_ticks(step.ticks() * index);
            let mut placed = hand::placed(0, start, start + mm(640));
            placed.long_edge = if index % 2 == 0 {
                Edge::Far
            } else {
                Edge::Near
            };
            placed.lies = Lies::AsWritten;
            placed
        })
        .collect();
    let run = PlannedRun {
        from: mm(10),
        to: mm(2390),
        cuts,
    };
    (
        job,
        Plan {
            boards: vec![board(Source::Yard(0), vec![run])],
            proofs: Vec::new(),
        },
    )
}

#[test]
fn four_caps_share_their_mitres_in_one_length() {
    let (job, plan) = caps();
    let report = reported(&job, plan);
    let board = &report.boards[0];
    // 10 + 640; then 548.394 further each, from the mark before to the next half: 1198.394, 1746.894, 2295.394.
    assert_eq!(readings(board), ["10", "650", "1198.5", "1747", "2295.5"]);
    let edges: Vec<&str> = board
        .steps
        .iter()
        .map(|step| step.long_edge.as_str())
        .collect();
    let (far, near) = (
        "long point on the unmarked edge",
        "long point on the marked edge",
    );
    assert_eq!(edges, [far, far, near, far, near]);
    assert!(
        board
            .summary
            .contains(" mm, ends 45\u{b0}, opposite ways; "),
        "{}",
        board.summary
    );
    assert_eq!(
        board.cautions,
        [
            "Mark one edge along its whole length, and keep that edge towards you and the face up for every cut: / and \\ are as you see them then."
        ]
    );
    assert!(
        report
            .cautions
            .iter()
            .any(|caution| caution.contains("small pointed offcuts")),
        "{:?}",
        report.cautions
    );
    assert_eq!(board.steps[0].kind, StepKind::Mitre);
    assert_eq!(
        board.steps[0].turn,
        "swing the saw off square so: \\ at 45\u{b0}"
    );
    assert!(
        board
            .steps
            .iter()
            .skip(1)
            .all(|step| step.turn.starts_with("swing the saw to the other side: ")),
        "{:?}",
        board.steps
    );
    assert_eq!(board.steps[0].side, Side::Datum);
    assert_eq!(board.steps[1].side, Side::Far);
    assert_eq!(board.steps[1].hint, "one cut for this end and the next cap");
    // Eight slanted ends of 95: half of each square is waste, and 2400 - 2295.5 - 3.4 are left.
    assert_eq!(board.offcuts[0].length, "101 mm");
}

/// Running marks from one datum, as a joinery manual sets them on a rod: 40, then 40 + 1981 = 2021, then 2061 (L. Goring, Manual of
/// Purpose-Made Woodworking Joinery, p. 14).
#[test]
fn readings_run_on_from_one_datum() {
    let job = job(|draft| {
        draft.saw.kerf = Some("0".into());
        draft.section("rod", |section| section.trim = Some("0".into()));
        draft.yard("rod", "2100", None, None);
        draft.part("head", "rod", "40", "2", "square");
        draft.part("stile", "rod", "1981", "1", "square");
    });
    let report = reported(&job, new_lengths(&job, &[(0, &[0, 1, 0])]));
    assert_eq!(readings(&report.boards[0]), ["40", "2021", "2061"]);
}

#[test]
fn every_one_of_forty_pegs_comes_out_at_its_length_or_up_to_a_step_over() {
    // Forty parts whose exact step is 33.37 mm, read to half a millimetre: every reading is within a quarter of the exact place.
    let job = job(|draft| {
        draft.saw.kerf = Some("2.41".into());
        draft.section("22 x 70", |_| {});
        draft.yard("22 x 70", "2400", None, None);
        draft.part("peg", "22 x 70", "30.96", "40", "square");
    });
    let plan = new_lengths(&job, &[(0, &[0; 40])]);
    let report = reported(&job, plan);
    let mut before = 1_000;
    for (index, step) in report.boards[0].steps.iter().skip(1).enumerate() {
        let reading = step.reading.split_once('.').map_or_else(
            || step.reading.parse::<i64>().expect("a number") * 100,
            |(whole, half)| {
                whole.parse::<i64>().expect("a number") * 100
                    + half.parse::<i64>().expect("a half") * 10
            },
        );
        // In hundredths: a peg of 30.96 from the mark before, and a kerf of 2.41 from the second on.
        let made = reading - before;
        assert!(
            (3_096..3_146).contains(&made),
            "peg {index} comes out at {made}"
        );
        assert_eq!((step.rounded, step.miss.as_str()), (false, ""));
        before = reading + 241;
    }
}

#[test]
fn readings_in_inches_are_fractions() {
    let job = job(|draft| {
        draft.own.unit = Some("in".into());
        draft.saw.kerf = Some("1/8".into());
        draft.section("2x4", |section| section.trim = Some("1/2".into()));
        draft.yard("2x4", "8'", Some("4.10"), None);
        draft.part("stud", "2x4", "30 1/4", "3", "square");
    });
    let report = reported(&job, new_lengths(&job, &[(0, &[0, 0, 0])]));
    assert_eq!(
        readings(&report.boards[0]),
        ["1/2\"", "30 3/4\"", "61 1/8\"", "91 1/2\""]
    );
    assert_eq!(report.buying.order_lines, ["1 \u{2013} 8' 2x4"]);
}

#[test]
fn a_length_cut_at_the_yard_is_read_from_the_end_of_each_piece() {
    let job = job(|draft| {
        draft.own.carry = Some("3000".into());
        draft.exact_yard();
        draft.section("47 x 75", |_| {});
        draft.yard("47 x 75", "4200", Some("9.00"), None);
        draft.part("rail", "47 x 75", "1400", "2", "square");
    });
    let second = mm(2000) + Length::from_ticks(7_680);
    let mut cut = board(
        Source::Yard(0),
        vec![
            PlannedRun {
                from: mm(10),
                to: mm(2000),
                cuts: laid(&job, mm(10), &[0]),
            },
            PlannedRun {
                from: second,
                to: mm(4190),
                cuts: laid(&job, second, &[0]),
            },
        ],
    );
    cut.yard_cut = Some(mm(2000));
    let report = reported(
        &job,
        Plan {
            boards: vec![cut],
            proofs: Vec::new(),
        },
    );
    let board = &report.boards[0];
    // Both pieces give an offcut to keep. The first needs 10 + 1400 + 2.4 + 300 and two steps of its marks, 1713.4, and the other 1703.4 of 4197.6:
    // the middle is 2103.8.
    assert_eq!(readings(board), ["2100", "10", "1410", "1400"]);
    assert_eq!(board.steps[0].kind, StepKind::YardCut);
    let tapes: Vec<&str> = board.steps.iter().map(|step| step.tape.as_str()).collect();
    let first = "first carried piece, read from the datum end";
    let second = "second carried piece, read from the end the yard cut";
    assert_eq!(tapes, ["", first, first, second]);
    assert_eq!(board.yard_cut, "2100 mm");
    assert_eq!(report.buying.rows[0].yard_cuts, ["1 cut at 2100 mm"]);
    assert!(report.buying.order_lines[0].ends_with(" (1 cut at 2100 mm)"));
    // The second piece is 4200 - 2100 - 2.4 = 2097.6, so the first is the longer of the two.
    assert!(
        report
            .cautions
            .iter()
            .any(|text| text.contains("the longest piece is 2100 mm")),
        "{:?}",
        report.cautions
    );
}

#[test]
fn an_untouched_run_before_a_bad_stretch_goes_back_to_the_shed() {
    let job = job(|draft| {
        draft.section("47 x 75", |_| {});
        draft.shed("A", "47 x 75", "2000", "600..640");
        draft.part("rail", "47 x 75", "1300", "1", "square");
    });
    let run = PlannedRun {
        from: mm(640),
        to: mm(1950),
        cuts: laid(&job, mm(640), &[0]),
    };
    let report = reported(
        &job,
        Plan {
            boards: vec![board(Source::Shed(0), vec![run])],
            proofs: Vec::new(),
        },
    );
    assert_eq!(readings(&report.boards[0]), ["600", "640", "1940"]);
    assert_eq!(report.boards[0].steps[0].kind, StepKind::Finish);
    let back: Vec<&str> = report
        .back_to_shed
        .iter()
        .map(|row| row.length.as_str())
        .collect();
    assert_eq!(back, ["600 mm"]);
    assert_eq!(
        report.boards[0].offcuts[0].text,
        "600 mm left from 0, keep it"
    );
}

#[test]
fn a_slanted_end_does_not_make_an_offcut_worth_keeping() {
    // 2400 - 10 - 2 x 640 - ... leaves 101.4 behind the fourth cap; with keep 150 its long edge would pass and its square length does not.
    let (mut job, plan) = caps();
    job.sections[0].keep = mm(150);
    let report = reported(&job, plan);
    assert!(!report.boards[0].offcuts[0].kept);
    assert!(report.back_to_shed.is_empty(), "{:?}", report.back_to_shed);
}

/// Every polygon and rectangle inside the bars of a drawing: class, least and greatest place along the board in hundredths of a millimetre.
fn shapes(svg: &str) -> Vec<(String, i64, i64)> {
    let hundredths = |text: &str| -> i64 {
        let (whole, rest) = text.split_once('.').unwrap_or((text, ""));
        whole.parse::<i64>().expect("a number") * 100
            + format!("{rest:0<2}").parse::<i64>().expect("decimals")
    };
    let attribute = |element: &str, name: &str| -> Option<String> {
        let start = element.find(&format!(" {name}=\""))? + name.len() + 3;
        Some(element[start..].split('"').next()?.to_owned())
    };
    svg.split('<')
        .filter_map(|element| {
            let class = attribute(element, "class")?;
            if element.starts_with("polygon") {
                let points = attribute(element, "points")?;
                let places: Vec<i64> = points
                    .split(' ')
                    .map(|point| hundredths(point.split(',').next().expect("a place")))
                    .collect();
                Some((class, *places.iter().min()?, *places.iter().max()?))
            } else if element.starts_with("rect") {
                let from = hundredths(&attribute(element, "x")?);
                Some((
                    class,
                    from,
                    from + hundredths(&attribute(element, "width")?),
                ))
            } else {
                None
            }
        })
        .collect()
}

#[test]
fn a_drawing_shows_every_part_and_cut_in_its_place() {
    let (job, plan) = stool();
    let report = reported(&job, plan);
    let drawn = |class: &str| -> Vec<(i64, i64)> {
        shapes(&report.boards[0].svg)
            .into_iter()
            .filter(|(other, _, _)| other.split(' ').any(|word| word == class))
            .map(|(_, from, to)| (from, to))
            .collect()
    };
    assert_eq!(drawn("lw-lost"), [(0, 130_000)]);
    assert_eq!(
        drawn("lw-part"),
        [(5_000, 50_000), (64_000, 92_000), (92_240, 120_250)]
    );
    assert_eq!(
        drawn("lw-kerf"),
        [
            (4_760, 5_000),
            (50_000, 50_240),
            (63_760, 64_000),
            (92_000, 92_240),
            (120_250, 120_490)
        ]
    );
    assert_eq!(drawn("lw-bad"), [(60_000, 64_000)]);
    assert!(drawn("lw-kept").is_empty());
    let kept: Vec<_> = shapes(&report.boards[1].svg)
        .into_iter()
        .filter(|(class, _, _)| class == "lw-kept")
        .collect();
    assert_eq!(kept, [("lw-kept".to_owned(), 136_740, 240_000)]);
}

#[test]
fn mitred_parts_are_drawn_as_they_are_cut() {
    let (job, plan) = caps();
    let report = reported(&job, plan);
    let svg = &report.boards[0].svg;
    // Far edge above: the first cap is long there, the second on the near edge.
    assert!(svg.contains("points=\"10,0 650,0 555,52 105,52\""), "{svg}");
    assert!(
        svg.contains("points=\"653.39,0 1103.5,0 1198.5,52 558.39,52\""),
        "{svg}"
    );
    // What is between them is the slanted kerf alone.
    assert!(
        svg.contains("points=\"650,0 653.39,0 558.39,52 555,52\""),
        "{svg}"
    );
}

/// The steps of a board's sheet as its drawing has them: of the parts, and of the marks, with what each says.
fn drawn_steps(svg: &str, class: &str) -> Vec<usize> {
    svg.split('<')
        .filter(|element| {
            element.contains(&format!(" {class}\"")) || element.contains(&format!("\"{class} "))
        })
        .filter_map(|element| {
            element
                .split("data-step=\"")
                .nth(1)?
                .split('"')
                .next()?
                .parse()
                .ok()
        })
        .collect()
}

#[test]
fn a_drawing_knows_which_step_of_the_sheet_frees_each_part() {
    let ripped = job(|draft| {
        draft.section("22 x 70", |section| {
            section.thickness = Some("22".into());
            section.width = Some("70".into());
        });
        draft.yard("22 x 70", "6000", None, None);
        draft.part("slat", "22 x 70", "700", "2", "square");
        draft.parts.last_mut().expect("a part").ripped = Some("40".into());
        draft.part("rail", "22 x 70", "900", "1", "square");
    });
    let ripped_plan = new_lengths(&ripped, &[(0, &[0, 1, 0])]);
    for (job, plan) in [stool(), caps(), (ripped, ripped_plan)] {
        let report = reported(&job, plan);
        for (board, svg) in report.boards.iter().flat_map(|board| [(board, &board.svg)]) {
            let freeing = board
                .steps
                .iter()
                .filter(|step| !step.part_length.is_empty());
            let freeing: Vec<usize> = freeing.map(|step| step.order - 1).collect();
            let mut parts = drawn_steps(svg, "lw-part");
            parts.sort_unstable();
            assert_eq!(parts, freeing, "{svg}");
            // Every step but that of a rip has a mark with its reading.
            let marked = board.steps.iter().filter(|step| !step.reading.is_empty());
            let marked: Vec<usize> = marked.map(|step| step.order - 1).collect();
            let mut marks = drawn_steps(svg, "lw-mark");
            marks.sort_unstable();
            assert_eq!(marks, marked, "{svg}");
        }
    }
}

#[test]
fn a_wider_face_is_drawn_higher_and_every_section_shows_its_end_to_one_scale() {
    let job = job(|draft| {
        for (name, thickness, width) in [("post", "90", "90"), ("slat", "20", "45")] {
            draft.section(name, |section| {
                section.thickness = Some(thickness.into());
                section.width = Some(width.into());
            });
            draft.yard(name, "2000", None, None);
            draft.part(name, name, "1500", "1", "square");
        }
    });
    let report = reported(&job, new_lengths(&job, &[(0, &[0]), (1, &[1])]));
    // Half of the widest face stands half way between the lowest bar of 30 and the highest of 46. The end of the post is 24 by 24.
    for (drawing, high, end) in [
        (&report.drawings[0], 46, "width=\"24\" height=\"24\""),
        (&report.drawings[1], 38, "width=\"12\" height=\"5.3\""),
    ] {
        assert!(
            drawing.contains(&format!("viewBox=\"0 0 2000 {}\"", high + 9)),
            "{drawing}"
        );
        let shown = drawing
            .split('<')
            .find(|element| element.contains("lw-end"));
        assert!(shown.expect("an end").contains(end), "{drawing}");
    }
}

#[test]
fn drawings_are_to_one_scale_and_have_a_text_for_screen_readers() {
    let (job, plan) = stool();
    let report = reported(&job, plan);
    // 1300 of 2400 is 54.166 %; by itself a board fills the width.
    assert!(report.drawings[0].contains("width=\"54.166%\""));
    assert!(
        report.boards[0]
            .svg
            .contains("class=\"lw-bar\" x=\"0\" y=\"2\" width=\"100%\"")
    );
    assert!(
        report.boards[1]
            .svg
            .contains("width=\"100%\" height=\"61\" viewBox=\"0 0 2400 61\"")
    );
    assert!(
        report.boards[0]
            .svg
            .contains("<title>Board 1: Shed A, 45 x 45, 1300 mm</title>")
    );
    assert!(
        report.boards[0]
            .svg
            .contains("leg from 50 to 500 mm; rail from 640 to 920 mm")
    );
    assert_eq!(report.boards[0].summary.matches("scrap of").count(), 2);
    // A person who cannot see the crossed stretch gets it in words.
    assert!(
        report.boards[0]
            .summary
            .contains("; bad from 600 to 640 mm; ")
    );
    for svg in report
        .boards
        .iter()
        .map(|board| &board.svg)
        .chain([&report.drawing])
        .chain(&report.drawings)
    {
        assert_eq!(svg.matches("<svg").count(), svg.matches("</svg>").count());
        assert!(
            !svg.contains("id="),
            "names would clash where a drawing stands twice on a page"
        );
    }
}

#[test]
fn every_part_has_a_letter_of_its_own_and_colour_never_stands_alone() {
    let job = job(|draft| {
        draft.section("22 x 70", |_| {});
        draft.yard("22 x 70", "6000", None, None);
        for index in 0..30 {
            draft.part(&format!("peg {index}"), "22 x 70", "100", "1", "square");
        }
    });
    let parts: Vec<usize> = (0..30).collect();
    let report = reported(&job, new_lengths(&job, &[(0, &parts)]));
    let mut seen: Vec<(&str, &str)> = report
        .legend
        .iter()
        .map(|row| (row.colour, row.texture))
        .collect();
    let letters: Vec<&str> = report
        .legend
        .iter()
        .map(|row| row.letter.as_str())
        .collect();
    assert_eq!(letters[25..28], ["Z", "AA", "AB"]);
    seen.sort_unstable();
    seen.dedup();
    assert_eq!(seen.len(), 30);
}

#[test]
fn a_board_of_the_shed_counts_as_treated_by_its_own_word_and_else_by_that_of_its_section() {
    // A yard length of 45 x 45, then boards A and B of the shed; what is said of the three: (section, A, B).
    let said = |words: [&str; 3]| {
        let job = job(|draft| {
            draft.section("45 x 45", |section| section.treated = Some(words[0].into()));
            draft.yard("45 x 45", "2400", None, None);
            for (mark, word) in ["A", "B"].into_iter().zip(&words[1..]) {
                draft.shed(mark, "45 x 45", "1100", "");
                let own = Some((*word).to_owned()).filter(|word| !word.is_empty());
                draft.shed.last_mut().expect("a board").treated = own;
            }
            draft.part("pale", "45 x 45", "900", "3", "square");
        });
        let run = |from: i64, to: i64| PlannedRun {
            from: mm(from),
            to: mm(to),
            cuts: laid(&job, mm(from), &[0]),
        };
        let plan = Plan {
            boards: vec![
                board(Source::Shed(0), vec![run(50, 1050)]),
                board(Source::Shed(1), vec![run(50, 1050)]),
                board(Source::Yard(0), vec![run(10, 2390)]),
            ],
            proofs: Vec::new(),
        };
        let report = reported(&job, plan);
        let brushed: Vec<bool> = report
            .boards
            .iter()
            .map(|board| {
                let brush = "Brush every cut end with preservative.".to_owned();
                board.cautions.contains(&brush)
            })
            .collect();
        let of_treatment: Vec<String> = report
            .cautions
            .into_iter()
            .filter(|text| text.contains("reated"))
            .collect();
        (of_treatment, brushed)
    };
    let treated = |which: &str| {
        format!(
            "Treated timber{which}: cross-cut only, never rip, plane or sand it; brush every cut end with preservative; keep its offcuts \
             apart from firewood and never burn them."
        )
    };
    let unknown = "Timber of unknown treatment counts as treated.".to_owned();
    let cases = [
        (["no", "", ""], vec![], [false, false, false]),
        (
            ["no", "unknown", "no"],
            vec![treated(" (board A)"), unknown.clone()],
            [true, false, false],
        ),
        (
            ["no", "yes", "unknown"],
            vec![treated(" (board A and board B)"), unknown],
            [true, true, false],
        ),
        (["yes", "", "as its section"], vec![treated("")], [true; 3]),
        (
            ["yes", "no", ""],
            vec![treated(" (board B and new 45 x 45)")],
            [false, true, true],
        ),
    ];
    for (words, cautions, brushed) in cases {
        assert_eq!(said(words), (cautions, brushed.to_vec()), "{words:?}");
    }
}

#[test]
fn treated_timber_is_cautioned_against_where_it_is_used() {
    let cautions = |treated: [&str; 2]| {
        let job = job(|draft| {
            for (name, treated) in ["45 x 45", "22 x 95"].into_iter().zip(treated) {
                draft.section(name, |section| section.treated = Some(treated.into()));
                draft.yard(name, "2400", None, None);
                draft.part("pale", name, "900", "1", "square");
            }
        });
        let said = reported(&job, new_lengths(&job, &[(0, &[0]), (1, &[1])])).cautions;
        let of_treatment = said.into_iter().filter(|text| text.contains("reat"));
        of_treatment.collect::<Vec<_>>()
    };
    let treated = |which: &str| {
        format!(
            "Treated timber{which}: cross-cut only, never rip, plane or sand it; brush every cut end with preservative; keep its offcuts \
             apart from firewood and never burn them."
        )
    };
    let unknown = "Timber of unknown treatment counts as treated.".to_owned();
    assert_eq!(cautions(["no", "no"]), [""; 0]);
    assert_eq!(cautions(["yes", "yes"]), [treated("")]);
    assert_eq!(cautions(["no", "yes"]), [treated(" (22 x 95)")]);
    assert_eq!(
        cautions(["unknown", "no"]),
        [treated(" (45 x 45)"), unknown]
    );
}

#[test]
fn equal_bought_boards_that_are_cut_alike_are_told_once_with_all_their_marks() {
    // Two legs to a board; the third board is longer, and the shed's own is no bought one, however equal.
    let job = job(|draft| {
        draft.section("batten", |_| {});
        for (mark, length) in [("K", "1300"), ("L", "1300"), ("M", "1500"), ("N", "1300")] {
            draft.shed(mark, "batten", length, "");
        }
        for row in 0..3 {
            draft.shed[row].counts_as = Some("new timber".into());
        }
        draft.part("leg", "batten", "580", "8", "square");
    });
    let boards = (0..4).map(|at| {
        let run = PlannedRun {
            from: mm(50),
            to: job.shed[at].length - mm(50),
            cuts: laid(&job, mm(50), &[0, 0]),
        };
        board(Source::Shed(at), vec![run])
    });
    let plan = Plan {
        boards: boards.collect(),
        proofs: Vec::new(),
    };
    let report = reported(&job, plan);
    let alike = report.alike.iter();
    let told: Vec<(usize, usize, &str)> = alike
        .map(|one| (one.first, one.count, &one.title[..]))
        .collect();
    assert_eq!(
        told,
        [
            (0, 2, "Bought K, L, batten, 1300 mm"),
            (2, 1, "Bought M, batten, 1500 mm"),
            (3, 1, "Shed N, batten, 1300 mm")
        ]
    );
    assert_eq!(report.drawings.len(), 3);
    assert!(report.drawings[0].contains("1\u{2013}2. 2 \u{d7} Bought K, L, batten, 1300 mm"));
    assert!(
        report::text::text(&report)
            .contains("Boards 1 to 2: 2 \u{d7} Bought K, L, batten, 1300 mm")
    );
}

#[test]
fn that_marks_are_rounded_is_said_where_parts_come_out_over_on_a_coarse_tape() {
    let marking = |kerf: &str, step: &str| {
        let job = job(|draft| {
            draft.saw.kerf = Some(kerf.into());
            draft.own.step = Some(step.into());
            draft.section("batten", |_| {});
            draft.yard("batten", "2400", None, None);
            draft.part("leg", "batten", "600", "2", "square");
        });
        let plan = new_lengths(&job, &[(0, &[0, 0])]);
        reported(&job, plan).marking
    };
    assert_eq!(marking("2", "1"), report::MARKING);
    // No tape is read much finer than the usual step.
    assert_eq!(marking("2.4", "0.5"), report::MARKING);
    assert!(marking("2.4", "1").ends_with(
        "Each mark is on the next 1 mm of the tape, so a part may come out up to that much over; a finer step of readings makes it less."
    ));
}
