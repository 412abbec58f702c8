//! What is in the car so far: how many lengths are bought, what they cost, their total length and their mass.

use super::cautions::over_payload;
use super::words::{Words, counted};
use crate::job::Job;
use crate::length::Length;
use crate::money::Money;
use crate::progress::Bought;
use crate::quantities::{Load, load, mass_text};

/// What is in the car.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Car {
    /// Its totals.
    pub totals: Vec<CarTotal>,
    /// Warnings about the load.
    pub warnings: Vec<String>,
}

/// One total of what is in the car.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CarTotal {
    /// What is added up.
    pub figure: CarFigure,
    /// What is added up, in words.
    pub name: &'static str,
    /// The total, with its limit where there is one.
    pub value: String,
    /// The total alone.
    pub amount: String,
}

/// What is added up of the lengths in the car.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CarFigure {
    /// How many they are.
    Count,
    /// What they cost.
    Cost,
    /// How long they are together.
    Length,
    /// What they weigh.
    Mass,
}

impl CarFigure {
    /// The key by which programs know it.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            CarFigure::Count => "count",
            CarFigure::Cost => "cost",
            CarFigure::Length => "length",
            CarFigure::Mass => "mass",
        }
    }
}

/// Totals of what is bought, each time by the yard's list of that time; the last job gives the payload and how lengths are written. The
/// total length takes a measured length as measured and any other as sold; the mass goes by the lengths as sold. The cost is left out where
/// a price is missing, and the mass where a side of a section is. Lines that the yard does not have are skipped.
pub fn in_the_car(times: &[(&Job, &[Bought])]) -> Car {
    let Some((job, _)) = times.last() else {
        return Car::default();
    };
    let words = Words::of(job);
    let bought = || {
        let times = times.iter();
        times.flat_map(|(job, bought)| bought.iter().map(move |one| (job, one)))
    };
    let boards = bought().flat_map(|(job, bought)| {
        let line = job.yard.get(bought.line);
        line.into_iter().flat_map(move |line| {
            let lengths = bought.lengths.iter();
            lengths.map(move |measured| measured.unwrap_or(line.length))
        })
    });
    let boards: Vec<Length> = boards.collect();
    if boards.is_empty() {
        return Car::default();
    }
    let total = |figure: CarFigure, name: &'static str, amount: String| CarTotal {
        figure,
        name,
        value: amount.clone(),
        amount,
    };
    let mut totals = vec![total(
        CarFigure::Count,
        "Bought so far",
        counted(boards.len() as u64, "length", "lengths"),
    )];
    let known = bought().filter(|(job, one)| one.line < job.yard.len());
    let paid = known.map(|(job, one)| job.paid(one.line, one.lengths.len() as u64));
    if let Some(paid) = paid.collect::<Option<Vec<Money>>>() {
        let cost = words.money(paid.into_iter().sum::<Money>());
        totals.push(total(CarFigure::Cost, "Cost so far", cost));
    }
    let length: Length = boards.iter().copied().sum();
    totals.push(total(
        CarFigure::Length,
        "Timber so far",
        words.total(length),
    ));
    let loads = times.iter().map(|(job, bought)| {
        let lines = bought
            .iter()
            .map(|one| (one.line, one.lengths.len() as u64));
        load(job, &lines.collect::<Vec<_>>())
    });
    let loads: Vec<Load> = loads.collect();
    let mut sections = loads.iter().flat_map(|load| &load.by_section);
    let mut warnings = Vec::new();
    if sections.all(|(_, mass)| mass.is_some()) {
        let grams = loads.iter().map(|load| load.mass).sum();
        let mut weighed = total(CarFigure::Mass, "Mass so far", mass_text(job, grams));
        if let Some(payload) = job.payload {
            weighed.value += &format!(" of {}", mass_text(job, payload.grams()));
        }
        totals.push(weighed);
        warnings.extend(
            job.payload
                .and_then(|payload| over_payload(job, grams, payload)),
        );
    }
    Car { totals, warnings }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{JobDraft, PartDraft, SectionDraft, YardDraft, validate};
    use crate::mass::Mass;

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
                ..YardDraft::default()
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

    fn texts(car: Car) -> Vec<String> {
        let values = car.totals.into_iter().map(|total| total.value);
        values.collect()
    }

    #[test]
    fn a_measured_length_counts_as_measured_and_any_other_as_sold() {
        // 2400 + 2412 = 4812 mm, 4.81 m to the hundredth; 2 x 6.30.
        let bought = [Bought {
            line: 0,
            lengths: vec![None, Some(Length::from_mm(2_412))],
            ..Bought::default()
        }];
        assert_eq!(
            texts(in_the_car(&[(&job(Some("6.30")), &bought)])),
            ["2 lengths", "12.60", "4.81 m"]
        );
    }

    #[test]
    fn each_time_has_its_own_list() {
        // 6.30 this morning; then the list begins with another line, so that the same board is its second, and costs 7.00.
        let (morning, mut noon) = (job(Some("6.30")), job(Some("7.00")));
        let mut other = noon.yard[0].clone();
        other.length = Length::from_mm(3_600);
        noon.yard.insert(0, other);
        let one = |line| Bought {
            line,
            lengths: vec![None],
            ..Bought::default()
        };
        let car = in_the_car(&[(&morning, &[one(0)]), (&noon, &[one(1)])]);
        assert_eq!(texts(car), ["2 lengths", "13.30", "4.8 m"]);
    }

    #[test]
    fn no_cost_is_told_where_a_price_is_missing_and_nothing_where_nothing_is_bought() {
        let bought = [Bought {
            line: 0,
            lengths: vec![None],
            ..Bought::default()
        }];
        assert_eq!(
            texts(in_the_car(&[(&job(None), &bought)])),
            ["1 length", "2.4 m"]
        );
        assert_eq!(in_the_car(&[(&job(None), &[])]), Car::default());
    }

    #[test]
    fn a_load_over_the_payload_is_warned_of() {
        // 45 x 70 mm x 2.4 m at 420 kg/m3 is 3.1752 kg, so ten weigh 31.752 kg.
        let mut job = job(None);
        job.sections[0].thickness = Some(Length::from_mm(45));
        job.sections[0].width = Some(Length::from_mm(70));
        let bought = [Bought {
            line: 0,
            lengths: vec![None; 10],
            ..Bought::default()
        }];
        job.payload = Some(Mass::from_grams(31_752));
        let within = in_the_car(&[(&job, &bought)]);
        let mass = &within.totals[2];
        assert_eq!(mass.figure, CarFigure::Mass);
        assert_eq!(
            (&mass.value[..], &mass.amount[..]),
            ("31.8 kg of 31.8 kg", "31.8 kg")
        );
        assert!(within.warnings.is_empty());
        job.payload = Some(Mass::from_grams(31_000));
        let over = in_the_car(&[(&job, &bought)]).warnings;
        assert_eq!(
            over,
            [
                "Too heavy for the vehicle: 31.8 kg of timber, and it may carry 31.0 kg. Go twice, or have it brought."
            ]
        );
    }
}
