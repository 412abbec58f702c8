//! The least scrap first, then the fewest lengths, then the least money: every way to cut small jobs is tried, with a geometry of its own.

mod common;

use common::random::Random;
use common::{checked, job, proven};
use lengthwise::check::{Backing, Lie, Reason, Verdict, check};
use lengthwise::io::job_file;
use lengthwise::job::validate;
use lengthwise::plan::{Measure, Plan};
use lengthwise::report;

const KERF: i64 = 3;
const TICKS: i64 = 3_200;

/// A kind of board in millimetres.
#[derive(Clone, Debug)]
struct Kind {
    length: i64,
    /// In hundredths; zero of what is in the shed.
    price: i64,
    count: Option<usize>,
    /// Where nothing may be cut.
    bad: Option<(i64, i64)>,
    bought: bool,
}

#[derive(Clone, Debug)]
struct Small {
    kinds: Vec<Kind>,
    parts: Vec<i64>,
    trim: i64,
    keep: i64,
    allowed: Option<i64>,
}

impl Small {
    fn of(random: &mut Random) -> Small {
        let mut kinds: Vec<Kind> = (0..random.between(1, 3))
            .map(|_| {
                let length = 900 + 100 * random.below(12i64);
                Kind {
                    length,
                    price: length / 2 + random.below(300i64),
                    count: random.once_in(3).then(|| random.between(1, 3)),
                    bad: None,
                    bought: true,
                }
            })
            .collect();
        if random.once_in(2) {
            let from = random.between(200i64, 700);
            kinds.push(Kind {
                length: random.between(800, 1_500),
                price: 0,
                count: Some(1),
                bad: random.once_in(2).then(|| (from, from + 60)),
                bought: false,
            });
        }
        let mut parts = Vec::new();
        for _ in 0..random.between(1, 3) {
            let length = random.between(150i64, 800);
            parts.extend(vec![length; random.between(1, 2)]);
        }
        Small {
            kinds,
            parts,
            trim: random.pick(&[0, 5]),
            keep: random.pick(&[0, 150, 300, 600, 5_000]),
            allowed: random.once_in(3).then(|| random.between(1, 3)),
        }
    }

