//! Narrow parts: which come out of one board together, what is proven of that, and how the sheet says it.

#[path = "common/hand.rs"]
mod hand;
#[path = "common/random.rs"]
mod random;

use hand::{Draft, draft_of, job, mm};
use lengthwise::api;
use lengthwise::check::{CheckedPlan, Lie, Verdict, check};
use lengthwise::io::{job_file, plan_file};
use lengthwise::job::{Job, validate};
use lengthwise::patience::{Limits, Patience};
use lengthwise::plan::{Plan, Within};
use lengthwise::planner::{Planned, plan_job};
use lengthwise::report::{self, Report, StepKind, csv, text};
use random::Random;
use serde_json::{Value, json};

fn some(text: impl Into<String>) -> Option<String> {
    Some(text.into())
}

/// A board of 25 x 145 with a kerf of 3 and no trims, of which the yard sells one length.
fn boards(draft: &mut Draft, length: &str) {
    draft.saw.kerf = some("3");
    draft.section("board", |section| {
        section.thickness = some("25");
        section.width = some("145");
        section.trim = some("0");
    });
    draft.yard("board", length, None, None);
}

fn narrow(draft: &mut Draft, label: &str, length: &str, quantity: &str, ripped: &str) {
    draft.part(label, "board", length, quantity, "square");
    let part = draft.parts.last_mut().expect("a part");
    part.ripped = some(ripped);
}

fn narrow_parts(parts: &[(&str, &str, &str, &str)]) -> Job {
    job(|draft| {
        boards(draft, "2400");
        for (label, length, quantity, ripped) in parts {
            narrow(draft, label, length, quantity, ripped);
        }
    })
}

fn plan_of(job: &Job) -> Plan {
    let (clock, mut hear) = (|| 0.0, |_: &Plan| {});
    match plan_job(
        job,
        &mut Patience::new(Limits::asks(100_000), &clock, &mut hear),
    ) {
        Planned::Found(plan) => plan,
        other => panic!("{other:?}"),
    }
}

fn planned(job: &Job) -> (CheckedPlan, Report) {
    let checked = check(job, plan_of(job)).expect("the plan holds");
    let report = report::build(job, &checked);
    (checked, report)
}

/// Each blank as (its strips, its length in millimetres, how many).
fn blanks(job: &Job) -> Vec<(Vec<usize>, i64, u32)> {
    let blanks = job.parts.iter().filter(|part| !part.strips.is_empty());
    blanks
        .map(|blank| {
            (
                blank.strips.clone(),
                blank.length.ticks() / 3_200,
                blank.quantity,
            )
        })
        .collect()
}

/// How the first piece that is ripped is.
fn rip_of(report: &Report) -> String {
    let steps = report.boards.iter().flat_map(|board| &board.steps);
    let rip = steps.filter(|step| step.kind == StepKind::Rip);
    rip.map(|step| step.rip.clone()).next().expect("a rip")
}

#[test]
fn two_strips_of_40_mm_come_out_of_one_board_of_145() {
    // Own arithmetic: 40 + 3 + 40 and another 3 leave 59.
    let job = narrow_parts(&[("strip", "2000", "2", "40")]);
    assert_eq!(blanks(&job), [(vec![0, 0], 2_000, 1)]);
    let (checked, report) = planned(&job);
    assert_eq!(checked.plan().boards.len(), 1);
    assert_eq!(
        (checked.verdict(), checked.within()),
        (Verdict::Proven, Within::Everything)
    );
    assert_eq!(report.headline, "Buy 1 length: proven, no plan does better");
    assert_eq!(
        rip_of(&report),
        "with a push stick; fence to 40 mm: A1 and A2 strip; 59 mm wide is left: keep it"
    );
}

