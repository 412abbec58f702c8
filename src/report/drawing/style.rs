//! Colours and strokes of the drawings.
//!
//! A drawing brings its own light paper and its own ink, on every screen: a device that darkens pages by itself changes what
//! lies around a drawing and leaves the drawing alone, so a ground or an ink that came from the page would part from the rest,
//! and colours that followed the device would not be those on paper. Attributes carry all colours; classes only say how lines
//! are drawn.

pub(super) const INK: &str = "#1b1e22";
pub(super) const PAPER: &str = "#ffffff";
pub(super) const LOST: &str = "#5b616a";
pub(super) const KEPT: &str = PAPER;
pub(super) const BAD: &str = "#f6d5d0";

/// Pixels of paper around a drawing: as much as a page leaves between a drawing and its frame.
const MARGIN: u32 = 5;

/// The paper under a drawing, and a little around it.
pub(super) fn paper() -> String {
    format!(
        "<rect class=\"lw-paper\" width=\"100%\" height=\"100%\" fill=\"{PAPER}\" stroke=\"{PAPER}\" stroke-width=\"{}\"/>",
        2 * MARGIN
    )
}

/// The style sheet inside a drawing. Paper of its own lies under what is printed: there the drawing's must not cover what stands
/// beside it.
pub(super) fn sheet() -> String {
    format!(
        ".lw{{overflow:visible}}\
         .lw-line{{vector-effect:non-scaling-stroke}}\
         .lw-texture{{stroke-opacity:.5}}.lw-hatch{{stroke-opacity:.7}}\
         .lw-halo{{stroke:{PAPER};stroke-width:4px;paint-order:stroke}}\
         .lw-head{{font-weight:600}}\
         @media print{{.lw-paper{{display:none}}}}"
    )
}
