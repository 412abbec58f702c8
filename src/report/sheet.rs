//! The saw sheet: what is done to a board, in order, as running tape readings.

use super::rip;
use super::shed;
use super::stations::{Blade, Lean, Piece, Slant, Stands, Station, stations};
use super::step::{CAME, FAR, FRESH, Setting, Side, Step, StepKind, YARD_SAWN};
use super::words::Words;
use super::yard;
use crate::cautions;
use crate::check::CheckedPlan;
use crate::job::{Fitting, PartEnd};
use crate::length::Length;
use crate::plan::{Edge, PlacedPart, PlannedBoard, Source};
use std::cmp::Ordering;

/// The steps of one board.
pub(super) fn sheet(words: &Words, checked: &CheckedPlan, board: usize) -> Vec<Step> {
    let (marked, found) = (&checked.marked()[board], &checked.boards()[board]);
    let stations = stations(words, marked, found.length);
    let mut off = marked.off.iter().zip(&marked.for_offcut);
    let mut hand = Piece::Whole;
    let mut set: Option<Slant> = None;
    let mut steps = Vec::new();
    for (index, station) in stations.iter().enumerate() {
        let reading = station.reading(words);
        if station.piece != hand {
            // A piece picked up anew lies as it is picked up.
            (hand, set) = (station.piece, None);
        }
        let freed = station.frees.map(|placed| placed.part);
        let part = freed.map(|part| &words.job.parts[part]);
        let turn = station
            .slant
            .map(|slant| turn_text(words, slant, set))
            .unwrap_or_default();
        let off = station.frees.and_then(|_| off.next());
        set = station.slant.or(set);
        steps.push(Step {
            order: steps.len() + 1,
            kind: station.kind,
            reading: reading.text,
            rounded: reading.rounded,
            label: label(words, station),
            letter: station
                .frees
                .map(|placed| words.letter(placed.part))
                .unwrap_or_default(),
            keys: freed
                .map(|part| words.keys(part).to_vec())
                .unwrap_or_default(),
            part_length: part.map(|part| words.part_length(part)).unwrap_or_default(),
            ends: part.map(|part| words.ends(part)).unwrap_or_default(),
            angled: part.is_some_and(|part| part.ends != [PartEnd::Square; 2]),
            long_edge: station.slant.map(edge_text).unwrap_or_default(),
            turn,
            side: station.blade().into(),
            tape: tape_text(station).into(),
            hooked: hooked_text(words, station),
            hint: hint(words, found.section, station),
            rip: freed
                .map(|part| rip::left_whole(words, part, marked.board.source))
                .unwrap_or_default(),
            miss: off
                .map(|(off, for_offcut)| miss_text(words, *off, *for_offcut))
                .unwrap_or_default(),
            caution: caution(words, station, is_last(&stations[index..])),
        });
        if let Some(part) = freed
            && let Some(rip) = rip::text(words, part, marked.board.source)
        {
            steps.push(ripping(words, steps.len() + 1, part, rip));
        }
    }
    steps
}

/// Which step of the sheet each cut of a board is, the first being zero: where a part is ripped once it is off, that is a step of its own.
pub(super) fn steps_of(words: &Words, source: Source, stations: &[Station]) -> Vec<usize> {
    let rips = |station: &Station| {
        let freed = station.frees.map(|placed| placed.part);
        freed.is_some_and(|part| rip::text(words, part, source).is_some())
    };
    let mut next = 0;
    stations
        .iter()
        .map(|station| {
            let step = next;
            next += 1 + usize::from(rips(station));
            step
        })
        .collect()
}

