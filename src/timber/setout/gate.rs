//! A gate of one leaf: boards on ledges or on a frame, with a brace in each bay up from the hinge side.
//!
//! The leaf is as wide as the clear opening less the gaps at its hinges and its latch. Whole boards of width w cover a leaf of width L with the equal gap
//! (L - n w) / (n - 1) that is nearest to the one asked for; that is n = floor((L + g) / (w + g)), or one more. Each brace goes between two ledges,
//! in the clear rectangle of that bay, by the rule of `brace`. It rises from the hinge side, so that the weight of the latch side presses it together
//! (joiners' handbooks on ledged and braced doors).

use super::brace::Fit;
use super::built::Built;
use super::kind::{
    Field, KindInfo, Sort, Usual, choice_field, other_section_field, section_field, size_field,
    spare_field, usual_field,
};
use super::panel::numbered;
use super::ratio::diagonal;
use super::sizes::{Sizes, Timber};
use super::spacing::{EndGaps, EqualGaps};
use super::worked::{Misfit, Worked};
use crate::length::Length;
use crate::part::{Fitting, Leans, Part, PartEnd};
use crate::space::Solid;
use crate::usual::HIGH_LEAF;

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "gate",
    title: "Gate",
    name: "Gate",
    about: "A leaf for an opening: boards on ledges or a frame, with braces up from the hinge side. It is drawn from the side with the braces.",
    fields: &[
        size_field(
            "opening",
            "Width of the opening",
            "Clear, between the posts.",
        ),
        size_field("height", "Height to the top", "Above the ground."),
        usual_field(
            "hinge_gap",
            "Gap at the hinges",
            "Between the hinge post and the leaf.",
            ["6 mm", "1/4\""],
        ),
        usual_field(
            "latch_gap",
            "Gap at the latch",
            "Between the leaf and the latch post; more where the boards stay wet.",
            ["12 mm", "1/2\""],
        ),
        usual_field(
            "below",
            "Clear below",
            "From the ground to the leaf; more where the ground rises as it opens.",
            ["50 mm", "2\""],
        ),
        choice_field(
            "hinge",
            "Hinges",
            "As you look at the side with the braces.",
            &["left", "right"],
        ),
        section_field(
            "section",
            "Section of the boards",
            "Their wide side is seen.",
        ),
        usual_field(
            "gap",
            "Gap between boards, about",
            "Whole boards at equal gaps as near to this as they come.",
            ["6 mm", "1/4\""],
        ),
        choice_field(
            "back",
            "The boards are on",
            "A frame has a stile at each side, with rails between them.",
            &["ledges", "a frame"],
        ),
        Field {
            field: "ledges",
            label: "Ledges, or rails of the frame",
            hint: "The lowest and the highest, and others at equal gaps between.",
            sort: Sort::Count { least: 2, most: 9 },
            usual: Usual::Text("3"),
            in_sight: true,
        },
        usual_field(
            "ledge_up",
            "Lowest ledge from below",
            "From the lower end of the boards to its lower edge.",
            ["100 mm", "4\""],
        ),
        usual_field(
            "ledge_down",
            "Highest ledge from the top",
            "From the upper end of the boards to its upper edge.",
            ["100 mm", "4\""],
        ),
        spare_field(
            "ledge_in",
            "Ledges or frame in from the edges",
            "At each side of the leaf; leave empty for flush.",
        ),
        other_section_field(
            "ledge_section",
            "Section of the ledges or the frame",
            "Leave empty for the timber of the boards.",
        ),
        Field {
            in_sight: false,
            ..choice_field(
                "braces",
                "Braces",
                "One in each bay, up from the hinge side.",
                &["sawn against the ledges", "sawn against the stiles", "none"],
            )
        },
        other_section_field(
            "brace_section",
            "Section of the braces",
            "Leave empty for the timber of the ledges.",
        ),
    ],
};

/// The most boards.
const MOST: i64 = 300;

/// A gate as it is read.
struct Leaf<'a> {
    boards: &'a Timber,
    ledges: &'a Timber,
    braces: &'a Timber,
    width: Length,
    height: Length,
    /// From the left post and from the ground.
    at: [Length; 2],
    across: EqualGaps,
    /// Ledges up the leaf, from the lower edge of the lowest.
    up: EqualGaps,
    ledge_up: Length,
    /// Where ledges begin along the leaf, or the stiles; and where rails do between them.
    edge: [Length; 2],
    is_framed: bool,
    is_left: bool,
}

