//! Members in space, by the laws that make a picture of them true: the same parts as the list, no two in one place, nothing outside the
//! sizes that are printed, and as much timber as the parts less their joints.

use crate::common::random::Random;
use crate::laws::{drawn, job_in};
use crate::small::{draft, fact, sound};
use lengthwise::job::{EdgeJoint, Job, Leans, Part, PartEnd, examine};
use lengthwise::length::Length;
use lengthwise::setout::{Kind, SetOut, members};
use lengthwise::space::{Member, Solid, bounds, plane_between};

/// A set-out with its members.
struct Standing {
    job: Job,
    members: Vec<Member>,
}

/// Set-outs of a kind with random sizes and random edges of boards.
fn standing(kind: Kind, seed: u64) -> Vec<Standing> {
    let mut random = Random(seed);
    let mut found = Vec::new();
    for _ in 0..100 {
        let fields = drawn(&mut random, kind);
        let mut draft = job_in("mm", "0.5", kind.about().kind, &fields);
        let board = &mut draft.sections[1];
        if random.once_in(4) {
            (board.joint, board.cover) = (None, None);
        } else {
            let cover = random.pick(&["5 1/8 in", "4 1/2 in", "3 in"]);
            board.joint = Some(random.pick(&["tongued", "rebated", "lapped"]).to_owned());
            board.cover = Some(cover.to_owned());
        }
        let (job, faults) = examine(&draft);
        let members = members(&job.set_outs[0], &job.sections);
        assert_eq!(members.is_some(), faults.is_empty(), "{fields:?}");
        found.extend(members.map(|members| Standing { job, members }));
    }
    assert!(found.len() >= 30, "{kind:?}: only {}", found.len());
    found
}

impl Standing {
    fn set_out(&self) -> &SetOut {
        &self.job.set_outs[0]
    }

    fn pieces(&self) -> impl Iterator<Item = &Solid> + Clone {
        self.members.iter().flat_map(|member| &member.body)
    }

    /// Thickness and width of a part's section.
    fn sides(&self, part: &Part) -> [i64; 2] {
        let section = &self.job.sections[part.sections[0]];
        [section.thickness, section.width].map(|side| side.expect("a side").ticks())
    }

    fn ticks(&self, name: &str) -> i64 {
        fact(self.set_out(), name).ticks()
    }

    fn has(&self, name: &str) -> bool {
        self.set_out().facts.iter().any(|fact| fact.name == name)
    }

    /// How deep a part of a panel lies, of which the first is a stile that lies as deep as `panel`.
    fn lies(&self, part: &Part, panel: &str) -> i64 {
        let [thickness, _] = self.sides(&self.set_out().parts[0]);
        let on_edge = self.ticks(panel) != thickness;
        self.sides(part)[usize::from(on_edge)]
    }

    /// How deep the deepest part of a panel lies.
    fn deepest(&self, panel: &str) -> i64 {
        let parts = self.set_out().parts.iter();
        parts
            .map(|part| self.lies(part, panel))
            .max()
            .expect("parts")
    }
}

/// How far a slanting member reaches along each of its edges, to a tick.
fn along(solid: &Solid) -> Vec<i64> {
    let reach = |edge: [i64; 3]| {
        let edge = edge.map(i128::from);
        let along = |corner: [i64; 3]| -> i128 {
            let sides = corner.into_iter().zip(edge);
            sides.map(|(at, side)| i128::from(at) * side).sum()
        };
        let places: Vec<i128> = solid.corners().into_iter().map(along).collect();
        let reach = places.iter().max().expect("corners") - places.iter().min().expect("corners");
        let square: i128 = edge.iter().map(|side| side * side).sum();
        (reach as f64 / (square as f64).sqrt()).round() as i64
    };
    solid.edges().into_iter().map(reach).collect()
}

#[test]
fn members_are_the_parts_of_the_list_in_number_and_in_length() {
    for kind in Kind::ALL {
        for stand in standing(kind, 101) {
            let set_out = stand.set_out();
            for (row, part) in set_out.parts.iter().enumerate() {
                let of_it = stand.members.iter().filter(|member| member.part == row);
                let count = of_it.clone().count() as u32 * set_out.times;
                assert_eq!(count, part.quantity, "{part:?}");
                // A ring is rounded, and what slopes is as long as its slope.
                if RINGS.contains(&kind) {
                    continue;
                }
                for member in of_it {
                    if part.leans != Leans::Opposite && part.is_angled() {
                        let is_it = |reach: i64| (reach - part.length.ticks()).abs() <= 3;
                        let reaches = along(&member.body[0]);
                        assert!(reaches.iter().copied().any(is_it), "{part:?}: {reaches:?}");
                        continue;
                    }
                    let extents = bounds(member.body.iter()).expect("a body");
                    let extents = extents.map(|[from, to]| to - from);
                    assert!(
                        extents.contains(&part.length.ticks()),
                        "{part:?} {extents:?}"
                    );
                }
            }
            // A sheet is drawn and is no part.
            let rows = set_out.parts.len() + usize::from(kind == Kind::Sheet);
            assert!(stand.members.iter().all(|member| member.part < rows));
        }
    }
}