#[test]
fn the_last_boards_of_two_faces_share_a_board() {
    let face = |name| {
        (
            name,
            [
                ("width", "475"),
                ("height", "900"),
                ("gap", "0"),
                ("edges", "rip the last board only"),
            ],
        )
    };
    let job = job(|draft| {
        boards(draft, "2400");
        for (name, fields) in [face("lid"), face("side")] {
            draft.set_out(name, "boarding", &fields);
        }
    });
    // Three whole boards each, and 475 - 3 x 145 = 40 twice.
    assert_eq!(blanks(&job), [(vec![1, 3], 900, 1)]);
    assert_eq!(
        job.parts[1].label,
        "lid: board ripped to 40 mm + side: board ripped to 40 mm"
    );
    // Seven pieces of 900 instead of eight, two to a length.
    assert_eq!(planned(&job).0.plan().boards.len(), 4);
    assert_eq!(job.list.len(), 4);
}

#[test]
fn strips_share_a_blank_as_long_as_their_widths_and_kerfs_fit_to_the_tick() {
    let fits = |last: &str| {
        let job = narrow_parts(&[("a", "900", "1", "71"), ("b", "900", "1", last)]);
        blanks(&job).len() == 1
    };
    // 71 + 3 + 71 is 145; a fence shows half millimetres, so that 71.1 takes 71.5.
    assert!(fits("71") && !fits("71.5") && !fits("71.1"));
    let job = narrow_parts(&[("a", "900", "1", "71"), ("b", "600", "1", "71")]);
    assert_eq!(
        rip_of(&planned(&job).1),
        "with a push stick; fence to 71 mm: A1 a; what is left is A2 b; cut A2 to 600 mm"
    );
}

#[test]
fn what_may_share_nothing_is_cut_from_a_board_each() {
    let alone = |change: &dyn Fn(&mut Draft)| {
        let job = job(|draft| {
            boards(draft, "2400");
            narrow(draft, "strip", "900", "2", "40");
            change(draft);
        });
        blanks(&job) == [(vec![0], 900, 2)]
    };
    assert!(!alone(&|_| {}));
    assert!(alone(&|draft| draft.sections[0].treated = some("yes")));
    assert!(alone(&|draft| draft.sections[0].treated = some("unknown")));
    assert!(alone(&|draft| draft.sections[0].edges = some("different")));
    assert!(alone(&|draft| draft.parts[0].ends = some("square; 45")));
    assert!(alone(&|draft| draft.parts[0].goes = some("between others")));
    assert!(alone(&|draft| draft.parts[0].goes = some("in the ground")));
    assert!(alone(&|draft| draft.parts[0].face = some("good face out")));
    assert!(alone(&|draft| draft.parts[0].hand = some("left and right")));
    assert!(alone(&|draft| {
        draft.section("other", |section| section.width = some("120"));
        draft.parts[0].section = some("board; other");
    }));
}

#[test]
fn strips_share_a_blank_only_where_the_same_timber_will_do() {
    let with = |one: &str, other: &str| {
        let job = job(|draft| {
            boards(draft, "2400");
            narrow(draft, "a", "900", "1", "40");
            narrow(draft, "b", "900", "1", "40");
            draft.parts[0].from = some(one);
            draft.parts[1].from = some(other);
        });
        (blanks(&job).len(), planned(&job).0.within())
    };
    let new = "new timber only";
    assert_eq!(with(new, new), (1, Within::Everything));
    assert_eq!(with(new, "anything"), (2, Within::TheseBlanks));
}

/// Feather-edged boards of 150 that cover 125, so that they lie 25 over each other.
fn lapped(parts: &[(&str, &str)]) -> Job {
    job(|draft| {
        boards(draft, "2400");
        let section = &mut draft.sections[0];
        (section.width, section.cover) = (some("150"), some("125"));
        section.joint = some("lapped");
        for (ripped, keeps) in parts {
            narrow(draft, "lap", "900", "1", ripped);
            let part = draft.parts.last_mut().expect("a part");
            part.keeps = some(*keeps);
        }
    })
}

#[test]
fn each_edge_of_a_lapped_board_goes_to_one_strip_alone() {
    let together = |one, other| blanks(&lapped(&[("60", one), ("55", other)])).len() == 1;
    assert!(together("first", "last") && together("last", "first"));
    assert!(!together("first", "first") && !together("last", "last"));
    assert!(!together("either", "last") && !together("either", "either"));
    let report = planned(&lapped(&[("60", "first"), ("55", "last")])).1;
    assert_eq!(
        rip_of(&report),
        "with a push stick; fence to 60 mm, the edge towards the next board at it: A1 lap; \
         fence to 55 mm, the edge towards the board before at it: A2 lap; 29 mm wide is left: keep it"
    );
}

