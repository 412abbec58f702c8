//! Lengths that are cut once at the yard, compared with every place of that cut.
//!
//! The right answers come from trying every whole millimetre. The sound timber of a piece is what lies between its trims. Where the cut
//! lies in a trim, its kerf is still subtracted from the sound timber. All sizes are whole millimetres, so no place in between is better.

mod common;

use common::hand::{Draft, job, placed};
use lengthwise::check::{Lie, Verdict, check};
use lengthwise::job::Job;
use lengthwise::length::Length;
use lengthwise::patience::{Limits, Patience};
use lengthwise::plan::{Plan, PlannedBoard, PlannedRun, Source};
use lengthwise::planner::{Planned, plan_job};
use lengthwise::wording::lack_text;

/// A yard length, the vehicle, the saw, the trims and how the yard saws, in millimetres.
#[derive(Clone, Copy, Debug)]
struct Case {
    length: i64,
    carry: i64,
    kerf: i64,
    datum: i64,
    far: i64,
    /// How far off its reading the yard may saw.
    off: i64,
    /// What is trimmed off the ends that it makes; as much as off the ends of the length where nothing is said.
    fresh: Option<i64>,
}

fn cases() -> Vec<Case> {
    let mut cases = Vec::new();
    for length in [101, 118, 150] {
        for carry in [60, 77, 100] {
            for kerf in [0, 3] {
                for (datum, far) in [(0, 0), (10, 0), (0, 1), (6, 30), (40, 70), (80, 5)] {
                    for (off, fresh) in [(0, Some(0)), (1, Some(0)), (4, Some(3)), (7, None)] {
                        if length > carry && length > datum + far {
                            cases.push(Case {
                                length,
                                carry,
                                kerf,
                                datum,
                                far,
                                off,
                                fresh,
                            });
                        }
                    }
                }
            }
        }
    }
    cases
}

impl Case {
    fn job(self, parts: &[i64]) -> Job {
        job(|draft: &mut Draft| {
            draft.own.carry = Some(self.carry.to_string());
            draft.own.yard_tolerance = Some(self.off.to_string());
            draft.own.yard_trim = self.fresh.map(|fresh| fresh.to_string());
            draft.saw.kerf = Some(self.kerf.to_string());
            draft.saw.keep = Some("20".into());
            draft.section("lath", |section| {
                section.trim = Some(format!("{}; {}", self.datum, self.far));
            });
            draft.yard("lath", &self.length.to_string(), Some("1.00"), None);
            for part in parts {
                draft.part("stave", "lath", &part.to_string(), "1", "square");
            }
        })
    }

    /// The clear length that both pieces have for certain where the yard is told to cut here: the least over every place at which it may saw.
    /// `None` where the vehicle does not take them as told.
    fn rooms(self, cut: i64) -> Option<[i64; 2]> {
        let second = self.length - self.kerf - cut;
        if cut < 0 || second < 0 || cut > self.carry || second > self.carry {
            return None;
        }
        let (from, to) = (self.datum, self.length - self.far);
        let [first_end, second_start] = self.fresh_ends();
        let sound = |start: i64, end: i64| (end.min(to) - start.max(from)).max(0);
        let sawn = || cut - self.off..=cut + self.off;
        let firsts = sawn().map(|at| sound(0, at - first_end));
        let seconds = sawn().map(|at| sound(at + self.kerf + second_start, self.length));
        let least = |rooms: &mut dyn Iterator<Item = i64>| rooms.min().unwrap_or(0);
        let mut rooms = [least(&mut { firsts }), least(&mut { seconds })];
        // The part of the kerf that came off trimmed ends, not off sound timber.
        let rough = first_end + second_start + 2 * self.off;
        let spared = rooms[0] + rooms[1] - (to - from - self.kerf - rough).max(0);
        let longer = usize::from(rooms[1] > rooms[0]);
        rooms[longer] -= spared.max(0);
        Some(rooms)
    }

    /// What is trimmed off the far end of the first piece and off the start of the second.
    fn fresh_ends(self) -> [i64; 2] {
        [self.far, self.datum].map(|usual| self.fresh.unwrap_or(usual))
    }

    /// Whether these parts come from one length, wherever it is cut.
    fn fits(self, parts: &[i64]) -> bool {
        let need = |side: u32, choice: u32| {
            let picked = parts.iter().enumerate();
            let picked = picked.filter(|(at, _)| (choice >> at) & 1 == side);
            let lengths: Vec<i64> = picked.map(|(_, length)| length + self.kerf).collect();
            // The last cut may be beyond the run.
            (lengths.iter().sum::<i64>() - self.kerf).max(0)
        };
        (0..=self.length).any(|cut| {
            self.rooms(cut).is_some_and(|[first, second]| {
                (0..1 << parts.len())
                    .any(|choice| need(0, choice) <= first && need(1, choice) <= second)
            })
        })
    }

    /// The fewest lengths for up to three parts; `None` where there is no plan.
    fn fewest(self, parts: &[i64]) -> Option<i64> {
        if !parts.iter().all(|part| self.fits(&[*part])) {
            return None;
        }
        if self.fits(parts) {
            return Some(1);
        }
        let pairs = (0..parts.len()).any(|alone| {
            let mut rest = parts.to_vec();
            rest.remove(alone);
            self.fits(&rest)
        });
        Some(if pairs || parts.len() == 2 { 2 } else { 3 })
    }
}

fn mm(millimetres: i64) -> Length {
    Length::from_mm(millimetres)
}

