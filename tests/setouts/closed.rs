//! Sides cut as the saw sheet says, put together in three dimensions by arithmetic of its own: their ends must meet.
//!
//! A board lies with its marked edge towards the person and its face up. A saw swung by m and tilted by b leaves an end that stands back from its
//! long point by `tan m` for each millimetre across the board and by `tan b / cos m` for each through it (a plane turned about the blade's own line,
//! then about the upright). Sides of a ring meet in upright planes halfway between them. Floats: nothing is decided by them but a test.

use crate::small::{Sides, draft, fact, sound};
use lengthwise::job::Job;
use lengthwise::length::Length;
use lengthwise::patience::{Limits, Patience};
use lengthwise::planner::{Planned, plan_job};
use lengthwise::report;

/// What is said of one cut: its long point, how the saw is set, on which side of the mark it goes, the part it frees and its length.
type Cut = (String, String, String, String, f64);

/// The slanted cuts of a job's saw sheets.
fn cuts(job: &Job) -> Vec<Cut> {
    let clock = || 0.0;
    let mut hear = |_: &lengthwise::plan::Plan| {};
    let mut patience = Patience::new(Limits::asks(50), &clock, &mut hear);
    let Planned::Found(plan) = plan_job(job, &mut patience) else {
        panic!("it can be planned")
    };
    let checked = lengthwise::check::check(job, plan).expect("the plan holds");
    let report = report::build(job, &checked);
    let steps = report.boards.iter().flat_map(|board| &board.steps);
    let cuts = steps.filter(|step| !step.long_edge.is_empty());
    cuts.map(|step| {
        let length = step.part_length.trim_start_matches('\u{2248}');
        let length = length.trim_end_matches(" mm").parse().unwrap_or(0.0);
        (
            step.long_edge.clone(),
            step.turn.clone(),
            step.says()
                .into_iter()
                .find(|says| says.starts_with("saw on"))
                .unwrap_or_default(),
            step.label.clone(),
            length,
        )
    })
    .collect()
}

/// Swing and tilt in radians, as the sheet has them in tenths of a degree.
fn set(turn: &str) -> [f64; 2] {
    let after = |word: &str| {
        let told = turn.split_once(word)?.1.split_once('\u{b0}')?.0;
        told.parse::<f64>().ok()
    };
    [" at ", "tilt "].map(|word| after(word).unwrap_or(0.0).to_radians())
}

fn in_mm(length: Length) -> f64 {
    length.ticks() as f64 / 3_200.0
}

