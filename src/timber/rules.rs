//! The assumptions behind the quantities that a person may know better: coverage of a litre, fixings at a joint, size of a bag.
//!
//! One table has each rule's name, usual value and range; the reader, the form and the schema use it.

use crate::fault::{Fault, FaultKind, Place};
use crate::length::Reading;
use crate::nearest::nearest_word;

/// The rules of a job. Those that may have decimals are in hundredths.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct QuantityRules {
    /// Hundredths of a square metre a litre covers in one coat (of a square foot, a US gallon, in an imperial job).
    pub coverage: u32,
    /// How many coats.
    pub coats: u32,
    /// Hundredths of a litre in a bag (of a cubic foot in an imperial job).
    pub bag: u32,
    /// Percent more fill for settling.
    pub settle: u32,
    /// Percent of spare timber, kept apart from the parts.
    pub spare: u32,
    /// Fixings at a crossing of a board and a support; `None` lets it follow the width of the board.
    pub fixings: Option<u32>,
    /// Fixings at a joint of two framing members.
    pub joint_fixings: u32,
    /// Percent of spare fixings.
    pub spare_fixings: u32,
}

/// A rule as a form shows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rule {
    /// Its name in a job file.
    pub field: &'static str,
    /// What a form calls it.
    pub label: &'static str,
    /// What to fill in, and where the usual value is from.
    pub hint: &'static str,
    /// The usual value in a metric job; empty where it follows from another figure.
    pub usual: &'static str,
    /// The usual value in an imperial job.
    pub usual_imperial: &'static str,
    /// Whether hundredths are allowed.
    amount: Amount,
    /// The least, in whole units.
    least: u32,
    /// The most, in whole units.
    most: u32,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Amount {
    Whole,
    Hundredths,
}

/// Every rule.
pub static RULES: &[Rule] = &[
    Rule {
        field: "coverage",
        label: "One coat covers",
        hint: "Square metres to the litre (square feet to the US gallon). The tin says; rough and sawn faces drink more.",
        // 6 to 7 m2 to the litre for two coats on a decking oil's data sheet, so about 12 for one coat.
        usual: "12",
        usual_imperial: "490",
        amount: Amount::Hundredths,
        least: 1,
        most: 5_000,
    },
    Rule {
        field: "coats",
        label: "Coats",
        hint: "Of oil, stain or paint; 0 for none.",
        usual: "2",
        usual_imperial: "2",
        amount: Amount::Whole,
        least: 0,
        most: 10,
    },
    Rule {
        field: "bag",
        label: "A bag holds",
        hint: "Litres of soil or other fill (cubic feet).",
        usual: "50",
        usual_imperial: "2",
        amount: Amount::Hundredths,
        least: 1,
        most: 5_000,
    },
    Rule {
        field: "settle",
        label: "More fill for settling, percent",
        hint: "Soil settles; 10 to 15 is often advised.",
        usual: "10",
        usual_imperial: "10",
        amount: Amount::Whole,
        least: 0,
        most: 100,
    },
    Rule {
        field: "spare",
        label: "Spare timber, percent",
        hint: "For hidden defects and slips; shown apart, never added to a part.",
        usual: "5",
        usual_imperial: "5",
        amount: Amount::Whole,
        least: 0,
        most: 100,
    },
    Rule {
        field: "fixings",
        label: "Fixings at each crossing",
        hint: "Where a board crosses a support. Leave empty for two, or one in boards sold as under 100 mm or 4 in.",
        usual: "",
        usual_imperial: "",
        amount: Amount::Whole,
        least: 0,
        most: 20,
    },
    Rule {
        field: "joint_fixings",
        label: "Fixings at each frame joint",
        hint: "Where two framing members meet; two is a common rule for stud walls.",
        usual: "2",
        usual_imperial: "2",
        amount: Amount::Whole,
        least: 0,
        most: 20,
    },
    Rule {
        field: "spare_fixings",
        label: "Spare fixings, percent",
        hint: "An old estimating rule adds 20.",
        usual: "20",
        usual_imperial: "20",
        amount: Amount::Whole,
        least: 0,
        most: 100,
    },
];