#[test]
fn no_two_members_are_in_one_place() {
    for kind in Kind::ALL {
        for stand in standing(kind, 103) {
            // Uprights and noggins deeper than the panels of a box stand out inside, where those of two panels can meet.
            if kind == Kind::Box && stand.deepest("panel depth") > stand.ticks("panel depth") {
                continue;
            }
            let pieces: Vec<&Solid> = stand.pieces().collect();
            for (at, one) in pieces.iter().enumerate() {
                assert!(!one.is_none(), "{one:?}");
                for other in &pieces[at + 1..] {
                    let between = plane_between(one, other);
                    let facts = &stand.set_out().facts;
                    assert!(between.is_some(), "{one:?} {other:?} {facts:?}");
                }
            }
        }
    }
}

/// What stands around the origin, its corners rounded to a tick.
const RINGS: [Kind; 3] = [Kind::Polygon, Kind::Staves, Kind::Hopper];

/// The sizes over all that a set-out prints, by axis, and whether its members fill them; nothing for sizes that it does not print.
fn printed(stand: &Standing) -> ([Option<i64>; 3], bool) {
    let size = |name: &str| Some(stand.ticks(name));
    let kind = Kind::named(&stand.set_out().kind).expect("a kind");
    match kind {
        Kind::Frame => {
            let deep = Some(stand.deepest("depth"));
            ([size("width"), deep, size("height")], true)
        }
        Kind::Box => ([size("width"), size("depth"), size("height")], true),
        Kind::TopFrame => ([size("length"), size("depth"), size("frame height")], true),
        Kind::Boarding => ([size("boarded width"), None, size("boarded height")], false),
        Kind::Slats => {
            let (span, slat) = (size("covered span"), size("slat length"));
            let caution = !stand.set_out().hazards.is_empty();
            // What bears a load lies, and has a caution; what does not stands.
            match caution {
                true => ([span.max(slat), span.min(slat), None], false),
                false => ([span, None, slat], false),
            }
        }
        Kind::MitredFrame => {
            let sizes = [size("long point width"), size("long point depth"), None];
            (sizes, true)
        }
        Kind::Polygon => {
            let across = size("across the points");
            ([across, across, None], false)
        }
        Kind::Sheet => ([size("width"), None, size("height")], true),
        Kind::Staves | Kind::Hopper => {
            let across = size("over all");
            let deep = across.max(stand.has("depth").then(|| stand.ticks("depth")));
            ([across, deep, size("wall height")], false)
        }
        Kind::Spaced => ([size("span"), None, size("height")], true),
        Kind::FreeParts => ([size("length"), None, None], true),
        // In the ground there is more than is printed.
        Kind::Posts => ([size("width"), size("depth"), None], true),
        Kind::Stand => {
            let over = [size("frame width"), size("frame depth"), size("height")];
            (over, true)
        }
        Kind::Gate => ([size("leaf width"), None, size("leaf height")], true),
        Kind::Fence => ([size("length"), None, None], true),
        Kind::Brace | Kind::Lattice => ([size("width"), None, size("height")], true),
        Kind::Rafters => ([size("length"), None, None], true),
        Kind::Trestle => ([size("length"), None, size("height")], true),
    }
}

#[test]
fn nothing_stands_outside_the_sizes_that_are_printed() {
    for kind in Kind::ALL {
        for stand in standing(kind, 107) {
            // What was measured again at the face is no longer what was printed for it.
            if kind == Kind::Boarding && stand.has("left") {
                continue;
            }
            let (printed, filled) = printed(&stand);
            let found = bounds(stand.pieces()).expect("members");
            for (found, size) in found.into_iter().zip(printed) {
                let Some(size) = size else { continue };
                // A ring is around the origin.
                assert!(
                    RINGS.contains(&kind) || found[0] >= 0,
                    "{kind:?}: {found:?}"
                );
                let over_all = found[1] - found[0];
                assert!(over_all <= size, "{kind:?}: {over_all} of {size}");
                assert!(
                    !filled || over_all == size,
                    "{kind:?}: {over_all} of {size}"
                );
            }
        }
    }
}

