//! Why no plan buys fewer lengths: sentences that hold by counting alone, which is done here once more from the job as written.

mod common;

use common::random::Random;
use common::{checked, job, planned};
use lengthwise::check::check;
use lengthwise::plan::Source;
use lengthwise::planner::Planned;
use lengthwise::report;
use serde_json::{Value, json};

fn why(value: &Value) -> Vec<String> {
    let job = job(&value.to_string());
    report::build(&job, &checked(&job)).why
}

fn rails(lengths: &[(&str, u32)], yard: &[&str], shed: &[&str]) -> Value {
    let parts = lengths.iter().map(
        |(length, quantity)| json!({ "label": "rail", "length": length, "quantity": quantity }),
    );
    let yard = yard.iter().map(|length| json!({ "length": length }));
    let shed = shed
        .iter()
        .enumerate()
        .map(|(at, length)| json!({ "mark": format!("S{at}"), "length": length }));
    json!({
        "format": "lengthwise-job", "version": 1, "saw": { "kerf": "3" }, "sections": [{ "name": "rail", "trim": "0" }],
        "yard": yard.collect::<Vec<_>>(), "shed": shed.collect::<Vec<_>>(), "parts": parts.collect::<Vec<_>>(),
    })
}

#[test]
fn parts_over_half_of_any_length_never_share_one() {
    assert_eq!(
        why(&rails(&[("1310", 4)], &["2400", "2600"], &[])),
        [
            "Why no fewer: there are 4 parts of 1310 mm or more, and at most 1 of them come out of one length."
        ]
    );
    // A board of the shed takes one of them; its trims are 50 at each end.
    assert_eq!(
        why(&rails(&[("1310", 4)], &["2400"], &["1450"])),
        [
            "Why no fewer: there are 4 parts of 1310 mm or more, and at most 1 of them come out of one length, and 1 out of all of the shed."
        ]
    );
}

#[test]
fn two_pales_of_1200_come_out_of_a_length_of_3600() {
    // 3 x 1 200 and two cuts are more than 3 600 less its trims, so 72 of them take 36.
    let mut fence = rails(&[("1200", 72)], &["3600"], &[]);
    fence["sections"][0]["trim"] = "10".into();
    assert_eq!(
        why(&fence),
        [
            "Why no fewer: there are 72 parts of 1200 mm or more, and at most 2 of them come out of one length."
        ]
    );
    // With other lengths of them allowed, they might take less.
    fence["parts"][0]["length"] = "1200, may be 1150 to 1200".into();
    assert_eq!(why(&fence), [] as [&str; 0]);
}

#[test]
fn what_parts_take_is_held_against_one_length_fewer() {
    // Four of 1 000 and four of 700 take 6 824, which three lengths of 2 400 hold; that they do not fit is for the figures to say.
    assert_eq!(
        why(&rails(&[("1000", 4), ("700", 4)], &["2400"], &[])),
        [] as [&str; 0]
    );
    // Six of 1 000 and six of 300 with their cuts take 7 836; three lengths of 2 400 hold 7 209 at the most.
    assert_eq!(
        why(&rails(&[("1000", 6), ("300", 6)], &["2400"], &[])),
        [
            "Why no fewer: the parts with a saw cut each take 7.836 m, and 3 of the longest lengths hold no more than 7.209 m."
        ]
    );
}

#[test]
fn nothing_is_said_where_cuts_may_be_shared() {
    let mut mitred = rails(&[("1310", 4)], &["2400"], &[]);
    mitred["sections"][0]["width"] = "45".into();
    mitred["parts"][0]["ends"] = "45".into();
    assert_eq!(why(&mitred), [] as [&str; 0]);
}

