//! What parts that lie together are worth, against every arrangement of them.

use super::*;
use crate::cuts::{cut_width, stands_back};
use crate::steps::with_steps;
use crate::wood::stocks;
use timber::job::{
    Angle, Job, JobDraft, Leans, PartDraft, PartEnd, SectionDraft, Sides, YardDraft, validate,
};

/// A job of one section 20 wide with a kerf of 3, its faces and edges alike or not, its parts as (length, ends, leans, how many).
fn job([faces, edges]: [&str; 2], parts: &[(&str, &str, &str, &str)]) -> Job {
    let some = |text: &str| Some(text.to_owned());
    let mut draft = JobDraft::default();
    draft.saw.kerf = some("3");
    draft.saw.keep = some("40");
    draft.sections.push(SectionDraft {
        name: some("20 x 20"),
        thickness: some("20"),
        width: some("20"),
        faces: some(faces),
        edges: some(edges),
        ..SectionDraft::default()
    });
    draft.yard.push(YardDraft {
        section: some("20 x 20"),
        length: some("1000"),
        ..YardDraft::default()
    });
    for (index, (length, ends, leans, quantity)) in parts.iter().enumerate() {
        draft.parts.push(PartDraft {
            spares: None,
            letter: None,
            label: Some(format!("part {index}")),
            section: some("20 x 20"),
            length: some(length),
            quantity: some(quantity),
            ends: some(ends),
            leans: some(leans),
            over: None,
            goes: None,
            from: None,
            face: None,
            hand: None,
            ripped: None,
            keeps: None,
            bevel: None,
        });
    }
    validate(&draft).expect("the job is sound")
}

const OPPOSITE: &str = "opposite ways";
const SAME: &str = "the same way";
const MIRRORED: &str = "the same way, mirrored";

/// The slope of an end as a number: so many thousandths of a degree, above zero where it runs to the right as it goes away; and a hundred thousand times
/// the tilt of the blade.
type Slope = i64;

/// A part's slopes as written, and in each half-turn that the section allows, worked out by turning points of the plane.
fn ways(job: &Job, part: usize) -> Vec<[Slope; 2]> {
    let part = &job.parts[part];
    let slope = |end: PartEnd| match end {
        PartEnd::Square => 0,
        PartEnd::Mitre(angle) => {
            i64::from(angle.millidegrees()) + 100_000 * i64::from(angle.tilt())
        }
    };
    let [one, other] = part.ends.map(slope);
    let both = one != 0 && other != 0;
    let written = match part.leans {
        Leans::Same if both => [-one, -other],
        Leans::Mirrored if both => [one, other],
        _ => [-one, other],
    };
    // A line x = m y: a half-turn about the normal takes (x, y) to (-x, -y), one about the length to (x, -y), one about the width to (-x, y).
    let [near, away] = written;
    let mut ways = vec![written];
    let [faces, edges] = alike(job);
    if edges {
        ways.push([away, near]);
    }
    if faces && edges {
        ways.push([-near, -away]);
    }
    if faces {
        ways.push([-away, -near]);
    }
    ways
}

/// Whether the faces and the edges are alike to parts at an angle: not the faces where one of them shows its good one.
fn alike(job: &Job) -> [bool; 2] {
    let section = &job.sections[0];
    let square = [PartEnd::Square; 2];
    let shown = job
        .parts
        .iter()
        .any(|part| part.good_face && part.ends != square);
    [
        section.faces == Sides::Alike && !shown,
        section.edges == Sides::Alike,
    ]
}

/// Every order of every choice of parts, each part in every way: (end of the last part, end of the last cut, choice).
fn arrangements(job: &Job) -> Vec<(i64, i64, Vec<usize>)> {
    let mut found = Vec::new();
    let counts = vec![0; job.parts.len()];
    extend(job, &mut Vec::new(), counts, 0, 0, &mut found);
    found
}

fn extend(
    job: &Job,
    chosen: &mut Vec<(usize, Slope)>,
    counts: Vec<usize>,
    end: i64,
    filled: i64,
    found: &mut Vec<(i64, i64, Vec<usize>)>,
) {
    if !chosen.is_empty() {
        found.push((end, filled, counts.clone()));
    }
    let section = &job.sections[0];
    let square = PartEnd::Square;
    let of_slope = |slope: Slope| {
        let [swung, tilt] = [slope.abs() % 100_000, slope.abs() / 100_000].map(|of| of as u32);
        let swung = Angle::from_millidegrees(swung);
        Angle::tilted(swung, tilt)
            .or(swung)
            .map_or(square, PartEnd::Mitre)
    };
    for (index, part) in job.parts.iter().enumerate() {
        if counts[index] == part.quantity as usize {
            continue;
        }
        let mut tried = Vec::new();
        for [near, away] in ways(job, index) {
            if tried.contains(&[near, away]) {
                continue;
            }
            tried.push([near, away]);
            let mut start = filled;
            if let Some(&(before, slope)) = chosen.last()
                && slope == near
                && let PartEnd::Mitre(angle) = of_slope(slope)
                && shares(job, before)
                && shares(job, index)
            {
                start -= stands_back(section, angle).ticks();
            }
            let end = start + part.length.ticks();
            let mut counts = counts.clone();
            counts[index] += 1;
            chosen.push((index, away));
            let filled = end + cut_width(job.saw.kerf, of_slope(away)).ticks();
            extend(job, chosen, counts, end, filled, found);
            chosen.pop();
        }
    }
}

