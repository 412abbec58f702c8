//! A made-up problem written as a person would write it, as a job, for measurements that start from a job.

use crate::job::{JobDraft, OwnDraft, PartDraft, SawDraft, SectionDraft, ShedDraft, YardDraft};
use crate::problem::{Board, Problem, Shape, Ticks};
use timber::limits::BOARD;

const SECTION: &str = "timber";
/// Ticks in a millimetre.
const TICKS: Ticks = 3_200;

/// The job of a made-up problem, all of whose ends are square. Lengths above `carry` are cut once at the yard.
pub(super) fn written(problem: &Problem, carry: Option<&str>) -> JobDraft {
    let section = &problem.sections[0];
    let mut draft = JobDraft {
        own: OwnDraft {
            carry: carry.map(str::to_owned),
            // A published figure knows nothing of how a yard saws.
            yard_tolerance: some("0"),
            yard_trim: some("0"),
            ..OwnDraft::default()
        },
        saw: SawDraft {
            kerf: Some(millimetres(section.kerf)),
            keep: Some(millimetres(section.keep)),
            ..SawDraft::default()
        },
        sections: vec![SectionDraft {
            name: some(SECTION),
            ..SectionDraft::default()
        }],
        ..JobDraft::default()
    };
    for board in &problem.boards {
        let trim = millimetres(trim(board));
        if board.cost[0] > 0 {
            draft.sections[0].trim = Some(trim);
            draft.yard.push(YardDraft {
                section: some(SECTION),
                length: Some(millimetres(length(board))),
                price: board
                    .cost
                    .get(1)
                    .map(|cost| format!("{}.{:02}", cost / 100, cost % 100)),
                count: board.supply.map(|count| count.to_string()),
                ..YardDraft::default()
            });
        } else {
            draft.shed.push(ShedDraft {
                mark: Some(draft.shed.len().to_string()),
                section: some(SECTION),
                length: Some(millimetres(length(board))),
                bad: bad(board),
                trim: Some(trim),
                ..ShedDraft::default()
            });
        }
    }
    for (part, fit) in section.fits.iter().enumerate() {
        draft.parts.push(PartDraft {
            label: Some(format!("part {part}")),
            section: some(SECTION),
            length: fit.map(|fit| millimetres(fit.length)),
            quantity: Some(problem.demand[part].to_string()),
            ends: some("square"),
            ..PartDraft::default()
        });
    }
    draft
}

/// A published instance of one length with its units as millimetres, or as hundredths where a board would be too long for a job; `None` for any other.
pub(super) fn in_millimetres(problem: &Problem) -> Option<Problem> {
    let mut problem = problem.clone();
    let [board] = &mut problem.boards[..] else {
        return None;
    };
    let Shape::Runs(runs) = &mut board.shape else {
        return None;
    };
    let longest = runs.iter().map(|run| run.length).max()?;
    let unit = match longest.saturating_mul(TICKS) > BOARD.most.ticks() {
        true => TICKS / 100,
        false => TICKS,
    };
    let fits = problem.sections[0].fits.iter_mut().flatten();
    let parts = fits.map(|fit| &mut fit.length);
    for length in runs.iter_mut().map(|run| &mut run.length).chain(parts) {
        *length *= unit;
    }
    (board.cost.len() == 1 && board.supply.is_none()).then_some(problem)
}

fn some(text: &str) -> Option<String> {
    Some(text.to_owned())
}

/// The length of the whole board.
fn length(board: &Board) -> Ticks {
    board.lost
        + runs(board)
            .map(|(length, tail)| length + tail)
            .sum::<Ticks>()
}

/// The length trimmed off either end.
fn trim(board: &Board) -> Ticks {
    runs(board).last().map_or(0, |(_, tail)| tail)
}

/// The bad stretch between the board's two runs, where it has two.
fn bad(board: &Board) -> Option<String> {
    let first = runs(board).next().map_or(0, |(length, _)| length);
    let from = trim(board) + first;
    let to = from + board.lost - trim(board);
    (runs(board).count() > 1).then(|| format!("{}..{}", millimetres(from), millimetres(to)))
}

/// Length and tail of each run; made-up boards have no other shape.
fn runs(board: &Board) -> impl Iterator<Item = (Ticks, Ticks)> {
    let runs = match &board.shape {
        Shape::Runs(runs) => runs.as_slice(),
        Shape::OneCut { .. } => &[],
    };
    runs.iter().map(|run| (run.length, run.tail))
}

/// Ticks as millimetres, exact.
fn millimetres(ticks: Ticks) -> String {
    format!("{}.{:07}", ticks / TICKS, ticks % TICKS * 3_125)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::{JobSize, parse, practical_jobs};
    use crate::group::groups;
    use crate::job::validate;

    #[test]
    fn a_problem_written_as_a_job_is_the_same_problem() {
        for instance in practical_jobs(JobSize::Small, 1, 20) {
            let job = validate(&written(&instance.problem, None)).expect("the job is sound");
            assert_eq!(
                groups(&job)[0].problem,
                instance.problem,
                "{}",
                instance.name
            );
        }
    }
    #[test]
    fn a_published_instance_of_one_length_is_one_of_millimetres_and_no_other_is() {
        let one = parse("2\n100\n30 4\n45 1").expect("an instance");
        let problem = in_millimetres(&one).expect("one length");
        let job = validate(&written(&problem, None)).expect("the job is sound");
        assert_eq!(job.yard[0].length.ticks(), 100 * TICKS);
        let parts: Vec<(i64, u32)> = job
            .parts
            .iter()
            .map(|part| (part.length.ticks() / TICKS, part.quantity))
            .collect();
        assert_eq!(parts, [(30, 4), (45, 1)]);
        let several = parse("2\n100 3 7\n80 4 6\n1\n30 4").expect("an instance");
        assert_eq!(in_millimetres(&several), None);
        let few = parse("1\n100 3 7\n1\n30 4").expect("an instance");
        assert_eq!(in_millimetres(&few), None);
    }
}