#[track_caller]
fn fault(change: impl FnOnce(&mut Draft), told: &str) {
    let draft = draft_of(|draft| {
        boards(draft, "2400");
        narrow(draft, "strip", "900", "2", "40");
        change(draft);
    });
    let faults = validate(&draft).expect_err("a fault");
    assert_eq!(faults[0].to_string(), told);
}

#[test]
fn a_width_that_no_board_has_is_refused_with_the_range_there_is() {
    fault(
        |draft| draft.parts[0].ripped = some("146"),
        "parts 1, ripped: 146 mm is not sensible for what its boards are ripped to; give 1 mm to 145 mm, and check the unit",
    );
    // A lapped board keeps its lap of 25 and 25 that hold it.
    fault(
        |draft| {
            draft.sections[0].cover = some("120");
            draft.sections[0].joint = some("lapped");
        },
        "parts 1, ripped: 40 mm is not sensible for what its boards are ripped to; give 50 mm to 145 mm, and check the unit",
    );
    fault(
        |draft| draft.sections[0].width = None,
        "parts 1, ripped: what is ripped needs the width of its boards; fill in the width of \"board\"",
    );
}

#[test]
fn a_part_as_wide_as_its_boards_is_not_ripped() {
    let job = narrow_parts(&[("board", "900", "2", "145")]);
    assert_eq!((blanks(&job), job.parts[0].rip), (Vec::new(), None));
}

#[test]
fn where_nothing_can_share_the_parts_and_the_plan_are_those_of_the_list() {
    let apart = narrow_parts(&[
        ("a", "900", "3", "100"),
        ("b", "700", "2", "80"),
        ("c", "500", "4", "72"),
    ]);
    let bare = job(|draft| {
        boards(draft, "2400");
        for (label, length, quantity) in [("a", "900", "3"), ("b", "700", "2"), ("c", "500", "4")] {
            draft.part(label, "board", length, quantity, "square");
        }
    });
    assert_eq!(
        plan_file::write(&plan_of(&apart)),
        plan_file::write(&plan_of(&bare))
    );
    assert_eq!(planned(&apart).0.within(), Within::Everything);
}

/// Every way to put strips into blanks, as sets of strips that fit side by side.
fn partitions(widths: &[i64], kerf: i64, board: i64) -> Vec<Vec<Vec<usize>>> {
    let mut all: Vec<Vec<Vec<usize>>> = vec![Vec::new()];
    for strip in 0..widths.len() {
        let mut next = Vec::new();
        for partition in all {
            for at in 0..=partition.len() {
                let mut grown = partition.clone();
                if at == grown.len() {
                    grown.push(Vec::new());
                }
                grown[at].push(strip);
                let across: i64 = grown[at].iter().map(|&one| widths[one] + kerf).sum();
                if across - kerf <= board {
                    next.push(grown);
                }
            }
        }
        all = next;
    }
    all
}

/// The fewest boards that pieces come out of, each piece tried in every board.
fn fewest(pieces: &[i64], kerf: i64, board: i64) -> usize {
    fn put(pieces: &[i64], kerf: i64, board: i64, filled: &mut Vec<i64>, best: &mut usize) {
        if filled.len() >= *best {
            return;
        }
        let Some((&piece, rest)) = pieces.split_first() else {
            *best = filled.len();
            return;
        };
        for at in 0..=filled.len() {
            let is_new = at == filled.len();
            let before = if is_new { -kerf } else { filled[at] };
            if before + kerf + piece > board {
                continue;
            }
            if is_new {
                filled.push(before);
            }
            filled[at] = before + kerf + piece;
            put(rest, kerf, board, filled, best);
            filled[at] = before;
            if is_new {
                filled.pop();
            }
        }
    }
    let mut best = pieces.len() + 1;
    put(pieces, kerf, board, &mut Vec::new(), &mut best);
    best
}

