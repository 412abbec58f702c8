//! Where set-outs are fixed to what they stand on, counted from the members where they go.
//!
//! **Idea.** A set-out that stands on a face touches some of the members behind it. Moved against the way it is taken off by a millimetre, such a pair has no
//! plane between it, so both are in one place ([`plane_between`]). **Why it ends:** each pair is looked at once, and once
//! [`MOST_PAIRS`] are looked at, the counts of the others stay what the set-outs say by themselves.
//!
//! A board that runs along a member lies beside it and is not counted; nor is what is held loosely, or what touches by less than [`LEAST`] either way, which holds no fixing
//! (common practice, no source).

use super::finish::SetOut;
use super::whole::{Put, wholes};
use super::worked::{Joint, JointSort};
use crate::length::Length;
use crate::section::Section;
use crate::space::{Member, Point, Solid, bounds, plane_between};

/// The most pairs of members that are looked at in a job.
const MOST_PAIRS: usize = 1_000_000;
/// How far a set-out is moved, in ticks: a millimetre. Slopes are rounded to a tick, so what touches there may be that far apart.
const MOVED: i64 = 3_200;
/// The least that two members touch by, in ticks: 8 mm.
const LEAST: i64 = 25_600;

/// Counts where set-outs are fixed to what they stand on. How many supports a board crosses stays where the person says it.
pub(super) fn count(set_outs: &mut [SetOut], sections: &[Section]) {
    let stands = |set_out: &SetOut| {
        let sizes = set_out.sizes.as_ref();
        sizes.is_some_and(|sizes| !sizes.stands.on.is_empty())
    };
    if !set_outs.iter().any(stands) {
        return;
    }
    let mut counted: Vec<Option<Counted>> = vec![None; set_outs.len()];
    let mut left = MOST_PAIRS;
    for whole in wholes(set_outs, sections) {
        for put in &whole.put {
            let Some(on) = put.on else {
                continue;
            };
            let behind = &whole.put[on].members;
            let pairs = put.members.len() * behind.len();
            if pairs > left {
                continue;
            }
            left -= pairs;
            let met = touched(put, behind, crosses(&set_outs[put.row]));
            let row = counted[put.row].get_or_insert(Counted {
                on: whole.put[on].row,
                ..Counted::default()
            });
            row.met.add(met);
            row.places += 1;
        }
    }
    for row in 0..set_outs.len() {
        if let Some(counted) = counted[row].filter(|counted| counted.met.times > 0) {
            tell(set_outs, row, counted);
        }
    }
}

/// What is counted of a set-out.
#[derive(Clone, Copy, Default)]
struct Counted {
    /// The row of what it stands on.
    on: usize,
    /// In how many places it is.
    places: u64,
    /// What its members meet in all of them.
    met: Met,
}

/// How often members meet others.
#[derive(Clone, Copy, Default)]
struct Met {
    times: u64,
    /// The least side of the thickest of them.
    thickness: Length,
}

impl Met {
    fn add(&mut self, other: Met) {
        self.times += other.times;
        self.thickness = self.thickness.max(other.thickness);
    }
}

/// Whether its boards cross supports of which it only knows how many there are, by a field that is left as it is.
fn crosses(set_out: &SetOut) -> bool {
    let sizes = set_out.sizes.as_ref();
    sizes.is_some_and(|sizes| {
        sizes.given_count("supports").is_some() && !sizes.written.contains("supports")
    })
}

fn crossing(set_out: &SetOut) -> Option<usize> {
    let mut joints = set_out.joints.iter();
    joints.position(|joint| matches!(joint.sort, JointSort::Crossing(_)))
}

fn tell(set_outs: &mut [SetOut], row: usize, counted: Counted) {
    let all = counted.met.times * u64::from(set_outs[row].times) / counted.places;
    let count = u32::try_from(all).unwrap_or(u32::MAX);
    let sizes = set_outs[row].sizes.as_ref();
    if sizes.is_some_and(|sizes| sizes.choice("held", [false, true])) {
        return;
    }
    let has_supports = sizes.is_some_and(|sizes| sizes.given_count("supports").is_some());
    if has_supports {
        if crosses(&set_outs[row])
            && let Some(at) = crossing(&set_outs[row])
        {
            set_outs[row].joints[at].count = count;
        }
        return;
    }
    // Ledges on boards that stand by themselves are the supports of which these knew nothing else; what lies on other boards takes one fixing to a board.
    let carrier = &mut set_outs[counted.on];
    // Those that have them already still are boards, and not members of a frame.
    let mut sort = match crosses(carrier) || crossing(carrier).is_some() {
        true => JointSort::Crossing(Length::ZERO),
        false => JointSort::Frame,
    };
    let stands_alone = carrier
        .sizes
        .as_ref()
        .is_some_and(|sizes| sizes.stands.on.is_empty());
    if let Some(at) = crossing(carrier)
        && crosses(carrier)
        && stands_alone
    {
        sort = carrier.joints.remove(at).sort;
    }
    let what = format!("places on {}", carrier.name);
    set_outs[row].joints.push(Joint {
        what,
        count,
        sort,
        thickness: counted.met.thickness,
    });
}

/// How often a set-out touches what it stands on. What hangs in a room and touches nothing behind it touches its sides.
fn touched(put: &Put, behind: &[Member], crosses: bool) -> Met {
    let met = meetings(&put.members, behind, put.off.map(|side| -side), crosses);
    if met.times > 0 {
        return met;
    }
    let mut all = Met::default();
    for way in [[-1, 0, 0], [1, 0, 0], [0, -1, 0], [0, 1, 0]] {
        all.add(meetings(&put.members, behind, way, crosses));
    }
    all
}

/// The pairs of one and another member that meet this way.
fn meetings(members: &[Member], others: &[Member], way: Point, crosses: bool) -> Met {
    let most = way.iter().map(|side| side.abs()).max().unwrap_or_default();
    let by = way.map(|side| side * MOVED / most.max(1));
    let room = |body: &[Solid]| bounds(body.iter()).unwrap_or_default();
    let mut known = Vec::new();
    for other in others {
        known.push((room(&other.body), &other.body));
    }
    let mut met = Met::default();
    for member in members {
        let moved: Vec<Solid> = member.body.iter().map(|solid| solid.shifted(by)).collect();
        let own = room(&moved);
        let along = |room: &[[i64; 2]; 3]| (0..3).max_by_key(|&axis| room[axis][1] - room[axis][0]);
        for (other, body) in &known {
            let overlaps = |axis: usize| {
                let least = if way[axis].abs() == most { 1 } else { LEAST };
                own[axis][1].min(other[axis][1]) - own[axis][0].max(other[axis][0]) >= least
            };
            let beside = crosses && along(&own) == along(other);
            let meets = |one: &Solid| body.iter().any(|other| plane_between(one, other).is_none());
            if (0..3).all(overlaps) && !beside && moved.iter().any(meets) {
                let thickness = own.map(|[from, to]| to - from).into_iter().min();
                met.add(Met {
                    times: 1,
                    thickness: Length::from_ticks(thickness.unwrap_or_default()),
                });
            }
        }
    }
    met
}
