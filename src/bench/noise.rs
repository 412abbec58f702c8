//! How noisy the machine is: the same work, done again and again.
//!
//! Figures of two builds differ by less than this for no reason at all.

use super::{Allowance, Stopwatch, solve_text};
use std::fmt;
use std::time::Instant;

/// The work: a large job with a search that is ended by counted looks, a twentieth of a second of a processor or so.
const WORK: (&str, u64) = ("practical large 1 0", 5_000);
/// How often it is done at a time.
const TIMES: usize = 7;

/// What the work took, in seconds of the processor, and how long it took, in seconds.
#[derive(Clone, Debug, Default)]
pub struct Noise {
    processor: Vec<f64>,
    passed: Vec<f64>,
}

impl Noise {
    /// Does the work some times more. At the start and at the end of a run, so that a machine that becomes busy is noticed.
    pub fn listen(&mut self) {
        for _ in 0..TIMES {
            let (began, watch) = (Instant::now(), Stopwatch::start());
            // The work is part of the program, so it describes a problem.
            let done = solve_text(WORK.0, false, &mut Allowance::of_looks(WORK.1));
            if done.is_ok() {
                self.processor.push(watch.seconds());
                self.passed.push(began.elapsed().as_secs_f64());
            }
        }
    }
}

/// `the same work 14 times: 0.048 to 0.055 s of a processor, middle 0.049, spread 14 %; 0.048 to 0.123 s passed`.
impl fmt::Display for Noise {
    fn fmt(&self, output: &mut fmt::Formatter) -> fmt::Result {
        let sorted = |seconds: &[f64]| {
            let mut seconds = seconds.to_vec();
            seconds.sort_by(f64::total_cmp);
            seconds
        };
        let (processor, passed) = (sorted(&self.processor), sorted(&self.passed));
        let ([least, .., most], [short, .., long]) = (&processor[..], &passed[..]) else {
            return write!(output, "the same work was not done");
        };
        let middle = processor[processor.len() / 2];
        write!(
            output,
            "the same work {} times: {least:.3} to {most:.3} s of a processor, middle {middle:.3}, spread {:.0} %; {short:.3} to {long:.3} s passed",
            processor.len(),
            100.0 * (most - least) / middle.max(1e-9),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_work_is_done_and_its_spread_told() {
        let mut noise = Noise::default();
        assert_eq!(noise.to_string(), "the same work was not done");
        noise.listen();
        noise.listen();
        assert!(
            noise
                .to_string()
                .starts_with(&format!("the same work {} times: ", 2 * TIMES))
        );
        let noise = Noise {
            processor: vec![0.2, 0.1, 0.15],
            passed: vec![0.2, 0.1, 0.4],
        };
        assert_eq!(
            noise.to_string(),
            "the same work 3 times: 0.100 to 0.200 s of a processor, middle 0.150, spread 67 %; 0.100 to 0.400 s passed"
        );
    }
}
