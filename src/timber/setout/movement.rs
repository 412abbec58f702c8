//! How much a board swells or shrinks in width, from its wood and its moisture. It is a note beside the gap and never changes a size.
//!
//! Within 6 to 14 % the change is width x C x percentage points of moisture, with the tangential coefficient C of table 13-5 of the *Wood
//! Handbook* (USDA Forest Products Laboratory, FPL-GTR-190). Beyond that range, the tangential shrinkage from green to dry of its table 4-3
//! is spread evenly over the 30 percentage points below fibre saturation. A softwood of no known kind changes by 0.25 % per point, the rule
//! of BS EN 1313-1. These are the figures of flat-sawn boards, which move most; the result is rounded up to a tick.

use super::kind::{Field, Sort, Usual};
use super::sizes::Sizes;
use super::worked::Worked;
use crate::length::Length;

/// A wood: its word, its coefficient in 10^-5 per percentage point, and its shrinkage from green to dry in tenths of a percent.
struct Wood {
    word: &'static str,
    coefficient: Option<i64>,
    shrinkage: Option<i64>,
}

const fn wood(word: &'static str, coefficient: Option<i64>, shrinkage: Option<i64>) -> Wood {
    Wood {
        word,
        coefficient,
        shrinkage,
    }
}

const UNSAID: &str = "not worked out";
const ANY_SOFTWOOD: &str = "softwood of no known kind";

/// The woods of the form, softwoods first. The coefficients of Douglas-fir and southern pine were read in a copy of table 13-5, all others
/// in the tables themselves. Figures that were not read are left out.
const WOODS: [Wood; 9] = [
    wood("softwood: Douglas-fir", Some(267), Some(76)),
    wood("softwood: southern pine", Some(265), None),
    wood("softwood: western redcedar", None, Some(50)),
    wood("hardwood: American beech", Some(431), Some(119)),
    wood("hardwood: American chestnut", Some(234), Some(67)),
    wood("hardwood: black locust", Some(252), None),
    wood("hardwood: red oak", Some(369), None),
    wood("hardwood: white ash", Some(274), Some(78)),
    wood("hardwood: white oak", Some(365), Some(105)),
];

const WORDS: [&str; 11] = {
    let mut words = [UNSAID; 11];
    words[1] = ANY_SOFTWOOD;
    let mut at = 0;
    while at < WOODS.len() {
        words[at + 2] = WOODS[at].word;
        at += 1;
    }
    words
};

/// Fibre saturation in percent of moisture; above it wood does not move.
const SATURATED: u32 = 30;

/// The wood of the boards.
pub const WOOD: Field = Field {
    field: "wood",
    label: "Work out how much the wood moves",
    hint: "Tells how much a board swells or shrinks; it changes no size.",
    sort: Sort::Choice(&WORDS),
    usual: Usual::Text(UNSAID),
    in_sight: false,
};

/// The moisture of the boards when they are fixed.
pub const MOISTURE: Field = moisture(
    "moisture",
    "Moisture now, %",
    "By a meter; air-dried timber often has 16 to 19.",
);

/// Their moisture later.
pub const MOISTURE_LATER: Field = moisture(
    "moisture_later",
    "Wettest or driest it will be, %",
    "Wetter than now it swells, drier it shrinks.",
);

const fn moisture(field: &'static str, label: &'static str, hint: &'static str) -> Field {
    Field {
        field,
        label,
        hint,
        sort: Sort::Count {
            least: 4,
            most: SATURATED,
        },
        usual: Usual::Nothing,
        in_sight: false,
    }
}

/// The room in which boards can move.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Room {
    /// Square edges this far apart.
    Gap(Length),
    /// A gap, and a tongue or a rebate behind it.
    Tongue {
        /// From one board to the next.
        gap: Length,
        /// How far the tongue or the rebate reaches.
        tongue: Length,
    },
    /// Boards that overlap by this much.
    Lap(Length),
}

