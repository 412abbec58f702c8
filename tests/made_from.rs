//! What a part says it is made from: new timber only, shed boards only, or anything.
//!
//! `reference` compares many such jobs with another solver; here are the few by hand, and what is said of them.

mod common;

use common::hand::{self, marked};
use common::{checked, job, planned, proven};
use lengthwise::check::{Lie, Verdict, check};
use lengthwise::group::{Stock, groups};
use lengthwise::job::{Job, MadeFrom, Timber, validate};
use lengthwise::piece::piece_text;
use lengthwise::plan::{Measure, Plan, Source};
use lengthwise::planner::Planned;
use lengthwise::wording::lack_text;

/// Two rails of 1000 and a stile of 900 of a gate, no kerf and no trims; lengths of 2 m, and a board of 1 m and one of 950 in the shed.
fn gate(rail: &str, stile: &str) -> Job {
    job(&format!(
        r#"{{"format":"lengthwise-job","saw":{{"kerf":"0","keep":"300"}},"sections":[{{"name":"rail","trim":"0"}}],
            "yard":[{{"length":"2000","price":"5"}}],
            "shed":[{{"mark":"A","length":"1000","trim":"0"}},{{"mark":"B","length":"950","trim":"0"}}],
            "parts":[{{"label":"rail","length":"1000","quantity":2,"from":"{rail}"}},
                     {{"label":"stile","length":"900","from":"{stile}"}}]}}"#
    ))
}

/// Where each part of the plan is cut: its index, and whether from the shed.
fn cut_from(plan: &Plan) -> Vec<(usize, bool)> {
    let boards = plan.boards.iter().flat_map(|board| {
        let shed = matches!(board.source, Source::Shed(_));
        let cuts = board.runs.iter().flat_map(|run| &run.cuts);
        cuts.map(move |cut| (cut.part, shed))
    });
    let mut all: Vec<(usize, bool)> = boards.collect();
    all.sort_unstable();
    all
}

#[test]
fn parts_are_cut_from_the_timber_they_ask_for_and_the_least_of_it_is_proven() {
    // Own arithmetic. One rail and the stile fit in the shed, the other rail takes a length. With both rails of new timber one length
    // is enough, and the shed has the stile; with all of new timber 2.9 m take two lengths.
    let (new, shed) = (false, true);
    for (rail, stile, bought, asked) in [
        ("anything", "anything", 1, vec![]),
        ("new timber only", "anything", 1, vec![(0, new)]),
        (
            "new timber only",
            "new timber only",
            2,
            vec![(0, new), (1, new)],
        ),
        ("anything", "shed boards only", 1, vec![(1, shed)]),
    ] {
        let checked = checked(&gate(rail, stile));
        assert_eq!(proven(&checked, Measure::Bought), bought, "{rail}; {stile}");
        assert_eq!(proven(&checked, Measure::Money), 500 * bought);
        assert_eq!(checked.verdict(), Verdict::Proven);
        let cut = cut_from(checked.plan());
        assert_eq!(cut.len(), 3);
        for (part, shed) in asked {
            assert!(!cut.contains(&(part, !shed)), "{rail}; {stile}: {cut:?}");
        }
    }
}

#[test]
fn a_board_of_the_shed_that_counts_as_new_timber_is_new_timber_and_no_shed_board() {
    let mut fresh = gate("new timber only", "new timber only");
    fresh.shed[1].new = true;
    // The stile lies on it.
    assert_eq!(proven(&checked(&fresh), Measure::Bought), 1);
    let mut none = gate("anything", "shed boards only");
    for board in &mut none.shed {
        board.new = true;
    }
    assert!(matches!(planned(&none), Planned::Impossible(_)));
}

