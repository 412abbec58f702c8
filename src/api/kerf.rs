//! The kerf of a saw, worked out from a scrap that was cut up.
//!
//! A scrap is measured and cut several times; its pieces are laid end to end and measured again. The difference went into the cuts, so the
//! kerf is `(before - after) / cuts` (common practice, no source). Ten cuts divide the error of the tape by ten.

use super::request::{Reply, field, text};
use crate::io::job_file;
use crate::io::objects::object;
use crate::job::examine;
use crate::length::{Length, exact_text, read_length};
use crate::limits;
use serde_json::Value;

/// The kerf of a saw: `{job, before, after, cuts}`, all as typed, gives `{kerf}` written as the job writes lengths, rounded to 0.01 mm or
/// 1/128 in, or `{faults: [{name, message}]}`.
pub fn kerf(request: &Value) -> Reply {
    let job = examine(&job_file::read_value(field(request, "job")?).0).0;
    let mut faults = Vec::new();
    let mut length = |name: &str| -> Result<Length, String> {
        let read = read_length(text(request, name)?, job.reading);
        if let Err(fault) = &read {
            faults.push(object!({ "name": name, "message": fault.to_string() }));
        }
        Ok(read.unwrap_or_default())
    };
    let (before, after) = (length("before")?, length("after")?);
    let cuts = text(request, "cuts")?.trim().parse::<u32>().ok();
    let cuts = cuts.filter(|cuts| (1..=limits::KERF_CUTS).contains(cuts));
    if cuts.is_none() {
        let message = format!("a whole number of cuts, from 1 to {}", limits::KERF_CUTS);
        faults.push(object!({ "name": "cuts", "message": message }));
    }
    let (true, Some(cuts)) = (faults.is_empty(), cuts) else {
        return Ok(object!({ "faults": faults }));
    };
    let fine = if job.reading.unit.is_imperial() {
        635
    } else {
        32
    };
    let each = (2 * (before - after).ticks() + fine * i64::from(cuts))
        .div_euclid(2 * fine * i64::from(cuts));
    let kerf = Length::from_ticks(each * fine);
    let most = limits::KERF.most;
    let wrong = if kerf <= Length::ZERO {
        "the pieces are no shorter together than the scrap was; measure both again".to_owned()
    } else if kerf > most {
        format!(
            "each cut would take {}, more than any saw here; count the cuts and measure again",
            exact_text(kerf, job.reading)
        )
    } else {
        return Ok(object!({ "kerf": exact_text(kerf, job.reading) }));
    };
    Ok(object!({ "faults": [object!({ "name": "after", "message": wrong })] }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn asked(unit: &str, before: &str, after: &str, cuts: &str) -> Value {
        let job = json!({ "format": "lengthwise-job", "unit": unit });
        kerf(&json!({ "job": job, "before": before, "after": after, "cuts": cuts }))
            .expect("an answer")
    }

    #[test]
    fn what_ten_cuts_take_of_a_scrap_is_ten_kerfs() {
        // Own arithmetic: 500 - 476.5 = 23.5 mm are ten cuts of 2.35; 20 - 18 3/4 = 1 1/4 in are ten of 1/8 in.
        assert_eq!(
            asked("mm", "500", "476.5", "10"),
            json!({ "kerf": "2.35 mm" })
        );
        assert_eq!(
            asked("in", "20", "18 3/4", "10"),
            json!({ "kerf": "1/8\"" })
        );
        // Seven cuts of 20 mm in all are 2.857142... each, to a hundredth 2.86.
        assert_eq!(asked("mm", "500", "480", "7"), json!({ "kerf": "2.86 mm" }));
    }

    #[test]
    fn what_cannot_be_is_said_beside_its_field() {
        let fault = |answer: Value| answer["faults"][0]["name"].as_str().map(str::to_owned);
        assert_eq!(
            fault(asked("mm", "500", "500", "10")).as_deref(),
            Some("after")
        );
        assert_eq!(
            fault(asked("mm", "500", "501", "10")).as_deref(),
            Some("after")
        );
        assert_eq!(
            fault(asked("mm", "500", "200", "10")).as_deref(),
            Some("after")
        );
        assert_eq!(
            fault(asked("mm", "5oo", "476", "10")).as_deref(),
            Some("before")
        );
        assert_eq!(
            fault(asked("mm", "500", "476", "0")).as_deref(),
            Some("cuts")
        );
        assert_eq!(
            fault(asked("mm", "500", "476", "ten")).as_deref(),
            Some("cuts")
        );
    }
}