/// Whether a part may share cuts, in these jobs: not where the cut is so flat that the widest of them takes more, nor two angles but where
/// both sides are alike.
fn shares(job: &Job, part: usize) -> bool {
    let section = &job.sections[0];
    let cuts = job.parts.iter().flat_map(|part| part.ends);
    let widest = cuts.map(|end| cut_width(job.saw.kerf, end)).max();
    let beyond = widest.unwrap_or_default() - job.saw.kerf;
    let angles: Vec<Angle> = job.parts[part]
        .ends
        .into_iter()
        .filter_map(|end| match end {
            PartEnd::Square => None,
            PartEnd::Mitre(angle) => Some(angle),
        })
        .collect();
    let alike = alike(job) == [true; 2];
    angles
        .iter()
        .all(|angle| stands_back(section, *angle) >= beyond && angle.tilt() == 0)
        && (alike || angles.first() == angles.last())
}

#[track_caller]
fn agrees_with_every_arrangement(job: &Job, prices: &[i64]) {
    let wood = Wood::of(job, stocks(job, &[0])[0]).expect("no part is too short");
    let longest = 400 * 3_200;
    let worths = with_steps(10_000_000, |steps| wood.worths(prices, longest, steps));
    let worths = worths.expect("small");
    let all = arrangements(job);
    let worth = |counts: &[usize]| -> i128 {
        counts
            .iter()
            .zip(prices)
            .map(|(count, price)| *count as i128 * i128::from(*price))
            .sum()
    };
    for millimetres in 0..=400 {
        let run = millimetres * 3_200 + 17;
        let fitting = all.iter().filter(|(end, _, _)| *end <= run);
        let best = fitting
            .map(|(_, _, counts)| worth(counts))
            .max()
            .unwrap_or(0)
            .max(0);
        assert_eq!(worths.best(run), best, "a run of {millimetres} mm");
        // The least a fill takes of the run, last cut and all, for each worth that can be had in it.
        let least = all
            .iter()
            .filter(|(end, _, counts)| *end <= run && worth(counts) == best);
        let least = least.map(|(_, filled, _)| *filled).min();
        if best > 0 {
            let listed = worths
                .touched()
                .filter(|(laid, worth)| laid.need <= run && *worth == best);
            assert_eq!(
                listed.map(|(laid, _)| laid.filled).min(),
                least,
                "a run of {millimetres} mm"
            );
        }
    }
}

const ALIKE: [&str; 2] = ["alike", "alike"];
const WAYS: [[&str; 2]; 4] = [
    ALIKE,
    ["different", "alike"],
    ["alike", "different"],
    ["different", "different"],
];

#[test]
fn sums_agree_with_every_order_of_square_parts() {
    let job = job(
        ALIKE,
        &[
            ("70", "square", OPPOSITE, "2"),
            ("45.5", "square", OPPOSITE, "2"),
            ("31", "square", OPPOSITE, "2"),
        ],
    );
    agrees_with_every_arrangement(&job, &[7, 4, 3]);
    agrees_with_every_arrangement(&job, &[1, 1, 1]);
}

#[test]
fn sums_agree_with_every_order_of_mitred_parts() {
    for sides in WAYS {
        let job = job(
            sides,
            &[
                ("60", "45", OPPOSITE, "2"),
                ("48", "45; square", OPPOSITE, "2"),
                ("47", "square; 45", OPPOSITE, "2"),
            ],
        );
        agrees_with_every_arrangement(&job, &[6, 5, 3]);
        agrees_with_every_arrangement(&job, &[5, 1, 1]);
        agrees_with_every_arrangement(&job, &[1, 9, 2]);
    }
}

#[test]
fn sums_agree_with_every_order_of_braces_and_caps() {
    for sides in WAYS {
        let job = job(
            sides,
            &[
                ("60", "45", SAME, "2"),
                ("55", "45", OPPOSITE, "2"),
                ("48", "45; square", OPPOSITE, "2"),
            ],
        );
        agrees_with_every_arrangement(&job, &[6, 5, 4]);
        agrees_with_every_arrangement(&job, &[6, 6, 2]);
        agrees_with_every_arrangement(&job, &[3, 1, 4]);
    }
}