/// One part of this length, in one of the two pieces.
fn one_part(case: Case, cut: i64, piece: usize, length: i64) -> Result<(), Vec<Lie>> {
    let rooms = case.rooms(cut).unwrap_or([0, 0]);
    let (from, to) = match piece {
        0 => (case.datum, case.datum + rooms[0].max(length)),
        _ => {
            // It is read from its fresh end, so what it may lack it lacks at the other.
            let end = case.length - case.far - case.off;
            (end - rooms[1].max(length), end)
        }
    };
    let run = PlannedRun {
        from: mm(from),
        to: mm(to),
        cuts: vec![placed(0, mm(from), mm(from + length))],
    };
    let board = PlannedBoard {
        source: Source::Yard(0),
        yard_cut: Some(mm(cut)),
        runs: vec![run],
    };
    let plan = Plan {
        boards: vec![board],
        proofs: Vec::new(),
    };
    check(&case.job(&[length]), plan).map(|_| ())
}

#[test]
fn a_carried_piece_holds_what_is_sound_of_it_and_no_more_wherever_it_is_cut() {
    let (mut held, mut refused) = (0, 0);
    for case in cases() {
        for cut in 0..=case.length {
            let rooms = case.rooms(cut);
            for piece in [0, 1] {
                let room = rooms.map_or(0, |rooms| rooms[piece]);
                if room > 0 {
                    let found = one_part(case, cut, piece, room);
                    assert_eq!(found, Ok(()), "{case:?} cut at {cut}, piece {piece}");
                    held += 1;
                }
                let found = one_part(case, cut, piece, room + 1);
                assert!(found.is_err(), "{case:?} cut at {cut}, piece {piece}");
                refused += 1;
            }
        }
    }
    assert!(held > 3_000 && refused > 10_000, "{held} {refused}");
}

#[test]
fn plans_with_lengths_cut_at_the_yard_are_the_best_over_every_place_of_the_cut() {
    let (mut found, mut none) = (0, 0);
    for case in cases() {
        let [first, second] = case.fresh_ends();
        let clear = case.length - case.kerf - case.datum - case.far - first - second - 2 * case.off;
        let lists = [
            vec![clear],
            vec![clear + 1],
            vec![case.carry - case.datum - first - case.off],
            vec![case.carry - case.far - second - case.off],
            vec![clear / 2, clear / 2],
            vec![clear / 3, clear / 2, clear / 4],
            vec![case.carry / 2, case.carry / 3, case.carry / 4],
        ];
        for parts in lists {
            if parts.iter().any(|part| *part < 1) {
                continue;
            }
            let job = case.job(&parts);
            let clock = || 0.0;
            let mut hear = |_: &Plan| {};
            let mut patience = Patience::new(Limits::asks(2_000), &clock, &mut hear);
            let wanted = case.fewest(&parts);
            match plan_job(&job, &mut patience) {
                Planned::Found(plan) => {
                    let checked = check(&job, plan);
                    let checked =
                        checked.unwrap_or_else(|lies| panic!("{case:?} {parts:?}: {lies:?}"));
                    let bought = checked.groups()[0].levels[0].value;
                    assert_eq!(Some(bought), wanted, "{case:?} {parts:?}");
                    assert!(
                        checked.verdict() >= Verdict::BuyingProven,
                        "{case:?} {parts:?}"
                    );
                    found += 1;
                }
                Planned::Impossible(_) => {
                    assert_eq!(wanted, None, "{case:?} {parts:?}");
                    none += 1;
                }
                Planned::NothingYet => panic!("{case:?} {parts:?}: nothing yet"),
            }
        }
    }
    assert!(found > 300 && none > 100, "{found} {none}");
}

#[test]
fn a_part_that_reaches_into_the_trim_past_a_cut_at_the_yard_is_refused() {
    // 2405 mm less 10 mm at each end: nothing from 2395 mm on is sound, though the yard cuts at 2400 mm.
    let job = job(|draft| {
        draft.own.carry = Some("2400".into());
        draft.exact_yard();
        draft.section("lath", |_| {});
        draft.yard("lath", "2405", Some("10"), None);
        draft.yard("lath", "4000", Some("17"), None);
        draft.part("stave", "lath", "2389", "1", "square");
    });
    let run = PlannedRun {
        from: mm(10),
        to: mm(2_400),
        cuts: vec![placed(0, mm(10), mm(2_399))],
    };
    let board = PlannedBoard {
        source: Source::Yard(0),
        yard_cut: Some(mm(2_400)),
        runs: vec![run],
    };
    let plan = Plan {
        boards: vec![board],
        proofs: Vec::new(),
    };
    let lie = Lie::NotAClearRun {
        board: 0,
        from: mm(10),
        to: mm(2_400),
    };
    assert_eq!(check(&job, plan), Err(vec![lie]));
}

#[test]
fn a_length_that_the_vehicle_takes_in_no_way_is_named_as_the_cause() {
    let told = |part: i64| {
        let case = Case {
            length: 150,
            carry: 60,
            kerf: 3,
            datum: 0,
            far: 0,
            off: 0,
            fresh: None,
        };
        let clock = || 0.0;
        let mut hear = |_: &_| ();
        let job = case.job(&[part]);
        match plan_job(
            &job,
            &mut Patience::new(Limits::asks(60), &clock, &mut hear),
        ) {
            Planned::Impossible(lacks) => lacks
                .iter()
                .map(|lack| lack_text(&job, lack))
                .collect::<Vec<_>>(),
            _ => panic!("150 is more than 60 + 60 and the cut between them"),
        }
    };
    assert_eq!(
        told(40),
        [
            "\"stave\" is 40 mm long, and no board of lath takes it: the vehicle takes 60 mm, so a length of more than 123 mm cannot be carried \
             even when the yard cuts it in two; add a shorter length to the yard, or say that the vehicle carries more"
        ]
    );
    assert_eq!(
        told(70),
        [
            "\"stave\" is 70 mm long, and the vehicle takes 60 mm; say that it carries more, or shorten or join the part"
        ]
    );
}
