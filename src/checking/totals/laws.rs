//! What is claimed of a group's totals: compared level by level, and shown by the figures of that level or not at all.

use super::*;
use crate::groups::groups;
use crate::laws::blanks::fence;
use crate::laws::{job, mm, some};
use crate::steps::with_steps;
use proof::certificate::{Branch, Certificate, Leaf, LevelProof};

#[test]
fn without_figures_only_scrap_may_come_to_less_than_nothing_and_by_no_more_than_parts_overlap() {
    // Own arithmetic, of a rail 40 wide and a kerf of 3: at 45 degrees an end stands back by 128 000 ticks, and its cut takes 13 577. Half of what
    // is beyond, for each end, is 57 211.5; three parts have two such ends, two have one, and square ones none.
    let job = job(
        &[],
        &[
            ("400", "45", "3"),
            ("400", "45; square", "2"),
            ("400", "square", "7"),
        ],
        |_| (),
    );
    let group = &groups(&job)[0];
    let least = |measure| least(&job, group, measure);
    assert_eq!(least(Measure::Scrap), -(3 * 114_423 + 2 * 57_212));
    for measure in [Measure::Bought, Measure::Money, Measure::BoughtLength] {
        assert_eq!(least(measure), 0);
    }
}

#[test]
fn what_costs_nothing_is_best_of_everything_and_what_leaves_no_scrap_only_as_far_as_blanks_are() {
    // Strips of two lengths: whole boards lie beside each other in the best blanks, strips side by side perhaps not.
    let mut job = fence();
    (job.list[1].length, job.parts[1].length) = (mm(300), mm(300));
    let group = &groups(&job)[0];
    let levels = |totals: Totals| {
        let mut lies = Vec::new();
        let claims = Claims::of(&job, group, &totals, None, &mut lies).expect("no lie");
        assert!(lies.is_empty());
        let levels = claims.levels.into_iter();
        levels
            .map(|level| {
                (
                    level.measure,
                    level.value,
                    level.bound,
                    level.backing,
                    level.within,
                )
            })
            .collect::<Vec<_>>()
    };
    let nothing = |measure, within| (measure, 0, Some(0), Backing::ReProved, within);
    let something = |measure, value| {
        let unclaimed = Backing::NothingClaimed;
        (measure, value, None, unclaimed, Within::SideBySide)
    };
    let all = [
        nothing(Measure::Bought, Within::Everything),
        nothing(Measure::BoughtLength, Within::Everything),
        nothing(Measure::Scrap, Within::SideBySide),
    ];
    assert_eq!(levels(Totals::default()), all);
    let totals = Totals {
        bought: 1,
        money: 4,
        bought_length: 2,
        scrap: 3,
    };
    let all = [
        something(Measure::Bought, 1),
        something(Measure::BoughtLength, 2),
        something(Measure::Scrap, 3),
    ];
    assert_eq!(levels(totals), all);
}

const MM: i64 = 3_200;

/// Twenty parts of 400 from lengths of 3000, seven from each: three lengths, and 1000 left of them.
fn twenty() -> (Job, Totals) {
    let job = job(&[], &[("400", "square", "20")], |draft| {
        draft.sections[0].trim = some("0");
    });
    let totals = Totals {
        bought: 3,
        money: 0,
        bought_length: i128::from(9_000 * MM),
        scrap: i128::from(1_000 * MM),
    };
    (job, totals)
}

/// The levels of [`twenty`] with their values, the bound of the last as said.
fn levels(scrap: i64) -> Vec<Level> {
    let level = |measure, value, bound| Level {
        measure,
        value,
        bound,
    };
    vec![
        level(Measure::Bought, 3, 3),
        level(Measure::BoughtLength, 9_000 * MM, 0),
        level(Measure::Scrap, 1_000 * MM, scrap),
    ]
}

/// What is said against the claims, and how far each level was shown after the levels of buying, then after the scrap too.
type Told = (Vec<Lie>, Vec<[Backing; 2]>);

