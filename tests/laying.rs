//! Parts laid on a board take exactly the length that the solver computed, for every mix of ends.

use lengthwise::group::{Group, groups};
use lengthwise::io::job_file;
use lengthwise::job::{Job, validate};
use lengthwise::layout::lay_board;
use lengthwise::problem::Cutting;

fn job([faces, edges]: [&str; 2]) -> Job {
    let text = format!(
        r#"{{"format":"lengthwise-job","saw":{{"kerf":2.4}},
            "sections":[{{"name":"cap","thickness":20,"width":95,"faces":"{faces}","edges":"{edges}"}}],
            "yard":[{{"length":"60 m"}}],
            "parts":[{{"label":"a","length":640,"ends":"45"}},{{"label":"b","length":500,"ends":"45; square"}},
                     {{"label":"c","length":430,"ends":"square; 45"}},{{"label":"d","length":300}},
                     {{"label":"e","length":710,"ends":"22.5"}},{{"label":"f","length":520,"ends":"22.5; 45"}},
                     {{"label":"g","length":690,"ends":"45","leans":"the same way"}},
                     {{"label":"h","length":333,"ends":"22.5; square"}},
                     {{"label":"i","length":410,"ends":"45; 22.5","leans":"the same way"}},
                     {{"label":"j","length":470,"ends":"45 tilt 30; 45"}}]}}"#
    );
    let (draft, faults) = job_file::read(&text);
    assert_eq!(faults, []);
    validate(&draft).expect("a job without faults")
}

const SIDES: [[&str; 2]; 4] = [
    ["alike", "alike"],
    ["alike", "different"],
    ["different", "alike"],
    ["different", "different"],
];

fn laid_length(job: &Job, group: &Group, parts: Vec<(usize, u32)>) -> (i64, i64) {
    let cutting = Cutting {
        board: 0,
        runs: vec![parts.clone()],
    };
    let board = lay_board(job, group, &cutting);
    let run = &board.runs[0];
    let count: u32 = parts.iter().map(|(_, count)| count).sum();
    assert_eq!(run.cuts.len(), count as usize);
    let mut before = run.from;
    for placed in &run.cuts {
        assert_eq!(placed.end - placed.start, job.parts[placed.part].length);
        assert!(placed.end > before, "parts come one behind the other");
        before = placed.end;
    }
    let need = group.problem.sections[0].need(&parts);
    (before.ticks() - run.from.ticks(), need)
}

/// Every mix of at most two of each of the ten parts, on sections with faces and edges alike or not: 4 x (3^10 - 1) runs.
#[test]
fn every_mix_of_ends_takes_what_the_solver_reckons() {
    for sides in SIDES {
        let job = job(sides);
        let group = &groups(&job)[0];
        for mix in 1..3usize.pow(10) {
            let counts = (0..10).map(|part| (part, (mix / 3usize.pow(part as u32) % 3) as u32));
            let parts: Vec<(usize, u32)> = counts.filter(|(_, count)| *count > 0).collect();
            let (laid, need) = laid_length(&job, group, parts.clone());
            assert_eq!(laid, need, "{sides:?}, parts {parts:?}");
        }
    }
}

/// Own arithmetic: four caps of 640 x 95 at 45 degrees take 4 x 640 - 3 x 95 + 3 x 2.4 / cos 45 = 2285.2 mm when their mitres are
/// shared, and 4 x 640 + 3 x 2.4 / cos 45 = 2570.2 mm when they are not: where a cap keeps its edge, its long side stays there.
#[test]
fn four_mitred_caps_share_three_cuts() {
    for (sides, tenths) in SIDES.into_iter().zip([22_852, 25_702, 22_852, 25_702]) {
        let job = job(sides);
        let (laid, _) = laid_length(&job, &groups(&job)[0], vec![(0, 4)]);
        assert_eq!((laid + 160) / 320, tenths, "{sides:?}");
    }
}

/// Own arithmetic: four braces of 690 overall take 4 x 690 - 3 x 95 + 3 x 2.4 / cos 45 = 2485.2 mm whatever may be turned, for they nest as they lie.
#[test]
fn braces_nest_without_any_turning() {
    for sides in SIDES {
        let job = job(sides);
        let (laid, _) = laid_length(&job, &groups(&job)[0], vec![(6, 4)]);
        assert_eq!((laid + 160) / 320, 24_852, "{sides:?}");
    }
}