#[test]
fn the_sides_of_a_hopper_sawn_as_the_sheet_says_meet_all_round() {
    let board: Sides = ("board", "20", "220", "");
    for (sides, width, depth, lean) in [
        ("4", "500", "", "57"),
        ("4", "640", "420", "90"),
        ("5", "700", "", "40"),
        ("6", "800", "", "110"),
        ("8", "900", "", "150"),
        ("12", "1200", "", "75"),
        ("4", "700", "", "0"),
        ("6", "700", "", "0"),
    ] {
        let mut fields = vec![
            ("width", width),
            ("lean", lean),
            ("sides", sides),
            ("section", "board"),
        ];
        if !depth.is_empty() {
            fields.push(("depth", depth));
        }
        let mut draft = draft("mm", &[board], &[("it", "hopper", &fields)]);
        draft.yard = vec![lengthwise::job::YardDraft {
            length: Some("4800".into()),
            ..Default::default()
        }];
        let job = sound(&draft);
        let set_out = &job.set_outs[0];
        let count: f64 = sides.parse().expect("a number");
        let half = std::f64::consts::PI / count;
        let lean: f64 = lean.parse().expect("a number");
        let slope = (lean / 220.0).asin();
        let wide: f64 = width.parse().expect("a number");
        let deep = depth.parse().unwrap_or(wide);
        let found = cuts(&job);
        assert_eq!(found.len(), 2 * count as usize, "{found:?}");
        for (point, turn, _, label, length) in found {
            // Both long points are on one edge, the upper one, and on the outer face, which is up.
            let face = "long point on the unmarked edge, upper face";
            let upright = "long point on the upper face";
            assert_eq!(point, if lean == 0.0 { upright } else { face }, "{label}");
            let [swing, tilt] = set(&turn);
            if length == 0.0 {
                continue;
            }
            // The front is `wide` long and a side `deep`; of a ring both are across the flats.
            let long = |flats: f64| match sides {
                "4" => flats,
                _ => flats * half.tan(),
            };
            let own = match (length - long(wide)).abs() < 0.6 {
                true => long(wide),
                false => long(deep),
            };
            assert!((length - own).abs() < 0.6, "{length} {own}");
            for (down, through) in [(0.0, 0.0), (220.0, 0.0), (0.0, 20.0), (220.0, 20.0)] {
                let along = own / 2.0 - down * swing.tan() - through * tilt.tan() / swing.cos();
                // Down the slope goes towards the middle, and so does through the board, which lies on the slope.
                let inwards = down * slope.sin() + through * slope.cos();
                // From the corner the joint runs to the middle of the ring by tan h along for one inwards.
                let gap = (own / 2.0 - along) - inwards * half.tan();
                // A twentieth of a degree over 220 mm is 0.2 mm.
                assert!(
                    gap.abs() < 0.45,
                    "{sides} sides, {lean} out: {gap} at {down} {through}"
                );
            }
        }
        assert!(!set_out.notes.is_empty());
    }
}

#[test]
fn staves_ripped_as_their_note_says_close_around_a_tub() {
    for (sides, top, bottom, height, sides_told) in [
        (12, "500", "400", "400", ["134", "107"]),
        (8, "600", "500", "450", ["248.5", "207"]),
        (16, "450", "380", "350", ["89.5", "75.5"]),
        (10, "300", "390", "250", ["126.5", "97.5"]),
        (6, "350", "350", "500", ["202", "202"]),
    ] {
        let fields = [
            ("width", top),
            ("bottom_width", bottom),
            ("height", height),
            ("sides", &sides.to_string()),
            ("section", "slat"),
        ];
        let slat: Sides = ("slat", "18", "260", "");
        let job = sound(&draft("mm", &[slat], &[("it", "staves", &fields)]));
        let set_out = &job.set_outs[0];
        let note = set_out
            .notes
            .iter()
            .find(|note| note.starts_with("Rip the staves to "))
            .expect("how they are ripped");
        let degrees = |from: &str, to: &str| -> Option<f64> {
            let told = note.split_once(from)?.1.split_once(to)?.0;
            Some(told.parse::<f64>().ok()?.to_radians())
        };
        let bevel = degrees("with the blade at ", "\u{b0}").expect("a bevel");
        let taper = degrees("First taper both edges alike, ", "\u{b0}").unwrap_or(0.0);
        assert!(note.contains(&format!("{} mm", sides_told[0])), "{note}");
        let half = std::f64::consts::PI / f64::from(sides);
        let [top, bottom, high]: [f64; 3] =
            [top, bottom, height].map(|size| size.parse().expect("a number"));
        let (wide, narrow) = (top.max(bottom), top.min(bottom));
        let slope = ((wide - narrow) / 2.0).atan2(high);
        let slant = high / slope.cos();
        let part = &set_out.parts[0];
        assert!((in_mm(part.length) - slant).abs() < 0.001);
        let broad = in_mm(part.rip.expect("ripped").width);
        assert!((broad - wide * half.tan()).abs() < 0.001);
        for (down, through) in [(0.0, 0.0), (slant, 0.0), (0.0, 18.0), (slant, 18.0)] {
            // The blade is tilted along the tapered edge.
            let along = broad / 2.0 - down * taper.tan() - through * bevel.tan() / taper.cos();
            let inwards = down * slope.sin() + through * slope.cos();
            let gap = (broad / 2.0 - along) - inwards * half.tan();
            assert!(gap.abs() < 0.5, "{sides}: {gap} at {down} {through}");
        }
    }
}

