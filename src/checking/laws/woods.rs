//! How parts lie on one stock of timber: what each adds at least, and which of them lie alike.

use super::{job, mm};
use crate::wood::{Ending, Laid, Wood, stocks};
use timber::job::{Job, Leans, MadeFrom, Sides};

fn wood(job: &Job) -> Wood {
    Wood::of(job, stocks(job, &[0])[0]).expect("few numbers")
}

/// Own arithmetic, of a rail 40 wide and a kerf of 3: at 45 degrees an end stands back by 40, and its cut takes 3 / cos 45, rounded up.
const BACK: i64 = 128_000;
const CUT: i64 = 13_577;
const KERF: i64 = 9_600;

#[test]
fn a_part_adds_at_least_its_length_and_what_its_cuts_take_where_they_are_shared_best() {
    let parts = [
        ("400", "square", "3"),
        ("400", "45", "3"),
        ("400", "45; square", "3"),
        ("500", "30; square", "1"),
    ];
    let wood = wood(&job(&[], &parts, |_| ()));
    let length = 400 * 3_200;
    assert_eq!(wood.least(0), Some(length + KERF));
    // Both of its ends meet others of its kind.
    assert_eq!(wood.least(1), Some(length + CUT - BACK));
    // Its one end meets another, and its square end shares nothing.
    assert_eq!(wood.least(2), Some(length + CUT - BACK));
    // It has nobody to meet.
    assert_eq!(wood.least(3), Some(500 * 3_200 + KERF));
    assert_eq!(wood.least(4), None);
    // The same, of every choice of parts before it.
    for part in 0..4 {
        let mut endings: Vec<(Ending, [u32; 4])> = vec![(wood.untouched(), [0; 4])];
        let mut at = 0;
        let mut least = i64::MAX;
        while let Some((ending, counts)) = endings.get(at).cloned() {
            at += 1;
            for more in 0..4 {
                if counts[more] == [3, 3, 3, 1][more] {
                    continue;
                }
                let (next, amount) = wood.with(more, &ending);
                if more == part {
                    least = least.min(amount);
                }
                let mut counts = counts;
                counts[more] += 1;
                if !endings.iter().any(|known| known.1 == counts) {
                    endings.push((next, counts));
                }
            }
        }
        assert_eq!(wood.least(part), Some(least), "{part}");
    }
}

#[test]
fn a_run_of_parts_takes_their_lengths_and_cuts_less_what_neighbours_share_and_may_end_in_its_last_cut()
 {
    let length = 400 * 3_200;
    let parts = [("400", "45", "9"), ("400", "45; square", "2")];
    let wood = wood(&job(&[], &parts, |_| ()));
    // One after the other each shares a cut with the part before it.
    let (mut ending, mut fill) = (wood.untouched(), 0);
    assert_eq!(wood.laid(fill, &ending), Laid::NOTHING);
    for count in 1..10 {
        let (next, amount) = wood.with(0, &ending);
        (ending, fill) = (next, fill + amount);
        let need = count * length + (count - 1) * (CUT - BACK);
        let filled = need + CUT;
        assert_eq!(wood.laid(fill, &ending), Laid { need, filled }, "{count}");
    }
    // Between two with a square end outwards all of them share both cuts, and the last cut is a square one.
    for _ in 0..2 {
        let (next, amount) = wood.with(1, &ending);
        (ending, fill) = (next, fill + amount);
    }
    let need = 11 * length + 10 * (CUT - BACK);
    let filled = need + KERF;
    assert_eq!(wood.laid(fill, &ending), Laid { need, filled });
}

#[test]
fn parts_that_could_be_added_without_end_are_not_summed() {
    // Of nested braces each adds its length and a cut, less what one end stands back. A tick more than that adds a tick; else a run would take any number.
    let parallel = |length: i64| {
        let mut job = job(&[], &[("400", "45", "9")], |_| ());
        job.parts[0].leans = Leans::Same;
        job.parts[0].length = super::ticks(length);
        Wood::of(&job, stocks(&job, &[0])[0]).map(|wood| wood.least(0))
    };
    assert_eq!(parallel(BACK - CUT + 1), Some(Some(1)));
    assert_eq!(parallel(BACK - CUT), None);
    assert_eq!(parallel(BACK - CUT - 1), None);
}

