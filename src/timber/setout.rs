//! Set-outs: named calculations that yield parts and positions from a few sizes.
//!
//! A set-out is typed as a kind and its fields. [`work_out`] resolves the sizes, which may refer to sizes of other set-outs. It then works
//! out each set-out exactly in ticks: its parts, its running marks, named sizes, joints and an elevation. Each kind has a file with its
//! form and its arithmetic; [`kinds`] is the table of them all.

mod beneath;
mod boarding;
mod brace;
mod built;
mod crossed;
mod drawing;
mod entries;
mod evaluate;
mod expression;
mod faces;
mod fence;
mod fields;
mod finish;
mod fixing;
mod frame;
mod free_parts;
mod gate;
mod halving;
mod kind;
mod kinds;
mod lattice;
mod lay;
mod measured;
mod mitred_frame;
mod movement;
mod names;
mod panel;
mod panel_box;
mod placed;
mod polygon;
mod posts;
mod pulled_apart;
mod rafters;
mod ratio;
mod resolve;
mod sheet;
mod sizes;
mod slats;
mod spaced;
mod spacing;
mod spelled;
mod stand;
mod stands;
mod staves;
mod taken;
mod tokens;
mod top_frame;
mod trestle;
mod trouble;
mod whole;
mod worked;

pub use finish::SetOut;
pub use kind::{COMMON_FIELDS, Field, KindInfo, Sort, Usual, formerly};
pub use kinds::{Kind, kinds};
pub use pulled_apart::apart;
pub use ratio::diagonal;
pub use spelled::with_units;
pub use stands::members;
pub use tokens::Reference;
pub use whole::{Put, Whole, wholes};
pub use worked::{Fact, FactValue, Fill, Hazard, Joint, JointSort, Mark, Positions};

use crate::draft::SetOutDraft;
use crate::fault::Fault;
use crate::length::Style;
use crate::part::Part;
use crate::section::Section;

/// Works out every set-out of a job, whatever order they refer to each other in.
///
/// `style` says how bare numbers are read and how drawings and notes print lengths. Returns one set-out for each one typed, in that order;
/// the parts of all of them; and every fault with its place (`set_outs`, row, field).
pub fn work_out(
    drafts: &[SetOutDraft],
    sections: &[Section],
    style: Style,
) -> (Vec<SetOut>, Vec<Part>, Vec<Fault>) {
    let (mut set_outs, faults) = resolve::work_out_all(drafts, sections, style);
    if faults.is_empty() && sections.iter().any(|one| one.sold_width.is_some()) {
        let as_sold: Vec<Section> = sections.iter().map(Section::as_sold).collect();
        let (before, _) = resolve::work_out_all(drafts, &as_sold, style);
        measured::tell(&mut set_outs, &before, sections, style);
    }
    for set_out in &mut set_outs {
        let parts = std::mem::take(&mut set_out.parts).into_iter();
        set_out.parts = parts.flat_map(|part| part.hands(sections)).collect();
    }
    let parts = set_outs
        .iter()
        .flat_map(|set_out| set_out.parts.iter().cloned())
        .collect();
    (set_outs, parts, faults)
}
