//! Bounds that need no search: how much the lengths of all parts need, and which lengths can be used up at all.
//!
//! The right answers are worked out beside each job, from its sizes and the usual ones: 2.4 mm of kerf, 10 mm of trim at each end of a new
//! length, 50 mm at each end of a board in the shed.

mod common;

use common::hand::job;
use common::planned_within;
use lengthwise::check::{Backing, check};
use lengthwise::job::Job;
use lengthwise::plan::{Level, Measure, Plan};
use lengthwise::planner::Planned;

/// A plan after so many looks at the clock.
#[track_caller]
fn planned(job: &Job, looks: u64) -> Plan {
    match planned_within(job, looks) {
        Planned::Found(plan) => plan,
        other => panic!("no plan: {other:?}"),
    }
}

fn level(plan: &Plan, measure: Measure) -> Level {
    let levels = &plan.proofs[0].levels;
    *levels
        .iter()
        .find(|level| level.measure == measure)
        .expect("the level")
}

/// What is known after one check of the clock is what the material needs, and the checker confirms all of it.
#[track_caller]
fn asks_for(job: &Job, bounds: &[(Measure, i64)]) {
    let plan = planned(job, 1);
    for &(measure, bound) in bounds {
        assert_eq!(level(&plan, measure).bound, bound, "{measure:?}");
    }
    let checked = check(job, plan).unwrap_or_else(|lies| panic!("lies: {lies:?}"));
    for level in &checked.groups()[0].levels {
        assert_eq!(level.backing, Backing::ReProved, "{level:?}");
    }
    for looks in 2..60 {
        let plan = planned(job, looks);
        for &(measure, bound) in bounds {
            let found = level(&plan, measure).bound;
            assert!(found >= bound, "{measure:?} after {looks} looks: {found}");
        }
        check(job, plan).unwrap_or_else(|lies| panic!("lies after {looks} looks: {lies:?}"));
    }
}

/// 37 rails of a metre from lengths of 4.8 m, of which each holds four.
fn rails(aim: &str) -> Job {
    job(|draft| {
        draft.own.aim = Some(aim.into());
        draft.section("47 x 75", |_| {});
        draft.yard("47 x 75", "4800", Some("10.00"), None);
        draft.part("rail", "47 x 75", "1000", "37", "square");
    })
}

#[test]
fn without_time_a_bound_is_what_the_lengths_add_up_to() {
    // 37 x 1002.4 = 37 088.8 mm, and a length holds 4780 and the last cut beyond it: 7.76 of them, so 8 of 10.00. Each rail uses up
    // itself and a cut: 37 x 2.4 = 88.8 mm of scrap.
    asks_for(
        &rails("fewest"),
        &[
            (Measure::Bought, 8),
            (Measure::Money, 8_000),
            (Measure::Scrap, 88_800 * 32 / 10),
        ],
    );
    // Of the length bought, 8 whole lengths.
    asks_for(
        &rails("shortest"),
        &[
            (Measure::BoughtLength, 8 * 4_800 * 3_200),
            (Measure::Money, 8_000),
        ],
    );
}

#[test]
fn what_is_free_or_cheap_counts_only_as_far_as_it_goes() {
    // 20 x 702.4 = 14 048 mm. The shed holds 1902.4 of them for nothing, two lengths of 2.4 m 2382.4 each for 4.00; the other 7380.8
    // go into 2982.4 for each 6.00. That is 22.85 in all, and the next sum of 4.00 twice at most and 6.00 is 24.00.
    let job = job(|draft| {
        draft.own.aim = Some("cheapest".into());
        draft.section("47 x 75", |_| {});
        draft.yard("47 x 75", "2400", Some("4.00"), Some("2"));
        draft.yard("47 x 75", "3000", Some("6.00"), None);
        draft.shed("1", "47 x 75", "2000", "");
        draft.part("post", "47 x 75", "700", "20", "square");
    });
    asks_for(&job, &[(Measure::Money, 2_400)]);
}

#[test]
fn mitred_parts_ask_for_what_they_take_where_they_share_their_cuts() {
    for ends in ["45", "45; square", "30; 45", "square; 30"] {
        let job = job(|draft| {
            draft.section("95", |section| section.width = Some("95".into()));
            draft.yard("95", "3000", Some("6.00"), None);
            draft.yard("95", "4200", Some("8.15"), Some("3"));
            draft.shed("1", "95", "1950", "700..730");
            draft.part("frame", "95", "640", "17", ends);
            draft.part("brace", "95", "410", "9", "45");
        });
        // The checker adds up what any cutting of a board is worth by each of its own sums, and refuses prices that say too much.
        asks_for(&job, &[]);
    }
}

#[test]
fn a_job_too_large_for_a_program_has_the_bounds_of_its_material() {
    // 2000 parts from 500 to 2499 mm and 700 boards in the shed from 560 to 1259 mm, all different. The parts and cuts come to 2000 x
    // (1499.5 + 2.4) = 3 003 800 mm. Less its trims a board of 600 mm holds the shortest part, those below hold nothing; the 660 others
    // hold 660 x (929.5 - 100 + 2.4) = 549 054 with a last cut each. What is left is 2 454 746, of which a length of 6 m takes 5982.4: 410.3 of them.
    let job = job(|draft| {
        draft.section("47 x 75", |_| {});
        draft.yard("47 x 75", "6000", Some("15.00"), None);
        for board in 0..700 {
            draft.shed(
                &board.to_string(),
                "47 x 75",
                &(560 + board).to_string(),
                "",
            );
        }
        for part in 0..2_000 {
            let length = (500 + part).to_string();
            draft.part(&part.to_string(), "47 x 75", &length, "1", "square");
        }
    });
    let plan = planned(&job, 5);
    assert_eq!(level(&plan, Measure::Bought).bound, 411);
    assert_eq!(level(&plan, Measure::Money).bound, 411 * 1_500);
}

#[test]
fn a_bound_on_the_scrap_is_a_length_that_can_be_used_up() {
    // Boards in whole millimetres and parts in halves of one; with cuts of 2.4 mm all that is used up is a multiple of 0.1 mm, and of
    // 320 ticks.
    let job = job(|draft| {
        draft.section("47 x 75", |_| {});
        draft.yard("47 x 75", "2400", Some("4.00"), Some("3"));
        draft.yard("47 x 75", "3900", Some("7.00"), None);
        draft.shed("1", "47 x 75", "1750", "600..640");
        for (name, length, count) in [
            ("a", "610.5", "7"),
            ("b", "845", "5"),
            ("c", "333.5", "9"),
            ("d", "1210", "3"),
        ] {
            draft.part(name, "47 x 75", length, count, "square");
        }
    });
    let mut open = 0;
    for looks in (1..400).step_by(3) {
        let plan = planned(&job, looks);
        let scrap = level(&plan, Measure::Scrap);
        assert_eq!(scrap.bound % 320, 0, "after {looks} looks: {scrap:?}");
        open += usize::from(scrap.bound > 0 && scrap.bound < scrap.value);
        check(&job, plan).unwrap_or_else(|lies| panic!("lies after {looks} looks: {lies:?}"));
    }
    assert!(open > 10, "bounds of a search under way: {open}");
}