#[test]
fn a_reason_is_a_bound_that_comes_to_what_is_bought() {
    let (mut halves, mut timber) = (0, 0);
    for seed in 0..300 {
        let random = &mut Random(seed);
        let yard: Vec<i64> = (0..random.between(1, 2))
            .map(|_| random.pick(&[1_800, 2_400, 3_000]))
            .collect();
        let shed: Vec<i64> = (0..random.below(3))
            .map(|_| random.between(500, 1_700))
            .collect();
        let parts: Vec<(i64, u32)> = (0..random.between(1, 3))
            .map(|_| (random.between(250, 1_700), random.between(1, 9)))
            .collect();
        let texts = |lengths: &[i64]| lengths.iter().map(ToString::to_string).collect::<Vec<_>>();
        let (yard_texts, shed_texts) = (texts(&yard), texts(&shed));
        let part_texts: Vec<(String, u32)> = parts
            .iter()
            .map(|(length, quantity)| (length.to_string(), *quantity))
            .collect();
        let value = rails(
            &part_texts
                .iter()
                .map(|(length, quantity)| (length.as_str(), *quantity))
                .collect::<Vec<_>>(),
            &yard_texts.iter().map(String::as_str).collect::<Vec<_>>(),
            &shed_texts.iter().map(String::as_str).collect::<Vec<_>>(),
        );
        let job = job(&value.to_string());
        let Planned::Found(plan) = planned(&job) else {
            continue;
        };
        let bought = plan
            .boards
            .iter()
            .filter(|board| matches!(board.source, Source::Yard(_)))
            .count() as i64;
        let checked = check(&job, plan).expect("it holds");
        let told = report::build(&job, &checked).why;
        // Shed boards lose 50 at each end.
        let clear: Vec<i64> = shed.iter().map(|length| length - 100).collect();
        let longest = *yard.iter().max().expect("a length");
        if let Some(text) = told.first() {
            if text.contains("come out of one length") {
                let words: Vec<&str> = text.split_whitespace().collect();
                let number = |after: &str| -> i64 {
                    let at = words
                        .windows(1)
                        .position(|word| word[0] == after)
                        .expect("the word");
                    words[at + 1].parse().expect("a number")
                };
                let shortest = number("of");
                let out_of = |run: i64| (run + 3) / (shortest + 3);
                let large: i64 = parts
                    .iter()
                    .filter(|(length, _)| *length >= shortest)
                    .map(|(_, quantity)| i64::from(*quantity))
                    .sum();
                let in_shed: i64 = clear.iter().map(|run| out_of(*run)).sum();
                let of_length = out_of(longest);
                assert_eq!(number("most"), of_length, "{seed}: {text}");
                assert_eq!(
                    (large - in_shed + of_length - 1).div_euclid(of_length),
                    bought,
                    "{seed}: {text}"
                );
                halves += 1;
            } else {
                let needed: i64 = parts
                    .iter()
                    .map(|(length, quantity)| (length + 3) * i64::from(*quantity))
                    .sum();
                let held: i64 =
                    clear.iter().map(|run| run + 3).sum::<i64>() + (bought - 1) * (longest + 3);
                assert!(needed > held, "{seed}: {text}");
                timber += 1;
            }
        }
    }
    assert!(halves > 20 && timber > 20, "{halves} {timber}");
}

/// The prices of parts in the proof, read out of its text.
fn worths(line: &str) -> Vec<f64> {
    let list = line
        .split(": ")
        .nth(1)
        .and_then(|rest| rest.split(". No ").next());
    let list = list.expect("a list of prices");
    let prices = list
        .split(", ")
        .map(|one| one.rsplit(' ').next().expect("a price"));
    prices
        .map(|price| price.parse().expect("a number"))
        .collect()
}

/// Eight of 1310 and six of 905 out of lengths of 3000 at 8.10: each choice of parts that fits a length is counted here, by hand.
#[test]
fn no_board_holds_parts_worth_more_than_it_costs() {
    let value = json!({
        "format": "lengthwise-job", "aim": "cheapest", "saw": { "kerf": "3" },
        "sections": [{ "name": "batten", "trim": "10" }], "yard": [{ "length": "3000", "price": "8.10" }],
        "parts": [{ "label": "post", "length": "1310", "quantity": 8 }, { "label": "rail", "length": "905", "quantity": 6 }],
    });
    let job = job(&value.to_string());
    let report = report::build(&job, &checked(&job));
    let [each] = &report.prices.each[..] else {
        panic!("{:?}", report.prices)
    };
    let [post, rail] = worths(each)[..] else {
        panic!("{each}")
    };
    for (posts, rails) in [(2.0, 0.0), (1.0, 1.0), (0.0, 3.0)] {
        let worth = posts * post + rails * rail;
        assert!(worth <= 8.10 + 0.03, "{worth} of {each}");
    }
    // Four lengths for the posts and two for the rails.
    let all = 8.0 * post + 6.0 * rail;
    assert!(
        all > 5.0 * 8.10 && all <= 6.0 * 8.10 + 0.1,
        "{all} of {each}"
    );
    let share = 100.0 * 8.0 * post / all;
    let [told] = &report.prices.shares[..] else {
        panic!("{:?}", report.prices)
    };
    let said = told.strip_prefix("What drives the money: post ");
    let said = said
        .and_then(|rest| rest.split(' ').next())
        .expect("a share");
    let said: f64 = said.parse().expect("a number");
    assert!((said - share).abs() < 0.2, "{told} {share}");
}