/// Reads the rules of a job as typed; empty fields take the usual values.
pub fn read_rules(fields: &[(String, String)], reading: Reading) -> (QuantityRules, Vec<Fault>) {
    let mut faults = Vec::new();
    for (name, _) in fields {
        if !RULES.iter().any(|rule| rule.field == name) {
            let nearest = nearest_word(name, RULES.iter().map(|rule| rule.field));
            let kind = FaultKind::UnknownField {
                field: name.clone(),
                nearest,
            };
            faults.push(Fault::new(Place::object("quantities", name), kind));
        }
    }
    let mut value = |name: &'static str| -> Option<u32> {
        let rule = RULES.iter().find(|rule| rule.field == name)?;
        let written = fields.iter().rev().find(|(field, _)| field == name);
        let text = written.map_or("", |(_, text)| text.trim());
        let imperial = reading.unit.is_imperial();
        let usual = if imperial {
            rule.usual_imperial
        } else {
            rule.usual
        };
        if text.is_empty() {
            return rule.read(usual, '.');
        }
        let read = rule.read(text, reading.decimal.sign());
        if read.is_none() {
            let kind = FaultKind::Count {
                text: text.to_owned(),
                least: rule.least,
                most: rule.most,
            };
            faults.push(Fault::new(Place::object("quantities", name), kind));
        }
        read.or_else(|| rule.read(usual, '.'))
    };
    let rules = QuantityRules {
        coverage: value("coverage").unwrap_or(1_200),
        coats: value("coats").unwrap_or(2),
        bag: value("bag").unwrap_or(5_000),
        settle: value("settle").unwrap_or(10),
        spare: value("spare").unwrap_or(5),
        fixings: value("fixings"),
        joint_fixings: value("joint_fixings").unwrap_or(2),
        spare_fixings: value("spare_fixings").unwrap_or(20),
    };
    (rules, faults)
}

impl Default for QuantityRules {
    fn default() -> QuantityRules {
        read_rules(&[], Reading::default()).0
    }
}

impl Rule {
    /// The value of a text, in hundredths where those are allowed; `None` where the text is no number or out of range.
    fn read(&self, text: &str, sign: char) -> Option<u32> {
        let (whole, decimals) = match self.amount {
            Amount::Whole => (text, ""),
            Amount::Hundredths => text.split_once(sign).unwrap_or((text, "")),
        };
        let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
        if whole.is_empty() || whole.len() > 6 || decimals.len() > 2 {
            return None;
        }
        if !digits(whole) || !digits(decimals) {
            return None;
        }
        let whole: u32 = whole.parse().ok()?;
        let hundredths: u32 = format!("{decimals:0<2}").parse().ok()?;
        if !(self.least..=self.most).contains(&whole) {
            return None;
        }
        Some(match self.amount {
            Amount::Whole => whole,
            Amount::Hundredths => whole * 100 + hundredths,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::{Decimal, Unit};

    #[test]
    fn every_usual_value_is_allowed() {
        for rule in RULES {
            for usual in [rule.usual, rule.usual_imperial] {
                assert!(
                    usual.is_empty() || rule.read(usual, '.').is_some(),
                    "{}",
                    rule.field
                );
            }
        }
    }

    #[test]
    fn rules_are_read_and_faults_have_their_place() {
        let reading = Reading {
            unit: Unit::Millimetre,
            decimal: Decimal::Comma,
        };
        let fields = [
            ("coverage".to_owned(), "7,5".to_owned()),
            ("coat".to_owned(), "3".to_owned()),
            ("spare".to_owned(), "many".to_owned()),
        ];
        let (rules, faults) = read_rules(&fields, reading);
        assert_eq!(rules.coverage, 750);
        assert_eq!(rules.coats, 2);
        assert_eq!(
            faults.iter().map(ToString::to_string).collect::<Vec<_>>(),
            [
                "quantities, coat: no field is called \"coat\"; did you mean \"coats\"?",
                "quantities, spare: \"many\" should be a whole number from 0 to 100"
            ]
        );
    }
}