impl Leaf<'_> {
    fn read(sizes: &Sizes) -> Result<Leaf<'_>, Misfit> {
        let boards = sizes.timber("section")?;
        let ledges = sizes.given_timber("ledge_section").unwrap_or(boards);
        let length = |field| sizes.given(field).unwrap_or_default();
        let [hinge, latch, below] = ["hinge_gap", "latch_gap", "below"].map(length);
        let is_left = sizes.choice("hinge", [true, false]);
        let width = sizes.length("opening")? - hinge - latch;
        let height = sizes.length("height")? - below;
        let is_framed = sizes.choice("back", [false, true]);
        let inwards = length("ledge_in");
        let stile = match is_framed {
            true => ledges.width,
            false => Length::ZERO,
        };
        let edge = [inwards, inwards + stile];
        if width <= edge[1] + edge[1] {
            return Err(Misfit::new(
                "opening",
                "the gaps and the edges leave nothing of the leaf; make the opening wider",
            ));
        }
        let [ledge_up, ledge_down] = ["ledge_up", "ledge_down"].map(length);
        let up = EqualGaps {
            span: height - ledge_up - ledge_down,
            member: ledges.width,
            count: sizes.count("ledges"),
            ends: EndGaps::None,
        };
        if up.clear() <= Length::ZERO {
            return Err(Misfit::new(
                "ledges",
                "so many ledges do not fit one above the other; take fewer, or make it higher",
            ));
        }
        Ok(Leaf {
            boards,
            ledges,
            braces: sizes.given_timber("brace_section").unwrap_or(ledges),
            across: boards_across(width, boards.width, length("gap"))?,
            width,
            height,
            at: [if is_left { hinge } else { latch }, below],
            up,
            ledge_up,
            edge,
            is_framed,
            is_left,
        })
    }

    /// The clear length of a ledge, or of a rail between the stiles.
    fn clear(&self) -> Length {
        self.width - self.edge[1] - self.edge[1]
    }

    /// How deep the side with the braces is, in front of the boards.
    fn front(&self) -> Length {
        self.ledges.thickness.max(self.braces.thickness)
    }

    /// Adds a member: `x` and `z` from the lower left corner of the leaf, its size along both, and where its front and its back are.
    fn add(
        &self,
        built: &mut Built,
        part: Part,
        at: [Length; 2],
        size: [Length; 2],
        y: [Length; 2],
    ) {
        let corner = [self.at[0] + at[0], y[0], self.at[1] + at[1]];
        let size = [size[0], y[1] - y[0], size[1]];
        built.add(
            part,
            Solid::cuboid(corner.map(Length::ticks), size.map(Length::ticks)),
        );
    }

    fn ledges(&self, built: &mut Built) {
        let (timber, zero, front) = (self.ledges, Length::ZERO, self.front());
        let y = [front - timber.thickness, front];
        if self.is_framed {
            for x in [self.edge[0], self.width - self.edge[1]] {
                let part = Part::square("stile", &timber.sections, self.height, 1);
                self.add(built, part, [x, zero], [timber.width, self.height], y);
            }
        }
        let clear = self.clear();
        let (label, fitting) = match self.is_framed {
            true => ("rail", Fitting::Between),
            false => ("ledge", Fitting::Free),
        };
        for start in self.up.starts() {
            let part = Part {
                fitting,
                ..Part::square(label, &timber.sections, clear, 1)
            };
            let at = [self.edge[1], self.ledge_up + start];
            self.add(built, part, at, [clear, timber.width], y);
        }
    }

    /// Adds a brace in each bay, sawn against the stiles or the ledges. All have the height of the least bay, and the bays differ by a tick at most.
    fn braces(&self, sizes: &Sizes, stiles: bool, built: &mut Built) -> Result<(), Misfit> {
        let timber = self.braces;
        let (a, b) = (self.clear(), self.up.clear());
        let fit = Fit::of(a, b, timber.width, stiles).map_err(|_| {
            Misfit::new(
                "braces",
                "the braces do not go into the bays between the ledges: too flat or too wide to be sawn; take fewer ledges, narrower braces or none",
            )
        })?;
        let part = Part {
            ends: [PartEnd::Mitre(fit.angle); 2],
            leans: match self.is_left {
                true => Leans::Same,
                false => Leans::Mirrored,
            },
            fitting: Fitting::Between,
            ..Part::square("brace", &timber.sections, fit.over_all, 1)
        };
        let y = [self.front() - timber.thickness, self.front()].map(Length::ticks);
        let corners = fit.corners(a, b, stiles);
        for start in &self.up.starts()[1..] {
            let at = [
                self.at[0] + self.edge[1],
                self.at[1] + self.ledge_up + *start - b,
            ];
            let [left, low] = at.map(Length::ticks);
            let outline = corners.map(|[x, z]| {
                let x = if self.is_left { x } else { a.ticks() - x };
                [low + z, left + x]
            });
            built.add(part.clone(), Solid::prism(1, outline.to_vec(), y));
        }
        fit.say(
            sizes,
            if stiles { "stile" } else { "ledge" },
            &mut built.worked,
        );
        let worked = &mut built.worked;
        worked.frame_joints("brace ends", 2 * (self.up.count - 1), timber.thickness);
        if fit.is_shallow {
            worked.notes.push(match self.up.count {
                2 => "The brace lies at less than 45 degrees to the ledges and holds little. Two narrower leaves would have steeper ones.".to_owned(),
                _ => "The braces lie at less than 45 degrees to the ledges and hold little. Fewer ledges make them steeper.".to_owned(),
            });
        }
        Ok(())
    }

    fn say(&self, sizes: &Sizes, worked: &mut Worked) {
        let (boards, ledges) = (&self.across, &self.up);
        let (wide, high) = (self.width, self.height);
        let square = diagonal(wide, high);
        worked.fact("leaf width", wide);
        worked.fact("leaf height", high);
        worked.number("boards", boards.count);
        worked.fact("board gap", boards.gap());
        worked.fact("ledge length", self.clear());
        worked.fact("bay height", ledges.clear());
        worked.fact("diagonal", square);
        let label = if self.is_framed { "rail" } else { "ledge" };
        // Two hinges, and three on a high leaf: common practice, no source.
        let hinges = if high > HIGH_LEAF.on(sizes.style.unit.is_imperial()) {
            3
        } else {
            2
        };
        worked.bought = vec![(hinges, "hinges".into()), (1, "latch".into())];
        worked.crossings(
            &format!("boards on {label}s"),
            boards.count * ledges.count,
            self.boards.width,
            self.boards.thickness,
        );
        if self.is_framed {
            worked.frame_joints(
                "rail ends on stiles",
                2 * ledges.count,
                self.ledges.thickness,
            );
        }
        worked.marks(
            &format!("boards along the {label}s"),
            "left edge of the leaf",
            numbered("left edge of board", &boards.starts(), Length::ZERO),
        );
        worked.marks(
            &format!("{label}s up the leaf"),
            "lower end of the leaf",
            numbered(
                &format!("lower edge of {label}"),
                &ledges.starts(),
                self.ledge_up,
            ),
        );
        worked.notes.push(format!(
            "Make it square before the braces go in: both diagonals of the leaf measure {}.",
            sizes.show(square)
        ));
        let [shown_wide, shown_high, gap] = [wide, high, boards.gap()].map(|size| sizes.show(size));
        worked.makes = format!(
            "a leaf of {shown_wide} x {shown_high}: {} boards, gap {gap}",
            boards.count
        );
        worked.description = format!(
            "A gate of {} boards on {} {label}s, {shown_wide} wide and {shown_high} high, its hinges at the {}, seen from the side with the braces.",
            boards.count,
            ledges.count,
            sizes.choice("hinge", ["left", "right"]),
        );
        let [left, low] = self.at;
        worked.drawing.across(0, left, left + wide, shown_wide);
        worked
            .drawing
            .up(0, Length::ZERO - low - high, Length::ZERO - low, shown_high);
    }
}

