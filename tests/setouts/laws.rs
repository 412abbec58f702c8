//! What must hold for every set-out, whatever its sizes.

use crate::common::random::Random;
use crate::small::{draft, fact, marks, number, one, sound};
use lengthwise::job::{JobDraft, PartEnd, examine};
use lengthwise::length::Length;
use lengthwise::setout::{Kind, SetOut, Sort, Usual, kinds};

fn text(length: u64) -> String {
    format!("{}.{:02} mm", length / 100, length % 100)
}

fn hundredths(length: u64) -> Length {
    Length::from_ticks(length as i64 * 32)
}

#[test]
fn slats_and_gaps_fill_the_span_to_the_tick() {
    let mut random = Random(7);
    for _ in 0..300 {
        let (span, width) = (
            random.between(20_000, 300_000),
            random.between(1_500, 15_000),
        );
        let most = span / width;
        let count = random.between(2, most.clamp(2, 40));
        if count * width > span {
            continue;
        }
        let ends = random.pick(&["a slat", "a gap"]);
        let (span_text, width_text, count_text) = (text(span), text(width), count.to_string());
        let sides = ("slat", "10 mm", width_text.as_str(), "");
        let fields = [
            ("span", span_text.as_str()),
            ("length", "1 m"),
            ("count", count_text.as_str()),
            ("ends", ends),
        ];
        let set_out = one(
            "mm",
            (
                sides.0,
                if width < 1_000 { "1 mm" } else { sides.1 },
                sides.2,
                "",
            ),
            "slats",
            &fields,
        );
        let width = hundredths(width);
        let starts = marks(&set_out, 0);
        assert_eq!(starts.len() as u64, count);
        let mut filled = starts[0];
        for pair in starts.windows(2) {
            let gap = pair[1] - pair[0] - width;
            assert!((gap - fact(&set_out, "equal gap")).ticks().abs() <= 1);
            filled = filled + width + gap;
        }
        let end_gap = hundredths(span) - starts[starts.len() - 1] - width;
        filled = filled + width + end_gap;
        assert_eq!(filled, hundredths(span));
        if ends == "a slat" {
            assert_eq!((starts[0], end_gap), (Length::ZERO, Length::ZERO));
        }
    }
}

#[test]
fn boards_cover_every_face_to_the_tick() {
    let mut random = Random(11);
    for round in 0..400 {
        let (width, cover) = (
            random.between(5_000, 400_000),
            random.between(3_000, 20_000),
        );
        let gap = random.below(1_000);
        let first_off = random.below(2_000.min(cover));
        let edges = [
            "share where the last is thin",
            "rip the last board only",
            "rip both edges alike",
        ][random.below(3) as usize];
        let texts = [width, cover, gap, first_off, cover + 800].map(text);
        let sides = ("board", "9 mm", texts[4].as_str(), texts[1].as_str());
        let mut fields = vec![
            ("width", texts[0].as_str()),
            ("height", "2 m"),
            ("gap", texts[2].as_str()),
            ("first_off", texts[3].as_str()),
            ("edges", edges),
        ];
        let boards = number(&one("mm", sides, "boarding", &fields), "boards");
        let left = text(random.between(1_000, 60_000));
        let laid = boards.saturating_sub(2).to_string();
        if round % 4 == 0 && boards > 2 {
            fields.extend([("laid", laid.as_str()), ("left", left.as_str())]);
        }
        let set_out = one("mm", sides, "boarding", &fields);
        let marks = &set_out.positions[0].marks;
        let (gap, cover) = (hundredths(gap), hundredths(cover));
        let mut widths = Vec::new();
        for (index, pair) in marks.windows(2).enumerate() {
            let last = index + 2 == marks.len();
            widths.push(pair[1].at - pair[0].at - if last { Length::ZERO } else { gap });
        }
        assert!(
            widths
                .iter()
                .all(|width| !width.is_none() && *width <= cover),
            "{widths:?}"
        );
        assert_eq!(marks[0].at, Length::ZERO);
        // Covered from end to end, but for a strip no wider than a gap.
        if round % 4 != 0 || boards <= 2 {
            let bare = hundredths(width) - marks[marks.len() - 1].at;
            assert!(bare >= Length::ZERO && bare <= gap, "{bare:?} {gap:?}");
            // Nothing is bare behind a board that was ripped to close the face.
            let whole = [cover, cover - hundredths(first_off)];
            assert!(bare == Length::ZERO || whole.contains(&widths[widths.len() - 1]));
        }
        let listed: u32 = set_out.parts.iter().map(|part| part.quantity).sum();
        assert_eq!(listed as usize, widths.len());
    }
}

