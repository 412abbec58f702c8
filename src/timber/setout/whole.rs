//! Set-outs that stand on faces of others, and the pieces that come of it.
//!
//! A set-out keeps its own space. Standing on a face turns and shifts that space: what stands by itself (boarding, a panel, pales) has its
//! front out and its back on the face, what lies (a top, a cap, a seat, a box) has its lower side on it. It begins at the lower left corner
//! of the face, `along` and `up` from there and `off` away from it. What stands out past the sizes it is given, an overhang say, does so
//! alike on both sides.

use super::finish::SetOut;
use super::kinds::Kind;
use super::sizes::Sizes;
use super::stands::members;
use super::taken::{are_pales, over_all, sized};
use crate::section::Section;
use crate::space::{Member, Point, Pose, Tilt, bounds};
use order::Map;

/// A set-out that stands by itself, with all that stands on it, in the order in which they are put together: each after what it stands on,
/// else in the order of their rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Whole {
    /// Itself first. Of a set-out that is made several times there is one, or as many as stand on this one.
    pub put: Vec<Put>,
}

impl Whole {
    /// The set-outs in it by their rows, each once, itself first.
    pub fn rows(&self) -> Vec<usize> {
        let mut rows: Vec<usize> = Vec::new();
        for put in &self.put {
            if !rows.contains(&put.row) {
                rows.push(put.row);
            }
        }
        rows
    }
}

/// One set-out where it goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Put {
    /// Its row.
    pub row: usize,
    /// The place in the list of what it stands on.
    pub on: Option<usize>,
    /// The way it is taken off.
    pub off: Point,
    /// Its members in the space of the whole.
    pub members: Vec<Member>,
}

/// A place of a set-out.
#[derive(Clone, Copy)]
struct Place {
    /// The set-out by itself that carries it, by its row.
    root: usize,
    /// Where it is there; on a slope, where it is on the level before it is turned.
    pose: Pose,
    /// The slope, and where what slopes is; `Err` for a slope on a slope.
    tilt: Result<Option<(Tilt, Pose)>, ()>,
    /// What it stands on: the row, and which of its places.
    on: Option<(usize, usize)>,
    /// The way it is taken off.
    off: Point,
}

/// The pieces that set-outs make, in the order of those that stand by themselves. Set-outs with a fault are in none.
pub fn wholes(set_outs: &[SetOut], sections: &[Section]) -> Vec<Whole> {
    let mut places: Vec<Option<Vec<Place>>> = vec![None; set_outs.len()];
    for row in 0..set_outs.len() {
        place(row, set_outs, sections, &mut places);
    }
    let of_root = |root: usize| {
        let all = places.iter().enumerate().flat_map(|(row, places)| {
            let places = places.iter().flatten().enumerate();
            places.map(move |(nth, place)| ((row, nth), *place))
        });
        all.filter(move |(_, place)| place.root == root)
    };
    let is_whole = |row: &usize| {
        let sizes = set_outs[*row].sizes.as_ref();
        sizes.is_some_and(|sizes| sizes.stands.on.is_empty())
    };
    let whole = |root: usize| {
        let mut waiting: Vec<((usize, usize), Place)> = of_root(root).collect();
        let mut known: Map<(usize, usize), usize> = Map::new();
        let mut put = Vec::new();
        // Each round puts at least one, as what each stands on is here.
        while !waiting.is_empty() {
            let before = waiting.len();
            waiting.retain(|(key, place)| {
                let on = place.on.map(|on| known.get(&on).copied());
                if on == Some(None) {
                    return true;
                }
                known.insert(*key, put.len());
                let members = members(&set_outs[key.0], sections).unwrap_or_default();
                put.push(Put {
                    row: key.0,
                    on: on.flatten(),
                    off: place.off,
                    members: members
                        .iter()
                        .map(|one| moved(one, place))
                        .collect::<Option<_>>()
                        .unwrap_or_default(),
                });
                false
            });
            if waiting.len() == before {
                break;
            }
        }
        Whole { put }
    };
    (0..set_outs.len()).filter(is_whole).map(whole).collect()
}

/// A member where it goes; `None` where it cannot be turned onto a slope.
fn moved(member: &Member, place: &Place) -> Option<Member> {
    let tilt = place.tilt.ok()?;
    let put = |solid| {
        let level = place.pose.moved(solid);
        match tilt {
            None => Some(level),
            Some((tilt, outer)) => Some(outer.moved(&tilt.tilted(&level)?)),
        }
    };
    Some(Member {
        part: member.part,
        body: member.body.iter().map(put).collect::<Option<_>>()?,
    })
}

