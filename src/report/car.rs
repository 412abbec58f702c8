//! What is in the car so far: how many lengths are bought, what they cost, how long they are together.

use super::Total;
use super::words::{Words, counted};
use crate::job::Job;
use crate::length::Length;
use crate::money::Money;
use crate::progress::Bought;

/// Adds up what is bought. A measured length counts as measured, any other as sold; the cost is left out where a price is missing.
/// Lines the yard does not have are passed over.
pub fn in_the_car(job: &Job, bought: &[Bought]) -> Vec<Total> {
    let words = Words::of(job);
    let boards = bought.iter().flat_map(|bought| {
        let line = job.yard.get(bought.line);
        line.into_iter().flat_map(move |line| {
            let lengths = bought.lengths.iter();
            lengths.map(move |measured| (measured.unwrap_or(line.length), line.price))
        })
    });
    let boards: Vec<(Length, Option<Money>)> = boards.collect();
    if boards.is_empty() {
        return Vec::new();
    }
    let total = |name: &str, value: String| Total {
        name: name.into(),
        value,
    };
    let mut totals = vec![total(
        "Bought so far",
        counted(boards.len() as u64, "length", "lengths"),
    )];
    let prices: Option<Vec<Money>> = boards.iter().map(|(_, price)| *price).collect();
    if let Some(prices) = prices {
        totals.push(total(
            "Cost so far",
            words.money(prices.into_iter().sum::<Money>()),
        ));
    }
    let length: Length = boards.iter().map(|(length, _)| *length).sum();
    totals.push(total("Timber so far", words.total(length)));
    totals
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{JobDraft, PartDraft, SectionDraft, YardDraft, validate};

    fn job(price: Option<&str>) -> Job {
        let text = |text: &str| Some(text.to_owned());
        let draft = JobDraft {
            sections: vec![SectionDraft {
                name: text("frame"),
                ..SectionDraft::default()
            }],
            yard: vec![YardDraft {
                section: text("frame"),
                length: text("2400"),
                price: price.map(str::to_owned),
                count: None,
            }],
            parts: vec![PartDraft {
                label: text("rail"),
                section: text("frame"),
                length: text("560"),
                ..PartDraft::default()
            }],
            ..JobDraft::default()
        };
        validate(&draft).expect("the job has no faults")
    }

    fn texts(totals: Vec<Total>) -> Vec<String> {
        let values = totals.into_iter().map(|total| total.value);
        values.collect()
    }

    #[test]
    fn a_measured_length_counts_as_measured_and_any_other_as_sold() {
        // 2400 + 2412 = 4812 mm, 4.81 m to the hundredth; 2 x 6.30.
        let bought = [Bought {
            line: 0,
            lengths: vec![None, Some(Length::from_mm(2_412))],
        }];
        assert_eq!(
            texts(in_the_car(&job(Some("6.30")), &bought)),
            ["2 lengths", "12.60", "4.81 m"]
        );
    }

    #[test]
    fn no_cost_is_told_where_a_price_is_missing_and_nothing_where_nothing_is_bought() {
        let bought = [Bought {
            line: 0,
            lengths: vec![None],
        }];
        assert_eq!(
            texts(in_the_car(&job(None), &bought)),
            ["1 length", "2.4 m"]
        );
        assert_eq!(in_the_car(&job(None), &[]), []);
    }
}