/// Whether a part lies like the first one.
fn alike(parts: &[(&str, &str, &str)], change: impl FnOnce(&mut Job)) -> Vec<bool> {
    let mut job = job(&[], parts, |_| ());
    change(&mut job);
    let wood = wood(&job);
    let lies = |part: usize| wood.lies(part).expect("of this stock");
    (0..parts.len()).map(|part| lies(part) == lies(0)).collect()
}

#[test]
fn a_part_that_can_meet_no_other_lies_like_any_part_of_its_length() {
    let nothing = |_: &mut Job| ();
    let square = ("400", "square", "2");
    // One end at an angle meets nobody; a second of the same angle, on a part more or one more of the same, meets it.
    assert_eq!(
        alike(&[square, ("400", "45; square", "1")], nothing),
        [true, true]
    );
    assert_eq!(
        alike(&[square, ("400", "45; square", "2")], nothing),
        [true, false]
    );
    let two_angles = [
        square,
        ("400", "45; square", "1"),
        ("400", "30; square", "1"),
    ];
    assert_eq!(alike(&two_angles, nothing), [true, true, true]);
    let two_parts = [
        square,
        ("400", "45; square", "1"),
        ("300", "square; 45", "1"),
    ];
    assert_eq!(alike(&two_parts, nothing), [true, false, false]);
    // Both ends of a single part could meet only each other, and as ends of a ring they are nobody's neighbours; but they are two.
    assert_eq!(alike(&[square, ("400", "45", "1")], nothing), [true, false]);
    // Two parts of one length and the same ends lie alike, two of other ends do not.
    let three = [
        ("400", "45; square", "1"),
        ("400", "square; 45", "1"),
        ("400", "45", "1"),
    ];
    assert_eq!(alike(&three, nothing), [true, true, false]);
    // Where nothing may be turned, near ends meet far ones of the same lean: those of one kind meet nobody, and a brace has both.
    let fixed = |job: &mut Job| {
        job.sections[0].faces = Sides::Different;
        job.sections[0].edges = Sides::Different;
    };
    let near = [square, ("400", "45; square", "2")];
    assert_eq!(alike(&near, fixed), [true, true]);
    let braces = |job: &mut Job| {
        fixed(job);
        job.parts[1].leans = Leans::Same;
    };
    let brace = [square, ("400", "45", "2")];
    assert_eq!(alike(&brace, braces), [true, false]);
    // No part longer than both of its ends stand back, no sharing.
    let short = |job: &mut Job| job.parts.iter_mut().for_each(|part| part.length = mm(30));
    assert_eq!(
        alike(&[square, ("400", "45; square", "2")], short),
        [true, true]
    );
}

#[test]
fn a_part_of_other_timber_meets_nobody_here() {
    let parts = [
        ("400", "square", "1"),
        ("400", "45; square", "1"),
        ("300", "45; square", "1"),
    ];
    let mut job = job(&[("900", "", "0")], &parts, |_| ());
    job.parts[2].made_from = MadeFrom::New;
    // For each stock, whether the second and the third part lie otherwise than a square one would.
    let shares = |job: &Job| -> Vec<[bool; 2]> {
        let woods = stocks(job, &[0]).into_iter();
        let woods = woods.map(|stock| Wood::of(job, stock).expect("few numbers"));
        let ends = |wood: &Wood, part: usize| wood.lies(part).map(|(_, ends)| ends);
        let shares =
            |wood: &Wood, part| ends(wood, part).is_some_and(|it| Some(it) != ends(wood, 0));
        woods
            .map(|wood| [1, 2].map(|part| shares(&wood, part)))
            .collect()
    };
    // Of the shed's boards only the first two are made, so that the second meets nobody there.
    assert_eq!(shares(&job), [[false, false], [true, true]]);
    job.parts[2].made_from = MadeFrom::Anything;
    assert_eq!(shares(&job), [[true, true]]);
}
