//! Loose parts in space: a pile, about as high as it is wide, of parts that lie along the front. On a face they are spread evenly from its
//! lower to its upper edge, where there is room.

use super::super::sizes::Sizes;
use crate::length::Length;
use crate::part::Part;
use crate::plan::Edge;
use crate::section::Section;
use crate::space::{Member, Solid};

/// The side of a section that is not known, as a share of the part's length.
const MADE_UP: i64 = 12;

/// `count` of the parts, one row after the other in turn: of parts wanted left and right every other one is of the other hand. `room` is the
/// height of the face they are on.
pub fn members(parts: &[Part], sections: &[Section], count: u32, room: Option<i64>) -> Vec<Member> {
    let [thickness, width] = sides(parts, sections);
    let spread = room.and_then(|room| spread(count, width, room));
    // Layers of as many parts as make the pile about as high as it is wide.
    let layers = |in_a_layer: i64| i64::from(count).div_euclid(in_a_layer.max(1)) + 1;
    let in_a_layer = (1..=i64::from(count))
        .find(|&wide| wide * width >= layers(wide) * thickness)
        .unwrap_or(1);
    (0..i64::from(count))
        .filter_map(|index| {
            let row = index as usize % parts.len().max(1);
            let (across, high) = match spread {
                Some(spread) => (spread.start(index), 0),
                None => (index % in_a_layer * width, index / in_a_layer * thickness),
            };
            let outline = outline(parts.get(row)?, width);
            let outline = outline.into_iter().map(|[x, y]| [x, y + across]);
            Some(Member {
                part: row,
                body: vec![Solid::prism(2, outline.collect(), [high, high + thickness])],
            })
        })
        .collect()
}

/// Parts that are spread evenly from the lower to the upper edge of a face.
#[derive(Clone, Copy)]
pub struct Spread {
    /// What is left of the face beside one of them.
    rest: i64,
    /// One less than there are.
    between: i64,
}

impl Spread {
    /// How far up one of them begins.
    pub fn start(self, index: i64) -> i64 {
        index * self.rest / self.between
    }
}

/// How so many parts of this width are spread, where there is room for them.
pub fn spread(count: u32, width: i64, room: i64) -> Option<Spread> {
    let between = i64::from(count) - 1;
    (between > 0 && width <= room / i64::from(count)).then_some(Spread {
        rest: room - width,
        between,
    })
}

/// The height of the face that parts stand on.
pub fn room(sizes: &Sizes) -> Option<i64> {
    let stand = sizes.stands.on.first()?;
    let up = sizes.given("up").map_or(0, |length| length.ticks());
    Some(stand.face.size[1] - up)
}

/// Thickness and width of the thinnest and narrowest section that the parts may be made of.
fn sides(parts: &[Part], sections: &[Section]) -> [i64; 2] {
    let may_be = parts.iter().flat_map(|part| &part.sections);
    let may_be = may_be.filter_map(|&section| sections.get(section));
    let made_up = parts
        .first()
        .map_or(1, |part| part.length.ticks() / MADE_UP);
    let least = |side: fn(&Section) -> Option<Length>| {
        let known = may_be.clone().filter_map(side).min();
        known.map_or(made_up.max(1), Length::ticks)
    };
    [
        least(|section| section.thickness),
        least(|section| section.width),
    ]
}

/// The outline of a part as it lies, near edge first. Where its ends meet before they are across it, they end in a point.
fn outline(part: &Part, width: i64) -> Vec<[i64; 2]> {
    let long = part.length.ticks();
    let edges = part.written_edges();
    // How far each end stands back on the near and on the far edge.
    let [near, far] = [Edge::Near, Edge::Far].map(|edge| {
        [0, 1].map(|end| match edges[end] == edge {
            true => 0,
            false => part.ends[end]
                .stands_back(Length::from_ticks(width))
                .ticks(),
        })
    });
    let [near, far] = [near, far].map(|[start, end]| [start, long - end]);
    let (near_wide, far_wide) = (near[1] - near[0], far[1] - far[0]);
    if near_wide < 0 || far_wide < 0 {
        // The wide edge, and the point where two lines meet that close evenly: a share of the width away from it.
        let (wide, narrow, edge, other) = match near_wide < 0 {
            true => (far, near, width, 0),
            false => (near, far, 0, width),
        };
        let (all, closed) = (
            wide[1] - wide[0],
            wide[1] - wide[0] - (narrow[1] - narrow[0]),
        );
        let point = [
            wide[0] + share(narrow[0] - wide[0], all, closed),
            edge + share(other - edge, all, closed),
        ];
        return vec![[wide[0], edge], [wide[1], edge], point];
    }
    vec![[near[0], 0], [near[1], 0], [far[1], width], [far[0], width]]
}

/// `length * share / of`, rounded towards zero.
fn share(length: i64, share: i64, of: i64) -> i64 {
    (i128::from(length) * i128::from(share) / i128::from(of)) as i64
}