#[test]
fn legs_sawn_as_the_sheet_says_stand_on_their_feet_beneath_the_beam() {
    for (height, spread) in [("700", "400"), ("850", "620"), ("600", "330")] {
        let fields = [
            ("length", "900"),
            ("height", height),
            ("spread", spread),
            ("section", "leg"),
        ];
        let leg: Sides = ("leg", "45", "95", "");
        let mut draft = draft("mm", &[leg], &[("it", "trestle", &fields)]);
        draft.yard = vec![lengthwise::job::YardDraft {
            length: Some("4800".into()),
            ..Default::default()
        }];
        let job = sound(&draft);
        let [height, spread]: [f64; 2] = [height, spread].map(|size| size.parse().expect("a size"));
        let found = cuts(&job);
        let legs = found.iter().filter(|cut| cut.3.contains("leg"));
        let mut count = 0;
        for (_, turn, _, _, length) in legs {
            let [swing, tilt] = set(turn);
            assert_eq!(tilt, 0.0);
            // A parallelogram: 95 wide, so much from tip to tip. Standing on its lower end it is as high as its edge times the cosine, and its
            // foot is as far out as its edge times the sine and as wide as 95 over the cosine.
            let edge = length - 95.0 * swing.tan();
            assert!(
                (edge * swing.cos() - (height - 45.0)).abs() < 0.8,
                "{edge} at {swing}"
            );
            let feet = 2.0 * (edge * swing.sin() + 95.0 / swing.cos());
            assert!((feet - spread).abs() < 2.5, "{feet} of {spread}");
            count += 1;
        }
        assert_eq!(count, 4);
        assert!(fact(&job.set_outs[0], "foot out") > Length::ZERO);
    }
}

#[test]
fn butted_sides_sawn_as_the_sheet_says_lie_against_the_faces_of_their_neighbours() {
    let board: Sides = ("board", "20", "220", "");
    for (width, depth, lean) in [
        (500.0, 500.0, 57.0),
        (640.0, 420.0, 90.0),
        (700.0, 600.0, 140.0),
    ] {
        let texts = [width, depth, lean].map(|size: f64| size.to_string());
        let fields = [
            ("width", texts[0].as_str()),
            ("depth", &texts[1]),
            ("lean", &texts[2]),
            ("corners", "butted"),
            ("section", "board"),
        ];
        let mut draft = draft("mm", &[board], &[("it", "hopper", &fields)]);
        draft.yard = vec![lengthwise::job::YardDraft {
            length: Some("4800".into()),
            ..Default::default()
        }];
        let job = sound(&draft);
        let slope = (lean / 220.0_f64).asin();
        let level = 20.0 / slope.cos();
        let mut seen = [0, 0];
        for (point, turn, _, label, length) in cuts(&job) {
            assert_eq!(
                point, "long point on the unmarked edge, upper face",
                "{label}"
            );
            if length == 0.0 {
                continue;
            }
            let [swing, tilt] = set(&turn);
            let between = label.ends_with("between");
            seen[usize::from(between)] += 1;
            // The upper face is the inner one. At the height of the upper outside edge a side reaches to the outside, or one between two to their inner faces.
            let half = match between {
                false => width / 2.0,
                true => depth / 2.0 - level,
            };
            for (down, from_inside) in [(0.0, 0.0), (220.0, 0.0), (0.0, 20.0), (220.0, 20.0)] {
                let along =
                    length / 2.0 - down * swing.tan() - from_inside * tilt.tan() / swing.cos();
                // How far below the upper outside edge; the neighbour's faces come in by the tangent of its slope.
                let below = down * slope.cos() - (20.0 - from_inside) * slope.sin();
                let gap = half - below * slope.tan() - along;
                assert!(gap.abs() < 0.8, "{label}: {gap} at {down} {from_inside}");
            }
        }
        assert_eq!(seen, [2, 2]);
    }
}