#[test]
fn four_mitred_parts_close_around_every_rectangle() {
    let mut random = Random(13);
    for _ in 0..300 {
        let (width, depth) = (
            random.between(30_000, 300_000),
            random.between(30_000, 300_000),
        );
        let (member, overhang) = (random.between(3_000, 14_000), random.below(3_000));
        let texts = [width, depth, member, overhang].map(text);
        let fields = [
            ("width", texts[0].as_str()),
            ("depth", texts[1].as_str()),
            ("overhang", texts[3].as_str()),
        ];
        let set_out = one(
            "mm",
            ("cap", "9 mm", texts[2].as_str(), ""),
            "mitred_frame",
            &fields,
        );
        let mut lengths = Vec::new();
        for part in &set_out.parts {
            let degrees = part.ends.map(|end| match end {
                PartEnd::Mitre(angle) => angle.millidegrees(),
                PartEnd::Square => 0,
            });
            assert_eq!(degrees, [45_000; 2]);
            lengths.extend(std::iter::repeat_n(part.length, part.quantity as usize));
        }
        lengths.sort_unstable();
        assert_eq!(lengths.len(), 4);
        // Walking around the outside comes back to the start: opposite sides are equal, and are the outside sizes.
        let mut outside = [width, depth].map(|size| hundredths(size + 2 * overhang));
        outside.sort_unstable();
        assert_eq!(lengths, [outside[0], outside[0], outside[1], outside[1]]);
        // And around the inside: at 45 degrees each end stands back by the width of the member.
        let inside = fact(&set_out, "short point width") + fact(&set_out, "short point depth");
        let member = hundredths(member);
        assert_eq!(
            inside,
            outside[0] + outside[1] - member - member - member - member
        );
    }
}

#[test]
fn four_panels_fill_the_outline_of_every_box() {
    let mut random = Random(17);
    for _ in 0..200 {
        let sizes = [
            random.between(40_000, 200_000),
            random.between(40_000, 200_000),
        ];
        let texts = sizes.map(text);
        for (laps, along) in [("front and back", 0), ("the two sides", 1)] {
            let fields = [
                ("width", texts[0].as_str()),
                ("depth", texts[1].as_str()),
                ("height", "900 mm"),
                ("laps", laps),
            ];
            let set_out = one("mm", ("frame", "45 mm", "70 mm", ""), "box", &fields);
            let panels = [
                fact(&set_out, "front panel width"),
                fact(&set_out, "side panel width"),
            ];
            let twice = fact(&set_out, "panel depth").times(2).expect("small");
            assert_eq!(panels[along], hundredths(sizes[along]));
            assert_eq!(panels[1 - along] + twice, hundredths(sizes[1 - along]));
        }
    }
}

/// Values for every field of every kind, drawn so that most set-outs are sound; lengths in 1/64 inch, so that both units are exact.
pub fn drawn(random: &mut Random, kind: Kind) -> Vec<(String, Result<u64, String>)> {
    let mut fields = Vec::new();
    for field in kind.about().fields {
        let value = match field.sort {
            Sort::Section | Sort::AnySection => Err(random.pick(&["stick", "board"]).to_owned()),
            Sort::Choice(words) => Err(random.pick(words).to_owned()),
            // Boards are narrow, so it takes many of them to go round.
            Sort::Count { .. } if kind == Kind::Staves => Err(random.between(22, 26).to_string()),
            Sort::Count { least, most } => Err(random
                .between(u64::from(least), u64::from(most.min(7)))
                .to_string()),
            Sort::Ends => Err("45; square".to_owned()),
            Sort::Face | Sort::Text => Err("thing".to_owned()),
            Sort::Size | Sort::Length => Ok(match field.usual {
                _ if field.field.starts_with("sheet_") => random.between(30 * 64, 100 * 64),
                // A side leans out by less than it is high, a board's width.
                _ if field.field == "lean" => random.between(1, 2 * 64),
                Usual::Needed if kind == Kind::Staves => random.between(12 * 64, 20 * 64),
                Usual::Needed => random.between(20 * 64, 90 * 64),
                Usual::Nothing => random.between(9 * 64, 20 * 64),
                _ if field.field == "centres" => random.between(8 * 64, 20 * 64),
                _ => random.below(64),
            }),
        };
        if field.usual == Usual::Nothing && random.below(3) > 0 {
            continue;
        }
        fields.push((field.field.to_owned(), value));
    }
    fields
}