/// Finds where a set-out is. It ends: a set-out is sound only where those that it stands on are known before it, so there are no circles.
fn place(row: usize, set_outs: &[SetOut], sections: &[Section], places: &mut [Option<Vec<Place>>]) {
    let Some(sizes) = set_outs[row]
        .sizes
        .as_ref()
        .filter(|_| places[row].is_none())
    else {
        return;
    };
    if sizes.stands.on.is_empty() {
        places[row] = Some(vec![Place {
            root: row,
            pose: Pose::STILL,
            tilt: Ok(None),
            on: None,
            off: [0, 0, 1],
        }]);
        return;
    }
    let mut found = Vec::new();
    let kind = Kind::named(&set_outs[row].kind);
    let fields = kind.map_or([None; 2], |kind| sized(kind, are_pales(sizes)));
    if let Some(seat) = seat(&set_outs[row], sizes, sections) {
        for stand in &sizes.stands.on {
            place(stand.row, set_outs, sections, places);
            let mut seat = seat;
            seat.at[0] -= stand.before;
            // What is larger than its face stands out alike at both sides.
            for side in 0..2 {
                let size = fields[side].and_then(|field| sizes.given(field));
                let is_free = sizes.given(["along", "up"][side]).is_none();
                let more = size.map_or(0, |size| size.ticks() - stand.face.size[side]);
                seat.at[side] -= if is_free { more.max(0) / 2 } else { 0 };
            }
            for (nth, beneath) in places[stand.row].iter().flatten().enumerate() {
                let level = stand.face.pose.of(&seat);
                let (pose, tilt) = match (stand.tilt, beneath.tilt) {
                    (None, tilt) => (beneath.pose.of(&level), tilt),
                    (Some(tilt), Ok(None)) => (level, Ok(Some((tilt, beneath.pose)))),
                    _ => (level, Err(())),
                };
                found.push(Place {
                    root: beneath.root,
                    pose,
                    tilt,
                    on: Some((stand.row, nth)),
                    off: beneath.pose.turned(stand.off),
                });
            }
        }
    }
    places[row] = Some(found);
}

/// From a set-out's own space to that of the face it stands on: to the right, up and out.
fn seat(set_out: &SetOut, sizes: &Sizes, sections: &[Section]) -> Option<Pose> {
    let kind = Kind::named(&set_out.kind)?;
    let members = members(set_out, sections)?;
    let ends = bounds(members.iter().flat_map(|member| &member.body))?;
    // A ring is around its origin, everything else begins there or, behind a gap, a little later.
    let [x, y, z] = ends.map(|[from, _]| from.min(0));
    let pales = are_pales(sizes);
    let stands = matches!(
        kind,
        Kind::Frame
            | Kind::Boarding
            | Kind::Spaced
            | Kind::Brace
            | Kind::Lattice
            | Kind::Sheet
            | Kind::Gate
    ) || (kind == Kind::Slats && pales);
    let ticks = |field: &'static str| sizes.given(field).map_or(0, |length| length.ticks());
    let mut pose = if stands {
        Pose {
            at: [-x, -z, ends[1][1]],
            axes: [[1, 0, 0], [0, 0, -1], [0, 1, 0]],
        }
    } else if kind == Kind::Slats
        && ends[1][1] - y <= ends[0][1] - x
        && set_out.length("slat length") <= set_out.length("covered span")
    {
        // Slats that are shorter than their span run from front to back by themselves; on a face they run along it.
        Pose {
            at: [ends[1][1], -x, -z],
            axes: [[0, 1, 0], [-1, 0, 0], [0, 0, 1]],
        }
    } else {
        Pose {
            at: [-x, -y, -z],
            axes: Pose::STILL.axes,
        }
    };
    let (fields, over) = (sized(kind, pales), over_all(kind, pales));
    for side in 0..2 {
        if let (Some(field), Some(over)) = (fields[side], over[side]) {
            pose.at[side] -= (set_out.length(over)?.ticks() - ticks(field)) / 2;
        }
        pose.at[side] += ticks(["along", "up"][side]);
    }
    pose.at[2] += ticks("off");
    Some(pose)
}