/// Its members, the side with the braces to the front and the left post at the origin.
///
/// # Errors
/// Sizes that do not go together.
pub fn build(sizes: &Sizes) -> Result<Built, Misfit> {
    let leaf = Leaf::read(sizes)?;
    let mut built = Built::default();
    let front = leaf.front();
    for start in leaf.across.starts() {
        let part = Part::square("board", &leaf.boards.sections, leaf.height, 1);
        let size = [leaf.boards.width, leaf.height];
        let y = [front, front + leaf.boards.thickness];
        leaf.add(&mut built, part, [start, Length::ZERO], size, y);
    }
    leaf.ledges(&mut built);
    let against = sizes.choice("braces", [Some(false), Some(true), None]);
    if against == Some(true) && !leaf.is_framed {
        return Err(Misfit::new(
            "braces",
            "without a frame there are no stiles to saw the braces against; choose the ledges",
        ));
    }
    if let Some(stiles) = against {
        leaf.braces(sizes, stiles, &mut built)?;
    }
    leaf.say(sizes, &mut built.worked);
    Ok(built)
}

/// Whole boards over a leaf, at the equal gap nearest to `gap`.
fn boards_across(span: Length, member: Length, gap: Length) -> Result<EqualGaps, Misfit> {
    let pitch = (member + gap).ticks();
    let fewer = (span + gap).ticks() / pitch;
    if fewer > MOST {
        return Err(Misfit::new(
            "opening",
            "this takes more than 300 boards; check the unit",
        ));
    }
    let boards = |count: i64| EqualGaps {
        span,
        member,
        count: count.max(2) as u32,
        ends: EndGaps::None,
    };
    let (fewer, more) = (boards(fewer), boards(fewer + 1));
    let apart = |boards: &EqualGaps| (boards.gap() - gap).ticks().abs();
    let fits = |boards: &EqualGaps| boards.left_over() >= Length::ZERO;
    if !fits(&fewer) {
        return Err(Misfit::new(
            "opening",
            "two boards do not fit side by side; make the opening wider, or take narrower boards",
        ));
    }
    Ok(match fits(&more) && apart(&more) < apart(&fewer) {
        true => more,
        false => fewer,
    })
}