#[test]
fn small_jobs_agree_with_every_way_to_put_strips_into_blanks_and_blanks_into_boards() {
    let mut within = [0; 3];
    for seed in 0..400 {
        let random = &mut Random(seed);
        let (kerf, alike) = (random.between(0, 4), random.once_in(3));
        let rows: Vec<(i64, i64, i64)> = (0..random.between(1, 4))
            .map(|_| {
                let length = if alike {
                    900
                } else {
                    random.pick(&[500, 640, 641, 700, 900, 1_150, 1_300])
                };
                (length, random.between(20, 110), random.between(1, 2))
            })
            .collect();
        let job = job(|draft| {
            boards(draft, "1500");
            draft.saw.kerf = some(kerf.to_string());
            for (length, width, quantity) in &rows {
                let [length, quantity, width] = [length, quantity, width].map(i64::to_string);
                narrow(draft, "strip", &length, &quantity, &width);
            }
        });
        let strips: Vec<(i64, i64)> = rows
            .iter()
            .flat_map(|&(length, width, quantity)| vec![(length, width); quantity as usize])
            .collect();
        let widths: Vec<i64> = strips.iter().map(|strip| strip.1).collect();
        let lengths = |partition: &Vec<Vec<usize>>| -> Vec<i64> {
            let longest = |blank: &Vec<usize>| blank.iter().map(|&strip| strips[strip].0).max();
            partition.iter().filter_map(longest).collect()
        };
        let all: Vec<Vec<i64>> = partitions(&widths, kerf, 145).iter().map(lengths).collect();
        let found = blanks(&job);
        let chosen: Vec<i64> = found
            .iter()
            .flat_map(|(_, length, quantity)| vec![*length; *quantity as usize])
            .collect();
        let worth = |blanks: &Vec<i64>| (blanks.iter().sum::<i64>(), blanks.len());
        assert_eq!(
            Some(worth(&chosen)),
            all.iter().map(worth).min(),
            "seed {seed}"
        );
        let checked = planned(&job).0;
        let bought = checked.plan().boards.len();
        assert_eq!(bought, fewest(&chosen, kerf, 1_500), "seed {seed}");
        within[checked.within() as usize] += 1;
        if checked.within() != Within::TheseBlanks {
            let best = all.iter().map(|blanks| fewest(blanks, kerf, 1_500)).min();
            assert_eq!(Some(bought), best, "seed {seed}");
        }
        let proven = checked.within() == Within::Everything;
        assert_eq!(checked.verdict().settles_buying(), proven, "seed {seed}");
    }
    // All three are met.
    assert!(within.iter().all(|count| *count > 20), "{within:?}");
}

#[test]
fn what_is_proven_of_strips_of_several_lengths_says_within_what() {
    let told = |parts: &[_]| {
        let job = narrow_parts(parts);
        let (checked, report) = planned(&job);
        (
            checked.verdict(),
            report.headline,
            report.explanation,
            report.proof[0].text.clone(),
        )
    };
    // Two pairs of 60: the longer with the longer is the best of all choices.
    let side = told(&[("a", "900", "2", "60"), ("b", "600", "2", "60")]);
    assert_eq!(
        side,
        (
            Verdict::InBlanks,
            "Buy 1 length: proven, no plan needs fewer with narrow parts side by side".to_owned(),
            vec!["The proof holds for narrow parts that lie side by side in blanks; one behind the other in a ripped strip was not looked at.".to_owned()],
            "board: lengths to buy: 1, and no plan does better with narrow parts side by side; a second reckoning shows it.".to_owned(),
        )
    );
    // Three of 40 and two of 60 of several lengths, where no bound shows the choice.
    let these = told(&[("a", "900", "5", "40"), ("b", "600", "3", "60")]);
    assert_eq!(these.0, Verdict::InBlanks);
    assert_eq!(
        these.1,
        "Buy 2 lengths: proven, no plan needs fewer with these blanks"
    );
    assert_eq!(
        these.2,
        ["The proof holds for these blanks; other narrow parts side by side may need less."]
    );
}

