//! What may share a blank, one condition after the other, and within what the choice of blanks is then shown to be the best.

use super::{job, mm, some};
use crate::blanks::{check_blanks, within, within_section};
use crate::groups::groups;
use crate::lie::Lie;
use timber::angle::Angle;
use timber::job::{EdgeJoint, Fitting, Job, Keeps, MadeFrom, PartEnd, Sides, Treated};
use timber::plan::Within;

/// Two slats of 15 and a batten of 10, as long as each other, out of a rail of 40 with a kerf of 3: side by side they take 46, so that a slat has a rail to itself.
pub(crate) fn fence() -> Job {
    let job = job(
        &[],
        &[("400", "square", "2"), ("400", "square", "1")],
        |draft| {
            draft.sections[0].thickness = some("20");
            draft.parts[0].ripped = some("15");
            draft.parts[1].ripped = some("10");
        },
    );
    assert_eq!(strips(&job), [vec![0, 0], vec![1]]);
    job
}

fn strips(job: &Job) -> Vec<Vec<usize>> {
    job.parts.iter().map(|part| part.strips.clone()).collect()
}

fn lies(job: &Job) -> Vec<Lie> {
    let mut lies = Vec::new();
    check_blanks(job, &mut lies);
    lies
}

#[test]
fn each_condition_of_sharing_a_blank_is_asked_of_its_strips() {
    assert_eq!(lies(&fence()), []);
    let unlike = [Lie::UnlikeStrips { part: 0, row: 0 }];
    let mitre = PartEnd::Mitre(Angle::from_millidegrees(45_000).expect("an angle"));
    let of_the_part: [&dyn Fn(&mut timber::job::Part); 9] = [
        &|part| part.ends[0] = mitre,
        &|part| part.ends[1] = mitre,
        &|part| part.fitting = Fitting::Between,
        &|part| part.fitting = Fitting::Ground,
        &|part| part.good_face = true,
        &|part| part.pair = true,
        &|part| part.sections = vec![0, 0],
        &|part| part.made_from = MadeFrom::New,
        &|part| part.rip = None,
    ];
    for (nth, change) in of_the_part.iter().enumerate() {
        let mut job = fence();
        change(&mut job.list[0]);
        let found = lies(&job);
        assert_eq!(found[..1], unlike, "{nth}: {found:?}");
    }
    let of_the_section: [&dyn Fn(&mut timber::job::Section); 5] = [
        &|section| section.treated = Treated::Yes,
        &|section| section.treated = Treated::Unknown,
        &|section| section.width = None,
        &|section| section.edges = Sides::Different,
        &|section| section.joint = EdgeJoint::Tongued,
    ];
    for (nth, change) in of_the_section.iter().enumerate() {
        let mut job = fence();
        change(&mut job.sections[0]);
        assert_eq!(lies(&job), unlike, "{nth}");
    }
    let mut saw = fence();
    saw.saw.rips = false;
    assert_eq!(lies(&saw), unlike);
}

#[test]
fn a_strip_alone_is_cut_as_its_part_is() {
    let unlike = [Lie::UnlikeStrips { part: 1, row: 1 }];
    let changes: [&dyn Fn(&mut timber::job::Part); 5] = [
        &|part| part.length = mm(401),
        &|part| part.ends[1] = PartEnd::Mitre(Angle::from_millidegrees(30_000).expect("an angle")),
        &|part| part.fitting = Fitting::Between,
        &|part| part.made_from = MadeFrom::Shed,
        &|part| part.good_face = true,
    ];
    for (nth, change) in changes.iter().enumerate() {
        let mut job = fence();
        change(&mut job.parts[1]);
        assert_eq!(lies(&job), unlike, "{nth}");
    }
}

#[test]
fn an_edge_is_kept_once_and_a_strip_is_wider_than_the_lap_it_keeps() {
    let lapped = |one, other, cover: i64| {
        let mut job = fence();
        let section = &mut job.sections[0];
        (section.joint, section.cover) = (EdgeJoint::Lapped, Some(mm(cover)));
        job.parts[0].strips = vec![0, 1];
        job.parts.truncate(1);
        (job.list[0].quantity, job.parts[0].quantity) = (1, 1);
        for (row, keeps) in [one, other].into_iter().enumerate() {
            job.list[row].rip.as_mut().expect("a strip").keeps = keeps;
        }
        lies(&job)
    };
    assert_eq!(lapped(Keeps::First, Keeps::Last, 31), []);
    let twice = [Lie::UnlikeStrips { part: 0, row: 1 }];
    assert_eq!(lapped(Keeps::First, Keeps::First, 31), twice);
    assert_eq!(lapped(Keeps::Last, Keeps::Last, 31), twice);
    assert_eq!(lapped(Keeps::First, Keeps::Either, 31), twice);
    // The batten of 10 keeps a lap of 10.
    let lap = [Lie::RippedIntoItsLap { part: 0, row: 1 }];
    assert_eq!(lapped(Keeps::First, Keeps::Last, 30), lap);
}