#[test]
fn sums_agree_with_every_order_of_two_angles() {
    for (sides, leans) in WAYS
        .into_iter()
        .flat_map(|sides| [(sides, SAME), (sides, OPPOSITE)])
    {
        let job = job(
            sides,
            &[
                ("60", "45", OPPOSITE, "2"),
                ("52", "square; 30", OPPOSITE, "2"),
                ("55", "45; 30", leans, "2"),
            ],
        );
        agrees_with_every_arrangement(&job, &[6, 5, 5]);
        agrees_with_every_arrangement(&job, &[11, 10, 12]);
    }
}

#[test]
fn braces_nest_where_nothing_may_be_turned() {
    // Own arithmetic: four of 60 at 45 degrees in a width of 20 take 4 x 60 - 3 x 20 + 3 x 3 / cos 45 = 192.73 mm.
    let job = job(["different", "different"], &[("60", "45", SAME, "4")]);
    let wood = Wood::of(&job, stocks(&job, &[0])[0]).expect("one family");
    let worths = with_steps(1_000_000, |steps| wood.worths(&[1], 1_000_000, steps));
    let worths = worths.expect("small");
    let ticks = |hundredths: i64| hundredths * 32;
    assert_eq!(
        (worths.best(ticks(19_272)), worths.best(ticks(19_273))),
        (3, 4)
    );
}

#[test]
fn parts_with_their_good_face_out_are_laid_as_every_arrangement_with_that_face_up() {
    let parts = [
        ("60", "45", SAME, "2"),
        ("52", "square; 45", OPPOSITE, "2"),
        ("48", "45", OPPOSITE, "1"),
    ];
    for sides in [ALIKE, ["alike", "different"], ["different", "alike"]] {
        for good in 0..3 {
            let mut job = job(sides, &parts);
            job.parts[good].good_face = true;
            agrees_with_every_arrangement(&job, &[7, 6, 6]);
        }
    }
}

#[test]
fn braces_and_their_mirror_images_are_laid_as_every_arrangement() {
    let parts = [
        ("60", "45", SAME, "2"),
        ("60", "45", MIRRORED, "2"),
        ("52", "square; 45", OPPOSITE, "1"),
    ];
    for faces in ["alike", "different"] {
        for edges in ["alike", "different"] {
            agrees_with_every_arrangement(&job([faces, edges], &parts), &[7, 6, 6]);
        }
    }
}

#[test]
fn cuts_with_a_tilted_blade_are_laid_as_every_arrangement_that_shares_none() {
    for sides in WAYS {
        let parts = [
            ("60", "45 tilt 30", SAME, "2"),
            ("52", "tilt 20; square", OPPOSITE, "2"),
            ("48", "45", OPPOSITE, "2"),
        ];
        agrees_with_every_arrangement(&job(sides, &parts), &[7, 6, 6]);
    }
    // Own arithmetic: two of 60 with a cut of 3 / (cos 45 cos 30) = 4.899 between them, however they nest.
    let job = job(ALIKE, &[("60", "45 tilt 30", SAME, "2")]);
    let wood = Wood::of(&job, stocks(&job, &[0])[0]).expect("one family");
    let worths = with_steps(1_000_000, |steps| wood.worths(&[1], 1_000_000, steps));
    let worths = worths.expect("small");
    let (less, enough) = (worths.best(12_489 * 32), worths.best(12_490 * 32));
    assert_eq!((less, enough), (1, 2));
}

#[test]
fn flat_cuts_are_not_shared() {
    let parts = [
        ("60", "0.5", OPPOSITE, "3"),
        ("48", "0.5; square", OPPOSITE, "1"),
        ("48", "60; square", OPPOSITE, "2"),
    ];
    agrees_with_every_arrangement(&job(ALIKE, &parts), &[6, 5, 6]);
}

#[test]
fn parts_that_stand_back_further_than_they_are_long_share_nothing() {
    let mut job = job(ALIKE, &[("48", "45; square", OPPOSITE, "2")]);
    let apart = |job: &Job| {
        let wood = Wood::of(job, stocks(job, &[0])[0]).expect("one family");
        wood.with(0, &wood.with(0, &wood.untouched()).0).1
    };
    let kerf = 3 * 3_200;
    assert!(apart(&job) < 48 * 3_200 + kerf);
    job.parts[0].length = timber::length::Length::from_mm(19);
    assert_eq!(apart(&job), 19 * 3_200 + kerf);
}
