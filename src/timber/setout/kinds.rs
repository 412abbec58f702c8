//! The kinds of set-out. The page's forms are built from this one table, job files are checked against it, and the schema is written from
//! it.

use super::built::Built;
use super::kind::KindInfo;
use super::placed::Placed;
use super::sizes::Sizes;
use super::worked::{Misfit, Worked};
use super::{
    boarding, brace, fence, frame, free_parts, gate, lattice, mitred_frame, panel_box, polygon,
    posts, rafters, sheet, slats, spaced, stand, staves, top_frame, trestle,
};
use crate::space::View;

/// A kind of set-out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A framed panel.
    Frame,
    /// A box of four framed panels.
    Box,
    /// A top or seat frame with cross members.
    TopFrame,
    /// Boarding of a face.
    Boarding,
    /// Slats or boards across a span.
    Slats,
    /// A mitred cap or frame around a rectangle.
    MitredFrame,
    /// A mitred ring of equal sides.
    Polygon,
    /// Members at centres.
    Spaced,
    /// Posts at the corners with rails between them.
    Posts,
    /// Legs with aprons between them.
    Stand,
    /// A straight run of posts and rails.
    Fence,
    /// Boards on ledges or a frame, with braces.
    Gate,
    /// A brace in a rectangle.
    Brace,
    /// Rafters of one slope or two.
    Rafters,
    /// Splayed legs beneath a beam.
    Trestle,
    /// Staves around a tub.
    Staves,
    /// Boards that lean out all round.
    Hopper,
    /// Laths over laths.
    Lattice,
    /// What is bought in sheets.
    Sheet,
    /// Parts written by hand, several times over.
    FreeParts,
}

impl Kind {
    /// Every kind, in the order a person meets them.
    pub const ALL: [Kind; 20] = [
        Kind::Frame,
        Kind::Box,
        Kind::TopFrame,
        Kind::Boarding,
        Kind::Slats,
        Kind::MitredFrame,
        Kind::Polygon,
        Kind::Spaced,
        Kind::Posts,
        Kind::Stand,
        Kind::Fence,
        Kind::Gate,
        Kind::Brace,
        Kind::Rafters,
        Kind::Trestle,
        Kind::Staves,
        Kind::Hopper,
        Kind::Lattice,
        Kind::Sheet,
        Kind::FreeParts,
    ];

    /// The kind of this name in a job file.
    pub fn named(word: &str) -> Option<Kind> {
        Kind::ALL
            .into_iter()
            .find(|kind| kind.about().kind.eq_ignore_ascii_case(word))
    }

    /// Its names and its form.
    pub const fn about(self) -> &'static KindInfo {
        match self {
            Kind::Frame => &frame::KIND,
            Kind::Box => &panel_box::KIND,
            Kind::TopFrame => &top_frame::KIND,
            Kind::Boarding => &boarding::KIND,
            Kind::Slats => &slats::KIND,
            Kind::MitredFrame => &mitred_frame::KIND,
            Kind::Polygon => &polygon::KIND,
            Kind::Spaced => &spaced::KIND,
            Kind::Posts => &posts::KIND,
            Kind::Stand => &stand::KIND,
            Kind::Fence => &fence::KIND,
            Kind::Gate => &gate::KIND,
            Kind::Brace => &brace::KIND,
            Kind::Rafters => &rafters::KIND,
            Kind::Trestle => &trestle::KIND,
            Kind::Staves => &staves::STAVES,
            Kind::Hopper => &staves::HOPPER,
            Kind::Lattice => &lattice::KIND,
            Kind::Sheet => &sheet::KIND,
            Kind::FreeParts => &free_parts::KIND,
        }
    }

    /// Works out one set-out of this kind.
    ///
    /// # Errors
    /// Sizes that do not go together.
    pub fn work_out(self, sizes: &Sizes) -> Result<Worked, Misfit> {
        match self.way() {
            Way::Parts(work_out, _) | Way::Loose(work_out) | Way::Bought(work_out) => {
                work_out(sizes)
            }
            Way::Members(build, view) => Ok(build(sizes)?.worked(view)),
        }
    }

    /// The calculations of this kind.
    pub const fn way(self) -> Way {
        match self {
            Kind::Frame => Way::Parts(frame::work_out, frame::members),
            Kind::Box => Way::Parts(panel_box::work_out, panel_box::stands::members),
            Kind::TopFrame => Way::Parts(top_frame::work_out, top_frame::members),
            Kind::Boarding => Way::Parts(boarding::work_out, boarding::stands::members),
            Kind::Slats => Way::Parts(slats::work_out, slats::stands::members),
            Kind::MitredFrame => Way::Parts(mitred_frame::work_out, mitred_frame::members),
            Kind::Polygon => Way::Parts(polygon::work_out, polygon::members),
            Kind::Spaced => Way::Parts(spaced::work_out, spaced::stands::members),
            Kind::Posts => Way::Members(posts::build, View::Front),
            Kind::Stand => Way::Members(stand::build, View::Front),
            Kind::Fence => Way::Members(fence::build, View::Front),
            Kind::Gate => Way::Members(gate::build, View::Front),
            Kind::Brace => Way::Members(brace::build, View::Front),
            Kind::Rafters => Way::Members(rafters::build, View::Left),
            Kind::Trestle => Way::Members(trestle::build, View::Left),
            Kind::Staves => Way::Members(staves::staves, View::Front),
            Kind::Hopper => Way::Members(staves::hopper, View::Front),
            Kind::Lattice => Way::Members(lattice::build, View::Front),
            Kind::Sheet => Way::Bought(sheet::work_out),
            Kind::FreeParts => Way::Loose(free_parts::work_out),
        }
    }
}

/// A calculation on the fields of a set-out.
type Of<T> = fn(&Sizes) -> Result<T, Misfit>;

/// How a kind is worked out.
#[derive(Clone, Copy)]
pub enum Way {
    /// Its parts, and its members by a calculation beside it.
    Parts(Of<Worked>, Of<Vec<Placed>>),
    /// Its members, from which its parts and its elevation from here follow.
    Members(Of<Built>, View),
    /// Parts of which nothing says how they stand to each other.
    Loose(Of<Worked>),
    /// No parts: one thing that is bought, and drawn.
    Bought(Of<Worked>),
}

/// Every kind with its fields, in the order a person meets them.
pub fn kinds() -> Vec<&'static KindInfo> {
    Kind::ALL.into_iter().map(Kind::about).collect()
}