#[test]
fn a_blank_is_as_long_as_its_longest_strip_and_no_wider_than_its_board() {
    let mut longer = fence();
    longer.parts[0].length = mm(401);
    assert_eq!(lies(&longer), [Lie::WrongBlank { part: 0 }]);
    let mut angled = fence();
    angled.parts[0].ends[0] = PartEnd::Mitre(Angle::from_millidegrees(45_000).expect("an angle"));
    assert_eq!(lies(&angled), [Lie::WrongBlank { part: 0 }]);
    let mut between = fence();
    between.parts[0].fitting = Fitting::Between;
    assert_eq!(lies(&between), [Lie::WrongBlank { part: 0 }]);
    // 15 + 3 + 22 is 40, and a step of the tape more is too wide.
    let second = |width| {
        let mut job = fence();
        job.parts[0].strips = vec![0, 1];
        (job.list[0].quantity, job.parts[0].quantity) = (1, 1);
        job.parts.truncate(1);
        job.list[1].rip.as_mut().expect("a strip").width = width;
        lies(&job)
    };
    assert_eq!(second(mm(22)), []);
    let wide = [Lie::BlankTooWide { part: 0, by: mm(1) }];
    assert_eq!(second(mm(22) + super::ticks(1)), wide);
    let mut fewer = fence();
    fewer.list[1].quantity = 2;
    let miscounted = Lie::StripsMiscounted {
        row: 1,
        wanted: 2,
        cut: 1,
    };
    assert_eq!(lies(&fewer), [miscounted]);
}

#[test]
fn how_far_the_choice_of_blanks_is_the_best_follows_from_the_strips() {
    assert_eq!(within_section(&fence(), 0), Within::Everything);
    let changed = |change: &dyn Fn(&mut Job)| {
        let mut job = fence();
        change(&mut job);
        within_section(&job, 0)
    };
    // Two lengths, and as few blanks as can be for each.
    let shorter = |job: &mut Job| {
        (job.list[1].length, job.parts[1].length) = (mm(300), mm(300));
    };
    assert_eq!(changed(&shorter), Within::SideBySide);
    // Two blanks of the greater length, where one holds all strips so long.
    assert_eq!(
        changed(&|job| job.list[1].length = mm(300)),
        Within::TheseBlanks
    );
    // A blank more than is needed: 10 + 3 + 15 fit in 40.
    let apart = |job: &mut Job| {
        let blank = job.parts[1].clone();
        job.parts[0].strips = vec![0];
        job.parts.push(timber::job::Part {
            strips: vec![0],
            ..blank
        });
    };
    assert_eq!(changed(&apart), Within::TheseBlanks);
    // Whole parts are no blanks, nor are the strips of another section.
    let others = |job: &mut Job| {
        let whole = timber::job::Part {
            strips: vec![],
            quantity: 5,
            ..job.parts[0].clone()
        };
        let elsewhere = timber::job::Part {
            strips: vec![0],
            sections: vec![1],
            ..whole.clone()
        };
        job.parts.extend([whole, elsewhere]);
    };
    assert_eq!(changed(&others), Within::Everything);
    // Timber of one sort for all, and strips that may share.
    assert_eq!(
        changed(&|job| job.list[1].made_from = MadeFrom::New),
        Within::TheseBlanks
    );
    assert_eq!(changed(&|job| job.list[1].pair = true), Within::TheseBlanks);
    // No two lie side by side: 19 + 3 + 19 is 41, and of 18.5 two do.
    let wide = |tenths: i64| {
        changed(&|job| {
            job.list[0].pair = true;
            for part in &mut job.list {
                part.rip.as_mut().expect("a strip").width = super::ticks(tenths * 320);
            }
        })
    };
    assert_eq!(wide(190), Within::Everything);
    assert_eq!(wide(185), Within::TheseBlanks);
    // A single strip has nothing to share with.
    let alone = |job: &mut Job| {
        job.list.truncate(1);
        (job.list[0].quantity, job.list[0].pair) = (1, true);
    };
    assert_eq!(changed(&alone), Within::Everything);
    // Nothing lies side by side where nothing is ripped.
    assert_eq!(
        changed(&|job| (job.saw.rips, job.list[0].pair) = (false, true)),
        Within::Everything
    );
    let treated = |job: &mut Job| {
        (job.sections[0].treated, job.list[0].pair) = (Treated::Yes, true);
    };
    assert_eq!(changed(&treated), Within::Everything);
}

#[test]
fn what_is_said_of_a_group_is_what_holds_for_its_sections() {
    let mut job = fence();
    assert_eq!(within(&job, &groups(&job)[0]), Within::Everything);
    (job.list[1].length, job.parts[1].length) = (mm(300), mm(300));
    assert_eq!(within(&job, &groups(&job)[0]), Within::SideBySide);
    job.list[1].pair = true;
    assert_eq!(within(&job, &groups(&job)[0]), Within::TheseBlanks);
}