#[test]
fn figures_of_parts_that_ask_for_new_timber_prove_nothing_where_they_do_not_ask() {
    // All of new timber takes two lengths; where anything will do, one.
    let choosy = gate("new timber only", "new timber only");
    let Planned::Found(plan) = planned(&choosy) else {
        panic!("a plan");
    };
    assert!(check(&choosy, plan.clone()).is_ok());
    let free = gate("anything", "anything");
    let lies = check(&free, plan.clone()).expect_err("one length is enough");
    assert!(
        matches!(lies[0], Lie::BoundNotShown { measure: Measure::Bought, claimed: 2, shown } if shown < 2),
        "{lies:?}"
    );
    // Priced by their lengths the parts need two lengths where boards of the shed hold none of them: the same prices show that there.
    let Planned::Found(mut priced) = planned(&free) else {
        panic!("a plan");
    };
    priced.boards = plan.boards;
    priced.proofs[0].levels.truncate(1);
    priced.proofs[0].levels[0].value = 2;
    priced.proofs[0].levels[0].bound = 2;
    marked(&mut priced, 0, |claim| claim.bound = 2);
    let shown = |job: &Job| {
        check(job, priced.clone()).map(|checked| checked.groups()[0].levels[0].is_shown())
    };
    assert_eq!(shown(&choosy), Ok(true));
    let lies = shown(&free).expect_err("one length is enough");
    assert!(
        matches!(
            lies[..],
            [Lie::BoundNotShown {
                measure: Measure::Bought,
                claimed: 2,
                shown: 1
            }]
        ),
        "{lies:?}"
    );
}

#[test]
fn only_a_section_whose_parts_ask_is_two_to_the_planner() {
    let free = gate("anything", "anything");
    let both = |timber| Stock { section: 0, timber };
    assert_eq!(groups(&free)[0].stocks, [both(None)]);
    let choosy = gate("anything", "shed boards only");
    let [new, old] = [true, false].map(|new| both(Some(Timber { new, rips: true })));
    assert_eq!(groups(&choosy)[0].stocks, [new, old]);
    // What no part may be made of is left out, and its boards with it.
    let shed = gate("shed boards only", "shed boards only");
    let group = &groups(&shed)[0];
    assert_eq!(group.stocks, [old]);
    assert_eq!(group.boards, [Source::Shed(0), Source::Shed(1)]);
}

#[test]
fn what_can_never_be_made_is_named_with_its_cause_and_a_way_out() {
    let lacks = |job: &Job| -> Vec<String> {
        match planned(job) {
            Planned::Impossible(lacks) => lacks.iter().map(|lack| lack_text(job, lack)).collect(),
            other => panic!("{other:?}"),
        }
    };
    let mut long = gate("anything", "shed boards only");
    long.parts[1].length = hand::mm(1_100);
    assert_eq!(
        lacks(&long),
        [
            "\"stile\" is 1100 mm long and made from shed boards only, and no shed board of rail takes it; add a longer board to the shed, \
             let it be made from anything, or shorten it"
        ]
    );
    let mut short = gate("anything", "new timber only");
    short.yard[0].length = hand::mm(800);
    short.parts[0].made_from = MadeFrom::Shed;
    short.parts[0].quantity = 1;
    assert_eq!(
        lacks(&short),
        [
            "\"stile\" is 900 mm long and made from new timber only, and no new timber of rail takes it; add a longer length to the yard, \
             let it be made from anything, or shorten it"
        ]
    );
    // Both rails fit on the board of 1 m, but not at once.
    assert_eq!(
        lacks(&gate("shed boards only", "anything")),
        [
            "there are too few boards of rail: at least one part is left over however they are cut; add timber that they may be made from, \
             or let them be made from anything"
        ]
    );
}

#[test]
fn lists_say_what_a_part_is_made_from_and_a_set_out_says_it_of_all_its_parts() {
    let text = piece_text(&gate("new timber only", "anything"));
    assert!(
        text.contains("  2 x rail, 1000 mm, rail, new timber only\n  1 x stile, 900 mm, rail\n"),
        "{text}"
    );
    let draft = hand::draft_of(|draft| {
        draft.section("lath", |section| {
            section.thickness = Some("20".into());
            section.width = Some("45".into());
        });
        draft.set_out(
            "fence",
            "slats",
            &[
                ("span", "900"),
                ("length", "600"),
                ("section", "lath"),
                ("from", "shed boards only"),
            ],
        );
    });
    let job = validate(&draft).expect("a job");
    assert_eq!(job.parts[0].made_from, MadeFrom::Shed);
}
