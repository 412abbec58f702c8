//! How parts may lie and which cuts they may share, told a second time as turns of a board in space.
//!
//! A cut is a line `x = m y`, `x` along the board and `y` away from the person. A half-turn about the normal of the face takes both `x` and `y` to
//! their negatives, one about the length `y` alone, one about the width `x` alone. The last two bring the other face up; the first two the other edge
//! to the person.

use super::{job, mm, placed, some, ticks};
use crate::cuts::mitre_waste;
use crate::sharing::{Lean, Sharing, lying_leans, may_lie};
use timber::job::{Angle, Job, JobDraft, Leans, PartEnd};
use timber::plan::{Edge, Lies};

const LIES: [Lies; 2] = [Lies::AsWritten, Lies::Turned];
const EDGES: [Edge; 2] = [Edge::Far, Edge::Near];
const ENDS: [&str; 4] = ["square", "30; square", "square; 30", "30"];

fn sides(draft: &mut JobDraft, faces: bool, edges: bool) {
    let word = |alike: bool| some(if alike { "alike" } else { "different" });
    draft.sections[0].faces = word(faces);
    draft.sections[0].edges = word(edges);
}

fn leaning(ends: &str, same: bool) -> Job {
    job(&[], &[("400", ends, "1")], |draft| {
        draft.parts[0].leans = same.then(|| "the same way".to_owned());
    })
}

#[test]
fn leans_are_those_of_the_turned_lines() {
    for (ends, same) in ENDS
        .into_iter()
        .flat_map(|ends| [(ends, false), (ends, true)])
    {
        if same && ends != "30" {
            continue;
        }
        let job = leaning(ends, same);
        let part = &job.parts[0];
        let angled = part.ends.map(|end| end != PartEnd::Square);
        // As it is written the long points are away from the person: the first end runs to the left, the second to the right. A brace has its
        // second end's long point towards the person.
        let second = if part.leans == Leans::Same && same {
            -1
        } else {
            1
        };
        let written = [-i32::from(angled[0]), second * i32::from(angled[1])];
        for (lies, edge) in LIES
            .into_iter()
            .flat_map(|lies| EDGES.map(|edge| (lies, edge)))
        {
            let [mut near, mut away] = written;
            if lies == Lies::Turned {
                (near, away) = (-away, -near);
            }
            if edge == Edge::Near {
                (near, away) = (-near, -away);
            }
            let lean = |slope: i32| match slope {
                0 => None,
                slope if slope > 0 => Some(Lean::Right),
                _ => Some(Lean::Left),
            };
            let mut lying = placed(0, mm(0), mm(400));
            (lying.lies, lying.long_edge) = (lies, edge);
            assert_eq!(
                lying_leans(part, &lying),
                [lean(near), lean(away)],
                "{ends} {same} {lies:?} {edge:?}"
            );
        }
    }
}

#[test]
fn a_part_is_turned_only_so_that_what_shows_is_alike() {
    for (faces, edges) in [(true, true), (true, false), (false, true), (false, false)] {
        for ends in ENDS {
            let job = job(&[], &[("400", ends, "1")], |draft| {
                sides(draft, faces, edges)
            });
            for (lies, edge) in LIES
                .into_iter()
                .flat_map(|lies| EDGES.map(|edge| (lies, edge)))
            {
                // Which of x and y change says which half-turn it is.
                let (x, y) = (lies == Lies::Turned, edge == Edge::Near);
                let other_face = x != y;
                let other_edge = y;
                let allowed = (faces || !other_face) && (edges || !other_edge);
                // Of a square part it cannot be seen which half-turn changed its ends, nor that its long edge is another.
                let expected = match ends {
                    "square" => !x || faces || edges,
                    _ => allowed,
                };
                let sides = (job.sections[0].faces, job.sections[0].edges);
                let mut lying = placed(0, mm(0), mm(400));
                (lying.lies, lying.long_edge) = (lies, edge);
                assert_eq!(
                    may_lie(&job, sides, &lying),
                    expected,
                    "{faces} {edges} {ends} {lies:?} {edge:?}"
                );
            }
        }
    }
}

#[test]
fn a_part_of_two_angles_shares_cuts_where_faces_and_edges_are_alike_and_its_section_has_three_angles_at_most()
 {
    for (faces, edges) in [(true, true), (true, false), (false, true), (false, false)] {
        for (third, few) in [("25", true), ("25; 35", false)] {
            let parts = [
                ("400", "30; 45", "1"),
                ("400", third, "1"),
                ("400", "30", "1"),
            ];
            let job = job(&[], &parts, |draft| sides(draft, faces, edges));
            let sharing = Sharing::of(&job, 0);
            let may = |part: usize| sharing.may(&job.parts[part]);
            assert_eq!(may(0), faces && edges && few, "{faces} {edges} {third}");
            assert!(may(2));
        }
    }
}