pub fn job_in(
    unit: &str,
    step: &str,
    kind: &str,
    fields: &[(String, Result<u64, String>)],
) -> JobDraft {
    // A sixty-fourth of an inch is 254/640 mm.
    let texts: Vec<(String, String)> = fields
        .iter()
        .map(|(field, value)| {
            let text = match value {
                Ok(length) if unit == "in" => format!("{} {}/64", length / 64, length % 64),
                Ok(length) => format!("{}/640 mm", length * 254),
                Err(text) => text.clone(),
            };
            (field.clone(), text)
        })
        .collect();
    let fields: Vec<(&str, &str)> = texts
        .iter()
        .map(|(field, text)| (field.as_str(), text.as_str()))
        .collect();
    let mut draft = draft(
        unit,
        &[
            ("stick", "38.1 mm", "63.5 mm", ""),
            ("board", "3/4 in", "5 3/8 in", "5 1/8 in"),
        ],
        &[("it", kind, &fields)],
    );
    draft.own.step = Some(step.to_owned());
    draft
}

fn exact(set_out: &SetOut) -> impl PartialEq + std::fmt::Debug + use<> {
    let parts: Vec<_> = set_out
        .parts
        .iter()
        .map(|part| (part.length, part.quantity, part.sections.clone(), part.ends))
        .collect();
    let marks: Vec<Vec<Length>> = set_out
        .positions
        .iter()
        .map(|positions| positions.marks.iter().map(|mark| mark.at).collect())
        .collect();
    (
        parts,
        marks,
        set_out.facts.clone(),
        set_out.joints.clone(),
        set_out.fill,
    )
}

#[test]
fn a_set_out_in_inches_equals_the_one_in_millimetres() {
    let mut random = Random(19);
    for kind in Kind::ALL {
        let mut sound_ones = 0;
        for _ in 0..120 {
            let fields = drawn(&mut random, kind);
            let (inches, in_inches) = examine(&job_in("in", "1/64", kind.about().kind, &fields));
            let (metric, in_mm) = examine(&job_in("mm", "0.01", kind.about().kind, &fields));
            let places = |faults: &[lengthwise::fault::Fault]| -> Vec<_> {
                faults.iter().map(|fault| fault.place.clone()).collect()
            };
            assert_eq!(places(&in_inches), places(&in_mm), "{fields:?}");
            assert_eq!(
                exact(&inches.set_outs[0]),
                exact(&metric.set_outs[0]),
                "{fields:?}"
            );
            sound_ones += usize::from(in_mm.is_empty());
        }
        assert!(sound_ones >= 30, "{kind:?}: only {sound_ones} were sound");
    }
}

#[test]
fn two_of_the_same_set_out_have_twice_the_parts() {
    let mut random = Random(23);
    for kind in Kind::ALL {
        for _ in 0..20 {
            let fields = drawn(&mut random, kind);
            let once = job_in("mm", "0.5", kind.about().kind, &fields);
            let mut twice = once.clone();
            twice.set_outs[0].fields.push(("times".into(), "2".into()));
            let (once, faults) = examine(&once);
            if !faults.is_empty() {
                continue;
            }
            let twice = sound(&twice);
            // The cutting list: two narrow ones may be ripped out of one piece.
            let doubled: Vec<_> = once
                .list
                .iter()
                .map(|part| (part.length, 2 * part.quantity))
                .collect();
            let listed: Vec<_> = twice
                .list
                .iter()
                .map(|part| (part.length, part.quantity))
                .collect();
            assert_eq!(doubled, listed);
        }
    }
}

#[test]
fn every_sound_set_out_is_drawn_and_every_usual_value_is_read() {
    for info in kinds() {
        for unit in ["mm", "in"] {
            let needed: Vec<(&str, &str)> = info
                .fields
                .iter()
                .filter(|field| field.usual == Usual::Needed && field.sort == Sort::Size)
                .map(|field| (field.field, "1 m"))
                .collect();
            // Nothing but the sizes and the only section there is.
            let set_out = one(unit, ("stick", "45 mm", "70 mm", ""), info.kind, &needed);
            assert!(
                set_out.svg.starts_with("<svg") && set_out.svg.ends_with("</svg>"),
                "{}",
                info.kind
            );
            assert!(set_out.svg.contains("<title") && set_out.svg.contains("<desc"));
            // A sheet is no part: it is bought as it is.
            let is_bought = info.kind == "sheet" && !set_out.bought.is_empty();
            assert!(is_bought || !set_out.parts.is_empty(), "{}", info.kind);
            assert!(set_out.parts.iter().all(|part| part.from == "it"));
        }
    }
}
