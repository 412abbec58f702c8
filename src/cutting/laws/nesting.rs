//! What parts need in a run, against every order of them and every way round.

use super::made_up::Random;
use crate::problem::{End, Fit, Mitre, Need, Problem, Section, Ticks};
use crate::run_states::RunStates;

/// A section on which ends meet in one of the ways there are: like ends, up to three angles; ends of two sides; or the sides of a cut, parts lying
/// as written.
fn section(random: &mut Random) -> Section {
    let kerf = 2 + random.below(2);
    let way = random.below(3);
    let angles = 1 + random.below(if way == 0 { 3 } else { 2 }) as usize;
    let cuts: Vec<Ticks> = (0..angles).map(|_| kerf + random.below(5)).collect();
    let beyond = cuts.iter().max().unwrap_or(&kerf) - kerf;
    let mut mitres = Vec::new();
    for (angle, &cut) in cuts.iter().enumerate() {
        let saving = beyond.max(1) + random.below(6);
        let sides = if way == 0 { 1 } else { 2 };
        for side in 0..sides {
            mitres.push(Mitre {
                kerf: cut,
                saving,
                partner: sides * angle + (sides - 1 - side),
            });
        }
    }
    let reversible = way < 2;
    let colours = mitres.len() as i64;
    let fits = (0..4).map(|_| {
        let colour = |random: &mut Random| End::Mitre(random.below(colours) as usize);
        let ends = match (random.below(4), way) {
            (0, _) => [End::Square; 2],
            (1, _) => [colour(random), End::Square],
            (2, _) => [End::Square, colour(random)],
            (_, 0) => [colour(random), colour(random)],
            _ => {
                // Both ends of one angle, each of any side.
                let angle = random.below(angles as i64) as usize;
                let mut end = || End::Mitre(2 * angle + random.below(2) as usize);
                [end(), end()]
            }
        };
        Some(Fit {
            length: 25 + random.below(30),
            ends,
        })
    });
    let mut section = Section {
        kerf,
        fits: fits.collect(),
        mitres,
        reversible,
        keep: 10,
        posts: Vec::new(),
    };
    if way == 2 {
        // A colour of the first side ends a part at its start, one of the second at its end: the saw comes from one side or the other.
        for fit in section.fits.iter_mut().flatten() {
            for (side, end) in fit.ends.iter_mut().enumerate() {
                if let End::Mitre(mitre) = end {
                    *mitre = *mitre / 2 * 2 + side;
                }
            }
        }
    }
    section
}

/// The least clear length and the least with the last cut, over all orders and all ways round that the section allows.
fn by_trying(section: &Section, parts: &[usize]) -> (Ticks, Ticks) {
    fn go(
        section: &Section,
        left: &mut Vec<usize>,
        end: Option<End>,
        so_far: Ticks,
        best: &mut (Ticks, Ticks),
    ) {
        let width = |end: End| match end {
            End::Square => section.kerf,
            End::Mitre(mitre) => section.mitres[mitre].kerf,
        };
        if left.is_empty() {
            let cut = end.map_or(0, width);
            *best = (best.0.min(so_far), best.1.min(so_far + cut));
            return;
        }
        for at in 0..left.len() {
            if left[..at].contains(&left[at]) {
                continue;
            }
            let part = left.remove(at);
            let fit = section.fits[part].expect("it is made of this section");
            let ways = if section.reversible { 2 } else { 1 };
            for way in 0..ways {
                let [start, away] = if way == 0 {
                    fit.ends
                } else {
                    [fit.ends[1], fit.ends[0]]
                };
                let between = match (end, start) {
                    (None, _) => 0,
                    (Some(End::Mitre(one)), End::Mitre(other))
                        if section.mitres[one].partner == other =>
                    {
                        section.mitres[one].kerf - section.mitres[one].saving
                    }
                    (Some(end), _) => width(end),
                };
                go(
                    section,
                    left,
                    Some(away),
                    so_far + between + fit.length,
                    best,
                );
            }
            left.insert(at, part);
        }
    }
    let mut best = (Ticks::MAX, Ticks::MAX);
    go(section, &mut parts.to_vec(), None, 0, &mut best);
    best
}

#[test]
fn what_parts_need_is_the_least_of_every_order_and_every_way_round() {
    let mut random = Random::new(41);
    for case in 0..3_000 {
        let section = section(&mut random);
        let count = 1 + random.below(if section.reversible { 6 } else { 7 });
        let mut parts: Vec<usize> = (0..count).map(|_| random.below(4) as usize).collect();
        let problem = Problem {
            demand: (0..4)
                .map(|part| parts.iter().filter(|&&other| other == part).count() as u32)
                .collect(),
            sections: vec![section.clone()],
            boards: Vec::new(),
            floors: Vec::new(),
        };
        let counts: Vec<(usize, u32)> = problem.demand.iter().copied().enumerate().collect();
        let best = by_trying(&section, &parts);
        let need = section.lay(&counts).expect("they are made of this section");
        let told = |need: Need| (need.length, need.length + need.last_cut);
        assert_eq!(told(need), best, "case {case}: {parts:?} {section:?}");
        if let Some(states) = with_room(problem) {
            order::sort(&mut parts);
            for _ in 0..2 {
                let (mut fill, mut state) = (0, 0);
                for &part in &parts {
                    let item = states.items.iter().find(|item| item.part == part);
                    let item = item.expect("it is made of this section");
                    let (added, next) = states.add(item, state);
                    assert!(
                        added >= item.least && added > 0,
                        "case {case}: {added} {section:?}"
                    );
                    (fill, state) = (fill + added, next);
                }
                let need = states.need(fill, state);
                assert_eq!(told(need), best, "case {case}: {parts:?} {section:?}");
                parts.reverse();
            }
        }
    }
}

/// The states of a problem with one long board.
fn with_room(mut problem: Problem) -> Option<RunStates> {
    problem.boards = vec![super::made_up::long_board()];
    let states = RunStates::new(&problem, &problem.sections[0]);
    (states.states < usize::MAX).then_some(states)
}

#[test]
fn an_angle_that_no_two_ends_have_takes_no_states() {
    let fit = |mitre: usize| {
        Some(Fit {
            length: 100,
            ends: [End::Mitre(mitre), End::Square],
        })
    };
    let problem = Problem {
        demand: vec![1; 34],
        sections: vec![Section {
            kerf: 2,
            fits: (0..34).map(fit).collect(),
            mitres: (0..34)
                .map(|partner| Mitre {
                    kerf: 3,
                    saving: 5,
                    partner,
                })
                .collect(),
            reversible: true,
            keep: 10,
            posts: Vec::new(),
        }],
        boards: vec![super::made_up::long_board()],
        floors: Vec::new(),
    };
    assert_eq!(RunStates::new(&problem, &problem.sections[0]).states, 1);
    let twice = Problem {
        demand: vec![2; 34],
        ..problem
    };
    // Of one-ended parts of an angle a state tells whether there are none, an odd or an even number.
    let states = RunStates::new(&twice, &twice.sections[0]).states;
    assert_eq!(states, usize::pow(3, 34));
}