/// What joints take out of the members of a set-out, twice, in cubic ticks; what a ripped board is narrower is no joint.
fn twice_taken(stand: &Standing) -> i128 {
    let set_out = stand.set_out();
    if set_out.parts.is_empty() {
        return 0;
    }
    let wide =
        |one: i64, other: i64, deep: i64| i128::from(one) * i128::from(other) * i128::from(deep);
    let first = &set_out.parts[0];
    let [thickness, width] = stand.sides(first);
    let is_mitred = matches!(first.ends[0], PartEnd::Mitre(_));
    let panels = |count: i128, deep: i64| {
        let member = stand.ticks("member");
        // At each of four corners a square of two members' faces is there once, halved or mitred, though both are as long as the side.
        let crossed = is_mitred || stand.has("halving depth");
        i128::from(crossed) * 2 * count * 4 * wide(member, member, deep)
    };
    match Kind::named(&set_out.kind).expect("a kind") {
        Kind::Frame => panels(1, stand.ticks("depth")),
        Kind::TopFrame => panels(1, stand.ticks("frame height")),
        Kind::Box => {
            let inside = stand.ticks("depth") - stand.ticks("inside depth");
            let count = 2 + inside / stand.ticks("panel depth");
            panels(count.into(), stand.ticks("panel depth"))
        }
        Kind::MitredFrame => 2 * 4 * wide(width, width, thickness),
        Kind::Polygon => {
            let sides = i128::from(set_out.parts[0].quantity / set_out.times);
            let back = stand.ticks("side") - stand.ticks("short point side");
            sides * wide(back, width, thickness)
        }
        // All that is not within the wall, which is as thick on the level everywhere and shorter inside by twice that by tan h.
        Kind::Staves | Kind::Hopper => {
            let sides = set_out.parts.iter().map(|part| part.quantity).sum::<u32>() / set_out.times;
            let tan = (std::f64::consts::PI / f64::from(sides)).tan();
            let level = stand.ticks("wall on the level") as f64;
            let lost = stand.ticks("side at the top") - stand.ticks("side at the bottom");
            let wall: f64 = set_out
                .parts
                .iter()
                .map(|part| {
                    let top = match kind_of(set_out) {
                        Kind::Hopper => part.length.ticks(),
                        _ => stand.ticks("side at the top"),
                    };
                    // A butted side is as long inside as outside, but for its long points.
                    let inside = match is_butted(set_out) {
                        true => {
                            2.0 * part.ends[0].through(Length::from_ticks(thickness)).ticks() as f64
                        }
                        false => level * tan,
                    };
                    let middle = top as f64 - lost as f64 / 2.0 - inside;
                    f64::from(part.quantity / set_out.times)
                        * 2.0
                        * middle
                        * level
                        * stand.ticks("wall height") as f64
                })
                .sum();
            twice_timber(stand) - wall as i128
        }
        Kind::FreeParts => {
            let each = |part: &Part| {
                let back = |end: PartEnd| end.stands_back(Length::from_ticks(width)).ticks();
                let both = part.ends.map(back);
                let count = i128::from(part.quantity / set_out.times);
                count * wide(both[0] + both[1], width, thickness)
            };
            set_out.parts.iter().map(each).sum()
        }
        Kind::Sheet => 0,
        Kind::Slats | Kind::Spaced | Kind::Boarding | Kind::Lattice | Kind::Stand => 0,
        // What slanting ends take off a part, whichever way they lean.
        Kind::Posts | Kind::Fence | Kind::Gate | Kind::Brace | Kind::Rafters | Kind::Trestle => {
            let each = |part: &Part| {
                let [thickness, width] = stand.sides(part);
                let back = |end: PartEnd| end.stands_back(Length::from_ticks(width)).ticks();
                let both = part.ends.map(back);
                let count = i128::from(part.quantity / set_out.times);
                count * wide(both[0] + both[1], width, thickness)
            };
            let slants: i128 = set_out.parts.iter().map(each).sum();
            let sawn_in_place = |part: &Part| {
                let is_post = part.label.ends_with(" post") && !part.is_angled();
                let rise = if stand.has("back height") {
                    stand.ticks("back height") - stand.ticks("height")
                } else {
                    0
                };
                let [face, deep] = ["width", "depth"]
                    .map(|side| (stand.ticks(side) - stand.ticks(&format!("inside {side}"))) / 2);
                let count = i128::from(u32::from(is_post) * part.quantity / set_out.times);
                count * wide(face, deep, deep) * i128::from(rise.abs())
                    / i128::from(stand.ticks("depth"))
            };
            match Kind::named(&set_out.kind) {
                Some(Kind::Posts) => slants + set_out.parts.iter().map(sawn_in_place).sum::<i128>(),
                _ => slants,
            }
        }
    }
}