/// The lies that the checker tells of a job whose blanks were forged.
fn forged(forge: impl FnOnce(&mut Job)) -> Vec<Lie> {
    let mut job = narrow_parts(&[
        ("a", "900", "2", "40"),
        ("b", "600", "1", "30"),
        ("board", "700", "1", "145"),
    ]);
    assert_eq!(blanks(&job), [(vec![0, 0, 1], 900, 1)]);
    let plan = plan_of(&job);
    forge(&mut job);
    check(&job, plan).expect_err("a lie")
}

#[test]
fn a_blank_wider_than_its_board_is_refused() {
    // 4 x 40 + 3 x 3 are 169, and 30 and 3 more 202.
    let lies = forged(|job| job.parts[0].strips = vec![0, 0, 0, 0, 1]);
    let by = mm(202 - 145);
    assert_eq!(
        lies,
        [
            Lie::BlankTooWide { part: 0, by },
            Lie::StripsMiscounted {
                row: 0,
                wanted: 2,
                cut: 4
            },
        ]
    );
}

#[test]
fn a_strip_that_is_in_no_blank_is_missed() {
    let lies = forged(|job| job.parts[0].strips = vec![0, 0]);
    assert_eq!(
        lies,
        [Lie::StripsMiscounted {
            row: 1,
            wanted: 1,
            cut: 0
        }]
    );
}

#[test]
fn a_part_that_is_not_narrow_and_one_that_is_not_there_are_in_no_blank() {
    let whole = forged(|job| job.parts[0].strips = vec![0, 0, 1, 2]);
    assert_eq!(
        whole,
        [
            Lie::UnlikeStrips { part: 0, row: 2 },
            Lie::StripsMiscounted {
                row: 2,
                wanted: 0,
                cut: 1
            },
        ]
    );
    let lies = forged(|job| job.parts[0].strips = vec![0, 0, 1, 9]);
    assert_eq!(lies, [Lie::UnlikeStrips { part: 0, row: 9 }]);
}

#[test]
fn a_blank_shorter_than_its_longest_strip_is_refused() {
    let lies = forged(|job| job.parts[0].length = mm(899));
    assert_eq!(lies, [Lie::WrongBlank { part: 0 }]);
    let other = forged(|job| {
        job.list[1].length = mm(901);
    });
    assert_eq!(other, [Lie::WrongBlank { part: 0 }]);
}

#[test]
fn strips_that_may_not_lie_together_are_refused() {
    let treated = forged(|job| job.sections[0].treated = lengthwise::job::Treated::Unknown);
    assert_eq!(treated, [Lie::UnlikeStrips { part: 0, row: 0 }]);
    let between = forged(|job| job.list[1].fitting = lengthwise::job::Fitting::Between);
    assert_eq!(between, [Lie::UnlikeStrips { part: 0, row: 1 }]);
}

#[test]
fn a_strip_ripped_into_its_lap_or_of_an_edge_that_is_taken_is_refused() {
    let sound = lapped(&[("60", "first"), ("55", "last")]);
    let plan = plan_of(&sound);
    let mut thin = sound.clone();
    let rip = thin.list[1].rip.as_mut().expect("narrow");
    rip.width = mm(25);
    assert_eq!(
        check(&thin, plan.clone()),
        Err(vec![Lie::RippedIntoItsLap { part: 0, row: 1 }])
    );
    let mut taken = sound;
    let rip = taken.list[1].rip.as_mut().expect("narrow");
    rip.keeps = lengthwise::job::Keeps::First;
    assert_eq!(
        check(&taken, plan),
        Err(vec![Lie::UnlikeStrips { part: 0, row: 1 }])
    );
}

#[test]
fn text_table_and_page_say_the_same_of_a_rip() {
    let job = narrow_parts(&[("a", "900", "2", "40"), ("b", "600", "1", "30")]);
    let (checked, report) = planned(&job);
    let rip = "with a push stick; fence to 40 mm: A1 and A2 a; fence to 30 mm: A3 b; 26 mm wide is left: keep it; cut A3 to 600 mm";
    let step = &report.boards[0].steps[1];
    assert_eq!(
        (step.kind, &step.label[..], &step.rip[..]),
        (StepKind::Rip, "rip A1\u{2013}A3", rip)
    );
    assert_eq!((&step.reading[..], &step.part_length[..]), ("", ""));
    assert!(step.says().contains(&rip.to_owned()));
    assert!(text::text(&report).contains(rip));
    assert!(csv::saw(&report).contains(rip));
    let told =
        serde_json::to_value(lengthwise::io::reply::report(&report, checked.plan())).expect("JSON");
    assert_eq!(told["boards"][0]["steps"][1]["rip"], rip);
    assert!(report.drawing.contains("A1\u{2013}A3"));
}