/// Adds a note on how much a board of this width moves, and whether there is room for it. What is missing for that is noted too; it is no
/// fault.
pub fn told(sizes: &Sizes, width: Length, room: Room, worked: &mut Worked) {
    let chosen = sizes.choice(WOOD.field, [0usize, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
    if chosen == 0 {
        return;
    }
    let given = |field: &Field| sizes.given_count(field.field);
    let (Some(now), Some(later)) = (given(&MOISTURE), given(&MOISTURE_LATER)) else {
        let missing = "How much the wood moves is worked out when both moistures are filled in.";
        worked.notes.push(missing.to_owned());
        return;
    };
    let Some((rate, source)) = rate(chosen, now, later) else {
        let beyond = "How much the wood moves is not known here: the figure of this wood holds from 6 to 14 % moisture only.";
        worked.notes.push(beyond.to_owned());
        return;
    };
    let points = i128::from(now.abs_diff(later));
    let moved = i128::from(width.ticks()) * i128::from(rate.0) * points;
    let moved = (moved + i128::from(rate.1) - 1) / i128::from(rate.1);
    let moved = Length::from_ticks(moved as i64);
    worked.fact("movement of a board", moved);
    let (verb, room) = if later > now {
        ("swells", swelling(sizes, room, moved))
    } else {
        ("shrinks", shrinking(sizes, room, moved))
    };
    worked.notes.push(format!(
        "A flat-sawn board of {} {verb} {} across from {now} to {later} % moisture. {room} Source: {source}",
        sizes.show(width),
        sizes.show(moved),
    ));
}

/// The share of its width by which a board moves per percentage point, as a fraction, with its source; `None` where no figure applies.
fn rate(chosen: usize, now: u32, later: u32) -> Option<((i64, i64), String)> {
    let Some(wood) = chosen.checked_sub(2).and_then(|at| WOODS.get(at)) else {
        let source = "BS EN 1313-1, 0.25 % of the width a point.".to_owned();
        return Some(((25, 10_000), source));
    };
    let in_table = |moisture: u32| (6..=14).contains(&moisture);
    match (wood.coefficient, wood.shrinkage) {
        (Some(coefficient), _) if in_table(now) && in_table(later) => Some((
            (coefficient, 100_000),
            format!("Wood Handbook (FPL-GTR-190), table 13-5, 0.00{coefficient} a point."),
        )),
        (_, Some(shrinkage)) => Some((
            (shrinkage, 30_000),
            format!(
                "Wood Handbook (FPL-GTR-190), table 4-3, {}.{} % over 30 points.",
                shrinkage / 10,
                shrinkage % 10
            ),
        )),
        _ => None,
    }
}

fn swelling(sizes: &Sizes, room: Room, moved: Length) -> String {
    match room {
        Room::Lap(_) => "It moves within its lap; no gap is added.".to_owned(),
        Room::Gap(gap) | Room::Tongue { gap, .. } if gap >= moved => {
            format!("The gap of {} takes that.", sizes.show(gap))
        }
        Room::Gap(gap) | Room::Tongue { gap, .. } => format!(
            "The gap of {} does not take that: give {} or more.",
            sizes.show(gap),
            sizes.show(moved.up_to(sizes.style.step))
        ),
    }
}

fn shrinking(sizes: &Sizes, room: Room, moved: Length) -> String {
    match room {
        Room::Gap(gap) => format!(
            "The gap of {} opens to {}.",
            sizes.show(gap),
            sizes.show(gap + moved)
        ),
        Room::Tongue { gap, tongue } => {
            let [open, reach] = [gap + moved, tongue].map(|length| sizes.show(length));
            if gap + moved < tongue {
                format!("The joint opens to {open}, which the {reach} behind it still closes.")
            } else {
                format!(
                    "The joint opens to {open}, and the {reach} behind it no longer closes it: give less gap, or wait until the boards are drier."
                )
            }
        }
        Room::Lap(lap) if lap > moved => {
            let [lap, rest] = [lap, lap - moved].map(|length| sizes.show(length));
            format!("Of the least lap of {lap} there stays {rest}.")
        }
        Room::Lap(lap) => format!(
            "The least lap of {} does not take that: give a cover width that leaves more.",
            sizes.show(lap)
        ),
    }
}
