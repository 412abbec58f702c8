//! Colours and strokes of the drawings.
//!
//! Each colour is a variable `--lw-NAME` that a page may set; without it the drawing follows the device's light or dark setting, and
//! paper is always light. Classes carry no colour that an attribute does not carry too.

use crate::report::legend::{COLOURS, Colour};

pub(super) const INK: Colour = Colour {
    light: "#1b1e22",
    dark: "#eceef1",
};
pub(super) const PAPER: Colour = Colour {
    light: "#ffffff",
    dark: "#14171a",
};
pub(super) const LOST: Colour = Colour {
    light: "#5b616a",
    dark: "#737b86",
};
pub(super) const KEPT: Colour = Colour {
    light: "#ffffff",
    dark: "#14171a",
};
pub(super) const BAD: Colour = Colour {
    light: "#f6d5d0",
    dark: "#5a2620",
};

const NAMED: [(&str, &Colour); 5] = [
    ("ink", &INK),
    ("paper", &PAPER),
    ("lost", &LOST),
    ("kept", &KEPT),
    ("bad", &BAD),
];

/// The style sheet inside a drawing.
pub(super) fn sheet() -> String {
    let mut names: Vec<(String, &Colour)> = NAMED
        .iter()
        .map(|(name, colour)| ((*name).to_owned(), *colour))
        .collect();
    names.extend(
        COLOURS
            .iter()
            .enumerate()
            .map(|(index, colour)| (format!("c{index}"), colour)),
    );
    let set = |pick: fn(&Colour) -> &'static str| -> String {
        names
            .iter()
            .map(|(name, colour)| format!("--{name}:var(--lw-{name},{});", pick(colour)))
            .collect()
    };
    let plain: String = names
        .iter()
        .map(|(name, colour)| format!("--{name}:{};", colour.light))
        .collect();
    let fills: String = (0..COLOURS.len())
        .map(|index| format!(".lw-c{index}{{fill:var(--c{index})}}"))
        .collect();
    format!(
        ".lw{{{light}fill:var(--ink);overflow:visible}}\
         @media (prefers-color-scheme:dark){{.lw{{{dark}}}}}\
         @media print{{.lw{{{plain}}}}}\
         .lw-lost{{fill:var(--lost)}}.lw-kerf{{fill:var(--paper)}}.lw-kept{{fill:var(--kept)}}.lw-bad{{fill:var(--bad)}}\
         {fills}\
         .lw-line{{stroke:var(--ink);vector-effect:non-scaling-stroke;fill:none}}\
         .lw-texture{{stroke-opacity:.5}}.lw-hatch{{stroke-opacity:.7}}\
         .lw-halo{{stroke:var(--paper);stroke-width:4px;paint-order:stroke}}\
         .lw-head{{font-weight:600}}",
        light = set(|colour| colour.light),
        dark = set(|colour| colour.dark),
    )
}