/// Whether the corners of a hopper are butted.
fn is_butted(set_out: &SetOut) -> bool {
    let joint = set_out.joints.first();
    joint.is_some_and(|joint| joint.what == "butted corners")
}

fn kind_of(set_out: &SetOut) -> Kind {
    Kind::named(&set_out.kind).expect("a kind")
}

/// The timber in the parts of one of a set-out, twice, in cubic ticks.
fn twice_timber(stand: &Standing) -> i128 {
    let each = |part: &Part| {
        let [thickness, width] = stand.sides(part).map(i128::from);
        let width = part.rip.map_or(width, |rip| i128::from(rip.width.ticks()));
        let count = i128::from(part.quantity / stand.set_out().times);
        2 * count * i128::from(part.length.ticks()) * width * thickness
    };
    stand.set_out().parts.iter().map(each).sum()
}

#[test]
fn members_hold_the_timber_of_their_parts_less_the_joints() {
    for kind in Kind::ALL {
        for stand in standing(kind, 109) {
            if kind == Kind::Sheet {
                let [wide, high] = ["width", "height"].map(|side| i128::from(stand.ticks(side)));
                let found: i128 = stand.pieces().map(Solid::twice_volume).sum();
                assert_eq!(found % (2 * wide * high), 0);
                continue;
            }
            let section = &stand.job.sections[stand.set_out().parts[0].sections[0]];
            if kind == Kind::Boarding
                && [EdgeJoint::Tongued, EdgeJoint::Rebated].contains(&section.joint)
            {
                continue;
            }
            let found: i128 = stand.pieces().map(Solid::twice_volume).sum();
            let wanted = twice_timber(&stand) - twice_taken(&stand);
            // The corners of a ring are rounded to a tick, and where its points are is rounded to one too.
            let within = match kind {
                Kind::Polygon => {
                    let [thickness, _] = stand.sides(&stand.set_out().parts[0]);
                    2 * 3 * 2 * i128::from(stand.ticks("total length")) * i128::from(thickness)
                }
                Kind::Staves | Kind::Hopper => {
                    let around = 4 * i128::from(stand.ticks("over all").max(stand.ticks("width")));
                    2 * 4 * 2 * around * i128::from(stand.ticks("wall height"))
                }
                // The corners of what slants are rounded to a tick.
                _ => {
                    let slants = stand
                        .members
                        .iter()
                        .map(|member| &stand.set_out().parts[member.part]);
                    let rounded = |part: &Part| {
                        let most = stand.sides(part).into_iter().max().unwrap_or_default();
                        8 * i128::from(part.length.ticks()) * i128::from(most)
                    };
                    slants
                        .filter(|part| part.is_angled() || part.label.ends_with(" post"))
                        .map(rounded)
                        .sum()
                }
            };
            let within = match kind {
                Kind::MitredFrame | Kind::Frame | Kind::Box | Kind::TopFrame | Kind::FreeParts => 0,
                _ => within,
            };
            assert!(
                (found - wanted).abs() <= within,
                "{kind:?}: {found} of {wanted}"
            );
        }
    }
}

#[test]
fn lapped_boards_lean_on_each_other_with_their_upper_edges_at_the_wall() {
    // 120 mm boards that cover 100 mm, on 1020 mm: ten boards, 100 mm from one to the next. 10 mm thick, a board rises 10 mm in 100 mm, so
    // 12 mm over its width, and its outer edge is 22 mm from the wall.
    let mut draft = draft(
        "mm",
        &[("board", "10 mm", "120 mm", "100 mm")],
        &[(
            "it",
            "boarding",
            &[("width", "2 m"), ("height", "1020"), ("run", "across")],
        )],
    );
    draft.sections[0].joint = Some("lapped".into());
    let job = sound(&draft);
    let members = members(&job.set_outs[0], &job.sections).expect("members");
    assert_eq!(members.len(), 10);
    for member in &members {
        let [_, [outer, inner], _] = bounds(member.body.iter()).expect("a body");
        assert_eq!([outer, inner], [0, 22 * 3_200]);
    }
}