/// The step that rips a part, or the strips side by side in it, once it is off.
fn ripping(words: &Words, order: usize, part: usize, rip: String) -> Step {
    Step {
        order,
        kind: StepKind::Rip,
        reading: String::new(),
        rounded: false,
        label: format!("rip {}", rip::piece_letters(words, part)),
        letter: String::new(),
        keys: Vec::new(),
        part_length: String::new(),
        ends: String::new(),
        angled: false,
        long_edge: String::new(),
        turn: String::new(),
        side: Side::Neither,
        tape: String::new(),
        hooked: String::new(),
        hint: String::new(),
        rip,
        miss: String::new(),
        caution: String::new(),
    }
}

/// Equal settings of some boards, longest first.
pub(super) fn settings<'a>(
    words: &Words,
    boards: impl Iterator<Item = &'a PlannedBoard>,
) -> Vec<Setting> {
    let mut set: Vec<(Length, Fitting, Vec<usize>, usize)> = Vec::new();
    for placed in boards
        .flat_map(|board| &board.runs)
        .flat_map(|run| &run.cuts)
    {
        let part = &words.job.parts[placed.part];
        let same = |one: &&mut (Length, Fitting, Vec<usize>, usize)| {
            let between = [one.1, part.fitting].map(|fitting| fitting == Fitting::Between);
            one.0 == part.length && between[0] == between[1]
        };
        match set.iter_mut().find(same) {
            None => set.push((part.length, part.fitting, vec![placed.part], 1)),
            Some((_, _, parts, count)) => {
                if !parts.contains(&placed.part) {
                    parts.push(placed.part);
                }
                *count += 1;
            }
        }
    }
    order::sort_by_key(&mut set, |(length, ..)| std::cmp::Reverse(*length));
    let label = |part: &usize| format!("{} {}", words.letter(*part), words.job.parts[*part].label);
    set.into_iter()
        .map(|(_, _, mut parts, count)| {
            order::sort(&mut parts);
            Setting {
                length: words.part_length(&words.job.parts[parts[0]]),
                count,
                labels: parts.iter().map(label).collect(),
            }
        })
        .collect()
}

/// A board in words, for those who cannot see its drawing.
pub(super) fn summary(words: &Words, checked: &CheckedPlan, board: usize) -> String {
    let planned = &checked.marked()[board].board;
    let mut text = vec![words.board_title(planned.source)];
    if let Some(cut) = planned.yard_cut {
        text.push(format!("cut at the yard at {}", words.cut_length(cut)));
    }
    for placed in planned.runs.iter().flat_map(|run| &run.cuts) {
        let part = &words.job.parts[placed.part];
        let (from, to) = (words.reading(placed.start).text, words.length(placed.end));
        let ends = if part.ends == [PartEnd::Square; 2] {
            String::new()
        } else {
            format!(", ends {}", words.ends(part))
        };
        text.push(format!("{} from {from} to {to}{ends}", part.label));
    }
    if let Source::Shed(shed) = planned.source {
        for bad in &words.job.shed[shed].bad {
            let (from, to) = (words.reading(bad.from).text, words.length(bad.to));
            text.push(format!("bad from {from} to {to}"));
        }
    }
    for offcut in shed::offcuts(words, checked, board) {
        let what = if offcut.kept { "kept offcut" } else { "scrap" };
        text.push(format!("{what} of {}", offcut.length));
    }
    format!("{}.", text.join("; "))
}

fn label(words: &Words, station: &Station) -> String {
    match (station.kind, station.frees) {
        (_, Some(placed)) => words.job.parts[placed.part].label.clone(),
        (StepKind::YardCut, None) => "the yard's cut".into(),
        (StepKind::Trim, None) if station.piece == Piece::Carried(2) => {
            "trim the end the yard cut".into()
        }
        (StepKind::Trim, None) => "trim the datum end".into(),
        (StepKind::Bad, None) => "cut the bad stretch off".into(),
        (StepKind::Finish, None) if station.bad_end => "cut the bad end off".into(),
        // A rip is no station.
        (StepKind::Finish | StepKind::Rip, None) => "end of an offcut to keep".into(),
        (StepKind::Mitre, None) => "mitre the first end".into(),
        (StepKind::Cut, None) => "square the end".into(),
    }
}