    fn text(&self, section: &str) -> [String; 4] {
        let section = format!(r#""section":"{section}""#);
        let mut yard = Vec::new();
        let mut shed = Vec::new();
        for kind in &self.kinds {
            let length = kind.length;
            let count = kind
                .count
                .map_or(String::new(), |count| format!(r#","count":{count}"#));
            let price = format!("{}.{:02}", kind.price / 100, kind.price % 100);
            let bad = kind.bad.map_or(String::new(), |(from, to)| {
                format!(r#","bad":"{from}..{to}""#)
            });
            match kind.bought {
                true => yard.push(format!(
                    r#"{{{section},"length":{length},"price":"{price}"{count}}}"#
                )),
                false => shed.push(format!(
                    r#"{{{section},"mark":"S","length":{length},"trim":{}{bad}}}"#,
                    self.trim
                )),
            }
        }
        let parts = self.parts.iter();
        let parts: Vec<String> = parts
            .map(|length| {
                format!(r#"{{{section},"label":"p{length}","length":{length},"quantity":1}}"#)
            })
            .collect();
        let name = section.replace("section", "name");
        let allowed = self
            .allowed
            .map_or(String::new(), |count| format!(r#","allowed":{count}"#));
        let own = format!(
            r#"{{{name},"trim":{},"keep":{}{allowed}}}"#,
            self.trim, self.keep
        );
        [own, yard.join(","), shed.join(","), parts.join(",")]
    }

    /// What of a board is lost with these parts in its stretches: all that is no part and no offcut worth keeping. None where they do not fit.
    fn lost(&self, kind: &Kind, stretches: &[Vec<i64>]) -> Option<i64> {
        let sound = (self.trim, kind.length - self.trim);
        let sound = match kind.bad {
            None => vec![sound],
            Some((from, to)) => vec![(sound.0, from), (to, sound.1)],
        };
        let mut kept = 0;
        for (at, (from, to)) in sound.iter().enumerate() {
            let mut place = *from;
            for part in &stretches[at] {
                if place + part > *to {
                    return None;
                }
                place += part + KERF;
            }
            // What is left beyond the last cut reaches to the end of the board, which need not be trimmed.
            let end = if at + 1 == sound.len() {
                kind.length
            } else {
                *to
            };
            if place < *to && end - place >= self.keep {
                kept += end - place;
            }
        }
        let parts: i64 = stretches.iter().flatten().sum();
        Some(kind.length - parts - kept)
    }

    /// The best totals of all plans in the order of the levels; none where there is no plan.
    fn best(&self) -> Option<Vec<i64>> {
        let mut best = None;
        self.place(0, &mut Vec::new(), &mut best);
        best
    }

    fn place(
        &self,
        at: usize,
        open: &mut Vec<(usize, Vec<Vec<i64>>)>,
        best: &mut Option<Vec<i64>>,
    ) {
        let Some(&part) = self.parts.get(at) else {
            let kind = |board: &(usize, Vec<Vec<i64>>)| &self.kinds[board.0];
            let lost = open.iter().map(|board| self.lost(kind(board), &board.1));
            let Some(scrap) = lost.sum::<Option<i64>>() else {
                return;
            };
            let bought = || open.iter().map(kind).filter(|kind| kind.bought);
            let lengths = bought().count() as i64;
            let money: i64 = bought().map(|kind| kind.price).sum();
            let timber: i64 = bought().map(|kind| kind.length).sum();
            let totals = match self.allowed {
                None => vec![scrap, lengths, money],
                Some(allowed) => vec![(lengths - allowed).max(0), scrap, money, lengths, timber],
            };
            if best.as_ref().is_none_or(|best| totals < *best) {
                *best = Some(totals);
            }
            return;
        };
        for board in 0..open.len() {
            for stretch in 0..open[board].1.len() {
                open[board].1[stretch].push(part);
                if self
                    .lost(&self.kinds[open[board].0], &open[board].1)
                    .is_some()
                {
                    self.place(at + 1, open, best);
                }
                open[board].1[stretch].pop();
            }
        }
        for (index, kind) in self.kinds.iter().enumerate() {
            let spent = open.iter().filter(|board| board.0 == index).count();
            if kind.count.is_some_and(|count| spent >= count) {
                continue;
            }
            let stretches = 1 + usize::from(kind.bad.is_some());
            for stretch in 0..stretches {
                let mut held = vec![Vec::new(); stretches];
                held[stretch].push(part);
                if self.lost(kind, &held).is_some() {
                    open.push((index, held));
                    self.place(at + 1, open, best);
                    open.pop();
                }
            }
        }
    }
}

/// The text of a job of these sections, which share nothing.
fn text(aim: &str, of: &[Small]) -> String {
    let lists = of
        .iter()
        .zip(["a", "b"])
        .map(|(small, name)| small.text(name));
    let lists: Vec<[String; 4]> = lists.collect();
    let list = |at: usize| {
        let lists = lists.iter().map(|list| &list[at][..]);
        lists
            .filter(|list| !list.is_empty())
            .collect::<Vec<_>>()
            .join(",")
    };
    format!(
        r#"{{"format":"lengthwise-job","aim":"{aim}","saw":{{"kerf":{KERF}}},"sections":[{}],"yard":[{}],"shed":[{}],"parts":[{}]}}"#,
        list(0),
        list(1),
        list(2),
        list(3)
    )
    .replacen(r#""mark":"S""#, r#""mark":"T""#, 1)
}

/// What a level comes to in millimetres, lengths or hundredths.
fn in_units(measure: Measure, value: i64) -> i64 {
    match measure {
        Measure::Scrap | Measure::BoughtLength => value / TICKS,
        _ => value,
    }
}

#[test]
fn small_jobs_lose_as_little_as_any_plan_and_then_buy_as_little() {
    let (mut met, mut more) = (0, 0);
    for seed in 0..260 {
        let random = &mut Random(seed);
        let of: Vec<Small> = (0..random.between(1, 2))
            .map(|_| Small::of(random))
            .collect();
        let best: Option<Vec<Vec<i64>>> = of.iter().map(Small::best).collect();
        let Some(best) = best else { continue };
        let job = job(&text("scrap", &of));
        let checked = checked(&job);
        assert_eq!(checked.verdict(), Verdict::Proven, "seed {seed}: {of:?}");
        assert_eq!(checked.groups().len(), best.len());
        for (group, best) in checked.groups().iter().zip(&best) {
            let found = group
                .levels
                .iter()
                .map(|level| in_units(level.measure, level.value));
            assert_eq!(&found.collect::<Vec<_>>(), best, "seed {seed}: {of:?}");
            let shown = group
                .levels
                .iter()
                .all(|level| level.backing == Backing::ReProved);
            assert!(shown, "seed {seed}: {group:?}");
        }
        let fewest = common::checked(&common::job(&text("fewest", &of)));
        let bought = |checked, measure| proven(checked, measure);
        more += i32::from(
            of.iter().all(|of| of.allowed.is_none())
                && bought(&fewest, Measure::Bought) < bought(&checked, Measure::Bought),
        );
        met += 1;
    }
    assert!(met > 150 && more > 10, "{met} {more}");
}

/// Two rails of 900 mm from lengths of 2.4 m.
fn rails(keep: i64, allowed: Option<i64>) -> Small {
    Small {
        kinds: vec![Kind {
            length: 2_400,
            price: 700,
            count: None,
            bad: None,
            bought: true,
        }],
        parts: vec![900; 2],
        trim: 5,
        keep,
        allowed,
    }
}

/// Own arithmetic: of lengths of 2.4 m a part of 900 leaves 2400 - 5 - 900 - 3 = 1492, and two leave 589. From 600 on that is kept, so one part a length
/// loses a trim and a cut, 8; two in one lose 600. From 500 on two in one lose 5 + 2 x 3 = 11, less than twice 8.
#[test]
fn more_is_bought_only_where_less_is_lost_and_within_what_may_be_bought() {
    let levels = |small: Small| {
        let checked = checked(&job(&text("scrap", &[small])));
        [Measure::Scrap, Measure::Bought]
            .map(|measure| in_units(measure, proven(&checked, measure)))
    };
    assert_eq!(levels(rails(600, None)), [16, 2]);
    assert_eq!(levels(rails(500, None)), [11, 1]);
    assert_eq!(levels(rails(600, Some(2))), [16, 2]);
    assert_eq!(levels(rails(600, Some(1))), [600, 1]);
    // Nothing at all may be bought: one length has to be.
    assert_eq!(levels(rails(600, Some(0))), [600, 1]);
}

#[test]
fn what_is_said_of_a_plan_of_the_least_scrap_is_of_its_scrap() {
    let rails = r#"{"format":"lengthwise-job","aim":"scrap","saw":{"kerf":3,"keep":600},"sections":[{"name":"a","trim":5}],
        "yard":[{"length":2400,"price":"7"}],"parts":[{"label":"rail","length":900,"quantity":2}]}"#;
    let job = job(rails);
    let plan = checked(&job).plan().clone();
    let said = |plan: Plan| {
        let checked = check(&job, plan).expect("its cuts are sound");
        let report = report::build(&job, &checked);
        (checked.verdict(), report.headline.clone(), report)
    };
    let (verdict, headline, report) = said(plan.clone());
    assert_eq!(verdict, Verdict::Proven);
    assert_eq!(
        headline,
        "Buy 2 lengths with the least scrap: proven, no plan does better"
    );
    let measures: Vec<&str> = report.proof.iter().map(|row| row.measure).collect();
    assert_eq!(measures, ["scrap", "bought", "money"]);
    assert_eq!(report.proof[0].value, "0.02 m");
    assert_eq!(
        (report.prices.shares.len(), report.prices.each.len()),
        (0, 0)
    );

    // Without the figures of the money only the scrap and the lengths are shown.
    let mut less = plan.clone();
    let levels = |plan: &mut Plan| {
        plan.proofs[0]
            .certificate
            .as_mut()
            .map(|all| all.levels.split_off(2))
    };
    assert!(levels(&mut less).is_some());
    let (verdict, headline, _) = said(less);
    assert_eq!(verdict, Verdict::FirstProven);
    assert_eq!(headline, "Buy 2 lengths: proven, no plan leaves less scrap");

    // Without those of the scrap nothing is, whatever is shown of the rest.
    let mut none = plan;
    none.proofs[0]
        .certificate
        .as_mut()
        .map(|all| all.levels.remove(0));
    let (verdict, headline, _) = said(none);
    assert_eq!(verdict, Verdict::Claimed);
    assert_eq!(
        headline,
        "Buy 2 lengths: the planner found that no plan leaves less scrap"
    );
}

#[test]
fn forged_claims_about_scrap_are_refused_or_not_believed() {
    let small = rails(600, None);
    let text_of = |aim| text(aim, std::slice::from_ref(&small));
    let job = job(&text_of("scrap"));
    let plan = checked(&job).plan().clone();
    let forged = |forge: &dyn Fn(&mut Plan)| {
        let mut forged = plan.clone();
        forge(&mut forged);
        check(&job, forged)
    };
    let (measure, scrap) = (Measure::Scrap, 16 * TICKS);
    let less = forged(&|plan| plan.proofs[0].levels[0].value -= TICKS);
    let found = scrap;
    let claimed = scrap - TICKS;
    let lie = Lie::WrongValue {
        measure,
        claimed,
        found,
    };
    assert!(less.expect_err("a lie").contains(&lie));
    // One length does, with more scrap than the two that are planned: its figures and claims hold for the fewest lengths alone.
    let fewest = checked(&common::job(&text_of("fewest"))).plan().clone();
    let sections = vec![0];
    assert_eq!(
        check(&job, fewest.clone()),
        Err(vec![Lie::WrongLevels { sections }])
    );
    let swapped = forged(&|plan| {
        plan.boards = fewest.boards.clone();
        let levels = &mut plan.proofs[0].levels;
        (levels[0].value, levels[0].bound) = (600 * TICKS, 600 * TICKS);
        for (level, total) in levels[1..].iter_mut().zip([1, 700]) {
            (level.value, level.bound) = (total, total);
        }
    });
    let figures = scrap;
    let lie = Lie::BoundAboveFigures {
        measure,
        bound: 600 * TICKS,
        figures,
    };
    assert!(swapped.expect_err("a lie").contains(&lie));
    // A bound that the prices do not show, at the scrap and at what comes after it.
    for level in 0..3 {
        let raised = forged(&|plan| {
            let proof = &mut plan.proofs[0];
            let figures = &mut proof.certificate.as_mut().expect("figures").levels[level];
            for branch in &mut figures.tree {
                if let lengthwise::certificate::Branch::Leaf(leaf) = branch {
                    leaf.parts.fill(0);
                }
            }
        });
        let lies = raised.expect_err("a lie");
        assert!(
            matches!(
                lies[0],
                Lie::BoundNotShown { .. } | Lie::LiftedTooFar { .. }
            ),
            "{lies:?}"
        );
    }
    // Figures for other scrap than the plan has show nothing of its lengths.
    let other = forged(&|plan| {
        let proof = &mut plan.proofs[0];
        proof.certificate.as_mut().expect("figures").levels[1].earlier[0] -= TICKS;
    });
    let other = other.expect("nothing false is said");
    assert_eq!(
        other.groups()[0].levels[1].backing,
        Backing::ClaimOnly(Reason::OtherTotals)
    );
    assert_eq!(other.verdict(), Verdict::FirstProven);
}

#[test]
fn packs_and_sizes_that_may_give_are_faults_that_say_what_to_do() {
    let faults = |text: &str| {
        let (draft, _) = job_file::read(text);
        let faults = validate(&draft).expect_err("a fault");
        faults.iter().map(ToString::to_string).collect::<Vec<_>>()
    };
    let text = r#"{"format":"lengthwise-job","aim":"scrap","sections":[{"name":"a"}],
        "yard":[{"length":2400,"pack":4}],"parts":[{"label":"rail","length":"900, may be 880 to 910"}]}"#;
    assert_eq!(
        faults(text),
        [
            "yard 1, pack: the least scrap is not planned out of packs; leave the pack empty, or choose another aim",
            "parts 1, length: the least scrap is not planned with sizes that may give; write the length alone, or choose another aim",
        ]
    );
    let sound = text
        .replace(r#","pack":4"#, "")
        .replace(", may be 880 to 910", ", fixed");
    assert!(validate(&job_file::read(&sound).0).is_ok());
}
