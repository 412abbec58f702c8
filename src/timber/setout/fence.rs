//! A straight run of posts with rails between them.
//!
//! With L from outside to outside, posts p wide and centres of at most c there are n = ceil((L - p) / c) bays and n + 1 posts; a clear bay is
//! (L - p) / n - p. (Counting rule of fence handbooks; the same as for members at equal centres.) A rail goes between two posts.
//!
//! Where the ground rises by R over the run, the posts stay plumb and each stands as high above its own ground; the rails follow it. Between plumb
//! ends a rail of width w over a clear bay b is b S / L + w R / L from tip to tip, with S = sqrt(L² + R²). (As a rafter with plumb cuts.)

use super::built::{Built, end_of_slope, in_ground};
use super::kind::{
    Field, KindInfo, Sort, Usual, section_field, seen_field, size_field, spare_field,
};
use super::panel::numbered;
use super::posts::RAIL_SECTION;
use super::ratio::{diagonal, share};
use super::sizes::{Seen, Sizes, Timber};
use super::spacing::{EndGaps, EqualGaps};
use super::worked::{Misfit, Worked};
use crate::length::Length;
use crate::part::{Fitting, Leans, Part, PartEnd};
use crate::space::Solid;

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "fence",
    title: "Fence run",
    name: "Fence",
    about: "A straight run of posts in the ground, at equal bays, with rails between them.",
    fields: &[
        size_field(
            "length",
            "Length of the run",
            "Outside, over the end posts.",
        ),
        size_field("height", "Height", "Of the posts above the ground."),
        section_field(
            "section",
            "Section of the posts",
            "The timber of the posts.",
        ),
        Field {
            field: "centres",
            label: "Posts no further than",
            hint: "From the middle of one to the middle of the next; the bays come out equal.",
            sort: Sort::Size,
            usual: Usual::ByUnit("1.8 m", "6'"),
            in_sight: true,
        },
        Field {
            field: "ground",
            label: "Depth in the ground",
            hint: "A third to half of the height above it is usual; ask what holds where you are.",
            sort: Sort::Length,
            usual: Usual::ByUnit("600 mm", "2'"),
            in_sight: true,
        },
        RAIL_SECTION,
        seen_field("on edge"),
        Field {
            field: "rails",
            label: "Rails one above the other",
            hint: "At equal gaps between the lowest and the highest.",
            sort: Sort::Count { least: 0, most: 20 },
            usual: Usual::Text("2"),
            in_sight: true,
        },
        Field {
            field: "rail_up",
            label: "Lowest rail above the ground",
            hint: "To its lower edge.",
            sort: Sort::Length,
            usual: Usual::ByUnit("200 mm", "8\""),
            in_sight: true,
        },
        Field {
            field: "rail_down",
            label: "Highest rail below the top",
            hint: "From the top of the posts to its upper edge.",
            sort: Sort::Length,
            usual: Usual::ByUnit("150 mm", "6\""),
            in_sight: true,
        },
        spare_field(
            "rise",
            "Ground rises by",
            "To the right, over the whole run, measured level; the rails follow it. Leave empty for level ground.",
        ),
    ],
};

/// The most bays.
const MOST: i64 = 300;

/// A run as it is read.
struct Run<'a> {
    timber: &'a Timber,
    rail: &'a Timber,
    /// Along the run, and across it.
    post: [Length; 2],
    posts: EqualGaps,
    rails: EqualGaps,
    /// Above the ground: the posts, the lowest rail; below it: the posts.
    heights: [Length; 3],
    /// How much the ground rises over the run, and the end of a rail that follows it.
    rise: Length,
    end: PartEnd,
}