#[test]
fn tongues_and_rebates_are_taken_out_of_the_boards_that_have_them() {
    for stand in standing(Kind::Boarding, 113) {
        let parts = &stand.set_out().parts;
        let section = &stand.job.sections[parts[0].sections[0]];
        let [thick, wide] = stand.sides(&parts[0]);
        let lap = section.lap().ticks();
        let long = i128::from(parts[0].length.ticks());
        let count = stand.members.len();
        for (at, member) in stand.members.iter().enumerate() {
            let found: i128 = member.body.iter().map(Solid::twice_volume).sum();
            let area = found / 2 / long;
            let ripped = parts[member.part].rip.map(|rip| rip.width.ticks());
            let behind = stand.members.get(at + 1);
            let behind = behind.and_then(|next| parts[next.part].rip);
            let behind = behind.map(|rip| rip.width.ticks());
            let (first, last) = (at == 0 && count > 1, at + 1 == count);
            let third = thick / 3;
            let wanted = match (section.joint, ripped) {
                // A tongue that would stand out past the face is planed off: the last one, and one behind which a sliver is.
                (EdgeJoint::Tongued, None) if last || behind.is_some_and(|width| width < lap) => {
                    let least = (wide - lap) * thick - lap * third;
                    assert!((least..=least + lap * third).contains(&(area as i64)));
                    continue;
                }
                // A whole board: its overall width, less the shoulders of its tongue and its groove.
                (EdgeJoint::Tongued, None) => wide * thick - lap * (thick - third) - lap * third,
                // A first one that is ripped has no groove, any other no tongue; both are as wide as they cover.
                (EdgeJoint::Tongued, Some(width)) if first => width * thick + lap * third,
                (EdgeJoint::Tongued, Some(width)) => width * thick - lap.min(width) * third,
                // A rebate in each edge, one from the back and one from the front.
                (EdgeJoint::Rebated, None) => wide * thick - lap * thick,
                (EdgeJoint::Rebated, Some(width)) => {
                    let left = (lap - (wide - width)).max(0);
                    let [back, front] = [thick / 2, thick - thick / 2];
                    let lost = if at == 0 {
                        left * back + lap.min(width) * front
                    } else {
                        lap * back + left * front
                    };
                    width * thick - lost
                }
                _ => continue,
            };
            assert_eq!(
                area,
                i128::from(wanted),
                "board {at} of {count}, {ripped:?}"
            );
        }
    }
}

#[test]
fn each_side_of_a_wall_that_slopes_is_one_body_as_high_along_its_slope_as_its_board() {
    let distance = |one: [f64; 3], other: [f64; 3]| -> f64 {
        let square = (0..3).map(|axis| (one[axis] - other[axis]).powi(2));
        square.sum::<f64>().sqrt()
    };
    let mut sloped = 0;
    for kind in [Kind::Staves, Kind::Hopper] {
        for stand in standing(kind, 127) {
            // Of a rectangle it cannot be told which edges are the outer ones.
            if is_butted(stand.set_out()) {
                continue;
            }
            let slant = stand.ticks("slant") as f64;
            let level = stand.ticks("wall on the level") as f64;
            for member in &stand.members {
                let [solid] = &member.body[..] else {
                    panic!("of several pieces");
                };
                sloped += usize::from(solid.axis().is_none());
                let corners = solid.corners();
                // Of the parallel edges at each end the longer is the outer one; the inner one is as far from it as the wall is thick on the level.
                let edges = [0, 4].map(|end| {
                    let at = |nth: usize| corners[end + nth % 4].map(|at| at as f64);
                    let edge = |nth: usize| {
                        let (one, other) = (at(nth), at(nth + 1));
                        [other[0] - one[0], other[1] - one[1]]
                    };
                    let is_parallel = |nth: usize| {
                        let (one, other) = (edge(nth), edge(nth + 2));
                        (one[0] * other[1] - one[1] * other[0]).abs()
                    };
                    let side = usize::from(is_parallel(1) < is_parallel(0));
                    let long = |nth: usize| distance(at(nth), at(nth + 1));
                    let outer = match long(side) > long(side + 2) {
                        true => side,
                        false => side + 2,
                    };
                    let middle = |nth: usize| {
                        let (one, other) = (at(nth), at(nth + 1));
                        [0, 1, 2].map(|axis| (one[axis] + other[axis]) / 2.0)
                    };
                    [middle(outer), middle(outer + 2)]
                });
                let up = distance(edges[0][0], edges[1][0]);
                assert!((up - slant).abs() < 12.0, "{kind:?}: {up} of {slant}");
                for [outer, inner] in edges {
                    let thick = distance(outer, inner);
                    assert!((thick - level).abs() < 12.0, "{kind:?}: {thick} of {level}");
                }
            }
        }
    }
    assert!(sloped > 100, "{sloped}");
}
