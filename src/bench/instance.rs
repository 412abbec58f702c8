//! Instance files of the cutting-stock literature.
//!
//! One stock length: `m`, `capacity`, then `m` lines `size demand`; the cost is the number of lengths used. Several stock lengths: `k`,
//! then `k` lines `length supply cost`, then `m`, then `m` lines `size demand`; the cost is to be least. The two are told
//! apart by the number of fields in the second line. Kerf is nothing in both.

use crate::problem::{Board, End, Fit, Problem, Run, Section, Shape};

/// One problem with a name and, where it is known, the published bounds.
#[derive(Clone, Debug)]
pub struct Instance {
    /// The folder it was in, or what made it.
    pub class: String,
    /// Its file name without the ending.
    pub name: String,
    /// The text that the problem is made of: the file's, or what [`practical`](super::practical) reads.
    pub text: String,
    /// What is asked.
    pub problem: Problem,
    /// Published lower and upper bound on the cost.
    pub published: (Option<i64>, Option<i64>),
}

/// Reads one instance.
///
/// # Errors
/// The first field that is missing or no number.
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
    let count = |number: i64| u32::try_from(number).map_err(|_| format!("{number} is not a count"));
    let mut boards = Vec::new();
    let first = next()?;
    let parts = if several {
        for _ in 0..first {
            let (length, supply, cost) = (next()?, count(next()?)?, next()?);
            boards.push(board(length, Some(supply), cost));
        }
        next()?
    } else {
        boards.push(board(next()?, None, 1));
        first
    };
    let mut demand = Vec::new();
    let mut fits = Vec::new();
    for _ in 0..parts {
        let length = next()?;
        let wanted = count(next()?)?;
        if wanted > 0 {
            fits.push(Some(Fit {
                length,
                ends: [End::Square; 2],
            }));
            demand.push(wanted);
        }
    }
    Ok(Problem {
        demand,
        sections: vec![Section {
            fits,
            ..Section::default()
        }],
        boards,
    })
}

fn board(length: i64, supply: Option<u32>, cost: i64) -> Board {
    Board {
        section: 0,
        shape: Shape::Runs(vec![Run { length, tail: 0 }]),
        cost: vec![cost],
        supply,
        lost: 0,
    }
}