#[test]
fn a_part_shares_cuts_where_it_is_as_long_as_both_ends_stand_back_or_has_parallel_ends() {
    // At 45 degrees a rail 40 wide stands back by 40 at each end.
    for same in [false, true] {
        let mut job = leaning("45", same);
        let mut may = |length| {
            job.parts[0].length = length;
            Sharing::of(&job, 0).may(&job.parts[0])
        };
        assert!(may(mm(80)));
        assert_eq!(may(mm(80) - ticks(1)), same);
    }
    // Ends of two angles are not parallel, however they lean: 40 tan 45 and 40 tan 30 are 63.09 mm.
    let mut job = leaning("45; 30", true);
    job.parts[0].length = mm(64);
    assert!(Sharing::of(&job, 0).may(&job.parts[0]));
    job.parts[0].length = mm(63);
    assert!(!Sharing::of(&job, 0).may(&job.parts[0]));
    let mut job = leaning("45; square", false);
    job.parts[0].length = mm(40);
    assert!(Sharing::of(&job, 0).may(&job.parts[0]));
    job.parts[0].length = mm(40) - ticks(1);
    assert!(!Sharing::of(&job, 0).may(&job.parts[0]));
}

#[test]
fn ends_overlap_by_half_of_what_they_stand_back_beyond_the_cut_and_waste_half_of_what_they_stand_back()
 {
    // Own arithmetic: 40 tan 45 = 40 mm is 128 000 ticks, and 3 / cos 45 = 4.2426 mm is 13 577 ticks, rounded up.
    for (ends, angled) in [
        ("square", 0),
        ("45; square", 1),
        ("square; 45", 1),
        ("45", 2),
    ] {
        let job = leaning(ends, false);
        let part = &job.parts[0];
        let twice = angled * (128_000 - 13_577);
        assert_eq!(
            Sharing::of(&job, 0).most_overlap(part),
            ticks((twice + 1) / 2),
            "{ends}"
        );
        assert_eq!(
            mitre_waste(&job.sections[0], part),
            ticks(angled * 64_000),
            "{ends}"
        );
    }
    // Own arithmetic: 40 tan 30 = 23.0940 mm is 73 900 ticks, rounded down, and 41 tan 30 = 23.6713 mm 75 748; so odd widths are rounded up.
    let mut job = leaning("30; square", false);
    job.sections[0].width = Some(mm(40) + ticks(2));
    // 128 002 tan 30 = 73 901.99...
    assert_eq!(mitre_waste(&job.sections[0], &job.parts[0]), ticks(36_951));
    // With the blade tilted by 45 as well, 20 tan 45 / cos 45 = 28.2843 mm through a board of 20: half of 40 and that is 34.1421 mm.
    let mut tilted = leaning("45; square", false);
    tilted.sections[0].thickness = Some(mm(20));
    let both = Angle::tilted(Angle::from_millidegrees(45_000), 45_000).expect("an angle");
    tilted.parts[0].ends[0] = PartEnd::Mitre(both);
    let waste = mitre_waste(&tilted.sections[0], &tilted.parts[0]).ticks();
    assert!((109_255..=109_256).contains(&waste), "{waste}");
    // A part too short to share overlaps nothing.
    job.parts[0].length = mm(20);
    assert_eq!(Sharing::of(&job, 0).most_overlap(&job.parts[0]), ticks(0));
}

#[test]
fn a_cut_that_saves_less_than_the_widest_takes_beyond_a_square_one_is_not_shared() {
    // Own arithmetic: at 60 degrees the cut is 3 / cos 60 = 6 mm, three beyond a square one. 40 tan t is 3 mm at 4.289 degrees.
    let may = |ends: &str| {
        let parts = [("400", ends, "1"), ("400", "60; square", "1")];
        let job = job(&[], &parts, |_| ());
        Sharing::of(&job, 0).may(&job.parts[0])
    };
    assert!(!may("4.2; square"));
    assert!(may("4.4; square"));
    assert!(!may("4.2; 45"));
    // Parts of other sections have no say.
    let parts = [("400", "4.2; square", "1")];
    let alone = job(&[], &parts, |_| ());
    assert!(Sharing::of(&alone, 0).may(&alone.parts[0]));
}
