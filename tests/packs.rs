//! Lengths sold in packs: what is bought is whole packs, and no other purchase does better.

mod common;

use common::random::Random;
use common::{checked, job, proven};
use lengthwise::check::{Lie, check};
use lengthwise::plan::Measure;
use lengthwise::report;

const KERF: u64 = 3;

/// A line of the yard: length in mm, price in hundredths, how many in a pack, and how many packs there are.
type Line = (u64, u64, u64, Option<u64>);

fn text(aim: &str, lines: &[Line], parts: &[(u64, u64)]) -> String {
    let lines: Vec<String> = lines
        .iter()
        .map(|(length, price, pack, packs)| {
            let packs = packs.map_or(String::new(), |packs| format!(r#","count":{packs}"#));
            let price = format!("{}.{:02}", price / 100, price % 100);
            format!(r#"{{"length":{length},"price":"{price}","pack":{pack}{packs}}}"#)
        })
        .collect();
    let parts: Vec<String> = parts
        .iter()
        .map(|(length, count)| {
            format!(r#"{{"label":"p{length}","length":{length},"quantity":{count}}}"#)
        })
        .collect();
    format!(
        r#"{{"format":"lengthwise-job","aim":"{aim}","saw":{{"kerf":{KERF}}},"sections":[{{"name":"a","trim":0}}],
            "yard":[{}],"parts":[{}]}}"#,
        lines.join(","),
        parts.join(",")
    )
}

/// Whether these parts, longest first, fit boards with so much left; a part takes its length and a cut, and the last cut may fall beyond the end.
fn fit(parts: &[u64], left: &mut Vec<u64>) -> bool {
    let Some((part, rest)) = parts.split_first() else {
        return true;
    };
    let mut tried = Vec::new();
    for at in 0..left.len() {
        let room = left[at];
        if room < part + KERF || tried.contains(&room) {
            continue;
        }
        tried.push(room);
        left[at] -= part + KERF;
        if fit(rest, left) {
            return true;
        }
        left[at] = room;
    }
    false
}

/// The best of all purchases, by lengths and money, in this order of the two: every number of packs of each line is tried.
fn best(lines: &[Line], parts: &[(u64, u64)], money_first: bool) -> Option<[u64; 2]> {
    let mut all: Vec<u64> = Vec::new();
    for &(length, count) in parts {
        all.extend((0..count).map(|_| length));
    }
    all.sort_unstable_by(|one, other| other.cmp(one));
    let most = |line: &Line| {
        line.3
            .unwrap_or(u64::MAX)
            .min((all.len() as u64).div_ceil(line.2))
    };
    let mut best: Option<[u64; 2]> = None;
    let mut packs = vec![0; lines.len()];
    loop {
        let count: u64 = lines
            .iter()
            .zip(&packs)
            .map(|(line, packs)| line.2 * packs)
            .sum();
        let money: u64 = lines
            .iter()
            .zip(&packs)
            .map(|(line, packs)| line.1 * packs)
            .sum();
        let found = if money_first {
            [money, count]
        } else {
            [count, money]
        };
        if best.is_none_or(|best| found < best) {
            let boards = lines.iter().zip(&packs);
            let mut left: Vec<u64> = boards
                .flat_map(|(line, packs)| vec![line.0 + KERF; (line.2 * packs) as usize])
                .collect();
            if fit(&all, &mut left) {
                best = Some(found);
            }
        }
        let Some(next) = (0..lines.len()).find(|&at| packs[at] < most(&lines[at])) else {
            return best;
        };
        packs[next] += 1;
        packs[..next].fill(0);
    }
}

fn random_lines(random: &mut Random) -> Vec<Line> {
    let lines = 1 + random.below(3u64);
    (0..lines)
        .map(|_| {
            let length = 1_000 + 300 * random.below(8u64);
            let pack = 1 + random.below(4u64);
            let price = length * pack / 10 + random.below(200u64);
            let packs = (random.below(4u64) == 0).then(|| 1 + random.below(2u64));
            (length, price, pack, packs)
        })
        .collect()
}

#[test]
fn whole_packs_are_bought_as_well_as_any_purchase_does() {
    let mut met = 0;
    for seed in 0..120 {
        let random = &mut Random(seed);
        let lines = random_lines(random);
        let parts: Vec<(u64, u64)> = (0..1 + random.below(3u64))
            .map(|_| (250 + random.below(900u64), 1 + random.below(3u64)))
            .collect();
        for (aim, measures) in [
            ("fewest", [Measure::Bought, Measure::Money]),
            ("cheapest", [Measure::Money, Measure::Bought]),
        ] {
            let Some(best) = best(&lines, &parts, aim == "cheapest") else {
                continue;
            };
            let checked = checked(&job(&text(aim, &lines, &parts)));
            let found = measures.map(|measure| proven(&checked, measure) as u64);
            assert_eq!(found, best, "seed {seed}, {aim}: {lines:?}, {parts:?}");
            met += 1;
        }
    }
    assert!(met > 150, "{met}");
}

/// Own arithmetic: five parts of 900 take three lengths of 2.4 m, and so a pack of four; one length is left whole.
#[test]
fn what_is_left_of_a_pack_goes_back_to_the_shed() {
    let job = job(&text("fewest", &[(2_400, 2_800, 4, None)], &[(900, 5)]));
    let checked = checked(&job);
    assert_eq!(proven(&checked, Measure::Bought), 4);
    assert_eq!(proven(&checked, Measure::Money), 2_800);
    let report = report::build(&job, &checked);
    let row = &report.buying.rows[0];
    assert_eq!((row.count, row.cost.as_str()), (4, "28.00"));
    assert_eq!(row.told, "1 pack of 4; 28.00 a pack");
    assert_eq!(report.buying.order_lines, ["1 pack of 4 \u{2013} 2.4 m a"]);
    let back: Vec<(&str, &str)> = report
        .back_to_shed
        .iter()
        .map(|row| (row.length.as_str(), row.from.as_str()))
        .collect();
    assert_eq!(
        back,
        [
            ("1497 mm", "board 1"),
            ("594 mm", "board 2"),
            ("594 mm", "board 3"),
            ("2400 mm", "a pack")
        ]
    );
}

#[test]
fn a_plan_that_tells_the_money_of_a_pack_wrong_is_refused() {
    let job = job(&text("cheapest", &[(2_400, 2_800, 4, None)], &[(900, 5)]));
    let plan = checked(&job).plan().clone();
    for (level, value, found) in [(0, 2_100, 2_800), (1, 3, 4)] {
        let mut told = plan.clone();
        told.proofs[0].levels[level].value = value;
        told.proofs[0].levels[level].bound = value;
        let measure = told.proofs[0].levels[level].measure;
        let lie = Lie::WrongValue {
            measure,
            claimed: value,
            found,
        };
        assert_eq!(check(&job, told).expect_err("a lie"), [lie]);
    }
}

/// What is lost of a pack's lengths that are left whole is no scrap, so no bound of scrap is shown by figures.
#[test]
fn no_bound_of_scrap_is_claimed_or_believed_of_packs() {
    let job = job(&text("fewest", &[(2_400, 2_800, 4, None)], &[(900, 5)]));
    let checked = checked(&job);
    let measures: Vec<Measure> = checked.plan().proofs[0]
        .levels
        .iter()
        .map(|level| level.measure)
        .collect();
    assert_eq!(measures, [Measure::Bought, Measure::Money]);
}

#[test]
fn more_packs_than_there_are_are_a_lie_and_lengths_to_carry_or_stand_come_in_none() {
    let text = text("fewest", &[(2_400, 2_800, 2, Some(2))], &[(900, 5)]);
    let job = job(&text);
    let mut plan = checked(&job).plan().clone();
    let less = text.replace(r#""count":2"#, r#""count":1"#);
    plan.proofs.clear();
    let lies = check(&common::job(&less), plan).expect_err("a lie");
    assert!(
        matches!(
            lies[0],
            Lie::MoreThanTheYardHas {
                bought: 3,
                count: 1,
                ..
            }
        ),
        "{lies:?}"
    );
    let faults = |text: &str| {
        let (draft, _) = lengthwise::io::job_file::read(text);
        let faults = lengthwise::job::validate(&draft).expect_err("a fault");
        faults
            .iter()
            .map(|fault| fault.to_string())
            .collect::<Vec<_>>()
    };
    assert_eq!(
        faults(&text.replace(r#""aim""#, r#""carry":2000,"aim""#)),
        [
            "yard 1, pack: a length too long to carry is not planned out of packs; write it without the pack, with the price of one"
        ]
    );
    let posts = text
        .replace(r#""trim":0"#, r#""trim":0,"treated":"yes""#)
        .replace(r#""quantity""#, r#""goes":"in the ground","quantity""#);
    assert_eq!(
        faults(&posts),
        [
            "yard 1, pack: parts that stand on factory ends are not planned out of packs; write it without the pack, with the price of one"
        ]
    );
}

/// Own arithmetic: three parts of 2 000 take three of the four lengths; the fourth holds any of them.
#[test]
fn a_spoiled_part_is_replaced_from_what_is_left_of_its_pack() {
    let told = |parts: u64| {
        let job = job(&text(
            "fewest",
            &[(2_400, 2_800, 4, None)],
            &[(2_000, parts)],
        ));
        report::build(&job, &checked(&job)).spoiled
    };
    assert_eq!(told(3), ["p2000: from the 2400 mm left of a pack"]);
    assert_eq!(told(4), ["p2000: one more pack of 4 of 2400 mm, 28.00"]);
}

#[test]
fn packs_of_a_section_that_is_not_there_are_a_fault_like_any_other() {
    let text = r#"{"format":"lengthwise-job","yard":[{"length":2400,"pack":4}],
        "parts":[{"label":"post","length":900,"goes":"in the ground"}]}"#;
    let (draft, _) = lengthwise::io::job_file::read(text);
    let faults = lengthwise::job::validate(&draft).expect_err("a fault");
    assert!(
        faults[0].to_string().contains("the section is missing"),
        "{faults:?}"
    );
}
