//! Colours and strokes of the drawings.
//!
//! A drawing has its own light background and its own ink on every screen. A device that darkens pages by itself leaves drawings alone, so
//! colours taken from the page would not match the rest of the drawing. Colours that followed the device would not be those on paper. All
//! colours are in attributes; classes only say how lines are drawn. Textures are for paper, which may be black and white: on a screen a part has its
//! colour and its letter.

pub(crate) const INK: &str = "#1b1e22";
pub(crate) const PAPER: &str = "#ffffff";
pub(super) const LOST: &str = "#5b616a";
pub(super) const KEPT: &str = PAPER;
pub(super) const BAD: &str = "#f6d5d0";

/// Pixels of background around a drawing: the space that a page leaves between a drawing and its frame.
const MARGIN: u32 = 5;

/// The background of a drawing, and its margin.
pub(super) fn paper() -> String {
    format!(
        "<rect class=\"lw-paper\" width=\"100%\" height=\"100%\" fill=\"{PAPER}\" stroke=\"{PAPER}\" stroke-width=\"{}\"/>",
        2 * MARGIN
    )
}

/// The style sheet inside a drawing. In print it hides the background, which would cover what is beside the drawing.
pub(super) fn sheet() -> String {
    format!(
        ".lw{{overflow:visible}}\
         .lw-line{{vector-effect:non-scaling-stroke}}\
         .lw-texture{{display:none;stroke-opacity:.5}}.lw-hatch{{stroke-opacity:.7}}\
         .lw-halo{{stroke:{PAPER};stroke-width:4px;paint-order:stroke}}\
         .lw-head{{font-weight:600}}\
         @media print{{.lw-paper{{display:none}}.lw-texture{{display:inline}}}}"
    )
}
