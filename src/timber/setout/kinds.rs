//! The kinds of set-out. The page's forms are built from this one table, job files are checked against it, and the schema is written from
//! it.

use super::built::Built;
use super::kind::KindInfo;
use super::sizes::Sizes;
use super::worked::{Misfit, Worked};
use super::{
    boarding, brace, fence, frame, free_parts, lattice, mitred_frame, panel_box, polygon, posts,
    rafters, slats, spaced, top_frame, trestle,
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
    /// A straight run of posts and rails.
    Fence,
    /// A brace in a rectangle.
    Brace,
    /// Rafters of one slope or two.
    Rafters,
    /// Splayed legs beneath a beam.
    Trestle,
    /// Laths over laths.
    Lattice,
    /// Parts written by hand, several times over.
    FreeParts,
}

impl Kind {
    /// Every kind, in the order a person meets them.
    pub const ALL: [Kind; 15] = [
        Kind::Frame,
        Kind::Box,
        Kind::TopFrame,
        Kind::Boarding,
        Kind::Slats,
        Kind::MitredFrame,
        Kind::Polygon,
        Kind::Spaced,
        Kind::Posts,
        Kind::Fence,
        Kind::Brace,
        Kind::Rafters,
        Kind::Trestle,
        Kind::Lattice,
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
            Kind::Fence => &fence::KIND,
            Kind::Brace => &brace::KIND,
            Kind::Rafters => &rafters::KIND,
            Kind::Trestle => &trestle::KIND,
            Kind::Lattice => &lattice::KIND,
            Kind::FreeParts => &free_parts::KIND,
        }
    }

    /// Works out one set-out of this kind.
    ///
    /// # Errors
    /// Sizes that do not go together.
    pub fn work_out(self, sizes: &Sizes) -> Result<Worked, Misfit> {
        match self {
            Kind::Frame => frame::work_out(sizes),
            Kind::Box => panel_box::work_out(sizes),
            Kind::TopFrame => top_frame::work_out(sizes),
            Kind::Boarding => boarding::work_out(sizes),
            Kind::Slats => slats::work_out(sizes),
            Kind::MitredFrame => mitred_frame::work_out(sizes),
            Kind::Polygon => polygon::work_out(sizes),
            Kind::Spaced => spaced::work_out(sizes),
            Kind::FreeParts => free_parts::work_out(sizes),
            Kind::Posts | Kind::Fence | Kind::Brace | Kind::Lattice => {
                Ok(self.build(sizes)?.worked(View::Front))
            }
            Kind::Rafters | Kind::Trestle => Ok(self.build(sizes)?.worked(View::Left)),
        }
    }

    /// The members of one of a kind that is worked out from them; of the others none.
    ///
    /// # Errors
    /// Sizes that do not go together.
    pub fn build(self, sizes: &Sizes) -> Result<Built, Misfit> {
        match self {
            Kind::Posts => posts::build(sizes),
            Kind::Fence => fence::build(sizes),
            Kind::Brace => brace::build(sizes),
            Kind::Rafters => rafters::build(sizes),
            Kind::Trestle => trestle::build(sizes),
            Kind::Lattice => lattice::build(sizes),
            _ => Ok(Built::default()),
        }
    }
}

/// Every kind with its fields, in the order a person meets them.
pub fn kinds() -> Vec<&'static KindInfo> {
    Kind::ALL.into_iter().map(Kind::about).collect()
}