/// Which piece is in hand, and where its readings start.
fn tape_text(station: &Station) -> &'static str {
    match station.piece {
        Piece::Whole if station.is_before() => "read from the far end, the tape hooked on it",
        Piece::Whole => "",
        Piece::Carried(_) if station.is_before() => {
            "second carried piece, read from the far end, the tape hooked on it"
        }
        Piece::Carried(1) => "first carried piece, read from the datum end",
        Piece::Carried(_) => "second carried piece, read from the end the yard cut",
    }
}

/// The end on which the tape is hooked for its reading, and what it shows at the same cut where it is hooked on the end that the cut before left.
fn hooked_text(words: &Words, station: &Station) -> String {
    let on = match station.piece {
        _ if station.blade() == Blade::Idle => return String::new(),
        _ if station.is_before() => FAR,
        Piece::Carried(2) => YARD_SAWN,
        Piece::Whole | Piece::Carried(_) => CAME,
    };
    match fresh_text(words, station) {
        Some(fresh) => format!("from {on}, or {fresh} from {FRESH}"),
        None => format!("from {on}"),
    }
}

/// The reading from the fresh end, where that is square: a part's own length unless that takes more than its mark leaves, else what is a reading.
fn fresh_text(words: &Words, station: &Station) -> Option<String> {
    let (at, slanted) = station.fresh.filter(|_| !station.is_before())?;
    let (away, step) = (station.at - at, words.job.step);
    let Some(placed) = station.frees else {
        let told = !slanted && station.slant.is_none() && away.down_to(step) == away;
        return told.then(|| words.length(away));
    };
    let part = &words.job.parts[placed.part];
    let square = !slanted && part.ends == [PartEnd::Square; 2];
    let told = square && placed.start == at && part.set_length(step) <= away;
    told.then(|| words.part_length(part))
}

fn hint(words: &Words, section: usize, station: &Station) -> String {
    let mut hints: Vec<String> = Vec::new();
    if station.kind == StepKind::YardCut {
        hints.extend(yard::left_on_either_side(words, station.sides));
        hints.extend(yard::heeded(words, section));
    }
    let between = |placed: PlacedPart| words.job.parts[placed.part].fitting == Fitting::Between;
    if station.frees.is_some_and(between) {
        hints.push("measure first where it goes".into());
    }
    let over = |placed: PlacedPart| words.job.parts[placed.part].told_over(words.job.style());
    hints.extend(station.frees.and_then(over));
    match station.stands {
        Some(Stands::Datum) => {
            hints.push("the datum end is its factory end and goes down: do not trim it".into())
        }
        Some(Stands::Far) => {
            hints.push("the far end is its factory end and goes down: do not trim it".into())
        }
        None => {}
    }
    if station.blade() == Blade::Idle {
        let what = match station.piece {
            Piece::Whole => "board",
            Piece::Carried(_) => "piece",
        };
        hints.push(format!("nothing to cut: the {what} ends here"));
    } else if station.in_the_corner(words.job.step) {
        hints.push("no mark to make: its long point is the corner of the end".into());
    } else if station.frees.is_some()
        && station.sides[1] >= words.job.step
        && station.sides[1] < words.short()
        && station.sides[0] >= words.short()
    {
        hints.push("hold the part, for what is left beyond it is short".into());
    }
    if let (StepKind::Mitre, Some(placed), Some(next)) =
        (station.kind, station.frees, station.opens)
    {
        let next_label = &words.job.parts[next].label;
        if next == placed.part {
            hints.push(format!("one cut for this end and the next {next_label}"));
        } else {
            hints.push(format!(
                "one cut for this end and that of {} {next_label}",
                words.letter(next)
            ));
        }
    }
    hints.join("; ")
}

