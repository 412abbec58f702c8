//! How posts and rails are laid out: where the posts stand, how high the top is, which rails there are.

use crate::length::Length;
use crate::part::{Fitting, Part, PartEnd};
use crate::setout::built::end_of_slope;
use crate::setout::ratio::{diagonal, share};
use crate::setout::sizes::{Seen, Sizes, Timber};
use crate::setout::spacing::{EndGaps, EqualGaps};
use crate::setout::worked::{Misfit, Slope};
use crate::space::Tilt;

/// A layout as it is read.
pub struct Layout<'a> {
    /// The timber of the posts.
    pub timber: &'a Timber,
    /// A post along the width and along the depth.
    pub post: [Length; 2],
    /// Over all.
    pub width: Length,
    /// The top.
    pub top: Top,
    /// The end of a post whose top is sawn to the slope, and of the rails that follow it.
    pub end: PartEnd,
    /// The rails.
    pub rails: Rails<'a>,
    /// Where posts begin along the width and along the depth.
    pub places: [Vec<Length>; 2],
    /// Depth in the ground.
    pub ground: Length,
    /// Whether the front has its top rail alone.
    pub is_open: bool,
}

impl Layout<'_> {
    /// Reads the fields.
    ///
    /// # Errors
    /// Sizes that do not go together.
    pub fn read(sizes: &Sizes) -> Result<Layout<'_>, Misfit> {
        let (width, depth) = (sizes.length("width")?, sizes.length("depth")?);
        let front = sizes.length("height")?;
        let top = Top {
            front,
            rise: sizes.given("back_height").unwrap_or(front) - front,
            depth,
        };
        let timber = sizes.timber("section")?;
        let seen = sizes.choice("seen", Seen::ALL);
        let post = [timber.face(seen), timber.depth(seen)];
        let rails = Rails {
            timber: sizes.given_timber("rail_section").unwrap_or(timber),
            count: sizes.count("rails"),
            up: sizes.given("rail_up").unwrap_or_default(),
        };
        if rails.timber.thickness > post[0].min(post[1]) {
            return Err(Misfit::new(
                "rail_section",
                "the rails are thicker than the posts; take a thinner section",
            ));
        }
        let Some(end) = end_of_slope(top.steep(), depth) else {
            return Err(Misfit::new(
                "back_height",
                "the top would be steeper than 75 degrees; make it deeper, or the heights less different",
            ));
        };
        Ok(Layout {
            places: [
                places(sizes, width, post[0], ("front_posts", "width"))?,
                places(sizes, depth, post[1], ("side_posts", "depth"))?,
            ],
            timber,
            post,
            width,
            top,
            end,
            rails,
            ground: sizes.given("ground").unwrap_or_default(),
            is_open: sizes.choice("front", [false, true]),
        })
    }

    /// Whether the top does not slope, or hardly so.
    pub fn is_level(&self) -> bool {
        self.end == PartEnd::Square
    }

    /// The clear bays between posts, along the width or along the depth.
    pub fn bays(&self, side: usize) -> Vec<[Length; 2]> {
        let pairs = self.places[side].windows(2);
        pairs
            .map(|pair| [pair[0] + self.post[side], pair[1]])
            .collect()
    }
}

/// The top of the posts: a height at the front, and the rise from there over the depth.
pub struct Top {
    /// At the outside of the front.
    pub front: Length,
    /// From there to the outside of the back; below zero where it falls.
    pub rise: Length,
    /// From front to back.
    pub depth: Length,
}

impl Top {
    /// The height so far behind the front.
    pub fn at(&self, back: Length) -> Length {
        self.front + share(self.rise, back.ticks(), self.depth.ticks())
    }

    /// The lower and the higher of the heights at two places.
    pub fn over(&self, from: Length, to: Length) -> [Length; 2] {
        let (one, other) = (self.at(from), self.at(to));
        [one.min(other), one.max(other)]
    }

    /// It as a slope, the near edge at the outside of the front.
    pub fn slope(&self) -> Slope {
        let long = diagonal(self.depth, self.rise);
        let [run, rise, along, front] =
            [self.depth, self.rise, long, self.front].map(Length::ticks);
        Slope {
            tilt: Tilt {
                pivot: [0, front],
                run,
                rise,
                along,
            },
            long,
        }
    }

    /// How much it rises or falls.
    pub fn steep(&self) -> Length {
        self.rise.max(-self.rise)
    }
}

/// What all rails have in common.
pub struct Rails<'a> {
    /// Their timber; they stand on edge.
    pub timber: &'a Timber,
    /// How many one above the other.
    pub count: u32,
    /// The lower edge of the lowest above the ground.
    pub up: Length,
}

impl Rails<'_> {
    /// The lower edges of level rails whose top one ends at `top`.
    ///
    /// # Errors
    /// More rails than fit.
    pub fn starts(&self, top: Length) -> Result<Vec<Length>, Misfit> {
        if self.count == 1 {
            return Ok(vec![top - self.timber.width]);
        }
        let gaps = EqualGaps {
            span: top - self.up,
            member: self.timber.width,
            count: self.count,
            ends: EndGaps::None,
        };
        if gaps.left_over() < Length::ZERO {
            return Err(Misfit::new(
                "rails",
                "so many rails do not fit one above the other; take fewer, or make it higher",
            ));
        }
        let starts = gaps.starts().into_iter();
        Ok(starts.map(|start| self.up + start).collect())
    }

    /// One of them.
    pub fn part(&self, label: &str, length: Length) -> Part {
        Part {
            fitting: Fitting::Between,
            ..Part::square(label, &self.timber.sections, length, 1)
        }
    }
}

/// Where posts begin along a side: at both its ends, and so many at equal gaps between.
fn places(
    sizes: &Sizes,
    side: Length,
    post: Length,
    (between, field): (&'static str, &'static str),
) -> Result<Vec<Length>, Misfit> {
    let gaps = EqualGaps {
        span: side,
        member: post,
        count: sizes.count(between) + 2,
        ends: EndGaps::None,
    };
    if gaps.clear().is_none() || gaps.left_over() < Length::ZERO {
        return Err(Misfit::new(
            field,
            "the posts leave nothing between them; make it larger",
        ));
    }
    Ok(gaps.starts())
}
