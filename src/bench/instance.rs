//! Instance files of the cutting-stock literature.
//!
//! With one stock length: `m`, `capacity`, then `m` lines `size demand`; the cost is the number of lengths used. With several stock
//! lengths: `k`, then `k` lines `length supply cost`, then `m`, then `m` lines `size demand`; the sum of costs is minimised. The number of
//! fields in the second line tells the two apart. The kerf is zero in both.

use crate::problem::{Board, End, Fit, Problem, Run, Section, Shape};

/// One problem with a name and, where it is known, the published bounds.
#[derive(Clone, Debug)]
pub struct Instance {
    /// The folder it was in, or what made it.
    pub class: String,
    /// Its file name without the extension; for the second and later groups of a job, with the group's number.
    pub name: String,
    /// The text from which [`solve_text`](super::solve_text) reads the problem.
    pub text: String,
    /// The problem itself.
    pub problem: Problem,
    /// Published lower and upper bound on the cost.
    pub published: (Option<i64>, Option<i64>),
}

/// The greatest length and cost that are read. Published ones are far below it, and their sums over the whole demand fit 64 bits.
const LONGEST: i64 = 1_000_000_000;
/// The greatest demand of one part, and supply of one board.
const MOST_WANTED: u32 = 1_000_000;

/// Reads one instance.
///
/// # Errors
/// The first field that is missing, is no number, or is out of range.
pub fn parse(text: &str) -> Result<Problem, String> {
    let second = text
        .lines()
        .filter(|line| !line.trim().is_empty())
        .nth(1)
        .unwrap_or_default();
    let several = second.split_whitespace().count() == 3;
    let mut fields = text.split_whitespace();
    let mut next = || -> Result<i64, String> {
        let field = fields.next().ok_or("the file ends too soon")?;
        field
            .parse()
            .map_err(|_| format!("`{field}` is not a whole number"))
    };
    let count = |number: i64| {
        let count = u32::try_from(number).ok();
        count
            .filter(|count| *count <= MOST_WANTED)
            .ok_or_else(|| format!("{number} is not a count up to {MOST_WANTED}"))
    };
    let above_zero = |number: i64, what: &str| match number {
        1..=LONGEST => Ok(number),
        _ => Err(format!("{number} is no {what}; it is from 1 to {LONGEST}")),
    };
    let mut boards = Vec::new();
    let first = next()?;
    let parts = if several {
        for _ in 0..first {
            let length = above_zero(next()?, "length")?;
            let supply = count(next()?)?;
            let cost = next()?;
            if !(0..=LONGEST).contains(&cost) {
                return Err(format!("{cost} is no cost; it is from 0 to {LONGEST}"));
            }
            boards.push(board(length, Some(supply), cost));
        }
        next()?
    } else {
        boards.push(board(above_zero(next()?, "capacity")?, None, 1));
        first
    };
    let mut demand = Vec::new();
    let mut fits = Vec::new();
    for _ in 0..parts {
        let length = above_zero(next()?, "size")?;
        let wanted = count(next()?)?;
        if wanted > 0 {
            fits.push(Some(Fit {
                length,
                ends: [End::Square; 2],
            }));
            demand.push(wanted);
        }
    }
    if demand.is_empty() {
        return Err("the file wants no part".into());
    }
    Ok(Problem {
        demand,
        sections: vec![Section {
            fits,
            ..Section::default()
        }],
        boards,
        floors: Vec::new(),
    })
}

fn board(length: i64, supply: Option<u32>, cost: i64) -> Board {
    Board {
        section: 0,
        shape: Shape::Runs(vec![Run { length, tail: 0 }]),
        cost: vec![cost],
        supply,
        lost: 0,
        factory: None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_no_problem_can_be_made_of_is_refused() {
        for (text, why) in [
            ("0\n0", "0 is no capacity"),
            ("0\n10", "the file wants no part"),
            ("1\n10\n3 0", "the file wants no part"),
            ("1\n10\n-3 2", "-3 is no size"),
            ("1\n10\n0 2", "0 is no size"),
            ("1\n-10\n3 2", "-10 is no capacity"),
            ("1\n10\n3 -2", "-2 is not a count"),
            (
                "1\n10\n9223372036854775807 1",
                "9223372036854775807 is no size",
            ),
            ("1\n10 5 -1\n1\n3 1", "-1 is no cost"),
            ("2\n10", "the file ends too soon"),
        ] {
            let found = parse(text).expect_err(text);
            assert!(found.starts_with(why), "{text:?}: {found}");
        }
        assert!(parse("1\n10\n3 2").is_ok());
    }
}