/// What a part misses for want of room on its board, empty where it misses nothing; never told less than it is.
fn miss_text(words: &Words, off: Length, for_offcut: bool) -> String {
    let by = words.miss_length(Length::from_ticks(off.ticks().abs()));
    match (off.cmp(&Length::ZERO), for_offcut) {
        (Ordering::Less, false) => {
            format!("comes out {by} short: the board has no room to round it up")
        }
        (Ordering::Less, true) => {
            format!(
                "comes out {by} short: rounded up, it would leave what is behind it too short to keep"
            )
        }
        (Ordering::Equal, _) => String::new(),
        (Ordering::Greater, _) => {
            format!(
                "comes out {by} long: the board has no room to round it down; take that off where it goes in"
            )
        }
    }
}

impl From<Blade> for Side {
    fn from(blade: Blade) -> Side {
        match blade {
            Blade::Before => Side::Datum,
            Blade::Beyond => Side::Far,
            Blade::Idle => Side::Neither,
        }
    }
}

/// Whether the first of these cuts is the last of the timber in hand.
fn is_last(stations: &[Station]) -> bool {
    stations[1..]
        .iter()
        .all(|next| next.piece != stations[0].piece)
}

fn caution(words: &Words, station: &Station, is_last: bool) -> String {
    if station.kind == StepKind::YardCut {
        return yard::longer_than_carried(words, station.sides).unwrap_or_default();
    }
    if station.blade() == Blade::Idle {
        return String::new();
    }
    let limit = words.short();
    let short = words.length(limit);
    let longer = station.sides[0].max(station.sides[1]);
    if longer < limit && is_last {
        cautions::last_short_cut(&short)
    } else if longer < limit {
        cautions::short_cut(&short)
    } else if station.frees.is_some() && station.sides[0] < limit {
        cautions::short_part(&short)
    } else {
        String::new()
    }
}

fn edge_text(slant: Slant) -> String {
    let edge = match slant.long_point {
        Edge::Far => "unmarked edge",
        Edge::Near => "marked edge",
    };
    let face = match slant.is_up {
        true => "upper face",
        false => "lower face",
    };
    match (slant.angle.is_swung(), slant.angle.is_tilted()) {
        (_, false) => format!("long point on the {edge}"),
        (false, true) => format!("long point on the {face}"),
        (true, true) => format!("long point on the {edge}, {face}"),
    }
}

/// How far most mitre saws swing off square, in thousandths of a degree: common practice, no source.
const MOST_SWING: u32 = 50_000;

/// How the saw is set. The marked edge stays towards the person and the face up, so that nothing but the saw turns.
fn turn_text(words: &Words, slant: Slant, before: Option<Slant>) -> String {
    let angle = slant.angle.tenths(words.job.decimal());
    let tips = |before: Slant| !slant.angle.is_tilted() || before.tips == slant.tips;
    let leans = |before: Slant| !slant.angle.is_swung() || before.leans == slant.leans;
    let is_set = |before: Slant| before.angle == slant.angle && tips(before) && leans(before);
    if !slant.angle.is_swung() {
        let way = match before.is_some_and(is_set) {
            true => "leave the saw as it is",
            false => "saw square across",
        };
        return format!("{way}: {angle}");
    }
    let way = match before.filter(|before| before.angle.is_swung()) {
        None => "swing the saw off square so",
        Some(before) if is_set(before) => "leave the saw as it is",
        Some(before) if leans(before) && before.angle == slant.angle => {
            "the same way, the blade tilted to the other side"
        }
        Some(before) if leans(before) => "the same way, another angle",
        Some(_) => "swing the saw to the other side",
    };
    let lean = match slant.leans {
        Lean::Away => '/',
        Lean::Towards => '\\',
    };
    let far = match slant.angle.millidegrees() > MOST_SWING && !before.is_some_and(is_set) {
        true => ", further than most mitre saws swing: saw this by hand, to the line",
        false => "",
    };
    format!("{way}: {lean} at {angle}{far}")
}
