//! Lengths sold in packs: what is bought is whole packs, and no other purchase does better.

mod common;

use common::random::Random;
use common::{checked, job, proven};
use lengthwise::plan::Measure;

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
