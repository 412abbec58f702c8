//! What to write instead of a text that can be read two ways, made from that very text: `2,4` becomes `2.4 or 24`.

use super::LengthFault;

/// What is wrong with a text and how to mend it, with examples from the text itself where it has any to give.
pub fn told(text: &str, fault: &LengthFault) -> String {
    let mended = match fault {
        LengthFault::OtherDecimalSign(sign) => two_readings(text.trim(), *sign).map(|[likely, other]| {
            let (name, means) = if *sign == ',' { ("a comma", "comma") } else { ("a point", "point") };
            let here = if *sign == ',' { "" } else { " here" };
            format!(
                "{name} can mean thousands or a decimal{here}; write {likely} or {other}, or set the decimal sign of the piece to a {means}"
            )
        }),
        LengthFault::ThreeDecimalsOfMillimetres => in_metres(text.trim())
            .map(|[metres, millimetres]| format!("three decimals of a millimetre look like metres; write {metres} or {millimetres} if you mean that")),
        _ => None,
    };
    mended.unwrap_or_else(|| fault.to_string())
}

/// The text with its one separator read as a decimal sign and as a thousands separator, the likelier first.
fn two_readings(text: &str, sign: char) -> Option<[String; 2]> {
    let own = if sign == ',' { '.' } else { ',' };
    let (before, after) = text.split_once(sign)?;
    if after.contains([',', '.']) || before.contains([',', '.']) {
        return None;
    }
    let end = after
        .find(|sign: char| !sign.is_ascii_digit())
        .unwrap_or(after.len());
    let (digits, unit) = after.split_at(end);
    if digits.is_empty() || !before.ends_with(|sign: char| sign.is_ascii_digit()) {
        return None;
    }
    // `1,200` read as a decimal is 1.2; written out with three decimals it would be refused again.
    let short = digits.trim_end_matches('0');
    let decimal = if short.is_empty() {
        format!("{before}{unit}")
    } else {
        format!("{before}{own}{short}{unit}")
    };
    let whole = format!("{before}{digits}{unit}");
    if decimal == whole {
        None
    } else if digits.len() == 3 {
        // The reading with thousands comes first where it is likelier.
        Some([whole, decimal])
    } else {
        Some([decimal, whole])
    }
}

/// `1.200` as `1.2 m` and `1200 mm`.
fn in_metres(text: &str) -> Option<[String; 2]> {
    let number = text.trim_end_matches(|sign: char| sign.is_alphabetic() || sign == ' ');
    let sign = number.chars().find(|sign| !sign.is_ascii_digit())?;
    let (whole, decimals) = number.split_once(sign)?;
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    if !digits(whole) || !digits(decimals) || decimals.len() != 3 {
        return None;
    }
    let short = decimals.trim_end_matches('0');
    let metres = if short.is_empty() {
        format!("{whole} m")
    } else {
        format!("{whole}{sign}{short} m")
    };
    let joined = format!("{whole}{decimals}");
    let millimetres = joined.trim_start_matches('0');
    (!millimetres.is_empty()).then(|| [metres, format!("{millimetres} mm")])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::{Decimal, Reading, Unit, read_length};

    #[track_caller]
    fn remedies(text: &str, decimal: Decimal, expected: &str) {
        let reading = Reading {
            unit: Unit::Millimetre,
            decimal,
        };
        let fault = read_length(text, reading).expect_err(text);
        let told = told(text, &fault);
        let (_, from) = told.split_once("write ").expect("a remedy");
        assert!(from.starts_with(expected), "{text}: {told}");
        for example in expected.split(" or ") {
            assert!(
                read_length(example, reading).is_ok(),
                "{example} is refused again"
            );
        }
    }

    #[test]
    fn remedies_are_made_from_what_was_typed() {
        remedies("2,4", Decimal::Point, "2.4 or 24");
        remedies("1,200", Decimal::Point, "1200 or 1.2");
        remedies("1,200 mm", Decimal::Point, "1200 mm or 1.2 mm");
        remedies("2.4 m", Decimal::Comma, "2,4 m or 24 m");
        remedies("1.200", Decimal::Point, "1.2 m or 1200 mm");
        remedies("1.234 mm", Decimal::Point, "1.234 m or 1234 mm");
        remedies("0,095", Decimal::Comma, "0,095 m or 95 mm");
        remedies("3.000", Decimal::Point, "3 m or 3000 mm");
    }

    #[test]
    fn a_text_that_gives_no_example_gets_a_common_one() {
        remedies("1,234,567", Decimal::Point, "1200 or 1.2");
    }
}