#[test]
fn with_too_few_boards_it_is_said_that_narrow_parts_lie_side_by_side() {
    let job = job(|draft| {
        boards(draft, "1000");
        draft.yard[0].count = some("1");
        narrow(draft, "a", "900", "2", "40");
        draft.part("board", "board", "900", "1", "square");
    });
    let (clock, mut hear) = (|| 0.0, |_: &Plan| {});
    let asked = plan_job(
        &job,
        &mut Patience::new(Limits::asks(100_000), &clock, &mut hear),
    );
    let Planned::Impossible(lacks) = asked else {
        panic!("{asked:?}");
    };
    assert_eq!(
        lengthwise::wording::lack_text(&job, &lacks[0]),
        "there are too few boards of board: at least one part is left over with narrow parts side by side as they take the least length; \
         raise a count at the yard, or add a length"
    );
}

/// Sets the fence as the sheet says, rips, and measures what comes out with arithmetic of its own.
#[test]
fn whoever_sets_the_fence_as_the_sheet_says_gets_every_strip_out_of_the_board() {
    let mut ripped = 0;
    for seed in 0..60 {
        let random = &mut Random(seed);
        let job = job(|draft| {
            boards(draft, "2400");
            for number in 0..random.between(1, 4) {
                let (length, width) = (
                    random.pick(&["600", "900", "901"]),
                    random.between(150, 900),
                );
                let width = format!("{}.{}", width / 10, width % 10);
                narrow(draft, &format!("p{number}"), length, "2", &width);
            }
        });
        let report = planned(&job).1;
        let steps = report.boards.iter().flat_map(|board| &board.steps);
        for step in steps.filter(|step| step.rip.contains("fence")) {
            // In tenths of a millimetre.
            let tenths = |text: &str| -> i64 {
                let text = text.trim_start_matches('\u{2248}');
                let (whole, tenth) = text.split_once('.').unwrap_or((text, "0"));
                10 * whole.parse::<i64>().expect("millimetres")
                    + tenth.parse::<i64>().expect("a tenth")
            };
            let mut left = 1_450;
            for told in step
                .rip
                .split("; ")
                .filter(|told| told.starts_with("fence to "))
            {
                let set = tenths(
                    told["fence to ".len()..]
                        .split(' ')
                        .next()
                        .expect("a width"),
                );
                let names = told.split(": ").nth(1).expect("strips").split(' ');
                let numbers: Vec<i64> = names
                    .filter_map(|word| {
                        word.strip_prefix(|letter: char| letter.is_ascii_uppercase())?
                            .parse()
                            .ok()
                    })
                    .collect();
                let count = numbers.last().expect("a strip") - numbers[0] + 1;
                for _ in 0..count {
                    assert!(set <= left, "seed {seed}: {}", step.rip);
                    left -= set + 30;
                    ripped += 1;
                }
            }
        }
    }
    assert!(ripped > 100, "{ripped}");
}

#[test]
fn a_short_piece_is_not_fed_by_hand_and_a_treated_board_is_not_ripped() {
    let short = planned(&narrow_parts(&[("a", "250", "2", "40")])).1;
    assert!(rip_of(&short).starts_with("in a jig that holds it, for it is short; fence"));
    let treated = planned(&job(|draft| {
        boards(draft, "2400");
        draft.sections[0].treated = some("yes");
        narrow(draft, "a", "900", "1", "40");
    }));
    let steps = &treated.1.boards[0].steps;
    assert!(steps.iter().all(|step| step.kind != StepKind::Rip));
    assert_eq!(steps[0].rip, "do not rip it: its board is treated");
    assert!(
        treated
            .1
            .cautions
            .iter()
            .any(|text| text.contains("do not rip it"))
    );
    assert!(
        short
            .cautions
            .iter()
            .any(|text| text.starts_with("Never rip at a mitre saw"))
    );
}