fn told(levels: Vec<Level>, figures: &[LevelProof]) -> Option<Told> {
    let (job, totals) = twenty();
    let group = &groups(&job)[0];
    let proof = Proof {
        sections: vec![0],
        levels,
        certificate: Some(Certificate {
            levels: figures.to_vec(),
        }),
    };
    let mut lies = Vec::new();
    let mut claims = Claims::of(&job, group, &totals, Some(&proof), &mut lies)?;
    let backings = [false, true].map(|scrap| {
        let settled = with_steps(1_000_000, |steps| {
            claims.settle(&job, scrap, steps, &mut lies);
            claims.levels.iter().map(|level| level.backing).collect()
        });
        let settled: Vec<Backing> = settled;
        settled
    });
    let [buying, all] = backings;
    let pairs = buying.into_iter().zip(all).map(|(one, other)| [one, other]);
    Some((lies, pairs.collect()))
}

/// Of twenty parts, at seven a length, three lengths; and at 403 each, which none uses up less than, 8060, that is 60 of scrap.
fn figures() -> [LevelProof; 2] {
    let of = |level, earlier: &[i64], bound, scale, price| LevelProof {
        level,
        earlier: earlier.to_vec(),
        bound,
        shown: bound,
        lifted: false,
        tree: vec![Branch::Leaf(Leaf {
            scale,
            parts: vec![price],
            earlier: vec![0; earlier.len()],
            ..Leaf::default()
        })],
    };
    [
        of(0, &[], 3, 7, 1),
        of(2, &[3, 9_000 * MM], 8_060 * MM, 1, 403 * MM),
    ]
}

#[test]
fn a_level_is_shown_by_its_own_figures_the_scrap_after_what_is_bought() {
    let unclaimed = Backing::NothingClaimed;
    let no_figures = Backing::ClaimOnly(Reason::NoFigures);
    let [buying, scrap] = figures();
    let both = [buying.clone(), scrap.clone()];
    // No length at all is bought by anybody's figures.
    let nothing = [Backing::ReProved; 2];
    let all = |buying, scrap| vec![[buying; 2], nothing, [unclaimed, scrap]];
    let of = |bound, figures: &[LevelProof]| told(levels(bound), figures).expect("true totals");
    let shown = Backing::ReProved;
    assert_eq!(of(60 * MM, &both), (vec![], all(shown, shown)));
    assert_eq!(of(60 * MM, &both[..1]), (vec![], all(shown, no_figures)));
    assert_eq!(of(60 * MM, &both[1..]), (vec![], all(no_figures, shown)));
    // A tick more is beyond the figures.
    let beyond = Lie::BoundAboveFigures {
        measure: Measure::Scrap,
        bound: 60 * MM + 1,
        figures: 60 * MM,
    };
    assert_eq!(
        of(60 * MM + 1, &both),
        (vec![beyond], all(shown, no_figures))
    );
    // That no scrap is below zero, where no parts overlap, needs no figures; a tick does.
    assert_eq!(of(0, &both[..1]), (vec![], all(shown, shown)));
    assert_eq!(of(1, &both[..1]), (vec![], all(shown, no_figures)));
}

#[test]
fn claims_are_of_the_levels_of_the_aim_in_their_order_and_only_then_compared() {
    let lies = |levels: Vec<Level>| {
        let (job, totals) = twenty();
        let group = &groups(&job)[0];
        let proof = Proof {
            sections: vec![0],
            levels,
            certificate: None,
        };
        let mut lies = Vec::new();
        let told = Claims::of(&job, group, &totals, Some(&proof), &mut lies);
        assert_eq!(told.is_some(), lies.is_empty());
        lies
    };
    let wrong_levels = || vec![Lie::WrongLevels { sections: vec![0] }];
    let sound = levels(0);
    for count in 0..=3 {
        assert_eq!(lies(sound[..count].to_vec()), []);
    }
    assert_eq!(lies([&sound[..], &sound[..1]].concat()), wrong_levels());
    assert_eq!(lies(vec![sound[1], sound[0]]), wrong_levels());
    // A wrong total beside wrong levels is not told, since nobody knows what it is of.
    let wrong = |index: usize| {
        let mut levels = sound.clone();
        levels[index].value += 1;
        levels
    };
    assert_eq!(
        lies([&wrong(0)[1..], &wrong(0)[..1]].concat()),
        wrong_levels()
    );
    let wrong_value = Lie::WrongValue {
        measure: Measure::Bought,
        claimed: 4,
        found: 3,
    };
    assert_eq!(lies(wrong(0)), [wrong_value]);
}