impl Run<'_> {
    /// The ground so far along the run, above that of its beginning.
    fn ground_at(&self, along: Length) -> Length {
        share(along, self.rise.ticks(), self.posts.span.ticks())
    }

    /// A length along the level as it is along the slope.
    fn sloping(&self, length: Length) -> Length {
        let slope = diagonal(self.posts.span, self.rise);
        share(length, slope.ticks(), self.posts.span.ticks())
    }

    fn read(sizes: &Sizes) -> Result<Run<'_>, Misfit> {
        let (length, height) = (sizes.length("length")?, sizes.length("height")?);
        let timber = sizes.timber("section")?;
        let seen = sizes.choice("seen", Seen::ALL);
        let post = [timber.face(seen), timber.depth(seen)];
        let rail = sizes.given_timber("rail_section").unwrap_or(timber);
        if rail.thickness > post[1] {
            return Err(Misfit::new(
                "rail_section",
                "the rails are thicker than the posts; take a thinner section",
            ));
        }
        let Some(posts) = EqualGaps::within(length, post[0], sizes.length("centres")?, MOST) else {
            return Err(Misfit::new(
                "centres",
                "this takes more than 300 bays; check the unit",
            ));
        };
        if posts.clear() <= Length::ZERO {
            return Err(Misfit::new(
                "length",
                "the posts leave nothing between them; make it longer, or the posts further apart",
            ));
        }
        let rise = sizes.given("rise").unwrap_or_default();
        let Some(end) = end_of_slope(rise, length) else {
            return Err(Misfit::new(
                "rise",
                "the ground would be steeper than 75 degrees; check the unit",
            ));
        };
        // Where it is too flat to be sawn it is level.
        let rise = match end {
            PartEnd::Square => Length::ZERO,
            PartEnd::Mitre(_) => rise,
        };
        let [ground, up, down] =
            ["ground", "rail_up", "rail_down"].map(|field| sizes.given(field).unwrap_or_default());
        let rails = EqualGaps {
            span: height - up - down,
            // As high as a rail is plumb.
            member: share(rail.width, diagonal(length, rise).ticks(), length.ticks()),
            count: sizes.count("rails"),
            ends: EndGaps::None,
        };
        if rails.left_over() < Length::ZERO {
            return Err(Misfit::new(
                "rails",
                "so many rails do not fit one above the other; take fewer, or make it higher",
            ));
        }
        Ok(Run {
            timber,
            rail,
            post,
            posts,
            rails,
            heights: [height, up, ground],
            rise,
            end,
        })
    }

    fn bays(&self) -> u32 {
        self.posts.count - 1
    }

    fn say(&self, sizes: &Sizes, worked: &mut Worked) {
        let [height, _, ground] = self.heights;
        let (posts, length, clear) = (self.posts.count, self.posts.span, self.posts.clear());
        worked.number("posts", posts);
        worked.number("bays", self.bays());
        worked.fact("clear bay", clear);
        worked.fact("post length", height + ground);
        let ends = 2 * self.bays() * self.rails.count;
        worked.frame_joints("rail ends on posts", ends, self.rail.thickness);
        let half = Length::from_ticks(self.post[0].ticks() / 2);
        worked.marks(
            "middles of posts along the run",
            "outside face of the first post",
            numbered("middle of post", &self.posts.starts(), half),
        );
        let [long, clear, high, deep] =
            [length, clear, height, ground].map(|size| sizes.show(size));
        worked.makes = format!(
            "{posts} posts over {long}, clear bays of {clear}, {high} high and {deep} in the ground"
        );
        let mut top = height;
        if let PartEnd::Mitre(angle) = self.end {
            let angle = angle.tenths(sizes.style.decimal);
            worked.fact("slope length", self.sloping(length));
            worked.notes.push(format!(
                "The ground rises at {angle}: posts plumb, rails sawn at {angle} off square at both ends, parallel. Pales stand plumb too, and are counted along the level."
            ));
            let last = self.posts.starts().pop().unwrap_or_default();
            top += self.ground_at(last + half);
        }
        worked.notes.push("Set the end posts first, stretch a line between them, and measure along the level, not along the slope of the ground.".to_owned());
        worked.description = format!(
            "A run of {posts} posts with {} rails in each bay, {long} long and {high} high.",
            self.rails.count
        );
        worked.drawing.across(0, Length::ZERO, length, long);
        worked.drawing.up(0, -top, Length::ZERO, sizes.show(top));
    }
}

/// Its members; rails are flush with the front.
///
/// # Errors
/// Sizes that do not go together.
pub fn build(sizes: &Sizes) -> Result<Built, Misfit> {
    let run = Run::read(sizes)?;
    let [height, up, ground] = run.heights;
    let mut built = Built::default();
    let starts = run.posts.starts();
    let [wide, deep] = run.post.map(Length::ticks);
    let post = Part {
        fitting: in_ground(ground),
        ..Part::square("post", &run.timber.sections, height + ground, 1)
    };
    for start in &starts {
        let half = Length::from_ticks(run.post[0].ticks() / 2);
        let foot = run.ground_at(*start + half) - ground;
        let corner = [start.ticks(), 0, foot.ticks()];
        let body = Solid::cuboid(corner, [wide, deep, post.length.ticks()]);
        built.add(post.clone(), body);
    }
    for pair in starts.windows(2) {
        let (from, clear) = (pair[0] + run.post[0], pair[1] - pair[0] - run.post[0]);
        let to = from + clear;
        let long = run.sloping(clear) + run.ground_at(run.rail.width);
        for start in run.rails.starts() {
            let part = Part {
                fitting: Fitting::Between,
                ends: [run.end; 2],
                leans: match run.end {
                    PartEnd::Square => Leans::Opposite,
                    PartEnd::Mitre(_) => Leans::Same,
                },
                ..Part::square("rail", &run.rail.sections, long, 1)
            };
            let low = [from, to].map(|at| (run.ground_at(at) + up + start).ticks());
            let [x, right, high, thick] =
                [from, to, run.rails.member, run.rail.thickness].map(Length::ticks);
            let outline = [
                [low[0], x],
                [low[1], right],
                [low[1] + high, right],
                [low[0] + high, x],
            ];
            built.add(part, Solid::prism(1, outline.to_vec(), [0, thick]));
        }
    }
    run.say(sizes, &mut built.worked);
    Ok(built)
}