#[test]
fn a_spoiled_blank_is_wanted_again_as_the_parts_it_was_to_give_and_they_share_again() {
    let job = narrow_parts(&[("a", "900", "4", "40"), ("b", "600", "1", "30")]);
    assert_eq!(
        blanks(&job),
        [(vec![0, 0, 0], 900, 1), (vec![0, 1], 900, 1)]
    );
    let plan = plan_of(&job);
    let cuts = plan.boards[0].runs[0].cuts.iter();
    let order: Vec<usize> = cuts.map(|cut| cut.part).collect();
    assert_eq!(order, [0, 1]);
    let file: Value = json!({
        "format": "lengthwise-job", "version": 1, "saw": { "kerf": "3" },
        "sections": [{ "name": "board", "thickness": "25", "width": "145", "trim": "0" }],
        "yard": [{ "section": "board", "length": "2400" }],
        "parts": [{ "label": "a", "length": "900", "quantity": 4, "ripped": "40" },
            { "label": "b", "length": "600", "quantity": 1, "ripped": "30" }],
    });
    let progress = json!({ "boards": [{ "board": 0, "cut": 2, "spoiled": [1] }], "bought": [{ "line": 0, "count": 1 }] });
    let request =
        json!({ "job": file, "plan": plan_file::write_value(&plan), "progress": progress });
    let left = asked("remaining", &request);
    let parts = left["job"]["parts"].as_array().expect("parts");
    let told = |part: &Value| {
        (
            part["label"].clone(),
            part["quantity"].clone(),
            part["ripped"].clone(),
        )
    };
    assert_eq!(
        parts.iter().map(told).collect::<Vec<_>>(),
        [
            (json!("a"), json!("1"), json!("40 mm")),
            (json!("b"), json!("1"), json!("30 mm")),
        ]
    );
    let (draft, _) = job_file::read_value(&left["job"]);
    let again = validate(&draft).expect("a job");
    assert_eq!(blanks(&again), [(vec![0, 1], 900, 1)]);
    // Work begun on a plan in which every strip had a piece of its own: one of five is cut.
    let old = plan_of(&job.without_blanks());
    let one =
        json!({ "boards": [{ "board": 0, "cut": 1 }], "bought": [{ "line": 0, "count": 1 }] });
    let request =
        json!({ "job": request["job"], "plan": plan_file::write_value(&old), "progress": one });
    let left = asked("remaining", &request);
    let wanted = |label: &str| {
        let parts = left["job"]["parts"].as_array().expect("parts").iter();
        let of = parts.filter(|part| part["label"] == label);
        of.map(|part| {
            part["quantity"]
                .as_str()
                .and_then(|text| text.parse::<u32>().ok())
        })
        .next()
        .flatten()
    };
    let first = old.boards[0].runs[0].cuts[0].part;
    let expected = if first == 0 {
        [Some(3), Some(1)]
    } else {
        [Some(4), None]
    };
    assert_eq!([wanted("a"), wanted("b")], expected);
}

#[test]
fn pieces_that_are_planned_together_share_boards() {
    let piece = |name: &str| {
        json!({ "format": "lengthwise-job", "version": 1, "piece": name, "sections": [{ "name": "board", "thickness": "25", "width": "145" }],
            "yard": [{ "length": "2400" }],
            "set_outs": [{ "kind": "boarding", "name": "face", "width": "185", "height": "900", "gap": "0", "edges": "rip the last board only" }] })
    };
    let joint = asked("join", &json!({ "jobs": [piece("gate"), piece("store")] }));
    let (draft, _) = job_file::read_value(&joint["job"]);
    let job = validate(&draft).expect("a job");
    assert_eq!(blanks(&job), [(vec![1, 3], 900, 1)]);
}

fn asked(action: &str, request: &Value) -> Value {
    let reply: Value =
        serde_json::from_str(&api::call(action, &request.to_string())).expect("JSON");
    assert!(reply.get("job").is_some(), "{reply}");
    reply
}
